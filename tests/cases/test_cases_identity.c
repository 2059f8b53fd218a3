/* SPDX-License-Identifier: MIT */
/* Which tree is this: as a grower told it, with what a good answer says and what it must not. The
 * yard is invented. */
#include "support/told.h"

/* --- a community orchard in eastern England, labels bleached: 62 living trees after a stray
 * blackthorn and a dead one were struck off the count --- */

static void plant_row(
	struct garden *garden, char row, int count, const char *species, enum sure sure)
{
	struct fault why = {0};

	for (int i = 1; i <= count; i++) {
		struct new_tree tree = {.sure_given = species[0] != '\0', .sure = sure};
		char id[ID_SIZE];

		snprintf(tree.tree.label, sizeof tree.tree.label, "%c%d", row, i);
		snprintf(tree.species, sizeof tree.species, "%s", species);
		check_ok(date_span_parse("2011", HEMISPHERE_NORTH, &tree.tree.planted, &why), &why);
		check_ok(work_tree_add(garden->yard, &tree, garden->asked, id, &why), &why);
	}
}

/* 22 apple, 5 pear, 10 plum, 3 cherry, 2 quince, 11 a fair guess, 9 no idea; and two that are no
 * trees of the count. */
static void community_orchard(struct garden *garden)
{
	told(garden, AT_COOL, "", "", "2026-08-10");
	plant_row(garden, 'A', 22, "apple", SURE_CERTAIN);
	plant_row(garden, 'B', 5, "european_pear", SURE_CERTAIN);
	plant_row(garden, 'C', 10, "european_plum", SURE_CERTAIN);
	plant_row(garden, 'D', 3, "sweet_cherry", SURE_CERTAIN);
	plant_row(garden, 'E', 2, "quince", SURE_CERTAIN);
	plant_row(garden, 'F', 11, "apple", SURE_SUSPECTED);
	plant_row(garden, 'G', 9, "", SURE_UNKNOWN);
	plant_row(garden, 'H', 2, "", SURE_UNKNOWN);
	garden_look(garden);
	garden_log(garden, "H1 removed blackthorn, not a tree of the orchard");
	garden_log(garden, "H2 died drought");
}

static void the_groups_add_up_and_the_labels_are_counted(void **state)
{
	static const char rows[] = "ABCDEFG";
	static const int counts[] = {22, 5, 10, 3, 2, 11, 9};
	struct garden garden;
	int unlabelled = 0;
	community_orchard(&garden);

	(void)state;
	for (int row = 0; row < 7; row++)
		for (int i = 1; i <= counts[row] && unlabelled < 46; i++, unlabelled++) {
			char line[40];

			snprintf(line, sizeof line, "%c%d note no label", rows[row], i);
			garden_log(&garden, line);
		}
	const char *page = told_trees(&garden, false);
	check_has(page,
		"62 trees: 22 apple, 5 European pear, 10 European plum, 3 sweet cherry, 2 quince, "
		"11 apple?, 9 unknown",
		"groups");
	check_has(page, "16 of 62 labelled (26 %)", "labels");
	garden_free(&garden);
}

static void the_dead_and_the_stray_stay_closed_with_a_reason(void **state)
{
	struct garden garden;
	community_orchard(&garden);
	const char *page = told_trees(&garden, true);

	(void)state;
	check_has(page, "blackthorn", "not a tree");
	check_has(page, "drought", "dead");
	check_has(page, "62 trees", "the count");
	garden_today(&garden, "2027-08-10");
	check_has(told_trees(&garden, false), "62 trees", "and next year's agrees");
	garden_free(&garden);
}

