/* SPDX-License-Identifier: MIT */
#include "core/record.h"

#include <string.h>

#include "core/text.h"

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

bool entry_is_forecast(const struct entry *entry)
{
	char words[3 * TEXT_SIZE];

	if (entry->kind != KIND_WEATHER)
		return false;
	text_fold(entry_detail(entry, FIELD_WORDS), words, sizeof words);
	return strstr(words, "forecast") != NULL || strstr(words, "expected") != NULL ||
	       (entry->note != NULL && text_starts(entry->note, "forecast"));
}
