/* SPDX-License-Identifier: MIT */
/* The tables of actions, keys and screens: whole, without doubles, and every action reachable. */
#include "screens/screen.h"
#include "support/test.h"

#include <string.h>

#include "core/text.h"

static void each_action_has_name_group_and_help(void **state)
{
	(void)state;
	for (int i = 0; i < ACTION_TOTAL; i++) {
		const struct action_row *row = action_row((enum action)i);
		assert_non_null(row->name);
		assert_non_null(row->group);
		assert_non_null(row->help);
		assert_true(row->name[0] != '\0' && row->help[0] != '\0');
		/* a line of help: key, name and help fit 60 columns */
		assert_in_range(text_width(row->name), 1, 12);
		assert_in_range(text_width(row->help), 1, 58);
		for (int j = ACTION_NONE; j < i; j++)
			assert_string_not_equal(row->name, action_row((enum action)j)->name);
	}
}

static void check_no_key_twice(const struct key_row *rows, const char *label)
{
	for (const struct key_row *row = rows; row->key != 0; row++) {
		assert_true(row->action > ACTION_NONE && row->action < ACTION_TOTAL);
		for (const struct key_row *other = rows; other != row; other++)
			if (other->key == row->key)
				check_text("a key twice", "", label);
	}
}

static void no_key_stands_twice_in_a_table(void **state)
{
	(void)state;
	check_no_key_twice(keys_common(), "common");
	for (int i = 0; screen_at(i) != NULL; i++)
		check_no_key_twice(screen_at(i)->keys, screen_at(i)->name);
}

static bool is_bound(const struct key_row *rows, enum action action)
{
	for (; rows->key != 0; rows++)
		if (rows->action == action)
			return true;
	return false;
}

static void every_action_is_reachable(void **state)
{
	(void)state;
	for (int i = ACTION_NONE + 1; i < ACTION_TOTAL; i++) {
		bool bound = is_bound(keys_common(), (enum action)i);
		for (int j = 0; screen_at(j) != NULL; j++)
			bound = bound || is_bound(screen_at(j)->keys, (enum action)i);
		if (!bound)
			check_text(action_row((enum action)i)->name, "reachable", "action");
	}
}

static void each_screen_is_whole_and_found_by_its_name(void **state)
{
	(void)state;
	int count = 0;
	for (; screen_at(count) != NULL; count++) {
		const struct screen *screen = screen_at(count);
		assert_ptr_equal(screen_find(screen->name), screen);
		assert_non_null(screen->open);
		assert_non_null(screen->reread);
		assert_non_null(screen->draw);
		assert_non_null(screen->act);
		assert_true(screen->title[0] != '\0');
		assert_in_range(text_width(screen->purpose), 10, 90);
		assert_true(screen->state_size > 0);
		assert_true(screen->takes_text == (screen->type != NULL));
		assert_in_range(screen->least_rows, 12, 15);
		assert_in_range(screen->least_columns, 40, 60);
	}
	assert_null(screen_find("nowhere"));
	assert_null(screen_at(-1));
	assert_true(count >= 5);
}

static void each_key_has_a_name(void **state)
{
	(void)state;
	char name[KEY_SIZE];
	check_text(key_word(KEYS_ENTER, name), "Enter", "Enter");
	check_text(key_word(21, name), "Ctrl-U", "a control");
	check_text(key_word('?', name), "?", "a sign");
	for (int i = -1; i < 0 || screen_at(i) != NULL; i++)
		for (const struct key_row *row = i < 0 ? keys_common() : screen_at(i)->keys;
			row->key != 0; row++)
			assert_true(row->key == '?' || strcmp(key_word(row->key, name), "?") != 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_action_has_name_group_and_help),
		cmocka_unit_test(no_key_stands_twice_in_a_table),
		cmocka_unit_test(every_action_is_reachable),
		cmocka_unit_test(each_screen_is_whole_and_found_by_its_name),
		cmocka_unit_test(each_key_has_a_name),
	};
	return cmocka_run_group_tests_name("keys", tests, NULL, NULL) != 0;
}
