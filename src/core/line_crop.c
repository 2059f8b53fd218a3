/* SPDX-License-Identifier: MIT */
/* The words of picks and losses. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/line_parts.h"

static const char lost_words[] =
	"rotten spoiled spoilt mouldy moldy bad dropped fallen on_the_ground split wormy maggoty "
	"eaten bird_pecked pecked";

/* A kind of the almanac, in the singular or the plural: figs, peaches, cherries. */
static bool is_kind(struct line_work *work, size_t from, size_t to)
{
	struct name_match match;
	const char *low = work->low;
	if (line_find(work, NAME_KIND, from, to, &match, 1) > 0)
		return true;
	if (to < from + 4 || low[to - 1] != 's')
		return false;
	if (line_find(work, NAME_KIND, from, to - 1, &match, 1) > 0)
		return true;
	if (low[to - 2] != 'e')
		return false;
	if (line_find(work, NAME_KIND, from, to - 2, &match, 1) > 0)
		return true;
	const struct line_names *names = &work->context->names;
	const char *singular =
		arena_format(work->arena, "%.*sy", (int)(to - 3 - from), work->text + from);
	return low[to - 3] == 'i' && names->find != NULL &&
	       names->find(names->owner, NAME_KIND, singular, strlen(singular), &match, 1) > 0;
}

/* What the fruit is says no more than the tree does: "1 1/2 bu pears", "half of the crop". */
static enum status kind_name_item(struct line_work *work)
{
	size_t length = 0;
	size_t first = line_word(work, work->at, &length);
	size_t end = first + length;
	if (length == 0 || !plain_is_letter(work->low[first]))
		return STATUS_ABSENT;
	size_t noun = plain_word_of(work->low + first, "fruit fruits crop fruitlets the_crop");
	size_t second_length = 0;
	size_t second = line_word(work, end, &second_length);
	bool two = work->low[end] == ' ' && second_length > 0;
	if (noun > 0)
		end = first + noun;
	else if (two && is_kind(work, first, second + second_length))
		end = second + second_length;
	else if (!is_kind(work, first, end))
		return STATUS_ABSENT;
	line_take(work, end - work->at);
	return STATUS_OK;
}

static enum status none_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t used = plain_word_of(low, "none nil nothing none_seen zero no_fruit");
	bool zero = low[0] == '0' && (low[1] == '\0' || low[1] == ' ' || low[1] == ',');
	if (used == 0 && !zero)
		return STATUS_ABSENT;
	if (work->amount_count > 0)
		return line_fail(work, STATUS_DOUBT, work->at,
			"'%s' and none: was anything picked? write one of them",
			work->amounts[0].typed);
	line_add_none(work);
	line_take(work, zero ? 1 : used);
	return STATUS_OK;
}

/* "most left on", "2/3 picked", "60% left", "last". */
static enum status partial_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t last = plain_word_of(low,
		"last last_pick the_last last_of_them the_last_of_them all_picked finished "
		"picked_out the_rest");
	size_t part = plain_word_of(low,
		"most_left_on most_left most_still_on some_left some_left_on more_to_come "
		"rest_left_on first_pick the_first partial partly part_pick not_all");
	size_t blank = last > 0 && low[last] == ' ';
	if (plain_word_of(low + last + blank, "week year month season monday tuesday wednesday "
					      "thursday friday saturday sunday") > 0)
		last = 0;
	if (last + part > 0) {
		line_take(work, last + part);
		return line_add_word(work, FIELD_PARTIAL, last > 0 ? "last" : "partial");
	}
	struct quantity share;
	if (line_scan_share(work, work->at, &share) != STATUS_OK)
		return STATUS_ABSENT;
	const char *rest = work->low + share.to + (work->low[share.to] == ' ');
	size_t of = plain_word_of(rest, "of_the_crop of_crop of_it of_them");
	rest += of + (of > 0 && rest[of] == ' ');
	size_t picked = plain_word_of(rest, "picked done off");
	size_t left = plain_word_of(rest, "left left_on still_on to_go to_come still_hanging");
	if (picked + left == 0)
		return STATUS_ABSENT;
	work->has_number = true;
	enum status status =
		line_add_amount(work, left > 0 ? FIELD_SHARE_LEFT : FIELD_SHARE, &share);
	line_take(work, (size_t)(rest - low) + picked + left);
	return status == STATUS_OK ? line_add_word(work, FIELD_PARTIAL, "partial") : status;
}

