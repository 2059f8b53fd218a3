/* SPDX-License-Identifier: MIT */
/* dossier.h - one tree's whole story as plain values: what rules and reports read.
 *
 * The struct stands here, not in core, because it holds almanac rows and resolved windows; the
 * layer `dossier` fills it. Everything is const to its readers and lives in an arena. */
#ifndef RECKON_DOSSIER_H
#define RECKON_DOSSIER_H

#include "reckon/crop.h"
#include "reckon/trunk.h"

enum { CANDIDATES_MAX = 6, OWN_MAX = 16 };

/* What the tree is, with how sure. */
struct tree_kind {
	const struct species *species; /* the one it is taken for; NULL: unknown, or candidates */
	enum sure sure;
	const struct species *candidates[CANDIDATES_MAX];
	int32_t candidate_count;
	const char *outside;      /* a kind known by name only ("mango"); NULL else */
	char name[NAME_SIZE];     /* as it is to be shown: "loquat", "loquat?", "unknown" */
	char cultivar[NAME_SIZE]; /* "" unknown */
	enum sure cultivar_sure;
};

/* A standing tree or graft of the yard, or one over the fence: who may give pollen, who stands
 * near. */
struct neighbour {
	char tree_id[ID_SIZE];
	char host_id[ID_SIZE]; /* "": no graft */
	char spot_id[ID_SIZE]; /* of a graft: its host's; "" none */
	char label[LABEL_SIZE];
	bool over_fence;
	struct date_span planted;
	struct tree_kind kind;
	struct maybe_i64 east_um; /* of its spot */
	struct maybe_i64 north_um;
	bool off_place; /* its spot is elsewhere */
};

/* Who stood in this tree's spot before it came, or stands there beside it. */
struct tenant {
	struct tree tree;
	struct tree_kind kind; /* as it was at the end, or is */
	struct maybe_date from;
	struct maybe_date to; /* unknown: still there */
};

struct dossier {
	const struct place *place;
	enum climate climate;
	struct tree tree;
	struct tree_kind kind;
	struct maybe_i32 age_low_years; /* on the day the dossier is for */
	struct maybe_i32 age_high_years;

	/* done entries about this tree by day; a cut on the host is in its grafts' lists too */
	const struct entry *const *entries;
	int32_t entry_count;
	const struct entry *const *planned;
	int32_t planned_count;

	struct tree_learning learning;
	struct season_rule season_rule;
	const struct season *seasons; /* oldest first; the last is the one that holds today */
	int32_t season_count;
	int32_t season_own; /* index of the first season of what the tree is now */
	struct expected_crop expected;
	struct part_crop parts[CROP_MAIN + 1]; /* by enum crop_part, of kinds that bear twice */
	int32_t season_year;                   /* of today */

	struct maybe_date picks_since;      /* the first pick logged anywhere in the yard */
	struct maybe_date spot_crops_since; /* first pick or loss told of its spot as one */

	struct trunk trunk;
	const struct trunk_reading *readings;
	int32_t reading_count;

	const struct own_window *own_windows;
	int32_t own_window_count;
	const struct own_rate *own_rates;
	int32_t own_rate_count;
	const struct choice *choices;
	int32_t choice_count;
	const struct product *products;
	int32_t product_count;
	const struct spot *spot; /* NULL none */

	/* all that stand, this tree among them, by species (unknown ones first), then in
	 * the natural order of labels; not told: reading them costs by the yard */
	bool neighbours_told;
	bool label_is_near; /* another label may be near this one's: only then is it to be asked */
	const struct neighbour *neighbours;
	int32_t neighbour_count;
	const struct tenant *tenants; /* of its spot, by their first day; never this tree */
	int32_t tenant_count;

	/* stored weather of the last 400 days, by day; observed only */
	const struct weather_day *weather;
	int32_t weather_count;
	/* what stations forecast for the day of the dossier and later ones, by day, then name */
	const struct weather_day *forecasts;
	int32_t forecast_count;
	/* entries about the place as a whole (frost, hail ...), by day */
	const struct entry *const *place_entries;
	int32_t place_entry_count;
	/* sowings of the last 400 days and those to come, of any tree, spot or the place, by day */
	const struct entry *const *sowings;
	int32_t sowing_count;

	const struct dossier *host;          /* NULL: no graft */
	const struct dossier *const *grafts; /* standing ones on this tree */
	int32_t graft_count;
};

/* The neighbours of one kind, as told: a stretch of the list, this tree perhaps among them.
 * species NULL: those whose kind is not known, or in doubt between several. */
const struct neighbour *dossier_neighbours_of(
	const struct dossier *dossier, const struct species *species, int32_t *count);
/* Between the spots, on the flat, in micrometres: 0 in one spot or on one trunk; unknown where
 * either is not placed. */
struct maybe_i64 dossier_distance(const struct dossier *dossier, const struct neighbour *neighbour);

/* Marked private, or a graft on a tree that is: not for other people's eyes. */
bool dossier_is_private(const struct dossier *dossier);
/* What decides this tree's windows, for window_resolve and window_cuts. */
struct window_facts dossier_window_facts(const struct dossier *dossier);
/* The window of a kind for this tree on a day (see window_resolve). */
struct window dossier_window(const struct dossier *dossier, enum window_kind kind, struct date day);
/* The latest done entry of a kind on or before the day; NULL none. */
const struct entry *dossier_last(
	const struct dossier *dossier, enum entry_kind kind, struct date day);
/* The spread measured last on or before the day, with the day it was; NULL none. */
const struct stem_measure *dossier_spread(
	const struct dossier *dossier, struct date day, struct maybe_date *on);
/* Done entries of a kind with their day in from..to. Returns how many; out may be NULL. */
int32_t dossier_between(const struct dossier *dossier, enum entry_kind kind, struct date from,
	struct date to, const struct entry **out, int32_t max);
/* The season row of a year; NULL none. */
const struct season *dossier_season(const struct dossier *dossier, int32_t year);
/* The day work of season `year` begins: after the previous season's last pick, else after its
 * harvest window; unknown when neither is known. */
struct maybe_date dossier_work_from(const struct dossier *dossier, int32_t year);

#endif
