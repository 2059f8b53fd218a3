/* SPDX-License-Identifier: MIT */
#include "almanac/cultivar.h"

#include <stdio.h>
#include <string.h>

const char *self_fruitful_word(enum self_fruitful self)
{
	static const char *const words[] = {"", "no", "partly", "yes"};
	return words[self];
}

const char *bloom_class_word(enum bloom_class bloom)
{
	static const char *const words[] = {
		"", "early", "early-mid", "mid", "mid-late", "late", "very-late"};
	return words[bloom];
}

const char *known_by_word(enum known_by sure)
{
	static const char *const words[] = {[KNOWN_READ] = "read",
		[KNOWN_COMMON_PRACTICE] = "common practice",
		[KNOWN_SECOND_HAND] = "second-hand",
		[KNOWN_MEMORY] = "from memory"};
	return words[sure];
}

/* Is the word one of a list parted by blanks? */
static bool holds_word(const char *list, const char *word)
{
	size_t length = strlen(word);
	for (const char *at = strstr(list, word); at != NULL; at = strstr(at + 1, word)) {
		bool starts = at == list || at[-1] == ' ';
		if (starts && (at[length] == '\0' || at[length] == ' '))
			return true;
	}
	return false;
}

const char *cultivar_source(const struct cultivar *cultivar, const char *trait, enum known_by *sure)
{
	for (int32_t i = 0; i < cultivar->trait_count; i++) {
		if (!holds_word(cultivar->traits[i].traits, trait))
			continue;
		*sure = cultivar->traits[i].sure;
		return cultivar->traits[i].source;
	}
	*sure = cultivar->sure;
	return cultivar->source;
}

bool cultivar_more(const struct cultivar *cultivar, const char *trait, char *out, int size)
{
	size_t length = strlen(trait);
	const char *at = cultivar->more;
	out[0] = '\0';
	while (at != NULL && *at != '\0') {
		const char *end = strstr(at, "; ");
		if (strncmp(at, trait, length) == 0 && strncmp(at + length, ": ", 2) == 0) {
			at += length + 2;
			int kept = end == NULL ? (int)strlen(at) : (int)(end - at);
			snprintf(out, (size_t)size, "%.*s", kept, at);
			return true;
		}
		at = end == NULL ? NULL : end + 2;
	}
	return false;
}
