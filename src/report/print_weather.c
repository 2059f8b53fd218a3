/* SPDX-License-Identifier: MIT */
/* The weather: a span, the same days of other years, each day, chill against the kinds' needs. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "weather_rows.h"

/* Rows of weeks in the text, and of earlier years. */
enum { WEEKS = 6, WEEK_DAYS = 7, YEARS_SAID = 12 };

const char *weather_rain_words(int64_t rain_um, enum unit_system units, char *out, int size)
{
	if (units == UNITS_US)
		snprintf(out, (size_t)size, "%.2f in", (double)rain_um / 25400.0);
	else
		snprintf(out, (size_t)size, "%.1f mm", (double)rain_um / 1000.0);
	return out;
}

const char *weather_span_words(struct day_span span, char *out, int size)
{
	char from[24], to[24];

	snprintf(out, (size_t)size, "%s to %s, %d days", date_format_plain(span.from, from, 24),
		date_format_plain(span.to, to, 24), date_days_between(span.from, span.to) + 1);
	return out;
}

static const char *rain_or_not(
	const struct weather_sum *sum, enum unit_system units, char *out, int size)
{
	if (sum->rain_known == 0)
		snprintf(out, (size_t)size, "-");
	else
		weather_rain_words(sum->rain_um, units, out, size);
	return out;
}

static bool is_inside(const struct day_weather *day, struct day_span span)
{
	return date_compare(day->day, span.from) >= 0 && date_compare(day->day, span.to) <= 0;
}

/* --- in text --- */

static void say_sources(const struct printer *printer, const struct weather_report *report)
{
	char from[24], to[24];

	for (int32_t i = 0; i < report->station_count; i++) {
		const struct weather_station *station = &report->stations[i];

		say_wrapped(printer, "  ", "%s\"%s\": %d days, %s to %s%s",
			station->forecast ? "forecast " : "station ", station->name, station->days,
			date_format_plain(station->from, from, sizeof from),
			date_format_plain(station->to, to, sizeof to),
			station->forecast ? "; not counted in any figure" : "");
	}
	if (report->line_count > 0)
		say_line(printer, "  %d line%s of your own: your figure stands before a station's",
			report->line_count, report->line_count == 1 ? "" : "s");
	if (report->day_count == 0)
		say_wrapped(printer, "  ",
			"no weather is stored: boughbook weather import FILE, or enter \"frost -2 "
			"C last night\"");
}

static void say_gaps(const struct printer *printer, const struct weather_sum *sum)
{
	if (sum->missing == 0)
		say_line(printer, "  gaps: none, all %d days have both extremes", sum->days);
	else
		say_wrapped(printer, "  ",
			"gaps: %d of %d days lack an extreme, %d in a row at most; they give "
			"nothing below and are not taken for zero",
			sum->missing, sum->days, sum->longest_gap);
	if (sum->crossed > 0)
		say_wrapped(printer, "  ",
			"%d of them for a minimum above the maximum: a line of yours against a "
			"station, or two stations",
			sum->crossed);
}

static void say_extremes(const struct printer *printer, const struct weather_sum *sum)
{
	char low[24] = "not known", high[24] = "not known", low_day[24] = "", high_day[24] = "";

	if (sum->lowest.decic.known) {
		temperature_format(sum->lowest.decic.value, printer->units, low, sizeof low);
		date_format_plain(sum->lowest.day, low_day, sizeof low_day);
	}
	if (sum->highest.decic.known) {
		temperature_format(sum->highest.decic.value, printer->units, high, sizeof high);
		date_format_plain(sum->highest.day, high_day, sizeof high_day);
	}
	say_wrapped(printer, "  ", "lowest %s%s%s, highest %s%s%s", low,
		low_day[0] != '\0' ? " on " : "", low_day, high, high_day[0] != '\0' ? " on " : "",
		high_day);
}

