/* SPDX-License-Identifier: MIT */
#define _GNU_SOURCE /* renameat2 */
#include "core/folder.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/leftover.h"
#include "core/text.h"
#include "system.h"

enum { NEW_FILE_MODE = 0600 };

static enum status path_of(
	const char *folder, const char *name, char out[FILE_PATH_SIZE], struct fault *why)
{
	if (snprintf(out, FILE_PATH_SIZE, "%s/%s", folder, name) < FILE_PATH_SIZE)
		return STATUS_OK;
	return fault_set(why, STATUS_RANGE, "the path %s is too long", folder);
}

/* --- looking --- */

/* The folder that the new one is to stand in is there; its name is the part after the last
 * slash. */
static enum status name_new(char *path, char target[FILE_PATH_SIZE], struct fault *why)
{
	char real[PATH_MAX];
	char *slash = strrchr(path, '/');
	const char *name = slash == NULL ? path : slash + 1;
	if (slash != NULL)
		*slash = '\0';
	const char *parent = slash == NULL ? "." : slash == path ? "/" : path;
	if (realpath(parent, real) == NULL)
		return system_fault(why, "looking for the folder", parent);
	return path_of(real[1] == '\0' ? "" : real, name, target, why);
}

enum status folder_look(const char *path, struct folder_writing *out, struct fault *why)
{
	char given[FILE_PATH_SIZE];
	char real[PATH_MAX];
	struct stat facts;
	*out = (struct folder_writing){.replaces = false};
	if (!text_copy(given, sizeof given, path))
		return fault_set(why, STATUS_RANGE, "the path of the folder is too long");
	size_t length = strlen(given);
	while (length > 1 && given[length - 1] == '/')
		given[--length] = '\0';
	if (lstat(given, &facts) != 0)
		return errno == ENOENT ? name_new(given, out->target, why)
				       : system_fault(why, "looking at", path);
	if (realpath(given, real) == NULL)
		return system_fault(why, "looking at", path);
	if (stat(real, &facts) != 0)
		return system_fault(why, "looking at", path);
	if (!S_ISDIR(facts.st_mode))
		return fault_set(why, STATUS_CONFLICT, "%s is a file, not a folder", path);
	if (!text_copy(out->target, sizeof out->target, real))
		return fault_set(why, STATUS_RANGE, "the path of the folder is too long");
	out->replaces = true;
	return STATUS_OK;
}

enum status folder_find_other(const char *path,
	bool (*known)(const char *name, const void *context), const void *context, char *out,
	size_t size, struct fault *why)
{
	DIR *folder = opendir(path);
	out[0] = '\0';
	if (folder == NULL)
		return system_fault(why, "looking into", path);
	for (const struct dirent *found = readdir(folder); found != NULL; found = readdir(folder)) {
		bool is_dots = strcmp(found->d_name, ".") == 0 || strcmp(found->d_name, "..") == 0;
		if (is_dots || known(found->d_name, context))
			continue;
		text_copy(out, size, found->d_name);
		break;
	}
	closedir(folder);
	return STATUS_OK;
}

/* --- writing --- */

enum status folder_begin(struct folder_writing *writing, struct fault *why)
{
	char parent[FILE_PATH_SIZE];
	struct stat facts;
	text_copy(parent, sizeof parent, writing->target);
	char *slash = strrchr(parent, '/');
	slash[0] = '\0';
	enum status status = path_of(parent, ".boughbook-XXXXXX", writing->made, why);
	if (status != STATUS_OK)
		return status;
	if (mkdtemp(writing->made) == NULL) {
		status = system_fault(why, "making a folder beside", writing->target);
		writing->made[0] = '\0';
		return status;
	}
	leftover_sweep_writing(writing->made);
	if (writing->replaces &&
		(stat(writing->target, &facts) != 0 ||
			chmod(writing->made, (facts.st_mode & 0777) | S_IRWXU) != 0))
		return system_fault(why, "making a folder beside", writing->target);
	return STATUS_OK;
}

enum status folder_file_begin(
	const struct folder_writing *writing, const char *name, FILE **out, struct fault *why)
{
	char path[FILE_PATH_SIZE];
	char old[FILE_PATH_SIZE];
	struct stat facts;
	*out = NULL;
	enum status status = path_of(writing->made, name, path, why);
	if (status == STATUS_OK)
		status = path_of(writing->target, name, old, why);
	if (status != STATUS_OK)
		return status;
	int descriptor = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, NEW_FILE_MODE);
	if (descriptor < 0)
		return system_fault(why, "writing", old);
	bool has_mode = !writing->replaces || stat(old, &facts) != 0 ||
			fchmod(descriptor, (facts.st_mode & 0777) | S_IRUSR | S_IWUSR) == 0;
	*out = has_mode ? fdopen(descriptor, "w") : NULL;
	if (*out != NULL)
		return STATUS_OK;
	status = system_fault(why, "writing", old);
	close(descriptor);
	return status;
}

enum status folder_file_end(
	const struct folder_writing *writing, const char *name, FILE *file, struct fault *why)
{
	char path[FILE_PATH_SIZE];
	enum status status = path_of(writing->target, name, path, why);
	bool done = !ferror(file) && fflush(file) == 0 && fsync(fileno(file)) == 0;
	if (status == STATUS_OK && !done)
		status = system_fault(why, "writing", path);
	if (fclose(file) != 0 && status == STATUS_OK)
		status = system_fault(why, "writing", path);
	return status;
}

/* Without a swap: the old one steps aside, and comes back when the new one cannot take its
 * place. */
static enum status step_aside(struct folder_writing *writing, struct fault *why)
{
	char aside[FILE_PATH_SIZE];
	if (snprintf(aside, sizeof aside, "%.4000s.old", writing->made) >= FILE_PATH_SIZE)
		return fault_set(why, STATUS_RANGE, "the path %s is too long", writing->target);
	if (rename(writing->target, aside) != 0)
		return system_fault(why, "replacing", writing->target);
	if (rename(writing->made, writing->target) != 0) {
		enum status status = system_fault(why, "replacing", writing->target);
		if (rename(aside, writing->target) != 0)
			fault_prefix(why, "what stood there is now %s: ", aside);
		return status;
	}
	text_copy(writing->made, sizeof writing->made, aside);
	return STATUS_OK;
}

static enum status put_in_place(struct folder_writing *writing, struct fault *why)
{
	if (!writing->replaces) {
		if (rename(writing->made, writing->target) != 0)
			return system_fault(why, "writing", writing->target);
		writing->made[0] = '\0';
		return STATUS_OK;
	}
	if (renameat2(AT_FDCWD, writing->made, AT_FDCWD, writing->target, RENAME_EXCHANGE) == 0)
		return STATUS_OK; /* `made` is now what stood there */
	if (errno != EINVAL && errno != ENOSYS)
		return system_fault(why, "replacing", writing->target);
	return step_aside(writing, why);
}

enum status folder_end(struct folder_writing *writing, struct fault *why)
{
	char parent[FILE_PATH_SIZE];
	system_sync_folder(writing->made);
	enum status status = put_in_place(writing, why);
	if (status != STATUS_OK)
		return status;
	text_copy(parent, sizeof parent, writing->target);
	strrchr(parent, '/')[1] = '\0';
	system_sync_folder(parent);
	folder_abandon(writing);
	return STATUS_OK;
}

void folder_abandon(struct folder_writing *writing)
{
	if (writing->made[0] != '\0')
		leftover_remove(writing->made);
	writing->made[0] = '\0';
}
