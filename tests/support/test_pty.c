/* SPDX-License-Identifier: MIT */
/* The terminal on paper, fed by printf; then real programs on a pseudo-terminal. */
#include "support/pty.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

struct drawing {
	const char *name;
	const char *bytes;
	const char *screen; /* of 4 rows and 10 columns, trailing blank rows left out */
	int row;
	int column;
};

/* clang-format off */
static const struct drawing drawings[] = {
	{"text_stands_where_written", "fig\r\nplum", "fig\nplum\n", 1, 4},
	{"cursor_moves_by_place", "\x1b[2;4Hx\x1b[H.\x1b[3G:", ". :\n   x\n", 0, 3},
	{"cursor_moves_by_steps", "\x1b[3B\x1b[2Ca\x1b[A\x1b[2Db\x1b[dc", "  c\n\n b\n  a\n",
		0, 3},
	{"cursor_stops_at_the_edges", "\x1b[99;99Hx\x1b[99D\x1b[99Ay", "y\n\n\n         x\n", 0, 1},
	{"tab_goes_to_the_next_eight", "a\tb", "a       b\n", 0, 9},
	{"backspace_goes_left", "ab\bc", "ac\n", 0, 2},
	{"last_column_waits_before_wrapping", "0123456789\b*", "01234567*9\n", 0, 9},
	{"text_wraps_at_the_edge", "0123456789ab", "0123456789\nab\n", 1, 2},
	{"no_wrap_writes_over_the_edge", "\x1b[?7l0123456789ab\x1b[?7h", "012345678b\n", 0, 9},
	{"screen_scrolls_at_the_bottom", "1\n\r2\n\r3\n\r4\n\r5", "2\n3\n4\n5\n", 3, 1},
	{"region_scrolls_alone", "1\r\n2\r\n3\r\n4\x1b[2;3r\x1b[3;1H\nx", "1\n3\nx\n4\n", 2, 1},
	{"reverse_index_scrolls_down", "1\r\n2\x1b[H\x1bM0", "0\n1\n2\n", 0, 1},
	{"scroll_up_and_down_by_count", "1\r\n2\r\n3\r\n4\x1b[2S\x1b[T", "\n3\n4\n", 3, 1},
	{"erase_below", "1\r\n22\r\n3\x1b[2;2H\x1b[J", "1\n2\n", 1, 1},
	{"erase_above", "1\r\n22\r\n3\x1b[2;1H\x1b[1J", "\n 2\n3\n", 1, 0},
	{"erase_all_keeps_the_cursor", "1\r\n22\x1b[2Jx", "\n  x\n", 1, 3},
	{"erase_line_right_left_whole", "123\r\n123\r\n123\x1b[1;2H\x1b[K\x1b[2;2H\x1b[1K\x1b[3;2H\x1b[2K",
		"1\n  3\n", 2, 1},
	{"erase_characters", "12345\x1b[1;2H\x1b[2X", "1  45\n", 0, 1},
	{"insert_and_delete_characters", "12345\x1b[1;2H\x1b[2@ab\x1b[1;5H\x1b[2P", "1ab25\n", 0, 4},
	{"insert_mode_pushes_right", "123\x1b[H\x1b[4hab\x1b[4lc", "abc23\n", 0, 3},
	{"insert_and_delete_lines", "1\r\n2\r\n3\x1b[2;1H\x1b[L\x1b[1;1H\x1b[M", "\n2\n3\n", 0, 0},
	{"repeat_writes_again", "-\x1b[4b.", "-----.\n", 0, 6},
	{"line_drawing_in_g0", "\x1b(0lqk\x1b(Bq", "┌─┐q\n", 0, 4},
	{"line_drawing_in_g1", "\x1b(B\x1b)0\x0e" "x\x0fx", "│x\n", 0, 2},
	{"utf8_in_pieces", "N\xc3\xad" "spero", "Níspero\n", 0, 7},
	{"wide_takes_two_cells", "\xe6\xa2\xa8x", "梨x\n", 0, 3},
	{"wide_does_not_fit_the_last_column", "123456789\xe6\xa2\xa8", "123456789\n梨\n", 1, 2},
	{"half_a_wide_character_is_blank", "\xe6\xa2\xa8x\x1b[1;2Hy", " yx\n", 0, 2},
	{"mark_joins_its_letter", "e\xcc\x81x", "e\xcc\x81x\n", 0, 2},
	{"bad_utf8_is_shown_as_such", "a\x80z", "a\xef\xbf\xbdz\n", 0, 3},
	{"other_screen_gives_back_the_first", "fig\x1b[?1049hplum\x1b[?1049l.", "fig.\n", 0, 4},
	{"save_and_restore", "a\x1b" "7\x1b[3;3Hb\x1b" "8c", "ac\n\n  b\n", 0, 2},
	{"strings_are_swallowed", "a\x1b]0;title\ab\x1bPq\x1b\\c", "abc\n", 0, 3},
	{"queries_are_swallowed", "a\x1b[c\x1b[>c\x1b[6n\x1b[22;0;0tb", "ab\n", 0, 2},
};
/* clang-format on */

