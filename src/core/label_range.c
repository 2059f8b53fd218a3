/* SPDX-License-Identifier: MIT */
#include "core/label_range.h"

#include <assert.h>
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { DIGITS_MAX = 9 };

static enum status no_row(const char *text, struct fault *why)
{
	return fault_set(
		why, STATUS_SYNTAX, "'%.100s' is no row of labels; a row is written A1..A12", text);
}

enum status label_range_parse(const char *text, struct label_range *out, struct fault *why)
{
	const char *dots = strstr(text, "..");
	*out = (struct label_range){.from = -1, .count = 1};
	if (dots == NULL || dots == text || dots[2] == '\0') {
		(void)text_copy(out->stem, sizeof out->stem, text);
		return STATUS_OK;
	}
	const char *digits = dots;
	while (digits > text && isdigit((unsigned char)digits[-1]))
		digits--;
	const size_t stem = (size_t)(digits - text);
	const char *last = dots + 2;
	if (digits == dots || strncmp(text, last, stem) != 0 || last[stem] == '\0' ||
		strspn(last + stem, "0123456789") != strlen(last + stem) ||
		dots - digits > DIGITS_MAX || strlen(last + stem) > DIGITS_MAX ||
		!text_copy_n(out->stem, sizeof out->stem - DIGITS_MAX - 1, text, stem))
		return no_row(text, why);
	const long from = strtol(digits, NULL, 10);
	const long to = strtol(last + stem, NULL, 10);
	if (to < from || to - from >= LABEL_RANGE_MAX)
		return fault_set(why, STATUS_RANGE,
			"the row %.100s holds no trees or more than 1,000", text);
	out->from = (int32_t)from;
	out->count = (int32_t)(to - from) + 1;
	return STATUS_OK;
}

const char *label_range_at(const struct label_range *range, int32_t place, char out[LABEL_SIZE])
{
	assert(place >= 0 && place < range->count);
	struct text_builder label = text_builder_fixed(out, LABEL_SIZE);
	text_add(&label, range->stem);
	if (range->from >= 0)
		text_add_format(&label, "%d", (int)(range->from + place));
	return out;
}

const char *label_bare(const char *folded, char *out, size_t size)
{
	size_t used = 0;
	bool parted = false;
	for (const char *at = folded; *at != '\0' && used + 2 < size; at++) {
		const bool digit = isdigit((unsigned char)*at);
		const bool after_digit = used > 0 && isdigit((unsigned char)out[used - 1]);
		if (!digit && !isalpha((unsigned char)*at) && (unsigned char)*at < 0x80) {
			parted = true;
			continue;
		}
		if (digit && after_digit && parted)
			out[used++] = '-';
		parted = false;
		/* a nought before a figure says nothing */
		if (*at == '0' && !(used > 0 && isdigit((unsigned char)out[used - 1])) &&
			isdigit((unsigned char)at[1]))
			continue;
		out[used++] = *at;
	}
	out[used] = '\0';
	return out;
}

bool label_is_near(const char *a, const char *b)
{
	char folded[LABEL_FOLDED_SIZE], one[LABEL_FOLDED_SIZE], two[LABEL_FOLDED_SIZE];
	if (text_same(a, b))
		return false;
	(void)text_fold(a, folded, sizeof folded);
	(void)label_bare(folded, one, sizeof one);
	(void)text_fold(b, folded, sizeof folded);
	(void)label_bare(folded, two, sizeof two);
	return one[0] != '\0' && strcmp(one, two) == 0;
}
