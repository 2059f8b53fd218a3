/* SPDX-License-Identifier: MIT */
/* What holds wherever one is: sizes, strange bytes and pastes change nothing. */
#include "support/every.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static void sizes_change_nothing(const void *one)
{
	static const int sizes[][2] = {
		{3, 10}, {1, 1}, {100, 240}, {0, 0}, {12, 40}, {5, 200}, {60, 20}, {24, 80}};
	const struct where *where = one;
	struct stage stage;
	go_there(&stage, where);
	char *before = stage_text(&stage);
	const int acts_before = acts_of(&stage);
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		pty_resize(stage.pty, sizes[i][0], sizes[i][1]);
		stage_quiet(&stage);
		assert_false(stage.pty->ended);
	}
	stage_shows(&stage, where->shows);
	char *after = stage_text(&stage);
	check_text(after, before, where->name);
	stage_check(&stage, where->name);
	check_int(acts_of(&stage), acts_before, "acts");
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
	const int acts_before = acts_of(&stage);
	stage_type(&stage, strange);
	char *after = stage_text(&stage);
	check_text(after, before, where->name);
	check_int(acts_of(&stage), acts_before, "acts");
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
	const int before = acts_of(&stage);
	char *text = paste_of_200_lines(bracketed);
	stage_type(&stage, text);
	stage_quiet(&stage);
	assert_false(stage.pty->ended);
	check_int(acts_of(&stage), before, "acts");
	check_sound(&stage);
	free(text);
	stage_close(&stage);
}

static void pastes_save_change_and_leave_nothing(const void *one)
{
	const struct where *where = one;
	const bool every_second = SANITIZED && (where - wheres) % 2 == 1;
	if (where->types || !every_second)
		paste(where, true);
	if (!where->types && (!SANITIZED || every_second))
		paste(where, false);
}

int main(void)
{
	const int failed =
		RUN_CASES("sizes everywhere", wheres, sizes_change_nothing) +
		RUN_CASES("strange bytes everywhere", wheres, strange_bytes_do_nothing) +
		RUN_CASES("pastes everywhere", wheres, pastes_save_change_and_leave_nothing);
	return failed != 0;
}
