/* SPDX-License-Identifier: MIT */
/* The grower's own buckets and trays, and what they weigh full. */
#include "rows.h"
#include "statements.h"

enum { CONTAINER_ADD, CONTAINER_LIST, WEIGHT_ADD, WEIGHT_LIST };

const struct statement container_statements[] = {
	[CONTAINER_ADD] = {"container.add",
		"INSERT INTO container (id, made, name, volume_ul, name_folded) "
		"VALUES (?1, ?2, ?3, ?4, ?5)"},
	[CONTAINER_LIST] = {"container.list", "SELECT id, name, volume_ul FROM container WHERE "
					      "struck = 0 ORDER BY name_folded, id"},
	[WEIGHT_ADD] = {"container_weight.add", "INSERT INTO container_weight (id, made, "
						"container_id, species, weight_mg, from_day) "
						"VALUES (?1, ?2, ?3, ?4, ?5, ?6)"},
	[WEIGHT_LIST] = {"container_weight.list",
		"SELECT w.id, w.container_id, w.species, w.weight_mg, w.from_day "
		"FROM container_weight w JOIN container c ON c.id = w.container_id AND c.struck = "
		"0 "
		"WHERE w.struck = 0 ORDER BY c.name_folded, c.id, w.species, w.from_day, w.id"},
	{NULL, NULL},
};

enum status store_container_add(struct store *store, struct container *container, struct fault *why)
{
	char folded[FOLDED_SIZE];
	enum status status =
		text_within(container->name, NAME_SIZE - 1, true, "container's name", why);
	if (status == STATUS_OK)
		status = name_is_free(store, "container", container->name, container->id, why);
	if (status != STATUS_OK)
		return status;
	struct row_fields fields = {
		.table = "container", .insert = &container_statements[CONTAINER_ADD]};
	fields_add(&fields, "name", value_text(container->name));
	fields_add(&fields, "volume_ul", value_maybe_i64(container->volume_ul));
	fields_add(&fields, "name_folded", value_text(name_fold(container->name, folded)));
	return row_insert(store, &fields, container->id, why);
}

enum status store_container_weight_add(
	struct store *store, struct container_weight *weight, struct fault *why)
{
	enum status status = row_must_stand(store, "container", weight->container_id, why);
	if (status != STATUS_OK)
		return status;
	struct row_fields fields = {
		.table = "container_weight", .insert = &container_statements[WEIGHT_ADD]};
	fields_add(&fields, "container_id", value_text(weight->container_id));
	fields_add(&fields, "species", value_text(weight->species));
	fields_add(&fields, "weight_mg", value_integer(weight->weight_mg));
	fields_add(&fields, "from_day", value_maybe_date(weight->from));
	return row_insert(store, &fields, weight->id, why);
}

static void read_container(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct container *container = out;
	column_copy(statement, 0, container->id, sizeof container->id);
	column_copy(statement, 1, container->name, sizeof container->name);
	container->volume_ul = column_maybe_i64(statement, 2);
}

static void read_weight(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct container_weight *weight = out;
	column_copy(statement, 0, weight->id, sizeof weight->id);
	column_copy(statement, 1, weight->container_id, sizeof weight->container_id);
	column_copy(statement, 2, weight->species, sizeof weight->species);
	weight->weight_mg = sqlite3_column_int64(statement, 3);
	weight->from = column_maybe_date(statement, 4);
}

static const struct row_reader container_reader = {read_container, sizeof(struct container)};
static const struct row_reader weight_reader = {read_weight, sizeof(struct container_weight)};

enum status store_container_list(struct store *store, struct arena *arena,
	struct container **containers, int32_t *count, struct container_weight **weights,
	int32_t *weight_count, struct fault *why)
{
	void *items = NULL;
	void *weighed = NULL;
	enum status status = rows_list_all(store, &container_statements[CONTAINER_LIST],
		&container_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		status = rows_list_all(store, &container_statements[WEIGHT_LIST], &weight_reader,
			arena, &weighed, weight_count, why);
	if (status != STATUS_OK)
		return status;
	*containers = items;
	*weights = weighed;
	return STATUS_OK;
}
