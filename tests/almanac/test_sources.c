/* SPDX-License-Identifier: MIT */
/* No row without a source: every row of every file of share/almanac, read as it stands in the
 * file and not as it was loaded, names sources of sources.csv and says how sure it is. A table
 * that is added falls under it by lying in the folder. */
#include <dirent.h>
#include <stdio.h>
#include <string.h>

#include "core/csv.h"
#include "core/file.h"

#include "support/test.h"

enum { SOURCES_MAX = 1024, KEY_SIZE = 64, FILES_MAX = 32, ROWS_AT_LEAST = 5000 };

static const char FOLDER[] = "share/almanac";
static const char *const SURE[] = {"read", "common-practice", "second-hand", "memory"};

/* The keys of sources.csv, and whether any row names them. */
static struct source {
	char key[KEY_SIZE];
	bool used;
} sources[SOURCES_MAX];
static int32_t source_count;

static char files[FILES_MAX][KEY_SIZE];
static int32_t file_count;

/* A row, with what a message needs. */
struct where {
	const char *file;
	const struct csv_row *heading;
	const struct csv_row *row;
};

static void fail_at(const struct where *where, const char *what, const char *got)
{
	fail_msg("%s line %d: %s: '%s'", where->file, where->row->line, what, got);
}

/* "" where the file has no such column. */
static const char *cell(const struct where *where, const char *column)
{
	return csv_text(where->row, csv_find(where->heading, column));
}

static bool has_column(const struct where *where, const char *column)
{
	return csv_find(where->heading, column) >= 0;
}

/* --- walking the files --- */

static int32_t each_row(const char *file, void (*look)(const struct where *))
{
	char path[128];
	struct file_bytes bytes;
	struct fault why;
	struct csv_row row;
	int32_t count = 0;
	struct arena *arena = arena_new();
	const struct csv_options comma = {.separator = ','};

	snprintf(path, sizeof path, "%s/%s", FOLDER, file);
	check_ok(file_read_whole(path, 1 << 24, &bytes, &why), &why);
	struct csv_reader *reader = csv_open(bytes.bytes, bytes.length, &comma);
	check_ok(csv_next(reader, &row, &why), &why);
	struct csv_row heading = csv_row_copy(arena, &row);
	enum status status;
	while ((status = csv_next(reader, &row, &why)) == STATUS_OK) {
		look(&(struct where){file, &heading, &row});
		count++;
	}
	check_int(status, STATUS_END, file);
	csv_close(reader);
	file_free(&bytes);
	arena_free(arena);
	return count;
}

static void take_source(const struct where *where)
{
	const char *key = cell(where, "source");

	assert_true(source_count < SOURCES_MAX);
	if (key[0] == '\0' || strlen(key) >= KEY_SIZE)
		fail_at(where, "a source without a key of its own", key);
	for (int32_t i = 0; i < source_count; i++)
		if (strcmp(sources[i].key, key) == 0)
			fail_at(where, "a source twice", key);
	if (cell(where, "title")[0] == '\0')
		fail_at(where, "a source without a title", key);
	snprintf(sources[source_count++].key, KEY_SIZE, "%s", key);
}

static int read_folder(void **state)
{
	(void)state;
	DIR *folder = opendir(FOLDER);
	assert_non_null(folder);
	for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
		const char *end = strrchr(entry->d_name, '.');
		if (end == NULL || strcmp(end, ".csv") != 0 ||
			strcmp(entry->d_name, "sources.csv") == 0)
			continue;
		assert_true(file_count < FILES_MAX && strlen(entry->d_name) < KEY_SIZE);
		memcpy(files[file_count++], entry->d_name, strlen(entry->d_name) + 1);
	}
	closedir(folder);
	each_row("sources.csv", take_source);
	return 0;
}

/* --- what a row has to say --- */

static void use_source(const struct where *where, const char *key, size_t length)
{
	for (int32_t i = 0; i < source_count; i++)
		if (strlen(sources[i].key) == length && strncmp(sources[i].key, key, length) == 0) {
			sources[i].used = true;
			return;
		}
	fail_at(where, "no such source in sources.csv", key);
}

/* One key or several, parted by blanks; how many. */
static int32_t use_sources(const struct where *where, const char *keys)
{
	int32_t count = 0;

	while (*(keys += strspn(keys, " ")) != '\0') {
		size_t length = strcspn(keys, " ");
		use_source(where, keys, length);
		keys += length;
		count++;
	}
	return count;
}

