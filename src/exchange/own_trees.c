/* SPDX-License-Identifier: MIT */
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "tree_cells.h"

/* A host or a parent may stand further down in the file. */
struct relation {
	struct relation *next;
	char id[ID_SIZE];
	const char *host; /* "" none */
	const char *parent;
	int32_t line;
};

struct own_trees {
	int32_t columns[TREE_CELLS];
	struct relation *relations;
};

bool own_trees_is(const struct intake *intake)
{
	bool is_own = intake->options->columns == NULL && intake->options->layout == NULL;

	for (int i = 0; i < TREE_CELLS; i++)
		is_own = is_own && csv_find(&intake->mapping.heading, tree_cell_names[i]) >= 0;
	return is_own;
}

static const char *cell(struct intake *intake, const struct csv_row *row, enum tree_cell name)
{
	const struct own_trees *own = intake->import;

	return intake_cell(intake, row, own->columns[name]);
}

/* --- trees that the log has --- */

static enum status read_span(struct intake *intake, const struct csv_row *row, enum tree_cell name,
	struct date_span *out, struct fault *why)
{
	const char *text = cell(intake, row, name);

	*out = (struct date_span){0};
	return text[0] == '\0' ? STATUS_OK
			       : date_span_parse(text, intake->context.hemisphere, out, why);
}

/* By its id; else the one that stands, or is gone, under that label with those years. */
static enum status find_tree(
	struct intake *intake, const struct csv_row *row, struct tree *out, struct fault *why)
{
	struct store *store = intake->session->store;
	struct tree told = {0};
	char title[TREE_TITLE_SIZE], id[ID_SIZE];
	const char *given = cell(intake, row, CELL_ID);

	if (given[0] != '\0' && store_tree_load(store, given, out, NULL) == STATUS_OK)
		return STATUS_OK;
	enum status status = read_span(intake, row, CELL_PLANTED, &told.planted, why);
	if (status == STATUS_OK)
		status = read_span(intake, row, CELL_GONE, &told.gone, why);
	if (status != STATUS_OK)
		return status;
	if (!text_copy(told.label, sizeof told.label, cell(intake, row, CELL_TREE)))
		return fault_set(why, STATUS_RANGE, "the label is too long");
	status = intake_titled(intake, store_tree_title(&told, title), id);
	if (status == STATUS_OK)
		status = store_tree_load(store, id, out, why);
	bool is_it =
		status == STATUS_OK && (out->gone.text[0] == '\0') == (told.gone.text[0] == '\0');
	return is_it || status != STATUS_OK ? status : STATUS_ABSENT;
}

static enum status compare(struct intake *intake, const struct csv_row *row,
	const struct tree *tree, struct fault *why)
{
	const char *cells[TREE_CELLS];
	enum status status = tree_cells_read(intake->session, tree, intake->row_arena, cells, why);

	for (int i = 0; i < TREE_CELLS && status == STATUS_OK; i++) {
		const char *told = cell(intake, row, (enum tree_cell)i);
		size_t length;
		const char *standing = text_trim(cells[i], &length);

		if (i != CELL_ID &&
			(strlen(told) != length || strncmp(told, standing, length) != 0))
			status = fault_set(why, STATUS_CONFLICT,
				"'%.80s' in the log, '%.80s' here: mend the one that is wrong",
				cells[i], told);
	}
	if (status == STATUS_OK)
		intake->account->same++;
	return status;
}

/* --- trees that it lacks --- */

static enum status no_word(const char *text, struct fault *why)
{
	return fault_set(why, STATUS_SYNTAX, "'%.40s' is no word for it", text);
}

static enum status read_number(struct intake *intake, const struct csv_row *row,
	enum tree_cell name, struct maybe_i64 *out, struct fault *why)
{
	const char *text = cell(intake, row, name);
	char *end;

	*out = (struct maybe_i64){.known = text[0] != '\0', .value = strtoll(text, &end, 10)};
	if (*end == '\0' && llabs(out->value) <= INT64_C(1000000000000))
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX, "'%.40s' is no whole number of micrometres", text);
}

