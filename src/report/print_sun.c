/* SPDX-License-Identifier: MIT */
/* The sun of a place: its day, and hours of direct sun at the spots. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/clock.h"
#include "core/text.h"
#include "report/rows.h"
#include "report/sun_report.h"

enum { NAME_CELLS = 16, NAMES_SHOWN = 8 };

/* --- rows --- */

static const char *const month_keys[] = {"spot", "month", "up_min", "sun_min", "built_min",
	"tree_min", "afternoon_up_min", "afternoon_sun_min", "not_counted", NULL};

static const char *const day_keys[] = {"day", "rise_utc", "noon_utc", "set_utc", "length_min",
	"noon_altitude_deg", "spot", "up_min", "sun_min", "built_min", "tree_min", "not_counted",
	NULL};

static void minutes_cell(struct rows *rows, bool known, double minutes)
{
	rows_i64(rows, (struct maybe_i64){known ? round_i64(minutes) : 0, known});
}

static void month_row(struct rows *rows, const struct sun_report *report,
	const struct sun_spot *spot, int32_t month)
{
	const struct shade_month *hours = &spot->months[month];

	rows_text(rows, spot->spot->name);
	rows_i32(rows, month + 1);
	minutes_cell(rows, true, report->open[month].up_min);
	minutes_cell(rows, spot->placed, hours->sun_min);
	minutes_cell(rows, spot->placed, hours->hidden_min[SHADE_BUILT]);
	minutes_cell(rows, spot->placed, hours->hidden_min[SHADE_TREE]);
	minutes_cell(rows, true, report->open[month].afternoon_up_min);
	minutes_cell(rows, spot->placed, hours->afternoon_sun_min);
	rows_i32(rows, sun_gap_count(report->ground, spot->spot));
}

/* "2026-06-21T02:32Z" of minutes from 0h UTC of the day. */
static void time_cell(struct rows *rows, struct date day, bool known, double minutes)
{
	char text[40], iso[DATE_SIZE];
	int32_t whole = (int32_t)floor(minutes + 0.5);
	int32_t by = whole >= 0 ? whole / 1440 : -((1439 - whole) / 1440);

	whole -= by * 1440;
	snprintf(text, sizeof text, "%sT%02d:%02dZ", date_format(date_add_days(day, by), iso),
		whole / 60, whole % 60);
	rows_text(rows, known ? text : NULL);
}

static void day_row(struct rows *rows, const struct sun_report *report, const struct sun_spot *spot)
{
	const struct sun_day *day = &report->day;
	bool timed = report->longitude_known;
	int32_t month = date_parts(report->date).month - 1;
	bool placed = spot != NULL && spot->placed;
	const struct shade_month *hours = placed ? &spot->months[month] : &report->open[month];

	rows_date(rows, known_date(report->date));
	time_cell(rows, report->date, timed && day->rises, day->rise_min);
	time_cell(rows, report->date, timed, day->noon_min);
	time_cell(rows, report->date, timed && day->sets, day->set_min);
	minutes_cell(rows, true, day->length_min);
	rows_decimal(rows, true, day->noon_altitude_deg, 2);
	rows_text(rows, spot != NULL ? spot->spot->name : NULL);
	minutes_cell(rows, true, report->open[month].up_min);
	minutes_cell(rows, placed, hours->sun_min);
	minutes_cell(rows, placed, hours->hidden_min[SHADE_BUILT]);
	minutes_cell(rows, placed, hours->hidden_min[SHADE_TREE]);
	rows_i32(rows, sun_gap_count(report->ground, spot != NULL ? spot->spot : NULL));
}

static enum status print_rows(const struct printer *printer, const struct sun_report *report,
	const struct sun_options *options, struct fault *why)
{
	struct rows rows = rows_begin(printer, options->day.known ? day_keys : month_keys);

	if (options->day.known) {
		day_row(&rows, report, options->spot_id != NULL ? &report->spots[0] : NULL);
		return rows_end(&rows, why);
	}
	for (int32_t i = 0; i < report->spot_count; i++)
		for (int32_t month = 0; month < MONTHS; month++)
			month_row(&rows, report, &report->spots[i], month);
	return rows_end(&rows, why);
}

/* --- the day --- */

/* "7:04" by this machine's clock. */
static const char *clock_words(struct date day, double minutes, char *out, size_t size)
{
	int32_t whole = (int32_t)floor(minutes + 0.5);
	int32_t local = whole + clock_zone_min(day, whole);
	int32_t of_day = ((local % 1440) + 1440) % 1440;

	snprintf(out, size, "%d:%02d", of_day / 60, of_day % 60);
	return out;
}

