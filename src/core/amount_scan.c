/* SPDX-License-Identifier: MIT */
/* A quantity: bound, span, unit, and the smaller units that add to it. */
#include "core/amount_parts.h"
#include "core/plain.h"

#include <math.h>
#include <string.h>

enum { QUANTITY_BYTES_MAX = 240 }; /* of source text looked at; what is typed must fit TYPED_SIZE */

enum bound { BOUND_EXACT, BOUND_ABOUT, BOUND_LOW, BOUND_HIGH };

struct bound_words {
	enum bound bound;
	const char *words;
};

static const struct bound_words bound_table[] = {
	{BOUND_ABOUT,
		"about around approx approximately roughly nearly almost barely circa ca some"},
	{BOUND_LOW, "at_least over more_than minimum"},
	{BOUND_HIGH, "under less_than up_to at_most below maximum"},
};

/* Words that are an amount by themselves. */
static const struct {
	const char *word;
	int64_t at_least; /* thousandths */
} plural_words[] = {{"dozens", 24000}, {"hundreds", 200000}, {"thousands", 2000000}};

/* What has been read so far. */
struct scan {
	const char *text;
	size_t at;
	size_t start; /* of the figures, after the bound */
	const struct number_rules *rules;
	struct fault *why;
	enum bound bound;
	bool open;
	bool about;
	bool negative;
	bool wants_unit;
	double low;
	double high;
	const struct unit *unit;
	bool gallon_assumed;
	bool unit_assumed;
	double low_base; /* base units, rounded once at the end */
	double high_base;
};

static void skip_blank(struct scan *scan)
{
	while (scan->text[scan->at] == ' ')
		scan->at++;
}

static double exact_base(const struct unit *unit, double value, bool difference)
{
	bool fahrenheit = unit->dimension == DIMENSION_TEMPERATURE && unit->denominator == 9;
	if (fahrenheit && !difference)
		value -= 32;
	return value * (double)unit->numerator / (double)unit->denominator;
}

int64_t unit_to_base(const struct unit *unit, double value, bool difference)
{
	return round_i64(exact_base(unit, value, difference));
}

static void scan_bound(struct scan *scan)
{
	const char *text = scan->text + scan->at;
	size_t used = 0;
	if (text[0] == '~' || text[0] == '<' || text[0] == '>') {
		scan->bound = text[0] == '~'   ? BOUND_ABOUT
			      : text[0] == '<' ? BOUND_HIGH
					       : BOUND_LOW;
		used = 1;
	}
	for (size_t i = 0; i < sizeof(bound_table) / sizeof(bound_table[0]) && used == 0; i++) {
		used = plain_word_of(text, bound_table[i].words);
		scan->bound = used > 0 ? bound_table[i].bound : BOUND_EXACT;
	}
	scan->at += used;
	skip_blank(scan);
}

static enum status refuse_word(const struct scan *scan, size_t at)
{
	const char *text = scan->text + at;
	size_t length = strcspn(text, " ,;()");
	return fault_set(scan->why, STATUS_SYNTAX,
		"'%.*s' is not an amount: write a number and a unit, as 12 lb or 5.5 kg",
		(int)(length < 40 ? length : 40), text);
}

/* The unit at `at`: the longest spelling of one or two words; NULL when there is none. */
static const struct unit *unit_at(struct scan *scan, size_t at, size_t *end)
{
	const struct unit *found = NULL;
	const char *text = scan->text + at;
	size_t length = 0;
	int words = 0;
	*end = at;
	if (text[0] == '"' || text[0] == '\'' || text[0] == '%' || text[0] == '#') {
		*end = at + 1;
		return unit_find(text, 1, scan->rules, NULL);
	}
	while (plain_is_letter(text[length])) {
		while (plain_is_letter(text[length]) || plain_is_digit(text[length]) ||
			(text[length] == '/' && plain_is_letter(text[length + 1]))) {
			length++;
			bool ends = !plain_is_letter(text[length]) && !plain_is_digit(text[length]);
			bool assumed = false;
			const struct unit *unit =
				ends ? unit_find(text, length, scan->rules, &assumed) : NULL;
			if (unit == NULL)
				continue;
			found = unit;
			scan->gallon_assumed = assumed;
			*end = at + length;
		}
		if (++words == 2 || text[length] != ' ')
			break;
		length++;
	}
	return found;
}

/* A '.' that closes a unit, as in "12 kgs.". */
static void skip_full_stop(struct scan *scan)
{
	const char *text = scan->text + scan->at;
	if (text[0] == '.' && !plain_is_digit(text[1]) && !plain_is_letter(text[1]))
		scan->at++;
}

