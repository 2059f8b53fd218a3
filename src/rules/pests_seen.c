/* SPDX-License-Identifier: MIT */
/* What was seen on a tree, and when a pest shows there: by stage, by months, by heat. */
#include "pests.h"

#include <string.h>

#include "reckon/heat.h"
#include "reckon/sky.h"

/* --- what was seen --- */

const char *seen_words(const struct entry *entry)
{
	switch (entry->kind) {
	case KIND_SAW:
		return entry_detail(entry, FIELD_SUBJECT_SEEN);
	case KIND_CUT:
		return entry_detail(entry, FIELD_REASON);
	case KIND_LOSS:
	case KIND_USE:
		return entry_detail(entry, FIELD_CAUSE);
	case KIND_FEED:
	case KIND_PICK:
	case KIND_MEASURE:
	case KIND_STAGE:
	case KIND_WATER:
	case KIND_MULCH:
	case KIND_SPRAY:
	case KIND_THIN:
	case KIND_PLANT:
	case KIND_MOVE:
	case KIND_GRAFT:
	case KIND_SOW:
	case KIND_POT_UP:
	case KIND_PROTECT:
	case KIND_SOIL_TEST:
	case KIND_PHOTO:
	case KIND_LEAVE:
	case KIND_NOTE:
	case KIND_DIED:
	case KIND_WEATHER:
	case KIND_TOTAL:
		break;
	}
	return "";
}

int32_t seen_pests(const struct dossier *dossier, const struct entry *entry,
	const struct pest_row *fits[SEEN_FITS_MAX])
{
	const char *words = seen_words(entry);

	if (dossier->kind.species == NULL || words[0] == '\0')
		return 0;
	int32_t count = species_find_pests(dossier->kind.species, words, fits, SEEN_FITS_MAX);
	return count > SEEN_FITS_MAX ? SEEN_FITS_MAX : count;
}

const struct pest_row *seen_pest(const struct dossier *dossier, const struct entry *entry)
{
	const struct pest_row *fits[SEEN_FITS_MAX];

	return seen_pests(dossier, entry, fits) == 1 ? fits[0] : NULL;
}

bool seen_looked_for(const struct entry *entry, const struct pest_row *pest)
{
	return pest_is_spoken_of(pest, seen_words(entry)) ||
	       (entry->kind == KIND_SAW && look_tells(entry, "nothing|none|no pests|all clean"));
}

/* --- when it shows --- */

struct window months_here(const struct dossier *dossier, int32_t from_month, int32_t to_month)
{
	static const int8_t lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	const bool south = dossier->place->hemisphere == HEMISPHERE_SOUTH;
	const int32_t from = south ? (from_month + 5) % 12 + 1 : from_month;
	const int32_t to = south ? (to_month + 5) % 12 + 1 : to_month;

	return (struct window){.known = true,
		.from = {(int8_t)from, 1},
		.to = {(int8_t)to, lengths[to - 1]},
		.all_year = (to_month + 1 - from_month) % 12 == 0,
		.basis = BASIS_ALMANAC};
}

/* The occurrence of the pest's months that holds the day, else the next to come; false where it
 * shows all year, or never. Spans that name the kind stand instead of the others. */
static bool months_of(const struct dossier *dossier, const struct pest_row *pest, struct date day,
	struct window_span *out)
{
	const char *species = dossier->kind.species->key;
	bool own = false, found = false;

	for (int32_t i = 0; i < pest->span_count; i++)
		own = own || span_names(&pest->spans[i], species);
	for (int32_t i = 0; i < pest->span_count; i++) {
		const struct pest_span *span = &pest->spans[i];

		if (span->enters || (own ? !span_names(span, species) : span->hosts[0] != '\0'))
			continue;
		struct window months = months_here(dossier, span->from_month, span->to_month);
		if (months.all_year)
			return false;
		struct window_span here = window_span_at(&months, day);
		if (!found || date_compare(here.from, out->from) < 0)
			*out = here;
		found = true;
	}
	return found;
}

/* The stage logged last, where it is young enough and of a scale of two digits. */
static const struct entry *stage_of(const struct dossier *dossier, struct date today, int32_t *code)
{
	const struct entry *entry = dossier_last(dossier, KIND_STAGE, today);
	const struct amount *stage = entry == NULL ? NULL : entry_amount(entry, FIELD_STAGE);
	struct date day;

	if (stage == NULL || !stage->low.known || stage->low.value > 99 || !look_day(entry, &day) ||
		date_days_between(day, today) > STAGE_DAYS)
		return NULL;
	*code = (int32_t)stage->low.value;
	return entry;
}

