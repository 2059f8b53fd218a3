/* SPDX-License-Identifier: MIT */
/* Line mode: what can be said at the prompt. */
#include <string.h>

#include "core/text.h"
#include "plain_inner.h"
#include "report/rows.h"

static void do_yard(struct plain *plain, const char *rest)
{
	struct fault why = {.status = STATUS_OK};
	(void)rest;
	if (print_trees(&plain->printer, plain->session->yard, false, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
}

/* The tree of a label; says so when there is none. */
static bool find_tree(struct plain *plain, const char *label, struct tree *tree)
{
	struct fault why = {.status = STATUS_OK};
	if (store_tree_find(plain->session->store, label, tree, &why) == STATUS_OK)
		return true;
	plain_say(
		plain, "%s", label[0] == '\0' ? "Say the tree's label after the word." : why.text);
	return false;
}

static void do_tree(struct plain *plain, const char *rest)
{
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	if (find_tree(plain, rest, &tree) &&
		print_tree(&plain->printer, plain->session->yard, tree.id, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
}

static void do_facts(struct plain *plain, const char *rest)
{
	struct tree tree;
	if (find_tree(plain, rest, &tree))
		plain_facts(plain, &tree);
}

static void do_dose(struct plain *plain, const char *rest)
{
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	if (find_tree(plain, rest, &tree) &&
		print_dose(&plain->printer, plain->session->yard, tree.id, NULL, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
}

static void do_water(struct plain *plain, const char *rest)
{
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	if (find_tree(plain, rest, &tree) &&
		print_water(&plain->printer, plain->session->yard, tree.id, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
}

static void do_sun(struct plain *plain, const char *rest)
{
	struct tree tree;
	if (find_tree(plain, rest, &tree))
		plain_sun(plain, &tree);
}

static void do_year(struct plain *plain, const char *rest)
{
	(void)rest;
	plain_year(plain);
}

static void do_route(struct plain *plain, const char *rest)
{
	char said[FAULT_TEXT_SIZE] = "";
	struct fault why = {.status = STATUS_OK};
	(void)rest;
	const enum status status = work_route_auto(plain->session->yard, said, &why);
	(void)plain_done(plain, status, said, &why);
}

/* "season", "season 2025", "season A3": the yard's latest, that one, or all of a tree. */
static void do_season(struct plain *plain, const char *rest)
{
	struct arena *arena = arena_new();
	struct season_options options = {.tree_id = NULL};
	struct season_report report;
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	bool meant = true;
	if (rest[0] != '\0' && season_parse(rest, &options.year.value, NULL) == STATUS_OK) {
		options.year.known = true;
	} else if (rest[0] != '\0') {
		meant = find_tree(plain, rest, &tree);
		options.tree_id = tree.id;
	}
	enum status status = STATUS_OK;
	if (meant)
		status = season_report_make(plain->session->yard, &options, arena, &report, &why);
	if (meant && status == STATUS_OK)
		status = print_season(&plain->printer, &report, plain->session->yard, &why);
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
	arena_free(arena);
}

/* "weather", "weather 2025": this season so far, or that one. */
static void do_weather(struct plain *plain, const char *rest)
{
	struct arena *arena = arena_new();
	struct weather_ask ask = {.season = {.known = rest[0] != '\0'}};
	struct yard *yard = plain->session->yard;
	struct weather_report report;
	struct weather_warmth warmth;
	struct weather_trees trees;
	struct fault why = {.status = STATUS_OK};
	enum status status = STATUS_OK;
	if (rest[0] != '\0')
		status = season_parse(rest, &ask.season.value, &why);
	if (status == STATUS_OK)
		status = weather_report_make(yard, &ask, arena, &report, &why);
	if (status == STATUS_OK)
		status = print_weather(&plain->printer, &report, WEATHER_ALL, yard, &why);
	if (status == STATUS_OK)
		status = weather_warmth_make(yard, &report, arena, &warmth, &why);
	if (status == STATUS_OK)
		status = print_weather_warmth(&plain->printer, &warmth, WEATHER_ALL, yard, &why);
	if (status == STATUS_OK)
		status = weather_trees_make(yard, &report, arena, &trees, &why);
	if (status == STATUS_OK)
		status = print_weather_trees(&plain->printer, &trees, WEATHER_ALL, yard, &why);
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
	arena_free(arena);
}

static void do_walk(struct plain *plain, const char *rest)
{
	plain_walk(plain, rest);
}

static void do_plan(struct plain *plain, const char *rest)
{
	plain_plan(plain, rest);
}

static void do_merge(struct plain *plain, const char *rest)
{
	plain_merge(plain, rest);
}

static void do_review(struct plain *plain, const char *rest)
{
	(void)rest;
	plain_review(plain);
}

static void do_ask(struct plain *plain, const char *rest)
{
	plain_would(plain, NULL, rest);
}

static void do_undo(struct plain *plain, const char *rest)
{
	(void)rest;
	plain_undo(plain, false);
}

static void do_redo(struct plain *plain, const char *rest)
{
	(void)rest;
	plain_undo(plain, true);
}

static void do_quit(struct plain *plain, const char *rest)
{
	(void)rest;
	plain->ended = true;
}

static void do_history(struct plain *plain, const char *rest)
{
	(void)rest;
	plain_history(plain);
}

static void do_answered(struct plain *plain, const char *rest)
{
	(void)rest;
	plain_answered(plain);
}

static void do_shed(struct plain *plain, const char *rest)
{
	(void)rest;
	plain_shed(plain);
}

static void do_product(struct plain *plain, const char *rest)
{
	plain_shed_tell(plain, false, rest);
}

static void do_container(struct plain *plain, const char *rest)
{
	plain_shed_tell(plain, true, rest);
}

static void do_help(struct plain *plain, const char *rest);

static const struct word {
	const char *name;
	void (*run)(struct plain *plain, const char *rest);
	const char *help;
} words[] = {
	{"yard", do_yard, "every tree"},
	{"tree", do_tree, "LABEL: one tree's whole story"},
	{"facts", do_facts, "LABEL: what is known of it, field by field, to be told otherwise"},
	{"likely", plain_likely, "LABEL TRAIT=VALUE ...: what it could be; nothing is kept"},
	{"trait", plain_trait, "LABEL TRAIT=VALUE ...: keeps what you see of its fruit"},
	{"walk", do_walk, "tree by tree, with a line to log at each; from LABEL where it is said"},
	{"review", do_review, "what is due or was ill-timed, worst first, one by one"},
	{"plan", do_plan, "where each spot lies; a LABEL for what stands around one tree"},
	{"merge", do_merge, "FILE: another copy of this log, tried first; and what both changed"},
	{"year", do_year, "the year ahead: what each tree will do, and when work is due"},
	{"route", do_route, "sets a short way from the gate for the walk"},
	{"season", do_season, "what each tree gave; a YEAR, or a LABEL for all seasons of one"},
	{"weather", do_weather, "chill, warmth and frost so far; a YEAR for that season"},
	{"ask", do_ask, "LINE: what the rules would say if this were done; nothing is kept"},
	{"dose", do_dose, "LABEL: how much feed, by which rule"},
	{"water", do_water, "LABEL: what it draws in a week, and how long to run"},
	{"partners", plain_partners, "LABEL: who gives it pollen, and whom it serves"},
	{"bloom", plain_bloom, "when each tree blooms, side by side"},
	{"descent", plain_descent, "LABEL: where it comes from, and what came from it"},
	{"stock", plain_stock, "what became of the fruit; a YEAR for that season"},
	{"sun", do_sun, "LABEL: the hours of sun where it stands, month by month"},
	{"compare", plain_compare, "LABEL, LABEL: what two trees gave, season by season"},
	{"almanac", plain_almanac, "KIND: what is known of it, with every source"},
	{"search", plain_search, "WORDS: all that is written with them, a tree's label first"},
	{"shed", do_shed, "products to feed and spray with, containers to pick into"},
	{"product", do_product, "NAME: one told field by field; a new one is added"},
	{"container", do_container, "NAME: one told, or weighed anew; a new one is added"},
	{"remove", plain_shed_remove, "product NAME, or container NAME: takes it out of the shed"},
	{"export", plain_export,
		"WORD, perhaps with a LABEL or a YEAR: writes it to a file; which is asked"},
	{"answered", do_answered, "what was put off or set aside, one by one"},
	{"history", do_history, "what was done, newest first, one by one"},
	{"add", plain_add, "LABEL, or A1..A12: a tree, or a row of them"},
	{"undo", do_undo, "takes back what was done last"},
	{"redo", do_redo, "does again what was undone"},
	{"help", do_help, "this"},
	{"quit", do_quit, "leaves; so does the end of the input"},
	{NULL, NULL, NULL},
};

static void do_help(struct plain *plain, const char *rest)
{
	(void)rest;
	for (const struct word *word = words; word->name != NULL; word++)
		plain_say(plain, "%s: %s", word->name, word->help);
	plain_say(plain, "Anything else is an entry line: label, verb, amount, at sign and day, "
			 "semicolon and note. For example:");
	for (int kind = 0; kind < KIND_TOTAL; kind++)
		plain_say(plain, "  %s", kind_row((enum entry_kind)kind)->example);
	plain_say(plain, "Figures are guidance: the label, local codes and licensed practice come "
			 "first.");
}

void plain_obey(struct plain *plain)
{
	for (const struct word *word = words; word->name != NULL; word++) {
		const char *rest = plain_after(plain, word->name);
		if (rest != NULL) {
			char kept[LINE_SIZE];
			(void)text_copy(kept, sizeof kept, rest);
			word->run(plain, kept);
			return;
		}
	}
	if (plain->line[0] == '\0')
		return;
	char line[LINE_SIZE];
	(void)text_copy(line, sizeof line, plain->line);
	(void)plain_log(plain, NULL, line);
}
