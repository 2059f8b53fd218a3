/* SPDX-License-Identifier: MIT */
/* label-lost, doubt-in-name, feed-unknown-amount. */
#include "support/log_case.h"

#define LABEL .rule = "label-lost"
#define DOUBT .rule = "doubt-in-name"
#define BLANK .rule = "feed-unknown-amount"
#define APPLE "A1 apple 2012"

/* clang-format off */
static const struct log_case labels[] = {
	{ "a_label_seen_gone", AT_COOL, APPLE, "A1 saw label gone @ 2026-03-10", "2026-04-10", LABEL, .want = "note", .says = {"label gone or not to be read", "Hang a new one", "A1 note new label"} },
	{ "said_in_a_note", AT_COOL, APPLE, "A1 note the tag faded over winter @ 2026-03-10", "2026-04-10", LABEL, .want = "note" },
	{ "a_new_label_settles_it", AT_COOL, APPLE, "A1 saw label gone @ 2026-03-10|A1 note new label hung @ 2026-03-12", "2026-04-10", LABEL, .want = "" },
	{ "gone_again", AT_COOL, APPLE, "A1 saw label gone @ 2026-03-10|A1 note new label hung @ 2026-03-12|A1 saw label gone @ 2026-04-02", "2026-04-10", LABEL, .want = "note" },
	{ "a_label_that_hangs_is_no_matter", AT_COOL, APPLE, "A1 note read the label again, it is Fuji @ 2026-03-10", "2026-04-10", LABEL, .want = "" },
	{ "a_placeholder_is_no_label", AT_COOL, "unknown-3 apple 2012", "", "2026-04-10", LABEL, .want = "note", .says = {"only stands for one", "tree rename unknown-3 NEW"} },
	{ "a_question_mark_is_one_too", AT_COOL, "A1? apple 2012", "", "2026-04-10", LABEL, .want = "note" },
	{ "a_plain_label_is_a_label", AT_COOL, "tree-7 apple 2012", "", "2026-04-10", LABEL, .want = "" },
	{ "of_an_unknown_kind_too", AT_NOWHERE, "A1 - -", "A1 saw label gone @ 2026-03-10", "2026-04-10", LABEL, .want = "note", .once = true },
};

#define FEEDS "A1 fed 1 lb 10-10-10 @ 2025-04-01|"
static const struct log_case blanks[] = {
	{ "a_feed_without_figures_of_a_grower_who_doses", AT_COOL, APPLE, FEEDS "A1 fed lawn food @ 2026-04-01", "2026-04-10", BLANK, .want = "note", .says = {"no amount, or no analysis", "entry mend", "product add"} },
	{ "an_amount_without_an_analysis", AT_COOL, APPLE, FEEDS "A1 fed 1 lb lawn food @ 2026-04-01", "2026-04-10", BLANK, .want = "note" },
	{ "with_both_it_is_known", AT_COOL, APPLE, FEEDS "A1 fed 1 lb 21-0-0 @ 2026-04-01", "2026-04-10", BLANK, .want = "" },
	{ "compost_has_no_bag", AT_COOL, APPLE, FEEDS "A1 fed compost @ 2026-04-01", "2026-04-10", BLANK, .want = "" },
	{ "a_grower_who_never_doses_is_not_asked", AT_COOL, APPLE, "A1 fed lawn food @ 2025-04-01|A1 fed lawn food @ 2026-04-01", "2026-04-10", BLANK, .want = "" },
	{ "two_blanks_of_a_season_are_one_question", AT_COOL, APPLE, FEEDS "A1 fed lawn food @ 2026-04-01|A1 fed lawn food @ 2026-05-01", "2026-05-10", BLANK, .want = "note" },
	{ "while_it_is_fresh_it_is_asked_though_the_season_is_over", AT_WET_WINTER, "A1 apricot 2012", FEEDS "A1 fed lawn food @ 2026-07-28", "2026-08-04", BLANK, .want = "note" },
	{ "after_three_weeks_the_last_season_is_let_be", AT_WET_WINTER, "A1 apricot 2012", FEEDS "A1 fed lawn food @ 2026-07-14", "2026-08-05", BLANK, .want = "" },
	{ "the_next_season_does_not_ask_of_the_last", AT_COOL, APPLE, FEEDS "A1 fed lawn food @ 2026-04-01", "2027-04-10", BLANK, .want = "" },
	{ "an_unknown_kind_is_silent", AT_NOWHERE, "A1 - 2012", FEEDS "A1 fed lawn food @ 2026-04-01", "2026-04-10", BLANK, .want = "", .once = true },
};

