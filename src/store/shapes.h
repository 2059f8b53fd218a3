/* SPDX-License-Identifier: MIT */
/* shapes.h - the tables that leave a log, as its own schema describes them. */
#ifndef STORE_SHAPES_H
#define STORE_SHAPES_H

#include "sql.h"
#include "store/stream.h"

/* Those of store_tables that hold records or history and stand in this log. */
enum status shapes_read(struct store *store, struct arena *arena, struct table_shape **out,
	int32_t *count, struct fault *why) MUST_CHECK;
/* "id, made, ..." */
const char *shape_columns(const struct table_shape *shape, struct arena *arena);

/* Makes temp.left_out (id): the rows that stay behind with what is private. */
enum status private_find(struct store *store, struct fault *why) MUST_CHECK;
/* The columns of a table as they leave when those rows stay behind. */
const char *private_columns(const struct table_shape *shape, struct arena *arena);

#endif
