/* SPDX-License-Identifier: MIT */
/* What comes from the terminal and what happens to it: strange bytes, pastes, sizes, signals, and
 * a sane terminal after every way out. */
#include "support/stage.h"
#include "support/test.h"

#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void open_at(struct stage *stage, const char *lang, const char *keys)
{
	const struct stage_options options = {.rows = 24, .columns = 80, .lang = lang};
	stage_open(stage, &options);
	(void)stage_keys(stage, keys);
	if (keys[0] == 'w' || keys[0] == 'l') /* a line typed before it is open would be dropped */
		stage_shows(stage, "1 of 22");
}

/* --- no terminal --- */

static void no_terminal_is_one_line_and_no_escapes(void **state)
{
	(void)state;
	const char *arguments[] = {"--log", "/nonexistent/yard.bough", NULL};
	struct spawned answer = program_run_list("", arguments);
	check_int(answer.status, 2, answer.err);
	check_text(answer.out, "", "standard output");
	check_has(answer.err, "no terminal to show the screens on", "standard error");
	check_int(strchr(answer.err, '\n') - answer.err, (int64_t)strlen(answer.err) - 1, "a line");
	spawned_free(&answer);
}

struct unfit {
	const char *name;
	const char *term;
};

static const struct unfit unfits[] = {
	{"term_empty_refused", ""},
	{"term_dumb_refused", "dumb"},
	{"term_unknown_refused", "foo-bar"},
};

static void is_unfit(const void *one)
{
	const struct unfit *unfit = one;
	struct scratch scratch = scratch_make();
	const struct pty_options how = {.term = unfit->term, .home = scratch.folder};
	const char *arguments[] = {NULL};
	struct pty *pty = pty_open_program(&how, arguments);
	check_int(pty_expect_end(pty, STAGE_WAIT_MS), 2, "status");
	assert_true(vt_find(pty->screen, "no terminal to show the screens on") == 0);
	check_text(pty->screen->unknown, "", "sequences");
	(void)pty_close(pty);
	scratch_remove(&scratch);
}

static void newer_terminal_is_taken_for_what_it_is_like(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.term = "xterm-of-tomorrow"};
	stage_open(&stage, &options);
	stage_shows(&stage, "Tern Hollow");
	stage_close(&stage);
}

/* --- strange input --- */

struct strange {
	const char *name;
	const char *bytes;
};

/* clang-format off */
static const struct strange stranges[] = {
	{"arrow_of_another_mode", "\x1b[A"},
	{"key_with_ctrl", "\x1b[1;5A"},
	{"focus_in", "\x1b[I"},
	{"old_mouse_report", "\x1b[M !!"},
	{"new_mouse_report", "\x1b[<0;10;10M"},
	{"answer_about_the_cursor", "\x1b[12;40R"},
	{"function_key", "\x1b[17~"},
	{"function_key_of_the_console", "\x1b[[B"},
	{"unknown_final", "\x1b[38;5;1z"},
	{"title_answer", "\x1b]0;quit\x07"},
	{"clipboard_answer", "\x1b]52;c;cXVpdA==\x1b\\"},
	{"device_answer", "\x1bP>|term 1\x1b\\"},
	{"alt_q", "\x1bq"},
	{"single_shift", "\x1bOz"},
	{"bad_byte", "\xff"},
	{"latin_letter_alone", "\xe9"},
	{"half_a_character", "\xe4\xb8"},
	{"overlong", "\xc0\xaf"},
	{"surrogate", "\xed\xa0\x80"},
	{"controls", "\x02\x06\x0e\x0f\x10\x11\x13\x14\x16\x1c\x1d\x1e"},
};
/* clang-format on */

/* Neither typed nor acted on, and the next key acts at once. */
static void is_swallowed(const void *one)
{
	const struct strange *strange = one;
	struct stage stage;
	open_at(&stage, NULL, "w");
	stage_shows(&stage, "of 22");
	stage_type(&stage, "note fig");
	stage_type(&stage, strange->bytes);
	stage_type(&stage, "s");
	stage_shows(&stage, "A1 note figs");
	stage_check(&stage, strange->name);
	(void)stage_keys(&stage, "Ctrl-U");
	stage_lacks(&stage, "note figs");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "its year now");
	stage_type(&stage, strange->bytes);
	(void)stage_keys(&stage, "q");
	check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), 0, "status");
	stage_close(&stage);
}

static void utf8_arrives_in_any_locale_the_terminal_has(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, NULL, "w");
	stage_type(&stage, "note N\xc3\xadspero \xe6\xa2\xa8 e\xcc\x81!");
	stage_shows(&stage, "N\xc3\xadspero \xe6\xa2\xa8 e\xcc\x81!");
	stage_type(&stage, "\x1b[D\x7f"); /* Left, and the letter with its mark as one */
	stage_shows(&stage, "\xe6\xa2\xa8 !");
	stage_close(&stage);
}