/* Apple and pear in winter; plum and cherry in summer, for silver leaf. */
static void each_group_has_its_own_season_for_the_saw(void **state)
{
	static const struct {
		const char *label;
		const char *day;
		bool wet;
	} cuts[] = {
		{"A1", "2027-01-15", false},
		{"B1", "2027-01-15", false},
		{"C1", "2027-01-15", true},
		{"D1", "2027-01-15", true},
		{"C1", "2027-06-20", false},
		{"D1", "2027-06-20", false},
	};
	struct garden garden;
	community_orchard(&garden);

	(void)state;
	for (size_t i = 0; i < sizeof cuts / sizeof cuts[0]; i++) {
		char line[80];

		snprintf(line, sizeof line, "%s cut thinning 10%% of crown @ %s", cuts[i].label,
			cuts[i].day);
		struct flags flags = log_case_try(&garden, cuts[i].label, line);
		bool told_wet = log_case_find(&flags, "cut-in-wet-season") != NULL;
		check_int(told_wet, cuts[i].wet, line);
	}
	garden_free(&garden);
}

/* Quince has its own rows, not the apple's; those that nobody read say so where they are told. */
static void a_quince_is_told_with_whence_its_dates_are(void **state)
{
	struct garden garden;
	community_orchard(&garden);
	const char *winter = told_ask(&garden, "E1 cut thinning 10% of crown @ 2027-01-15");
	const char *summer = told_ask(&garden, "E1 cut thinning 10% of crown @ 2027-06-20");
	const char *heading = told_ask(&garden, "E1 cut heading 10% of crown @ 2027-01-15");

	(void)state;
	check_has(winter, "[Royal Horticultural Society fruit advice, from memory]",
		"how sure it is");
	check_has(winter, "leave the tips", "its own habit");
	check_has(summer, "from memory]", "in summer too");
	check_has(heading, "quince", "a fruit at each tip");
	check_lacks(told_ask(&garden, "A1 cut thinning 10% of crown @ 2027-01-15"), "from memory",
		"an apple's is read");
	garden_free(&garden);
}

/* Kind and cultivar are held each with how sure; neither is asked for before a tree is kept. */
static void kind_and_cultivar_each_have_how_sure(void **state)
{
	struct garden garden;
	community_orchard(&garden);
	garden_identify(&garden, "A1", "", "Bramley", "");
	const struct dossier *dossier = garden_story(&garden, "A1");

	(void)state;
	check_int(dossier->kind.sure, SURE_CERTAIN, "an apple for sure");
	check_int(dossier->kind.cultivar_sure, SURE_SUSPECTED, "a Bramley perhaps");
	check_has(told_tree(&garden, "A1"), "A1  apple, Bramley?", "shown so");
	check_text(garden_story(&garden, "G1")->kind.cultivar, "", "none was asked for");
	garden_free(&garden);
}

static void an_unknown_tree_gets_no_date_but_find_out_first(void **state)
{
	static const char *const days[] = {"2027-01-15", "2027-06-20"};
	struct garden garden;
	community_orchard(&garden);

	(void)state;
	for (size_t i = 0; i < 2; i++) {
		char line[80];

		snprintf(line, sizeof line, "G1 cut shape 10%% of crown @ %s", days[i]);
		const char *answer = told_ask(&garden, line);
		check_has(answer, "stone or pip", "find out first");
		check_lacks(answer, "clear ", "no date");
		check_lacks(answer, "Next clear", "no date");
		check_lacks(answer, "No rule speaks", "no leave");
	}
	check_lacks(told_tree(&garden, "G1"), "clear for the saw", "no date on its page");
	garden_free(&garden);
}

static void a_guess_is_marked_where_a_date_rests_on_it(void **state)
{
	struct garden garden;
	community_orchard(&garden);
	const char *answer = told_ask(&garden, "F1 cut shape 10% of crown @ 2027-01-15");

	(void)state;
	check_has(answer, "without being sure", "said");
	check_has(answer, "clear that day", "a date all the same");
	check_has(answer, "every date and dose for it is that of this kind", "which rests on it");
	check_has(told_tree(&garden, "F1"), "apple?", "shown");
	garden_free(&garden);
}

/* Whatever goes by the kind says among its evidence that the kind is a guess; what was done or
 * typed is no guess. A certain one's says nothing of it. */
