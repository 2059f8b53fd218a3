/* SPDX-License-Identifier: MIT */
/* The line mode: which cultivar a tree could be, and what is seen of it. */
#include "plain_inner.h"

static enum status read_rest(struct plain *plain, const char *rest, struct arena *arena,
	struct tree *tree, struct likely_said **said, int32_t *count, struct fault *why)
{
	const char *label = "";
	enum status status = likely_said_read(rest, arena, &label, said, count, why);
	return status == STATUS_OK ? store_tree_find(plain->session->store, label, tree, why)
				   : status;
}

void plain_likely(struct plain *plain, const char *rest)
{
	struct arena *arena = arena_new();
	struct likely_said *said = NULL;
	int32_t count = 0;
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	enum status status = read_rest(plain, rest, arena, &tree, &said, &count, &why);
	if (status == STATUS_OK)
		status = print_likely(
			&plain->printer, plain->session->yard, tree.id, said, count, &why);
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
	arena_free(arena);
}

void plain_trait(struct plain *plain, const char *rest)
{
	const struct trait by = {.day = known_date(yard_today(plain->session->yard))};
	struct arena *arena = arena_new();
	struct likely_said *said = NULL;
	int32_t count = 0;
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	enum status status = read_rest(plain, rest, arena, &tree, &said, &count, &why);
	if (status == STATUS_OK && count == 0)
		status =
			fault_set(&why, STATUS_SYNTAX, "say what you see: trait LABEL flesh=white");
	if (status == STATUS_OK)
		status = likely_report_keep(plain->session->yard, tree.id, said, count, &by, &why);
	(void)plain_done(plain, status, "Saved.", &why);
	arena_free(arena);
}
