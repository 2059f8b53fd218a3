/* SPDX-License-Identifier: MIT */
/* inner.h - what the files of src/dossier share: the yard's facts, lists of entries, crops. */
#ifndef DOSSIER_INNER_H
#define DOSSIER_INNER_H

#include "dossier/kind.h"
#include "dossier/plot.h"

/* Entries in the order of their days; those of no known day first. */
struct entry_list {
	struct arena *arena;
	const struct entry **items;
	int32_t count;
	int32_t capacity;
};
void entry_list_add(struct entry_list *list, const struct entry *entry);
void entry_list_sort(struct entry_list *list);

struct yard_ground;

struct yard {
	struct store *store;
	const struct almanac *almanac;
	struct arena *arena;
	struct date today;
	char read_at[ID_SIZE]; /* the newest act of the log before it was read */
	struct place place;
	struct place told; /* the same, in the units that figures are told in */
	enum climate climate;
	struct number_rules numbers;
	struct own_window *own_windows;
	int32_t own_window_count;
	struct own_rate *own_rates;
	int32_t own_rate_count;
	struct choice *choices;
	int32_t choice_count;
	struct product *products;
	int32_t product_count;
	struct container *containers;
	int32_t container_count;
	struct container_weight *weights;
	int32_t weight_count;
	bool shared_known;           /* the next ones are read, with the first dossier */
	struct weather_day *weather; /* observed, of the last 400 days, by day */
	int32_t weather_count;
	struct weather_day *forecasts; /* from today on, by day */
	int32_t forecast_count;
	struct maybe_date picks_since; /* the first pick in the log */
	struct entry_list place_entries;
	struct entry_list sowings;
	struct entry_list area_entries; /* of all areas: done work, told apart by their subject */
	bool looks_back;                /* who stands is told for the yard's day */
	const struct neighbour *neighbours; /* read with the first dossier; NULL before */
	int32_t neighbour_count;
	const struct label_marks *labels; /* the same, read when a tree is told without them */
	const struct spot *spots;         /* read when first asked for; NULL before */
	int32_t spot_count;
	const struct yard_ground *ground; /* read when first asked for; NULL before */
	const struct plot *plot;          /* the same */
	struct entry_shelf *shelf;        /* entries of trees that are told in a row; NULL none */
};

/* Reads weather, and work told of the place or an area, once. */
enum status shared_load(struct yard *yard, struct fault *why) MUST_CHECK;

/* One telling of a tree: for which day, into which arena, with which entry added (or NULL). */
struct telling {
	struct yard *yard;
	struct arena *arena;
	struct date today;
	const struct entry *extra;
	bool alone; /* without neighbours */
	bool later; /* without them too, unless they are read already: who needs them asks again */
};
enum status story_tell(const struct telling *telling, const char *tree_id,
	const struct dossier **out, struct fault *why) MUST_CHECK;
/* A tree that is no graft, with its standing grafts, as it was listed. */
enum status story_tell_whole(const struct telling *telling, const struct tree *tree,
	const struct dossier **out, struct fault *why) MUST_CHECK;

/* --- around the tree --- */
/* Reads who stands in the yard, once. */
enum status around_load(struct yard *yard, struct fault *why) MUST_CHECK;
/* Reads which labels there are, once. */
enum status labels_load(struct yard *yard, struct fault *why) MUST_CHECK;
/* May another label be near it? Of labels that were not read: yes. */
bool labels_may_be_near(const struct label_marks *labels, const char *label);
/* Reads the spots, once. */
enum status spots_load(struct yard *yard, struct fault *why) MUST_CHECK;
/* As store_standing_each, for those that stood on the yard's day. */
enum status stood_each(struct yard *yard,
	enum status (*visit)(void *context, const struct standing_tree *tree, struct fault *why),
	void *context, struct fault *why) MUST_CHECK;
/* Who stood in a spot besides this tree. */
enum status around_tell_tenants(const struct telling *telling, const char *spot_id,
	struct dossier *dossier, struct fault *why) MUST_CHECK;

/* Of rows that come by tree: the place of a tree's first, or where it would stand. Each takes
 * `size` bytes, with the tree's id `tree_id_at` bytes into it. */
int32_t first_of_tree(
	const void *rows, size_t size, size_t tree_id_at, int32_t count, const char *tree_id);

/* --- what stands on the ground --- */
/* As store_tree_size_list gives them: by tree, then by day. */
struct tree_sizes {
	const struct tree_size *items;
	int32_t count;
};
/* The latest up to today; NULL none. */
const struct tree_size *sizes_latest(
	const struct tree_sizes *sizes, const char *tree_id, bool is_spread, struct date today);
/* "east,north east,north" in micrometres; a piece that is no point ends the line. */
struct plot_point *points_read(const char *text, struct arena *arena, int32_t *count);

/* --- crops --- */
/* A stretch of a subject's life with one way of naming seasons. */
struct era {
	struct maybe_date from; /* unknown: always */
	struct season_rule rule;
	char species[KEY_SIZE]; /* for the weight of a container; "" unknown */
};
struct season_rule rule_of_kind(
	const struct yard *yard, const struct tree_kind *kind, const char *tree_id);
/* Eras of a tree up to the day, at least one; out holds ERAS_MAX + 1. */
int32_t eras_of_tree(const struct yard *yard, const struct identity *identities, int32_t count,
	const char *tree_id, struct date until, struct era *out);
/* Eras of a spot by what stood there; mixed kinds count as unknown. out holds ERAS_MAX + 1. */
enum status eras_of_spot(const struct yard *yard, const char *spot_id, struct arena *arena,
	struct era *out, int32_t *count, struct fault *why) MUST_CHECK;

/* The part of a spot's crop that says what stands there now. */
enum status spot_kind_tell(const struct yard *yard, const char *spot_id, struct arena *arena,
	struct spot_crop *crop, struct fault *why) MUST_CHECK;

struct crop_story {
	const struct season *seasons;
	int32_t season_count;
	int32_t season_own;            /* index of the first season of the last era */
	struct expected_crop expected; /* of the last era */
	struct part_crop parts[CROP_MAIN + 1];
};
/* Pick and loss entries of one subject put into seasons, era by era. */
struct crop_story crop_tell(const struct telling *telling, const struct entry_list *crops,
	const struct era *eras, int32_t era_count);
/* What one entry weighs, its containers by what one holds of this kind that day. */
struct amount_sum entry_mass(
	const struct yard *yard, const struct entry *entry, const char *species);
/* How many seasons at the end belong to the last era alone. */
int32_t seasons_of_last_era(
	const struct season *seasons, int32_t count, const struct era *eras, int32_t era_count);

/* stages and picks: done entries of one subject in day order. */
struct tree_learning learn_from(const struct telling *telling, const struct entry_list *entries,
	const struct tree_kind *kind, const struct crop_story *crop, const struct era *era);

#endif
