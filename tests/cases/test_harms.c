/* SPDX-License-Identifier: MIT */
/* How a wrong program does harm: each a test that tries to make it happen, by lines, questions,
 * reviews, doses and seasons, on both sides of the equator, and sees that it does not. */
#include "support/told.h"

#include "reckon/dose.h"
#include "reckon/water.h"

/* Every month of a year, with everything shown. */
static void check_reviews(struct garden *garden, int year, const char *const *never)
{
	for (int month = 1; month <= 12; month++) {
		char day[16];

		snprintf(day, sizeof day, "%d-%02d-15", year, month);
		garden_today(garden, day);
		const char *review = told_review(garden, true);
		for (const char *const *word = never; *word != NULL; word++)
			check_lacks(review, *word, day);
	}
}

/* The same, but for words of the grower's own, which stand as they were typed. */
static void check_reviews_but(
	struct garden *garden, int year, const char *const *never, const char *own)
{
	for (int month = 1; month <= 12; month++) {
		char day[16];

		snprintf(day, sizeof day, "%d-%02d-15", year, month);
		garden_today(garden, day);
		char *review = (char *)(uintptr_t)told_review(garden, true);
		char *rest = NULL;
		for (char *line = strtok_r(review, "\n", &rest); line != NULL;
			line = strtok_r(NULL, "\n", &rest))
			for (const char *const *word = never; *word != NULL; word++)
				if (strstr(line, own) == NULL)
					check_lacks(line, *word, day);
	}
}

/* The almanac's page of a kind. */
static const char *told_almanac(struct garden *garden, const char *kind)
{
	struct fault why = {0};
	struct told_page page;

	told_page_open(&page, garden);
	const struct almanac_question question = {.kind = kind};
	check_ok(
		print_almanac(&page.printer, garden->almanac, garden->yard, &question, &why), &why);
	return told_page_close(&page, garden);
}

/* Every line of these files that has one of the words has the other beside it. */
static void check_beside(const char *const *arguments, const char *beside)
{
	char *rest = NULL;
	struct spawned found = command_run(NULL, arguments);

	assert_true(found.status <= 1); /* 2: grep could not read */
	for (char *line = strtok_r(found.out, "\n", &rest); line != NULL;
		line = strtok_r(NULL, "\n", &rest))
		check_has(line, beside, "a caution");
	spawned_free(&found);
}

/* --- food that poisons --- */

/* White peaches, figs and Asian pears are not plain high-acid fruit: no way of keeping them in jars
 * stands anywhere without where to look it up. */
static void preserving_is_only_named_with_where_to_look(void **state)
{
	const char *arguments[] = {"grep", "-rniE", "canning|water bath|to bottle|in jars",
		"share/almanac/facts.csv", "share/almanac/work.csv", "src", NULL};

	(void)state;
	check_beside(arguments, "tested recipe");
}

/* What a picker of these kinds meets in a year, whatever is asked or shown: at most that white
 * flesh is frozen, and a tested recipe for the rest. No name, proved or not, changes that. */
static void no_name_of_a_fruit_brings_advice_on_jars(void **state)
{
	static const struct {
		const char *kind, *name;
	} fruits[] = {{"peach", "White Lady"}, {"peach", "Redhaven"}, {"peach", "Arctic Rose"},
		{"fig", "Celeste"}, {"asian_pear", "Hosui"}, {"persimmon", "Fuyu"}};
	static const char *const never[] = {
		"canning", "water bath", "bottling", "jars", "preserve", "pressure", NULL};

	(void)state;
	for (size_t i = 0; i < sizeof fruits / sizeof fruits[0]; i++) {
		struct garden garden;
		char trees[40];

		snprintf(trees, sizeof trees, "A1 %s 2010", fruits[i].kind);
		told(&garden, AT_HUMID, trees,
			"A1 picked 20 kg @ 2024-07-10 ; for jars|A1 picked 25 kg @ 2025-07-10 ; "
			"canned 12 quarts",
			"2026-06-25");
		garden_identify(&garden, "A1", "", fruits[i].name, "");
		check_reviews_but(&garden, 2026, never, "canned 12 quarts");
		for (const char *const *word = never; *word != NULL; word++) {
			check_lacks(told_answer(&garden, "A1 picked 9 kg @ 2026-07-01"), *word,
				"the answer to a pick");
			check_lacks(told_ask(&garden, "A1 picked 9 kg"), *word, "asked");
		}
		char *page = (char *)(uintptr_t)told_almanac(&garden, fruits[i].kind);
		char *rest = NULL;
		for (char *line = strtok_r(page, "\n", &rest); line != NULL;
			line = strtok_r(NULL, "\n", &rest))
			if (strstr(line, "canning") != NULL || strstr(line, "jars") != NULL)
				check_has(line, "tested recipe", "its page of the almanac");
		garden_free(&garden);
	}
}

