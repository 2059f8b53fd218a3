/* SPDX-License-Identifier: MIT */
/* walk_route.h - the standing trees in the order they are walked past: by the grower's route of
 * spots where there is one, the rest in the natural order of labels; grafts after their host. */
#ifndef REPORT_WALK_ROUTE_H
#define REPORT_WALK_ROUTE_H

#include "store/records.h"

struct walk_route {
	char (*ids)[ID_SIZE];
	int32_t count;
};

/* Lives in arena. */
enum status walk_route_read(struct store *store, struct arena *arena, struct walk_route *out,
	struct fault *why) MUST_CHECK;
/* The place of a tree; -1 when it does not stand here. */
int32_t walk_route_place(const struct walk_route *route, const char *id);

#endif
