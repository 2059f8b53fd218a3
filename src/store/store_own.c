/* SPDX-License-Identifier: MIT */
/* What the grower set by hand: windows, rates, which published rule is followed. */
#include "place.h"
#include "rows.h"
#include "statements.h"

enum { WINDOW_ADD, WINDOW_LIST, RATE_ADD, RATE_LIST, CHOICE_ADD, CHOICE_LIST };

const struct statement own_statements[] = {
	[WINDOW_ADD] = {"own_window.add",
		"INSERT INTO own_window (id, made, tree_id, species, window, from_md, to_md) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"},
	[WINDOW_LIST] = {"own_window.list",
		"SELECT id, tree_id, species, window, from_md, to_md FROM own_window "
		"WHERE struck = 0 ORDER BY id"},
	[RATE_ADD] = {"own_rate.add",
		"INSERT INTO own_rate (id, made, tree_id, species, nitrogen_mg, per) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6)"},
	[RATE_LIST] = {"own_rate.list",
		"SELECT id, tree_id, species, nitrogen_mg, per FROM own_rate "
		"WHERE struck = 0 ORDER BY id"},
	[CHOICE_ADD] = {"choice.add",
		"INSERT INTO choice (id, made, rule, source) VALUES (?1, ?2, ?3, ?4)"},
	[CHOICE_LIST] = {"choice.list",
		"SELECT id, rule, source FROM choice WHERE struck = 0 ORDER BY id"},
	{NULL, NULL},
};

/* One of the two says what it is for. */
static enum status check_for(
	struct store *store, const char *tree_id, const char *species, struct fault *why)
{
	if ((tree_id[0] != '\0') == (species[0] != '\0'))
		return fault_set(why, STATUS_RANGE, "it is for one tree or for one kind");
	return tree_id[0] != '\0' ? row_must_stand(store, "tree", tree_id, why) : STATUS_OK;
}

enum status store_own_window_add(struct store *store, struct own_window *window, struct fault *why)
{
	char from[MONTH_DAY_SIZE];
	char to[MONTH_DAY_SIZE];
	enum status status = check_for(store, window->tree_id, window->species, why);
	if (status != STATUS_OK)
		return status;
	if (window->from.month == 0 || window->to.month == 0)
		return fault_set(why, STATUS_RANGE, "the window needs its first and its last day");
	struct row_fields fields = {.table = "own_window", .insert = &own_statements[WINDOW_ADD]};
	fields_add(&fields, "tree_id", value_text_or_null(window->tree_id));
	fields_add(&fields, "species", value_text(window->species));
	fields_add(&fields, "window", value_text(window->window));
	fields_add(&fields, "from_md", value_text(month_day_text(window->from, from)));
	fields_add(&fields, "to_md", value_text(month_day_text(window->to, to)));
	return row_insert(store, &fields, window->id, why);
}

static void read_window(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct own_window *window = out;
	column_copy(statement, 0, window->id, sizeof window->id);
	column_copy(statement, 1, window->tree_id, sizeof window->tree_id);
	column_copy(statement, 2, window->species, sizeof window->species);
	column_copy(statement, 3, window->window, sizeof window->window);
	window->from = column_month_day(statement, 4);
	window->to = column_month_day(statement, 5);
}

static const struct row_reader window_reader = {read_window, sizeof(struct own_window)};

enum status store_own_window_list(struct store *store, struct arena *arena, struct own_window **out,
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(
		store, &own_statements[WINDOW_LIST], &window_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}

enum status store_own_rate_add(struct store *store, struct own_rate *rate, struct fault *why)
{
	enum status status = check_for(store, rate->tree_id, rate->species, why);
	if (status != STATUS_OK)
		return status;
	struct row_fields fields = {.table = "own_rate", .insert = &own_statements[RATE_ADD]};
	fields_add(&fields, "tree_id", value_text_or_null(rate->tree_id));
	fields_add(&fields, "species", value_text(rate->species));
	fields_add(&fields, "nitrogen_mg", value_integer(rate->nitrogen_mg));
	fields_add(&fields, "per", value_text(rate->per));
	return row_insert(store, &fields, rate->id, why);
}

static void read_rate(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct own_rate *rate = out;
	column_copy(statement, 0, rate->id, sizeof rate->id);
	column_copy(statement, 1, rate->tree_id, sizeof rate->tree_id);
	column_copy(statement, 2, rate->species, sizeof rate->species);
	rate->nitrogen_mg = sqlite3_column_int64(statement, 3);
	column_copy(statement, 4, rate->per, sizeof rate->per);
}

static const struct row_reader rate_reader = {read_rate, sizeof(struct own_rate)};

enum status store_own_rate_list(struct store *store, struct arena *arena, struct own_rate **out,
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(
		store, &own_statements[RATE_LIST], &rate_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}

enum status store_choice_add(struct store *store, struct choice *choice, struct fault *why)
{
	struct row_fields fields = {.table = "choice", .insert = &own_statements[CHOICE_ADD]};
	fields_add(&fields, "rule", value_text(choice->rule));
	fields_add(&fields, "source", value_text(choice->source));
	return row_insert(store, &fields, choice->id, why);
}

static void read_choice(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct choice *choice = out;
	column_copy(statement, 0, choice->id, sizeof choice->id);
	column_copy(statement, 1, choice->rule, sizeof choice->rule);
	column_copy(statement, 2, choice->source, sizeof choice->source);
}

static const struct row_reader choice_reader = {read_choice, sizeof(struct choice)};

enum status store_choice_list(struct store *store, struct arena *arena, struct choice **out,
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(
		store, &own_statements[CHOICE_LIST], &choice_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}
