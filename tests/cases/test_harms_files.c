/* SPDX-License-Identifier: MIT */
/* How a wrong program does harm, by way of a file: trees, picks and weather brought in are held to
 * what lines are held to. Nothing that a line may not do comes in by a column. */
#include "support/told_file.h"

static const struct import_options trees_of = {
	.columns =
		"label=label,species=kind,cultivar=name,planted=planted,note=note,hazard=hazard"};
static const struct import_options picks_of = {
	.columns = "tree=tree,day=day,amount=amount,grade=grade,note=note", .unit = "kg"};
static const struct import_options days_of = {
	.columns = "day=day,min=min,max=max,rain=rain,wind=wind", .units = UNITS_SI};

#define TREES "label,kind,name,planted,note,hazard\n"
#define PICKS "tree,day,amount,grade,note\n"
#define WEATHER "day,min,max,rain,wind\n"

/* Every month of a year says none of the words, but for lines that hold the grower's own. */
static void check_year(struct garden *garden, int year, const char *const *never, const char *own)
{
	for (int month = 1; month <= 12; month++) {
		char day[16];

		snprintf(day, sizeof day, "%d-%02d-15", year, month);
		garden_today(garden, day);
		char *review = (char *)(uintptr_t)told_review(garden, true);
		char *rest = NULL;
		for (char *line = strtok_r(review, "\n", &rest); line != NULL;
			line = strtok_r(NULL, "\n", &rest))
			for (const char *const *word = never; *word != NULL; word++)
				if (own[0] == '\0' || strstr(line, own) == NULL)
					check_lacks(line, *word, day);
	}
}

/* --- food that poisons, fruit that was sprayed or fouled --- */

static void a_white_peach_of_a_file_brings_no_advice_on_jars(void **state)
{
	static const char *const never[] = {"canning", "water bath", "bottl", "jars", NULL};
	struct garden garden;
	told(&garden, AT_HUMID, "", "", "2026-06-25");
	told_file(&garden, FILE_TREES,
		TREES "A1,peach,white peach,2015,for canning,\nA2,fig,Celeste,2015,,\n", &trees_of);
	told_file(&garden, FILE_PICKS,
		PICKS "A1,2025-07-10,20 kg,,canned 12 jars\nA2,2025-08-10,9 kg,,\n", &picks_of);

	(void)state;
	check_year(&garden, 2026, never, "canned 12");
	check_lacks(told_ask(&garden, "A1 picked 9 kg"), "canning", "asked");
	garden_free(&garden);
}

static void kernels_in_a_note_of_a_file_are_no_use(void **state)
{
	static const char *const never[] = {"kernel", "roast", NULL};
	struct garden garden;
	told(&garden, AT_HUMID, "A1 apricot 2012", "", "2026-06-25");
	told_file(&garden, FILE_PICKS, PICKS "A1,2025-06-10,20 kg,,kernels roasted\n", &picks_of);

	(void)state;
	check_year(&garden, 2026, never, "kernels roasted");
	garden_free(&garden);
}

static void a_pick_of_a_file_inside_the_label_s_days_is_told(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 peach 2015",
		"A1 sprayed sulfur, 7 days to harvest @ 2026-07-01", "2026-07-09");
	told_file(&garden, FILE_PICKS, PICKS "A1,2026-07-03,5 kg,,\nA1,2026-07-08,5 kg,,\n",
		&picks_of);
	struct flags flags = log_case_flags(&garden);

	(void)state;
	check_int(log_case_count(&flags, "spray-interval"), 1, "the one inside");
	const struct flag *flag = log_case_find(&flags, "spray-interval");
	check_int(flag->urgency, URGENCY_ACT, "act");
	check_has(flag->says, "3 July 2026", "which");
	garden_free(&garden);
}

/* The spray is typed in the evening, the file of the week was in by then. */
static void a_spray_typed_after_the_file_is_held_against_it(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 peach 2015", "", "2026-07-04");
	told_file(&garden, FILE_PICKS, PICKS "A1,2026-07-03,5 kg,,\n", &picks_of);
	garden_log(&garden, "A1 sprayed sulfur, 7 days to harvest @ 2026-07-01");
	struct flags flags = log_case_flags(&garden);

	(void)state;
	assert_non_null(log_case_find(&flags, "spray-interval"));
	garden_free(&garden);
}

static void windfalls_of_a_file_after_raw_manure_are_told_of(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2010",
		"A1 fed bucket of fresh chicken manure @ 2026-08-01", "2026-11-12");
	told_file(&garden, FILE_PICKS, PICKS "A1,2026-11-10,10 kg,windfalls,\n", &picks_of);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "manure-interval");

	(void)state;
	assert_non_null(flag); /* 101 days: enough for fruit clear of the soil, not for this */
	check_has(flag->says, "120", "fruit on the ground");
	garden_free(&garden);
}

