/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/season.h"

static const struct season_rule peach = {
	.turn = {1, 14}, .harvest_from = {5, 1}, .harvest_to = {9, 30}};
static const struct season_rule navel = {
	.turn = {8, 16}, .harvest_from = {11, 1}, .harvest_to = {5, 31}, .crosses = true};
static const struct season_rule without_kind = {.turn = {1, 1}};

enum { ENTRIES_MAX = 32 };

struct log {
	const struct entry *entries[ENTRIES_MAX];
	int32_t count;
	struct season *seasons;
	int32_t season_count;
};

static struct entry *put(struct log *log, struct entry *entry)
{
	log->entries[log->count++] = entry;
	return entry;
}

static struct amount none_of(enum dimension dimension, enum field field)
{
	struct amount none = exactly(dimension, field, 0);
	none.none = true;
	return none;
}

static void put_none(struct log *log, const char *day)
{
	put(log, with_amount(make_entry(KIND_PICK, day), none_of(DIMENSION_MASS, FIELD_WEIGHT)));
}

static const struct season *look(
	struct log *log, const struct season_rule *rule, const char *today, int32_t year)
{
	log->season_count = season_table(
		log->entries, log->count, rule, day_of(today), NULL, made(), &log->seasons);
	for (int32_t at = 0; at < log->season_count; at++)
		if (log->seasons[at].year == year)
			return &log->seasons[at];
	return NULL;
}

/* --- where a season stands --- */

struct state_case {
	const char *name;
	const struct season_rule *rule;
	const char *
		picks[4]; /* days; "last DAY" says it was the last, "none DAY" that none was seen */
	const char *today;
	int32_t year;
	enum season_state state;
};

static const struct state_case state_cases[] = {
	{"before the window opens", &peach, {NULL}, "2026-04-30", 2026, SEASON_TO_COME},
	{"the window opens", &peach, {NULL}, "2026-05-01", 2026, SEASON_IN_PROGRESS},
	{"an early pick", &peach, {"2026-04-20"}, "2026-04-25", 2026, SEASON_IN_PROGRESS},
	{"in the window after a pick", &peach, {"2026-06-20"}, "2026-09-30", 2026,
		SEASON_IN_PROGRESS},
	{"21 days after the window closed", &peach, {"2026-06-20"}, "2026-10-21", 2026,
		SEASON_IN_PROGRESS},
	{"22 days after the window closed", &peach, {"2026-06-20"}, "2026-10-22", 2026,
		SEASON_COMPLETE},
	{"21 days after a late pick", &peach, {"2026-10-10"}, "2026-10-31", 2026,
		SEASON_IN_PROGRESS},
	{"22 days after a late pick", &peach, {"2026-10-10"}, "2026-11-01", 2026, SEASON_COMPLETE},
	{"a late pick after it was over opens it again", &peach, {"2026-06-20", "2026-11-20"},
		"2026-11-25", 2026, SEASON_IN_PROGRESS},
	{"the last one said", &peach, {"2026-06-20", "last 2026-07-01"}, "2026-07-01", 2026,
		SEASON_COMPLETE},
	{"a pick up to the turn is over with the turn", &peach, {"2027-01-10"}, "2027-01-14", 2026,
		SEASON_COMPLETE},
	{"the day before the turn", &peach, {"2027-01-10"}, "2027-01-13", 2026, SEASON_IN_PROGRESS},
	{"nothing logged, 21 days on", &peach, {"2024-06-20"}, "2026-10-21", 2026,
		SEASON_IN_PROGRESS},
	{"nothing logged, 22 days on", &peach, {"2024-06-20"}, "2026-10-22", 2026,
		SEASON_NOT_RECORDED},
	{"a year without entries", &peach, {"2024-06-20"}, "2026-06-01", 2025, SEASON_NOT_RECORDED},
	{"none seen, in the window", &peach, {"none 2026-06-20"}, "2026-06-25", 2026,
		SEASON_IN_PROGRESS},
	{"none seen, before the window", &peach, {"none 2026-03-20"}, "2026-03-25", 2026,
		SEASON_TO_COME},
	{"none seen, over", &peach, {"none 2026-06-20"}, "2026-12-01", 2026, SEASON_NONE_SEEN},
	{"none seen, then some", &peach, {"none 2026-06-20", "2026-07-20"}, "2026-12-01", 2026,
		SEASON_COMPLETE},
	{"over New Year", &navel, {"1916-01-15"}, "1916-03-01", 1915, SEASON_IN_PROGRESS},
	{"over New Year, complete", &navel, {"1916-01-15"}, "1916-06-22", 1915, SEASON_COMPLETE},
	{"no kind, no pick", &without_kind, {NULL}, "2026-06-01", 2026, SEASON_TO_COME},
	{"no kind, a pick", &without_kind, {"2026-03-01"}, "2026-12-31", 2026, SEASON_IN_PROGRESS},
	{"no kind, next year", &without_kind, {"2026-03-01"}, "2027-01-01", 2026, SEASON_COMPLETE},
};

