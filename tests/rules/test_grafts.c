/* SPDX-License-Identifier: MIT */
/* graft-check, seed-drying. */
#include "support/log_case.h"

#define CHECK .rule = "graft-check"
#define SEEDS .rule = "seed-drying"
#define APPLE "A1 apple 2012"
#define GRAFTED "A1 grafted Fuji whip @ 2026-03-03|"

/* clang-format off */
static const struct log_case grafts[] = {
	{ "four_weeks_on_it_is_to_be_looked_at", AT_COOL, APPLE, GRAFTED, "2026-03-31", CHECK, .want = "due", .says = {"A1/Fuji", "whether it took", "loosen ties"}, .once = true },
	{ "the_day_before_silence", AT_COOL, APPLE, GRAFTED, "2026-03-30", CHECK, .want = "" },
	{ "eight_weeks_on_still", AT_COOL, APPLE, GRAFTED, "2026-04-28", CHECK, .want = "due" },
	{ "then_silence", AT_COOL, APPLE, GRAFTED, "2026-04-29", CHECK, .want = "", .once = true },
	{ "what_was_seen_of_it_settles_it", AT_COOL, APPLE, GRAFTED "A1/Fuji saw two buds growing @ 2026-04-02", "2026-04-10", CHECK, .want = "" },
	{ "a_measure_settles_it", AT_COOL, APPLE, GRAFTED "A1/Fuji shoots 10 cm @ 2026-04-02", "2026-04-10", CHECK, .want = "" },
	{ "a_stage_settles_it", AT_COOL, APPLE, GRAFTED "A1/Fuji bud burst @ 2026-04-02", "2026-04-10", CHECK, .want = "" },
	{ "a_look_before_the_fortnight_before_does_not", AT_COOL, APPLE, GRAFTED "A1/Fuji note waxed again @ 2026-03-10", "2026-04-10", CHECK, .want = "due" },
	{ "a_note_at_the_host_that_speaks_of_grafts", AT_COOL, APPLE, GRAFTED "A1 note grafts all growing, ties cut @ 2026-04-02", "2026-04-10", CHECK, .want = "" },
	{ "a_note_at_the_host_of_something_else", AT_COOL, APPLE, GRAFTED "A1 note mown round it @ 2026-04-02", "2026-04-10", CHECK, .want = "due" },
	{ "its_removal_settles_it", AT_COOL, APPLE, GRAFTED "A1/Fuji died did not take @ 2026-04-02", "2026-04-10", CHECK, .want = "" },
	{ "grafts_of_one_day_are_one_piece_of_work", AT_COOL, APPLE, GRAFTED "A1 grafted Gala whip @ 2026-03-03", "2026-04-10", CHECK, .want = "due", .says = {"A1/Fuji, A1/Gala", "whether they took"} },
	{ "of_two_the_one_not_looked_at_is_named", AT_COOL, APPLE, GRAFTED "A1 grafted Gala whip @ 2026-03-03|A1/Fuji saw growing @ 2026-04-02", "2026-04-10", CHECK, .want = "due", .says = {"(A1/Gala)"} },
	{ "grafts_of_two_days_are_two", AT_COOL, APPLE, GRAFTED "A1 grafted Gala whip @ 2026-03-10", "2026-04-10", CHECK, .want = "due due" },
	{ "a_graft_of_a_month_has_no_week", AT_COOL, APPLE, "A1 grafted Fuji whip @ 2026-03|", "2026-04-10", CHECK, .want = "" },
	{ "an_unknown_kind_is_silent", AT_NOWHERE, "A1 - 2012", GRAFTED, "2026-04-10", CHECK, .want = "", .once = true },
};

