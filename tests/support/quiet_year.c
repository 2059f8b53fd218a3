/* SPDX-License-Identifier: MIT */
/* A year of work on a quiet log's tree, by the dice. */
#include "support/quiet.h"

#include <inttypes.h>

#include "reckon/dose.h"

enum {
	FULL_APART_DAYS = 330, /* between cuts, or feeds, that take the whole of what is advised */
	RENOVATION_PARTS = 3,
	PARTS_APART_DAYS = 280, /* one in each year's clear weeks */
};

/* 1 lb N a tree a year: a rule for all kinds that rises with age without a cap may pass it, and
 * then says so. */
enum { HOME_MOST_MG = 453592 };

static struct quiet_event *event_add(struct quiet *quiet, struct date day, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
static struct quiet_event *event_add(struct quiet *quiet, struct date day, const char *format, ...)
{
	va_list words;

	assert_true(quiet->event_count < QUIET_EVENTS_MAX);
	struct quiet_event *event = &quiet->events[quiet->event_count++];
	*event = (struct quiet_event){.day = day};
	va_start(words, format);
	vsnprintf(event->line, sizeof event->line, format, words);
	va_end(words);
	return event;
}

static bool one_in(struct quiet *quiet, int64_t count)
{
	return dice_between(&quiet->dice, 1, count) == 1;
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

/* --- cuts --- */

static bool find_clear(struct quiet *quiet, const struct dossier *dossier, enum cut_kind kind,
	int32_t year, struct date *day)
{
	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		*day = quiet_day_of(quiet, year);
		if (quiet_is_clear_around(dossier, kind, *day))
			return true;
	}
	return false;
}

/* A part of the most that the kind bears in a season: cuts of three years can fall into one. */
static int small_percent(struct quiet *quiet)
{
	const struct maybe_i32 *limit = &quiet->species->share_limit_permille;
	int most = limit->known ? limit->value / 10 / 4 : 6;

	return (int)dice_between(&quiet->dice, most > 3 ? 3 : 1, most > 12 ? 12 : most);
}

static void add_cut(struct quiet *quiet, struct date day, enum cut_kind kind, int percent)
{
	struct quiet_event *event =
		event_add(quiet, day, "A1 cut %s %d%% of %s", cut_kind_row(kind)->title, percent,
			quiet->species->limit_is_shoots ? "shoots" : "crown");

	event->right = QUIET_CUT;
	event->cut = kind;
}

/* An old tree brought back, a third a year. */
static void plan_renovation(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	struct date day;
	int part = year - quiet->first_year + 1;

	if (part > RENOVATION_PARTS || !find_clear(quiet, dossier, CUT_RENOVATION, year, &day) ||
		date_compare(day, quiet->next_cut) < 0)
		return;
	quiet->next_cut = date_add_days(day, PARTS_APART_DAYS);
	struct quiet_event *event =
		event_add(quiet, day, "A1 cut renovation %d of %d", part, RENOVATION_PARTS);
	event->right = QUIET_CUT;
	event->cut = CUT_RENOVATION;
}

/* As much at once as the kind bears, and then nothing for most of a year. */
static void plan_full_cut(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	const struct maybe_i32 *limit = &quiet->species->share_limit_permille;
	struct date day;

	if (!limit->known || !find_clear(quiet, dossier, CUT_SHAPE, year, &day) ||
		date_compare(day, quiet->next_cut) < 0)
		return;
	add_cut(quiet, day, CUT_SHAPE, limit->value / 10);
	quiet->next_cut = date_add_days(day, FULL_APART_DAYS);
}

static void plan_cuts(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	static const enum cut_kind kinds[] = {
		CUT_SHAPE, CUT_SHAPE, CUT_SHAPE, CUT_THINNING, CUT_HEADING, CUT_HEIGHT};
	enum { KINDS = sizeof kinds / sizeof kinds[0] };
	enum cut_kind kind = kinds[dice_between(&quiet->dice, 0, KINDS - 1)];
	struct date day;

	if (quiet->renewed) {
		plan_renovation(quiet, dossier, year);
		return;
	}
	if (quiet->cuts_in_full) {
		plan_full_cut(quiet, dossier, year);
		return;
	}
	if (!one_in(quiet, 5) && find_clear(quiet, dossier, kind, year, &day))
		add_cut(quiet, day, kind, small_percent(quiet));
	if (one_in(quiet, 4) && find_clear(quiet, dossier, CUT_SUMMER_TIP, year, &day))
		add_cut(quiet, day, CUT_SUMMER_TIP, 2);
}

/* --- feeds --- */

/* A published rate a year for this trunk and age, one of them by the dice, in milligrams of
 * 10-10-10; 0 where none is published. */
static int64_t published_dose(struct quiet *quiet, const struct dossier *dossier)
{
	static const struct product bag = {
		.name = "10-10-10", .n_mpct = {.known = true, .value = 10000}};
	struct dose_inputs inputs = {.species = dossier->kind.species,
		.trunk = dossier->trunk,
		.age_years = dossier->age_low_years,
		.product = &bag,
		.tree_id = dossier->tree.id};
	struct dose *doses = NULL;
	int32_t count = dose_rows(&inputs, quiet->garden.arena, &doses);

	for (int32_t i = 0; i < 2 * count; i++) {
		const struct dose *dose = &doses[dice_between(&quiet->dice, 0, count - 1)];

		bool beyond = dose->row != NULL && dose->row->all_kinds &&
			      dose->nitrogen_mg.value > HOME_MOST_MG;
		if (dose->period == PERIOD_YEAR && !beyond && dose->product_mg.known &&
			dose->product_mg.value > 10000)
			return dose->product_mg.value;
	}
	return 0;
}

static void add_feed(struct quiet *quiet, struct date day, int64_t product_mg)
{
	struct quiet_event *event;

	if (quiet->metric)
		event = event_add(quiet, day, "A1 fed %" PRId64 " g 10-10-10", product_mg / 1000);
	else
		event = event_add(quiet, day, "A1 fed %.2f lb 10-10-10",
			(double)product_mg / 453592.37 - 0.005);
	event->right = QUIET_FEED;
}

/* A year's rate whole, then none for most of a year; or a small part of it each year. */
static void plan_feed(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	int64_t dose_mg = published_dose(quiet, dossier);

	if (dose_mg == 0 || year - quiet->planted_year < 2 || one_in(quiet, 5))
		return;
	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		struct date day = quiet_day_of(quiet, year);
		if (!quiet_is_good_for_feed(dossier, day) ||
			date_compare(day, quiet->next_feed) < 0)
			continue;
		add_feed(quiet, day, quiet->feeds_in_full ? dose_mg : dose_mg / 3);
		if (quiet->feeds_in_full)
			quiet->next_feed = date_add_days(day, FULL_APART_DAYS);
		return;
	}
}

