/* SPDX-License-Identifier: MIT */
/* Three copies of a log, with clocks that are years apart, edited, merged and taken back in any
 * order: whatever was done, merging is the same from either side, in any order, once or twice;
 * nothing that was typed is missing from it; and undo takes it back exactly. Slow because each
 * history is made act by act in three files and merged a dozen times. LOGS= asks for half as many
 * histories as it says (1,000 of 2,000), SEED= for others. */
#include "support/test.h"

#include "support/copies.h"

#include "store/clash.h"
#include "store/sight.h"
#include "store/tables.h"

#include <stdlib.h>
#include <string.h>

enum { HISTORIES_USUAL = SANITIZED ? 50 : 200, COPIES = 3, ID_LIST_MAX = 400 };

struct history {
	struct dice *dice;
	struct log copies[COPIES];
	struct arena *arena;
	int32_t number;
	int32_t acts, merges, clashes, kept, undone; /* that took place, counted */
};

/* --- one act of some kind; what is refused is no act --- */

static int64_t roll(struct history *history, int64_t high)
{
	return dice_between(history->dice, 0, high);
}

/* The id of a random row that stands; false when there is none. */
static bool some_row(
	struct history *history, struct log *yard, const char *table, char out[ID_SIZE])
{
	char sql[256];
	sqlite3_stmt *statement = NULL;
	(void)snprintf(sql, sizeof sql,
		"SELECT id FROM %s WHERE struck = 0 ORDER BY id LIMIT 1 OFFSET ?1 %% max(1, "
		"(SELECT count(*) FROM %s WHERE struck = 0))",
		table, table);
	check_ok(sql_prepare(yard->store, sql, &statement, NULL), NULL);
	bind_i64(statement, 1, roll(history, 59));
	bool found = sqlite3_step(statement) == SQLITE_ROW;
	if (found)
		column_copy(statement, 0, out, ID_SIZE);
	sqlite3_finalize(statement);
	return found;
}

static const char *some_name(struct history *history)
{
	static const char *const names[] = {"wire", "by the gate", "M9", "M26", "the old one",
		"\xC3\x89pine", "a; \"b\"", "x", "low limb", "north wall"};
	return names[roll(history, 9)];
}

static enum status act_tree_add(struct history *history, struct log *yard, struct fault *why)
{
	struct tree tree = {.id = ""};
	(void)snprintf(tree.label, sizeof tree.label, "T%d", (int)roll(history, 4));
	return store_tree_add(yard->store, &tree, why);
}

static enum status act_tree_save(struct history *history, struct log *yard, struct fault *why)
{
	static const char *const days[] = {"2015", "2015~", "2016-03", "199X", ""};
	char id[ID_SIZE];
	struct tree tree;
	if (!some_row(history, yard, "tree", id))
		return STATUS_ABSENT;
	enum status status = store_tree_load(yard->store, id, &tree, why);
	if (roll(history, 1) == 0)
		(void)snprintf(tree.hazard, sizeof tree.hazard, "%s", some_name(history));
	if (roll(history, 1) == 0)
		(void)snprintf(tree.rootstock, sizeof tree.rootstock, "%s", some_name(history));
	if (roll(history, 2) == 0)
		tree.planted = yard_span(days[roll(history, 4)]);
	return status == STATUS_OK ? store_tree_save(yard->store, &tree, why) : status;
}

static enum status act_tree_rename(struct history *history, struct log *yard, struct fault *why)
{
	char id[ID_SIZE];
	char label[LABEL_SIZE];
	(void)snprintf(label, sizeof label, "T%d", (int)roll(history, 4));
	return some_row(history, yard, "tree", id) ? store_tree_rename(yard->store, id, label, why)
						   : STATUS_ABSENT;
}

static enum status act_tree_close(struct history *history, struct log *yard, struct fault *why)
{
	char id[ID_SIZE];
	struct date_span day = yard_span(roll(history, 1) == 0 ? "2024" : "2025-02");
	return some_row(history, yard, "tree", id)
		       ? store_tree_close(yard->store, id, &day, some_name(history), why)
		       : STATUS_ABSENT;
}

static void fill_pick(struct history *history, struct entry *entry, struct amount *amount)
{
	static const char *const days[] = {"2024-06-01", "2024-06-02", "2025-07-01", "2025"};
	char typed[24];
	int64_t kilos = roll(history, 3) + 1;
	(void)snprintf(typed, sizeof typed, "%d kg", (int)kilos);
	*amount = yard_amount(FIELD_WEIGHT, kilos * 1000000, kilos * 1000000, typed);
	entry->day = yard_span(days[roll(history, 3)]);
	entry->words = some_name(history);
	entry->note = some_name(history);
	entry->amounts = amount;
	entry->amount_count = (int32_t)roll(history, 1);
}

