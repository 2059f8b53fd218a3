/* SPDX-License-Identifier: MIT */
#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "table_file.h"

enum { JSON_LINE_MAX = 64 << 20 };

/* --- what a text means --- */

static int hex_digit(char digit)
{
	static const char digits[] = "0123456789abcdef";
	const char *found = digit == '\0' ? NULL : strchr(digits, digit);

	return found == NULL ? -1 : (int)(found - digits);
}

/* A text as it was before x'HEX' was made of it. */
static enum status take_text(struct table_reader *reader, const char *text, size_t length,
	struct table_value *out, struct fault *why)
{
	*out = (struct table_value){.type = VALUE_TEXT, .text = text, .length = length};
	if (strncmp(text, "x'", 2) != 0)
		return STATUS_OK;
	size_t digits = length - 3;
	if (length < 3 || digits % 2 != 0 || text[length - 1] != '\'')
		return fault_set(why, STATUS_SYNTAX, "it begins with x', but is no x'HEX'");
	char *bytes = arena_alloc(reader->arena, digits / 2 + 1);
	for (size_t i = 0; i < digits / 2; i++) {
		int high = hex_digit(text[2 + i * 2]);
		int low = hex_digit(text[3 + i * 2]);

		if (high < 0 || low < 0)
			return fault_set(why, STATUS_SYNTAX, "it begins with x', but is no x'HEX'");
		bytes[i] = (char)(high << 4 | low);
	}
	out->text = bytes;
	out->length = digits / 2;
	return STATUS_OK;
}

static enum status take_integer(const char *text, struct table_value *out, struct fault *why)
{
	char again[24];
	char *end;

	errno = 0;
	*out = (struct table_value){.type = VALUE_INTEGER, .text = ""};
	out->integer = strtoll(text, &end, 10);
	snprintf(again, sizeof again, "%" PRId64, out->integer);
	if (errno == 0 && *end == '\0' && strcmp(again, text) == 0)
		return STATUS_OK;
	return fault_set(
		why, STATUS_SYNTAX, "'%.40s' is no whole number as it is written here", text);
}

static enum status take_cell(struct table_reader *reader, const struct table_column *column,
	const struct csv_cell *cell, struct table_value *out, struct fault *why)
{
	if (cell->text[0] == '\0' && !cell->quoted && column->may_be_null) {
		*out = (struct table_value){.type = VALUE_NULL, .text = ""};
		return STATUS_OK;
	}
	if (column->is_integer)
		return take_integer(cell->text, out, why);
	return take_text(reader, cell->text, strlen(cell->text), out, why);
}

/* --- CSV --- */

static enum status next_csv(struct table_reader *reader, int32_t *column, struct fault *why)
{
	const struct table_shape *shape = reader->shape;
	struct csv_row row;
	enum status status = csv_next(reader->csv, &row, why);

	*column = -1;
	if (status == STATUS_END)
		return status;
	if (status != STATUS_OK) /* quotes are lost: no row after it can be trusted */
		return status == STATUS_SYNTAX ? STATUS_RANGE : status;
	reader->line_number = row.line;
	if (row.count != shape->count)
		return fault_set(why, STATUS_SYNTAX, "%d cells, expected %d", (int)row.count,
			(int)shape->count);
	for (int32_t i = 0; i < row.count && status == STATUS_OK; i++) {
		status = take_cell(reader, &shape->columns[i], &row.cells[i], &reader->row[i], why);
		*column = status == STATUS_OK ? -1 : i;
	}
	return status;
}

static enum status read_heading(struct table_reader *reader, struct fault *why)
{
	const struct table_shape *shape = reader->shape;
	struct csv_row row;
	enum status status = csv_next(reader->csv, &row, why);

	if (status == STATUS_END)
		return fault_set(why, STATUS_SYNTAX, "it has no heading");
	if (status != STATUS_OK)
		return status;
	bool same = row.count == shape->count;
	for (int32_t i = 0; i < shape->count && same; i++)
		same = strcmp(row.cells[i].text, shape->columns[i].name) == 0;
	if (!same)
		return fault_set(why, STATUS_SYNTAX,
			"line 1: the heading is not that of the table %s, which begins with %s",
			shape->name, shape->columns[0].name);
	return STATUS_OK;
}

/* --- JSON --- */

/* The next line without its end, in reader->line. A NUL in it hides the rest, which then is no
 * JSON. */
static enum status read_line(struct table_reader *reader, struct fault *why)
{
	size_t length = 0;

