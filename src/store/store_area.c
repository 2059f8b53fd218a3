/* SPDX-License-Identifier: MIT */
/* Areas, what stands in the way, and the walking order of spots. */
#include "rows.h"
#include "statements.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { AREA_ADD, AREA_FIND, AREA_LIST, OBSTACLE_ADD, OBSTACLE_LIST, ROUTE_ADD, ROUTE_LIST };

const struct statement area_statements[] = {
	[AREA_ADD] = {"area.add",
		"INSERT INTO area (id, made, name, name_folded) VALUES (?1, ?2, ?3, ?4)"},
	[AREA_FIND] = {"area.find", "SELECT id, name FROM area WHERE name_folded = ?1 AND struck = "
				    "0 ORDER BY id LIMIT 1"},
	[AREA_LIST] = {"area.list", "SELECT id, name FROM area WHERE struck = 0 ORDER BY id"},
	[OBSTACLE_ADD] = {"obstacle.add",
		"INSERT INTO obstacle (id, made, name, kind, points, height_um) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6)"},
	[OBSTACLE_LIST] = {"obstacle.list",
		"SELECT id, name, kind, points, height_um FROM obstacle WHERE struck = 0 "
		"ORDER BY name, id"},
	[ROUTE_ADD] = {"route.add",
		"INSERT INTO route (id, made, spot_id, position) VALUES (?1, ?2, ?3, ?4)"},
	[ROUTE_LIST] = {"route.list", "SELECT r.id, r.spot_id, r.position FROM route r "
				      "JOIN spot s ON s.id = r.spot_id AND s.struck = 0 "
				      "WHERE r.struck = 0 ORDER BY r.position, r.id"},
	{NULL, NULL},
};

static void read_area(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct area *area = out;
	column_copy(statement, 0, area->id, sizeof area->id);
	column_copy(statement, 1, area->name, sizeof area->name);
}

static const struct row_reader area_reader = {read_area, sizeof(struct area)};

static enum status area_fields(struct store *store, const struct area *area,
	char folded[FOLDED_SIZE], struct row_fields *out, struct fault *why)
{
	enum status status =
		text_within(area->name, LABEL_CHARACTERS_MAX, true, "name of the area", why);
	if (status == STATUS_OK)
		status = name_is_free(store, "area", area->name, area->id, why);
	out->table = "area";
	out->insert = &area_statements[AREA_ADD];
	fields_add(out, "name", value_text(area->name));
	fields_add(out, "name_folded", value_text(name_fold(area->name, folded)));
	return status;
}

enum status store_area_add(struct store *store, struct area *area, struct fault *why)
{
	char folded[FOLDED_SIZE];
	struct row_fields fields = {0};
	enum status status = area_fields(store, area, folded, &fields, why);
	return status == STATUS_OK ? row_insert(store, &fields, area->id, why) : status;
}

enum status store_area_save(struct store *store, const struct area *area, struct fault *why)
{
	char folded[FOLDED_SIZE];
	struct row_fields fields = {0};
	enum status status = area_fields(store, area, folded, &fields, why);
	return status == STATUS_OK ? row_save(store, &fields, area->id, why) : status;
}

enum status store_area_find(
	struct store *store, const char *name, struct area *out, struct fault *why)
{
	char folded[FOLDED_SIZE];
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(
		store, &area_statements[AREA_FIND], name_fold(name, folded), &statement, why);
	if (status == STATUS_OK)
		status = rows_one(store, statement, &area_reader, NULL, out, why);
	if (status == STATUS_ABSENT)
		return fault_set(why, status, "there is no area called %s", name);
	return status;
}

static int area_order(const void *one, const void *other)
{
	const struct area *a = one;
	const struct area *b = other;
	int order = text_compare_natural(a->name, b->name);
	return order != 0 ? order : strcmp(a->id, b->id);
}

enum status store_area_list(struct store *store, struct arena *arena, struct area **out,
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(
		store, &area_statements[AREA_LIST], &area_reader, arena, &items, count, why);
	if (status != STATUS_OK)
		return status;
	if (*count > 1)
		qsort(items, (size_t)*count, sizeof(struct area), area_order);
	*out = items;
	return STATUS_OK;
}

