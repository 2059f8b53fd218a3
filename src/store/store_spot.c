/* SPDX-License-Identifier: MIT */
#include "rows.h"
#include "statements.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { SPOT_ADD, SPOT_FIND, SPOT_LOAD, SPOT_LIST, SPOT_PICKED };

#define SPOT_FIELDS                                                                              \
	"name, kind, area_id, east_um, north_um, volume_ul, offset_decic, soil, root_depth_um, " \
	"cover, watering, emitters, flow_ulh, efficiency_permille"
#define SPOT_COLUMNS "id, " SPOT_FIELDS

const struct statement spot_statements[] = {
	[SPOT_ADD] = {"spot.add", "INSERT INTO spot (id, made, " SPOT_FIELDS ", name_folded) "
				  "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, "
				  "?14, ?15, ?16, ?17)"},
	[SPOT_FIND] = {"spot.find", "SELECT " SPOT_COLUMNS " FROM spot "
				    "WHERE name_folded = ?1 AND struck = 0 ORDER BY id LIMIT 1"},
	[SPOT_LOAD] = {"spot.load",
		"SELECT " SPOT_COLUMNS " FROM spot WHERE id = ?1 AND struck = 0"},
	[SPOT_LIST] = {"spot.list",
		"SELECT " SPOT_COLUMNS " FROM spot WHERE struck = 0 ORDER BY id"},
	[SPOT_PICKED] = {"spot.picked",
		"SELECT " SPOT_COLUMNS " FROM spot WHERE struck = 0 AND "
		"(EXISTS (SELECT 1 FROM entry e WHERE e.kind = 'pick' AND e.subject_id = spot.id) "
		"OR EXISTS (SELECT 1 FROM entry e WHERE e.kind = 'loss' AND e.subject_id = "
		"spot.id)) "
		"ORDER BY id"},
	{NULL, NULL},
};

static const char *const kind_words[] = {"hole", "container", "off-place"};
static const char *const cover_words[] = {"", "bare", "grass", "mulch"};
static const char *const soil_words[] = {
	"", "sand", "loamy-sand", "sandy-loam", "loam", "silt-loam", "clay-loam", "clay"};

static void read_spot(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct spot *spot = out;
	column_copy(statement, 0, spot->id, sizeof spot->id);
	column_copy(statement, 1, spot->name, sizeof spot->name);
	spot->kind = (enum spot_kind)ROW_WORD(kind_words, column_word(statement, 2));
	column_copy(statement, 3, spot->area_id, sizeof spot->area_id);
	spot->east_um = column_maybe_i64(statement, 4);
	spot->north_um = column_maybe_i64(statement, 5);
	spot->volume_ul = column_maybe_i64(statement, 6);
	spot->offset_decic = sqlite3_column_int(statement, 7);
	spot->soil = (enum soil_texture)ROW_WORD(soil_words, column_word(statement, 8));
	spot->root_depth_um = column_maybe_i64(statement, 9);
	spot->cover = (enum ground_cover)ROW_WORD(cover_words, column_word(statement, 10));
	column_copy(statement, 11, spot->watering, sizeof spot->watering);
	spot->emitters = column_maybe_i32(statement, 12);
	spot->flow_ulh = column_maybe_i64(statement, 13);
	spot->efficiency_permille = column_maybe_i32(statement, 14);
}

static const struct row_reader spot_reader = {read_spot, sizeof(struct spot)};

static enum status spot_check(struct store *store, const struct spot *spot, struct fault *why)
{
	enum status status =
		text_within(spot->name, LABEL_CHARACTERS_MAX, true, "name of the spot", why);
	if (status == STATUS_OK)
		status = name_is_free(store, "spot", spot->name, spot->id, why);
	if (status == STATUS_OK && spot->area_id[0] != '\0')
		status = row_must_stand(store, "area", spot->area_id, why);
	return status;
}

