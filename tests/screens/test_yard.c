/* SPDX-License-Identifier: MIT */
/* The yard, on the real program: the worst first, every tree, finding, and how it looks on
 * terminals of many sizes and kinds. */
#include "support/garden.h"
#include "support/spawn.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "screens/yard_rows.h"

static const char *row_of(const struct stage *stage, int row)
{
	static char text[VT_ROW_SIZE];
	return vt_row(stage->pty->screen, row, text);
}

static void open_yard(struct stage *stage, int rows, int columns)
{
	const struct stage_options options = {.rows = rows, .columns = columns};
	stage_open(stage, &options);
}

/* The cursor stands on the row that is marked, and on no other row there is a mark. */
static void check_cursor(const struct stage *stage, const char *label)
{
	const struct vt *vt = stage->pty->screen;
	for (int i = 1; i < vt->rows - 2; i++) {
		const bool marked = row_of(stage, i)[0] == '>';
		check_int(marked, i == vt->pen.row, label);
		if (marked)
			assert_true(vt->cells[i][2].style.attributes & VT_REVERSE);
	}
}

/* --- what stands there --- */

static void first_flag_is_there_without_a_key(void **state)
{
	(void)state;
	static const int sizes[][2] = {{15, 60}, {24, 80}, {43, 132}};
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		struct stage stage;
		open_yard(&stage, sizes[i][0], sizes[i][1]);
		check_has(row_of(&stage, 1), "ACT", "worst");
		check_has(row_of(&stage, 1), "The shape cut of 12 November 2026", "worst");
		stage_close(&stage);
	}
}

static void flags_take_a_third_at_most(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 24, 80);
	const int heading = vt_find(stage.pty->screen, "its year now");
	assert_in_range(heading, 2, 1 + 21 / 3 + 1);
	stage_shows(&stage, "more");
	stage_close(&stage);
}

static void each_tree_tells_its_year_and_last_entry(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 43, 132);
	check_has(row_of(&stage, vt_find(stage.pty->screen, "A1  ")), "in bloom, leave the saw",
		"year");
	assert_true(vt_find(stage.pty->screen, "+ B3 east") > 0);
	const int unknown = vt_find(stage.pty->screen, "G1 ");
	assert_true(unknown > 0);
	check_has(row_of(&stage, unknown), "unknown", "kind");
	check_has(row_of(&stage, unknown), "no dates", "year");
	stage_close(&stage);
}

static void the_list_leaves_the_saw_only_while_fruit_hangs(void **state)
{
	(void)state;
	struct garden garden;
	struct yard_row row = {.id = ""};
	garden_make(&garden, "2027-05-12");
	(void)garden_tree(&garden, "A1", "loquat", "2012", "");
	garden_look(&garden);
	yard_row_year(garden_story(&garden, "A1"), yard_today(garden.yard), &row);
	check_text(row.year, "harvest, leave the saw", "fruit hangs");
	(void)garden_log(&garden, "A1 picked 20 lb, last @ 2027-05-10");
	garden_look(&garden);
	yard_row_year(garden_story(&garden, "A1"), yard_today(garden.yard), &row);
	check_text(row.year, "resting", "the last is off");
	garden_free(&garden);
}

/* A list of a garden's trees, all of them in view. */
struct shown {
	struct garden garden;
	struct session session;
	struct yard_list list;
	struct yard_rows rows;
};

static void show_again(struct shown *shown)
{
	struct fault why;
	struct tree_names names;
	shown->session = (struct session){.clock = shown->garden.clock,
		.store = shown->garden.store,
		.almanac = shown->garden.almanac,
		.yard = shown->garden.yard,
		.numbers = yard_numbers(shown->garden.yard)};
	check_ok(store_tree_names(shown->garden.store, false, 0, shown->garden.arena, &names, &why),
		&why);
	shown->list.ids = arena_array(shown->garden.arena, 2, sizeof shown->list.ids[0]);
	shown->list.count = names.count;
	for (int32_t i = 0; i < names.count && i < 2; i++)
		shown->list.ids[i] = names.items[i].id;
	check_ok(yard_rows_read(&shown->rows, &shown->session, &shown->list, 0, 10, &why), &why);
}

