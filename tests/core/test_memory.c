/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <stdalign.h>
#include <stdbool.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/memory.h"

static int arena_setup(void **state)
{
	*state = arena_new();
	return 0;
}

static int arena_teardown(void **state)
{
	arena_free(*state);
	return 0;
}

static void blocks_are_zeroed_aligned_and_apart(void **state)
{
	struct arena *arena = *state;
	unsigned char *blocks[400];
	for (size_t at = 0; at < 400; at++) {
		blocks[at] = arena_alloc(arena, at);
		check_int((int64_t)((uintptr_t)blocks[at] % alignof(max_align_t)), 0, "aligned");
		for (size_t byte = 0; byte < at; byte++)
			assert_int_equal(blocks[at][byte], 0);
		memset(blocks[at], (int)(at % 251) + 1, at);
	}
	for (size_t at = 0; at < 400; at++)
		for (size_t byte = 0; byte < at; byte++)
			assert_int_equal(blocks[at][byte], at % 251 + 1);
}

static void a_block_larger_than_any_chunk_fits(void **state)
{
	struct arena *arena = *state;
	enum { LARGE = 3000000 };
	char *small = arena_text(arena, "before");
	char *large = arena_alloc(arena, LARGE);
	memset(large, 'x', LARGE);
	char *after = arena_text(arena, "after");
	check_text(small, "before", "small");
	check_text(after, "after", "after");
}

static void room_given_again_after_reset_is_zeroed(void **state)
{
	struct arena *arena = *state;
	for (int round = 0; round < 3; round++) {
		unsigned char *block = arena_alloc(arena, 1000);
		for (int byte = 0; byte < 1000; byte++)
			assert_int_equal(block[byte], 0);
		memset(block, 0xAA, 1000);
		memset(arena_alloc(arena, 100000), 0xAA, 100000);
		arena_reset(arena);
	}
}

static void texts_are_copies(void **state)
{
	struct arena *arena = *state;
	char words[] = "fig by gate";
	char *copy = arena_text(arena, words);
	words[0] = 'F';
	check_text(copy, "fig by gate", "copy");
	check_text(arena_text(arena, NULL), "", "NULL gives empty");
	check_text(arena_text_n(arena, "fig by gate", 3), "fig", "part");
	check_text(arena_text_n(arena, NULL, 0), "", "nothing");
	check_text(arena_format(arena, "%s %d", "A", 3), "A 3", "format");
	const char *const parts[] = {"a", "", "bc ", "d"};
	check_text(arena_join(arena, parts, 4), "abc d", "join");
	check_text(arena_join(arena, parts, 0), "", "join of none");
	char *once = arena_text(arena, "");
	assert_ptr_not_equal(once, arena_text(arena, ""));
}

static void long_formats_are_whole(void **state)
{
	char text[5000];
	memset(text, 'y', sizeof text - 1);
	text[sizeof text - 1] = '\0';
	char *made = arena_format(*state, "<%s>", text);
	check_int((int64_t)strlen(made), 5001, "length");
	check_int(made[5000], '>', "end");
}

static void grown_lists_keep_what_they_held(void **state)
{
	struct arena *arena = *state;
	int32_t *list = arena_array(arena, 4, sizeof *list);
	for (int32_t at = 0; at < 4; at++)
		list[at] = at + 1;
	list = arena_grow(arena, list, 4 * sizeof *list, 8 * sizeof *list);
	for (int32_t at = 0; at < 8; at++)
		check_int(list[at], at < 4 ? at + 1 : 0, "item");
	int32_t *fresh = arena_grow(arena, NULL, 0, sizeof *fresh);
	check_int(*fresh, 0, "from nothing");
}

/* Small and large ones, the newest and one that others stand behind. */
static void lists_that_give_their_room_back_keep_what_they_held(void **state)
{
	struct arena *arena = *state;
	size_t sizes[] = {40, 4000, 70000, 100000, 900000};
	unsigned char *list = arena_alloc(arena, sizes[0]);
	memset(list, 7, sizes[0]);
	for (size_t i = 1; i < sizeof sizes / sizeof sizes[0]; i++) {
		char *behind = arena_text(arena, "stands behind");
		list = arena_regrow(arena, list, sizes[i - 1], sizes[i]);
		for (size_t at = 0; at < sizes[i]; at++)
			check_int(list[at], at < sizes[i - 1] ? 7 : 0, "a byte of the list");
		check_text(behind, "stands behind", "another block");
		memset(list, 7, sizes[i]);
		check_text(behind, "stands behind", "another block");
	}
	arena_reset(arena);
	list = arena_regrow(arena, NULL, 0, 100);
	check_int(list[99], 0, "room of a list that was none");
}

static void blocks_stand_alone(void **state)
{
	(void)state;
	char *block = block_new(100);
	for (int byte = 0; byte < 100; byte++)
		assert_int_equal(block[byte], 0);
	strcpy(block, "kept");
	block = block_resize(block, 100000);
	check_text(block, "kept", "resized");
	block_free(block);
	block = block_resize(NULL, 10);
	assert_non_null(block);
	block_free(block);
	block_free(NULL);
	arena_free(NULL);
}

/* In a child, because the answer to no memory is exit(3) with one line. */
static void out_of_memory_says_so_and_leaves_with_3(void **state)
{
	(void)state;
#ifdef __SANITIZE_ADDRESS__
	skip(); /* the sanitizer reserves address space past any limit */
#endif
	int ends[2];
	assert_int_equal(pipe(ends), 0);
	pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		struct rlimit limit = {64 << 20, 64 << 20};
		dup2(ends[1], STDERR_FILENO);
		setrlimit(RLIMIT_AS, &limit);
		block_new((size_t)1 << 30);
		_exit(0);
	}
	close(ends[1]);
	char said[100] = "";
	assert_true(read(ends[0], said, sizeof said - 1) >= 0);
	close(ends[0]);
	int status = 0;
	waitpid(child, &status, 0);
	check_text(said, "boughbook: out of memory\n", "said");
	assert_true(WIFEXITED(status));
	check_int(WEXITSTATUS(status), 3, "exit status");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(
			blocks_are_zeroed_aligned_and_apart, arena_setup, arena_teardown),
		cmocka_unit_test_setup_teardown(
			a_block_larger_than_any_chunk_fits, arena_setup, arena_teardown),
		cmocka_unit_test_setup_teardown(
			room_given_again_after_reset_is_zeroed, arena_setup, arena_teardown),
		cmocka_unit_test_setup_teardown(texts_are_copies, arena_setup, arena_teardown),
		cmocka_unit_test_setup_teardown(
			long_formats_are_whole, arena_setup, arena_teardown),
		cmocka_unit_test_setup_teardown(
			grown_lists_keep_what_they_held, arena_setup, arena_teardown),
		cmocka_unit_test_setup_teardown(lists_that_give_their_room_back_keep_what_they_held,
			arena_setup, arena_teardown),
		cmocka_unit_test(blocks_stand_alone),
		cmocka_unit_test(out_of_memory_says_so_and_leaves_with_3),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
