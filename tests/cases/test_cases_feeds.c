/* SPDX-License-Identifier: MIT */
/* Feeds that growers asked about: each with what a good answer says and what it must not. The yards
 * are invented; rates are those of the published sources the almanac names. */
#include "support/told.h"

#include "reckon/dose.h"

/* --- a pear of about eight years in Nebraska, one of two names, fine growth and never a blossom;
 * fruit-tree stakes now and then. What to feed? --- */

static void pear_that_never_bloomed(struct garden *garden)
{
	struct fault why = {0};
	char id[ID_SIZE];
	struct new_tree pear = {.sure_given = false};

	told(garden, AT_CONTINENTAL, "", "", "2026-03-20");
	snprintf(pear.tree.label, sizeof pear.tree.label, "P1");
	snprintf(pear.species, sizeof pear.species, "european_pear");
	snprintf(pear.cultivar, sizeof pear.cultivar, "Comice or Bosc");
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	check_ok(planting_read("about 8 years ago", &context, &pear.tree.planted, &why), &why);
	check_ok(work_tree_add(garden->yard, &pear, garden->asked, id, &why), &why);
	garden_look(garden);
	garden_log(garden, "P1 fed fruit stakes, now and then");
	garden_log(garden, "P1 height 10-12 ft");
	garden_log(garden, "P1 note never a blossom");
}

static void an_older_pear_gets_no_dose_before_its_shoots_are_measured(void **state)
{
	struct garden garden;
	pear_that_never_bloomed(&garden);
	const char *dose = told_dose(&garden, "P1", NULL);

	(void)state;
	check_has(dose, "log \"P1 shoots ...\" first", "asks for the shoots");
	check_has(dose, "Above 10 in no feed is due", "the limit");
	check_has(dose, "No feed for now", "hold off");
	check_lacks(dose, "actual N a year", "no amount");
	garden_free(&garden);
}

static void shoots_over_ten_inches_mean_no_feed_is_due(void **state)
{
	struct garden garden;
	pear_that_never_bloomed(&garden);
	garden_log(&garden, "P1 shoots 14 in @ 2026-03-01");
	const char *dose = told_dose(&garden, "P1", NULL);

	(void)state;
	check_has(dose, "No feed: its shoots grew 14 in; above 10 in none is due", "why");
	check_has(dose, "hold off a couple of years", "how long");
	check_lacks(dose, "actual N a year", "no amount");
	garden_log(&garden, "P1 shoots 6 in @ 2026-03-02");
	check_has(told_dose(&garden, "P1", NULL), "actual N a year", "short shoots: the rates");
	garden_free(&garden);
}

static void stakes_now_and_then_make_no_feed_due(void **state)
{
	struct garden garden;
	pear_that_never_bloomed(&garden);

	(void)state;
	for (int month = 1; month <= 12; month++) {
		char day[16];

		snprintf(day, sizeof day, "2027-%02d-15", month);
		garden_today(&garden, day);
		struct flags flags = log_case_flags(&garden);
		check_silent(&flags, "feed-due");
	}
	garden_free(&garden);
}

static void the_stakes_are_feeds_of_unknown_amount_and_day(void **state)
{
	struct garden garden;
	pear_that_never_bloomed(&garden);
	const struct dossier *dossier = garden_story(&garden, "P1");

	(void)state;
	const struct entry *feed = NULL;
	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (dossier->entries[i]->kind == KIND_FEED)
			feed = dossier->entries[i];
	assert_non_null(feed);
	assert_false(date_span_first(&feed->day).known);
	assert_false(dose_nitrogen_of_entry(feed, NULL, 0).known);
	check_text(feed->words, "P1 fed fruit stakes, now and then", "as typed");
	garden_free(&garden);
}

static void one_of_two_names_stays_two_candidates(void **state)
{
	struct garden garden;
	pear_that_never_bloomed(&garden);
	struct fault why = {0};
	struct identity *rows;
	int32_t count, kept = 0;
	struct tree pear = garden_find(&garden, "P1");

	(void)state;
	check_ok(store_identity_list(garden.store, pear.id, garden.arena, &rows, &count, &why),
		&why);
	for (int32_t i = 0; i < count; i++)
		if (rows[i].is_cultivar) {
			check_int(rows[i].sure, SURE_CANDIDATE, rows[i].name);
			assert_true(strcmp(rows[i].name, "Comice") == 0 ||
				    strcmp(rows[i].name, "Bosc") == 0);
			kept++;
		}
	check_int(kept, 2, "candidates");
	garden_free(&garden);
}

