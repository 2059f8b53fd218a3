/* SPDX-License-Identifier: MIT */
/* The grower's acts: what a line leaves in the log, what comes along, what undo takes back. */
#include "support/garden.h"

static int garden_setup(void **state)
{
	struct garden *garden = calloc(1, sizeof *garden);
	if (garden == NULL)
		return -1;
	garden_make(garden, "2026-06-20");
	*state = garden;
	return 0;
}

static int garden_teardown(void **state)
{
	garden_free(*state);
	free(*state);
	return 0;
}

static void undo(struct garden *garden)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_ok(store_undo(garden->store, what, &why), &why);
	garden_look(garden);
}

static void redo(struct garden *garden)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_ok(store_redo(garden->store, what, &why), &why);
	garden_look(garden);
}

static int32_t count_entries(struct garden *garden, const char *subject_id)
{
	struct fault why = {0};
	struct entry_query query = {.subject_id = subject_id, .planned = -1};
	struct entry *entries;
	int32_t count = 0;
	check_ok(store_entry_list(garden->store, &query, garden->arena, &entries, &count, &why),
		&why);
	return count;
}

static void a_line_is_one_entry_and_undo_takes_it(void **state)
{
	struct garden *garden = *state;
	struct tree tree = garden_tree(garden, "A3", "loquat", "2015", "");
	garden_log(garden, "A3 picked 6 lb 4 oz 85 fruit @ 2026-05-12");
	check_int(garden->logged.count, 1, "entries");
	check_has(garden->logged.said, "A3", "the answer names the tree");
	check_int(count_entries(garden, tree.id), 1, "logged");
	undo(garden);
	check_int(count_entries(garden, tree.id), 0, "undone");
	redo(garden);
	check_int(count_entries(garden, tree.id), 1, "done again");
}

static void a_refused_line_logs_nothing(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct tree tree = garden_tree(garden, "A3", "loquat", "2015", "");
	assert_int_not_equal(garden_try(garden, "A3 picked -3 kg", &why), STATUS_OK);
	assert_int_not_equal(garden_try(garden, "B7 picked 3 kg", &why), STATUS_OK);
	check_int(count_entries(garden, tree.id), 0, "entries");
}

/* --- batches --- */

