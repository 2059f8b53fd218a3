/* SPDX-License-Identifier: MIT */
#include "core/measure.h"

#include <string.h>

#include "support/table.h"
#include "support/test.h"

enum { OPEN = -1 };

struct good {
	const char *name;
	const char *text;
	enum dimension wanted;
	const char *default_unit;
	struct number_rules rules;
	int64_t low;
	int64_t high; /* OPEN: no top */
	bool about;
};

/* clang-format off */
static const struct good goods[] = {
	{"pounds_and_ounces_add", "3 lb 6 oz", DIMENSION_MASS, NULL, {0}, 1530874, 1530874, false},
	{"stone_takes_bare_pounds", "2 st 4", DIMENSION_MASS, NULL, {0}, 14514956, 14514956, false},
	{"mixed_fraction_is_one_number", "1 1/2 bu", DIMENSION_VOLUME, NULL, {0}, 52858605, 52858605, false},
	{"vulgar_fraction_is_the_same", "1\xC2\xBD bu", DIMENSION_VOLUME, NULL, {0}, 52858605, 52858605, false},
	{"hyphen_fraction_is_the_same", "1-1/2 bu", DIMENSION_VOLUME, NULL, {0}, 52858605, 52858605, false},
	{"two_thirds", "2\xE2\x85\x94 lb", DIMENSION_MASS, NULL, {0}, 1209580, 1209580, false},
	{"half_a_bushel", "half a bushel", DIMENSION_VOLUME, NULL, {0}, 17619535, 17619535, false},
	{"range_with_hyphen", "40-50 lb", DIMENSION_MASS, NULL, {0}, 18143695, 22679619, false},
	{"range_with_dash", "40\xE2\x80\x93" "50 lb", DIMENSION_MASS, NULL, {0}, 18143695, 22679619, false},
	{"range_with_to", "40 to 50 lb", DIMENSION_MASS, NULL, {0}, 18143695, 22679619, false},
	{"range_with_two_units", "40 lb to 50 lb", DIMENSION_MASS, NULL, {0}, 18143695, 22679619, false},
	{"tilde_is_about", "~40lbs", DIMENSION_MASS, NULL, {0}, 18143695, 18143695, true},
	{"about_mixed_units", "about 3 lb 6 oz", DIMENSION_MASS, NULL, {0}, 1530874, 1530874, true},
	{"or_so_is_about", "2 kg or so", DIMENSION_MASS, NULL, {0}, 2000000, 2000000, true},
	{"plus_has_no_top", "100+ lb", DIMENSION_MASS, NULL, {0}, 45359237, OPEN, false},
	{"plus_behind_the_unit", "100 lb+", DIMENSION_MASS, NULL, {0}, 45359237, OPEN, false},
	{"at_least_has_no_top", "at least 5 kg", DIMENSION_MASS, NULL, {0}, 5000000, OPEN, false},
	{"under_starts_at_zero", "under 5 kilos", DIMENSION_MASS, NULL, {0}, 0, 5000000, false},
	{"up_to_starts_at_zero", "up to 5 kilos", DIMENSION_MASS, NULL, {0}, 0, 5000000, false},
	{"dozens_multiply", "4 doz", DIMENSION_COUNT, NULL, {0}, 48000, 48000, false},
	{"three_or_four_dozen", "3 or 4 dozen", DIMENSION_COUNT, NULL, {0}, 36000, 48000, false},
	{"a_couple_dozen_is_about", "a couple dozen", DIMENSION_COUNT, NULL, {0}, 24000, 24000, true},
	{"half_a_dozen", "half a dozen", DIMENSION_COUNT, NULL, {0}, 6000, 6000, false},
	{"dozen_fruit", "2 dozen fruit", DIMENSION_COUNT, NULL, {0}, 24000, 24000, false},
	{"hundreds_have_no_top", "hundreds", DIMENSION_COUNT, NULL, {0}, 200000, OPEN, false},
	{"number_words", "seven kg", DIMENSION_MASS, NULL, {0}, 7000000, 7000000, false},
	{"decimal_comma_where_set", "1,5 kg", DIMENSION_MASS, NULL, {.style = NUMBERS_COMMA}, 1500000, 1500000, false},
	{"comma_thousands_where_point_set", "1,500 g", DIMENSION_MASS, NULL, {.style = NUMBERS_POINT}, 1500000, 1500000, false},
	{"point_thousands_where_comma_set", "1.500 g", DIMENSION_MASS, NULL, {.style = NUMBERS_COMMA}, 1500000, 1500000, false},
	{"comma_decimals_where_comma_set", "1,500 g", DIMENSION_MASS, NULL, {.style = NUMBERS_COMMA}, 1500, 1500, false},
	{"zero_before_comma_is_clear", "0,5 kg", DIMENSION_MASS, NULL, {0}, 500000, 500000, false},
	{"two_groups_are_clear", "1,234,500 g", DIMENSION_MASS, NULL, {0}, 1234500000, 1234500000, false},
	{"both_marks_are_clear", "1.234,5 g", DIMENSION_MASS, NULL, {0}, 1234500, 1234500, false},
	{"leading_point", ".5 kg", DIMENSION_MASS, NULL, {0}, 500000, 500000, false},
	{"full_stop_after_unit", "12kgs.", DIMENSION_MASS, NULL, {0}, 12000000, 12000000, false},
	{"no_break_space", "12\xC2\xA0kg", DIMENSION_MASS, NULL, {0}, 12000000, 12000000, false},
	{"full_width_digits", "\xEF\xBC\x91\xEF\xBC\x92 kg", DIMENSION_MASS, NULL, {0}, 12000000, 12000000, false},
	{"capitals", "12 KG", DIMENSION_MASS, NULL, {0}, 12000000, 12000000, false},
	{"two_sides_that_agree", "10 lb / 4.5 kg", DIMENSION_MASS, NULL, {0}, 4535924, 4535924, false},
	{"feet_and_inches", "4'7\"", DIMENSION_LENGTH, NULL, {0}, 1397000, 1397000, false},
	{"feet_and_bare_inches", "5 ft 6", DIMENSION_LENGTH, NULL, {0}, 1676400, 1676400, false},
	{"prime_marks", "2\xE2\x80\xB2" "6\xE2\x80\xB3", DIMENSION_LENGTH, NULL, {0}, 762000, 762000, false},
	{"eighths", "5 1/8 in", DIMENSION_LENGTH, NULL, {0}, 130175, 130175, false},
	{"hours_and_minutes", "1 h 30 min", DIMENSION_DURATION, NULL, {0}, 5400, 5400, false},
	{"weeks", "4-6 wks", DIMENSION_DAYS, NULL, {0}, 28, 42, false},
	{"months", "3 months", DIMENSION_DAYS, NULL, {0}, 91, 91, false},
	{"imperial_gallon_where_set", "5 gal", DIMENSION_VOLUME, NULL, {.gallon = GALLON_IMPERIAL}, 22730450, 22730450, false},
	{"imperial_gallon_when_said", "5 imperial gallons", DIMENSION_VOLUME, NULL, {0}, 22730450, 22730450, false},
	{"us_gallon_when_said", "5 us gal", DIMENSION_VOLUME, NULL, {.gallon = GALLON_IMPERIAL}, 18927059, 18927059, false},
	{"flow", "2 l/h", DIMENSION_FLOW, NULL, {0}, 2000000, 2000000, false},
	{"wind", "36 km/h", DIMENSION_SPEED, NULL, {0}, 10000, 10000, false},
	{"minus_sign", "\xE2\x88\x92" "2\xC2\xB0" "C", DIMENSION_TEMPERATURE, NULL, {0}, -20, -20, false},
	{"minus_hyphen", "-2C", DIMENSION_TEMPERATURE, NULL, {0}, -20, -20, false},
	{"one_degree_sign", "\xE2\x84\x83", DIMENSION_NONE, NULL, {0}, -99, -99, false},
	{"fahrenheit", "28 F", DIMENSION_TEMPERATURE, NULL, {0}, -22, -22, false},
	{"fahrenheit_range", "24-26 F", DIMENSION_TEMPERATURE, NULL, {0}, -44, -33, false},
	{"percent", "20%", DIMENSION_SHARE, NULL, {0}, 200, 200, false},
	{"bare_count", "85", DIMENSION_COUNT, NULL, {0}, 85000, 85000, false},
	{"bare_number_in_default_unit", "3.5", DIMENSION_MASS, "kg", {0}, 3500000, 3500000, false},
	{"bare_code", "65", DIMENSION_CODE, NULL, {0}, 65, 65, false},
};

