/* SPDX-License-Identifier: MIT */
/* Cuts that growers asked about: each with what a good answer says and what it must not. The yards
 * are invented; dates and shares are those of the published sources the almanac names. */
#include "support/told.h"

/* --- a loquat to be cut in the first week of January, north Florida: no size, no age, no name.
 * It bloomed in autumn and is picked in spring. --- */

static void a_january_cut_costs_this_spring_s_crop(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "back_yard loquat -", "", "2027-01-04");
	struct flags flags = log_case_try(&garden, "back_yard", "back_yard cut shape 20% of crown");
	const struct flag *flag = log_case_find(&flags, "flower-wood");

	(void)state;
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_ACT, "ill-timed");
	check_has(flag->says, "2027 crop", "what it costs");
	check_has(flag->action, "straight after the last fruit", "the window as an event");
	check_has(flag->action, "1 June to 15 July 2027", "and as days, well before autumn bloom");
	check_lacks(flag->action, "ebruary", "no winter month");
	assert_false(flag->crop_at_risk_mg.known); /* no picks, no figure made up */
	check_lacks(told_ask(&garden, "back_yard prune today"), "ormant", "no winter rule");
	garden_free(&garden);
}

static void a_plain_prune_today_is_judged_as_a_shape_cut(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "back_yard loquat -", "", "2027-01-04");
	const char *answer = told_ask(&garden, "back_yard prune today");

	(void)state;
	check_has(answer, "act   back_yard", "urgency");
	check_has(answer, "2027 crop", "what it costs");
	check_lacks(answer, "No rule speaks against it", "no leave given");
	garden_free(&garden);
}

static void dead_wood_in_january_raises_no_flag(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 loquat -", "", "2027-01-04");
	struct flags dead = log_case_try(&garden, "A1", "A1 cut dead wood 20% of crown");
	struct flags diseased = log_case_try(&garden, "A1", "A1 cut diseased branches");

	(void)state;
	check_int(dead.count, 0, "dead");
	check_int(diseased.count, 0, "diseased");
	garden_free(&garden);
}

static void japanese_plum_is_asked_not_taken_for_a_plum(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 Japanese_plum -", "", "2027-01-04");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	check_has(garden.asked, "loquat", "the question names both");
	assert_null(dossier->kind.species);
	struct flags flags = log_case_try(&garden, "A1", "A1 cut shape 20% of crown");
	const struct flag *flag = log_case_find(&flags, "flower-wood");
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_NOTE, "no alarm on a doubt");
	check_lacks(told_ask(&garden, "A1 prune"), "No rule speaks", "and no leave either");
	garden_free(&garden);
}

/* --- an old, top-heavy cherry in Scotland, leafless; sweet, sour or ornamental is not said. The
 * owner would cut now, for the shape shows. --- */

static const char *const cherries[] = {"cherry", "sweet_cherry", "sour_cherry"};

static void a_cherry_is_not_cut_leafless_whichever_cherry_it_is(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof cherries / sizeof cherries[0]; i++) {
		struct garden garden;
		char trees[40];

		snprintf(trees, sizeof trees, "C1 %s 1980", cherries[i]);
		told(&garden, AT_COOL, trees, "", "2026-01-20");
		struct flags flags = log_case_try(&garden, "C1", "C1 cut thinning 2 limbs");
		const struct flag *flag = log_case_find(&flags, "cut-in-wet-season");
		assert_non_null(flag);
		check_int(flag->urgency, URGENCY_ACT, "not now, whichever it is");
		check_has(flag->says, "September to May", "when the spores fly");
		check_has(told_ask(&garden, "C1 cut thinning 2 limbs"), "from memory",
			"what is not read says so");
		check_has(flag->action, "Not now", "wait");
		check_has(flag->action, i == 2 ? "1 June to 31 July 2026" : "June",
			"early to mid summer");
		check_has(flag->action, "dry", "in the dry");
		check_has(flag->action, "dangerous limb comes off at any time", "the exception");
		garden_free(&garden);
	}
}

static void a_cherry_in_early_summer_is_clear(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof cherries / sizeof cherries[0]; i++) {
		struct garden garden;
		char trees[40];

		snprintf(trees, sizeof trees, "C1 %s 1980", cherries[i]);
		told(&garden, AT_COOL, trees, "", "2026-06-15");
		struct flags flags = log_case_try(&garden, "C1", "C1 cut thinning 2 limbs");
		check_silent(&flags, "cut-in-wet-season");
		garden_free(&garden);
	}
}

/* Which cherry it is is not asked before an answer is given. */
static void the_answer_does_not_wait_for_the_kind_of_cherry(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "C1 cherry 1980", "", "2026-01-20");
	const char *answer = told_ask(&garden, "C1 cut thinning 2 limbs");

	(void)state;
	check_has(answer, "act   C1", "not now");
	check_has(answer, "all say the same", "whichever it is");
	check_has(answer, "sources differ", "whose advice it is is told");
	check_lacks(answer, "Find out", "nothing is asked first");
	garden_free(&garden);
}

