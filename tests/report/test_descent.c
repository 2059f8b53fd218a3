/* SPDX-License-Identifier: MIT */
/* A tree's line, its batch, and what carries over; the properties of descent on seeded logs. */
#include "report/descent.h"

#include "core/text.h"
#include "support/garden.h"

static struct descent descent_of(struct garden *garden, const char *label)
{
	struct descent descent;
	struct fault why = {0};
	struct tree tree = garden_find(garden, label);
	check_ok(descent_make(garden->yard, tree.id, garden->arena, &descent, &why), &why);
	return descent;
}

/* "L1 >L2 L3": in their order, the tree itself marked. */
static const char *line_of(struct garden *garden, const char *label)
{
	struct descent descent = descent_of(garden, label);
	struct text_builder text = text_builder_in(garden->arena);
	text_add(&text, "");
	for (int32_t i = 0; i < descent.count; i++)
		text_add_format(&text, "%s%s%d:%s", i > 0 ? " " : "",
			descent.lines[i].is_self ? ">" : "", (int)descent.lines[i].depth,
			descent.lines[i].tree.label);
	return text.text;
}

static bool is_said(const struct descent *descent, const char *text)
{
	for (int32_t i = 0; i < descent->says_count; i++)
		if (strstr(descent->says[i].text, text) != NULL)
			return true;
	return false;
}

/* A loquat of a cultivar raised from another tree ("" none). */
static struct tree raise(struct garden *garden, const char *label, const char *parent,
	enum origin how, const char *cultivar)
{
	struct fault why = {0};
	struct new_tree tree = {.sure_given = false};
	char id[ID_SIZE];
	snprintf(tree.tree.label, sizeof tree.tree.label, "%s", label);
	snprintf(tree.cultivar, sizeof tree.cultivar, "%s", cultivar);
	if (parent[0] == '\0')
		snprintf(tree.species, sizeof tree.species, "loquat");
	else
		memcpy(tree.tree.parent_id, garden_find(garden, parent).id, ID_SIZE);
	tree.tree.how = how;
	check_ok(work_tree_add(garden->yard, &tree, garden->asked, id, &why), &why);
	garden_look(garden);
	return garden_find(garden, label);
}

static struct tree_kind kind_of(struct garden *garden, const char *label)
{
	struct tree_kind kind;
	struct fault why = {0};
	struct tree tree = garden_find(garden, label);
	check_ok(yard_kind(garden->yard, tree.id, yard_today(garden->yard), &kind, &why), &why);
	return kind;
}

static void make_family(struct garden *garden)
{
	garden_make(garden, "2026-05-20");
	raise(garden, "L1", "", ORIGIN_BOUGHT, "Champagne");
	raise(garden, "L2", "L1", ORIGIN_SEED, "");
	raise(garden, "L3", "L2", ORIGIN_CUTTING, "");
	raise(garden, "L4", "L1", ORIGIN_CUTTING, "");
}

static void a_line_goes_up_to_the_oldest_and_down_to_the_youngest(void **state)
{
	(void)state;
	struct garden garden;
	make_family(&garden);
	assert_string_equal(line_of(&garden, "L1"), ">0:L1 1:L2 2:L3 1:L4");
	assert_string_equal(line_of(&garden, "L2"), "0:L1 >1:L2 2:L3 1:L4");
	assert_string_equal(line_of(&garden, "L3"), "0:L1 1:L2 >2:L3");
	garden_free(&garden);
}

static void a_clone_takes_the_name_and_a_seedling_the_kind_alone(void **state)
{
	(void)state;
	struct garden garden;
	make_family(&garden);
	struct tree_kind seedling = kind_of(&garden, "L2");
	struct tree_kind clone = kind_of(&garden, "L4");
	assert_string_equal(seedling.species->key, "loquat");
	assert_string_equal(seedling.cultivar, "");
	assert_string_equal(clone.cultivar, "Champagne");
	check_int(clone.cultivar_sure, kind_of(&garden, "L1").cultivar_sure, "as sure as L1's");
	struct descent descent = descent_of(&garden, "L2");
	assert_true(is_said(&descent, "A seedling is not its parent's cultivar"));
	descent = descent_of(&garden, "L4");
	assert_true(is_said(&descent, "keeps its name, 'Champagne'"));
	garden_free(&garden);
}

