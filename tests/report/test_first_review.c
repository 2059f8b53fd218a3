/* SPDX-License-Identifier: MIT */
/* The first review of a yard only just typed in: sixty trees with label, kind and planting year,
 * and nothing else. Whatever the month, the side of the equator and the units, it stays within ten
 * lines, and nothing in it asks for work that nobody logged. */
#include "support/log_case.h"

#include "report/print.h"

enum { TREES = 60, LINES_MAX = 10, CLIMATES = 5 };

struct yard_case {
	const char *name;
	bool south;
	enum unit_system units;
	bool in_doubt; /* some kinds are names that fit two, some trees have none */
};
static const struct yard_case yards[] = {
	{"in_the_north_in_pounds_and_feet", false, UNITS_US, false},
	{"in_the_north_in_kilograms_and_metres", false, UNITS_SI, false},
	{"in_the_south_in_pounds_and_feet", true, UNITS_US, false},
	{"in_the_south_in_kilograms_and_metres", true, UNITS_SI, false},
	{"with_kinds_in_doubt_in_the_north", false, UNITS_US, true},
	{"with_kinds_in_doubt_in_the_south", true, UNITS_SI, true},
};

static const char *kind_by_dice(const struct almanac *almanac, struct dice *dice, bool in_doubt)
{
	static const char *const doubtful[] = {"plum", "cherry", "pear", ""};

	if (in_doubt && dice_between(dice, 0, 2) == 0)
		return doubtful[dice_between(dice, 0, 3)];
	int32_t last = almanac_species_count(almanac) - 1;
	return almanac_species_at(almanac, (int32_t)dice_between(dice, 0, last))->key;
}

static void type_in(struct garden *garden, const struct yard_case *one, enum log_place climate,
	struct dice *dice)
{
	struct place place;

	log_case_place(climate, one->south, &place);
	garden_make_at(garden, &place, "2026-11-24");
	garden->place.units = one->units;
	struct fault why = {0};
	check_ok(store_act_begin(garden->store, ACT_WORK, "units", &why), &why);
	check_ok(store_place_save(garden->store, &garden->place, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
	for (int i = 0; i < TREES; i++) {
		char label[8], year[8];

		snprintf(label, sizeof label, "%c%d", 'A' + i / 10, i % 10 + 1);
		snprintf(year, sizeof year, "%d", (int)dice_between(dice, 1990, 2026));
		garden_tree(garden, label, kind_by_dice(garden->almanac, dice, one->in_doubt), year,
			"");
	}
}

static void print_items(const struct review *review)
{
	for (int32_t i = 0; i < review->count; i++)
		print_error("%s %s %s: %s\n", urgency_key(review->items[i].flag.urgency),
			review->items[i].flag.rule, review->items[i].flag.label,
			review->items[i].flag.says);
}

static int32_t printed_lines(struct garden *garden, const struct review *review)
{
	struct fault why = {0};
	FILE *stream = tmpfile();
	int32_t count = 0;

	assert_non_null(stream);
	const struct printer printer = {
		.stream = stream, .format = FORMAT_TEXT, .width = 80, .units = garden->place.units};
	check_ok(print_review(&printer, review, garden->yard, false, &why), &why);
	rewind(stream);
	for (int byte = fgetc(stream); byte != EOF; byte = fgetc(stream))
		count += byte == '\n';
	fclose(stream);
	return count;
}

static void check_month(struct garden *garden, int month)
{
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct fault why = {0};
	char today[DATE_SIZE];

	snprintf(today, sizeof today, "2027-%02d-12", month);
	garden_today(garden, today);
	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	if (review.open > 0 || review.count > LINES_MAX) {
		print_error("%s:\n", today);
		print_items(&review);
	}
	check_int(review.open, 0, "what asks for work");
	/* by itself, before the notes are folded to one line */
	assert_in_range(review.count, 0, LINES_MAX);
	assert_in_range(printed_lines(garden, &review), 1, LINES_MAX);
}

static void check_yard(void **state)
{
	static const enum log_place climates[CLIMATES] = {
		AT_WET_WINTER, AT_COOL, AT_CONTINENTAL, AT_HUMID, AT_UNSAID};
	const struct yard_case *one = *state;
	struct dice dice = dice_start();

	for (int i = 0; i < CLIMATES; i++) {
		struct garden garden;

		type_in(&garden, one, climates[i], &dice);
		for (int month = 1; month <= 12; month++)
			check_month(&garden, month);
		garden_free(&garden);
	}
}

/* --- questions folded over a yard --- */

static void a_folded_line_lists_its_trees_for_who_asks_why(void **state)
{
	static const struct log_case told = {.place = AT_COOL,
		.trees = "A1 - 2012; A2 - 2012; A10 - 2012",
		.lines = "",
		.today = "2026-04-10"};
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	check_int(review.count, 1, "lines");
	check_text(review.items[0].flag.says, "kind not known: 3 trees", "says");
	check_int(review.items[0].flag.evidence_count, 1, "evidence");
	check_text(review.items[0].flag.evidence[0], "A1, A2, A10", "its trees");
	garden_free(&garden);
}

static void a_question_about_one_tree_keeps_what_it_rests_on(void **state)
{
	static const struct log_case told = {.place = AT_COOL,
		.trees = "A1 apple 2012; A2 apple 2012",
		.lines = "A2 saw label gone @ 2026-03-10",
		.today = "2026-04-10"};
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	check_int(review.count, 1, "lines");
	check_text(review.items[0].flag.label, "A2", "label");
	check_text(review.items[0].flag.says, "label gone or not to be read", "says");
	check_int(review.items[0].flag.evidence_count, 1, "evidence");
	check_text(review.items[0].flag.evidence[0], "as logged: A2 saw label gone @ 2026-03-10",
		"what it rests on");
	garden_free(&garden);
}

static void of_many_trees_the_rest_is_counted(void **state)
{
	struct log_case told = {.place = AT_COOL, .trees = "", .lines = "", .today = "2026-04-10"};
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	for (int i = 1; i <= 90; i++) {
		char label[8];

		snprintf(label, sizeof label, "T%d", i);
		garden_tree(&garden, label, "", "2012", "");
	}
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	check_int(review.items[0].trees, 90, "trees");
	check_has(review.items[0].flag.evidence[0], "T1, T2, T3", "the first");
	check_has(review.items[0].flag.evidence[0], " more", "the rest");
	garden_free(&garden);
}

int main(void)
{
	enum { YARDS = sizeof yards / sizeof yards[0] };
	const struct CMUnitTest folds[] = {
		cmocka_unit_test(a_folded_line_lists_its_trees_for_who_asks_why),
		cmocka_unit_test(a_question_about_one_tree_keeps_what_it_rests_on),
		cmocka_unit_test(of_many_trees_the_rest_is_counted),
	};
	struct CMUnitTest tests[YARDS];

	for (size_t i = 0; i < YARDS; i++)
		tests[i] = (struct CMUnitTest){.name = yards[i].name,
			.test_func = check_yard,
			.initial_state = (void *)(uintptr_t)&yards[i]};
	int failed = cmocka_run_group_tests_name("first review", tests, NULL, NULL);
	failed += cmocka_run_group_tests_name("folded lines", folds, NULL, NULL);
	return failed != 0;
}
