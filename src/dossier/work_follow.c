/* SPDX-License-Identifier: MIT */
/* What comes along with an entry, by its kind. */
#include <stdio.h>
#include <string.h>

#include "dossier/work_inner.h"

/* A name said on planting is taken for a cultivar up to this many words; more is a sentence. */
enum { CULTIVAR_WORDS_MAX = 3 };

static struct date entry_date(const struct logging *logging, const struct entry *entry)
{
	struct maybe_date day = date_span_first(&entry->day);
	return day.known ? day.value : yard_today(logging->yard);
}

static enum status put_turns(struct logging *logging, const char *tree_id, struct fault *why)
{
	return yard_put_turns(yard_store(logging->yard), yard_almanac(logging->yard), tree_id, why);
}

/* --- containers --- */

enum status work_keep_containers(
	struct logging *logging, const struct entry *entry, struct fault *why)
{
	struct store *store = yard_store(logging->yard);
	enum status status = STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < entry->amount_count; i++) {
		const char *name = entry->amounts[i].container;
		struct name_match match;
		bool is_known = name[0] == '\0';
		if (!is_known)
			is_known = store_name_find(store, NAME_CONTAINER, name, strlen(name),
					   &match, 1) > 0 &&
				   match.is_exact;
		if (is_known)
			continue;
		struct container container = {.volume_ul.known = false};
		text_copy(container.name, sizeof container.name, name);
		status = store_container_add(store, &container, why);
		text_add_format(&logging->said, "; '%s' is a container of yours from now on", name);
	}
	return status;
}

/* --- spots --- */

enum status work_spot_named(struct yard *yard, const char *name, enum spot_kind kind,
	struct spot *out, struct fault *why)
{
	enum status status = store_spot_find(yard_store(yard), name, out, why);
	if (status != STATUS_ABSENT)
		return status;
	status = label_check(name, why);
	if (status != STATUS_OK)
		return status;
	*out = (struct spot){.kind = kind};
	text_copy(out->name, sizeof out->name, name);
	return store_spot_add(yard_store(yard), out, why);
}

static enum status move_to(struct logging *logging, const struct entry *entry,
	const struct tree *tree, const struct spot *spot, struct fault *why)
{
	char old_spot[ID_SIZE];
	memcpy(old_spot, tree->spot_id, sizeof old_spot);
	enum status status = store_tree_move(
		yard_store(logging->yard), tree->id, spot->id, entry_date(logging, entry), why);
	if (status == STATUS_OK)
		status = put_turns(logging, tree->id, why);
	if (status == STATUS_OK)
		text_add_format(&logging->said, "; it stands at %s now", spot->name);
	return status;
}

static enum status follow_move(struct logging *logging, const struct entry *entry,
	const struct tree *tree, struct fault *why)
{
	const char *name = entry_detail(entry, FIELD_PLACE_TO);
	struct spot spot;
	if (name[0] == '\0')
		return fault_set(why, STATUS_SYNTAX,
			"where was %s moved to? name the spot: '%s moved to north corner'",
			tree->label, tree->label);
	enum status status = work_spot_named(logging->yard, name, SPOT_HOLE, &spot, why);
	return status == STATUS_OK ? move_to(logging, entry, tree, &spot, why) : status;
}

static enum status follow_pot_up(struct logging *logging, const struct entry *entry,
	const struct tree *tree, struct fault *why)
{
	struct store *store = yard_store(logging->yard);
	const struct amount *volume = entry_amount(entry, FIELD_VOLUME);
	struct spot spot = {.kind = SPOT_HOLE};
	enum status status = STATUS_OK;
	if (tree->spot_id[0] != '\0')
		status = store_spot_load(store, tree->spot_id, &spot, why);
	bool in_pot = spot.kind == SPOT_CONTAINER;
	if (status == STATUS_OK && !in_pot) {
		char name[LABEL_SIZE + 8];
		snprintf(name, sizeof name, "%s pot", tree->label);
		status = work_spot_named(logging->yard, name, SPOT_CONTAINER, &spot, why);
	}
	if (status == STATUS_OK && volume != NULL && amount_point(volume).known) {
		spot.volume_ul = amount_point(volume);
		status = store_spot_save(store, &spot, why);
	}
	if (status == STATUS_OK && !in_pot)
		status = move_to(logging, entry, tree, &spot, why);
	return status;
}

/* --- an end and beginnings --- */

