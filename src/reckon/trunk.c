/* SPDX-License-Identifier: MIT */
#include "reckon/trunk.h"

#include <math.h>
#include <string.h>

enum { TOGETHER_DAYS = 90, YOUNG_MM = 40, MM_PER_YEAR = 25, OLD_MM = 600, UM_PER_MM = 1000 };

static const double pi = 3.14159265358979323846;

/* Purpose: diameter of a round trunk from a tape round it, d = C / pi.
 * Given and returned: micrometres, 0 or more; rounded to the nearest.
 * Example: 600 mm round is 190.986 mm across (7.52 in). */
int64_t trunk_diameter_of_girth_um(int64_t girth_um)
{
	return round_i64((double)girth_um / pi);
}

/* Purpose: trunk cross-section area (TCSA), pi d^2 / 4.
 * Given: micrometres, 0 or more. Returned: square millimetres.
 * Example: 100 mm across is 7853.98 mm2 = 78.54 cm2. */
double trunk_area_mm2(int64_t diameter_um)
{
	double diameter_mm = (double)diameter_um / UM_PER_MM;
	return pi * diameter_mm * diameter_mm / 4;
}

/* --- readings --- */

static bool is_trunk(const struct stem_measure *measure)
{
	return measure->field == FIELD_GIRTH || measure->field == FIELD_DIAMETER;
}

/* A range is taken by its middle. A trunk without a stem number is stem 1. */
static struct trunk_reading reading_of(
	const struct entry *entry, const struct stem_measure *measure)
{
	int64_t um = measure->low_um + (measure->high_um - measure->low_um) / 2;
	bool from_girth = measure->field == FIELD_GIRTH;
	return (struct trunk_reading){
		.stem = measure->stem > 0 ? measure->stem : 1,
		.day = date_span_first(&entry->day).value,
		.diameter_um = from_girth ? trunk_diameter_of_girth_um(um) : um,
		.from_girth = from_girth,
		.word_given = measure->word_given,
		.at_height_um = measure->at_height_um,
		.entry_id = entry->id,
	};
}

/* Puts a reading behind those of its day and before later ones. */
static void insert_by_day(
	struct trunk_reading *readings, int32_t count, struct trunk_reading reading)
{
	int32_t at = count;
	for (; at > 0 && date_compare(reading.day, readings[at - 1].day) < 0; at--)
		readings[at] = readings[at - 1];
	readings[at] = reading;
}

int32_t trunk_readings(const struct entry *const *entries, int32_t count, struct arena *arena,
	struct trunk_reading **out)
{
	int32_t most = 0;
	for (int32_t at = 0; at < count; at++)
		most += entries[at]->stem_count;
	*out = arena_array(arena, (size_t)most, sizeof **out);
	int32_t found = 0;
	for (int32_t at = 0; at < count; at++) {
		const struct entry *entry = entries[at];
		if (entry->kind != KIND_MEASURE || entry->planned ||
			!date_span_first(&entry->day).known)
			continue;
		for (int32_t stem = 0; stem < entry->stem_count; stem++)
			if (is_trunk(&entry->stems[stem]))
				insert_by_day(
					*out, found++, reading_of(entry, &entry->stems[stem]));
	}
	return found;
}

/* --- all stems as one --- */

/* The latest reading of a stem in the 90 days that end with `newest`; NULL none. */
static const struct trunk_reading *reading_near(
	const struct trunk_reading *readings, int32_t count, int32_t stem, struct date newest)
{
	for (int32_t at = count - 1; at >= 0; at--) {
		int32_t before = date_days_between(readings[at].day, newest);
		if (readings[at].stem == stem && before >= 0 && before <= TOGETHER_DAYS)
			return &readings[at];
	}
	return NULL;
}

static void trunk_add(struct trunk *trunk, const struct trunk_reading *reading, int32_t stem)
{
	bool first = stem == 1;
	if (first || date_compare(reading->day, trunk->day) < 0)
		trunk->day = reading->day;
	bool same_height =
		first || (trunk->at_height_um.known && reading->at_height_um.known &&
				 trunk->at_height_um.value == reading->at_height_um.value);
	trunk->at_height_um =
		same_height ? reading->at_height_um : (struct maybe_i64){.known = false};
	trunk->word_given = (first || trunk->word_given) && reading->word_given;
	if (!reading->word_given && reading->diameter_um > trunk->unsaid_um)
		trunk->unsaid_um = reading->diameter_um;
	trunk->entry_ids[stem - 1] = reading->entry_id;
}

/* All stems as they were measured in the 90 days that end with `newest`. */
static struct trunk trunk_near(
	const struct trunk_reading *readings, int32_t count, int32_t stems, struct date newest)
{
	struct trunk trunk = {.stems = stems};
	double squares = 0;
	for (int32_t stem = 1; stem <= stems; stem++) {
		const struct trunk_reading *reading = reading_near(readings, count, stem, newest);
		if (reading == NULL)
			return (struct trunk){.known = false};
		double diameter_um = (double)reading->diameter_um;
		squares += diameter_um * diameter_um;
		trunk_add(&trunk, reading, stem);
	}
	trunk.diameter_um = round_i64(sqrt(squares));
	trunk.known = true;
	return trunk;
}

static int32_t highest_stem(const struct trunk_reading *readings, int32_t count, struct date day)
{
	int32_t highest = 0;
	for (int32_t at = 0; at < count; at++)
		if (date_compare(readings[at].day, day) <= 0 && readings[at].stem > highest)
			highest = readings[at].stem;
	return highest;
}

/* Purpose: the trunk as it stood on a day: one diameter of the same total cross-section,
 *   d_eq = sqrt(sum d_i^2). Areas add up, diameters and girths do not.
 * Given: readings in day order; stem_count 0 where it is not known (then the highest stem number
 *   that was measured). Up to STEMS_MAX stems.
 * Returned: the newest full set of stems measured within 90 days of each other, on or before the
 *   day; a stem that was never measured with the others: not known.
 * Example: stems of 3 and 4 in are 5 in. */
struct trunk trunk_at(
	const struct trunk_reading *readings, int32_t count, int32_t stem_count, struct date day)
{
	int32_t stems = stem_count > 0 ? stem_count : highest_stem(readings, count, day);
	struct trunk trunk = {.known = false};
	if (stems < 1 || stems > STEMS_MAX)
		return trunk;
	for (int32_t at = count - 1; at >= 0 && !trunk.known; at--)
		if (date_compare(readings[at].day, day) <= 0)
			trunk = trunk_near(readings, count, stems, readings[at].day);
	return trunk;
}

/* Reference: common practice. Example: 600 mm on a tree of 4 years is asked about (over 140). */
bool trunk_looks_like_girth(int64_t diameter_um, struct maybe_i32 age_years, bool word_given)
{
	if (word_given)
		return false;
	int64_t most_mm =
		age_years.known ? YOUNG_MM + (int64_t)MM_PER_YEAR * age_years.value : OLD_MM;
	return diameter_um > most_mm * UM_PER_MM;
}

bool trunk_in_doubt(const struct trunk *trunk, struct maybe_i32 age_years)
{
	return trunk->known && trunk_looks_like_girth(trunk->unsaid_um, age_years, false);
}
