/* SPDX-License-Identifier: MIT */
/* Situations of water and frost that growers told, typed as lines and read back. The yards are
 * invented; figures are those of the published answers. */
#include "support/log_case.h"

#include "reckon/water.h"

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

static void tell(struct garden *garden, const char *trees, const char *lines, const char *today)
{
	const struct log_case told = {
		.place = AT_WET_WINTER, .trees = trees, .lines = lines, .today = today};

	log_case_make(garden, &told, false);
}

/* --- an apricot under rock mulch, watered 35 minutes every day of a desert summer --- */

static void a_time_every_day_is_no_amount_and_is_told(void **state)
{
	struct garden garden;
	tell(&garden, "A1 apricot 2018", "A1 watered 35 min daily @ 2026-07-10", "2026-07-12");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "water-daily");

	(void)state;
	assert_non_null(flag);
	check_has(flag->action, "at least a day between", "leave a day between");
	check_has(flag->action, "emitters and the flow", "ask for both");
	check_close(gallons(&garden), -1, 0, "no volume of minutes");
	assert_null(strstr(flag->says, "gal"));
	garden_free(&garden);
}

static void with_emitters_and_flow_it_is_seven_gallons(void **state)
{
	struct garden garden;
	tell(&garden, "A1 apricot 2018", "A1 watered 35 min 6 emitters 2 gal/h @ 2026-07-10",
		"2026-07-12");

	(void)state;
	check_close(gallons(&garden), 7, 0.01, "6 x 2 gal/h x 35 min");
	garden_free(&garden);
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

static void gallons_for_the_yard_are_not_shared_out(void **state)
{
	struct garden garden;
	tell(&garden, "A1 apricot 2018;A2 apricot 2018", "all watered 40 gal total @ 2026-07-10",
		"2026-07-12");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	for (int32_t i = 0; i < dossier->entry_count; i++)
		assert_false(water_volume_of_entry(dossier->entries[i], NULL).known);
	garden_free(&garden);
}

/* --- a frost night in a lemon's pocket, and in a peach's bloom --- */

static void a_frost_line_is_the_weather_of_its_day(void **state)
{
	struct garden garden;
	tell(&garden, "A1 peach 2018;A2 lemon 2018",
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

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_time_every_day_is_no_amount_and_is_told),
		cmocka_unit_test(with_emitters_and_flow_it_is_seven_gallons),
		cmocka_unit_test(the_hours_that_a_wanted_amount_takes),
		cmocka_unit_test(gallons_for_the_yard_are_not_shared_out),
		cmocka_unit_test(a_frost_line_is_the_weather_of_its_day),
	};

	return cmocka_run_group_tests_name("water and frost as told", tests, NULL, NULL) != 0;
}
