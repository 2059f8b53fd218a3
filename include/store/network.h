/* SPDX-License-Identifier: MIT */
/* network.h - is the log in a folder that another computer serves? Locks and syncs go by what that
 * computer and the way to it make of them, so it is told; nothing is refused. */
#ifndef STORE_NETWORK_H
#define STORE_NETWORK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What the system calls the file system of a number as statfs gives it, "NFS"; NULL: none of a
 * network. on_device: it lies on a device of this computer, as a stick behind FUSE does. */
const char *network_kind(uint32_t file_system, bool on_device);

enum { NETWORK_CAUTION_SIZE = 80 };
/* One sentence about the file at path; false, and "", where it is on a disk of this computer, or
 * where nothing is known. */
bool network_caution(const char *path, char out[NETWORK_CAUTION_SIZE]);

#endif
