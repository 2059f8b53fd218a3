/* SPDX-License-Identifier: MIT */
#include "reckon/weather_days.h"

#include <stdlib.h>
#include <string.h>

static int compare_days(const void *left, const void *right)
{
	const struct day_weather *a = left;
	const struct day_weather *b = right;

	return date_compare(a->day, b->day);
}

/* --- a line of the grower --- */

static struct maybe_i64 figure(const struct entry *entry, enum field field, bool highest)
{
	const struct amount *amount = entry_amount(entry, field);

	if (amount == NULL)
		return (struct maybe_i64){0};
	if (highest && amount->high.known)
		return amount->high;
	return amount->low.known ? amount->low : amount->high;
}

static bool is_word(const struct entry *entry, const char *word)
{
	for (int32_t i = 0; i < entry->detail_count; i++)
		if (entry->details[i].field == FIELD_WEATHER &&
			strcmp(entry->details[i].text, word) == 0)
			return true;
	return false;
}

static void read_temperature(const struct entry *entry, struct day_weather *day)
{
	struct maybe_i64 low = figure(entry, FIELD_TEMPERATURE, false);
	struct maybe_i64 high = figure(entry, FIELD_TEMPERATURE, true);

	if ((day->frost || day->snow) && !day->heat && low.known) {
		day->min_decic = known_i32((int32_t)low.value);
		day->min_entry = entry;
	} else if (day->heat && !day->frost && !day->snow && high.known) {
		day->max_decic = known_i32((int32_t)high.value);
		day->max_entry = entry;
	}
}

static bool read_entry(const struct entry *entry, struct day_weather *day)
{
	struct maybe_date first = date_span_first(&entry->day);

	if (entry->kind != KIND_WEATHER || entry->planned || entry_is_forecast(entry) ||
		!first.known || !date_span_is_exact(&entry->day))
		return false;
	*day = (struct day_weather){
		.day = first.value,
		.frost = is_word(entry, "frost"),
		.rain = is_word(entry, "rain"),
		.hail = is_word(entry, "hail"),
		.storm = is_word(entry, "storm") || is_word(entry, "wind"),
		.heat = is_word(entry, "heat"),
		.snow = is_word(entry, "snow"),
		.wind_mms = figure(entry, FIELD_WIND, true),
		.station = "",
	};
	read_temperature(entry, day);
	const struct amount *depth = entry_amount(entry, FIELD_DEPTH);
	bool fell = day->rain || is_word(entry, "storm");
	if (fell && !day->snow && depth != NULL)
		day->rain_um = amount_point(depth);
	return true;
}

/* --- one day from many --- */

static void take_min(struct day_weather *into, const struct day_weather *from)
{
	if (!from->min_decic.known ||
		(into->min_decic.known && into->min_decic.value <= from->min_decic.value))
		return;
	into->min_decic = from->min_decic;
	into->min_entry = from->min_entry;
}

static void take_max(struct day_weather *into, const struct day_weather *from)
{
	if (!from->max_decic.known ||
		(into->max_decic.known && into->max_decic.value >= from->max_decic.value))
		return;
	into->max_decic = from->max_decic;
	into->max_entry = from->max_entry;
}

/* Two lines of the same day. */
static void add_line(struct day_weather *into, const struct day_weather *from)
{
	into->frost = into->frost || from->frost;
	into->rain = into->rain || from->rain;
	into->hail = into->hail || from->hail;
	into->storm = into->storm || from->storm;
	into->heat = into->heat || from->heat;
	into->snow = into->snow || from->snow;
	take_min(into, from);
	take_max(into, from);
	if (from->rain_um.known)
		into->rain_um = known_i64(
			from->rain_um.value + (into->rain_um.known ? into->rain_um.value : 0));
	if (from->wind_mms.known &&
		(!into->wind_mms.known || into->wind_mms.value < from->wind_mms.value))
		into->wind_mms = from->wind_mms;
}

/* A station says only what nobody before it said. */
static void add_station(struct day_weather *into, const struct weather_day *from)
{
	if (!into->min_decic.known)
		into->min_decic = from->min_decic;
	if (!into->max_decic.known)
		into->max_decic = from->max_decic;
	if (!into->rain_um.known)
		into->rain_um = from->rain_um;
	if (!into->wind_mms.known)
		into->wind_mms = from->wind_mms;
	if (into->station[0] == '\0')
		into->station = from->station;
}

/* Rows of the lines alone, by day, one a day. */
static int32_t join_lines(const struct weather_sources *sources, struct day_weather *rows)
{
	int32_t count = 0;
	int32_t kept = 0;

	for (int32_t i = 0; i < sources->entry_count; i++)
		if (read_entry(sources->entries[i], &rows[count]))
			count++;
	if (count > 1)
		qsort(rows, (size_t)count, sizeof rows[0], compare_days);
	for (int32_t i = 0; i < count; i++) {
		if (kept > 0 && rows[kept - 1].day.day == rows[i].day.day)
			add_line(&rows[kept - 1], &rows[i]);
		else
			rows[kept++] = rows[i];
	}
	return kept;
}

