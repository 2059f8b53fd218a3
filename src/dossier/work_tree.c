/* SPDX-License-Identifier: MIT */
/* Trees made, and what they are said to be. */
#include <string.h>

#include "dossier/work_inner.h"

/* One name as typed, taken apart: "orange or lemon", "fig?". */
struct said_name {
	char names[CANDIDATES_MAX][NAME_SIZE];
	int32_t count;
	bool doubted; /* a question mark stood behind one of them */
};

static void add_name(struct said_name *said, const char *start, size_t length)
{
	char room[NAME_SIZE];
	text_copy_n(room, sizeof room, start, length);
	const char *name = text_trim_in_place(room);
	size_t size = strlen(name);
	if (size > 1 && name[size - 1] == '?')
		said->doubted = true;
	if (size > 0 && said->count < CANDIDATES_MAX)
		text_copy(said->names[said->count++], NAME_SIZE, name);
}

static void take_apart(const char *text, struct said_name *said)
{
	const char *start = text;
	*said = (struct said_name){.count = 0};
	for (const char * or = strstr(start, " or "); or != NULL; or = strstr(start, " or ")) {
		add_name(said, start, (size_t)(or -start));
		start = or +strlen(" or ");
	}
	add_name(said, start, strlen(start));
}

static void drop_mark(char *name)
{
	size_t size = strlen(name);
	if (size > 1 && name[size - 1] == '?')
		name[size - 1] = '\0';
	size_t length;
	const char *trimmed = text_trim(name, &length);
	memmove(name, trimmed, length);
	name[length] = '\0';
}

/* What species names come to: keys of the name table, else the names as said. */
struct kinds_meant {
	char keys[CANDIDATES_MAX][NAME_SIZE];
	const char *names[CANDIDATES_MAX]; /* plain ones; NULL: as said */
	int32_t count;
};

static void mean_kind(struct kinds_meant *meant, const char *key, const char *name)
{
	for (int32_t i = 0; i < meant->count; i++)
		if (strcmp(meant->keys[i], key) == 0)
			return;
	if (meant->count == CANDIDATES_MAX)
		return;
	meant->names[meant->count] = name;
	text_copy(meant->keys[meant->count++], NAME_SIZE, key);
}

static void mean_kinds(const struct almanac *almanac, struct said_name *said,
	struct kinds_meant *meant, struct text_builder *asked)
{
	for (int32_t i = 0; i < said->count; i++) {
		struct kind_name fits[CANDIDATES_MAX];
		drop_mark(said->names[i]);
		const char *name = said->names[i];
		int32_t count = almanac_find_kinds(almanac, name, fits, CANDIDATES_MAX);
		for (int32_t k = 0; k < count && k < CANDIDATES_MAX; k++)
			mean_kind(meant, fits[k].key, fits[k].name);
		if (count > 0)
			continue;
		mean_kind(meant, name, NULL);
		text_add_format(asked,
			"the almanac has no kind called '%s': kept as said, without dates", name);
	}
}

static void ask_which(
	const char *typed, const struct kinds_meant *meant, struct text_builder *asked)
{
	if (meant->count < 2)
		return;
	text_add_format(asked, "%s'%s' could be ", asked->length > 0 ? "; " : "", typed);
	for (int32_t i = 0; i < meant->count; i++) {
		text_add(asked, i == 0 ? "" : " or ");
		if (meant->names[i] == NULL)
			text_add(asked, meant->keys[i]);
		else
			text_add_format(asked, "%s (%s)", meant->names[i], meant->keys[i]);
	}
	text_add(asked, ": each is kept as a candidate; say which with tree identify --species");
}

