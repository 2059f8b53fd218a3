/* SPDX-License-Identifier: MIT */
/* The crop a cut puts at risk, told from the entry line to the flag. E, its range, s and f of each
 * case were worked out by hand from the picks; the test does the rest:
 *   point = s_mid f_high E, low = s_low f_low E_min, high = min(1, s_high f_high) E_max. */
#include "support/log_case.h"

struct risk_case {
	const char *name;
	const char *lines; /* of a loquat */
	const char *cut;
	double e_kg, e_low_kg, e_high_kg; /* what is left of them, where fruit was picked already */
	double s_low, s_high;
	double f_low, f_high;
	int32_t seasons; /* 0: no figure */
	const char *says;
};

#define IN_OCTOBER "A1 cut shape 20% of crown @ 2026-10-03"
#define P(year, kg) "A1 picked " kg " kg, last @ " year "-05-10|"

/* clang-format off */
static const struct risk_case cases[] = {
	{ "no_picks_no_figure", "", IN_OCTOBER, 0, 0, 0, 0.2, 0.2, 0.5, 1, 0, "not known without picks of yours" },
	{ "no_picks_the_usual_span_in_words", "", IN_OCTOBER, 0, 0, 0, 0.2, 0.2, 0.5, 1, 0, "35 to 300 lb a tree" },
	{ "one_season_is_its_own_range", P("2026", "40"), IN_OCTOBER, 40, 40, 40, 0.2, 0.2, 0.5, 1, 1, "your picks of 1 season)" },
	{ "two_seasons_are_a_mean", P("2025", "30") P("2026", "40"), IN_OCTOBER, 35, 30, 40, 0.2, 0.2, 0.5, 1, 2, "your picks of 2 seasons)" },
	{ "three_seasons_are_a_median", P("2024", "30") P("2025", "44") P("2026", "36"), IN_OCTOBER, 36, 30, 44, 0.2, 0.2, 0.5, 1, 3, "" },
	{ "four_seasons_take_the_middle_two", P("2023", "30") P("2024", "44") P("2025", "36") P("2026", "40"), IN_OCTOBER, 38, 30, 44, 0.2, 0.2, 0.5, 1, 4, "" },
	{ "six_seasons", P("2021", "10") P("2022", "60") P("2023", "20") P("2024", "50") P("2025", "30") P("2026", "40"), IN_OCTOBER, 35, 10, 60, 0.2, 0.2, 0.5, 1, 6, "your picks of 6 seasons)" },
	{ "the_seventh_falls_out", P("2020", "100") P("2021", "10") P("2022", "60") P("2023", "20") P("2024", "50") P("2025", "30") P("2026", "40"), IN_OCTOBER, 35, 10, 60, 0.2, 0.2, 0.5, 1, 6, "" },
	{ "nine_seasons_are_the_last_six", P("2018", "90") P("2019", "90") P("2020", "90") P("2021", "12") P("2022", "13") P("2023", "14") P("2024", "15") P("2025", "16") P("2026", "17"), IN_OCTOBER, 14.5, 12, 17, 0.2, 0.2, 0.5, 1, 6, "" },
	{ "a_year_without_a_record_is_no_zero", P("2023", "30") P("2026", "40"), IN_OCTOBER, 35, 30, 40, 0.2, 0.2, 0.5, 1, 2, "" },
	{ "none_seen_is_a_zero", "A1 picked none @ 2025-05-10|" P("2024", "30") P("2026", "40"), IN_OCTOBER, 30, 0, 40, 0.2, 0.2, 0.5, 1, 3, "" },
	{ "what_was_lost_was_borne", P("2026", "30") "A1 lost 4 kg birds @ 2026-05-08|", IN_OCTOBER, 34, 34, 34, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "picks_of_a_season_add_up", "A1 picked 10 kg @ 2026-04-20|A1 picked 12 kg @ 2026-05-01|" P("2026", "8"), IN_OCTOBER, 30, 30, 30, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "a_range_enters_by_its_middle", P("2026", "30-40"), IN_OCTOBER, 35, 35, 35, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "an_open_amount_enters_by_its_low_end", P("2026", "30+"), IN_OCTOBER, 30, 30, 30, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "a_pick_in_words_has_no_figure", "A1 picked plenty, last @ 2026-05-10|" P("2025", "30"), IN_OCTOBER, 30, 30, 30, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "only_words_no_figure", "A1 picked plenty, last @ 2026-05-10|", IN_OCTOBER, 0, 0, 0, 0.2, 0.2, 0.5, 1, 0, "not known without picks" },
	{ "counts_by_the_almanac_s_fruit_weight_are_an_estimate", "A1 picked 200 fruit, last @ 2026-05-10|", IN_OCTOBER, 7, 7, 7, 0.2, 0.2, 0.5, 1, 1, "an estimate" },
	{ "counts_by_the_tree_s_own_fruit_weight", "A1 picked 40 kg 400 fruit, last @ 2025-05-10|A1 picked 200 fruit, last @ 2026-05-10|", IN_OCTOBER, 30, 20, 40, 0.2, 0.2, 0.5, 1, 2, "your picks of 2 seasons)" },
	{ "the_season_in_progress_is_not_in_it", P("2025", "30") "A1 picked 5 kg @ 2026-04-20|", "A1 cut shape 20% of crown @ 2026-04-21", 25, 25, 25, 0.2, 0.2, 0.5, 1, 1, "with the fruit on it" },
	{ "what_is_picked_already_is_safe", P("2023", "30") P("2024", "40") P("2025", "50") "A1 picked 12 kg @ 2026-04-20|", "A1 cut shape 20% of crown @ 2026-04-21", 28, 18, 38, 0.2, 0.2, 0.5, 1, 3, "" },
	{ "more_picked_than_expected_leaves_nothing", P("2025", "30") "A1 picked 50 kg @ 2026-04-20|", "A1 cut shape 20% of crown @ 2026-04-21", 0, 0, 0, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "a_share_with_two_ends", P("2026", "40"), "A1 cut shape 10-30% of crown @ 2026-10-03", 40, 40, 40, 0.1, 0.3, 0.5, 1, 1, "10 to 30 % of the crown" },
	{ "a_third_of_the_crown", P("2026", "40"), "A1 cut shape a third of crown @ 2026-10-03", 40, 40, 40, 0.333, 0.333, 0.5, 1, 1, "33 % of the crown" },
	{ "the_whole_crown", P("2025", "30") P("2026", "40"), "A1 cut renovation 100% of crown @ 2026-10-03", 35, 30, 40, 1, 1, 0.5, 1, 2, "" },
	{ "two_cuts_of_one_crop_are_joined", P("2026", "40"), "A1 cut shape 20% of crown @ 2026-10-01|A1 cut shape 25% of crown @ 2026-10-03", 40, 40, 40, 0.4, 0.4, 0.5, 1, 1, "40 % of the crown" },
	{ "a_cut_in_its_window_is_not_joined", P("2026", "40"), "A1 cut shape 20% of crown @ 2026-06-20|" IN_OCTOBER, 40, 40, 40, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "a_sucker_cut_is_not_joined", P("2026", "40"), "A1 cut suckers 30% of crown @ 2026-10-01|" IN_OCTOBER, 40, 40, 40, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "august_rows_say_none_to_all", P("2024", "30") P("2025", "44") P("2026", "36"), "A1 cut shape 20% of crown @ 2026-09-10", 36, 30, 44, 0.2, 0.2, 0, 1, 3, "none to" },
	{ "a_share_of_shoots_gives_no_figure", P("2026", "40"), "A1 cut shape 20% of shoots @ 2026-10-03", 0, 0, 0, 0, 0, 0.5, 1, 0, "each tenth of the crown about 8.8 lb" },
	{ "no_share_gives_no_figure", P("2026", "40"), "A1 cut shape @ 2026-10-03", 0, 0, 0, 0, 0, 0.5, 1, 0, "each tenth of the crown" },
	{ "a_bare_share_is_of_the_crown_where_crowns_are_counted", P("2026", "40"), "A1 cut shape 20% @ 2026-10-03", 40, 40, 40, 0.2, 0.2, 0.5, 1, 1, "" },
	{ "pounds_come_out_in_two_figures", "A1 picked 30 lb, last @ 2023-05-10|A1 picked 44 lb, last @ 2024-05-10|A1 picked 36 lb, last @ 2025-05-10|A1 picked 40 lb, last @ 2026-05-10|", IN_OCTOBER, 17.23651, 13.60777, 19.95806, 0.2, 0.2, 0.5, 1, 4, "about 7.6 lb of the 2027 crop (3 to 8.8 lb; 20 % of the crown, your picks of 4 seasons)" },
};
/* clang-format on */

