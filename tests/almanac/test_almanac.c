/* SPDX-License-Identifier: MIT */
/* The almanac: the tables as they are shipped, and asking them. */
#include "almanac/almanac.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/scratch.h"
#include "support/table.h"
#include "support/test.h"

enum { ROWS_MAX = 64 };

static struct almanac *open_shipped(void)
{
	struct almanac *almanac = NULL;
	struct fault why;
	check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	return almanac;
}

/* --- reading --- */

static void opens_the_shipped_tables(void **state)
{
	(void)state;
	struct almanac *almanac = open_shipped();
	assert_true(almanac_species_count(almanac) >= 7);
	static const char *const keys[] = {
		"loquat", "apple", "peach", "apricot", "fig", "lemon", "orange"};
	for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
		assert_non_null(almanac_species(almanac, keys[i]));
	assert_null(almanac_species(almanac, "mango"));
	assert_null(almanac_species_at(almanac, -1));
	assert_null(almanac_species_at(almanac, almanac_species_count(almanac)));
	almanac_close(almanac);
}

static void names_no_source_that_is_not_there(void **state)
{
	(void)state;
	struct almanac *almanac = open_shipped();
	assert_non_null(almanac_source(almanac, "edis-mg050"));
	assert_null(almanac_source(almanac, "hearsay"));
	almanac_close(almanac);
}

static void tells_the_feeding_rules_of_all_kinds_apart(void **state)
{
	(void)state;
	struct almanac *almanac = open_shipped();
	int32_t count = 0;
	const struct feed_row *common = almanac_common_feeds(almanac, &count);
	assert_true(count > 0);
	check_text(common[0].rule, "pound-per-inch", "first");
	const struct species *fig = almanac_species(almanac, "fig");
	assert_true(fig->feed_count > count);
	for (int32_t i = 0; i < count; i++)
		check_text(fig->feeds[fig->feed_count - count + i].rule, common[i].rule,
			"a kind's own rules, then those of all");
	almanac_close(almanac);
}

/* --- where it lies --- */

static void finds_what_is_named_first(void **state)
{
	(void)state;
	char out[4096];
	struct fault why;
	check_ok(almanac_find("share/almanac", out, sizeof out, &why), &why);
	assert_string_equal(out, "share/almanac");
	check_refused(almanac_find("/nowhere", out, sizeof out, &why), STATUS_ABSENT, &why,
		"no almanac in /nowhere");
	setenv("BOUGHBOOK_ALMANAC", "share/almanac", 1);
	check_ok(almanac_find(NULL, out, sizeof out, &why), &why);
	assert_string_equal(out, "share/almanac");
	setenv("BOUGHBOOK_ALMANAC", "/nowhere", 1);
	check_refused(almanac_find(NULL, out, sizeof out, &why), STATUS_ABSENT, &why, "/nowhere");
	unsetenv("BOUGHBOOK_ALMANAC");
	check_ok(almanac_find(NULL, out, sizeof out, &why), &why);
	assert_string_equal(out, ""); /* built in */
	check_refused(almanac_find("share/almanac", out, 5, &why), STATUS_RANGE, &why, "longer");
}

/* --- climates --- */

