/* SPDX-License-Identifier: MIT */
/* The ribbon of a tree's year: what stands in which cell, both hemispheres, across New Year, at
 * every width, in ASCII. Pure: dossiers made by hand. */
#include <string.h>

#include "../reckon/make.h"
#include "core/text.h"
#include "screens/ribbon.h"

static struct place north = {.hemisphere = HEMISPHERE_NORTH};
static struct place south = {.hemisphere = HEMISPHERE_SOUTH};
static struct place nowhere = {.name = "no hemisphere"};

static const struct window_row rows[] = {
	{.kind = WINDOW_FLOWER_WOOD, .from = {8, 15}, .to = {10, 31}},
	{.kind = WINDOW_BLOOM, .from = {10, 15}, .to = {12, 31}},
	{.kind = WINDOW_FRUIT, .from = {12, 1}, .to = {5, 31}},
	{.kind = WINDOW_HARVEST, .from = {4, 20}, .to = {5, 31}},
	{.kind = WINDOW_FEED_CLEAR, .from = {3, 1}, .to = {7, 31}},
};
static const struct cut_row cuts[] = {
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {6, 1},
		.from_anchor = ANCHOR_HARVEST,
		.to = {7, 31},
		.verdict = VERDICT_CLEAR},
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {8, 1},
		.to = {8, 14},
		.verdict = VERDICT_ALLOWED},
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {8, 15},
		.to = {2, 15},
		.verdict = VERDICT_AVOID,
		.reason = REASON_FLOWERS},
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {2, 16},
		.to = {5, 31},
		.to_anchor = ANCHOR_HARVEST,
		.verdict = VERDICT_AVOID,
		.reason = REASON_FRUIT},
	{.cultivar = "",
		.kind = CUT_HEADING,
		.from = {6, 1},
		.to = {6, 30},
		.verdict = VERDICT_AVOID},
};
static const struct species invented = {.key = "invented",
	.cuts = cuts,
	.cut_count = sizeof cuts / sizeof cuts[0],
	.name = "invented",
	.windows = rows,
	.window_count = sizeof rows / sizeof rows[0]};

static struct dossier tree_in(const struct place *place)
{
	return (struct dossier){.place = place, .kind = {.species = &invented}};
}

static struct ribbon ribbon_on(const struct dossier *dossier, const char *today)
{
	struct ribbon ribbon;
	ribbon_make(dossier, day_of(today), &ribbon);
	return ribbon;
}

static const char *drawn(const struct ribbon *ribbon, enum ribbon_row row, int columns, bool ascii)
{
	static char text[4096];
	struct ribbon_cell cells[400];
	struct text_builder line = text_builder_fixed(text, sizeof text);
	ribbon_cells(ribbon, row, columns, ascii, cells);
	for (int i = 0; i < columns; i++)
		text_add(&line, cells[i].text);
	check_int(text_width(text), columns, "a row is as wide as it was asked for");
	return text;
}

static void twelve_whole_months_five_of_them_past(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	check_int(ribbon.from.day, day_of("2026-06-01").day, "first day");
	check_int(ribbon.days, 365, "days");
	check_int(ribbon.today, 176, "today");
	ribbon = ribbon_on(&dossier, "2024-03-31");
	check_int(ribbon.from.day, day_of("2023-10-01").day, "first day across New Year");
	check_int(ribbon.days, 366, "a leap year has a day more");
}

static void a_year_in_the_north_in_60_columns(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	check_text(drawn(&ribbon, RIBBON_MONTHS, 53, true),
		"Jun Jul  Aug Sep Oct  Nov Dec  Jan Feb Mar  Apr May  ", "months");
}

static void the_same_year_half_a_year_on_in_the_south(void **state)
{
	(void)state;
	struct dossier here = tree_in(&north), there = tree_in(&south);
	struct ribbon up = ribbon_on(&here, "2026-11-24");
	struct ribbon down = ribbon_on(&there, "2026-05-24");
	for (int32_t at = 0; at < up.days; at++) {
		struct date_parts day = date_parts(date_add_days(up.from, at));
		struct date turned;
		struct fault why = {0};
		if (day.day > 28)
			continue; /* ends of months are clamped */
		check_ok(date_make(day.month > 6 ? day.year : day.year - 1,
				 (day.month + 5) % 12 + 1, day.day, &turned, &why),
			&why);
		int32_t there_at = date_days_between(down.from, turned);
		if (there_at < 0)
			there_at += 365;
		if (there_at >= down.days)
			there_at -= 365;
		check_int(down.marks[there_at], up.marks[at], "a mark half a year on");
	}
}

