/* SPDX-License-Identifier: MIT */
#include "support/replay.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

#include "support/test.h"

enum { FILES_MAX = 400 };

struct find {
	char path[512];
	int (*one)(const uint8_t *bytes, size_t length);
};

static void runs_to_its_end(void **state)
{
	const struct find *find = *state;
	size_t length = 0;
	char *bytes = file_read(find->path, &length);
	check_int(find->one((const uint8_t *)bytes, length), 0, find->path);
	free(bytes);
}

static int is_file(const struct dirent *entry)
{
	return entry->d_name[0] != '.';
}

int replay_corpus(const char *name, int (*one)(const uint8_t *bytes, size_t length))
{
	static struct find finds[FILES_MAX];
	static struct CMUnitTest tests[FILES_MAX];
	char folder[256];
	struct dirent **entries = NULL;

	(void)snprintf(folder, sizeof folder, "tests/fuzz/corpus/%s", name);
	const int count = scandir(folder, &entries, is_file, alphasort);
	if (count <= 0 || count > FILES_MAX) {
		(void)fprintf(stderr, "%s: %d files\n", folder, count);
		return 1;
	}
	for (int i = 0; i < count; i++) {
		(void)snprintf(
			finds[i].path, sizeof finds[i].path, "%s/%s", folder, entries[i]->d_name);
		finds[i].one = one;
		tests[i] = (struct CMUnitTest){.name = finds[i].path + strlen("tests/fuzz/"),
			.test_func = runs_to_its_end,
			.initial_state = &finds[i]};
		free(entries[i]);
	}
	free(entries);
	return _cmocka_run_group_tests(name, tests, (size_t)count, NULL, NULL) != 0;
}

const char *replay_text(const uint8_t *bytes, size_t length)
{
	static char text[REPLAY_TEXT_SIZE];
	const size_t taken = length < sizeof text ? length : sizeof text - 1;
	if (taken > 0)
		memcpy(text, bytes, taken);
	text[taken] = '\0';
	return text;
}
