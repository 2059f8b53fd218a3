/* SPDX-License-Identifier: MIT */
/* deeds.h - the core of each command as one call, on a small log that can be laid out again, so
 * that tests can let something fail in the midst of it and look at what is left. */
#ifndef SUPPORT_DEEDS_H
#define SUPPORT_DEEDS_H

#include "exchange/export.h"
#include "exchange/import.h"

#include "support/scratch.h"

struct deed_place {
	struct scratch scratch;
	char log[SCRATCH_PATH_SIZE];
	char out[SCRATCH_PATH_SIZE];    /* what an export writes over */
	char backup[SCRATCH_PATH_SIZE]; /* an older state of the log */
	char other[SCRATCH_PATH_SIZE];  /* a copy of the older state, edited apart */
	char fresh[SCRATCH_PATH_SIZE];  /* where a new log is made */
	struct scratch kept;            /* what is not laid out again: in it, */
	char whole[SCRATCH_PATH_SIZE];  /* the log exported as a folder */
	char *log_bytes;
	size_t log_length;
	char *other_bytes;
	size_t other_length;
	char *backup_bytes;
	size_t backup_length;
	struct clock clock;
	struct clock first_clock; /* as it stands whenever all is laid out */
};

struct deed {
	const char *name;
	/* Opens what it needs, does it, closes it. */
	enum status (*run)(struct deed_place *place, struct fault *why);
	bool writes;
};

/* Ended by name NULL. */
extern const struct deed deeds[];

/* A tree, as a grower adds one. */
void deeds_plant(struct session *session, const char *label, const char *species);
void deeds_make(struct deed_place *place);
void deeds_free(struct deed_place *place);
/* The log, the older state and the file that an export writes over as they were, and nothing else
 * in the folder. */
void deeds_lay_out(struct deed_place *place);
/* What the log holds, in words that are the same for the same content; free() it. Fails where the
 * log is not sound. */
char *deeds_picture(struct deed_place *place);
/* The names of all files, sorted, a blank after each, but for what a deed reads and a journal that
 * a disk which failed for good left behind; free() it. */
char *deeds_files(const struct deed_place *place);
/* How far apart the tries of a loop over `total` operations are, of which there may be `most`; with
 * EVERY=1 in the environment forty times as many. */
int64_t deeds_stride(int64_t total, int64_t most);

#endif
