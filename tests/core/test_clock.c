/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "core/clock.h"

static struct date day_of(const char *iso)
{
	struct date day = {0};
	struct fault why = {0};
	check_ok(date_parse_iso(iso, &day, &why), &why);
	return day;
}

static void check_shape_of_id(const char *id)
{
	check_int((int64_t)strlen(id), 26, "length");
	check_int((int64_t)strspn(id, "0123456789ABCDEFGHJKMNPQRSTVWXYZ"), 26, "Crockford digits");
	assert_true(id[0] <= '7'); /* 48 bits of time leave two bits unused */
}

static int64_t time_of_id(const char *id)
{
	int64_t ms = 0;
	for (int at = 0; at < 10; at++)
		ms = ms * 32 + (strchr("0123456789ABCDEFGHJKMNPQRSTVWXYZ", id[at]) -
				       "0123456789ABCDEFGHJKMNPQRSTVWXYZ");
	return ms;
}

static void ids_rise_strictly(void **state)
{
	(void)state;
	struct clock clocks[] = {clock_system(), clock_pinned(day_of("2020-02-29")),
		clock_seeded(day_of("2026-05-12"), 7)};
	for (size_t kind = 0; kind < 3; kind++) {
		char last[ID_SIZE] = "";
		for (int count = 0; count < 3000; count++) {
			char id[ID_SIZE];
			clock_new_id(&clocks[kind], id);
			check_shape_of_id(id);
			assert_true(strcmp(last, id) < 0);
			strcpy(last, id);
		}
	}
}

/* With a stock of random numbers ids are as without: none twice, and of a seed the same. */
static void ids_of_a_stock_are_ids_like_others(void **state)
{
	(void)state;
	struct clock system = clock_system();
	struct clock seeded = clock_seeded(day_of("2026-05-12"), 7);
	struct clock same = clock_seeded(day_of("2026-05-12"), 7);
	struct random_stock stock = {.left = 0};
	char last[ID_SIZE] = "";
	char used[3 * RANDOM_STOCK][ID_SIZE];
	for (int count = 0; count < 3 * RANDOM_STOCK; count++) {
		char id[ID_SIZE], other[ID_SIZE];
		check_shape_of_id(clock_new_id_of(&system, &stock, id));
		assert_true(strcmp(last, id) < 0);
		strcpy(last, id);
		strcpy(used[count], id);
		for (int before = 0; before < count; before++) {
			assert_string_not_equal(used[before] + 10, id + 10);
			assert_memory_not_equal(used[before] + 10, id + 18, 8);
			assert_memory_not_equal(id + 10, id + 18, 8);
		}
		check_text(
			clock_new_id_of(&seeded, &stock, id), clock_new_id(&same, other), "seed");
	}
}

static void ids_bear_the_time_of_typing(void **state)
{
	(void)state;
	struct clock clock = clock_system();
	char id[ID_SIZE];
	int64_t before = (int64_t)time(NULL) * 1000;
	int64_t made = time_of_id(clock_new_id(&clock, id));
	assert_true(made >= before - 1000 && made <= before + 60000);
}

static void a_clock_that_steps_back_still_gives_rising_ids(void **state)
{
	(void)state;
	struct clock clock = clock_system();
	clock.tick_ms = INT64_C(4102444800000); /* 2100-01-01: as if the clock had been ahead */
	char id[ID_SIZE];
	check_int(time_of_id(clock_new_id(&clock, id)), INT64_C(4102444800001), "one on");
}

