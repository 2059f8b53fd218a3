/* SPDX-License-Identifier: MIT */
/* Values that others published, or reference programs gave, for the arithmetic of reckon. */
#include "reckon/make.h"

#include <stdlib.h>

#include "reckon/dose.h"
#include "reckon/yield.h"

static const double mg_in_lb = 453592.37;
static const double mg_in_oz = 28349.523125;
static const double um_in_ft = 304800;
static const double um_in_inch = 25400;
static const double mm2_in_sqft = 92903.04;

/* --- fertiliser --- */

static double as_lb(int64_t mg)
{
	return (double)mg / mg_in_lb;
}

static int32_t mpct(double percent)
{
	return (int32_t)round_i64(percent * 1000);
}

/* The dose by a rule in nitrogen, per inch of trunk or per year of age. */
static struct dose dose_by(const struct table_row *row, enum feed_basis basis, double unit_mg,
	const struct product *product)
{
	struct feed_row rule = {.rule = "rule",
		.region = "",
		.of_nitrogen = true,
		.rate_mg = round_i64(row_number(row, "b") * unit_mg),
		.basis = basis,
		.period = PERIOD_YEAR,
		.cap_mg = known_i64(round_i64(row_number(row, "cap") * unit_mg)),
		.cap_source = "its own",
		.condition = ""};
	struct species species = {.key = "apple", .feeds = &rule, .feed_count = 1};
	double times = row_number(row, "a");
	struct dose_inputs inputs = {.species = &species,
		.product = product,
		.age_years = known_i32((int32_t)times),
		.trunk = {.known = true,
			.diameter_um = round_i64(times * um_in_inch),
			.stems = 1,
			.word_given = true}};
	struct dose *doses;
	check_int(dose_rows(&inputs, made(), &doses), 1, "rows");
	check_int(doses[0].capped, times * row_number(row, "b") > row_number(row, "cap") * 1.0001,
		"capped");
	return doses[0];
}

static double ruled(const struct table_row *row, const char *what)
{
	const struct product product = {
		.name = "feed", .n_mpct = {mpct(row_number(row, "grade")), true}};
	const char *figure = strchr(what, '-');
	bool by_inch = strncmp(what, "inch-", 5) == 0;
	if (figure == NULL || (!by_inch && strncmp(what, "age-", 4) != 0))
		fail_msg("no figure %s", what);
	double unit_mg = by_inch ? mg_in_lb : mg_in_oz;
	struct dose dose =
		dose_by(row, by_inch ? FEED_PER_INCH : FEED_PER_AGE_YEAR, unit_mg, &product);
	if (strcmp(figure, "-nitrogen") == 0)
		return (double)dose.nitrogen_mg.value / unit_mg;
	if (strcmp(figure, "-bags") == 0)
		return (double)dose.product_mg.value / unit_mg / 40;
	check_text(figure, "-product", "what");
	return (double)dose.product_mg.value / unit_mg;
}

static double fertiliser_value(const struct table_row *row, const char *what)
{
	double a = row_number(row, "a");
	int64_t mg = round_i64(a * mg_in_lb);
	int64_t product_mg = 0;
	if (strcmp(what, "nutrient") == 0)
		return as_lb(dose_nitrogen_mg(mg, mpct(row_number(row, "b"))));
	if (strcmp(what, "product") == 0) {
		check_ok(dose_product_mg(mg, mpct(row_number(row, "b")), &product_mg, NULL), NULL);
		return as_lb(product_mg);
	}
	if (strcmp(what, "p-of-p2o5") == 0)
		return as_lb(dose_phosphorus_mg(mg));
	if (strcmp(what, "k-of-k2o") == 0)
		return as_lb(dose_potassium_mg(mg));
	if (strcmp(what, "p2o5-of-p") == 0)
		return a * (double)mg / (double)dose_phosphorus_mg(mg);
	if (strcmp(what, "k2o-of-k") == 0)
		return a * (double)mg / (double)dose_potassium_mg(mg);
	if (strcmp(what, "ring") == 0)
		return dose_ring_mm2(round_i64(a * um_in_ft),
			       round_i64(row_number(row, "b") * um_in_ft)) /
		       mm2_in_sqft;
	return ruled(row, what);
}

static void fertiliser_row(const struct table_row *row)
{
	check_close(fertiliser_value(row, row_text(row, "what")), row_number(row, "expected"),
		row_number(row, "tolerance"), row_text(row, "case"));
}

/* --- yield by trunk --- */

static void efficiency_row(const struct table_row *row)
{
	double mg_per_mm2 = 0;
	assert_true(yield_efficiency(round_i64(row_number(row, "yield_kg") * 1e6),
		row_number(row, "tcsa_cm2") * 100, &mg_per_mm2));
	check_close(mg_per_mm2 / 1e4, row_number(row, "expected"), row_number(row, "tolerance"),
		row_text(row, "case"));
}

/* --- series --- */

enum { VALUES_MAX = 2000, FIELDS_MAX = 12 };

struct series {
	int32_t count;
	double x[VALUES_MAX];
	double y[VALUES_MAX];
};

