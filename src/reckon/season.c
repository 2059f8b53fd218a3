/* SPDX-License-Identifier: MIT */
#include "reckon/season.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reckon/days.h"

/* Purpose: the season year of a day: the calendar year in which the harvest window after the
 * last turn on or before the day opens.
 * Example: turn 14 October, harvest from February: 2026-05-01 and 2025-10-14 are 2026. */
int32_t season_year_of(const struct season_rule *rule, struct date day)
{
	int32_t year = date_parts(day).year;
	if (date_compare(day, day_opens(year, rule->turn)) < 0)
		year--;
	return year + (rule->years_add ? 1 : 0);
}

/* From the turn to the day before the next one; seasons follow each other without a gap. */
struct window_span season_span(const struct season_rule *rule, int32_t year)
{
	int32_t turn_year = year - (rule->years_add ? 1 : 0);
	return (struct window_span){
		.from = day_opens(turn_year, rule->turn),
		.to = date_add_days(day_opens(turn_year + 1, rule->turn), -1),
	};
}

bool season_harvest(const struct season_rule *rule, int32_t year, struct window_span *out)
{
	if (rule->harvest_from.month == 0)
		return false;
	*out = span_of_year(year, rule->harvest_from, rule->harvest_to);
	return true;
}

const char *season_name(const struct season_rule *rule, int32_t year, char *out, int size)
{
	const struct season season = {.year = year, .crosses = rule->crosses};
	return season_title(&season, out, size);
}

const char *season_title(const struct season *season, char *out, int size)
{
	assert(size >= 12);
	if (season->crosses)
		snprintf(out, (size_t)size, "%d/%02d", season->year, (season->year + 1) % 100);
	else
		snprintf(out, (size_t)size, "%d", season->year);
	return out;
}

/* The number that text[0..length) spells in digits alone, at most four; -1 when it does not. */
static int32_t digits_value(const char *text, size_t length)
{
	int32_t value = 0;
	if (length == 0 || length > 4)
		return -1;
	for (size_t at = 0; at < length; at++) {
		if (text[at] < '0' || text[at] > '9')
			return -1;
		value = value * 10 + (text[at] - '0');
	}
	return value;
}

enum status season_parse(const char *text, int32_t *year, struct fault *why)
{
	size_t length = strlen(text);
	const char *slash = strchr(text, '/');
	size_t first = slash == NULL ? length : (size_t)(slash - text);
	size_t second = slash == NULL ? 0 : length - first - 1;
	int32_t value = first == 4 ? digits_value(text, 4) : -1;
	int32_t next = slash == NULL ? -1 : digits_value(slash + 1, second);
	bool shaped = value >= 0 && (slash == NULL || (next >= 0 && (second == 2 || second == 4)));
	if (!shaped)
		return fault_set(why, STATUS_SYNTAX,
			"'%.40s' is not a season: it is written as 2026 or 2025/26", text);
	if (value == 0)
		return fault_set(why, STATUS_RANGE, "season year 0 is outside 1..9999");
	if (slash != NULL && next != (second == 2 ? (value + 1) % 100 : value + 1))
		return fault_set(why, STATUS_RANGE,
			"'%.40s' is no season: after %d/ comes %02d, the year after", text, value,
			(value + 1) % 100);
	*year = value;
	return STATUS_OK;
}

const char *season_state_key(enum season_state state)
{
	switch (state) {
	case SEASON_TO_COME:
		return "to-come";
	case SEASON_IN_PROGRESS:
		return "in-progress";
	case SEASON_COMPLETE:
		return "complete";
	case SEASON_NONE_SEEN:
		return "none-seen";
	case SEASON_NOT_RECORDED:
		return "not-recorded";
	}
	return "";
}