static void plant_rows(struct garden *garden)
{
	struct fault why = {0};
	struct area area = {.name = "North"};
	struct spot spot;
	check_ok(store_act_begin(garden->store, ACT_WORK, "area", &why), &why);
	check_ok(store_area_add(garden->store, &area, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_tree(garden, "F1", "fig", "2015", "f1");
	garden_tree(garden, "F2", "fig", "2015", "f2");
	garden_tree(garden, "P1", "peach", "2015", "p1");
	garden_tree(garden, "L1", "apple", "2015", "l1");
	check_ok(store_act_begin(garden->store, ACT_WORK, "spots", &why), &why);
	for (int i = 0; i < 2; i++) {
		check_ok(store_spot_find(garden->store, i == 0 ? "f1" : "p1", &spot, &why), &why);
		snprintf(spot.area_id, sizeof spot.area_id, "%s", area.id);
		check_ok(store_spot_save(garden->store, &spot, &why), &why);
	}
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void all_of_a_kind_is_one_entry_a_tree_and_one_act(void **state)
{
	struct garden *garden = *state;
	plant_rows(garden);
	garden_log(garden, "all figs fed 1 lb 10-10-10 @ 2026-03-10");
	check_int(garden->logged.count, 2, "entries");
	check_has(garden->logged.said, "2 trees", "the answer");
	char *batches = garden_sql(garden, "SELECT count(*) || ' ' || count(DISTINCT batch) FROM "
					   "entry WHERE struck = 0 AND batch <> ''");
	check_text(batches, "2 1\n", "entries and batches");
	free(batches);
	check_int(count_entries(garden, garden_find(garden, "P1").id), 0, "the peach");
	undo(garden);
	check_int(count_entries(garden, garden_find(garden, "F1").id), 0, "one undo takes all");
	check_int(count_entries(garden, garden_find(garden, "F2").id), 0, "one undo takes all");
}

static void all_in_an_area_is_its_trees(void **state)
{
	struct garden *garden = *state;
	plant_rows(garden);
	garden_log(garden, "all in North watered 5 gal @ 2026-06-10");
	check_int(garden->logged.count, 2, "entries");
	check_int(count_entries(garden, garden_find(garden, "F1").id), 1, "inside");
	check_int(count_entries(garden, garden_find(garden, "F2").id), 0, "outside");
}

static void a_total_stays_undivided_on_its_area(void **state)
{
	struct garden *garden = *state;
	plant_rows(garden);
	garden_log(garden, "all in North fed 20 lb 10-10-10 total @ 2026-03-10");
	check_int(garden->logged.count, 1, "entries");
	check_int(count_entries(garden, garden_find(garden, "F1").id), 0, "none on the tree");
	char *kinds = garden_sql(garden, "SELECT subject_kind FROM entry WHERE struck = 0");
	check_text(kinds, "area\n", "the subject");
	free(kinds);
	const struct dossier *tree = garden_story(garden, "F1");
	check_int(tree->entry_count, 1, "the tree was fed");
	check_int(tree->entries[0]->amount_count, 0, "how much is not known");
}

static void grafts_are_no_plants_of_their_own_in_a_batch(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "L1", "apple", "2010", "");
	garden_log(garden, "L1 grafted Antonovka @ 2020-03-10");
	garden_log(garden, "all apples fed 1 lb 10-10-10 @ 2026-03-10");
	check_int(garden->logged.count, 1, "the host alone");
}

static void a_tree_planted_later_is_not_in_the_batch(void **state)
{
	struct garden *garden = *state;
	plant_rows(garden);
	garden_tree(garden, "F3", "fig", "2026-05-01", "");
	garden_log(garden, "all figs fed 1 lb 10-10-10 @ 2026-03-10");
	check_int(garden->logged.count, 2, "entries");
}

static void a_batch_of_nobody_is_refused(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "fig", "", "");
	check_refused(garden_try(garden, "all peaches fed 1 lb 10-10-10 @ 2026-03-10", &why),
		STATUS_ABSENT, &why, "peach");
}

/* --- what comes along --- */

static void died_closes_the_tree_and_its_grafts(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2010", "hole");
	garden_log(garden, "A1 grafted Bramley @ 2020-03-10");
	garden_log(garden, "A1 died fire blight @ 2026-04-02");
	struct tree tree = garden_find(garden, "A1");
	check_text(tree.gone.text, "2026-04-02", "day");
	check_text(tree.gone_reason, "fire blight", "reason");
	check_text(garden_find(garden, "A1/Bramley").gone.text, "2026-04-02", "the graft");
	check_text(tree.spot_id, "", "the hole is free");
	undo(garden);
	check_text(garden_find(garden, "A1").gone.text, "", "it stands again");
	garden_log(garden, "A1 died fire blight @ 2026-04-02");
	struct tree heir = garden_tree(garden, "A1", "peach", "2026-05-01", "hole");
	assert_string_not_equal(heir.id, tree.id);
	garden_log(garden, "A1 watered 5 gal @ 2026-05-02");
	check_int(count_entries(garden, heir.id), 1, "a reused label means the standing one");
}

static void a_struck_death_lets_it_stand_again(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "apple", "2010", "hole");
	garden_log(garden, "A1 grafted Bramley @ 2020-03-10");
	char id[ID_SIZE];
	snprintf(id, sizeof id, "%s", garden_log(garden, "A1 died wind @ 2026-04-02"));
	garden_log(garden, "A1 note still green under the bark @ 2026-06-01");
	check_ok(work_strike(garden->yard, id, &garden->logged, &why), &why);
	garden_look(garden);
	struct tree tree = garden_find(garden, "A1");
	check_text(tree.gone.text, "", "it stands");
	assert_string_not_equal(tree.spot_id, "");
	check_text(garden_find(garden, "A1/Bramley").gone.text, "", "its graft too");
}

static void moved_ends_one_spot_and_begins_another(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "fig", "2020", "pot bench");
	garden_log(garden, "A1 moved to north corner @ 2026-03-01");
	struct tree tree = garden_find(garden, "A1");
	struct tree_place *places;
	int32_t count;
	check_ok(store_tree_place_list(
			 garden->store, tree.id, NULL, garden->arena, &places, &count, &why),
		&why);
	check_int(count, 2, "places");
	check_int(places[0].to.value.day, garden_day("2026-03-01").day, "left on");
	struct spot spot;
	check_ok(store_spot_load(garden->store, tree.spot_id, &spot, &why), &why);
	check_text(spot.name, "north corner", "now at");
}

static void a_graft_is_not_moved_by_itself(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "apple", "2010", "");
	garden_log(garden, "A1 grafted Bramley @ 2020-03-10");
	check_refused(garden_try(garden, "A1/Bramley moved to north corner @ 2026-03-01", &why),
		STATUS_RANGE, &why, "graft");
}

static void potted_up_stands_in_a_larger_pot(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "lemon", "2024", "");
	garden_log(garden, "A1 potted up 25 l @ 2025-03-01");
	struct tree tree = garden_find(garden, "A1");
	struct spot spot;
	check_ok(store_spot_load(garden->store, tree.spot_id, &spot, &why), &why);
	check_int(spot.kind, SPOT_CONTAINER, "a container");
	check_int(spot.volume_ul.value, 25000000, "its volume");
	garden_log(garden, "A1 potted up 40 l @ 2026-03-01");
	struct tree again = garden_find(garden, "A1");
	check_text(again.spot_id, tree.spot_id, "the same place");
	check_ok(store_spot_load(garden->store, tree.spot_id, &spot, &why), &why);
	check_int(spot.volume_ul.value, 40000000, "a larger pot");
}

