/* SPDX-License-Identifier: MIT */
/* Values that others published for chill, heat, evapotranspiration, water and frost. */
#include "reckon/make.h"

#include "almanac/almanac.h"
#include "reckon/chill.h"
#include "reckon/frost.h"
#include "reckon/heat.h"
#include "reckon/water.h"

static struct almanac *almanac;
static struct table *orchard; /* hourly record */

static const double um_in_m = 1e6;
static const double m_in_ft = 0.3048;
static const double mm_in_inch = 25.4;
static const double m2_in_sqft = 0.09290304;
static const double litres_in_gal = 3.785411784;
static const double litres_in_cuft = 28.316846592;
static const double sqft_in_acre = 43560;

static const struct species *kind_of(const struct table_row *row)
{
	const struct species *species = almanac_species(almanac, row_text(row, "kind"));

	if (species == NULL)
		fail_msg("no kind %s", row_text(row, "kind"));
	return species;
}

/* --- chill --- */

static struct chill orchard_until(int32_t hour)
{
	struct chill chill = {0};

	for (int32_t i = 0; i < hour; i++)
		check_ok(chill_add_hour(&chill, row_number(&orchard->rows[i], "celsius"), NULL),
			NULL);
	check_int(chill.hours, hour, "hours");
	return chill;
}

static struct chill one_hour(double celsius)
{
	struct chill chill = {0};

	check_ok(chill_add_hour(&chill, celsius, NULL), NULL);
	return chill;
}

/* 1 January 1998 at 50.4 N, and the next minimum. */
static double evening_hour(int32_t hour)
{
	const struct extremes today = {5.1, 8.2};
	const struct extremes after = {5.0, 9.1};
	struct hours hours;

	check_ok(hourly_of_day(50.4, 1, NULL, &today, &after, &hours, NULL), NULL);
	assert_true(hour >= hours.from && hour < hours.to);
	return hours.celsius[hour];
}

/* 2 January 1998 there. */
static double morning_hour(int32_t hour)
{
	const struct extremes before = {5.1, 8.2};
	const struct extremes today = {5.0, 9.1};
	const struct extremes after = {3.3, 10.4};
	struct hours hours;

	check_ok(hourly_of_day(50.4, 2, &before, &today, &after, &hours, NULL), NULL);
	assert_true(hour >= hours.from && hour < hours.to);
	return hours.celsius[hour];
}

static double chill_value(const struct table_row *row, const char *what)
{
	double a = row_number(row, "a");
	int32_t hour = (int32_t)a;
	struct daylight light;
	double heat = 0;

	if (strcmp(what, "chilling-hours") == 0)
		return orchard_until(hour).chilling_hours;
	if (strcmp(what, "utah") == 0)
		return orchard_until(hour).utah;
	if (strcmp(what, "portions") == 0)
		return orchard_until(hour).portions;
	if (strcmp(what, "utah-hour") == 0)
		return one_hour(a).utah;
	if (strcmp(what, "chilling-hour") == 0)
		return one_hour(a).chilling_hours;
	if (strcmp(what, "evening") == 0)
		return evening_hour(hour);
	if (strcmp(what, "morning") == 0)
		return morning_hour(hour);
	if (strcmp(what, "heat-hour") == 0) {
		check_ok(heat_hour(a, &heat, NULL), NULL);
		return heat;
	}
	check_ok(hourly_daylight(a, (int32_t)row_int(row, "b"), &light, NULL), NULL);
	if (strcmp(what, "sunrise") == 0)
		return light.rise_h;
	if (strcmp(what, "sunset") == 0)
		return light.set_h;
	assert_string_equal(what, "day-length");
	return light.length_h;
}

static void chill_row(const struct table_row *row)
{
	check_close(chill_value(row, row_text(row, "what")), row_number(row, "expected"),
		row_number(row, "tolerance"), row_text(row, "case"));
}

/* --- degree-days --- */

static enum heat_method method_of(const char *word)
{
	static const char *const words[] = {
		[HEAT_AVERAGE] = "average",
		[HEAT_AVERAGE_LIFTED] = "lifted",
		[HEAT_TRIANGLE] = "triangle",
		[HEAT_SINE] = "sine",
	};

	for (int i = 0; i < 4; i++)
		if (strcmp(words[i], word) == 0)
			return (enum heat_method)i;
	fail_msg("no method %s", word);
	return HEAT_AVERAGE;
}

static void degree_row(const struct table_row *row)
{
	const char *word = row_text(row, "method");
	bool is_double = strncmp(word, "double-", 7) == 0;
	struct heat_limits limits = {.lower = row_number(row, "lower")};
	double min = row_number(row, "min");
	double max = row_number(row, "max");
	double got = 0;

	limits.has_upper = row_text(row, "upper")[0] != '\0';
	if (limits.has_upper)
		limits.upper = row_number(row, "upper");
	if (is_double)
		check_ok(heat_degree_days_double(method_of(word + 7), min, max,
				 row_number(row, "next_min"), &limits, &got, NULL),
			NULL);
	else
		check_ok(heat_degree_days(method_of(word), min, max, &limits, &got, NULL), NULL);
	check_close(got, row_number(row, "expected"), row_number(row, "tolerance"),
		row_text(row, "case"));
}

