/* SPDX-License-Identifier: MIT */
/* Trunks, heights, spreads and shoots. Girth is round, diameter is across; a trunk figure with
 * neither word is kept as across, marked so that it can be asked about. */
#include <string.h>

#include "core/line_parts.h"

static const struct {
	const char *words;
	enum field field;
	bool is_word; /* settles girth or diameter */
} heads[] = {
	{"girth circumference", FIELD_GIRTH, true},
	{"diameter dbh", FIELD_DIAMETER, true},
	{"trunk stem stems trunks", FIELD_DIAMETER, false},
	{"height tall", FIELD_HEIGHT, true},
	{"spread", FIELD_SPREAD, true},
	{"shoot shoots shoot_growth growth", FIELD_SHOOT, true},
	{"union graft_union the_union", FIELD_UNION, true},
};

static const struct {
	const char *words;
	enum field field;
} tails[] = {
	{"round around girth in_girth circumference", FIELD_GIRTH},
	{"across diameter through in_diameter", FIELD_DIAMETER},
	{"tall high in_height", FIELD_HEIGHT},
	{"wide spread in_spread", FIELD_SPREAD},
	{"growth of_growth shoots shoot_growth", FIELD_SHOOT},
};

static bool is_trunk(enum field field)
{
	return field == FIELD_GIRTH || field == FIELD_DIAMETER;
}

/* What the figures behind the last head word are; FIELD_NONE before any. */
static enum field current_field(const struct line_work *work, bool *is_word, bool *is_list)
{
	/* The letter g is a girth. */
	enum field field = work->verb_length == 1 ? FIELD_GIRTH : FIELD_NONE;
	*is_word = work->verb_length == 1;
	*is_list = false;
	for (size_t at = work->verb_at; at < work->at; at++) {
		if (at > work->verb_at && work->low[at - 1] != ' ')
			continue;
		for (size_t i = 0; i < sizeof(heads) / sizeof(heads[0]); i++) {
			if (plain_word_of(work->low + at, heads[i].words) == 0)
				continue;
			bool narrows =
				is_trunk(field) && is_trunk(heads[i].field) && !heads[i].is_word;
			if (!narrows) {
				field = heads[i].field;
				*is_word = heads[i].is_word;
			}
		}
		*is_list = *is_list || plain_word_of(work->low + at, "stems trunks stem") > 0;
	}
	return field;
}

static enum field tail_field(const char *low, size_t *used)
{
	for (size_t i = 0; i < sizeof(tails) / sizeof(tails[0]); i++) {
		*used = plain_word_of(low, tails[i].words);
		if (*used > 0)
			return tails[i].field;
	}
	return FIELD_NONE;
}

static enum status ask_round_or_across(struct line_work *work, const struct quantity *from)
{
	char across[32];
	int64_t diameter = round_i64((double)from->amount.low.value / 3.14159265358979);
	bool us = from->notes.unit != NULL && from->notes.unit->system == UNITS_US;
	length_format(diameter, us ? UNITS_US : UNITS_SI, across, sizeof(across));
	return line_fail(work, STATUS_DOUBT, from->from,
		"'%s' round (girth) or across (diameter)? a girth of %s is %s across: write girth "
		"%s "
		"or diameter %s",
		from->amount.typed, from->amount.typed, across, from->amount.typed,
		from->amount.typed);
}

static enum status add_figure(struct line_work *work, const struct quantity *from, enum field field,
	bool is_word, bool is_list)
{
	if (!from->amount.low.known || !from->amount.high.known)
		return line_fail(work, STATUS_SYNTAX, from->from,
			"'%s' has no top: a measure is one figure or a range", from->amount.typed);
	int32_t stem = 0;
	for (int32_t i = 0; i < work->stem_count; i++) {
		if (work->stems[i].field != field)
			continue;
		if (!is_list || !is_trunk(field))
			return line_offer_two(work, from->from,
				"two figures of one measure (stems 5 in, 6 in and 8 in are three "
				"stems)");
		stem = work->stems[i].stem;
	}
	if (work->stem_count == STEMS_MAX)
		return line_fail(work, STATUS_RANGE, from->from, "more than %d figures in one line",
			STEMS_MAX);
	struct stem_measure *figure = &work->stems[work->stem_count++];
	*figure = (struct stem_measure){.stem = is_trunk(field) ? stem + 1 : 0,
		.field = field,
		.low_um = from->amount.low.value,
		.high_um = from->amount.high.value,
		.about = from->amount.about,
		.word_given = is_word};
	if (work->amount_count < AMOUNTS_MAX) {
		work->units[work->amount_count] = from->notes.unit;
		work->amounts[work->amount_count] = from->amount;
		work->amounts[work->amount_count++].field = (int32_t)field;
	}
	return STATUS_OK;
}

/* A word behind the last of several stems holds for all of them: "20 cm, 30 cm round". */
static void settle_stems(struct line_work *work, enum field field)
{
	for (int32_t i = 0; i < work->stem_count; i++) {
		if (is_trunk(work->stems[i].field)) {
			work->stems[i].field = field;
			work->stems[i].word_given = true;
		}
	}
	for (int32_t i = 0; i < work->amount_count; i++) {
		if (is_trunk((enum field)work->amounts[i].field))
			work->amounts[i].field = (int32_t)field;
	}
}

