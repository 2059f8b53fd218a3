/* SPDX-License-Identifier: MIT */
/* What a tree's figures of water rest on, what is not known, and how to water it. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "print_water.h"

static const double mm_per_m_of_in_ft = 1000.0 / 12; /* an inch a foot */

static const char common_practice[] = "common-practice"; /* a key that needs no title */

static const char *const sure_words[] = {
	[KNOWN_READ] = "",
	[KNOWN_COMMON_PRACTICE] = "",
	[KNOWN_SECOND_HAND] = ", second-hand",
	[KNOWN_MEMORY] = ", from memory",
};

/* "[fao-56]": its title stands below. */
static const char *origin(const struct fact_row *row, char out[64])
{
	snprintf(out, 64, "%s%s",
		strcmp(row->source, common_practice) == 0 ? "common practice" : row->source,
		sure_words[row->sure]);
	return out;
}

/* --- what it rests on --- */

static void say_weather(const struct printer *printer, const struct tree_water *water)
{
	char reference[32], fell[32], counts[32];
	enum unit_system units = printer->units;

	if (water->reference_mm.known)
		say_wrapped(printer, "  ",
			"reference: %s in the week, by Hargreaves' formula from latitude and the "
			"extremes of %d of 7 days (%s%s%s%s)",
			sky_depth(water->reference_mm.low, units, reference, sizeof reference),
			water->days_known, water->station[0] != '\0' ? "station " : "",
			water->station, water->station[0] != '\0' && water->logged ? ", " : "",
			water->logged ? "your own lines" : "");
	if (water->rain_days > 0)
		say_wrapped(printer, "  ",
			"rain: %s told on %d of 7 days, %s counts (after a tenth of an inch a day; "
			"Texas A&M)",
			sky_depth(water->rain_mm, units, fell, sizeof fell), water->rain_days,
			sky_depth(water->rain_counts_mm, units, counts, sizeof counts));
	if (water->heat_days > 0)
		say_wrapped(printer, "  ", "heat: %d day%s of 95 F (35 C) or more",
			water->heat_days, water->heat_days == 1 ? "" : "s");
}

/* "late in its year of 60, 90, 120 and 95 days from 1 January, in straight lines". */
static const char *stage_words(const struct tree_water *water, char *out, size_t size)
{
	static const char *const phases[] = {
		[LEAF_UNKNOWN] = "",
		[LEAF_REST] = "at rest",
		[LEAF_EARLY] = "early season, in bloom",
		[LEAF_MID] = "mid season",
		[LEAF_LATE] = "late season, picked",
		[LEAF_ANY] = "of any stage: how long they last in this kind is not known",
	};
	static const char *const parts[] = {[LEAF_EARLY] = "early",
		[LEAF_MID] = "midway",
		[LEAF_LATE] = "late",
		[LEAF_ANY] = ""};
	const struct leaf_stages *stages = &water->stages;

	if (stages->known)
		snprintf(out, size,
			"%s in its year of %d, %d, %d and %d days from %d %s, in straight lines%s",
			parts[water->phase], stages->days[0], stages->days[1], stages->days[2],
			stages->days[3], stages->opens.day, date_month_name(stages->opens.month),
			sure_words[stages->row->sure]);
	else
		snprintf(out, size, "%s", phases[water->phase]);
	return out;
}

static void say_kc(const struct printer *printer, const struct tree_water *water)
{
	static const char *const covers[] = {[COVER_UNKNOWN] = "bare ground to grass",
		[COVER_BARE] = "bare ground",
		[COVER_GRASS] = "grass under it",
		[COVER_MULCH] = "mulch, taken as bare ground"};
	const struct spot *spot = water->dossier->spot;
	char kc[48], stage[160];

	if (!water->kc.known || water->phase == LEAF_REST)
		return;
	if (water->kc.low < water->kc.high)
		snprintf(kc, sizeof kc, "%.2f to %.2f", water->kc.low, water->kc.high);
	else
		snprintf(kc, sizeof kc, "%.2f", water->kc.low);
	say_wrapped(printer, "  ", "Kc: %s, %s; %s [%s%s%s]", kc,
		stage_words(water, stage, sizeof stage),
		water->stand == STAND_POT ? "bare ground"
					  : covers[spot != NULL ? spot->cover : COVER_UNKNOWN],
		water->kc_row.source, water->kc_row.stands_in ? ", another crop stands in" : "",
		sure_words[water->kc_row.sure]);
}

