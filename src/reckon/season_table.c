/* SPDX-License-Identifier: MIT */
#include "reckon/season.h"

#include <string.h>

#include "reckon/days.h"

enum {
	YEAR_MIN = 1,
	YEAR_MAX = 9999,
	QUIET_DAYS = 21,
	SHARP_DAYS = 14,
	YEAR_DAYS = 366,
	THOUSANDTHS = 1000
};
enum { SWING_SEASONS = 4, SWING_PAIRS = 3 };
static const double swing_least = 0.3;

/* A day known only as a whole calendar year: then the year itself is what was said. */
static bool is_whole_year(const struct date_span *day)
{
	struct date_parts low = date_parts(day->low.value);
	struct date_parts high = date_parts(day->high.value);
	return low.year == high.year && low.month == 1 && low.day == 1 && high.month == 12 &&
	       high.day == 31;
}

bool season_of_entry(
	const struct entry *entry, const struct season_rule *rule, struct date today, int32_t *year)
{
	if ((entry->kind != KIND_PICK && entry->kind != KIND_LOSS) || entry->planned)
		return false;
	struct maybe_date first = date_span_first(&entry->day);
	if (first.known && date_compare(first.value, today) > 0)
		return false;
	if (entry->season_year.known) {
		*year = entry->season_year.value;
		return *year >= YEAR_MIN && *year <= YEAR_MAX;
	}
	if (!entry->day.low.known || !entry->day.high.known)
		return false;
	if (date_days_between(entry->day.low.value, entry->day.high.value) >= YEAR_DAYS)
		return false;
	*year = is_whole_year(&entry->day) ? date_parts(first.value).year
					   : season_year_of(rule, first.value);
	return true;
}

/* --- one entry into its season --- */

static bool has_figure(const struct amount *amount)
{
	return amount != NULL && (amount->low.known || amount->high.known);
}

/* Adds what the entry weighed: a weight, else its containers by what one holds. False: no
 * figure. */
static bool add_mass(struct amount_sum *sum, const struct entry *entry, struct date day,
	const struct season_weigher *weigher)
{
	const struct amount *weight = entry_amount(entry, FIELD_WEIGHT);
	if (has_figure(weight) && weight->container[0] == '\0') {
		amount_sum_add(sum, weight);
		return true;
	}
	bool some = false;
	for (int32_t at = 0; at < entry->amount_count; at++) {
		const struct amount *amount = &entry->amounts[at];
		struct amount mass = {0};
		if (amount->container[0] == '\0' || weigher == NULL || weigher->weigh == NULL)
			continue;
		if (!weigher->weigh(weigher->owner, amount, day, &mass) || !has_figure(&mass))
			continue;
		amount_sum_add(sum, &mass);
		sum->about = true; /* a full container is an estimate, whatever was weighed once */
		some = true;
	}
	return some;
}

struct amount_sum season_entry_mass(
	const struct entry *entry, struct date day, const struct season_weigher *weigher)
{
	struct amount_sum sum = {0};
	if (!add_mass(&sum, entry, day, weigher))
		sum.missing = 1;
	return sum;
}

/* "None seen" is said of the crop, whatever it would have been counted in. */
static bool says_none(const struct entry *entry)
{
	bool none = false;
	for (int32_t at = 0; at < entry->amount_count; at++) {
		if (!entry->amounts[at].none && has_figure(&entry->amounts[at]))
			return false;
		none = none || entry->amounts[at].none;
	}
	return none;
}

static void add_days(struct season *season, const struct date_span *day)
{
	if (!day->low.known || !day->high.known ||
		date_days_between(day->low.value, day->high.value) > SHARP_DAYS)
		return;
	if (!season->first_pick.known || date_compare(day->low.value, season->first_pick.value) < 0)
		season->first_pick = day->low;
	if (!season->last_pick.known || date_compare(day->high.value, season->last_pick.value) > 0)
		season->last_pick = day->high;
}

