/* SPDX-License-Identifier: MIT */
#include <math.h>

#include "reckon/make.h"
#include "reckon/sun.h"

static const struct sun_site istanbul = {41.01384, 28.94966};

static struct sun_day day_at(double latitude_deg, double longitude_deg, struct date day)
{
	struct sun_site site = {latitude_deg, longitude_deg};
	struct fault why = {0};
	struct sun_day sun;

	check_ok(sun_of_day(&site, day, &sun, &why), &why);
	return sun;
}

static struct sun_position at(double latitude_deg, const char *iso, double minute)
{
	struct sun_site site = {latitude_deg, 0};
	struct fault why = {0};
	struct sun_position sun;

	check_ok(sun_position(&site, day_of(iso), minute, &sun, &why), &why);
	return sun;
}

/* --- geometry --- */

/* 90 less latitude and declination apart: 73.44 at the solstice, by hand. */
static void noon_stands_as_high_as_geometry_says(void **state)
{
	(void)state;
	check_close(day_at(40, 0, day_of("2026-06-21")).noon_altitude_deg, 73.44, 0.01, "June");
	check_close(day_at(40, 0, day_of("2026-12-21")).noon_altitude_deg, 26.56, 0.01, "December");
	check_close(day_at(52, 0, day_of("2026-12-21")).noon_altitude_deg, 14.56, 0.01, "52 N");
}

/* Hours from the centre at -0.833 degrees, declination 23.44: by hand. */
static void days_are_as_long_as_geometry_says(void **state)
{
	(void)state;
	check_close(day_at(40, 0, day_of("2026-06-21")).length_min / 60, 15.01496, 0.005, "June");
	check_close(
		day_at(40, 0, day_of("2026-12-21")).length_min / 60, 9.32438, 0.005, "December");
	check_close(day_at(52, 0, day_of("2026-12-21")).length_min / 60, 7.73978, 0.005, "52 N");
	check_close(day_at(40, 0, day_of("2026-03-20")).length_min / 60, 12.14499, 0.02, "March");
}

/* Half the hours of geometry's day before and after noon the sun's centre is at the horizon. */
static void check_half_day(double latitude_deg, const char *iso, double hours, double tolerance_deg)
{
	double noon_min = day_at(latitude_deg, 0, day_of(iso)).noon_min;

	check_close(at(latitude_deg, iso, noon_min - hours * 30).altitude_deg, 0, tolerance_deg,
		"morning");
	check_close(at(latitude_deg, iso, noon_min + hours * 30).altitude_deg, 0, tolerance_deg,
		"evening");
}

/* Without air: declination 23.44, 0 and -23.44. In March it moves 0.1 degrees in a quarter of a
 * day; in December noon moves, by a quarter of a minute in a day. */
static void the_centre_is_up_as_long_as_geometry_says(void **state)
{
	(void)state;
	check_half_day(40, "2026-06-21", 14.84455, 0.03);
	check_half_day(40, "2026-12-21", 9.15545, 0.03);
	check_half_day(52, "2026-12-21", 7.50578, 0.03);
	check_half_day(40, "2026-03-20", 12, 0.15);
}

static void rise_and_set_are_told_of_the_day_of_the_place(void **state)
{
	(void)state;
	struct sun_day east = day_at(-37.814, 144.96332, day_of("2026-06-21"));
	struct sun_day west = day_at(4.60971, -74.08175, day_of("2026-06-21"));
	struct sun_day north = day_at(64.13548, -21.89541, day_of("2026-06-21"));

	check_close(east.rise_min, -144, 1.5, "Melbourne rises the evening before in UTC");
	check_close(west.set_min, 1390, 1.5, "Bogota");
	check_close(north.set_min, 1444, 2, "Reykjavik sets after midnight");
}

static void sun_stands_at_the_horizon_when_it_rises_and_sets(void **state)
{
	(void)state;
	for (int32_t day = 0; day < 365; day += 13) {
		struct date date = date_add_days(day_of("2026-01-01"), day);
		struct sun_day sun = day_at(istanbul.latitude_deg, istanbul.longitude_deg, date);
		struct sun_position rise, noon, set;
		check_ok(sun_position(&istanbul, date, sun.rise_min, &rise, NULL), NULL);
		check_ok(sun_position(&istanbul, date, sun.noon_min, &noon, NULL), NULL);
		check_ok(sun_position(&istanbul, date, sun.set_min, &set, NULL), NULL);
		check_close(rise.altitude_deg, -0.833, 1e-3, "rise");
		check_close(set.altitude_deg, -0.833, 1e-3, "set");
		check_close(noon.hour_angle_deg, 0, 1e-3, "noon");
		check_close(noon.azimuth_deg, 180, 0.01, "south at noon");
		assert_true(rise.azimuth_deg < 180 && set.azimuth_deg > 180);
		assert_true(rise.hour_angle_deg < 0 && set.hour_angle_deg > 0);
		check_close(sun.length_min, sun.set_min - sun.rise_min, 1e-9, "length");
	}
}