/* An apple in the same yard may be cut in winter: not one rule for all fruit trees. */
static void the_apple_beside_it_may_be_cut_in_winter(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 1980;C1 cherry 1980", "", "2026-01-20");
	struct flags apple = log_case_try(&garden, "A1", "A1 cut thinning 10% of crown");
	struct flags cherry = log_case_try(&garden, "C1", "C1 cut thinning 10% of crown");

	(void)state;
	check_silent(&apple, "cut-in-wet-season");
	assert_non_null(log_case_find(&cherry, "cut-in-wet-season"));
	garden_free(&garden);
}

static void the_limbs_are_planned_now_and_come_back_in_summer(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "C1 cherry 1980",
		"C1 plan cut thinning 2 limbs @ 2026-06-20 ; the two big ones over the path",
		"2026-01-20");
	struct flags flags = log_case_flags(&garden);

	(void)state;
	check_silent(&flags, "plan-due");
	check_silent(&flags, "cut-in-wet-season"); /* a plan is no cut */
	garden_today(&garden, "2026-06-20");
	flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "plan-due");
	assert_non_null(flag);
	check_has(flag->says, "2 limbs", "how many");
	check_has(flag->says, "the two big ones over the path", "which");
	garden_log(&garden, "C1 cut thinning 2 limbs @ 2026-06-20");
	flags = log_case_flags(&garden);
	check_silent(&flags, "plan-due");
	garden_free(&garden);
}

static void a_dangerous_limb_comes_off_at_any_time_and_is_logged_as_such(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "C1 cherry 1980", "C1 cut dangerous limb @ 2026-01-20",
		"2026-01-21");
	struct flags flags = log_case_flags(&garden);
	const struct dossier *dossier = garden_story(&garden, "C1");

	(void)state;
	check_silent(&flags, "cut-in-wet-season");
	check_silent(&flags, "flower-wood");
	check_int(entry_cut_kind(dossier->entries[0]), CUT_SANITATION, "its kind");
	check_has(dossier->entries[0]->words, "dangerous", "the word stays");
	garden_free(&garden);
}

/* --- a fig in Georgia, cut back hard; two seasons of green figs that never ripened --- */

static void green_figs(struct garden *garden)
{
	told(garden, AT_HUMID, "A1 fig 2005",
		"A1 picked 12 kg @ 2023-08-20|A1 cut renovation 60% of crown @ 2024-02-10|"
		"A1 picked none @ 2024-10-20 ; plenty of green figs, none ripe|"
		"A1 picked none @ 2025-10-20 ; green figs again",
		"2025-12-20");
}

static void green_figs_are_an_observed_zero_not_a_gap(void **state)
{
	struct garden garden;
	green_figs(&garden);
	struct season_report report = told_seasons(&garden, "A1");

	(void)state;
	for (int32_t year = 2024; year <= 2025; year++) {
		const struct season_line *line = told_year(&report, year);

		assert_non_null(line);
		check_int(line->season.state, SEASON_NONE_SEEN, "none seen");
		struct maybe_i64 picked = amount_sum_point(&line->season.picked);
		assert_true(picked.known);
		check_int(picked.value, 0, "zero");
	}
	check_has(told_season(&garden, "A1"), "none seen", "printed as what it is");
	check_has(told_tree(&garden, "A1"), "plenty of green figs", "green fruit was there");
	garden_free(&garden);
}

static void both_bad_seasons_are_tied_to_the_hard_cut(void **state)
{
	struct garden garden;
	green_figs(&garden);
	struct season_report report = told_seasons(&garden, "A1");

	(void)state;
	for (int32_t year = 2024; year <= 2025; year++) {
		const struct season_line *line = told_year(&report, year);

		assert_true(line->candidate_count > 0);
		check_has(line->candidates[0], "renovation cut 60% on 10 February 2024", "the cut");
	}
	assert_int_equal(told_year(&report, 2023)->candidate_count, 0);
	garden_free(&garden);
}

/* On no day of three years does the fig hear that a cut is due; until after the second autumn it
 * hears to be left alone. */
static void the_fig_is_to_be_left_alone_and_no_cut_is_asked_for(void **state)
{
	struct garden garden;
	green_figs(&garden);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "leave-alone");

	(void)state;
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_LEAVE, "a state");
	check_has(flag->says, "after the next autumn", "until when");
	check_has(flag->says, "little ripe fruit", "why");
	for (int month = 1; month <= 24; month++) {
		char day[16];

		snprintf(day, sizeof day, "%d-%02d-10", 2025 + (month - 1) / 12,
			(month - 1) % 12 + 1);
		garden_today(&garden, day);
		flags = log_case_flags(&garden);
		check_silent(&flags, "shape-cut-due");
		check_lacks(told_review(&garden, true), "verdue", day);
	}
	garden_free(&garden);
}