static void utf8_typed_in_ascii_is_kept_and_shown_as_marks(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, "C", "w");
	stage_type(&stage, "note N\xc3\xadspero");
	stage_shows(&stage, "note N?spero");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	check_int(stage_count(
			  &stage, "SELECT count(*) FROM entry WHERE words LIKE '%N\xc3\xadspero'"),
		1, "in the log");
	stage_close(&stage);
}

static void split_arrow_is_still_an_arrow(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, NULL, "w");
	pty_send(stage.pty, "\x1b");
	(void)pty_read_quiet(stage.pty, 20, 100);
	stage_type(&stage, "OB");
	stage_shows(&stage, "2 of 22");
	stage_close(&stage);
}

static void three_backspaces_and_two_enters_are_known(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, NULL, "w");
	stage_type(&stage, "note figgg");
	stage_type(&stage, "\x7f\x08");
	stage_shows(&stage, "A1 note fig");
	stage_lacks(&stage, "A1 note figg");
	stage_type(&stage, "\n");
	stage_shows(&stage, "saved");
	stage_close(&stage);
}

static void editing_keys_edit(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, NULL, "w");
	stage_type(&stage, "note ripe");
	(void)stage_keys(&stage, "Home");
	stage_type(&stage, "\x1b[3~N");
	(void)stage_keys(&stage, "End");
	stage_type(&stage, " soon");
	stage_shows(&stage, "A1 Note ripe soon");
	(void)stage_keys(&stage, "Ctrl-W");
	stage_lacks(&stage, "ripe soon");
	stage_close(&stage);
}

static void stopped_output_does_not_hang(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, NULL, "Ctrl-S q");
	check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), 0, "status");
	stage_close(&stage);
}

/* --- pastes --- */

static char *long_paste(bool bracketed)
{
	char *text = calloc(1, 16384);
	assert_non_null(text);
	strcat(text, bracketed ? "\x1b[200~" : "");
	for (int i = 0; i < 200; i++)
		strcat(text, "q u x d y p 5 lb\r\n");
	strcat(text, bracketed ? "\x1b[201~" : "");
	return text;
}

static void paste_goes_into_the_line_as_one_text(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, NULL, "w");
	stage_shows(&stage, "of 22");
	const int before = stage_count(&stage, "SELECT count(*) FROM entry");
	char *text = long_paste(true);
	stage_type(&stage, text);
	free(text);
	stage_shows(&stage, "only the first line of the paste was taken");
	stage_shows(&stage, "A1 q u x d y p 5 lb");
	check_int(stage_count(&stage, "SELECT count(*) FROM entry"), before, "entries");
	stage_close(&stage);
}

static void paste_into_a_list_does_nothing(void **state)
{
	(void)state;
	for (int bracketed = 0; bracketed < 2; bracketed++) {
		struct stage stage;
		open_at(&stage, NULL, "l");
		stage_type(&stage, "p 5 lb\r");
		stage_shows(&stage, "saved");
		(void)stage_keys(&stage, "Esc");
		stage_shows(&stage, "its year now");
		const int before =
			stage_count(&stage, "SELECT count(*) FROM entry WHERE struck = 0");
		const int sets = stage_count(&stage, "SELECT count(*) FROM change_set");
		char *text = long_paste(bracketed == 1);
		text[strlen(text) - 1] = bracketed == 1 ? '~' : 'x';
		stage_type(&stage, text);
		free(text);
		stage_quiet(&stage);
		assert_false(stage.pty->ended);
		check_int(stage_count(&stage, "SELECT count(*) FROM entry WHERE struck = 0"),
			before, "entries");
		check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), sets, "acts");
		stage_close(&stage);
	}
}

static void paste_is_asked_for_and_given_up(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, NULL, "w");
	stage_type(&stage, "\x1b[200~note a\x1b[Ab\tc\x1b[201~d");
	stage_shows(&stage, "A1 note a");
	stage_shows(&stage, "d");
	stage_check(&stage, "paste");
	stage_close(&stage);
}

/* --- sizes --- */

static void resized_through_many_sizes_it_draws_whole(void **state)
{
	(void)state;
	static const int sizes[][2] = {{24, 80}, {3, 10}, {1, 1}, {2, 2}, {100, 240}, {0, 0},
		{12, 40}, {15, 60}, {5, 200}, {60, 20}, {24, 80}};
	struct stage stage;
	open_at(&stage, NULL, "w");
	stage_type(&stage, "note half a line");
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		pty_resize(stage.pty, sizes[i][0], sizes[i][1]);
		stage_quiet(&stage);
		assert_false(stage.pty->ended);
	}
	stage_shows(&stage, "A1 note half a line");
	stage_shows(&stage, "Enter log");
	char *resized = stage_text(&stage);
	struct stage fresh;
	open_at(&fresh, NULL, "w");
	stage_type(&fresh, "note half a line");
	char *want = stage_text(&fresh);
	check_text(resized, want, "as a fresh start");
	free(resized);
	free(want);
	stage_close(&fresh);
	stage_close(&stage);
}