/* Half a degree at the horizon, next to nothing overhead, never downwards. */
static void air_lifts_the_low_sun(void **state)
{
	(void)state;
	double before = 1;

	for (int32_t minute = 360; minute <= 720; minute += 5) {
		struct sun_position sun = at(10, "2026-03-21", minute);
		double lift = sun.apparent_deg - sun.altitude_deg;
		assert_true(lift >= 0);
		if (sun.altitude_deg < -1)
			check_close(lift, 0, 1e-12, "below the horizon");
		else
			assert_true(lift <= before);
		if (sun.altitude_deg > -1)
			before = lift;
	}
	struct sun_day day =
		day_at(istanbul.latitude_deg, istanbul.longitude_deg, day_of("2026-06-01"));
	struct sun_position rise;
	check_ok(sun_position(&istanbul, day_of("2026-06-01"), day.rise_min, &rise, NULL), NULL);
	assert_true(rise.apparent_deg - rise.altitude_deg > 0.45);
	assert_true(rise.apparent_deg - rise.altitude_deg < 0.75);
}

/* --- properties --- */

/* What the north has, the south has half a year later, but for the year's unequal halves: the sun
 * is up to 1.6 degrees elsewhere. */
static void south_mirrors_the_north_half_a_year_apart(void **state)
{
	(void)state;
	for (int32_t latitude = 5; latitude <= 55; latitude += 10)
		for (int32_t day = 0; day < 365; day += 7) {
			struct date date = date_add_days(day_of("2026-01-03"), day);
			struct date later = date_add_days(date, 183);
			struct sun_day north = day_at(latitude, 0, date);
			struct sun_day south = day_at(-latitude, 0, later);
			check_close(south.noon_altitude_deg, north.noon_altitude_deg, 1.7, "noon");
			check_close(south.length_min, north.length_min,
				1.7 * 8 * tan(latitude * 3.1416 / 180) + 5, "length");
		}
}

/* One day's light here and its night there: together 24 h and what the horizon adds, which is the
 * same for both. */
static void one_day_north_and_south_makes_the_round(void **state)
{
	(void)state;
	for (int32_t latitude = 0; latitude <= 60; latitude += 6)
		for (int32_t day = 0; day < 365; day += 5) {
			struct date date = date_add_days(day_of("2026-01-01"), day);
			double both = day_at(latitude, 0, date).length_min +
				      day_at(-latitude, 0, date).length_min;
			assert_true(both > 1440 + 12.9 && both < 1440 + 46);
		}
}

/* Fifteen degrees are an hour, but for what the sun itself moves meanwhile. */
static void places_to_the_east_come_first(void **state)
{
	(void)state;
	for (int32_t day = 0; day < 365; day += 11) {
		struct date date = date_add_days(day_of("2027-01-01"), day);
		for (int32_t longitude = -165; longitude <= 165; longitude += 15) {
			struct sun_day west = day_at(45, longitude, date);
			struct sun_day east = day_at(45, longitude + 15, date);
			check_close(west.rise_min - east.rise_min, 60, 0.15, "rise");
			check_close(west.noon_min - east.noon_min, 60, 0.03, "noon");
			check_close(west.set_min - east.set_min, 60, 0.15, "set");
			check_close(west.length_min, east.length_min, 0.25, "length");
		}
	}
}

/* Over New Year and leap days as on any other. */
static void days_follow_without_a_jump(void **state)
{
	(void)state;
	for (int32_t latitude = -60; latitude <= 60; latitude += 15) {
		struct sun_day before = day_at(latitude, 10, day_of("2023-12-30"));
		for (int32_t day = 1; day < 800; day++) {
			struct sun_day next =
				day_at(latitude, 10, date_add_days(day_of("2023-12-30"), day));
			check_close(next.noon_min, before.noon_min, 0.6, "noon");
			check_close(next.rise_min, before.rise_min, 3.6, "rise");
			check_close(next.set_min, before.set_min, 3.6, "set");
			check_close(next.length_min, before.length_min, 6.8, "length");
			before = next;
		}
	}
}

