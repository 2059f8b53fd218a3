/* SPDX-License-Identifier: MIT */
/* Days as growers say them. Today is Tuesday 24 November 2026 unless a case says otherwise. */
#include "core/line.h"

#include <string.h>

#include "support/table.h"
#include "support/test.h"

enum {
	PLAN = 1,     /* a day without year is the earliest not before today */
	PLANTING = 2, /* planting_read */
	SOUTH = 4,
	NOWHERE = 8, /* no hemisphere */
	DMY = 16,
	MDY = 32,
	FROM_FILE = 64,
	FILE_DAY = 128, /* the file has said @ 2020-03-05 */
	IN_2012 = 256,  /* today is 15 January 2012 */
};

struct good {
	const char *name;
	const char *text;
	int how;
	const char *low; /* "" not known */
	const char *high;
	const char *edtf; /* NULL: not looked at */
};

struct bad {
	const char *name;
	const char *text;
	int how;
	enum status status;
	const char *says;
};

/* clang-format off */
static const struct good goods[] = {
	{"iso", "2026-05-12", 0, "2026-05-12", "2026-05-12", "2026-05-12"},
	{"today", "today", 0, "2026-11-24", "2026-11-24", NULL},
	{"yesterday", "yesterday", 0, "2026-11-23", "2026-11-23", NULL},
	{"last_night_is_this_morning", "last night", 0, "2026-11-24", "2026-11-24", NULL},
	{"weekday_today", "Tuesday", 0, "2026-11-24", "2026-11-24", NULL},
	{"last_weekday_is_a_week_ago", "last tuesday", 0, "2026-11-17", "2026-11-17", NULL},
	{"weekday_back", "Wed", 0, "2026-11-18", "2026-11-18", NULL},
	{"weekday_ahead_in_a_plan", "Wed", PLAN, "2026-11-25", "2026-11-25", NULL},
	{"weeks_ago", "3 weeks ago", 0, "2026-11-03", "2026-11-03", NULL},
	{"a_week_ago", "a week ago", 0, "2026-11-17", "2026-11-17", NULL},
	{"days_ago", "2 days ago", 0, "2026-11-22", "2026-11-22", NULL},
	{"couple_of_days_is_about", "a couple of days ago", 0, "2026-11-22", "2026-11-22", "2026-11-22~"},
	{"months_ago_is_a_month", "3 months ago", 0, "2026-08-01", "2026-08-31", "2026-08"},
	{"in_two_weeks", "in 2 weeks", PLAN, "2026-12-08", "2026-12-08", NULL},
	{"day_month", "12 may", 0, "2026-05-12", "2026-05-12", NULL},
	{"day_month_ahead_of_today_is_last_year", "12 december", 0, "2025-12-12", "2025-12-12", NULL},
	{"planned_day_month_is_next", "12 may", PLAN, "2027-05-12", "2027-05-12", NULL},
	{"planned_today_stays", "24 nov", PLAN, "2026-11-24", "2026-11-24", NULL},
	{"month_day", "May 12", 0, "2026-05-12", "2026-05-12", NULL},
	{"ordinal", "the 12th of May", 0, "2026-05-12", "2026-05-12", NULL},
	{"comma_year", "May 12, 2024", 0, "2024-05-12", "2024-05-12", NULL},
	{"hyphened", "12-May-2024", 0, "2024-05-12", "2024-05-12", NULL},
	{"short_year", "12 May 24", 0, "2024-05-12", "2024-05-12", NULL},
	{"apostrophe_year", "May '21", 0, "2021-05-01", "2021-05-31", "2021-05"},
	{"mar_21_is_a_day", "Mar 21", 0, "2026-03-21", "2026-03-21", NULL},
	{"leap_day_without_year", "29 feb", 0, "2024-02-29", "2024-02-29", NULL},
	{"leap_day_planned", "29 feb", PLAN, "2028-02-29", "2028-02-29", NULL},
	{"mid_month", "mid Feb", 0, "2026-02-11", "2026-02-20", "2026-02-11/2026-02-20"},
	{"early_month", "early-march 2025", 0, "2025-03-01", "2025-03-10", NULL},
	{"late_february", "late feb 2024", 0, "2024-02-21", "2024-02-29", NULL},
	{"month_alone", "october", 0, "2026-10-01", "2026-10-31", "2026-10"},
	{"this_month", "november", 0, "2026-11-01", "2026-11-30", NULL},
	{"planned_month", "feb 2027", PLAN, "2027-02-01", "2027-02-28", "2027-02"},
	{"planned_month_without_year", "oct", PLAN, "2027-10-01", "2027-10-31", NULL},
	{"month_slash_year", "9/2012", 0, "2012-09-01", "2012-09-30", "2012-09"},
	{"year", "2010", 0, "2010-01-01", "2010-12-31", "2010"},
	{"years", "1908-1912", 0, "1908-01-01", "1912-12-31", "1908/1912"},
	{"either_year", "2012? maybe 13", 0, "2012-01-01", "2013-12-31", "2012?/2013?"},
	{"clear_by_size_mdy", "07/13/2014", 0, "2014-07-13", "2014-07-13", NULL},
	{"clear_by_size_dmy", "13/07/2014", 0, "2014-07-13", "2014-07-13", NULL},
	{"same_both_ways", "5/5/2020", 0, "2020-05-05", "2020-05-05", NULL},
	{"set_dmy", "8/10/2015", DMY, "2015-10-08", "2015-10-08", NULL},
	{"set_mdy", "8/10/2015", MDY, "2015-08-10", "2015-08-10", NULL},
	{"short_year_dmy", "08-10-15", DMY, "2015-10-08", "2015-10-08", NULL},
	{"short_year_of_the_last_century", "08-10-89", DMY, "1989-10-08", "1989-10-08", NULL},
	{"no_year_dmy", "12/5", DMY, "2026-05-12", "2026-05-12", NULL},
	{"season_north", "spring 2019", 0, "2019-03-01", "2019-05-31", "2019-21"},
	{"season_south", "spring 2019", SOUTH, "2019-09-01", "2019-11-30", "2019-21"},
	{"southern_winter_lies_in_one_year", "winter 2019", SOUTH, "2019-06-01", "2019-08-31", NULL},
	{"winter_of_two_years", "winter 2003-2004", 0, "2003-12-01", "2004-02-29", "2003-12/2004-02"},
	{"fall_is_autumn", "fall 2019", 0, "2019-09-01", "2019-11-30", NULL},
	{"late_spring", "late spring 2019", 0, "2019-05-01", "2019-05-31", "2019-05"},
	{"season_without_year", "summer", 0, "2026-06-01", "2026-08-31", NULL},
	{"harvest_is_a_crop_year", "2014-2015 harvest", 0, "2014-01-01", "2015-12-31", "2014/2015"},
	{"season_word", "season 2014/15", 0, "2014-01-01", "2015-12-31", "2014/2015"},
	{"season_of_one_year", "season 2026", 0, "2026-01-01", "2026-12-31", "2026"},
	{"edtf_about", "2015~", 0, "2015-01-01", "2015-12-31", "2015~"},
	{"edtf_decade", "199X", 0, "1990-01-01", "1999-12-31", "199X"},
	{"span_of_days", "12 may to 20 may 2026", 0, "2026-05-12", "2026-05-20", NULL},
	{"valentine", "Valentine's", 0, "2026-02-14", "2026-02-14", NULL},
	{"xmas", "Xmas 2025", 0, "2025-12-25", "2025-12-25", NULL},
	{"about_a_day", "about 12 May 2026", 0, "2026-05-12", "2026-05-12", "2026-05-12~"},
	{"file_yesterday", "yesterday", FROM_FILE | FILE_DAY, "2020-03-04", "2020-03-04", NULL},
	{"file_weekday", "Tues", FROM_FILE | FILE_DAY, "2020-03-03", "2020-03-03", NULL},
	{"nineties", "sometime in the 90s", PLANTING, "1990-01-01", "1999-12-31", "199X"},
	{"around_a_year", "around 1970", PLANTING, "1970-01-01", "1970-12-31", "1970~"},
	{"early_1800s", "early 1800s", PLANTING, "1800-01-01", "1833-12-31", "1800~/1833~"},
	{"mid_1990s", "mid 1990s", PLANTING, "1994-01-01", "1996-12-31", "1994~/1996~"},
	{"age_is_two_years_wide", "60 yrs old", PLANTING | IN_2012, "1951-01-01", "1952-12-31", "1951~/1952~"},
	{"looks_an_age", "looks 40 or 50", PLANTING | IN_2012, "1961-01-01", "1972-12-31", "1961?/1972?"},
	{"before_a_month_in_brackets", "before we moved in (Oct 2012)", PLANTING, "", "2012-10-31", "../2012-10"},
	{"since", "after 2012", PLANTING, "2012-01-01", "", "2012/.."},
	{"years_ago", "about 8 years ago", PLANTING, "2018-01-01", "2018-12-31", "2018~"},
	{"a_year_or_two_ago", "a year or two ago", PLANTING, "2024-01-01", "2025-12-31", "2024~/2025~"},
	{"months_ago", "18 months ago", PLANTING, "2025-05-01", "2025-05-31", "2025-05"},
	{"weekend_across_seasons", "some weekend late spring or early summer", PLANTING, "2026-05-01", "2026-06-30", "2026-05/2026-06"},
	{"probably", "probably 1995", PLANTING, "1995-01-01", "1995-12-31", "1995?"},
	{"unknown", "unknown", PLANTING, "", "", ""},
	{"no_break_space", "12\xC2\xA0may", 0, "2026-05-12", "2026-05-12", NULL},
	{"en_dash_years", "1908\xE2\x80\x93" "1912", PLANTING, "1908-01-01", "1912-12-31", "1908/1912"},
};

