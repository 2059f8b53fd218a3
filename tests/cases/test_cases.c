/* SPDX-License-Identifier: MIT */
/* Situations that growers told, each with what a good answer says and what it must not. The yards
 * are invented; figures are those of the published sources the almanac names. */
#include "support/log_case.h"

#include "core/text.h"
#include "report/print.h"

/* A yard on a day; in the south the days are those of the south. */
static void tell(struct garden *garden, enum log_place place, const char *trees, const char *lines,
	const char *today)
{
	const struct log_case told = {
		.place = place, .trees = trees, .lines = lines, .today = today};

	log_case_make(garden, &told, false);
}

static void tell_south(struct garden *garden, enum log_place place, const char *trees,
	const char *lines, const char *today)
{
	const struct log_case told = {
		.place = place, .trees = trees, .lines = lines, .today = today, .as_written = true};

	log_case_make(garden, &told, true);
}

static void check_silent(const struct flags *flags, const char *rule)
{
	const struct flag *flag = log_case_find(flags, rule);

	check_text(flag == NULL ? "" : flag->says, "", rule);
}

static struct season_report report_of(struct garden *garden, const char *label)
{
	struct fault why = {0};
	struct season_report report = {.count = 0};
	struct tree tree = garden_find(garden, label);
	const struct season_options options = {.tree_id = arena_text(garden->arena, tree.id)};

	check_ok(season_report_make(garden->yard, &options, garden->arena, &report, &why), &why);
	return report;
}

static const struct season_line *season_of(const struct season_report *report, int32_t year)
{
	for (int32_t i = 0; i < report->count; i++)
		if (report->lines[i].season.year == year)
			return &report->lines[i];
	return NULL;
}

/* --- citrus: hundreds in even years, barely a dozen in odd ones --- */

static void vague_counts_still_give_an_index(void **state)
{
	struct garden garden;
	tell(&garden, AT_HUMID, "A1 orange 2003",
		"A1 picked hundreds of fruit @ season 2010/11|A1 picked ~12 fruit @ season 2011/12|"
		"A1 picked hundreds of fruit @ season 2012/13|A1 picked ~12 fruit @ season 2013/14|"
		"A1 picked hundreds of fruit @ season 2014/15",
		"2015-07-15");
	struct season_report report = report_of(&garden, "A1");
	const struct season_line *line = season_of(&report, 2014);

	(void)state;
	assert_non_null(line);
	check_int(line->alternation.pairs, 4, "pairs");
	check_close(line->alternation.index, (200.0 - 12) / (200 + 12), 0.005, "index");
	garden_free(&garden);
}

/* Hundreds and a dozen by turns: the next heavy year is named, the light one asks for nothing. */
static void five_years_of_turns_name_the_next_heavy_one(void **state)
{
	struct garden garden;
	tell(&garden, AT_HUMID, "A1 orange 2003",
		"A1 picked hundreds of fruit @ season 2010/11|A1 picked ~12 fruit @ season 2011/12|"
		"A1 picked hundreds of fruit @ season 2012/13|A1 picked ~12 fruit @ season 2013/14|"
		"A1 picked hundreds of fruit @ season 2014/15",
		"2015-07-15");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "alternate-off");

	(void)state;
	assert_non_null(flag);
	check_has(flag->says, "2015/16 is likely a light year", "the year to come");
	check_has(flag->says, "5 seasons", "how many it rests on");
	check_has(flag->action, "Nothing to thin", "the light year");
	check_has(flag->action, "2016/17", "the next heavy one");
	check_silent(&flags, "alternate-on");
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
	check_has(flag->action, "about an inch", "by the size of the fruit, not by a date");
	garden_free(&garden);
}

static void two_years_are_no_pattern(void **state)
{
	struct garden garden;
	tell(&garden, AT_HUMID, "A1 orange 2003",
		"A1 picked 200 fruit @ season 2013/14|A1 picked 12 fruit @ season 2014/15",
		"2015-07-15");
	struct season_report report = report_of(&garden, "A1");
	char words[400];

	(void)state;
	for (int32_t i = 0; i < report.count; i++) {
		season_line_words(&report.lines[i], UNITS_US, words, sizeof words);
		assert_null(strstr(words, "biennial"));
		assert_null(strstr(words, "alternate"));
		struct flags flags = log_case_flags(&garden);
		check_silent(&flags, "alternate-on");
		check_silent(&flags, "alternate-off");
		for (int32_t c = 0; c < report.lines[i].candidate_count; c++)
			assert_null(strstr(report.lines[i].candidates[c], "swing"));
	}
	garden_free(&garden);
}

