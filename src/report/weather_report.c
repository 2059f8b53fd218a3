/* SPDX-License-Identifier: MIT */
/* The weather of a span, of the same days in other years, and the chill that kinds are listed
 * with. */
#include "weather_inner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"

/* What is being made, and what only the making needs. */
struct making {
	struct yard *yard;
	struct store *store;
	struct arena *arena;
	struct weather_report *report;
	struct weather_record record;
};

/* --- what is stored --- */

/* One station's days of one sort. */
static void count_station(struct weather_report *report, const struct weather_day *day)
{
	for (int32_t i = 0; i < report->station_count; i++) {
		struct weather_station *station = &report->stations[i];

		if (station->forecast != day->forecast || strcmp(station->name, day->station) != 0)
			continue;
		station->days++;
		station->to = day->day;
		return;
	}
	enum { STATIONS_MAX = 32 };
	if (report->station_count == STATIONS_MAX)
		return;
	struct weather_station *station = &report->stations[report->station_count++];
	*station = (struct weather_station){
		.forecast = day->forecast, .days = 1, .from = day->day, .to = day->day};
	text_copy(station->name, sizeof station->name, day->station);
}

/* Those forecast fall out of the list where it lies. */
static enum status load_days(struct making *making, struct fault *why)
{
	struct weather_report *report = making->report;
	struct weather_day *days = NULL;
	int32_t count = 0;
	enum status status = store_weather_day_list(making->store, (struct maybe_date){0},
		(struct maybe_date){0}, making->arena, &days, &count, why);

	report->stations = arena_array(making->arena, 32, sizeof report->stations[0]);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; i < count; i++) {
		count_station(report, &days[i]);
		if (!days[i].forecast)
			days[report->stored_count++] = days[i];
	}
	report->stored = days;
	return STATUS_OK;
}

static enum status join_days(struct making *making, struct fault *why)
{
	const struct entry_query query = {
		.subject_id = "", .kind_given = true, .kind = KIND_WEATHER, .planned = 0};
	struct weather_report *report = making->report;
	struct entry *entries = NULL;
	int32_t count = 0;
	enum status status =
		store_entry_list(making->store, &query, making->arena, &entries, &count, why);

	if (status != STATUS_OK)
		return status;
	const struct entry **lines =
		arena_array(making->arena, (size_t)count + 1, sizeof(const struct entry *));
	for (int32_t i = 0; i < count; i++) {
		struct maybe_date day = date_span_first(&entries[i].day);

		if (!entry_is_forecast(&entries[i]) && day.known &&
			date_compare(day.value, report->today) <= 0)
			lines[report->line_count++] = &entries[i];
	}
	const struct weather_sources sources = {.stored = report->stored,
		.stored_count = report->stored_count,
		.entries = lines,
		.entry_count = report->line_count};
	report->day_count = weather_days_join(&sources, making->arena, &report->days);
	weather_days_uncross(report->days, report->day_count);
	return STATUS_OK;
}

/* The station's name as the days have it, so that it is kept once. */
static const char *name_of(const struct weather_report *report, const char *station)
{
	for (int32_t i = 0; i < report->station_count; i++)
		if (strcmp(report->stations[i].name, station) == 0)
			return report->stations[i].name;
	return NULL; /* no day is of it: its hours stand for none */
}

/* Hours of one year, small enough to be kept for many. */
static enum status load_hours_of(struct making *making, int32_t year, int32_t *room,
	struct told_hour **hours, struct fault *why)
{
	struct maybe_date from =
		known_date(date_of_month_day(year, (struct month_day){.month = 1, .day = 1}));
	struct maybe_date to =
		known_date(date_of_month_day(year, (struct month_day){.month = 12, .day = 31}));
	struct weather_report *report = making->report;
	struct arena *scratch = arena_new();
	struct weather_hour *found = NULL;
	int32_t count = 0;
	enum status status =
		store_weather_hour_list(making->store, from, to, scratch, &found, &count, why);

	if (status == STATUS_OK && (*hours == NULL || report->hour_count + count > *room)) {
		int32_t wider = 2 * (report->hour_count + count) + 1;

		*hours = arena_grow(making->arena, *hours,
			(size_t)report->hour_count * sizeof **hours,
			(size_t)wider * sizeof **hours);
		*room = wider;
	}
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		const char *station = name_of(report, found[i].station);

		if (found[i].forecast || !found[i].temperature_decic.known || station == NULL)
			continue;
		(*hours)[report->hour_count++] = (struct told_hour){.day = found[i].day,
			.hour = found[i].hour,
			.decic = found[i].temperature_decic.value,
			.station = station};
	}
	arena_free(scratch);
	return status;
}

static enum status load_hours(struct making *making, struct fault *why)
{
	const struct weather_report *report = making->report;
	struct told_hour *hours = NULL;
	enum status status = STATUS_OK;
	int32_t room = 0;

	if (report->day_count == 0)
		return STATUS_OK;
	int32_t last = date_parts(report->days[report->day_count - 1].day).year;
	for (int32_t year = date_parts(report->days[0].day).year;
		status == STATUS_OK && year <= last; year++)
		status = load_hours_of(making, year, &room, &hours, why);
	making->record.hours = hours;
	making->record.hour_count = report->hour_count;
	return status;
}

