/* SPDX-License-Identifier: MIT */
/* Sums of spans: cases, what must hold of any record, and a real record against sums worked out a
 * second way by tests/tools/second_way.py. */
#include "reckon/make.h"

#include <math.h>
#include <stdlib.h>

#include "reckon/weather_sum.h"

enum { RECORD_DAYS = 900, ROUNDS = 40 };

static struct day_weather days[RECORD_DAYS];
static struct told_hour hours[48];

static struct weather_record record_of(int32_t count)
{
	return (struct weather_record){
		.days = days, .day_count = count, .has_latitude = true, .latitude_deg = 47.45};
}

static struct day_weather *day_at(int32_t at, const char *first, int32_t min, int32_t max)
{
	days[at] = (struct day_weather){.day = date_add_days(day_of(first), at),
		.min_decic = known_i32(min),
		.max_decic = known_i32(max),
		.station = "hill"};
	return &days[at];
}

static struct weather_sum sum_of(
	const struct weather_record *record, const char *from, const char *to)
{
	struct weather_sum sum = {.span = {day_of(from), day_of(to)}};
	struct fault why = {0};

	check_ok(weather_sum_spans(record, &sum, 1, &why), &why);
	return sum;
}

/* --- cases --- */

static void thresholds_have_both_ends(void **state)
{
	struct weather_record record = record_of(4);

	(void)state;
	day_at(0, "2026-03-01", 0, 349)->rain_um = known_i64(500);
	day_at(1, "2026-03-01", 1, 350);
	day_at(2, "2026-03-01", -1, 351)->rain_um = known_i64(0);
	day_at(3, "2026-03-01", 50, 100);
	struct weather_sum sum = sum_of(&record, "2026-03-01", "2026-03-04");
	check_int(sum.frost_nights, 2, "0.0 C is a frost night, 0.1 C is none");
	check_int(sum.heat_days, 2, "35.0 C is a heat day, 34.9 C is none");
	check_close(sum.degree_days, 7.45 + 7.55 + 7.5, 1e-9, "means over 10 C; 7.5 gives none");
	check_int(sum.rain_known, 2, "days with a figure of rain");
	check_int(sum.rain_um, 500, "rain");
	check_int(sum.lowest.decic.value, -1, "lowest");
	check_int(sum.highest.day.day, day_of("2026-03-03").day, "day of the highest");
}

static void a_day_without_an_extreme_is_missing_and_still_has_its_frost(void **state)
{
	struct weather_record record = record_of(3);

	(void)state;
	day_at(0, "2026-03-01", 20, 100);
	day_at(1, "2026-03-01", -20, 0)->max_decic.known = false;
	day_at(2, "2026-03-01", 20, 100);
	struct weather_sum sum = sum_of(&record, "2026-02-27", "2026-03-05");
	check_int(sum.days, 7, "days");
	check_int(sum.missing, 5, "missing: two before, one inside, two after");
	check_int(sum.longest_gap, 2, "in a row");
	check_int(sum.frost_nights, 1, "frost");
	check_int(sum.chill.gaps, 1, "one gap between hours");
	sum = sum_of(&record, "2026-03-05", "2026-03-05");
	check_int(sum.longest_gap, 1, "a gap is no longer than the span");
}

static void extremes_that_cross_are_taken_out_and_counted(void **state)
{
	struct weather_record record = record_of(2);

	(void)state;
	day_at(0, "2026-03-01", 80, 70);
	day_at(1, "2026-03-01", 70, 70);
	check_int(weather_days_uncross(days, 2), 1, "crossed");
	struct weather_sum sum = sum_of(&record, "2026-03-01", "2026-03-02");
	check_int(sum.crossed, 1, "said");
	check_int(sum.missing, 1, "missing");
}

static void without_a_latitude_no_chill_and_all_else(void **state)
{
	struct weather_record record = record_of(2);

	(void)state;
	day_at(0, "2026-03-01", 50, 250);
	day_at(1, "2026-03-01", 50, 250);
	record.has_latitude = false;
	struct weather_sum sum = sum_of(&record, "2026-03-01", "2026-03-02");
	check_int(sum.chill.hours, 0, "hours");
	check_close(sum.degree_days, 10, 1e-9, "degree-days");
}

