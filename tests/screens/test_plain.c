/* SPDX-License-Identifier: MIT */
/* Line mode, scripted: the real program with its input from a pipe. */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

struct line_mode {
	struct scratch scratch;
	char log[SCRATCH_PATH_SIZE];
	struct spawned ran;
};

static void make(struct line_mode *mode)
{
	*mode = (struct line_mode){.scratch = scratch_make()};
	(void)scratch_path(&mode->scratch, "yard.bough", mode->log);
	struct spawned made = program_run(NULL, "--today", "2026-11-24", "demo", mode->log, NULL);
	check_int(made.status, 0, made.err);
	spawned_free(&made);
}

/* Says the script to the program; its answer is checked for nothing that moves a cursor. */
static const char *say(struct line_mode *mode, const char *script)
{
	spawned_free(&mode->ran);
	mode->ran =
		program_run(script, "--log", mode->log, "--today", "2026-11-24", "--plain", NULL);
	check_int(mode->ran.status, 0, mode->ran.err);
	check_text(mode->ran.err, "", "nothing goes wrong");
	assert_null(strchr(mode->ran.out, '\x1b'));
	assert_null(strchr(mode->ran.out, '\r'));
	return mode->ran.out;
}

static void end(struct line_mode *mode)
{
	spawned_free(&mode->ran);
	scratch_remove(&mode->scratch);
}

static int count(struct line_mode *mode, const char *sql)
{
	const char *arguments[] = {"sqlite3", "-readonly", mode->log, sql, NULL};
	struct spawned answer = command_run(NULL, arguments);
	check_int(answer.status, 0, answer.err);
	int number = atoi(answer.out);
	spawned_free(&answer);
	return number;
}

static void the_end_of_input_leaves_everywhere(void **state)
{
	(void)state;
	static const char *const scripts[] = {"", "walk\n", "walk\npicked 3 lb", "review\n",
		"review\nx\n", "review\nd\n", "add\n", "add\nZ9\n", "help", "facts A3\n",
		"facts A3\nA9\n"};
	struct line_mode mode;
	make(&mode);
	for (size_t i = 0; i < sizeof scripts / sizeof scripts[0]; i++)
		check_has(say(&mode, scripts[i]), "Tern Hollow, 24 November 2026.", scripts[i]);
	end(&mode);
}

static void the_first_flag_is_said_at_once(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	check_has(say(&mode, ""), "The first: A1: The shape cut of 12 November 2026", "greeting");
	end(&mode);
}

static void a_line_is_logged_and_taken_back(void **state)
{
	(void)state;
	static const char sql[] = "SELECT count(*) FROM entry WHERE struck = 0";
	struct line_mode mode;
	make(&mode);
	int before = count(&mode, sql);
	check_has(say(&mode, "A1 picked 6 lb 4 oz\n"), "A1: picked 6 lb 4 oz, today", "said");
	check_int(count(&mode, sql), before + 1, "kept");
	check_has(say(&mode, "undo\n"), "Undone: A1", "undone");
	check_int(count(&mode, sql), before, "taken back");
	check_has(say(&mode, "redo\n"), "Done again: A1", "again");
	check_int(count(&mode, sql), before + 1, "there again");
	end(&mode);
}

static void what_is_not_understood_is_said_and_kept_from_the_log(void **state)
{
	(void)state;
	static const char *const lines[] = {"A1 frobbed\n", "A1 picked 6 lb 85 fruit 3 lb\n",
		"Q9 picked 2 lb\n", "tree\n", "tree Q9\n", "season Q9\n", "walk Q9\n",
		"ask A1 frobbed\n", "dose\n"};
	static const char sql[] = "SELECT count(*) FROM change_set";
	struct line_mode mode;
	make(&mode);
	int before = count(&mode, sql);
	for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
		const char *said = say(&mode, lines[i]);
		/* more than the greeting, its hint and the two prompts */
		assert_true(strlen(strstr(said, "yard> ")) > strlen("yard> yard> \n"));
		check_int(count(&mode, sql), before, lines[i]);
	}
	end(&mode);
}

static void a_line_that_holds_two_is_answered_with_both(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	const char *said = say(&mode, "A1 cut suckers and shape\n");
	check_has(said, "Not done: ", "refused");
	check_has(said, "  A1 cut suckers\n", "one");
	check_has(said, "  A1 cut shape\n", "the other");
	end(&mode);
}

