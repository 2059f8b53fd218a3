/* SPDX-License-Identifier: MIT */
/* The almanac against a reading of the published facts, value by value: every file
 * tests/outside/almanac-*.tsv, a row a test. The columns:
 *   species  a kind's key; blank for the rows that hold for all kinds
 *   table    species, windows, cuts, feeding, facts, stages
 *   key      the row: a window ("bloom"), a cut and the days it is judged on ("shape 10-01..01-31",
 *            "heading (Rome Beauty) 02-10"), a feeding rule, the key of a fact, a stage. Facts and
 *            windows may add "@source", which picks the rows of that key of sources.csv
 *   climate  of windows and cuts; blank: not known
 *   what     which cell; see the check_ functions below
 *   value    as printed, with its unit
 *   source   who prints it, never blank
 * Where a key has several rows, because sources differ, one of them has to agree. */
#include "almanac/almanac.h"
#include "core/measure.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

#include "support/printed.h"
#include "support/test.h"

enum { ROWS_MAX = 64, FILES_MAX = 16, CASES_MAX = 8192 };

static const char *const SURE[] = {"read", "common-practice", "second-hand", "memory"};

/* A row, cut up. */
struct claim {
	const struct species *species;
	char key[120];
	const char *from_source; /* key of sources.csv; "": any */
	enum climate climate;
	const char *what;
	const char *value;
};

/* One cell of the almanac for the message of a failure. */
static void tell(const char *got)
{
	print_error("the almanac has: %s\n", got);
}

static bool source_fits(const struct claim *claim, const char *source)
{
	return claim->from_source[0] == '\0' || strcmp(claim->from_source, source) == 0;
}

static bool amount_is(struct maybe_i64 got, const char *unit, const char *value)
{
	char base[64];
	int64_t want = printed_base(value, base, sizeof base);
	return got.known && got.value == want && strcmp(unit, base) == 0;
}

/* "8..12 in", "6 in", "..2 years", "50.. percent". */
static bool amounts_are(const struct fact_row *row, const char *value)
{
	const char *dots = strstr(value, "..");
	if (dots == NULL)
		return amount_is(row->low, row->unit, value) &&
		       amount_is(row->high, row->unit, value);
	char low[64];
	const char *unit = dots + 2 + strcspn(dots + 2, " ");
	snprintf(low, sizeof low, "%.*s%s", (int)(dots - value), value, unit);
	bool low_fits = dots == value ? !row->low.known : amount_is(row->low, row->unit, low);
	bool high_fits =
		dots + 2 == unit ? !row->high.known : amount_is(row->high, row->unit, dots + 2);
	return low_fits && high_fits;
}

static bool fact_agrees(const struct fact_row *row, const struct claim *claim)
{
	if (strcmp(claim->what, "low") == 0)
		return amount_is(row->low, row->unit, claim->value);
	if (strcmp(claim->what, "high") == 0)
		return amount_is(row->high, row->unit, claim->value);
	if (strcmp(claim->what, "span") == 0)
		return amounts_are(row, claim->value);
	if (strcmp(claim->what, "text") == 0)
		return strstr(row->text, claim->value) != NULL;
	check_text(claim->what, "sure", "what");
	return strcmp(SURE[row->sure], claim->value) == 0;
}

static void check_facts(const struct claim *claim)
{
	bool agrees = false;
	for (int32_t i = 0; i < claim->species->fact_count; i++) {
		const struct fact_row *row = &claim->species->facts[i];
		if (strcmp(row->key, claim->key) == 0 && source_fits(claim, row->source))
			agrees = agrees || fact_agrees(row, claim);
	}
	if (agrees)
		return;
	for (int32_t i = 0; i < claim->species->fact_count; i++) {
		const struct fact_row *row = &claim->species->facts[i];
		if (strcmp(row->key, claim->key) == 0)
			print_error("the almanac has: %s, %lld to %lld %s, \"%s\" (%s)\n", row->key,
				(long long)row->low.value, (long long)row->high.value, row->unit,
				row->text, row->source);
	}
	fail();
}

