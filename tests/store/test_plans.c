/* SPDX-License-Identifier: MIT */
/* How SQLite means to run each statement: what asks for one tree, one entry, one day or one name
 * goes along an index, so that it costs the same in a yard of ten trees and of ten thousand. */
#include "support/test.h"

#include "support/log.h"

#include "store/statements.h"

#include <string.h>

/* Statements that read a whole table on purpose: lists of all there is, and walks from the newest
 * row that stop at the first that fits. */
static const char *const whole[] = {"answer.list", "area.list", "area.used", "choice.list",
	"container.list", "container_weight.list", "history.last", "history.sets", "identity.all",
	"kept.good", "kept.missing", "kept.trees", "layout.find", "layout.names", "obstacle.list",
	"own_rate.list", "own_window.list", "product.list", "route.list", "settle.fields_of_other",
	"spot.list", "spot.picked", "standing.identities", "standing.labels", "tree.count_all",
	"tree.list_all", "undo.redo_target", "undo.target"};

/* The largest table is read whole by these alone, and why. */
static const struct entry_scan {
	const char *name;
	const char *reason;
} entry_scans[] = {
	{"entry.all_newest", "the newest lines of the log: as many as are asked for"},
	{"entry.all_oldest", "what goes out whole: exports, and lists that were asked for whole"},
	{"entry.first_pick", "along the days up to the first pick, which comes early"},
};

/* What is scanned without a table behind it: a list of ids given along, a subquery's few rows, the
 * hits of the word search, the one row of the place, the few clashes that wait. */
static const char *const harmless[] = {"SCAN j VIRTUAL TABLE", "SCAN CONSTANT ROW",
	"SCAN (subquery", "SCAN w VIRTUAL TABLE INDEX 0:M",
	"SCAN word_index VIRTUAL TABLE INDEX 0:M",
	"SCAN word_index VIRTUAL TABLE INDEX 0:=", "SCAN w VIRTUAL TABLE INDEX 0:=", "SCAN place",
	"SCAN clash", "SCAN first_change", "SCAN touched"};

static bool is_in(const char *word, const char *const *list, size_t count, bool whole_word)
{
	for (size_t i = 0; i < count; i++) {
		if (whole_word ? strcmp(list[i], word) == 0
			       : strncmp(list[i], word, strlen(list[i])) == 0)
			return true;
	}
	return false;
}

static bool may_scan_entries(const char *name)
{
	for (size_t i = 0; i < sizeof entry_scans / sizeof entry_scans[0]; i++)
		if (strcmp(entry_scans[i].name, name) == 0)
			return entry_scans[i].reason[0] != '\0';
	return false;
}

/* The first step of the plan that reads a whole table; "" when none does. Asked of a plain
 * connection, because ours may not look at views. */
static void first_scan(sqlite3 *database, const char *sql, char *out, size_t size)
{
	char question[8192];
	sqlite3_stmt *plan = NULL;
	out[0] = '\0';
	(void)snprintf(question, sizeof question, "EXPLAIN QUERY PLAN %s", sql);
	check_int(sqlite3_prepare_v2(database, question, -1, &plan, NULL), SQLITE_OK, sql);
	while (out[0] == '\0' && sqlite3_step(plan) == SQLITE_ROW) {
		const char *step = (const char *)sqlite3_column_text(plan, 3);
		if (strncmp(step, "SCAN", 4) == 0 &&
			!is_in(step, harmless, sizeof harmless / sizeof harmless[0], false))
			(void)snprintf(out, size, "%s", step);
	}
	sqlite3_finalize(plan);
}

static sqlite3 *make_plain(struct log *yard)
{
	sqlite3 *database = NULL;
	log_make(yard);
	check_int(sqlite3_open_v2(yard->path, &database, SQLITE_OPEN_READONLY, NULL), SQLITE_OK,
		"open");
	return database;
}

static void only_lists_of_everything_read_whole_tables(void **state)
{
	(void)state;
	struct log yard;
	char scan[256];
	int wrong = 0;
	sqlite3 *database = make_plain(&yard);
	for (const struct statement *const *table = store_statement_tables(); *table != NULL;
		table++) {
		for (const struct statement *row = *table; row->name != NULL; row++) {
			first_scan(database, row->sql, scan, sizeof scan);
			if (scan[0] == '\0' || may_scan_entries(row->name) ||
				is_in(row->name, whole, sizeof whole / sizeof whole[0], true))
				continue;
			print_message("%s: %s\n", row->name, scan);
			wrong++;
		}
	}
	check_int(wrong, 0, "statements that read a whole table");
	sqlite3_close(database);
	log_free(&yard);
}

