/* SPDX-License-Identifier: MIT */
#include "stood.h"

#include "core/limits.h"
#include "core/memory.h"

#include <stdint.h>
#include <string.h>

enum { STOOD_ROOM = 16384 }; /* ids; a later one takes the place of an earlier one */

struct stood {
	bool is_empty;
	char kinds[STOOD_ROOM];
	char ids[STOOD_ROOM][ID_SIZE];
};

static uint32_t place_of(const char *id)
{
	uint32_t hash = 2166136261U; /* FNV-1a */
	for (; *id != '\0'; id++)
		hash = (hash ^ (unsigned char)*id) * 16777619U;
	return (hash ^ hash >> 15) % STOOD_ROOM;
}

bool stood_before(const struct stood *stood, char kind, const char *id)
{
	uint32_t place = place_of(id);
	return stood != NULL && id[0] != '\0' && stood->kinds[place] == kind &&
	       strcmp(stood->ids[place], id) == 0;
}

void stood_note(struct stood **stood, char kind, const char *id)
{
	uint32_t place = place_of(id);
	if (strlen(id) >= ID_SIZE)
		return;
	if (*stood == NULL)
		*stood = block_new(sizeof **stood);
	(*stood)->is_empty = false;
	(*stood)->kinds[place] = kind;
	memcpy((*stood)->ids[place], id, strlen(id) + 1);
}

void stood_forget(struct stood *stood)
{
	if (stood == NULL || stood->is_empty)
		return;
	memset(stood->ids, 0, sizeof stood->ids);
	stood->is_empty = true;
}

void stood_free(struct stood **stood)
{
	block_free(*stood);
	*stood = NULL;
}