/* "mid June..mid July", "03-01..04-30". */
static bool span_is(const struct window_row *row, const char *value)
{
	const char *dots = strstr(value, "..");
	assert_non_null(dots);
	char from[40];
	snprintf(from, sizeof from, "%.*s", (int)(dots - value), value);
	return printed_day_is(from, false, row->from) && printed_day_is(dots + 2, true, row->to);
}

static bool window_agrees(const struct window_row *row, const struct claim *claim)
{
	static const char *const anchors[] = {"calendar", "bloom", "harvest"};
	if (strcmp(claim->what, "from") == 0)
		return printed_day_is(claim->value, false, row->from);
	if (strcmp(claim->what, "to") == 0)
		return printed_day_is(claim->value, true, row->to);
	if (strcmp(claim->what, "span") == 0)
		return span_is(row, claim->value);
	if (strcmp(claim->what, "text") == 0)
		return strstr(row->reason, claim->value) != NULL;
	if (strcmp(claim->what, "anchor") == 0)
		return strcmp(anchors[row->anchor], claim->value) == 0;
	check_text(claim->what, "sure", "what");
	return strcmp(SURE[row->sure], claim->value) == 0;
}

static void check_windows(const struct claim *claim)
{
	const struct window_row *rows[ROWS_MAX];
	enum window_kind kind = window_of_key(claim->key);
	assert_true(kind != WINDOW_TOTAL);
	int32_t count = species_windows(claim->species, kind, claim->climate, rows, ROWS_MAX);
	for (int32_t i = 0; i < count; i++)
		if (source_fits(claim, rows[i]->source) && window_agrees(rows[i], claim))
			return;
	for (int32_t i = 0; i < count; i++)
		print_error("the almanac has: %02d-%02d..%02d-%02d, \"%s\" (%s)\n",
			rows[i]->from.month, rows[i]->from.day, rows[i]->to.month, rows[i]->to.day,
			rows[i]->reason, rows[i]->source);
	fail();
}

static bool holds(const struct cut_row *row, struct month_day day)
{
	return circle_within(circle_of(day), circle_of(row->from), circle_of(row->to));
}

/* The row by which the day is judged: an avoid before a clear, a clear before an allowed one, whose
 * words only add to it. NULL: no row. */
static const struct cut_row *cut_on(
	const struct cut_row *const *rows, int32_t count, struct month_day day)
{
	static const int8_t weight[] = {
		[VERDICT_ALLOWED] = 0, [VERDICT_CLEAR] = 1, [VERDICT_AVOID] = 2};
	const struct cut_row *first = NULL;
	for (int32_t i = 0; i < count; i++)
		if (holds(rows[i], day) &&
			(first == NULL || weight[rows[i]->verdict] > weight[first->verdict]))
			first = rows[i];
	return first;
}

static bool loss_is(const struct cut_row *row, const char *value)
{
	char got[40];
	snprintf(got, sizeof got, "%d..%d percent", (int)row->loss_low_permille.value / 10,
		(int)row->loss_high_permille.value / 10);
	return row->loss_low_permille.known && row->loss_high_permille.known &&
	       strcmp(got, value) == 0;
}

static bool cut_tells(const struct cut_row *row, const struct claim *claim)
{
	static const char *const reasons[] = {
		"none", "flowers", "fruit", "disease", "frost", "sun", "bleeding", "regrowth"};
	if (strcmp(claim->what, "reason") == 0)
		return strcmp(reasons[row->reason], claim->value) == 0;
	if (strcmp(claim->what, "loss") == 0)
		return loss_is(row, claim->value);
	check_text(claim->what, "text", "what");
	return strstr(row->text, claim->value) != NULL;
}

