/* SPDX-License-Identifier: MIT */
/* Uncertain days: ISO 8601-2 (EDTF level 1) text, its bounds, and plain words for it.
 * Bounds are strict: ~ ? and % flag but do not widen. */
#include "core/date.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

/* How one end of a span is written. */
enum form {
	FORM_UNKNOWN, /* nothing before or after the slash */
	FORM_OPEN,    /* .. */
	FORM_CENTURY, /* 20XX */
	FORM_DECADE,  /* 201X */
	FORM_YEAR,    /* 2015, 2015-XX, 2015-XX-XX */
	FORM_SEASON,  /* 2015-21 .. 2015-24 */
	FORM_MONTH,   /* 2015-04, 2015-04-XX */
	FORM_DAY,
};

struct end {
	enum form form;
	int32_t year;  /* of a century or decade: its first */
	int32_t month; /* of a season: 21..24 */
	int32_t day;
	bool about;
	bool doubt;
};

enum { END_LENGTH_MAX = 11 }; /* "2004-06-11%" */

static const char *const season_names[] = {"spring", "summer", "autumn", "winter"};

/* The number in `count` digits; -1 when one is no digit. */
static int32_t digits_in(const char *text, size_t count)
{
	int32_t number = 0;
	for (size_t at = 0; at < count; at++) {
		if (text[at] < '0' || text[at] > '9')
			return -1;
		number = number * 10 + (text[at] - '0');
	}
	return number;
}

/* "2015", "201X", "20XX". */
static bool read_year(const char *text, struct end *end)
{
	size_t digits = strspn(text, "0123456789");
	if (digits >= 4) {
		end->form = FORM_YEAR;
		end->year = digits_in(text, 4);
	} else if (digits == 3 && text[3] == 'X') {
		end->form = FORM_DECADE;
		end->year = digits_in(text, 3) * 10;
	} else if (digits == 2 && text[2] == 'X' && text[3] == 'X') {
		end->form = FORM_CENTURY;
		end->year = digits_in(text, 2) * 100;
	} else {
		return false;
	}
	return true;
}

/* "-04", "-21", "-XX", "-04-12", "-04-XX", "-XX-XX" after a whole year. */
static bool read_month_and_day(const char *text, struct end *end)
{
	bool month_unknown = strncmp(text, "-XX", 3) == 0;
	end->month = text[0] == '-' ? digits_in(text + 1, strnlen(text + 1, 2)) : -1;
	if (!month_unknown && (end->month < 0 || strlen(text) < 3))
		return false;
	const char *rest = text + 3;
	bool day_unknown = strcmp(rest, "-XX") == 0;
	if (month_unknown)
		return *rest == '\0' || day_unknown;
	end->form = FORM_MONTH;
	if (end->month >= 21 && *rest == '\0') {
		end->form = FORM_SEASON;
		return true;
	}
	if (*rest == '\0' || day_unknown)
		return true;
	end->form = FORM_DAY;
	end->day = strlen(rest) == 3 && rest[0] == '-' ? digits_in(rest + 1, 2) : -1;
	return end->day >= 0;
}

static bool read_shape(char *text, struct end *end)
{
	size_t length = strlen(text);
	if (length == 0)
		return true;
	if (strcmp(text, "..") == 0) {
		end->form = FORM_OPEN;
		return true;
	}
	char last = text[length - 1];
	if (last == '?' || last == '~' || last == '%') {
		end->about = last != '?';
		end->doubt = last != '~';
		text[length - 1] = '\0';
	}
	if (!read_year(text, end))
		return false;
	if (text[4] == '\0')
		return true;
	return end->form == FORM_YEAR && read_month_and_day(text + 4, end);
}

