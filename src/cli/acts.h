/* SPDX-License-Identifier: MIT */
/* acts.h - one act of the command line, and readings that several commands share. */
#ifndef CLI_ACTS_H
#define CLI_ACTS_H

#include "command.h"

enum status act_begin(struct call *call, const char *what, struct fault *why) MUST_CHECK;
/* Commits when status is STATUS_OK, else takes the act back; returns the first failure. */
enum status act_end(struct call *call, enum status status, struct fault *why) MUST_CHECK;
/* A length option that may be negative; unchanged when the option was not given. */
enum status read_offset(
	struct call *call, const char *option, struct maybe_i64 *out, struct fault *why) MUST_CHECK;

#endif