static void what_the_parent_is_called_later_reaches_no_child(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	make_family(&garden);
	garden_identify(&garden, "L1", "", "Tanaka", "");
	struct tree parent = garden_find(&garden, "L1");
	struct tree_change change = {.tree = parent};
	snprintf(change.label, sizeof change.label, "old loquat");
	check_ok(work_tree_change(garden.yard, &change, garden.asked, &why), &why);
	garden_look(&garden);
	assert_string_equal(kind_of(&garden, "L4").cultivar, "Champagne");
	assert_string_equal(line_of(&garden, "L4"), "0:old loquat 1:L2 2:L3 >1:L4");
	struct descent descent = descent_of(&garden, "L4");
	assert_true(is_said(&descent, "one of the two names is wrong"));
	garden_free(&garden);
}

static void a_parent_that_is_gone_keeps_its_line(void **state)
{
	(void)state;
	struct garden garden;
	char words[400];
	make_family(&garden);
	garden_log(&garden, "L2 gone given to a neighbour @ 2026-05-01");
	assert_string_equal(line_of(&garden, "L3"), "0:L1 1:L2 >2:L3");
	struct descent descent = descent_of(&garden, "L3");
	descent_line_words(&descent.lines[1], words, sizeof words);
	assert_non_null(strstr(words, "gone 1 May 2026: given to a neighbour"));
	garden_free(&garden);
}

static void a_shoot_from_below_the_graft_is_the_rootstock(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	make_family(&garden);
	struct tree_change change = {.tree = garden_find(&garden, "L1")};
	snprintf(change.tree.rootstock, sizeof change.tree.rootstock, "quince");
	check_ok(work_tree_change(garden.yard, &change, garden.asked, &why), &why);
	garden_look(&garden);
	raise(&garden, "L5", "L1", ORIGIN_ROOT_SHOOT, "");
	assert_string_equal(kind_of(&garden, "L5").cultivar, "");
	struct descent descent = descent_of(&garden, "L5");
	assert_true(is_said(
		&descent, "a shoot from below the graft is the rootstock, not 'Champagne'"));
	garden_free(&garden);
}

static void a_batch_counts_what_was_made_what_took_and_what_stands(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	char words[240];
	make_family(&garden);
	garden_tree(&garden, "P0", "apple", "2010", "bench");
	for (int i = 1; i <= 19; i++) {
		struct new_tree tree = {.tree = {.how = ORIGIN_GRAFT, .batch = "whips-26"}};
		char id[ID_SIZE];
		snprintf(tree.tree.label, sizeof tree.tree.label, "W%d", i);
		check_ok(work_tree_add(garden.yard, &tree, garden.asked, id, &why), &why);
	}
	garden_look(&garden);
	garden_log(&garden, "spot bench grafted 25 Comice batch whips-26, 19 took @ 2026-02-03");
	garden_log(&garden, "W3 gone sold @ 2026-05-02");
	garden_log(&garden, "W4 died @ 2026-05-03");
	struct descent descent = descent_of(&garden, "W7");
	assert_string_equal(descent_batch_words(&descent.batch, words, sizeof words),
		"25 made on 3 February 2026, 19 took (76 %); 19 trees of it in this log, 17 stand");
	garden_free(&garden);
}

