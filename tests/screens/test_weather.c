/* SPDX-License-Identifier: MIT */
/* The weather on the real program: the demo yard with an invented station beside it. */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "core/date.h"

static const char *row_with(const struct stage *stage, const char *text)
{
	static char row[VT_ROW_SIZE];
	int at = vt_find(stage->pty->screen, text);
	if (at < 0)
		fail_msg("'%s' is not on the screen", text);
	return vt_row(stage->pty->screen, at, row);
}

/* An invented station: a slow wave over the year, a quicker one over the days, each tenth day of
 * rain, no figures in one week of November. */
static void write_station(const char *path)
{
	enum { DAYS = 1100, YEAR = 365, WEEK = 11 };
	static char text[DAYS * 40];
	struct date last = {0};
	struct fault why = {0};
	size_t used = (size_t)snprintf(text, sizeof text, "day,min,max,rain\n");
	check_ok(date_parse_iso("2026-11-24", &last, &why), &why);
	for (int at = DAYS; at-- > 0;) {
		struct date on = date_add_days(last, -at);
		struct date_parts parts = date_parts(on);
		int year = abs((on.day + 200) % YEAR - YEAR / 2) - 60; /* about -60 to 122 */
		int wave = on.day % WEEK * 9;
		char day[DATE_SIZE];
		if (parts.year == 2026 && parts.month == 11 && parts.day >= 8 && parts.day <= 14)
			continue;
		used += (size_t)snprintf(text + used, sizeof text - used, "%s,%.1f,%.1f,%.1f\n",
			date_format(on, day), (year + wave) / 10.0 - 1,
			(2 * year + wave) / 10.0 + 14, on.day % 10 == 0 ? on.day % 7 * 2.5 : 0.0);
	}
	file_write(path, text, used);
}

static void open_weather(struct stage *stage, int rows, int columns, const char *lang)
{
	char path[SCRATCH_PATH_SIZE];
	struct spawned made;
	*stage = (struct stage){.scratch = scratch_make(),
		.options = {.rows = rows, .columns = columns, .lang = lang},
		.terminal = -1};
	(void)scratch_path(&stage->scratch, "yard.bough", stage->log);
	stage_make_demo(stage->log);
	write_station(scratch_path(&stage->scratch, "station.csv", path));
	made = program_run(NULL, "--log", stage->log, "--today", "2026-11-24", "weather", "import",
		path, "--columns", "day=day,min=min,max=max,rain=rain", "--units", "si",
		"--station", "Hill", NULL);
	check_int(made.status, 0, made.err);
	spawned_free(&made);
	stage_start(stage);
	check_int(stage_keys(stage, "W"), 1, "keys it took");
	stage_shows(stage, "2027");
}

static void check_kept(int rows, int columns, const char *lang, const char *golden)
{
	struct stage stage;
	open_weather(&stage, rows, columns, lang);
	char *text = stage_text(&stage);
	check_golden(text, golden);
	free(text);
	stage_close(&stage);
}

static void weather_looks_as_it_was_kept(void **state)
{
	(void)state;
	check_kept(24, 80, NULL, "tests/screens/golden/weather.screen");
}

static void weather_looks_as_it_was_kept_in_ascii(void **state)
{
	(void)state;
	check_kept(24, 80, "C", "tests/screens/golden/weather-ascii.screen");
}

static void gaps_are_told_on_the_first_look(void **state)
{
	(void)state;
	struct stage stage;
	open_weather(&stage, 24, 80, NULL);
	check_has(row_with(&stage, "Season 2027"), "24 days, 7 gaps", "head");
	stage_shows(&stage, "???????");
	check_has(row_with(&stage, " 2027 "), " 7 ", "this season");
	check_has(row_with(&stage, "mean n "), "mean n ", "n is said");
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "7 of 24 days lack an extreme, 7 in a row at most");
	stage_shows(&stage, "station \"Hill\"");
	stage_close(&stage);
}

static void chill_stands_against_the_kinds(void **state)
{
	(void)state;
	struct stage stage;
	open_weather(&stage, 43, 132, "C");
	check_has(row_with(&stage, " apple "), "of 400 to 1200 hours", "apples");
	check_has(row_with(&stage, " apricot "), "of 30 to 69 portions", "apricots");
	check_has(row_with(&stage, " loquat "), "needs none", "loquats");
	stage_check(&stage, "wide");
	stage_close(&stage);
}

static void left_and_right_change_the_season(void **state)
{
	(void)state;
	struct stage stage;
	open_weather(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Right");
	stage_shows(&stage, "still to come");
	(void)stage_keys(&stage, "Left");
	stage_shows(&stage, "Season 2026 to 31 October 2026, 365 days");
	(void)stage_keys(&stage, "Left Left");
	stage_shows(&stage, "Season 2024");
	/* the demo yard's own lines reach further back than the station */
	(void)stage_keys(&stage, "Left Left Left Left Left Left Left Left");
	stage_shows(&stage, "nothing is stored before that");
	stage_close(&stage);
}

static void all_of_it_is_reached_on_a_small_screen(void **state)
{
	(void)state;
	struct stage stage;
	open_weather(&stage, 15, 60, "C");
	stage_shows(&stage, "more v");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "Chill of the winter");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "Gaps and sources");
	stage_lacks(&stage, "more v");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "This season");
	static const char *const keys[] = {"Down", "PageDown", "End", "Up", "PageUp", "Home"};
	for (size_t key = 0; key < sizeof keys / sizeof keys[0]; key++) {
		(void)stage_keys(&stage, keys[key]);
		stage_check(&stage, keys[key]);
	}
	stage_shows(&stage, "This season");
	stage_close(&stage);
}

static void without_weather_it_says_how_to_bring_some(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24, .columns = 80};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "W");
	stage_shows(&stage, "no temperature is stored for these weeks");
	stage_check(&stage, "nothing stored");
	(void)stage_keys(&stage, "Esc");
	stage_lacks(&stage, "no temperature is stored");
	stage_close(&stage);
}

static void a_line_logged_elsewhere_shows(void **state)
{
	(void)state;
	struct stage stage;
	open_weather(&stage, 24, 80, "C");
	stage_enter(stage.log, "frost -9 C last night");
	(void)stage_keys(&stage, "y");
	(void)stage_keys(&stage, "W");
	stage_shows(&stage, "16 F");
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(weather_looks_as_it_was_kept),
		cmocka_unit_test(weather_looks_as_it_was_kept_in_ascii),
		cmocka_unit_test(gaps_are_told_on_the_first_look),
		cmocka_unit_test(chill_stands_against_the_kinds),
		cmocka_unit_test(left_and_right_change_the_season),
		cmocka_unit_test(all_of_it_is_reached_on_a_small_screen),
		cmocka_unit_test(without_weather_it_says_how_to_bring_some),
		cmocka_unit_test(a_line_logged_elsewhere_shows),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
