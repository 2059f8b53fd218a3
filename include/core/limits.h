/* SPDX-License-Identifier: MIT */
/* limits.h - the stated limits of the program, all in one place. The schema's CHECKs and the
 * manual name the same figures; a test compares them. Sizes count bytes and the closing NUL. */
#ifndef CORE_LIMITS_H
#define CORE_LIMITS_H

enum {
	LABEL_CHARACTERS_MAX = 40, /* of a tree, spot, area: characters, not bytes */
	LABEL_SIZE = 161,          /* 40 characters of at most 4 bytes, and NUL */
	NAME_SIZE = 161,           /* species as typed, cultivar, product, container, person */
	KEY_SIZE = 32,             /* almanac keys, rule ids, kind keys: ASCII */
	WORDS_SIZE = 4001,         /* the raw words of one entry */
	TEXT_SIZE = 401,           /* reason, hazard, cause */
	TYPED_SIZE = 81,           /* one amount as it was typed */
	EDTF_SIZE = 48,            /* one uncertain day as ISO 8601-2 text */
	ID_SIZE = 27,              /* a ULID and NUL */
	FLAG_KEY_SIZE = 160,
	TREES_MAX = 50000,
	LINE_SIZE = 4401, /* one entry line: words and what stands around them */
	AMOUNTS_MAX = 12, /* of one entry */
	DETAILS_MAX = 12,
	STEMS_MAX = 12,
	STAMP_TEXT_SIZE = 21, /* "2026-11-24T10:15:00Z" */
};

#endif
