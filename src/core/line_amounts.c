/* SPDX-License-Identifier: MIT */
/* Amounts in their fields: two of one measure are added, are the same again, or are asked. */
#include <stdio.h>
#include <string.h>

#include "core/line_parts.h"

/* Which field a figure of this dimension is, where the words around it say nothing else. */
static const struct {
	enum entry_kind kind;
	enum dimension dimension;
	enum field field;
} plain_fields[] = {
	{KIND_CUT, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_FEED, DIMENSION_MASS, FIELD_PRODUCT_MASS},
	{KIND_FEED, DIMENSION_VOLUME, FIELD_PRODUCT_VOLUME},
	{KIND_FEED, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_PICK, DIMENSION_MASS, FIELD_WEIGHT},
	{KIND_PICK, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_PICK, DIMENSION_VOLUME, FIELD_VOLUME},
	{KIND_LOSS, DIMENSION_MASS, FIELD_WEIGHT},
	{KIND_LOSS, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_LOSS, DIMENSION_VOLUME, FIELD_VOLUME},
	{KIND_USE, DIMENSION_MASS, FIELD_WEIGHT},
	{KIND_USE, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_USE, DIMENSION_VOLUME, FIELD_VOLUME},
	{KIND_WATER, DIMENSION_VOLUME, FIELD_VOLUME},
	{KIND_WATER, DIMENSION_LENGTH, FIELD_DEPTH},
	{KIND_WATER, DIMENSION_DURATION, FIELD_DURATION},
	{KIND_WATER, DIMENSION_FLOW, FIELD_FLOW},
	{KIND_MULCH, DIMENSION_LENGTH, FIELD_DEPTH},
	{KIND_MULCH, DIMENSION_VOLUME, FIELD_VOLUME},
	{KIND_MULCH, DIMENSION_MASS, FIELD_WEIGHT},
	{KIND_SPRAY, DIMENSION_VOLUME, FIELD_PRODUCT_VOLUME},
	{KIND_SPRAY, DIMENSION_MASS, FIELD_PRODUCT_MASS},
	{KIND_THIN, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_THIN, DIMENSION_MASS, FIELD_WEIGHT},
	{KIND_PLANT, DIMENSION_LENGTH, FIELD_DEPTH},
	{KIND_PLANT, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_GRAFT, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_SOW, DIMENSION_COUNT, FIELD_COUNT},
	{KIND_POT_UP, DIMENSION_VOLUME, FIELD_VOLUME},
	{KIND_WEATHER, DIMENSION_TEMPERATURE, FIELD_TEMPERATURE},
	{KIND_WEATHER, DIMENSION_LENGTH, FIELD_DEPTH},
	{KIND_WEATHER, DIMENSION_SPEED, FIELD_WIND},
	{KIND_WEATHER, DIMENSION_DURATION, FIELD_DURATION},
};

static enum field plain_field(enum entry_kind kind, enum dimension dimension)
{
	for (size_t i = 0; i < sizeof(plain_fields) / sizeof(plain_fields[0]); i++) {
		if (plain_fields[i].kind == kind && plain_fields[i].dimension == dimension)
			return plain_fields[i].field;
	}
	return FIELD_NONE;
}

enum status line_offer_two(struct line_work *work, size_t second, const char *what)
{
	const char *day = line_day_text(work);
	const char *label = line_label(work);
	const char *verb = arena_text_n(work->arena, work->text + work->verb_at, work->verb_length);
	size_t first = work->verb_at + work->verb_length;
	size_t end = second;
	while (end > first && strchr(" ,+/", work->text[end - 1]) != NULL)
		end--;
	if (end > first + 4 && strncmp(work->low + end - 4, " and", 4) == 0)
		end -= 4;
	line_offer(work, "%s %s%.*s%s", label, verb, (int)(end - first), work->text + first, day);
	line_offer(work, "%s %s %s%s", label, verb, work->text + second, day);
	return line_fail(work, STATUS_DOUBT, second,
		"%s: one line logs one thing; the line would be '%s' and '%s'", what,
		work->out->lines[work->out->line_count - 2],
		work->out->lines[work->out->line_count - 1]);
}

