/* SPDX-License-Identifier: MIT */
/* What an outside reader of the file finds by SQL: the season of each pick, as the program names
 * it. */
#include "support/garden.h"

struct turn_case {
	const char *name;
	const char *species;
	enum hemisphere hemisphere;
	const char *day; /* of the pick */
	const char *season;
};

/* clang-format off */
static const struct turn_case cases[] = {
	{"navel_north_in_january", "orange", HEMISPHERE_NORTH, "1916-01-15", "1915/16"},
	{"peach_south_in_january", "peach", HEMISPHERE_SOUTH, "1935-01-20", "1934/35"},
	{"loquat_south_in_october", "loquat", HEMISPHERE_SOUTH, "2025-10-20", "2025"},
	{"loquat_north_in_may", "loquat", HEMISPHERE_NORTH, "2026-05-01", "2026"},
	{"lemon_north_in_september", "lemon", HEMISPHERE_NORTH, "1916-09-30", "1916/17"},
	{"apple_north_in_september", "apple", HEMISPHERE_NORTH, "2024-09-12", "2024"},
	{"apple_north_on_29_february", "apple", HEMISPHERE_NORTH, "2024-02-29", "2023"},
	{"unknown_north_on_new_years_day", "", HEMISPHERE_NORTH, "2025-01-01", "2025"},
	{"unknown_north_on_new_years_eve", "", HEMISPHERE_NORTH, "2024-12-31", "2024"},
	{"unknown_south_in_june", "", HEMISPHERE_SOUTH, "2025-06-30", "2024/25"},
	{"unknown_south_in_july", "", HEMISPHERE_SOUTH, "2025-07-01", "2025/26"},
	{"no_hemisphere_is_calendar_years", "orange", HEMISPHERE_UNKNOWN, "1916-01-15", "1916"},
};
/* clang-format on */

static void run_case(const void *one)
{
	const struct turn_case *turn_case = one;
	struct garden garden;
	struct place place = {.hemisphere = turn_case->hemisphere};
	char line[120];
	char name[16];
	char want[32];
	garden_make_at(&garden, &place, "2026-06-20");
	garden_tree(&garden, "A1", turn_case->species, "", "");
	snprintf(line, sizeof line, "A1 picked 5 lb @ %s", turn_case->day);
	garden_log(&garden, line);
	char *season = garden_sql(&garden, "SELECT season FROM yield_by_season");
	snprintf(want, sizeof want, "%s\n", turn_case->season);
	check_text(season, want, "by SQL");
	free(season);
	const struct dossier *dossier = garden_story(&garden, "A1");
	const struct season_rule *rule = &dossier->season_rule;
	season_name(rule, season_year_of(rule, garden_day(turn_case->day)), name, sizeof name);
	check_text(name, turn_case->season, "by the program");
	garden_free(&garden);
}

static char *seasons(const struct garden *garden)
{
	return garden_sql(garden, "SELECT group_concat(season, ' ') FROM (SELECT season FROM "
				  "yield_by_season ORDER BY first_pick)");
}

static void a_correction_names_old_seasons_anew(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-06-20");
	garden_tree(&garden, "A1", "apple", "2010", "");
	garden_log(&garden, "A1 picked 5 lb @ 2024-01-20");
	char *before = seasons(&garden);
	check_text(before, "2023\n", "an apple of the autumn before");
	garden_identify(&garden, "A1", "orange", "", "");
	char *after = seasons(&garden);
	check_text(after, "2023/24\n", "an orange all along");
	free(before);
	free(after);
	garden_free(&garden);
}

static void a_change_names_only_what_follows(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-06-20");
	garden_tree(&garden, "A1", "orange", "2010", "");
	garden_log(&garden, "A1 picked 5 lb @ 2016-01-20");
	garden_identify(&garden, "A1", "lemon", "", "2018-03-01");
	garden_identify(&garden, "A1", "apple", "", "2020-03-01");
	garden_log(&garden, "A1 picked 5 lb @ 2024-01-20");
	char *names = seasons(&garden);
	check_text(names, "2015/16 2023\n", "before and after");
	free(names);
	char *rows = garden_sql(&garden,
		"SELECT valid_from || '>' || coalesce(valid_to, '') FROM season_turn "
		"WHERE valid_from = '2020-03-01'");
	check_text(rows, "2020-03-01>\n", "the last turn is open");
	free(rows);
	garden_free(&garden);
}

