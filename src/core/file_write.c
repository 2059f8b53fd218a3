/* SPDX-License-Identifier: MIT */
#include "core/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/leftover.h"
#include "core/text.h"
#include "system.h"

enum { LINKS_MAX = 40 };

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

void system_sync_folder(const char *folder)
{
	int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (descriptor < 0)
		return;
	(void)fsync(descriptor);
	close(descriptor);
}

/* The new file gets the old one's mode and, where allowed, owner. */
static bool take_after(int descriptor, const struct stat *old)
{
	if (old == NULL)
		return true;
	bool own = old->st_uid == geteuid() && old->st_gid == getegid();
	if (!own && fchown(descriptor, old->st_uid, old->st_gid) != 0)
		errno = 0; /* only root may give a file away; the content matters more */
	return fchmod(descriptor, old->st_mode & 0777) == 0;
}

static enum status open_stream(struct file_writing *out, int descriptor, struct fault *why)
{
	out->stream = fdopen(descriptor, "w");
	if (out->stream != NULL)
		return STATUS_OK;
	enum status status = system_fault(why, "writing", out->target);
	close(descriptor);
	return status;
}

static enum status begin_beside(struct file_writing *out, const struct stat *old, struct fault *why)
{
	char folder[FILE_PATH_SIZE];
	folder_of(out->target, folder);
	if (snprintf(out->made, sizeof out->made, "%s/.boughbook-XXXXXX", folder) >= FILE_PATH_SIZE)
		return fault_set(why, STATUS_RANGE, "the path %s is too long", out->target);
	int descriptor = mkstemp(out->made);
	if (descriptor < 0) {
		out->made[0] = '\0';
		return system_fault(why, "making a file beside", out->target);
	}
	leftover_sweep_writing(out->made);
	if (take_after(descriptor, old))
		return open_stream(out, descriptor, why);
	enum status status = system_fault(why, "writing", out->target);
	close(descriptor);
	return status;
}

static enum status begin_straight(struct file_writing *out, struct fault *why)
{
	int descriptor = open(out->target, O_WRONLY | O_CLOEXEC);
	if (descriptor < 0)
		return system_fault(why, "opening", out->target);
	return open_stream(out, descriptor, why);
}

static enum status begin(const char *path, struct file_writing *out, struct fault *why)
{
	struct stat old;
	if (stat(out->target, &old) != 0)
		return errno == ENOENT ? begin_beside(out, NULL, why)
				       : system_fault(why, "writing", path);
	if (S_ISDIR(old.st_mode))
		return fault_set(why, STATUS_IO, "%s is a folder, not a file", path);
	if (!S_ISREG(old.st_mode))
		return begin_straight(out, why);
	if (access(out->target, W_OK) != 0)
		return system_fault(why, "writing", path);
	return begin_beside(out, &old, why);
}

enum status file_write_begin(const char *path, struct file_writing *out, struct fault *why)
{
	*out = (struct file_writing){.stream = NULL};
	if (strcmp(path, "-") == 0) {
		text_copy(out->target, sizeof out->target, "standard output");
		out->stream = stdout;
		return STATUS_OK;
	}
	enum status status = follow_links(path, out->target, why);
	if (status == STATUS_OK)
		status = begin(path, out, why);
	if (status != STATUS_OK && out->made[0] != '\0') {
		(void)unlink(out->made);
		out->made[0] = '\0';
	}
	return status;
}

/* All of it out of the program, and for a file of its own onto the disk. */
static bool is_out(struct file_writing *writing)
{
	bool done = fflush(writing->stream) == 0 && !ferror(writing->stream);
	if (done && writing->made[0] != '\0')
		done = fsync(fileno(writing->stream)) == 0;
	int error = errno;
	if (writing->stream != stdout && fclose(writing->stream) != 0 && done)
		return false;
	if (!done)
		errno = error;
	return done;
}

enum status file_write_end(struct file_writing *writing, enum status status, struct fault *why)
{
	char folder[FILE_PATH_SIZE];
	if (writing->stream == NULL)
		return status;
	bool done = is_out(writing);
	writing->stream = NULL;
	if (status == STATUS_OK && done && writing->made[0] != '\0')
		done = rename(writing->made, writing->target) == 0;
	if (status == STATUS_OK && !done)
		status = system_fault(why, "writing", writing->target);
	if (writing->made[0] == '\0')
		return status;
	if (status != STATUS_OK) {
		(void)unlink(writing->made);
		return status;
	}
	folder_of(writing->target, folder);
	system_sync_folder(folder);
	return STATUS_OK;
}

enum status file_write_whole(const char *path, const char *bytes, size_t length, struct fault *why)
{
	struct file_writing writing;
	enum status status = file_write_begin(path, &writing, why);
	if (status != STATUS_OK)
		return status;
	if (length > 0)
		(void)fwrite(bytes, 1, length, writing.stream);
	return file_write_end(&writing, STATUS_OK, why);
}
