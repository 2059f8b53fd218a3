/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include "support/vfs.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct vfs_file {
	sqlite3_file base;
	struct vfs *vfs;
	const char *path; /* SQLite's own, valid while the file is open; NULL: one for a moment */
	sqlite3_file *real;
};

static struct vfs_file *file_of(sqlite3_file *file)
{
	return (struct vfs_file *)file;
}

static sqlite3_file *real_of(sqlite3_file *file)
{
	return file_of(file)->real;
}

/* SQLITE_OK, or the failure that is due. */
static int count_operation(struct vfs *vfs)
{
	vfs->operations++;
	if (vfs->fail_at == 0 || vfs->operations < vfs->fail_at)
		return SQLITE_OK;
	return vfs->operations == vfs->fail_at || vfs->for_good ? vfs->code : SQLITE_OK;
}

/* --- what is on the disk --- */

static struct vfs_kept *kept_at(struct vfs *vfs, const char *path)
{
	for (int32_t i = 0; i < vfs->kept_count; i++) {
		if (strcmp(vfs->kept[i].path, path) == 0)
			return &vfs->kept[i];
	}
	assert_true(vfs->kept_count < VFS_FILES_MAX);
	struct vfs_kept *kept = &vfs->kept[vfs->kept_count++];
	*kept = (struct vfs_kept){.is_there = false};
	(void)snprintf(kept->path, sizeof kept->path, "%s", path);
	return kept;
}

static void keep_now(struct vfs *vfs, const char *path)
{
	struct vfs_kept *kept = kept_at(vfs, path);
	free(kept->bytes);
	kept->bytes = file_read(path, &kept->length);
	kept->is_there = true;
}

static void forget(struct vfs *vfs, const char *path)
{
	struct vfs_kept *kept = kept_at(vfs, path);
	free(kept->bytes);
	*kept = (struct vfs_kept){.is_there = false};
	(void)snprintf(kept->path, sizeof kept->path, "%s", path);
}

/* --- files --- */

static int file_close(sqlite3_file *file)
{
	return real_of(file)->pMethods->xClose(real_of(file));
}

static int file_get(sqlite3_file *file, void *out, int count, sqlite3_int64 offset)
{
	const int code =
		file_of(file)->vfs->reads ? count_operation(file_of(file)->vfs) : SQLITE_OK;
	if (code != SQLITE_OK)
		return SQLITE_IOERR_READ;
	return real_of(file)->pMethods->xRead(real_of(file), out, count, offset);
}

static int file_put(sqlite3_file *file, const void *bytes, int count, sqlite3_int64 offset)
{
	const int code = count_operation(file_of(file)->vfs);
	if (code != SQLITE_OK && file_of(file)->vfs->half)
		(void)real_of(file)->pMethods->xWrite(real_of(file), bytes, count / 2, offset);
	if (code != SQLITE_OK)
		return code;
	return real_of(file)->pMethods->xWrite(real_of(file), bytes, count, offset);
}

static int file_truncate(sqlite3_file *file, sqlite3_int64 size)
{
	const int code = count_operation(file_of(file)->vfs);
	return code != SQLITE_OK ? code : real_of(file)->pMethods->xTruncate(real_of(file), size);
}

static int file_sync_(sqlite3_file *file, int flags)
{
	struct vfs_file *one = file_of(file);
	int code = count_operation(one->vfs);
	if (code == SQLITE_OK)
		code = one->real->pMethods->xSync(one->real, flags);
	if (code == SQLITE_OK && one->vfs->keeping && one->path != NULL)
		keep_now(one->vfs, one->path);
	return code;
}

static int file_size(sqlite3_file *file, sqlite3_int64 *size)
{
	return real_of(file)->pMethods->xFileSize(real_of(file), size);
}

static int file_lock(sqlite3_file *file, int level)
{
	return real_of(file)->pMethods->xLock(real_of(file), level);
}

