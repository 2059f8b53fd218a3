/* SPDX-License-Identifier: MIT */
/* sky_case.h - what the rules say of one tree under stored weather: days of a station, entry lines,
 * a spot, a day. A case runs as it stands and once more half a year later on the other side of the
 * equator, unless it says `once`. */
#ifndef SUPPORT_SKY_CASE_H
#define SUPPORT_SKY_CASE_H

#include "support/log_case.h"

enum { SKY_UNKNOWN = 9999 };

struct sky_case {
	const char *name;
	enum log_place place;
	const char *kind; /* "apricot", "-" unknown */
	const char *planted;
	/* "" a hole; words of: pot, cold (2 C colder), loam, metre, drip */
	const char *spot;
	/* "DAY COUNT MIN MAX RAIN" parted by ';': tenths of C, mm; 9999 unknown */
	const char *weather;
	const char *lines; /* entry lines parted by '|' */
	const char *today;
	const char *rule;
	const char *want;    /* urgency of its flag, "" silence */
	const char *says[3]; /* each in says, action or evidence */
	bool once;
	bool no_latitude;
	const char *cultivar; /* NULL not known */
};

static inline void sky_case_spot(struct garden *garden, const char *words)
{
	struct fault why = {0};
	struct spot spot = {.name = "plot", .kind = SPOT_HOLE};

	if (strstr(words, "pot") != NULL)
		spot.kind = SPOT_CONTAINER;
	if (strstr(words, "cold") != NULL)
		spot.offset_decic = -20;
	if (strstr(words, "loam") != NULL)
		spot.soil = SOIL_LOAM;
	if (strstr(words, "metre") != NULL)
		spot.root_depth_um = known_i64(1000000);
	if (strstr(words, "drip") != NULL) {
		spot.emitters = known_i32(4);
		spot.flow_ulh = known_i64(8000000);
	}
	check_ok(store_act_begin(garden->store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_add(garden->store, &spot, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
}

static inline struct maybe_i32 sky_case_figure(int value)
{
	return value == SKY_UNKNOWN ? (struct maybe_i32){0} : known_i32(value);
}

/* One run of equal days. */
static inline void sky_case_days(struct garden *garden, const char *text)
{
	struct fault why = {0};
	char from[DATE_SIZE + 1];
	int count, min, max, rain_mm;
	bool same;

	if (sscanf(text, " %10s %d %d %d %d", from, &count, &min, &max, &rain_mm) != 5)
		fail_msg("no days of weather: %s", text);
	for (int at = 0; at < count; at++) {
		struct weather_day day = {.day = date_add_days(garden_day(from), at),
			.station = "hill",
			.min_decic = sky_case_figure(min),
			.max_decic = sky_case_figure(max)};

		if (rain_mm != SKY_UNKNOWN)
			day.rain_um = known_i64((int64_t)rain_mm * 1000);
		check_ok(store_weather_day_put(garden->store, &day, &same, &why), &why);
	}
}

static inline void sky_case_weather(struct garden *garden, const char *weather, bool south)
{
	char words[2000];
	char *rest = NULL;
	struct fault why = {0};

	log_case_turn(weather, south, words, sizeof words);
	check_ok(store_act_begin(garden->store, ACT_WORK, "weather", &why), &why);
	for (char *run = strtok_r(words, ";", &rest); run != NULL; run = strtok_r(NULL, ";", &rest))
		sky_case_days(garden, run);
	check_ok(store_act_commit(garden->store, &why), &why);
}

static inline void sky_case_make(struct garden *garden, const struct sky_case *one, bool south)
{
	struct place place = {0};
	char today[40], planted[40], lines[4000];
	char *rest = NULL;

	log_case_place(one->place, south, &place);
	if (!one->no_latitude && place.hemisphere != HEMISPHERE_UNKNOWN) {
		place.latitude_udeg = known_i32(south ? -38000000 : 38000000);
		place.longitude_udeg = known_i32(-120000000);
	}
	garden_make_at(garden, &place, log_case_turn(one->today, south, today, sizeof today));
	sky_case_spot(garden, one->spot);
	garden_look(garden);
	garden_tree(garden, "A1", strcmp(one->kind, "-") == 0 ? "" : one->kind,
		log_case_turn(one->planted, south, planted, sizeof planted), "plot");
	sky_case_weather(garden, one->weather, south);
	garden_look(garden);
	if (one->cultivar != NULL)
		garden_identify(garden, "A1", "", one->cultivar, "");
	log_case_turn(one->lines, south, lines, sizeof lines);
	for (char *line = strtok_r(lines, "|", &rest); line != NULL;
		line = strtok_r(NULL, "|", &rest))
		garden_log(garden, line);
}

static inline bool sky_case_tells(const struct flag *flag, const char *words)
{
	if (strstr(flag->says, words) != NULL || strstr(flag->action, words) != NULL)
		return true;
	for (int32_t i = 0; i < flag->evidence_count; i++)
		if (strstr(flag->evidence[i], words) != NULL)
			return true;
	return false;
}

static inline void sky_case_check(const struct sky_case *one, bool south)
{
	struct garden garden;

	sky_case_make(&garden, one, south);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, one->rule);
	check_text(flag == NULL ? "" : urgency_key(flag->urgency), one->want,
		south ? "in the south" : "in the north");
	check_int(log_case_count(&flags, one->rule), flag != NULL, "one flag");
	if (flag != NULL)
		log_case_check_why(&garden, flag);
	for (int32_t i = 0; flag != NULL && i < 3 && one->says[i] != NULL; i++)
		if (!sky_case_tells(flag, one->says[i]))
			fail_msg("\"%s\" is not in: %s / %s", one->says[i], flag->says,
				flag->action);
	garden_free(&garden);
}

static inline void sky_case_run(const void *item)
{
	const struct sky_case *one = item;

	sky_case_check(one, false);
	if (!one->once)
		sky_case_check(one, true);
}

#endif
