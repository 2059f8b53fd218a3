/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include <math.h>

#include "almanac/almanac.h"
#include "reckon/frost.h"

/* The two curves are ours: worked out from their own formulas. */
struct night {
	const char *name;
	double ten, ninety, temperature;
	enum frost_band band;
	double linear, logistic;
};
static const struct night nights[] = {
	{"full_bloom_at_29_f", 28, 25, 29, FROST_ABOVE, 0, 0.025037},
	{"full_bloom_at_28_f", 28, 25, 28, FROST_BETWEEN, 0.1, 0.1},
	{"full_bloom_at_27_f", 28, 25, 27, FROST_BETWEEN, 0.366667, 0.324666},
	{"full_bloom_halfway", 28, 25, 26.5, FROST_BETWEEN, 0.5, 0.5},
	{"full_bloom_at_26_f", 28, 25, 26, FROST_BETWEEN, 0.633333, 0.675334},
	{"full_bloom_at_25_f", 28, 25, 25, FROST_BELOW, 0.9, 0.9},
	{"full_bloom_at_24_f", 28, 25, 24, FROST_BELOW, 1, 0.974963},
	{"silver_tip_halfway", 15, 2, 8.5, FROST_BETWEEN, 0.5, 0.5},
	{"silver_tip_at_0_f", 15, 2, 0, FROST_BELOW, 1, 0.946510},
};

static void check_night(const void *item)
{
	const struct night *one = item;
	const struct frost_points points = {one->ten, one->ninety, true};
	struct frost_loss loss;

	check_ok(frost_loss_at(&points, one->temperature, &loss, NULL), NULL);
	check_int(loss.band, one->band, "band");
	assert_true(loss.has_point);
	check_close(loss.linear, one->linear, 1e-6, "linear");
	check_close(loss.logistic, one->logistic, 1e-6, "logistic");
	assert_true(loss.low <= loss.high);
}

static void a_colder_night_never_costs_less(void **state)
{
	const struct frost_points points = {-22, -39, true};
	struct frost_loss last = {.linear = 0};

	(void)state;
	for (int32_t decic = 50; decic >= -150; decic--) {
		struct frost_loss loss;

		check_ok(frost_loss_at(&points, decic, &loss, NULL), NULL);
		assert_true(loss.linear >= last.linear && loss.logistic >= last.logistic);
		assert_true(loss.low >= last.low && loss.high >= last.high);
		last = loss;
	}
}

static void without_a_ninety_only_above_or_colder_is_told(void **state)
{
	const struct frost_points points = {.ten = 15};
	const struct frost_points same = {28, 28, true};
	struct frost_loss loss;

	(void)state;
	check_ok(frost_loss_at(&points, 16, &loss, NULL), NULL);
	check_int(loss.band, FROST_ABOVE, "above");
	check_ok(frost_loss_at(&points, 3, &loss, NULL), NULL);
	check_int(loss.band, FROST_UNTOLD, "colder");
	assert_false(loss.has_point);
	check_ok(frost_loss_at(&same, 28.1, &loss, NULL), NULL);
	check_int(loss.band, FROST_ABOVE, "above");
	check_ok(frost_loss_at(&same, 28, &loss, NULL), NULL);
	check_int(loss.band, FROST_BELOW, "below");
	assert_false(loss.has_point);
}

static void bad_temperatures_are_refused(void **state)
{
	const struct frost_points points = {28, 25, true};
	const struct frost_points turned = {15, 28, true};
	const struct frost_points odd = {28, NAN, true};
	struct frost_loss loss = {.low = -1};
	struct fault why = {0};

	(void)state;
	check_refused(frost_loss_at(&points, NAN, &loss, &why), STATUS_RANGE, &why, "not a number");
	check_refused(frost_loss_at(&odd, 27, &loss, &why), STATUS_RANGE, &why, "not a number");
	check_refused(frost_loss_at(&turned, 27, &loss, &why), STATUS_RANGE, &why,
		"90 % killed at 28 is warmer than 10 % killed at 15");
	check_close(loss.low, -1, 0, "untouched");
}

/* --- the almanac's tables --- */

static struct almanac *almanac;

