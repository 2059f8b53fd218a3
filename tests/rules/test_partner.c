/* SPDX-License-Identifier: MIT */
/* no-partner: who wants a partner, who counts as one, what is asked and what is said. */
#include "report/review.h"

#include "support/garden.h"
#include "support/log_case.h"

static int garden_setup(void **state)
{
	struct garden *garden = calloc(1, sizeof *garden);
	if (garden == NULL)
		return -1;
	garden_make(garden, "2026-06-20");
	*state = garden;
	return 0;
}

static int garden_teardown(void **state)
{
	garden_free(*state);
	free(*state);
	return 0;
}

/* A tree with its cultivar, "" not known. */
static void stands(struct garden *garden, const char *label, const char *species,
	const char *cultivar, const char *planted)
{
	garden_tree(garden, label, species, planted, "");
	if (cultivar[0] != '\0')
		garden_identify(garden, label, "", cultivar, "");
}

static void stands_over_the_fence(
	struct garden *garden, const char *label, const char *species, const char *cultivar)
{
	struct fault why = {0};
	struct new_tree tree = {.sure_given = false};
	char id[ID_SIZE];
	snprintf(tree.tree.label, sizeof tree.tree.label, "%s", label);
	snprintf(tree.species, sizeof tree.species, "%s", species);
	snprintf(tree.cultivar, sizeof tree.cultivar, "%s", cultivar);
	tree.tree.over_fence = true;
	check_ok(date_span_parse("2005", HEMISPHERE_NORTH, &tree.tree.planted, &why), &why);
	check_ok(work_tree_add(garden->yard, &tree, garden->asked, id, &why), &why);
	garden_look(garden);
}

