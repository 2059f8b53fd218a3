/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "mapping.h"

enum { LABEL, SPECIES, CULTIVAR, PLANTED, SPOT, EAST, NORTH, ROOTSTOCK, NOTE, HAZARD };
static const char *const names[] = {"label", "species", "cultivar", "planted", "spot", "east",
	"north", "rootstock", "note", "hazard", NULL};

struct importing {
	struct session *session;
	const struct import_options *options;
	struct arena *arena;
	struct mapping mapping;
	struct import_account *account;
	struct seen_tree *seen; /* trees of this file, by a hash of the folded label */
	int32_t seen_size;
};

/* A tree of the file: what a second row with its label must agree with. */
struct seen_tree {
	const char *label; /* NULL: free */
	const char *facts;
	int32_t line;
};

enum { SEEN_SIZE = 1 << 17 };

static uint32_t hash_text(const char *text)
{
	uint32_t hash = 2166136261U; /* FNV-1a */

	for (; *text != '\0'; text++)
		hash = (hash ^ (unsigned char)*text) * 16777619U;
	return hash;
}

static struct seen_tree *seen_at(struct importing *importing, const char *folded)
{
	uint32_t place = hash_text(folded) % SEEN_SIZE;

	while (importing->seen[place].label != NULL &&
		strcmp(importing->seen[place].label, folded) != 0)
		place = (place + 1) % SEEN_SIZE;
	return &importing->seen[place];
}

static const char *facts_of(struct importing *importing, const struct csv_row *row)
{
	struct text_builder facts = text_builder_in(importing->arena);

	for (int32_t i = SPECIES; names[i] != NULL; i++)
		text_add_format(&facts, "%s\x1f", mapping_text(&importing->mapping, row, i));
	return facts.text;
}

static enum status read_length(const struct importing *importing, const char *text,
	const char *name, struct maybe_i64 *out, struct fault *why)
{
	char with_unit[80];
	const char *unit = importing->options->length_unit;
	bool minus = text[0] == '-';

	if (text[0] == '\0')
		return STATUS_OK;
	if (unit == NULL && text[strspn(text, "-0123456789.,")] == '\0')
		return fault_set(
			why, STATUS_DOUBT, "%s %s of what? say --length-unit ft or m", name, text);
	bool bare = text[strspn(text, "-0123456789.,")] == '\0';
	snprintf(with_unit, sizeof with_unit, "%s%s%s", text + (minus ? 1 : 0), bare ? " " : "",
		bare ? unit : "");
	enum status status =
		length_parse(with_unit, &importing->session->numbers, &out->value, why);
	if (status != STATUS_OK)
		return status;
	out->known = true;
	out->value = minus ? -out->value : out->value;
	return STATUS_OK;
}

static enum status copy_cell(const struct importing *importing, const struct csv_row *row,
	int32_t name, char *out, size_t size, struct fault *why)
{
	if (!text_copy(out, size, mapping_text(&importing->mapping, row, name)))
		return fault_set(why, STATUS_RANGE, "%s is too long", names[name]);
	text_trim_in_place(out);
	return STATUS_OK;
}

static enum status read_row(struct importing *importing, const struct csv_row *row,
	struct new_tree *out, struct fault *why)
{
	const struct mapping *mapping = &importing->mapping;
	struct line_context context = session_line_context(importing->session);
	const char *planted = mapping_text(mapping, row, PLANTED);
	enum status status =
		copy_cell(importing, row, LABEL, out->tree.label, sizeof out->tree.label, why);

	context.dates = importing->options->dates != DATES_UNSET ? importing->options->dates
								 : context.dates;
	if (status == STATUS_OK)
		status = label_check(out->tree.label, why);
	if (status == STATUS_OK)
		status = copy_cell(importing, row, SPECIES, out->species, sizeof out->species, why);
	if (status == STATUS_OK)
		status = copy_cell(
			importing, row, CULTIVAR, out->cultivar, sizeof out->cultivar, why);
	if (status == STATUS_OK)
		status = copy_cell(importing, row, SPOT, out->spot, sizeof out->spot, why);
	if (status == STATUS_OK)
		status = copy_cell(importing, row, ROOTSTOCK, out->tree.rootstock,
			sizeof out->tree.rootstock, why);
	if (status == STATUS_OK)
		status =
			copy_cell(importing, row, NOTE, out->tree.note, sizeof out->tree.note, why);
	if (status == STATUS_OK)
		status = copy_cell(
			importing, row, HAZARD, out->tree.hazard, sizeof out->tree.hazard, why);
	if (status == STATUS_OK && planted[0] != '\0')
		status = planting_read(planted, &context, &out->tree.planted, why);
	if (status == STATUS_OK)
		status = read_length(
			importing, mapping_text(mapping, row, EAST), "east", &out->east_um, why);
	if (status == STATUS_OK)
		status = read_length(
			importing, mapping_text(mapping, row, NORTH), "north", &out->north_um, why);
	if (out->species[0] == '\0' && importing->options->species != NULL)
		text_copy(out->species, sizeof out->species, importing->options->species);
	return status;
}