static void is_drawn(const void *one)
{
	const struct drawing *drawing = one;
	struct vt *vt = vt_new(4, 10);
	for (const char *byte = drawing->bytes; *byte != '\0'; byte++) {
		vt_feed(vt, byte, 1);
	}
	char *text = vt_text(vt);
	size_t length = strlen(text);
	while (length > 1 && text[length - 1] == '\n' && text[length - 2] == '\n') {
		text[--length] = '\0';
	}
	check_text(text, drawing->screen, "screen");
	check_int(vt->pen.row, drawing->row, "row");
	check_int(vt->pen.column, drawing->column, "column");
	check_text(vt->unknown, "", "not understood");
	free(text);
	vt_free(vt);
}

static void styles_are_kept_by_cell(void **state)
{
	(void)state;
	static const char bytes[] = "\x1b[1ma\x1b[0;7mb\x1b[27;4mc\x1b[md"
				    "\x1b[31;42me\x1b[38;5;208;48;2;1;2;3mf\x1b[39;49;97mg";
	struct vt *vt = vt_new(4, 10);
	vt_feed(vt, bytes, strlen(bytes));
	const struct vt_cell *cells = vt->cells[0];
	check_int(cells[0].style.attributes, VT_BOLD, "a");
	check_int(cells[1].style.attributes, VT_REVERSE, "b");
	check_int(cells[2].style.attributes, VT_UNDERLINE, "c");
	check_int(cells[3].style.attributes, 0, "d");
	check_int(cells[3].style.foreground, -1, "d");
	check_int(cells[4].style.foreground, 1, "e");
	check_int(cells[4].style.background, 2, "e");
	check_int(cells[5].style.foreground, 208, "f");
	check_int(cells[6].style.foreground, 15, "g");
	vt_free(vt);
}

static void strange_sequence_is_named(void **state)
{
	(void)state;
	struct vt *vt = vt_new(4, 10);
	vt_feed(vt, "\x1b[7;8w", 6);
	check_text(vt->unknown, "ESC [ 7;8 w", "unknown");
	vt_free(vt);
}

static void noise_stays_inside_the_screen(void **state)
{
	(void)state;
	struct dice dice = dice_start();
	struct vt *vt = vt_new(4, 10);
	static const char likely[] = "\x1b\x1b[;?0123456789ABCDGHIJKLMPSTXZ@bdhlmru78DME()0B\n\r\b";
	for (int i = 0; i < 200000; i++) {
		const char byte =
			dice_between(&dice, 0, 9) > 0
				? likely[dice_between(&dice, 0, (int64_t)sizeof likely - 2)]
				: (char)dice_between(&dice, -128, 127);
		vt_feed(vt, &byte, 1);
		assert_in_range(vt->pen.row, 0, 3);
		assert_in_range(vt->pen.column, 0, 9);
	}
	vt_free(vt);
}