static enum status add_row(struct yard *yard, const char *tree_id,
	const struct new_identity *identity, const char *opinion, bool is_cultivar,
	const char *name, enum sure sure, struct fault *why)
{
	struct identity row = {
		.is_cultivar = is_cultivar,
		.sure = sure,
		.day = identity->day,
		.is_change = identity->is_change,
	};
	text_copy(row.tree_id, sizeof row.tree_id, tree_id);
	text_copy(row.opinion, sizeof row.opinion, opinion);
	text_copy(row.name, sizeof row.name, name);
	text_copy(row.who, sizeof row.who, identity->who);
	text_copy(row.reason, sizeof row.reason, identity->reason);
	return store_identity_add(yard_store(yard), &row, why);
}

static enum status add_species(struct yard *yard, const char *tree_id,
	const struct new_identity *identity, struct text_builder *asked, struct fault *why)
{
	struct said_name said;
	struct kinds_meant meant = {.count = 0};
	char opinion[ID_SIZE];
	take_apart(identity->species, &said);
	mean_kinds(yard_almanac(yard), &said, &meant, asked);
	ask_which(identity->species, &meant, asked);
	enum sure sure = SURE_CERTAIN;
	if (meant.count > 1)
		sure = SURE_CANDIDATE;
	else if (identity->sure_given)
		sure = identity->sure;
	else if (said.doubted)
		sure = SURE_SUSPECTED;
	clock_new_id(store_clock(yard_store(yard)), opinion);
	enum status status = STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < meant.count; i++)
		status = add_row(yard, tree_id, identity, opinion, false, meant.keys[i], sure, why);
	return status;
}

static enum status add_cultivar(struct yard *yard, const char *tree_id,
	const struct new_identity *identity, struct fault *why)
{
	struct said_name said;
	char opinion[ID_SIZE];
	take_apart(identity->cultivar, &said);
	enum sure sure = SURE_SUSPECTED;
	if (said.count > 1 || said.doubted)
		sure = SURE_CANDIDATE;
	else if (identity->cultivar_sure_given)
		sure = identity->cultivar_sure;
	else if (identity->sure_given)
		sure = identity->sure;
	clock_new_id(store_clock(yard_store(yard)), opinion);
	enum status status = STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < said.count; i++)
		status = add_row(yard, tree_id, identity, opinion, true, said.names[i], sure, why);
	return status;
}

enum status work_opinions_add(struct yard *yard, const char *tree_id,
	const struct new_identity *identity, struct text_builder *asked, struct fault *why)
{
	enum status status = STATUS_OK;
	if (identity->species[0] != '\0')
		status = add_species(yard, tree_id, identity, asked, why);
	else if (identity->cultivar[0] == '\0' && identity->sure_given &&
		 identity->sure == SURE_UNKNOWN) {
		/* "we do not know what it is" is an opinion too */
		char opinion[ID_SIZE];
		clock_new_id(store_clock(yard_store(yard)), opinion);
		status = add_row(yard, tree_id, identity, opinion, false, "", SURE_UNKNOWN, why);
	}
	if (status == STATUS_OK && identity->cultivar[0] != '\0')
		status = add_cultivar(yard, tree_id, identity, why);
	return status;
}

/* The spot named, or one of the tree's own name where only a position is given. */
static enum status place_tree(struct yard *yard, const struct new_tree *new_tree,
	char spot_id[ID_SIZE], struct fault *why)
{
	bool positioned = new_tree->east_um.known && new_tree->north_um.known;
	const char *name = new_tree->spot;
	struct spot spot;
	if (name[0] == '\0' && !positioned)
		return STATUS_OK;
	if (name[0] == '\0')
		name = new_tree->tree.label;
	enum status status = work_spot_named(yard, name, SPOT_HOLE, &spot, why);
	if (status == STATUS_OK && positioned) {
		spot.east_um = new_tree->east_um;
		spot.north_um = new_tree->north_um;
		status = store_spot_save(yard_store(yard), &spot, why);
	}
	if (status == STATUS_OK)
		memcpy(spot_id, spot.id, ID_SIZE);
	return status;
}

/* What carries over from the parent, where nothing is said: a cutting, a layer or a graft keeps the
 * name as surely as the parent has it; a seedling or a root shoot is of the kind, and no more. The
 * opinion is the tree's own from then on: what the parent is called later never reaches it. */
