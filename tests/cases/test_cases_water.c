/* SPDX-License-Identifier: MIT */
/* Situations of water and frost that growers told, typed as lines and read back. The yards are
 * invented; figures are those of the published answers. */
#include "support/told.h"

#include "reckon/tree_water.h"

static const double ul_in_gal = 3785411.784;

/* What the newest watering of A1 gave it, in US gallons; below 0: not known. */
static double gallons(struct garden *garden)
{
	const struct dossier *dossier = garden_story(garden, "A1");
	const struct entry *water = dossier_last(dossier, KIND_WATER, yard_today(garden->yard));

	assert_non_null(water);
	struct maybe_i64 volume_ul = water_volume_of_entry(water, dossier->spot);
	return volume_ul.known ? (double)volume_ul.value / ul_in_gal : -1;
}

/* --- an apricot under rock mulch in southern Nevada, watered 35 minutes every day of summer; how
 * many drippers, and of what size, is not said --- */

static void a_time_every_day_is_no_amount_and_is_told(void **state)
{
	struct garden garden;
	told(&garden, AT_LITTLE, "A1 apricot 2018",
		"A1 mulched rock @ 2026-05-01|A1 watered 35 min daily @ 2026-07-10", "2026-07-12");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "water-daily");

	(void)state;
	assert_non_null(flag);
	check_has(flag->action, "at least a day between", "leave a day between");
	check_has(flag->action, "emitters and the flow", "ask for both");
	check_close(gallons(&garden), -1, 0, "no volume of minutes");
	check_lacks(flag->says, "gal", "none said");
	garden_free(&garden);
}

static void thirty_five_minutes_is_a_time_not_an_amount(void **state)
{
	struct garden garden;
	told(&garden, AT_LITTLE, "A1 apricot 2018", "", "2026-07-12");
	const char *answer = told_answer(&garden, "A1 watered 35 min daily");

	(void)state;
	check_has(answer, "is a time, not an amount", "said so");
	check_has(answer, "emitters and flow", "and asked for");
	const struct dossier *dossier = garden_story(&garden, "A1");
	const struct entry *water = dossier_last(dossier, KIND_WATER, garden_day("2026-07-12"));
	assert_null(entry_amount(water, FIELD_VOLUME));
	check_int(entry_amount(water, FIELD_DURATION)->low.value, 35 * 60, "seconds");
	garden_free(&garden);
}

static void with_emitters_and_flow_it_is_seven_gallons(void **state)
{
	struct garden garden;
	told(&garden, AT_LITTLE, "A1 apricot 2018",
		"A1 watered 35 min 6 emitters 2 gal/h @ 2026-07-10", "2026-07-12");

	(void)state;
	check_close(gallons(&garden), 7, 0.01, "6 x 2 gal/h x 35 min");
	garden_free(&garden);
}

/* As it was typed, the verb first and no tree named: refused with how to say it, nothing stored. */
static void with_no_tree_before_the_verb_it_is_asked_for_whom(void **state)
{
	struct garden garden;
	struct fault why = {0};
	told(&garden, AT_LITTLE, "A1 apricot 2018", "", "2026-07-12");

	(void)state;
	check_refused(garden_try(&garden, "water apricot 35 min daily", &why), STATUS_SYNTAX, &why,
		"whom is it for? a label goes before it");
	check_int(garden_story(&garden, "A1")->entry_count, 0, "nothing stored");
	garden_free(&garden);
}

/* What is wanted a time, and what six emitters take for it in an hour and in half an hour. */
static void the_wanted_amount_is_told_by_the_emitters_there_are(void **state)
{
	struct garden garden;
	told(&garden, AT_LITTLE, "A1 apricot 2018",
		"A1 watered 35 min 6 emitters daily @ 2026-07-10", "2026-07-12");
	const char *review = told_review(&garden, true);

	(void)state;
	check_has(review, "15 gal to 20 gal: southern Nevada: wanted at a watering", "wanted");
	check_has(review, "with 6 emitters: 60 min take emitters of 3 to 4 gal/h (18 to 24 gal)",
		"in an hour");
	check_has(review, "with 6 emitters: 30 min take emitters of 5 to 7 gal/h (15 to 21 gal)",
		"in half an hour");
	check_has(review, "none nearer to the trunk than 12 to 18 in", "where they stand");
	check_has(review, "over half the ground under the crown", "how far");
	garden_log(&garden, "A1 watered 35 min 6 emitters 2 gal/h daily @ 2026-07-11");
	review = told_review(&garden, true);
	check_has(review, "with the 6 emitters logged: 75 to 100 min", "where the flow is known");
	check_lacks(review, "all good", "watered daily is not praised");
	garden_free(&garden);
}

