/* SPDX-License-Identifier: MIT */
#include "weather_settings.h"

#include <string.h>

#include "core/text.h"

/* clang-format off */
static const struct figure_kind {
	const char *key;     /* of its column */
	const char *name;
	enum dimension dimension;
	const char *si, *us; /* unit of a bare figure */
} figures[FIGURE_TOTAL] = {
	[FIGURE_MIN]         = {"min", "minimum", DIMENSION_TEMPERATURE, "C", "F"},
	[FIGURE_MAX]         = {"max", "maximum", DIMENSION_TEMPERATURE, "C", "F"},
	[FIGURE_TEMPERATURE] = {"temperature", "temperature", DIMENSION_TEMPERATURE, "C", "F"},
	[FIGURE_RAIN]        = {"rain", "rain", DIMENSION_LENGTH, "mm", "in"},
	[FIGURE_WIND]        = {"wind", "wind", DIMENSION_SPEED, "m/s", "mph"},
};
/* clang-format on */

const char *weather_figure_name(enum weather_figure which)
{
	return figures[which].name;
}

enum dimension weather_figure_dimension(enum weather_figure which)
{
	return figures[which].dimension;
}

const char *weather_settings_unit(
	const struct weather_settings *settings, enum weather_figure which)
{
	if (settings->unit[which][0] != '\0')
		return settings->unit[which];
	if (settings->units == UNITS_UNSET)
		return NULL;
	return settings->units == UNITS_US ? figures[which].us : figures[which].si;
}

/* --- blank cells --- */

bool weather_settings_blank(const struct weather_settings *settings, const char *text)
{
	return mapping_is_blank(text, settings->missing);
}

/* --- units of columns --- */

static enum status read_unit(
	struct weather_settings *settings, const char *pair, size_t length, struct fault *why)
{
	const struct number_rules rules = {.units = UNITS_SI};
	char text[NAME_SIZE], typed[TYPED_SIZE];
	struct amount amount = {0};

	text_copy_n(text, sizeof text, pair, length);
	char *unit = strchr(text, '=');
	if (unit != NULL)
		*unit++ = '\0';
	for (int i = 0; unit != NULL && i < FIGURE_TOTAL; i++) {
		if (strcmp(text, figures[i].key) != 0)
			continue;
		if (strlen(unit) >= KEY_SIZE)
			break;
		snprintf(typed, sizeof typed, "1 %s", unit);
		if (amount_parse(typed, figures[i].dimension, NULL, &rules, &amount, NULL) !=
			STATUS_OK)
			return fault_set(why, STATUS_SYNTAX,
				"--column-units: '%s' is no unit of %s", unit, figures[i].name);
		text_copy(settings->unit[i], sizeof settings->unit[i], unit);
		return STATUS_OK;
	}
	return fault_set(why, STATUS_SYNTAX,
		"--column-units wants pairs like wind=km/h,rain=in, of min, max, temperature, rain "
		"and wind; not '%s'",
		text);
}

static enum status read_units(
	struct weather_settings *settings, const char *pairs, struct fault *why)
{
	enum status status = STATUS_OK;

	for (const char *at = pairs; status == STATUS_OK && *at != '\0';) {
		size_t length = strcspn(at, ",");

		status = read_unit(settings, at, length, why);
		at += length + (at[length] == ',' ? 1 : 0);
	}
	return status;
}

/* --- said, else kept --- */

static enum status read_numbers(
	struct weather_settings *settings, const char *word, struct fault *why)
{
	if (word[0] == '\0')
		return STATUS_OK;
	if (strcmp(word, "point") != 0 && strcmp(word, "comma") != 0)
		return fault_set(why, STATUS_SYNTAX, "--numbers is point or comma, not '%s'", word);
	settings->numbers = strcmp(word, "comma") == 0 ? NUMBERS_COMMA : NUMBERS_POINT;
	return STATUS_OK;
}

/* Options keep their text as it was, so that the layout can say it again. */
static const char *said_or_kept(
	const struct mapping *mapping, const char *said, const char *key, struct arena *arena)
{
	return said != NULL ? said : mapping_kept(mapping, key, arena);
}

enum status weather_settings_read(const struct import_options *options,
	const struct mapping *mapping, struct arena *arena, struct weather_settings *out,
	struct fault *why)
{
	const char *kind = said_or_kept(mapping, options->kind, "kind", arena);
	const char *station = said_or_kept(mapping, options->station, "station", arena);
	enum unit_system units = options->units;

	*out = (struct weather_settings){.forecast = strcmp(kind, "forecast") == 0};
	if (units == UNITS_UNSET && mapping->units[0] != '\0')
		units = strcmp(mapping->units, "us") == 0 ? UNITS_US : UNITS_SI;
	out->units = units;
	out->missing = said_or_kept(mapping, options->missing, "missing", arena);
	if (text_count_characters(station) > LABEL_CHARACTERS_MAX)
		return fault_set(why, STATUS_RANGE,
			"the name of a station is at most %d characters", LABEL_CHARACTERS_MAX);
	if (strchr(station, '\n') != NULL || strchr(out->missing, '\n') != NULL)
		return fault_set(why, STATUS_SYNTAX, "--station and --missing are one line each");
	text_copy(out->station, sizeof out->station, station);
	enum status status =
		read_numbers(out, said_or_kept(mapping, options->numbers, "numbers", arena), why);
	if (status == STATUS_OK)
		status = read_units(out,
			said_or_kept(mapping, options->column_units, "column-units", arena), why);
	return status;
}

const char *weather_settings_kept(const struct weather_settings *settings, struct arena *arena)
{
	struct text_builder lines = text_builder_in(arena);
	const char *before = "column-units=";

	text_add(&lines, "");
	if (settings->station[0] != '\0')
		text_add_format(&lines, "station=%s\n", settings->station);
	if (settings->forecast)
		text_add(&lines, "kind=forecast\n");
	if (settings->numbers != NUMBERS_UNSET)
		text_add_format(&lines, "numbers=%s\n",
			settings->numbers == NUMBERS_COMMA ? "comma" : "point");
	if (settings->missing[0] != '\0')
		text_add_format(&lines, "missing=%s\n", settings->missing);
	for (int i = 0; i < FIGURE_TOTAL; i++)
		if (settings->unit[i][0] != '\0') {
			text_add_format(
				&lines, "%s%s=%s", before, figures[i].key, settings->unit[i]);
			before = ",";
		}
	return lines.text;
}
