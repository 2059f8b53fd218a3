/* SPDX-License-Identifier: MIT */
/* feed-young-hole, old-orchard-soil. */
#include "support/log_case.h"

#define FEED .rule = "feed-young-hole"
#define SOIL .rule = "old-orchard-soil"
#define PEACH "A1 peach 2026-02-10"

/* clang-format off */
static const struct log_case feeds[] = {
	{ "feed_in_the_hole_is_an_act_while_water_helps", AT_WET_WINTER, PEACH, "A1 fed 1/2 lb 10-10-10 in the planting hole @ 2026-02-10", "2026-02-12", FEED, .want = "act", .says = {"went into the planting hole", "Water deeply", "label comes first"} },
	{ "on_the_twenty_first_day_still", AT_WET_WINTER, PEACH, "A1 fed 1/2 lb 10-10-10 in the planting hole @ 2026-02-10", "2026-03-03", FEED, .want = "act", .once = true },
	{ "then_a_note", AT_WET_WINTER, PEACH, "A1 fed 1/2 lb 10-10-10 in the planting hole @ 2026-02-10", "2026-03-04", FEED, .want = "note", .once = true },
	{ "half_a_year_on_silence", AT_WET_WINTER, PEACH, "A1 fed 1/2 lb 10-10-10 in the planting hole @ 2026-02-10", "2026-08-14", FEED, .want = "" },
	{ "told_in_the_line_of_the_planting", AT_WET_WINTER, "A1 peach -", "A1 planted bare root @ 2026-02-10 ; fertilizer in the hole", "2026-02-12", FEED, .want = "act" },
	{ "compost_in_the_hole_burns_nothing", AT_WET_WINTER, PEACH, "A1 fed compost in the planting hole @ 2026-02-10", "2026-02-12", FEED, .want = "" },
	{ "in_the_first_year_sources_differ_and_both_are_named", AT_WET_WINTER, PEACH, "A1 fed 1/2 lb 10-10-10 @ 2026-04-10", "2026-04-12", FEED, .want = "note", .says = {"Sources differ: none in the year of planting (Arizona)", "(Maryland)", "own choice feed-young-hole"} },
	{ "where_one_source_speaks_it_alone_is_named", AT_WET_WINTER, "A1 apple 2026-02-10", "A1 fed 1/2 lb 10-10-10 @ 2026-04-10", "2026-04-12", FEED, .want = "note", .says = {"Published: none in the year of planting (Arizona)"} },
	{ "a_year_after_planting_it_is_plain", AT_WET_WINTER, PEACH, "A1 fed 1/2 lb 10-10-10 @ 2027-02-10", "2027-02-12", FEED, .want = "" },
	{ "the_last_day_of_the_weeks", AT_WET_WINTER, PEACH, "A1 fed 1/2 lb 10-10-10 @ 2027-02-08", "2027-02-12", FEED, .want = "note" },
	{ "citrus_is_fed_in_its_first_year", AT_WET_WINTER, "A1 orange 2026-02-10", "A1 fed 1 oz 10-10-10 @ 2026-04-10", "2026-04-12", FEED, .want = "" },
	{ "hazels_for_the_first_weeks", AT_COOL, "A1 hazelnut 2026-02-10", "A1 fed 1 oz 10-10-10 @ 2026-03-10", "2026-03-12", FEED, .want = "note", .says = {"killed young hybrid plants"} },
	{ "and_no_longer", AT_COOL, "A1 hazelnut 2026-02-10", "A1 fed 1 oz 10-10-10 @ 2026-05-10", "2026-05-12", FEED, .want = "" },
	{ "a_planting_year_counts_from_its_first_day", AT_WET_WINTER, "A1 peach 2025", "A1 fed 1/2 lb 10-10-10 @ 2026-01-10", "2026-01-12", FEED, .want = "", .once = true },
	{ "no_planting_day_no_word", AT_WET_WINTER, "A1 peach -", "A1 fed 1/2 lb 10-10-10 @ 2026-04-10", "2026-04-12", FEED, .want = "" },
	{ "an_unknown_kind_is_silent", AT_NOWHERE, "A1 - 2026-02-10", "A1 fed 1/2 lb 10-10-10 @ 2026-04-10", "2026-04-12", FEED, .want = "", .once = true },
	{ "two_feeds_are_one_cause", AT_WET_WINTER, PEACH, "A1 fed 1/4 lb 10-10-10 @ 2026-04-10|A1 fed 1/4 lb 10-10-10 @ 2026-05-10", "2026-05-12", FEED, .want = "note" },
};

