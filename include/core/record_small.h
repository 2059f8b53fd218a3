/* SPDX-License-Identifier: MIT */
/* record_small.h - the small records of the log: weather, products, containers, answers, and what
 * the grower set by hand. Plain values, as in core/record.h, which includes this. */
#ifndef CORE_RECORD_SMALL_H
#define CORE_RECORD_SMALL_H

#include "core/date.h"
#include "core/limits.h"
#include "core/maybe.h"

/* What one day's weather was (or, forecast, may be) at a station. */
struct weather_day {
	struct date day;
	char station[NAME_SIZE];
	bool forecast;
	struct maybe_i32 min_decic, max_decic;
	struct maybe_i64 rain_um, wind_mms;
};

/* One hour of it: temperature at the full hour of the local clock, rain and wind of the hour. */
struct weather_hour {
	struct date day;
	int32_t hour; /* 0..23 */
	char station[NAME_SIZE];
	bool forecast;
	struct maybe_i32 temperature_decic;
	struct maybe_i64 rain_um, wind_mms;
};

struct product {
	char id[ID_SIZE];
	char name[NAME_SIZE];
	struct maybe_i32 n_mpct, p2o5_mpct, k2o_mpct; /* thousandths of a percent */
	const char *elements; /* other elements, "Mg 2 %, Fe 0.1 %" as typed */
	struct maybe_i64 bag_mg;
	struct maybe_i64 cup_mg; /* weight of a cup */
};

struct container {
	char id[ID_SIZE];
	char name[NAME_SIZE];
	struct maybe_i64 volume_ul;
};
struct container_weight {
	char id[ID_SIZE];
	char container_id[ID_SIZE];
	char species[KEY_SIZE]; /* "" any */
	int64_t weight_mg;
	struct maybe_date from;
};

/* One thing seen of a tree that tells its cultivar: "flesh" is "white/cream". The newest of a trait
 * holds. */
struct trait {
	char id[ID_SIZE];
	char tree_id[ID_SIZE];
	char name[KEY_SIZE];
	char value[NAME_SIZE]; /* "": taken back */
	struct maybe_date day;
	char who[NAME_SIZE];
};

enum answer_kind { ANSWER_PUT_OFF, ANSWER_SET_ASIDE, ANSWER_ALWAYS };
struct answer {
	char id[ID_SIZE];
	char flag_key[FLAG_KEY_SIZE]; /* ALWAYS: "rule" or "rule|tree id" */
	enum answer_kind kind;
	struct maybe_date until;
	char reason[TEXT_SIZE];
	int32_t times; /* how often put off, counted on reading */
};

/* A window or a rate the grower set by hand, for a tree (tree_id) or a species here. */
struct own_window {
	char id[ID_SIZE];
	char tree_id[ID_SIZE];  /* "" : all of the species */
	char species[KEY_SIZE]; /* "" when tree_id is set */
	char window[KEY_SIZE];  /* key of almanac/almanac.h's window kinds */
	struct month_day from;
	struct month_day to;
};
struct own_rate {
	char id[ID_SIZE];
	char tree_id[ID_SIZE];
	char species[KEY_SIZE];
	int64_t nitrogen_mg;
	char per[KEY_SIZE]; /* inch, year-of-age, feed, year */
};
struct choice {
	char id[ID_SIZE];
	char rule[KEY_SIZE];
	char source[NAME_SIZE];
};

#endif
