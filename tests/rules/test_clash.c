/* SPDX-License-Identifier: MIT */
/* Where published rules differ: both are named with their regions, the place's choice is used, and
 * how to change it is said. */
#include "support/told.h"

#include "rules/choice.h"

/* A log, looked at on its day; of one rule's first flag what its evidence must and must not say. */
struct clash_case {
	const char *name;
	struct log_case log;
	const char *rule;
	const char *has[4];
	const char *lacks[3];
};

#define APRICOT "A1 apricot 2012"
#define LOQUAT "A1 loquat 2012"

/* clang-format off */
static const struct clash_case clashes[] = {
	{ "a_winter_cut_of_stone_fruit_is_told_with_the_other_climate",
	  { .place = AT_WET_WINTER, .trees = APRICOT, .lines = "A1 cut shape 20% of crown @ 2026-02-25", .today = "2026-02-26" },
	  "cut-in-wet-season", {"elsewhere (hard winters, wet summers): clear on that day", "Nebraska", "own choice cut-in-wet-season unl-black-knot"}, {"seasons decide", "another source"} },
	{ "on_the_day_before_its_rows_begin_nothing_is_told_of_it",
	  { .place = AT_WET_WINTER, .trees = APRICOT, .lines = "A1 cut shape 20% of crown @ 2026-02-19", .today = "2026-02-26" },
	  "cut-in-wet-season", {"the cut as logged"}, {"elsewhere", "own choice"} },
	{ "what_the_almanac_keeps_of_a_clash_in_words_is_told",
	  { .place = AT_WET_WINTER, .trees = "A1 sweet_cherry 2012", .lines = "A1 cut shape 20% of crown @ 2026-02-25", .today = "2026-02-26" },
	  "cut-in-wet-season", {"sources differ: Nebraska cuts in late February", "Maine; University of Maine"}, {NULL} },
	{ "june_or_september_of_a_loquat",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut shape 20% of crown @ 2026-09-05", .today = "2026-09-06" },
	  "flower-wood", {"another source: allowed on that day: Spain", "southeast Spain; J. J. Hueso", "own choice flower-wood hueso-2015"}, {"sources differ: Spain"} },
	{ "a_tip_cut_has_one_word_only",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut heading 20% of crown @ 2026-09-05", .today = "2026-09-06" },
	  "flower-wood", {"sources differ: Spain cuts once a year"}, {"another source", "own choice"} },
	{ "fruit_that_hangs_here_is_off_where_summers_are_humid",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut shape 20% of crown @ 2026-06-05", .today = "2026-06-06" },
	  "flower-wood", {"elsewhere (humid, mild winters): clear on that day"}, {"seasons decide"} },
	{ "where_the_seasons_are_not_known_they_are_asked",
	  { .place = AT_UNSAID, .trees = LOQUAT, .lines = "A1 cut shape 20% of crown @ 2026-06-05", .today = "2026-06-06" },
	  "flower-wood", {"elsewhere (humid, mild winters): clear on that day", "this place's seasons decide and are not known", "place set --wet --winter"}, {NULL} },
	{ "work_that_is_clear_here_is_to_avoid_elsewhere",
	  { .place = AT_CONTINENTAL, .trees = APRICOT, .lines = "A1 cut shape 10% of crown @ 2024-03-01|A1 cut shape 10% of crown @ 2025-03-01", .today = "2026-03-01" },
	  "shape-cut-due", {"elsewhere (wet winters, dry summers): to avoid on that day", "own choice shape-cut-due uc-ipm-eutypa"}, {NULL} },
	{ "rates_of_two_regions_are_both_told",
	  { .place = AT_WET_WINTER, .trees = "A1 peach 2018-02-01", .lines = "A1 girth 20 in @ 2026-02-12|A1 fed 6 lb 10-10-10 @ 2026-02-12", .today = "2026-02-20" },
	  "feed-over", {"3 lb to 5 lb of the product it names a tree: 10.1 oz to 1 lb 1 oz a year of actual N (California; UC IPM", "an inch of trunk, 6.4 in across", "a year of actual N (Arizona;", "own choice feed-over az-per-inch or uc-ipm-fert"}, {"this place follows"} },
	{ "caps_of_two_regions_are_both_told",
	  { .place = AT_WET_WINTER, .trees = "A1 apple 1990-01-01", .lines = "A1 girth 60 in @ 2026-03-01|A1 fed 12 lb 10-10-10 @ 2026-03-28", .today = "2026-04-02" },
	  "feed-over", {"36 years, at its cap: 1 lb 15 oz a year of actual N (Louisiana; LSU AgCenter", "36 years, at its cap: 12 oz a year of actual N (north Florida; A. Lamborn", "own choice feed-over uf-baker-calendar or lsu-prune-fert"}, {"this place follows"} },
	{ "the_first_year_of_a_peach",
	  { .place = AT_WET_WINTER, .trees = "A1 peach 2026-02-10", .lines = "A1 fed 1/2 lb 10-10-10 @ 2026-04-10", .today = "2026-04-12" },
	  "feed-young-hole", {"Master Gardener Manual", "University of Maryland", "own choice feed-young-hole az-mg-care or umd-stone"}, {"this place follows"} },
	{ "how_far_below_a_blight",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut sanitation 7 in below fire blight @ 2026-06-10", .today = "2026-06-12" },
	  "blight-cut-short", {"12 to 18 in (Florida): ", "UC Cooperative Extension", "own choice blight-cut-short ucnfa-blight or uf-nassau-blight or uc-fresno-april"}, {"this place follows"} },
};
/* clang-format on */

