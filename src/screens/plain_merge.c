/* SPDX-License-Identifier: MIT */
/* Another copy of the log, asked for and told line by line. */
#include <string.h>

#include "core/text.h"
#include "exchange/merge.h"
#include "plain_inner.h"

/* One thing after the other that two copies changed; a blank answer leaves it as it is. */
static bool settle_one(
	struct plain *plain, int32_t number, const struct clash *clash, struct arena *arena)
{
	struct fault why = {.status = STATUS_OK};
	char said[TEXT_SIZE] = "";
	int32_t side = -1;
	const char *own = NULL;
	enum status status =
		merge_say_clash(&plain->printer, plain->session, number, clash, arena, &why);
	while (status == STATUS_OK) {
		if (!plain_ask(plain, "Keep which: a letter, before, or \"own\" and what it is? "
				      "Blank: leave it."))
			return false;
		if (plain->line[0] == '\0')
			return true;
		if (text_starts(plain->line, "own ")) {
			own = arena_text(arena, plain->line + strlen("own "));
			break;
		}
		if (merge_read_side(plain->line, clash, &side, &why) == STATUS_OK)
			break;
		plain_say(plain, "%s", why.text);
	}
	if (status == STATUS_OK)
		status = own != NULL ? merge_keep_own(plain->session, clash, own, said, &why)
				     : merge_keep(plain->session, clash, side, said, &why);
	return plain_done(plain, status, said, &why);
}

static void settle(struct plain *plain)
{
	struct arena *arena = arena_new();
	struct fault why = {.status = STATUS_OK};
	struct clash *list = NULL;
	int32_t count = 0;
	if (store_clash_list(plain->session->store, arena, &list, &count, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
	if (count > 0)
		plain_say(plain, "Changed in two copies of the log: %d.", (int)count);
	for (int32_t i = 0; i < count; i++)
		if (!settle_one(plain, i + 1, &list[i], arena))
			break;
	arena_free(arena);
}

/* Tried on a copy; true: there is something to merge. */
static bool try_it(struct plain *plain, struct merge_options *options, struct arena *arena)
{
	struct merge_told told;
	struct fault why = {.status = STATUS_OK};
	options->dry_run = true;
	enum status status = merge_log(plain->session, options, arena, &told, &why);
	options->dry_run = false;
	if (status != STATUS_OK) {
		plain_say(plain, "Not done: %s", why.text);
		return false;
	}
	merge_say_told(&plain->printer, &told, arena);
	return told.account.acts > 0;
}

static void merge_one(struct plain *plain, const char *path, struct arena *arena)
{
	struct merge_told told;
	struct fault why = {.status = STATUS_OK};
	struct merge_options options = {.path = path};
	if (!try_it(plain, &options, arena) ||
		!plain_ask(plain, "That was tried on a copy. Merge it? yes, or blank: leave it."))
		return;
	if (!plain_is(plain, "yes")) {
		plain_say(plain, "Nothing was merged.");
		return;
	}
	enum status status = merge_log(plain->session, &options, arena, &told, &why);
	(void)plain_done(plain, status, "Merged; undo takes all of it back.", &why);
}

void plain_merge(struct plain *plain, const char *path)
{
	struct arena *arena = arena_new();
	const char *file = arena_text(arena, path);
	if (path[0] == '\0' &&
		plain_ask(plain, "Which file is the other copy? Blank: only what waits."))
		file = arena_text(arena, plain->line);
	if (file[0] != '\0')
		merge_one(plain, file, arena);
	settle(plain);
	arena_free(arena);
}
