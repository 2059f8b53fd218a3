/* SPDX-License-Identifier: MIT */
/* One number as people write it: 12, 12.5, 1,5, 1 1/2, ½, 2⅔, a couple, half a, seven. */
#include "core/amount_parts.h"
#include "core/plain.h"

#include <string.h>

enum { DIGITS_MAX = 9, DECIMALS_MAX = 6 };

struct number_word {
	const char *word; /* '_' stands for a blank */
	double value;
	bool about;
	bool wants_unit;
};

/* clang-format off */
static const struct number_word number_words[] = {
	{"a_couple_of", 2, true, false}, {"a_couple", 2, true, false}, {"half_a", 0.5, false, false},
	{"half_an", 0.5, false, false}, {"one", 1, false, false}, {"two", 2, false, false},
	{"three", 3, false, false}, {"four", 4, false, false}, {"five", 5, false, false},
	{"six", 6, false, false}, {"seven", 7, false, false}, {"eight", 8, false, false},
	{"nine", 9, false, false}, {"ten", 10, false, false}, {"eleven", 11, false, false},
	{"twelve", 12, false, false}, {"a", 1, false, true}, {"an", 1, false, true},
};

static const struct vulgar {
	const char *text;
	double value;
} vulgars[] = {
	{"\xC2\xBC", 1.0 / 4}, {"\xC2\xBD", 1.0 / 2}, {"\xC2\xBE", 3.0 / 4},
	{"\xE2\x85\x90", 1.0 / 7}, {"\xE2\x85\x91", 1.0 / 9}, {"\xE2\x85\x92", 1.0 / 10},
	{"\xE2\x85\x93", 1.0 / 3}, {"\xE2\x85\x94", 2.0 / 3}, {"\xE2\x85\x95", 1.0 / 5},
	{"\xE2\x85\x96", 2.0 / 5}, {"\xE2\x85\x97", 3.0 / 5}, {"\xE2\x85\x98", 4.0 / 5},
	{"\xE2\x85\x99", 1.0 / 6}, {"\xE2\x85\x9A", 5.0 / 6}, {"\xE2\x85\x9B", 1.0 / 8},
	{"\xE2\x85\x9C", 3.0 / 8}, {"\xE2\x85\x9D", 5.0 / 8}, {"\xE2\x85\x9E", 7.0 / 8},
};
/* clang-format on */

static size_t vulgar_at(const char *text, double *value)
{
	if ((unsigned char)text[0] < 0x80)
		return 0;
	for (size_t i = 0; i < sizeof(vulgars) / sizeof(vulgars[0]); i++) {
		size_t length = strlen(vulgars[i].text);
		if (strncmp(text, vulgars[i].text, length) == 0) {
			*value = vulgars[i].value;
			return length;
		}
	}
	return 0;
}

/* The longest word for a number at text. */
static bool word_at(const char *text, struct number *out)
{
	size_t longest = 0;
	if (!plain_is_letter(text[0]))
		return false;
	for (size_t i = 0; i < sizeof(number_words) / sizeof(number_words[0]); i++) {
		size_t length = plain_word(text, number_words[i].word);
		if (length <= longest)
			continue;
		longest = length;
		*out = (struct number){.value = number_words[i].value,
			.used = length,
			.about = number_words[i].about,
			.wants_unit = number_words[i].wants_unit};
	}
	return longest > 0;
}

/* Digits with their points and commas: "1,234.5". A mark counts only between two digits. */
struct digits {
	size_t length;
	size_t points;
	size_t commas;
	size_t last_mark; /* where the last mark stands; 0 none (a first "." marks no thousands) */
	char mark;
	bool grouped; /* each mark but the last has just three digits after it */
};

static struct digits digits_at(const char *text)
{
	struct digits found = {.grouped = true};
	size_t at = 0;
	if (text[0] == '.' && plain_is_digit(text[1]))
		at = 0;
	else if (!plain_is_digit(text[0]))
		return found;
	while (plain_is_digit(text[at]) ||
		((text[at] == '.' || text[at] == ',') && plain_is_digit(text[at + 1]))) {
		if (!plain_is_digit(text[at])) {
			if (found.mark != '\0' && at - found.last_mark != 4)
				found.grouped = false;
			found.points += text[at] == '.';
			found.commas += text[at] == ',';
			found.last_mark = at;
			found.mark = text[at];
		}
		at++;
	}
	found.length = at;
	return found;
}

/* The figure with `point` (or nothing) as its decimal mark; other marks are left out. */
static double figure(const char *text, size_t length, char point, size_t *decimals)
{
	double value = 0;
	double scale = 1;
	bool after = false;
	*decimals = 0;
	for (size_t i = 0; i < length; i++) {
		if (!plain_is_digit(text[i])) {
			after = after || text[i] == point;
			continue;
		}
		value = value * 10 + (text[i] - '0');
		if (after) {
			scale *= 10;
			(*decimals)++;
		}
	}
	return value / scale;
}

