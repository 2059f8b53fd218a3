/* SPDX-License-Identifier: MIT */
#include "first_place.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { WORD_SIZE = 24, UDEG = 1000000 };

/* The next word of an answer, in lower case; false at its end. Blanks and commas stand between. */
static bool next_word(const char **text, char out[WORD_SIZE])
{
	char word[WORD_SIZE];
	*text += strspn(*text, " ,;");
	const size_t length = strcspn(*text, " ,;");
	(void)text_copy_n(word, sizeof word, *text, length);
	(void)text_fold(word, out, WORD_SIZE);
	*text += length;
	return length > 0;
}

static bool is_one_of(const char *word, const char *const *words, int count)
{
	for (int i = 0; i < count; i++) {
		if (strcmp(word, words[i]) == 0)
			return true;
	}
	return false;
}

/* --- where --- */

static bool take_side(struct place *place, const char *word)
{
	static const char *const norths[] = {"north", "n", "northern"};
	static const char *const souths[] = {"south", "s", "southern"};
	if (is_one_of(word, norths, 3))
		place->hemisphere = HEMISPHERE_NORTH;
	else if (is_one_of(word, souths, 3))
		place->hemisphere = HEMISPHERE_SOUTH;
	else
		return false;
	return true;
}

static bool take_degrees(const char *word, double most, struct maybe_i32 *out)
{
	char *end;
	const double degrees = strtod(word, &end);
	if (end == word || *end != '\0' || strspn(word, "+-.0123456789") != strlen(word) ||
		!(degrees >= -most && degrees <= most))
		return false;
	*out = known_i32((int32_t)round_i64(degrees * UDEG));
	return true;
}

/* The sign of the latitude and the word must not speak against each other. */
static enum status settle(struct place *place, struct fault *why)
{
	const struct maybe_i32 latitude = place->latitude_udeg;
	if (!latitude.known || latitude.value == 0)
		return STATUS_OK;
	if (latitude.value < 0 && place->hemisphere == HEMISPHERE_NORTH)
		return fault_set(why, STATUS_DOUBT,
			"a latitude below zero lies in the south: write 38.2 N, or -38.2 alone");
	if (latitude.value > 0 && place->hemisphere == HEMISPHERE_SOUTH)
		place->latitude_udeg.value = -latitude.value;
	place->hemisphere = place->latitude_udeg.value > 0 ? HEMISPHERE_NORTH : HEMISPHERE_SOUTH;
	return STATUS_OK;
}

enum status first_read_where(const char *text, struct place *place, struct fault *why)
{
	char word[WORD_SIZE];
	struct place read = *place;
	const char *rest = text;
	read.latitude_udeg.known = read.longitude_udeg.known = false;
	read.hemisphere = HEMISPHERE_UNKNOWN;
	while (next_word(&rest, word)) {
		const bool taken = read.latitude_udeg.known
					   ? take_degrees(word, 180.0, &read.longitude_udeg)
					   : take_degrees(word, 90.0, &read.latitude_udeg);
		if (!taken && !take_side(&read, word))
			return fault_set(why, STATUS_SYNTAX,
				"'%s' is no latitude: write degrees as 38.2 or -33.5, or the word "
				"north or south",
				word);
	}
	const enum status status = settle(&read, why);
	if (status == STATUS_OK)
		*place = read;
	return status;
}

/* --- climate --- */

enum status first_read_climate(const char *text, struct place *place, struct fault *why)
{
	static const char *const wets[] = {"", "winter", "summer", "all", "little"};
	static const char *const winters[] = {"", "hard", "frosty", "mild"};
	static const char *const fillers[] = {
		"wet", "and", "rain", "in", "year", "winters", "winter:", "wet:"};
	char word[WORD_SIZE];
	const char *rest = text;
	struct place read = *place;
	read.wet = WET_UNKNOWN;
	read.winter = WINTER_UNKNOWN;
	while (next_word(&rest, word)) {
		bool taken = is_one_of(word, fillers, 8);
		for (int i = 1; i < 5; i++) {
			if (strcmp(word, wets[i]) == 0) {
				read.wet = (enum wet_season)i;
				taken = true;
			}
			if (i < 4 && strcmp(word, winters[i]) == 0) {
				read.winter = (enum winter_kind)i;
				taken = true;
			}
		}
		if (!taken)
			return fault_set(why, STATUS_SYNTAX,
				"'%s' is not known here: the wet season is winter, summer, all or "
				"little, the winters are hard, frosty or mild",
				word);
	}
	*place = read;
	return STATUS_OK;
}

/* --- units --- */

enum status first_read_units(const char *text, struct place *place, struct fault *why)
{
	static const char *const us[] = {"us", "lb", "pounds", "feet", "inches", "ft"};
	static const char *const si[] = {"si", "metric", "kg", "kilos", "m", "metres"};
	char word[WORD_SIZE];
	const char *rest = text;
	enum unit_system units = UNITS_UNSET;
	while (next_word(&rest, word)) {
		if (is_one_of(word, us, 6))
			units = UNITS_US;
		else if (is_one_of(word, si, 6))
			units = UNITS_SI;
		else
			return fault_set(why, STATUS_SYNTAX,
				"'%s' are no units here: write us (pounds, feet) or si (kilos, "
				"metres)",
				word);
	}
	place->units = units;
	return STATUS_OK;
}
