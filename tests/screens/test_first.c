/* SPDX-License-Identifier: MIT */
/* The first run and the adding of trees, on the real program. */
#include "screens/first_place.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static void open_nothing(struct stage *stage)
{
	const struct stage_options options = {.rows = 24, .columns = 80, .empty = true};
	stage_open(stage, &options);
}

static void answer(struct stage *stage, const char *text)
{
	stage_type(stage, text);
	(void)stage_keys(stage, "Enter");
}

static void open_new_log(struct stage *stage)
{
	open_nothing(stage);
	(void)stage_keys(stage, "Enter");
	answer(stage, "Hill yard");
	answer(stage, "38.2");
	answer(stage, "winter frosty");
	answer(stage, "us");
	stage_shows(stage, "Add trees");
}

/* --- the first run --- */

static void nothing_is_made_by_looking(void **state)
{
	(void)state;
	struct stage stage;
	open_nothing(&stage);
	stage_shows(&stage, "No log yet");
	stage_check(&stage, "first");
	(void)stage_keys(&stage, "q");
	check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), 0, "status");
	assert_false(file_exists(stage.log));
	stage_close(&stage);
}

static void four_answers_make_a_log(void **state)
{
	(void)state;
	struct stage stage;
	open_new_log(&stage);
	char *place = stage_sql(&stage, "SELECT name, hemisphere, wet, winter, units FROM place");
	check_text(place, "Hill yard|north|winter|frosty|us\n", "place");
	free(place);
	stage_close(&stage);
}

static void blank_answers_guess_nothing(void **state)
{
	(void)state;
	struct stage stage;
	open_nothing(&stage);
	(void)stage_keys(&stage, "Enter Enter");
	stage_shows(&stage, "a place wants a name");
	answer(&stage, "Hill yard");
	(void)stage_keys(&stage, "Enter Enter Enter");
	stage_shows(&stage, "Add trees");
	check_int(stage_count(&stage,
			  "SELECT count(*) FROM place WHERE hemisphere IS NULL AND wet IS NULL "
			  "AND winter IS NULL AND units IS NULL"),
		1, "place");
	stage_close(&stage);
}

static void odd_answer_is_refused_where_it_stands(void **state)
{
	(void)state;
	struct stage stage;
	open_nothing(&stage);
	(void)stage_keys(&stage, "Enter");
	answer(&stage, "Hill yard");
	answer(&stage, "somewhere");
	stage_shows(&stage, "'somewhere' is no latitude");
	assert_false(file_exists(stage.log));
	stage_close(&stage);
}

static void demo_yard_is_kept_beside(void **state)
{
	(void)state;
	struct stage stage;
	char demo[SCRATCH_PATH_SIZE];
	open_nothing(&stage);
	(void)stage_keys(&stage, "d");
	stage_shows(&stage, "Tern Hollow");
	stage_shows(&stage, "its year now");
	assert_false(file_exists(stage.log));
	assert_true(file_exists(scratch_path(&stage.scratch, "demo.bough", demo)));
	stage_close(&stage);
}

/* --- adding trees --- */

static void row_of_trees_is_added_in_one_line(void **state)
{
	(void)state;
	struct stage stage;
	open_new_log(&stage);
	answer(&stage, "A1..A40");
	answer(&stage, "apple, Gravenstein");
	answer(&stage, "about 2012");
	stage_shows(&stage, "added A1 to A40, 40 trees");
	check_int(stage_count(&stage, "SELECT count(*) FROM tree WHERE planted LIKE '2012%'"), 40,
		"trees");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "its year now");
	stage_shows(&stage, "> A1");
	(void)stage_keys(&stage, "u"); /* all forty were one act */
	stage_shows(&stage, "no trees yet");
	stage_close(&stage);
}

static void next_tree_of_a_kind_costs_two_keys(void **state)
{
	(void)state;
	struct stage stage;
	open_new_log(&stage);
	answer(&stage, "B9");
	answer(&stage, "fig");
	answer(&stage, "2014");
	stage_shows(&stage, "added B9");
	check_int(stage_keys(&stage, "Enter Enter"), 2, "keys");
	stage_shows(&stage, "added B10");
	check_int(
		stage_count(&stage, "SELECT count(*) FROM identity WHERE name = 'fig'"), 2, "figs");
	stage_close(&stage);
}

