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

/* Asked in April of the odd year, when the flowers had just gone: the same, and no thinning. */
static void in_april_of_the_light_year_there_is_nothing_to_thin(void **state)
{
	struct garden garden;
	hundreds_and_a_dozen(&garden, "2015-04-20");
	garden_log(&garden, "A1 picked last 3 fruit @ 2014-12-20"); /* that season is over */
	garden_log(&garden, "A1 bloom @ 2015-04-01");
	garden_log(&garden, "A1 saw flowers dropping @ 2015-04-18");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "alternate-off");

	(void)state;
	assert_non_null(flag);
	check_has(flag->says, "2015/16 is likely a light year", "strong on and off");
	check_has(flag->action, "Nothing to thin", "this year");
	check_silent(&flags, "thin-due");
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
	check_has(page, "77.2 lb", "picked");
	check_has(page, "lost 8 lb 13 oz of 86 lb borne", "39 kg never without the 4 kg spoiled");
	check_has(page, "first grade 57.3 lb (74 %)", "26 of 35 kg");
	check_has(page, "second grade 19 lb 13 oz (26 %)", "9 of 35 kg");
	garden_free(&garden);
}

/* A grade that was not weighed: no share can be said of the others. */
static void grades_without_a_weight_have_no_shares(void **state)
{
	struct garden garden;
	two_grades(&garden);
	garden_log(&garden, "A1 picked 1 bucket windfalls @ 2026-01-23");

	(void)state;
	check_lacks(told_season(&garden, "A1"), " %)", "no share");
	garden_free(&garden);
}

/* White flesh is not sour enough to be kept in any way but frozen; what a name says is a guess, and
 * of a yellow one, or of a name that says nothing, no word either way. */