static void place_spot(struct garden *garden, const char *name, int64_t east_m)
{
	struct fault why = {0};
	struct spot spot = {.id = ""};
	check_ok(store_spot_find(garden->store, name, &spot, &why), &why);
	spot.east_um = known_i64(east_m * 1000000);
	spot.north_um = known_i64(0);
	check_ok(store_act_begin(garden->store, ACT_WORK, "spot placed", &why), &why);
	check_ok(store_spot_save(garden->store, &spot, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

/* Flags of the rule on one tree. */
static struct flags flags_of(struct garden *garden, const char *label)
{
	struct flags found = {.arena = garden->arena};
	struct flags of_rule = {.arena = garden->arena};
	rule_find("no-partner")
		->look(garden_story(garden, label), clock_today(&garden->clock), &of_rule);
	rules_look(garden_story(garden, label), clock_today(&garden->clock), &found);
	check_int(log_case_count(&found, "no-partner"), of_rule.count, "by the table as by itself");
	for (int32_t i = 0; i < of_rule.count; i++)
		check_int(of_rule.items[i].urgency, URGENCY_NOTE, "never more than a note");
	return of_rule;
}

static void check_silent(struct garden *garden, const char *label)
{
	struct flags flags = flags_of(garden, label);
	check_text(flags.count == 0 ? "" : flags.items[0].says, "", label);
}

static const struct flag *check_speaks(
	struct garden *garden, const char *label, const char *says, const char *does)
{
	struct flags flags = flags_of(garden, label);
	check_int(flags.count, 1, label);
	const struct flag *flag = flags.items;
	check_has(flag->says, says, label);
	check_has(flag->action, does, label);
	assert_true(flag->source[0] != '\0');
	return flag;
}

static bool has_evidence(const struct flag *flag, const char *part)
{
	for (int32_t i = 0; i < flag->evidence_count; i++)
		if (strstr(flag->evidence[i], part) != NULL)
			return true;
	return false;
}

/* --- fires --- */

static void a_cherry_alone_is_told_what_would_fill_the_gap(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	const struct flag *flag = check_speaks(
		*state, "C1", "Bing? does not set alone, and no tree on record", "over the fence");
	check_has(flag->action, "another sweet cherry", "the kind of cultivar");
	check_has(flag->action, "For one: Radiance Pearl", "one that is read");
	check_has(flag->action, "100 ft", "as the place counts");
	check_text(flag->source, "osu-cherry-chart", "source");
	assert_true(has_evidence(flag, "alone: no"));
}

static void two_of_one_group_are_two_gaps(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands(*state, "C2", "sweet_cherry", "Lambert", "2010");
	const struct flag *flag = check_speaks(*state, "C1", "no tree on record", "For one");
	assert_true(has_evidence(flag, "C2, Lambert: does not serve, both are of group III"));
	check_speaks(*state, "C2", "Lambert? does not set alone", "For one");
}

static void a_triploid_gives_nothing_and_takes(void **state)
{
	stands(*state, "A1", "apple", "Gala", "2010");
	stands(*state, "A2", "apple", "Jonagold", "2010");
	const struct flag *flag = check_speaks(*state, "A1", "no tree on record", "not a triploid");
	assert_true(has_evidence(flag, "triploid: it takes pollen and gives none"));
	check_silent(*state, "A2");
}

static void a_second_diploid_fills_the_gap_of_both(void **state)
{
	stands(*state, "A1", "apple", "Gala", "2010");
	stands(*state, "A2", "apple", "Jonagold", "2010");
	stands(*state, "A3", "apple", "Fuji", "2010");
	check_silent(*state, "A1");
	check_silent(*state, "A2");
	check_silent(*state, "A3");
}

static void two_names_of_one_clone_are_one(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Kordia", "2010");
	stands(*state, "C2", "sweet_cherry", "Attika", "2010");
	const struct flag *flag = check_speaks(*state, "C1", "no tree on record", "For one");
	assert_true(has_evidence(flag, "one and the same"));
}

static void a_partner_that_spoils_is_no_partner(void **state)
{
	stands(*state, "K1", "chestnut", "Colossal", "2005");
	stands(*state, "K2", "chestnut", "Qing", "2005");
	const struct flag *flag = check_speaks(*state, "K1", "no tree on record", "another clone");
	assert_true(has_evidence(flag, "browns the kernels"));
}

/* --- just does not --- */

static void who_serves_it_keeps_it_quiet(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands(*state, "C2", "sweet_cherry", "Stella", "2010");
	check_silent(*state, "C1"); /* half fit is a fit in a yard */
	check_silent(*state, "C2"); /* sets alone */
}

static void one_over_the_fence_counts(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands_over_the_fence(*state, "next door", "sweet_cherry", "Benton");
	check_silent(*state, "C1");
	check_silent(*state, "next door"); /* it is not ours to find a partner for */
}

static void a_crab_apple_counts(void **state)
{
	stands(*state, "A1", "apple", "Fuji", "2010");
	check_speaks(*state, "A1", "no tree on record", "crab apple");
	stands(*state, "X1", "crab apple", "", "2010");
	check_silent(*state, "A1");
}

static void a_graft_on_the_same_trunk_counts(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	check_speaks(*state, "C1", "no tree on record", "");
	garden_log(*state, "C1 grafted Benton @ 2015-03-01");
	garden_identify(*state, "C1/Benton", "", "Benton", "");
	check_silent(*state, "C1");
}

static void one_that_is_gone_does_not_count(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands(*state, "C2", "sweet_cherry", "Benton", "2010");
	check_silent(*state, "C1");
	garden_log(*state, "C2 died @ 2026-05-01 ; canker");
	check_speaks(*state, "C1", "no tree on record", "");
}

static void who_has_cropped_in_two_seasons_is_served(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	garden_log(*state, "C1 picked 4 kg @ 2024-06-10");
	check_speaks(*state, "C1", "no tree on record", "");
	garden_log(*state, "C1 picked 4 kg @ 2025-06-12");
	check_silent(*state, "C1");
}

static void who_sets_alone_wants_nobody(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Stella", "2010");
	stands(*state, "P1", "peach", "Redhaven", "2010");
	stands(*state, "O1", "orange", "", "2010");
	stands(*state, "F1", "fig", "Mission", "2010");
	check_silent(*state, "C1");
	check_silent(*state, "P1");
	check_silent(*state, "O1");
	check_silent(*state, "F1");
}

static void seeds_are_not_wished_on_a_seedless_fruit(void **state)
{
	stands(*state, "M1", "mandarin", "Clementine", "2010");
	check_silent(*state, "M1");
}

static void half_self_fruitful_kinds_are_left_in_peace(void **state)
{
	stands(*state, "U1", "european_plum", "", "2005");
	stands(*state, "V1", "avocado", "", "2005");
	stands(*state, "W1", "walnut", "", "1990");
	check_silent(*state, "U1");
	check_silent(*state, "V1");
	check_silent(*state, "W1");
}

static void what_rests_on_memory_alone_is_not_said(void **state)
{
	stands(*state, "U1", "european_plum", "Jefferson", "2005");
	check_silent(*state, "U1");
}

/* --- bearing age --- */

static void the_age_of_bearing_is_an_edge(void **state)
{
	struct garden *garden = *state;
	const struct species *cherry = almanac_species(garden->almanac, "sweet_cherry");
	const struct fact_row *years = species_fact(cherry, "years-to-crop");
	assert_non_null(years);
	int64_t from = years->high.known ? years->high.value : years->low.value;
	char planted[DATE_SIZE];
	snprintf(planted, sizeof planted, "%d-06-21", (int)(2026 - from));
	stands(garden, "C1", "sweet_cherry", "Bing", planted);
	check_silent(garden, "C1"); /* the day before */
	struct flags flags = {.arena = garden->arena};
	rules_look(garden_story(garden, "C1"), clock_today(&garden->clock), &flags);
	assert_true(flags.next_change.known);
	check_int(flags.next_change.value.day, garden_day("2026-06-21").day, "says when");
	garden_today(garden, "2026-06-21");
	check_speaks(garden, "C1", "no tree on record", "");
}

static void an_unknown_age_waits_for_the_first_bloom(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "");
	check_silent(*state, "C1");
	garden_log(*state, "C1 bloom @ 2026-04-05");
	check_speaks(*state, "C1", "no tree on record", "");
}

/* --- distance and days --- */

static void one_that_stands_too_far_is_named_with_its_distance(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "C1", "sweet_cherry", "2010", "gate");
	garden_identify(garden, "C1", "", "Bing", "");
	garden_tree(garden, "C2", "sweet_cherry", "2010", "wall");
	garden_identify(garden, "C2", "", "Benton", "");
	check_silent(garden, "C1"); /* where they stand is not known */
	place_spot(garden, "gate", 0);
	place_spot(garden, "wall", 30);
	check_silent(garden, "C1"); /* 98 ft of 100 */
	place_spot(garden, "wall", 31);
	check_speaks(garden, "C1", "the nearest that serves it, C2, stands 102 ft off", "100 ft");
}

static void two_classes_of_bloom_apart_is_a_question(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands(*state, "C2", "sweet_cherry", "Black Tartarian", "2010");
	const struct flag *flag =
		check_speaks(*state, "C1", "whether C2 serves it is not known", "Find out");
	assert_true(has_evidence(flag, "only if the days meet"));
}

/* --- what is not known --- */

static void a_cultivar_not_known_is_asked_for(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands(*state, "C2", "sweet_cherry", "", "2010");
	check_speaks(*state, "C1", "whether C2 serves it is not known", "Find out which they are");
}

/* Two springs in bloom, no fruit, where picks are logged. */
static void blooms_for_nothing(struct garden *garden, const char *label)
{
	char line[80];
	garden_tree(garden, "Fig by the gate", "fig", "2010", "");
	garden_log(garden, "Fig by the gate picked 2 kg @ 2024-08-10");
	for (int year = 2025; year <= 2026; year++) {
		snprintf(line, sizeof line, "%s bloom @ %d-04-10", label, year);
		garden_log(garden, line);
	}
}

static void an_unnamed_tree_is_asked_about_when_it_blooms_for_nothing(void **state)
{
	stands(*state, "C1", "sweet_cherry", "", "2010");
	check_silent(*state, "C1"); /* it may be one that sets alone */
	garden_log(*state, "C1 bloom @ 2025-04-10");
	check_silent(*state, "C1");
	garden_log(*state, "C1 picked none @ 2025-06-20");
	check_speaks(*state, "C1",
		"It bloomed and gave no fruit; most of its kind do not set alone",
		"which cultivar it is");
	garden_log(*state, "C1 picked 3 lb @ 2026-06-10");
	check_silent(*state, "C1");
}

static void where_no_picks_are_logged_a_gap_is_no_zero(void **state)
{
	stands(*state, "C1", "sweet_cherry", "", "2010");
	stands(*state, "C2", "fig", "", "2010");
	garden_log(*state, "C1 bloom @ 2025-04-10");
	garden_log(*state, "C1 bloom @ 2026-04-10");
	check_silent(*state, "C1");
	garden_log(*state, "C2 picked 2 kg @ 2026-05-20"); /* the first of all, lately */
	check_silent(*state, "C1");
	garden_log(*state, "C2 picked 2 kg @ 2025-05-20");
	check_speaks(*state, "C1", "It bloomed and gave no fruit", "");
}

static void none_seen_is_no_crop(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	garden_log(*state, "C1 picked none @ 2024-06-10");
	garden_log(*state, "C1 picked none @ 2025-06-12");
	check_speaks(*state, "C1", "no tree on record", "");
}

static void a_bramley_does_nothing_for_the_other_apple(void **state)
{
	stands(*state, "A1", "apple", "Bramley's Seedling", "2005");
	stands(*state, "A2", "apple", "", "2005");
	blooms_for_nothing(*state, "A2");
	const struct flag *flag = check_speaks(*state, "A2", "no tree on record serves it",
		"a crab apple of another name, not a triploid");
	assert_true(has_evidence(flag, "A1, Bramley's Seedling: does not serve"));
	assert_true(has_evidence(flag, "triploid"));
}

static void of_two_named_ones_one_serves_whatever_it_is(void **state)
{
	stands(*state, "A1", "apple", "", "2005");
	blooms_for_nothing(*state, "A1");
	stands(*state, "A2", "apple", "Fuji", "2005");
	check_speaks(*state, "A1", "whether A2 serves it is not known", "which cultivar");
	stands(*state, "A3", "apple", "Fuji", "2005");
	check_speaks(*state, "A1", "one of 2 trees", "");
	stands(*state, "A4", "apple", "Mutsu", "2005");
	check_speaks(*state, "A1", "one of 2 trees", ""); /* a triploid */
	stands(*state, "A5", "apple", "Golden Delicious", "2005");
	check_silent(*state, "A1");
}

static void of_two_named_cherries_perhaps_none_does(void **state)
{
	stands(*state, "C1", "sweet_cherry", "", "2005");
	blooms_for_nothing(*state, "C1");
	stands(*state, "C2", "sweet_cherry", "Bing", "2005");
	stands(*state, "C3", "sweet_cherry", "Lambert", "2005");
	check_speaks(*state, "C1", "one of 2 trees", "");
}

static void a_kind_in_doubt_is_left_alone(void **state)
{
	stands(*state, "X1", "", "", "2005");
	check_silent(*state, "X1");
}

static void strangers_are_counted_not_blamed(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands(*state, "X1", "", "", "2005");
	stands(*state, "X2", "", "", "2005");
	const struct flag *flag = check_speaks(*state, "C1", "no tree on record", "");
	assert_true(has_evidence(flag, "2 trees of a kind not known could be one"));
}

static void one_whose_kind_is_in_doubt_is_a_question(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands(*state, "X1", "cherry", "", "2010");
	const struct flag *flag =
		check_speaks(*state, "C1", "whether X1 serves it is not known", "Find out");
	assert_true(has_evidence(flag, "its kind is in doubt"));
	garden_identify(*state, "X1", "sour cherry", "", "");
	flag = check_speaks(*state, "C1", "whether X1 serves it is not known", "");
	assert_true(has_evidence(flag, "no source here says"));
}

static void other_kinds_are_not_held_against_it(void **state)
{
	stands(*state, "C1", "sweet_cherry", "Bing", "2010");
	stands(*state, "A1", "apple", "Fuji", "2010");
	const struct flag *flag = check_speaks(*state, "C1", "no tree on record", "");
	assert_false(has_evidence(flag, "A1"));
}

static void it_is_the_same_in_the_south_and_where_nothing_is_known(void **state)
{
	static const enum hemisphere sides[] = {HEMISPHERE_SOUTH, HEMISPHERE_UNKNOWN};
	(void)state;
	for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++) {
		struct place place = {.hemisphere = sides[i]};
		struct garden garden;
		garden_make_at(&garden, &place, "2026-06-20");
		stands(&garden, "C1", "sweet_cherry", "Bing", "2010");
		check_speaks(&garden, "C1", "no tree on record", "For one");
		stands(&garden, "C2", "sweet_cherry", "Benton", "2010");
		check_silent(&garden, "C1");
		garden_free(&garden);
	}
}

