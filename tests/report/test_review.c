/* SPDX-License-Identifier: MIT */
/* The review and ask, over logs written line by line with the real almanac. */
#include "support/garden.h"

#include "report/review.h"

static int garden_setup(void **state)
{
	struct garden *garden = calloc(1, sizeof *garden);
	if (garden == NULL)
		return -1;
	garden_make(garden, "2026-10-10");
	*state = garden;
	return 0;
}

static int garden_teardown(void **state)
{
	garden_free(*state);
	free(*state);
	return 0;
}

static struct review review_of(struct garden *garden, const char *label, bool all)
{
	struct fault why = {0};
	struct review review = {.count = 0};
	struct tree tree = {.id = ""};
	if (label != NULL)
		tree = garden_find(garden, label);
	const struct review_options options = {
		.tree_id = label == NULL ? NULL : arena_text(garden->arena, tree.id), .all = all};
	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	return review;
}

static const struct review_item *item_of(const struct review *review, const char *rule)
{
	for (int32_t i = 0; i < review->count; i++)
		if (strcmp(review->items[i].flag.rule, rule) == 0)
			return &review->items[i];
	return NULL;
}

static struct ask_answer ask(struct garden *garden, const char *line)
{
	struct fault why = {0};
	struct reading reading = {.line_count = 0};
	struct ask_answer answer = {.count = 0};
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	check_ok(line_read(line, &context, garden->arena, &reading, NULL, &why), &why);
	check_ok(review_ask(garden->yard, &reading, garden->arena, &answer, &why), &why);
	return answer;
}

static void undo(struct garden *garden)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_ok(store_undo(garden->store, what, &why), &why);
	garden_look(garden);
}

/* A loquat with four seasons of picks. */
static void plant_loquat(struct garden *garden)
{
	static const char *const lines[] = {
		"A3 picked 30 lb, last @ 2023-05-10",
		"A3 picked 44 lb, last @ 2024-05-12",
		"A3 picked 36 lb, last @ 2025-05-08",
		"A3 picked 40 lb, last @ 2026-05-11",
		NULL,
	};
	garden_tree(garden, "A3", "loquat", "2012", "");
	garden_log_all(garden, lines);
}

/* --- the rule that matters most, end to end --- */

static void a_shape_cut_in_october_is_an_act_with_its_crop(void **state)
{
	struct garden *garden = *state;
	plant_loquat(garden);
	garden_log(garden, "A3 cut shape 20% of crown @ 2026-10-03");
	struct review review = review_of(garden, NULL, false);
	const struct review_item *item = item_of(&review, "flower-wood");
	assert_non_null(item);
	check_int(item->flag.urgency, URGENCY_ACT, "urgency");
	assert_true(item->flag.crop_at_risk_mg.known);
	check_int(item->flag.seasons, 4, "seasons behind it");
	/* median of 30 36 40 44 lb = 38; 20 % of crown at full loss */
	check_close((double)item->flag.crop_at_risk_mg.value, 0.2 * 38 * 453592.37, 2.0,
		"crop at risk");
	check_text(review.items[0].flag.rule, "flower-wood", "worst first");
	assert_true(review.open >= 1);
}

static void the_same_cut_after_the_last_pick_is_not_flagged(void **state)
{
	struct garden *garden = *state;
	plant_loquat(garden);
	garden_log(garden, "A3 cut shape 20% of crown @ 2026-05-20");
	garden_today(garden, "2026-05-25");
	struct review review = review_of(garden, "A3", false);
	assert_null(item_of(&review, "flower-wood"));
}

static void a_sucker_cut_is_never_flagged(void **state)
{
	struct garden *garden = *state;
	plant_loquat(garden);
	garden_log(garden, "A3 cut suckers @ 2026-10-03");
	garden_log(garden, "A3 cut dead wood 10% of crown @ 2026-10-04");
	struct review review = review_of(garden, "A3", false);
	assert_null(item_of(&review, "flower-wood"));
}

static void a_struck_cut_clears_its_flag(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	plant_loquat(garden);
	char id[ID_SIZE];
	snprintf(id, sizeof id, "%s", garden_log(garden, "A3 cut shape 20% of crown @ 2026-10-03"));
	check_ok(work_strike(garden->yard, id, &garden->logged, &why), &why);
	garden_look(garden);
	struct review review = review_of(garden, NULL, true);
	assert_null(item_of(&review, "flower-wood"));
}

