/* SPDX-License-Identifier: MIT */
/* Another copy of the log that is not what it says, merged into a sound one: told or refused in one
 * sentence, nothing half done, and what went in can be undone, done again and handed on.
 *
 * The first byte says what the rest is. Even: bytes over the other file, four each: where (three of
 * them), and what stands there. Odd: values over those of its tables, four each: which column and
 * row, and of which column and row what is put there; so the file is sound, not its history. */
#include "support/replay.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "store/clash.h"
#include "support/pair.h"
#include "support/test.h"

enum { CHANGE_SIZE = 4, CHANGES_MAX = 40 };

struct file {
	char *bytes;
	size_t length;
};

static struct sound {
	struct pair pair;
	struct file ours;
	struct file theirs;
	char *copy;
} sound;

/* clang-format off */
static const struct column {
	const char *table;
	const char *name;
} columns[] = {
	{"change_set", "id"}, {"change_set", "kind"}, {"change_set", "undoes"}, {"change_set", "row"},
	{"change", "id"}, {"change", "set_id"}, {"change", "table_name"}, {"change", "row_id"},
	{"change", "field"}, {"change", "old"}, {"change", "new"}, {"change", "prev"}, {"change", "row"},
	{"meta", "key"}, {"meta", "value"}, {"tree", "id"}, {"tree", "made"}, {"tree", "struck"},
	{"tree", "label"}, {"tree", "planted"}, {"tree", "host_id"}, {"tree", "row"}, {"entry", "id"},
	{"entry", "made"}, {"entry", "struck"}, {"entry", "subject_id"}, {"entry", "subject_kind"},
	{"entry", "day_low"}, {"amount", "made"}, {"amount", "entry_id"}, {"amount", "struck"},
	{"clash", "row_id"}, {"clash", "field"}, {"clash", "made"}, {"area", "made"}, {"area", "name"},
};
/* clang-format on */

static void clear(void)
{
	free(sound.ours.bytes);
	free(sound.theirs.bytes);
	free(sound.copy);
	pair_free(&sound.pair);
}

/* The other copy has all that a copy may have: work upon a merge, undone with it, and a clash. */
static void make(void)
{
	struct pair *pair = &sound.pair;
	pair_make(pair);
	pair_part(pair);
	pair_strike(&pair->one, pair->pick);
	(void)log_area_act(&pair->one, "by the gate");
	(void)copies_merge(&pair->two, &pair->one, NULL);
	pair_set(&pair->two, "tree", pair->tree, "rootstock", "M9");
	pair_undo(&pair->two);
	pair_undo(&pair->two);
	yard_begin(&pair->two, "B1");
	(void)yard_tree(&pair->two, pair->arena, "B1", "");
	yard_commit(&pair->two);
	pair_set(&pair->two, "entry", pair->pick, "note", "edited");
	(void)copies_merge(&pair->one, &pair->two, NULL);
	pair_set(&pair->one, "tree", pair->tree, "hazard", "wire");
	pair_set(&pair->two, "tree", pair->tree, "hazard", "limb");
	(void)copies_merge(&pair->two, &pair->one, NULL);
	pair_undo(&pair->one);
	pair_undo(&pair->one);
	log_close(&pair->one);
	log_close(&pair->two);
	sound.ours.bytes = file_read(pair->one.path, &sound.ours.length);
	sound.theirs.bytes = file_read(pair->two.path, &sound.theirs.length);
	sound.copy = malloc(sound.theirs.length);
	assert(sound.copy != NULL);
	(void)atexit(clear);
}

static void write_over_bytes(const uint8_t *bytes, size_t length)
{
	memcpy(sound.copy, sound.theirs.bytes, sound.theirs.length);
	for (size_t at = 0; at + CHANGE_SIZE <= length; at += CHANGE_SIZE) {
		const size_t place =
			bytes[at] | (size_t)bytes[at + 1] << 8 | (size_t)(bytes[at + 2]) << 16;
		sound.copy[place % sound.theirs.length] = (char)bytes[at + 3];
	}
	file_write(sound.pair.two.path, sound.copy, sound.theirs.length);
}

static void write_over_value(struct store *store, const uint8_t *bytes)
{
	char sql[400];
	const size_t count = sizeof columns / sizeof columns[0];
	const struct column *to = &columns[bytes[0] % count];
	const struct column *from = &columns[bytes[2] % count];
	(void)snprintf(sql, sizeof sql,
		"UPDATE %s SET %s = (SELECT %s FROM %s LIMIT 1 OFFSET %d %% (SELECT count(*) + 1 "
		"FROM %s)) WHERE rowid = (SELECT rowid FROM %s LIMIT 1 OFFSET %d %% "
		"(SELECT max(1, count(*)) FROM %s))",
		to->table, to->name, from->name, from->table, bytes[3], from->table, to->table,
		bytes[1], to->table);
	/* what no table takes stays as it was */
	(void)sqlite3_exec(store->database, sql, NULL, NULL, NULL);
}

static void write_over_values(const uint8_t *bytes, size_t length)
{
	struct log *theirs = &sound.pair.two;
	file_write(theirs->path, sound.theirs.bytes, sound.theirs.length);
	log_reopen(theirs);
	(void)sqlite3_exec(theirs->store->database,
		"PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON; BEGIN", NULL,
		NULL, NULL);
	for (size_t at = 0; at + CHANGE_SIZE <= length && at < CHANGE_SIZE * CHANGES_MAX;
		at += CHANGE_SIZE)
		write_over_value(theirs->store, bytes + at);
	(void)sqlite3_exec(theirs->store->database, "COMMIT", NULL, NULL, NULL);
	log_close(theirs);
}

static bool is_told(enum status status, const struct fault *why)
{
	assert(status == STATUS_OK || status == STATUS_END ||
		(why->text[0] != '\0' && strchr(why->text, '\n') == NULL));
	return status == STATUS_OK;
}

/* Everything that reads a merge back. */
static void use(struct log *yard)
{
	struct arena *arena = arena_new();
	struct fault why = {.status = STATUS_OK};
	struct verify_line *lines = NULL;
	struct clash *clashes = NULL;
	char text[TEXT_SIZE];
	int32_t count = 0;
	(void)is_told(store_clash_list(yard->store, arena, &clashes, &count, &why), &why);
	(void)is_told(store_verify(yard->store, arena, &lines, &count, &why), &why);
	if (is_told(store_undo(yard->store, text, &why), &why))
		(void)is_told(store_redo(yard->store, text, &why), &why);
	assert(!store_in_act(yard->store));
	arena_free(arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	struct fault why = {.status = STATUS_OK};
	struct merge_account account = {.acts = 0};
	struct log *ours = &sound.pair.one;
	if (sound.copy == NULL)
		make();
	if (length < 1)
		return 0;
	if (bytes[0] % 2 == 0)
		write_over_bytes(bytes + 1, length - 1);
	else
		write_over_values(bytes + 1, length - 1);
	file_write(ours->path, sound.ours.bytes, sound.ours.length);
	log_reopen(ours);
	const int64_t changes = log_count(ours, "change");
	const enum status status = copies_try(ours, sound.pair.two.path, &account, &why);
	if (is_told(status, &why))
		use(ours);
	else
		assert(log_count(ours, "change") == changes);
	log_close(ours);
	return 0;
}

int main(void)
{
	return replay_corpus("merge", LLVMFuzzerTestOneInput);
}
