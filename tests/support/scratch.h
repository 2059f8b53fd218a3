/* SPDX-License-Identifier: MIT */
/* scratch.h - a folder of its own for a test, the files in it, and repeatable dice.
 *
 * Folders lie in memory (/dev/shm) where that is writable. Anything that goes wrong here fails
 * the test that asked. */
#ifndef SUPPORT_SCRATCH_H
#define SUPPORT_SCRATCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { SCRATCH_SIZE = 64, SCRATCH_PATH_SIZE = 4096 };

struct scratch {
	char folder[SCRATCH_SIZE];
};

/* A new empty folder, mode 0700. */
struct scratch scratch_make(void);
/* Removes the folder and all it holds. */
void scratch_remove(const struct scratch *scratch);
/* "FOLDER/NAME" into out, which it returns. */
const char *scratch_path(
	const struct scratch *scratch, const char *name, char out[SCRATCH_PATH_SIZE]);

/* The whole file, with a NUL after it that *length (may be NULL) does not count; free() it. */
char *file_read(const char *path, size_t *length);
void file_write(const char *path, const void *bytes, size_t length);
bool file_exists(const char *path);

/* Random numbers that come out the same each time, unless SEED= in the environment gives another
 * seed. The seed is printed when a check fails after dice_start. */
struct dice {
	uint64_t state;
};

struct dice dice_start(void);
uint64_t dice_roll(struct dice *dice);
/* low..high, both ends in. */
int64_t dice_between(struct dice *dice, int64_t low, int64_t high);
/* "" or "SEED=17 repeats this", for the checks. */
const char *dice_remark(void);

#endif