#define TOOK "A1 note took 12 seeds from the best fruit @ 2026-05-10|"
static const struct log_case seeds[] = {
	{ "seeds_taken_must_not_dry", AT_WET_WINTER, "A1 loquat 2012", TOOK, "2026-05-12", SEEDS, .want = "note", .says = {"must not dry", "keep them moist and cool"} },
	{ "on_the_day_itself", AT_WET_WINTER, "A1 loquat 2012", TOOK, "2026-05-10", SEEDS, .want = "note" },
	{ "after_thirty_days_still", AT_WET_WINTER, "A1 loquat 2012", TOOK, "2026-06-09", SEEDS, .want = "note", .once = true },
	{ "then_silence", AT_WET_WINTER, "A1 loquat 2012", TOOK, "2026-06-10", SEEDS, .want = "", .once = true },
	{ "a_sowing_that_names_the_tree_settles_it", AT_WET_WINTER, "A1 loquat 2012; B1 fig 2012", TOOK "B1 sowed 12 seeds of A1 @ 2026-05-11", "2026-05-12", SEEDS, .want = "" },
	{ "a_sowing_that_names_the_kind_settles_it", AT_WET_WINTER, "A1 loquat 2012; B1 fig 2012", TOOK "B1 sowed 12 seeds of loquat @ 2026-05-11", "2026-05-12", SEEDS, .want = "" },
	{ "a_sowing_of_another_tree_does_not", AT_WET_WINTER, "A1 loquat 2012; A2 fig 2012", TOOK "A2 sowed 12 seeds of A2 @ 2026-05-11", "2026-05-12", SEEDS, .want = "note" },
	{ "a_sowing_at_the_tree_itself", AT_WET_WINTER, "A1 loquat 2012", TOOK "A1 sowed 12 seeds @ 2026-05-11", "2026-05-12", SEEDS, .want = "" },
	{ "a_sowing_before_does_not", AT_WET_WINTER, "A1 loquat 2012", TOOK "A1 sowed 12 seeds @ 2026-05-09", "2026-05-12", SEEDS, .want = "note" },
	{ "said_in_the_note_of_a_pick", AT_WET_WINTER, "A1 avocado 2012", "A1 picked 3 kg @ 2026-05-10 ; saved the seeds for sowing", "2026-05-12", SEEDS, .want = "note", .says = {"dry seed is dead"} },
	{ "seeds_of_a_kind_that_may_dry", AT_WET_WINTER, "A1 peach 2012", TOOK, "2026-05-12", SEEDS, .want = "" },
	{ "seedlings_are_no_seeds", AT_WET_WINTER, "A1 loquat 2012", "A1 note took 2 seedlings out of the bed @ 2026-05-10", "2026-05-12", SEEDS, .want = "" },
	{ "an_unknown_kind_is_silent", AT_NOWHERE, "A1 - 2012", TOOK, "2026-05-12", SEEDS, .want = "", .once = true },
};
/* clang-format on */

static void a_sowing_in_a_spot_settles_the_seeds_of_the_tree_it_names(void **state)
{
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 loquat 2012; B1 fig 2015",
		.lines = TOOK,
		.today = "2026-05-12"};
	struct garden garden;
	struct fault why = {0};
	struct spot spot = {.name = "bench"};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(store_act_begin(garden.store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_add(garden.store, &spot, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct flags before = log_case_flags(&garden);
	check_int(log_case_count(&before, "seed-drying"), 1, "before");
	garden_log(&garden, "spot bench sowed 12 seeds of A1 @ 2026-05-11");
	struct flags after = log_case_flags(&garden);
	check_int(log_case_count(&after, "seed-drying"), 0, "after");
	garden_free(&garden);
}

static void what_is_tried_as_a_sowing_would_settle_it(void **state)
{
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 loquat 2012",
		.lines = TOOK,
		.today = "2026-05-12"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_try(&garden, "A1", "A1 sowed 12 seeds");
	check_int(log_case_count(&flags, "seed-drying"), 0, "with the sowing");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_sowing_in_a_spot_settles_the_seeds_of_the_tree_it_names),
		cmocka_unit_test(what_is_tried_as_a_sowing_would_settle_it),
	};
	int failed = LOG_CASES("graft-check", grafts);

	failed += LOG_CASES("seed-drying", seeds);
	failed += cmocka_run_group_tests_name("sowings", tests, NULL, NULL);
	return failed != 0;
}