static const struct bad bads[] = {
	{"no_29_february", "2023-02-29", 0, STATUS_RANGE, "29"},
	{"no_31_june", "31/06/2020", 0, STATUS_RANGE, "30"},
	{"no_31_april", "31 april", 0, STATUS_RANGE, "30"},
	{"month_13", "2020-13-01", 0, STATUS_RANGE, "13"},
	{"two_orders", "8/10/2015", 0, STATUS_DOUBT, "8 October or 10 August"},
	{"three_orders", "08-10-15", 0, STATUS_DOUBT, "day, month, year"},
	{"no_year_two_orders", "8/10", 0, STATUS_DOUBT, "8 October or 10 August"},
	{"season_needs_hemisphere", "spring 2019", NOWHERE, STATUS_DOUBT, "hemisphere"},
	{"southern_summer", "summer 2019", SOUTH, STATUS_DOUBT, "December 2018 to February 2019"},
	{"northern_winter", "winter 2019", 0, STATUS_DOUBT, "December 2019 to February 2020"},
	{"southern_winter_of_two_years", "winter 2003-2004", SOUTH, STATUS_DOUBT, "2003 or 2004"},
	{"mar_21_planting", "Mar 21", PLANTING, STATUS_DOUBT, "March 2021"},
	{"mothers_day", "Mother's Day", 0, STATUS_DOUBT, "country"},
	{"after_bloom", "10 days after bloom", 0, STATUS_DOUBT, "another day of the log"},
	{"after_another_tree", "2 wks after McIntosh", 0, STATUS_DOUBT, "another day of the log"},
	{"second_leaf", "second leaf", PLANTING, STATUS_DOUBT, "year of planting"},
	{"year_of_bearing", "third year of bearing", PLANTING, STATUS_DOUBT, "year of planting"},
	{"file_yesterday_needs_a_day", "yesterday", FROM_FILE, STATUS_DOUBT, "'@ DAY'"},
	{"file_weekday_needs_a_day", "Tues", FROM_FILE, STATUS_DOUBT, "'@ DAY'"},
	{"crooked_season", "season 2014/17", 0, STATUS_RANGE, "no season"},
	{"words", "when the cuckoo sang", 0, STATUS_SYNTAX, "is not a day"},
	{"place_is_no_day", "Newcastle", PLANTING, STATUS_SYNTAX, "is not a planting day"},
	{"empty", "  ", 0, STATUS_SYNTAX, "no day"},
	{"month_zero", "00-2", 0, STATUS_RANGE, "counted from 1"},
	{"day_zero_with_year", "0/5/2020", 0, STATUS_RANGE, "counted from 1"},
	{"nothing_at_all", "0/0", DMY, STATUS_RANGE, "counted from 1"},
	{"year_zero", "0000", 0, STATUS_RANGE, ""},
	{"backwards_years", "1912-1908", 0, STATUS_RANGE, "ends before"},
	{"control", "12\x02may", 0, STATUS_SYNTAX, "U+0002"},
	{"very_long", "12 may 2026 12 may 2026 12 may 2026 12 may 2026 12 may 2026 12 may 2026 12 may 2026 "
		"12 may 2026 12 may 2026 12 may 2026 12 may 2026 12 may 2026 12 may 2026 12 may 2026", 0,
		STATUS_SYNTAX, "is not a day"},
};
/* clang-format on */

