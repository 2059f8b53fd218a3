/* SPDX-License-Identifier: MIT */
/* What a tree is on a day, from opinions laid on the line of time. */
#include "support/test.h"

#include <stdio.h>
#include <string.h>

#include "dossier/kind.h"

enum { ROWS_MAX = 5 };

struct opinion {
	const char *what; /* "species" or "cultivar" */
	const char *name;
	enum sure sure;
	const char *opinion;
	const char *day; /* "" unknown */
	bool is_change;
};

struct kind_case {
	const char *name;
	struct opinion rows[ROWS_MAX];
	const char *on; /* the day asked about */
	const char *kind;
	const char *cultivar;
	const char *species_key; /* "" none */
	int candidates;
};

/* clang-format off */
static const struct kind_case cases[] = {
	{"no_opinion_is_unknown", {{0}}, "2026-05-01", "unknown", "", "", 0},
	{"certain_is_the_kind", {{"species", "loquat", SURE_CERTAIN, "o1", "", false}},
		"2026-05-01", "loquat", "", "loquat", 0},
	{"suspected_bears_a_question_mark", {{"species", "fig", SURE_SUSPECTED, "o1", "", false}},
		"2026-05-01", "fig?", "", "fig", 0},
	{"said_unknown_is_unknown", {{"species", "fig", SURE_CERTAIN, "o1", "", false},
		{"species", "", SURE_UNKNOWN, "o2", "", false}}, "2026-05-01", "unknown", "", "", 0},
	{"candidates_of_one_opinion_stand_together",
		{{"species", "orange", SURE_CANDIDATE, "o1", "", false},
		{"species", "lemon", SURE_CANDIDATE, "o1", "", false}},
		"2026-05-01", "sweet orange or lemon", "", "", 2},
	{"a_lone_candidate_is_in_doubt", {{"species", "fig", SURE_CANDIDATE, "o1", "", false}},
		"2026-05-01", "fig?", "", "", 1},
	{"a_later_opinion_ends_candidates",
		{{"species", "orange", SURE_CANDIDATE, "o1", "", false},
		{"species", "lemon", SURE_CANDIDATE, "o1", "", false},
		{"species", "lemon", SURE_CERTAIN, "o2", "", false}},
		"2026-05-01", "lemon", "", "lemon", 0},
	{"candidates_of_two_opinions_do_not_mix",
		{{"species", "orange", SURE_CANDIDATE, "o1", "", false},
		{"species", "lemon", SURE_CANDIDATE, "o2", "", false}},
		"2026-05-01", "lemon?", "", "", 1},
	{"a_correction_is_of_all_time", {{"species", "apple", SURE_CERTAIN, "o1", "2010-01-01", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2026-01-01", false}},
		"2012-05-01", "peach", "", "peach", 0},
	{"before_a_change_stays_as_it_was", {{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true}},
		"2020-02-29", "apple", "", "apple", 0},
	{"a_change_holds_from_its_day", {{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true}},
		"2020-03-01", "peach", "", "peach", 0},
	{"a_correction_without_day_is_since_the_last_change",
		{{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true},
		{"species", "apricot", SURE_CERTAIN, "o3", "", false}},
		"2019-05-01", "apple", "", "apple", 0},
	{"a_correction_reaches_back_to_the_change_before_it",
		{{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true},
		{"species", "apricot", SURE_CERTAIN, "o3", "2024-01-01", false}},
		"2021-05-01", "apricot", "", "apricot", 0},
	{"a_correction_dated_before_a_change_mends_the_time_before",
		{{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true},
		{"species", "fig", SURE_CERTAIN, "o3", "2015-01-01", false}},
		"2012-05-01", "fig", "", "fig", 0},
	{"and_leaves_the_time_after_alone",
		{{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true},
		{"species", "fig", SURE_CERTAIN, "o3", "2015-01-01", false}},
		"2022-05-01", "peach", "", "peach", 0},
	{"a_change_told_late_ends_where_the_next_begins",
		{{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true},
		{"species", "fig", SURE_CERTAIN, "o3", "2015-03-01", true}},
		"2022-05-01", "peach", "", "peach", 0},
	{"a_first_opinion_typed_after_a_change_day_still_began_before",
		{{"species", "apple", SURE_CERTAIN, "o1", "2024-01-01", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true}},
		"2018-05-01", "apple", "", "apple", 0},
	{"a_cultivar_stands_beside_its_kind", {{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"cultivar", "Antonovka", SURE_SUSPECTED, "o2", "", false}},
		"2026-05-01", "apple", "Antonovka", "apple", 0},
	{"two_cultivars_of_one_opinion_are_an_or",
		{{"cultivar", "Comice", SURE_CANDIDATE, "o1", "", false},
		{"cultivar", "Bosc", SURE_CANDIDATE, "o1", "", false}},
		"2026-05-01", "unknown", "Comice or Bosc", "", 0},
	{"another_kind_takes_the_cultivar_along", {{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"cultivar", "Antonovka", SURE_CERTAIN, "o2", "", false},
		{"species", "peach", SURE_CERTAIN, "o3", "", false}},
		"2026-05-01", "peach", "", "peach", 0},
	{"the_same_kind_again_leaves_the_cultivar", {{"species", "apple", SURE_SUSPECTED, "o1", "", false},
		{"cultivar", "Antonovka", SURE_CERTAIN, "o2", "", false},
		{"species", "apple", SURE_CERTAIN, "o3", "", false}},
		"2026-05-01", "apple", "Antonovka", "apple", 0},
	{"a_changed_kind_brings_its_own_cultivar", {{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"cultivar", "Antonovka", SURE_CERTAIN, "o2", "", false},
		{"species", "peach", SURE_CERTAIN, "o3", "2020-03-01", true},
		{"cultivar", "Elberta", SURE_CERTAIN, "o4", "2020-03-01", true}},
		"2021-05-01", "peach", "Elberta", "peach", 0},
	{"a_changed_cultivar_leaves_the_kind", {{"species", "apple", SURE_CERTAIN, "o1", "", false},
		{"cultivar", "Antonovka", SURE_CERTAIN, "o2", "", false},
		{"cultivar", "Cox", SURE_CERTAIN, "o3", "2020-03-01", true}},
		"2019-05-01", "apple", "Antonovka", "apple", 0},
	{"a_kind_outside_the_almanac_is_known_by_name",
		{{"species", "mango", SURE_CERTAIN, "o1", "", false}},
		"2026-05-01", "mango", "", "", 0},
	{"a_name_that_nobody_knows_is_shown_as_said",
		{{"species", "zorbfruit", SURE_SUSPECTED, "o1", "", false}},
		"2026-05-01", "zorbfruit?", "", "", 0},
};
/* clang-format on */

static struct almanac *almanac;

static struct date day_of(const char *iso)
{
	struct fault why = {0};
	struct date day = {0};
	check_ok(date_parse_iso(iso, &day, &why), &why);
	return day;
}

static int32_t fill_rows(const struct opinion *opinions, struct identity *rows)
{
	int32_t count = 0;
	for (; count < ROWS_MAX && opinions[count].what != NULL; count++) {
		const struct opinion *opinion = &opinions[count];
		struct identity *row = &rows[count];
		*row = (struct identity){
			.is_cultivar = strcmp(opinion->what, "cultivar") == 0,
			.sure = opinion->sure,
			.is_change = opinion->is_change,
		};
		snprintf(row->name, sizeof row->name, "%s", opinion->name);
		snprintf(row->opinion, sizeof row->opinion, "%s", opinion->opinion);
		if (opinion->day[0] != '\0')
			row->day = date_span_of(day_of(opinion->day));
	}
	return count;
}

static void run_case(const void *one)
{
	const struct kind_case *kind_case = one;
	struct identity rows[ROWS_MAX];
	int32_t count = fill_rows(kind_case->rows, rows);
	struct tree_kind kind = kind_on(almanac, rows, count, day_of(kind_case->on));
	check_text(kind.name, kind_case->kind, "kind");
	check_text(kind.cultivar, kind_case->cultivar, "cultivar");
	check_text(kind.species == NULL ? "" : kind.species->key, kind_case->species_key, "key");
	check_int(kind.candidate_count, kind_case->candidates, "candidates");
}

static void changes_are_sorted_and_each_once(void **state)
{
	(void)state;
	const struct opinion opinions[ROWS_MAX] = {
		{"species", "apple", SURE_CERTAIN, "o1", "2001-01-01", false},
		{"species", "peach", SURE_CERTAIN, "o2", "2020-03-01", true},
		{"cultivar", "Elberta", SURE_CERTAIN, "o3", "2020-03-01", true},
		{"cultivar", "Redhaven", SURE_CERTAIN, "o4", "2010-03-01", true},
		{"species", "fig", SURE_CERTAIN, "o5", "2030-03-01", true},
	};
	struct identity rows[ROWS_MAX];
	struct date changes[ERAS_MAX];
	int32_t count = fill_rows(opinions, rows);
	check_int(kind_changes(rows, count, day_of("2026-01-01"), changes), 2, "changes");
	check_int(changes[0].day, day_of("2010-03-01").day, "first");
	check_int(changes[1].day, day_of("2020-03-01").day, "second");
}

int main(void)
{
	struct fault why = {0};
	if (almanac_open("share/almanac", &almanac, &why) != STATUS_OK) {
		fprintf(stderr, "%s\n", why.text);
		return 1;
	}
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(changes_are_sorted_and_each_once),
	};
	int failed = RUN_CASES("what a tree is", cases, run_case);
	failed += cmocka_run_group_tests_name("changes", tests, NULL, NULL);
	almanac_close(almanac);
	return failed != 0;
}
