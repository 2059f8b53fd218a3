/* SPDX-License-Identifier: MIT */
/* The table of rules, what the demo yard shows of it, windows that growers set, work of an area. */
#include "support/log_case.h"

#include "report/demo.h"

static void every_row_is_whole_and_every_id_its_own(void **state)
{
	(void)state;
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
		assert_true(rule->title[0] != '\0' && rule->reason[0] != '\0');
		assert_true(rule->source[0] != '\0');
		assert_non_null(rule->look);
		assert_ptr_equal(rule_find(rule->id), rule);
		for (const struct rule *other = rule + 1; other->id != NULL; other++)
			assert_string_not_equal(rule->id, other->id);
	}
	assert_null(rule_find("no-such-rule"));
}

/* --- the demo yard --- */

static struct flags demo_flags(struct session **session, struct arena *arena, const char *path)
{
	struct fault why = {0};
	char said[TEXT_SIZE];
	struct date today = garden_day("2026-11-24");
	struct flags flags = {.arena = arena};
	const struct session_options options = {.path = path,
		.almanac = "share/almanac",
		.clock = clock_pinned(today),
		.read_only = true};
	const struct review_options all = {.all = true};
	struct review review = {.count = 0};

	check_ok(demo_write(path, "share/almanac", today, said, &why), &why);
	check_ok(session_open(&options, session, &why), &why);
	check_ok(review_make((*session)->yard, &all, arena, &review, &why), &why);
	flags.items = arena_array(arena, (size_t)review.count, sizeof *flags.items);
	for (int32_t i = 0; i < review.count; i++)
		flags.items[flags.count++] = review.items[i].flag;
	return flags;
}

static bool ends_as_a_sentence(const char *text)
{
	size_t length = strlen(text);

	return length == 0 || strchr(".!?", text[length - 1]) != NULL;
}

/* What the demo yard has a story of; a yard that showed every rule would be no yard. */
static const char *const shown_in_demo[] = {"flower-wood", "cut-in-wet-season", "cut-too-much",
	"shape-cut-due", "feed-due", "feed-over", "feed-late", "girth-stale", "girth-or-diameter",
	"pick-soon", "pick-unlogged", "spray-interval", "plan-due", "leave-alone", "facts-missing"};

static void the_demo_yard_speaks_in_whole_sentences(void **state)
{
	struct scratch scratch = scratch_make();
	char path[SCRATCH_PATH_SIZE];
	struct session *session = NULL;
	struct arena *arena = arena_new();

	(void)state;
	scratch_path(&scratch, "demo.bough", path);
	struct flags flags = demo_flags(&session, arena, path);
	for (size_t i = 0; i < sizeof shown_in_demo / sizeof shown_in_demo[0]; i++)
		check_int(log_case_count(&flags, shown_in_demo[i]) > 0, true, shown_in_demo[i]);
	for (int32_t i = 0; i < flags.count; i++) {
		const struct flag *flag = &flags.items[i];
		const struct rule *rule = rule_find(flag->rule);

		check_int(flag->urgency >= rule->max_urgency, true, flag->says);
		check_int(strlen(flag->says) < FLAG_SAYS_SIZE - 1, true, flag->says);
		check_int(strlen(flag->action) < FLAG_SAYS_SIZE - 1, true, flag->action);
		if (flag->fact[0] != '\0')
			continue; /* "girth not known: 2 trees" */
		check_int(ends_as_a_sentence(flag->says), true, flag->says);
		check_int(ends_as_a_sentence(flag->action), true, flag->action);
		check_int(flag->says[0] >= 'a' && flag->says[0] <= 'z', false, flag->says);
		check_int(flag->action[0] >= 'a' && flag->action[0] <= 'z', false, flag->action);
		assert_null(strstr(flag->says, "  "));
		assert_null(strstr(flag->action, ".."));
	}
	session_close(session);
	arena_free(arena);
	scratch_remove(&scratch);
}

/* --- windows that the grower set --- */

static void set_window(struct garden *garden, const char *label, const char *window,
	struct month_day from, struct month_day to)
{
	struct fault why = {0};
	struct own_window own = {.from = from, .to = to};
	struct tree tree = garden_find(garden, label);

