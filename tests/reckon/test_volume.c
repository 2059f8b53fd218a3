/* SPDX-License-Identifier: MIT */
/* Volumes: published figures (tests/outside/volumes.tsv), figures worked out from the formulas,
 * what holds of any ring and pot, and what is refused. */
#include "reckon/volume.h"

#include <math.h>
#include <string.h>

#include "core/measure.h"
#include "support/test.h"

static const double m_in_ft = 0.3048;
static const double m_in_inch = 0.0254;
static const double m2_in_sqft = 0.09290304;
static const double l_in_cuft = 28.316846592;
static const double l_in_cuyd = 764.554857984;
static const double l_in_gal = 3.785411784;

static double ring_m2(double across_m, double bare_m)
{
	double out = 0;

	check_ok(volume_ring_m2(across_m, bare_m, &out, NULL), NULL);
	return out;
}

static double layer_l(double area_m2, double depth_m)
{
	double out = 0;

	check_ok(volume_layer_l(area_m2, depth_m, &out, NULL), NULL);
	return out;
}

static double cone_l(double top_m, double bottom_m, double height_m)
{
	double out = 0;

	check_ok(volume_cone_l(top_m, bottom_m, height_m, &out, NULL), NULL);
	return out;
}

static int64_t bags(double volume_l, double bag_l)
{
	int64_t out = 0;

	check_ok(volume_bags(volume_l, bag_l, &out, NULL), NULL);
	return out;
}

/* --- published --- */

static double pot_value(const struct table_row *row, const char *what)
{
	bool inches = strstr(what, "-of-in") != NULL;
	bool gallons = strncmp(what, "pot-gal-", 8) == 0;
	char read[24];
	double unit_m = inches ? m_in_inch : 0.001;
	double litres = cone_l(row_number(row, "a") * unit_m, row_number(row, "b") * unit_m,
		row_number(row, "c") * unit_m);

	snprintf(read, sizeof read, "pot-%s-of-%s", gallons ? "gal" : "l", inches ? "in" : "mm");
	check_text(what, read, "what");
	return gallons ? litres / l_in_gal : litres;
}

static double value_of(const struct table_row *row, const char *what)
{
	double a = row_number(row, "a");
	double b = row_number(row, "b");

	if (strncmp(what, "pot-", 4) == 0)
		return pot_value(row, what);
	if (strcmp(what, "cone") == 0)
		return cone_l(a, b, row_number(row, "c")) / 1000;
	if (strcmp(what, "ring-sqft-of-radii-ft") == 0)
		return ring_m2(2 * a * m_in_ft, b * m_in_ft) / m2_in_sqft;
	if (strcmp(what, "disc-cuyd-of-radius-in") == 0)
		return layer_l(ring_m2(2 * a * m_in_inch, 0), b * m_in_inch) / l_in_cuyd;
	double litres = layer_l(a * m2_in_sqft, b * m_in_inch);
	if (strcmp(what, "bags-of-sqft-in") == 0)
		return (double)bags(litres, row_number(row, "c") * l_in_cuft);
	if (strcmp(what, "layer-cuyd-of-sqft-in") == 0)
		return litres / l_in_cuyd;
	assert_string_equal(what, "layer-cuft-of-sqft-in");
	return litres / l_in_cuft;
}

static void volume_row(const struct table_row *row)
{
	check_close(value_of(row, row_text(row, "what")), row_number(row, "expected"),
		row_number(row, "tolerance"), row_text(row, "case"));
}

/* --- worked out from the formulas --- */

static void a_ring_six_feet_across_three_inches_deep(void **state)
{
	double litres = layer_l(ring_m2(6 * m_in_ft, 0.5 * m_in_ft), 3 * m_in_inch);

	(void)state;
	check_close(litres / l_in_cuft, 6.8722, 6e-5, "cubic feet");
	check_close(litres / l_in_cuyd, 0.2545, 6e-5, "cubic yards");
	check_close(litres, 194.60, 6e-3, "litres");
	check_int(bags(litres, 2 * l_in_cuft), 4, "bags of 2 cu ft");
	check_int(bags(litres, 50), 4, "bags of 50 l");
	check_close(layer_l(ring_m2(2, 0.15), 0.075), 230.318, 6e-4, "2 m, 15 cm, 7.5 cm");
}