static const struct log_case land[] = {
	{ "old_orchard_land_wants_a_soil_test", AT_COOL, "A1 apple 2026", "A1 note this was an old orchard, say the neighbours @ 2026-03-10", "2026-04-10", SOIL, .want = "note", .says = {"old orchard land", "lead and arsenic"} },
	{ "a_soil_test_settles_it", AT_COOL, "A1 apple 2026", "A1 note old orchard land @ 2026-03-10|A1 soil test lead and arsenic low @ 2026-03-20", "2026-04-10", SOIL, .want = "" },
	{ "a_soil_test_before_it_was_known_does_not", AT_COOL, "A1 apple 2026", "A1 soil test ph 6.5 @ 2026-03-02|A1 note old orchard land @ 2026-03-10", "2026-04-10", SOIL, .want = "note" },
	{ "no_word_of_an_orchard_no_word", AT_COOL, "A1 apple 2026", "A1 note planted in the lawn @ 2026-03-10", "2026-04-10", SOIL, .want = "" },
};
/* clang-format on */

/* --- who stood there before --- */

struct tenant_case {
	const char *name;
	const char *before, *gone;
	const char *now, *planted;
	const char *today;
	bool flagged;
	bool south;
};
/* clang-format off */
static const struct tenant_case tenants[] = {
	{ "an_apple_where_an_apple_died", "apple", "2024-05-01", "apple", "2025-02-01", "2026-06-01", true, false },
	{ "a_pear_where_an_apple_died_is_of_the_same_group", "apple", "2024-05-01", "european_pear", "2025-02-01", "2026-06-01", true, false },
	{ "a_peach_where_an_apple_died_is_not", "apple", "2024-05-01", "peach", "2025-02-01", "2026-06-01", false, false },
	{ "the_last_day_of_two_years", "apple", "2024-05-01", "apple", "2025-02-01", "2027-01-31", true, false },
	{ "then_silence", "apple", "2024-05-01", "apple", "2025-02-01", "2027-02-01", false, false },
	{ "a_kind_without_a_source_is_silent", "fig", "2024-05-01", "fig", "2025-02-01", "2026-06-01", false, false },
	{ "an_unknown_one_before_is_not_judged", "", "2024-05-01", "apple", "2025-02-01", "2026-06-01", false, false },
	{ "in_the_south_as_in_the_north", "apple", "2024-11-01", "apple", "2025-08-01", "2026-12-01", true, true },
};
/* clang-format on */

static void check_tenant(void **state)
{
	const struct tenant_case *one = *state;
	struct garden garden;
	struct place place;
	char line[80];

	log_case_place(AT_COOL, one->south, &place);
	garden_make_at(&garden, &place, one->today);
	garden_tree(&garden, "A1", one->before, "2000", "hole");
	snprintf(line, sizeof line, "A1 died canker @ %s", one->gone);
	garden_log(&garden, line);
	garden_tree(&garden, "A2", one->now, one->planted, "hole");
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "old-orchard-soil"), one->flagged ? 1 : 0, one->name);
	if (one->flagged)
		check_has(log_case_find(&flags, "old-orchard-soil")->says,
			"A1 (apple) stood in this place until", one->name);
	garden_free(&garden);
}

static void no_feed_is_due_in_the_year_that_a_source_gives_none(void **state)
{
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 peach 2026-02-10; A2 peach 2025-02-10",
		.lines = "A1 watered 5 gal @ 2026-02-12|A2 watered 5 gal @ 2026-02-12",
		.today = "2026-03-10"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "feed-due"), 1, "the older one's");
	check_text(log_case_find(&flags, "feed-due")->label, "A2", "whose");
	garden_free(&garden);
}

static void the_source_followed_here_decides_the_first_year(void **state)
{
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = PEACH,
		.lines = "A1 fed 1/2 lb 10-10-10 @ 2026-04-10",
		.today = "2026-04-12"};
	struct choice choice = {.rule = "feed-young-hole", .source = "umd-stone"};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(store_act_begin(garden.store, ACT_WORK, "choice", &why), &why);
	check_ok(store_choice_add(garden.store, &choice, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "feed-young-hole"), 0, "Maryland gives a token");
	garden_free(&garden);
}

int main(void)
{
	enum { TENANTS = sizeof tenants / sizeof tenants[0] };
	struct CMUnitTest tests[TENANTS + 2];

	for (size_t i = 0; i < TENANTS; i++)
		tests[i] = (struct CMUnitTest){.name = tenants[i].name,
			.test_func = check_tenant,
			.initial_state = (void *)(uintptr_t)&tenants[i]};
	tests[TENANTS] = (struct CMUnitTest)cmocka_unit_test(
		the_source_followed_here_decides_the_first_year);
	tests[TENANTS + 1] = (struct CMUnitTest)cmocka_unit_test(
		no_feed_is_due_in_the_year_that_a_source_gives_none);
	int failed = LOG_CASES("feed-young-hole", feeds);

	failed += LOG_CASES("old-orchard-soil", land);
	failed += cmocka_run_group_tests_name("who stood there before", tests, NULL, NULL);
	return failed != 0;
}
