/* SPDX-License-Identifier: MIT */
/* The unit table. Factors to the base unit: NIST Special Publication 811 (2008), appendix B.8 and
 * B.9, exact by definition; US customary volumes from the gallon of 231 cubic inches; imperial ones
 * from the gallon of 4.54609 litres. */
#include "core/amount_parts.h"

#include <string.h>

/* clang-format off */
static const struct unit units[] = {
	/* name, plural, initials, spellings, dimension, numerator, denominator, system */
	{"fruit", "fruit", "fp", "fruit fruits piece pieces pcs", DIMENSION_COUNT, 1000, 1, UNITS_UNSET},
	{"dozen", "dozen", "d", "dozen dozens doz dz", DIMENSION_COUNT, 12000, 1, UNITS_UNSET},

	{"mg", "mg", "m", "mg milligram milligrams", DIMENSION_MASS, 1, 1, UNITS_SI},
	{"g", "g", "g", "g gm gms gram grams gramme grammes", DIMENSION_MASS, 1000, 1, UNITS_SI},
	{"kg", "kg", "k", "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
		DIMENSION_MASS, 1000000, 1, UNITS_SI},
	{"t", "t", "t", "t tonne tonnes", DIMENSION_MASS, 1000000000, 1, UNITS_SI},
	{"oz", "oz", "o", "oz ozs ounce ounces", DIMENSION_MASS, 45359237, 1600, UNITS_US},
	{"lb", "lb", "lp#", "lb lbs pound pounds #", DIMENSION_MASS, 45359237, 100, UNITS_US},
	{"st", "st", "s", "st stone stones", DIMENSION_MASS, 635029318, 100, UNITS_US},

	{"mm", "mm", "m", "mm millimetre millimetres millimeter millimeters",
		DIMENSION_LENGTH, 1000, 1, UNITS_SI},
	{"cm", "cm", "c", "cm cms centimetre centimetres centimeter centimeters",
		DIMENSION_LENGTH, 10000, 1, UNITS_SI},
	{"m", "m", "m", "m metre metres meter meters", DIMENSION_LENGTH, 1000000, 1, UNITS_SI},
	{"in", "in", "i\"", "in ins inch inches \"", DIMENSION_LENGTH, 25400, 1, UNITS_US},
	{"ft", "ft", "f'", "ft foot feet '", DIMENSION_LENGTH, 304800, 1, UNITS_US},
	{"yd", "yd", "y", "yd yds yard yards", DIMENSION_LENGTH, 914400, 1, UNITS_US},

	{"ml", "ml", "mc", "ml mls millilitre millilitres milliliter milliliters cc",
		DIMENSION_VOLUME, 1000, 1, UNITS_SI},
	{"cl", "cl", "c", "cl", DIMENSION_VOLUME, 10000, 1, UNITS_SI},
	{"l", "l", "l", "l ltr litre litres liter liters", DIMENSION_VOLUME, 1000000, 1, UNITS_SI},
	{"m3", "m3", "mc", "m3 m\xC2\xB3 cubic_metre cubic_metres cubic_meter cubic_meters",
		DIMENSION_VOLUME, 1000000000, 1, UNITS_SI},
	/* A measuring spoon is 15 and 5 ml in most kitchens, 14.8 in the US, 20 in Australia. */
	{"tsp", "tsp", "t", "tsp teaspoon teaspoons", DIMENSION_VOLUME, 5000, 1, UNITS_UNSET},
	{"tbsp", "tbsp", "t", "tbsp tbs tablespoon tablespoons", DIMENSION_VOLUME, 15000, 1, UNITS_UNSET},
	{"fl oz", "fl oz", "f", "fl_oz floz fluid_ounce fluid_ounces",
		DIMENSION_VOLUME, 3785411784, 128000, UNITS_US},
	{"cup", "cups", "c", "cup cups", DIMENSION_VOLUME, 3785411784, 16000, UNITS_US},
	{"pt", "pt", "p", "pt pts pint pints", DIMENSION_VOLUME, 3785411784, 8000, UNITS_US},
	{"qt", "qt", "q", "qt qts quart quarts", DIMENSION_VOLUME, 3785411784, 4000, UNITS_US},
	{"gal", "gal", "gu", "gal gals gallon gallons us_gal us_gallon us_gallons",
		DIMENSION_VOLUME, 3785411784, 1000, UNITS_US},
	{"imp fl oz", "imp fl oz", "if", "imp_fl_oz fl_oz floz fluid_ounce fluid_ounces",
		DIMENSION_VOLUME, 4546090, 160, UNITS_US},
	{"imp cup", "imp cups", "ic", "imp_cup imp_cups cup cups", DIMENSION_VOLUME, 4546090, 16, UNITS_US},
	{"imp pt", "imp pt", "ip", "imp_pt imperial_pint imperial_pints pt pts pint pints",
		DIMENSION_VOLUME, 4546090, 8, UNITS_US},
	{"imp qt", "imp qt", "iq", "imp_qt imperial_quart imperial_quarts qt qts quart quarts",
		DIMENSION_VOLUME, 4546090, 4, UNITS_US},
	{"imp gal", "imp gal", "iug", "imp_gal imp_gallon imp_gallons imperial_gal imperial_gallon "
		"imperial_gallons uk_gal uk_gallon uk_gallons gal gals gallon gallons",
		DIMENSION_VOLUME, 4546090, 1, UNITS_US},
	{"peck", "pecks", "p", "pk peck pecks", DIMENSION_VOLUME, 3523907016688, 400000, UNITS_US},
	{"bu", "bu", "b", "bu bus bushel bushels", DIMENSION_VOLUME, 3523907016688, 100000, UNITS_US},
	{"cu ft", "cu ft", "cf", "cu_ft cuft ft3 cubic_foot cubic_feet",
		DIMENSION_VOLUME, 28316846592, 1000, UNITS_US},
	{"cu yd", "cu yd", "cy", "cu_yd yd3 cubic_yard cubic_yards",
		DIMENSION_VOLUME, 764554857984, 1000, UNITS_US},

	{"%", "%", "%p", "% percent per_cent pct", DIMENSION_SHARE, 10, 1, UNITS_UNSET},

	{"s", "s", "s", "s sec secs second seconds", DIMENSION_DURATION, 1, 1, UNITS_UNSET},
	{"min", "min", "m", "min mins minute minutes", DIMENSION_DURATION, 60, 1, UNITS_UNSET},
	{"h", "h", "h", "h hr hrs hour hours", DIMENSION_DURATION, 3600, 1, UNITS_UNSET},
	{"day", "days", "d", "day days", DIMENSION_DAYS, 1, 1, UNITS_UNSET},
	{"week", "weeks", "w", "week weeks wk wks", DIMENSION_DAYS, 7, 1, UNITS_UNSET},
	/* A twelfth of the mean Gregorian year of 365.2425 days. */
	{"month", "months", "m", "month months mth mths", DIMENSION_DAYS, 30436875, 1000000, UNITS_UNSET},
	{"year", "years", "y", "year years yr yrs", DIMENSION_DAYS, 3652425, 10000, UNITS_UNSET},

	{"C", "C", "cd\xC2", "c \xC2\xB0" "c degc deg_c degrees_c celsius",
		DIMENSION_TEMPERATURE, 10, 1, UNITS_SI},
	{"F", "F", "fd\xC2", "f \xC2\xB0" "f degf deg_f degrees_f fahrenheit",
		DIMENSION_TEMPERATURE, 50, 9, UNITS_US},

	{"l/h", "l/h", "l", "l/h l/hr lph litres_an_hour", DIMENSION_FLOW, 1000000, 1, UNITS_SI},
	{"l/min", "l/min", "l", "l/min lpm", DIMENSION_FLOW, 60000000, 1, UNITS_SI},
	{"gal/h", "gal/h", "g", "gal/h gal/hr gph gallons_an_hour",
		DIMENSION_FLOW, 3785411784, 1000, UNITS_US},
	{"imp gal/h", "imp gal/h", "ig", "imp_gal/h gal/h gal/hr gph gallons_an_hour",
		DIMENSION_FLOW, 4546090, 1, UNITS_US},

	{"m/s", "m/s", "m", "m/s", DIMENSION_SPEED, 1000, 1, UNITS_SI},
	{"km/h", "km/h", "k", "km/h kmh kph", DIMENSION_SPEED, 2500, 9, UNITS_SI},
	{"mph", "mph", "m", "mph mi/h", DIMENSION_SPEED, 44704, 100, UNITS_US},
	{"kn", "kn", "k", "kn kt kts knot knots", DIMENSION_SPEED, 4630, 9, UNITS_UNSET},

	{"m2", "m2", "ms", "m2 m\xC2\xB2 sq_m square_metre square_metres square_meter square_meters",
		DIMENSION_AREA, 1000000, 1, UNITS_SI},
	{"ha", "ha", "h", "ha hectare hectares", DIMENSION_AREA, 10000000000, 1, UNITS_SI},
	{"sq ft", "sq ft", "sf", "sq_ft sqft ft2 square_foot square_feet",
		DIMENSION_AREA, 9290304, 100, UNITS_US},
	{"acre", "acres", "a", "acre acres ac", DIMENSION_AREA, 40468564224, 10, UNITS_US},
	{.name = NULL},
};
/* clang-format on */