static void no_pick_of_a_peach_or_fig_brings_advice_on_jars(void **state)
{
	static const char *const never[] = {"canning", "water bath", "jar", "bottle", NULL};
	struct garden garden;
	told(&garden, AT_HUMID, "A1 peach 2015;A2 fig 2015;A3 asian_pear 2015",
		"A1 picked 20 kg @ 2026-07-10 ; to can them|A2 picked 10 kg @ 2026-08-10|"
		"A3 picked 9 kg @ 2026-08-20",
		"2026-09-01");

	(void)state;
	garden_identify(&garden, "A1", "", "white peach", "");
	check_reviews(&garden, 2026, never);
	check_lacks(told_tree(&garden, "A1"), "canning", "its page");
	garden_free(&garden);
}

static void kernels_and_seeds_are_never_a_use(void **state)
{
	const char *arguments[] = {"grep", "-rniE",
		"(eat|edible|roast|use).{0,30}(kernel|stone|pip)s?\\b", "share/almanac/facts.csv",
		"share/almanac/cultivars.csv", NULL};
	struct spawned found = command_run(NULL, arguments);
	char *rest = NULL;

	(void)state;
	for (char *line = strtok_r(found.out, "\n", &rest); line != NULL;
		line = strtok_r(NULL, "\n", &rest)) {
		bool kept = strstr(line, "almond") != NULL || strstr(line, "poison") != NULL ||
			    strstr(line, "toxic") != NULL || strstr(line, "cyanide") != NULL ||
			    strstr(line, "never") != NULL || strstr(line, "caution") != NULL;
		if (!kept)
			print_message("%s\n", line);
		assert_true(kept);
	}
	spawned_free(&found);
}

/* A year of a tree whose kernels poison, whatever is logged of them: no use of them is ever named,
 * and the almanac's page of the kind says that they are no food. */
static void kernels_are_no_food_on_any_page(void **state)
{
	static const char *const kinds[] = {"apricot", "peach", "european_plum", "japanese_plum",
		"sweet_cherry", "sour_cherry", "loquat"};
	static const char *const never[] = {"kernel", "pips", "seeds are", "roast", "grind", NULL};

	(void)state;
	for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
		struct garden garden;
		char trees[40];

		snprintf(trees, sizeof trees, "A1 %s 2010", kinds[i]);
		told(&garden, AT_HUMID, trees,
			"A1 picked 20 kg @ 2025-06-10|A1 note cracked the stones, roasted kernels "
			"@ "
			"2025-06-11",
			"2026-01-15");
		check_reviews_but(&garden, 2026, never, "cracked the stones");
		const char *answer = told_ask(&garden, "A1 note kernels kept for baking");
		check_lacks(answer, "bake", "nothing beside the words");
		const char *page = told_almanac(&garden, kinds[i]);
		bool told_so = strstr(page, "kernels are not food") != NULL ||
			       strstr(page, "cyanide") != NULL || strstr(page, "poison") != NULL;
		if (!told_so)
			print_message("%s\n", page);
		assert_true(told_so);
		garden_free(&garden);
	}
}