static void each_flag_that_rests_on_a_guess_says_so(void **state)
{
	static const char *const lines[] = {"F1 fed 60 lb 10-10-10 @ 2026-03-20",
		"F1 sprayed oil, 60 days to harvest @ 2026-08-01", "F1 picked 3 kg @ 2026-08-09",
		"A1 fed 60 lb 10-10-10 @ 2026-03-20", NULL};
	struct garden garden;
	int guesses = 0, typed = 0;
	community_orchard(&garden);

	(void)state;
	garden_log_all(&garden, lines);
	struct flags flags = log_case_flags(&garden);
	for (int32_t i = 0; i < flags.count; i++) {
		const struct flag *flag = &flags.items[i];
		bool marked = false;

		for (int32_t e = 0; e < flag->evidence_count; e++)
			marked = marked || strstr(flag->evidence[e], "rests on a guess") != NULL;
		if (strcmp(flag->label, "F1") == 0 && strcmp(flag->rule, "feed-over") == 0)
			guesses += marked;
		if (strcmp(flag->label, "F1") == 0 && strcmp(flag->rule, "spray-interval") == 0)
			typed += !marked;
		if (flag->label[0] == 'A')
			assert_false(marked);
	}
	check_int(guesses, 1, "the feed goes by the kind");
	check_int(typed, 1, "the spray goes by its label");
	garden_free(&garden);
}

/* The survey again, a season later, by entry lines: the counts agree, and what changed has a
 * reason and its old name. */
static void a_second_survey_agrees_with_the_first(void **state)
{
	static const char *const second[] = {"A1 note survey: label read, Bramley",
		"B1 died fire blight @ 2027-03-02", "G1 note survey: stone in the fruit", NULL};
	struct garden garden;
	struct fault why = {0};
	community_orchard(&garden);

	(void)state;
	check_has(told_trees(&garden, false), "62 trees", "the first survey");
	garden_today(&garden, "2027-08-10");
	garden_log_all(&garden, second);
	struct tree tree = garden_find(&garden, "G1");
	struct new_identity identity = {.species = "european_plum",
		.sure_given = true,
		.sure = SURE_SUSPECTED,
		.who = "the survey",
		.reason = "a stone in the fruit",
		.day = date_span_of(garden_day("2027-08-10"))};
	check_ok(work_identify(garden.yard, tree.id, &identity, garden.asked, &why), &why);
	tree = garden_find(&garden, "F1");
	identity.sure = SURE_CERTAIN;
	snprintf(identity.species, sizeof identity.species, "quince");
	snprintf(identity.reason, sizeof identity.reason, "fruit seen");
	check_ok(work_identify(garden.yard, tree.id, &identity, garden.asked, &why), &why);
	garden_look(&garden);
	check_has(told_trees(&garden, false),
		"61 trees: 22 apple, 4 European pear, 10 European plum, 3 sweet cherry, 3 quince, "
		"10 apple?, 1 European plum?, 8 unknown",
		"62, less one that died");
	check_has(told_trees(&garden, true), "fire blight", "with its reason");
	check_has(told_tree(&garden, "F1"), "was recorded as apple", "the old name");
	check_has(told_tree(&garden, "F1"), "fruit seen", "why it changed");
	check_has(told_tree(&garden, "G1"),
		"taken for European plum?, 10 August 2027, by the survey", "who says so");
	check_has(told_tree(&garden, "G1"), "a stone in the fruit", "and why");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_groups_add_up_and_the_labels_are_counted),
		cmocka_unit_test(the_dead_and_the_stray_stay_closed_with_a_reason),
		cmocka_unit_test(each_group_has_its_own_season_for_the_saw),
		cmocka_unit_test(a_quince_is_told_with_whence_its_dates_are),
		cmocka_unit_test(kind_and_cultivar_each_have_how_sure),
		cmocka_unit_test(an_unknown_tree_gets_no_date_but_find_out_first),
		cmocka_unit_test(a_guess_is_marked_where_a_date_rests_on_it),
		cmocka_unit_test(each_flag_that_rests_on_a_guess_says_so),
		cmocka_unit_test(a_second_survey_agrees_with_the_first),
	};
	return cmocka_run_group_tests_name("whose tree is this", tests, NULL, NULL) != 0;
}
