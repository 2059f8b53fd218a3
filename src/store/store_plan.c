/* SPDX-License-Identifier: MIT */
/* When planned work comes again. */
#include "rows.h"
#include "statements.h"

enum { PLAN_ADD, PLAN_OF_ENTRY };

const struct statement plan_statements[] = {
	[PLAN_ADD] = {"plan.add", "INSERT INTO plan (id, made, entry_id, every_days, until) "
				  "VALUES (?1, ?2, ?3, ?4, ?5)"},
	[PLAN_OF_ENTRY] = {"plan.of_entry",
		"SELECT id, every_days, until FROM plan WHERE entry_id = ?1 AND struck = 0 "
		"ORDER BY id DESC LIMIT 1"},
	{NULL, NULL},
};

struct plan_row {
	char id[ID_SIZE];
	struct plan plan;
};

static void read_plan(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct plan_row *row = out;
	column_copy(statement, 0, row->id, sizeof row->id);
	row->plan.every_days = column_maybe_i32(statement, 1);
	row->plan.until = column_maybe_date(statement, 2);
}

static const struct row_reader plan_reader = {read_plan, sizeof(struct plan_row)};

static enum status plan_load(
	struct store *store, const char *entry_id, struct plan_row *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(store, &plan_statements[PLAN_OF_ENTRY], entry_id, &statement, why);
	return status == STATUS_OK ? rows_one(store, statement, &plan_reader, NULL, out, why)
				   : status;
}

enum status store_plan_find(
	struct store *store, const char *entry_id, struct plan *out, struct fault *why)
{
	struct plan_row row = {.id = ""};
	enum status status = plan_load(store, entry_id, &row, why);
	if (status == STATUS_OK)
		*out = row.plan;
	return status;
}

enum status store_plan_put(
	struct store *store, const char *entry_id, const struct plan *plan, struct fault *why)
{
	struct plan_row row = {.id = ""};
	struct row_fields fields = {.table = "plan", .insert = &plan_statements[PLAN_ADD]};
	enum status status = plan_load(store, entry_id, &row, why);
	bool is_there = status == STATUS_OK;
	if (status == STATUS_ABSENT)
		status = row_must_stand(store, "entry", entry_id, why);
	if (status != STATUS_OK)
		return status;
	if (!plan->every_days.known && !plan->until.known)
		return is_there ? row_take_back(store, "plan", row.id, why) : STATUS_OK;
	fields_add(&fields, "entry_id", value_text(entry_id));
	fields_add(&fields, "every_days", value_maybe_i32(plan->every_days));
	fields_add(&fields, "until", value_maybe_date(plan->until));
	return is_there ? row_save(store, &fields, row.id, why)
			: row_insert(store, &fields, row.id, why);
}
