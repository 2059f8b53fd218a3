/* SPDX-License-Identifier: MIT */
/* Line mode: the walk and the first run. */
#include <string.h>
#include <unistd.h>

#include "core/file.h"
#include "core/text.h"
#include "report/demo.h"
#include "report/walk_route.h"
#include "first_place.h"
#include "plain_inner.h"
#include "report/rows.h"

enum { ENTRIES_SAID = 3 };

/* --- at one tree --- */

static void say_grounds(struct plain *plain, const struct flag *flag)
{
	const char *title = source_title(plain->session->almanac, flag->source);
	plain_say(plain, "By: %s%s%s", flag->basis, flag->basis[0] != '\0' ? "; " : "", title);
	plain_say_why(plain, flag);
}

/* with_why: with what each rests on. */
static void say_flags(struct plain *plain, const char *tree_id, bool with_why)
{
	struct arena *arena = arena_new();
	struct review review;
	struct review_options options = {.tree_id = tree_id};
	struct fault why;
	if (review_make(plain->session->yard, &options, arena, &review, &why) == STATUS_OK)
		for (int32_t i = 0; i < review.count; i++) {
			const struct flag *flag = &review.items[i].flag;
			plain_say(plain, "  %s: %s", urgency_key(flag->urgency), flag->says);
			if (with_why)
				say_grounds(plain, flag);
		}
	arena_free(arena);
}

static void say_entry(struct plain *plain, const struct entry *entry)
{
	char said[400], day[80];
	bool noted = entry->note != NULL && entry->note[0] != '\0';
	entry_format(entry, &plain->printer.numbers, said, sizeof said);
	plain_say(plain, "  %s: %s%s%s", date_span_format_plain(&entry->day, day, sizeof day), said,
		noted ? "; " : "", noted ? entry->note : "");
}

/* The hazard first, then what it is, what is flagged, and what was done last. */
static bool say_tree(
	struct plain *plain, const char *id, int32_t place, int32_t count, char label[LABEL_SIZE])
{
	struct arena *arena = arena_new();
	const struct dossier *dossier;
	struct fault why = {.status = STATUS_OK};
	bool found = yard_dossier_in(plain->session->yard, id, arena, &dossier, &why) == STATUS_OK;
	if (!found) {
		plain_say(plain, "%s", why.text);
	} else {
		const struct tree_kind *kind = &dossier->kind;
		(void)text_copy(label, LABEL_SIZE, dossier->tree.label);
		if (dossier->tree.hazard[0] != '\0')
			plain_say(plain, "Hazard at %s: %s", label, dossier->tree.hazard);
		plain_say(plain, "%s, %s%s%s, tree %d of %d.", label, kind->name,
			kind->cultivar[0] != '\0' ? ", " : "", kind->cultivar, place + 1, count);
		say_flags(plain, id, false);
		for (int32_t i = dossier->entry_count - 1;
			i >= 0 && i >= dossier->entry_count - ENTRIES_SAID; i--)
			say_entry(plain, dossier->entries[i]);
	}
	arena_free(arena);
	return found;
}

/* --- along the route --- */

enum step { STEP_STAY, STEP_NEXT, STEP_BACK, STEP_STOP };

/* The flags of the tree with what they rest on. */
static void say_why(struct plain *plain, const char *label)
{
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	if (store_tree_find(plain->session->store, label, &tree, &why) == STATUS_OK)
		say_flags(plain, tree.id, true);
	else
		plain_say(plain, "%s", why.text);
}

static enum step take_line(struct plain *plain, const char *label, char last[LINE_SIZE])
{
	char line[LINE_SIZE];
	const char *rest = plain_after(plain, "ask");
	(void)text_copy(line, sizeof line, rest != NULL ? rest : plain->line);
	if (plain->line[0] == '\0' || plain_is(plain, "next"))
		return STEP_NEXT;
	if (plain_is(plain, "back"))
		return STEP_BACK;
	if (plain_is(plain, "stop") || plain_is(plain, "quit")) {
		plain->ended = plain_is(plain, "quit");
		return STEP_STOP;
	}
	if (plain_is(plain, "undo"))
		plain_undo(plain, false);
	else if (plain_is(plain, "help"))
		plain_say(plain,
			"Type what you did or saw: picked 6 lb 4 oz. A blank line goes to "
			"the next tree; back, again, undo, stop; ask LINE tries it; why says what "
			"the flags rest on.");
	else if (plain_is(plain, "why"))
		say_why(plain, label);
	else if (plain_is(plain, "again") && last[0] == '\0')
		plain_say(plain, "Nothing was logged on this walk yet.");
	else if (plain_is(plain, "again"))
		(void)plain_log(plain, label, last);
	else if (rest != NULL)
		plain_would(plain, label, line);
	else if (plain_log(plain, label, line))
		(void)text_copy(last, LINE_SIZE, line);
	return STEP_STAY;
}