/* Weight and number of one pick that has both: what a fruit of it weighs. */
static void add_size(
	struct season *season, const struct amount_sum *mass, const struct amount *count)
{
	struct maybe_i64 weight = amount_sum_point(mass);
	struct maybe_i64 fruit = amount_point(count);
	if (!weight.known || !fruit.known || fruit.value <= 0)
		return;
	season->sized_mg += weight.value;
	season->sized_fruit += fruit.value;
}

static void add_pick(struct season *season, const struct entry *entry, struct date day,
	const struct season_weigher *weigher)
{
	season->said_last =
		season->said_last || strcmp(entry_detail(entry, FIELD_PARTIAL), "last") == 0;
	if (says_none(entry)) {
		season->none_said = true;
		return;
	}
	season->picks++;
	add_days(season, &entry->day);
	if (!add_mass(&season->picked, entry, day, weigher)) {
		season->unweighed++;
		season->picked.missing++;
	}
	const struct amount *count = entry_amount(entry, FIELD_COUNT);
	if (!has_figure(count) || count->container[0] != '\0')
		return;
	amount_sum_add(&season->fruit, count);
	struct amount_sum mass = {0};
	if (add_mass(&mass, entry, day, weigher))
		add_size(season, &mass, count);
}

static void add_loss(struct season *season, const struct entry *entry, struct date day,
	const struct season_weigher *weigher)
{
	if (!says_none(entry) && !add_mass(&season->lost, entry, day, weigher))
		season->lost.missing++;
}

/* --- where a season stands --- */

/* Has everything been picked that will be: the grower said so, the turn is past, or 21 days went
 * by without a pick after the harvest window closed. */
static bool is_over(const struct season *season, const struct season_rule *rule, struct date today)
{
	struct window_span span = season_span(rule, season->year);
	if (season->said_last || date_compare(today, span.to) > 0)
		return true;
	struct window_span harvest;
	if (!season_harvest(rule, season->year, &harvest))
		return false;
	struct date quiet_from = harvest.to;
	if (season->last_pick.known && date_compare(season->last_pick.value, quiet_from) > 0)
		quiet_from = season->last_pick.value;
	return date_days_between(quiet_from, today) > QUIET_DAYS;
}

static bool has_opened(
	const struct season *season, const struct season_rule *rule, struct date today)
{
	struct window_span harvest;
	return season_harvest(rule, season->year, &harvest) &&
	       date_compare(today, harvest.from) >= 0;
}

static enum season_state state_of(
	const struct season *season, const struct season_rule *rule, struct date today)
{
	if (is_over(season, rule, today)) {
		if (season->picks > 0)
			return SEASON_COMPLETE;
		return season->none_said ? SEASON_NONE_SEEN : SEASON_NOT_RECORDED;
	}
	if (season->picks > 0 || has_opened(season, rule, today))
		return SEASON_IN_PROGRESS;
	return SEASON_TO_COME;
}

/* "None seen" gives 0 only where nothing else was picked. */
static void season_close(struct season *season, const struct season_rule *rule, struct date today)
{
	season->crosses = rule->crosses;
	season->state = state_of(season, rule, today);
	if (!season->none_said || season->picks > 0)
		return;
	const struct amount none = {.dimension = DIMENSION_MASS,
		.low = known_i64(0),
		.high = known_i64(0),
		.none = true};
	amount_sum_add(&season->picked, &none);
}

/* Purpose: the crops of one tree, graft or spot, one row a season.
 * Given: done entries in any order (others than picks and losses are passed over); entries of a
 *   day after today are left out, as are those whose day spans more than a year. A day known
 *   only as a calendar year, and a season the grower named, are taken at their word.
 * Returned: rows from the first season with an entry to the one that holds today (to a later
 *   one only where the grower named it), a year without entries being a row of its own that is
 *   `not-recorded`, never a zero. */
