/* SPDX-License-Identifier: MIT */
/* Which window and which cut rows speak for a tree: made rows, then the shipped almanac. */
#include "reckon/make.h"

#include "reckon/window.h"

static const struct place north = {.hemisphere = HEMISPHERE_NORTH};
static const struct place south = {.hemisphere = HEMISPHERE_SOUTH};
static const struct place nowhere = {.hemisphere = HEMISPHERE_UNKNOWN};
static const struct place tropics = {
	.hemisphere = HEMISPHERE_NORTH, .latitude_udeg = {9000000, true}};

static const struct window_row fig_windows[] = {
	{.kind = WINDOW_HARVEST, .from = {6, 1}, .to = {6, 30}, .anchor = ANCHOR_HARVEST},
	{.kind = WINDOW_HARVEST, .from = {8, 1}, .to = {10, 15}, .anchor = ANCHOR_HARVEST},
	{.kind = WINDOW_BLOOM, .from = {4, 1}, .to = {4, 20}, .anchor = ANCHOR_BLOOM},
	{.kind = WINDOW_BLOOM,
		.climate = CLIMATE_CONTINENTAL,
		.from = {5, 1},
		.to = {5, 20},
		.anchor = ANCHOR_BLOOM},
};
static const struct species fig = {.key = "fig", .windows = fig_windows, .window_count = 4};

static struct own_window own_of(const char *tree, const char *species, const char *window,
	int8_t from_month, int8_t to_month)
{
	struct own_window own = {.from = {from_month, 1}, .to = {to_month, 15}};
	snprintf(own.tree_id, sizeof own.tree_id, "%s", tree);
	snprintf(own.species, sizeof own.species, "%s", species);
	snprintf(own.window, sizeof own.window, "%s", window);
	return own;
}

static struct window look(const struct species *species, enum window_kind kind,
	const struct place *place, const char *tree, const char *day)
{
	const struct own_window own[] = {own_of("T1", "", "harvest", 9, 10),
		own_of("", "fig", "harvest", 7, 8), own_of("", "fig", "thinning", 5, 6),
		own_of("", "peach", "bloom", 2, 3)};
	const struct window_facts facts = {.species = species,
		.place = place,
		.own = own,
		.own_count = tree == NULL ? 0 : 4,
		.tree_id = tree};
	return window_resolve(&facts, kind, day_of(day));
}

struct pick_case {
	const char *name;
	const struct species *species;
	enum window_kind kind;
	const struct place *place;
	const char *tree; /* NULL: no windows set by hand */
	const char *day;
	int32_t from; /* month x 100 + day; 0: none */
	enum basis basis;
};

static const struct pick_case pick_cases[] = {
	{"the row that holds the day", &fig, WINDOW_HARVEST, &north, NULL, "2026-09-01", 801,
		BASIS_ALMANAC},
	{"the row that opens next", &fig, WINDOW_HARVEST, &north, NULL, "2026-07-10", 801,
		BASIS_ALMANAC},
	{"next year's first", &fig, WINDOW_HARVEST, &north, NULL, "2026-11-10", 601, BASIS_ALMANAC},
	{"turned for the south", &fig, WINDOW_HARVEST, &south, NULL, "2026-11-10", 1201,
		BASIS_ALMANAC},
	{"no hemisphere, no row", &fig, WINDOW_HARVEST, &nowhere, NULL, "2026-09-01", 0,
		BASIS_ALMANAC},
	{"near the equator, no row", &fig, WINDOW_HARVEST, &tropics, NULL, "2026-09-01", 0,
		BASIS_ALMANAC},
	{"a kind without such a row", &fig, WINDOW_THINNING, &north, NULL, "2026-09-01", 0,
		BASIS_ALMANAC},
	{"the tree's own goes first", &fig, WINDOW_HARVEST, &north, "T1", "2026-01-01", 901,
		BASIS_OWN},
	{"the kind's own is next", &fig, WINDOW_HARVEST, &north, "T2", "2026-01-01", 701,
		BASIS_OWN},
	{"own days are days here, not turned", &fig, WINDOW_HARVEST, &south, "T1", "2026-01-01",
		901, BASIS_OWN},
	{"own days need no hemisphere", &fig, WINDOW_HARVEST, &nowhere, "T1", "2026-01-01", 901,
		BASIS_OWN},
	{"nor another latitude", &fig, WINDOW_THINNING, &tropics, "T2", "2026-01-01", 501,
		BASIS_OWN},
	{"another kind's own does not count", &fig, WINDOW_BLOOM, &north, "T2", "2026-01-01", 401,
		BASIS_ALMANAC},
	{"kind not known, the tree's own", NULL, WINDOW_HARVEST, &north, "T1", "2026-01-01", 901,
		BASIS_OWN},
	{"kind not known, none of its own", NULL, WINDOW_HARVEST, &north, "T2", "2026-01-01", 0,
		BASIS_ALMANAC},
};

