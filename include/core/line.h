/* SPDX-License-Identifier: MIT */
/* line.h - the entry line: one line of words logs one thing.
 *
 *     LABEL VERB [AMOUNT ...] [WORD ...] [@ DAY] [; free text]
 *
 * The one parser of screens, command line and files. It is pure: names are asked of the caller
 * through `struct line_names`. Nothing is guessed in silence and nothing typed is lost: the line
 * is read (STATUS_OK), asked back with the choices (STATUS_DOUBT), or refused with what would be
 * understood (STATUS_SYNTAX, STATUS_RANGE, STATUS_ABSENT for a name). */
#ifndef CORE_LINE_H
#define CORE_LINE_H

#include "core/memory.h"
#include "core/record.h"

enum name_class {
	NAME_TREE,  /* standing trees, grafts and, exactly written, gone ones */
	NAME_GRAFT, /* standing grafts by what was put on alone: the Comice of W1/Comice */
	NAME_SPOT,
	NAME_AREA,
	NAME_CONTAINER,
	NAME_PRODUCT,
	NAME_KIND, /* "figs", "peach": the almanac's kinds by any name; id is the key */
};

struct name_match {
	char id[ID_SIZE > KEY_SIZE ? ID_SIZE : KEY_SIZE];
	char label[LABEL_SIZE];
	bool is_exact; /* else text is a short form of it */
	bool is_gone;
	struct maybe_date planted; /* low end, of a tree: lines dated before it are asked */
};

/* Finds the things that text[0..length) names, case-folded: exact ones, and for trees the short
 * forms (a prefix of at least two letters, or the whole first word, of a standing label). Fills
 * at most max, returns how many there are. */
struct line_names {
	void *owner;
	int32_t (*find)(void *owner, enum name_class class, const char *text, size_t length,
		struct name_match *out, int32_t max);
};

struct line_context {
	struct line_names names;
	struct number_rules numbers;
	enum date_order dates;
	enum hemisphere hemisphere;
	struct date today;
	/* a line "@ DAY" above in a file: the day of lines without one */
	struct maybe_date file_day;
	bool from_file;     /* "yesterday" and weekdays need file_day */
	bool short_labels;  /* short forms are taken (screens, --short) */
	const char *label;  /* the screen stands at this tree: the line starts at the verb, and
	                               one-letter verbs are read; NULL else */
	bool is_plan;       /* the word "plan" is left out (command plan) */
	const char *season; /* --season given outside the line; NULL else */
};

/* What a line logs: one draft entry and whom it is for. */
struct reading {
	struct entry draft; /* subject filled when `batch` is BATCH_ONE */
	enum batch { BATCH_ONE, BATCH_ALL_KIND, BATCH_ALL_AREA, BATCH_ALL } batch;
	char batch_name[NAME_SIZE]; /* the kind's key or the area's id */
	char batch_title[NAME_SIZE];
	bool is_total;        /* "total" said: one entry on the area, undivided */
	bool day_given;       /* else today was taken */
	bool is_day_line;     /* the line is only "@ DAY": it sets the day for those below */
	char said[480];       /* "A3: picked 6 lb 4 oz, 85 fruit, today (24 November 2026)" */
	char remarks[480];    /* what the program noticed and kept: "8 x 2 x 2.4 = 38.4, kept 35" */
	const char *lines[8]; /* a line that holds several: the lines it would take */
	int32_t line_count;
};

/* Reads one line. Everything in *out lives in arena. On failure *why says what was wrong, where
 * (byte column in *column when not NULL) and what would be understood; with several things in
 * one line (STATUS_DOUBT) out->lines holds the lines it would take. */
enum status line_read(const char *text, const struct line_context *context, struct arena *arena,
	struct reading *out, size_t *column, struct fault *why) MUST_CHECK;

/* A line of a file, as diaries have them: besides what line_read takes, one behind a bullet, one
 * behind its day ("14 march: A1 picked 3 lb"), and a day with nothing else, which is a day line.
 * Each only where the line as it stands is not understood; what is told then is of that. */
enum status line_read_in_file(const char *text, const struct line_context *context,
	struct arena *arena, struct reading *out, struct fault *why) MUST_CHECK;

/* What follows "@ ": any day the grammar knows, relative to context->today. planning: a day
 * without year is the earliest not before today, else the latest not after. */
enum status day_read(const char *text, const struct line_context *context, bool planning,
	struct date_span *out, struct fault *why) MUST_CHECK;
/* A planting day as growers say it: "sometime in the 90s", "60 yrs old", "before Oct 2012". */
enum status planting_read(const char *text, const struct line_context *context,
	struct date_span *out, struct fault *why) MUST_CHECK;
/* STATUS_RANGE with the reason when text may not be a label: blank, over 40 characters, holds
 * one of ; @ " or a control, or starts with "all ", "spot ", "area ", "graft ". */
enum status label_check(const char *text, struct fault *why) MUST_CHECK;

/* How an entry is said again in plain words, for lists: "picked 6 lb 4 oz, 85 fruit". */
const char *entry_format(
	const struct entry *entry, const struct number_rules *rules, char *out, int size);

#endif