struct bad {
	const char *name;
	const char *text;
	enum dimension wanted;
	struct number_rules rules;
	enum status status;
	const char *says;
};

static const struct bad bads[] = {
	{"negative_weight", "-3 kg", DIMENSION_MASS, {0}, STATUS_RANGE, "never below zero"},
	{"not_a_number", "NaN", DIMENSION_MASS, {0}, STATUS_SYNTAX, "not an amount"},
	{"infinity", "inf kg", DIMENSION_MASS, {0}, STATUS_SYNTAX, "not an amount"},
	{"hexadecimal", "0x10", DIMENSION_MASS, {0}, STATUS_SYNTAX, "'0x10' is not an amount"},
	{"exponent", "1e9", DIMENSION_MASS, {0}, STATUS_SYNTAX, "'1e9' is not an amount"},
	{"unknown_unit_k", "12 K", DIMENSION_MASS, {0}, STATUS_SYNTAX, "'12 K' is not understood"},
	{"no_unit", "12", DIMENSION_MASS, {0}, STATUS_SYNTAX, "has no unit"},
	{"other_measure", "12 cm", DIMENSION_MASS, {0}, STATUS_SYNTAX, "another measure"},
	{"comma_with_two_meanings", "1,500 g", DIMENSION_MASS, {0}, STATUS_DOUBT, "1.5 or 1500"},
	{"point_with_two_meanings", "1.500 kg", DIMENSION_MASS, {0}, STATUS_DOUBT, "1.5 or 1500"},
	{"decimal_comma_unset", "1,5 kg", DIMENSION_MASS, {0}, STATUS_DOUBT, "1.5 or 15"},
	{"decimal_comma_where_point_set", "1,5 kg", DIMENSION_MASS, {.style = NUMBERS_POINT}, STATUS_DOUBT, "1.5 or 15"},
	{"two_sides_that_differ", "10 lb / 5.5 kg", DIMENSION_MASS, {0}, STATUS_DOUBT, "not the same amount"},
	{"backwards_range", "50-40 lb", DIMENSION_MASS, {0}, STATUS_RANGE, "backwards"},
	{"too_large", "9999999999 kg", DIMENSION_MASS, {0}, STATUS_RANGE, "too large"},
	{"a_million_tonnes", "999999999 t", DIMENSION_MASS, {0}, STATUS_RANGE, "too large"},
	{"too_fine", "0.1234567 kg", DIMENSION_MASS, {0}, STATUS_RANGE, "six places"},
	{"crooked_groups", "1,23,456 g", DIMENSION_MASS, {0}, STATUS_SYNTAX, "not a number"},
	{"analysis_is_no_amount", "10-10-10", DIMENSION_MASS, {0}, STATUS_SYNTAX, "analysis"},
	{"below_the_bar_zero", "1/0 lb", DIMENSION_MASS, {0}, STATUS_SYNTAX, "not understood"},
	{"empty", "  ", DIMENSION_MASS, {0}, STATUS_SYNTAX, "empty"},
	{"lone_dash", "-", DIMENSION_MASS, {0}, STATUS_SYNTAX, "not understood"},
	{"words_behind", "12 kg of nuts", DIMENSION_MASS, {0}, STATUS_SYNTAX, "not understood"},
	{"control_character", "12\x01kg", DIMENSION_MASS, {0}, STATUS_SYNTAX, "U+0001"},
	{"broken_utf8", "12 \xFF kg", DIMENSION_MASS, {0}, STATUS_SYNTAX, "UTF-8"},
};

