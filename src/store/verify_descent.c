/* SPDX-License-Identifier: MIT */
/* No tree comes from itself, over however many others. Typing refuses it; two merged copies can
 * make it, each with half of the circle. No damage: one parent is to be taken back. */
#include "sql.h"
#include "verify.h"

#include <stdlib.h>
#include <string.h>

#include "core/memory.h"

struct link {
	char id[ID_SIZE];
	char parent[ID_SIZE];
	char label[LABEL_SIZE];
	int32_t walk; /* the walk that came by; 0: none */
};

static int compare_links(const void *left, const void *right)
{
	return strcmp(((const struct link *)left)->id, ((const struct link *)right)->id);
}

static enum status read_links(struct store *store, struct arena *arena, struct link **out,
	int32_t *count, struct fault *why)
{
	int64_t most = 0;
	sqlite3_stmt *statement = NULL;
	enum status status = sql_one_integer(store,
		"SELECT count(*) FROM tree WHERE struck = 0 AND parent_id IS NOT NULL", &most, why);
	if (status == STATUS_OK)
		status = sql_prepare(store,
			"SELECT id, parent_id, label FROM tree WHERE struck = 0 AND parent_id IS "
			"NOT "
			"NULL",
			&statement, why);
	*out = arena_array(arena, (size_t)most + 1, sizeof **out);
	while (status == STATUS_OK && *count < most) {
		status = sql_step(store, statement, why);
		if (status != STATUS_OK)
			break;
		struct link *link = &(*out)[(*count)++];
		column_copy(statement, 0, link->id, sizeof link->id);
		column_copy(statement, 1, link->parent, sizeof link->parent);
		column_copy(statement, 2, link->label, sizeof link->label);
	}
	sqlite3_finalize(statement);
	if (*count > 1)
		qsort(*out, (size_t)*count, sizeof **out, compare_links);
	return status == STATUS_END ? STATUS_OK : status;
}

static struct link *parent_of(struct link *links, int32_t count, const struct link *link)
{
	struct link wanted;
	memcpy(wanted.id, link->parent, sizeof wanted.id);
	return bsearch(&wanted, links, (size_t)count, sizeof *links, compare_links);
}

void verify_descent(struct store *store, struct lines *lines)
{
	struct arena *arena = arena_new();
	struct link *links = NULL;
	int32_t count = 0;
	struct fault why = {0};
	if (read_links(store, arena, &links, &count, &why) != STATUS_OK)
		count = 0; /* the checks of the table itself tell what is wrong with it */
	for (int32_t i = 0; i < count; i++) {
		struct link *at = &links[i];
		while (at != NULL && at->walk == 0) {
			at->walk = i + 1;
			at = parent_of(links, count, at);
		}
		if (at != NULL && at->walk == i + 1)
			lines_add(lines, false,
				"descent: %s is its own ancestor; 'boughbook tree set %s --parent "
				"\"\"' takes the parent back",
				at->label, at->label);
	}
	arena_free(arena);
}