static enum status act_pick(struct history *history, struct log *yard, struct fault *why)
{
	struct amount amount;
	struct entry entry = {.kind = KIND_PICK, .subject = {.kind = SUBJECT_TREE}};
	/* few entries, so that two copies often change the same one */
	if (log_count(yard, "entry") > 5 || !some_row(history, yard, "tree", entry.subject.id))
		return STATUS_ABSENT;
	fill_pick(history, &entry, &amount);
	return store_entry_add(yard->store, &entry, why);
}

static enum status act_mend(struct history *history, struct log *yard, struct fault *why)
{
	char id[ID_SIZE];
	struct amount amount;
	struct entry entry;
	if (!some_row(history, yard, "entry", id))
		return STATUS_ABSENT;
	enum status status = store_entry_load(yard->store, id, history->arena, &entry, why);
	fill_pick(history, &entry, &amount);
	return status == STATUS_OK ? store_entry_save(yard->store, &entry, why) : status;
}

static enum status act_strike(struct history *history, struct log *yard, struct fault *why)
{
	char id[ID_SIZE];
	return some_row(history, yard, "entry", id) ? store_entry_strike(yard->store, id, why)
						    : STATUS_ABSENT;
}

static enum status act_area(struct history *history, struct log *yard, struct fault *why)
{
	struct area area = {.id = ""};
	(void)snprintf(area.name, sizeof area.name, "%s", some_name(history));
	if (roll(history, 1) == 0 && some_row(history, yard, "area", area.id))
		return store_area_save(yard->store, &area, why);
	area.id[0] = '\0';
	return store_area_add(yard->store, &area, why);
}

static enum status act_identify(struct history *history, struct log *yard, struct fault *why)
{
	struct identity identity = {.sure = SURE_SUSPECTED};
	(void)snprintf(identity.name, sizeof identity.name, "%s", some_name(history));
	return some_row(history, yard, "tree", identity.tree_id)
		       ? store_identity_add(yard->store, &identity, why)
		       : STATUS_ABSENT;
}

static enum status act_move(struct history *history, struct log *yard, struct fault *why)
{
	char id[ID_SIZE];
	struct spot spot = {.id = ""};
	(void)snprintf(spot.name, sizeof spot.name, "S%d", (int)roll(history, 5));
	if (!some_row(history, yard, "tree", id))
		return STATUS_ABSENT;
	if (roll(history, 1) == 0 || !some_row(history, yard, "spot", spot.id)) {
		spot.id[0] = '\0';
		enum status status = store_spot_add(yard->store, &spot, why);
		if (status != STATUS_OK)
			return status;
	}
	return store_tree_move(yard->store, id, spot.id, yard_day("2025-01-01"), why);
}

static enum status act_settle(struct history *history, struct log *yard, struct fault *why)
{
	struct clash *list = NULL;
	int32_t count = 0;
	enum status status = store_clash_list(yard->store, history->arena, &list, &count, why);
	if (status != STATUS_OK || count == 0)
		return STATUS_ABSENT;
	const struct clash *clash = &list[roll(history, count - 1)];
	return store_clash_keep(
		yard->store, clash, (int32_t)roll(history, clash->side_count) - 1, why);
}

/* False: it was refused. */
static bool try_act(struct history *history, struct log *yard)
{
	static enum status (*const acts[])(struct history * history, struct log * yard,
		struct fault * why) = {act_tree_add, act_tree_save, act_tree_save, act_tree_save,
		act_tree_rename, act_tree_close, act_pick, act_mend, act_mend, act_mend, act_strike,
		act_area, act_identify, act_move, act_settle};
	struct fault why = {0};
	char what[TEXT_SIZE];
	int64_t which = roll(history, 17);
	if (which > 14) {
		enum status status = which > 16 ? store_redo(yard->store, what, &why)
						: store_undo(yard->store, what, &why);
		history->acts += status == STATUS_OK;
		history->undone += status == STATUS_OK && strcmp(what, "merge") == 0;
		return status == STATUS_OK;
	}
	check_ok(store_act_begin(yard->store, ACT_WORK, "act", &why), &why);
	bool is_done = acts[which](history, yard, &why) == STATUS_OK;
	if (is_done)
		check_ok(store_act_commit(yard->store, &why), &why);
	else
		store_act_rollback(yard->store);
	history->acts += is_done;
	return is_done;
}