static void check_sure(const struct where *where, const char *column)
{
	const char *sure = cell(where, column);

	for (size_t i = 0; i < sizeof SURE / sizeof SURE[0]; i++)
		if (strcmp(sure, SURE[i]) == 0)
			return;
	fail_at(where, column, sure);
}

static void row_has_a_source(const struct where *where)
{
	if (use_sources(where, cell(where, "source")) == 0)
		fail_at(where, "no source", "");
}

static void row_says_how_sure(const struct where *where)
{
	check_sure(where, "sure");
}

/* A second figure of a row, with a source and a sure of its own. */
static void second_figure_is_sourced(const struct where *where)
{
	static const struct {
		const char *figure, *source, *sure;
	} SECONDS[] = {
		{"share_limit_percent", "share_source", "share_sure"}, {"cap", "cap_source", NULL}};

	for (size_t i = 0; i < sizeof SECONDS / sizeof SECONDS[0]; i++) {
		if (!has_column(where, SECONDS[i].figure))
			continue;
		int32_t count = use_sources(where, cell(where, SECONDS[i].source));
		if (count == 0 && cell(where, SECONDS[i].figure)[0] != '\0')
			fail_at(where, SECONDS[i].figure, "no source");
		if (count > 0 && SECONDS[i].sure != NULL)
			check_sure(where, SECONDS[i].sure);
	}
}

/* "alleles self: osu-cherry-chart, second-hand; skin: ..." of a cultivar. */
static void traits_are_sourced(const struct where *where)
{
	for (const char *at = cell(where, "traits"); *at != '\0';) {
		const char *end = at + strcspn(at, ";");
		const char *key = strchr(at, ':');
		if (key == NULL || key >= end) {
			fail_at(where, "a trait without a source", at);
			return;
		}
		key += 1 + strspn(key + 1, " ");
		use_source(where, key, strcspn(key, " ,;"));
		at = end + strspn(end, "; ");
	}
}

/* --- the tests --- */

static void every_row(void (*look)(const struct where *))
{
	int32_t rows = 0;

	for (int32_t i = 0; i < file_count; i++) {
		int32_t count = each_row(files[i], look);
		if (count == 0)
			fail_msg("%s has no rows", files[i]);
		rows += count;
	}
	assert_true(rows > ROWS_AT_LEAST);
}

static void every_row_of_every_file_has_a_source(void **state)
{
	(void)state;
	every_row(row_has_a_source);
}

static void every_row_of_every_file_says_how_sure_it_is(void **state)
{
	(void)state;
	every_row(row_says_how_sure);
}

static void a_second_figure_of_a_row_has_its_own_source(void **state)
{
	(void)state;
	every_row(second_figure_is_sourced);
}

static void single_traits_of_cultivars_have_sources(void **state)
{
	(void)state;
	every_row(traits_are_sourced);
}

static void all_files_are_looked_at(void **state)
{
	(void)state;
	static const char *const TABLES[] = {"cultivars.csv", "cuts.csv", "degree_days.csv",
		"facts.csv", "feeding.csv", "names.csv", "pests.csv", "pollen.csv",
		"pollination.csv", "species.csv", "stages.csv", "windows.csv", "work.csv"};

	for (size_t table = 0; table < sizeof TABLES / sizeof TABLES[0]; table++) {
		bool there = false;
		for (int32_t i = 0; i < file_count; i++)
			there = there || strcmp(files[i], TABLES[table]) == 0;
		if (!there)
			fail_msg("%s is not there", TABLES[table]);
	}
}

/* Last: the others have seen every row by then. */
static void every_source_carries_a_row(void **state)
{
	(void)state;
	for (int32_t i = 0; i < source_count; i++)
		if (!sources[i].used)
			fail_msg("sources.csv: no row names '%s'", sources[i].key);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(all_files_are_looked_at),
		cmocka_unit_test(every_row_of_every_file_has_a_source),
		cmocka_unit_test(every_row_of_every_file_says_how_sure_it_is),
		cmocka_unit_test(a_second_figure_of_a_row_has_its_own_source),
		cmocka_unit_test(single_traits_of_cultivars_have_sources),
		cmocka_unit_test(every_source_carries_a_row),
	};
	return cmocka_run_group_tests(tests, read_folder, NULL) != 0;
}
