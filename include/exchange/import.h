/* SPDX-License-Identifier: MIT */
/* import.h - files of trees, picks, entries and weather into the log: one act, all or nothing, the
 * same file twice adds nothing. Columns are named by the grower; nothing is guessed about units or
 * the order of day and month. */
#ifndef EXCHANGE_IMPORT_H
#define EXCHANGE_IMPORT_H

#include "report/session.h"

struct import_options {
	const char *path;        /* "-" standard input */
	const char *columns;     /* "label=label,east=east_ft"; NULL: the layout's */
	const char *species;     /* for all rows without one of their own */
	const char *unit;        /* of a bare amount: "lb" */
	const char *length_unit; /* of bare east and north: "ft" or "m" */
	const char *season;      /* of all picks: "1915/16" */
	const char *day;         /* of all picks */
	const char *layout;      /* remembered under this name */
	const char *encoding;    /* utf8 utf16 latin1; NULL: by the bytes */
	enum date_order dates;
	enum unit_system units; /* of weather: us F, in, mph; si C, mm, m/s */
	/* of weather; NULL each: as its layout remembers, else as said */
	const char *station;      /* "" */
	const char *kind;         /* observed forecast; observed */
	const char *numbers;      /* point comma; as the place writes them */
	const char *column_units; /* "wind=km/h,rain=in": of one column, else by units */
	const char *missing;      /* "-9999,M": cells that say nothing, besides the usual ones */
	const char *years;        /* of picks: "2019..2024", each a column of its own */
	bool dry_run;
	/* Told now and then of a long file: rows taken, bytes of it read, its size. */
	void (*progress)(void *context, int32_t rows, int64_t at, int64_t size);
	void *progress_context;
};

/* What became of the rows; `lines` name the refused ones by line and column with the reason, and
 * the questions ("plum": European or Japanese?). */
struct import_account {
	int32_t fresh;
	int32_t same;
	int32_t changed;
	int32_t refused;
	const char **lines;
	int32_t line_count;
};

/* STATUS_SYNTAX: rows were refused, nothing was written, the account says which. What is said of a
 * whole file (units, order of day and month, years, encoding) is kept with its layout; a season or
 * a day for all picks is not. */

/* A row a tree: label= and what is known of it. A tree of the log gets the facts it lacks; one that
 * is told otherwise is refused. */
enum status import_trees(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why) MUST_CHECK;
/* A row a pick: tree=, day= or year= or season=, amount=, count=, grade=, note=. A row a tree and a
 * column a year, with `years`. A row a day and a column a tree, where day= is named and neither
 * tree= nor amount=; a column that is no tree's is named by skip=. In such sheets a cell that says
 * another figure than an import of such a sheet did before changes it. */
enum status import_picks(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why) MUST_CHECK;
/* A row an entry: tree=, day=, kind= (any verb of the line), amount=, words=, note=; or line= with
 * the whole line, or what comes after the label where tree= is named too. A row a day and a column
 * a tree, as with picks, each cell what was done there. Read as lines of a file are. */
enum status import_entries(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why) MUST_CHECK;
/* Days (day= max= min= rain= wind=) or hours (time= temperature= rain= wind=, with day= where the
 * date stands apart). A blank cell is unknown: it leaves what is stored. Hours give their day its
 * extremes, the sum of its rain and its mean wind where at least 23 of them have the figure (a
 * clock set forward drops one); a figure of the day that is of another file is left alone. The
 * account counts days, or hours. Refused too: a day that stands twice with other figures, a
 * minimum above its maximum, an observed day still to come. */
enum status import_weather(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why) MUST_CHECK;

#endif
