/* SPDX-License-Identifier: MIT */
#include <inttypes.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"
#include "table_file.h"

struct table_writer table_writer_begin(
	enum format format, const struct table_shape *shape, FILE *out, struct arena *arena)
{
	struct table_writer writer = {.format = format,
		.shape = shape,
		.out = out,
		.csv = csv_writer_to(out),
		.arena = arena};

	if (format == FORMAT_JSON) {
		fputs("[\n", out);
		return writer;
	}
	for (int32_t i = 0; i < shape->count; i++)
		csv_write(&writer.csv, shape->columns[i].name);
	csv_end_row(&writer.csv);
	return writer;
}

/* The text itself; where a reader of text would not give it back, its bytes. */
static const char *plain_text(struct table_writer *writer, const struct table_value *value)
{
	static const char digits[] = "0123456789abcdef";

	if (strncmp(value->text, "x'", 2) != 0 && strlen(value->text) == value->length &&
		text_is_valid(value->text, value->length))
		return value->text;
	char *hex = arena_alloc(writer->arena, value->length * 2 + 4);
	char *at = hex;
	*at++ = 'x';
	*at++ = '\'';
	for (size_t i = 0; i < value->length; i++) {
		unsigned char byte = (unsigned char)value->text[i];

		*at++ = digits[byte >> 4];
		*at++ = digits[byte & 15];
	}
	*at = '\'';
	return hex;
}

static void write_cell(struct table_writer *writer, const struct table_column *column,
	const struct table_value *value)
{
	switch (value->type) {
	case VALUE_NULL:
		csv_write(&writer->csv, NULL);
		return;
	case VALUE_INTEGER:
		csv_write_i64(&writer->csv, value->integer);
		return;
	case VALUE_TEXT:
		if (value->length == 0 && column->may_be_null)
			csv_write_empty(&writer->csv);
		else
			csv_write(&writer->csv, plain_text(writer, value));
	}
}

static void write_value(struct table_writer *writer, const struct table_value *value)
{
	switch (value->type) {
	case VALUE_NULL:
		fputs("null", writer->out);
		return;
	case VALUE_INTEGER:
		fprintf(writer->out, "%" PRId64, value->integer);
		return;
	case VALUE_TEXT:
		json_write_text(writer->out, plain_text(writer, value));
	}
}

static enum status check_length(
	const struct table_writer *writer, const struct table_value *row, struct fault *why)
{
	size_t length = 0;

	for (int32_t i = 0; i < writer->shape->count; i++)
		length += row[i].length * 2 + 32; /* as hexadecimal digits at worst */
	if (length <= CSV_ROW_SIZE_MAX)
		return STATUS_OK;
	return fault_set(why, STATUS_RANGE,
		"%s %s is too long for a row of CSV; --format json holds it", writer->shape->name,
		row[0].text);
}

enum status table_writer_row(
	struct table_writer *writer, const struct table_value *row, struct fault *why)
{
	const struct table_shape *shape = writer->shape;

	arena_reset(writer->arena);
	if (writer->format == FORMAT_CSV) {
		enum status status = check_length(writer, row, why);

		for (int32_t i = 0; i < shape->count && status == STATUS_OK; i++)
			write_cell(writer, &shape->columns[i], &row[i]);
		csv_end_row(&writer->csv);
		writer->rows++;
		return status;
	}
	fputs(writer->rows++ > 0 ? ",\n {" : " {", writer->out);
	for (int32_t i = 0; i < shape->count; i++) {
		fprintf(writer->out, "%s\"%s\": ", i > 0 ? ", " : "", shape->columns[i].name);
		write_value(writer, &row[i]);
	}
	fputc('}', writer->out);
	return STATUS_OK;
}

void table_writer_end(struct table_writer *writer)
{
	if (writer->format == FORMAT_JSON)
		fputs(writer->rows > 0 ? "\n]\n" : "]\n", writer->out);
}
