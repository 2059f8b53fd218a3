/* SPDX-License-Identifier: MIT */
/* Random logs of every kind of tree, in every climate, on both sides of the equator.
 *
 * A quiet log holds work done inside the windows the almanac gives and at right sizes: no rule may
 * say `act` on any day of it. One fault put into such a log must be found by the rule it belongs
 * to. Slow because each log is written line by line and looked at on many days; LOGS= asks for
 * more of them (2,000 before anything is called done), SEED= for others. */
#include "support/log_case.h"

#include "core/text.h"
#include "rules/look.h"

enum { LOGS_USUAL = 78, FIRST_YEAR = 2020, YEARS = 5, EVENTS_MAX = 32, MARGIN_DAYS = 6 };
enum { ANY_REASON = 0xff, TRIES = 60 };

static const enum log_place PLACES[] = {
	AT_WET_WINTER, AT_COOL, AT_CONTINENTAL, AT_HUMID, AT_LITTLE, AT_UNSAID};
enum { PLACE_COUNT = sizeof PLACES / sizeof PLACES[0] };

/* A line of the log still to be written, with its day. */
struct event {
	struct date day;
	char words[80];
};

struct quiet {
	struct garden garden;
	struct dice dice;
	const struct species *species;
	bool south;
	enum log_place place;
	int64_t tree_years;
	struct event events[EVENTS_MAX];
	int32_t event_count;
};

static int32_t logs_asked(void)
{
	const char *asked = getenv("LOGS");
	return asked != NULL && atoi(asked) > 0 ? atoi(asked) : LOGS_USUAL;
}

/* --- days --- */

static struct date year_day(struct quiet *quiet, int year)
{
	struct month_day first = {1, 1};
	return date_add_days(
		date_of_month_day(year, first), (int32_t)dice_between(&quiet->dice, 0, 364));
}

static bool cut_is(
	const struct dossier *dossier, struct date day, enum verdict verdict, unsigned reasons)
{
	struct verdict_here here =
		look_verdict(dossier, dossier->kind.species, CUT_SHAPE, day, reasons);
	return here.known && here.verdict == verdict;
}

static bool is_clear_around(const struct dossier *dossier, struct date day)
{
	for (int32_t off = -MARGIN_DAYS; off <= MARGIN_DAYS; off += MARGIN_DAYS)
		if (!cut_is(dossier, date_add_days(day, off), VERDICT_CLEAR, ANY_REASON))
			return false;
	return true;
}

static bool window_is_around(const struct dossier *dossier, enum window_kind kind, struct date day)
{
	struct window window = dossier_window(dossier, kind, day);
	return window.known && window_holds(&window, date_add_days(day, -MARGIN_DAYS)) &&
	       window_holds(&window, day) && window_holds(&window, date_add_days(day, MARGIN_DAYS));
}

static bool is_good_for_feed(const struct dossier *dossier, struct date day)
{
	struct window avoid = dossier_window(dossier, WINDOW_FEED_AVOID, day);
	return window_is_around(dossier, WINDOW_FEED_CLEAR, day) &&
	       !(avoid.known && window_holds(&avoid, day));
}

/* --- a year of quiet work --- */

static struct event *event_add(struct quiet *quiet, struct date day)
{
	assert_true(quiet->event_count < EVENTS_MAX);
	struct event *event = &quiet->events[quiet->event_count++];
	event->day = day;
	return event;
}

static void plan_cut(struct quiet *quiet, const struct dossier *dossier, int year)
{
	int percent = (int)dice_between(&quiet->dice, 4, 14);
	for (int32_t i = 0; i < TRIES; i++) {
		struct date day = year_day(quiet, year);
		if (!is_clear_around(dossier, day))
			continue;
		struct event *event = event_add(quiet, day);
		snprintf(event->words, sizeof event->words, "cut shape %d%% of %s", percent,
			quiet->species->limit_is_shoots ? "shoots" : "crown");
		return;
	}
}

static void plan_feed(struct quiet *quiet, const struct dossier *dossier, int year)
{
	for (int32_t i = 0; i < TRIES; i++) {
		struct date day = year_day(quiet, year);
		if (!is_good_for_feed(dossier, day))
			continue;
		struct event *event = event_add(quiet, day);
		snprintf(event->words, sizeof event->words, "fed 1 lb 10-10-10");
		return;
	}
}

