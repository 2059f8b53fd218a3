/* SPDX-License-Identifier: MIT */
/* species.h - one kind of fruit tree and its rows, as the almanac hands them out: const, and
 * alive as long as the almanac. All months are those of the northern hemisphere. */
#ifndef ALMANAC_SPECIES_H
#define ALMANAC_SPECIES_H

#include "core/date.h"
#include "core/kind.h"
#include "core/record.h"

/* How a row is known. Rows of memory or second-hand alone never raise more than a note. */
enum known_by { KNOWN_READ, KNOWN_COMMON_PRACTICE, KNOWN_SECOND_HAND, KNOWN_MEMORY };

enum climate {
	CLIMATE_ANY, /* a row: holds everywhere; a place: not known */
	CLIMATE_DRY_SUMMER,
	CLIMATE_COOL_MARITIME,
	CLIMATE_CONTINENTAL,
	CLIMATE_HUMID_MILD,
	CLIMATE_LITTLE_RAIN, /* a place only: dry-summer cutting rows without disease verdicts */
	CLIMATE_TOTAL
};
/* From wet season and winters. Anything unknown: CLIMATE_ANY. */
enum climate climate_of_place(const struct place *place);
const char *climate_title(enum climate climate);
enum climate climate_of_key(const char *key); /* "dry-summer"; CLIMATE_TOTAL: none */

/* Where a day of a row hangs. Only bloom and harvest move with what a tree does. */
enum anchor { ANCHOR_CALENDAR, ANCHOR_BLOOM, ANCHOR_HARVEST };

enum window_kind {
	WINDOW_FLOWER_WOOD, /* the wood that carries next season's flowers grows */
	WINDOW_INITIATION,
	WINDOW_BLOOM,
	WINDOW_FRUIT,
	WINDOW_HARVEST,
	WINDOW_CUT_CLEAR, /* shape cut; summary of the cut rows, for ribbons and own windows */
	WINDOW_CUT_AVOID,
	WINDOW_FEED_CLEAR,
	WINDOW_FEED_AVOID,
	WINDOW_REGROWTH, /* tender regrowth: frost takes what a cut or feed now would push */
	WINDOW_THINNING,
	WINDOW_TOTAL
};
const char *window_key(enum window_kind kind);   /* "cut-clear" */
const char *window_title(enum window_kind kind); /* "clear for the saw" */
enum window_kind window_of_key(const char *key); /* WINDOW_TOTAL: none */

enum verdict { VERDICT_CLEAR, VERDICT_ALLOWED, VERDICT_AVOID };
enum cut_reason {
	REASON_NONE,
	REASON_FLOWERS,
	REASON_FRUIT,
	REASON_DISEASE,
	REASON_FROST,
	REASON_SUN,
	REASON_BLEEDING,
	REASON_REGROWTH
};

struct source_row; /* almanac/almanac.h */

struct window_row {
	enum window_kind kind;
	enum climate climate;
	struct month_day from;
	struct month_day to; /* may lie beyond New Year */
	enum anchor anchor;
	bool all_year;
	const char *reason;
	const char *source; /* key of sources.csv */
	enum known_by sure;
	enum cut_reason because; /* of cut-clear and cut-avoid, which are made from the shape rows
	                            of cuts.csv; else REASON_NONE */
};

enum crop_part { CROP_ALL, CROP_BREBA, CROP_MAIN };

struct cut_row {
	const char *cultivar; /* "" all; else names parted by "; " */
	enum climate climate;
	enum cut_kind kind;
	struct month_day from;
	enum anchor from_anchor; /* HARVEST: `from` moves with the harvest's end */
	struct month_day to;
	enum anchor to_anchor; /* BLOOM: `to` moves with the bloom's first day */
	enum verdict verdict;
	enum cut_reason reason;
	enum crop_part crop;
	struct maybe_i32 loss_low_permille; /* crop lost per share of crown cut */
	struct maybe_i32 loss_high_permille;
	const char *text; /* the reason in one plain sentence */
	const char *source;
	const struct source_row *said_by; /* the source itself */
	enum known_by sure;
};

