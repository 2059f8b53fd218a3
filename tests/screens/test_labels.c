/* SPDX-License-Identifier: MIT */
/* Labels of every script on the screens: wide signs, emoji, marks that take no
 * cell, text from right to left. Whatever stands in a label, columns stay
 * straight and rows stay whole. */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static const char *const labels[] = {
	"A1",
	"\u679c\u6a39\u4e00",                                           /* wide */
	"\u5357\u306e\u58c1\u306e\u305d\u3070\u306e\u53e4\u3044\u6728", /* wide and
                                                                       long */
	"\U0001f34e tree",                                              /* an emoji */
	"\U0001f333\U0001f333\U0001f333\U0001f333\U0001f333\U0001f333\U0001f333",
	"\U0001f469\u200d\U0001f33e row", /* joined */
	"\U0001f1f3\U0001f1f1 x",         /* a flag of two signs */
	"\u2764\ufe0f x",                 /* a sign asked for as a picture */
	"e\u0301te\u0301 2",              /* marks */
	"a\u0301\u0302\u0303\u0304 x",    /* a stack of them */
	"\u0e44\u0e21\u0e49\u0e1c\u0e25", /* marks above and below */
	"\u0915\u094d\u0937\u093f",       /* letters that join */
	"\u05e9\u05d6\u05d9\u05e3",       /* from right to left */
	"\u0644\u064a\u0645\u0648\u0646",
};

enum { LABELS = sizeof labels / sizeof labels[0] };

static const int sizes[][2] = {{15, 60}, {24, 80}, {43, 132}};

/* Trees gone through one by one: all of them at the usual size, some at the
 * others. */
static int steps_of(const int size[2])
{
	return size[1] == 80 ? LABELS : 6;
}

/* --- the yard --- */

static void say(const char *log, const char *const *words, const char *input)
{
	const char *arguments[24] = {"--log", log, "--today", "2026-11-24"};
	for (size_t i = 0; words[i] != NULL; i++)
		arguments[4 + i] = words[i];
	struct spawned answer = program_run_list(input, arguments);
	check_int(answer.status, 0, answer.err);
	spawned_free(&answer);
}

/* A loquat of each label, with two crops and a cut at the wrong time, each of a share of its own,
 * so that none is told together with another. Made once. */
static void make_yard(const char *path)
{
	static char *kept;
	static size_t length;
	static char lines[8192];
	if (kept != NULL) {
		file_write(path, kept, length);
		return;
	}
	const char *place[] = {"new", "--name", "\u5c71\u306e\u5ead", "--hemisphere", "north",
		"--wet", "winter", "--winter", "frosty", "--units", "us", NULL};
	say(path, place, NULL);
	for (size_t i = 0; i < LABELS; i++) {
		const char *tree[] = {"tree", "add", labels[i], "--species", "loquat", "--planted",
			"2015", "--hazard", labels[i], NULL};
		say(path, tree, NULL);
		const size_t used = strlen(lines);
		(void)snprintf(lines + used, sizeof lines - used,
			"%s picked 12 lb @ 2026-05-10 ; %s\n%s picked 20 lb @ 2025-05-10\n"
			"%s cut shape %d%% @ 2026-11-20 ; %s\n",
			labels[i], labels[i], labels[i], labels[i], 10 + (int)i, labels[i]);
	}
	const char *enter[] = {"enter", "-", NULL};
	say(path, enter, lines);
	kept = file_read(path, &length);
}

static void open_yard(struct stage *stage, const int size[2], const char *lang)
{
	*stage = (struct stage){.scratch = scratch_make(),
		.options = {.rows = size[0], .columns = size[1], .lang = lang},
		.terminal = -1};
	make_yard(scratch_path(&stage->scratch, "yard.bough", stage->log));
	stage_start(stage);
}

/* --- cells --- */

/* Does the text stand in the row from this cell on? Right halves hold nothing.
 */
static bool stands_at(const struct vt *vt, int row, int column, const char *text)
{
	if (vt->cells[row][column].text[0] == '\0')
		return false;
	for (; *text != '\0' && column < vt->columns; column++) {
		const char *cell = vt->cells[row][column].text;
		const size_t length = strlen(cell);
		if (strncmp(text, cell, length) != 0)
			return false;
		text += length;
	}
	return *text == '\0';
}

static int column_of(const struct vt *vt, int row, const char *text)
{
	for (int column = 0; column < vt->columns; column++)
		if (stands_at(vt, row, column, text))
			return column;
	return -1;
}

static bool is_blank(const struct vt *vt, int row, int column)
{
	return strcmp(vt->cells[row][column].text, " ") == 0;
}