static int32_t stages_of(const char *kind, struct frost_stage *stages)
{
	return frost_stages(almanac_species(almanac, kind), stages);
}

static void stages_follow_each_other_without_a_hole(void **state)
{
	static const struct {
		const char *kind;
		int32_t count;
	} kinds[] = {{"apple", 9}, {"european_pear", 8}, {"peach", 7}, {"apricot", 8},
		{"european_plum", 8}, {"sweet_cherry", 9}, {"sour_cherry", 7}, {"almond", 2},
		{"loquat", 0}, {"quince", 0}, {"walnut", 0}};

	(void)state;
	for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
		struct frost_stage stages[FROST_STAGES_MAX];
		int32_t count = stages_of(kinds[k].kind, stages);

		check_int(count, kinds[k].count, kinds[k].kind);
		for (int32_t i = 1; i < count; i++) {
			check_int(stages[i].code_from, stages[i - 1].code_to + 1, kinds[k].kind);
			assert_true(!stages[i].ten_decic.known || !stages[i - 1].ten_decic.known ||
				    stages[i].ten_decic.value >= stages[i - 1].ten_decic.value);
		}
	}
}

static void a_code_finds_its_stage(void **state)
{
	static const struct {
		const char *kind;
		int32_t code;
		const char *stage;
	} codes[] = {{"apple", 53, "green-tip"}, {"apple", 56, "tight-cluster"},
		{"apple", 57, "first-pink"}, {"apple", 59, "full-pink"},
		{"apple", 61, "first-bloom"}, {"apple", 65, "full-bloom"},
		{"apple", 69, "post-bloom"}, {"apple", 50, ""}, {"apple", 75, ""},
		{"apple", 89, ""}, {"apricot", 71, "in-the-shuck"}, {"apricot", 73, "green-fruit"},
		{"sweet_cherry", 52, "side-green"}, {"peach", 54, "calyx-green"},
		{"almond", 59, ""}, {"loquat", 605, ""}};

	(void)state;
	for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++) {
		struct frost_stage stages[FROST_STAGES_MAX];
		int32_t count = stages_of(codes[i].kind, stages);
		const struct frost_stage *stage = frost_stage_at(stages, count, codes[i].code);

		check_text(stage == NULL ? "" : stage->key, codes[i].stage, codes[i].kind);
	}
}

static void a_bloom_window_alone_tells_first_or_full(void **state)
{
	struct frost_stage stages[FROST_STAGES_MAX];
	int32_t count = stages_of("peach", stages);

	(void)state;
	check_text(frost_stage_in_bloom(stages, count, 0)->name, "first bloom", "first day");
	check_text(frost_stage_in_bloom(stages, count, 0.5)->name, "full bloom", "middle");
	check_text(frost_stage_in_bloom(stages, count, 1)->name, "full bloom", "last day");
	assert_null(frost_stage_in_bloom(stages, 0, 0.5));
}

static void half_a_crop_alone_has_no_curve(void **state)
{
	struct frost_stage stages[FROST_STAGES_MAX];
	struct frost_loss loss;
	struct fault why = {0};

	(void)state;
	check_int(stages_of("almond", stages), 2, "stages");
	assert_true(stages[0].half_decic.known);
	check_refused(frost_loss_of_stage(&stages[0], -30, &loss, &why), STATUS_ABSENT, &why,
		"full bloom");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_colder_night_never_costs_less),
		cmocka_unit_test(without_a_ninety_only_above_or_colder_is_told),
		cmocka_unit_test(bad_temperatures_are_refused),
		cmocka_unit_test(stages_follow_each_other_without_a_hole),
		cmocka_unit_test(a_code_finds_its_stage),
		cmocka_unit_test(a_bloom_window_alone_tells_first_or_full),
		cmocka_unit_test(half_a_crop_alone_has_no_curve),
	};
	struct fault why = {0};

	if (almanac_open("share/almanac", &almanac, &why) != STATUS_OK) {
		fprintf(stderr, "%s\n", why.text);
		return 1;
	}
	int failed = RUN_CASES("between one in ten and nine", nights, check_night);
	failed += cmocka_run_group_tests_name("frost", tests, NULL, NULL);
	almanac_close(almanac);
	return failed != 0;
}
