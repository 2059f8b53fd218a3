/* SPDX-License-Identifier: MIT */
/* What several tellings read the same way: rows of a tree, latest sizes, and corners. */
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "dossier/inner.h"

int32_t first_of_tree(
	const void *rows, size_t size, size_t tree_id_at, int32_t count, const char *tree_id)
{
	int32_t low = 0;
	int32_t high = count;
	while (low < high) {
		int32_t middle = low + (high - low) / 2;
		const char *row = (const char *)rows + (size_t)middle * size;
		if (strcmp(row + tree_id_at, tree_id) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

const struct tree_size *sizes_latest(
	const struct tree_sizes *sizes, const char *tree_id, bool is_spread, struct date today)
{
	const struct tree_size *latest = NULL;
	int32_t first = first_of_tree(sizes->items, sizeof sizes->items[0],
		offsetof(struct tree_size, tree_id), sizes->count, tree_id);
	for (int32_t i = first; i < sizes->count && strcmp(sizes->items[i].tree_id, tree_id) == 0;
		i++) {
		const struct tree_size *size = &sizes->items[i];
		bool is_past = !size->day.known || date_compare(size->day.value, today) <= 0;
		if (size->is_spread == is_spread && is_past)
			latest = size;
	}
	return latest;
}

struct plot_point *points_read(const char *text, struct arena *arena, int32_t *count)
{
	struct plot_point *points = arena_array(arena, strlen(text) / 3 + 1, sizeof *points);
	*count = 0;
	for (const char *at = text; *at != '\0'; at += strspn(at, " ")) {
		char *end = NULL;
		long long east_um = strtoll(at, &end, 10);
		if (end == at || *end != ',')
			break;
		at = end + 1;
		long long north_um = strtoll(at, &end, 10);
		if (end == at)
			break;
		points[(*count)++] = (struct plot_point){east_um, north_um};
		at = end;
	}
	return points;
}
