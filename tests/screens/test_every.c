/* SPDX-License-Identifier: MIT */
/* What holds wherever one is: on each screen, and in each line that is half filled, signals, sizes
 * and pastes do the log no harm. */
#include "support/stage.h"
#include "support/test.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>

struct where {
	const char *name;
	const char *keys;  /* from the first screen */
	const char *typed; /* then, letter by letter */
	const char *shows; /* once there */
	bool empty;        /* no log is there yet */
	bool kept;         /* what was typed is offered at the next start */
	bool types;        /* lines pasted without brackets are lines typed */
};

/* clang-format off */
static const struct where wheres[] = {
	{.name = "yard", .keys = "", .typed = "", .shows = "its year now"},
	{.name = "finding_in_the_yard", .keys = "/", .typed = "fi", .shows = "fi", .types = true},
	{.name = "year", .keys = "Y", .typed = "", .shows = "saw between:"},
	{.name = "finding_in_the_year", .keys = "Y /", .typed = "fi", .shows = "fi", .types = true},
	{.name = "walk", .keys = "w", .typed = "", .shows = "1 of 22", .types = true},
	{.name = "line_of_the_walk", .keys = "w", .typed = "note half a wo", .kept = true,
		.shows = "A1 note half a wo", .types = true},
	{.name = "finding_on_the_walk", .keys = "w /", .typed = "fi", .shows = "fi", .types = true},
	{.name = "review", .keys = "r", .typed = "", .shows = "set aside"},
	{.name = "reason_in_the_review", .keys = "r x", .typed = "too sha", .shows = "too sha",
		.types = true},
	{.name = "season", .keys = "s", .typed = "", .shows = "Season"},
	{.name = "weather", .keys = "W", .typed = "", .shows = "Weather"},
	{.name = "tree", .keys = "Enter", .typed = "", .shows = "A1"},
	{.name = "facts", .keys = "Enter e", .typed = "x", .kept = true, .shows = "A1x",
		.types = true},
	{.name = "likely", .keys = "Enter i Right", .typed = "", .shows = "not kept"},
	{.name = "plan", .keys = "P", .typed = "", .shows = "[1 flags]"},
	{.name = "merge", .keys = "M", .typed = "usb", .shows = "usb", .types = true},
	{.name = "history", .keys = "H", .typed = "", .shows = "History"},
	{.name = "answered", .keys = "O", .typed = "", .shows = "Answered"},
	{.name = "almanac", .keys = "A", .typed = "", .shows = "Almanac"},
	{.name = "search", .keys = "F", .typed = "gu", .shows = "gu", .types = true},
	{.name = "help", .keys = "?", .typed = "", .shows = "Help"},
	{.name = "adding_trees", .keys = "a", .typed = "row of th", .kept = true,
		.shows = "row of th", .types = true},
	{.name = "first_run", .keys = "Enter", .typed = "My ya", .shows = "My ya", .empty = true,
		.types = true},
};
/* clang-format on */
enum { WHERES = sizeof wheres / sizeof wheres[0] };

static void go_there(struct stage *stage, const struct where *where)
{
	const struct stage_options options = {.empty = where->empty};
	stage_open(stage, &options);
	(void)stage_keys(stage, where->keys);
	stage_type(stage, where->typed);
	stage_shows(stage, where->shows);
}

static int acts(const struct stage *stage)
{
	return stage->options.empty ? 0 : stage_count(stage, "SELECT count(*) FROM change_set");
}

static void check_sound(const struct stage *stage)
{
	if (stage->options.empty) {
		assert_false(file_exists(stage->log));
		return;
	}
	char *sound = stage_sql(stage, "PRAGMA quick_check");
	check_text(sound, "ok\n", "log");
	free(sound);
}

static void signals_leave_a_sane_terminal_and_log(const void *one)
{
	static const int signals[] = {SIGTERM, SIGINT, SIGHUP};
	const struct where *where = one;
	for (size_t i = 0; i < sizeof signals / sizeof signals[0]; i++) {
		struct stage stage;
		go_there(&stage, where);
		const int before = acts(&stage);
		assert_int_equal(kill(stage.pty->child, signals[i]), 0);
		check_int(pty_expect_end(stage.pty, 1000), 128 + signals[i], "status");
		stage_check_modes(&stage, where->name);
		check_sound(&stage);
		check_int(acts(&stage), before, "acts");
		if (where->kept) {
			(void)pty_close(stage.pty);
			stage_start(&stage);
			(void)stage_keys(&stage, where->keys);
			stage_shows(&stage, where->shows);
		}
		stage_close(&stage);
	}
}

