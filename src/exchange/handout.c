/* SPDX-License-Identifier: MIT */
#include "exchange/handout.h"

#include <stdio.h>
#include <string.h>

#include "core/file.h"
#include "exchange/export.h"
#include "exchange/geojson.h"
#include "exchange/icalendar.h"
#include "report/on_paper.h"

static const struct {
	const char *what;
	enum status (*write)(const struct on_paper *paper, struct fault *why);
} papers[] = {
	{"report", on_paper_season},
	{"walk", on_paper_walk},
	{"sheet", on_paper_sheets},
};

bool handout_is_paper(const char *what)
{
	for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++)
		if (strcmp(papers[i].what, what) == 0)
			return true;
	return false;
}

/* What other programs read. */
struct going_out {
	FILE *stream;
	struct yard *yard;
	struct session *session;
	const struct handout *handout;
	struct arena *arena;
};

static enum status write_calendar(const struct going_out *out, struct fault *why)
{
	struct calendar calendar;
	char stamp[STAMP_TEXT_SIZE];
	enum status status =
		calendar_make(out->yard, out->handout->without_private, out->arena, &calendar, why);

	if (status != STATUS_OK)
		return status;
	return icalendar_write(out->stream, &calendar, yard_place(out->yard)->name,
		clock_stamp(&out->session->clock, stamp), why);
}

static enum status write_plan(const struct going_out *out, struct fault *why)
{
	if (out->handout->day.known) /* a yard of its own, of that day */
		yard_look_back(out->yard);
	return geojson_write(out->stream, out->yard, out->handout->without_private, why);
}

static const struct {
	const char *what;
	enum status (*write)(const struct going_out *out, struct fault *why);
} others[] = {
	{"calendar", write_calendar},
	{"plan", write_plan},
};

bool handout_is(const char *what)
{
	for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
		if (strcmp(others[i].what, what) == 0)
			return true;
	return handout_is_paper(what);
}

static enum status write_thing(const struct going_out *out, const char *what, struct fault *why)
{
	const struct handout *handout = out->handout;
	const bool ascii = handout->ascii && strcmp(handout->path, "-") == 0;
	const struct on_paper paper = {.printer = {.stream = out->stream,
					       .width = 80,
					       .units = out->session->units,
					       .numbers = out->session->numbers,
					       .ascii = ascii},
		.yard = out->yard,
		.html = handout->html,
		.tree_id = handout->tree_id,
		.year = handout->year,
		.without_private = handout->without_private};

	for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++)
		if (strcmp(papers[i].what, what) == 0)
			return papers[i].write(&paper, why);
	for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
		if (strcmp(others[i].what, what) == 0)
			return others[i].write(out, why);
	return fault_set(why, STATUS_SYNTAX, "'%s' is not known to export", what);
}

/* The yard of the session, or as it is on another day, or without what is private. */
static enum status yard_for(struct session *session, const struct handout *handout,
	struct arena *arena, struct yard **out, struct fault *why)
{
	const struct date today = yard_today(session->yard);

	*out = session->yard;
	store_leave_out_private(session->store, handout->without_private);
	if (!handout->day.known && !handout->without_private)
		return STATUS_OK;
	return yard_open(session->store, session->almanac,
		handout->day.known ? handout->day.value : today, arena, out, why);
}

enum status handout_write(struct session *session, const struct handout *handout, struct fault *why)
{
	char *bytes = NULL;
	size_t length = 0;
	struct going_out out = {.session = session, .handout = handout, .arena = arena_new()};
	enum status status = yard_for(session, handout, out.arena, &out.yard, why);

	out.stream = open_memstream(&bytes, &length);
	if (out.stream == NULL) {
		store_leave_out_private(session->store, false);
		arena_free(out.arena);
		return fault_set(why, STATUS_IO, "no memory for the export");
	}
	if (status == STATUS_OK)
		status = write_thing(&out, handout->what, why);
	store_leave_out_private(session->store, false);
	if (fclose(out.stream) != 0 && status == STATUS_OK)
		status = fault_set(why, STATUS_IO, "no memory for the export");
	if (status == STATUS_OK)
		status = export_write(handout->path, bytes, length, why);
	file_free(&(struct file_bytes){.bytes = bytes, .length = length});
	arena_free(out.arena);
	return status;
}
