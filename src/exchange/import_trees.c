/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "intake.h"
#include "tree_cells.h"

enum { LABEL, SPECIES, CULTIVAR, PLANTED, SPOT, EAST, NORTH, ROOTSTOCK, NOTE, HAZARD };
static const char *const names[] = {"label", "species", "cultivar", "planted", "spot", "east",
	"north", "rootstock", "note", "hazard", NULL};

struct importing {
	struct intake intake;
	struct seen_tree *seen; /* trees of this file, by a hash of the folded label */
	int32_t seen_size;
	int32_t seen_count;
};

/* A tree of the file: what a second row with its label must agree with. */
struct seen_tree {
	const char *label; /* NULL: free */
	const char *facts;
	int32_t line;
};

enum { SEEN_FIRST = 256 };

static uint32_t hash_text(const char *text)
{
	uint32_t hash = 2166136261U; /* FNV-1a */

	for (; *text != '\0'; text++)
		hash = (hash ^ (unsigned char)*text) * 16777619U;
	return hash;
}

static struct seen_tree *seen_at(const struct importing *importing, const char *folded)
{
	uint32_t place = hash_text(folded) % (uint32_t)importing->seen_size;

	while (importing->seen[place].label != NULL &&
		strcmp(importing->seen[place].label, folded) != 0)
		place = (place + 1) % (uint32_t)importing->seen_size;
	return &importing->seen[place];
}

static void seen_grow(struct importing *importing)
{
	struct seen_tree *old = importing->seen;
	int32_t old_size = importing->seen_size;

	importing->seen_size = old_size == 0 ? SEEN_FIRST : old_size * 2;
	importing->seen = arena_array(
		importing->intake.arena, (size_t)importing->seen_size, sizeof importing->seen[0]);
	for (int32_t i = 0; i < old_size; i++)
		if (old[i].label != NULL)
			*seen_at(importing, old[i].label) = old[i];
}

static const char *facts_of(struct importing *importing, const struct csv_row *row)
{
	struct text_builder facts = text_builder_in(importing->intake.arena);

	text_add(&facts, "");
	for (int32_t i = SPECIES; names[i] != NULL; i++)
		text_add_format(&facts, "%s\x1f", mapping_text(&importing->intake.mapping, row, i));
	return facts.text;
}

static enum status read_length(struct intake *intake, const struct csv_row *row, int32_t name,
	struct maybe_i64 *out, struct fault *why)
{
	const char *text = intake_text(intake, row, name);
	const char *unit = intake->length_unit;
	bool minus = text[0] == '-';
	bool bare = text[strspn(text, "-0123456789.,")] == '\0';

	if (intake_is_blank(intake, text))
		return STATUS_OK;
	if (unit == NULL && bare)
		return fault_set(why, STATUS_DOUBT, "%s %s of what? say --length-unit ft or m",
			names[name], text);
	const char *with_unit = arena_format(intake->row_arena, "%s%s%s", text + (minus ? 1 : 0),
		bare ? " " : "", bare ? unit : "");
	enum status status = length_parse(with_unit, &intake->context.numbers, &out->value, why);
	if (status != STATUS_OK)
		return status;
	out->known = true;
	out->value = minus ? -out->value : out->value;
	return STATUS_OK;
}

static enum status copy_cell(struct intake *intake, const struct csv_row *row, int32_t name,
	char *out, size_t size, struct fault *why)
{
	if (!text_copy(out, size, intake_text(intake, row, name)))
		return fault_set(why, STATUS_RANGE, "%s is too long", names[name]);
	return STATUS_OK;
}

static enum status read_texts(
	struct intake *intake, const struct csv_row *row, struct new_tree *out, struct fault *why)
{
	struct tree *tree = &out->tree;
	const struct {
		int32_t name;
		char *out;
		size_t size;
	} cells[] = {
		{SPECIES, out->species, sizeof out->species},
		{CULTIVAR, out->cultivar, sizeof out->cultivar},
		{SPOT, out->spot, sizeof out->spot},
		{ROOTSTOCK, tree->rootstock, sizeof tree->rootstock},
		{NOTE, tree->note, sizeof tree->note},
		{HAZARD, tree->hazard, sizeof tree->hazard},
	};
	enum status status = STATUS_OK;

	for (size_t i = 0; status == STATUS_OK && i < sizeof cells / sizeof cells[0]; i++)
		status = copy_cell(intake, row, cells[i].name, cells[i].out, cells[i].size, why);
	if (out->species[0] == '\0' && intake->species != NULL)
		text_copy(out->species, sizeof out->species, intake->species);
	return status;
}

static enum status read_row(
	struct intake *intake, const struct csv_row *row, struct new_tree *out, struct fault *why)
{
	enum status status = read_texts(intake, row, out, why);
	const char *planted = intake_text(intake, row, PLANTED);