/* "70+ so far" is a running total: words, never this pick's amount. */
static enum status so_far_item(struct line_work *work)
{
	struct quantity from;
	if (line_scan_quantity(work, work->at, &from) != STATUS_OK)
		return STATUS_ABSENT;
	const char *rest = work->low + from.to + (work->low[from.to] == ' ');
	size_t used = plain_word_of(rest, "so_far to_date this_year_so_far");
	if (used == 0)
		return STATUS_ABSENT;
	size_t to = (size_t)(rest - work->low) + used;
	enum status status = line_add_detail(work, FIELD_WORDS, work->at, to);
	line_remark(work, "'%.*s' is kept in words: a running total is no pick",
		(int)(to - work->at), work->text + work->at);
	line_take(work, to - work->at);
	return status;
}

/* "on the food bank's scale": how it was weighed. */
static enum status scale_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t lead = plain_word_of(low, "on by with");
	size_t at = lead;
	for (int words = 0; lead > 0 && words < 6 && low[at] == ' '; words++) {
		at++;
		size_t scale = plain_word_of(low + at, "scale scales");
		size_t length = strcspn(low + at, " ,");
		at += length;
		if (scale == 0)
			continue;
		enum status status = line_add_detail(work, FIELD_METHOD, work->at, work->at + at);
		line_take(work, at);
		return status;
	}
	return STATUS_ABSENT;
}

/* Digits further along the line: the second figure of "75 lb off 2 trees, 57 from ...". */
static bool later_number(const struct line_work *work, size_t at, double *value)
{
	while (at < work->end && !plain_is_digit(work->low[at]))
		at++;
	if (at >= work->end)
		return false;
	char figure[16] = "";
	size_t length = strspn(work->low + at, "0123456789.");
	if (length >= sizeof(figure))
		return false;
	memcpy(figure, work->low + at, length);
	*value = strtod(figure, NULL);
	return true;
}

/* "139 kg from 3 trees": a figure for several trees is not shared out. */
static enum status group_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t lead = plain_word_of(low, "off from of between over");
	struct quantity count;
	if (lead == 0 || line_scan_quantity(work, work->at + lead + 1, &count) != STATUS_OK)
		return STATUS_ABSENT;
	const char *rest = work->low + count.to + (work->low[count.to] == ' ');
	if (plain_word_of(rest, "trees plants bushes") == 0 || count.notes.low < 1)
		return STATUS_ABSENT;
	if (work->amount_count == 0)
		return STATUS_ABSENT;
	const struct amount *amount = &work->amounts[work->amount_count - 1];
	const struct unit *unit = work->units[work->amount_count - 1];
	const char *name = unit == NULL ? "fruit" : unit->name;
	double factor = unit == NULL ? 1000 : (double)unit->numerator / (double)unit->denominator;
	double whole = (double)amount->low.value / factor;
	double one = 0;
	if ((int)count.notes.low == 2 && later_number(work, (size_t)(rest - work->low), &one) &&
		one < whole)
		return line_fail(work, STATUS_DOUBT, work->at,
			"'%s' of two trees: log each on its own line, %.5g %s on the one and %.5g "
			"%s on the other",
			amount->typed, one, name, whole - one, name);
	return line_fail(work, STATUS_DOUBT, work->at,
		"'%s' of %.10g trees (%.1f %s a tree on average) is not shared out: log it on "
		"their "
		"spot or area, as area NAME picked %s total, or tree by tree",
		amount->typed, count.notes.low, whole / count.notes.low, name, amount->typed);
}

/* Words that change what the line is about. */
static enum status asked_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	if (low[0] == '-' && (low[1] == '\0' || low[1] == ' ') && work->amount_count == 0)
		return line_fail(work, STATUS_DOUBT, work->at,
			"'-' could be none seen, or not recorded: write none for a zero, or "
			"nothing "
			"where it was not weighed");
	if (plain_word_of(low, "avg average mean on_average") > 0)
		return line_fail(work, STATUS_DOUBT, work->at,
			"an average has no total without a count of trees: log tree by tree, or on "
			"the "
			"area as total");
	size_t made = plain_word_of(low, "juice cider wine jam sauce jelly puree dried perry");
	if (made > 0 && work->amount_count > 0) {
		char sum[40];
		struct number_rules rules = {
			.units = UNITS_US, .gallon = work->context->numbers.gallon};
		const struct amount *last = &work->amounts[work->amount_count - 1];
		if (last->dimension == DIMENSION_VOLUME && last->low.known)
			(void)snprintf(sum, sizeof(sum), "%.2f gal",
				(double)last->low.value / 3785411.784);
		else
			(void)amount_format(last, &rules, sum, sizeof(sum));
		return line_fail(work, STATUS_DOUBT, work->at,
			"%s of %.*s is what a pick became, not fruit: log the fruit as picked, and "
			"what became of it as '%s used %s %s'; or put it after ';'",
			sum, (int)made, low, line_label(work), work->amounts[0].typed,
			plain_word_of(low, "dried") > 0 ? "dried" : "made into it");
	}
	if (work->amount_count > 0 &&
		plain_word_of(low, "on_a_big_year in_a_big_year on_a_good_year "
				   "in_a_good_year in_a_bad_year in_a_poor_year "
				   "some_years most_years") > 0)
		return line_fail(work, STATUS_DOUBT, work->at,
			"which year? write it behind the amount, as '%s @ 2014'",
			work->amounts[0].typed);
	return STATUS_ABSENT;
}