static void planting_fills_the_day_that_was_not_known(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "", "");
	garden_tree(garden, "A2", "fig", "2012", "");
	garden_log(garden, "A1 planted bare root @ 2024-02-03");
	garden_log(garden, "A2 planted bare root @ 2024-02-03");
	check_text(garden_find(garden, "A1").planted.text, "2024-02-03", "filled");
	check_text(garden_find(garden, "A2").planted.text, "2012", "left");
}

static void a_graft_of_the_same_name_gets_a_number(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2010", "");
	garden_log(garden, "A1 grafted Bramley @ 2020-03-10");
	garden_log(garden, "A1 grafted Bramley @ 2021-03-10");
	garden_log(garden, "A1 grafted @ 2022-03-10");
	struct tree host = garden_find(garden, "A1");
	check_text(garden_find(garden, "A1/Bramley 2").host_id, host.id, "host");
	check_text(garden_find(garden, "A1/graft").host_id, host.id, "a nameless one");
}

static void a_graft_of_another_kind_is_that_kind(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct tree_kind kind;
	garden_tree(garden, "A1", "peach", "2010", "");
	garden_log(garden, "A1 grafted apricot @ 2020-03-10");
	check_ok(yard_kind(garden->yard, garden_find(garden, "A1/apricot").id,
			 garden_day("2026-01-01"), &kind, &why),
		&why);
	check_text(kind.name, "apricot", "kind");
}

static void a_new_container_is_kept_by_name_once(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 picked 2 trugs @ 2025-08-20");
	check_has(garden->logged.said, "trug", "the answer speaks of it");
	garden_log(garden, "A1 picked 3 trugs @ 2025-08-27");
	char *names = garden_sql(garden, "SELECT count(*) FROM container WHERE struck = 0");
	check_text(names, "1\n", "containers");
	free(names);
}

static void a_plan_keeps_how_often_it_comes(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct plan plan;
	garden_tree(garden, "A1", "fig", "2010", "");
	const char *id = garden_log(garden, "A1 plan fed 1 lb 10-10-10 every 6 weeks @ 2026-07-01");
	check_ok(store_plan_find(garden->store, id, &plan, &why), &why);
	check_int(plan.every_days.value, 42, "days between");
	id = garden_log(garden, "A1 plan cut shape @ 2027-02-01");
	check_refused(store_plan_find(garden->store, id, &plan, &why), STATUS_ABSENT, NULL, "");
}

static void a_planned_death_closes_nothing(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 plan removed @ 2027-02-01");
	check_text(garden_find(garden, "A1").gone.text, "", "it stands");
}

/* --- mending --- */

static void a_mended_entry_keeps_its_id(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct tree tree = garden_tree(garden, "A1", "fig", "2010", "");
	char id[ID_SIZE];
	snprintf(id, sizeof id, "%s", garden_log(garden, "A1 picked 6 lb @ 2025-08-20"));
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	check_ok(work_mend(garden->yard, id, "A1 picked 5 lb @ 2025-08-21", &context,
			 &garden->logged, &why),
		&why);
	check_text(garden->logged.entry_id, id, "id");
	check_int(count_entries(garden, tree.id), 1, "still one");
	struct entry entry;
	check_ok(store_entry_load(garden->store, id, garden->arena, &entry, &why), &why);
	check_text(entry.day.text, "2025-08-21", "day");
	check_text(entry.words, "A1 picked 5 lb @ 2025-08-21", "words");
	undo(garden);
	check_ok(store_entry_load(garden->store, id, garden->arena, &entry, &why), &why);
	check_text(entry.day.text, "2025-08-20", "day after undo");
}

static void a_death_is_not_mended_into_a_pick(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "fig", "2010", "");
	char id[ID_SIZE];
	snprintf(id, sizeof id, "%s", garden_log(garden, "A1 died frost @ 2026-01-20"));
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	check_refused(work_mend(garden->yard, id, "A1 picked 5 lb @ 2025-08-21", &context,
			      &garden->logged, &why),
		STATUS_RANGE, &why, "strike it");
}

static void the_day_of_a_death_moves_with_its_entry(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "fig", "2010", "");
	char id[ID_SIZE];
	snprintf(id, sizeof id, "%s", garden_log(garden, "A1 died frost @ 2026-01-20"));
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	check_ok(work_mend(garden->yard, id, "A1 died frost @ 2026-01-18", &context,
			 &garden->logged, &why),
		&why);
	garden_look(garden);
	check_text(garden_find(garden, "A1").gone.text, "2026-01-18", "day");
}