static void rock_over_the_roots_gives_way_to_wood_chip(void **state)
{
	static const struct {
		const char *line;
		bool rock;
	} mulches[] = {
		{"A1 mulched rock @ 2026-05-01", true},
		{"A1 mulched 2 in gravel @ 2026-05-01", true},
		{"A1 note rock mulch over the roots @ 2026-05-01", true},
		{"A1 mulched 4 in wood chip @ 2026-05-01", false},
		{"A1 note nothing else @ 2026-05-01", false},
	};

	(void)state;
	for (size_t i = 0; i < sizeof mulches / sizeof mulches[0]; i++) {
		struct garden garden;
		told(&garden, AT_LITTLE, "A1 apricot 2018", mulches[i].line, "2026-07-12");
		garden_log(&garden, "A1 saw leaves brown and dropping @ 2026-07-01");
		garden_log(&garden, "A1 watered 35 min daily @ 2026-07-10");
		struct flags flags = log_case_flags(&garden);
		const char *action = log_case_find(&flags, "water-daily")->action;
		if (mulches[i].rock)
			check_has(action,
				"Lay 3 in to 4 in of wood chip in place of rock, clear of the "
				"trunk",
				mulches[i].line);
		else
			check_lacks(action, "in place of rock", mulches[i].line);
		garden_free(&garden);
	}
}

/* 15 to 20 gallons are wanted a time: 60 minutes of six emitters take 3 gal/h for 18, 4 for 24;
 * 30 minutes take 5 for 15. */
static void the_hours_that_a_wanted_amount_takes(void **state)
{
	static const struct {
		double gal, gal_per_h;
		int64_t minutes;
	} wanted[] = {{18, 3, 60}, {24, 4, 60}, {15, 5, 30}, {15, 2, 75}};

	(void)state;
	for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++) {
		int64_t run_s = 0;

		check_ok(water_run_s(round_i64(wanted[i].gal * ul_in_gal), 6,
				 round_i64(wanted[i].gal_per_h * ul_in_gal), &run_s, NULL),
			NULL);
		check_int(run_s, wanted[i].minutes * 60, "seconds");
	}
}

/* --- full-grown trees in Utah: how many gallons, how often? --- */

/* Two inches a week in high summer over 20 x 20 ft, and over a round crown 20 ft across. */
static void two_inches_over_a_square_and_over_a_circle(void **state)
{
	const double inch_mm = 25.4, ft_m = 0.3048, l_in_gal = 3.785411784;
	double litres = 0, circle_m2 = 0;

	(void)state;
	check_ok(water_litres(2 * inch_mm, 20 * ft_m * 20 * ft_m, 1, &litres, NULL), NULL);
	check_close(litres, 1888, 4, "litres, a square");
	check_close(litres / l_in_gal, 499, 1, "about 500 US gal");
	check_ok(water_canopy_m2(20 * ft_m, &circle_m2, NULL), NULL);
	check_ok(water_litres(2 * inch_mm, circle_m2, 1, &litres, NULL), NULL);
	check_close(litres / l_in_gal, 392, 1, "US gal, a round crown");
	/* a 15 ft crown: 220 gal where a coastal rule gives 100 */
	check_ok(water_canopy_m2(15 * ft_m, &circle_m2, NULL), NULL);
	check_ok(water_litres(2 * inch_mm, circle_m2, 1, &litres, NULL), NULL);
	check_close(litres / l_in_gal, 220, 1, "US gal, 15 ft");
}