static void plan_picks(struct quiet *quiet, const struct dossier *dossier, int year)
{
	int64_t picks = dice_between(&quiet->dice, 0, 3);
	for (int32_t i = 0; i < TRIES && picks > 0; i++) {
		struct date day = year_day(quiet, year);
		if (!window_is_around(dossier, WINDOW_HARVEST, day))
			continue;
		struct event *event = event_add(quiet, day);
		snprintf(event->words, sizeof event->words, "picked %d lb",
			(int)dice_between(&quiet->dice, 5, 40));
		picks--;
	}
}

static void plan_bloom(struct quiet *quiet, const struct dossier *dossier, int year)
{
	for (int32_t i = 0; i < TRIES; i++) {
		struct date day = year_day(quiet, year);
		if (!window_is_around(dossier, WINDOW_BLOOM, day))
			continue;
		struct event *event = event_add(quiet, day);
		snprintf(event->words, sizeof event->words, "bloom");
		return;
	}
}

/* What may be done on any day. */
static void plan_any_day(struct quiet *quiet, int year)
{
	static const char *const works[] = {"watered 12 gal", "mulched 3 in", "saw aphids light",
		"cut suckers", "cut dead wood 5% of crown", "note the gate sticks", "shoots 14 in"};
	enum { WORKS = sizeof works / sizeof works[0] };
	for (int64_t count = dice_between(&quiet->dice, 0, 4); count > 0; count--) {
		struct event *event = event_add(quiet, year_day(quiet, year));
		snprintf(event->words, sizeof event->words, "%s",
			works[dice_between(&quiet->dice, 0, WORKS - 1)]);
	}
}

static int compare_events(const void *left, const void *right)
{
	const struct event *a = left;
	const struct event *b = right;
	return date_compare(a->day, b->day);
}

static void set_today(struct quiet *quiet, struct date day)
{
	char iso[DATE_SIZE];
	garden_today(&quiet->garden, date_format(day, iso));
}

static void plan_year(struct quiet *quiet, int year)
{
	quiet->event_count = 0;
	set_today(quiet, date_of_month_day(year, (struct month_day){1, 1}));
	const struct dossier *dossier = garden_story(&quiet->garden, "A1");
	if (dice_between(&quiet->dice, 0, 4) > 0)
		plan_cut(quiet, dossier, year);
	if (dice_between(&quiet->dice, 0, 4) > 0)
		plan_feed(quiet, dossier, year);
	if (dice_between(&quiet->dice, 0, 2) > 0)
		plan_bloom(quiet, dossier, year);
	plan_picks(quiet, dossier, year);
	plan_any_day(quiet, year);
	qsort(quiet->events, (size_t)quiet->event_count, sizeof quiet->events[0], compare_events);
}

/* --- looking --- */

static void check_no_act(struct quiet *quiet)
{
	struct flags flags = log_case_flags(&quiet->garden);
	char iso[DATE_SIZE];
	for (int32_t i = 0; i < flags.count; i++) {
		if (flags.items[i].urgency != URGENCY_ACT)
			continue;
		print_error("%s, %s, place %d: %s: %s: %s %s\n", quiet->species->key,
			quiet->south ? "south" : "north", (int)quiet->place,
			date_format(yard_today(quiet->garden.yard), iso), flags.items[i].rule,
			flags.items[i].says, dice_remark());
		for (int32_t e = 0; e < quiet->event_count; e++)
			print_error("   %s %s\n", date_format(quiet->events[e].day, iso),
				quiet->events[e].words);
		fail();
	}
}

static void log_event(struct quiet *quiet, const struct event *event)
{
	char line[120], iso[DATE_SIZE];
	set_today(quiet, event->day);
	snprintf(line, sizeof line, "A1 %s @ %s", event->words, date_format(event->day, iso));
	garden_log(&quiet->garden, line);
}

static void live_year(struct quiet *quiet, int year)
{
	plan_year(quiet, year);
	for (int32_t i = 0; i < quiet->event_count; i++) {
		log_event(quiet, &quiet->events[i]);
		check_no_act(quiet);
		set_today(quiet, date_add_days(quiet->events[i].day,
					 (int32_t)dice_between(&quiet->dice, 1, 30)));
		check_no_act(quiet);
	}
	quiet->tree_years++;
}

