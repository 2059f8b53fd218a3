/* SPDX-License-Identifier: MIT */
/* weather_settings.h - how a station's file writes its figures and whose they are: as said in the
 * options, else as its layout remembers. */
#ifndef EXCHANGE_WEATHER_SETTINGS_H
#define EXCHANGE_WEATHER_SETTINGS_H

#include "mapping.h"

/* What a file may give. In tenths of a degree C, micrometres, millimetres a second. */
enum weather_figure {
	FIGURE_MIN,
	FIGURE_MAX,
	FIGURE_TEMPERATURE,
	FIGURE_RAIN,
	FIGURE_WIND,
	FIGURE_TOTAL
};

struct weather_settings {
	enum unit_system units; /* of bare figures; UNITS_UNSET: a bare figure is asked for */
	char unit[FIGURE_TOTAL][KEY_SIZE]; /* of one column's bare figures; "" by units */
	enum number_style numbers;         /* of this file; NUMBERS_UNSET: as the place writes */
	const char *missing; /* what stands where there is nothing: "-9999,M"; "" the usual */
	char station[NAME_SIZE];
	bool forecast;
};

/* STATUS_SYNTAX: a word that is not known, a unit that is none of its column's. */
enum status weather_settings_read(const struct import_options *options,
	const struct mapping *mapping, struct arena *arena, struct weather_settings *out,
	struct fault *why) MUST_CHECK;
/* What the layout is to keep besides columns, units and the order of dates: a line each. */
const char *weather_settings_kept(const struct weather_settings *settings, struct arena *arena);
/* The unit of a bare figure; NULL: it has to be asked for. */
const char *weather_settings_unit(
	const struct weather_settings *settings, enum weather_figure which);
const char *weather_figure_name(enum weather_figure which); /* "minimum" */
/* Does the cell say that there is nothing? */
bool weather_settings_blank(const struct weather_settings *settings, const char *text);
enum dimension weather_figure_dimension(enum weather_figure which);

#endif
