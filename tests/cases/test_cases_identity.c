/* SPDX-License-Identifier: MIT */
/* Which tree is this, when was it planted, and who stands with whom: as growers told it, each with
 * what a good answer says and what it must not. The yards are invented. */
#include "support/told.h"

/* --- a small apple in South Africa, planted "a year or two ago", too deep: the union is under the
 * soil, and the owner thinks of tugging it up --- */

static void a_year_or_two_ago_is_a_span_of_years_never_a_day(void **state)
{
	static const struct {
		const char *said;
		int low, high;
	} spans[] = {
		{"a year or two ago", 2024, 2025},
		{"1-3 years ago", 2023, 2025},
		{"perhaps 1 to 3 years ago", 2023, 2025},
	};

	(void)state;
	for (size_t i = 0; i < sizeof spans / sizeof spans[0]; i++) {
		struct garden garden;
		struct date_span planted;
		told_south(&garden, AT_WET_WINTER, "", "", "2026-09-10");
		struct line_context context = yard_line_context(garden.yard, &garden.names);
		check_ok(planting_read(spans[i].said, &context, &planted, NULL), NULL);
		check_int(date_parts(planted.low.value).year, spans[i].low, spans[i].said);
		check_int(date_parts(planted.high.value).year, spans[i].high, spans[i].said);
		assert_false(date_span_is_exact(&planted));
		assert_true(planted.about || planted.doubt); /* low confidence is kept */
		garden_free(&garden);
	}
}

static void a_buried_union_is_told_why_and_what_to_do(void **state)
{
	struct garden garden;
	told_south(&garden, AT_WET_WINTER, "A1 apple 2024/2025",
		"A1 note graft union under the soil @ 2026-09-10", "2026-09-10");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "planted-deep");

	(void)state;
	assert_non_null(flag);
	check_has(flag->says, "the top can root", "why");
	check_has(flag->says, "dwarfing stock is lost", "what is lost");
	check_has(flag->says, "2 in to 3 in", "one source");
	check_has(flag->says, "others say 3 in to 6 in", "the other");
	check_has(flag->action, "draw the soil back", "first");
	check_has(flag->action, "cut roots above the union", "then");
	check_has(flag->action, "lift it only while it is dormant", "no tugging in growth");
	garden_free(&garden);
}

/* --- three plums in one hole, 24 in apart, planted late in May --- */

static void three_in_a_hole(struct garden *garden)
{
	told(garden, AT_HUMID, "", "", "2026-05-16");
	garden_tree(garden, "T1", "european_plum", "2026-05-15", "the hole");
	garden_tree(garden, "T2", "european_plum", "2026-05-15", "the hole");
	garden_tree(garden, "T3", "european_plum", "2026-05-15", "the hole");
}

static void three_trees_have_three_labels_and_one_place(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	char *ids = garden_sql(&garden, "SELECT count(DISTINCT t.id) || ' ' || "
					"count(DISTINCT s.spot_id) FROM tree t "
					"JOIN tree_spot s ON s.tree_id = t.id");

	(void)state;
	check_text(ids, "3 1\n", "trees, spots");
	free(ids);
	check_has(told_trees(&garden, false), "3 trees", "counted as three");
	garden_free(&garden);
}

static void a_pick_off_the_clump_is_not_shared_out(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	garden_today(&garden, "2027-11-20");
	garden_log(&garden, "spot the hole picked 30 kg @ 2027-07-01");
	garden_log(&garden, "T2 cut shape 30% of shoots @ 2027-02-20");

	(void)state;
	for (int i = 1; i <= 3; i++) {
		char label[4];

		snprintf(label, sizeof label, "T%d", i);
		const struct dossier *dossier = garden_story(&garden, label);
		check_int(dossier->expected.seasons, 0, "no share of the clump's");
		int32_t own = 0;
		for (int32_t e = 0; e < dossier->entry_count; e++)
			own += strcmp(dossier->entries[e]->subject.id, dossier->tree.id) == 0;
		check_int(own, i == 2 ? 1 : 0, "its own work");
	}
	garden_free(&garden);
}

static void one_of_the_three_dies_alone(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	garden_today(&garden, "2026-11-20");
	garden_log(&garden, "T1 died drought @ 2026-08-01");

	(void)state;
	check_text(garden_find(&garden, "T2").gone.text, "", "still there");
	check_text(garden_find(&garden, "T3").gone.text, "", "still there");
	check_has(told_trees(&garden, true), "gone: drought", "with its reason");
	garden_free(&garden);
}

