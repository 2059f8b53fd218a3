/* SPDX-License-Identifier: MIT */
/* Who stood in the yard on a day, counted by kind, and what came of the count since: each tree that
 * came, went or moved, with its day and reason. */
#include <stdio.h>
#include <stdlib.h>
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
	const struct neighbour **by_id; /* the same */
	struct rows rows;
	bool headed;
	int32_t went, came;
};

static const char *const keys[] = {"tree", "species", "cultivar", "planted", "host", "spot", "gone",
	"gone_reason", "change", NULL};

static int compare_ids(const void *left, const void *right)
{
	return strcmp((*(const struct neighbour *const *)left)->tree_id,
		(*(const struct neighbour *const *)right)->tree_id);
}

static void order_by_id(struct standing *standing)
{
	standing->by_id =
		arena_array(standing->arena, (size_t)standing->count + 1, sizeof *standing->by_id);
	for (int32_t i = 0; i < standing->count; i++)
		standing->by_id[i] = &standing->trees[i];
	qsort(standing->by_id, (size_t)standing->count, sizeof *standing->by_id, compare_ids);
}

static const struct neighbour *then_of(const struct standing *standing, const char *tree_id)
{
	struct neighbour wanted;
	const struct neighbour *const key = &wanted;

	text_copy(wanted.tree_id, sizeof wanted.tree_id, tree_id);
	const struct neighbour **found = bsearch(&key, standing->by_id, (size_t)standing->count,
		sizeof *standing->by_id, compare_ids);
	return found != NULL ? *found : NULL;
}

static const char *spot_name(
	const struct standing *standing, const char *spot_id, char out[LABEL_SIZE])
{
	struct spot spot = {.name = ""};

	if (spot_id[0] == '\0' ||
		store_spot_load(yard_store(standing->then), spot_id, &spot, NULL) != STATUS_OK)
		spot.name[0] = '\0';
	text_copy(out, LABEL_SIZE, spot.name);
	return out;
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

static enum status put_row(
	void *context, const struct tree *tree, struct arena *arena, struct fault *why)
{
	struct standing *standing = context;
	const struct neighbour *then = then_of(standing, tree->id);
	const struct species *species = then != NULL ? then->kind.species : NULL;
	struct rows *rows = &standing->rows;
	struct tree host;
	char spot[LABEL_SIZE];

	(void)arena;
	(void)why;
	if (then == NULL && change_of(tree, then)[0] == '\0')
		return STATUS_OK;
	if (tree->host_id[0] == '\0' || store_tree_load(yard_store(standing->then), tree->host_id,
						&host, NULL) != STATUS_OK)
		host.label[0] = '\0';
	rows_text(rows, tree->label);
	rows_text(rows, species != NULL ? species->key : then != NULL ? then->kind.name : "");
	rows_text(rows, then != NULL ? then->kind.cultivar : "");
	rows_text(rows, tree->planted.text);
	rows_text(rows, host.label);
	rows_text(rows, then != NULL ? spot_name(standing, then->spot_id, spot) : "");
	rows_text(rows, tree->gone.text);
	rows_text(rows, tree->gone_reason);
	rows_text(rows, change_of(tree, then));
	return STATUS_OK;
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
	char from[LABEL_SIZE], to[LABEL_SIZE];

	spot_name(standing, then->spot_id, from);
	spot_name(standing, tree->spot_id, to);
	say_wrapped(standing->printer, "  moved ", "%s from %s to %s", tree->label,
		from[0] != '\0' ? from : "no spot", to[0] != '\0' ? to : "no spot");
}

static enum status say_change(
	void *context, const struct tree *tree, struct arena *arena, struct fault *why)
{
	struct standing *standing = context;
	const struct neighbour *then = then_of(standing, tree->id);
	const char *change = change_of(tree, then);

	(void)arena;
	(void)why;
	if (change[0] == '\0')
		return STATUS_OK;
	if (!standing->headed)
		say_line(standing->printer, "Since then");
	standing->headed = true;
	if (change[0] == 'w')
		say_went(standing, tree);
	else if (change[0] == 'c')
		say_came(standing, tree);
	else
		say_moved(standing, tree, then);
	standing->went += change[0] == 'w' && tree->host_id[0] == '\0';
	standing->came += change[0] == 'c' && tree->host_id[0] == '\0';
	return STATUS_OK;
}

static void say_sum(const struct standing *standing, int32_t plants)
{
	char day[24];

	if (standing->headed)
		say_line(standing->printer, "%d and %d that came, less %d that went: %d now",
			plants, standing->came, standing->went,
			plants + standing->came - standing->went);
	else
		say_line(standing->printer, "and nothing came or went since %s",
			date_format_plain(yard_today(standing->then), day, sizeof day));
}

static enum status say_all(struct standing *standing, struct fault *why)
{
	say_trees(standing);
	int32_t plants = say_counts(standing);
	enum status status = store_tree_each(yard_store(standing->then), say_change, standing, why);

	if (status != STATUS_OK)
		return status;
	say_sum(standing, plants);
	return say_end(standing->printer, why);
}

enum status print_standing(const struct printer *printer, struct yard *then, struct fault *why)
{
	struct standing standing = {.printer = printer, .then = then, .arena = arena_new()};
	enum status status = yard_standing(then, &standing.trees, &standing.count, why);

	if (status == STATUS_OK)
		order_by_id(&standing);
	if (status == STATUS_OK && printer->format == FORMAT_TEXT) {
		status = say_all(&standing, why);
	} else if (status == STATUS_OK) {
		standing.rows = rows_begin(printer, keys);
		status = store_tree_each(yard_store(standing.then), put_row, &standing, why);
		if (status == STATUS_OK)
			status = rows_end(&standing.rows, why);
	}
	arena_free(standing.arena);
	return status;
}
