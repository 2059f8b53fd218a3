/* SPDX-License-Identifier: MIT */
/* What stands under the charts, a line each. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "weather.h"

enum { LINES_MAX = 400, LINE_SIZE_MAX = 300 };
/* Years that count toward the mean have nine days in ten. */
enum { WHOLE_PERCENT = 90 };

struct writing {
	const struct weather_report *report;
	const struct weather_warmth *warmth;
	enum unit_system units;
	struct arena *arena;
	struct weather_line *lines;
	int count;
};

static struct weather_line *add(struct writing *writing, enum style style, const char *text)
{
	if (writing->count == LINES_MAX)
		return NULL;
	struct weather_line *line = &writing->lines[writing->count++];
	*line = (struct weather_line){.style = style, .text = arena_text(writing->arena, text)};
	return line;
}

static void add_head(struct writing *writing, const char *text)
{
	if (writing->count > 0)
		(void)add(writing, STYLE_PLAIN, "");
	struct weather_line *line = add(writing, STYLE_TITLE, text);
	if (line != NULL)
		line->is_head = true;
}

/* --- the same days of the stored years --- */

/* The cells of one year, "-" where nothing is known. */
struct year_cells {
	char name[24], missing[16], chill[16], portions[16], warmth[16], frost[16], heat[16],
		rain[24];
};

static void add_cells(struct writing *writing, enum style style, const struct year_cells *cells)
{
	char text[LINE_SIZE_MAX];

	snprintf(text, sizeof text, "%-10s %4s %6s %6s %6s %5s %4s %9s", cells->name,
		cells->missing, cells->chill, cells->portions, cells->warmth, cells->frost,
		cells->heat, cells->rain);
	(void)add(writing, style, text);
}

static struct year_cells no_cells(const char *name)
{
	struct year_cells cells = {.missing = "-",
		.chill = "-",
		.portions = "-",
		.warmth = "-",
		.frost = "-",
		.heat = "-",
		.rain = "-"};

	text_copy(cells.name, sizeof cells.name, name);
	return cells;
}

static void add_year(struct writing *writing, const struct weather_stretch *stretch, bool now)
{
	const struct weather_sum *sum = &stretch->sum;
	struct year_cells cells = no_cells(stretch->name);

	snprintf(cells.missing, sizeof cells.missing, "%d", sum->missing);
	if (stretch->has_winter && stretch->winter.chill.hours > 0) {
		snprintf(cells.chill, sizeof cells.chill, "%.0f",
			stretch->winter.chill.chilling_hours);
		snprintf(cells.portions, sizeof cells.portions, "%.1f",
			stretch->winter.chill.portions);
	}
	if (sum->missing < sum->days)
		snprintf(cells.warmth, sizeof cells.warmth, "%.0f", sum->degree_days);
	if (sum->min_known > 0)
		snprintf(cells.frost, sizeof cells.frost, "%d", sum->frost_nights);
	if (sum->max_known > 0)
		snprintf(cells.heat, sizeof cells.heat, "%d", sum->heat_days);
	if (sum->rain_known > 0)
		weather_rain_words(sum->rain_um, writing->units, cells.rain, sizeof cells.rain);
	add_cells(writing, now ? STYLE_STRONG : STYLE_PLAIN, &cells);
}

/* Sums over the earlier years that are nearly whole. */
struct year_means {
	int32_t years, winters, rains;
	double hours, portions, warmth, frost, heat, rain_um;
};

static bool is_whole(int32_t known, int32_t days)
{
	return known * 100 >= days * WHOLE_PERCENT;
}

static void add_to_means(struct year_means *means, const struct weather_stretch *stretch)
{
	const struct weather_sum *sum = &stretch->sum, *winter = &stretch->winter;

	if (stretch->has_winter && winter->chill.hours > 0 &&
		is_whole(winter->days - winter->missing, winter->days)) {
		means->winters++;
		means->hours += winter->chill.chilling_hours;
		means->portions += winter->chill.portions;
	}
	if (is_whole(sum->rain_known, sum->days)) {
		means->rains++;
		means->rain_um += (double)sum->rain_um;
	}
	if (!is_whole(sum->days - sum->missing, sum->days))
		return;
	means->years++;
	means->warmth += sum->degree_days;
	means->frost += sum->frost_nights;
	means->heat += sum->heat_days;
}

