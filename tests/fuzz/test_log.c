/* SPDX-License-Identifier: MIT */
/* The log file itself: opened for looking and for writing, verified, salvaged, used.
 *
 * The first byte says how the rest is taken: as the whole file; as the journal beside a sound one;
 * else as changes to a sound one, four bytes each: where (three of them), and what stands there. It
 * says too what is done with it, which takes long. */
#include "support/replay.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "support/log.h"
#include "support/test.h"

enum { AS_FILE, AS_JOURNAL, CHANGE_SIZE = 4 };

struct sound {
	struct log yard;
	char journal[SCRATCH_PATH_SIZE];
	char fresh[SCRATCH_PATH_SIZE];
	char *bytes;
	char *copy;
	size_t length;
};

static struct sound sound;

static void clear(void)
{
	free(sound.bytes);
	free(sound.copy);
	log_free(&sound.yard);
}

static void make(void)
{
	char what[TEXT_SIZE];
	struct fault why = {.status = STATUS_OK};
	log_make(&sound.yard);
	for (int i = 0; i < 12; i++) {
		char id[ID_SIZE];
		char name[40];
		(void)snprintf(name, sizeof name, "area %d", i);
		memcpy(id, log_area_act(&sound.yard, name), sizeof id);
		if (i % 3 == 0)
			log_rename_act(&sound.yard, id, "another name");
	}
	check_ok(store_undo(sound.yard.store, what, &why), &why);
	log_close(&sound.yard);
	sound.bytes = file_read(sound.yard.path, &sound.length);
	sound.copy = malloc(sound.length);
	assert(sound.copy != NULL);
	(void)scratch_path(&sound.yard.scratch, "yard.bough-journal", sound.journal);
	(void)scratch_path(&sound.yard.scratch, "fresh.bough", sound.fresh);
	(void)atexit(clear);
}

static void lay_out(const uint8_t *bytes, size_t length)
{
	const uint8_t how = bytes[0] % 8;
	(void)unlink(sound.journal);
	(void)unlink(sound.fresh);
	if (how == AS_FILE) {
		file_write(sound.yard.path, bytes + 1, length - 1);
		return;
	}
	memcpy(sound.copy, sound.bytes, sound.length);
	for (size_t at = 1; how != AS_JOURNAL && at + CHANGE_SIZE <= length; at += CHANGE_SIZE) {
		const size_t place =
			bytes[at] | (size_t)bytes[at + 1] << 8 | (size_t)(bytes[at + 2]) << 16;
		sound.copy[place % sound.length] = (char)bytes[at + 3];
	}
	file_write(sound.yard.path, sound.copy, sound.length);
	if (how == AS_JOURNAL)
		file_write(sound.journal, bytes + 1, length - 1);
}

static void check_told(enum status status, const struct fault *why)
{
	assert(status == STATUS_OK || status == STATUS_END ||
		(why->text[0] != '\0' && strchr(why->text, '\n') == NULL));
}

/* Everything that reads, and a little that writes. */
static void use(struct log *yard)
{
	struct arena *arena = arena_new();
	struct fault why = {.status = STATUS_OK};
	struct verify_line *lines = NULL;
	struct change_row *rows = NULL;
	char text[TEXT_SIZE];
	int32_t count = 0;
	check_told(store_verify(yard->store, arena, &lines, &count, &why), &why);
	check_told(store_history(yard->store, NULL, 50, arena, &rows, &count, &why), &why);
	if (!store_is_read_only(yard->store)) {
		check_told(store_undo(yard->store, text, &why), &why);
		check_told(store_redo(yard->store, text, &why), &why);
	}
	assert(!store_in_act(yard->store));
	arena_free(arena);
}

static void open_and_use(bool read_only)
{
	const struct store_options options = {.clock = &sound.yard.clock, .read_only = read_only};
	struct fault why = {.status = STATUS_OK};
	const enum status status = store_open(sound.yard.path, &options, &sound.yard.store, &why);
	check_told(status, &why);
	if (status == STATUS_OK)
		use(&sound.yard);
	log_close(&sound.yard);
}

/* What was salvaged opens, and is sound. */
static void salvage(void)
{
	struct arena *arena = arena_new();
	const struct store_options options = {.clock = &sound.yard.clock};
	struct fault why = {.status = STATUS_OK};
	struct verify_line *lines = NULL;
	struct store *store = NULL;
	int32_t count = 0;
	const enum status status = store_salvage(
		sound.yard.path, sound.fresh, &sound.yard.clock, arena, &lines, &count, &why);
	check_told(status, &why);
	if (status == STATUS_OK) {
		check_ok(store_open(sound.fresh, &options, &store, &why), &why);
		check_ok(store_verify(store, arena, &lines, &count, &why), &why);
		store_close(store);
	}
	arena_free(arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	if (sound.bytes == NULL)
		make();
	if (length < 1)
		return 0;
	const unsigned what = bytes[0] / 8 % 4; /* 0: all of it */
	lay_out(bytes, length);
	if (what == 0 || what == 1)
		open_and_use(true);
	if (what == 0 || what == 2)
		salvage();
	if (what == 0 || what == 3)
		open_and_use(false);
	return 0;
}

int main(void)
{
	return replay_corpus("log", LLVMFuzzerTestOneInput);
}
