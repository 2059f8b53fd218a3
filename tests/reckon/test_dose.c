/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/dose.h"

enum { POUND_MG = 453592, OUNCE_MG = 28350 };

/* --- formulas --- */

static void product_and_nitrogen_are_each_others_way_back(void **state)
{
	(void)state;
	static const int32_t grades_mpct[] = {
		1, 500, 3000, 6000, 10000, 15500, 21000, 46000, 100000};
	for (size_t grade = 0; grade < sizeof grades_mpct / sizeof *grades_mpct; grade++) {
		int64_t before = -1;
		for (int64_t nitrogen_mg = 0; nitrogen_mg < 2000000; nitrogen_mg += 7919) {
			int64_t product_mg = 0;
			struct fault why = {0};
			check_ok(
				dose_product_mg(nitrogen_mg, grades_mpct[grade], &product_mg, &why),
				&why);
			assert_true(product_mg > before);
			check_close((double)dose_nitrogen_mg(product_mg, grades_mpct[grade]),
				(double)nitrogen_mg, 1, "back");
			before = product_mg;
		}
	}
	check_int(dose_nitrogen_mg(INT64_C(9000000000000000), 100000), INT64_C(9000000000000000),
		"all of a mountain");
}

/* Worked out to four figures; the published ones are rounded or cut. */
static void nitrogen_in_products_of_the_shop(void **state)
{
	(void)state;
	static const struct {
		double nitrogen_lb, percent, product_lb;
	} bags[] = {{1, 21, 4.7619}, {1, 13, 7.6923}, {1, 20, 5}, {3, 21, 14.2857},
		{15, 21, 71.4286}, {2, 33, 6.0606}, {3, 33, 9.0909}, {1.05, 15, 7}};
	for (size_t i = 0; i < sizeof bags / sizeof *bags; i++) {
		int64_t product_mg = 0;
		check_ok(dose_product_mg(round_i64(bags[i].nitrogen_lb * 453592.37),
				 (int32_t)round_i64(bags[i].percent * 1000), &product_mg, NULL),
			NULL);
		check_close((double)product_mg / 453592.37, bags[i].product_lb, 6e-5, "lb");
	}
}

static void a_product_without_nitrogen_has_no_mass_for_it(void **state)
{
	(void)state;
	struct fault why = {0};
	int64_t product_mg = 77;
	check_refused(dose_product_mg(POUND_MG, 0, &product_mg, &why), STATUS_RANGE, &why, "0 %");
	check_refused(dose_product_mg(POUND_MG, -5, &product_mg, &why), STATUS_RANGE, &why, "");
	check_refused(
		dose_product_mg(POUND_MG, 100001, &product_mg, &why), STATUS_RANGE, &why, "100");
	check_refused(dose_product_mg(-1, 10000, &product_mg, &why), STATUS_RANGE, &why, "below");
	check_int(product_mg, 77, "untouched");
}

static void parts_add_up_to_the_whole(void **state)
{
	(void)state;
	for (int64_t whole = 0; whole < 5000; whole += 13) {
		for (int32_t n = 1; n <= 12; n++) {
			int64_t sum = 0;
			for (int32_t k = 0; k < n; k++) {
				int64_t part = dose_part(whole, n, k);
				assert_true(part >= whole / n && part < whole / n + n);
				sum += part;
			}
			assert_int_equal(sum, whole);
		}
	}
	check_int(dose_part(100, 3, 0), 33, "first");
	check_int(dose_part(100, 3, 2), 34, "the last takes the rest");
}