/* --- a small lemon on coastal sand in New Zealand, June; handfuls of blood and bone, a spoon of
 * Epsom salts, and again every three months --- */

static void planted_18_months_ago_in_june_is_december_of_the_year_before_last(void **state)
{
	struct garden garden;
	told_south(&garden, AT_COOL, "", "", "2026-06-03");
	struct line_context context = yard_line_context(garden.yard, &garden.names);
	struct date_span planted;
	struct fault why = {0};

	(void)state;
	check_ok(planting_read("18 months ago", &context, &planted, &why), &why);
	check_text(planted.text, "2024-12", "month, no day");
	garden_free(&garden);
}

static void handfuls_are_no_nitrogen(void **state)
{
	struct garden garden;
	told_south(&garden, AT_COOL, "A1 lemon 2024-12", "A1 fed few handfuls b&b @ 2026-06-02",
		"2026-06-03");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	const struct entry *feed = dossier_last(dossier, KIND_FEED, garden_day("2026-06-03"));
	assert_non_null(feed);
	assert_false(dose_nitrogen_of_entry(feed, NULL, 0).known);
	assert_null(entry_amount(feed, FIELD_PRODUCT_MASS));
	check_text(feed->words, "A1 fed few handfuls b&b @ 2026-06-02", "the words survive");
	struct flags flags = log_case_flags(&garden);
	check_silent(&flags, "feed-over");
	garden_free(&garden);
}

static void june_is_winter_there_and_a_feed_hears_it(void **state)
{
	struct garden garden;
	told_south(&garden, AT_COOL, "A1 lemon 2024-12", "", "2026-06-03");
	const char *june = told_ask(&garden, "A1 fed few handfuls b&b");
	const char *march = told_ask(&garden, "A1 fed few handfuls b&b @ 2027-03-03");
	const char *september = told_ask(&garden, "A1 fed few handfuls b&b @ 2026-09-03");

	(void)state;
	check_has(june, "feed-late", "winter");
	check_has(june, "frost takes the new growth", "why");
	check_has(march, "feed-late", "autumn");
	check_lacks(september, "feed-late", "spring");
	garden_free(&garden);
}

/* From June every three months falls in September, December, March and June: those in the cold
 * say so, and name when the almanac feeds. */
static void every_three_months_says_which_turns_fall_in_the_cold(void **state)
{
	static const struct {
		const char *last; /* feed logged */
		const char *day;
		bool cold;
	} turns[] = {
		{"2026-06-03", "2026-09-01", false},
		{"2026-09-01", "2026-11-30", false},
		{"2026-11-30", "2027-02-28", true},
		{"2026-12-05", "2027-03-05", true},
		{"2027-03-05", "2027-06-03", true},
	};

	(void)state;
	for (size_t i = 0; i < sizeof turns / sizeof turns[0]; i++) {
		struct garden garden;
		char line[80];

		told_south(&garden, AT_COOL, "A1 lemon 2024-12",
			"A1 plan fed blood and bone every 3 months @ 2026-06-03", "2026-06-03");
		garden_today(&garden, turns[i].day);
		snprintf(line, sizeof line, "A1 fed few handfuls b&b @ %s", turns[i].last);
		garden_log(&garden, line);
		struct flags flags = log_case_flags(&garden);
		const struct flag *flag = log_case_find(&flags, "plan-due");
		assert_non_null(flag);
		if (turns[i].cold) {
			check_has(flag->action, "Not then", turns[i].day);
			check_has(flag->action, "Good for feeding: 15 July to 31 December 2027",
				turns[i].day);
		} else {
			check_lacks(flag->action, "Not then", turns[i].day);
		}
		garden_free(&garden);
	}
}

/* The other published calendar stands beside, with whose it is. */
static void the_other_calendar_is_shown_where_a_turn_falls_in_the_cold(void **state)
{
	static const char other[] = "every 4 to 6 weeks from February to mid April";
	struct garden garden;
	told_south(&garden, AT_COOL, "A1 lemon 2024-12",
		"A1 plan fed blood and bone every 3 months @ 2026-06-03", "2026-06-03");
	const char *june = told_ask(&garden, "A1 fed few handfuls b&b");

	(void)state;
	check_has(june, other, "of a feed in the cold");
	check_has(june, "October to Christmas", "its second part");
	check_has(june, "potted lemons, New Zealand", "whose");
	garden_today(&garden, "2026-12-06");
	garden_log(&garden, "A1 fed few handfuls b&b @ 2026-12-05");
	garden_today(&garden, "2027-03-05");
	check_has(told_review(&garden, true), other, "of a plan");
	garden_today(&garden, "2027-08-30");
	garden_log(&garden, "A1 fed few handfuls b&b @ 2027-06-03");
	check_has(told_review(&garden, true), "Planned for", "September is due");
	garden_free(&garden);
}

