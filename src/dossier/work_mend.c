/* SPDX-License-Identifier: MIT */
/* Entries mended and struck, and what hung on them. */
#include <string.h>

#include "dossier/work_inner.h"

/* Kinds whose entry changed the yard: mending one into another would leave that behind. */
static bool changes_yard(enum entry_kind kind)
{
	return kind == KIND_DIED || kind == KIND_MOVE || kind == KIND_POT_UP || kind == KIND_GRAFT;
}

static enum status check_mend(
	const struct entry *old, const struct entry *mended, struct fault *why)
{
	bool same_kind = old->kind == mended->kind;
	bool same_subject = strcmp(old->subject.id, mended->subject.id) == 0;
	bool done = !old->planned || !mended->planned;
	if (done && (changes_yard(old->kind) || changes_yard(mended->kind)) &&
		!(same_kind && same_subject && old->planned == mended->planned))
		return fault_set(why, STATUS_RANGE,
			"'%s' cannot be mended into '%s', since the yard changed with it: strike "
			"it "
			"and log the line anew",
			kind_row(old->kind)->title, kind_row(mended->kind)->title);
	const char *from = entry_detail(old, FIELD_PLACE_TO);
	const char *to = entry_detail(mended, FIELD_PLACE_TO);
	if (!text_same(from, to) ||
		!text_same(entry_detail(old, FIELD_NAME), entry_detail(mended, FIELD_NAME)))
		if (changes_yard(old->kind))
			return fault_set(why, STATUS_RANGE,
				"the place or name of a %s cannot be mended, since the yard "
				"changed "
				"with it: strike it and log the line anew",
				kind_row(old->kind)->title);
	return STATUS_OK;
}

/* The closing or planting day of the tree moves with the entry that said it. */
static enum status follow_mend(
	struct yard *yard, const struct entry *old, const struct entry *mended, struct fault *why)
{
	if (mended->subject.kind != SUBJECT_TREE || mended->planned)
		return STATUS_OK;
	bool died = mended->kind == KIND_DIED;
	if (!died && (mended->kind != KIND_PLANT || old->kind != KIND_PLANT))
		return STATUS_OK;
	struct tree tree;
	enum status status = store_tree_load(yard_store(yard), mended->subject.id, &tree, why);
	if (status != STATUS_OK)
		return status;
	struct date_span *day = died ? &tree.gone : &tree.planted;
	if (strcmp(day->text, old->day.text) != 0)
		return STATUS_OK; /* said by something else */
	*day = mended->day;
	const char *cause = entry_detail(mended, FIELD_CAUSE);
	if (died && cause[0] != '\0')
		text_copy(tree.gone_reason, sizeof tree.gone_reason, cause);
	return store_tree_save(yard_store(yard), &tree, why);
}

static enum status save_mended(struct yard *yard, const struct entry *old,
	const struct reading *reading, struct arena *arena, struct work_logged *out,
	struct fault *why)
{
	struct entry mended = reading->draft;
	struct logging logging = {
		.yard = yard,
		.arena = arena,
		.reading = reading,
		.said = text_builder_fixed(out->said, sizeof out->said),
	};
	memcpy(mended.id, old->id, sizeof mended.id);
	memcpy(mended.batch, old->batch, sizeof mended.batch);
	memcpy(mended.typed_at, old->typed_at, sizeof mended.typed_at);
	text_add(&logging.said, reading->said);
	enum status status = check_mend(old, &mended, why);
	if (status == STATUS_OK)
		status = store_entry_save(yard_store(yard), &mended, why);
	if (status == STATUS_OK)
		status = work_keep_containers(&logging, &mended, why);
	if (status == STATUS_OK)
		status = follow_mend(yard, old, &mended, why);
	if (status == STATUS_OK && mended.planned)
		status = work_plan_put(yard, &mended, why);
	if (status == STATUS_OK && mended.subject.kind == SUBJECT_SPOT)
		status = yard_put_spot_turns(
			yard_store(yard), yard_almanac(yard), mended.subject.id, why);
	memcpy(out->entry_id, old->id, ID_SIZE);
	out->count = 1;
	return status;
}

static enum status mend(struct yard *yard, const char *entry_id, const char *line,
	const struct line_context *context, bool begins, struct work_logged *out, struct fault *why)
{
	struct arena *arena = arena_new();
	struct reading reading = {.line_count = 0};
	struct entry old;
	*out = (struct work_logged){.count = 0};
	enum status status = store_entry_load(yard_store(yard), entry_id, arena, &old, why);
	if (status == STATUS_OK)
		status = line_read(line, context, arena, &reading, NULL, why);
	if (status == STATUS_OK && (reading.batch != BATCH_ONE || reading.is_day_line))
		status = fault_set(why, STATUS_RANGE,
			"an entry is mended by a line for one thing, not for many");
	if (status == STATUS_OK && !begins)
		status = save_mended(yard, &old, &reading, arena, out, why);
	else if (status == STATUS_OK && (status = work_begin(yard, reading.said, why)) == STATUS_OK)
		status = work_end(yard, save_mended(yard, &old, &reading, arena, out, why), why);
	arena_free(arena);
	return status;
}

