/* SPDX-License-Identifier: MIT */
/* merge.h - another copy of the log taken in, told in words; and what both copies changed, picked
 * by the grower. */
#ifndef EXCHANGE_MERGE_H
#define EXCHANGE_MERGE_H

#include "report/print.h"
#include "report/session.h"
#include "store/clash.h"
#include "store/merge.h"

struct merge_options {
	const char *path;
	bool unrelated; /* a log that never was a copy of this one: add all that it holds */
	bool dry_run;   /* on a copy, of which nothing stays but the account */
};

struct merge_told {
	struct merge_account account;
	int32_t clash_count; /* that wait now, older ones too */
	const char **lines;  /* the whole account, for people; those of a list begin with a blank */
	int32_t line_count;
};

/* One act, all or nothing. Nothing new: no act, and a line that says so. A log open for reading
 * takes a dry run. The yard is to be read anew afterwards. */
enum status merge_log(struct session *session, const struct merge_options *options,
	struct arena *arena, struct merge_told *out, struct fault *why) MUST_CHECK;

/* Settles a clash by one side of it, or (-1) by what was before, as one act; `said` gets what was
 * kept. The yard is to be read anew afterwards. */
enum status merge_keep(struct session *session, const struct clash *clash, int32_t side,
	char said[TEXT_SIZE], struct fault *why) MUST_CHECK;

/* The same with what the grower types: the value of the one field, or "planted: 2017; note: wire"
 * of several (those that are named are settled); for an entry the line that it is to say. */
enum status merge_keep_own(struct session *session, const struct clash *clash, const char *text,
	char said[TEXT_SIZE], struct fault *why) MUST_CHECK;

/* "planted: 2017-03; note: wire": what a side says of all fields; side -1: what was before. */
const char *clash_words(struct session *session, const struct clash *clash, int32_t side,
	struct arena *arena, struct fault *why);
/* "typed 2026-05-20 here", "typed 2019-01-02 on shed". */
const char *clash_whence(const struct clash_side *side, struct arena *arena);
/* One field: what it is called, and what a side says of it. */
const char *clash_field_name(const struct clash_field *field, struct arena *arena);
const char *clash_field_unit(const char *field); /* "_um" of "height_um"; "" it has none */
bool clash_field_is_flag(const char *field);     /* yes or no */
const char *clash_value_words(struct session *session, const struct clash_field *field,
	const char *value, struct arena *arena, struct fault *why);

/* The account, and one clash under its number, as text of the printer's width. */
void merge_say_told(
	const struct printer *printer, const struct merge_told *told, struct arena *arena);
enum status merge_say_clash(const struct printer *printer, struct session *session, int32_t number,
	const struct clash *clash, struct arena *arena, struct fault *why) MUST_CHECK;
/* "a", "b" or "before" (-1). STATUS_SYNTAX says what may be said. */
enum status merge_read_side(
	const char *word, const struct clash *clash, int32_t *out, struct fault *why) MUST_CHECK;

#endif
