/* SPDX-License-Identifier: MIT */
/* Entries logged: one line, one act. */
#include <string.h>

#include "dossier/work_inner.h"

enum status work_begin(struct yard *yard, const char *what, struct fault *why)
{
	char short_what[TEXT_SIZE];
	text_copy(short_what, sizeof short_what, what);
	return store_act_begin(yard_store(yard), ACT_WORK, short_what, why);
}

enum status work_end(struct yard *yard, enum status status, struct fault *why)
{
	if (status == STATUS_OK)
		status = store_act_commit(yard_store(yard), why);
	else
		store_act_rollback(yard_store(yard));
	return status;
}

enum status work_plan_put(struct yard *yard, const struct entry *entry, struct fault *why)
{
	struct plan plan = {.every_days.known = false};
	const struct amount *every = entry_amount(entry, FIELD_EVERY);
	struct date_span until;
	if (every != NULL && every->low.known)
		plan.every_days = known_i32((int32_t)every->low.value);
	const char *text = entry_detail(entry, FIELD_UNTIL);
	if (text[0] != '\0' &&
		date_span_parse(text, yard_place(yard)->hemisphere, &until, NULL) == STATUS_OK)
		plan.until = until.high;
	return store_plan_put(yard_store(yard), entry->id, &plan, why);
}

static enum status add_entry(struct logging *logging, struct entry *entry, struct fault *why)
{
	enum status status = store_entry_add(yard_store(logging->yard), entry, why);
	if (status == STATUS_OK)
		status = work_keep_containers(logging, entry, why);
	if (status != STATUS_OK)
		return status;
	return entry->planned ? work_plan_put(logging->yard, entry, why)
			      : work_follow(logging, entry, why);
}

static enum status log_one(struct logging *logging, const struct subject *subject,
	struct work_logged *out, struct fault *why)
{
	struct entry entry = logging->reading->draft;
	entry.id[0] = '\0';
	entry.subject = *subject;
	enum status status = add_entry(logging, &entry, why);
	if (status != STATUS_OK)
		return status;
	out->count = 1;
	text_copy(out->entry_id, sizeof out->entry_id, entry.id);
	return STATUS_OK;
}

static enum status log_batch(struct logging *logging, const struct subject *subjects, int32_t count,
	struct work_logged *out, struct fault *why)
{
	char batch[ID_SIZE];
	enum status status = STATUS_OK;
	clock_new_id(store_clock(yard_store(logging->yard)), batch);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct entry entry = logging->reading->draft;
		entry.id[0] = '\0';
		entry.subject = subjects[i];
		text_copy(entry.batch, sizeof entry.batch, batch);
		status = add_entry(logging, &entry, why);
		if (i == 0)
			text_copy(out->entry_id, sizeof out->entry_id, entry.id);
	}
	out->count = count;
	text_add_format(&logging->said, " (%d %s)", count, count == 1 ? "tree" : "trees");
	return status;
}

enum status work_log_in_act(struct yard *yard, const struct reading *reading,
	struct work_logged *out, struct fault *why)
{
	*out = (struct work_logged){.count = 0};
	struct logging logging = {
		.yard = yard,
		.arena = arena_new(),
		.reading = reading,
		.said = text_builder_fixed(out->said, sizeof out->said),
	};
	text_add(&logging.said, reading->said);
	struct subject *subjects;
	int32_t count;
	enum status status = STATUS_OK; /* a line of a day alone logs nothing */
	if (!reading->is_day_line)
		status = work_subjects(yard, reading, logging.arena, &subjects, &count, why);
	if (status == STATUS_OK && !reading->is_day_line) {
		bool is_batch = reading->batch != BATCH_ONE && !reading->is_total;
		status = is_batch ? log_batch(&logging, subjects, count, out, why)
				  : log_one(&logging, &subjects[0], out, why);
	}
	arena_free(logging.arena);
	return status;
}

enum status work_log(struct yard *yard, const struct reading *reading, struct work_logged *out,
	struct fault *why)
{
	enum status status = work_begin(yard, reading->said, why);
	if (status != STATUS_OK)
		return status;
	return work_end(yard, work_log_in_act(yard, reading, out, why), why);
}

enum status work_enter(struct yard *yard, const char *line, const struct line_context *context,
	struct work_logged *out, struct fault *why)
{
	struct arena *arena = arena_new();
	struct reading reading = {.line_count = 0};
	enum status status = line_read(line, context, arena, &reading, NULL, why);
	if (status == STATUS_OK)
		status = work_log(yard, &reading, out, why);
	if (status == STATUS_OK && reading.remarks[0] != '\0') {
		size_t length = strlen(out->said);
		struct text_builder more =
			text_builder_fixed(out->said + length, sizeof out->said - length);
		text_add_format(&more, "; %s", reading.remarks);
	}
	arena_free(arena);
	return status;
}