/* Two days of 6 C, the first without so many hours; returns how many hours. */
static int32_t make_hours(int32_t first, int32_t skipped)
{
	int32_t count = 0;

	for (int32_t at = skipped; at < 48; at++)
		hours[count++] = (struct told_hour){
			date_add_days((struct date){first}, at / 24), at % 24, 60, "hill"};
	return count;
}

static void hours_of_the_station_stand_before_made_ones(void **state)
{
	struct weather_record record = record_of(2);

	(void)state;
	day_at(0, "2026-03-29", 20, 200);
	day_at(1, "2026-03-29", 20, 200);
	record.hours = hours;
	record.hour_count = make_hours(days[0].day.day, 1);
	record.has_latitude = false;
	struct weather_sum sum = sum_of(&record, "2026-03-29", "2026-03-30");
	check_int(sum.by_hours, 2, "23 hours are a day");
	check_close(sum.chill.chilling_hours, 48, 0, "the dropped hour is as the one beside it");
	record.hour_count = make_hours(days[0].day.day, 2);
	sum = sum_of(&record, "2026-03-29", "2026-03-30");
	check_int(sum.by_hours, 1, "22 are not");
	days[1].station = "dale";
	sum = sum_of(&record, "2026-03-29", "2026-03-30");
	check_int(sum.by_hours, 0, "hours of another station than the day's are left alone");
	days[1].station = "hill";
	days[1].min_entry = make_entry(KIND_WEATHER, "2026-03-30");
	sum = sum_of(&record, "2026-03-29", "2026-03-30");
	check_int(sum.by_hours, 0, "and those of a day that the grower gave by hand");
}

static void what_cannot_be_is_refused(void **state)
{
	struct weather_record record = record_of(2);
	struct weather_sum sum = {.span = {day_of("2026-03-02"), day_of("2026-03-01")}};
	struct fault why = {0};

	(void)state;
	day_at(0, "2026-03-01", 20, 200);
	day_at(1, "2026-03-01", 20, 200);
	check_refused(weather_sum_spans(&record, &sum, 1, &why), STATUS_RANGE, &why,
		"ends before it begins");
	sum.span.to = sum.span.from;
	days[1].day = days[0].day;
	check_refused(
		weather_sum_spans(&record, &sum, 1, &why), STATUS_RANGE, &why, "stands twice");
	day_at(1, "2026-03-01", 20, 700);
	check_refused(weather_sum_spans(&record, &sum, 1, &why), STATUS_RANGE, &why,
		"is outside -90..60 C");
	record.latitude_deg = NAN;
	check_refused(weather_sum_spans(&record, &sum, 1, &why), STATUS_RANGE, &why, "");
}

/* --- of any record --- */

static uint32_t next(uint32_t *seed)
{
	*seed = *seed * 1664525U + 1013904223U;
	return *seed >> 8;
}

static void make_record(uint32_t *seed)
{
	for (int32_t at = 0; at < RECORD_DAYS; at++) {
		int32_t warm = (int32_t)(120 - 110 * cos((at + 60) * 0.0172));
		int32_t min = warm - 70 + (int32_t)(next(seed) % 80);
		struct day_weather *day =
			day_at(at, "2023-05-01", min, min + (int32_t)(next(seed) % 160));

		if (next(seed) % 30 == 0)
			day->max_decic.known = false;
		if (next(seed) % 3 == 0)
			day->rain_um = known_i64((int64_t)(next(seed) % 9000));
	}
}

