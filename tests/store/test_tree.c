/* SPDX-License-Identifier: MIT */
/* Trees: what is written is read again, labels, grafts, spots, lists. */
#include "support/test.h"

#include "support/yard.h"

#include <string.h>

#include "core/text.h"

static void tree_is_read_as_it_was_written(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	yard_begin(&yard, "adds");
	const char *spot = yard_spot(&yard, arena, "by the gate");
	const char *parent = yard_tree(&yard, arena, "mother", "");
	struct tree tree = {.label = "Fig \"by\" gate's \xF0\x9F\x8C\xB3",
		.how = ORIGIN_ROOT_SHOOT,
		.batch = "2019 shoots",
		.rootstock = "its own",
		.target_height_um = known_i64(3000000),
		.hazard = "power line\n\x01\x1b[31m above",
		.over_fence = true,
		.is_private = true,
		.note = "'; DROP TABLE tree; --"};
	tree.planted = yard_span("2015~");
	(void)snprintf(tree.parent_id, sizeof tree.parent_id, "%s", parent);
	(void)snprintf(tree.spot_id, sizeof tree.spot_id, "%s", spot);
	check_ok(store_tree_add(yard.store, &tree, &why), &why);
	yard_commit(&yard);
	log_reopen(&yard);
	struct tree got;
	check_ok(store_tree_load(yard.store, tree.id, &got, &why), &why);
	check_text(got.label, tree.label, "label");
	check_text(got.parent_id, parent, "parent");
	check_text(got.host_id, "", "host");
	check_int(got.how, ORIGIN_ROOT_SHOOT, "how");
	check_text(got.batch, "2019 shoots", "batch");
	check_text(got.rootstock, "its own", "rootstock");
	check_text(got.planted.text, "2015~", "planted");
	assert_true(got.planted.about && got.planted.low.known);
	check_int(got.planted.low.value.day, tree.planted.low.value.day, "low");
	check_int(got.planted.high.value.day, tree.planted.high.value.day, "high");
	check_text(got.gone.text, "", "gone");
	check_int(got.target_height_um.value, 3000000, "target");
	check_text(got.hazard, tree.hazard, "hazard");
	assert_true(got.over_fence && got.is_private);
	check_text(got.note, tree.note, "note");
	check_text(got.spot_id, spot, "spot");
	arena_free(arena);
	log_free(&yard);
}

/* --- labels --- */

static const struct label_case {
	const char *name;
	const char *label;
	enum status want;
	const char *says;
} label_cases[] = {
	{"label_may_have_forty_characters", "1234567890123456789012345678901234567890", STATUS_OK,
		""},
	{"label_counts_characters_not_bytes",
		"\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9"
		"\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9"
		"\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9"
		"\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9",
		STATUS_OK, ""},
	{"label_of_41_characters_is_refused", "12345678901234567890123456789012345678901",
		STATUS_RANGE, "at most 40"},
	{"empty_label_is_refused", "", STATUS_RANGE, "empty"},
	{"label_of_a_standing_tree_is_refused", "A3", STATUS_CONFLICT, "A3"},
	{"label_is_compared_in_any_case", "a3", STATUS_CONFLICT, "a3"},
	{"accents_count", "\xC3\xA1\x33", STATUS_OK, ""},
	{"longer_label_is_another", "A33", STATUS_OK, ""},
};

static void label_is_taken_or_refused(const void *one)
{
	const struct label_case *test = one;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	yard_begin(&yard, "adds");
	yard_tree(&yard, arena, "A3", "");
	struct tree tree = {0};
	(void)snprintf(tree.label, sizeof tree.label, "%s", test->label);
	enum status got = store_tree_add(yard.store, &tree, &why);
	if (test->want == STATUS_OK)
		check_ok(got, &why);
	else
		check_refused(got, test->want, &why, test->says);
	store_act_rollback(yard.store);
	arena_free(arena);
	log_free(&yard);
}