static struct date day_of(const char *iso)
{
	struct date date = {0};
	struct fault why;
	check_ok(date_parse_iso(iso, &date, &why), &why);
	return date;
}

static enum status read_case(const char *text, int how, struct date_span *span, struct fault *why)
{
	struct line_context context = {.hemisphere = HEMISPHERE_NORTH,
		.today = day_of((how & IN_2012) != 0 ? "2012-01-15" : "2026-11-24")};
	if ((how & SOUTH) != 0)
		context.hemisphere = HEMISPHERE_SOUTH;
	if ((how & NOWHERE) != 0)
		context.hemisphere = HEMISPHERE_UNKNOWN;
	if ((how & (DMY | MDY)) != 0)
		context.dates = (how & DMY) != 0 ? DATES_DMY : DATES_MDY;
	context.from_file = (how & FROM_FILE) != 0;
	if ((how & FILE_DAY) != 0)
		context.file_day = known_date(day_of("2020-03-05"));
	if ((how & PLANTING) != 0)
		return planting_read(text, &context, span, why);
	return day_read(text, &context, (how & PLAN) != 0, span, why);
}

static void check_end(const struct maybe_date *got, const char *want, const char *label)
{
	check_int(got->known, want[0] != '\0', label);
	if (!got->known)
		return;
	char text[DATE_SIZE];
	check_text(date_format(got->value, text), want, label);
}

