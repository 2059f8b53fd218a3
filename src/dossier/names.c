/* SPDX-License-Identifier: MIT */
/* The names that an entry line may use: those in the log, and the almanac's kinds. */
#include <string.h>

#include "core/text.h"
#include "dossier/yard.h"

enum { KINDS_FOUND_MAX = 8 };

/* One way in which a plural is made: "cherries" is "cherry" less "y" and "ies". */
static const struct plural {
	const char *ending;
	const char *instead;
} plurals[] = {
	{"ies", "y"},
	{"es", ""}, /* peaches */
	{"s", ""},
};

static int32_t find_kinds(
	const struct almanac *almanac, const char *text, const struct species **found)
{
	int32_t count = almanac_find_species(almanac, text, found, KINDS_FOUND_MAX);
	size_t length = strlen(text);
	for (size_t i = 0; count == 0 && i < sizeof plurals / sizeof plurals[0]; i++) {
		size_t ending = strlen(plurals[i].ending);
		char singular[NAME_SIZE];
		if (length <= ending || !text_same(text + length - ending, plurals[i].ending))
			continue;
		struct text_builder word = text_builder_fixed(singular, sizeof singular);
		text_add_n(&word, text, length - ending);
		text_add(&word, plurals[i].instead);
		count = almanac_find_species(almanac, singular, found, KINDS_FOUND_MAX);
	}
	return count;
}

static int32_t match_kinds(const struct almanac *almanac, const char *text, size_t length,
	struct name_match *out, int32_t max)
{
	char name[NAME_SIZE];
	if (!text_copy_n(name, sizeof name, text, length))
		return 0; /* longer than any name */
	const struct species *found[KINDS_FOUND_MAX];
	int32_t count = find_kinds(almanac, name, found);
	for (int32_t i = 0; i < count && i < max && i < KINDS_FOUND_MAX; i++) {
		out[i] = (struct name_match){.is_exact = true};
		text_copy(out[i].id, sizeof out[i].id, found[i]->key);
		text_copy(out[i].label, sizeof out[i].label, found[i]->name);
	}
	return count;
}

static int32_t names_find(void *owner, enum name_class class, const char *text, size_t length,
	struct name_match *out, int32_t max)
{
	const struct line_names_owner *names = owner;
	if (class == NAME_KIND)
		return match_kinds(names->almanac, text, length, out, max);
	return store_name_find(names->store, class, text, length, out, max);
}

struct line_names yard_names(struct line_names_owner *owner)
{
	return (struct line_names){.owner = owner, .find = names_find};
}

struct line_context yard_line_context(const struct yard *yard, struct line_names_owner *owner)
{
	const struct place *place = yard_place(yard);
	*owner = (struct line_names_owner){
		.store = yard_store(yard),
		.almanac = yard_almanac(yard),
	};
	return (struct line_context){
		.names = yard_names(owner),
		.numbers = yard_numbers(yard),
		.dates = place->dates,
		.hemisphere = place->hemisphere,
		.today = yard_today(yard),
	};
}
