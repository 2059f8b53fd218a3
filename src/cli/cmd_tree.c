/* SPDX-License-Identifier: MIT */
/* tree: add, list, show, set, rename, remove, identify */
#include <stdio.h>
#include <string.h>

#include "acts.h"
#include "core/label_range.h"
#include "core/text.h"

static enum status read_sure(
	const struct call *call, bool *given, enum sure *sure, struct fault *why)
{
	const char *value = call_option(call, "sure");

	*given = value != NULL;
	if (value == NULL || sure_find(value, sure))
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX,
		"--sure is certain, suspected, candidate or unknown, not '%s'", value);
}

static enum status read_origin(const struct call *call, struct tree *tree, struct fault *why)
{
	const char *value = call_option(call, "how");

	if (value == NULL || (value[0] != '\0' && origin_find(value, &tree->how)))
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX,
		"--how is bought, seed, cutting, layer, graft, root-shoot or found, not '%s'",
		value);
}

static enum status copy_option(
	const struct call *call, const char *option, char *out, size_t size, struct fault *why)
{
	const char *value = call_option(call, option);

	if (value != NULL && !text_copy(out, size, value))
		return fault_set(why, STATUS_RANGE, "--%s is too long", option);
	return STATUS_OK;
}

/* Another tree by its label: host or parent. */
static enum status read_relation(
	struct call *call, const char *option, char id[ID_SIZE], struct fault *why)
{
	const char *label = call_option(call, option);
	struct tree tree;

	if (label == NULL)
		return STATUS_OK;
	if (label[0] == '\0') { /* said to have none */
		id[0] = '\0';
		return STATUS_OK;
	}
	enum status status = call_tree(call, label, &tree, why);
	if (status != STATUS_OK) {
		fault_prefix(why, "--%s: ", option);
		return status;
	}
	text_copy(id, ID_SIZE, tree.id);
	return STATUS_OK;
}

static enum status read_planted(struct call *call, struct tree *tree, struct fault *why)
{
	const char *planted = call_option(call, "planted");
	struct line_context context = session_line_context(call->session);

	if (planted == NULL)
		return STATUS_OK;
	return planting_read(planted, &context, &tree->planted, why);
}

/* The options that are columns of a tree. */
static enum status read_tree(struct call *call, struct tree *tree, struct fault *why)
{
	const char *height = call_option(call, "target-height");
	enum status status = read_origin(call, tree, why);

	if (status == STATUS_OK)
		status = read_planted(call, tree, why);
	if (status == STATUS_OK)
		status = read_relation(call, "host", tree->host_id, why);
	if (status == STATUS_OK)
		status = read_relation(call, "parent", tree->parent_id, why);
	if (status == STATUS_OK)
		status = copy_option(call, "batch", tree->batch, sizeof tree->batch, why);
	if (status == STATUS_OK)
		status = copy_option(
			call, "rootstock", tree->rootstock, sizeof tree->rootstock, why);
	if (status == STATUS_OK)
		status = copy_option(call, "hazard", tree->hazard, sizeof tree->hazard, why);
	if (status == STATUS_OK)
		status = copy_option(call, "note", tree->note, sizeof tree->note, why);
	if (status == STATUS_OK && height != NULL) {
		status = length_parse(
			height, &call->session->numbers, &tree->target_height_um.value, why);
		tree->target_height_um.known = true;
	}
	tree->over_fence = tree->over_fence || call_has(call, "over-fence");
	tree->is_private = tree->is_private || call_has(call, "private");
	return status;
}

static enum status add_one(struct call *call, const struct new_tree *fresh, struct fault *why)
{
	char asked[TEXT_SIZE] = "";
	char id[ID_SIZE];
	enum status status = work_tree_add_in_act(call->session->yard, fresh, asked, id, why);

	if (status != STATUS_OK)
		return status;
	call_say(call, "added %s", fresh->tree.label);
	if (asked[0] != '\0')
		call_say(call, "  %s", asked);
	return STATUS_OK;
}

static enum status tree_add(struct call *call, struct fault *why)
{
	struct new_tree fresh = {0};
	struct label_range range;
	enum status status = read_tree(call, &fresh.tree, why);

	if (status == STATUS_OK)
		status = read_sure(call, &fresh.sure_given, &fresh.sure, why);
	if (status == STATUS_OK)
		status = copy_option(call, "species", fresh.species, sizeof fresh.species, why);
	if (status == STATUS_OK)
		status = copy_option(call, "cultivar", fresh.cultivar, sizeof fresh.cultivar, why);
	if (status == STATUS_OK)
		status = copy_option(call, "spot", fresh.spot, sizeof fresh.spot, why);
	if (status == STATUS_OK)
		status = read_offset(call, "east", &fresh.east_um, why);
	if (status == STATUS_OK)
		status = read_offset(call, "north", &fresh.north_um, why);
	if (status == STATUS_OK)
		status = label_check(call_line(call, 1), why);
	if (status == STATUS_OK)
		status = label_range_parse(call_line(call, 1), &range, why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; status == STATUS_OK && i < range.count; i++) {
		label_range_at(&range, i, fresh.tree.label);
		status = add_one(call, &fresh, why);
	}
	return act_end(call, status, why);
}

static enum status tree_set(struct call *call, const struct tree *tree, struct fault *why)
{
	struct tree_change change = {.tree = *tree};
	struct spot spot;
	char asked[TEXT_SIZE] = "";

