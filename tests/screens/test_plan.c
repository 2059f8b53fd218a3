/* SPDX-License-Identifier: MIT */
/* The plan on the real program, over the demo yard: picture, words, layers, list. */
#include "support/golden.h"
#include "screens/plan.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "screens/screen.h"

static void start(struct stage *stage, int rows, int columns, const char *lang)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
}

static void open_plan(struct stage *stage, int rows, int columns, const char *lang)
{
	start(stage, rows, columns, lang);
	check_int(stage_keys(stage, "P"), 1, "keys it took");
	stage_shows(stage, "Plan");
	stage_quiet(stage);
}

/* The demo yard with crowns that meet, an area, an empty hole and a tree elsewhere. */
static void open_planted(struct stage *stage, int rows, int columns, const char *lang)
{
	static const char *const lines[] = {"A1 spread 14 ft", "A2 spread 20 ft", "B1 spread 12 ft",
		"B2 spread 24 ft", "F1 spread 30 ft"};
	static const char *const calls[][6] = {
		{"area", "add", "Orchard"},
		{"spot", "set", "B1", "--area", "Orchard"},
		{"spot", "set", "B2", "--area", "Orchard"},
		{"spot", "add", "old hole", "--east=15m", "--north=10m"},
	};
	start(stage, rows, columns, lang);
	for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++)
		stage_enter(stage->log, lines[i]);
	for (size_t i = 0; i < sizeof calls / sizeof calls[0]; i++) {
		const char *const *call = calls[i];
		struct spawned made = program_run(NULL, "--log", stage->log, "--today",
			"2026-11-24", call[0], call[1], call[2], call[3], call[4], NULL);
		check_int(made.status, 0, made.err);
		spawned_free(&made);
	}
	(void)stage_keys(stage, "P");
	stage_shows(stage, "Plan");
	stage_quiet(stage);
}

static void check_kept(struct stage *stage, const char *golden)
{
	char *text = stage_text(stage);
	check_golden(text, golden);
	free(text);
	stage_close(stage);
}

static void plan_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_planted(&stage, 24, 80, NULL);
	check_kept(&stage, "tests/screens/golden/plan.screen");
}

static void plan_in_ascii_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_planted(&stage, 24, 80, "C");
	(void)stage_keys(&stage, "5");
	check_kept(&stage, "tests/screens/golden/plan-ascii.screen");
}

/* What stands under the hardware cursor. */
static char sign_under_cursor(const struct stage *stage)
{
	const struct vt *screen = stage->pty->screen;
	return screen->cells[screen->pen.row][screen->pen.column].text[0];
}

static void arrows_go_to_the_next_tree_that_way(void **state)
{
	(void)state;
	static const struct {
		const char *key, *label, *says;
	} steps[] = {
		{"Right", "A2", "HAZARD power line"},
		{"Up", "B2", "apple, Golden Delic"},
		{"Right", "B3", "grafts: B3 east"},
		{"Down", "A3", "loquat, Gold Nugget"},
		{"Left", "A2", "HAZARD power line"},
		{"Left", "A1", "loquat, Champagne"},
		{"Left", "D2", "pot terrace pot"},
	};
	struct stage stage;
	open_plan(&stage, 24, 80, NULL);
	for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
		(void)stage_keys(&stage, steps[i].key);
		stage_shows(&stage, steps[i].says);
		stage_check(&stage, steps[i].label);
		assert_non_null(strchr("ADSnLo", sign_under_cursor(&stage)));
	}
	stage_close(&stage);
}

static void trees_and_grafts_of_one_spot_are_gone_through(void **state)
{
	(void)state;
	static const char *const says[] = {"grafts: B3 east", "a graft on B3", "apple, Wickson",
		"apple, Jonathan", "grafts: B3 east"};
	struct stage stage;
	open_plan(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Right Up Right");
	for (size_t i = 0; i < sizeof says / sizeof says[0]; i++) {
		stage_shows(&stage, says[i]);
		(void)stage_keys(&stage, "n");
	}
	(void)stage_keys(&stage, "/");
	stage_type(&stage, "C3");
	stage_shows(&stage, "in one spot with C3 right");
	(void)stage_keys(&stage, "Esc");
	(void)stage_keys(&stage, "n");
	stage_shows(&stage, "in one spot with C3 left");
	stage_close(&stage);
}

static void the_list_is_the_plan_s_twin(void **state)
{
	(void)state;
	struct stage stage;
	char row[VT_ROW_SIZE];
	open_plan(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Right Up Tab");
	stage_shows(&stage, "crown");
	check_has(vt_row(stage.pty->screen, stage.pty->screen->pen.row, row), "> B2",
		"the same tree");
	(void)stage_keys(&stage, "Down Tab");
	stage_shows(&stage, "grafts: B3 east");
	(void)stage_keys(&stage, "Tab");
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "not placed");
	/* the yard's own list leads to it and back */
	(void)stage_keys(&stage, "y Down Down Tab");
	stage_shows(&stage, "loquat, Gold Nugget");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "its year now");
	stage_close(&stage);
}

static void each_layer_says_its_own(void **state)
{
	(void)state;
	struct stage stage;
	open_plan(&stage, 24, 80, NULL);
	stage_shows(&stage, "[1 flags]");
	stage_shows(&stage, "A act  D due");
	(void)stage_keys(&stage, "2");
	stage_shows(&stage, "B bloom, no saw");
	(void)stage_keys(&stage, "3 Up");
	stage_shows(&stage, "B2 serves, 16 ft E");
	stage_shows(&stage, "@ this tree");
	(void)stage_keys(&stage, "4");
	stage_shows(&stage, "in June,");
	(void)stage_keys(&stage, "5");
	stage_shows(&stage, "last season: 70 lb, 2025");
	stage_shows(&stage, "0-9 ninths of its own best season");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "last season");
	stage_shows(&stage, "picked, no figure, 2025");
	stage_close(&stage);
}

