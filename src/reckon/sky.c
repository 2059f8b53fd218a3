/* SPDX-License-Identifier: MIT */
#include "reckon/sky.h"

#include <stdio.h>

#include "core/text.h"

static bool is_inside(struct date day, struct day_span span)
{
	return date_compare(day, span.from) >= 0 && date_compare(day, span.to) <= 0;
}

static int32_t take_weather(const struct entry *const *entries, int32_t count, struct day_span span,
	const struct entry **out)
{
	int32_t taken = 0;

	for (int32_t i = 0; i < count; i++) {
		struct maybe_date day = date_span_first(&entries[i]->day);

		if (entries[i]->kind == KIND_WEATHER && day.known && is_inside(day.value, span))
			out[taken++] = entries[i];
	}
	return taken;
}

struct sky sky_open(const struct dossier *dossier, struct day_span span)
{
	struct sky sky = {.arena = arena_new()};
	int32_t most = dossier->place_entry_count + dossier->entry_count;
	const struct entry **lines =
		arena_array(sky.arena, (size_t)most + 1, sizeof(const struct entry *));
	struct weather_sources sources = {.stored = dossier->weather, .entries = lines};
	int32_t first = 0;
	int32_t end = dossier->weather_count;
	struct maybe_date planted = dossier->tree.planted.low;

	if (planted.known && date_compare(planted.value, span.from) > 0)
		span.from = planted.value;
	sources.entry_count =
		take_weather(dossier->place_entries, dossier->place_entry_count, span, lines);
	sources.entry_count += take_weather(
		dossier->entries, dossier->entry_count, span, lines + sources.entry_count);
	while (first < end && date_compare(dossier->weather[first].day, span.from) < 0)
		first++;
	while (end > first && date_compare(dossier->weather[end - 1].day, span.to) > 0)
		end--;
	if (end > first)
		sources.stored = dossier->weather + first;
	sources.stored_count = end - first;
	sky.count = weather_days_join(&sources, sky.arena, &sky.days);
	sky.warmer_decic = sky_offset_decic(dossier);
	return sky;
}

void sky_close(struct sky *sky)
{
	arena_free(sky->arena);
	*sky = (struct sky){.count = 0};
}

static struct maybe_i32 at_spot(
	const struct sky *sky, struct maybe_i32 decic, const struct entry *entry)
{
	if (decic.known && (entry == NULL || entry->subject.kind == SUBJECT_PLACE))
		decic.value += sky->warmer_decic;
	return decic;
}

struct maybe_i32 sky_min_decic(const struct sky *sky, const struct day_weather *day)
{
	return at_spot(sky, day->min_decic, day->min_entry);
}

struct maybe_i32 sky_max_decic(const struct sky *sky, const struct day_weather *day)
{
	return at_spot(sky, day->max_decic, day->max_entry);
}

void sky_to_spot(struct sky *sky)
{
	for (int32_t i = 0; i < sky->count; i++) {
		struct day_weather *day = &sky->days[i];

		day->min_decic = sky_min_decic(sky, day);
		day->max_decic = sky_max_decic(sky, day);
	}
	sky->warmer_decic = 0;
}

int32_t sky_offset_decic(const struct dossier *dossier)
{
	return dossier->spot != NULL ? dossier->spot->offset_decic : 0;
}

const char *sky_offset_words(const struct dossier *dossier, char out[SKY_OFFSET_SIZE])
{
	int32_t warmer_decic = sky_offset_decic(dossier);
	char gap[24];

	out[0] = '\0';
	if (warmer_decic != 0)
		snprintf(out, SKY_OFFSET_SIZE, ", with this spot %s %s",
			temperature_gap_format(
				warmer_decic, dossier->place->units, gap, sizeof gap),
			warmer_decic < 0 ? "colder" : "warmer");
	return out;
}

const char *sky_whose(const struct dossier *dossier, const struct day_weather *day,
	const struct entry *entry, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	char offset[SKY_OFFSET_SIZE];

	if (entry != NULL && entry->subject.kind != SUBJECT_PLACE)
		text_add(&words, "as you logged it at the tree");
	else if (entry != NULL)
		text_add(&words, "as you logged it");
	else
		text_add_format(&words, "of the station \"%s\"", day->station);
	if (entry == NULL || entry->subject.kind == SUBJECT_PLACE)
		text_add(&words, sky_offset_words(dossier, offset));
	return out;
}

const char *sky_depth(double depth_mm, enum unit_system units, char *out, size_t size)
{
	if (units == UNITS_US)
		snprintf(out, size, "%.1f in", depth_mm / 25.4);
	else
		snprintf(out, size, "%.0f mm", depth_mm);
	return out;
}
