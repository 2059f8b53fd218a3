/* SPDX-License-Identifier: MIT */
/* Help says what the tables of keys and kinds say, on every screen, in 60 columns and in 40. */
#include "core/kind.h"
#include "screens/screen.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

enum { PAGES_MAX = 40, TEXT_MAX = 60000 };

/* All of the help as one text: page after page until nothing more follows. */
static const char *read_help(struct stage *stage)
{
	static char all[TEXT_MAX];
	size_t length = 0;
	for (int page = 0; page < PAGES_MAX; page++) {
		char *text = stage_text(stage);
		length += (size_t)snprintf(all + length, sizeof all - length, "%s", text);
		assert_true(length < sizeof all - 1);
		bool more = strstr(text, "Down: more") != NULL;
		free(text);
		if (!more)
			return all;
		(void)stage_keys(stage, "PageDown");
	}
	fail_msg("the help has no end");
	return all;
}

static void open_help(struct stage *stage, const char *key, int rows, int columns)
{
	const struct stage_options options = {.rows = rows, .columns = columns};
	stage_open(stage, &options);
	if (key[0] != '\0')
		(void)stage_keys(stage, key);
	(void)stage_keys(stage, "?");
	stage_shows(stage, "Help");
}

static void check_row(const char *help, const struct key_row *row)
{
	char name[KEY_SIZE], line[160];
	const struct action_row *action = action_row(row->action);
	(void)snprintf(line, sizeof line, "  %-10s %-12s %s\n", key_word(row->key, name),
		action->name, action->help);
	check_has(help, line, action->name);
}

/* A key of the screen's own hides the common one. */
static bool is_bound(const struct key_row *rows, uint32_t key)
{
	for (; rows->key != 0; rows++)
		if (rows->key == key)
			return true;
	return false;
}

static void help_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_help(&stage, "r", 24, 80);
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/help.screen");
	free(text);
	stage_close(&stage);
}

static void every_key_of_every_screen_is_told(void **state)
{
	static const struct {
		const char *key;
		const struct screen *screen;
	} opened[] = {{"", &screen_yard}, {"w", &screen_walk}, {"r", &screen_review},
		{"s", &screen_season}, {"Enter", &screen_tree}, {"W", &screen_weather},
		{"P", &screen_plan}, {"M", &screen_merge}, {"H", &screen_history},
		{"O", &screen_answers}, {"S", &screen_shed}, {"A", &screen_almanac}};
	(void)state;
	for (size_t i = 0; i < sizeof opened / sizeof opened[0]; i++) {
		struct stage stage;
		open_help(&stage, opened[i].key, 43, 132);
		const char *help = read_help(&stage);
		check_has(help, opened[i].screen->purpose, "purpose");
		for (const struct key_row *row = opened[i].screen->keys; row->key != 0; row++)
			check_row(help, row);
		for (const struct key_row *row = keys_common(); row->key != 0; row++)
			if (!is_bound(opened[i].screen->keys, row->key))
				check_row(help, row);
		stage_close(&stage);
	}
}

static void every_kind_has_its_example(void **state)
{
	(void)state;
	struct stage stage;
	open_help(&stage, "", 43, 132);
	const char *help = read_help(&stage);
	for (int kind = 0; kind < KIND_TOTAL; kind++)
		check_has(help, kind_row((enum entry_kind)kind)->example,
			kind_row((enum entry_kind)kind)->key);
	check_has(help, "label is the law", "caution");
	stage_close(&stage);
}

static void it_is_whole_on_small_screens(void **state)
{
	static const int sizes[][2] = {{15, 60}, {12, 40}};
	(void)state;
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		struct stage stage;
		open_help(&stage, "r", sizes[i][0], sizes[i][1]);
		const char *help = read_help(&stage);
		stage_check(&stage, "help");
		check_has(help, "put off", "a name");
		check_has(help, "Caution", "the end");
		stage_close(&stage);
	}
}

static void it_goes_back_where_it_came_from(void **state)
{
	(void)state;
	static const char *const ways[] = {"Esc", "?"};
	for (size_t i = 0; i < 2; i++) {
		struct stage stage;
		open_help(&stage, "r", 24, 80);
		(void)stage_keys(&stage, ways[i]);
		stage_shows(&stage, "> ACT   A1");
		stage_close(&stage);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(help_looks_as_it_was_kept),
		cmocka_unit_test(every_key_of_every_screen_is_told),
		cmocka_unit_test(every_kind_has_its_example),
		cmocka_unit_test(it_is_whole_on_small_screens),
		cmocka_unit_test(it_goes_back_where_it_came_from),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