static void a_ring_is_never_less_than_nothing(void **state)
{
	(void)state;
	check_close(dose_ring_mm2(1000000, 0), 3141592.653590, 1e-5, "a disc");
	check_close(dose_ring_mm2(1000000, -5), 3141592.653590, 1e-5, "no hole");
	check_close(dose_ring_mm2(1000000, 1000000), 0, 0, "nothing between");
	check_close(dose_ring_mm2(500000, 1000000), 0, 0, "inside out");
	check_close(dose_ring_mm2(-500000, -600000), 0, 0, "below nothing");
	double before = 0;
	for (int64_t outer_um = 300000; outer_um < 6000000; outer_um += 100003) {
		double ring_mm2 = dose_ring_mm2(outer_um, 300000);
		assert_true(ring_mm2 >= before);
		before = ring_mm2;
	}
	/* 6 ft out and 1 ft bare, 2 lb N to 1,000 sq ft, 10-10-10; 10 g N a square metre, 21-0-0 */
	double ring_sqft = dose_ring_mm2(1828800, 304800) / 92903.04;
	check_close(ring_sqft * 2 / 1000 / 0.10, 2.1991, 1e-4, "lb");
	double ring_m2 = dose_ring_mm2(1828800, 304800) / 1e6;
	check_close(ring_m2, 10.2152, 1e-4, "m2");
	check_close(ring_m2 * 0.010 / 0.21, 0.4864, 1e-4, "kg");
}

/* --- rows of rules --- */

static const struct feed_row pound_per_inch = {.rule = "pound-per-inch",
	.region = "",
	.rate_mg = POUND_MG,
	.basis = FEED_PER_INCH,
	.period = PERIOD_UNSTATED,
	.condition = "",
	.source = "common-practice",
	.sure = KNOWN_COMMON_PRACTICE};
static const struct feed_row tenth_per_inch = {.rule = "n-per-inch",
	.region = "Colorado",
	.of_nitrogen = true,
	.rate_mg = POUND_MG / 10,
	.basis = FEED_PER_INCH,
	.period = PERIOD_YEAR,
	.measured_at_um = {304800, true},
	.condition = "steer by shoot growth",
	.source = "csu",
	.sure = KNOWN_READ};
static const struct feed_row ounce_per_year = {.rule = "oz-per-year",
	.region = "Utah",
	.of_nitrogen = true,
	.rate_mg = OUNCE_MG,
	.basis = FEED_PER_AGE_YEAR,
	.period = PERIOD_YEAR,
	.cap_mg = {8 * OUNCE_MG, true},
	.cap_source = "usu",
	.condition = "",
	.source = "usu",
	.sure = KNOWN_READ};
static const struct feed_row mature_pound = {.rule = "mature-pound",
	.region = "San Diego",
	.of_nitrogen = true,
	.rate_mg = POUND_MG,
	.basis = FEED_PER_TREE,
	.period = PERIOD_YEAR,
	.splits = {3, true},
	.age_from = {5, true},
	.condition = "",
	.source = "sd",
	.sure = KNOWN_READ};
static const struct feed_row ten_by_age = {.rule = "10-10-10-by-age",
	.region = "Pennsylvania",
	.product_n_mpct = {10000, true},
	.rate_mg = POUND_MG / 2,
	.basis = FEED_PER_AGE_YEAR,
	.period = PERIOD_YEAR,
	.cap_mg = {5 * POUND_MG, true},
	.cap_source = "psu",
	.condition = "",
	.source = "psu",
	.sure = KNOWN_READ};
static const struct feed_row six_thrice = {.rule = "6-6-6-growers",
	.region = "growers' society",
	.product_n_mpct = {6000, true},
	.rate_mg = POUND_MG,
	.basis = FEED_PER_TREE,
	.period = PERIOD_FEED,
	.splits = {3, true},
	.condition = "",
	.source = "crfg",
	.sure = KNOWN_SECOND_HAND};

static const struct product ten = {.name = "10-10-10", .n_mpct = {10000, true}};
static const struct product sulfate = {.name = "ammonium sulfate", .n_mpct = {21000, true}};
static const struct product urea = {.name = "urea", .n_mpct = {46000, true}};
static const struct product potash = {.name = "potash", .n_mpct = {0, true}};
static const struct product unread = {.name = "old bag"};

static struct trunk trunk_of_mm(int64_t mm)
{
	return (struct trunk){
		.known = true, .diameter_um = mm * 1000, .stems = 1, .word_given = true};
}

static struct species kind_with(const struct feed_row *rows, int32_t count)
{
	return (struct species){
		.key = "apple", .name = "apple", .feeds = rows, .feed_count = count};
}