struct climate_case {
	const char *name;
	enum wet_season wet;
	enum winter_kind winter;
	enum climate climate;
};
/* clang-format off */
static const struct climate_case CLIMATES[] = {
	{"wet_winters_are_dry_summer",          WET_WINTER,  WINTER_MILD,    CLIMATE_DRY_SUMMER},
	{"wet_winters_need_no_word_on_winters", WET_WINTER,  WINTER_UNKNOWN, CLIMATE_DRY_SUMMER},
	{"wet_and_frosty_is_cool_maritime",     WET_ALL,     WINTER_FROSTY,  CLIMATE_COOL_MARITIME},
	{"wet_and_hard_is_continental",         WET_ALL,     WINTER_HARD,    CLIMATE_CONTINENTAL},
	{"wet_and_mild_is_humid_mild",          WET_ALL,     WINTER_MILD,    CLIMATE_HUMID_MILD},
	{"wet_summers_hard_is_continental",     WET_SUMMER,  WINTER_HARD,    CLIMATE_CONTINENTAL},
	{"wet_summers_frosty_is_continental",   WET_SUMMER,  WINTER_FROSTY,  CLIMATE_CONTINENTAL},
	{"wet_summers_mild_is_humid_mild",      WET_SUMMER,  WINTER_MILD,    CLIMATE_HUMID_MILD},
	{"wet_summers_alone_are_not_enough",    WET_SUMMER,  WINTER_UNKNOWN, CLIMATE_ANY},
	{"wet_all_year_alone_is_not_enough",    WET_ALL,     WINTER_UNKNOWN, CLIMATE_ANY},
	{"little_rain_is_its_own",              WET_LITTLE,  WINTER_HARD,    CLIMATE_LITTLE_RAIN},
	{"nothing_known_is_any",                WET_UNKNOWN, WINTER_HARD,    CLIMATE_ANY},
};
/* clang-format on */

static void climate_of_case(const void *one)
{
	const struct climate_case *row = one;
	struct place place = {.wet = row->wet, .winter = row->winter};
	check_int(climate_of_place(&place), row->climate, row->name);
	assert_true(climate_title(row->climate)[0] != '\0');
}

static void window_keys_and_titles_go_round(void **state)
{
	(void)state;
	for (int kind = 0; kind < WINDOW_TOTAL; kind++) {
		check_int(window_of_key(window_key((enum window_kind)kind)), kind, "kind");
		assert_true(window_title((enum window_kind)kind)[0] != '\0');
	}
	check_int(window_of_key("ramp"), WINDOW_TOTAL, "none");
}

/* --- names --- */