static void a_cut_on_the_host_adds_up_the_crop_of_its_grafts(void **state)
{
	static const char *const lines[] = {
		"H1 grafted Champagne @ 2018-03-10",
		"H1 picked 10 lb, last @ 2025-05-10",
		"H1 picked 10 lb, last @ 2026-05-10",
		"H1/Champagne picked 5 lb, last @ 2025-05-11",
		"H1/Champagne picked 5 lb, last @ 2026-05-11",
		"H1 cut shape 20% of crown @ 2026-10-03",
		NULL,
	};
	struct garden *garden = *state;
	garden_tree(garden, "H1", "loquat", "2010", "");
	garden_log_all(garden, lines);
	struct review review = review_of(garden, NULL, false);
	const struct review_item *item = item_of(&review, "flower-wood");
	assert_non_null(item);
	check_text(item->flag.label, "H1", "one flag, at the host");
	check_close((double)item->flag.crop_at_risk_mg.value, 0.2 * 15 * 453592.37, 2.0,
		"crop of both");
}

/* --- answers --- */

static const char *flagged_key(struct garden *garden)
{
	plant_loquat(garden);
	garden_log(garden, "A3 cut shape 20% of crown @ 2026-10-03");
	struct review review = review_of(garden, NULL, false);
	const struct review_item *item = item_of(&review, "flower-wood");
	assert_non_null(item);
	static char key[FLAG_KEY_SIZE];
	snprintf(key, sizeof key, "%s", item->flag.key);
	return key;
}

static void put_off_hides_until_its_day_and_says_how_often(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	const char *key = flagged_key(garden);
	check_ok(work_put_off(garden->yard, key, garden_day("2026-10-14"), &why), &why);
	garden_today(garden, "2026-10-13");
	struct review review = review_of(garden, NULL, false);
	assert_null(item_of(&review, "flower-wood"));
	assert_true(review.next_change.known);
	check_int(review.next_change.value.day, garden_day("2026-10-14").day, "when it changes");
	review = review_of(garden, NULL, true);
	const struct review_item *item = item_of(&review, "flower-wood");
	assert_non_null(item);
	check_text(flag_state_key(item->state), "put-off", "state");
	check_int(item->until.value.day, garden_day("2026-10-14").day, "until");
	garden_today(garden, "2026-10-14");
	review = review_of(garden, NULL, false);
	item = item_of(&review, "flower-wood");
	assert_non_null(item);
	check_int(item->times_put_off, 1, "times");
}

static void set_aside_is_for_good_and_undo_brings_it_back(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	const char *key = flagged_key(garden);
	check_ok(work_set_aside(garden->yard, key, "it was a broken limb", &why), &why);
	garden_today(garden, "2026-10-20");
	struct review review = review_of(garden, NULL, false);
	assert_null(item_of(&review, "flower-wood"));
	review = review_of(garden, NULL, true);
	const struct review_item *item = item_of(&review, "flower-wood");
	assert_non_null(item);
	check_text(flag_state_key(item->state), "set-aside", "state");
	check_text(item->reason, "it was a broken limb", "reason");
	undo(garden);
	review = review_of(garden, NULL, false);
	assert_non_null(item_of(&review, "flower-wood"));
}

static void a_rule_off_keeps_silent_for_a_tree_or_the_yard(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	(void)flagged_key(garden);
	struct tree tree = garden_find(garden, "A3");
	check_ok(work_rule_off(garden->yard, "flower-wood", tree.id, &why), &why);
	struct review review = review_of(garden, NULL, false);
	assert_null(item_of(&review, "flower-wood"));
	check_ok(work_rule_on(garden->yard, "flower-wood", tree.id, &why), &why);
	review = review_of(garden, NULL, false);
	assert_non_null(item_of(&review, "flower-wood"));
	check_ok(work_rule_off(garden->yard, "flower-wood", "", &why), &why);
	review = review_of(garden, NULL, false);
	assert_null(item_of(&review, "flower-wood"));
	undo(garden);
	review = review_of(garden, NULL, false);
	assert_non_null(item_of(&review, "flower-wood"));
}

static void putting_off_beyond_the_window_says_so(void **state)
{
	(void)state;
	struct review_item item = {.flag.window_to = known_date(garden_day("2026-11-01"))};
	char says[120];
	check_has(review_put_off_says(&item, garden_day("2026-11-02"), says, sizeof says),
		"1 November 2026", "after it closes");
	check_text(review_put_off_says(&item, garden_day("2026-11-01"), says, sizeof says), "",
		"on its last day");
}