static struct table *short_series;

static int32_t read_numbers(const char *text, double *out)
{
	int32_t count = 0;
	char *end;
	for (double value = strtod(text, &end); end != text; value = strtod(text, &end)) {
		assert_true(count < VALUES_MAX);
		out[count++] = value;
		text = end;
	}
	return count;
}

/* Cuts a line of a plain CSV file (no quotes) at its commas. */
static int32_t cut_line(char *line, char *fields[FIELDS_MAX])
{
	int32_t count = 0;
	line[strcspn(line, "\r\n")] = '\0';
	for (char *at = line; at != NULL && count < FIELDS_MAX; count++) {
		fields[count] = at;
		at = strchr(at, ',');
		if (at != NULL)
			*at++ = '\0';
	}
	return count;
}

static int32_t column_named(char *const *fields, int32_t count, const char *name)
{
	for (int32_t at = 0; at < count; at++)
		if (strcmp(fields[at], name) == 0)
			return at;
	fail_msg("no column %s", name);
	return -1;
}

/* "FILE:column" or "FILE:column:filter=value" of tests/data; empty cells are missing. */
static void read_file_series(const char *name, struct series *series)
{
	char parts[4][64] = {"", "", "", ""};
	int got = sscanf(
		name, "%63[^:]:%63[^:]:%63[^=]=%63s", parts[0], parts[1], parts[2], parts[3]);
	assert_true(got == 2 || got == 4);
	char path[400], line[400];
	char *fields[FIELDS_MAX];
	const char *top = getenv("BOUGHBOOK_SOURCE");
	snprintf(path, sizeof path, "%s/tests/data/%s", top != NULL ? top : ".", parts[0]);
	FILE *file = fopen(path, "r");
	if (file == NULL)
		fail_msg("%s cannot be opened", path);
	assert_non_null(fgets(line, sizeof line, file));
	int32_t count = cut_line(line, fields);
	int32_t column = column_named(fields, count, parts[1]);
	int32_t filter = got == 4 ? column_named(fields, count, parts[2]) : -1;
	while (fgets(line, sizeof line, file) != NULL) {
		if (cut_line(line, fields) != count || fields[column][0] == '\0')
			continue;
		if (filter >= 0 && strcmp(fields[filter], parts[3]) != 0)
			continue;
		assert_true(series->count < VALUES_MAX);
		series->y[series->count++] = strtod(fields[column], NULL);
	}
	(void)fclose(file);
}

static void read_series(const char *name, struct series *series)
{
	series->count = 0;
	if (strchr(name, ':') != NULL) {
		read_file_series(name, series);
		return;
	}
	for (int32_t at = 0; at < short_series->count; at++) {
		const struct table_row *row = &short_series->rows[at];
		if (strcmp(row_text(row, "series"), name) != 0)
			continue;
		series->count = read_numbers(row_text(row, "y"), series->y);
		check_int(read_numbers(row_text(row, "x"), series->x), series->count, name);
		return;
	}
	fail_msg("no series %s", name);
}

static double statistic(const struct series *series, const char *what)
{
	struct yield_figures figures = yield_figures(series->y, series->count, made());
	if (strcmp(what, "sum") == 0)
		return figures.mean * figures.count;
	if (strcmp(what, "mean") == 0)
		return figures.mean;
	if (strcmp(what, "median") == 0)
		return figures.median;
	if (strcmp(what, "sd") == 0)
		return figures.sd;
	if (strcmp(what, "mad") == 0)
		return figures.mad;
	if (strcmp(what, "cv") == 0)
		return figures.cv_percent;
	struct yield_trend trend = yield_trend(series->x, series->y, series->count, made());
	if (strcmp(what, "slope") == 0)
		return trend.slope;
	if (strcmp(what, "pairs") == 0)
		return trend.pairs;
	if (strcmp(what, "joint") == 0)
		return trend.intercept_joint;
	if (strcmp(what, "separate") == 0)
		return trend.intercept_separate;
	fail_msg("no statistic %s", what);
	return 0;
}

static void statistics_row(const struct table_row *row)
{
	static struct series series;
	read_series(row_text(row, "series"), &series);
	assert_true(series.count > 0);
	check_close(statistic(&series, row_text(row, "what")), row_number(row, "expected"),
		row_number(row, "tolerance") + 1e-9, row_text(row, "case"));
}

int main(void)
{
	static const struct {
		const char *group, *path;
		void (*run)(const struct table_row *row);
	} tables[] = {
		{"fertiliser", "tests/outside/fertiliser.tsv", fertiliser_row},
		{"yield by trunk", "tests/outside/yield_efficiency.tsv", efficiency_row},
		{"statistics", "tests/outside/statistics.tsv", statistics_row},
	};
	int failed = 0;
	short_series = outside_open("tests/data/series.tsv");
	for (size_t at = 0; at < sizeof tables / sizeof *tables; at++) {
		struct table *table = outside_open(tables[at].path);
		failed += run_rows(tables[at].group, table, tables[at].run);
		table_free(table);
	}
	table_free(short_series);
	return failed != 0;
}