/* Drops after raw manure: counted apart from what was picked, and told. */
static void windfalls_after_raw_manure_are_told_of(void **state)
{
	for (int south = 0; south < 2; south++) {
		struct garden garden;
		const struct log_case one = {.place = AT_COOL,
			.trees = "A1 apple 2010",
			.lines = "A1 fed bucket of fresh chicken manure @ 2026-08-01|"
				 "A1 picked 10 kg windfalls @ 2026-09-10",
			.today = "2026-09-12"};
		log_case_make(&garden, &one, south == 1);
		struct flags flags = log_case_flags(&garden);
		const struct flag *flag = log_case_find(&flags, "manure-interval");

		assert_non_null(flag);
		check_has(flag->says, "120", "fruit on the ground");
		garden_free(&garden);
	}
	(void)state;
}

/* --- sprays --- */

static void a_pick_inside_the_label_s_days_is_told_before_and_after(void **state)
{
	for (int south = 0; south < 2; south++) {
		struct garden garden;
		const struct log_case one = {.place = AT_HUMID,
			.trees = "A1 peach 2015",
			.lines = "A1 sprayed sulfur, 7 days to harvest @ 2026-07-01",
			.today = "2026-07-03"};
		log_case_make(&garden, &one, south == 1);
		struct flags flags = log_case_try(&garden, "A1", "A1 picked 5 kg");

		assert_non_null(log_case_find(&flags, "spray-interval"));
		garden_log(&garden, "A1 picked 5 kg");
		flags = log_case_flags(&garden);
		check_int(log_case_find(&flags, "spray-interval")->urgency, URGENCY_ACT, "act");
		garden_free(&garden);
	}
	(void)state;
}

/* A harvest that is due, not only one that is logged, waits for the label. */
static void a_harvest_that_nears_inside_the_label_s_days_is_told(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 loquat 2012",
		"A1 picked 5 kg @ 2024-04-20|A1 picked 6 kg @ 2025-04-22|"
		"A1 sprayed sulfur, 14 days to harvest @ 2026-04-12",
		"2026-04-14");
	struct flags flags = log_case_flags(&garden);

	(void)state;
	check_has(log_case_find(&flags, "pick-soon")->action, "No fruit before 26 April 2026",
		"before the first is picked");
	garden_free(&garden);
}

/* Open bloom and an insect killer: warned of when asked, and as long as bees can be spared it. */
static void an_insect_killer_on_open_bloom_is_told_before_and_after(void **state)
{
	for (int south = 0; south < 2; south++) {
		struct garden garden;
		const struct log_case one = {.place = AT_CONTINENTAL,
			.trees = "A1 apple 2012",
			.lines = "A1 full bloom @ 2026-04-25",
			.today = "2026-04-27"};
		log_case_make(&garden, &one, south == 1);
		struct flags flags = log_case_try(&garden, "A1", "A1 sprayed insecticide");
		const struct flag *flag = log_case_find(&flags, "spray-in-bloom");

		assert_non_null(flag);
		check_int(flag->urgency, URGENCY_ACT, "asked");
		check_has(flag->says, "bees", "why");
		check_has(flag->action, "label", "whose word counts");
		garden_log(&garden, "A1 sprayed for codling moth");
		flags = log_case_flags(&garden);
		assert_non_null(log_case_find(&flags, "spray-in-bloom"));
		garden_free(&garden);
	}
	(void)state;
}

/* No product and no rate stands in any table or text of the program. */
static void no_table_holds_a_product_or_a_rate(void **state)
{
	static const char sprays[] =
		"malathion|carbaryl|captan\\b|spinosad|imidacloprid|permethrin|"
		"myclobutanil|(tbsp|tablespoons?|teaspoons?|ounces?|fl oz|ml) "
		"(per|to a|in a|a) (gallon|gal|litre)";
	const char *arguments[] = {"grep", "-rniE", sprays, "share/almanac", "man", NULL};
	struct spawned found = command_run(NULL, arguments);

	(void)state;
	check_int(found.status, 1, "nothing found");
	check_text(found.out, "", "lines");
	spawned_free(&found);
}