/* --- a peach in Victoria: two grades, a loss on the ground, regrafted once --- */

static void grades_add_up_and_the_loss_stands_apart(void **state)
{
	struct garden garden;
	tell_south(&garden, AT_WET_WINTER, "A1 peach 2016",
		"A1 picked 26 kg first grade @ 2026-01-20|A1 picked 9 kg second grade @ 2026-01-21 "
		"; birds|"
		"A1 lost 4 kg spoiled @ 2026-01-22",
		"2026-06-01");
	struct season_report report = report_of(&garden, "A1");
	const struct season_line *line = season_of(&report, 2025);

	(void)state;
	assert_non_null(line);
	check_text(line->season_name, "2025/26", "named by the window that opened");
	check_int(amount_sum_point(&line->season.picked).value, 35000000, "picked");
	check_int(amount_sum_point(&line->season.lost).value, 4000000, "lost");
	check_int(season_total_mg(&line->season).value, 39000000, "borne");
	garden_free(&garden);
}

static void earlier_seasons_stay_with_the_earlier_cultivar(void **state)
{
	struct garden garden;
	tell_south(&garden, AT_WET_WINTER, "A1 peach 2010",
		"A1 picked 20 kg @ 2019-01-20|A1 picked 22 kg @ 2020-01-20", "2026-06-01");

	(void)state;
	garden_identify(&garden, "A1", "", "Elberta", "");
	garden_identify(&garden, "A1", "", "Blackburn", "2021-08-01");
	const struct dossier *dossier = garden_story(&garden, "A1");
	check_text(dossier->kind.cultivar, "Blackburn", "now");
	check_int(dossier->expected.seasons, 0, "the new one has given nothing yet");
	struct tree_kind before = {.name = ""};
	struct fault why = {0};
	check_ok(yard_kind(garden.yard, dossier->tree.id, garden_day("2020-01-20"), &before, &why),
		&why);
	check_text(before.cultivar, "Elberta", "then");
	garden_free(&garden);
}

/* --- three in one hole --- */

static void a_pick_off_the_clump_is_not_shared_out(void **state)
{
	struct garden garden;
	tell(&garden, AT_HUMID, "", "", "2026-11-20");

	(void)state;
	garden_tree(&garden, "T1", "peach", "2015", "the hole");
	garden_tree(&garden, "T2", "peach", "2015", "the hole");
	garden_tree(&garden, "T3", "peach", "2015", "the hole");
	garden_log(&garden, "spot the hole picked 30 kg @ 2026-07-01");
	garden_log(&garden, "T2 cut shape 30% of shoots @ 2026-02-20");
	for (int i = 1; i <= 3; i++) {
		char label[4];

		snprintf(label, sizeof label, "T%d", i);
		const struct dossier *dossier = garden_story(&garden, label);
		check_int(dossier->expected.seasons, 0, "no figure of its own");
		check_int(dossier->entry_count, i == 2 ? 1 : 0, "its own work");
	}
	garden_free(&garden);
}

static void one_of_the_three_dies_alone(void **state)
{
	struct garden garden;
	tell(&garden, AT_HUMID, "", "", "2026-11-20");

	(void)state;
	garden_tree(&garden, "T1", "peach", "2015", "the hole");
	garden_tree(&garden, "T2", "peach", "2015", "the hole");
	garden_log(&garden, "T1 died drought @ 2026-08-01");
	struct tree left = garden_find(&garden, "T2");
	check_text(left.gone.text, "", "still there");
	garden_free(&garden);
}

/* --- a graft that turned out to be something else --- */

static void a_graft_loses_its_name_and_keeps_it_on_record(void **state)
{
	struct garden garden;
	tell(&garden, AT_HUMID, "W1 apple 1990", "W1 grafted Arkansas Black @ 2020-03-10",
		"2026-08-20");
	struct fault why = {0};
	struct identity *rows;
	int32_t count;
	bool kept = false;

	(void)state;
	const struct new_identity unknown = {.cultivar = "unknown, early, soft",
		.sure_given = true,
		.sure = SURE_UNKNOWN,
		.reason = "dropped by itself in July, soft as a summer apple"};
	struct tree graft = garden_find(&garden, "W1/Arkansas Black");
	check_ok(work_identify(garden.yard, graft.id, &unknown, garden.asked, &why), &why);
	garden_look(&garden);
	check_ok(store_identity_list(garden.store, graft.id, garden.arena, &rows, &count, &why),
		&why);
	for (int32_t i = 0; i < count; i++)
		kept = kept || strcmp(rows[i].name, "Arkansas Black") == 0;
	assert_true(kept);
	const struct dossier *now = garden_story(&garden, "W1/Arkansas Black");
	assert_string_not_equal(now->kind.cultivar, "Arkansas Black");
	check_text(garden_story(&garden, "W1")->kind.cultivar, "", "the host stays as it was");
	garden_free(&garden);
}

