/* SPDX-License-Identifier: MIT */
/* clash.h - where published sources differ: what the others say, and how to go by one of them.
 * A place's climate chooses among rows of climates, the grower's own choice among sources. */
#ifndef RULES_CLASH_H
#define RULES_CLASH_H

#include "look.h"

/* The source that this place chose last for a rule among those it has rows of; NULL: none. */
const char *clash_chosen(const struct dossier *dossier, const char *rule);
/* "Utah; Utah State University Extension, When to prune": whose word a row is. */
const char *clash_whose(const struct source_row *said_by, enum known_by sure, char *out, int size);

/* A cut judged on a day by a row of the almanac: evidence of what rows of other climates and other
 * sources say of that day, the question where this place's seasons decide and are not known, how
 * to change whose word counts; and the flag's basis where a choice of this place decided. */
struct clash_cut {
	const struct species *species;
	enum cut_kind kind;
	struct date day;
	const struct cut_row *used;
	unsigned reasons; /* as for look_verdict */
};
void clash_tell_cut(const struct dossier *dossier, const struct clash_cut *cut, struct flags *out,
	struct flag *flag);

#endif
