/* SPDX-License-Identifier: MIT */
#include "copy.h"

#include "core/memory.h"
#include "core/text.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { COPY_WAIT_MS = 20, COPY_TRIES = 150 };

const char *name_stamp(struct clock *clock, char out[NAME_STAMP_SIZE])
{
	char stamp[STAMP_TEXT_SIZE];
	size_t length = 0;
	clock_stamp(clock, stamp);
	for (const char *c = stamp; *c != '\0' && length + 1 < NAME_STAMP_SIZE; c++) {
		if (*c != ':')
			out[length++] = *c;
	}
	out[length] = '\0';
	return out;
}

bool file_is_same(const char *path, const char *other)
{
	struct stat one;
	struct stat two;
	return stat(path, &one) == 0 && stat(other, &two) == 0 && one.st_dev == two.st_dev &&
	       one.st_ino == two.st_ino;
}

/* One step for everything: the copy is of one moment, and a busy writer cannot make it begin again
 * and again. */
static int copy_pages(sqlite3 *from, sqlite3 *to)
{
	sqlite3_backup *backup = sqlite3_backup_init(to, "main", from, "main");
	if (backup == NULL)
		return sqlite3_extended_errcode(to);
	int code = SQLITE_OK;
	for (int tries = 0; tries < COPY_TRIES; tries++) {
		code = sqlite3_backup_step(backup, -1);
		if (code != SQLITE_BUSY && code != SQLITE_LOCKED)
			break;
		sqlite3_sleep(COPY_WAIT_MS);
	}
	int finished = sqlite3_backup_finish(backup);
	return code == SQLITE_DONE ? finished : code;
}

static enum status copy_into(struct store *store, char *path, struct fault *why)
{
	struct store to = {.path = path};
	int code = sqlite3_open_v2(path, &to.database, SQLITE_OPEN_READWRITE, NULL);
	if (code == SQLITE_OK)
		code = sqlite3_exec(to.database,
			"PRAGMA synchronous = OFF; PRAGMA journal_mode = OFF", NULL, NULL, NULL);
	if (code == SQLITE_OK)
		code = copy_pages(store->database, to.database);
	enum status status = STATUS_OK;
	if (code != SQLITE_OK) /* the side that has something to say about it */
		status = sql_fault(code == SQLITE_BUSY ? store : &to, code, why);
	sqlite3_close(to.database);
	return status;
}

static enum status check_answer(const char *path, const char *answer, struct fault *why)
{
	char clean[200];
	if (answer != NULL && strcmp(answer, "ok") == 0)
		return STATUS_OK;
	return fault_set(why, STATUS_DAMAGED, "%s is damaged: %s", path,
		text_clean(answer == NULL ? "" : answer, TEXT_PLAIN, clean, sizeof clean));
}

enum status copy_check(const char *path, const char *last_change, struct fault *why)
{
	struct logfile file;
	char newest[ID_SIZE] = "";
	enum status status = logfile_look(path, &file, why);
	if (status != STATUS_OK)
		return status;
	struct store *store = block_new(sizeof *store);
	store->path = file.path;
	status = connect_open(store, CONNECT_READ, why);
	sqlite3_stmt *check = NULL;
	if (status == STATUS_OK)
		status = sql_prepare(store, "PRAGMA quick_check(1)", &check, why);
	if (status == STATUS_OK)
		status = sql_step(store, check, why);
	if (status == STATUS_OK)
		status = check_answer(path, (const char *)sqlite3_column_text(check, 0), why);
	sqlite3_finalize(check);
	if (status == STATUS_OK)
		status = store_last_change(store, newest, why);
	if (status == STATUS_OK && last_change != NULL && strcmp(newest, last_change) != 0)
		status =
			fault_set(why, STATUS_IO, "the copy %s does not hold the newest act", path);
	connect_close(store);
	block_free(store);
	return status;
}

