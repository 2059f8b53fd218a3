/* SPDX-License-Identifier: MIT */
/* The season tree by tree, its sums by kind, and a crop in words. */
#include "report/season_report.h"

#include "support/garden.h"

static struct season_report season_of(struct garden *garden, int32_t year)
{
	struct season_report report;
	struct season_options options = {.year = known_i32(year)};
	struct fault why = {0};
	check_ok(season_report_make(garden->yard, &options, garden->arena, &report, &why), &why);
	return report;
}

static const struct season_line *line_of(const struct season_report *report, const char *label)
{
	for (int32_t i = 0; i < report->count; i++)
		if (strcmp(report->lines[i].subject.label, label) == 0)
			return &report->lines[i];
	fail_msg("no line for %s", label);
	return NULL;
}

static void make_three_apples(struct garden *garden)
{
	garden_make(garden, "2026-09-20");
	garden_tree(garden, "A1", "apple", "2014", "A1");
	garden_tree(garden, "A2", "apple", "2014", "A2");
	garden_tree(garden, "A3", "apple", "2014", "A3");
	garden_log(garden, "A1 picked last 40 lb @ 2026-09-01");
	garden_log(garden, "A2 picked last 20 lb @ 2026-09-02");
	garden_log(garden, "A3 picked 6 lb @ 2026-09-10");
}

static void a_crop_in_progress_is_summed_but_not_averaged(void **state)
{
	(void)state;
	struct garden garden;
	make_three_apples(&garden);
	struct season_report report = season_of(&garden, 2026);
	check_int(line_of(&report, "A3")->season.state, SEASON_IN_PROGRESS, "A3 goes on");
	check_int(report.total_count, 1, "kinds");
	check_int(report.totals[0].trees, 3, "trees");
	check_int(report.totals[0].picked.low, INT64_C(29937096), "66 lb in all");
	check_int(report.totals[0].with_figure, 2, "two are over");
	check_int(report.totals[0].mean_mg.value, INT64_C(13607771), "30 lb a tree");
	garden_free(&garden);
}

static void none_seen_is_a_zero_of_the_mean(void **state)
{
	(void)state;
	struct garden garden;
	make_three_apples(&garden);
	garden_log(&garden, "A2 picked none @ 2025-11-20");
	garden_log(&garden, "A1 picked 10 lb @ 2025-09-20");
	struct season_report report = season_of(&garden, 2025);
	check_int(report.totals[0].with_figure, 2, "the zero counts, the gap does not");
	check_int(report.totals[0].mean_mg.value, INT64_C(2267962), "5 lb a tree");
	garden_free(&garden);
}

static void a_kind_with_nothing_over_has_no_mean(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-09-20");
	garden_tree(&garden, "A3", "apple", "2014", "A3");
	garden_log(&garden, "A3 picked 6 lb @ 2026-09-10");
	struct season_report report = season_of(&garden, 2026);
	assert_false(report.totals[0].mean_mg.known);
	check_int(report.totals[0].with_figure, 0, "none");
	garden_free(&garden);
}

struct sum_case {
	const char *name;
	struct amount_sum sum;
	int32_t unweighed;
	const char *want;
};

/* Milligrams: a pound is 453,592. */
/* clang-format off */
static const struct sum_case sums[] = {
	{"nothing", {0}, 0, ""},
	{"exact", {.low = 4535924, .high = 4535924, .parts = 1}, 0, "10 lb"},
	{"about", {.low = 4535924, .high = 4535924, .parts = 1, .about = true}, 0, "~10 lb"},
	{"a range by its middle", {.low = 3628739, .high = 5443108, .parts = 1, .about = true}, 0, "~10 lb"},
	{"open at the top", {.low = 4535924, .high_open = true, .parts = 1, .about = true}, 0, "10 lb or more"},
	{"some not weighed", {.low = 4535924, .high = 4535924, .parts = 1}, 2, "10 lb +2 not weighed"},
	{"none weighed", {0}, 3, "3 not weighed"},
};
/* clang-format on */

static void check_sum(void **state)
{
	const struct sum_case *row = *state;
	char out[96];
	check_text(season_sum_words(&row->sum, row->unweighed, UNITS_US, out, sizeof out),
		row->want, row->name);
}

static void make_apple(struct garden *garden, const char *today)
{
	garden_make(garden, today);
	garden_tree(garden, "A1", "apple", "2014", "A1");
}

static void check_words(struct garden *garden, int32_t year, const char *want)
{
	char words[400];
	struct season_report report = season_of(garden, year);
	check_text(season_line_words(line_of(&report, "A1"), UNITS_US, words, sizeof words), want,
		"words");
}