/* Planted 18 months ago in June it is a year and a half old, to the month and no closer. */
static void planted_18_months_ago_is_shown_as_a_month(void **state)
{
	struct garden garden;
	struct fault why = {0};
	struct new_tree lemon = {.tree.label = "A1", .species = "lemon"};
	char id[ID_SIZE];
	told_south(&garden, AT_COOL, "", "", "2026-06-03");
	struct line_context context = yard_line_context(garden.yard, &garden.names);

	(void)state;
	check_ok(planting_read("18 months ago", &context, &lemon.tree.planted, &why), &why);
	check_ok(work_tree_add(garden.yard, &lemon, garden.asked, id, &why), &why);
	garden_look(&garden);
	check_has(told_tree(&garden, "A1"), "planted December 2024", "a month, no day");
	check_lacks(told_tree(&garden, "A1"), "1 December 2024", "no day");
	garden_free(&garden);
}

/* --- a bearing apple in Mississippi, a trunk of 5 in, 8-8-8 in the shed: the column's rule is in
 * 13-13-13 and says that 8-8-8 may be used instead --- */

static const struct dose *dose_by(const struct dose *doses, int32_t count, const char *rule)
{
	for (int32_t i = 0; i < count; i++)
		if (strcmp(doses[i].rule, rule) == 0)
			return &doses[i];
	return NULL;
}

static struct product *bag(struct garden *garden, int32_t n_percent)
{
	struct product *product = arena_alloc(garden->arena, sizeof *product);

	snprintf(product->name, sizeof product->name, "in the shed");
	product->n_mpct = known_i32(n_percent * 1000);
	product->elements = "";
	return product;
}

static int32_t doses_of(struct garden *garden, int32_t n_percent, struct dose **doses)
{
	const struct dossier *dossier = garden_story(garden, "A1");
	const struct dose_inputs inputs = {.species = dossier->kind.species,
		.trunk = dossier->trunk,
		.age_years = dossier->age_high_years,
		.product = bag(garden, n_percent),
		.tree_id = dossier->tree.id,
		.units = UNITS_US};
	return dose_rows(&inputs, garden->arena, doses);
}

static void check_dose(const struct dose *dose, double product_lb, double nitrogen_lb)
{
	const double mg = 453592.37;

	assert_non_null(dose);
	assert_true(dose->product_mg.known && dose->nitrogen_mg.known);
	check_close((double)dose->product_mg.value, product_lb * mg, 0.002 * product_lb * mg,
		"product");
	check_close((double)dose->nitrogen_mg.value, nitrogen_lb * mg, 0.002 * nitrogen_lb * mg,
		"nitrogen");
}

static void trunk_of_five_inches(struct garden *garden)
{
	told(garden, AT_HUMID, "A1 apple 2010", "A1 diameter 5 in @ 2026-11-01", "2026-11-20");
}

static void the_swap_of_bags_is_by_nitrogen_not_by_the_pound(void **state)
{
	struct garden garden;
	trunk_of_five_inches(&garden);
	struct dose *doses;

	(void)state;
	int32_t count = doses_of(&garden, 13, &doses);
	check_dose(dose_by(doses, count, "13-per-inch-mississippi-old"), 10, 1.3);
	check_dose(dose_by(doses, count, "n-per-inch-colorado"), 3.846, 0.5);
	count = doses_of(&garden, 10, &doses);
	check_dose(dose_by(doses, count, "13-per-inch-mississippi-old"), 13, 1.3);
	count = doses_of(&garden, 8, &doses);
	check_dose(dose_by(doses, count, "13-per-inch-mississippi-old"), 16.25, 1.3);
	check_dose(dose_by(doses, count, "n-per-inch-colorado"), 6.25, 0.5);
	garden_free(&garden);
}