/* The same asked of the program: the crown's ground, the square as wide beside it, whose rule. */
static void the_page_gives_the_circle_and_the_square(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_HARD, "A1 apple 2000",
		"A1 spread 20 ft @ 2026-05-01|A1 watered 2 in/wk @ 2026-06-01", "2026-07-12");
	const char *page = told_water(&garden, "A1");

	(void)state;
	check_has(page, "at the roots 390 gal (1500 l) a week", "314 sq ft of a round crown");
	check_has(page, "square bed  500 gal (1900 l), where the ground is 20 ft each way", "400");
	check_has(page, "314 sq ft (29.2 m2) under a round crown", "what it is of");
	check_has(page, "Utah State University", "whose two inches");
	check_has(page, "in high summer", "and when");
	check_has(page, "coastal California", "another rule of another climate");
	check_has(page, "emitters and the flow of one", "gallons an hour are asked");
	check_lacks(page, "time to run", "and no hours without");

	struct tree_water water;
	tree_water_make(garden_story(&garden, "A1"), yard_today(garden.yard), &water);
	check_int(water.ways[0].kind, WAY_OWN, "by the line");
	check_close(water.ways[0].need_l.low * 1e6 / ul_in_gal, 391.7, 0.1, "US gal");
	garden_free(&garden);
}

static void logged_rain_is_taken_off_the_page_s_depth(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_HARD, "A1 apple 2000",
		"A1 spread 20 ft @ 2026-05-01|A1 watered 2 in/wk @ 2026-06-01|rain 0.6 in @ "
		"2026-07-10",
		"2026-07-12");
	const char *page = told_water(&garden, "A1");

	(void)state;
	check_has(page, "2.0 in, less 0.5 in of rain that counts: 1.5 in", "after the first tenth");
	check_has(page, "at the roots 290 gal (1100 l) a week", "of 390");
	garden_free(&garden);
}

/* A gallon of Britain is a fifth more, and named; a litre stands with either. */
static void imperial_gallons_are_named(void **state)
{
	struct garden garden;
	struct told_page page, other;
	struct fault why = {0};
	told(&garden, AT_COOL, "A1 apple 2000",
		"A1 spread 6.1 m @ 2026-05-01|A1 watered 50 mm/wk @ 2026-06-01", "2026-07-12");
	struct tree tree = garden_find(&garden, "A1");

	(void)state;
	told_page_open(&page, &garden);
	page.printer.units = UNITS_SI;
	page.printer.numbers.gallon = GALLON_IMPERIAL;
	check_ok(print_water(&page.printer, garden.yard, tree.id, &why), &why);
	const char *text = told_page_close(&page, &garden);
	check_has(text, "1500 l (320 imp gal) a week", "named");
	check_lacks(text, ", US)", "not the other");
	told_page_open(&other, &garden);
	other.printer.units = UNITS_SI;
	other.printer.numbers.gallon = GALLON_UNSET;
	check_ok(print_water(&other.printer, garden.yard, tree.id, &why), &why);
	check_has(told_page_close(&other, &garden), "1500 l (390 gal, US) a week", "said which");
	garden_free(&garden);
}

/* Half an inch of rain of the two: what is left is told by what the tree has of it. */
static void rain_is_taken_off_the_weekly_depth(void **state)
{
	double had_mm = 0, litres = 0;

	(void)state;
	check_ok(water_rain_of_day_mm(12.7, &had_mm, NULL), NULL);
	assert_true(had_mm > 0 && had_mm < 12.7);
	check_ok(water_litres(50.8 - had_mm, 37.16, 1, &litres, NULL), NULL);
	assert_true(litres < 1888);
}

static void a_depth_is_kept_as_a_depth_with_its_rate(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_HARD, "A1 apple 2000", "", "2026-07-12");
	const char *answer = told_answer(&garden, "A1 watered 2 in/wk");

	(void)state;
	check_has(answer, "125 gal on 100 square feet", "in plain figures");
	check_has(answer, "2 in is a rate a week", "not a watering of that day");
	check_close(gallons(&garden), -1, 0, "no gallons without ground");
	garden_free(&garden);
}

/* A gallon is the place's own: 20 in the States and 20 in Britain differ by a fifth. */
static void gallons_are_those_of_the_place(void **state)
{
	struct garden garden;
	struct place place;
	log_case_place(AT_COOL, false, &place);
	garden_make_at(&garden, &place, "2026-07-12");
	garden_tree(&garden, "A1", "apple", "2000", "");
	garden_log(&garden, "A1 watered 20 gal");

	(void)state;
	check_close(gallons(&garden), 20, 0.01, "US");
	garden_log(&garden, "A1 watered 20 imperial gal @ 2026-07-12");
	check_close(gallons(&garden), 24.02, 0.02, "imperial, in US gallons");
	garden_free(&garden);
}