/* No product and no rate comes from here: what was sprayed is what was typed. */
static void the_program_names_no_product_and_no_rate(void **state)
{
	static const char *const never[] = {"malathion", "carbaryl", "captan", "spinosad",
		"per gallon of water", "ml per litre", NULL};
	struct garden garden;
	told(&garden, AT_HUMID, "A1 peach 2015;A2 apple 2015",
		"A1 saw brown rot heavy @ 2026-06-20|A2 saw codling moth @ 2026-06-01|"
		"A1 sprayed sulfur, 7 days to harvest @ 2026-05-01",
		"2026-07-01");

	(void)state;
	check_reviews(&garden, 2027, never);
	garden_free(&garden);
}

/* --- falls --- */

static void nothing_is_ever_called_overdue(void **state)
{
	static const char *const never[] = {"verdue", "urgent", "immediately", "hurry", NULL};
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2005;A2 loquat 2005;A3 peach 2005",
		"A1 cut shape 10% of crown @ 2015-02-10|A1 cut shape 10% of crown @ 2016-02-10|"
		"A3 cut shape 30% of shoots @ 2015-02-20|A3 cut shape 30% of shoots @ 2016-02-20|"
		"A1 fed 1 kg 10-10-10 @ 2015-03-10|A1 fed 1 kg 10-10-10 @ 2016-03-10",
		"2026-01-10");

	(void)state;
	check_reviews(&garden, 2026, never);
	garden_free(&garden);
}

static void no_cut_is_asked_for_on_a_day_of_frost_storm_or_rain(void **state)
{
	static const char *const weather[] = {
		"frost -2 C", "storm", "rain 10 mm", "wind 60 km/h", "snow 5 cm"};

	(void)state;
	for (size_t i = 0; i < sizeof weather / sizeof weather[0]; i++) {
		struct garden garden;
		told(&garden, AT_WET_WINTER, "A1 apple 2005",
			"A1 cut shape 10% of crown @ 2025-02-10|"
			"A1 cut shape 10% of crown @ 2026-02-10",
			"2027-02-10");
		struct flags flags = log_case_flags(&garden);
		assert_non_null(log_case_find(&flags, "shape-cut-due"));
		garden_log(&garden, weather[i]);
		flags = log_case_flags(&garden);
		const struct flag *flag = log_case_find(&flags, "shape-cut-due");
		if (flag != NULL)
			check_has(flag->action, "Not today", weather[i]);
		garden_free(&garden);
	}
}

/* Whatever asks for a saw (a plan, disease to cut out, suckers), not in such weather. */
static void nothing_that_asks_for_a_cut_asks_for_it_on_such_a_day(void **state)
{
	static const char *const rules[] = {"plan-due", "sanitation-due", "suckers-standing"};
	static const char *const weather[] = {"frost -2 C", "storm", "rain 10 mm", "wind 60 km/h"};

	(void)state;
	for (size_t i = 0; i < sizeof weather / sizeof weather[0]; i++) {
		struct garden garden;
		told(&garden, AT_WET_WINTER, "A1 european_pear 2005",
			"A1 saw fire blight @ 2026-05-10|A1 saw suckers @ 2027-01-15|"
			"A1 plan cut shape 10% of crown @ 2027-01-20",
			"2027-01-20");
		garden_log(&garden, weather[i]);
		struct flags flags = log_case_flags(&garden);
		for (size_t r = 0; r < sizeof rules / sizeof rules[0]; r++) {
			const struct flag *flag = log_case_find(&flags, rules[r]);

			assert_non_null(flag);
			assert_true(text_starts(flag->action, "Not today: "));
		}
		garden_today(&garden, "2027-01-21");
		flags = log_case_flags(&garden);
		for (size_t r = 0; r < sizeof rules / sizeof rules[0]; r++)
			check_lacks(
				log_case_find(&flags, rules[r])->action, "Not today", "a day on");
		garden_free(&garden);
	}
}