/* One row of several that hold the day: it need not be the one that judges. */
static bool one_tells(const struct claim *claim, const struct cut_row *const *rows, int32_t count,
	struct month_day day)
{
	for (int32_t i = 0; i < count; i++)
		if (holds(rows[i], day) && cut_tells(rows[i], claim))
			return true;
	return false;
}

static void check_cut_day(const struct claim *claim, const struct cut_row *const *rows,
	int32_t count, struct month_day day)
{
	static const char *const verdicts[] = {"clear", "allowed", "avoid"};
	static const char *const crops[] = {"all", "breba", "main"};
	const struct cut_row *judge = cut_on(rows, count, day);
	char got[160];
	snprintf(got, sizeof got, "%s on %02d-%02d, crop %s, \"%.90s\"",
		judge == NULL ? "no row" : verdicts[judge->verdict], day.month, day.day,
		judge == NULL ? "none" : crops[judge->crop], judge == NULL ? "" : judge->text);
	bool agrees;
	if (strcmp(claim->what, "verdict") == 0)
		agrees = strncmp(got, claim->value, strlen(claim->value)) == 0;
	else if (strcmp(claim->what, "crop") == 0)
		agrees = judge != NULL && strcmp(crops[judge->crop], claim->value) == 0;
	else
		agrees = one_tells(claim, rows, count, day);
	if (!agrees) {
		tell(got);
		fail();
	}
}

/* The words of "heading (Rome Beauty)": the cut, and the cultivar if one is named. */
static enum cut_kind cut_of(char *key, const char **cultivar)
{
	char *open = strstr(key, " (");
	*cultivar = "";
	if (open != NULL) {
		open[strlen(open) - 1] = '\0';
		*open = '\0';
		*cultivar = open + 2;
	}
	return cut_kind_of_key(key);
}

static void check_cuts(const struct claim *claim)
{
	char key[120];
	snprintf(key, sizeof key, "%s", claim->key);
	char *days = strrchr(key, ' ');
	assert_non_null(days);
	*days++ = '\0';
	char *dots = strstr(days, "..");
	if (dots != NULL)
		*dots = '\0';
	struct month_day from;
	struct month_day to;
	struct fault why;
	check_ok(month_day_parse(days, &from, &why), &why);
	check_ok(month_day_parse(dots == NULL ? days : dots + 2, &to, &why), &why);
	const char *cultivar;
	enum cut_kind kind = cut_of(key, &cultivar);
	const struct cut_row *rows[ROWS_MAX];
	int32_t count =
		species_cuts(claim->species, cultivar, claim->climate, kind, rows, ROWS_MAX);
	for (int32_t at = circle_of(from);; at++) {
		struct month_day day = circle_month_day(at);
		check_cut_day(claim, rows, count, day);
		if (day.month == to.month && day.day == to.day)
			return;
	}
}

static void check_count(struct maybe_i32 got, const char *value)
{
	assert_true(got.known);
	check_int(got.value, strtol(value, NULL, 10), "count");
}

static bool check_feed_amount(const struct feed_row *feed, const struct claim *claim)
{
	char base[64];
	if (strcmp(claim->what, "rate") == 0)
		check_int(feed->rate_mg, printed_base(claim->value, base, sizeof base), "rate");
	else if (strcmp(claim->what, "cap") == 0)
		check_int(feed->cap_mg.value, printed_base(claim->value, base, sizeof base), "cap");
	else if (strcmp(claim->what, "measured-at") == 0)
		check_int(feed->measured_at_um.value, printed_base(claim->value, base, sizeof base),
			"measured at");
	else if (strcmp(claim->what, "analysis") == 0)
		check_int(feed->product_n_mpct.value, round_i64(strtod(claim->value, NULL) * 1000),
			"percent of nitrogen");
	else
		return false;
	return true;
}

