/* SPDX-License-Identifier: MIT */
/* embed_almanac DIR: the tables of a folder, read and checked, as C source on standard output.
 *
 * They are read twice, into arenas that lie elsewhere: words that follow the arena are pointers,
 * words that stay are values, and any other word would not be the same at each build. Texts
 * become string literals, which compiler and linker keep once each. A broken table ends the build
 * with its file, line and column. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "almanac/load.h"

enum { ARENA_SIZE = 16 << 20 }; /* some times what the tables need */

/* What the program has built in, this one nothing. */
const struct almanac *const almanac_built_in = NULL;
const size_t almanac_built_in_size = 0;

extern const char __executable_start[]; /* of this program, by the linker */
extern const char _end[];

struct reading {
	struct arena *arena;
	struct arena *scratch;
	const char *base;  /* where the arena begins; all of it lies in one piece */
	const char *texts; /* the same of scratch */
	const uintptr_t *words;
	size_t count;
};

static enum status read_tables(const char *directory, struct reading *reading, struct fault *why)
{
	struct almanac *almanac = NULL;
	reading->arena = arena_new_of(ARENA_SIZE);
	reading->scratch = arena_new_of(ARENA_SIZE);
	reading->texts = arena_alloc(reading->scratch, 1);
	enum status status =
		almanac_read(directory, reading->arena, reading->scratch, &almanac, why);
	if (status != STATUS_OK)
		return status;
	almanac->arena = NULL;
	almanac->scratch = NULL;
	reading->base = (const char *)almanac;
	reading->words = (const uintptr_t *)(const void *)almanac;
	reading->count = arena_size(reading->arena) / sizeof(uintptr_t);
	return STATUS_OK;
}

static void end_reading(struct reading *reading)
{
	arena_free(reading->arena);
	arena_free(reading->scratch);
}

/* How far the word lies behind a place, where it lies within the arena there; else -1. */
static ptrdiff_t distance(uintptr_t word, const char *place)
{
	uintptr_t start = (uintptr_t)place;
	return word >= start && word - start < ARENA_SIZE ? (ptrdiff_t)(word - start) : -1;
}

static void print_text(const char *text)
{
	fputs("{.place = \"", stdout);
	for (const char *at = text; *at != '\0'; at++) {
		unsigned char byte = (unsigned char)*at;
		bool plain = byte >= ' ' && byte <= '~' && strchr("\"\\?", byte) == NULL;
		printf(plain ? "%c" : "\\%03o", byte);
	}
	fputs("\"},\n", stdout);
}

/* False: the word is neither a place in the tables, nor a text, nor the same at each reading. */
static bool print_word(const struct reading *first, const struct reading *second, size_t at)
{
	uintptr_t word = first->words[at];
	uintptr_t again = second->words[at];
	ptrdiff_t within = distance(word, first->base);
	ptrdiff_t text = distance(word, first->texts);
	if (within >= 0 && within == distance(again, second->base))
		printf("{.place = (const char *)WORDS + %td},\n", within);
	else if (text >= 0 && text == distance(again, second->texts))
		print_text(first->texts + text);
	else if (word != again || (word >= (uintptr_t)__executable_start && word < (uintptr_t)_end))
		return false;
	else
		printf("{%" PRIuPTR "U},\n", word);
	return true;
}

static enum status print_tables(
	const struct reading *first, const struct reading *second, struct fault *why)
{
	printf("/* Generated from the tables of the almanac. */\n#include \"almanac/load.h\"\n\n"
	       "union word {\n\tuintptr_t number;\n\tconst void *place;\n};\n"
	       "static const _Alignas(max_align_t) union word WORDS[%zu] = {\n",
		first->count);
	for (size_t i = 0; i < first->count; i++)
		if (!print_word(first, second, i))
			return fault_set(why, STATUS_SYNTAX,
				"the word at %zu of the almanac is not the same at each reading",
				i);
	printf("};\nconst struct almanac *const almanac_built_in = (const void *)WORDS;\n"
	       "const size_t almanac_built_in_size = sizeof WORDS;\n");
	return fflush(stdout) == 0 ? STATUS_OK
				   : fault_set(why, STATUS_IO, "the tables could not be written");
}

int main(int count, char **words)
{
	struct reading first = {0};
	struct reading second = {0};
	struct fault why;
	if (count != 2) {
		fputs("embed_almanac DIR\n", stderr);
		return 2;
	}
	enum status status = read_tables(words[1], &first, &why);
	if (status == STATUS_OK)
		status = read_tables(words[1], &second, &why);
	if (status == STATUS_OK)
		status = print_tables(&first, &second, &why);
	if (status != STATUS_OK)
		fprintf(stderr, "%s\n", why.text);
	end_reading(&first);
	end_reading(&second);
	return status == STATUS_OK ? 0 : 1;
}