static void zoom_has_two_ends_and_a_way_back(void **state)
{
	(void)state;
	struct stage stage;
	open_plan(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "-");
	stage_shows(&stage, "this is the whole yard");
	(void)stage_keys(&stage, "+ +");
	stage_lacks(&stage, "D1");
	for (int i = 0; i < 12; i++)
		(void)stage_keys(&stage, "+");
	stage_shows(&stage, "closer shows no more");
	(void)stage_keys(&stage, "0");
	stage_shows(&stage, "D1");
	(void)stage_keys(&stage, "+ + PageUp");
	stage_check(&stage, "scrolled");
	stage_close(&stage);
}

static void letters_act_as_elsewhere(void **state)
{
	(void)state;
	struct stage stage;
	open_plan(&stage, 24, 80, NULL);
	check_int(stage_keys(&stage, "/"), 1, "a key");
	stage_type(&stage, "c2");
	stage_shows(&stage, "apricot, Blenheim");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "Tree");
	(void)stage_keys(&stage, "P");
	stage_shows(&stage, "apricot, Blenheim");
	(void)stage_keys(&stage, "l");
	stage_shows(&stage, "Walk");
	stage_shows(&stage, "C2");
	(void)stage_keys(&stage, "Esc");
	stage_enter(stage.log, "C2 saw gum heavy");
	stage_shows(&stage, "saw gum, heavy");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "undone");
	stage_close(&stage);
}

static void check_sizes(const char *lang, const char *variable)
{
	static const int sizes[][2] = {{15, 60}, {24, 60}, {24, 80}, {43, 132}, {30, 75}};
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		struct stage stage;
		const struct stage_options options = {.rows = sizes[i][0],
			.columns = sizes[i][1],
			.lang = lang,
			.variable = variable};
		stage_open(&stage, &options);
		(void)stage_keys(&stage, "P");
		stage_shows(&stage, "N");
		for (int layer = 1; layer <= 5; layer++) {
			(void)stage_keys(&stage, (char[]){(char)('0' + layer), '\0'});
			(void)stage_keys(&stage, "Right");
			stage_check(&stage, "picture");
			(void)stage_keys(&stage, "Tab");
			stage_check(&stage, "list");
			(void)stage_keys(&stage, "Tab");
		}
		stage_shows(&stage, "[5 yield]");
		char *text = stage_text(&stage);
		for (const char *at = text; lang != NULL && *at != '\0'; at++)
			assert_true((unsigned char)*at < 0x80);
		free(text);
		stage_close(&stage);
	}
}

static void every_size_holds_in_utf8(void **state)
{
	(void)state;
	check_sizes(NULL, NULL);
}

static void every_size_holds_in_ascii_without_colour(void **state)
{
	(void)state;
	check_sizes("C", "NO_COLOR=1");
}

/* The lemon in the pot was planted in May 2023: [ goes back a year, ] comes again. */
static void the_plan_of_a_past_year_is_shown(void **state)
{
	(void)state;
	struct stage stage;
	open_plan(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "[ [ [ [");
	stage_shows(&stage, "as on 24 November 2022");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "D2");
	char *text = stage_text(&stage);
	assert_null(strstr(text, " E3 "));
	assert_null(strstr(text, " A3 "));
	free(text);
	(void)stage_keys(&stage, "] ] ] ]");
	stage_shows(&stage, "E3");
	stage_close(&stage);
}

static void each_sign_has_its_words_on_each_layer(void **state)
{
	(void)state;
	static const char *const signs[LAYER_TOTAL] = {[LAYER_FLAGS] = "ADSnLo?~",
		[LAYER_STAGE] = "HhBbFfRr?~",
		[LAYER_PARTNERS] = "!Yhxo?@~",
		[LAYER_SUN] = "*0159o?~",
		[LAYER_YIELD] = "0159-o?~"};
	for (int layer = 0; layer < LAYER_TOTAL; layer++)
		for (const char *sign = signs[layer]; *sign != '\0'; sign++)
			if (plan_sign_meaning((enum plan_layer)layer, *sign)[0] == '\0')
				check_text(sign, "a sign with words", signs[layer]);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_plan_of_a_past_year_is_shown),
		cmocka_unit_test(each_sign_has_its_words_on_each_layer),
		cmocka_unit_test(plan_looks_as_it_was_kept),
		cmocka_unit_test(plan_in_ascii_looks_as_it_was_kept),
		cmocka_unit_test(arrows_go_to_the_next_tree_that_way),
		cmocka_unit_test(trees_and_grafts_of_one_spot_are_gone_through),
		cmocka_unit_test(the_list_is_the_plan_s_twin),
		cmocka_unit_test(each_layer_says_its_own),
		cmocka_unit_test(zoom_has_two_ends_and_a_way_back),
		cmocka_unit_test(letters_act_as_elsewhere),
		cmocka_unit_test(every_size_holds_in_utf8),
		cmocka_unit_test(every_size_holds_in_ascii_without_colour),
	};
	return cmocka_run_group_tests_name("plan", tests, NULL, NULL) != 0;
}