static void a_first_crop_is_expected_by_how_it_was_raised(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	make_family(&garden);
	struct tree_change change = {.tree = garden_find(&garden, "L2")};
	check_ok(date_span_parse("2024", HEMISPHERE_NORTH, &change.tree.planted, &why), &why);
	check_ok(work_tree_change(garden.yard, &change, garden.asked, &why), &why);
	garden_look(&garden);
	struct descent descent = descent_of(&garden, "L2");
	assert_true(is_said(&descent, "from 2032 to 2034"));
	garden_log(&garden, "L2 picked 3 lb @ 2026-05-10");
	descent = descent_of(&garden, "L2");
	assert_false(is_said(&descent, "A first crop"));
	garden_free(&garden);
}

/* --- properties --- */

enum { FAMILY = 8, TRIES = 40 };

static enum status set_parent(
	struct garden *garden, const char *label, const char *parent, struct fault *why)
{
	struct tree_change change = {.tree = garden_find(garden, label)};
	memcpy(change.tree.parent_id, garden_find(garden, parent).id, ID_SIZE);
	enum status status = work_tree_change(garden->yard, &change, garden->asked, why);
	garden_look(garden);
	return status;
}

/* By walking up: is one among the other's ancestors, or the same? */
static bool is_above(struct garden *garden, const char *one, const char *other)
{
	struct tree at = garden_find(garden, other);
	struct tree wanted = garden_find(garden, one);
	struct fault why = {0};
	for (int steps = 0; steps <= FAMILY; steps++) {
		if (strcmp(at.id, wanted.id) == 0)
			return true;
		if (at.parent_id[0] == '\0')
			return false;
		check_ok(store_tree_load(garden->store, at.parent_id, &at, &why), &why);
	}
	fail_msg("%s is its own ancestor", other);
	return true;
}

/* Parents given at random: refused exactly where the child stands above; never a circle, and
 * every line told has each tree once, parents before what came from them. */
static void no_tree_becomes_its_own_ancestor(void **state)
{
	(void)state;
	struct garden garden;
	struct dice dice = dice_start();
	garden_make(&garden, "2026-05-20");
	char labels[FAMILY][LABEL_SIZE];
	int refused = 0;
	for (int i = 0; i < FAMILY; i++) {
		snprintf(labels[i], sizeof labels[i], "T%d", i);
		raise(&garden, labels[i], "", ORIGIN_SEED, "");
	}
	for (int i = 0; i < TRIES; i++) {
		const char *child = labels[dice_between(&dice, 0, FAMILY - 1)];
		const char *parent = labels[dice_between(&dice, 0, FAMILY - 1)];
		struct fault why = {0};
		bool circle = is_above(&garden, child, parent);
		check_int(set_parent(&garden, child, parent, &why) == STATUS_OK, !circle, child);
		refused += circle;
	}
	assert_true(refused > 0 && refused < TRIES);
	for (int i = 0; i < FAMILY; i++) {
		struct descent descent = descent_of(&garden, labels[i]);
		assert_false(descent.is_loop);
		for (int32_t a = 0; a < descent.count; a++)
			for (int32_t b = 0; b < a; b++) {
				assert_string_not_equal(
					descent.lines[a].tree.id, descent.lines[b].tree.id);
				assert_string_not_equal(
					descent.lines[b].tree.parent_id, descent.lines[a].tree.id);
			}
	}
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_line_goes_up_to_the_oldest_and_down_to_the_youngest),
		cmocka_unit_test(a_clone_takes_the_name_and_a_seedling_the_kind_alone),
		cmocka_unit_test(what_the_parent_is_called_later_reaches_no_child),
		cmocka_unit_test(a_parent_that_is_gone_keeps_its_line),
		cmocka_unit_test(a_shoot_from_below_the_graft_is_the_rootstock),
		cmocka_unit_test(a_batch_counts_what_was_made_what_took_and_what_stands),
		cmocka_unit_test(a_first_crop_is_expected_by_how_it_was_raised),
		cmocka_unit_test(no_tree_becomes_its_own_ancestor),
	};
	int failed = cmocka_run_group_tests_name("descent", tests, NULL, NULL);
	return failed != 0;
}
