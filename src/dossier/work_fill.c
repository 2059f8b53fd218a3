/* SPDX-License-Identifier: MIT */
/* A tree of the log told of again: facts it lacks are filled in, others must agree. */
#include <stdio.h>
#include <string.h>

#include "dossier/work_inner.h"

struct filling {
	struct yard *yard;
	const struct new_tree *told;
	struct tree tree;
	struct arena *arena;
	struct text_builder filled; /* "planted 2015, rootstock M9" */
	bool tree_changed;
};

static enum status differs(
	const char *what, const char *standing, const char *told, struct fault *why)
{
	return fault_set(why, STATUS_CONFLICT,
		"%s is '%.80s' in the log, '%.80s' here: mend the one that is wrong", what,
		standing[0] != '\0' ? standing : "nothing", told);
}

static void say_filled(struct filling *filling, const char *what, const char *told)
{
	text_add_format(
		&filling->filled, "%s%s %s", filling->filled.length > 0 ? ", " : "", what, told);
}

static enum status fill_text(struct filling *filling, const char *what, const char *told,
	char *standing, size_t size, struct fault *why)
{
	if (told[0] == '\0' || strcmp(told, standing) == 0)
		return STATUS_OK;
	if (standing[0] != '\0')
		return differs(what, standing, told, why);
	text_copy(standing, size, told);
	say_filled(filling, what, told);
	filling->tree_changed = true;
	return STATUS_OK;
}

static enum status fill_planted(struct filling *filling, struct fault *why)
{
	const struct date_span *told = &filling->told->tree.planted;
	struct date_span *standing = &filling->tree.planted;

	if (told->text[0] == '\0' || strcmp(told->text, standing->text) == 0)
		return STATUS_OK;
	if (standing->text[0] != '\0')
		return differs("planted", standing->text, told->text, why);
	*standing = *told;
	say_filled(filling, "planted", told->text);
	filling->tree_changed = true;
	return STATUS_OK;
}

static enum status fill_length(struct filling *filling, const char *what, struct maybe_i64 told,
	struct maybe_i64 *standing, struct fault *why)
{
	char text[24], told_text[24];

	if (!told.known || (standing->known && standing->value == told.value))
		return STATUS_OK;
	length_format(told.value, yard_place(filling->yard)->units, told_text, sizeof told_text);
	if (standing->known)
		return differs(what,
			length_format(standing->value, yard_place(filling->yard)->units, text,
				sizeof text),
			told_text, why);
	*standing = told;
	say_filled(filling, what, told_text);
	return STATUS_OK;
}

static struct date stands_since(const struct filling *filling)
{
	struct maybe_date planted = filling->tree.planted.low;

	return planted.known ? planted.value : clock_today(store_clock(yard_store(filling->yard)));
}

/* Where it stands: the spot it has must be the one told, and gets the position it lacks. */
static enum status fill_spot(struct filling *filling, struct fault *why)
{
	struct store *store = yard_store(filling->yard);
	const struct new_tree *told = filling->told;
	struct spot spot;
	enum status status;

	if (told->spot[0] == '\0' && !told->east_um.known && !told->north_um.known)
		return STATUS_OK;
	if (filling->tree.spot_id[0] == '\0') {
		status = work_spot_named(filling->yard,
			told->spot[0] != '\0' ? told->spot : filling->tree.label, SPOT_HOLE, &spot,
			why);
		if (status == STATUS_OK)
			status = store_tree_move(
				store, filling->tree.id, spot.id, stands_since(filling), why);
		say_filled(filling, "spot", spot.name);
	} else {
		status = store_spot_load(store, filling->tree.spot_id, &spot, why);
		if (status == STATUS_OK && told->spot[0] != '\0' &&
			!text_same(told->spot, spot.name))
			return differs("spot", spot.name, told->spot, why);
	}
	size_t before = filling->filled.length;
	if (status == STATUS_OK)
		status = fill_length(filling, "east", told->east_um, &spot.east_um, why);
	if (status == STATUS_OK)
		status = fill_length(filling, "north", told->north_um, &spot.north_um, why);
	if (status == STATUS_OK && filling->filled.length > before)
		status = store_spot_save(store, &spot, why);
	return status;
}

