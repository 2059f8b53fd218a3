/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include <math.h>

#include "reckon/chill.h"

struct even_day {
	const char *name;
	double latitude_deg;
	int32_t day;
	struct extremes extremes;
	double hours[HOURS_A_DAY];
	double chilling_hours, utah;
};
/* the same extremes every day; worked out from the formula */
static const struct even_day even_days[] = {
	{"a_january_day_at_40_north", 40, 15, {-2, 8},
		{-0.1623, -0.4982, -0.7994, -1.0724, -1.3221, -1.5521, -1.7652, -1.9639, -0.1408,
			2.0560, 4.0381, 5.7004, 6.9549, 7.7352, 8.0000, 7.7352, 6.9549, 5.4658,
			3.6853, 2.5876, 1.7919, 1.1673, 0.6532, 0.2162},
		12, 11.0},
	{"a_march_day_at_45_north", 45, 80, {0, 12},
		{2.0373, 1.5932, 1.2017, 0.8518, 0.5353, 0.2466, 0.1732, 2.4895, 4.7119, 6.7566,
			8.5463, 10.0136, 11.1030, 11.7736, 12.0000, 11.7736, 11.1030, 10.0136,
			8.5463, 6.2601, 4.8793, 3.9086, 3.1594, 2.5492},
		15, 14.5},
};

static void check_even_day(const void *item)
{
	const struct even_day *one = item;
	const struct extremes *day = &one->extremes;
	struct hours hours;
	struct chill chill = {0};

	check_ok(hourly_of_day(one->latitude_deg, one->day, day, day, day, &hours, NULL), NULL);
	check_int(hours.from, 0, "from");
	check_int(hours.to, HOURS_A_DAY, "to");
	for (int32_t hour = 0; hour < HOURS_A_DAY; hour++) {
		check_close(hours.celsius[hour], one->hours[hour], 6e-5, "hour");
		assert_true(hours.celsius[hour] >= day->min_c - 1e-9);
		assert_true(hours.celsius[hour] <= day->max_c + 1e-9);
		check_ok(chill_add_hour(&chill, hours.celsius[hour], NULL), NULL);
	}
	check_close(chill.chilling_hours, one->chilling_hours, 1e-9, "chilling hours");
	check_close(chill.utah, one->utah, 1e-9, "Utah");
}

static void the_morning_hangs_on_yesterday(void **state)
{
	static const double want[] = {5.6229, 5.5190, 5.4252, 5.3395, 5.2608, 5.1878};
	const struct extremes before = {5.1, 8.2};
	const struct extremes today = {5.0, 9.1};
	const struct extremes after = {3.3, 10.4};
	struct hours hours;

	(void)state;
	check_ok(hourly_of_day(50.4, 2, &before, &today, &after, &hours, NULL), NULL);
	for (int32_t hour = 0; hour < 6; hour++)
		check_close(hours.celsius[hour], want[hour], 6e-5, "hour");
}

static void hours_beside_a_missing_day_are_left_out(void **state)
{
	const struct extremes day = {5, 9};
	struct hours hours;

	(void)state;
	check_ok(hourly_of_day(50.4, 15, NULL, &day, NULL, &hours, NULL), NULL);
	check_int(hours.from, 8, "after sunrise at 7:46");
	check_int(hours.to, 17, "before sunset at 16:14");
}

static void the_sun_that_stays_gives_the_mean(void **state)
{
	const struct extremes day = {-12, -4};
	struct daylight light;
	struct hours hours;

	(void)state;
	check_ok(hourly_daylight(75, 355, &light, NULL), NULL);
	check_int(light.course, SUN_STAYS_DOWN, "polar night");
	check_close(light.length_h, 0, 0, "length");
	check_ok(hourly_daylight(75, 172, &light, NULL), NULL);
	check_int(light.course, SUN_STAYS_UP, "polar day");
	check_close(light.length_h, 24, 0, "length");
	check_ok(hourly_daylight(90, 172, &light, NULL), NULL);
	check_int(light.course, SUN_STAYS_UP, "the pole");
	check_ok(hourly_of_day(75, 355, NULL, &day, NULL, &hours, NULL), NULL);
	check_int(hours.to - hours.from, HOURS_A_DAY, "hours");
	check_close(hours.celsius[3], -8, 1e-12, "mean");
}

static void a_day_of_one_temperature_is_flat(void **state)
{
	const struct extremes day = {7, 7};
	struct hours hours;

	(void)state;
	check_ok(hourly_of_day(40, 100, &day, &day, &day, &hours, NULL), NULL);
	for (int32_t hour = 0; hour < HOURS_A_DAY; hour++)
		check_close(hours.celsius[hour], 7, 1e-9, "hour");
}

static void bad_days_are_refused(void **state)
{
	const struct extremes good = {5, 9};
	const struct extremes turned = {9, 5};
	const struct extremes odd = {NAN, 9};
	const struct extremes hot = {5, 65};
	struct hours hours = {.to = -1};
	struct daylight light;
	struct fault why = {0};

	(void)state;
	check_refused(hourly_of_day(40, 100, NULL, &turned, NULL, &hours, &why), STATUS_RANGE, &why,
		"minimum 9 C is above maximum 5 C");
	check_refused(hourly_of_day(40, 100, &turned, &good, NULL, &hours, &why), STATUS_RANGE,
		&why, "above");
	check_refused(hourly_of_day(40, 100, NULL, &good, &odd, &hours, &why), STATUS_RANGE, &why,
		"outside");
	check_refused(hourly_of_day(40, 100, NULL, &hot, NULL, &hours, &why), STATUS_RANGE, &why,
		"-90..60");
	check_refused(hourly_of_day(40, 0, NULL, &good, NULL, &hours, &why), STATUS_RANGE, &why,
		"1..366");
	check_refused(hourly_daylight(-90.1, 5, &light, &why), STATUS_RANGE, &why, "-90.1");
	check_refused(hourly_daylight(NAN, 5, &light, &why), STATUS_RANGE, &why, "latitude");
	check_int(hours.to, -1, "untouched");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_morning_hangs_on_yesterday),
		cmocka_unit_test(hours_beside_a_missing_day_are_left_out),
		cmocka_unit_test(the_sun_that_stays_gives_the_mean),
		cmocka_unit_test(a_day_of_one_temperature_is_flat),
		cmocka_unit_test(bad_days_are_refused),
	};
	int failed = RUN_CASES("the same day every day", even_days, check_even_day);

	return failed + cmocka_run_group_tests_name("hourly", tests, NULL, NULL) != 0;
}
