/* SPDX-License-Identifier: MIT */
#include "found.h"

#include "core/text.h"

enum { FOUND_MAX = 40 };

bool found_prepare(struct session *session)
{
	struct tree_names names;
	struct fault why;
	return !session->kinds_read && session_trees(session, true, &names, &why) == STATUS_OK;
}

void found_look(struct found *found, struct session *session, const char *text)
{
	const struct tree_letters letters = tree_letters_make(text);
	const struct tree_name *best = NULL;
	struct tree_names names = {.count = 0};
	int32_t count = 0;
	struct fault why = {.text = "no tree has these letters"};
	found->id[0] = found->says[0] = '\0';
	if (text[0] == '\0' || session_trees(session, letters.of_kinds, &names, &why) != STATUS_OK)
		names.count = 0;
	struct text_builder says = text_builder_fixed(found->says, sizeof found->says);
	for (int32_t i = 0; i < names.count && count < FOUND_MAX; i++) {
		const struct tree_name *tree = &names.items[i];
		if (!tree_letters_fit(&letters, tree))
			continue;
		const bool exact = text_same(tree->label, text);
		const bool begins = text_starts(tree->label, text);
		if (best == NULL || exact || (begins && !text_starts(best->label, text)))
			best = tree;
		text_add_format(&says, "%s%s", count++ > 0 ? ", " : "", tree->label);
	}
	if (best != NULL)
		(void)text_copy(found->id, sizeof found->id, best->id);
	else if (text[0] != '\0')
		text_add(&says, why.text);
}
