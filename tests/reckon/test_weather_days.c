/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/weather_days.h"

static struct weather_day stored(const char *day, const char *station, int32_t min, int32_t max)
{
	struct weather_day one = {
		.day = day_of(day), .min_decic = known_i32(min), .max_decic = known_i32(max)};

	snprintf(one.station, sizeof one.station, "%s", station);
	return one;
}

static struct entry *line(const char *day, const char *word, int64_t decic)
{
	struct entry *entry = with_detail(make_entry(KIND_WEATHER, day), FIELD_WEATHER, word);

	if (decic != 999)
		with_amount(entry, exactly(DIMENSION_TEMPERATURE, FIELD_TEMPERATURE, decic));
	return entry;
}

static struct entry *rain(const char *day, int64_t mm)
{
	return with_amount(
		line(day, "rain", 999), exactly(DIMENSION_LENGTH, FIELD_DEPTH, mm * 1000));
}

static int32_t join(const struct weather_day *days, int32_t day_count, struct entry **entries,
	int32_t entry_count, struct day_weather **out)
{
	const struct weather_sources sources = {.stored = days,
		.stored_count = day_count,
		.entries = (const struct entry *const *)entries,
		.entry_count = entry_count};

	return weather_days_join(&sources, made(), out);
}

static void nothing_gives_nothing(void **state)
{
	struct day_weather *days = NULL;

	(void)state;
	check_int(join(NULL, 0, NULL, 0, &days), 0, "rows");
	assert_null(weather_days_find(days, 0, day_of("2026-01-01")));
}

static void lines_and_stations_make_one_list_by_day(void **state)
{
	struct weather_day file[] = {
		stored("2026-03-01", "hill", 10, 120), stored("2026-03-03", "hill", 20, 130)};
	struct entry *lines[] = {rain("2026-03-04", 13), line("2026-03-02", "frost", -20)};
	struct day_weather *days = NULL;

	(void)state;
	check_int(join(file, 2, lines, 2, &days), 4, "rows");
	for (int32_t i = 0; i < 4; i++)
		check_int(days[i].day.day, day_of("2026-03-01").day + i, "day");
	check_int(days[1].min_decic.value, -20, "the frost line");
	assert_true(days[1].frost && !days[1].max_decic.known && !days[1].rain_um.known);
	assert_ptr_equal(days[1].min_entry, lines[1]);
	check_int(days[3].rain_um.value, 13000, "the rain line");
	check_text(days[0].station, "hill", "station");
	check_text(days[1].station, "", "none");
	assert_ptr_equal(weather_days_find(days, 4, day_of("2026-03-03")), &days[2]);
	assert_null(weather_days_find(days, 4, day_of("2026-03-05")));
}

static void the_grower_s_own_thermometer_stands_before_a_station(void **state)
{
	struct weather_day file[] = {stored("2026-03-01", "hill", 10, 120)};
	struct entry *lines[] = {line("2026-03-01", "frost", -15)};
	struct day_weather *days = NULL;

	(void)state;
	check_int(join(file, 1, lines, 1, &days), 1, "one day");
	check_int(days[0].min_decic.value, -15, "own minimum");
	check_int(days[0].max_decic.value, 120, "the station's maximum");
}

static void a_frost_without_a_figure_leaves_the_station_s(void **state)
{
	struct weather_day file[] = {stored("2026-03-01", "hill", 10, 120)};
	struct entry *lines[] = {line("2026-03-01", "frost", 999)};
	struct day_weather *days = NULL;

	(void)state;
	check_int(join(file, 1, lines, 1, &days), 1, "one day");
	check_int(days[0].min_decic.value, 10, "minimum");
	assert_true(days[0].frost);
	assert_null(days[0].min_entry);
}

static void of_two_stations_the_first_by_name_that_has_it(void **state)
{
	struct weather_day file[] = {
		stored("2026-03-01", "valley", -30, 100), stored("2026-03-01", "hill", 10, 120)};
	struct day_weather *days = NULL;

	(void)state;
	file[1].min_decic.known = false;
	check_int(join(file, 2, NULL, 0, &days), 1, "one day");
	check_int(days[0].min_decic.value, -30, "only the valley has it");
	check_int(days[0].max_decic.value, 120, "the hill comes first");
}

static void forecasts_plans_and_loose_days_are_passed_over(void **state)
{
	struct weather_day file[] = {stored("2026-03-01", "hill", 10, 120)};
	struct entry *lines[] = {line("2026-03-02", "frost", -20), line("2026-03", "frost", -20),
		make_entry(KIND_WATER, "2026-03-04"), line("", "frost", -20)};
	struct day_weather *days = NULL;

	(void)state;
	file[0].forecast = true;
	lines[0]->planned = true;
	check_int(join(file, 1, lines, 4, &days), 0, "rows");
}

