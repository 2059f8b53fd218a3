/* SPDX-License-Identifier: MIT */
/* The cells of a table: text in, checked values out. */
#include <stdio.h>
#include <string.h>

#include "almanac/sheet.h"
#include "core/measure.h"

static const struct number_rules POINT = {
	.units = UNITS_US, .gallon = GALLON_US, .style = NUMBERS_POINT};

/* What a unit of the tables is worth: the door of core/measure that reads it, or a factor. */
enum unit_door { DOOR_MASS, DOOR_LENGTH, DOOR_VOLUME, DOOR_TEMPERATURE, DOOR_PERMILLE };
struct sheet_unit {
	const char *name;
	const char *base;
	enum unit_door door;
	int32_t scale; /* DOOR_PERMILLE */
};
/* clang-format off */
static const struct sheet_unit UNITS[] = {
	{"g",               "mg",              DOOR_MASS,        0},
	{"kg",              "mg",              DOOR_MASS,        0},
	{"oz",              "mg",              DOOR_MASS,        0},
	{"lb",              "mg",              DOOR_MASS,        0},
	{"cm",              "um",              DOOR_LENGTH,      0},
	{"m",               "um",              DOOR_LENGTH,      0},
	{"in",              "um",              DOOR_LENGTH,      0},
	{"ft",              "um",              DOOR_LENGTH,      0},
	{"yd",              "um",              DOOR_LENGTH,      0},
	{"l",               "ul",              DOOR_VOLUME,      0},
	{"gal",             "ul",              DOOR_VOLUME,      0},
	{"F",               "decic",           DOOR_TEMPERATURE, 0},
	{"C",               "decic",           DOOR_TEMPERATURE, 0},
	{"ratio",           "permille",        DOOR_PERMILLE,    1000},
	{"percent",         "permille",        DOOR_PERMILLE,    10},
	{"percent shoots",  "permille shoots", DOOR_PERMILLE,    10},
};
/* clang-format on */

enum status sheet_text(
	const struct sheet *sheet, int32_t column, const char **out, struct fault *why)
{
	const char *cell = sheet->cells[column];
	if (cell[0] == '\0')
		return sheet_fault(sheet, column, STATUS_SYNTAX, why, "may not be blank");
	*out = cell;
	return STATUS_OK;
}

enum status sheet_key(
	const struct sheet *sheet, int32_t column, const char **out, struct fault *why)
{
	const char *cell = sheet->cells[column];
	size_t length = 0;
	while ((cell[length] >= 'a' && cell[length] <= 'z') ||
		(cell[length] >= '0' && cell[length] <= '9') || cell[length] == '-' ||
		cell[length] == '_' || cell[length] == '.')
		length++;
	if (cell[0] == '\0')
		return sheet_fault(sheet, column, STATUS_SYNTAX, why, "may not be blank");
	if (length >= KEY_SIZE || cell[length] != '\0')
		return sheet_fault(sheet, column, STATUS_SYNTAX, why,
			"\"%s\" is not a key of at most %d small letters, digits, '.', '-' and '_'",
			cell, KEY_SIZE - 1);
	*out = cell;
	return STATUS_OK;
}

enum status sheet_choice(const struct sheet *sheet, int32_t column, const char *const *words,
	int *out, struct fault *why)
{
	char allowed[200] = "";
	for (int i = 0; words[i] != NULL; i++) {
		if (word_is(sheet->cells[column], words[i])) {
			*out = i;
			return STATUS_OK;
		}
	}
	for (int i = 0; words[i] != NULL; i++) {
		size_t used = strlen(allowed);
		snprintf(allowed + used, sizeof allowed - used, "%s%s", i == 0 ? "" : ", ",
			words[i][0] == '\0' ? "blank" : words[i]);
	}
	return sheet_fault(sheet, column, STATUS_SYNTAX, why, "\"%s\" is none of: %s",
		sheet->cells[column], allowed);
}

enum status sheet_flag(const struct sheet *sheet, int32_t column, bool *out, struct fault *why)
{
	static const char *const words[] = {"no", "yes", NULL};
	int found = 0;
	enum status status = sheet_choice(sheet, column, words, &found, why);
	if (status == STATUS_OK)
		*out = found == 1;
	return status;
}

enum status sheet_month_day(
	const struct sheet *sheet, int32_t column, struct month_day *out, struct fault *why)
{
	struct fault inner;
	enum status status = month_day_parse(sheet->cells[column], out, &inner);
	if (status != STATUS_OK)
		return sheet_fault(sheet, column, status, why, "%s", inner.text);
	return STATUS_OK;
}

