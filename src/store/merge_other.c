/* SPDX-License-Identifier: MIT */
/* The other file is never written, not even to mend it: where SQLite would have to (a save that was
 * broken off, write-ahead mode, an older schema), a copy of it is read instead. */
#include "copy.h"
#include "merging.h"
#include "migrate.h"
#include "schema.h"

#include "core/memory.h"
#include "core/text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { COPY_PART = 65536 };

/* Opening the log a second time would lose the lock that this process has on it. */
static enum status check_is_other(const struct store *store, const char *path, struct fault *why)
{
	if (file_is_same(store->path, path))
		return fault_set(
			why, STATUS_CONFLICT, "%s is the log itself, not another copy of it", path);
	return STATUS_OK;
}

/* --- room for copies --- */

/* "FOLDER/NAME.bough": beside the log where that can be written. What a run that was killed left
 * there goes with the daily copies (backup.c). */
static enum status scratch_name(
	struct store *store, const char *name, char *out, size_t size, struct fault *why)
{
	char folder[LOG_PATH_SIZE + 16];
	const char *other = getenv("TMPDIR");
	if (!store->read_only &&
		copies_folder(store->path, folder, sizeof folder, NULL) == STATUS_OK) {
		(void)snprintf(out, size, "%s/%s.bough", folder, name);
		return STATUS_OK;
	}
	if (other == NULL || other[0] == '\0')
		other = "/tmp";
	if (strlen(other) > LOG_PATH_SIZE / 2)
		return fault_set(why, STATUS_IO, "the path in TMPDIR is too long");
	(void)snprintf(out, size, "%s/%s.bough", other, name);
	return STATUS_OK;
}

static void remove_scratch(const char *path)
{
	static const char *const endings[] = {"", "-journal", "-wal", "-shm"};
	char beside[LOG_PATH_SIZE + 96];
	for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
		(void)snprintf(beside, sizeof beside, "%s%s", path, endings[i]);
		(void)unlink(beside);
	}
	path_folder(path, beside, sizeof beside);
	size_t length = strlen(beside);
	if (length > 8 && strcmp(beside + length - 8, ".backups") == 0)
		(void)rmdir(beside); /* stays where there are others in it */
}

static bool copy_part(int from, int to)
{
	char *bytes = block_new(COPY_PART);
	ssize_t got = 0;
	bool is_whole = true;
	while (is_whole && (got = read(from, bytes, COPY_PART)) > 0)
		for (ssize_t at = 0; is_whole && at < got;) {
			ssize_t put = write(to, bytes + at, (size_t)(got - at));
			is_whole = put > 0;
			at += put;
		}
	block_free(bytes);
	return is_whole && got == 0;
}

/* A file of the other log beside its copy; fine when it is not there and need not be. */
static enum status copy_file(const char *from, const char *to, bool must_be, struct fault *why)
{
	int reading = open(from, O_RDONLY | O_CLOEXEC);
	if (reading < 0 && errno == ENOENT && !must_be)
		return STATUS_OK;
	if (reading < 0)
		return fault_set(why, STATUS_DENIED, "%s: %s", from, strerror(errno));
	int writing = open(to, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0600);
	int reason = errno;
	bool is_whole = writing >= 0 && copy_part(reading, writing);
	if (writing >= 0) {
		reason = errno;
		is_whole = close(writing) == 0 && is_whole;
	}
	(void)close(reading);
	if (!is_whole)
		return fault_set(why, STATUS_IO, "%s could not be copied to %s: %s", from, to,
			strerror(reason));
	return STATUS_OK;
}

static enum status copy_whole(
	struct store *store, const struct logfile *file, char *made, size_t size, struct fault *why)
{
	static const char *const endings[] = {"", "-journal", "-wal"};
	char path[LOG_PATH_SIZE + 32];
	enum status status = scratch_name(store, "merging", path, sizeof path, why);
	if (status == STATUS_OK)
		status = file_make_empty(path, store->clock, made, size, why);
	for (size_t i = 0; i < sizeof endings / sizeof endings[0] && status == STATUS_OK; i++) {
		char from[LOG_PATH_SIZE + 16];
		char to[LOG_PATH_SIZE + 96];
		(void)snprintf(from, sizeof from, "%s%s", file->path, endings[i]);
		(void)snprintf(to, sizeof to, "%s%s", made, endings[i]);
		status = copy_file(from, to, i == 0, why);
	}
	return status;
}

/* --- opening --- */

static const char *keep_path(const char *path)
{
	size_t size = strlen(path) + 1;
	return memcpy(block_new(size), path, size);
}

