/* SPDX-License-Identifier: MIT */
#include "core/csv.h"

#include <string.h>

#include "core/csv_parts.h"
#include "core/text.h"

/* The reader goes character by character, whatever the encoding: read_code gives the one after
 * `at` and steps on. Cells of the row are gathered as UTF-8 in `room`, each closed with NUL. */
struct csv_reader {
	const unsigned char *bytes;
	size_t length;
	size_t at;
	struct csv_source source; /* read NULL: the bytes are all there is */
	unsigned char *window;    /* of a source: what bytes points to */
	enum csv_encoding encoding;
	bool big_endian;
	char separator;
	unsigned char marks[256]; /* of each byte */
	int32_t line;
	int32_t column;
	bool after_cr;
	enum status failed; /* STATUS_OK: not yet */
	struct fault fault;
	char *room;
	size_t room_size;
	size_t room_length;
	struct csv_cell *cells;
	size_t *starts; /* where each cell starts in room, which may move */
	int32_t cells_size;
	int32_t count;
};

/* ASCII characters that go into a cell as they are, and those that may end a run of them: a
 * separator, which is plain inside quotes, and a quote. */
enum { MARK_NONE = 0, MARK_PLAIN = 1, MARK_SEPARATOR = 2, MARK_QUOTE = 4 };
enum { CODE_END = -1, CODE_FAULT = -2 };
enum { WINDOW_SIZE = 1 << 18, AHEAD = 64 }; /* no character is longer than what stays ahead */

static int32_t fail_at(struct csv_reader *reader, int32_t line, int32_t column, enum status status,
	const char *text)
{
	reader->failed = fault_set(
		&reader->fault, status, "line %d, column %d: %s", (int)line, (int)column, text);
	return CODE_FAULT;
}

static int32_t fail(struct csv_reader *reader, enum status status, const char *text)
{
	return fail_at(reader, reader->line, reader->column, status, text);
}

/* --- the window of a source --- */

/* What is read already goes, what is not moves to the front, and the rest is filled. */
static void fill_window(struct csv_reader *reader)
{
	size_t left = reader->length - reader->at;
	memmove(reader->window, reader->window + reader->at, left);
	reader->at = 0;
	reader->length = left;
	while (reader->length < WINDOW_SIZE && reader->source.read != NULL) {
		size_t got = 0;
		reader->failed = reader->source.read(reader->source.context,
			(char *)reader->window + reader->length, WINDOW_SIZE - reader->length, &got,
			&reader->fault);
		if (got == 0 || reader->failed != STATUS_OK)
			reader->source.read = NULL;
		reader->length += got;
	}
}

static void look_ahead(struct csv_reader *reader)
{
	if (reader->source.read != NULL && reader->length - reader->at < AHEAD)
		fill_window(reader);
}

/* --- characters --- */

static uint32_t unit_at(const struct csv_reader *reader, size_t at)
{
	const unsigned char *unit = reader->bytes + at;
	return reader->big_endian ? (uint32_t)unit[0] << 8 | unit[1]
				  : (uint32_t)unit[1] << 8 | unit[0];
}

static int32_t peek_utf16(struct csv_reader *reader, size_t *used)
{
	size_t left = reader->length - reader->at;
	if (left < 2)
		return fail(reader, STATUS_SYNTAX, "the file ends inside a UTF-16 character");
	uint32_t high = unit_at(reader, reader->at);
	*used = 2;
	if (high < 0xD800 || high > 0xDFFF)
		return (int32_t)high;
	uint32_t low = left >= 4 ? unit_at(reader, reader->at + 2) : 0;
	if (high > 0xDBFF || low < 0xDC00 || low > 0xDFFF)
		return fail(reader, STATUS_SYNTAX, "half a UTF-16 character");
	*used = 4;
	return (int32_t)(0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00));
}

