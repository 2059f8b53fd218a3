/* SPDX-License-Identifier: MIT */
/* The screens there are. To add one: its file, and a row here. */
#include <string.h>

#include "screen.h"

static const struct screen *const table[] = {
	&screen_yard,
	&screen_walk,
	&screen_review,
	&screen_year,
	&screen_add,
	&screen_first,
	&screen_season,
	&screen_compare,
	&screen_weather,
	&screen_plan,
	&screen_tree,
	&screen_facts,
	&screen_figures,
	&screen_likely,
	&screen_merge,
	&screen_almanac,
	&screen_history,
	&screen_answers,
	&screen_search,
	&screen_export,
	&screen_shed,
	&screen_help,
};

enum { SCREENS_TOTAL = sizeof table / sizeof table[0] };

const struct screen *screen_at(int place)
{
	return place >= 0 && place < SCREENS_TOTAL ? table[place] : NULL;
}

/* Actions that open one, wherever they are asked. */
const char *screen_of(enum action action)
{
	static const char *const names[ACTION_TOTAL] = {[ACTION_YARD] = "yard",
		[ACTION_YEAR] = "year",
		[ACTION_WALK] = "walk",
		[ACTION_REVIEW] = "review",
		[ACTION_SEASON] = "season",
		[ACTION_WEATHER] = "weather",
		[ACTION_PLAN] = "plan",
		[ACTION_MERGE] = "merge",
		[ACTION_ADD] = "add",
		[ACTION_ALMANAC] = "almanac",
		[ACTION_HISTORY] = "history",
		[ACTION_ANSWERS] = "answers",
		[ACTION_SEARCH] = "search",
		[ACTION_EXPORT] = "export",
		[ACTION_SHED] = "shed"};

	return names[action];
}

const struct screen *screen_find(const char *name)
{
	for (int i = 0; i < SCREENS_TOTAL; i++) {
		if (strcmp(table[i]->name, name) == 0)
			return table[i];
	}
	return NULL;
}
