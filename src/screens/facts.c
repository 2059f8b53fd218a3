/* SPDX-License-Identifier: MIT */
/* What is known of one tree, as a form: each field stands as the log has it, and what is typed
 * otherwise is kept by one Enter, as one act. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "facts.h"

/* Hints of one row at 60 columns: all fields are to stand on the smallest screen. A field holds
 * all that the log may have of it. */
static const struct form_field fields[FACTS] = {
	{"label", "the place it stands in; the old one finds it", LABEL_CHARACTERS_MAX},
	{"kind", "apple, or apple, Gravenstein; old names stay", 2 * NAME_SIZE},
	{"sure", "certain, suspected, candidate or unknown", 20},
	{"planted", "2014, about 2012, March 2020, in the 90s", 60},
	{"spot", "it moves today; a new name makes a spot", LABEL_CHARACTERS_MAX},
	{"came as", "bought, seed of A3, cutting, graft, found", 60},
	{"rootstock", "what it is grafted on", NAME_SIZE - 1},
	{"keep to", "its height by the saw: 12 ft, 3.5 m", 20},
	{"hazard", "what could hurt someone; shown first", TEXT_SIZE - 1},
	{"note", "what else is to be known of it", TEXT_SIZE - 1},
	{"marks", "over the fence, private: either or both", 40},
};

/* --- from the log into the fields --- */

static void load(struct facts *facts, int field, const char *text)
{
	form_load(&facts->form, field, text);
	(void)text_copy(facts->before[field], EDIT_SIZE, form_text(&facts->form, field));
}

static void load_kind(struct facts *facts, const struct tree_kind *kind)
{
	char text[NAME_SIZE * 2 + 4];
	struct text_builder name = text_builder_fixed(text, sizeof text);
	const bool none =
		kind->species == NULL && kind->outside == NULL && kind->candidate_count == 0;
	if (kind->species != NULL)
		text_add(&name, kind->species->name);
	else if (!none)
		text_add(&name, kind->name);
	if (kind->cultivar[0] != '\0')
		text_add_format(&name, ", %s", kind->cultivar);
	load(facts, FACT_KIND, text);
	load(facts, FACT_SURE,
		sure_key(kind->cultivar[0] != '\0' ? kind->cultivar_sure : kind->sure));
}

static enum status load_came(
	struct facts *facts, struct store *store, const struct tree *tree, struct fault *why)
{
	char text[LABEL_SIZE + 32];
	struct text_builder came = text_builder_fixed(text, sizeof text);
	struct tree parent;
	enum status status = STATUS_OK;
	text_add(&came, origin_key(tree->how));
	if (tree->parent_id[0] != '\0') {
		status = store_tree_load(store, tree->parent_id, &parent, why);
		if (status == STATUS_OK)
			text_add_format(&came, "%sof %s", text[0] != '\0' ? " " : "", parent.label);
	}
	load(facts, FACT_CAME, text);
	return status;
}

static enum status load_spot(
	struct facts *facts, struct store *store, const struct tree *tree, struct fault *why)
{
	struct spot spot = {.name = ""};
	enum status status = STATUS_OK;
	if (tree->spot_id[0] != '\0')
		status = store_spot_load(store, tree->spot_id, &spot, why);
	load(facts, FACT_SPOT, spot.name);
	return status;
}

enum status facts_load(struct facts *facts, struct session *session, const char *tree_id,
	struct arena *arena, struct fault *why)
{
	const struct dossier *dossier = NULL;
	form_start(&facts->form, fields, FACTS);
	(void)text_copy(facts->id, sizeof facts->id, tree_id);
	char text[80] = "";
	enum status status = yard_dossier_in(session->yard, facts->id, arena, &dossier, why);
	if (status != STATUS_OK)
		return status;
	const struct tree *tree = &dossier->tree;
	load(facts, FACT_LABEL, tree->label);
	load_kind(facts, &dossier->kind);
	if (tree->planted.text[0] != '\0')
		(void)date_span_format_plain(&tree->planted, text, sizeof text);
	load(facts, FACT_PLANTED, text);
	text[0] = '\0';
	if (tree->target_height_um.known)
		(void)length_format(
			tree->target_height_um.value, session->units, text, sizeof text);
	load(facts, FACT_HEIGHT, text);
	load(facts, FACT_ROOTSTOCK, tree->rootstock);
	load(facts, FACT_HAZARD, tree->hazard);
	load(facts, FACT_NOTE, tree->note);
	(void)snprintf(text, sizeof text, "%s%s%s", tree->over_fence ? "over the fence" : "",
		tree->over_fence && tree->is_private ? ", " : "",
		tree->is_private ? "private" : "");
	load(facts, FACT_MARKS, text);
	status = load_spot(facts, session->store, tree, why);
	return status == STATUS_OK ? load_came(facts, session->store, tree, why) : status;
}

