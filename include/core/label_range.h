/* SPDX-License-Identifier: MIT */
/* label_range.h - a row of labels written short: "A1..A12"; and labels that are nearly the same. */
#ifndef CORE_LABEL_RANGE_H
#define CORE_LABEL_RANGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "core/fault.h"
#include "core/limits.h"

enum { LABEL_RANGE_MAX = 1000 };

struct label_range {
	char stem[LABEL_SIZE];
	int32_t from; /* of the first label; below 0: one label, the stem */
	int32_t count;
};

/* "A1..A12", or one label. STATUS_SYNTAX: dots without a row; STATUS_RANGE: none, or more than
 * LABEL_RANGE_MAX. Whether a label may be one is label_check's. */
enum status label_range_parse(
	const char *text, struct label_range *out, struct fault *why) MUST_CHECK;
/* The label in place 0..count-1. Returns out. */
const char *label_range_at(const struct label_range *range, int32_t place, char out[LABEL_SIZE]);

/* The same but for blanks, signs and noughts before a figure ("A1", "a-01"): easily typed for one
 * another. Equal ones, case aside, are not only nearly so: false. */
bool label_is_near(const char *a, const char *b);
/* Of a folded label (text_fold) what those near it have in common: letters and digits, one '-'
 * where only a sign or a blank parts two figures. Returns out. */
enum { LABEL_FOLDED_SIZE = 3 * LABEL_SIZE };
const char *label_bare(const char *folded, char *out, size_t size);

#endif