static void trees_so_close_are_told_of_once(void **state)
{
	struct garden garden;
	three_in_a_hole(&garden);
	const char *review = told_review(&garden, true);
	const char *at = strstr(review, "too-close");

	(void)state;
	assert_non_null(at);
	assert_null(strstr(at + 1, "too-close"));
	check_has(review, "If it was meant so, set this aside", "no alarm");
	check_has(review, "T2, T3", "who");
	garden_free(&garden);
}

/* --- a scion labelled as a late keeper on one limb of a wild apple: the first fruit was soft and
 * dropped by itself in July --- */

static void a_graft_gone_wrong(struct garden *garden)
{
	struct fault why = {0};
	told(garden, AT_CONTINENTAL, "W1 apple 1990", "W1 grafted Arkansas Black @ 2020-03-10",
		"2026-08-20");
	garden_log(garden, "W1/Arkansas Black picked 2 kg @ 2026-07-20");
	const struct new_identity unknown = {.cultivar = "unknown, early, soft",
		.sure_given = true,
		.sure = SURE_UNKNOWN,
		.day = date_span_of(garden_day("2026-07-20")),
		.reason = "dropped by itself in July, soft as a summer apple"};
	struct tree graft = garden_find(garden, "W1/Arkansas Black");
	check_ok(work_identify(garden->yard, graft.id, &unknown, garden->asked, &why), &why);
	garden_look(garden);
}

static void a_graft_loses_its_name_and_keeps_it_on_record(void **state)
{
	struct garden garden;
	a_graft_gone_wrong(&garden);
	const char *page = told_tree(&garden, "W1/Arkansas Black");

	(void)state;
	check_has(page, "was recorded as Arkansas Black?", "the first name");
	check_has(page, "since unknown, early, soft, 20 July 2026", "now, and the day");
	check_has(page, "soft as a summer apple", "the reason");
	check_text(garden_story(&garden, "W1/Arkansas Black")->kind.cultivar, "", "no name now");
	garden_free(&garden);
}

static void the_host_stays_what_it_was(void **state)
{
	struct garden garden;
	a_graft_gone_wrong(&garden);
	const struct dossier *host = garden_story(&garden, "W1");

	(void)state;
	check_text(host->kind.cultivar, "", "no cultivar");
	check_text(host->tree.label, "W1", "its label");
	check_lacks(told_tree(&garden, "W1"), "was recorded as", "nothing renamed");
	garden_free(&garden);
}

/* Pollen, picking and storage went by the name: with it they go. */
static void what_was_built_on_the_old_name_is_withdrawn(void **state)
{
	struct garden garden;
	struct fault why = {0};
	told(&garden, AT_CONTINENTAL, "W1 apple 1990", "W1 grafted Arkansas Black @ 2020-03-10",
		"2026-08-20");
	check_has(told_partners(&garden, "W1/Arkansas Black"), "Arkansas Black is a poor giver",
		"the name speaks");
	const struct new_identity unknown = {
		.cultivar = "unknown", .sure_given = true, .sure = SURE_UNKNOWN};
	struct tree graft = garden_find(&garden, "W1/Arkansas Black");
	check_ok(work_identify(garden.yard, graft.id, &unknown, garden.asked, &why), &why);
	garden_look(&garden);

	(void)state;
	check_lacks(told_partners(&garden, "W1/Arkansas Black"), "poor giver", "withdrawn");
	garden_free(&garden);
}

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
	check_has(told_tree(&garden, "F1"), "apple?", "shown");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_year_or_two_ago_is_a_span_of_years_never_a_day),
		cmocka_unit_test(a_buried_union_is_told_why_and_what_to_do),
		cmocka_unit_test(three_trees_have_three_labels_and_one_place),
		cmocka_unit_test(a_pick_off_the_clump_is_not_shared_out),
		cmocka_unit_test(one_of_the_three_dies_alone),
		cmocka_unit_test(trees_so_close_are_told_of_once),
		cmocka_unit_test(a_graft_loses_its_name_and_keeps_it_on_record),
		cmocka_unit_test(the_host_stays_what_it_was),
		cmocka_unit_test(what_was_built_on_the_old_name_is_withdrawn),
		cmocka_unit_test(the_groups_add_up_and_the_labels_are_counted),
		cmocka_unit_test(the_dead_and_the_stray_stay_closed_with_a_reason),
		cmocka_unit_test(each_group_has_its_own_season_for_the_saw),
		cmocka_unit_test(an_unknown_tree_gets_no_date_but_find_out_first),
		cmocka_unit_test(a_guess_is_marked_where_a_date_rests_on_it),
	};
	return cmocka_run_group_tests_name("whose tree is this", tests, NULL, NULL) != 0;
}
