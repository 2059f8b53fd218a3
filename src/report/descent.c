/* SPDX-License-Identifier: MIT */
/* A tree's line, up and down, and its batch. */
#include "descent_inner.h"

#include <string.h>

#include "core/text.h"

struct growing {
	struct yard *yard;
	struct arena *arena;
	const struct tree *trees; /* all that stand or stood */
	int32_t tree_count;
	struct descent *out;
	struct descent_line *lines;
};

static const struct tree *tree_of(const struct growing *growing, const char *id)
{
	for (int32_t i = 0; id[0] != '\0' && i < growing->tree_count; i++)
		if (strcmp(growing->trees[i].id, id) == 0)
			return &growing->trees[i];
	return NULL;
}

/* --- the line --- */

static enum status add_line(struct growing *growing, const struct tree *tree, int32_t depth,
	bool is_ancestor, struct fault *why)
{
	struct descent *out = growing->out;

	if (out->count == DESCENT_LINES_MAX) {
		out->more = true;
		return STATUS_OK;
	}
	struct descent_line *line = &growing->lines[out->count++];
	*line = (struct descent_line){.tree = *tree,
		.depth = depth,
		.is_ancestor = is_ancestor,
		.is_self = strcmp(tree->id, out->dossier->tree.id) == 0};
	return yard_kind(growing->yard, tree->id, yard_today(growing->yard), &line->kind, why);
}

static bool is_told(const struct growing *growing, const char *id)
{
	for (int32_t i = 0; i < growing->out->count; i++)
		if (strcmp(growing->lines[i].tree.id, id) == 0)
			return true;
	return false;
}

static enum status add_children(
	struct growing *growing, const char *parent_id, int32_t depth, struct fault *why)
{
	enum status status = STATUS_OK;

	if (depth >= DESCENT_DEPTH_MAX) {
		growing->out->more = true;
		return STATUS_OK;
	}
	for (int32_t i = 0; status == STATUS_OK && i < growing->tree_count; i++) {
		const struct tree *child = &growing->trees[i];

		if (strcmp(child->parent_id, parent_id) != 0 || growing->out->more)
			continue;
		if (is_told(growing, child->id)) {
			growing->out->is_loop = true;
			continue;
		}
		status = add_line(growing, child, depth, false, why);
		if (status == STATUS_OK)
			status = add_children(growing, child->id, depth + 1, why);
	}
	return status;
}

/* Parents from the tree up, nearest first; returns how many. */
static int32_t parents_of(struct growing *growing, const struct tree **out)
{
	const struct tree *self = tree_of(growing, growing->out->dossier->tree.id);
	int32_t count = 0;

	for (const struct tree *at = self; at != NULL && count < DESCENT_DEPTH_MAX;) {
		const struct tree *parent = tree_of(growing, at->parent_id);

		for (int32_t i = 0; parent != NULL && i < count; i++)
			growing->out->is_loop = growing->out->is_loop || out[i] == parent;
		growing->out->is_loop = growing->out->is_loop || (parent != NULL && parent == self);
		if (growing->out->is_loop || parent == NULL)
			break;
		out[count++] = parent;
		at = parent;
	}
	return count;
}

/* The parents, then from the nearest one all that came from it: the tree among its like. */
static enum status add_lines(struct growing *growing, struct fault *why)
{
	const struct tree *parents[DESCENT_DEPTH_MAX];
	int32_t count = parents_of(growing, parents);
	const struct tree *self = tree_of(growing, growing->out->dossier->tree.id);
	enum status status = STATUS_OK;

	for (int32_t i = count; status == STATUS_OK && i-- > 0;)
		status = add_line(growing, parents[i], count - 1 - i, true, why);
	if (status == STATUS_OK && count > 0)
		return add_children(growing, parents[0]->id, count, why);
	if (status == STATUS_OK && self != NULL)
		status = add_line(growing, self, 0, false, why);
	if (status == STATUS_OK && self != NULL)
		status = add_children(growing, self->id, 1, why);
	return status;
}

/* --- the batch --- */

static void count_trees(struct growing *growing, const char *batch)
{
	struct descent_batch *out = &growing->out->batch;

	for (int32_t i = 0; i < growing->tree_count; i++) {
		if (!text_same(growing->trees[i].batch, batch))
			continue;
		out->trees++;
		out->standing += growing->trees[i].gone.text[0] == '\0';
	}
}

static int64_t pieces_of(const struct entry *entry, enum field field)
{
	const struct amount *amount = entry_amount(entry, field);
	struct maybe_i64 point = {0};

	if (amount != NULL)
		point = amount_point(amount);
	return point.known ? point.value / 1000 : -1;
}

static enum status count_entries(struct growing *growing, const char *batch, struct fault *why)
{
	static const enum entry_kind kinds[] = {KIND_GRAFT, KIND_SOW};
	struct descent_batch *out = &growing->out->batch;
	enum status status = STATUS_OK;

	for (size_t k = 0; status == STATUS_OK && k < sizeof kinds / sizeof kinds[0]; k++) {
		const struct entry_query query = {
			.kind_given = true, .kind = kinds[k], .planned = 0};
		struct entry *entries = NULL;
		int32_t count = 0;

		status = store_entry_list(
			yard_store(growing->yard), &query, growing->arena, &entries, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
			int64_t made = pieces_of(&entries[i], FIELD_COUNT);
			int64_t took = pieces_of(&entries[i], FIELD_TOOK);

			if (!text_same(entry_detail(&entries[i], FIELD_BATCH), batch))
				continue;
			out->made += made > 0 ? made : 0;
			if (took >= 0)
				out->took = took + (out->took > 0 ? out->took : 0);
			if (!out->day.known)
				out->day = date_span_first(&entries[i].day);
		}
	}
	return status;
}

enum status descent_make(struct yard *yard, const char *tree_id, struct arena *arena,
	struct descent *out, struct fault *why)
{
	const struct tree_query all = {.gone_too = true};
	struct growing growing = {.yard = yard, .arena = arena, .out = out};
	struct tree *trees = NULL;

	*out = (struct descent){.batch = {.took = -1}};
	growing.lines = arena_array(arena, DESCENT_LINES_MAX, sizeof *growing.lines);
	out->lines = growing.lines;
	enum status status = yard_dossier_in(yard, tree_id, arena, &out->dossier, why);
	if (status == STATUS_OK)
		status = store_tree_list(
			yard_store(yard), &all, arena, &trees, &growing.tree_count, why);
	growing.trees = trees;
	if (status == STATUS_OK)
		status = add_lines(&growing, why);
	const char *batch = status == STATUS_OK ? out->dossier->tree.batch : "";
	if (batch[0] != '\0') {
		count_trees(&growing, batch);
		status = count_entries(&growing, batch, why);
	}
	if (status == STATUS_OK)
		descent_say_all(yard, out, arena);
	return status;
}
