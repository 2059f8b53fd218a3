/* SPDX-License-Identifier: MIT */
#include "core/leftover.h"

#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/file.h"
#include "core/text.h"

enum { A_DAY_S = 24 * 3600, PLACE_SIZE = FILE_PATH_SIZE + 300 };

static bool is_dots(const char *name)
{
	return strcmp(name, ".") == 0 || strcmp(name, "..") == 0;
}

void leftover_remove(const char *path)
{
	char inside[PLACE_SIZE];
	if (unlink(path) == 0)
		return;
	DIR *folder = opendir(path);
	if (folder == NULL)
		return;
	for (const struct dirent *found = readdir(folder); found != NULL; found = readdir(folder)) {
		if (is_dots(found->d_name))
			continue;
		(void)snprintf(inside, sizeof inside, "%s/%s", path, found->d_name);
		(void)unlink(inside);
	}
	closedir(folder);
	(void)rmdir(path);
}

static bool is_stale(const char *path, int64_t now_s)
{
	struct stat about;
	return lstat(path, &about) == 0 && (S_ISREG(about.st_mode) || S_ISDIR(about.st_mode)) &&
	       about.st_uid == geteuid() && about.st_mtime < now_s - A_DAY_S;
}

void leftover_sweep(const char *folder, const char *fresh,
	bool (*is_leftover)(const char *name, const void *context), const void *context)
{
	char path[PLACE_SIZE];
	struct stat newest;
	DIR *list = stat(fresh, &newest) == 0 ? opendir(folder) : NULL;
	if (list == NULL)
		return;
	for (const struct dirent *found = readdir(list); found != NULL; found = readdir(list)) {
		if (is_dots(found->d_name) || !is_leftover(found->d_name, context))
			continue;
		(void)snprintf(path, sizeof path, "%s/%s", folder, found->d_name);
		if (is_stale(path, newest.st_mtime))
			leftover_remove(path);
	}
	closedir(list);
}

/* ".boughbook-" and the six letters or figures of mkstemp. What steps aside (".old") is kept: it
 * may be all there is. */
static bool is_of_writing(const char *name, const void *context)
{
	static const char stem[] = ".boughbook-";
	static const char signs[] =
		"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789";
	(void)context;
	const char *rest = name + strlen(stem);
	return strncmp(name, stem, strlen(stem)) == 0 && strlen(rest) == 6 &&
	       strspn(rest, signs) == 6;
}

void leftover_sweep_writing(const char *fresh)
{
	char folder[FILE_PATH_SIZE] = ".";
	const char *slash = strrchr(fresh, '/');
	if (slash != NULL)
		text_copy_n(folder, sizeof folder, fresh, (size_t)(slash - fresh) + 1);
	leftover_sweep(folder, fresh, is_of_writing, NULL);
}
