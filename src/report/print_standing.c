/* SPDX-License-Identifier: MIT */
/* Who stood in the yard on a day, counted by kind, and what came of the count since: each tree that
 * came, went or moved, with its day and reason. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"

enum { KINDS_MAX = 60 };

struct standing {
	const struct printer *printer;
	struct yard *then;
	struct arena *arena;
	const struct neighbour *trees; /* of that day */
	int32_t count;
	const struct tree *all; /* that stand or stood */
	int32_t all_count;
	int32_t went, came;
};

static const char *const keys[] = {"tree", "species", "cultivar", "planted", "host", "spot", "gone",
	"gone_reason", "change", NULL};

static const struct neighbour *then_of(const struct standing *standing, const char *tree_id)
{
	for (int32_t i = 0; i < standing->count; i++)
		if (strcmp(standing->trees[i].tree_id, tree_id) == 0)
			return &standing->trees[i];
	return NULL;
}

static const struct tree *tree_of(const struct standing *standing, const char *tree_id)
{
	for (int32_t i = 0; i < standing->all_count; i++)
		if (strcmp(standing->all[i].id, tree_id) == 0)
			return &standing->all[i];
	return NULL;
}

static const char *spot_name(const struct standing *standing, const char *spot_id)
{
	struct spot spot;

	if (spot_id[0] == '\0' ||
		store_spot_load(yard_store(standing->then), spot_id, &spot, NULL) != STATUS_OK)
		return "";
	return arena_text(standing->arena, spot.name);
}

/* What became of a tree since: "", "went", "came", "moved". Grafts go with their hosts. */
static const char *change_of(const struct tree *tree, const struct neighbour *then)
{
	const bool now = tree->gone.text[0] == '\0';

	if (then == NULL)
		return now ? "came" : "";
	if (!now)
		return "went";
	return tree->host_id[0] == '\0' && strcmp(then->spot_id, tree->spot_id) != 0 ? "moved" : "";
}

/* --- for machines: a row each of that day, then of those that came since --- */

static void put_row(struct rows *rows, const struct standing *standing, const struct tree *tree,
	const struct neighbour *then)
{
	const struct tree *host = tree_of(standing, tree->host_id);
	const struct species *species = then != NULL ? then->kind.species : NULL;

	rows_text(rows, tree->label);
	rows_text(rows, species != NULL ? species->key : then != NULL ? then->kind.name : "");
	rows_text(rows, then != NULL ? then->kind.cultivar : "");
	rows_text(rows, tree->planted.text);
	rows_text(rows, host != NULL ? host->label : "");
	rows_text(rows, then != NULL ? spot_name(standing, then->spot_id) : "");
	rows_text(rows, tree->gone.text);
	rows_text(rows, tree->gone_reason);
	rows_text(rows, change_of(tree, then));
}

static enum status put_rows(const struct standing *standing, struct fault *why)
{
	struct rows rows = rows_begin(standing->printer, keys);

	for (int32_t i = 0; i < standing->all_count; i++) {
		const struct tree *tree = &standing->all[i];
		const struct neighbour *then = then_of(standing, tree->id);

		if (then != NULL || change_of(tree, then)[0] != '\0')
			put_row(&rows, standing, tree, then);
	}
	return rows_end(&rows, why);
}

/* --- for people --- */

static void say_trees(const struct standing *standing)
{
	const int how = TEXT_PAD_RIGHT | (standing->printer->ascii ? TEXT_ASCII : 0);
	char label[TEXT_FIT_SIZE(18)], kind[TEXT_FIT_SIZE(18)];

	for (int32_t i = 0; i < standing->count; i++) {
		const struct neighbour *then = &standing->trees[i];
		const bool graft = then->host_id[0] != '\0';

		text_fit(then->label, 18, how, label, sizeof label);
		text_fit(then->kind.name, 18, how, kind, sizeof kind);
		say_line(standing->printer, "%s%s %s %s%s", graft ? "+ " : "  ", label, kind,
			then->kind.cultivar,
			then->kind.cultivar[0] != '\0' && then->kind.cultivar_sure != SURE_CERTAIN
				? "?"
				: "");
	}
}

