/* SPDX-License-Identifier: MIT */
/* A tree's week of water: what it draws, what to give, how long to run, by each way to it. */
#include "print_water.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"

static const char *const stand_keys[] = {
	[STAND_UNKNOWN] = "",
	[STAND_NEW] = "new",
	[STAND_YOUNG] = "young",
	[STAND_BEARING] = "bearing",
	[STAND_POT] = "pot",
};
static const char *const stand_titles[] = {
	[STAND_UNKNOWN] = "age not known",
	[STAND_NEW] = "new, under a year in the ground",
	[STAND_YOUNG] = "young, not yet of an age to bear",
	[STAND_BEARING] = "bearing",
	[STAND_POT] = "in a pot",
};
static const char *const phase_keys[] = {
	[LEAF_UNKNOWN] = "",
	[LEAF_REST] = "rest",
	[LEAF_EARLY] = "early",
	[LEAF_MID] = "mid",
	[LEAF_LATE] = "late",
	[LEAF_ANY] = "any",
};
static const char *const way_keys[] = {
	[WAY_WEATHER] = "weather", [WAY_RULE] = "weekly-depth", [WAY_OWN] = "own-depth"};

/* --- for machines --- */

static const char *const water_keys[] = {"tree", "rule", "stand", "phase", "from", "to",
	"days_known", "heat_days", "reference_um", "kc_low", "kc_high", "rain_um", "rain_counts_um",
	"depth_low_um", "depth_high_um", "canopy_mm2", "need_low_ul", "need_high_ul", "given_ul",
	"efficiency_permille", "give_low_ul", "give_high_ul", "run_low_s", "run_high_s",
	"full_low_days", "full_high_days", "dry_low_days", "dry_high_days", "unknown", "source",
	NULL};

static struct maybe_i64 scaled(bool known, double value, double scale)
{
	return known ? known_i64(round_i64(value * scale)) : (struct maybe_i64){0};
}

static void rows_range(struct rows *rows, const struct water_range *range, double scale)
{
	rows_i64(rows, scaled(range->known, range->low, scale));
	rows_i64(rows, scaled(range->known, range->high, scale));
}

static void rows_span(struct rows *rows, const struct water_range *range, int decimals)
{
	rows_decimal(rows, range->known, range->low, decimals);
	rows_decimal(rows, range->known, range->high, decimals);
}

static const char *way_source(
	const struct tree_water *water, const struct water_way *way, const struct almanac *almanac)
{
	switch (way->kind) {
	case WAY_WEATHER:
		return source_title(almanac, water->kc_row.source);
	case WAY_RULE:
		return source_title(almanac, way->rule->source);
	case WAY_OWN:
		return "as logged here";
	case WAY_TOTAL:
		break;
	}
	return NULL;
}

static void water_row(struct rows *rows, const struct tree_water *water,
	const struct water_way *way, const struct almanac *almanac)
{
	static const struct water_way none = {.kind = WAY_TOTAL};
	char unknown[200];
	const struct water_way *of = way != NULL ? way : &none;

	rows_text(rows, water->dossier->tree.label);
	rows_text(rows, way != NULL ? way_keys[way->kind] : NULL);
	rows_text(rows, stand_keys[water->stand]);
	rows_text(rows, phase_keys[water->phase]);
	rows_date(rows, known_date(water->from));
	rows_date(rows, known_date(water->to));
	rows_i32(rows, water->days_known);
	rows_i32(rows, water->heat_days);
	rows_i64(rows, scaled(water->reference_mm.known, water->reference_mm.low, 1000));
	rows_span(rows, &water->kc, 2);
	rows_i64(rows, scaled(water->rain_days > 0, water->rain_mm, 1000));
	rows_i64(rows, scaled(water->rain_days > 0, water->rain_counts_mm, 1000));
	rows_range(rows, &of->depth_mm, 1000);
	rows_i64(rows, scaled(water->canopy_m2 > 0, water->canopy_m2, 1e6));
	rows_range(rows, &of->need_l, 1e6);
	rows_i64(rows,
		scaled(water->given_count > 0 && water->given_unknown == 0, water->given_l, 1e6));
	rows_i64(rows, scaled(water->efficiency > 0, water->efficiency, 1000));
	rows_range(rows, &of->give_l, 1e6);
	rows_range(rows, &of->run_s, 1);
	rows_span(rows, &water->full_days, 1);
	rows_span(rows, &water->dry_days, 1);
	rows_text(rows, water_lack_keys(water->lacks, unknown, sizeof unknown));
	rows_text(rows, way != NULL ? way_source(water, way, almanac) : NULL);
}

static enum status water_table(const struct printer *printer, const struct tree_water *water,
	const struct almanac *almanac, struct fault *why)
{
	struct rows rows = rows_begin(printer, water_keys);

	for (int32_t i = 0; i < water->way_count; i++)
		water_row(&rows, water, &water->ways[i], almanac);
	if (water->way_count == 0) /* what is not known is an answer too */
		water_row(&rows, water, NULL, almanac);
	return rows_end(&rows, why);
}