/* --- evapotranspiration --- */

static double solar_mj(const struct table_row *row, double radiation_mj)
{
	double out = 0;

	check_ok(water_solar_mj(
			 radiation_mj, row_number(row, "min"), row_number(row, "max"), &out, NULL),
		NULL);
	return out;
}

static double sun_value(const struct table_row *row, const char *what)
{
	struct water_sun sun;

	if (strcmp(what, "solar") == 0)
		return solar_mj(row, row_number(row, "a"));
	check_ok(water_sun_of_day(row_number(row, "a"), (int32_t)row_int(row, "b"), &sun, NULL),
		NULL);
	if (strcmp(what, "solar-of-day") == 0)
		return solar_mj(row, sun.radiation_mj);
	if (strcmp(what, "distance") == 0)
		return sun.distance;
	if (strcmp(what, "declination") == 0)
		return sun.declination_rad;
	if (strcmp(what, "sunset-angle") == 0)
		return sun.sunset_rad;
	if (strcmp(what, "radiation") == 0)
		return sun.radiation_mj;
	assert_string_equal(what, "daylight");
	return sun.daylight_h;
}

static void sun_row(const struct table_row *row)
{
	check_close(sun_value(row, row_text(row, "what")), row_number(row, "expected"),
		row_number(row, "tolerance"), row_text(row, "case"));
}

static double fact_value(const struct species *species, const char *key, bool highest)
{
	const struct fact_row *row = species_fact(species, key);

	assert_non_null(row);
	return (double)(highest ? row->high.value : row->low.value);
}

static double crop_value(const struct table_row *row, const char *what)
{
	const struct species *species = kind_of(row);

	if (strcmp(what, "root-low") == 0)
		return fact_value(species, "root-depth", false) / um_in_m;
	if (strcmp(what, "root-high") == 0)
		return fact_value(species, "root-depth", true) / um_in_m;
	if (strcmp(what, "depletion") == 0)
		return fact_value(species, "depletion", false) / 1000;
	bool covered = strcmp(row_text(row, "ground"), "cover") == 0;
	if (!covered)
		check_text(row_text(row, "ground"), "bare", "ground");
	struct water_ground ground = {
		.covered = covered,
		.killing_frost = row_int(row, "frost") != 0,
		.canopy_share = 0.5,
	};
	if (row_text(row, "canopy")[0] != '\0')
		ground.canopy_share = row_number(row, "canopy");
	struct water_kc kc = water_kc_of(species, &ground);
	assert_true(kc.known && !kc.stands_in);
	check_text(kc.source, "fao-56", "whose table it is");
	if (strcmp(what, "kc-early") == 0)
		return kc.early;
	if (strcmp(what, "kc-mid") == 0)
		return kc.mid;
	assert_string_equal(what, "kc-late");
	return kc.late;
}

static void crop_row(const struct table_row *row)
{
	check_close(crop_value(row, row_text(row, "what")), row_number(row, "expected"),
		row_number(row, "tolerance"), row_text(row, "case"));
}

/* --- water --- */

static double litres(double depth_mm, double area_m2, double efficiency)
{
	double out = 0;

	check_ok(water_litres(depth_mm, area_m2, efficiency, &out, NULL), NULL);
	return out;
}

static double rain_of_day_in(double inches)
{
	double out = 0;

	check_ok(water_rain_of_day_mm(inches * mm_in_inch, &out, NULL), NULL);
	return out / mm_in_inch;
}

/* "field-low:silty clay". */
static double soil_value(const char *what)
{
	const char *name = strchr(what, ':') + 1;
	const struct water_soil *soil = water_soil_named(name);

	assert_non_null(soil);
	const struct {
		const char *figure;
		double value;
	} figures[] = {{"field-low:", soil->field_low}, {"field-high:", soil->field_high},
		{"wilting-low:", soil->wilting_low}, {"wilting-high:", soil->wilting_high},
		{"sheet-low:", soil->sheet_low_in_ft}, {"sheet-high:", soil->sheet_high_in_ft}};
	for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++)
		if (strncmp(what, figures[i].figure, (size_t)(name - what)) == 0)
			return figures[i].value;
	fail_msg("no figure %s", what);
	return 0;
}

/* Soil under a crown of 314 sq ft, its available share, cubic feet used a day. */
static double soil_days(double soil_cuft, double share, double use_cuft)
{
	const double crown_sqft = 314;
	double use_mm = use_cuft / crown_sqft * m_in_ft * 1000;
	struct water_store store;
	struct water_days dry;

	check_ok(water_store_of(
			 share * 1000, soil_cuft / crown_sqft * m_in_ft, 0.5, 5, &store, NULL),
		NULL);
	store.ready_mm = store.total_mm; /* the table lets the tree draw all of it */
	check_ok(water_days_until_dry(&store, 0, use_mm, &dry, NULL), NULL);
	return dry.days;
}