struct shown {
	const char *name;
	enum dimension dimension;
	int64_t base;
	struct number_rules rules;
	const char *says;
};

static const struct shown showns[] = {
	{"ounces", DIMENSION_MASS, 127573, {.units = UNITS_US}, "4.5 oz"},
	{"pounds_and_ounces", DIMENSION_MASS, 2834952, {.units = UNITS_US}, "6 lb 4 oz"},
	{"whole_pounds", DIMENSION_MASS, 2721554, {.units = UNITS_US}, "6 lb"},
	{"almost_a_pound", DIMENSION_MASS, 453000, {.units = UNITS_US}, "1 lb"},
	{"large_pounds", DIMENSION_MASS, 59556678, {.units = UNITS_US}, "131.3 lb"},
	{"grams", DIMENSION_MASS, 350000, {.units = UNITS_SI}, "350 g"},
	{"kilograms", DIMENSION_MASS, 2834952, {.units = UNITS_SI}, "2.83 kg"},
	{"unset_units_are_metric", DIMENSION_MASS, 12000000, {0}, "12 kg"},
	{"centimetres", DIMENSION_LENGTH, 410000, {.units = UNITS_SI}, "41 cm"},
	{"metres", DIMENSION_LENGTH, 3050000, {.units = UNITS_SI}, "3.05 m"},
	{"inches", DIMENSION_LENGTH, 190500, {.units = UNITS_US}, "7.5 in"},
	{"feet", DIMENSION_LENGTH, 3657600, {.units = UNITS_US}, "12 ft"},
	{"feet_inches", DIMENSION_LENGTH, 3810000, {.units = UNITS_US}, "12 ft 6 in"},
	{"gallons", DIMENSION_VOLUME, 45424941, {.units = UNITS_US}, "12 gal"},
	{"imperial_gallons", DIMENSION_VOLUME, 45460900, {.units = UNITS_US, .gallon = GALLON_IMPERIAL}, "10 imp gal"},
	{"litres", DIMENSION_VOLUME, 56800000, {.units = UNITS_SI}, "56.8 l"},
	{"below_zero", DIMENSION_TEMPERATURE, -20, {.units = UNITS_SI}, "-2 C"},
	{"fahrenheit_back", DIMENSION_TEMPERATURE, -22, {.units = UNITS_US}, "28 F"},
	{"no_minus_zero", DIMENSION_TEMPERATURE, -178, {.units = UNITS_US}, "0 F"},
	{"share", DIMENSION_SHARE, 333, {0}, "33.3 %"},
	{"minutes", DIMENSION_DURATION, 2100, {0}, "35 min"},
	{"hours", DIMENSION_DURATION, 5400, {0}, "1 h 30 min"},
	{"days", DIMENSION_DAYS, 1, {0}, "1 day"},
	{"half_a_piece", DIMENSION_COUNT, 500, {0}, "0.5"},
	{"analysis", DIMENSION_ANALYSIS, 10000, {0}, "10 %"},
};
/* clang-format on */

