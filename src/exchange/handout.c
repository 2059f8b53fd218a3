/* SPDX-License-Identifier: MIT */
#include "exchange/handout.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "core/file.h"
#include "core/text.h"
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

bool handout_path_is_html(const char *path)
{
	const char *dot = strrchr(path, '.');

	return dot != NULL && (text_same(dot, ".html") || text_same(dot, ".htm"));
}

/* --- the usual file --- */

enum { NAMES_TRIED = 999 };

/* How long the folder is in a path, its last slash with it; 0: none is named. */
static int folder_length(const char *path)
{
	const char *slash = strrchr(path, '/');

	return slash == NULL ? 0 : (int)(slash - path) + 1;
}

/* With a slash behind it. */
static void usual_folder(const char *log, char out[FILE_PATH_SIZE])
{
	char usual[FILE_PATH_SIZE];
	struct fault why;
	const char *home = getenv("HOME");
	const int length = folder_length(log);

	if (home != NULL && home[0] == '/' && file_default_log_path(usual, &why) == STATUS_OK &&
		folder_length(usual) == length && strncmp(usual, log, (size_t)length) == 0)
		(void)snprintf(out, FILE_PATH_SIZE, "%.4000s/", home);
	else
		(void)snprintf(out, FILE_PATH_SIZE, "%.*s", length, log);
}

/* What may stand in the name of a file anywhere; the rest becomes a dash. */
static void plain_name(const char *text, char *out, size_t size)
{
	size_t length = 0;

	for (; *text != '\0' && length + 1 < size; text++) {
		const unsigned char c = (unsigned char)*text;
		const bool fits =
			(c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');

		if (fits || (length > 0 && out[length - 1] != '-'))
			out[length++] = fits ? (char)c : '-';
	}
	while (length > 0 && out[length - 1] == '-')
		length--;
	out[length] = '\0';
}

static const char *usual_ending(const char *what)
{
	if (strcmp(what, "calendar") == 0)
		return "ics";
	if (strcmp(what, "plan") == 0)
		return "geojson";
	return handout_is_paper(what) ? "html" : "csv";
}

void handout_usual_path(
	struct session *session, const char *what, const char *end, char out[FILE_PATH_SIZE])
{
	char folder[FILE_PATH_SIZE], stem[80], last[LABEL_SIZE], count[8] = "";
	const char *log = store_path(session->store);

	usual_folder(log, folder);
	plain_name(log + folder_length(log), stem, sizeof stem);
	char *ending = strstr(stem, "-bough");
	if (ending != NULL && ending != stem)
		*ending = '\0';
	plain_name(end, last, sizeof last);
	for (int tried = 1; tried < NAMES_TRIED; tried++) {
		if (tried > 1)
			(void)snprintf(count, sizeof count, "-%d", tried);
		(void)snprintf(out, FILE_PATH_SIZE, "%.3800s%s-%s%s%s%s.%s", folder, stem, what,
			last[0] != '\0' ? "-" : "", last, count, usual_ending(what));
		if (access(out, F_OK) != 0)
			return;
	}
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