static const struct dose *row_named(const struct dose *doses, int32_t count, const char *rule)
{
	for (int32_t at = 0; at < count; at++)
		if (strcmp(doses[at].rule, rule) == 0)
			return &doses[at];
	return NULL;
}

struct dose_case {
	const char *name;
	const struct feed_row *row;
	const struct product *product;
	int32_t age;      /* below 0: not known */
	int64_t trunk_mm; /* 0: not known */
	double nitrogen;  /* lb; below 0: not known */
	double mass;      /* lb; below 0: not known; below -1: the rule gives no row */
	bool capped;
	double per_split; /* lb; 0 none */
};

static const struct dose_case dose_cases[] = {
	{"a pound an inch of 10-10-10", &pound_per_inch, &ten, 9, 191, 0.75197, 7.5197, false, 0},
	{"a pound an inch of urea", &pound_per_inch, &urea, 9, 254, 4.6, 10, false, 0},
	{"a pound an inch of an unread bag", &pound_per_inch, &unread, 9, 254, -1, 10, false, 0},
	{"a pound an inch of nothing named", &pound_per_inch, NULL, 9, 254, -1, 10, false, 0},
	{"a pound an inch of potash", &pound_per_inch, &potash, 9, 254, 0, 10, false, 0},
	{"a pound an inch without a trunk", &pound_per_inch, &ten, 9, 0, -1, -2, false, 0},
	{"a tenth an inch as sulfate", &tenth_per_inch, &sulfate, 9, 254, 1, 4.7619, false, 0},
	{"a tenth an inch, no product", &tenth_per_inch, NULL, 9, 254, 1, -1, false, 0},
	{"a tenth an inch, unread bag", &tenth_per_inch, &unread, 9, 254, 1, -1, false, 0},
	{"a tenth an inch as potash", &tenth_per_inch, &potash, 9, 254, 1, -1, false, 0},
	{"an ounce a year of age", &ounce_per_year, &ten, 5, 0, 0.3125, 3.125, false, 0},
	{"an ounce a year, the eighth", &ounce_per_year, &ten, 8, 0, 0.5, 5, false, 0},
	{"an ounce a year, capped", &ounce_per_year, &ten, 9, 0, 0.5, 5, true, 0},
	{"an ounce a year, first year", &ounce_per_year, &ten, 0, 0, -1, -2, false, 0},
	{"an ounce a year, age not known", &ounce_per_year, &ten, -1, 254, -1, -2, false, 0},
	{"a mature tree in three", &mature_pound, &ten, 5, 0, 1, 10, false, 3.33333},
	{"a mature tree, no product", &mature_pound, NULL, 5, 0, 1, -1, false, 0},
	{"not yet mature", &mature_pound, &ten, 4, 0, -1, -2, false, 0},
	{"mature, age not known", &mature_pound, &ten, -1, 0, -1, -2, false, 0},
	{"a rule's product, the same in hand", &ten_by_age, &ten, 4, 0, 0.2, 2, false, 0},
	{"a rule's product, another in hand", &ten_by_age, &sulfate, 4, 0, 0.2, 0.95238, false, 0},
	{"a rule's product, none in hand", &ten_by_age, NULL, 4, 0, 0.2, -1, false, 0},
	{"a rule's product, capped as product", &ten_by_age, &ten, 30, 0, 0.5, 5, true, 0},
	{"per feed stays one feed", &six_thrice, &ten, -1, 0, 0.06, 0.6, false, 0},
};