static bool check_feed_count(const struct feed_row *feed, const struct claim *claim)
{
	if (strcmp(claim->what, "splits") == 0)
		check_count(feed->splits, claim->value);
	else if (strcmp(claim->what, "age-from") == 0)
		check_count(feed->age_from, claim->value);
	else if (strcmp(claim->what, "age-to") == 0)
		check_count(feed->age_to, claim->value);
	else
		return false;
	return true;
}

/* per: "inch year"; of: "nitrogen"; region, text and sure as in the table. */
static void check_feed_words(const struct feed_row *feed, const struct claim *claim)
{
	static const char *const bases[] = {"inch", "year-of-age", "tree", "feed"};
	static const char *const periods[] = {"unstated", "feed", "year"};
	char per[40];
	snprintf(per, sizeof per, "%s %s", bases[feed->basis], periods[feed->period]);
	if (strcmp(claim->what, "per") == 0)
		check_text(per, claim->value, "per");
	else if (strcmp(claim->what, "of") == 0)
		check_text(feed->of_nitrogen ? "nitrogen" : "product", claim->value, "of");
	else if (strcmp(claim->what, "region") == 0)
		check_text(feed->region, claim->value, "region");
	else if (strcmp(claim->what, "text") == 0)
		check_has(feed->condition, claim->value, "condition");
	else {
		check_text(claim->what, "sure", "what");
		check_text(SURE[feed->sure], claim->value, "sure");
	}
}

static void check_feeding(const struct claim *claim)
{
	const struct feed_row *feed = NULL;
	for (int32_t i = 0; i < claim->species->feed_count; i++)
		if (strcmp(claim->species->feeds[i].rule, claim->key) == 0)
			feed = &claim->species->feeds[i];
	assert_non_null(feed);
	if (!check_feed_amount(feed, claim) && !check_feed_count(feed, claim))
		check_feed_words(feed, claim);
}

/* share: "25 percent crown", "60 percent shoots". */
static void check_share(const struct species *species, const char *value)
{
	char got[40];
	assert_true(species->share_limit_permille.known);
	snprintf(got, sizeof got, "%d percent %s", (int)species->share_limit_permille.value / 10,
		species->limit_is_shoots ? "shoots" : "crown");
	check_text(got, value, "share");
}

static void check_species(const struct claim *claim)
{
	const struct species *species = claim->species;
	if (strcmp(claim->what, "botanical") == 0)
		check_text(species->botanical, claim->value, "botanical");
	else if (strcmp(claim->what, "eppo") == 0)
		check_text(species->eppo, claim->value, "eppo");
	else if (strcmp(claim->what, "leaf") == 0)
		check_text(species->evergreen ? "evergreen" : "deciduous", claim->value, "leaf");
	else if (strcmp(claim->what, "flower-wood") == 0)
		check_has(species->flower_wood, claim->value, "flower wood");
	else if (strcmp(claim->what, "already-cut") == 0)
		check_has(species->already_cut, claim->value, "already cut");
	else if (strcmp(claim->what, "share-sure") == 0)
		check_text(SURE[species->share_sure], claim->value, "share, how sure");
	else if (strcmp(claim->what, "pruned-yearly") == 0)
		check_text(species->pruned_yearly ? "yes" : "no", claim->value, "pruned yearly");
	else if (strcmp(claim->what, "alone") == 0)
		check_text(self_fruitful_word(species->pollination->alone), claim->value, "alone");
	else {
		check_text(claim->what, "share", "what");
		check_share(species, claim->value);
	}
}

static void check_stages(const struct claim *claim)
{
	const struct stage_row *stage =
		species_stage(claim->species, (int32_t)strtol(claim->key, NULL, 10));
	check_text(claim->what, "text", "what");
	assert_non_null(stage);
	check_has(stage->words, claim->value, claim->key);
}

