/* SPDX-License-Identifier: MIT */
/* What verify finds, and what a salvage brings back. */
#include "support/test.h"

#include "support/log.h"

#include <stdlib.h>
#include <string.h>

/* A log with one act of each sort: made, changed, struck. */
static void make_story(struct log *yard)
{
	struct fault why = {0};
	char id[ID_SIZE];
	log_make(yard);
	for (int i = 0; i < 50; i++) {
		char name[32];
		(void)snprintf(name, sizeof name, "area %d", i);
		log_area_act(yard, name);
	}
	memcpy(id, log_area_act(yard, "north"), sizeof id);
	log_rename_act(yard, id, "south");
	check_ok(store_act_begin(yard->store, ACT_WORK, "struck", &why), &why);
	check_ok(row_strike(yard->store, "area", id, true, &why), &why);
	check_ok(words_rewrite(yard->store, "area", id, &why), &why);
	check_ok(store_act_commit(yard->store, &why), &why);
	log_exec(yard,
		"INSERT INTO tree (id, made, label, label_folded, label_sort, planted, "
		"planted_low, "
		"planted_high) SELECT '0000000000000000000000TREE', id, 'A3', 'a3', 'a3', '2015~', "
		"'2015-01-01', '2015-12-31' FROM change_set WHERE row = 2;"
		"INSERT INTO entry (id, made, subject_kind, subject_id, kind, day, day_low, "
		"day_high, "
		"typed_at, words) SELECT '000000000000000000000ENTRY', id, 'tree', "
		"'0000000000000000000000TREE', 'pick', '2026-05-01', '2026-05-01', '2026-05-01', "
		"typed_at, 'A3 picked 6 lb' FROM change_set WHERE row = 2;"
		"INSERT INTO amount (id, made, entry_id, field, base_unit, low, high, typed) "
		"SELECT '00000000000000000000AM0VNT', id, '000000000000000000000ENTRY', 'weight', "
		"'mg', "
		"2721554, 2721554, '6 lb' FROM change_set WHERE row = 2");
	check_ok(words_rewrite(yard->store, "tree", "0000000000000000000000TREE", &why), &why);
	check_ok(words_rewrite(yard->store, "entry", "000000000000000000000ENTRY", &why), &why);
}

/* The lines as one text, faults marked by "! ". */
static char *tell(const struct verify_line *lines, int32_t count)
{
	char *text = NULL;
	size_t length = 0;
	FILE *out = open_memstream(&text, &length);
	assert_non_null(out);
	for (int32_t i = 0; i < count; i++)
		(void)fprintf(out, "%s%s\n", lines[i].is_fault ? "! " : "", lines[i].text);
	(void)fclose(out);
	return text;
}

static char *verify(struct log *yard)
{
	struct fault why = {0};
	struct verify_line *lines = NULL;
	int32_t count = 0;
	struct arena *arena = arena_new();
	check_ok(store_verify(yard->store, arena, &lines, &count, &why), &why);
	char *text = tell(lines, count);
	arena_free(arena);
	return text;
}

static void sound_log_is_sound(void **state)
{
	(void)state;
	struct log yard;
	make_story(&yard);
	char *text = verify(&yard);
	check_text(text, "1 trees, 1 entries, 54 acts: sound\n", "lines");
	free(text);
	log_close(&yard);
	struct fault why = {0};
	const struct store_options options = {.clock = &yard.clock, .read_only = true};
	check_ok(store_open(yard.path, &options, &yard.store, &why), &why);
	text = verify(&yard);
	check_text(text, "1 trees, 1 entries, 54 acts: sound\n", "lines when only looking");
	free(text);
	log_free(&yard);
}

struct harm {
	const char *name;
	const char *sql; /* by another program, with all checks off */
	const char *says;
};

