/* SPDX-License-Identifier: MIT */
#include "verify.h"

#include <stdio.h>
#include <string.h>

enum { EXAMPLES_MAX = 20 };

struct day_columns {
	const char *table;
	const char *text; /* its bounds have _low and _high behind it; NULL: a plain day */
	const char *day;
};

static const struct day_columns day_columns[] = {
	{"entry", "day", NULL},
	{"tree", "planted", NULL},
	{"tree", "gone", NULL},
	{"identity", "day", NULL},
	{"tree_spot", NULL, "from_day"},
	{"tree_spot", NULL, "to_day"},
	{"plan", NULL, "until"},
	{"answer", NULL, "until"},
	{"container_weight", NULL, "from_day"},
	{"weather_day", NULL, "day"},
	{"weather_hour", NULL, "day"},
	{"season_turn", NULL, "valid_from"},
	{"season_turn", NULL, "valid_to"},
};

static bool is_same_bound(sqlite3_stmt *statement, int column, struct maybe_date bound)
{
	char text[DATE_SIZE];
	const char *kept = (const char *)sqlite3_column_text(statement, column);
	if (kept == NULL || !bound.known)
		return kept == NULL && !bound.known;
	return strcmp(kept, date_format(bound.value, text)) == 0;
}

/* A season ("2019-21") has other bounds on the other half of the earth, and the place may have
 * moved over the line since: either will do. */
static bool is_sound_span(sqlite3_stmt *statement)
{
	static const enum hemisphere halves[] = {HEMISPHERE_NORTH, HEMISPHERE_SOUTH};
	const char *text = (const char *)sqlite3_column_text(statement, 1);
	for (size_t i = 0; text != NULL && i < 2; i++) {
		struct date_span span = {0};
		if (date_span_parse(text, halves[i], &span, NULL) == STATUS_OK &&
			is_same_bound(statement, 2, span.low) &&
			is_same_bound(statement, 3, span.high))
			return true;
	}
	return false;
}

static bool is_sound_day(sqlite3_stmt *statement)
{
	struct date day;
	const char *text = (const char *)sqlite3_column_text(statement, 1);
	return text == NULL || date_parse_iso(text, &day, NULL) == STATUS_OK;
}

static void check_columns(
	struct store *store, const struct day_columns *columns, struct lines *lines)
{
	char sql[256];
	struct fault why = {0};
	sqlite3_stmt *rows = NULL;
	int32_t found = 0;
	if (columns->text != NULL)
		snprintf(sql, sizeof sql, "SELECT row, %s, %s_low, %s_high FROM %s", columns->text,
			columns->text, columns->text, columns->table);
	else
		snprintf(sql, sizeof sql, "SELECT row, %s FROM %s WHERE %s IS NOT NULL",
			columns->day, columns->table, columns->day);
	enum status status = sql_prepare(store, sql, &rows, &why);
	while (status == STATUS_OK) {
		status = sql_step(store, rows, &why);
		bool is_sound = status != STATUS_OK ||
				(columns->text != NULL ? is_sound_span(rows) : is_sound_day(rows));
		if (!is_sound && found++ < EXAMPLES_MAX)
			lines_add(lines, true, "day: \"%.60s\" in %s (row %lld) %s",
				(const char *)sqlite3_column_text(rows, 1), columns->table,
				(long long)sqlite3_column_int64(rows, 0),
				columns->text != NULL ? "does not fit its bounds" : "is no day");
	}
	sqlite3_finalize(rows);
	if (status != STATUS_END)
		lines_add(lines, true, "the days of %s could not be read: %s", columns->table,
			why.text);
	if (found > EXAMPLES_MAX)
		lines_add(lines, true, "... and %d more like that", (int)(found - EXAMPLES_MAX));
}

void verify_days(struct store *store, struct lines *lines)
{
	for (size_t i = 0; i < sizeof day_columns / sizeof day_columns[0]; i++)
		check_columns(store, &day_columns[i], lines);
}
