/* SPDX-License-Identifier: MIT */
/* The items of a line: what is common to all kinds, and amounts in their fields. */
#include <stdlib.h>
#include <string.h>

#include "core/line_parts.h"

void line_take(struct line_work *work, size_t used)
{
	work->at += used;
	work->run_open = false;
	work->joined = false;
}

size_t line_word(const struct line_work *work, size_t at, size_t *length)
{
	at += strspn(work->low + at, " ");
	*length = strcspn(work->low + at, " ,()");
	return at;
}

/* --- details --- */

enum status line_add_word(struct line_work *work, enum field field, const char *text)
{
	if (work->detail_count == DETAILS_MAX)
		return line_fail(work, STATUS_RANGE, work->at,
			"the line says more than one entry holds: put the rest after ';'");
	struct detail *detail = &work->details[work->detail_count++];
	detail->field = field;
	if (!text_copy(detail->text, sizeof(detail->text), text))
		return line_fail(work, STATUS_RANGE, work->at,
			"the %s is longer than %d bytes: put the rest after ';'",
			field_row(field)->label, TEXT_SIZE - 1);
	return STATUS_OK;
}

/* As typed, in the raw words' own signs. */
enum status line_add_detail(struct line_work *work, enum field field, size_t from, size_t to)
{
	const unsigned short *at = work->plain->at;
	while (to > from && strchr(" ,", work->text[to - 1]) != NULL)
		to--;
	while (from < to && strchr(" ,", work->text[from]) != NULL)
		from++;
	size_t first = at[from];
	size_t last = to >= work->plain->length ? at[work->plain->length] : at[to];
	/* The byte behind the last character: dropped characters may lie between. */
	while (last > first && (work->raw[last - 1] == ' ' || work->raw[last - 1] == '\t'))
		last--;
	char *text = arena_text_n(work->arena, work->raw + first, last - first);
	return line_add_word(work, field, text);
}

/* --- other common items --- */

/* "8 x 2 x 2.4 kg": the factors multiplied, in the unit that stands last, else in that of the
 * amount outside. NULL where it is no product. */
static const char *product_of(
	struct line_work *work, const char *text, const struct amount *outside, struct amount *out)
{
	static const char times[] = "\xc3\x97";
	double product = 1;
	int factors = 0;
	for (;;) {
		char *end = NULL;
		text += strspn(text, " ");
		double factor = plain_is_digit(*text) ? strtod(text, &end) : 0;
		if (end == NULL || factor <= 0)
			return NULL;
		product *= factor;
		factors++;
		text = end + strspn(end, " ");
		bool cross = (*text == 'x' || *text == '*') &&
			     (text[1] == ' ' || plain_is_digit(text[1]));
		bool sign = strncmp(text, times, 2) == 0;
		if (!cross && !sign)
			break;
		text += sign ? 2 : 1;
	}
	const char *unit =
		*text != '\0' ? text : outside->typed + strspn(outside->typed, "~0123456789., ");
	const char *whole = arena_format(work->arena, "%.6g %s", product, unit);
	bool is_amount = factors > 1 && amount_parse(whole, DIMENSION_NONE, NULL,
						&work->context->numbers, out, NULL) == STATUS_OK;
	return is_amount ? whole : NULL;
}

/* Figures of the grower's own that come to something else are pointed out; what they wrote as the
 * amount stays, and the figures go to the note. */
static void check_product(struct line_work *work, const char *text)
{
	for (int32_t i = work->amount_count - 1; i >= 0; i--) {
		const struct amount *outside = &work->amounts[i];
		struct amount worked = {.field = 0};
		const char *sum = product_of(work, text, outside, &worked);
		if (sum == NULL || worked.dimension != outside->dimension)
			continue;
		if (amounts_agree(outside, &worked))
			return;
		line_remark(
			work, "%s comes to %s, not %s: yours is kept", text, sum, outside->typed);
		return;
	}
}

/* "(5.5 kg)" is checked against the line; other words go to the note. */
static enum status check_aside(struct line_work *work, size_t from, size_t to)
{
	char *text = arena_text_n(work->arena, work->text + from, to - from);
	struct amount inside;
	struct number_rules rules = work->context->numbers;
	if (amount_parse(text, DIMENSION_NONE, NULL, &rules, &inside, NULL) != STATUS_OK) {
		check_product(work, text);
		return STATUS_ABSENT;
	}
	for (int32_t i = work->amount_count - 1; i >= 0; i--) {
		struct amount *outside = &work->amounts[i];
		if (outside->dimension != inside.dimension)
			continue;
		if (amounts_agree(outside, &inside))
			return STATUS_OK;
		char sum[40];
		struct amount worked = *outside;
		worked.typed[0] = '\0';
		worked.about = false;
		amount_format(&worked, &rules, sum, sizeof(sum));
		if (outside->container[0] == '\0')
			return line_fail(work, STATUS_DOUBT, from,
				"'%s' and '%s' are not the same amount: which one? write one of "
				"them",
				outside->typed, text);
		line_remark(work, "%s comes to %s, not %s: both kept", outside->typed, sum, text);
		return STATUS_OK;
	}
	return STATUS_ABSENT;
}

