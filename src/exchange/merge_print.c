/* SPDX-License-Identifier: MIT */
/* A merge and what waits after it, as text for people. */
#include <string.h>

#include "core/text.h"
#include "exchange/merge.h"
#include "report/rows.h"

/* What the other lines of it stand below: blanks, and the letter of a side. */
static size_t hanging(const char *line)
{
	size_t in = strspn(line, " ");
	const char *gap = in == 0 ? NULL : strstr(line + in, "  ");

	return gap != NULL && gap - line < 14 ? (size_t)(gap - line) + 2 : in;
}

void merge_say_told(
	const struct printer *printer, const struct merge_told *told, struct arena *arena)
{
	for (int32_t i = 0; i < told->line_count; i++) {
		const char *line = told->lines[i];
		size_t in = hanging(line);

		if (in == 0)
			say_line(printer, "%s", line);
		else
			say_wrapped(printer, arena_text_n(arena, line, in), "%s", line + in);
	}
}

enum status merge_say_clash(const struct printer *printer, struct session *session, int32_t number,
	const struct clash *clash, struct arena *arena, struct fault *why)
{
	say_wrapped(printer, arena_format(arena, "%d  ", (int)number), "%s", clash->title);
	for (int32_t i = -1; i < clash->side_count; i++) {
		const char *words = clash_words(session, clash, i, arena, why);

		if (words == NULL)
			return why->status;
		if (i < 0)
			say_wrapped(printer, "   before  ", "%s", words);
		else
			say_wrapped(printer, arena_format(arena, "   %c       ", (char)('a' + i)),
				"%s (%s)", words, clash_whence(&clash->sides[i], arena));
	}
	return STATUS_OK;
}

enum status merge_read_side(
	const char *word, const struct clash *clash, int32_t *out, struct fault *why)
{
	*out = word[0] != '\0' && word[1] == '\0' ? word[0] - 'a' : -1;
	if (strcmp(word, "before") == 0 || (*out >= 0 && *out < clash->side_count))
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX,
		"'%s' is not a side of it: say a to %c, before, or own VALUE", word,
		(char)('a' + clash->side_count - 1));
}