static struct pty *open_shell(const struct pty_options *options, const char *script)
{
	const char *const words[] = {"sh", "-c", script, NULL};
	struct pty_options chosen = *options;
	chosen.arguments = words;
	return pty_open(&chosen);
}

static void program_sees_size_and_settings(void **state)
{
	(void)state;
	static const char *const more[] = {"NO_COLOR=1", NULL};
	const struct pty_options options = {.rows = 15,
		.columns = 60,
		.term = "vt100",
		.lang = "C",
		.home = "/",
		.environment = more};
	struct pty *pty = open_shell(
		&options, "stty size; echo $TERM $LANG $HOME $NO_COLOR; test -t 0 && echo tty");
	check_int(pty_expect_end(pty, 5000), 0, "status");
	check_int(vt_find(pty->screen, "15 60"), 0, "size");
	check_int(vt_find(pty->screen, "vt100 C / 1"), 1, "settings");
	check_int(vt_find(pty->screen, "tty"), 2, "terminal");
	check_int((int64_t)pty->received, 25, "bytes");
	(void)pty_close(pty);
}

static void keys_arrive_and_are_counted(void **state)
{
	(void)state;
	const struct pty_options options = {0};
	struct pty *pty = open_shell(
		&options, "stty -echo -icanon min 1; echo ready; head -c 14 | od -An -c");
	pty_expect(pty, "ready", 5000);
	check_int(pty_send_keys(pty, "Down PageUp ñ6 Ctrl-U Esc Enter"), 7, "keys");
	pty_send(pty, "z");
	pty_expect(pty, "O   B", 5000);
	pty_expect(pty, "[   5   ~ 303 261   6 025 033", 5000);
	check_int(pty_expect_end(pty, 5000), 0, "status");
	(void)pty_close(pty);
}

static void resize_is_told(void **state)
{
	(void)state;
	const struct pty_options options = {0};
	struct pty *pty = open_shell(&options,
		"trap 'stty size; exit 4' WINCH; echo ready; while :; do sleep 0.01; done");
	pty_expect(pty, "ready", 5000);
	pty_resize(pty, 43, 132);
	pty_expect(pty, "43 132", 5000);
	check_int(pty_expect_end(pty, 5000), 4, "status");
	(void)pty_close(pty);
}

static void close_ends_a_stubborn_program(void **state)
{
	(void)state;
	const struct pty_options options = {0};
	struct pty *pty = open_shell(&options, "trap '' HUP; echo ready; exec sleep 60");
	pty_expect(pty, "ready", 5000);
	check_int(pty_close(pty), 128 + 9, "status");
}

static void processor_time_is_counted(void **state)
{
	(void)state;
	const struct pty_options options = {0};
	struct pty *pty = open_shell(
		&options, "i=0; while [ $i -lt 50000 ]; do i=$((i+1)); done; echo done; read x");
	pty_expect(pty, "done", 20000);
	assert_true(pty_processor_s(pty) > 0.001);
	(void)pty_close(pty);
}

static const char curses_script[] =
	"import curses, locale\n"
	"locale.setlocale(locale.LC_ALL, '')\n"
	"def run(w):\n"
	"    curses.curs_set(1) if curses.tigetstr('civis') else 0\n"
	"    w.idlok(True); w.scrollok(True)\n"
	"    w.border()\n"
	"    for i in range(1, 9): w.addstr(i, 2, 'tree %d' % i + ' ' * 30 + 'x' * 9)\n"
	"    w.addstr(3, 20, 'bold', curses.A_BOLD); w.addstr(4, 20, 'back', curses.A_REVERSE)\n"
	"    w.addstr(5, 20, WORDS)\n"
	"    w.refresh()\n"
	"    w.move(2, 0); w.deleteln(); w.move(5, 0); w.insertln(); w.addstr(5, 2, 'new')\n"
	"    w.refresh()\n"
	"    w.move(7, 4); w.insch('i'); w.move(8, 4); w.delch(); w.move(1, 6); w.clrtoeol()\n"
	"    w.refresh()\n"
	"    w.hline(10, 2, curses.ACS_HLINE, 30); w.vline(2, 45, curses.ACS_VLINE, 6)\n"
	"    w.addstr(11, 2, 'ready'); w.move(6, 7)\n"
	"    w.refresh(); w.getch()\n"
	"curses.wrapper(run)\n";

