/* SPDX-License-Identifier: MIT */
/* touched.h - which trees and spots a change set bears on: what they are, where they stand, and
 * windows set by hand. For what is worked out from records and kept beside them. */
#ifndef STORE_TOUCHED_H
#define STORE_TOUCHED_H

#include "store/store.h"

struct touched {
	bool all; /* the place itself, or a window for a whole kind: everything hangs on it */
	struct subject *subjects; /* trees and spots, each once; none when `all` */
	int32_t count;
};

/* By the changes of one set; an undo or a redo changes what the set it turned had made. */
enum status store_touched(struct store *store, const char *set_id, struct arena *arena,
	struct touched *out, struct fault *why) MUST_CHECK;

#endif
