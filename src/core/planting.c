/* SPDX-License-Identifier: MIT */
/* A planting day as people remember it: "sometime in the 90s", "60 yrs old", "before Oct 2012". */
#include "core/amount_parts.h"
#include "core/day_parts.h"
#include "core/plain.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What stands around the day itself. */
struct memory {
	bool about;
	bool doubt;
	bool before;
	bool after;
};

static size_t skip_noise(const char *low, struct memory *memory)
{
	size_t at = 0;
	for (;;) {
		size_t noise = plain_word_of(low + at, "sometime some_time some_weekend a_weekend "
						       "in on planted put_in it was is i_think "
						       "about_the from between");
		size_t about = plain_word_of(low + at, "about around circa ca roughly approx");
		size_t doubt =
			plain_word_of(low + at, "probably maybe perhaps possibly looks looks_like");
		size_t before = plain_word_of(low + at, "before by not_later_than");
		size_t after = plain_word_of(low + at, "after since not_before");
		if (low[at] == '~')
			about = 1;
		memory->about = memory->about || about > 0;
		memory->doubt = memory->doubt || doubt > 0;
		memory->before = memory->before || before > 0;
		memory->after = memory->after || after > 0;
		size_t used = noise + about + doubt + before + after;
		if (used == 0)
			return at;
		at += used;
		at += strspn(low + at, " .,");
	}
}

static struct number_rules point_rules(void)
{
	return (struct number_rules){.style = NUMBERS_POINT};
}

/* "60 yrs old", "looks 40 or 50", "age 15-20", "15-20 yrs": years of the place's calendar, since a
 * birthday nobody knows lies between. */
static enum status read_age(struct day_work *work, const struct memory *memory)
{
	size_t at = plain_word_of(work->low, "age aged");
	bool is_age = at > 0 || (memory->doubt && plain_is_digit(work->low[0]));
	at += at > 0;
	struct number_rules rules = point_rules();
	struct amount amount;
	struct amount_notes notes;
	size_t used = 0;
	if (amount_scan_plain(work->low + at, &rules, &amount, &notes, &used, NULL) != STATUS_OK)
		return STATUS_ABSENT;
	const char *rest = work->low + at + used;
	rest += strspn(rest, " -");
	size_t old = plain_word_of(rest, "old years_old year_old");
	bool years = notes.unit != NULL && strcmp(notes.unit->name, "year") == 0;
	if (rest[old] != '\0' || (old == 0 && !is_age && !years) || (notes.unit != NULL && !years))
		return STATUS_ABSENT;
	if (notes.high > 5000 || (notes.unit == NULL && old == 0 && notes.low > 400))
		return STATUS_ABSENT;
	struct date base;
	enum status status = day_base(work, &base);
	if (status != STATUS_OK)
		return status;
	int now = (int)date_parts(base).year;
	char mark = memory->doubt && old == 0 ? '?' : '~';
	return day_take_edtf(
		work, "%04d%c/%04d%c", now - (int)notes.high - 1, mark, now - (int)notes.low, mark);
}

/* "about 8 years ago", "a year or two ago", "18 months ago". */
static enum status read_years_ago(struct day_work *work)
{
	struct number_rules rules = point_rules();
	struct amount amount;
	struct amount_notes notes;
	size_t used = 0;
	size_t two = plain_word_of(work->low, "a_year_or_two_ago one_or_two_years_ago");
	if (two > 0 && work->low[two] == '\0') {
		int now = (int)date_parts(work->context->today).year;
		return day_take_edtf(work, "%04d~/%04d~", now - 2, now - 1);
	}
	if (amount_scan_plain(work->low, &rules, &amount, &notes, &used, NULL) != STATUS_OK ||
		notes.unit == NULL || strcmp(notes.unit->name, "year") != 0)
		return STATUS_ABSENT;
	const char *rest = work->low + used + strspn(work->low + used, " ");
	size_t ago = plain_word_of(rest, "ago back");
	if (ago == 0 || rest[ago] != '\0' || notes.high > 5000)
		return STATUS_ABSENT;
	struct date base;
	enum status status = day_base(work, &base);
	if (status != STATUS_OK)
		return status;
	int now = (int)date_parts(base).year;
	if (notes.low < notes.high)
		return day_take_edtf(
			work, "%04d~/%04d~", now - (int)notes.high, now - (int)notes.low);
	return day_take_edtf(work, "%04d~", now - (int)notes.low);
}

static enum status read_plain_day(struct day_work *work, const struct memory *memory)
{
	enum status status = read_age(work, memory);
	if (status == STATUS_ABSENT)
		status = read_years_ago(work);
	if (status == STATUS_ABSENT)
		status = day_read_any(work);
	return status;
}

/* ".. to that day" or "that day .. on". */
static enum status open_end(struct day_work *work, const struct memory *memory)
{
	char text[EDTF_SIZE];
	memcpy(text, work->span.text, sizeof(text));
	const char *slash = strchr(text, '/');
	if (memory->before)
		return day_take_edtf(work, "../%s", slash == NULL ? text : slash + 1);
	return day_take_edtf(work, "%.*s/..", (int)strcspn(text, "/"), text);
}

/* The words themselves, or, where they are no day, those in brackets behind them. */
static enum status read_around_brackets(
	struct day_work *work, struct plain *plain, struct memory *memory)
{
	char *open = strchr(plain->text, '(');
	char *close = open == NULL ? NULL : strchr(open, ')');
	if (close == NULL || close[1] != '\0')
		return read_plain_day(work, memory);
	size_t from = (size_t)(open - plain->text);
	size_t to = (size_t)(close - plain->text);
	plain->text[to] = '\0';
	plain->low[to] = '\0';
	work->text = plain->text + from + 1;
	work->low = plain->low + from + 1;
	return read_plain_day(work, memory);
}

enum status planting_read(const char *text, const struct line_context *context,
	struct date_span *out, struct fault *why)
{
	struct plain plain;
	struct memory memory = {0};
	enum status status = plain_make(text, DAY_TEXT_SIZE, &plain, why);
	if (status != STATUS_OK)
		return status;
	if (plain.length == 0 || plain_word_of(plain.low, "unknown not_known") == plain.length) {
		*out = (struct date_span){.text = ""};
		return STATUS_OK;
	}
	if (plain.length >= DAY_TEXT_SIZE - 1)
		return fault_set(
			why, STATUS_SYNTAX, "'%.40s...' is too long for a day", plain.text);
	size_t at = skip_noise(plain.low, &memory);
	struct day_work work = {.context = context,
		.planting = true,
		.text = plain.text + at,
		.low = plain.low + at,
		.why = why};
	status = read_around_brackets(&work, &plain, &memory);
	if (status == STATUS_ABSENT)
		return fault_set(why, STATUS_SYNTAX,
			"'%.60s' is not a planting day: write 2015, 2015-04, about 2015, the 90s, "
			"before 2012, 8 years ago or 60 years old",
			plain.text);
	if (status == STATUS_OK && (memory.before || memory.after))
		status = open_end(&work, &memory);
	if (status != STATUS_OK)
		return status;
	if (memory.about || memory.doubt)
		day_mark(&work.span, memory.about, memory.doubt && !work.span.about);
	*out = work.span;
	return STATUS_OK;
}