static void a_clump_is_named_by_what_stands_in_it(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-06-20");
	garden_tree(&garden, "A1", "orange", "2010", "clump");
	garden_tree(&garden, "A2", "orange", "2010", "clump");
	garden_log(&garden, "spot clump picked 30 lb @ 2016-01-20");
	char *names = seasons(&garden);
	check_text(names, "2015/16\n", "both are oranges");
	free(names);
	garden_identify(&garden, "A2", "apple", "", "");
	names = seasons(&garden);
	check_text(names, "2016\n", "kinds differ: calendar years");
	free(names);
	garden_free(&garden);
}

static void another_place_names_all_anew(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	struct place place;
	garden_make(&garden, "2026-06-20");
	garden_tree(&garden, "A1", "peach", "2010", "");
	garden_log(&garden, "A1 picked 5 lb @ 2024-01-20");
	check_ok(store_place_load(garden.store, &place, &why), &why);
	place.hemisphere = HEMISPHERE_SOUTH;
	check_ok(store_act_begin(garden.store, ACT_WORK, "place", &why), &why);
	check_ok(store_place_save(garden.store, &place, &why), &why);
	check_ok(yard_put_all_turns(garden.store, garden.almanac, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	char *names = seasons(&garden);
	check_text(names, "2023/24\n", "in the south");
	free(names);
	garden_free(&garden);
}

static void each_tree_has_one_row_without_a_change(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-06-20");
	garden_tree(&garden, "A1", "apple", "2010", "");
	garden_identify(&garden, "A1", "", "Bramley", "");
	garden_identify(&garden, "A1", "apple", "", "");
	char *rows = garden_sql(&garden, "SELECT count(*) FROM season_turn");
	check_text(rows, "1\n", "rows");
	free(rows);
	garden_free(&garden);
}

static void check_differ(struct garden *garden, int32_t differ, const char *first)
{
	struct fault why = {0};
	struct turns_checked checked;
	check_ok(yard_check_turns(garden->store, garden->almanac, &checked, &why), &why);
	check_int(checked.differ, differ, "that differ");
	check_text(checked.first, first, "the first");
}

static void turns_kept_are_those_worked_out_after_every_act(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-06-20");
	garden_tree(&garden, "A1", "orange", "2010", "clump");
	garden_tree(&garden, "A2", "orange", "2010", "clump");
	garden_tree(&garden, "A3", "", "", "");
	check_differ(&garden, 0, "");
	garden_identify(&garden, "A2", "apple", "", "2030-01-01"); /* dated ahead */
	check_differ(&garden, 0, "");
	garden_log(&garden, "spot clump picked 3 lb @ 2026-02-01");
	garden_log(&garden, "A1 moved to far corner @ 2026-03-01");
	check_differ(&garden, 0, "");
	garden_log(&garden, "A2 died wind @ 2026-03-02");
	garden_log(&garden, "A1 grafted lemon @ 2026-03-03");
	check_differ(&garden, 0, "");
	garden_free(&garden);
}

static void a_turn_that_was_tampered_with_is_found(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	garden_make(&garden, "2026-06-20");
	garden_tree(&garden, "A1", "orange", "2010", "");
	struct tree tree = garden_tree(&garden, "A2", "orange", "2010", "");
	struct season_turn turn = {.subject.kind = SUBJECT_TREE, .turn = {.month = 3, .day = 3}};
	snprintf(turn.subject.id, sizeof turn.subject.id, "%s", tree.id);
	check_ok(store_season_turn_put(garden.store, &turn, 1, &why), &why);
	check_differ(&garden, 1, "A2");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_correction_names_old_seasons_anew),
		cmocka_unit_test(a_change_names_only_what_follows),
		cmocka_unit_test(a_clump_is_named_by_what_stands_in_it),
		cmocka_unit_test(another_place_names_all_anew),
		cmocka_unit_test(each_tree_has_one_row_without_a_change),
		cmocka_unit_test(turns_kept_are_those_worked_out_after_every_act),
		cmocka_unit_test(a_turn_that_was_tampered_with_is_found),
	};
	int failed = RUN_CASES("seasons by SQL", cases, run_case);
	failed += cmocka_run_group_tests_name("season turns", tests, NULL, NULL);
	return failed != 0;
}