/* rename(2) would write over; link(2) does not, where there is link(2). */
static enum status name_copy(const char *made, const char *path, struct fault *why)
{
	struct stat about;
	if (link(made, path) == 0)
		(void)unlink(made);
	else if (errno == EEXIST || lstat(path, &about) == 0)
		return fault_set(why, STATUS_CONFLICT, "%s is there already", path);
	else if (rename(made, path) != 0)
		return fault_set(why, STATUS_IO, "%s: %s", path, strerror(errno));
	return folder_sync(path, why);
}

/* The copy holds the same pages: one that is damaged says that the log is. */
static enum status check_made(
	struct store *store, const char *made, const char *newest, struct fault *why)
{
	/* another program may have saved in between: then the copy is the newer one */
	const char *last = store_changed_elsewhere(store) ? NULL : newest;
	enum status status = copy_check(made, last, why);
	if (status == STATUS_DAMAGED)
		return fault_set(why, status,
			"%s is damaged, so no copy of it was kept (boughbook verify tells where)",
			store->path);
	return status;
}

enum status copy_make(struct store *store, const char *path, struct fault *why)
{
	char made[LOG_PATH_SIZE + 64];
	char newest[ID_SIZE];
	enum status status = store_last_change(store, newest, why);
	if (status == STATUS_OK)
		status = file_make_empty(path, store->clock, made, sizeof made, why);
	if (status != STATUS_OK)
		return status;
	status = copy_into(store, made, why);
	if (status == STATUS_OK)
		status = file_sync(made, why);
	if (status == STATUS_OK)
		status = check_made(store, made, newest, why);
	if (status == STATUS_OK)
		status = name_copy(made, path, why);
	if (status != STATUS_OK) {
		(void)unlink(made);
		name_plainly(why, made, path);
	}
	return status;
}

enum status copies_make(
	struct store *store, const char *folder, const char *path, struct fault *why)
{
	enum status status = copy_make(store, path, why);
	if (status != STATUS_OK)
		(void)rmdir(folder); /* stays where there are others in it */
	return status;
}

enum status copies_folder(const char *log, char *out, size_t size, struct fault *why)
{
	snprintf(out, size, "%s.backups", log);
	if (mkdir(out, 0700) == 0 || errno == EEXIST)
		return STATUS_OK;
	enum status status = errno == EACCES || errno == EROFS ? STATUS_DENIED : STATUS_IO;
	return fault_set(why, status, "the folder %s cannot be made: %s", out, strerror(errno));
}

static bool is_copy_name(const char *name)
{
	size_t length = strlen(name);
	return length > 16 && length < 64 && strspn(name, "0123456789-TZ") == length - 6 &&
	       strcmp(name + length - 6, ".bough") == 0;
}

/* The greatest name below `below` ("" : any); false when there is none. */
static bool find_name_below(DIR *folder, const char *below, char out[64])
{
	out[0] = '\0';
	rewinddir(folder);
	for (const struct dirent *found = readdir(folder); found != NULL; found = readdir(folder)) {
		if (is_copy_name(found->d_name) && strcmp(found->d_name, out) > 0 &&
			(below[0] == '\0' || strcmp(found->d_name, below) < 0))
			snprintf(out, 64, "%.63s", found->d_name);
	}
	return out[0] != '\0';
}

bool store_backup_newest(const char *path, char *out, size_t size)
{
	char folder_path[LOG_PATH_SIZE + 16];
	char below[64] = "";
	char name[64];
	snprintf(folder_path, sizeof folder_path, "%s.backups", path);
	DIR *folder = opendir(folder_path);
	bool found = false;
	while (folder != NULL && !found && find_name_below(folder, below, name)) {
		memcpy(below, name, sizeof below);
		snprintf(out, size, "%s/%s", folder_path, name);
		found = copy_check(out, NULL, NULL) == STATUS_OK;
	}
	if (folder != NULL)
		closedir(folder);
	return found;
}

void store_backup_hint(const char *path, struct fault *why)
{
	char newest[LOG_PATH_SIZE + 128];
	if (why == NULL || !store_backup_newest(path, newest, sizeof newest))
		return;
	struct fault first = *why;
	(void)fault_set(why, first.status,
		"%s; the newest good copy comes back with: boughbook backup --restore %s",
		first.text, newest);
}
