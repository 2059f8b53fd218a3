/* SPDX-License-Identifier: MIT */
/* What is said beside water-daily: what a watering is to give, how long the emitters run for it,
 * and the mulch that lies there. */
#include "water_advice.h"

#include <inttypes.h>
#include <string.h>

#include "reckon/water.h"

static const char *const rock = "rock|rocks|stone|stones|gravel|pebble|pebbles|shingle|rock mulch|"
				"stone mulch|gravel mulch|lava rock|river rock";

/* The newest mulch told of, where it is rock; NULL else. */
static const struct entry *rock_mulch(const struct dossier *dossier)
{
	const struct entry *newest = NULL;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		bool told = entry->kind == KIND_MULCH ||
			    ((entry->kind == KIND_SAW || entry->kind == KIND_NOTE) &&
				    look_tells(entry, "mulch|mulched|rock mulch"));

		if (told && look_day(entry, &day))
			newest = entry;
	}
	return newest != NULL && look_tells(newest, rock) ? newest : NULL;
}

void water_say_mulch(const struct dossier *dossier, struct flags *out, struct flag *flag)
{
	const struct entry *mulch = rock_mulch(dossier);
	const struct fact_row *row = species_fact(dossier->kind.species, "mulch-rock");
	enum unit_system units = dossier->place->units;
	char low[32], high[32], action[FLAG_SAYS_SIZE];

	if (mulch == NULL || row == NULL)
		return;
	memcpy(action, flag->action, sizeof action);
	look_say(&flag->action, "%s Lay %s to %s %s.", action,
		length_format(row->low.value, units, low, sizeof low),
		length_format(row->high.value, units, high, sizeof high), row->text);
	proof_entry(out, flag, "the mulch", mulch);
	flag_evidence(out, flag, "on rock mulch: %s", row->said_by->title);
}

/* --- emitters --- */

enum { S_IN_MIN = 60, MIN_IN_H = 60 };

/* A volume or a flow in the units of the place, as gallons an hour or litres an hour are sold. */
static double in_unit(const struct dossier *dossier, double ul)
{
	const double us_gal_ul = 3785411.784, imperial_gal_ul = 4546090, litre_ul = 1e6;

	if (dossier->place->units != UNITS_US)
		return ul / litre_ul;
	return ul / (dossier->place->gallon == GALLON_IMPERIAL ? imperial_gal_ul : us_gal_ul);
}

static int64_t up_to_whole(double value)
{
	int64_t below = (int64_t)value;

	return (double)below + 1e-6 < value ? below + 1 : below;
}

/* With so many emitters: how long these run, where their flow is known, else what flow of one an
 * hour and half an hour take. */
static void tell_emitters(const struct dossier *dossier, const struct fact_row *row,
	const struct entry *water, struct flags *out, struct flag *flag)
{
	const struct amount *emitters = entry_amount(water, FIELD_EMITTERS);
	const struct amount *flow = entry_amount(water, FIELD_FLOW);
	const char *unit = dossier->place->units == UNITS_US ? "gal" : "l";
	static const int32_t runs_min[] = {60, 30};

	if (emitters == NULL || !emitters->low.known || emitters->low.value < 1000)
		return;
	int32_t count = (int32_t)(emitters->low.value / 1000);
	int64_t low_s = 0, high_s = 0;
	if (flow != NULL && flow->low.known && flow->low.value > 0 &&
		water_run_s(row->low.value, count, flow->low.value, &low_s, NULL) == STATUS_OK &&
		water_run_s(row->high.value, count, flow->low.value, &high_s, NULL) == STATUS_OK) {
		flag_evidence(out, flag,
			"with the %d emitters logged: %" PRId64 " to %" PRId64 " min for it", count,
			low_s / S_IN_MIN, high_s / S_IN_MIN);
		return;
	}
	for (size_t i = 0; i < sizeof runs_min / sizeof runs_min[0]; i++) {
		double share = (double)count * runs_min[i] / MIN_IN_H;
		int64_t low = up_to_whole(in_unit(dossier, (double)row->low.value) / share);
		int64_t high = up_to_whole(in_unit(dossier, (double)row->high.value) / share);

		flag_evidence(out, flag,
			"with %d emitters: %d min take emitters of %" PRId64 " to %" PRId64
			" %s/h (%.0f to %.0f %s)",
			count, runs_min[i], low, high, unit, (double)low * share,
			(double)high * share, unit);
	}
}

void water_tell_amount(const struct dossier *dossier, const struct entry *water, struct flags *out,
	struct flag *flag)
{
	const struct species *species = dossier->kind.species;
	const struct fact_row *row = species_fact(species, "water-amount");
	const struct fact_row *where = species_fact(species, "water-emitters");
	struct number_rules rules = {
		.units = dossier->place->units, .gallon = dossier->place->gallon};
	char low[32], high[32];

	if (row != NULL && row->low.known && row->high.known) {
		flag_evidence(out, flag, "%s to %s: %s; %s",
			volume_format(row->low.value, &rules, low, sizeof low),
			volume_format(row->high.value, &rules, high, sizeof high), row->text,
			row->said_by->title);
		tell_emitters(dossier, row, water, out, flag);
	}
	if (where != NULL && entry_amount(water, FIELD_DURATION) != NULL)
		flag_evidence(out, flag, "%s; %s", where->text, where->said_by->title);
}
