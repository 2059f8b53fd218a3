/* SPDX-License-Identifier: MIT */
#include "exchange/handout.h"

#include <stdio.h>
#include <string.h>

#include "core/file.h"
#include "exchange/export.h"
#include "report/on_paper.h"

static const struct {
	const char *what;
	enum status (*write)(const struct on_paper *paper, struct fault *why);
} papers[] = {
	{"report", on_paper_season},
	{"walk", on_paper_walk},
	{"sheet", on_paper_sheets},
};

bool handout_is(const char *what)
{
	for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++)
		if (strcmp(papers[i].what, what) == 0)
			return true;
	return false;
}

static enum status write_paper(const struct on_paper *paper, const char *what, struct fault *why)
{
	for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++)
		if (strcmp(papers[i].what, what) == 0)
			return papers[i].write(paper, why);
	return fault_set(why, STATUS_SYNTAX, "'%s' is no paper", what);
}

/* The yard of the session, or as it is on another day. */
static enum status yard_for(struct session *session, struct maybe_date day, struct arena *arena,
	struct yard **out, struct fault *why)
{
	*out = session->yard;
	if (!day.known)
		return STATUS_OK;
	return yard_open(session->store, session->almanac, day.value, arena, out, why);
}

enum status handout_write(struct session *session, const struct handout *handout, struct fault *why)
{
	struct arena *arena = arena_new();
	char *bytes = NULL;
	size_t length = 0;
	struct on_paper paper = {
		.printer = {.width = 80,
			.units = session->units,
			.numbers = session->numbers,
			.ascii = handout->ascii && strcmp(handout->path, "-") == 0},
		.html = handout->html,
		.tree_id = handout->tree_id,
		.year = handout->year,
		.without_private = handout->without_private};
	enum status status = yard_for(session, handout->day, arena, &paper.yard, why);

	paper.printer.stream = open_memstream(&bytes, &length);
	if (paper.printer.stream == NULL) {
		arena_free(arena);
		return fault_set(why, STATUS_IO, "no memory for the export");
	}
	if (status == STATUS_OK)
		status = write_paper(&paper, handout->what, why);
	fclose(paper.printer.stream);
	if (status == STATUS_OK)
		status = export_write(handout->path, bytes, length, why);
	file_free(&(struct file_bytes){.bytes = bytes, .length = length});
	arena_free(arena);
	return status;
}
