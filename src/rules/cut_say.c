/* SPDX-License-Identifier: MIT */
/* What the rules about cuts share. */
#include "cut_say.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/sky.h"

bool cut_to_judge(const struct dossier *dossier, const struct entry *entry, struct date today,
	int32_t days, struct date *day)
{
	if (!look_is_shaping(entry) || !look_day(entry, day) || date_compare(*day, today) > 0 ||
		date_days_between(*day, today) > days)
		return false;
	return dossier->host == NULL || strcmp(entry->subject.id, dossier->tree.id) == 0;
}

bool cut_is_told(const struct flags *out, const struct entry *entry, const char *const *rules)
{
	for (int32_t i = 0; i < out->count; i++) {
		const struct flag *flag = &out->items[i];
		bool listed = false;

		for (const char *const *rule = rules; *rule != NULL; rule++)
			listed = listed || strcmp(flag->rule, *rule) == 0;
		for (int32_t e = 0; listed && e < flag->entry_count; e++)
			if (strcmp(flag->entries[e], entry->id) == 0)
				return true;
	}
	return false;
}

const char *cut_name(const struct entry *entry, char *out, size_t size)
{
	enum cut_kind kind = entry_cut_kind(entry);
	const char *title = kind == CUT_UNSAID ? "" : cut_kind_row(kind)->title;
	bool is_cut = strstr(title, "cut") != NULL;
	char when[80];

	snprintf(out, size, "%s%s%s of %s", title, title[0] != '\0' && !is_cut ? " " : "",
		is_cut ? "" : "cut", date_span_format_plain(&entry->day, when, sizeof when));
	return out;
}

