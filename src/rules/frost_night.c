/* SPDX-License-Identifier: MIT */
#include "rules/frost_night.h"

#include <stdio.h>

#include "core/text.h"
#include "look.h"
#include "reckon/sky.h"

/* A logged stage stands for so many days; of fruitlets for longer; and backward for a few. */
enum { STAGE_DAYS = 14, FRUITLET_DAYS = 30, STAGE_BACK_DAYS = 3, STAGE_SEASON_DAYS = 120 };
enum { CODE_BLOOM = 60, CODE_OVER = 68 };
/* Warmer nights hurt nothing by any table. */
enum { WARM_DECIC = 50 };

struct table {
	struct frost_stage stages[FROST_STAGES_MAX];
	int32_t count;
};

/* --- the stage --- */

/* The growth stage of an entry; "bloom" alone is the middle of it. */
static int32_t code_of(const struct entry *entry)
{
	const struct amount *stage = entry_amount(entry, FIELD_STAGE);
	struct maybe_i64 point = stage != NULL ? amount_point(stage) : (struct maybe_i64){0};

	return entry->kind == KIND_STAGE && point.known ? (int32_t)point.value : -1;
}

/* What the grower logged nearest to the day; *says_not: their lines say it was no bloom then. */
static const struct entry *logged_stage(
	const struct dossier *dossier, struct date day, bool *says_not)
{
	const struct entry *before = NULL;
	const struct entry *after = NULL;
	struct date at = {0};

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		int32_t code = code_of(entry);

		if (code < 0 || !look_day(entry, &at))
			continue;
		int32_t ago = date_days_between(at, day);
		if (ago >= 0 && ago <= STAGE_SEASON_DAYS)
			before = entry;
		else if (ago < 0 && -ago <= STAGE_BACK_DAYS && after == NULL)
			after = entry;
		*says_not =
			*says_not || (ago < 0 && -ago <= STAGE_SEASON_DAYS && code < CODE_BLOOM);
	}
	if (before != NULL && look_day(before, &at)) {
		bool over = code_of(before) >= CODE_OVER;

		if (date_days_between(at, day) <= (over ? FRUITLET_DAYS : STAGE_DAYS))
			return before;
		*says_not = *says_not || over;
	}
	return after;
}

static void find_stage(
	const struct dossier *dossier, const struct table *table, struct frost_night *night)
{
	const struct frost_stage *stage = NULL;
	bool says_not = false;

	night->stage_entry = logged_stage(dossier, night->day, &says_not);
	if (night->stage_entry != NULL) {
		night->code = code_of(night->stage_entry);
		stage = frost_stage_at(table->stages, table->count, night->code);
	} else {
		night->window = dossier_window(dossier, WINDOW_BLOOM, night->day);
		if (says_not || !night->window.known || night->window.all_year ||
			!window_holds(&night->window, night->day))
			return;
		struct window_span span = window_span_at(&night->window, night->day);
		int32_t length = date_days_between(span.from, span.to);
		double share =
			length > 0 ? (double)date_days_between(span.from, night->day) / length : 0;
		stage = frost_stage_in_bloom(table->stages, table->count, share);
		night->code = stage != NULL ? stage->code_from : 0;
	}
	night->has_stage = stage != NULL;
	if (stage != NULL)
		night->stage = *stage;
}

static void find_loss(struct frost_night *night)
{
	const struct frost_stage *stage = &night->stage;

	if (!night->has_stage)
		return;
	night->half = !stage->ten_decic.known && stage->half_decic.known &&
		      night->min_decic <= stage->half_decic.value;
	if (night->half)
		night->loss = (struct frost_loss){.band = FROST_UNTOLD, .low = 0.5, .high = 1};
	night->has_loss = night->half || frost_loss_of_stage(stage, night->min_decic, &night->loss,
						 NULL) == STATUS_OK;
}

/* What the grower logged of it since. */
static const struct entry *seen_since(const struct dossier *dossier, struct date night)
{
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if ((entry->kind == KIND_SAW || entry->kind == KIND_LOSS ||
			    entry->kind == KIND_NOTE) &&
			look_day(entry, &day) && date_compare(day, night) >= 0 &&
			date_days_between(night, day) <= FROST_SEEN_WITHIN_DAYS &&
			look_tells(entry, "frost|frosted|frost damage|freeze|frozen"))
			return entry;
	}
	return NULL;
}

/* --- nights --- */

bool frost_night_hurts(const struct frost_night *night)
{
	return night->has_loss && night->loss.band != FROST_ABOVE;
}

static bool is_cold(const struct sky *sky, const struct day_weather *day)
{
	struct maybe_i32 min_decic = sky_min_decic(sky, day);

	return min_decic.known && min_decic.value <= WARM_DECIC;
}

static int32_t count_cold(const struct sky *sky)
{
	int32_t count = 0;

	for (int32_t i = 0; i < sky->count; i++)
		count += is_cold(sky, &sky->days[i]);
	return count;
}

static bool take_night(const struct dossier *dossier, const struct table *table,
	const struct sky *sky, const struct day_weather *day, struct frost_night *night)
{
	if (!is_cold(sky, day))
		return false;
	*night = (struct frost_night){.day = day->day,
		.min_decic = sky_min_decic(sky, day).value,
		.min_entry = day->min_entry};
	find_stage(dossier, table, night);
	find_loss(night);
	if (night->min_decic > 0 && !frost_night_hurts(night))
		return false;
	sky_whose(dossier, day, day->min_entry, night->whose, sizeof night->whose);
	night->observed = seen_since(dossier, day->day);
	return true;
}

int32_t frost_nights(const struct dossier *dossier, struct day_span span, struct arena *arena,
	struct frost_night **out)
{
	struct table table = {.count = 0};
	struct sky sky = sky_open(dossier, span);
	int32_t count = 0;

	if (dossier->kind.species != NULL)
		table.count = frost_stages(dossier->kind.species, table.stages);
	*out = arena_array(arena, (size_t)count_cold(&sky) + 1, sizeof **out);
	for (int32_t i = 0; i < sky.count; i++)
		if (take_night(dossier, &table, &sky, &sky.days[i], &(*out)[count]))
			count++;
	sky_close(&sky);
	return count;
}

/* --- in words --- */

const char *frost_night_organ(const struct frost_night *night)
{
	return night->code < CODE_BLOOM ? "bud" : night->code < CODE_OVER ? "flower" : "fruitlet";
}

const char *frost_night_loss(const struct frost_night *night, char *out, size_t size)
{
	const char *what = frost_night_organ(night);

	if (night->half)
		snprintf(out, size, "half of the crop or more");
	else if (night->loss.band == FROST_ABOVE)
		snprintf(out, size, "under one %s in ten", what);
	else if (night->loss.band == FROST_BELOW)
		snprintf(out, size, "nine %ss in ten or more", what);
	else if (night->loss.band == FROST_UNTOLD)
		snprintf(out, size, "one %s in ten or more", what);
	else
		snprintf(out, size,
			"between one and nine %ss in ten, about %.0f %% on a straight line between "
			"(ours)",
			what, 100 * night->loss.linear);
	return out;
}

const char *frost_night_known(const struct frost_night *night, char *out, size_t size)
{
	struct date day = {0};
	char when[24], by[64];

	if (night->stage_entry != NULL && look_day(night->stage_entry, &day))
		snprintf(out, size, "as you logged on %s",
			date_format_plain(day, when, sizeof when));
	else
		snprintf(out, size, "%s", look_by(&night->window, by, sizeof by));
	return out;
}