static void sizes_change_nothing(const void *one)
{
	static const int sizes[][2] = {
		{3, 10}, {1, 1}, {100, 240}, {0, 0}, {12, 40}, {5, 200}, {60, 20}, {24, 80}};
	const struct where *where = one;
	struct stage stage;
	go_there(&stage, where);
	char *before = stage_text(&stage);
	const int acts_before = acts(&stage);
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		pty_resize(stage.pty, sizes[i][0], sizes[i][1]);
		stage_quiet(&stage);
		assert_false(stage.pty->ended);
	}
	stage_shows(&stage, where->shows);
	char *after = stage_text(&stage);
	check_text(after, before, where->name);
	stage_check(&stage, where->name);
	check_int(acts(&stage), acts_before, "acts");
	free(before);
	free(after);
	stage_close(&stage);
}

/* Keys no terminal of ours has, answers nobody asked for, bytes that are no character. */
static void strange_bytes_do_nothing(const void *one)
{
	static const char strange[] =
		"\x1b[1;2P\x1b[I\x1b[M !!\x1b[<0;10;10M\x1b[12;40R\x1b[17~\x1b]0;quit\x07"
		"\x1bP>|term 1\x1b\\\x1bq\x1bOz\xff\xe9\xe4\xb8\xed\xa0\x80\x02\x0e\x13\x14\x1c";
	const struct where *where = one;
	struct stage stage;
	go_there(&stage, where);
	char *before = stage_text(&stage);
	const int acts_before = acts(&stage);
	stage_type(&stage, strange);
	char *after = stage_text(&stage);
	check_text(after, before, where->name);
	check_int(acts(&stage), acts_before, "acts");
	free(before);
	free(after);
	stage_close(&stage);
}

static char *paste_of_200_lines(bool bracketed)
{
	char *text = calloc(1, 16384);
	assert_non_null(text);
	strcat(text, bracketed ? "\x1b[200~" : "");
	for (int i = 0; i < 200; i++)
		strcat(text, "quxdya p 5 lb 7\tUY\x1b[Anw\r\n");
	strcat(text, bracketed ? "\x1b[201~" : "");
	return text;
}

static void paste(const struct where *where, bool bracketed)
{
	struct stage stage;
	go_there(&stage, where);
	const int before = acts(&stage);
	char *text = paste_of_200_lines(bracketed);
	stage_type(&stage, text);
	stage_quiet(&stage);
	assert_false(stage.pty->ended);
	check_int(acts(&stage), before, "acts");
	check_sound(&stage);
	free(text);
	stage_close(&stage);
}

static void pastes_save_change_and_leave_nothing(const void *one)
{
	const struct where *where = one;
	paste(where, true);
	if (!where->types)
		paste(where, false);
}

/* All of them are open side by side and waited for once. */
static void nothing_is_sent_while_nothing_happens(void **state)
{
	(void)state;
	static struct stage stages[WHERES];
	size_t before[WHERES];
	for (size_t i = 0; i < WHERES; i++)
		go_there(&stages[i], &wheres[i]);
	(void)pty_read_quiet(stages[WHERES - 1].pty, 1500, STAGE_WAIT_MS); /* drafts are kept */
	for (size_t i = 0; i < WHERES; i++) {
		stage_quiet(&stages[i]);
		before[i] = stages[i].pty->received;
	}
	(void)pty_read_quiet(stages[0].pty, 3000, 3000);
	for (size_t i = 0; i < WHERES; i++) {
		stage_quiet(&stages[i]);
		check_int((int64_t)(stages[i].pty->received - before[i]), 0, wheres[i].name);
		stage_close(&stages[i]);
	}
}

int main(void)
{
	const struct CMUnitTest quiet[] = {cmocka_unit_test(nothing_is_sent_while_nothing_happens)};
	const int failed =
		RUN_CASES("signals everywhere", wheres, signals_leave_a_sane_terminal_and_log) +
		RUN_CASES("sizes everywhere", wheres, sizes_change_nothing) +
		RUN_CASES("strange bytes everywhere", wheres, strange_bytes_do_nothing) +
		RUN_CASES("pastes everywhere", wheres, pastes_save_change_and_leave_nothing) +
		cmocka_run_group_tests_name("quiet everywhere", quiet, NULL, NULL);
	return failed != 0;
}