struct name_case {
	const char *name;
	const char *said;
	const char *species; /* those it fits, parted by blanks; "" none here */
	const char *outside; /* "" none outside */
};
static const struct name_case NAMES[] = {
	{"key_names_its_kind", "loquat", "loquat", ""},
	{"case_does_not_count", "  LoQuat ", "loquat", ""},
	{"botanical_names_count", "eriobotrya JAPONICA", "loquat", ""},
	{"nispero_is_a_loquat", "Níspero", "loquat", ""},
	{"nispero_without_accent_is_one", "nispero", "loquat", ""},
	{"ameixa_do_japao_is_a_loquat", "ameixa do Japão", "loquat", ""},
	{"lokwat_is_a_loquat", "lokwat", "loquat", ""},
	{"japanese_plum_is_in_doubt", "Japanese plum", "loquat japanese_plum", ""},
	{"chinese_plum_is_in_doubt", "chinese plum", "loquat japanese_plum", ""},
	{"japanese_plum_by_key_is_not", "japanese_plum", "japanese_plum", ""},
	{"true_plum_by_its_botanical_name", "Prunus salicina", "japanese_plum", ""},
	{"pear_fits_two", "pear", "european_pear asian_pear", ""},
	{"pears_fit_two", "Pears", "european_pear asian_pear", ""},
	{"pear_tree_fits_two", "pear tree", "european_pear asian_pear", ""},
	{"european_pear_by_key", "european_pear", "european_pear", ""},
	{"asian_pear_by_its_name", "Asian pear", "asian_pear", ""},
	{"nashi_is_an_asian_pear", "Nashi", "asian_pear", ""},
	{"a_german_pear_is_european", "Birne", "european_pear", ""},
	{"membrillo_is_a_quince", "membrillo", "quince", ""},
	{"quince_by_its_botanical_name", "Cydonia oblonga", "quince", ""},
	{"nectarine_is_a_peach", "nectarine", "peach", ""},
	{"damasco_is_an_apricot", "Damasco", "apricot", ""},
	{"navel_orange_is_an_orange", "navel orange", "orange", ""},
	{"sweet_orange_is_its_name", "sweet orange", "orange", ""},
	{"citron_is_in_doubt", "citron", "lemon", "citron"},
	{"mango_is_outside", "Mango", "", "mango"},
	{"grape_is_outside", "grape", "", "grape"},
	{"pecan_is_outside", "pecan", "", "pecan"},
	{"plum_fits_two", "plum", "european_plum japanese_plum", ""},
	{"plums_fit_two", "Plums", "european_plum japanese_plum", ""},
	{"ciruela_fits_two", "ciruela", "european_plum japanese_plum", ""},
	{"damson_is_european", "damson", "european_plum", ""},
	{"prune_is_european", "Prune", "european_plum", ""},
	{"zwetschge_is_european", "Zwetschge", "european_plum", ""},
	{"cherry_fits_two", "cherry", "sweet_cherry sour_cherry", ""},
	{"cherries_fit_two", "Cherries", "sweet_cherry sour_cherry", ""},
	{"kirsche_fits_two", "Kirsche", "sweet_cherry sour_cherry", ""},
	{"sweet_cherry_by_key_is_not", "sweet_cherry", "sweet_cherry", ""},
	{"morello_is_sour", "morello", "sour_cherry", ""},
	{"pie_cherry_is_sour", "pie cherry", "sour_cherry", ""},
	{"almendro_is_an_almond", "almendro", "almond", ""},
	{"tangerine_is_a_mandarin", "tangerine", "mandarin", ""},
	{"naartjie_is_a_mandarin", "Naartjie", "mandarin", ""},
	{"palta_is_an_avocado", "palta", "avocado", ""},
	{"aceituna_is_an_olive", "aceituna", "olive", ""},
	{"pineapple_guava_is_a_feijoa", "Pineapple Guava", "feijoa", ""},
	{"acca_is_a_feijoa", "acca sellowiana", "feijoa", ""},
	{"guava_is_the_common_one", "guava", "guava", ""},
	{"strawberry_guava_is_outside", "strawberry guava", "", "strawberry guava"},
	{"granado_is_a_pomegranate", "granado", "pomegranate", ""},
	{"kaki_is_an_asian_persimmon", "Kaki", "persimmon", ""},
	{"american_persimmon_is_outside", "American persimmon", "", "American persimmon"},
	{"black_mulberry_is_a_mulberry", "Morus nigra", "mulberry", ""},
	{"english_walnut_is_a_walnut", "English walnut", "walnut", ""},
	{"black_walnut_is_outside", "black walnut", "", "black walnut"},
	{"chinese_chestnut_is_a_chestnut", "castanea mollissima", "chestnut", ""},
	{"filbert_is_a_hazelnut", "filbert", "hazelnut", ""},
	{"a_key_of_a_kind_outside", "black_walnut", "", "black walnut"},
	{"cherry_plum_is_outside", "cherry plum", "", "cherry plum"},
	{"nonsense_fits_nothing", "xyzzy", "", ""},
	{"nothing_fits_nothing", "", "", ""},
};

static void name_finds(const void *one)
{
	const struct name_case *row = one;
	struct almanac *almanac = open_shipped();
	const struct species *found[4] = {NULL};
	int32_t count = almanac_find_species(almanac, row->said, found, 4);
	char keys[4 * KEY_SIZE] = "";
	for (int32_t i = 0; i < count && i < 4; i++) {
		size_t used = strlen(keys);
		snprintf(keys + used, sizeof keys - used, "%s%s", i == 0 ? "" : " ", found[i]->key);
	}
	check_text(keys, row->species, "kinds");
	const char *outside = almanac_outside_kind(almanac, row->said);
	check_text(outside == NULL ? "" : outside, row->outside, "outside");
	almanac_close(almanac);
}