static enum status two_meanings(const char *text, const struct digits *found, struct fault *why)
{
	size_t unused;
	double whole = figure(text, found->length, '\0', &unused);
	double part = figure(text, found->length, found->mark, &unused);
	return fault_set(why, STATUS_DOUBT,
		"'%.*s' could be %.10g or %.10g: write it without the '%c', or set the place's "
		"numbers to point or comma",
		(int)found->length, text, part, whole, found->mark);
}

/* Which mark is the decimal one: '\0' none. */
static enum status decimal_mark(const char *text, const struct digits *found,
	const struct number_rules *rules, char *mark, struct fault *why)
{
	size_t after = found->length - found->last_mark - 1;
	*mark = found->mark;
	if (found->points + found->commas > 1) {
		bool mixed = found->points > 0 && found->commas > 0;
		bool last_once = found->mark == '.' ? found->points == 1 : found->commas == 1;
		if (!found->grouped || (mixed && !last_once) || (!mixed && after != 3))
			return fault_set(why, STATUS_SYNTAX, "'%.*s' is not a number",
				(int)found->length, text);
		*mark = mixed ? found->mark : '\0';
		return STATUS_OK;
	}
	enum number_style own = found->mark == '.' ? NUMBERS_POINT : NUMBERS_COMMA;
	bool maybe_thousands =
		after == 3 && found->last_mark >= 1 && found->last_mark <= 3 && text[0] != '0';
	if (rules->style == own || (found->mark == '.' && !maybe_thousands))
		return STATUS_OK;
	if (maybe_thousands && rules->style != NUMBERS_UNSET) {
		*mark = '\0';
		return STATUS_OK;
	}
	return text[0] == '0' && !maybe_thousands ? STATUS_OK : two_meanings(text, found, why);
}

static enum status plain_digits(const char *text, const struct number_rules *rules,
	const struct digits *found, struct number *out, struct fault *why)
{
	char mark = '\0';
	size_t decimals = 0;
	if (found->mark != '\0') {
		enum status status = decimal_mark(text, found, rules, &mark, why);
		if (status != STATUS_OK)
			return status;
	}
	double value = figure(text, found->length, mark, &decimals);
	if (value > 999999999.0 || found->length > DIGITS_MAX + DECIMALS_MAX + 3)
		return fault_set(why, STATUS_RANGE, "'%.*s' is too large: nothing above 999999999",
			(int)(found->length < 40 ? found->length : 40), text);
	if (decimals > DECIMALS_MAX)
		return fault_set(why, STATUS_RANGE,
			"'%.*s' is finer than six places after the point", (int)found->length,
			text);
	*out = (struct number){
		.value = value, .used = found->length, .is_whole = found->mark == '\0'};
	return STATUS_OK;
}

/* "/8" after whole digits: how many bytes, and the number below the bar. */
static size_t below_bar(const char *text, double *below)
{
	size_t digits = strspn(text + 1, "0123456789");
	size_t unused;
	if (text[0] != '/' || digits == 0 || digits > 3 || text[1 + digits] == '/' ||
		plain_is_letter(text[1 + digits]))
		*below = 0;
	else
		*below = figure(text + 1, digits, '\0', &unused);
	return *below > 0 ? 1 + digits : 0;
}

/* A fraction after whole digits: "1/2", "1 1/2", "1-1/2", "1½", "1 ½". */
static void add_fraction(const char *text, struct number *out)
{
	double below = 0;
	size_t used = below_bar(text + out->used, &below);
	if (used > 0) {
		out->value /= below;
		out->used += used;
		return;
	}
	size_t at = out->used;
	if (text[at] == ' ' || text[at] == '-')
		at++;
	double part = 0;
	size_t length = vulgar_at(text + at, &part);
	if (length == 0 && at > out->used) {
		size_t digits = strspn(text + at, "0123456789");
		size_t unused;
		double above = digits <= 3 ? figure(text + at, digits, '\0', &unused) : 0;
		used = digits > 0 ? below_bar(text + at + digits, &below) : 0;
		part = used > 0 ? above / below : 1;
		length = used > 0 && part < 1 ? digits + used : 0;
	}
	if (length == 0)
		return;
	out->value += part;
	out->used = at + length;
}

enum status number_scan(
	const char *text, const struct number_rules *rules, struct number *out, struct fault *why)
{
	double part = 0;
	size_t length = vulgar_at(text, &part);
	if (length > 0) {
		*out = (struct number){.value = part, .used = length};
		return STATUS_OK;
	}
	if (word_at(text, out))
		return STATUS_OK;
	struct digits found = digits_at(text);
	if (found.length == 0)
		return fault_set(why, STATUS_ABSENT, "no number here");
	enum status status = plain_digits(text, rules, &found, out, why);
	if (status == STATUS_OK && out->is_whole)
		add_fraction(text, out);
	return status;
}
