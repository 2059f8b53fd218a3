/* SPDX-License-Identifier: MIT */
#include "support/quiet.h"

#include <math.h>

#include "rules/look.h"

#include "support/sky_case.h"

enum { MARGIN_DAYS = 6, ANY_REASON = 0xff, WEATHER_YEARS = 6 };
enum { PLAIN_PLANTED = 2004, OLD_YEARS = 25, OLDEST_YEARS = 40 };

static const enum log_place PLACES[QUIET_PLACES] = {
	AT_WET_WINTER, AT_COOL, AT_CONTINENTAL, AT_HUMID, AT_LITTLE, AT_WET_HARD, AT_UNSAID};

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

bool quiet_cut_is(const struct dossier *dossier, enum cut_kind kind, struct date day,
	enum verdict verdict, unsigned reasons)
{
	struct verdict_here here = look_verdict(dossier, dossier->kind.species, kind, day, reasons);
	return here.known && here.verdict == verdict;
}

bool quiet_is_clear_around(const struct dossier *dossier, enum cut_kind kind, struct date day)
{
	for (int32_t off = -MARGIN_DAYS; off <= MARGIN_DAYS; off += MARGIN_DAYS)
		if (!quiet_cut_is(
			    dossier, kind, date_add_days(day, off), VERDICT_CLEAR, ANY_REASON))
			return false;
	/* a cut on the host is one on its grafts */
	for (int32_t i = 0; i < dossier->graft_count; i++)
		if (!quiet_is_clear_around(dossier->grafts[i], kind, day))
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

/* --- looking --- */

const char *quiet_name(const struct quiet *quiet, char *out, size_t size)
{
	snprintf(out, size, "%s of %d, %s, place %d%s%s%s%s%s%s%s%s", quiet->species->key,
		(int)quiet->planted_year, quiet->south ? "south" : "north", (int)quiet->place,
		quiet->renewed ? ", renewed" : "", quiet->cuts_in_full ? ", cut in full" : "",
		quiet->feeds_in_full ? ", fed in full" : "", quiet->metric ? ", metric" : "",
		quiet->potted ? ", in a pot" : "", quiet->grafted ? ", grafted" : "",
		quiet->partnered ? ", with a partner" : "",
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

/* Is the line a new one in the life of the log? */
static bool is_new(struct quiet_told *told, const struct flag *flag)
{
	uint64_t hash = hash_of(flag->key) + (flag->urgency == URGENCY_ACT ? 1 : 0);

	for (int32_t i = 0; i < told->seen_count; i++)
		if (told->seen[i] == hash)
			return false;
	assert_true(told->seen_count < QUIET_SEEN_MAX);
	told->seen[told->seen_count++] = hash;
	return true;
}

static void tell_act(const struct quiet *quiet, const struct flag *flag)
{
	char iso[DATE_SIZE], name[160];

	print_error("%s: %s: %s: %s %s\n", quiet_name(quiet, name, sizeof name),
		date_format(yard_today(quiet->garden.yard), iso), flag->rule, flag->says,
		dice_remark());
	for (int32_t i = 0; i < flag->evidence_count; i++)
		print_error("   - %s\n", flag->evidence[i]);
	tell_events(quiet);
}

void quiet_look(struct quiet *quiet)
{
	struct flags flags = log_case_flags(&quiet->garden);

	for (int32_t i = 0; i < flags.count; i++) {
		const struct flag *flag = &flags.items[i];
		ptrdiff_t row = rule_find(flag->rule) - rule_table();

		assert_true(row < QUIET_RULES_MAX);
		if (!is_new(&quiet->told, flag))
			continue;
		if (flag->urgency == URGENCY_ACT) {
			tell_act(quiet, flag);
			quiet->told.acts++;
		} else {
			quiet->told.by_rule[row]++;
		}
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
	switch (event->right) {
	case QUIET_CUT:
		return quiet_is_clear_around(dossier, event->cut, event->day) &&
		       look_bad_day(dossier, event->day) == NULL;
	case QUIET_FEED:
		return quiet_is_good_for_feed(dossier, event->day);
	case QUIET_ANY_DAY:
		break;
	}
	return true;
}

static void look_some_days_on(struct quiet *quiet, struct date day)
{
	quiet_set_today(quiet, date_add_days(day, (int32_t)dice_between(&quiet->dice, 1, 30)));
	quiet_look(quiet);
}

void quiet_live_year(struct quiet *quiet, int32_t year)
{
	quiet_plan_year(quiet, year);
	for (int32_t i = 0; i < quiet->event_count; i++) {
		const struct quiet_event *event = &quiet->events[i];

		if (!is_still_right(quiet, event))
			continue;
		if (event->line[0] != '\0')
			quiet_log(quiet, event);
		quiet_look(quiet);
		if (event->line[0] != '\0')
			look_some_days_on(quiet, event->day);
	}
	quiet->tree_years++;
}

/* --- a log --- */

/* Kinds by turns; each on the other side of the equator the next time it comes, and in another
 * place the time after that: all there are in the end. */
static void choose_where(struct quiet *quiet, const struct quiet_wish *wish)
{
	int32_t kinds = almanac_species_count(wish->almanac);
	int32_t kind = wish->number % kinds, round = wish->number / kinds;

	quiet->species = wish->kind != NULL ? almanac_species(wish->almanac, wish->kind)
					    : almanac_species_at(wish->almanac, kind);
	assert_non_null(quiet->species);
	quiet->south = (kind + round) % 2 == 1;
	quiet->place = PLACES[(kind + round / 2) % QUIET_PLACES];
	while (wish->places != 0 && (wish->places & 1U << quiet->place) == 0)
		quiet->place = PLACES[dice_between(&quiet->dice, 0, QUIET_PLACES - 1)];
}

static void choose(struct quiet *quiet, const struct quiet_wish *wish)
{
	quiet->dice = dice_start();
	quiet->dice.state += (uint64_t)wish->number * 7919;
	quiet->first_year = wish->first_year;
	choose_where(quiet, wish);
	quiet->metric = dice_between(&quiet->dice, 0, 1) == 1;
	quiet->planted_year = PLAIN_PLANTED;
	quiet->plain = wish->plain;
	if (wish->plain)
		return;
	quiet->potted = dice_between(&quiet->dice, 0, 4) == 0;
	quiet->grafted = dice_between(&quiet->dice, 0, 3) == 0;
	quiet->partnered = dice_between(&quiet->dice, 0, 1) == 0;
	quiet->weathered = dice_between(&quiet->dice, 0, 3) == 0;
	quiet->cuts_in_full = dice_between(&quiet->dice, 0, 4) == 0;
	quiet->feeds_in_full = dice_between(&quiet->dice, 0, 1) == 0;
	quiet->planted_year =
		quiet->first_year - (int32_t)dice_between(&quiet->dice, 0, OLDEST_YEARS);
	quiet->renewed = quiet->first_year - quiet->planted_year >= OLD_YEARS &&
			 dice_between(&quiet->dice, 0, 2) == 0;
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

/* A trunk of its age, taken the winter before; none of a tree just planted. */
static void measure(struct quiet *quiet)
{
	int32_t years = quiet->first_year - 1 - quiet->planted_year;
	int32_t girth_cm = quiet->plain ? 61 : years > 26 ? 90 : 10 + 3 * years;
	char line[64];

	if (years < 1)
		return;
	if (quiet->metric)
		snprintf(line, sizeof line, "A1 girth %d cm @ %d-12-01", (int)girth_cm,
			(int)quiet->first_year - 1);
	else
		snprintf(line, sizeof line, "A1 girth %.1f in @ %d-12-01", girth_cm / 2.54,
			(int)quiet->first_year - 1);
	garden_log(&quiet->garden, line);
}

void quiet_begin(struct quiet *quiet, const struct quiet_wish *wish)
{
	char planted[16];

	*quiet = (struct quiet){.south = false};
	choose(quiet, wish);
	make_garden(quiet, wish->almanac);
	if (wish->spot != NULL)
		sky_case_spot(&quiet->garden, wish->spot);
	else if (quiet->potted)
		add_pot(quiet);
	garden_look(&quiet->garden);
	snprintf(planted, sizeof planted, "%d", (int)quiet->planted_year);
	garden_tree(&quiet->garden, "A1", quiet->species->key, planted,
		wish->spot != NULL || quiet->potted ? "plot" : "");
	if (quiet->partnered)
		garden_tree(&quiet->garden, "A2", quiet->species->key, planted, "");
	if (quiet->weathered)
		store_weather(quiet);
	measure(quiet);
}

void quiet_end(struct quiet *quiet)
{
	store_close(quiet->garden.store);
	arena_free(quiet->garden.arena);
	scratch_remove(&quiet->garden.scratch);
}