static void lists_the_names_of_a_kind(void **state)
{
	(void)state;
	struct almanac *almanac = open_shipped();
	const struct name_row *names[2];
	int32_t count = almanac_names(almanac, "loquat", names, 2);
	assert_true(count > 10);
	assert_string_equal(names[1]->species, "loquat");
	assert_string_equal(names[1]->source, "common-practice");
	check_int(names[1]->sure, KNOWN_COMMON_PRACTICE, "sure");
	check_int(almanac_names(almanac, "quokka", names, 2), 0, "none");
	almanac_close(almanac);
}

/* --- rows by climate --- */

struct window_case {
	const char *name;
	const char *species;
	enum window_kind kind;
	enum climate climate;
	int32_t count;
	const char *from; /* of the first, "MM-DD" */
	const char *to;
};
/* clang-format off */
static const struct window_case WINDOWS[] = {
	{"loquat_harvest_where_nothing_is_known", "loquat", WINDOW_HARVEST, CLIMATE_ANY, 1, "02-01", "06-15"},
	{"loquat_harvest_in_florida", "loquat", WINDOW_HARVEST, CLIMATE_HUMID_MILD, 1, "02-01", "05-31"},
	{"loquat_harvest_falls_back", "loquat", WINDOW_HARVEST, CLIMATE_DRY_SUMMER, 1, "02-01", "06-15"},
	{"apple_blooms_early_in_dry_summers", "apple", WINDOW_BLOOM, CLIMATE_DRY_SUMMER, 1, "03-01", "04-15"},
	{"little_rain_takes_dry_summer_rows", "apple", WINDOW_BLOOM, CLIMATE_LITTLE_RAIN, 1, "03-01", "04-15"},
	{"pear_blooms_before_apple", "european_pear", WINDOW_BLOOM, CLIMATE_CONTINENTAL, 1, "04-15", "05-10"},
	{"quince_blooms_late", "quince", WINDOW_BLOOM, CLIMATE_DRY_SUMMER, 1, "04-15", "05-31"},
	{"peach_is_fed_twice_in_dry_summers", "peach", WINDOW_FEED_CLEAR, CLIMATE_DRY_SUMMER, 2, "02-15", "04-15"},
	{"fig_has_no_bloom", "fig", WINDOW_BLOOM, CLIMATE_ANY, 0, "", ""},
	{"loquat_is_clear_after_harvest", "loquat", WINDOW_CUT_CLEAR, CLIMATE_ANY, 1, "06-16", "07-15"},
	{"loquat_is_clear_sooner_in_florida", "loquat", WINDOW_CUT_CLEAR, CLIMATE_HUMID_MILD, 1, "06-01", "07-15"},
	{"loquat_is_left_from_august_to_harvest", "loquat", WINDOW_CUT_AVOID, CLIMATE_ANY, 3, "08-15", "09-30"},
	{"apricot_is_left_in_wet_winters", "apricot", WINDOW_CUT_AVOID, CLIMATE_DRY_SUMMER, 2, "09-16", "09-30"},
	{"sweet_cherry_is_picked_later_in_hard_winters", "sweet_cherry", WINDOW_HARVEST, CLIMATE_CONTINENTAL, 1, "06-10", "07-31"},
	{"sweet_cherry_is_clear_twice_by_the_sea", "sweet_cherry", WINDOW_CUT_CLEAR, CLIMATE_COOL_MARITIME, 2, "06-01", "06-30"},
	{"sweet_cherry_has_no_clear_weeks_anywhere", "sweet_cherry", WINDOW_CUT_CLEAR, CLIMATE_ANY, 0, "", ""},
	{"plum_is_clear_in_summer_by_the_sea", "european_plum", WINDOW_CUT_CLEAR, CLIMATE_COOL_MARITIME, 1, "06-01", "08-31"},
	{"plum_is_clear_before_growth_in_hard_winters", "european_plum", WINDOW_CUT_CLEAR, CLIMATE_CONTINENTAL, 1, "02-20", "03-31"},
	{"almond_blooms_in_winter", "almond", WINDOW_BLOOM, CLIMATE_DRY_SUMMER, 1, "01-25", "03-10"},
	{"apricot_is_not_left_where_rain_is_little", "apricot", WINDOW_CUT_AVOID, CLIMATE_LITTLE_RAIN, 0, "", ""},
	{"apricot_is_clear_in_summer_there_too", "apricot", WINDOW_CUT_CLEAR, CLIMATE_LITTLE_RAIN, 1, "07-01", "08-31"},
	{"apple_autumn_verdict_is_not_borrowed", "apple", WINDOW_CUT_AVOID, CLIMATE_DRY_SUMMER, 0, "", ""},
};
/* clang-format on */