static void reads_amount(const void *one)
{
	const struct good *good = one;
	struct amount amount = {0};
	struct fault why = {0};
	if (good->low == -99) {
		check_refused(amount_parse(good->text, DIMENSION_TEMPERATURE, NULL, &good->rules,
				      &amount, &why),
			STATUS_SYNTAX, &why, "not understood");
		return;
	}
	check_ok(amount_parse(
			 good->text, good->wanted, good->default_unit, &good->rules, &amount, &why),
		&why);
	check_int(amount.dimension, good->wanted, "dimension");
	check_int(amount.low.value, good->low, "low");
	check_int(amount.high.known, good->high != OPEN, "has a top");
	if (good->high != OPEN)
		check_int(amount.high.value, good->high, "high");
	check_int(amount.about, good->about, "about");
	check_int(amount.none, false, "none");
}

static void refuses_amount(const void *one)
{
	const struct bad *bad = one;
	struct amount amount = {.field = 77};
	struct fault why = {0};
	check_refused(amount_parse(bad->text, bad->wanted, NULL, &bad->rules, &amount, &why),
		bad->status, &why, bad->says);
	check_int(amount.field, 77, "left alone");
}

static void shows_amount(const void *one)
{
	const struct shown *shown = one;
	struct amount amount = {.dimension = shown->dimension,
		.low = known_i64(shown->base),
		.high = known_i64(shown->base)};
	char out[64];
	check_text(amount_format(&amount, &shown->rules, out, sizeof(out)), shown->says, "shown");
}

/* A unit of tests/outside/units.tsv against the figure of the published table. */
static void unit_is_as_published(const struct table_row *row)
{
	struct number_rules rules = {.style = NUMBERS_POINT};
	struct amount amount;
	struct fault why;
	check_ok(amount_parse(row_text(row, "typed"), DIMENSION_NONE, NULL, &rules, &amount, &why),
		&why);
	double got = (double)amount.low.value / row_number(row, "base_per_unit");
	check_close(got, row_number(row, "expected"), row_number(row, "tolerance"),
		row_text(row, "expected_unit"));
}