static void white_flesh_is_frozen_only_and_a_name_is_no_proof(void **state)
{
	struct garden garden;
	told_south(&garden, AT_WET_WINTER, "A1 peach 2016;A2 peach 2016;A3 peach 2016", "",
		"2026-06-01");

	(void)state;
	garden_identify(&garden, "A1", "", "heritage white peach", "");
	garden_identify(&garden, "A2", "", "Elberta", "");
	const char *page = told_tree(&garden, "A1");
	check_has(page, "White flesh: freeze only", "what to do");
	check_has(page, "tested recipe of a food-safety authority", "where to look");
	check_has(page, "University of Maine", "whose");
	check_has(page, "The name is not certain: cut one and look", "no proof");
	check_lacks(told_tree(&garden, "A2"), "flesh", "a label is not relied on");
	check_lacks(told_tree(&garden, "A3"), "flesh", "nothing said of it");
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

static void a_new_partner_takes_years_to_help_and_that_is_said(void **state)
{
	static const char years[] =
		"may bloom in 2 to 3 years, and takes 2 to 3 more before it helps";
	struct garden garden;
	cherries_that_fell(&garden);
	struct flags flags = log_case_flags(&garden);

	(void)state;
	check_has(log_case_find(&flags, "no-partner")->action, years, "before it is planted");
	check_has(told_review(&garden, true), "Cooperative Extension answer 207468", "whose");
	check_has(told_partners(&garden, "S1"), years, "and where partners are listed");
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

/* So many stored days from one on, each with so much rain. */
static void put_days(struct garden *garden, const char *from, int32_t days, int64_t rain_um)
{
	struct fault why = {0};
	bool was_same;

	check_ok(store_act_begin(garden->store, ACT_WORK, "weather", &why), &why);
	for (int32_t i = 0; i < days; i++) {
		const struct weather_day day = {.day = date_add_days(garden_day(from), i),
			.station = "hill",
			.rain_um = known_i64(rain_um)};

		check_ok(store_weather_day_put(garden->store, &day, &was_same, &why), &why);
	}
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void a_drought_after_bloom_stands_beside_the_empty_season(void **state)
{
	struct garden garden;
	cherries_that_fell(&garden);
	garden_today(&garden, "2026-10-15");
	put_days(&garden, "2026-04-08", 20, 4000);
	check_lacks(told_season(&garden, "S1"), "no rain", "days without a figure are not dry");
	put_days(&garden, "2026-04-28", 27, 0);
	check_lacks(told_season(&garden, "S1"), "no rain", "27 days");
	put_days(&garden, "2026-05-25", 1, 0);

	(void)state;
	check_has(told_season(&garden, "S1"),
		"may bear on it: no rain 28 April to 25 May 2026 (stored weather)", "28 days");
	garden_log(&garden, "S1 watered 20 gal @ 2026-05-05");
	check_lacks(told_season(&garden, "S1"), "no rain", "it was watered");
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
	check_has(barren->says, "no tree on record serves it", "no donor on this site");
	check_has(barren->action, "fence", "a donor beyond the fence is asked about");
	check_has(barren->action, "not a triploid", "what it must not be");
	check_has(barren->action, "crab apple", "a crab would do");
	garden_free(&garden);
}

/* The third that is named serves both, by the answers that the pages of the two give of it. */
static void a_third_cultivar_is_named_that_serves_both(void **state)
{
	struct garden garden;
	bramley_and_another(&garden, "Cox's Orange Pippin");
	const char *review = told_review(&garden, true);
	const char *at = strstr(review, "For one that serves B1 too: ");
	char third[NAME_SIZE] = "";

	(void)state;
	assert_non_null(at);
	check_int(sscanf(at, "For one that serves B1 too: %39[^,]", third), 1, "a name");
	garden_tree(&garden, "T1", "apple", "2024", "");
	garden_identify(&garden, "T1", "", third, "");
	char serves[NAME_SIZE + 40];
	snprintf(serves, sizeof serves, "T1 %s?: serves", third);
	check_has(told_partners(&garden, "D1"), serves, "the barren one");
	check_has(told_partners(&garden, "B1"), serves, "and the triploid");
	struct flags flags = log_case_flags(&garden);
	check_silent(&flags, "no-partner"); /* two varieties were not enough, three are */
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(hundreds_is_at_least_200_and_barely_a_dozen_about_12),
		cmocka_unit_test(vague_counts_still_give_an_index),
		cmocka_unit_test(five_years_of_turns_name_the_next_heavy_one),
		cmocka_unit_test(in_april_of_the_light_year_there_is_nothing_to_thin),
		cmocka_unit_test(two_years_are_no_pattern),
		cmocka_unit_test(
			a_sum_that_does_not_fit_is_pointed_out_and_the_person_s_figure_kept),
		cmocka_unit_test(a_sum_that_fits_is_not_spoken_of),
		cmocka_unit_test(grades_add_up_and_the_loss_stands_apart),
		cmocka_unit_test(grades_without_a_weight_have_no_shares),
		cmocka_unit_test(white_flesh_is_frozen_only_and_a_name_is_no_proof),
		cmocka_unit_test(a_grade_is_not_added_on_top_of_the_whole),
		cmocka_unit_test(earlier_seasons_stay_with_the_earlier_cultivar),
		cmocka_unit_test(the_day_of_regrafting_may_be_a_span_of_years),
		cmocka_unit_test(the_cherry_s_cultivar_is_asked_and_what_a_partner_is_is_said),
		cmocka_unit_test(a_new_partner_takes_years_to_help_and_that_is_said),
		cmocka_unit_test(two_years_of_bloom_set_and_nothing_are_zeros_not_gaps),
		cmocka_unit_test(a_frost_in_bloom_stands_beside_the_empty_season),
		cmocka_unit_test(a_drought_after_bloom_stands_beside_the_empty_season),
		cmocka_unit_test(another_cherry_of_the_same_group_is_no_partner),
		cmocka_unit_test(a_triploid_beside_it_is_no_donor),
		cmocka_unit_test(the_barren_one_hears_that_it_has_no_donor_and_what_would_serve),
		cmocka_unit_test(a_third_cultivar_is_named_that_serves_both),
	};
	return cmocka_run_group_tests_name("crops as growers told them", tests, NULL, NULL) != 0;
}
