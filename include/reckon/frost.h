/* SPDX-License-Identifier: MIT */
/* frost.h - what a frost costs buds and flowers, by the published temperatures at which one bud in
 * ten and nine in ten die.
 *
 * The tables are for 30 minutes at that temperature, air at bud height, radiation frost. A night's
 * minimum that lasted longer does more, one that was brief does less. Cool days before harden
 * buds, a warm spell softens them. The almanac holds the figures (kill-10-STAGE, kill-90-STAGE),
 * in tenths of a degree Celsius here. Pure. */
#ifndef RECKON_FROST_H
#define RECKON_FROST_H

#include "almanac/species.h"

enum { FROST_STAGES_MAX = 12, FROST_MINUTES = 30 };

/* One stage of a kind's table. */
struct frost_stage {
	char key[KEY_SIZE];  /* "full-bloom" */
	char name[KEY_SIZE]; /* "full bloom" */
	/* where it lies on the growth-stage scale, both ends in: our own reading of the words, as
	 * the tables give none */
	int32_t code_from;
	int32_t code_to;
	struct maybe_i32 ten_decic;    /* one in ten dies */
	struct maybe_i32 ninety_decic; /* nine in ten */
	struct maybe_i32 half_decic; /* half or more of the crop, where that is all that is told */
	const char *source;          /* key of the almanac's sources */
	enum known_by sure;
};
/* The stages the almanac has for a kind, earliest first; 0: it has no table. */
int32_t frost_stages(const struct species *species, struct frost_stage out[FROST_STAGES_MAX]);
/* The stage that holds a growth-stage code: each holds until the next begins. NULL before the first
 * and once the fruit is more than a fruitlet. */
const struct frost_stage *frost_stage_at(
	const struct frost_stage *stages, int32_t count, int32_t code);
/* The stage the bloom's place says, 0 first open flower .. 1 last petal: first bloom in the first
 * third, then full bloom. For where only a bloom window is known. */
const struct frost_stage *frost_stage_in_bloom(
	const struct frost_stage *stages, int32_t count, double share);

enum frost_band {
	FROST_ABOVE,   /* warmer than the 10 % temperature: under one in ten */
	FROST_BETWEEN, /* between the two */
	FROST_BELOW,   /* the 90 % temperature or colder: nine in ten or more */
	FROST_UNTOLD   /* colder than the 10 % temperature, and the table has no 90 % */
};
struct frost_loss {
	enum frost_band band;
	double low; /* share lost, 0..1: by the table alone */
	double high;
	/* between the two points no curve is published: these are ours */
	bool has_point;
	double linear;
	double logistic;
};
/* Purpose: loss expected of a temperature held for 30 minutes.
 * Given: the temperature and the two of the table in one unit, C or F alike; no 90 %: has_ninety
 *   false. Equal temperatures give above or below only.
 * STATUS_RANGE: not a number, or the 90 % temperature above the 10 % one (a misprint or swapped
 *   columns).
 * Accuracy: the tables are rounded to 1 F, and cultivars differ by 1 to 2 F.
 * Example: full bloom 28 and 25 F, 26.5 F: 10 to 90 %, 50 % by either of our curves. */
struct frost_points {
	double ten;
	double ninety;
	bool has_ninety;
};
enum status frost_loss_at(const struct frost_points *points, double temperature,
	struct frost_loss *out, struct fault *why) MUST_CHECK;
/* The same for a stage of the table, temperature in tenths of a degree Celsius. STATUS_ABSENT:
 * the stage has no 10 % temperature. */
enum status frost_loss_of_stage(const struct frost_stage *stage, int32_t decic,
	struct frost_loss *out, struct fault *why) MUST_CHECK;

#endif