static enum status item_aside(struct line_work *work)
{
	if (work->low[work->at] != '(')
		return STATUS_ABSENT;
	size_t from = work->at + 1;
	size_t length = strcspn(work->text + from, ")");
	size_t to = from + length;
	const char *low = work->low + from;
	if (plain_word_of(low, "incl including with gross in_the") > 0 && work->amount_count > 0)
		return line_fail(work, STATUS_DOUBT, from,
			"'%s' with what it lay in: weigh the empty box and write the fruit alone, "
			"or "
			"put the words after ';'",
			work->amounts[work->amount_count - 1].typed);
	enum status status = check_aside(work, from, to);
	if (status == STATUS_ABSENT) {
		if (work->asides.length > 0)
			text_add(&work->asides, "; ");
		text_add_n(&work->asides, work->text + from, length);
		status = STATUS_OK;
	}
	if (status == STATUS_OK)
		line_take(work, 1 + length + (work->text[to] == ')'));
	return status;
}

/* "today" and its like need no '@'. */
static enum status item_day_word(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t used =
		plain_word_of(low, "today yesterday last_night this_morning last_year last_month");
	if (used == 0)
		return STATUS_ABSENT;
	if (work->day_said)
		return line_fail(work, STATUS_DOUBT, work->at,
			"'%.*s' and a day after '@': write one of them", (int)used,
			work->text + work->at);
	char *text = arena_text_n(work->arena, work->text + work->at, used);
	enum status status = day_read(text, work->context, work->planned, &work->day, work->why);
	work->day_said = status == STATUS_OK;
	work->failed_at = work->at;
	if (status == STATUS_OK)
		line_take(work, used);
	return status;
}

/* "each", "total": how an amount is meant of several trees. */
static enum status item_per(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t tree = plain_word_of(low, "each per_tree a_tree apiece every_tree");
	size_t total = plain_word_of(low, "total in_total in_all altogether all_told");
	if (tree + total == 0 || !line_has_field(work, FIELD_PER))
		return STATUS_ABSENT;
	work->out->is_total = work->out->is_total || total > 0;
	line_take(work, tree + total);
	return line_add_word(work, FIELD_PER, total > 0 ? "total" : "tree");
}

/* "1 of 3": of limbs, of years. */
static enum status item_part(struct line_work *work)
{
	const char *low = work->low + work->at;
	if (work->kind != KIND_CUT)
		return STATUS_ABSENT;
	size_t noun = plain_word_of(low, "limb limbs part branch leader year");
	low += noun + (noun > 0 && low[noun] == ' ');
	size_t first = strspn(low, "0123456789");
	size_t of = first > 0 && first < 4 ? plain_word(low + first + 1, "of") : 0;
	const char *rest = low + first + 1 + of + 1;
	size_t second = of > 0 ? strspn(rest, "0123456789") : 0;
	if (low[first] != ' ' || second == 0 || second > 3 || plain_is_letter(rest[second]))
		return STATUS_ABSENT;
	long part = strtol(low, NULL, 10);
	long parts = strtol(rest, NULL, 10);
	if (part < 1 || part > parts)
		return line_fail(work, STATUS_RANGE, work->at,
			"part %ld of %ld: the first figure is from 1 to the second", part, parts);
	struct quantity one = {.amount = {.dimension = DIMENSION_COUNT,
				       .low = known_i64(part * 1000),
				       .high = known_i64(part * 1000)},
		.from = work->at};
	struct quantity all = one;
	all.amount.low = known_i64(parts * 1000);
	all.amount.high = all.amount.low;
	work->has_number = true;
	enum status status = line_add_amount(work, FIELD_PART, &one);
	if (status == STATUS_OK)
		status = line_add_amount(work, FIELD_PARTS, &all);
	line_take(work, (size_t)(rest + second - (work->low + work->at)));
	return status;
}

static enum status item_kind(struct line_work *work)
{
	switch (work->kind) {
	case KIND_CUT:
		return line_cut_item(work);
	case KIND_FEED:
		return line_feed_item(work);
	case KIND_PICK:
		return line_pick_item(work);
	case KIND_LOSS:
		return line_loss_item(work);
	case KIND_USE:
		return line_use_item(work);
	case KIND_MEASURE:
		return line_measure_item(work);
	case KIND_STAGE:
		return line_stage_item(work);
	case KIND_SAW:
		return line_saw_item(work);
	case KIND_WATER:
		return line_water_item(work);
	case KIND_SPRAY:
		return line_spray_item(work);
	case KIND_DIED:
		return line_died_item(work);
	case KIND_WEATHER:
		return line_weather_item(work);
	case KIND_MULCH:
	case KIND_THIN:
	case KIND_PLANT:
	case KIND_MOVE:
	case KIND_GRAFT:
	case KIND_SOW:
	case KIND_POT_UP:
	case KIND_PROTECT:
	case KIND_SOIL_TEST:
	case KIND_PHOTO:
	case KIND_LEAVE:
	case KIND_NOTE:
	case KIND_TOTAL:
		break;
	}
	return line_words_item(work);
}