/* --- a large old lemon in August, northern New Zealand; guava moth each year --- */

static void august_is_late_winter_in_the_south(void **state)
{
	struct garden garden;
	told_south(
		&garden, AT_COOL, "A1 lemon 1990", "A1 saw guava moth @ 2026-08-01", "2026-08-20");
	struct flags flags = log_case_try(&garden, "A1", "A1 cut renovation 20% of crown");
	const char *answer = told_ask(&garden, "A1 cut renovation 20% of crown");

	(void)state;
	check_silent(&flags, "cut-too-much");
	check_lacks(answer, "clear 15 February", "no northern date");
	check_lacks(answer, "clear 1 February", "no northern date");
	garden_free(&garden);
}

/* Both dangers and the ways out, whichever month is asked about, and never one bare month. */
static void a_lemon_s_big_cut_is_told_where_advisers_differ(void **state)
{
	static const char *const days[] = {"2026-08-20", "2026-10-05", "2026-12-05"};
	struct garden garden;
	told_south(&garden, AT_COOL, "A1 lemon 1990", "", "2026-08-20");

	(void)state;
	for (size_t i = 0; i < sizeof days / sizeof days[0]; i++) {
		char line[80];

		snprintf(line, sizeof line, "A1 cut renovation 20%% of crown @ %s", days[i]);
		const char *answer = told_ask(&garden, line);
		check_has(answer, "frost takes the regrowth", "cut too early");
		check_has(answer, "borers lay eggs in fresh cuts in spring", "cut too late");
		check_has(answer, "early summer, or spring with the cuts sealed", "one way out");
		check_has(answer, "frost-free sites", "the other");
		check_has(answer, "a third of the crown at a time, the next a year later", "limit");
	}
	garden_free(&garden);
}

/* A quarter of the crown is the advice for any tree, a third that for an old lemon brought down:
 * both are told, and up to the third it is no alarm. */
static void a_third_of_the_lemon_hears_both_limits(void **state)
{
	struct garden garden;
	told_south(&garden, AT_HUMID, "A1 lemon 1990", "", "2026-08-20");
	const char *answer = told_ask(&garden, "A1 cut renovation 33% of crown");
	struct flags third = log_case_try(&garden, "A1", "A1 cut renovation 33% of crown");
	struct flags more = log_case_try(&garden, "A1", "A1 cut renovation 40% of crown");
	struct flags shape = log_case_try(&garden, "A1", "A1 cut shape 33% of crown");

	(void)state;
	check_has(answer, "no more than 25 %", "the one");
	check_has(answer, "Others take about 33 % of the crown at a time, the next part a year",
		"the other");
	check_has(answer, "northern New Zealand", "whose");
	check_lacks(answer, "act   A1", "no alarm");
	check_int(log_case_find(&third, "cut-too-much")->urgency, URGENCY_NOTE, "a third");
	check_int(log_case_find(&more, "cut-too-much")->urgency, URGENCY_ACT, "above both");
	check_int(log_case_find(&shape, "cut-too-much")->urgency, URGENCY_ACT, "no renovation");
	garden_free(&garden);
}

/* In no month of the year does the answer hold one date alone. */
static void no_single_confident_date_for_the_lemon(void **state)
{
	struct garden garden;
	told_south(
		&garden, AT_HUMID, "A1 lemon 1990", "A1 saw guava moth @ 2026-08-01", "2026-08-20");

	(void)state;
	for (int month = 8; month <= 12; month++) {
		char line[80];

		snprintf(
			line, sizeof line, "A1 cut renovation 25%% of crown @ 2026-%02d-20", month);
		const char *answer = told_ask(&garden, line);
		check_has(answer, "advisers in New Zealand differ", line);
		check_has(answer, "others wait for frost to be past", line);
	}
	garden_free(&garden);
}

static void a_hard_reduction_is_too_much_at_once(void **state)
{
	struct garden garden;
	told_south(&garden, AT_HUMID, "A1 lemon 1990", "", "2026-08-20");
	struct flags flags = log_case_try(&garden, "A1", "A1 cut renovation 60% of crown");
	const struct flag *flag = log_case_find(&flags, "cut-too-much");

	(void)state;
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_ACT, "urgency");
	check_has(flag->action, "over coming years", "a part each year");
	garden_free(&garden);
}

/* --- a neglected apple "15-20 yrs", November, Washington State: how hard, when, and can the height
 * come down? --- */

