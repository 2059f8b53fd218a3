/* SPDX-License-Identifier: MIT */
/* pot-small, pot-up-due. */
#include "support/log_case.h"

#define SMALL .rule = "pot-small"
#define POTUP .rule = "pot-up-due"
#define FIG "A1 fig 2018"
#define POTTED "A1 potted up 7 gal @ 2024-03-10|"
#define ROOTS "A1 saw roots circling @ 2026-03-10|"

/* clang-format off */
static const struct log_case small[] = {
	{ "seven_gallons_are_small_for_a_fig_that_bears", AT_WET_WINTER, FIG, POTTED, "2026-05-10", SMALL, .want = "note", .says = {"7 gal", "15 gal", "do not lift it alone"} },
	{ "twelve_gallons_are_the_pot_that_is_meant", AT_WET_WINTER, FIG, "A1 potted up 12 gal @ 2024-03-10", "2026-05-10", SMALL, .want = "" },
	{ "eleven_gallons_are_not", AT_WET_WINTER, FIG, "A1 potted up 11 gal @ 2024-03-10", "2026-05-10", SMALL, .want = "note" },
	{ "in_the_ground_no_pot", AT_WET_WINTER, FIG, "", "2026-05-10", SMALL, .want = "" },
	{ "a_pot_of_unknown_size_is_not_judged", AT_WET_WINTER, FIG, "A1 potted up larger @ 2024-03-10", "2026-05-10", SMALL, .want = "" },
	{ "a_young_tree_is_on_its_way", AT_WET_WINTER, "A1 loquat 2025", "A1 potted up 7 gal @ 2026-03-10", "2026-05-10", SMALL, .want = "" },
	{ "a_young_tree_that_was_picked_bears", AT_WET_WINTER, "A1 loquat 2025", "A1 potted up 7 gal @ 2026-03-10|A1 picked 2 fruit @ 2026-04-20", "2026-05-10", SMALL, .want = "note" },
	{ "a_tree_of_unknown_age_is_not_judged", AT_WET_WINTER, "A1 loquat -", "A1 potted up 7 gal @ 2026-03-10", "2026-05-10", SMALL, .want = "" },
	{ "an_unknown_kind_is_silent", AT_NOWHERE, "A1 - 2018", POTTED, "2026-05-10", SMALL, .want = "", .once = true },
	{ "a_kind_without_a_figure_is_silent", AT_WET_WINTER, "A1 apple 2012", POTTED, "2026-05-10", SMALL, .want = "" },
	{ "roots_seen_speak_instead", AT_WET_WINTER, FIG, POTTED ROOTS, "2026-03-20", SMALL, .want = "" },
};

static const struct log_case due[] = {
	{ "roots_without_room_are_work", AT_WET_WINTER, FIG, POTTED ROOTS, "2026-03-10", POTUP, .want = "due", .says = {"no more room", "next size of pot"} },
	{ "sixty_days_on_still", AT_WET_WINTER, FIG, POTTED ROOTS, "2026-05-09", POTUP, .want = "due", .once = true },
	{ "then_a_note", AT_WET_WINTER, FIG, POTTED ROOTS, "2026-05-10", POTUP, .want = "note", .once = true },
	{ "after_four_hundred_days_silence_about_the_roots", AT_WET_WINTER, FIG, POTTED ROOTS, "2027-04-15", POTUP, .want = "", .once = true },
	{ "a_larger_pot_settles_it", AT_WET_WINTER, FIG, POTTED ROOTS "A1 potted up 15 gal @ 2026-03-12", "2026-03-20", POTUP, .want = "" },
	{ "roots_of_a_tree_in_the_ground_are_no_matter", AT_WET_WINTER, FIG, "A1 saw roots circling @ 2026-03-10", "2026-03-20", POTUP, .want = "" },
	{ "an_unknown_kind_has_roots_too", AT_NOWHERE, "A1 - 2018", POTTED ROOTS, "2026-03-20", POTUP, .want = "due", .once = true },
	{ "three_years_in_one_pot", AT_WET_WINTER, "A1 fig 2018", "A1 potted up 15 gal @ 2023-05-10", "2026-05-10", POTUP, .want = "note", .says = {"same pot and mix since 10 May 2023"}, .once = true },
	{ "the_day_before", AT_WET_WINTER, "A1 fig 2018", "A1 potted up 15 gal @ 2023-05-10", "2026-05-09", POTUP, .want = "" },
	{ "a_small_pot_is_told_once", AT_WET_WINTER, "A1 fig 2018", "A1 potted up 7 gal @ 2023-05-10", "2026-06-10", POTUP, .want = "" },
};
/* clang-format on */

/* A pot whose potting nobody logged: nothing is known of its years. */
static void a_pot_never_logged_is_not_asked(void **state)
{
	static const struct log_case told = {
		.place = AT_WET_WINTER, .trees = "", .lines = "", .today = "2026-05-10"};
	struct garden garden;
	struct fault why = {0};
	struct spot spot = {.name = "terrace",
		.kind = SPOT_CONTAINER,
		.volume_ul = {.value = 60000000, .known = true}};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(store_act_begin(garden.store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_add(garden.store, &spot, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	garden_tree(&garden, "A1", "fig", "2012", "terrace");
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "pot-up-due"), 0, "pot-up-due");
	check_int(log_case_count(&flags, "pot-small"), 0, "pot-small");
	garden_free(&garden);
}

static void litres_are_said_where_litres_are_used(void **state)
{
	static const struct log_case told = {
		.place = AT_WET_WINTER, .trees = FIG, .lines = POTTED, .today = "2026-05-10"};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, true);
	garden.place.units = UNITS_SI;
	check_ok(store_act_begin(garden.store, ACT_WORK, "units", &why), &why);
	check_ok(store_place_save(garden.store, &garden.place, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "pot-small");
	assert_non_null(flag);
	check_has(
		flag->says, "Its pot holds 26.5 l; to bear, this kind wants about 56.8 l.", "says");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_pot_never_logged_is_not_asked),
		cmocka_unit_test(litres_are_said_where_litres_are_used),
	};
	int failed = LOG_CASES("pot-small", small);

	failed += LOG_CASES("pot-up-due", due);
	failed += cmocka_run_group_tests_name("pots", tests, NULL, NULL);
	return failed != 0;
}
