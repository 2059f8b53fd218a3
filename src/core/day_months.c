/* SPDX-License-Identifier: MIT */
/* Days with the name of a month or a season: 12 May, May 12th 2026, mid Feb, late spring 2019. */
#include "core/day_parts.h"
#include "core/plain.h"

#include <stdlib.h>
#include <string.h>

enum { TOKENS_MAX = 6 };

enum token_kind { TOKEN_NUMBER, TOKEN_MONTH, TOKEN_SEASON, TOKEN_PART };

struct token {
	enum token_kind kind;
	int32_t value;   /* number, month 1..12, season 21..24, part 0..2: early, mid, late */
	size_t digits;   /* of a number; an apostrophe before it makes it a year: '21 */
	bool is_ordinal; /* 12th */
};

static const char *const months[12] = {"january jan", "february febr feb", "march mar", "april apr",
	"may", "june jun", "july jul", "august aug", "september sept sep", "october oct",
	"november nov", "december dec"};
static const char *const seasons[4] = {"spring", "summer", "autumn fall", "winter"};
static const char *const parts[3] = {"early start_of beginning_of the_start_of",
	"mid middle_of the_middle_of", "late end_of the_end_of"};

int32_t day_month_at(const char *text, size_t *used)
{
	for (int32_t i = 0; i < 12; i++) {
		*used = plain_word_of(text, months[i]);
		if (*used > 0)
			return i + 1;
	}
	return 0;
}

static bool take_number(const char *low, size_t *at, struct token *token)
{
	size_t quote = low[*at] == '\'';
	size_t digits = strspn(low + *at + quote, "0123456789");
	if (digits == 0 || digits > 4)
		return false;
	*at += quote;
	*token = (struct token){.kind = TOKEN_NUMBER,
		.value = (int32_t)strtol(low + *at, NULL, 10),
		.digits = quote > 0 && digits == 2 ? 4 : digits};
	*at += digits;
	const char *tail = low + *at;
	token->is_ordinal = digits <= 2 && plain_word_of(tail, "st nd rd th") > 0;
	*at += token->is_ordinal ? 2 : 0;
	return !plain_is_letter(low[*at]);
}

static bool take_word(const char *low, size_t *at, struct token *token)
{
	size_t used = 0;
	int32_t month = day_month_at(low + *at, &used);
	if (month > 0) {
		*token = (struct token){.kind = TOKEN_MONTH, .value = month};
		*at += used;
		return true;
	}
	for (int32_t i = 0; i < 4; i++) {
		used = plain_word_of(low + *at, seasons[i]);
		if (used > 0) {
			*token = (struct token){.kind = TOKEN_SEASON, .value = 21 + i};
			*at += used;
			return true;
		}
		used = i < 3 ? plain_word_of(low + *at, parts[i]) : 0;
		if (used > 0) {
			*token = (struct token){.kind = TOKEN_PART, .value = i};
			*at += used;
			return true;
		}
	}
	return false;
}

/* Cuts the text into tokens; 0 when some of it is none. */
static int tokens_of(const struct day_work *work, struct token tokens[TOKENS_MAX])
{
	int count = 0;
	size_t at = 0;
	const char *low = work->low;
	while (low[at] != '\0') {
		at += strspn(low + at, " ,.-/");
		at += plain_word_of(low + at, "of the on in this next last");
		at += strspn(low + at, " ,.-/");
		if (low[at] == '\0')
			break;
		if (count == TOKENS_MAX || (!take_number(low, &at, &tokens[count]) &&
						   !take_word(low, &at, &tokens[count])))
			return 0;
		count++;
	}
	return count;
}

void day_take(struct day_work *work, struct date day)
{
	work->span = date_span_of(day);
}

/* Is this month and day of year on the right side of today? */
static bool is_near_side(const struct day_work *work, struct date first, struct date last)
{
	struct date today = work->context->today;
	return work->planning ? date_compare(last, today) >= 0 : date_compare(first, today) <= 0;
}

enum status day_take_yearless(struct day_work *work, int32_t month, int32_t day)
{
	int32_t year = date_parts(work->context->today).year;
	int32_t step = work->planning ? 1 : -1;
	struct date date;
	if (day > 29 || month != 2 || day < 1) {
		enum status status = date_make(year, month, day, &date, work->why);
		if (status != STATUS_OK)
			return status;
	}
	/* At most eight years lie between two leap days. */
	for (int32_t tries = 0; tries <= 8; tries++, year += step) {
		if (year < 1 || date_make(year, month, day, &date, NULL) != STATUS_OK ||
			!is_near_side(work, date, date))
			continue;
		day_take(work, date);
		return STATUS_OK;
	}
	return fault_set(work->why, STATUS_RANGE, "no year fits '%.40s'", work->text);
}

