/* SPDX-License-Identifier: MIT */
/* entry_pack.h - an entry with all its parts in as few bytes as hold it, so that many can be kept
 * until each is told: some 150 where the plain record takes over a thousand. Whose it is (subject)
 * is left out. Only files of src/store include this. */
#ifndef STORE_ENTRY_PACK_H
#define STORE_ENTRY_PACK_H

#include "core/memory.h"
#include "core/record.h"

/* Room that grows, for packing one entry after another. */
struct pack_room {
	unsigned char *bytes; /* from block_resize */
	size_t length;
	size_t size;
};

/* The bytes live in arena. */
const unsigned char *entry_pack(
	const struct entry *entry, struct pack_room *room, struct arena *arena);
/* out is zeroed; open texts and parts go to the arena. */
void entry_unpack(const unsigned char *packed, struct arena *arena, struct entry *out);
/* As SQL compares the two ids. */
int entry_pack_compare_ids(const unsigned char *left, const unsigned char *right);

#endif
