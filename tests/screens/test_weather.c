/* SPDX-License-Identifier: MIT */
/* The weather on the real program, over the demo yard and its station. */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static const char *row_with(const struct stage *stage, const char *text)
{
	static char row[VT_ROW_SIZE];
	int at = vt_find(stage->pty->screen, text);
	if (at < 0)
		fail_msg("'%s' is not on the screen", text);
	return vt_row(stage->pty->screen, at, row);
}

static void open_weather(struct stage *stage, int rows, int columns, const char *lang)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	check_int(stage_keys(stage, "W"), 1, "keys it took");
	stage_shows(stage, "2027");
}

/* A log that was only just begun. */
static void open_bare(struct stage *stage)
{
	struct spawned made;
	*stage = (struct stage){
		.scratch = scratch_make(), .options = {.rows = 24, .columns = 80}, .terminal = -1};
	(void)scratch_path(&stage->scratch, "yard.bough", stage->log);
	made = program_run(NULL, "--log", stage->log, "--today", "2026-11-24", "new", "--name",
		"Bare Acre", NULL);
	check_int(made.status, 0, made.err);
	spawned_free(&made);
	stage_start(stage);
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
	check_has(row_with(&stage, "Season 2027"), "24 days, 1 gap ", "today is not told yet");
	check_has(row_with(&stage, "mean n "), "mean n ", "n is said");
	(void)stage_keys(&stage, "Left");
	check_has(row_with(&stage, "Season 2026"), "365 days, 3 gaps", "head");
	stage_shows(&stage, "???");
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "3 of 365 days lack an extreme, 3 in a row at most");
	stage_shows(&stage, "station \"ridge\"");
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

static void warmth_stands_against_the_kinds(void **state)
{
	(void)state;
	struct stage stage;
	open_weather(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Tab Tab");
	stage_shows(&stage, "Warmth from bloom to harvest");
	check_has(row_with(&stage, " A1 "), " of 1500 over 3 C since 28 October 2026", "A1");
	check_has(row_with(&stage, " A2 "), "no bloom is logged to count from", "A2");
	stage_shows(&stage, "no total is known for");
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
	stage_shows(&stage, "Warmth from bloom to harvest");
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
	open_bare(&stage);
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
		cmocka_unit_test(warmth_stands_against_the_kinds),
		cmocka_unit_test(left_and_right_change_the_season),
		cmocka_unit_test(all_of_it_is_reached_on_a_small_screen),
		cmocka_unit_test(without_weather_it_says_how_to_bring_some),
		cmocka_unit_test(a_line_logged_elsewhere_shows),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