/* --- harm that must not come from here --- */

static void put_weather(struct garden *garden, const struct weather_day *day)
{
	struct fault why = {0};
	bool was_same;

	check_ok(store_act_begin(garden->store, ACT_WORK, "weather", &why), &why);
	check_ok(store_weather_day_put(garden->store, day, &was_same, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void a_forecast_frost_is_not_an_observed_one(void **state)
{
	struct garden garden;
	tell(&garden, AT_WET_WINTER, "A1 apple 2012",
		"A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10",
		"2027-02-10");
	struct weather_day night = {.day = garden_day("2027-02-10"),
		.station = "hill",
		.forecast = true,
		.min_decic = known_i32(-17)};

	(void)state;
	put_weather(&garden, &night);
	struct flags flags = log_case_flags(&garden);
	assert_null(strstr(log_case_find(&flags, "shape-cut-due")->action, "Not today"));
	night.forecast = false;
	put_weather(&garden, &night);
	flags = log_case_flags(&garden);
	check_has(log_case_find(&flags, "shape-cut-due")->action, "Not today: frost.", "observed");
	garden_free(&garden);
}

static void minutes_of_water_are_no_volume(void **state)
{
	struct garden garden;
	tell(&garden, AT_WET_WINTER, "A1 apricot 2012", "A1 watered 35 min @ 2026-07-01",
		"2026-07-02");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	const struct entry *water = dossier_last(dossier, KIND_WATER, garden_day("2026-07-02"));
	assert_non_null(water);
	assert_null(entry_amount(water, FIELD_VOLUME));
	assert_non_null(entry_amount(water, FIELD_DURATION));
	garden_free(&garden);
}

static void a_guess_never_becomes_a_fact_by_being_saved(void **state)
{
	struct garden garden;
	tell(&garden, AT_WET_WINTER, "A1 loquat? 2012",
		"A1 picked 5 kg, last @ 2026-05-01|A1 cut shape 20% of crown @ 2026-10-05",
		"2026-10-06");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	check_int(dossier->kind.sure, SURE_SUSPECTED, "still a guess");
	struct flags flags = log_case_flags(&garden);
	check_has(log_case_find(&flags, "flower-wood")->says, "This rests on a guess", "said");
	garden_free(&garden);
}

/* Every line of these files that has one of the words has the other beside it. */
static void check_beside(const char *const *arguments, const char *beside)
{
	char *rest = NULL;
	struct spawned found = command_run(NULL, arguments);

	for (char *line = strtok_r(found.out, "\n", &rest); line != NULL;
		line = strtok_r(NULL, "\n", &rest))
		check_has(line, beside, "a caution");
	free(found.out);
	free(found.err);
}

static void preserving_is_only_named_with_where_to_look(void **state)
{
	const char *arguments[] = {"grep", "-rniE", "canning|water bath|to bottle",
		"share/almanac/facts.csv", "src", NULL};

	(void)state;
	check_beside(arguments, "tested recipe");
}

/* Tools are cleaned with alcohol; bleach is named only with the warning beside it. */
static void bleach_never_stands_without_its_warning(void **state)
{
	const char *arguments[] = {"grep", "-rniE", "bleach", "src", "share", "man", NULL};

	(void)state;
	check_beside(arguments, "never");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(vague_counts_still_give_an_index),
		cmocka_unit_test(five_years_of_turns_name_the_next_heavy_one),
		cmocka_unit_test(two_years_are_no_pattern),
		cmocka_unit_test(grades_add_up_and_the_loss_stands_apart),
		cmocka_unit_test(earlier_seasons_stay_with_the_earlier_cultivar),
		cmocka_unit_test(a_pick_off_the_clump_is_not_shared_out),
		cmocka_unit_test(one_of_the_three_dies_alone),
		cmocka_unit_test(a_graft_loses_its_name_and_keeps_it_on_record),
		cmocka_unit_test(a_forecast_frost_is_not_an_observed_one),
		cmocka_unit_test(minutes_of_water_are_no_volume),
		cmocka_unit_test(a_guess_never_becomes_a_fact_by_being_saved),
		cmocka_unit_test(preserving_is_only_named_with_where_to_look),
		cmocka_unit_test(bleach_never_stands_without_its_warning),
	};
	return cmocka_run_group_tests_name("what growers told", tests, NULL, NULL) != 0;
}