static void the_same_seed_tells_the_same_story(void **state)
{
	(void)state;
	struct clock first = clock_seeded(day_of("2026-05-12"), 42);
	struct clock second = clock_seeded(day_of("2026-05-12"), 42);
	struct clock other = clock_seeded(day_of("2026-05-12"), 43);
	for (int count = 0; count < 100; count++) {
		char a[ID_SIZE];
		char b[ID_SIZE];
		char c[ID_SIZE];
		clock_new_id(&first, a);
		clock_new_id(&second, b);
		clock_new_id(&other, c);
		check_text(a, b, "same seed");
		assert_string_not_equal(a, c);
		char stamp_a[STAMP_TEXT_SIZE];
		char stamp_b[STAMP_TEXT_SIZE];
		check_text(clock_stamp(&first, stamp_a), clock_stamp(&second, stamp_b), "stamp");
	}
}

static void random_numbers_are_those_of_splitmix64(void **state)
{
	(void)state;
	/* First outputs for seed 1234567, as given with the algorithm's reference code. */
	struct clock clock = clock_seeded(day_of("2026-05-12"), 1234567);
	static const uint64_t want[] = {UINT64_C(6457827717110365317),
		UINT64_C(3203168211198807973), UINT64_C(9817491932198370423),
		UINT64_C(4593380528125082431), UINT64_C(16408922859458223821)};
	for (size_t at = 0; at < 5; at++)
		assert_true(clock_random(&clock) == want[at]);
}

static void system_random_numbers_differ(void **state)
{
	(void)state;
	struct clock clock = clock_system();
	uint64_t ones = 0;
	uint64_t zeros = 0;
	for (int count = 0; count < 100; count++) {
		uint64_t number = clock_random(&clock);
		ones |= number;
		zeros |= ~number;
	}
	assert_true(ones == UINT64_MAX && zeros == UINT64_MAX);
}

static void seeded_stamps_start_at_noon_and_step_a_second(void **state)
{
	(void)state;
	struct clock clock = clock_seeded(day_of("2026-05-12"), 1);
	char stamp[STAMP_TEXT_SIZE];
	check_text(clock_stamp(&clock, stamp), "2026-05-12T12:00:00Z", "first");
	check_text(clock_stamp(&clock, stamp), "2026-05-12T12:00:01Z", "second");
	char id[ID_SIZE];
	clock_new_id(&clock, id);
	check_text(clock_stamp(&clock, stamp), "2026-05-12T12:00:02Z", "an id between");
	clock_move(&clock, day_of("2027-01-01"));
	check_text(clock_stamp(&clock, stamp), "2027-01-01T12:00:00Z", "moved");
	check_int(clock_today(&clock).day, day_of("2027-01-01").day, "today moved too");
}

static void a_story_told_backwards_keeps_ids_rising(void **state)
{
	(void)state;
	struct clock clock = clock_seeded(day_of("2026-05-12"), 1);
	char before[ID_SIZE];
	char after[ID_SIZE];
	char stamp[STAMP_TEXT_SIZE];
	clock_new_id(&clock, before);
	clock_move(&clock, day_of("2025-01-01"));
	clock_new_id(&clock, after);
	assert_true(strcmp(before, after) < 0);
	check_text(clock_stamp(&clock, stamp), "2026-05-12T12:00:00Z", "not before the last");
}

static void stamps_before_1970_are_right(void **state)
{
	(void)state;
	struct clock clock = clock_seeded(day_of("1915-12-31"), 1);
	char stamp[STAMP_TEXT_SIZE];
	check_text(clock_stamp(&clock, stamp), "1915-12-31T12:00:00Z", "first");
	check_text(clock_stamp(&clock, stamp), "1915-12-31T12:00:01Z", "second");
}

static void a_pinned_clock_stands_on_its_day(void **state)
{
	(void)state;
	struct clock clock = clock_pinned(day_of("2024-02-29"));
	check_int(clock_today(&clock).day, day_of("2024-02-29").day, "today");
	char stamp[STAMP_TEXT_SIZE];
	clock_stamp(&clock, stamp);
	check_int(strncmp(stamp, "2024-02-29T", 11), 0, stamp);
	check_int(stamp[19], 'Z', stamp);
}

