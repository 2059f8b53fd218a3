/* SPDX-License-Identifier: MIT */
/* export.h - records out of the log, as CSV or JSON, written whole or not at all. */
#ifndef EXCHANGE_EXPORT_H
#define EXCHANGE_EXPORT_H

#include "report/print.h"
#include "report/session.h"

struct export_options {
	const char *what; /* trees entries picks flags */
	const char *path; /* "-" standard output */
	enum format format;
	bool without_private; /* not of flags */
};

enum status export_table(struct session *session, const struct export_options *options,
	struct arena *arena, struct fault *why) MUST_CHECK;
/* A whole file of these bytes. A folder that is not there is a failure of the file (STATUS_IO). */
enum status export_write(
	const char *path, const char *bytes, size_t length, struct fault *why) MUST_CHECK;

#endif
