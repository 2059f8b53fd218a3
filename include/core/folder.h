/* SPDX-License-Identifier: MIT */
/* folder.h - a folder of files, written in one step as core/file.h writes one file.
 *
 * The files are made in a folder beside, each synced; then that takes the place of the one that
 * stood there, whose mode and whose files' modes are kept (new ones: 0700 and 0600). Readers see
 * the old folder or the new one; where the file system cannot swap two folders, for a moment none,
 * and both lie beside. */
#ifndef CORE_FOLDER_H
#define CORE_FOLDER_H

#include <stdbool.h>
#include <stdio.h>

#include "core/fault.h"
#include "core/file.h"

struct folder_writing {
	char target[FILE_PATH_SIZE]; /* absolute, links followed */
	char made[FILE_PATH_SIZE];
	bool replaces; /* a folder stands at the target */
};

/* What stands at the path is a folder (true), or nothing (false); STATUS_CONFLICT: something else.
 * The target is then the path to write to. */
enum status folder_look(const char *path, struct folder_writing *out, struct fault *why) MUST_CHECK;
/* The first name in the folder for which `known` answers false; "" when there is none. */
enum status folder_find_other(const char *path,
	bool (*known)(const char *name, const void *context), const void *context, char *out,
	size_t size, struct fault *why) MUST_CHECK;

/* After folder_look. */
enum status folder_begin(struct folder_writing *writing, struct fault *why) MUST_CHECK;
enum status folder_file_begin(const struct folder_writing *writing, const char *name, FILE **out,
	struct fault *why) MUST_CHECK;
/* Syncs and closes it; also after a failure, of which it then tells. */
enum status folder_file_end(const struct folder_writing *writing, const char *name, FILE *file,
	struct fault *why) MUST_CHECK;
/* Puts the folder in its place and removes what stood there. On failure that is as it was. */
enum status folder_end(struct folder_writing *writing, struct fault *why) MUST_CHECK;
/* Leaves nothing behind; fine after any of the above. */
void folder_abandon(struct folder_writing *writing);

#endif