	if (call_has(call, "species") || call_has(call, "cultivar"))
		return fault_set(why, STATUS_SYNTAX,
			"what a tree is keeps its history: use tree identify %s --species ...",
			tree->label);
	enum status status = want_option(call, why);
	if (status == STATUS_OK)
		status = read_tree(call, &change.tree, why);
	if (status == STATUS_OK)
		status = copy_option(call, "spot", change.spot, sizeof change.spot, why);
	if (status == STATUS_OK && change.spot[0] != '\0')
		status = store_spot_find(call->session->store, change.spot, &spot, why);
	if (status == STATUS_OK)
		status = work_tree_change(call->session->yard, &change, asked, why);
	if (status == STATUS_OK)
		call_say(call, "%s is set", tree->label);
	return status;
}

static enum status tree_identify(struct call *call, const struct tree *tree, struct fault *why)
{
	struct new_identity identity = {0};
	const char *sense = call_option(call, "sense");
	const char *day = call_option(call, "day");
	char asked[TEXT_SIZE] = "";
	enum status status = read_sure(call, &identity.sure_given, &identity.sure, why);

	if (status == STATUS_OK && sense != NULL && strcmp(sense, "correction") != 0 &&
		strcmp(sense, "change") != 0)
		return fault_set(why, STATUS_SYNTAX,
			"--sense is correction (wrong all along) or change (regrafted on that "
			"day)");
	identity.is_change = sense != NULL && strcmp(sense, "change") == 0;
	if (status == STATUS_OK)
		status = copy_option(
			call, "species", identity.species, sizeof identity.species, why);
	if (status == STATUS_OK)
		status = copy_option(
			call, "cultivar", identity.cultivar, sizeof identity.cultivar, why);
	if (status == STATUS_OK)
		status = copy_option(call, "by", identity.who, sizeof identity.who, why);
	if (status == STATUS_OK)
		status = copy_option(call, "reason", identity.reason, sizeof identity.reason, why);
	if (status == STATUS_OK)
		status = call_day(call, day != NULL ? day : "today", &identity.day, why);
	if (status == STATUS_OK)
		status = work_identify(call->session->yard, tree->id, &identity, asked, why);
	if (status != STATUS_OK)
		return status;
	bool both = identity.species[0] != '\0' && identity.cultivar[0] != '\0';
	bool none = identity.species[0] == '\0' && identity.cultivar[0] == '\0';
	call_say(call, "%s is now said to be %s%s%s; the old name stays in its history",
		tree->label, none ? "unknown" : identity.species, both ? ", " : "",
		identity.cultivar);
	if (asked[0] != '\0')
		call_say(call, "  %s", asked);
	return STATUS_OK;
}

static enum status tree_remove(struct call *call, const struct tree *tree, struct fault *why)
{
	const char *gone = call_option(call, "gone-on");
	char when[40];
	struct date_span day;
	enum status status = call_day(call, gone != NULL ? gone : "today", &day, why);

	if (status == STATUS_OK && call->word_count < 3)
		return fault_set(why, STATUS_SYNTAX,
			"say why it goes: tree remove %s REASON (it is closed, not erased)",
			tree->label);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	struct session *session = call->session;
	status = store_tree_close(session->store, tree->id, &day, call_line(call, 2), why);
	if (status == STATUS_OK)
		status = yard_put_turns(session->store, session->almanac, tree->id, why);
	status = act_end(call, status, why);
	if (status == STATUS_OK)
		call_say(call, "%s is closed on %s: %s; its records stay", tree->label,
			date_span_format_plain(&day, when, sizeof when), call_line(call, 2));
	return status;
}

static enum status tree_rename(struct call *call, const struct tree *tree, struct fault *why)
{
	enum status status = call_want(call, 3, WORDS_MAX, why);

	if (status == STATUS_OK)
		status = label_check(call_line(call, 2), why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	status = act_end(call,
		store_tree_rename(call->session->store, tree->id, call_line(call, 2), why), why);
	if (status == STATUS_OK)
		call_say(call, "%s is now called %s; the old label still finds it", tree->label,
			call_line(call, 2));
	return status;
}

/* Who stood on a day. */
static enum status list_standing(struct call *call, struct fault *why)
{
	struct session *session = call->session;
	struct date_span day;
	struct yard *then = NULL;
	enum status status = call_day(call, call_option(call, "day"), &day, why);

	if (status == STATUS_OK && !day.low.known)
		status = fault_set(why, STATUS_SYNTAX, "--day wants a day, not '%s'",
			call_option(call, "day"));
	if (status == STATUS_OK)
		status = yard_open(
			session->store, session->almanac, day.low.value, call->arena, &then, why);
	if (status != STATUS_OK)
		return status;
	yard_look_back(then);
	return print_standing(&call->printer, then, why);
}

enum status cmd_tree(struct call *call, int *exit_status, struct fault *why)
{
	struct tree tree;
	(void)exit_status;

	if (call->word_count == 1 && call_word_is(call, 0, "list") && call_has(call, "day"))
		return list_standing(call, why);
	if (call->word_count == 1 && call_word_is(call, 0, "list"))
		return print_trees(
			&call->printer, call->session->yard, call_has(call, "gone"), why);
	if (call->word_count < 2)
		return call_usage(call, why);
	if (call_word_is(call, 0, "add"))
		return tree_add(call, why);
	if (call_word_is(call, 0, "trait"))
		return tree_trait(call, why);
	enum status status = call_tree(call, call->words[1], &tree, why);
	if (status != STATUS_OK)
		return status;
	if (call_word_is(call, 0, "show"))
		return print_tree(&call->printer, call->session->yard, tree.id, why);
	if (call_word_is(call, 0, "set"))
		return tree_set(call, &tree, why);
	if (call_word_is(call, 0, "identify"))
		return tree_identify(call, &tree, why);
	if (call_word_is(call, 0, "rename"))
		return tree_rename(call, &tree, why);
	if (call_word_is(call, 0, "remove"))
		return tree_remove(call, &tree, why);
	return call_usage(call, why);
}