static void label_of_a_gone_tree_may_be_borne_again(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct tree found;
	const struct date_span day = yard_span("2019-05");
	yard_begin(&yard, "adds");
	const char *first = yard_tree(&yard, arena, "A5", "");
	check_ok(store_tree_close(yard.store, first, &day, "frost", &why), &why);
	check_ok(store_tree_find(yard.store, "a5", &found, &why), &why);
	check_text(found.id, first, "gone one is found");
	check_text(found.gone.text, "2019-05", "day");
	check_text(found.gone_reason, "frost", "reason");
	const char *second = yard_tree(&yard, arena, "A5", "");
	check_ok(store_tree_find(yard.store, "a5", &found, &why), &why);
	check_text(found.id, second, "standing one is found");
	struct tree back;
	check_ok(store_tree_load(yard.store, first, &back, &why), &why);
	back.gone = (struct date_span){0};
	check_refused(store_tree_save(yard.store, &back, &why), STATUS_CONFLICT, &why, "A5");
	yard_commit(&yard);
	arena_free(arena);
	log_free(&yard);
}

static void renamed_tree_is_found_by_both_labels(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct tree found;
	yard_begin(&yard, "adds");
	const char *id = yard_tree(&yard, arena, "old fig", "");
	yard_tree(&yard, arena, "plum", "");
	yard_commit(&yard);
	yard_begin(&yard, "renames");
	check_refused(
		store_tree_rename(yard.store, id, "PLUM", &why), STATUS_CONFLICT, &why, "PLUM");
	check_ok(store_tree_rename(yard.store, id, "B1", &why), &why);
	yard_commit(&yard);
	check_ok(store_tree_find(yard.store, "b1", &found, &why), &why);
	check_text(found.id, id, "new label");
	check_ok(store_tree_find(yard.store, "Old Fig", &found, &why), &why);
	check_text(found.id, id, "old label");
	check_text(found.label, "B1", "label");
	check_refused(store_tree_find(yard.store, "old", &found, &why), STATUS_ABSENT, &why, "old");
	char what[TEXT_SIZE];
	check_ok(store_undo(yard.store, what, &why), &why);
	check_refused(store_tree_find(yard.store, "b1", &found, &why), STATUS_ABSENT, &why, "b1");
	check_ok(store_tree_find(yard.store, "old fig", &found, &why), &why);
	check_int(
		log_one(&yard, "SELECT count(*) FROM old_label WHERE struck = 0"), 0, "old labels");
	arena_free(arena);
	log_free(&yard);
}

static void only_a_change_of_capitals_keeps_no_old_label(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct tree found;
	yard_begin(&yard, "adds");
	const char *id = yard_tree(&yard, arena, "fig", "");
	check_ok(store_tree_rename(yard.store, id, "Fig", &why), &why);
	yard_commit(&yard);
	check_ok(store_tree_find(yard.store, "FIG", &found, &why), &why);
	check_text(found.label, "Fig", "label");
	check_int(log_count(&yard, "old_label"), 0, "old labels");
	arena_free(arena);
	log_free(&yard);
}

/* --- saving --- */

static void save_writes_only_what_differs(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct tree tree;
	char newest[ID_SIZE];
	yard_begin(&yard, "adds");
	const char *id = yard_tree(&yard, arena, "A1", "");
	yard_commit(&yard);
	check_ok(store_row_newest_change(yard.store, id, newest, &why), &why);
	check_text(newest, "", "as made");
	check_ok(store_tree_load(yard.store, id, &tree, &why), &why);
	const int64_t sets = log_count(&yard, "change_set");
	yard_begin(&yard, "saves nothing");
	check_ok(store_tree_save(yard.store, &tree, &why), &why);
	yard_commit(&yard);
	check_int(log_count(&yard, "change_set"), sets, "sets");
	(void)snprintf(tree.hazard, sizeof tree.hazard, "wasps");
	tree.target_height_um = known_i64(2500000);
	yard_begin(&yard, "saves two fields");
	check_ok(store_tree_save(yard.store, &tree, &why), &why);
	yard_commit(&yard);
	check_int(log_count(&yard, "change"), 2, "changes");
	check_ok(store_row_newest_change(yard.store, id, newest, &why), &why);
	check_int((int64_t)strlen(newest), 26, "newest change");
	arena_free(arena);
	log_free(&yard);
}

