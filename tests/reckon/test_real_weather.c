/* SPDX-License-Identifier: MIT */
/* Totals of real weather records, held against the same totals worked out a second way by
 * tests/tools/second_way.py. */
#include "reckon/make.h"

#include <math.h>
#include <stdlib.h>

#include "reckon/chill.h"
#include "reckon/heat.h"
#include "reckon/water.h"

static const double latitude_deg = 47.45; /* Seattle */

enum { DAYS_MAX = 1500 };

static struct day_weather days[DAYS_MAX];
static int32_t day_count;
static char *second; /* "name value" lines */

static const char *data_path(const char *name, char *out, size_t size)
{
	const char *top = getenv("BOUGHBOOK_SOURCE");

	snprintf(out, size, "%s/%s", top != NULL ? top : ".", name);
	return out;
}

static void work_out_again(const char *what, const char *file)
{
	char script[400], path[400];
	const char *arguments[] = {"/usr/bin/python3",
		data_path("tests/tools/second_way.py", script, sizeof script), what,
		data_path(file, path, sizeof path), NULL};
	struct spawned spawned = command_run(NULL, arguments);

	check_int(spawned.status, 0, spawned.err);
	free(second);
	second = spawned.out;
	free(spawned.err);
}

static double want(const char *name)
{
	size_t length = strlen(name);

	for (const char *at = second; at != NULL && *at != '\0';) {
		if (strncmp(at, name, length) == 0 && at[length] == ' ')
			return strtod(at + length, NULL);
		at = strchr(at, '\n');
		at += at != NULL;
	}
	fail_msg("no second figure for %s", name);
	return NAN;
}

static void check_chill(const struct chill *chill, const char *prefix)
{
	static const char *const names[] = {"hours", "chilling", "utah", "positive", "portions"};
	const double got[] = {(double)chill->hours, chill->chilling_hours, chill->utah,
		chill->utah_positive, chill->portions};

	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
		char name[64];

		snprintf(name, sizeof name, "%s%s", prefix, names[i]);
		check_close(got[i], want(name), 1e-6, name);
	}
}

static void hourly_normals_of_four_months(void **state)
{
	char path[400], line[80];
	struct chill chill = {0};
	double heat = 0;

	(void)state;
	work_out_again("hours", "tests/data/weather-seattle-hours.csv");
	FILE *file =
		fopen(data_path("tests/data/weather-seattle-hours.csv", path, sizeof path), "r");
	assert_non_null(file);
	assert_non_null(fgets(line, sizeof line, file));
	while (fgets(line, sizeof line, file) != NULL) {
		double celsius = strtod(strchr(line, ',') + 1, NULL);
		double warmth = 0;

		check_ok(chill_add_hour(&chill, celsius, NULL), NULL);
		check_ok(heat_hour(celsius, &warmth, NULL), NULL);
		heat += warmth;
	}
	(void)fclose(file);
	check_chill(&chill, "");
	check_close(heat, want("growing"), 1e-6, "growing degree hours");
}

static int read_days(void **state)
{
	char path[400], line[80];
	FILE *file =
		fopen(data_path("tests/data/weather-seattle-days.csv", path, sizeof path), "r");

	(void)state;
	assert_non_null(file);
	assert_non_null(fgets(line, sizeof line, file));
	while (fgets(line, sizeof line, file) != NULL) {
		char *at = line + 10;

		assert_true(day_count < DAYS_MAX);
		*at++ = '\0';
		double rain_mm = strtod(at, &at);
		double max_c = strtod(at + 1, &at);
		double min_c = strtod(at + 1, NULL);
		days[day_count++] = (struct day_weather){.day = day_of(line),
			.min_decic = known_i32((int32_t)round_i64(min_c * 10)),
			.max_decic = known_i32((int32_t)round_i64(max_c * 10)),
			.rain_um = known_i64(round_i64(rain_mm * 1000)),
			.station = "airport"};
	}
	(void)fclose(file);
	check_int(day_count, 1461, "days of four years");
	work_out_again("days", "tests/data/weather-seattle-days.csv");
	return 0;
}

