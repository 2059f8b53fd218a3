/* SPDX-License-Identifier: MIT */
/* Works out the flags of every tree of a log and keeps them there, as the screens do in quiet
 * moments, but for a day that is told:
 *     keep_flags LOG DAY */
#include <stdio.h>

#include "report/session.h"

enum { MANY_S = 3600 };

int main(int count, char **words)
{
	struct fault why = {.status = STATUS_OK};
	struct date day;
	struct session *session = NULL;
	if (count != 3 || date_parse_iso(words[2], &day, &why) != STATUS_OK) {
		(void)fputs("use: keep_flags LOG YYYY-MM-DD\n", stderr);
		return 2;
	}
	const struct session_options options = {.path = words[1], .clock = clock_pinned(day)};
	if (session_open(&options, &session, &why) != STATUS_OK) {
		(void)fprintf(stderr, "keep_flags: %s\n", why.text);
		return 1;
	}
	session->keeper = keeper_new();
	while (session_fill_flags(session, MANY_S))
		;
	session_close(session);
	return 0;
}
