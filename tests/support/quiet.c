/* SPDX-License-Identifier: MIT */
#include "support/quiet.h"

#include <math.h>

#include "rules/look.h"

#include "support/sky_case.h"

enum { MARGIN_DAYS = 6, ANY_REASON = 0xff, WEATHER_YEARS = 6 };

static const enum log_place PLACES[QUIET_PLACES] = {
	AT_WET_WINTER, AT_COOL, AT_CONTINENTAL, AT_HUMID, AT_LITTLE, AT_UNSAID};

int32_t quiet_logs_asked(int32_t usual)
{
	const char *asked = getenv("LOGS");
	return asked != NULL && atoi(asked) > 0 ? atoi(asked) : usual;
}

/* --- days --- */

struct date quiet_day_of(struct quiet *quiet, int32_t year)
{
	struct month_day first = {1, 1};
	return date_add_days(
		date_of_month_day(year, first), (int32_t)dice_between(&quiet->dice, 0, 364));
}

void quiet_set_today(struct quiet *quiet, struct date day)
{
	char iso[DATE_SIZE];
	garden_today(&quiet->garden, date_format(day, iso));
}

bool quiet_cut_is(
	const struct dossier *dossier, struct date day, enum verdict verdict, unsigned reasons)
{
	struct verdict_here here =
		look_verdict(dossier, dossier->kind.species, CUT_SHAPE, day, reasons);
	return here.known && here.verdict == verdict;
}

bool quiet_is_clear_around(const struct dossier *dossier, struct date day)
{
	for (int32_t off = -MARGIN_DAYS; off <= MARGIN_DAYS; off += MARGIN_DAYS)
		if (!quiet_cut_is(dossier, date_add_days(day, off), VERDICT_CLEAR, ANY_REASON))
			return false;
	/* a cut on the host is one on its grafts */
	for (int32_t i = 0; i < dossier->graft_count; i++)
		if (!quiet_is_clear_around(dossier->grafts[i], day))
			return false;
	return true;
}

bool quiet_window_is_around(const struct dossier *dossier, enum window_kind kind, struct date day)
{
	struct window window = dossier_window(dossier, kind, day);
	return window.known && window_holds(&window, date_add_days(day, -MARGIN_DAYS)) &&
	       window_holds(&window, day) && window_holds(&window, date_add_days(day, MARGIN_DAYS));
}

bool quiet_is_good_for_feed(const struct dossier *dossier, struct date day)
{
	struct window avoid = dossier_window(dossier, WINDOW_FEED_AVOID, day);
	return quiet_window_is_around(dossier, WINDOW_FEED_CLEAR, day) &&
	       !(avoid.known && window_holds(&avoid, day));
}

/* --- a year of quiet work --- */

static void event_add(struct quiet *quiet, struct date day, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
static void event_add(struct quiet *quiet, struct date day, const char *format, ...)
{
	va_list words;

	assert_true(quiet->event_count < QUIET_EVENTS_MAX);
	struct quiet_event *event = &quiet->events[quiet->event_count++];
	event->day = day;
	va_start(words, format);
	vsnprintf(event->line, sizeof event->line, format, words);
	va_end(words);
}

/* A day of the year inside the window; false where the dice find none. */
static bool find_in_window(struct quiet *quiet, const struct dossier *dossier,
	enum window_kind kind, int32_t year, struct date *day)
{
	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		*day = quiet_day_of(quiet, year);
		if (quiet_window_is_around(dossier, kind, *day))
			return true;
	}
	return false;
}

static void plan_cut(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	int percent = (int)dice_between(&quiet->dice, 4, 12); /* two a season */

	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		struct date day = quiet_day_of(quiet, year);
		if (!quiet_is_clear_around(dossier, day))
			continue;
		event_add(quiet, day, "A1 cut shape %d%% of %s", percent,
			quiet->species->limit_is_shoots ? "shoots" : "crown");
		return;
	}
}

static void plan_feed(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		struct date day = quiet_day_of(quiet, year);
		if (!quiet_is_good_for_feed(dossier, day))
			continue;
		event_add(quiet, day, "A1 fed %s 10-10-10", quiet->metric ? "450 g" : "1 lb");
		return;
	}
}

static void plan_picks(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	struct date day;

	for (int64_t picks = dice_between(&quiet->dice, 0, 3); picks > 0; picks--)
		if (find_in_window(quiet, dossier, WINDOW_HARVEST, year, &day))
			event_add(quiet, day, "A1 picked %d %s",
				(int)dice_between(&quiet->dice, 5, 20),
				quiet->metric ? "kg" : "lb");
}

