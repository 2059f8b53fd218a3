/* SPDX-License-Identifier: MIT */
/* logfile.h - the log as a file: what is looked at with plain reads before SQLite touches it, and
 * a hardened connection to it. For the store's own parts. */
#ifndef STORE_LOGFILE_H
#define STORE_LOGFILE_H

#include "sql.h"

enum { LOG_PATH_SIZE = 4096 };

struct logfile {
	char path[LOG_PATH_SIZE]; /* absolute, links followed */
	uint32_t application_id;
	int32_t version;    /* user_version */
	bool is_wal;        /* another program left it in write-ahead mode */
	bool has_journal;   /* PATH-journal or PATH-wal with bytes in it */
	bool file_writable; /* by the one who runs this */
	bool folder_writable;
	int64_t size;
	int64_t names; /* hard links */
};

/* STATUS_ABSENT: nothing there; STATUS_DENIED: may not be read; STATUS_DAMAGED: a folder, a
 * device, empty, not SQLite, another program's, or of a newer schema. Only reads. */
enum status logfile_look(const char *path, struct logfile *out, struct fault *why) MUST_CHECK;
/* May it be written? STATUS_DENIED says what is in the way. */
enum status logfile_check_writable(const struct logfile *file, struct fault *why) MUST_CHECK;
/* PATH without its last part; "." when it has only one. */
void path_folder(const char *path, char *out, size_t size);
/* Makes what was written in a folder last: fsync of the folder. */
enum status folder_sync(const char *path, struct fault *why) MUST_CHECK;

/* The same for what a file holds. */
enum status file_sync(const char *path, struct fault *why) MUST_CHECK;
/* An empty file "PATH.new-XXXXXXXX", mode 0600, that nobody else has; its name into out. */
enum status file_make_empty(const char *path, struct clock *clock, char *out, size_t size,
	struct fault *why) MUST_CHECK;

/* A file is made under a name of its own: what failed is told of the name it was to get. */
void name_plainly(struct fault *why, const char *made, const char *path);

struct filling { /* what is to stand in a new file */
	enum status (*fill)(struct store *store, void *context, struct fault *why);
	void *context;
};
/* A new log at a free path: made whole beside it, synced, then named. */
enum status logfile_make(const char *path, struct clock *clock, const struct filling *filling,
	struct fault *why) MUST_CHECK;
/* Tables, application_id and user_version into an empty file. */
enum status logfile_write_schema(struct store *store, struct fault *why) MUST_CHECK;

enum connect_mode { CONNECT_WRITE, CONNECT_READ, CONNECT_IMMUTABLE };
/* Opens store->path into store->database, hardened and checked to be so. Reads the first page. On
 * failure nothing stays open. */
enum status connect_open(struct store *store, enum connect_mode mode, struct fault *why) MUST_CHECK;
void connect_close(struct store *store);

#endif
