/* SPDX-License-Identifier: MIT */
/* garden.h - a log of an invented yard with the real almanac, filled by entry lines as a grower
 * would, for the tests of the layers above the store. Each call fails the test when something is
 * refused, unless its name says otherwise. Functions are in the header so that programs that do
 * not use them need not link the layers they call. */
#ifndef SUPPORT_GARDEN_H
#define SUPPORT_GARDEN_H

#include <stdlib.h>
#include <string.h>

#include "dossier/work.h"

#include "support/test.h"

struct garden {
	struct scratch scratch;
	char path[SCRATCH_PATH_SIZE];
	struct clock clock;
	struct place place;
	struct store *store;
	struct almanac *almanac;
	struct arena *arena; /* of the yard */
	struct yard *yard;
	struct line_names_owner names;
	struct work_logged logged; /* of the line logged last */
	char asked[TEXT_SIZE];     /* of the tree added or identified last */
};

static inline struct date garden_day(const char *iso)
{
	struct fault why = {0};
	struct date day = {0};
	check_ok(date_parse_iso(iso, &day, &why), &why);
	return day;
}

/* Reads the yard anew, for the day the clock says. */
static inline void garden_look(struct garden *garden)
{
	struct fault why = {0};
	arena_reset(garden->arena);
	check_ok(yard_open(garden->store, garden->almanac, clock_today(&garden->clock),
			 garden->arena, &garden->yard, &why),
		&why);
}

static inline void garden_today(struct garden *garden, const char *today)
{
	garden->clock.pinned = known_date(garden_day(today));
	garden_look(garden);
}

/* Read once for all tests of a program; nobody writes to it. */
static inline struct almanac *garden_almanac(void)
{
	static struct almanac *shared;
	struct fault why = {0};
	if (shared == NULL)
		check_ok(almanac_open("share/almanac", &shared, &why), &why);
	return shared;
}

/* hemisphere, wet season and winters as wanted; the name and the rest are made up. */
static inline void garden_make_at(
	struct garden *garden, const struct place *place, const char *today)
{
	struct fault why = {0};
	struct store_options options = {.clock = &garden->clock};
	*garden = (struct garden){.scratch = scratch_make(), .place = *place};
	scratch_path(&garden->scratch, "yard.bough", garden->path);
	garden->clock = clock_seeded(garden_day(today), 7);
	snprintf(garden->place.name, sizeof garden->place.name, "Hill yard");
	garden->place.units = UNITS_US;
	garden->place.gallon = GALLON_US;
	garden->place.numbers = NUMBERS_POINT;
	check_ok(store_create(garden->path, &options, &garden->place, &garden->store, &why), &why);
	garden->almanac = garden_almanac();
	garden->arena = arena_new();
	garden_look(garden);
}

/* In the north, wet winters, mild. */
static inline void garden_make(struct garden *garden, const char *today)
{
	struct place place = {
		.hemisphere = HEMISPHERE_NORTH, .wet = WET_WINTER, .winter = WINTER_MILD};
	garden_make_at(garden, &place, today);
}

static inline void garden_free(struct garden *garden)
{
	store_close(garden->store);
	arena_free(garden->arena);
	scratch_remove(&garden->scratch);
}

static inline enum status garden_try(struct garden *garden, const char *line, struct fault *why)
{
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	enum status status = work_enter(garden->yard, line, &context, &garden->logged, why);
	garden_look(garden);
	return status;
}

/* Logs one line; answers the id of its first entry. */
static inline const char *garden_log(struct garden *garden, const char *line)
{
	struct fault why = {0};
	enum status status = garden_try(garden, line, &why);
	if (status != STATUS_OK)
		print_message("the line was: %s\n", line);
	check_ok(status, &why);
	return garden->logged.entry_id;
}

/* Lines of a story, ended by NULL. */
static inline void garden_log_all(struct garden *garden, const char *const *lines)
{
	for (; *lines != NULL; lines++)
		garden_log(garden, *lines);
}

static inline struct tree garden_find(struct garden *garden, const char *label)
{
	struct fault why = {0};
	struct tree tree = {.id = ""};
	check_ok(store_tree_find(garden->store, label, &tree, &why), &why);
	return tree;
}

/* A tree of a kind ("" unknown), planted and standing as said ("" not said). */
static inline struct tree garden_tree(struct garden *garden, const char *label, const char *species,
	const char *planted, const char *spot)
{
	struct fault why = {0};
	struct new_tree tree = {.sure_given = false};
	char id[ID_SIZE];
	snprintf(tree.tree.label, sizeof tree.tree.label, "%s", label);
	snprintf(tree.species, sizeof tree.species, "%s", species);
	snprintf(tree.spot, sizeof tree.spot, "%s", spot);
	check_ok(
		date_span_parse(planted, garden->place.hemisphere, &tree.tree.planted, &why), &why);
	check_ok(work_tree_add(garden->yard, &tree, garden->asked, id, &why), &why);
	garden_look(garden);
	return garden_find(garden, label);
}

/* A new opinion: a species, or a cultivar, with its sense and day ("" none). */
static inline void garden_identify(struct garden *garden, const char *label, const char *species,
	const char *cultivar, const char *change_day)
{
	struct fault why = {0};
	struct new_identity identity = {.is_change = change_day[0] != '\0'};
	struct tree tree = garden_find(garden, label);
	snprintf(identity.species, sizeof identity.species, "%s", species);
	snprintf(identity.cultivar, sizeof identity.cultivar, "%s", cultivar);
	if (identity.is_change)
		identity.day = date_span_of(garden_day(change_day));
	check_ok(work_identify(garden->yard, tree.id, &identity, garden->asked, &why), &why);
	garden_look(garden);
}

/* The story of a tree; lives until the garden is looked at anew. */
static inline const struct dossier *garden_story(struct garden *garden, const char *label)
{
	struct fault why = {0};
	const struct dossier *dossier = NULL;
	struct tree tree = garden_find(garden, label);
	check_ok(yard_dossier(garden->yard, tree.id, &dossier, &why), &why);
	return dossier;
}

/* What an outside reader of the file sees: the answer of one SQL question. free() it. */
static inline char *garden_sql(const struct garden *garden, const char *sql)
{
	const char *arguments[] = {"sqlite3", "-readonly", garden->path, sql, NULL};
	struct spawned spawned = command_run(NULL, arguments);
	check_int(spawned.status, 0, spawned.err);
	char *answer = spawned.out;
	free(spawned.err);
	return answer;
}

#endif
