/* SPDX-License-Identifier: MIT */
/* memory.h - the one home of malloc: arenas, and zeroed blocks for opaque owners.
 *
 * Nothing here returns NULL: when memory is out the program says so in one line on standard
 * error and calls exit(3); every save is already committed by then. */
#ifndef CORE_MEMORY_H
#define CORE_MEMORY_H

#include <stddef.h>

struct arena;

struct arena *arena_new(void);
struct arena *arena_new_of(size_t size);      /* so many bytes lie in one piece */
size_t arena_size(const struct arena *arena); /* bytes handed out of its newest piece */
void arena_free(struct arena *arena);         /* NULL is fine */
void arena_reset(struct arena *arena);        /* forgets all, keeps one block */

/* Zeroed, aligned for any type. */
void *arena_alloc(struct arena *arena, size_t size);
/* An array of count items of size bytes each, zeroed; overflow is a programming mistake. */
void *arena_array(struct arena *arena, size_t count, size_t size);
/* A copy of size bytes at old, in a new zeroed room of new_size (>= size): for growing lists. */
void *arena_grow(struct arena *arena, const void *old, size_t size, size_t new_size);
/* The same where nobody looks at old any more: a large one gives its room back. */
void *arena_regrow(struct arena *arena, void *old, size_t size, size_t new_size);
char *arena_text(struct arena *arena, const char *text); /* NULL gives "" */
char *arena_text_n(struct arena *arena, const char *text, size_t length);
/* Texts one behind the other. */
char *arena_join(struct arena *arena, const char *const parts[], size_t count);
char *arena_format(struct arena *arena, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* A zeroed block for an opaque owner (store, almanac, screen). */
void *block_new(size_t size);
void *block_resize(void *block, size_t size); /* block may be NULL; new room is not zeroed */
void block_free(void *block);

#endif
