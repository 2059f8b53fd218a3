/* SPDX-License-Identifier: MIT */
/* The year of every tree, a row each: what is woven into a row, at every width, and the screen on
 * the real program. */
#include <stdlib.h>
#include <string.h>

#include "../reckon/make.h"
#include "core/text.h"
#include "screens/year_draw.h"
#include "support/golden.h"
#include "support/stage.h"

/* --- rows --- */

static struct place north = {.hemisphere = HEMISPHERE_NORTH};

static const struct window_row windows[] = {
	{.kind = WINDOW_FLOWER_WOOD, .from = {8, 1}, .to = {10, 31}},
	{.kind = WINDOW_BLOOM, .from = {10, 1}, .to = {11, 30}},
	{.kind = WINDOW_FRUIT, .from = {11, 1}, .to = {3, 31}},
	{.kind = WINDOW_HARVEST, .from = {3, 1}, .to = {4, 30}},
	{.kind = WINDOW_FEED_CLEAR, .from = {6, 1}, .to = {6, 30}},
};
static const struct cut_row cuts[] = {
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {6, 1},
		.to = {8, 31},
		.verdict = VERDICT_CLEAR},
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {10, 1},
		.to = {12, 31},
		.verdict = VERDICT_AVOID,
		.reason = REASON_FLOWERS},
};
static const struct species invented = {.key = "invented",
	.cuts = cuts,
	.cut_count = sizeof cuts / sizeof cuts[0],
	.name = "invented",
	.windows = windows,
	.window_count = sizeof windows / sizeof windows[0]};

static struct entry cut = {.kind = KIND_CUT}, saw = {.kind = KIND_SAW}, fed = {.kind = KIND_FEED};
static struct entry frost = {.kind = KIND_WEATHER};

static struct year_line line_of(enum year_thread thread, int columns)
{
	static const struct entry *entries[3], *place[1];
	static struct ribbon ribbon;
	struct year_line line;
	cut.day = date_span_of(day_of("2026-10-02"));
	saw.day = date_span_of(day_of("2026-10-09"));
	fed.day = date_span_of(day_of("2026-10-10"));
	frost.day = date_span_of(day_of("2026-11-20"));
	entries[0] = &cut;
	entries[1] = &saw;
	entries[2] = &fed;
	place[0] = &frost;
	const struct dossier tree = {.place = &north,
		.kind = {.species = &invented},
		.entries = entries,
		.entry_count = 3,
		.place_entries = place,
		.place_entry_count = 1};
	ribbon_make(&tree, day_of("2026-11-24"), &ribbon);
	year_line_make(&ribbon, thread, columns, &line);
	return line;
}

static const char *drawn(enum year_thread thread, int columns)
{
	static char text[YEAR_COLUMNS_MAX + 1];
	const struct year_line line = line_of(thread, columns);
	for (int i = 0; i < columns; i++) {
		const struct year_cell *cell = &line.cells[i];
		text[i] = cell->mark == RIBBON_DEED    ? cell->letter
			  : cell->mark == RIBBON_BLANK ? ' '
						       : *ribbon_sign(cell->mark, true);
	}
	text[columns] = '\0';
	return text;
}

/* June first; four cells a month. */
static void crop_saw_and_deeds_are_woven_into_one_row(void **state)
{
	(void)state;
	check_text(drawn(YEAR_ALL, 48), "========.=.=.=..cx*x*x*x*x-x-x------########    ", "all");
}

static void each_thread_stands_alone_too(void **state)
{
	(void)state;
	check_text(
		drawn(YEAR_CROP, 48), "        ........*********-----------########    ", "crop");
	check_text(drawn(YEAR_SAW, 48), "=============   xxxxxxxxxxxxx                   ", "saw");
	check_text(
		drawn(YEAR_FEED, 48), "====                                            ", "feed");
	check_text(
		drawn(YEAR_DONE, 48), "                c+                              ", "done");
}

static void what_the_weather_did_is_no_deed_of_a_tree(void **state)
{
	(void)state;
	const struct year_line line = line_of(YEAR_DONE, 144);
	char key[RIBBON_KEY_SIZE];
	check_text(year_line_letters(line.done, key), "c cut  f feed  s saw", "letters");
}