static void storm_of_sizes_is_survived(void **state)
{
	(void)state;
	struct stage stage;
	struct dice dice = dice_start();
	open_at(&stage, NULL, "");
	for (int i = 0; i < 400; i++) {
		pty_resize(stage.pty, (int)dice_between(&dice, 1, 60),
			(int)dice_between(&dice, 1, 200));
		if (i % 20 == 0)
			(void)pty_read_quiet(stage.pty, 1, 10);
	}
	pty_resize(stage.pty, 24, 80);
	stage_quiet(&stage);
	stage_shows(&stage, "q leave");
	stage_check(&stage, "after the storm");
	stage_close(&stage);
}

static void started_at_any_size_it_waits_for_more(void **state)
{
	(void)state;
	static const int sizes[][2] = {{1, 1}, {2, 2}, {3, 10}, {0, 0}};
	struct scratch scratch = scratch_make();
	char log[SCRATCH_PATH_SIZE];
	stage_make_demo(scratch_path(&scratch, "yard.bough", log));
	const char *arguments[] = {"--log", log, "--today", "2026-11-24", NULL};
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		const struct pty_options how = {.home = scratch.folder, .rows = 24, .columns = 80};
		struct pty *pty = pty_open_program(&how, arguments);
		pty_resize(pty, sizes[i][0], sizes[i][1]); /* before it has drawn */
		(void)pty_read_quiet(pty, 60, STAGE_WAIT_MS);
		assert_false(pty->ended);
		pty_resize(pty, 24, 80);
		pty_expect(pty, "its year now", STAGE_WAIT_MS);
		(void)pty_close(pty);
	}
	scratch_remove(&scratch);
}

static void too_small_says_what_it_needs_and_still_leaves(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 10, .columns = 40};
	stage_open(&stage, &options);
	stage_shows(&stage, "needs 60x15, here 40x10");
	pty_resize(stage.pty, 24, 80);
	stage_shows(&stage, "its year now");
	pty_resize(stage.pty, 12, 40);
	stage_shows(&stage, "needs 60x15");
	(void)stage_keys(&stage, "w"); /* which fits */
	stage_shows(&stage, "of 22");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "needs 60x15");
	(void)stage_keys(&stage, "q");
	check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), 0, "status");
	stage_close(&stage);
}

/* --- ways out --- */

struct way {
	const char *name;
	int signal; /* 0: the keys */
	const char *keys;
	int status;
};

/* clang-format off */
static const struct way ways[] = {
	{"left_by_q", 0, "q", 0},
	{"left_by_ctrl_c", 0, "Ctrl-C", 128 + SIGINT},
	{"left_by_ctrl_c_in_a_line", 0, "l", 128 + SIGINT},
	{"ended_by_hup", SIGHUP, "", 128 + SIGHUP},
	{"ended_by_term", SIGTERM, "", 128 + SIGTERM},
	{"ended_by_int", SIGINT, "w", 128 + SIGINT},
	{"ended_by_quit", SIGQUIT, "", 128 + SIGQUIT},
	{"crashed_by_segv", SIGSEGV, "", 128 + SIGSEGV},
	{"crashed_by_abrt", SIGABRT, "w", 128 + SIGABRT},
	{"crashed_by_bus", SIGBUS, "", 128 + SIGBUS},
};
/* clang-format on */

static void leaves_a_sane_terminal(const void *one)
{
	const struct way *way = one;
	struct stage stage;
	open_at(&stage, NULL,
		strcmp(way->keys, "w") == 0 || strcmp(way->keys, "l") == 0 ? way->keys : "");
	if (way->keys[0] == 'l')
		(void)stage_keys(&stage, "p Space 5 Ctrl-C");
	else if (way->signal == 0)
		(void)stage_keys(&stage, way->keys);
	else
		assert_int_equal(kill(stage.pty->child, way->signal), 0);
	check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), way->status, "status");
	stage_check_modes(&stage, way->name);
	char *sound = stage_sql(&stage, "PRAGMA quick_check");
	check_text(sound, "ok\n", "log");
	free(sound);
	stage_close(&stage);
}

