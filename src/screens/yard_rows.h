/* SPDX-License-Identifier: MIT */
/* yard_rows.h - the lines of the yard's list: one tree each, read only for the rows in view. */
#ifndef SCREENS_YARD_ROWS_H
#define SCREENS_YARD_ROWS_H

#include "screen.h"
#include "year_line.h"

enum { YARD_ROWS_MAX = 160, YARD_WORDS_SIZE = 96 };

struct yard_row {
	char id[ID_SIZE];
	char label[LABEL_SIZE];
	char kind[NAME_SIZE];       /* "apple": where there is no room for the next */
	char cultivar[NAME_SIZE];   /* "apple, Gravenstein" */
	char year[YARD_WORDS_SIZE]; /* "fruit on, clear for the saw" */
	char year_short[YARD_WORDS_SIZE];
	char last_day[24]; /* "12 Nov", "Nov 2025"; "" nothing is logged */
	char last[FAULT_TEXT_SIZE];
	char letters[6]; /* A D S n L, blanks between */
	bool is_graft;
	bool has_hazard;
	struct year_line line; /* where rows are lines of the year: then nothing else but names */
};

/* The trees that are listed, in their order: read once, not for each key. */
struct yard_list {
	char (*ids)[ID_SIZE];
	int32_t count;
	char text[TEXT_SIZE]; /* that they have been sought by */
	bool known;
};

struct yard_rows {
	int line_columns; /* 0: rows are words */
	enum year_thread thread;
	struct ribbon head; /* of lines: the months, the day, frost and heat */
	struct yard_row rows[YARD_ROWS_MAX];
	int32_t first; /* place of rows[0] among all */
	int32_t count;
	int32_t total; /* trees that there are */
	bool known;    /* else all is to be read anew */
};

/* Where a tree is in its year, in words: the crop, and the saw. */
void yard_row_year(const struct dossier *dossier, struct date today, struct yard_row *out);

/* The same in a letter: b bloom, f fruit hangs, h harvest, r rests, ? no dates; a capital where the
 * saw is to be left. */
char yard_row_sign(const struct dossier *dossier, struct date today);
/* All of a row from what was read of its tree. */
void yard_row_tell(const struct dossier *dossier, const struct review *review,
	const struct session *session, struct yard_row *out);

/* Reads rows first..first+count of the trees listed; those that were in view before are not read
 * again. */
enum status yard_rows_read(struct yard_rows *rows, struct session *session,
	const struct yard_list *list, int32_t first, int32_t count, struct fault *why) MUST_CHECK;
/* What rows are: words (columns 0), or lines of the year in so many cells. */
void yard_rows_weave(struct yard_rows *rows, enum year_thread thread, int columns);
void yard_rows_draw(const struct yard_rows *rows, struct paper *paper, int row, int32_t selected);

#endif