static bool proves(const struct flag *flag, const char *words)
{
	for (int32_t i = 0; i < flag->evidence_count; i++)
		if (strstr(flag->evidence[i], words) != NULL)
			return true;
	return false;
}

static void check_told(const struct clash_case *one, const struct flag *flag)
{
	assert_non_null(flag);
	for (size_t i = 0; i < 4 && one->has[i] != NULL; i++)
		check_int(proves(flag, one->has[i]), true, one->has[i]);
	for (size_t i = 0; i < 3 && one->lacks[i] != NULL; i++)
		check_int(proves(flag, one->lacks[i]), false, one->lacks[i]);
}

static void tell_case(void **state)
{
	const struct clash_case *one = *state;

	for (int south = 0; south < 2; south++) {
		struct garden garden;

		log_case_make(&garden, &one->log, south == 1);
		struct flags flags = log_case_flags(&garden);
		check_told(one, log_case_find(&flags, one->rule));
		garden_free(&garden);
	}
}

/* --- what a choice changes --- */

static void choose(struct garden *garden, const char *rule, const char *source)
{
	struct fault why = {0};
	struct choice choice = {.id = ""};

	snprintf(choice.rule, sizeof choice.rule, "%s", rule);
	snprintf(choice.source, sizeof choice.source, "%s", source);
	check_ok(store_act_begin(garden->store, ACT_WORK, "choice", &why), &why);
	check_ok(store_choice_add(garden->store, &choice, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

struct choice_case {
	const char *name;
	struct log_case log;
	const char *rule;
	const char *choices[3][2];
	const char *want;   /* urgency, "" silence */
	const char *has[3]; /* in says, basis or evidence */
};

/* clang-format off */
static const struct choice_case chosen[] = {
	{ "spain_s_september_may_be_followed",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut shape 20% of crown @ 2026-09-05", .today = "2026-09-06" },
	  "flower-wood", {{"flower-wood", "hueso-2015"}}, "", {NULL} },
	{ "but_not_for_tips_of_which_it_does_not_speak",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut heading 20% of crown @ 2026-09-05", .today = "2026-09-06" },
	  "flower-wood", {{"flower-wood", "hueso-2015"}}, "act", {"carries the coming flowers"} },
	{ "the_later_choice_counts",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut shape 20% of crown @ 2026-09-05", .today = "2026-09-06" },
	  "flower-wood", {{"flower-wood", "hueso-2015"}, {"flower-wood", "edis-mg050"}}, "act", {"by the source this place follows", "this place follows edis-mg050", "another source: allowed"} },
	{ "a_source_of_another_kind_changes_nothing",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut shape 20% of crown @ 2026-09-05", .today = "2026-09-06" },
	  "flower-wood", {{"flower-wood", "uc-ipm-eutypa"}}, "act", {"another source: allowed"} },
	{ "a_source_of_another_climate_may_be_followed",
	  { .place = AT_WET_WINTER, .trees = APRICOT, .lines = "A1 cut shape 20% of crown @ 2026-02-25", .today = "2026-02-26" },
	  "cut-in-wet-season", {{"cut-in-wet-season", "unl-black-knot"}}, "", {NULL} },
	{ "one_word_stands_for_all_rules_of_cuts",
	  { .place = AT_WET_WINTER, .trees = APRICOT, .lines = "A1 cut shape 20% of crown @ 2026-02-25", .today = "2026-02-26" },
	  "cut-in-wet-season", {{"flower-wood", "unl-black-knot"}}, "", {NULL} },
	{ "outside_its_span_the_others_stand",
	  { .place = AT_WET_WINTER, .trees = APRICOT, .lines = "A1 cut shape 20% of crown @ 2026-10-25", .today = "2026-10-26" },
	  "cut-in-wet-season", {{"cut-in-wet-season", "unl-black-knot"}}, "act", {"Eutypa"} },
	{ "yearly_work_is_told_in_the_followed_window",
	  { .place = AT_WET_WINTER, .trees = APRICOT, .lines = "A1 cut shape 10% of crown @ 2023-08-01|A1 cut shape 10% of crown @ 2024-08-01", .today = "2026-03-01" },
	  "shape-cut-due", {{"shape-cut-due", "unl-black-knot"}}, "due", {"by the source this place follows", "another source: to avoid"} },
	{ "one_rate_is_followed",
	  { .place = AT_WET_WINTER, .trees = "A1 peach 2018-02-01", .lines = "A1 girth 20 in @ 2026-02-12|A1 fed 6 lb 10-10-10 @ 2026-02-12", .today = "2026-02-20" },
	  "feed-over", {{"feed-over", "az-per-inch"}}, "note", {"the rate this place follows for this tree is 5.1 oz a year (Arizona)", "this place follows az-per-inch"} },
	{ "below_the_followed_rate_silence",
	  { .place = AT_WET_WINTER, .trees = "A1 peach 2018-02-01", .lines = "A1 girth 20 in @ 2026-02-12|A1 fed 6 lb 10-10-10 @ 2026-02-12", .today = "2026-02-20" },
	  "feed-over", {{"feed-over", "lsu-prune-fert"}}, "", {NULL} },
	{ "a_followed_source_without_a_rate_for_the_kind_changes_nothing",
	  { .place = AT_WET_WINTER, .trees = "A1 peach 2018-02-01", .lines = "A1 girth 20 in @ 2026-02-12|A1 fed 6 lb 10-10-10 @ 2026-02-12", .today = "2026-02-20" },
	  "feed-over", {{"feed-over", "missouri-chestnut"}}, "note", {"own choice feed-over az-per-inch or uc-ipm-fert"} },
	{ "the_distance_of_one_county_may_be_followed",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut sanitation 7 in below fire blight @ 2026-06-10", .today = "2026-06-12" },
	  "blight-cut-short", {{"blight-cut-short", "uc-fresno-april"}}, "", {NULL} },
	{ "or_that_of_a_wetter_state",
	  { .place = AT_WET_WINTER, .trees = LOQUAT, .lines = "A1 cut sanitation 7 in below fire blight @ 2026-06-10", .today = "2026-06-12" },
	  "blight-cut-short", {{"blight-cut-short", "uf-nassau-blight"}}, "act", {"12 to 18 in (Florida)", "this place follows uf-nassau-blight"} },
	{ "nor_does_one_for_the_first_year",
	  { .place = AT_WET_WINTER, .trees = "A1 peach 2026-02-10", .lines = "A1 fed 1/2 lb 10-10-10 @ 2026-04-10", .today = "2026-04-12" },
	  "feed-young-hole", {{"feed-young-hole", "msu-chestnut"}}, "note", {"Sources differ"} },
};
/* clang-format on */

static bool says(const struct flag *flag, const char *words)
{
	return strstr(flag->says, words) != NULL || strstr(flag->basis, words) != NULL ||
	       proves(flag, words);
}

static void choice_case(void **state)
{
	const struct choice_case *one = *state;

	for (int south = 0; south < 2; south++) {
		struct garden garden;

		log_case_make(&garden, &one->log, south == 1);
		for (size_t i = 0; i < 3 && one->choices[i][0] != NULL; i++)
			choose(&garden, one->choices[i][0], one->choices[i][1]);
		struct flags flags = log_case_flags(&garden);
		const struct flag *flag = log_case_find(&flags, one->rule);
		check_text(flag != NULL ? urgency_key(flag->urgency) : "", one->want, one->rule);
		for (size_t i = 0; i < 3 && one->has[i] != NULL; i++)
			check_int(says(flag, one->has[i]), true, one->has[i]);
		garden_free(&garden);
	}
}

static void a_dose_names_both_ends_and_follows_the_choice(void **state)
{
	const struct log_case one = {.place = AT_WET_WINTER,
		.trees = "A1 peach 2018-02-01",
		.lines = "A1 girth 20 in @ 2026-02-12",
		.today = "2026-02-20"};
	struct garden garden;

	(void)state;
	for (int south = 0; south < 2; south++) {
		log_case_make(&garden, &one, south == 1);
		const char *open = told_dose(&garden, "A1", NULL);
		check_has(open, "Published rates differ: ", "they differ");
		check_has(open, "6.4 oz a year of actual N (Pennsylvania) to 1 lb 1 oz ",
			"the lowest");
		check_has(open, "(Louisiana). To go by one of them: own choice feed-over SOURCE",
			"the highest, and how to choose");
		choose(&garden, "feed-over", "umd-stone");
		const char *page = told_dose(&garden, "A1", NULL);
		check_has(page, "This place follows umd-stone", "the choice");
		check_has(page,
			"Another: own choice feed-over SOURCE; none: own list, own remove ID.",
			"how to change it");
		const char *first = strstr(page, "Of the source this place follows");
		assert_non_null(first);
		check_has(first, "Maryland: University of Maryland Extension", "its region");
		assert_true(first < strstr(page, "Published for this kind"));
		garden_free(&garden);
	}
}

/* --- what can be chosen --- */

static void every_rule_that_takes_a_choice_has_sources(void **state)
{
	struct garden garden;
	char rules[160];
	int32_t taking = 0;

	(void)state;
	garden_make(&garden, "2026-01-01");
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
		const char *sources[96];
		int32_t count = 0;

		for (int32_t i = 0; i < almanac_species_count(garden.almanac); i++)
			count = rule_choice_sources(rule->id, almanac_species_at(garden.almanac, i),
				sources, count, 96);
		check_int(count > 1, rule_takes_choice(rule->id), rule->id);
		taking += rule_takes_choice(rule->id);
		for (int32_t i = 0; i < count; i++)
			assert_non_null(almanac_source(garden.almanac, sources[i]));
		assert_true(count <= 96);
	}
	assert_true(taking >= 5);
	assert_non_null(strstr(rule_choice_rules(rules, sizeof rules), "feed-over"));
	assert_false(rule_takes_choice("no-such-rule"));
	garden_free(&garden);
}

int main(void)
{
	enum {
		TOLD = sizeof clashes / sizeof clashes[0],
		CHOSEN = sizeof chosen / sizeof chosen[0]
	};
	struct CMUnitTest tests[TOLD + CHOSEN + 2] = {
		cmocka_unit_test(every_rule_that_takes_a_choice_has_sources),
		cmocka_unit_test(a_dose_names_both_ends_and_follows_the_choice)};

	for (size_t i = 0; i < TOLD; i++)
		tests[2 + i] = (struct CMUnitTest){.name = clashes[i].name,
			.test_func = tell_case,
			.initial_state = (void *)(uintptr_t)&clashes[i]};
	for (size_t i = 0; i < CHOSEN; i++)
		tests[2 + TOLD + i] = (struct CMUnitTest){.name = chosen[i].name,
			.test_func = choice_case,
			.initial_state = (void *)(uintptr_t)&chosen[i]};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	return failed != 0;
}