static void check_not_told(const struct yard_row *row, const char *label)
{
	check_text(row->label, label, "label");
	check_text(row->letters, "~    ", label);
	assert_false(row->told);
}

static void what_is_not_told_yet_never_looks_clear(void **state)
{
	(void)state;
	struct shown *shown = block_new(sizeof *shown);
	const struct yard_row *rows = shown->rows.rows;
	garden_make(&shown->garden, "2026-12-05");
	(void)garden_tree(&shown->garden, "A1", "apricot", "2016", "");
	(void)garden_tree(&shown->garden, "A2", "loquat", "2012", "");
	(void)garden_log(&shown->garden, "A1 cut shape @ 2026-12-01");
	garden_look(&shown->garden);
	show_again(shown);
	check_int(shown->rows.count, 2, "rows");
	check_not_told(&rows[0], "A1");
	check_not_told(&rows[1], "A2");
	check_text(rows[0].cultivar, "apricot", "names are there at once");
	check_text(rows[0].year, "~", "year");
	assert_true(yard_rows_tell(&shown->rows, &shown->session, 0)); /* one at least */
	check_text(rows[0].letters, "A    ", "told");
	check_not_told(&rows[1], "A2");
	assert_true(yard_rows_tell(&shown->rows, &shown->session, 10));
	assert_true(rows[1].told);
	assert_false(yard_rows_tell(&shown->rows, &shown->session, 10));
	yard_rows_doubt(&shown->rows);
	(void)garden_log(&shown->garden, "A1 picked 3 lb @ 2026-12-04");
	show_again(shown);
	check_not_told(&rows[0], "A1");
	check_has(rows[0].last, "cut", "as it was, until it is told anew");
	assert_true(yard_rows_tell(&shown->rows, &shown->session, 10));
	check_has(rows[0].last, "picked", "told anew");
	garden_free(&shown->garden);
	block_free(shown);
}

/* --- moving and finding --- */

static void cursor_stands_on_the_selected_tree(void **state)
{
	(void)state;
	struct stage stage;
	static const char *const keys[] = {
		"Down", "Down", "PageDown", "End", "PageUp", "Up", "Home", "Up", "End", "Down"};
	open_yard(&stage, 15, 60);
	check_cursor(&stage, "at first");
	for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
		(void)stage_keys(&stage, keys[i]);
		check_cursor(&stage, keys[i]);
	}
	stage_shows(&stage, "> G1");
	stage_close(&stage);
}

static void many_keys_at_once_arrive_all(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 15, 60);
	(void)stage_keys(&stage, "Down Down Down Down Down Down Down Down Down Down Down Down");
	stage_shows(&stage, "> C3 right");
	check_cursor(&stage, "after twelve");
	stage_close(&stage);
}

static void three_letters_find_a_tree(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 24, 80);
	check_int(stage_keys(&stage, "/ e a s"), 4, "keys");
	stage_shows(&stage, "> + B3 east");
	stage_lacks(&stage, "A1  ");
	(void)stage_keys(&stage, "Esc");
	stage_lacks(&stage, "find:");
	stage_shows(&stage, "> + B3 east"); /* it stays chosen */
	check_cursor(&stage, "after finding");
	stage_close(&stage);
}

static void a_held_key_stops_where_it_is_let_go(void **state)
{
	(void)state;
	struct stage stage;
	static const char up[] = "\x1bOA";
	static char keys[200 * (sizeof up - 1) + 1];
	struct text_builder held = text_builder_fixed(keys, sizeof keys);
	open_yard(&stage, 24, 80);
	const char *arguments[] = {
		"--log", stage.log, "tree", "add", "T1..T300", "--species", "apple", NULL};
	struct spawned added = program_run_list(NULL, arguments);
	check_int(added.status, 0, added.err);
	spawned_free(&added);
	(void)pty_close(stage.pty);
	stage_start(&stage);
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "> T300");
	for (int i = 0; i < 200; i++)
		text_add(&held, up);
	const size_t before = stage.pty->received;
	stage_type(&stage, keys);
	stage_shows(&stage, "> T100");
	assert_in_range(stage.pty->received - before, 1, 200 * 200); /* no picture for each */
	check_cursor(&stage, "let go");
	stage_close(&stage);
}