/* Digits, at most one point and four places after it: STATUS_SYNTAX else. Ten-thousandths. */
static enum status read_decimal(const char *text, int64_t *out)
{
	int64_t value = 0;
	int32_t digits = 0;
	int32_t places = -1;
	for (; *text != '\0'; text++) {
		if (*text == '.' && places < 0 && digits > 0) {
			places = 0;
			continue;
		}
		if (*text < '0' || *text > '9' || digits == 10 || places == 4)
			return STATUS_SYNTAX;
		value = value * 10 + (*text - '0');
		digits++;
		if (places >= 0)
			places++;
	}
	if (digits == 0 || places == 0)
		return STATUS_SYNTAX;
	for (int32_t i = places < 0 ? 0 : places; i < 4; i++)
		value *= 10;
	*out = value;
	return STATUS_OK;
}

enum status sheet_decimal(const struct sheet *sheet, int32_t column, int32_t scale, int32_t low,
	int32_t high, struct maybe_i32 *out, struct fault *why)
{
	const char *cell = sheet->cells[column];
	*out = (struct maybe_i32){0};
	if (cell[0] == '\0')
		return STATUS_OK;
	int64_t value = 0;
	if (read_decimal(cell, &value) != STATUS_OK)
		return sheet_fault(
			sheet, column, STATUS_SYNTAX, why, "\"%s\" is not a plain number", cell);
	value *= scale;
	if (value % 10000 != 0 || value / 10000 < low || value / 10000 > high)
		return sheet_fault(sheet, column, STATUS_RANGE, why,
			"%s is outside %g..%g, or too fine", cell, (double)low / scale,
			(double)high / scale);
	*out = known_i32((int32_t)(value / 10000));
	return STATUS_OK;
}

static const struct sheet_unit *unit_row(const char *name)
{
	for (size_t i = 0; i < sizeof UNITS / sizeof UNITS[0]; i++) {
		if (word_is(UNITS[i].name, name))
			return &UNITS[i];
	}
	return NULL;
}

static enum status read_amount(const struct sheet_unit *unit, const char *text, int64_t value,
	int64_t *out, struct fault *why)
{
	int32_t decic = 0;
	enum status status = STATUS_OK;
	switch (unit->door) {
	case DOOR_MASS:
		return mass_parse(text, &POINT, out, why);
	case DOOR_LENGTH:
		return length_parse(text, &POINT, out, why);
	case DOOR_VOLUME:
		return volume_parse(text, &POINT, out, why);
	case DOOR_TEMPERATURE:
		status = temperature_parse(text, &POINT, false, &decic, why);
		*out = decic;
		return status;
	case DOOR_PERMILLE:
		*out = round_i64((double)value * unit->scale / 10000);
		return STATUS_OK;
	}
	return STATUS_OK;
}

enum status sheet_quantity(const struct sheet *sheet, int32_t column, int32_t unit_column,
	struct maybe_i64 *out, const char **base, struct fault *why)
{
	const char *cell = sheet->cells[column];
	const char *unit_name = sheet->cells[unit_column];
	const struct sheet_unit *unit = unit_row(unit_name);
	*out = (struct maybe_i64){0};
	*base = unit == NULL ? unit_name : arena_text(sheet->arena, unit->base);
	if (cell[0] == '\0')
		return STATUS_OK;
	int64_t value = 0;
	if (read_decimal(cell, &value) != STATUS_OK)
		return sheet_fault(
			sheet, column, STATUS_SYNTAX, why, "\"%s\" is not a plain number", cell);
	if (unit_name[0] == '\0')
		return sheet_fault(sheet, unit_column, STATUS_SYNTAX, why, "may not be blank here");
	if (unit == NULL && value % 10000 != 0)
		return sheet_fault(sheet, column, STATUS_RANGE, why,
			"%s %s should be a whole number", cell, unit_name);
	int64_t amount = value / 10000;
	if (unit != NULL) {
		char text[64];
		struct fault inner;
		snprintf(text, sizeof text, "%s %s", cell, unit->name);
		enum status status = read_amount(unit, text, value, &amount, &inner);
		if (status != STATUS_OK)
			return sheet_fault(sheet, column, status, why, "%s", inner.text);
	}
	*out = known_i64(amount);
	return STATUS_OK;
}
