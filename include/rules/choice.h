/* SPDX-License-Identifier: MIT */
/* choice.h - which rules go by a source that the place chooses, and which sources they have. */
#ifndef RULES_CHOICE_H
#define RULES_CHOICE_H

#include "almanac/almanac.h"

/* Does the rule go by a source of this place's choice? */
bool rule_takes_choice(const char *rule);
/* "feed-over, flower-wood ...": the rules that do. Returns out. */
const char *rule_choice_rules(char *out, int size);
/* Keys of the sources that have a row for the rule among those of one kind, each once, in the
 * order of the tables, added to those there already. Fills at most max; returns how many there
 * are. */
int32_t rule_choice_sources(const char *rule, const struct species *species, const char **out,
	int32_t count, int32_t max);

#endif
