/* SPDX-License-Identifier: MIT */
/* Water, feed and sun of one tree, on the real program over the demo yard. */
#include "support/golden.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static void open_figures(
	struct stage *stage, int rows, int columns, const char *lang, const char *keys)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	(void)stage_keys(stage, keys);
	stage_shows(stage, "Tree");
	(void)stage_keys(stage, "f");
	stage_shows(stage, "Figures");
}

static void figures_look_as_they_were_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_figures(&stage, 24, 80, NULL, "Enter");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "[feed]");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/figures.screen");
	free(text);
	stage_close(&stage);
}

static void five_parts_follow_one_another(void **state)
{
	(void)state;
	struct stage stage;
	open_figures(&stage, 24, 80, NULL, "Enter");
	stage_shows(&stage, "[water]");
	stage_shows(&stage, "extremes of 7 of 7 days (station ridge)");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "Published for this kind");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "hours of direct sun");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "Who serves it");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "How the kind is raised");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "[water]");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Tree");
	stage_close(&stage);
}

/* From the season: what became of the fruit, and the bloom of all, side by side. */
static void the_yard_has_pages_of_its_own(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24, .columns = 80};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "s");
	stage_shows(&stage, "Season");
	(void)stage_keys(&stage, "f");
	stage_shows(&stage, "what became of the fruit");
	stage_shows(&stage, "[fruit]");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "[bloom]");
	stage_shows(&stage, "Gravenstein  early");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "[fruit]");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Season");
	stage_close(&stage);
}

/* All of it is reached where only a few rows stand, without a letter beyond ASCII. */
static void the_end_is_reached_at_60_by_15_in_ascii(void **state)
{
	(void)state;
	struct stage stage;
	open_figures(&stage, 15, 60, "C", "Enter");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "Down: more");
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "Guidance, not an order");
	char *text = stage_text(&stage);
	for (const char *at = text; *at != '\0'; at++)
		assert_true((unsigned char)*at < 0x80);
	assert_null(strstr(text, "Down: more"));
	free(text);
	stage_close(&stage);
}

/* Six rows down stands a graft: what is asked of its host is said, and where to ask. */
static void a_graft_sends_to_its_host(void **state)
{
	(void)state;
	struct stage stage;
	open_figures(&stage, 24, 80, NULL, "Down Down Down Down Down Down Enter");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "ask the dose of that");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "hours of direct sun");
	stage_close(&stage);
}

static void what_is_logged_meanwhile_is_seen(void **state)
{
	(void)state;
	struct stage stage;
	open_figures(&stage, 24, 80, NULL, "Enter");
	(void)stage_keys(&stage, "l");
	stage_shows(&stage, "Walk");
	stage_type(&stage, "spread 12 ft");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Figures");
	stage_lacks(&stage, "how wide its crown is: enter");
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(figures_look_as_they_were_kept),
		cmocka_unit_test(the_yard_has_pages_of_its_own),
		cmocka_unit_test(five_parts_follow_one_another),
		cmocka_unit_test(the_end_is_reached_at_60_by_15_in_ascii),
		cmocka_unit_test(a_graft_sends_to_its_host),
		cmocka_unit_test(what_is_logged_meanwhile_is_seen),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
