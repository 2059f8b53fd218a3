/* SPDX-License-Identifier: MIT */
/* system.h - what file.c and folder.c share: telling of failed system calls, and syncing. */
#ifndef CORE_SYSTEM_H
#define CORE_SYSTEM_H

#include "core/fault.h"

/* "DOING PATH: the system's words", from errno. */
enum status system_fault(struct fault *why, const char *doing, const char *path);
/* Makes the names in a folder last, not only the bytes. Some file systems cannot; the files are
 * whole by then, so that is no failure. */
void system_sync_folder(const char *folder);

#endif
