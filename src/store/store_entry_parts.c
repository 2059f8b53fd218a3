/* SPDX-License-Identifier: MIT */
#include "entry_parts.h"
#include "statements.h"

#include <assert.h>
#include <string.h>

enum { PART_AMOUNT, PART_DETAIL, PART_MEASURE, PART_TOTAL };

#define AMOUNT_FIELDS                                                                  \
	"field, base_unit, low, high, typed, about, none, container, containers_low, " \
	"containers_high"
#define DETAIL_FIELDS "field, value"
#define MEASURE_FIELDS "what, stem, low_um, high_um, about, at_height_um, word_given"
/* Parts of many entries at once: ?1 is a list of entry ids, whose place in it comes first. Rows
 * come as the list is walked; those of one entry are few, and put in order as they are read. */
#define OF_ENTRIES(columns, table)                              \
	"SELECT j.key, p.id, " columns " FROM json_each(?1) j " \
	"CROSS JOIN " table " p ON p.entry_id = j.value AND p.struck = 0"

const struct statement entry_part_statements[] = {
	[PART_AMOUNT] = {"amount.add",
		"INSERT INTO amount (id, made, entry_id, " AMOUNT_FIELDS ") "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)"},
	[PART_DETAIL] = {"detail.add", "INSERT INTO detail (id, made, entry_id, " DETAIL_FIELDS ") "
				       "VALUES (?1, ?2, ?3, ?4, ?5)"},
	[PART_MEASURE] = {"measure.add",
		"INSERT INTO measure (id, made, entry_id, " MEASURE_FIELDS ") "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)"},
	[PART_TOTAL + PART_AMOUNT] = {"amount.list", OF_ENTRIES(AMOUNT_FIELDS, "amount")},
	[PART_TOTAL + PART_DETAIL] = {"detail.list", OF_ENTRIES("p.field, p.value", "detail")},
	[PART_TOTAL + PART_MEASURE] = {"measure.list", OF_ENTRIES(MEASURE_FIELDS, "measure")},
	{NULL, NULL},
};

enum { PART_COLUMN = 2 }; /* the first one of a part's own: after place and id */

static const char *const base_units[DIMENSION_TOTAL] = {
	[DIMENSION_NONE] = "thousandth",
	[DIMENSION_COUNT] = "thousandth",
	[DIMENSION_MASS] = "mg",
	[DIMENSION_LENGTH] = "um",
	[DIMENSION_VOLUME] = "ul",
	[DIMENSION_SHARE] = "permille",
	[DIMENSION_DURATION] = "s",
	[DIMENSION_DAYS] = "day",
	[DIMENSION_TEMPERATURE] = "decic",
	[DIMENSION_FLOW] = "ulh",
	[DIMENSION_SPEED] = "mms",
	[DIMENSION_AREA] = "mm2",
	[DIMENSION_ANALYSIS] = "mpct",
	[DIMENSION_CODE] = "code",
};

/* A count and a bare number have one base unit: the field tells them apart. */
static enum dimension dimension_of(const char *base_unit, enum field field)
{
	enum dimension own = field_row(field)->dimension;
	if (strcmp(base_units[own], base_unit) == 0)
		return own;
	return (enum dimension)ROW_WORD(base_units, base_unit);
}

/* --- a part as fields, after the entry's id; and from a row --- */

static void amount_fields(const void *part, struct row_fields *out)
{
	const struct amount *amount = part;
	fields_add(out, "field", value_text(field_row((enum field)amount->field)->key));
	fields_add(out, "base_unit", value_text(base_units[amount->dimension]));
	fields_add(out, "low", value_maybe_i64(amount->low));
	fields_add(out, "high", value_maybe_i64(amount->high));
	fields_add(out, "typed", value_text(amount->typed));
	fields_add(out, "about", value_integer(amount->about));
	fields_add(out, "none", value_integer(amount->none));
	fields_add(out, "container", value_text(amount->container));
	fields_add(out, "containers_low", value_maybe_i64(amount->containers_low));
	fields_add(out, "containers_high", value_maybe_i64(amount->containers_high));
}

static bool read_amount(sqlite3_stmt *statement, void *out)
{
	struct amount *amount = out;
	enum field field = field_of_key(column_word(statement, PART_COLUMN));
	if (field == FIELD_TOTAL || field == FIELD_NONE)
		return false;
	amount->field = (int32_t)field;
	amount->dimension = dimension_of(column_word(statement, PART_COLUMN + 1), field);
	amount->low = column_maybe_i64(statement, PART_COLUMN + 2);
	amount->high = column_maybe_i64(statement, PART_COLUMN + 3);
	column_copy(statement, PART_COLUMN + 4, amount->typed, sizeof amount->typed);
	amount->about = column_flag(statement, PART_COLUMN + 5);
	amount->none = column_flag(statement, PART_COLUMN + 6);
	column_copy(statement, PART_COLUMN + 7, amount->container, sizeof amount->container);
	amount->containers_low = column_maybe_i64(statement, PART_COLUMN + 8);
	amount->containers_high = column_maybe_i64(statement, PART_COLUMN + 9);
	return true;
}

