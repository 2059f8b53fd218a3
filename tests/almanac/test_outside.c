/* SPDX-License-Identifier: MIT */
/* The tables against values that a second reading of the sources gave: tests/outside/almanac.tsv,
 * a row a test. `what` says which value is meant; `key` which row. */
#include "almanac/almanac.h"
#include "core/measure.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/printed.h"
#include "support/table.h"
#include "support/test.h"

enum { ROWS_MAX = 64 };

static void check_fact(const struct species *species, bool low, const char *key, const char *value)
{
	char base[64];
	int64_t want = printed_base(value, base, sizeof base);
	const struct fact_row *row = species_fact(species, key);
	assert_non_null(row);
	struct maybe_i64 got = low ? row->low : row->high;
	assert_true(got.known);
	check_text(row->unit, base, "unit");
	check_int(got.value, want, key);
}

static const struct feed_row *feed_of(const struct species *species, const char *rule)
{
	for (int32_t i = 0; i < species->feed_count; i++)
		if (strcmp(species->feeds[i].rule, rule) == 0)
			return &species->feeds[i];
	print_error("%s has no rule %s\n", species->key, rule);
	fail();
	return NULL;
}

static void check_per(const struct feed_row *feed, const char *value)
{
	static const char *const bases[] = {"inch", "year-of-age", "tree", "feed"};
	static const char *const periods[] = {"unstated", "feed", "year"};
	char got[40];
	snprintf(got, sizeof got, "%s %s", bases[feed->basis], periods[feed->period]);
	check_text(got, value, "per");
}

/* "hb66 read": who says it first, and how sure that is. */
static void check_teller(const char *source, enum known_by sure, const char *value)
{
	static const char *const words[] = {"read", "common-practice", "second-hand", "memory"};
	char got[80];
	snprintf(got, sizeof got, "%s %s", source, words[sure]);
	check_text(got, value, "teller");
}

static void check_fact_teller(const struct species *species, const char *key, const char *value)
{
	const struct fact_row *row = species_fact(species, key);
	assert_non_null(row);
	check_teller(row->source, row->sure, value);
}

static void check_feed(
	const struct species *species, const char *what, const char *rule, const char *value)
{
	static const char *const sure[] = {"read", "common-practice", "second-hand", "memory"};
	const struct feed_row *feed = feed_of(species, rule);
	char base[64];
	if (strcmp(what, "feed-rate") == 0)
		check_int(feed->rate_mg, printed_base(value, base, sizeof base), rule);
	else if (strcmp(what, "feed-rate-to") == 0)
		check_int(feed->rate_to_mg.value, printed_base(value, base, sizeof base), rule);
	else if (strcmp(what, "feed-cap-to") == 0)
		check_int(feed->cap_to_mg.value, printed_base(value, base, sizeof base), rule);
	else if (strcmp(what, "feed-cap") == 0)
		check_int(feed->cap_mg.value, printed_base(value, base, sizeof base), rule);
	else if (strcmp(what, "feed-height") == 0)
		check_int(feed->measured_at_um.value, printed_base(value, base, sizeof base), rule);
	else if (strcmp(what, "feed-analysis") == 0)
		check_int(feed->product_n_mpct.value, round_i64(strtod(value, NULL) * 1000), rule);
	else if (strcmp(what, "feed-splits") == 0)
		check_int(feed->splits.value, strtol(value, NULL, 10), rule);
	else if (strcmp(what, "feed-age-from") == 0)
		check_int(feed->age_from.value, strtol(value, NULL, 10), rule);
	else if (strcmp(what, "feed-age-to") == 0)
		check_int(feed->age_to.value, strtol(value, NULL, 10), rule);
	else if (strcmp(what, "feed-sure") == 0)
		check_text(sure[feed->sure], value, rule);
	else if (strcmp(what, "feed-per") == 0)
		check_per(feed, value);
	else
		fail();
}

static enum climate climate_of_word(const char *word)
{
	static const char *const words[] = {
		"", "dry-summer", "cool-maritime", "continental", "humid-mild", "little-rain"};
	for (int i = 0; i < CLIMATE_TOTAL; i++)
		if (strcmp(words[i], word) == 0)
			return (enum climate)i;
	fail();
	return CLIMATE_ANY;
}

/* The words of "shape:humid-mild:06-05" one by one; text is cut up. */
static const char *next_word(char **text)
{
	char *word = *text;
	size_t length = strcspn(word, ":");
	*text = word + length + (word[length] == ':' ? 1 : 0);
	word[length] = '\0';
	return word;
}

