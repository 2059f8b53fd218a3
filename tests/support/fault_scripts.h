/* SPDX-License-Identifier: MIT */
/* fault_scripts.h - faults that are stories: what must be told on top of a quiet log so that a rule
 * speaks. Days are those of the north around 2026; the test moves them by years, by days either
 * way, and by half a year in the south. */
#ifndef SUPPORT_FAULT_SCRIPTS_H
#define SUPPORT_FAULT_SCRIPTS_H

#include <stdint.h>

struct fault_script {
	const char *rule;
	const char *kinds; /* "apple|peach"; NULL any */
	unsigned places;   /* bits (1 << enum log_place); 0 any */
	int32_t days;      /* moved by so many, either way */
	const char *lines; /* entry lines parted by '|' */
	const char *today;
	const char *trees;    /* "A2 K 2024-01-01": others that come, K the kind of the log */
	const char *cultivar; /* of A2 */
	const char *spot;     /* what A1 stands in, words of sky_case_spot */
	const char *weather;  /* runs of days, as sky_case has them */
};

const struct fault_script *fault_scripts(void);
int32_t fault_script_count(void);

#endif
