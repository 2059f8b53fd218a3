/* SPDX-License-Identifier: MIT */
/* Crops, and crops that did not come, as growers told them: each with what a good answer says and
 * what it must not. The yards are invented. */
#include "support/told.h"

/* --- a mandarin in south Louisiana, planted 2003: hundreds in even years, barely a dozen in odd
 * ones; in spring of an odd year its flowers vanished --- */

static void hundreds_and_a_dozen(struct garden *garden, const char *today)
{
	told(garden, AT_HUMID, "A1 mandarin 2003",
		"A1 picked hundreds @ season 2010/11|A1 picked ~12 fruit @ season 2011/12|"
		"A1 picked hundreds @ season 2012/13|A1 picked barely a dozen @ season 2013/14|"
		"A1 picked hundreds @ season 2014/15",
		today);
}

static void hundreds_is_at_least_200_and_barely_a_dozen_about_12(void **state)
{
	struct garden garden;
	hundreds_and_a_dozen(&garden, "2015-07-15");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct amount *count = entry_amount(dossier->entries[i], FIELD_COUNT);

		assert_non_null(count);
		if (strstr(dossier->entries[i]->words, "hundreds") != NULL) {
			check_int(count->low.value, 200000, "at least 200");
			assert_false(count->high.known); /* no top */
		} else {
			check_int(count->low.value, 12000, "a dozen");
			assert_true(count->about);
		}
	}
	garden_free(&garden);
}

static void vague_counts_still_give_an_index(void **state)
{
	struct garden garden;
	hundreds_and_a_dozen(&garden, "2015-07-15");
	struct season_report report = told_seasons(&garden, "A1");
	const struct season_line *line = told_year(&report, 2014);

	(void)state;
	assert_non_null(line);
	check_int(line->alternation.pairs, 4, "pairs");
	check_close(line->alternation.index, (200.0 - 12) / (200 + 12), 0.005, "index");
	check_has(told_season(&garden, "A1"), "alternation 0.89 (mean of ratios, 4 pairs)",
		"printed");
	garden_free(&garden);
}

/* The next heavy year is named, the light one asks for nothing; thinning goes by the size of the
 * fruit, not by a date. */
static void five_years_of_turns_name_the_next_heavy_one(void **state)
{
	struct garden garden;
	hundreds_and_a_dozen(&garden, "2015-07-15");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "alternate-off");

	(void)state;
	assert_non_null(flag);
	check_has(flag->says, "2015/16 is likely a light year", "the year to come");
	check_has(flag->says, "5 seasons", "how many it rests on");
	check_has(flag->action, "Nothing to thin", "the light year");
	check_has(flag->action, "2016/17", "the next heavy one");
	check_silent(&flags, "alternate-on");
	check_silent(&flags, "thin-due");
	garden_today(&garden, "2016-07-15");
	flags = log_case_flags(&garden);
	check_silent(&flags, "alternate-off"); /* 2015/16 is not recorded: no run to go by */
	check_silent(&flags, "alternate-on");
	garden_log(&garden, "A1 picked ~12 fruit @ season 2015/16");
	flags = log_case_flags(&garden);
	flag = log_case_find(&flags, "alternate-on");
	assert_non_null(flag);
	check_has(flag->says, "2016/17 is likely a heavy year", "the year to come");
	check_has(flag->action, "a third to a half", "how much comes off");
	check_has(flag->action, "about an inch", "by the size of the fruit");
	garden_free(&garden);
}

static void two_years_are_no_pattern(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 mandarin 2003",
		"A1 picked 200 fruit @ season 2013/14|A1 picked 12 fruit @ season 2014/15",
		"2015-07-15");
	struct flags flags = log_case_flags(&garden);
	const char *page = told_season(&garden, "A1");

	(void)state;
	check_silent(&flags, "alternate-on");
	check_silent(&flags, "alternate-off");
	check_lacks(page, "biennial", "no label");
	check_lacks(page, "swing", "no label");
	garden_free(&garden);
}

/* --- a white peach in Victoria, first grown as a nectarine and regrafted: eight limbs of two trays
 * of 2.4 kg, "35 kg", 9 of it second grade, 4 kg more spoiled on the ground --- */

