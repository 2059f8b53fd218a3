/* SPDX-License-Identifier: MIT */
/* The views that outside readers point at: read by the stock sqlite3 shell, and by a connection of
 * ours with the schema distrusted. */
#include "support/test.h"

#include "support/yard.h"

#include <string.h>

#include "core/text.h"

struct view_yard {
	struct log yard;
	struct arena *arena;
};

static void add_entry(struct view_yard *made, struct entry entry, const char *subject_id)
{
	struct fault why;
	if (entry.words == NULL)
		entry.words = "said";
	entry.note = "";
	(void)snprintf(entry.subject.id, sizeof entry.subject.id, "%s", subject_id);
	check_ok(store_entry_add(made->yard.store, &entry, &why), &why);
}

static void add_crop(struct view_yard *made, const char *tree_id, enum entry_kind kind,
	const char *day, const struct amount *weight)
{
	const struct entry entry = {.subject = {.kind = SUBJECT_TREE},
		.kind = kind,
		.day = yard_span(day),
		.amounts = weight,
		.amount_count = weight == NULL ? 0 : 1};
	add_entry(made, entry, tree_id);
}

static void add_opinion(struct view_yard *made, const char *tree_id, const char *name,
	bool is_cultivar, enum sure sure)
{
	struct fault why;
	struct identity identity = {.is_cultivar = is_cultivar, .sure = sure};
	(void)snprintf(identity.tree_id, sizeof identity.tree_id, "%s", tree_id);
	(void)snprintf(identity.name, sizeof identity.name, "%s", name);
	check_ok(store_identity_add(made->yard.store, &identity, &why), &why);
}

static void add_trees(
	struct view_yard *made, const char **navel, const char **peach, const char **spot_id)
{
	struct fault why;
	struct spot spot = {.name = "by the gate"};
	(void)snprintf(spot.area_id, sizeof spot.area_id, "%s",
		yard_area(&made->yard, made->arena, "top"));
	check_ok(store_spot_add(made->yard.store, &spot, &why), &why);
	*spot_id = arena_text(made->arena, spot.id);
	*navel = yard_tree(&made->yard, made->arena, "navel", spot.id);
	*peach = yard_tree(&made->yard, made->arena, "peach", "");
	yard_graft(&made->yard, made->arena, "navel red", *navel);
	const char *gone = yard_tree(&made->yard, made->arena, "old", spot.id);
	const struct date_span day = yard_span("2019-03");
	check_ok(store_tree_close(made->yard.store, gone, &day, "frost", &why), &why);
	add_opinion(made, *navel, "lemon", false, SURE_SUSPECTED);
	add_opinion(made, *navel, "orange", false, SURE_CERTAIN);
	add_opinion(made, *navel, "Washington", true, SURE_SUSPECTED);
	/* a navel's harvest crosses New Year; that of a peach here follows its turn in the next
	 * calendar year */
	const struct season_turn turns[] = {
		{.subject = {.kind = SUBJECT_TREE}, .turn = {8, 15}, .crosses = true},
		{.subject = {.kind = SUBJECT_TREE}, .turn = {11, 20}, .years_add = true},
	};
	for (int i = 0; i < 2; i++) {
		struct season_turn turn = turns[i];
		(void)snprintf(
			turn.subject.id, sizeof turn.subject.id, "%s", i == 0 ? *navel : *peach);
		check_ok(store_season_turn_put(made->yard.store, &turn, 1, &why), &why);
	}
}

static void make_yard(struct view_yard *made)
{
	const char *navel = NULL;
	const char *peach = NULL;
	const char *spot = NULL;
	struct fault why;
	log_make(&made->yard);
	made->arena = arena_new();
	yard_begin(&made->yard, "adds");
	add_trees(made, &navel, &peach, &spot);
	const struct amount exact = yard_amount(FIELD_WEIGHT, 3000000, 3000000, "3 kg");
	const struct amount range = yard_amount(FIELD_WEIGHT, 1000000, 2000001, "1-2 kg");
	struct amount open = yard_amount(FIELD_WEIGHT, 5000000, 0, "5+ kg");
	open.high.known = false;
	add_crop(made, navel, KIND_PICK, "1916-01-15", &exact);
	add_crop(made, navel, KIND_PICK, "1915-12-01", &range);
	add_crop(made, navel, KIND_PICK, "1916-02-01", NULL);
	add_crop(made, navel, KIND_LOSS, "1916-02-02", &range);
	add_crop(made, navel, KIND_PICK, "1916-08-14", &exact);
	add_crop(made, navel, KIND_PICK, "1916-08-15", &open);
	add_crop(made, peach, KIND_PICK, "2023-11-19", &exact);
	add_crop(made, peach, KIND_PICK, "2023-11-20", &exact);
	const struct entry told = {.subject = {.kind = SUBJECT_TREE},
		.kind = KIND_PICK,
		.season_year = known_i32(2001),
		.amounts = &exact,
		.amount_count = 1};
	add_entry(made, told, peach);
	const struct entry clump = {.subject = {.kind = SUBJECT_SPOT},
		.kind = KIND_PICK,
		.day = yard_span("2024-06-01"),
		.amounts = &exact,
		.amount_count = 1};
	add_entry(made, clump, spot);
	struct entry planned = clump;
	planned.planned = true;
	add_entry(made, planned, spot);
	const char *struck = yard_pick(&made->yard, made->arena, peach, "2023-11-21", 9000000);
	check_ok(store_entry_strike(made->yard.store, struck, &why), &why);
	const struct entry rain = {.subject = {.kind = SUBJECT_PLACE},
		.kind = KIND_WEATHER,
		.day = yard_span("2024-06~"),
		.words = "rain, \"much\""};
	add_entry(made, rain, "");
	yard_commit(&made->yard);
}