/* --- folding, leave --- */

static void questions_of_one_kind_are_one_line(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "", "", "");
	garden_tree(garden, "A2", "", "", "");
	garden_tree(garden, "A3", "", "", "");
	struct review review = review_of(garden, NULL, false);
	const struct review_item *item = item_of(&review, "facts-missing");
	assert_non_null(item);
	check_text(item->flag.says, "kind not known: 3 trees", "one line");
	check_int(item->trees, 3, "trees");
	check_int(review.count, 1, "lines");
	check_int(review.notes, 1, "notes");
	char key[FLAG_KEY_SIZE];
	snprintf(key, sizeof key, "%s", item->flag.key);
	check_ok(work_set_aside(garden->yard, key, "they were here before us", &why), &why);
	review = review_of(garden, NULL, false);
	check_int(review.count, 0, "set aside as one");
	review = review_of(garden, "A2", false);
	check_int(review.count, 0, "and for each tree");
}

static void without_a_hemisphere_there_is_a_question_and_no_date(void **state)
{
	(void)state;
	struct garden garden;
	const struct place nowhere = {.hemisphere = HEMISPHERE_UNKNOWN};
	garden_make_at(&garden, &nowhere, "2026-10-10");
	plant_loquat(&garden);
	garden_log(&garden, "A3 cut shape 20% of crown @ 2026-10-03");
	struct review review = review_of(&garden, NULL, false);
	for (int32_t i = 0; i < review.count; i++) {
		assert_int_not_equal(review.items[i].flag.urgency, URGENCY_ACT);
		assert_false(review.items[i].flag.window_from.known);
	}
	const struct review_item *item = item_of(&review, "facts-missing");
	assert_non_null(item);
	check_text(item->flag.fact, "hemisphere", "what is asked");
	garden_free(&garden);
}

static void a_tree_left_alone_hides_what_would_be_due(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 plan fed 1 lb 10-10-10 @ 2026-10-08");
	struct review review = review_of(garden, "A1", false);
	assert_non_null(item_of(&review, "plan-due"));
	garden_log(garden, "A1 leave until 2027-10 @ 2026-09-01");
	review = review_of(garden, "A1", false);
	assert_null(item_of(&review, "plan-due"));
	assert_non_null(item_of(&review, "leave-alone"));
	review = review_of(garden, "A1", true);
	const struct review_item *item = item_of(&review, "plan-due");
	assert_non_null(item);
	check_text(flag_state_key(item->state), "left", "state");
}