static enum status follow_died(struct logging *logging, const struct entry *entry,
	const struct tree *tree, struct fault *why)
{
	char when[24];
	if (tree->gone.text[0] != '\0') {
		text_add_format(&logging->said, "; it was closed before (%s)", tree->gone.text);
		return STATUS_OK;
	}
	const char *reason = entry_detail(entry, FIELD_CAUSE);
	if (reason[0] == '\0' && entry->note != NULL)
		reason = entry->note;
	char short_reason[TEXT_SIZE];
	text_copy(short_reason, sizeof short_reason,
		reason == NULL || reason[0] == '\0' ? kind_row(KIND_DIED)->past : reason);
	struct date_span day = date_span_of(entry_date(logging, entry));
	if (entry->day.text[0] != '\0')
		day = entry->day;
	enum status status =
		store_tree_close(yard_store(logging->yard), tree->id, &day, short_reason, why);
	if (status == STATUS_OK)
		status = put_turns(logging, tree->id, why);
	text_add_format(&logging->said, "; %s is closed from %s, its record is kept", tree->label,
		date_format_plain(entry_date(logging, entry), when, sizeof when));
	return status;
}

static int32_t count_words(const char *text)
{
	int32_t words = 0;
	for (const char *at = text; *at != '\0'; at++)
		if (*at != ' ' && (at == text || at[-1] == ' '))
			words++;
	return words;
}

/* The cultivar named on planting, where none was known: as said, so suspected. */
static enum status name_planted(struct logging *logging, const struct entry *entry,
	const struct tree *tree, struct fault *why)
{
	const char *name = entry_detail(entry, FIELD_NAME);
	struct tree_kind kind;
	if (name[0] == '\0' || count_words(name) > CULTIVAR_WORDS_MAX)
		return STATUS_OK;
	enum status status =
		yard_kind(logging->yard, tree->id, yard_today(logging->yard), &kind, why);
	if (status != STATUS_OK || kind.cultivar[0] != '\0')
		return status;
	struct new_identity identity = {.sure = SURE_SUSPECTED, .day = entry->day};
	const struct species *fits[1];
	bool is_species = almanac_find_species(yard_almanac(logging->yard), name, fits, 1) > 0;
	if (is_species && kind.species != NULL)
		return STATUS_OK;
	text_copy(is_species ? identity.species : identity.cultivar, NAME_SIZE, name);
	char asked[TEXT_SIZE] = "";
	struct text_builder question = text_builder_fixed(asked, sizeof asked);
	status = work_opinions_add(logging->yard, tree->id, &identity, &question, why);
	text_add_format(&logging->said, "; kept as what it is said to be: %s", name);
	return status;
}

static enum status follow_plant(struct logging *logging, const struct entry *entry,
	const struct tree *tree, struct fault *why)
{
	enum status status = STATUS_OK;
	if (tree->planted.text[0] == '\0') {
		struct tree planted = *tree;
		planted.planted = entry->day;
		status = store_tree_save(yard_store(logging->yard), &planted, why);
	}
	if (status == STATUS_OK)
		status = name_planted(logging, entry, tree, why);
	return status == STATUS_OK ? put_turns(logging, tree->id, why) : status;
}

/* "HOST/Comice", with a number where that one stands already. */
static enum status graft_label(struct logging *logging, const struct tree *host, const char *name,
	char out[LABEL_SIZE], struct fault *why)
{
	struct store *store = yard_store(logging->yard);
	for (int32_t number = 1; number < 100; number++) {
		char label[2 * LABEL_SIZE];
		char ending[8] = "";
		if (number > 1)
			snprintf(ending, sizeof ending, " %d", number);
		snprintf(label, sizeof label, "%.80s/%.80s%s", host->label,
			name[0] == '\0' ? "graft" : name, ending);
		if (label_check(label, NULL) != STATUS_OK)
			snprintf(label, sizeof label, "%.100s/%d", host->label, number);
		enum status status = label_check(label, why);
		if (status != STATUS_OK)
			return status;
		struct name_match match[4];
		int32_t count = store_name_find(store, NAME_TREE, label, strlen(label), match, 4);
		bool taken = false;
		for (int32_t i = 0; i < count && i < 4; i++)
			taken = taken || (match[i].is_exact && !match[i].is_gone);
		if (taken)
			continue;
		text_copy(out, LABEL_SIZE, label);
		return STATUS_OK;
	}
	return fault_set(why, STATUS_RANGE, "%s bears too many grafts of one name", host->label);
}

