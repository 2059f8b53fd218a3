/* SPDX-License-Identifier: MIT */
#include "copy.h"

#include "core/leftover.h"
#include "core/memory.h"

#include <assert.h>
#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

enum { KEEP_DAYS = 7, KEEP_MONTHS = 12, KEEP_WHEN_SHORT = 2, TAG_LETTERS = 8 };

/* "YYYY-MM-DD.bough"; copies made by hand have a time in their name and are never pruned. */
static bool is_daily_name(const char *name)
{
	struct date date;
	char day[DATE_SIZE];
	if (strlen(name) != DATE_SIZE - 1 + 6 || strcmp(name + DATE_SIZE - 1, ".bough") != 0)
		return false;
	snprintf(day, sizeof day, "%.10s", name);
	return date_parse_iso(day, &date, NULL) == STATUS_OK;
}

struct daily {
	char name[DATE_SIZE + 6];
};

/* Newest first. */
static int compare_daily(const void *a, const void *b)
{
	const struct daily *one = a;
	const struct daily *other = b;
	return strcmp(other->name, one->name);
}

static struct daily *list_daily(const char *folder_path, struct arena *arena, int32_t *count)
{
	struct daily *list = NULL;
	int32_t room = 0;
	*count = 0;
	DIR *folder = opendir(folder_path);
	if (folder == NULL)
		return NULL;
	for (const struct dirent *found = readdir(folder); found != NULL; found = readdir(folder)) {
		if (!is_daily_name(found->d_name))
			continue;
		if (*count == room) {
			room = room == 0 ? 32 : room * 2;
			list = arena_grow(arena, list, sizeof *list * (size_t)*count,
				sizeof *list * (size_t)room);
		}
		snprintf(list[(*count)++].name, sizeof list->name, "%.16s", found->d_name);
	}
	closedir(folder);
	if (*count > 1)
		qsort(list, (size_t)*count, sizeof *list, compare_daily);
	return list;
}

/* The list is newest first: the first of each month met is that month's newest. */
static void prune(const char *folder_path, const char *made, bool is_short)
{
	struct arena *arena = arena_new();
	int32_t count = 0;
	int32_t months = 0;
	char month[8] = "";
	struct daily *list = list_daily(folder_path, arena, &count);
	for (int32_t i = 0; i < count; i++) {
		bool is_month = strncmp(list[i].name, month, 7) != 0;
		snprintf(month, sizeof month, "%.7s", list[i].name);
		months += is_month;
		bool keep = is_short ? i < KEEP_WHEN_SHORT
				     : i < KEEP_DAYS || (is_month && months <= KEEP_MONTHS);
		if (!keep && strcmp(list[i].name, made) != 0)
			(void)unlink(arena_format(arena, "%s/%s", folder_path, list[i].name));
	}
	arena_free(arena);
}

/* A "TAG-XXXXXXXX" at the start, or nothing, is passed over. */
static const char *after_tag(const char *text, const char *tag)
{
	const size_t length = strlen(tag);
	const bool has = strncmp(text, tag, length) == 0 &&
			 strspn(text + length, "0123456789abcdef") >= TAG_LETTERS;
	return has ? text + length + TAG_LETTERS : text;
}

/* Half a copy, or half a merge. */
static bool is_half_copy(const char *name, const void *context)
{
	(void)context;
	return strstr(name, ".bough.new-") != NULL;
}

/* Half a new log, or half a restored one: "yard.bough.restored-12345678.new-12345678". */
static bool is_half_log(const char *name, const void *context)
{
	const char *log = context;
	const size_t length = strlen(log);
	if (strncmp(name, log, length) != 0)
		return false;
	const char *rest = after_tag(after_tag(name + length, ".restored-"), ".new-");
	return rest != name + length && (*rest == '\0' || strcmp(rest, "-journal") == 0);
}

static void sweep(const char *log, const char *copies, const char *copy)
{
	char folder[LOG_PATH_SIZE];
	const char *slash = strrchr(log, '/');
	path_folder(log, folder, sizeof folder);
	leftover_sweep(copies, copy, is_half_copy, NULL);
	leftover_sweep(folder, copy, is_half_log, slash == NULL ? log : slash + 1);
}