static void say_chill(
	const struct printer *printer, const struct weather_sum *sum, bool has_latitude)
{
	const struct chill *chill = &sum->chill;

	if (chill->hours == 0) {
		say_wrapped(printer, "  ", "chill: not known%s",
			has_latitude ? "" : "; hours need the place's latitude (place set --lat)");
		return;
	}
	say_wrapped(printer, "  ",
		"chill: %.0f hours of 0 to 7.2 C; Utah %.1f; positive Utah %.1f; Dynamic model "
		"%.1f portions",
		chill->chilling_hours, chill->utah, chill->utah_positive, chill->portions);
	if (chill->gaps > 0)
		say_wrapped(printer, "    ", "%d gap%s: each may have cost up to a portion",
			chill->gaps, chill->gaps == 1 ? "" : "s");
	say_wrapped(printer, "    ",
		"from stored hours on %d days, else hours made from the extremes (Linvill 1990)",
		sum->by_hours);
}

/* "3"; "not known" where no day has the figure. */
static const char *count_words(int32_t count, int32_t known, char out[16])
{
	if (known == 0)
		snprintf(out, 16, "not known");
	else
		snprintf(out, 16, "%d", count);
	return out;
}

static void say_sum(const struct printer *printer, const struct weather_report *report)
{
	const struct weather_sum *sum = &report->stretches[0].sum;
	char rain[24], frost[16], heat[16];

	say_gaps(printer, sum);
	say_extremes(printer, sum);
	say_wrapped(printer, "  ",
		"frost nights %s (minimum 0.0 C / 32 F or lower), heat days %s (maximum 35.0 C / "
		"95 F or higher)",
		count_words(sum->frost_nights, sum->min_known, frost),
		count_words(sum->heat_days, sum->max_known, heat));
	if (sum->rain_known > 0)
		say_line(printer, "  rain %s on the %d days with a figure",
			weather_rain_words(sum->rain_um, printer->units, rain, sizeof rain),
			sum->rain_known);
	else
		say_line(printer, "  rain: no day has a figure");
	if (sum->missing == sum->days)
		say_line(printer, "  warmth: not known");
	else
		say_wrapped(printer, "  ",
			"warmth %.0f C degree-days (daily mean over 10 C / 50 F, no cutoff); %.0f "
			"growing "
			"degree hours",
			sum->degree_days, sum->growing_hours);
	say_chill(printer, sum, report->has_latitude);
}

/* One week that ends on a day. */
static void say_week(
	const struct printer *printer, const struct weather_report *report, struct date last)
{
	struct day_span span = {date_add_days(last, 1 - WEEK_DAYS), last};
	struct maybe_i32 low = {0}, high = {0};
	int32_t known = 0, frost = 0, wet = 0;
	char from[24], cold[24] = "-", warm[24] = "-", rain[24] = "-", nights[16] = "-";
	int64_t rain_um = 0;

	for (int32_t i = 0; i < report->day_count; i++) {
		const struct day_weather *day = &report->days[i];

		if (!is_inside(day, span))
			continue;
		known += day->min_decic.known && day->max_decic.known;
		frost += day->min_decic.known && day->min_decic.value <= FROST_NIGHT_DECIC;
		if (day->min_decic.known && (!low.known || day->min_decic.value < low.value))
			low = day->min_decic;
		if (day->max_decic.known && (!high.known || day->max_decic.value > high.value))
			high = day->max_decic;
		wet += day->rain_um.known;
		rain_um += day->rain_um.known ? day->rain_um.value : 0;
	}
	if (low.known) {
		temperature_format(low.value, printer->units, cold, sizeof cold);
		snprintf(nights, sizeof nights, "%d", frost);
	}
	if (high.known)
		temperature_format(high.value, printer->units, warm, sizeof warm);
	if (wet > 0)
		weather_rain_words(rain_um, printer->units, rain, sizeof rain);
	say_line(printer, "  %-16s %9s %9s %6s %10s %9d",
		date_format_plain(span.from, from, sizeof from), cold, warm, nights, rain,
		WEEK_DAYS - known);
}