static void struck_tree_is_neither_loaded_nor_saved(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct tree tree;
	char what[TEXT_SIZE];
	yard_begin(&yard, "adds");
	const char *id = yard_tree(&yard, arena, "A1", "");
	yard_commit(&yard);
	check_ok(store_tree_load(yard.store, id, &tree, &why), &why);
	check_ok(store_undo(yard.store, what, &why), &why);
	struct tree gone;
	check_refused(
		store_tree_load(yard.store, id, &gone, &why), STATUS_ABSENT, &why, "taken back");
	yard_begin(&yard, "saves");
	check_refused(store_tree_save(yard.store, &tree, &why), STATUS_ABSENT, &why, "taken back");
	store_act_rollback(yard.store);
	yard_begin(&yard, "adds again");
	yard_tree(&yard, arena, "A1", "");
	yard_commit(&yard);
	arena_free(arena);
	log_free(&yard);
}

/* --- grafts and spots --- */

static void graft_stands_where_its_host_stands(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct tree tree;
	yard_begin(&yard, "adds");
	const char *spot = yard_spot(&yard, arena, "S1");
	const char *other = yard_spot(&yard, arena, "S2");
	const char *host = yard_tree(&yard, arena, "H", spot);
	const char *graft = yard_graft(&yard, arena, "H red", host);
	check_ok(store_tree_load(yard.store, graft, &tree, &why), &why);
	check_text(tree.spot_id, spot, "spot of the graft");
	check_refused(store_tree_move(yard.store, graft, other, yard_day("2020-02-01"), &why),
		STATUS_RANGE, &why, "graft");
	check_ok(store_tree_move(yard.store, host, other, yard_day("2020-02-01"), &why), &why);
	check_ok(store_tree_load(yard.store, graft, &tree, &why), &why);
	check_text(tree.spot_id, other, "moved along");
	struct tree wrong = {.label = "H white"};
	(void)snprintf(wrong.host_id, sizeof wrong.host_id, "%s", graft);
	check_refused(
		store_tree_add(yard.store, &wrong, &why), STATUS_RANGE, &why, "itself a graft");
	(void)snprintf(wrong.host_id, sizeof wrong.host_id, "%s", host);
	(void)snprintf(wrong.spot_id, sizeof wrong.spot_id, "%s", spot);
	check_refused(store_tree_add(yard.store, &wrong, &why), STATUS_RANGE, &why, "host stands");
	yard_commit(&yard);
	arena_free(arena);
	log_free(&yard);
}

static void closing_a_host_closes_its_grafts(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct tree tree;
	struct tree_place *places = NULL;
	int32_t count = 0;
	char what[TEXT_SIZE];
	const struct date_span day = yard_span("2024-01-15");
	yard_begin(&yard, "adds");
	const char *spot = yard_spot(&yard, arena, "S1");
	const char *host = yard_tree(&yard, arena, "H", spot);
	const char *graft = yard_graft(&yard, arena, "H red", host);
	yard_commit(&yard);
	yard_begin(&yard, "closes");
	check_ok(store_tree_close(yard.store, host, &day, "root rot", &why), &why);
	check_refused(store_tree_close(yard.store, graft, &day, "x", &why), STATUS_CONFLICT, &why,
		"gone");
	yard_commit(&yard);
	check_ok(store_tree_load(yard.store, graft, &tree, &why), &why);
	check_text(tree.gone.text, "2024-01-15", "graft gone");
	check_text(tree.gone_reason, "root rot", "reason");
	check_text(tree.spot_id, "", "no spot");
	check_ok(store_tree_place_list(yard.store, host, NULL, arena, &places, &count, &why), &why);
	check_int(count, 1, "stays");
	assert_true(places[0].to.known);
	check_int(places[0].to.value.day, day.low.value.day, "end");
	check_ok(store_undo(yard.store, what, &why), &why);
	check_ok(store_tree_load(yard.store, graft, &tree, &why), &why);
	check_text(tree.gone.text, "", "graft stands again");
	check_text(tree.spot_id, spot, "spot");
	arena_free(arena);
	log_free(&yard);
}