	snprintf(own.tree_id, sizeof own.tree_id, "%s", tree.id);
	snprintf(own.window, sizeof own.window, "%s", window);
	check_ok(store_act_begin(garden->store, ACT_WORK, "window", &why), &why);
	check_ok(store_own_window_add(garden->store, &own, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void check_own_avoid(enum log_place place, const char *trees)
{
	const struct log_case told = {
		.place = place, .trees = trees, .lines = "", .today = "2026-08-20"};
	struct garden garden;

	log_case_make(&garden, &told, false);
	set_window(&garden, "A1", "cut-avoid", (struct month_day){8, 1}, (struct month_day){8, 31});
	struct flags flags = log_case_try(&garden, "A1", "A1 cut shape 20% of crown @ 2026-08-19");
	const struct flag *flag = log_case_find(&flags, "flower-wood");
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_ACT, "urgency");
	check_text(flag->source, "your own window", "source");
	check_text(flag->basis, "set by hand here", "basis");
	flags = log_case_try(&garden, "A1", "A1 cut shape 20% of crown @ 2026-07-31");
	assert_null(log_case_find(&flags, "flower-wood"));
	garden_free(&garden);
}

static void a_span_to_avoid_set_by_hand_holds_everywhere(void **state)
{
	(void)state;
	check_own_avoid(AT_WET_WINTER, "A1 apple 2012");
	check_own_avoid(AT_NOWHERE, "A1 apple 2012");
	check_own_avoid(AT_TROPICS, "A1 apple 2012");
	check_own_avoid(AT_WET_WINTER, "A1 mango 2012");
	check_own_avoid(AT_WET_WINTER, "A1 - 2012");
}

static void a_clear_span_set_by_hand_stands_before_the_almanac(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 loquat 2012",
		.lines = "",
		.today = "2026-10-10"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	set_window(
		&garden, "A1", "cut-clear", (struct month_day){10, 1}, (struct month_day){10, 31});
	struct flags flags = log_case_try(&garden, "A1", "A1 cut shape 20% of crown");
	assert_null(log_case_find(&flags, "flower-wood"));
	garden_free(&garden);
}

static void a_harvest_set_by_hand_is_near_as_set_by_hand(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 fig 2012",
		.lines = "A1 picked 2 kg @ 2025-08-20",
		.today = "2026-08-05"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	set_window(&garden, "A1", "harvest", (struct month_day){8, 15}, (struct month_day){9, 20});
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "pick-soon");
	assert_non_null(flag);
	check_has(flag->says, "15 August to 20 September 2026, as set by hand here.", "says");
	garden_free(&garden);
}

static void a_harvest_of_one_day_is_one_day_in_words(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 fig 2012",
		.lines = "A1 picked 2 kg @ 2025-08-28",
		.today = "2026-08-20"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	set_window(&garden, "A1", "harvest", (struct month_day){8, 28}, (struct month_day){8, 28});
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "pick-soon");
	assert_non_null(flag);
	check_has(flag->says, "Picking is near: 28 August 2026, as set by hand here.", "says");
	garden_free(&garden);
}

/* An orange fed in its autumn, with spans set by hand: what feed-late says. */
struct hand {
	bool south;
	const char *windows[2]; /* "" none */
	int8_t from[2][2];      /* month, day */
	int8_t to[2][2];
	bool late;
};

static void check_late(const struct hand *hand)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 orange 2012",
		.lines = "A1 fed 1 lb 21-0-0 @ 2026-10-10",
		.today = "2026-10-12"};
	struct garden garden;

	log_case_make(&garden, &told, hand->south);
	for (int i = 0; i < 2 && hand->windows[i] != NULL; i++)
		set_window(&garden, "A1", hand->windows[i],
			(struct month_day){hand->from[i][0], hand->from[i][1]},
			(struct month_day){hand->to[i][0], hand->to[i][1]});
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "feed-late"), hand->late, "feed-late");
	garden_free(&garden);
}

static void a_feed_in_a_time_set_by_hand_is_not_late(void **state)
{
	static const struct hand hands[] = {
		{.late = true},
		{.windows = {"feed-clear"}, .from = {{10, 1}}, .to = {{10, 20}}},
		{.windows = {"feed-clear"}, .from = {{10, 10}}, .to = {{10, 10}}},
		{.windows = {"feed-clear"}, .from = {{10, 11}}, .to = {{10, 20}}, .late = true},
		{.windows = {"feed-clear"}, .from = {{9, 20}}, .to = {{10, 9}}, .late = true},
		{.windows = {"feed-clear", "feed-avoid"},
			.from = {{10, 1}, {10, 5}},
			.to = {{10, 20}, {10, 15}},
			.late = true},
		{.windows = {"feed-clear", "feed-avoid"},
			.from = {{10, 1}, {11, 1}},
			.to = {{10, 20}, {11, 30}}},
		{.south = true, .late = true},
		{.south = true, .windows = {"feed-clear"}, .from = {{4, 1}}, .to = {{4, 20}}},
		{.south = true,
			.windows = {"feed-clear"},
			.from = {{10, 1}},
			.to = {{10, 20}},
			.late = true},
	};
	(void)state;
	for (size_t i = 0; i < sizeof hands / sizeof hands[0]; i++)
		check_late(&hands[i]);
	check_has(rule_find("feed-late")->reason, "set by hand stands before", "said");
}

/* --- work only asked about --- */

struct asked_case {
	const char *trees;
	const char *lines;
	const char *tried;
	const char *rule;
	const char *asked;  /* what it says before the work */
	const char *logged; /* and after it */
};