int32_t season_table(const struct entry *const *entries, int32_t count,
	const struct season_rule *rule, struct date today, const struct season_weigher *weigher,
	struct arena *arena, struct season **out)
{
	int32_t first = season_year_of(rule, today);
	int32_t last = first;
	int32_t year;
	for (int32_t at = 0; at < count; at++) {
		if (!season_of_entry(entries[at], rule, today, &year))
			continue;
		first = year < first ? year : first;
		last = year > last ? year : last;
	}
	int32_t rows = last - first + 1;
	struct season *seasons = arena_array(arena, (size_t)rows, sizeof *seasons);
	for (int32_t at = 0; at < count; at++) {
		if (!season_of_entry(entries[at], rule, today, &year))
			continue;
		struct maybe_date said = date_span_first(&entries[at]->day);
		struct date day = said.known ? said.value : today;
		if (entries[at]->kind == KIND_PICK)
			add_pick(&seasons[year - first], entries[at], day, weigher);
		else
			add_loss(&seasons[year - first], entries[at], day, weigher);
	}
	for (int32_t at = 0; at < rows; at++) {
		seasons[at].year = first + at;
		season_close(&seasons[at], rule, today);
	}
	*out = seasons;
	return rows;
}

/* A loss alone is no total: what was picked beside it was not logged, which is not zero. */
struct maybe_i64 season_total_mg(const struct season *season)
{
	struct maybe_i64 picked = amount_sum_point(&season->picked);
	struct maybe_i64 lost = amount_sum_point(&season->lost);
	if (picked.known && lost.known)
		picked.value += lost.value;
	return picked;
}

struct maybe_i64 season_fruit_mg(const struct season *seasons, int32_t count)
{
	double mass_mg = 0;
	double fruit = 0;
	for (int32_t at = 0; at < count; at++) {
		mass_mg += (double)seasons[at].sized_mg;
		fruit += (double)seasons[at].sized_fruit / THOUSANDTHS;
	}
	if (fruit <= 0)
		return (struct maybe_i64){.known = false};
	return known_i64(round_i64(mass_mg / fruit));
}

/* --- alternation --- */

/* What a complete season gave, by weight or by pieces; unknown else. */
static struct maybe_i64 crop_of(const struct season *season, bool by_weight)
{
	bool complete = season->state == SEASON_COMPLETE || season->state == SEASON_NONE_SEEN;

	if (!complete)
		return (struct maybe_i64){.known = false};
	if (by_weight || season->state == SEASON_NONE_SEEN)
		return season_total_mg(season);
	return amount_sum_point(&season->fruit);
}

/* Both seasons in the same measure: weights, else pieces. */
static bool pair_of(const struct season *before, const struct season *after, double *a, double *b)
{
	for (int by_weight = 1; by_weight >= 0; by_weight--) {
		struct maybe_i64 first = crop_of(before, by_weight == 1);
		struct maybe_i64 second = crop_of(after, by_weight == 1);

		if (!first.known || !second.known)
			continue;
		*a = (double)first.value;
		*b = (double)second.value;
		return true;
	}
	return false;
}

/* Reference: mean of |a - b| / (a + b) over successive years, the index of alternate bearing as
 * used after Monselise and Goldschmidt 1982 (Horticultural Reviews 4: 128-173). 0 steady, 1 a
 * crop every other year. A missing year breaks the chain, two empty years make no pair; seasons
 * that were counted, not weighed, are compared by their pieces.
 * Example: 40 10 35 12 38 give 0.5412 of 4 pairs. */
struct alternation season_alternation(
	const struct season *seasons, int32_t count, int32_t last_year)
{
	struct alternation result = {0};
	double sum = 0;

	for (int32_t at = 0; at < count && seasons[at].year <= last_year; at++) {
		double a, b;

		result.seasons +=
			crop_of(&seasons[at], true).known || crop_of(&seasons[at], false).known;
		if (at == 0 || seasons[at - 1].year != seasons[at].year - 1 ||
			!pair_of(&seasons[at - 1], &seasons[at], &a, &b) || a + b <= 0)
			continue;
		sum += (a > b ? a - b : b - a) / (a + b);
		result.pairs++;
	}
	if (result.pairs > 0)
		result.index = sum / result.pairs;
	return result;
}

bool season_swings(const struct alternation *alternation)
{
	return alternation->seasons >= SWING_SEASONS && alternation->pairs >= SWING_PAIRS &&
	       alternation->index >= swing_least;
}
