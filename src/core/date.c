/* SPDX-License-Identifier: MIT */
#include "core/date.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

enum {
	FIRST_DAY = -719162, /* 0001-01-01 */
	LAST_DAY = 2932896,  /* 9999-12-31 */
	CIRCLE = 365,
};

static const char *const month_names[] = {"", "January", "February", "March", "April", "May",
	"June", "July", "August", "September", "October", "November", "December"};

/* Days of a common year before each month; [13] is the whole year. */
static const int32_t days_before_month[] = {
	0, 0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365};

static bool is_leap(int32_t year)
{
	return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

int32_t date_days_in_month(int32_t year, int32_t month)
{
	assert(month >= 1 && month <= 12);
	int32_t days = days_before_month[month + 1] - days_before_month[month];
	return month == 2 && is_leap(year) ? days + 1 : days;
}

/* Days since 1970-01-01 of the day before 1 January of year (year >= 1). */
static int32_t day_before_year(int32_t year)
{
	int32_t past = year - 1;
	return FIRST_DAY - 1 + past * 365 + past / 4 - past / 100 + past / 400;
}

static int32_t day_of_parts(int32_t year, int32_t month, int32_t day)
{
	int32_t leap = month > 2 && is_leap(year) ? 1 : 0;
	return day_before_year(year) + days_before_month[month] + leap + day;
}

enum status date_make(int32_t year, int32_t month, int32_t day, struct date *out, struct fault *why)
{
	if (year < 1 || year > 9999)
		return fault_set(why, STATUS_RANGE, "year %d is outside 1..9999", (int)year);
	if (month < 1 || month > 12)
		return fault_set(why, STATUS_RANGE, "month %d is outside 1..12", (int)month);
	int32_t last = date_days_in_month(year, month);
	if (day < 1 || day > last)
		return fault_set(why, STATUS_RANGE, "%s %d has days 1 to %d, not %d",
			month_names[month], (int)year, (int)last, (int)day);
	out->day = day_of_parts(year, month, day);
	return STATUS_OK;
}

struct date_parts date_parts(struct date date)
{
	assert(date.day >= FIRST_DAY && date.day <= LAST_DAY);
	/* 365.2425 days a year: the guess is never more than one year out. */
	int32_t year = (int32_t)((int64_t)(date.day - FIRST_DAY) * 10000 / 3652425) + 1;
	if (date.day <= day_before_year(year))
		year--;
	else if (date.day > day_before_year(year + 1))
		year++;
	/* no month is longer than 31 days: the guess is never more than one month early */
	int32_t of_year = date.day - day_before_year(year);
	int32_t leap = is_leap(year) ? 1 : 0;
	int32_t month = (of_year - 1) / 31 + 1;
	int32_t next = days_before_month[month + 1] + (month >= 2 ? leap : 0);
	if (of_year > next)
		month++;
	int32_t before = days_before_month[month] + (month > 2 ? leap : 0);
	return (struct date_parts){.year = year, .month = month, .day = of_year - before};
}

struct date date_add_days(struct date date, int32_t days)
{
	int64_t day = (int64_t)date.day + days;
	if (day < FIRST_DAY)
		day = FIRST_DAY;
	if (day > LAST_DAY)
		day = LAST_DAY;
	return (struct date){(int32_t)day};
}

int32_t date_days_between(struct date from, struct date to)
{
	return to.day - from.day;
}

int32_t date_compare(struct date a, struct date b)
{
	return (a.day > b.day) - (a.day < b.day);
}

int32_t date_weekday(struct date date)
{
	/* 1970-01-01 was a Thursday; 0001-01-01 a Monday. */
	return (date.day - FIRST_DAY) % 7;
}

struct date date_of_month_day(int32_t year, struct month_day month_day)
{
	assert(year >= 1 && year <= 9999 && month_day.month >= 1 && month_day.month <= 12);
	int32_t last = date_days_in_month(year, month_day.month);
	int32_t day = month_day.day > last ? last : month_day.day;
	return (struct date){day_of_parts(year, month_day.month, day < 1 ? 1 : day)};
}

/* The number written in exactly `count` digits at text; -1 when they are not all digits. */
static int32_t digits_at(const char *text, int count)
{
	int32_t number = 0;
	for (int at = 0; at < count; at++) {
		if (text[at] < '0' || text[at] > '9')
			return -1;
		number = number * 10 + (text[at] - '0');
	}
	return number;
}

enum status date_parse_iso(const char *text, struct date *out, struct fault *why)
{
	bool shaped = strnlen(text, DATE_SIZE) == DATE_SIZE - 1 && text[4] == '-' && text[7] == '-';
	int32_t year = shaped ? digits_at(text, 4) : -1;
	int32_t month = shaped ? digits_at(text + 5, 2) : -1;
	int32_t day = shaped ? digits_at(text + 8, 2) : -1;
	if (year < 0 || month < 0 || day < 0)
		return fault_set(why, STATUS_SYNTAX,
			"'%.40s' is not a day written YYYY-MM-DD, as in 2026-05-12", text);
	return date_make(year, month, day, out, why);
}

const char *date_format(struct date date, char out[DATE_SIZE])
{
	struct date_parts parts = date_parts(date);
	unsigned int digits = (unsigned)parts.year % 10000 * 10000 +
			      (unsigned)parts.month % 100 * 100 + (unsigned)parts.day % 100;
	out[DATE_SIZE - 1] = '\0';
	for (int at = DATE_SIZE - 2; at >= 0; at--) {
		bool is_mark = at == 4 || at == 7;
		out[at] = is_mark ? '-' : (char)('0' + digits % 10);
		digits = is_mark ? digits : digits / 10;
	}
	return out;
}

const char *date_format_plain(struct date date, char *out, int size)
{
	struct date_parts parts = date_parts(date);
	snprintf(out, (size_t)size, "%d %s %d", (int)parts.day, month_names[parts.month],
		(int)parts.year);
	return out;
}

const char *date_month_name(int32_t month)
{
	assert(month >= 1 && month <= 12);
	return month_names[month];
}

/* --- the circle of the year --- */

static int32_t modulo_circle(int32_t number)
{
	int32_t rest = number % CIRCLE;
	return rest < 0 ? rest + CIRCLE : rest;
}

int32_t circle_of(struct month_day month_day)
{
	assert(month_day.month >= 1 && month_day.month <= 12 && month_day.day >= 1);
	int32_t length =
		days_before_month[month_day.month + 1] - days_before_month[month_day.month];
	int32_t day = month_day.day > length ? length : month_day.day;
	return days_before_month[month_day.month] + day;
}

int32_t circle_of_date(struct date date)
{
	struct date_parts parts = date_parts(date);
	return circle_of((struct month_day){(int8_t)parts.month, (int8_t)parts.day});
}

struct month_day circle_month_day(int32_t place)
{
	int32_t day = modulo_circle(modulo_circle(place) - 1) + 1;
	int32_t month = 12;
	while (day <= days_before_month[month])
		month--;
	return (struct month_day){(int8_t)month, (int8_t)(day - days_before_month[month])};
}

int32_t circle_difference(int32_t from, int32_t to)
{
	return modulo_circle(modulo_circle(to) - modulo_circle(from) + 182) - 182;
}

bool circle_within(int32_t place, int32_t from, int32_t to)
{
	return modulo_circle(modulo_circle(place) - modulo_circle(from)) <=
	       modulo_circle(modulo_circle(to) - modulo_circle(from));
}

struct month_day month_day_mirror(struct month_day month_day)
{
	assert(month_day.month >= 1 && month_day.month <= 12);
	int32_t month = (month_day.month + 5) % 12 + 1;
	int32_t length = days_before_month[month + 1] - days_before_month[month];
	int32_t day = month_day.day > length ? length : month_day.day;
	return (struct month_day){(int8_t)month, (int8_t)day};
}

enum status month_day_parse(const char *text, struct month_day *out, struct fault *why)
{
	bool shaped = strnlen(text, 6) == 5 && text[2] == '-';
	int32_t month = shaped ? digits_at(text, 2) : -1;
	int32_t day = shaped ? digits_at(text + 3, 2) : -1;
	if (month < 0 || day < 0)
		return fault_set(why, STATUS_SYNTAX,
			"'%.40s' is not a day of the year written MM-DD, as in 05-12", text);
	struct date date;
	/* 2024 was a leap year, so that 02-29 passes. */
	if (date_make(2024, month, day, &date, NULL) != STATUS_OK)
		return fault_set(why, STATUS_RANGE, "%s is not a day of any year", text);
	*out = (struct month_day){(int8_t)month, (int8_t)day};
	return STATUS_OK;
}
