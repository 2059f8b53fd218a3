/* SPDX-License-Identifier: MIT */
#include "core/memory.h"

#include <assert.h>
#include <stdalign.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* An arena is a chain of chunks, newest first. A request larger than a chunk's usual size gets
 * a chunk of its own size. The first chunk made stays when the arena is reset. */
enum { CHUNK_SIZE = 65536 };

struct chunk {
	struct chunk *older;
	size_t used;
	size_t size;
	alignas(max_align_t) unsigned char room[];
};

struct arena {
	struct chunk *newest;
};

static void *require(void *block)
{
	if (block == NULL) {
		fputs("boughbook: out of memory\n", stderr);
		exit(3);
	}
	return block;
}

static struct chunk *chunk_new(struct chunk *older, size_t least)
{
	size_t size = least > CHUNK_SIZE ? least : CHUNK_SIZE;
	struct chunk *chunk = require(malloc(sizeof *chunk + size));
	chunk->older = older;
	chunk->used = 0;
	chunk->size = size;
	return chunk;
}

struct arena *arena_new(void)
{
	struct arena *arena = block_new(sizeof *arena);
	arena->newest = chunk_new(NULL, CHUNK_SIZE);
	return arena;
}

struct arena *arena_new_of(size_t size)
{
	struct arena *arena = block_new(sizeof *arena);
	arena->newest = chunk_new(NULL, size);
	return arena;
}

size_t arena_size(const struct arena *arena)
{
	return arena->newest->used;
}

void arena_reset(struct arena *arena)
{
	while (arena->newest->older != NULL) {
		struct chunk *gone = arena->newest;
		arena->newest = gone->older;
		free(gone);
	}
	arena->newest->used = 0;
}

void arena_free(struct arena *arena)
{
	if (arena == NULL)
		return;
	arena_reset(arena);
	free(arena->newest);
	free(arena);
}

static size_t whole_units(size_t size)
{
	assert(size <= PTRDIFF_MAX / 2);
	size_t unit = alignof(max_align_t);
	return size == 0 ? unit : (size + unit - 1) / unit * unit;
}

void *arena_alloc(struct arena *arena, size_t size)
{
	size_t whole = whole_units(size);
	assert(arena->newest != NULL);
	if (arena->newest->size - arena->newest->used < whole)
		arena->newest = chunk_new(arena->newest, whole);
	void *block = arena->newest->room + arena->newest->used;
	arena->newest->used += whole;
	return memset(block, 0, whole);
}

void *arena_array(struct arena *arena, size_t count, size_t size)
{
	assert(size == 0 || count <= (size_t)PTRDIFF_MAX / 2 / size);
	return arena_alloc(arena, count * size);
}

void *arena_grow(struct arena *arena, const void *old, size_t size, size_t new_size)
{
	assert(new_size >= size);
	void *block = arena_alloc(arena, new_size);
	if (size > 0)
		memcpy(block, old, size);
	return block;
}

/* A chunk that holds nothing else is made larger where it is in the chain. */
void *arena_regrow(struct arena *arena, void *old, size_t size, size_t new_size)
{
	assert(new_size >= size);
	struct chunk **link = &arena->newest;
	size_t used = whole_units(size);
	while (*link != NULL && (void *)(*link)->room != old)
		link = &(*link)->older;
	struct chunk *chunk = *link;
	if (chunk == NULL || used <= CHUNK_SIZE || chunk->used != used || chunk->older == NULL)
		return arena_grow(arena, old, size, new_size);
	size_t whole = whole_units(new_size);
	chunk = require(realloc(chunk, sizeof *chunk + whole));
	memset(chunk->room + size, 0, whole - size);
	chunk->used = chunk->size = whole;
	*link = chunk;
	return chunk->room;
}

char *arena_text_n(struct arena *arena, const char *text, size_t length)
{
	char *copy = arena_alloc(arena, length + 1);
	if (length > 0)
		memcpy(copy, text, length);
	return copy;
}

char *arena_text(struct arena *arena, const char *text)
{
	return arena_text_n(arena, text, text == NULL ? 0 : strlen(text));
}

char *arena_join(struct arena *arena, const char *const parts[], size_t count)
{
	size_t length = 0;
	for (size_t i = 0; i < count; i++)
		length += strlen(parts[i]);
	char *joined = arena_alloc(arena, length + 1);
	char *at = joined;
	for (size_t i = 0; i < count; i++) {
		size_t size = strlen(parts[i]);
		memcpy(at, parts[i], size);
		at += size;
	}
	return joined;
}

char *arena_format(struct arena *arena, const char *format, ...)
{
	va_list arguments;
	va_list again;
	va_start(arguments, format);
	va_copy(again, arguments);
	int length = vsnprintf(NULL, 0, format, arguments);
	va_end(arguments);
	assert(length >= 0);
	char *text = arena_alloc(arena, (size_t)length + 1);
	vsnprintf(text, (size_t)length + 1, format, again);
	va_end(again);
	return text;
}

void *block_new(size_t size)
{
	return require(calloc(1, size == 0 ? 1 : size));
}

void *block_resize(void *block, size_t size)
{
	return require(realloc(block, size == 0 ? 1 : size));
}

void block_free(void *block)
{
	free(block);
}
