/* SPDX-License-Identifier: MIT */
/* A new log is made whole under another name in the same folder and only then gets its own, so
 * that nothing half made ever stands at the path, and nothing there is ever written over. */
#include "logfile.h"
#include "place.h"
#include "schema.h"

#include "core/memory.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static enum status check_free(const char *path, struct fault *why)
{
	static const char *const endings[] = {"", "-journal", "-wal"};
	char beside[LOG_PATH_SIZE + 16];
	struct stat about;
	if (strlen(path) >= LOG_PATH_SIZE - 32)
		return fault_set(why, STATUS_IO, "the path of the log is too long");
	for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
		snprintf(beside, sizeof beside, "%s%s", path, endings[i]);
		if (lstat(beside, &about) == 0)
			return fault_set(why, STATUS_CONFLICT,
				"%s is there already; it was left as it is", beside);
	}
	return STATUS_OK;
}

static enum status say_not_made(const char *path, int reason, struct fault *why)
{
	char folder[LOG_PATH_SIZE];
	path_folder(path, folder, sizeof folder);
	switch (reason) {
	case ENOENT:
	case ENOTDIR:
		return fault_set(
			why, STATUS_ABSENT, "%s was not made: there is no folder %s", path, folder);
	case EACCES:
	case EPERM:
	case EROFS:
		return fault_set(why, STATUS_DENIED,
			"%s was not made: the folder %s cannot be written", path, folder);
	case ENOSPC:
	case EDQUOT:
		return fault_set(why, STATUS_IO, "the disk is full; %s was not made", path);
	default:
		return fault_set(why, STATUS_IO, "%s: %s", path, strerror(reason));
	}
}

enum status file_make_empty(
	const char *path, struct clock *clock, char *out, size_t size, struct fault *why)
{
	for (int tries = 0; tries < 20; tries++) {
		snprintf(out, size, "%s.new-%08" PRIx32, path, (uint32_t)clock_random(clock));
		int handle = open(out, O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
		if (handle >= 0) {
			close(handle);
			return STATUS_OK;
		}
		if (errno != EEXIST)
			return say_not_made(path, errno, why);
	}
	return say_not_made(path, EEXIST, why);
}

static enum status add_log_id(struct store *store, struct fault *why)
{
	char id[ID_SIZE];
	sqlite3_stmt *insert = NULL;
	enum status status = sql_prepare(
		store, "INSERT INTO meta (key, value) VALUES ('log', ?1)", &insert, why);
	if (status != STATUS_OK)
		return status;
	bind_text(insert, 1, clock_new_id(store->clock, id));
	status = sql_run(store, insert, why);
	sqlite3_finalize(insert);
	return status;
}

enum status logfile_write_schema(struct store *store, struct fault *why)
{
	char pragmas[128];
	snprintf(pragmas, sizeof pragmas, "PRAGMA application_id = %d; PRAGMA user_version = %d",
		STORE_APPLICATION_ID, SCHEMA_VERSION);
	enum status status = schema_run(store, 0, SCHEMA_VERSION, why);
	return status == STATUS_OK ? sql_exec(store, pragmas, why) : status;
}

static enum status fill_new(struct store *store, void *context, struct fault *why)
{
	const struct place *place = context;
	enum status status = logfile_write_schema(store, why);
	if (status == STATUS_OK)
		status = add_log_id(store, why);
	if (status == STATUS_OK)
		status = store_act_begin(store, ACT_WORK, "began the log", why);
	if (status == STATUS_OK)
		status = place_insert(store, place, why);
	return status == STATUS_OK ? store_act_commit(store, why) : status;
}

/* Everything in one go at a name that nobody else has: no syncing until the end. */
static enum status fill_file(
	const char *path, struct clock *clock, const struct filling *filling, struct fault *why)
{
	struct store *store = block_new(sizeof *store);
	store->path = path;
	store->clock = clock;
	enum status status = connect_open(store, CONNECT_WRITE, why);
	if (status == STATUS_OK)
		status = sql_exec(
			store, "PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY", why);
	if (status == STATUS_OK)
		status = filling->fill(store, filling->context, why);
	if (store->in_act)
		store_act_rollback(store);
	connect_close(store);
	block_free(store);
	return status;
}

/* link(2) never writes over anything. File systems without hard links get the next best. */
static enum status give_name(const char *made, const char *path, struct fault *why)
{
	if (link(made, path) == 0)
		return unlink(made) == 0 ? folder_sync(path, why) : say_not_made(path, errno, why);
	if (errno != EPERM && errno != ENOTSUP && errno != ENOSYS) {
		int reason = errno;
		return reason == EEXIST ? check_free(path, why) : say_not_made(path, reason, why);
	}
	enum status status = check_free(path, why);
	if (status == STATUS_OK && rename(made, path) != 0)
		status = say_not_made(path, errno, why);
	return status == STATUS_OK ? folder_sync(path, why) : status;
}

enum status logfile_make(
	const char *path, struct clock *clock, const struct filling *filling, struct fault *why)
{
	char made[LOG_PATH_SIZE];
	enum status status = check_free(path, why);
	if (status == STATUS_OK)
		status = file_make_empty(path, clock, made, sizeof made, why);
	if (status != STATUS_OK)
		return status;
	status = fill_file(made, clock, filling, why);
	if (status == STATUS_OK)
		status = file_sync(made, why);
	if (status == STATUS_OK)
		status = give_name(made, path, why);
	if (status != STATUS_OK) {
		(void)unlink(made);
		name_plainly(why, made, path);
	}
	return status;
}

enum status store_create(const char *path, const struct store_options *options,
	const struct place *place, struct store **out, struct fault *why)
{
	*out = NULL;
	assert(!options->read_only);
	struct place written = *place;
	const struct filling filling = {.fill = fill_new, .context = &written};
	enum status status = logfile_make(path, options->clock, &filling, why);
	return status == STATUS_OK ? store_open(path, options, out, why) : status;
}