static int32_t nearest_year_of_month(const struct day_work *work, int32_t month)
{
	int32_t year = date_parts(work->context->today).year;
	struct date first = date_of_month_day(year, (struct month_day){(int8_t)month, 1});
	struct date last = date_of_month_day(year, (struct month_day){(int8_t)month, 31});
	if (is_near_side(work, first, last))
		return year;
	return work->planning ? year + 1 : year - 1;
}

/* A whole month, or its first, second or last part: 1-10, 11-20, 21 to the end. */
static enum status take_month(
	struct day_work *work, const struct token *part, int32_t month, int32_t year)
{
	if (part == NULL)
		return day_take_edtf(work, "%04d-%02d", (int)year, (int)month);
	struct date low;
	enum status status = date_make(year, month, part->value * 10 + 1, &low, work->why);
	if (status != STATUS_OK)
		return status;
	int32_t end = part->value == 2 ? date_days_in_month(year, month) : part->value * 10 + 10;
	work->span = date_span_between(low, date_add_days(low, end - part->value * 10 - 1));
	return STATUS_OK;
}

static int32_t year_of(const struct day_work *work, const struct token *token)
{
	if (token->value >= 100)
		return token->value;
	int32_t now = date_parts(work->context->today).year;
	int32_t year = now - now % 100 + token->value;
	return year > now && !work->planning ? year - 100 : year;
}

static bool is_number(const struct token *token, size_t least, size_t most)
{
	return token->kind == TOKEN_NUMBER && token->digits >= least && token->digits <= most;
}

static enum status take_day(
	struct day_work *work, int32_t day, int32_t month, const struct token *year)
{
	struct date date;
	if (year == NULL)
		return day_take_yearless(work, month, day);
	enum status status = date_make(year_of(work, year), month, day, &date, work->why);
	if (status == STATUS_OK)
		day_take(work, date);
	return status;
}

/* "Mar 21" as a planting day: the 21st, or the year? After '@' it is the day. */
static enum status ask_day_or_year(struct day_work *work, const struct token *tokens)
{
	return fault_set(work->why, STATUS_DOUBT,
		"'%.40s' could be %d %s or %s %d: write 21 March 2026, or 2021-03 for the month",
		work->text, (int)tokens[1].value, date_month_name(tokens[0].value),
		date_month_name(tokens[0].value), (int)year_of(work, &tokens[1]));
}

/* Tokens that hold a month. */
static enum status read_month_tokens(struct day_work *work, const struct token *tokens, int count)
{
	const struct token *part = tokens[0].kind == TOKEN_PART ? tokens : NULL;
	if (part != NULL) {
		tokens++;
		count--;
	}
	const struct token *last = count == 3 ? &tokens[2] : NULL;
	if (count < 1 || count > 3 || (last != NULL && !is_number(last, 2, 4)))
		return STATUS_ABSENT;
	if (tokens[0].kind == TOKEN_MONTH) {
		if (count == 1)
			return take_month(work, part, tokens[0].value,
				nearest_year_of_month(work, tokens[0].value));
		if (is_number(&tokens[1], 4, 4) && count == 2)
			return take_month(work, part, tokens[0].value, year_of(work, &tokens[1]));
		if (part != NULL || !is_number(&tokens[1], 1, 2))
			return STATUS_ABSENT;
		if (work->planting && count == 2 && !tokens[1].is_ordinal)
			return ask_day_or_year(work, tokens);
		return take_day(work, tokens[1].value, tokens[0].value, last);
	}
	bool day_first = count >= 2 && part == NULL && is_number(&tokens[0], 1, 2) &&
			 tokens[1].kind == TOKEN_MONTH;
	return day_first ? take_day(work, tokens[0].value, tokens[1].value, last) : STATUS_ABSENT;
}

static enum status ask_season_year(struct day_work *work, int32_t year)
{
	return fault_set(work->why, STATUS_DOUBT,
		"'%.40s' runs over New Year here: December %d to February %d, or December %d to "
		"February %d? write the months",
		work->text, (int)year - 1, (int)year, (int)year, (int)year + 1);
}

