/* SPDX-License-Identifier: MIT */
#include "reckon/days.h"

enum { YEAR_DAYS = 365, YEAR_MIN = 1, YEAR_MAX = 9999, LAST_OF_FEBRUARY = 59 };

static int32_t year_kept(int32_t year)
{
	if (year < YEAR_MIN)
		return YEAR_MIN;
	return year > YEAR_MAX ? YEAR_MAX : year;
}

struct date day_opens(int32_t year, struct month_day from)
{
	return date_of_month_day(year_kept(year), circle_month_day(circle_of(from)));
}

struct date day_closes(int32_t year, struct month_day to)
{
	if (circle_of(to) == LAST_OF_FEBRUARY)
		return date_of_month_day(year_kept(year), (struct month_day){2, 29});
	return date_of_month_day(year_kept(year), to);
}

bool span_crosses(struct month_day from, struct month_day to)
{
	return circle_of(to) < circle_of(from);
}

struct window_span span_of_year(int32_t year, struct month_day from, struct month_day to)
{
	return (struct window_span){
		.from = day_opens(year, from),
		.to = day_closes(span_crosses(from, to) ? year + 1 : year, to),
	};
}

struct window_span span_at(struct date day, struct month_day from, struct month_day to)
{
	int32_t year = date_parts(day).year;
	struct window_span span = span_of_year(year - 1, from, to);
	for (int32_t on = 0; on < 2 && date_compare(span.to, day) < 0; on++)
		span = span_of_year(year + on, from, to);
	return span;
}

int32_t circle_ahead(int32_t from, int32_t to)
{
	return (to - from + YEAR_DAYS) % YEAR_DAYS;
}
