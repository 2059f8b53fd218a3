/* SPDX-License-Identifier: MIT */
/* Clashes listed, and settled by the grower. */
#include "clash_rows.h"
#include "rows.h"
#include "statements.h"
#include "title.h"
#include "tree_row.h"

#include "core/text.h"
#include "store/clash.h"

#include <string.h>

enum { CLASH_FIELDS, CLASH_SIDE };

const struct statement store_clash_statements[] = {
	[CLASH_FIELDS] = {"clash.fields",
		"SELECT DISTINCT table_name, row_id, field FROM clash "
		"WHERE struck = 0 AND settled IS NULL ORDER BY row_id, table_name, field"},
	[CLASH_SIDE] = {"clash.side",
		"SELECT s.typed_at, s.device, m.key IS NULL FROM change_set s "
		"LEFT JOIN meta m ON m.key = 'foreign:' || s.id WHERE s.id = ?1"},
	{NULL, NULL},
};

struct listing {
	struct store *store;
	struct arena *arena;
	struct sight sight;
	struct row_list fields; /* of struct open_field */
	struct row_list clashes;
};

struct open_field {
	const char *table;
	char row_id[ID_SIZE];
	const char *field;
	char owner[ID_SIZE];
	const char *owner_table;
	const char *title;
	const char *part;
	struct heads heads;
	bool is_taken; /* into a clash */
};

