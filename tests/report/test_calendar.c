/* SPDX-License-Identifier: MIT */
/* The year ahead: which windows, plans and put-offs stand in it, and under which ids. */
#include "report/calendar.h"

#include <stdlib.h>

#include "core/text.h"

#include "support/garden.h"

static struct calendar look(struct garden *garden, bool without_private)
{
	struct calendar calendar;
	struct fault why = {0};

	check_ok(
		calendar_make(garden->yard, without_private, garden->arena, &calendar, &why), &why);
	return calendar;
}

/* The nth event whose title begins so; NULL none. */
static const struct calendar_event *event_of(
	const struct calendar *calendar, const char *title, int nth)
{
	for (int32_t i = 0; i < calendar->count; i++)
		if (strncmp(calendar->events[i].title, title, strlen(title)) == 0 && nth-- == 0)
			return &calendar->events[i];
	return NULL;
}

static const struct calendar_event *need(const struct calendar *calendar, const char *title)
{
	const struct calendar_event *event = event_of(calendar, title, 0);

	if (event == NULL)
		fail_msg("nothing is called '%s'", title);
	return event;
}

static void check_days(const struct calendar_event *event, const char *from, const char *to)
{
	char text[DATE_SIZE];

	check_text(date_format(event->from, text), from, event->title);
	check_text(date_format(event->to, text), to, event->title);
}

static void make(struct garden *garden)
{
	garden_make(garden, "2026-11-24");
	garden_tree(garden, "A1", "peach", "2014", "A1");
	garden_tree(garden, "A2", "peach", "2015", "A2");
	garden_tree(garden, "A3", "fig", "2015", "A3");
	garden_tree(garden, "A4", "", "", "A4");
}

static void trees_of_a_kind_stand_together(void **state)
{
	struct garden garden;
	(void)state;

	make(&garden);
	struct calendar calendar = look(&garden, false);
	const struct calendar_event *saw = need(&calendar, "clear for the saw: peach");
	check_text(saw->trees, "A1, A2", "both peaches");
	check_days(saw, "2027-01-15", "2027-02-28");
	check_int(saw->kind, CALENDAR_WINDOW, "a window");
	check_text(need(&calendar, "clear for the saw: fig")->trees, "A3", "the fig");
	assert_null(event_of(&calendar, "clear for the saw: unknown", 0));
	for (int32_t i = 1; i < calendar.count; i++)
		assert_true(
			date_compare(calendar.events[i - 1].from, calendar.events[i].from) <= 0);
	garden_free(&garden);
}

static void days_of_its_own_stand_alone_under_an_id_that_stays(void **state)
{
	struct garden garden;
	char uid[CALENDAR_UID_SIZE];
	(void)state;

	make(&garden);
	garden_log(&garden, "A1 picked 9 lb @ 2024-08-20");
	garden_log(&garden, "A1 picked last 9 lb @ 2024-08-24");
	garden_log(&garden, "A1 picked 9 lb @ 2025-08-22");
	garden_log(&garden, "A1 picked last 9 lb @ 2025-08-26");
	struct calendar calendar = look(&garden, false);
	const struct calendar_event *harvest = need(&calendar, "harvest: peach");
	check_text(harvest->trees, "A1", "the one that learned");
	check_days(harvest, "2027-08-21", "2027-08-25");
	text_copy(uid, sizeof uid, harvest->uid);
	garden_log(&garden, "A1 picked 9 lb @ 2023-08-28");
	garden_log(&garden, "A1 picked last 9 lb @ 2023-08-29");
	garden_today(&garden, "2026-12-30");
	calendar = look(&garden, false);
	harvest = need(&calendar, "harvest: peach");
	check_days(harvest, "2027-08-22", "2027-08-26");
	check_text(harvest->uid, uid, "other days, the same event");
	garden_free(&garden);
}

static void a_plan_stands_until_it_is_done(void **state)
{
	struct garden garden;
	(void)state;

	make(&garden);
	const char *id = garden_log(&garden, "A3 plan cut limb 1 of 3 @ 2027-02-10 ; north limb");
	char uid[80];
	snprintf(uid, sizeof uid, "plan-%s@%s", id, yard_place(garden.yard)->id);
	struct calendar calendar = look(&garden, false);
	const struct calendar_event *plan = need(&calendar, "planned: cut");
	check_text(plan->trees, "A3", "whose");
	check_text(plan->words, "north limb", "what was noted");
	check_text(plan->uid, uid, "the entry's own id");
	check_days(plan, "2027-02-10", "2027-02-10");
	garden_today(&garden, "2027-02-12");
	garden_log(&garden, "A3 cut thinning @ 2027-02-11");
	calendar = look(&garden, false);
	assert_null(event_of(&calendar, "planned: cut", 0));
	garden_free(&garden);
}

static void a_plan_that_comes_again_says_so(void **state)
{
	struct garden garden;
	(void)state;

	make(&garden);
	garden_log(&garden, "A3 plan watered every 14 days @ 2026-12-01");
	struct calendar calendar = look(&garden, false);
	const struct calendar_event *plan = need(&calendar, "planned: ");
	check_int(plan->every_days, 14, "every");
	check_days(plan, "2026-12-01", "2026-12-01");
	garden_today(&garden, "2026-12-03");
	garden_log(&garden, "A3 watered 5 gal @ 2026-12-02");
	calendar = look(&garden, false);
	check_days(need(&calendar, "planned: "), "2026-12-16", "2026-12-16");
	garden_free(&garden);
}