/* In the order of SPOT_FIELDS and the folded name. */
static void spot_fields(const struct spot *spot, char folded[FOLDED_SIZE], struct row_fields *out)
{
	out->table = "spot";
	out->insert = &spot_statements[SPOT_ADD];
	fields_add(out, "name", value_text(spot->name));
	fields_add(out, "kind", value_text(kind_words[spot->kind]));
	fields_add(out, "area_id", value_text_or_null(spot->area_id));
	fields_add(out, "east_um", value_maybe_i64(spot->east_um));
	fields_add(out, "north_um", value_maybe_i64(spot->north_um));
	fields_add(out, "volume_ul", value_maybe_i64(spot->volume_ul));
	fields_add(out, "offset_decic", value_integer(spot->offset_decic));
	fields_add(out, "soil", value_text_or_null(soil_words[spot->soil]));
	fields_add(out, "root_depth_um", value_maybe_i64(spot->root_depth_um));
	fields_add(out, "cover", value_text_or_null(cover_words[spot->cover]));
	fields_add(out, "watering", value_text(spot->watering));
	fields_add(out, "emitters", value_maybe_i32(spot->emitters));
	fields_add(out, "flow_ulh", value_maybe_i64(spot->flow_ulh));
	fields_add(out, "efficiency_permille", value_maybe_i32(spot->efficiency_permille));
	fields_add(out, "name_folded", value_text(name_fold(spot->name, folded)));
}

enum status store_spot_add(struct store *store, struct spot *spot, struct fault *why)
{
	char folded[FOLDED_SIZE];
	struct row_fields fields = {0};
	spot_fields(spot, folded, &fields);
	enum status status = spot_check(store, spot, why);
	return status == STATUS_OK ? row_insert(store, &fields, spot->id, why) : status;
}

enum status store_spot_save(struct store *store, const struct spot *spot, struct fault *why)
{
	char folded[FOLDED_SIZE];
	struct row_fields fields = {0};
	spot_fields(spot, folded, &fields);
	enum status status = spot_check(store, spot, why);
	return status == STATUS_OK ? row_save(store, &fields, spot->id, why) : status;
}

enum status store_spot_find(
	struct store *store, const char *name, struct spot *out, struct fault *why)
{
	char folded[FOLDED_SIZE];
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(
		store, &spot_statements[SPOT_FIND], name_fold(name, folded), &statement, why);
	if (status == STATUS_OK)
		status = rows_one(store, statement, &spot_reader, NULL, out, why);
	if (status == STATUS_ABSENT)
		return fault_set(why, status, "there is no spot called %s", name);
	return status;
}

enum status store_spot_load(
	struct store *store, const char *id, struct spot *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(store, &spot_statements[SPOT_LOAD], id, &statement, why);
	if (status == STATUS_OK)
		status = rows_one(store, statement, &spot_reader, NULL, out, why);
	if (status == STATUS_ABSENT)
		return fault_set(why, status, "the spot is not in the log, or was taken back");
	return status;
}

static int spot_order(const void *one, const void *other)
{
	const struct spot *a = one;
	const struct spot *b = other;
	int order = text_compare_natural(a->name, b->name);
	return order != 0 ? order : strcmp(a->id, b->id);
}

static enum status list_spots(struct store *store, int key, struct arena *arena, struct spot **out,
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(
		store, &spot_statements[key], &spot_reader, arena, &items, count, why);
	if (status != STATUS_OK)
		return status;
	if (*count > 1)
		qsort(items, (size_t)*count, sizeof(struct spot), spot_order);
	*out = items;
	return STATUS_OK;
}

enum status store_spot_list(struct store *store, struct arena *arena, struct spot **out,
	int32_t *count, struct fault *why)
{
	return list_spots(store, SPOT_LIST, arena, out, count, why);
}

enum status store_spot_picked_list(struct store *store, struct arena *arena, struct spot **out,
	int32_t *count, struct fault *why)
{
	return list_spots(store, SPOT_PICKED, arena, out, count, why);
}