static void zero_and_none_are_seen_as_none(void **state)
{
	(void)state;
	const char *const texts[] = {"none", "nil", "0", "0 lb", "None"};
	struct number_rules rules = {0};
	for (size_t i = 0; i < 5; i++) {
		struct amount amount;
		struct fault why;
		check_ok(amount_parse(texts[i], i == 3 ? DIMENSION_MASS : DIMENSION_COUNT, NULL,
				 &rules, &amount, &why),
			&why);
		check_int(amount.none, true, texts[i]);
		check_int(amount.high.value, 0, texts[i]);
	}
	struct amount freezing;
	check_ok(amount_parse("0 C", DIMENSION_TEMPERATURE, NULL, &rules, &freezing, NULL), NULL);
	check_int(freezing.none, false, "0 C is a temperature");
	check_ok(amount_parse("below -2 C", DIMENSION_TEMPERATURE, NULL, &rules, &freezing, NULL),
		NULL);
	check_int(freezing.low.known, false, "cold has no bottom");
	check_int(freezing.high.value, -20, "below -2 C");
}

static void scan_takes_the_longest_amount_and_says_how_much(void **state)
{
	(void)state;
	struct number_rules rules = {0};
	struct amount amount;
	size_t used = 0;
	struct fault why;
	const char *text = "6 lb 4 oz, 85 fruit";
	check_ok(amount_scan(text, &rules, &amount, &used, &why), &why);
	check_int((int64_t)used, 9, "used");
	check_text(amount.typed, "6 lb 4 oz", "typed");
	check_int(amount.low.value, 2834952, "low");
	check_ok(amount_scan("5 lb 10-10-10", &rules, &amount, &used, &why), &why);
	check_int((int64_t)used, 4, "the analysis is left");
	check_ok(amount_scan("71 qt + 5 gal", &rules, &amount, &used, &why), &why);
	check_int((int64_t)used, 5, "a plus between two amounts is left");
	check_int(amount.high.known, true, "and opens nothing");
	check_ok(amount_scan("1\xC2\xBD bu pears", &rules, &amount, &used, &why), &why);
	check_int((int64_t)used, 6, "bytes of the source, not of the plain form");
	check_text(amount.typed, "1\xC2\xBD bu", "typed with its own sign");
	check_refused(amount_scan("aphids", &rules, &amount, &used, &why), STATUS_ABSENT, &why, "");
	check_refused(amount_scan("a bag", &rules, &amount, &used, &why), STATUS_ABSENT, &why, "");
}

static void options_take_exact_figures_only(void **state)
{
	(void)state;
	struct number_rules rules = {0};
	struct fault why;
	int64_t base = -1;
	int32_t decic = -1;
	check_ok(length_parse("3m", &rules, &base, &why), &why);
	check_int(base, 3000000, "3m");
	check_ok(mass_parse("9lb", &rules, &base, &why), &why);
	check_int(base, 4082331, "9lb");
	check_ok(volume_parse("60l", &rules, &base, &why), &why);
	check_int(base, 60000000, "60l");
	check_refused(length_parse("about 3 m", &rules, &base, &why), STATUS_SYNTAX, &why, "exact");
	check_refused(length_parse("3-4 m", &rules, &base, &why), STATUS_SYNTAX, &why, "exact");
	check_refused(length_parse("none", &rules, &base, &why), STATUS_SYNTAX, &why, "length");
	check_refused(length_parse("3", &rules, &base, &why), STATUS_SYNTAX, &why, "no unit");
	check_int(base, 60000000, "left alone");
	check_ok(temperature_parse("-2F", &rules, true, &decic, &why), &why);
	check_int(decic, -11, "a gap of -2 F");
	check_ok(temperature_parse("-2F", &rules, false, &decic, &why), &why);
	check_int(decic, -189, "-2 F on the scale");
	check_ok(temperature_parse("1.5 C", &rules, true, &decic, &why), &why);
	check_int(decic, 15, "a gap of 1.5 C");
	check_refused(
		temperature_parse("400 C", &rules, false, &decic, &why), STATUS_RANGE, &why, "100");
}

