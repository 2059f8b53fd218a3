/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include "support/copies.h"

#include "store/clash.h"
#include "store/tables.h"

#include <stdlib.h>
#include <string.h>

enum { CLASH_LINES_MAX = 1000 };

void copies_fork(struct log *from, struct log *to, const char *today, uint64_t seed)
{
	size_t length = 0;
	*to = (struct log){.scratch = scratch_make(), .clock = clock_seeded(yard_day(today), seed)};
	(void)scratch_path(&to->scratch, "yard.bough", to->path);
	char *bytes = file_read(from->path, &length);
	file_write(to->path, bytes, length);
	free(bytes);
	log_reopen(to);
}

static enum status merge_in(struct log *into, const char *other, struct arena *arena,
	struct merge_account *account, struct fault *why)
{
	enum status status = store_act_begin(into->store, ACT_MERGE, "merge", why);
	if (status != STATUS_OK)
		return status;
	status = store_merge(into->store, other, false, arena, account, why);
	if (status == STATUS_OK)
		return store_act_commit(into->store, why);
	store_act_rollback(into->store);
	return status;
}

enum status copies_try(
	struct log *into, const char *other, struct merge_account *account, struct fault *why)
{
	struct arena *arena = arena_new();
	enum status status = merge_in(into, other, arena, account, why);
	arena_free(arena);
	return status;
}

struct merge_account copies_merge(struct log *into, const struct log *other, struct arena *arena)
{
	struct fault why = {0};
	struct merge_account account = {.acts = 0};
	check_ok(arena == NULL ? copies_try(into, other->path, &account, &why)
			       : merge_in(into, other->path, arena, &account, &why),
		&why);
	return account;
}

/* --- what is seen --- */

static int compare_values(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* The values that wait, in an order of their own: who typed one first is each file's guess where
 * several typed the same. */
static void print_field(
	FILE *out, const struct clash *clash, const struct clash_field *field, struct arena *arena)
{
	const char **values = arena_array(arena, (size_t)clash->side_count, sizeof *values);
	for (int32_t i = 0; i < clash->side_count; i++)
		values[i] = field->values[i] == NULL ? "NULL" : field->values[i];
	qsort(values, (size_t)clash->side_count, sizeof *values, compare_values);
	(void)fprintf(out, "%s %s.%s of %s, before %s:", clash->title, field->table, field->field,
		field->row_id, field->before == NULL ? "NULL" : field->before);
	for (int32_t i = 0; i < clash->side_count; i++)
		(void)fprintf(out, " [%s]", values[i]);
	(void)fputc('\n', out);
}

static void print_clashes(FILE *out, struct log *yard)
{
	struct fault why = {0};
	struct clash *list = NULL;
	int32_t count = 0;
	int32_t lines = 0;
	char *kept[CLASH_LINES_MAX];
	struct arena *arena = arena_new();
	check_ok(store_clash_list(yard->store, arena, &list, &count, &why), &why);
	for (int32_t i = 0; i < count; i++)
		for (int32_t k = 0; k < list[i].field_count; k++) {
			size_t length = 0;
			assert_in_range(lines, 0, CLASH_LINES_MAX - 1);
			FILE *line = open_memstream(&kept[lines++], &length);
			assert_non_null(line);
			print_field(line, &list[i], &list[i].fields[k], arena);
			(void)fclose(line);
		}
	qsort(kept, (size_t)lines, sizeof kept[0], compare_values);
	for (int32_t i = 0; i < lines; i++) {
		(void)fputs(kept[i], out);
		free(kept[i]);
	}
	arena_free(arena);
}

char *copies_seen(struct log *yard)
{
	char *text = NULL;
	size_t length = 0;
	FILE *out = open_memstream(&text, &length);
	assert_non_null(out);
	for (const struct table_row_kind *table = store_tables(); table->name != NULL; table++) {
		char sql[128];
		if (!table->in_history || strcmp(table->name, "clash") == 0)
			continue;
		(void)fprintf(out, "[%s]\n", table->name);
		(void)snprintf(sql, sizeof sql, "SELECT * FROM %s WHERE struck = 0 ORDER BY id",
			table->name);
		log_print_rows(out, yard, sql);
	}
	(void)fputs("[words]\n", out);
	log_print_rows(out, yard,
		"SELECT body, table_name, row_id FROM word_index ORDER BY table_name, row_id");
	(void)fputs("[clashes]\n", out);
	print_clashes(out, yard);
	(void)fclose(out);
	return text;
}

void copies_verify(struct log *yard, const char *label)
{
	struct fault why = {0};
	struct verify_line *lines = NULL;
	int32_t count = 0;
	int32_t faults = 0;
	struct arena *arena = arena_new();
	check_ok(store_verify(yard->store, arena, &lines, &count, &why), &why);
	for (int32_t i = 0; i < count; i++) {
		if (lines[i].is_fault)
			print_error("%s: %s\n", label, lines[i].text);
		faults += lines[i].is_fault;
	}
	check_int(faults, 0, label);
	arena_free(arena);
}