/* --- a fresh yard stays within its lines --- */

static void a_fresh_yard_of_sixty_is_not_asked(void **state)
{
	static const char *const kinds[] = {"apple", "european_pear", "sweet_cherry", "asian_pear",
		"almond", "japanese_plum", "chestnut", "hazelnut", "peach", "fig"};
	struct garden *garden = *state;
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct fault why = {0};
	char label[LABEL_SIZE];
	for (int i = 0; i < 60; i++) {
		snprintf(label, sizeof label, "T%d", i + 1);
		garden_tree(garden, label, i < 10 ? kinds[i] : kinds[i % 3], "2010", "");
	}
	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	for (int32_t i = 0; i < review.count; i++)
		assert_string_not_equal(review.items[i].flag.rule, "no-partner");
	assert_true(review.count <= 10);
}

#define FACT(name) cmocka_unit_test_setup_teardown(name, garden_setup, garden_teardown)

int main(void)
{
	const struct CMUnitTest tests[] = {
		FACT(a_cherry_alone_is_told_what_would_fill_the_gap),
		FACT(two_of_one_group_are_two_gaps),
		FACT(a_triploid_gives_nothing_and_takes),
		FACT(a_second_diploid_fills_the_gap_of_both),
		FACT(two_names_of_one_clone_are_one),
		FACT(a_partner_that_spoils_is_no_partner),
		FACT(who_serves_it_keeps_it_quiet),
		FACT(one_over_the_fence_counts),
		FACT(a_crab_apple_counts),
		FACT(a_graft_on_the_same_trunk_counts),
		FACT(one_that_is_gone_does_not_count),
		FACT(who_has_cropped_in_two_seasons_is_served),
		FACT(who_sets_alone_wants_nobody),
		FACT(seeds_are_not_wished_on_a_seedless_fruit),
		FACT(half_self_fruitful_kinds_are_left_in_peace),
		FACT(what_rests_on_memory_alone_is_not_said),
		FACT(the_age_of_bearing_is_an_edge),
		FACT(an_unknown_age_waits_for_the_first_bloom),
		FACT(one_that_stands_too_far_is_named_with_its_distance),
		FACT(two_classes_of_bloom_apart_is_a_question),
		FACT(a_cultivar_not_known_is_asked_for),
		FACT(an_unnamed_tree_is_asked_about_when_it_blooms_for_nothing),
		FACT(where_no_picks_are_logged_a_gap_is_no_zero),
		FACT(none_seen_is_no_crop),
		FACT(a_bramley_does_nothing_for_the_other_apple),
		FACT(of_two_named_ones_one_serves_whatever_it_is),
		FACT(of_two_named_cherries_perhaps_none_does),
		FACT(a_kind_in_doubt_is_left_alone),
		FACT(strangers_are_counted_not_blamed),
		FACT(one_whose_kind_is_in_doubt_is_a_question),
		FACT(other_kinds_are_not_held_against_it),
		cmocka_unit_test(it_is_the_same_in_the_south_and_where_nothing_is_known),
		FACT(a_fresh_yard_of_sixty_is_not_asked),
	};
	return cmocka_run_group_tests_name("no-partner", tests, NULL, NULL) != 0;
}
