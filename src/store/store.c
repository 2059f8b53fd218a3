/* SPDX-License-Identifier: MIT */
#include "copy.h"
#include "migrate.h"
#include "schema.h"

#include "core/memory.h"

#include <assert.h>
#include <errno.h>
#include <string.h>
#include <sys/stat.h>

static struct store *store_make(const struct logfile *file, const struct store_options *options)
{
	assert(options->clock != NULL);
	struct store *store = block_new(sizeof *store);
	size_t size = strlen(file->path) + 1;
	store->path = memcpy(block_new(size), file->path, size);
	store->clock = options->clock;
	store->read_only = options->read_only;
	return store;
}

/* A save that was killed left its journal: whoever may write takes the half save back first, also
 * when only looking, since what stands in the file is no state that anyone ever saved. */
static enum status mend_for_reading(
	struct store *store, const struct logfile *file, struct fault *why)
{
	if (!file->file_writable || !file->folder_writable)
		return sql_fault(store, SQLITE_READONLY_ROLLBACK, why);
	enum status status = connect_open(store, CONNECT_WRITE, why);
	connect_close(store);
	return status;
}

/* Where a read-only file system gives no locks, an immutable connection still reads. */
static enum status open_for_reading(
	struct store *store, const struct logfile *file, struct fault *why)
{
	struct fault first = {0};
	enum status status = connect_open(store, CONNECT_READ, &first);
	if (status == STATUS_OK)
		return STATUS_OK;
	if (file->has_journal && (status == STATUS_DENIED || status == STATUS_IO)) {
		status = mend_for_reading(store, file, why);
		return status == STATUS_OK ? connect_open(store, CONNECT_READ, why) : status;
	}
	if (status == STATUS_DENIED || status == STATUS_IO)
		return connect_open(store, CONNECT_IMMUTABLE, why);
	return fault_set(why, status, "%s", first.text);
}

static enum status open_connection(
	struct store *store, const struct logfile *file, struct fault *why)
{
	if (store->read_only)
		return open_for_reading(store, file, why);
	enum status status = logfile_check_writable(file, why);
	if (status == STATUS_OK)
		status = connect_open(store, CONNECT_WRITE, why);
	if (status == STATUS_OK && sqlite3_db_readonly(store->database, "main") != 0)
		status = sql_fault(store, SQLITE_READONLY, why);
	return status;
}

/* The version is asked again of SQLite: in the file it may be that of a broken-off migration. */
static enum status settle_version(struct store *store, struct fault *why)
{
	int64_t version = 0;
	char copy[LOG_PATH_SIZE + 128];
	enum status status = sql_one_integer(store, "PRAGMA user_version", &version, why);
	if (status != STATUS_OK || version == SCHEMA_VERSION)
		return status;
	if (version < 1 || version > SCHEMA_VERSION)
		return fault_set(why, STATUS_DAMAGED, "%s has schema %d, which is not known here",
			store->path, (int)version);
	if (store->read_only)
		return fault_set(why, STATUS_DENIED,
			"%s has the older schema %d: open it once where it can be written, which "
			"brings "
			"it up to date",
			store->path, (int)version);
	status = schema_check(store, (int32_t)version, why);
	if (status != STATUS_OK)
		return status;
	return migrate_run(store, schema_text_table(), (int32_t)version, copy, sizeof copy, why);
}

/* In a log that is kept so, some pages only say where others are; where its header says so by
 * damage, the first save would write such pages over what was logged. Ours are never kept so. */
static enum status check_vacuum(struct store *store, struct fault *why)
{
	int64_t mode = 0;
	sqlite3_stmt *check = NULL;
	enum status status = sql_one_integer(store, "PRAGMA auto_vacuum", &mode, why);
	if (status != STATUS_OK || mode == 0)
		return status;
	status = sql_prepare(store, "PRAGMA quick_check(1)", &check, why);
	if (status == STATUS_OK)
		status = sql_step(store, check, why);
	const unsigned char *answer = status == STATUS_OK ? sqlite3_column_text(check, 0) : NULL;
	if (status == STATUS_OK && (answer == NULL || strcmp((const char *)answer, "ok") != 0))
		status = fault_set(why, STATUS_DAMAGED,
			"%s is damaged (its header is not that of what it holds)", store->path);
	sqlite3_finalize(check);
	return status;
}

static enum status open_checked(struct store *store, const struct logfile *file, struct fault *why)
{
	enum status status = open_connection(store, file, why);
	if (status == STATUS_OK)
		status = check_vacuum(store, why);
	if (status == STATUS_OK)
		status = settle_version(store, why);
	if (status == STATUS_OK)
		status = schema_check(store, SCHEMA_VERSION, why);
	if (status == STATUS_OK)
		status = sql_one_integer(store, "PRAGMA data_version", &store->seen_version, why);
	return status;
}

enum status store_open(const char *path, const struct store_options *options, struct store **out,
	struct fault *why)
{
	struct logfile file;
	struct fault first = {0};
	struct store *store = NULL;
	*out = NULL;
	enum status status = logfile_look(path, &file, &first);
	if (status == STATUS_OK) {
		store = store_make(&file, options);
		status = open_checked(store, &file, &first);
	}
	if (status == STATUS_OK) {
		*out = store;
		return STATUS_OK;
	}
	store_close(store);
	bool is_newer = file.version > SCHEMA_VERSION; /* nothing is wrong with it */
	if ((status == STATUS_ABSENT || status == STATUS_DAMAGED) && !is_newer)
		store_backup_hint(path, &first);
	return fault_set(why, status, "%s", first.text);
}

void store_close(struct store *store)
{
	if (store == NULL)
		return;
	if (store->in_act)
		store_act_rollback(store);
	connect_close(store);
	block_free((char *)store->path); /* made in store_make */
	block_free(store);
}

bool store_is_read_only(const struct store *store)
{
	return store->read_only;
}

const char *store_sqlite_version(void)
{
	return sqlite3_libversion();
}

const char *store_path(const struct store *store)
{
	return store->path;
}

void store_leave_out_private(struct store *store, bool leave_out)
{
	store->leaves_out_private = leave_out;
}

bool store_leaves_out_private(const struct store *store)
{
	return store->leaves_out_private;
}

struct clock *store_clock(const struct store *store)
{
	return store->clock;
}

static int tell_statement(unsigned what, void *context, void *statement, void *words)
{
	(void)what;
	(void)words;
	const struct store *store = context;
	const char *sql = sqlite3_sql(statement);
	if (sql != NULL)
		store->trace(store->trace_context, sql);
	return 0;
}

void store_set_trace(
	struct store *store, void (*told)(void *context, const char *sql), void *context)
{
	store->trace = told;
	store->trace_context = context;
	(void)sqlite3_trace_v2(store->database, told == NULL ? 0 : SQLITE_TRACE_STMT,
		told == NULL ? NULL : tell_statement, store);
}

bool store_changed_elsewhere(struct store *store)
{
	int64_t version = 0;
	sql_done_all(store);
	if (sql_one_integer(store, "PRAGMA data_version", &version, NULL) != STATUS_OK)
		return false;
	bool changed = version != store->seen_version;
	store->seen_version = version;
	return changed;
}

/* SQLite answers for a file that it may write; for one open for looking the path is asked. */
bool store_was_moved(struct store *store)
{
	int moved = 0;
	struct stat about;
	if (sqlite3_file_control(store->database, "main", SQLITE_FCNTL_HAS_MOVED, &moved) ==
			SQLITE_OK &&
		moved != 0)
		return true;
	return stat(store->path, &about) != 0 && errno == ENOENT;
}