static void letters_and_enter_in_one_go_open_what_they_name(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 24, 80);
	stage_type(&stage, "/B2\r");
	stage_shows(&stage, "B2  apple");
	stage_close(&stage);
}

static void find_takes_any_text_as_letters(void **state)
{
	(void)state;
	static const char *const texts[] = {"%", "_", "'", "\"", "*", "(", "-", "\\"};
	struct stage stage;
	open_yard(&stage, 24, 80);
	for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
		(void)stage_keys(&stage, "/");
		stage_type(&stage, texts[i]);
		stage_shows(&stage, "no tree has these letters");
		(void)stage_keys(&stage, "Esc");
		stage_lacks(&stage, "find:");
	}
	stage_close(&stage);
}

/* --- the log under it --- */

static void undo_is_one_key(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 24, 80);
	(void)stage_keys(&stage, "l");
	stage_type(&stage, "p 77 lb\r");
	stage_shows(&stage, "saved");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "its year now");
	stage_shows(&stage, "24 Nov   picked");
	check_int(stage_keys(&stage, "u"), 1, "keys");
	stage_shows(&stage, "undone: A1: picked 77 lb");
	stage_lacks(&stage, "24 Nov   picked");
	(void)stage_keys(&stage, "U");
	stage_shows(&stage, "done again: A1: picked 77 lb");
	stage_close(&stage);
}

static void entry_of_another_window_is_seen(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 24, 132);
	stage_enter(stage.log, "A1 picked 77 lb");
	stage_shows(&stage, "picked 77 lb"); /* without a key */
	stage_close(&stage);
}

static void log_that_was_moved_is_told_and_not_written(void **state)
{
	(void)state;
	struct stage stage;
	char moved[SCRATCH_PATH_SIZE];
	open_yard(&stage, 24, 80);
	(void)stage_keys(&stage, "l");
	stage_type(&stage, "p 77 lb");
	assert_int_equal(rename(stage.log, scratch_path(&stage.scratch, "moved", moved)), 0);
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "the log was moved or replaced");
	stage_shows(&stage, "p 77 lb");
	stage_close(&stage);
}

static void form_on_a_log_that_was_moved_is_not_written(void **state)
{
	(void)state;
	struct stage stage;
	char moved[SCRATCH_PATH_SIZE];
	open_yard(&stage, 24, 80);
	(void)stage_keys(&stage, "Enter");
	(void)stage_keys(&stage, "e");
	stage_type(&stage, "x");
	assert_int_equal(rename(stage.log, scratch_path(&stage.scratch, "moved", moved)), 0);
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "the log was moved or replaced");
	stage_shows(&stage, "label      A1x");
	stage_close(&stage);
}

static void idle_program_sends_nothing(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 24, 80);
	(void)pty_read_quiet(stage.pty, 300, STAGE_WAIT_MS);
	const size_t before = stage.pty->received;
	const double used_s = pty_processor_s(stage.pty);
	(void)pty_read_quiet(stage.pty, 2600, STAGE_WAIT_MS);
	check_int((int64_t)(stage.pty->received - before), 0, "bytes");
	assert_true(pty_processor_s(stage.pty) - used_s < 0.2);
	stage_close(&stage);
}

static void leaving_after_a_save_keeps_the_daily_copy(void **state)
{
	(void)state;
	struct stage stage;
	char copy[SCRATCH_PATH_SIZE];
	open_yard(&stage, 24, 80);
	(void)stage_keys(&stage, "l");
	stage_shows(&stage, "1 of 22");
	stage_type(&stage, "p 77 lb\r");
	stage_shows(&stage, "saved");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "its year now");
	(void)scratch_path(&stage.scratch, "yard.bough.backups/2026-11-24.bough", copy);
	assert_false(file_exists(copy)); /* never before it is shown as saved */
	(void)stage_keys(&stage, "q");
	check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), 0, "status");
	assert_true(file_exists(copy));
	stage_close(&stage);
}

