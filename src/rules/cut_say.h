/* SPDX-License-Identifier: MIT */
/* cut_say.h - what the rules about cuts share: which cuts to judge, who spoke of them before,
 * nights of frost and days of rain, when a kind of cut is next clear. */
#ifndef RULES_CUT_SAY_H
#define RULES_CUT_SAY_H

#include "look.h"

enum { CUT_NAME_SIZE = 120, WET_UM = 1000 };

/* How long what was logged is held against the tree, in days: see the table in days.c. */
enum {
	FROST_CUT_DAYS = 180,  /* a cut made near frost, or on frosted wood */
	HARD_NIGHT_DAYS = 60,  /* hard frost on fresh wounds */
	BLIGHT_CUT_DAYS = 365, /* diseased wood cut out too near the sign */
	PACE_DAYS = 365,       /* a tree brought back or lowered too fast */
	SUCKERS_DUE_DAYS = 90, /* suckers seen and not cut */
	SUCKERS_SEEN_DAYS = 365,
	FEED_AFTER_CUT_DAYS = 180, /* a feed after a hard cut, or so long before one */
	FEED_BEFORE_CUT_DAYS = 60,
};

/* A shaping cut made on this tree on a day that is known, today or so many days back at most. A
 * cut on a host is judged there. */
bool cut_to_judge(const struct dossier *dossier, const struct entry *entry, struct date today,
	int32_t days, struct date *day);
/* Does a flag of a rule of the list (ended by NULL) name the entry already? */
bool cut_is_told(const struct flags *out, const struct entry *entry, const char *const *rules);
/* "shape cut of 12 May 2026"; size CUT_NAME_SIZE. */
const char *cut_name(const struct entry *entry, char *out, size_t size);
/* Is the word in what the line says was done (not in its note), in any case? */
bool cut_says(const struct entry *entry, const char *word);
/* The first word of a list (ended by NULL) that is in a text, in any case; NULL none. */
const char *cut_word_in(const char *text, const char *const *words);

/* How far below its last sign the disease that an entry names is cut out on a day, each source with
 * its region: "6 to 8 in (United States)"; "" where no distance is published. */
const char *cut_below_words(const struct dossier *dossier, const struct entry *seen,
	struct date day, char *out, size_t size);

/* The next clear span of this kind of cut on or after the day: the grower's own (row NULL), else
 * of the almanac's rows. */
bool cut_next_clear(const struct dossier *dossier, const struct species *species,
	enum cut_kind kind, struct date day, struct window_span *span, const struct cut_row **row);
/* " Next clear for this cut: 1 to 31 March 2027 (why)." added to a flag's action, and its window;
 * nothing where there is none. */
void cut_tell_next_clear(const struct dossier *dossier, const struct entry *entry,
	struct date today, struct flags *out, struct flag *flag);

/* One night or day of weather here: stored, or logged for the place. */
struct cut_weather {
	bool known;
	struct date day;
	int32_t min_decic; /* with the spot's own offset */
	int64_t rain_um;
	bool logged;     /* by the grower, in words */
	char whose[160]; /* of a night: whose figure, and how the spot differs; see sky_whose */
};
/* The coldest night from..to of those stored or logged with a figure. */
struct cut_weather cut_coldest(const struct dossier *dossier, struct date from, struct date to);
/* The newest night from..to at or below so many tenths of a degree. */
struct cut_weather cut_newest_frost(
	const struct dossier *dossier, struct date from, struct date to, int32_t limit_decic);
/* The coldest night from..to that was only forecast, by a line of the grower's or by a station's
 * days as imported, the line before the station; a night whose minimum is told by now is none.
 * cut_coldest and cut_newest_frost never count one. */
struct cut_weather cut_forecast(const struct dossier *dossier, struct date from, struct date to);
/* The first day from..to with at least WET_UM of rain, stored or logged. */
struct cut_weather cut_first_rain(const struct dossier *dossier, struct date from, struct date to);

/* The rules. */
void rule_frosted_wait(const struct dossier *dossier, struct date today, struct flags *out);
void rule_cut_near_frost(const struct dossier *dossier, struct date today, struct flags *out);
void rule_cut_bares_or_bleeds(const struct dossier *dossier, struct date today, struct flags *out);
void rule_cut_on_bad_day(const struct dossier *dossier, struct date today, struct flags *out);
void rule_blight_cut_short(const struct dossier *dossier, struct date today, struct flags *out);
void rule_renovation_pace(const struct dossier *dossier, struct date today, struct flags *out);
void rule_height_pace(const struct dossier *dossier, struct date today, struct flags *out);
void rule_suckers_standing(const struct dossier *dossier, struct date today, struct flags *out);
void rule_feed_after_hard_cut(const struct dossier *dossier, struct date today, struct flags *out);

#endif