static double water_value(const struct table_row *row, const char *what)
{
	double out = 0;

	if (strchr(what, ':') != NULL)
		return soil_value(what);
	double a = row_number(row, "a");
	if (strcmp(what, "canopy-sqft") == 0) {
		check_ok(water_canopy_m2(a * m_in_ft, &out, NULL), NULL);
		return out / m2_in_sqft;
	}
	if (strcmp(what, "rain-day-in") == 0)
		return rain_of_day_in(a);
	if (strcmp(what, "rain-month-mm") == 0) {
		check_ok(water_rain_of_month_mm(a, &out, NULL), NULL);
		return out;
	}
	double b = row_number(row, "b");
	if (strcmp(what, "rain-day-in-same") == 0)
		return rain_of_day_in(a) - rain_of_day_in(b);
	if (strcmp(what, "acre-inch-gal") == 0)
		return litres(b * mm_in_inch, a * sqft_in_acre * m2_in_sqft, 1) / litres_in_gal;
	if (strcmp(what, "gal-of-sqft-in") == 0)
		return litres(b * mm_in_inch, a * m2_in_sqft, row_number(row, "c")) / litres_in_gal;
	if (strcmp(what, "cuft-of-sqft-ft") == 0)
		return litres(b * 12 * mm_in_inch, a * m2_in_sqft, 1) / litres_in_cuft;
	assert_string_equal(what, "soil-days");
	return soil_days(a, b, row_number(row, "c"));
}

static void water_row(const struct table_row *row)
{
	check_close(water_value(row, row_text(row, "what")), row_number(row, "expected"),
		row_number(row, "tolerance"), row_text(row, "case"));
}

/* --- frost --- */

static double as_f(struct maybe_i32 decic)
{
	assert_true(decic.known);
	return decic.value * 0.18 + 32;
}

/* The figure, and that a night just as cold is told as the table says. */
static void frost_row(const struct table_row *row)
{
	struct frost_stage stages[FROST_STAGES_MAX];
	int32_t count = frost_stages(kind_of(row), stages);
	const struct frost_stage *stage = NULL;
	const char *what = row_text(row, "what");
	struct frost_loss loss;

	for (int32_t i = 0; i < count; i++)
		if (strcmp(stages[i].key, row_text(row, "stage")) == 0)
			stage = &stages[i];
	assert_non_null(stage);
	assert_true(stage->code_from <= stage->code_to);
	struct maybe_i32 decic = strcmp(what, "ten") == 0      ? stage->ten_decic
				 : strcmp(what, "ninety") == 0 ? stage->ninety_decic
							       : stage->half_decic;
	check_close(as_f(decic), row_number(row, "expected"), row_number(row, "tolerance"),
		row_text(row, "case"));
	if (strcmp(what, "ten") != 0 && strcmp(what, "ninety") != 0) {
		check_text(what, "half", "what");
		return;
	}
	check_ok(frost_loss_of_stage(stage, decic.value, &loss, NULL), NULL);
	check_int(loss.band,
		strcmp(what, "ninety") == 0 ? FROST_BELOW
		: stage->ninety_decic.known ? FROST_BETWEEN
					    : FROST_UNTOLD,
		"band");
	if (loss.has_point)
		check_close(loss.linear, strcmp(what, "ten") == 0 ? 0.1 : 0.9, 1e-9, "linear");
	check_ok(frost_loss_of_stage(stage, stage->ten_decic.value + 1, &loss, NULL), NULL);
	check_int(loss.band, FROST_ABOVE, "a tenth of a degree warmer");
}

int main(void)
{
	static const struct {
		const char *group, *path;
		void (*run)(const struct table_row *row);
	} tables[] = {
		{"chill", "tests/outside/chill.tsv", chill_row},
		{"degree-days", "tests/outside/degree_days.tsv", degree_row},
		{"evapotranspiration", "tests/outside/evapotranspiration.tsv", sun_row},
		{"crop coefficients", "tests/outside/crop_coefficients.tsv", crop_row},
		{"water", "tests/outside/water.tsv", water_row},
		{"frost", "tests/outside/frost.tsv", frost_row},
	};
	struct fault why = {0};
	int failed = 0;

	if (almanac_open("share/almanac", &almanac, &why) != STATUS_OK) {
		fprintf(stderr, "%s\n", why.text);
		return 1;
	}
	orchard = table_open("tests/data/hourly-walnut-100-hours.tsv");
	for (size_t at = 0; at < sizeof tables / sizeof *tables; at++) {
		struct table *table = outside_open(tables[at].path);
		failed += run_rows(tables[at].group, table, tables[at].run);
		table_free(table);
	}
	table_free(orchard);
	almanac_close(almanac);
	return failed != 0;
}
