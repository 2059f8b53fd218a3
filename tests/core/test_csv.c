/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "core/csv.h"
#include "core/text.h"

enum { SHOWN_SIZE = 4096 };

/* Rows as text: cells between "[" and "]", rows on lines of their own; a failure as "!message". */
static void show_rows(
	const char *bytes, size_t length, const struct csv_options *options, char *out)
{
	struct csv_reader *reader = csv_open(bytes, length, options);
	struct csv_row row;
	struct fault why = {0};
	struct text_builder builder = text_builder_fixed(out, SHOWN_SIZE);
	enum status status;
	while ((status = csv_next(reader, &row, &why)) == STATUS_OK) {
		for (int32_t at = 0; at < row.count; at++)
			text_add_format(&builder, "[%s]", row.cells[at].text);
		text_add(&builder, "\n");
	}
	if (status != STATUS_END) {
		struct fault again = {0};
		text_add_format(&builder, "!%s", why.text);
		check_refused(csv_next(reader, &row, &again), status, &again, why.text);
	}
	csv_close(reader);
}

struct reading {
	const char *name;
	const char *bytes;
	size_t length; /* 0: up to the NUL */
	struct csv_options options;
	const char *want;
};

static const struct reading readings[] = {
	{"an empty file has no rows", "", 0, {0}, ""},
	{"one line without its end", "a,b", 0, {0}, "[a][b]\n"},
	{"lines end with CRLF", "a,b\r\nc,d\r\n", 0, {0}, "[a][b]\n[c][d]\n"},
	{"lines end with LF", "a,b\nc,d\n", 0, {0}, "[a][b]\n[c][d]\n"},
	{"lines end with CR", "a,b\rc,d\r", 0, {0}, "[a][b]\n[c][d]\n"},
	{"empty cells are cells", "a,,\n,,c\n", 0, {0}, "[a][][]\n[][][c]\n"},
	{"empty lines are passed over", "\n\r\n\ra,b\n\n\nc,d\n\n", 0, {0}, "[a][b]\n[c][d]\n"},
	{"a quoted empty cell is a row", "a\n\"\"\nb\n", 0, {0}, "[a]\n[]\n[b]\n"},
	{"blanks belong to the cell", " a , b\n", 0, {0}, "[ a ][ b]\n"},
	{"an inner quote is doubled", "\"say \"\"hi\"\", ok\",x\n", 0, {0},
		"[say \"hi\", ok][x]\n"},
	{"a quoted cell holds lines", "\"a\nb\r\nc\rd\",x\n", 0, {0}, "[a\nb\r\nc\rd][x]\n"},
	{"a quote inside a bare cell stays", "5\" pipe,x\n", 0, {0}, "[5\" pipe][x]\n"},
	{"blanks after a closing quote go", "\"a\" ,b\n", 0, {0}, "[a][b]\n"},
	{"semicolons are sniffed", "tree;kg\nA3;2,5\n", 0, {0}, "[tree][kg]\n[A3][2,5]\n"},
	{"tabs are sniffed", "tree\tkg\nA3\t2,5\n", 0, {0}, "[tree][kg]\n[A3][2,5]\n"},
	{"quotes hide separators from sniffing", "\"a;b;c;d\",e\nf,g\n", 0, {0},
		"[a;b;c;d][e]\n[f][g]\n"},
	{"the separator asked for wins", "a;b,c\n", 0, {.separator = ','}, "[a;b][c]\n"},
	{"a byte order mark is passed over",
		"\xEF\xBB\xBF"
		"a,b\n",
		0, {0}, "[a][b]\n"},
	{"a mark before a quote", "\xEF\xBB\xBF\"a,b\",c\n", 0, {0}, "[a,b][c]\n"},
	{"UTF-8 words", "n\xC3\xADspero,\xF0\x9F\x8C\xB3\n", 0, {0},
		"[n\xC3\xADspero][\xF0\x9F\x8C\xB3]\n"},
	{"UTF-16, little end first",
		"\xFF\xFE"
		"a\0,\0\xED\0\r\0\n\0"
		"\x3C\xD8\x33\xDF",
		16, {0}, "[a][\xC3\xAD]\n[\xF0\x9F\x8C\xB3]\n"},
	{"UTF-16, big end first", "\xFE\xFF\0a\0;\0\xED", 8, {0}, "[a][\xC3\xAD]\n"},
	{"UTF-16 without a mark, when told", "a\0,\0b\0", 6, {.encoding = CSV_UTF16}, "[a][b]\n"},
	{"Latin-1 when told", "n\xEDspero,x\n", 0, {.encoding = CSV_LATIN1},
		"[n\xC3\xADspero][x]\n"},
	{"a mark wins over what was told", "\xEF\xBB\xBF\xC3\xAD\n", 0, {.encoding = CSV_LATIN1},
		"[\xC3\xAD]\n"},
	{"the guard of a formula goes", "'=1+1,'-x,''@a,'b,''\n", 0, {0},
		"[=1+1][-x]['@a]['b]['']\n"},
	{"a bare formula is only words", "=1+1,-5\n", 0, {0}, "[=1+1][-5]\n"},
	{"a quote is never closed", "a,b\nc,\"d\ne,f\n", 0, {0},
		"[a][b]\n!line 2, column 3: a quote opened here is never closed"},
	{"words after a closing quote", "a,\"b\"c\n", 0, {0},
		"!line 1, column 6: words after a closing quote; a quote inside a cell is written "
		"twice"},
	{"a byte that is not UTF-8",
		"a,b\nn\xED"
		"spero,x\n",
		0, {0},
		"[a][b]\n!line 2, column 2: not UTF-8; if the file is of an older kind, try the "
		"encoding latin1"},
	{"a bad byte right after a CR", "a\r\xFFz\n", 0, {0},
		"!line 2, column 1: not UTF-8; if the file is of an older kind, try the encoding "
		"latin1"},
	{"a bad byte inside quotes", "\"a\n\xFF\"", 0, {0},
		"!line 2, column 1: not UTF-8; if the file is of an older kind, try the encoding "
		"latin1"},
	{"a NUL byte", "a,\0b\n", 5, {0}, "!line 1, column 3: a NUL byte; this is not text"},
	{"UTF-16 cut in the middle",
		"\xFF\xFE"
		"a\0b",
		5, {0}, "!line 1, column 2: the file ends inside a UTF-16 character"},
	{"half a UTF-16 character",
		"\xFF\xFE\x3C\xD8"
		"a\0",
		6, {0}, "!line 1, column 1: half a UTF-16 character"},
	{"the low half first",
		"\xFF\xFE\x33\xDF"
		"a\0",
		6, {0}, "!line 1, column 1: half a UTF-16 character"},
};