static void say_crown(const struct printer *printer, const struct tree_water *water)
{
	const struct stem_measure *spread = water->spread;
	char wide[32], when[24];

	if (spread == NULL || water->canopy_m2 <= 0)
		return;
	say_wrapped(printer, "  ",
		"ground: %.0f sq ft (%.1f m2) under a round crown %s across%s, "
		"measured %s (own)",
		water->canopy_m2 / 0.09290304, water->canopy_m2,
		length_format(
			(spread->low_um + spread->high_um) / 2, printer->units, wide, sizeof wide),
		spread->about || spread->low_um != spread->high_um ? ", about" : "",
		date_format_plain(water->spread_on.value, when, sizeof when));
}

/* "1.56 in a foot" or "130 mm a metre". */
static const char *holding(const struct printer *printer, double mm_per_m, char *out, size_t size)
{
	if (printer->units == UNITS_US)
		snprintf(out, size, "%.2f in a foot", mm_per_m / mm_per_m_of_in_ft);
	else
		snprintf(out, size, "%.0f mm a metre", mm_per_m);
	return out;
}

static void say_ground(const struct printer *printer, const struct tree_water *water)
{
	const struct spot *spot = water->dossier->spot;
	const struct water_soil *soil = water_soil_of(spot != NULL ? spot->soil : SOIL_UNKNOWN);
	char low[48], high[48], most[48];

	if (!water->mm_per_m.known)
		return;
	holding(printer, water->mm_per_m.low, low, sizeof low);
	holding(printer, water->mm_per_m.high, high, sizeof high);
	if (soil == NULL) {
		say_wrapped(printer, "  ",
			"soil: %s to %s, all that the table has (FAO-56, table 19)", low, high);
	} else if (soil->sheet_high_in_ft <= 0) {
		say_wrapped(printer, "  ", "soil: %s, %s (own; FAO-56, table 19)", soil->name, low);
	} else {
		holding(printer, soil->sheet_low_in_ft * mm_per_m_of_in_ft, high, sizeof high);
		holding(printer, soil->sheet_high_in_ft * mm_per_m_of_in_ft, most, sizeof most);
		say_wrapped(printer, "  ",
			"soil: %s, %s (own; FAO-56, table 19); a UC Extension sheet has %s to %s",
			soil->name, low, high, most);
	}
}

static void say_roots(const struct printer *printer, const struct tree_water *water)
{
	char low[32], high[32], from[64];

	if (!water->root_m.known)
		return;
	length_format(round_i64(water->root_m.low * 1e6), printer->units, low, sizeof low);
	length_format(round_i64(water->root_m.high * 1e6), printer->units, high, sizeof high);
	if (water->root_row == NULL)
		say_wrapped(printer, "  ", "roots: %s deep (own)", low);
	else
		say_wrapped(printer, "  ", "roots: %s to %s deep [%s]", low, high,
			origin(water->root_row, from));
	if (water->depletion_row != NULL && water->full_days.known)
		say_wrapped(printer, "  ",
			"of what it holds, %.0f %% before the tree is short, at 5 mm a day [%s]",
			(double)water->depletion_row->low.value / 10,
			origin(water->depletion_row, from));
}

static void say_method(const struct printer *printer, const struct tree_water *water)
{
	const struct spot *spot = water->dossier->spot;
	struct amount flow = {.dimension = DIMENSION_FLOW,
		.low = known_i64(water->flow_ulh),
		.high = known_i64(water->flow_ulh)};
	char text[64], when[24];

	if (water->efficiency > 0)
		say_wrapped(printer, "  ", "method: %s%s%.0f %% reaches the roots (own)",
			spot->watering, spot->watering[0] != '\0' ? ", " : "",
			water->efficiency * 100);
	if (water->emitters <= 0 || water->flow_ulh <= 0)
		return;
	amount_format(&flow, &printer->numbers, text, sizeof text);
	if (water->flow_entry == NULL)
		say_wrapped(printer, "  ", "emitters: %d of %s (own, of the spot)", water->emitters,
			text);
	else
		say_wrapped(printer, "  ", "emitters: %d of %s (own, as logged %s)",
			water->emitters, text,
			date_format_plain(
				date_span_first(&water->flow_entry->day).value, when, sizeof when));
}