static bool is_room_short(const char *folder, const char *log)
{
	struct statvfs disk;
	struct stat about;
	if (statvfs(folder, &disk) != 0 || stat(log, &about) != 0)
		return false;
	return (double)disk.f_bavail * (double)disk.f_frsize < 2.0 * (double)about.st_size;
}

enum status store_backup_daily(struct store *store, char said[TEXT_SIZE], struct fault *why)
{
	char folder[LOG_PATH_SIZE + 16];
	char path[LOG_PATH_SIZE + 64];
	char name[DATE_SIZE + 6];
	char day[DATE_SIZE];
	struct stat about;
	assert(!store->in_act);
	said[0] = '\0';
	if (store->read_only || !store->saved_since_backup)
		return STATUS_OK;
	enum status status = copies_folder(store->path, folder, sizeof folder, why);
	if (status != STATUS_OK)
		return status;
	date_format(clock_today(store->clock), day);
	snprintf(name, sizeof name, "%.10s.bough", day);
	snprintf(path, sizeof path, "%s/%s", folder, name);
	if (lstat(path, &about) != 0) {
		bool is_short = is_room_short(folder, store->path);
		status = copies_make(store, folder, path, why);
		if (status != STATUS_OK)
			return status;
		prune(folder, name, is_short);
		sweep(store->path, folder, path);
		if (is_short)
			snprintf(said, TEXT_SIZE,
				"the disk is nearly full: only the two newest daily copies are "
				"kept");
	}
	store->saved_since_backup = false;
	return STATUS_OK;
}

enum status store_backup_now(struct store *store, char *made, int size, struct fault *why)
{
	char folder[LOG_PATH_SIZE + 16];
	char path[LOG_PATH_SIZE + 64];
	char stamp[NAME_STAMP_SIZE];
	assert(!store->in_act);
	enum status status = copies_folder(store->path, folder, sizeof folder, why);
	if (status != STATUS_OK)
		return status;
	snprintf(path, sizeof path, "%s/%s.bough", folder, name_stamp(store->clock, stamp));
	status = copies_make(store, folder, path, why);
	if (status == STATUS_OK)
		snprintf(made, (size_t)size, "%s", path);
	return status;
}

/* --- restoring --- */

struct restore {
	char path[LOG_PATH_SIZE];      /* where the log belongs */
	char made[LOG_PATH_SIZE + 64]; /* the checked copy that takes its place */
	char kept[LOG_PATH_SIZE + 64]; /* "" : nothing stood there */
	struct clock *clock;
	struct store standing; /* what stood there, locked while it is replaced */
};

/* A sound log that stands there gets a save that was broken off taken back, and nobody may be
 * using it. One that is no log or damaged is moved aside as it is. */
static enum status settle_standing(struct restore *restore, struct fault *why)
{
	struct logfile file;
	if (logfile_look(restore->path, &file, NULL) != STATUS_OK)
		return STATUS_OK;
	restore->standing.path = restore->path;
	enum status status = connect_open(&restore->standing, CONNECT_WRITE, why);
	if (status == STATUS_OK)
		status = sql_exec(&restore->standing, "BEGIN EXCLUSIVE", why);
	return status == STATUS_BUSY ? status : STATUS_OK;
}

/* Opening the log a second time would also lose the lock that this process has on it. */
static enum status check_other_file(const char *path, const char *backup, struct fault *why)
{
	struct stat other;
	if (file_is_same(path, backup))
		return fault_set(
			why, STATUS_CONFLICT, "%s is the log itself, not a copy of it", backup);
	if (stat(backup, &other) != 0 && errno == ENOENT)
		return fault_set(why, STATUS_ABSENT, "there is no backup at %s", backup);
	return STATUS_OK;
}

