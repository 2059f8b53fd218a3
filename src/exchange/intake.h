/* SPDX-License-Identifier: MIT */
/* intake.h - what the imports of trees, picks and entries share: a file open with its columns, one
 * act, rows taken one by one, each cell that is refused named by line and column. */
#ifndef EXCHANGE_INTAKE_H
#define EXCHANGE_INTAKE_H

#include "mapping.h"
#include "store/claim.h"

/* Trees by the labels of the file; a label that is none keeps what was said of it. */
struct known_tree {
	const char *label; /* NULL: free */
	const char *title;
	enum status status;
	char id[ID_SIZE];
};

struct intake {
	/* set by the import before intake_open */
	struct session *session;
	const struct import_options *options;
	struct arena *arena; /* of the whole import */
	struct import_account *account;
	const char *what; /* of the layout: "picks" */
	const char *const *names;

	void *import; /* of its own, for `take` */

	struct arena *row_arena; /* of one row */
	struct mapping mapping;
	struct claims *claims;
	struct line_context context; /* days and figures as said for this file */
	const char *unit;            /* as said or kept; NULL */
	const char *length_unit;
	const char *species;
	const char *years;
	const char *numbers;
	const char *missing; /* "" */
	int32_t column;      /* of the cell in hand, by place in the file; -1: none */
	int32_t blank;       /* cells without an amount: not recorded */
	bool is_sheet;       /* a figure in every cell of a row */
	int32_t told;        /* new ones told of in a dry run */
	int32_t unsaid;      /* refusals past those that are told */
	int32_t headings;    /* the heading again, further down */
	struct known_tree *known;
	int32_t known_size;
	int32_t known_count;
};

/* Opens the file; intake_begin then the act, by its title, before the first row. After any outcome
 * intake_close ends it: on STATUS_OK the layout is kept and the act committed (of a dry run: taken
 * back), else all is taken back. */
enum status intake_open(struct intake *intake, struct fault *why) MUST_CHECK;
enum status intake_begin(struct intake *intake, const char *title, struct fault *why) MUST_CHECK;
enum status intake_close(struct intake *intake, enum status status, struct fault *why) MUST_CHECK;

/* Hands every row of the file to `take`, whose refusals are told and counted; rows of blank cells
 * and the heading again are passed over. STATUS_SYNTAX when something was refused. */
typedef enum status (*intake_take)(
	struct intake *intake, const struct csv_row *row, struct fault *why);
enum status intake_rows(struct intake *intake, intake_take take, struct fault *why) MUST_CHECK;
/* A refusal becomes a line of the account and STATUS_OK; any other failure stays one. */
enum status intake_settle(struct intake *intake, const struct csv_row *row, enum status status,
	struct fault *why) MUST_CHECK;

/* The cell of a row, blanks around it away; from now on it is the one in hand. */
const char *intake_text(struct intake *intake, const struct csv_row *row, int32_t name);
const char *intake_cell(struct intake *intake, const struct csv_row *row, int32_t column);
/* "-", "n/a", "null", nothing at all: says nothing. */
bool intake_is_blank(const struct intake *intake, const char *text);

/* The tree of a label, standing or the last that bore it. STATUS_ABSENT when there is none. */
enum status intake_tree(struct intake *intake, const char *label, struct subject *out,
	struct fault *why) MUST_CHECK;
/* The tree that is called just so in an export: "A5 (2011-2019)". STATUS_ABSENT. */
enum status intake_titled(
	const struct intake *intake, const char *title, char id[ID_SIZE]) MUST_CHECK;
/* A day in the order that was said. */
enum status intake_day(struct intake *intake, const char *text, struct date_span *out,
	struct fault *why) MUST_CHECK;
/* A bare figure with the unit said for the file, so that it is shown as that again. */
const char *intake_with_unit(const struct intake *intake, const char *text);

/* Takes the entry in, unless it is in the log already: the same, or the same with another note,
 * which it then gets. `said` is how a dry run names it. */
enum status intake_entry(struct intake *intake, const struct csv_row *row, struct entry *entry,
	const char *said, struct fault *why) MUST_CHECK;
/* Is it in the log already? Counts it, and mends its note; *known tells. */
enum status intake_known(struct intake *intake, const struct csv_row *row,
	const struct entry *entry, bool *known, struct fault *why) MUST_CHECK;
/* Counts a new one, and tells of it in a dry run. */
void intake_fresh(struct intake *intake, const struct csv_row *row, const char *said);
/* Counts one that changed, and tells how. */
void intake_changed(struct intake *intake, const struct csv_row *row, const char *said);

#endif