static void windows_that_cross_new_year_have_no_gap(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	int32_t from = date_days_between(ribbon.from, day_of("2026-08-15"));
	int32_t to = date_days_between(ribbon.from, day_of("2027-05-31"));
	for (int32_t at = 0; at < ribbon.days; at++)
		check_int((ribbon.marks[at] >> RIBBON_CUT_AVOID) & 1, at >= from && at <= to,
			"avoid");
}

static void a_span_says_its_word_where_it_has_room(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	check_has(drawn(&ribbon, RIBBON_FLOWER, 53, true), "wood....bloom*****", "flower");
	check_has(drawn(&ribbon, RIBBON_FRUIT, 123, true), "harvest#####", "wide");
	const char *narrow = drawn(&ribbon, RIBBON_FRUIT, 33, true);
	check_has(narrow, "####", "narrow: the sign alone");
	assert_null(strstr(narrow, "harvest"));
}

static void what_lies_over_what(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	struct ribbon_cell cells[365];
	ribbon_cells(&ribbon, RIBBON_FRUIT, 365, true, cells);
	int32_t may = date_days_between(ribbon.from, day_of("2027-05-20"));
	check_int(cells[may].mark, RIBBON_HARVEST, "harvest over hanging fruit");
	ribbon_cells(&ribbon, RIBBON_FLOWER, 365, true, cells);
	int32_t october = date_days_between(ribbon.from, day_of("2026-10-20"));
	check_int(cells[october].mark, RIBBON_BLOOM, "bloom over growing wood");
}

static void ascii_rows_hold_ascii_alone(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	static const int widths[] = {12, 33, 53, 123, 183, 366};
	char key[RIBBON_KEY_SIZE];
	for (size_t i = 0; i < sizeof widths / sizeof widths[0]; i++)
		for (int row = 0; row < RIBBON_ROW_TOTAL; row++)
			for (const char *at = drawn(&ribbon, (enum ribbon_row)row, widths[i], true);
				*at != '\0'; at++)
				assert_true((unsigned char)*at < 0x80);
	for (const char *at = ribbon_key(&ribbon, true, key); *at != '\0'; at++)
		assert_true((unsigned char)*at < 0x80);
}

static void every_day_has_a_cell_at_every_width(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2024-01-31");
	for (int columns = 12; columns <= 366; columns++) {
		int32_t next = 0;
		for (int cell = 0; cell < columns; cell++) {
			int32_t first, last;
			ribbon_cell_days(&ribbon, columns, cell, &first, &last);
			check_int(first, next, "no day between two cells");
			next = last + 1;
		}
		check_int(next, ribbon.days, "the last day is in the last cell");
	}
}

static void deeds_stand_on_their_days(void **state)
{
	(void)state;
	const struct entry *done[] = {make_entry(KIND_CUT, "2026-06-03"),
		make_entry(KIND_PICK, "2026-06-04"), make_entry(KIND_FEED, "2026-09-10"),
		make_entry(KIND_CUT, "2025-01-01"), make_entry(KIND_STAGE, "2026-10")};
	const struct entry *planned[] = {make_entry(KIND_CUT, "2027-02-01")};
	struct dossier dossier = tree_in(&north);
	dossier.entries = done;
	dossier.entry_count = 5;
	dossier.planned = planned;
	dossier.planned_count = 1;
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	struct ribbon_cell cells[365];
	ribbon_cells(&ribbon, RIBBON_DONE, 365, true, cells);
	check_text(cells[2].text, "c", "3 June");
	check_text(cells[3].text, "p", "4 June");
	check_text(cells[date_days_between(ribbon.from, day_of("2026-09-10"))].text, "f", "feed");
	check_text(cells[date_days_between(ribbon.from, day_of("2026-10-01"))].text, "b",
		"an unsure day stands at its first");
	assert_false(ribbon_has_row(&ribbon, RIBBON_MORE, 365));
	ribbon_cells(&ribbon, RIBBON_PLAN, 365, true, cells);
	check_text(cells[date_days_between(ribbon.from, day_of("2027-02-01"))].text, "c", "plan");
}

static void deeds_of_one_cell_stand_under_each_other(void **state)
{
	(void)state;
	const struct entry *two[] = {
		make_entry(KIND_CUT, "2026-06-03"), make_entry(KIND_PICK, "2026-06-04")};
	const struct entry *three[] = {make_entry(KIND_CUT, "2026-06-03"),
		make_entry(KIND_PICK, "2026-06-04"), make_entry(KIND_NOTE, "2026-06-02")};
	struct dossier dossier = tree_in(&north);
	struct ribbon_cell cells[53];
	dossier.entries = two;
	dossier.entry_count = 2;
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	assert_true(ribbon_has_row(&ribbon, RIBBON_MORE, 53));
	ribbon_cells(&ribbon, RIBBON_DONE, 53, true, cells);
	check_text(cells[0].text, "c", "the first");
	ribbon_cells(&ribbon, RIBBON_MORE, 53, true, cells);
	check_text(cells[0].text, "p", "the second");
	dossier.entries = three;
	dossier.entry_count = 3;
	ribbon = ribbon_on(&dossier, "2026-11-24");
	ribbon_cells(&ribbon, RIBBON_MORE, 53, true, cells);
	check_text(cells[0].text, "+", "and more");
}