static enum status copy_backup(struct restore *restore, const char *backup, struct fault *why)
{
	struct logfile file;
	enum status status = copy_check(backup, NULL, why);
	if (status == STATUS_OK)
		status = logfile_look(backup, &file, why);
	if (status != STATUS_OK)
		return status;
	struct store *store = block_new(sizeof *store);
	store->path = file.path;
	store->clock = restore->clock;
	status = connect_open(store, CONNECT_READ, why);
	snprintf(restore->made, sizeof restore->made, "%s.restored-%08x", restore->path,
		(unsigned)(clock_random(restore->clock) & 0xffffffffU));
	if (status == STATUS_OK)
		status = copy_make(store, restore->made, why);
	connect_close(store);
	block_free(store);
	return status;
}

/* A journal without its log would be played into the new one: it goes with the old. */
static enum status move_beside(const struct restore *restore, const char *ending, struct fault *why)
{
	char from[LOG_PATH_SIZE + 16];
	char to[LOG_PATH_SIZE + 80];
	snprintf(from, sizeof from, "%s%s", restore->path, ending);
	snprintf(to, sizeof to, "%s%s", restore->kept, ending);
	if (rename(from, to) != 0 && errno != ENOENT)
		return fault_set(why, STATUS_IO, "%s: %s", from, strerror(errno));
	return STATUS_OK;
}

static enum status keep_standing(struct restore *restore, struct fault *why)
{
	char stamp[NAME_STAMP_SIZE];
	struct stat about;
	if (lstat(restore->path, &about) != 0)
		return STATUS_OK;
	if (S_ISDIR(about.st_mode))
		return fault_set(why, STATUS_CONFLICT, "%s is a folder", restore->path);
	snprintf(restore->kept, sizeof restore->kept, "%s.replaced-%s", restore->path,
		name_stamp(restore->clock, stamp));
	if (lstat(restore->kept, &about) == 0)
		return fault_set(why, STATUS_CONFLICT, "%s is there already", restore->kept);
	enum status status = move_beside(restore, "-journal", why);
	if (status == STATUS_OK)
		status = move_beside(restore, "-wal", why);
	if (status == STATUS_OK)
		status = move_beside(restore, "-shm", why);
	/* a second name first, so that there is never a moment without a log */
	if (status == STATUS_OK && link(restore->path, restore->kept) != 0 &&
		rename(restore->path, restore->kept) != 0)
		status = fault_set(why, STATUS_IO, "%s: %s", restore->kept, strerror(errno));
	return status;
}

static enum status put_in_place(struct restore *restore, struct fault *why)
{
	enum status status = keep_standing(restore, why);
	if (status == STATUS_OK && rename(restore->made, restore->path) != 0)
		status = fault_set(why, STATUS_IO, "%s: %s", restore->path, strerror(errno));
	return status == STATUS_OK ? folder_sync(restore->path, why) : status;
}

static enum status name_log(struct restore *restore, const char *path, struct fault *why)
{
	char real[PATH_MAX];
	const char *name = realpath(path, real) != NULL ? real : path;
	if (strlen(name) >= LOG_PATH_SIZE - 64)
		return fault_set(why, STATUS_IO, "the path of the log is too long");
	memcpy(restore->path, name, strlen(name) + 1);
	return STATUS_OK;
}

enum status store_backup_restore(const char *path, const char *backup, struct clock *clock,
	char *kept, int size, struct fault *why)
{
	struct restore *restore = block_new(sizeof *restore);
	restore->clock = clock;
	if (size > 0)
		kept[0] = '\0';
	enum status status = name_log(restore, path, why);
	if (status == STATUS_OK)
		status = check_other_file(restore->path, backup, why);
	if (status == STATUS_OK)
		status = settle_standing(restore, why);
	if (status == STATUS_OK)
		status = copy_backup(restore, backup, why);
	if (status == STATUS_OK)
		status = put_in_place(restore, why);
	if (status == STATUS_OK)
		snprintf(kept, (size_t)size, "%s", restore->kept);
	else if (restore->made[0] != '\0') {
		(void)unlink(restore->made);
		name_plainly(why, restore->made, restore->path);
	}
	connect_close(&restore->standing);
	block_free(restore);
	return status;
}
