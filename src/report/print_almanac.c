/* SPDX-License-Identifier: MIT */
/* The almanac: the list of kinds, and one kind with every source. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "print_own.h"
#include "report/rows.h"

static const char *const kind_keys[] = {"key", "name", "botanical", "evergreen", "source", NULL};

static const char *const sure_titles[] = {
	[KNOWN_READ] = "",
	[KNOWN_COMMON_PRACTICE] = " (common practice)",
	[KNOWN_SECOND_HAND] = " (second-hand)",
	[KNOWN_MEMORY] = " (from memory)",
};

/* All kinds, or only one. */
static enum status list_kinds(const struct printer *printer, const struct almanac *almanac,
	const struct species *only, struct fault *why)
{
	struct rows rows;

	if (printer->format != FORMAT_TEXT)
		rows = rows_begin(printer, kind_keys);
	for (int32_t i = 0; i < almanac_species_count(almanac); i++) {
		const struct species *species = almanac_species_at(almanac, i);

		if (only != NULL && species != only)
			continue;
		if (printer->format == FORMAT_TEXT) {
			say_line(printer, "%-16s %-20s %s", species->key, species->name,
				species->botanical);
			continue;
		}
		rows_text(&rows, species->key);
		rows_text(&rows, species->name);
		rows_text(&rows, species->botanical);
		rows_bool(&rows, species->evergreen);
		rows_text(&rows, source_title(almanac, species->source));
	}
	return printer->format != FORMAT_TEXT ? rows_end(&rows, why) : say_end(printer, why);
}

/* The source and how far it was followed, below what it says. */
static void say_source(const struct printer *printer, const struct almanac *almanac,
	const char *source, enum known_by sure)
{
	const char *title = source_title(almanac, source);
	bool said = sure == KNOWN_MEMORY && strstr(title, "memory") != NULL;

	say_wrapped(printer, "      ", "[%s]%s", title, said ? "" : sure_titles[sure]);
}

static const char *say_climate(enum climate climate)
{
	return climate == CLIMATE_ANY ? "" : climate_title(climate);
}

/* "02-01 to 06-30"; one day alone where it is one. */
static const char *say_days(struct month_day from, struct month_day to, char out[32])
{
	bool one = from.month == to.month && from.day == to.day;

	snprintf(out, 32, "%02d-%02d", from.month % 100, from.day % 100);
	if (!one)
		snprintf(out + 5, 32 - 5, " to %02d-%02d", to.month % 100, to.day % 100);
	return out;
}

static void say_windows(
	const struct printer *printer, const struct almanac *almanac, const struct species *species)
{
	say_line(printer, "%s", "");
	say_line(printer, "Its year (northern hemisphere)");
	for (int32_t i = 0; i < species->window_count; i++) {
		const struct window_row *row = &species->windows[i];
		char days[32] = "all year";

		if (!row->all_year)
			say_days(row->from, row->to, days);
		say_line(printer, "  %-27s %-15s %s", window_title(row->kind), days,
			say_climate(row->climate));
		say_source(printer, almanac, row->source, row->sure);
	}
}

/* Do two rows say the same of two kinds of cut? */
static bool same_verdict(const struct cut_row *a, const struct cut_row *b)
{
	return a->climate == b->climate && a->verdict == b->verdict &&
	       a->from.month == b->from.month && a->from.day == b->from.day &&
	       a->to.month == b->to.month && a->to.day == b->to.day &&
	       strcmp(a->cultivar, b->cultivar) == 0 && strcmp(a->text, b->text) == 0 &&
	       strcmp(a->source, b->source) == 0 && a->sure == b->sure;
}

/* All kinds of cut that a verdict is given for, at its first row. */
static const char *kinds_of_verdict(
	const struct species *species, int32_t first, char *out, size_t size)
{
	struct text_builder kinds = text_builder_fixed(out, size);

	text_add(&kinds, "");
	for (int32_t i = first; i < species->cut_count; i++)
		if (same_verdict(&species->cuts[first], &species->cuts[i]))
			text_add_format(&kinds, "%s%s", kinds.length > 0 ? ", " : "",
				cut_kind_row(species->cuts[i].kind)->title);
	return out;
}

