/* SPDX-License-Identifier: MIT */
/* frost_night.h - frost nights at a tree: the stage it was in, what the published table says that
 * cost, and what the grower saw of it. What the rule about frost and the weather report both read.
 *
 * The tables are for 30 minutes at a temperature; see reckon/frost.h for what they are worth. */
#ifndef RULES_FROST_NIGHT_H
#define RULES_FROST_NIGHT_H

#include "reckon/dossier.h"
#include "reckon/frost.h"
#include "reckon/weather_days.h"

/* Damage seen is that of a night so many days before, at most. */
enum { FROST_SEEN_WITHIN_DAYS = 90 };

struct frost_night {
	struct date day;
	int32_t min_decic;             /* at the tree's spot */
	char whose[160];               /* whose figure it is, with the spot's offset */
	const struct entry *min_entry; /* the line it is from; NULL a station's */
	bool has_stage; /* else the stage was not known, or none that the table has */
	struct frost_stage stage;
	int32_t code;                    /* on the growth-stage scale */
	const struct entry *stage_entry; /* as logged; NULL: by the bloom window */
	struct window window;            /* which: hand, own days or almanac */
	bool has_loss;                   /* else the table has no figure for the stage */
	struct frost_loss loss;          /* by the table for 30 minutes */
	bool half;                       /* the table tells half or more of the crop, and no more */
	const struct entry *observed;    /* the first damage by frost logged since; NULL none */
};

/* Nights of the span with a minimum at or below 0.0 C at the spot, or cold enough to hurt the
 * stage, by day. Returns how many; *out lives in the arena. */
int32_t frost_nights(const struct dossier *dossier, struct day_span span, struct arena *arena,
	struct frost_night **out);
/* Was it colder than one in ten stands? */
bool frost_night_hurts(const struct frost_night *night);

/* --- in words; each returns out --- */

/* "nine flowers in ten or more"; needs a loss. A size of 160 never cuts. */
const char *frost_night_loss(const struct frost_night *night, char *out, size_t size);
/* "as you logged on 10 March 2026", "by the almanac", "by your bloom, 4 seasons"; needs a stage. */
const char *frost_night_known(const struct frost_night *night, char *out, size_t size);
/* "bud", "flower", "fruitlet". */
const char *frost_night_organ(const struct frost_night *night);

#endif