static void dose_case_run(const void *one)
{
	const struct dose_case *at = one;
	struct species species = kind_with(at->row, 1);
	struct dose_inputs inputs = {.species = &species,
		.trunk = at->trunk_mm > 0 ? trunk_of_mm(at->trunk_mm) : (struct trunk){0},
		.age_years = {at->age, at->age >= 0},
		.product = at->product};
	struct dose *doses;
	int32_t count = dose_rows(&inputs, made(), &doses);
	check_int(count, at->mass < -1.5 ? 0 : 1, "rows");
	if (count == 0)
		return;
	check_text(doses[0].rule, at->row->rule, "rule");
	check_int(doses[0].nitrogen_mg.known, at->nitrogen >= 0, "nitrogen known");
	check_int(doses[0].product_mg.known, at->mass >= 0, "product known");
	if (at->nitrogen >= 0)
		check_close(
			(double)doses[0].nitrogen_mg.value / 453592.37, at->nitrogen, 2e-4, "N");
	if (at->mass >= 0)
		check_close(
			(double)doses[0].product_mg.value / 453592.37, at->mass, 2e-4, "product");
	check_int(doses[0].capped, at->capped, "capped");
	if (at->capped)
		check_text(doses[0].capped_by, at->row->cap_source, "whose cap");
	check_int(doses[0].per_split_mg.known, at->per_split > 0, "split");
	check_close((double)doses[0].per_split_mg.value / 453592.37, at->per_split, 2e-4, "split");
	check_int(doses[0].period, at->row->period, "period");
	assert_true(strlen(doses[0].remark) < sizeof doses[0].remark);
}

/* --- what is said beside it --- */

struct remark_case {
	const char *name;
	const struct product *product;
	int64_t trunk_mm;
	int32_t age;
	const char *says[5];
	const char *never; /* "" nothing */
};

static const struct remark_case remark_cases[] = {
	{"nothing in hand", NULL, 254, 10, {"no product named", NULL}, "above"},
	{"an unread bag", &unread, 254, 10, {"old bag is not known", NULL}, "above"},
	{"within what is published", &ten, 127, 10, {"carries 8 oz of actual N", NULL}, "above"},
	{"above the lowest", &ten, 191, 10,
		{"carries 12 oz of actual N",
			"above the lowest published rate for this tree, 8 oz a year (Utah)",
			"to 1 lb (San Diego)", "5 lb to 10 lb of this product"},
		"above 1 lb N"},
	{"above all and above a pound", &sulfate, 254, 10,
		{"carries 2 lb 2 oz", "above the published rate", "San Diego",
			"above 1 lb N a tree a year, which 4 lb 12 oz carries"},
		"lowest"},
	{"exactly a pound is not above it", &ten, 254, 10, {"carries 1 lb", NULL}, "above 1 lb"},
};

static void remark_case_run(const void *one)
{
	const struct remark_case *at = one;
	const struct feed_row rows[] = {
		pound_per_inch, tenth_per_inch, ounce_per_year, mature_pound};
	struct species species = kind_with(rows, 4);
	struct dose_inputs inputs = {.species = &species,
		.trunk = trunk_of_mm(at->trunk_mm),
		.age_years = known_i32(at->age),
		.product = at->product,
		.units = UNITS_US};
	struct dose *doses;
	int32_t count = dose_rows(&inputs, made(), &doses);
	const struct dose *pound = row_named(doses, count, "pound-per-inch");
	assert_non_null(pound);
	for (int32_t part = 0; part < 5 && at->says[part] != NULL; part++)
		check_has(pound->remark, at->says[part], at->name);
	if (at->never[0] != '\0' && strstr(pound->remark, at->never) != NULL)
		fail_msg("'%s' is said in '%s'", at->never, pound->remark);
}

static void rules_not_read_are_compared_with_only_where_none_was(void **state)
{
	(void)state;
	const struct feed_row rows[] = {pound_per_inch, six_thrice};
	struct species species = kind_with(rows, 2);
	struct dose_inputs inputs = {
		.species = &species, .trunk = trunk_of_mm(127), .product = &ten, .units = UNITS_SI};
	struct dose *doses;
	int32_t count = dose_rows(&inputs, made(), &doses);
	check_int(count, 2, "rows");
	check_has(doses[0].remark,
		"above the published rate for this tree, 82 g a year (growers' society)",
		"three feeds of 6-6-6 a year");
	check_has(doses[0].remark, "816 g of this product", "their weight of 10-10-10");
}