/* Every wide sign has both its cells, in its row. */
static void check_halves(const struct vt *vt, const char *label)
{
	for (int row = 0; row < vt->rows; row++) {
		for (int column = 0; column < vt->columns; column++) {
			const bool wide = vt->cells[row][column].style.attributes & VT_WIDE;
			const bool half = vt->cells[row][column].text[0] == '\0';
			if (wide && (column + 1 == vt->columns ||
					    vt->cells[row][column + 1].text[0] != '\0'))
				fail_msg("%s: half a sign in row %d", label, row);
			if (half && (column == 0 || !(vt->cells[row][column - 1].style.attributes &
							    VT_WIDE)))
				fail_msg("%s: a right half alone in row %d", label, row);
		}
	}
}

/* What holds of every picture: the day ends in the last column, and signs are
 * whole. */
static void check_picture(struct stage *stage, const char *label)
{
	const struct vt *vt = stage->pty->screen;
	stage_check(stage, label);
	check_halves(vt, label);
	check_int(column_of(vt, 0, "2026"), vt->columns - 4, label);
}

/* The program and the terminal agree on where each sign stands: all drawn anew
 * looks the same. */
static void check_redrawn(struct stage *stage, const char *label)
{
	check_picture(stage, label);
	char *before = stage_text(stage);
	(void)stage_keys(stage, "Ctrl-L");
	char *after = stage_text(stage);
	check_text(after, before, label);
	free(before);
	free(after);
}

/* The rows from `from` on that hold the text have it all in one column, behind
 * a blank. Answers how many there are. */
static int check_column(const struct vt *vt, int from, const char *text, const char *label)
{
	int count = 0;
	int first = -1;
	for (int row = from; row < vt->rows - 1; row++) {
		const int column = column_of(vt, row, text);
		if (column < 0)
			continue;
		if (first < 0)
			first = column;
		if (column != first)
			fail_msg("%s: '%s' stands in column %d of row %d, above in %d", label, text,
				column, row, first);
		assert_true(column == 0 || is_blank(vt, row, column - 1));
		count++;
	}
	return count;
}

/* --- the screens --- */

static int check_yard_rows(const struct vt *vt, const char *label)
{
	static const char *const headings[] = {"kind", "its year now", "last entry"};
	const int heading = vt_find(vt, "its year now");
	assert_true(heading > 0);
	const int count = check_column(vt, heading + 1, "loquat", label);
	const int kind = column_of(vt, heading, "kind");
	for (int row = heading + 1; row <= heading + count; row++) {
		check_int(column_of(vt, row, "loquat"), kind, label);
		for (size_t i = 0; i < 3; i++)
			assert_true(is_blank(vt, row, column_of(vt, heading, headings[i]) - 1));
	}
	return count;
}

static void yard_keeps_its_columns(void **state)
{
	const int *size = *state;
	struct stage stage;
	open_yard(&stage, size, NULL);
	check_picture(&stage, "top");
	int seen = check_yard_rows(stage.pty->screen, "top");
	(void)stage_keys(&stage, "End");
	check_redrawn(&stage, "end");
	seen += check_yard_rows(stage.pty->screen, "end");
	assert_true(seen >= (size[0] < 24 ? 6 : LABELS));
	stage_close(&stage);
}

static void review_keeps_its_columns(void **state)
{
	struct stage stage;
	open_yard(&stage, *state, NULL);
	(void)stage_keys(&stage, "r");
	int seen = 0;
	for (int i = 0; i < LABELS; i += 4) {
		check_picture(&stage, labels[i]);
		const struct vt *vt = stage.pty->screen;
		int text = -1;
		for (int row = 1; row < vt->rows - 1; row++) {
			if (column_of(vt, row, "ACT") != 2 || !is_blank(vt, row, 0))
				continue; /* the open one has its text below it */
			const int column = column_of(vt, row, "The shape");
			if (text < 0)
				text = column;
			check_int(column, text, labels[i]);
			assert_true(is_blank(vt, row, text - 1) && is_blank(vt, row, text - 2));
			seen++;
		}
		(void)stage_keys(&stage, "Down Down Down Down");
	}
	check_redrawn(&stage, "review");
	assert_true(seen > 0 || stage.pty->screen->rows < 24);
	stage_close(&stage);
}

static void season_keeps_its_columns(void **state)
{
	const int *size = *state;
	struct stage stage;
	open_yard(&stage, size, NULL);
	(void)stage_keys(&stage, "s");
	stage_shows(&stage, "Season");
	int seen = 0;
	for (int i = 0; i < 3; i++) {
		check_picture(&stage, "season");
		const struct vt *vt = stage.pty->screen;
		const int heading = vt_find(vt, "its mean");
		assert_true(heading > 0);
		int bar = -1;
		for (int row = heading + 1; row < vt->rows && column_of(vt, row, "\u2500") < 0;
			row++) {
			if (column_of(vt, row, "loquat") < 0)
				continue;
			check_int(column_of(vt, row, "loquat"), column_of(vt, heading, "kind"),
				"kind");
			check_int(column_of(vt, row, "12 lb"), column_of(vt, heading, "picked") + 1,
				"weight");
			if (bar < 0)
				bar = column_of(vt, row, "\u2502");
			check_int(column_of(vt, row, "\u2502"), bar, "the mean");
			seen++;
		}
		(void)stage_keys(&stage, i == 0 ? "End" : "Tab");
	}
	check_redrawn(&stage, "season");
	assert_true(seen >= 4);
	stage_close(&stage);
}

