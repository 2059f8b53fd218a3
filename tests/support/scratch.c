/* SPDX-License-Identifier: MIT */
#include "support/scratch.h"

#include "support/test.h"

#include <errno.h>
#include <ftw.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const uint64_t usual_seed = 20260321;

/* Kept so that a failing check can say it; the tests are the only users. */
static char remark[48];

static void fail_with(const char *what, const char *path)
{
	print_error("%s %s: %s\n", what, path, strerror(errno));
	fail();
}

struct scratch scratch_make(void)
{
	struct scratch scratch;
	const char *parent = access("/dev/shm", W_OK | X_OK) == 0 ? "/dev/shm" : "/tmp";
	(void)snprintf(scratch.folder, sizeof scratch.folder, "%s/boughbook-XXXXXX", parent);
	if (mkdtemp(scratch.folder) == NULL) {
		fail_with("cannot make a folder in", parent);
	}
	return scratch;
}

static int remove_one(const char *path, const struct stat *status, int kind, struct FTW *place)
{
	(void)status;
	(void)kind;
	(void)place;
	return remove(path);
}

void scratch_remove(const struct scratch *scratch)
{
	if (nftw(scratch->folder, remove_one, 16, FTW_DEPTH | FTW_PHYS) != 0) {
		fail_with("cannot remove", scratch->folder);
	}
}

const char *scratch_path(
	const struct scratch *scratch, const char *name, char out[SCRATCH_PATH_SIZE])
{
	const int length = snprintf(out, SCRATCH_PATH_SIZE, "%s/%s", scratch->folder, name);
	assert_in_range(length, 1, SCRATCH_PATH_SIZE - 1);
	return out;
}

char *file_read(const char *path, size_t *length)
{
	struct stat status;
	FILE *file = fopen(path, "rb");
	if (file == NULL || fstat(fileno(file), &status) != 0) {
		fail_with("cannot open", path);
		abort();
	}
	char *bytes = calloc(1, (size_t)status.st_size + 1);
	if (bytes == NULL) {
		abort();
	}
	const size_t got = fread(bytes, 1, (size_t)status.st_size, file);
	(void)fclose(file);
	if (got != (size_t)status.st_size) {
		fail_with("cannot read", path);
	}
	if (length != NULL) {
		*length = got;
	}
	return bytes;
}

void file_write(const char *path, const void *bytes, size_t length)
{
	FILE *file = fopen(path, "wb");
	if (file == NULL) {
		fail_with("cannot make", path);
		return;
	}
	if (fwrite(bytes, 1, length, file) != length) {
		fail_with("cannot write", path);
	}
	if (fclose(file) != 0) {
		fail_with("cannot write", path);
	}
}

bool file_exists(const char *path)
{
	return access(path, F_OK) == 0;
}

struct dice dice_start(void)
{
	const char *asked = getenv("SEED");
	const uint64_t seed = asked != NULL ? strtoull(asked, NULL, 10) : usual_seed;
	(void)snprintf(remark, sizeof remark, "SEED=%llu repeats this", (unsigned long long)seed);
	return (struct dice){.state = seed};
}

/* Sebastiano Vigna's splitmix64, public domain. */
uint64_t dice_roll(struct dice *dice)
{
	dice->state += 0x9e3779b97f4a7c15;
	uint64_t mixed = dice->state;
	mixed = (mixed ^ (mixed >> 30)) * 0xbf58476d1ce4e5b9;
	mixed = (mixed ^ (mixed >> 27)) * 0x94d049bb133111eb;
	return mixed ^ (mixed >> 31);
}

int64_t dice_between(struct dice *dice, int64_t low, int64_t high)
{
	const uint64_t places = (uint64_t)high - (uint64_t)low + 1;
	const uint64_t roll = dice_roll(dice);
	return (int64_t)((uint64_t)low + (places == 0 ? roll : roll % places));
}

const char *dice_remark(void)
{
	return remark;
}
