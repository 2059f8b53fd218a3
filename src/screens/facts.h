/* SPDX-License-Identifier: MIT */
/* facts.h - what is known of one tree as fields to be told otherwise: the form of the screen, and
 * the questions of the line mode. */
#ifndef SCREENS_FACTS_H
#define SCREENS_FACTS_H

#include "form.h"

enum {
	FACT_LABEL,
	FACT_KIND,
	FACT_SURE,
	FACT_PLANTED,
	FACT_SPOT,
	FACT_CAME,
	FACT_ROOTSTOCK,
	FACT_HEIGHT,
	FACT_HAZARD,
	FACT_NOTE,
	FACT_MARKS,
	FACTS
};

struct facts {
	char id[ID_SIZE];
	struct form form;
	char before[FACTS][EDIT_SIZE]; /* the fields as the log has them */
};

/* The fields as the log has them. The arena is for what is read on the way. */
enum status facts_load(struct facts *facts, struct session *session, const char *tree_id,
	struct arena *arena, struct fault *why) MUST_CHECK;
/* Does any field say otherwise. */
bool facts_differ(const struct facts *facts);
/* What the fields say otherwise, as one act. `asked` gets a question that came up. */
enum status facts_keep(const struct facts *facts, struct session *session, char asked[TEXT_SIZE],
	struct fault *why) MUST_CHECK;

#endif
