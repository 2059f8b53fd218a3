/* SPDX-License-Identifier: MIT */
#include "support/pair.h"

#include "store/clash.h"

#include "support/test.h"

#include <stdlib.h>
#include <string.h>

void pair_make(struct pair *pair)
{
	*pair = (struct pair){.arena = arena_new()};
	log_make(&pair->one);
	yard_begin(&pair->one, "A1");
	pair->tree = yard_tree(&pair->one, pair->arena, "A1", "");
	pair->pick = yard_pick(&pair->one, pair->arena, pair->tree, "2025-06-01", 2000000);
	yard_commit(&pair->one);
	copies_fork(&pair->one, &pair->two, "2019-01-02", 99);
}

void pair_free(struct pair *pair)
{
	log_free(&pair->one);
	log_free(&pair->two);
	arena_free(pair->arena);
}

void pair_set(
	struct log *yard, const char *table, const char *id, const char *field, const char *text)
{
	struct fault why = {0};
	const struct row_change change = {.table = table, .id = id, .field = field};
	check_ok(log_try_set(yard, &change, text, &why), &why);
}

static char *pair_text(struct log *yard, const char *table, const char *id, const char *field)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	const char *text = NULL;
	const struct row_change change = {.table = table, .id = id, .field = field};
	check_ok(row_read(yard->store, &change, arena, &text, &why), &why);
	char *copy = strdup(text == NULL ? "NULL" : text);
	arena_free(arena);
	return copy;
}

void pair_check(
	struct log *yard, const char *table, const char *id, const char *field, const char *want)
{
	char *now = pair_text(yard, table, id, field);
	check_text(now, want, field);
	free(now);
}

void pair_strike(struct log *yard, const char *entry)
{
	struct fault why = {0};
	yard_begin(yard, "strike");
	check_ok(store_entry_strike(yard->store, entry, &why), &why);
	yard_commit(yard);
}

void pair_undo(struct log *yard)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_ok(store_undo(yard->store, what, &why), &why);
}

void pair_redo(struct log *yard)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_ok(store_redo(yard->store, what, &why), &why);
}

int32_t pair_clash_count(struct log *yard)
{
	struct fault why = {0};
	int32_t count = 0;
	check_ok(store_clash_count(yard->store, &count, &why), &why);
	return count;
}

void pair_keep(struct log *yard, int32_t side)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct clash *list = NULL;
	int32_t count = 0;
	check_ok(store_clash_list(yard->store, arena, &list, &count, &why), &why);
	check_int(count, 1, "clashes");
	yard_begin(yard, "keep");
	check_ok(store_clash_keep(yard->store, &list[0], side, &why), &why);
	yard_commit(yard);
	arena_free(arena);
}

int32_t pair_side(struct log *yard, const char *value)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct clash *list = NULL;
	int32_t count = 0;
	int32_t side = -1;
	check_ok(store_clash_list(yard->store, arena, &list, &count, &why), &why);
	for (int32_t i = 0; count == 1 && i < list[0].side_count; i++)
		if (strcmp(list[0].fields[0].values[i], value) == 0)
			side = i;
	arena_free(arena);
	assert_true(side >= 0);
	return side;
}

void pair_cross(struct pair *pair)
{
	struct log was;
	copies_fork(&pair->one, &was, "2026-01-01", 5);
	(void)copies_merge(&pair->one, &pair->two, NULL);
	(void)copies_merge(&pair->two, &was, NULL);
	char *one = copies_seen(&pair->one);
	char *two = copies_seen(&pair->two);
	check_text(two, one, "either direction");
	copies_verify(&pair->one, "one");
	copies_verify(&pair->two, "two");
	free(one);
	free(two);
	log_free(&was);
}

void pair_part(struct pair *pair)
{
	pair_set(&pair->one, "tree", pair->tree, "note", "one");
	pair_set(&pair->two, "tree", pair->tree, "note", "two");
}
