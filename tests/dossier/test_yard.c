/* SPDX-License-Identifier: MIT */
/* One tree's story, gathered from a log that was written line by line. */
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

static const struct season *season_of(const struct dossier *dossier, int32_t year)
{
	const struct season *season = dossier_season(dossier, year);
	assert_non_null(season);
	return season;
}

static int32_t count_kind(const struct dossier *dossier, enum entry_kind kind)
{
	int32_t count = 0;
	for (int32_t i = 0; i < dossier->entry_count; i++)
		count += dossier->entries[i]->kind == kind ? 1 : 0;
	return count;
}

static const struct entry *first_of(const struct dossier *dossier, enum entry_kind kind)
{
	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (dossier->entries[i]->kind == kind)
			return dossier->entries[i];
	return NULL;
}

/* --- two trees in one spot --- */

static void clump_picks_are_the_spots_own(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct tree east = garden_tree(garden, "east fig", "fig", "2015", "clump");
	garden_tree(garden, "west fig", "fig", "2015", "clump");
	garden_log(garden, "spot clump picked 12 lb @ 2025-08-20");
	garden_log(garden, "spot clump picked 3 lb @ 2025-09-02");
	garden_log(garden, "east fig picked 2 lb @ 2025-08-22");
	const struct spot_crop *crop = NULL;
	check_ok(yard_spot_crop(garden->yard, east.spot_id, garden->arena, &crop, &why), &why);
	check_int(crop->trees, 2, "trees in the clump");
	check_text(crop->kind_name, "fig", "kind");
	check_int(crop->entry_count, 2, "picks");
	bool found = false;
	for (int32_t i = 0; i < crop->season_count; i++) {
		if (crop->seasons[i].year != 2025)
			continue;
		found = true;
		check_int(crop->seasons[i].picked.low, INT64_C(15) * 453592370 / 1000, "15 lb");
	}
	assert_true(found);
	const struct dossier *tree = garden_story(garden, "east fig");
	check_int(season_of(tree, 2025)->picks, 1, "picks of the tree itself");
	const struct dossier *other = garden_story(garden, "west fig");
	check_int(count_kind(other, KIND_PICK), 0, "picks of the other");
}

static void work_on_a_shared_spot_counts_without_its_figure(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2015", "clump");
	garden_tree(garden, "A2", "fig", "2015", "clump");
	garden_log(garden, "spot clump fed 4 lb 10-10-10 @ 2026-03-10");
	const struct dossier *tree = garden_story(garden, "A2");
	check_int(count_kind(tree, KIND_FEED), 1, "feeds");
	check_int(first_of(tree, KIND_FEED)->amount_count, 0, "figures of the feed");
}

static void work_on_a_spot_of_one_is_the_trees_with_its_figure(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2015", "alone");
	garden_log(garden, "spot alone fed 4 lb 10-10-10 @ 2026-03-10");
	const struct entry *feed = first_of(garden_story(garden, "A1"), KIND_FEED);
	assert_non_null(feed);
	assert_non_null(entry_amount(feed, FIELD_PRODUCT_MASS));
}

static void work_on_a_spot_from_before_it_stood_there_is_not_its(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2024-02-01", "hole");
	garden_log(garden, "spot hole mulched 4 in wood chip @ 2023-05-01");
	check_int(count_kind(garden_story(garden, "A1"), KIND_MULCH), 0, "mulch");
}

/* --- host and grafts --- */

static void plant_host(struct garden *garden)
{
	garden_tree(garden, "H1", "apple", "2010", "row end");
	garden_log(garden, "H1 grafted Antonovka whip @ 2018-03-20");
	garden_log(garden, "H1 grafted Bramley whip @ 2018-03-20");
	garden_log(garden, "H1 cut shape 10% of crown @ 2017-02-01");
	garden_log(garden, "H1 cut shape 15% of crown @ 2026-02-01");
	garden_log(garden, "H1/Bramley cut thinning 5% of crown @ 2026-02-03");
	garden_log(garden, "H1/Antonovka picked 20 lb @ 2025-09-20");
}

static void a_cut_on_the_host_is_in_its_grafts(void **state)
{
	struct garden *garden = *state;
	plant_host(garden);
	const struct dossier *graft = garden_story(garden, "H1/Antonovka");
	check_int(count_kind(graft, KIND_CUT), 1, "cuts since it was grafted");
	const struct dossier *bramley = garden_story(garden, "H1/Bramley");
	check_int(count_kind(bramley, KIND_CUT), 2, "its own cut too");
}

