/* SPDX-License-Identifier: MIT */
/* Whom a line for many is for. */
#include <string.h>

#include "dossier/work_inner.h"

/* Kinds of work that go to the roots, the trunk or the pot: the host's, never a graft's. */
static bool is_of_the_plant(enum entry_kind kind)
{
	return kind == KIND_FEED || kind == KIND_WATER || kind == KIND_MULCH ||
	       kind == KIND_MEASURE || kind == KIND_MOVE || kind == KIND_POT_UP ||
	       kind == KIND_PLANT || kind == KIND_PROTECT || kind == KIND_SOIL_TEST ||
	       kind == KIND_DIED || kind == KIND_LEAVE;
}

static struct date day_of(const struct yard *yard, const struct entry *draft)
{
	struct maybe_date day = date_span_first(&draft->day);
	return day.known ? day.value : yard_today(yard);
}

static bool stood_by(const struct tree *tree, struct date day)
{
	return !tree->planted.low.known || tree->planted.low.value.day <= day.day;
}

/* Is the tree of the kind asked, on that day? A graft on a host of the same kind is no plant of
 * its own, and is left out. */
static enum status is_of_kind(struct yard *yard, const struct tree *tree,
	const struct reading *reading, struct date day, bool *out, struct fault *why)
{
	struct tree_kind kind;
	*out = false;
	if (tree->host_id[0] != '\0' && is_of_the_plant(reading->draft.kind))
		return STATUS_OK;
	enum status status = yard_kind(yard, tree->id, day, &kind, why);
	if (status != STATUS_OK || kind.species == NULL ||
		strcmp(kind.species->key, reading->batch_name) != 0)
		return status;
	if (tree->host_id[0] == '\0') {
		*out = true;
		return STATUS_OK;
	}
	struct tree_kind host;
	status = yard_kind(yard, tree->host_id, day, &host, why);
	if (status == STATUS_OK)
		*out = host.species != kind.species;
	return status;
}

static enum status keep_asked(struct yard *yard, const struct reading *reading, struct tree *trees,
	int32_t *count, struct fault *why)
{
	struct date day = day_of(yard, &reading->draft);
	int32_t kept = 0;
	for (int32_t i = 0; i < *count; i++) {
		bool asked = trees[i].host_id[0] == '\0';
		enum status status = STATUS_OK;
		if (reading->batch == BATCH_ALL_KIND)
			status = is_of_kind(yard, &trees[i], reading, day, &asked, why);
		if (status != STATUS_OK)
			return status;
		if (asked && stood_by(&trees[i], day))
			trees[kept++] = trees[i];
	}
	*count = kept;
	return STATUS_OK;
}

static enum status batch_trees(struct yard *yard, const struct reading *reading,
	struct arena *arena, struct tree **out, int32_t *count, struct fault *why)
{
	struct tree_query query = {.gone_too = false};
	if (reading->batch == BATCH_ALL_AREA)
		query.area_id = reading->batch_name;
	enum status status = store_tree_list(yard_store(yard), &query, arena, out, count, why);
	if (status == STATUS_OK)
		status = keep_asked(yard, reading, *out, count, why);
	if (status != STATUS_OK)
		return status;
	const char *title =
		reading->batch_title[0] != '\0' ? reading->batch_title : reading->batch_name;
	if (*count == 0 && reading->batch == BATCH_ALL)
		return fault_set(why, STATUS_ABSENT, "no tree stands in the yard on that day");
	if (*count == 0)
		return fault_set(why, STATUS_ABSENT,
			"no standing tree is meant by 'all %s' on that day", title);
	return STATUS_OK;
}

/* The area of a tree's spot, or "". */
static enum status area_of(
	struct yard *yard, const struct tree *tree, char area_id[ID_SIZE], struct fault *why)
{
	area_id[0] = '\0';
	struct tree host;
	const char *spot_id = tree->spot_id;
	enum status status = STATUS_OK;
	if (tree->host_id[0] != '\0') {
		status = store_tree_load(yard_store(yard), tree->host_id, &host, why);
		spot_id = host.spot_id;
	}
	struct spot spot;
	if (status != STATUS_OK || spot_id[0] == '\0')
		return status;
	status = store_spot_load(yard_store(yard), spot_id, &spot, why);
	if (status == STATUS_OK)
		memcpy(area_id, spot.area_id, ID_SIZE);
	return status;
}

static enum status total_subject(struct yard *yard, const struct reading *reading,
	struct arena *arena, struct subject *out, struct fault *why)
{
	*out = (struct subject){.kind = SUBJECT_AREA};
	if (reading->batch == BATCH_ALL_AREA) {
		text_copy(out->id, sizeof out->id, reading->batch_name);
		text_copy(out->label, sizeof out->label, reading->batch_title);
		return STATUS_OK;
	}
	struct tree *trees;
	int32_t count;
	enum status status = batch_trees(yard, reading, arena, &trees, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		char area_id[ID_SIZE];
		status = area_of(yard, &trees[i], area_id, why);
		if (i == 0)
			memcpy(out->id, area_id, ID_SIZE);
		if (strcmp(out->id, area_id) != 0)
			out->id[0] = '\0';
		if (out->id[0] == '\0')
			break;
	}
	if (out->id[0] == '\0')
		out->kind = SUBJECT_PLACE;
	return status;
}

static enum status batch_subjects(struct yard *yard, const struct reading *reading,
	struct arena *arena, struct subject **out, int32_t *count, struct fault *why)
{
	struct tree *trees;
	enum status status = batch_trees(yard, reading, arena, &trees, count, why);
	if (status != STATUS_OK)
		return status;
	*out = arena_array(arena, (size_t)*count, sizeof **out);
	for (int32_t i = 0; i < *count; i++) {
		struct subject *subject = &(*out)[i];
		subject->kind = SUBJECT_TREE;
		text_copy(subject->id, sizeof subject->id, trees[i].id);
		text_copy(subject->label, sizeof subject->label, trees[i].label);
	}
	return STATUS_OK;
}

enum status work_subjects(struct yard *yard, const struct reading *reading, struct arena *arena,
	struct subject **out, int32_t *count, struct fault *why)
{
	if (reading->batch != BATCH_ONE && !reading->is_total)
		return batch_subjects(yard, reading, arena, out, count, why);
	*out = arena_alloc(arena, sizeof **out);
	*count = 1;
	**out = reading->draft.subject;
	if (reading->batch == BATCH_ONE)
		return STATUS_OK;
	return total_subject(yard, reading, arena, *out, why);
}