static void pick_case_run(const void *one)
{
	const struct pick_case *at = one;
	struct window window = look(at->species, at->kind, at->place, at->tree, at->day);
	check_int(window.known, at->from != 0, "known");
	check_int(window.kind, at->kind, "kind");
	if (at->from == 0)
		return;
	check_int(window.from.month * 100 + window.from.day, at->from, "from");
	check_int(window.basis, at->basis, "basis");
}

static void a_climates_own_row_takes_the_place_of_the_common_one(void **state)
{
	(void)state;
	struct window_facts facts = {
		.species = &fig, .climate = CLIMATE_CONTINENTAL, .place = &north, .tree_id = "T1"};
	struct window window = window_resolve(&facts, WINDOW_BLOOM, day_of("2026-01-01"));
	check_int(window.from.month, 5, "continental");
	struct tree_learning learning = {.bloom = {.seasons = 3, .shift_days = 5, .applied = true}};
	facts.learning = &learning;
	window = window_resolve(&facts, WINDOW_BLOOM, day_of("2026-01-01"));
	check_int(window.from.month * 100 + window.from.day, 506, "learned");
	check_int(window.basis, BASIS_LEARNED, "basis");
}

/* --- cut rows --- */

static const struct cut_row loquat_cuts[] = {
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {6, 16},
		.from_anchor = ANCHOR_HARVEST,
		.to = {7, 15},
		.to_anchor = ANCHOR_CALENDAR,
		.verdict = VERDICT_CLEAR},
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {7, 16},
		.to = {9, 30},
		.to_anchor = ANCHOR_BLOOM,
		.verdict = VERDICT_AVOID,
		.reason = REASON_FLOWERS},
	{.cultivar = "",
		.kind = CUT_SHAPE,
		.from = {10, 1},
		.from_anchor = ANCHOR_BLOOM,
		.to = {6, 15},
		.to_anchor = ANCHOR_HARVEST,
		.verdict = VERDICT_AVOID,
		.reason = REASON_FRUIT},
	{.cultivar = "",
		.kind = CUT_THINNING,
		.from = {1, 1},
		.to = {12, 31},
		.verdict = VERDICT_CLEAR},
};
static const struct species loquat = {.key = "loquat", .cuts = loquat_cuts, .cut_count = 4};

enum { CUTS = 8 };

static int32_t cuts_of(enum cut_kind kind, const struct place *place,
	const struct tree_learning *learning, struct cut_window out[CUTS])
{
	const struct window_facts facts = {
		.species = &loquat, .place = place, .learning = learning};
	return window_cuts(&facts, "", kind, out, CUTS);
}

static void cut_rows_are_those_of_the_kind_of_cut_here(void **state)
{
	(void)state;
	struct cut_window cuts[CUTS];
	check_int(cuts_of(CUT_SHAPE, &north, NULL, cuts), 3, "shape");
	check_int(cuts_of(CUT_UNSAID, &north, NULL, cuts), 3, "unsaid is judged as shape");
	check_int(cuts_of(CUT_THINNING, &north, NULL, cuts), 1, "thinning");
	check_int(cuts_of(CUT_SUCKER, &north, NULL, cuts), 0, "a sucker has no row");
	check_int(cuts_of(CUT_SANITATION, &north, NULL, cuts), 0, "dead wood has no row");
	check_int(cuts_of(CUT_SHAPE, &nowhere, NULL, cuts), 0, "no hemisphere");
	check_int(cuts_of(CUT_SHAPE, &tropics, NULL, cuts), 0, "near the equator");
	struct window_facts facts = {.place = &north};
	check_int(window_cuts(&facts, "", CUT_SHAPE, cuts, CUTS), 0, "kind not known");
	facts.species = &loquat;
	check_int(window_cuts(&facts, "", CUT_SHAPE, cuts, 2), 2, "room");
}

