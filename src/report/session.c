/* SPDX-License-Identifier: MIT */
#include "report/session.h"

#include <string.h>

#include "core/file.h"
#include "core/text.h"
#include "store/touched.h"

/* Where the log remembers under which almanac its season turns were made. */
static const char turns_key[] = "season-turns";

/* --- season turns --- */

static enum status put_subject_turns(
	const struct session *session, const struct subject *subject, struct fault *why)
{
	if (subject->kind == SUBJECT_TREE)
		return yard_put_turns(session->store, session->almanac, subject->id, why);
	return yard_put_spot_turns(session->store, session->almanac, subject->id, why);
}

/* After an undo or a redo, inside its act: what it turned back names its seasons anew. */
static enum status after_turn(struct store *store, void *context, struct fault *why)
{
	const struct session *session = context;
	struct arena *arena = arena_new();
	char set_id[ID_SIZE];
	struct touched touched = {.all = false};
	enum status status = store_last_change(store, set_id, why);
	if (status == STATUS_OK)
		status = store_touched(store, set_id, arena, &touched, why);
	if (status == STATUS_OK && touched.all)
		status = yard_put_all_turns(store, session->almanac, why);
	for (int32_t i = 0; status == STATUS_OK && i < touched.count; i++)
		status = put_subject_turns(session, &touched.subjects[i], why);
	arena_free(arena);
	return status;
}

static enum status turns_are_of(
	const struct session *session, const char *digest, bool *same, struct fault *why)
{
	struct arena *arena = arena_new();
	const char *kept = "";
	*same = false;
	enum status status = store_walk_get(session->store, turns_key, arena, &kept, why);
	if (status == STATUS_OK)
		*same = strcmp(kept, digest) == 0;
	arena_free(arena);
	return status == STATUS_ABSENT ? STATUS_OK : status;
}

static enum status renew_turns(struct session *session, struct fault *why)
{
	const char *digest = almanac_digest(session->almanac);
	bool same;
	enum status status = turns_are_of(session, digest, &same, why);
	if (status != STATUS_OK || same)
		return status;
	status = store_act_begin(session->store, ACT_WORK, "season names", why);
	if (status != STATUS_OK)
		return status;
	status = yard_put_all_turns(session->store, session->almanac, why);
	if (status == STATUS_OK)
		status = store_walk_put(session->store, turns_key, digest, why);
	if (status == STATUS_OK)
		return store_act_commit(session->store, why);
	store_act_rollback(session->store);
	return status;
}

enum status session_check_turns(const struct session *session, struct turns_checked *out,
	bool *other_almanac, struct fault *why)
{
	bool same;
	enum status status = turns_are_of(session, almanac_digest(session->almanac), &same, why);
	*other_almanac = !same;
	return status == STATUS_OK ? yard_check_turns(session->store, session->almanac, out, why)
				   : status;
}

/* --- opening --- */

static enum status open_almanac(struct session *session, const char *option, struct fault *why)
{
	char folder[FILE_PATH_SIZE];
	enum status status = almanac_find(option, folder, sizeof folder, why);
	return status == STATUS_OK ? almanac_open(folder, &session->almanac, why) : status;
}

static enum status open_store(
	struct session *session, const struct session_options *options, struct fault *why)
{
	char path[FILE_PATH_SIZE];
	bool fits = true;
	struct store_options how = {
		.clock = &session->clock,
		.read_only = options->read_only,
	};
	enum status status = STATUS_OK;
	if (options->path == NULL)
		status = file_default_log_path(path, why);
	else
		fits = text_copy(path, sizeof path, options->path);
	if (!fits)
		return fault_set(why, STATUS_RANGE, "the path of the log is longer than %d bytes",
			FILE_PATH_SIZE - 1);
	if (status == STATUS_OK)
		status = store_open(path, &how, &session->store, why);
	if (status == STATUS_OK)
		store_set_after_turn(session->store, after_turn, session);
	return status;
}

static enum status open_yard(struct session *session, struct fault *why)
{
	enum status status = yard_open(session->store, session->almanac,
		clock_today(&session->clock), session->arena, &session->yard, why);
	if (status != STATUS_OK)
		return status;
	session->numbers = yard_numbers(session->yard);
	if (!session->units_given)
		session->units = session->numbers.units;
	yard_tell_in(session->yard, session->units);
	session->numbers.units = session->units;
	return STATUS_OK;
}

enum status session_open(
	const struct session_options *options, struct session **out, struct fault *why)
{
	struct session *session = block_new(sizeof *session);
	session->clock = options->clock;
	session->units = options->units;
	session->units_given = options->units != UNITS_UNSET;
	session->arena = arena_new();
	enum status status = open_almanac(session, options->almanac, why);
	if (status == STATUS_OK)
		status = open_store(session, options, why);
	if (status == STATUS_OK && !store_is_read_only(session->store)) {
		status = renew_turns(session, why);
		if (status == STATUS_BUSY) /* another window saves: the next opening does it */
			status = STATUS_OK;
	}
	if (status == STATUS_OK)
		status = open_yard(session, why);
	if (status == STATUS_DAMAGED && session->store != NULL)
		store_backup_hint(store_path(session->store), why);
	if (status != STATUS_OK) {
		session_close(session);
		return status;
	}
	*out = session;
	return STATUS_OK;
}

enum status session_refresh(struct session *session, struct fault *why)
{
	arena_reset(session->arena);
	session->yard = NULL;
	session->names_read.items = NULL;
	session->kinds_read = false;
	return open_yard(session, why);
}

enum status session_trees(
	struct session *session, bool kinds, struct tree_names *out, struct fault *why)
{
	enum status status = STATUS_OK;
	if (session->names_read.items == NULL || (kinds && !session->kinds_read)) {
		status = store_tree_names(
			session->store, kinds, 0, session->arena, &session->names_read, why);
		session->kinds_read = kinds && status == STATUS_OK;
	}
	*out = session->names_read;
	return status;
}

void session_keep_flags(struct session *session)
{
	if (session->keeper == NULL && !store_is_read_only(session->store) &&
		!session->clock.pinned.known)
		session->keeper = keeper_new();
}

bool session_fill_flags(struct session *session, double seconds)
{
	return session != NULL && session->keeper != NULL &&
	       keeper_fill(session->keeper, session->yard, seconds);
}

void session_write_flags(struct session *session)
{
	if (session != NULL && keeper_waiting(session->keeper) > 0)
		keeper_write(session->keeper, session->yard);
}

void session_close(struct session *session)
{
	if (session == NULL)
		return;
	keeper_free(session->keeper);
	store_close(session->store);
	almanac_close(session->almanac);
	arena_free(session->arena);
	block_free(session);
}

struct line_context session_line_context(struct session *session)
{
	return yard_line_context(session->yard, &session->names);
}
