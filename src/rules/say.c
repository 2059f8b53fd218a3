/* SPDX-License-Identifier: MIT */
/* Words that the rules share. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "look.h"

const char look_own_source[] = "your own window";
const char look_own_days[] = "your own log";

void look_say(char (*out)[FLAG_SAYS_SIZE], const char *format, ...)
{
	char whole[4 * FLAG_SAYS_SIZE];
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(whole, sizeof whole, format, arguments);
	va_end(arguments);
	text_copy(*out, sizeof *out, whole);
}

static const char *event_of(const struct window *window)
{
	return window->kind == WINDOW_HARVEST ? "picks" : "bloom";
}

const char *look_basis(const struct window *window, char *out, int size)
{
	switch (window->basis) {
	case BASIS_ALMANAC:
		snprintf(out, (size_t)size, "almanac");
		break;
	case BASIS_OWN:
		snprintf(out, (size_t)size, "set by hand here");
		break;
	case BASIS_LEARNED:
		snprintf(out, (size_t)size, "your %s, %d seasons", event_of(window),
			window->learned.seasons);
		break;
	}
	return out;
}

const char *look_by(const struct window *window, char *out, int size)
{
	switch (window->basis) {
	case BASIS_ALMANAC:
		snprintf(out, (size_t)size, "by the almanac");
		break;
	case BASIS_OWN:
		snprintf(out, (size_t)size, "as set by hand here");
		break;
	case BASIS_LEARNED:
		snprintf(out, (size_t)size, "by your %s, %d seasons", event_of(window),
			window->learned.seasons);
		break;
	}
	return out;
}

const char *look_span(struct date from, struct date to, char *out, int size)
{
	struct date_span span = date_span_between(from, to);

	return date_span_format_plain(&span, out, size);
}

const char *look_ended(const char *text, char *out, size_t size)
{
	size_t length = strlen(text);
	bool ended = length == 0 || strchr(".!?", text[length - 1]) != NULL;
	struct text_builder words = text_builder_fixed(out, size);

	text_add(&words, text);
	if (!ended)
		text_add(&words, ".");
	return out;
}

const char *look_sentence(const char *text, char *out, size_t size)
{
	look_ended(text, out, size);
	if (out[0] >= 'a' && out[0] <= 'z')
		out[0] = (char)(out[0] - 'a' + 'A');
	return out;
}

const char *look_cut_care(const struct dossier *dossier, struct date today, char *out, size_t size)
{
	const char *bad = look_bad_day(dossier, today);
	const char *hazard = dossier->tree.hazard;
	char sentence[TEXT_SIZE + 2];
	struct text_builder care = text_builder_fixed(out, size);

	text_add(&care, "");
	if (bad != NULL)
		text_add_format(&care, "Not today: %s. ", bad);
	text_add(&care, look_sentence(hazard[0] != '\0' ? hazard
							: "look for power lines before any "
							  "ladder goes up",
				sentence, sizeof sentence));
	return out;
}
