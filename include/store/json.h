/* SPDX-License-Identifier: MIT */
/* json.h - reading a flat JSON object: names with texts, whole numbers or nothing. SQLite reads it,
 * so that no second reader has to be trusted with a stranger's bytes. */
#ifndef STORE_JSON_H
#define STORE_JSON_H

#include "store/stream.h"

struct json_reader;

enum status json_open(struct json_reader **out, struct fault *why) MUST_CHECK;
void json_close(struct json_reader *reader); /* NULL is fine */
/* Begins an object, which must stay as it is until its end. */
enum status json_object(
	struct json_reader *reader, const char *text, size_t length, struct fault *why) MUST_CHECK;
/* The next name with its value, good until the next call; STATUS_END after the last.
 * STATUS_SYNTAX: it is no JSON, no object, or holds another kind of value. */
enum status json_next(struct json_reader *reader, const char **name, struct table_value *value,
	struct fault *why) MUST_CHECK;

#endif
