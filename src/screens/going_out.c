/* SPDX-License-Identifier: MIT */
#include "going_out.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "exchange/export.h"
#include "exchange/handout.h"

/* clang-format off */
static const struct {
	const char *word;
	const char *screen; /* that shows the same; NULL none */
	const char *title;
	const char *of_tree; /* NULL: always of the yard */
	bool keeps_all;      /* private trees cannot be left out */
} things[] = {
	{"report", "season", "the season report", "its seasons", false},
	{"walk", "walk", "the walk list, with lines to fill by hand", NULL, false},
	{"sheet", "tree", "a sheet for each tree, and one for the yard", "its sheet", false},
	{"calendar", NULL, "the year ahead, for a calendar program", NULL, false},
	{"plan", "plan", "the plan, for a map program", NULL, false},
	{"trees", NULL, "the trees, as a table (CSV)", NULL, false},
	{"entries", NULL, "all entries, as a table (CSV)", NULL, false},
	{"picks", NULL, "all picks, as a table (CSV)", NULL, false},
	{"flags", "review", "what the review says, as a table (CSV)", NULL, true},
};
/* clang-format on */
enum { THINGS = sizeof things / sizeof things[0] };

int32_t going_out_count(void)
{
	return THINGS;
}

const char *going_out_word(int32_t what)
{
	return things[what].word;
}

static bool is_word(const char *one, const char *word, size_t length)
{
	return one != NULL && strlen(one) == length && strncmp(one, word, length) == 0;
}

int32_t going_out_find(const char *word, size_t length)
{
	for (int32_t i = 0; i < THINGS; i++)
		if (is_word(things[i].word, word, length) ||
			is_word(things[i].screen, word, length))
			return i;
	return -1;
}

bool going_out_is_of_tree(const struct going_out *out)
{
	return out->label[0] != '\0' && things[out->what].of_tree != NULL;
}

static bool is_of_season(const struct going_out *out)
{
	return out->what == 0 && out->year.known && !going_out_is_of_tree(out);
}

const char *going_out_title(const struct going_out *out, char *text, size_t size)
{
	if (going_out_is_of_tree(out))
		(void)snprintf(text, size, "%s: %s", out->label, things[out->what].of_tree);
	else if (is_of_season(out))
		(void)snprintf(
			text, size, "%s of %d", things[out->what].title, (int)out->year.value);
	else
		(void)snprintf(text, size, "%s", things[out->what].title);
	return text;
}

bool going_out_is_paper(const struct going_out *out)
{
	return handout_is_paper(things[out->what].word);
}

bool going_out_leaves_out(const struct going_out *out)
{
	return !things[out->what].keeps_all;
}

void going_out_usual(
	const struct going_out *out, struct session *session, char path[FILE_PATH_SIZE])
{
	char year[16] = "";
	if (is_of_season(out))
		(void)snprintf(year, sizeof year, "%d", (int)out->year.value);
	handout_usual_path(session, things[out->what].word,
		going_out_is_of_tree(out) ? out->label : year, path);
}

static enum status write_table(
	const struct going_out *out, struct session *session, const char *path, struct fault *why)
{
	const struct export_options options = {.what = things[out->what].word,
		.path = path,
		.format = FORMAT_CSV,
		.without_private = out->without_private && going_out_leaves_out(out)};
	struct arena *arena = arena_new();
	const enum status status = export_table(session, &options, arena, why);
	arena_free(arena);
	return status;
}

enum status going_out_write(
	const struct going_out *out, struct session *session, const char *path, struct fault *why)
{
	if (path[0] == '\0' || strcmp(path, "-") == 0)
		return fault_set(why, STATUS_SYNTAX, "a file wants a name");
	if (!handout_is(things[out->what].word))
		return write_table(out, session, path, why);
	const struct handout handout = {.what = things[out->what].word,
		.path = path,
		.html = handout_path_is_html(path),
		.tree_id = going_out_is_of_tree(out) ? out->tree_id : NULL,
		.year = is_of_season(out) ? out->year : (struct maybe_i32){.known = false},
		.without_private = out->without_private};
	return handout_write(session, &handout, why);
}