/* "62 trees on 10 August 2026: 22 apple, 5 European pear"; plants, not grafts. The list comes by
 * kind. */
static int32_t say_counts(const struct standing *standing)
{
	struct text_builder text = text_builder_in(standing->arena);
	char day[24];
	int32_t plants = 0, kinds = 0;

	text_add(&text, "");
	for (int32_t i = 0; i < standing->count;) {
		const char *name = standing->trees[i].kind.name;
		int32_t of_kind = 0, next = i;

		for (; next < standing->count && strcmp(standing->trees[next].kind.name, name) == 0;
			next++)
			of_kind += standing->trees[next].host_id[0] == '\0';
		if (of_kind > 0 && kinds++ < KINDS_MAX)
			text_add_format(
				&text, "%s%d %s", text.length > 0 ? ", " : "", of_kind, name);
		plants += of_kind;
		i = next;
	}
	say_wrapped(standing->printer, "", "%d tree%s on %s%s%s", plants, plants == 1 ? "" : "s",
		date_format_plain(yard_today(standing->then), day, sizeof day),
		text.length > 0 ? ": " : "", text.text);
	return plants;
}

static void say_went(const struct standing *standing, const struct tree *tree)
{
	char day[80];

	say_wrapped(standing->printer, "  went  ", "%s, %s: %s", tree->label,
		date_span_format_plain(&tree->gone, day, sizeof day),
		tree->gone_reason[0] != '\0' ? tree->gone_reason : "no reason is written down");
}

static void say_came(const struct standing *standing, const struct tree *tree)
{
	char day[80];

	say_wrapped(standing->printer, "  came  ", "%s, planted %s", tree->label,
		date_span_format_plain(&tree->planted, day, sizeof day));
}

static void say_moved(
	const struct standing *standing, const struct tree *tree, const struct neighbour *then)
{
	const char *from = spot_name(standing, then->spot_id);
	const char *to = spot_name(standing, tree->spot_id);

	say_wrapped(standing->printer, "  moved ", "%s from %s to %s", tree->label,
		from[0] != '\0' ? from : "no spot", to[0] != '\0' ? to : "no spot");
}

static void say_changes(struct standing *standing, int32_t plants)
{
	char day[24];
	bool headed = false;

	for (int32_t i = 0; i < standing->all_count; i++) {
		const struct tree *tree = &standing->all[i];
		const struct neighbour *then = then_of(standing, tree->id);
		const char *change = change_of(tree, then);

		if (change[0] == '\0')
			continue;
		if (!headed)
			say_line(standing->printer, "Since then");
		headed = true;
		if (change[0] == 'w')
			say_went(standing, tree);
		else if (change[0] == 'c')
			say_came(standing, tree);
		else
			say_moved(standing, tree, then);
		standing->went += change[0] == 'w' && tree->host_id[0] == '\0';
		standing->came += change[0] == 'c' && tree->host_id[0] == '\0';
	}
	if (headed)
		say_line(standing->printer, "%d and %d that came, less %d that went: %d now",
			plants, standing->came, standing->went,
			plants + standing->came - standing->went);
	else
		say_line(standing->printer, "and nothing came or went since %s",
			date_format_plain(yard_today(standing->then), day, sizeof day));
}

enum status print_standing(const struct printer *printer, struct yard *then, struct fault *why)
{
	const struct tree_query all = {.gone_too = true};
	struct standing standing = {.printer = printer, .then = then, .arena = arena_new()};
	struct tree *trees = NULL;

	enum status status = yard_standing(then, &standing.trees, &standing.count, why);
	if (status == STATUS_OK)
		status = store_tree_list(
			yard_store(then), &all, standing.arena, &trees, &standing.all_count, why);
	standing.all = trees;
	if (status == STATUS_OK && printer->format != FORMAT_TEXT) {
		status = put_rows(&standing, why);
	} else if (status == STATUS_OK) {
		say_trees(&standing);
		int32_t plants = say_counts(&standing);
		say_changes(&standing, plants);
		status = say_end(printer, why);
	}
	arena_free(standing.arena);
	return status;
}