static const char *zone_words(struct date day, double minutes, char *out, size_t size)
{
	int32_t zone_min = clock_zone_min(day, (int32_t)minutes);
	int32_t ahead = zone_min < 0 ? -zone_min : zone_min;

	if (zone_min == 0)
		snprintf(out, size, "UTC");
	else if (ahead % 60 == 0)
		snprintf(out, size, "UTC%c%d", zone_min < 0 ? '-' : '+', ahead / 60);
	else
		snprintf(out, size, "UTC%c%d:%02d", zone_min < 0 ? '-' : '+', ahead / 60,
			ahead % 60);
	return out;
}

static void say_course(const struct printer *printer, const struct sun_report *report)
{
	char date[24];
	const struct sun_day *day = &report->day;
	bool down = day->course == SUN_STAYS_DOWN;

	say_wrapped(printer, "", "%s: the sun stays %s all day (polar %s), %.0f degrees %s at noon",
		date_format_plain(report->date, date, sizeof date), down ? "down" : "up",
		down ? "night" : "day", fabs(day->noon_altitude_deg),
		day->noon_altitude_deg < 0 ? "below the horizon" : "high");
}

static void say_day(const struct printer *printer, const struct sun_report *report)
{
	char date[24], time[16], zone[24], text[240] = "";
	struct text_builder line = text_builder_fixed(text, sizeof text);
	const struct sun_day *day = &report->day;

	if (day->course != SUN_RISES) {
		say_course(printer, report);
		return;
	}
	text_add_format(&line, "%s: ", date_format_plain(report->date, date, sizeof date));
	if (report->longitude_known) {
		if (day->rises)
			text_add_format(&line, "rises %s, ",
				clock_words(report->date, day->rise_min, time, sizeof time));
		text_add_format(&line, "highest %s%s",
			clock_words(report->date, day->noon_min, time, sizeof time),
			day->sets ? ", " : "");
		if (day->sets)
			text_add_format(&line, "sets %s",
				clock_words(report->date, day->set_min, time, sizeof time));
		text_add_format(&line, " (%s); ",
			zone_words(report->date, day->noon_min, zone, sizeof zone));
	}
	text_add_format(&line, "a day of %.1f h, %.0f degrees high at noon", day->length_min / 60,
		day->noon_altitude_deg);
	say_wrapped(printer, "", "%s", text);
	if (!report->longitude_known)
		say_wrapped(printer, "  ", "when it rises and sets wants the longitude too");
}

/* --- what is not in the figures --- */

static const char *const lacks[] = {
	[GAP_POSITION] = "  no position: ",
	[GAP_HEIGHT] = "  no height: ",
	[GAP_SPREAD] = "  no spread: ",
	[GAP_POINTS] = "  one point only: ",
};

/* Names one after the other, and how many more there are. */
struct name_list {
	struct text_builder text;
	int32_t count;
};

static void list_name(struct name_list *list, const char *name)
{
	if (list->count++ < NAMES_SHOWN)
		text_add_format(&list->text, "%s%s", list->count > 1 ? ", " : "", name);
}

static void say_names(const struct printer *printer, const char *head, struct name_list *list)
{
	if (list->count > NAMES_SHOWN)
		text_add_format(&list->text, " and %d more", list->count - NAMES_SHOWN);
	if (list->count > 0)
		say_wrapped(printer, head, "%s", list->text.text);
}

static void say_lack(const struct printer *printer, const struct yard_ground *ground,
	const struct spot *spot, enum ground_lack lack)
{
	struct arena *arena = arena_new();
	struct name_list names = {.text = text_builder_in(arena)};

	for (int32_t i = 0; i < ground->gap_count; i++)
		if (ground->gaps[i].lack == lack && sun_gap_counts(&ground->gaps[i], spot))
			list_name(&names, ground->gaps[i].name);
	say_names(printer, lacks[lack], &names);
	arena_free(arena);
}

static bool any_bare(const struct yard_ground *ground)
{
	for (int32_t i = 0; i < ground->body_count; i++)
		if (ground->bodies[i].bares)
			return true;
	return false;
}

