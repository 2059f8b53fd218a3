/* SPDX-License-Identifier: MIT */
#include "support/stage.h"

#include "support/test.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <termios.h>
#include <unistd.h>

enum { QUIET_MS = 60 };

static void run_well(const char *const *arguments)
{
	struct spawned answer = program_run_list(NULL, arguments);
	check_int(answer.status, 0, answer.err);
	spawned_free(&answer);
}

/* Made once a test program, and copied from then on. */
void stage_make_demo(const char *path)
{
	static char *kept;
	static size_t length;
	if (kept == NULL) {
		const char *arguments[] = {"--today", "2026-11-24", "demo", path, NULL};
		run_well(arguments);
		kept = file_read(path, &length);
		return;
	}
	file_write(path, kept, length);
	assert_int_equal(chmod(path, 0600), 0);
}

void stage_enter(const char *log, const char *line)
{
	const char *arguments[] = {"--log", log, "--today", "2026-11-24", "enter", line, NULL};
	run_well(arguments);
}

void stage_open(struct stage *stage, const struct stage_options *options)
{
	*stage = (struct stage){.scratch = scratch_make(), .options = *options, .terminal = -1};
	(void)scratch_path(&stage->scratch, "yard.bough", stage->log);
	if (!options->empty)
		stage_make_demo(stage->log);
	stage_start(stage);
}

void stage_start(struct stage *stage)
{
	const struct stage_options *options = &stage->options;
	const char *environment[] = {options->variable, NULL};
	const struct pty_options how = {.rows = options->rows,
		.columns = options->columns,
		.term = options->term,
		.lang = options->lang,
		.home = stage->scratch.folder,
		.environment = environment};
	const char *arguments[] = {"--log", stage->log, "--today", "2026-11-24", NULL};
	if (stage->terminal >= 0)
		(void)close(stage->terminal);
	stage->pty = pty_open_program(&how, arguments);
	stage->terminal = open(ptsname(stage->pty->master), O_RDWR | O_NOCTTY | O_CLOEXEC);
	assert_true(stage->terminal >= 0);
	/* the last thing drawn is the foot; "q" stands in it, or in what is said of a small one */
	pty_expect(stage->pty, "q", STAGE_WAIT_MS);
	stage_quiet(stage);
}

void stage_quiet(struct stage *stage)
{
	(void)pty_read_quiet(stage->pty, QUIET_MS, STAGE_WAIT_MS);
}

int stage_keys(struct stage *stage, const char *names)
{
	const int count = pty_send_keys(stage->pty, names);
	const size_t length = strlen(names);
	/* behind a lone Esc the program waits a while for the rest of a sequence */
	if (length >= 3 && strcmp(names + length - 3, "Esc") == 0)
		(void)pty_read_quiet(stage->pty, 3 * QUIET_MS, STAGE_WAIT_MS);
	else
		stage_quiet(stage);
	return count;
}

void stage_type(struct stage *stage, const char *text)
{
	pty_send(stage->pty, text);
	stage_quiet(stage);
}

void stage_shows(struct stage *stage, const char *text)
{
	pty_expect(stage->pty, text, STAGE_WAIT_MS);
}

void stage_lacks(struct stage *stage, const char *text)
{
	stage_quiet(stage);
	pty_expect_gone(stage->pty, text, STAGE_WAIT_MS);
}

char *stage_text(const struct stage *stage)
{
	return vt_text(stage->pty->screen);
}

char *stage_sql(const struct stage *stage, const char *sql)
{
	/* the program may be saving what is typed */
	const char *arguments[] = {"sqlite3", "-cmd", ".timeout 5000", stage->log, sql, NULL};
	struct spawned answer = command_run(NULL, arguments);
	check_int(answer.status, 0, answer.err);
	char *text = strdup(answer.out);
	spawned_free(&answer);
	return text;
}

int stage_count(const struct stage *stage, const char *sql)
{
	char *text = stage_sql(stage, sql);
	const int count = atoi(text);
	free(text);
	return count;
}

void stage_check(const struct stage *stage, const char *label)
{
	const struct vt *vt = stage->pty->screen;
	static char row[VT_ROW_SIZE];
	check_text(vt->unknown, "", label);
	for (int i = 0; i < vt->rows; i++) {
		(void)vt_row(vt, i, row);
		if (strchr(row, '\x1b') != NULL || strstr(row, "^[") != NULL)
			check_text(row, "", label); /* rubbish of an escape sequence */
	}
	assert_true(vt->cursor_shown);
	assert_false(vt->mouse_told); /* what is on the screen can be marked and copied */
	assert_in_range(vt->pen.row, 0, vt->rows - 1);
	assert_in_range(vt->pen.column, 0, vt->columns - 1);
}

void stage_check_modes(const struct stage *stage, const char *label)
{
	struct termios modes;
	const tcflag_t local = ECHO | ICANON | ISIG | IEXTEN;
	check_int(tcgetattr(stage->terminal, &modes), 0, label);
	check_int(modes.c_lflag & local, local, label);
	check_int(modes.c_iflag & ICRNL, ICRNL, label);
	check_int(modes.c_oflag & OPOST, OPOST, label);
	check_int(stage->pty->screen->on_other, false, label);
	check_int(stage->pty->screen->pastes_marked, false, label);
	check_int(stage->pty->screen->mouse_told, false, label);
	check_int(stage->pty->screen->cursor_shown, true, label);
}

void stage_close(struct stage *stage)
{
	if (stage->pty != NULL)
		(void)pty_close(stage->pty);
	if (stage->terminal >= 0)
		(void)close(stage->terminal);
	scratch_remove(&stage->scratch);
}

void stage_open_at(struct stage *stage, int rows, int columns, const char *lang, const char *keys)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	(void)stage_keys(stage, keys);
}

void stage_golden(const struct stage *stage, const char *path)
{
	char *text = stage_text(stage);
	check_golden(text, path);
	free(text);
}

void stage_ascii(const struct stage *stage)
{
	char *text = stage_text(stage);
	for (const char *at = text; *at != '\0'; at++)
		assert_true((unsigned char)*at < 0x80);
	free(text);
}