enum status work_mend(struct yard *yard, const char *entry_id, const char *line,
	const struct line_context *context, struct work_logged *out, struct fault *why)
{
	return mend(yard, entry_id, line, context, true, out, why);
}

enum status work_mend_in_act(struct yard *yard, const char *entry_id, const char *line,
	const struct line_context *context, struct work_logged *out, struct fault *why)
{
	return mend(yard, entry_id, line, context, false, out, why);
}

/* --- striking --- */

/* The spot that a closed tree stood in last. */
static enum status last_spot(struct yard *yard, const char *tree_id, struct arena *arena,
	char spot_id[ID_SIZE], struct fault *why)
{
	struct tree_place *places;
	int32_t count;
	spot_id[0] = '\0';
	enum status status =
		store_tree_place_list(yard_store(yard), tree_id, NULL, arena, &places, &count, why);
	if (status == STATUS_OK && count > 0)
		memcpy(spot_id, places[count - 1].spot_id, ID_SIZE);
	return status;
}

static enum status reopen(struct yard *yard, struct tree *tree, struct fault *why)
{
	tree->gone = (struct date_span){.text = ""};
	tree->gone_reason[0] = '\0';
	return store_tree_save(yard_store(yard), tree, why);
}

/* Grafts that went with their host come back with it. */
static enum status reopen_grafts(struct yard *yard, const struct tree *host, const char *gone,
	struct arena *arena, struct fault *why)
{
	struct tree_query query = {.gone_too = true, .host_id = host->id};
	struct tree *grafts;
	int32_t count;
	enum status status = store_tree_list(yard_store(yard), &query, arena, &grafts, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if (strcmp(grafts[i].gone.text, gone) == 0)
			status = reopen(yard, &grafts[i], why);
	return status;
}

static enum status take_back_death(
	struct yard *yard, const struct entry *entry, struct arena *arena, struct fault *why)
{
	struct tree tree;
	char spot_id[ID_SIZE];
	enum status status = store_tree_load(yard_store(yard), entry->subject.id, &tree, why);
	if (status != STATUS_OK || strcmp(tree.gone.text, entry->day.text) != 0)
		return status;
	struct date_span gone = tree.gone;
	status = last_spot(yard, tree.id, arena, spot_id, why);
	if (status == STATUS_OK)
		status = reopen(yard, &tree, why);
	if (status == STATUS_OK)
		status = reopen_grafts(yard, &tree, gone.text, arena, why);
	struct maybe_date day = date_span_first(&gone);
	if (status == STATUS_OK && spot_id[0] != '\0' && day.known)
		status = store_tree_move(yard_store(yard), tree.id, spot_id, day.value, why);
	if (status == STATUS_OK)
		status = yard_put_turns(yard_store(yard), yard_almanac(yard), tree.id, why);
	return status;
}

static void say_what_stays(const struct entry *entry, struct text_builder *said)
{
	if (entry->planned)
		return;
	if (entry->kind == KIND_MOVE || entry->kind == KIND_POT_UP)
		text_add(said, "; the tree stays where it is now: log a move when it stands "
			       "elsewhere");
	if (entry->kind == KIND_GRAFT)
		text_add(said, "; the graft it made stays: remove it by its own label");
}

enum status work_strike(
	struct yard *yard, const char *entry_id, struct work_logged *out, struct fault *why)
{
	struct arena *arena = arena_new();
	struct entry entry;
	char what[FAULT_TEXT_SIZE];
	*out = (struct work_logged){.count = 0};
	enum status status = store_entry_load(yard_store(yard), entry_id, arena, &entry, why);
	if (status == STATUS_OK) {
		struct text_builder text = text_builder_fixed(what, sizeof what);
		text_add_format(&text, "struck: %s", entry.words);
		status = work_begin(yard, what, why);
	}
	if (status == STATUS_OK) {
		struct text_builder said = text_builder_fixed(out->said, sizeof out->said);
		text_add(&said, what);
		status = store_entry_strike(yard_store(yard), entry_id, why);
		if (status == STATUS_OK && entry.kind == KIND_DIED && !entry.planned &&
			entry.subject.kind == SUBJECT_TREE)
			status = take_back_death(yard, &entry, arena, why);
		say_what_stays(&entry, &said);
		memcpy(out->entry_id, entry.id, ID_SIZE);
		out->count = 1;
		status = work_end(yard, status, why);
	}
	arena_free(arena);
	return status;
}