static void state_case_run(const void *one)
{
	const struct state_case *at = one;
	struct log log = {0};
	for (int32_t pick = 0; pick < 4 && at->picks[pick] != NULL; pick++) {
		const char *day = at->picks[pick];
		if (strncmp(day, "none ", 5) == 0)
			put_none(&log, day + 5);
		else if (strncmp(day, "last ", 5) == 0)
			with_detail(put(&log, make_pick(day + 5, 500)), FIELD_PARTIAL, "last");
		else
			put(&log, make_pick(day, 500));
	}
	const struct season *season = look(&log, at->rule, at->today, at->year);
	assert_non_null(season);
	check_text(season_state_key(season->state), season_state_key(at->state), at->name);
}

/* --- sums --- */

static void a_season_adds_up_its_picks(void **state)
{
	(void)state;
	struct log log = {0};
	put(&log, make_pick("2026-07-10", 1500));
	put(&log, with_amount(make_pick("2026-06-28", 500),
			  exactly(DIMENSION_COUNT, FIELD_COUNT, 6000)));
	put(&log, with_amount(make_entry(KIND_PICK, "2026-07-02"),
			  exactly(DIMENSION_COUNT, FIELD_COUNT, 4000)));
	put(&log, with_amount(make_entry(KIND_LOSS, "2026-07-03"),
			  exactly(DIMENSION_MASS, FIELD_WEIGHT, 250000)));
	put(&log, make_entry(KIND_LOSS, "2026-07-04"));
	put(&log, make_entry(KIND_CUT, "2026-07-05"));
	const struct season *season = look(&log, &peach, "2026-12-31", 2026);
	check_int(log.season_count, 1, "one season");
	check_int(season->picks, 3, "picks");
	check_int(season->unweighed, 1, "not weighed");
	check_int(amount_sum_point(&season->picked).value, 2000000, "picked");
	check_int(season->picked.missing, 1, "missing");
	check_int(amount_sum_point(&season->fruit).value, 10000, "fruit");
	check_int(amount_sum_point(&season->lost).value, 250000, "lost");
	check_int(season->lost.missing, 1, "lost without weight");
	check_int(season_total_mg(season).value, 2250000, "total");
	check_int(season->first_pick.value.day, day_of("2026-06-28").day, "first");
	check_int(season->last_pick.value.day, day_of("2026-07-10").day, "last");
}

static void ranges_and_open_ends_stay_what_they_are(void **state)
{
	(void)state;
	struct log log = {0};
	struct amount range = exactly(DIMENSION_MASS, FIELD_WEIGHT, 4000000);
	range.high = known_i64(6000000);
	put(&log, with_amount(make_entry(KIND_PICK, "2026-07-02"), range));
	put(&log, make_pick("2026-07-03", 1000));
	const struct season *season = look(&log, &peach, "2026-12-31", 2026);
	check_int(season->picked.low, 5000000, "low");
	check_int(season->picked.high, 7000000, "high");
	check_int(season_total_mg(season).value, 6000000, "point");
	range.high.known = false;
	put(&log, with_amount(make_entry(KIND_PICK, "2026-07-04"), range));
	season = look(&log, &peach, "2026-12-31", 2026);
	assert_true(season->picked.high_open);
	check_int(season_total_mg(season).value, 9000000, "low of an open one");
}

static void none_seen_is_zero_only_where_nothing_was_picked(void **state)
{
	(void)state;
	struct log log = {0};
	put_none(&log, "2025-07-01");
	put_none(&log, "2026-07-01");
	put(&log, make_pick("2026-07-20", 700));
	put(&log, with_amount(make_entry(KIND_PICK, "2024-07-01"),
			  none_of(DIMENSION_COUNT, FIELD_COUNT)));
	const struct season *season = look(&log, &peach, "2026-12-31", 2025);
	assert_true(season->picked.none);
	check_int(season->picks, 0, "no pick");
	assert_true(season_total_mg(season).known);
	check_int(season_total_mg(season).value, 0, "an observed zero");
	check_int(season_total_mg(&log.seasons[0]).value, 0, "none counted");
	assert_true(season_total_mg(&log.seasons[0]).known);
	check_int(season_total_mg(&log.seasons[2]).value, 700000, "some came");
	assert_false(log.seasons[2].picked.none);
}