static void an_age_of_15_to_20_stays_a_range(void **state)
{
	static const char *const said[] = {"15-20 yrs", "age 15-20", "15-20 yrs old"};

	(void)state;
	for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
		struct garden garden;
		told(&garden, AT_WET_HARD, "", "", "2026-11-20");
		garden_tree(&garden, "A1", "apple", "", "");
		struct line_context context = yard_line_context(garden.yard, &garden.names);
		struct date_span planted;
		check_ok(planting_read(said[i], &context, &planted, NULL), NULL);
		check_int(date_parts(planted.low.value).year, 2005, "earliest");
		check_int(date_parts(planted.high.value).year, 2011, "latest");
		assert_false(date_span_is_exact(&planted));
		garden_free(&garden);
	}
}

static void the_age_is_shown_as_a_range_on_this_day(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_HARD, "A1 apple 2006/2011", "", "2026-11-20");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	check_int(dossier->age_low_years.value, 14, "youngest");
	check_int(dossier->age_high_years.value, 20, "oldest");
	assert_false(date_span_is_exact(&dossier->tree.planted));
	garden_free(&garden);
}

static void a_big_cut_in_november_hears_both_published_views(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_HARD, "A1 apple 2006/2011", "", "2026-11-20");
	const char *answer = told_ask(&garden, "A1 cut height 20% of crown");

	(void)state;
	check_has(answer, "note  A1  (cut-near-frost)", "not the moment for the big cut");
	check_has(answer, "winters are hard here: colder places (Utah) say not in autumn", "why");
	check_has(answer, "Leave it for the clear weeks", "wait");
	check_lacks(answer, "No rule speaks against it", "no leave");
	check_has(answer, "from mid February until leaf-out", "the one view");
	check_has(answer, "or after fruit set", "the other");
	check_has(answer, "a fifth a year", "how hard");
	garden_free(&garden);
}

static void limb_1_of_3_is_planned_and_comes_back(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2006/2011", "A1 plan cut limb 1 of 3 @ 2027-02-20",
		"2026-11-20");
	struct flags flags = log_case_flags(&garden);

	(void)state;
	check_silent(&flags, "plan-due");
	garden_today(&garden, "2027-02-20");
	flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "plan-due");
	assert_non_null(flag);
	check_has(flag->says, "limb 1 of 3", "which limb");
	garden_free(&garden);
}

static void a_fifth_a_year_is_not_too_much_and_half_the_crown_is(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2006/2011", "", "2027-02-20");
	struct flags fifth = log_case_try(&garden, "A1", "A1 cut height 20% of crown");
	struct flags half = log_case_try(&garden, "A1", "A1 cut height 50% of crown");

	(void)state;
	check_silent(&fifth, "cut-too-much");
	assert_non_null(log_case_find(&half, "cut-too-much"));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_january_cut_costs_this_spring_s_crop),
		cmocka_unit_test(a_plain_prune_today_is_judged_as_a_shape_cut),
		cmocka_unit_test(dead_wood_in_january_raises_no_flag),
		cmocka_unit_test(japanese_plum_is_asked_not_taken_for_a_plum),
		cmocka_unit_test(a_cherry_is_not_cut_leafless_whichever_cherry_it_is),
		cmocka_unit_test(a_cherry_in_early_summer_is_clear),
		cmocka_unit_test(the_answer_does_not_wait_for_the_kind_of_cherry),
		cmocka_unit_test(the_apple_beside_it_may_be_cut_in_winter),
		cmocka_unit_test(the_limbs_are_planned_now_and_come_back_in_summer),
		cmocka_unit_test(a_dangerous_limb_comes_off_at_any_time_and_is_logged_as_such),
		cmocka_unit_test(green_figs_are_an_observed_zero_not_a_gap),
		cmocka_unit_test(both_bad_seasons_are_tied_to_the_hard_cut),
		cmocka_unit_test(the_fig_is_to_be_left_alone_and_no_cut_is_asked_for),
		cmocka_unit_test(august_is_late_winter_in_the_south),
		cmocka_unit_test(a_lemon_s_big_cut_is_told_where_advisers_differ),
		cmocka_unit_test(a_third_of_the_lemon_hears_both_limits),
		cmocka_unit_test(no_single_confident_date_for_the_lemon),
		cmocka_unit_test(a_hard_reduction_is_too_much_at_once),
		cmocka_unit_test(an_age_of_15_to_20_stays_a_range),
		cmocka_unit_test(the_age_is_shown_as_a_range_on_this_day),
		cmocka_unit_test(a_big_cut_in_november_hears_both_published_views),
		cmocka_unit_test(limb_1_of_3_is_planned_and_comes_back),
		cmocka_unit_test(a_fifth_a_year_is_not_too_much_and_half_the_crown_is),
	};
	return cmocka_run_group_tests_name("cuts as growers told them", tests, NULL, NULL) != 0;
}
