/* SPDX-License-Identifier: MIT */
#include "report/calendar.h"

#include <assert.h>
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"
#include "rules/plans.h"

struct making {
	struct yard *yard;
	struct arena *arena;
	bool without_private;
	struct review review; /* what is put off, and who is left alone */
	struct calendar_event *events;
	int32_t count;
	int32_t size;
	/* of each event: whose trees may stand together, "" none; and their labels as they grow */
	const char **groups;
	struct text_builder *trees;
	int32_t of_tree; /* the first event of the tree in hand */
	int32_t *shared; /* events that trees of a kind share */
	int32_t shared_count, shared_size;
	const char **hidden; /* ids of trees that are not to be told of */
	int32_t hidden_count, hidden_size;
};

static const char *const kind_keys[] = {
	[CALENDAR_WINDOW] = "window",
	[CALENDAR_PLAN] = "plan",
	[CALENDAR_PUT_OFF] = "put-off",
};

const char *calendar_kind_key(enum calendar_kind kind)
{
	return kind_keys[kind];
}

/* --- events --- */

static void *room_for(struct making *making, void *items, size_t each, int32_t count, int32_t size)
{
	return arena_regrow(making->arena, items, (size_t)count * each, (size_t)size * each);
}

static struct calendar_event *add_event(struct making *making, const char *group)
{
	if (making->count == making->size) {
		making->size = making->size > 0 ? making->size * 2 : 64;
		making->events = room_for(making, making->events, sizeof *making->events,
			making->count, making->size);
		making->groups = room_for(making, (void *)making->groups, sizeof *making->groups,
			making->count, making->size);
		making->trees = room_for(
			making, making->trees, sizeof *making->trees, making->count, making->size);
	}
	making->groups[making->count] = arena_text(making->arena, group);
	assert(making->events != NULL);
	struct calendar_event *event = &making->events[making->count++];
	*event = (struct calendar_event){.title = "", .trees = "", .words = ""};
	return event;
}

static void share_last(struct making *making)
{
	if (making->shared_count == making->shared_size) {
		making->shared_size = making->shared_size > 0 ? making->shared_size * 2 : 64;
		making->shared = room_for(making, making->shared, sizeof *making->shared,
			making->shared_count, making->shared_size);
	}
	making->shared[making->shared_count++] = making->count - 1;
}

/* What a tree learned stands among its own events, so that many trees cost no search. */
static struct calendar_event *find_group(struct making *making, const char *group, bool own)
{
	for (int32_t i = making->of_tree; own && i < making->count; i++)
		if (strcmp(making->groups[i], group) == 0)
			return &making->events[i];
	for (int32_t i = 0; !own && i < making->shared_count; i++)
		if (strcmp(making->groups[making->shared[i]], group) == 0)
			return &making->events[making->shared[i]];
	return NULL;
}

/* Letters and digits as they are, anything else a dash; of this place. */
static void set_uid(struct making *making, struct calendar_event *event, const char *text)
{
	struct text_builder uid = text_builder_fixed(event->uid, sizeof event->uid);

	text_add_format(&uid, "%s@%s", text, yard_place(making->yard)->id);
	for (char *at = event->uid; *at != '\0'; at++)
		if (!isalnum((unsigned char)*at) && *at != '@')
			*at = '-';
}

/* --- trees that are left out, or alone --- */

static bool is_hidden(const struct making *making, const char *tree_id)
{
	for (int32_t i = 0; i < making->hidden_count; i++)
		if (strcmp(making->hidden[i], tree_id) == 0)
			return true;
	return false;
}

static void hide(struct making *making, const char *tree_id)
{
	if (making->hidden_count == making->hidden_size) {
		making->hidden_size = making->hidden_size > 0 ? making->hidden_size * 2 : 16;
		making->hidden = room_for(making, (void *)making->hidden, sizeof *making->hidden,
			making->hidden_count, making->hidden_size);
	}
	making->hidden[making->hidden_count++] = arena_text(making->arena, tree_id);
}

static bool is_left_alone(const struct making *making, const char *tree_id)
{
	for (int32_t i = 0; i < making->review.count; i++)
		if (making->review.items[i].flag.urgency == URGENCY_LEAVE &&
			strcmp(making->review.items[i].flag.tree_id, tree_id) == 0)
			return true;
	return false;
}

/* --- windows --- */

/* A wire in the crown is told wherever the saw is. */
static const char *words_of(struct making *making, const char *before,
	const struct dossier *dossier, enum window_kind kind)
{
	if (kind != WINDOW_CUT_CLEAR || dossier->tree.hazard[0] == '\0')
		return before;
	return arena_format(making->arena, "%s%s%s: %s", before, before[0] != '\0' ? "\n" : "",
		dossier->tree.label, dossier->tree.hazard);
}

