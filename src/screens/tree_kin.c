/* SPDX-License-Identifier: MIT */
#include "tree_kin.h"

#include <string.h>

#include "core/text.h"

enum { CHILDREN_SHOWN = 12 };

/* --- where it came from, and what came from it --- */

/* A scion is cut from its parent; all others are of it. */
static const char *of_parent(enum origin how)
{
	return how == ORIGIN_UNKNOWN ? "raised from "
	       : how == ORIGIN_GRAFT ? " with wood of "
				     : " of ";
}

enum status tree_kin_origin(struct session *session, const struct tree *tree, struct arena *arena,
	const char **out, struct fault *why)
{
	struct text_builder words = text_builder_in(arena);
	struct tree *parent = arena_alloc(arena, sizeof *parent);
	enum status status = STATUS_OK;
	text_add(&words, origin_title(tree->how));
	if (tree->parent_id[0] != '\0') {
		status = store_tree_load(session->store, tree->parent_id, parent, why);
		if (status == STATUS_OK)
			text_add_format(&words, "%s%s", of_parent(tree->how), parent->label);
	}
	if (tree->batch[0] != '\0')
		text_add_format(&words, "%sbatch %s", words.length > 0 ? ", " : "", tree->batch);
	*out = words.text;
	return status;
}

enum status tree_kin_children(struct session *session, const struct tree *tree, struct arena *arena,
	const char **out, struct fault *why)
{
	struct text_builder words = text_builder_in(arena);
	struct tree *children = NULL;
	int32_t count = 0;
	const struct tree_query query = {.gone_too = true, .parent_id = tree->id};
	enum status status = store_tree_list(session->store, &query, arena, &children, &count, why);
	if (status != STATUS_OK)
		return status;
	text_add(&words, "");
	for (int32_t i = 0; i < count && i < CHILDREN_SHOWN; i++) {
		const char *how = origin_key(children[i].how);
		text_add_format(&words, "%s%s", i > 0 ? ", " : "parent of ", children[i].label);
		if (how[0] != '\0')
			text_add_format(&words, " (%s)", how);
	}
	if (count > CHILDREN_SHOWN)
		text_add_format(&words, " and %d more", (int)(count - CHILDREN_SHOWN));
	*out = words.text;
	return STATUS_OK;
}

/* --- its stems --- */

static const struct trunk_reading *newest_of(const struct dossier *dossier, int32_t stem)
{
	const struct trunk_reading *newest = NULL;
	for (int32_t i = 0; i < dossier->reading_count; i++)
		if (dossier->readings[i].stem == stem)
			newest = &dossier->readings[i];
	return newest;
}

const char *tree_kin_stems(
	const struct dossier *dossier, enum unit_system units, struct arena *arena)
{
	struct text_builder words = text_builder_in(arena);
	char across[32];
	int32_t found = 0;
	text_add(&words, "");
	for (int32_t stem = 1; stem <= STEMS_MAX && dossier->trunk.stems > 1; stem++) {
		const struct trunk_reading *reading = newest_of(dossier, stem);
		if (reading == NULL)
			continue;
		text_add_format(&words, "%s%s", found++ > 0 ? ", " : "",
			length_format(reading->diameter_um, units, across, sizeof across));
	}
	return words.text;
}

/* --- its photos --- */

int32_t tree_kin_photos(
	const struct dossier *dossier, struct arena *arena, const struct entry *const **out)
{
	const struct entry **photos =
		arena_array(arena, (size_t)dossier->entry_count + 1, sizeof *photos);
	int32_t count = 0;
	for (int32_t i = dossier->entry_count; i > 0; i--)
		if (dossier->entries[i - 1]->kind == KIND_PHOTO)
			photos[count++] = dossier->entries[i - 1];
	*out = photos;
	return count;
}

const char *tree_kin_photo(const struct entry *photo, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	text_add(&words, entry_detail(photo, FIELD_PATH));
	if (photo->note != NULL && photo->note[0] != '\0')
		text_add_format(&words, "; %s", photo->note);
	return out;
}
