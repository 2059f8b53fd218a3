/* SPDX-License-Identifier: MIT */
/* How trees were set, as growers told it: each with what a good answer says and what it must not.
 * The yards are invented; figures are those of the published answers. */
#include "support/told.h"

/* --- a small apple in South Africa, planted "a year or two ago", too deep: the union is under the
 * soil, and the owner thinks of tugging it up --- */

static void a_year_or_two_ago_is_a_span_of_years_never_a_day(void **state)
{
	static const struct {
		const char *said;
		int low, high;
	} spans[] = {
		{"a year or two ago", 2024, 2025},
		{"1-3 years ago", 2023, 2025},
		{"perhaps 1 to 3 years ago", 2023, 2025},
	};

	(void)state;
	for (size_t i = 0; i < sizeof spans / sizeof spans[0]; i++) {
		struct garden garden;
		struct date_span planted;
		told_south(&garden, AT_WET_WINTER, "", "", "2026-09-10");
		struct line_context context = yard_line_context(garden.yard, &garden.names);
		check_ok(planting_read(spans[i].said, &context, &planted, NULL), NULL);
		check_int(date_parts(planted.low.value).year, spans[i].low, spans[i].said);
		check_int(date_parts(planted.high.value).year, spans[i].high, spans[i].said);
		assert_false(date_span_is_exact(&planted));
		assert_true(planted.about || planted.doubt); /* low confidence is kept */
		garden_free(&garden);
	}
}

static void a_buried_union_is_told_why_and_what_to_do(void **state)
{
	struct garden garden;
	told_south(&garden, AT_WET_WINTER, "A1 apple 2024/2025",
		"A1 note graft union under the soil @ 2026-09-10", "2026-09-10");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "planted-deep");

	(void)state;
	assert_non_null(flag);
	check_has(flag->says, "the top can root", "why");
	check_has(flag->says, "dwarfing stock is lost", "what is lost");
	check_has(flag->says, "2 in to 3 in", "one source");
	check_has(flag->says, "others say 3 in to 6 in", "the other");
	check_has(flag->action, "draw the soil back", "first");
	check_has(flag->action, "cut roots above the union", "then");
	check_has(flag->action, "lift it only while it is dormant", "no tugging in growth");
	garden_free(&garden);
}

/* "About a year ago, or two, or three": typed as growers do, kept and shown as a span in doubt. */
static void the_tree_is_kept_with_its_span(void **state)
{
	struct garden garden;
	struct fault why = {0};
	struct new_tree tree = {.species = "apple"};
	char id[ID_SIZE];
	told_south(&garden, AT_WET_WINTER, "", "", "2026-09-10");
	struct line_context context = yard_line_context(garden.yard, &garden.names);

	(void)state;
	snprintf(tree.tree.label, sizeof tree.tree.label, "A1");
	check_ok(planting_read("1-3 years ago", &context, &tree.tree.planted, &why), &why);
	check_ok(work_tree_add(garden.yard, &tree, garden.asked, id, &why), &why);
	garden_look(&garden);
	check_has(told_tree(&garden, "A1"), "planted about 2023 to about 2025", "shown so");
	char *kept = garden_sql(&garden, "SELECT planted_low || ' ' || planted_high FROM tree");
	check_text(kept, "2023-01-01 2025-12-31\n", "kept so");
	free(kept);
	garden_free(&garden);
}

/* The union a little under the soil is a height below zero, and a pull comes too late. */
static void the_union_is_kept_as_a_height_below_zero(void **state)
{
	static const char *const lines[] = {"A1 union 2 cm below the soil", "A1 union -2 cm",
		"A1 measured graft union 2 cm under the soil"};

	(void)state;
	for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
		struct garden garden;
		told_south(&garden, AT_WET_WINTER, "A1 apple 2024/2025", "", "2026-09-10");
		check_has(told_answer(&garden, lines[i]), "measured graft union", "read");
		const struct amount *at =
			entry_amount(garden_story(&garden, "A1")->entries[0], FIELD_UNION);
		assert_non_null(at);
		check_int(at->low.value, -20000, "micrometres above the soil");
		char *kept = garden_sql(&garden, "SELECT field, low, high FROM amount");
		check_text(kept, "union|-20000|-20000\n", "in the file");
		free(kept);
		struct flags flags = log_case_flags(&garden);
		const struct flag *flag = log_case_find(&flags, "planted-deep");
		check_has(flag->says, "below the soil", "as measured");
		check_has(flag->action, "dormant, June to August", "its winter");
		check_has(flag->action, "Do not tug it up", "the owner's thought");
		check_has(flag->action, "only in the first month or two", "when a pull works");
		garden_free(&garden);
	}
}

static void a_union_with_no_side_is_asked(void **state)
{
	struct garden garden;
	told_south(&garden, AT_WET_WINTER, "A1 apple 2024/2025", "", "2026-09-10");

	(void)state;
	struct line_context context = yard_line_context(garden.yard, &garden.names);
	struct reading reading = {.line_count = 0};
	struct fault why = {0};
	check_refused(line_read("A1 union 2 cm", &context, garden.arena, &reading, NULL, &why),
		STATUS_DOUBT, &why, "above or below the soil");
	garden_free(&garden);
}

/* --- three plums in one hole, 24 in apart, planted late in May --- */

