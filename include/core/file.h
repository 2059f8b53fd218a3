/* SPDX-License-Identifier: MIT */
/* file.h - whole files in and out, and where the log lies when nobody says.
 *
 * The log itself is the store's; this is for everything else: imports, exports, the almanac. */
#ifndef CORE_FILE_H
#define CORE_FILE_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "core/fault.h"

enum {
	FILE_PATH_SIZE = 4096,
	FILE_SIZE_MAX = 256 * 1024 * 1024, /* more is refused, not loaded */
};

struct file_bytes {
	char *bytes; /* followed by one NUL that length does not count; may hold NULs itself */
	size_t length;
};

/* Reads a whole file; "-" is standard input. STATUS_ABSENT, STATUS_DENIED, STATUS_RANGE (larger
 * than limit), STATUS_IO; then *out is empty. Freed with file_free. */
enum status file_read_whole(
	const char *path, size_t limit, struct file_bytes *out, struct fault *why) MUST_CHECK;
void file_free(struct file_bytes *file);

/* A file read piece by piece. STATUS_CONFLICT: it is no plain file (a pipe, a device), which may
 * keep whoever reads it waiting: read it whole. */
struct file_stream;
enum status file_stream_open(
	const char *path, struct file_stream **out, struct fault *why) MUST_CHECK;
/* *got 0: at the end. */
enum status file_stream_read(struct file_stream *stream, char *out, size_t size, size_t *got,
	struct fault *why) MUST_CHECK;
int64_t file_stream_size(const struct file_stream *stream); /* bytes, when it was opened */
int64_t file_stream_at(const struct file_stream *stream);   /* bytes read so far */
void file_stream_close(struct file_stream *stream);         /* NULL is fine */

/* Writes a whole file in one step: readers see the old one or the new one, never a part, also
 * after a power cut. A symbolic link stays and its target is written; the mode is kept, a new
 * file gets 0600; what is no plain file (a pipe, a device) is written straight. "-" is standard
 * output. On failure (STATUS_ABSENT folder, STATUS_DENIED, STATUS_IO) the old file is as it was. */
enum status file_write_whole(
	const char *path, const char *bytes, size_t length, struct fault *why) MUST_CHECK;
/* The same piece by piece, through a stream that file_write_end closes. What goes to standard
 * output or a pipe is out as it is written. */
struct file_writing {
	FILE *stream;
	char target[FILE_PATH_SIZE];
	char made[FILE_PATH_SIZE]; /* beside it; "" none */
};
enum status file_write_begin(
	const char *path, struct file_writing *out, struct fault *why) MUST_CHECK;
/* status: how the writing went; unless it is STATUS_OK the old file stays, and it is answered. */
enum status file_write_end(
	struct file_writing *writing, enum status status, struct fault *why) MUST_CHECK;

/* Makes the folders above path that are missing, mode 0700. */
enum status file_make_folders(const char *path, struct fault *why) MUST_CHECK;

/* $BOUGHBOOK_LOG, else $XDG_DATA_HOME/boughbook/yard.bough, else the same under
 * $HOME/.local/share. STATUS_ABSENT when none of them is set. */
enum status file_default_log_path(char out[FILE_PATH_SIZE], struct fault *why) MUST_CHECK;

#endif