static void cut_rows_turn_and_hold_over_new_year(void **state)
{
	(void)state;
	struct cut_window cuts[CUTS];
	cuts_of(CUT_SHAPE, &north, NULL, cuts);
	assert_true(cut_window_holds(&cuts[0], day_of("2026-07-01")));
	assert_true(cut_window_holds(&cuts[1], day_of("2026-08-20")));
	assert_true(cut_window_holds(&cuts[2], day_of("2026-10-05")));
	assert_true(cut_window_holds(&cuts[2], day_of("2026-01-05")));
	assert_false(cut_window_holds(&cuts[2], day_of("2026-06-16")));
	cuts_of(CUT_SHAPE, &south, NULL, cuts);
	assert_true(cut_window_holds(&cuts[2], day_of("2026-04-05")));
	assert_true(cut_window_holds(&cuts[0], day_of("2026-01-01")));
	assert_false(cuts[0].moved);
}

static void cut_rows_move_at_the_ends_that_hang_on_an_event(void **state)
{
	(void)state;
	struct tree_learning learning = {
		.bloom = {.seasons = 3, .shift_days = -20, .applied = true},
		.harvest = {.seasons = 3, .shift_days = 5, .applied = true},
		.harvest_end = {.seasons = 2, .shift_days = 14, .applied = true}};
	struct cut_window cuts[CUTS];
	check_int(cuts_of(CUT_SHAPE, &north, &learning, cuts), 3, "rows");
	check_int(cuts[0].from.month * 100 + cuts[0].from.day, 630, "after the last pick");
	check_int(cuts[0].to.month * 100 + cuts[0].to.day, 715, "the calendar stays");
	check_int(cuts[1].to.month * 100 + cuts[1].to.day, 910, "up to bloom");
	check_int(cuts[2].from.month * 100 + cuts[2].from.day, 911, "from bloom");
	check_int(cuts[2].to.month * 100 + cuts[2].to.day, 629, "to the last pick");
	assert_true(cuts[0].moved && cuts[1].moved && cuts[2].moved);
	learning.harvest_end.applied = false;
	cuts_of(CUT_SHAPE, &north, &learning, cuts);
	check_int(
		cuts[0].from.month * 100 + cuts[0].from.day, 616, "first picks alone move no end");
}

static void a_clear_time_that_the_tree_leaves_no_day_of_is_gone(void **state)
{
	(void)state;
	struct tree_learning learning = {
		.harvest_end = {.seasons = 2, .shift_days = 29, .applied = true}};
	struct cut_window cuts[CUTS];
	check_int(cuts_of(CUT_SHAPE, &north, &learning, cuts), 3, "one day is left");
	learning.harvest_end.shift_days = 30;
	check_int(cuts_of(CUT_SHAPE, &north, &learning, cuts), 2, "none is left");
	check_int(cuts[0].row->verdict, VERDICT_AVOID, "avoid stands");
	learning = (struct tree_learning){
		.bloom = {.seasons = 2, .shift_days = -120, .applied = true}};
	check_int(cuts_of(CUT_SHAPE, &north, &learning, cuts), 3, "avoid is never dropped");
	check_int(cuts[1].to.month * 100 + cuts[1].to.day, 930, "it keeps the almanac's days");
	assert_false(cuts[1].moved);
}

struct clear_case {
	const char *name;
	const char *day;
	const char *opens;
};

static const struct clear_case clear_cases[] = {
	{"long before", "2026-01-10", "2026-06-16"},
	{"the day before", "2026-06-15", "2026-06-16"},
	{"the first day", "2026-06-16", "2026-06-16"},
	{"inside", "2026-07-01", "2026-07-01"},
	{"the last day", "2026-07-15", "2026-07-15"},
	{"the day after", "2026-07-16", "2027-06-16"},
};

static void clear_case_run(const void *one)
{
	const struct clear_case *at = one;
	struct cut_window cuts[CUTS];
	const struct cut_row *row = NULL;
	int32_t count = cuts_of(CUT_SHAPE, &north, NULL, cuts);
	struct maybe_date opens = window_next_clear(cuts, count, day_of(at->day), &row);
	assert_true(opens.known);
	check_int(opens.value.day, day_of(at->opens).day, at->day);
	assert_ptr_equal(row, &loquat_cuts[0]);
}