static void what_is_no_log_is_told_on_a_sane_terminal(void **state)
{
	(void)state;
	struct scratch scratch = scratch_make();
	char path[SCRATCH_PATH_SIZE];
	file_write(scratch_path(&scratch, "yard.bough", path), "not a log\n", 10);
	const struct pty_options how = {.home = scratch.folder};
	const char *arguments[] = {"--log", path, NULL};
	struct pty *pty = pty_open_program(&how, arguments);
	check_int(pty_expect_end(pty, STAGE_WAIT_MS), 3, "status");
	assert_true(vt_find(pty->screen, "boughbook: ") == 0);
	assert_false(pty->screen->on_other);
	size_t length;
	char *bytes = file_read(path, &length);
	check_text(bytes, "not a log\n", "untouched");
	free(bytes);
	(void)pty_close(pty);
	scratch_remove(&scratch);
}

/* --- pictures --- */

static void yard_looks_as_it_did(void **state)
{
	(void)state;
	struct stage stage;
	open_yard(&stage, 24, 80);
	stage_check(&stage, "yard");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/yard.screen");
	free(text);
	stage_close(&stage);
}

static void yard_looks_as_it_did_in_ascii(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 15, .columns = 60, .lang = "C"};
	stage_open(&stage, &options);
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/yard-ascii.screen");
	free(text);
	stage_close(&stage);
}

struct look {
	const char *name;
	int rows;
	int columns;
	const char *term;
	const char *lang;
	const char *variable;
	bool coloured;
};

/* clang-format off */
static const struct look looks[] = {
	{"at_60x15", 15, 60, NULL, NULL, NULL, true},
	{"at_80x24", 24, 80, NULL, NULL, NULL, true},
	{"at_132x43", 43, 132, NULL, NULL, NULL, true},
	{"at_80x24_in_ascii", 24, 80, NULL, "C", NULL, true},
	{"at_60x15_without_colour", 15, 60, NULL, NULL, "NO_COLOR=1", false},
	{"at_80x24_with_an_empty_no_color", 24, 80, NULL, NULL, "NO_COLOR=", true},
	{"at_80x24_on_a_vt100", 24, 80, "vt100", NULL, NULL, false},
	{"at_132x43_on_a_vt100_in_ascii", 43, 132, "vt100", "C", NULL, false},
	{"at_80x24_on_the_console", 24, 80, "linux", NULL, NULL, true},
	{"at_80x24_under_tmux", 24, 80, "tmux-256color", NULL, NULL, true},
	{"with_lines_and_columns_exported", 15, 60, NULL, NULL, "LINES=50", true},
};
/* clang-format on */

static bool has_colour(const struct vt *vt)
{
	for (int i = 0; i < vt->rows; i++)
		for (int j = 0; j < vt->columns; j++) {
			const struct vt_style *style = &vt->cells[i][j].style;
			assert_true(
				style->background < 0 || style->background != style->foreground);
			assert_true(style->foreground < 8);
			if (style->foreground >= 0 || style->background >= 0)
				return true;
		}
	return false;
}

/* Ground and letters of every cell are said, and stand apart. */
static void check_scheme(const struct stage *stage, int letters, int ground)
{
	const struct vt *vt = stage->pty->screen;
	int plain = 0;
	for (int i = 0; i < vt->rows; i++)
		for (int j = 0; j < vt->columns; j++) {
			const struct vt_style *style = &vt->cells[i][j].style;
			assert_in_range(style->background, 0, 7);
			assert_int_not_equal(style->foreground, style->background);
			if (strcmp(vt->cells[i][j].text, " ") == 0)
				continue;
			assert_in_range(style->foreground, 0, 7);
			plain += style->foreground == letters && style->background == ground;
		}
	assert_true(plain > vt->rows * vt->columns / 8);
}

static void check_own(const struct stage *stage)
{
	const struct vt *vt = stage->pty->screen;
	for (int i = 0; i < vt->rows; i++)
		for (int j = 0; j < vt->columns; j++)
			check_int(vt->cells[i][j].style.background, -1, "ground");
}

