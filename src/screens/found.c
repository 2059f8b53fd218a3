/* SPDX-License-Identifier: MIT */
#include "found.h"

#include "core/text.h"

enum { FOUND_MAX = 40 };

void found_look(struct found *found, struct session *session, const char *text)
{
	struct arena *arena = arena_new();
	struct tree *trees;
	int32_t count = 0;
	struct fault why;
	const struct tree_query query = {.text = text, .most = FOUND_MAX};
	const struct tree *best = NULL;
	found->id[0] = found->says[0] = '\0';
	const char *none = text[0] != '\0' ? "no tree has these letters" : "";
	if (text[0] != '\0' &&
		store_tree_list(session->store, &query, arena, &trees, &count, &why) != STATUS_OK) {
		count = 0;
		none = why.text;
	}
	struct text_builder says = text_builder_fixed(found->says, sizeof found->says);
	for (int32_t i = 0; i < count; i++) {
		const bool exact = text_same(trees[i].label, text);
		const bool begins = text_starts(trees[i].label, text);
		if (best == NULL || exact || (begins && !text_starts(best->label, text)))
			best = &trees[i];
		text_add_format(&says, "%s%s", i > 0 ? ", " : "", trees[i].label);
	}
	if (best != NULL)
		(void)text_copy(found->id, sizeof found->id, best->id);
	else
		text_add(&says, none);
	arena_free(arena);
}
