/* SPDX-License-Identifier: MIT */
/* planted-deep, too-close. */
#include "support/log_case.h"

#define DEEP .rule = "planted-deep"
#define APPLE "A1 apple 2026-02-10"

/* clang-format off */
static const struct log_case deep[] = {
	{ "planted_too_deep_is_told_while_it_can_be_eased_up", AT_COOL, "A1 apple -", "A1 planted too deep @ 2026-02-10", "2026-02-20", DEEP, .want = "act", .says = {"It stands deep", "2 in to 3 in above the soil", "Ease it up now"} },
	{ "both_heights_are_named_where_sources_differ", AT_COOL, "A1 apple -", "A1 planted too deep @ 2026-02-10", "2026-02-20", DEEP, .want = "act", .says = {"; others say 3 in to 6 in."} },
	{ "on_the_twenty_first_day_still", AT_COOL, "A1 apple -", "A1 planted too deep @ 2026-02-10", "2026-03-03", DEEP, .want = "act", .once = true },
	{ "after_that_a_note", AT_COOL, "A1 apple -", "A1 planted too deep @ 2026-02-10", "2026-03-04", DEEP, .want = "note", .says = {"draw the soil back", "while it is dormant"}, .once = true },
	{ "seen_on_an_old_tree_it_is_a_note", AT_COOL, "A1 apple 2024", "A1 saw graft union buried @ 2026-02-10", "2026-02-11", DEEP, .want = "note" },
	{ "seen_a_week_after_planting_it_is_an_act", AT_COOL, APPLE, "A1 saw union 2 in below soil @ 2026-02-16", "2026-02-17", DEEP, .want = "act" },
	{ "a_union_a_little_under_the_soil_one_to_three_years_on", AT_COOL, "A1 apple 2024/2026", "A1 saw union a little under the soil @ 2026-09-16", "2026-09-17", DEEP, .want = "note", .says = {"cut roots above the union", "while it is dormant"} },
	{ "suckers_below_the_union_are_another_matter", AT_COOL, APPLE, "A1 saw suckers from below the graft union @ 2026-02-16", "2026-02-20", DEEP, .want = "" },
	{ "not_too_deep_is_fine", AT_COOL, APPLE, "A1 note planted, not too deep @ 2026-02-10", "2026-02-20", DEEP, .want = "" },
	{ "deep_mulch_is_another_matter", AT_COOL, APPLE, "A1 saw union buried under mulch @ 2026-02-16", "2026-02-20", DEEP, .want = "" },
	{ "the_fig_is_set_deep_on_purpose", AT_WET_WINTER, "A1 fig -", "A1 planted deep @ 2026-02-10", "2026-02-20", DEEP, .want = "" },
	{ "an_evergreen_is_lifted_before_spring_growth", AT_WET_WINTER, "A1 loquat 2024", "A1 saw flare buried @ 2026-02-16", "2026-02-20", DEEP, .want = "note", .says = {"before spring growth"} },
	{ "soil_drawn_back_settles_it", AT_COOL, APPLE, "A1 saw union buried @ 2026-02-16|A1 note soil drawn back to the roots @ 2026-02-18", "2026-02-20", DEEP, .want = "" },
	{ "a_move_settles_it", AT_COOL, APPLE, "A1 saw union buried @ 2026-02-16|A1 moved to the north corner @ 2026-02-18", "2026-02-20", DEEP, .want = "" },
	{ "a_union_measured_below_the_soil", AT_COOL, "A1 apple 2024/2026", "A1 union 2 in below the soil @ 2026-09-16", "2026-09-17", DEEP, .want = "note", .says = {"The union is 2 in below the soil", "Do not tug it up", "the first month or two"} },
	{ "with_a_minus", AT_COOL, "A1 apple 2024/2026", "A1 union -2 in @ 2026-09-16", "2026-09-17", DEEP, .want = "note", .says = {"The union is 2 in below the soil"} },
	{ "just_at_the_soil", AT_COOL, "A1 apple 2024/2026", "A1 union 0 in @ 2026-09-16", "2026-09-17", DEEP, .want = "note", .says = {"The union is at the soil"} },
	{ "above_it_nothing_is_wrong", AT_COOL, "A1 apple 2024/2026", "A1 union 1 in above @ 2026-09-16", "2026-09-17", DEEP, .want = "" },
	{ "measured_clear_later_it_is_mended", AT_COOL, APPLE, "A1 union -1 in @ 2026-02-16|A1 union 2 in above @ 2026-02-18", "2026-02-20", DEEP, .want = "" },
	{ "measured_deep_in_the_first_weeks", AT_COOL, APPLE, "A1 union -1 in @ 2026-02-16", "2026-02-20", DEEP, .want = "act", .says = {"Ease it up now"} },
	{ "lifted_in_the_winter_of_the_place", AT_COOL, "A1 apple 2024", "A1 union -1 in @ 2026-02-16", "2026-02-20", DEEP, .want = "note", .says = {"dormant, December to February"}, .once = true },
	{ "no_months_where_the_hemisphere_is_unknown", AT_NOWHERE, "A1 apple 2024", "A1 union -1 in @ 2026-02-16", "2026-02-20", DEEP, .want = "note", .says = {"only while it is dormant."}, .once = true },
	{ "three_years_on_it_lives", AT_COOL, APPLE, "A1 saw union buried @ 2026-02-16", "2029-02-16", DEEP, .want = "" },
	{ "the_day_before_it_is_still_told", AT_COOL, APPLE, "A1 saw union buried @ 2026-02-16", "2029-02-15", DEEP, .want = "note" },
	{ "an_unknown_kind_could_be_a_fig", AT_NOWHERE, "A1 - 2026-02-10", "A1 saw union buried @ 2026-02-16", "2026-02-20", DEEP, .want = "", .once = true },
};
/* clang-format on */