/* Days that a tree learned are its own; all others are shared by the trees of its kind. */
static void add_window(struct making *making, const struct dossier *dossier, enum window_kind kind,
	struct window_span span, enum basis basis)
{
	const struct species *species = dossier->kind.species;
	const bool own = basis == BASIS_LEARNED;
	const char *of = own ? dossier->tree.id : species->key;
	char from[DATE_SIZE], to[DATE_SIZE], group[200];
	struct calendar_event *event;

	date_format(span.from, from);
	date_format(span.to, to);
	if (own) /* whose days move: the year alone names it */
		snprintf(group, sizeof group, "%s-%s-%.4s", window_key(kind), of, from);
	else
		snprintf(group, sizeof group, "%s-%s%s-%s-%s", window_key(kind), of,
			dossier->kind.sure == SURE_SUSPECTED ? "?" : "", from, to);
	event = find_group(making, group, own);
	if (event != NULL) {
		struct text_builder *trees = &making->trees[event - making->events];
		text_add_format(trees, ", %s", dossier->tree.label);
		event->trees = trees->text;
		event->words = words_of(making, event->words, dossier, kind);
		return;
	}
	event = add_event(making, group);
	if (!own)
		share_last(making);
	event->kind = CALENDAR_WINDOW;
	event->from = span.from;
	event->to = span.to;
	event->title =
		arena_format(making->arena, "%s: %s", window_title(kind), dossier->kind.name);
	struct text_builder *trees = &making->trees[making->count - 1];
	*trees = text_builder_in(making->arena);
	text_add(trees, dossier->tree.label);
	event->trees = trees->text;
	event->words = words_of(making, own ? "by its own days" : "", dossier, kind);
	set_uid(making, event, group);
}

/* The span that holds the day or comes next; false: none, or none that ends. */
static bool span_of(const struct dossier *dossier, enum window_kind kind, struct date day,
	struct window_span *span, enum basis *basis)
{
	if (kind == WINDOW_CUT_CLEAR) {
		const struct saw_span saw = saw_span_at(dossier, VERDICT_CLEAR, day);
		*span = (struct window_span){saw.from, saw.to};
		*basis = saw.basis;
		return saw.known && !saw.all_year;
	}
	const struct window window = dossier_window(dossier, kind, day);
	/* months of many cultivars say nothing of this tree */
	bool wide = kind == WINDOW_HARVEST && window.basis == BASIS_ALMANAC &&
		    dossier->kind.species->wide_harvest;
	if (!window.known || window.all_year || wide)
		return false;
	*span = window_span_at(&window, day);
	*basis = window.basis;
	return true;
}

static void add_windows(struct making *making, const struct dossier *dossier, enum window_kind kind)
{
	const struct date today = yard_today(making->yard);
	const struct date end = date_add_days(today, CALENDAR_DAYS);
	struct date day = today;
	struct window_span span;
	enum basis basis;

	while (date_compare(day, end) <= 0 && span_of(dossier, kind, day, &span, &basis) &&
		date_compare(span.from, end) <= 0 && date_compare(span.to, day) >= 0) {
		add_window(making, dossier, kind, span, basis);
		day = date_add_days(span.to, 1);
	}
}

/* --- plans --- */

static enum status add_plan(struct making *making, const struct entry *plan, struct date due,
	struct date last, const char *subject, struct fault *why)
{
	const struct number_rules numbers = yard_numbers(making->yard);
	const struct amount *every = entry_amount(plan, FIELD_EVERY);
	struct plan repeat = {0};
	char said[FAULT_TEXT_SIZE], uid[ID_SIZE + 8];
	enum status status = store_plan_find(yard_store(making->yard), plan->id, &repeat, why);

	if (status != STATUS_OK && status != STATUS_ABSENT) /* absent: it comes once */
		return status;
	entry_format(plan, &numbers, said, sizeof said);
	struct calendar_event *event = add_event(making, "");
	event->kind = CALENDAR_PLAN;
	event->from = due;
	event->to = last;
	event->title = arena_format(making->arena, "planned: %s", said);
	event->trees = arena_text(making->arena, subject);
	event->words = arena_text(making->arena, plan->note);
	if (every != NULL && every->low.known && every->low.value > 0)
		event->every_days = (int32_t)every->low.value;
	event->until = repeat.until;
	if (event->until.known && date_compare(event->until.value, due) < 0)
		event->every_days = 0;
	snprintf(uid, sizeof uid, "plan-%s", plan->id);
	set_uid(making, event, uid);
	return STATUS_OK;
}