static bool is_picked_within(const struct quiet *quiet, struct date from, int32_t days)
{
	for (int32_t i = 0; i < quiet->event_count; i++) {
		int32_t after = date_days_between(from, quiet->events[i].day);
		if (strstr(quiet->events[i].line, "picked") != NULL && after >= 0 && after <= days)
			return true;
	}
	return false;
}

/* Nothing is picked until the days of the label are over. */
static void plan_spray(struct quiet *quiet, int32_t year)
{
	struct date last = date_of_month_day(year, (struct month_day){12, 31});
	int32_t days = (int32_t)dice_between(&quiet->dice, 1, 21);

	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		struct date day = quiet_day_of(quiet, year);
		if (date_days_between(day, last) <= days || is_picked_within(quiet, day, days))
			continue;
		event_add(quiet, day, "A1 spray oil, %d days to harvest", (int)days);
		return;
	}
}

/* A graft in the first year, looked at in the weeks when it shows whether it took. */
static void plan_graft(struct quiet *quiet, int32_t year)
{
	struct date day = date_add_days(date_of_month_day(year, (struct month_day){1, 1}),
		(int32_t)dice_between(&quiet->dice, 0, 290));

	event_add(quiet, day, "A1 grafted Champagne");
	event_add(quiet, date_add_days(day, (int32_t)dice_between(&quiet->dice, 28, 50)),
		"A1/Champagne saw growing");
}

/* What may be done on any day. */
static void plan_any_day(struct quiet *quiet, int32_t year)
{
	static const char *const works[][2] = {{"watered 12 gal", "watered 45 L"},
		{"mulched 3 in", "mulched 8 cm"}, {"saw aphids light", "saw aphids light"},
		{"cut suckers", "cut suckers"},
		{"cut dead wood 5% of crown", "cut dead wood 5% of crown"},
		{"note the gate sticks", "note the gate sticks"}, {"shoots 14 in", "shoots 35 cm"}};
	enum { WORKS = sizeof works / sizeof works[0] };

	for (int64_t count = dice_between(&quiet->dice, 0, 4); count > 0; count--)
		event_add(quiet, quiet_day_of(quiet, year), "A1 %s",
			works[dice_between(&quiet->dice, 0, WORKS - 1)][quiet->metric ? 1 : 0]);
}

static int compare_events(const void *left, const void *right)
{
	const struct quiet_event *a = left;
	const struct quiet_event *b = right;
	return date_compare(a->day, b->day);
}

static void plan_year(struct quiet *quiet, int32_t year)
{
	struct date day;

	quiet->event_count = 0;
	quiet_set_today(quiet, date_of_month_day(year, (struct month_day){1, 1}));
	const struct dossier *dossier = garden_story(&quiet->garden, "A1");
	if (dice_between(&quiet->dice, 0, 4) > 0)
		plan_cut(quiet, dossier, year);
	if (dice_between(&quiet->dice, 0, 4) > 0)
		plan_feed(quiet, dossier, year);
	if (dice_between(&quiet->dice, 0, 2) > 0 &&
		find_in_window(quiet, dossier, WINDOW_BLOOM, year, &day))
		event_add(quiet, day, "A1 bloom");
	if (dice_between(&quiet->dice, 0, 1) > 0 &&
		find_in_window(quiet, dossier, WINDOW_THINNING, year, &day))
		event_add(
			quiet, day, "A1 thinned %d fruit", (int)dice_between(&quiet->dice, 10, 60));
	plan_picks(quiet, dossier, year);
	if (dice_between(&quiet->dice, 0, 2) == 0)
		plan_spray(quiet, year);
	if (quiet->grafted && year == quiet->first_year)
		plan_graft(quiet, year);
	plan_any_day(quiet, year);
	qsort(quiet->events, (size_t)quiet->event_count, sizeof quiet->events[0], compare_events);
}

/* --- looking --- */

const char *quiet_name(const struct quiet *quiet, char *out, size_t size)
{
	snprintf(out, size, "%s, %s, place %d%s%s%s%s%s", quiet->species->key,
		quiet->south ? "south" : "north", (int)quiet->place,
		quiet->metric ? ", metric" : "", quiet->potted ? ", in a pot" : "",
		quiet->grafted ? ", grafted" : "", quiet->partnered ? ", with a partner" : "",
		quiet->weathered ? ", weather stored" : "");
	return out;
}

