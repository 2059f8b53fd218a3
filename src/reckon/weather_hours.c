/* SPDX-License-Identifier: MIT */
#include "reckon/weather_hours.h"

#include <string.h>

enum { HOURS_LEAST = 23 };

/* The extremes of a day at the spot; NULL where one is missing. */
static const struct extremes *extremes_of(
	const struct weather_record *record, const struct day_weather *row, struct extremes *out)
{
	if (row == NULL || !row->min_decic.known || !row->max_decic.known)
		return NULL;
	*out = (struct extremes){(row->min_decic.value + record->warmer_decic) / 10.0,
		(row->max_decic.value + record->warmer_decic) / 10.0};
	return out;
}

static const struct day_weather *row_on(const struct weather_record *record, struct date day)
{
	return weather_days_find(record->days, record->day_count, day);
}

static int32_t day_of_year(struct date day)
{
	struct date_parts parts = date_parts(day);
	struct date first = date_of_month_day(parts.year, (struct month_day){1, 1});

	return date_days_between(first, day) + 1;
}

/* --- as a station told them --- */

/* The first hour on or after the day. */
static int32_t first_hour(const struct weather_record *record, struct date day)
{
	int32_t low = 0, high = record->hour_count;

	while (low < high) {
		int32_t middle = low + (high - low) / 2;

		if (date_compare(record->hours[middle].day, day) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

static bool fill_told(const struct weather_record *record, struct date day, const char *station,
	struct hours *out)
{
	bool told[HOURS_A_DAY] = {false};
	int32_t count = 0;

	for (int32_t i = first_hour(record, day);
		i < record->hour_count && record->hours[i].day.day == day.day; i++) {
		const struct told_hour *hour = &record->hours[i];

		if (told[hour->hour] || strcmp(hour->station, station) != 0)
			continue;
		told[hour->hour] = true;
		count++;
		out->celsius[hour->hour] = (hour->decic + record->warmer_decic) / 10.0;
	}
	if (count < HOURS_LEAST)
		return false;
	for (int32_t hour = 0; hour < HOURS_A_DAY; hour++)
		if (!told[hour])
			out->celsius[hour] = out->celsius[hour > 0 ? hour - 1 : 1];
	out->from = 0;
	out->to = HOURS_A_DAY;
	return true;
}

enum status weather_hours_of_day(const struct weather_record *record, struct date day,
	struct hours *out, enum hours_from *from, struct fault *why)
{
	const struct day_weather *row = row_on(record, day);
	struct extremes before, today, after;

	*from = HOURS_NONE;
	*out = (struct hours){.from = HOURS_A_DAY, .to = HOURS_A_DAY};
	if (row != NULL && row->min_entry == NULL && row->max_entry == NULL &&
		fill_told(record, day, row->station, out)) {
		*from = HOURS_OF_STATION;
		return STATUS_OK;
	}
	const struct extremes *known = extremes_of(record, row, &today);
	if (known == NULL || !record->has_latitude)
		return STATUS_OK;
	enum status status = hourly_of_day(record->latitude_deg, day_of_year(day),
		extremes_of(record, row_on(record, date_add_days(day, -1)), &before), known,
		extremes_of(record, row_on(record, date_add_days(day, 1)), &after), out, why);
	if (status != STATUS_OK) {
		char text[DATE_SIZE];

		fault_prefix(why, "%s: ", date_format(day, text));
		return status;
	}
	*from = HOURS_OF_EXTREMES;
	return STATUS_OK;
}