/* --- obstacles --- */

enum status store_obstacle_add(struct store *store, struct obstacle *obstacle, struct fault *why)
{
	enum status status = text_within(
		obstacle->name, LABEL_CHARACTERS_MAX, true, "name of the obstacle", why);
	if (status != STATUS_OK)
		return status;
	struct row_fields fields = {.table = "obstacle", .insert = &area_statements[OBSTACLE_ADD]};
	fields_add(&fields, "name", value_text(obstacle->name));
	fields_add(&fields, "kind", value_text(obstacle->kind));
	fields_add(&fields, "points", value_text(obstacle->points));
	fields_add(&fields, "height_um", value_maybe_i64(obstacle->height_um));
	return row_insert(store, &fields, obstacle->id, why);
}

static void read_obstacle(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	struct obstacle *obstacle = out;
	column_copy(statement, 0, obstacle->id, sizeof obstacle->id);
	column_copy(statement, 1, obstacle->name, sizeof obstacle->name);
	column_copy(statement, 2, obstacle->kind, sizeof obstacle->kind);
	obstacle->points = column_arena(statement, 3, arena);
	obstacle->height_um = column_maybe_i64(statement, 4);
}

static const struct row_reader obstacle_reader = {read_obstacle, sizeof(struct obstacle)};

enum status store_obstacle_list(struct store *store, struct arena *arena, struct obstacle **out,
	int32_t *count, struct fault *why)
{
	return rows_list_all(store, &area_statements[OBSTACLE_LIST], &obstacle_reader, arena,
		(void **)out, count, why);
}

/* --- the route --- */

struct route_row {
	char id[ID_SIZE];
	char spot_id[ID_SIZE];
	int32_t position;
	bool kept;
};

static void read_route_row(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct route_row *row = out;
	column_copy(statement, 0, row->id, sizeof row->id);
	column_copy(statement, 1, row->spot_id, sizeof row->spot_id);
	row->position = sqlite3_column_int(statement, 2);
}

static const struct row_reader route_reader = {read_route_row, sizeof(struct route_row)};

/* A row that stands for the spot is given its new position, else one is made. */
static enum status route_put(struct store *store, struct route_row *rows, int32_t row_count,
	const char *spot_id, int32_t position, struct fault *why)
{
	for (int32_t i = 0; i < row_count; i++) {
		/* most spots stay where they were in the order */
		struct route_row *row = &rows[(position - 1 + i) % row_count];
		if (!row->kept && strcmp(row->spot_id, spot_id) == 0) {
			row->kept = true;
			return row_set(
				store, "route", row->id, "position", value_integer(position), why);
		}
	}
	char id[ID_SIZE] = "";
	struct row_fields fields = {.table = "route", .insert = &area_statements[ROUTE_ADD]};
	fields_add(&fields, "spot_id", value_text(spot_id));
	fields_add(&fields, "position", value_integer(position));
	return row_insert(store, &fields, id, why);
}

enum status store_route_set(
	struct store *store, const char *const *spot_ids, int32_t count, struct fault *why)
{
	struct arena *arena = arena_new();
	void *rows = NULL;
	int32_t row_count = 0;
	enum status status = rows_list_all(
		store, &area_statements[ROUTE_LIST], &route_reader, arena, &rows, &row_count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = route_put(store, rows, row_count, spot_ids[i], i + 1, why);
	const struct route_row *row = rows;
	for (int32_t i = 0; status == STATUS_OK && i < row_count; i++) {
		if (!row[i].kept)
			status = row_take_back(store, "route", row[i].id, why);
	}
	arena_free(arena);
	return status;
}

enum status store_route_list(struct store *store, struct arena *arena, char (**out)[ID_SIZE],
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(
		store, &area_statements[ROUTE_LIST], &route_reader, arena, &items, count, why);
	if (status != STATUS_OK)
		return status;
	const struct route_row *rows = items;
	*out = arena_array(arena, (size_t)*count + 1, ID_SIZE);
	for (int32_t i = 0; i < *count; i++)
		memcpy((*out)[i], rows[i].spot_id, ID_SIZE);
	return STATUS_OK;
}