static const struct harm harms[] = {
	{"dangling_reference", "DELETE FROM change_set WHERE row = 2",
		"! a row of area refers to a change_set that is not there"},
	{"struck_without_history", "UPDATE area SET struck = 1 WHERE row = 3",
		"is struck, but the history does not say so"},
	{"value_without_history", "UPDATE area SET struck = 0 WHERE name = 'south'", "area.struck"},
	{"history_of_nothing", "DELETE FROM area WHERE name = 'south'", "is about a row of area"},
	{"history_that_jumps",
		"UPDATE change SET old = 'elsewhere', prev = (SELECT id FROM change "
		"ORDER BY row LIMIT 1) WHERE row = 2",
		"replaces one that is not before it on the same field"},
	{"history_in_a_ring", "UPDATE change SET prev = id", "replaces one that is not before it"},
	{"unknown_field", "UPDATE change SET field = 'a b'", "field a b of area is not one"},
	{"unknown_table", "UPDATE change SET table_name = 'x'", "of x is not one of the log"},
	{"label_twice",
		"INSERT INTO tree (id, made, label, label_folded, label_sort) "
		"SELECT '000000000000000000000TREE2', made, 'a3', 'a3', 'a3' FROM tree",
		"is on 2 standing trees"},
	{"bounds_upside_down", "UPDATE amount SET high = 1",
		"! amount: weight \"6 lb\" has bounds"},
	{"bounds_out_of_this_world", "UPDATE amount SET high = 9223372036854775807",
		"has bounds that cannot be"},
	{"unknown_unit", "UPDATE amount SET base_unit = 'stone'", "is counted in stone"},
	{"entry_about_nothing", "UPDATE entry SET subject_id = 'x'",
		"is about a tree that is not there"},
	{"day_that_is_none", "UPDATE entry SET day = '2026-02-30'", "\"2026-02-30\" in entry"},
	{"day_beside_its_bounds", "UPDATE entry SET day_low = '2026-04-30'",
		"does not fit its bounds"},
	{"bound_missing", "UPDATE tree SET planted_low = NULL", "\"2015~\" in tree"},
	{"plain_day_that_is_none",
		"INSERT INTO weather_day (id, made, day) SELECT '0000000000000000000WEATHER', "
		"made, "
		"'2026-5-1' FROM tree",
		"\"2026-5-1\" in weather_day"},
	{"place_is_gone", "DELETE FROM place", "the place: 0 rows, expected one"},
	{"words_missing", "DELETE FROM word_index WHERE rowid = 3 * 32 + 1", "missing or old"},
	{"words_old", "UPDATE word_index SET body = 'other' WHERE rowid = 3 * 32 + 1",
		"missing or old"},
	{"words_too_many", "INSERT INTO word_index (rowid, body) VALUES (99999, 'x')",
		"1 rows of words belong to nothing"},
	{"words_damaged", "DELETE FROM word_index_data WHERE id > 10", "search"},
	{"turns_overlap",
		"INSERT INTO season_turn (subject_kind, subject_id, turn_md, years_add, crosses) "
		"VALUES "
		"('tree', '0000000000000000000000TREE', '01-01', 0, 0), "
		"('tree', '0000000000000000000000TREE', '02-01', 0, 0)",
		"season turns of tree 0000000000000000000000TREE overlap"},
	{"turn_of_nothing",
		"INSERT INTO season_turn (subject_kind, subject_id, turn_md, years_add, crosses) "
		"VALUES "
		"('spot', 'x', '01-01', 0, 0)",
		"season turn of a spot that is not there"},
	{"foreign_trigger", "CREATE TRIGGER mine AFTER INSERT ON area BEGIN SELECT 1; END",
		"trigger mine is not of this program"},
	{"foreign_view", "CREATE VIEW mine AS SELECT 1", "view mine is not of this program"},
	{"undo_that_made_a_row", "UPDATE change_set SET kind = 'undo' WHERE row = 5",
		"was made by an undo"},
};

static void verify_finds(const void *one)
{
	const struct harm *harm = one;
	struct log yard;
	make_story(&yard);
	log_close(&yard);
	log_file_exec(yard.path, "PRAGMA foreign_keys = OFF");
	log_file_exec(yard.path, harm->sql);
	log_reopen(&yard);
	char *text = verify(&yard);
	check_has(text, harm->says, harm->name);
	free(text);
	log_free(&yard);
}