/* --- falls, soil, quarantine --- */

static void a_hazard_of_a_file_stands_first(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "", "", "2027-02-10");
	told_file(&garden, FILE_TREES, TREES "A1,apple,,2005,,power line through the top\n",
		&trees_of);
	garden_log(&garden, "A1 cut shape 10% of crown @ 2025-02-10");
	garden_log(&garden, "A1 cut shape 10% of crown @ 2026-02-10");
	struct flags flags = log_case_flags(&garden);

	(void)state;
	assert_true(text_starts(
		log_case_find(&flags, "shape-cut-due")->action, "power line through the top"));
	assert_true(text_starts(told_tree(&garden, "A1"), "! power line"));
	garden_free(&garden);
}

/* A station's frost, rain or wind holds a cut back as a logged one does; its forecast does not. */
static void weather_of_a_file_holds_a_cut_back(void **state)
{
	static const struct {
		const char *row;
		bool forecast, bad;
	} days[] = {
		{"2027-02-10,-2,6,0,\n", false, true},
		{"2027-02-10,3,6,10,\n", false, true},
		{"2027-02-10,3,12,0,\n", false, false},
		{"2027-02-10,-2,6,10,\n", true, false},
	};

	(void)state;
	for (size_t i = 0; i < sizeof days / sizeof days[0]; i++) {
		struct garden garden;
		struct import_options options = days_of;
		char text[80];
		told(&garden, AT_WET_WINTER, "A1 apple 2005",
			"A1 cut shape 10% of crown @ 2025-02-10|"
			"A1 cut shape 10% of crown @ 2026-02-10",
			"2027-02-10");

		options.kind = days[i].forecast ? "forecast" : "observed";
		snprintf(text, sizeof text, WEATHER "%s", days[i].row);
		told_file(&garden, FILE_WEATHER, text, &options);
		struct flags flags = log_case_flags(&garden);
		const struct flag *flag = log_case_find(&flags, "shape-cut-due");
		assert_non_null(flag);
		check_int(text_starts(flag->action, "Not today: "), days[i].bad, days[i].row);
		check_lacks(flag->says, "verdue", "no pressing");
		garden_free(&garden);
	}
}

static void old_orchard_land_of_a_file_is_to_be_tested(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "", "", "2026-04-01");
	told_file(&garden, FILE_TREES, TREES "A1,apple,,2026-03-10,old orchard land,\n", &trees_of);
	struct flags flags = log_case_flags(&garden);

	(void)state;
	check_has(log_case_find(&flags, "old-orchard-soil")->action, "soil tested", "said");
	garden_free(&garden);
}

static void citrus_wood_told_of_in_a_file_hears_of_quarantine(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 lemon 2010", "", "2026-03-12");
	told_file(&garden, FILE_PICKS, PICKS "A1,2026-03-10,2 kg,,gave scions away with them\n",
		&picks_of);
	struct flags flags = log_case_flags(&garden);

	(void)state;
	check_has(log_case_find(&flags, "quarantine-check")->action,
		"Ask your plant health authority before", "first");
	garden_free(&garden);
}

/* --- wrong hemisphere, wrong kind, wrong name --- */

static void trees_of_a_file_get_no_date_without_a_hemisphere(void **state)
{
	struct garden garden;
	told(&garden, AT_NOWHERE, "", "", "2026-01-12");
	told_file(&garden, FILE_TREES, TREES "A1,apricot,,2010,,\nA2,loquat,,2010,,\n", &trees_of);

	(void)state;
	for (int i = 1; i <= 2; i++) {
		char line[48], label[4];

		snprintf(label, sizeof label, "A%d", i);
		snprintf(line, sizeof line, "A%d cut shape 10%% of crown", i);
		check_lacks(told_ask(&garden, line), "clear ", "no date");
		check_lacks(told_tree(&garden, label), "(almanac)", "nor on its page");
	}
	garden_free(&garden);
}

static void a_tree_of_a_file_without_a_kind_gets_no_season(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "", "", "2026-01-12");
	told_file(&garden, FILE_TREES, TREES "A1,,Unknown #2,2010,,\n", &trees_of);
	const char *answer = told_ask(&garden, "A1 cut shape 10% of crown");

	(void)state;
	check_has(answer, "stone or pip", "find out first");
	check_lacks(answer, "clear ", "no date");
	check_lacks(answer, "No rule speaks", "no leave");
	garden_free(&garden);
}

/* "plum" and "Japanese plum" of a column are asked with the line of the file, and stay in doubt,
 * however often the file comes. */