static void refused_tree_keeps_what_was_typed(void **state)
{
	(void)state;
	struct stage stage;
	open_new_log(&stage);
	answer(&stage, "B9");
	answer(&stage, "fig");
	answer(&stage, "the day before never");
	stage_shows(&stage, "not added");
	stage_shows(&stage, "the day before never");
	check_int(stage_count(&stage, "SELECT count(*) FROM tree"), 0, "trees");
	(void)stage_keys(&stage, "Ctrl-U Enter"); /* the day may be blank */
	stage_shows(&stage, "added B9");
	answer(&stage, "\x15"
		       "B9"); /* a label that stands already */
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "not added");
	check_int(stage_count(&stage, "SELECT count(*) FROM tree"), 1, "trees");
	stage_close(&stage);
}

static void adding_in_60_by_15(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 15, .columns = 60, .lang = "C"};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "a");
	stage_shows(&stage, "Add trees");
	answer(&stage, "K1..K3");
	stage_check(&stage, "add");
	(void)stage_keys(&stage, "Up");
	stage_shows(&stage, "> label");
	stage_close(&stage);
}

/* --- answers --- */

struct where {
	const char *name;
	const char *text;
	enum status status;
	enum hemisphere hemisphere;
	int32_t latitude_udeg; /* 0: not known */
};

/* clang-format off */
static const struct where wheres[] = {
	{"degrees_north", "38.2", STATUS_OK, HEMISPHERE_NORTH, 38200000},
	{"degrees_south_by_sign", "-33.5", STATUS_OK, HEMISPHERE_SOUTH, -33500000},
	{"degrees_south_by_letter", "33.5 S", STATUS_OK, HEMISPHERE_SOUTH, -33500000},
	{"both_ways", "38.2, -122.1", STATUS_OK, HEMISPHERE_NORTH, 38200000},
	{"a_word", "South", STATUS_OK, HEMISPHERE_SOUTH, 0},
	{"blank_is_unknown", "  ", STATUS_OK, HEMISPHERE_UNKNOWN, 0},
	{"the_equator_is_no_side", "0", STATUS_OK, HEMISPHERE_UNKNOWN, 0},
	{"sign_against_word_asked", "-38.2 north", STATUS_DOUBT, HEMISPHERE_UNKNOWN, 0},
	{"too_far_refused", "91", STATUS_SYNTAX, HEMISPHERE_UNKNOWN, 0},
	{"hexadecimal_refused", "0x10", STATUS_SYNTAX, HEMISPHERE_UNKNOWN, 0},
	{"not_a_number_refused", "nan", STATUS_SYNTAX, HEMISPHERE_UNKNOWN, 0},
	{"words_refused", "by the river", STATUS_SYNTAX, HEMISPHERE_UNKNOWN, 0},
};
/* clang-format on */

static void where_is_read(const void *one)
{
	const struct where *where = one;
	struct place place = {.name = "Hill yard"};
	struct fault why = {0};
	check_int(first_read_where(where->text, &place, &why), where->status, why.text);
	check_int(place.hemisphere, where->hemisphere, "hemisphere");
	check_int(place.latitude_udeg.known,
		where->latitude_udeg != 0 || strcmp(where->text, "0") == 0, "known");
	check_int(place.latitude_udeg.value, where->latitude_udeg, "latitude");
}

static void climate_is_read_in_any_order(void **state)
{
	(void)state;
	struct fault why = {0};
	struct place place = {.name = ""};
	check_ok(first_read_climate("Mild winters, wet in summer", &place, &why), &why);
	check_int(place.wet, WET_SUMMER, "wet");
	check_int(place.winter, WINTER_MILD, "winters");
	check_ok(first_read_climate("", &place, &why), &why);
	check_int(place.wet, WET_UNKNOWN, "wet");
	check_refused(
		first_read_climate("tropical", &place, &why), STATUS_SYNTAX, &why, "tropical");
	check_ok(first_read_units("Metric", &place, &why), &why);
	check_int(place.units, UNITS_SI, "units");
	check_refused(first_read_units("cubits", &place, &why), STATUS_SYNTAX, &why, "cubits");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_is_made_by_looking),
		cmocka_unit_test(four_answers_make_a_log),
		cmocka_unit_test(blank_answers_guess_nothing),
		cmocka_unit_test(odd_answer_is_refused_where_it_stands),
		cmocka_unit_test(demo_yard_is_kept_beside),
		cmocka_unit_test(row_of_trees_is_added_in_one_line),
		cmocka_unit_test(next_tree_of_a_kind_costs_two_keys),
		cmocka_unit_test(refused_tree_keeps_what_was_typed),
		cmocka_unit_test(adding_in_60_by_15),
		cmocka_unit_test(climate_is_read_in_any_order),
	};
	const int failed = RUN_CASES("where", wheres, where_is_read) +
			   cmocka_run_group_tests_name("first run", tests, NULL, NULL);
	return failed != 0;
}
