/* SPDX-License-Identifier: MIT */
/* Days said by their distance from today: yesterday, Tues, 3 weeks ago, Christmas. */
#include "core/amount_parts.h"
#include "core/day_parts.h"
#include "core/plain.h"

#include <string.h>

static const char *const weekdays[7] = {"monday mon", "tuesday tues tue", "wednesday weds wed",
	"thursday thurs thur thu", "friday fri", "saturday sat", "sunday sun"};

static const struct {
	const char *words;
	int32_t offset;
	bool ahead; /* only a plan has it */
} near_days[] = {
	{"today this_morning this_afternoon this_evening last_night tonight", 0, false},
	{"yesterday yesterday_morning yesterday_evening", -1, false},
	{"the_day_before_yesterday day_before_yesterday", -2, false},
	{"tomorrow", 1, true},
};

static const struct {
	const char *words;
	int8_t month; /* 0: moves from country to country, or from year to year */
	int8_t day;
} feasts[] = {
	{"christmas christmas_day xmas xmas_day", 12, 25},
	{"christmas_eve", 12, 24},
	{"boxing_day", 12, 26},
	{"new_year new_years new_year's_day new_years_day", 1, 1},
	{"new_year's_eve new_years_eve", 12, 31},
	{"valentine valentines valentine's valentine's_day valentines_day", 2, 14},
	{"halloween hallowe'en", 10, 31},
	{"mother's_day mothers_day father's_day fathers_day easter easter_sunday easter_monday "
	 "good_friday thanksgiving labor_day labour_day memorial_day",
		0, 0},
};

enum status day_base(const struct day_work *work, struct date *base)
{
	const struct line_context *context = work->context;
	if (context->from_file && !context->file_day.known)
		return fault_set(work->why, STATUS_DOUBT,
			"'%.40s' in a file counts from the day it was written: put a line '@ DAY' "
			"above, or write the day",
			work->text);
	*base = context->from_file ? context->file_day.value : context->today;
	return STATUS_OK;
}

static enum status take_offset(struct day_work *work, int32_t days)
{
	struct date base;
	enum status status = day_base(work, &base);
	if (status == STATUS_OK)
		day_take(work, date_add_days(base, days));
	return status;
}

static bool is_whole(const char *text, size_t used)
{
	return used > 0 && text[used] == '\0';
}

static enum status read_near(struct day_work *work)
{
	for (size_t i = 0; i < sizeof(near_days) / sizeof(near_days[0]); i++) {
		if (!is_whole(work->low, plain_word_of(work->low, near_days[i].words)))
			continue;
		return take_offset(work, near_days[i].offset);
	}
	return STATUS_ABSENT;
}

/* Tuesday: the last one not after today; planned, the next one not before. */
static enum status read_weekday(struct day_work *work)
{
	const char *low = work->low;
	size_t last = plain_word(low, "last");
	low += last + plain_word_of(low + last, "on next this");
	low += strspn(low, " ");
	for (int32_t day = 0; day < 7; day++) {
		size_t used = plain_word_of(low, weekdays[day]);
		if (low[used] == '.')
			used++;
		if (!is_whole(low, used))
			continue;
		struct date base;
		enum status status = day_base(work, &base);
		if (status != STATUS_OK)
			return status;
		int32_t back = (date_weekday(base) - day + 7) % 7;
		if (back == 0 && last > 0)
			back = 7;
		int32_t ahead = (7 - back) % 7;
		day_take(work, date_add_days(base, work->planning ? ahead : -back));
		return STATUS_OK;
	}
	return STATUS_ABSENT;
}

/* A month that lies `months` before or after that of base. */
static enum status take_month(struct day_work *work, struct date base, int32_t months)
{
	struct date_parts parts = date_parts(base);
	int32_t month = parts.year * 12 + parts.month - 1 + months;
	return day_take_edtf(work, "%04d-%02d", (int)(month / 12), (int)(month % 12 + 1));
}

static enum status take_distance(struct day_work *work, const struct amount *span,
	const struct amount_notes *notes, int sign)
{
	struct date base;
	enum status status = day_base(work, &base);
	if (status != STATUS_OK)
		return status;
	int32_t low = (int32_t)notes->low;
	int32_t high = (int32_t)notes->high;
	if (low > 1000 || high > 1000 || !span->high.known)
		return fault_set(work->why, STATUS_RANGE, "'%.40s' is too far away", work->text);
	bool exact = low == high && (double)low == notes->low;
	if (strcmp(notes->unit->name, "month") == 0 && exact)
		return take_month(work, base, sign * low);
	if (strcmp(notes->unit->name, "year") == 0 && exact)
		return day_take_edtf(work, "%04d", (int)(date_parts(base).year + sign * low));
	struct date near = date_add_days(base, sign * (int32_t)span->low.value);
	struct date far = date_add_days(base, sign * (int32_t)span->high.value);
	work->span = sign < 0 ? date_span_between(far, near) : date_span_between(near, far);
	return STATUS_OK;
}