static void an_act_of_the_middle_is_taken_back(void **state)
{
	(void)state;
	static const char sql[] = "SELECT count(*) FROM entry WHERE struck = 0 AND kind = 'saw'";
	struct line_mode mode;
	make(&mode);
	const int before = count(&mode, sql);
	const char *said = say(&mode, "history\n\n\nx\nq\n");
	check_has(said, "C2: saw gum, light", "the act");
	check_has(said, "  entry C2 saw gum", "what it did");
	check_has(said, "Taken back: C2: saw gum", "said");
	check_int(count(&mode, sql), before - 1, "gone");
	end(&mode);
}

static void what_was_put_off_is_told_and_asked_about_again(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	check_has(say(&mode, "answered\n"), "Nothing is put off or set aside.", "nothing");
	check_has(say(&mode, "review\np\ns\nanswered\nq\n"), "A1, put-off: ", "told");
	check_has(say(&mode, "answered\nx\n"), "The review speaks of it again.", "again");
	check_has(say(&mode, "answered\n"), "Nothing is put off or set aside.", "nothing again");
	end(&mode);
}

static void the_almanac_and_all_that_is_written_are_read(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	check_has(say(&mode, "almanac\n"), "loquat", "kinds");
	check_has(say(&mode, "almanac fig\n"), "Ficus carica", "one kind");
	check_has(say(&mode, "search C2 saw\n"), "C2 saw gum", "found");
	check_has(say(&mode, "search\n"), "Say what to look for after the word.", "nothing said");
	check_has(say(&mode, "search qqq\n"), "Nothing written holds this.", "not found");
	end(&mode);
}

static void what_goes_out_is_asked_and_written(void **state)
{
	(void)state;
	struct line_mode mode;
	char path[SCRATCH_PATH_SIZE], script[SCRATCH_PATH_SIZE + 80];
	make(&mode);
	(void)scratch_path(&mode.scratch, "yard-sheet-A1.html", path);
	check_has(say(&mode, "export\n"), "export flags: what the review says", "the words");
	check_has(say(&mode, "export sheet A1\n\n\n"), path, "the usual file");
	assert_true(file_exists(path));
	(void)snprintf(script, sizeof script, "export walk\n%s\n\n", path);
	check_has(say(&mode, script), "Nothing was written.", "never unasked");
	(void)snprintf(script, sizeof script, "export picks\n%s\ny\ny\n", path);
	check_has(say(&mode, script), "Written: ", "asked");
	char *text = file_read(path, NULL);
	check_has(text, "tree,", "a table");
	free(text);
	end(&mode);
}

static void the_shed_is_told_field_by_field(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	check_has(say(&mode, "shed\n"), "product ammonium sulfate: 21-0-0, bag 50 lb.", "told");
	check_has(say(&mode, "product blood meal\n\n12-0-0\n4 lb\n\n\nshed\n"),
		"product blood meal: 12-0-0, bag 4 lb.", "a new one");
	check_has(say(&mode, "container bucket\n\n\n9 lb\nfig\n\nshed\n"), "  fig: 9 lb",
		"weighed anew");
	check_has(say(&mode, "product blood meal\nbone meal\n\n\n\n\n"),
		"Not done: entries call it blood meal", "the name stays");
	check_has(say(&mode, "remove product blood meal\n"), "Removed;", "removed");
	check_has(say(&mode, "remove product blood meal\n"), "There is none called blood meal",
		"gone");
	check_has(say(&mode, "remove\n"), "Say remove product NAME", "what to say");
	end(&mode);
}

static void the_walk_goes_tree_by_tree(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	const char *said =
		say(&mode, "walk\npicked 3 lb\nagain\n\nback\n\nsaw aphids\nstop\nquit\n");
	check_has(said, "A1, loquat, Champagne, tree 1 of 22.", "the first");
	check_has(said, "A1> A1: picked 3 lb", "logged at it");
	check_has(said, "Hazard at A2: power line", "the hazard first");
	check_has(said, "A2> A2: saw aphids", "logged at the next");
	check_int(count(&mode,
			  "SELECT count(*) FROM entry e JOIN change_set c ON c.id = e.made WHERE "
			  "e.kind = 'pick' AND e.words LIKE 'picked 3 lb%'") +
			  count(&mode, "SELECT count(*) FROM entry WHERE words LIKE 'A1 picked 3 "
				       "lb%'"),
		2, "twice by again");
	end(&mode);
}

static void the_walk_begins_and_ends_where_it_is_told(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	const char *said = say(&mode, "walk G1\nback\n\n\nwalk A1\nback\nstop\n");
	check_has(said, "G1, unknown, tree 22 of 22.", "from the last");
	check_has(said, "That was the last tree.", "its end");
	check_has(said, "This is the first tree.", "its beginning");
	end(&mode);
}

