/* SPDX-License-Identifier: MIT */
#include "report/rows.h"

#include <stdarg.h>
#include <string.h>

#include "core/text.h"

struct rows rows_begin(const struct printer *printer, const char *const *keys)
{
	struct rows rows = {
		.printer = printer, .keys = keys, .csv = csv_writer_to(printer->stream)};

	if (printer->format == FORMAT_JSON) {
		fputs("[", printer->stream);
		return rows;
	}
	for (int32_t i = 0; keys[i] != NULL; i++)
		csv_write(&rows.csv, keys[i]);
	csv_end_row(&rows.csv);
	return rows;
}

/* How many bytes of text from `at` on stand in JSON as they are. */
static size_t json_plain(const char *text, size_t at, size_t length)
{
	size_t end = at;
	size_t used = 1;

	while (end < length) {
		unsigned char byte = (unsigned char)text[end];

		if (byte < 0x20 || byte == '"' || byte == '\\' || byte == 0x7f)
			break;
		used = 1;
		if (byte >= 0x80 && text_decode(text + end, length - end, &used) == TEXT_BAD &&
			used == 1)
			break;
		end += used;
	}
	return end - at;
}

void json_write_text(FILE *stream, const char *text)
{
	size_t length = strlen(text);

	fputc('"', stream);
	for (size_t at = 0; at < length;) {
		size_t plain = json_plain(text, at, length);

		fwrite(text + at, 1, plain, stream);
		at += plain;
		if (at == length)
			break;
		unsigned char byte = (unsigned char)text[at++];
		char bad[4];

		if (byte == '"' || byte == '\\')
			fprintf(stream, "\\%c", byte);
		else if (byte < 0x80)
			fprintf(stream, "\\u%04x", (unsigned)byte);
		else
			fwrite(bad, 1, text_encode(TEXT_BAD, bad), stream);
	}
	fputc('"', stream);
}

static void json_key(struct rows *rows)
{
	FILE *stream = rows->printer->stream;

	if (rows->at == 0)
		fputs(rows->count > 0 ? ",\n {" : "\n {", stream);
	else
		fputs(", ", stream);
	json_write_text(stream, rows->keys[rows->at]);
	fputs(": ", stream);
}

/* The cell is written: on to the next key, or the row's end. */
static void step(struct rows *rows)
{
	if (rows->keys[++rows->at] != NULL)
		return;
	rows->at = 0;
	rows->count++;
	if (rows->printer->format == FORMAT_JSON)
		fputs("}", rows->printer->stream);
	else
		csv_end_row(&rows->csv);
}

/* A value that needs no quotes in JSON; NULL: unknown. */
static void bare(struct rows *rows, const char *value)
{
	if (rows->printer->format == FORMAT_JSON) {
		json_key(rows);
		fputs(value != NULL ? value : "null", rows->printer->stream);
	} else {
		csv_write(&rows->csv, value);
	}
	step(rows);
}

void rows_text(struct rows *rows, const char *text)
{
	if (text == NULL || text[0] == '\0') {
		bare(rows, NULL);
		return;
	}
	if (rows->printer->format == FORMAT_JSON) {
		json_key(rows);
		json_write_text(rows->printer->stream, text);
	} else {
		csv_write(&rows->csv, text);
	}
	step(rows);
}

void rows_i64(struct rows *rows, struct maybe_i64 value)
{
	char text[24];

	snprintf(text, sizeof text, "%lld", (long long)value.value);
	bare(rows, value.known ? text : NULL);
}

void rows_i32(struct rows *rows, int32_t value)
{
	rows_i64(rows, known_i64(value));
}

void rows_date(struct rows *rows, struct maybe_date date)
{
	char text[DATE_SIZE];

	rows_text(rows, date.known ? date_format(date.value, text) : NULL);
}

void rows_decimal(struct rows *rows, bool known, double value, int decimals)
{
	char text[64];

	snprintf(text, sizeof text, "%.*f", decimals, value);
	bare(rows, known ? text : NULL);
}

