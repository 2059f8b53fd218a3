/* SPDX-License-Identifier: MIT */
#include "logfile.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Offsets in the first page, from "Database File Format", sqlite.org/fileformat2.html, 1.3. */
enum { HEADER_SIZE = 100, AT_WRITE_VERSION = 18, AT_USER_VERSION = 60, AT_APPLICATION_ID = 68 };

void path_folder(const char *path, char *out, size_t size)
{
	const char *slash = strrchr(path, '/');
	if (slash == NULL)
		snprintf(out, size, ".");
	else if (slash == path)
		snprintf(out, size, "/");
	else
		snprintf(out, size, "%.*s", (int)(slash - path), path);
}

enum status folder_sync(const char *path, struct fault *why)
{
	char folder[LOG_PATH_SIZE];
	path_folder(path, folder, sizeof folder);
	int handle = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (handle < 0)
		return fault_set(why, STATUS_IO, "folder %s: %s", folder, strerror(errno));
	/* some file systems cannot sync a folder and say so by EINVAL */
	bool failed = fsync(handle) != 0 && errno != EINVAL;
	int reason = errno;
	close(handle);
	return failed ? fault_set(why, STATUS_IO, "folder %s: %s", folder, strerror(reason))
		      : STATUS_OK;
}

enum status file_sync(const char *path, struct fault *why)
{
	int handle = open(path, O_RDWR | O_CLOEXEC | O_NOFOLLOW);
	bool failed = handle < 0 || fsync(handle) != 0;
	int reason = errno;
	if (handle >= 0)
		close(handle);
	return failed ? fault_set(why, STATUS_IO, "%s: %s", path, strerror(reason)) : STATUS_OK;
}

void name_plainly(struct fault *why, const char *made, const char *path)
{
	char *at = why == NULL ? NULL : strstr(why->text, made);
	if (at == NULL)
		return;
	struct fault first = *why;
	size_t before = (size_t)(at - why->text);
	(void)fault_set(why, first.status, "%.*s%s%s", (int)before, first.text, path,
		first.text + before + strlen(made));
}

static enum status say_absent(const char *path, struct fault *why)
{
	char folder[LOG_PATH_SIZE];
	struct stat about;
	path_folder(path, folder, sizeof folder);
	if (stat(folder, &about) != 0)
		return fault_set(why, STATUS_ABSENT, "there is no log at %s: there is no folder %s",
			path, folder);
	return fault_set(
		why, STATUS_ABSENT, "there is no log at %s; `boughbook new` makes one", path);
}

static enum status say_unopened(const char *path, int reason, struct fault *why)
{
	switch (reason) {
	case ENOENT:
		return say_absent(path, why);
	case ENOTDIR:
		return fault_set(
			why, STATUS_ABSENT, "%s: a part of this path is not a folder", path);
	case EACCES:
	case EPERM:
		return fault_set(why, STATUS_DENIED, "no permission to read %s", path);
	default:
		return fault_set(why, STATUS_IO, "%s: %s", path, strerror(reason));
	}
}

static enum status check_kind(const char *path, const struct stat *about, struct fault *why)
{
	if (S_ISDIR(about->st_mode))
		return fault_set(why, STATUS_DAMAGED, "%s is a folder, not a log", path);
	if (!S_ISREG(about->st_mode))
		return fault_set(
			why, STATUS_DAMAGED, "%s is not an ordinary file, so no log", path);
	if (about->st_size == 0)
		return fault_set(why, STATUS_DAMAGED,
			"%s is empty (0 bytes): it is no log, or no longer one", path);
	return STATUS_OK;
}

static uint32_t big_endian(const unsigned char *bytes)
{
	return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 |
	       (uint32_t)bytes[3];
}