/* --- heat --- */

/* Can this total be run here: counted from a day, by a way of counting that is known? */
static bool can_run(const struct degree_row *row, enum heat_method *method)
{
	*method = row->method == DEGREE_AVERAGE ? HEAT_AVERAGE : HEAT_SINE;
	return row->start_day.month > 0 && row->low.known && row->base_decic.known &&
	       (row->method == DEGREE_AVERAGE || row->method == DEGREE_SINE ||
		       row->method == DEGREE_SINE_HORIZONTAL);
}

/* Degree-days of the row's unit up to the last stored day; false where a day is missing. */
static bool heat_up_to(const struct dossier *dossier, const struct degree_row *row,
	struct date today, struct pest_season *season, struct flags *out)
{
	const struct weather_sources sources = {dossier->weather, dossier->weather_count, NULL, 0};
	struct day_weather *days = NULL;
	struct heat_span heat = {0};
	enum heat_method method;

	if (!can_run(row, &method))
		return false;
	int32_t count = weather_days_join(&sources, out->arena, &days);
	while (count > 0 && date_compare(days[count - 1].day, today) > 0)
		count--;
	if (count == 0)
		return false;
	struct date last = days[count - 1].day;
	struct month_day start = window_turn(row->start_day, dossier->place->hemisphere);
	const struct window from = {.known = true, .from = start, .to = start};
	season->heat_from = window_span_before(&from, today).from;
	flags_change_on(out, today, date_add_days(last, STATION_DAYS + 1));
	if (date_days_between(last, today) > STATION_DAYS ||
		date_compare(season->heat_from, last) > 0)
		return false;
	const struct heat_limits limits = {(double)row->base_decic.value / 10,
		(double)row->upper_decic.value / 10, row->upper_decic.known};
	struct fault why;
	if (heat_of_days(method, days, count, &limits, sky_offset_decic(dossier),
		    (struct day_span){season->heat_from, last}, &heat, &why) != STATUS_OK ||
		heat.cover.known < heat.cover.days)
		return false;
	season->degree_days = heat.degree_days * (row->fahrenheit ? 1.8 : 1.0);
	return true;
}

/* The last event that was reached, of the first model that can be run. */
static void find_heat(const struct dossier *dossier, const struct pest_row *pest, struct date today,
	struct pest_season *season, struct flags *out)
{
	if (dossier->weather_count == 0)
		return;
	for (int32_t i = 0; i < pest->degree_count; i++) {
		const struct degree_row *row = pest->degrees[i];
		struct pest_season tried = *season;

		if (!heat_up_to(dossier, row, today, &tried, out) ||
			tried.degree_days * 10 < row->low.value ||
			(season->heat != NULL && (strcmp(season->heat->place, row->place) != 0 ||
							 season->heat->low.value > row->low.value)))
			continue;
		*season = tried;
		season->heat = row;
	}
}

struct pest_season pest_season_on(const struct dossier *dossier, const struct pest_row *pest,
	struct date today, struct flags *out)
{
	struct pest_season season = {0};
	int32_t code = 0;

	if (!months_of(dossier, pest, today, &season.span))
		return season;
	flags_change_on(out, today, season.span.from);
	flags_change_on(out, today, date_add_days(season.span.from, -EARLY_DAYS));
	flags_change_on(out, today, date_add_days(season.span.to, 1));
	find_heat(dossier, pest, today, &season, out);
	bool early =
		season.heat != NULL && date_days_between(today, season.span.from) <= EARLY_DAYS;
	season.open = date_compare(season.span.from, today) <= 0 || early;
	const struct entry *stage = pest->stage_from.known ? stage_of(dossier, today, &code) : NULL;
	if (stage != NULL) {
		struct date day = {0};
		(void)look_day(stage, &day);
		season.stage = stage;
		season.open = code >= pest->stage_from.value && code <= pest->stage_to.value;
		flags_change_on(out, today, date_add_days(day, STAGE_DAYS + 1));
	}
	return season;
}

void evidence_first(struct flags *flags, struct flag *flag, const struct pest_row *pest)
{
	flag_evidence(flags, flag, "%s, first: %s [%s]", pest->name, pest->first,
		pest_first_source(pest));
}
