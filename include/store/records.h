/* SPDX-License-Identifier: MIT */
/* records.h - records in and out of the log.
 *
 * add: inside an act; fills record->id when it is "" and copies nothing else back. save: writes
 * the fields that differ from the row as it stands, each with its change row; STATUS_ABSENT when
 * it was struck. What was changed meanwhile shows by store_row_newest_change. strike: takes the
 * record back (never deletes). STATUS_CONFLICT when another standing area, spot, product or
 * container has the name. After any failure the act is to be rolled back. Lists live in the
 * caller's arena, in a stable order, and leave struck rows out. `find` and `load` answer
 * STATUS_ABSENT when there is none. */
#ifndef STORE_RECORDS_H
#define STORE_RECORDS_H

#include "core/line.h"
#include "store/records_small.h"
#include "store/store.h"

/* --- place --- */
enum status store_place_load(struct store *store, struct place *out, struct fault *why) MUST_CHECK;
enum status store_place_save(
	struct store *store, const struct place *place, struct fault *why) MUST_CHECK;

/* --- areas, spots --- */
enum status store_area_add(struct store *store, struct area *area, struct fault *why) MUST_CHECK;
enum status store_area_save(
	struct store *store, const struct area *area, struct fault *why) MUST_CHECK;
enum status store_area_find(struct store *store, const char *name, struct area *out,
	struct fault *why) MUST_CHECK; /* case-folded */
enum status store_area_list(struct store *store, struct arena *arena, struct area **out,
	int32_t *count, struct fault *why) MUST_CHECK;
enum status store_spot_add(struct store *store, struct spot *spot, struct fault *why) MUST_CHECK;
enum status store_spot_save(
	struct store *store, const struct spot *spot, struct fault *why) MUST_CHECK;
enum status store_spot_find(
	struct store *store, const char *name, struct spot *out, struct fault *why) MUST_CHECK;
enum status store_spot_load(
	struct store *store, const char *id, struct spot *out, struct fault *why) MUST_CHECK;
enum status store_spot_list(struct store *store, struct arena *arena, struct spot **out,
	int32_t *count, struct fault *why) MUST_CHECK;
/* Those that a pick or a loss was ever told of as one. */
enum status store_spot_picked_list(struct store *store, struct arena *arena, struct spot **out,
	int32_t *count, struct fault *why) MUST_CHECK;

struct obstacle {
	char id[ID_SIZE];
	char name[LABEL_SIZE];
	char kind[KEY_SIZE];
	const char *points;
	struct maybe_i64 height_um;
};
enum status store_obstacle_add(
	struct store *store, struct obstacle *obstacle, struct fault *why) MUST_CHECK;
enum status store_obstacle_list(struct store *store, struct arena *arena, struct obstacle **out,
	int32_t *count, struct fault *why) MUST_CHECK;

/* The grower's order of spots: ids in walking order; setting replaces it. */
enum status store_route_set(struct store *store, const char *const *spot_ids, int32_t count,
	struct fault *why) MUST_CHECK;
enum status store_route_list(struct store *store, struct arena *arena, char (**out)[ID_SIZE],
	int32_t *count, struct fault *why) MUST_CHECK;

/* --- trees --- */
/* STATUS_CONFLICT when a standing tree has the label. tree->spot_id, when not "", also makes the
 * tree_spot row from `planted`. */
enum status store_tree_add(struct store *store, struct tree *tree, struct fault *why) MUST_CHECK;
enum status store_tree_save(
	struct store *store, const struct tree *tree, struct fault *why) MUST_CHECK;
/* Keeps the old label findable. */
enum status store_tree_rename(
	struct store *store, const char *id, const char *label, struct fault *why) MUST_CHECK;
/* Closes the tree and its grafts on a day with a reason; ends its tree_spot row. */
enum status store_tree_close(struct store *store, const char *id, const struct date_span *day,
	const char *reason, struct fault *why) MUST_CHECK;
/* Ends the present spot on `day` and begins another ("" : none). */
enum status store_tree_move(struct store *store, const char *id, const char *spot_id,
	struct date day, struct fault *why) MUST_CHECK;
enum status store_tree_load(
	struct store *store, const char *id, struct tree *out, struct fault *why) MUST_CHECK;
/* The standing tree of that label (case-folded), else the one that last bore it (then it is gone
 * or renamed). */
enum status store_tree_find(
	struct store *store, const char *label, struct tree *out, struct fault *why) MUST_CHECK;
/* How a tree is told from others that bore its label: "A5" while it stands, "A5 (2011-2019)" once
 * it is gone, "A5 (?-2019)" where its planting is not known. store_name_find reads that too. */
enum { TREE_TITLE_SIZE = LABEL_SIZE + 16 };
const char *store_tree_title(const struct tree *tree, char out[TREE_TITLE_SIZE]);
/* For struct line_names: matches among trees, spots, areas, containers and products; not
 * NAME_KIND, which is the almanac's. Trees: the standing one with the label, else the one that
 * last bore it, else the gone one with that title, else the standing ones that it shortens. */
