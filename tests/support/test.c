/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <math.h>
#include <string.h>

static const char *status_name(enum status status)
{
	switch (status) {
	case STATUS_OK:
		return "ok";
	case STATUS_END:
		return "end";
	case STATUS_ABSENT:
		return "absent";
	case STATUS_SYNTAX:
		return "syntax";
	case STATUS_RANGE:
		return "range";
	case STATUS_DOUBT:
		return "doubt";
	case STATUS_CONFLICT:
		return "conflict";
	case STATUS_BUSY:
		return "busy";
	case STATUS_DENIED:
		return "denied";
	case STATUS_DAMAGED:
		return "damaged";
	case STATUS_IO:
		return "io";
	}
	return "not a status";
}

static void fail_at(const char *file, int line)
{
	if (dice_remark()[0] != '\0') {
		print_error("%s\n", dice_remark());
	}
	_fail(file, line);
}

void check_int_at(int64_t got, int64_t want, const char *label, const char *file, int line)
{
	if (got == want) {
		return;
	}
	print_error("%s: got %lld, want %lld\n", label, (long long)got, (long long)want);
	fail_at(file, line);
}

void check_close_at(
	double got, double want, double tolerance, const char *label, const char *file, int line)
{
	if (fabs(got - want) <= tolerance) {
		return;
	}
	print_error("%s: got %.17g, want %.17g within %g\n", label, got, want, tolerance);
	fail_at(file, line);
}

void check_text_at(const char *got, const char *want, const char *label, const char *file, int line)
{
	if (got == want || (got != NULL && want != NULL && strcmp(got, want) == 0)) {
		return;
	}
	print_error("%s:\n  got  \"%s\"\n  want \"%s\"\n", label, got != NULL ? got : "(null)",
		want != NULL ? want : "(null)");
	fail_at(file, line);
}

void check_has_at(const char *got, const char *part, const char *label, const char *file, int line)
{
	if (got != NULL && strstr(got, part) != NULL) {
		return;
	}
	print_error("%s:\n  got  \"%s\"\n  want \"%s\" in it\n", label,
		got != NULL ? got : "(null)", part);
	fail_at(file, line);
}

void check_ok_at(enum status status, const struct fault *why, const char *file, int line)
{
	if (status == STATUS_OK) {
		return;
	}
	print_error("status %s: %s\n", status_name(status), why != NULL ? why->text : "");
	fail_at(file, line);
}

void check_refused_at(enum status status, enum status want, const struct fault *why,
	const char *part, const char *file, int line)
{
	if (status == want && (why == NULL || strstr(why->text, part) != NULL)) {
		return;
	}
	print_error("status %s, want %s; message \"%s\", want \"%s\" in it\n", status_name(status),
		status_name(want), why != NULL ? why->text : "", part);
	fail_at(file, line);
}