/* Runs the script above; the screen as text, to be freed. */
static char *curses_screen(const char *term, const char *lang, const char *words, char marks[4])
{
	static char script[sizeof curses_script + 80];
	(void)snprintf(script, sizeof script, "WORDS = '%s'\n%s", words, curses_script);
	const char *const command[] = {"/usr/bin/python3", "-c", script, NULL};
	const struct pty_options options = {
		.rows = 14, .columns = 60, .term = term, .lang = lang, .arguments = command};
	struct pty *pty = pty_open(&options);
	pty_expect(pty, "ready", 10000);
	assert_true(pty_read_quiet(pty, 100, 5000));
	check_text(pty->screen->unknown, "", term);
	check_int(pty->screen->pen.row, 6, term);
	check_int(pty->screen->pen.column, 7, term);
	char *text = vt_text(pty->screen);
	(void)snprintf(marks, 4, "%d%d",
		(pty->screen->cells[2][20].style.attributes & VT_BOLD) != 0,
		(pty->screen->cells[3][20].style.attributes & VT_REVERSE) != 0);
	pty_send(pty, "q");
	check_int(pty_expect_end(pty, 5000), 0, term);
	(void)pty_close(pty);
	return text;
}

static void curses_looks_the_same_on_every_terminal(void **state)
{
	(void)state;
	static const char *const terms[] = {
		"xterm-256color", "vt100", "linux", "xterm", "screen", "tmux-256color"};
	char marks[4];
	char *first = curses_screen("xterm-256color", "C.UTF-8", "N\u00edspero \u68a8.", marks);
	check_has(first, "Níspero 梨.", "words");
	check_has(first, "│", "frame");
	for (size_t i = 0; i < sizeof terms / sizeof terms[0]; i++) {
		char *text = curses_screen(terms[i], "C.UTF-8", "N\u00edspero \u68a8.", marks);
		check_text(text, first, terms[i]);
		check_text(marks, "11", terms[i]);
		free(text);
		char *ascii = curses_screen(terms[i], "C", "Nispero", marks);
		check_has(ascii, "Nispero", terms[i]);
		free(ascii);
	}
	free(first);
}

static void quiet_comes_after_the_last_byte(void **state)
{
	(void)state;
	const struct pty_options options = {0};
	struct pty *pty = open_shell(&options, "echo a; sleep 0.05; echo b; read x");
	assert_true(pty_read_quiet(pty, 300, 5000));
	check_int(vt_find(pty->screen, "b"), 1, "row");
	(void)pty_close(pty);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(styles_are_kept_by_cell),
		cmocka_unit_test(strange_sequence_is_named),
		cmocka_unit_test(noise_stays_inside_the_screen),
		cmocka_unit_test(program_sees_size_and_settings),
		cmocka_unit_test(keys_arrive_and_are_counted),
		cmocka_unit_test(resize_is_told),
		cmocka_unit_test(close_ends_a_stubborn_program),
		cmocka_unit_test(processor_time_is_counted),
		cmocka_unit_test(curses_looks_the_same_on_every_terminal),
		cmocka_unit_test(quiet_comes_after_the_last_byte),
	};
	const int failed = RUN_CASES("terminal on paper", drawings, is_drawn) +
			   cmocka_run_group_tests_name("pseudo-terminal", tests, NULL, NULL);
	return failed != 0;
}