/* "29 lb and 2 buckets rotten": the second is a loss. */
static enum status lost_in_pick(struct line_work *work)
{
	size_t lost = plain_word_of(work->low + work->at, lost_words);
	if (lost == 0 || work->amount_count == 0)
		return STATUS_ABSENT;
	const char *label = line_label(work);
	const char *day = line_day_text(work);
	size_t second = work->amount_at[work->amount_count - 1];
	size_t first = work->verb_at + work->verb_length;
	size_t end = second;
	while (end > first && strchr(" ,+", work->text[end - 1]) != NULL)
		end--;
	if (end > first + 4 && strncmp(work->low + end - 4, " and", 4) == 0)
		end -= 4;
	if (work->amount_count > 1)
		line_offer(work, "%s picked%.*s%s", label, (int)(end - first), work->text + first,
			day);
	line_offer(work, "%s lost %.*s%s", label, (int)(work->at + lost - second),
		work->text + second, day);
	return line_fail(work, STATUS_DOUBT, second,
		"'%.*s' is a loss, apart from what was picked: the line would be '%s'%s%s%s",
		(int)(work->at + lost - second), work->text + second, work->out->lines[0],
		work->out->line_count > 1 ? " and '" : "",
		work->out->line_count > 1 ? work->out->lines[1] : "",
		work->out->line_count > 1 ? "'" : "");
}

/* "birds got the lot": a crop was there, none of it was picked. */
static enum status taken_item(struct line_work *work)
{
	size_t at = work->at;
	for (int words = 0; words < 3; words++) {
		size_t length = 0;
		size_t word = line_word(work, at, &length);
		if (length == 0)
			return STATUS_ABSENT;
		at = word + length;
		size_t blank = work->low[at] == ' ';
		size_t used = plain_word_of(work->low + at + blank,
			"got_the_lot took_the_lot ate_the_lot had_the_lot got_them_all "
			"took_them_all "
			"ate_them_all had_them_all got_all took_all ate_all got_it_all");
		if (used == 0)
			continue;
		if (work->amount_count > 0)
			return STATUS_ABSENT;
		line_add_none(work);
		enum status status = line_add_detail(work, FIELD_CAUSE, work->at, at);
		line_take(work, at + blank + used - work->at);
		return status;
	}
	return STATUS_ABSENT;
}

static enum status grade_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t used = plain_word_of(low,
		"first_grade second_grade third_grade grade_1 grade_2 grade_one grade_two "
		"1st_grade "
		"2nd_grade 1st 2nd firsts seconds second first windfall windfalls culls big large "
		"medium small undersized ripe unripe under-ripe overripe green best cooking eating "
		"juicing clean marked breba brebas main_crop main");
	if (used == 0)
		return STATUS_ABSENT;
	enum status status = line_add_detail(work, FIELD_GRADE, work->at, work->at + used);
	line_take(work, used);
	return status;
}

/* A year among the words: "good crop 2013, 2014 and 2016". Each year is a line of its own. */
static int years_in(const struct line_work *work, size_t at, int years[LINES_MAX + 1])
{
	int count = 0;
	int before = 0;
	int now = (int)date_parts(work->context->today).year;
	while (at < work->end && count <= LINES_MAX) {
		at += strspn(work->low + at, " ,");
		size_t joiner = plain_word_of(work->low + at, "to and or");
		bool range = joiner > 0 && work->low[at] == 't';
		range = range || (work->low[at] == '-' && count > 0);
		at += joiner + (joiner == 0 && work->low[at] == '-');
		at += strspn(work->low + at, " ");
		size_t digits = strspn(work->low + at, "0123456789");
		int year = digits == 4 ? (int)strtol(work->low + at, NULL, 10) : 0;
		if (year < 1800 || year > now + 1 || plain_is_letter(work->low[at + digits]))
			return work->low[at] == '\0' ? count : 0;
		for (int more = before + 1; range && more < year && count <= LINES_MAX; more++)
			years[count++] = more;
		if (count <= LINES_MAX)
			years[count++] = year;
		before = year;
		at += digits;
	}
	return count;
}

