/* SPDX-License-Identifier: MIT */
/* Entries: logged, mended, struck. Reading is in store_entry_read.c. */
#include "entry_parts.h"
#include "entry_row.h"
#include "statements.h"

#include <string.h>

enum { ENTRY_ADD };

#define ENTRY_FIELDS                                                                            \
	"subject_kind, subject_id, kind, day, day_low, day_high, words, note, batch, planned, " \
	"season_year, typed_at"

const struct statement entry_statements[] = {
	[ENTRY_ADD] = {"entry.add",
		"INSERT INTO entry (id, made, " ENTRY_FIELDS ") "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)"},
	{NULL, NULL},
};

static enum status check_stands(
	struct store *store, const struct subject *subject, struct fault *why)
{
	const char *table = subject_words[subject->kind];
	if (stood_before(store->stood, table[0], subject->id))
		return STATUS_OK;
	enum status status = row_must_stand(store, table, subject->id, why);
	if (status == STATUS_OK && store->act_wide)
		stood_note(&store->stood, table[0], subject->id);
	return status;
}

static enum status check_subject(
	struct store *store, const struct subject *subject, struct fault *why)
{
	if (subject->kind != SUBJECT_PLACE)
		return check_stands(store, subject, why);
	return subject->id[0] == '\0'
		       ? STATUS_OK
		       : fault_set(why, STATUS_RANGE, "an entry of the place names no other thing");
}

static enum status entry_check(struct store *store, const struct entry *entry, struct fault *why)
{
	enum status status = text_within(entry->words, LINE_SIZE - 1, false, "line", why);
	if (status == STATUS_OK)
		status = text_within(entry->note, WORDS_SIZE - 1, false, "note", why);
	if (status == STATUS_OK)
		status = entry_parts_check(entry, why);
	if (status == STATUS_OK)
		status = check_subject(store, &entry->subject, why);
	return status;
}

/* In the order of ENTRY_FIELDS, without the time of typing. */
static void entry_fields(const struct entry *entry, struct row_fields *out)
{
	out->table = "entry";
	out->insert = &entry_statements[ENTRY_ADD];
	fields_add(out, "subject_kind", value_text(subject_words[entry->subject.kind]));
	fields_add(out, "subject_id", value_text(entry->subject.id));
	fields_add(out, "kind", value_text(kind_row(entry->kind)->key));
	fields_add(out, "day", value_text(entry->day.text));
	fields_add(out, "day_low", value_maybe_date(entry->day.low));
	fields_add(out, "day_high", value_maybe_date(entry->day.high));
	fields_add(out, "words", value_text(entry->words));
	fields_add(out, "note", value_text(entry->note));
	fields_add(out, "batch", value_text(entry->batch));
	fields_add(out, "planned", value_integer(entry->planned));
	fields_add(out, "season_year", value_maybe_i32(entry->season_year));
}

enum status store_entry_add(struct store *store, struct entry *entry, struct fault *why)
{
	char stamp[STAMP_TEXT_SIZE];
	struct row_fields fields = {0};
	enum status status = entry_check(store, entry, why);
	if (status != STATUS_OK)
		return status;
	entry_fields(entry, &fields);
	fields_add(&fields, "typed_at",
		value_text(entry->typed_at[0] != '\0' ? entry->typed_at
						      : clock_stamp(store->clock, stamp)));
	status = row_insert(store, &fields, entry->id, why);
	return status == STATUS_OK ? entry_parts_add(store, entry, why) : status;
}

enum status store_entry_save(struct store *store, const struct entry *entry, struct fault *why)
{
	struct row_fields fields = {0};
	enum status status = entry_check(store, entry, why);
	if (status != STATUS_OK)
		return status;
	entry_fields(entry, &fields);
	status = row_save(store, &fields, entry->id, why);
	return status == STATUS_OK ? entry_parts_save(store, entry, why) : status;
}

enum status store_entry_strike(struct store *store, const char *id, struct fault *why)
{
	enum status status = row_must_stand(store, "entry", id, why);
	return status == STATUS_OK ? row_take_back(store, "entry", id, why) : status;
}