static void a_guess_of_a_file_stays_a_guess(void **state)
{
	static const char text[] =
		TREES "A1,plum,,2010,,\nA2,Japanese plum,,2010,,\nA3,apple,Fuji?,2010,,\n";
	struct garden garden;
	told(&garden, AT_COOL, "", "", "2026-01-12");
	const char *said = told_file(&garden, FILE_TREES, text, &trees_of);

	(void)state;
	check_has(said, "line 2", "asked");
	check_has(said, "line 3", "asked");
	for (int turn = 0; turn < 3; turn++) {
		assert_null(garden_story(&garden, "A1")->kind.species);
		assert_true(garden_story(&garden, "A1")->kind.candidate_count > 1);
		assert_null(garden_story(&garden, "A2")->kind.species);
		check_int(garden_story(&garden, "A3")->kind.cultivar_sure != SURE_CERTAIN, true,
			"Fuji?");
		told_file(&garden, FILE_TREES, text, &trees_of);
	}
	check_lacks(told_ask(&garden, "A1 cut shape 10% of crown"), "No rule speaks", "no leave");
	garden_free(&garden);
}

/* --- units: overdose, drought --- */

static void a_bare_figure_of_a_file_is_refused_not_guessed(void **state)
{
	struct garden garden;
	enum status status = STATUS_OK;
	struct import_options bare = picks_of;
	told(&garden, AT_COOL, "A1 apple 2010", "", "2026-10-12");
	bare.unit = NULL;
	const char *said =
		told_file_try(&garden, FILE_PICKS, PICKS "A1,2026-09-10,40,,\n", &bare, &status);

	(void)state;
	check_int(status, STATUS_SYNTAX, "refused");
	check_has(said, "lb or kg", "which of the two");
	char *kept = garden_sql(&garden, "SELECT count(*) FROM entry");
	check_text(kept, "0\n", "nothing written");
	free(kept);
	garden_free(&garden);
}

/* A girth in a pick's column, a minus, words that are no number: none becomes a weight. */
static void what_is_no_weight_never_becomes_one(void **state)
{
	static const char *const cells[] = {
		"-3 kg", "NaN", "inf", "0x10", "1e9", "41 cm", "35 min"};

	(void)state;
	for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
		struct garden garden;
		enum status status = STATUS_OK;
		char text[80];
		told(&garden, AT_COOL, "A1 apple 2010", "", "2026-10-12");

		snprintf(text, sizeof text, PICKS "A1,2026-09-10,%s,,\n", cells[i]);
		told_file_try(&garden, FILE_PICKS, text, &picks_of, &status);
		if (status == STATUS_OK)
			print_message("taken: %s\n", cells[i]);
		check_int(status != STATUS_OK, true, cells[i]);
		garden_free(&garden);
	}
}

/* Rain and frost are in the unit that is said for the file: a file in inches is no drought of
 * millimetres, and one in Fahrenheit no frost of Celsius. */
static void weather_is_read_in_the_unit_said(void **state)
{
	static const struct {
		enum unit_system units;
		int64_t rain_um;
		int32_t min_decic;
	} readings[] = {{UNITS_SI, 2000, 280}, {UNITS_US, 50800, -22}};

	(void)state;
	for (size_t i = 0; i < 2; i++) {
		struct garden garden;
		struct import_options options = days_of;
		told(&garden, AT_COOL, "A1 apple 2010", "", "2026-07-12");

		options.units = readings[i].units;
		told_file(&garden, FILE_WEATHER, WEATHER "2026-07-10,28,50,2,\n", &options);
		const struct dossier *dossier = garden_story(&garden, "A1");
		check_int(dossier->weather_count, 1, "a day");
		check_int(dossier->weather[0].rain_um.value, readings[i].rain_um, "rain");
		check_int(dossier->weather[0].min_decic.value, readings[i].min_decic, "minimum");
		garden_free(&garden);
	}
}

/* --- a frosted tree, a lost crop --- */

static void a_frost_of_a_file_makes_a_lemon_wait_for_growth(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 lemon 2010", "A1 saw frost damage heavy @ 2027-01-11",
		"2027-01-20");
	told_file(&garden, FILE_WEATHER, WEATHER "2027-01-10,-5,6,0,\n", &days_of);
	const char *answer = told_ask(&garden, "A1 cut shape 20% of crown");

	(void)state;
	check_has(answer, "frosted-wait", "the rule for it");
	check_has(answer, "growth", "until growth shows");
	garden_free(&garden);
}

/* What a cut may cost is worked out of picks that came by a file as of typed ones. */
static void bloom_wood_is_weighed_by_the_picks_of_a_file(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 loquat 2012", "", "2026-10-05");
	told_file(&garden, FILE_PICKS, PICKS "A1,2025-05-01,10 kg,,\nA1,2026-05-01,12 kg,,\n",
		&picks_of);
	struct flags flags = log_case_try(&garden, "A1", "A1 cut shape 20% of crown");
	const struct flag *flag = log_case_find(&flags, "flower-wood");

	(void)state;
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_ACT, "act");
	assert_true(flag->crop_at_risk_mg.known);
	garden_free(&garden);
}

