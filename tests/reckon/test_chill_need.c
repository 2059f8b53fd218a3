/* SPDX-License-Identifier: MIT */
/* What chill a kind is listed with, and which cultivar of it. */
#include "reckon/make.h"

#include "reckon/chill_need.h"

static struct fact_row row(const char *key, int64_t low, int64_t high, const char *text)
{
	return (struct fact_row){.key = key,
		.low = known_i64(low),
		.high = known_i64(high),
		.unit = "",
		.text = text,
		.source = "test"};
}

struct need_case {
	const char *name;
	const char *portions; /* words of the portions row; NULL there is none */
	const char *hours;
	const char *cultivar;
	int32_t count;
	bool first_portions;
	bool of_cultivar;
	int64_t least, most;
};
/* rows of 30 to 70 portions, 500 to 1200 hours */
static const struct need_case cases[] = {
	{"a_kind_s_span", "Lapins 35, Sam 70", "", "", 2, true, false, 30, 70},
	{"a_cultivar_s_own_figure", "Lapins 35, Sam 70", "", "Sam", 2, true, true, 70, 70},
	{"whatever_its_case", "Lapins 35, Sam 70", "", "lapins", 2, true, true, 35, 35},
	{"part_of_a_name_is_no_name", "Lapins 35, Sam 70", "", "am", 2, true, false, 30, 70},
	{"a_cultivar_that_is_not_listed", "Lapins 35, Sam 70", "", "Bing", 2, true, false, 30, 70},
	{"a_row_of_one_cultivar_is_its_own", "Golden Delicious", "", "Golden Delicious", 2, true,
		false, 30, 70},
	{"and_no_other_s", "Golden Delicious", "", "Gala", 1, false, false, 500, 1200},
	{"nor_that_of_a_tree_of_no_name", "Golden Delicious", "", "", 1, false, false, 500, 1200},
	{"hours_alone", NULL, "low-chill kinds 100 to 400", "", 1, false, false, 500, 1200},
	{"nothing_listed", NULL, NULL, "", 0, false, false, 0, 0},
};

static void check_need(const void *item)
{
	const struct need_case *one = item;
	struct fact_row rows[2];
	struct species species = {.key = "test", .name = "test", .facts = rows};
	struct tree_kind kind = {.species = &species};
	struct chill_need needs[CHILL_NEEDS_MAX];

	if (one->portions != NULL)
		rows[species.fact_count++] = row("chill-portions", 30, 70, one->portions);
	if (one->hours != NULL)
		rows[species.fact_count++] = row("chill-hours", 500, 1200, one->hours);
	snprintf(kind.cultivar, sizeof kind.cultivar, "%s", one->cultivar);
	check_int(chill_needs(&kind, needs), one->count, "needs");
	if (one->count == 0)
		return;
	check_int(needs[0].portions, one->first_portions, "portions come first");
	check_int(needs[0].of_cultivar, one->of_cultivar, "of the cultivar");
	check_int(needs[0].least, one->least, "least");
	check_int(needs[0].most, one->most, "most");
}

static void an_unknown_kind_needs_nothing_known(void **state)
{
	struct tree_kind kind = {.species = NULL};
	struct chill_need needs[CHILL_NEEDS_MAX];

	(void)state;
	check_int(chill_needs(&kind, needs), 0, "needs");
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(an_unknown_kind_needs_nothing_known)};
	int failed = RUN_CASES("chill needs", cases, check_need);

	return failed + cmocka_run_group_tests_name("unknown", tests, NULL, NULL) != 0;
}