static void run_reading(const void *one)
{
	const struct reading *reading = one;
	char shown[SHOWN_SIZE];
	size_t length = reading->length != 0 ? reading->length : strlen(reading->bytes);
	show_rows(reading->bytes, length, &reading->options, shown);
	check_text(shown, reading->want, reading->name);
}

static void cells_know_where_they_start(void **state)
{
	(void)state;
	static const char bytes[] = "n\xC3\xAD,\"x\ny\",z\r\n\r\n a,b\n";
	struct csv_options options = {0};
	struct csv_reader *reader = csv_open(bytes, strlen(bytes), &options);
	struct csv_row row;
	struct fault why = {0};
	check_ok(csv_next(reader, &row, &why), &why);
	check_int(row.line, 1, "row");
	check_int(row.cells[1].column, 4, "second cell");
	check_int(row.cells[2].line, 2, "after a line end inside quotes");
	check_int(row.cells[2].column, 4, "after a line end inside quotes");
	check_int(row.cells[0].quoted, false, "bare");
	check_int(row.cells[1].quoted, true, "quoted");
	check_ok(csv_next(reader, &row, &why), &why);
	check_int(row.line, 4, "after an empty line");
	check_int(row.cells[1].column, 4, "after an empty line");
	check_int(csv_next(reader, &row, &why), STATUS_END, "end");
	check_int(csv_next(reader, &row, &why), STATUS_END, "and again");
	check_int(csv_separator(reader), ',', "separator");
	csv_close(reader);
	csv_close(NULL);
}

