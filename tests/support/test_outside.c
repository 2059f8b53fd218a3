/* SPDX-License-Identifier: MIT */
/* The tables of tests/outside as a whole: each is listed here with the test that runs its rows, has
 * no fewer rows than it had, and no name twice; a row that is lost is missed, and so is a table
 * that nobody reads. */
#include "support/test.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

struct outside {
	const char *name;
	const char *reader; /* under tests/ */
	const char *calls;  /* what the reader calls it by */
	int least;          /* rows; raise it when rows are added */
	bool reckoned;      /* a figure of reckon or core, with a tolerance */
};

/* clang-format off */
static const struct outside outsides[] = {
	{"almanac-subtropical.tsv", "almanac/test_facts_agree.c",     "almanac-",                1187, false},
	{"almanac-temperate.tsv",   "almanac/test_facts_agree.c",     "almanac-",                1396, false},
	{"almanac.tsv",             "almanac/test_outside.c",         "almanac.tsv",             1057, false},
	{"calendar.tsv",            "core/test_date.c",               "calendar.tsv",              40, false},
	{"chill.tsv",               "reckon/test_weather_outside.c",  "chill.tsv",                 49, true},
	{"crop_coefficients.tsv",   "reckon/test_weather_outside.c",  "crop_coefficients.tsv",    222, true},
	{"cultivars.tsv",           "almanac/test_cultivars.c",       "cultivars.tsv",            865, false},
	{"degree_days.tsv",         "reckon/test_weather_outside.c",  "degree_days.tsv",           85, true},
	{"edtf.tsv",                "core/test_edtf.c",               "edtf.tsv",                  50, false},
	{"evapotranspiration.tsv",  "reckon/test_weather_outside.c",  "evapotranspiration.tsv",     8, true},
	{"fertiliser.tsv",          "reckon/test_outside.c",          "fertiliser.tsv",            44, true},
	{"frost.tsv",               "reckon/test_weather_outside.c",  "frost.tsv",                113, true},
	{"lonlat.tsv",              "reckon/test_lonlat.c",           "lonlat.tsv",                36, false},
	{"partners.tsv",            "reckon/test_partner.c",          "partners.tsv",              75, false},
	{"pests.tsv",               "almanac/test_pests.c",           "pests.tsv",                 90, false},
	{"statistics.tsv",          "reckon/test_outside.c",          "statistics.tsv",            90, true},
	{"sun-ephem.tsv",           "reckon/test_sun_outside.c",      "sun-ephem.tsv",           2000, false},
	{"sun-suncalc.tsv",         "reckon/test_sun_outside.c",      "sun-suncalc.tsv",         2000, false},
	{"sun.tsv",                 "reckon/test_sun_outside.c",      "sun.tsv",                   67, true},
	{"unicode.tsv",             "core/test_text_fold.c",          "unicode.tsv",               99, false},
	{"units.tsv",               "core/test_measure.c",            "units.tsv",                 28, true},
	{"volumes.tsv",             "reckon/test_volume.c",           "volumes.tsv",               25, true},
	{"water.tsv",               "reckon/test_weather_outside.c",  "water.tsv",                 58, true},
	{"yield_efficiency.tsv",    "reckon/test_outside.c",          "yield_efficiency.tsv",      16, true},
};
/* clang-format on */

enum { OUTSIDES = sizeof outsides / sizeof outsides[0] };

static struct table *open_table(const struct outside *outside)
{
	static char path[80];

	(void)snprintf(path, sizeof path, "tests/outside/%s", outside->name);
	return outside_open(path);
}

static void source_path(const char *name, char out[SCRATCH_PATH_SIZE])
{
	const char *top = getenv("BOUGHBOOK_SOURCE");

	(void)snprintf(out, SCRATCH_PATH_SIZE, "%s/tests/%s", top != NULL ? top : ".", name);
}

/* A name, a figure that is a number, and how near one has to come. */
static void check_figures(const struct table *table)
{
	for (int i = 0; i < table->count; i++) {
		const struct table_row *row = &table->rows[i];
		const char *name = row_text(row, "case");
		assert_true(name[0] != '\0');
		(void)row_number(row, "expected");
		assert_true(row_number(row, "tolerance") >= 0);
		for (int before = 0; before < i; before++)
			if (strcmp(row_text(&table->rows[before], "case"), name) == 0)
				fail_msg("%s:%d: %s is there twice", table->path, row->line, name);
	}
}

static void is_whole_and_read(const void *item)
{
	const struct outside *outside = item;
	char place[SCRATCH_PATH_SIZE];
	struct table *table = open_table(outside);

	print_message("%s: %d rows\n", outside->name, table->count);
	if (table->count < outside->least)
		fail_msg("%s: %d rows of %d", outside->name, table->count, outside->least);
	if (outside->reckoned)
		check_figures(table);
	table_free(table);
	source_path(outside->reader, place);
	char *text = file_read(place, NULL);
	check_has(text, outside->calls, outside->reader);
	free(text);
}

static void every_table_is_listed(void **state)
{
	char place[SCRATCH_PATH_SIZE];
	const struct dirent *entry;
	int32_t found = 0;

	(void)state;
	source_path("outside", place);
	DIR *directory = opendir(place);
	assert_non_null(directory);
	while ((entry = readdir(directory)) != NULL) {
		if (entry->d_name[0] == '.' || strcmp(entry->d_name, "README.md") == 0)
			continue;
		size_t at = 0;
		while (at < OUTSIDES && strcmp(outsides[at].name, entry->d_name) != 0)
			at++;
		if (at == OUTSIDES)
			print_error("tests/outside/%s is not listed in test_outside.c\n",
				entry->d_name);
		assert_true(at < OUTSIDES);
		found++;
	}
	(void)closedir(directory);
	check_int(found, OUTSIDES, "tables");
}

static void four_hundred_figures_are_reckoned(void **state)
{
	const int wanted = 400;
	int sum = 0;

	(void)state;
	for (size_t at = 0; at < OUTSIDES; at++) {
		if (!outsides[at].reckoned)
			continue;
		struct table *table = open_table(&outsides[at]);
		sum += table->count;
		table_free(table);
	}
	print_message("%d published figures\n", sum);
	assert_true(sum >= wanted);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_table_is_listed),
		cmocka_unit_test(four_hundred_figures_are_reckoned),
	};
	int failed = cmocka_run_group_tests_name("tables from outside", tests, NULL, NULL);

	failed += RUN_CASES("each table", outsides, is_whole_and_read);
	return failed != 0;
}