/* Work on a ladder is never more than due, whatever day of the year. */
static void no_day_of_the_year_presses_for_a_ladder(void **state)
{
	static const char *const ladders[] = {"shape-cut-due", "plan-due", "sanitation-due",
		"suckers-standing", "thin-due", "pick-soon", "height-pace"};
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 apple 2005",
		"A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10|"
		"A1 thinned 60 fruit @ 2025-05-20|A1 thinned 60 fruit @ 2026-05-20|"
		"A1 saw fire blight @ 2026-05-10|A1 saw suckers @ 2026-06-15|"
		"A1 picked 20 kg @ 2025-09-10|A1 picked 22 kg @ 2026-09-12|"
		"A1 plan cut height to 10 ft @ 2027-02-10",
		"2027-01-01");

	(void)state;
	for (int32_t day = 0; day < 365; day += 3) {
		char today[16];
		struct date on = date_add_days(garden_day("2027-01-01"), day);

		garden_today(&garden, date_format(on, today));
		struct flags flags = log_case_flags(&garden);
		for (size_t i = 0; i < sizeof ladders / sizeof ladders[0]; i++) {
			const struct flag *flag = log_case_find(&flags, ladders[i]);

			if (flag != NULL)
				assert_true(flag->urgency != URGENCY_ACT);
		}
	}
	garden_free(&garden);
}

static void a_hazard_of_the_tree_stands_first(void **state)
{
	struct garden garden;
	struct fault why = {0};
	told(&garden, AT_WET_WINTER, "A1 apple 2005",
		"A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10",
		"2027-02-10");
	struct tree tree = garden_find(&garden, "A1");

	(void)state;
	snprintf(tree.hazard, sizeof tree.hazard, "power line through the top");
	check_ok(store_act_begin(garden.store, ACT_WORK, "hazard", &why), &why);
	check_ok(store_tree_save(garden.store, &tree, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct flags flags = log_case_flags(&garden);
	const char *action = log_case_find(&flags, "shape-cut-due")->action;
	assert_true(text_starts(action, "power line through the top"));
	assert_true(text_starts(told_tree(&garden, "A1"), "! power line"));
	garden_free(&garden);
}

/* --- gas, soil, quarantine --- */

static void bleach_never_stands_without_its_warning(void **state)
{
	const char *arguments[] = {"grep", "-rniE", "bleach", "src", "share", "man", NULL};

	(void)state;
	check_beside(arguments, "never");
}

static void land_called_an_old_orchard_is_to_be_tested(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2026-03-10", "A1 note old orchard land @ 2026-03-10",
		"2026-04-01");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "old-orchard-soil");

	(void)state;
	assert_non_null(flag);
	check_has(flag->action, "test", "have it tested");
	garden_free(&garden);
}

static void citrus_wood_that_leaves_is_to_be_checked_first(void **state)
{
	for (int south = 0; south < 2; south++) {
		struct garden garden;
		const struct log_case one = {.place = AT_HUMID,
			.trees = "A1 lemon 2010",
			.lines = "A1 note gave scions away to the club @ 2026-02-10",
			.today = "2026-02-12"};
		log_case_make(&garden, &one, south == 1);
		struct flags flags = log_case_flags(&garden);

		assert_non_null(log_case_find(&flags, "quarantine-check"));
		garden_free(&garden);
	}
	(void)state;
}

/* Scions, cuttings, a plant, in whichever words they leave, and whatever citrus it is. */
static void wood_of_any_citrus_that_leaves_hears_it_whatever_the_words(void **state)
{
	static const char *const kinds[] = {"lemon", "orange", "mandarin"};
	static const char *const lines[] = {"A1 note scion wood sent to a friend",
		"A1 note sold cuttings at the fair", "A1 cut shape 5% of crown ; gave budwood away",
		"A1 picked 2 kg ; gave scions away with them",
		"A1 note swapped a seedling with a neighbour"};

	(void)state;
	for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++)
		for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
			struct garden garden;
			char trees[40];

			snprintf(trees, sizeof trees, "A1 %s 2010", kinds[k]);
			told(&garden, AT_WET_WINTER, trees, "", "2026-03-12");
			struct flags flags = log_case_try(&garden, "A1", lines[i]);
			const struct flag *flag = log_case_find(&flags, "quarantine-check");
			if (flag == NULL)
				print_message("%s: %s\n", kinds[k], lines[i]);
			assert_non_null(flag);
			check_has(flag->action, "Ask your plant health authority before", "first");
			garden_log(&garden, lines[i]);
			flags = log_case_flags(&garden);
			assert_non_null(log_case_find(&flags, "quarantine-check"));
			garden_free(&garden);
		}
}

