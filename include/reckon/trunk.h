/* SPDX-License-Identifier: MIT */
/* trunk.h - girth, diameter, area of trunks. d = C / pi; area = pi d^2 / 4; several stems:
 * d_eq = sqrt(sum d_i^2), equal total cross-section. */
#ifndef RECKON_TRUNK_H
#define RECKON_TRUNK_H

#include "core/memory.h"
#include "core/record.h"

int64_t trunk_diameter_of_girth_um(int64_t girth_um);
double trunk_area_mm2(int64_t diameter_um);

/* One measured stem. */
struct trunk_reading {
	int32_t stem;
	struct date day;
	int64_t diameter_um;
	bool from_girth;
	bool word_given; /* girth or diameter was said, not taken */
	struct maybe_i64 at_height_um;
	const char *entry_id;
};
/* A tree's equivalent diameter over stems measured within 90 days of each other; one missing
 * stem (of stem_count): no figure. */
struct trunk {
	bool known;
	int64_t diameter_um;
	struct date day; /* of the oldest reading used */
	int32_t stems;
	struct maybe_i64 at_height_um;
	bool word_given;   /* for all stems */
	int64_t unsaid_um; /* the thickest stem whose word was not given; 0 none */
	const char *entry_ids[STEMS_MAX];
};
/* Readings of measure entries, in day order. */
int32_t trunk_readings(const struct entry *const *entries, int32_t count, struct arena *arena,
	struct trunk_reading **out);
struct trunk trunk_at(
	const struct trunk_reading *readings, int32_t count, int32_t stem_count, struct date day);

/* How fast a trunk grows: the median slope (Theil-Sen) of its diameter over the days on which it
 * was measured, at the height of the newest reading alone. Known from three days that span a year;
 * least and most: between days that follow each other. A shrinking trunk stands still. */
struct trunk_growth {
	bool known;
	int32_t days; /* on which it was measured */
	struct date first;
	double um_a_year;
	double least_um_a_year;
	double most_um_a_year;
};
struct trunk_growth trunk_growth(const struct trunk_reading *readings, int32_t count,
	int32_t stem_count, struct date day, struct arena *arena);
/* The diameter by a later day at that growth. False: no growth is known, the day is not after the
 * measurement, or more than five years after it: then nothing but a tape tells. */
struct trunk_carried {
	int64_t diameter_um;
	int64_t least_um;
	int64_t most_um;
};
bool trunk_carry(const struct trunk *trunk, const struct trunk_growth *growth, struct date day,
	struct trunk_carried *out);
/* True where a reading as a diameter is more likely a girth: diameter mm > 40 + 25 x age in
 * years (common practice; unknown age: > 600 mm) and no word settled it. */
bool trunk_looks_like_girth(int64_t diameter_um, struct maybe_i32 age_years, bool word_given);
/* The same for a whole trunk: does one of its stems, typed without a word, look like a girth. */
bool trunk_in_doubt(const struct trunk *trunk, struct maybe_i32 age_years);

#endif
