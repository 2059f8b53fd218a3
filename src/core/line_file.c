/* SPDX-License-Identifier: MIT */
/* Lines as diaries have them: behind a bullet, behind their day, or a day with nothing else. Each
 * is tried only where the line as it stands is not understood. */
#include "core/line.h"

#include <string.h>

#include "core/text.h"

enum { DAY_WORDS_MAX = 4 };

static const char *past_bullet(const char *text)
{
	static const char *const bullets[] = {"-", "*", "\xE2\x80\xA2", "\xE2\x80\x93"};

	text += strspn(text, " \t");
	for (size_t i = 0; i < sizeof bullets / sizeof bullets[0]; i++) {
		size_t length = strlen(bullets[i]);

		if (strncmp(text, bullets[i], length) == 0 && text[length] == ' ')
			return text + length + strspn(text + length, " ");
	}
	return text;
}

/* The first `count` words, without the sign that closes them; *rest is what follows. */
static const char *first_words(const char *text, int count, struct arena *arena, const char **rest)
{
	const char *at = text;

	for (int i = 0; i < count; i++) {
		at += strspn(at, " \t");
		at += strcspn(at, " \t");
	}
	size_t length = (size_t)(at - text);
	*rest = at + strspn(at, " \t");
	while (length > 0 && strchr(":,. \t", text[length - 1]) != NULL)
		length--;
	if (strncmp(*rest, "- ", 2) == 0)
		*rest += 2;
	else if (strncmp(*rest, "\xE2\x80\x93 ", 4) == 0)
		*rest += 4;
	return arena_text_n(arena, text, length);
}

static void take_day(struct reading *out, const struct date_span *day)
{
	out->draft.day = *day;
	out->day_given = true;
}

/* "14 march: A1 picked 3 lb", with the day of `count` words. STATUS_ABSENT: it does not start with
 * a day before a line that says no day of its own. */
static enum status read_with_day(const char *text, int count, const struct line_context *context,
	struct arena *arena, struct reading *out, struct fault *why)
{
	struct line_context there = *context;
	struct date_span day;
	const char *rest;
	const char *said = first_words(text, count, arena, &rest);
	enum status status = day_read(said, context, false, &day, why);

	if ((status != STATUS_OK && status != STATUS_DOUBT) || rest[0] == '\0')
		return STATUS_ABSENT;
	if (status == STATUS_OK)
		there.file_day = date_span_first(&day);
	*out = (struct reading){.line_count = 0};
	if (line_read(rest, &there, arena, out, NULL, NULL) != STATUS_OK || out->is_day_line ||
		out->day_given)
		return STATUS_ABSENT;
	if (status == STATUS_OK)
		take_day(out, &day);
	return status;
}

/* "14 march", "2026-03-14:" and nothing else. */
static enum status read_day_alone(const char *text, const struct line_context *context,
	struct arena *arena, struct reading *out)
{
	struct date_span day;
	struct name_match match;
	const char *rest;
	const char *said = first_words(text, DAY_WORDS_MAX, arena, &rest);
	const struct line_names *names = &context->names;

	if (rest[0] != '\0' || day_read(said, context, false, &day, NULL) != STATUS_OK)
		return STATUS_ABSENT;
	if (names->find != NULL &&
		names->find(names->owner, NAME_TREE, said, strlen(said), &match, 1) > 0)
		return STATUS_ABSENT; /* a tree called 3/7 */
	*out = (struct reading){.is_day_line = true};
	take_day(out, &day);
	return STATUS_OK;
}

enum status line_read_in_file(const char *text, const struct line_context *context,
	struct arena *arena, struct reading *out, struct fault *why)
{
	struct reading other;
	struct fault first = {0}, doubt = {0};
	enum status status = line_read(text, context, arena, out, NULL, &first);
	const char *bare = past_bullet(text);

	if (status == STATUS_OK)
		return status;
	if (read_day_alone(bare, context, arena, &other) == STATUS_OK) {
		*out = other;
		return STATUS_OK;
	}
	for (int count = 0; count <= DAY_WORDS_MAX; count++) {
		enum status tried = STATUS_ABSENT;

		if (count > 0)
			tried = read_with_day(bare, count, context, arena, &other, &doubt);
		else if (bare != text)
			tried = line_read(bare, context, arena, &other, NULL, &doubt);
		if (tried == STATUS_OK) {
			*out = other;
			out->draft.words = arena_text(arena, text); /* as typed, whole */
			return STATUS_OK;
		}
		if (tried == STATUS_DOUBT)
			return fault_set(why, tried, "%s", doubt.text);
	}
	return fault_set(why, first.status, "%s", first.text);
}
