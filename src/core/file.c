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

enum { NEW_FOLDER_MODE = 0700 };

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

/* --- folders --- */

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