static void the_trunk_is_said_where_it_matters(void **state)
{
	(void)state;
	struct species species = kind_with(&tenth_per_inch, 1);
	struct dose_inputs inputs = {
		.species = &species, .trunk = trunk_of_mm(120), .product = &ten, .units = UNITS_US};
	struct dose *doses;
	dose_rows(&inputs, made(), &doses);
	check_has(doses[0].remark, "here the height is not noted", "height");
	check_has(doses[0].remark, "steer by shoot growth", "condition");
	inputs.trunk.at_height_um = known_i64(1371600);
	inputs.trunk.stems = 3;
	dose_rows(&inputs, made(), &doses);
	check_has(doses[0].remark, "measures 12 in up, here it was 4 ft 6 in up", "height");
	check_has(doses[0].remark, "3 stems taken as one", "stems");
	inputs.trunk.at_height_um = known_i64(300000);
	dose_rows(&inputs, made(), &doses);
	assert_null(strstr(doses[0].remark, "measured"));
}

static void a_trunk_that_looks_like_a_girth_is_not_dosed_by_the_inch(void **state)
{
	(void)state;
	const struct feed_row rows[] = {pound_per_inch, tenth_per_inch, ounce_per_year};
	struct species species = kind_with(rows, 3);
	struct dose_inputs inputs = {.species = &species,
		.trunk = {.known = true, .diameter_um = 600000, .stems = 1, .unsaid_um = 600000},
		.age_years = known_i32(4),
		.product = &ten};
	struct dose *doses;
	check_int(dose_rows(&inputs, made(), &doses), 1, "only the row by age");
	check_text(doses[0].rule, "oz-per-year", "rule");
	inputs.trunk.unsaid_um = 0;
	check_int(dose_rows(&inputs, made(), &doses), 3, "the word settles it");
}

static void sixty_cm_round_is_seven_and_a_half_pounds(void **state)
{
	(void)state;
	struct species species = kind_with(&pound_per_inch, 1);
	struct dose_inputs inputs = {.species = &species, .product = &ten};
	inputs.trunk = (struct trunk){
		.known = true, .diameter_um = trunk_diameter_of_girth_um(600000), .stems = 1};
	struct dose *doses;
	check_int(dose_rows(&inputs, made(), &doses), 1, "rows");
	check_close((double)doses[0].product_mg.value / 453592.37, 7.5, 0.05, "lb of product");
	check_close((double)doses[0].nitrogen_mg.value / 453592.37, 0.75, 0.005, "lb of N");
	check_int(doses[0].period, PERIOD_UNSTATED, "how often is not stated");
}

static void a_tree_of_unknown_kind_has_the_common_rules(void **state)
{
	(void)state;
	const struct feed_row rows[] = {pound_per_inch, ounce_per_year};
	struct dose_inputs inputs = {.common = rows,
		.common_count = 2,
		.trunk = trunk_of_mm(100),
		.age_years = known_i32(3)};
	struct dose *doses;
	check_int(dose_rows(&inputs, made(), &doses), 2, "rows");
	inputs.common_count = 0;
	check_int(dose_rows(&inputs, made(), &doses), 0, "no rule, no row");
}

/* "10-10-10, three quarters of a pound to a pound a year of age", and with a cap of 8 to 10 lb. */
static void the_upper_end_of_a_range_is_kept(void **state)
{
	(void)state;
	struct feed_row row = {.rule = "by-age",
		.region = "",
		.condition = "",
		.product_n_mpct = known_i32(10000),
		.rate_mg = 3 * POUND_MG / 4,
		.rate_to_mg = known_i64(POUND_MG),
		.basis = FEED_PER_AGE_YEAR,
		.period = PERIOD_YEAR};
	struct species species = kind_with(&row, 1);
	struct dose_inputs inputs = {
		.species = &species, .age_years = known_i32(12), .product = &ten};
	struct dose *doses;

	dose_rows(&inputs, made(), &doses);
	check_close((double)doses[0].nitrogen_mg.value / POUND_MG, 0.9, 1e-4, "the lower end");
	check_close((double)doses[0].nitrogen_most_mg.value / POUND_MG, 1.2, 1e-4, "the upper");
	row.cap_mg = known_i64(8 * (int64_t)POUND_MG);
	row.cap_to_mg = known_i64(10 * (int64_t)POUND_MG);
	dose_rows(&inputs, made(), &doses);
	check_close((double)doses[0].nitrogen_mg.value / POUND_MG, 0.8, 1e-4, "at its cap");
	check_close((double)doses[0].nitrogen_most_mg.value / POUND_MG, 1.0, 1e-4, "at its most");
	row.rate_to_mg.known = false;
	row.cap_to_mg.known = false;
	dose_rows(&inputs, made(), &doses);
	check_int(doses[0].nitrogen_most_mg.known, false, "no range");
}