static enum status facts_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct facts *facts = state;
	if (store_is_read_only(context->session->store))
		return fault_set(why, STATUS_DENIED, "this log can be read but not written");
	enum status status = facts_load(facts, context->session, argument, context->arena, why);
	if (status == STATUS_OK && context->draft[0] != '\0') /* left unsaved: here again */
		form_split(&facts->form, context->draft);
	return status;
}

static enum status facts_reread(void *state, struct context *context, struct fault *why)
{
	(void)state; /* what is being typed stays; only what was typed otherwise is written */
	(void)context;
	(void)why;
	return STATUS_OK;
}

/* --- from the fields into the log --- */

static bool differs(const struct facts *facts, int field)
{
	return strcmp(form_text(&facts->form, field), facts->before[field]) != 0;
}

bool facts_differ(const struct facts *facts)
{
	for (int i = 0; i < FACTS; i++)
		if (differs(facts, i))
			return true;
	return false;
}

/* The field without blanks around it. */
static const char *text_of(const struct facts *facts, int field, char out[EDIT_SIZE])
{
	(void)text_copy(out, EDIT_SIZE, form_text(&facts->form, field));
	return text_trim_in_place(out);
}

static enum status too_long(int field, size_t size, struct fault *why)
{
	return fault_set(why, STATUS_RANGE, "%s: too long, at most %zu bytes of UTF-8 are kept",
		fields[field].label, size - 1);
}

static enum status read_sure(const struct facts *facts, struct new_identity *out, struct fault *why)
{
	char word[EDIT_SIZE];
	char folded[EDIT_SIZE];
	if (!differs(facts, FACT_SURE))
		return STATUS_OK;
	out->sure_given = true;
	if (!text_fold(text_of(facts, FACT_SURE, word), folded, sizeof folded) ||
		!sure_find(folded, &out->sure))
		return fault_set(why, STATUS_SYNTAX, "sure: %s", fields[FACT_SURE].hint);
	return STATUS_OK;
}

/* What is not said anew is not said again: a cultivar learned later is one opinion. */
static enum status read_kind(
	const struct facts *facts, struct tree_change *change, struct fault *why)
{
	char now[EDIT_SIZE];
	struct new_identity *identity = &change->identity;
	if (!differs(facts, FACT_KIND) && !differs(facts, FACT_SURE))
		return STATUS_OK;
	change->identified = true;
	(void)text_of(facts, FACT_KIND, now);
	const size_t species = strcspn(now, ",");
	const char *before = facts->before[FACT_KIND];
	const bool same_species = strcspn(before, ",") == species && species > 0 &&
				  strncmp(before, now, species) == 0 && now[species] == ',';
	if (!text_copy_n(identity->species, sizeof identity->species, now, species) ||
		(now[species] == ',' && !text_copy(identity->cultivar, sizeof identity->cultivar,
						now + species + 1)))
		return too_long(FACT_KIND, NAME_SIZE, why);
	(void)text_trim_in_place(identity->species);
	(void)text_trim_in_place(identity->cultivar);
	if (same_species && identity->cultivar[0] != '\0')
		identity->species[0] = '\0';
	enum status status = read_sure(facts, identity, why);
	if (identity->species[0] == '\0' && identity->cultivar[0] == '\0') {
		identity->sure_given = true;
		identity->sure = SURE_UNKNOWN;
	}
	return status;
}

static enum status read_came(
	const struct facts *facts, struct session *session, struct tree *out, struct fault *why)
{
	char text[EDIT_SIZE];
	char folded[EDIT_SIZE];
	struct tree parent;
	if (!differs(facts, FACT_CAME))
		return STATUS_OK;
	(void)text_of(facts, FACT_CAME, text);
	const char *of = text_starts(text, "of ") ? text : strstr(text, " of ");
	out->parent_id[0] = '\0';
	if (of != NULL) {
		const char *label = of + (of == text ? 3 : 4);
		enum status status = store_tree_find(session->store, label, &parent, why);
		if (status != STATUS_OK)
			return status;
		if (strcmp(parent.id, facts->id) == 0)
			return fault_set(why, STATUS_RANGE, "a tree does not come from itself");
		(void)text_copy(out->parent_id, sizeof out->parent_id, parent.id);
		text[of - text] = '\0';
	}
	if (!text_fold(text, folded, sizeof folded) || !origin_find(folded, &out->how))
		return fault_set(why, STATUS_SYNTAX,
			"came as: bought, seed, cutting, layer, graft, root-shoot or found; 'seed "
			"of A3' names the parent");
	return STATUS_OK;
}