void say_water_inputs(const struct printer *printer, const struct tree_water *water)
{
	say_line(printer, "Reckoned from");
	say_weather(printer, water);
	say_kc(printer, water);
	say_crown(printer, water);
	if (water->stand != STAND_POT) {
		say_ground(printer, water);
		say_roots(printer, water);
	}
	say_method(printer, water);
}

/* --- what is not known --- */

/* clang-format off */
static const struct lack_row {
	enum water_lack lack;
	const char *key;
	const char *words; /* %s: the tree, or its spot */
	bool of_spot;
} lack_rows[] = {
	{LACK_KIND, "kind", "its kind: tree identify %s --species KIND", false},
	{LACK_KC, "kc", "a coefficient for its kind: FAO-56 prints none, and the reference alone is not its use", false},
	{LACK_LATITUDE, "latitude", "the latitude: place set --lat DEGREES", false},
	{LACK_WEATHER, "weather", "the highs and lows of four of the last seven days: weather import FILE", false},
	{LACK_RAIN, "rain", "the rain of every day of the week: what was not told is not taken off", false},
	{LACK_DATES, "dates", "its time of year, no almanac dates hold here: own window %s bloom MM-DD MM-DD", false},
	{LACK_POLAR, "polar-night", "the sun: polar night has none to reckon from", false},
	{LACK_SPREAD, "spread", "how wide its crown is: enter %s spread 12 ft", false},
	{LACK_GIVEN, "given", "how much a watering of the week gave: a time is no amount without emitters and flow", false},
	{LACK_COVER, "cover", "what grows under it: spot set %s --cover bare|grass|mulch", true},
	{LACK_WINTER, "winter", "how hard winters are: place set --winter hard|frosty|mild", false},
	{LACK_SHARE, "share", "how much of the ground crowns cover: the span is that of 20 to 70 %", false},
	{LACK_SOIL, "soil", "its soil: spot set %s --soil TEXTURE", true},
	{LACK_ROOTS, "roots", "how deep its roots go: spot set %s --root-depth DEPTH", true},
	{LACK_EFFICIENCY, "efficiency", "how much of the water reaches the roots: spot set %s --efficiency 85%", true},
	{LACK_EMITTERS, "emitters", "emitters and the flow of one, or how you water else: spot set %s --emitters 4 --flow 2l/h", true},
};
/* clang-format on */
enum { LACK_ROWS = sizeof lack_rows / sizeof lack_rows[0] };

const char *water_lack_keys(unsigned lacks, char *out, size_t size)
{
	struct text_builder keys = text_builder_fixed(out, size);

	text_add(&keys, "");
	for (int i = 0; i < LACK_ROWS; i++)
		if ((lacks & lack_rows[i].lack) != 0)
			text_add_format(
				&keys, "%s%s", keys.length > 0 ? " " : "", lack_rows[i].key);
	return out;
}

/* The words with the tree or the spot put in. */
static void say_lack(
	const struct printer *printer, const struct tree_water *water, const struct lack_row *row)
{
	const struct dossier *dossier = water->dossier;
	const char *name = dossier->tree.label;
	const char *at = strstr(row->words, "%s");

	if (row->of_spot)
		name = dossier->spot != NULL ? dossier->spot->name : "SPOT";
	if (at == NULL)
		say_wrapped(printer, "  ", "%s", row->words);
	else
		say_wrapped(printer, "  ", "%.*s%s%s%s%s", (int)(at - row->words), row->words,
			strchr(name, ' ') != NULL ? "\"" : "", name,
			strchr(name, ' ') != NULL ? "\"" : "", at + 2);
}

void say_water_lacks(const struct printer *printer, const struct tree_water *water)
{
	if (water->lacks == 0)
		return;
	say_line(printer, "Not known, or better known");
	for (int i = 0; i < LACK_ROWS; i++)
		if ((water->lacks & lack_rows[i].lack) != 0)
			say_lack(printer, water, &lack_rows[i]);
}

/* --- how --- */

/* A pot is filled day by day, not week by week. */
static void say_pot_draw(const struct printer *printer, const struct tree_water *water)
{
	const struct water_way *way = water->way_count > 0 ? &water->ways[0] : NULL;
	char volume[160];

	if (way == NULL || way->kind != WAY_WEATHER || water->canopy_m2 <= 0)
		return;
	const struct water_range day = {.known = true,
		.low = way->full_mm.low * water->canopy_m2 / WATER_WEEK_DAYS,
		.high = way->full_mm.high * water->canopy_m2 / WATER_WEEK_DAYS};
	say_wrapped(printer, "  ", "Its crown draws about %s a day.",
		water_volumes(printer, &day, volume, sizeof volume));
}