static void index_that_lacks_a_row_is_found(void **state)
{
	(void)state;
	struct log yard;
	make_story(&yard);
	log_close(&yard);
	log_file_exec(yard.path, "PRAGMA writable_schema = ON;"
				 "UPDATE sqlite_schema SET sql = replace(sql, 'area (made)', 'area "
				 "(made) WHERE row > 5') "
				 "WHERE name = 'area_made'");
	log_file_exec(yard.path,
		"REINDEX area_made; PRAGMA writable_schema = ON;"
		"UPDATE sqlite_schema SET sql = replace(sql, ' WHERE row > 5', '') "
		"WHERE name = 'area_made'");
	log_reopen(&yard);
	char *text = verify(&yard);
	check_has(text, "! structure: ", "lines");
	check_has(text, "faults found", "last line");
	free(text);
	log_free(&yard);
}

/* --- salvage --- */

static char *salvage(struct log *yard, const char *fresh)
{
	struct fault why = {0};
	struct verify_line *lines = NULL;
	int32_t count = 0;
	struct arena *arena = arena_new();
	check_ok(store_salvage(yard->path, fresh, &yard->clock, arena, &lines, &count, &why), &why);
	char *text = tell(lines, count);
	arena_free(arena);
	return text;
}

static void open_fresh(struct log *yard, const char *fresh)
{
	struct fault why = {0};
	const struct store_options options = {.clock = &yard->clock};
	check_ok(store_open(fresh, &options, &yard->store, &why), &why);
	char *text = verify(yard);
	check_has(text, ": sound\n", "the salvaged log");
	assert_null(strstr(text, "! "));
	free(text);
}

static void salvage_of_a_sound_log_is_the_same_log(void **state)
{
	(void)state;
	struct log yard;
	char fresh[SCRATCH_PATH_SIZE];
	make_story(&yard);
	char *before = log_dump(&yard);
	log_close(&yard);
	char *text = salvage(&yard, scratch_path(&yard.scratch, "fresh.bough", fresh));
	assert_null(strstr(text, "! "));
	check_has(text, "area: 51 rows read", "lines");
	free(text);
	open_fresh(&yard, fresh);
	char *after = log_dump(&yard);
	check_text(after, before, "what is seen");
	free(before);
	free(after);
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_ok(store_undo(yard.store, what, &why), &why);
	check_text(what, "struck", "undo goes on");
	log_free(&yard);
}

static void ruin_page(const char *path, int64_t page)
{
	size_t length = 0;
	char *bytes = file_read(path, &length);
	assert_true((size_t)page * 4096 <= length);
	memset(bytes + (page - 1) * 4096, 0xA5, 4096);
	file_write(path, bytes, length);
	free(bytes);
}

static void rows_around_a_ruined_page_come_back(void **state)
{
	(void)state;
	struct log yard;
	char fresh[SCRATCH_PATH_SIZE];
	struct fault why = {0};
	log_make(&yard);
	for (int i = 0; i < 40; i++) {
		char name[40];
		(void)snprintf(name, sizeof name, "%036d", i);
		check_ok(store_act_begin(yard.store, ACT_WORK, name, &why), &why);
		for (int j = 0; j < 20; j++)
			log_area(&yard, name);
		check_ok(store_act_commit(yard.store, &why), &why);
	}
	const int64_t leaf = log_one(&yard, "SELECT pageno FROM dbstat WHERE name = 'area' "
					    "AND pagetype = 'leaf' ORDER BY path LIMIT 1 OFFSET 5");
	const int64_t cells =
		log_one(&yard, "SELECT ncell FROM dbstat WHERE name = 'area' "
			       "AND pagetype = 'leaf' ORDER BY path LIMIT 1 OFFSET 5");
	log_close(&yard);
	ruin_page(yard.path, leaf);
	char *text = salvage(&yard, scratch_path(&yard.scratch, "fresh.bough", fresh));
	check_has(text, "! area: up to", "lines");
	free(text);
	open_fresh(&yard, fresh);
	check_int(log_count(&yard, "area"), 800 - cells, "areas");
	check_int(log_count(&yard, "change_set"), 41, "acts");
	log_free(&yard);
}