static void check_month_day(struct month_day got, const char *want, const char *label)
{
	char text[8];
	snprintf(text, sizeof text, "%02d-%02d", got.month % 100, got.day % 100);
	check_text(text, want, label);
}

static void window_by_climate(const void *one)
{
	const struct window_case *row = one;
	struct almanac *almanac = open_shipped();
	const struct window_row *rows[ROWS_MAX];
	int32_t count = species_windows(
		almanac_species(almanac, row->species), row->kind, row->climate, rows, ROWS_MAX);
	check_int(count, row->count, "rows");
	if (count > 0) {
		check_month_day(rows[0]->from, row->from, "from");
		check_month_day(rows[0]->to, row->to, "to");
	}
	almanac_close(almanac);
}

struct verdict_case {
	const char *name;
	const char *species;
	const char *cultivar;
	enum climate climate;
	enum cut_kind kind;
	struct month_day day;
	enum verdict verdict; /* the worst on that day */
	enum cut_reason reason;
	bool none; /* no row speaks of the day */
};
/* clang-format off */
static const struct verdict_case VERDICTS[] = {
	{"loquat_shape_early_october_takes_flowers", "loquat", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {10, 3}, VERDICT_AVOID, REASON_FLOWERS, false},
	{"loquat_shape_late_august_takes_flowers", "loquat", "", CLIMATE_ANY, CUT_SHAPE, {8, 20}, VERDICT_AVOID, REASON_FLOWERS, false},
	{"loquat_heading_september_takes_flowers", "loquat", "", CLIMATE_ANY, CUT_HEADING, {9, 15}, VERDICT_AVOID, REASON_FLOWERS, false},
	{"loquat_thinning_september_is_allowed", "loquat", "", CLIMATE_ANY, CUT_THINNING, {9, 15}, VERDICT_ALLOWED, REASON_FLOWERS, false},
	{"loquat_thinning_october_takes_flowers", "loquat", "", CLIMATE_ANY, CUT_THINNING, {10, 15}, VERDICT_AVOID, REASON_FLOWERS, false},
	{"loquat_shape_january_takes_fruit", "loquat", "", CLIMATE_HUMID_MILD, CUT_SHAPE, {1, 5}, VERDICT_AVOID, REASON_FRUIT, false},
	{"loquat_shape_june_after_harvest_is_clear", "loquat", "", CLIMATE_HUMID_MILD, CUT_SHAPE, {6, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"loquat_unsaid_cut_is_judged_as_shape", "loquat", "", CLIMATE_ANY, CUT_UNSAID, {10, 3}, VERDICT_AVOID, REASON_FLOWERS, false},
	{"loquat_sanitation_has_no_rows", "loquat", "", CLIMATE_ANY, CUT_SANITATION, {10, 3}, VERDICT_CLEAR, REASON_NONE, true},
	{"loquat_sucker_has_no_rows", "loquat", "", CLIMATE_ANY, CUT_SUCKER, {10, 3}, VERDICT_CLEAR, REASON_NONE, true},
	{"apple_shape_late_winter_is_clear", "apple", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {3, 1}, VERDICT_CLEAR, REASON_NONE, false},
	{"apple_shape_late_winter_is_clear_anywhere", "apple", "", CLIMATE_ANY, CUT_SHAPE, {2, 20}, VERDICT_CLEAR, REASON_NONE, false},
	{"apple_shape_late_winter_is_clear_in_dry_summers", "apple", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {2, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"apple_shape_late_winter_is_clear_by_the_sea", "apple", "", CLIMATE_COOL_MARITIME, CUT_SHAPE, {2, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"apple_shape_autumn_is_frosted", "apple", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {10, 10}, VERDICT_AVOID, REASON_FROST, false},
	{"tip_bearer_heading_takes_flowers", "apple", "worcester pearmain", CLIMATE_CONTINENTAL, CUT_HEADING, {2, 20}, VERDICT_AVOID, REASON_FLOWERS, false},
	{"tip_bearer_thinning_is_clear", "apple", "Worcester Pearmain", CLIMATE_CONTINENTAL, CUT_THINNING, {2, 20}, VERDICT_CLEAR, REASON_NONE, false},
	{"part_tip_bearer_heading_is_allowed", "apple", "Bramley", CLIMATE_COOL_MARITIME, CUT_HEADING, {2, 20}, VERDICT_ALLOWED, REASON_FLOWERS, false},
	{"spur_bearer_heading_is_clear", "apple", "Gala", CLIMATE_CONTINENTAL, CUT_HEADING, {2, 20}, VERDICT_CLEAR, REASON_NONE, false},
	{"pear_shape_late_winter_is_clear", "european_pear", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {3, 1}, VERDICT_CLEAR, REASON_NONE, false},
	{"pear_heading_late_winter_is_allowed", "european_pear", "", CLIMATE_CONTINENTAL, CUT_HEADING, {3, 1}, VERDICT_ALLOWED, REASON_DISEASE, false},
	{"pear_shape_autumn_is_frosted", "european_pear", "", CLIMATE_ANY, CUT_SHAPE, {11, 1}, VERDICT_AVOID, REASON_FROST, false},
	{"nashi_shape_winter_by_the_sea_is_clear", "asian_pear", "", CLIMATE_COOL_MARITIME, CUT_SHAPE, {1, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"quince_heading_winter_takes_flowers", "quince", "", CLIMATE_ANY, CUT_HEADING, {2, 20}, VERDICT_AVOID, REASON_FLOWERS, false},
	{"quince_heading_winter_by_the_sea_takes_flowers", "quince", "", CLIMATE_COOL_MARITIME, CUT_HEADING, {1, 20}, VERDICT_AVOID, REASON_FLOWERS, false},
	{"quince_thinning_winter_is_clear", "quince", "", CLIMATE_ANY, CUT_THINNING, {2, 20}, VERDICT_CLEAR, REASON_NONE, false},
	{"quince_height_winter_costs_some", "quince", "", CLIMATE_DRY_SUMMER, CUT_HEIGHT, {2, 10}, VERDICT_ALLOWED, REASON_FLOWERS, false},
	{"peach_shape_march_is_clear", "peach", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {3, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"peach_shape_december_is_frosted", "peach", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {12, 10}, VERDICT_AVOID, REASON_FROST, false},
	{"apricot_january_in_wet_winters_is_ill", "apricot", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {1, 15}, VERDICT_AVOID, REASON_DISEASE, false},
	{"apricot_january_by_the_sea_is_ill", "apricot", "", CLIMATE_COOL_MARITIME, CUT_SHAPE, {1, 15}, VERDICT_AVOID, REASON_DISEASE, false},
	{"apricot_july_in_dry_summers_is_clear", "apricot", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {7, 20}, VERDICT_CLEAR, REASON_NONE, false},
	{"apricot_march_in_hard_winters_is_clear", "apricot", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {3, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"apricot_march_anywhere_is_a_clash", "apricot", "", CLIMATE_ANY, CUT_SHAPE, {3, 10}, VERDICT_ALLOWED, REASON_DISEASE, false},
	{"plum_winter_by_the_sea_is_ill", "european_plum", "", CLIMATE_COOL_MARITIME, CUT_SHAPE, {1, 15}, VERDICT_AVOID, REASON_DISEASE, false},
	{"plum_july_by_the_sea_is_clear", "european_plum", "", CLIMATE_COOL_MARITIME, CUT_SHAPE, {7, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"plum_february_in_dry_summers_is_clear", "european_plum", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {2, 5}, VERDICT_CLEAR, REASON_NONE, false},
	{"plum_march_in_hard_winters_is_clear", "japanese_plum", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {3, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"plum_in_bloom_may_take_black_knot", "european_plum", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {5, 10}, VERDICT_ALLOWED, REASON_DISEASE, false},
	{"plum_march_anywhere_is_a_clash", "japanese_plum", "", CLIMATE_ANY, CUT_SHAPE, {3, 10}, VERDICT_ALLOWED, REASON_DISEASE, false},
	{"leafless_cherry_by_the_sea_waits", "sweet_cherry", "", CLIMATE_COOL_MARITIME, CUT_SHAPE, {1, 20}, VERDICT_AVOID, REASON_DISEASE, false},
	{"leafless_sour_cherry_by_the_sea_waits", "sour_cherry", "", CLIMATE_COOL_MARITIME, CUT_SHAPE, {1, 20}, VERDICT_AVOID, REASON_DISEASE, false},
	{"cherry_june_by_the_sea_is_clear", "sweet_cherry", "", CLIMATE_COOL_MARITIME, CUT_SHAPE, {6, 20}, VERDICT_CLEAR, REASON_NONE, false},
	{"cherry_january_in_wet_winters_is_ill", "sweet_cherry", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {1, 15}, VERDICT_AVOID, REASON_DISEASE, false},
	{"cherry_july_in_dry_summers_is_clear", "sweet_cherry", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {7, 20}, VERDICT_CLEAR, REASON_NONE, false},
	{"cherry_march_in_hard_winters_is_clear", "sweet_cherry", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {3, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"cherry_december_in_hard_winters_is_frosted", "sweet_cherry", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {12, 10}, VERDICT_AVOID, REASON_FROST, false},
	{"sour_cherry_april_in_hard_winters_is_clear", "sour_cherry", "", CLIMATE_CONTINENTAL, CUT_SHAPE, {4, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"almond_winter_in_wet_winters_is_ill", "almond", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {12, 10}, VERDICT_AVOID, REASON_DISEASE, false},
	{"almond_july_in_dry_summers_is_clear", "almond", "", CLIMATE_DRY_SUMMER, CUT_SHAPE, {7, 20}, VERDICT_CLEAR, REASON_NONE, false},
	{"fig_february_is_clear_but_for_the_breba", "fig", "", CLIMATE_ANY, CUT_HEADING, {2, 20}, VERDICT_CLEAR, REASON_FLOWERS, false},
	{"fig_december_is_lost_twice", "fig", "", CLIMATE_ANY, CUT_SHAPE, {12, 10}, VERDICT_AVOID, REASON_FROST, false},
	{"lemon_april_is_clear", "lemon", "", CLIMATE_ANY, CUT_SHAPE, {4, 10}, VERDICT_CLEAR, REASON_NONE, false},
	{"lemon_october_grows_again", "lemon", "", CLIMATE_ANY, CUT_SHAPE, {10, 10}, VERDICT_AVOID, REASON_REGROWTH, false},
	{"orange_july_is_allowed_with_paint", "orange", "", CLIMATE_ANY, CUT_SHAPE, {7, 10}, VERDICT_ALLOWED, REASON_SUN, false},
};
/* clang-format on */

static void cut_verdict(const void *one)
{
	const struct verdict_case *row = one;
	struct almanac *almanac = open_shipped();
	const struct cut_row *rows[ROWS_MAX];
	int32_t count = species_cuts(almanac_species(almanac, row->species), row->cultivar,
		row->climate, row->kind, rows, ROWS_MAX);
	const struct cut_row *worst = NULL;
	for (int32_t i = 0; i < count; i++) {
		bool holds = circle_within(
			circle_of(row->day), circle_of(rows[i]->from), circle_of(rows[i]->to));
		if (holds && (worst == NULL || rows[i]->verdict >= worst->verdict))
			worst = rows[i];
	}
	if (row->none) {
		assert_null(worst);
	} else {
		check_int(worst == NULL ? -1 : (int)worst->verdict, row->verdict, "verdict");
		check_int(worst == NULL ? -1 : (int)worst->reason, row->reason, "reason");
	}
	almanac_close(almanac);
}

static void september_thinning_of_loquat_keeps_both_sources(void **state)
{
	(void)state;
	struct almanac *almanac = open_shipped();
	const struct cut_row *rows[ROWS_MAX];
	int32_t count = species_cuts(almanac_species(almanac, "loquat"), "", CLIMATE_DRY_SUMMER,
		CUT_THINNING, rows, ROWS_MAX);
	bool spain = false;
	bool florida = false;
	for (int32_t i = 0; i < count; i++) {
		if (rows[i]->verdict != VERDICT_ALLOWED || rows[i]->from.month != 8)
			continue;
		spain = spain || strcmp(rows[i]->source, "hueso-2015") == 0;
		florida = florida || strcmp(rows[i]->source, "edis-mg050") == 0;
		check_int(rows[i]->loss_low_permille.value, 0, "none of it");
		check_int(rows[i]->loss_high_permille.value, 1000, "to all");
	}
	assert_true(spain && florida);
	almanac_close(almanac);
}

/* --- stages --- */

static void bloom_stages_go_by_the_kind(void **state)
{
	(void)state;
	struct almanac *almanac = open_shipped();
	const struct species *loquat = almanac_species(almanac, "loquat");
	const struct species *apple = almanac_species(almanac, "apple");
	assert_true(species_stage_is_bloom(loquat, 605));
	assert_false(species_stage_is_bloom(loquat, 65));
	assert_false(species_stage_is_bloom(loquat, 702));
	assert_true(species_stage_is_bloom(apple, 60));
	assert_true(species_stage_is_bloom(apple, 69));
	assert_false(species_stage_is_bloom(apple, 59));
	assert_false(species_stage_is_bloom(apple, 605));
	assert_true(species_stage_is_bloom(NULL, 65));
	assert_true(species_stage_is_bloom(NULL, 605));
	check_has(species_stage(apple, 65)->words, "full bloom", "apple 65");
	assert_null(species_stage(almanac_species(almanac, "orange"), 75));
	almanac_close(almanac);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(opens_the_shipped_tables),
		cmocka_unit_test(names_no_source_that_is_not_there),
		cmocka_unit_test(tells_the_feeding_rules_of_all_kinds_apart),
		cmocka_unit_test(finds_what_is_named_first),
		cmocka_unit_test(window_keys_and_titles_go_round),
		cmocka_unit_test(lists_the_names_of_a_kind),
		cmocka_unit_test(september_thinning_of_loquat_keeps_both_sources),
		cmocka_unit_test(bloom_stages_go_by_the_kind),
	};
	int failed = cmocka_run_group_tests_name("almanac", tests, NULL, NULL);
	failed += RUN_CASES("almanac climates", CLIMATES, climate_of_case);
	failed += RUN_CASES("almanac names", NAMES, name_finds);
	failed += RUN_CASES("almanac windows", WINDOWS, window_by_climate);
	failed += RUN_CASES("almanac cuts", VERDICTS, cut_verdict);
	return failed != 0;
}