/* --- words --- */

/* "A to B", "up to B", "A"; both as they are printed. */
static const char *span_words(
	const char *low, const char *high, bool from_nothing, char *out, size_t size)
{
	if (strcmp(low, high) == 0)
		snprintf(out, size, "%s", high);
	else if (from_nothing)
		snprintf(out, size, "up to %s", high);
	else
		snprintf(out, size, "%s to %s", low, high);
	return out;
}

static const char *volumes_in(
	const struct number_rules *rules, const struct water_range *litres, char *out, size_t size)
{
	char low[32], high[32];

	volume_format_rough(round_i64(litres->low * 1e6), rules, low, sizeof low);
	volume_format_rough(round_i64(litres->high * 1e6), rules, high, sizeof high);
	return span_words(low, high, litres->low <= 0, out, size);
}

const char *water_volumes(
	const struct printer *printer, const struct water_range *litres, char *out, size_t size)
{
	struct number_rules gallons = {UNITS_US, printer->numbers.gallon, printer->numbers.style};
	struct number_rules metric = {UNITS_SI, printer->numbers.gallon, printer->numbers.style};
	bool us = printer->units == UNITS_US;
	char first[80], second[80];

	if (litres->high <= 0) {
		snprintf(out, size, "nothing");
		return out;
	}
	volumes_in(us ? &gallons : &metric, litres, first, sizeof first);
	volumes_in(us ? &metric : &gallons, litres, second, sizeof second);
	snprintf(out, size, "%s (%s%s)", first, second,
		us || printer->numbers.gallon == GALLON_IMPERIAL ? "" : ", US");
	return out;
}

static const char *depths(
	const struct printer *printer, const struct water_range *mm, char *out, size_t size)
{
	char low[32], high[32];

	sky_depth(mm->low, printer->units, low, sizeof low);
	sky_depth(mm->high, printer->units, high, sizeof high);
	return span_words(low, high, mm->low <= 0, out, size);
}

/* "45 min", "3.5 h", "19 h". */
static void time_words(double seconds, char *out, size_t size)
{
	if (seconds < 5400)
		snprintf(out, size, "%.0f min", seconds / 60);
	else
		snprintf(out, size, "%.*f h", seconds < 36000 ? 1 : 0, seconds / 3600);
}

static const char *times(const struct water_range *seconds, char *out, size_t size)
{
	char low[32], high[32];

	time_words(seconds->low, low, sizeof low);
	time_words(seconds->high, high, sizeof high);
	return span_words(low, high, seconds->low <= 0, out, size);
}

static const char *days(const struct water_range *range, char *out, size_t size)
{
	char low[32], high[32];

	snprintf(low, sizeof low, "%.0f", range->low);
	snprintf(high, sizeof high, "%.0f", range->high);
	return span_words(low, high, false, out, size);
}

/* --- one way --- */

static void say_way_title(
	const struct printer *printer, const struct tree_water *water, const struct water_way *way)
{
	char to[24];

	switch (way->kind) {
	case WAY_WEATHER:
		say_wrapped(printer, "", "A week like the one to %s",
			date_format_plain(water->to, to, sizeof to));
		break;
	case WAY_RULE:
		say_wrapped(printer, "", "By a weekly depth, %s [%s]", way->rule->text,
			way->rule->source);
		break;
	case WAY_OWN:
		say_wrapped(printer, "", "By your own line: %s", way->entry->words);
		break;
	case WAY_TOTAL:
		break;
	}
}

static void say_depth(
	const struct printer *printer, const struct tree_water *water, const struct water_way *way)
{
	char full[80], left[80], rain[32];
	/* a rule says how much at most */
	const char *most = way->kind == WAY_RULE ? "up to " : "";
	struct water_range asked = way->full_mm;
	struct water_range after = way->depth_mm;

	if (way->kind == WAY_RULE) {
		asked.low = asked.high;
		after.low = after.high;
	}
	if (water->rain_days == 0) {
		say_wrapped(printer, "  ", "depth       %s%s; rain not known, none taken off", most,
			depths(printer, &asked, full, sizeof full));
		return;
	}
	say_wrapped(printer, "  ", "depth       %s%s, less %s of rain that counts: %s%s", most,
		depths(printer, &asked, full, sizeof full),
		sky_depth(water->rain_counts_mm, printer->units, rain, sizeof rain),
		after.high > 0 ? most : "",
		after.high > 0 ? depths(printer, &after, left, sizeof left) : "nothing");
}

/* A square bed as wide as the crown takes more than the crown: which of them is meant matters. */
static void say_square(
	const struct printer *printer, const struct tree_water *water, const struct water_way *way)
{
	char volume[160], wide[32];
	double side_m = (double)(water->spread->low_um + water->spread->high_um) / 2e6;
	double litres = way->depth_mm.high * side_m * side_m;
	struct water_range square = {.known = true, .low = litres, .high = litres};

	say_wrapped(printer, "  ",
		"square bed  %s%s, where the ground is %s each way and not round",
		way->kind == WAY_RULE ? "up to " : "",
		water_volumes(printer, &square, volume, sizeof volume),
		length_format(round_i64(side_m * 1e6), printer->units, wide, sizeof wide));
}

