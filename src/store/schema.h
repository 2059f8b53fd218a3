/* SPDX-License-Identifier: MIT */
/* schema.h - writing the schema, and telling whether a log still has it. */
#ifndef STORE_SCHEMA_H
#define STORE_SCHEMA_H

#include "core/sha256.h"
#include "sql.h"

/* Runs the steps after `from` up to and with `to`, without a transaction of its own. */
enum status schema_run(struct store *store, int32_t from, int32_t to, struct fault *why) MUST_CHECK;
/* Every table and index of a fresh log of that version stands here word for word, and no index
 * besides, since an index works whenever we write. Tables, triggers and views of another hand are
 * left alone: no statement of ours names them, and triggers and views do not run on our
 * connection. */
enum status schema_check(struct store *store, int32_t version, struct fault *why) MUST_CHECK;
/* SHA-256 over every table and index as the file words them, in its order; what schema_check knows
 * a fresh log of a version by (NULL: not known; then they are compared one by one). */
enum status schema_digest(
	struct store *store, char out[SHA256_TEXT_SIZE], struct fault *why) MUST_CHECK;
const char *schema_digest_expected(int32_t version);
/* A connection to a fresh log of that version in memory, for comparing. Close it with
 * sqlite3_close. */
enum status schema_fresh(struct store *out, int32_t version, struct fault *why) MUST_CHECK;

#endif
