/* SPDX-License-Identifier: MIT */
/* copy.h - whole, checked copies of a log. For the store's own parts. */
#ifndef STORE_COPY_H
#define STORE_COPY_H

#include "logfile.h"

/* A copy of the open log at `path`, mode 0600: written beside it, checked, synced, and only then
 * named, replacing nothing that stands there (STATUS_CONFLICT). On failure nothing is left. */
enum status copy_make(struct store *store, const char *path, struct fault *why) MUST_CHECK;
/* Opens a file by itself and checks it: a log, sound, with last_change as its newest change set
 * (NULL: any). */
enum status copy_check(const char *path, const char *last_change, struct fault *why) MUST_CHECK;

/* Do both paths lead to one file? */
bool file_is_same(const char *path, const char *other);

enum { NAME_STAMP_SIZE = 20 };
/* The time as file names bear it: "2026-05-20T120000Z". */
const char *name_stamp(struct clock *clock, char out[NAME_STAMP_SIZE]);

/* The folder of the copies of a log, made when it is not there (mode 0700). */
enum status copies_folder(const char *log, char *out, size_t size, struct fault *why) MUST_CHECK;
/* A copy into that folder; when it fails, a folder with nothing in it goes too. */
enum status copies_make(
	struct store *store, const char *folder, const char *path, struct fault *why) MUST_CHECK;

#endif
