/* SPDX-License-Identifier: MIT */
#include "core/manure.h"

#include <stdio.h>
#include <string.h>

#include "core/plain.h"

enum { NOTE_LOOKED_SIZE = 400 };

static const char manure_words[] =
	"manure manures dung poo poop muck slurry droppings guano litter";
static const char raw_words[] = "raw fresh freshly uncomposted wet slurry";
static const char composted_words[] =
	"compost composted rotted aged matured pellet pellets pelleted pelletised pelletized dried "
	"dry bagged treated sterilised sterilized worm guano";

static bool has_word_of(const struct plain *plain, const char *words)
{
	for (size_t at = 0; at < plain->length; at++) {
		bool starts = at == 0 || !plain_is_letter(plain->low[at - 1]);
		if (starts && plain_word_of(plain->low + at, words) > 0)
			return true;
	}
	return false;
}

/* "Not composted" is raw, whatever else is said. */
static enum manure judge(const struct plain *plain)
{
	bool denied = has_word_of(plain, "not_composted not_rotted not_aged");

	if (!denied && has_word_of(plain, composted_words))
		return MANURE_COMPOSTED;
	return denied || has_word_of(plain, raw_words) ? MANURE_RAW : MANURE_UNSAID;
}

enum manure manure_of_words(const char *words)
{
	struct plain plain;

	if (plain_make(words, strlen(words), &plain, NULL) != STATUS_OK ||
		!has_word_of(&plain, manure_words))
		return MANURE_NONE;
	return judge(&plain);
}

/* The label of the tree stands in the line as typed, so only the verb is looked for there. */
enum manure manure_of_entry(const struct entry *entry)
{
	char text[2 * TEXT_SIZE + NOTE_LOOKED_SIZE];
	struct plain line, plain;

	if (entry->kind != KIND_FEED && entry->kind != KIND_MULCH)
		return MANURE_NONE;
	snprintf(text, sizeof text, "%s %s %.*s", entry_detail(entry, FIELD_PRODUCT),
		entry_detail(entry, FIELD_WORDS), NOTE_LOOKED_SIZE - 8,
		entry->note != NULL ? entry->note : "");
	if (plain_make(text, strlen(text), &plain, NULL) != STATUS_OK)
		return MANURE_NONE;
	bool verb = entry->words != NULL &&
		    plain_make(entry->words, strlen(entry->words), &line, NULL) == STATUS_OK &&
		    has_word_of(&line, "manured");
	return verb || has_word_of(&plain, manure_words) ? judge(&plain) : MANURE_NONE;
}