static void what_is_put_off_comes_back_on_its_day(void **state)
{
	struct garden garden;
	struct fault why = {0};
	struct review review;
	const struct review_options options = {.all = true};
	(void)state;

	make(&garden);
	garden_log(&garden, "A3 plan cut limb 1 of 3 @ 2026-11-24");
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	const char *key = NULL;
	for (int32_t i = 0; i < review.count; i++)
		if (strcmp(review.items[i].flag.rule, "plan-due") == 0)
			key = review.items[i].flag.key;
	assert_non_null(key);
	check_ok(work_put_off(garden.yard, key, garden_day("2026-12-08"), &why), &why);
	garden_look(&garden);
	struct calendar calendar = look(&garden, false);
	const struct calendar_event *event =
		need(&calendar, "put off until today: work you planned");
	check_days(event, "2026-12-08", "2026-12-08");
	check_text(event->trees, "A3", "whose");
	check_int(event->kind, CALENDAR_PUT_OFF, "kind");
	garden_today(&garden, "2026-12-09");
	calendar = look(&garden, false);
	assert_null(event_of(&calendar, "put off", 0));
	garden_free(&garden);
}

static void who_is_left_alone_is_not_asked_for_work(void **state)
{
	struct garden garden;
	(void)state;

	make(&garden);
	garden_log(&garden, "A2 leave until 2027-10 ; transplanted");
	struct calendar calendar = look(&garden, false);
	check_text(need(&calendar, "clear for the saw: peach")->trees, "A1", "not A2");
	garden_free(&garden);
}

static void private_trees_are_left_out(void **state)
{
	struct garden garden;
	struct fault why = {0};
	(void)state;

	make(&garden);
	struct tree tree = garden_find(&garden, "A3");
	tree.is_private = true;
	check_ok(store_act_begin(garden.store, ACT_WORK, "mark", &why), &why);
	check_ok(store_tree_save(garden.store, &tree, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	garden_log(&garden, "A3 plan cut limb 1 of 3 @ 2027-02-10");
	struct calendar all = look(&garden, false);
	struct calendar some = look(&garden, true);
	need(&all, "clear for the saw: fig");
	need(&all, "planned: ");
	assert_null(event_of(&some, "clear for the saw: fig", 0));
	assert_null(event_of(&some, "planned: ", 0));
	need(&some, "clear for the saw: peach");
	garden_free(&garden);
}

static void ids_are_each_of_one_event_and_stay(void **state)
{
	struct garden garden;
	(void)state;

	make(&garden);
	garden_tree(&garden, "B1", "loquat", "2012", "B1");
	garden_tree(&garden, "B2", "orange", "2012", "B2");
	garden_tree(&garden, "B3", "apple", "2012", "B3");
	garden_log(&garden, "A3 plan watered every 14 days @ 2026-12-01");
	struct calendar calendar = look(&garden, false);
	assert_true(calendar.count > 10);
	for (int32_t i = 0; i < calendar.count; i++) {
		assert_true(strspn(calendar.events[i].uid,
				    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
				    "0123456789-@") == strlen(calendar.events[i].uid));
		for (int32_t k = 0; k < i; k++)
			assert_string_not_equal(calendar.events[i].uid, calendar.events[k].uid);
	}
	const int32_t count = calendar.count; /* the garden's arena is emptied with the day */
	struct calendar_event *events = calloc((size_t)count, sizeof *events);
	assert_non_null(events);
	memcpy(events, calendar.events, (size_t)count * sizeof *events);
	garden_today(&garden, "2026-11-25");
	struct calendar next = look(&garden, false);
	for (int32_t i = 0; i < next.count; i++) {
		bool before = false;
		for (int32_t k = 0; k < count; k++)
			before = before || strcmp(next.events[i].uid, events[k].uid) == 0;
		assert_true(before || date_days_between(garden_day("2026-11-25"),
					      next.events[i].from) >= CALENDAR_DAYS - 1);
	}
	free(events);
	garden_free(&garden);
}

static void where_no_dates_are_known_there_are_none(void **state)
{
	struct garden garden;
	struct place nowhere = {.hemisphere = HEMISPHERE_UNKNOWN};
	(void)state;

	garden_make_at(&garden, &nowhere, "2026-11-24");
	garden_tree(&garden, "A1", "peach", "2014", "A1");
	check_int(look(&garden, false).count, 0, "nothing");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(trees_of_a_kind_stand_together),
		cmocka_unit_test(days_of_its_own_stand_alone_under_an_id_that_stays),
		cmocka_unit_test(a_plan_stands_until_it_is_done),
		cmocka_unit_test(a_plan_that_comes_again_says_so),
		cmocka_unit_test(what_is_put_off_comes_back_on_its_day),
		cmocka_unit_test(who_is_left_alone_is_not_asked_for_work),
		cmocka_unit_test(private_trees_are_left_out),
		cmocka_unit_test(ids_are_each_of_one_event_and_stay),
		cmocka_unit_test(where_no_dates_are_known_there_are_none),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
