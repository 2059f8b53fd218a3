/* SPDX-License-Identifier: MIT */
#include "support/every.h"

#include "support/test.h"

#include <stdlib.h>

/* clang-format off */
const struct where wheres[] = {
	{.name = "yard", .keys = "", .typed = "", .shows = "its year now"},
	{.name = "finding_in_the_yard", .keys = "/", .typed = "fi", .shows = "fi", .types = true},
	{.name = "year", .keys = "Y", .typed = "", .shows = "saw between:"},
	{.name = "finding_in_the_year", .keys = "Y /", .typed = "fi", .shows = "fi", .types = true},
	{.name = "walk", .keys = "w", .typed = "", .shows = "1 of 22", .types = true},
	{.name = "line_of_the_walk", .keys = "w", .typed = "note half a wo", .kept = true,
		.shows = "A1 note half a wo", .types = true},
	{.name = "finding_on_the_walk", .keys = "w /", .typed = "fi", .shows = "fi", .types = true},
	{.name = "review", .keys = "r", .typed = "", .shows = "set aside"},
	{.name = "reason_in_the_review", .keys = "r x", .typed = "too sha", .shows = "too sha",
		.types = true},
	{.name = "season", .keys = "s", .typed = "", .shows = "Season"},
	{.name = "weather", .keys = "W", .typed = "", .shows = "Weather"},
	{.name = "tree", .keys = "Enter", .typed = "", .shows = "A1"},
	{.name = "facts", .keys = "Enter e", .typed = "x", .kept = true, .shows = "A1x",
		.types = true},
	{.name = "likely", .keys = "Enter i Right", .typed = "", .shows = "not kept"},
	{.name = "plan", .keys = "P", .typed = "", .shows = "[1 flags]"},
	{.name = "merge", .keys = "M", .typed = "usb", .shows = "usb", .types = true},
	{.name = "history", .keys = "H", .typed = "", .shows = "History"},
	{.name = "answered", .keys = "O", .typed = "", .shows = "Answered"},
	{.name = "almanac", .keys = "A", .typed = "", .shows = "Almanac"},
	{.name = "search", .keys = "F", .typed = "gu", .shows = "gu", .types = true},
	{.name = "export", .keys = "X", .typed = "x", .shows = "> the season report", .types = true},
	{.name = "shed", .keys = "S", .typed = "", .shows = "Shed"},
	{.name = "help", .keys = "?", .typed = "", .shows = "Help"},
	{.name = "adding_trees", .keys = "a", .typed = "row of th", .kept = true,
		.shows = "row of th", .types = true},
	{.name = "first_run", .keys = "Enter", .typed = "My ya", .shows = "My ya", .empty = true,
		.types = true},
};
/* clang-format on */
_Static_assert(sizeof wheres / sizeof wheres[0] == WHERES, "each where is counted");

void go_there(struct stage *stage, const struct where *where)
{
	const struct stage_options options = {.empty = where->empty};
	stage_open(stage, &options);
	(void)stage_keys(stage, where->keys);
	stage_type(stage, where->typed);
	stage_shows(stage, where->shows);
}

int acts_of(const struct stage *stage)
{
	return stage->options.empty ? 0 : stage_count(stage, "SELECT count(*) FROM change_set");
}

void check_sound(const struct stage *stage)
{
	if (stage->options.empty) {
		assert_false(file_exists(stage->log));
		return;
	}
	char *sound = stage_sql(stage, "PRAGMA quick_check");
	check_text(sound, "ok\n", "log");
	free(sound);
}
