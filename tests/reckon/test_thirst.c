/* SPDX-License-Identifier: MIT */
/* The account of what a tree drew: made by hand, day by day. */
#include "reckon/make.h"

#include "reckon/thirst.h"

enum { DAYS_MAX = 60 };

/* An evergreen at 38 N in a metre of loam, Kc of one; weather as the test writes it. */
struct story {
	struct place place;
	struct species species;
	struct dossier dossier;
	struct day_weather days[DAYS_MAX];
	struct sky sky;
	struct thirst_terms terms;
};

static void story_make(struct story *story, int32_t days)
{
	*story = (struct story){.species = {.key = "lemon", .evergreen = true}};
	story->place.latitude_udeg = known_i32(38000000);
	story->dossier.place = &story->place;
	story->dossier.kind.species = &story->species;
	for (int32_t i = 0; i < days; i++)
		story->days[i] = (struct day_weather){.day = date_add_days(day_of("2026-06-01"), i),
			.min_decic = known_i32(130),
			.max_decic = known_i32(300),
			.rain_um = known_i64(0),
			.station = "hill"};
	story->sky = (struct sky){.days = story->days, .count = days};
	story->terms = (struct thirst_terms){.latitude_deg = 38,
		.year = {.evergreen = true},
		.kc = {.known = true, .early = 1, .mid = 1, .late = 1},
		.mm_per_m = 130,
		.root_depth_m = 3,
		.depletion = 0.5,
		.canopy_m2 = 10};
}

static struct thirst followed(struct story *story)
{
	struct thirst thirst;
	struct date today = story->days[story->sky.count - 1].day;

	assert_true(thirst_follow(&story->dossier, &story->terms, &story->sky, today, &thirst));
	return thirst;
}

static struct entry *watered(const char *day, int64_t volume_ul)
{
	return with_amount(
		make_entry(KIND_WATER, day), exactly(DIMENSION_VOLUME, FIELD_VOLUME, volume_ul));
}

/* --- an evergreen's year --- */

/* 60, 90, 120 and 95 days from 1 January, as FAO-56 has it for citrus; equation 66 by hand. */
static const struct {
	const char *day;
	double kc;
	enum leaf_phase phase;
} citrus_days[] = {
	{"2026-01-01", 0.65, LEAF_EARLY},
	{"2026-03-01", 0.65, LEAF_EARLY},                 /* day 60 */
	{"2026-03-02", 0.65 - 0.05 / 90, LEAF_MID},       /* one day on the way */
	{"2026-04-15", 0.625, LEAF_MID},                  /* day 105 */
	{"2026-05-30", 0.60, LEAF_MID},                   /* day 150 */
	{"2026-09-27", 0.60, LEAF_MID},                   /* day 270 */
	{"2026-09-28", 0.60 + 0.05 / 95, LEAF_LATE},      /* day 271 */
	{"2026-11-14", 0.60 + 0.05 * 48 / 95, LEAF_LATE}, /* day 318 */
	{"2026-12-31", 0.65, LEAF_LATE},
};

static void an_evergreen_goes_from_stage_to_stage(void **state)
{
	const struct water_kc kc = {.known = true, .early = 0.65, .mid = 0.60, .late = 0.65};
	struct leaf_year year = {.evergreen = true,
		.stages = {.known = true, .opens = {1, 1}, .days = {60, 90, 120, 95}}};

	(void)state;
	for (size_t i = 0; i < sizeof citrus_days / sizeof citrus_days[0]; i++) {
		struct date day = day_of(citrus_days[i].day);

		year.stages.opens = (struct month_day){1, 1};
		check_close(
			leaf_kc_on(&kc, &year, day), citrus_days[i].kc, 1e-12, citrus_days[i].day);
		check_int(leaf_phase_on(&year, day), citrus_days[i].phase, citrus_days[i].day);
		/* half a year on, on the other side of the equator; month ends differ by a day */
		struct date_parts parts = date_parts(day);
		struct date south = date_of_month_day(parts.year,
			window_turn((struct month_day){(int8_t)parts.month, (int8_t)parts.day},
				HEMISPHERE_SOUTH));
		year.stages.opens = window_turn((struct month_day){1, 1}, HEMISPHERE_SOUTH);
		check_close(leaf_kc_on(&kc, &year, south), citrus_days[i].kc, 0.003,
			citrus_days[i].day);
	}
}