/* clang-format off */
static const struct asked_case asked_cases[] = {
	{"A1 loquat 2012", "", "A1 cut shape 20% of crown @ 2026-10-03", "flower-wood", "2026 would take wood that carries", "2026 takes wood that carries"},
	{"A1 - 2012", "", "A1 cut shape 20% of crown @ 2026-10-03", "flower-wood", "Whether this cut would take flower wood", "Whether this cut takes flower wood"},
	{"A1 loquat 2012", "", "A1 cut shape 30% of crown @ 2026-07-03", "cut-too-much", "30 % of the crown would come off", "30 % of the crown came off"},
	{"A1 apricot 2012", "", "A1 cut shape 10% of crown @ 2026-10-05", "cut-in-wet-season", "would be made while wet-weather disease", "was made while wet-weather disease"},
	{"A1 orange 2012", "", "A1 fed 1 lb 21-0-0 @ 2026-10-05", "feed-late", "The feed of 5 October 2026 would fall in the weeks", "The feed of 5 October 2026 falls in the weeks"},
	{"A1 orange 2012", "A1 fed 1 lb 21-0-0 @ 2026-10-04", "A1 fed 1 lb 21-0-0 @ 2026-10-05", "feed-late", "5 October 2026 would fall", "5 October 2026 fall in"},
	{"A1 lemon 2012", "", "A1 fed 6 lb 21-0-0 @ 2026-10-05", "feed-over", "actual N would be given this season;", "actual N given this season;"},
	{"A1 loquat 2012", "A1 spray oil, 21 days to harvest @ 2026-10-01", "A1 picked 2 kg @ 2026-10-05", "spray-interval", "A pick on 5 October 2026 would fall inside the label's days", "Picked on 5 October 2026, inside the label's days"},
	{"A1 fig 2012", "A1 cut renovation 60% of crown @ 2026-02-10", "A1 cut shape 10% of crown @ 2026-10-05", "leave-alone", "2026 would come while the tree is to be left", "2026 came while the tree was to be left"},
};
/* clang-format on */

static bool says_so(const struct flags *flags, const char *rule, const char *part)
{
	for (int32_t i = 0; i < flags->count; i++)
		if (strcmp(flags->items[i].rule, rule) == 0 &&
			strstr(flags->items[i].says, part) != NULL)
			return true;
	return false;
}

static void work_only_asked_about_is_worded_as_what_would_come(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof asked_cases / sizeof asked_cases[0]; i++) {
		const struct asked_case *one = &asked_cases[i];
		const struct log_case told = {.place = AT_WET_WINTER,
			.trees = one->trees,
			.lines = one->lines,
			.today = "2026-10-06"};
		struct garden garden;

		log_case_make(&garden, &told, false);
		struct flags flags = log_case_try(&garden, "A1", one->tried);
		if (!says_so(&flags, one->rule, one->asked))
			fail_msg("%s asked: no \"%s\"", one->tried, one->asked);
		garden_log(&garden, one->tried);
		garden_look(&garden);
		flags = log_case_flags(&garden);
		if (!says_so(&flags, one->rule, one->logged))
			fail_msg("%s logged: no \"%s\"", one->tried, one->logged);
		garden_free(&garden);
	}
}

/* --- work of an area --- */

static void a_spray_of_an_area_keeps_the_label_s_days(void **state)
{
	const struct log_case told = {
		.place = AT_WET_WINTER, .trees = "", .lines = "", .today = "2026-05-11"};
	struct garden garden;
	struct fault why = {0};
	struct area area = {.name = "orchard"};
	struct spot spot = {.name = "hole"};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(store_act_begin(garden.store, ACT_WORK, "area", &why), &why);
	check_ok(store_area_add(garden.store, &area, &why), &why);
	snprintf(spot.area_id, sizeof spot.area_id, "%s", area.id);
	check_ok(store_spot_add(garden.store, &spot, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	garden_tree(&garden, "A1", "apple", "2012", "hole");
	garden_tree(&garden, "A2", "apple", "2012", "hole");
	garden_log(&garden, "area orchard spray oil, 21 days to harvest @ 2026-05-01");
	garden_log(&garden, "spot hole spray sulfur, 14 days to harvest @ 2026-05-02");
	garden_log(&garden, "A1 picked 2 kg @ 2026-05-10");
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "spray-interval"), 2, "both labels");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_row_is_whole_and_every_id_its_own),
		cmocka_unit_test(the_demo_yard_speaks_in_whole_sentences),
		cmocka_unit_test(a_span_to_avoid_set_by_hand_holds_everywhere),
		cmocka_unit_test(a_clear_span_set_by_hand_stands_before_the_almanac),
		cmocka_unit_test(a_harvest_set_by_hand_is_near_as_set_by_hand),
		cmocka_unit_test(work_only_asked_about_is_worded_as_what_would_come),
		cmocka_unit_test(a_harvest_of_one_day_is_one_day_in_words),
		cmocka_unit_test(a_feed_in_a_time_set_by_hand_is_not_late),
		cmocka_unit_test(a_spray_of_an_area_keeps_the_label_s_days),
	};
	return cmocka_run_group_tests_name("the rules", tests, NULL, NULL) != 0;
}
