/* SPDX-License-Identifier: MIT */
/* weather_report.h - the weather of a span against the same days of the stored years, the chill of
 * its winter against what the kinds in the yard are listed with, the harvests to come, and frost
 * nights with what each tree stood to lose. */
#ifndef REPORT_WEATHER_REPORT_H
#define REPORT_WEATHER_REPORT_H

#include "dossier/yard.h"
#include "reckon/chill_need.h"
#include "reckon/weather_season.h"
#include "reckon/weather_sum.h"
#include "rules/frost_night.h"
#include "rules/harvest.h"

enum { WEATHER_YEARS_MAX = 60, WEATHER_SPAN_YEARS = 100, NEED_LABELS_SIZE = 120 };

/* Which days: from and to; else a season; else the last so many; else this season up to today. */
struct weather_ask {
	struct maybe_date from, to;
	struct maybe_i32 season; /* the year that names it: see reckon/weather_season.h */
	struct maybe_i32 days;
};

/* The span asked for, or the same days of an earlier year. */
struct weather_stretch {
	char name[16];          /* of the season that holds its last day */
	struct weather_sum sum; /* at the station: no spot's offset */
	bool has_winter;        /* of that season, as far as it lies before the last day */
	struct weather_sum winter;
};

/* Whose days are stored. */
struct weather_station {
	char name[NAME_SIZE];
	bool forecast; /* never counted in any figure */
	int32_t days;
	struct date from, to;
};

/* Trees of one kind (or of one cultivar with a figure of its own) on spots of one offset; a tree
 * alone where temperatures of this winter were logged at it. */
struct weather_need {
	struct tree_kind kind;
	int32_t trees;
	char labels[NEED_LABELS_SIZE]; /* "A1, A2 and 14 more" */
	int32_t listed;
	int32_t warmer_decic;
	int32_t own_days; /* on which a figure logged at the tree stands for the station's */
	struct chill_need needs[CHILL_NEEDS_MAX];
	int32_t need_count; /* 0: nothing is listed for it */
	struct weather_sum winter;
};

struct weather_report {
	struct date today;
	bool whole_season; /* asked by season or by nothing: named so */
	struct weather_season season;
	struct weather_stretch *stretches; /* the one asked for, then earlier years, newest first */
	int32_t stretch_count;
	/* the whole record, station and grower's lines, by day */
	struct day_weather *days;
	int32_t day_count;
	const struct weather_day *stored; /* observed, by day */
	int32_t stored_count;
	int32_t line_count; /* lines of the grower about the place's weather */
	struct weather_station *stations;
	int32_t station_count;
	int32_t hour_count; /* stored hours, observed */
	bool has_latitude;
	struct weather_need *needs; /* by kind */
	int32_t need_count;
};
/* STATUS_RANGE: a span that ends before it begins or is longer than a century. Lives in arena. */
enum status weather_report_make(struct yard *yard, const struct weather_ask *ask,
	struct arena *arena, struct weather_report *out, struct fault *why) MUST_CHECK;

/* What of it is shown. */
enum weather_part {
	WEATHER_ALL, /* for machines: the span */
	WEATHER_DAYS,
	WEATHER_YEARS,
	WEATHER_CHILL,
	WEATHER_WARMTH,
	WEATHER_HARVEST,
	WEATHER_FROST,
	WEATHER_PARTS
};

/* --- tree by tree --- */

struct weather_harvest {
	char label[LABEL_SIZE];
	char kind_name[NAME_SIZE];
	struct harvest_ahead ahead; /* known, or heat_needed set: the warmth so far is told */
	/* the first pick lies in it; of windows by hand and the almanac's, all picks do */
	struct window_span opens;
	struct maybe_date bloom_day;
	int32_t warmer_decic;
};
struct weather_frost {
	char label[LABEL_SIZE];
	char kind_name[NAME_SIZE];
	struct frost_night night;     /* has_stage; its entries are gone with the dossier */
	bool stage_logged;            /* else by the bloom window */
	char known[80];               /* how the stage is known: see frost_night_known */
	const struct fact_row *needs; /* share of buds that a crop takes; NULL not known */
	const char *observed;         /* as logged; NULL nothing */
	struct maybe_date observed_day;
};
struct weather_trees {
	struct weather_harvest *harvests; /* by the day they open */
	int32_t harvest_count;
	struct weather_frost *frosts; /* of the span asked for, by night, then label */
	int32_t frost_count;
	int32_t untold; /* frost nights of trees whose stage no table or log knows */
};
enum status weather_trees_make(struct yard *yard, const struct weather_report *report,
	struct arena *arena, struct weather_trees *out, struct fault *why) MUST_CHECK;

/* --- in words; each returns out --- */

/* "13.2 mm", "0.52 in". size >= 24. */
const char *weather_rain_words(int64_t rain_um, enum unit_system units, char *out, int size);
/* "1 November 2026 to 24 November 2026, 24 days". size >= 80. */
const char *weather_span_words(struct day_span span, char *out, int size);

#endif