static enum climate climate_of_word(const char *word)
{
	static const char *const words[] = {
		"", "dry-summer", "cool-maritime", "continental", "humid-mild", "little-rain"};
	for (int i = 0; i < CLIMATE_TOTAL; i++)
		if (strcmp(words[i], word) == 0)
			return (enum climate)i;
	print_error("\"%s\" is no climate\n", word);
	fail();
	return CLIMATE_ANY;
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
	static const struct {
		const char *table;
		void (*check)(const struct claim *claim);
	} checks[] = {{"facts", check_facts}, {"windows", check_windows}, {"cuts", check_cuts},
		{"feeding", check_feeding}, {"species", check_species}, {"stages", check_stages}};
	/* rows for all kinds are handed out with every kind's own */
	const char *kind = row_text(row, "species");
	struct claim claim = {.species = almanac_species(shipped(), kind[0] == '\0' ? "fig" : kind),
		.from_source = "",
		.climate = climate_of_word(row_text(row, "climate")),
		.what = row_text(row, "what"),
		.value = row_text(row, "value")};
	assert_non_null(claim.species);
	assert_true(claim.value[0] != '\0');
	snprintf(claim.key, sizeof claim.key, "%s", row_text(row, "key"));
	char *at = strchr(claim.key, '@');
	if (at != NULL) {
		*at = '\0';
		claim.from_source = at + 1;
	}
	const char *table = row_text(row, "table");
	for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++)
		if (strcmp(checks[i].table, table) == 0) {
			checks[i].check(&claim);
			return;
		}
	print_error("\"%s\" is no table\n", table);
	fail();
}

/* A row under the name that its cells make. */
struct named_row {
	const char *name;
	const struct table_row *row;
	char text[200];
};

static void run_named(const void *one)
{
	agrees(((const struct named_row *)one)->row);
}

static int run_file(const char *path)
{
	struct table *table = outside_open(path);
	static struct named_row cases[CASES_MAX];
	if (table->count > CASES_MAX) {
		(void)fprintf(stderr, "%s: too many rows\n", path);
		return 1;
	}
	for (int i = 0; i < table->count; i++) {
		const struct table_row *row = &table->rows[i];
		snprintf(cases[i].text, sizeof cases[i].text, "%s %s %s %s %s is %.60s (line %d)",
			row_text(row, "species"), row_text(row, "table"), row_text(row, "key"),
			row_text(row, "climate"), row_text(row, "what"), row_text(row, "value"),
			row->line);
		cases[i].name = cases[i].text;
		cases[i].row = row;
	}
	int failed = run_cases(path, cases, (size_t)table->count, sizeof cases[0], run_named);
	table_free(table);
	return failed;
}

static bool is_ours(const char *name)
{
	size_t length = strlen(name);
	return strncmp(name, "almanac-", 8) == 0 && length > 12 &&
	       strcmp(name + length - 4, ".tsv") == 0;
}

static int compare_names(const void *a, const void *b)
{
	return strcmp((const char *)a, (const char *)b);
}

int main(void)
{
	char paths[FILES_MAX][280];
	size_t count = 0;
	const char *top = getenv("BOUGHBOOK_SOURCE");
	char place[SCRATCH_PATH_SIZE];
	snprintf(place, sizeof place, "%s/tests/outside", top != NULL ? top : ".");
	DIR *directory = opendir(place);
	const struct dirent *entry;
	while (directory != NULL && (entry = readdir(directory)) != NULL) {
		if (!is_ours(entry->d_name))
			continue;
		if (count == FILES_MAX) {
			(void)fprintf(stderr, "more than %d tables\n", FILES_MAX);
			return 1;
		}
		snprintf(paths[count++], sizeof paths[0], "tests/outside/%s", entry->d_name);
	}
	if (directory != NULL)
		(void)closedir(directory);
	qsort(paths, count, sizeof paths[0], compare_names);
	int failed = count == 0; /* no table is no pass */
	for (size_t i = 0; i < count; i++)
		failed += run_file(paths[i]);
	almanac_close(shipped());
	return failed != 0;
}
