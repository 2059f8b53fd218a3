/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/crop.h"

/* A season of so many grams; -1: nothing logged. */
static struct season season_of(int32_t year, enum season_state state, int64_t grams)
{
	struct season season = {.year = year, .state = state};
	if (grams < 0)
		return season;
	struct amount mass = exactly(DIMENSION_MASS, FIELD_WEIGHT, grams * 1000);
	amount_sum_add(&season.picked, &mass);
	season.picks = 1;
	return season;
}

static const struct maybe_i64 no_weight = {.known = false};

struct expected_case {
	const char *name;
	int64_t grams[8]; /* -1: not recorded; -2: end */
	int32_t seasons;
	int64_t point, low, high; /* grams */
};

static const struct expected_case expected_cases[] = {
	{"no season", {-2}, 0, 0, 0, 0},
	{"nothing logged", {-1, -1, -2}, 0, 0, 0, 0},
	{"one season", {10000, -2}, 1, 10000, 10000, 10000},
	{"two seasons give their mean", {10000, 5000, -2}, 2, 7500, 5000, 10000},
	{"three seasons give their median", {10000, 4000, 7000, -2}, 3, 7000, 4000, 10000},
	{"four seasons, middle of the middle two", {10000, 4000, 7000, 6000, -2}, 4, 6500, 4000,
		10000},
	{"a gap is no zero", {10000, -1, 4000, -1, 7000, -2}, 3, 7000, 4000, 10000},
	{"an empty season is a zero", {0, 8000, 0, 8000, -2}, 4, 4000, 0, 8000},
	{"six seasons are looked at", {90000, 90000, 1000, 2000, 3000, 4000, 5000, 6000}, 6, 3500,
		1000, 6000},
};

static void expected_case_run(const void *one)
{
	const struct expected_case *at = one;
	struct season seasons[8];
	int32_t count = 0;
	for (; count < 8 && at->grams[count] != -2; count++) {
		int64_t grams = at->grams[count];
		seasons[count] = season_of(
			2010 + count, grams < 0 ? SEASON_NOT_RECORDED : SEASON_COMPLETE, grams);
	}
	struct expected_crop crop = crop_expected(seasons, count, no_weight);
	check_int(crop.seasons, at->seasons, "m");
	check_int(crop.mg, at->point * 1000, "point");
	check_int(crop.low_mg, at->low * 1000, "low");
	check_int(crop.high_mg, at->high * 1000, "high");
	assert_false(crop.estimate);
}

static void a_crop_in_progress_is_not_in_it(void **state)
{
	(void)state;
	struct season seasons[] = {season_of(2024, SEASON_COMPLETE, 8000),
		season_of(2025, SEASON_NONE_SEEN, 0), season_of(2026, SEASON_IN_PROGRESS, 900)};
	struct expected_crop crop = crop_expected(seasons, 3, no_weight);
	check_int(crop.seasons, 2, "m");
	check_int(crop.mg, 4000000, "mean");
}

static void counted(struct season *season, int64_t fruit)
{
	struct amount count = exactly(DIMENSION_COUNT, FIELD_COUNT, fruit * 1000);
	amount_sum_add(&season->fruit, &count);
	season->picks = 1;
}

static void counted_fruit_become_weight(void **state)
{
	(void)state;
	struct season seasons[2] = {
		season_of(2024, SEASON_COMPLETE, -1), season_of(2025, SEASON_COMPLETE, 3000)};
	counted(&seasons[0], 50);
	seasons[0].unweighed = 1;
	struct expected_crop crop = crop_expected(seasons, 2, no_weight);
	check_int(crop.seasons, 1, "no mean fruit weight is known");
	crop = crop_expected(seasons, 2, known_i64(100000));
	check_int(crop.seasons, 2, "by the almanac's");
	check_int(crop.low_mg, 3000000, "low");
	check_int(crop.high_mg, 5000000, "high");
	assert_true(crop.estimate);
	counted(&seasons[1], 20);
	seasons[1].sized_mg = 3000000;
	seasons[1].sized_fruit = 20000;
	crop = crop_expected(seasons, 2, known_i64(100000));
	check_int(crop.high_mg, 7500000, "own mean of 150 g goes first");
	assert_false(crop.estimate);
}

/* --- shares --- */

static struct amount share_amount(int64_t low, int64_t high)
{
	struct amount amount = exactly(DIMENSION_SHARE, FIELD_SHARE_CROWN, low);
	amount.high = (struct maybe_i64){.value = high, .known = high >= 0};
	return amount;
}

static void shares_are_read_as_portions(void **state)
{
	(void)state;
	struct amount amount = share_amount(200, 300);
	struct share share = share_of_amount(&amount);
	assert_true(share.known);
	check_close(share.low, 0.2, 1e-12, "low");
	check_close(share.high, 0.3, 1e-12, "high");
	amount = share_amount(200, -1);
	check_close(share_of_amount(&amount).high, 1, 0, "at least a fifth");
	amount = share_amount(1500, 1500);
	check_close(share_of_amount(&amount).low, 1, 0, "never more than all");
	assert_false(share_of_amount(NULL).known);
	amount.low.known = amount.high.known = false;
	assert_false(share_of_amount(&amount).known);
	amount = exactly(DIMENSION_COUNT, FIELD_COUNT, 200);
	assert_false(share_of_amount(&amount).known);
}

