/* SPDX-License-Identifier: MIT */
/* measure.h - amounts as whole numbers of one base unit a dimension, and what was typed.
 *
 * Reads what a person types and prints it back; all conversion and rounding happens here.
 * Factors: NIST SP 811 (exact by definition). Allocates nothing, reads no clock. */
#ifndef CORE_MEASURE_H
#define CORE_MEASURE_H

#include <stddef.h>

#include "core/fault.h"
#include "core/limits.h"
#include "core/maybe.h"

/* What is measured, and the base unit that `low` and `high` count. */
enum dimension {
	DIMENSION_NONE,        /* a bare number, thousandths */
	DIMENSION_COUNT,       /* thousandths of a piece: "half a wheelbarrow" is 500 */
	DIMENSION_MASS,        /* milligrams */
	DIMENSION_LENGTH,      /* micrometres */
	DIMENSION_VOLUME,      /* microlitres */
	DIMENSION_SHARE,       /* permille; of what (crown, shoots, open flowers) is the field's */
	DIMENSION_DURATION,    /* seconds */
	DIMENSION_DAYS,        /* days */
	DIMENSION_TEMPERATURE, /* tenths of a degree Celsius */
	DIMENSION_FLOW,        /* microlitres an hour */
	DIMENSION_SPEED,       /* millimetres a second (wind) */
	DIMENSION_AREA,        /* square millimetres */
	DIMENSION_ANALYSIS,    /* thousandths of a percent */
	DIMENSION_CODE,        /* a growth-stage code, as it stands */
	DIMENSION_TOTAL
};

enum unit_system { UNITS_UNSET, UNITS_US, UNITS_SI };
enum gallon { GALLON_UNSET, GALLON_US, GALLON_IMPERIAL };
enum number_style { NUMBERS_UNSET, NUMBERS_POINT, NUMBERS_COMMA };

/* How numbers are read here: the place's settings. Unset: what is clear is read, what could
 * mean two things is asked (STATUS_DOUBT). */
struct number_rules {
	enum unit_system units;
	enum gallon gallon;
	enum number_style style;
};

/* One row of the unit table: every spelling that is read, and what it is worth. */
struct unit {
	const char *name;      /* as printed: "lb" */
	const char *plural;    /* "lb", "bushels" */
	const char *initials;  /* the first byte of each spelling: "lp#" */
	const char *spellings; /* blank-separated, lower case: "lb lbs pound pounds #" */
	enum dimension dimension;
	int64_t numerator; /* base units = value * numerator / denominator */
	int64_t denominator;
	enum unit_system system; /* UNITS_UNSET: both */
};

/* The table, ended by a row with name NULL. Gallons, quarts and cups stand in it twice. */
const struct unit *unit_table(void);
/* The unit spelled in text[0..length); NULL when there is none. An unset gallon gives the US
 * one and sets *assumed. */
const struct unit *unit_find(
	const char *text, size_t length, const struct number_rules *rules, bool *assumed);

/* An amount: what was typed and what it means. Exact: low = high. About: the same, `about` set,
 * not widened. Range: both. At least: high unknown. Under x: low 0, high x. None seen:
 * low = high = 0 and `none`. Words only ("plenty"): neither known. */
struct amount {
	enum dimension dimension;
	int32_t field; /* enum field of core/kind.h */
	struct maybe_i64 low;
	struct maybe_i64 high;
	bool about;
	bool none;
	char typed[TYPED_SIZE];    /* as typed: "2 lb 6 oz" */
	char container[NAME_SIZE]; /* "" or the grower's own container */
	/* With a container: how many, thousandths; low/high then are made on reading. */
	struct maybe_i64 containers_low;
	struct maybe_i64 containers_high;
};

/* Middle of a closed range, low of an open one; unknown when nothing is known. */
struct maybe_i64 amount_point(const struct amount *amount);

/* A sum of amounts as decided for totals: lows add, highs add, an open high opens the sum. */
struct amount_sum {
	int64_t low;
	int64_t high;
	bool high_open;  /* at least one part had no top */
	int32_t parts;   /* how many amounts were added */
	int32_t missing; /* how many had no figure: "+2 not weighed" */
	bool about;      /* any part was about, a range or an estimate */
	bool none;       /* only "none seen" so far */
};
void amount_sum_add(struct amount_sum *sum, const struct amount *amount);
struct maybe_i64 amount_sum_point(const struct amount_sum *sum);

/* Reads one whole quantity: bound, span, mixed units ("about 3 lb 6 oz", "40-50 lb", "1 1/2 kg",
 * "a couple dozen", "100+ lb", "2 st 4"). wanted: the dimension asked for (a bare number takes
 * default_unit, which may be NULL: then a bare number is refused). Whole text must be used.
 * STATUS_SYNTAX, STATUS_RANGE (negative, NaN, 1e9, hex), STATUS_DOUBT (both meanings in *why).
 * On failure *out is untouched. */
enum status amount_parse(const char *text, enum dimension wanted, const char *default_unit,
	const struct number_rules *rules, struct amount *out, struct fault *why) MUST_CHECK;

/* The same for a figure of which the unit was said elsewhere: "-2.5" in base units of `unit`. Only
 * what is plain, so that a long file is read quickly. false: amount_parse with the unit says. */
bool figure_quick(const char *text, const struct unit *unit, int64_t *base);

/* The longest quantity at the start of text, for the entry line: *used is how many bytes of text
 * it took. STATUS_ABSENT when text does not start with a quantity. The dimension is the unit's;
 * a bare number is DIMENSION_NONE. */
enum status amount_scan(const char *text, const struct number_rules *rules, struct amount *out,
	size_t *used, struct fault *why) MUST_CHECK;

/* Plain lengths, masses, volumes from options ("3m", "12 ft", "9lb"): exact only. */
enum status length_parse(const char *text, const struct number_rules *rules, int64_t *length_um,
	struct fault *why) MUST_CHECK;
enum status mass_parse(const char *text, const struct number_rules *rules, int64_t *mass_mg,
	struct fault *why) MUST_CHECK;
enum status volume_parse(const char *text, const struct number_rules *rules, int64_t *volume_ul,
	struct fault *why) MUST_CHECK;
enum status temperature_parse(const char *text, const struct number_rules *rules, bool difference,
	int32_t *decic, struct fault *why) MUST_CHECK;

/* For people, in the place's units, digits that the size deserves: "6 lb 4 oz", "2.83 kg",
 * "41 cm", "12 gal". Each returns out. size >= 24. */
const char *mass_format(int64_t mass_mg, enum unit_system units, char *out, int size);
const char *length_format(int64_t length_um, enum unit_system units, char *out, int size);
const char *volume_format(int64_t volume_ul, const struct number_rules *rules, char *out, int size);
const char *temperature_format(int32_t decic, enum unit_system units, char *out, int size);
/* How far two temperatures lie apart, without a sign: "3 F", "1.7 C". A whole degree Fahrenheit
 * comes back as it was told, though tenths of a degree Celsius are kept. size >= 24. */
const char *temperature_gap_format(int32_t decic, enum unit_system units, char *out, int size);
/* Two significant figures, for estimates: "8 lb", "0.35 kg", "120 lb". */
const char *mass_format_rough(int64_t mass_mg, enum unit_system units, char *out, int size);
const char *volume_format_rough(
	int64_t volume_ul, const struct number_rules *rules, char *out, int size);
/* As typed when there is something typed, else worked out from low and high. */
const char *amount_format(
	const struct amount *amount, const struct number_rules *rules, char *out, int size);

/* Rounds half away from zero; asserts that the result fits. */
int64_t round_i64(double value);

#endif