static void tree_keeps_its_ribbon(void **state)
{
	const int steps = steps_of(*state);
	struct stage stage;
	open_yard(&stage, *state, NULL);
	(void)stage_keys(&stage, "Enter");
	for (int i = 0; i < steps; i++) {
		stage_shows(&stage, "Tree");
		check_picture(&stage, labels[i]);
		const struct vt *vt = stage.pty->screen;
		const int today = vt_find(vt, "\u25b2");
		if (today >= 0) {
			const int column = column_of(vt, today, "\u25b2");
			for (int row = 1; row < today; row++) {
				const int line = column_of(vt, row, "\u250a");
				assert_true(line < 0 || line == column);
			}
		}
		(void)stage_keys(&stage, "Right");
	}
	if (steps == LABELS)
		stage_shows(&stage, "last tree");
	stage_close(&stage);
}

/* The line being typed: the cursor stands behind what was typed, counted in
 * cells. */
static void check_typing(struct stage *stage)
{
	static const struct {
		const char *text;
		int cells;
	} rows[] = {{"note ", 5}, {"\u679c\u6a39", 4}, {" e\u0301", 2}, {"\U0001f34e", 2},
		{"\u05e9\u05d6", 2}, {" x", 2}};
	const struct vt *vt = stage->pty->screen;
	(void)stage_keys(stage, "Ctrl-L");
	int column = vt->pen.column;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		stage_type(stage, rows[i].text);
		column += rows[i].cells;
		check_int(vt->pen.column, column, rows[i].text);
	}
	check_redrawn(stage, "typed");
	(void)stage_keys(stage, "Home");
	for (size_t i = 0; i < 3; i++)
		(void)stage_keys(stage, "Delete");
	check_redrawn(stage, "deleted");
}

static void walk_keeps_its_columns(void **state)
{
	const int steps = steps_of(*state);
	struct stage stage;
	open_yard(&stage, *state, NULL);
	(void)stage_keys(&stage, "w");
	for (int i = 0; i < steps; i++) {
		char place[16];
		(void)snprintf(place, sizeof place, "%d of %d", i + 1, LABELS);
		stage_shows(&stage, place);
		check_picture(&stage, labels[i]);
		const struct vt *vt = stage.pty->screen;
		const int row = vt_find(vt, place);
		check_int(column_of(vt, row, place), vt->columns - (int)strlen(place), "place");
		if (i + 1 < steps)
			(void)stage_keys(&stage, "Down");
	}
	check_typing(&stage);
	stage_close(&stage);
}

static void ascii_keeps_its_columns(void **state)
{
	struct stage stage;
	open_yard(&stage, *state, "C");
	static const char *const keys[] = {"End", "r", "s", "w"};
	check_yard_rows(stage.pty->screen, "yard");
	for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
		(void)stage_keys(&stage, keys[i]);
		check_picture(&stage, keys[i]);
		char *text = stage_text(&stage);
		for (const char *at = text; *at != '\0'; at++)
			assert_true((unsigned char)*at < 0x80);
		free(text);
	}
	stage_close(&stage);
}

int main(void)
{
	static const struct {
		const char *name;
		CMUnitTestFunction run;
	} facts[] = {
		{"yard_keeps_its_columns", yard_keeps_its_columns},
		{"review_keeps_its_columns", review_keeps_its_columns},
		{"season_keeps_its_columns", season_keeps_its_columns},
		{"tree_keeps_its_ribbon", tree_keeps_its_ribbon},
		{"walk_keeps_its_columns", walk_keeps_its_columns},
		{"ascii_keeps_its_columns", ascii_keeps_its_columns},
	};
	enum { FACTS = sizeof facts / sizeof facts[0], SIZES = sizeof sizes / sizeof sizes[0] };
	static char names[FACTS * SIZES][64];
	struct CMUnitTest tests[FACTS * SIZES] = {{0}};
	for (size_t i = 0; i < FACTS * SIZES; i++) {
		const int *size = sizes[i % SIZES];
		(void)snprintf(names[i], sizeof names[i], "%s: %dx%d", facts[i / SIZES].name,
			size[1], size[0]);
		tests[i].name = names[i];
		tests[i].test_func = facts[i / SIZES].run;
		tests[i].initial_state = (void *)size;
	}
	return cmocka_run_group_tests(tests, NULL, NULL);
}