static void frost_on_the_place_is_seen_too(void **state)
{
	(void)state;
	const struct entry *frost[] = {make_entry(KIND_WEATHER, "2026-11-20")};
	struct dossier dossier = tree_in(&north);
	dossier.place_entries = frost;
	dossier.place_entry_count = 1;
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	char key[RIBBON_KEY_SIZE];
	check_has(drawn(&ribbon, RIBBON_DONE, 53, true), "W", "done");
	check_has(ribbon_key(&ribbon, true, key), "W weather", "key");
}

static void today_is_marked_at_both_ends_of_a_month(void **state)
{
	(void)state;
	static const char *const days[] = {
		"2026-11-01", "2026-11-30", "2024-02-29", "2026-01-01", "2026-12-31"};
	struct dossier dossier = tree_in(&north);
	for (size_t i = 0; i < sizeof days / sizeof days[0]; i++) {
		struct ribbon ribbon = ribbon_on(&dossier, days[i]);
		struct ribbon_cell cells[366];
		ribbon_cells(&ribbon, RIBBON_TODAY, ribbon.days, true, cells);
		check_text(cells[ribbon.today].text, "^", days[i]);
		check_has(drawn(&ribbon, RIBBON_TODAY, 33, true), "^ today", days[i]);
	}
}

static void no_kind_or_no_hemisphere_gives_no_dates(void **state)
{
	(void)state;
	struct dossier unknown = {.place = &north}, unplaced = tree_in(&nowhere);
	struct ribbon ribbon = ribbon_on(&unknown, "2026-11-24");
	assert_false(ribbon.dated);
	ribbon = ribbon_on(&unplaced, "2026-11-24");
	assert_false(ribbon.dated);
	check_text(drawn(&ribbon, RIBBON_SAW, 12, true), "     :      ", "only today's line");
}

static void a_window_set_by_hand_is_drawn_and_told(void **state)
{
	(void)state;
	static const struct own_window own[] = {
		{.species = "invented", .window = "cut-clear", .from = {12, 1}, .to = {12, 20}}};
	struct dossier dossier = tree_in(&north);
	dossier.own_windows = own;
	dossier.own_window_count = 1;
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	int32_t at = date_days_between(ribbon.from, day_of("2026-12-10"));
	assert_true(ribbon.by_hand);
	check_int((ribbon.marks[at] >> RIBBON_CUT_CLEAR) & 1, 1, "clear as set");
}

static void what_is_allowed_is_neither_clear_nor_avoided(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	int32_t at = date_days_between(ribbon.from, day_of("2026-08-05"));
	check_int(ribbon.marks[at] >> RIBBON_CUT_CLEAR & 3, 0, "nothing is said");
}

static void a_clear_time_by_hand_stands_before_the_almanac(void **state)
{
	(void)state;
	static const struct own_window own[] = {
		{.species = "invented", .window = "cut-clear", .from = {12, 1}, .to = {12, 20}},
		{.species = "invented", .window = "cut-avoid", .from = {12, 15}, .to = {12, 31}}};
	struct dossier dossier = tree_in(&north);
	dossier.own_windows = own;
	dossier.own_window_count = 2;
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	int32_t first = date_days_between(ribbon.from, day_of("2026-12-01"));
	for (int32_t day = 0; day < 31; day++)
		check_int(ribbon.marks[first + day] >> RIBBON_CUT_CLEAR & 3, day < 14 ? 1 : 2,
			"clear, then avoid, never both");
}

static void the_saw_is_free_once_the_last_is_picked(void **state)
{
	(void)state;
	struct season season = {
		.year = 2026, .state = SEASON_COMPLETE, .picks = 1, .said_last = true};
	struct dossier dossier = tree_in(&north);
	season.last_pick = known_date(day_of("2026-04-25"));
	dossier.seasons = &season;
	dossier.season_count = 1;
	dossier.season_rule = season_rule_for(&invented, CLIMATE_ANY, &north, NULL, 0, "");
	struct ribbon ribbon = ribbon_on(&dossier, "2026-05-10");
	int32_t before = date_days_between(ribbon.from, day_of("2026-04-24"));
	int32_t after = date_days_between(ribbon.from, day_of("2026-04-26"));
	check_int(ribbon.marks[before] >> RIBBON_CUT_AVOID & 1, 1, "fruit hangs");
	check_int(ribbon.marks[after] >> RIBBON_CUT_AVOID & 1, 0, "it is off");
}

