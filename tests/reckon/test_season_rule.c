/* SPDX-License-Identifier: MIT */
/* How the seasons of a kind are cut and named: made rows, then the shipped almanac. */
#include "reckon/make.h"

#include "reckon/season.h"

static const struct place north = {.hemisphere = HEMISPHERE_NORTH};
static const struct place south = {.hemisphere = HEMISPHERE_SOUTH};
static const struct place nowhere = {.hemisphere = HEMISPHERE_UNKNOWN};
static const struct place tropics_south = {
	.hemisphere = HEMISPHERE_SOUTH, .latitude_udeg = {-5000000, true}};

/* clang-format off */
#define HARVEST(fm, fd, tm, td) \
	{.kind = WINDOW_HARVEST, .from = {fm, fd}, .to = {tm, td}, .anchor = ANCHOR_HARVEST}
#define BLOOM(fm, fd, tm, td) \
	{.kind = WINDOW_BLOOM, .from = {fm, fd}, .to = {tm, td}, .anchor = ANCHOR_BLOOM}
#define ALL_YEAR(what) {.kind = (what), .from = {1, 1}, .to = {12, 31}, .all_year = true}

static const struct window_row peach_rows[] = {HARVEST(5, 1, 9, 30), BLOOM(3, 1, 4, 30)};
static const struct window_row navel_rows[] = {HARVEST(11, 1, 5, 31), BLOOM(3, 1, 5, 31)};
static const struct window_row mandarin_rows[] = {HARVEST(10, 1, 4, 30), BLOOM(3, 1, 5, 31)};
static const struct window_row loquat_rows[] = {HARVEST(2, 1, 6, 15), BLOOM(10, 1, 2, 28)};
static const struct window_row lemon_rows[] = {ALL_YEAR(WINDOW_HARVEST), ALL_YEAR(WINDOW_BLOOM),
	BLOOM(3, 1, 5, 31)};
static const struct window_row fig_rows[] = {HARVEST(6, 1, 6, 30), HARVEST(8, 1, 10, 31)};
static const struct window_row long_rows[] = {HARVEST(9, 1, 7, 31), BLOOM(3, 1, 5, 31)};
static const struct window_row sixty_rows[] = {HARVEST(9, 1, 7, 3), BLOOM(3, 1, 5, 31)};
static const struct window_row bare_rows[] = {ALL_YEAR(WINDOW_HARVEST)};
/* clang-format on */

#define KIND(rows)                                                                             \
	{                                                                                      \
		.key = #rows, .windows = (rows), .window_count = sizeof(rows) / sizeof *(rows) \
	}
static const struct species peach = KIND(peach_rows), navel = KIND(navel_rows),
			    mandarin = KIND(mandarin_rows), loquat = KIND(loquat_rows),
			    lemon = KIND(lemon_rows), fig = KIND(fig_rows),
			    nearly_all_year = KIND(long_rows), gap_of_sixty = KIND(sixty_rows),
			    without_bloom = KIND(bare_rows);

static struct season_rule rule_for(const struct species *species, const struct place *place)
{
	return season_rule_for(species, CLIMATE_ANY, place, NULL, 0, "");
}

struct rule_case {
	const char *name;
	const struct species *species;
	const struct place *place;
	int32_t turn;     /* month x 100 + day */
	int32_t from, to; /* the same; 0: not known */
	bool years_add, crosses;
};

static const struct rule_case rule_cases[] = {
	{"peach, north", &peach, &north, 114, 501, 930, false, false},
	{"peach, south", &peach, &south, 716, 1101, 330, false, true},
	{"navel, north", &navel, &north, 816, 1101, 531, false, true},
	{"loquat, north", &loquat, &north, 1008, 201, 615, true, false},
	{"loquat, south", &loquat, &south, 408, 801, 1215, false, false},
	{"lemon turns on bloom", &lemon, &north, 301, 301, 228, false, true},
	{"lemon, south", &lemon, &south, 901, 901, 831, false, true},
	{"two crops of fig are one season", &fig, &north, 214, 601, 1031, false, false},
	{"a gap under 60 days turns on bloom", &nearly_all_year, &north, 301, 901, 731, false,
		true},
	{"a gap of 60 days is halved", &gap_of_sixty, &north, 802, 901, 703, false, true},
	{"all year without a known bloom", &without_bloom, &north, 101, 0, 0, false, false},
	{"kind not known, north", NULL, &north, 101, 0, 0, false, false},
	{"kind not known, south", NULL, &south, 701, 0, 0, false, true},
	{"no hemisphere", &peach, &nowhere, 101, 0, 0, false, false},
	{"near the equator", &peach, &tropics_south, 701, 0, 0, false, true},
};