static const struct risk_case *by_name(const char *name)
{
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
		if (strcmp(cases[i].name, name) == 0)
			return &cases[i];
	return NULL;
}

static double least(double a, double b)
{
	return a < b ? a : b;
}

static void check_figures(const struct flag *flag, const struct risk_case *one)
{
	const double mg = 1e6;
	double middle = (one->s_low + one->s_high) / 2;

	check_int(flag->crop_at_risk_mg.known, one->seasons > 0, "is there a figure");
	check_int(flag->seasons, one->seasons, "seasons");
	if (one->says[0] != '\0')
		check_has(flag->says, one->says, "words");
	if (one->seasons == 0)
		return;
	check_close((double)flag->crop_at_risk_mg.value, middle * one->f_high * one->e_kg * mg, 20,
		"point");
	check_close((double)flag->crop_at_risk_low_mg.value,
		one->s_low * one->f_low * one->e_low_kg * mg, 20, "low");
	check_close((double)flag->crop_at_risk_high_mg.value,
		least(1, one->s_high * one->f_high) * one->e_high_kg * mg, 20, "high");
}

static void run_one(const struct log_case *told)
{
	const struct risk_case *one = by_name(told->name);

	for (int south = 0; south < 2; south++) {
		struct garden garden;

		log_case_make(&garden, told, south == 1);
		struct flags flags = log_case_flags(&garden);
		const struct flag *flag = NULL;
		for (int32_t i = 0; i < flags.count; i++) /* the newest of them */
			if (strcmp(flags.items[i].rule, "flower-wood") == 0 &&
				(flag == NULL ||
					flags.items[i].began.value.day >= flag->began.value.day))
				flag = &flags.items[i];
		assert_non_null(flag);
		check_int(flag->urgency, URGENCY_ACT, "urgency");
		check_figures(flag, one);
		garden_free(&garden);
	}
}