static const struct log_case doubts[] = {
	{ "two_kinds_it_could_be", AT_COOL, "A1 plum 2012", "", "2026-04-10", DOUBT, .want = "note", .says = {"It could be", "plum", "tree identify A1"} },
	{ "a_certain_kind_is_no_doubt", AT_COOL, APPLE, "A1 cut shape 10% of crown @ 2026-02-10", "2026-04-10", DOUBT, .want = "" },
	{ "two_labels_that_are_nearly_one", AT_COOL, "A1 apple 2012; A-01 apple 2013", "", "2026-04-10", DOUBT, .want = "note", .says = {"the same tree as A1?", "tree remove A-01 \"the same as A1\""} },
	{ "two_labels_of_one_kind_that_differ", AT_COOL, "A1 apple 2012; A10 apple 2012", "", "2026-04-10", DOUBT, .want = "" },
	{ "nearly_one_label_and_another_kind", AT_COOL, "A1 apple 2012; A-1 peach 2012", "", "2026-04-10", DOUBT, .want = "" },
	{ "nearly_one_label_of_an_unknown_kind", AT_COOL, "A1 apple 2012; A-1 - -", "", "2026-04-10", DOUBT, .want = "note" },
	{ "no_kind_at_all_is_asked_elsewhere", AT_COOL, "A1 - 2012", "A1 picked 2 kg @ 2025-09-10", "2026-04-10", DOUBT, .want = "" },
};
/* clang-format on */

struct doubt_case {
	const char *name;
	enum sure species_sure;
	const char *cultivar;
	enum sure cultivar_sure;
	const char *line;
	const char *says; /* NULL: silence */
};
/* clang-format off */
static const struct doubt_case doubted[] = {
	{ "a_suspected_kind_that_is_tended", SURE_SUSPECTED, "", SURE_UNKNOWN, "A1 picked 2 kg @ 2025-09-10", "Taken for apple without being sure" },
	{ "a_suspected_kind_that_nobody_tends", SURE_SUSPECTED, "", SURE_UNKNOWN, "A1 note by the gate @ 2025-09-10", NULL },
	{ "a_suspected_cultivar_with_rows_of_its_own", SURE_CERTAIN, "Granny Smith", SURE_SUSPECTED, "A1 cut shape 10% of crown @ 2026-02-10", "Taken for Granny Smith without being sure" },
	{ "a_certain_cultivar_with_rows_of_its_own", SURE_CERTAIN, "Granny Smith", SURE_CERTAIN, "A1 cut shape 10% of crown @ 2026-02-10", NULL },
	{ "a_suspected_cultivar_that_changes_no_advice", SURE_CERTAIN, "Gala", SURE_SUSPECTED, "A1 cut shape 10% of crown @ 2026-02-10", NULL },
};
/* clang-format on */

static void check_doubt(void **state)
{
	const struct doubt_case *one = *state;
	struct garden garden;
	struct place place;
	struct fault why = {0};
	struct new_tree tree = {.sure_given = true, .sure = one->species_sure};
	char id[ID_SIZE];

	log_case_place(AT_COOL, false, &place);
	garden_make_at(&garden, &place, "2026-04-10");
	snprintf(tree.tree.label, sizeof tree.tree.label, "A1");
	snprintf(tree.species, sizeof tree.species, "apple");
	check_ok(work_tree_add(garden.yard, &tree, garden.asked, id, &why), &why);
	if (one->cultivar[0] != '\0') {
		struct new_identity identity = {.sure_given = true, .sure = one->cultivar_sure};

		snprintf(identity.cultivar, sizeof identity.cultivar, "%s", one->cultivar);
		check_ok(work_identify(garden.yard, id, &identity, garden.asked, &why), &why);
	}
	garden_look(&garden);
	garden_log(&garden, one->line);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "doubt-in-name");
	check_int(flag != NULL, one->says != NULL, one->name);
	if (flag != NULL)
		check_has(flag->says, one->says, one->name);
	garden_free(&garden);
}

static void what_is_written_about_a_tree_counts_until_a_new_label_hangs(void **state)
{
	struct garden garden;
	struct fault why = {0};
	struct new_tree tree = {.sure_given = false};
	char id[ID_SIZE];

	(void)state;
	garden_make(&garden, "2026-04-10");
	snprintf(tree.tree.label, sizeof tree.tree.label, "A1");
	snprintf(tree.tree.note, sizeof tree.tree.note, "label faded in its second winter");
	snprintf(tree.species, sizeof tree.species, "apple");
	check_ok(work_tree_add(garden.yard, &tree, garden.asked, id, &why), &why);
	garden_look(&garden);
	struct flags before = log_case_flags(&garden);
	check_int(log_case_count(&before, "label-lost"), 1, "before");
	garden_log(&garden, "A1 note new label hung @ 2026-04-09");
	struct flags after = log_case_flags(&garden);
	check_int(log_case_count(&after, "label-lost"), 0, "after");
	garden_free(&garden);
}

