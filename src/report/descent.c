/* SPDX-License-Identifier: MIT */
/* A tree's line, up and down, and its batch. */
#include "descent_inner.h"

#include <string.h>

#include "core/text.h"

struct growing {
	struct yard *yard;
	struct arena *arena;
	struct descent *out;
	struct descent_line *lines;
};

/* NULL: there is none of that id. */
static enum status tree_of(
	struct growing *growing, const char *id, const struct tree **out, struct fault *why)
{
	struct tree *tree = arena_alloc(growing->arena, sizeof *tree);
	enum status status = STATUS_ABSENT;

	if (id[0] != '\0')
		status = store_tree_load(yard_store(growing->yard), id, tree, why);
	*out = status == STATUS_OK ? tree : NULL;
	return status == STATUS_ABSENT ? STATUS_OK : status;
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
	const struct tree_query query = {.parent_id = parent_id, .gone_too = true};
	struct tree *children = NULL;
	int32_t count = 0;

	if (depth >= DESCENT_DEPTH_MAX) {
		growing->out->more = true;
		return STATUS_OK;
	}
	enum status status = store_tree_list(
		yard_store(growing->yard), &query, growing->arena, &children, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count && !growing->out->more; i++) {
		if (is_told(growing, children[i].id)) {
			growing->out->is_loop = true;
			continue;
		}
		status = add_line(growing, &children[i], depth, false, why);
		if (status == STATUS_OK)
			status = add_children(growing, children[i].id, depth + 1, why);
	}
	return status;
}

/* Is the parent among those that were met on the way up to it? */
static bool was_met(const struct tree *parent, const char *self_id, const struct tree *const *met,
	int32_t count)
{
	bool found = strcmp(parent->id, self_id) == 0;

	for (int32_t i = 0; !found && i < count; i++)
		found = strcmp(met[i]->id, parent->id) == 0;
	return found;
}

/* Parents from the tree up, nearest first. */
static enum status parents_of(struct growing *growing, const struct tree *self,
	const struct tree **out, int32_t *count, struct fault *why)
{
	enum status status = STATUS_OK;

	*count = 0;
	for (const struct tree *at = self; at != NULL && *count < DESCENT_DEPTH_MAX;) {
		const struct tree *parent = NULL;

		status = tree_of(growing, at->parent_id, &parent, why);
		if (status != STATUS_OK || parent == NULL)
			break;
		growing->out->is_loop = was_met(parent, self->id, out, *count);
		if (growing->out->is_loop)
			break;
		out[(*count)++] = parent;
		at = parent;
	}
	return status;
}

/* The parents, then from the nearest one all that came from it: the tree among its like. */
static enum status add_lines(struct growing *growing, struct fault *why)
{
	const struct tree *parents[DESCENT_DEPTH_MAX];
	const struct tree *self = NULL;
	int32_t count = 0;
	enum status status = tree_of(growing, growing->out->dossier->tree.id, &self, why);

	if (status == STATUS_OK)
		status = parents_of(growing, self, parents, &count, why);
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

struct counting {
	const char *batch;
	struct descent_batch *out;
};

static enum status count_tree(
	void *context, const struct tree *tree, struct arena *arena, struct fault *why)
{
	const struct counting *counting = context;
	const bool same = text_same(tree->batch, counting->batch);

	(void)arena;
	(void)why;
	counting->out->trees += same;
	counting->out->standing += same && tree->gone.text[0] == '\0';
	return STATUS_OK;
}

static enum status count_trees(struct growing *growing, const char *batch, struct fault *why)
{
	struct counting counting = {batch, &growing->out->batch};

	return store_tree_each(yard_store(growing->yard), count_tree, &counting, why);
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
	struct growing growing = {.yard = yard, .arena = arena, .out = out};

	*out = (struct descent){.batch = {.took = -1}};
	growing.lines = arena_array(arena, DESCENT_LINES_MAX, sizeof *growing.lines);
	out->lines = growing.lines;
	enum status status = yard_dossier_in(yard, tree_id, arena, &out->dossier, why);
	if (status == STATUS_OK)
		status = add_lines(&growing, why);
	const char *batch = status == STATUS_OK ? out->dossier->tree.batch : "";
	if (batch[0] != '\0')
		status = count_trees(&growing, batch, why);
	if (status == STATUS_OK && batch[0] != '\0')
		status = count_entries(&growing, batch, why);
	if (status == STATUS_OK)
		descent_say_all(yard, out, arena);
	return status;
}
