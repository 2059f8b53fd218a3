/* SPDX-License-Identifier: MIT */
#include "reckon/weather_sum.h"

#include "reckon/heat.h"

/* The walk over the record, a day at a time, with what is carried along. */
struct walk {
	const struct weather_record *record;
	int32_t at; /* the row of the day, or the next one */
	struct date day;
	struct day_weather row; /* of the day, at the spot */
	struct hours hours;
	enum hours_from from;
	int32_t gap;         /* days in a row without both extremes, this one in */
	struct chill before; /* up to the day */
	struct chill chill;  /* with it */
	bool told;           /* the last hour of the day was known */
};

static bool is_missing(const struct day_weather *row)
{
	return !row->min_decic.known || !row->max_decic.known;
}

/* --- one day for one span --- */

static void keep_extremes(struct weather_sum *sum, const struct day_weather *row)
{
	struct maybe_i32 min = row->min_decic, max = row->max_decic;

	sum->min_known += min.known;
	sum->max_known += max.known;
	sum->frost_nights += min.known && min.value <= FROST_NIGHT_DECIC;
	sum->heat_days += max.known && max.value >= HEAT_DAY_DECIC;
	if (min.known && (!sum->lowest.decic.known || min.value < sum->lowest.decic.value))
		sum->lowest = (struct weather_extreme){min, row->day};
	if (max.known && (!sum->highest.decic.known || max.value > sum->highest.decic.value))
		sum->highest = (struct weather_extreme){max, row->day};
}

/* What the carried chill rose by. */
static void add_chill(struct chill *into, const struct chill *before, const struct chill *after)
{
	into->hours += after->hours - before->hours;
	into->chilling_hours += after->chilling_hours - before->chilling_hours;
	into->utah += after->utah - before->utah;
	into->utah_positive += after->utah_positive - before->utah_positive;
	into->portions += after->portions - before->portions;
	into->gaps += after->gaps - before->gaps;
	into->store = after->store;
}

static enum status add_warmth(
	struct weather_sum *sum, const struct day_weather *row, struct fault *why)
{
	const struct heat_limits limits = {.lower = WARMTH_BASE_C};
	double min_c = row->min_decic.value / 10.0, max_c = row->max_decic.value / 10.0;
	double warmth = 0;
	enum status status = heat_degree_days(HEAT_AVERAGE, min_c, max_c, &limits, &warmth, why);

	sum->degree_days += warmth;
	sum->mean_sum_c += (min_c + max_c) / 2;
	return status;
}

static enum status add_growing(
	struct weather_sum *sum, const struct hours *hours, struct fault *why)
{
	enum status status = STATUS_OK;

	for (int32_t hour = hours->from; status == STATUS_OK && hour < hours->to; hour++) {
		double growing = 0;

		status = heat_hour(hours->celsius[hour], &growing, why);
		sum->growing_hours += growing;
	}
	return status;
}

static enum status add_day(struct weather_sum *sum, const struct walk *walk, struct fault *why)
{
	const struct day_weather *row = &walk->row;
	enum status status = STATUS_OK;

	sum->days++;
	if (is_missing(row)) {
		int32_t gap = walk->gap < sum->days ? walk->gap : sum->days;

		sum->missing++;
		sum->longest_gap = gap > sum->longest_gap ? gap : sum->longest_gap;
	} else {
		status = add_warmth(sum, row, why);
	}
	sum->crossed += row->crossed;
	sum->by_hours += walk->from == HOURS_OF_STATION;
	sum->rain_known += row->rain_um.known;
	sum->rain_um += row->rain_um.known ? row->rain_um.value : 0;
	keep_extremes(sum, row);
	add_chill(&sum->chill, &walk->before, &walk->chill);
	if (status == STATUS_OK)
		status = add_growing(sum, &walk->hours, why);
	return status;
}

/* --- the walk --- */

static void take_row(struct walk *walk)
{
	const struct weather_record *record = walk->record;

	while (walk->at < record->day_count &&
		date_compare(record->days[walk->at].day, walk->day) < 0)
		walk->at++;
	walk->row = (struct day_weather){.day = walk->day, .station = ""};
	if (walk->at < record->day_count && record->days[walk->at].day.day == walk->day.day)
		walk->row = record->days[walk->at];
	walk->row.min_decic.value += record->warmer_decic;
	walk->row.max_decic.value += record->warmer_decic;
	walk->gap = is_missing(&walk->row) ? walk->gap + 1 : 0;
}

static enum status step(struct walk *walk, struct fault *why)
{
	take_row(walk);
	walk->before = walk->chill;
	enum status status =
		weather_hours_of_day(walk->record, walk->day, &walk->hours, &walk->from, why);
	if (status == STATUS_OK)
		status = chill_add_hours(&walk->chill, &walk->hours, &walk->told, why);
	return status;
}

static enum status check(const struct weather_record *record, const struct weather_sum *sums,
	int32_t count, struct fault *why)
{
	struct daylight light;
	char text[DATE_SIZE];

	for (int32_t i = 0; i < count; i++)
		if (date_compare(sums[i].span.to, sums[i].span.from) < 0)
			return fault_set(why, STATUS_RANGE, "the span ends before it begins, on %s",
				date_format(sums[i].span.to, text));
	for (int32_t i = 1; i < record->day_count; i++)
		if (date_compare(record->days[i].day, record->days[i - 1].day) <= 0)
			return fault_set(why, STATUS_RANGE, "the day %s stands twice",
				date_format(record->days[i].day, text));
	if (!record->has_latitude)
		return STATUS_OK;
	return hourly_daylight(record->latitude_deg, 1, &light, why);
}

/* From the first day known to the end of the last span. */
static struct day_span whole_of(
	const struct weather_record *record, const struct weather_sum *sums, int32_t count)
{
	struct day_span whole = sums[0].span;

	for (int32_t i = 1; i < count; i++) {
		if (date_compare(sums[i].span.from, whole.from) < 0)
			whole.from = sums[i].span.from;
		if (date_compare(sums[i].span.to, whole.to) > 0)
			whole.to = sums[i].span.to;
	}
	if (record->day_count > 0 && date_compare(record->days[0].day, whole.from) < 0)
		whole.from = record->days[0].day;
	return whole;
}

enum status weather_sum_spans(const struct weather_record *record, struct weather_sum *sums,
	int32_t count, struct fault *why)
{
	struct walk walk = {.record = record};
	enum status status = check(record, sums, count, why);

	if (status != STATUS_OK || count == 0)
		return status;
	for (int32_t i = 0; i < count; i++)
		sums[i] = (struct weather_sum){.span = sums[i].span};
	struct day_span whole = whole_of(record, sums, count);
	for (walk.day = whole.from; status == STATUS_OK && date_compare(walk.day, whole.to) <= 0;
		walk.day.day++) {
		status = step(&walk, why);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++)
			if (date_compare(walk.day, sums[i].span.from) >= 0 &&
				date_compare(walk.day, sums[i].span.to) <= 0)
				status = add_day(&sums[i], &walk, why);
	}
	return status;
}