/* A name that is a kind says what the graft is; a cultivar is taken for the host's kind. */
static enum status name_graft(struct logging *logging, const struct entry *entry,
	const struct tree *host, const char *graft_id, struct fault *why)
{
	const struct almanac *almanac = yard_almanac(logging->yard);
	const char *name = entry_detail(entry, FIELD_NAME);
	struct new_identity identity = {.day.text = ""};
	const struct species *fits[1];
	struct tree_kind kind;
	enum status status =
		yard_kind(logging->yard, host->id, entry_date(logging, entry), &kind, why);
	if (status != STATUS_OK)
		return status;
	if (name[0] != '\0' && almanac_find_species(almanac, name, fits, 1) > 0) {
		text_copy(identity.species, sizeof identity.species, name);
	} else {
		identity.sure_given = true;
		identity.sure = SURE_SUSPECTED;
		text_copy(identity.cultivar, sizeof identity.cultivar, name);
		if (kind.species != NULL) {
			text_copy(identity.species, sizeof identity.species, kind.species->key);
			text_add_format(
				&logging->said, ", taken for %s like its host", kind.species->name);
		}
	}
	char asked[TEXT_SIZE] = "";
	struct text_builder question = text_builder_fixed(asked, sizeof asked);
	status = work_opinions_add(logging->yard, graft_id, &identity, &question, why);
	if (asked[0] != '\0')
		text_add_format(&logging->said, "; %s", asked);
	return status;
}

static enum status follow_graft(struct logging *logging, const struct entry *entry,
	const struct tree *subject, struct fault *why)
{
	struct store *store = yard_store(logging->yard);
	struct tree host = *subject;
	enum status status = STATUS_OK;
	if (subject->host_id[0] != '\0') /* a graft on a graft stands on the same trunk */
		status = store_tree_load(store, subject->host_id, &host, why);
	struct tree graft = {.how = ORIGIN_GRAFT, .planted = entry->day};
	if (status == STATUS_OK)
		status = graft_label(
			logging, &host, entry_detail(entry, FIELD_NAME), graft.label, why);
	if (status != STATUS_OK)
		return status;
	memcpy(graft.host_id, host.id, sizeof graft.host_id);
	status = store_tree_add(store, &graft, why);
	if (status != STATUS_OK)
		return status;
	text_add_format(&logging->said, "; the graft is %s", graft.label);
	status = name_graft(logging, entry, &host, graft.id, why);
	return status == STATUS_OK ? put_turns(logging, graft.id, why) : status;
}

static enum status follow_tree(struct logging *logging, const struct entry *entry,
	const struct tree *tree, struct fault *why)
{
	switch (entry->kind) {
	case KIND_DIED:
		return follow_died(logging, entry, tree, why);
	case KIND_MOVE:
		return follow_move(logging, entry, tree, why);
	case KIND_POT_UP:
		return follow_pot_up(logging, entry, tree, why);
	case KIND_PLANT:
		return follow_plant(logging, entry, tree, why);
	case KIND_GRAFT:
		return follow_graft(logging, entry, tree, why);
	case KIND_SAW:
		return work_name_seen(logging, entry, tree, why);
	case KIND_CUT:
	case KIND_FEED:
	case KIND_PICK:
	case KIND_LOSS:
	case KIND_USE:
	case KIND_MEASURE:
	case KIND_STAGE:
	case KIND_WATER:
	case KIND_MULCH:
	case KIND_SPRAY:
	case KIND_THIN:
	case KIND_SOW:
	case KIND_PROTECT:
	case KIND_SOIL_TEST:
	case KIND_PHOTO:
	case KIND_LEAVE:
	case KIND_NOTE:
	case KIND_WEATHER:
	case KIND_TOTAL:
		break;
	}
	return STATUS_OK;
}

static bool has_consequence(enum entry_kind kind)
{
	return kind == KIND_DIED || kind == KIND_MOVE || kind == KIND_POT_UP ||
	       kind == KIND_PLANT || kind == KIND_GRAFT || kind == KIND_SAW;
}

enum status work_follow(struct logging *logging, const struct entry *entry, struct fault *why)
{
	struct store *store = yard_store(logging->yard);
	bool is_crop = entry->kind == KIND_PICK || entry->kind == KIND_LOSS;
	if (entry->subject.kind == SUBJECT_SPOT && is_crop)
		return yard_put_spot_turns(
			store, yard_almanac(logging->yard), entry->subject.id, why);
	if (entry->subject.kind != SUBJECT_TREE || !has_consequence(entry->kind))
		return STATUS_OK;
	struct tree tree;
	enum status status = store_tree_load(store, entry->subject.id, &tree, why);
	return status == STATUS_OK ? follow_tree(logging, entry, &tree, why) : status;
}
