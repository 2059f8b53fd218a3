/* SPDX-License-Identifier: MIT */
/* The entry line: any bytes, in any setting of the place and wherever it is typed. */
#include "support/replay.h"

#include <assert.h>
#include <string.h>

#include "core/text.h"

#include "support/names.h"

/* Two bytes choose the setting, so that one text is tried in many. */
static void choose(struct line_context *context, unsigned how)
{
	context->numbers.style = (enum number_style)(how % 3);
	context->numbers.units = (enum unit_system)(how / 3 % 3);
	context->numbers.gallon = (enum gallon)(how / 9 % 3);
	context->dates = (enum date_order)(how / 27 % 3);
	context->hemisphere = (enum hemisphere)(how / 81 % 3);
	context->from_file = how / 243 % 2 == 1;
	context->short_labels = how / 486 % 2 == 1;
	context->is_plan = how / 972 % 4 == 3;
	context->label = how / 3888 % 4 == 3 ? "A3" : NULL;
	context->file_day.known = context->from_file && how % 2 == 1;
	context->file_day.value = context->today;
}

/* What was understood can be said again, in valid text, and its figures are in order. */
static void check_read(const struct reading *reading, const struct number_rules *numbers)
{
	char said[512];
	assert(text_is_valid(reading->said, strlen(reading->said)));
	assert(text_is_valid(reading->remarks, strlen(reading->remarks)));
	const char *words = entry_format(&reading->draft, numbers, said, (int)sizeof said);
	assert(text_is_valid(words, strlen(words)));
	for (int32_t i = 0; i < reading->draft.amount_count; i++) {
		const struct amount *amount = &reading->draft.amounts[i];
		if (amount->low.known && amount->high.known)
			assert(amount->low.value <= amount->high.value);
	}
	const struct date_span *day = &reading->draft.day;
	if (day->low.known && day->high.known)
		assert(date_compare(day->low.value, day->high.value) <= 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	if (length < 2)
		return 0;
	struct line_context context = fixture_context();
	choose(&context, bytes[0] + 256U * bytes[1]);
	struct arena *arena = arena_new();
	struct reading reading = {.batch = BATCH_ONE};
	struct fault why = {.status = STATUS_OK};
	size_t column = 0;
	const char *text = replay_text(bytes + 2, length - 2);
	const enum status status = line_read(text, &context, arena, &reading, &column, &why);
	if (status == STATUS_OK)
		check_read(&reading, &context.numbers);
	else
		assert(why.text[0] != '\0' && strchr(why.text, '\n') == NULL);
	arena_free(arena);
	return 0;
}

int main(void)
{
	return replay_corpus("line", LLVMFuzzerTestOneInput);
}
