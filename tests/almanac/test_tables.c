/* SPDX-License-Identifier: MIT */
/* The shipped tables as a whole: every row of every kind in every climate hangs together. */
#include "almanac/almanac.h"

#include <stdio.h>
#include <string.h>

#include "support/test.h"

enum { ROWS_MAX = 64 };

static const enum cut_kind CUTS[] = {
	CUT_THINNING, CUT_HEADING, CUT_HEIGHT, CUT_SHAPE, CUT_RENOVATION, CUT_SUMMER_TIP};
enum { CUT_KINDS = sizeof CUTS / sizeof CUTS[0] };

static int open_tables(void **state)
{
	struct almanac *almanac = NULL;
	struct fault why;
	check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	*state = almanac;
	return 0;
}

static int close_tables(void **state)
{
	almanac_close(*state);
	return 0;
}

/* Calls `look` for every kind. */
static void each_species(const struct almanac *almanac,
	void (*look)(const struct almanac *almanac, const struct species *species))
{
	for (int32_t i = 0; i < almanac_species_count(almanac); i++)
		look(almanac, almanac_species_at(almanac, i));
}

static void fail_row(const struct species *species, const char *what, const char *text)
{
	print_error("%s: %s: %s\n", species->key, what, text);
	fail();
}

/* --- sources --- */

static void sources_are_there(const struct almanac *almanac, const struct species *species)
{
	for (int32_t i = 0; i < species->window_count; i++)
		if (almanac_source(almanac, species->windows[i].source) == NULL)
			fail_row(species, "window without source", species->windows[i].reason);
	for (int32_t i = 0; i < species->cut_count; i++)
		if (almanac_source(almanac, species->cuts[i].source) == NULL)
			fail_row(species, "cut without source", species->cuts[i].text);
	for (int32_t i = 0; i < species->feed_count; i++)
		if (almanac_source(almanac, species->feeds[i].source) == NULL)
			fail_row(species, "feed without source", species->feeds[i].rule);
	for (int32_t i = 0; i < species->fact_count; i++)
		if (almanac_source(almanac, species->facts[i].source) == NULL)
			fail_row(species, "fact without source", species->facts[i].key);
	for (int32_t i = 0; i < species->stage_count; i++)
		if (almanac_source(almanac, species->stages[i].source) == NULL)
			fail_row(species, "stage without source", species->stages[i].words);
}

static void every_row_has_a_source(void **state)
{
	each_species(*state, sources_are_there);
}

/* Rows that are only ours or from memory may not say that they were read. */
static void memory_is_honest(const struct almanac *almanac, const struct species *species)
{
	(void)almanac;
	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];
		bool from_memory =
			strstr(row->source, "memory") != NULL || strcmp(row->source, "ours") == 0;
		if (from_memory && row->sure != KNOWN_MEMORY)
			fail_row(species, "a memory that says it was read", row->key);
	}
	for (int32_t i = 0; i < species->cut_count; i++) {
		const struct cut_row *row = &species->cuts[i];
		bool from_memory =
			strstr(row->source, "memory") != NULL || strcmp(row->source, "ours") == 0;
		if (from_memory && row->sure != KNOWN_MEMORY)
			fail_row(species, "a memory that says it was read", row->text);
	}
}

static void names_are_honest(const struct almanac *almanac, const struct species *species)
{
	enum { NAMES_MAX = 64 };
	const struct name_row *names[NAMES_MAX];
	int32_t count = almanac_names(almanac, species->key, names, NAMES_MAX);
	assert_in_range(count, 1, NAMES_MAX);
	for (int32_t i = 0; i < count; i++) {
		if (almanac_source(almanac, names[i]->source) == NULL)
			fail_row(species, "name without source", names[i]->name);
		if (strstr(names[i]->source, "memory") != NULL && names[i]->sure != KNOWN_MEMORY)
			fail_row(species, "a name from memory that says more", names[i]->name);
	}
}