static void gallons_for_the_yard_are_not_shared_out(void **state)
{
	struct garden garden;
	told(&garden, AT_LITTLE, "A1 apricot 2018;A2 apricot 2018",
		"all watered 40 gal total @ 2026-07-10", "2026-07-12");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	for (int32_t i = 0; i < dossier->entry_count; i++)
		assert_false(water_volume_of_entry(dossier->entries[i], NULL).known);
	garden_free(&garden);
}

/* --- a frost night in a peach's bloom --- */

static void a_frost_line_is_the_weather_of_its_day(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 peach 2018;A2 lemon 2018",
		"A1 full bloom @ 2026-03-10|frost 25 F @ 2026-03-11", "2026-03-12");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "frost-in-bloom");

	(void)state;
	assert_non_null(flag);
	check_int(log_case_count(&flags, "frost-in-bloom"), 1, "the lemon has no such table");
	check_text(flag->label, "A1", "whose");
	check_has(flag->says, "30 minutes", "what the table is of");
	/* loss of flowers is not said as loss of crop */
	assert_null(strstr(flag->says, "crop"));
	assert_false(flag->crop_at_risk_mg.known);
	garden_free(&garden);
}

/* --- a lemon over 12 ft on a fence in a frost pocket of northern California, early December: 29 F
 * is forecast, the site runs a few degrees colder; sheets and heat lamps; shall it be cut lower
 * now? --- */

static void twenty_nine_forecast_is_never_a_recorded_minimum(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 peach 2018", "A1 full bloom @ 2026-03-10", "2026-03-10");
	const char *answer = told_answer(&garden, "frost 25 F forecast @ 2026-03-11");

	(void)state;
	check_has(answer, "forecast", "kept as such");
	check_lacks(answer, "flagged", "a day to come is what a forecast is of");
	for (int day = 10; day <= 13; day++) {
		char today[16];

		snprintf(today, sizeof today, "2026-03-%02d", day);
		garden_today(&garden, today);
		struct flags flags = log_case_flags(&garden);
		check_silent(&flags, "frost-in-bloom");
		check_silent(&flags, "entry-odd");
	}
	/* what came is another line */
	garden_log(&garden, "frost 25 F @ 2026-03-11");
	struct flags flags = log_case_flags(&garden);
	assert_non_null(log_case_find(&flags, "frost-in-bloom"));
	garden_free(&garden);
}

static void a_stored_forecast_is_no_observed_frost_either(void **state)
{
	struct garden garden;
	struct fault why = {0};
	bool was_same;
	told(&garden, AT_WET_WINTER, "A1 apple 2012",
		"A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10",
		"2027-02-10");
	struct weather_day night = {.day = garden_day("2027-02-10"),
		.station = "hill",
		.forecast = true,
		.min_decic = known_i32(-17)};

	(void)state;
	for (int turn = 0; turn < 2; turn++) {
		check_ok(store_act_begin(garden.store, ACT_WORK, "weather", &why), &why);
		check_ok(store_weather_day_put(garden.store, &night, &was_same, &why), &why);
		check_ok(store_act_commit(garden.store, &why), &why);
		garden_look(&garden);
		struct flags flags = log_case_flags(&garden);
		const char *action = log_case_find(&flags, "shape-cut-due")->action;
		if (night.forecast)
			check_lacks(action, "Not today", "forecast");
		else
			check_has(action, "Not today: frost.", "observed");
		night.forecast = false;
	}
	garden_free(&garden);
}

static void a_pocket_keeps_how_much_colder_it_runs(void **state)
{
	struct garden garden;
	struct fault why = {0};
	told(&garden, AT_WET_WINTER, "", "", "2026-12-03");
	garden_tree(&garden, "L1", "lemon", "2010", "fence");
	struct spot spot;
	check_ok(store_spot_find(garden.store, "fence", &spot, &why), &why);
	spot.offset_decic = -17; /* 3 degrees F */
	check_ok(store_act_begin(garden.store, ACT_WORK, "offset", &why), &why);
	check_ok(store_spot_save(garden.store, &spot, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);

	(void)state;
	check_int(garden_story(&garden, "L1")->spot->offset_decic, -17, "kept with the spot");
	check_has(told_tree(&garden, "L1"), "in spot fence, which runs 3 F colder than the place",
		"shown as it was told");
	/* lowering it before the night that is forecast */
	garden_log(&garden, "frost 29 F forecast @ 2026-12-04");
	const char *answer = told_ask(&garden, "L1 cut height 20% of crown");
	check_has(answer, "act   L1", "ill-timed");
	check_has(answer,
		"29 F is forecast for 4 December 2026, and this spot runs 3 F colder: about 26 F",
		"forecast and offset");
	check_has(answer, "until the frost is past and new growth shows what is alive", "wait");
	check_has(answer, "Plan it for then", "a dated plan is offered");
	check_lacks(answer, "Frost came", "nothing came yet");
	garden_free(&garden);
}

/* The night is past and nobody wrote what came: the forecast is no minimum of that night. */
static void a_forecast_that_is_past_holds_nothing_against_a_cut(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "L1 lemon 2010", "frost 20 F forecast @ 2026-12-04",
		"2026-12-06");
	const char *answer = told_ask(&garden, "L1 cut height 20% of crown");

	(void)state;
	check_lacks(answer, "20 F", "never a recorded minimum");
	check_lacks(answer, "act   L1", "no alarm by it");
	garden_log(&garden, "frost 20 F @ 2026-12-04");
	check_has(told_ask(&garden, "L1 cut height 20% of crown"), "20 F on 4 December 2026",
		"what came is");
	garden_free(&garden);
}