static enum status check_header(
	const char *path, const unsigned char *bytes, struct logfile *out, struct fault *why)
{
	if (memcmp(bytes, "SQLite format 3", 16) != 0)
		return fault_set(why, STATUS_DAMAGED, "%s is not a log of this program", path);
	out->application_id = big_endian(bytes + AT_APPLICATION_ID);
	out->version = (int32_t)big_endian(bytes + AT_USER_VERSION);
	out->is_wal = bytes[AT_WRITE_VERSION] == 2;
	if (out->application_id != (uint32_t)STORE_APPLICATION_ID)
		return fault_set(why, STATUS_DAMAGED,
			"%s is a database of another program, not a log", path);
	if (out->version > SCHEMA_VERSION)
		return fault_set(why, STATUS_DAMAGED,
			"%s was made by a newer version of the program (its schema is %d, this "
			"program "
			"knows %d); it was left as it is",
			path, (int)out->version, SCHEMA_VERSION);
	if (out->version < 1)
		return fault_set(why, STATUS_DAMAGED, "%s has schema %d, which never was: damaged",
			path, (int)out->version);
	return STATUS_OK;
}

static enum status read_header(const char *path, struct logfile *out, struct fault *why)
{
	/* O_NONBLOCK: opening a pipe or a terminal by mistake must not wait */
	int handle = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
	if (handle < 0)
		return say_unopened(path, errno, why);
	struct stat about;
	unsigned char bytes[HEADER_SIZE] = {0};
	enum status status = fstat(handle, &about) == 0 ? check_kind(path, &about, why)
							: say_unopened(path, errno, why);
	ssize_t got = status == STATUS_OK ? read(handle, bytes, sizeof bytes) : 0;
	int reason = errno;
	close(handle);
	if (status != STATUS_OK)
		return status;
	if (got < 0)
		return fault_set(
			why, STATUS_IO, "%s could not be read: %s", path, strerror(reason));
	out->size = about.st_size;
	out->names = (int64_t)about.st_nlink;
	return check_header(path, bytes, out, why);
}

static bool has_bytes(const char *path, const char *ending)
{
	char beside[LOG_PATH_SIZE + 16];
	struct stat about;
	snprintf(beside, sizeof beside, "%s%s", path, ending);
	return stat(beside, &about) == 0 && about.st_size > 0;
}

enum status logfile_look(const char *path, struct logfile *out, struct fault *why)
{
	*out = (struct logfile){0};
	struct stat about;
	if (stat(path, &about) != 0)
		return say_unopened(path, errno, why);
	enum status status = check_kind(path, &about, why);
	if (status != STATUS_OK)
		return status;
	char real[PATH_MAX];
	if (realpath(path, real) == NULL)
		return say_unopened(path, errno, why);
	if (strlen(real) >= sizeof out->path - 16)
		return fault_set(why, STATUS_IO, "the path of the log is too long");
	memcpy(out->path, real, strlen(real) + 1);
	status = read_header(path, out, why);
	if (status != STATUS_OK)
		return status;
	char folder[LOG_PATH_SIZE];
	path_folder(out->path, folder, sizeof folder);
	out->has_journal = has_bytes(out->path, "-journal") || has_bytes(out->path, "-wal");
	out->file_writable = faccessat(AT_FDCWD, out->path, W_OK, AT_EACCESS) == 0;
	out->folder_writable = faccessat(AT_FDCWD, folder, W_OK | X_OK, AT_EACCESS) == 0;
	return STATUS_OK;
}

enum status logfile_check_writable(const struct logfile *file, struct fault *why)
{
	if (!file->file_writable)
		return fault_set(why, STATUS_DENIED,
			"%s is read-only: it can be looked at, nothing can be saved", file->path);
	if (!file->folder_writable)
		return fault_set(why, STATUS_DENIED,
			"the folder of %s cannot be written: it can be looked at, nothing can be "
			"saved",
			file->path);
	if (file->names > 1)
		return fault_set(why, STATUS_DENIED,
			"%s has %d names (hard links), and saving under two names can ruin a log: "
			"make "
			"a copy and use that",
			file->path, (int)file->names);
	return STATUS_OK;
}
