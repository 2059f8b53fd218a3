/* SPDX-License-Identifier: MIT */
/* The papers: what stands on them, in what order, how wide, and that no text breaks them. */
#include "report/on_paper.h"

#include <ctype.h>
#include <stdlib.h>

#include "core/text.h"

#include "support/garden.h"

struct print {
	char *text;
	size_t length;
};

typedef enum status (*paper_fn)(const struct on_paper *paper, struct fault *why);

static struct print print_with(struct garden *garden, paper_fn write, struct on_paper paper)
{
	struct print print = {0};
	struct fault why = {0};

	paper.yard = garden->yard;
	paper.printer.width = 80;
	paper.printer.units = UNITS_US;
	paper.printer.numbers = yard_numbers(garden->yard);
	paper.printer.stream = open_memstream(&print.text, &print.length);
	assert_non_null(paper.printer.stream);
	check_ok(write(&paper, &why), &why);
	fclose(paper.printer.stream);
	return print;
}

static struct print print_of(struct garden *garden, paper_fn write, bool html)
{
	return print_with(garden, write, (struct on_paper){.html = html});
}

static void check_lacks(const char *text, const char *part)
{
	if (strstr(text, part) != NULL)
		fail_msg("'%s' stands in:\n%s", part, text);
}

/* The parts stand in the text one after another. */
static void check_order(const char *text, const char *const *parts)
{
	const char *at = text;

	for (; *parts != NULL; parts++) {
		const char *found = strstr(at, *parts);
		if (found == NULL)
			fail_msg("'%s' does not come next in:\n%s", *parts, at);
		else
			at = found;
	}
}

static void check_width(const char *text)
{
	char *copy = strdup(text);

	for (char *line = strtok(copy, "\n\f"); line != NULL; line = strtok(NULL, "\n\f")) {
		if (text_width(line) > 80)
			fail_msg("%d cells: %s", text_width(line), line);
		for (const char *at = line; *at != '\0'; at++)
			if ((unsigned char)*at < ' ' || *at == 0x7f)
				fail_msg("a control byte %d in: %s", *at, line);
	}
	free(copy);
}

