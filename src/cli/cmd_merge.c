/* SPDX-License-Identifier: MIT */
/* merge: another copy of the log taken in, and what both copies changed. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "acts.h"
#include "exchange/merge.h"

static enum status take_in(struct call *call, struct fault *why)
{
	struct merge_told told;
	const struct merge_options options = {.path = call->words[0],
		.unrelated = call_has(call, "unrelated"),
		.dry_run = call_has(call, "dry-run")};
	enum status status = merge_log(call->session, &options, call->arena, &told, why);

	if (status != STATUS_OK)
		return status;
	if (options.dry_run)
		call_say(call, "tried on a copy; nothing of this is in the log:");
	merge_say_told(&call->printer, &told, call->arena);
	if (!options.dry_run && told.account.acts > 0)
		call_say(call, "merged; undo takes all of it back%s",
			told.clash_count > 0 ? "; merge --clashes lists what waits for you" : "");
	return STATUS_OK;
}

/* --- what waits --- */

static const char *const clash_keys[] = {
	"number", "record", "field", "side", "value", "typed_at", "device", "own", NULL};

/* side < 0: what the field held before either of them. */
static enum status write_side(struct call *call, struct rows *rows, const struct clash *clash,
	const struct clash_field *field, int32_t side, struct fault *why)
{
	const struct clash_side *one = side < 0 ? NULL : &clash->sides[side];
	const char *value = clash_value_words(call->session, field,
		one == NULL ? field->before : field->values[side], call->arena, why);
	const char *name =
		one == NULL ? "before" : arena_format(call->arena, "%c", (char)('a' + side));

	if (value == NULL)
		return why->status;
	rows_text(rows, clash->title);
	rows_text(rows, clash_field_name(field, call->arena));
	rows_text(rows, name);
	rows_text(rows, value);
	rows_text(rows, one == NULL ? NULL : one->typed_at);
	rows_text(rows, one == NULL ? NULL : one->device);
	rows_bool(rows, one != NULL && one->is_own);
	return STATUS_OK;
}

static enum status write_clash(struct call *call, struct rows *rows, const struct clash *clash,
	int32_t number, struct fault *why)
{
	enum status status = STATUS_OK;

	for (int32_t k = 0; k < clash->field_count; k++)
		for (int32_t side = -1; status == STATUS_OK && side < clash->side_count; side++) {
			rows_i32(rows, number);
			status = write_side(call, rows, clash, &clash->fields[k], side, why);
		}
	return status;
}

static enum status write_rows(
	struct call *call, const struct clash *list, int32_t count, struct fault *why)
{
	struct rows rows = rows_begin(&call->printer, clash_keys);
	enum status status = STATUS_OK;

	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = write_clash(call, &rows, &list[i], i + 1, why);
	return status == STATUS_OK ? rows_end(&rows, why) : status;
}

static enum status list_clashes(struct call *call, struct fault *why)
{
	struct clash *list = NULL;
	int32_t count = 0;
	enum status status = call_want(call, 0, 0, why);

	if (status == STATUS_OK)
		status = store_clash_list(call->session->store, call->arena, &list, &count, why);
	if (status != STATUS_OK)
		return status;
	if (wants_rows(call))
		return write_rows(call, list, count, why);
	if (count == 0)
		call_say(call, "nothing waits: no field was changed in two copies");
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = merge_say_clash(
			&call->printer, call->session, i + 1, &list[i], call->arena, why);
	if (status == STATUS_OK && count > 0)
		call_say(call,
			"merge --keep NUMBER a (or b, or before, or own and the value) settles "
			"one; an edit of the field does too");
	return status;
}

/* --- settling --- */

static enum status keep_side(struct call *call, const char *which, struct fault *why)
{
	struct clash *list = NULL;
	char said[TEXT_SIZE];
	char *end = NULL;
	int32_t count = 0, side = 0;
	long number = strtol(which, &end, 10);
	const bool is_own = call->word_count > 0 && strcmp(call->words[0], "own") == 0;
	enum status status = call_want(call, 1 + is_own, 1 + is_own, why);

	if (status == STATUS_OK)
		status = store_clash_list(call->session->store, call->arena, &list, &count, why);
	if (status != STATUS_OK)
		return status;
	if (*end != '\0' || number < 1 || number > count)
		return fault_set(why, count == 0 ? STATUS_ABSENT : STATUS_SYNTAX,
			count == 0 ? "'%s': nothing waits to be settled"
				   : "'%s' is no number of merge --clashes, which lists 1 to %d",
			which, (int)count);
	if (is_own)
		status =
			merge_keep_own(call->session, &list[number - 1], call->words[1], said, why);
	else
		status = merge_read_side(call->words[0], &list[number - 1], &side, why);
	if (status == STATUS_OK && !is_own)
		status = merge_keep(call->session, &list[number - 1], side, said, why);
	if (status == STATUS_OK)
		call_say(call, "%s", said);
	return status;
}

enum status cmd_merge(struct call *call, int *exit_status, struct fault *why)
{
	const char *which = call_option(call, "keep");
	(void)exit_status;

	if (call_has(call, "clashes"))
		return list_clashes(call, why);
	if (which != NULL)
		return keep_side(call, which, why);
	enum status status = call_want(call, 1, 1, why);
	return status == STATUS_OK ? take_in(call, why) : status;
}
