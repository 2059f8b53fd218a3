/* SPDX-License-Identifier: MIT */
#include "add_rows.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum status add_rows_read(const struct add_words *words, struct session *session,
	struct new_tree *tree, struct label_range *range, struct fault *why)
{
	const struct line_context line = session_line_context(session);
	char label[LABEL_SIZE * 2];
	const char *sort = words->sort;
	const size_t species = strcspn(sort, ",");
	(void)text_copy(label, sizeof label, words->labels);
	(void)text_trim_in_place(label);
	enum status status = label_range_parse(label, range, why);
	if (status == STATUS_OK)
		status =
			label_check(label_range_at(range, range->count - 1, tree->tree.label), why);
	if (status == STATUS_OK && words->planted[strspn(words->planted, " ")] != '\0')
		status = planting_read(words->planted, &line, &tree->tree.planted, why);
	(void)text_copy_n(tree->species, sizeof tree->species, sort, species);
	(void)text_trim_in_place(tree->species);
	if (sort[species] == ',')
		(void)text_copy(tree->cultivar, sizeof tree->cultivar, sort + species + 1);
	(void)text_trim_in_place(tree->cultivar);
	return status;
}

enum status add_rows_keep(struct session *session, struct new_tree *tree,
	const struct label_range *range, char asked[TEXT_SIZE], struct fault *why)
{
	struct store *store = session->store;
	char what[TEXT_SIZE];
	char label[LABEL_SIZE];
	char id[ID_SIZE];
	struct text_builder said = text_builder_fixed(what, sizeof what);
	text_add_format(&said, "add %s", label_range_at(range, 0, label));
	if (range->count > 1)
		text_add_format(&said, " to %s", label_range_at(range, range->count - 1, label));
	enum status status = store_act_begin(store, ACT_WORK, what, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; status == STATUS_OK && i < range->count; i++) {
		(void)label_range_at(range, i, tree->tree.label);
		tree->tree.id[0] = '\0';
		status = work_tree_add_in_act(session->yard, tree, asked, id, why);
	}
	if (status == STATUS_OK)
		return store_act_commit(store, why);
	store_act_rollback(store);
	return status;
}

const char *add_rows_words(const struct label_range *range, char *out, int size)
{
	char first[LABEL_SIZE];
	char last[LABEL_SIZE];
	if (range->count > 1)
		(void)snprintf(out, (size_t)size, "%s to %s, %d trees",
			label_range_at(range, 0, first),
			label_range_at(range, range->count - 1, last), (int)range->count);
	else
		(void)snprintf(out, (size_t)size, "%s", label_range_at(range, 0, first));
	return out;
}
