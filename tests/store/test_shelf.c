/* SPDX-License-Identifier: MIT */
/* Entries read in one go and kept packed are those that a list of each tree answers. */
#include "support/garden.h"

#include "report/demo.h"

static void check_maybe(struct maybe_i64 got, struct maybe_i64 want, const char *words)
{
	check_int(got.known, want.known, words);
	check_int(got.value, want.value, words);
}

static void check_span(const struct date_span *got, const struct date_span *want, const char *words)
{
	check_text(got->text, want->text, words);
	check_int(got->low.known, want->low.known, words);
	check_int(got->low.value.day, want->low.value.day, words);
	check_int(got->high.known, want->high.known, words);
	check_int(got->high.value.day, want->high.value.day, words);
	check_int(got->about, want->about, words);
	check_int(got->doubt, want->doubt, words);
}

static void check_amount(const struct amount *got, const struct amount *want, const char *words)
{
	check_int(got->dimension, want->dimension, words);
	check_int(got->field, want->field, words);
	check_maybe(got->low, want->low, words);
	check_maybe(got->high, want->high, words);
	check_int(got->about, want->about, words);
	check_int(got->none, want->none, words);
	check_text(got->typed, want->typed, words);
	check_text(got->container, want->container, words);
	check_maybe(got->containers_low, want->containers_low, words);
	check_maybe(got->containers_high, want->containers_high, words);
}

static void check_stem(
	const struct stem_measure *got, const struct stem_measure *want, const char *words)
{
	check_int(got->stem, want->stem, words);
	check_int(got->field, want->field, words);
	check_int(got->low_um, want->low_um, words);
	check_int(got->high_um, want->high_um, words);
	check_int(got->about, want->about, words);
	check_maybe(got->at_height_um, want->at_height_um, words);
	check_int(got->word_given, want->word_given, words);
}

static void check_parts(const struct entry *got, const struct entry *want)
{
	check_int(got->amount_count, want->amount_count, want->words);
	check_int(got->detail_count, want->detail_count, want->words);
	check_int(got->stem_count, want->stem_count, want->words);
	for (int32_t k = 0; k < want->amount_count; k++)
		check_amount(&got->amounts[k], &want->amounts[k], want->words);
	for (int32_t k = 0; k < want->detail_count; k++) {
		check_int(got->details[k].field, want->details[k].field, want->words);
		check_text(got->details[k].text, want->details[k].text, want->words);
	}
	for (int32_t k = 0; k < want->stem_count; k++)
		check_stem(&got->stems[k], &want->stems[k], want->words);
}

static void check_entry(const struct entry *got, const struct entry *want)
{
	check_text(got->words, want->words, "words");
	check_text(got->note, want->note, want->words);
	check_text(got->id, want->id, want->words);
	check_int(got->subject.kind, want->subject.kind, want->words);
	check_text(got->subject.id, want->subject.id, want->words);
	check_int(got->kind, want->kind, want->words);
	check_span(&got->day, &want->day, want->words);
	check_text(got->typed_at, want->typed_at, want->words);
	check_text(got->batch, want->batch, want->words);
	check_int(got->planned, want->planned, want->words);
	check_int(got->asked, want->asked, want->words);
	check_int(got->season_year.known, want->season_year.known, want->words);
	check_int(got->season_year.value, want->season_year.value, want->words);
	check_parts(got, want);
}

static void check_entries(
	const struct entry *got, int32_t got_count, const struct entry *want, int32_t want_count)
{
	check_int(got_count, want_count, "entries");
	for (int32_t i = 0; i < want_count; i++)
		check_entry(&got[i], &want[i]);
}

/* Of each tree the shelf answers what the list does. Returns how many entries there were. */
static int32_t compare_all(
	struct store *store, const struct tree *trees, int32_t count, struct arena *arena)
{
	struct fault why = {0};
	struct entry_shelf *shelf = store_shelf_new();
	const char **ids = arena_array(arena, (size_t)count + 1, sizeof *ids);
	int32_t taken = 0, entries = 0, fills = 0;

	for (int32_t i = 0; i < count; i++)
		ids[i] = trees[i].id;
	for (int32_t i = 0; i < count; i++) {
		const struct entry_query query = {.subject_id = ids[i], .planned = -1};
		const struct shelf_wants wants = {.subject_ids = &ids[i], .count = count - i};
		struct entry *got = NULL, *want = NULL;
		int32_t got_count = 0, want_count = 0;

		if (store_shelf_list(store, shelf, ids[i], arena, &got, &got_count, &why) ==
			STATUS_ABSENT) {
			check_ok(store_shelf_fill(store, shelf, &wants, &taken, &why), &why);
			assert_true(taken >= 1);
			fills++;
		}
		check_ok(store_shelf_list(store, shelf, ids[i], arena, &got, &got_count, &why),
			&why);
		check_ok(store_entry_list(store, &query, arena, &want, &want_count, &why), &why);
		check_entries(got, got_count, want, want_count);
		entries += want_count;
	}
	assert_true(fills >= 1);
	store_shelf_free(shelf);
	return entries;
}