/* --- trees --- */

static void a_label_that_stands_is_not_given_twice(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct new_tree tree = {.tree.label = "A1"};
	char id[ID_SIZE];
	garden_tree(garden, "a1", "fig", "", "");
	check_refused(work_tree_add(garden->yard, &tree, garden->asked, id, &why), STATUS_CONFLICT,
		&why, "A1");
}

static void a_species_is_certain_and_a_cultivar_suspected_unless_said(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct new_tree tree = {.tree.label = "A1", .species = "Apple", .cultivar = "Bramley"};
	struct tree_kind kind;
	char id[ID_SIZE];
	check_ok(work_tree_add(garden->yard, &tree, garden->asked, id, &why), &why);
	check_ok(yard_kind(garden->yard, id, garden_day("2026-01-01"), &kind, &why), &why);
	check_int(kind.sure, SURE_CERTAIN, "species");
	check_int(kind.cultivar_sure, SURE_SUSPECTED, "cultivar");
	check_text(kind.species->key, "apple", "the key, whatever the case");
}

static void an_unknown_kind_is_kept_as_said(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "zorbfruit", "", "");
	check_has(garden->asked, "zorbfruit", "the answer");
	check_text(garden_story(garden, "A1")->kind.name, "zorbfruit", "shown");
}

static void a_change_needs_its_day(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct tree tree = garden_tree(garden, "A1", "apple", "", "");
	struct new_identity identity = {.species = "peach", .is_change = true};
	check_refused(work_identify(garden->yard, tree.id, &identity, garden->asked, &why),
		STATUS_RANGE, &why, "day");
	struct new_identity nothing = {.species = ""};
	check_refused(work_identify(garden->yard, tree.id, &nothing, garden->asked, &why),
		STATUS_SYNTAX, &why, "A1");
}

static void a_bad_answer_to_a_flag_is_refused(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	const char *key = "feed-due|X|2026|2026-03-01";
	check_refused(work_put_off(garden->yard, key, garden_day("2026-06-20"), &why), STATUS_RANGE,
		&why, "2026-06-20");
	check_refused(work_put_off(garden->yard, key, garden_day("2027-06-21"), &why), STATUS_RANGE,
		&why, "a year");
	check_ok(work_put_off(garden->yard, key, garden_day("2027-06-20"), &why), &why);
	check_refused(work_set_aside(garden->yard, key, "  ", &why), STATUS_SYNTAX, &why, "reason");
	check_refused(work_set_aside(garden->yard, "", "dry year", &why), STATUS_RANGE, &why, "");
	check_refused(
		work_rule_on(garden->yard, "feed-due", "", &why), STATUS_ABSENT, &why, "feed-due");
}

#define FACT(name) cmocka_unit_test_setup_teardown(name, garden_setup, garden_teardown)

int main(void)
{
	const struct CMUnitTest tests[] = {
		FACT(a_line_is_one_entry_and_undo_takes_it),
		FACT(a_refused_line_logs_nothing),
		FACT(all_of_a_kind_is_one_entry_a_tree_and_one_act),
		FACT(all_in_an_area_is_its_trees),
		FACT(a_total_stays_undivided_on_its_area),
		FACT(grafts_are_no_plants_of_their_own_in_a_batch),
		FACT(a_tree_planted_later_is_not_in_the_batch),
		FACT(a_batch_of_nobody_is_refused),
		FACT(died_closes_the_tree_and_its_grafts),
		FACT(a_struck_death_lets_it_stand_again),
		FACT(moved_ends_one_spot_and_begins_another),
		FACT(a_graft_is_not_moved_by_itself),
		FACT(potted_up_stands_in_a_larger_pot),
		FACT(planting_fills_the_day_that_was_not_known),
		FACT(a_graft_of_the_same_name_gets_a_number),
		FACT(a_graft_of_another_kind_is_that_kind),
		FACT(a_new_container_is_kept_by_name_once),
		FACT(a_plan_keeps_how_often_it_comes),
		FACT(a_planned_death_closes_nothing),
		FACT(a_mended_entry_keeps_its_id),
		FACT(a_death_is_not_mended_into_a_pick),
		FACT(the_day_of_a_death_moves_with_its_entry),
		FACT(a_label_that_stands_is_not_given_twice),
		FACT(a_species_is_certain_and_a_cultivar_suspected_unless_said),
		FACT(an_unknown_kind_is_kept_as_said),
		FACT(a_change_needs_its_day),
		FACT(a_bad_answer_to_a_flag_is_refused),
	};
	return cmocka_run_group_tests_name("the grower's acts", tests, NULL, NULL) != 0;
}
