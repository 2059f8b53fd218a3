/* SPDX-License-Identifier: MIT */
/* pest.h - pests, diseases and disorders of fruit trees, the degree-days some of them go by, and
 * the year's small work: const, alive as long as the almanac. Months are those of the northern
 * hemisphere. What a grower saw is a guess: say "may be", with what looks like it beside. */
#ifndef ALMANAC_PEST_H
#define ALMANAC_PEST_H

#include "almanac/almanac.h"

enum pest_group {
	PEST_INSECT,
	PEST_MITE,
	PEST_DISEASE,
	PEST_DISORDER, /* weather, water, feeding, weed-killer, wounds */
	PEST_NEMATODE,
	PEST_ANIMAL
};
const char *pest_group_title(enum pest_group group);

/* Must it be told to a plant health authority? Lists change: ask, name no list as certain. */
enum pest_report { REPORT_NO, REPORT_SOME, REPORT_YES, REPORT_PROTECTED /* an animal by law */ };

/* Months it shows in, or, where `enters`, in which it gets in unseen. May pass New Year. */
struct pest_span {
	int32_t from_month;
	int32_t to_month;
	bool enters;
	const char *hosts; /* keys parted by blanks that it holds for; "" all */
};

/* The cells of a pest's row, for which of them its sources were read. */
enum pest_cell {
	CELL_SIGNS = 1,
	CELL_ALIKE = 2,
	CELL_SEASON = 4,
	CELL_WEATHER = 8,
	CELL_FIRST = 16,
	CELL_CUT = 32,
	CELL_WORSE = 64,
	CELL_REPORT = 128
};

enum { PEST_SPANS_MAX = 4, PEST_SOURCES_MAX = 8, PEST_NAMES_MAX = 16 };

struct pest_row {
	const char *key;        /* "fire-blight" */
	const char *name;       /* "fire blight" */
	const char *scientific; /* "" none */
	enum pest_group group;
	const char *hosts; /* keys parted by blanks, or "all" */
	const char *signs;
	const char *alike;                     /* what looks like it, and how to tell */
	const char *stage;                     /* when to look, in words */
	struct maybe_i32 stage_from, stage_to; /* BBCH, two digits; by us, from those words */
	struct pest_span spans[PEST_SPANS_MAX];
	int32_t span_count;
	const char *weather;
	const char *first; /* what to do first: no product, no rate; the label is the law */
	struct maybe_i64 cut_low_um, cut_high_um; /* how far below the last sign to cut */
	const char *cut;
	const char *worse; /* what makes it worse */
	enum pest_report report;
	const char *report_where;
	const char *names[PEST_NAMES_MAX]; /* what growers call it, folded; its name first */
	int32_t name_count;
	const char *sources[PEST_SOURCES_MAX]; /* keys; the one that carries `first` stands first */
	int32_t source_count;
	unsigned read;      /* which cells the sources carry; the others are from memory */
	enum known_by sure; /* how sure `first` is */
	const struct degree_row *const *degrees; /* its totals, in the order of the table */
	int32_t degree_count;
};

/* Degree-days from a start to an event. Totals hold only with their own base, cutoff and method. */
enum degree_method {
	DEGREE_AVERAGE, /* (max + min) / 2 - base, never below 0 */
	DEGREE_SINE,
	DEGREE_SINE_HORIZONTAL,
	DEGREE_SINE_VERTICAL,
	DEGREE_LABORATORY,
	DEGREE_DAYS, /* no degree-days: plain days, in words */
	DEGREE_UNSTATED,
	DEGREE_NONE /* no model found */
};
struct degree_row {
	const char *key;
	const char *pest; /* key */
	const char *form; /* "eastern": which of several; "" */
	const char *place;
	struct maybe_i64 base_decic;
	struct maybe_i64 upper_decic;
	bool no_upper; /* the source says there is none; else unknown = not stated */
	enum degree_method method;
	const char *start;          /* in words; "" none */
	struct month_day start_day; /* month 0: the start is something seen, not a day */
	const char *event;
	struct maybe_i32 low; /* tenths of a degree-day of `unit`, as printed */
	struct maybe_i32 high;
	bool fahrenheit; /* the degree-days; 1 of Celsius = 1.8 of Fahrenheit */
	const char *text;
	const char *from_memory; /* "base upper": cells that no source carries */
	const char *sources[PEST_SOURCES_MAX];
	int32_t source_count;
	enum known_by sure;
};

/* Work of the year other than cutting, feeding and picking, which have tables of their own. */
struct work_row {
	const char *key;
	const char *climates; /* keys parted by blanks; "" any; "frost-free" is one here */
	const char *hosts;    /* keys parted by blanks, or "all" */
	int32_t from_month;
	int32_t to_month;
	const char *task;
	const char *when;
	const char *condition;
	const char *pests; /* keys that it answers, parted by blanks; "" none */
	const char *told;  /* phrases of an entry that tell that it was done, parted by '|' */
	bool cut_settles;  /* a cut of dead or diseased wood settles it */
	const char *sources[PEST_SOURCES_MAX];
	int32_t source_count;
	enum known_by sure;
};

const struct pest_row *almanac_pest_list(const struct almanac *almanac, int32_t *count);
/* By key; NULL none. */
const struct pest_row *almanac_pest(const struct almanac *almanac, const char *key);
bool pest_is_on(const struct pest_row *pest, const char *species);
/* The pests of a kind, those that name it before those of every kind. Fills at most max, returns
 * how many there are. */
int32_t almanac_pests(const struct almanac *almanac, const char *species,
	const struct pest_row **out, int32_t max);
/* What typed words name: the longest name, other name or botanical name that stands in them as
 * whole words, case-folded. species NULL: any kind. Several that fit are all answered: it is not
 * known which. "no aphids" and "not scab" name none. Fills at most max, returns how many fit. */
int32_t almanac_find_pests(const struct almanac *almanac, const char *species, const char *words,
	const struct pest_row **out, int32_t max);
/* The same among the pests of one kind, for who has no almanac in hand. */
int32_t species_find_pests(
	const struct species *species, const char *words, const struct pest_row **out, int32_t max);
const struct pest_row *species_pest_named(const struct species *species, const char *words);
/* The only one that the words name; NULL none or several. */
const struct pest_row *almanac_pest_named(
	const struct almanac *almanac, const char *species, const char *words);
/* Does a name of the pest stand in the words, even where they say that it is not there? */
bool pest_is_spoken_of(const struct pest_row *pest, const char *words);
/* What the words may mean on this kind, where one pest fits them by another name than its own: NULL
 * where nothing needs to be said. */
const struct pest_row *species_pest_meant(const struct species *species, const char *words);
/* Who says what to do first: a key of sources.csv; "ours" where none was read. */
const char *pest_first_source(const struct pest_row *pest);
/* Does it show on this kind in this month (of the northern hemisphere)? Spans that name the kind
 * stand instead of the others. */
bool span_names(const struct pest_span *span, const char *species); /* by name, not by "" */
bool pest_shows_in(const struct pest_row *pest, const char *species, int32_t month);

const struct degree_row *almanac_degrees(const struct almanac *almanac, int32_t *count);
const struct work_row *almanac_work(const struct almanac *almanac, int32_t *count);
bool work_is_on(const struct work_row *work, const char *species);
bool work_answers(const struct work_row *work, const char *pest);
bool work_is_for(const struct work_row *work, const char *species, enum climate climate);

#endif