/* spot: whose figures they are; NULL: of all. */
static void say_limits(
	const struct printer *printer, const struct sun_report *report, const struct spot *spot)
{
	const struct yard_ground *ground = report->ground;

	if (sun_gap_count(ground, spot) > 0)
		say_line(printer, "Not counted, so there may be less sun than said:");
	for (int lack = 0; lack < GAP_TOTAL; lack++)
		say_lack(printer, ground, spot, (enum ground_lack)lack);
	if (any_bare(ground))
		say_wrapped(printer, "",
			"Trees count as in leaf all the year; a bare crown lets much sun through.");
	say_wrapped(printer, "", "Clear sky, flat ground, gates and lines left out.");
}

/* --- all spots --- */

/* In the place's units, but a level in whole centimetres, as the usual one of 1 m is, stays so
 * where it would be a broken number of inches. */
static const char *level_words(const struct printer *printer, int64_t level_um, char *out, int size)
{
	enum { UM_PER_CM = 10000, UM_PER_INCH = 25400 };
	bool metric = level_um % UM_PER_CM == 0 && level_um % UM_PER_INCH != 0;

	return length_format(level_um, metric ? UNITS_SI : printer->units, out, size);
}

static void say_hours(const struct printer *printer, const char *name,
	const struct shade_month months[MONTHS], bool open)
{
	char text[200] = "", cell[TEXT_FIT_SIZE(NAME_CELLS)];
	struct text_builder line = text_builder_fixed(text, sizeof text);

	if (text_width(name) > NAME_CELLS) {
		say_line(printer, "%s", name);
		name = "";
	}
	text_add(&line, text_fit(name, NAME_CELLS, TEXT_PAD_RIGHT, cell, sizeof cell));
	for (int i = 0; i < MONTHS; i++)
		text_add_format(&line, "%5.1f", (open ? months[i].up_min : months[i].sun_min) / 60);
	say_line(printer, "%s", text);
}

static void say_months(const struct printer *printer)
{
	char text[120] = "";
	struct text_builder line = text_builder_fixed(text, sizeof text);

	text_add_format(&line, "%*s", NAME_CELLS, "");
	for (int i = 0; i < MONTHS; i++)
		text_add_format(&line, "  %.3s", date_month_name(i + 1));
	say_line(printer, "%s", text);
}

static void say_lost(const struct printer *printer, const struct sun_report *report)
{
	struct arena *arena = arena_new();
	struct name_list names = {.text = text_builder_in(arena)};

	for (int32_t i = 0; i < report->spot_count; i++)
		if (!report->spots[i].placed)
			list_name(&names, report->spots[i].spot->name);
	say_names(printer, "Not known, no position on the plan: ", &names);
	if (names.count > 0)
		say_line(printer, "  spot set NAME --east 3m --north 4m gives one");
	arena_free(arena);
}

static void say_spots(const struct printer *printer, const struct sun_report *report)
{
	char level[32];

	say_wrapped(printer, "", "Hours of direct sun on a mean day of the month, %s above ground",
		level_words(printer, report->level_um, level, sizeof level));
	say_months(printer);
	say_hours(printer, "(open ground)", report->open, true);
	for (int32_t i = 0; i < report->spot_count; i++)
		if (report->spots[i].placed)
			say_hours(printer, report->spots[i].spot->name, report->spots[i].months,
				false);
	say_lost(printer, report);
	say_limits(printer, report, NULL);
}

/* --- one spot --- */

static void say_spot_months(const struct printer *printer, const struct sun_spot *spot)
{
	say_line(printer, "             day   sun   behind  behind  afternoon");
	say_line(printer, "               h     h    walls   trees  sun, of h");
	for (int i = 0; i < MONTHS; i++) {
		const struct shade_month *month = &spot->months[i];

		say_line(printer, "  %-9s %5.1f %5.1f   %5.1f   %5.1f  %4.1f %4.1f",
			date_month_name(i + 1), month->up_min / 60, month->sun_min / 60,
			month->hidden_min[SHADE_BUILT] / 60, month->hidden_min[SHADE_TREE] / 60,
			month->afternoon_sun_min / 60, month->afternoon_up_min / 60);
	}
}

/* "house 1.2 h (18 ft high)", "A4 0.4 h (12 ft high, 10 ft wide, measured 2 May 2024)". */
static void add_taker(
	struct text_builder *text, const struct printer *printer, const struct sun_taker *taker)
{
	char high[32], wide[32], day[24];

