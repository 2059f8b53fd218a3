/* SPDX-License-Identifier: MIT */
/* Which tables are to be read. */
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

enum status almanac_find(const char *option, char *out, int size, struct fault *why)
{
	const char *said = option != NULL ? option : getenv("BOUGHBOOK_ALMANAC");
	out[0] = '\0';
	if (said == NULL || said[0] == '\0')
		return STATUS_OK;
	if (!holds_almanac(said))
		return fault_set(
			why, STATUS_ABSENT, "no almanac in %s: no species.csv there", said);
	int length = snprintf(out, (size_t)size, "%s", said);
	if (length < 0 || length >= size)
		return fault_set(why, STATUS_RANGE,
			"the path of the almanac is longer than %d bytes", size - 1);
	return STATUS_OK;
}