static void a_sum_that_does_not_fit_is_pointed_out_and_the_person_s_figure_kept(void **state)
{
	static const char *const lines[] = {
		"A1 picked 35 kg (8 x 2 x 2.4 kg) @ 2026-01-22",
		"A1 picked 35 kg (8 \xc3\x97 2 \xc3\x97 2.4) @ 2026-01-22",
		"A1 picked 35 kg (8x2x2.4 kg) @ 2026-01-22",
	};

	(void)state;
	for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
		struct garden garden;
		told_south(&garden, AT_WET_WINTER, "A1 peach 2016", "", "2026-06-01");
		const char *answer = told_answer(&garden, lines[i]);
		check_has(answer, "comes to 38.4 kg, not 35 kg: yours is kept", lines[i]);
		const char *at = strstr(answer, "comes to 38.4 kg, not 35 kg: yours is kept");
		assert_non_null(at);
		assert_null(strstr(at + 1, "comes to")); /* once */
		const struct dossier *dossier = garden_story(&garden, "A1");
		check_int(entry_amount(dossier->entries[0], FIELD_WEIGHT)->low.value, 35000000,
			"kept");
		check_has(dossier->entries[0]->words, "2.4", "and the sum in their own words");
		struct flags flags = log_case_flags(&garden);
		check_int(flags.count, 0, "no nagging afterwards");
		garden_free(&garden);
	}
}

static void a_sum_that_fits_is_not_spoken_of(void **state)
{
	struct garden garden;
	told_south(&garden, AT_WET_WINTER, "A1 peach 2016", "", "2026-06-01");

	(void)state;
	check_lacks(told_answer(&garden, "A1 picked 38.4 kg (8 x 2 x 2.4 kg) @ 2026-01-22"),
		"comes to", "agrees");
	garden_free(&garden);
}

static void two_grades(struct garden *garden)
{
	told_south(garden, AT_WET_WINTER, "A1 peach 2016",
		"A1 saw leaf curl @ 2025-10-01|"
		"A1 picked 26 kg first grade @ 2026-01-20|"
		"A1 picked 9 kg second grade @ 2026-01-21 ; birds|"
		"A1 lost 4 kg spoiled @ 2026-01-22",
		"2026-06-01");
}

static void grades_add_up_and_the_loss_stands_apart(void **state)
{
	struct garden garden;
	two_grades(&garden);
	struct season_report report = told_seasons(&garden, "A1");
	const struct season_line *line = told_year(&report, 2025);
	const char *page = told_season(&garden, "A1");

	(void)state;
	assert_non_null(line);
	check_text(line->season_name, "2025/26", "named by the window that opened");
	check_int(amount_sum_point(&line->season.picked).value, 35000000, "picked");
	check_int(amount_sum_point(&line->season.lost).value, 4000000, "lost");
	check_int(season_total_mg(&line->season).value, 39000000, "borne");
	check_has(page, "lost 8 lb 13 oz", "the loss is said");
	check_lacks(page, "86 lb", "39 kg never stands for what was picked");
	garden_free(&garden);
}

/* Second grade is part of what was picked: two weights of one line are asked, not added. */
static void a_grade_is_not_added_on_top_of_the_whole(void **state)
{
	struct garden garden;
	struct fault why = {0};
	told_south(&garden, AT_WET_WINTER, "A1 peach 2016", "", "2026-06-01");

	(void)state;
	assert_int_not_equal(
		garden_try(&garden, "A1 picked 35 kg 9 kg second grade @ 2026-01-22", &why),
		STATUS_OK);
	check_int(garden_story(&garden, "A1")->entry_count, 0, "nothing kept");
	garden_free(&garden);
}

static void earlier_seasons_stay_with_the_earlier_cultivar(void **state)
{
	struct garden garden;
	struct tree_kind before = {.name = ""};
	struct fault why = {0};
	told_south(&garden, AT_WET_WINTER, "A1 peach 2010",
		"A1 picked 20 kg @ 2019-01-20|A1 picked 22 kg @ 2020-01-20", "2026-06-01");

	(void)state;
	garden_identify(&garden, "A1", "", "an old nectarine", "");
	garden_identify(&garden, "A1", "", "white peach", "2021-08-01");
	const struct dossier *dossier = garden_story(&garden, "A1");
	check_text(dossier->kind.cultivar, "white peach", "now");
	check_int(dossier->expected.seasons, 0, "the new one has given nothing yet");
	check_ok(yard_kind(garden.yard, dossier->tree.id, garden_day("2020-01-20"), &before, &why),
		&why);
	check_text(before.cultivar, "an old nectarine", "then");
	garden_free(&garden);
}