static enum status add_plans(
	struct making *making, const struct dossier *dossier, struct fault *why)
{
	struct date due, last;
	enum status status = STATUS_OK;

	for (int32_t i = 0; status == STATUS_OK && i < dossier->planned_count; i++) {
		const struct entry *plan = dossier->planned[i];
		/* what is planned for the host stands in its grafts' stories too */
		bool own = plan->subject.kind == SUBJECT_TREE &&
			   strcmp(plan->subject.id, dossier->tree.id) == 0;

		if (own && rule_plan_open(dossier, plan, yard_today(making->yard), &due, &last))
			status = add_plan(making, plan, due, last, dossier->tree.label, why);
	}
	return status;
}

/* Planned for a spot, an area or the place: until its day is past. */
static enum status add_other_plans(struct making *making, struct fault *why)
{
	const struct entry_query query = {.planned = 1};
	struct entry *plans = NULL;
	int32_t count = 0;
	char label[TREE_TITLE_SIZE];
	enum status status = store_entry_list(
		yard_store(making->yard), &query, making->arena, &plans, &count, why);

	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		const struct maybe_date due = date_span_first(&plans[i].day);
		const struct maybe_date last = plans[i].day.high.known ? plans[i].day.high : due;

		if (plans[i].subject.kind == SUBJECT_TREE || !due.known ||
			date_compare(last.value, yard_today(making->yard)) < 0)
			continue;
		status = add_plan(making, &plans[i], due.value, last.value,
			subject_title(making->yard, &plans[i].subject, label, sizeof label), why);
	}
	return status;
}

/* --- put-offs --- */

static void add_put_offs(struct making *making)
{
	char uid[FLAG_KEY_SIZE + 16];

	for (int32_t i = 0; i < making->review.count; i++) {
		const struct review_item *item = &making->review.items[i];

		if (item->state != FLAG_PUT_OFF || !item->until.known ||
			is_hidden(making, item->flag.tree_id))
			continue;
		struct calendar_event *event = add_event(making, "");
		const struct rule *rule = rule_find(item->flag.rule);
		event->kind = CALENDAR_PUT_OFF;
		event->from = event->to = item->until.value;
		event->title = arena_format(making->arena, "put off until today: %s",
			rule != NULL ? rule->title : item->flag.rule);
		event->trees = arena_text(making->arena, item->flag.label);
		event->words = arena_text(making->arena, item->flag.says);
		snprintf(uid, sizeof uid, "put-off-%s", item->flag.key);
		set_uid(making, event, uid);
	}
}

/* --- all --- */

static enum status visit(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct making *making = owner;
	const bool has_kind = dossier->kind.species != NULL && !dossier->tree.over_fence;

	making->of_tree = making->count;
	if (making->without_private && dossier_is_private(dossier)) {
		hide(making, dossier->tree.id);
		return STATUS_OK;
	}
	if (has_kind) {
		add_windows(making, dossier, WINDOW_HARVEST);
		add_windows(making, dossier, WINDOW_THINNING);
	}
	if (has_kind && dossier->host == NULL && !is_left_alone(making, dossier->tree.id)) {
		add_windows(making, dossier, WINDOW_CUT_CLEAR);
		add_windows(making, dossier, WINDOW_FEED_CLEAR);
	}
	return add_plans(making, dossier, why);
}

static int compare_events(const void *a, const void *b)
{
	const struct calendar_event *one = a;
	const struct calendar_event *other = b;
	int order = date_compare(one->from, other->from);

	if (order == 0)
		order = date_compare(one->to, other->to);
	if (order == 0)
		order = strcmp(one->title, other->title);
	return order != 0 ? order : strcmp(one->uid, other->uid);
}

static bool is_told_of(const struct review_item *item)
{
	return item->state == FLAG_PUT_OFF || item->flag.urgency == URGENCY_LEAVE;
}

enum status calendar_make(struct yard *yard, bool without_private, struct arena *arena,
	struct calendar *out, struct fault *why)
{
	struct making making = {.yard = yard, .arena = arena, .without_private = without_private};
	const struct review_options options = {.all = true, .wants = is_told_of};
	const struct yard_visitor visitor = {.owner = &making, .visit = visit, .alone = true};
	enum status status = review_make(yard, &options, arena, &making.review, why);

	*out = (struct calendar){0};
	if (status == STATUS_OK)
		status = yard_each(yard, false, &visitor, why);
	if (status == STATUS_OK)
		status = add_other_plans(&making, why);
	if (status != STATUS_OK)
		return status;
	add_put_offs(&making);
	if (making.count > 1)
		qsort(making.events, (size_t)making.count, sizeof *making.events, compare_events);
	*out = (struct calendar){.events = making.events, .count = making.count};
	return STATUS_OK;
}
