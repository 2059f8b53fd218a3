/* SPDX-License-Identifier: MIT */
/* vfs.h - a disk that fails when told to, between SQLite and the real one. It counts every write,
 * sync, truncation and removal; and it knows what had been synced, so that after a cut of power
 * only that is left. */
#ifndef SUPPORT_VFS_H
#define SUPPORT_VFS_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { VFS_FILES_MAX = 16, VFS_PATH_SIZE = 256 };

struct vfs_kept { /* a file as it would be found after a cut of power */
	char path[VFS_PATH_SIZE];
	bool is_there;
	char *bytes;
	size_t length;
};

struct vfs {
	sqlite3_vfs base;
	sqlite3_vfs *real;
	int64_t operations; /* so far */
	int64_t fail_at;    /* the number of the operation that fails; 0: none */
	int code;           /* what it answers: SQLITE_FULL, SQLITE_IOERR_WRITE ... */
	bool for_good;      /* and every one after it */
	bool half;          /* a failing write writes the first half */
	bool reads;         /* readings count as operations too */
	bool keeping;       /* what is synced is kept */
	struct vfs_kept kept[VFS_FILES_MAX];
	int32_t kept_count;
};

/* Becomes the disk of every connection opened from here on. */
void vfs_install(struct vfs *vfs);
void vfs_remove(struct vfs *vfs);
/* The next operation has number 1; fail_at 0: nothing fails. */
void vfs_arm(struct vfs *vfs, int64_t fail_at, int code, bool for_good);
/* Takes the file at path as being on the disk, and keeps book from here on. */
void vfs_keep(struct vfs *vfs, const char *path);
/* The power was cut: what was not synced is gone. */
void vfs_cut(struct vfs *vfs);

#endif