/* A published feeding rate, of nitrogen or of product; area: 1000 sq ft under the crown. */
enum feed_basis { FEED_PER_INCH, FEED_PER_AGE_YEAR, FEED_PER_TREE, FEED_PER_FEED, FEED_PER_AREA };
enum feed_period { PERIOD_UNSTATED, PERIOD_FEED, PERIOD_YEAR };
struct feed_row {
	const char *rule;                /* unique id: "n-per-inch-colorado" */
	const char *region;              /* whose rule it is: "Colorado" */
	bool all_kinds;                  /* of no kind in particular */
	bool of_nitrogen;                /* else of product in hand */
	struct maybe_i32 product_n_mpct; /* analysis the rule names, when it is of product */
	int64_t rate_mg;
	struct maybe_i64 rate_to_mg; /* the upper end of a published range; so cap_to_mg */
	enum feed_basis basis;
	enum feed_period period;
	struct maybe_i64 cap_mg, cap_to_mg; /* of the same thing as rate, per tree and `period` */
	const char *cap_source;
	struct maybe_i32 splits;           /* feeds a year it is to be spread over */
	struct maybe_i64 measured_at_um;   /* where on the trunk */
	struct maybe_i32 age_from, age_to; /* years the row holds for */
	const char *condition; /* "only when shoots grew under 10 in": plain words, or "" */
	const char *source;
	const struct source_row *said_by;
	enum known_by sure;
};

struct fact_row {        /* anything else that is one figure or one sentence: see facts.csv */
	const char *key; /* "fruit-weight", "growth-target-bearing", "years-to-crop" ... */
	struct maybe_i64 low;
	struct maybe_i64 high;
	const char *unit; /* as in the table: "mg", "um", "permille crown", "years" */
	const char *text;
	const char *source;
	const struct source_row *said_by;
	enum known_by sure;
};

/* A growth stage of the BBCH scale that a kind goes by. */
struct stage_row {
	int32_t code;
	const char *words;
	const char *source;
	enum known_by sure;
};

struct pest_row;
struct work_row;

/* One kind of fruit tree. Arrays are in the order of the tables. */
struct species {
	const char *key;  /* "european_plum" */
	const char *name; /* "European plum" */
	const char *botanical;
	const char *eppo;        /* "" where not sure */
	const char *stage_group; /* whose stages it goes by: pome, stone, citrus, fig, loquat */
	bool evergreen;
	bool pruned_yearly;      /* the almanac says this kind wants a yearly shape cut */
	bool harvest_all_year;   /* season turns on bloom */
	bool wide_harvest;       /* the span is of many cultivars: no tree is "days off" by it */
	const char *flower_wood; /* where the flowers stand, one plain sentence */
	const char *already_cut; /* what to do with a tree already cut out of season */
	bool limit_is_shoots;    /* share limit counts last year's shoots, else crown */
	struct maybe_i32 share_limit_permille; /* most to take in one growing season */
	const char *share_source;
	enum known_by share_sure;
	const struct window_row *windows;
	int32_t window_count;
	const struct cut_row *cuts;
	int32_t cut_count;
	const struct feed_row *feeds; /* the kind's own, then those for all kinds */
	int32_t feed_count;
	const struct fact_row *facts; /* the kind's own, then those for all kinds */
	int32_t fact_count;
	const struct stage_row *stages; /* codes rising */
	int32_t stage_count;
	const struct cultivar *cultivars; /* see almanac/cultivar.h */
	int32_t cultivar_count;
	const struct pollination *pollination; /* NULL: not stated */
	const struct pollen_pair *pairs;       /* of which this kind is the receiver */
	int32_t pair_count;
	const struct pest_row *const *pests; /* its own, then those of every kind: almanac/pest.h */
	int32_t pest_count;
	const struct work_row *const *work; /* wherever the climate */
	int32_t work_count;
	const char *source;
	enum known_by sure;
};

/* NULL when there is none; the first where sources differ. */
const struct fact_row *species_fact(const struct species *species, const char *key);
/* NULL when the kind's scale has no such code. */
const struct stage_row *species_stage(const struct species *species, int32_t code);
/* 60-69; on scales of three digits 600-699, of which 600-609 is the first flush. NULL: either. */
bool species_stage_is_bloom(const struct species *species, int32_t code);
/* Rows of a kind that hold in this climate: those that name it, else those that hold everywhere.
 * Little rain: the dry-summer rows, of cut windows those not for disease. At most max; how many. */
int32_t species_windows(const struct species *species, enum window_kind kind, enum climate climate,
	const struct window_row **out, int32_t max);
/* Cut rows that hold for this cultivar ("" unknown), climate and kind of cut; a cultivar's own
 * rows take the place of the kind's. CLIMATE_ANY: the rows that hold everywhere. Little rain: the
 * dry-summer rows that are not for disease. CUT_UNSAID is judged as shape. */
int32_t species_cuts(const struct species *species, const char *cultivar, enum climate climate,
	enum cut_kind kind, const struct cut_row **out, int32_t max);

#endif