static void a_column_is_found_by_its_name(void **state)
{
	(void)state;
	static const char bytes[] = "Tree; Day ;N\xC3\x8DSPERO\nA3\n";
	struct csv_options options = {0};
	struct arena *arena = arena_new();
	struct csv_reader *reader = csv_open(bytes, strlen(bytes), &options);
	struct csv_row row;
	struct fault why = {0};
	check_ok(csv_next(reader, &row, &why), &why);
	struct csv_row heading = csv_row_copy(arena, &row);
	check_ok(csv_next(reader, &row, &why), &why);
	check_int(csv_find(&heading, "tree"), 0, "case");
	check_int(csv_find(&heading, "day"), 1, "blanks");
	check_int(csv_find(&heading, "n\xC3\xADspero"), 2, "accents");
	check_int(csv_find(&heading, "amount"), -1, "absent");
	check_text(csv_text(&row, 0), "A3", "cell");
	check_text(csv_text(&row, 2), "", "beyond the row");
	check_text(csv_text(&row, -1), "", "no such column");
	csv_close(reader);
	check_text(csv_text(&heading, 1), " Day ", "the copy lasts");
	arena_free(arena);
}

static void rows_beyond_the_limits_are_refused(void **state)
{
	(void)state;
	size_t size = CSV_ROW_SIZE_MAX + 10;
	char *bytes = malloc(size);
	struct csv_options options = {.separator = ','};
	struct csv_row row;
	struct fault why = {0};
	memset(bytes, 'a', size);
	struct csv_reader *reader = csv_open(bytes, size, &options);
	check_refused(csv_next(reader, &row, &why), STATUS_RANGE, &why, "more than a megabyte");
	csv_close(reader);
	memset(bytes, ',', size);
	reader = csv_open(bytes, size, &options);
	check_refused(csv_next(reader, &row, &why), STATUS_RANGE, &why, "more than 4096 cells");
	csv_close(reader);
	free(bytes);
}

/* --- writing --- */

/* What the writer makes of a row of cells; free() it. */
static char *written(const char *const *cells, size_t count)
{
	char *bytes = NULL;
	size_t length = 0;
	FILE *out = open_memstream(&bytes, &length);
	assert_non_null(out);
	struct csv_writer writer = csv_writer_to(out);
	for (size_t at = 0; at < count; at++)
		csv_write(&writer, cells[at]);
	csv_end_row(&writer);
	fclose(out);
	return bytes;
}

static void cells_are_quoted_as_rfc_4180_says(void **state)
{
	(void)state;
	static const struct {
		const char *cell;
		const char *want;
	} rows[] = {{"A3", "A3\r\n"}, {"", "\"\"\r\n"}, {NULL, "\"\"\r\n"},
		{"say \"hi\", ok", "\"say \"\"hi\"\", ok\"\r\n"}, {"a\nb", "\"a\nb\"\r\n"},
		{"a\rb", "\"a\rb\"\r\n"}, {"a;b", "a;b\r\n"}, {" a ", " a \r\n"},
		{"=1+1", "'=1+1\r\n"}, {"+x", "'+x\r\n"}, {"@a", "'@a\r\n"}, {"\tx", "'\tx\r\n"},
		{"\rx", "\"'\rx\"\r\n"}, {"-", "'-\r\n"}, {"-5", "-5\r\n"},
		{"-122.1", "-122.1\r\n"}, {"+3.25", "+3.25\r\n"}, {"-5 lb", "'-5 lb\r\n"},
		{"-5.", "'-5.\r\n"}, {"-5.1.2", "'-5.1.2\r\n"}, {"'=x", "''=x\r\n"},
		{"'a", "'a\r\n"}, {"'", "'\r\n"}, {"=a,b", "\"'=a,b\"\r\n"},
		{"\xEF\xBB\xBF"
		 "a",
			"\"\xEF\xBB\xBF"
			"a\"\r\n"},
		{"a\xFF", "a\xEF\xBF\xBD\r\n"}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		char *bytes = written(&rows[at].cell, 1);
		check_text(bytes, rows[at].want, rows[at].want);
		free(bytes);
	}
}