static void detail_fields(const void *part, struct row_fields *out)
{
	const struct detail *detail = part;
	fields_add(out, "field", value_text(field_row(detail->field)->key));
	fields_add(out, "value", value_text(detail->text));
}

static bool read_detail(sqlite3_stmt *statement, void *out)
{
	struct detail *detail = out;
	detail->field = field_of_key(column_word(statement, PART_COLUMN));
	column_copy(statement, PART_COLUMN + 1, detail->text, sizeof detail->text);
	return detail->field != FIELD_TOTAL && detail->field != FIELD_NONE;
}

static void measure_fields(const void *part, struct row_fields *out)
{
	const struct stem_measure *measure = part;
	fields_add(out, "what", value_text(field_row(measure->field)->key));
	fields_add(out, "stem", value_integer(measure->stem));
	fields_add(out, "low_um", value_integer(measure->low_um));
	fields_add(out, "high_um", value_integer(measure->high_um));
	fields_add(out, "about", value_integer(measure->about));
	fields_add(out, "at_height_um", value_maybe_i64(measure->at_height_um));
	fields_add(out, "word_given", value_integer(measure->word_given));
}

static bool read_measure(sqlite3_stmt *statement, void *out)
{
	struct stem_measure *measure = out;
	measure->field = field_of_key(column_word(statement, PART_COLUMN));
	measure->stem = sqlite3_column_int(statement, PART_COLUMN + 1);
	measure->low_um = sqlite3_column_int64(statement, PART_COLUMN + 2);
	measure->high_um = sqlite3_column_int64(statement, PART_COLUMN + 3);
	measure->about = column_flag(statement, PART_COLUMN + 4);
	measure->at_height_um = column_maybe_i64(statement, PART_COLUMN + 5);
	measure->word_given = column_flag(statement, PART_COLUMN + 6);
	return measure->field != FIELD_TOTAL && measure->field != FIELD_NONE;
}

struct part_kind {
	const char *table;
	const char *title;
	size_t size;
	int32_t most;
	void (*fields)(const void *part, struct row_fields *out);
	/* false: of a field that this program does not know, which is left alone */
	bool (*read)(sqlite3_stmt *statement, void *out);
};

static const struct part_kind part_kinds[PART_TOTAL] = {
	[PART_AMOUNT] = {"amount", "amounts", sizeof(struct amount), AMOUNTS_MAX, amount_fields,
		read_amount},
	[PART_DETAIL] = {"detail", "words with a meaning", sizeof(struct detail), DETAILS_MAX,
		detail_fields, read_detail},
	[PART_MEASURE] = {"measure", "stems", sizeof(struct stem_measure), STEMS_MAX,
		measure_fields, read_measure},
};

static const void *parts_of(const struct entry *entry, int kind, int32_t *count)
{
	switch (kind) {
	case PART_AMOUNT:
		*count = entry->amount_count;
		return entry->amounts;
	case PART_DETAIL:
		*count = entry->detail_count;
		return entry->details;
	default:
		*count = entry->stem_count;
		return entry->stems;
	}
}

static void parts_give(struct entry *entry, int kind, const void *parts, int32_t count)
{
	switch (kind) {
	case PART_AMOUNT:
		entry->amounts = parts;
		entry->amount_count = count;
		break;
	case PART_DETAIL:
		entry->details = parts;
		entry->detail_count = count;
		break;
	default:
		entry->stems = parts;
		entry->stem_count = count;
		break;
	}
}

enum status entry_parts_check(const struct entry *entry, struct fault *why)
{
	for (int kind = 0; kind < PART_TOTAL; kind++) {
		int32_t count = 0;
		(void)parts_of(entry, kind, &count);
		if (count > part_kinds[kind].most)
			return fault_set(why, STATUS_RANGE,
				"%d %s in one entry, at most %d are kept", (int)count,
				part_kinds[kind].title, (int)part_kinds[kind].most);
	}
	return STATUS_OK;
}

/* --- writing --- */

