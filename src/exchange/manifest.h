/* SPDX-License-Identifier: MIT */
/* manifest.h - what an exported folder says of itself. Lines that sha256sum passes over begin with
 * "# "; the last one is the digest of all lines before it. */
#ifndef EXCHANGE_MANIFEST_H
#define EXCHANGE_MANIFEST_H

#include <stdio.h>

#include "core/file.h"
#include "core/limits.h"
#include "core/sha256.h"
#include "report/print.h"

enum { MANIFEST_FORMAT = 1, MANIFEST_FILES_MAX = 64, MANIFEST_SIZE_MAX = 65536 };
extern const char manifest_name[];

struct manifest_file {
	char name[KEY_SIZE]; /* "tree.csv" */
	int64_t rows;
	char digest[SHA256_TEXT_SIZE];
};
struct manifest {
	enum format format; /* FORMAT_CSV or FORMAT_JSON */
	int32_t schema;
	char log_id[ID_SIZE];
	bool without_private;
	struct manifest_file files[MANIFEST_FILES_MAX];
	int32_t count;
};

/* Errors of `out` are the caller's to ask for. */
enum status manifest_write(
	const struct manifest *manifest, FILE *out, struct fault *why) MUST_CHECK;
/* STATUS_ABSENT: the folder has none; STATUS_DAMAGED: it is not one, or not whole; STATUS_RANGE: of
 * a newer program. */
enum status manifest_read(const char *folder, struct manifest *out, struct fault *why) MUST_CHECK;
/* NULL when it lists no such file. */
const struct manifest_file *manifest_find(const struct manifest *manifest, const char *name);
/* The digest of a file as it lies there. */
enum status manifest_digest(
	const char *path, char out[SHA256_TEXT_SIZE], struct fault *why) MUST_CHECK;

#endif