static void names_say_whence_they_are(void **state)
{
	each_species(*state, names_are_honest);
}

static void memory_never_says_it_was_read(void **state)
{
	each_species(*state, memory_is_honest);
}

/* --- windows --- */

/* Days from one day of the year on to the next. */
static int32_t days_on(struct month_day from, struct month_day to)
{
	return (circle_of(to) - circle_of(from) + 365) % 365;
}

static const struct window_row *only_row(
	const struct species *species, enum window_kind kind, enum climate climate)
{
	const struct window_row *rows[ROWS_MAX];
	return species_windows(species, kind, climate, rows, ROWS_MAX) == 1 ? rows[0] : NULL;
}

static void year_hangs_together(const struct almanac *almanac, const struct species *species)
{
	(void)almanac;
	for (int climate = 0; climate < CLIMATE_TOTAL; climate++) {
		const struct window_row *bloom =
			only_row(species, WINDOW_BLOOM, (enum climate)climate);
		const struct window_row *fruit =
			only_row(species, WINDOW_FRUIT, (enum climate)climate);
		const struct window_row *harvest =
			only_row(species, WINDOW_HARVEST, (enum climate)climate);
		if (harvest == NULL || fruit == NULL) {
			fail_row(species, "no harvest or fruit in",
				climate_title((enum climate)climate));
			return;
		}
		if (bloom == NULL || harvest->all_year)
			continue;
		int32_t ripening = days_on(bloom->from, harvest->from);
		if (ripening < 30 || ripening > 330)
			fail_row(species, "harvest does not follow bloom", harvest->reason);
		int32_t span = days_on(harvest->from, harvest->to);
		if (fruit->all_year)
			continue;
		if (days_on(bloom->from, fruit->from) > ripening)
			fail_row(species, "fruit after harvest", fruit->reason);
		if (days_on(fruit->from, harvest->from) + span > days_on(fruit->from, fruit->to))
			fail_row(species, "fruit is gone before the harvest ends", fruit->reason);
	}
}

static void bloom_fruit_and_harvest_follow_each_other(void **state)
{
	each_species(*state, year_hangs_together);
}

static void feeding_is_told(const struct almanac *almanac, const struct species *species)
{
	(void)almanac;
	const struct window_row *rows[ROWS_MAX];
	for (int climate = 0; climate < CLIMATE_TOTAL; climate++)
		if (species_windows(
			    species, WINDOW_FEED_CLEAR, (enum climate)climate, rows, ROWS_MAX) == 0)
			fail_row(species, "no window for feeding in",
				climate_title((enum climate)climate));
}

static void every_kind_has_a_feed_window_in_every_climate(void **state)
{
	each_species(*state, feeding_is_told);
}

/* --- seasons: the harvest spans that name them --- */

static void check_span(
	const struct almanac *almanac, const char *key, bool crosses_north, bool crosses_south)
{
	for (int climate = 0; climate < CLIMATE_TOTAL; climate++) {
		const struct window_row *row = only_row(
			almanac_species(almanac, key), WINDOW_HARVEST, (enum climate)climate);
		assert_non_null(row);
		bool north = circle_of(row->from) > circle_of(row->to);
		bool south = circle_of(month_day_mirror(row->from)) >
			     circle_of(month_day_mirror(row->to));
		check_int(north, crosses_north, key);
		check_int(south, crosses_south, key);
		assert_true(days_on(row->to, row->from) >= 60);
	}
}

