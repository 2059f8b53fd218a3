/* SPDX-License-Identifier: MIT */
/* yard_rows.h - the lines of the yard's list: one tree each, read only for the rows in view. Names
 * are there at once; what has to be worked out of a tree's entries comes in quiet moments, until
 * then ~ stands for its flags. */
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
	char letters[6]; /* A D S n L, blanks between; ~ not told yet */
	bool named;      /* else names are to be read anew */
	bool told;       /* all the rest, as well */
	bool is_graft;
	bool has_hazard;
	struct year_line line; /* where rows are lines of the year: then nothing else but names */
};

/* The trees that are listed, in their order: sought out once, not for each key. */
struct yard_list {
	const char **ids;
	int32_t count;
	char text[TEXT_SIZE]; /* that they have been sought by */
	bool is_begun;        /* only the first of them are here, as many as fit the screen */
	bool known;
};

struct yard_rows {
	int line_columns; /* 0: rows are words */
	enum year_thread thread;
	struct ribbon head; /* of lines: the months, the day, frost and heat */
	bool head_known;    /* once a line was told */
	struct yard_row rows[YARD_ROWS_MAX];
	int32_t first; /* place of rows[0] among all */
	int32_t count;
	int32_t total;      /* trees that there are */
	bool known;         /* else all is to be read anew */
	struct fault fault; /* why a row could not be told; text "" nothing */
};

/* Where a tree is in its year, in words: the crop, and the saw. */
void yard_row_year(const struct dossier *dossier, struct date today, struct yard_row *out);

/* The same in a letter: b bloom, f fruit hangs, h harvest, r rests, ? no dates; a capital where the
 * saw is to be left. */
char yard_row_sign(const struct dossier *dossier, struct date today);
/* One tree told whole: its row, what is flagged, and what `take` (NULL: nobody) makes of its
 * dossier. */
struct yard_told {
	void *owner;
	void (*take)(void *owner, const struct dossier *dossier);
	struct yard_row row;
	struct review review;
};
enum status yard_row_tell(struct session *session, const char *tree_id, struct arena *arena,
	struct yard_told *out, struct fault *why) MUST_CHECK;

/* Names the rows first..first+count of the trees listed; those that were in view before are not
 * read again. */
enum status yard_rows_read(struct yard_rows *rows, struct session *session,
	const struct yard_list *list, int32_t first, int32_t count, struct fault *why) MUST_CHECK;
/* Tells rows in view, for some seconds but one at least; true: there were some to tell. */
bool yard_rows_tell(struct yard_rows *rows, struct session *session, double seconds);
/* After an act: rows keep their words until they are told anew, but not their flags. */
void yard_rows_doubt(struct yard_rows *rows);
/* What rows are: words (columns 0), or lines of the year in so many cells. */
void yard_rows_weave(struct yard_rows *rows, enum year_thread thread, int columns);
void yard_rows_draw(const struct yard_rows *rows, struct paper *paper, int row, int32_t selected);

#endif