static enum status check_end(const struct end *end, struct fault *why)
{
	struct date day;
	switch (end->form) {
	case FORM_UNKNOWN:
	case FORM_OPEN:
		return STATUS_OK;
	case FORM_SEASON:
		if (end->month > 24)
			return fault_set(why, STATUS_RANGE,
				"season %d is outside 21..24 (spring, summer, autumn, winter)",
				(int)end->month);
		return date_make(end->year, 1, 1, &day, why);
	case FORM_CENTURY:
	case FORM_DECADE:
		/* 000X and 00XX begin in the year 1. */
		return STATUS_OK;
	case FORM_YEAR:
		return date_make(end->year, 1, 1, &day, why);
	case FORM_MONTH:
		return date_make(end->year, end->month, 1, &day, why);
	case FORM_DAY:
		return date_make(end->year, end->month, end->day, &day, why);
	}
	return STATUS_OK;
}

static enum status not_understood(const char *text, struct fault *why)
{
	bool other_year = text[0] == 'Y' || text[0] == '-';
	if (other_year && text[1] >= '0' && text[1] <= '9')
		return fault_set(why, STATUS_RANGE, "'%.47s' is outside the years 1..9999", text);
	return fault_set(why, STATUS_SYNTAX,
		"'%.47s' is not a day; write 2015, 2015-04, 2015-04-12, 2015~ (about), 2015? (not "
		"sure), 201X, 2015-21 (spring) or 2012/2014",
		text);
}

/* One end of a span from text[0..length). */
static enum status read_end(
	const char *text, size_t length, const char *whole, struct end *end, struct fault *why)
{
	char copy[END_LENGTH_MAX + 1] = "";
	if (length > END_LENGTH_MAX)
		return not_understood(whole, why);
	memcpy(copy, text, length);
	*end = (struct end){.form = FORM_UNKNOWN};
	if (!read_shape(copy, end))
		return not_understood(whole, why);
	return check_end(end, why);
}

/* Reads both ends; a text with no slash gives the same end twice. */
static enum status read_ends(const char *text, struct end ends[2], struct fault *why)
{
	size_t length = strnlen(text, EDTF_SIZE);
	if (length == EDTF_SIZE)
		return not_understood(text, why);
	const char *slash = strchr(text, '/');
	size_t first = slash == NULL ? length : (size_t)(slash - text);
	enum status status = read_end(text, first, text, &ends[0], why);
	if (status != STATUS_OK)
		return status;
	bool has_low = ends[0].form > FORM_OPEN;
	if (slash == NULL) {
		ends[1] = ends[0];
		return has_low ? STATUS_OK : not_understood(text, why);
	}
	status = read_end(slash + 1, length - first - 1, text, &ends[1], why);
	if (status == STATUS_OK && !has_low && ends[1].form <= FORM_OPEN)
		return not_understood(text, why);
	return status;
}

/* The first month of a season by calendar months; the season bears the year it begins in. */
static int32_t season_month(int32_t season, enum hemisphere hemisphere)
{
	int32_t north = (season - 20) * 3;
	return hemisphere == HEMISPHERE_SOUTH ? (north + 5) % 12 + 1 : north;
}

/* 1 of the month that lies `later` months after month of year, at most the last day we know. */
static struct date first_of_month(int32_t year, int32_t month, int32_t later)
{
	int32_t months = month - 1 + later;
	year += months / 12;
	if (year > 9999)
		return date_of_month_day(9999, (struct month_day){12, 31});
	return date_of_month_day(
		year < 1 ? 1 : year, (struct month_day){(int8_t)(months % 12 + 1), 1});
}

static struct maybe_date low_of(const struct end *end, enum hemisphere hemisphere)
{
	switch (end->form) {
	case FORM_UNKNOWN:
	case FORM_OPEN:
		return (struct maybe_date){.known = false};
	case FORM_CENTURY:
	case FORM_DECADE:
	case FORM_YEAR:
		return known_date(first_of_month(end->year, 1, 0));
	case FORM_SEASON:
		return known_date(
			first_of_month(end->year, season_month(end->month, hemisphere), 0));
	case FORM_MONTH:
		return known_date(first_of_month(end->year, end->month, 0));
	case FORM_DAY:
		break;
	}
	return known_date(date_of_month_day(
		end->year, (struct month_day){(int8_t)end->month, (int8_t)end->day}));
}