/* While it opens the log, reads and draws, too. */
static void a_signal_at_any_moment_ends_it(void **state)
{
	(void)state;
	struct scratch scratch = scratch_make();
	struct dice dice = dice_start();
	char log[SCRATCH_PATH_SIZE];
	stage_make_demo(scratch_path(&scratch, "yard.bough", log));
	const char *arguments[] = {"--log", log, "--today", "2026-11-24", NULL};
	const struct pty_options how = {.home = scratch.folder, .rows = 24, .columns = 80};
	for (int i = 0; i < 12; i++) {
		struct pty *pty = pty_open_program(&how, arguments);
		pty_send(pty, "rywsyWyPyY");
		(void)poll(NULL, 0, (int)dice_between(&dice, 0, 120));
		for (int often = 0; often < 3; often++)
			(void)kill(pty->child, SIGTERM);
		check_int(pty_expect_end(pty, 2000), 128 + SIGTERM, "status");
		check_int(pty->screen->on_other, false, "the shell's screen");
		(void)pty_close(pty);
	}
	scratch_remove(&scratch);
}

static void hang_up_ends_it_at_once(void **state)
{
	(void)state;
	struct stage stage;
	open_at(&stage, NULL, "w");
	(void)close(stage.terminal);
	stage.terminal = -1;
	check_int(pty_close(stage.pty), 128 + SIGHUP, "status");
	stage.pty = NULL;
	stage_close(&stage);
}

static void gone_terminal_with_hup_ignored_does_not_spin(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24};
	void (*before)(int) = signal(SIGHUP, SIG_IGN); /* as nohup does */
	stage_open(&stage, &options);
	(void)signal(SIGHUP, before);
	(void)close(stage.terminal);
	stage.terminal = -1;
	check_int(pty_close(stage.pty) != 128 + SIGKILL, true, "left by itself");
	stage.pty = NULL;
	stage_close(&stage);
}

static void stopped_and_brought_back_it_draws_anew(void **state)
{
	(void)state;
	struct scratch scratch = scratch_make();
	char log[SCRATCH_PATH_SIZE];
	char script[SCRATCH_PATH_SIZE * 2];
	stage_make_demo(scratch_path(&scratch, "yard.bough", log));
	(void)snprintf(script, sizeof script,
		"set -m; '%s' --log '%s' --today 2026-11-24; stty -a | tr ' ' '\\n' | grep -x "
		"'icanon;*'; echo stopped; read line; fg; echo left",
		program_path(), log);
	const char *arguments[] = {"bash", "-c", script, NULL};
	const struct pty_options how = {.home = scratch.folder, .arguments = arguments};
	struct pty *pty = pty_open(&how);
	pty_expect(pty, "q leave", STAGE_WAIT_MS);
	(void)pty_send_keys(pty, "Ctrl-Z");
	pty_expect(pty, "stopped", STAGE_WAIT_MS);
	assert_true(vt_find(pty->screen, "icanon") >= 0);
	stage_enter(log, "A1 picked 3 lb"); /* nothing is held while stopped */
	pty_resize(pty, 15, 60);
	(void)pty_send_keys(pty, "Enter");
	pty_expect(pty, "q leave", STAGE_WAIT_MS);
	(void)pty_send_keys(pty, "q");
	pty_expect(pty, "left", STAGE_WAIT_MS);
	(void)pty_close(pty);
	scratch_remove(&scratch);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(no_terminal_is_one_line_and_no_escapes),
		cmocka_unit_test(newer_terminal_is_taken_for_what_it_is_like),
		cmocka_unit_test(utf8_arrives_in_any_locale_the_terminal_has),
		cmocka_unit_test(utf8_typed_in_ascii_is_kept_and_shown_as_marks),
		cmocka_unit_test(split_arrow_is_still_an_arrow),
		cmocka_unit_test(three_backspaces_and_two_enters_are_known),
		cmocka_unit_test(editing_keys_edit),
		cmocka_unit_test(stopped_output_does_not_hang),
		cmocka_unit_test(paste_goes_into_the_line_as_one_text),
		cmocka_unit_test(paste_into_a_list_does_nothing),
		cmocka_unit_test(paste_is_asked_for_and_given_up),
		cmocka_unit_test(resized_through_many_sizes_it_draws_whole),
		cmocka_unit_test(storm_of_sizes_is_survived),
		cmocka_unit_test(started_at_any_size_it_waits_for_more),
		cmocka_unit_test(a_signal_at_any_moment_ends_it),
		cmocka_unit_test(too_small_says_what_it_needs_and_still_leaves),
		cmocka_unit_test(hang_up_ends_it_at_once),
		cmocka_unit_test(gone_terminal_with_hup_ignored_does_not_spin),
		cmocka_unit_test(stopped_and_brought_back_it_draws_anew),
	};
	const int failed = RUN_CASES("unfit terminals", unfits, is_unfit) +
			   RUN_CASES("strange input", stranges, is_swallowed) +
			   RUN_CASES("ways out", ways, leaves_a_sane_terminal) +
			   cmocka_run_group_tests_name("terminal", tests, NULL, NULL);
	return failed != 0;
}