static void estimates_have_two_figures(void **state)
{
	(void)state;
	char out[32];
	check_text(mass_format_rough(3628739, UNITS_US, out, 32), "8 lb", "8 lb");
	check_text(mass_format_rough(3900000, UNITS_US, out, 32), "8.6 lb", "8.6 lb");
	check_text(mass_format_rough(54884676, UNITS_US, out, 32), "120 lb", "121 lb");
	check_text(mass_format_rough(352000, UNITS_SI, out, 32), "0.35 kg", "352 g");
	check_text(mass_format_rough(40400, UNITS_SI, out, 32), "40 g", "40.4 g");
	check_text(mass_format_rough(0, UNITS_SI, out, 32), "0 g", "nothing");
}

static void estimates_of_volumes_have_two_figures_too(void **state)
{
	(void)state;
	const struct number_rules us = {.units = UNITS_US};
	const struct number_rules uk = {.units = UNITS_US, .gallon = GALLON_IMPERIAL};
	const struct number_rules si = {.units = UNITS_SI};
	char out[32];
	check_text(volume_format_rough(1482300000, &us, out, 32), "390 gal", "392 gal");
	check_text(volume_format_rough(1482300000, &uk, out, 32), "330 imp gal", "326 imp gal");
	check_text(volume_format_rough(1482300000, &si, out, 32), "1500 l", "1482 l");
	check_text(volume_format_rough(2837000, &si, out, 32), "2.8 l", "2.8 l");
	check_text(volume_format_rough(444000, &si, out, 32), "440 ml", "444 ml");
	check_text(volume_format_rough(0, &us, out, 32), "0 gal", "nothing");
}

/* A pound on 1,000 square feet, by the units themselves. */
static void rates_of_two_units_agree(void **state)
{
	(void)state;
	struct number_rules rules = {0};
	struct amount area;
	int64_t mass_mg = 0;
	check_ok(mass_parse("1000 lb", &rules, &mass_mg, NULL), NULL);
	check_ok(amount_parse("1000 sq ft", DIMENSION_AREA, NULL, &rules, &area, NULL), NULL);
	double g = (double)mass_mg / 1e6;
	double m2 = (double)area.low.value / 1e6;
	check_close(g / m2, 4.882428, 1e-6, "g a square metre");
	check_ok(amount_parse("1 acre", DIMENSION_AREA, NULL, &rules, &area, NULL), NULL);
	double ha = (double)area.low.value / 1e10;
	check_close((double)mass_mg / 1e9 / ha, 1.120851, 1e-6, "kg a hectare");
}

/* Whole degrees Fahrenheit come back whole from tenths of a degree Celsius. */
static void a_gap_of_temperatures_is_told_as_it_was_typed(void **state)
{
	struct number_rules rules = {.style = NUMBERS_POINT, .units = UNITS_US};

	(void)state;
	for (int degrees = -20; degrees <= 20; degrees++) {
		char typed[32], want[32], out[32];
		int32_t decic = 0;
		struct fault why = {0};

		snprintf(typed, sizeof typed, "%dF", degrees);
		snprintf(want, sizeof want, "%d F", degrees < 0 ? -degrees : degrees);
		check_ok(temperature_parse(typed, &rules, true, &decic, &why), &why);
		check_text(temperature_gap_format(decic, UNITS_US, out, 32), want, typed);
	}
	char out[32];
	check_text(temperature_gap_format(-20, UNITS_US, out, 32), "3.6 F", "2 C");
	check_text(temperature_gap_format(-17, UNITS_SI, out, 32), "1.7 C", "1.7 C");
}

static void sums_keep_bounds_gaps_and_zeros(void **state)
{
	(void)state;
	struct amount_sum sum = {0};
	check_int(amount_sum_point(&sum).known, false, "nothing added");
	struct amount none = {.low = known_i64(0), .high = known_i64(0), .none = true};
	amount_sum_add(&sum, &none);
	check_int(sum.none, true, "only none");
	check_int(amount_sum_point(&sum).value, 0, "an observed zero");
	struct amount exact = {.low = known_i64(500), .high = known_i64(500)};
	amount_sum_add(&sum, &exact);
	check_int(sum.none, false, "no longer none");
	check_int(sum.about, false, "exact");
	struct amount words = {0};
	amount_sum_add(&sum, &words);
	check_int(sum.missing, 1, "not weighed");
	struct amount range = {.low = known_i64(100), .high = known_i64(300)};
	amount_sum_add(&sum, &range);
	check_int(sum.low, 600, "lows");
	check_int(sum.high, 800, "highs");
	check_int(amount_sum_point(&sum).value, 700, "middle");
	check_int(sum.about, true, "a range");
	struct amount open = {.low = known_i64(50)};
	amount_sum_add(&sum, &open);
	check_int(sum.high_open, true, "no top");
	check_int(amount_sum_point(&sum).value, 650, "low of an open sum");
	check_int(sum.parts, 4, "parts with a figure");
}

