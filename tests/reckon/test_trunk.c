/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/trunk.h"

static void a_tape_of_60_cm_is_a_trunk_of_7_and_a_half_inches(void **state)
{
	(void)state;
	int64_t diameter_um = trunk_diameter_of_girth_um(600000);
	check_int(diameter_um, 190986, "um");
	check_close((double)diameter_um / 25400, 7.52, 0.005, "inches");
	check_int(trunk_diameter_of_girth_um(0), 0, "nothing round");
	check_close(trunk_area_mm2(0), 0, 0, "no area");
	check_close(trunk_area_mm2(100000), 7853.981634, 1e-6, "100 mm across");
}

/* 8.3 and 20.6 in across: the thinnest and the thickest of the data set trees. */
static void the_areas_of_two_black_cherries(void **state)
{
	(void)state;
	const double mm2_in_sqin = 645.16;
	double thin_mm2 = trunk_area_mm2(210820);
	double thick_mm2 = trunk_area_mm2(523240);
	check_close(thin_mm2 / mm2_in_sqin, 54.1061, 6e-5, "sq in");
	check_close(thin_mm2 / 100, 349.0708, 6e-5, "cm2");
	check_close(thick_mm2 / mm2_in_sqin, 333.2916, 6e-5, "sq in");
	check_close(thick_mm2 / 100, 2150.264, 6e-4, "cm2");
}

/* --- five orange trees: girth in mm, d and area worked out by the formula --- */

struct orange_case {
	const char *name;
	int32_t girth_mm[7];
	double d_mm[7], tcsa_cm2[7];
};

/* clang-format off */
static const struct orange_case orange_cases[] = {
	{"tree 1", {30, 58, 87, 115, 120, 142, 145},
		{9.55, 18.46, 27.69, 36.61, 38.20, 45.20, 46.15},
		{0.716, 2.677, 6.023, 10.524, 11.459, 16.046, 16.731}},
	{"tree 2", {33, 69, 111, 156, 172, 203, 203},
		{10.50, 21.96, 35.33, 49.66, 54.75, 64.62, 64.62},
		{0.867, 3.789, 9.805, 19.366, 23.542, 32.793, 32.793}},
	{"tree 3", {30, 51, 75, 108, 115, 139, 140},
		{9.55, 16.23, 23.87, 34.38, 36.61, 44.25, 44.56},
		{0.716, 2.070, 4.476, 9.282, 10.524, 15.375, 15.597}},
	{"tree 4", {32, 62, 112, 167, 179, 209, 214},
		{10.19, 19.74, 35.65, 53.16, 56.98, 66.53, 68.12},
		{0.815, 3.059, 9.982, 22.193, 25.497, 34.760, 36.443}},
	{"tree 5", {30, 49, 81, 125, 142, 174, 177},
		{9.55, 15.60, 25.78, 39.79, 45.20, 55.39, 56.34},
		{0.716, 1.911, 5.221, 12.434, 16.046, 24.093, 24.931}},
};
/* clang-format on */

static void orange_case_run(const void *one)
{
	const struct orange_case *at = one;
	for (int32_t age = 0; age < 7; age++) {
		int64_t diameter_um = trunk_diameter_of_girth_um((int64_t)at->girth_mm[age] * 1000);
		check_close((double)diameter_um / 1000, at->d_mm[age], 0.00501, "d");
		check_close(trunk_area_mm2(diameter_um) / 100, at->tcsa_cm2[age], 0.001, "TCSA");
	}
}

static void a_longer_tape_is_never_a_thinner_trunk(void **state)
{
	(void)state;
	int64_t before = -1;
	for (int64_t girth_um = 0; girth_um < 6000000; girth_um += 997) {
		int64_t diameter_um = trunk_diameter_of_girth_um(girth_um);
		assert_true(diameter_um >= before);
		check_close((double)girth_um, (double)diameter_um * 3.14159265358979, 1.6, "back");
		before = diameter_um;
	}
}

/* --- readings --- */

static struct entry *measure(
	const char *id, const char *day, enum field field, int32_t stem, int64_t um)
{
	struct entry *entry = make_entry(KIND_MEASURE, day);
	struct stem_measure *row = arena_alloc(made(), sizeof *row);
	*row = (struct stem_measure){
		.stem = stem, .field = field, .low_um = um, .high_um = um, .word_given = true};
	snprintf(entry->id, sizeof entry->id, "%s", id);
	entry->stems = row;
	entry->stem_count = 1;
	return entry;
}

