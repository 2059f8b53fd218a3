/* SPDX-License-Identifier: MIT */
/* What the rules say stays as it is until the day they name: logs made by dice, looked at on every
 * day of eighteen months. Where two days that follow each other differ, no earlier day may have
 * promised more. */
#include "support/log_case.h"

#include "core/text.h"

enum { LOGS = SANITIZED ? 18 : 60, DAYS = 550, LINES = 36, GROUPS = 6 };

static const char *const lines[] = {
	"A1 picked %d kg @ ",
	"A1 picked %d kg @ ",
	"A1 picked %d kg @ ",
	"A1 picked %d kg, last @ ",
	"A1 picked %d fruit @ ",
	"A1 picked none @ ",
	"A1 lost %d kg birds @ ",
	"A1 cut shape %d%% of crown @ ",
	"A1 cut shape %d%% of crown @ ",
	"A1 cut heading %d%% of crown @ ",
	"A1 cut thinning %d%% @ ",
	"A1 cut renovation 5%d%% of crown @ ",
	"A1 cut suckers @ ",
	"A1 fed %d lb 10-10-10 @ ",
	"A1 fed %d lb 21-0-0 @ ",
	"A1 fed compost @ ",
	"A1 girth 4%d cm @ ",
	"A1 trunk 6%d cm @ ",
	"A1 shoots %d in @ ",
	"A1 saw frost damage @ ",
	"A1 saw scab @ ",
	"A1 saw fire blight @ ",
	"A1 saw mummies @ ",
	"A1 saw codling moth @ ",
	"A1 stage 5%d @ ",
	"A1 note mummies binned @ ",
	"A1 note gave scions to a friend @ ",
	"A1 bloom @ ",
	"A1 bloom @ ",
	"A1 saw heavy set @ ",
	"A1 fruit set @ ",
	"A1 thinned %d fruit @ ",
	"A1 fed fresh manure @ ",
	"A1 spray oil, 2%d days to harvest @ ",
	"A1 plan fed 1 lb 10-10-10 @ ",
	"A1 plan cut shape 10%% of crown @ ",
	"A1 plan watered 5 gal every %d weeks @ ",
	"A1 leave until 2027-03-05 @ ",
	"A1 note took %d seeds @ ",
	"A1 sowed %d seeds @ ",
	"A1 potted up %d gal @ ",
	"A1 saw roots circling @ ",
	"A1 saw graft union buried @ ",
	"A1 planted too deep @ ",
	"A1 fed %d lb 10-10-10 in the planting hole @ ",
	"A1 saw label gone @ ",
	"A1 note old orchard land @ ",
	"A1 soil test ph 6.5 @ ",
	"A1 grafted Gala @ ",
	"A1 saw suckers @ ",
	"A1 saw new growth @ ",
	"A1 saw fire blight @ ",
	"A1 cut cankers %d in below, tools not cleaned @ ",
	"A1 cut fire blight 1%d in below @ ",
	"A1 cut renovation %d of 9 @ ",
	"A1 height 2%d ft @ ",
	"A1 cut height to 1%d ft @ ",
	"A1 protected white paint @ ",
	"storm @ ",
	"frost -%d C @ ",
	"heat 4%d C @ ",
	"rain 1%d mm @ ",
	"A1 full bloom @ ",
	"A1 petal fall @ ",
	"A1 watered 3%d min daily @ ",
	"A1 watered %d gal @ ",
	"A1 mulched %d in @ ",
	"A1 mulched %d in against the trunk @ ",
	"A1/Champagne picked %d kg @ ",
	"A1/Champagne picked %d kg, last @ ",
};
static const char *const kinds[] = {"loquat", "loquat", "apple", "peach", "apricot", "fig", "lemon",
	"orange", "loquat_or_fig", "-"};
static const char *const planted[] = {
	"2010", "2019-05-11", "2023-02-14", "2024-02-29", "2025", "-"};
static const char *const start_day = "2026-01-01";

