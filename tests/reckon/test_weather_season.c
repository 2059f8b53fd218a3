/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/weather_season.h"

static struct place place_at(enum hemisphere side, int32_t latitude_deg)
{
	return (struct place){
		.hemisphere = side, .latitude_udeg = known_i32(latitude_deg * 1000000)};
}

struct season_case {
	const char *name;
	enum hemisphere side;
	int32_t latitude_deg;
	const char *day;
	const char *season;
	const char *from, *to;
	const char *winter_from, *winter_to; /* NULL: it has none */
};
static const struct season_case cases[] = {
	{"summer_in_the_north", HEMISPHERE_NORTH, 38, "2026-07-01", "2026", "2025-11-01",
		"2026-10-31", "2025-11-01", "2026-02-28"},
	{"its_last_day", HEMISPHERE_NORTH, 38, "2026-10-31", "2026", "2025-11-01", "2026-10-31",
		"2025-11-01", "2026-02-28"},
	{"the_day_after_begins_the_next", HEMISPHERE_NORTH, 38, "2026-11-01", "2027", "2026-11-01",
		"2027-10-31", "2026-11-01", "2027-02-28"},
	{"a_leap_winter_ends_on_the_29th", HEMISPHERE_NORTH, 38, "2028-02-29", "2028", "2027-11-01",
		"2028-10-31", "2027-11-01", "2028-02-29"},
	{"new_year_in_the_south", HEMISPHERE_SOUTH, -38, "2027-01-01", "2026/27", "2026-05-01",
		"2027-04-30", "2026-05-01", "2026-08-28"},
	{"the_south_turns_in_may", HEMISPHERE_SOUTH, -38, "2026-05-01", "2026/27", "2026-05-01",
		"2027-04-30", "2026-05-01", "2026-08-28"},
	{"the_day_before", HEMISPHERE_SOUTH, -38, "2026-04-30", "2025/26", "2025-05-01",
		"2026-04-30", "2025-05-01", "2025-08-28"},
	{"a_century_turns", HEMISPHERE_SOUTH, -38, "2099-12-31", "2099/00", "2099-05-01",
		"2100-04-30", "2099-05-01", "2099-08-28"},
	{"the_tropics_have_calendar_years", HEMISPHERE_NORTH, 5, "2026-12-31", "2026", "2026-01-01",
		"2026-12-31", NULL, NULL},
	{"so_has_a_place_that_is_not_told", HEMISPHERE_UNKNOWN, 0, "2026-11-24", "2026",
		"2026-01-01", "2026-12-31", NULL, NULL},
};

static void check_season(const void *item)
{
	const struct season_case *one = item;
	struct place place = place_at(one->side, one->latitude_deg);
	struct weather_season season = weather_season_at(&place, day_of(one->day));
	char text[DATE_SIZE];

	check_text(season.name, one->season, "name");
	check_text(date_format(season.span.from, text), one->from, "first day");
	check_text(date_format(season.span.to, text), one->to, "last day");
	check_int(season.has_winter, one->winter_from != NULL, "has a winter");
	if (one->winter_from == NULL)
		return;
	check_text(date_format(season.winter.from, text), one->winter_from, "winter from");
	check_text(date_format(season.winter.to, text), one->winter_to, "winter to");
}

/* Every day lies in exactly one season, and seasons follow each other without a hole. */
static void seasons_cover_the_days(void **state)
{
	const struct place places[] = {place_at(HEMISPHERE_NORTH, 47),
		place_at(HEMISPHERE_SOUTH, -34), place_at(HEMISPHERE_NORTH, 3)};

	(void)state;
	for (size_t p = 0; p < sizeof places / sizeof places[0]; p++)
		for (int32_t year = 1999; year < 2030; year++) {
			struct weather_season one = weather_season_of_year(&places[p], year);
			struct weather_season next = weather_season_of_year(&places[p], year + 1);

			check_int(date_days_between(one.span.to, next.span.from), 1, "next day");
			check_int(weather_season_at(&places[p], one.span.from).year, year, "first");
			check_int(weather_season_at(&places[p], one.span.to).year, year, "last");
		}
}

static void a_span_years_before_keeps_its_days(void **state)
{
	struct day_span span = {day_of("2027-11-01"), day_of("2028-02-29")};
	struct day_span before = weather_span_before(span, 1);
	char text[DATE_SIZE];

	(void)state;
	check_text(date_format(before.from, text), "2026-11-01", "from");
	check_text(date_format(before.to, text), "2027-02-28", "29 February");
	before = weather_span_before(span, 4);
	check_text(date_format(before.to, text), "2024-02-29", "a leap year again");
	before = weather_span_before(span, 9000);
	check_text(date_format(before.from, text), "0001-11-01", "no year before the first");
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(seasons_cover_the_days),
		cmocka_unit_test(a_span_years_before_keeps_its_days)};
	int failed = RUN_CASES("seasons", cases, check_season);

	return failed + cmocka_run_group_tests_name("weather seasons", tests, NULL, NULL) != 0;
}
