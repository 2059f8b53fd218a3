/* SPDX-License-Identifier: MIT */
/* The words of the almanac: climates and kinds of window. */
#include <string.h>

#include "almanac/almanac.h"

struct window_word {
	const char *key;
	const char *title;
};

/* clang-format off */
static const struct window_word WINDOWS[WINDOW_TOTAL] = {
	[WINDOW_FLOWER_WOOD] = {"flower-wood", "flower wood grows"},
	[WINDOW_INITIATION]  = {"initiation",  "flower buds form"},
	[WINDOW_BLOOM]       = {"bloom",       "bloom"},
	[WINDOW_FRUIT]       = {"fruit",       "fruit on the tree"},
	[WINDOW_HARVEST]     = {"harvest",     "harvest"},
	[WINDOW_CUT_CLEAR]   = {"cut-clear",   "clear for the saw"},
	[WINDOW_CUT_AVOID]   = {"cut-avoid",   "no shaping cuts"},
	[WINDOW_FEED_CLEAR]  = {"feed-clear",  "good for feeding"},
	[WINDOW_FEED_AVOID]  = {"feed-avoid",  "no feeding"},
	[WINDOW_REGROWTH]    = {"regrowth",    "new growth would be frosted"},
	[WINDOW_THINNING]    = {"thinning",    "thinning of fruit"},
};
static const char *const CLIMATES[CLIMATE_TOTAL] = {
	[CLIMATE_ANY]           = "climate not known",
	[CLIMATE_DRY_SUMMER]    = "wet winters, dry summers",
	[CLIMATE_COOL_MARITIME] = "cool and wet all year",
	[CLIMATE_CONTINENTAL]   = "hard winters, wet summers",
	[CLIMATE_HUMID_MILD]    = "humid, mild winters",
	[CLIMATE_LITTLE_RAIN]   = "little rain",
};
/* clang-format on */

const char *window_key(enum window_kind kind)
{
	return kind < WINDOW_TOTAL ? WINDOWS[kind].key : "";
}

const char *window_title(enum window_kind kind)
{
	return kind < WINDOW_TOTAL ? WINDOWS[kind].title : "";
}

enum window_kind window_of_key(const char *key)
{
	for (int kind = 0; kind < WINDOW_TOTAL; kind++) {
		if (strcmp(WINDOWS[kind].key, key) == 0)
			return (enum window_kind)kind;
	}
	return WINDOW_TOTAL;
}

const char *climate_title(enum climate climate)
{
	return climate < CLIMATE_TOTAL ? CLIMATES[climate] : "";
}

static enum climate climate_of_winter(
	enum winter_kind winter, enum climate hard, enum climate frosty)
{
	switch (winter) {
	case WINTER_UNKNOWN:
		return CLIMATE_ANY;
	case WINTER_HARD:
		return hard;
	case WINTER_FROSTY:
		return frosty;
	case WINTER_MILD:
		return CLIMATE_HUMID_MILD;
	}
	return CLIMATE_ANY;
}

enum climate climate_of_place(const struct place *place)
{
	switch (place->wet) {
	case WET_UNKNOWN:
		return CLIMATE_ANY;
	case WET_WINTER:
		return CLIMATE_DRY_SUMMER;
	case WET_SUMMER:
		return climate_of_winter(place->winter, CLIMATE_CONTINENTAL, CLIMATE_CONTINENTAL);
	case WET_ALL:
		return climate_of_winter(place->winter, CLIMATE_CONTINENTAL, CLIMATE_COOL_MARITIME);
	case WET_LITTLE:
		return CLIMATE_LITTLE_RAIN;
	}
	return CLIMATE_ANY;
}
