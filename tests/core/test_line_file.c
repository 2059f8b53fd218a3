/* SPDX-License-Identifier: MIT */
/* Lines as diaries have them. Today is Tuesday 24 November 2026. */
#include "core/line.h"

#include <string.h>

#include "support/names.h"
#include "support/table.h"
#include "support/test.h"

struct diary_line {
	const char *name;
	const char *text;
	const char *day;  /* NULL: it is refused, with `says` in the reason */
	const char *says; /* else part of how it is read; "" of a day alone */
};

/* clang-format off */
static const struct diary_line lines[] = {
	{"as it stands", "A3 picked 3 lb @ 12 may", "2026-05-12", "A3: picked 3 lb"},
	{"behind a bullet", "- A3 picked 3 lb @ 12 may", "2026-05-12", "A3: picked 3 lb"},
	{"behind a star", "* A3: picked 3 lb @ 12 may", "2026-05-12", "A3: picked 3 lb"},
	{"behind its day", "2026-05-12 A3 picked 3 lb", "2026-05-12", "A3: picked 3 lb"},
	{"behind its day and a colon", "2026-05-12: A3 picked 3 lb ; sweet", "2026-05-12", "A3: picked 3 lb"},
	{"behind a day of two words", "May 12 A3 picked 3 lb", "2026-05-12", "A3: picked 3 lb"},
	{"behind a day of three words", "12 May 2024, A3 picked 3 lb", "2024-05-12", "A3: picked 3 lb"},
	{"behind bullet, day and dash", "- 12 may - A3 picked 3 lb", "2026-05-12", "A3: picked 3 lb"},
	{"behind a month", "may 2024: A3 thinned", "2024-05", "A3: "},
	{"weather behind its day", "2026-05-12 frost -2 C", "2026-05-12", "frost"},
	{"a day alone", "12 may 2024", "2024-05-12", ""},
	{"a day alone with a colon", "2024-05-12:", "2024-05-12", ""},
	{"a label that looks like a day is one", "3/7 picked 3 lb @ 12 may", "2026-05-12", "3/7: picked 3 lb"},
	{"a label alone is no day", "3/7", NULL, "no word here says what was done"},
	{"two days", "12 may A3 picked 3 lb @ 13 may", NULL, "nothing is called"},
	{"a day of two meanings is asked", "3/4/2026 A3 picked 3 lb", NULL, "could be 3 April or 4 March"},
	{"words before a line", "we then A3 picked 3 lb", NULL, "nothing is called"},
	{"a bullet alone", "- ", NULL, ""},
	{"yesterday needs a day above", "yesterday A3 picked 3 lb", NULL, ""},
	{"a day before nonsense", "2026-05-12 zork", NULL, ""},
};
/* clang-format on */

static void run(const void *one)
{
	const struct diary_line *line = one;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading reading;
	struct fault why = {0};
	context.from_file = true;
	context.short_labels = false;
	enum status status = line_read_in_file(line->text, &context, arena, &reading, &why);
	if (line->day == NULL) {
		assert_int_not_equal(status, STATUS_OK);
		check_has(why.text, line->says, line->name);
	} else {
		check_ok(status, &why);
		check_text(reading.draft.day.text, line->day, line->name);
		check_int(reading.is_day_line, line->says[0] == '\0', line->name);
		if (line->says[0] != '\0') {
			check_has(reading.said, line->says, line->name);
			check_text(reading.draft.words, line->text, line->name);
		}
	}
	arena_free(arena);
}

int main(void)
{
	return RUN_CASES("lines of a diary", lines, run) != 0;
}
