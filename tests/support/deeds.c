/* SPDX-License-Identifier: MIT */
#include "support/deeds.h"

#include <dirent.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "core/text.h"
#include "exchange/merge.h"
#include "exchange/whole.h"
#include "store/migrate.h"
#include "support/test.h"

static const char old_export[] = "what stood there before\n";

/* --- the deeds --- */

static enum status open_session(
	struct deed_place *place, bool read_only, struct session **out, struct fault *why)
{
	const struct session_options options = {.path = place->log,
		.almanac = "share/almanac",
		.clock = place->clock,
		.read_only = read_only};
	return session_open(&options, out, why);
}

static enum status look(struct deed_place *place, struct fault *why)
{
	struct session *session = NULL;
	const enum status status = open_session(place, true, &session, why);
	session_close(session);
	return status;
}

static enum status enter(struct deed_place *place, struct fault *why)
{
	struct session *session = NULL;
	struct work_logged logged;
	enum status status = open_session(place, false, &session, why);
	if (status == STATUS_OK) {
		const struct line_context context = session_line_context(session);
		status = work_enter(session->yard, "A1 picked 3 lb, 12 fruit ; a good one",
			&context, &logged, why);
	}
	session_close(session);
	return status;
}

static enum status undo(struct deed_place *place, struct fault *why)
{
	struct session *session = NULL;
	char what[TEXT_SIZE];
	enum status status = open_session(place, false, &session, why);
	if (status == STATUS_OK)
		status = store_undo(session->store, what, why);
	session_close(session);
	return status;
}

static enum status review(struct deed_place *place, struct fault *why)
{
	struct session *session = NULL;
	struct arena *arena = arena_new();
	struct review found = {.items = NULL};
	const struct review_options options = {.all = true};
	FILE *nothing = fopen("/dev/null", "w");
	const struct printer printer = {.stream = nothing, .width = 80};
	assert_non_null(nothing);
	enum status status = open_session(place, true, &session, why);
	if (status == STATUS_OK)
		status = review_make(session->yard, &options, arena, &found, why);
	if (status == STATUS_OK)
		status = print_review(&printer, &found, session->yard, true, why);
	session_close(session);
	(void)fclose(nothing);
	arena_free(arena);
	return status;
}

static enum status verify(struct deed_place *place, struct fault *why)
{
	struct session *session = NULL;
	struct arena *arena = arena_new();
	struct verify_line *lines = NULL;
	struct entry *entries = NULL;
	int32_t count = 0;
	enum status status = open_session(place, true, &session, why);
	if (status == STATUS_OK)
		status = store_verify(session->store, arena, &lines, &count, why);
	if (status == STATUS_OK)
		status = store_find(session->store, "good", 0, arena, &entries, &count, why);
	session_close(session);
	arena_free(arena);
	return status;
}

/* Writes the file and imports it. */
static enum status import(struct deed_place *place,
	enum status (*run)(struct session *, const struct import_options *, struct arena *,
		struct import_account *, struct fault *),
	const struct import_options *how, struct fault *why)
{
	struct session *session = NULL;
	struct arena *arena = arena_new();
	struct import_account account = {.fresh = 0};
	enum status status = open_session(place, false, &session, why);
	if (status == STATUS_OK)
		status = run(session, how, arena, &account, why);
	session_close(session);
	arena_free(arena);
	return status;
}

static const char *input(struct deed_place *place, const char *text, char path[SCRATCH_PATH_SIZE])
{
	scratch_path(&place->scratch, "in.csv", path);
	file_write(path, text, strlen(text));
	return path;
}

static enum status trees(struct deed_place *place, struct fault *why)
{
	char path[SCRATCH_PATH_SIZE];
	const struct import_options how = {
		.path = input(
			place, "label,species,planted\nB1,fig,2015\nB2,apple,199X\nB3,,\n", path)};
	return import(place, import_trees, &how, why);
}