static int compare_stored(const void *left, const void *right)
{
	const struct weather_day *a = *(const struct weather_day *const *)left;
	const struct weather_day *b = *(const struct weather_day *const *)right;
	int order = date_compare(a->day, b->day);

	return order != 0 ? order : strcmp(a->station, b->station);
}

static int32_t observed_days(const struct weather_sources *sources, const struct weather_day **out)
{
	int32_t count = 0;

	for (int32_t i = 0; i < sources->stored_count; i++)
		if (!sources->stored[i].forecast)
			out[count++] = &sources->stored[i];
	if (count > 1)
		qsort(out, (size_t)count, sizeof out[0], compare_stored);
	return count;
}

/* Of two sorted lists, one; a day of both is one row. */
static int32_t merge(const struct day_weather *lines, int32_t line_count,
	const struct weather_day *const *stored, int32_t stored_count, struct day_weather *out)
{
	int32_t count = 0;
	int32_t line = 0;

	for (int32_t at = 0; at < stored_count || line < line_count;) {
		struct date next = line < line_count ? lines[line].day : stored[at]->day;
		if (at < stored_count && date_compare(stored[at]->day, next) < 0)
			next = stored[at]->day;
		bool is_said = line < line_count && lines[line].day.day == next.day;

		out[count] =
			is_said ? lines[line++] : (struct day_weather){.day = next, .station = ""};
		for (; at < stored_count && stored[at]->day.day == next.day; at++)
			add_station(&out[count], stored[at]);
		count++;
	}
	return count;
}

int32_t weather_days_join(
	const struct weather_sources *sources, struct arena *arena, struct day_weather **out)
{
	size_t lines_max = (size_t)sources->entry_count + 1;
	size_t stored_max = (size_t)sources->stored_count + 1;
	struct day_weather *lines = arena_array(arena, lines_max, sizeof *lines);
	const struct weather_day **stored =
		arena_array(arena, stored_max, sizeof(const struct weather_day *));
	int32_t line_count = join_lines(sources, lines);
	int32_t stored_count = observed_days(sources, stored);

	*out = arena_array(
		arena, (size_t)line_count + (size_t)stored_count + 1, sizeof(struct day_weather));
	return merge(lines, line_count, stored, stored_count, *out);
}

/* Place of the first row on or after the day. */
static int32_t first_from(const struct day_weather *days, int32_t count, struct date day)
{
	int32_t low = 0;
	int32_t high = count;

	while (low < high) {
		int32_t middle = low + (high - low) / 2;

		if (date_compare(days[middle].day, day) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

int32_t weather_days_uncross(struct day_weather *days, int32_t count)
{
	int32_t crossed = 0;

	for (int32_t i = 0; i < count; i++) {
		struct day_weather *day = &days[i];

		if (!day->min_decic.known || !day->max_decic.known ||
			day->min_decic.value <= day->max_decic.value)
			continue;
		day->min_decic.known = day->max_decic.known = false;
		day->crossed = true;
		crossed++;
	}
	return crossed;
}

const struct day_weather *weather_days_find(
	const struct day_weather *days, int32_t count, struct date day)
{
	int32_t at = first_from(days, count, day);

	return at < count && days[at].day.day == day.day ? &days[at] : NULL;
}

enum status weather_days_check(
	const struct day_weather *days, int32_t count, struct day_span span, struct fault *why)
{
	char text[DATE_SIZE];
	int32_t length = date_days_between(span.from, span.to) + 1;

	if (length < 1 || length > WEATHER_SPAN_MAX_DAYS)
		return fault_set(why, STATUS_RANGE, "a span of %d days is outside 1..%d", length,
			WEATHER_SPAN_MAX_DAYS);
	for (int32_t i = 0; i < count; i++) {
		const struct day_weather *day = &days[i];
		bool inside = date_compare(day->day, span.from) >= 0 &&
			      date_compare(day->day, span.to) <= 0;

		if (i > 0 && date_compare(days[i - 1].day, day->day) >= 0)
			return fault_set(why, STATUS_RANGE, "%s stands twice or out of order",
				date_format(day->day, text));
		if (inside && day->min_decic.known && day->max_decic.known &&
			day->min_decic.value > day->max_decic.value)
			return fault_set(why, STATUS_RANGE,
				"%s: minimum %.1f C is above maximum %.1f C",
				date_format(day->day, text), day->min_decic.value / 10.0,
				day->max_decic.value / 10.0);
	}
	return STATUS_OK;
}

struct weather_cover weather_days_cover(
	const struct day_weather *days, int32_t count, struct day_span span)
{
	struct weather_cover cover = {0};
	int32_t gap = 0;
	int32_t at = first_from(days, count, span.from);

	for (struct date day = span.from; date_compare(day, span.to) <= 0; day.day++) {
		bool here = at < count && days[at].day.day == day.day;
		bool is_known = here && days[at].min_decic.known && days[at].max_decic.known;

		cover.days++;
		cover.known += is_known;
		gap = is_known ? 0 : gap + 1;
		if (gap > cover.longest_gap)
			cover.longest_gap = gap;
		at += here;
	}
	return cover;
}
