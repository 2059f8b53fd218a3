/* SPDX-License-Identifier: MIT */
#include <inttypes.h>
#include <string.h>

#include "core/csv_parts.h"
#include "core/text.h"

bool csv_would_run(const char *text)
{
	return *text != '\0' && strchr("=+-@\t\r", *text) != NULL;
}

struct csv_writer csv_writer_to(FILE *out)
{
	return (struct csv_writer){.out = out};
}

/* A sign, digits, and perhaps a point and digits: no spreadsheet runs it. */
static bool is_plain_number(const char *text)
{
	if (*text == '+' || *text == '-')
		text++;
	size_t digits = strspn(text, "0123456789");
	text += digits;
	if (digits > 0 && *text == '.') {
		size_t decimals = strspn(text + 1, "0123456789");
		return decimals > 0 && text[1 + decimals] == '\0';
	}
	return digits > 0 && *text == '\0';
}

static bool needs_guard(const char *text)
{
	return csv_would_run(text + strspn(text, "'")) && !is_plain_number(text);
}

void csv_write(struct csv_writer *writer, const char *text)
{
	if (text == NULL)
		text = "";
	if (writer->cells > 0)
		fputc(',', writer->out);
	writer->blank = writer->cells++ == 0 && *text == '\0';
	bool guard = needs_guard(text);
	/* A byte order mark at the start of a file would be taken for one. */
	bool quotes =
		strpbrk(text, ",\"\r\n") != NULL || strncmp(text, CSV_BYTE_ORDER_MARK, 3) == 0;
	if (quotes)
		fputc('"', writer->out);
	if (guard)
		fputc('\'', writer->out);
	size_t used;
	size_t length = strlen(text);
	for (size_t at = 0; at < length; at += used) {
		char bytes[4];
		uint32_t code = text_decode(text + at, length - at, &used);
		if (code == '"')
			fputc('"', writer->out);
		fwrite(bytes, 1, text_encode(code, bytes), writer->out);
	}
	if (quotes)
		fputc('"', writer->out);
}

void csv_write_i64(struct csv_writer *writer, int64_t number)
{
	char text[24];
	snprintf(text, sizeof text, "%" PRId64, number);
	csv_write(writer, text);
}

void csv_end_row(struct csv_writer *writer)
{
	/* A row of one empty cell must not look like an empty line. */
	fputs(writer->blank ? "\"\"\r\n" : "\r\n", writer->out);
	writer->cells = 0;
	writer->blank = false;
}