static void refuse(struct importing *importing, const struct csv_row *row, const struct fault *why)
{
	importing->account->refused++;
	account_say(importing->account, importing->arena, "line %d: %s", row->line, why->text);
}

/* A label that came before in this file: one tree when the facts agree, else both are named. */
static enum status check_repeat(struct importing *importing, const struct csv_row *row,
	const char *folded, bool *repeated, struct fault *why)
{
	struct seen_tree *seen = seen_at(importing, folded);
	const char *facts = facts_of(importing, row);

	*repeated = seen->label != NULL;
	if (!*repeated) {
		*seen = (struct seen_tree){arena_text(importing->arena, folded), facts, row->line};
		return STATUS_OK;
	}
	if (strcmp(seen->facts, facts) == 0)
		return STATUS_OK;
	return fault_set(why, STATUS_CONFLICT, "label '%s' stands on line %d with other facts",
		mapping_text(&importing->mapping, row, LABEL), seen->line);
}

/* A tree of that label is in the log: the same one when what the file says of it agrees. */
static enum status check_known(
	struct importing *importing, const struct new_tree *fresh, bool *known, struct fault *why)
{
	struct tree tree;
	enum status status =
		store_tree_find(importing->session->store, fresh->tree.label, &tree, why);

	*known = status == STATUS_OK && tree.gone.text[0] == '\0';
	if (status == STATUS_ABSENT)
		return STATUS_OK;
	if (status != STATUS_OK || !*known)
		return status;
	if (strcmp(tree.planted.text, fresh->tree.planted.text) != 0 ||
		strcmp(tree.rootstock, fresh->tree.rootstock) != 0 ||
		strcmp(tree.note, fresh->tree.note) != 0 ||
		(fresh->tree.hazard[0] != '\0' && strcmp(tree.hazard, fresh->tree.hazard) != 0))
		return fault_set(why, STATUS_CONFLICT,
			"'%s' is in the log with other facts: mend it there (tree set)",
			tree.label);
	return STATUS_OK;
}

static enum status take_row(
	struct importing *importing, const struct csv_row *row, struct fault *why)
{
	struct new_tree fresh = {0};
	char folded[LABEL_SIZE * 3], asked[TEXT_SIZE] = "", id[ID_SIZE];
	bool repeated = false, known = false;
	enum status status = read_row(importing, row, &fresh, why);

	if (status == STATUS_OK) {
		text_fold(fresh.tree.label, folded, sizeof folded);
		status = check_repeat(importing, row, folded, &repeated, why);
	}
	if (status == STATUS_OK && !repeated)
		status = check_known(importing, &fresh, &known, why);
	if (status != STATUS_OK || repeated)
		return status;
	if (known) {
		importing->account->same++;
		return STATUS_OK;
	}
	status = work_tree_add_in_act(importing->session->yard, &fresh, asked, id, why);
	if (status != STATUS_OK)
		return status;
	importing->account->fresh++;
	if (asked[0] != '\0')
		account_say(importing->account, importing->arena, "line %d: %s", row->line, asked);
	return STATUS_OK;
}

static bool is_refusal(enum status status)
{
	return status == STATUS_SYNTAX || status == STATUS_RANGE || status == STATUS_DOUBT ||
	       status == STATUS_CONFLICT || status == STATUS_ABSENT;
}

static enum status take_rows(struct importing *importing, struct fault *why)
{
	struct csv_row row;
	enum status status;

	while ((status = csv_next(importing->mapping.reader, &row, why)) == STATUS_OK) {
		struct fault refusal = {0};

		status = take_row(importing, &row, &refusal);
		if (is_refusal(status))
			refuse(importing, &row, &refusal);
		else if (status != STATUS_OK)
			return fault_set(why, status, "%s", refusal.text);
	}
	if (status != STATUS_END)
		return status;
	if (importing->account->refused > 0)
		return fault_set(why, STATUS_SYNTAX, "%d rows refused; nothing was written",
			importing->account->refused);
	return STATUS_OK;
}

enum status import_trees(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why)
{
	struct importing importing = {.session = session,
		.options = options,
		.arena = arena,
		.account = account,
		.seen = arena_array(arena, SEEN_SIZE, sizeof(struct seen_tree))};
	enum status status =
		mapping_open(session, options, "trees", names, arena, &importing.mapping, why);

	if (status == STATUS_OK && !mapping_has(&importing.mapping, LABEL))
		status = fault_set(why, STATUS_SYNTAX,
			"which column holds the label? --columns label=COLUMN,...");
	if (status == STATUS_OK)
		status = store_act_begin(session->store, ACT_IMPORT, "import trees", why);
	if (status == STATUS_OK)
		status = take_rows(&importing, why);
	if (status == STATUS_OK)
		status = mapping_remember(session, options, &importing.mapping, "trees", why);
	if (status == STATUS_OK && !options->dry_run)
		status = store_act_commit(session->store, why);
	else if (store_in_act(session->store))
		store_act_rollback(session->store);
	mapping_close(&importing.mapping);
	return status;
}