static void harvests_cross_new_year_where_seasons_need_it(void **state)
{
	const struct almanac *almanac = *state;
	check_span(almanac, "orange", true, false);
	check_span(almanac, "mandarin", true, false);
	check_span(almanac, "avocado", true, true);
	check_span(almanac, "olive", true, false);
	check_span(almanac, "feijoa", false, false);
	check_span(almanac, "guava", false, false);
	check_span(almanac, "pomegranate", false, false);
	check_span(almanac, "persimmon", false, false);
	check_span(almanac, "mulberry", false, true);
	check_span(almanac, "walnut", false, false);
	check_span(almanac, "chestnut", false, false);
	check_span(almanac, "hazelnut", false, false);
	check_span(almanac, "loquat", false, false);
	check_span(almanac, "peach", false, true);
	check_span(almanac, "sweet_cherry", false, true);
	check_span(almanac, "sour_cherry", false, true);
	check_span(almanac, "japanese_plum", false, true);
	check_span(almanac, "european_plum", false, false);
	check_span(almanac, "almond", false, false);
	check_span(almanac, "quince", false, false);
	check_span(almanac, "apple", false, false);
}

static void lemon_is_picked_all_year_and_turns_on_bloom(void **state)
{
	const struct species *lemon = almanac_species(*state, "lemon");
	assert_true(lemon->harvest_all_year);
	assert_true(only_row(lemon, WINDOW_HARVEST, CLIMATE_ANY)->all_year);
	assert_non_null(only_row(lemon, WINDOW_BLOOM, CLIMATE_DRY_SUMMER));
}

/* --- cuts --- */

static bool cuts_meet(const struct cut_row *a, const struct cut_row *b)
{
	return circle_within(circle_of(a->from), circle_of(b->from), circle_of(b->to)) ||
	       circle_within(circle_of(b->from), circle_of(a->from), circle_of(a->to));
}

static void no_day_is_both(
	const struct species *species, const struct cut_row *const *rows, int32_t count)
{
	for (int32_t i = 0; i < count; i++)
		for (int32_t k = 0; k < count; k++)
			if (rows[i]->verdict == VERDICT_CLEAR &&
				rows[k]->verdict == VERDICT_AVOID && cuts_meet(rows[i], rows[k]))
				fail_row(species, "a day both clear and to be avoided",
					rows[i]->text);
}

static void cuts_hang_together(const struct almanac *almanac, const struct species *species)
{
	(void)almanac;
	static const char *const cultivars[] = {"", "Rome Beauty", "Fuji"};
	const struct cut_row *rows[ROWS_MAX];
	for (int climate = 0; climate < CLIMATE_TOTAL; climate++) {
		for (size_t kind = 0; kind < CUT_KINDS; kind++) {
			for (size_t c = 0; c < sizeof cultivars / sizeof cultivars[0]; c++) {
				int32_t count = species_cuts(species, cultivars[c],
					(enum climate)climate, CUTS[kind], rows, ROWS_MAX);
				assert_true(count < ROWS_MAX);
				no_day_is_both(species, rows, count);
			}
		}
	}
}

static void no_day_is_clear_and_to_be_avoided(void **state)
{
	each_species(*state, cuts_hang_together);
}

/* Each cut but the summer tip can be made at some time of the year, in every climate. */
static void a_way_is_open(const struct almanac *almanac, const struct species *species)
{
	(void)almanac;
	const struct cut_row *rows[ROWS_MAX];
	for (int climate = 0; climate < CLIMATE_TOTAL; climate++) {
		for (size_t kind = 0; kind < CUT_KINDS; kind++) {
			int32_t count = species_cuts(
				species, "", (enum climate)climate, CUTS[kind], rows, ROWS_MAX);
			bool open = CUTS[kind] == CUT_SUMMER_TIP;
			for (int32_t i = 0; i < count; i++)
				open = open || rows[i]->verdict != VERDICT_AVOID;
			if (!open)
				fail_row(species, "never to be cut in",
					climate_title((enum climate)climate));
		}
	}
}

static void every_cut_has_a_time_in_every_climate(void **state)
{
	each_species(*state, a_way_is_open);
}

static void nothing_forbids_sanitation_or_suckers(void **state)
{
	const struct almanac *almanac = *state;
	for (int32_t i = 0; i < almanac_species_count(almanac); i++) {
		const struct species *species = almanac_species_at(almanac, i);
		for (int32_t k = 0; k < species->cut_count; k++) {
			assert_int_not_equal(species->cuts[k].kind, CUT_SANITATION);
			assert_int_not_equal(species->cuts[k].kind, CUT_SUCKER);
			assert_int_not_equal(species->cuts[k].kind, CUT_UNSAID);
		}
	}
}