void rows_grams(struct rows *rows, struct maybe_i64 mass_mg)
{
	if (mass_mg.known)
		mass_mg.value = round_i64((double)mass_mg.value / 1000.0);
	rows_i64(rows, mass_mg);
}

void rows_bool(struct rows *rows, bool value)
{
	if (rows->printer->format == FORMAT_JSON)
		bare(rows, value ? "true" : "false");
	else
		bare(rows, value ? "1" : "0");
}

enum status rows_end(struct rows *rows, struct fault *why)
{
	if (rows->printer->format == FORMAT_JSON)
		fputs(rows->count > 0 ? "\n]\n" : "]\n", rows->printer->stream);
	return say_end(rows->printer, why);
}

enum status say_end(const struct printer *printer, struct fault *why)
{
	if (fflush(printer->stream) != 0 || ferror(printer->stream))
		return fault_set(why, STATUS_IO, "the output could not be written");
	return STATUS_OK;
}

static void put_clean(const struct printer *printer, const char *text, size_t length)
{
	char part[LINE_SIZE];
	char clean[LINE_SIZE * 3];

	text_copy_n(part, sizeof part, text, length);
	fputs(text_clean(part, printer->ascii ? TEXT_ASCII : TEXT_PLAIN, clean, sizeof clean),
		printer->stream);
}

static size_t length_without_blanks(const char *line)
{
	size_t length = strlen(line);

	while (length > 0 && line[length - 1] == ' ')
		length--;
	return length;
}

/* How many bytes of text fit in `cells`, breaking at a blank where there is one. A path is not
 * broken: it is there to be copied. */
static size_t line_length(const char *text, int cells)
{
	size_t length = strlen(text);
	size_t fits = 0;
	size_t at_blank = 0;
	int used = 0;

	while (fits < length) {
		size_t next = text_next(text, length, fits);

		used += text_width_n(text + fits, next - fits);
		if (used > cells)
			break;
		if (text[fits] == ' ')
			at_blank = fits;
		fits = next;
	}
	if (fits == length)
		return length;
	if (text[fits] == ' ')
		return fits;
	if (at_blank == 0 && text[0] == '/')
		return strcspn(text, " ");
	return at_blank > 0 ? at_blank : (fits > 0 ? fits : length);
}

/* The rest of a text, each line but the first behind `indent` blanks. */
static void put_lines(const struct printer *printer, const char *text, int indent, int cells)
{
	for (const char *at = text;;) {
		size_t length = line_length(at, cells);
		size_t shown = length;

		while (shown > 0 && at[shown - 1] == ' ')
			shown--;
		put_clean(printer, at, shown);
		fputc('\n', printer->stream);
		at += length;
		at += strspn(at, " ");
		if (*at == '\0')
			break;
		fprintf(printer->stream, "%*s", indent, "");
	}
}

void say_line(const struct printer *printer, const char *format, ...)
{
	char line[LINE_SIZE];
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(line, sizeof line, format, arguments);
	va_end(arguments);
	line[length_without_blanks(line)] = '\0';
	if (text_width(line) <= printer->width) {
		put_clean(printer, line, strlen(line));
		fputc('\n', printer->stream);
		return;
	}
	int indent = (int)strspn(line, " ");

	if (indent > printer->width / 2)
		indent = printer->width / 2;
	fprintf(printer->stream, "%*s", indent, "");
	put_lines(printer, line + indent, indent + 2, printer->width - indent - 2);
}

void say_wrapped(const struct printer *printer, const char *first, const char *format, ...)
{
	char text[LINE_SIZE];
	va_list arguments;
	int indent = text_width(first);
	int cells = printer->width - indent;

	va_start(arguments, format);
	vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	text[length_without_blanks(text)] = '\0';
	if (cells < 20)
		cells = 20;
	put_clean(printer, first, text[0] != '\0' ? strlen(first) : length_without_blanks(first));
	put_lines(printer, text, indent, cells);
}

const char *source_title(const struct almanac *almanac, const char *source)
{
	const struct source_row *row = almanac_source(almanac, source);

	return row != NULL ? row->title : source;
}
