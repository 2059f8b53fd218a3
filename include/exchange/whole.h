/* SPDX-License-Identifier: MIT */
/* whole.h - the whole log as a folder of plain files, one a table, and back into the same log.
 *
 * Beside the tables lies "manifest.sha256": what the folder is, how many rows each file has, and
 * digests that sha256sum -c can check too, so that a folder that was copied by halves or changed is
 * refused. The same log gives the same bytes. */
#ifndef EXCHANGE_WHOLE_H
#define EXCHANGE_WHOLE_H

#include "report/print.h"
#include "store/store.h"

struct whole_options {
	const char *folder;
	enum format format;   /* of an export: FORMAT_CSV or FORMAT_JSON */
	bool without_private; /* of an export */
	bool dry_run;         /* of an import */
};

/* Writes the folder whole or not at all. STATUS_CONFLICT: something stands there that is no export
 * of this log. *rows: how many were written. */
enum status export_all(struct store *store, const struct whole_options *options, int64_t *rows,
	struct fault *why) MUST_CHECK;

struct whole_account {
	int64_t rows;       /* of the folder */
	int64_t missing;    /* of them, in the log that stands there */
	int64_t changed;    /* there, with other words */
	bool made;          /* a log was made (or would be) */
	char kept[4096];    /* where the empty log that stood there is now; "" none */
	const char **lines; /* what is refused: file, line, column and why */
	int32_t line_count;
};

/* Makes the log of the folder at `path` (which is free, or an empty log that is then kept beside),
 * or finds all of the folder in the log there. STATUS_CONFLICT: the log there has other records;
 * STATUS_DAMAGED: the folder is not whole; STATUS_SYNTAX: rows were refused. Nothing was written
 * then. */
enum status import_all(const char *path, struct clock *clock, const struct whole_options *options,
	struct arena *arena, struct whole_account *account, struct fault *why) MUST_CHECK;

#endif