static void the_shelf_answers_what_the_list_of_each_tree_does(void **state)
{
	struct fault why = {0};
	struct scratch scratch = scratch_make();
	struct clock clock = clock_seeded(garden_day("2026-11-24"), 7);
	const struct store_options options = {.clock = &clock, .read_only = true};
	const struct tree_query all = {.gone_too = true};
	struct arena *arena = arena_new();
	struct store *store = NULL;
	struct tree *trees = NULL;
	int32_t count = 0;
	char path[SCRATCH_PATH_SIZE], said[TEXT_SIZE];

	(void)state;
	scratch_path(&scratch, "demo.bough", path);
	check_ok(demo_write(path, "share/almanac", garden_day("2026-11-24"), said, &why), &why);
	check_ok(store_open(path, &options, &store, &why), &why);
	check_ok(store_tree_list(store, &all, arena, &trees, &count, &why), &why);
	assert_true(compare_all(store, trees, count, arena) > 100);
	store_leave_out_private(store, true);
	assert_true(compare_all(store, trees, count, arena) > 100);
	store_close(store);
	arena_free(arena);
	scratch_remove(&scratch);
}

/* What is rare: a day not known, one day's lines out of the order of their ids, stems, containers,
 * grades, plans, struck lines, private ones, long ones. */
static void rare_lines_come_out_as_they_went_in(void **state)
{
	static const char *const lines[] = {"A3 picked 3 lb @ 2024-08-01", "A3 note no day @ 2019~",
		"A3 fed 2 lb 10-10-10 @ 2024-08-01", "A3 picked 2-3 buckets @ 2024-08-02 ; Zürich",
		"A3 picked last about 5 lb second grade @ 2025-08-02",
		"A3 picked none @ season 2022", "A3 stems 5 in, 6 in and 8 in @ 2025-02-01",
		"A3 cut shape 20 % @ 2024-08-01", "A3 height 3 m, spread 2 m @ 2023-08-01",
		"A3 note well ; private: not for all", "A3 plan cut limb 1 of 3 @ 2027-02",
		"B1 picked at least 4 lb @ 2024", NULL};
	struct garden garden;
	struct fault why = {0};
	struct work_logged logged;
	const struct tree_query all = {.gone_too = true};
	struct tree *trees = NULL;
	int32_t count = 0;

	(void)state;
	garden_make(&garden, "2026-06-20");
	garden_tree(&garden, "A3", "apple", "2015", "");
	garden_tree(&garden, "B1", "fig", "", "");
	garden_tree(&garden, "C1", "", "", "");
	for (const char *const *line = lines; *line != NULL; line++)
		garden_log(&garden, *line);
	check_ok(work_strike(garden.yard, garden_log(&garden, "A3 picked 9 lb"), &logged, &why),
		&why);
	check_ok(store_tree_list(garden.store, &all, garden.arena, &trees, &count, &why), &why);
	check_int(compare_all(garden.store, trees, count, garden.arena), 12, "entries");
	store_leave_out_private(garden.store, true);
	check_int(compare_all(garden.store, trees, count, garden.arena), 11, "entries for others");
	garden_free(&garden);
}

static void only_the_kinds_that_are_wanted_come(void **state)
{
	static const struct kind_set picks = {KIND_BIT(KIND_PICK)};
	struct garden garden;
	struct fault why = {0};
	struct entry_shelf *shelf = store_shelf_new();
	struct entry *got = NULL;
	int32_t count = 0, taken = 0;

	(void)state;
	garden_make(&garden, "2026-06-20");
	const struct tree tree = garden_tree(&garden, "A3", "apple", "2015", "");
	const char *ids[] = {tree.id};
	const struct shelf_wants wants = {.subject_ids = ids, .count = 1, .kinds = &picks};
	garden_log(&garden, "A3 picked 3 lb @ 2024-08-01");
	garden_log(&garden, "A3 fed 2 lb 10-10-10 @ 2024-08-01");
	check_ok(store_shelf_fill(garden.store, shelf, &wants, &taken, &why), &why);
	check_int(taken, 1, "trees taken up");
	check_ok(store_shelf_list(garden.store, shelf, tree.id, garden.arena, &got, &count, &why),
		&why);
	check_int(count, 1, "picks alone");
	check_int(got[0].kind, KIND_PICK, "kind");
	check_int(store_shelf_list(garden.store, shelf, "01M8N9EX9R457EMC0000000000", garden.arena,
			  &got, &count, &why),
		STATUS_ABSENT, "a tree that was not taken up");
	store_shelf_free(shelf);
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_shelf_answers_what_the_list_of_each_tree_does),
		cmocka_unit_test(rare_lines_come_out_as_they_went_in),
		cmocka_unit_test(only_the_kinds_that_are_wanted_come),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
