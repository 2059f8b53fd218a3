/* SPDX-License-Identifier: MIT */
/* Every action of the key table has its way in line mode: a script that does the same, or a reason
 * why there is nothing to do there. A new action fails here until its row stands. */
#include "screens/screen.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

struct way {
	enum action action;
	const char *script; /* NULL: none is needed */
	const char *says;   /* that shows it done; without a script, the reason */
};

static const char cursor[] = "nothing is drawn, so there is no cursor to move";
static const char drawing[] = "the plan is told in words, whole";
static const char clash[] = "asked side by side after a merge; tests/screens/test_merge.c";

/* clang-format off */
static const struct way ways[] = {
	{ACTION_UP, NULL, cursor}, {ACTION_DOWN, NULL, cursor}, {ACTION_PAGE_UP, NULL, cursor},
	{ACTION_PAGE_DOWN, NULL, cursor}, {ACTION_FIRST, NULL, cursor}, {ACTION_LAST, NULL, cursor},
	{ACTION_LEFT, NULL, cursor}, {ACTION_RIGHT, NULL, cursor},
	{ACTION_NEXT_PART, NULL, "all parts are told one after the other"},
	{ACTION_NEXT_FIELD, NULL, "each field is asked in its turn"},
	{ACTION_LIKELY, "likely C1\n", "which could it be: peach"},
	{ACTION_CLOSER, NULL, drawing}, {ACTION_WIDER, NULL, drawing}, {ACTION_WHOLE, NULL, drawing},
	{ACTION_PAGE_LEFT, NULL, drawing}, {ACTION_PAGE_RIGHT, NULL, drawing},
	{ACTION_COLOURS, NULL, "it prints no colour"},
	{ACTION_OPEN, "tree A1\n", "loquat"},
	{ACTION_BACK, "walk\n\nback\nstop\n", "tree 1 of 22."},
	{ACTION_HELP, "help\n", "yard: every tree"},
	{ACTION_FIND, "tree B3 east\n", "Fuji"},
	{ACTION_UNDO, "A1 picked 2 lb\nundo\n", "Undone: A1"},
	{ACTION_REDO, "A1 picked 2 lb\nundo\nredo\n", "Done again: A1"},
	{ACTION_QUIT, "quit\n", "yard>"},
	{ACTION_YARD, "yard\n", "B3 east"},
	{ACTION_YEAR, "year\n", "B3"},
	{ACTION_THREAD, "year\n", "2027"},
	{ACTION_WALK, "walk\nstop\n", "A1, loquat, Champagne, tree 1 of 22."},
	{ACTION_REVIEW, "review\ns\n", "ask for work"},
	{ACTION_SEASON, "season\n", "2026"},
	{ACTION_EARLIER, "season 2025\n", "2025"},
	{ACTION_LATER, "season 2026\n", "2026"},
	{ACTION_WEATHER, "weather\n", "chill"},
	{ACTION_FIGURES, "water A1\ndose A1\nsun A1\n", "hours of direct sun"},
	{ACTION_TREE, "tree A1\n", "loquat"},
	{ACTION_COMPARE, "compare A1, A2\n", "A2"},
	{ACTION_FACTS, "facts A1\n\n\n\n\n\n\n\n\n\n\n\n", "Nothing was changed."},
	{ACTION_SAVE, "facts A1\n\n\n\n\n\n\n\n\n\nleans\n\n", "Saved."},
	{ACTION_ADD, "add Z1..Z3\nfig\n2026\n", "Added Z1 to Z3, 3 trees."},
	{ACTION_LINE, "A1 picked 2 lb\n", "A1: picked 2 lb"},
	{ACTION_DONE, "review\n\n\n\n\n\n\n\nd\n\ns\n", "The line begins as follows"},
	{ACTION_PUT_OFF, "review\np\ns\n", "Put off until 8 December 2026."},
	{ACTION_SET_ASIDE, "review\nx\ntoo shady\ns\n", "Set aside."},
	{ACTION_WHY, "review\nw\ns\n", "Why: "},
	{ACTION_ALL, "review\np\ns\nanswered\nq\n", "A1, put-off: "},
	{ACTION_NOTES, "review\n\n\n\n\n\n\n\n\n\ny\ns\n", "The notes too?"},
	{ACTION_SAME_AGAIN, "walk\npicked 3 lb\n\nagain\nstop\n", "A2: picked 3 lb"},
	{ACTION_PLAN, "plan\n", "gate"},
	{ACTION_NEXT_HERE, "plan B3\n", "B3 east"},
	{ACTION_FLAGS_LAYER, "plan B2\n", "B2"},
	{ACTION_STAGE_LAYER, "plan A1\n", "bloom"},
	{ACTION_PARTNER_LAYER, "partners B1\n", "pollen"},
	{ACTION_SUN_LAYER, "plan A1\n", "sun"},
	{ACTION_YIELD_LAYER, "plan A1\n", "last season: "},
	{ACTION_ROUTE, "route\n", "route of 17 spots from the gate"},
	{ACTION_DEMO, NULL, "on a first run alone; see below"},
	{ACTION_MERGE, "merge no-such-file\n", "no-such-file"},
	{ACTION_KEEP_A, NULL, clash}, {ACTION_KEEP_B, NULL, clash}, {ACTION_KEEP_C, NULL, clash},
	{ACTION_KEEP_D, NULL, clash}, {ACTION_KEEP_OWN, NULL, clash}, {ACTION_KEEP_BEFORE, NULL, clash},
	{ACTION_ALMANAC, "almanac fig\n", "Ficus carica"},
	{ACTION_HISTORY, "history\nq\n", "E3: measured height"},
	{ACTION_TAKE_BACK, "history\n\n\nx\n", "Taken back: "},
	{ACTION_ANSWERS, "answered\n", "Nothing is put off or set aside."},
	{ACTION_SEARCH, "search gum\n", "C2"},
	{ACTION_EXPORT, "export\n", "export report: the season report"},
	{ACTION_WRITE, "export walk\n\n\n", "Written: "},
	{ACTION_SHED, "shed\n", "container bucket"},
	{ACTION_NEW_PRODUCT, "product kelp\n\n1-0-2\n\n\n\n", "Saved."},
	{ACTION_NEW_CONTAINER, "container lug\n\n\n20 lb\n\n\n", "Saved."},
	{ACTION_REMOVE, "remove container bucket\n", "Removed;"},
};
/* clang-format on */
enum { WAYS = sizeof ways / sizeof ways[0] };