/* When the regrafting was is not known to the day: a span of years does. */
static void the_day_of_regrafting_may_be_a_span_of_years(void **state)
{
	struct garden garden;
	struct fault why = {0};
	struct tree_kind before = {.name = ""};
	told_south(&garden, AT_WET_WINTER, "A1 peach 2010", "A1 picked 20 kg @ 2019-01-20",
		"2026-06-01");
	struct tree tree = garden_find(&garden, "A1");
	struct new_identity change = {.is_change = true, .cultivar = "white peach"};

	(void)state;
	garden_identify(&garden, "A1", "", "an old nectarine", "");
	check_ok(date_span_parse("2020/2023", HEMISPHERE_SOUTH, &change.day, &why), &why);
	check_ok(work_identify(garden.yard, tree.id, &change, garden.asked, &why), &why);
	garden_look(&garden);
	check_text(garden_story(&garden, "A1")->kind.cultivar, "white peach", "now");
	check_ok(yard_kind(garden.yard, tree.id, garden_day("2019-01-20"), &before, &why), &why);
	check_text(before.cultivar, "an old nectarine", "then");
	check_has(told_tree(&garden, "A1"), "was an old nectarine", "shown");
	garden_free(&garden);
}

/* --- a sweet cherry in Oregon, planted five years ago: it bloomed twice, and the little green
 * cherries all fell. No cultivar given; asked in mid August. --- */

static void cherries_that_fell(struct garden *garden)
{
	told(garden, AT_WET_WINTER, "S1 sweet_cherry 2021",
		"S1 bloom @ 2025-04-10|S1 fruit set @ 2025-05-01|"
		"S1 picked none @ 2025-06-20 ; little green cherries all fell|"
		"S1 full bloom @ 2026-04-08|S1 fruit set @ 2026-05-01|"
		"S1 picked none @ 2026-06-20 ; all fell",
		"2026-08-15");
}

static void the_cherry_s_cultivar_is_asked_and_what_a_partner_is_is_said(void **state)
{
	struct garden garden;
	cherries_that_fell(&garden);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "no-partner");

	(void)state;
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_NOTE, "urgency");
	check_has(flag->says, "most of its kind do not set alone", "why");
	check_has(flag->action, "Find out which cultivar it is", "the cultivar is asked");
	const char *partners = told_partners(&garden, "S1");
	check_has(partners, "pair of S alleles is not the same", "not just another cherry");
	check_has(partners, "in bloom with it", "at the same time");
	garden_free(&garden);
}

static void two_years_of_bloom_set_and_nothing_are_zeros_not_gaps(void **state)
{
	struct garden garden;
	cherries_that_fell(&garden);
	garden_today(&garden, "2026-10-15"); /* both seasons are over */
	struct season_report report = told_seasons(&garden, "S1");

	(void)state;
	for (int32_t year = 2025; year <= 2026; year++) {
		const struct season_line *line = told_year(&report, year);

		assert_non_null(line);
		check_int(line->season.state, SEASON_NONE_SEEN, "none seen");
	}
	check_has(told_season(&garden, "S1"), "none seen", "printed");
	check_has(told_tree(&garden, "S1"), "fruit set", "it did set");
	garden_free(&garden);
}

/* Frost and drought are offered from the log, never as the cause. */
static void a_frost_in_bloom_stands_beside_the_empty_season(void **state)
{
	struct garden garden;
	cherries_that_fell(&garden);
	garden_log(&garden, "frost 27 F @ 2026-04-09");
	garden_today(&garden, "2026-10-15");
	const char *page = told_season(&garden, "S1");

	(void)state;
	check_has(page, "may bear on it", "a candidate");
	check_has(page, "frost", "from the weather log");
	garden_free(&garden);
}

