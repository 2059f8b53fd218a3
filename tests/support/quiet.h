/* SPDX-License-Identifier: MIT */
/* quiet.h - logs in which nothing is wrong: a tree of any kind, anywhere, with years of work done
 * inside the windows the almanac gives and at right sizes, written by dice. */
#ifndef SUPPORT_QUIET_H
#define SUPPORT_QUIET_H

#include "support/log_case.h"

enum { QUIET_EVENTS_MAX = 48, QUIET_SEEN_MAX = 1024, QUIET_RULES_MAX = 96 };
enum { QUIET_TRIES = 60, QUIET_PLACES = 7, QUIET_LOOKS = 4, QUIET_LINE_SIZE = 96 };

/* What must still hold on its day for a line to be written. */
enum quiet_right { QUIET_ANY_DAY, QUIET_CUT, QUIET_FEED };

/* A line of the log still to be written, without its day; "": the log is only looked at. */
struct quiet_event {
	struct date day;
	enum quiet_right right;
	enum cut_kind cut;
	char line[QUIET_LINE_SIZE];
};

/* How a log is to be; what is left out falls by the dice. */
struct quiet_wish {
	int32_t number;     /* which of the logs: turns the dice, and the kinds in their turn */
	const char *kind;   /* NULL: by the number */
	unsigned places;    /* bits (1 << enum log_place) to choose from; 0 any */
	int32_t first_year; /* the first that may be lived */
	const char *spot;   /* what A1 stands in, words of sky_case_spot; NULL: a hole unsaid */
	bool plain; /* a tree of 2004, no pot, graft, partner or weather; flowers, picks, pests and
	               habits are left to the story told in it */
	struct almanac *almanac; /* shared by all logs of a program */
};

/* What the rules said of the log, each line once. */
struct quiet_told {
	uint64_t seen[QUIET_SEEN_MAX]; /* of the keys */
	int32_t seen_count;
	int32_t acts;                     /* harm that is none: each is printed */
	int32_t by_rule[QUIET_RULES_MAX]; /* the rest, by the row in the table of rules */
};

struct quiet {
	struct garden garden;
	struct dice dice;
	const struct species *species;
	enum log_place place;
	bool south;
	bool plain, metric, potted, grafted, partnered, weathered;
	bool renewed;       /* an old tree brought back over the first years */
	bool cuts_in_full;  /* as much at once as the kind bears, then nothing for long */
	bool feeds_in_full; /* a published rate whole, then nothing for long */
	int32_t first_year, planted_year;
	struct date next_cut, next_feed; /* not before */
	int64_t tree_years;
	struct quiet_event events[QUIET_EVENTS_MAX];
	int32_t event_count;
	struct quiet_told told;
};

/* How many logs are asked for by LOGS=, else the usual. */
int32_t quiet_logs_asked(int32_t usual);
void quiet_begin(struct quiet *quiet, const struct quiet_wish *wish);
void quiet_end(struct quiet *quiet);

void quiet_set_today(struct quiet *quiet, struct date day);
/* A day of the year, by the dice. */
struct date quiet_day_of(struct quiet *quiet, int32_t year);
/* The event written on its day, which becomes today. */
void quiet_log(struct quiet *quiet, const struct quiet_event *event);
/* The events of a year, by day: what would be right as things stand on its first day. */
void quiet_plan_year(struct quiet *quiet, int32_t year);
/* A year of work, looked at as it is written and some days on. */
void quiet_live_year(struct quiet *quiet, int32_t year);
/* What the rules say today, added to what was told. */
void quiet_look(struct quiet *quiet);
/* "apple, south, place 2": what a failure names. */
const char *quiet_name(const struct quiet *quiet, char *out, size_t size);

/* --- days that are right for work, with some days to spare on both sides --- */
bool quiet_cut_is(const struct dossier *dossier, enum cut_kind kind, struct date day,
	enum verdict verdict, unsigned reasons);
bool quiet_is_clear_around(const struct dossier *dossier, enum cut_kind kind, struct date day);
bool quiet_window_is_around(const struct dossier *dossier, enum window_kind kind, struct date day);
bool quiet_is_good_for_feed(const struct dossier *dossier, struct date day);

#endif
