/* SPDX-License-Identifier: MIT */
#include "mapping.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum { ACCOUNT_LINES_MAX = 400, HEADING_ROWS = 20 };

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

static bool stands_twice(const struct mapping *mapping, int32_t column)
{
	const struct csv_row rest = {.cells = mapping->heading.cells + column + 1,
		.count = mapping->heading.count - column - 1};
	char name[256];
	size_t length;
	const char *start = text_trim(csv_text(&mapping->heading, column), &length);

	text_copy_n(name, sizeof name, start, length);
	return csv_find(&rest, name) >= 0;
}

/* One "name=column", or "skip=column": a column of the file that is none of the import's. */
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
	int32_t at = csv_find(&mapping->heading, column);
	if (at < 0)
		return unknown_column(mapping, column, why);
	if (stands_twice(mapping, at))
		return fault_set(why, STATUS_SYNTAX,
			"two columns of the file are called '%s': give one another name", column);
	if (strcmp(name, "skip") == 0) {
		mapping->passed[at] = true;
		return STATUS_OK;
	}
	for (int32_t i = 0; mapping->names[i] != NULL; i++)
		if (strcmp(mapping->names[i], name) == 0) {
			mapping->columns[i] = at;
			return STATUS_OK;
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
static enum status map_by_name(struct mapping *mapping, struct fault *why)
{
	int32_t found = 0;

	for (int32_t i = 0; mapping->names[i] != NULL; i++) {
		mapping->columns[i] = csv_find(&mapping->heading, mapping->names[i]);
		found += mapping->columns[i] >= 0;
		if (mapping->columns[i] >= 0 && stands_twice(mapping, mapping->columns[i]))
			return fault_set(why, STATUS_SYNTAX,
				"two columns of the file are called '%s': give one another name",
				mapping->names[i]);
	}
	if (found > 0)
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX,
		"the first line names no column of this import: say which is which with "
		"--columns %s=COLUMN,...",
		mapping->names[0]);
}

static enum status map_row(struct mapping *mapping, const struct csv_row *row, const char *columns,
	struct arena *arena, struct fault *why)
{
	mapping->heading = csv_row_copy(arena, row);
	mapping->passed = arena_array(arena, (size_t)row->count + 1, sizeof(bool));
	for (int i = 0; i < MAPPING_MAX; i++)
		mapping->columns[i] = -1;
	return columns == NULL ? map_by_name(mapping, why) : map_all(mapping, columns, why);
}

/* The first row with all the columns is the heading; above it a sheet may have its title. What is
 * told when there is none is what is wrong with the first row. */
static enum status find_heading(struct mapping *mapping, const struct import_options *options,
	const char *columns, struct arena *arena, struct fault *why)
{
	struct fault first = {0}, later = {0};

	for (int i = 0; i < HEADING_ROWS; i++) {
		struct csv_row row;
		enum status status = csv_next(mapping->reader, &row, i == 0 ? why : &later);

		if (status == STATUS_END && i == 0)
			return fault_set(why, STATUS_SYNTAX, "%s holds no rows", options->path);
		if (status != STATUS_OK && i == 0)
			return status;
		if (status != STATUS_OK)
			break;
		status = map_row(mapping, &row, columns, arena, i == 0 ? &first : &later);
		if (status == STATUS_OK)
			return STATUS_OK;
	}
	return fault_set(why, first.status, "%s", first.text);
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
	if (status == STATUS_ABSENT && why != NULL)
		return fault_set(why, status, "%.400s; --columns makes it", why->text);
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
static enum status open_file(const char *path, struct mapping *out, struct fault *why)
{
	enum status status = STATUS_CONFLICT;

	if (strcmp(path, "-") != 0)
		status = file_stream_open(path, &out->stream, why);
	if (status == STATUS_CONFLICT)
		status = file_read_whole(path, FILE_SIZE_MAX, &out->file, why);
	if (status != STATUS_ABSENT)
		return status;
	return fault_set(why, STATUS_IO, "there is no file %s", path);
}

static enum status read_stream(
	void *context, char *out, size_t size, size_t *got, struct fault *why)
{
	return file_stream_read(context, out, size, got, why);
}

static struct csv_reader *open_reader(const struct mapping *mapping, enum csv_encoding encoding)
{
	const struct csv_options options = {.encoding = encoding};
	const struct csv_source source = {.context = mapping->stream, .read = read_stream};

	return mapping->stream != NULL
		       ? csv_open_source(&source, &options)
		       : csv_open(mapping->file.bytes, mapping->file.length, &options);
}

enum status mapping_open(struct session *session, const struct import_options *options,
	const char *what, const char *const *names, struct arena *arena, struct mapping *out,
	struct fault *why)
{
	enum csv_encoding encoding = CSV_UTF8;
	const char *columns = NULL;

	*out = (struct mapping){.names = names, .more = ""};
	enum status status = find_columns(session, options, what, arena, out, &columns, why);
	if (status == STATUS_OK)
		status = encoding_of(
			mapping_said(out, options->encoding, "encoding", arena), &encoding, why);
	if (status == STATUS_OK)
		status = open_file(options->path, out, why);
	if (status != STATUS_OK)
		return status;
	out->reader = open_reader(out, encoding);
	out->text = columns;
	return find_heading(out, options, columns, arena, why);
}

void mapping_close(struct mapping *mapping)
{
	csv_close(mapping->reader);
	file_stream_close(mapping->stream);
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

const char *mapping_said(
	const struct mapping *mapping, const char *said, const char *key, struct arena *arena)
{
	if (said != NULL)
		return said;
	const char *kept = mapping_kept(mapping, key, arena);
	return kept[0] != '\0' ? kept : NULL;
}

void mapping_where(
	const struct mapping *mapping, const struct csv_row *row, int32_t column, struct fault *why)
{
	if (column >= 0 && column < row->count)
		fault_prefix(why, "line %d, column %d (%s): ", row->cells[column].line,
			row->cells[column].column, csv_text(&mapping->heading, column));
	else
		fault_prefix(why, "line %d: ", row->line);
}

static int32_t cells_used(const struct csv_row *row)
{
	int32_t count = row->count;

	while (count > 0 && row->cells[count - 1].text[0] == '\0')
		count--;
	return count;
}

enum status mapping_check_cells(
	const struct mapping *mapping, const struct csv_row *row, struct fault *why)
{
	int32_t least = cells_used(&mapping->heading);

	if (row->count >= least && cells_used(row) <= mapping->heading.count)
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX,
		"%d cell%s, where the heading names %d columns: put in or take out a separator, "
		"or quote the cell that holds one",
		(int)row->count, row->count == 1 ? "" : "s", (int)least);
}

/* What stations and sheets write where there is nothing; a word that is not here is refused. */
bool mapping_is_blank(const char *text, const char *missing)
{
	static const char *const words[] = {"", "-", "--", "na", "n/a", "null"};
	char one[KEY_SIZE];
	bool figure = text[0] >= '0' && text[0] <= '9'; /* nearly all: no such word */

	for (size_t i = 0; !figure && i < sizeof(words) / sizeof(words[0]); i++)
		if (text_same(text, words[i]))
			return true;
	for (const char *at = missing; *at != '\0';) {
		size_t length = strcspn(at, ",");

		text_copy_n(one, sizeof one, at, length);
		if (text_same(text, one))
			return true;
		at += length + (at[length] == ',' ? 1 : 0);
	}
	return false;
}

bool mapping_names(const struct mapping *mapping, int32_t column)
{
	for (int32_t i = 0; mapping->names[i] != NULL; i++)
		if (mapping->columns[i] == column)
			return true;
	return false;
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