static void what_goes_back_into_a_hole(void **state)
{
	double hole_l = cone_l(36 * m_in_inch, 36 * m_in_inch, 12 * m_in_inch);
	double ball_l = cone_l(12 * m_in_inch, 10 * m_in_inch, 12 * m_in_inch);
	double fill_l = 0;

	(void)state;
	check_ok(volume_backfill_l(hole_l, ball_l, &fill_l, NULL), NULL);
	check_close(hole_l / l_in_cuft, 7.0686, 6e-5, "hole");
	check_close(ball_l / l_in_cuft, 0.6618, 6e-5, "ball");
	check_close(fill_l / l_in_cuft, 6.4068, 6e-5, "backfill");
	check_ok(volume_backfill_l(ball_l, ball_l, &fill_l, NULL), NULL);
	check_close(fill_l, 0, 0, "a ball that fills its hole leaves no room");
}

static void bags_are_whole_and_rounding_buys_none(void **state)
{
	(void)state;
	check_int(bags(4 * l_in_cuft, l_in_cuft), 4, "exact");
	check_int(bags(4.0000001, 1), 4, "rounding");
	check_int(bags(4.001, 1), 5, "a little more");
	check_int(bags(0.2, 50), 1, "part of a bag is a bag");
}

/* --- what holds of any --- */

static void rings_add_up_and_grow(void **state)
{
	(void)state;
	for (int step = 0; step < 16; step++) {
		double across_m = 1 + 0.7 * step;
		double whole_m2 = ring_m2(across_m, 0.1);
		/* cut in two at a third of the way out */
		double cut_m = 0.1 + (across_m / 2 - 0.1) / 3;
		check_close(ring_m2(2 * cut_m, 0.1) + ring_m2(across_m, cut_m), whole_m2,
			1e-12 * whole_m2, "two rings");
		assert_true(ring_m2(across_m + 0.1, 0.1) > whole_m2);
		assert_true(ring_m2(across_m, 0.2) < whole_m2);
		check_close(layer_l(whole_m2, 0.03) + layer_l(whole_m2, 0.05),
			layer_l(whole_m2, 0.08), 1e-9, "two layers");
	}
}

static void a_cone_cut_level_adds_up(void **state)
{
	(void)state;
	for (int step = 1; step < 9; step++) {
		double top_m = 0.1 * step;
		const double bottom_m = 0.3, height_m = 0.4;
		double middle_m = top_m + (bottom_m - top_m) / 4;
		double whole_l = cone_l(top_m, bottom_m, height_m);
		check_close(cone_l(top_m, middle_m, height_m / 4) +
				    cone_l(middle_m, bottom_m, height_m * 3 / 4),
			whole_l, 1e-12 * whole_l, "two parts");
		check_close(cone_l(bottom_m, top_m, height_m), whole_l, 0, "upside down");
		assert_true(cone_l(top_m + 0.01, bottom_m, height_m) > whole_l);
		assert_true(cone_l(top_m, bottom_m, height_m + 0.01) > whole_l);
	}
	check_close(cone_l(0.3, 0.3, 0.4), layer_l(ring_m2(0.3, 0), 0.4), 1e-12, "a cylinder");
	check_close(cone_l(0.3, 0, 0.4), cone_l(0.3, 0.3, 0.4) / 3, 1e-12, "a cone to its point");
}

/* Litres, cubic feet, cubic yards, gallons: there and back. */
static void units_come_back(void **state)
{
	static const double units_l[] = {
		28.316846592, 764.554857984, 3.785411784, 4.54609, 0.0295735295625, 35.23907016688};

	(void)state;
	for (size_t i = 0; i < sizeof units_l / sizeof units_l[0]; i++)
		for (int power = -3; power < 8; power++) {
			double litres = 7 * pow(10, power);
			check_close(litres / units_l[i] * units_l[i] / litres, 1, 1e-12, "back");
		}
}