static void shares_join_as_what_is_left(void **state)
{
	(void)state;
	const struct share fifth = {true, 0.2, 0.2};
	const struct share quarter = {true, 0.25, 0.25};
	const struct share unknown = {false, 0, 0};
	check_close(share_join(fifth, quarter).low, 0.4, 1e-12, "a fifth and a quarter");
	assert_false(share_join(fifth, unknown).known);
	assert_false(share_join(unknown, fifth).known);
	for (int32_t a = 0; a <= 20; a++) {
		for (int32_t b = 0; b <= 20; b++) {
			struct share x = {true, a / 20.0, (a + 20) / 40.0};
			struct share y = {true, b / 20.0, (b + 20) / 40.0};
			struct share both = share_join(x, y);
			assert_true(both.low >= x.low - 1e-12 && both.low >= y.low - 1e-12);
			assert_true(both.low <= both.high + 1e-12 && both.high <= 1 + 1e-12);
			check_close(both.high, share_join(y, x).high, 1e-12, "either order");
		}
	}
}

/* --- what is at risk --- */

struct risk_case {
	const char *name;
	double s_low, s_high;        /* below 0: not known */
	int32_t loss_low, loss_high; /* permille; -1: the row has none */
	enum cut_reason reason;
	int64_t picked; /* kg already in */
	bool known;
	double point, low, high; /* kg, of 20 (15 to 30) kg */
};

static const struct risk_case risk_cases[] = {
	{"a fifth, by our own span", 0.2, 0.2, -1, -1, REASON_FLOWERS, 0, true, 4, 1.5, 6},
	{"a fifth, by the row", 0.2, 0.2, 300, 800, REASON_FLOWERS, 0, true, 3.2, 0.9, 4.8},
	{"one figure of the row alone is not used", 0.2, 0.2, -1, 800, REASON_FLOWERS, 0, true, 4,
		1.5, 6},
	{"a range of the crown", 0.1, 0.3, 500, 1000, REASON_FLOWERS, 0, true, 4, 0.75, 9},
	{"more than all is all", 0.8, 1, 1000, 2000, REASON_FLOWERS, 0, true, 20, 12, 30},
	{"none to all", 0.5, 0.5, 0, 1000, REASON_FLOWERS, 0, true, 10, 0, 15},
	{"nothing cut", 0, 0, 500, 1000, REASON_FLOWERS, 0, true, 0, 0, 0},
	{"picks do not count for flowers", 0.2, 0.2, 500, 1000, REASON_FLOWERS, 10, true, 4, 1.5,
		6},
	{"hanging fruit less what is in", 0.2, 0.2, 500, 1000, REASON_FRUIT, 10, true, 2, 0.5, 4},
	{"all but the best is in", 0.2, 0.2, 500, 1000, REASON_FRUIT, 25, true, 0, 0, 1},
	{"share not known", -1, -1, 500, 1000, REASON_FLOWERS, 0, false, 0, 0, 0},
};

static void risk_case_run(const void *one)
{
	const struct risk_case *at = one;
	const struct expected_crop crop = {
		.seasons = 4, .mg = 20000000, .low_mg = 15000000, .high_mg = 30000000};
	const struct cut_row row = {.reason = at->reason,
		.loss_low_permille = {at->loss_low, at->loss_low >= 0},
		.loss_high_permille = {at->loss_high, at->loss_high >= 0}};
	const struct share share = {at->s_low >= 0, at->s_low, at->s_high};
	struct crop_risk risk = crop_at_risk(&crop, share, &row, at->picked * 1000000);
	check_int(risk.known, at->known, "known");
	check_close((double)risk.mg / 1e6, at->point, 1e-6, "point");
	check_close((double)risk.low_mg / 1e6, at->low, 1e-6, "low");
	check_close((double)risk.high_mg / 1e6, at->high, 1e-6, "high");
	if (at->known)
		check_int(risk.loss_is_ours, at->loss_low < 0 || at->loss_high < 0, "whose losses");
	check_int(risk.seasons, 4, "n");
}

static void no_season_gives_no_figure(void **state)
{
	(void)state;
	const struct expected_crop crop = {.seasons = 0};
	const struct cut_row row = {.reason = REASON_FLOWERS};
	const struct share share = {true, 0.2, 0.2};
	assert_false(crop_at_risk(&crop, share, &row, 0).known);
}

static void a_bigger_cut_never_risks_less(void **state)
{
	(void)state;
	const struct expected_crop crop = {
		.seasons = 3, .mg = 7000001, .low_mg = 1999999, .high_mg = 9000003};
	const struct cut_row row = {.reason = REASON_FLOWERS};
	struct crop_risk before = {0};
	for (int32_t permille = 0; permille <= 1000; permille++) {
		const struct share share = {true, permille / 1000.0, permille / 1000.0};
		struct crop_risk risk = crop_at_risk(&crop, share, &row, 0);
		assert_true(risk.low_mg <= risk.mg && risk.mg <= risk.high_mg);
		assert_true(risk.mg >= before.mg && risk.low_mg >= before.low_mg &&
			    risk.high_mg >= before.high_mg);
		assert_true(risk.high_mg <= crop.high_mg);
		before = risk;
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_crop_in_progress_is_not_in_it),
		cmocka_unit_test(counted_fruit_become_weight),
		cmocka_unit_test(shares_are_read_as_portions),
		cmocka_unit_test(shares_join_as_what_is_left),
		cmocka_unit_test(no_season_gives_no_figure),
		cmocka_unit_test(a_bigger_cut_never_risks_less),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("expected crops", expected_cases, expected_case_run);
	failed += RUN_CASES("crops at risk", risk_cases, risk_case_run);
	return failed != 0;
}
