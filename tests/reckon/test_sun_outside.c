/* SPDX-License-Identifier: MIT */
/* The sun as others have it: published values, and 2,000 places and days by two libraries. */
#include <math.h>

#include "reckon/make.h"
#include "reckon/sun.h"

static const double edge_deg = -0.833; /* of rise and set */

static double cosine(double degrees)
{
	return cos(degrees * 3.14159265358979323846 / 180);
}

static struct sun_site site_of(const struct table_row *row)
{
	return (struct sun_site){row_number(row, "lat"), row_number(row, "lon")};
}

static struct sun_position position_of(const struct table_row *row, double minute)
{
	struct sun_site site = site_of(row);
	struct fault why = {0};
	struct sun_position sun;

	check_ok(sun_position(&site, day_of(row_text(row, "day")), minute, &sun, &why), &why);
	return sun;
}

/* How far apart on the sky two azimuths are. */
static double apart(const struct sun_position *sun, double azimuth_deg)
{
	return remainder(sun->azimuth_deg - azimuth_deg, 360) * cosine(sun->altitude_deg);
}

/* The event nearest to a minute of the row's day: that of the day itself or of one beside it. */
static double nearest(const struct table_row *row, const char *what, double minute)
{
	struct sun_site site = site_of(row);
	struct date day = day_of(row_text(row, "day"));
	double best = INFINITY;
	bool noon = strcmp(what, "noon") == 0, rise = strcmp(what, "rise") == 0;

	if (!noon && !rise)
		check_text(what, "set", "what");
	for (int32_t by = -1; by <= 1; by++) {
		struct fault why = {0};
		struct sun_day sun;
		check_ok(sun_of_day(&site, date_add_days(day, by), &sun, &why), &why);
		if (!noon && !(rise ? sun.rises : sun.sets))
			continue;
		double at = (noon ? sun.noon_min : rise ? sun.rise_min : sun.set_min) + 1440 * by;
		if (fabs(at - minute) < fabs(best - minute))
			best = at;
	}
	return best;
}

static void published_row(const struct table_row *row)
{
	const char *what = row_text(row, "what");
	double expected = row_number(row, "expected");
	double tolerance = row_number(row, "tolerance");

	if (row_text(row, "minute")[0] == '\0') {
		check_close(nearest(row, what, expected), expected, tolerance, what);
		return;
	}
	struct sun_position sun = position_of(row, row_number(row, "minute"));
	if (strcmp(what, "azimuth") == 0)
		check_close(apart(&sun, expected), 0, tolerance, what);
	else if (strcmp(what, "apparent") == 0)
		check_close(sun.apparent_deg, expected, tolerance, what);
	else if (strcmp(what, "declination") == 0)
		check_close(sun.declination_deg, expected, tolerance, what);
	else if (strcmp(what, "ascension") == 0)
		check_close(sun.ascension_deg, expected, tolerance, what);
	else
		fail_msg("no figure %s", what);
}

/* --- the sweep --- */

static bool is_given(const struct table_row *row, const char *heading)
{
	return row_text(row, heading)[0] != '\0';
}

/* Below 60 degrees of latitude by the minute; above it by where the sun then stands. */
static void check_event(const struct table_row *row, const char *what, bool happens, double got_min)
{
	const double close_min = 1, close_deg = 0.05;
	bool low = fabs(row_number(row, "lat")) < 60;

	if (!is_given(row, what)) {
		assert_false(low); /* it rises and sets there */
		return;
	}
	double want_min = row_number(row, what);
	if (low) {
		assert_true(happens);
		check_close(got_min, want_min, close_min, what);
	} else {
		check_close(position_of(row, want_min).altitude_deg, edge_deg, close_deg, what);
	}
}

/* Where neither library has an event, none is told but on the days between, where the sun just
 * touches the horizon. */
static void check_absent(const struct table_row *row, const char *what, bool happens, double minute)
{
	const double touch_deg = 0.1;

	if (!happens || is_given(row, what))
		return;
	struct sun_day day;
	struct sun_site site = site_of(row);
	check_ok(sun_of_day(&site, day_of(row_text(row, "day")), &day, NULL), NULL);
	double low_deg =
		position_of(row, day.noon_min + (minute > day.noon_min ? 720 : -720)).altitude_deg;
	bool grazes = fabs(low_deg - edge_deg) < touch_deg ||
		      fabs(day.noon_altitude_deg - edge_deg) < touch_deg;
	assert_true(grazes);
}

static void check_day(const struct table_row *row)
{
	struct sun_site site = site_of(row);
	struct fault why = {0};
	struct sun_day sun;

	check_ok(sun_of_day(&site, day_of(row_text(row, "day")), &sun, &why), &why);
	check_close(sun.noon_min, row_number(row, "noon"), 0.5, "noon");
	check_event(row, "rise", sun.rises, sun.rise_min);
	check_event(row, "set", sun.sets, sun.set_min);
	check_absent(row, "rise", sun.rises, sun.rise_min);
	check_absent(row, "set", sun.sets, sun.set_min);
}

static void ephem_row(const struct table_row *row)
{
	const double close_deg = 0.05;
	struct sun_position sun = position_of(row, row_number(row, "minute"));

	check_close(apart(&sun, row_number(row, "azimuth")), 0, close_deg, "azimuth");
	check_close(sun.altitude_deg, row_number(row, "altitude"), close_deg, "altitude");
	check_day(row);
}

static void suncalc_row(const struct table_row *row)
{
	const double close_deg = 0.08; /* what it promises itself */
	struct sun_position sun = position_of(row, row_number(row, "minute"));

	check_close(apart(&sun, row_number(row, "azimuth")), 0, close_deg, "azimuth");
	if (is_given(row, "altitude"))
		check_close(sun.apparent_deg, row_number(row, "altitude"), close_deg, "altitude");
	check_day(row);
}

int main(void)
{
	static const struct {
		const char *group, *path;
		int least;
		void (*run)(const struct table_row *row);
	} tables[] = {
		{"published", "tests/outside/sun.tsv", 50, published_row},
		{"ephem", "tests/outside/sun-ephem.tsv", 2000, ephem_row},
		{"suncalc", "tests/outside/sun-suncalc.tsv", 2000, suncalc_row},
	};
	int failed = 0;

	for (size_t at = 0; at < sizeof tables / sizeof *tables; at++) {
		struct table *table = outside_open(tables[at].path);
		if (table->count < tables[at].least) {
			fprintf(stderr, "%s: only %d rows\n", tables[at].path, table->count);
			failed++;
		}
		failed += run_rows(tables[at].group, table, tables[at].run);
		table_free(table);
	}
	return failed != 0;
}