	for (;;) {
		if (reader->line_size - length < 4096) {
			if (reader->line_size > JSON_LINE_MAX)
				return fault_set(
					why, STATUS_RANGE, "a line of more than 64 megabytes");
			reader->line_size = reader->line_size * 2 + 8192;
			reader->line = block_resize(reader->line, reader->line_size);
		}
		if (fgets(reader->line + length, (int)(reader->line_size - length), reader->in) ==
			NULL)
			break;
		length += strlen(reader->line + length);
		if (length > 0 && reader->line[length - 1] == '\n') {
			reader->line[length - 1] = '\0';
			reader->line_number++;
			return STATUS_OK;
		}
	}
	if (ferror(reader->in))
		return fault_set(why, STATUS_IO, "the file could not be read");
	return fault_set(why, STATUS_RANGE, "the file ends before its last line, ]");
}

static enum status take_value(struct table_reader *reader, int32_t column, const char *name,
	const struct table_value *value, struct fault *why)
{
	const struct table_column *want = &reader->shape->columns[column];

	if (strcmp(name, want->name) != 0)
		return fault_set(why, STATUS_SYNTAX, "'%.40s' stands where %s is expected", name,
			want->name);
	reader->row[column] = *value;
	if (value->type == VALUE_NULL)
		return STATUS_OK;
	if ((value->type == VALUE_INTEGER) != want->is_integer)
		return fault_set(why, STATUS_SYNTAX, "it is to be a %s",
			want->is_integer ? "whole number" : "text");
	if (value->type == VALUE_INTEGER)
		return STATUS_OK;
	return take_text(reader, arena_text_n(reader->arena, value->text, value->length),
		value->length, &reader->row[column], why);
}

static enum status next_json(struct table_reader *reader, int32_t *column, struct fault *why)
{
	const char *name;
	struct table_value value;
	int32_t count = 0;

	*column = -1;
	enum status status = read_line(reader, why);
	if (status != STATUS_OK)
		return status;
	if (strcmp(reader->line, "]") == 0)
		return STATUS_END;
	size_t length = strlen(reader->line);
	if (length > 0 && reader->line[length - 1] == ',')
		reader->line[--length] = '\0';
	status = json_object(reader->json, reader->line, length, why);
	while (status == STATUS_OK) {
		status = json_next(reader->json, &name, &value, why);
		if (status == STATUS_SYNTAX && count < reader->shape->count)
			*column = count;
		if (status != STATUS_OK || count == reader->shape->count)
			break;
		status = take_value(reader, count, name, &value, why);
		*column = status == STATUS_OK ? -1 : count;
		count++;
	}
	if (status == STATUS_END && count == reader->shape->count)
		return STATUS_OK;
	if (status == STATUS_END || status == STATUS_OK)
		return fault_set(why, STATUS_SYNTAX, "%s values, expected %d",
			status == STATUS_OK ? "more" : "fewer", (int)reader->shape->count);
	return status;
}

/* --- either --- */

static enum status read_part(void *context, char *out, size_t size, size_t *got, struct fault *why)
{
	FILE *in = context;

	*got = fread(out, 1, size, in);
	return ferror(in) ? fault_set(why, STATUS_IO, "the file could not be read") : STATUS_OK;
}

enum status table_reader_open(const char *path, enum format format, const struct table_shape *shape,
	struct table_reader *out, struct fault *why)
{
	const struct csv_options options = {.separator = ','};
	struct csv_source source = {.read = read_part};

	*out = (struct table_reader){.format = format, .shape = shape, .arena = arena_new()};
	out->in = fopen(path, "rb");
	if (out->in == NULL)
		return fault_set(why, STATUS_IO, "%s", strerror(errno));
	source.context = out->in;
	if (format == FORMAT_CSV) {
		out->csv = csv_open_source(&source, &options);
		return read_heading(out, why);
	}
	enum status status = json_open(&out->json, why);
	if (status == STATUS_OK)
		status = read_line(out, why);
	if (status == STATUS_OK && strcmp(out->line, "[") != 0)
		status = fault_set(why, STATUS_SYNTAX, "line 1: expected [");
	return status;
}

void table_reader_close(struct table_reader *reader)
{
	csv_close(reader->csv);
	json_close(reader->json);
	block_free(reader->line);
	arena_free(reader->arena);
	if (reader->in != NULL)
		fclose(reader->in);
}

enum status table_reader_next(struct table_reader *reader, const struct table_value **row,
	int32_t *column, struct fault *why)
{
	arena_reset(reader->arena);
	*row = reader->row;
	return reader->format == FORMAT_CSV ? next_csv(reader, column, why)
					    : next_json(reader, column, why);
}