/* The n-th log: each kind in its turn, at each place and side as the numbers fall. */
static void quiet_begin(struct quiet *quiet, int32_t number)
{
	struct place place;
	struct fault why = {0};
	struct almanac *almanac = NULL;

	*quiet = (struct quiet){.dice = dice_start()};
	quiet->dice.state += (uint64_t)number * 7919;
	check_ok(almanac_open("share/almanac", &almanac, &why), &why);
	int32_t kinds = almanac_species_count(almanac);
	char kind[KEY_SIZE];
	snprintf(kind, sizeof kind, "%s", almanac_species_at(almanac, number % kinds)->key);
	almanac_close(almanac);
	quiet->south = (number / kinds) % 2 == 1;
	quiet->place = PLACES[dice_between(&quiet->dice, 0, PLACE_COUNT - 1)];
	log_case_place(quiet->place, quiet->south, &place);
	garden_make_at(&quiet->garden, &place, "2020-01-01");
	quiet->species = almanac_species(quiet->garden.almanac, kind);
	garden_tree(&quiet->garden, "A1", kind, "2004", "");
	garden_log(&quiet->garden, "A1 girth 61 cm @ 2019-12-01");
}

static void quiet_logs_raise_no_act(void **state)
{
	int64_t tree_years = 0;
	(void)state;
	for (int32_t number = 0; number < logs_asked(); number++) {
		struct quiet quiet;
		quiet_begin(&quiet, number);
		for (int year = FIRST_YEAR; year < FIRST_YEAR + YEARS; year++)
			live_year(&quiet, year);
		tree_years += quiet.tree_years;
		garden_free(&quiet.garden);
	}
	print_message("%d quiet logs, %d tree-years, no act\n", (int)logs_asked(), (int)tree_years);
	check_int(tree_years, (int64_t)logs_asked() * YEARS, "tree-years looked at");
}

/* --- one fault in a quiet log --- */

/* A fault that depends on the windows of the kind: is this day one for it? */
static bool takes_flowers(const struct dossier *dossier, struct date day)
{
	unsigned reasons = 1U << REASON_FLOWERS | 1U << REASON_FRUIT;
	return cut_is(dossier, date_add_days(day, -1), VERDICT_AVOID, reasons) &&
	       cut_is(dossier, day, VERDICT_AVOID, reasons);
}

static bool is_wet(const struct dossier *dossier, struct date day)
{
	return cut_is(dossier, day, VERDICT_AVOID, 1U << REASON_DISEASE) &&
	       !takes_flowers(dossier, day) &&
	       !cut_is(dossier, day, VERDICT_AVOID, 1U << REASON_FLOWERS | 1U << REASON_FRUIT);
}

static bool is_to_avoid_feed(const struct dossier *dossier, struct date day)
{
	return window_is_around(dossier, WINDOW_FEED_AVOID, day) && !is_good_for_feed(dossier, day);
}

static bool is_near_frost(const struct dossier *dossier, struct date day)
{
	unsigned others = 1U << REASON_FLOWERS | 1U << REASON_FRUIT | 1U << REASON_DISEASE;
	return cut_is(dossier, day, VERDICT_AVOID, 1U << REASON_FROST | 1U << REASON_REGROWTH) &&
	       !cut_is(dossier, day, VERDICT_AVOID, others);
}

static bool has_blight_distance(const struct dossier *dossier, struct date day)
{
	(void)day;
	return species_fact(dossier->kind.species, "blight-cut-below") != NULL;
}

static bool is_any_day(const struct dossier *dossier, struct date day)
{
	(void)dossier;
	(void)day;
	return true;
}

static bool is_set_high(const struct dossier *dossier, struct date day)
{
	const struct fact_row *deeper = species_fact(dossier->kind.species, "planting-depth");
	(void)day;
	return deeper == NULL || !deeper->low.known;
}

static bool has_tender_seeds(const struct dossier *dossier, struct date day)
{
	(void)day;
	return species_fact(dossier->kind.species, "seed-keep-moist") != NULL;
}