static void lines_of_one_day_add_up(void **state)
{
	struct entry *lines[] = {rain("2026-03-01", 5), rain("2026-03-01", 8),
		line("2026-03-01", "frost", -10), line("2026-03-01", "frost", -25),
		line("2026-03-01", "hail", 999), line("2026-03-01", "heat", 310),
		line("2026-03-01", "heat", 340), line("2026-03-01", "wind", 999)};
	struct day_weather *days = NULL;

	(void)state;
	check_int(join(NULL, 0, lines, 8, &days), 1, "one day");
	check_int(days[0].rain_um.value, 13000, "rain adds up");
	check_int(days[0].min_decic.value, -25, "the colder frost");
	check_int(days[0].max_decic.value, 340, "the hotter heat");
	assert_true(days[0].hail && days[0].storm && days[0].heat && days[0].rain);
}

static void a_range_gives_its_colder_end(void **state)
{
	struct entry *lines[] = {line("2026-03-01", "frost", 999)};
	struct amount range = exactly(DIMENSION_TEMPERATURE, FIELD_TEMPERATURE, -30);
	struct day_weather *days = NULL;

	(void)state;
	range.high = known_i64(-10);
	with_amount(lines[0], range);
	check_int(join(NULL, 0, lines, 1, &days), 1, "one day");
	check_int(days[0].min_decic.value, -30, "minimum");
}

static void a_temperature_with_rain_is_neither(void **state)
{
	struct entry *lines[] = {line("2026-03-01", "rain", 80), line("2026-03-02", "wind", 80)};
	struct day_weather *days = NULL;

	(void)state;
	check_int(join(NULL, 0, lines, 2, &days), 2, "days");
	for (int32_t i = 0; i < 2; i++)
		assert_true(!days[i].min_decic.known && !days[i].max_decic.known);
	assert_false(days[0].rain_um.known); /* rain without a depth is not none */
}

static void days_that_cannot_be_are_named(void **state)
{
	struct day_weather days[3] = {
		{.day = day_of("2026-03-01"), .min_decic = {10, true}, .max_decic = {120, true}},
		{.day = day_of("2026-03-02"), .min_decic = {130, true}, .max_decic = {120, true}},
		{.day = day_of("2026-03-03"), .min_decic = {10, true}, .max_decic = {120, true}},
	};
	struct day_span span = {day_of("2026-03-01"), day_of("2026-03-03")};
	const struct day_span after = {day_of("2026-03-03"), day_of("2026-03-03")};
	const struct day_span backward = {span.to, span.from};
	const struct day_span longest = {span.from, date_add_days(span.from, 399)};
	const struct day_span longer = {span.from, date_add_days(span.from, 400)};
	struct fault why = {0};

	(void)state;
	check_refused(weather_days_check(days, 3, span, &why), STATUS_RANGE, &why,
		"2026-03-02: minimum 13.0 C is above maximum 12.0 C");
	check_ok(weather_days_check(days, 3, after, &why), &why); /* it lies outside */
	days[1].min_decic.known = false;
	check_ok(weather_days_check(days, 3, span, &why), &why);
	check_ok(weather_days_check(days, 0, span, &why), &why);
	check_ok(weather_days_check(days, 3, longest, &why), &why);
	check_refused(weather_days_check(days, 3, longer, &why), STATUS_RANGE, &why, "401 days");
	check_refused(
		weather_days_check(days, 3, backward, &why), STATUS_RANGE, &why, "outside 1..400");
	days[2].day = days[1].day;
	check_refused(weather_days_check(days, 3, span, &why), STATUS_RANGE, &why,
		"2026-03-02 stands twice");
	days[2].day = days[0].day;
	check_refused(weather_days_check(days, 3, span, &why), STATUS_RANGE, &why,
		"2026-03-01 stands twice or out of order");
}

static void cover_tells_days_and_gaps(void **state)
{
	struct weather_day file[] = {stored("2026-03-01", "hill", 10, 120),
		stored("2026-03-02", "hill", 10, 120), stored("2026-03-06", "hill", 10, 120),
		stored("2026-03-07", "hill", 10, 120)};
	const struct day_span span = {day_of("2026-03-02"), day_of("2026-03-07")};
	struct day_weather *days = NULL;

	(void)state;
	file[3].max_decic.known = false;
	int32_t count = join(file, 4, NULL, 0, &days);
	struct weather_cover cover = weather_days_cover(days, count, span);
	check_int(cover.days, 6, "days");
	check_int(cover.known, 2, "known");
	check_int(cover.longest_gap, 3, "gap");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_gives_nothing),
		cmocka_unit_test(lines_and_stations_make_one_list_by_day),
		cmocka_unit_test(the_grower_s_own_thermometer_stands_before_a_station),
		cmocka_unit_test(a_frost_without_a_figure_leaves_the_station_s),
		cmocka_unit_test(of_two_stations_the_first_by_name_that_has_it),
		cmocka_unit_test(forecasts_plans_and_loose_days_are_passed_over),
		cmocka_unit_test(lines_of_one_day_add_up),
		cmocka_unit_test(a_range_gives_its_colder_end),
		cmocka_unit_test(a_temperature_with_rain_is_neither),
		cmocka_unit_test(days_that_cannot_be_are_named),
		cmocka_unit_test(cover_tells_days_and_gaps),
	};

	return cmocka_run_group_tests_name("weather days", tests, NULL, NULL) != 0;
}
