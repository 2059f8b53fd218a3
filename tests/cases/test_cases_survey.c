/* SPDX-License-Identifier: MIT */
/* A community orchard counted twice, a season apart, by lines typed on the walk: the counts agree
 * and every change has its reason. The yard is invented. */
#include "support/told.h"

static const struct {
	char row;
	int count;
	const char *species;
	enum sure sure;
} orchard[] = {
	{'A', 22, "apple", SURE_CERTAIN},
	{'B', 5, "european_pear", SURE_CERTAIN},
	{'C', 10, "european_plum", SURE_CERTAIN},
	{'D', 3, "sweet_cherry", SURE_CERTAIN},
	{'E', 2, "quince", SURE_CERTAIN},
	{'F', 11, "apple", SURE_SUSPECTED},
	{'G', 9, "", SURE_UNKNOWN},
	{'H', 2, "", SURE_UNKNOWN},
};
enum { ROWS = sizeof orchard / sizeof orchard[0], TREES = 62 };

static void plant(struct garden *garden, const char *label, const char *species, enum sure sure,
	const char *day)
{
	struct fault why = {0};
	struct new_tree tree = {.sure_given = species[0] != '\0', .sure = sure};
	char id[ID_SIZE];

	snprintf(tree.tree.label, sizeof tree.tree.label, "%s", label);
	snprintf(tree.species, sizeof tree.species, "%s", species);
	snprintf(tree.spot, sizeof tree.spot, "%s", label);
	check_ok(date_span_parse(day, HEMISPHERE_NORTH, &tree.tree.planted, &why), &why);
	check_ok(work_tree_add(garden->yard, &tree, garden->asked, id, &why), &why);
	garden_look(garden);
}

/* Every tree that stands gets a line. */
static int32_t survey(struct garden *garden, const char *day)
{
	const struct neighbour *trees = NULL;
	int32_t count = 0;
	struct fault why = {0};
	char labels[TREES + 8][LABEL_SIZE];

	check_ok(yard_standing(garden->yard, &trees, &count, &why), &why);
	assert_true(count <= TREES + 8);
	for (int32_t i = 0; i < count; i++)
		memcpy(labels[i], trees[i].label, LABEL_SIZE);
	for (int32_t i = 0; i < count; i++) {
		char line[2 * LABEL_SIZE];

		snprintf(line, sizeof line, "%.40s note %s @ %s", labels[i],
			i % 4 == 0 ? "label can be read" : "no label", day);
		garden_log(garden, line);
	}
	return count;
}

static void make_orchard(struct garden *garden)
{
	told(garden, AT_COOL, "", "", "2026-08-10");
	for (int row = 0; row < ROWS; row++)
		for (int i = 1; i <= orchard[row].count; i++) {
			char label[LABEL_SIZE];

			snprintf(label, sizeof label, "%c%d", orchard[row].row, i);
			plant(garden, label, orchard[row].species, orchard[row].sure, "2011");
		}
	garden_log(garden, "H1 removed blackthorn, not a tree of the orchard @ 2026-08-09");
	garden_log(garden, "H2 died drought @ 2026-08-09");
}

static const char *then(struct garden *garden, const char *day)
{
	struct yard *yard = NULL;
	struct fault why = {0};
	struct told_page page;

	check_ok(yard_open(garden->store, garden->almanac, garden_day(day), garden->arena, &yard,
			 &why),
		&why);
	yard_look_back(yard);
	told_page_open(&page, garden);
	check_ok(print_standing(&page.printer, yard, &why), &why);
	return told_page_close(&page, garden);
}

static void the_second_count_agrees_with_the_first_and_each_change(void **state)
{
	struct garden garden;
	(void)state;

	make_orchard(&garden);
	check_int(survey(&garden, "2026-08-10"), TREES, "the first count");
	garden_today(&garden, "2027-08-09");
	garden_log(&garden, "C4 died honey fungus @ 2027-02-01");
	garden_log(&garden, "F2 removed split by the storm @ 2027-03-12");
	garden_log(&garden, "G3 moved to the hedge @ 2027-01-20");
	plant(&garden, "C11", "european_plum", SURE_CERTAIN, "2027-02-20");
	check_int(survey(&garden, "2027-08-09"), TREES - 2 + 1, "the second count");

	const char *page = then(&garden, "2026-08-10");
	check_has(page,
		"62 trees on 10 August 2026: 9 unknown, 22 apple, 11 apple?, 5 European pear, 10 "
		"European plum, 2 quince, 3 sweet cherry",
		"the first count, told a year later");
	check_has(page, "went  C4, 1 February 2027: honey fungus", "dead");
	check_has(page, "went  F2, 12 March 2027: ", "removed");
	check_has(page, "split by the storm", "with its reason");
	check_has(page, "moved G3 from G3 to hedge", "moved");
	check_has(page, "came  C11, planted 20 February 2027", "new");
	check_has(page, "62 and 1 that came, less 2 that went: 61 now", "the sum");
	check_has(then(&garden, "2027-08-09"), "61 trees on 9 August 2027", "the second count");
	check_has(then(&garden, "2026-08-01"), "64 trees on 1 August 2026",
		"with the two that were struck off");
	garden_free(&garden);
}

/* A year of no news says so. */
static void a_year_in_which_nothing_changed_has_the_same_count(void **state)
{
	struct garden garden;
	(void)state;

	make_orchard(&garden);
	garden_today(&garden, "2027-08-09");
	const char *page = then(&garden, "2026-08-10");
	check_has(page, "62 trees on 10 August 2026", "then");
	check_has(page, "nothing came or went since", "and now");
	garden_free(&garden);
}

/* The label is the place: its successor bears it again, and each stood in its own years. */
static void a_successor_bears_the_label_in_its_own_years(void **state)
{
	struct garden garden;
	(void)state;

	make_orchard(&garden);
	garden_today(&garden, "2028-08-09");
	garden_log(&garden, "C4 died honey fungus @ 2027-02-01");
	plant(&garden, "C4", "apple", SURE_CERTAIN, "2027-11-20");
	check_has(then(&garden, "2026-08-10"), "10 European plum", "a plum then");
	check_has(then(&garden, "2027-06-01"), "61 trees on 1 June 2027", "a gap");
	check_has(then(&garden, "2028-01-01"), "62 trees on 1 January 2028", "and its successor");
	check_has(then(&garden, "2028-01-01"), "23 apple", "an apple now");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_second_count_agrees_with_the_first_and_each_change),
		cmocka_unit_test(a_year_in_which_nothing_changed_has_the_same_count),
		cmocka_unit_test(a_successor_bears_the_label_in_its_own_years),
	};

	int failed = cmocka_run_group_tests_name("survey", tests, NULL, NULL);
	return failed != 0;
}
