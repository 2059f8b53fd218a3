/* SPDX-License-Identifier: MIT */
/* The weather of Tern Hollow: invented, of a place with wet mild winters and dry summers. The same
 * days come out the same for ever: each is worked out from its number alone, in whole numbers. */
#include <stddef.h>

#include "demo_yard.h"

/* A month's middle: usual extremes, how far a spell moves the warmer one, how often a spell is wet
 * and how much a wet day brings. */
struct month_usual {
	int32_t low_decic;
	int32_t high_decic;
	int32_t spell_decic;
	int32_t wet_permille;
	int32_t rain_um;
};

/* clang-format off */
static const struct month_usual usual[] = {
	{  16, 138, 45, 520, 15000 },
	{  26, 160, 50, 480, 14000 },
	{  34, 182, 55, 400, 11000 },
	{  54, 210, 60, 230,  8000 },
	{  80, 240, 70, 100,  5000 },
	{ 104, 274, 80,  40,  3000 },
	{ 116, 288, 80,   8,  1500 },
	{ 116, 288, 80,  12,  2000 },
	{ 102, 280, 80,  50,  4000 },
	{  74, 234, 70, 190,  9000 },
	{  40, 176, 50, 380, 13000 },
	{  18, 138, 45, 520, 15000 },
};

/* Nights that the log tells of, a little milder at the station than down in the yard. */
static const struct {
	int8_t years; /* before today's */
	struct month_day day;
	int32_t min_decic;
	int32_t max_decic;
} cold[] = {
	{ 3, {1, 18}, -52, 60 },
	{ 3, {1, 19}, -68, 48 },
	{ 3, {1, 20}, -71, 55 },
	{ 3, {3, 2}, -14, 118 },
	{ 1, {3, 6}, -21, 110 },
};

/* Days that the station lost, counted back from today, both ends in. */
static const struct {
	int32_t from;
	int32_t to;
} lost[] = { { 33, 31 }, { 410, 402 }, { 871, 850 } };
/* clang-format on */

enum { SPELL_DAYS = 6, WET_DAYS = 4, PERMILLE = 1000, MONTH_DAYS = 30 };
enum { SALT_SPELL = 1, SALT_DAY, SALT_NIGHT, SALT_WET, SALT_DRY_HOURS, SALT_RAIN };

/* 0..999, the same for the same number: a mixing step of splitmix64. */
static int32_t chance(int32_t number, uint64_t salt)
{
	uint64_t mixed = (uint64_t)(int64_t)number * 0x9E3779B97F4A7C15U + salt;

	mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9U;
	mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EBU;
	return (int32_t)((mixed ^ (mixed >> 31)) % PERMILLE);
}

/* -size..size. */
static int32_t swing(int32_t number, uint64_t salt, int32_t size)
{
	return (chance(number, salt) * 2 - (PERMILLE - 1)) * size / PERMILLE;
}

/* Warm and cold spells: from one knot to the next in a straight line. */
static int32_t spell(struct date day, int32_t size)
{
	int32_t knot = day.day / SPELL_DAYS;
	int32_t past = day.day % SPELL_DAYS;
	int32_t from = swing(knot, SALT_SPELL, size);
	int32_t to = swing(knot + 1, SALT_SPELL, size);

	return from + (to - from) * past / SPELL_DAYS;
}

/* Between the middles of two months. */
static int32_t between(int32_t from, int32_t to, int32_t past)
{
	return from + (to - from) * past / MONTH_DAYS;
}

static struct month_usual usual_of(struct date day)
{
	struct date_parts parts = date_parts(day);
	int32_t month = parts.month - 1;
	int32_t past = parts.day - MONTH_DAYS / 2;

	if (past < 0) {
		month = (month + 11) % 12;
		past += MONTH_DAYS;
	}
	const struct month_usual *from = &usual[month];
	const struct month_usual *to = &usual[(month + 1) % 12];
	return (struct month_usual){.low_decic = between(from->low_decic, to->low_decic, past),
		.high_decic = between(from->high_decic, to->high_decic, past),
		.spell_decic = between(from->spell_decic, to->spell_decic, past),
		.wet_permille = between(from->wet_permille, to->wet_permille, past),
		.rain_um = between(from->rain_um, to->rain_um, past)};
}

static int32_t rain_of(struct date day, const struct month_usual *here)
{
	if (chance(day.day / WET_DAYS, SALT_WET) >= here->wet_permille ||
		chance(day.day, SALT_DRY_HOURS) < PERMILLE / 4)
		return 0;
	int32_t share = chance(day.day, SALT_RAIN);

	/* many small rains and a few large ones; stations tell a tenth of a millimetre */
	return (int32_t)((int64_t)here->rain_um * share / PERMILLE * share / PERMILLE * 3) / 100 *
	       100;
}

static void freeze(struct date day, struct date today, struct weather_day *out)
{
	int32_t year = date_parts(today).year;

	for (size_t i = 0; i < sizeof cold / sizeof cold[0]; i++)
		if (date_of_month_day(year - cold[i].years, cold[i].day).day == day.day) {
			out->min_decic.value = cold[i].min_decic;
			out->max_decic.value = cold[i].max_decic;
			out->rain_um.value = 0;
		}
}

bool demo_weather_of_day(struct date day, struct date today, struct weather_day *out)
{
	int32_t back = date_days_between(day, today);
	struct month_usual here = usual_of(day);
	int32_t rain_um = rain_of(day, &here);
	int32_t high =
		here.high_decic + spell(day, here.spell_decic) + swing(day.day, SALT_DAY, 15);
	int32_t low = here.low_decic + spell(day, here.spell_decic * 2 / 3) +
		      swing(day.day, SALT_NIGHT, 18);

	for (size_t i = 0; i < sizeof lost / sizeof lost[0]; i++)
		if (back <= lost[i].from && back >= lost[i].to)
			return false;
	if (rain_um > 0) { /* cloud narrows the day */
		high -= 25;
		low += 20;
	}
	*out = (struct weather_day){.day = day,
		.station = "ridge",
		.min_decic = {low, true},
		.max_decic = {high > low + 15 ? high : low + 15, true},
		.rain_um = {rain_um, true}};
	freeze(day, today, out);
	return true;
}
