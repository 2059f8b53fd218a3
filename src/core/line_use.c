/* SPDX-License-Identifier: MIT */
/* The words of what became of fruit, and of what is raised: how many took, in which batch. */
#include <string.h>

#include "core/line_parts.h"

/* --- what became of fruit --- */

static struct detail *detail_so_far(struct line_work *work, enum field field)
{
	for (int32_t i = 0; i < work->detail_count; i++)
		if (work->details[i].field == field)
			return &work->details[i];
	return NULL;
}

static size_t use_at(const char *low, enum use_kind *found)
{
	size_t longest = 0;
	for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++) {
		size_t used = plain_word_of(low, use_kind_row((enum use_kind)use)->words);
		if (used > longest) {
			longest = used;
			*found = (enum use_kind)use;
		}
	}
	return longest;
}

/* "from the freezer", "of the dried ones": fruit that was kept before. */
static enum status store_item(struct line_work *work)
{
	const char *low = work->low + work->at;
	size_t dried = plain_word_of(low,
		"from_the_dried from_dried of_the_dried out_of_the_dried from_the_dried_ones "
		"of_the_dried_ones");
	size_t frozen = plain_word_of(low,
		"from_the_freezer out_of_the_freezer from_the_frozen from_frozen of_the_frozen "
		"of_the_frozen_ones");
	size_t made = plain_word_of(low, "from_the_jars of_the_jars from_the_made of_the_made");
	if (dried + frozen + made == 0)
		return STATUS_ABSENT;
	enum use_kind use = dried > 0 ? USE_DRIED : frozen > 0 ? USE_FROZEN : USE_MADE;
	line_take(work, dried + frozen + made);
	return line_add_word(work, FIELD_OUT_OF, use_kind_row(use)->key);
}

/* The second of two uses begins with its own amount. */
static size_t second_use_at(const struct line_work *work)
{
	return work->amount_count > 1 ? work->amount_at[work->amount_count - 1] : work->at;
}

static enum status became_item(struct line_work *work)
{
	enum use_kind use = USE_UNSAID;
	size_t used = use_at(work->low + work->at, &use);
	const struct detail *before = detail_so_far(work, FIELD_BECAME);
	const char *key = use_kind_row(use)->key;
	if (used == 0)
		return STATUS_ABSENT;
	if (before != NULL && strcmp(before->text, key) != 0)
		return line_offer_two(work, second_use_at(work), "two uses of the fruit");
	if (use == USE_MADE && before == NULL) {
		enum status status = line_add_detail(work, FIELD_WORDS, work->at, work->at + used);
		if (status != STATUS_OK)
			return status;
	}
	line_take(work, used);
	return before != NULL ? STATUS_OK : line_add_word(work, FIELD_BECAME, key);
}

enum status line_use_item(struct line_work *work)
{
	enum status status = store_item(work);
	return status == STATUS_ABSENT ? became_item(work) : status;
}

/* A whole pick that went one way: "picked 6 lb, all given away". Bare words of a loss ("rotten")
 * and of another weight ("dried") are not read so. */
enum status line_pick_use_item(struct line_work *work)
{
	static const struct {
		enum use_kind use;
		const char *words;
	} whole[] = {
		{USE_FRESH, "eaten_fresh all_eaten all_fresh for_eating for_fresh_use"},
		{USE_DRIED, "for_drying to_dry all_for_drying"},
		{USE_FROZEN, "all_frozen frozen for_the_freezer for_freezing to_freeze"},
		{USE_GIVEN, "all_given_away all_given given_away given all_donated donated"},
		{USE_SOLD, "all_sold sold"},
	};
	for (size_t i = 0; i < sizeof(whole) / sizeof(whole[0]); i++) {
		size_t used = plain_word_of(work->low + work->at, whole[i].words);
		if (used == 0)
			continue;
		if (detail_so_far(work, FIELD_BECAME) != NULL)
			return line_offer_two(work, second_use_at(work), "two uses of the fruit");
		line_take(work, used);
		return line_add_word(work, FIELD_BECAME, use_kind_row(whole[i].use)->key);
	}
	return STATUS_ABSENT;
}

/* Fruit of several trees put together: the kind is all that says what it was. */
enum status line_name_kind(struct line_work *work)
{
	if (work->out->batch != BATCH_ALL_KIND || !work->out->is_total)
		return STATUS_OK;
	return line_add_word(work, FIELD_NAME, work->out->batch_name);
}

/* Verbs that say it themselves; fruit out of a store with nothing said was eaten. */
enum status line_finish_use(struct line_work *work)
{
	const char *verb = work->low + work->verb_at;
	enum use_kind use = plain_word(verb, "dried") > 0  ? USE_DRIED
			    : plain_word(verb, "sold") > 0 ? USE_SOLD
							   : USE_UNSAID;
	const struct detail *taken = detail_so_far(work, FIELD_OUT_OF);
	struct detail *became = detail_so_far(work, FIELD_BECAME);
	if (work->amount_count == 0)
		return line_fail(work, STATUS_SYNTAX, work->end,
			"how much of the fruit? as: %s; a tree that left is gone: A3 gone sold",
			work->row->example);
	enum status status = line_name_kind(work);
	if (status != STATUS_OK)
		return status;
	/* "2 lb frozen from the freezer": what they were, not what became of them */
	if (became != NULL && taken != NULL && strcmp(became->text, taken->text) == 0)
		(void)text_copy(became->text, sizeof became->text, use_kind_row(USE_FRESH)->key);
	if (became != NULL)
		return STATUS_OK;
	if (use == USE_UNSAID && taken != NULL)
		use = USE_FRESH;
	if (use == USE_UNSAID)
		return line_fail(work, STATUS_SYNTAX, work->end,
			"what became of it? write fresh, dried, frozen, made, given, sold or lost, "
			"as: %s",
			work->row->example);
	return line_add_word(work, FIELD_BECAME, use_kind_row(use)->key);
}

/* --- what is raised --- */

/* "19 took", "7 came up". */
static enum status took_item(struct line_work *work)
{
	struct quantity count;
	if (line_scan_quantity(work, work->at, &count) != STATUS_OK || count.notes.unit != NULL)
		return STATUS_ABSENT;
	const char *rest = work->low + count.to + (work->low[count.to] == ' ');
	size_t noun = plain_word_of(rest, "of_them grafts seeds seedlings");
	rest += noun + (noun > 0 && rest[noun] == ' ');
	size_t took = plain_word_of(rest, "took have_taken came_up have_come_up grew sprouted");
	if (took == 0)
		return STATUS_ABSENT;
	work->has_number = true;
	count.amount.dimension = DIMENSION_COUNT;
	enum status status = line_add_amount(work, FIELD_TOOK, &count);
	line_take(work, (size_t)(rest - (work->low + work->at)) + took);
	return status;
}

static enum status batch_item(struct line_work *work)
{
	size_t lead = plain_word(work->low + work->at, "batch");
	size_t length = 0;
	size_t from = line_word(work, work->at + lead, &length);
	if (lead == 0 || length == 0)
		return STATUS_ABSENT;
	enum status status = line_add_detail(work, FIELD_BATCH, from, from + length);
	line_take(work, from + length - work->at);
	return status;
}

enum status line_raise_item(struct line_work *work)
{
	enum status status = took_item(work);
	return status == STATUS_ABSENT ? batch_item(work) : status;
}
