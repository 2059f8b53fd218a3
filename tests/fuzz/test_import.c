/* SPDX-License-Identifier: MIT */
/* Files of weather, picks and trees: a first byte for the options, a line that names the columns,
 * then the file. Each is imported as a dry run into a log of three trees. */
#include "support/replay.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "exchange/import.h"

#include "support/deeds.h"
#include "support/test.h"

struct yard_log {
	struct scratch scratch;
	char file[SCRATCH_PATH_SIZE];
	struct session *session;
};

static struct yard_log yard_log;

static void clear(void)
{
	session_close(yard_log.session);
	scratch_remove(&yard_log.scratch);
}

static void make(void)
{
	struct place place = {
		.name = "Hill yard", .hemisphere = HEMISPHERE_NORTH, .wet = WET_WINTER};
	struct session_options options = {.almanac = "share/almanac"};
	struct store *store = NULL;
	struct fault why = {.status = STATUS_OK};
	struct date today = {.day = 20000};
	char path[SCRATCH_PATH_SIZE];
	options.clock = clock_seeded(today, 7);
	const struct store_options how = {.clock = &options.clock};
	yard_log.scratch = scratch_make();
	options.path = scratch_path(&yard_log.scratch, "yard.bough", path);
	(void)scratch_path(&yard_log.scratch, "file.csv", yard_log.file);
	check_ok(store_create(path, &how, &place, &store, &why), &why);
	store_close(store);
	check_ok(session_open(&options, &yard_log.session, &why), &why);
	deeds_plant(yard_log.session, "A1", "fig");
	deeds_plant(yard_log.session, "A2", "apple");
	deeds_plant(yard_log.session, "Row 2/7", "peach");
	(void)atexit(clear);
}

static struct import_options choose(unsigned how)
{
	static const char *const encodings[] = {NULL, "utf8", "utf16", "latin1"};
	static const char *const numbers[] = {NULL, "point", "comma"};
	return (struct import_options){.path = yard_log.file,
		.unit = how / 3 % 2 == 0 ? "lb" : NULL,
		.length_unit = "ft",
		.units = (enum unit_system)(how / 6 % 3),
		.dates = (enum date_order)(how / 6 % 3),
		.encoding = encodings[how / 18 % 4],
		.numbers = numbers[how / 72 % 3],
		.dry_run = true};
}

/* Refused rows are named; what is said is fit to be shown. */
static void check_account(const struct import_account *account)
{
	for (int32_t i = 0; i < account->line_count; i++)
		assert(text_is_valid(account->lines[i], strlen(account->lines[i])));
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	static enum status (*const imports[])(struct session *, const struct import_options *,
		struct arena *, struct import_account *,
		struct fault *) = {import_weather, import_picks, import_trees};
	if (yard_log.session == NULL)
		make();
	if (length < 1)
		return 0;
	struct import_options options = choose(bytes[0]);
	const uint8_t *end = memchr(bytes + 1, '\n', length - 1);
	if (end == NULL)
		return 0;
	struct arena *arena = arena_new();
	struct import_account account = {.fresh = 0};
	struct fault why = {.status = STATUS_OK};
	options.columns = arena_text_n(arena, (const char *)bytes + 1, (size_t)(end - bytes) - 1);
	file_write(yard_log.file, end + 1, length - (size_t)(end + 1 - bytes));
	const enum status status =
		imports[bytes[0] % 3](yard_log.session, &options, arena, &account, &why);
	assert(!store_in_act(yard_log.session->store));
	assert(status == STATUS_OK || why.text[0] != '\0');
	check_account(&account);
	arena_free(arena);
	return 0;
}

int main(void)
{
	return replay_corpus("import", LLVMFuzzerTestOneInput);
}
