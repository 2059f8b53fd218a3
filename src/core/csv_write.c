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

/* How many bytes from `at` on stand as they are: nearly always all of them. */
static size_t as_it_stands(const char *text, size_t at, size_t length)
{
	size_t end = at;
	while (end < length && text[end] != '"') {
		size_t used = 1;
		bool is_ascii = ((unsigned char)text[end] & 0x80) == 0;
		if (!is_ascii && text_decode(text + end, length - end, &used) == TEXT_BAD &&
			used == 1)
			break;
		end += used;
	}
	return end - at;
}

/* Quotes twice; bytes that are not UTF-8 as U+FFFD. */
static void write_text(FILE *out, const char *text)
{
	size_t length = strlen(text);
	for (size_t at = 0; at < length; at++) {
		char bad[4];
		size_t size = as_it_stands(text, at, length);
		fwrite(text + at, 1, size, out);
		at += size;
		if (at < length && text[at] == '"')
			fputs("\"\"", out);
		else if (at < length)
			fwrite(bad, 1, text_encode(TEXT_BAD, bad), out);
	}
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
	write_text(writer->out, text);
	if (quotes)
		fputc('"', writer->out);
}

void csv_write_empty(struct csv_writer *writer)
{
	fputs(writer->cells++ > 0 ? ",\"\"" : "\"\"", writer->out);
	writer->blank = false;
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