static void today_is_the_local_day(void **state)
{
	(void)state;
	struct clock clock = clock_system();
	/* Zones 26 hours apart are never on one day; each is a day off UTC at most. */
	setenv("TZ", "AAA+12", 1);
	struct date west = clock_today(&clock);
	setenv("TZ", "BBB-14", 1);
	struct date east = clock_today(&clock);
	setenv("TZ", "UTC", 1);
	struct date middle = clock_today(&clock);
	int32_t apart = date_days_between(west, east);
	assert_true(apart == 1 || apart == 2);
	assert_true(date_compare(west, middle) <= 0 && date_compare(middle, east) <= 0);
	int64_t now_days = (int64_t)time(NULL) / 86400;
	assert_true(middle.day == now_days || middle.day == now_days - 1);
}

static void zone_is_that_of_the_day(void **state)
{
	(void)state;
	struct date winter, summer;
	check_ok(date_make(2026, 1, 15, &winter, NULL), NULL);
	check_ok(date_make(2026, 7, 15, &summer, NULL), NULL);
	setenv("TZ", "AAA-1BBB,M3.5.0,M10.5.0/3", 1); /* an hour ahead, two in summer */
	check_int(clock_zone_min(winter, 720), 60, "winter");
	check_int(clock_zone_min(summer, 720), 120, "summer");
	check_int(clock_zone_min(summer, 1439), 120, "the next day there");
	check_int(clock_zone_min(summer, -2000), 120, "a minute of the day before");
	setenv("TZ", "AAA9:30", 1);
	check_int(clock_zone_min(winter, 0), -570, "the day before there");
	setenv("TZ", "UTC", 1);
	check_int(clock_zone_min(summer, 720), 0, "none");
}

static void midnight_is_local_or_of_the_pinned_day(void **state)
{
	(void)state;
	char stamp[STAMP_TEXT_SIZE];
	char now[STAMP_TEXT_SIZE];
	struct clock clock = clock_system();
	setenv("TZ", "AAA-5:30", 1); /* ahead of UTC */
	check_text(clock_stamp_of_midnight(&clock, stamp) + 10, "T18:30:00Z", "the evening before");
	assert_true(strcmp(stamp, clock_stamp(&clock, now)) <= 0);
	setenv("TZ", "AAA8", 1);
	check_text(clock_stamp_of_midnight(&clock, stamp) + 10, "T08:00:00Z", "in the morning");
	assert_true(strcmp(stamp, clock_stamp(&clock, now)) <= 0);
	clock = clock_pinned(day_of("2026-11-24"));
	check_text(clock_stamp_of_midnight(&clock, stamp), "2026-11-24T00:00:00Z", "pinned");
}

static void a_waiting_clock_never_goes_back(void **state)
{
	(void)state;
	double last = clock_monotonic_s();
	for (int count = 0; count < 1000; count++) {
		double now = clock_monotonic_s();
		assert_true(now >= last);
		last = now;
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(ids_rise_strictly),
		cmocka_unit_test(ids_of_a_stock_are_ids_like_others),
		cmocka_unit_test(ids_bear_the_time_of_typing),
		cmocka_unit_test(a_clock_that_steps_back_still_gives_rising_ids),
		cmocka_unit_test(the_same_seed_tells_the_same_story),
		cmocka_unit_test(random_numbers_are_those_of_splitmix64),
		cmocka_unit_test(system_random_numbers_differ),
		cmocka_unit_test(seeded_stamps_start_at_noon_and_step_a_second),
		cmocka_unit_test(a_story_told_backwards_keeps_ids_rising),
		cmocka_unit_test(stamps_before_1970_are_right),
		cmocka_unit_test(a_pinned_clock_stands_on_its_day),
		cmocka_unit_test(today_is_the_local_day),
		cmocka_unit_test(zone_is_that_of_the_day),
		cmocka_unit_test(midnight_is_local_or_of_the_pinned_day),
		cmocka_unit_test(a_waiting_clock_never_goes_back),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
