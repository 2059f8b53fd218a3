/* SPDX-License-Identifier: MIT */
#include "store/network.h"

#include <linux/magic.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <sys/vfs.h>

struct kind {
	uint32_t file_system;
	const char *name;
};

static const struct kind kinds[] = {
	{NFS_SUPER_MAGIC, "NFS"},
	{SMB_SUPER_MAGIC, "SMB"},
	{SMB2_SUPER_MAGIC, "SMB"},
	{CIFS_SUPER_MAGIC, "CIFS"},
	{NCP_SUPER_MAGIC, "NCP"},
	{AFS_SUPER_MAGIC, "AFS"},
	{AFS_FS_MAGIC, "AFS"},
	{CODA_SUPER_MAGIC, "Coda"},
	{CEPH_SUPER_MAGIC, "Ceph"},
	{V9FS_MAGIC, "9p"},
	{FUSE_SUPER_MAGIC, "FUSE"},
};

const char *network_kind(uint32_t file_system, bool on_device)
{
	if (on_device)
		return NULL;
	for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
		if (kinds[i].file_system == file_system)
			return kinds[i].name;
	return NULL;
}

bool network_caution(const char *path, char out[NETWORK_CAUTION_SIZE])
{
	struct statfs system;
	struct stat about;
	out[0] = '\0';
	if (statfs(path, &system) != 0 || stat(path, &about) != 0)
		return false;
	/* what has no device of its own is given one of number 0 */
	const char *kind = network_kind((uint32_t)system.f_type, major(about.st_dev) != 0);
	if (kind == NULL)
		return false;
	/* behind FUSE there may be anything: another computer, a cipher, an archive */
	const bool perhaps = strcmp(kind, "FUSE") == 0;
	snprintf(out, NETWORK_CAUTION_SIZE,
		"the log %s on a network folder (%s): use it in one place at a time",
		perhaps ? "may be" : "is", kind);
	return true;
}