static enum status part_add(
	struct store *store, const char *entry_id, int kind, const void *part, struct fault *why)
{
	char id[ID_SIZE] = "";
	struct row_fields fields = {
		.table = part_kinds[kind].table, .insert = &entry_part_statements[kind]};
	fields_add(&fields, "entry_id", value_text(entry_id));
	part_kinds[kind].fields(part, &fields);
	return row_insert(store, &fields, id, why);
}

enum status entry_parts_add(struct store *store, const struct entry *entry, struct fault *why)
{
	enum status status = STATUS_OK;
	for (int kind = 0; kind < PART_TOTAL; kind++) {
		int32_t count = 0;
		const char *part = parts_of(entry, kind, &count);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++)
			status = part_add(store, entry->id, kind,
				part + (size_t)i * part_kinds[kind].size, why);
	}
	return status;
}

/* --- reading the parts of many entries --- */

enum { ENTRIES_AT_ONCE = 256, IDS_SIZE = ENTRIES_AT_ONCE * (ID_SIZE + 3) + 2 };

/* ["ID","ID"]: ids are made of digits and capitals; a damaged one finds nothing. */
static void write_ids(const struct entry *entries, int32_t count, char out[IDS_SIZE])
{
	char *at = out;
	*at++ = '[';
	for (int32_t i = 0; i < count; i++) {
		*at++ = '"';
		for (const char *id = entries[i].id; *id != '\0'; id++)
			*at++ = (*id >= '0' && *id <= '9') || (*id >= 'A' && *id <= 'Z') ? *id
											 : '?';
		*at++ = '"';
		*at++ = ',';
	}
	if (count > 0)
		at--;
	*at++ = ']';
	*at = '\0';
	assert(at < out + IDS_SIZE);
}

struct part_list {
	struct row_list parts;
	struct row_list ids; /* of the parts' rows */
	int32_t counts[ENTRIES_AT_ONCE];
};

/* Moves the last part forward to where it was made, among those of the entry at this place. */
static void sink_last(struct part_list *list, int place)
{
	union {
		struct amount amount;
		struct detail detail;
		struct stem_measure measure;
	} part;
	char id[ID_SIZE];
	char(*ids)[ID_SIZE] = list->ids.items;
	char *parts = list->parts.items;
	const size_t size = list->parts.size;
	const int32_t first = list->ids.count - list->counts[place];
	for (int32_t at = list->ids.count - 1; at > first; at--) {
		if (strcmp(ids[at - 1], ids[at]) <= 0)
			return;
		memcpy(id, ids[at], sizeof id);
		memcpy(ids[at], ids[at - 1], sizeof id);
		memcpy(ids[at - 1], id, sizeof id);
		memcpy(&part, parts + (size_t)at * size, size);
		memcpy(parts + (size_t)at * size, parts + (size_t)(at - 1) * size, size);
		memcpy(parts + (size_t)(at - 1) * size, &part, size);
	}
}