/* Lines at one tree, until another is wanted. */
static enum step stay_at(struct plain *plain, const char *label, char last[LINE_SIZE])
{
	char prompt[LABEL_SIZE + 2];
	enum step step = STEP_STAY;
	(void)snprintf(prompt, sizeof prompt, "%s>", label);
	while (step == STEP_STAY && plain_ask(plain, prompt))
		step = take_line(plain, label, last);
	return plain->ended ? STEP_STOP : step;
}

static void walk_on(struct plain *plain, const struct walk_route *route, int32_t place)
{
	char label[LABEL_SIZE] = "";
	char last[LINE_SIZE] = "";
	while (place < route->count) {
		if (!say_tree(plain, route->ids[place], place, route->count, label))
			return;
		enum step step = stay_at(plain, label, last);
		if (step == STEP_STOP)
			return;
		if (step == STEP_BACK && place == 0)
			plain_say(plain, "This is the first tree.");
		else
			place += step == STEP_BACK ? -1 : 1;
	}
	plain_say(plain, "That was the last tree.");
}

void plain_walk(struct plain *plain, const char *from)
{
	struct arena *arena = arena_new();
	struct walk_route route;
	struct tree tree = {.id = ""};
	struct fault why = {.status = STATUS_OK};
	int32_t place = 0;
	enum status status = walk_route_read(plain->session->store, arena, &route, &why);
	if (status == STATUS_OK && from[0] != '\0')
		status = store_tree_find(plain->session->store, from, &tree, &why);
	if (status == STATUS_OK && from[0] != '\0')
		place = walk_route_place(&route, tree.id);
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
	else if (route.count == 0)
		plain_say(plain, "There are no trees yet; say add.");
	else if (place < 0)
		plain_say(plain, "%s stands here no more.", from);
	else
		walk_on(plain, &route, place);
	arena_free(arena);
}

/* --- the first run --- */

static const struct question {
	const char *asks;
	enum status (*read)(const char *text, struct place *place, struct fault *why);
} questions[] = {
	{"Where is it? A latitude, or north or south of the equator; blank: no dates are given.",
		first_read_where},
	{"When is it wet, winter, summer, all or little; winters hard, frosty or mild? Blank: not "
	 "known.",
		first_read_climate},
	{"Units, us or si? Blank: not said.", first_read_units},
};

/* Asks until the answer is understood; false: the input ended. */
static bool ask_question(struct plain *plain, const struct question *question, struct place *place)
{
	struct fault why;
	while (plain_ask(plain, question->asks)) {
		if (question->read(plain->line, place, &why) == STATUS_OK)
			return true;
		plain_say(plain, "%s", why.text);
	}
	return false;
}

/* The invented yard, kept beside the log there is to be. */
static enum status open_demo(struct plain *plain, struct fault *why)
{
	char demo[FILE_PATH_SIZE];
	char said[TEXT_SIZE] = "";
	struct clock clock = plain->options->clock;
	const char *slash = strrchr(plain->path, '/');
	const int folder = slash == NULL ? 0 : (int)(slash - plain->path) + 1;
	enum status status =
		plain->options->path == NULL ? file_make_folders(plain->path, why) : STATUS_OK;
	(void)snprintf(
		demo, sizeof demo, "%.*sdemo.bough", folder > 4000 ? 4000 : folder, plain->path);
	if (status == STATUS_OK && access(demo, F_OK) != 0)
		status = demo_write(demo, plain->options->almanac, clock_today(&clock), said, why);
	if (status == STATUS_OK)
		plain_say(plain, "An invented yard, kept in %s.", demo);
	(void)text_copy(plain->path, sizeof plain->path, demo);
	return status;
}

static enum status make_log(struct plain *plain, struct fault *why)
{
	struct place place = {.id = ""};
	struct store *store = NULL;
	struct clock clock = plain->options->clock;
	const struct store_options options = {.clock = &clock};
	(void)text_copy(place.name, sizeof place.name, plain->line);
	for (size_t i = 0; i < sizeof questions / sizeof questions[0]; i++)
		if (!ask_question(plain, &questions[i], &place))
			return STATUS_OK;
	enum status status =
		plain->options->path == NULL ? file_make_folders(plain->path, why) : STATUS_OK;
	if (status == STATUS_OK)
		status = store_create(plain->path, &options, &place, &store, why);
	store_close(store);
	if (status == STATUS_OK)
		plain_say(plain, "The log is made. Say add for your first tree.");
	return status;
}

enum status plain_first(struct plain *plain, struct fault *why)
{
	plain_say(plain, "There is no log at %s yet.", plain->path);
	if (!plain_ask(plain, "What is the place called? demo: an invented yard to try. Blank: "
			      "leave, nothing is made."))
		return STATUS_OK;
	if (plain_is(plain, "demo"))
		return open_demo(plain, why);
	if (plain->line[0] != '\0')
		return make_log(plain, why);
	plain->ended = true;
	return STATUS_OK;
}
