/* SPDX-License-Identifier: MIT */
/* The search and the almanac on the real program, over the demo yard. */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static void search_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "F");
	stage_type(&stage, "C2 saw");
	stage_shows(&stage, "gum");
	stage_golden(&stage, "tests/screens/golden/search.screen");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "Tree");
	stage_shows(&stage, "C2");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "for: C2 saw"); /* as it was left */
	stage_close(&stage);
}

static void flags_are_searched_after_tab(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "F Tab");
	stage_type(&stage, "nitrogen");
	stage_shows(&stage, "[flags]");
	stage_shows(&stage, "feed-late");
	stage_type(&stage, "xyz");
	stage_shows(&stage, "no flag speaks of this");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "nothing written holds this");
	stage_close(&stage);
}

/* Letters type there, whatever they do elsewhere. */
static void nothing_typed_there_changes_the_log(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "F");
	const int before = stage_count(&stage, "SELECT count(*) FROM change_set");
	stage_type(&stage, "uUxqdpw");
	stage_shows(&stage, "for: uUxqdpw");
	check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), before, "acts");
	stage_close(&stage);
}

static void almanac_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "A");
	stage_shows(&stage, "loquat (Eriobotrya japonica)"); /* of the tree in hand */
	(void)stage_keys(&stage, "Tab Tab");
	stage_shows(&stage, "[Cuts]");
	stage_golden(&stage, "tests/screens/golden/almanac.screen");
	stage_close(&stage);
}

static void kinds_of_the_yard_come_first(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "A");
	(void)stage_keys(&stage, "Left");
	stage_shows(&stage, "3 trees here");
	(void)stage_keys(&stage, "Down Enter");
	stage_shows(&stage, "apple (Malus domestica)");
	(void)stage_keys(&stage, "Left");
	stage_shows(&stage, "> apple");
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "> hazelnut");
	(void)stage_keys(&stage, "Home");
	stage_shows(&stage, "> loquat");
	stage_close(&stage);
}

static void both_fit_60_by_15_in_ascii(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 15, 60, "C", "A End");
	stage_check(&stage, "almanac");
	stage_lacks(&stage, "Down: more");
	(void)stage_keys(&stage, "F");
	stage_type(&stage, "picked");
	stage_shows(&stage, "E1");
	stage_check(&stage, "search");
	char *text = stage_text(&stage);
	for (const char *at = text; *at != '\0'; at++)
		assert_true((unsigned char)*at < 0x80);
	free(text);
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(search_looks_as_it_was_kept),
		cmocka_unit_test(flags_are_searched_after_tab),
		cmocka_unit_test(nothing_typed_there_changes_the_log),
		cmocka_unit_test(almanac_looks_as_it_was_kept),
		cmocka_unit_test(kinds_of_the_yard_come_first),
		cmocka_unit_test(both_fit_60_by_15_in_ascii),
	};
	return cmocka_run_group_tests_name("search", tests, NULL, NULL) != 0;
}