static enum status parts_list(
	struct store *store, int kind, const char *ids, struct part_list *list, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	int before = 0;
	enum status status =
		rows_for(store, &entry_part_statements[PART_TOTAL + kind], ids, &statement, why);
	while (status == STATUS_OK && (status = sql_step(store, statement, why)) == STATUS_OK) {
		int place = sqlite3_column_int(statement, 0);
		assert(place >= before && place < ENTRIES_AT_ONCE);
		before = place;
		if (!part_kinds[kind].read(statement, row_list_add(&list->parts))) {
			row_list_drop(&list->parts);
			continue;
		}
		list->counts[place]++;
		column_copy(statement, 1, row_list_add(&list->ids), ID_SIZE);
		sink_last(list, place);
	}
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status read_some(struct store *store, struct arena *arena, struct entry *entries,
	int32_t count, struct fault *why)
{
	char ids[IDS_SIZE];
	write_ids(entries, count, ids);
	for (int kind = 0; kind < PART_TOTAL; kind++) {
		struct part_list list = {.parts = {.arena = arena, .size = part_kinds[kind].size},
			.ids = {.arena = arena, .size = ID_SIZE}};
		enum status status = parts_list(store, kind, ids, &list, why);
		if (status != STATUS_OK)
			return status;
		const char *part = list.parts.items;
		for (int32_t i = 0; i < count; i++) {
			parts_give(&entries[i], kind, list.counts[i] == 0 ? NULL : part,
				list.counts[i]);
			if (part != NULL)
				part += (size_t)list.counts[i] * list.parts.size;
		}
	}
	return STATUS_OK;
}

enum status entry_parts_read(struct store *store, struct arena *arena, struct entry *entries,
	int32_t count, struct fault *why)
{
	enum status status = STATUS_OK;
	for (int32_t at = 0; status == STATUS_OK && at < count; at += ENTRIES_AT_ONCE) {
		int32_t some = count - at < ENTRIES_AT_ONCE ? count - at : ENTRIES_AT_ONCE;
		status = read_some(store, arena, entries + at, some, why);
	}
	return status;
}

/* --- mending --- */

/* One list of parts as it stands, and as it shall be. */
struct mending {
	struct store *store;
	const char *entry_id;
	int kind;
	const char *standing;
	const char (*ids)[ID_SIZE];
	int32_t standing_count;
	bool *used; /* of the standing ones */
	const char *wanted;
	int32_t wanted_count;
	bool *settled; /* of the wanted ones */
};

static void part_as_fields(
	const struct mending *mending, const char *parts, int32_t i, struct row_fields *out)
{
	*out = (struct row_fields){.table = part_kinds[mending->kind].table};
	part_kinds[mending->kind].fields(parts + (size_t)i * part_kinds[mending->kind].size, out);
}

/* Pairs each wanted part that is not settled with an unused standing one: the same in all, or only
 * of the same field, which is then changed. A stem is never changed but made anew: its two ends are
 * checked against each other, and fields are written one by one. */
static enum status mend_pairs(struct mending *mending, bool change, struct fault *why)
{
	struct row_fields want;
	struct row_fields have;
	enum status status = STATUS_OK;
	for (int32_t w = 0; status == STATUS_OK && w < mending->wanted_count; w++) {
		part_as_fields(mending, mending->wanted, w, &want);
		for (int32_t s = 0; !mending->settled[w] && s < mending->standing_count; s++) {
			part_as_fields(mending, mending->standing, s, &have);
			bool pair =
				change ? row_value_same(&want.items[0].value, &have.items[0].value)
				       : fields_same(&want, &have);
			if (mending->used[s] || !pair)
				continue;
			mending->used[s] = true;
			mending->settled[w] = true;
			if (change)
				status = row_save(mending->store, &want, mending->ids[s], why);
		}
	}
	return status;
}

static enum status mend(struct mending *mending, struct fault *why)
{
	enum status status = mend_pairs(mending, false, why);
	if (status == STATUS_OK && mending->kind != PART_MEASURE)
		status = mend_pairs(mending, true, why);
	for (int32_t s = 0; status == STATUS_OK && s < mending->standing_count; s++) {
		if (!mending->used[s])
			status = row_take_back(mending->store, part_kinds[mending->kind].table,
				mending->ids[s], why);
	}
	for (int32_t w = 0; status == STATUS_OK && w < mending->wanted_count; w++) {
		if (!mending->settled[w])
			status = part_add(mending->store, mending->entry_id, mending->kind,
				mending->wanted + (size_t)w * part_kinds[mending->kind].size, why);
	}
	return status;
}

static enum status parts_mend(struct store *store, struct arena *arena, const struct entry *entry,
	int kind, struct fault *why)
{
	char ids[IDS_SIZE];
	struct part_list list = {.parts = {.arena = arena, .size = part_kinds[kind].size},
		.ids = {.arena = arena, .size = ID_SIZE}};
	write_ids(entry, 1, ids);
	enum status status = parts_list(store, kind, ids, &list, why);
	if (status != STATUS_OK)
		return status;
	struct mending mending = {.store = store,
		.entry_id = entry->id,
		.kind = kind,
		.standing = list.parts.items,
		.ids = list.ids.items,
		.standing_count = list.parts.count,
		.used = arena_array(arena, (size_t)list.parts.count + 1, sizeof(bool))};
	mending.wanted = parts_of(entry, kind, &mending.wanted_count);
	mending.settled = arena_array(arena, (size_t)mending.wanted_count + 1, sizeof(bool));
	return mend(&mending, why);
}

enum status entry_parts_save(struct store *store, const struct entry *entry, struct fault *why)
{
	struct arena *arena = arena_new();
	enum status status = STATUS_OK;
	for (int kind = 0; status == STATUS_OK && kind < PART_TOTAL; kind++)
		status = parts_mend(store, arena, entry, kind, why);
	arena_free(arena);
	return status;
}

static bool same_i64(struct maybe_i64 a, struct maybe_i64 b)
{
	return a.known == b.known && (!a.known || a.value == b.value);
}

bool entry_amount_same(const struct amount *a, const struct amount *b)
{
	return a->field == b->field && a->dimension == b->dimension && same_i64(a->low, b->low) &&
	       same_i64(a->high, b->high) && a->about == b->about && a->none == b->none &&
	       strcmp(a->container, b->container) == 0 &&
	       same_i64(a->containers_low, b->containers_low) &&
	       same_i64(a->containers_high, b->containers_high);
}
