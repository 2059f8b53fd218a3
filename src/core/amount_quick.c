/* SPDX-License-Identifier: MIT */
/* What nearly every cell of a file holds, read at once: "12.5 lb", "-3.4" in a unit that was said
 * for its column. All else is for the scanners, which read these alike. */
#include "core/amount_parts.h"
#include "core/plain.h"

#include <string.h>

/* Three places after a point could mean thousands. */
enum { WHOLE_DIGITS_MAX = 8, PLACES_MAX = 2 };

/* Digits with at most one point between them: how many bytes, 0 for anything else. */
static size_t plain_figure(const char *text, double *value)
{
	double figure = 0;
	double scale = 1;
	size_t whole = 0;
	while (plain_is_digit(text[whole]))
		figure = figure * 10 + (text[whole++] - '0');
	size_t at = whole;
	if (text[at] == '.') {
		while (plain_is_digit(text[++at])) {
			figure = figure * 10 + (text[at] - '0');
			scale *= 10;
		}
		if (at == whole + 1 || at > whole + 1 + PLACES_MAX)
			return 0;
	}
	*value = figure / scale;
	return whole <= WHOLE_DIGITS_MAX && whole > 0 ? at : 0;
}

static bool in_base(const struct unit *unit, double value, int64_t *base)
{
	*base = unit_to_base(unit, value, false);
	return (double)*base < AMOUNT_BASE_MAX;
}

bool figure_quick(const char *text, const struct unit *unit, int64_t *base)
{
	double value = 0;
	bool below = text[0] == '-' && unit->dimension == DIMENSION_TEMPERATURE;
	const char *digits = text + below;
	size_t length = plain_figure(digits, &value);
	return length > 0 && digits[length] == '\0' && in_base(unit, below ? -value : value, base);
}

bool amount_quick(const char *text, const struct number_rules *rules, struct amount *out)
{
	double value = 0;
	int64_t base = 0;
	size_t digits = plain_figure(text, &value);
	if (digits == 0)
		return false;
	const char *word = text + digits + (text[digits] == ' ');
	size_t length = 0;
	while (plain_is_letter(word[length]) && (unsigned char)word[length] < 0x80)
		length++;
	size_t used = (size_t)(word - text) + length;
	if (length == 0 || word[length] != '\0' || used >= TYPED_SIZE)
		return false;
	const struct unit *unit = unit_find(word, length, rules, NULL);
	if (unit == NULL || !in_base(unit, value, &base))
		return false;
	*out = (struct amount){
		.dimension = unit->dimension, .low = known_i64(base), .high = known_i64(base)};
	memcpy(out->typed, text, used);
	return true;
}
