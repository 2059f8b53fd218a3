/* SPDX-License-Identifier: MIT */
/* rule.h - the rules: a dossier and a day in, flags out. No store, no screen, no clock.
 *
 * To add a rule: 1. write rule_NAME in src/rules, 2. give it a row in the table of
 * src/rules/rule.c, 3. cases in tests/rules: one where it fires, one where it just does not, the
 * edge days, both hemispheres, unknown facts. */
#ifndef RULES_RULE_H
#define RULES_RULE_H

#include "rules/flag.h"

struct rule {
	const char *id;
	const char *title;
	const char *reason; /* why it matters, one or two plain sentences */
	const char *source; /* published source in words, or "common practice" */
	enum urgency max_urgency;
	bool rests;   /* its due and soon keep silent while the tree is left alone */
	bool records; /* looks at the records themselves: is shown what is dated after the day, and
	                 trees that are gone */
	void (*look)(const struct dossier *dossier, struct date today, struct flags *out);
};

/* The table, ended by a row with id NULL. */
const struct rule *rule_table(void);
const struct rule *rule_find(const char *id);
/* Runs every rule over one dossier, adding to *out (whose arena is set). Applies what holds
 * between rules: `leave` hides due and soon of cut and feed rules, one cause one flag, rows of
 * memory or second-hand alone are notes. Of a tree that is gone only the rules about records
 * speak. Does not sort. Where a rule needs the neighbours and the dossier does not tell them,
 * out->wants_neighbours: to be looked at again with them. */
void rules_look(const struct dossier *dossier, struct date today, struct flags *out);

/* Was this shaping cut made where the almanac says to avoid it for flowers or fruit, whatever has
 * become of it since; *row (may be NULL) gets the row. For the season's summary. */
bool rule_cut_cost_crop(
	const struct dossier *dossier, const struct entry *entry, const struct cut_row **row);
/* A cut so hard that this kind answers it with leaves and little fruit until a day, by the almanac.
 * For the season's summary. */
bool rule_cut_sets_back(
	const struct dossier *dossier, const struct entry *entry, struct date *until);
/* The season year whose crop that cut could cost. */
int32_t rule_cut_crop_year(const struct dossier *dossier, const struct entry *entry);

#endif