static void readings_come_in_day_order_and_girths_become_diameters(void **state)
{
	(void)state;
	struct entry *planned = measure("D", "2026-01-01", FIELD_DIAMETER, 1, 70000);
	planned->planned = true;
	struct entry *range = measure("E", "2025-01-05", FIELD_DIAMETER, 0, 60000);
	((struct stem_measure *)range->stems)->high_um = 62000;
	const struct entry *entries[] = {measure("A", "2025-03-01", FIELD_GIRTH, 1, 314159),
		measure("B", "2024-03-01", FIELD_DIAMETER, 1, 90000),
		measure("C", "2025-03-01", FIELD_HEIGHT, 0, 3000000), planned, range,
		measure("F", "", FIELD_DIAMETER, 1, 50000), make_entry(KIND_CUT, "2025-01-01"),
		measure("G", "2025-03-01", FIELD_DIAMETER, 1, 101000)};
	struct trunk_reading *readings;
	int32_t count =
		trunk_readings(entries, sizeof entries / sizeof *entries, made(), &readings);
	check_int(count, 4, "readings");
	static const char *const ids[] = {"B", "E", "A", "G"};
	static const int64_t um[] = {90000, 61000, 100000, 101000};
	for (int32_t at = 0; at < 4; at++) {
		check_text(readings[at].entry_id, ids[at], "order");
		check_int(readings[at].diameter_um, um[at], ids[at]);
		check_int(readings[at].stem, 1, "stem");
	}
	assert_true(readings[2].from_girth);
	check_int(trunk_at(readings, count, 0, day_of("2025-06-01")).diameter_um, 101000,
		"the later of one day");
	check_int(trunk_readings(NULL, 0, made(), &readings), 0, "none");
}

/* --- stems --- */

struct reading_part {
	int32_t stem;
	const char *day;
	int64_t mm;
};

struct stems_case {
	const char *name;
	struct reading_part parts[6];
	int32_t stem_count;
	const char *day;
	double mm; /* 0: no figure */
	const char *oldest;
	int32_t stems;
};

static const struct stems_case stems_cases[] = {
	{"never measured", {{0, NULL, 0}}, 0, "2026-01-01", 0, "", 0},
	{"one stem", {{1, "2025-05-01", 120}}, 0, "2026-01-01", 120, "2025-05-01", 1},
	{"measured later than the day", {{1, "2025-05-01", 120}}, 0, "2025-04-30", 0, "", 0},
	{"measured on the day", {{1, "2025-05-01", 120}}, 0, "2025-05-01", 120, "2025-05-01", 1},
	{"3 and 4", {{1, "2025-05-01", 30}, {2, "2025-05-01", 40}}, 0, "2026-01-01", 50,
		"2025-05-01", 2},
	{"3, 3 and 3", {{1, "2025-05-01", 30}, {2, "2025-05-01", 30}, {3, "2025-05-01", 30}}, 3,
		"2026-01-01", 51.96152, "2025-05-01", 3},
	{"10, 8 and 6", {{1, "2025-05-01", 100}, {2, "2025-05-01", 80}, {3, "2025-05-01", 60}}, 3,
		"2026-01-01", 141.42136, "2025-05-01", 3},
	{"90 days apart", {{1, "2025-01-01", 30}, {2, "2025-04-01", 40}}, 2, "2026-01-01", 50,
		"2025-01-01", 2},
	{"91 days apart", {{1, "2025-01-01", 30}, {2, "2025-04-02", 40}}, 2, "2026-01-01", 0, "",
		0},
	{"one stem missing", {{1, "2025-01-01", 30}, {2, "2025-01-01", 40}}, 3, "2026-01-01", 0, "",
		0},
	{"a gap in the numbers", {{1, "2025-01-01", 30}, {3, "2025-01-01", 40}}, 0, "2026-01-01", 0,
		"", 0},
	{"a newest stem alone leaves the last full set",
		{{1, "2023-01-01", 30}, {2, "2023-01-05", 40}, {1, "2025-01-01", 35}}, 2,
		"2026-01-01", 50, "2023-01-01", 2},
	{"a newer full set",
		{{1, "2023-01-01", 30}, {2, "2023-01-05", 40}, {1, "2025-01-01", 60},
			{2, "2025-02-01", 80}},
		2, "2026-01-01", 100, "2025-01-01", 2},
	{"the set as it was then",
		{{1, "2023-01-01", 30}, {2, "2023-01-05", 40}, {1, "2025-01-01", 60},
			{2, "2025-02-01", 80}},
		2, "2025-01-15", 50, "2023-01-01", 2},
	{"more stems than are known of", {{1, "2025-01-01", 30}, {2, "2025-01-01", 40}}, 1,
		"2026-01-01", 30, "2025-01-01", 1},
	{"too many stems", {{1, "2025-01-01", 30}}, 13, "2026-01-01", 0, "", 0},
};