static void a_rule_for_all_kinds_says_when_it_passes_a_pound(void **state)
{
	(void)state;
	struct feed_row row = ounce_per_year;
	struct species species = kind_with(&row, 1);
	struct dose_inputs inputs = {.species = &species, .age_years = known_i32(20)};
	struct dose *doses;

	row.cap_mg.known = false;
	row.all_kinds = true;
	dose_rows(&inputs, made(), &doses);
	check_has(doses[0].remark, "above 1 lb N a tree a year", "remark");
	inputs.age_years = known_i32(16);
	dose_rows(&inputs, made(), &doses);
	assert_null(strstr(doses[0].remark, "above 1 lb"));
}

/* --- own rates --- */

static struct own_rate rate_of(const char *tree, const char *species, int64_t mg, const char *per)
{
	struct own_rate rate = {.nitrogen_mg = mg};
	snprintf(rate.tree_id, sizeof rate.tree_id, "%s", tree);
	snprintf(rate.species, sizeof rate.species, "%s", species);
	snprintf(rate.per, sizeof rate.per, "%s", per);
	return rate;
}

static void own_rates_stand_first_and_the_trees_own_before_the_kinds(void **state)
{
	(void)state;
	struct species species = kind_with(&ounce_per_year, 1);
	struct own_rate rates[] = {rate_of("", "apple", 20000, "inch"),
		rate_of("T1", "", 30000, "year-of-age"), rate_of("T1", "", 500000, "year"),
		rate_of("T1", "", 9000, "feed"), rate_of("T2", "", 1, "year"),
		rate_of("", "peach", 2, "year")};
	struct dose_inputs inputs = {.species = &species,
		.trunk = trunk_of_mm(254),
		.age_years = known_i32(6),
		.product = &ten,
		.rates = rates,
		.rate_count = 6,
		.tree_id = "T1"};
	struct dose *doses;
	check_int(dose_rows(&inputs, made(), &doses), 4, "rows");
	check_int(doses[0].nitrogen_mg.value, 180000, "by age");
	check_int(doses[0].product_mg.value, 1800000, "as product");
	check_int(doses[0].period, PERIOD_YEAR, "a year");
	check_has(doses[1].remark, "above 1 lb N", "said, not changed");
	check_int(doses[1].nitrogen_mg.value, 500000, "it stands");
	check_int(doses[2].period, PERIOD_FEED, "a feed");
	assert_null(doses[2].row);
	check_text(doses[3].rule, "oz-per-year", "then the almanac");
	inputs.tree_id = "T3";
	check_int(dose_rows(&inputs, made(), &doses), 2, "the kind's own");
	check_int(doses[0].nitrogen_mg.value, 200000, "by the inch");
	inputs.species = NULL;
	check_int(dose_rows(&inputs, made(), &doses), 0, "another tree of unknown kind");
}

static void a_thicker_or_older_tree_never_gets_less(void **state)
{
	(void)state;
	const struct feed_row rows[] = {tenth_per_inch, ounce_per_year};
	struct species species = kind_with(rows, 2);
	int64_t inch_before = 0;
	int64_t age_before = 0;
	for (int32_t step = 1; step < 40; step++) {
		struct dose_inputs inputs = {.species = &species,
			.trunk = trunk_of_mm(step * 11),
			.age_years = known_i32(step)};
		struct dose *doses;
		check_int(dose_rows(&inputs, made(), &doses), 2, "rows");
		assert_true(doses[0].nitrogen_mg.value > inch_before);
		assert_true(doses[1].nitrogen_mg.value >= age_before);
		assert_true(doses[1].nitrogen_mg.value <= ounce_per_year.cap_mg.value);
		inch_before = doses[0].nitrogen_mg.value;
		age_before = doses[1].nitrogen_mg.value;
	}
}

