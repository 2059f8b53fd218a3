/* SPDX-License-Identifier: MIT */
#include "likely_words.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { WORD_SIZE = 40, MONTHS = 12 };

/* Words that stand on one line, a step apart from those beside them. */
static const char *const scales[] = {
	"very-early early early-mid mid mid-late late very-late",
	"small medium large very-large",
	"short mid long very-long",
	"thin medium thick tough",
	"easy medium tight",
	"none stem net full",
	"none some much",
	"none light good",
	"seedless few some many",
	"soft medium firm hard",
	"paper soft semi hard",
	"cling semi free",
	"low moderate high very-high",
	"smooth medium rough",
	"smooth medium pebbly",
	"annual some strong",
	"no partly yes",
	"no some yes",
	"open half closed sealed",
	"sharp balanced sweet",
	"tart sweet-tart sweet",
	"sub-acid sweet-tart sweet",
	"mild sweet",
	"buttery melting firm",
	"spur part-tip tip",
	"blush blush-striped striped",
	"blush mottled striped",
	"blush solid",
};

/* Words that are often given for the same thing. */
static const char *const near_pairs[][2] = {
	{"golden", "yellow"},
	{"golden", "orange"},
	{"cream", "white"},
	{"cream", "yellow"},
	{"straw", "white"},
	{"straw", "cream"},
	{"straw", "yellow"},
	{"pale", "white"},
	{"pale", "yellow"},
	{"amber", "yellow"},
	{"amber", "orange"},
	{"amber", "pink"},
	{"black", "red"},
	{"black", "purple"},
	{"black", "blue"},
	{"blue", "purple"},
	{"violet", "purple"},
	{"violet", "brown"},
	{"bronze", "brown"},
	{"bronze", "violet"},
	{"pink", "red"},
	{"strawberry", "red"},
	{"strawberry", "pink"},
	{"blush", "yellow"},
	{"blush", "pink"},
	{"blush", "red"},
	{"orange", "yellow"},
	{"obovate", "pear"},
	{"obovate", "oval"},
	{"ovate", "oval"},
	{"ovate", "round"},
	{"oblong", "oval"},
	{"oval", "round"},
	{"oval", "long"},
	{"egg", "oval"},
	{"egg", "turbinate"},
	{"turbinate", "pyriform"},
	{"turbinate", "round"},
	{"neck", "pyriform"},
	{"neck", "pear"},
	{"acorn", "conic"},
	{"acorn", "oval"},
	{"heart", "round"},
	{"heart", "oval"},
	{"flat", "square"},
};

/* They make a colour lighter, darker or deeper, and it stays that colour. */
static const char *const shades = "pale light deep dark bright tinged dotted blushed very";

static const char *const months = "jan feb mar apr may jun jul aug sep oct nov dec";

/* The place of a word in a list parted by blanks; -1: it is not there. */
static int32_t place_in(const char *list, const char *word, size_t length)
{
	int32_t place = 0;
	for (const char *at = list; *at != '\0'; place++) {
		size_t size = strcspn(at, " ");
		if (size == length && strncmp(at, word, length) == 0)
			return place;
		at += size + (at[size] == ' ');
	}
	return -1;
}

/* --- figures and months --- */

/* "2-4", "5": false: no figures. */
static bool read_figures(const char *word, double *low, double *high)
{
	char *end = NULL;
	*low = strtod(word, &end);
	if (end == word || (*end != '\0' && *end != '-'))
		return false;
	*high = *low;
	if (*end == '\0')
		return true;
	const char *second = end + 1;
	*high = strtod(second, &end);
	return end != second && *end == '\0';
}

/* One within the other fits; near: they overlap in part, or lie one apart. */
static enum likely_fit compare_figures(double a_low, double a_high, double b_low, double b_high)
{
	const double gap = a_low > b_high ? a_low - b_high : b_low - a_high;
	if ((a_low >= b_low && a_high <= b_high) || (b_low >= a_low && b_high <= a_high))
		return LIKELY_FITS;
	return gap <= 1 ? LIKELY_NEAR : LIKELY_DIFFERS;
}

/* "feb-apr", "feb": first month from 0 and how many more; false: no months. */
static bool read_months(const char *word, int32_t *first, int32_t *more)
{
	if (strcmp(word, "all-year") == 0) {
		*first = 0;
		*more = MONTHS - 1;
		return true;
	}
	size_t length = strcspn(word, "-");
	*first = place_in(months, word, length);
	*more = 0;
	if (*first < 0 || word[length] == '\0')
		return *first >= 0;
	const int32_t last = place_in(months, word + length + 1, strlen(word + length + 1));
	*more = (last - *first + MONTHS) % MONTHS;
	return last >= 0;
}

static enum likely_fit compare_months(
	int32_t a_first, int32_t a_more, int32_t b_first, int32_t b_more)
{
	/* from the end of one to the start of the other, on the circle */
	const int32_t after = (b_first - a_first + MONTHS) % MONTHS;
	const int32_t before = (a_first - b_first + MONTHS) % MONTHS;
	if (after <= a_more || before <= b_more)
		return LIKELY_FITS;
	return after == a_more + 1 || before == b_more + 1 ? LIKELY_NEAR : LIKELY_DIFFERS;
}