static void each_action_has_its_way(void **state)
{
	(void)state;
	for (int action = ACTION_NONE + 1; action < ACTION_TOTAL; action++) {
		int rows = 0;
		for (int i = 0; i < WAYS; i++)
			rows += (int)ways[i].action == action;
		check_int(rows, 1, action_row((enum action)action)->name);
	}
}

static void each_way_does_it(void **state)
{
	(void)state;
	struct scratch scratch = scratch_make();
	char first[SCRATCH_PATH_SIZE], log[SCRATCH_PATH_SIZE];
	(void)scratch_path(&scratch, "demo.bough", first);
	(void)scratch_path(&scratch, "yard.bough", log);
	struct spawned made = program_run(NULL, "--today", "2026-11-24", "demo", first, NULL);
	check_int(made.status, 0, made.err);
	spawned_free(&made);
	size_t length;
	char *bytes = file_read(first, &length);
	for (int i = 0; i < WAYS; i++) {
		if (ways[i].script == NULL)
			continue;
		file_write(log, bytes, length);
		struct spawned ran = program_run(
			ways[i].script, "--log", log, "--today", "2026-11-24", "--plain", NULL);
		check_int(ran.status, 0, ran.err);
		check_has(ran.out, ways[i].says, action_row(ways[i].action)->name);
		spawned_free(&ran);
	}
	free(bytes);
	scratch_remove(&scratch);
}

static void a_first_run_opens_the_demo(void **state)
{
	(void)state;
	struct scratch scratch = scratch_make();
	char log[SCRATCH_PATH_SIZE], demo[SCRATCH_PATH_SIZE];
	(void)scratch_path(&scratch, "yard.bough", log);
	(void)scratch_path(&scratch, "demo.bough", demo);
	struct spawned ran =
		program_run("demo\nyard\n", "--log", log, "--today", "2026-11-24", "--plain", NULL);
	check_int(ran.status, 0, ran.err);
	check_has(ran.out, "An invented yard, kept in ", "said");
	check_has(ran.out, "B3 east", "open");
	assert_true(file_exists(demo));
	assert_false(file_exists(log));
	spawned_free(&ran);
	scratch_remove(&scratch);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_action_has_its_way),
		cmocka_unit_test(each_way_does_it),
		cmocka_unit_test(a_first_run_opens_the_demo),
	};
	return cmocka_run_group_tests_name("plain ways", tests, NULL, NULL) != 0;
}
