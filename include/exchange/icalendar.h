/* SPDX-License-Identifier: MIT */
/* icalendar.h - the calendar as other programs read it: RFC 5545 (Internet Calendaring and
 * Scheduling Core Object Specification, September 2009). Whole days (VALUE=DATE, DTEND is the day
 * after the last), lines folded at 75 octets between characters, text escaped, CRLF. */
#ifndef EXCHANGE_ICALENDAR_H
#define EXCHANGE_ICALENDAR_H

#include "report/calendar.h"

/* stamp: UTC time of writing, as clock_stamp gives it. name: of the yard. STATUS_ABSENT: there is
 * no event, and a calendar has at least one component (RFC 5545, 3.6). */
enum status icalendar_write(FILE *stream, const struct calendar *calendar, const char *name,
	const char *stamp, struct fault *why) MUST_CHECK;

#endif