/* --- fruit --- */

static void plan_picks(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	struct date day;

	if (year - quiet->planted_year < 4 || quiet->plain)
		return;
	for (int64_t picks = dice_between(&quiet->dice, 0, 3); picks > 0; picks--)
		if (find_in_window(quiet, dossier, WINDOW_HARVEST, year, &day))
			event_add(quiet, day, "A1 picked %d %s",
				(int)dice_between(&quiet->dice, 5, 20),
				quiet->metric ? "kg" : "lb");
}

static void plan_flowers(struct quiet *quiet, const struct dossier *dossier, int32_t year)
{
	struct date day;

	if (quiet->plain)
		return;
	if (!one_in(quiet, 3) && find_in_window(quiet, dossier, WINDOW_BLOOM, year, &day))
		event_add(quiet, day, "A1 bloom");
	if (one_in(quiet, 2) && find_in_window(quiet, dossier, WINDOW_THINNING, year, &day))
		event_add(
			quiet, day, "A1 thinned %d fruit", (int)dice_between(&quiet->dice, 10, 60));
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

/* A day after which nothing is picked this year for so many days; false where none is found. */
static bool find_before_picks(struct quiet *quiet, int32_t year, int32_t days, struct date *day)
{
	struct date last = date_of_month_day(year, (struct month_day){12, 31});

	for (int32_t i = 0; i < QUIET_TRIES; i++) {
		*day = quiet_day_of(quiet, year);
		if (date_days_between(*day, last) > days && !is_picked_within(quiet, *day, days))
			return true;
	}
	return false;
}

/* Nothing is picked until the days of the label are over. */
static void plan_spray(struct quiet *quiet, int32_t year)
{
	int32_t days = (int32_t)dice_between(&quiet->dice, 1, 21);
	struct date day;

	if (find_before_picks(quiet, year, days, &day))
		event_add(quiet, day, "A1 spray oil, %d days to harvest", (int)days);
}

/* --- the rest --- */

/* A graft in the first year, looked at in the weeks when it shows whether it took. */
static void plan_graft(struct quiet *quiet, int32_t year)
{
	struct date day = date_add_days(date_of_month_day(year, (struct month_day){1, 1}),
		(int32_t)dice_between(&quiet->dice, 0, 290));

	event_add(quiet, day, "A1 grafted Champagne");
	event_add(quiet, date_add_days(day, (int32_t)dice_between(&quiet->dice, 28, 50)),
		"A1/Champagne saw growing");
}

/* Habits and sights that a story told in a plain log is about: one more would move its day. */
static bool is_left_to_stories(const char *work)
{
	return strstr(work, "aphids") != NULL || strstr(work, "mulched") != NULL ||
	       strstr(work, "suckers") != NULL;
}

/* What may be done on any day. */
static void plan_any_day(struct quiet *quiet, int32_t year)
{
	static const char *const works[][2] = {{"watered 12 gal", "watered 45 L"},
		{"mulched 3 in", "mulched 8 cm"}, {"saw aphids light", "saw aphids light"},
		{"cut suckers", "cut suckers"},
		{"cut dead wood 5% of crown", "cut dead wood 5% of crown"},
		{"note the gate sticks", "note the gate sticks"}, {"shoots 14 in", "shoots 35 cm"},
		{"saw all well", "saw all well"}, {"photo a1.jpg", "photo a1.jpg"},
		{"covered bird net", "covered bird net"}, {"soil test ph 6.5", "soil test ph 6.5"}};
	enum { WORKS = sizeof works / sizeof works[0] };

	for (int64_t count = dice_between(&quiet->dice, 0, 4); count > 0; count--) {
		int64_t which = dice_between(&quiet->dice, 0, WORKS - 1);
		const char *work = works[which][quiet->metric ? 1 : 0];
		struct date day = quiet_day_of(quiet, year);

		if (!quiet->plain || !is_left_to_stories(work))
			event_add(quiet, day, "A1 %s", work);
	}
}

/* Days on which nothing is done, and the log is looked at. */
static void plan_looks(struct quiet *quiet, int32_t year)
{
	for (int32_t i = 0; i < QUIET_LOOKS; i++)
		event_add(quiet, quiet_day_of(quiet, year), "%s", "");
}

static int compare_events(const void *left, const void *right)
{
	const struct quiet_event *a = left;
	const struct quiet_event *b = right;
	return date_compare(a->day, b->day);
}

void quiet_plan_year(struct quiet *quiet, int32_t year)
{
	quiet->event_count = 0;
	quiet_set_today(quiet, date_of_month_day(year, (struct month_day){1, 1}));
	const struct dossier *dossier = garden_story(&quiet->garden, "A1");
	plan_cuts(quiet, dossier, year);
	plan_feed(quiet, dossier, year);
	plan_flowers(quiet, dossier, year);
	plan_picks(quiet, dossier, year);
	if (one_in(quiet, 3))
		plan_spray(quiet, year);
	if (quiet->grafted && year == quiet->first_year)
		plan_graft(quiet, year);
	plan_any_day(quiet, year);
	plan_looks(quiet, year);
	qsort(quiet->events, (size_t)quiet->event_count, sizeof quiet->events[0], compare_events);
}
