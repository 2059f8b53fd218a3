/* SPDX-License-Identifier: MIT */
/* Rules that do not nag: what keeps them silent, a yard only just typed in, years in which all was
 * done right. */
#include "support/log_case.h"

#include "report/print.h"

/* clang-format off */
static const struct log_case lines[] = {
	{ "a_clear_window_ends_with_this_tree_s_bloom", AT_WET_WINTER, "A1 apple 2012",
	  "A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10|A1 bloom @ 2025-03-15|A1 bloom @ 2026-03-15",
	  "2027-03-10", .rule = "shape-cut-due", .want = "due" },
	{ "without_it_the_almanac_s_day_ends_it", AT_WET_WINTER, "A1 apple 2012",
	  "A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10",
	  "2027-03-10", .rule = "shape-cut-due", .want = "" },
	{ "one_bloom_moves_nothing", AT_WET_WINTER, "A1 apple 2012",
	  "A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10|A1 bloom @ 2026-03-15",
	  "2027-03-10", .rule = "shape-cut-due", .want = "" },
	{ "disease_never_moves_with_bloom", AT_WET_WINTER, "A1 apricot 2012",
	  "A1 bloom @ 2025-04-05|A1 bloom @ 2026-04-05|A1 cut shape 10% of crown @ 2026-04-02",
	  "2026-04-03", .rule = "cut-in-wet-season", .want = "" },
	{ "a_late_apple_is_not_days_off", AT_WET_WINTER, "A1 apple 2012",
	  "A1 picked 9 kg @ 2025-10-28", "2026-07-01", .rule = "pick-soon", .want = "" },
	{ "a_gap_in_the_records_is_not_asked_without_a_habit", AT_WET_WINTER, "A1 apple 2012", "",
	  "2026-11-20", .rule = "pick-unlogged", .want = "" },
	{ "a_fig_is_not_cut_yearly", AT_WET_WINTER, "A1 fig 2012",
	  "A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10",
	  "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "a_tree_left_by_rule_is_not_fed", AT_WET_WINTER, "A1 fig 2012",
	  "A1 fed 1 lb 10-10-10 @ 2024-03-10|A1 fed 1 lb 10-10-10 @ 2025-03-10|A1 cut renovation 60% of crown @ 2026-02-10",
	  "2027-03-10", .rule = "feed-due", .want = "" },
	{ "stakes_now_and_then_are_no_schedule", AT_WET_WINTER, "A1 apple 2012",
	  "A1 fed fruit stakes, now and then @ 2022-05-01|A1 shoots 30 in @ 2026-11-01",
	  "2027-03-10", .rule = "feed-due", .want = "" },
};
/* clang-format on */

/* --- a yard of sixty trees, typed in: labels, kinds, years --- */

static void type_in(struct garden *garden, struct dice *dice)
{
	static const char *const kinds[] = {
		"loquat", "apple", "peach", "apricot", "fig", "lemon", "orange", ""};
	struct place place;

	log_case_place(AT_WET_WINTER, false, &place);
	garden_make_at(garden, &place, "2026-11-24");
	for (int i = 0; i < 60; i++) {
		char label[8], year[8];

		snprintf(label, sizeof label, "%c%d", 'A' + i / 10, i % 10 + 1);
		snprintf(year, sizeof year, "%d", (int)dice_between(dice, 1990, 2026));
		garden_tree(garden, label, kinds[dice_between(dice, 0, 7)], year, "");
	}
}

static int32_t review_lines(struct garden *garden)
{
	struct fault why = {0};
	struct review review = {.count = 0};
	const struct review_options options = {.all = false};
	FILE *stream = tmpfile();
	int32_t count = 0;

	assert_non_null(stream);
	const struct printer printer = {
		.stream = stream, .format = FORMAT_TEXT, .width = 80, .units = UNITS_US};
	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	check_ok(print_review(&printer, &review, garden->yard, false, &why), &why);
	check_int(review.open, 0, "what asks for work");
	rewind(stream);
	for (int byte = fgetc(stream); byte != EOF; byte = fgetc(stream))
		count += byte == '\n';
	fclose(stream);
	return count;
}

static void sixty_trees_typed_in_are_ten_lines_at_most(void **state)
{
	struct dice dice = dice_start();
	struct garden garden;

	(void)state;
	type_in(&garden, &dice);
	for (int month = 1; month <= 12; month++) {
		char today[DATE_SIZE];

		snprintf(today, sizeof today, "2027-%02d-12", month);
		garden_today(&garden, today);
		assert_in_range(review_lines(&garden), 1, 10);
	}
	garden_free(&garden);
}

/* --- years in which all was done right --- */

struct habit {
	const char *kind;
	const char *cut; /* format of the line, with the day last */
	const char *cut_from, *cut_to;
	const char *fed_from, *fed_to;
	const char *pick_from, *pick_to;
};

