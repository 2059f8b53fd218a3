/* SPDX-License-Identifier: MIT */
/* Trees: made, changed, renamed, closed. Lists are in store_tree_list.c. */
#include "statements.h"
#include "tree_row.h"

#include <string.h>

#include "core/text.h"

enum { TREE_ADD, TREE_LOAD, TREE_TAKEN, TREE_GRAFTS, OLD_LABEL_ADD };

#define TREE_FIELDS                                                                             \
	"label, label_folded, label_sort, host_id, parent_id, how, batch, rootstock, planted, " \
	"planted_low, planted_high, gone, gone_low, gone_high, is_gone, gone_reason, "          \
	"target_height_um, hazard, over_fence, is_private, note"

/* The + keeps SQLite off the index by is_gone, which nearly every tree shares. */
const struct statement tree_statements[] = {
	[TREE_ADD] = {"tree.add",
		"INSERT INTO tree (id, made, " TREE_FIELDS
		") VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, "
		"?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22, ?23)"},
	[TREE_LOAD] = {"tree.load",
		"SELECT " TREE_COLUMNS " FROM tree t WHERE t.id = ?1 AND t.struck = 0"},
	[TREE_TAKEN] = {"tree.taken",
		"SELECT 1 FROM tree WHERE label_folded = ?1 AND struck = 0 AND +is_gone = 0 "
		"AND id <> ?2 LIMIT 1"},
	[TREE_GRAFTS] = {"tree.grafts",
		"SELECT " TREE_COLUMNS " FROM tree t WHERE t.host_id = ?1 AND t.struck = 0 "
		"AND +t.is_gone = 0 ORDER BY t.label_sort, t.id"},
	[OLD_LABEL_ADD] = {"old_label.add",
		"INSERT INTO old_label (id, made, tree_id, label, label_folded) "
		"VALUES (?1, ?2, ?3, ?4, ?5)"},
	{NULL, NULL},
};

static void read_tree(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct tree *tree = out;
	column_copy(statement, 0, tree->id, sizeof tree->id);
	column_copy(statement, 1, tree->label, sizeof tree->label);
	column_copy(statement, 2, tree->host_id, sizeof tree->host_id);
	column_copy(statement, 3, tree->parent_id, sizeof tree->parent_id);
	if (!origin_find(column_word(statement, 4), &tree->how))
		tree->how = ORIGIN_UNKNOWN;
	column_copy(statement, 5, tree->batch, sizeof tree->batch);
	column_copy(statement, 6, tree->rootstock, sizeof tree->rootstock);
	column_date_span(statement, 7, &tree->planted);
	column_date_span(statement, 10, &tree->gone);
	column_copy(statement, 13, tree->gone_reason, sizeof tree->gone_reason);
	tree->target_height_um = column_maybe_i64(statement, 14);
	column_copy(statement, 15, tree->hazard, sizeof tree->hazard);
	tree->over_fence = column_flag(statement, 16);
	tree->is_private = column_flag(statement, 17);
	column_copy(statement, 18, tree->note, sizeof tree->note);
	column_copy(statement, 19, tree->spot_id, sizeof tree->spot_id);
}

const struct row_reader tree_reader = {read_tree, sizeof(struct tree)};

enum status tree_label_is_free(
	struct store *store, const char *label, const char *id, struct fault *why)
{
	char folded[FOLDED_SIZE];
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(
		store, &tree_statements[TREE_TAKEN], name_fold(label, folded), &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, id);
	status = sql_step(store, statement, why);
	sql_done(statement);
	if (status == STATUS_OK)
		return fault_set(
			why, STATUS_CONFLICT, "a standing tree has the label %s already", label);
	return status == STATUS_END ? STATUS_OK : status;
}

/* The label as written, as searched and as sorted; in the order of TREE_FIELDS. */
struct label_forms {
	char folded[FOLDED_SIZE];
	char sort[SORT_SIZE];
};

static void label_fields(const char *label, struct label_forms *forms, struct row_fields *out)
{
	fields_add(out, "label", value_text(label));
	fields_add(out, "label_folded", value_text(name_fold(label, forms->folded)));
	fields_add(out, "label_sort", value_text(name_sort_key(forms->folded, forms->sort)));
}