/* A graft is wood from or for elsewhere: said as it is typed. */
static void a_graft_hears_of_quarantine_as_it_is_typed(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 lemon 2010", "", "2026-03-12");

	(void)state;
	check_has(
		told_answer(&garden, "A1 grafted Meyer"), "under quarantine: check first", "said");
	garden_free(&garden);
}

/* --- wrong hemisphere, wrong family --- */

static void without_a_hemisphere_no_date_is_given(void **state)
{
	static const char *const kinds[] = {"apricot", "sweet_cherry", "apple", "loquat", "lemon"};

	(void)state;
	for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
		struct garden garden;
		char trees[40];

		snprintf(trees, sizeof trees, "A1 %s 2010", kinds[i]);
		told(&garden, AT_NOWHERE, trees, "A1 cut shape 10% of crown @ 2026-01-10",
			"2026-01-12");
		const char *answer = told_ask(&garden, "A1 cut shape 10% of crown");
		check_lacks(answer, "Next clear", kinds[i]);
		check_lacks(answer, "clear ", kinds[i]);
		check_lacks(told_tree(&garden, "A1"), "(almanac)", kinds[i]);
		struct flags flags = log_case_flags(&garden);
		for (int32_t f = 0; f < flags.count; f++) {
			assert_true(flags.items[f].urgency == URGENCY_NOTE);
			assert_false(flags.items[f].window_from.known);
		}
		garden_free(&garden);
	}
}

static void stone_fruit_is_not_cut_in_the_wet_cold_on_either_side(void **state)
{
	static const char *const kinds[] = {"apricot", "sweet_cherry", "cherry"};

	(void)state;
	for (int south = 0; south < 2; south++)
		for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
			struct garden garden;
			char trees[40];

			snprintf(trees, sizeof trees, "A1 %s 2010", kinds[i]);
			const struct log_case one = {.place = AT_COOL,
				.trees = trees,
				.lines = "",
				.today = "2026-01-15"};
			log_case_make(&garden, &one, south == 1);
			const char *answer = told_ask(&garden, "A1 cut shape 10% of crown");
			check_lacks(answer, "No rule speaks against it", kinds[i]);
			garden_free(&garden);
		}
}

/* --- overdose --- */

/* Every dose line carries its rule, and every amount says how often, or that it is not said. */
static void every_dose_shows_what_it_rests_on(void **state)
{
	static const char *const kinds[] = {"apple", "peach", "lemon", "fig", "walnut"};

	(void)state;
	for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
		struct garden garden;
		char trees[40];

		snprintf(trees, sizeof trees, "A1 %s 2010", kinds[i]);
		told(&garden, AT_HUMID, trees, "A1 girth 40 cm at 1 ft @ 2026-01-10", "2026-02-12");
		char *page = (char *)(uintptr_t)told_dose(&garden, "A1", NULL);
		char *rest = NULL;
		check_has(page, "trunk ", "the input");
		check_has(page, "Guidance, not an order", "whose word it is");
		for (char *line = strtok_r(page, "\n", &rest); line != NULL;
			line = strtok_r(NULL, "\n", &rest))
			if (strstr(line, "actual N") != NULL && line[2] >= '0' && line[2] <= '9')
				assert_true(strstr(line, " a year") != NULL ||
					    strstr(line, " a feed") != NULL ||
					    strstr(line, "how often is not said") != NULL);
		garden_free(&garden);
	}
}

static void a_thick_young_trunk_gives_no_dose_by_the_inch(void **state)
{
	struct garden garden;
	told(&garden, AT_HUMID, "A1 apple 2022", "A1 trunk 60 cm @ 2026-01-10", "2026-02-12");
	const char *page = told_dose(&garden, "A1", NULL);

	(void)state;
	check_has(page, "Is that a girth, or the diameter?", "asked");
	check_lacks(page, "per-inch", "nothing by the inch");
	garden_free(&garden);
}

