/* SPDX-License-Identifier: MIT */
/* The log of schema 1 as it was when that schema landed: every later version of the program opens
 * it. UPDATE_GOLDEN=1 writes it anew, which is right only until schema 1 has been released. */
#include "support/test.h"

#include "support/yard.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char fixture_path[] = "tests/data/log-v1.bough";

static void fixture_in_source(char out[SCRATCH_PATH_SIZE])
{
	const char *top = getenv("BOUGHBOOK_SOURCE");
	(void)snprintf(out, SCRATCH_PATH_SIZE, "%s/%s", top != NULL ? top : ".", fixture_path);
}

/* A small yard in which each sort of row and of act occurs. */
static void make_trees(struct log *yard, struct arena *arena)
{
	struct fault why = {0};
	yard_begin(yard, "planted the hill");
	yard_area(yard, arena, "hill");
	const char *spot = yard_spot(yard, arena, "H1");
	const char *host = yard_tree(yard, arena, "A1", spot);
	yard_graft(yard, arena, "A1-west", host);
	yard_tree(yard, arena, "A2", yard_spot(yard, arena, "H2"));
	struct identity identity = {
		.name = "malus", .sure = SURE_CERTAIN, .day = yard_span("2015~")};
	memcpy(identity.tree_id, host, strlen(host) + 1);
	check_ok(store_identity_add(yard->store, &identity, &why), &why);
	yard_commit(yard);
}

static void make_work(struct log *yard, struct arena *arena)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	struct tree tree = {0};
	check_ok(store_tree_find(yard->store, "A1", &tree, &why), &why);
	const char *const days[] = {"2024-09-12", "2025-09-20"};
	for (size_t i = 0; i < 2; i++) {
		yard_begin(yard, "A1 picked");
		yard_pick(yard, arena, tree.id, days[i], 2834952 + (int64_t)i * 453592);
		yard_commit(yard);
	}
	yard_begin(yard, "A2 renamed B2");
	check_ok(store_tree_find(yard->store, "A2", &tree, &why), &why);
	check_ok(store_tree_rename(yard->store, tree.id, "B2", &why), &why);
	yard_commit(yard);
	yard_begin(yard, "a mistake");
	yard_pick(yard, arena, tree.id, "2026-05-01", 1000);
	yard_commit(yard);
	check_ok(store_undo(yard->store, what, &why), &why);
	yard_begin(yard, "answered");
	struct answer answer = {.flag_key = "girth-stale|A1",
		.kind = ANSWER_PUT_OFF,
		.until = yard_maybe_day("2026-07-01"),
		.reason = "after the picking"};
	check_ok(store_answer_add(yard->store, &answer, &why), &why);
	yard_commit(yard);
}

static void make_yard(struct log *yard)
{
	struct arena *arena = arena_new();
	log_make(yard);
	make_trees(yard, arena);
	make_work(yard, arena);
	arena_free(arena);
}

static void copy_fixture(struct log *yard)
{
	char path[SCRATCH_PATH_SIZE];
	size_t length = 0;
	log_close(yard);
	fixture_in_source(path);
	char *bytes = file_read(path, &length);
	file_write(yard->path, bytes, length);
	free(bytes);
}

static void log_of_schema_1_opens_for_writing(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char what[TEXT_SIZE];
	make_yard(&yard);
	char *made = log_dump(&yard);
	copy_fixture(&yard);
	log_reopen(&yard);
	char *kept = log_dump(&yard);
	check_text(kept, made, "what is seen");
	check_int(log_one(&yard, "PRAGMA user_version"), SCHEMA_VERSION, "schema");
	check_ok(store_undo(yard.store, what, &why), &why);
	check_text(what, "answered", "undone");
	struct verify_line *lines = NULL;
	int32_t count = 0;
	struct arena *arena = arena_new();
	check_ok(store_verify(yard.store, arena, &lines, &count, &why), &why);
	for (int32_t i = 0; i < count; i++) {
		if (lines[i].is_fault)
			fail_msg("%s", lines[i].text);
	}
	arena_free(arena);
	free(kept);
	free(made);
	log_free(&yard);
}

static void log_of_schema_1_opens_for_looking_and_stays_as_it_is(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	struct tree tree = {0};
	size_t before_length = 0;
	size_t after_length = 0;
	log_make(&yard);
	copy_fixture(&yard);
	char *before = file_read(yard.path, &before_length);
	const struct store_options options = {.clock = &yard.clock, .read_only = true};
	check_ok(store_open(yard.path, &options, &yard.store, &why), &why);
	check_ok(store_tree_find(yard.store, "a2", &tree, &why), &why);
	check_text(tree.label, "B2", "the tree that was A2");
	log_close(&yard);
	char *after = file_read(yard.path, &after_length);
	check_int((int64_t)after_length, (int64_t)before_length, "length");
	assert_memory_equal(after, before, before_length);
	free(before);
	free(after);
	log_free(&yard);
}

static void write_fixture(void)
{
	struct log yard;
	char path[SCRATCH_PATH_SIZE];
	size_t length = 0;
	make_yard(&yard);
	log_close(&yard);
	fixture_in_source(path);
	char *bytes = file_read(yard.path, &length);
	file_write(path, bytes, length);
	free(bytes);
	log_free(&yard);
}

int main(void)
{
	if (getenv("UPDATE_GOLDEN") != NULL)
		write_fixture();
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(log_of_schema_1_opens_for_writing),
		cmocka_unit_test(log_of_schema_1_opens_for_looking_and_stays_as_it_is),
	};
	return cmocka_run_group_tests_name("fixture", tests, NULL, NULL) != 0;
}