static void say_give(
	const struct printer *printer, const struct tree_water *water, const struct water_way *way)
{
	char volume[160], given[64];
	struct water_range logged = {.known = true, .low = water->given_l, .high = water->given_l};

	if (way->give_l.known)
		say_wrapped(printer, "  ", "to give     %s, with %.0f %% reaching the roots%s%s",
			water_volumes(printer, &way->give_l, volume, sizeof volume),
			water->efficiency * 100, water->given_l > 0 ? ", less the logged " : "",
			water->given_l > 0
				? volumes_in(&printer->numbers, &logged, given, sizeof given)
				: "");
	else if (water->given_unknown > 0)
		say_wrapped(printer, "  ",
			"to give     not known: %d watering%s of these days without an amount",
			water->given_unknown, water->given_unknown == 1 ? "" : "s");
	else
		say_wrapped(printer, "  ",
			"to give     more than that, by what your method loses%s%s",
			water->given_l > 0 ? "; logged already: " : "",
			water->given_l > 0
				? volumes_in(&printer->numbers, &logged, given, sizeof given)
				: "");
}

static void say_run(
	const struct printer *printer, const struct tree_water *water, const struct water_way *way)
{
	char time[80];

	if (way->run_s.known && way->run_s.high > 0)
		say_wrapped(printer, "  ", "time to run %s%s in all, %d emitter%s",
			way->give_l.known ? "" : "at least ", times(&way->run_s, time, sizeof time),
			water->emitters, water->emitters == 1 ? "" : "s");
}

static void say_way(
	const struct printer *printer, const struct tree_water *water, const struct water_way *way)
{
	char volume[160];

	say_way_title(printer, water, way);
	say_depth(printer, water, way);
	if (!way->need_l.known) {
		say_wrapped(printer, "  ", "at the roots not known: how wide its crown is");
		return;
	}
	say_wrapped(printer, "  ", "at the roots %s a week",
		water_volumes(printer, &way->need_l, volume, sizeof volume));
	if (way->need_l.high <= 0)
		return;
	if (way->kind != WAY_WEATHER)
		say_square(printer, water, way);
	say_give(printer, water, way);
	say_run(printer, water, way);
}

static void say_soil(const struct printer *printer, const struct tree_water *water)
{
	char full[80], dry[80], ready[80], from[24];

	if (!water->full_days.known || water->phase == LEAF_REST)
		return;
	say_line(printer, "Its soil");
	say_wrapped(printer, "  ", "full, it gives %s and lasts %s days at that use",
		depths(printer, &water->ready_mm, ready, sizeof ready),
		days(&water->full_days, full, sizeof full));
	if (water->dry_days.known && water->dry_days.high < 0.5)
		say_wrapped(printer, "  ",
			"likely dry now, by all weather and water logged since %s",
			date_format_plain(water->account_from, from, sizeof from));
	else if (water->dry_days.known)
		say_wrapped(printer, "  ",
			"dry in %s days, by all weather and water logged since %s",
			days(&water->dry_days, dry, sizeof dry),
			date_format_plain(water->account_from, from, sizeof from));
}

static void say_water(const struct printer *printer, const struct tree_water *water,
	const struct almanac *almanac)
{
	const struct dossier *dossier = water->dossier;

	say_line(printer, "%s, %s, %s", dossier->tree.label, dossier->kind.name,
		stand_titles[water->stand]);
	if (water->phase == LEAF_REST)
		say_wrapped(printer, "  ", "bare now: it draws next to nothing");
	for (int32_t i = 0; i < water->way_count; i++)
		if (water->ways[i].kind != WAY_WEATHER || water->phase != LEAF_REST)
			say_way(printer, water, &water->ways[i]);
	if (water->way_count == 0 && water->phase != LEAF_REST)
		say_wrapped(printer, "  ", "no amount can be reckoned from what is known");
	say_soil(printer, water);
	say_water_inputs(printer, water);
	say_water_lacks(printer, water);
	say_water_advice(printer, water);
	say_water_sources(printer, water, almanac);
	say_wrapped(printer, "",
		"Guidance, not an order: feel the soil first; local water rules come first.");
}

enum status print_water(
	const struct printer *printer, struct yard *yard, const char *tree_id, struct fault *why)
{
	const struct dossier *dossier = NULL;
	const struct almanac *almanac = yard_almanac(yard);
	struct tree_water water;
	enum status status = yard_dossier(yard, tree_id, &dossier, why);

	if (status != STATUS_OK)
		return status;
	if (dossier->host != NULL)
		return fault_set(why, STATUS_RANGE,
			"%s is a graft: its roots are those of %s, ask the water of that",
			dossier->tree.label, dossier->host->tree.label);
	tree_water_make(dossier, yard_today(yard), &water);
	if (printer->format != FORMAT_TEXT)
		return water_table(printer, &water, almanac, why);
	say_water(printer, &water, almanac);
	return say_end(printer, why);
}