static enum status read_fields(struct listing *listing, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		sql_get(listing->store, &store_clash_statements[CLASH_FIELDS], &statement, why);
	while (status == STATUS_OK &&
		(status = sql_step(listing->store, statement, why)) == STATUS_OK) {
		struct open_field *field = row_list_add(&listing->fields);
		field->table = column_arena(statement, 0, listing->arena);
		column_copy(statement, 1, field->row_id, sizeof field->row_id);
		field->field = column_arena(statement, 2, listing->arena);
	}
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status fill_field(struct listing *listing, struct open_field *field, struct fault *why)
{
	const struct row_change where = {
		.table = field->table, .id = field->row_id, .field = field->field};
	struct row_title title;
	enum status status =
		heads_read(&listing->sight, &where, listing->arena, &field->heads, why);
	if (status == STATUS_OK)
		status = row_title(listing->store, field->table, field->row_id, &title, why);
	if (status != STATUS_OK)
		return status;
	field->title = arena_text(listing->arena, title.text);
	field->part = arena_text(listing->arena, title.part);
	memcpy(field->owner, title.owner, sizeof field->owner);
	field->owner_table = title.owner_table;
	field->is_taken = field->heads.count < 2;
	return STATUS_OK;
}

/* The place of an act among the sides; -1: not there. */
static int32_t side_place(const struct heads *heads, const char *set_id)
{
	for (int32_t i = 0; i < heads->count; i++)
		if (strcmp(heads->items[i].set_id, set_id) == 0)
			return i;
	return -1;
}

static bool has_same_sides(const struct open_field *one, const struct open_field *other)
{
	if (strcmp(one->owner, other->owner) != 0 || one->heads.count != other->heads.count)
		return false;
	for (int32_t i = 0; i < one->heads.count; i++)
		if (side_place(&other->heads, one->heads.items[i].set_id) < 0)
			return false;
	return true;
}

static enum status fill_side(
	struct listing *listing, const char *set_id, struct clash_side *side, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(
		listing->store, &store_clash_statements[CLASH_SIDE], set_id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(listing->store, statement, why);
	side->device = "";
	memcpy(side->set_id, set_id, strlen(set_id) + 1);
	if (status == STATUS_OK) {
		column_copy(statement, 0, side->typed_at, sizeof side->typed_at);
		side->device = column_arena(statement, 1, listing->arena);
		side->is_own = column_flag(statement, 2);
		sql_done(statement);
	}
	return status == STATUS_END ? STATUS_OK : status;
}

static void take_field(struct listing *listing, const struct clash *clash, struct open_field *field,
	struct clash_field *out)
{
	const char **values =
		arena_array(listing->arena, (size_t)clash->side_count, sizeof *values);
	for (int32_t i = 0; i < clash->side_count; i++)
		values[i] =
			field->heads.items[side_place(&field->heads, clash->sides[i].set_id)].value;
	*out = (struct clash_field){.table = field->table,
		.field = field->field,
		.part = field->part,
		.before = field->heads.shown,
		.values = values};
	memcpy(out->row_id, field->row_id, sizeof out->row_id);
	field->is_taken = true;
}

/* One clash of this field and of those after it that the same acts changed. */
static enum status gather(struct listing *listing, int32_t from, struct fault *why)
{
	struct open_field *fields = listing->fields.items;
	struct clash *clash = row_list_add(&listing->clashes);
	int32_t left = listing->fields.count - from;
	struct clash_side *sides =
		arena_array(listing->arena, (size_t)fields[from].heads.count, sizeof *sides);
	struct clash_field *taken = arena_array(listing->arena, (size_t)left, sizeof *taken);
	enum status status = STATUS_OK;
	clash->title = fields[from].title;
	clash->owner_table = fields[from].owner_table;
	memcpy(clash->owner, fields[from].owner, sizeof clash->owner);
	clash->side_count = fields[from].heads.count;
	for (int32_t i = 0; status == STATUS_OK && i < clash->side_count; i++)
		status = fill_side(listing, fields[from].heads.items[i].set_id, &sides[i], why);
	clash->sides = sides;
	clash->fields = taken;
	for (int32_t i = from; status == STATUS_OK && i < listing->fields.count; i++) {
		if (!fields[i].is_taken && (i == from || has_same_sides(&fields[from], &fields[i])))
			take_field(listing, clash, &fields[i], &taken[clash->field_count++]);
	}
	return status;
}

enum status store_clash_list(struct store *store, struct arena *arena, struct clash **out,
	int32_t *count, struct fault *why)
{
	struct listing listing = {.store = store,
		.arena = arena,
		.sight = {.store = store},
		.fields = {.arena = arena, .size = sizeof(struct open_field)},
		.clashes = {.arena = arena, .size = sizeof(struct clash)}};
	enum status status = read_fields(&listing, why);
	struct open_field *fields = listing.fields.items;
	for (int32_t i = 0; status == STATUS_OK && i < listing.fields.count; i++)
		status = fill_field(&listing, &fields[i], why);
	for (int32_t i = 0; status == STATUS_OK && i < listing.fields.count; i++)
		if (!fields[i].is_taken)
			status = gather(&listing, i, why);
	*out = listing.clashes.items;
	*count = status == STATUS_OK ? listing.clashes.count : 0;
	return status;
}

enum status store_clash_count(struct store *store, int32_t *count, struct fault *why)
{
	struct arena *arena = arena_new();
	struct clash *list = NULL;
	enum status status = store_clash_list(store, arena, &list, count, why);
	arena_free(arena);
	return status;
}

enum status store_row_name(
	struct store *store, const char *id, char out[TEXT_SIZE], struct fault *why)
{
	static const char *const tables[] = {"tree", "spot", "area", "container", "entry"};
	enum status status = STATUS_OK;
	bool found = false;
	(void)text_copy(out, TEXT_SIZE, id);
	for (size_t i = 0; i < sizeof tables / sizeof tables[0] && !found && status == STATUS_OK;
		i++) {
		struct row_title title;
		status = row_title(store, tables[i], id, &title, why);
		found = status == STATUS_OK && strcmp(title.text, tables[i]) != 0;
		if (found)
			(void)text_copy(out, TEXT_SIZE, title.text);
	}
	return status;
}

/* --- settling --- */

enum { FOLLOWERS_MAX = 4 };

struct kept_value {
	struct row_change field;
	const char *value; /* NULL: NULL */
};

static struct row_value value_of_text(const char *text)
{
	return text == NULL ? (struct row_value){.type = ROW_VALUE_NULL} : value_text(text);
}

/* What the columns that follow the field were where the value kept comes from. */
static enum status read_followers(struct sight *sight, const struct heads *heads, int32_t knot,
	const struct row_change *field, struct kept_value out[FOLLOWERS_MAX], int32_t *count,
	struct fault *why)
{
	enum status status = STATUS_OK;
	const char *name = NULL;
	*count = 0;
	for (int32_t i = 0; status == STATUS_OK && *count < FOLLOWERS_MAX &&
			    (name = field_follower(field->table, field->field, i)) != NULL;
		i++) {
		struct kept_value *one = &out[*count];
		bool is_own = false;
		*one = (struct kept_value){.field = *field};
		one->field.field = name;
		status =
			heads_companion(sight, heads, knot, &one->field, &one->value, &is_own, why);
		*count += is_own ? 0 : 1;
	}
	return status;
}

static enum status keep_field(struct store *store, const struct clash_field *one,
	const char *set_id, struct arena *arena, struct fault *why)
{
	struct sight sight = {.store = store};
	const struct row_change field = {
		.table = one->table, .id = one->row_id, .field = one->field};
	struct kept_value followers[FOLLOWERS_MAX];
	int32_t count = 0;
	struct heads heads;
	enum status status = heads_read(&sight, &field, arena, &heads, why);
	if (status != STATUS_OK)
		return status;
	int32_t place = set_id == NULL ? -1 : side_place(&heads, set_id);
	if (heads.count < 2 || (set_id != NULL && place < 0))
		return fault_set(why, STATUS_CONFLICT, "this was settled meanwhile; list again");
	const char *value = place < 0 ? heads.shown : heads.items[place].value;
	int32_t knot = place < 0 ? heads.shown_knot : heads.items[place].knot;
	status = read_followers(&sight, &heads, knot, &field, followers, &count, why);
	if (status == STATUS_OK)
		status = row_put(store, &field, value_of_text(value), why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = row_set(store, field.table, field.id, followers[i].field.field,
			value_of_text(followers[i].value), why);
	return status == STATUS_OK ? words_rewrite(store, one->table, one->row_id, why) : status;
}

enum status store_clash_keep(
	struct store *store, const struct clash *clash, int32_t side, struct fault *why)
{
	struct arena *arena = arena_new();
	enum status status = STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < clash->field_count; i++)
		status = keep_field(store, &clash->fields[i],
			side < 0 ? NULL : clash->sides[side].set_id, arena, why);
	arena_free(arena);
	return status;
}

/* --- a value of the grower's own --- */

static bool ends_with(const char *text, const char *end)
{
	size_t length = strlen(text);
	return length >= strlen(end) && strcmp(text + length - strlen(end), end) == 0;
}

/* What a column that repeats a name or a day says then. STATUS_RANGE: it repeats something else. */
static enum status put_follower(struct store *store, const struct row_change *follower,
	const struct clash_own *own, struct fault *why)
{
	char folded[FOLDED_SIZE];
	char sort[SORT_SIZE];
	const char *text = own->text == NULL ? "" : own->text;
	const bool is_of_day =
		strcmp(follower->table, "tree") == 0 || strcmp(follower->table, "identity") == 0;
	struct row_value value;
	if (ends_with(follower->field, "_folded"))
		value = value_text(name_fold(text, folded));
	else if (ends_with(follower->field, "_sort"))
		value = value_text(name_sort_key(name_fold(text, folded), sort));
	else if (strcmp(follower->field, "is_gone") == 0)
		value = value_integer(text[0] != '\0');
	else if (is_of_day && ends_with(follower->field, "_low"))
		value = value_maybe_date(own->day.low);
	else if (is_of_day && ends_with(follower->field, "_high"))
		value = value_maybe_date(own->day.high);
	else
		return fault_set(why, STATUS_RANGE, "%s of the %s takes no other value here",
			follower->field, follower->table);
	return row_set(store, follower->table, follower->id, follower->field, value, why);
}

static enum status check_name(
	struct store *store, const struct row_change *field, const char *name, struct fault *why)
{
	if (strcmp(field->table, "tree") == 0 && strcmp(field->field, "label") == 0)
		return tree_label_is_free(store, name, field->id, why);
	const char *follower = field_follower(field->table, field->field, 0);
	return follower != NULL && strcmp(follower, "name_folded") == 0
		       ? name_is_free(store, field->table, name, field->id, why)
		       : STATUS_OK;
}

static enum status check_is_open(
	struct store *store, const struct row_change *field, struct fault *why)
{
	struct arena *arena = arena_new();
	struct sight sight = {.store = store};
	struct heads heads = {.count = 0};
	enum status status = heads_read(&sight, field, arena, &heads, why);
	if (status == STATUS_OK && heads.count < 2)
		status = fault_set(why, STATUS_CONFLICT, "this was settled meanwhile; list again");
	arena_free(arena);
	return status;
}

enum status store_clash_put(struct store *store, const struct clash_field *field,
	const struct clash_own *own, struct fault *why)
{
	const struct row_change where = {
		.table = field->table, .id = field->row_id, .field = field->field};
	const char *name = NULL;
	enum status status = check_is_open(store, &where, why);
	if (status == STATUS_OK && own->text != NULL)
		status = check_name(store, &where, own->text, why);
	if (status == STATUS_OK)
		status = row_put(store, &where, value_of_text(own->text), why);
	for (int32_t i = 0;
		status == STATUS_OK && (name = field_follower(where.table, where.field, i)) != NULL;
		i++) {
		const struct row_change follower = {
			.table = where.table, .id = where.id, .field = name};
		status = put_follower(store, &follower, own, why);
	}
	return status == STATUS_OK ? words_rewrite(store, field->table, field->row_id, why)
				   : status;
}
