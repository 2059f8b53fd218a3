/* SPDX-License-Identifier: MIT */
#include "rules/choice.h"

#include <string.h>

#include "core/text.h"

enum table { TABLE_CUTS, TABLE_FEEDS, TABLE_FACTS };

/* Where the rows of a rule stand that sources differ on. */
struct chooser {
	const char *rule;
	enum table table;
	const char *fact; /* how the key of a row ends, for TABLE_FACTS */
};
static const struct chooser choosers[] = {
	{"flower-wood", TABLE_CUTS, ""},
	{"cut-in-wet-season", TABLE_CUTS, ""},
	{"shape-cut-due", TABLE_CUTS, ""},
	{"feed-over", TABLE_FEEDS, ""},
	{"feed-young-hole", TABLE_FACTS, "feed-wait"},
	{"blight-cut-short", TABLE_FACTS, "cut-below"},
};
enum { CHOOSERS = sizeof choosers / sizeof choosers[0] };

static const struct chooser *chooser_of(const char *rule)
{
	for (int at = 0; at < CHOOSERS; at++)
		if (strcmp(choosers[at].rule, rule) == 0)
			return &choosers[at];
	return NULL;
}

bool rule_takes_choice(const char *rule)
{
	return chooser_of(rule) != NULL;
}

const char *rule_choice_rules(char *out, int size)
{
	struct text_builder words = text_builder_fixed(out, (size_t)size);

	text_add(&words, "");
	for (int at = 0; at < CHOOSERS; at++)
		text_add_format(&words, "%s%s", at > 0 ? ", " : "", choosers[at].rule);
	return out;
}

static int32_t add_once(const char *source, const char **out, int32_t count, int32_t max)
{
	for (int32_t at = 0; at < count && at < max; at++)
		if (strcmp(out[at], source) == 0)
			return count;
	if (count < max)
		out[count] = source;
	return count + 1;
}

static bool ends_with(const char *text, const char *end)
{
	size_t length = strlen(text);
	size_t tail = strlen(end);

	return length >= tail && strcmp(text + length - tail, end) == 0;
}

int32_t rule_choice_sources(const char *rule, const struct species *species, const char **out,
	int32_t count, int32_t max)
{
	const struct chooser *chooser = chooser_of(rule);

	if (chooser == NULL)
		return count;
	switch (chooser->table) {
	case TABLE_CUTS:
		for (int32_t at = 0; at < species->cut_count; at++)
			count = add_once(species->cuts[at].source, out, count, max);
		break;
	case TABLE_FEEDS:
		for (int32_t at = 0; at < species->feed_count; at++)
			count = add_once(species->feeds[at].source, out, count, max);
		break;
	case TABLE_FACTS:
		for (int32_t at = 0; at < species->fact_count; at++)
			if (ends_with(species->facts[at].key, chooser->fact) &&
				species->facts[at].low.known)
				count = add_once(species->facts[at].source, out, count, max);
		break;
	}
	return count;
}