/* Adds to an amount that a '+' joined: 71 qt + 5 gal. */
static void add_up(struct amount *into, const struct amount *more)
{
	into->low.value += more->low.value;
	into->low.known = into->low.known && more->low.known;
	into->high.value += more->high.value;
	into->high.known = into->high.known && more->high.known;
	into->about = into->about || more->about;
	char typed[2 * TYPED_SIZE + 4];
	(void)snprintf(typed, sizeof(typed), "%s + %s", into->typed, more->typed);
	if (!text_copy(into->typed, sizeof(into->typed), typed))
		into->typed[0] = '\0';
}

static bool is_container(const struct amount *amount)
{
	return amount->container[0] != '\0';
}

/* A second amount of a field: added, the same again, or asked. STATUS_ABSENT: keep both. */
static enum status meet(struct line_work *work, int32_t index, const struct quantity *from)
{
	struct amount *old = &work->amounts[index];
	bool weighed = !is_container(old) && !is_container(&from->amount);
	if (is_container(old) != is_container(&from->amount))
		return STATUS_ABSENT;
	if (work->joined && weighed) {
		add_up(old, &from->amount);
		return STATUS_OK;
	}
	bool other_unit = work->units[index] != from->notes.unit;
	if (weighed && other_unit && amounts_agree(old, &from->amount))
		return STATUS_OK;
	const char *what = arena_format(work->arena, "'%s' and '%s' are two amounts of one measure",
		old->typed, from->amount.typed);
	return line_offer_two(work, from->from, what);
}

enum status line_add_amount(struct line_work *work, enum field field, const struct quantity *from)
{
	for (int32_t i = 0; i < work->amount_count; i++) {
		if (work->amounts[i].field != (int32_t)field)
			continue;
		enum status status = meet(work, i, from);
		if (status != STATUS_ABSENT)
			return status;
	}
	if (work->amount_count == AMOUNTS_MAX)
		return line_fail(work, STATUS_RANGE, from->from,
			"more than %d amounts in one line: put the rest after ';'", AMOUNTS_MAX);
	int32_t index = work->amount_count++;
	work->amounts[index] = from->amount;
	work->amounts[index].field = (int32_t)field;
	work->units[index] = from->notes.unit;
	work->amount_at[index] = from->from;
	bool zero = from->amount.low.known && from->amount.high.known &&
		    from->amount.low.value == 0 && from->amount.high.value == 0;
	bool crop = work->kind == KIND_PICK || work->kind == KIND_LOSS || work->kind == KIND_THIN;
	work->amounts[index].none = zero && crop;
	return STATUS_OK;
}

void line_add_none(struct line_work *work)
{
	enum field field = work->kind == KIND_THIN ? FIELD_COUNT : FIELD_WEIGHT;
	struct amount *amount = &work->amounts[work->amount_count++];
	*amount = (struct amount){.dimension = field_row(field)->dimension,
		.field = (int32_t)field,
		.low = known_i64(0),
		.high = known_i64(0),
		.none = true,
		.typed = "none"};
}

enum status line_scan_quantity(struct line_work *work, size_t at, struct quantity *out)
{
	size_t used = 0;
	*out = (struct quantity){.from = at};
	enum status status = amount_scan_plain(work->low + at, &work->context->numbers,
		&out->amount, &out->notes, &used, work->why);
	if (status != STATUS_OK) {
		work->failed_at = at;
		return status;
	}
	out->to = at + used;
	memcpy(out->amount.typed, work->text + at, used);
	return STATUS_OK;
}

size_t line_words_end(struct line_work *work, size_t from)
{
	size_t at = from;

	while (work->low[at] != '\0' && work->low[at] != ',') {
		struct quantity next;

		if (at > from && work->low[at - 1] == ' ' &&
			line_scan_quantity(work, at, &next) == STATUS_OK &&
			next.amount.dimension == DIMENSION_LENGTH)
			return at - 1;
		at++;
	}
	return at;
}