static void mark(struct garden *garden, const char *label, const char *hazard, bool is_private)
{
	struct fault why = {0};
	struct tree tree = garden_find(garden, label);

	text_copy(tree.hazard, sizeof tree.hazard, hazard);
	tree.is_private = is_private;
	check_ok(store_act_begin(garden->store, ACT_WORK, "mark", &why), &why);
	check_ok(store_tree_save(garden->store, &tree, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void make_yard(struct garden *garden)
{
	garden_make(garden, "2026-09-20");
	garden_tree(garden, "A1", "apple", "2014-02-03", "A1");
	garden_tree(garden, "A2", "apple", "2014", "A2");
	garden_tree(garden, "A3", "fig", "2015", "A3");
	garden_log(garden, "A1 picked last 40 lb @ 2024-09-01");
	garden_log(garden, "A1 picked last 20 lb @ 2025-09-01");
	garden_log(garden, "A1 picked last 60 lb @ 2026-09-02");
	garden_log(garden, "A2 picked last 30 lb @ 2025-09-02");
	garden_log(garden, "A2 picked last 15 lb @ 2026-09-03");
	garden_log(garden, "A3 picked 6 lb @ 2026-09-10 ; from the south side");
	garden_log(garden, "A1 girth 31 cm @ 2026-01-10");
	garden_log(garden, "A1 height 12 ft @ 2026-01-10");
	mark(garden, "A2", "power line over it", false);
}

static void the_report_tells_best_and_least_and_what_changed(void **state)
{
	struct garden garden;
	static const char *const parts[] = {"Hill yard: season 2026",
		"As the log stands on 20 September 2026.", "By kind", "apple", "75 lb",
		"All trees, year by year", "2024", "40 lb", "2026", "Best and least",
		"A1, apple: 200 % of its mean of 30 lb, 2 seasons",
		"A2, apple: 50 % of its mean of 30 lb, 1 season", "Tree by tree",
		"What changed since the season before", "60 lb, before it 20 lb",
		"15 lb, before it 30 lb", "Year by year", NULL};
	(void)state;

	make_yard(&garden);
	struct print text = print_of(&garden, on_paper_season, false);
	struct print html = print_of(&garden, on_paper_season, true);
	check_order(text.text, parts);
	check_order(html.text, parts);
	check_width(text.text);
	check_has(html.text, "<svg viewBox=\"0 0 640 ", "charts are drawn");
	check_lacks(html.text, "<script");
	free(text.text);
	free(html.text);
	garden_free(&garden);
}

static void a_bar_is_as_long_as_its_share(void **state)
{
	struct garden garden;
	struct tree tree;
	(void)state;

	make_yard(&garden);
	tree = garden_find(&garden, "A1");
	struct print text =
		print_with(&garden, on_paper_season, (struct on_paper){.tree_id = tree.id});
	struct print html = print_with(
		&garden, on_paper_season, (struct on_paper){.tree_id = tree.id, .html = true});
	check_has(text.text, "2025 ████████         │         20 lb", "a third of the best");
	check_has(text.text, "2026 █████████████████│███████  60 lb", "the best");
	check_has(html.text, "stroke=\"#000\" x=\"130\" y=\"3\" width=\"160\"", "two thirds");
	check_has(html.text, "width=\"240\"", "the best");
	free(text.text);
	free(html.text);
	garden_free(&garden);
}

static void the_walk_tells_hazards_before_anything(void **state)
{
	struct garden garden;
	static const char *const parts[] = {"Hill yard: walk list", "1. A1  apple",
		"2 September 2026", "10 January 2026", "2. A2  apple", "power line over it",
		"3 September 2026", "day", "3. A3  fig", "from the south side", "day", NULL};
	(void)state;

	make_yard(&garden);
	struct print text = print_of(&garden, on_paper_walk, false);
	struct print html = print_of(&garden, on_paper_walk, true);
	check_order(text.text, parts);
	check_order(html.text, parts);
	check_width(text.text);
	int blanks = 0;
	for (const char *at = text.text; (at = strstr(at, "  day ____")) != NULL; at++)
		blanks++;
	check_int(blanks, 6, "two lines a tree");
	free(text.text);
	free(html.text);
	garden_free(&garden);
}

static void the_walk_follows_the_route(void **state)
{
	struct garden garden;
	struct fault why = {0};
	struct spot spots[2];
	static const char *const parts[] = {"1. A3", "2. A1", "3. A2", NULL};
	(void)state;

	make_yard(&garden);
	check_ok(store_spot_find(garden.store, "A3", &spots[0], &why), &why);
	check_ok(store_spot_find(garden.store, "A1", &spots[1], &why), &why);
	const char *ids[] = {spots[0].id, spots[1].id};
	check_ok(store_act_begin(garden.store, ACT_WORK, "route", &why), &why);
	check_ok(store_route_set(garden.store, ids, 2, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	struct print text = print_of(&garden, on_paper_walk, false);
	check_order(text.text, parts);
	free(text.text);
	garden_free(&garden);
}

static void the_walk_tells_plans_that_are_still_to_do(void **state)
{
	struct garden garden;
	(void)state;

	make_yard(&garden);
	garden_log(&garden, "A1 plan watered 5 gal every 6 weeks @ 2026-08-20");
	garden_log(&garden, "A2 plan fed 2 lb 10-10-10 @ 2026-09-25");
	garden_log(&garden, "A2 fed 2 lb 10-10-10 @ 2026-09-19");
	struct print text = print_of(&garden, on_paper_walk, false);
	assert_non_null(strstr(text.text, "watered 5 gal, every 6 weeks"));
	assert_null(strstr(text.text, "25 September 2026"));
	free(text.text);
	garden_free(&garden);
}

static void a_sheet_tells_the_whole_tree(void **state)
{
	struct garden garden;
	static const char *const parts[] = {"The yard", "A2: power line over it",
		"What stands there", "A1  apple", "apple, Malus domestica (certain)", "recorded as",
		"3 February 2014", "spot A1, from 3 February 2014", "by its girth", "height",
		"12 ft", "Its year", "bloom", "(almanac)",
		"What it gave; the line is its mean, 40 lb", "Picked, over 3 seasons",
		"What was done and seen", "Cautions", "A2  apple", "power line over it", "A3  fig",
		"from the south side", NULL};
	(void)state;

	make_yard(&garden);
	garden_identify(&garden, "A1", "pear", "", "");
	garden_identify(&garden, "A1", "apple", "", "");
	struct print text = print_of(&garden, on_paper_sheets, false);
	struct print html = print_of(&garden, on_paper_sheets, true);
	check_order(text.text, parts);
	check_order(html.text, parts);
	check_width(text.text);
	int pages = 0;
	for (const char *at = text.text; (at = strchr(at, '\f')) != NULL; at++)
		pages++;
	check_int(pages, 3, "a page for the yard, then one a tree");
	free(text.text);
	free(html.text);
	garden_free(&garden);
}

static void private_trees_and_their_grafts_are_left_out(void **state)
{
	static const paper_fn papers[] = {on_paper_season, on_paper_walk, on_paper_sheets};
	struct garden garden;
	struct fault why = {0};
	(void)state;

	make_yard(&garden);
	garden_tree(&garden, "secret", "quince", "2016", "far corner");
	garden_log(&garden, "secret picked last 12 lb @ 2026-09-12");
	garden_log(&garden, "secret grafted bud Hidden @ 2025-03-01");
	mark(&garden, "secret", "a well without a lid", true);
	for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++)
		for (int html = 0; html < 2; html++) {
			struct print all =
				print_with(&garden, papers[i], (struct on_paper){.html = html});
			struct print some = print_with(&garden, papers[i],
				(struct on_paper){.html = html, .without_private = true});
			check_has(all.text, "secret", "without the option it is there");
			check_lacks(some.text, "secret");
			check_lacks(some.text, "quince");
			check_lacks(some.text, "well without");
			check_lacks(some.text, "Hidden");
			check_has(some.text, "What is marked private is left out.", "said");
			free(all.text);
			free(some.text);
		}
	struct tree tree = garden_find(&garden, "secret");
	struct on_paper one = {
		.printer = {.stream = stdout, .width = 80, .units = UNITS_US},
		.yard = garden.yard,
		.tree_id = tree.id,
		.without_private = true,
	};
	for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++)
		check_refused(papers[i](&one, &why), STATUS_DENIED, &why, "is marked private");
	garden_free(&garden);
}

/* Start and end tags of the page pair up, whatever was typed. */
static void check_tags(const char *html)
{
	static const char *const empty[] = {"meta", "!DOCTYPE", "br", "hr"};
	char open[64][16];
	int depth = 0;

	for (const char *at = html; (at = strchr(at, '<')) != NULL; at++) {
		char name[16] = "";
		bool closing = at[1] == '/';
		size_t size = strcspn(at + 1 + closing, " >\n");
		assert_true(size > 0 && size < sizeof name);
		memcpy(name, at + 1 + closing, size);
		name[size] = '\0';
		bool alone = false;
		for (size_t i = 0; i < sizeof empty / sizeof empty[0]; i++)
			alone = alone || strcmp(empty[i], name) == 0;
		if (alone)
			continue;
		if (!closing) {
			assert_true(depth < 64);
			memcpy(open[depth++], name, sizeof name);
		} else {
			assert_true(depth > 0);
			check_text(open[--depth], name, "closes what was opened last");
		}
	}
	check_int(depth, 0, "all is closed");
}

static void hostile_words_break_no_page(void **state)
{
	static const paper_fn papers[] = {on_paper_season, on_paper_walk, on_paper_sheets};
	struct garden garden;
	(void)state;

	make_yard(&garden);
	garden_tree(&garden, "<b>&'", "", "", "</table>");
	garden_tree(&garden, "\xd7\x91\xd7\x95\xd7\xa1\xd7\xaa\xd7\x9f </script>", "", "", "");
	garden_log(&garden, "A1 note ; </script><script>alert('x')</script> \xe2\x80\xae mirror");
	garden_log(&garden, "A1 saw <img src=x onerror=alert(1)>");
	garden_log(&garden, "A2 note ; =HYPERLINK(\"x\"), \\; 31m");
	mark(&garden, "A1", "</p><h1>wire\r\n\033]0;title\007 \xc2\x9b line", false);
	for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++) {
		struct print text = print_of(&garden, papers[i], false);
		struct print html = print_of(&garden, papers[i], true);
		check_width(text.text);
		check_tags(html.text);
		check_lacks(html.text, "<script");
		check_lacks(html.text, "<img");
		check_lacks(html.text, "\xe2\x80\xae");
		check_lacks(html.text, "\033");
		check_lacks(html.text, "\xc2\x9b");
		check_has(html.text, "&lt;b&gt;&amp;&#39;", "the label is there");
		free(text.text);
		free(html.text);
	}
	garden_free(&garden);
}

static void an_empty_yard_has_its_papers_too(void **state)
{
	static const paper_fn papers[] = {on_paper_season, on_paper_walk, on_paper_sheets};
	struct garden garden;
	(void)state;

	garden_make(&garden, "2026-09-20");
	for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++) {
		struct print text = print_of(&garden, papers[i], false);
		struct print html = print_of(&garden, papers[i], true);
		check_has(text.text, "Hill yard", "its name");
		check_tags(html.text);
		free(text.text);
		free(html.text);
	}
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_report_tells_best_and_least_and_what_changed),
		cmocka_unit_test(a_bar_is_as_long_as_its_share),
		cmocka_unit_test(the_walk_tells_hazards_before_anything),
		cmocka_unit_test(the_walk_follows_the_route),
		cmocka_unit_test(the_walk_tells_plans_that_are_still_to_do),
		cmocka_unit_test(a_sheet_tells_the_whole_tree),
		cmocka_unit_test(private_trees_and_their_grafts_are_left_out),
		cmocka_unit_test(hostile_words_break_no_page),
		cmocka_unit_test(an_empty_yard_has_its_papers_too),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