static void moves_leave_a_history_of_the_spot(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct tree_place *places = NULL;
	int32_t count = 0;
	yard_begin(&yard, "adds");
	const char *one = yard_spot(&yard, arena, "S1");
	const char *two = yard_spot(&yard, arena, "S2");
	const char *a = yard_tree(&yard, arena, "A", one);
	yard_tree(&yard, arena, "B", one);
	check_ok(store_tree_move(yard.store, a, two, yard_day("2020-02-01"), &why), &why);
	check_ok(store_tree_move(yard.store, a, two, yard_day("2020-03-01"), &why), &why);
	check_ok(store_tree_move(yard.store, a, one, yard_day("2021-02-01"), &why), &why);
	check_ok(store_tree_move(yard.store, a, "", yard_day("2022-02-01"), &why), &why);
	yard_commit(&yard);
	check_ok(store_tree_place_list(yard.store, a, NULL, arena, &places, &count, &why), &why);
	check_int(count, 3, "stays of the tree");
	check_text(places[0].spot_id, one, "first");
	assert_false(places[0].from.known);
	check_text(places[1].spot_id, two, "second");
	check_int(places[1].to.value.day, yard_day("2021-02-01").day, "moved once only");
	check_ok(store_tree_place_list(yard.store, NULL, one, arena, &places, &count, &why), &why);
	check_int(count, 3, "stays in the spot");
	arena_free(arena);
	log_free(&yard);
}

/* --- lists --- */

static const char *labels_of(struct arena *arena, const struct tree *trees, int32_t count)
{
	struct text_builder all = text_builder_in(arena);
	text_add(&all, "");
	for (int32_t i = 0; i < count; i++) {
		text_add(&all, i == 0 ? "" : ", ");
		text_add(&all, trees[i].label);
	}
	return all.text;
}

struct listed_yard {
	struct log yard;
	struct arena *arena;
	const char *area;
	const char *spot;
	const char *host;
};

static void name_species(
	struct listed_yard *listed, const char *tree_id, const char *species, enum sure sure)
{
	struct fault why;
	struct identity identity = {.sure = sure};
	(void)snprintf(identity.tree_id, sizeof identity.tree_id, "%s", tree_id);
	(void)snprintf(identity.name, sizeof identity.name, "%s", species);
	check_ok(store_identity_add(listed->yard.store, &identity, &why), &why);
}

static void make_listed(struct listed_yard *listed)
{
	struct fault why;
	log_make(&listed->yard);
	listed->arena = arena_new();
	yard_begin(&listed->yard, "adds");
	listed->area = yard_area(&listed->yard, listed->arena, "top");
	struct spot spot = {.name = "S1"};
	(void)snprintf(spot.area_id, sizeof spot.area_id, "%s", listed->area);
	check_ok(store_spot_add(listed->yard.store, &spot, &why), &why);
	listed->spot = arena_text(listed->arena, spot.id);
	const char *a10 = yard_tree(&listed->yard, listed->arena, "A10", "");
	listed->host = yard_tree(&listed->yard, listed->arena, "A2", listed->spot);
	yard_tree(&listed->yard, listed->arena, "b1", listed->spot);
	yard_graft(&listed->yard, listed->arena, "A2 red", listed->host);
	const char *gone = yard_tree(&listed->yard, listed->arena, "a1", listed->spot);
	const struct date_span day = yard_span("2020-01-01");
	check_ok(store_tree_close(listed->yard.store, gone, &day, "", &why), &why);
	name_species(listed, a10, "peach", SURE_CERTAIN);
	name_species(listed, listed->host, "peach", SURE_SUSPECTED);
	name_species(listed, listed->host, "apricot", SURE_CERTAIN);
	yard_commit(&listed->yard);
}