static void amounts_say_their_bounds(void **state)
{
	(void)state;
	struct number_rules us = {.units = UNITS_US};
	char out[64];
	struct amount amount = {.dimension = DIMENSION_MASS, .low = known_i64(18143695)};
	check_text(amount_format(&amount, &us, out, 64), "at least 40 lb", "open");
	amount.high = known_i64(22679619);
	check_text(amount_format(&amount, &us, out, 64), "40 lb to 50 lb", "range");
	amount.low = known_i64(0);
	check_text(amount_format(&amount, &us, out, 64), "under 50 lb", "under");
	amount.low = amount.high;
	amount.about = true;
	check_text(amount_format(&amount, &us, out, 64), "about 50 lb", "about");
	memcpy(amount.typed, "50ish", 6);
	check_text(amount_format(&amount, &us, out, 64), "50ish", "as typed");
	struct amount trays = {.container = "tray", .containers_low = known_i64(2500)};
	check_text(amount_format(&trays, &us, out, 64), "2.5 x tray", "containers");
}

/* What is printed reads back as the same, to the printed digits: half a gram or 0.5 %, half an
 * ounce or 2 %. */
static void shown_amounts_read_back(void **state)
{
	(void)state;
	struct number_rules rules = {.units = UNITS_SI, .style = NUMBERS_POINT};
	for (int64_t mass = 1; mass < 2000000000; mass = mass * 3 + 7) {
		char out[32];
		int64_t back = 0;
		struct fault why = {0};
		check_ok(mass_parse(mass_format(mass, UNITS_SI, out, 32), &rules, &back, &why),
			&why);
		check_close((double)back, (double)mass, 0.005 * (double)mass + 500, out);
		check_ok(mass_parse(mass_format(mass, UNITS_US, out, 32), &rules, &back, &why),
			&why);
		check_close((double)back, (double)mass, 0.02 * (double)mass + 1418, out);
	}
}

/* The initials that a look-up goes by are those of the spellings, and no others. */
static void units_begin_as_their_initials_say(void **state)
{
	(void)state;
	for (const struct unit *unit = unit_table(); unit->name != NULL; unit++) {
		char begins[32] = "";
		for (const char *word = unit->spellings; *word != '\0';) {
			if (strchr(begins, word[0]) == NULL)
				strncat(begins, word, 1);
			word += strcspn(word, " ");
			word += strspn(word, " ");
		}
		if (strspn(unit->initials, begins) != strlen(begins) ||
			strlen(unit->initials) != strlen(begins))
			fail_msg("%s has the initials \"%s\", not \"%s\"", unit->name,
				unit->initials, begins);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(units_begin_as_their_initials_say),
		cmocka_unit_test(a_gap_of_temperatures_is_told_as_it_was_typed),
		cmocka_unit_test(zero_and_none_are_seen_as_none),
		cmocka_unit_test(scan_takes_the_longest_amount_and_says_how_much),
		cmocka_unit_test(options_take_exact_figures_only),
		cmocka_unit_test(estimates_have_two_figures),
		cmocka_unit_test(estimates_of_volumes_have_two_figures_too),
		cmocka_unit_test(rates_of_two_units_agree),
		cmocka_unit_test(sums_keep_bounds_gaps_and_zeros),
		cmocka_unit_test(amounts_say_their_bounds),
		cmocka_unit_test(shown_amounts_read_back),
	};
	struct table *table = outside_open("tests/outside/units.tsv");
	int failed = run_rows("published units", table, unit_is_as_published);
	failed += RUN_CASES("amounts read", goods, reads_amount);
	failed += RUN_CASES("amounts refused", bads, refuses_amount);
	failed += RUN_CASES("amounts shown", showns, shows_amount);
	failed += cmocka_run_group_tests_name("measure", tests, NULL, NULL);
	table_free(table);
	return failed != 0;
}