static void what_was_not_logged_is_never_zero(void **state)
{
	(void)state;
	struct log log = {0};
	put(&log, make_pick("2023-07-01", 700));
	put(&log, with_amount(make_entry(KIND_LOSS, "2025-07-01"),
			  exactly(DIMENSION_MASS, FIELD_WEIGHT, 90000)));
	put(&log, with_detail(make_entry(KIND_PICK, "2026-07-01"), FIELD_WORDS, "plenty"));
	look(&log, &peach, "2026-12-31", 2026);
	check_int(log.season_count, 4, "no gap");
	assert_true(season_total_mg(&log.seasons[0]).known);
	assert_false(season_total_mg(&log.seasons[1]).known);
	check_int(log.seasons[1].state, SEASON_NOT_RECORDED, "2024");
	assert_false(season_total_mg(&log.seasons[2]).known);
	check_int(log.seasons[2].state, SEASON_NOT_RECORDED, "a loss is no crop");
	assert_false(season_total_mg(&log.seasons[3]).known);
	check_int(log.seasons[3].state, SEASON_COMPLETE, "picked, not weighed");
	check_int(log.seasons[3].unweighed, 1, "not weighed");
}

static void plans_and_days_to_come_are_no_picks(void **state)
{
	(void)state;
	struct log log = {0};
	put(&log, make_pick("2026-07-01", 700));
	put(&log, make_pick("2026-07-02", 300))->planned = true;
	put(&log, make_pick("2026-07-20", 400));
	const struct season *season = look(&log, &peach, "2026-07-10", 2026);
	check_int(season->picks, 1, "picks");
	check_int(season_total_mg(season).value, 700000, "total");
}

static void no_entries_give_the_season_of_today(void **state)
{
	(void)state;
	struct log log = {0};
	const struct season *season = look(&log, &navel, "2026-01-10", 2025);
	assert_non_null(season);
	check_int(log.season_count, 1, "rows");
	check_int(season->state, SEASON_IN_PROGRESS, "state");
	assert_false(season_total_mg(season).known);
}

/* --- seasons as said, uncertain days --- */

static void a_season_that_was_given_is_taken(void **state)
{
	(void)state;
	struct log log = {0};
	put(&log, make_pick("2026-08-20", 700))->season_year = known_i32(2025);
	put(&log, make_pick("", 300))->season_year = known_i32(2021);
	put(&log, make_pick("2026-08-20", 100))->season_year = known_i32(2027);
	look(&log, &navel, "2026-09-01", 2026);
	check_int(log.season_count, 7, "2021 to 2027");
	check_int(season_total_mg(&log.seasons[0]).value, 300000, "2021/22");
	assert_false(log.seasons[0].first_pick.known);
	check_int(season_total_mg(&log.seasons[4]).value, 700000, "2025/26");
	assert_true(log.seasons[4].first_pick.known);
	check_int(season_total_mg(&log.seasons[6]).value, 100000, "named ahead");
}

struct day_case {
	const char *name;
	const char *day;
	int32_t year; /* 0: in no season */
	bool sharp;   /* first pick known */
};

static const struct day_case day_cases[] = {
	{"a day", "2020-03-05", 2019, true},
	{"a year alone goes to the season of that name", "2020", 2020, false},
	{"about a year", "2020~", 2020, false},
	{"a month", "2020-03", 2019, false},
	{"a fortnight", "2020-03-01/2020-03-15", 2019, true},
	{"sixteen days", "2020-03-01/2020-03-17", 2019, false},
	{"a decade is no season", "201X", 0, false},
	{"two years are no season", "2019/2020", 0, false},
	{"an open end is no season", "2019/..", 0, false},
	{"no day is no season", "", 0, false},
};

static void day_case_run(const void *one)
{
	const struct day_case *at = one;
	struct log log = {0};
	put(&log, make_pick(at->day, 700));
	look(&log, &navel, "2026-09-01", 2026);
	if (at->year == 0) {
		check_int(log.season_count, 1, "only today's");
		check_int(log.seasons[0].picks, 0, "no pick");
		return;
	}
	check_int(log.seasons[0].year, at->year, "year");
	check_int(log.seasons[0].picks, 1, "picks");
	check_int(log.seasons[0].first_pick.known, at->sharp, "first pick known");
}

/* --- containers --- */

static bool weigh_bucket(
	const void *owner, const struct amount *amount, struct date day, struct amount *mass)
{
	const int64_t *full_mg = owner;
	if (strcmp(amount->container, "bucket") != 0)
		return false;
	int64_t of_day = date_compare(day, day_of("2026-07-10")) < 0 ? full_mg[0] : full_mg[1];
	*mass = exactly(DIMENSION_MASS, FIELD_WEIGHT, amount->containers_low.value * of_day / 1000);
	return true;
}

static struct amount containers_of(const char *name, int64_t count)
{
	struct amount amount = {.dimension = DIMENSION_MASS, .field = FIELD_WEIGHT};
	snprintf(amount.container, sizeof amount.container, "%s", name);
	amount.containers_low = known_i64(count * 1000);
	amount.containers_high = known_i64(count * 1000);
	return amount;
}