static enum status check_sound(struct store *other, struct fault *why)
{
	sqlite3_stmt *check = NULL;
	char clean[200];
	enum status status = sql_prepare(other, "PRAGMA quick_check(1)", &check, why);
	if (status == STATUS_OK)
		status = sql_step(other, check, why);
	const char *answer =
		status == STATUS_OK ? (const char *)sqlite3_column_text(check, 0) : NULL;
	if (status == STATUS_OK && (answer == NULL || strcmp(answer, "ok") != 0))
		status = fault_set(why, STATUS_DAMAGED, "%s is damaged: %s", other->path,
			text_clean(answer == NULL ? "" : answer, TEXT_PLAIN, clean, sizeof clean));
	sqlite3_finalize(check);
	return status == STATUS_OK ? schema_check(other, SCHEMA_VERSION, why) : status;
}

/* The copy may be written: what was broken off is taken back, what is old is brought up to date. */
static enum status open_copy(
	struct store *store, struct store *other, const struct logfile *file, struct fault *why)
{
	char made[LOG_PATH_SIZE + 64] = "";
	int64_t version = 0;
	enum status status = copy_whole(store, file, made, sizeof made, why);
	block_free((char *)other->path); /* made in keep_path */
	other->path = keep_path(made);
	other->is_scratch = true;
	if (status == STATUS_OK)
		status = connect_open(other, CONNECT_WRITE, why);
	if (status == STATUS_OK)
		status = sql_one_integer(other, "PRAGMA user_version", &version, why);
	if (status == STATUS_OK && version < SCHEMA_VERSION)
		status = migrate_steps(other, schema_text_table(), (int32_t)version, why);
	if (status != STATUS_OK)
		name_plainly(why, made, file->path);
	return status;
}

static enum status open_as_it_is(struct store *other, const struct logfile *file, struct fault *why)
{
	enum status status = connect_open(other, CONNECT_READ, why);
	if (status != STATUS_DENIED && status != STATUS_IO)
		return status;
	/* a read-only disk gives no locks */
	return file->has_journal ? status : connect_open(other, CONNECT_IMMUTABLE, why);
}

enum status merge_other_open(
	struct store *store, const char *path, struct store **out, struct fault *why)
{
	struct logfile file;
	struct fault first = {0};
	*out = NULL;
	enum status status = check_is_other(store, path, why);
	if (status == STATUS_OK)
		status = logfile_look(path, &file, why);
	if (status != STATUS_OK)
		return status;
	struct store *other = block_new(sizeof *other);
	other->path = keep_path(file.path);
	other->clock = store->clock;
	other->read_only = true;
	bool needs_copy = file.is_wal || file.version < SCHEMA_VERSION;
	if (!needs_copy) {
		status = open_as_it_is(other, &file, &first);
		needs_copy = status != STATUS_OK && file.has_journal;
	}
	if (needs_copy)
		status = open_copy(store, other, &file, &first);
	if (status == STATUS_OK)
		status = sql_exec(other, "PRAGMA cache_size = -8000; BEGIN", &first);
	if (status == STATUS_OK)
		status = check_sound(other, &first);
	if (status != STATUS_OK) {
		merge_other_close(other);
		return fault_set(why, status, "%s", first.text);
	}
	*out = other;
	return STATUS_OK;
}

void merge_other_close(struct store *other)
{
	if (other == NULL)
		return;
	connect_close(other);
	if (other->is_scratch)
		remove_scratch(other->path);
	block_free((char *)other->path); /* made in keep_path */
	block_free(other);
}

/* --- a copy of our own to try things on --- */

enum status store_trial_open(
	struct store *store, struct clock *clock, struct store **out, struct fault *why)
{
	char name[LOG_PATH_SIZE + 32];
	char path[LOG_PATH_SIZE + 64];
	const struct store_options options = {.clock = clock};
	*out = NULL;
	enum status status = scratch_name(store, "trial", name, sizeof name, why);
	if (status != STATUS_OK)
		return status;
	(void)snprintf(path, sizeof path, "%s.new-%08x", name,
		(unsigned)(clock_random(clock) & 0xffffffffU));
	status = copy_make(store, path, why);
	if (status == STATUS_OK)
		status = store_open(path, &options, out, why);
	if (status == STATUS_OK)
		(*out)->is_scratch = true;
	else
		remove_scratch(path);
	return status;
}

void store_trial_close(struct store *trial)
{
	char path[LOG_PATH_SIZE];
	if (trial == NULL)
		return;
	(void)text_copy(path, sizeof path, trial->path);
	store_close(trial);
	remove_scratch(path);
}
