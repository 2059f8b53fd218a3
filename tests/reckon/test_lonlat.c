/* SPDX-License-Identifier: MIT */
/* Metres as degrees, against a library of geodesics. */
#include "reckon/lonlat.h"

#include <math.h>

#include "support/test.h"

static const double degree_m = 111320.0; /* of a great circle, near enough to compare by */

static void row_agrees(const struct table_row *row)
{
	struct lonlat found;
	struct fault why = {0};
	const double latitude = row_number(row, "latitude_deg");

	check_ok(lonlat_of((int32_t)row_int(row, "latitude_udeg"),
			 (int32_t)row_int(row, "longitude_udeg"),
			 (int64_t)llround(row_number(row, "east_m") * 1e6),
			 (int64_t)llround(row_number(row, "north_m") * 1e6), &found, &why),
		&why);
	const double east = (found.longitude_deg - row_number(row, "longitude_deg")) * degree_m *
			    cos(latitude * 3.14159265358979323846 / 180.0);
	const double north = (found.latitude_deg - latitude) * degree_m;
	check_close(hypot(east, north), 0.0, row_number(row, "tolerance_m"), "metres apart");
}

static void what_is_no_plane_is_refused(void **state)
{
	struct lonlat found = {1, 2};
	struct fault why = {0};
	(void)state;

	check_refused(lonlat_of(38000000, 0, LONLAT_FAR_UM + 1, 0, &found, &why), STATUS_RANGE,
		&why, "10 km");
	check_refused(lonlat_of(38000000, 0, 0, -LONLAT_FAR_UM - 1, &found, &why), STATUS_RANGE,
		&why, "10 km");
	check_refused(lonlat_of(89000001, 0, 0, 0, &found, &why), STATUS_RANGE, &why, "pole");
	check_refused(lonlat_of(-89500000, 0, 0, 0, &found, &why), STATUS_RANGE, &why, "pole");
	check_refused(lonlat_of(0, 179999900, 100000000, 0, &found, &why), STATUS_RANGE, &why,
		"180 degrees");
	check_refused(lonlat_of(0, -179999900, -100000000, 0, &found, &why), STATUS_RANGE, &why,
		"180 degrees");
	check_close(found.longitude_deg, 1, 0, "left as it was");
	check_ok(lonlat_of(38000000, 0, LONLAT_FAR_UM, -LONLAT_FAR_UM, &found, &why), &why);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_is_no_plane_is_refused),
	};
	struct table *table = outside_open("tests/outside/lonlat.tsv");
	int failed = run_rows("lonlat.tsv", table, row_agrees);
	failed += cmocka_run_group_tests(tests, NULL, NULL);
	table_free(table);
	return failed != 0;
}
