/* SPDX-License-Identifier: MIT */
/* bloom_rows.h - when each tree blooms: by kind, then who opens first; those without a day last. */
#ifndef REPORT_BLOOM_ROWS_H
#define REPORT_BLOOM_ROWS_H

#include "almanac/cultivar.h"
#include "dossier/yard.h"

struct bloom_row {
	char label[LABEL_SIZE];
	char kind[NAME_SIZE];
	char cultivar[NAME_SIZE];
	const char *species; /* key */
	enum bloom_class class;
	bool known;
	bool all_year;
	bool by_log; /* or set by hand */
	int32_t seasons;
	bool over_fence;
	struct month_day from, to;
};
struct bloom_rows {
	struct bloom_row *items;
	int32_t count;
};
enum status bloom_rows_make(struct yard *yard, bool without_private, struct arena *arena,
	struct bloom_rows *out, struct fault *why) MUST_CHECK;

#endif