/* --- trees with places --- */

static void put_tree(struct garden *garden, const char *label, const char *species,
	const char *planted, int east_m)
{
	struct fault why = {0};
	struct new_tree tree = {.sure_given = false};
	char id[ID_SIZE];

	snprintf(tree.tree.label, sizeof tree.tree.label, "%s", label);
	snprintf(tree.species, sizeof tree.species, "%s", species);
	snprintf(tree.spot, sizeof tree.spot, "at %d", east_m);
	tree.east_um = known_i64((int64_t)east_m * 1000000);
	tree.north_um = known_i64(0);
	check_ok(
		date_span_parse(planted, garden->place.hemisphere, &tree.tree.planted, &why), &why);
	check_ok(work_tree_add(garden->yard, &tree, garden->asked, id, &why), &why);
	garden_look(garden);
}

struct spacing_case {
	const char *name;
	const char *first, *first_planted;
	const char *second, *second_planted;
	int apart_m;
	const char *today;
	bool flagged;
	const char *says;
	bool south;
};

/* Least spacings of the almanac: apple 12 ft (3.7 m), walnut 40 ft (12.2 m), peach 12 ft. */
/* clang-format off */
static const struct spacing_case spacings[] = {
	{ "three_metres_are_near_for_apples", "apple", "2024-02-01", "apple", "2025-02-01", 3, "2026-06-01", true, "9 ft 10 in from A1; trees of these kinds are set 12 ft apart at least", false },
	{ "four_metres_are_not", "apple", "2024-02-01", "apple", "2025-02-01", 4, "2026-06-01", false, NULL, false },
	{ "the_kind_that_wants_less_decides", "walnut", "2024-02-01", "apple", "2025-02-01", 5, "2026-06-01", false, NULL, false },
	{ "two_that_want_much", "walnut", "2024-02-01", "walnut", "2025-02-01", 11, "2026-06-01", true, "40 ft apart", false },
	{ "in_one_hole_it_is_told_as_that", "apple", "2024-02-01", "apple", "2025-02-01", 0, "2026-06-01", true, "It shares a hole with A1", false },
	{ "while_the_younger_is_under_three", "apple", "2010", "apple", "2023-06-02", 3, "2026-06-01", true, NULL, false },
	{ "then_silence", "apple", "2010", "apple", "2023-06-01", 3, "2026-06-01", false, NULL, false },
	{ "old_neighbours_have_grown_up_together", "apple", "2010", "apple", "2012", 3, "2026-06-01", false, NULL, false },
	{ "an_unknown_planting_day_is_not_judged", "apple", "2010", "apple", "", 3, "2026-06-01", false, NULL, false },
	{ "an_unknown_kind_is_not_judged", "apple", "2010", "", "2025-02-01", 3, "2026-06-01", false, NULL, false },
	{ "in_the_south_as_in_the_north", "apple", "2024-08-01", "apple", "2025-08-01", 3, "2026-12-01", true, "It moves easily", true },
};
/* clang-format on */