static struct day_span year_2013(void)
{
	return (struct day_span){day_of("2013-01-01"), day_of("2013-12-31")};
}

static void degree_days_of_a_year(void **state)
{
	static const char *const names[] = {[HEAT_AVERAGE] = "average",
		[HEAT_AVERAGE_LIFTED] = "lifted",
		[HEAT_TRIANGLE] = "triangle",
		[HEAT_SINE] = "sine"};
	const struct heat_limits limits = {10, 25, true};

	(void)state;
	for (int method = HEAT_AVERAGE; method <= HEAT_SINE; method++) {
		struct heat_span got;

		check_ok(heat_of_days((enum heat_method)method, days, day_count, &limits, 0,
				 year_2013(), &got, NULL),
			NULL);
		check_int(got.cover.known, 365, "days");
		/* the second way adds up minutes */
		check_close(got.degree_days, want(names[method]), 0.05, names[method]);
	}
}

static void water_of_a_year(void **state)
{
	struct day_span span = year_2013();
	double reference_mm = 0;
	double rain_mm = 0;
	double counts_mm = 0;

	(void)state;
	for (int32_t i = 0; i < day_count; i++) {
		double used_mm = 0;
		double kept_mm = 0;
		double fell_mm = (double)days[i].rain_um.value / 1000;

		if (days[i].day.day < span.from.day || days[i].day.day > span.to.day)
			continue;
		check_ok(water_reference_mm(latitude_deg, days[i].day.day - span.from.day + 1,
				 days[i].min_decic.value / 10.0, days[i].max_decic.value / 10.0,
				 &used_mm, NULL),
			NULL);
		check_ok(water_rain_of_day_mm(fell_mm, &kept_mm, NULL), NULL);
		reference_mm += used_mm;
		rain_mm += fell_mm;
		counts_mm += kept_mm;
	}
	/* 1 / 2.45 against 0.408, and 24 x 60 / pi x 0.0820 against its rounded product */
	check_close(reference_mm, want("reference"), 0.002 * reference_mm, "reference");
	check_close(rain_mm, want("rain"), 1e-6, "rain");
	check_close(counts_mm, want("effective"), 1e-6, "rain that counts");
}

static void chill_of_a_winter_from_daily_extremes(void **state)
{
	struct day_span span = {day_of("2013-11-01"), day_of("2014-02-28")};
	struct chill_span got;

	(void)state;
	check_ok(chill_of_days(days, day_count, latitude_deg, 0, span, &got, NULL), NULL);
	check_int(got.chill.gaps, 0, "gaps");
	check_chill(&got.chill, "winter-");
}

static void a_summer_and_a_winter_add_up_to_the_year(void **state)
{
	const struct heat_limits limits = {5, 30, true};
	struct day_span whole = year_2013();
	struct day_span first = {whole.from, day_of("2013-06-30")};
	struct day_span second_half = {day_of("2013-07-01"), whole.to};
	struct heat_span all, one, two;

	(void)state;
	check_ok(heat_of_days(HEAT_SINE, days, day_count, &limits, 0, whole, &all, NULL), NULL);
	check_ok(heat_of_days(HEAT_SINE, days, day_count, &limits, 0, first, &one, NULL), NULL);
	check_ok(heat_of_days(HEAT_SINE, days, day_count, &limits, 0, second_half, &two, NULL),
		NULL);
	check_close(one.degree_days + two.degree_days, all.degree_days, 1e-9, "sum");
}

static int forget(void **state)
{
	(void)state;
	free(second);
	second = NULL;
	return 0;
}

int main(void)
{
	const struct CMUnitTest hours[] = {cmocka_unit_test(hourly_normals_of_four_months)};
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(degree_days_of_a_year),
		cmocka_unit_test(water_of_a_year),
		cmocka_unit_test(chill_of_a_winter_from_daily_extremes),
		cmocka_unit_test(a_summer_and_a_winter_add_up_to_the_year),
	};
	int failed = cmocka_run_group_tests_name("hourly normals", hours, NULL, forget);

	return failed + cmocka_run_group_tests_name(
				"four years of days", tests, read_days, forget) !=
	       0;
}
