/* SPDX-License-Identifier: MIT */
#include "reckon/chill_need.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

/* The figure that a list of cultivars ("Lapins 35, Rainier 45") gives one of them; -1 none. */
static int64_t listed_for(const char *list, const char *cultivar)
{
	char folded[400], name[NAME_SIZE];

	if (cultivar[0] == '\0' || !text_fold(list, folded, sizeof folded) ||
		!text_fold(cultivar, name, sizeof name))
		return -1;
	const char *at = strstr(folded, name);
	if (at == NULL || (at > folded && at[-1] != ' '))
		return -1;
	at += strlen(name);
	at += strspn(at, " ");
	return *at >= '0' && *at <= '9' ? strtol(at, NULL, 10) : -1;
}

/* A row whose words hold no figure is of the one cultivar they name. */
static bool is_of_other(const struct fact_row *row, const char *cultivar)
{
	char folded[400], name[NAME_SIZE];

	if (row->text[0] == '\0' || strpbrk(row->text, "0123456789") != NULL)
		return false;
	return cultivar[0] == '\0' || !text_fold(row->text, folded, sizeof folded) ||
	       !text_fold(cultivar, name, sizeof name) || strstr(folded, name) == NULL;
}

static bool need_of(const struct tree_kind *kind, bool portions, struct chill_need *out)
{
	const struct fact_row *row =
		species_fact(kind->species, portions ? "chill-portions" : "chill-hours");

	if (row == NULL || !row->low.known || (portions && is_of_other(row, kind->cultivar)))
		return false;
	int64_t own = listed_for(row->text, kind->cultivar);
	*out = (struct chill_need){.row = row,
		.portions = portions,
		.of_cultivar = own > 0,
		.least = own > 0 ? own : row->low.value,
		.most = own > 0           ? own
			: row->high.known ? row->high.value
					  : row->low.value};
	return true;
}

int32_t chill_needs(const struct tree_kind *kind, struct chill_need out[CHILL_NEEDS_MAX])
{
	int32_t count = 0;

	if (kind->species == NULL)
		return 0;
	count += need_of(kind, true, &out[count]);
	count += need_of(kind, false, &out[count]);
	return count;
}