static enum status picks(struct deed_place *place, struct fault *why)
{
	char path[SCRATCH_PATH_SIZE];
	const struct import_options how = {.path = input(place,
						   "tree,day,amount\nA1,2020-08-01,3\n"
						   "A1,2021-08-02,4\nA2,2021-09-03,5\n",
						   path),
		.unit = "lb",
		.columns = "tree=tree,day=day,amount=amount",
		.layout = "mine"};
	return import(place, import_picks, &how, why);
}

static enum status weather(struct deed_place *place, struct fault *why)
{
	char path[SCRATCH_PATH_SIZE];
	const struct import_options how = {.path = input(place,
						   "day,min,max,rain\n2020-01-01,1,9,0\n"
						   "2020-01-02,-2,8,3.5\n2020-01-03,,7,\n",
						   path),
		.units = UNITS_SI};
	return import(place, import_weather, &how, why);
}

/* Not "export", a word of C++ that clang-format takes for one. */
static enum status export_entries(struct deed_place *place, struct fault *why)
{
	struct session *session = NULL;
	struct arena *arena = arena_new();
	const struct export_options how = {
		.what = "entries", .path = place->out, .format = FORMAT_CSV};
	enum status status = open_session(place, true, &session, why);
	if (status == STATUS_OK)
		status = export_table(session, &how, arena, why);
	session_close(session);
	arena_free(arena);
	return status;
}

static enum status backup(struct deed_place *place, struct fault *why)
{
	struct store *store = NULL;
	char made[SCRATCH_PATH_SIZE];
	const struct store_options options = {.clock = &place->clock};
	enum status status = store_open(place->log, &options, &store, why);
	if (status == STATUS_OK)
		status = store_backup_now(store, made, (int)sizeof made, why);
	store_close(store);
	return status;
}

static enum status daily(struct deed_place *place, struct fault *why)
{
	struct store *store = NULL;
	char said[TEXT_SIZE];
	const struct store_options options = {.clock = &place->clock};
	enum status status = store_open(place->log, &options, &store, why);
	if (status == STATUS_OK)
		status = store_backup_daily(store, said, why);
	store_close(store);
	return status;
}

static enum status restore(struct deed_place *place, struct fault *why)
{
	char kept[SCRATCH_PATH_SIZE];
	return store_backup_restore(
		place->log, place->backup, &place->clock, kept, (int)sizeof kept, why);
}

static enum status merge(struct deed_place *place, struct fault *why)
{
	struct session *session = NULL;
	struct arena *arena = arena_new();
	struct merge_told told = {.line_count = 0};
	const struct merge_options how = {.path = place->other};
	enum status status = open_session(place, false, &session, why);
	if (status == STATUS_OK)
		status = merge_log(session, &how, arena, &told, why);
	session_close(session);
	arena_free(arena);
	return status;
}

#define STEP(number, name, sql)                    \
	{                                          \
		number, name, sql, sizeof(sql) - 1 \
	}

/* There is one schema so far, so that the steps are invented. */
static const struct schema_text steps[] = {
	STEP(2, "002_colour", "ALTER TABLE area ADD COLUMN colour TEXT;"),
	STEP(3, "003_more",
		"CREATE TABLE more (row INTEGER PRIMARY KEY) STRICT; "
		"INSERT INTO more SELECT row FROM tree;"),
	{0, NULL, NULL, 0},
};

static enum status migrate(struct deed_place *place, struct fault *why)
{
	struct store *store = NULL;
	char copy[SCRATCH_PATH_SIZE];
	const struct store_options options = {.clock = &place->clock};
	enum status status = store_open(place->log, &options, &store, why);
	if (status == STATUS_OK)
		status = migrate_run(store, steps, 1, copy, sizeof copy, why);
	store_close(store);
	return status;
}

static enum status write_whole(
	struct deed_place *place, const char *folder, bool dry, struct fault *why)
{
	struct store *store = NULL;
	int64_t rows = 0;
	const struct store_options options = {.clock = &place->clock, .read_only = dry};
	const struct whole_options how = {.folder = folder, .format = FORMAT_CSV};
	enum status status = store_open(place->log, &options, &store, why);
	if (status == STATUS_OK)
		status = export_all(store, &how, &rows, why);
	store_close(store);
	return status;
}