/* --- nitrogen of an entry --- */

static struct entry *feed(const char *product, int64_t grams)
{
	struct entry *entry = make_entry(KIND_FEED, "2026-03-01");
	if (product[0] != '\0')
		with_detail(entry, FIELD_PRODUCT, product);
	if (grams >= 0)
		with_amount(entry, exactly(DIMENSION_MASS, FIELD_PRODUCT_MASS, grams * 1000));
	return entry;
}

static void nitrogen_of_an_entry_is_stated_or_worked_out(void **state)
{
	(void)state;
	struct product products[] = {ten, unread, potash};
	products[0].cup_mg = known_i64(220000);
	struct entry *entry = feed("10-10-10", 1500);
	check_int(dose_nitrogen_of_entry(entry, products, 3).value, 150000, "by the product");
	with_amount(entry, exactly(DIMENSION_ANALYSIS, FIELD_ANALYSIS_N, 21000));
	check_int(dose_nitrogen_of_entry(entry, products, 3).value, 315000, "by its own analysis");
	with_amount(entry, exactly(DIMENSION_MASS, FIELD_NITROGEN, 99000));
	check_int(dose_nitrogen_of_entry(entry, products, 3).value, 99000, "as stated");
	assert_false(dose_nitrogen_of_entry(feed("old bag", 1500), products, 3).known);
	assert_false(dose_nitrogen_of_entry(feed("never heard of", 1500), products, 3).known);
	assert_false(dose_nitrogen_of_entry(feed("", 1500), products, 3).known);
	assert_false(dose_nitrogen_of_entry(feed("10-10-10", -1), products, 3).known);
	assert_true(dose_nitrogen_of_entry(feed("POTASH", 1500), products, 3).known);
	check_int(
		dose_nitrogen_of_entry(feed("POTASH", 1500), products, 3).value, 0, "no nitrogen");
	entry = with_amount(
		feed("10-10-10", -1), exactly(DIMENSION_VOLUME, FIELD_PRODUCT_VOLUME, 473176));
	check_int(dose_nitrogen_of_entry(entry, products, 3).value, 44000, "two cups");
	assert_false(dose_nitrogen_of_entry(entry, NULL, 0).known);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(product_and_nitrogen_are_each_others_way_back),
		cmocka_unit_test(nitrogen_in_products_of_the_shop),
		cmocka_unit_test(a_product_without_nitrogen_has_no_mass_for_it),
		cmocka_unit_test(parts_add_up_to_the_whole),
		cmocka_unit_test(a_ring_is_never_less_than_nothing),
		cmocka_unit_test(rules_not_read_are_compared_with_only_where_none_was),
		cmocka_unit_test(the_trunk_is_said_where_it_matters),
		cmocka_unit_test(a_trunk_that_looks_like_a_girth_is_not_dosed_by_the_inch),
		cmocka_unit_test(sixty_cm_round_is_seven_and_a_half_pounds),
		cmocka_unit_test(a_tree_of_unknown_kind_has_the_common_rules),
		cmocka_unit_test(the_upper_end_of_a_range_is_kept),
		cmocka_unit_test(a_rule_for_all_kinds_says_when_it_passes_a_pound),
		cmocka_unit_test(own_rates_stand_first_and_the_trees_own_before_the_kinds),
		cmocka_unit_test(a_thicker_or_older_tree_never_gets_less),
		cmocka_unit_test(nitrogen_of_an_entry_is_stated_or_worked_out),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("doses", dose_cases, dose_case_run);
	failed += RUN_CASES("a pound an inch", remark_cases, remark_case_run);
	return failed != 0;
}