static struct flags doubts_of(struct garden *garden)
{
	garden_look(garden);
	return log_case_flags(garden);
}

/* In one hole, of one cultivar and planting: the later asks while nothing is logged of it, and not
 * again once it was set aside. */
static void one_tree_kept_twice_is_asked_about_once(void **state)
{
	struct garden garden;
	struct fault why = {0};
	struct new_tree tree = {.cultivar_sure_given = true, .cultivar_sure = SURE_CERTAIN};
	char id[ID_SIZE];

	(void)state;
	garden_make(&garden, "2026-04-10");
	check_ok(date_span_parse("2012", HEMISPHERE_NORTH, &tree.tree.planted, &why), &why);
	snprintf(tree.species, sizeof tree.species, "apple");
	snprintf(tree.cultivar, sizeof tree.cultivar, "Gala");
	snprintf(tree.spot, sizeof tree.spot, "by the wall");
	for (int i = 0; i < 2; i++) {
		snprintf(tree.tree.label, sizeof tree.tree.label, i == 0 ? "Wall" : "Door");
		check_ok(work_tree_add(garden.yard, &tree, garden.asked, id, &why), &why);
	}
	struct flags flags = doubts_of(&garden);
	const struct flag *asked = log_case_find(&flags, "doubt-in-name");
	assert_non_null(asked);
	check_text(asked->label, "Door", "the later one asks");
	check_int(log_case_count(&flags, "doubt-in-name"), 1, "once");
	char key[FLAG_KEY_SIZE];
	snprintf(key, sizeof key, "%s", asked->key);
	garden_log(&garden, "Door picked 3 kg @ 2025-09-10");
	flags = doubts_of(&garden);
	check_int(log_case_count(&flags, "doubt-in-name"), 0, "it has a story of its own");
	garden_log(&garden, "Wall note by the wall");
	check_ok(store_act_begin(garden.store, ACT_WORK, "rename", &why), &why);
	check_ok(store_tree_rename(garden.store, id, "wall-", &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	flags = doubts_of(&garden);
	asked = log_case_find(&flags, "doubt-in-name");
	assert_non_null(asked);
	check_text(asked->key, key, "one question, whatever it is asked for");
	check_ok(work_set_aside(garden.yard, key, "two trees", &why), &why);
	garden_look(&garden);
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	for (int32_t i = 0; i < review.count; i++)
		if (strcmp(review.items[i].flag.rule, "doubt-in-name") == 0)
			check_int(review.items[i].state, FLAG_SET_ASIDE, review.items[i].flag.says);
	garden_free(&garden);
}

static void doubts_of_a_yard_are_one_line(void **state)
{
	static const struct log_case told = {.place = AT_COOL,
		.trees = "A1 plum 2012; A2 plum 2012; A3 plum 2012; A4 cherry 2012",
		.lines = "",
		.today = "2026-04-10"};
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};
	int32_t told_lines = 0;

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	for (int32_t i = 0; i < review.count; i++) {
		if (strcmp(review.items[i].flag.rule, "doubt-in-name") != 0)
			continue;
		told_lines++;
		check_text(review.items[i].flag.says,
			"a name in doubt that dates and doses rest on: 4 trees", "the folded line");
		check_int(review.items[i].trees, 4, "trees");
	}
	check_int(told_lines, 1, "lines");
	garden_free(&garden);
}

int main(void)
{
	enum { DOUBTS = sizeof doubted / sizeof doubted[0] };
	struct CMUnitTest tests[DOUBTS + 3];

	for (size_t i = 0; i < DOUBTS; i++)
		tests[i] = (struct CMUnitTest){.name = doubted[i].name,
			.test_func = check_doubt,
			.initial_state = (void *)(uintptr_t)&doubted[i]};
	tests[DOUBTS] = (struct CMUnitTest)cmocka_unit_test(doubts_of_a_yard_are_one_line);
	tests[DOUBTS + 1] = (struct CMUnitTest)cmocka_unit_test(
		what_is_written_about_a_tree_counts_until_a_new_label_hangs);
	tests[DOUBTS + 2] =
		(struct CMUnitTest)cmocka_unit_test(one_tree_kept_twice_is_asked_about_once);
	int failed = LOG_CASES("label-lost", labels);

	failed += LOG_CASES("feed-unknown-amount", blanks);
	failed += LOG_CASES("doubt-in-name", doubts);
	failed += cmocka_run_group_tests_name("doubts", tests, NULL, NULL);
	return failed != 0;
}