static void letters_are_the_entry_lines_own_and_differ(void **state)
{
	(void)state;
	bool seen[128] = {false};
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		char letter = ribbon_letter((enum entry_kind)kind);
		char line_letter = kind_row((enum entry_kind)kind)->letter;
		assert_true(letter > ' ' && letter < 127);
		assert_false(seen[(int)letter]);
		seen[(int)letter] = true;
		if (line_letter != 0)
			check_int(letter, line_letter, "the letter of the line");
	}
}

static void the_key_names_what_is_there_and_nothing_else(void **state)
{
	(void)state;
	struct dossier dossier = tree_in(&north);
	struct ribbon ribbon = ribbon_on(&dossier, "2026-11-24");
	char key[RIBBON_KEY_SIZE];
	check_text(ribbon_key(&ribbon, true, key),
		".. flower wood grows  ** bloom  -- fruit hangs  ## harvest  == clear to cut or "
		"feed  xx avoid",
		"key");
	struct dossier bare = {.place = &north};
	ribbon = ribbon_on(&bare, "2026-11-24");
	check_text(ribbon_key(&ribbon, true, key), "", "nothing to name");
}

/* The place's own dates, across New Year, and the months in which heat came; nothing else is known
 * of the tree, and its dates stay unknown. */
static void frost_and_heat_have_a_row_where_they_are_known(void **state)
{
	(void)state;
	struct place cold = {
		.hemisphere = HEMISPHERE_NORTH, .first_frost = {11, 1}, .last_frost = {3, 31}};
	const struct weather_day days[] = {
		{.day = day_of("2026-07-20"), .max_decic = {349, true}},
		{.day = day_of("2026-08-02"), .max_decic = {350, true}},
	};
	struct dossier tree = {.place = &cold, .weather = days, .weather_count = 2};
	struct ribbon ribbon = ribbon_on(&tree, "2026-11-24");
	char key[RIBBON_KEY_SIZE];
	check_text(drawn(&ribbon, RIBBON_TODAY, 48, true),
		"        heat%       ~~~^~~~~~~~~~~~~~~~~        ", "four cells a month");
	ribbon = ribbon_on(&tree, "2026-05-24");
	check_text(drawn(&ribbon, RIBBON_TODAY, 48, true),
		"frost~~~~~~~~~~~       ^ today  heat%       ~~~~", "a word where there is room");
	assert_false(ribbon.dated);
	check_has(ribbon_key(&ribbon, true, key), "~~ frost", "key");
	check_has(key, "%% 35 C (95 F) came", "key");
	tree.weather_count = 1; /* a tenth of a degree cooler */
	cold.last_frost = (struct month_day){0};
	ribbon = ribbon_on(&tree, "2026-11-24");
	check_text(drawn(&ribbon, RIBBON_TODAY, 48, true),
		"                       ^ today                  ", "nothing told");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(twelve_whole_months_five_of_them_past),
		cmocka_unit_test(a_year_in_the_north_in_60_columns),
		cmocka_unit_test(the_same_year_half_a_year_on_in_the_south),
		cmocka_unit_test(windows_that_cross_new_year_have_no_gap),
		cmocka_unit_test(a_span_says_its_word_where_it_has_room),
		cmocka_unit_test(what_lies_over_what),
		cmocka_unit_test(ascii_rows_hold_ascii_alone),
		cmocka_unit_test(every_day_has_a_cell_at_every_width),
		cmocka_unit_test(deeds_stand_on_their_days),
		cmocka_unit_test(deeds_of_one_cell_stand_under_each_other),
		cmocka_unit_test(frost_on_the_place_is_seen_too),
		cmocka_unit_test(today_is_marked_at_both_ends_of_a_month),
		cmocka_unit_test(no_kind_or_no_hemisphere_gives_no_dates),
		cmocka_unit_test(a_window_set_by_hand_is_drawn_and_told),
		cmocka_unit_test(what_is_allowed_is_neither_clear_nor_avoided),
		cmocka_unit_test(a_clear_time_by_hand_stands_before_the_almanac),
		cmocka_unit_test(the_saw_is_free_once_the_last_is_picked),
		cmocka_unit_test(letters_are_the_entry_lines_own_and_differ),
		cmocka_unit_test(the_key_names_what_is_there_and_nothing_else),
		cmocka_unit_test(frost_and_heat_have_a_row_where_they_are_known),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