static enum status read_texts(
	struct intake *intake, const struct csv_row *row, struct new_tree *out, struct fault *why)
{
	struct tree *tree = &out->tree;
	const struct {
		enum tree_cell name;
		char *out;
		size_t size;
	} cells[] = {
		{CELL_TREE, tree->label, sizeof tree->label},
		{CELL_SPECIES, out->species, sizeof out->species},
		{CELL_CULTIVAR, out->cultivar, sizeof out->cultivar},
		{CELL_SPOT, out->spot, sizeof out->spot},
		{CELL_BATCH, tree->batch, sizeof tree->batch},
		{CELL_ROOTSTOCK, tree->rootstock, sizeof tree->rootstock},
		{CELL_HAZARD, tree->hazard, sizeof tree->hazard},
		{CELL_NOTE, tree->note, sizeof tree->note},
		{CELL_GONE_REASON, tree->gone_reason, sizeof tree->gone_reason},
	};

	for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
		if (!text_copy(cells[i].out, cells[i].size, cell(intake, row, cells[i].name)))
			return fault_set(why, STATUS_RANGE, "it is too long");
	if (cell(intake, row, CELL_HOST)[0] != '\0')
		out->spot[0] = '\0'; /* a graft is where its host is */
	return STATUS_OK;
}

/* "unknown" is how it is shown that nothing is known. */
static enum status read_sure(
	struct intake *intake, const struct csv_row *row, struct new_tree *out, struct fault *why)
{
	const char *sure = cell(intake, row, CELL_SPECIES_SURE);

	if (!sure_find(sure, &out->sure))
		return no_word(sure, why);
	out->cultivar_sure_given = out->cultivar[0] != '\0';
	sure = cell(intake, row, CELL_CULTIVAR_SURE);
	if (out->cultivar_sure_given && !sure_find(sure, &out->cultivar_sure))
		return no_word(sure, why);
	if (out->sure == SURE_UNKNOWN)
		out->species[0] = '\0';
	out->sure_given = out->species[0] != '\0';
	return STATUS_OK;
}

static enum status read_tree(
	struct intake *intake, const struct csv_row *row, struct new_tree *out, struct fault *why)
{
	enum status status = read_texts(intake, row, out, why);

	if (status == STATUS_OK)
		status = read_sure(intake, row, out, why);
	if (status == STATUS_OK && !origin_find(cell(intake, row, CELL_HOW), &out->tree.how))
		status = no_word(cell(intake, row, CELL_HOW), why);
	if (status == STATUS_OK)
		status = read_span(intake, row, CELL_PLANTED, &out->tree.planted, why);
	if (status == STATUS_OK)
		status = read_number(
			intake, row, CELL_TARGET_HEIGHT, &out->tree.target_height_um, why);
	if (status == STATUS_OK && out->spot[0] != '\0')
		status = read_number(intake, row, CELL_EAST, &out->east_um, why);
	if (status == STATUS_OK && out->spot[0] != '\0')
		status = read_number(intake, row, CELL_NORTH, &out->north_um, why);
	if (status != STATUS_OK)
		return status;
	out->tree.over_fence = strcmp(cell(intake, row, CELL_OVER_FENCE), "1") == 0;
	out->tree.is_private = strcmp(cell(intake, row, CELL_PRIVATE), "1") == 0;
	(void)cell(intake, row, CELL_TREE); /* what is refused from now on is its label */
	return STATUS_OK;
}

static enum status put_in_area(
	struct intake *intake, const char *spot_name, const char *name, struct fault *why)
{
	struct store *store = intake->session->store;
	struct area area;
	struct spot spot;
	enum status status = store_spot_find(store, spot_name, &spot, why);

	if (status != STATUS_OK || spot.area_id[0] != '\0')
		return status;
	status = store_area_find(store, name, &area, why);
	if (status == STATUS_ABSENT) {
		area = (struct area){.id = ""};
		if (!text_copy(area.name, sizeof area.name, name))
			return fault_set(why, STATUS_RANGE, "the area's name is too long");
		status = store_area_add(store, &area, why);
	}
	if (status != STATUS_OK)
		return status;
	memcpy(spot.area_id, area.id, ID_SIZE);
	return store_spot_save(store, &spot, why);
}