static void say_weeks(const struct printer *printer, const struct weather_report *report)
{
	struct date last = report->stretches[0].sum.span.to;

	say_line(printer, "the last weeks");
	say_line(printer, "  %-16s %9s %9s %6s %10s %9s", "week from", "lowest", "highest", "frost",
		"rain", "missing");
	for (int32_t week = WEEKS - 1; week >= 0; week--)
		say_week(printer, report, date_add_days(last, -week * WEEK_DAYS));
}

static void say_year(const struct printer *printer, const struct weather_stretch *stretch)
{
	const struct weather_sum *sum = &stretch->sum;
	char frost[16] = "-", heat[16] = "-";
	char rain[24], hours[16] = "-", portions[16] = "-", warmth[16] = "-";

	if (stretch->has_winter && stretch->winter.chill.hours > 0) {
		snprintf(hours, sizeof hours, "%.0f", stretch->winter.chill.chilling_hours);
		snprintf(portions, sizeof portions, "%.1f", stretch->winter.chill.portions);
	}
	if (sum->missing < sum->days)
		snprintf(warmth, sizeof warmth, "%.0f", sum->degree_days);
	if (sum->min_known > 0)
		snprintf(frost, sizeof frost, "%d", sum->frost_nights);
	if (sum->max_known > 0)
		snprintf(heat, sizeof heat, "%d", sum->heat_days);
	say_line(printer, "  %-8s %8d %8s %9s %8s %6s %5s %11s", stretch->name, sum->missing, hours,
		portions, warmth, frost, heat, rain_or_not(sum, printer->units, rain, sizeof rain));
}

static void say_years(const struct printer *printer, const struct weather_report *report, bool all)
{
	say_line(printer, "the same days of the stored years");
	say_line(printer, "  %-8s %8s %8s %9s %8s %6s %5s %11s", "season", "missing", "chill h",
		"portions", "warmth", "frost", "heat", "rain");
	for (int32_t i = 0; i < report->stretch_count && (all || i <= YEARS_SAID); i++)
		say_year(printer, &report->stretches[i]);
	if (!all && report->stretch_count > YEARS_SAID + 1)
		say_line(printer, "  and %d years more: boughbook weather show years",
			report->stretch_count - YEARS_SAID - 1);
	if (report->stretch_count == 1)
		say_line(printer, "  no earlier year is stored");
	if (report->stretches[0].has_winter)
		say_wrapped(printer, "  ",
			"chill is that of the winter months, hours of 0 to 7.2 C and portions; "
			"warmth in C degree-days over 10 C");
}

/* What it got of one listed need. */
static void say_listed(const struct printer *printer, const struct chill *chill,
	const struct chill_need *one, const struct almanac *almanac)
{
	double got = one->portions ? chill->portions : chill->chilling_hours;
	char span[48], so_far[32] = "not known";

	snprintf(span, sizeof span, one->most > one->least ? "%lld to %lld" : "%lld",
		(long long)one->least, (long long)one->most);
	if (chill->hours > 0)
		snprintf(so_far, sizeof so_far, "%.*f", one->portions ? 1 : 0, got);
	if (one->most == 0)
		say_wrapped(printer, "    ", "needs none [%s]",
			source_title(almanac, one->row->source));
	else
		say_wrapped(printer, "    ", "so far %s, listed %s %s%s%s [%s]", so_far, span,
			one->portions ? "portions" : "hours of 0 to 7.2 C",
			one->row->text[0] != '\0' ? ": " : "", one->row->text,
			source_title(almanac, one->row->source));
}

static void say_need(const struct printer *printer, const struct weather_need *need,
	const struct almanac *almanac)
{
	char offset[40] = "", own[64] = "";

	if (need->warmer_decic != 0)
		snprintf(offset, sizeof offset, ", on spots %.1f %s %s",
			(need->warmer_decic < 0 ? -need->warmer_decic : need->warmer_decic) *
				(printer->units == UNITS_US ? 0.18 : 0.1),
			printer->units == UNITS_US ? "F" : "C",
			need->warmer_decic < 0 ? "colder" : "warmer");
	if (need->own_days > 0)
		snprintf(own, sizeof own, ", on %d day%s by your figure at the tree",
			need->own_days, need->own_days == 1 ? "" : "s");
	say_wrapped(printer, "  ", "%s%s%s (%s%s)%s%s", need->kind.species->name,
		need->need_count > 0 && need->needs[0].of_cultivar ? " " : "",
		need->need_count > 0 && need->needs[0].of_cultivar ? need->kind.cultivar : "",
		need->labels, need->trees > need->listed ? " and more" : "", offset, own);
	if (need->need_count == 0)
		say_line(printer, "    no need is listed in the almanac");
	for (int32_t k = 0; k < need->need_count; k++)
		say_listed(printer, &need->winter.chill, &need->needs[k], almanac);
}