static void do_act(struct history *history, struct log *yard)
{
	for (int tries = 0; tries < 5; tries++)
		if (try_act(history, yard))
			return;
}

/* --- the checks --- */

static char *merged(const struct history *history, struct log *one, struct log *other,
	struct log *third, struct log *out)
{
	copies_fork(one, out, "2033-03-03", (uint64_t)history->number);
	(void)copies_merge(out, other, NULL);
	if (third != NULL)
		(void)copies_merge(out, third, NULL);
	return copies_seen(out);
}

static void check_same(const char *got, const char *want, const char *label)
{
	if (strcmp(got, want) == 0)
		return;
	size_t at = 0;
	while (got[at] == want[at])
		at++;
	while (at > 0 && got[at - 1] != '\n')
		at--;
	print_error("%s:\n got %.400s\nwant %.400s\n", label, got + at, want + at);
	fail_msg("%s; %s", label, dice_remark());
}

static void either_direction(struct history *history)
{
	struct log one, other;
	struct log *copies = history->copies;
	char *a = merged(history, &copies[0], &copies[1], NULL, &one);
	char *b = merged(history, &copies[1], &copies[0], NULL, &other);
	check_same(b, a, "either direction");
	copies_verify(&one, "merged");
	/* now both hold all: neither has anything for the other */
	check_int(copies_merge(&one, &other, NULL).acts, 0, "acts from the other");
	check_int(copies_merge(&other, &one, NULL).acts, 0, "acts from the one");
	check_int(copies_merge(&one, &copies[1], NULL).acts, 0, "acts when merged twice");
	free(a);
	a = copies_seen(&one);
	check_same(a, b, "merged twice");
	free(a);
	free(b);
	log_free(&one);
	log_free(&other);
}

static void any_order(struct history *history)
{
	struct log *copies = history->copies;
	struct log first, second, third, pair;
	char *a = merged(history, &copies[0], &copies[1], &copies[2], &first);
	char *b = merged(history, &copies[2], &copies[0], &copies[1], &second);
	char *c = merged(history, &copies[1], &copies[2], NULL, &pair);
	char *d = merged(history, &copies[0], &pair, NULL, &third);
	check_same(b, a, "(C and A) and B, (A and B) and C");
	check_same(d, a, "A and (B and C), (A and B) and C");
	copies_verify(&third, "all three");
	free(a);
	free(b);
	free(c);
	free(d);
	log_free(&first);
	log_free(&second);
	log_free(&third);
	log_free(&pair);
}

static int64_t one_of(struct log *yard, const char *sql, const char *id)
{
	sqlite3_stmt *statement = NULL;
	check_ok(sql_prepare(yard->store, sql, &statement, NULL), NULL);
	bind_text(statement, 1, id);
	int64_t value =
		sqlite3_step(statement) == SQLITE_ROW ? sqlite3_column_int64(statement, 0) : -1;
	sqlite3_finalize(statement);
	return value;
}

/* Rows of a table that stand here, stand in the whole too, unless the other copy struck them. */
static void check_rows_stand(
	struct log *here, struct log *other, struct log *whole, const char *table)
{
	char all[128];
	char struck[128];
	sqlite3_stmt *rows = NULL;
	(void)snprintf(all, sizeof all, "SELECT id FROM %s WHERE struck = 0", table);
	(void)snprintf(struck, sizeof struck, "SELECT struck FROM %s WHERE id = ?1", table);
	check_ok(sql_prepare(here->store, all, &rows, NULL), NULL);
	while (sqlite3_step(rows) == SQLITE_ROW) {
		const char *id = (const char *)sqlite3_column_text(rows, 0);
		int64_t now = one_of(whole, struck, id);
		assert_true(now >= 0); /* it is there */
		if (now == 1)
			check_int(one_of(other, struck, id), 1, "the other copy struck it");
	}
	sqlite3_finalize(rows);
}

/* Every value ever typed here is in the history of the whole. */
static void check_changes_there(struct log *here, struct log *whole)
{
	sqlite3_stmt *rows = NULL;
	struct sight sight = {.store = here->store};
	check_ok(sql_prepare(here->store,
			 "SELECT c.id, c.set_id FROM change c WHERE c.table_name <> 'clash'", &rows,
			 NULL),
		NULL);
	while (sqlite3_step(rows) == SQLITE_ROW) {
		bool counts = false;
		char set_id[ID_SIZE];
		column_copy(rows, 1, set_id, sizeof set_id);
		check_ok(set_counts(&sight, set_id, &counts, NULL), NULL);
		if (counts)
			check_int(one_of(whole, "SELECT count(*) FROM change WHERE id = ?1",
					  (const char *)sqlite3_column_text(rows, 0)),
				1, "a change");
	}
	sqlite3_finalize(rows);
}

