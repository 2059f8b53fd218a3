/* SPDX-License-Identifier: MIT */
/* walk_route.h - the standing trees in the order they are walked past: by the grower's route of
 * spots where there is one, the rest in the natural order of labels; grafts after their host. */
#ifndef REPORT_WALK_ROUTE_H
#define REPORT_WALK_ROUTE_H

#include "store/records.h"

struct walk_route {
	char (*ids)[ID_SIZE];
	int32_t count;
	uint64_t sum; /* of the spots it was made from */
};

/* Lives in arena. */
enum status walk_route_read(struct store *store, struct arena *arena, struct walk_route *out,
	struct fault *why) MUST_CHECK;
/* Of the route as it is set now: another one has, but for a chance in 2^64, another sum. */
enum status walk_route_sum(struct store *store, uint64_t *sum, struct fault *why) MUST_CHECK;
/* The place of a tree; -1 when it does not stand here. */
int32_t walk_route_place(const struct walk_route *route, const char *id);

#endif