const struct unit *unit_table(void)
{
	return units;
}

bool unit_is_imperial(const struct unit *unit)
{
	return strncmp(unit->name, "imp ", 4) == 0;
}

static char small(char letter)
{
	return letter >= 'A' && letter <= 'Z' ? (char)(letter + 32) : letter;
}

static bool is_initial(const char *initials, char letter)
{
	while (*initials != '\0' && *initials != letter)
		initials++;
	return *initials != '\0';
}

/* Is text[0..length) one of the spellings, '_' standing for a blank, letters of any case? */
static bool is_spelled(const char *spellings, const char *text, size_t length)
{
	for (const char *word = spellings; *word != '\0';) {
		size_t same = 0;
		while (same < length && small(text[same]) == (word[same] == '_' ? ' ' : word[same]))
			same++;
		if (same == length && (word[same] == ' ' || word[same] == '\0'))
			return true;
		while (*word != ' ' && *word != '\0')
			word++;
		word += *word == ' ' ? 1 : 0;
	}
	return false;
}

const struct unit *unit_find(
	const char *text, size_t length, const struct number_rules *rules, bool *assumed)
{
	const struct unit *first = NULL;
	const struct unit *imperial = NULL;
	const char initial = length > 0 ? small(text[0]) : '\0';
	for (const struct unit *unit = units; unit->name != NULL && length > 0; unit++) {
		if (!is_initial(unit->initials, initial) ||
			!is_spelled(unit->spellings, text, length))
			continue;
		if (first == NULL)
			first = unit;
		else if (unit_is_imperial(unit))
			imperial = unit;
	}
	if (imperial == NULL)
		return first;
	if (rules->gallon == GALLON_IMPERIAL)
		return imperial;
	if (rules->gallon == GALLON_UNSET && rules->units != UNITS_US && assumed != NULL)
		*assumed = true;
	return first;
}

const struct unit *unit_named(const char *name)
{
	for (const struct unit *unit = units; unit->name != NULL; unit++) {
		if (strcmp(unit->name, name) == 0)
			return unit;
	}
	return NULL;
}