static void rows_of_several_cells_have_commas_between(void **state)
{
	(void)state;
	char *bytes = NULL;
	size_t length = 0;
	FILE *out = open_memstream(&bytes, &length);
	struct csv_writer writer = csv_writer_to(out);
	csv_write(&writer, "A3");
	csv_write_i64(&writer, -42);
	csv_write(&writer, NULL);
	csv_end_row(&writer);
	csv_write(&writer, "");
	csv_write(&writer, "");
	csv_end_row(&writer);
	csv_write_empty(&writer);
	csv_write(&writer, "");
	csv_write_empty(&writer);
	csv_end_row(&writer);
	fclose(out);
	check_text(bytes, "A3,-42,\r\n,\r\n\"\",,\"\"\r\n", "rows");
	free(bytes);
}

/* A cell of pieces that quoting, guarding, line ends and marks are about. */
static void random_cell(struct dice *dice, char *out, size_t size)
{
	static const char *const parts[] = {"'", "=", "+", "-", "@", "\t", "\r", "\n", "\"", ",",
		";", " ", "1", "23", ".", "a", "\xC3\xAD", "\xEF\xBB\xBF", "\xF0\x9F\x8C\xB3",
		"\x1B", "''", "\r\n", "\"\""};
	struct text_builder builder = text_builder_fixed(out, size);
	for (int64_t count = dice_between(dice, 0, 6); count > 0; count--)
		text_add(&builder, parts[dice_between(dice, 0, sizeof parts / sizeof *parts - 1)]);
}

static void every_cell_comes_back_as_it_was(void **state)
{
	(void)state;
	enum { CELLS = 5, SIZE = 64 };
	struct dice dice = dice_start();
	for (int round = 0; round < 20000; round++) {
		char cells[CELLS][SIZE];
		const char *row_cells[CELLS];
		size_t count = (size_t)dice_between(&dice, 1, CELLS);
		for (size_t at = 0; at < count; at++) {
			random_cell(&dice, cells[at], SIZE);
			row_cells[at] = cells[at];
		}
		char *bytes = written(row_cells, count);
		struct csv_options options = {.separator = ','};
		struct csv_reader *reader = csv_open(bytes, strlen(bytes), &options);
		struct csv_row row;
		struct fault why = {0};
		check_ok(csv_next(reader, &row, &why), &why);
		check_int(row.count, (int64_t)count, dice_remark());
		for (size_t at = 0; at < count; at++)
			check_text(row.cells[at].text, cells[at], dice_remark());
		check_int(csv_next(reader, &row, &why), STATUS_END, dice_remark());
		csv_close(reader);
		free(bytes);
	}
}

/* A file handed over in pieces of any size. */
struct pieces {
	struct dice dice;
	const char *bytes;
	size_t left;
	bool breaks; /* in the middle */
};

static enum status read_piece(void *context, char *out, size_t size, size_t *got, struct fault *why)
{
	struct pieces *pieces = context;
	size_t most = size < pieces->left ? size : pieces->left;
	*got = most == 0 ? 0 : (size_t)dice_between(&pieces->dice, 1, (int)most);
	if (pieces->breaks && pieces->left < 100000)
		return fault_set(why, STATUS_IO, "reading: the stick was pulled out");
	memcpy(out, pieces->bytes, *got);
	pieces->bytes += *got;
	pieces->left -= *got;
	return STATUS_OK;
}

/* Some 900 kB of cells that no window holds at once. */
static char *long_file(struct dice *dice, size_t *length)
{
	char *bytes = NULL;
	FILE *file = open_memstream(&bytes, length);
	assert_non_null(file);
	struct csv_writer writer = csv_writer_to(file);
	for (int row = 0; row < 30000; row++) {
		char cell[20];
		for (int at = 0; at < 4; at++) {
			random_cell(dice, cell, sizeof cell);
			csv_write(&writer, cell);
		}
		csv_end_row(&writer);
	}
	fclose(file);
	return bytes;
}