/* "at 1 ft", "at knee height". */
static enum status at_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t at = plain_word(low, "at");
	if (at == 0)
		return STATUS_ABSENT;
	size_t place = plain_word_of(low + at + 1,
		"knee_height chest_height breast_height ankle_height waist_height soil_line "
		"ground_level the_ground the_base");
	if (place > 0) {
		enum status status =
			line_add_detail(work, FIELD_WORDS, work->at, work->at + at + 1 + place);
		line_take(work, at + 1 + place);
		return status;
	}
	struct quantity from;
	if (line_scan_quantity(work, work->at + at + 1, &from) != STATUS_OK ||
		from.amount.dimension != DIMENSION_LENGTH || !from.amount.high.known)
		return STATUS_ABSENT;
	for (int32_t i = 0; i < work->stem_count; i++) {
		if (is_trunk(work->stems[i].field))
			work->stems[i].at_height_um = from.amount.low;
	}
	enum status status = line_add_amount(work, FIELD_AT_HEIGHT, &from);
	line_take(work, from.to - work->at);
	return status;
}

/* DBH is diameter at 4 1/2 ft; 55 in across no fruit tree has. */
static enum status check_diameter(struct line_work *work, const struct quantity *from)
{
	enum { WIDEST_UM = 1000000 };
	bool sure = work->is_sure || strstr(work->low, " sure") != NULL;
	if (from->amount.low.value <= WIDEST_UM || sure)
		return STATUS_OK;
	return ask_round_or_across(work, from);
}

/* A minus, or the words that say on which side of the soil the union stands; 0 no word. */
static size_t minus_at(const char *low)
{
	static const char minus[] = "\xE2\x88\x92"; /* U+2212 */

	if (strncmp(low, minus, sizeof minus - 1) == 0)
		return sizeof minus - 1;
	return low[0] == '-';
}

static size_t side_of_soil(const char *low, bool *is_below)
{
	size_t below = plain_word_of(low, "below_the_soil below_soil below_ground below_the_ground "
					  "below under_the_soil under_soil under_ground "
					  "under_the_ground under buried deep down");
	size_t above = plain_word_of(low, "above_the_soil above_soil above_ground above_the_ground "
					  "above clear_of_the_soil clear up");

	*is_below = below > 0;
	return below > 0 ? below : above;
}

/* "union 2 cm below the soil", "union -2 cm", "union 3 in above": the one length with a sign. */
static enum status union_item(struct line_work *work)
{
	bool is_word = false, is_list = false, is_below = false;
	size_t minus = minus_at(work->low + work->at);
	struct quantity from;

	if (current_field(work, &is_word, &is_list) != FIELD_UNION ||
		line_scan_quantity(work, work->at + minus, &from) != STATUS_OK ||
		from.amount.dimension != DIMENSION_LENGTH || !from.amount.high.known)
		return STATUS_ABSENT;
	work->has_number = true;
	const char *rest = work->low + from.to + (work->low[from.to] == ' ');
	size_t side = side_of_soil(rest, &is_below);
	if (side == 0 && minus == 0 && from.amount.high.value > 0)
		return line_fail(work, STATUS_DOUBT, from.from,
			"the union %s above or below the soil? write union %s above, or below",
			from.amount.typed, from.amount.typed);
	size_t end = side > 0 ? (size_t)(rest - work->low) + side : from.to;
	text_copy_n(
		from.amount.typed, sizeof from.amount.typed, work->text + work->at, end - work->at);
	if (minus > 0 || is_below) {
		int64_t low_um = from.amount.low.value;

		from.amount.low.value = -from.amount.high.value;
		from.amount.high.value = -low_um;
	}
	enum status status = line_add_amount(work, FIELD_UNION, &from);
	line_take(work, end - work->at);
	return status;
}

static enum status length_item(struct line_work *work)
{
	struct quantity from;
	if (line_scan_quantity(work, work->at, &from) != STATUS_OK ||
		from.amount.dimension != DIMENSION_LENGTH)
		return STATUS_ABSENT;
	work->has_number = true;
	bool is_word = false;
	bool is_list = false;
	enum field field = current_field(work, &is_word, &is_list);
	const char *rest = work->low + from.to + (work->low[from.to] == ' ');
	size_t tail = 0;
	enum field told = tail_field(rest, &tail);
	if (told == FIELD_DIAMETER && field == FIELD_SPREAD)
		told = FIELD_SPREAD;
	/* "height 12 ft spread 10 ft": the word leads the next figure in. */
	bool leads = plain_is_digit(rest[tail + (rest[tail] == ' ')]);
	if (leads && field != FIELD_NONE && !(is_trunk(field) && is_trunk(told))) {
		told = FIELD_NONE;
		tail = 0;
	}
	if (told != FIELD_NONE) {
		if (is_trunk(told) && is_list)
			settle_stems(work, told);
		field = told;
		is_word = true;
	}
	if (field == FIELD_NONE)
		return ask_round_or_across(work, &from);
	enum status status = field == FIELD_DIAMETER ? check_diameter(work, &from) : STATUS_OK;
	if (status == STATUS_OK)
		status = add_figure(work, &from, field, is_word, is_list);
	line_take(work, (size_t)(rest - (work->low + work->at)) + tail);
	return status;
}

enum status line_measure_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	enum status status = at_item(work);
	if (status == STATUS_ABSENT)
		status = union_item(work);
	if (status == STATUS_ABSENT)
		status = length_item(work);
	if (status != STATUS_ABSENT)
		return status;
	for (size_t i = 0; i < sizeof(heads) / sizeof(heads[0]); i++) {
		size_t used = plain_word_of(low, heads[i].words);
		if (used > 0) {
			line_take(work, used);
			return STATUS_OK;
		}
	}
	size_t verb = plain_word_of(low, "measured measure measures measuring is was");
	if (verb == 0)
		return STATUS_ABSENT;
	line_take(work, verb);
	return STATUS_OK;
}