/* --- false pattern, lost words --- */

static void a_blank_of_a_file_is_no_zero_and_a_zero_is_no_blank(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2005", "", "2025-12-01");
	const char *said = told_file(&garden, FILE_PICKS,
		PICKS "A1,2020-09-20,40 kg,,\nA1,2021-09-20,,,\nA1,2022-09-20,42 kg,,\n"
		      "A1,2023-09-20,,,\nA1,2024-09-20,none,,\n",
		&picks_of);
	struct season_report report = told_seasons(&garden, "A1");

	(void)state;
	check_has(said, "2 rows without an amount: not recorded, and not taken for zero", "said");
	for (int32_t year = 2021; year <= 2023; year += 2) {
		const struct season_line *line = told_year(&report, year);

		if (line != NULL)
			assert_false(amount_sum_point(&line->season.picked).known);
	}
	check_int(told_year(&report, 2024)->season.state, SEASON_NONE_SEEN, "said to be none");
	struct flags flags = log_case_flags(&garden);
	check_silent(&flags, "alternate-on");
	check_silent(&flags, "alternate-off");
	garden_free(&garden);
}

static void two_or_three_seasons_of_a_file_are_no_pattern(void **state)
{
	static const char *const never[] = {
		"biennial", "alternate", "light year", "heavy year", NULL};
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2005", "", "2025-12-01");
	told_file(&garden, FILE_PICKS,
		PICKS "A1,2023-09-20,80 kg,,\nA1,2024-09-20,4 kg,,\nA1,2025-09-20,80 kg,,\n",
		&picks_of);

	(void)state;
	check_year(&garden, 2026, never, "");
	garden_free(&garden);
}

static void the_words_of_a_file_survive(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2005", "", "2025-12-01");
	told_file(&garden, FILE_TREES,
		TREES "B1,apple,Reine d\xe2\x80\x99"
		      "Or\xc3\xa9"
		      ",about 1970,\"by the shed, they said\",\n",
		&trees_of);
	told_file(&garden, FILE_PICKS,
		PICKS
		"A1,2025-09-20,~40lbs,seconds,\"they'd split, \xe2\x80\x9csad\xe2\x80\x9d\"\n",
		&picks_of);

	(void)state;
	char *kept = garden_sql(&garden, "SELECT note FROM entry");
	check_text(kept, "they'd split, \xe2\x80\x9csad\xe2\x80\x9d\n", "the note");
	free(kept);
	kept = garden_sql(&garden, "SELECT typed, about FROM amount");
	check_has(kept, "40", "the amount as written");
	check_has(kept, "|1", "about");
	free(kept);
	check_has(told_tree(&garden, "B1"), "by the shed, they said", "of the tree");
	check_has(told_tree(&garden, "B1"), "Reine d\xe2\x80\x99Or\xc3\xa9", "the name");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_white_peach_of_a_file_brings_no_advice_on_jars),
		cmocka_unit_test(kernels_in_a_note_of_a_file_are_no_use),
		cmocka_unit_test(a_pick_of_a_file_inside_the_label_s_days_is_told),
		cmocka_unit_test(a_spray_typed_after_the_file_is_held_against_it),
		cmocka_unit_test(windfalls_of_a_file_after_raw_manure_are_told_of),
		cmocka_unit_test(a_hazard_of_a_file_stands_first),
		cmocka_unit_test(weather_of_a_file_holds_a_cut_back),
		cmocka_unit_test(old_orchard_land_of_a_file_is_to_be_tested),
		cmocka_unit_test(citrus_wood_told_of_in_a_file_hears_of_quarantine),
		cmocka_unit_test(trees_of_a_file_get_no_date_without_a_hemisphere),
		cmocka_unit_test(a_tree_of_a_file_without_a_kind_gets_no_season),
		cmocka_unit_test(a_guess_of_a_file_stays_a_guess),
		cmocka_unit_test(a_bare_figure_of_a_file_is_refused_not_guessed),
		cmocka_unit_test(what_is_no_weight_never_becomes_one),
		cmocka_unit_test(weather_is_read_in_the_unit_said),
		cmocka_unit_test(a_frost_of_a_file_makes_a_lemon_wait_for_growth),
		cmocka_unit_test(bloom_wood_is_weighed_by_the_picks_of_a_file),
		cmocka_unit_test(a_blank_of_a_file_is_no_zero_and_a_zero_is_no_blank),
		cmocka_unit_test(two_or_three_seasons_of_a_file_are_no_pattern),
		cmocka_unit_test(the_words_of_a_file_survive),
	};
	return cmocka_run_group_tests_name(
		       "harm that must not come in by a file", tests, NULL, NULL) != 0;
}
