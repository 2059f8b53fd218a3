/* SPDX-License-Identifier: MIT */
/* Random logs of every kind of tree, in every climate, on both sides of the equator.
 *
 * A quiet log holds work done inside the windows the almanac gives and at right sizes: no rule may
 * say `act` on any day of it, and what else is said is counted, so that a rule that nags shows.
 * Slow because each log is written line by line and looked at on many days; LOGS= asks for more
 * of them (2,000 before anything is called done), SEED= for others. */
#include "support/quiet.h"

enum { LOGS_USUAL = SANITIZED ? 52 : 104, FIRST_YEAR = 2020, YEARS = 5, KINDS_MAX = 60 };

/* Lines a tree-year that a quiet log may hear of one rule. What was seen once is to be looked for
 * each season (scout-due), and is about half. */
#define NAGS_FROM 0.67

struct tally {
	int64_t tree_years, acts;
	int64_t by_rule[QUIET_RULES_MAX];
	/* logs of a kind, a side of the equator and a place */
	int32_t logs[KINDS_MAX][2][AT_TROPICS + 1];
};

static int32_t kind_number(const struct almanac *almanac, const struct species *species)
{
	int32_t number = 0;

	while (almanac_species_at(almanac, number) != species)
		number++;
	return number;
}

static void add_told(struct tally *tally, const struct quiet *quiet)
{
	int32_t kind = kind_number(quiet->garden.almanac, quiet->species);

	assert_true(kind < KINDS_MAX);
	tally->logs[kind][quiet->south][quiet->place]++;
	tally->tree_years += quiet->tree_years;
	tally->acts += quiet->told.acts;
	for (int32_t i = 0; i < QUIET_RULES_MAX; i++)
		tally->by_rule[i] += quiet->told.by_rule[i];
}

/* Rules that are heard more often than twice in three years, in a yard where nothing is wrong. */
static int32_t print_told(const struct tally *tally)
{
	double years = (double)tally->tree_years, all = 0;
	int32_t nagging = 0;

	for (int32_t i = 0; rule_table()[i].id != NULL; i++) {
		double each = (double)tally->by_rule[i] / years;

		all += each;
		if (each >= 0.01)
			print_message("   %-20s %.2f a tree-year\n", rule_table()[i].id, each);
		nagging += each > NAGS_FROM;
	}
	print_message("   %-20s %.2f a tree-year\n", "all that is no act", all);
	return nagging;
}

/* Is there a log of the kind on that side, in this place, or in any (-1)? */
static bool is_lived(const struct tally *tally, int32_t kind, int side, int place)
{
	for (int at = 0; at <= AT_TROPICS; at++)
		if ((place < 0 || at == place) && tally->logs[kind][side][at] > 0)
			return true;
	return false;
}

/* Every kind on both sides; every place on both sides; with enough logs, every kind in each of the
 * places on both sides. */
static void check_spread(const struct tally *tally, int32_t kinds, int32_t logs)
{
	int32_t met = 0;

	for (int side = 0; side < 2; side++) {
		bool places[AT_TROPICS + 1] = {false};
		int32_t count = 0;

		for (int32_t kind = 0; kind < kinds; kind++) {
			assert_true(is_lived(tally, kind, side, -1));
			for (int at = 0; at <= AT_TROPICS; at++) {
				places[at] = places[at] || is_lived(tally, kind, side, at);
				met += is_lived(tally, kind, side, at);
			}
		}
		for (int at = 0; at <= AT_TROPICS; at++)
			count += places[at];
		check_int(count, QUIET_PLACES, "places on one side of the equator");
	}
	print_message("%d kinds on both sides of the equator, %d places: %d of %d met\n",
		(int)kinds, QUIET_PLACES, (int)met, (int)kinds * 2 * QUIET_PLACES);
	if (logs >= kinds * 2 * QUIET_PLACES)
		check_int(met, kinds * 2 * QUIET_PLACES, "kinds in places");
}

static void quiet_logs_raise_no_act(void **state)
{
	(void)state;
	static struct tally tally;
	struct quiet_wish wish = {.first_year = FIRST_YEAR, .almanac = garden_almanac()};
	int32_t kinds = almanac_species_count(wish.almanac);
	int32_t logs = quiet_logs_asked(LOGS_USUAL);

	if (logs < 2 * kinds)
		logs = 2 * kinds;
	for (int32_t number = 0; number < logs; number++) {
		struct quiet quiet;

		wish.number = number;
		quiet_begin(&quiet, &wish);
		for (int year = FIRST_YEAR; year < FIRST_YEAR + YEARS; year++)
			quiet_live_year(&quiet, year);
		add_told(&tally, &quiet);
		quiet_end(&quiet);
	}
	print_message("%d quiet logs, %d tree-years, %d false acts\n", (int)logs,
		(int)tally.tree_years, (int)tally.acts);
	check_spread(&tally, kinds, logs);
	check_int(tally.tree_years, (int64_t)logs * YEARS, "tree-years looked at");
	check_int(print_told(&tally), 0, "rules that nag");
	check_int(tally.acts, 0, "false acts");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(quiet_logs_raise_no_act),
	};
	return cmocka_run_group_tests_name("quiet logs", tests, NULL, NULL) != 0;
}
