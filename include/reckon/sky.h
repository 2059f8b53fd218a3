/* SPDX-License-Identifier: MIT */
/* sky.h - the weather at a tree's spot over some days. */
#ifndef RECKON_SKY_H
#define RECKON_SKY_H

#include "reckon/dossier.h"
#include "reckon/weather_days.h"

struct sky {
	struct arena *arena; /* of its own: closed with it */
	struct day_weather *days;
	int32_t count;
	int32_t warmer_decic; /* how much warmer the spot runs than the station */
};

/* Stored days and lines of the place and of the tree itself, both ends in; none from before the
 * tree was planted or grafted. */
struct sky sky_open(const struct dossier *dossier, struct day_span span);
void sky_close(struct sky *sky);
/* A day's extremes at the tree: what was measured there as it stands, else with the spot's offset.
 * Unknown where nobody gave one. */
struct maybe_i32 sky_min_decic(const struct sky *sky, const struct day_weather *day);
struct maybe_i32 sky_max_decic(const struct sky *sky, const struct day_weather *day);
/* Puts the offset into the rows themselves, for what adds them up. */
void sky_to_spot(struct sky *sky);
/* How much warmer the tree's spot runs than the place, as set by `spot set --offset`. */
int32_t sky_offset_decic(const struct dossier *dossier);
enum { SKY_OFFSET_SIZE = 48 };
/* ", with this spot 2.0 F colder"; "" where none is set. For evidence of what it went into. */
const char *sky_offset_words(const struct dossier *dossier, char out[SKY_OFFSET_SIZE]);
/* Whose figure it is: "as you logged it here", "of the station hill, and this spot runs 2 F
 * colder". */
const char *sky_whose(const struct dossier *dossier, const struct day_weather *day,
	const struct entry *entry, char *out, size_t size);
/* "2.6 in" or "65 mm". */
const char *sky_depth(double depth_mm, enum unit_system units, char *out, size_t size);

#endif