static void three_in_a_hole(struct garden *garden)
{
	told(garden, AT_HUMID, "", "", "2026-05-16");
	garden_tree(garden, "T1", "european_plum", "2026-05-15", "the hole");
	garden_tree(garden, "T2", "european_plum", "2026-05-15", "the hole");
	garden_tree(garden, "T3", "european_plum", "2026-05-15", "the hole");
}

static void three_trees_have_three_labels_and_one_place(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	char *ids = garden_sql(&garden, "SELECT count(DISTINCT t.id) || ' ' || "
					"count(DISTINCT s.spot_id) FROM tree t "
					"JOIN tree_spot s ON s.tree_id = t.id");

	(void)state;
	check_text(ids, "3 1\n", "trees, spots");
	free(ids);
	check_has(told_trees(&garden, false), "3 trees", "counted as three");
	garden_free(&garden);
}

static void a_pick_off_the_clump_is_not_shared_out(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	garden_today(&garden, "2027-11-20");
	garden_log(&garden, "spot the hole picked 30 kg @ 2027-07-01");
	garden_log(&garden, "T2 cut shape 30% of shoots @ 2027-02-20");

	(void)state;
	for (int i = 1; i <= 3; i++) {
		char label[4];

		snprintf(label, sizeof label, "T%d", i);
		const struct dossier *dossier = garden_story(&garden, label);
		check_int(dossier->expected.seasons, 0, "no share of the clump's");
		int32_t own = 0;
		for (int32_t e = 0; e < dossier->entry_count; e++)
			own += strcmp(dossier->entries[e]->subject.id, dossier->tree.id) == 0;
		check_int(own, i == 2 ? 1 : 0, "its own work");
	}
	garden_free(&garden);
}

static void one_of_the_three_dies_alone(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	garden_today(&garden, "2026-11-20");
	garden_log(&garden, "T1 died drought @ 2026-08-01");

	(void)state;
	check_text(garden_find(&garden, "T2").gone.text, "", "still there");
	check_text(garden_find(&garden, "T3").gone.text, "", "still there");
	check_has(told_trees(&garden, true), "gone: drought", "with its reason");
	garden_free(&garden);
}

static void trees_so_close_are_told_of_once(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	const char *review = told_review(&garden, true);
	const char *at = strstr(review, "too-close");

	(void)state;
	assert_non_null(at);
	assert_null(strstr(at + 1, "too-close"));
	check_has(review, "If it was meant so, set this aside", "no alarm");
	check_has(review, "T2, T3", "who");
	/* the published objection, and who says that it works */
	check_has(review, "about 36 sq ft a tree, 108 for 3", "what research spacings come to");
	check_has(review, "a trade method says it works where the rootstocks match", "the other");
	garden_free(&garden);
}

/* Set in the middle of May: water is spoken of through the first summer, and rests for a week
 * after each watering. */
static void late_set_trees_are_watched_through_their_summer(void **state)
{
	static const char *const days[] = {"2026-05-20", "2026-06-20", "2026-07-20", "2026-08-20"};
	struct garden garden;
	three_in_a_hole(&garden);

	(void)state;
	for (size_t i = 0; i < sizeof days / sizeof days[0]; i++) {
		garden_today(&garden, days[i]);
		struct flags flags = log_case_flags(&garden);
		check_int(log_case_count(&flags, "water-first-summer"), 3, days[i]);
		check_has(told_review(&garden, true), "T1, T2, T3", "one line for the yard");
	}
	garden_log(&garden, "all watered 5 gal @ 2026-08-20");
	struct flags flags = log_case_flags(&garden);
	check_silent(&flags, "water-first-summer");
	garden_today(&garden, "2026-10-01");
	flags = log_case_flags(&garden);
	check_silent(&flags, "water-first-summer");
	garden_free(&garden);
}

/* Three names, none of them "plum x3"; what came off the clump stands once in the yard's total. */
static void the_clump_counts_once_and_undivided(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	garden_today(&garden, "2026-11-20");
	garden_log(&garden, "spot the hole picked 30 kg @ 2026-08-01");
	const char *page = told_season(&garden, "");

	(void)state;
	check_lacks(told_trees(&garden, false), "x3", "no plum x3");
	check_has(page, "the hole              European plum   66.1 lb", "the hole's own row");
	check_has(page, "3 trees, 66.1 lb", "once in the total");
	check_lacks(page, "22", "no third of it");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_year_or_two_ago_is_a_span_of_years_never_a_day),
		cmocka_unit_test(a_buried_union_is_told_why_and_what_to_do),
		cmocka_unit_test(the_tree_is_kept_with_its_span),
		cmocka_unit_test(the_union_is_kept_as_a_height_below_zero),
		cmocka_unit_test(a_union_with_no_side_is_asked),
		cmocka_unit_test(three_trees_have_three_labels_and_one_place),
		cmocka_unit_test(a_pick_off_the_clump_is_not_shared_out),
		cmocka_unit_test(one_of_the_three_dies_alone),
		cmocka_unit_test(trees_so_close_are_told_of_once),
		cmocka_unit_test(late_set_trees_are_watched_through_their_summer),
		cmocka_unit_test(the_clump_counts_once_and_undivided),
	};
	return cmocka_run_group_tests_name("how it was set, as told", tests, NULL, NULL) != 0;
}