/* "3 weeks ago", "a couple of days ago"; planned: "in 3 weeks". */
static enum status read_distance(struct day_work *work)
{
	size_t in = plain_word(work->low, "in");
	const char *text = work->low + in + (in > 0);
	struct number_rules rules = {.style = NUMBERS_POINT};
	struct amount span;
	struct amount_notes notes;
	size_t used = 0;
	if (amount_scan_plain(text, &rules, &span, &notes, &used, NULL) != STATUS_OK ||
		span.dimension != DIMENSION_DAYS)
		return STATUS_ABSENT;
	text += used + strspn(text + used, " ");
	bool ago = is_whole(text, plain_word_of(text, "ago back earlier"));
	bool ahead = text[0] == '\0' && in > 0;
	if (!ago && !ahead)
		return STATUS_ABSENT;
	enum status status = take_distance(work, &span, &notes, ago ? -1 : 1);
	if (status == STATUS_OK && span.about)
		day_mark(&work->span, true, false);
	return status;
}

/* "last year", "this month". */
static enum status read_near_span(struct day_work *work)
{
	size_t step = plain_word_of(work->low, "last this next");
	const char *unit = work->low + step + (step > 0);
	int32_t offset = work->low[0] == 'l' ? -1 : work->low[0] == 't' ? 0 : 1;
	bool year = is_whole(unit, plain_word(unit, "year"));
	if (step == 0 || (!year && !is_whole(unit, plain_word(unit, "month"))))
		return STATUS_ABSENT;
	struct date base;
	enum status status = day_base(work, &base);
	if (status != STATUS_OK)
		return status;
	if (year)
		return day_take_edtf(work, "%04d", (int)(date_parts(base).year + offset));
	return take_month(work, base, offset);
}

static enum status read_feast(struct day_work *work)
{
	const char *low = work->low;
	for (size_t i = 0; i < sizeof(feasts) / sizeof(feasts[0]); i++) {
		size_t used = plain_word_of(low, feasts[i].words);
		const char *rest = low + used + strspn(low + used, " ,");
		size_t digits = strspn(rest, "0123456789");
		if (used == 0 || rest[digits] != '\0' || (digits != 0 && digits != 4))
			continue;
		if (feasts[i].month == 0)
			return fault_set(work->why, STATUS_DOUBT,
				"'%.40s' falls on different days by country and year: write the "
				"day, as 10 May",
				work->text);
		if (digits == 0)
			return day_take_yearless(work, feasts[i].month, feasts[i].day);
		return day_take_edtf(work, "%.4s-%02d-%02d", rest, feasts[i].month, feasts[i].day);
	}
	return STATUS_ABSENT;
}

enum status day_read_words(struct day_work *work)
{
	enum status (*const forms[])(struct day_work *) = {
		read_near, read_weekday, read_near_span, read_distance, read_feast};
	for (size_t i = 0; i < sizeof(forms) / sizeof(forms[0]); i++) {
		enum status status = forms[i](work);
		if (status != STATUS_ABSENT)
			return status;
	}
	return STATUS_ABSENT;
}

/* "10 days after bloom", "2 wks after McIntosh", "second leaf": they need an anchor in the log. */
enum status day_read_relative(struct day_work *work)
{
	for (const char *at = work->low; *at != '\0'; at++) {
		bool starts = at == work->low || at[-1] == ' ';
		bool after = starts && at > work->low && plain_word_of(at, "after before") > 0;
		if (after && plain_is_digit(work->low[0]))
			return fault_set(work->why, STATUS_DOUBT,
				"'%.60s' counts from another day of the log: write the day itself, "
				"as 12 May",
				work->text);
		if (starts && plain_word_of(at, "leaf year_of_bearing year_of_bloom") > 0)
			return fault_set(work->why, STATUS_DOUBT,
				"'%.60s' counts seasons and needs a year to count from: write the "
				"year of planting",
				work->text);
	}
	if (plain_word_of(work->low, "petal_fall bloom full_bloom harvest leaf_fall") > 0)
		return fault_set(work->why, STATUS_DOUBT,
			"'%.60s' is a stage, not a day: write the day it happened", work->text);
	return STATUS_ABSENT;
}
