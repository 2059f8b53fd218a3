/* SPDX-License-Identifier: MIT */
/* Days as growers and machines write them: what is read says a span in order, and its own text is
 * read the same again. */
#include "support/replay.h"

#include <assert.h>
#include <string.h>

#include "core/text.h"

#include "support/names.h"

static void check_span(const struct date_span *span, enum hemisphere hemisphere)
{
	char words[80];
	struct date_span again = {.text = ""};
	if (span->low.known && span->high.known)
		assert(date_compare(span->low.value, span->high.value) <= 0);
	(void)date_span_format_plain(span, words, (int)sizeof words);
	assert(text_is_valid(words, strlen(words)));
	(void)date_span_first(span);
	assert(date_span_parse(span->text, hemisphere, &again, NULL) == STATUS_OK);
	assert(again.low.known == span->low.known && again.high.known == span->high.known);
	if (span->low.known)
		assert(date_compare(again.low.value, span->low.value) == 0);
	if (span->high.known)
		assert(date_compare(again.high.value, span->high.value) == 0);
}

static void check_iso(const char *text)
{
	struct date day = {.day = 0};
	struct month_day month_day = {.month = 0};
	char out[DATE_SIZE];
	if (date_parse_iso(text, &day, NULL) == STATUS_OK)
		assert(strcmp(date_format(day, out), text) == 0);
	if (month_day_parse(text, &month_day, NULL) == STATUS_OK)
		assert(circle_of(month_day) >= 1 && circle_of(month_day) <= 365);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	if (length < 1)
		return 0;
	struct line_context context = fixture_context();
	struct date_span span = {.text = ""};
	struct fault why = {.status = STATUS_OK};
	const char *text = replay_text(bytes + 1, length - 1);
	context.dates = (enum date_order)(bytes[0] % 3);
	context.hemisphere = (enum hemisphere)(bytes[0] / 3 % 3);
	context.from_file = bytes[0] / 9 % 2 == 1;
	check_iso(text);
	if (date_span_parse(text, context.hemisphere, &span, &why) == STATUS_OK)
		check_span(&span, context.hemisphere);
	if (day_read(text, &context, bytes[0] / 18 % 2 == 1, &span, &why) == STATUS_OK)
		check_span(&span, context.hemisphere);
	if (planting_read(text, &context, &span, &why) == STATUS_OK)
		check_span(&span, context.hemisphere);
	return 0;
}

int main(void)
{
	return replay_corpus("date", LLVMFuzzerTestOneInput);
}