static void check_window(const struct species *species, char *key, const char *value)
{
	enum window_kind kind = window_of_key(next_word(&key));
	enum climate climate = climate_of_word(next_word(&key));
	const struct window_row *rows[ROWS_MAX];
	check_int(species_windows(species, kind, climate, rows, ROWS_MAX), 1, "rows");
	char got[24];
	snprintf(got, sizeof got, "%02d-%02d..%02d-%02d", rows[0]->from.month % 100,
		rows[0]->from.day % 100, rows[0]->to.month % 100, rows[0]->to.day % 100);
	check_text(got, value, "span");
}

/* Who tells of the first row that holds the day; "no row" where none does. */
static void check_window_day(const struct species *species, char *key, const char *value)
{
	enum window_kind kind = window_of_key(next_word(&key));
	enum climate climate = climate_of_word(next_word(&key));
	struct month_day day;
	struct fault why;
	check_ok(month_day_parse(next_word(&key), &day, &why), &why);
	const struct window_row *rows[ROWS_MAX];
	int32_t count = species_windows(species, kind, climate, rows, ROWS_MAX);
	for (int32_t i = 0; i < count; i++)
		if (circle_within(
			    circle_of(day), circle_of(rows[i]->from), circle_of(rows[i]->to))) {
			check_teller(rows[i]->source, rows[i]->sure, value);
			return;
		}
	check_text("no row", value, "window");
}

/* The gravest row that holds the day; the key may end in a cultivar. */
static void check_cut(const struct species *species, char *key, const char *value)
{
	static const char *const verdicts[] = {"clear", "allowed", "avoid"};
	static const char *const reasons[] = {
		"none", "flowers", "fruit", "disease", "frost", "sun", "bleeding", "regrowth"};
	enum cut_kind kind = cut_kind_of_key(next_word(&key));
	enum climate climate = climate_of_word(next_word(&key));
	struct month_day day;
	struct fault why;
	check_ok(month_day_parse(next_word(&key), &day, &why), &why);
	const struct cut_row *rows[ROWS_MAX];
	const struct cut_row *worst = NULL;
	int32_t count = species_cuts(species, next_word(&key), climate, kind, rows, ROWS_MAX);
	for (int32_t i = 0; i < count; i++)
		if (circle_within(
			    circle_of(day), circle_of(rows[i]->from), circle_of(rows[i]->to)) &&
			(worst == NULL || rows[i]->verdict > worst->verdict))
			worst = rows[i];
	char got[40] = "no row";
	if (worst != NULL)
		snprintf(
			got, sizeof got, "%s %s", verdicts[worst->verdict], reasons[worst->reason]);
	check_text(got, value, "verdict");
}

static void check_value(const struct species *species, const struct table_row *row)
{
	const char *what = row_text(row, "what");
	const char *value = row_text(row, "value");
	char key[80];
	snprintf(key, sizeof key, "%s", row_text(row, "key"));
	if (strcmp(what, "low") == 0 || strcmp(what, "high") == 0)
		check_fact(species, what[0] == 'l', key, value);
	else if (strncmp(what, "feed-", 5) == 0)
		check_feed(species, what, key, value);
	else if (strcmp(what, "window") == 0)
		check_window(species, key, value);
	else if (strcmp(what, "window-day") == 0)
		check_window_day(species, key, value);
	else if (strcmp(what, "fact-source") == 0)
		check_fact_teller(species, key, value);
	else if (strcmp(what, "cut") == 0)
		check_cut(species, key, value);
	else if (strcmp(what, "eppo") == 0)
		check_text(species->eppo, value, "eppo");
	else if (strcmp(what, "botanical") == 0)
		check_text(species->botanical, value, "botanical");
	else if (strcmp(what, "leaf") == 0)
		check_text(species->evergreen ? "evergreen" : "deciduous", value, "leaf");
	else if (strcmp(what, "stage") == 0)
		check_has(
			species_stage(species, (int32_t)strtol(key, NULL, 10))->words, value, key);
	else
		fail();
}

/* The tables are read once for all the rows. */
static struct almanac *shipped(void)
{
	static struct almanac *almanac;
	struct fault why;
	if (almanac == NULL)
		check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	return almanac;
}

static void agrees(const struct table_row *row)
{
	const char *kind = row_text(row, "kind");
	const struct species *species = almanac_species(shipped(), kind[0] == '\0' ? "fig" : kind);
	assert_non_null(species);
	check_value(species, row);
}

int main(void)
{
	struct table *table = outside_open("tests/outside/almanac.tsv");
	int failed = run_rows("almanac outside", table, agrees);
	table_free(table);
	almanac_close(shipped());
	return failed != 0;
}