static void add_means(struct writing *writing)
{
	struct year_cells cells = no_cells("");
	struct year_means means = {0};

	for (int32_t i = 1; i < writing->report->stretch_count; i++)
		add_to_means(&means, &writing->report->stretches[i]);
	if (means.years == 0)
		return;
	snprintf(cells.name, sizeof cells.name, "mean n %d", means.years);
	if (means.winters > 0) {
		snprintf(cells.chill, sizeof cells.chill, "%.0f", means.hours / means.winters);
		snprintf(cells.portions, sizeof cells.portions, "%.1f",
			means.portions / means.winters);
	}
	snprintf(cells.warmth, sizeof cells.warmth, "%.0f", means.warmth / means.years);
	snprintf(cells.frost, sizeof cells.frost, "%.1f", means.frost / means.years);
	snprintf(cells.heat, sizeof cells.heat, "%.1f", means.heat / means.years);
	if (means.rains > 0)
		weather_rain_words((int64_t)(means.rain_um / means.rains), writing->units,
			cells.rain, sizeof cells.rain);
	add_cells(writing, STYLE_PLAIN, &cells);
}

static void add_years(struct writing *writing)
{
	static const struct year_cells heads = {
		"season", "gaps", "chill", "port.", "warmth", "frost", "heat", "rain"};
	const struct weather_report *report = writing->report;

	add_head(writing, "This season and the same days of the stored years");
	add_cells(writing, STYLE_FAINT, &heads);
	for (int32_t i = 0; i < report->stretch_count; i++) {
		add_year(writing, &report->stretches[i], i == 0);
		if (i == 0)
			add_means(writing);
	}
	if (report->stretch_count == 1)
		(void)add(writing, STYLE_PLAIN, "no earlier year is stored");
	(void)add(writing, STYLE_FAINT,
		"chill: winter hours 0-7.2 C, portions; warmth: C "
		"degree-days over 10 C");
}

/* --- chill against the kinds --- */

static void add_need(struct writing *writing, const struct weather_need *need)
{
	const struct chill_need *one = &need->needs[0];
	const struct chill *chill = &need->winter.chill;
	double got = one->portions ? chill->portions : chill->chilling_hours;
	char text[LINE_SIZE_MAX], so_far[24] = "?", listed[48], spot[32] = "", own[32] = "";
	bool fahrenheit = writing->units == UNITS_US;

	if (need->warmer_decic != 0)
		snprintf(spot, sizeof spot, " %+.1f %s",
			need->warmer_decic * (fahrenheit ? 0.18 : 0.1), fahrenheit ? "F" : "C");
	if (need->own_days > 0)
		snprintf(own, sizeof own, ", %d own figure%s", need->own_days,
			need->own_days == 1 ? "" : "s");
	if (chill->hours > 0)
		snprintf(so_far, sizeof so_far, "%.0f", got);
	snprintf(listed, sizeof listed, one->most > one->least ? "%lld to %lld" : "%lld",
		(long long)one->least, (long long)one->most);
	if (one->most == 0)
		snprintf(text, sizeof text, "%-16.16s needs none", need->kind.species->name);
	else
		snprintf(text, sizeof text, "%-16.16s %5s of %s %s%s  %s%s%s",
			one->of_cultivar ? need->kind.cultivar : need->kind.species->name, so_far,
			listed, one->portions ? "portions" : "hours", spot, need->labels,
			need->trees > need->listed ? " +" : "", own);
	struct weather_line *line = add(writing, STYLE_PLAIN, text);
	if (line == NULL || one->most == 0 || chill->hours == 0)
		return;
	line->value = (int64_t)(got * 1000);
	line->full = one->most * 1000;
	line->mark = one->most > one->least ? one->least * 1000 : -1;
}

static void add_needs(struct writing *writing)
{
	const struct weather_report *report = writing->report;
	const struct weather_stretch *stretch = &report->stretches[0];
	char text[LINE_SIZE_MAX], from[24], to[24];
	int32_t told = 0;

	if (!stretch->has_winter)
		return;
	snprintf(text, sizeof text, "Chill of the winter, %s to %s",
		date_format_plain(stretch->winter.span.from, from, sizeof from),
		date_format_plain(stretch->winter.span.to, to, sizeof to));
	add_head(writing, text);
	if (!report->has_latitude && stretch->winter.chill.hours == 0)
		(void)add(writing, STYLE_PLAIN, "hours need the place's latitude");
	for (int32_t i = 0; i < report->need_count; i++)
		if (report->needs[i].need_count > 0) {
			add_need(writing, &report->needs[i]);
			told++;
		}
	if (told == 0)
		(void)add(writing, STYLE_PLAIN, "nothing is listed for the kinds here");
	if (told > 0)
		(void)add(writing, STYLE_FAINT,
			"a span is that of many cultivars; sources: weather show chill");
}

/* --- warmth from bloom to harvest --- */