/* No rule offers ten pounds of 8-8-8 in the place of ten of 13-13-13, whose nitrogen is more. */
static void ten_pounds_of_8_8_8_are_never_said_to_be_the_same(void **state)
{
	struct garden garden;
	trunk_of_five_inches(&garden);
	struct dose *doses;
	int32_t count = doses_of(&garden, 8, &doses);

	(void)state;
	for (int32_t i = 0; i < count; i++)
		if (doses[i].product_mg.known && doses[i].nitrogen_mg.known)
			check_close((double)doses[i].nitrogen_mg.value,
				0.08 * (double)doses[i].product_mg.value,
				0.001 * (double)doses[i].product_mg.value, doses[i].rule);
	garden_free(&garden);
}

static void each_rule_says_whose_it_is_and_where_it_measures(void **state)
{
	struct garden garden;
	trunk_of_five_inches(&garden);
	struct dose *doses;

	(void)state;
	int32_t count = doses_of(&garden, 8, &doses);
	const struct dose *column = dose_by(doses, count, "13-per-inch-mississippi-old");
	const struct dose *ceiling = dose_by(doses, count, "n-per-inch-colorado");
	check_text(column->region, "Mississippi", "region");
	check_text(ceiling->region, "Colorado", "region");
	check_int(column->row->measured_at_um.value, 0, "just above the soil");
	check_int(ceiling->row->measured_at_um.value, 304800, "1 ft up");
	const char *page = told_dose(&garden, "A1", bag(&garden, 8));
	check_has(page, "just above the soil, here the height is not noted", "the column");
	check_has(page, "the rule measures 12 in up", "the ceiling");
	check_has(page, "more than double the Colorado rate", "2.6 times is not kept silent");
	check_has(page, "steer by shoot growth", "only where growth was short");
	garden_free(&garden);
}

/* --- a pound an inch, by a tape round the trunk --- */

static void a_pound_an_inch_names_the_nitrogen_it_carries(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 apple 2010", "A1 girth 60 cm @ 2026-11-01", "2026-11-20");
	struct dose *doses;

	(void)state;
	int32_t count = doses_of(&garden, 10, &doses);
	const struct dossier *dossier = garden_story(&garden, "A1");
	check_close((double)dossier->trunk.diameter_um / 25400.0, 7.52, 0.01, "60 cm round, in");
	check_dose(dose_by(doses, count, "pound-per-inch"), 7.52, 0.752);
	check_int(dose_by(doses, count, "pound-per-inch")->period, PERIOD_UNSTATED, "how often");
	garden_free(&garden);
}

static void a_trunk_of_60_cm_on_a_young_tree_is_asked_not_dosed(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 apple 2022", "A1 trunk 60 cm @ 2026-11-01", "2026-11-20");
	struct dose *doses;

	(void)state;
	int32_t count = doses_of(&garden, 10, &doses);
	assert_null(dose_by(doses, count, "pound-per-inch"));
	assert_null(dose_by(doses, count, "n-per-inch-colorado"));
	struct flags flags = log_case_flags(&garden);
	assert_non_null(log_case_find(&flags, "girth-or-diameter"));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_older_pear_gets_no_dose_before_its_shoots_are_measured),
		cmocka_unit_test(shoots_over_ten_inches_mean_no_feed_is_due),
		cmocka_unit_test(stakes_now_and_then_make_no_feed_due),
		cmocka_unit_test(the_stakes_are_feeds_of_unknown_amount_and_day),
		cmocka_unit_test(one_of_two_names_stays_two_candidates),
		cmocka_unit_test(planted_18_months_ago_in_june_is_december_of_the_year_before_last),
		cmocka_unit_test(handfuls_are_no_nitrogen),
		cmocka_unit_test(june_is_winter_there_and_a_feed_hears_it),
		cmocka_unit_test(every_three_months_says_which_turns_fall_in_the_cold),
		cmocka_unit_test(the_other_calendar_is_shown_where_a_turn_falls_in_the_cold),
		cmocka_unit_test(planted_18_months_ago_is_shown_as_a_month),
		cmocka_unit_test(the_swap_of_bags_is_by_nitrogen_not_by_the_pound),
		cmocka_unit_test(ten_pounds_of_8_8_8_are_never_said_to_be_the_same),
		cmocka_unit_test(each_rule_says_whose_it_is_and_where_it_measures),
		cmocka_unit_test(a_pound_an_inch_names_the_nitrogen_it_carries),
		cmocka_unit_test(a_trunk_of_60_cm_on_a_young_tree_is_asked_not_dosed),
	};
	return cmocka_run_group_tests_name("feeds as growers told them", tests, NULL, NULL) != 0;
}
