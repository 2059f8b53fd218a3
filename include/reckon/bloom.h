/* SPDX-License-Identifier: MIT */
/* bloom.h - which entries say that a tree was in bloom. One truth for learning and for rules. */
#ifndef RECKON_BLOOM_H
#define RECKON_BLOOM_H

#include "core/record.h"

/* Open flowers were seen: a code 60-69 (600-609), a share open, or words that say so; never one
 * that says there were none. */
bool bloom_is_seen(const struct entry *entry);
/* It was said that there is no bloom: "bloom none", "saw no flowers". */
bool bloom_is_denied(const struct entry *entry);
/* Young fruit was seen, so there was bloom: "fruit set", a code 71-79, "saw fruitlets". */
bool bloom_has_set(const struct entry *entry);
/* More fruit was set than the tree should carry: "saw heavy set", "fruit set heavy". */
bool bloom_set_heavily(const struct entry *entry);

#endif
