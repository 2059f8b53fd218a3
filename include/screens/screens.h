/* SPDX-License-Identifier: MIT */
/* screens.h - the interactive program. */
#ifndef SCREENS_SCREENS_H
#define SCREENS_SCREENS_H

#include "report/session.h"

struct screens_options {
	const char *path; /* NULL: the default log; not there: first run */
	const char *almanac;
	struct clock clock;
	enum unit_system units;
	bool plain; /* line mode for a screen reader */
	bool ascii; /* the locale has no UTF-8 */
};

/* Runs until the grower leaves. STATUS_SYNTAX: no terminal. The terminal is sane on every way
 * out. */
enum status screens_run(const struct screens_options *options, struct fault *why) MUST_CHECK;

#endif