static int32_t peek_code(struct csv_reader *reader, size_t *used)
{
	*used = 0;
	look_ahead(reader);
	if (reader->failed != STATUS_OK)
		return CODE_FAULT;
	if (reader->at >= reader->length)
		return CODE_END;
	if (reader->encoding != CSV_UTF16 &&
		reader->marks[reader->bytes[reader->at]] != MARK_NONE) {
		*used = 1;
		return reader->bytes[reader->at];
	}
	int32_t code = 0;
	switch (reader->encoding) {
	case CSV_UTF8:
		code = (int32_t)text_decode((const char *)reader->bytes + reader->at,
			reader->length - reader->at, used);
		if (code == TEXT_BAD && *used == 1)
			return fail(reader, STATUS_SYNTAX,
				"not UTF-8; if the file is of an older kind, try the encoding "
				"latin1");
		break;
	case CSV_UTF16:
		code = peek_utf16(reader, used);
		break;
	case CSV_LATIN1:
		code = reader->bytes[reader->at];
		*used = 1;
		break;
	}
	return code == 0 ? fail(reader, STATUS_SYNTAX, "a NUL byte; this is not text") : code;
}

/* Steps over the character just peeked at and keeps count of lines and columns. */
static void step(struct csv_reader *reader, int32_t code, size_t used)
{
	bool ends_crlf = code == '\n' && reader->after_cr;
	reader->after_cr = code == '\r';
	reader->at += used;
	if (ends_crlf)
		return; /* the CR has begun the new line */
	reader->column++;
	if (code == '\n' || code == '\r') {
		reader->line++;
		reader->column = 1;
	}
}

static int32_t read_code(struct csv_reader *reader)
{
	size_t used;
	int32_t code = peek_code(reader, &used);
	if (code >= 0)
		step(reader, code, used);
	return code;
}

/* --- opening --- */

static bool any_of(const int counts[3])
{
	return counts[0] + counts[1] + counts[2] > 0;
}

/* The separator that stands most often, outside quotes, in the first line that has any: above a
 * table may stand its title. */
static char sniff_separator(const struct csv_reader *opened)
{
	static const char separators[] = ",;\t";
	struct csv_reader look = *opened;
	int counts[3] = {0};
	bool quoted = false;
	look.source.read = NULL; /* by what the window holds */
	for (int32_t code = read_code(&look); code >= 0; code = read_code(&look)) {
		bool line_end = code == '\n' || code == '\r';
		if (code == '"')
			quoted = !quoted;
		if (!quoted && line_end && any_of(counts))
			break;
		for (int at = 0; at < 3; at++)
			counts[at] += !quoted && code == separators[at];
		if (look.at > CSV_ROW_SIZE_MAX)
			break;
	}
	int best = 0;
	for (int at = 1; at < 3; at++)
		if (counts[at] > counts[best])
			best = at;
	return separators[best];
}

/* Passes over a byte order mark, which also tells UTF-16. */
static void read_mark(struct csv_reader *reader)
{
	if (reader->length >= 2 && (memcmp(reader->bytes, "\xFF\xFE", 2) == 0 ||
					   memcmp(reader->bytes, "\xFE\xFF", 2) == 0)) {
		reader->encoding = CSV_UTF16;
		reader->big_endian = reader->bytes[0] == 0xFE;
		reader->at = 2;
	} else if (reader->length >= 3 && memcmp(reader->bytes, CSV_BYTE_ORDER_MARK, 3) == 0) {
		reader->encoding = CSV_UTF8;
		reader->at = 3;
	}
}

static struct csv_reader *open_reader(struct csv_reader *reader, const struct csv_options *options)
{
	reader->encoding = options->encoding;
	reader->line = 1;
	reader->column = 1;
	read_mark(reader);
	memset(&reader->marks[' '], MARK_PLAIN, 0x7F - ' ');
	reader->marks['"'] = MARK_QUOTE;
	reader->separator =
		options->separator != '\0' ? options->separator : sniff_separator(reader);
	reader->marks[(unsigned char)reader->separator] = MARK_SEPARATOR;
	return reader;
}

struct csv_reader *csv_open(const char *bytes, size_t length, const struct csv_options *options)
{
	struct csv_reader *reader = block_new(sizeof *reader);
	reader->bytes = (const unsigned char *)bytes;
	reader->length = length;
	return open_reader(reader, options);
}

struct csv_reader *csv_open_source(
	const struct csv_source *source, const struct csv_options *options)
{
	struct csv_reader *reader = block_new(sizeof *reader);
	reader->source = *source;
	reader->window = block_new(WINDOW_SIZE);
	reader->bytes = reader->window;
	fill_window(reader);
	return open_reader(reader, options);
}

