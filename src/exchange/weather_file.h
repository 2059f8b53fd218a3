/* SPDX-License-Identifier: MIT */
/* weather_file.h - a station's file read row by row: days or hours as figures in base units. */
#ifndef EXCHANGE_WEATHER_FILE_H
#define EXCHANGE_WEATHER_FILE_H

#include "weather_settings.h"

struct weather_row {
	struct date day;
	int32_t hour; /* 0..23; of a file of days 0 */
	int32_t line;
	struct maybe_i64 figures[FIGURE_TOTAL];
};

struct weather_file {
	struct mapping mapping;
	struct line_context days; /* how its days are read */
	struct number_rules numbers;
	struct weather_settings settings;
	const struct unit *units[FIGURE_TOTAL]; /* of bare figures; NULL: to be asked for */
	bool hourly;
	struct weather_row *rows; /* by day, hour and line */
	int32_t count;
	int32_t blank; /* rows without a figure: not among the rows */
};

/* Opens the file, with what its layout remembers, and looks which columns are there.
 * STATUS_SYNTAX: no day or time, no figure, columns of days and hours together. */
enum status weather_file_open(struct session *session, const struct import_options *options,
	struct arena *arena, struct weather_file *out, struct fault *why) MUST_CHECK;
void weather_file_close(struct weather_file *file);
/* All rows; those refused are said in the account by line and column. */
enum status weather_file_read(struct weather_file *file, struct arena *arena,
	struct import_account *account, struct fault *why) MUST_CHECK;

/* Does the file have a column of this figure? */
bool weather_file_has(const struct weather_file *file, enum weather_figure which);
/* "10.6 C", "0.4 in", "3.1 m/s"; "unknown". size >= 24; returns out. */
const char *weather_figure_format(enum weather_figure which, struct maybe_i64 figure,
	enum unit_system units, char *out, int size);

#endif
