/* SPDX-License-Identifier: MIT */
/* fault.h - what a function that can fail answers, and why.
 *
 * Everything that can fail returns an `enum status` and takes a `struct fault *why`
 * last (it may be NULL). The text is one lower-case line that names the thing and the
 * value, says what is allowed or what to do, and has no full stop and no program name. */
#ifndef CORE_FAULT_H
#define CORE_FAULT_H

#define MUST_CHECK __attribute__((warn_unused_result))

enum status {
	STATUS_OK = 0,
	STATUS_END,      /* no more rows; not a failure */
	STATUS_ABSENT,   /* the thing named is not there */
	STATUS_SYNTAX,   /* words not understood */
	STATUS_RANGE,    /* understood, but outside what is allowed */
	STATUS_DOUBT,    /* could mean two things: asked back, the choices in the text */
	STATUS_CONFLICT, /* somebody else changed it, or a later change stands on it */
	STATUS_BUSY,     /* another program holds the log */
	STATUS_DENIED,   /* read-only, or no permission */
	STATUS_DAMAGED,  /* not a log, damaged, or of a newer schema */
	STATUS_IO,       /* disk full, read or write failed */
};

enum { FAULT_TEXT_SIZE = 480 };

struct fault {
	enum status status;
	char text[FAULT_TEXT_SIZE];
};

/* Records status and the formatted text in *why (when why is not NULL; text too long is cut
 * at a character boundary) and returns status, so that one line does both. */
enum status fault_set(struct fault *why, enum status status, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/* Puts "PREFIX" before the text already in *why; used to add file, line and column. */
void fault_prefix(struct fault *why, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
