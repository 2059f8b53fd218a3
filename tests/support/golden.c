/* SPDX-License-Identifier: MIT */
#include "support/golden.h"

#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static void show_line(const char *what, const char *text)
{
	print_error("  %s |%.*s|\n", what, (int)strcspn(text, "\n"), text);
}

static void show_difference(const char *path, const char *got, const char *want)
{
	int line = 1;
	size_t start = 0;
	for (size_t i = 0; got[i] == want[i] && got[i] != '\0'; i++) {
		if (got[i] == '\n') {
			line++;
			start = i + 1;
		}
	}
	print_error("%s:%d: differs (make golden rewrites it)\n", path, line);
	show_line("got ", got + start);
	show_line("want", want + start);
	print_error("all of what was got:\n%s\n", got);
}

void check_golden_at(const char *text, const char *path, const char *file, int line)
{
	char place[SCRATCH_PATH_SIZE];
	const char *top = getenv("BOUGHBOOK_SOURCE");
	(void)snprintf(place, sizeof place, "%s/%s", top != NULL ? top : ".", path);
	if (getenv("UPDATE_GOLDEN") != NULL) {
		file_write(place, text, strlen(text));
		return;
	}
	if (!file_exists(place)) {
		print_error("%s is not there (make golden writes it); got:\n%s\n", path, text);
		_fail(file, line);
	}
	char *want = file_read(place, NULL);
	const int same = strcmp(text, want) == 0;
	if (!same) {
		show_difference(path, text, want);
	}
	free(want);
	if (!same) {
		_fail(file, line);
	}
}