/* "20 lb" or "20lb", "5-gal". A number run into letters that are no unit is refused: 1e9, 0x10. */
static enum status scan_unit(struct scan *scan)
{
	size_t at = scan->at;
	bool hyphen = scan->text[at] == '-' && plain_is_letter(scan->text[at + 1]);
	if (scan->text[at] == ' ' || hyphen)
		at++;
	size_t end = at;
	const struct unit *unit = unit_at(scan, at, &end);
	if (unit != NULL) {
		scan->unit = unit;
		scan->at = end;
		if (plain_is_letter(scan->text[end - 1]))
			skip_full_stop(scan);
		return STATUS_OK;
	}
	bool runs_on = at == scan->at && at > 0 && plain_is_digit(scan->text[at - 1]) &&
		       plain_is_letter(scan->text[at]);
	return runs_on ? refuse_word(scan, scan->start) : STATUS_OK;
}

static enum status scan_number(struct scan *scan, double *value)
{
	struct number number;
	enum status status = number_scan(scan->text + scan->at, scan->rules, &number, scan->why);
	if (status != STATUS_OK)
		return status;
	*value = number.value;
	scan->about = scan->about || number.about;
	scan->wants_unit = number.wants_unit;
	scan->at += number.used;
	return STATUS_OK;
}

/* The second figure of a span, after '-', "to" or "or"; at stays put when there is none. */
static enum status scan_span(struct scan *scan)
{
	size_t start = scan->at;
	bool blank = scan->text[scan->at] == ' ';
	skip_blank(scan);
	const char *text = scan->text + scan->at;
	size_t joiner = plain_word_of(text, "to or");
	if (text[0] == '-' && (!blank || text[1] == ' '))
		joiner = 1;
	scan->at += joiner;
	skip_blank(scan);
	struct number number;
	bool more = joiner > 0 &&
		    number_scan(scan->text + scan->at, scan->rules, &number, NULL) == STATUS_OK;
	if (!more || number.wants_unit) {
		scan->at = start;
		return STATUS_OK;
	}
	enum status status = scan_number(scan, &scan->high);
	if (status == STATUS_OK && scan->text[scan->at] == '-' &&
		plain_is_digit(scan->text[scan->at + 1]))
		return fault_set(scan->why, STATUS_SYNTAX,
			"three figures with dashes are an analysis (fed 10-10-10) or a day, not "
			"an amount");
	return status;
}

static bool scan_plus(struct scan *scan)
{
	if (scan->text[scan->at] != '+' || plain_is_digit(scan->text[scan->at + 1]))
		return false;
	const char *after = scan->text + scan->at + 1 + strspn(scan->text + scan->at + 1, " ");
	struct number number;
	/* "71 qt + 5 gal" joins two amounts; "100+ lb" has no top. */
	if (scan->text[scan->at + 1] == ' ' && scan->at > 0 && scan->text[scan->at - 1] == ' ' &&
		number_scan(after, scan->rules, &number, NULL) == STATUS_OK)
		return false;
	scan->at++;
	scan->open = true;
	return true;
}

static enum status to_base(struct scan *scan, const struct unit *unit, double value, double *base)
{
	*base = unit == NULL ? value * 1000 : exact_base(unit, value, false);
	if (fabs(*base) > AMOUNT_BASE_MAX)
		return fault_set(scan->why, STATUS_RANGE, "%.10g %s is too large", value,
			unit == NULL ? "" : unit->name);
	return STATUS_OK;
}

/* Is b the smaller unit, and value less than one of a? Then it adds: 6 lb 4 oz. */
static bool falls(const struct unit *a, const struct unit *b, double value)
{
	double size_a = (double)a->numerator / (double)a->denominator;
	double size_b = (double)b->numerator / (double)b->denominator;
	bool summed = a->dimension == DIMENSION_MASS || a->dimension == DIMENSION_LENGTH ||
		      a->dimension == DIMENSION_VOLUME || a->dimension == DIMENSION_DURATION;
	return summed && a->dimension == b->dimension && size_b < size_a &&
	       value * size_b < size_a * (1 + 1e-9);
}

/* What a bare number after this unit counts; NULL: nothing. */
static const struct unit *next_smaller(const struct unit *unit)
{
	if (strcmp(unit->name, "st") == 0)
		return unit_named("lb");
	return strcmp(unit->name, "ft") == 0 ? unit_named("in") : NULL;
}

