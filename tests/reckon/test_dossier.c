/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/dossier.h"

static const struct place north = {.hemisphere = HEMISPHERE_NORTH};

/* Cuts of 1 March and 10 and 12 May 2025, picks of July, a feed of unknown day. */
static struct dossier tree(void)
{
	static const struct entry *entries[8];
	entries[0] = make_entry(KIND_CUT, "2025-05-12");
	entries[1] = make_entry(KIND_CUT, "2025-03-01");
	entries[2] = make_pick("2025-07-01", 900);
	entries[3] = make_entry(KIND_CUT, "2025-05-10");
	entries[4] = make_entry(KIND_FEED, "");
	entries[5] = make_entry(KIND_FEED, "2025-04");
	entries[6] = make_pick("2024-07-20", 400);
	entries[7] = make_entry(KIND_CUT, "2025-05-12");
	struct dossier dossier = {.place = &north, .entries = entries, .entry_count = 8};
	dossier.season_rule = (struct season_rule){
		.turn = {1, 14}, .harvest_from = {5, 1}, .harvest_to = {9, 30}};
	struct season *seasons;
	dossier.season_count = season_table(
		entries, 8, &dossier.season_rule, day_of("2026-06-01"), NULL, made(), &seasons);
	dossier.seasons = seasons;
	return dossier;
}

static void the_last_of_a_kind_is_the_latest_on_or_before_a_day(void **state)
{
	(void)state;
	struct dossier dossier = tree();
	assert_ptr_equal(
		dossier_last(&dossier, KIND_CUT, day_of("2025-05-11")), dossier.entries[3]);
	assert_ptr_equal(
		dossier_last(&dossier, KIND_CUT, day_of("2025-05-10")), dossier.entries[3]);
	assert_ptr_equal(
		dossier_last(&dossier, KIND_CUT, day_of("2025-05-09")), dossier.entries[1]);
	assert_ptr_equal(
		dossier_last(&dossier, KIND_CUT, day_of("2026-05-09")), dossier.entries[7]);
	assert_null(dossier_last(&dossier, KIND_CUT, day_of("2025-02-28")));
	assert_ptr_equal(
		dossier_last(&dossier, KIND_FEED, day_of("2026-01-01")), dossier.entries[5]);
	assert_null(dossier_last(&dossier, KIND_SPRAY, day_of("2026-01-01")));
}

static void entries_between_two_days_have_both_ends_in(void **state)
{
	(void)state;
	struct dossier dossier = tree();
	const struct entry *found[8];
	struct date from = day_of("2025-05-10");
	struct date to = day_of("2025-05-12");
	check_int(dossier_between(&dossier, KIND_CUT, from, to, found, 8), 3, "cuts");
	assert_ptr_equal(found[0], dossier.entries[0]);
	check_int(dossier_between(&dossier, KIND_CUT, from, to, NULL, 0), 3, "counted only");
	check_int(dossier_between(&dossier, KIND_CUT, from, to, found, 2), 2, "room for two");
	check_int(
		dossier_between(&dossier, KIND_CUT, day_of("2025-05-11"), to, found, 8), 2, "from");
	check_int(
		dossier_between(&dossier, KIND_CUT, from, day_of("2025-05-11"), found, 8), 1, "to");
	check_int(dossier_between(&dossier, KIND_CUT, to, from, found, 8), 0, "turned round");
}

static void seasons_are_found_by_year(void **state)
{
	(void)state;
	struct dossier dossier = tree();
	check_int(dossier.season_count, 3, "2024 to 2026");
	check_int(dossier_season(&dossier, 2025)->picks, 1, "2025");
	assert_null(dossier_season(&dossier, 2023));
	assert_null(dossier_season(&dossier, 2027));
}

static void work_of_a_season_begins_after_the_crop_before(void **state)
{
	(void)state;
	struct dossier dossier = tree();
	struct maybe_date from = dossier_work_from(&dossier, 2026);
	check_int(from.value.day, day_of("2025-07-02").day, "after the last pick");
	from = dossier_work_from(&dossier, 2024);
	check_int(from.value.day, day_of("2023-10-01").day, "after the harvest window");
	dossier.season_rule.harvest_from.month = 0;
	assert_false(dossier_work_from(&dossier, 2024).known);
	assert_true(dossier_work_from(&dossier, 2025).known);
}

static void windows_are_those_of_the_tree(void **state)
{
	(void)state;
	static const struct window_row rows[] = {
		{.kind = WINDOW_HARVEST, .from = {5, 1}, .to = {9, 30}, .anchor = ANCHOR_HARVEST}};
	static const struct species peach = {.key = "peach", .windows = rows, .window_count = 1};
	struct dossier dossier = tree();
	assert_false(dossier_window(&dossier, WINDOW_HARVEST, day_of("2026-01-01")).known);
	dossier.kind.species = &peach;
	struct window window = dossier_window(&dossier, WINDOW_HARVEST, day_of("2026-01-01"));
	check_int(window.from.month, 5, "almanac");
	dossier.learning.harvest =
		(struct learned){.seasons = 2, .shift_days = 31, .applied = true};
	window = dossier_window(&dossier, WINDOW_HARVEST, day_of("2026-01-01"));
	check_int(window.from.month, 6, "learned");
	struct own_window own = {.window = "harvest", .from = {8, 1}, .to = {8, 31}};
	snprintf(own.tree_id, sizeof own.tree_id, "T1");
	snprintf(dossier.tree.id, sizeof dossier.tree.id, "T1");
	dossier.own_windows = &own;
	dossier.own_window_count = 1;
	window = dossier_window(&dossier, WINDOW_HARVEST, day_of("2026-01-01"));
	check_int(window.from.month, 8, "by hand");
	check_int(window.basis, BASIS_OWN, "basis");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_last_of_a_kind_is_the_latest_on_or_before_a_day),
		cmocka_unit_test(entries_between_two_days_have_both_ends_in),
		cmocka_unit_test(seasons_are_found_by_year),
		cmocka_unit_test(work_of_a_season_begins_after_the_crop_before),
		cmocka_unit_test(windows_are_those_of_the_tree),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