static void lost_acts_stand_again_without_a_name(void **state)
{
	(void)state;
	struct log yard;
	char fresh[SCRATCH_PATH_SIZE];
	make_story(&yard);
	const int64_t root =
		log_one(&yard, "SELECT rootpage FROM sqlite_schema WHERE name = 'change_set'");
	char *before = log_dump(&yard);
	log_close(&yard);
	ruin_page(yard.path, root);
	char *text = salvage(&yard, scratch_path(&yard.scratch, "fresh.bough", fresh));
	check_has(text, "! change_set: everything after row 0 is lost", "lines");
	check_has(text, "acts are lost but for what they wrote", "lines");
	free(text);
	open_fresh(&yard, fresh);
	char *after = log_dump(&yard);
	check_text(after, before, "what is seen");
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_refused(store_undo(yard.store, what, &why), STATUS_END, &why, "nothing to undo");
	free(before);
	free(after);
	log_free(&yard);
}

static void parts_of_lost_entries_go_and_the_place_is_asked_for(void **state)
{
	(void)state;
	struct log yard;
	char fresh[SCRATCH_PATH_SIZE];
	make_story(&yard);
	const int64_t entry =
		log_one(&yard, "SELECT rootpage FROM sqlite_schema WHERE name = 'entry'");
	const int64_t place =
		log_one(&yard, "SELECT rootpage FROM sqlite_schema WHERE name = 'place'");
	log_close(&yard);
	ruin_page(yard.path, entry);
	ruin_page(yard.path, place);
	char *text = salvage(&yard, scratch_path(&yard.scratch, "fresh.bough", fresh));
	check_has(text, "! amount: row 1 had to go", "lines");
	check_has(text, "! the place is lost", "lines");
	free(text);
	open_fresh(&yard, fresh);
	check_int(log_one(&yard, "SELECT count(*) FROM place WHERE name = 'Salvaged yard'"), 1,
		"place");
	check_int(log_count(&yard, "amount"), 0, "amounts");
	log_free(&yard);
}

static void salvage_writes_over_nothing_and_leaves_the_damaged_log(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	struct verify_line *lines = NULL;
	int32_t count = 0;
	char fresh[SCRATCH_PATH_SIZE];
	make_story(&yard);
	log_close(&yard);
	struct arena *arena = arena_new();
	file_write(scratch_path(&yard.scratch, "fresh.bough", fresh), "x", 1);
	check_refused(store_salvage(yard.path, fresh, &yard.clock, arena, &lines, &count, &why),
		STATUS_CONFLICT, &why, "is there already");
	file_write(yard.path, "no log at all, and quite short", 30);
	scratch_path(&yard.scratch, "other.bough", fresh);
	check_refused(store_salvage(yard.path, fresh, &yard.clock, arena, &lines, &count, &why),
		STATUS_DAMAGED, &why, "");
	assert_false(file_exists(fresh));
	arena_free(arena);
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(sound_log_is_sound),
		cmocka_unit_test(index_that_lacks_a_row_is_found),
		cmocka_unit_test(salvage_of_a_sound_log_is_the_same_log),
		cmocka_unit_test(rows_around_a_ruined_page_come_back),
		cmocka_unit_test(lost_acts_stand_again_without_a_name),
		cmocka_unit_test(parts_of_lost_entries_go_and_the_place_is_asked_for),
		cmocka_unit_test(salvage_writes_over_nothing_and_leaves_the_damaged_log),
	};
	const int failed = cmocka_run_group_tests_name("verify", tests, NULL, NULL) +
			   RUN_CASES("harms", harms, verify_finds);
	return failed != 0;
}