static void this_test_sees_a_scan(void **state)
{
	(void)state;
	struct log yard;
	char scan[256];
	sqlite3 *database = make_plain(&yard);
	first_scan(database, "SELECT id FROM entry WHERE words = ?1", scan, sizeof scan);
	check_text(scan, "SCAN entry", "a column without an index");
	first_scan(database, "SELECT id FROM tree t WHERE lower(t.label_folded) = ?1", scan,
		sizeof scan);
	check_text(scan, "SCAN t", "an index that cannot be used");
	sqlite3_close(database);
	log_free(&yard);
}

/* An index is of no use when nearly every row has the value looked for. */
static const struct index_case {
	const char *name; /* of the statement */
	const char *index;
} index_cases[] = {
	{"name.standing", "tree_label"},
	{"name.last_borne", "tree_label"},
	{"name.short", "tree_label"},
	{"tree.taken", "tree_label"},
	{"tree.grafts", "tree_host"},
	{"tree.list_host", "tree_host"},
	{"tree.list_spot", "tree_spot_spot"},
	{"tree.list_standing", "tree_sort"},
	{"entry.subject_newest", "entry_subject"},
	{"entry.subject_oldest", "entry_subject"},
	{"entry.batch_oldest", "entry_batch"},
	{"entry.days_newest", "entry_day"},
	{"entry.kind_oldest", "entry_kind"},
	{"kept.spot", "tree_spot_spot"},
	{"kept.find", "sqlite_autoindex_kept_flag_1"},
	{"amount.list", "amount_entry"},
	{"detail.list", "detail_entry"},
	{"measure.list", "measure_entry"},
	{"identity.of_tree", "identity_tree"},
	{"spot.find", "spot_name"},
	{"weather_day.find", "weather_day_day"},
	{"weather_hour.find", "weather_hour_day"},
};

static const struct statement *statement_called(const char *name)
{
	const struct statement *const *table = store_statement_tables();
	for (; *table != NULL; table++) {
		for (const struct statement *row = *table; row->name != NULL; row++) {
			if (strcmp(row->name, name) == 0)
				return row;
		}
	}
	fail_msg("there is no statement %s", name);
	return NULL;
}

static void statement_uses_its_index(const void *one)
{
	const struct index_case *test = one;
	struct log yard;
	char want[64];
	char question[8192];
	bool found = false;
	sqlite3_stmt *plan = NULL;
	sqlite3 *database = make_plain(&yard);
	(void)snprintf(want, sizeof want, "INDEX %s (", test->index);
	(void)snprintf(question, sizeof question, "EXPLAIN QUERY PLAN %s",
		statement_called(test->name)->sql);
	check_int(sqlite3_prepare_v2(database, question, -1, &plan, NULL), SQLITE_OK, test->name);
	while (sqlite3_step(plan) == SQLITE_ROW)
		found = found || strstr((const char *)sqlite3_column_text(plan, 3), want) != NULL;
	sqlite3_finalize(plan);
	if (!found)
		fail_msg("%s does not use the index %s", test->name, test->index);
	sqlite3_close(database);
	log_free(&yard);
}

static const struct view_case {
	const char *name;
	const char *sql;
} view_cases[] = {
	{"yield_of_one_tree", "SELECT * FROM yield_by_season WHERE subject_id = ?1"},
	{"picks_of_one_tree", "SELECT * FROM pick_season WHERE subject_id = ?1"},
	{"one_entry", "SELECT * FROM entry_plain WHERE entry_id = ?1"},
	{"one_tree", "SELECT * FROM tree_now WHERE tree_id = ?1"},
};

static void view_of_one_thing_reads_no_whole_table(const void *one)
{
	const struct view_case *test = one;
	struct log yard;
	char scan[256];
	sqlite3 *database = make_plain(&yard);
	first_scan(database, test->sql, scan, sizeof scan);
	if (strcmp(scan, "SCAN yield_by_season") == 0)
		scan[0] = '\0'; /* the few rows that the view worked out for the one tree */
	check_text(scan, "", "scan");
	sqlite3_close(database);
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(only_lists_of_everything_read_whole_tables),
		cmocka_unit_test(this_test_sees_a_scan),
	};
	const int failed = cmocka_run_group_tests_name("plans", tests, NULL, NULL) +
			   RUN_CASES("indexes", index_cases, statement_uses_its_index) +
			   RUN_CASES("views", view_cases, view_of_one_thing_reads_no_whole_table);
	return failed != 0;
}