void csv_close(struct csv_reader *reader)
{
	if (reader == NULL)
		return;
	block_free(reader->window);
	block_free(reader->room);
	block_free(reader->cells);
	block_free(reader->starts);
	block_free(reader);
}

char csv_separator(const struct csv_reader *reader)
{
	return reader->separator;
}

/* --- rows --- */

static bool has_room(struct csv_reader *reader, size_t size)
{
	if (reader->room_length + size > CSV_ROW_SIZE_MAX) {
		fail(reader, STATUS_RANGE, "a row of more than a megabyte; is a quote not closed?");
		return false;
	}
	if (reader->room_length + size > reader->room_size) {
		reader->room_size = (reader->room_length + size) * 2 + 256;
		reader->room = block_resize(reader->room, reader->room_size);
	}
	return true;
}

static bool add_bytes(struct csv_reader *reader, const char *bytes, size_t size)
{
	if (!has_room(reader, size))
		return false;
	memcpy(reader->room + reader->room_length, bytes, size);
	reader->room_length += size;
	return true;
}

static bool add_code(struct csv_reader *reader, int32_t code)
{
	char bytes[4];
	return add_bytes(reader, bytes, text_encode((uint32_t)code, bytes));
}

static bool start_cell(struct csv_reader *reader)
{
	if (reader->count == CSV_CELLS_MAX) {
		fail(reader, STATUS_RANGE, "more than 4096 cells in a row");
		return false;
	}
	if (reader->count == reader->cells_size) {
		reader->cells_size = reader->cells_size * 2 + 16;
		size_t size = (size_t)reader->cells_size;
		reader->cells = block_resize(reader->cells, size * sizeof *reader->cells);
		reader->starts = block_resize(reader->starts, size * sizeof *reader->starts);
	}
	reader->starts[reader->count] = reader->room_length;
	reader->cells[reader->count++] =
		(struct csv_cell){.line = reader->line, .column = reader->column};
	return true;
}

/* How many of the next characters, from an offset on, are plain ASCII, up to a quote or (outside
 * quotes) a separator. */
static size_t plain_run(struct csv_reader *reader, size_t offset, bool quoted)
{
	const unsigned char *marks = reader->marks;
	const unsigned int stands = quoted ? MARK_PLAIN | MARK_SEPARATOR : MARK_PLAIN;
	if (reader->encoding == CSV_UTF16 || reader->failed != STATUS_OK)
		return 0;
	const unsigned char *from = reader->bytes + reader->at + offset;
	const unsigned char *end = reader->bytes + reader->length;
	const unsigned char *at = from;
	while (at < end && (marks[*at] & stands) != 0)
		at++;
	return (size_t)(at - from);
}

/* Takes what is plain as it stands: nearly all of most files. */
static bool add_plain(struct csv_reader *reader, bool quoted)
{
	look_ahead(reader);
	const unsigned char *from = reader->bytes + reader->at;
	size_t size = plain_run(reader, 0, quoted);
	if (size == 0)
		return true;
	reader->at += size;
	reader->column += (int32_t)size;
	reader->after_cr = false;
	return add_bytes(reader, (const char *)from, size);
}

/* What stands between two quotes; the opening one is read. */
static bool read_quoted(struct csv_reader *reader)
{
	int32_t line = reader->line;
	int32_t column = reader->column - 1;
	size_t used;
	for (;;) {
		if (!add_plain(reader, true))
			return false;
		int32_t code = read_code(reader);
		if (code == CODE_END)
			fail_at(reader, line, column, STATUS_SYNTAX,
				"a quote opened here is never closed");
		if (code < 0)
			return false;
		if (code == '"') {
			if (peek_code(reader, &used) != '"')
				return reader->failed == STATUS_OK;
			code = read_code(reader);
		}
		if (!add_code(reader, code))
			return false;
	}
}

static bool ends_cell(const struct csv_reader *reader, int32_t code)
{
	return code == CODE_END || code == '\n' || code == '\r' || code == reader->separator;
}