static void the_review_is_answered_item_by_item(void **state)
{
	(void)state;
	static const char off[] =
		"SELECT count(*) FROM answer WHERE kind = 'put-off' AND struck = 0";
	static const char aside[] =
		"SELECT count(*) FROM answer WHERE kind = 'set-aside' AND struck = 0";
	struct line_mode mode;
	make(&mode);
	int before_off = count(&mode, off), before_aside = count(&mode, aside);
	const char *said = say(&mode, "review\nw\np\nx\nit was storm damage\n\nnonsense\ns\n");
	check_has(said, "From: the cut as logged", "why");
	check_has(said, "Put off until 8 December 2026.", "put off");
	check_has(said, "Set aside.", "set aside");
	check_has(said, "Say one of the letters.", "nonsense");
	check_int(count(&mode, off), before_off + 1, "one put off");
	check_int(count(&mode, aside), before_aside + 1, "one set aside");
	(void)say(&mode, "review\nx\n\ns\n");
	check_int(count(&mode, aside), before_aside + 1, "a blank reason leaves it open");
	end(&mode);
}

static void the_walk_says_why(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	const char *said = say(&mode, "walk\nwhy\nask cut shape 20%\nstop\n");
	check_has(said, "From: the cut as logged, 12 November 2026", "of what is flagged");
	check_has(said, "By: almanac, moved by this tree's own days; UF/IFAS", "the source");
	check_has(said, "- the cut as asked, 24 November 2026", "of a line that is tried");
	end(&mode);
}

static void done_in_the_review_logs_the_line(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	const char *said = say(&mode, "review\n\n\n\n\n\nd\nlimb 2 of 3\ns\nreview\ns\n");
	check_has(said, "due, B3: Planned for 22 November 2026", "the plan");
	check_has(said, "B3: cut, part 2 of 3, today", "logged");
	check_int(count(&mode, "SELECT count(*) FROM entry WHERE planned = 0 AND struck = 0 AND "
			       "words LIKE '%limb 2 of 3%'"),
		1, "kept");
	end(&mode);
}

static void it_tells_yard_tree_season_dose_water_and_help(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	const char *said =
		say(&mode, "yard\ntree A2\nseason 2025\nseason B2\ndose A1\nwater A1\nhelp\n");
	check_has(said, "19 trees, grafts not counted: 3 loquat, 4 apple", "yard");
	check_has(said, "! power line over the north side", "tree");
	check_has(said, "Tern Hollow: season 2025", "season");
	check_has(said, "B2, season by season", "seasons of one");
	check_has(said, "Guidance, not an order", "dose");
	check_has(said, "local water rules come first", "water");
	check_has(said, "review: what is due", "help");
	end(&mode);
}

static void ask_tells_and_keeps_nothing(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	size_t length, after;
	char *before = file_read(mode.log, &length);
	check_has(say(&mode, "ask A1 cut shape 20%\n"), "would take wood that carries the coming",
		"the flag");
	char *now = file_read(mode.log, &after);
	check_int((int64_t)after, (int64_t)length, "size");
	assert_memory_equal(before, now, length);
	free(before);
	free(now);
	end(&mode);
}

static void a_first_run_asks_and_makes_the_log(void **state)
{
	(void)state;
	struct line_mode mode = {.scratch = scratch_make()};
	(void)scratch_path(&mode.scratch, "new.bough", mode.log);
	const char *said =
		say(&mode, "Hill\nnowhere\nnorth\nwinter frosty\nsi\nadd A1\napple\n2014\n"
			   "A1 picked 3 kg\n");
	check_has(said, "There is no log at", "said");
	check_has(said, "'nowhere' is no latitude", "asked again");
	check_has(said, "The log is made.", "made");
	check_has(said, "A1: picked 3 kg", "used at once");
	check_int(count(&mode, "SELECT count(*) FROM tree"), 1, "its tree");
	end(&mode);
}

static void a_first_run_left_early_makes_nothing(void **state)
{
	(void)state;
	static const char *const scripts[] = {"", "\n", "Hill\n", "Hill\nnorth\n"};
	for (size_t i = 0; i < sizeof scripts / sizeof scripts[0]; i++) {
		struct line_mode mode = {.scratch = scratch_make()};
		(void)scratch_path(&mode.scratch, "new.bough", mode.log);
		(void)say(&mode, scripts[i]);
		assert_false(file_exists(mode.log));
		end(&mode);
	}
}

static void rubbish_in_the_input_harms_nothing(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	static char script[20000];
	struct dice dice = dice_start();
	for (size_t i = 0; i + 1 < sizeof script; i++)
		script[i] = (char)dice_between(&dice, 1, 255);
	script[0] = 'A';
	script[sizeof script - 1] = '\0';
	(void)say(&mode, script);
	memset(script, 'x', sizeof script - 2);
	script[sizeof script - 2] = '\n';
	check_has(say(&mode, script), "That line is longer than", "one long line");
	end(&mode);
}