static void colours_turn_by_one_key_and_are_kept(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24, .columns = 80};
	stage_open(&stage, &options);
	check_own(&stage);
	(void)stage_keys(&stage, "C");
	stage_shows(&stage, "colours: day");
	check_scheme(&stage, 0, 7);
	(void)stage_keys(&stage, "r");
	check_scheme(&stage, 0, 7);
	(void)stage_keys(&stage, "C");
	stage_shows(&stage, "colours: night");
	check_scheme(&stage, 7, 0);
	pty_resize(stage.pty, 15, 60);
	stage_quiet(&stage);
	check_scheme(&stage, 7, 0);
	(void)pty_close(stage.pty);
	stage_start(&stage);
	check_scheme(&stage, 7, 0);
	(void)stage_keys(&stage, "C");
	stage_shows(&stage, "colours: none");
	assert_false(has_colour(stage.pty->screen));
	(void)stage_keys(&stage, "C");
	stage_shows(&stage, "colours: own");
	check_own(&stage);
	stage_close(&stage);
}

static void a_scheme_asked_by_name_beats_what_is_kept(void **state)
{
	(void)state;
	struct stage stage;
	struct stage_options options = {
		.rows = 24, .columns = 80, .variable = "BOUGHBOOK_COLOURS=day"};
	stage_open(&stage, &options);
	check_scheme(&stage, 0, 7);
	(void)stage_keys(&stage, "C");
	stage_shows(&stage, "colours: night");
	(void)pty_close(stage.pty);
	stage_start(&stage);
	check_scheme(&stage, 0, 7);
	stage_close(&stage);
	options.term = "vt100";
	stage_open(&stage, &options);
	assert_false(has_colour(stage.pty->screen));
	(void)stage_keys(&stage, "C");
	stage_shows(&stage, "this terminal has no colours");
	stage_close(&stage);
}

static void yard_fits(const void *one)
{
	const struct look *look = one;
	struct stage stage;
	const struct stage_options options = {.rows = look->rows,
		.columns = look->columns,
		.term = look->term,
		.lang = look->lang,
		.variable = look->variable};
	stage_open(&stage, &options);
	stage_check(&stage, look->name);
	check_cursor(&stage, look->name);
	check_has(row_of(&stage, 0), "Tern Hollow", "head");
	check_has(row_of(&stage, 0), "Tue 24 November 2026", "head");
	check_has(row_of(&stage, look->rows - 1), "q leave", "foot");
	check_has(row_of(&stage, look->rows - 1), "? help", "foot");
	check_has(row_of(&stage, 1), "ACT", "told by a word");
	check_int(has_colour(stage.pty->screen), look->coloured, "colour");
	char *text = stage_text(&stage);
	if (look->lang != NULL)
		for (const char *at = text; *at != '\0'; at++)
			assert_true((unsigned char)*at < 128);
	free(text);
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(colours_turn_by_one_key_and_are_kept),
		cmocka_unit_test(a_scheme_asked_by_name_beats_what_is_kept),
		cmocka_unit_test(first_flag_is_there_without_a_key),
		cmocka_unit_test(flags_take_a_third_at_most),
		cmocka_unit_test(each_tree_tells_its_year_and_last_entry),
		cmocka_unit_test(what_is_not_told_yet_never_looks_clear),
		cmocka_unit_test(the_list_leaves_the_saw_only_while_fruit_hangs),
		cmocka_unit_test(cursor_stands_on_the_selected_tree),
		cmocka_unit_test(many_keys_at_once_arrive_all),
		cmocka_unit_test(three_letters_find_a_tree),
		cmocka_unit_test(a_held_key_stops_where_it_is_let_go),
		cmocka_unit_test(letters_and_enter_in_one_go_open_what_they_name),
		cmocka_unit_test(find_takes_any_text_as_letters),
		cmocka_unit_test(undo_is_one_key),
		cmocka_unit_test(entry_of_another_window_is_seen),
		cmocka_unit_test(log_that_was_moved_is_told_and_not_written),
		cmocka_unit_test(form_on_a_log_that_was_moved_is_not_written),
		cmocka_unit_test(idle_program_sends_nothing),
		cmocka_unit_test(leaving_after_a_save_keeps_the_daily_copy),
		cmocka_unit_test(what_is_no_log_is_told_on_a_sane_terminal),
		cmocka_unit_test(yard_looks_as_it_did),
		cmocka_unit_test(yard_looks_as_it_did_in_ascii),
	};
	const int failed = RUN_CASES("yard on many terminals", looks, yard_fits) +
			   cmocka_run_group_tests_name("yard", tests, NULL, NULL);
	return failed != 0;
}
