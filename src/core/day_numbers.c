/* SPDX-License-Identifier: MIT */
/* Days in figures: 2026-05-12, 12/5/2026, 9/2012, 2010, 1908-1912, and crop years. */
#include "core/day_parts.h"
#include "core/plain.h"

#include <stdlib.h>
#include <string.h>

/* Up to three numbers with one kind of mark between them. */
struct figures {
	int count;
	int32_t value[3];
	size_t digits[3];
	char mark;
	size_t used;
};

static struct figures figures_at(const char *text)
{
	struct figures found = {0};
	size_t at = 0;
	while (found.count < 3) {
		size_t digits = strspn(text + at, "0123456789");
		if (digits == 0 || digits > 4)
			break;
		found.value[found.count] = (int32_t)strtol(text + at, NULL, 10);
		found.digits[found.count++] = digits;
		at += digits;
		found.used = at;
		bool mark = text[at] == '/' || text[at] == '-' || text[at] == '.';
		if (!mark || (found.mark != '\0' && text[at] != found.mark))
			break;
		found.mark = text[at++];
	}
	return found;
}

static enum status take_ymd(struct day_work *work, int32_t year, int32_t month, int32_t day)
{
	struct date date;
	enum status status = date_make(year, month, day, &date, work->why);
	if (status == STATUS_OK)
		day_take(work, date);
	return status;
}

/* Two figures that are a day and a month, with the year that goes with them. */
static enum status take_day_and_month(
	struct day_work *work, int32_t first, int32_t second, int32_t year, bool has_year)
{
	enum date_order order = work->context->dates;
	if (first == 0 || second == 0)
		return fault_set(work->why, STATUS_RANGE,
			"'%.40s': days and months are counted from 1", work->text);
	if (first == second || first > 12)
		order = DATES_DMY;
	else if (second > 12)
		order = DATES_MDY;
	if (order == DATES_UNSET)
		return fault_set(work->why, STATUS_DOUBT,
			"'%.40s' could be %d %s or %d %s: write the month as a word, or set the "
			"place's dates to dmy or mdy",
			work->text, (int)first, date_month_name(second), (int)second,
			date_month_name(first));
	int32_t day = order == DATES_DMY ? first : second;
	int32_t month = order == DATES_DMY ? second : first;
	if (has_year)
		return take_ymd(work, year, month, day);
	return day_take_yearless(work, month, day);
}

/* A year of two digits: the latest such year not after today. */
static int32_t whole_year(const struct day_work *work, int32_t two_digits)
{
	int32_t now = date_parts(work->context->today).year;
	int32_t year = now - now % 100 + two_digits;
	return year > now + (work->planning ? 20 : 0) ? year - 100 : year;
}

static enum status take_three(struct day_work *work, const struct figures *found)
{
	if (found->digits[0] == 4)
		return take_ymd(work, found->value[0], found->value[1], found->value[2]);
	if (found->digits[2] == 4)
		return take_day_and_month(
			work, found->value[0], found->value[1], found->value[2], true);
	if (found->digits[2] != 2 || found->digits[0] > 2 || found->digits[1] > 2)
		return STATUS_ABSENT;
	if (work->context->dates == DATES_UNSET)
		return fault_set(work->why, STATUS_DOUBT,
			"'%.40s' can be read as day, month, year, as month, day, year, or as year, "
			"month, day: write it as 2015-10-08, or set the place's dates to dmy or "
			"mdy",
			work->text);
	int32_t year = whole_year(work, found->value[2]);
	return take_day_and_month(work, found->value[0], found->value[1], year, true);
}

static enum status take_two(struct day_work *work, const struct figures *found)
{
	size_t first = found->digits[0];
	size_t second = found->digits[1];
	if (first == 4 && second == 4)
		return day_take_edtf(work, "%04d/%04d", (int)found->value[0], (int)found->value[1]);
	if (first <= 2 && second == 4 && found->value[0] <= 12)
		return day_take_edtf(work, "%04d-%02d", (int)found->value[1], (int)found->value[0]);
	if (first <= 2 && second <= 2 && found->mark != '.')
		return take_day_and_month(work, found->value[0], found->value[1], 0, false);
	return STATUS_ABSENT;
}

/* ISO 8601-2, where it starts as a year does. */
static enum status read_edtf(struct day_work *work)
{
	const char *text = work->text;
	size_t digits = strspn(text, "0123456789");
	bool year = digits >= 2 && strspn(text + digits, "X") + digits == 4;
	bool open = strncmp(text, "../", 3) == 0 || text[0] == '/';
	if ((!year && !open) || strchr(text, ' ') != NULL)
		return STATUS_ABSENT;
	return date_span_parse(text, work->context->hemisphere, &work->span, work->why);
}

/* "2012? maybe 13": either year, neither sure. */
static enum status read_either_year(struct day_work *work)
{
	const char *low = work->low;
	if (strspn(low, "0123456789") != 4)
		return STATUS_ABSENT;
	size_t at = 4 + strspn(low + 4, "? ,");
	size_t maybe = plain_word_of(low + at, "maybe perhaps possibly or_maybe or");
	const char *rest = low + at + maybe + strspn(low + at + maybe, " '");
	size_t digits = strspn(rest, "0123456789");
	if (maybe == 0 || (digits != 2 && digits != 4) ||
		rest[digits + strspn(rest + digits, "?")] != '\0')
		return STATUS_ABSENT;
	int first = (int)strtol(low, NULL, 10);
	int second = (int)strtol(rest, NULL, 10);
	if (digits == 2)
		second += first - first % 100;
	return day_take_edtf(work, "%04d?/%04d?", first < second ? first : second,
		first < second ? second : first);
}

enum status day_read_numbers(struct day_work *work)
{
	enum status status = read_either_year(work);
	if (status != STATUS_ABSENT)
		return status;
	struct figures found = figures_at(work->low);
	if (found.count == 0 || work->low[found.used] != '\0')
		return read_edtf(work);
	if (found.count == 3)
		status = take_three(work, &found);
	else if (found.count == 2)
		status = take_two(work, &found);
	if (status != STATUS_ABSENT)
		return status;
	return read_edtf(work);
}

/* "season 2014/15", "season 2026", "2014-2015 harvest": a crop year, not two calendar years. */
enum status day_read_season(struct day_work *work)
{
	size_t word = plain_word_of(work->low, "season crop_year crop_of");
	const char *rest = work->low + word + (word > 0);
	struct figures found = figures_at(rest);
	size_t blank = strspn(rest + found.used, " ");
	const char *tail = rest + found.used + blank;
	size_t after = plain_word_of(tail, "harvest season crop crop_year");
	if ((word == 0 && after == 0) || tail[after] != '\0' || found.count == 0 ||
		found.count > 2 || found.digits[0] != 4)
		return STATUS_ABSENT;
	int32_t year = found.value[0];
	int32_t next = found.count == 2 ? found.value[1] : year;
	if (found.count == 2 && found.digits[1] == 2)
		next += year - year % 100 + (found.value[1] == 0 ? 100 : 0);
	if (next != year && next != year + 1)
		return fault_set(work->why, STATUS_RANGE,
			"'%.40s' is no season: a season is one year, or a year and the next, as "
			"2014/15",
			work->text);
	work->season = known_i32(year);
	if (next == year)
		return day_take_edtf(work, "%04d", (int)year);
	return day_take_edtf(work, "%04d/%04d", (int)year, (int)next);
}
