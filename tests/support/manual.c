/* SPDX-License-Identifier: MIT */
#include "support/manual.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "core/memory.h"
#include "support/scratch.h"
#include "support/test.h"

static bool ends_sentence(const char *text)
{
	return (text[0] == '.' || text[0] == '?') && text[1] == ' ' &&
	       isupper((unsigned char)text[2]);
}

void manual_add(struct text_builder *out, const char *text)
{
	for (; *text != '\0'; text++) {
		if (*text == '-')
			text_add(out, "\\-");
		else
			text_add_n(out, text, 1);
		if (ends_sentence(text)) {
			text_add(out, "\n");
			text++;
		}
	}
}

void check_manual_table(
	const char *page, const char *begin, const char *end, void (*add)(struct text_builder *))
{
	struct arena *arena = arena_new();
	struct text_builder want = text_builder_in(arena);
	size_t length = 0;
	char *text = file_read(page, &length);
	char *from = strstr(text, begin);
	assert_non_null(from);
	from = strchr(from, '\n') + 1;
	char *to = strstr(from, end);
	assert_non_null(to);
	add(&want);
	if (getenv("UPDATE_GOLDEN") != NULL) {
		struct text_builder whole = text_builder_in(arena);
		text_add_n(&whole, text, (size_t)(from - text));
		text_add(&whole, want.text);
		text_add(&whole, to);
		file_write(page, whole.text, whole.length);
	} else {
		*to = '\0';
		check_text(from, want.text, "the table of the manual (make golden writes it)");
	}
	free(text);
	arena_free(arena);
}
