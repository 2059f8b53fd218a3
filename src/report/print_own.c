/* SPDX-License-Identifier: MIT */
/* What this place has set by hand for a kind, or for a tree of it, beside the almanac. */
#include <stdio.h>
#include <string.h>

#include "print_own.h"

/* Whose it is: "" the kind's as a whole, a label, or NULL where it is of another kind. */
static const char *whose(struct yard *yard, const struct species *species, const char *tree_id,
	const char *key, struct tree *tree)
{
	struct tree_kind kind;

	if (tree_id[0] == '\0')
		return strcmp(key, species->key) == 0 ? "" : NULL;
	struct store *store = yard_store(yard);
	if (store_tree_load(store, tree_id, tree, NULL) != STATUS_OK ||
		yard_kind(yard, tree_id, yard_today(yard), &kind, NULL) != STATUS_OK)
		return NULL;
	return kind.species == species ? tree->label : NULL;
}

static void say_window(
	const struct printer *printer, const struct own_window *window, const char *label)
{
	char to[16] = "";

	if (window->from.month != window->to.month || window->from.day != window->to.day)
		snprintf(to, sizeof to, " to %02d-%02d", window->to.month % 100,
			window->to.day % 100);
	say_wrapped(printer, "  set by hand here: ", "%s %02d-%02d%s%s%s", window->window,
		window->from.month, window->from.day, to, label[0] != '\0' ? ", for " : "", label);
}

static void say_rate(const struct printer *printer, const struct own_rate *rate, const char *label)
{
	char mass[40];

	say_wrapped(printer, "  set by hand here: ", "%s actual N for each %s%s%s",
		mass_format(rate->nitrogen_mg, printer->units, mass, sizeof mass), rate->per,
		label[0] != '\0' ? ", for " : "", label);
}

enum status print_own_of_kind(const struct printer *printer, struct yard *yard,
	const struct species *species, struct fault *why)
{
	struct arena *arena = arena_new();
	struct own_window *windows = NULL;
	struct own_rate *rates = NULL;
	struct tree tree;
	int32_t window_count = 0;
	int32_t rate_count = 0;
	enum status status =
		store_own_window_list(yard_store(yard), arena, &windows, &window_count, why);
	if (status == STATUS_OK)
		status = store_own_rate_list(yard_store(yard), arena, &rates, &rate_count, why);
	for (int32_t i = 0; status == STATUS_OK && i < window_count; i++) {
		const char *label =
			whose(yard, species, windows[i].tree_id, windows[i].species, &tree);
		if (label != NULL)
			say_window(printer, &windows[i], label);
	}
	for (int32_t i = 0; status == STATUS_OK && i < rate_count; i++) {
		const char *label = whose(yard, species, rates[i].tree_id, rates[i].species, &tree);
		if (label != NULL)
			say_rate(printer, &rates[i], label);
	}
	arena_free(arena);
	return status;
}
