/* SPDX-License-Identifier: MIT */
#include "core/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/memory.h"
#include "core/text.h"
#include "system.h"

enum { LINKS_MAX = 40, NEW_FILE_MODE = 0600, NEW_FOLDER_MODE = 0700 };

static enum status status_of_errno(int error)
{
	if (error == ENOENT || error == ENOTDIR)
		return STATUS_ABSENT;
	if (error == EACCES || error == EPERM || error == EROFS)
		return STATUS_DENIED;
	return STATUS_IO;
}

enum status system_fault(struct fault *why, const char *doing, const char *path)
{
	int error = errno;
	return fault_set(why, status_of_errno(error), "%s %s: %s", doing, path, strerror(error));
}

/* --- reading --- */

void file_free(struct file_bytes *file)
{
	block_free(file->bytes);
	*file = (struct file_bytes){0};
}

static enum status read_from(
	int descriptor, const char *name, size_t limit, struct file_bytes *out, struct fault *why)
{
	size_t size = 65536;
	struct file_bytes file = {.bytes = block_new(size + 1)};
	for (;;) {
		ssize_t got = read(descriptor, file.bytes + file.length, size - file.length);
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0) {
			enum status status = system_fault(why, "reading", name);
			file_free(&file);
			return status;
		}
		if (got == 0)
			break;
		file.length += (size_t)got;
		if (file.length > limit) {
			file_free(&file);
			return fault_set(
				why, STATUS_RANGE, "%s is larger than %zu bytes", name, limit);
		}
		if (file.length == size) {
			size *= 2;
			file.bytes = block_resize(file.bytes, size + 1);
		}
	}
	file.bytes[file.length] = '\0';
	*out = file;
	return STATUS_OK;
}

enum status file_read_whole(
	const char *path, size_t limit, struct file_bytes *out, struct fault *why)
{
	*out = (struct file_bytes){0};
	if (strcmp(path, "-") == 0)
		return read_from(STDIN_FILENO, "standard input", limit, out, why);
	int descriptor = open(path, O_RDONLY | O_CLOEXEC);
	if (descriptor < 0)
		return system_fault(why, "opening", path);
	struct stat facts;
	enum status status;
	if (fstat(descriptor, &facts) == 0 && S_ISDIR(facts.st_mode))
		status = fault_set(why, STATUS_IO, "%s is a folder, not a file", path);
	else
		status = read_from(descriptor, path, limit, out, why);
	close(descriptor);
	return status;
}

struct file_stream {
	int descriptor;
	char path[FILE_PATH_SIZE];
	int64_t size;
	int64_t at;
};

enum status file_stream_open(const char *path, struct file_stream **out, struct fault *why)
{
	struct stat facts;
	*out = NULL;
	if (stat(path, &facts) != 0) /* looked at unopened: a pipe would lose its writer */
		return system_fault(why, "opening", path);
	if (!S_ISREG(facts.st_mode))
		return fault_set(why, STATUS_CONFLICT, "%s is no plain file", path);
	int descriptor = open(path, O_RDONLY | O_CLOEXEC);
	if (descriptor < 0)
		return system_fault(why, "opening", path);
	struct file_stream *stream = block_new(sizeof *stream);
	stream->descriptor = descriptor;
	stream->size = facts.st_size;
	text_copy(stream->path, sizeof stream->path, path);
	*out = stream;
	return STATUS_OK;
}

enum status file_stream_read(
	struct file_stream *stream, char *out, size_t size, size_t *got, struct fault *why)
{
	ssize_t read_bytes;
	do
		read_bytes = read(stream->descriptor, out, size);
	while (read_bytes < 0 && errno == EINTR);
	*got = 0;
	if (read_bytes < 0)
		return system_fault(why, "reading", stream->path);
	*got = (size_t)read_bytes;
	stream->at += read_bytes;
	return STATUS_OK;
}

int64_t file_stream_size(const struct file_stream *stream)
{
	return stream->size;
}

int64_t file_stream_at(const struct file_stream *stream)
{
	return stream->at;
}

void file_stream_close(struct file_stream *stream)
{
	if (stream == NULL)
		return;
	close(stream->descriptor);
	block_free(stream);
}

/* --- writing --- */

static bool write_all(int descriptor, const char *bytes, size_t length)
{
	while (length > 0) {
		ssize_t done = write(descriptor, bytes, length);
		if (done < 0 && errno == EINTR)
			continue;
		if (done < 0)
			return false;
		bytes += done;
		length -= (size_t)done;
	}
	return true;
}

/* The folder of a path: "." when it names none. */
static void folder_of(const char *path, char out[FILE_PATH_SIZE])
{
	const char *slash = strrchr(path, '/');
	if (slash == NULL)
		snprintf(out, FILE_PATH_SIZE, ".");
	else if (slash == path)
		snprintf(out, FILE_PATH_SIZE, "/");
	else
		text_copy_n(out, FILE_PATH_SIZE, path, (size_t)(slash - path));
}

/* Follows symbolic links by hand, so that one whose target is not there yet is followed too. */
static enum status follow_links(const char *path, char out[FILE_PATH_SIZE], struct fault *why)
{
	char link[FILE_PATH_SIZE];
	char folder[FILE_PATH_SIZE];
	if (!text_copy(out, FILE_PATH_SIZE, path))
		return fault_set(
			why, STATUS_RANGE, "the path is longer than %d bytes", FILE_PATH_SIZE - 1);
	for (int links = 0; links < LINKS_MAX; links++) {
		ssize_t length = readlink(out, link, sizeof link - 1);
		if (length < 0)
			return STATUS_OK;
		link[length] = '\0';
		folder_of(out, folder);
		int wanted = link[0] == '/' ? snprintf(out, FILE_PATH_SIZE, "%s", link)
					    : snprintf(out, FILE_PATH_SIZE, "%s/%s", folder, link);
		if (wanted >= FILE_PATH_SIZE)
			break;
	}
	return fault_set(why, STATUS_IO, "%s: too many links, or too long ones", path);
}

