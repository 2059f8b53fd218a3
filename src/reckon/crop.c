/* SPDX-License-Identifier: MIT */
#include "reckon/crop.h"

enum { SEASONS_USED = 6, MEDIAN_FROM = 3, PERMILLE = 1000, THOUSANDTHS = 1000 };

/* --- what a tree usually gives --- */

static bool is_complete(const struct season *season)
{
	return season->state == SEASON_COMPLETE || season->state == SEASON_NONE_SEEN;
}

/* What a season gave: weighed, else its counted fruit at a mean weight (*counted is set). */
static struct maybe_i64 total_of(
	const struct season *season, struct maybe_i64 fruit_mg, bool *counted)
{
	struct maybe_i64 total = season_total_mg(season);
	struct maybe_i64 fruit = amount_sum_point(&season->fruit);
	*counted = false;
	if (total.known || !fruit.known || !fruit_mg.known)
		return total;
	struct maybe_i64 lost = amount_sum_point(&season->lost);
	*counted = true;
	return known_i64(round_i64((double)fruit.value / THOUSANDTHS * (double)fruit_mg.value) +
			 (lost.known ? lost.value : 0));
}

/* Keeps sorted[0..count) rising. */
static void insert_sorted(int64_t *sorted, int32_t count, int64_t value)
{
	int32_t at = count;
	for (; at > 0 && sorted[at - 1] > value; at--)
		sorted[at] = sorted[at - 1];
	sorted[at] = value;
}

static int64_t middle_of(const int64_t *sorted, int32_t count)
{
	if (count >= MEDIAN_FROM)
		return (sorted[(count - 1) / 2] + sorted[count / 2]) / 2;
	int64_t sum = 0;
	for (int32_t at = 0; at < count; at++)
		sum += sorted[at];
	return sum / count;
}

/* Purpose: E, the crop of one tree to be expected, from its own past.
 * Given: season rows, oldest first; fruit_mg the almanac's mean fruit weight in milligrams, used
 *   only where picks were counted, not weighed, and the tree's own mean is not known.
 * Returned: milligrams; see crop.h. Seasons in progress or not recorded are never in it; a season
 *   in which none was seen is a zero.
 * Example: 10, 4 and 7 kg give 7 kg, 4 to 10, of 3 seasons. */
struct expected_crop crop_expected(
	const struct season *seasons, int32_t count, struct maybe_i64 fruit_mg)
{
	struct maybe_i64 own = season_fruit_mg(seasons, count);
	struct expected_crop crop = {0};
	int64_t sorted[SEASONS_USED];
	int32_t looked = 0;
	for (int32_t at = count - 1; at >= 0 && looked < SEASONS_USED; at--) {
		if (!is_complete(&seasons[at]))
			continue;
		looked++;
		bool counted;
		struct maybe_i64 total =
			total_of(&seasons[at], own.known ? own : fruit_mg, &counted);
		if (!total.known)
			continue;
		insert_sorted(sorted, crop.seasons++, total.value);
		crop.estimate = crop.estimate || (counted && !own.known);
	}
	if (crop.seasons == 0)
		return crop;
	crop.mg = middle_of(sorted, crop.seasons);
	crop.low_mg = sorted[0];
	crop.high_mg = sorted[crop.seasons - 1];
	return crop;
}

struct maybe_i64 crop_fruit_mg(const struct species *species)
{
	const struct fact_row *fact =
		species == NULL ? NULL : species_fact(species, "fruit-weight");
	if (fact == NULL || !fact->low.known)
		return (struct maybe_i64){.known = false};
	if (!fact->high.known)
		return fact->low;
	return known_i64((fact->low.value + fact->high.value) / 2);
}

struct maybe_i64 crop_season_mg(
	const struct season *seasons, int32_t count, int32_t at, struct maybe_i64 fruit_mg)
{
	struct season season = seasons[at];
	struct maybe_i64 own = season_fruit_mg(seasons, count);
	bool counted;
	if (!is_complete(&season))
		return (struct maybe_i64){.known = false};
	if (season.unweighed > 0 && season.fruit.parts < season.picks)
		return (struct maybe_i64){.known = false};
	if (season.unweighed > 0) /* all were counted: by pieces */
		season.picked = (struct amount_sum){.low = 0};
	return total_of(&season, own.known ? own : fruit_mg, &counted);
}

/* --- shares --- */

static double share_clamp(double share)
{
	if (share < 0)
		return 0;
	return share > 1 ? 1 : share;
}

/* An open share ("at least a fifth") reaches up to the whole crown. */
struct share share_of_amount(const struct amount *amount)
{
	if (amount == NULL || amount->dimension != DIMENSION_SHARE ||
		(!amount->low.known && !amount->high.known))
		return (struct share){.known = false};
	return (struct share){
		.known = true,
		.low = share_clamp((double)amount->low.value / PERMILLE),
		.high = amount->high.known ? share_clamp((double)amount->high.value / PERMILLE) : 1,
	};
}

/* Example: a fifth, then a quarter of what was left, is two fifths. */
struct share share_join(struct share a, struct share b)
{
	return (struct share){
		.known = a.known && b.known,
		.low = 1 - (1 - a.low) * (1 - b.low),
		.high = 1 - (1 - a.high) * (1 - b.high),
	};
}

/* --- what a cut puts at risk --- */

/* What is still to come of an amount when so much is in. */
static double less_picked(int64_t crop_mg, int64_t picked_mg)
{
	return crop_mg > picked_mg ? (double)(crop_mg - picked_mg) : 0;
}

/* Purpose: the crop that a cut puts at risk; see crop.h.
 * Given: E of crop_expected, the share of the crown, the row of the almanac that says avoid,
 *   milligrams already picked of the season at risk (used for the reason fruit only).
 * Returned: milligrams. Where the row has no loss per share, [0.5, 1.0] stands in and is ours.
 * Example: E 20 kg (15 to 30), a fifth of the crown, losses 0.5 to 1: 4 kg, 1.5 to 6. */
struct crop_risk crop_at_risk(const struct expected_crop *crop, struct share share,
	const struct cut_row *row, int64_t picked_already_mg)
{
	struct crop_risk risk = {.seasons = crop->seasons, .estimate = crop->estimate};
	if (crop->seasons == 0 || !share.known)
		return risk;
	double loss_low = 0.5;
	double loss_high = 1.0;
	risk.loss_is_ours = !row->loss_low_permille.known || !row->loss_high_permille.known;
	if (!risk.loss_is_ours) {
		loss_low = (double)row->loss_low_permille.value / PERMILLE;
		loss_high = (double)row->loss_high_permille.value / PERMILLE;
	}
	int64_t picked = row->reason == REASON_FRUIT ? picked_already_mg : 0;
	double middle = (share.low + share.high) / 2;
	double most = share_clamp(share.high * loss_high);
	risk.mg = round_i64(share_clamp(middle * loss_high) * less_picked(crop->mg, picked));
	risk.low_mg = round_i64(share.low * loss_low * less_picked(crop->low_mg, picked));
	risk.high_mg = round_i64(most * less_picked(crop->high_mg, picked));
	risk.known = true;
	return risk;
}
