/* SPDX-License-Identifier: MIT */
#include "walk_progress.h"

#include <stdio.h>

void walk_progress_read(
	struct walk_progress *out, struct session *session, int32_t at, int32_t trees)
{
	char since[STAMP_TEXT_SIZE];
	struct fault why;
	*out = (struct walk_progress){.passed = at, .left = trees - at - 1};
	if (store_walk_logged(session->store, clock_stamp_of_midnight(&session->clock, since),
		    &out->logged, &why) != STATUS_OK)
		out->logged = 0;
}

const char *walk_progress_words(const struct walk_progress *progress, char out[WALK_PROGRESS_SIZE])
{
	(void)snprintf(out, WALK_PROGRESS_SIZE, " %d passed, %d logged today, %d left ",
		(int)progress->passed, (int)progress->logged, (int)progress->left);
	return out;
}

const char *walk_progress_place(
	const struct walk_progress *progress, bool alone, char out[WALK_PROGRESS_SIZE])
{
	const int trees = (int)(progress->passed + 1 + progress->left);
	if (alone && progress->logged > 0)
		(void)snprintf(out, WALK_PROGRESS_SIZE, "%d of %d, %d logged",
			(int)progress->passed + 1, trees, (int)progress->logged);
	else
		(void)snprintf(
			out, WALK_PROGRESS_SIZE, "%d of %d", (int)progress->passed + 1, trees);
	return out;
}
