/* SPDX-License-Identifier: MIT */
#include "progress.h"

#include <stdio.h>
#include <unistd.h>

#include "core/clock.h"

static const double FIRST_S = 1.0, NEXT_S = 0.25;

struct progress progress_start(const struct call *call)
{
	return (struct progress){.shown = !call->plain && isatty(STDERR_FILENO) != 0,
		.next_s = clock_monotonic_s() + FIRST_S};
}

void progress_tell(void *context, int32_t rows, int64_t at, int64_t size)
{
	struct progress *progress = context;
	double now_s = clock_monotonic_s();

	if (!progress->shown || now_s < progress->next_s)
		return;
	progress->next_s = now_s + NEXT_S;
	progress->any = true;
	fprintf(stderr, "\r%d rows, %d %%  ", (int)rows,
		size > 0 ? (int)(at >= size ? 100 : at * 100 / size) : 0);
}

void progress_end(const struct progress *progress)
{
	if (progress->any)
		fprintf(stderr, "\r%30s\r", "");
}