static enum status take_from_parent(struct yard *yard, const struct tree *tree,
	struct new_identity *identity, struct text_builder *asked, struct fault *why)
{
	const bool clone = tree->how == ORIGIN_CUTTING || tree->how == ORIGIN_LAYER ||
			   tree->how == ORIGIN_GRAFT;
	const bool raised = clone || tree->how == ORIGIN_SEED || tree->how == ORIGIN_ROOT_SHOOT;
	struct tree parent;
	struct tree_kind kind = {.species = NULL};
	if (!raised || tree->parent_id[0] == '\0' || identity->species[0] != '\0' ||
		identity->cultivar[0] != '\0' || identity->sure_given)
		return STATUS_OK;
	enum status status = store_tree_load(yard_store(yard), tree->parent_id, &parent, why);
	if (status == STATUS_OK)
		status = yard_kind(yard, parent.id, yard_today(yard), &kind, why);
	if (status != STATUS_OK || kind.species == NULL)
		return status;
	identity->sure_given = true;
	identity->sure = kind.sure;
	text_copy(identity->species, sizeof identity->species, kind.species->key);
	if (clone && kind.cultivar[0] != '\0' && kind.cultivar_sure != SURE_CANDIDATE) {
		identity->cultivar_sure_given = true;
		identity->cultivar_sure = kind.cultivar_sure;
		text_copy(identity->cultivar, sizeof identity->cultivar, kind.cultivar);
	}
	struct text_builder reason = text_builder_fixed(identity->reason, sizeof identity->reason);
	text_add_format(&reason, "as %s, its parent", parent.label);
	text_add_format(asked, "taken from %s, its parent: %s%s%s", parent.label,
		kind.species->name, identity->cultivar[0] != '\0' ? ", " : "", identity->cultivar);
	return STATUS_OK;
}

enum status work_tree_add_in_act(struct yard *yard, const struct new_tree *new_tree,
	char asked[TEXT_SIZE], char id[ID_SIZE], struct fault *why)
{
	struct tree tree = new_tree->tree;
	struct text_builder question = text_builder_fixed(asked, TEXT_SIZE);
	enum status status = label_check(tree.label, why);
	if (status == STATUS_OK)
		status = place_tree(yard, new_tree, tree.spot_id, why);
	if (status == STATUS_OK)
		status = store_tree_add(yard_store(yard), &tree, why);
	if (status != STATUS_OK)
		return status;
	struct new_identity identity = {
		.sure_given = new_tree->sure_given,
		.sure = new_tree->sure,
		.cultivar_sure_given = new_tree->cultivar_sure_given,
		.cultivar_sure = new_tree->cultivar_sure,
	};
	text_copy(identity.species, sizeof identity.species, new_tree->species);
	text_copy(identity.cultivar, sizeof identity.cultivar, new_tree->cultivar);
	status = take_from_parent(yard, &tree, &identity, &question, why);
	if (status == STATUS_OK)
		status = work_opinions_add(yard, tree.id, &identity, &question, why);
	if (status == STATUS_OK)
		status = yard_put_turns(yard_store(yard), yard_almanac(yard), tree.id, why);
	memcpy(id, tree.id, ID_SIZE);
	return status;
}

enum status work_tree_add(struct yard *yard, const struct new_tree *tree, char asked[TEXT_SIZE],
	char id[ID_SIZE], struct fault *why)
{
	char what[TEXT_SIZE];
	struct text_builder text = text_builder_fixed(what, sizeof what);
	text_add_format(&text, "tree %s added", tree->tree.label);
	enum status status = work_begin(yard, what, why);
	if (status != STATUS_OK)
		return status;
	return work_end(yard, work_tree_add_in_act(yard, tree, asked, id, why), why);
}