static void the_plan_is_told_by_ways_and_lengths(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	const char *said = say(&mode, "plan\n");
	check_has(said, "Ways are told from", "where from");
	check_has(said, "B3, 53 ft north-east: B3, apple; graft B3 east, apple;", "a spot");
	check_has(said, "E4, position not known: E4, lemon.", "what is not placed");
	said = say(&mode, "plan C3 left\n");
	check_has(said, "in one spot with C3 right", "beside it");
	check_has(said, "\nC4 16 ft east\n", "a neighbour");
	check_has(say(&mode, "plan A1\n"), "last season: 54 lb, 2026", "its crop");
	check_has(say(&mode, "plan Z9\n"), "Z9", "no such tree");
	end(&mode);
}

static void facts_are_asked_one_by_one(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	check_has(say(&mode, "facts A3\n\n\n\n\n\n\n\n\n\n\n\n"), "Nothing was changed.", "blank");
	check_has(mode.ran.out, "kind, now loquat, Gold Nugget (", "as it stands");
	check_has(say(&mode, "facts A3\n\n\ncertain\n\n\n\n\n12 ft\n\n\nprivate\n"), "Saved.",
		"two told otherwise");
	check_int(count(&mode, "SELECT count(*) FROM tree WHERE label = 'A3' AND "
			       "target_height_um = 3657600 AND is_private = 1"),
		1, "kept");
	check_has(say(&mode, "facts A3\n\n\n\n\n\n\n\n-\n\n\n-\n"), "Saved.", "emptied");
	check_int(count(&mode, "SELECT count(*) FROM tree WHERE label = 'A3' AND "
			       "target_height_um IS NULL AND is_private = 0"),
		1, "emptied");
	check_has(
		say(&mode, "facts A3\n\n\nquite\n\n\n\n\n\n\n\n\n"), "Not done: sure:", "refused");
	end(&mode);
}

static void which_it_could_be_is_told_and_what_is_seen_kept(void **state)
{
	(void)state;
	struct line_mode mode;
	make(&mode);
	const char *said = say(&mode, "likely F1 keep=long\n");
	check_has(said, "noted: flesh white; skin green-yellow", "noted");
	check_has(said, "keep long", "said now");
	check_has(said, "or a seedling, or not on this list", "a seedling");
	check_int(count(&mode, "SELECT count(*) FROM trait WHERE trait = 'keep'"), 0, "not kept");
	check_has(say(&mode, "trait F1 keeps=long\n"), "Saved.", "kept");
	check_int(count(&mode, "SELECT count(*) FROM trait WHERE trait = 'keep'"), 1, "kept");
	check_has(say(&mode, "trait F1 keep=forever\n"), "no row is like", "refused");
	check_has(say(&mode, "trait F1\n"), "say what you see", "nothing said");
	check_has(say(&mode, "likely\n"), "of which tree?", "no label");
	end(&mode);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_end_of_input_leaves_everywhere),
		cmocka_unit_test(facts_are_asked_one_by_one),
		cmocka_unit_test(which_it_could_be_is_told_and_what_is_seen_kept),
		cmocka_unit_test(the_first_flag_is_said_at_once),
		cmocka_unit_test(a_line_is_logged_and_taken_back),
		cmocka_unit_test(what_is_not_understood_is_said_and_kept_from_the_log),
		cmocka_unit_test(a_line_that_holds_two_is_answered_with_both),
		cmocka_unit_test(an_act_of_the_middle_is_taken_back),
		cmocka_unit_test(what_was_put_off_is_told_and_asked_about_again),
		cmocka_unit_test(the_almanac_and_all_that_is_written_are_read),
		cmocka_unit_test(what_goes_out_is_asked_and_written),
		cmocka_unit_test(the_shed_is_told_field_by_field),
		cmocka_unit_test(the_walk_goes_tree_by_tree),
		cmocka_unit_test(the_walk_begins_and_ends_where_it_is_told),
		cmocka_unit_test(the_review_is_answered_item_by_item),
		cmocka_unit_test(the_walk_says_why),
		cmocka_unit_test(done_in_the_review_logs_the_line),
		cmocka_unit_test(it_tells_yard_tree_season_dose_water_and_help),
		cmocka_unit_test(ask_tells_and_keeps_nothing),
		cmocka_unit_test(a_first_run_asks_and_makes_the_log),
		cmocka_unit_test(a_first_run_left_early_makes_nothing),
		cmocka_unit_test(rubbish_in_the_input_harms_nothing),
		cmocka_unit_test(the_plan_is_told_by_ways_and_lengths),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
