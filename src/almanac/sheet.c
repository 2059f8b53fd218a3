/* SPDX-License-Identifier: MIT */
#include "almanac/sheet.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"

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

/* --- reading the file --- */

static enum status read_file(struct sheet *sheet, const char *path, struct fault *why)
{
	FILE *file = fopen(path, "rb");
	if (file == NULL)
		return fault_set(why, STATUS_ABSENT, "no file %s", path);
	size_t room = 65536;
	char *bytes = arena_alloc(sheet->arena, room);
	size_t size = 0;
	for (size_t got; (got = fread(bytes + size, 1, room - size - 1, file)) > 0;) {
		size += got;
		if (size + 1 == room) {
			bytes = arena_grow(sheet->arena, bytes, room, room * 2);
			room *= 2;
		}
	}
	bool failed = ferror(file) != 0;
	fclose(file);
	if (failed)
		return fault_set(why, STATUS_IO, "%s could not be read", path);
	bytes[size] = '\0';
	sheet->bytes = bytes;
	sheet->size = size;
	return STATUS_OK;
}

static enum status row_fault(
	const struct sheet *sheet, enum status status, struct fault *why, const char *text)
{
	return fault_set(why, status, "%s line %d: %s", sheet->name, sheet->line, text);
}

/* One quoted cell (RFC 4180), from after its opening quote. */
static enum status take_quoted(struct sheet *sheet, char *out, size_t *length, struct fault *why)
{
	while (sheet->at < sheet->size) {
		char c = sheet->bytes[sheet->at++];
		if (c == '\n')
			sheet->next_line++;
		if (c == '"' && sheet->bytes[sheet->at] != '"')
			return STATUS_OK;
		if (c == '"')
			sheet->at++;
		out[(*length)++] = c;
	}
	return row_fault(sheet, STATUS_SYNTAX, why, "a quoted cell is not closed");
}

/* One cell into sheet->cell, which has room for the whole file. */
static enum status take_cell(struct sheet *sheet, struct fault *why)
{
	char *out = sheet->cell;
	size_t length = 0;
	if (sheet->bytes[sheet->at] == '"') {
		sheet->at++;
		enum status status = take_quoted(sheet, out, &length, why);
		if (status != STATUS_OK)
			return status;
	} else {
		while (sheet->at < sheet->size && strchr(",\r\n", sheet->bytes[sheet->at]) == NULL)
			out[length++] = sheet->bytes[sheet->at++];
	}
	out[length] = '\0';
	if (!text_is_valid(out, length) || strlen(out) != length)
		return row_fault(sheet, STATUS_SYNTAX, why, "is not UTF-8 text");
	if (sheet->at < sheet->size && strchr(",\r\n", sheet->bytes[sheet->at]) == NULL)
		return row_fault(sheet, STATUS_SYNTAX, why, "text stands after a closing quote");
	return STATUS_OK;
}

static void take_line_end(struct sheet *sheet)
{
	if (sheet->bytes[sheet->at] == '\r')
		sheet->at++;
	if (sheet->bytes[sheet->at] == '\n')
		sheet->at++;
	sheet->next_line++;
}

/* All cells of the row at sheet->at; *count: how many. */
static enum status take_row(struct sheet *sheet, int32_t *count, struct fault *why)
{
	sheet->line = sheet->next_line;
	*count = 0;
	for (;;) {
		if (*count == SHEET_COLUMNS_MAX)
			return row_fault(sheet, STATUS_SYNTAX, why, "has too many cells");
		enum status status = take_cell(sheet, why);
		if (status != STATUS_OK)
			return status;
		sheet->cells[(*count)++] = arena_text(sheet->arena, sheet->cell);
		if (sheet->bytes[sheet->at] != ',')
			break;
		sheet->at++;
	}
	take_line_end(sheet);
	return STATUS_OK;
}

static enum status check_header(struct sheet *sheet, struct fault *why)
{
	int32_t count = 0;
	enum status status = take_row(sheet, &count, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; i < sheet->column_count; i++) {
		if (i >= count || strcmp(sheet->cells[i], sheet->columns[i]) != 0)
			return sheet_fault(sheet, i, STATUS_SYNTAX, why,
				"this column should be named so, not \"%s\"",
				i < count ? sheet->cells[i] : "");
	}
	if (count > sheet->column_count)
		return fault_set(why, STATUS_SYNTAX, "%s line 1: a column \"%s\" is not known",
			sheet->name, sheet->cells[sheet->column_count]);
	return STATUS_OK;
}

enum status sheet_open(struct sheet *sheet, struct arena *arena, const char *directory,
	const char *name, const char *const *columns, struct fault *why)
{
	*sheet = (struct sheet){
		.name = name, .columns = columns, .arena = arena, .line = 1, .next_line = 1};
	while (columns[sheet->column_count] != NULL)
		sheet->column_count++;
	enum status status = read_file(sheet, arena_format(arena, "%s/%s", directory, name), why);
	if (status != STATUS_OK)
		return status;
	if (sheet->size >= 3 && memcmp(sheet->bytes, "\xEF\xBB\xBF", 3) == 0)
		sheet->at = 3; /* a spreadsheet's byte-order mark */
	sheet->cell = arena_alloc(arena, sheet->size + 1);
	return check_header(sheet, why);
}

enum status sheet_next(struct sheet *sheet, struct fault *why)
{
	while (sheet->at < sheet->size && strchr("\r\n", sheet->bytes[sheet->at]) != NULL)
		take_line_end(sheet);
	if (sheet->at >= sheet->size)
		return STATUS_END;
	int32_t count = 0;
	enum status status = take_row(sheet, &count, why);
	if (status != STATUS_OK)
		return status;
	if (count != sheet->column_count)
		return fault_set(why, STATUS_SYNTAX, "%s line %d: %d cells, not %d", sheet->name,
			sheet->line, count, sheet->column_count);
	return STATUS_OK;
}