static void stems_case_run(const void *one)
{
	const struct stems_case *at = one;
	struct trunk_reading readings[6];
	int32_t count = 0;
	for (; count < 6 && at->parts[count].day != NULL; count++)
		readings[count] = (struct trunk_reading){.stem = at->parts[count].stem,
			.day = day_of(at->parts[count].day),
			.diameter_um = at->parts[count].mm * 1000,
			.word_given = true,
			.entry_id = "ID"};
	struct trunk trunk = trunk_at(readings, count, at->stem_count, day_of(at->day));
	check_int(trunk.known, at->mm > 0, "known");
	if (!trunk.known)
		return;
	check_close((double)trunk.diameter_um / 1000, at->mm, 0.0006, "diameter");
	check_int(trunk.day.day, day_of(at->oldest).day, "oldest reading");
	check_int(trunk.stems, at->stems, "stems");
	for (int32_t stem = 0; stem < trunk.stems; stem++)
		assert_non_null(trunk.entry_ids[stem]);
}

static void two_stems_are_thicker_than_one_and_thinner_than_their_sum(void **state)
{
	(void)state;
	for (int64_t a_mm = 10; a_mm < 400; a_mm += 13) {
		for (int64_t b_mm = 10; b_mm < 400; b_mm += 11) {
			struct trunk_reading readings[2] = {{.stem = 1, .diameter_um = a_mm * 1000},
				{.stem = 2, .diameter_um = b_mm * 1000}};
			struct trunk trunk = trunk_at(readings, 2, 2, (struct date){0});
			assert_true(trunk.diameter_um > a_mm * 1000);
			assert_true(trunk.diameter_um > b_mm * 1000);
			assert_true(trunk.diameter_um < (a_mm + b_mm) * 1000);
			check_close(trunk_area_mm2(trunk.diameter_um),
				trunk_area_mm2(a_mm * 1000) + trunk_area_mm2(b_mm * 1000), 0.5,
				"areas add up");
		}
	}
}

static void a_height_is_kept_only_where_all_stems_agree(void **state)
{
	(void)state;
	struct trunk_reading readings[2] = {{.stem = 1,
						    .diameter_um = 30000,
						    .at_height_um = known_i64(300000),
						    .word_given = true},
		{.stem = 2, .diameter_um = 40000, .at_height_um = known_i64(300000)}};
	struct trunk trunk = trunk_at(readings, 2, 2, (struct date){0});
	check_int(trunk.at_height_um.value, 300000, "height");
	assert_false(trunk.word_given);
	check_int(trunk.unsaid_um, 40000, "the stem without a word");
	readings[1].at_height_um = known_i64(500000);
	assert_false(trunk_at(readings, 2, 2, (struct date){0}).at_height_um.known);
	readings[1].at_height_um.known = false;
	assert_false(trunk_at(readings, 2, 2, (struct date){0}).at_height_um.known);
}

struct doubt_case {
	const char *name;
	int64_t mm;
	struct maybe_i32 age;
	bool word;
	bool asked;
};

static const struct doubt_case doubt_cases[] = {
	{"60 cm on a tree of 4 years", 600, {4, true}, false, true},
	{"60 cm with a word", 600, {4, true}, true, false},
	{"140 mm at 4 years is the last that is not asked", 140, {4, true}, false, false},
	{"141 mm at 4 years", 141, {4, true}, false, true},
	{"40 mm in the first year", 40, {0, true}, false, false},
	{"41 mm in the first year", 41, {0, true}, false, true},
	{"600 mm of unknown age", 600, {0, false}, false, false},
	{"601 mm of unknown age", 601, {0, false}, false, true},
	{"601 mm of unknown age with a word", 601, {0, false}, true, false},
};

static void doubt_case_run(const void *one)
{
	const struct doubt_case *at = one;
	check_int(trunk_looks_like_girth(at->mm * 1000, at->age, at->word), at->asked, at->name);
	struct trunk_reading reading = {
		.stem = 1, .diameter_um = at->mm * 1000, .word_given = at->word};
	struct trunk trunk = trunk_at(&reading, 1, 1, (struct date){0});
	check_int(trunk_in_doubt(&trunk, at->age), at->asked, "the trunk");
}

static void many_sound_stems_together_are_not_doubted(void **state)
{
	(void)state;
	struct trunk_reading readings[4];
	for (int32_t at = 0; at < 4; at++)
		readings[at] = (struct trunk_reading){.stem = at + 1, .diameter_um = 130000};
	struct trunk trunk = trunk_at(readings, 4, 4, (struct date){0});
	check_int(trunk.diameter_um, 260000, "as one");
	assert_false(trunk_in_doubt(&trunk, known_i32(4)));
	struct trunk unknown = {.known = false};
	assert_false(trunk_in_doubt(&unknown, known_i32(4)));
}

/* --- growth --- */

