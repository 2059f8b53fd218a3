/* SPDX-License-Identifier: MIT */
/* What was seen, named: the words stay as typed, the answer says what they may be. */
#include <string.h>

#include "almanac/pest.h"
#include "dossier/work_inner.h"

enum status work_name_seen(struct logging *logging, const struct entry *entry,
	const struct tree *tree, struct fault *why)
{
	const char *words = entry_detail(entry, FIELD_SUBJECT_SEEN);
	struct maybe_date day = date_span_first(&entry->day);
	struct tree_kind kind;
	enum status status = yard_kind(logging->yard, tree->id,
		day.known ? day.value : yard_today(logging->yard), &kind, why);
	if (status != STATUS_OK || kind.species == NULL)
		return status;
	const struct pest_row *pest = species_pest_meant(kind.species, words);
	if (pest != NULL && strstr(logging->said.text, "; it may be ") == NULL)
		text_add_format(&logging->said, "; it may be %s", pest->name);
	return STATUS_OK;
}
