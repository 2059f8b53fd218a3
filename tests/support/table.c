/* SPDX-License-Identifier: MIT */
#include "support/table.h"

#include "support/test.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct bound_row {
	const struct table_row *row;
	void (*run)(const struct table_row *row);
	char name[120];
};

struct bound_case {
	const void *one;
	void (*run)(const void *one);
};

__attribute__((noreturn)) static void refuse(const char *path, int line, const char *what)
{
	(void)fprintf(stderr, "%s:%d: %s\n", path, line, what);
	exit(1);
}

static void *new_block(size_t count, size_t size)
{
	void *block = calloc(count + 1, size);
	if (block == NULL) {
		abort();
	}
	return block;
}

/* Cuts line at its tabs; returns how many cells. */
static int cut_cells(char *line, const char *cells[TABLE_COLUMNS_MAX], const char *path, int number)
{
	int count = 0;
	char *cell = line;
	for (char *tab = strchr(cell, '\t'); tab != NULL; tab = strchr(cell, '\t')) {
		if (count == TABLE_COLUMNS_MAX - 1) {
			refuse(path, number, "too many columns");
		}
		*tab = '\0';
		cells[count++] = cell;
		cell = tab + 1;
	}
	cells[count++] = cell;
	return count;
}

static int find_heading(const struct table *table, const char *heading)
{
	for (int i = 0; i < table->columns; i++) {
		if (strcmp(table->headings[i], heading) == 0) {
			return i;
		}
	}
	return -1;
}

/* A row typed twice counts for two and tests nothing. */
static bool is_same_row(const struct table_row *one, const struct table_row *other)
{
	for (int i = 0; i < one->table->columns; i++) {
		if (strcmp(one->cells[i], other->cells[i]) != 0) {
			return false;
		}
	}
	return true;
}

static void take_line(struct table *table, char *line, int number)
{
	if (line[0] == '\0' || line[0] == '#') {
		return;
	}
	if (table->columns == 0) {
		table->columns = cut_cells(line, table->headings, table->path, number);
		return;
	}
	struct table_row *row = &table->rows[table->count++];
	row->table = table;
	row->line = number;
	if (cut_cells(line, row->cells, table->path, number) != table->columns) {
		refuse(table->path, number, "not as many cells as there are headings");
	}
	for (struct table_row *before = table->rows; before < row; before++) {
		if (is_same_row(before, row)) {
			refuse(table->path, number, "the same as a row before");
		}
	}
}

struct table *table_open(const char *path)
{
	struct table *table = new_block(1, sizeof *table);
	char place[SCRATCH_PATH_SIZE];
	const char *top = getenv("BOUGHBOOK_SOURCE");
	(void)snprintf(place, sizeof place, "%s/%s", top != NULL ? top : ".", path);
	if (!file_exists(place)) {
		refuse(path, 1, "no such file");
	}
	table->path = path;
	table->text = file_read(place, NULL);
	size_t lines = 1;
	for (const char *c = table->text; *c != '\0'; c++) {
		lines += *c == '\n';
	}
	table->rows = new_block(lines, sizeof *table->rows);
	int number = 1;
	for (char *line = table->text; line != NULL; number++) {
		char *end = strchr(line, '\n');
		if (end != NULL) {
			*end = '\0';
		}
		take_line(table, line, number);
		line = end != NULL ? end + 1 : NULL;
	}
	if (table->count == 0) {
		refuse(path, 1, "no rows");
	}
	return table;
}

struct table *outside_open(const char *path)
{
	struct table *table = table_open(path);
	const int source = find_heading(table, "source");
	if (source < 0) {
		refuse(path, 1, "no column named source");
	}
	for (int i = 0; i < table->count; i++) {
		const char *cell = table->rows[i].cells[source];
		if (cell[strspn(cell, " ")] == '\0') {
			refuse(path, table->rows[i].line, "the source is empty");
		}
	}
	return table;
}

void table_free(struct table *table)
{
	if (table != NULL) {
		free(table->rows);
		free(table->text);
		free(table);
	}
}

const char *row_text(const struct table_row *row, const char *heading)
{
	const int column = find_heading(row->table, heading);
	if (column < 0) {
		print_error("%s has no column named %s\n", row->table->path, heading);
		fail();
		return "";
	}
	return row->cells[column];
}

int64_t row_int(const struct table_row *row, const char *heading)
{
	const char *text = row_text(row, heading);
	char *end = NULL;
	errno = 0;
	const long long value = strtoll(text, &end, 10);
	if (end == text || *end != '\0' || errno != 0) {
		print_error("%s:%d: %s is \"%s\", not a whole number\n", row->table->path,
			row->line, heading, text);
		fail();
	}
	return value;
}

double row_number(const struct table_row *row, const char *heading)
{
	const char *text = row_text(row, heading);
	char *end = NULL;
	const double value = strtod(text, &end);
	if (end == text || *end != '\0' || !isfinite(value)) {
		print_error("%s:%d: %s is \"%s\", not a number\n", row->table->path, row->line,
			heading, text);
		fail();
	}
	return value;
}

static void run_bound_row(void **state)
{
	const struct bound_row *bound = *state;
	bound->run(bound->row);
}

int run_rows(const char *group, const struct table *table, void (*run)(const struct table_row *row))
{
	const size_t count = (size_t)table->count;
	struct CMUnitTest *tests = new_block(count, sizeof *tests);
	struct bound_row *bound = new_block(count, sizeof *bound);
	for (size_t i = 0; i < count; i++) {
		bound[i].row = &table->rows[i];
		bound[i].run = run;
		(void)snprintf(bound[i].name, sizeof bound[i].name, "%s (line %d)",
			table->rows[i].cells[0], table->rows[i].line);
		tests[i] = (struct CMUnitTest){.name = bound[i].name,
			.test_func = run_bound_row,
			.initial_state = &bound[i]};
	}
	const int failed = _cmocka_run_group_tests(group, tests, count, NULL, NULL);
	free(bound);
	free(tests);
	return failed;
}

static void run_bound_case(void **state)
{
	const struct bound_case *bound = *state;
	bound->run(bound->one);
}

int run_cases(const char *group, const void *cases, size_t count, size_t size,
	void (*run)(const void *one))
{
	struct CMUnitTest *tests = new_block(count, sizeof *tests);
	struct bound_case *bound = new_block(count, sizeof *bound);
	for (size_t i = 0; i < count; i++) {
		bound[i].one = (const char *)cases + i * size;
		bound[i].run = run;
		const char *name = NULL;
		memcpy(&name, bound[i].one, sizeof name);
		tests[i] = (struct CMUnitTest){
			.name = name, .test_func = run_bound_case, .initial_state = &bound[i]};
	}
	const int failed = _cmocka_run_group_tests(group, tests, count, NULL, NULL);
	free(bound);
	free(tests);
	return failed;
}
