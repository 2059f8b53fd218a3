/* SPDX-License-Identifier: MIT */
/* test.h - what every test program includes: cmocka, the checks it lacks, and the helpers: a
 * folder of its own (scratch.h), tables of cases (table.h), running the program (spawn.h), saved
 * answers (golden.h). Tests of the screens add pty.h.
 *
 * cmocka compares floats in single precision and prints negative numbers as hexadecimal, hence
 * check_close and check_int. Every check names the place of its caller when it fails. */
#ifndef SUPPORT_TEST_H
#define SUPPORT_TEST_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "core/fault.h"

#include "support/golden.h"
#include "support/scratch.h"
#include "support/spawn.h"
#include "support/table.h"

/* Under AddressSanitizer, where a part of the random logs and of the faults is tried: it looks for
 * faults of memory, which every one of them would show. All are tried without it. */
#ifdef __SANITIZE_ADDRESS__
enum { SANITIZED = 1 };
#else
enum { SANITIZED = 0 };
#endif

#define check_int(got, want, label) check_int_at((got), (want), (label), __FILE__, __LINE__)
/* |got - want| <= tolerance, in double; a NaN never passes. */
#define check_close(got, want, tolerance, label) \
	check_close_at((got), (want), (tolerance), (label), __FILE__, __LINE__)
#define check_text(got, want, label) check_text_at((got), (want), (label), __FILE__, __LINE__)
/* got has part somewhere inside. */
#define check_has(got, part, label) check_has_at((got), (part), (label), __FILE__, __LINE__)
/* STATUS_OK, or the test fails with the message in why. */
#define check_ok(status, why) check_ok_at((status), (why), __FILE__, __LINE__)
/* Exactly this status, and a message that has part inside ("" for any). */
#define check_refused(status, want, why, part) \
	check_refused_at((status), (want), (why), (part), __FILE__, __LINE__)

void check_int_at(int64_t got, int64_t want, const char *label, const char *file, int line);
void check_close_at(
	double got, double want, double tolerance, const char *label, const char *file, int line);
void check_text_at(
	const char *got, const char *want, const char *label, const char *file, int line);
void check_has_at(const char *got, const char *part, const char *label, const char *file, int line);
void check_ok_at(enum status status, const struct fault *why, const char *file, int line);
void check_refused_at(enum status status, enum status want, const struct fault *why,
	const char *part, const char *file, int line);

#endif
