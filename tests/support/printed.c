/* SPDX-License-Identifier: MIT */
#include "support/printed.h"

#include "core/measure.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/test.h"

static const struct number_rules POINT = {
	.units = UNITS_US, .gallon = GALLON_US, .style = NUMBERS_POINT};

static bool unit_is_one_of(const char *unit, const char *units)
{
	char wanted[48];
	snprintf(wanted, sizeof wanted, " %.28s ", unit);
	return strstr(units, wanted) != NULL;
}

int64_t printed_base(const char *value, char *base, size_t size)
{
	char *end = NULL;
	double number = strtod(value, &end);
	if (end == value) {
		print_error("\"%s\" does not start with a number\n", value);
		fail();
	}
	const char *unit = end + strspn(end, " ");
	struct fault why = {0};
	int64_t amount = (int64_t)number;
	int32_t decic = 0;
	snprintf(base, size, "%s", unit);
	if (unit_is_one_of(unit, " g kg oz lb ")) {
		check_ok(mass_parse(value, &POINT, &amount, &why), &why);
		snprintf(base, size, "mg");
	} else if (unit_is_one_of(unit, " in ft yd cm m ")) {
		check_ok(length_parse(value, &POINT, &amount, &why), &why);
		snprintf(base, size, "um");
	} else if (unit_is_one_of(unit, " gal l ")) {
		check_ok(volume_parse(value, &POINT, &amount, &why), &why);
		snprintf(base, size, "ul");
	} else if (unit_is_one_of(unit, " F C ")) {
		check_ok(temperature_parse(value, &POINT, false, &decic, &why), &why);
		amount = decic;
		snprintf(base, size, "decic");
	} else if (strcmp(unit, "ratio") == 0) {
		amount = round_i64(number * 1000);
		snprintf(base, size, "permille");
	} else if (strncmp(unit, "percent", 7) == 0) {
		amount = round_i64(number * 10);
		snprintf(base, size, "permille%s", unit + 7);
	}
	return amount;
}

/* 1 to 12; 0: no month. */
static int month_of_word(const char *word)
{
	static const char *const names[] = {"January", "February", "March", "April", "May", "June",
		"July", "August", "September", "October", "November", "December"};
	for (int i = 0; i < 12; i++)
		if (strcmp(names[i], word) == 0)
			return i + 1;
	return 0;
}

bool printed_day_is(const char *words, bool to, struct month_day day)
{
	static const int8_t lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	struct month_day exact;
	struct fault why;
	if (words[0] >= '0' && words[0] <= '9') {
		check_ok(month_day_parse(words, &exact, &why), &why);
		return exact.month == day.month && exact.day == day.day;
	}
	const char *blank = strchr(words, ' ');
	int month = month_of_word(blank == NULL ? words : blank + 1);
	if (month == 0) {
		print_error("\"%s\" is no day\n", words);
		fail();
	}
	if (day.month != month)
		return false;
	if (blank == NULL)
		return to ? day.day >= lengths[month - 1] : day.day == 1;
	if (strncmp(words, "early ", 6) == 0)
		return day.day <= 10;
	if (strncmp(words, "mid ", 4) == 0)
		return day.day >= 10 && day.day <= 20;
	check_text("late", strncmp(words, "late ", 5) == 0 ? "late" : words, "part of the month");
	return day.day >= 20;
}