/* The day before the first of the month that follows. */
static struct maybe_date month_end(int32_t year, int32_t month, int32_t months)
{
	struct date next = first_of_month(year, month, months);
	bool past_end = year + (month - 1 + months) / 12 > 9999;
	return known_date(past_end ? next : date_add_days(next, -1));
}

static struct maybe_date high_of(const struct end *end, enum hemisphere hemisphere)
{
	switch (end->form) {
	case FORM_UNKNOWN:
	case FORM_OPEN:
		return (struct maybe_date){.known = false};
	case FORM_CENTURY:
		return month_end(end->year + 99, 1, 12);
	case FORM_DECADE:
		return month_end(end->year + 9, 1, 12);
	case FORM_YEAR:
		return month_end(end->year, 1, 12);
	case FORM_SEASON:
		return month_end(end->year, season_month(end->month, hemisphere), 3);
	case FORM_MONTH:
		return month_end(end->year, end->month, 1);
	case FORM_DAY:
		break;
	}
	return low_of(end, hemisphere);
}

enum status date_span_parse(
	const char *text, enum hemisphere hemisphere, struct date_span *out, struct fault *why)
{
	if (text[0] == '\0') {
		*out = (struct date_span){.text = ""};
		return STATUS_OK;
	}
	struct end ends[2];
	enum status status = read_ends(text, ends, why);
	if (status != STATUS_OK)
		return status;
	bool season = ends[0].form == FORM_SEASON || ends[1].form == FORM_SEASON;
	if (season && hemisphere == HEMISPHERE_UNKNOWN)
		return fault_set(why, STATUS_DOUBT,
			"'%s' names a season, which falls half a year apart north and south: say "
			"which hemisphere, or write months",
			text);
	struct date_span span = {.low = low_of(&ends[0], hemisphere),
		.high = high_of(&ends[1], hemisphere),
		.about = ends[0].about || ends[1].about,
		.doubt = ends[0].doubt || ends[1].doubt};
	if (span.low.known && span.high.known && date_compare(span.low.value, span.high.value) > 0)
		return fault_set(why, STATUS_RANGE, "'%s' ends before it begins", text);
	memcpy(span.text, text, strlen(text) + 1);
	*out = span;
	return STATUS_OK;
}

struct date_span date_span_of(struct date date)
{
	struct date_span span = {.low = known_date(date), .high = known_date(date)};
	date_format(date, span.text);
	return span;
}

struct date_span date_span_between(struct date low, struct date high)
{
	assert(date_compare(low, high) <= 0);
	struct date_span span = date_span_of(low);
	if (date_compare(low, high) == 0)
		return span;
	span.high = known_date(high);
	span.text[DATE_SIZE - 1] = '/';
	date_format(high, span.text + DATE_SIZE);
	return span;
}

bool date_span_is_exact(const struct date_span *span)
{
	return span->low.known && span->high.known && !span->about && !span->doubt &&
	       date_compare(span->low.value, span->high.value) == 0;
}

struct maybe_date date_span_first(const struct date_span *span)
{
	return span->low.known ? span->low : span->high;
}

/* --- plain words --- */

enum { END_WORDS_SIZE = 64 };

/* What of the end's date the other end says already: "12-14 May 2026", "30 April to 2 May 2026". */
enum leave_out { LEAVE_NOTHING, LEAVE_YEAR, LEAVE_MONTH_AND_YEAR };

static const char *doubt_words(const struct end *end)
{
	if (end->doubt)
		return end->about ? "perhaps about " : "perhaps ";
	return end->about ? "about " : "";
}