/* --- a crop lost, a frosted tree cut --- */

static void bloom_wood_is_not_cut_unheard_on_either_side(void **state)
{
	for (int south = 0; south < 2; south++) {
		struct garden garden;
		const struct log_case one = {.place = AT_WET_WINTER,
			.trees = "A1 loquat 2012",
			.lines = "A1 picked 10 kg, last @ 2025-05-01|A1 picked 12 kg, last @ "
				 "2026-05-01",
			.today = "2026-10-05"};
		log_case_make(&garden, &one, south == 1);
		struct flags flags = log_case_try(&garden, "A1", "A1 cut shape 20% of crown");
		const struct flag *flag = log_case_find(&flags, "flower-wood");

		assert_non_null(flag);
		check_int(flag->urgency, URGENCY_ACT, "act");
		assert_true(flag->crop_at_risk_mg.known);
		garden_free(&garden);
	}
	(void)state;
}

static void a_frosted_lemon_hears_to_wait_for_growth(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 lemon 2010",
		"frost 24 F @ 2027-01-10|A1 saw frost damage heavy @ 2027-01-11", "2027-01-20");
	const char *answer = told_ask(&garden, "A1 cut shape 20% of crown");

	(void)state;
	check_has(answer, "frosted-wait", "by the rule for it, not by the season alone");
	check_has(answer, "growth", "until growth shows");
	garden_free(&garden);
}

/* --- false pattern --- */

static void a_gap_is_never_a_zero(void **state)
{
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2005",
		"A1 picked 40 kg @ 2020-09-20|A1 picked 42 kg @ 2022-09-20|"
		"A1 picked 41 kg @ 2024-09-20",
		"2025-12-01");
	struct season_report report = told_seasons(&garden, "A1");

	(void)state;
	for (int32_t year = 2021; year <= 2025; year += 2) {
		const struct season_line *line = told_year(&report, year);

		if (line == NULL)
			continue;
		check_int(line->season.state, SEASON_NOT_RECORDED, "a gap");
		assert_false(amount_sum_point(&line->season.picked).known);
	}
	struct flags flags = log_case_flags(&garden);
	check_silent(&flags, "alternate-on");
	check_silent(&flags, "alternate-off");
	check_silent(&flags, "yield-low");
	garden_free(&garden);
}

static void under_four_seasons_nothing_is_called_a_pattern(void **state)
{
	static const char *const never[] = {
		"biennial", "alternate", "light year", "heavy year", NULL};
	struct garden garden;
	told(&garden, AT_COOL, "A1 apple 2005",
		"A1 picked 80 kg @ 2023-09-20|A1 picked 4 kg @ 2024-09-20|"
		"A1 picked 80 kg @ 2025-09-20",
		"2025-12-01");

	(void)state;
	check_reviews(&garden, 2026, never);
	garden_free(&garden);
}

/* --- water by the wrong unit --- */

static void minutes_never_become_a_volume(void **state)
{
	static const char *const lines[] = {"A1 watered 35 min", "A1 watered 35 min drip",
		"A1 watered 35 min 6 emitters", "A1 watered 35 min 2 gal/h",
		"A1 watered 35 min daily"};

	(void)state;
	for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
		struct garden garden;
		told(&garden, AT_LITTLE, "A1 apricot 2012", lines[i], "2026-07-02");
		const struct dossier *dossier = garden_story(&garden, "A1");
		const struct entry *water =
			dossier_last(dossier, KIND_WATER, garden_day("2026-07-02"));

		assert_non_null(water);
		assert_false(water_volume_of_entry(water, NULL).known);
		garden_free(&garden);
	}
}

/* --- names and words --- */

static void a_guess_never_becomes_a_fact_by_being_saved(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "A1 loquat? 2012",
		"A1 picked 5 kg, last @ 2026-05-01|A1 cut shape 20% of crown @ 2026-10-05",
		"2026-10-06");

	(void)state;
	for (int turn = 0; turn < 3; turn++) {
		garden_look(&garden);
		check_int(garden_story(&garden, "A1")->kind.sure, SURE_SUSPECTED, "still a guess");
	}
	struct flags flags = log_case_flags(&garden);
	check_has(log_case_find(&flags, "flower-wood")->says, "This rests on a guess", "said");
	check_has(told_trees(&garden, false), "loquat?", "shown as one");
	garden_free(&garden);
}