static enum status export_whole(struct deed_place *place, struct fault *why)
{
	return write_whole(place, place->fresh, true, why);
}

static enum status import_whole(struct deed_place *place, struct fault *why)
{
	struct arena *arena = arena_new();
	struct whole_account account = {.made = false};
	const struct whole_options how = {.folder = place->whole};
	const enum status status =
		import_all(place->fresh, &place->clock, &how, arena, &account, why);
	arena_free(arena);
	return status;
}

static enum status salvage(struct deed_place *place, struct fault *why)
{
	struct arena *arena = arena_new();
	struct verify_line *lines = NULL;
	int32_t count = 0;
	const enum status status =
		store_salvage(place->log, place->fresh, &place->clock, arena, &lines, &count, why);
	arena_free(arena);
	return status;
}

const struct deed deeds[] = {
	{"look", look, false},
	{"enter", enter, true},
	{"undo", undo, true},
	{"review", review, false},
	{"verify", verify, false},
	{"import_trees", trees, true},
	{"import_picks", picks, true},
	{"import_weather", weather, true},
	{"export", export_entries, false},
	{"backup", backup, false},
	{"daily_backup", daily, false},
	{"restore", restore, true},
	{"merge", merge, true},
	{"migrate", migrate, true},
	{"export_all", export_whole, false},
	{"import_all", import_whole, false},
	{"salvage", salvage, false},
	{NULL, NULL, false},
};

/* --- the place --- */

void deeds_plant(struct session *session, const char *label, const char *species)
{
	struct new_tree tree = {.sure_given = false};
	struct fault why = {.status = STATUS_OK};
	char asked[TEXT_SIZE];
	char id[ID_SIZE];
	(void)text_copy(tree.tree.label, sizeof tree.tree.label, label);
	(void)text_copy(tree.species, sizeof tree.species, species);
	check_ok(work_tree_add(session->yard, &tree, asked, id, &why), &why);
	check_ok(session_refresh(session, &why), &why);
}

static void log_line(struct session *session, const char *line)
{
	const struct line_context context = session_line_context(session);
	struct work_logged logged;
	struct fault why = {.status = STATUS_OK};
	check_ok(work_enter(session->yard, line, &context, &logged, &why), &why);
	check_ok(session_refresh(session, &why), &why);
}

/* Made with the log's path, which then holds the log again. */
static void make_other(struct deed_place *place)
{
	struct session *session = NULL;
	struct fault why = {.status = STATUS_OK};
	file_write(place->log, place->backup_bytes, place->backup_length);
	place->clock.seed = 10;
	check_ok(open_session(place, false, &session, &why), &why);
	log_line(session, "A1 picked 9 lb @ 2026-05-20 ; on the other computer");
	deeds_plant(session, "A3", "fig");
	session_close(session);
	place->other_bytes = file_read(place->log, &place->other_length);
	file_write(place->log, place->log_bytes, place->log_length);
}

void deeds_make(struct deed_place *place)
{
	struct place yard = {.name = "Hill yard",
		.hemisphere = HEMISPHERE_NORTH,
		.wet = WET_WINTER,
		.units = UNITS_US};
	struct session *session = NULL;
	struct store *store = NULL;
	struct fault why = {.status = STATUS_OK};
	struct date today;
	*place = (struct deed_place){.scratch = scratch_make()};
	check_ok(date_make(2026, 11, 24, &today, &why), &why);
	place->clock = clock_seeded(today, 7);
	scratch_path(&place->scratch, "yard.bough", place->log);
	scratch_path(&place->scratch, "out.csv", place->out);
	scratch_path(&place->scratch, "older.bough", place->backup);
	scratch_path(&place->scratch, "other.bough", place->other);
	scratch_path(&place->scratch, "fresh", place->fresh);
	place->kept = scratch_make();
	scratch_path(&place->kept, "whole", place->whole);
	const struct store_options options = {.clock = &place->clock};
	check_ok(store_create(place->log, &options, &yard, &store, &why), &why);
	store_close(store);
	check_ok(open_session(place, false, &session, &why), &why);
	deeds_plant(session, "A1", "loquat");
	deeds_plant(session, "A2", "apple");
	log_line(session, "A1 cut shape 20% @ 2026-11-12");
	session_close(session);
	place->backup_bytes = file_read(place->log, &place->backup_length);
	place->clock.seed = 8;
	check_ok(open_session(place, false, &session, &why), &why);
	log_line(session, "A2 picked 40 lb @ 2026-09-12 ; good ones");
	log_line(session, "A1 picked 12 lb @ 2026-05-10");
	session_close(session);
	place->log_bytes = file_read(place->log, &place->log_length);
	make_other(place);
	check_ok(write_whole(place, place->whole, false, &why), &why);
	place->clock.seed = 9;
	place->first_clock = place->clock;
	deeds_lay_out(place);
}