static void what_stands_over_the_fence_is_not_asked_for(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct tree tree = garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 plan fed 1 lb 10-10-10 @ 2026-10-08");
	tree.over_fence = true;
	check_ok(store_act_begin(garden->store, ACT_WORK, "fence", &why), &why);
	check_ok(store_tree_save(garden->store, &tree, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	struct review review = review_of(garden, NULL, false);
	assert_null(item_of(&review, "plan-due"));
}

static void the_work_settles_its_plan_and_a_plan_settles_nothing(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 plan cut dead wood @ 2026-10-08");
	garden_log(garden, "A1 plan cut dead wood @ 2026-10-09");
	struct review review = review_of(garden, "A1", false);
	assert_non_null(item_of(&review, "plan-due"));
	garden_log(garden, "A1 cut dead wood @ 2026-10-08");
	review = review_of(garden, "A1", false);
	assert_null(item_of(&review, "plan-due"));
}

static void a_back_dated_entry_clears_what_it_would_have(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 plan cut dead wood @ 2026-09-20");
	struct review review = review_of(garden, "A1", false);
	assert_non_null(item_of(&review, "plan-due"));
	garden_log(garden, "A1 cut dead wood @ 2026-09-21");
	review = review_of(garden, "A1", false);
	assert_null(item_of(&review, "plan-due"));
}

static void a_gone_tree_asks_for_nothing(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "", "", "");
	garden_log(garden, "A1 died drought @ 2026-08-01");
	struct review review = review_of(garden, NULL, true);
	check_int(review.count, 0, "items");
}

/* --- ask --- */

static void ask_leaves_the_bytes_of_the_log_as_they_were(void **state)
{
	struct garden *garden = *state;
	size_t length_before;
	size_t length_after;
	plant_loquat(garden);
	char *before = file_read(garden->path, &length_before);
	struct ask_answer answer = ask(garden, "A3 cut shape 20% of crown");
	char *after = file_read(garden->path, &length_after);
	assert_true(answer.any_act);
	check_int((int64_t)length_after, (int64_t)length_before, "length");
	assert_memory_equal(before, after, length_before);
	free(before);
	free(after);
}

static void ask_shows_what_the_work_would_bring_and_only_that(void **state)
{
	struct garden *garden = *state;
	plant_loquat(garden);
	garden_tree(garden, "B1", "", "", "");
	garden_log(garden, "A3 cut shape 5% of crown @ 2026-09-20");
	struct ask_answer answer = ask(garden, "A3 cut shape 20% of crown");
	assert_true(answer.count >= 1);
	bool found = false;
	for (int32_t i = 0; i < answer.count; i++) {
		check_text(answer.items[i].flag.label, "A3", "the tree asked about");
		found = found || strcmp(answer.items[i].flag.rule, "flower-wood") == 0;
	}
	assert_true(found);
	struct ask_answer sucker = ask(garden, "A3 cut suckers");
	assert_false(sucker.any_act);
}

static void ask_on_a_later_day_looks_from_that_day(void **state)
{
	struct garden *garden = *state;
	plant_loquat(garden);
	struct ask_answer answer = ask(garden, "A3 plan cut shape 20% of crown @ 2027-05-25");
	assert_false(answer.any_act);
}

static void ask_names_what_it_would_settle(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 plan cut dead wood @ 2026-10-08");
	struct ask_answer answer = ask(garden, "A1 cut dead wood");
	check_has(answer.settles, "A1", "the tree");
	check_has(answer.settles, "planned", "the plan");
}

static void ask_of_a_batch_looks_at_every_tree(void **state)
{
	struct garden *garden = *state;
	plant_loquat(garden);
	garden_tree(garden, "A4", "loquat", "2012", "");
	garden_tree(garden, "F1", "fig", "2012", "");
	struct ask_answer answer = ask(garden, "all loquats cut shape 20% of crown");
	bool third = false;
	bool fourth = false;
	for (int32_t i = 0; i < answer.count; i++) {
		third = third || strcmp(answer.items[i].flag.label, "A3") == 0;
		fourth = fourth || strcmp(answer.items[i].flag.label, "A4") == 0;
		assert_string_not_equal(answer.items[i].flag.label, "F1");
	}
	assert_true(third && fourth);
}

static void ask_on_a_host_that_is_not_hurt_speaks_of_its_graft(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "H1", "apple", "2010", "");
	garden_log(garden, "H1 grafted loquat @ 2018-03-10");
	struct ask_answer answer = ask(garden, "H1 cut shape 20% of crown");
	bool graft = false;
	for (int32_t i = 0; i < answer.count; i++)
		graft = graft || (strcmp(answer.items[i].flag.label, "H1/loquat") == 0 &&
					 strcmp(answer.items[i].flag.rule, "flower-wood") == 0);
	assert_true(graft);
}

/* Four trees with the same plan, one with a hazard that makes it another. */
static void what_reads_alike_is_one_group(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	char text[80], words[400];
	static const char *const labels[] = {"A1", "A2", "A3", "A10"};
	for (int i = 0; i < 4; i++) {
		(void)garden_tree(garden, labels[i], "apple", "2012", "");
		snprintf(words, sizeof words, "%s plan watered 5 gal @ 2026-10-09", labels[i]);
		garden_log(garden, words);
	}
	(void)garden_tree(garden, "B1", "apple", "2012", "");
	garden_log(garden, "B1 plan watered 6 gal @ 2026-10-09");
	garden_look(garden);
	struct review review = review_of(garden, NULL, false);
	const struct review_item *item = item_of(&review, "plan-due");
	assert_non_null(item);
	check_int(item->group, 4, "group");
	for (int i = 1; i < 4; i++)
		check_int(item[i].group, 0, "counted by the first");
	check_text(review_labels(item, text, sizeof text), "A1, A2, A3, A10", "labels");
	check_text(review_labels(item, text, 24), "A1 and 3 more", "what fits");
	check_has(review_words(item, item->flag.says, words, sizeof words),
		": LABEL plan watered 5 gal", "words");
	check_int(item[4].group, 1, "another amount stands alone");
	check_int(review.open, 5, "each is counted");
	const char *const keys[] = {
		item->flag.key, item[1].flag.key, item[2].flag.key, item[3].flag.key};
	check_ok(work_put_off_all(garden->yard, keys, 4, garden_day("2026-10-20"), &why), &why);
	garden_look(garden);
	check_int(review_of(garden, NULL, false).open, 1, "all are put off");
	undo(garden);
	check_int(review_of(garden, NULL, false).open, 5, "one act, taken back as one");
}

