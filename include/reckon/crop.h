/* SPDX-License-Identifier: MIT */
/* crop.h - what a tree usually gives, and what a cut puts at risk. */
#ifndef RECKON_CROP_H
#define RECKON_CROP_H

#include "reckon/season.h"

/* E: known totals (picked + lost) of the last six complete seasons, m of them. m >= 3: median,
 * range min-max; m = 1, 2: mean, range; m = 0: unknown. Counts become weight by the tree's own
 * mean fruit weight, else fruit_mg (the almanac's; then `estimate`). */
struct expected_crop {
	int32_t seasons; /* m */
	int64_t mg;
	int64_t low_mg;
	int64_t high_mg;
	bool estimate;
};
struct expected_crop crop_expected(
	const struct season *seasons, int32_t count, struct maybe_i64 fruit_mg);

/* The middle of the almanac's fruit weight of a kind; NULL, or no such fact: unknown. */
struct maybe_i64 crop_fruit_mg(const struct species *species);
/* Picked and lost of seasons[at] when it is over: weighed, else counted fruit at the mean weight
 * that crop_expected takes. Unknown where some pick has neither. */
struct maybe_i64 crop_season_mg(
	const struct season *seasons, int32_t count, int32_t at, struct maybe_i64 fruit_mg);

/* One crop of a kind that bears twice a season (a fig's breba and main), by its own picks. */
struct part_crop {
	const struct season *seasons; /* of these picks alone, oldest first */
	int32_t season_count;
	struct expected_crop expected; /* of seasons all of whose picks are told apart */
	int32_t untold;                /* seasons with picks that may be of either */
};
/* The day on which picks begin to be of the main crop, by the almanac, turned for the place.
 * False: the kind bears once, or there are no dates here. */
bool crop_main_opens(
	const struct species *species, const struct place *place, struct month_day *opens);
/* Which crop a pick or a loss is of: as its words say, else by its day, from the turn of the
 * season to the main harvest breba, after that main. CROP_ALL: not to be told. */
enum crop_part crop_part_of(
	const struct entry *entry, const struct season_rule *rule, struct month_day opens);

/* A share of crown, 0..1 each end; several cuts of a season: 1 - prod(1 - s). */
struct share {
	bool known;
	double low;
	double high;
};
struct share share_of_amount(const struct amount *amount); /* NULL or words: not known */
struct share share_join(struct share a, struct share b);   /* one not known: not known */

/* point = s_mid x f_high x E; low = s_low x f_low x E_min; high = min(1, s_high x f_high) x E_max.
 * reason fruit: E less what is already picked. Not known when E or s is not. */
struct crop_risk {
	bool known;
	int64_t mg;
	int64_t low_mg;
	int64_t high_mg;
	int32_t seasons;
	bool estimate;
	bool loss_is_ours; /* default [0.5, 1.0] stood in for the row's own */
};
struct crop_risk crop_at_risk(const struct expected_crop *crop, struct share share,
	const struct cut_row *row, int64_t picked_already_mg);

#endif