static void run_case(const void *row)
{
	const struct risk_case *one = row;
	char lines[2000], today[16];
	const char *day = strrchr(one->cut, '@') + 2;

	snprintf(lines, sizeof lines, "%s%s", one->lines, one->cut);
	snprintf(today, sizeof today, "%.10s", day);
	const struct log_case told = {.name = one->name,
		.place = AT_WET_WINTER,
		.trees = "A1 loquat 2010",
		.lines = lines,
		.today = today};
	run_one(&told);
}

/* --- host and grafts: one cut, one sum --- */

static void check_grafted(
	const char *lines, const char *label, double point_kg, double low_kg, double high_kg)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "H1 loquat 2010",
		.lines = lines,
		.today = "2026-10-05"};
	struct garden garden;

	log_case_make(&garden, &told, false);
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "flower-wood"), 1, "one flag");
	const struct flag *flag = log_case_find(&flags, "flower-wood");
	assert_non_null(flag);
	check_text(flag->label, label, "where it stands");
	check_close((double)flag->crop_at_risk_mg.value, point_kg * 1e6, 20, "point");
	check_close((double)flag->crop_at_risk_low_mg.value, low_kg * 1e6, 20, "low");
	check_close((double)flag->crop_at_risk_high_mg.value, high_kg * 1e6, 20, "high");
	garden_free(&garden);
}

#define GRAFT "H1 grafted Champagne @ 2015-03-10|"
#define HOST_PICKS "H1 picked 10 kg, last @ 2025-05-10|H1 picked 14 kg, last @ 2026-05-10|"
#define GRAFT_PICKS \
	"H1/Champagne picked 4 kg, last @ 2025-05-11|H1/Champagne picked 6 kg, last @ 2026-05-11|"

static void a_cut_on_the_host_adds_up(void **state)
{
	(void)state;
	check_grafted(GRAFT HOST_PICKS GRAFT_PICKS "H1 cut shape 20% of crown @ 2026-10-03", "H1",
		0.2 * (12 + 5), 0.1 * (10 + 4), 0.2 * (14 + 6));
}

static void a_host_without_picks_counts_what_its_graft_gave(void **state)
{
	(void)state;
	check_grafted(GRAFT GRAFT_PICKS "H1 cut shape 20% of crown @ 2026-10-03", "H1", 0.2 * 5,
		0.1 * 4, 0.2 * 6);
}

static void a_cut_that_names_the_graft_is_the_graft_s(void **state)
{
	(void)state;
	check_grafted(GRAFT HOST_PICKS GRAFT_PICKS
		"H1/Champagne cut shape 20% of crown @ 2026-10-03",
		"H1/Champagne", 0.2 * 5, 0.1 * 4, 0.2 * 6);
}

static void a_cut_before_the_grafting_is_not_the_graft_s(void **state)
{
	(void)state;
	check_grafted(HOST_PICKS "H1 grafted Champagne @ 2026-10-04|"
				 "H1 cut shape 20% of crown @ 2026-10-03",
		"H1", 0.2 * 12, 0.1 * 10, 0.2 * 14);
}

int main(void)
{
	const struct CMUnitTest grafts[] = {
		cmocka_unit_test(a_cut_on_the_host_adds_up),
		cmocka_unit_test(a_host_without_picks_counts_what_its_graft_gave),
		cmocka_unit_test(a_cut_that_names_the_graft_is_the_graft_s),
		cmocka_unit_test(a_cut_before_the_grafting_is_not_the_graft_s),
	};
	int failed = RUN_CASES("crop at risk, both sides of the equator", cases, run_case);

	failed += cmocka_run_group_tests_name("host and grafts", grafts, NULL, NULL);
	return failed != 0;
}