static void tell_events(const struct quiet *quiet)
{
	char iso[DATE_SIZE];

	for (int32_t i = 0; i < quiet->event_count; i++)
		print_error("   %s %s\n", date_format(quiet->events[i].day, iso),
			quiet->events[i].line);
}

static uint64_t hash_of(const char *text)
{
	uint64_t hash = 14695981039346656037U; /* FNV-1a */

	for (; *text != '\0'; text++)
		hash = (hash ^ (unsigned char)*text) * 1099511628211U;
	return hash;
}

/* Counts a line once in the life of the log. */
static void tell(struct quiet_told *told, const struct flag *flag)
{
	uint64_t hash = hash_of(flag->key);

	for (int32_t i = 0; i < told->seen_count; i++)
		if (told->seen[i] == hash)
			return;
	assert_true(told->seen_count < QUIET_SEEN_MAX);
	told->seen[told->seen_count++] = hash;
	ptrdiff_t row = rule_find(flag->rule) - rule_table();
	assert_true(row < QUIET_RULES_MAX);
	told->by_rule[row]++;
}

void quiet_check_no_act(struct quiet *quiet)
{
	struct flags flags = log_case_flags(&quiet->garden);
	char iso[DATE_SIZE], name[120];

	for (int32_t i = 0; i < flags.count; i++) {
		const struct flag *flag = &flags.items[i];

		if (flag->urgency != URGENCY_ACT) {
			tell(&quiet->told, flag);
			continue;
		}
		print_error("%s: %s: %s: %s %s\n", quiet_name(quiet, name, sizeof name),
			date_format(yard_today(quiet->garden.yard), iso), flag->rule, flag->says,
			dice_remark());
		tell_events(quiet);
		fail();
	}
}

void quiet_log(struct quiet *quiet, const struct quiet_event *event)
{
	char line[QUIET_LINE_SIZE + 20], iso[DATE_SIZE];

	quiet_set_today(quiet, event->day);
	snprintf(line, sizeof line, "%s @ %s", event->line, date_format(event->day, iso));
	garden_log(&quiet->garden, line);
}

/* What the tree did since the year was planned may have moved its windows; nobody cuts in rain. */
static bool is_still_right(struct quiet *quiet, const struct quiet_event *event)
{
	quiet_set_today(quiet, event->day);
	const struct dossier *dossier = garden_story(&quiet->garden, "A1");
	if (strncmp(event->line, "A1 cut shape", 12) == 0)
		return quiet_is_clear_around(dossier, event->day) &&
		       look_bad_day(dossier, event->day) == NULL;
	if (strncmp(event->line, "A1 fed", 6) == 0)
		return quiet_is_good_for_feed(dossier, event->day);
	return true;
}

void quiet_live_year(struct quiet *quiet, int32_t year)
{
	plan_year(quiet, year);
	for (int32_t i = 0; i < quiet->event_count; i++) {
		if (!is_still_right(quiet, &quiet->events[i]))
			continue;
		quiet_log(quiet, &quiet->events[i]);
		quiet_check_no_act(quiet);
		quiet_set_today(quiet, date_add_days(quiet->events[i].day,
					       (int32_t)dice_between(&quiet->dice, 1, 30)));
		quiet_check_no_act(quiet);
	}
	quiet->tree_years++;
}

/* --- a log --- */

static void choose(struct quiet *quiet, const struct quiet_wish *wish)
{
	int32_t kinds = almanac_species_count(wish->almanac);

	quiet->dice = dice_start();
	quiet->dice.state += (uint64_t)wish->number * 7919;
	quiet->first_year = wish->first_year;
	quiet->species = wish->kind != NULL
				 ? almanac_species(wish->almanac, wish->kind)
				 : almanac_species_at(wish->almanac, wish->number % kinds);
	assert_non_null(quiet->species);
	/* by turns, and each kind on the other side the next time it comes */
	quiet->south = (wish->number + wish->number / kinds) % 2 == 1;
	do {
		quiet->place = PLACES[dice_between(&quiet->dice, 0, QUIET_PLACES - 1)];
	} while (wish->places != 0 && (wish->places & 1U << quiet->place) == 0);
	quiet->metric = dice_between(&quiet->dice, 0, 1) == 1;
	if (wish->plain)
		return;
	quiet->potted = dice_between(&quiet->dice, 0, 4) == 0;
	quiet->grafted = dice_between(&quiet->dice, 0, 3) == 0;
	quiet->partnered = dice_between(&quiet->dice, 0, 1) == 0;
	quiet->weathered = dice_between(&quiet->dice, 0, 3) == 0;
}