/* What may be urgent rests on what was read. */
static void loquat_flowers_rest_on_what_was_read(void **state)
{
	const struct species *loquat = almanac_species(*state, "loquat");
	int32_t seen = 0;
	for (int32_t i = 0; i < loquat->cut_count; i++) {
		const struct cut_row *row = &loquat->cuts[i];
		if (row->verdict != VERDICT_AVOID)
			continue;
		check_int(row->sure, KNOWN_READ, row->text);
		seen++;
	}
	assert_true(seen > 0);
}

static bool day_is_avoided(const struct species *species, int32_t place)
{
	const struct cut_row *rows[ROWS_MAX];
	int32_t count = species_cuts(species, "", CLIMATE_ANY, CUT_SHAPE, rows, ROWS_MAX);
	for (int32_t i = 0; i < count; i++)
		if (rows[i]->verdict == VERDICT_AVOID &&
			circle_within(place, circle_of(rows[i]->from), circle_of(rows[i]->to)))
			return true;
	return false;
}

static void loquat_is_left_from_mid_august_until_the_last_pick(void **state)
{
	const struct species *loquat = almanac_species(*state, "loquat");
	int32_t from = circle_of((struct month_day){8, 15});
	int32_t to = circle_of((struct month_day){6, 15});
	for (int32_t place = 1; place <= 365; place++)
		check_int(day_is_avoided(loquat, place), circle_within(place, from, to), "day");
}

static bool says(const struct species *species, enum climate climate, enum cut_kind kind,
	enum verdict verdict, int32_t place)
{
	const struct cut_row *rows[ROWS_MAX];
	int32_t count = species_cuts(species, "", climate, kind, rows, ROWS_MAX);
	for (int32_t i = 0; i < count; i++)
		if (rows[i]->verdict == verdict &&
			circle_within(place, circle_of(rows[i]->from), circle_of(rows[i]->to)))
			return true;
	return false;
}

/* Kinds that bear at the shoot tips: in the weeks of rest in which whole shoots are thinned. */
static void tip_bearers_are_thinned_and_not_headed(void **state)
{
	static const char *const keys[] = {
		"quince", "pomegranate", "persimmon", "chestnut", "hazelnut"};
	for (size_t at = 0; at < sizeof keys / sizeof keys[0]; at++) {
		const struct species *species = almanac_species(*state, keys[at]);
		for (int climate = 0; climate < CLIMATE_TOTAL; climate++) {
			int32_t weeks = 0;
			for (int32_t place = 1; place <= circle_of((struct month_day){3, 31});
				place++) {
				if (!says(species, (enum climate)climate, CUT_THINNING,
					    VERDICT_CLEAR, place))
					continue;
				weeks++;
				if (!says(species, (enum climate)climate, CUT_HEADING,
					    VERDICT_AVOID, place))
					fail_row(species, "headed dormant in",
						climate_title((enum climate)climate));
			}
			if (weeks < 28)
				fail_row(species, "hardly thinned dormant in",
					climate_title((enum climate)climate));
		}
	}
}

/* --- feeds and facts --- */

static void feeds_are_sane(const struct almanac *almanac, const struct species *species)
{
	(void)almanac;
	for (int32_t i = 0; i < species->feed_count; i++) {
		const struct feed_row *row = &species->feeds[i];
		bool in_hand = strcmp(row->rule, "pound-per-inch") == 0;
		if (!row->of_nitrogen && row->product_n_mpct.known == in_hand)
			fail_row(species, "a product without its nitrogen", row->rule);
		if (row->of_nitrogen && row->product_n_mpct.known)
			fail_row(species, "nitrogen with an analysis", row->rule);
		if (row->cap_mg.known && row->cap_mg.value < row->rate_mg)
			fail_row(species, "a cap under the rate", row->rule);
		/* 2.2 lb of actual N a tree is the highest found anywhere. */
		int64_t nitrogen_mg = row->of_nitrogen
					      ? row->rate_mg
					      : row->rate_mg / 100000 * row->product_n_mpct.value;
		if (nitrogen_mg > 1000000)
			fail_row(species, "more than 1 kg of nitrogen", row->rule);
	}
}