static enum status load_record(struct making *making, struct fault *why)
{
	const struct place *place = yard_place(making->yard);
	struct weather_report *report = making->report;
	enum status status = load_days(making, why);

	if (status == STATUS_OK)
		status = join_days(making, why);
	if (status == STATUS_OK)
		status = load_hours(making, why);
	report->has_latitude = place->latitude_udeg.known;
	making->record.days = report->days;
	making->record.day_count = report->day_count;
	making->record.has_latitude = report->has_latitude;
	making->record.latitude_deg = place->latitude_udeg.value / 1e6;
	return status;
}

/* --- which days --- */

static enum status span_asked(const struct making *making, const struct weather_ask *ask,
	struct day_span *span, struct fault *why)
{
	const struct place *place = yard_place(making->yard);
	struct weather_report *report = making->report;
	struct date today = report->today;

	report->whole_season = !ask->days.known && !ask->from.known && !ask->to.known;
	*span = ask->season.known ? weather_season_of_year(place, ask->season.value).span
				  : weather_season_at(place, today).span;
	if (ask->days.known)
		*span = (struct day_span){date_add_days(today, 1 - ask->days.value), today};
	else if (ask->from.known || ask->to.known)
		*span = (struct day_span){
			ask->from.known ? ask->from.value
					: weather_season_at(place, ask->to.value).span.from,
			ask->to.known ? ask->to.value : today};
	else if (date_compare(span->to, today) > 0 && date_compare(span->from, today) <= 0)
		span->to = today;
	report->season = weather_season_at(place, span->to);
	if (date_compare(span->to, span->from) < 0)
		return fault_set(why, STATUS_RANGE, "the span ends before it begins");
	if (date_parts(span->to).year - date_parts(span->from).year > WEATHER_SPAN_YEARS)
		return fault_set(
			why, STATUS_RANGE, "a span is at most %d years long", WEATHER_SPAN_YEARS);
	return STATUS_OK;
}

static bool has_row(const struct weather_report *report, struct day_span span)
{
	int32_t low = 0, high = report->day_count;

	while (low < high) {
		int32_t middle = low + (high - low) / 2;

		if (date_compare(report->days[middle].day, span.from) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low < report->day_count && date_compare(report->days[low].day, span.to) <= 0;
}

/* The winter of the season that holds the last day, as far as that day. */
static bool winter_of(const struct place *place, struct day_span span, struct day_span *winter)
{
	struct weather_season season = weather_season_at(place, span.to);

	*winter = season.winter;
	if (!season.has_winter || date_compare(winter->from, span.to) > 0)
		return false;
	if (date_compare(span.to, winter->to) < 0)
		winter->to = span.to;
	return true;
}

static void add_stretch(struct making *making, struct day_span span)
{
	struct weather_report *report = making->report;
	const struct place *place = yard_place(making->yard);
	struct weather_stretch *stretch = &report->stretches[report->stretch_count++];
	struct weather_season season = weather_season_at(place, span.to);

	text_copy(stretch->name, sizeof stretch->name, season.name);
	stretch->sum.span = span;
	stretch->has_winter = winter_of(place, span, &stretch->winter.span);
	if (!stretch->has_winter)
		stretch->winter.span = span;
}

static void find_stretches(struct making *making, struct day_span span)
{
	struct weather_report *report = making->report;

	report->stretches =
		arena_array(making->arena, WEATHER_YEARS_MAX + 1, sizeof report->stretches[0]);
	add_stretch(making, span);
	if (report->day_count == 0)
		return;
	int32_t oldest = date_parts(report->days[0].day).year;
	int32_t years = date_parts(span.from).year - oldest + 1;
	for (int32_t back = 1; back <= years && report->stretch_count <= WEATHER_YEARS_MAX;
		back++) {
		struct day_span before = weather_span_before(span, back);

		if (has_row(report, before))
			add_stretch(making, before);
	}
}

/* All spans in one walk over the record. */
static enum status sum_stretches(struct making *making, struct fault *why)
{
	struct weather_report *report = making->report;
	struct weather_sum *sums =
		arena_array(making->arena, 2 * (size_t)report->stretch_count, sizeof sums[0]);

	for (int32_t i = 0; i < report->stretch_count; i++) {
		sums[2 * i].span = report->stretches[i].sum.span;
		sums[2 * i + 1].span = report->stretches[i].winter.span;
	}
	enum status status =
		weather_sum_spans(&making->record, sums, 2 * report->stretch_count, why);
	for (int32_t i = 0; i < report->stretch_count; i++) {
		report->stretches[i].sum = sums[2 * i];
		report->stretches[i].winter = sums[2 * i + 1];
	}
	return status;
}

enum status weather_report_make(struct yard *yard, const struct weather_ask *ask,
	struct arena *arena, struct weather_report *out, struct fault *why)
{
	struct making making = {
		.yard = yard, .store = yard_store(yard), .arena = arena, .report = out};
	struct day_span span = {0};

	*out = (struct weather_report){.today = yard_today(yard)};
	enum status status = span_asked(&making, ask, &span, why);
	if (status == STATUS_OK)
		status = load_record(&making, why);
	if (status != STATUS_OK)
		return status;
	find_stretches(&making, span);
	status = sum_stretches(&making, why);
	if (status == STATUS_OK && out->stretches[0].has_winter)
		status = weather_find_needs(yard, out, &making.record, arena, why);
	return status;
}
