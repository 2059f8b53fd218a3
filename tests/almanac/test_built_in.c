/* SPDX-License-Identifier: MIT */
/* The tables built in are those of share/almanac, word for word, as reading them gives them. */
#include <string.h>

#include "almanac/load.h"
#include "support/test.h"

enum { ARENA_SIZE = 16 << 20 };

struct reading {
	struct arena *arena;
	struct arena *scratch;
	const char *texts; /* where scratch begins */
	struct almanac *almanac;
};

static struct reading read_tables(void)
{
	struct reading reading = {
		.arena = arena_new_of(ARENA_SIZE), .scratch = arena_new_of(ARENA_SIZE)};
	struct fault why;
	reading.texts = arena_alloc(reading.scratch, 1);
	check_ok(almanac_read(
			 "share/almanac", reading.arena, reading.scratch, &reading.almanac, &why),
		&why);
	reading.almanac->arena = NULL;
	reading.almanac->scratch = NULL;
	return reading;
}

static bool lies_in(uintptr_t word, const void *place)
{
	return word >= (uintptr_t)place && word - (uintptr_t)place < ARENA_SIZE;
}

static void each_word_is_as_it_is_read(void **state)
{
	(void)state;
	struct reading reading = read_tables();
	const uintptr_t *read = (const uintptr_t *)(const void *)reading.almanac;
	struct almanac *almanac = NULL;
	struct fault why;
	check_ok(almanac_open("", &almanac, &why), &why);
	struct arena *arena = almanac->arena;
	almanac->arena = NULL;
	const uintptr_t *built = (const uintptr_t *)(const void *)almanac;
	size_t count = almanac_built_in.count;
	size_t texts = 0;
	size_t places = 0;

	assert_int_equal(count * sizeof *built, arena_size(reading.arena));
	for (size_t i = 0; i < count; i++) {
		if (lies_in(read[i], reading.almanac)) {
			assert_int_equal(built[i] - (uintptr_t)built, read[i] - (uintptr_t)read);
			places++;
		} else if (lies_in(read[i], reading.texts)) {
			assert_string_equal((const char *)built[i], (const char *)read[i]);
			texts++;
		} else {
			assert_int_equal(built[i], read[i]);
		}
	}
	assert_true(texts > 30000 && places > 3000); /* it was all looked at */
	arena_free(arena);
	arena_free(reading.scratch);
	arena_free(reading.arena);
}

static void it_opens_and_closes_any_number_of_times(void **state)
{
	(void)state;
	struct almanac *first = NULL;
	struct almanac *second = NULL;
	struct almanac *read = NULL;
	struct fault why;

	check_ok(almanac_open("", &first, &why), &why);
	assert_non_null(almanac_species(first, "apple"));
	almanac_close(first);
	check_ok(almanac_open("", &second, &why), &why);
	check_ok(almanac_open("share/almanac", &read, &why), &why);
	assert_string_equal(almanac_digest(second), almanac_digest(read));
	assert_non_null(almanac_species(second, "loquat"));
	almanac_close(second);
	almanac_close(read);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_word_is_as_it_is_read),
		cmocka_unit_test(it_opens_and_closes_any_number_of_times),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