static enum status write_straight(
	const char *path, const char *bytes, size_t length, struct fault *why)
{
	int descriptor = open(path, O_WRONLY | O_CLOEXEC);
	if (descriptor < 0)
		return system_fault(why, "opening", path);
	bool done = write_all(descriptor, bytes, length);
	enum status status = done ? STATUS_OK : system_fault(why, "writing", path);
	if (close(descriptor) != 0 && status == STATUS_OK)
		status = system_fault(why, "writing", path);
	return status;
}

/* Fills the new file and gives it the old one's mode and, where allowed, owner. */
static bool fill(int descriptor, const char *bytes, size_t length, const struct stat *old)
{
	if (old != NULL && fchmod(descriptor, old->st_mode & 0777) != 0)
		return false;
	bool own = old == NULL || (old->st_uid == geteuid() && old->st_gid == getegid());
	if (!own && fchown(descriptor, old->st_uid, old->st_gid) != 0)
		errno = 0; /* only root may give a file away; the content matters more */
	return write_all(descriptor, bytes, length) && fsync(descriptor) == 0;
}

void system_sync_folder(const char *folder)
{
	int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (descriptor < 0)
		return;
	(void)fsync(descriptor);
	close(descriptor);
}

static enum status replace(const char *target, const char *bytes, size_t length,
	const struct stat *old, struct fault *why)
{
	char folder[FILE_PATH_SIZE];
	char fresh[FILE_PATH_SIZE];
	folder_of(target, folder);
	if (snprintf(fresh, sizeof fresh, "%s/.boughbook-XXXXXX", folder) >= FILE_PATH_SIZE)
		return fault_set(why, STATUS_RANGE, "the path %s is too long", target);
	int descriptor = mkstemp(fresh);
	if (descriptor < 0)
		return system_fault(why, "making a file beside", target);
	bool done = fill(descriptor, bytes, length, old);
	int error = errno;
	if (close(descriptor) != 0 && done) {
		error = errno;
		done = false;
	}
	if (done && rename(fresh, target) == 0) {
		system_sync_folder(folder);
		return STATUS_OK;
	}
	if (!done)
		errno = error;
	enum status status = system_fault(why, "writing", target);
	(void)unlink(fresh);
	return status;
}

enum status file_write_whole(const char *path, const char *bytes, size_t length, struct fault *why)
{
	if (strcmp(path, "-") == 0) {
		if (fflush(stdout) != 0 || !write_all(STDOUT_FILENO, bytes, length))
			return system_fault(why, "writing", "standard output");
		return STATUS_OK;
	}
	char target[FILE_PATH_SIZE];
	enum status status = follow_links(path, target, why);
	if (status != STATUS_OK)
		return status;
	struct stat old;
	if (stat(target, &old) != 0) {
		if (errno != ENOENT)
			return system_fault(why, "writing", path);
		return replace(target, bytes, length, NULL, why);
	}
	if (S_ISDIR(old.st_mode))
		return fault_set(why, STATUS_IO, "%s is a folder, not a file", path);
	if (!S_ISREG(old.st_mode))
		return write_straight(target, bytes, length, why);
	if (access(target, W_OK) != 0)
		return system_fault(why, "writing", path);
	return replace(target, bytes, length, &old, why);
}

enum status file_make_folders(const char *path, struct fault *why)
{
	char folder[FILE_PATH_SIZE];
	if (!text_copy(folder, sizeof folder, path))
		return fault_set(
			why, STATUS_RANGE, "the path is longer than %d bytes", FILE_PATH_SIZE - 1);
	for (char *slash = strchr(folder + (folder[0] == '/'), '/'); slash != NULL;
		slash = strchr(slash + 1, '/')) {
		*slash = '\0';
		struct stat facts;
		if (folder[0] != '\0' && stat(folder, &facts) != 0 &&
			mkdir(folder, NEW_FOLDER_MODE) != 0 && errno != EEXIST)
			return system_fault(why, "making the folder", folder);
		*slash = '/';
	}
	return STATUS_OK;
}

static bool is_set(const char *value)
{
	return value != NULL && value[0] != '\0';
}

enum status file_default_log_path(char out[FILE_PATH_SIZE], struct fault *why)
{
	const char *log = getenv("BOUGHBOOK_LOG");
	const char *data = getenv("XDG_DATA_HOME");
	const char *home = getenv("HOME");
	int wanted;
	if (is_set(log))
		wanted = snprintf(out, FILE_PATH_SIZE, "%s", log);
	else if (is_set(data) && data[0] == '/') /* a relative one is to be ignored: XDG 0.8 */
		wanted = snprintf(out, FILE_PATH_SIZE, "%s/boughbook/yard.bough", data);
	else if (is_set(home))
		wanted =
			snprintf(out, FILE_PATH_SIZE, "%s/.local/share/boughbook/yard.bough", home);
	else
		return fault_set(why, STATUS_ABSENT,
			"no log: say --log FILE, or set BOUGHBOOK_LOG, XDG_DATA_HOME or HOME");
	if (wanted < 0 || wanted >= FILE_PATH_SIZE)
		return fault_set(why, STATUS_RANGE, "the log's path is longer than %d bytes",
			FILE_PATH_SIZE - 1);
	return STATUS_OK;
}