/* Two of one incompatibility group are two cultivars and still no help to each other. */
static void another_cherry_of_the_same_group_is_no_partner(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "S1 sweet_cherry 2015;S2 sweet_cherry 2015", "", "2026-08-15");
	garden_identify(&garden, "S1", "", "Bing", "");
	garden_identify(&garden, "S2", "", "Lambert", "");
	const char *page = told_partners(&garden, "S1");

	(void)state;
	check_has(page, "S2 Lambert?: does not serve", "verdict");
	check_has(page, "they will not take each other", "why");
	garden_free(&garden);
}

/* --- two apples in a garden in the UK: the Bramley crops well, the other never sets --- */

static void bramley_and_another(struct garden *garden, const char *name)
{
	struct fault why = {0};
	told(garden, AT_COOL, "B1 apple 2010;D1 apple 2010",
		"B1 picked 40 kg @ 2025-10-01|B1 picked 38 kg @ 2026-10-01|"
		"D1 full bloom @ 2025-05-01|D1 picked none @ 2025-09-20|"
		"D1 full bloom @ 2026-05-01|D1 picked none @ 2026-09-20",
		"2026-10-15");
	const char *const names[] = {"Bramley", name};
	const char *const labels[] = {"B1", "D1"};

	for (int i = 0; i < 2; i++) {
		struct new_identity identity = {.sure_given = true, .sure = SURE_CERTAIN};
		struct tree tree = garden_find(garden, labels[i]);

		snprintf(identity.cultivar, sizeof identity.cultivar, "%s", names[i]);
		check_ok(
			work_identify(garden->yard, tree.id, &identity, garden->asked, &why), &why);
	}
	garden_look(garden);
}

static void a_triploid_beside_it_is_no_donor(void **state)
{
	struct garden garden;
	bramley_and_another(&garden, "Cox's Orange Pippin");
	const char *page = told_partners(&garden, "D1");

	(void)state;
	check_has(page, "B1 Bramley: does not serve", "verdict");
	check_has(page, "triploid", "why");
	garden_free(&garden);
}

static void the_barren_one_hears_that_it_has_no_donor_and_what_would_serve(void **state)
{
	struct garden garden;
	bramley_and_another(&garden, "Cox's Orange Pippin");
	struct flags flags = log_case_flags(&garden);
	const struct flag *barren = NULL;

	(void)state;
	for (int32_t i = 0; i < flags.count; i++)
		if (strcmp(flags.items[i].rule, "no-partner") == 0 &&
			strcmp(flags.items[i].label, "D1") == 0)
			barren = &flags.items[i];
	assert_non_null(barren);
	check_int(barren->urgency, URGENCY_NOTE, "urgency");
	check_has(barren->action, "fence", "a donor beyond the fence is asked about");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(hundreds_is_at_least_200_and_barely_a_dozen_about_12),
		cmocka_unit_test(vague_counts_still_give_an_index),
		cmocka_unit_test(five_years_of_turns_name_the_next_heavy_one),
		cmocka_unit_test(two_years_are_no_pattern),
		cmocka_unit_test(
			a_sum_that_does_not_fit_is_pointed_out_and_the_person_s_figure_kept),
		cmocka_unit_test(a_sum_that_fits_is_not_spoken_of),
		cmocka_unit_test(grades_add_up_and_the_loss_stands_apart),
		cmocka_unit_test(a_grade_is_not_added_on_top_of_the_whole),
		cmocka_unit_test(earlier_seasons_stay_with_the_earlier_cultivar),
		cmocka_unit_test(the_day_of_regrafting_may_be_a_span_of_years),
		cmocka_unit_test(the_cherry_s_cultivar_is_asked_and_what_a_partner_is_is_said),
		cmocka_unit_test(two_years_of_bloom_set_and_nothing_are_zeros_not_gaps),
		cmocka_unit_test(a_frost_in_bloom_stands_beside_the_empty_season),
		cmocka_unit_test(another_cherry_of_the_same_group_is_no_partner),
		cmocka_unit_test(a_triploid_beside_it_is_no_donor),
		cmocka_unit_test(the_barren_one_hears_that_it_has_no_donor_and_what_would_serve),
	};
	return cmocka_run_group_tests_name("crops as growers told them", tests, NULL, NULL) != 0;
}