static void add_warm_tree(struct writing *writing, const struct warmth_tree *tree)
{
	const struct warmth_sum *sum = &tree->sum;
	char text[LINE_SIZE_MAX], bloom[24], so_far[24] = "?", gaps[32] = "";
	int32_t missing = sum->cover.days - sum->cover.known;
	int64_t needed = tree->row->low.value;

	if (sum->counted)
		snprintf(so_far, sizeof so_far, "%.0f", sum->degree_days);
	if (sum->counted && missing > 0)
		snprintf(gaps, sizeof gaps, ", %d missing", missing);
	if (tree->has_bloom)
		snprintf(text, sizeof text, "%-12.12s %5s of %lld over %.0f C since %s%s",
			tree->label, so_far, (long long)needed, tree->base_c,
			date_format_plain(sum->span.from, bloom, sizeof bloom), gaps);
	else
		snprintf(text, sizeof text, "%-12.12s no bloom is logged to count from",
			tree->label);
	struct weather_line *line = add(writing, STYLE_PLAIN, text);
	if (line == NULL || !sum->counted)
		return;
	line->value = (int64_t)(sum->degree_days * 1000);
	line->full = needed * 1000;
	line->mark = -1;
}

static void add_warmth(struct writing *writing)
{
	enum { TREES_SHOWN = 12, KINDS_SHOWN = 36 };
	const struct weather_warmth *warmth = writing->warmth;
	char text[LINE_SIZE_MAX];

	add_head(writing, "Warmth from bloom to harvest, C degree-days");
	for (int32_t i = 0; i < warmth->tree_count && i < TREES_SHOWN; i++)
		add_warm_tree(writing, &warmth->trees[i]);
	if (warmth->tree_count > TREES_SHOWN) {
		snprintf(text, sizeof text, "and %d more: weather show warmth",
			warmth->tree_count - TREES_SHOWN);
		(void)add(writing, STYLE_PLAIN, text);
	}
	if (strlen(warmth->kinds_without) > KINDS_SHOWN)
		(void)add(writing, STYLE_PLAIN, "no total is known for the other kinds here");
	else if (warmth->kinds_without[0] != '\0') {
		snprintf(text, sizeof text, "no total is known for %s", warmth->kinds_without);
		(void)add(writing, STYLE_PLAIN, text);
	}
	(void)add(writing, STYLE_FAINT, "sources, and pests by warmth: weather show warmth");
}

/* --- gaps and sources --- */

static void add_gaps(struct writing *writing)
{
	const struct weather_report *report = writing->report;
	const struct weather_sum *sum = &report->stretches[0].sum;
	char text[LINE_SIZE_MAX], from[24], to[24];

	add_head(writing, "Gaps and sources");
	snprintf(text, sizeof text, "%d of %d days lack an extreme, %d in a row at most",
		sum->missing, sum->days, sum->longest_gap);
	(void)add(writing, STYLE_PLAIN, text);
	if (sum->crossed > 0) {
		snprintf(text, sizeof text, "%d of them for a minimum above the maximum",
			sum->crossed);
		(void)add(writing, STYLE_PLAIN, text);
	}
	if (sum->chill.gaps > 0) {
		snprintf(text, sizeof text, "%d gap%s in the hours: each may cost a portion",
			sum->chill.gaps, sum->chill.gaps == 1 ? "" : "s");
		(void)add(writing, STYLE_PLAIN, text);
	}
	for (int32_t i = 0; i < report->station_count; i++) {
		const struct weather_station *station = &report->stations[i];

		snprintf(text, sizeof text, "%s \"%.40s\": %d days, %s to %s",
			station->forecast ? "forecast, not counted," : "station", station->name,
			station->days, date_format_plain(station->from, from, sizeof from),
			date_format_plain(station->to, to, sizeof to));
		(void)add(writing, STYLE_PLAIN, text);
	}
	snprintf(text, sizeof text, "%d line%s of your own; hours from %s", report->line_count,
		report->line_count == 1 ? "" : "s",
		sum->by_hours > 0 ? "the station, else the extremes" : "the daily extremes");
	(void)add(writing, STYLE_PLAIN, text);
	if (report->day_count == 0)
		(void)add(writing, STYLE_PLAIN,
			"no weather is stored: boughbook weather import FILE");
}

void weather_lines_make(struct weather_page *page, struct arena *arena)
{
	struct writing writing = {.report = &page->report,
		.warmth = &page->warmth,
		.units = page->units,
		.arena = arena};

	writing.lines = arena_array(arena, LINES_MAX, sizeof writing.lines[0]);
	add_years(&writing);
	add_needs(&writing);
	add_warmth(&writing);
	add_gaps(&writing);
	page->lines = writing.lines;
	page->line_count = writing.count;
}