static enum status year_item(struct line_work *work)
{
	int years[LINES_MAX + 1];
	int count = years_in(work, work->at, years);
	if (count == 0)
		return STATUS_ABSENT;
	size_t first = work->verb_at + work->verb_length;
	const char *label = line_label(work);
	size_t end = work->at;
	while (end > first && strchr(" ,", work->text[end - 1]) != NULL)
		end--;
	if (count == 1 && work->amount_count == 0 && end <= first)
		return line_fail(work, STATUS_DOUBT, work->at,
			"'%d' could be a year or a count: write '@ %d', or '%d fruit'", years[0],
			years[0], years[0]);
	for (int i = 0; i < count && i < LINES_MAX; i++)
		line_offer(work, "%s picked%.*s @ %d", label, (int)(end - first),
			work->text + first, years[i]);
	return line_fail(work, STATUS_DOUBT, work->at,
		"%d year%s in one line: one line logs one season; the line would be '%s'%s", count,
		count == 1 ? "" : "s", work->out->lines[0],
		count == 1 ? "" : ", and so on for each year");
}

static enum status read_first(
	struct line_work *work, enum status (*const readers[])(struct line_work *), size_t count)
{
	for (size_t i = 0; i < count; i++) {
		enum status status = readers[i](work);
		if (status != STATUS_ABSENT)
			return status;
	}
	return STATUS_ABSENT;
}

static enum status unweighed_item(struct line_work *work)
{
	size_t used = plain_word_of(work->low + work->at,
		"didn't_weigh didnt_weigh did_not_weigh not_weighed unweighed not_counted "
		"didn't_count");
	if (used == 0)
		return STATUS_ABSENT;
	enum status status = line_add_detail(work, FIELD_WORDS, work->at, work->at + used);
	line_take(work, used);
	return status;
}

enum status line_pick_item(struct line_work *work)
{
	enum status (*const readers[])(struct line_work *) = {asked_item, none_item, unweighed_item,
		line_pick_use_item, partial_item, so_far_item, group_item, scale_item, lost_in_pick,
		grade_item, year_item, taken_item, kind_name_item};
	return read_first(work, readers, sizeof(readers) / sizeof(readers[0]));
}

/* The verb itself may be the cause: "dropped 20 fruit". */
static enum status loss_verb_item(struct line_work *work)
{
	if (work->at != work->verb_at)
		return STATUS_ABSENT;
	const char *verb = work->low + work->at;
	const char *cause = plain_word_of(verb, "dropped drop drops") > 0      ? "dropped"
			    : plain_word_of(verb, "spoiled spoilt rotted") > 0 ? "spoiled"
									       : NULL;
	line_take(work, work->verb_length);
	return cause == NULL ? STATUS_OK : line_add_word(work, FIELD_CAUSE, cause);
}

/* "lost all to frost". */
static enum status loss_all_item(struct line_work *work)
{
	size_t used = plain_word_of(work->low + work->at, "all everything the_lot all_of_it");
	if (used == 0 || work->amount_count > 0)
		return STATUS_ABSENT;
	struct quantity all = {.amount = {.dimension = DIMENSION_SHARE,
				       .low = known_i64(1000),
				       .high = known_i64(1000)},
		.from = work->at};
	text_copy_n(all.amount.typed, sizeof(all.amount.typed), work->text + work->at, used);
	line_take(work, used);
	return line_add_amount(work, FIELD_SHARE, &all);
}

enum status line_loss_item(struct line_work *work)
{
	enum status (*const readers[])(struct line_work *) = {
		loss_verb_item, loss_all_item, none_item, group_item, kind_name_item};
	return read_first(work, readers, sizeof(readers) / sizeof(readers[0]));
}

/* "thinned to one per cluster": what was left, in words. */
static enum status thin_to_item(struct line_work *work)
{
	if (plain_word(work->low + work->at, "to") == 0)
		return STATUS_ABSENT;
	size_t to = work->at + strcspn(work->low + work->at, ",");
	enum status status = line_add_detail(work, FIELD_WORDS, work->at, to);
	line_take(work, to - work->at);
	return status;
}

enum status line_thin_item(struct line_work *work)
{
	enum status (*const readers[])(struct line_work *) = {
		none_item, thin_to_item, kind_name_item};
	return read_first(work, readers, sizeof(readers) / sizeof(readers[0]));
}