static enum status read_height(
	const struct facts *facts, struct session *session, struct tree *out, struct fault *why)
{
	char text[EDIT_SIZE];
	if (!differs(facts, FACT_HEIGHT))
		return STATUS_OK;
	(void)text_of(facts, FACT_HEIGHT, text);
	out->target_height_um = (struct maybe_i64){.known = text[0] != '\0'};
	if (text[0] == '\0')
		return STATUS_OK;
	return length_parse(text, &session->numbers, &out->target_height_um.value, why);
}

static enum status read_planted(
	const struct facts *facts, struct session *session, struct tree *out, struct fault *why)
{
	const struct line_context line = session_line_context(session);
	char text[EDIT_SIZE];
	if (!differs(facts, FACT_PLANTED))
		return STATUS_OK;
	(void)text_of(facts, FACT_PLANTED, text);
	out->planted = (struct date_span){.text = ""};
	return text[0] == '\0' ? STATUS_OK : planting_read(text, &line, &out->planted, why);
}

static enum status read_marks(const struct facts *facts, struct tree *out, struct fault *why)
{
	char text[EDIT_SIZE];
	char folded[EDIT_SIZE];
	if (!differs(facts, FACT_MARKS))
		return STATUS_OK;
	if (!text_fold(text_of(facts, FACT_MARKS, text), folded, sizeof folded))
		return fault_set(why, STATUS_RANGE, "marks: %s", fields[FACT_MARKS].hint);
	out->over_fence = false;
	out->is_private = false;
	for (char *mark = folded; *mark != '\0';) {
		const size_t length = strcspn(mark, ",");
		const bool last = mark[length] == '\0';
		mark[length] = '\0';
		const char *word = text_trim_in_place(mark);
		if (strcmp(word, "over the fence") == 0 || strcmp(word, "over fence") == 0)
			out->over_fence = true;
		else if (strcmp(word, "private") == 0)
			out->is_private = true;
		else if (word[0] != '\0')
			return fault_set(why, STATUS_SYNTAX, "marks: %s", fields[FACT_MARKS].hint);
		mark += length + (last ? 0 : 1);
	}
	return STATUS_OK;
}

/* Left as it is while the field says what the log says. */
static enum status read_text(
	const struct facts *facts, int field, char *out, size_t size, struct fault *why)
{
	char text[EDIT_SIZE];
	if (!differs(facts, field) || text_copy(out, size, text_of(facts, field, text)))
		return STATUS_OK;
	return too_long(field, size, why);
}

static enum status read_texts(
	const struct facts *facts, struct tree_change *change, struct fault *why)
{
	const struct {
		int field;
		char *out;
		size_t size;
	} texts[] = {{FACT_LABEL, change->label, sizeof change->label},
		{FACT_SPOT, change->spot, sizeof change->spot},
		{FACT_ROOTSTOCK, change->tree.rootstock, sizeof change->tree.rootstock},
		{FACT_HAZARD, change->tree.hazard, sizeof change->tree.hazard},
		{FACT_NOTE, change->tree.note, sizeof change->tree.note}};
	enum status status = STATUS_OK;
	for (size_t i = 0; status == STATUS_OK && i < sizeof texts / sizeof texts[0]; i++)
		status = read_text(facts, texts[i].field, texts[i].out, texts[i].size, why);
	if (status != STATUS_OK)
		return status;
	if (differs(facts, FACT_LABEL) && change->label[0] == '\0')
		return fault_set(why, STATUS_RANGE, "a tree needs a label");
	if (differs(facts, FACT_SPOT) && change->spot[0] == '\0')
		return fault_set(why, STATUS_RANGE,
			"a tree that stands nowhere is closed: log that it died, or a move");
	return STATUS_OK;
}