/* Kinds whose words are for people: a figure in them that fits no field stays a word. */
static bool is_wordy(enum entry_kind kind)
{
	return kind == KIND_SAW || kind == KIND_DIED || kind == KIND_MOVE || kind == KIND_PLANT ||
	       kind == KIND_PROTECT || kind == KIND_LEAVE || kind == KIND_GRAFT ||
	       kind == KIND_SOW || kind == KIND_SOIL_TEST || kind == KIND_POT_UP;
}

static enum status ask_unit(struct line_work *work, const struct quantity *from)
{
	const char *example = work->kind == KIND_WEATHER ? "F or C; mm, in; km/h, mph"
			      : work->kind == KIND_WATER ? "gal, l, in, min, emitters"
			      : work->kind == KIND_FEED  ? "lb, kg, cups, l"
			      : work->kind == KIND_CUT   ? "% of crown, % of shoots, limbs"
			      : work->kind == KIND_MULCH ? "in, cm, cu yd, l"
							 : "a unit";
	return line_fail(work, STATUS_DOUBT, from->from, "'%s' of what? write it with its unit: %s",
		from->amount.typed, example);
}

/* A bare number: pieces, the kind's own unit, or asked. */
static enum status add_bare(struct line_work *work, struct quantity *from)
{
	size_t noun_at = from->to + strspn(work->low + from->to, " ");
	size_t noun = line_piece_noun(work->kind, work->low + noun_at);
	bool counts = line_has_field(work, FIELD_COUNT);
	bool own_unit = work->row->default_unit != NULL;
	bool pieces =
		work->kind == KIND_GRAFT || work->kind == KIND_SOW || work->kind == KIND_PLANT;
	if (counts && (noun > 0 || own_unit || pieces)) {
		from->amount.dimension = DIMENSION_COUNT;
		if (noun > 0 && noun_at + noun - from->from < TYPED_SIZE) {
			from->to = noun_at + noun;
			memcpy(from->amount.typed, work->text + from->from, from->to - from->from);
			from->amount.typed[from->to - from->from] = '\0';
		}
		enum status status = line_add_amount(work, FIELD_COUNT, from);
		if (status == STATUS_OK)
			line_take(work, from->to - work->at);
		return status;
	}
	if (is_wordy(work->kind))
		return STATUS_ABSENT;
	size_t length = 0;
	size_t word = line_word(work, from->to, &length);
	if (length > 0 && plain_is_letter(work->low[word]) && work->row->free_field == FIELD_NONE)
		return STATUS_ABSENT;
	return ask_unit(work, from);
}

static enum status add_measured(struct line_work *work, struct quantity *from)
{
	enum field field = plain_field(work->kind, from->amount.dimension);
	if (field == FIELD_NONE)
		return STATUS_ABSENT;
	if (from->notes.gallon_assumed)
		line_remark(work, "'%s' taken as US (place set --gallon imperial for the other)",
			from->amount.typed);
	if (from->notes.unit_assumed) {
		char plain[32];
		struct number_rules rules = {.units = UNITS_US};
		struct amount whole = from->amount;
		whole.typed[0] = '\0';
		line_remark(work, "'%s' read as %s", from->amount.typed,
			amount_format(&whole, &rules, plain, sizeof(plain)));
	}
	enum status status = line_add_amount(work, field, from);
	if (status == STATUS_OK)
		line_take(work, from->to - work->at);
	return status;
}

bool line_starts_number(const char *low)
{
	return plain_is_digit(low[0]) ||
	       ((low[0] == '-' || low[0] == '.' || low[0] == '~') && plain_is_digit(low[1]));
}

enum status line_read_amount(struct line_work *work)
{
	struct quantity from;
	const char *low = work->low + work->at;
	enum status status = line_scan_quantity(work, work->at, &from);
	if (status == STATUS_ABSENT)
		return STATUS_ABSENT;
	if (status != STATUS_OK)
		return is_wordy(work->kind) ? STATUS_ABSENT : status;
	if (line_starts_number(low))
		work->has_number = true;
	status = line_take_containers(work, &from);
	if (status != STATUS_ABSENT)
		return status;
	if (from.notes.unit == NULL && from.amount.dimension == DIMENSION_NONE)
		return add_bare(work, &from);
	return add_measured(work, &from);
}