static void nothing_is_missing(struct history *history)
{
	struct log *copies = history->copies;
	struct log whole;
	free(merged(history, &copies[0], &copies[1], NULL, &whole));
	for (const struct table_row_kind *table = store_tables(); table->name != NULL; table++) {
		if (!table->in_history || strcmp(table->name, "clash") == 0)
			continue;
		check_rows_stand(&copies[0], &copies[1], &whole, table->name);
		check_rows_stand(&copies[1], &copies[0], &whole, table->name);
	}
	check_changes_there(&copies[0], &whole);
	check_changes_there(&copies[1], &whole);
	log_free(&whole);
}

static void undo_gives_back(struct history *history)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	struct log *copies = history->copies;
	struct log whole;
	char *before = copies_seen(&copies[0]);
	char *after = merged(history, &copies[0], &copies[1], NULL, &whole);
	if (log_one(&whole, "SELECT count(*) FROM change_set") !=
		log_one(&copies[0], "SELECT count(*) FROM change_set")) {
		check_ok(store_undo(whole.store, what, &why), &why);
		char *undone = copies_seen(&whole);
		check_same(undone, before, "undone");
		copies_verify(&whole, "undone");
		check_ok(store_redo(whole.store, what, &why), &why);
		char *again = copies_seen(&whole);
		check_same(again, after, "done again");
		free(undone);
		free(again);
	}
	free(before);
	free(after);
	log_free(&whole);
}

/* --- a history --- */

static void begin(struct history *history)
{
	char day[DATE_SIZE];
	log_make(&history->copies[0]);
	for (int i = 0; i < 8; i++)
		do_act(history, &history->copies[0]);
	for (int i = 1; i < COPIES; i++) {
		(void)snprintf(day, sizeof day, "%d-01-%02d",
			(int)dice_between(history->dice, 1990, 2045),
			(int)dice_between(history->dice, 1, 28));
		copies_fork(
			&history->copies[0], &history->copies[i], day, dice_roll(history->dice));
	}
}

static void live_on(struct history *history)
{
	int64_t steps = dice_between(history->dice, 4, 14);
	for (int64_t i = 0; i < steps; i++) {
		int64_t who = roll(history, COPIES - 1);
		int64_t whom = (who + 1 + roll(history, COPIES - 2)) % COPIES;
		if (roll(history, 3) == 0) {
			struct merge_account account =
				copies_merge(&history->copies[who], &history->copies[whom], NULL);
			history->merges += account.acts > 0;
			history->kept += account.counts[MERGE_NOTE_KEPT];
		}
		for (int64_t k = roll(history, 3); k >= 0; k--)
			do_act(history, &history->copies[who]);
		arena_reset(history->arena);
	}
}

static void one_history(struct history *history)
{
	int32_t clashes = 0;
	struct fault why = {0};
	begin(history);
	live_on(history);
	for (int i = 0; i < COPIES; i++)
		copies_verify(&history->copies[i], "a copy");
	either_direction(history);
	any_order(history);
	nothing_is_missing(history);
	undo_gives_back(history);
	struct log whole;
	free(merged(
		history, &history->copies[0], &history->copies[1], &history->copies[2], &whole));
	check_ok(store_clash_count(whole.store, &clashes, &why), &why);
	history->clashes += clashes;
	log_free(&whole);
	for (int i = 0; i < COPIES; i++)
		log_free(&history->copies[i]);
}

static void merging_is_a_union_whatever_was_done(void **state)
{
	(void)state;
	struct dice dice = dice_start();
	struct history history = {.dice = &dice, .arena = arena_new()};
	const char *asked = getenv("LOGS");
	int32_t count = asked == NULL ? HISTORIES_USUAL : (int32_t)strtol(asked, NULL, 10) / 2;
	for (history.number = 1; history.number <= count; history.number++)
		one_history(&history);
	print_message("%d histories: %d acts, %d merges, %d of them turned, %d clashes open at "
		      "their ends, %d kept\n",
		(int)count, (int)history.acts, (int)history.merges, (int)history.undone,
		(int)history.clashes, (int)history.kept);
	assert_true(history.clashes > count / 4);
	assert_true(history.merges > count);
	assert_true(history.undone > count / 8);
	assert_true(history.kept > count / 20);
	arena_free(history.arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(merging_is_a_union_whatever_was_done),
	};
	return cmocka_run_group_tests_name("merge histories", tests, NULL, NULL);
}
