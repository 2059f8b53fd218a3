/* SPDX-License-Identifier: MIT */
/* record.h - what the log holds, as plain values. They own nothing: pointers point into the
 * arena of whoever asked. Text is UTF-8, already within the limits of core/limits.h. */
#ifndef CORE_RECORD_H
#define CORE_RECORD_H

#include "core/date.h"
#include "core/kind.h"
#include "core/record_small.h"

enum wet_season { WET_UNKNOWN, WET_WINTER, WET_SUMMER, WET_ALL, WET_LITTLE };
enum winter_kind { WINTER_UNKNOWN, WINTER_HARD, WINTER_FROSTY, WINTER_MILD };
enum date_order { DATES_UNSET, DATES_DMY, DATES_MDY };

struct place {
	char id[ID_SIZE];
	char name[NAME_SIZE];
	struct maybe_i32 latitude_udeg; /* micro-degrees, north positive */
	struct maybe_i32 longitude_udeg;
	enum hemisphere hemisphere; /* sign of the latitude, else as told, else unknown */
	enum wet_season wet;
	enum winter_kind winter;
	struct month_day last_frost; /* month 0: unknown */
	struct month_day first_frost;
	enum unit_system units;
	enum gallon gallon;
	enum number_style numbers;
	enum date_order dates;
};

struct area {
	char id[ID_SIZE];
	char name[NAME_SIZE];
};

enum spot_kind { SPOT_HOLE, SPOT_CONTAINER, SPOT_OFF_PLACE };
enum soil_texture { /* as the field names them */
	SOIL_UNKNOWN,
	SOIL_SAND,
	SOIL_LOAMY_SAND,
	SOIL_SANDY_LOAM,
	SOIL_LOAM,
	SOIL_SILT_LOAM,
	SOIL_CLAY_LOAM,
	SOIL_CLAY
};
enum ground_cover { COVER_UNKNOWN, COVER_BARE, COVER_GRASS, COVER_MULCH };

struct spot {
	char id[ID_SIZE];
	char name[LABEL_SIZE];
	enum spot_kind kind;
	char area_id[ID_SIZE];    /* "" none */
	struct maybe_i64 east_um; /* from the place's own zero, north up */
	struct maybe_i64 north_um;
	struct maybe_i64 volume_ul; /* of a container */
	int32_t offset_decic;       /* this spot runs so much warmer (+) or colder (-) */
	enum soil_texture soil;
	struct maybe_i64 root_depth_um;
	enum ground_cover cover;
	char watering[KEY_SIZE]; /* method, free key: drip, sprinkler, hose, basin */
	struct maybe_i32 emitters;
	struct maybe_i64 flow_ulh; /* microlitres an hour, of one emitter */
	struct maybe_i32 efficiency_permille;
};

enum origin {
	ORIGIN_UNKNOWN,
	ORIGIN_BOUGHT,
	ORIGIN_SEED,
	ORIGIN_CUTTING,
	ORIGIN_LAYER,
	ORIGIN_GRAFT,
	ORIGIN_ROOT_SHOOT,
	ORIGIN_FOUND
};
enum sure { SURE_UNKNOWN, SURE_CANDIDATE, SURE_SUSPECTED, SURE_CERTAIN };
/* Their words in the file, on the command line and in forms: "root-shoot" ("" unknown),
 * "suspected". find: false when it is none of them. */
const char *origin_key(enum origin how);
bool origin_find(const char *word, enum origin *out);
const char *origin_title(enum origin how); /* for people: "raised from seed"; "" unknown */
const char *sure_key(enum sure sure);
bool sure_find(const char *word, enum sure *out);
const char *sure_title(enum sure sure); /* for people: "one of several" */

struct tree {
	char id[ID_SIZE];
	char label[LABEL_SIZE];
	char host_id[ID_SIZE];   /* "" : stands on its own roots; else the tree it is grafted on */
	char parent_id[ID_SIZE]; /* "" unknown */
	enum origin how;
	char batch[NAME_SIZE];
	char rootstock[NAME_SIZE];
	struct date_span planted;
	struct date_span gone; /* text "": standing */
	char gone_reason[TEXT_SIZE];
	struct maybe_i64 target_height_um;
	char hazard[TEXT_SIZE];
	bool over_fence;
	bool is_private;
	char note[TEXT_SIZE];
	char spot_id[ID_SIZE]; /* where it is now; "" none. Not a column: from tree_spot */
};

/* One opinion about what a tree is. Several candidate rows share one opinion id. */
struct identity {
	char id[ID_SIZE];
	char tree_id[ID_SIZE];
	char opinion[ID_SIZE];
	bool is_cultivar;     /* else species */
	char name[NAME_SIZE]; /* species: the almanac's key, else the name as typed */
	enum sure sure;
	char who[NAME_SIZE];
	struct date_span day;
	char reason[TEXT_SIZE];
	bool is_change; /* change: earlier seasons stay; else a correction: re-read */
};

enum subject_kind { SUBJECT_PLACE, SUBJECT_AREA, SUBJECT_SPOT, SUBJECT_TREE };

struct subject {
	enum subject_kind kind;
	char id[ID_SIZE];       /* "" for the place */
	char label[LABEL_SIZE]; /* for showing; not a column */
};

struct detail {
	enum field field;
	char text[TEXT_SIZE];
};

/* One figure of a measure entry: a row of `measure`. */
struct stem_measure {
	int32_t stem;     /* 1.. ; 0: the tree as a whole (height, spread, shoot) */
	enum field field; /* FIELD_GIRTH DIAMETER HEIGHT SPREAD SHOOT */
	int64_t low_um;
	int64_t high_um;
	bool about;
	struct maybe_i64 at_height_um;
	bool word_given; /* "girth", "round", "across" was said */
};

struct entry {
	char id[ID_SIZE];
	struct subject subject;
	enum entry_kind kind;
	struct date_span day;
	char typed_at[STAMP_TEXT_SIZE];
	const char *words;   /* the line as typed, whole */
	const char *note;    /* what stood after ';' */
	char batch[ID_SIZE]; /* "" or shared by the entries of one line */
	bool planned;
	bool asked;                   /* only tried ("ask"), not done: never in the file */
	struct maybe_i32 season_year; /* as given: "season 2014/15" */
	const struct amount *amounts;
	int32_t amount_count;
	const struct detail *details;
	int32_t detail_count;
	const struct stem_measure *stems; /* KIND_MEASURE: one row a stem or tree figure */
	int32_t stem_count;
};

/* Text of a detail; "" when the entry has none. */
const char *entry_detail(const struct entry *entry, enum field field);
/* The amount of a field; NULL when there is none. */
const struct amount *entry_amount(const struct entry *entry, enum field field);
enum cut_kind entry_cut_kind(const struct entry *entry);
/* Does it begin with "private:", or say "private" and no more? What is so marked is not for other
 * people's eyes. NULL: no. */
bool text_is_private(const char *text);
/* Is the entry: by its note, or, of a note, by its words. */
bool entry_is_private(const struct entry *entry);
/* Weather that was only forecast ("frost 29 F forecast"): kept as said, and never taken for what
 * came. */
bool entry_is_forecast(const struct entry *entry);

#endif
