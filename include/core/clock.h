/* SPDX-License-Identifier: MIT */
/* clock.h - the only door to the time of day and to randomness, both of which can be pinned.
 *
 * A clock is handed down from main; nobody else asks the system. With a seed, stamps and ids
 * come out the same each time (the demo yard, the tests). */
#ifndef CORE_CLOCK_H
#define CORE_CLOCK_H

#include "core/date.h"

struct clock {
	struct maybe_date pinned; /* --today */
	bool seeded;
	uint64_t seed;   /* state of the random numbers when seeded */
	int64_t tick_ms; /* last stamp given out, ms since 1970, so that ids only ever rise */
};

struct clock clock_system(void);
struct clock clock_pinned(struct date today);
/* Stamps start at noon UTC of today and rise by one second each. */
struct clock clock_seeded(struct date today, uint64_t seed);
/* The local calendar day, or the pinned one. */
struct date clock_today(const struct clock *clock);
/* How far local clocks of this machine are ahead of UTC at a minute of UTC of a day, in minutes. */
int32_t clock_zone_min(struct date day, int32_t minute);
/* Seconds of a clock that never goes back; for waits, not for records. */
double clock_monotonic_s(void);
/* UTC time of typing. A pinned clock keeps the real time of day on the pinned day. */
const char *clock_stamp(struct clock *clock, char out[STAMP_TEXT_SIZE]);
/* When today began: local midnight; of a pinned day that of UTC, as its stamps are. */
const char *clock_stamp_of_midnight(const struct clock *clock, char out[STAMP_TEXT_SIZE]);
/* For a seeded clock that tells a long story: later stamps start at this day. */
void clock_move(struct clock *clock, struct date today);
/* A new ULID (Crockford base 32, 26 characters), rising within one clock. */
const char *clock_new_id(struct clock *clock, char out[ID_SIZE]);
uint64_t clock_random(struct clock *clock);
/* The same with random numbers that were asked of the system many at a time, for the rows of an
 * import. Whoever keeps a stock zeroes it first and never copies it. */
enum { RANDOM_STOCK = 32 };
struct random_stock {
	uint64_t numbers[RANDOM_STOCK];
	int32_t left;
};
const char *clock_new_id_of(struct clock *clock, struct random_stock *stock, char out[ID_SIZE]);

#endif