	text_add_format(text, "%s%s %.1f h (%s high", text->length > 0 ? ", " : "",
		taker->body->name, taker->minutes / 60,
		length_format(round_i64(taker->shape->height_m * 1e6), printer->units, high,
			sizeof high));
	if (taker->shape->kind == SHADE_TREE)
		text_add_format(text, ", %s wide",
			length_format(round_i64(taker->shape->radius_m * 2e6), printer->units, wide,
				sizeof wide));
	if (taker->body->measured.known)
		text_add_format(text, ", measured %s",
			date_format_plain(taker->body->measured.value, day, sizeof day));
	text_add(text, ")");
}

/* takers: SUN_TAKERS of them. */
static void say_takers(
	const struct printer *printer, const char *head, const struct sun_taker *takers)
{
	struct arena *arena = arena_new();
	struct text_builder text = text_builder_in(arena);

	text_add(&text, "");
	for (int i = 0; i < SUN_TAKERS && takers[i].body != NULL; i++)
		add_taker(&text, printer, &takers[i]);
	if (text.length > 0)
		say_wrapped(printer, head, "%s", text.text);
	arena_free(arena);
}

static void say_heat(
	const struct printer *printer, const struct sun_report *report, const struct sun_spot *spot)
{
	char months[160];
	double shade_min = spot->afternoon_up_min - spot->afternoon_sun_min;

	if (report->heat == HEAT_UNKNOWN)
		return;
	say_wrapped(printer, "", "Afternoons %s %s%s: %.1f h of shade in %.1f h%s",
		report->heat == HEAT_LOGGED ? "in heat," : "of summer,",
		sun_month_words(report->hot_months, months, sizeof months),
		report->heat == HEAT_LOGGED ? " (days of 35 C and more in stored weather)" : "",
		shade_min / 60, spot->afternoon_up_min / 60,
		spot->afternoons[0].body != NULL ? ", from" : "");
	say_takers(printer, "  ", spot->afternoons);
}

static void say_spot(
	const struct printer *printer, const struct sun_report *report, const struct sun_spot *spot)
{
	char level[32];

	if (!spot->placed) {
		say_wrapped(printer, "",
			"Spot %s has no position on the plan: spot set \"%s\" --east 3m --north "
			"4m. Its hours of sun are not known.",
			spot->spot->name, spot->spot->name);
		return;
	}
	say_wrapped(printer, "",
		"Spot %s, %s above ground: hours of direct sun on a mean day of the month",
		spot->spot->name, level_words(printer, report->level_um, level, sizeof level));
	if (spot->under != NULL)
		say_wrapped(printer, "  ", "the crown of %s reaches over it: no direct sun",
			spot->under->name);
	say_spot_months(printer, spot);
	say_takers(printer, "Shaded by, over the year: ", spot->takers);
	say_heat(printer, report, spot);
	say_limits(printer, report, spot->spot);
}

static void say_spot_day(
	const struct printer *printer, const struct sun_report *report, const struct sun_spot *spot)
{
	char level[32];
	const struct shade_month *hours = &spot->months[date_parts(report->date).month - 1];

	if (!spot->placed) {
		say_spot(printer, report, spot);
		return;
	}
	say_wrapped(printer, "",
		"Spot %s, %s above ground: %.1f h of direct sun; %.1f h behind walls, %.1f h "
		"behind trees",
		spot->spot->name, level_words(printer, report->level_um, level, sizeof level),
		hours->sun_min / 60, hours->hidden_min[SHADE_BUILT] / 60,
		hours->hidden_min[SHADE_TREE] / 60);
	say_takers(printer, "Shaded by: ", spot->takers);
	say_limits(printer, report, spot->spot);
}

enum status print_sun(const struct printer *printer, struct yard *yard,
	const struct sun_options *options, struct fault *why)
{
	struct arena *arena = arena_new();
	struct sun_report report;
	enum status status = sun_report_make(yard, options, arena, &report, why);

	if (status == STATUS_OK && !report.latitude_known)
		status = fault_set(why, STATUS_ABSENT,
			"the place has no latitude; 'boughbook place set --lat D --lon D' gives "
			"it");
	if (status == STATUS_OK && printer->format != FORMAT_TEXT) {
		status = print_rows(printer, &report, options, why);
	} else if (status == STATUS_OK) {
		say_day(printer, &report);
		if (options->spot_id == NULL && !options->day.known)
			say_spots(printer, &report);
		else if (options->spot_id != NULL && options->day.known)
			say_spot_day(printer, &report, &report.spots[0]);
		else if (options->spot_id != NULL)
			say_spot(printer, &report, &report.spots[0]);
		status = say_end(printer, why);
	}
	arena_free(arena);
	return status;
}
