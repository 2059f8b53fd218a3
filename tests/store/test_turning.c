/* SPDX-License-Identifier: MIT */
/* Undo all of a long day's work, then redo it: each state on the way is, byte for byte, what it
 * was. Acts are drawn by seeded dice; SEED=N draws others. */
#include "support/test.h"

#include "support/yard.h"

#include "store/tables.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { ACTS = 200, NAMES = 12 };

struct day {
	struct log yard;
	struct arena *arena; /* of one act */
	struct dice dice;
	struct fault why;
};

static int64_t roll(struct day *day, int64_t low, int64_t high)
{
	return dice_between(&day->dice, low, high);
}

static const char *const hostile[] = {"", "plain words", "'; DROP TABLE entry; --", "\"quoted\"",
	"\x01\x02\x1b[31mred\x7f", "\xF0\x9F\x8D\x91\xF0\x9F\x8F\xBD emoji", "tab\tand\nline",
	"N\xC3\xADspero \xE6\x9D\x8F", "%s %n {0} $(x)", "\\ back \\0 slash"};

static const char *words(struct day *day)
{
	return hostile[roll(day, 0, (int64_t)(sizeof hostile / sizeof hostile[0]) - 1)];
}

static void name_into(struct day *day, char *out, size_t size)
{
	(void)snprintf(out, size, "N%d", (int)roll(day, 1, NAMES));
}

static void words_into(struct day *day, char *out, size_t size)
{
	(void)snprintf(out, size, "%s", words(day));
}

static struct date any_day(struct day *day)
{
	return (struct date){(int32_t)roll(day, 18000, 20500)};
}

static struct maybe_i64 any_number(struct day *day)
{
	return roll(day, 0, 2) == 0 ? (struct maybe_i64){.known = false}
				    : known_i64(roll(day, 1, 90000));
}

static struct tree *any_tree(struct day *day)
{
	struct tree *trees = NULL;
	int32_t count = 0;
	const struct tree_query query = {.gone_too = roll(day, 0, 3) == 0};
	check_ok(store_tree_list(day->yard.store, &query, day->arena, &trees, &count, &day->why),
		&day->why);
	return count == 0 ? NULL : &trees[roll(day, 0, count - 1)];
}

static struct spot *any_spot(struct day *day)
{
	struct spot *spots = NULL;
	int32_t count = 0;
	check_ok(
		store_spot_list(day->yard.store, day->arena, &spots, &count, &day->why), &day->why);
	return count == 0 ? NULL : &spots[roll(day, 0, count - 1)];
}

static struct entry *any_entry(struct day *day)
{
	struct entry *entries = NULL;
	int32_t count = 0;
	const struct entry_query query = {.planned = -1};
	check_ok(store_entry_list(day->yard.store, &query, day->arena, &entries, &count, &day->why),
		&day->why);
	return count == 0 ? NULL : &entries[roll(day, 0, count - 1)];
}

/* --- acts: each answers as the store did; STATUS_ABSENT when there was nothing to act on --- */

static enum status add_area(struct day *day)
{
	struct area area = {0};
	name_into(day, area.name, sizeof area.name);
	return store_area_add(day->yard.store, &area, &day->why);
}

static enum status add_spot(struct day *day)
{
	struct spot spot = {.kind = (enum spot_kind)roll(day, 0, 2), .east_um = any_number(day)};
	name_into(day, spot.name, sizeof spot.name);
	return store_spot_add(day->yard.store, &spot, &day->why);
}

static enum status save_spot(struct day *day)
{
	struct spot *spot = any_spot(day);
	if (spot == NULL)
		return STATUS_ABSENT;
	spot->north_um = any_number(day);
	spot->soil = (enum soil_texture)roll(day, 0, 7);
	name_into(day, spot->name, sizeof spot->name);
	return store_spot_save(day->yard.store, spot, &day->why);
}

static enum status add_tree(struct day *day)
{
	struct tree tree = {.how = (enum origin)roll(day, 0, 7)};
	const struct spot *spot = any_spot(day);
	name_into(day, tree.label, sizeof tree.label);
	words_into(day, tree.note, sizeof tree.note);
	if (spot != NULL)
		memcpy(tree.spot_id, spot->id, ID_SIZE);
	return store_tree_add(day->yard.store, &tree, &day->why);
}