/* One more "4 oz" after "6 lb"; false when what follows does not add. */
static bool scan_smaller(struct scan *scan, const struct unit **last)
{
	struct scan next = *scan;
	struct number number;
	skip_blank(&next);
	next.unit = NULL;
	next.why = NULL;
	if (number_scan(next.text + next.at, next.rules, &number, NULL) != STATUS_OK ||
		number.wants_unit)
		return false;
	next.at += number.used;
	bool range = next.text[next.at] == '-' && plain_is_digit(next.text[next.at + 1]);
	if (range || scan_unit(&next) != STATUS_OK)
		return false;
	bool bare = next.unit == NULL;
	const struct unit *unit = bare ? next_smaller(*last) : next.unit;
	size_t word = next.at + strspn(next.text + next.at, " ");
	bool counts_else = bare && (plain_is_letter(next.text[word]) || next.text[word] == '/');
	if (unit == NULL || counts_else || !falls(*last, unit, number.value))
		return false;
	double more = exact_base(unit, number.value, false);
	next.unit = scan->unit;
	next.why = scan->why;
	next.low_base += more;
	next.high_base += more;
	next.unit_assumed = next.unit_assumed || bare;
	*scan = next;
	*last = unit;
	return true;
}

/* "40 lb to 50 lb": a second figure with its own unit of the same dimension. */
static enum status scan_far_end(struct scan *scan)
{
	struct scan next = *scan;
	next.high = next.low;
	enum status status = scan_span(&next);
	if (status != STATUS_OK || next.at == scan->at)
		return status;
	next.unit = NULL;
	status = scan_unit(&next);
	if (status != STATUS_OK || next.unit == NULL ||
		next.unit->dimension != scan->unit->dimension)
		return STATUS_OK;
	status = to_base(&next, next.unit, next.high, &next.high_base);
	next.unit = scan->unit;
	if (status == STATUS_OK)
		*scan = next;
	return status;
}

static enum status scan_figures(struct scan *scan)
{
	scan->negative = scan->text[scan->at] == '-';
	scan->at += scan->negative;
	enum status status = scan_number(scan, &scan->low);
	if (status != STATUS_OK)
		return status;
	scan->high = scan->low;
	if (!scan_plus(scan)) {
		status = scan_span(scan);
		scan_plus(scan);
	}
	return status == STATUS_OK ? scan_unit(scan) : status;
}

static enum status base_figures(struct scan *scan)
{
	if (scan->negative) {
		scan->low = -scan->low;
		scan->high = scan->high == -scan->low ? scan->low : scan->high;
	}
	bool degrees = scan->unit != NULL && scan->unit->dimension == DIMENSION_TEMPERATURE;
	if (scan->negative && !degrees)
		return fault_set(scan->why, STATUS_RANGE,
			"an amount is never below zero (only a temperature in C or F is)");
	enum status status = to_base(scan, scan->unit, scan->low, &scan->low_base);
	if (status == STATUS_OK)
		status = to_base(scan, scan->unit, scan->high, &scan->high_base);
	if (status == STATUS_OK && degrees && scan->low_base > scan->high_base) {
		double low = scan->high_base;
		scan->high_base = scan->low_base;
		scan->low_base = low;
	}
	return status;
}

/* "4 dozen fruit" says no more than "4 dozen". */
static void skip_dozen_noun(struct scan *scan)
{
	if (scan->unit == NULL || strcmp(scan->unit->name, "dozen") != 0)
		return;
	size_t blank = strspn(scan->text + scan->at, " ");
	size_t noun = plain_word_of(scan->text + scan->at + blank, "fruit fruits pieces");
	if (noun > 0)
		scan->at += blank + noun;
}

/* What may stand after figures and unit: smaller units, the far end, '+', "or so". */
static enum status scan_tail(struct scan *scan)
{
	enum status status = STATUS_OK;
	if (scan->unit != NULL && scan->low == scan->high) {
		const struct unit *last = scan->unit;
		while (scan_smaller(scan, &last))
			continue;
		if (last == scan->unit)
			status = scan_far_end(scan);
	}
	if (status != STATUS_OK)
		return status;
	scan_plus(scan);
	skip_dozen_noun(scan);
	size_t blank = strspn(scan->text + scan->at, " ");
	const char *text = scan->text + scan->at + blank;
	size_t so = plain_word_of(text, "or_so or_thereabouts");
	size_t more = plain_word_of(text, "or_more and_up");
	scan->about = scan->about || so > 0;
	scan->open = scan->open || more > 0;
	if (so + more > 0)
		scan->at += blank + so + more;
	return STATUS_OK;
}