static void a_cut_that_names_a_graft_is_not_the_hosts(void **state)
{
	struct garden *garden = *state;
	plant_host(garden);
	const struct dossier *host = garden_story(garden, "H1");
	check_int(count_kind(host, KIND_CUT), 2, "cuts of the host");
	check_int(count_kind(host, KIND_PICK), 0, "picks of the host");
	check_int(host->graft_count, 2, "grafts");
	assert_ptr_equal(host->grafts[0]->host, host);
}

static void a_graft_stands_where_its_host_stands(void **state)
{
	struct garden *garden = *state;
	plant_host(garden);
	const struct dossier *graft = garden_story(garden, "H1/Antonovka");
	assert_non_null(graft->host);
	assert_non_null(graft->spot);
	check_text(graft->spot->name, "row end", "spot");
	check_text(graft->kind.name, "apple?", "kind, taken from the host");
	check_text(graft->kind.cultivar, "Antonovka", "cultivar");
	check_int(season_of(graft, 2025)->picks, 1, "picks");
}

static enum status count_visit(void *owner, const struct dossier *dossier, struct fault *why)
{
	(void)why;
	char *seen = owner;
	strcat(seen, dossier->tree.label);
	strcat(seen, ";");
	return STATUS_OK;
}

static void each_tree_is_visited_once_grafts_after_their_host(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	char seen[400] = "";
	plant_host(garden);
	garden_tree(garden, "A1", "fig", "", "");
	garden_tree(garden, "Z9", "fig", "", "");
	garden_log(garden, "Z9 died frost @ 2026-01-20");
	const struct yard_visitor visitor = {.owner = seen, .visit = count_visit};
	check_ok(yard_each(garden->yard, false, &visitor, &why), &why);
	check_text(seen, "A1;H1;H1/Antonovka;H1/Bramley;", "visited");
	seen[0] = '\0';
	check_ok(yard_each(garden->yard, true, &visitor, &why), &why);
	check_text(seen, "A1;H1;H1/Antonovka;H1/Bramley;Z9;", "visited with those gone");
}

/* --- what it is --- */

static void a_correction_reads_earlier_seasons_anew(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2010", "");
	garden_log(garden, "A1 picked 30 lb @ 2024-11-20");
	check_int(season_of(garden_story(garden, "A1"), 2024)->picks, 1, "as an apple");
	garden_identify(garden, "A1", "orange", "", "");
	const struct dossier *orange = garden_story(garden, "A1");
	assert_true(orange->season_rule.crosses);
	check_int(season_of(orange, 2024)->picks, 1, "an orange of 2024/25");
	garden_log(garden, "A1 picked 30 lb @ 2024-02-20");
	check_int(season_of(garden_story(garden, "A1"), 2023)->picks, 1, "of 2023/24");
}

static void a_change_leaves_earlier_seasons_and_starts_anew(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2010", "");
	garden_log(garden, "A1 picked 30 lb @ 2018-09-20");
	garden_log(garden, "A1 picked 40 lb @ 2019-09-20");
	garden_identify(garden, "A1", "peach", "", "2021-03-01");
	garden_log(garden, "A1 picked 7 lb, last @ 2024-07-20");
	const struct dossier *dossier = garden_story(garden, "A1");
	check_text(dossier->kind.name, "peach", "now");
	check_int(season_of(dossier, 2018)->picks, 1, "an apple season stays");
	check_int(season_of(dossier, 2024)->picks, 1, "a peach season");
	check_int(dossier->expected.seasons, 1, "seasons behind what is expected");
	for (int32_t i = 1; i < dossier->season_count; i++)
		check_int(dossier->seasons[i].year, dossier->seasons[i - 1].year + 1,
			"no year is left out");
}

static void two_kinds_that_fit_are_candidates_and_asked(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "orange or lemon", "", "");
	check_has(garden->asked, "candidate", "the question");
	const struct dossier *dossier = garden_story(garden, "A1");
	assert_null(dossier->kind.species);
	check_int(dossier->kind.candidate_count, 2, "candidates");
	check_text(dossier->kind.name, "sweet orange or lemon", "shown");
}

