/* SPDX-License-Identifier: MIT */
#include "support/names.h"

#include <string.h>

#include "core/text.h"
#include "support/test.h"

struct fixture_name {
	enum name_class class;
	const char *id;
	const char *label;
	bool is_gone;
	const char *planted; /* NULL not known */
	const char *alias;   /* another name for it, or NULL */
};

static const struct fixture_name fixtures[] = {
	{NAME_TREE, "01TREE000000000000000000TT", "T", false, NULL, NULL},
	{NAME_TREE, "01TREE000000000000000000A3", "A3", false, NULL, NULL},
	{NAME_TREE, "01TREE000000000000000000A5", "A5", false, "2020-03-01", NULL},
	{NAME_TREE, "01TREE0000000000000000GA50", "A5", true, "2011-03-01", NULL},
	{NAME_TREE, "01TREE0000000000000000GATE", "fig by gate", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000WALL", "fig wall", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000LEAF", "cut leaf", false, NULL, NULL},
	{NAME_TREE, "01TREE00000000000000000G11", "G1", false, NULL, NULL},
	{NAME_TREE, "01TREE00000000000000000G12", "G1", false, NULL, NULL},
	{NAME_TREE, "01TREE00000000000000NISPER", "N\xC3\xADspero", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000HAS1", "Hass", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000HAS2", "Hass 2", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000RCDO", "Reine-Claude d'Oullins", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000G4BR", "G4 - Bramley", false, NULL, NULL},
	{NAME_TREE, "01TREE00000000000000003BY7", "3/7", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000LB12", "12", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000LB1A", "12a", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000MI12", "-12", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000SHED", "the one by the shed", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000GRAN", "Granny's", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000SUMA", "=SUM(A1)", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000COMM", "a,b", false, NULL, NULL},
	{NAME_TREE, "01TREE0000000000000000PIPE", "a|b", false, NULL, NULL},
	{NAME_GRAFT, "01TREE0000000000000000W1CO", "W1/Comice", false, NULL, "Comice"},
	{NAME_SPOT, "01SPOT0000000000000000CLMP", "clump", false, NULL, NULL},
	{NAME_SPOT, "01SPOT0000000000000000BNCH", "bench", false, NULL, NULL},
	{NAME_AREA, "01AREA000000000000000NORTH", "north row", false, NULL, NULL},
	{NAME_CONTAINER, "01CONT0000000000000000TRAY", "tray", false, NULL, NULL},
	{NAME_CONTAINER, "01CONT00000000000000LUGBOX", "lug box", false, NULL, NULL},
	{NAME_PRODUCT, "01PROD00000000000000SULFAT", "sulfate of ammonia", false, NULL, NULL},
	{NAME_KIND, "fig", "fig", false, NULL, NULL},
	{NAME_KIND, "apple", "apple", false, NULL, NULL},
	{NAME_KIND, "pear", "pear", false, NULL, NULL},
	{NAME_KIND, "asian_pear", "asian pear", false, NULL, NULL},
	{NAME_KIND, "apricot", "apricot", false, NULL, NULL},
	{NAME_KIND, "lemon", "lemon", false, NULL, NULL},
	{NAME_KIND, "peach", "peach", false, NULL, NULL},
	{NAME_KIND, "loquat", "loquat", false, NULL, "Japanese plum"},
	{NAME_KIND, "japanese_plum", "Japanese plum", false, NULL, NULL},
};

/* A prefix of at least two letters, or the whole first word. */
static bool is_short_form(const char *label, const char *text)
{
	size_t first = strcspn(label, " ");
	bool first_word = strlen(text) == first && text_starts(label, text);
	return first_word || (text_count_characters(text) >= 2 && text_starts(label, text));
}

static int32_t find(void *owner, enum name_class class, const char *text, size_t length,
	struct name_match *out, int32_t max)
{
	(void)owner;
	char name[LINE_SIZE];
	int32_t count = 0;
	text_copy_n(name, sizeof(name), text, length);
	for (size_t i = 0; i < sizeof(fixtures) / sizeof(fixtures[0]) && count < max; i++) {
		const struct fixture_name *one = &fixtures[i];
		if (one->class != class)
			continue;
		bool exact = text_same(one->label, name) ||
			     (one->alias != NULL && text_same(one->alias, name));
		bool part = class == NAME_TREE && !one->is_gone && is_short_form(one->label, name);
		if (!exact && !part)
			continue;
		struct name_match *match = &out[count++];
		*match = (struct name_match){.is_exact = exact, .is_gone = one->is_gone};
		text_copy(match->id, sizeof(match->id), one->id);
		text_copy(match->label, sizeof(match->label), one->label);
		if (one->planted != NULL) {
			match->planted.known = true;
			check_ok(date_parse_iso(one->planted, &match->planted.value, NULL), NULL);
		}
	}
	return count;
}

struct line_names fixture_names(void)
{
	return (struct line_names){.find = find};
}

struct line_context fixture_context(void)
{
	struct line_context context = {
		.names = fixture_names(), .hemisphere = HEMISPHERE_NORTH, .short_labels = true};
	check_ok(date_parse_iso("2026-11-24", &context.today, NULL), NULL);
	return context;
}