/* From dark to day to light all round and back: each border is crossed once, and no day is longer
 * than a day. */
static void polar_year_turns_once(void **state)
{
	(void)state;
	int32_t turns = 0;
	struct sun_day before = day_at(72, 25, day_of("2026-01-01"));

	check_int(before.course, SUN_STAYS_DOWN, "January");
	check_close(before.length_min, 0, 0, "no day");
	for (int32_t day = 1; day <= 365; day++) {
		struct sun_day sun = day_at(72, 25, date_add_days(day_of("2026-01-01"), day));
		assert_true(sun.length_min >= 0 && sun.length_min <= 1440);
		check_int(sun.course == SUN_RISES, sun.rises || sun.sets, "rises or sets");
		if (sun.course != before.course)
			turns++;
		before = sun;
	}
	check_int(turns, 4, "turns of the year");
	struct sun_day june = day_at(72, 25, day_of("2026-06-21"));
	check_int(june.course, SUN_STAYS_UP, "June");
	check_close(june.length_min, 1440, 0, "all round");
}

static void poles_are_answered(void **state)
{
	(void)state;
	check_int(day_at(90, 0, day_of("2026-06-21")).course, SUN_STAYS_UP, "north pole, June");
	check_int(day_at(-90, 0, day_of("2026-06-21")).course, SUN_STAYS_DOWN, "south pole, June");
	check_close(at(90, "2026-06-21", 600).altitude_deg, 23.44, 0.01, "as high as it ever is");
	assert_true(isfinite(at(90, "2026-06-21", 600).azimuth_deg));
}

/* --- refusals --- */

struct bad_case {
	const char *name;
	struct sun_site site;
	const char *day;
	double minute;
	const char *says;
};

static void refuse_case(const void *one)
{
	const struct bad_case *bad = one;
	struct fault why = {0};
	struct sun_position sun;
	struct sun_day day;

	check_int(sun_position(&bad->site, day_of(bad->day), bad->minute, &sun, &why), STATUS_RANGE,
		bad->name);
	check_has(why.text, bad->says, bad->name);
	if (bad->minute == 0) {
		why.text[0] = '\0';
		check_int(sun_of_day(&bad->site, day_of(bad->day), &day, &why), STATUS_RANGE,
			bad->name);
		check_has(why.text, bad->says, bad->name);
	}
}

static const struct bad_case bad_cases[] = {
	{"latitude_not_a_number", {NAN, 0}, "2026-06-21", 0, "latitude nan is outside -90..90"},
	{"latitude_too_far_north", {90.1, 0}, "2026-06-21", 0, "90.1 is outside -90..90"},
	{"longitude_not_a_number", {0, NAN}, "2026-06-21", 0, "longitude nan"},
	{"longitude_twice_round", {0, 361}, "2026-06-21", 0, "361 is outside -180..180"},
	{"longitude_without_end", {0, -INFINITY}, "2026-06-21", 0, "longitude -inf"},
	{"year_too_early", {0, 0}, "1599-12-31", 0, "not worked out for 1599"},
	{"year_too_late", {0, 0}, "2401-01-01", 0, "only for 1600..2400"},
	{"minute_not_a_number", {0, 0}, "2026-06-21", NAN, "minute nan"},
	{"minute_of_another_month", {0, 0}, "2026-06-21", 44640, "within ten days"},
};

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(noon_stands_as_high_as_geometry_says),
		cmocka_unit_test(days_are_as_long_as_geometry_says),
		cmocka_unit_test(the_centre_is_up_as_long_as_geometry_says),
		cmocka_unit_test(rise_and_set_are_told_of_the_day_of_the_place),
		cmocka_unit_test(sun_stands_at_the_horizon_when_it_rises_and_sets),
		cmocka_unit_test(air_lifts_the_low_sun),
		cmocka_unit_test(south_mirrors_the_north_half_a_year_apart),
		cmocka_unit_test(one_day_north_and_south_makes_the_round),
		cmocka_unit_test(places_to_the_east_come_first),
		cmocka_unit_test(days_follow_without_a_jump),
		cmocka_unit_test(polar_year_turns_once),
		cmocka_unit_test(poles_are_answered),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);

	failed += RUN_CASES("refusals", bad_cases, refuse_case);
	return failed != 0;
}