static void a_file_in_pieces_reads_as_the_whole_does(void **state)
{
	(void)state;
	struct dice dice = dice_start();
	size_t length;
	char *bytes = long_file(&dice, &length);
	assert_true(length > 600000);
	const struct csv_options options = {.separator = ','};
	struct pieces pieces = {.dice = dice, .bytes = bytes, .left = length};
	struct csv_source source = {.context = &pieces, .read = read_piece};
	struct csv_reader *whole = csv_open(bytes, length, &options);
	struct csv_reader *parts = csv_open_source(&source, &options);
	struct csv_row a, b;
	struct fault why;
	enum status status;
	int rows = 0;
	while ((status = csv_next(whole, &a, &why)) == STATUS_OK) {
		check_ok(csv_next(parts, &b, &why), &why);
		check_int(a.count, b.count, dice_remark());
		check_int(a.line, b.line, dice_remark());
		for (int32_t at = 0; at < a.count; at++) {
			check_text(b.cells[at].text, a.cells[at].text, dice_remark());
			check_int(b.cells[at].column, a.cells[at].column, dice_remark());
		}
		rows++;
	}
	check_int(status, STATUS_END, "the whole");
	check_int(csv_next(parts, &b, &why), STATUS_END, "the parts");
	check_int(rows, 30000, "rows");
	csv_close(whole);
	csv_close(parts);
	free(bytes);
}

static void a_source_that_breaks_off_is_told(void **state)
{
	(void)state;
	struct dice dice = dice_start();
	size_t length;
	char *bytes = long_file(&dice, &length);
	const struct csv_options options = {.separator = ','};
	struct pieces pieces = {.dice = dice, .bytes = bytes, .left = length, .breaks = true};
	struct csv_source source = {.context = &pieces, .read = read_piece};
	struct csv_reader *reader = csv_open_source(&source, &options);
	struct csv_row row;
	struct fault why;
	enum status status;
	int rows = 0;
	while ((status = csv_next(reader, &row, &why)) == STATUS_OK)
		rows++;
	check_int(status, STATUS_IO, "broken off");
	check_text(why.text, "reading: the stick was pulled out", "why");
	assert_true(rows > 1000 && rows < 30000);
	csv_close(reader);
	free(bytes);
}

/* No bytes at all crash the reader or keep it from ending. */
static void random_bytes_are_read_or_refused(void **state)
{
	(void)state;
	static const char alphabet[] = "a,;\t\"\r\n'=\xC3\xAD\xFF\xFE\0\xD8\xDC ";
	struct dice dice = dice_start();
	int ended = 0;
	for (int round = 0; round < 20000; round++) {
		char bytes[40];
		size_t length = (size_t)dice_between(&dice, 0, sizeof bytes);
		for (size_t at = 0; at < length; at++)
			bytes[at] = alphabet[dice_between(&dice, 0, sizeof alphabet - 2)];
		struct csv_options options = {
			.encoding = (enum csv_encoding)dice_between(&dice, 0, CSV_LATIN1)};
		struct csv_reader *reader = csv_open(bytes, length, &options);
		struct csv_row row;
		enum status status;
		int rows = 0;
		while ((status = csv_next(reader, &row, NULL)) == STATUS_OK) {
			assert_true(++rows <= 40);
			assert_true(row.count >= 1 && row.line >= 1);
			for (int32_t at = 0; at < row.count; at++)
				assert_true(text_is_valid(
					row.cells[at].text, strlen(row.cells[at].text)));
		}
		ended += status == STATUS_END;
		csv_close(reader);
	}
	assert_true(ended > 1000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(cells_know_where_they_start),
		cmocka_unit_test(a_column_is_found_by_its_name),
		cmocka_unit_test(rows_beyond_the_limits_are_refused),
		cmocka_unit_test(cells_are_quoted_as_rfc_4180_says),
		cmocka_unit_test(rows_of_several_cells_have_commas_between),
		cmocka_unit_test(every_cell_comes_back_as_it_was),
		cmocka_unit_test(a_file_in_pieces_reads_as_the_whole_does),
		cmocka_unit_test(a_source_that_breaks_off_is_told),
		cmocka_unit_test(random_bytes_are_read_or_refused),
	};
	int failed = RUN_CASES("readings", readings, run_reading);
	failed += cmocka_run_group_tests(tests, NULL, NULL);
	return failed != 0;
}
