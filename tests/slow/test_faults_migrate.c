/* SPDX-License-Identifier: MIT */
/* A migration on a disk that fails at each operation in turn, or loses its power there: the log is
 * whole at its old schema or whole at the new one, and a copy of the old one was kept before
 * anything was changed. Slow because every operation of it is tried. */
#include "support/test.h"

#include "support/log.h"
#include "support/vfs.h"

#include "store/copy.h"
#include "store/migrate.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { OPERATIONS_MAX = 3000, STRIDE = 3 };

#define STEP(number, name, sql)                    \
	{                                          \
		number, name, sql, sizeof(sql) - 1 \
	}

static const struct schema_text steps[] = {
	STEP(2, "002_colour",
		"ALTER TABLE area ADD COLUMN colour TEXT; UPDATE area SET colour = 'green';"),
	STEP(3, "003_more",
		"CREATE TABLE more (row INTEGER PRIMARY KEY) STRICT; "
		"INSERT INTO more SELECT row FROM area;"),
	{0, NULL, NULL, 0},
};

static void make_log(struct log *yard)
{
	log_make(yard);
	for (int i = 0; i < 30; i++)
		log_area_act(yard, "an area of some length for the page");
	log_close(yard);
}

/* True when the log is at the new schema. */
static bool check_old_or_new(const char *path)
{
	const int64_t version = log_file_one(path, "PRAGMA user_version");
	assert_true(version == 1 || version == 3);
	check_int(log_file_one(path, "SELECT count(*) FROM pragma_integrity_check "
				     "WHERE integrity_check <> 'ok'"),
		0, "sound");
	check_int(log_file_one(path, "SELECT count(*) FROM area"), 30, "areas");
	check_int(log_file_one(path, "SELECT count(*) FROM sqlite_schema WHERE name = 'more'"),
		version == 3, "table of the last step");
	check_int(log_file_one(path, "SELECT count(*) FROM pragma_table_info('area') "
				     "WHERE name = 'colour'"),
		version == 3, "column of the first step");
	return version == 3;
}

struct way {
	const char *name;
	int code;
	bool cut; /* and the power is lost */
};

static const struct way ways[] = {
	{"disk_full", SQLITE_FULL, false},
	{"disk_gone", SQLITE_IOERR, false},
	{"power_cut", SQLITE_IOERR, true},
};

/* False when the migration was over before the Nth operation. */
static bool try_at(struct log *yard, struct vfs *vfs, const struct way *way, int64_t n)
{
	struct fault why = {0};
	char copy[SCRATCH_PATH_SIZE] = "";
	log_reopen(yard);
	if (way->cut)
		vfs_keep(vfs, yard->path);
	vfs_arm(vfs, n, way->code, true);
	const enum status status = migrate_run(yard->store, steps, 1, copy, sizeof copy, &why);
	const bool reached = vfs->operations >= n;
	log_close(yard);
	vfs_arm(vfs, 0, SQLITE_OK, false);
	if (way->cut)
		vfs_cut(vfs);
	const bool is_new = check_old_or_new(yard->path);
	assert_true(status != STATUS_OK || is_new);
	if (is_new)
		check_ok(copy_check(copy, NULL, &why), &why);
	if (status != STATUS_OK)
		assert_true(why.text[0] != '\0');
	if (copy[0] != '\0')
		(void)unlink(copy);
	return reached;
}

static void log_is_whole_at_one_schema(const void *one)
{
	const struct way *way = one;
	struct log yard;
	struct vfs vfs;
	size_t length = 0;
	int64_t n = 1;
	bool reached = true;
	make_log(&yard);
	char *bytes = file_read(yard.path, &length);
	vfs_install(&vfs);
	for (; reached && n < OPERATIONS_MAX; n += STRIDE) {
		file_write(yard.path, bytes, length);
		reached = try_at(&yard, &vfs, way, n);
	}
	assert_true(n > 30 && n < OPERATIONS_MAX);
	vfs_remove(&vfs);
	free(bytes);
	log_free(&yard);
}

int main(void)
{
	return RUN_CASES("migration", ways, log_is_whole_at_one_schema) != 0;
}
