/* SPDX-License-Identifier: MIT */
#include "core/record.h"

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