static void the_words_survive_as_typed(void **state)
{
	static const char *const lines[] = {
		"A1 picked ~40lbs  ; they'd split, \xe2\x80\x9csad\xe2\x80\x9d",
		"A1 fed few handfuls b&b",
		"A1 cut shape 20% of crown ; leader, the one by the shed",
		"A1 saw N\xc3\xadspero leaves curling",
		"A1 picked 35 kg (8 x 2 x 2.4 kg)",
	};

	(void)state;
	for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
		struct garden garden;
		told(&garden, AT_WET_WINTER, "A1 peach 2012", "", "2026-07-06");
		garden_log(&garden, lines[i]);
		check_text(garden_story(&garden, "A1")->entries[0]->words, lines[i], "words");
		char *kept = garden_sql(&garden, "SELECT words FROM entry");
		assert_int_equal(strncmp(kept, lines[i], strlen(lines[i])), 0);
		free(kept);
		garden_free(&garden);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(preserving_is_only_named_with_where_to_look),
		cmocka_unit_test(no_name_of_a_fruit_brings_advice_on_jars),
		cmocka_unit_test(no_pick_of_a_peach_or_fig_brings_advice_on_jars),
		cmocka_unit_test(kernels_and_seeds_are_never_a_use),
		cmocka_unit_test(kernels_are_no_food_on_any_page),
		cmocka_unit_test(windfalls_after_raw_manure_are_told_of),
		cmocka_unit_test(a_pick_inside_the_label_s_days_is_told_before_and_after),
		cmocka_unit_test(a_harvest_that_nears_inside_the_label_s_days_is_told),
		cmocka_unit_test(an_insect_killer_on_open_bloom_is_told_before_and_after),
		cmocka_unit_test(no_table_holds_a_product_or_a_rate),
		cmocka_unit_test(the_program_names_no_product_and_no_rate),
		cmocka_unit_test(nothing_is_ever_called_overdue),
		cmocka_unit_test(no_cut_is_asked_for_on_a_day_of_frost_storm_or_rain),
		cmocka_unit_test(nothing_that_asks_for_a_cut_asks_for_it_on_such_a_day),
		cmocka_unit_test(no_day_of_the_year_presses_for_a_ladder),
		cmocka_unit_test(a_hazard_of_the_tree_stands_first),
		cmocka_unit_test(bleach_never_stands_without_its_warning),
		cmocka_unit_test(land_called_an_old_orchard_is_to_be_tested),
		cmocka_unit_test(citrus_wood_that_leaves_is_to_be_checked_first),
		cmocka_unit_test(wood_of_any_citrus_that_leaves_hears_it_whatever_the_words),
		cmocka_unit_test(a_graft_hears_of_quarantine_as_it_is_typed),
		cmocka_unit_test(without_a_hemisphere_no_date_is_given),
		cmocka_unit_test(stone_fruit_is_not_cut_in_the_wet_cold_on_either_side),
		cmocka_unit_test(every_dose_shows_what_it_rests_on),
		cmocka_unit_test(a_thick_young_trunk_gives_no_dose_by_the_inch),
		cmocka_unit_test(bloom_wood_is_not_cut_unheard_on_either_side),
		cmocka_unit_test(a_frosted_lemon_hears_to_wait_for_growth),
		cmocka_unit_test(a_gap_is_never_a_zero),
		cmocka_unit_test(under_four_seasons_nothing_is_called_a_pattern),
		cmocka_unit_test(minutes_never_become_a_volume),
		cmocka_unit_test(a_guess_never_becomes_a_fact_by_being_saved),
		cmocka_unit_test(the_words_survive_as_typed),
	};
	return cmocka_run_group_tests_name(
		       "harm that must not come from here", tests, NULL, NULL) != 0;
}