/* As garden_make_at, with the almanac that all logs share. */
static void make_garden(struct quiet *quiet, struct almanac *almanac)
{
	struct fault why = {0};
	struct garden *garden = &quiet->garden;
	struct store_options options = {.clock = &garden->clock};
	struct date today = date_of_month_day(quiet->first_year, (struct month_day){1, 1});

	*garden = (struct garden){.scratch = scratch_make(), .almanac = almanac};
	log_case_place(quiet->place, quiet->south, &garden->place);
	scratch_path(&garden->scratch, "yard.bough", garden->path);
	garden->clock = clock_seeded(today, 7);
	snprintf(garden->place.name, sizeof garden->place.name, "Hill yard");
	garden->place.units = quiet->metric ? UNITS_SI : UNITS_US;
	garden->place.gallon = GALLON_US;
	garden->place.numbers = NUMBERS_POINT;
	garden->place.latitude_udeg = known_i32(quiet->south ? -38000000 : 38000000);
	garden->place.longitude_udeg = known_i32(-120000000);
	check_ok(store_create(garden->path, &options, &garden->place, &garden->store, &why), &why);
	garden->arena = arena_new();
	garden_look(garden);
}

/* A pot as large as the kind wants, and more. */
static void add_pot(struct quiet *quiet)
{
	struct fault why = {0};
	const struct fact_row *least = species_fact(quiet->species, "container-minimum");
	struct spot spot = {.name = "plot", .kind = SPOT_CONTAINER};
	int64_t volume_ul = 100000000;

	if (least != NULL && least->low.known && 2 * least->low.value > volume_ul)
		volume_ul = 2 * least->low.value;
	spot.volume_ul = known_i64(volume_ul);
	check_ok(store_act_begin(quiet->garden.store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_add(quiet->garden.store, &spot, &why), &why);
	check_ok(store_act_commit(quiet->garden.store, &why), &why);
	garden_look(&quiet->garden);
}

/* Years without frost in bloom, without great heat, with chill and with rain every fourth day. */
static void store_weather(struct quiet *quiet)
{
	struct fault why = {0};
	struct date first = date_of_month_day(quiet->first_year - 1, (struct month_day){10, 1});
	bool same;

	check_ok(store_act_begin(quiet->garden.store, ACT_WORK, "weather", &why), &why);
	for (int32_t at = 0; at < 365 * WEATHER_YEARS; at++) {
		struct date on = date_add_days(first, at);
		double turn = date_days_between(first, on) / 365.25 + (quiet->south ? 0.25 : 0.75);
		double warmth = cos(2 * 3.14159265358979 * (turn - 0.55)); /* most in mid July */
		int32_t min_decic = (int32_t)(90 + 65 * warmth);
		struct weather_day day = {.day = on,
			.station = "hill",
			.min_decic = known_i32(min_decic),
			.max_decic = known_i32(min_decic + 100),
			.rain_um = known_i64(at % 4 == 0 ? 12000 : 0)};

		check_ok(store_weather_day_put(quiet->garden.store, &day, &same, &why), &why);
	}
	check_ok(store_act_commit(quiet->garden.store, &why), &why);
	garden_look(&quiet->garden);
}

void quiet_begin(struct quiet *quiet, const struct quiet_wish *wish)
{
	char line[64];

	*quiet = (struct quiet){.south = false};
	choose(quiet, wish);
	make_garden(quiet, wish->almanac);
	if (wish->spot != NULL)
		sky_case_spot(&quiet->garden, wish->spot);
	else if (quiet->potted)
		add_pot(quiet);
	garden_look(&quiet->garden);
	garden_tree(&quiet->garden, "A1", quiet->species->key, "2004",
		wish->spot != NULL || quiet->potted ? "plot" : "");
	if (quiet->partnered)
		garden_tree(&quiet->garden, "A2", quiet->species->key, "2004", "");
	if (quiet->weathered)
		store_weather(quiet);
	snprintf(line, sizeof line, "A1 girth %s @ %d-12-01", quiet->metric ? "61 cm" : "24 in",
		(int)quiet->first_year - 1);
	garden_log(&quiet->garden, line);
}

void quiet_end(struct quiet *quiet)
{
	store_close(quiet->garden.store);
	arena_free(quiet->garden.arena);
	scratch_remove(&quiet->garden.scratch);
}