static enum status add_graft(struct day *day)
{
	struct tree tree = {.how = ORIGIN_GRAFT};
	const struct tree *host = any_tree(day);
	name_into(day, tree.label, sizeof tree.label);
	if (host != NULL)
		memcpy(tree.host_id, host->id, ID_SIZE);
	return store_tree_add(day->yard.store, &tree, &day->why);
}

static enum status save_tree(struct day *day)
{
	struct tree *tree = any_tree(day);
	if (tree == NULL)
		return STATUS_ABSENT;
	words_into(day, tree->hazard, sizeof tree->hazard);
	tree->target_height_um = any_number(day);
	tree->is_private = roll(day, 0, 1) == 1;
	tree->planted = date_span_of(any_day(day));
	return store_tree_save(day->yard.store, tree, &day->why);
}

static enum status rename_tree(struct day *day)
{
	char label[LABEL_SIZE];
	const struct tree *tree = any_tree(day);
	name_into(day, label, sizeof label);
	return tree == NULL ? STATUS_ABSENT
			    : store_tree_rename(day->yard.store, tree->id, label, &day->why);
}

static enum status move_tree(struct day *day)
{
	const struct tree *tree = any_tree(day);
	const struct spot *spot = any_spot(day);
	if (tree == NULL || spot == NULL)
		return STATUS_ABSENT;
	return store_tree_move(day->yard.store, tree->id, roll(day, 0, 4) == 0 ? "" : spot->id,
		any_day(day), &day->why);
}

static enum status close_tree(struct day *day)
{
	const struct tree *tree = any_tree(day);
	const struct date_span gone = date_span_of(any_day(day));
	return tree == NULL
		       ? STATUS_ABSENT
		       : store_tree_close(day->yard.store, tree->id, &gone, words(day), &day->why);
}

static enum status add_identity(struct day *day)
{
	struct identity identity = {.is_cultivar = roll(day, 0, 1) == 1,
		.sure = (enum sure)roll(day, 0, 3),
		.day = date_span_of(any_day(day))};
	const struct tree *tree = any_tree(day);
	if (tree == NULL)
		return STATUS_ABSENT;
	memcpy(identity.tree_id, tree->id, ID_SIZE);
	words_into(day, identity.name, sizeof identity.name);
	words_into(day, identity.reason, sizeof identity.reason);
	return store_identity_add(day->yard.store, &identity, &day->why);
}

static void fill_parts(struct day *day, struct entry *entry)
{
	struct amount *amounts = arena_array(day->arena, 3, sizeof *amounts);
	struct detail *details = arena_array(day->arena, 2, sizeof *details);
	struct stem_measure *stems = arena_array(day->arena, 2, sizeof *stems);
	entry->amount_count = (int32_t)roll(day, 0, 3);
	entry->detail_count = (int32_t)roll(day, 0, 2);
	entry->stem_count = (int32_t)roll(day, 0, 2);
	for (int i = 0; i < 3; i++) {
		amounts[i] = yard_amount(
			i == 0 ? FIELD_WEIGHT : FIELD_COUNT, roll(day, 0, 99), 100, words(day));
		amounts[i].high.known = roll(day, 0, 1) == 1;
	}
	for (int i = 0; i < 2; i++) {
		details[i].field = i == 0 ? FIELD_REASON : FIELD_GRADE;
		words_into(day, details[i].text, sizeof details[i].text);
		stems[i] = (struct stem_measure){.stem = i + 1,
			.field = FIELD_GIRTH,
			.low_um = roll(day, 1, 50),
			.high_um = 100,
			.at_height_um = any_number(day)};
	}
	entry->amounts = amounts;
	entry->details = details;
	entry->stems = stems;
}

static enum status add_entry(struct day *day)
{
	struct entry entry = {.kind = (enum entry_kind)roll(day, 0, KIND_TOTAL - 1),
		.day = date_span_of(any_day(day)),
		.words = words(day),
		.note = words(day),
		.planned = roll(day, 0, 4) == 0};
	const struct tree *tree = any_tree(day);
	if (tree != NULL) {
		entry.subject.kind = SUBJECT_TREE;
		memcpy(entry.subject.id, tree->id, ID_SIZE);
	}
	fill_parts(day, &entry);
	return store_entry_add(day->yard.store, &entry, &day->why);
}

