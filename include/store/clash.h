/* SPDX-License-Identifier: MIT */
/* clash.h - what two copies of the log changed both, and the grower has yet to pick. Until then
 * the value of their common ancestor is shown. */
#ifndef STORE_CLASH_H
#define STORE_CLASH_H

#include "store/store.h"

struct clash_side { /* one act that says so, or several that say the same */
	char set_id[ID_SIZE];
	char typed_at[STAMP_TEXT_SIZE];
	const char *device; /* "" not known */
	bool is_own;        /* typed in this file, not brought by a merge */
};

struct clash_field {
	const char *table;
	char row_id[ID_SIZE];
	const char *field;
	const char *part;          /* of an entry's figures and words: "weight"; else "" */
	const char *before;        /* what is shown meanwhile; NULL: nothing */
	const char *const *values; /* one for each side; NULL: nothing */
};

/* Fields of one record that the same acts changed: picked together. */
struct clash {
	const char *title;   /* "A3", "A3 picked 6 lb (2026-05-20)" */
	char owner[ID_SIZE]; /* the record that the fields are of, or of a part of it */
	const char *owner_table;
	const struct clash_side *sides;
	int32_t side_count; /* at least two */
	const struct clash_field *fields;
	int32_t field_count; /* at least one */
};

/* In the same order in every copy that holds the same. */
enum status store_clash_list(struct store *store, struct arena *arena, struct clash **out,
	int32_t *count, struct fault *why) MUST_CHECK;
/* What a row is called, for values that name one ("A3" for the id of a tree): out is the id itself
 * when there is no such row. */
enum status store_row_name(
	struct store *store, const char *id, char out[TEXT_SIZE], struct fault *why) MUST_CHECK;
enum status store_clash_count(struct store *store, int32_t *count, struct fault *why) MUST_CHECK;
/* Inside an act: gives every field of the clash the value of one side (-1: the one from before).
 * STATUS_CONFLICT when it is no clash any more. */
enum status store_clash_keep(
	struct store *store, const struct clash *clash, int32_t side, struct fault *why) MUST_CHECK;

/* What the grower types in the stead of either side. */
struct clash_own {
	const char *text;     /* as the column has it; NULL: nothing */
	struct date_span day; /* of a field that says a day */
};
/* Inside an act: gives one field of a clash a value of its own, and the columns that repeat it what
 * goes with that. STATUS_CONFLICT: a name that another record has; or no clash any more.
 * STATUS_RANGE: no value for that field. */
enum status store_clash_put(struct store *store, const struct clash_field *field,
	const struct clash_own *own, struct fault *why) MUST_CHECK;

#endif