enum status work_identify(struct yard *yard, const char *tree_id,
	const struct new_identity *identity, char asked[TEXT_SIZE], struct fault *why)
{
	struct text_builder question = text_builder_fixed(asked, TEXT_SIZE);
	char what[TEXT_SIZE];
	struct text_builder text = text_builder_fixed(what, sizeof what);
	struct tree tree;
	enum status status = store_tree_load(yard_store(yard), tree_id, &tree, why);
	if (status != STATUS_OK)
		return status;
	bool says_nothing = identity->species[0] == '\0' && identity->cultivar[0] == '\0' &&
			    !(identity->sure_given && identity->sure == SURE_UNKNOWN);
	if (says_nothing)
		return fault_set(
			why, STATUS_SYNTAX, "say what %s is: a species or a cultivar", tree.label);
	if (identity->is_change && !date_span_first(&identity->day).known)
		return fault_set(why, STATUS_RANGE,
			"a change needs the day it was made; a mistake found out is a correction");
	text_add_format(&text, "%s identified as %s", tree.label,
		identity->species[0] != '\0'    ? identity->species
		: identity->cultivar[0] != '\0' ? identity->cultivar
						: "unknown");
	status = work_begin(yard, what, why);
	if (status != STATUS_OK)
		return status;
	status = work_opinions_add(yard, tree_id, identity, &question, why);
	if (status == STATUS_OK)
		status = yard_put_turns(yard_store(yard), yard_almanac(yard), tree_id, why);
	return work_end(yard, status, why);
}

/* What is written inside the open act. */
static enum status change_in_act(struct yard *yard, const struct tree_change *change,
	struct text_builder *asked, struct fault *why)
{
	const char *id = change->tree.id;
	struct store *store = yard_store(yard);
	struct spot spot;
	enum status status = store_tree_save(store, &change->tree, why);
	if (status == STATUS_OK && change->label[0] != '\0')
		status = label_check(change->label, why);
	if (status == STATUS_OK && change->label[0] != '\0')
		status = store_tree_rename(store, id, change->label, why);
	if (status == STATUS_OK && change->spot[0] != '\0') {
		status = work_spot_named(yard, change->spot, SPOT_HOLE, &spot, why);
		if (status == STATUS_OK)
			status = store_tree_move(store, id, spot.id, yard_today(yard), why);
	}
	if (status == STATUS_OK && change->identified)
		status = work_opinions_add(yard, id, &change->identity, asked, why);
	if (status == STATUS_OK)
		status = yard_put_turns(store, yard_almanac(yard), id, why);
	return status;
}

enum status work_tree_change(struct yard *yard, const struct tree_change *change,
	char asked[TEXT_SIZE], struct fault *why)
{
	struct text_builder question = text_builder_fixed(asked, TEXT_SIZE);
	char what[TEXT_SIZE];
	struct text_builder text = text_builder_fixed(what, sizeof what);
	text_add_format(&text, "what is known of %s", change->tree.label);
	enum status status = work_begin(yard, what, why);
	if (status != STATUS_OK)
		return status;
	return work_end(yard, change_in_act(yard, change, &question, why), why);
}

enum status work_traits(struct yard *yard, const char *tree_id, const struct trait *traits,
	int32_t count, struct fault *why)
{
	char what[TEXT_SIZE];
	struct text_builder text = text_builder_fixed(what, sizeof what);
	struct tree tree;
	enum status status = store_tree_load(yard_store(yard), tree_id, &tree, why);
	if (status != STATUS_OK)
		return status;
	text_add_format(&text, "%s noted:", tree.label);
	for (int32_t i = 0; i < count; i++)
		text_add_format(&text, "%s %s %s", i > 0 ? "," : "", traits[i].name,
			traits[i].value[0] != '\0' ? traits[i].value : "taken back");
	status = work_begin(yard, what, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct trait trait = traits[i];
		text_copy(trait.tree_id, sizeof trait.tree_id, tree_id);
		status = store_trait_add(yard_store(yard), &trait, why);
	}
	return work_end(yard, status, why);
}
