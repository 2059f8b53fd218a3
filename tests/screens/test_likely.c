/* SPDX-License-Identifier: MIT */
/* Which cultivar it could be, on the real program: words are chosen and ranked at once, kept by one
 * key as one act, and a seedling stays in view. */
#include "support/golden.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static void open_likely(struct stage *stage, int rows, int columns, const char *lang)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	(void)stage_keys(stage, "/");
	stage_type(stage, "F1");
	(void)stage_keys(stage, "Enter");
	(void)stage_keys(stage, "i");
	stage_shows(stage, "Which is it");
	stage_shows(stage, "F1  apple");
}

static void it_shows_what_was_noted_and_what_fits(void **state)
{
	(void)state;
	struct stage stage;
	open_likely(&stage, 24, 80, NULL);
	stage_check(&stage, "likely");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/likely.screen");
	free(text);
	stage_close(&stage);
}

static void a_word_is_ranked_at_once_and_kept_by_enter(void **state)
{
	(void)state;
	struct stage stage;
	open_likely(&stage, 24, 80, NULL);
	const int before = stage_count(&stage, "SELECT count(*) FROM change_set");
	(void)stage_keys(&stage, "Down Down Right");
	stage_shows(&stage, "* not kept");
	(void)stage_keys(&stage, "Down Right Right");
	check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), before, "not yet");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved, u takes it back");
	check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), before + 1, "one act");
	char *kept =
		stage_sql(&stage, "SELECT trait FROM trait JOIN change_set c ON c.id = trait.made "
				  "WHERE c.what LIKE 'F1 noted:%' ORDER BY trait.id");
	check_text(kept, "over\npattern\n", "what was kept");
	free(kept);
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "over       -");
	stage_close(&stage);
}

static void leaving_keeps_nothing_that_was_not_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_likely(&stage, 24, 80, NULL);
	const int before = stage_count(&stage, "SELECT count(*) FROM trait");
	(void)stage_keys(&stage, "Left Esc");
	stage_shows(&stage, "what was chosen is not kept");
	check_int(stage_count(&stage, "SELECT count(*) FROM trait"), before, "traits");
	stage_close(&stage);
}

static void a_seedling_stays_in_view_and_a_candidate_says_why(void **state)
{
	(void)state;
	struct stage stage;
	open_likely(&stage, 15, 60, "C");
	stage_shows(&stage, "a seedling, or not on this list");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, ": fits flesh");
	stage_check(&stage, "a candidate");
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "a seedling, or not on this list");
	stage_shows(&stage, "Looks settle no name");
	stage_close(&stage);
}

static void a_tree_of_no_known_kind_is_asked(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24, .columns = 80};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "/");
	stage_type(&stage, "G1");
	(void)stage_keys(&stage, "Enter");
	(void)stage_keys(&stage, "i");
	stage_shows(&stage, "of which kind G1 is is not known");
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(it_shows_what_was_noted_and_what_fits),
		cmocka_unit_test(a_word_is_ranked_at_once_and_kept_by_enter),
		cmocka_unit_test(leaving_keeps_nothing_that_was_not_kept),
		cmocka_unit_test(a_seedling_stays_in_view_and_a_candidate_says_why),
		cmocka_unit_test(a_tree_of_no_known_kind_is_asked),
	};
	return cmocka_run_group_tests_name("likely", tests, NULL, NULL) != 0;
}
