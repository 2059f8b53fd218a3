/* SPDX-License-Identifier: MIT */
/* told_file.h - what growers bring in as a file: trees, picks, weather. */
#ifndef SUPPORT_TOLD_FILE_H
#define SUPPORT_TOLD_FILE_H

#include "support/told.h"

#include "exchange/import.h"

enum told_kind { FILE_TREES, FILE_PICKS, FILE_WEATHER };

/* Brings the text of a file in; answers what it says of refused rows and questions, a line each.
 * The grower's own choices (columns, unit, station ...) come with `options`; its path is ours. */
static inline const char *told_file_try(struct garden *garden, enum told_kind kind,
	const char *text, const struct import_options *options, enum status *status)
{
	struct fault why = {0};
	struct import_options with = *options;
	struct import_account account = {.fresh = 0};
	char path[SCRATCH_PATH_SIZE];
	struct session session = {.clock = garden->clock,
		.store = garden->store,
		.almanac = garden->almanac,
		.arena = garden->arena,
		.yard = garden->yard,
		.units = garden->place.units,
		.numbers = yard_numbers(garden->yard)};
	struct arena *arena = arena_new();
	struct text_builder said = text_builder_in(arena);

	(void)yard_line_context(garden->yard, &session.names);
	with.path = scratch_path(&garden->scratch, "file.csv", path);
	file_write(path, text, strlen(text));
	*status = kind == FILE_TREES   ? import_trees(&session, &with, arena, &account, &why)
		  : kind == FILE_PICKS ? import_picks(&session, &with, arena, &account, &why)
				       : import_weather(&session, &with, arena, &account, &why);
	text_add(&said, *status == STATUS_OK ? "" : why.text);
	for (int32_t i = 0; i < account.line_count; i++)
		text_add_format(&said, "\n%s", account.lines[i]);
	garden_look(garden);
	const char *answer = arena_text(garden->arena, said.text);
	arena_free(arena);
	return answer;
}

/* The same of a file that must be taken. */
static inline const char *told_file(struct garden *garden, enum told_kind kind, const char *text,
	const struct import_options *options)
{
	enum status status = STATUS_OK;
	const char *answer = told_file_try(garden, kind, text, options, &status);

	check_text(status == STATUS_OK ? "" : answer, "", "the file is taken");
	return answer;
}

#endif