static void lamps_under_cloth_hear_of_fire_not_of_praise(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 lemon 2010", "", "2026-12-03");

	(void)state;
	check_has(told_answer(&garden, "A1 covered sheets and heat lamps"), "alight", "fire");
	check_lacks(told_answer(&garden, "A1 covered sheets"), "alight", "sheets alone");
	garden_free(&garden);
}

static void lowering_is_planned_for_after_the_last_frost(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 lemon 2010",
		"A1 plan cut height to 8 ft @ 2027-03-20 ; after the last frost", "2026-12-03");

	(void)state;
	struct flags flags = log_case_flags(&garden);
	check_silent(&flags, "plan-due");
	garden_today(&garden, "2027-03-20");
	flags = log_case_flags(&garden);
	check_has(log_case_find(&flags, "plan-due")->says, "after the last frost", "it comes back");
	garden_free(&garden);
}

static void a_winter_cut_on_the_lemon_hears_to_wait(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 lemon 2010", "frost 29 F forecast @ 2026-12-04",
		"2026-12-03");
	const char *answer = told_ask(&garden, "A1 cut height 20% of crown");

	(void)state;
	check_has(answer, "no cuts until spring growth shows what is dead", "after a freeze");
	check_has(answer, "Next clear for this cut: 15 February", "when");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_time_every_day_is_no_amount_and_is_told),
		cmocka_unit_test(thirty_five_minutes_is_a_time_not_an_amount),
		cmocka_unit_test(with_emitters_and_flow_it_is_seven_gallons),
		cmocka_unit_test(with_no_tree_before_the_verb_it_is_asked_for_whom),
		cmocka_unit_test(the_wanted_amount_is_told_by_the_emitters_there_are),
		cmocka_unit_test(rock_over_the_roots_gives_way_to_wood_chip),
		cmocka_unit_test(the_hours_that_a_wanted_amount_takes),
		cmocka_unit_test(two_inches_over_a_square_and_over_a_circle),
		cmocka_unit_test(the_page_gives_the_circle_and_the_square),
		cmocka_unit_test(logged_rain_is_taken_off_the_page_s_depth),
		cmocka_unit_test(imperial_gallons_are_named),
		cmocka_unit_test(rain_is_taken_off_the_weekly_depth),
		cmocka_unit_test(a_depth_is_kept_as_a_depth_with_its_rate),
		cmocka_unit_test(gallons_are_those_of_the_place),
		cmocka_unit_test(gallons_for_the_yard_are_not_shared_out),
		cmocka_unit_test(a_frost_line_is_the_weather_of_its_day),
		cmocka_unit_test(twenty_nine_forecast_is_never_a_recorded_minimum),
		cmocka_unit_test(a_stored_forecast_is_no_observed_frost_either),
		cmocka_unit_test(a_pocket_keeps_how_much_colder_it_runs),
		cmocka_unit_test(a_forecast_that_is_past_holds_nothing_against_a_cut),
		cmocka_unit_test(lamps_under_cloth_hear_of_fire_not_of_praise),
		cmocka_unit_test(lowering_is_planned_for_after_the_last_frost),
		cmocka_unit_test(a_winter_cut_on_the_lemon_hears_to_wait),
	};

	return cmocka_run_group_tests_name("water and frost as told", tests, NULL, NULL) != 0;
}