static void say_stand(const struct printer *printer, const struct tree_water *water)
{
	const struct spot *spot = water->dossier->spot;
	char holds[32];

	switch (water->stand) {
	case STAND_NEW:
		say_wrapped(printer, "  ",
			"New: water at the ball and a hand beyond it, and look every few days: it "
			"dries "
			"before the soil about it (common practice).");
		break;
	case STAND_POT:
		say_pot_draw(printer, water);
		if (spot->volume_ul.known)
			say_wrapped(printer, "  ", "Its pot holds %s of mix.",
				volume_format(spot->volume_ul.value, &printer->numbers, holds,
					sizeof holds));
		say_wrapped(printer, "  ",
			"A pot dries in two days at 86 F (30 C), else in five: feel the mix two "
			"fingers "
			"deep, water until it runs out below (common practice).");
		break;
	case STAND_UNKNOWN:
	case STAND_YOUNG:
	case STAND_BEARING:
		break;
	}
	if (water->heat_days > 0)
		say_wrapped(printer, "  ",
			"In such heat look at new and potted trees daily; water at dawn or in the "
			"evening (common practice).");
}

/* Every row of a kind's facts with this key; of none where it has none. */
static void say_rows(const struct printer *printer, const struct tree_water *water, const char *key)
{
	const struct species *species = water->dossier->kind.species;
	char sentence[TEXT_SIZE], from[64];

	for (int32_t i = 0; species != NULL && i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (strcmp(row->key, key) != 0 || row->text[0] == '\0')
			continue;
		(void)text_copy(sentence, sizeof sentence, row->text);
		sentence[0] = (char)(sentence[0] >= 'a' && sentence[0] <= 'z' ? sentence[0] - 32
									      : sentence[0]);
		say_wrapped(printer, "  ", "%s [%s]", sentence, origin(row, from));
	}
}

/* Rows of the almanac on how to water; of a weekly depth only where that way is shown. */
static const char *const advice_keys[] = {
	"water", "water-when", "water-saved", "water-seldom", "water-week", "water-week-other"};
enum {
	ADVICE_KEYS = sizeof advice_keys / sizeof advice_keys[0],
	ADVICE_OF_KIND = 3,
	ADVICE_OF_GROUND = 4
};

/* How many of the keys hold for such a tree: soakings are for trees with roots in the ground. */
static int advice_count(const struct tree_water *water)
{
	if (water->stand == STAND_POT || water->stand == STAND_NEW)
		return ADVICE_OF_KIND;
	bool has_rule = water->way_count > 0 && water->ways[water->way_count - 1].kind == WAY_RULE;
	return has_rule ? ADVICE_KEYS : ADVICE_OF_GROUND;
}

void say_water_advice(const struct printer *printer, const struct tree_water *water)
{
	say_line(printer, "How");
	say_stand(printer, water);
	for (int i = 0; i < advice_count(water); i++)
		if (strcmp(advice_keys[i], "water-week") != 0) /* said as a way of its own */
			say_rows(printer, water, advice_keys[i]);
}

/* --- whose they are --- */

/* Each key once, in the order met. */
static void note_source(const char *sources[8], int *count, const char *source)
{
	if (source == NULL || strcmp(source, common_practice) == 0)
		return;
	for (int i = 0; i < *count; i++)
		if (strcmp(sources[i], source) == 0)
			return;
	if (*count < 8)
		sources[(*count)++] = source;
}

void say_water_sources(const struct printer *printer, const struct tree_water *water,
	const struct almanac *almanac)
{
	const struct species *species = water->dossier->kind.species;
	const char *sources[8];
	int count = 0;

	if (species == NULL)
		return;
	note_source(sources, &count, water->kc_row.source);
	note_source(sources, &count, water->root_row != NULL ? water->root_row->source : NULL);
	for (int key = 0; key < advice_count(water); key++)
		for (int32_t i = 0; i < species->fact_count; i++)
			if (strcmp(species->facts[i].key, advice_keys[key]) == 0)
				note_source(sources, &count, species->facts[i].source);
	for (int i = 0; i < count; i++)
		say_wrapped(printer, "", "[%s] %s", sources[i], source_title(almanac, sources[i]));
}