static const struct list_case {
	const char *name;
	struct tree_query query;
	bool of_area, of_spot, of_host;
	const char *want;
} list_cases[] = {
	{"standing_trees_come_in_natural_order", {0}, false, false, false, "A2, A2 red, A10, b1"},
	{"gone_trees_come_when_asked", {.gone_too = true}, false, false, false,
		"a1, A2, A2 red, A10, b1"},
	{"species_is_the_newest_opinion", {.species = "peach"}, false, false, false, "A10"},
	{"trees_of_a_spot_and_their_grafts", {0}, false, true, false, "A2, A2 red, b1"},
	{"gone_trees_of_a_spot", {.gone_too = true}, false, true, false, "a1, A2, A2 red, b1"},
	{"trees_of_an_area", {0}, true, false, false, "A2, A2 red, b1"},
	{"grafts_of_a_host", {0}, false, false, true, "A2 red"},
	{"part_of_the_label_in_any_case", {.text = "RED"}, false, false, false, "A2 red"},
	{"three_letters_of_what_it_is_called", {.text = "ric"}, false, false, false, "A2"},
	{"two_letters_are_of_the_label_alone", {.text = "pr"}, false, false, false, ""},
	{"text_with_signs_is_only_text", {.text = "%"}, false, false, false, ""},
	{"page_of_two", {.most = 2, .offset = 1}, false, false, false, "A2 red, A10"},
	{"filters_add_up", {.species = "apricot", .text = "a2"}, true, true, false, "A2"},
};

static void trees_are_listed(const void *one)
{
	const struct list_case *test = one;
	struct listed_yard listed;
	struct fault why;
	struct tree *trees = NULL;
	int32_t count = 0;
	int32_t counted = 0;
	make_listed(&listed);
	struct tree_query query = test->query;
	query.area_id = test->of_area ? listed.area : NULL;
	query.spot_id = test->of_spot ? listed.spot : NULL;
	query.host_id = test->of_host ? listed.host : NULL;
	check_ok(store_tree_list(listed.yard.store, &query, listed.arena, &trees, &count, &why),
		&why);
	check_text(labels_of(listed.arena, trees, count), test->want, "labels");
	query.most = query.offset = 0;
	check_ok(store_tree_list(listed.yard.store, &query, listed.arena, &trees, &count, &why),
		&why);
	check_ok(store_tree_count(listed.yard.store, &query, &counted, &why), &why);
	check_int(counted, count, "count");
	arena_free(listed.arena);
	log_free(&listed.yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(tree_is_read_as_it_was_written),
		cmocka_unit_test(label_of_a_gone_tree_may_be_borne_again),
		cmocka_unit_test(renamed_tree_is_found_by_both_labels),
		cmocka_unit_test(only_a_change_of_capitals_keeps_no_old_label),
		cmocka_unit_test(save_writes_only_what_differs),
		cmocka_unit_test(struck_tree_is_neither_loaded_nor_saved),
		cmocka_unit_test(graft_stands_where_its_host_stands),
		cmocka_unit_test(closing_a_host_closes_its_grafts),
		cmocka_unit_test(moves_leave_a_history_of_the_spot),
	};
	const int failed = cmocka_run_group_tests_name("tree", tests, NULL, NULL) +
			   RUN_CASES("labels", label_cases, label_is_taken_or_refused) +
			   RUN_CASES("lists", list_cases, trees_are_listed);
	return failed != 0;
}