static enum status item_sure(struct line_work *work)
{
	size_t used = plain_word_of(work->low + work->at, "sure really");
	if (used == 0 || (work->kind != KIND_PICK && work->kind != KIND_MEASURE))
		return STATUS_ABSENT;
	work->is_sure = true;
	line_take(work, used);
	return STATUS_OK;
}

/* Words that carry nothing here. They neither end nor begin a run of unknown words. */
static enum status item_filler(struct line_work *work)
{
	const char *low = work->low + work->at;
	bool free_words = work->row->free_field != FIELD_NONE;
	size_t used = plain_word_of(low, "and of with to for");
	if (used == 0 && (!free_words || work->run_open))
		used = plain_word_of(low, "from the a an at by on it its in");
	if (used == 0 && low[0] == '+') {
		work->joined = true;
		work->at++;
		return STATUS_OK;
	}
	if (used == 0 && strchr(",.:&*-", low[0]) != NULL &&
		(low[1] == ' ' || low[1] == '\0' || low[0] == ',' || low[0] == '*'))
		used = 1;
	work->at += used;
	return used > 0 ? STATUS_OK : STATUS_ABSENT;
}

static enum status unknown_word(struct line_work *work)
{
	size_t length = strcspn(work->low + work->at, " ,");
	if (work->low[work->at] == '"') {
		size_t quoted = strcspn(work->low + work->at + 1, "\"");
		length = work->low[work->at + 1 + quoted] == '"' ? quoted + 2 : length;
	}
	length = length > 0 ? length : 1;
	if (line_starts_number(work->low + work->at))
		work->has_number = true;
	if (!work->run_open && work->run_count == RUNS_MAX)
		return line_fail(work, STATUS_SYNTAX, work->at,
			"not understood: '%.*s'; after ';' it is a note", (int)length,
			work->text + work->at);
	if (!work->run_open)
		work->runs[work->run_count++].from = work->at;
	work->at += length;
	work->runs[work->run_count - 1].to = work->at;
	work->run_open = true;
	return STATUS_OK;
}

/* "A3 shape cut 20%": the verb stands among its own words. */
static enum status item_verb(struct line_work *work)
{
	bool speaks = line_verb_speaks(work->kind, work->low + work->verb_at);
	if (work->at != work->verb_at || speaks)
		return STATUS_ABSENT;
	line_take(work, work->verb_length);
	return STATUS_OK;
}

/* "died 2019": a bare year is the day, where no figure of the kind could be one. */
static enum status item_year(struct line_work *work)
{
	const char *low = work->low + work->at;
	bool dated = work->kind == KIND_STAGE || work->kind == KIND_DIED ||
		     work->kind == KIND_MOVE || work->kind == KIND_PLANT ||
		     work->kind == KIND_GRAFT;
	bool year = dated && !work->day_said && strspn(low, "0123456789") == 4 &&
		    (low[4] == '\0' || low[4] == ' ' || low[4] == ',') &&
		    (strncmp(low, "18", 2) == 0 || strncmp(low, "19", 2) == 0 ||
			    strncmp(low, "20", 2) == 0);
	if (!year)
		return STATUS_ABSENT;
	char *text = arena_text_n(work->arena, low, 4);
	enum status status = day_read(text, work->context, work->planned, &work->day, work->why);
	work->day_said = status == STATUS_OK;
	if (status == STATUS_OK)
		line_take(work, 4);
	return status;
}

static enum status read_item(struct line_work *work)
{
	enum status (*const readers[])(struct line_work *) = {item_verb, item_aside, item_day_word,
		line_plan_item, item_year, item_kind, item_sure, item_per, item_part,
		line_read_share, line_read_amount, line_read_containers, item_filler, unknown_word};
	for (size_t i = 0; i < sizeof(readers) / sizeof(readers[0]); i++) {
		enum status status = readers[i](work);
		if (status != STATUS_ABSENT)
			return status;
	}
	return STATUS_ABSENT;
}

enum status line_read_items(struct line_work *work)
{
	for (;;) {
		work->at += strspn(work->low + work->at, " ");
		if (work->at >= work->end)
			return STATUS_OK;
		size_t before = work->at;
		enum status status = read_item(work);
		if (status != STATUS_OK)
			return status;
		if (work->at <= before)
			return line_fail(work, STATUS_SYNTAX, before, "not understood: '%.40s'",
				work->text + before);
	}
}