static void say_needs(const struct printer *printer, const struct weather_report *report,
	const struct almanac *almanac)
{
	const struct weather_stretch *stretch = &report->stretches[0];
	char span[80];

	if (!stretch->has_winter) {
		say_wrapped(printer, "",
			"chill against the kinds: no winter lies in this span, or the place says "
			"no hemisphere");
		return;
	}
	say_wrapped(printer, "", "chill of the winter, %s, against the kinds in the yard",
		weather_span_words(stretch->winter.span, span, sizeof span));
	if (stretch->winter.missing > 0)
		say_wrapped(printer, "  ", "%d of its days lack an extreme, %d in a row at most",
			stretch->winter.missing, stretch->winter.longest_gap);
	for (int32_t i = 0; i < report->need_count; i++)
		say_need(printer, &report->needs[i], almanac);
	if (report->need_count == 0)
		say_line(printer, "  no tree of a known kind stands here");
}

static void say_day(const struct printer *printer, const struct day_weather *day)
{
	char when[24], low[24] = "-", high[24] = "-", rain[24] = "-", words[64];

	if (day->min_decic.known)
		temperature_format(day->min_decic.value, printer->units, low, sizeof low);
	if (day->max_decic.known)
		temperature_format(day->max_decic.value, printer->units, high, sizeof high);
	if (day->rain_um.known)
		weather_rain_words(day->rain_um.value, printer->units, rain, sizeof rain);
	say_line(printer, "  %-17s %8s %8s %9s  %s%s%s",
		date_format_plain(day->day, when, sizeof when), low, high, rain,
		weather_day_words(day, words, sizeof words), words[0] != '\0' ? " " : "",
		day->min_entry != NULL || day->max_entry != NULL ? "(your figure)" : "");
}

static void say_days(const struct printer *printer, const struct weather_report *report)
{
	struct day_span span = report->stretches[0].sum.span;

	say_line(printer, "  %-17s %8s %8s %9s", "day", "lowest", "highest", "rain");
	for (int32_t i = 0; i < report->day_count; i++)
		if (is_inside(&report->days[i], span))
			say_day(printer, &report->days[i]);
}

static void say_head(
	const struct printer *printer, const struct weather_report *report, struct yard *yard)
{
	char span[80];

	weather_span_words(report->stretches[0].sum.span, span, sizeof span);
	if (report->whole_season)
		say_wrapped(printer, "", "%s: weather of season %s, %s", yard_place(yard)->name,
			report->season.name, span);
	else
		say_wrapped(printer, "", "%s: weather, %s", yard_place(yard)->name, span);
}

enum status print_weather(const struct printer *printer, const struct weather_report *report,
	enum weather_part part, struct yard *yard, struct fault *why)
{
	const struct almanac *almanac = yard_almanac(yard);

	if (printer->format != FORMAT_TEXT)
		return print_weather_rows(printer, report, part, almanac, why);
	say_head(printer, report, yard);
	if (part == WEATHER_ALL) {
		say_sources(printer, report);
		say_sum(printer, report);
		say_weeks(printer, report);
	}
	if (part == WEATHER_DAYS)
		say_days(printer, report);
	if (part == WEATHER_ALL || part == WEATHER_YEARS)
		say_years(printer, report, part == WEATHER_YEARS);
	if (part == WEATHER_ALL || part == WEATHER_CHILL)
		say_needs(printer, report, almanac);
	return say_end(printer, why);
}
