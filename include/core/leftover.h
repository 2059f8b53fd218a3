/* SPDX-License-Identifier: MIT */
/* leftover.h - what a run that was killed left half written beside what it was to become. */
#ifndef CORE_LEFTOVER_H
#define CORE_LEFTOVER_H

#include <stdbool.h>

/* Removes from a folder every file, and every folder of files, that is_leftover knows by its name,
 * that belongs to this user, and that nobody wrote for a day before `fresh`, a file or folder made
 * just now: the clock is that of the disk. What cannot be removed stays; that is no failure. */
void leftover_sweep(const char *folder, const char *fresh,
	bool (*is_leftover)(const char *name, const void *context), const void *context);
/* The same for what core/file.h and core/folder.h make while they write, beside such a one. */
void leftover_sweep_writing(const char *fresh);
/* A file, or a folder that holds files alone. */
void leftover_remove(const char *path);

#endif