static void words_of_a_line_name_what_is_known(void **state)
{
	(void)state;
	struct garden garden;
	make_apple(&garden, "2026-09-20");
	garden_log(&garden, "A1 picked 40 lb 80 fruit @ 2026-08-20");
	garden_log(&garden, "A1 picked last 10 lb 20 fruit @ 2026-09-01");
	garden_log(&garden, "A1 lost 4 lb birds @ 2026-09-02");
	check_words(&garden, 2026,
		"100 fruit; 8 oz a fruit; lost 4 lb of 54 lb borne; first pick 20 August 2026; "
		"last 1 September 2026");
	check_words(&garden, 2024, "");
	garden_free(&garden);
}

/* 40 10 35 12 38: the indices are those worked out by hand in the tests of reckon. */
static void seasons_of_one_are_summed_up(void **state)
{
	static const int pounds[] = {40, 10, 35, 12, 38};
	(void)state;
	struct garden garden;
	const char *said[SEASON_PAST_MAX];
	char line[80];
	garden_make(&garden, "2026-12-20");
	const struct tree tree = garden_tree(&garden, "A1", "apple", "2014", "A1");
	const struct season_options options = {.tree_id = tree.id};
	for (int i = 0; i < 5; i++) {
		snprintf(line, sizeof line, "A1 picked last %d lb @ %d-09-20", pounds[i], 2022 + i);
		garden_log(&garden, line);
	}
	struct season_report report;
	struct fault why;
	check_ok(season_report_make(garden.yard, &options, garden.arena, &report, &why), &why);
	const int32_t count =
		season_past_words(report.lines, report.count, UNITS_US, garden.arena, said);
	check_int(count, 4, "sentences");
	check_text(said[0], "Picked, over 5 seasons: mean 27 lb, median 35 lb, CV 55 %", "middle");
	check_text(said[1], "Trend: level (Theil-Sen, 10 pairs of seasons)", "trend");
	check_has(said[2], "4 pairs", "pairs");
	check_has(said[2], "0.54 by the mean of ratios", "ratios");
	check_has(said[2], "0.54 by the ratio of sums", "sums");
	check_has(said[2], "0.96 by the mean yield", "mean");
	check_has(said[3], "On years: 2022, 2024, 2026; off years: 2023, 2025 ", "on and off");
	check_int(season_past_words(report.lines, 2, UNITS_US, garden.arena, said), 2,
		"two seasons: no trend, no on or off");
	check_int(season_past_words(report.lines, 1, UNITS_US, garden.arena, said), 0, "one");
	garden_free(&garden);
}

static void a_fruit_weighs_what_counted_picks_weighed(void **state)
{
	(void)state;
	struct garden garden;
	make_apple(&garden, "2026-09-20");
	garden_log(&garden, "A1 picked 40 lb 80 fruit @ 2026-08-20");
	garden_log(&garden, "A1 picked 35 lb @ 2026-08-27");
	garden_log(&garden, "A1 picked last 12 fruit @ 2026-09-01");
	check_words(&garden, 2026,
		"92 fruit counted, in 2 of 3 picks; 8 oz a fruit; first pick 20 August 2026; last "
		"1 September 2026");
	garden_free(&garden);
}

/* A total of all of a kind is in the kind's sum and in no tree's row; it raises no mean. */
static void a_total_of_several_trees_counts_once_in_the_sum_of_its_kind(void **state)
{
	(void)state;
	struct garden garden;
	make_three_apples(&garden);
	garden_log(&garden, "all apples picked 100 lb total @ 2026-09-05");
	struct season_report report = season_of(&garden, 2026);
	check_int(report.count, 3, "a row each");
	check_int(report.total_count, 1, "kinds");
	check_int(report.totals[0].trees, 3, "trees");
	check_int(report.totals[0].picked.low, INT64_C(29937096) + INT64_C(45359237), "166 lb");
	check_int(report.totals[0].pooled.low, INT64_C(45359237), "of it 100 lb together");
	check_int(report.totals[0].mean_mg.value, INT64_C(13607771), "30 lb a tree still");
	check_int(season_of(&garden, 2025).total_count, 1, "the year before");
	check_int(season_of(&garden, 2025).totals[0].picked.parts, 0, "has nothing of it");
	garden_free(&garden);
}

int main(void)
{
	enum { SUMS = sizeof sums / sizeof sums[0] };
	struct CMUnitTest tests[SUMS + 7] = {
		cmocka_unit_test(a_crop_in_progress_is_summed_but_not_averaged),
		cmocka_unit_test(none_seen_is_a_zero_of_the_mean),
		cmocka_unit_test(a_total_of_several_trees_counts_once_in_the_sum_of_its_kind),
		cmocka_unit_test(a_kind_with_nothing_over_has_no_mean),
		cmocka_unit_test(words_of_a_line_name_what_is_known),
		cmocka_unit_test(seasons_of_one_are_summed_up),
		cmocka_unit_test(a_fruit_weighs_what_counted_picks_weighed),
	};
	for (size_t i = 0; i < SUMS; i++)
		tests[7 + i] = (struct CMUnitTest){.name = sums[i].name,
			.test_func = check_sum,
			.initial_state = (void *)(uintptr_t)&sums[i]};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
