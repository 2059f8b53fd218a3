/* SPDX-License-Identifier: MIT */
/* A graft that turned out to be something else, as a grower told it: what a good answer says and
 * what it must not. The yard is invented. */
#include "support/told.h"

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

/* The line may name the graft alone, by what was put on. */
static void a_graft_is_named_by_what_was_put_on(void **state)
{
	struct garden garden;
	told(&garden, AT_CONTINENTAL, "W1 apple 1990", "W1 grafted Arkansas Black @ 2020-03-10",
		"2026-07-21");
	const char *answer =
		told_answer(&garden, "graft Arkansas Black picked 2 kg @ 2026-07-20 ; soft");

	(void)state;
	check_has(answer, "W1/Arkansas Black: picked 2 kg", "whose");
	check_int(garden_story(&garden, "W1/Arkansas Black")->entry_count, 1, "the graft's own");
	check_int(garden_story(&garden, "W1")
			  ->seasons[garden_story(&garden, "W1")->season_count - 1]
			  .picks,
		0, "not the host's");
	garden_free(&garden);
}

/* Two hosts with a graft of one name: asked, never guessed. */
static void a_name_put_on_two_trees_is_asked(void **state)
{
	struct garden garden;
	struct fault why = {0};
	told(&garden, AT_CONTINENTAL, "W1 apple 1990;W2 apple 1990",
		"W1 grafted Comice @ 2020-03-10|W2 grafted Comice @ 2021-03-10", "2026-07-21");

	(void)state;
	check_refused(garden_try(&garden, "graft Comice picked 2 kg @ 2026-07-20", &why),
		STATUS_DOUBT, &why, "W1/Comice");
	garden_free(&garden);
}

/* A late keeper that is ripe in July: the pick speaks against the label, until the name goes. */
static void the_pick_is_evidence_against_the_label(void **state)
{
	struct garden garden;
	struct fault why = {0};
	told(&garden, AT_CONTINENTAL, "W1 apple 1990", "W1 grafted Arkansas Black @ 2020-03-10",
		"2026-07-21");
	struct flags flags = log_case_flags(&garden);
	check_silent(&flags, "name-by-harvest");
	garden_log(&garden, "graft Arkansas Black picked 2 kg @ 2026-07-20");
	flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "name-by-harvest");

	(void)state;
	assert_non_null(flag);
	check_text(flag->label, "W1/Arkansas Black", "the graft, not the host");
	check_int(flag->urgency, URGENCY_NOTE, "evidence, no verdict");
	check_has(flag->says, "picked from 20 July 2026", "the pick");
	check_has(flag->says, "Arkansas Black ripens about 22 October 2026", "the name");
	check_has(flag->says, "scion or label may have been another's", "either");
	check_has(
		flag->action, "beside a tree of a known name that ripens with it", "what narrows");
	const struct new_identity unknown = {.cultivar = "unknown, early, soft",
		.sure_given = true,
		.sure = SURE_UNKNOWN,
		.reason = "ripe in July"};
	struct tree graft = garden_find(&garden, "W1/Arkansas Black");
	check_ok(work_identify(garden.yard, graft.id, &unknown, garden.asked, &why), &why);
	garden_look(&garden);
	flags = log_case_flags(&garden);
	check_silent(&flags, "name-by-harvest");
	garden_free(&garden);
}

/* Of picking and storage, as of pollen: the name's own days and keeping are nowhere said once the
 * name is gone. */
static void no_hint_of_picking_or_keeping_is_left_of_the_name(void **state)
{
	struct garden garden;
	a_graft_gone_wrong(&garden);

	(void)state;
	for (int month = 1; month <= 12; month++) {
		char day[16];

		snprintf(day, sizeof day, "2027-%02d-15", month);
		garden_today(&garden, day);
		struct flags flags = log_case_flags(&garden);
		for (int32_t i = 0; i < flags.count; i++) {
			check_lacks(flags.items[i].says, "Arkansas Black ", day);
			check_lacks(flags.items[i].action, "Arkansas Black ripens", day);
		}
		check_silent(&flags, "name-by-harvest");
	}
	garden_free(&garden);
}

/* "Wild seedling" is what the host is; the first name of the graft is still found. */
static void the_host_stays_a_wild_seedling(void **state)
{
	struct garden garden;
	struct fault why = {0};
	a_graft_gone_wrong(&garden);
	struct tree host = garden_find(&garden, "W1");

	(void)state;
	host.how = ORIGIN_SEED;
	text_copy(host.note, sizeof host.note, "wild seedling");
	check_ok(store_act_begin(garden.store, ACT_WORK, "seedling", &why), &why);
	check_ok(store_tree_save(garden.store, &host, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	const char *page = told_tree(&garden, "W1");
	check_has(page, "raised from seed", "how it came");
	check_has(page, "wild seedling", "as said");
	check_has(page, "carries W1/Arkansas Black", "and what it carries");
	char *names = garden_sql(&garden, "SELECT count(*) FROM identity WHERE name = "
					  "'Arkansas Black' AND struck = 0");
	check_text(names, "1\n", "the first name is kept in the file");
	free(names);
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_graft_loses_its_name_and_keeps_it_on_record),
		cmocka_unit_test(the_host_stays_what_it_was),
		cmocka_unit_test(what_was_built_on_the_old_name_is_withdrawn),
		cmocka_unit_test(a_graft_is_named_by_what_was_put_on),
		cmocka_unit_test(a_name_put_on_two_trees_is_asked),
		cmocka_unit_test(the_pick_is_evidence_against_the_label),
		cmocka_unit_test(no_hint_of_picking_or_keeping_is_left_of_the_name),
		cmocka_unit_test(the_host_stays_a_wild_seedling),
	};
	return cmocka_run_group_tests_name("a graft of another name", tests, NULL, NULL) != 0;
}
