/* SPDX-License-Identifier: MIT */
/* What changed, when: of the whole log, or of one tree with everything logged at it. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"

enum { ACTS_SHOWN = 1000 };

static const char *const history_keys[] = {
	"set", "typed_at", "what", "kind", "table", "field", "old", "new", NULL};

/* Fields kept beside another one that says the same in words. */
static bool is_for_people(const char *field)
{
	static const char *const endings[] = {"_folded", "_sort", "_low", "_high", "_id"};
	static const char *const whole[] = {"low", "high", "low_um", "high_um", "base_unit"};
	size_t length = strlen(field);

	for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
		size_t size = strlen(endings[i]);

		if (length > size && strcmp(field + length - size, endings[i]) == 0)
			return false;
	}
	for (size_t i = 0; i < sizeof whole / sizeof whole[0]; i++)
		if (strcmp(field, whole[i]) == 0)
			return false;
	return field[0] != '\0';
}

static void say_change(const struct printer *printer, const struct change_row *change)
{
	const char *old_value = change->old_value != NULL ? change->old_value : "";
	const char *new_value = change->new_value != NULL ? change->new_value : "";

	if (strcmp(change->field, "struck") == 0) {
		say_line(printer, "    %s %s", change->table_name,
			new_value[0] == '1' ? "taken back" : "brought back");
		return;
	}
	say_wrapped(printer, "    ", "%s: %s, was %s", change->field,
		new_value[0] != '\0' ? new_value : "not known",
		old_value[0] != '\0' ? old_value : "not known");
}

static const char *value_words(const char *value)
{
	return value != NULL && value[0] != '\0' ? value : "not known";
}

/* The name of a table, as it reads before a row's own. */
static const char *table_words(const char *table)
{
	return strcmp(table, "weather_day") == 0 ? "weather of" : table;
}

const char *history_words(const struct change_row *rows, int32_t count, struct arena *arena)
{
	struct text_builder words = text_builder_in(arena);

	text_add(&words, "");
	for (int32_t i = 0; i < count; i++) {
		const struct change_row *row = &rows[i];
		bool struck = strcmp(row->field, "struck") == 0;

		if (row->field[0] != '\0' && (!is_for_people(row->field) || row->what[0] == '\0'))
			continue;
		text_add_format(&words, "%s%s%s", table_words(row->table_name),
			row->what[0] != '\0' ? " " : "", row->what);
		if (struck)
			text_add(&words, row->new_value != NULL && row->new_value[0] == '1'
						 ? ": taken back"
						 : ": brought back");
		else if (row->field[0] != '\0')
			text_add_format(&words, ": %s %s, was %s", row->field,
				value_words(row->new_value), value_words(row->old_value));
		text_add(&words, "\n");
	}
	if (words.length == 0)
		text_add(&words, "it changed nothing that has a name of its own\n");
	return words.text;
}

/* Each act once, with what it changed below it. */
static void say_history(
	const struct printer *printer, const struct change_row *changes, int32_t count)
{
	const char *set_id = "";
	char head[24];

	for (int32_t i = 0; i < count; i++) {
		const struct change_row *change = &changes[i];

		if (strcmp(change->set_id, set_id) != 0) {
			set_id = change->set_id;
			snprintf(head, sizeof head, "%.10s %.5s  ", change->typed_at,
				strlen(change->typed_at) > 11 ? change->typed_at + 11 : "");
			say_wrapped(printer, head, "%s%s",
				strcmp(change->kind, "undo") == 0   ? "undone: "
				: strcmp(change->kind, "redo") == 0 ? "redone: "
								    : "",
				change->what);
		}
		if (is_for_people(change->field))
			say_change(printer, change);
	}
}

static void history_rows(struct rows *rows, const struct change_row *changes, int32_t count)
{
	for (int32_t i = 0; i < count; i++) {
		const struct change_row *change = &changes[i];

		rows_text(rows, change->set_id);
		rows_text(rows, change->typed_at);
		rows_text(rows, change->what);
		rows_text(rows, change->kind);
		rows_text(rows, change->table_name);
		rows_text(rows, change->field);
		rows_text(rows, change->old_value);
		rows_text(rows, change->new_value);
	}
}

enum status print_history(
	const struct printer *printer, struct yard *yard, const char *tree_id, struct fault *why)
{
	struct arena *arena = arena_new();
	struct change_row *changes = NULL;
	int32_t count = 0;
	enum status status =
		store_history(yard_store(yard), tree_id, ACTS_SHOWN, arena, &changes, &count, why);

	if (status == STATUS_OK && printer->format != FORMAT_TEXT) {
		struct rows rows = rows_begin(printer, history_keys);

		history_rows(&rows, changes, count);
		status = rows_end(&rows, why);
	} else if (status == STATUS_OK) {
		say_history(printer, changes, count);
		status = say_end(printer, why);
	}
	arena_free(arena);
	return status;
}
