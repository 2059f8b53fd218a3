/* SPDX-License-Identifier: MIT */
/* Words that were packed come back as they were. */
#include <string.h>

#include "almanac/packed.h"
#include "core/memory.h"
#include "support/scratch.h"
#include "support/test.h"

static const char texts[] = "apple\0pear";

static uintptr_t meant(const struct packed_word *word, const uintptr_t *out)
{
	switch (word->kind) {
	case PACKED_PLACE:
		return (uintptr_t)out + (uintptr_t)word->value;
	case PACKED_TEXT:
		return (uintptr_t)texts + (uintptr_t)word->value;
	case PACKED_NUMBER:
	case PACKED_COPY:
		break;
	}
	return (uintptr_t)word->value;
}

/* Returns how many bytes it took. */
static size_t check_round(const struct packed_word *words, size_t count)
{
	struct arena *arena = arena_new();
	unsigned char *bytes = arena_alloc(arena, count * PACKED_MOST);
	uintptr_t *out = arena_array(arena, count + 1, sizeof *out);
	const size_t size = packed_make(words, count, bytes);
	const struct packed packed = {.bytes = bytes, .texts = texts, .count = count};

	assert_true(size <= count * PACKED_MOST);
	out[count] = 77;
	packed_open(&packed, out);
	for (size_t i = 0; i < count; i++)
		if (out[i] != meant(&words[i], out))
			fail_msg("word %zu of %zu is %#zx, not %#zx%s", i, count, (size_t)out[i],
				(size_t)meant(&words[i], out), dice_remark());
	assert_int_equal(out[count], 77); /* nothing behind the last */
	arena_free(arena);
	return size;
}

static void each_kind_comes_back(void **state)
{
	(void)state;
	static const struct packed_word words[] = {{PACKED_NUMBER, 0}, {PACKED_NUMBER, 1},
		{PACKED_NUMBER, 31}, {PACKED_NUMBER, 32}, {PACKED_NUMBER, UINT32_MAX},
		{PACKED_NUMBER, UINTPTR_MAX}, {PACKED_NUMBER, UINTPTR_MAX / 2 + 1},
		{PACKED_PLACE, 0}, {PACKED_PLACE, 8}, {PACKED_PLACE, 1 << 20}, {PACKED_TEXT, 0},
		{PACKED_TEXT, 6}};
	for (size_t count = 0; count <= sizeof words / sizeof words[0]; count++)
		(void)check_round(words, count);
}

static void a_run_is_one_copy_that_reaches_into_itself(void **state)
{
	(void)state;
	struct packed_word words[1000] = {0};
	assert_int_equal(check_round(words, 1000), 2 + 2 + 1);
}

static void the_same_value_of_another_kind_is_no_copy(void **state)
{
	(void)state;
	static const struct packed_word words[] = {{PACKED_NUMBER, 6}, {PACKED_NUMBER, 6},
		{PACKED_TEXT, 6}, {PACKED_TEXT, 6}, {PACKED_PLACE, 6}, {PACKED_PLACE, 6},
		{PACKED_NUMBER, 6}, {PACKED_TEXT, 6}, {PACKED_PLACE, 6}};
	(void)check_round(words, sizeof words / sizeof words[0]);
}

static void any_words_come_back(void **state)
{
	(void)state;
	struct dice dice = dice_start();
	struct packed_word words[3000];
	for (int round = 0; round < 100; round++) {
		const int64_t most = round % 2 == 0 ? 3 : INT32_MAX;
		const size_t count = (size_t)dice_between(&dice, 0, 3000);
		for (size_t i = 0; i < count; i++)
			words[i] = (struct packed_word){
				(enum packed_kind)dice_between(&dice, PACKED_NUMBER, PACKED_TEXT),
				(uint64_t)dice_between(&dice, 0, most)};
		(void)check_round(words, count);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_kind_comes_back),
		cmocka_unit_test(a_run_is_one_copy_that_reaches_into_itself),
		cmocka_unit_test(the_same_value_of_another_kind_is_no_copy),
		cmocka_unit_test(any_words_come_back),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
