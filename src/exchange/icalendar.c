/* SPDX-License-Identifier: MIT */
#include "exchange/icalendar.h"

#include <string.h>

#include "core/text.h"

enum { FOLD_OCTETS = 75 };

struct writer {
	FILE *stream;
	struct arena *arena; /* of one line */
};

/* One content line, folded (3.1): a line holds 75 octets, its break not counted; one that goes on
 * begins with a blank, which counts. No character is taken apart. */
static void put_line(const struct writer *writer, const char *line)
{
	size_t length = strlen(line);
	size_t room = FOLD_OCTETS;

	for (size_t at = 0; at < length;) {
		size_t take = 0;
		for (size_t used; at + take < length; take += used) {
			(void)text_decode(line + at + take, length - at - take, &used);
			if (take + used > room)
				break;
		}
		fprintf(writer->stream, "%s%.*s\r\n", at > 0 ? " " : "", (int)take, line + at);
		at += take;
		room = FOLD_OCTETS - 1;
	}
}

/* TEXT (3.3.11): backslash, semicolon and comma escaped, a new line as \n; nothing else that is
 * hidden stays. */
static void add_text(struct text_builder *line, struct arena *arena, const char *text)
{
	for (const char *at = text;;) {
		size_t size = strcspn(at, "\n");
		const char *clean =
			text_clean_whole(arena, arena_text_n(arena, at, size), TEXT_PLAIN);

		for (; *clean != '\0'; clean++) {
			if (strchr("\\;,", *clean) != NULL)
				text_add(line, "\\");
			text_add_n(line, clean, 1);
		}
		at += size;
		if (*at == '\0')
			return;
		text_add(line, "\\n");
		at++;
	}
}

static void put_text(const struct writer *writer, const char *name, const char *text)
{
	struct text_builder line = text_builder_in(writer->arena);

	text_add_format(&line, "%s:", name);
	add_text(&line, writer->arena, text);
	put_line(writer, line.text);
	arena_reset(writer->arena);
}

/* ISO text in its basic form: "20270115" (DATE, 3.3.4), "20261124T101500Z" (DATE-TIME, 3.3.5). */
static const char *basic(const char *iso, char out[STAMP_TEXT_SIZE])
{
	size_t at = 0;

	for (; *iso != '\0' && at + 1 < STAMP_TEXT_SIZE; iso++)
		if (*iso != '-' && *iso != ':')
			out[at++] = *iso;
	out[at] = '\0';
	return out;
}

static const char *date_basic(struct date date, char out[STAMP_TEXT_SIZE])
{
	char iso[DATE_SIZE];

	return basic(date_format(date, iso), out);
}

static void put_date(const struct writer *writer, const char *name, struct date date)
{
	char text[STAMP_TEXT_SIZE];

	fprintf(writer->stream, "%s;VALUE=DATE:%s\r\n", name, date_basic(date, text));
}

static void put_rule(const struct writer *writer, const struct calendar_event *event)
{
	char text[STAMP_TEXT_SIZE];

	fprintf(writer->stream, "RRULE:FREQ=DAILY;INTERVAL=%d", (int)event->every_days);
	if (event->until.known)
		fprintf(writer->stream, ";UNTIL=%s", date_basic(event->until.value, text));
	fputs("\r\n", writer->stream);
}

static void put_title(const struct writer *writer, const struct calendar_event *event)
{
	struct text_builder line = text_builder_in(writer->arena);

	text_add(&line, "SUMMARY:");
	add_text(&line, writer->arena, event->title);
	if (event->trees[0] != '\0')
		text_add(&line, ": ");
	add_text(&line, writer->arena, event->trees);
	put_line(writer, line.text);
	arena_reset(writer->arena);
}

static void put_event(
	const struct writer *writer, const struct calendar_event *event, const char *stamp)
{
	fputs("BEGIN:VEVENT\r\n", writer->stream);
	put_text(writer, "UID", event->uid);
	fprintf(writer->stream, "DTSTAMP:%s\r\n", stamp);
	put_date(writer, "DTSTART", event->from);
	put_date(writer, "DTEND", date_add_days(event->to, 1));
	if (event->every_days > 0)
		put_rule(writer, event);
	put_title(writer, event);
	if (event->words[0] != '\0')
		put_text(writer, "DESCRIPTION", event->words);
	put_text(writer, "CATEGORIES", calendar_kind_key(event->kind));
	/* free time, not a meeting */
	fputs("TRANSP:TRANSPARENT\r\nEND:VEVENT\r\n", writer->stream);
}

enum status icalendar_write(FILE *stream, const struct calendar *calendar, const char *name,
	const char *stamp, struct fault *why)
{
	struct writer writer = {.stream = stream, .arena = arena_new()};
	char when[STAMP_TEXT_SIZE];

	if (calendar->count == 0) {
		arena_free(writer.arena);
		return fault_set(why, STATUS_ABSENT,
			"no calendar is written: no windows with days, no plans, no put-offs");
	}
	basic(stamp, when);
	fputs("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n", stream);
	put_text(&writer, "PRODID", "-//Boughbook//Boughbook " BOUGHBOOK_VERSION "//EN");
	fputs("CALSCALE:GREGORIAN\r\n", stream);
	put_text(&writer, "NAME", name); /* RFC 7986, 5.1 */
	for (int32_t i = 0; i < calendar->count; i++)
		put_event(&writer, &calendar->events[i], when);
	fputs("END:VCALENDAR\r\n", stream);
	arena_free(writer.arena);
	if (fflush(stream) != 0 || ferror(stream))
		return fault_set(why, STATUS_IO, "the calendar could not be written");
	return STATUS_OK;
}
