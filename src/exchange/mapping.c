/* SPDX-License-Identifier: MIT */
#include "mapping.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum { ACCOUNT_LINES_MAX = 200 };

static enum status encoding_of(const char *name, enum csv_encoding *out, struct fault *why)
{
	static const char *const names[] = {"utf8", "utf16", "latin1"};

	*out = CSV_UTF8;
	if (name == NULL)
		return STATUS_OK;
	for (int i = 0; i < 3; i++)
		if (strcmp(names[i], name) == 0) {
			*out = (enum csv_encoding)i;
			return STATUS_OK;
		}
	return fault_set(why, STATUS_SYNTAX, "--encoding is utf8, utf16 or latin1, not '%s'", name);
}

static enum status unknown_column(
	const struct mapping *mapping, const char *column, struct fault *why)
{
	char known[300];
	struct text_builder list = text_builder_fixed(known, sizeof known);

	text_add(&list, "");
	for (int32_t i = 0; i < mapping->heading.count; i++)
		text_add_format(&list, "%s%s", i > 0 ? ", " : "", csv_text(&mapping->heading, i));
	return fault_set(
		why, STATUS_SYNTAX, "the file has no column '%s'; it has: %s", column, known);
}

/* One "name=column". */
static enum status map_one(
	struct mapping *mapping, const char *pair, size_t length, struct fault *why)
{
	char name[NAME_SIZE], column[NAME_SIZE];
	size_t equals = strcspn(pair, "=");

	if (equals >= length)
		return fault_set(why, STATUS_SYNTAX,
			"--columns wants name=COLUMN pairs with commas between, not '%.*s'",
			(int)length, pair);
	text_copy_n(name, sizeof name, pair, equals);
	text_copy_n(column, sizeof column, pair + equals + 1, length - equals - 1);
	for (int32_t i = 0; mapping->names[i] != NULL; i++)
		if (strcmp(mapping->names[i], name) == 0) {
			mapping->columns[i] = csv_find(&mapping->heading, column);
			return mapping->columns[i] >= 0 ? STATUS_OK
							: unknown_column(mapping, column, why);
		}
	return fault_set(why, STATUS_SYNTAX, "--columns does not know '%s' here", name);
}

static enum status map_all(struct mapping *mapping, const char *columns, struct fault *why)
{
	for (const char *at = columns; *at != '\0';) {
		size_t length = strcspn(at, ",");
		enum status status = map_one(mapping, at, length, why);

		if (status != STATUS_OK)
			return status;
		at += length;
		at += *at == ',';
	}
	return STATUS_OK;
}

/* No columns said: the ones whose headings are the import's own names. */
static void map_by_name(struct mapping *mapping)
{
	for (int32_t i = 0; mapping->names[i] != NULL; i++)
		mapping->columns[i] = csv_find(&mapping->heading, mapping->names[i]);
}

static enum status find_columns(struct session *session, const struct import_options *options,
	const char *what, struct arena *arena, struct mapping *mapping, const char **columns,
	struct fault *why)
{
	struct layout layout;

	*columns = options->columns;
	if (*columns != NULL || options->layout == NULL)
		return STATUS_OK;
	enum status status =
		store_layout_find(session->store, what, options->layout, arena, &layout, why);
	if (status != STATUS_OK)
		return status;
	size_t length = strcspn(layout.columns, "\n");
	mapping->more = layout.columns + length + (layout.columns[length] == '\n' ? 1 : 0);
	*columns = arena_text_n(arena, layout.columns, length);
	text_copy(mapping->units, sizeof mapping->units, layout.units);
	text_copy(mapping->dates, sizeof mapping->dates, layout.dates);
	return STATUS_OK;
}

/* A file that is not there is a failure of the file, not of the words. */
static enum status read_file(const char *path, struct file_bytes *out, struct fault *why)
{
	enum status status = file_read_whole(path, FILE_SIZE_MAX, out, why);

	if (status != STATUS_ABSENT)
		return status;
	return fault_set(why, STATUS_IO, "there is no file %s", path);
}

enum status mapping_open(struct session *session, const struct import_options *options,
	const char *what, const char *const *names, struct arena *arena, struct mapping *out,
	struct fault *why)
{
	struct csv_options csv = {0};
	struct csv_row row;
	const char *columns = NULL;

	*out = (struct mapping){.names = names, .more = ""};
	for (int i = 0; i < MAPPING_MAX; i++)
		out->columns[i] = -1;
	enum status status = encoding_of(options->encoding, &csv.encoding, why);
	if (status == STATUS_OK)
		status = find_columns(session, options, what, arena, out, &columns, why);
	if (status == STATUS_OK)
		status = read_file(options->path, &out->file, why);
	if (status != STATUS_OK)
		return status;
	out->reader = csv_open(out->file.bytes, out->file.length, &csv);
	status = csv_next(out->reader, &row, why);
	if (status == STATUS_END)
		return fault_set(why, STATUS_SYNTAX, "%s holds no rows", options->path);
	if (status != STATUS_OK)
		return status;
	out->heading = csv_row_copy(arena, &row);
	if (columns == NULL) {
		map_by_name(out);
		return STATUS_OK;
	}
	out->text = columns;
	return map_all(out, columns, why);
}

void mapping_close(struct mapping *mapping)
{
	csv_close(mapping->reader);
	file_free(&mapping->file);
}

const char *mapping_text(const struct mapping *mapping, const struct csv_row *row, int32_t name)
{
	return csv_text(row, mapping->columns[name]);
}

const char *mapping_kept(const struct mapping *mapping, const char *key, struct arena *arena)
{
	size_t size = strlen(key);

	for (const char *at = mapping->more; *at != '\0';) {
		size_t length = strcspn(at, "\n");

		if (length > size && strncmp(at, key, size) == 0 && at[size] == '=')
			return arena_text_n(arena, at + size + 1, length - size - 1);
		at += length + (at[length] == '\n' ? 1 : 0);
	}
	return "";
}

bool mapping_has(const struct mapping *mapping, int32_t name)
{
	return mapping->columns[name] >= 0;
}

enum status mapping_remember(struct session *session, const struct import_options *options,
	const struct mapping *mapping, const char *what, struct fault *why)
{
	struct layout layout = {.columns = mapping->text};

	if (options->layout == NULL || mapping->text == NULL)
		return STATUS_OK;
	struct arena *arena = arena_new();
	if (mapping->more[0] != '\0')
		layout.columns = arena_format(arena, "%s\n%s", mapping->text, mapping->more);
	text_copy(layout.name, sizeof layout.name, options->layout);
	text_copy(layout.what, sizeof layout.what, what);
	text_copy(layout.units, sizeof layout.units, mapping->units);
	text_copy(layout.dates, sizeof layout.dates, mapping->dates);
	enum status status = store_layout_put(session->store, &layout, why);
	arena_free(arena);
	return status;
}

void account_say(struct import_account *account, struct arena *arena, const char *format, ...)
{
	char line[FAULT_TEXT_SIZE];
	va_list arguments;

	if (account->lines == NULL)
		account->lines = arena_array(arena, ACCOUNT_LINES_MAX, sizeof account->lines[0]);
	if (account->line_count == ACCOUNT_LINES_MAX)
		return;
	va_start(arguments, format);
	vsnprintf(line, sizeof line, format, arguments);
	va_end(arguments);
	account->lines[account->line_count++] = arena_text(arena, line);
}