static void two_alike_are_no_group(void **state)
{
	struct garden *garden = *state;
	(void)garden_tree(garden, "A1", "apple", "2012", "");
	(void)garden_tree(garden, "A2", "apple", "2012", "");
	garden_log(garden, "A1 plan watered 5 gal @ 2026-10-09");
	garden_log(garden, "A2 plan watered 5 gal @ 2026-10-09");
	garden_look(garden);
	struct review review = review_of(garden, NULL, false);
	const struct review_item *item = item_of(&review, "plan-due");
	assert_non_null(item);
	check_int(item[0].group, 1, "the one");
	check_int(item[1].group, 1, "the other");
}

/* Three loquats, each clear for its yearly cut from its own last pick on. */
static void windows_that_open_on_days_of_their_own_are_one_group(void **state)
{
	struct garden *garden = *state;
	char line[80], words[500];
	static const char *const labels[] = {"A1", "A2", "A3"};
	static const char *const last_picks[] = {"03", "09", "06"};
	garden_today(garden, "2026-06-18");
	for (int i = 0; i < 3; i++) {
		(void)garden_tree(garden, labels[i], "loquat", "2010", "");
		for (int year = 2024; year <= 2026; year++) {
			snprintf(line, sizeof line, "%s picked 6 lb, last @ %d-06-%s", labels[i],
				year, last_picks[i]);
			garden_log(garden, line);
			snprintf(line, sizeof line, "%s cut shape 10%% of crown @ %d-06-20",
				labels[i], year);
			if (year < 2026)
				garden_log(garden, line);
		}
	}
	garden_look(garden);
	struct review review = review_of(garden, NULL, false);
	const struct review_item *item = item_of(&review, "shape-cut-due");
	assert_non_null(item);
	check_int(item->group, 3, "group");
	check_has(review_words(item, item->flag.says, words, sizeof words),
		": each from a day of its own, the first 4 June 2026, until ", "words");
	garden_log(garden, "A3 cut shape 10% of crown @ 2026-06-18");
	garden_look(garden);
	review = review_of(garden, NULL, false);
	item = item_of(&review, "shape-cut-due");
	assert_non_null(item);
	check_int(item->group, 1, "two are no group");
	check_has(review_words(item, item->flag.says, words, sizeof words), ": 4 June to ",
		"its own days");
}

#define FACT(name) cmocka_unit_test_setup_teardown(name, garden_setup, garden_teardown)

int main(void)
{
	const struct CMUnitTest tests[] = {
		FACT(a_shape_cut_in_october_is_an_act_with_its_crop),
		FACT(the_same_cut_after_the_last_pick_is_not_flagged),
		FACT(a_sucker_cut_is_never_flagged),
		FACT(a_struck_cut_clears_its_flag),
		FACT(a_cut_on_the_host_adds_up_the_crop_of_its_grafts),
		FACT(put_off_hides_until_its_day_and_says_how_often),
		FACT(set_aside_is_for_good_and_undo_brings_it_back),
		FACT(a_rule_off_keeps_silent_for_a_tree_or_the_yard),
		cmocka_unit_test(putting_off_beyond_the_window_says_so),
		FACT(questions_of_one_kind_are_one_line),
		cmocka_unit_test(without_a_hemisphere_there_is_a_question_and_no_date),
		FACT(a_tree_left_alone_hides_what_would_be_due),
		FACT(what_stands_over_the_fence_is_not_asked_for),
		FACT(the_work_settles_its_plan_and_a_plan_settles_nothing),
		FACT(a_back_dated_entry_clears_what_it_would_have),
		FACT(a_gone_tree_asks_for_nothing),
		FACT(ask_leaves_the_bytes_of_the_log_as_they_were),
		FACT(ask_shows_what_the_work_would_bring_and_only_that),
		FACT(ask_on_a_later_day_looks_from_that_day),
		FACT(ask_names_what_it_would_settle),
		FACT(ask_of_a_batch_looks_at_every_tree),
		FACT(ask_on_a_host_that_is_not_hurt_speaks_of_its_graft),
		FACT(what_reads_alike_is_one_group),
		FACT(two_alike_are_no_group),
		FACT(windows_that_open_on_days_of_their_own_are_one_group),
	};
	return cmocka_run_group_tests_name("review and ask", tests, NULL, NULL) != 0;
}