static bool was_said(const struct species *species, int32_t at)
{
	for (int32_t i = 0; i < at; i++)
		if (same_verdict(&species->cuts[i], &species->cuts[at]))
			return true;
	return false;
}

static void say_cuts(
	const struct printer *printer, const struct almanac *almanac, const struct species *species)
{
	static const char *const verdicts[] = {[VERDICT_CLEAR] = "clear",
		[VERDICT_ALLOWED] = "allowed",
		[VERDICT_AVOID] = "avoid"};
	char kinds[160], head[48], days[32];

	say_line(printer, "%s", "");
	say_line(printer, "Cuts (northern hemisphere)");
	for (int32_t i = 0; i < species->cut_count; i++) {
		const struct cut_row *row = &species->cuts[i];

		if (was_said(species, i))
			continue;
		snprintf(head, sizeof head, "  %-14s %-8s", say_days(row->from, row->to, days),
			verdicts[row->verdict]);
		say_wrapped(printer, head, "%s%s%s%s%s",
			kinds_of_verdict(species, i, kinds, sizeof kinds),
			row->cultivar[0] ? "; cultivar " : "", row->cultivar,
			row->climate != CLIMATE_ANY ? "; where " : "", say_climate(row->climate));
		say_wrapped(printer, "      ", "%s", row->text);
		say_source(printer, almanac, row->source, row->sure);
	}
}

/* "3 lb to 5 lb": a mass, or a range of it; "" unknown. */
static const char *say_masses(const struct printer *printer, struct maybe_i64 from,
	struct maybe_i64 to, char *out, size_t size)
{
	char low[32], high[32];

	if (!from.known) {
		out[0] = '\0';
		return out;
	}
	mass_format(from.value, printer->units, low, sizeof low);
	if (to.known)
		snprintf(out, size, "%s to %s", low,
			mass_format(to.value, printer->units, high, sizeof high));
	else
		snprintf(out, size, "%s", low);
	return out;
}

static void say_feeds(
	const struct printer *printer, const struct almanac *almanac, const struct species *species)
{
	static const char *const bases[] = {[FEED_PER_INCH] = "an inch of trunk",
		[FEED_PER_AGE_YEAR] = "a year of age",
		[FEED_PER_TREE] = "a tree",
		[FEED_PER_FEED] = "a feed",
		[FEED_PER_AREA] = "for 1000 sq ft (93 m2) under the crown"};
	char rate[72], cap[72];

	say_line(printer, "%s", "");
	say_line(printer, "Feeding");
	for (int32_t i = 0; i < species->feed_count; i++) {
		const struct feed_row *row = &species->feeds[i];

		say_wrapped(printer, "  ", "%s%s%s %s %s%s%s%s%s", row->region,
			row->region[0] ? ": " : "",
			say_masses(printer, known_i64(row->rate_mg), row->rate_to_mg, rate,
				sizeof rate),
			row->of_nitrogen ? "actual N" : "product", bases[row->basis],
			row->cap_mg.known ? ", at most " : "",
			say_masses(printer, row->cap_mg, row->cap_to_mg, cap, sizeof cap),
			row->condition[0] ? "; " : "", row->condition);
		say_source(printer, almanac, row->source, row->sure);
	}
}

/* One figure of a fact in the units of display. */
static const char *say_figure(
	const struct printer *printer, int64_t value, const char *unit, char *out, int size)
{
	if (strcmp(unit, "mg") == 0)
		return mass_format(value, printer->units, out, size);
	if (strcmp(unit, "um") == 0)
		return length_format(value, printer->units, out, size);
	if (strcmp(unit, "ul") == 0)
		return volume_format(value, &printer->numbers, out, size);
	if (strcmp(unit, "decic") == 0)
		return temperature_format((int32_t)value, printer->units, out, size);
	if (strncmp(unit, "permille", 8) == 0)
		snprintf(out, (size_t)size, "%g %%%s", (double)value / 10.0, unit + 8);
	else
		snprintf(out, (size_t)size, "%lld%s%s", (long long)value, unit[0] ? " " : "", unit);
	return out;
}