/* One line of the story, on a day from three years before to a year and a half after. */
static void tell_one(struct garden *garden, struct dice *dice, bool grafted)
{
	char line[120], day[DATE_SIZE];
	struct fault why = {0};
	const size_t count = sizeof lines / sizeof lines[0] - (grafted ? 0 : 2);
	const char *format = lines[dice_between(dice, 0, (int64_t)count - 1)];
	int32_t ahead = (int32_t)dice_between(dice, -1100, DAYS);
	struct text_builder words = text_builder_fixed(line, sizeof line);

	text_add(&words, "");
	for (const char *at = format; *at != '\0'; at++) {
		if (at[0] == '%' && at[1] == 'd')
			text_add_format(&words, "%d", (int)dice_between(dice, 1, 9));
		else
			text_add_n(&words, at, 1);
		at += at[0] == '%' ? 1 : 0;
	}
	text_add(&words, date_format(date_add_days(garden_day(start_day), ahead), day));
	/* a day before the planting is asked about: then the line is not logged */
	(void)!garden_try(garden, line, &why);
}

/* Seven years of picks on one day, heavy and light in turn, and now and then thinned. */
static void tell_swing(struct garden *garden, struct dice *dice)
{
	struct date day =
		date_add_days(garden_day(start_day), -(int32_t)dice_between(dice, 1, 365));
	bool thins = dice_between(dice, 0, 1) == 1;
	struct fault why = {0};
	char line[120], iso[DATE_SIZE];

	for (int year = 6; year >= 0; year--) {
		struct date picked = date_add_days(day, -365 * year);

		snprintf(line, sizeof line, "A1 picked %d kg, last @ %s",
			(int)dice_between(dice, 1, 5) + (year % 2 == 0 ? 40 : 4),
			date_format(picked, iso));
		(void)!garden_try(garden, line, &why);
		snprintf(line, sizeof line, "A1 thinned 30 fruit @ %s",
			date_format(date_add_days(picked, -100), iso));
		if (thins)
			(void)!garden_try(garden, line, &why);
	}
}

/* A station's record of some weeks, now and then without a figure, at a place of known latitude. */
static void store_weather(struct garden *garden, struct dice *dice)
{
	struct fault why = {0};
	struct date first =
		date_add_days(garden_day(start_day), (int32_t)dice_between(dice, 160, DAYS - 70));
	bool same;

	garden->place.latitude_udeg =
		known_i32(garden->place.hemisphere == HEMISPHERE_SOUTH ? -38000000 : 38000000);
	check_ok(store_act_begin(garden->store, ACT_WORK, "weather", &why), &why);
	check_ok(store_place_save(garden->store, &garden->place, &why), &why);
	for (int32_t at = 0; at < 45; at++) {
		int32_t min_decic = (int32_t)dice_between(dice, -60, 200);
		struct weather_day day = {.day = date_add_days(first, at),
			.station = "hill",
			.min_decic = {min_decic, dice_between(dice, 0, 20) > 0},
			.max_decic = {min_decic + (int32_t)dice_between(dice, 30, 220),
				dice_between(dice, 0, 20) > 0},
			.rain_um = {dice_between(dice, -60, 20) * 1000, true}};

		if (day.rain_um.value < 0)
			day.rain_um.value = 0;
		check_ok(store_weather_day_put(garden->store, &day, &same, &why), &why);
	}
	check_ok(store_act_commit(garden->store, &why), &why);
	/* the yard reads the weather of the 400 days before its own */
	char iso[DATE_SIZE];
	garden_today(garden, date_format(date_add_days(garden_day(start_day), DAYS), iso));
}

static void make_log(struct garden *garden, struct dice *dice)
{
	char trees[64];
	bool grafted = dice_between(dice, 0, 3) == 0;
	const struct log_case told = {
		.place = (enum log_place)dice_between(dice, AT_WET_WINTER, AT_TROPICS),
		.trees = trees,
		.lines = grafted ? "A1 grafted Champagne @ 2025-12-01" : "",
		.today = start_day};

	snprintf(trees, sizeof trees, "A1 %s %s",
		kinds[dice_between(dice, 0, sizeof kinds / sizeof kinds[0] - 1)],
		planted[dice_between(dice, 0, sizeof planted / sizeof planted[0] - 1)]);
	log_case_make(garden, &told, dice_between(dice, 0, 1) == 1);
	if (dice_between(dice, 0, 2) == 0)
		tell_swing(garden, dice);
	for (int i = 0; i < LINES; i++)
		tell_one(garden, dice, grafted);
	bool has_side = told.place != AT_NOWHERE && told.place != AT_TROPICS;
	if (has_side && dice_between(dice, 0, 2) == 0)
		store_weather(garden, dice);
}