static void free_yard(struct view_yard *made)
{
	arena_free(made->arena);
	log_free(&made->yard);
}

static const struct view_case {
	const char *name;
	const char *sql;
	const char *want; /* as the shell's plain list */
} view_cases[] = {
	{"tree_now_names_what_and_where",
		"SELECT label, is_gone, gone, gone_reason, host, spot, area, species, "
		"species_sure, "
		"cultivar, cultivar_sure FROM tree_now ORDER BY label",
		"navel|0||||by the gate|top|orange|certain|Washington|suspected\n"
		"navel red|0|||navel|by the gate|top||||\n"
		"old|1|2019-03|frost|||||||\n"
		"peach|0|||||||||\n"},
	{"entry_plain_names_its_subject",
		"SELECT subject_kind, subject, kind, day, day_low, day_high, planned, words "
		"FROM entry_plain WHERE day >= '2024' ORDER BY subject_kind, planned",
		"place||weather|2024-06~|2024-06-01|2024-06-30|0|rain, \"much\"\n"
		"spot|by the gate|pick|2024-06-01|2024-06-01|2024-06-01|0|said\n"
		"spot|by the gate|pick|2024-06-01|2024-06-01|2024-06-01|1|said\n"},
	{"entry_plain_leaves_struck_entries_out",
		"SELECT count(*) FROM entry_plain WHERE day = '2023-11-21'", "0\n"},
	{"pick_season_turns_on_its_day",
		"SELECT day_low, kind, season_year, crosses FROM pick_season "
		"WHERE subject_id = (SELECT id FROM tree WHERE label = 'navel') ORDER BY day_low",
		"1915-12-01|pick|1915|1\n1916-01-15|pick|1915|1\n1916-02-01|pick|1915|1\n"
		"1916-02-02|loss|1915|1\n1916-08-14|pick|1915|1\n1916-08-15|pick|1916|1\n"},
	{"pick_season_may_be_a_year_ahead_or_told",
		"SELECT day_low, season_year FROM pick_season "
		"WHERE subject_id = (SELECT id FROM tree WHERE label = 'peach') ORDER BY "
		"season_year, "
		"day_low",
		"|2001\n2023-11-19|2023\n2023-11-20|2024\n"},
	{"yield_by_season_sums_what_was_weighed",
		"SELECT subject_kind, subject, season, picked_mg, picked_low_mg, picked_high_mg, "
		"lost_mg, picks, unweighed, first_pick, last_pick FROM yield_by_season "
		"ORDER BY subject, season_year",
		"spot|by the gate|2024|3000000|3000000|3000000||1|0|2024-06-01|2024-06-01\n"
		"tree|navel|1915/16|7500000|7000000|8000001|1500000|4|1|1915-12-01|1916-08-14\n"
		"tree|navel|1916/17|5000000|5000000|||1|0|1916-08-15|1916-08-15\n"
		"tree|peach|2001|3000000|3000000|3000000||1|0||\n"
		"tree|peach|2023|3000000|3000000|3000000||1|0|2023-11-19|2023-11-19\n"
		"tree|peach|2024|3000000|3000000|3000000||1|0|2023-11-20|2023-11-20\n"},
};

static const char *read_by_shell(struct view_yard *made, const char *sql)
{
	const char *const words[] = {"sqlite3", "-readonly", "-list", made->yard.path, sql, NULL};
	struct spawned spawned = command_run(NULL, words);
	check_text(spawned.err, "", "what the shell complained of");
	check_int(spawned.status, 0, "exit status");
	const char *out = arena_text(made->arena, spawned.out);
	spawned_free(&spawned);
	return out;
}

static const char *read_by_connection(struct view_yard *made, const char *sql)
{
	sqlite3 *database = NULL;
	sqlite3_stmt *statement = NULL;
	struct text_builder out = text_builder_in(made->arena);
	text_add(&out, "");
	check_int(sqlite3_open_v2(made->yard.path, &database, SQLITE_OPEN_READONLY, NULL),
		SQLITE_OK, "open");
	check_int(sqlite3_exec(database, "PRAGMA trusted_schema = OFF", NULL, NULL, NULL),
		SQLITE_OK, "distrust");
	check_int(sqlite3_prepare_v2(database, sql, -1, &statement, NULL), SQLITE_OK,
		sqlite3_errmsg(database));
	while (sqlite3_step(statement) == SQLITE_ROW) {
		for (int i = 0; i < sqlite3_column_count(statement); i++) {
			const char *text = (const char *)sqlite3_column_text(statement, i);
			text_add(&out, i == 0 ? "" : "|");
			text_add(&out, text == NULL ? "" : text);
		}
		text_add(&out, "\n");
	}
	check_int(sqlite3_finalize(statement), SQLITE_OK, "read to the end");
	sqlite3_close(database);
	return out.text;
}

static void view_reads_right(const void *one)
{
	const struct view_case *test = one;
	struct view_yard made;
	make_yard(&made);
	check_text(read_by_connection(&made, test->sql), test->want, "our connection");
	log_close(&made.yard);
	check_text(read_by_shell(&made, test->sql), test->want, "the shell");
	free_yard(&made);
}

int main(void)
{
	return RUN_CASES("views", view_cases, view_reads_right) != 0;
}