/* The rest of a cell up to what ends it, which is not read. */
static bool read_cell(struct csv_reader *reader)
{
	size_t used;
	if (!start_cell(reader))
		return false;
	int32_t code = peek_code(reader, &used);
	bool quoted = code == '"';
	reader->cells[reader->count - 1].quoted = quoted;
	if (quoted) {
		read_code(reader);
		if (!read_quoted(reader))
			return false;
	} else if (!add_plain(reader, false)) {
		return false;
	}
	for (code = peek_code(reader, &used); !ends_cell(reader, code);
		code = peek_code(reader, &used)) {
		if (code == CODE_FAULT)
			return false;
		if (quoted && code != ' ') {
			fail(reader, STATUS_SYNTAX,
				"words after a closing quote; a quote inside a cell is written "
				"twice");
			return false;
		}
		if (!quoted && !add_code(reader, code))
			return false;
		step(reader, code, used);
	}
	return add_bytes(reader, "", 1);
}

/* A cell of plain characters alone, in quotes or not, together with the separator or the line feed
 * after it; false, and nothing is taken, where the next cell is any other. */
static bool read_plain_cell(struct csv_reader *reader, bool *more)
{
	look_ahead(reader);
	const unsigned char *from = reader->bytes + reader->at;
	size_t left = reader->length - reader->at;
	size_t start = left > 0 && from[0] == '"' ? 1 : 0;
	size_t size = plain_run(reader, start, start == 1);
	size_t end = 2 * start + size;
	if (end >= left || reader->encoding == CSV_UTF16 || (start == 1 && from[end - 1] != '"'))
		return false;
	*more = from[end] == (unsigned char)reader->separator;
	if ((!*more && from[end] != '\n') || !start_cell(reader))
		return false;
	reader->cells[reader->count - 1].quoted = start == 1;
	if (!has_room(reader, size + 1))
		return false;
	memcpy(reader->room + reader->room_length, from + start, size);
	reader->room[reader->room_length + size] = '\0';
	reader->room_length += size + 1;
	reader->at += end + 1;
	reader->column = *more ? reader->column + (int32_t)end + 1 : 1;
	reader->line += *more ? 0 : 1;
	reader->after_cr = false;
	return true;
}

/* Takes away the apostrophe that guards a cell; the cells after it move up. */
static void unguard(struct csv_reader *reader, int32_t at)
{
	char *text = reader->room + reader->starts[at];
	if (text[0] != '\'' || !csv_would_run(text + strspn(text, "'")))
		return;
	memmove(text, text + 1, reader->room_length - reader->starts[at] - 1);
	reader->room_length--;
	for (int32_t next = at + 1; next < reader->count; next++)
		reader->starts[next]--;
}

static void skip_empty_lines(struct csv_reader *reader)
{
	size_t used;
	int32_t code = peek_code(reader, &used);
	for (; code == '\n' || code == '\r'; code = peek_code(reader, &used))
		step(reader, code, used);
}

/* Reads what ended a cell; true when another cell follows in the row. */
static bool another_follows(struct csv_reader *reader)
{
	int32_t code = read_code(reader);
	size_t used;
	if (code == '\r' && peek_code(reader, &used) == '\n')
		read_code(reader);
	return code == reader->separator;
}

enum status csv_next(struct csv_reader *reader, struct csv_row *row, struct fault *why)
{
	reader->count = 0;
	reader->room_length = 0;
	skip_empty_lines(reader);
	if (reader->failed == STATUS_OK && reader->at >= reader->length)
		return STATUS_END;
	int32_t line = reader->line;
	bool more = reader->failed == STATUS_OK;
	while (more)
		if (!read_plain_cell(reader, &more))
			more = read_cell(reader) && another_follows(reader);
	if (reader->failed != STATUS_OK)
		return fault_set(why, reader->failed, "%s", reader->fault.text);
	for (int32_t at = 0; at < reader->count; at++) {
		unguard(reader, at);
		reader->cells[at].text = reader->room + reader->starts[at];
	}
	*row = (struct csv_row){.cells = reader->cells,
		.count = reader->count,
		.line = line,
		.text = reader->room,
		.size = reader->room_length};
	return STATUS_OK;
}