static void write_flag(const struct flag *flag, struct text_builder *out)
{
	text_add_format(out, "%s %s %d %d/%d/%d | %s | %s | %s | %s | %lld %lld %lld %d\n",
		flag->key, urgency_key(flag->urgency), flag->settles,
		flag->began.known ? flag->began.value.day : 0,
		flag->window_from.known ? flag->window_from.value.day : 0,
		flag->window_to.known ? flag->window_to.value.day : 0, flag->says, flag->action,
		flag->basis, flag->source, (long long)flag->crop_at_risk_mg.value,
		(long long)flag->crop_at_risk_low_mg.value,
		(long long)flag->crop_at_risk_high_mg.value, flag->seasons);
	for (int32_t i = 0; i < flag->evidence_count; i++)
		text_add_format(out, "  %s\n", flag->evidence[i]);
}

/* All that the rules say of the tree and its grafts on the day, as text; *until gets the day they
 * name. */
static const char *look_on(struct garden *garden, const char *id, struct date day,
	struct arena *arena, struct maybe_date *until)
{
	struct fault why = {0};
	const struct dossier *dossier = NULL;
	struct flags flags = {.arena = arena};
	struct text_builder text = text_builder_in(arena);

	check_ok(yard_dossier_with_in(garden->yard, id, NULL, day, arena, &dossier, &why), &why);
	rules_look(dossier, day, &flags);
	for (int32_t i = 0; i < dossier->graft_count; i++)
		rules_look(dossier->grafts[i], day, &flags);
	flags_sort(&flags);
	text_add(&text, "");
	for (int32_t i = 0; i < flags.count; i++)
		write_flag(&flags.items[i], &text);
	*until = flags.next_change;
	return text.text;
}

struct seen {
	int32_t changes;  /* days with other words than the day before */
	int32_t promises; /* days that had been named */
};

static void check_log(struct garden *garden, struct seen *seen)
{
	struct tree tree = garden_find(garden, "A1");
	struct arena *arenas[2] = {arena_new(), arena_new()};
	const char *before = NULL;
	int32_t promised = INT32_MIN; /* the latest day that any day before named */

	for (int32_t i = 0; i < DAYS; i++) {
		struct date day = date_add_days(garden_day(start_day), i);
		struct arena *arena = arenas[i % 2];
		struct maybe_date until;
		char iso[DATE_SIZE];

		arena_reset(arena);
		const char *now = look_on(garden, tree.id, day, arena, &until);
		if (before != NULL && strcmp(before, now) != 0 && promised > day.day) {
			size_t same = 0;

			while (before[same] == now[same])
				same++;
			while (same > 0 && before[same - 1] != '\n')
				same--;
			print_error("%s: other words than the day before, which were to hold for "
				    "%d days more\nbefore: %.300s\n",
				date_format(day, iso), (int)(promised - day.day), before + same);
			print_error("now: %.300s\n%s\n", now + same, dice_remark());
			fail();
		}
		seen->changes += before != NULL && strcmp(before, now) != 0;
		seen->promises += promised == day.day;
		int32_t holds = until.known ? until.value.day : INT32_MAX;
		assert_true(holds > day.day);
		promised = holds > promised ? holds : promised;
		before = now;
	}
	arena_free(arenas[0]);
	arena_free(arenas[1]);
}

static void what_is_said_holds_until_the_day_named(void **state)
{
	struct dice dice = dice_start();
	int group = *(const int *)*state;

	struct seen seen = {0};

	dice.state += (uint64_t)group * 1000003;
	for (int i = 0; i < LOGS / GROUPS; i++) {
		struct garden garden;

		make_log(&garden, &dice);
		check_log(&garden, &seen);
		garden_free(&garden);
	}
	/* a promise of a day would be cheap, and a log that never changes would prove nothing */
	assert_true(seen.changes > 5 * (LOGS / GROUPS));
	assert_true(seen.promises < DAYS * (LOGS / GROUPS) / 5);
}

int main(void)
{
	static int groups[GROUPS];
	struct CMUnitTest tests[GROUPS];

	for (int i = 0; i < GROUPS; i++) {
		groups[i] = i;
		tests[i] = (struct CMUnitTest){.name = "what_is_said_holds_until_the_day_named",
			.test_func = what_is_said_holds_until_the_day_named,
			.initial_state = &groups[i]};
	}
	return cmocka_run_group_tests_name("next change", tests, NULL, NULL) != 0;
}