/* 270 days from 1 March: what is left of the year is like its end. */
static void after_the_last_stage_the_end_stands(void **state)
{
	const struct water_kc kc = {.known = true, .early = 0.65, .mid = 0.75, .late = 0.70};
	const struct leaf_year year = {.evergreen = true,
		.stages = {.known = true, .opens = {3, 1}, .days = {30, 90, 60, 90}}};

	(void)state;
	check_close(leaf_kc_on(&kc, &year, day_of("2026-03-30")), 0.65, 1e-12, "day 30");
	check_close(leaf_kc_on(&kc, &year, day_of("2026-07-15")), 0.75, 1e-12, "middle");
	check_close(leaf_kc_on(&kc, &year, day_of("2026-11-25")), 0.70, 1e-12, "day 270");
	check_close(leaf_kc_on(&kc, &year, day_of("2027-02-28")), 0.70, 1e-12, "the rest");
	check_int(leaf_phase_on(&year, day_of("2027-02-28")), LEAF_LATE, "the rest");
}

static void without_stages_it_may_be_any_of_the_three(void **state)
{
	const struct water_kc kc = {.known = true, .early = 0.60, .mid = 0.85, .late = 0.75};
	const struct leaf_year year = {.evergreen = true};

	(void)state;
	check_int(leaf_phase_on(&year, day_of("2026-06-01")), LEAF_ANY, "any");
	check_close(water_kc_flat(&kc, false).mid, 0.60, 0, "least");
	check_close(water_kc_flat(&kc, true).early, 0.85, 0, "most");
	check_close(water_kc_flat(&kc, true).late, 0.85, 0, "most");
}

/* --- the account --- */

static void the_first_part_and_the_rest_are_the_whole(void **state)
{
	struct story story;

	(void)state;
	story_make(&story, 20);
	double whole_mm = followed(&story).used_mm;
	story.sky.count = 8;
	double first_mm = followed(&story).used_mm;
	story.sky = (struct sky){.days = story.days + 8, .count = 12};
	struct thirst rest;
	assert_true(
		thirst_follow(&story.dossier, &story.terms, &story.sky, story.days[19].day, &rest));
	check_close(first_mm + rest.used_mm, whole_mm, 1e-9, "the sum");
	assert_true(whole_mm > 100 && whole_mm < 160); /* 6 to 7 mm a day in June */
	check_int(rest.days, 12, "days");
}

static void more_warmth_more_use_more_rain_less_lack(void **state)
{
	struct story story;

	(void)state;
	story_make(&story, 20);
	double before_mm = followed(&story).used_mm;
	for (int32_t i = 0; i < 20; i++)
		story.days[i].max_decic.value += 20;
	double warm_mm = followed(&story).used_mm;
	assert_true(warm_mm > before_mm);
	double last_mm = warm_mm;
	for (int64_t mm = 5; mm <= 40; mm += 5) {
		story.days[15].rain_um = known_i64(mm * 1000);
		double wet_mm = followed(&story).used_mm;
		assert_true(wet_mm < last_mm);
		last_mm = wet_mm;
	}
	story.days[15].rain_um = known_i64(2000);
	check_close(followed(&story).used_mm, warm_mm, 1e-9, "a shower under a tenth is lost");
}

static void a_warmer_spot_draws_more(void **state)
{
	struct story story;

	(void)state;
	story_make(&story, 10);
	double before_mm = followed(&story).used_mm;
	story.sky.warmer_decic = 20;
	assert_true(followed(&story).used_mm > before_mm);
}

static void a_known_watering_counts_by_its_ground(void **state)
{
	struct story story;
	const struct entry *entries[1] = {watered("2026-06-15", 100000000)};

	(void)state;
	story_make(&story, 20);
	double dry_mm = followed(&story).used_mm;
	story.dossier.entries = entries;
	story.dossier.entry_count = 1;
	check_close(followed(&story).used_mm, dry_mm - 10, 1e-9, "100 l on 10 m2");
	story.terms.canopy_m2 = 0;
	struct thirst thirst = followed(&story);
	check_int(date_days_between(day_of("2026-06-15"), thirst.from), 0,
		"on ground that is not known it fills");
}