/* Months for wet winters in the north, read off the sources by hand: well inside each window. */
/* clang-format off */
static const struct habit habits[] = {
	{ "loquat", "cut shape %d%% of crown", "06-18", "07-12", "02-05", "06-25", "04-20", "06-05" },
	{ "apple", "cut shape %d%% of crown", "01-03", "02-25", "02-20", "04-10", "08-05", "10-30" },
	{ "peach", "cut shape 3%d%% of shoots", "01-20", "02-25", "02-20", "04-10", "06-05", "09-20" },
	{ "apricot", "cut shape %d%% of crown", "07-05", "08-25", "02-20", "04-10", "05-10", "06-30" },
	{ "fig", "cut thinning %d%% of crown", "02-05", "03-10", "03-05", "07-10", "06-10", "10-20" },
	{ "lemon", "cut shape %d%% of crown", "03-05", "05-25", "03-05", "06-20", "03-05", "11-30" },
	{ "orange", "cut shape %d%% of crown", "02-20", "05-25", "02-01", "06-20", "11-05", "12-30" },
};
/* clang-format on */
enum { HABITS = sizeof habits / sizeof habits[0], YEARS_LOGS = 9, YEARS = 5, FIRST_YEAR = 2021 };

static void any_day(struct dice *dice, int year, const char *from, const char *to, char *out)
{
	char iso[DATE_SIZE];

	snprintf(iso, sizeof iso, "%d-%s", year, from);
	struct date first = garden_day(iso);
	snprintf(iso, sizeof iso, "%d-%s", year, to);
	int64_t most = date_days_between(first, garden_day(iso));
	date_format(date_add_days(first, (int32_t)dice_between(dice, 0, most)), out);
}

static void log_year(struct garden *garden, struct dice *dice, const char *label,
	const struct habit *habit, int year)
{
	char line[160], verb[60], day[DATE_SIZE];

	if (dice_between(dice, 0, 4) > 0) {
		any_day(dice, year, habit->cut_from, habit->cut_to, day);
		snprintf(verb, sizeof verb, "%s", habit->cut);
		char *share = strstr(verb, "%d");
		*share = (char)('2' + dice_between(dice, 0, 7));
		memmove(share + 1, share + 3, strlen(share + 3) + 1);
		snprintf(line, sizeof line, "%s %s @ %s", label, verb, day);
		garden_log(garden, line);
	}
	if (dice_between(dice, 0, 4) > 0) {
		any_day(dice, year, habit->fed_from, habit->fed_to, day);
		snprintf(line, sizeof line, "%s fed 1 lb 10-10-10 @ %s", label, day);
		garden_log(garden, line);
	}
	for (int64_t picks = dice_between(dice, 0, 3); picks > 0; picks--) {
		any_day(dice, year, habit->pick_from, habit->pick_to, day);
		snprintf(line, sizeof line, "%s picked %d kg @ %s", label,
			(int)dice_between(dice, 1, 30), day);
		garden_log(garden, line);
	}
	if (dice_between(dice, 0, 2) == 0) {
		snprintf(line, sizeof line, "%s cut suckers @ %d-10-10", label, year);
		garden_log(garden, line);
		snprintf(line, sizeof line, "%s cut dead wood 10%% of crown @ %d-12-10", label,
			year);
		garden_log(garden, line);
	}
}

static void quiet_years_raise_no_act(void **state)
{
	struct dice dice = dice_start();
	struct place place;
	struct garden garden;

	dice.state += (uint64_t) * (const int *)*state * 7919;
	log_case_place(AT_WET_WINTER, false, &place);
	garden_make_at(&garden, &place, "2026-12-31");
	for (int i = 0; i < HABITS; i++) {
		char label[8], line[40];

		snprintf(label, sizeof label, "A%d", i + 1);
		garden_tree(&garden, label, habits[i].kind, "2008", "");
		snprintf(line, sizeof line, "%s girth 60 cm @ 2021-01-01", label);
		garden_log(&garden, line);
		for (int year = FIRST_YEAR; year < FIRST_YEAR + YEARS; year++)
			log_year(&garden, &dice, label, &habits[i], year);
	}
	struct date day = garden_day("2021-01-05");
	for (; date_compare(day, garden_day("2026-01-20")) < 0; day = date_add_days(day, 19)) {
		char iso[DATE_SIZE];

		garden_today(&garden, date_format(day, iso));
		struct flags flags = log_case_flags(&garden);
		for (int32_t f = 0; f < flags.count; f++) {
			if (flags.items[f].urgency != URGENCY_ACT)
				continue;
			print_error("%s %s: %s %s\n", iso, flags.items[f].label,
				flags.items[f].says, dice_remark());
			fail();
		}
	}
	garden_free(&garden);
}

/* --- words --- */

static void the_word_overdue_stands_nowhere(void **state)
{
	const char *arguments[] = {"grep", "-rilE", "over[-]?due", "src", "share", "man", NULL};

	(void)state;
	struct spawned found = command_run(NULL, arguments);
	check_text(found.out, "", "files that say it");
	check_int(found.status, 1, found.err);
	free(found.out);
	free(found.err);
}

int main(void)
{
	static int logs[YEARS_LOGS];
	struct CMUnitTest years[YEARS_LOGS];
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(sixty_trees_typed_in_are_ten_lines_at_most),
		cmocka_unit_test(the_word_overdue_stands_nowhere),
	};
	int failed = LOG_CASES("silence", lines);

	for (int i = 0; i < YEARS_LOGS; i++) {
		logs[i] = i;
		years[i] = (struct CMUnitTest){.name = "quiet_years_raise_no_act",
			.test_func = quiet_years_raise_no_act,
			.initial_state = &logs[i]};
	}
	failed += cmocka_run_group_tests_name("yards", tests, NULL, NULL);
	failed += cmocka_run_group_tests_name("years", years, NULL, NULL);
	return failed != 0;
}