static void age_is_a_span_of_years(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2015-06-21", "");
	garden_tree(garden, "A2", "fig", "199X", "");
	garden_tree(garden, "A3", "fig", "", "");
	const struct dossier *day_short = garden_story(garden, "A1");
	check_int(day_short->age_low_years.value, 10, "the day before eleven");
	const struct dossier *nineties = garden_story(garden, "A2");
	check_int(nineties->age_low_years.value, 26, "at least");
	check_int(nineties->age_high_years.value, 36, "at most");
	assert_false(garden_story(garden, "A3")->age_low_years.known);
}

/* --- crops and learning --- */

static void containers_count_by_the_weight_of_that_day(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 picked 2 trugs @ 2024-08-20");
	struct container *containers;
	struct container_weight *weights;
	int32_t count;
	int32_t weight_count;
	check_ok(store_container_list(garden->store, garden->arena, &containers, &count, &weights,
			 &weight_count, &why),
		&why);
	check_int(count, 1, "the trug was kept");
	check_int(season_of(garden_story(garden, "A1"), 2024)->unweighed, 1, "not weighed yet");
	struct container_weight early = {.weight_mg = 3000000};
	struct container_weight late = {
		.weight_mg = 5000000, .from = known_date(garden_day("2025-01-01"))};
	snprintf(early.container_id, sizeof early.container_id, "%s", containers[0].id);
	snprintf(late.container_id, sizeof late.container_id, "%s", containers[0].id);
	check_ok(store_act_begin(garden->store, ACT_WORK, "weighed", &why), &why);
	check_ok(store_container_weight_add(garden->store, &early, &why), &why);
	check_ok(store_container_weight_add(garden->store, &late, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_log(garden, "A1 picked 1 trug @ 2025-08-20");
	const struct dossier *dossier = garden_story(garden, "A1");
	check_int(season_of(dossier, 2024)->picked.low, 6000000, "two at the first weight");
	check_int(season_of(dossier, 2025)->picked.low, 5000000, "one at the second");
	assert_true(season_of(dossier, 2025)->picked.about);
}

static void bloom_of_two_seasons_is_learned_the_earliest_day_of_each(void **state)
{
	static const char *const lines[] = {
		"A1 stage 60 @ 2024-02-20",
		"A1 stage 65 @ 2024-02-28",
		"A1 stage 61 @ 2025-02-24",
		"A1 stage 69 @ 2023-05-01 ; petal fall code, still flowering by the scale",
		NULL,
	};
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2010", "");
	garden_log_all(garden, lines);
	check_int(garden_story(garden, "A1")->learning.bloom.seasons, 3, "seasons of bloom");
}

static void words_of_bloom_count_and_bud_words_do_not(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2010", "");
	garden_log(garden, "A1 bloom @ 2024-03-10");
	garden_log(garden, "A1 stage bud burst @ 2025-02-10");
	check_int(garden_story(garden, "A1")->learning.bloom.seasons, 1, "seasons of bloom");
}

static void first_picks_are_learned_and_none_is_no_pick(void **state)
{
	static const char *const lines[] = {
		"A1 picked 5 lb @ 2024-08-30",
		"A1 picked 5 lb @ 2024-09-10",
		"A1 picked 6 lb @ 2025-09-02",
		"A1 picked none @ 2023-08-25",
		"A1 picked 9 lb @ 2022",
		NULL,
	};
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2010", "");
	garden_log_all(garden, lines);
	const struct dossier *dossier = garden_story(garden, "A1");
	check_int(dossier->learning.harvest.seasons, 2, "first picks by the day");
	check_int(dossier->learning.harvest_end.seasons, 2, "last picks");
}

static void nothing_is_learned_without_a_hemisphere(void **state)
{
	(void)state;
	struct garden garden;
	const struct place nowhere = {.hemisphere = HEMISPHERE_UNKNOWN};
	garden_make_at(&garden, &nowhere, "2026-06-20");
	garden_tree(&garden, "A1", "apple", "2010", "");
	garden_log(&garden, "A1 bloom @ 2024-03-10");
	garden_log(&garden, "A1 bloom @ 2025-03-10");
	check_int(garden_story(&garden, "A1")->learning.bloom.seasons, 0, "seasons");
	garden_free(&garden);
}

static void stems_measured_together_make_one_trunk(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 stems 3 in and 4 in across @ 2026-05-01");
	const struct dossier *dossier = garden_story(garden, "A1");
	assert_true(dossier->trunk.known);
	check_int(dossier->trunk.stems, 2, "stems");
	check_int(dossier->trunk.diameter_um, 5 * 25400, "3 and 4 make 5");
}

static void planned_work_stands_apart(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "fig", "2010", "");
	garden_log(garden, "A1 plan cut shape @ 2027-02-01");
	const struct dossier *dossier = garden_story(garden, "A1");
	check_int(dossier->planned_count, 1, "planned");
	check_int(dossier->entry_count, 0, "done");
}

static void trying_an_entry_leaves_the_story_as_it_was(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	struct tree tree = garden_tree(garden, "A1", "fig", "2010", "");
	struct entry tried = {.kind = KIND_CUT, .id = "this", .words = "", .note = ""};
	tried.subject.kind = SUBJECT_TREE;
	snprintf(tried.subject.id, sizeof tried.subject.id, "%s", tree.id);
	tried.day = date_span_of(garden_day("2026-07-01"));
	const struct dossier *with = NULL;
	check_ok(yard_dossier_with(
			 garden->yard, tree.id, &tried, garden_day("2026-07-01"), &with, &why),
		&why);
	check_int(with->entry_count, 1, "with it");
	check_int(garden_story(garden, "A1")->entry_count, 0, "without it");
}

static void a_tree_that_is_not_there_is_absent(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	const struct dossier *dossier = NULL;
	check_refused(yard_dossier(garden->yard, "01ARZ3NDEKTSV4RRFFQ69G5FAV", &dossier, &why),
		STATUS_ABSENT, &why, "");
}

static void forecasts_are_not_the_weather(void **state)
{
	struct garden *garden = *state;
	struct fault why = {0};
	bool same;
	struct weather_day seen = {.day = garden_day("2026-06-18"), .rain_um = known_i64(2000)};
	struct weather_day guess = {.day = garden_day("2026-06-19"), .forecast = true};
	struct weather_day old = {.day = garden_day("2025-01-01")};
	check_ok(store_act_begin(garden->store, ACT_IMPORT, "weather", &why), &why);
	check_ok(store_weather_day_put(garden->store, &seen, &same, &why), &why);
	check_ok(store_weather_day_put(garden->store, &guess, &same, &why), &why);
	check_ok(store_weather_day_put(garden->store, &old, &same, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_tree(garden, "A1", "fig", "2010", "");
	const struct dossier *dossier = garden_story(garden, "A1");
	check_int(dossier->weather_count, 1, "days of the last 400, observed");
	check_int(dossier->weather[0].rain_um.value, 2000, "its rain");
}

#define FACT(name) cmocka_unit_test_setup_teardown(name, garden_setup, garden_teardown)

int main(void)
{
	const struct CMUnitTest tests[] = {
		FACT(clump_picks_are_the_spots_own),
		FACT(work_on_a_shared_spot_counts_without_its_figure),
		FACT(work_on_a_spot_of_one_is_the_trees_with_its_figure),
		FACT(work_on_a_spot_from_before_it_stood_there_is_not_its),
		FACT(a_cut_on_the_host_is_in_its_grafts),
		FACT(a_cut_that_names_a_graft_is_not_the_hosts),
		FACT(a_graft_stands_where_its_host_stands),
		FACT(each_tree_is_visited_once_grafts_after_their_host),
		FACT(a_correction_reads_earlier_seasons_anew),
		FACT(a_change_leaves_earlier_seasons_and_starts_anew),
		FACT(two_kinds_that_fit_are_candidates_and_asked),
		FACT(age_is_a_span_of_years),
		FACT(containers_count_by_the_weight_of_that_day),
		FACT(bloom_of_two_seasons_is_learned_the_earliest_day_of_each),
		FACT(words_of_bloom_count_and_bud_words_do_not),
		FACT(first_picks_are_learned_and_none_is_no_pick),
		cmocka_unit_test(nothing_is_learned_without_a_hemisphere),
		FACT(stems_measured_together_make_one_trunk),
		FACT(planned_work_stands_apart),
		FACT(trying_an_entry_leaves_the_story_as_it_was),
		FACT(a_tree_that_is_not_there_is_absent),
		FACT(forecasts_are_not_the_weather),
	};
	return cmocka_run_group_tests_name("a tree's story", tests, NULL, NULL) != 0;
}
