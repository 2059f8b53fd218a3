/* SPDX-License-Identifier: MIT */
/* What SQLite's result codes mean to the one who keeps the log: one clear sentence each. */
#include "sql.h"

#include "core/text.h"

#include <errno.h>
#include <string.h>

enum { DETAIL_SIZE = 240 };

static enum status fault_read_only(const struct store *store, int code, struct fault *why)
{
	switch (code) {
	case SQLITE_READONLY_DBMOVED:
		return fault_set(why, STATUS_CONFLICT,
			"%s was moved or replaced while it was open; leave and open it again",
			store->path);
	case SQLITE_READONLY_DIRECTORY:
		return fault_set(why, STATUS_DENIED,
			"the folder of %s cannot be written, so nothing can be saved", store->path);
	case SQLITE_READONLY_ROLLBACK:
	case SQLITE_READONLY_RECOVERY:
		return fault_set(why, STATUS_DENIED,
			"a save into %s was broken off; open it once where it can be written, "
			"which mends it",
			store->path);
	default:
		return fault_set(
			why, STATUS_DENIED, "%s is read-only; nothing was saved", store->path);
	}
}

/* The system's own reason, which the connection often has forgotten by the time it is asked. */
static int system_reason(const struct store *store)
{
	int of_file = 0;
	if (store->database == NULL)
		return 0;
	int reason = sqlite3_system_errno(store->database);
	if (reason == 0 && sqlite3_file_control(store->database, "main", SQLITE_FCNTL_LAST_ERRNO,
				   &of_file) == SQLITE_OK)
		reason = of_file;
	return reason;
}

static enum status fault_io(const struct store *store, int code, struct fault *why)
{
	int system = system_reason(store);
	bool writing = code == SQLITE_IOERR_WRITE || code == SQLITE_IOERR_TRUNCATE;
	if (writing && (system == ENOSPC || system == EDQUOT))
		return fault_set(why, STATUS_IO,
			"the disk is full; nothing was saved into %s: make room and save again",
			store->path);
	if (writing && system == EFBIG)
		return fault_set(why, STATUS_IO,
			"%s may not grow further here (limit on file size); nothing was saved",
			store->path);
	return fault_set(why, STATUS_IO, "%s could not be %s (disk error %d%s%s)", store->path,
		code == SQLITE_IOERR_READ || code == SQLITE_IOERR_SHORT_READ ? "read"
									     : "read or written",
		code, system == 0 ? "" : ": ", system == 0 ? "" : strerror(system));
}

/* SQLite's own words may hold names out of a file of another hand. */
static const char *clean_detail(const struct store *store, int code, char out[DETAIL_SIZE])
{
	const char *words =
		store->database == NULL ? sqlite3_errstr(code) : sqlite3_errmsg(store->database);
	return text_clean(words, TEXT_PLAIN, out, DETAIL_SIZE);
}

enum status sql_fault(struct store *store, int code, struct fault *why)
{
	char room[DETAIL_SIZE];
	const char *detail = clean_detail(store, code, room);
	switch (code & 0xff) {
	case SQLITE_OK:
	case SQLITE_ROW:
	case SQLITE_DONE:
		return STATUS_OK;
	case SQLITE_BUSY:
	case SQLITE_LOCKED:
		return fault_set(why, STATUS_BUSY,
			"%s is in use by another program; try again when it has finished",
			store->path);
	case SQLITE_FULL:
		return fault_set(why, STATUS_IO,
			"the disk is full; nothing was saved into %s: make room and save again",
			store->path);
	case SQLITE_READONLY:
		return fault_read_only(store, code, why);
	case SQLITE_PERM:
	case SQLITE_AUTH:
		return fault_set(why, STATUS_DENIED, "no permission to use %s", store->path);
	case SQLITE_CANTOPEN:
		return fault_set(why, STATUS_DENIED,
			"%s, or the journal beside it, cannot be opened: look at the permissions "
			"of "
			"its folder",
			store->path);
	case SQLITE_IOERR:
		return fault_io(store, code, why);
	case SQLITE_NOTADB:
		return fault_set(
			why, STATUS_DAMAGED, "%s is not a log of this program", store->path);
	case SQLITE_CORRUPT:
	case SQLITE_FORMAT:
		return fault_set(why, STATUS_DAMAGED, "%s is damaged (%s)", store->path, detail);
	case SQLITE_CONSTRAINT:
		return fault_set(
			why, STATUS_RANGE, "the log does not take this value (%s)", detail);
	case SQLITE_TOOBIG:
		return fault_set(why, STATUS_RANGE, "the text is too long for the log");
	case SQLITE_NOMEM:
		return fault_set(why, STATUS_IO, "out of memory while using %s", store->path);
	case SQLITE_INTERRUPT:
		return fault_set(why, STATUS_BUSY, "stopped");
	default:
		return fault_set(
			why, STATUS_DAMAGED, "%s cannot be used (%s)", store->path, detail);
	}
}