static void reads_day(const void *one)
{
	const struct good *good = one;
	struct date_span span = {.text = "?"};
	struct fault why = {0};
	check_ok(read_case(good->text, good->how, &span, &why), &why);
	check_end(&span.low, good->low, "low");
	check_end(&span.high, good->high, "high");
	if (good->edtf != NULL)
		check_text(span.text, good->edtf, "text");
}

/* The text of a span reads back to the same bounds. */
static void text_holds_the_bounds(const void *one)
{
	const struct good *good = one;
	struct date_span span;
	struct date_span back;
	struct fault why = {0};
	check_ok(read_case(good->text, good->how, &span, &why), &why);
	enum hemisphere hemisphere = (good->how & SOUTH) != 0 ? HEMISPHERE_SOUTH : HEMISPHERE_NORTH;
	check_ok(date_span_parse(span.text, hemisphere, &back, &why), &why);
	check_end(&back.low, good->low, "low");
	check_end(&back.high, good->high, "high");
	check_int(back.about, span.about, "about");
	check_int(back.doubt, span.doubt, "doubt");
}

static void refuses_day(const void *one)
{
	const struct bad *bad = one;
	struct date_span span = {.text = "left"};
	struct fault why = {0};
	check_refused(read_case(bad->text, bad->how, &span, &why), bad->status, &why, bad->says);
	check_text(span.text, "left", "left alone");
}

int main(void)
{
	int failed = RUN_CASES("days read", goods, reads_day);
	failed += RUN_CASES("text holds the bounds", goods, text_holds_the_bounds);
	failed += RUN_CASES("days asked or refused", bads, refuses_day);
	return failed != 0;
}
