/* SPDX-License-Identifier: MIT */
/* What is shown of the saw: a tree's own last pick ends the weeks to leave it, in the words of
 * the yard as in the flags. */
#include "support/log_case.h"

#include "rules/rule.h"
#include "rules/saw.h"

struct saw_case {
	const char *name;
	const char *lines;
	const char *day;  /* seen from 10 June, in the south from 10 December */
	const char *says; /* "avoid", "clear", "allowed", "" */
	enum basis basis;
	bool south;
};

/* clang-format off */
#define LAST "A1 picked 5 kg @ 2026-04-20|A1 picked 5 kg, last @ 2026-05-01"
static const struct saw_case cases[] = {
	{ "fruit_that_hangs_keeps_the_saw_away", "A1 picked 5 kg @ 2026-04-20", "2026-04-24", "avoid", BASIS_ALMANAC, false },
	{ "the_last_pick_ends_it", LAST, "2026-05-20", "", BASIS_LEARNED, false },
	{ "on_the_day_of_the_last_pick", LAST, "2026-05-01", "", BASIS_LEARNED, false },
	{ "the_day_before_it_fruit_hangs", LAST, "2026-04-30", "avoid", BASIS_ALMANAC, false },
	{ "after_the_harvest_it_is_clear", LAST, "2026-06-20", "clear", BASIS_ALMANAC, false },
	{ "fruit_that_hangs_in_the_south", "A1 picked 5 kg @ 2026-04-20", "2026-04-24", "avoid", BASIS_ALMANAC, true },
	{ "the_last_pick_ends_it_in_the_south", LAST, "2026-05-20", "", BASIS_LEARNED, true },
};
/* clang-format on */

static void make(struct garden *garden, const char *lines, const char *today, bool south)
{
	const struct log_case one = {.name = "saw",
		.place = AT_WET_WINTER,
		.trees = "A1 loquat 2010",
		.lines = lines,
		.today = today};
	log_case_make(garden, &one, south);
}

static void check_case(void **state)
{
	static const char *const words[] = {[VERDICT_CLEAR] = "clear",
		[VERDICT_ALLOWED] = "allowed",
		[VERDICT_AVOID] = "avoid"};
	const struct saw_case *one = *state;
	struct garden garden;
	char turned[16];
	make(&garden, one->lines, "2026-06-10", one->south);
	log_case_turn(one->day, one->south, turned, sizeof turned);
	struct saw_day day = saw_on(garden_story(&garden, "A1"), garden_day(turned));
	check_text(day.known ? words[day.verdict] : "", one->says, one->name);
	if (day.known)
		check_int(day.basis, one->basis, "basis");
	garden_free(&garden);
}

/* The span ends the day before the last pick, and says that this is the tree's own day. */
static void a_span_ends_with_the_tree_s_own_last_pick(void **state)
{
	struct garden garden;
	(void)state;
	make(&garden, LAST, "2026-06-10", false);
	struct saw_span span =
		saw_span_at(garden_story(&garden, "A1"), VERDICT_AVOID, garden_day("2026-04-25"));
	assert_true(span.known && !span.all_year);
	check_int(span.to.day, garden_day("2026-04-30").day, "the day before the last pick");
	check_int(span.basis, BASIS_LEARNED, "its own days");
	garden_free(&garden);
}

/* For each day of a year: what is shown, and what the rule says of such a cut on it. */
static void every_day_the_words_and_the_rule_agree(void **state)
{
	struct garden garden;
	(void)state;
	make(&garden, LAST, "2026-11-24", false);
	const struct dossier *dossier = garden_story(&garden, "A1");
	int32_t avoided = 0;
	for (int32_t at = 0; at < 366; at++) {
		struct date day = date_add_days(garden_day("2026-01-01"), at);
		struct entry cut = {.kind = KIND_CUT, .day = date_span_of(day)};
		const struct cut_row *row = NULL;
		struct saw_day here = saw_on(dossier, day);
		if (!rule_cut_cost_crop(dossier, &cut, &row))
			continue;
		avoided++;
		check_int(here.known && here.verdict == VERDICT_AVOID, 1, "the same");
	}
	assert_in_range(avoided, 60, 330);
	garden_free(&garden);
}

int main(void)
{
	enum { COUNT = sizeof cases / sizeof cases[0] };
	struct CMUnitTest tests[COUNT + 2];
	for (size_t i = 0; i < COUNT; i++)
		tests[i] = (struct CMUnitTest){.name = cases[i].name,
			.test_func = check_case,
			.initial_state = (void *)(uintptr_t)&cases[i]};
	tests[COUNT] =
		(struct CMUnitTest)cmocka_unit_test(a_span_ends_with_the_tree_s_own_last_pick);
	tests[COUNT + 1] =
		(struct CMUnitTest)cmocka_unit_test(every_day_the_words_and_the_rule_agree);
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	return failed != 0;
}