static void a_row_takes_whole_months_at_every_width(void **state)
{
	(void)state;
	for (int width = 60; width <= 400; width++) {
		const int columns = year_columns(width);
		check_int(columns % 24, 0, "two pairs a month");
		assert_in_range(columns, 48, YEAR_COLUMNS_MAX);
		assert_true(columns <= width - 12);
	}
	check_int(year_columns(60), 48, "narrow");
	check_int(year_columns(132), 96, "wide");
}

static void the_key_fits_where_the_rows_do(void **state)
{
	(void)state;
	char key[RIBBON_KEY_SIZE];
	for (int thread = 0; thread < YEAR_THREADS; thread++) {
		for (int ascii = 0; ascii < 2; ascii++) {
			const enum year_thread one = (enum year_thread)thread;
			assert_in_range(text_width(year_line_crop_key(one, ascii, key)), 1, 60);
			assert_in_range(text_width(year_line_saw_key(one, ascii, key)), 1, 60);
		}
	}
	check_has(year_line_crop_key(YEAR_ALL, true, key), "# harvest", "crop");
	check_has(year_line_saw_key(YEAR_ALL, true, key), "x leave it", "saw");
	check_has(year_line_saw_key(YEAR_FEED, true, key), "feed:  = clear", "feed");
}

/* --- the screen --- */

static void open_year(struct stage *stage, int rows, int columns, bool ascii)
{
	const struct stage_options options = {
		.rows = rows, .columns = columns, .lang = ascii ? "C" : NULL};
	stage_open(stage, &options);
	(void)stage_keys(stage, "Y");
	stage_shows(stage, "saw between:");
	stage_check(stage, "year");
}

static void check_picture(struct stage *stage, const char *path)
{
	char *text = stage_text(stage);
	check_golden(text, path);
	free(text);
}

static void the_whole_yard_at_a_glance(void **state)
{
	(void)state;
	struct stage stage;
	open_year(&stage, 24, 80, false);
	check_picture(&stage, "tests/screens/golden/year.screen");
	stage_close(&stage);
}

static void sixty_columns_of_ascii_say_all_of_it(void **state)
{
	(void)state;
	struct stage stage;
	open_year(&stage, 15, 60, true);
	check_picture(&stage, "tests/screens/golden/year-ascii.screen");
	stage_close(&stage);
}

static void enter_opens_the_tree_and_esc_comes_back_to_it(void **state)
{
	(void)state;
	struct stage stage;
	open_year(&stage, 15, 60, false);
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "> G1");
	(void)stage_keys(&stage, "Up Enter");
	stage_shows(&stage, "F1  apple");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "> F1");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "its year now");
	stage_close(&stage);
}

static void letters_find_a_row_and_tab_takes_one_thread(void **state)
{
	(void)state;
	struct stage stage;
	open_year(&stage, 24, 80, true);
	(void)stage_keys(&stage, "/ e a s");
	stage_shows(&stage, "> + B3 east");
	stage_lacks(&stage, "A1 ");
	(void)stage_keys(&stage, "Esc");
	stage_lacks(&stage, "find:");
	(void)stage_keys(&stage, "Tab Tab");
	stage_shows(&stage, "> + B3 east");
	stage_shows(&stage, "saw:  = clear");
	stage_lacks(&stage, "# harvest");
	stage_close(&stage);
}

static void what_was_logged_stands_in_its_row(void **state)
{
	(void)state;
	struct stage stage;
	open_year(&stage, 24, 80, true);
	stage_lacks(&stage, "y spray");
	stage_enter(stage.log, "B1 sprayed lime sulphur @ 2026-11-22");
	stage_shows(&stage, "y spray"); /* in another window, without a key */
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(crop_saw_and_deeds_are_woven_into_one_row),
		cmocka_unit_test(each_thread_stands_alone_too),
		cmocka_unit_test(what_the_weather_did_is_no_deed_of_a_tree),
		cmocka_unit_test(a_row_takes_whole_months_at_every_width),
		cmocka_unit_test(the_key_fits_where_the_rows_do),
		cmocka_unit_test(the_whole_yard_at_a_glance),
		cmocka_unit_test(sixty_columns_of_ascii_say_all_of_it),
		cmocka_unit_test(enter_opens_the_tree_and_esc_comes_back_to_it),
		cmocka_unit_test(letters_find_a_row_and_tab_takes_one_thread),
		cmocka_unit_test(what_was_logged_stands_in_its_row),
	};
	return cmocka_run_group_tests_name("year", tests, NULL, NULL) != 0;
}
