/* SPDX-License-Identifier: MIT */
/* line_parts.h - the parts of the reader of entry lines. See core/line.h for the contract.
 *
 * A line is made plain, cut at ';' and '@', its subject and verb are found, then its items are
 * read one by one: each reader of an item answers STATUS_ABSENT when the words are not its own,
 * STATUS_OK when it took them, and else the reason why the line is asked back or refused. */
#ifndef CORE_LINE_PARTS_H
#define CORE_LINE_PARTS_H

#include "core/amount_parts.h"
#include "core/line.h"
#include "core/plain.h"
#include "core/text.h"

enum { RUNS_MAX = 16, MATCHES_MAX = 8, LINES_MAX = 8 };

/* Words that nothing else understood, in the plain text. */
struct word_run {
	size_t from;
	size_t to;
};

struct line_work {
	const struct line_context *context;
	struct arena *arena;
	struct reading *out;
	struct fault *why;
	const char *raw;
	struct plain *plain;
	const char *text; /* plain, as typed, cut at the day or the note */
	const char *low;
	size_t end;       /* of the items */
	size_t at;        /* the cursor */
	size_t failed_at; /* where the trouble is, in the plain text */
	size_t day_from;  /* what follows '@'; 0: no day given */
	size_t day_to;
	const char *note; /* raw, behind ';' */
	size_t verb_at;
	size_t verb_length;
	enum entry_kind kind;
	const struct kind_row *row;
	struct maybe_date planted; /* of the tree, to ask about days before it */
	bool planned;
	bool is_sure;  /* "sure": an unlikely size is meant */
	bool joined;   /* a '+' stands before the item */
	bool run_open; /* the last item was words of the last run */
	bool has_number;
	struct amount amounts[AMOUNTS_MAX];
	const struct unit *units[AMOUNTS_MAX];
	size_t amount_at[AMOUNTS_MAX];
	int32_t amount_count;
	struct detail details[DETAILS_MAX];
	int32_t detail_count;
	struct stem_measure stems[STEMS_MAX];
	int32_t stem_count;
	struct word_run runs[RUNS_MAX];
	int32_t run_count;
	struct date_span day;
	bool day_said;
	struct maybe_i32 season;
	struct text_builder remarks;
	struct text_builder asides;
};

/* One quantity read off the line, before it has a field. */
struct quantity {
	struct amount amount;
	struct amount_notes notes;
	size_t from; /* in the plain text */
	size_t to;
};

/* --- line.c: for every part --- */
enum status line_fail(struct line_work *work, enum status status, size_t at, const char *format,
	...) __attribute__((format(printf, 4, 5)));
void line_remark(struct line_work *work, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
/* One of the lines that a line with several things would take. */
void line_offer(struct line_work *work, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
int32_t line_find(struct line_work *work, enum name_class class, size_t from, size_t to,
	struct name_match *out, int32_t max);
/* The label as it may be typed again, and " @ DAY" as it was typed ("" without). */
const char *line_label(const struct line_work *work);
const char *line_day_text(struct line_work *work);
bool line_has_field(const struct line_work *work, enum field field);

/* --- line_subject.c --- */
enum status line_read_subject(struct line_work *work);
/* Is the verb at low read among the items too? */
bool line_verb_speaks(enum entry_kind kind, const char *low);

/* --- line_items.c, line_amounts.c --- */
enum status line_read_items(struct line_work *work);
enum status line_add_detail(struct line_work *work, enum field field, size_t from, size_t to);
enum status line_add_word(struct line_work *work, enum field field, const char *text);
enum status line_add_amount(struct line_work *work, enum field field, const struct quantity *from);
/* Asks, offering the line cut in two before the plain text's byte `second`. */
enum status line_offer_two(struct line_work *work, size_t second, const char *what);
void line_add_none(struct line_work *work);
/* Takes used bytes at the cursor. */
void line_take(struct line_work *work, size_t used);
/* The next word after at: where it starts; its length. */
size_t line_word(const struct line_work *work, size_t at, size_t *length);
/* The quantity at the cursor; it moves no cursor. */
enum status line_scan_quantity(struct line_work *work, size_t at, struct quantity *out);
/* Where plain words end: at the next comma, or at a length ("fire blight 8 in below"). */
size_t line_words_end(struct line_work *work, size_t from);

bool line_starts_number(const char *low);
enum status line_read_amount(struct line_work *work);

/* --- line_counts.c: shares, containers, pieces, groups --- */
enum status line_scan_share(struct line_work *work, size_t at, struct quantity *out);
enum status line_read_share(struct line_work *work);
enum status line_read_containers(struct line_work *work);
/* Containers after the number already scanned; STATUS_ABSENT: none. */
enum status line_take_containers(struct line_work *work, struct quantity *count);

/* --- one reader for the words of each kind --- */
enum status line_cut_item(struct line_work *work);
enum status line_feed_item(struct line_work *work);
enum status line_pick_item(struct line_work *work);
enum status line_loss_item(struct line_work *work);
enum status line_thin_item(struct line_work *work);
enum status line_use_item(struct line_work *work);
enum status line_pick_use_item(struct line_work *work); /* of a whole pick */
enum status line_raise_item(struct line_work *work);    /* grafts and seeds: took, batch */
enum status line_measure_item(struct line_work *work);
enum status line_stage_item(struct line_work *work);
enum status line_saw_item(struct line_work *work);
enum status line_water_item(struct line_work *work);
enum status line_spray_item(struct line_work *work);
enum status line_died_item(struct line_work *work);
enum status line_weather_item(struct line_work *work);
enum status line_words_item(struct line_work *work); /* plant, graft, soil test, leave ... */
enum status line_plan_item(struct line_work *work);  /* every, until */

/* --- line_finish.c, line_said.c, line_use.c --- */
enum status line_finish(struct line_work *work);
enum status line_finish_use(struct line_work *work);
enum status line_name_kind(struct line_work *work); /* of a total of all of a kind */
void line_say(struct line_work *work);
/* "3 limbs" and the like: the noun's length at low, 0 when it is none of this kind's. */
size_t line_piece_noun(enum entry_kind kind, const char *low);

#endif