void deeds_free(struct deed_place *place)
{
	free(place->log_bytes);
	free(place->backup_bytes);
	free(place->other_bytes);
	scratch_remove(&place->scratch);
	scratch_remove(&place->kept);
}

void deeds_lay_out(struct deed_place *place)
{
	const char *words[] = {"find", place->scratch.folder, "-mindepth", "1", "-delete", NULL};
	place->clock = place->first_clock;
	struct spawned removed = command_run(NULL, words);
	check_int(removed.status, 0, removed.err);
	spawned_free(&removed);
	file_write(place->log, place->log_bytes, place->log_length);
	file_write(place->backup, place->backup_bytes, place->backup_length);
	file_write(place->other, place->other_bytes, place->other_length);
	file_write(place->out, old_export, strlen(old_export));
}

static int add_row(void *context, int count, char **values, char **names)
{
	struct text_builder *out = context;
	(void)names;
	for (int i = 0; i < count; i++)
		text_add_format(out, "%s ", values[i] == NULL ? "-" : values[i]);
	return 0;
}

char *deeds_picture(struct deed_place *place)
{
	static const char *const questions[] = {"PRAGMA quick_check", "PRAGMA foreign_key_check",
		"PRAGMA user_version", "SELECT kind, what FROM change_set ORDER BY row",
		"SELECT label, struck FROM tree ORDER BY row",
		"SELECT words, struck FROM entry ORDER BY row",
		"SELECT count(*), sum(low) FROM amount", "SELECT count(*) FROM weather_day",
		"SELECT count(*) FROM layout", "SELECT count(*) FROM season_turn",
		"SELECT count(*) FROM word_index"};
	struct arena *arena = arena_new();
	struct text_builder out = text_builder_in(arena);
	sqlite3 *database = NULL;
	check_int(sqlite3_open_v2(place->log, &database, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK,
		"open");
	for (size_t i = 0; i < sizeof questions / sizeof questions[0]; i++) {
		const int code = sqlite3_exec(database, questions[i], add_row, &out, NULL);
		check_int(code, SQLITE_OK, questions[i]);
		text_add(&out, "\n");
	}
	(void)sqlite3_close(database);
	check_int(strncmp(out.text, "ok \n\n", 5), 0, "sound");
	char *text = strdup(out.text);
	arena_free(arena);
	return text;
}

static int is_told(const struct dirent *entry)
{
	static const char *const others[] = {".", "..", "in.csv", "yard.bough-journal"};
	for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
		if (strcmp(entry->d_name, others[i]) == 0)
			return 0;
	}
	return 1;
}

char *deeds_files(const struct deed_place *place)
{
	struct dirent **entries = NULL;
	char *text = calloc(1, 4096);
	const int count = scandir(place->scratch.folder, &entries, is_told, alphasort);
	assert_non_null(text);
	for (int i = 0; i < count; i++) {
		const size_t used = strlen(text);
		(void)snprintf(text + used, 4096 - used, "%s ", entries[i]->d_name);
		free(entries[i]);
	}
	free(entries);
	return text;
}

int64_t deeds_stride(int64_t total, int64_t most)
{
	const int64_t tries = getenv("EVERY") != NULL ? most * 40 : most;
	return total <= tries ? 1 : (total + tries - 1) / tries;
}