/* A season whose first month is `month` of `year`; a part is one month of it. */
static enum status take_season(struct day_work *work, const struct token *part,
	const struct token *season, int32_t month, int32_t year)
{
	if (part == NULL && month != 12)
		return day_take_edtf(work, "%04d-%02d", (int)year, (int)season->value);
	if (part == NULL)
		return day_take_edtf(work, "%04d-12/%04d-02", (int)year, (int)year + 1);
	int32_t months_in = month - 1 + part->value;
	return day_take_edtf(
		work, "%04d-%02d", (int)(year + months_in / 12), (int)(months_in % 12 + 1));
}

static int32_t nearest_season_year(const struct day_work *work, int32_t month)
{
	int32_t year = date_parts(work->context->today).year;
	struct date first = date_of_month_day(year, (struct month_day){(int8_t)month, 1});
	struct date last = date_add_days(first, 89);
	if (work->planning) {
		struct date before = date_add_days(
			date_of_month_day(year - 1, (struct month_day){(int8_t)month, 1}), 89);
		if (date_compare(before, work->context->today) >= 0)
			return year - 1;
	}
	if (is_near_side(work, first, last))
		return year;
	return work->planning ? year + 1 : year - 1;
}

static enum status read_season_tokens(struct day_work *work, const struct token *tokens, int count)
{
	const struct token *part = tokens[0].kind == TOKEN_PART ? tokens : NULL;
	if (part != NULL) {
		tokens++;
		count--;
	}
	if (count < 1 || count > 3 || tokens[0].kind != TOKEN_SEASON)
		return STATUS_ABSENT;
	enum hemisphere hemisphere = work->context->hemisphere;
	if (hemisphere == HEMISPHERE_UNKNOWN)
		return fault_set(work->why, STATUS_DOUBT,
			"'%.40s' falls half a year apart north and south: set the place's "
			"hemisphere, or write the months",
			work->text);
	int32_t north = (tokens[0].value - 20) * 3;
	int32_t month = hemisphere == HEMISPHERE_SOUTH ? (north + 5) % 12 + 1 : north;
	if (count == 1)
		return take_season(work, part, &tokens[0], month, nearest_season_year(work, month));
	if (!is_number(&tokens[1], 4, 4) || (count == 3 && !is_number(&tokens[2], 2, 4)))
		return STATUS_ABSENT;
	int32_t year = tokens[1].value;
	bool crosses = month == 12;
	if (count == 3 && !crosses)
		return fault_set(work->why, STATUS_DOUBT,
			"'%.40s' names two years, but %s lies inside one year here: %d or %d?",
			work->text, tokens[0].value == 24 ? "winter" : "this season", (int)year,
			(int)year + 1);
	if (count == 3 && tokens[2].value % 100 != (year + 1) % 100)
		return STATUS_ABSENT;
	if (count == 2 && crosses)
		return ask_season_year(work, year);
	return take_season(work, part, &tokens[0], month, year);
}

enum status day_read_months(struct day_work *work)
{
	struct token tokens[TOKENS_MAX];
	int count = tokens_of(work, tokens);
	if (count == 0)
		return STATUS_ABSENT;
	enum status status = read_month_tokens(work, tokens, count);
	return status == STATUS_ABSENT ? read_season_tokens(work, tokens, count) : status;
}

/* "the 90s", "1990s", "early 1800s": thirds of the ten or the hundred years. */
enum status day_read_decades(struct day_work *work)
{
	const char *low = work->low;
	int32_t third = -1;
	for (int32_t i = 0; i < 3; i++) {
		size_t used = plain_word_of(low, parts[i]);
		if (used > 0 && (low[used] == ' ' || low[used] == '-')) {
			third = i;
			low += used + 1;
			break;
		}
	}
	low += plain_word_of(low, "in_the the in");
	low += strspn(low, " '");
	size_t digits = strspn(low, "0123456789");
	const char *tail = low + digits + (low[digits] == '\'');
	if ((digits != 2 && digits != 4) || strcmp(tail, "s") != 0 || low[digits - 1] != '0')
		return STATUS_ABSENT;
	int32_t year = (int32_t)strtol(low, NULL, 10);
	int32_t now = date_parts(work->context->today).year;
	if (digits == 2) {
		year += now - now % 100;
		year -= year > now ? 100 : 0;
	}
	int32_t length = year % 100 == 0 && digits == 4 ? 100 : 10;
	if (third < 0 && length == 10)
		return day_take_edtf(work, "%03dX", (int)(year / 10));
	if (third < 0)
		return day_take_edtf(work, "%02dXX", (int)(year / 100));
	int32_t first = year + (third * length + 2) / 3;
	int32_t last = year + (third + 1) * length / 3 - (third == 2);
	return day_take_edtf(work, "%04d~/%04d~", (int)first, (int)last);
}