/* What was typed otherwise, on the tree as it stands now: another window may have told of it. */
static enum status read_fields(const struct facts *facts, struct session *session,
	struct tree_change *change, struct fault *why)
{
	struct tree *tree = &change->tree;
	*change = (struct tree_change){.identity.day = date_span_of(yard_today(session->yard))};
	enum status status = store_tree_load(session->store, facts->id, tree, why);
	if (status == STATUS_OK)
		status = read_texts(facts, change, why);
	if (status == STATUS_OK)
		status = read_kind(facts, change, why);
	if (status == STATUS_OK)
		status = read_planted(facts, session, tree, why);
	if (status == STATUS_OK)
		status = read_came(facts, session, tree, why);
	if (status == STATUS_OK)
		status = read_height(facts, session, tree, why);
	return status == STATUS_OK ? read_marks(facts, tree, why) : status;
}

enum status facts_keep(const struct facts *facts, struct session *session, char asked[TEXT_SIZE],
	struct fault *why)
{
	struct arena *arena = arena_new();
	struct tree_change *change = arena_alloc(arena, sizeof *change);
	asked[0] = '\0';
	enum status status = read_fields(facts, session, change, why);
	if (status == STATUS_OK)
		status = work_tree_change(session->yard, change, asked, why);
	arena_free(arena);
	return status;
}

static void keep(struct facts *facts, struct context *context, struct effect *out)
{
	char asked[TEXT_SIZE];
	struct fault why;
	if (!facts_differ(facts)) {
		effect_say(out, "nothing was changed");
	} else if (facts_keep(facts, context->session, asked, &why) != STATUS_OK) {
		effect_say(out, "not saved: %s", why.text);
		return;
	} else {
		out->wrote = true;
		effect_say(
			out, "saved%s%.200s, u takes it back", asked[0] != '\0' ? "; " : "", asked);
	}
	form_start(&facts->form, fields, FACTS); /* nothing of it is a draft any more */
	memset(facts->before, 0, sizeof facts->before);
	out->kind = EFFECT_POP;
}

/* --- the screen --- */

static void facts_draw(const void *state, struct paper *paper)
{
	const struct facts *facts = state;
	(void)form_draw(&facts->form, paper, 0);
	for (int i = 0; i < FACTS; i++) /* told by a sign, not by a colour */
		if (differs(facts, i) && i != facts->form.at)
			(void)paper_put(
				paper, i + (i > facts->form.at ? 1 : 0), 0, 1, STYLE_STRONG, "*");
}

static void facts_act(void *state, struct context *context, enum action action, struct effect *out)
{
	struct facts *facts = state;
	switch ((int)action) {
	case ACTION_SAVE:
		keep(facts, context, out);
		break;
	case ACTION_UP:
		form_go(&facts->form, facts->form.at - 1);
		break;
	case ACTION_DOWN:
	case ACTION_NEXT_PART:
		form_go(&facts->form,
			action == ACTION_DOWN ? facts->form.at + 1 : (facts->form.at + 1) % FACTS);
		break;
	case ACTION_BACK:
		if (facts_differ(facts))
			effect_say(out, "not saved; it waits here: e on this tree takes it up");
		out->kind = EFFECT_POP;
		break;
	default:
		effect_usual(out);
		break;
	}
}

static void facts_type(
	void *state, struct context *context, const struct input *input, struct effect *out)
{
	struct facts *facts = state;
	(void)context;
	(void)form_take(&facts->form, input, out);
}

static const char *facts_typed(const void *state)
{
	const struct facts *facts = state;
	return form_text(&facts->form, facts->form.at);
}

static void facts_draft(const void *state, char *out, size_t size)
{
	const struct facts *facts = state;
	out[0] = '\0';
	if (facts_differ(facts))
		form_join(&facts->form, out, size);
}

/* clang-format off */
static const struct key_row facts_keys[] = {
	{KEYS_ENTER, ACTION_SAVE, false},
	{KEYS_DOWN, ACTION_DOWN, false},
	{KEYS_UP, ACTION_UP, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_facts = {
	.name = "facts",
	.title = "Facts",
	.purpose = "what is known of a tree, to be told otherwise: Enter keeps it all",
	.state_size = sizeof(struct facts),
	.takes_text = true,
	.least_rows = 15,
	.least_columns = 60,
	.open = facts_open,
	.reread = facts_reread,
	.draw = facts_draw,
	.act = facts_act,
	.type = facts_type,
	.keys = facts_keys,
	.typed = facts_typed,
	.draft_each = true,
	.draft = facts_draft,
};