static struct trunk_reading reading_at(int32_t after, int64_t um)
{
	return (struct trunk_reading){.stem = 1,
		.day = date_add_days(day_of("2010-01-01"), after),
		.diameter_um = um,
		.at_height_um = known_i64(300000)};
}

static struct trunk_growth growth_of(const struct trunk_reading *readings, int32_t count)
{
	return trunk_growth(readings, count, 0, day_of("2030-01-01"), made());
}

/* The orange trees 1 and 2; the medians of their 21 slopes worked out a second way. */
static void a_trunk_grows_by_the_median_of_its_slopes(void **state)
{
	static const int32_t ages[] = {118, 484, 664, 1004, 1231, 1372, 1582};
	static const double want[2][3] = {
		{9.211882, 1.660861, 18.730826}, {14.848462, 0.0, 27.127403}};
	(void)state;
	for (int32_t tree = 0; tree < 2; tree++) {
		struct trunk_reading readings[7];
		for (int32_t i = 0; i < 7; i++)
			readings[i] = reading_at(
				ages[i], trunk_diameter_of_girth_um(
						 (int64_t)orange_cases[tree].girth_mm[i] * 1000));
		const struct trunk_growth growth = growth_of(readings, 7);
		assert_true(growth.known);
		check_int(growth.days, 7, "measured");
		check_close(growth.um_a_year / 1000, want[tree][0], 0.002, "median");
		check_close(growth.least_um_a_year / 1000, want[tree][1], 0.002, "least");
		check_close(growth.most_um_a_year / 1000, want[tree][2], 0.002, "most");
	}
}

static void growth_needs_three_days_that_span_a_year_at_one_height(void **state)
{
	(void)state;
	struct trunk_reading readings[] = {reading_at(0, 100000), reading_at(180, 106000),
		reading_at(364, 110000), reading_at(365, 110000)};
	assert_false(growth_of(readings, 2).known);
	assert_false(growth_of(readings, 3).known);
	readings[2] = readings[3];
	assert_true(growth_of(readings, 3).known);
	readings[0].at_height_um = known_i64(1370000);
	assert_false(growth_of(readings, 3).known);
	readings[0] = reading_at(0, 130000);
	check_close(growth_of(readings, 3).um_a_year, 0, 1e-9, "it does not shrink");
	struct trunk_reading near[] = {
		reading_at(0, 100000), reading_at(89, 101000), reading_at(400, 110000)};
	assert_false(growth_of(near, 3).known);
}

static void a_trunk_is_carried_five_years_and_no_further(void **state)
{
	(void)state;
	const struct trunk_reading readings[] = {
		reading_at(0, 100000), reading_at(365, 112000), reading_at(730, 120000)};
	const struct trunk_growth growth = growth_of(readings, 3);
	const struct trunk trunk = trunk_at(readings, 3, 0, day_of("2030-01-01"));
	struct trunk_carried carried;
	assert_true(trunk_carry(&trunk, &growth, date_add_days(trunk.day, 730), &carried));
	check_close((double)carried.diameter_um, 140000, 20, "ten a year");
	check_close((double)carried.least_um, 136000, 20, "eight");
	check_close((double)carried.most_um, 144000, 20, "twelve");
	assert_false(trunk_carry(&trunk, &growth, trunk.day, &carried));
	assert_true(trunk_carry(&trunk, &growth, date_add_days(trunk.day, 1827), &carried));
	assert_false(trunk_carry(&trunk, &growth, date_add_days(trunk.day, 1828), &carried));
	const struct trunk_growth unknown = {.known = false};
	assert_false(trunk_carry(&trunk, &unknown, date_add_days(trunk.day, 730), &carried));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_tape_of_60_cm_is_a_trunk_of_7_and_a_half_inches),
		cmocka_unit_test(the_areas_of_two_black_cherries),
		cmocka_unit_test(a_longer_tape_is_never_a_thinner_trunk),
		cmocka_unit_test(readings_come_in_day_order_and_girths_become_diameters),
		cmocka_unit_test(two_stems_are_thicker_than_one_and_thinner_than_their_sum),
		cmocka_unit_test(a_height_is_kept_only_where_all_stems_agree),
		cmocka_unit_test(a_trunk_grows_by_the_median_of_its_slopes),
		cmocka_unit_test(growth_needs_three_days_that_span_a_year_at_one_height),
		cmocka_unit_test(a_trunk_is_carried_five_years_and_no_further),
		cmocka_unit_test(many_sound_stems_together_are_not_doubted),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("orange trees", orange_cases, orange_case_run);
	failed += RUN_CASES("stems", stems_cases, stems_case_run);
	failed += RUN_CASES("girth or diameter", doubt_cases, doubt_case_run);
	return failed != 0;
}
