/* SPDX-License-Identifier: MIT */
/* maybe.h - numbers that may be unknown. Unknown is not zero: arithmetic on one of these
 * does not compile, so every reader has to say what unknown means to it. */
#ifndef CORE_MAYBE_H
#define CORE_MAYBE_H

#include <stdbool.h>
#include <stdint.h>

struct maybe_i32 {
	int32_t value;
	bool known;
};

struct maybe_i64 {
	int64_t value;
	bool known;
};

static inline struct maybe_i32 known_i32(int32_t value)
{
	return (struct maybe_i32){.value = value, .known = true};
}

static inline struct maybe_i64 known_i64(int64_t value)
{
	return (struct maybe_i64){.value = value, .known = true};
}

#endif
