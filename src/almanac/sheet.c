/* SPDX-License-Identifier: MIT */
#include "almanac/sheet.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "core/csv.h"

enum status sheet_fault(const struct sheet *sheet, int32_t column, enum status status,
	struct fault *why, const char *format, ...)
{
	char text[FAULT_TEXT_SIZE];
	va_list arguments;
	va_start(arguments, format);
	vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	return fault_set(why, status, "%s line %d column %d (%s): %s", sheet->name, sheet->line,
		column + 1, sheet->columns[column], text);
}

/* FNV-1a, 64 bits (Fowler, Noll, Vo; IETF draft-eastlake-fnv), taking eight bytes at a time where
 * there are so many. */
static uint64_t digest_add(uint64_t digest, const char *bytes, size_t size)
{
	const uint64_t prime = UINT64_C(1099511628211);
	for (uint64_t eight; size >= sizeof eight; bytes += sizeof eight, size -= sizeof eight) {
		memcpy(&eight, bytes, sizeof eight);
		digest = (digest ^ eight) * prime;
		digest ^= digest >> 32; /* what a product carries upward alone comes down again */
	}
	for (size_t i = 0; i < size; i++)
		digest = (digest ^ (unsigned char)bytes[i]) * prime;
	return digest;
}

/* --- reading the file --- */

/* The whole file, which the caller frees. */
static enum status read_file(const char *path, char **bytes, size_t *size, struct fault *why)
{
	FILE *file = fopen(path, "rb");
	if (file == NULL)
		return fault_set(why, STATUS_ABSENT, "no file %s", path);
	size_t room = 65536;
	*bytes = block_new(room);
	*size = 0;
	for (size_t got; (got = fread(*bytes + *size, 1, room - *size, file)) > 0;) {
		*size += got;
		if (*size == room)
			*bytes = block_resize(*bytes, room *= 2);
	}
	bool failed = ferror(file) != 0;
	fclose(file);
	if (failed)
		return fault_set(why, STATUS_IO, "%s could not be read", path);
	return STATUS_OK;
}

static struct sheet_row copy_row(struct arena *arena, const struct csv_row *row)
{
	return (struct sheet_row){.text = arena_grow(arena, row->text, row->size, row->size),
		.count = row->count,
		.line = row->line};
}

/* All rows of the file, so that a broken one is found before any is used. */
static enum status read_rows(struct sheet *sheet, const char *bytes, size_t size, struct fault *why)
{
	struct csv_options options = {.encoding = CSV_UTF8};
	struct csv_reader *reader = csv_open(bytes, size, &options);
	size_t room = 0;
	struct csv_row row;
	enum status status = STATUS_OK;
	while ((status = csv_next(reader, &row, why)) == STATUS_OK) {
		if ((size_t)sheet->row_count == room) {
			size_t grown = room == 0 ? 64 : room * 2;
			sheet->rows = arena_grow(sheet->arena, sheet->rows,
				room * sizeof sheet->rows[0], grown * sizeof sheet->rows[0]);
			room = grown;
		}
		sheet->rows[sheet->row_count++] = copy_row(sheet->arena, &row);
	}
	csv_close(reader);
	if (status != STATUS_END)
		fault_prefix(why, "%s ", sheet->name);
	return status == STATUS_END ? STATUS_OK : status;
}

static void take_row(struct sheet *sheet)
{
	const struct sheet_row *row = &sheet->rows[sheet->at++];
	const char *text = row->text;
	sheet->line = row->line;
	for (int32_t i = 0; i < sheet->column_count; i++) {
		sheet->cells[i] = i < row->count ? text : "";
		text += i < row->count ? strlen(text) + 1 : 0;
	}
	sheet->beyond = row->count > sheet->column_count ? text : NULL;
}

static enum status check_header(struct sheet *sheet, struct fault *why)
{
	if (sheet->row_count == 0)
		return fault_set(why, STATUS_SYNTAX, "%s is empty", sheet->name);
	take_row(sheet);
	for (int32_t i = 0; i < sheet->column_count; i++) {
		if (strcmp(sheet->cells[i], sheet->columns[i]) != 0)
			return sheet_fault(sheet, i, STATUS_SYNTAX, why,
				"this column should be named so, not \"%s\"", sheet->cells[i]);
	}
	if (sheet->beyond != NULL)
		return fault_set(why, STATUS_SYNTAX, "%s line %d: a column \"%s\" is not known",
			sheet->name, sheet->line, sheet->beyond);
	return STATUS_OK;
}

enum status sheet_open(struct sheet *sheet, struct arena *arena, const char *directory,
	const char *name, const char *const *columns, uint64_t digest, struct fault *why)
{
	*sheet = (struct sheet){.name = name, .columns = columns, .arena = arena};
	while (columns[sheet->column_count] != NULL)
		sheet->column_count++;
	assert(sheet->column_count <= SHEET_COLUMNS_MAX);
	char *bytes = NULL;
	size_t size = 0;
	enum status status =
		read_file(arena_format(arena, "%s/%s", directory, name), &bytes, &size, why);
	if (status == STATUS_OK)
		status = read_rows(sheet, bytes, size, why);
	if (status == STATUS_OK)
		sheet->digest = digest_add(digest_add(digest, name, strlen(name) + 1), bytes, size);
	block_free(bytes);
	return status == STATUS_OK ? check_header(sheet, why) : status;
}

enum status sheet_next(struct sheet *sheet, struct fault *why)
{
	if (sheet->at >= sheet->row_count)
		return STATUS_END;
	int32_t count = sheet->rows[sheet->at].count;
	take_row(sheet);
	if (count != sheet->column_count)
		return fault_set(why, STATUS_SYNTAX, "%s line %d: %d cells, not %d", sheet->name,
			sheet->line, count, sheet->column_count);
	return STATUS_OK;
}