static char lower(char c)
{
	return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

/* Is the word, in small letters, in the first `length` bytes of the text, in any case? */
static bool stands_in(const char *text, size_t length, const char *word)
{
	size_t size = strlen(word);

	for (size_t at = 0; at + size <= length; at++) {
		size_t same = 0;

		while (same < size && lower(text[at + same]) == word[same])
			same++;
		if (same == size)
			return true;
	}
	return false;
}

bool cut_says(const struct entry *entry, const char *word)
{
	const char *reason = entry_detail(entry, FIELD_REASON);

	return stands_in(entry->words, strcspn(entry->words, ";"), word) ||
	       stands_in(reason, strlen(reason), word);
}

const char *cut_word_in(const char *text, const char *const *words)
{
	for (; *words != NULL; words++)
		if (stands_in(text, strlen(text), *words))
			return *words;
	return NULL;
}

/* --- when next --- */

bool cut_next_clear(const struct dossier *dossier, const struct species *species,
	enum cut_kind kind, struct date day, struct window_span *span, const struct cut_row **row)
{
	struct cut_window cuts[CUTS_MAX];
	struct window_facts facts = dossier_window_facts(dossier);
	struct window own = dossier_window(dossier, WINDOW_CUT_CLEAR, day);

	*row = NULL;
	if (own.known && own.basis == BASIS_OWN) {
		*span = window_span_at(&own, day);
		return true;
	}
	facts.species = species;
	int32_t count = window_cuts(&facts, dossier->kind.cultivar, kind, cuts, CUTS_MAX);
	if (count > CUTS_MAX)
		count = CUTS_MAX;
	struct maybe_date next = window_next_clear(cuts, count, day, row);
	for (int32_t i = 0; next.known && i < count; i++) {
		const struct window window = {
			.known = true, .from = cuts[i].from, .to = cuts[i].to};

		if (cuts[i].row == *row)
			*span = window_span_at(&window, next.value);
	}
	return next.known;
}

void cut_tell_next_clear(const struct dossier *dossier, const struct entry *entry,
	struct date today, struct flags *out, struct flag *flag)
{
	const struct cut_row *row;
	struct window_span span = {{0}, {0}};
	char words[64], action[FLAG_SAYS_SIZE];

	if (!cut_next_clear(
		    dossier, dossier->kind.species, look_cut_kind(entry), today, &span, &row))
		return;
	flag->window_from = known_date(span.from);
	flag->window_to = known_date(span.to);
	flags_change_on(out, today, date_add_days(span.to, 1));
	text_copy(action, sizeof action, flag->action);
	look_say(&flag->action, "%s Next clear for this cut: %s (%s).", action,
		look_span(span.from, span.to, words, sizeof words),
		row != NULL && row->text[0] != '\0' ? row->text : "as set by hand here");
}

/* --- weather --- */

static bool is_within(struct date day, struct date from, struct date to)
{
	return date_compare(day, from) >= 0 && date_compare(day, to) <= 0;
}

/* Which night is looked for: the coldest, or the newest at or below the limit. */
struct night_wanted {
	struct date from, to;
	bool newest;
	int32_t limit_decic;
};

static bool is_better(const struct night_wanted *wanted, const struct cut_weather *kept,
	struct date day, int32_t min_decic)
{
	if (min_decic > wanted->limit_decic)
		return false;
	if (!kept->known)
		return true;
	return wanted->newest ? date_compare(day, kept->day) > 0 : min_decic < kept->min_decic;
}

static struct cut_weather find_night(
	const struct dossier *dossier, const struct night_wanted *wanted)
{
	struct cut_weather kept = {.known = false};
	struct sky sky = sky_open(dossier, (struct day_span){wanted->from, wanted->to});

	for (int32_t i = 0; i < sky.count; i++) {
		const struct day_weather *day = &sky.days[i];
		struct maybe_i32 min_decic = sky_min_decic(&sky, day);

		if (!min_decic.known || !is_better(wanted, &kept, day->day, min_decic.value))
			continue;
		kept = (struct cut_weather){.known = true,
			.day = day->day,
			.min_decic = min_decic.value,
			.logged = day->min_entry != NULL};
		sky_whose(dossier, day, day->min_entry, kept.whose, sizeof kept.whose);
	}
	sky_close(&sky);
	return kept;
}

struct cut_weather cut_coldest(const struct dossier *dossier, struct date from, struct date to)
{
	const struct night_wanted wanted = {
		.from = from, .to = to, .newest = false, .limit_decic = INT32_MAX};

	return find_night(dossier, &wanted);
}

struct cut_weather cut_newest_frost(
	const struct dossier *dossier, struct date from, struct date to, int32_t limit_decic)
{
	const struct night_wanted wanted = {
		.from = from, .to = to, .newest = true, .limit_decic = limit_decic};

	return find_night(dossier, &wanted);
}

/* --- nights that are only forecast --- */

/* A line about the place that says how cold a night may be. */
static bool is_cold_forecast(const struct entry *entry, struct date *day)
{
	const struct amount *cold = entry_amount(entry, FIELD_TEMPERATURE);

	return entry->kind == KIND_WEATHER && entry_is_forecast(entry) && cold != NULL &&
	       cold->low.known && look_day(entry, day) &&
	       strcmp(entry_detail(entry, FIELD_WEATHER), "heat") != 0;
}

static bool has_forecast_line(const struct dossier *dossier, struct date day)
{
	struct date at;

	for (int32_t i = 0; i < dossier->place_entry_count; i++)
		if (is_cold_forecast(dossier->place_entries[i], &at) && at.day == day.day)
			return true;
	return false;
}

/* One that counts: the first of its day that has a minimum, where the grower gave none. */
static bool is_station_forecast(const struct dossier *dossier, int32_t at)
{
	const struct weather_day *row = &dossier->forecasts[at];

	for (int32_t i = at; i-- > 0 && dossier->forecasts[i].day.day == row->day.day;)
		if (dossier->forecasts[i].min_decic.known)
			return false;
	return row->min_decic.known && !has_forecast_line(dossier, row->day);
}

/* Once its minimum is told, a night is no forecast any more. */
static void keep_forecast(const struct dossier *dossier, const struct night_wanted *wanted,
	const struct day_weather *row, const struct entry *entry, struct cut_weather *kept)
{
	int32_t min_decic = row->min_decic.value + sky_offset_decic(dossier);

	if (!is_within(row->day, wanted->from, wanted->to) ||
		!is_better(wanted, kept, row->day, min_decic) ||
		cut_coldest(dossier, row->day, row->day).known)
		return;
	*kept = (struct cut_weather){
		.known = true, .day = row->day, .min_decic = min_decic, .logged = entry != NULL};
	sky_whose(dossier, row, entry, kept->whose, sizeof kept->whose);
}

struct cut_weather cut_forecast(const struct dossier *dossier, struct date from, struct date to)
{
	const struct night_wanted wanted = {.from = from, .to = to, .limit_decic = INT32_MAX};
	struct cut_weather kept = {.known = false};

	for (int32_t i = 0; i < dossier->place_entry_count; i++) {
		const struct entry *entry = dossier->place_entries[i];
		struct day_weather row = {.station = ""};

		if (!is_cold_forecast(entry, &row.day))
			continue;
		row.min_decic.value = (int32_t)entry_amount(entry, FIELD_TEMPERATURE)->low.value;
		keep_forecast(dossier, &wanted, &row, entry, &kept);
	}
	for (int32_t i = 0; i < dossier->forecast_count; i++) {
		const struct weather_day *night = &dossier->forecasts[i];
		struct day_weather row = {.day = night->day,
			.min_decic = night->min_decic,
			.station = night->station};

		if (is_station_forecast(dossier, i))
			keep_forecast(dossier, &wanted, &row, NULL, &kept);
	}
	return kept;
}

static void keep_first(struct cut_weather *first, struct date day, int64_t rain_um, bool logged)
{
	if (first->known && date_compare(first->day, day) <= 0)
		return;
	*first = (struct cut_weather){
		.known = true, .day = day, .rain_um = rain_um, .logged = logged};
}

struct cut_weather cut_first_rain(const struct dossier *dossier, struct date from, struct date to)
{
	struct cut_weather first = {.known = false};

	for (int32_t i = 0; i < dossier->weather_count; i++) {
		const struct weather_day *weather = &dossier->weather[i];

		if (weather->rain_um.known && weather->rain_um.value >= WET_UM &&
			is_within(weather->day, from, to))
			keep_first(&first, weather->day, weather->rain_um.value, false);
	}
	for (int32_t i = 0; i < dossier->place_entry_count; i++) {
		const struct entry *entry = dossier->place_entries[i];
		const struct amount *rain = entry_amount(entry, FIELD_DEPTH);
		struct date day;

		if (entry->kind == KIND_WEATHER && !entry_is_forecast(entry) && rain != NULL &&
			rain->low.known && rain->low.value >= WET_UM && look_day(entry, &day) &&
			is_within(day, from, to) &&
			strcmp(entry_detail(entry, FIELD_WEATHER), "rain") == 0)
			keep_first(&first, day, rain->low.value, true);
	}
	return first;
}
