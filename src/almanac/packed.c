/* SPDX-License-Identifier: MIT */
#include "almanac/packed.h"

#include <stdbool.h>

#include "core/memory.h"

enum { GROUP_BITS = 7, MORE = 0x80, KIND_BITS = 2, KIND_MASK = 3, HALF_BITS = 32 };
/* Places to look at for the longest copy: those whose words fall into the same of SLOTS. */
enum { SLOTS = 1 << 16, TRIES = 200 };

/* --- unpacking --- */

static uint64_t take(const unsigned char **at)
{
	uint64_t figure = 0;
	int shift = 0;
	for (; **at & MORE; shift += GROUP_BITS)
		figure |= (uint64_t)(*(*at)++ & ~MORE) << shift;
	return figure | (uint64_t) * (*at)++ << shift;
}

void packed_open(const struct packed *packed, uintptr_t *out)
{
	const unsigned char *at = packed->bytes;
	for (size_t done = 0; done < packed->count;) {
		const uint64_t head = take(&at);
		const size_t figure = (size_t)(head >> KIND_BITS);
		switch ((enum packed_kind)(head & KIND_MASK)) {
		case PACKED_NUMBER:
			out[done++] = (uintptr_t)(figure | take(&at) << HALF_BITS);
			break;
		case PACKED_PLACE:
			out[done++] = (uintptr_t)out + figure;
			break;
		case PACKED_TEXT:
			out[done++] = (uintptr_t)packed->texts + figure;
			break;
		case PACKED_COPY: {
			const uintptr_t *from = out + done - (size_t)take(&at);
			for (size_t i = 0; i < figure; i++)
				out[done++] = from[i];
		}
		}
	}
}

/* --- packing --- */

struct packing {
	const struct packed_word *words;
	size_t count;
	size_t *newest; /* of each slot: the place from 1 of the last pair of words there; 0 none */
	size_t *before; /* of each place the one before it of its slot */
	unsigned char *out;
	size_t size;
};

static void put(struct packing *packing, uint64_t figure)
{
	for (; figure >= MORE; figure >>= GROUP_BITS)
		packing->out[packing->size++] = (unsigned char)(figure | MORE);
	packing->out[packing->size++] = (unsigned char)figure;
}

static void put_head(struct packing *packing, enum packed_kind kind, uint64_t figure)
{
	put(packing, figure << KIND_BITS | (uint64_t)kind);
}

static void put_word(struct packing *packing, const struct packed_word *word)
{
	const bool whole = word->kind != PACKED_NUMBER;
	put_head(packing, word->kind, whole ? word->value : word->value & UINT32_MAX);
	if (!whole)
		put(packing, word->value >> HALF_BITS);
}

static bool is_same(const struct packed_word *one, const struct packed_word *other)
{
	return one->kind == other->kind && one->value == other->value;
}

static size_t slot_of(const struct packed_word *pair)
{
	const uint64_t mixed = (pair[0].value * 31 + pair[1].value) * 4 + (uint64_t)pair[0].kind;
	return (size_t)(mixed * UINT64_C(0x9e3779b97f4a7c15) >> 48) % SLOTS;
}

static size_t same_from(const struct packing *packing, size_t earlier, size_t at)
{
	size_t length = 0;
	while (at + length < packing->count &&
		is_same(&packing->words[earlier + length], &packing->words[at + length]))
		length++;
	return length;
}

/* The longest copy for the words at a place: how many words, and from how far back. */
static size_t find_copy(const struct packing *packing, size_t at, size_t *back)
{
	size_t longest = 0;
	size_t place = at + 1 < packing->count ? packing->newest[slot_of(&packing->words[at])] : 0;
	for (int tries = 0; place > 0 && tries < TRIES; tries++) {
		size_t length = same_from(packing, place - 1, at);
		if (length > longest) {
			longest = length;
			*back = at - (place - 1);
		}
		place = packing->before[place - 1];
	}
	return longest;
}

static void remember(struct packing *packing, size_t at)
{
	if (at + 1 >= packing->count)
		return;
	size_t *newest = &packing->newest[slot_of(&packing->words[at])];
	packing->before[at] = *newest;
	*newest = at + 1;
}

size_t packed_make(const struct packed_word *words, size_t count, unsigned char *out)
{
	struct arena *arena = arena_new();
	struct packing packing = {.words = words,
		.count = count,
		.newest = arena_array(arena, SLOTS, sizeof(size_t)),
		.before = arena_array(arena, count, sizeof(size_t)),
		.out = out};
	for (size_t at = 0; at < count;) {
		size_t back = 0;
		size_t length = find_copy(&packing, at, &back);
		if (length < 2) {
			put_word(&packing, &words[at]);
			length = 1;
		} else {
			put_head(&packing, PACKED_COPY, length);
			put(&packing, back);
		}
		for (size_t end = at + length; at < end; at++)
			remember(&packing, at);
	}
	arena_free(arena);
	return packing.size;
}