static void gone_fields(const struct date_span *gone, const char *reason, struct row_fields *out)
{
	fields_add(out, "gone", value_text(gone->text));
	fields_add(out, "gone_low", value_maybe_date(gone->low));
	fields_add(out, "gone_high", value_maybe_date(gone->high));
	fields_add(out, "is_gone", value_integer(gone->text[0] != '\0'));
	fields_add(out, "gone_reason", value_text(reason));
}

/* In the order of TREE_FIELDS. */
static void tree_fields(const struct tree *tree, struct label_forms *forms, struct row_fields *out)
{
	out->table = "tree";
	out->insert = &tree_statements[TREE_ADD];
	label_fields(tree->label, forms, out);
	fields_add(out, "host_id", value_text_or_null(tree->host_id));
	fields_add(out, "parent_id", value_text_or_null(tree->parent_id));
	fields_add(out, "how", value_text(origin_key(tree->how)));
	fields_add(out, "batch", value_text(tree->batch));
	fields_add(out, "rootstock", value_text(tree->rootstock));
	fields_add(out, "planted", value_text(tree->planted.text));
	fields_add(out, "planted_low", value_maybe_date(tree->planted.low));
	fields_add(out, "planted_high", value_maybe_date(tree->planted.high));
	gone_fields(&tree->gone, tree->gone_reason, out);
	fields_add(out, "target_height_um", value_maybe_i64(tree->target_height_um));
	fields_add(out, "hazard", value_text(tree->hazard));
	fields_add(out, "over_fence", value_integer(tree->over_fence));
	fields_add(out, "is_private", value_integer(tree->is_private));
	fields_add(out, "note", value_text(tree->note));
}

/* A graft is named by the tree it stands on, whose trunk and roots it shares. */
static enum status check_host(struct store *store, const struct tree *tree, struct fault *why)
{
	struct tree host;
	if (tree->host_id[0] == '\0')
		return STATUS_OK;
	if (strcmp(tree->host_id, tree->id) == 0)
		return fault_set(why, STATUS_RANGE, "%s cannot be grafted on itself", tree->label);
	enum status status = store_tree_load(store, tree->host_id, &host, why);
	if (status != STATUS_OK)
		return status;
	if (host.host_id[0] != '\0')
		return fault_set(why, STATUS_RANGE,
			"%s is itself a graft; name the tree it stands on as the host", host.label);
	if (host.gone.text[0] != '\0' && tree->gone.text[0] == '\0')
		return fault_set(why, STATUS_RANGE, "%s, the host, is gone", host.label);
	return STATUS_OK;
}

/* Up the line from a new parent: the tree itself is not to be met there. A circle that merged
 * copies made elsewhere is left after so many steps. */
static enum status check_parent(struct store *store, const struct tree *tree, struct fault *why)
{
	struct tree at = {.id = ""};
	enum status status = row_must_stand(store, "tree", tree->parent_id, why);
	memcpy(at.parent_id, tree->parent_id, sizeof at.parent_id);
	for (int32_t steps = 0; status == STATUS_OK && at.parent_id[0] != '\0' &&
				tree->id[0] != '\0' && steps < TREES_MAX;
		steps++) {
		if (strcmp(at.parent_id, tree->id) == 0)
			return fault_set(why, STATUS_RANGE,
				steps == 0 ? "%s cannot come from itself"
					   : "%s cannot be its own ancestor: that parent comes "
					     "from it",
				tree->label);
		if (store_tree_load(store, at.parent_id, &at, NULL) != STATUS_OK)
			break;
	}
	return status;
}

static enum status tree_check(struct store *store, const struct tree *tree, struct fault *why)
{
	enum status status = text_within(tree->label, LABEL_CHARACTERS_MAX, true, "label", why);
	if (status == STATUS_OK && tree->gone.text[0] == '\0')
		status = tree_label_is_free(store, tree->label, tree->id, why);
	if (status == STATUS_OK)
		status = check_host(store, tree, why);
	if (status == STATUS_OK && tree->parent_id[0] != '\0')
		status = check_parent(store, tree, why);
	return status;
}