/* --- words --- */

static enum likely_fit compare_on_scales(const char *a, const char *b)
{
	for (size_t i = 0; i < sizeof scales / sizeof scales[0]; i++) {
		const int32_t from = place_in(scales[i], a, strlen(a));
		const int32_t to = place_in(scales[i], b, strlen(b));
		if (from >= 0 && to >= 0)
			return from - to == 1 || to - from == 1 ? LIKELY_NEAR : LIKELY_DIFFERS;
	}
	return LIKELY_NOT_KNOWN;
}

static bool is_near_pair(const char *a, size_t a_length, const char *b, size_t b_length)
{
	for (size_t i = 0; i < sizeof near_pairs / sizeof near_pairs[0]; i++) {
		const char *const *pair = near_pairs[i];
		for (int side = 0; side < 2; side++)
			if (strlen(pair[side]) == a_length && strlen(pair[1 - side]) == b_length &&
				strncmp(pair[side], a, a_length) == 0 &&
				strncmp(pair[1 - side], b, b_length) == 0)
				return true;
	}
	return false;
}

/* "yellow-orange" shares a part with "deep-yellow", shades left out. */
static enum likely_fit compare_parts(const char *a, const char *b)
{
	for (const char *at = a; *at != '\0';) {
		const size_t length = strcspn(at, "-");
		for (const char *to = b; *to != '\0' && place_in(shades, at, length) < 0;) {
			const size_t size = strcspn(to, "-");
			const bool same = size == length && strncmp(at, to, size) == 0;
			if (same || is_near_pair(at, length, to, size))
				return LIKELY_NEAR;
			to += size + (to[size] == '-');
		}
		at += length + (at[length] == '-');
	}
	return LIKELY_DIFFERS;
}

static enum likely_fit compare_words(const char *a, const char *b)
{
	double a_low, a_high, b_low, b_high;
	int32_t a_first, a_more, b_first, b_more;
	if (strcmp(a, b) == 0)
		return LIKELY_FITS;
	const bool a_figures = read_figures(a, &a_low, &a_high);
	const bool b_figures = read_figures(b, &b_low, &b_high);
	if (a_figures && b_figures)
		return compare_figures(a_low, a_high, b_low, b_high);
	const bool a_months = read_months(a, &a_first, &a_more);
	const bool b_months = read_months(b, &b_first, &b_more);
	if (a_months && b_months)
		return compare_months(a_first, a_more, b_first, b_more);
	if (a_figures || b_figures || a_months || b_months)
		return LIKELY_NOT_KNOWN;
	const enum likely_fit fit = compare_on_scales(a, b);
	return fit != LIKELY_NOT_KNOWN ? fit : compare_parts(a, b);
}

/* The next of words parted by '/', cut where it is too long; false at the end. */
static bool next_word(const char **at, char word[WORD_SIZE])
{
	const size_t length = strcspn(*at, "/");
	const size_t kept = length < WORD_SIZE ? length : WORD_SIZE - 1;
	if (length == 0)
		return false;
	memcpy(word, *at, kept);
	word[kept] = '\0';
	*at += length + ((*at)[length] == '/');
	return true;
}

enum likely_fit likely_compare(const char *noted, const char *cell, bool *first)
{
	enum likely_fit best = LIKELY_NOT_KNOWN;
	char a[WORD_SIZE], b[WORD_SIZE];
	*first = false;
	for (const char *at = noted; next_word(&at, a);) {
		bool is_first = true;
		for (const char *to = cell; next_word(&to, b); is_first = false) {
			const enum likely_fit fit = compare_words(a, b);
			if (fit > best || (fit == best && is_first && fit != LIKELY_NOT_KNOWN)) {
				best = fit;
				*first = is_first;
			}
		}
	}
	return best;
}

bool likely_season_span(const char *cell, int32_t *from, int32_t *to)
{
	char word[WORD_SIZE];
	bool found = false;
	for (const char *at = cell; next_word(&at, word);) {
		const int32_t place = place_in(scales[0], word, strlen(word));
		if (place < 0)
			return false;
		*from = !found || place < *from ? place : *from;
		*to = !found || place > *to ? place : *to;
		found = true;
	}
	return found;
}

const char *likely_turn_season(const char *cell, char *out, size_t size)
{
	struct text_builder text = text_builder_fixed(out, size);
	char word[WORD_SIZE];
	text_add(&text, "");
	for (const char *at = cell; next_word(&at, word);) {
		int32_t first = 0, more = 0;
		text_add(&text, text.length > 0 ? "/" : "");
		if (!read_months(word, &first, &more) || more == MONTHS - 1) {
			text_add(&text, word);
			continue;
		}
		first = (first + MONTHS / 2) % MONTHS;
		text_add_n(&text, months + (size_t)first * 4, 3);
		if (more > 0)
			text_add(&text, "-");
		if (more > 0)
			text_add_n(&text, months + (size_t)((first + more) % MONTHS) * 4, 3);
	}
	return out;
}