static enum status take_bounds(struct scan *scan, struct amount *amount)
{
	if (scan->low_base > scan->high_base)
		return fault_set(scan->why, STATUS_RANGE,
			"the range runs backwards: write the smaller figure first");
	amount->dimension = scan->unit == NULL ? DIMENSION_NONE : scan->unit->dimension;
	amount->about = scan->about || scan->bound == BOUND_ABOUT;
	amount->low = known_i64(scan->bound == BOUND_HIGH ? 0 : round_i64(scan->low_base));
	/* Nothing is less than none, but a temperature has no bottom. */
	if (scan->bound == BOUND_HIGH && amount->dimension == DIMENSION_TEMPERATURE)
		amount->low = (struct maybe_i64){.known = false};
	if (!scan->open && scan->bound != BOUND_LOW)
		amount->high = known_i64(round_i64(scan->high_base));
	return STATUS_OK;
}

static bool plural_word(const char *text, struct amount *amount, size_t *used)
{
	for (size_t i = 0; i < sizeof(plural_words) / sizeof(plural_words[0]); i++) {
		*used = plain_word(text, plural_words[i].word);
		if (*used == 0)
			continue;
		amount->dimension = DIMENSION_COUNT;
		amount->low = known_i64(plural_words[i].at_least);
		return true;
	}
	return false;
}

/* "/ 4.5 kg" after "10 lb": the same amount again. Within 2 % it is taken in, else asked. */
static enum status scan_again(struct scan *scan, struct amount *amount)
{
	size_t at = scan->at + strspn(scan->text + scan->at, " ");
	if (scan->text[at] != '/')
		return STATUS_OK;
	at += 1 + strspn(scan->text + at + 1, " ");
	if (!plain_is_digit(scan->text[at]))
		return STATUS_OK;
	struct amount other;
	struct amount_notes notes;
	size_t used = 0;
	enum status status =
		amount_scan_plain(scan->text + at, scan->rules, &other, &notes, &used, scan->why);
	if (status != STATUS_OK || other.dimension != amount->dimension)
		return status;
	if (!amounts_agree(amount, &other))
		return fault_set(scan->why, STATUS_DOUBT,
			"the two sides of '/' are not the same amount: write one of them");
	scan->at = at + used;
	return STATUS_OK;
}

static bool is_no_number(const char *text)
{
	return plain_word_of(text, "nan inf infinity") > 0;
}

static enum status scan_quantity(struct scan *scan, struct amount *amount)
{
	scan_bound(scan);
	scan->start = scan->at;
	if (is_no_number(scan->text + scan->at))
		return refuse_word(scan, scan->at);
	enum status status = scan_figures(scan);
	if (status == STATUS_OK && scan->wants_unit && scan->unit == NULL)
		return STATUS_ABSENT;
	if (status == STATUS_OK)
		status = base_figures(scan);
	if (status == STATUS_OK)
		status = scan_tail(scan);
	if (status == STATUS_OK)
		status = take_bounds(scan, amount);
	return status == STATUS_OK && scan->unit != NULL ? scan_again(scan, amount) : status;
}

enum status amount_scan_plain(const char *text, const struct number_rules *rules,
	struct amount *out, struct amount_notes *notes, size_t *used, struct fault *why)
{
	struct scan scan = {.text = text, .rules = rules, .why = why};
	struct amount amount = {.dimension = DIMENSION_NONE};
	if (!plural_word(text, &amount, &scan.at)) {
		scan.at = 0;
		enum status status = scan_quantity(&scan, &amount);
		if (status == STATUS_ABSENT)
			return fault_set(why, STATUS_ABSENT, "no amount here");
		if (status != STATUS_OK)
			return status;
	}
	if (scan.at >= TYPED_SIZE)
		return fault_set(
			why, STATUS_RANGE, "an amount of more than %d bytes", TYPED_SIZE - 1);
	memcpy(amount.typed, text, scan.at);
	amount.typed[scan.at] = '\0';
	*notes = (struct amount_notes){.unit = scan.unit,
		.gallon_assumed = scan.gallon_assumed,
		.unit_assumed = scan.unit_assumed,
		.low = scan.low,
		.high = scan.high};
	*out = amount;
	*used = scan.at;
	return STATUS_OK;
}

enum status amount_scan(const char *text, const struct number_rules *rules, struct amount *out,
	size_t *used, struct fault *why)
{
	struct plain plain;
	struct amount_notes notes;
	struct amount amount;
	size_t length = 0;
	enum status status = plain_make(text, QUANTITY_BYTES_MAX, &plain, why);
	if (status == STATUS_OK)
		status = amount_scan_plain(plain.low, rules, &amount, &notes, &length, why);
	if (status != STATUS_OK)
		return status;
	memcpy(amount.typed, plain.text, length);
	*used = plain.at[length];
	*out = amount;
	return STATUS_OK;
}
