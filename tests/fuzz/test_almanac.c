/* SPDX-License-Identifier: MIT */
/* Tables of an almanac that somebody wrote or mended: one table is the bytes, the others are the
 * first rows of the shipped ones. It is read whole, or refused by file and line. */
#include "support/replay.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "almanac/almanac.h"

#include "support/scratch.h"

static const char *const tables[] = {"sources.csv", "species.csv", "names.csv", "cuts.csv",
	"windows.csv", "feeding.csv", "facts.csv", "stages.csv", "cultivars.csv", "pollination.csv",
	"pollen.csv", "pests.csv", "degree_days.csv", "work.csv"};
enum { TABLES = sizeof tables / sizeof tables[0], WHOLE = 2 };

struct shelf {
	struct scratch scratch;
	char *bytes[TABLES]; /* what stands in a table when it is not the one in hand */
	size_t lengths[TABLES];
};

static struct shelf shelf;

static void put(size_t table, const void *bytes, size_t length)
{
	char path[SCRATCH_PATH_SIZE];
	file_write(scratch_path(&shelf.scratch, tables[table], path), bytes, length);
}

static void clear(void)
{
	for (size_t i = 0; i < TABLES; i++)
		free(shelf.bytes[i]);
	scratch_remove(&shelf.scratch);
}

/* Sources and species are whole, of the others the heading alone. */
static void fill(void)
{
	shelf.scratch = scratch_make();
	for (size_t i = 0; i < TABLES; i++) {
		char path[128];
		(void)snprintf(path, sizeof path, "share/almanac/%s", tables[i]);
		shelf.bytes[i] = file_read(path, &shelf.lengths[i]);
		if (i >= WHOLE)
			shelf.lengths[i] =
				(size_t)(strchr(shelf.bytes[i], '\n') + 1 - shelf.bytes[i]);
		put(i, shelf.bytes[i], shelf.lengths[i]);
	}
	(void)atexit(clear);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	if (shelf.bytes[0] == NULL)
		fill();
	if (length < 1)
		return 0;
	const size_t table = bytes[0] % TABLES;
	struct almanac *almanac = NULL;
	struct fault why = {.status = STATUS_OK};
	put(table, bytes + 1, length - 1);
	const enum status status = almanac_open(shelf.scratch.folder, &almanac, &why);
	if (status == STATUS_OK)
		almanac_close(almanac);
	else
		assert(strstr(why.text, ".csv") != NULL);
	put(table, shelf.bytes[table], shelf.lengths[table]);
	return 0;
}

int main(void)
{
	return replay_corpus("almanac", LLVMFuzzerTestOneInput);
}