static void parts_add_up_to_the_whole(void **state)
{
	uint32_t seed = 20260329;

	(void)state;
	for (int round = 0; round < ROUNDS; round++) {
		make_record(&seed);
		struct weather_record record = record_of(RECORD_DAYS);
		struct date first = days[0].day, last = days[RECORD_DAYS - 1].day;
		struct date cut = date_add_days(first, (int32_t)(next(&seed) % RECORD_DAYS));
		struct weather_sum sums[3] = {{.span = {first, last}}, {.span = {first, cut}},
			{.span = {date_add_days(cut, 1), date_add_days(last, 1)}}};
		struct fault why = {0};

		check_ok(weather_sum_spans(&record, sums, 3, &why), &why);
		check_int(sums[1].days + sums[2].days, sums[0].days + 1, "days");
		check_int(
			sums[1].frost_nights + sums[2].frost_nights, sums[0].frost_nights, "frost");
		check_int(sums[1].chill.hours + sums[2].chill.hours, sums[0].chill.hours, "hours");
		check_int(sums[1].rain_um + sums[2].rain_um, sums[0].rain_um, "rain");
		check_close(sums[1].degree_days + sums[2].degree_days, sums[0].degree_days, 1e-6,
			"degree-days");
		check_close(sums[1].chill.portions + sums[2].chill.portions, sums[0].chill.portions,
			1e-9, "portions: the store is carried over the cut");
		check_close(sums[1].growing_hours + sums[2].growing_hours, sums[0].growing_hours,
			1e-6, "growing degree hours");
	}
}

/* A warmer spot never has less warmth, nor more frost; and what it has is that of a record whose
 * figures are all so much higher. */
static void warmer_is_never_colder(void **state)
{
	uint32_t seed = 471;

	(void)state;
	for (int round = 0; round < ROUNDS; round++) {
		make_record(&seed);
		struct weather_record record = record_of(RECORD_DAYS), warmer = record;
		struct weather_sum sum = sum_of(&record, "2023-05-01", "2025-10-16"), moved;

		warmer.warmer_decic = (int32_t)(next(&seed) % 60);
		moved = sum_of(&warmer, "2023-05-01", "2025-10-16");
		assert_true(moved.degree_days >= sum.degree_days);
		assert_true(moved.frost_nights <= sum.frost_nights);
		assert_true(moved.heat_days >= sum.heat_days);
		check_int(moved.missing, sum.missing, "gaps are the same");
		for (int32_t at = 0; at < RECORD_DAYS; at++) {
			days[at].min_decic.value += warmer.warmer_decic;
			days[at].max_decic.value += warmer.warmer_decic;
		}
		sum = sum_of(&record, "2023-05-01", "2025-10-16");
		check_close(moved.chill.portions, sum.chill.portions, 1e-9, "portions");
		check_close(moved.degree_days, sum.degree_days, 1e-9, "degree-days");
	}
}

/* The sun's course half a year later on the other side differs by minutes only. */
static void half_a_year_later_in_the_south_chill_is_the_same(void **state)
{
	uint32_t seed = 99;

	(void)state;
	make_record(&seed);
	struct weather_record record = record_of(RECORD_DAYS);
	struct weather_sum north = sum_of(&record, "2023-11-01", "2024-02-28");
	for (int32_t at = 0; at < RECORD_DAYS; at++)
		days[at].day = date_add_days(days[at].day, 182);
	record.latitude_deg = -record.latitude_deg;
	struct weather_sum south = sum_of(&record, "2024-05-01", "2024-08-28");
	check_int(south.missing, north.missing, "gaps");
	check_int(south.frost_nights, north.frost_nights, "frost");
	check_close(south.chill.chilling_hours, north.chill.chilling_hours,
		0.03 * north.chill.chilling_hours, "chilling hours");
	check_close(south.chill.portions, north.chill.portions, 0.03 * north.chill.portions,
		"portions");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(thresholds_have_both_ends),
		cmocka_unit_test(a_day_without_an_extreme_is_missing_and_still_has_its_frost),
		cmocka_unit_test(extremes_that_cross_are_taken_out_and_counted),
		cmocka_unit_test(without_a_latitude_no_chill_and_all_else),
		cmocka_unit_test(hours_of_the_station_stand_before_made_ones),
		cmocka_unit_test(what_cannot_be_is_refused),
		cmocka_unit_test(parts_add_up_to_the_whole),
		cmocka_unit_test(warmer_is_never_colder),
		cmocka_unit_test(half_a_year_later_in_the_south_chill_is_the_same),
	};

	return cmocka_run_group_tests_name("weather sums", tests, NULL, NULL) != 0;
}