static void keep_relation(struct intake *intake, const struct csv_row *row, const char *id)
{
	struct own_trees *own = intake->import;
	const char *host = cell(intake, row, CELL_HOST);
	const char *parent = cell(intake, row, CELL_PARENT);

	if (host[0] == '\0' && parent[0] == '\0')
		return;
	struct relation *relation = arena_alloc(intake->arena, sizeof *relation);
	*relation = (struct relation){.next = own->relations,
		.host = arena_text(intake->arena, host),
		.parent = arena_text(intake->arena, parent),
		.line = row->line};
	memcpy(relation->id, id, ID_SIZE);
	own->relations = relation;
}

static enum status take_fresh(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	struct new_tree fresh = {0};
	char asked[TEXT_SIZE] = "", reason[TEXT_SIZE], id[ID_SIZE];
	struct date_span gone;
	enum status status = read_tree(intake, row, &fresh, why);

	memcpy(reason, fresh.tree.gone_reason, sizeof reason);
	fresh.tree.gone_reason[0] = '\0';
	if (status == STATUS_OK)
		status = work_tree_add_in_act(intake->session->yard, &fresh, asked, id, why);
	if (status == STATUS_OK && fresh.spot[0] != '\0' && cell(intake, row, CELL_AREA)[0] != '\0')
		status = put_in_area(intake, fresh.spot, cell(intake, row, CELL_AREA), why);
	if (status == STATUS_OK)
		status = read_span(intake, row, CELL_GONE, &gone, why);
	if (status == STATUS_OK && gone.text[0] != '\0')
		status = store_tree_close(intake->session->store, id, &gone, reason, why);
	if (status != STATUS_OK)
		return status;
	keep_relation(intake, row, id);
	intake_fresh(intake, row, fresh.tree.label);
	return STATUS_OK;
}

static enum status take_row(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	struct tree tree;
	enum status status = find_tree(intake, row, &tree, why);

	if (status == STATUS_OK)
		return compare(intake, row, &tree, why);
	return status == STATUS_ABSENT ? take_fresh(intake, row, why) : status;
}

/* --- hosts and parents, once all are in --- */

static enum status find_related(struct intake *intake, const char *what, const char *title,
	char id[ID_SIZE], struct fault *why)
{
	if (title[0] == '\0' || intake_titled(intake, title, id) == STATUS_OK)
		return STATUS_OK;
	return fault_set(why, STATUS_ABSENT, "its %s '%s' is neither in the file nor in the log",
		what, title);
}

static enum status relate(struct intake *intake, const struct relation *relation, struct fault *why)
{
	struct yard *yard = intake->session->yard;
	struct tree tree;
	enum status status = store_tree_load(yard_store(yard), relation->id, &tree, why);

	if (status == STATUS_OK)
		status = find_related(intake, "host", relation->host, tree.host_id, why);
	if (status == STATUS_OK)
		status = find_related(intake, "parent", relation->parent, tree.parent_id, why);
	if (status == STATUS_OK)
		status = store_tree_save(yard_store(yard), &tree, why);
	if (status == STATUS_OK)
		status = yard_put_turns(yard_store(yard), yard_almanac(yard), tree.id, why);
	return status;
}

static enum status relate_all(struct intake *intake, struct fault *why)
{
	const struct own_trees *own = intake->import;
	enum status status = STATUS_OK;

	for (const struct relation *one = own->relations; one != NULL && status == STATUS_OK;
		one = one->next) {
		status = relate(intake, one, why);
		if (status != STATUS_OK)
			fault_prefix(why, "line %d: ", (int)one->line);
	}
	return status;
}

enum status own_trees_take(struct intake *intake, struct fault *why)
{
	struct own_trees own = {.relations = NULL};

	for (int i = 0; i < TREE_CELLS; i++)
		own.columns[i] = csv_find(&intake->mapping.heading, tree_cell_names[i]);
	intake->import = &own;
	enum status status = intake_begin(intake, "import trees", why);
	if (status == STATUS_OK)
		status = intake_rows(intake, take_row, why);
	if (status == STATUS_OK)
		status = relate_all(intake, why);
	intake->import = NULL;
	return status;
}