static void rule_case_run(const void *one)
{
	const struct rule_case *at = one;
	struct season_rule rule = rule_for(at->species, at->place);
	check_int(rule.turn.month * 100 + rule.turn.day, at->turn, "turn");
	check_int(rule.harvest_from.month * 100 + rule.harvest_from.day, at->from, "from");
	check_int(rule.harvest_to.month * 100 + rule.harvest_to.day, at->to, "to");
	check_int(rule.years_add, at->years_add, "years_add");
	check_int(rule.crosses, at->crosses, "crosses");
}

struct name_case {
	const char *name;
	const struct species *species;
	const struct place *place;
	const char *day, *season;
};

static const struct name_case name_cases[] = {
	{"navel, north", &navel, &north, "1916-01-15", "1915/16"},
	{"mandarin, north", &mandarin, &north, "2024-11-20", "2024/25"},
	{"peach, south", &peach, &south, "1935-01-20", "1934/35"},
	{"loquat, south", &loquat, &south, "2026-10-20", "2026"},
	{"loquat, north", &loquat, &north, "2026-05-01", "2026"},
	{"lemon, north", &lemon, &north, "1916-09-30", "1916/17"},
	{"kind not known, south", NULL, &south, "2026-03-01", "2025/26"},
};

static void name_case_run(const void *one)
{
	const struct name_case *at = one;
	char name[12];
	struct season_rule rule = rule_for(at->species, at->place);
	check_text(season_name(&rule, season_year_of(&rule, day_of(at->day)), name, sizeof name),
		at->season, at->name);
}

static struct own_window own_of(const char *tree, const char *species, const char *window,
	struct month_day from, struct month_day to)
{
	struct own_window own = {.from = from, .to = to};
	snprintf(own.tree_id, sizeof own.tree_id, "%s", tree);
	snprintf(own.species, sizeof own.species, "%s", species);
	snprintf(own.window, sizeof own.window, "%s", window);
	return own;
}

static void a_harvest_set_by_hand_cuts_the_seasons(void **state)
{
	(void)state;
	const struct own_window own[] = {
		own_of("", "navel_rows", "harvest", (struct month_day){3, 1},
			(struct month_day){10, 31}),
		own_of("T1", "", "harvest", (struct month_day){12, 1}, (struct month_day){1, 31})};
	struct season_rule rule = season_rule_for(&navel, CLIMATE_ANY, &north, own, 2, "T2");
	check_int(rule.harvest_from.month, 3, "the kind's own: a Valencia");
	assert_false(rule.crosses);
	rule = season_rule_for(&navel, CLIMATE_ANY, &north, own, 2, "T1");
	check_int(rule.harvest_from.month, 12, "the tree's own");
	assert_true(rule.crosses);
	rule = season_rule_for(NULL, CLIMATE_ANY, &nowhere, own, 2, "T1");
	check_int(rule.harvest_from.month, 12, "without kind and hemisphere");
	const struct own_window lemons = own_of(
		"", "lemon_rows", "harvest", (struct month_day){11, 1}, (struct month_day){4, 30});
	rule = season_rule_for(&lemon, CLIMATE_ANY, &north, &lemons, 1, "T1");
	check_int(rule.harvest_from.month, 11, "a lemon with a time of its own");
	check_int(rule.turn.month, 7, "turns between its harvests");
}

/* --- the shipped almanac --- */

static struct almanac *shipped(void)
{
	static struct almanac *almanac;
	struct fault why = {0};
	if (almanac == NULL)
		check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	return almanac;
}

struct shipped_case {
	const char *name;
	const char *key;
	const struct place *place;
	const char *day, *season;
};