int32_t store_name_find(struct store *store, enum name_class class, const char *text, size_t length,
	struct name_match *out, int32_t max);

struct tree_query {
	bool gone_too;
	const char *species;   /* key; NULL all */
	const char *area_id;   /* NULL all */
	const char *spot_id;   /* NULL all */
	const char *host_id;   /* NULL all; else its grafts */
	const char *parent_id; /* NULL all; else what was raised from it */
	const char *text;      /* part of the label; of three letters on, of its names; NULL all */
	int32_t offset, most;  /* a page; most 0: all */
};
/* In the natural order of labels. */
enum status store_tree_list(struct store *store, const struct tree_query *query,
	struct arena *arena, struct tree **out, int32_t *count, struct fault *why) MUST_CHECK;
/* All that stand or stood, in the same order, a page at a time: a tree, and the arena, last as long
 * as the visit. */
enum status store_tree_each(struct store *store,
	enum status (*visit)(
		void *context, const struct tree *tree, struct arena *arena, struct fault *why),
	void *context, struct fault *why) MUST_CHECK;
enum status store_tree_count(struct store *store, const struct tree_query *query, int32_t *count,
	struct fault *why) MUST_CHECK;

struct tree_place { /* where a tree stood */
	char tree_id[ID_SIZE];
	char spot_id[ID_SIZE];
	struct maybe_date from;
	struct maybe_date to;
};
/* By tree (spot_id NULL) or by spot (tree_id NULL), oldest first. */
enum status store_tree_place_list(struct store *store, const char *tree_id, const char *spot_id,
	struct arena *arena, struct tree_place **out, int32_t *count, struct fault *why) MUST_CHECK;

struct tree_size { /* how tall or wide a tree was found, or how tall a cut left it */
	char tree_id[ID_SIZE];
	bool is_spread;
	int64_t um;
	struct maybe_date day;
};
/* Of all trees: by tree, then by day, those of no known day first. */
enum status store_tree_size_list(struct store *store, struct arena *arena, struct tree_size **out,
	int32_t *count, struct fault *why) MUST_CHECK;

enum status store_identity_add(
	struct store *store, struct identity *identity, struct fault *why) MUST_CHECK;
/* Oldest opinion first. tree_id NULL: of all trees, ordered by tree. */
enum status store_identity_list(struct store *store, const char *tree_id, struct arena *arena,
	struct identity **out, int32_t *count, struct fault *why) MUST_CHECK;

/* A tree that stands, where it is and what it was taken for, oldest opinion first. */
struct standing_tree {
	char tree_id[ID_SIZE];
	char host_id[ID_SIZE];
	char spot_id[ID_SIZE]; /* of a graft: its host's */
	char label[LABEL_SIZE];
	bool over_fence;
	struct date_span planted;
	struct maybe_i64 east_um, north_um;
	bool off_place;
	const struct identity *identities;
	int32_t identity_count;
};
/* Each of them, for as long as the visit; what it answers other than STATUS_OK ends it. */
enum status store_standing_each(struct store *store,
	enum status (*visit)(void *context, const struct standing_tree *tree, struct fault *why),
	void *context, struct fault *why) MUST_CHECK;
/* Every label there is or was, folded, along an index. */
enum status store_label_each(struct store *store, void (*visit)(void *context, const char *folded),
	void *context, struct fault *why) MUST_CHECK;

/* --- entries --- */
/* Writes the entry with its amounts, details, stem measures, and its words to the search. */
enum status store_entry_add(struct store *store, struct entry *entry, struct fault *why) MUST_CHECK;
/* The entry as mended: fields that differ are changed, parts that went are struck. */
enum status store_entry_save(
	struct store *store, const struct entry *entry, struct fault *why) MUST_CHECK;
enum status store_entry_strike(struct store *store, const char *id, struct fault *why) MUST_CHECK;
enum status store_entry_load(struct store *store, const char *id, struct arena *arena,
	struct entry *out, struct fault *why) MUST_CHECK;

struct entry_query {
	const char *subject_id; /* NULL: any; "" : the place's own */
	bool kind_given;
	enum entry_kind kind;
	struct maybe_date from, to; /* on the entry's low day, both ends in */
	int planned;                /* -1 both, 0 done, 1 planned */
	bool newest_first;          /* else by day, then as typed */
	int32_t most;               /* 0: all */
	const char *batch;          /* NULL: any */
};
enum status store_entry_list(struct store *store, const struct entry_query *query,
	struct arena *arena, struct entry **out, int32_t *count, struct fault *why) MUST_CHECK;
/* The day of the first pick of all that was done; day is not known where it was not told. */
enum status store_first_pick(
	struct store *store, bool *any, struct maybe_date *day, struct fault *why) MUST_CHECK;
/* Hands each of them to `visit` in the same order (newest_first is not heard), some at a time, so
 * that any number can be gone through; what visit answers other than STATUS_OK ends it. */
enum status store_entry_each(struct store *store, const struct entry_query *query,
	enum status (*visit)(void *context, const struct entry *entry, struct fault *why),
	void *context, struct fault *why) MUST_CHECK;

#endif