static enum status mend_entry(struct day *day)
{
	struct entry *entry = any_entry(day);
	if (entry == NULL)
		return STATUS_ABSENT;
	entry->words = words(day);
	entry->day = date_span_of(any_day(day));
	fill_parts(day, entry);
	return store_entry_save(day->yard.store, entry, &day->why);
}

static enum status strike_entry(struct day *day)
{
	const struct entry *entry = any_entry(day);
	return entry == NULL ? STATUS_ABSENT
			     : store_entry_strike(day->yard.store, entry->id, &day->why);
}

static enum status set_route(struct day *day)
{
	const char *ids[3];
	for (int i = 0; i < 3; i++) {
		const struct spot *spot = any_spot(day);
		if (spot == NULL)
			return STATUS_ABSENT;
		ids[i] = spot->id;
	}
	return store_route_set(day->yard.store, ids, (int32_t)roll(day, 0, 3), &day->why);
}

static enum status set_place(struct day *day)
{
	struct place place;
	check_ok(store_place_load(day->yard.store, &place, &day->why), &day->why);
	place.wet = (enum wet_season)roll(day, 0, 4);
	place.latitude_udeg = known_i32((int32_t)roll(day, -9, 9) * 1000000);
	place.last_frost = (struct month_day){(int8_t)roll(day, 1, 12), 15};
	return store_place_save(day->yard.store, &place, &day->why);
}

static enum status put_weather(struct day *day)
{
	bool was_same;
	const struct weather_day weather = {.day = any_day(day),
		.forecast = roll(day, 0, 1) == 1,
		.min_decic = known_i32((int32_t)roll(day, -99, 99)),
		.rain_um = any_number(day)};
	return store_weather_day_put(day->yard.store, &weather, &was_same, &day->why);
}

static enum status put_layout(struct day *day)
{
	struct layout layout = {.what = "picks", .columns = words(day)};
	(void)snprintf(layout.name, sizeof layout.name, "L%d", (int)roll(day, 1, 2));
	return store_layout_put(day->yard.store, &layout, &day->why);
}

static enum status add_small(struct day *day)
{
	struct product product = {.elements = words(day), .bag_mg = any_number(day)};
	struct container container = {.volume_ul = any_number(day)};
	struct answer answer = {.flag_key = "thin-due|x", .until = known_date(any_day(day))};
	struct own_window window = {
		.species = "fig", .window = "bloom", .from = {3, 1}, .to = {4, 1}};
	struct own_rate rate = {.species = "fig", .nitrogen_mg = roll(day, 0, 9), .per = "year"};
	struct choice choice = {.rule = "feed-due", .source = "a bulletin"};
	struct obstacle wall = {.name = "wall", .kind = "wall", .points = "0,0"};
	name_into(day, product.name, sizeof product.name);
	name_into(day, container.name, sizeof container.name);
	words_into(day, answer.reason, sizeof answer.reason);
	switch (roll(day, 0, 6)) {
	case 0:
		return store_product_add(day->yard.store, &product, &day->why);
	case 1:
		return store_container_add(day->yard.store, &container, &day->why);
	case 2:
		return store_answer_add(day->yard.store, &answer, &day->why);
	case 3:
		return store_own_window_add(day->yard.store, &window, &day->why);
	case 4:
		return store_own_rate_add(day->yard.store, &rate, &day->why);
	case 5:
		return store_choice_add(day->yard.store, &choice, &day->why);
	default:
		return store_obstacle_add(day->yard.store, &wall, &day->why);
	}
}

static enum status (*const acts[])(struct day *) = {add_area, add_spot, save_spot, add_tree,
	add_tree, add_graft, save_tree, rename_tree, move_tree, close_tree, add_identity, add_entry,
	add_entry, mend_entry, mend_entry, strike_entry, set_route, set_place, put_weather,
	put_layout, add_small};

/* One act of one to three parts; what the store refuses is taken back whole. */
static void do_act(struct day *day)
{
	enum status status = STATUS_OK;
	arena_reset(day->arena);
	yard_begin(&day->yard, "an act");
	for (int64_t parts = roll(day, 1, 3); parts > 0 && status == STATUS_OK; parts--)
		status = acts[roll(day, 0, (int64_t)(sizeof acts / sizeof acts[0]) - 1)](day);
	if (status == STATUS_OK) {
		yard_commit(&day->yard);
		return;
	}
	assert_true(status == STATUS_ABSENT || status == STATUS_CONFLICT || status == STATUS_RANGE);
	store_act_rollback(day->yard.store);
}