struct fault_kind {
	const char *rule;
	const char *words; /* "of limit": of what the kind's share limit counts */
	bool (*fits)(const struct dossier *dossier, struct date day);
};

/* clang-format off */
static const struct fault_kind FAULTS[] = {
	{ "flower-wood", "cut shape 20% of crown", takes_flowers },
	{ "cut-in-wet-season", "cut shape 10% of crown", is_wet },
	{ "cut-too-much", "cut shape 95% of limit", is_clear_around },
	{ "feed-late", "fed 1 lb 10-10-10", is_to_avoid_feed },
	{ "feed-over", "fed 70 lb 10-10-10", is_good_for_feed },
	{ "entry-odd", "girth 40 cm", is_any_day },
	{ "label-lost", "saw label gone", is_any_day },
	{ "planted-deep", "saw graft union buried", is_set_high },
	{ "seed-drying", "note took 5 seeds", has_tender_seeds },
	{ "cut-near-frost", "cut shape 10% of crown", is_near_frost },
	{ "blight-cut-short", "cut fire blight 1 in below", has_blight_distance },
	{ "suckers-standing", "saw suckers", is_any_day },
};
/* clang-format on */
enum { FAULT_COUNT = sizeof FAULTS / sizeof FAULTS[0] };

static bool find_day(struct quiet *quiet, const struct fault_kind *fault, struct date *day)
{
	set_today(quiet, date_of_month_day(FIRST_YEAR + 1, (struct month_day){1, 1}));
	const struct dossier *dossier = garden_story(&quiet->garden, "A1");
	for (int32_t i = 0; i < TRIES; i++) {
		*day = year_day(quiet, FIRST_YEAR + 1);
		if (fault->fits(dossier, *day))
			return true;
	}
	return false;
}

static void check_found(struct quiet *quiet, const struct fault_kind *fault, struct date day)
{
	char iso[DATE_SIZE];
	struct flags flags = log_case_flags(&quiet->garden);
	if (log_case_find(&flags, fault->rule) != NULL)
		return;
	print_error("%s, %s, place %d: \"%s\" on %s is not seen by %s %s\n", quiet->species->key,
		quiet->south ? "south" : "north", (int)quiet->place, fault->words,
		date_format(day, iso), fault->rule, dice_remark());
	fail();
}

static void say_words(
	const struct quiet *quiet, const struct fault_kind *fault, char *out, size_t size)
{
	static const char limit[] = "limit";
	int length = (int)strlen(fault->words);
	bool of_limit = strstr(fault->words, limit) != NULL;
	if (of_limit)
		length -= (int)strlen(limit);
	snprintf(out, size, "%.*s%s", length, fault->words,
		!of_limit                         ? ""
		: quiet->species->limit_is_shoots ? "shoots"
						  : "crown");
}

static void a_fault_in_a_quiet_log_is_found(void **state)
{
	const struct fault_kind *fault = &FAULTS[*(const int *)*state];
	int32_t found = 0;
	for (int32_t number = 0; number < logs_asked() / 2; number++) {
		struct quiet quiet;
		struct date day;
		quiet_begin(&quiet, number);
		live_year(&quiet, FIRST_YEAR);
		if (find_day(&quiet, fault, &day)) {
			struct event event = {.day = day};
			say_words(&quiet, fault, event.words, sizeof event.words);
			log_event(&quiet, &event);
			check_found(&quiet, fault, day);
			found++;
		}
		garden_free(&quiet.garden);
	}
	print_message("%s: found in %d logs\n", fault->rule, (int)found);
	assert_true(found > 0);
}

int main(void)
{
	static int numbers[FAULT_COUNT];
	struct CMUnitTest faults[FAULT_COUNT];
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(quiet_logs_raise_no_act),
	};
	for (int i = 0; i < FAULT_COUNT; i++) {
		numbers[i] = i;
		faults[i] = (struct CMUnitTest){.name = FAULTS[i].rule,
			.test_func = a_fault_in_a_quiet_log_is_found,
			.initial_state = &numbers[i]};
	}
	int failed = cmocka_run_group_tests_name("quiet logs", tests, NULL, NULL);
	failed += cmocka_run_group_tests_name("faults in quiet logs", faults, NULL, NULL);
	return failed != 0;
}