static void feeds_stay_within_what_was_published(void **state)
{
	each_species(*state, feeds_are_sane);
}

static void facts_are_sane(const struct almanac *almanac, const struct species *species)
{
	(void)almanac;
	static const char *const keys[] = {"fruit-weight", "yield-per-tree", "years-to-crop"};
	static const char *const units[] = {"mg", "mg", "years"};
	static const int64_t tops[] = {500000, 200000000, 15};
	for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
		const struct fact_row *row = species_fact(species, keys[i]);
		if (row == NULL) {
			fail_row(species, "no fact", keys[i]);
			return;
		}
		assert_string_equal(row->unit, units[i]);
		assert_true(row->low.known && row->low.value > 0);
		assert_true(row->high.known && row->high.value <= tops[i]);
	}
	bool cautioned = false;
	for (int32_t i = 0; i < species->fact_count; i++)
		cautioned = cautioned || strncmp(species->facts[i].key, "caution-", 8) == 0;
	assert_true(cautioned);
	assert_non_null(species_fact(species, "ripeness"));
	assert_non_null(species_fact(species, "caution-ladder"));
}

static void every_kind_has_the_facts_that_others_read(void **state)
{
	each_species(*state, facts_are_sane);
}

static void warmer_than_ten_percent_kill_is_safer(void **state)
{
	const struct almanac *almanac = *state;
	int32_t pairs = 0;
	for (int32_t i = 0; i < almanac_species_count(almanac); i++) {
		const struct species *species = almanac_species_at(almanac, i);
		for (int32_t k = 0; k < species->fact_count; k++) {
			const struct fact_row *ten = &species->facts[k];
			if (strncmp(ten->key, "kill-10-", 8) != 0)
				continue;
			char key[KEY_SIZE];
			snprintf(key, sizeof key, "kill-90-%.20s", ten->key + 8);
			const struct fact_row *ninety = species_fact(species, key);
			if (ninety == NULL)
				continue;
			assert_string_equal(ten->unit, "decic");
			assert_true(ninety->low.value < ten->low.value);
			pairs++;
		}
	}
	assert_true(pairs >= 23);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_row_has_a_source),
		cmocka_unit_test(memory_never_says_it_was_read),
		cmocka_unit_test(names_say_whence_they_are),
		cmocka_unit_test(bloom_fruit_and_harvest_follow_each_other),
		cmocka_unit_test(every_kind_has_a_feed_window_in_every_climate),
		cmocka_unit_test(harvests_cross_new_year_where_seasons_need_it),
		cmocka_unit_test(lemon_is_picked_all_year_and_turns_on_bloom),
		cmocka_unit_test(no_day_is_clear_and_to_be_avoided),
		cmocka_unit_test(every_cut_has_a_time_in_every_climate),
		cmocka_unit_test(nothing_forbids_sanitation_or_suckers),
		cmocka_unit_test(loquat_flowers_rest_on_what_was_read),
		cmocka_unit_test(loquat_is_left_from_mid_august_until_the_last_pick),
		cmocka_unit_test(tip_bearers_are_thinned_and_not_headed),
		cmocka_unit_test(feeds_stay_within_what_was_published),
		cmocka_unit_test(every_kind_has_the_facts_that_others_read),
		cmocka_unit_test(warmer_than_ten_percent_kill_is_safer),
	};
	return cmocka_run_group_tests_name("almanac tables", tests, open_tables, close_tables) != 0;
}
