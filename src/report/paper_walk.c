/* SPDX-License-Identifier: MIT */
/* The walk list: to be filled by hand where no screen goes, and typed up later. */
#include <string.h>

#include "paper_parts.h"
#include "report/walk_route.h"
#include "rules/plans.h"
#include "tree_words.h"

enum { ENTRIES_SHOWN = 3, BLANKS = 2 };

struct walk_paper {
	const struct on_paper *paper;
	struct document document;
	const struct review *review;
	int32_t stop;
};

static void say_stop(struct walk_paper *walk, const struct dossier *dossier, struct arena *arena)
{
	struct words_rows entries = {.arena = arena};
	struct number_rules numbers = walk->paper->printer.numbers;
	char title[NAME_SIZE * 3], said[400], day[40];
	struct date due, last;

	document_group_begin(
		&walk->document, arena_format(arena, "%d. %s%s", (int)++walk->stop,
					 dossier->host != NULL ? "+ " : "",
					 paper_tree_title(dossier, title, sizeof title)));
	if (dossier->tree.hazard[0] != '\0')
		document_warn(&walk->document, dossier->tree.hazard);
	if (dossier->tree.over_fence)
		document_say(&walk->document, "Over the fence: no work is asked for it.");
	paper_flags(&walk->document, walk->review, dossier->tree.id);
	for (int32_t i = 0; i < dossier->planned_count; i++) {
		const struct entry *plan = dossier->planned[i];

		if (!rule_plan_open(dossier, plan, yard_today(walk->paper->yard), &due, &last))
			continue;
		entry_format(plan, &numbers, said, sizeof said);
		document_row(&walk->document, "planned", "%s, %s", said,
			date_format_plain(due, day, sizeof day));
	}
	tree_words_entries(dossier, &numbers, &entries);
	for (int32_t i = entries.count; i > 0 && i > entries.count - ENTRIES_SHOWN; i--)
		document_row(&walk->document, entries.items[i - 1].head, "%s",
			entries.items[i - 1].text);
	document_blanks(&walk->document, BLANKS);
	document_group_end(&walk->document);
}

static enum status say_stops(
	struct walk_paper *walk, const struct walk_route *route, struct fault *why)
{
	struct arena *arena = arena_new();
	enum status status = STATUS_OK;

	for (int32_t i = 0; status == STATUS_OK && i < route->count; i++) {
		const struct dossier *dossier = NULL;

		arena_reset(arena);
		status = yard_dossier_in(walk->paper->yard, route->ids[i], arena, &dossier, why);
		bool wanted = status == STATUS_OK &&
			      !(walk->paper->without_private && dossier_is_private(dossier)) &&
			      (walk->paper->tree_id == NULL ||
				      strcmp(walk->paper->tree_id, route->ids[i]) == 0);
		if (wanted)
			say_stop(walk, dossier, arena);
	}
	arena_free(arena);
	return status;
}

static void say_how(struct walk_paper *walk)
{
	document_say(&walk->document,
		"Write the day and what was done or seen on the lines. To type it up, say it as "
		"you "
		"would log it, with its day: A3 picked 6 lb 4 oz @ 12 may. A file of such lines is "
		"taken whole by: boughbook enter -");
	paper_cautions(&walk->document);
}

enum status on_paper_walk(const struct on_paper *paper, struct fault *why)
{
	struct arena *arena = arena_new();
	struct review review = {0};
	struct review_options options = {.tree_id = paper->tree_id};
	struct walk_route route = {0};
	struct walk_paper walk = {.paper = paper, .review = &review};
	enum status status = paper->tree_id != NULL ? paper_allows(paper, why) : STATUS_OK;

	if (status == STATUS_OK)
		status = walk_route_read(yard_store(paper->yard), arena, &route, why);
	if (status == STATUS_OK)
		status = review_make(paper->yard, &options, arena, &review, why);
	if (status == STATUS_OK) {
		paper_begin(&walk.document, paper,
			arena_format(arena, "%s: walk list", yard_place(paper->yard)->name));
		say_how(&walk);
		status = say_stops(&walk, &route, why);
		if (walk.stop == 0)
			document_say(&walk.document, "no tree stands here yet");
	}
	status = paper_finish(&walk.document, status, why);
	arena_free(arena);
	return status;
}
