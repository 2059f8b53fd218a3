/* SPDX-License-Identifier: MIT */
/* The weather: the last weeks as charts, and under them this season against the stored years, chill
 * so far against the kinds, gaps and sources. */
#include "weather.h"

static enum status read_page(struct weather_page *page, struct context *context, struct fault *why)
{
	const struct weather_ask ask = {.season = page->year};
	struct weather_report report;
	enum status status =
		weather_report_make(context->session->yard, &ask, context->arena, &report, why);

	if (status != STATUS_OK)
		return status;
	page->units = context->session->units;
	page->report = report;
	status = weather_warmth_make(
		context->session->yard, &report, context->arena, &page->warmth, why);
	if (status != STATUS_OK)
		return status;
	page->year = known_i32(report.season.year);
	weather_lines_make(page, context->arena);
	return STATUS_OK;
}

static enum status weather_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	(void)argument;
	return read_page(screen, context, why);
}

static enum status weather_reread(void *screen, struct context *context, struct fault *why)
{
	arena_reset(context->arena);
	return read_page(screen, context, why);
}

static void weather_settle(void *screen, struct context *context)
{
	struct weather_page *page = screen;
	int last = page->line_count - weather_list_rows(context->rows);

	page->top = page->top > last ? last : page->top;
	page->top = page->top < 0 ? 0 : page->top;
}

/* --- acting --- */

/* Nothing is stored before the first day, nor after today. */
static void change_season(
	struct weather_page *page, struct context *context, int32_t by, struct effect *out)
{
	const struct weather_report *report = &page->report;
	const struct place *place = yard_place(context->session->yard);
	struct date first = report->day_count > 0 ? report->days[0].day : report->today;
	int32_t year = page->year.value + by;
	struct maybe_i32 was = page->year;
	struct fault why;

	if (year > weather_season_at(place, report->today).year) {
		effect_say(out, "that season is still to come");
		return;
	}
	if (by < 0 && year < weather_season_at(place, first).year) {
		effect_say(out, "nothing is stored before that");
		return;
	}
	page->year = known_i32(year);
	page->top = 0;
	if (weather_reread(page, context, &why) != STATUS_OK) {
		page->year = was;
		effect_say(out, "%s", why.text);
	}
}

/* To the next heading; from the last one to the first. */
static void next_head(struct weather_page *page, int rows)
{
	int last = page->line_count - rows;

	for (int at = page->top + 1; at < page->line_count && page->top < last; at++)
		if (page->lines[at].is_head) {
			page->top = at;
			return;
		}
	page->top = 0;
}

static bool scroll(struct weather_page *page, enum action action, int rows)
{
	switch ((int)action) {
	case ACTION_UP:
		page->top--;
		return true;
	case ACTION_DOWN:
		page->top++;
		return true;
	case ACTION_PAGE_UP:
		page->top -= rows;
		return true;
	case ACTION_PAGE_DOWN:
		page->top += rows;
		return true;
	case ACTION_FIRST:
		page->top = 0;
		return true;
	case ACTION_LAST:
		page->top = page->line_count;
		return true;
	default:
		return false;
	}
}

static void weather_act(
	void *screen, struct context *context, enum action action, struct effect *out)
{
	struct weather_page *page = screen;
	int rows = weather_list_rows(context->rows);

	if (scroll(page, action, rows > 1 ? rows - 1 : 1))
		return;
	if (action == ACTION_EARLIER || action == ACTION_LATER)
		change_season(page, context, action == ACTION_LATER ? 1 : -1, out);
	else if (action == ACTION_NEXT_PART)
		next_head(page, rows);
	else
		effect_usual(out);
}

static const struct key_row keys[] = {
	{KEYS_LEFT, ACTION_EARLIER, false},
	{KEYS_RIGHT, ACTION_LATER, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ENTER, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_weather = {
	.name = "weather",
	.title = "Weather",
	.purpose =
		"the last weeks, this season against other years, chill so far against the kinds",
	.state_size = sizeof(struct weather_page),
	.least_rows = 15,
	.least_columns = 60,
	.open = weather_open,
	.reread = weather_reread,
	.draw = weather_draw,
	.act = weather_act,
	.keys = keys,
	.settle = weather_settle,
};