static void without_a_clear_row_nothing_opens(void **state)
{
	(void)state;
	struct cut_window cuts[CUTS];
	cuts_of(CUT_SHAPE, &north, NULL, cuts);
	const struct cut_row *row = &loquat_cuts[3];
	assert_false(window_next_clear(cuts + 1, 2, day_of("2026-01-10"), &row).known);
	assert_ptr_equal(row, &loquat_cuts[3]);
	assert_false(window_next_clear(NULL, 0, day_of("2026-01-10"), NULL).known);
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

static enum verdict verdict_on(const struct species *species, const struct place *place,
	const struct tree_learning *learning, struct date day, bool *spoken)
{
	struct cut_window cuts[48];
	const struct window_facts facts = {
		.species = species, .place = place, .learning = learning};
	int32_t count = window_cuts(&facts, "", CUT_SHAPE, cuts, 48);
	enum verdict worst = VERDICT_CLEAR;
	*spoken = false;
	for (int32_t at = 0; at < count; at++) {
		if (!cut_window_holds(&cuts[at], day))
			continue;
		*spoken = true;
		if (cuts[at].row->verdict > worst)
			worst = cuts[at].row->verdict;
	}
	return worst;
}

static void a_shape_cut_of_a_loquat_waits_for_the_last_pick(void **state)
{
	(void)state;
	const struct species *kind = almanac_species(shipped(), "loquat");
	bool spoken;
	check_int(verdict_on(kind, &north, NULL, day_of("2026-10-05"), &spoken), VERDICT_AVOID,
		"October, north");
	check_int(verdict_on(kind, &south, NULL, day_of("2026-04-05"), &spoken), VERDICT_AVOID,
		"April, south");
	check_int(verdict_on(kind, &north, NULL, day_of("2026-06-25"), &spoken), VERDICT_CLEAR,
		"after the harvest, north");
	check_int(verdict_on(kind, &south, NULL, day_of("2026-12-25"), &spoken), VERDICT_CLEAR,
		"after the harvest, south");
}

/* However a tree's bloom and harvest move, no day between two avoid rows falls silent. */
static void moving_a_loquat_leaves_no_day_unspoken(void **state)
{
	(void)state;
	const struct species *kind = almanac_species(shipped(), "loquat");
	for (int32_t bloom = -40; bloom <= 40; bloom += 10) {
		for (int32_t end = -25; end <= 25; end += 5) {
			struct tree_learning learning = {
				.bloom = {.seasons = 3, .shift_days = bloom, .applied = true},
				.harvest_end = {.seasons = 3, .shift_days = end, .applied = true}};
			for (int32_t on = 0; on < 365; on++) {
				bool spoken;
				struct date day = date_add_days(day_of("2026-01-01"), on);
				verdict_on(kind, &north, &learning, day, &spoken);
				if (!spoken)
					fail_msg("bloom %+d, end %+d: day %d has no row", bloom,
						end, on + 1);
			}
		}
	}
}

static void the_south_gets_the_verdicts_of_the_north_half_a_year_on(void **state)
{
	(void)state;
	for (int32_t at = 0; at < almanac_species_count(shipped()); at++) {
		const struct species *kind = almanac_species_at(shipped(), at);
		for (int8_t month = 1; month <= 12; month++) {
			for (int8_t day = 1; day <= 28; day += 3) {
				struct month_day here = {month, day};
				bool a, b;
				enum verdict up = verdict_on(
					kind, &north, NULL, date_of_month_day(2025, here), &a);
				enum verdict down = verdict_on(kind, &south, NULL,
					date_of_month_day(2025, month_day_mirror(here)), &b);
				if (a != b || up != down)
					fail_msg("%s: %d-%02d differs", kind->key, month, day);
			}
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_climates_own_row_takes_the_place_of_the_common_one),
		cmocka_unit_test(cut_rows_are_those_of_the_kind_of_cut_here),
		cmocka_unit_test(cut_rows_turn_and_hold_over_new_year),
		cmocka_unit_test(cut_rows_move_at_the_ends_that_hang_on_an_event),
		cmocka_unit_test(a_clear_time_that_the_tree_leaves_no_day_of_is_gone),
		cmocka_unit_test(without_a_clear_row_nothing_opens),
		cmocka_unit_test(a_shape_cut_of_a_loquat_waits_for_the_last_pick),
		cmocka_unit_test(moving_a_loquat_leaves_no_day_unspoken),
		cmocka_unit_test(the_south_gets_the_verdicts_of_the_north_half_a_year_on),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("windows", pick_cases, pick_case_run);
	failed += RUN_CASES("next clear day", clear_cases, clear_case_run);
	almanac_close(shipped());
	return failed != 0;
}