/* "3 to 5 years", "up to 25 %", "at least 40 lb", or nothing. */
static void say_figures(
	const struct printer *printer, const struct fact_row *row, char *out, size_t size)
{
	char low[48], high[48];

	out[0] = '\0';
	if (row->low.known)
		say_figure(printer, row->low.value, row->unit, low, sizeof low);
	if (row->high.known)
		say_figure(printer, row->high.value, row->unit, high, sizeof high);
	if (row->low.known && row->high.known && row->low.value != row->high.value)
		snprintf(out, size, "%s to %s", low, high);
	else if (row->low.known)
		snprintf(out, size, "%s%s", row->high.known ? "" : "from ", low);
	else if (row->high.known)
		snprintf(out, size, "up to %s", high);
}

static void say_facts(
	const struct printer *printer, const struct almanac *almanac, const struct species *species)
{
	char figures[112];

	say_line(printer, "%s", "");
	say_line(printer, "Facts");
	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		say_figures(printer, row, figures, sizeof figures);
		say_wrapped(printer, "  ", "%s: %s%s%s", row->key, figures,
			figures[0] && row->text[0] ? "; " : "", row->text);
		say_source(printer, almanac, row->source, row->sure);
	}
}

static enum status say_kind(const struct printer *printer, const struct almanac *almanac,
	struct yard *yard, const struct species *species, struct fault *why)
{
	enum status status = STATUS_OK;

	say_line(printer, "%s (%s)%s", species->name, species->botanical,
		species->evergreen ? ", evergreen" : "");
	say_wrapped(printer, "  ", "%s", species->flower_wood);
	say_source(printer, almanac, species->source, species->sure);
	say_windows(printer, almanac, species);
	if (yard != NULL)
		status = print_own_of_kind(printer, yard, species, why);
	if (status != STATUS_OK)
		return status;
	say_cuts(printer, almanac, species);
	say_wrapped(printer, "  ", "Already cut out of season: %s", species->already_cut);
	if (species->share_limit_permille.known)
		say_wrapped(printer, "  ", "At most %.0f %% of %s in one season [%s]",
			species->share_limit_permille.value / 10.0,
			species->limit_is_shoots ? "last year's shoots" : "the crown",
			source_title(almanac, species->share_source));
	say_feeds(printer, almanac, species);
	say_facts(printer, almanac, species);
	say_pest_sections(printer, species, yard != NULL ? yard_climate(yard) : CLIMATE_ANY);
	return say_end(printer, why);
}

enum status print_almanac(const struct printer *printer, const struct almanac *almanac,
	struct yard *yard, const char *kind, struct fault *why)
{
	if (kind == NULL)
		return list_kinds(printer, almanac, NULL, why);
	struct kind_name fits[8];
	int32_t count = almanac_find_kinds(almanac, kind, fits, 8);
	if (count > 1)
		return fault_set(why, STATUS_DOUBT, "'%s' could be %s (%s) or %s (%s)", kind,
			fits[0].name, fits[0].key, fits[1].name, fits[1].key);
	if (count == 0)
		return fault_set(
			why, STATUS_ABSENT, "no kind '%s'; 'boughbook almanac' lists them", kind);
	const struct species *species = almanac_species(almanac, fits[0].key);
	if (species == NULL)
		return fault_set(why, STATUS_ABSENT,
			"%s is known by name, but the almanac has no dates for it", fits[0].name);
	return printer->format != FORMAT_TEXT ? list_kinds(printer, almanac, species, why)
					      : say_kind(printer, almanac, yard, species, why);
}