	if (status == STATUS_OK && !intake_is_blank(intake, planted))
		status = planting_read(planted, &intake->context, &out->tree.planted, why);
	if (status == STATUS_OK)
		status = read_length(intake, row, EAST, &out->east_um, why);
	if (status == STATUS_OK)
		status = read_length(intake, row, NORTH, &out->north_um, why);
	if (status != STATUS_OK)
		return status;
	status = copy_cell(intake, row, LABEL, out->tree.label, sizeof out->tree.label, why);
	return status == STATUS_OK ? label_check(out->tree.label, why) : status;
}

/* A label that came before in this file: one tree when the facts agree, else both are named. */
static enum status check_repeat(struct importing *importing, const struct csv_row *row,
	const char *folded, bool *repeated, struct fault *why)
{
	if (importing->seen_count * 2 >= importing->seen_size)
		seen_grow(importing);
	struct seen_tree *seen = seen_at(importing, folded);
	const char *facts = facts_of(importing, row);

	*repeated = seen->label != NULL;
	if (!*repeated) {
		*seen = (struct seen_tree){
			arena_text(importing->intake.arena, folded), facts, row->line};
		importing->seen_count++;
		return STATUS_OK;
	}
	if (strcmp(seen->facts, facts) == 0)
		return STATUS_OK;
	return fault_set(why, STATUS_CONFLICT, "label '%s' stands on line %d with other facts",
		mapping_text(&importing->intake.mapping, row, LABEL), seen->line);
}

/* A tree of that label stands in the log. */
static enum status take_known(struct intake *intake, const struct csv_row *row,
	const struct tree *tree, const struct new_tree *told, struct fault *why)
{
	char filled[TEXT_SIZE] = "";
	enum status status =
		work_tree_fill_in_act(intake->session->yard, tree->id, told, filled, why);

	if (status != STATUS_OK)
		return status;
	if (filled[0] == '\0')
		intake->account->same++;
	else
		intake_changed(intake, row,
			arena_format(intake->row_arena, "%s: %s", tree->label, filled));
	return STATUS_OK;
}

static const char *said_of(struct intake *intake, const struct new_tree *fresh)
{
	return arena_format(intake->row_arena, "%s%s%s%s%s%s%s", fresh->tree.label,
		fresh->species[0] != '\0' ? ", " : "", fresh->species,
		fresh->cultivar[0] != '\0' ? ", " : "", fresh->cultivar,
		fresh->tree.planted.text[0] != '\0' ? ", planted " : "", fresh->tree.planted.text);
}

static enum status take_fresh(struct intake *intake, const struct csv_row *row,
	const struct new_tree *fresh, struct fault *why)
{
	char asked[TEXT_SIZE] = "", id[ID_SIZE];
	enum status status = work_tree_add_in_act(intake->session->yard, fresh, asked, id, why);

	if (status != STATUS_OK)
		return status;
	intake_fresh(intake, row, said_of(intake, fresh));
	if (asked[0] != '\0')
		account_say(intake->account, intake->arena, "line %d: %s", row->line, asked);
	return STATUS_OK;
}

static enum status take_row(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	struct new_tree told = {0};
	struct tree tree;
	char folded[LABEL_SIZE * 3];
	bool repeated = false;
	enum status status = read_row(intake, row, &told, why);

	if (status == STATUS_OK) {
		text_fold(told.tree.label, folded, sizeof folded);
		status = check_repeat(intake->import, row, folded, &repeated, why);
	}
	if (status != STATUS_OK || repeated)
		return status;
	status = store_tree_find(intake->session->store, told.tree.label, &tree, why);
	if (status == STATUS_OK && tree.gone.text[0] == '\0')
		return take_known(intake, row, &tree, &told, why);
	if (status != STATUS_OK && status != STATUS_ABSENT)
		return status;
	return take_fresh(intake, row, &told, why);
}

enum status import_trees(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why)
{
	struct importing importing = {
		.intake = {.session = session,
			.options = options,
			.arena = arena,
			.account = account,
			.what = "trees",
			.names = names},
	};
	struct intake *intake = &importing.intake;
	enum status status = intake_open(intake, why);

	if (status == STATUS_OK && own_trees_is(intake))
		return intake_close(intake, own_trees_take(intake, why), why);
	intake->import = &importing;
	if (status == STATUS_OK && !mapping_has(&intake->mapping, LABEL))
		status = fault_set(why, STATUS_SYNTAX,
			"which column holds the label? --columns label=COLUMN,...");
	if (status == STATUS_OK)
		status = intake_begin(intake, "import trees", why);
	if (status == STATUS_OK)
		status = intake_rows(intake, take_row, why);
	return intake_close(intake, status, why);
}
