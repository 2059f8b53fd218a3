/* SPDX-License-Identifier: MIT */
/* man/boughbook-keys.7 tells the keys of every screen as the tables have them, and no other. */
#include "screens/screen.h"
#include "support/manual.h"
#include "support/test.h"

#include <string.h>

static void add_key(struct text_builder *out, const struct key_row *row)
{
	char key[KEY_SIZE];
	const struct action_row *action = action_row(row->action);
	const char *word = key_word(row->key, key);
	text_add(out, ".It Cm ");
	manual_add(out, word);
	text_add(out, strlen(word) == 1 && strchr(".,;:?!()[]|", word[0]) != NULL ? "\\&\n" : "\n");
	manual_add(out, action->name);
	text_add(out, ": ");
	manual_add(out, action->help);
	text_add(out, "\n");
}

static void add_keys(struct text_builder *out, const struct key_row *rows)
{
	text_add(out, ".Bl -tag -width Backspace -compact\n");
	for (const struct key_row *row = rows; row->key != 0; row++)
		add_key(out, row);
	text_add(out, ".El\n");
}

static void add_screens(struct text_builder *out)
{
	for (int i = 0; screen_at(i) != NULL; i++) {
		const struct screen *screen = screen_at(i);
		text_add_format(out, ".Ss %s\n", screen->title);
		manual_add(out, screen->purpose);
		text_add(out, "\n");
		if (screen->keys[0].key != 0)
			add_keys(out, screen->keys);
	}
	text_add(out, ".Ss On every screen\n");
	add_keys(out, keys_common());
}

static void manual_tells_the_keys_of_every_screen(void **state)
{
	(void)state;
	check_manual_table("man/boughbook-keys.7", ".\\\" The table begins", ".\\\" The table ends",
		add_screens);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(manual_tells_the_keys_of_every_screen)};
	return cmocka_run_group_tests_name("keys in the manual", tests, NULL, NULL) != 0;
}