static void check_spacing(void **state)
{
	const struct spacing_case *one = *state;
	struct garden garden;
	struct place place;

	log_case_place(AT_COOL, one->south, &place);
	garden_make_at(&garden, &place, one->today);
	put_tree(&garden, "A1", one->first, one->first_planted, 0);
	put_tree(&garden, "A2", one->second, one->second_planted, one->apart_m);
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "too-close"), one->flagged ? 1 : 0, one->name);
	const struct flag *flag = log_case_find(&flags, "too-close");
	if (flag != NULL) {
		check_text(flag->label, "A2", "told at the younger");
		check_int(flag->urgency, URGENCY_NOTE, "urgency");
	}
	if (flag != NULL && one->says != NULL && strstr(flag->action, "it moves easily") == NULL)
		fail();
	if (flag != NULL && one->says != NULL && !one->south)
		check_has(flag->says, one->says, one->name);
	garden_free(&garden);
}

static void three_in_one_hole_are_told_once(void **state)
{
	struct garden garden;
	struct place place;

	(void)state;
	log_case_place(AT_HUMID, false, &place);
	garden_make_at(&garden, &place, "2026-06-01");
	put_tree(&garden, "P1", "european_plum", "2026-05-15", 0);
	put_tree(&garden, "P2", "european_plum", "2026-05-15", 0);
	put_tree(&garden, "P3", "european_plum", "2026-05-15", 0);
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct fault why = {0};
	int32_t told = 0;
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	for (int32_t i = 0; i < review.count; i++)
		told += strcmp(review.items[i].flag.rule, "too-close") == 0;
	check_int(told, 1, "lines");
	garden_free(&garden);
}

static void metres_are_said_where_metres_are_used(void **state)
{
	struct garden garden;
	struct place place;
	struct fault why = {0};

	(void)state;
	log_case_place(AT_COOL, true, &place);
	garden_make_at(&garden, &place, "2026-12-01");
	garden.place.units = UNITS_SI;
	check_ok(store_act_begin(garden.store, ACT_WORK, "units", &why), &why);
	check_ok(store_place_save(garden.store, &garden.place, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	put_tree(&garden, "A1", "apple", "2024-08-01", 0);
	put_tree(&garden, "A2", "apple", "2025-08-01", 3);
	garden_log(&garden, "A2 saw graft union buried @ 2026-11-20");
	struct flags flags = log_case_flags(&garden);
	check_has(log_case_find(&flags, "too-close")->says,
		"3 m from A1; trees of these kinds are set 3.66 m apart at least", "spacing");
	check_has(log_case_find(&flags, "planted-deep")->says,
		"The union belongs 5.1 cm to 7.6 cm above the soil", "height");
	garden_free(&garden);
}

int main(void)
{
	enum { SPACINGS = sizeof spacings / sizeof spacings[0] };
	struct CMUnitTest tests[SPACINGS + 2];

	for (size_t i = 0; i < SPACINGS; i++)
		tests[i] = (struct CMUnitTest){.name = spacings[i].name,
			.test_func = check_spacing,
			.initial_state = (void *)(uintptr_t)&spacings[i]};
	tests[SPACINGS] = (struct CMUnitTest)cmocka_unit_test(three_in_one_hole_are_told_once);
	tests[SPACINGS + 1] =
		(struct CMUnitTest)cmocka_unit_test(metres_are_said_where_metres_are_used);
	int failed = LOG_CASES("planted-deep", deep);

	failed += cmocka_run_group_tests_name("too-close", tests, NULL, NULL);
	return failed != 0;
}
