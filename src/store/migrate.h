/* SPDX-License-Identifier: MIT */
/* migrate.h - an older log brought to the schema of today. The steps are given, so that the tests
 * have some although there is one schema so far. */
#ifndef STORE_MIGRATE_H
#define STORE_MIGRATE_H

#include "sql.h"

#include "store/schema_text.h"

/* Keeps a checked copy in the folder of copies ("schema-1-STAMP.bough", its path into copy), then
 * runs every step numbered above `from` in one exclusive transaction that ends only when no
 * reference dangles. On failure the log is as it was; the copy stays. */
enum status migrate_run(struct store *store, const struct schema_text *steps, int32_t from,
	char *copy, size_t size, struct fault *why) MUST_CHECK;
/* The same without keeping a copy: of a copy. */
enum status migrate_steps(struct store *store, const struct schema_text *steps, int32_t from,
	struct fault *why) MUST_CHECK;

#endif