static const struct shipped_case shipped_cases[] = {
	{"navel, north, as shipped", "orange", &north, "1916-01-15", "1915/16"},
	{"peach, south, as shipped", "peach", &south, "1935-01-20", "1934/35"},
	{"loquat, south, as shipped", "loquat", &south, "2026-10-20", "2026"},
	{"loquat, north, as shipped", "loquat", &north, "2026-05-01", "2026"},
	{"lemon, north, as shipped", "lemon", &north, "1916-09-30", "1916/17"},
	{"apple, north, as shipped", "apple", &north, "2025-11-05", "2025"},
	{"pear, north, as shipped", "european_pear", &north, "2025-10-20", "2025"},
	{"pear, south, as shipped", "european_pear", &south, "2025-02-10", "2025"},
	{"nashi, south, as shipped", "asian_pear", &south, "2025-01-10", "2025"},
	{"quince, north, as shipped", "quince", &north, "2025-11-10", "2025"},
	{"quince, south, as shipped", "quince", &south, "2025-05-10", "2025"},
	{"sweet cherry, north, as shipped", "sweet_cherry", &north, "2025-06-10", "2025"},
	{"sweet cherry, south, as shipped", "sweet_cherry", &south, "2024-12-10", "2024/25"},
	{"sweet cherry of January, south", "sweet_cherry", &south, "2025-01-10", "2024/25"},
	{"sour cherry, south, as shipped", "sour_cherry", &south, "2025-01-15", "2024/25"},
	{"European plum, south, as shipped", "european_plum", &south, "2025-02-10", "2025"},
	{"Japanese plum, north, as shipped", "japanese_plum", &north, "2025-07-10", "2025"},
	{"Japanese plum, south, as shipped", "japanese_plum", &south, "2025-01-10", "2024/25"},
	{"almond, north, as shipped", "almond", &north, "2025-09-10", "2025"},
	{"almond, south, as shipped", "almond", &south, "2025-03-10", "2025"},
	{"apricot, north, as shipped", "apricot", &north, "2025-06-20", "2025"},
	{"fig, north, as shipped", "fig", &north, "2025-10-20", "2025"},
	{"mandarin, north, as shipped", "mandarin", &north, "2024-11-20", "2024/25"},
	{"mandarin, spring, as shipped", "mandarin", &north, "2025-04-10", "2024/25"},
	{"mandarin, south, as shipped", "mandarin", &south, "2025-06-20", "2025"},
	{"avocado of May, north", "avocado", &north, "2025-05-10", "2024/25"},
	{"avocado of December, north", "avocado", &north, "2025-12-10", "2025/26"},
	{"avocado of October, south", "avocado", &south, "2025-10-10", "2025/26"},
	{"olive of January, north", "olive", &north, "2025-01-10", "2024/25"},
	{"olive of June, south", "olive", &south, "2025-06-10", "2025"},
	{"feijoa, north", "feijoa", &north, "2025-10-10", "2025"},
	{"feijoa, south", "feijoa", &south, "2025-04-10", "2025"},
	{"guava, north", "guava", &north, "2025-08-10", "2025"},
	{"guava, south", "guava", &south, "2025-03-10", "2025"},
	{"pomegranate, north", "pomegranate", &north, "2025-10-10", "2025"},
	{"pomegranate, south", "pomegranate", &south, "2025-04-10", "2025"},
	{"persimmon, north", "persimmon", &north, "2025-11-10", "2025"},
	{"persimmon, south", "persimmon", &south, "2025-05-10", "2025"},
	{"mulberry, north", "mulberry", &north, "2025-06-10", "2025"},
	{"mulberry of January, south", "mulberry", &south, "2026-01-10", "2025/26"},
	{"walnut, north", "walnut", &north, "2025-10-10", "2025"},
	{"walnut, south", "walnut", &south, "2025-04-10", "2025"},
	{"chestnut, north", "chestnut", &north, "2025-10-10", "2025"},
	{"chestnut, south", "chestnut", &south, "2025-04-10", "2025"},
	{"hazelnut, north", "hazelnut", &north, "2025-09-10", "2025"},
	{"hazelnut, south", "hazelnut", &south, "2025-03-10", "2025"},
};

static void shipped_case_run(const void *one)
{
	const struct shipped_case *at = one;
	const struct species *species = almanac_species(shipped(), at->key);
	assert_non_null(species);
	char name[12];
	struct season_rule rule = rule_for(species, at->place);
	check_text(season_name(&rule, season_year_of(&rule, day_of(at->day)), name, sizeof name),
		at->season, at->name);
}

static const enum climate climates[] = {CLIMATE_ANY, CLIMATE_DRY_SUMMER, CLIMATE_COOL_MARITIME,
	CLIMATE_CONTINENTAL, CLIMATE_HUMID_MILD, CLIMATE_LITTLE_RAIN};

static void the_harvest_of_every_kind_lies_in_the_season_of_its_name(void **state)
{
	(void)state;
	const struct place *const places[] = {&north, &south};
	for (int32_t at = 0; at < almanac_species_count(shipped()); at++) {
		for (size_t which = 0; which < 2 * sizeof climates / sizeof *climates; which++) {
			const struct species *species = almanac_species_at(shipped(), at);
			struct season_rule rule = season_rule_for(
				species, climates[which / 2], places[which % 2], NULL, 0, "");
			for (int32_t year = 2019; year <= 2026; year++) {
				struct window_span harvest;
				assert_true(season_harvest(&rule, year, &harvest));
				check_int(season_year_of(&rule, harvest.from), year, species->key);
				check_int(date_parts(harvest.from).year, year, species->key);
				check_int(date_parts(harvest.to).year > year, rule.crosses,
					species->key);
			}
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_harvest_set_by_hand_cuts_the_seasons),
		cmocka_unit_test(the_harvest_of_every_kind_lies_in_the_season_of_its_name),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("rules of seasons", rule_cases, rule_case_run);
	failed += RUN_CASES("names of seasons", name_cases, name_case_run);
	failed += RUN_CASES("names by the shipped almanac", shipped_cases, shipped_case_run);
	almanac_close(shipped());
	return failed != 0;
}