static void containers_are_weighed_for_their_day_and_weighed_beats_them(void **state)
{
	(void)state;
	static const int64_t full_mg[2] = {4000000, 5000000};
	const struct season_weigher weigher = {.owner = full_mg, .weigh = weigh_bucket};
	struct log log = {0};
	put(&log, with_amount(make_entry(KIND_PICK, "2026-07-01"), containers_of("bucket", 2)));
	put(&log, with_amount(make_entry(KIND_PICK, "2026-07-20"), containers_of("bucket", 1)));
	put(&log, with_amount(make_pick("2026-07-21", 600), containers_of("bucket", 3)));
	put(&log, with_amount(make_entry(KIND_PICK, "2026-07-22"), containers_of("hat", 3)));
	int32_t count = season_table(log.entries, log.count, &peach, day_of("2026-12-31"), &weigher,
		made(), &log.seasons);
	check_int(count, 1, "seasons");
	check_int(season_total_mg(log.seasons).value, 8000000 + 5000000 + 600000, "total");
	assert_true(log.seasons[0].picked.about);
	check_int(log.seasons[0].unweighed, 1, "an unknown hat");
	season_table(
		log.entries, log.count, &peach, day_of("2026-12-31"), NULL, made(), &log.seasons);
	check_int(log.seasons[0].unweighed, 3, "without a weigher");
}

/* --- alternation: values worked out by the formula --- */

struct alternation_case {
	const char *name;
	int64_t grams[9]; /* -1: not recorded; -2: end */
	double index;
	int32_t pairs, seasons;
};

static const struct alternation_case alternation_cases[] = {
	{"five years", {40, 10, 35, 12, 38, -2}, 0.541229, 4, 5},
	{"steady", {20, 20, 20, 20, -2}, 0, 3, 4},
	{"on and off", {30, 0, 30, 0, -2}, 1, 3, 4},
	{"one pair", {10, 30, -2}, 0.5, 1, 2},
	{"two empty years are no pair", {0, 0, 12, 4, -2}, 0.75, 2, 4},
	{"a gap breaks the chain", {10, 30, -1, 10, -2}, 0.5, 1, 3},
	{"gaps at every turn", {10, -1, 10, -1, 30, -2}, 0, 0, 3},
	{"one season", {10, -2}, 0, 0, 1},
	{"four years", {20, 40, 20, 40, -2}, 1.0 / 3, 3, 4},
	{"five falling", {60, 20, 50, 10, -2}, 0.531746, 3, 4},
};

static void alternation_case_run(const void *one)
{
	const struct alternation_case *at = one;
	struct log log = {0};
	for (int32_t year = 0; at->grams[year] != -2; year++) {
		char day[DATE_SIZE];
		snprintf(day, sizeof day, "%d-07-01", 2010 + year);
		if (at->grams[year] == 0)
			put_none(&log, day);
		else if (at->grams[year] > 0)
			put(&log, make_pick(day, at->grams[year]));
	}
	look(&log, &peach, "2026-05-01", 2026);
	struct alternation got = season_alternation(log.seasons, log.season_count, 2026);
	check_int(got.pairs, at->pairs, "pairs");
	check_int(got.seasons, at->seasons, "seasons");
	check_close(got.index, at->index, 1e-6, "index");
}

static void a_season_in_progress_is_not_compared(void **state)
{
	(void)state;
	struct log log = {0};
	put(&log, make_pick("2024-07-01", 40000));
	put(&log, make_pick("2025-07-01", 10000));
	put(&log, make_pick("2026-05-02", 1000));
	look(&log, &peach, "2026-05-03", 2026);
	check_int(season_alternation(log.seasons, log.season_count, 2026).pairs, 1, "pairs");
	check_int(season_alternation(log.seasons, log.season_count, 2024).seasons, 1, "up to 2024");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_season_adds_up_its_picks),
		cmocka_unit_test(ranges_and_open_ends_stay_what_they_are),
		cmocka_unit_test(none_seen_is_zero_only_where_nothing_was_picked),
		cmocka_unit_test(what_was_not_logged_is_never_zero),
		cmocka_unit_test(plans_and_days_to_come_are_no_picks),
		cmocka_unit_test(no_entries_give_the_season_of_today),
		cmocka_unit_test(a_season_that_was_given_is_taken),
		cmocka_unit_test(containers_are_weighed_for_their_day_and_weighed_beats_them),
		cmocka_unit_test(a_season_in_progress_is_not_compared),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("where a season stands", state_cases, state_case_run);
	failed += RUN_CASES("uncertain days", day_cases, day_case_run);
	failed += RUN_CASES("alternation", alternation_cases, alternation_case_run);
	return failed != 0;
}