static void a_short_tree_draws_less(void **state)
{
	struct story story;

	(void)state;
	story_make(&story, 20);
	story.terms.root_depth_m = 0.5;
	double short_mm = followed(&story).used_mm;
	story.terms.root_depth_m = 3;
	assert_true(short_mm < followed(&story).used_mm);
	assert_true(short_mm < 65); /* never more than the soil holds */
}

static void a_day_without_a_figure_breaks_the_account(void **state)
{
	struct story story;
	struct thirst thirst;

	(void)state;
	story_make(&story, 20);
	story.days[11].rain_um.known = false;
	check_int(followed(&story).days, 8, "from the day after it");
	story.days[19].max_decic.known = false;
	assert_false(thirst_follow(
		&story.dossier, &story.terms, &story.sky, story.days[19].day, &thirst));
	story.sky.count = 19;
	check_int(followed(&story).days, 7, "and without today");
	assert_false(thirst_follow(&story.dossier, &story.terms, &story.sky,
		date_add_days(story.days[18].day, 3), &thirst));
	story.sky.count = 0;
	assert_false(thirst_follow(
		&story.dossier, &story.terms, &story.sky, story.days[0].day, &thirst));
}

static void a_day_twice_breaks_the_account(void **state)
{
	struct story story;

	(void)state;
	story_make(&story, 20);
	story.days[11].day = story.days[10].day;
	check_int(followed(&story).days, 8, "only what comes after it");
}

/* Never taken for a day without use. */
static void a_day_that_cannot_be_breaks_the_account(void **state)
{
	struct story story;
	struct thirst thirst;

	(void)state;
	story_make(&story, 20);
	story.days[9].min_decic = known_i32(310); /* above its maximum */
	check_int(followed(&story).days, 10, "only what comes after it");
	story_make(&story, 20);
	story.days[9].rain_um = known_i64(-1);
	check_int(followed(&story).days, 10, "rain below nothing");
	story_make(&story, 20);
	story.terms.latitude_deg = -75; /* June there: polar night */
	assert_false(thirst_follow(
		&story.dossier, &story.terms, &story.sky, story.days[19].day, &thirst));
}

static void days_that_cannot_be_have_no_use(void **state)
{
	struct story story;
	struct fault why = {0};
	double use_mm = -1;

	(void)state;
	story_make(&story, 1);
	story.days[0].min_decic = known_i32(310);
	check_refused(thirst_of_day(&story.terms, &story.sky, story.days, &use_mm, &why),
		STATUS_RANGE, &why, "minimum 31 C is above maximum 30 C");
	story.days[0].min_decic.known = false;
	check_refused(thirst_of_day(&story.terms, &story.sky, story.days, &use_mm, &why),
		STATUS_RANGE, &why, "without both extremes");
	story.days[0] = (struct day_weather){.day = day_of("2026-12-21"),
		.min_decic = known_i32(-200),
		.max_decic = known_i32(-100)};
	story.terms.latitude_deg = 70;
	check_refused(thirst_of_day(&story.terms, &story.sky, story.days, &use_mm, &why),
		STATUS_RANGE, &why, "polar night");
	check_close(use_mm, -1, 0, "untouched");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_evergreen_goes_from_stage_to_stage),
		cmocka_unit_test(after_the_last_stage_the_end_stands),
		cmocka_unit_test(without_stages_it_may_be_any_of_the_three),
		cmocka_unit_test(the_first_part_and_the_rest_are_the_whole),
		cmocka_unit_test(more_warmth_more_use_more_rain_less_lack),
		cmocka_unit_test(a_warmer_spot_draws_more),
		cmocka_unit_test(a_known_watering_counts_by_its_ground),
		cmocka_unit_test(a_short_tree_draws_less),
		cmocka_unit_test(a_day_without_a_figure_breaks_the_account),
		cmocka_unit_test(a_day_twice_breaks_the_account),
		cmocka_unit_test(a_day_that_cannot_be_breaks_the_account),
		cmocka_unit_test(days_that_cannot_be_have_no_use),
	};

	return cmocka_run_group_tests_name("thirst", tests, NULL, NULL) != 0;
}
