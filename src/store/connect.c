/* SPDX-License-Identifier: MIT */
#include "logfile.h"

#include "core/memory.h"

#include <stdio.h>
#include <string.h>

enum { BUSY_WAIT_MS = 3000, VALUE_BYTES_MAX = 16000000, SQL_BYTES_MAX = 1000000 };

struct setting {
	int option;
	int value;
};

/* For logs that another hand may have made: sqlite.org/security.html. */
static const struct setting settings[] = {
	{SQLITE_DBCONFIG_DEFENSIVE, 1},
	{SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
	{SQLITE_DBCONFIG_ENABLE_TRIGGER, 0},
	{SQLITE_DBCONFIG_ENABLE_VIEW, 0},
	{SQLITE_DBCONFIG_ENABLE_FKEY, 1},
	{SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
	{SQLITE_DBCONFIG_WRITABLE_SCHEMA, 0},
	{SQLITE_DBCONFIG_DQS_DML, 0},
	{SQLITE_DBCONFIG_DQS_DDL, 0},
};

static enum status harden(struct store *store, struct fault *why)
{
	sqlite3 *database = store->database;
	for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++) {
		int now = -1;
		int code = sqlite3_db_config(database, settings[i].option, settings[i].value, &now);
		if (code != SQLITE_OK || now != settings[i].value)
			return fault_set(why, STATUS_IO,
				"this build of SQLite does not take safety setting %d",
				settings[i].option);
	}
	sqlite3_extended_result_codes(database, 1);
	sqlite3_limit(database, SQLITE_LIMIT_LENGTH, VALUE_BYTES_MAX);
	sqlite3_limit(database, SQLITE_LIMIT_SQL_LENGTH, SQL_BYTES_MAX);
	sqlite3_limit(database, SQLITE_LIMIT_ATTACHED, 0);
	sqlite3_busy_timeout(database, BUSY_WAIT_MS);
	return STATUS_OK;
}

static enum status set_pragmas(struct store *store, enum connect_mode mode, struct fault *why)
{
	int64_t synchronous = 0;
	enum status status = sql_exec(store,
		"PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; PRAGMA temp_store = MEMORY; "
		"PRAGMA synchronous = EXTRA; " SQL_CACHE_USUAL,
		why);
	/* reads the first page, and takes back a save that was broken off */
	if (status == STATUS_OK)
		status = sql_exec(store, "SELECT count(*) FROM sqlite_schema", why);
	if (status == STATUS_OK && mode == CONNECT_WRITE)
		status = sql_exec(store, "PRAGMA journal_mode = DELETE", why);
	if (status == STATUS_OK)
		status = sql_one_integer(store, "PRAGMA synchronous", &synchronous, why);
	if (status == STATUS_OK && synchronous != 3)
		return fault_set(why, STATUS_IO, "this build of SQLite does not sync every save");
	return status;
}

/* The path as a URI, for the one mode that only a URI can ask for. */
static void make_uri(const char *path, char *out, size_t size)
{
	static const char plain[] =
		"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789/._-";
	size_t length = (size_t)snprintf(out, size, "file:");
	for (; *path != '\0' && length + 20 < size; path++) {
		bool as_is = strchr(plain, *path) != NULL;
		length += (size_t)snprintf(
			out + length, size - length, as_is ? "%c" : "%%%02X", (unsigned char)*path);
	}
	snprintf(out + length, size - length, "?immutable=1");
}

/* One thread speaks to SQLite: no lock around each call, none around each piece of memory, and
 * nobody asks how much there is. Only the first connection of a program can still say so. */
static int open_file(struct store *store, enum connect_mode mode)
{
	char uri[3 * LOG_PATH_SIZE + 32];
	const int one_thread = SQLITE_OPEN_NOMUTEX;
	(void)sqlite3_config(SQLITE_CONFIG_SINGLETHREAD);
	(void)sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
	switch (mode) {
	case CONNECT_WRITE:
		return sqlite3_open_v2(
			store->path, &store->database, SQLITE_OPEN_READWRITE | one_thread, NULL);
	case CONNECT_READ:
		return sqlite3_open_v2(
			store->path, &store->database, SQLITE_OPEN_READONLY | one_thread, NULL);
	case CONNECT_IMMUTABLE:
		break;
	}
	make_uri(store->path, uri, sizeof uri);
	return sqlite3_open_v2(
		uri, &store->database, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI | one_thread, NULL);
}

enum status connect_open(struct store *store, enum connect_mode mode, struct fault *why)
{
	int code = open_file(store, mode);
	enum status status = code == SQLITE_OK ? harden(store, why) : sql_fault(store, code, why);
	if (status == STATUS_OK)
		status = set_pragmas(store, mode, why);
	if (status != STATUS_OK)
		connect_close(store);
	return status;
}

void connect_close(struct store *store)
{
	for (int32_t i = 0; i < store->statement_count; i++)
		sqlite3_finalize(store->statements[i].prepared);
	store->statement_count = 0;
	sqlite3_close(store->database);
	store->database = NULL;
}
