/* SPDX-License-Identifier: MIT */
/* embed_almanac DIR: the tables of a folder, read and checked, as C source on standard output.
 *
 * They are read twice, into arenas that lie elsewhere: words that follow the arena are pointers,
 * words that stay are values, and any other word would not be the same at each build. They are
 * packed (packed.h), each text once. A broken table ends the build with its file, line and
 * column. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "almanac/load.h"

enum { ARENA_SIZE = 16 << 20 }; /* some times what the tables need */
enum { TEXT_SLOTS = 1 << 16 };  /* a power of two, some times the texts there are */
enum { BYTES_IN_A_LINE = 24 };

/* What the program has built in, this one nothing. */
const struct packed almanac_built_in = {0};

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

struct texts {
	char *all; /* one after the other, each with its NUL */
	size_t size;
	size_t *slots; /* where a text stands, from 1; 0 free */
};

static size_t *slot_of(const struct texts *texts, const char *text)
{
	uint32_t at = 2166136261U; /* FNV-1a */
	for (const char *byte = text; *byte != '\0'; byte++)
		at = (at ^ (unsigned char)*byte) * 16777619U;
	for (;; at++) {
		size_t *slot = &texts->slots[at % TEXT_SLOTS];
		if (*slot == 0 || strcmp(texts->all + *slot - 1, text) == 0)
			return slot;
	}
}

/* Where the text stands among all; the same one stands there once. */
static size_t place_text(struct texts *texts, const char *text)
{
	size_t *slot = slot_of(texts, text);
	if (*slot == 0) {
		size_t length = strlen(text) + 1;
		memcpy(texts->all + texts->size, text, length);
		*slot = texts->size + 1;
		texts->size += length;
	}
	return *slot - 1;
}

/* False: the word is neither a place in the tables, nor a text, nor the same at each reading. */
static bool look_at_word(const struct reading *first, const struct reading *second, size_t at,
	struct texts *texts, struct packed_word *out)
{
	uintptr_t word = first->words[at];
	uintptr_t again = second->words[at];
	ptrdiff_t within = distance(word, first->base);
	ptrdiff_t text = distance(word, first->texts);
	if (within >= 0 && within == distance(again, second->base))
		*out = (struct packed_word){PACKED_PLACE, (uint64_t)within};
	else if (text >= 0 && text == distance(again, second->texts))
		*out = (struct packed_word){PACKED_TEXT, place_text(texts, first->texts + text)};
	else if (word != again || (word >= (uintptr_t)__executable_start && word < (uintptr_t)_end))
		return false;
	else
		*out = (struct packed_word){PACKED_NUMBER, word};
	return true;
}

static void print_bytes(const char *name, const void *bytes, size_t size)
{
	const unsigned char *at = bytes;
	printf("static const unsigned char %s[%zu] = {", name, size);
	for (size_t i = 0; i < size; i++)
		printf("%s%u,", i % BYTES_IN_A_LINE == 0 ? "\n" : "", at[i]);
	printf("};\n");
}

static enum status print_tables(
	const struct reading *first, const struct reading *second, struct fault *why)
{
	struct arena *arena = first->scratch;
	struct texts texts = {.all = arena_alloc(arena, ARENA_SIZE),
		.slots = arena_array(arena, TEXT_SLOTS, sizeof(size_t))};
	struct packed_word *words = arena_array(arena, first->count, sizeof *words);
	for (size_t i = 0; i < first->count; i++)
		if (!look_at_word(first, second, i, &texts, &words[i]))
			return fault_set(why, STATUS_SYNTAX,
				"the word at %zu of the almanac is not the same at each reading",
				i);
	unsigned char *bytes = arena_alloc(arena, first->count * PACKED_MOST);
	size_t size = packed_make(words, first->count, bytes);
	printf("/* Generated from the tables of the almanac. */\n#include \"almanac/load.h\"\n\n");
	print_bytes("words", bytes, size);
	print_bytes("texts", texts.all, texts.size);
	printf("const struct packed almanac_built_in = {words, (const char *)texts, %zu};\n",
		first->count);
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