/* --- all that is visible, as text --- */

static void dump_rows(struct day *day, const char *sql, struct text_builder *out)
{
	sqlite3_stmt *statement = NULL;
	check_ok(sql_prepare(day->yard.store, sql, &statement, &day->why), &day->why);
	while (sqlite3_step(statement) == SQLITE_ROW) {
		for (int i = 0; i < sqlite3_column_count(statement); i++) {
			const char *text = (const char *)sqlite3_column_text(statement, i);
			if (strcmp(sqlite3_column_name(statement, i), "row") == 0)
				continue;
			text_add(out, text == NULL ? "(null)" : text);
			text_add(out, "|");
		}
		text_add(out, "\n");
	}
	sqlite3_finalize(statement);
}

static char *dump(struct day *day)
{
	arena_reset(day->arena);
	struct text_builder out = text_builder_in(day->arena);
	text_add(&out, "");
	for (const struct table_row_kind *table = store_tables(); table->name != NULL; table++) {
		char sql[200];
		if (!table->in_history)
			continue;
		text_add_format(&out, "-- %s\n", table->name);
		(void)snprintf(sql, sizeof sql, "SELECT * FROM %s WHERE struck = 0 ORDER BY id",
			table->name);
		dump_rows(day, sql, &out);
	}
	text_add(&out, "-- words\n");
	dump_rows(day, "SELECT table_name, row_id, body FROM word_index ORDER BY 1, 2", &out);
	return strdup(out.text);
}

static void undoing_and_redoing_a_day_passes_through_the_same_states(void **state)
{
	(void)state;
	struct day day = {.dice = dice_start()};
	char *states[ACTS + 1] = {NULL};
	int done = 0;
	char what[TEXT_SIZE];
	log_make(&day.yard);
	day.arena = arena_new();
	states[0] = dump(&day);
	while (done < ACTS) {
		const int64_t sets = log_count(&day.yard, "change_set");
		do_act(&day);
		if (log_count(&day.yard, "change_set") > sets)
			states[++done] = dump(&day);
	}
	for (int at = done - 1; at >= 0; at--) {
		check_ok(store_undo(day.yard.store, what, &day.why), &day.why);
		char *now = dump(&day);
		check_text(now, states[at], "undone");
		free(now);
	}
	log_reopen(&day.yard);
	for (int at = 1; at <= done; at++) {
		check_ok(store_redo(day.yard.store, what, &day.why), &day.why);
		char *now = dump(&day);
		check_text(now, states[at], "redone");
		free(now);
	}
	check_refused(store_redo(day.yard.store, what, &day.why), STATUS_END, &day.why, "");
	for (int at = 0; at <= done; at++)
		free(states[at]);
	arena_free(day.arena);
	log_free(&day.yard);
}

static void making_and_striking_are_both_undone(void **state)
{
	(void)state;
	struct log yard;
	struct arena *arena = arena_new();
	struct fault why;
	char what[TEXT_SIZE];
	log_make(&yard);
	yard_begin(&yard, "adds");
	const char *tree = yard_tree(&yard, arena, "A", "");
	const char *entry = yard_pick(&yard, arena, tree, "2024-05-12", 1000);
	yard_commit(&yard);
	yard_begin(&yard, "strikes");
	check_ok(store_entry_strike(yard.store, entry, &why), &why);
	yard_commit(&yard);
	for (int times = 0; times < 2; times++) {
		check_ok(store_undo(yard.store, what, &why), &why);
		check_text(what, "strikes", "first");
		check_ok(store_undo(yard.store, what, &why), &why);
		check_text(what, "adds", "second");
		check_int(log_one(&yard, "SELECT struck FROM entry"), 1, "struck");
		check_ok(store_redo(yard.store, what, &why), &why);
		check_int(log_one(&yard, "SELECT struck FROM entry"), 0, "made again");
		check_ok(store_redo(yard.store, what, &why), &why);
		check_int(log_one(&yard, "SELECT struck FROM entry"), 1, "struck again");
	}
	arena_free(arena);
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(making_and_striking_are_both_undone),
		cmocka_unit_test(undoing_and_redoing_a_day_passes_through_the_same_states),
	};
	return cmocka_run_group_tests_name("turning", tests, NULL, NULL) != 0;
}
