/* SPDX-License-Identifier: MIT */
/* demo.h - an invented yard, several seasons of it, written through the same acts that a grower
 * uses. The same bytes of export for the same day. */
#ifndef REPORT_DEMO_H
#define REPORT_DEMO_H

#include "report/session.h"

/* Writes it to path; STATUS_CONFLICT when something is there already. */
enum status demo_write(const char *path, const char *almanac, struct date today,
	char said[TEXT_SIZE], struct fault *why) MUST_CHECK;

#endif