static int file_unlock(sqlite3_file *file, int level)
{
	return real_of(file)->pMethods->xUnlock(real_of(file), level);
}

static int file_is_reserved(sqlite3_file *file, int *out)
{
	return real_of(file)->pMethods->xCheckReservedLock(real_of(file), out);
}

static int file_control(sqlite3_file *file, int what, void *argument)
{
	return real_of(file)->pMethods->xFileControl(real_of(file), what, argument);
}

static int file_sector(sqlite3_file *file)
{
	return real_of(file)->pMethods->xSectorSize(real_of(file));
}

static int file_character(sqlite3_file *file)
{
	return real_of(file)->pMethods->xDeviceCharacteristics(real_of(file));
}

static const sqlite3_io_methods methods = {
	.iVersion = 1,
	.xClose = file_close,
	.xRead = file_get,
	.xWrite = file_put,
	.xTruncate = file_truncate,
	.xSync = file_sync_,
	.xFileSize = file_size,
	.xLock = file_lock,
	.xUnlock = file_unlock,
	.xCheckReservedLock = file_is_reserved,
	.xFileControl = file_control,
	.xSectorSize = file_sector,
	.xDeviceCharacteristics = file_character,
};

/* --- the disk --- */

static int disk_open(sqlite3_vfs *base, const char *path, sqlite3_file *file, int flags, int *got)
{
	struct vfs *vfs = base->pAppData;
	struct vfs_file *one = file_of(file);
	*one = (struct vfs_file){.vfs = vfs, .path = path};
	one->real = (sqlite3_file *)(void *)(one + 1);
	const int code = vfs->real->xOpen(vfs->real, path, one->real, flags, got);
	one->base.pMethods = one->real->pMethods != NULL ? &methods : NULL;
	return code;
}

static int disk_remove(sqlite3_vfs *base, const char *path, int sync_folder)
{
	struct vfs *vfs = base->pAppData;
	int code = count_operation(vfs);
	if (code == SQLITE_OK)
		code = vfs->real->xDelete(vfs->real, path, sync_folder);
	if (code == SQLITE_OK && vfs->keeping && sync_folder)
		forget(vfs, path);
	return code;
}

void vfs_install(struct vfs *vfs)
{
	*vfs = (struct vfs){.real = sqlite3_vfs_find(NULL)};
	assert_non_null(vfs->real);
	vfs->base = *vfs->real;
	vfs->base.zName = "failing";
	vfs->base.pNext = NULL;
	vfs->base.szOsFile = (int)sizeof(struct vfs_file) + vfs->real->szOsFile;
	vfs->base.pAppData = vfs;
	vfs->base.xOpen = disk_open;
	vfs->base.xDelete = disk_remove;
	check_int(sqlite3_vfs_register(&vfs->base, 1), SQLITE_OK, "register");
}

void vfs_remove(struct vfs *vfs)
{
	for (int32_t i = 0; i < vfs->kept_count; i++)
		free(vfs->kept[i].bytes);
	check_int(sqlite3_vfs_unregister(&vfs->base), SQLITE_OK, "unregister");
}

void vfs_arm(struct vfs *vfs, int64_t fail_at, int code, bool for_good)
{
	vfs->operations = 0;
	vfs->fail_at = fail_at;
	vfs->code = code;
	vfs->for_good = for_good;
}

void vfs_keep(struct vfs *vfs, const char *path)
{
	for (int32_t i = 0; i < vfs->kept_count; i++)
		free(vfs->kept[i].bytes);
	vfs->kept_count = 0;
	vfs->keeping = true;
	keep_now(vfs, path);
}

void vfs_cut(struct vfs *vfs)
{
	vfs->keeping = false;
	for (int32_t i = 0; i < vfs->kept_count; i++) {
		const struct vfs_kept *kept = &vfs->kept[i];
		if (kept->is_there)
			file_write(kept->path, kept->bytes, kept->length);
		else
			(void)unlink(kept->path);
	}
}