enum status store_tree_add(struct store *store, struct tree *tree, struct fault *why)
{
	struct label_forms forms;
	struct row_fields fields = {0};
	if (tree->spot_id[0] != '\0' && tree->host_id[0] != '\0')
		return fault_set(why, STATUS_RANGE,
			"%s is a graft: it stands where its host stands", tree->label);
	enum status status = tree_check(store, tree, why);
	if (status != STATUS_OK)
		return status;
	tree_fields(tree, &forms, &fields);
	status = row_insert(store, &fields, tree->id, why);
	if (status != STATUS_OK || tree->spot_id[0] == '\0')
		return status;
	status = tree_place_begin(store, tree->id, tree->spot_id, tree->planted.low, why);
	if (status == STATUS_OK && tree->gone.text[0] != '\0')
		status = tree_place_end(store, tree->id, date_span_first(&tree->gone), why);
	return status;
}

static enum status keep_old_label(struct store *store, const struct tree *tree, struct fault *why)
{
	char folded[FOLDED_SIZE];
	char id[ID_SIZE] = "";
	struct row_fields fields = {
		.table = "old_label", .insert = &tree_statements[OLD_LABEL_ADD]};
	fields_add(&fields, "tree_id", value_text(tree->id));
	fields_add(&fields, "label", value_text(tree->label));
	fields_add(&fields, "label_folded", value_text(name_fold(tree->label, folded)));
	return row_insert(store, &fields, id, why);
}

enum status store_tree_save(struct store *store, const struct tree *tree, struct fault *why)
{
	struct tree standing;
	struct label_forms forms;
	struct row_fields fields = {0};
	enum status status = store_tree_load(store, tree->id, &standing, why);
	if (status == STATUS_OK)
		status = tree_check(store, tree, why);
	if (status == STATUS_OK && !text_same(standing.label, tree->label))
		status = keep_old_label(store, &standing, why);
	if (status != STATUS_OK)
		return status;
	tree_fields(tree, &forms, &fields);
	return row_save(store, &fields, tree->id, why);
}

enum status store_tree_rename(
	struct store *store, const char *id, const char *label, struct fault *why)
{
	struct tree tree;
	enum status status = store_tree_load(store, id, &tree, why);
	if (status != STATUS_OK)
		return status;
	status = text_within(label, LABEL_CHARACTERS_MAX, true, "label", why);
	if (status != STATUS_OK)
		return status;
	text_copy(tree.label, sizeof tree.label, label);
	return store_tree_save(store, &tree, why);
}

static enum status close_one(struct store *store, const char *id, const struct date_span *day,
	const char *reason, struct fault *why)
{
	struct row_fields fields = {.table = "tree"};
	gone_fields(day, reason, &fields);
	enum status status = row_save(store, &fields, id, why);
	return status == STATUS_OK ? tree_place_end(store, id, date_span_first(day), why) : status;
}

enum status store_tree_close(struct store *store, const char *id, const struct date_span *day,
	const char *reason, struct fault *why)
{
	struct tree tree;
	if (day->text[0] == '\0')
		return fault_set(why, STATUS_RANGE, "the day on which the tree went is needed");
	enum status status = store_tree_load(store, id, &tree, why);
	if (status == STATUS_OK)
		status = text_within(reason, TEXT_SIZE - 1, false, "reason", why);
	if (status != STATUS_OK)
		return status;
	if (tree.gone.text[0] != '\0')
		return fault_set(
			why, STATUS_CONFLICT, "%s is gone since %s", tree.label, tree.gone.text);
	struct arena *arena = arena_new();
	void *items = NULL;
	int32_t count = 0;
	sqlite3_stmt *statement = NULL;
	status = rows_for(store, &tree_statements[TREE_GRAFTS], id, &statement, why);
	if (status == STATUS_OK)
		status = rows_list(store, statement, &tree_reader, arena, &items, &count, why);
	const struct tree *grafts = items;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = close_one(store, grafts[i].id, day, reason, why);
	if (status == STATUS_OK)
		status = close_one(store, id, day, reason, why);
	arena_free(arena);
	return status;
}

enum status store_tree_load(
	struct store *store, const char *id, struct tree *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(store, &tree_statements[TREE_LOAD], id, &statement, why);
	if (status == STATUS_OK)
		status = rows_one(store, statement, &tree_reader, NULL, out, why);
	if (status == STATUS_ABSENT)
		return fault_set(why, status, "the tree is not in the log, or was taken back");
	return status;
}
