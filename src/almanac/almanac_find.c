/* SPDX-License-Identifier: MIT */
/* Where the tables lie. DATA_BUILT and DATA_INSTALLED come from the Makefile. */
#include <stdio.h>
#include <stdlib.h>

#include "almanac/almanac.h"

static bool holds_almanac(const char *directory)
{
	char path[4200];
	int length = snprintf(path, sizeof path, "%s/species.csv", directory);
	if (length < 0 || (size_t)length >= sizeof path)
		return false;
	FILE *file = fopen(path, "rb");
	if (file == NULL)
		return false;
	fclose(file);
	return true;
}

static enum status answer(const char *directory, char *out, int size, struct fault *why)
{
	int length = snprintf(out, (size_t)size, "%s", directory);
	if (length < 0 || length >= size)
		return fault_set(why, STATUS_RANGE,
			"the path of the almanac is longer than %d bytes", size - 1);
	return STATUS_OK;
}

enum status almanac_find(const char *option, char *out, int size, struct fault *why)
{
	const char *said = option != NULL ? option : getenv("BOUGHBOOK_ALMANAC");
	if (said != NULL && said[0] != '\0') {
		if (!holds_almanac(said))
			return fault_set(
				why, STATUS_ABSENT, "no almanac in %s: no species.csv there", said);
		return answer(said, out, size, why);
	}
	static const char *const places[] = {DATA_BUILT, DATA_INSTALLED};
	for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
		if (holds_almanac(places[i]))
			return answer(places[i], out, size, why);
	}
	return fault_set(why, STATUS_ABSENT,
		"no almanac in %s nor in %s; name its folder with --almanac", DATA_BUILT,
		DATA_INSTALLED);
}