static void end_words(const struct end *end, enum leave_out leave, char out[END_WORDS_SIZE])
{
	const char *lead = doubt_words(end);
	char year[16] = "";
	if (leave == LEAVE_NOTHING)
		snprintf(year, sizeof year, " %d", (int)end->year);
	switch (end->form) {
	case FORM_UNKNOWN:
	case FORM_OPEN:
		snprintf(out, END_WORDS_SIZE, "not known");
		return;
	case FORM_CENTURY:
		snprintf(out, END_WORDS_SIZE, "%s%d-%d", lead, (int)end->year, (int)end->year + 99);
		return;
	case FORM_DECADE:
		snprintf(out, END_WORDS_SIZE, "%s%d-%d", lead, (int)end->year, (int)end->year + 9);
		return;
	case FORM_YEAR:
		snprintf(out, END_WORDS_SIZE, "%s%d", lead, (int)end->year);
		return;
	case FORM_SEASON:
		snprintf(out, END_WORDS_SIZE, "%s%s%s", lead, season_names[end->month - 21], year);
		return;
	case FORM_MONTH:
		snprintf(out, END_WORDS_SIZE, "%s%s%s", lead, date_month_name(end->month), year);
		return;
	case FORM_DAY:
		break;
	}
	if (leave == LEAVE_MONTH_AND_YEAR)
		snprintf(out, END_WORDS_SIZE, "%s%d", lead, (int)end->day);
	else
		snprintf(out, END_WORDS_SIZE, "%s%d %s%s", lead, (int)end->day,
			date_month_name(end->month), year);
}

static enum leave_out what_to_leave(const struct end ends[2])
{
	bool plain = !ends[0].about && !ends[0].doubt && !ends[1].about && !ends[1].doubt;
	if (!plain || ends[0].form != ends[1].form || ends[0].year != ends[1].year)
		return LEAVE_NOTHING;
	if (ends[0].form == FORM_MONTH)
		return LEAVE_YEAR;
	if (ends[0].form != FORM_DAY)
		return LEAVE_NOTHING;
	return ends[0].month == ends[1].month ? LEAVE_MONTH_AND_YEAR : LEAVE_YEAR;
}

/* Both ends the very same day, month or year: one of them says it all. */
static bool is_one(const struct end ends[2])
{
	return ends[0].form > FORM_OPEN && ends[0].form == ends[1].form &&
	       ends[0].year == ends[1].year && ends[0].month == ends[1].month &&
	       ends[0].day == ends[1].day && ends[0].about == ends[1].about &&
	       ends[0].doubt == ends[1].doubt;
}

static void two_ends_words(const struct end ends[2], char *out, int size)
{
	char low[END_WORDS_SIZE];
	char high[END_WORDS_SIZE];
	bool has_low = ends[0].form > FORM_OPEN;
	bool has_high = ends[1].form > FORM_OPEN;
	enum leave_out leave = has_low && has_high ? what_to_leave(ends) : LEAVE_NOTHING;
	end_words(&ends[0], leave, low);
	end_words(&ends[1], LEAVE_NOTHING, high);
	if (is_one(ends))
		snprintf(out, (size_t)size, "%s", high);
	else if (!has_low)
		snprintf(out, (size_t)size, "until %s", high);
	else if (!has_high)
		snprintf(out, (size_t)size, "from %s", low);
	else if (leave == LEAVE_MONTH_AND_YEAR ||
		 (ends[0].form == FORM_YEAR && ends[1].form == FORM_YEAR &&
			 doubt_words(&ends[0])[0] == '\0' && doubt_words(&ends[1])[0] == '\0'))
		snprintf(out, (size_t)size, "%s-%s", low, high);
	else
		snprintf(out, (size_t)size, "%s to %s", low, high);
}

const char *date_span_format_plain(const struct date_span *span, char *out, int size)
{
	struct end ends[2];
	if (span->text[0] == '\0' || read_ends(span->text, ends, NULL) != STATUS_OK) {
		snprintf(out, (size_t)size, "day not known");
		return out;
	}
	if (strchr(span->text, '/') != NULL) {
		two_ends_words(ends, out, size);
		return out;
	}
	char words[END_WORDS_SIZE];
	end_words(&ends[0], LEAVE_NOTHING, words);
	snprintf(out, (size_t)size, "%s", words);
	return out;
}