/* --- refused --- */

static void rings_that_cannot_be_are_refused(void **state)
{
	struct fault why = {0};
	double out = -1;

	(void)state;
	check_refused(volume_ring_m2(NAN, 0, &out, &why), STATUS_RANGE, &why, "outside");
	check_refused(volume_ring_m2(-1, 0, &out, &why), STATUS_RANGE, &why, "outside");
	check_refused(volume_ring_m2(1, -0.1, &out, &why), STATUS_RANGE, &why, "bare ground");
	check_refused(volume_ring_m2(1, NAN, &out, &why), STATUS_RANGE, &why, "bare ground");
	check_refused(volume_ring_m2(0, 0, &out, &why), STATUS_RANGE, &why, "leaves nothing");
	check_refused(volume_ring_m2(1, 0.5, &out, &why), STATUS_RANGE, &why, "leaves nothing");
	check_refused(volume_ring_m2(INFINITY, 0, &out, &why), STATUS_RANGE, &why, "outside");
	check_refused(volume_layer_l(0, 1, &out, &why), STATUS_RANGE, &why, "area");
	check_refused(volume_layer_l(NAN, 1, &out, &why), STATUS_RANGE, &why, "area");
	check_refused(volume_layer_l(1, 0, &out, &why), STATUS_RANGE, &why, "no depth");
	check_refused(volume_layer_l(1, -1, &out, &why), STATUS_RANGE, &why, "depth");
	check_close(out, -1, 0, "untouched");
}

static void pots_holes_and_bags_that_cannot_be_are_refused(void **state)
{
	struct fault why = {0};
	double out = -1;
	int64_t count = -1;

	(void)state;
	check_refused(volume_cone_l(NAN, 1, 1, &out, &why), STATUS_RANGE, &why, "top");
	check_refused(volume_cone_l(1, -1, 1, &out, &why), STATUS_RANGE, &why, "bottom");
	check_refused(volume_cone_l(1, 1, 2000, &out, &why), STATUS_RANGE, &why, "height");
	check_refused(volume_cone_l(0, 0, 1, &out, &why), STATUS_RANGE, &why, "holds nothing");
	check_refused(volume_cone_l(1, 1, 0, &out, &why), STATUS_RANGE, &why, "holds nothing");
	check_refused(volume_backfill_l(1, 2, &out, &why), STATUS_RANGE, &why, "does not go into");
	check_refused(volume_backfill_l(NAN, 2, &out, &why), STATUS_RANGE, &why, "hole");
	check_refused(volume_backfill_l(3, 0, &out, &why), STATUS_RANGE, &why, "ball");
	check_refused(volume_bags(0, 2, &count, &why), STATUS_RANGE, &why, "above 0");
	check_refused(volume_bags(2, 0, &count, &why), STATUS_RANGE, &why, "a bag");
	check_refused(volume_bags(2, NAN, &count, &why), STATUS_RANGE, &why, "a bag");
	check_refused(volume_bags(1e9, 1e-12, &count, &why), STATUS_RANGE, &why, "too many");
	check_close(out, -1, 0, "untouched");
	check_int(count, -1, "untouched");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_ring_six_feet_across_three_inches_deep),
		cmocka_unit_test(what_goes_back_into_a_hole),
		cmocka_unit_test(bags_are_whole_and_rounding_buys_none),
		cmocka_unit_test(rings_add_up_and_grow),
		cmocka_unit_test(a_cone_cut_level_adds_up),
		cmocka_unit_test(units_come_back),
		cmocka_unit_test(rings_that_cannot_be_are_refused),
		cmocka_unit_test(pots_holes_and_bags_that_cannot_be_are_refused),
	};
	struct table *table = outside_open("tests/outside/volumes.tsv");
	int failed = run_rows("published volumes", table, volume_row);

	table_free(table);
	return failed + cmocka_run_group_tests_name("volumes", tests, NULL, NULL) != 0;
}
