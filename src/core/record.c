/* SPDX-License-Identifier: MIT */
#include "core/record.h"

#include <string.h>

#include "core/text.h"

static const char *const origin_words[] = {
	"", "bought", "seed", "cutting", "layer", "graft", "root-shoot", "found"};
static const char *const sure_words[] = {"unknown", "candidate", "suspected", "certain"};
static const char *const origin_titles[] = {
	[ORIGIN_UNKNOWN] = "",
	[ORIGIN_BOUGHT] = "bought",
	[ORIGIN_SEED] = "raised from seed",
	[ORIGIN_CUTTING] = "raised from a cutting",
	[ORIGIN_LAYER] = "raised from a layer",
	[ORIGIN_GRAFT] = "grafted",
	[ORIGIN_ROOT_SHOOT] = "raised from a root shoot",
	[ORIGIN_FOUND] = "found standing",
};
static const char *const sure_titles[] = {"not known", "one of several", "suspected", "certain"};

static bool find_word(const char *const *words, int count, const char *word, int *out)
{
	for (int i = 0; i < count; i++) {
		if (strcmp(words[i], word) == 0) {
			*out = i;
			return true;
		}
	}
	return false;
}

const char *origin_key(enum origin how)
{
	return origin_words[how];
}

bool origin_find(const char *word, enum origin *out)
{
	int found = 0;
	if (!find_word(origin_words, ORIGIN_FOUND + 1, word, &found))
		return false;
	*out = (enum origin)found;
	return true;
}

const char *sure_key(enum sure sure)
{
	return sure_words[sure];
}

const char *origin_title(enum origin how)
{
	return origin_titles[how];
}

const char *sure_title(enum sure sure)
{
	return sure_titles[sure];
}

bool sure_find(const char *word, enum sure *out)
{
	int found = 0;
	if (!find_word(sure_words, SURE_CERTAIN + 1, word, &found))
		return false;
	*out = (enum sure)found;
	return true;
}

const char *entry_detail(const struct entry *entry, enum field field)
{
	for (int32_t i = 0; i < entry->detail_count; i++) {
		if (entry->details[i].field == field)
			return entry->details[i].text;
	}
	return "";
}

const struct amount *entry_amount(const struct entry *entry, enum field field)
{
	for (int32_t i = 0; i < entry->amount_count; i++) {
		if (entry->amounts[i].field == (int32_t)field)
			return &entry->amounts[i];
	}
	return NULL;
}

enum cut_kind entry_cut_kind(const struct entry *entry)
{
	return cut_kind_of_key(entry_detail(entry, FIELD_CUT_KIND));
}

bool text_is_private(const char *text)
{
	char folded[NAME_SIZE];
	if (text == NULL)
		return false;
	text += strspn(text, " ("); /* an aside is kept with its brackets */
	if (!text_starts(text, "private"))
		return false;
	(void)text_fold(text, folded, sizeof folded); /* its beginning is enough */
	const char *rest = folded + strlen("private");
	return *rest == ':' || rest[strspn(rest, " )")] == '\0';
}

bool entry_is_private(const struct entry *entry)
{
	return text_is_private(entry->note) ||
	       (entry->kind == KIND_NOTE && text_is_private(entry_detail(entry, FIELD_WORDS)));
}

bool entry_is_forecast(const struct entry *entry)
{
	char words[3 * TEXT_SIZE];

	if (entry->kind != KIND_WEATHER)
		return false;
	text_fold(entry_detail(entry, FIELD_WORDS), words, sizeof words);
	return strstr(words, "forecast") != NULL || strstr(words, "expected") != NULL ||
	       (entry->note != NULL && text_starts(entry->note, "forecast"));
}