/* Is what is told among the newest opinion's names? *any: there is an opinion at all. */
static bool is_told_of(struct filling *filling, const struct identity *rows, int32_t count,
	bool is_cultivar, const char *told, const char **standing)
{
	const struct almanac *almanac = yard_almanac(filling->yard);
	struct kind_name fits[CANDIDATES_MAX];
	char name[NAME_SIZE];
	const char *opinion = NULL;
	bool found = false;

	text_copy(name, sizeof name, told);
	size_t length = strlen(name);
	if (length > 1 && name[length - 1] == '?')
		name[length - 1] = '\0';
	int32_t fit_count =
		is_cultivar ? 0 : almanac_find_kinds(almanac, name, fits, CANDIDATES_MAX);
	*standing = NULL;
	for (int32_t i = count - 1; i >= 0; i--) {
		if (rows[i].is_cultivar != is_cultivar || rows[i].name[0] == '\0' ||
			(opinion != NULL && strcmp(opinion, rows[i].opinion) != 0))
			continue;
		opinion = rows[i].opinion;
		*standing = rows[i].name;
		found = found || strstr(told, rows[i].name) != NULL ||
			text_same(name, rows[i].name);
		for (int32_t k = 0; k < fit_count && k < CANDIDATES_MAX; k++)
			found = found || strcmp(fits[k].key, rows[i].name) == 0;
	}
	return found;
}

static enum status fill_identity(struct filling *filling, struct fault *why)
{
	const struct new_tree *told = filling->told;
	struct new_identity fresh = {.sure_given = told->sure_given, .sure = told->sure};
	struct identity *rows = NULL;
	const char *standing = NULL;
	char asked[TEXT_SIZE];
	int32_t count = 0;
	struct text_builder question = text_builder_fixed(asked, sizeof asked);
	enum status status = store_identity_list(
		yard_store(filling->yard), filling->tree.id, filling->arena, &rows, &count, why);

	if (status != STATUS_OK)
		return status;
	if (told->species[0] != '\0' &&
		!is_told_of(filling, rows, count, false, told->species, &standing)) {
		if (standing != NULL)
			return differs("species", standing, told->species, why);
		text_copy(fresh.species, sizeof fresh.species, told->species);
		say_filled(filling, "species", told->species);
	}
	if (told->cultivar[0] != '\0' &&
		!is_told_of(filling, rows, count, true, told->cultivar, &standing)) {
		if (standing != NULL)
			return differs("cultivar", standing, told->cultivar, why);
		text_copy(fresh.cultivar, sizeof fresh.cultivar, told->cultivar);
		say_filled(filling, "cultivar", told->cultivar);
	}
	if (fresh.species[0] == '\0' && fresh.cultivar[0] == '\0')
		return STATUS_OK;
	return work_opinions_add(filling->yard, filling->tree.id, &fresh, &question, why);
}

static enum status fill_all(struct filling *filling, struct fault *why)
{
	struct tree *tree = &filling->tree;
	const struct tree *told = &filling->told->tree;
	enum status status = fill_planted(filling, why);

	if (status == STATUS_OK)
		status = fill_text(filling, "rootstock", told->rootstock, tree->rootstock,
			sizeof tree->rootstock, why);
	if (status == STATUS_OK)
		status = fill_text(filling, "note", told->note, tree->note, sizeof tree->note, why);
	if (status == STATUS_OK)
		status = fill_text(
			filling, "hazard", told->hazard, tree->hazard, sizeof tree->hazard, why);
	if (status == STATUS_OK && filling->tree_changed)
		status = store_tree_save(yard_store(filling->yard), tree, why);
	if (status == STATUS_OK)
		status = fill_spot(filling, why);
	if (status == STATUS_OK)
		status = fill_identity(filling, why);
	if (status == STATUS_OK && filling->filled.length > 0)
		status = yard_put_turns(
			yard_store(filling->yard), yard_almanac(filling->yard), tree->id, why);
	return status;
}

enum status work_tree_fill_in_act(struct yard *yard, const char *tree_id,
	const struct new_tree *told, char filled[TEXT_SIZE], struct fault *why)
{
	struct filling filling = {.yard = yard,
		.told = told,
		.arena = arena_new(),
		.filled = text_builder_fixed(filled, TEXT_SIZE)};
	enum status status = store_tree_load(yard_store(yard), tree_id, &filling.tree, why);

	text_add(&filling.filled, "");
	if (status == STATUS_OK)
		status = fill_all(&filling, why);
	arena_free(filling.arena);
	return status;
}
