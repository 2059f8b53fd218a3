/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "weather_file.h"

enum {
	HOURS_LEAST = 23,   /* of a day that get its extremes: a clock set forward drops one */
	CHANGES_SAID = 20,  /* then only counted */
	CLOCK_BACK_LAST = 3 /* an hour up to this may come twice when the clock is set back */
};

/* Rows of one station and kind, by day and hour. */
struct weather_rows {
	struct weather_row *items;
	int32_t count;
};

struct importing {
	struct session *session;
	const struct import_options *options;
	struct arena *arena;
	struct import_account *account;
	struct weather_file file;
	struct weather_rows days;  /* as stored before, over the span of the file */
	struct weather_rows hours; /* of an hourly file */
	int32_t filled;            /* figures of days that came from their hours */
	int32_t short_days;
};

/* --- what is stored --- */

static bool is_ours(const struct importing *importing, const char *station, bool forecast)
{
	return forecast == importing->file.settings.forecast &&
	       strcmp(station, importing->file.settings.station) == 0;
}

static struct maybe_i64 wide(struct maybe_i32 value)
{
	return (struct maybe_i64){.value = value.value, .known = value.known};
}

static struct maybe_i32 narrow(struct maybe_i64 value)
{
	return (struct maybe_i32){.value = (int32_t)value.value, .known = value.known};
}

static enum status load_days(struct importing *importing, struct maybe_date from,
	struct maybe_date to, struct fault *why)
{
	struct weather_rows *rows = &importing->days;
	struct weather_day *days = NULL;
	int32_t count = 0;
	enum status status = store_weather_day_list(
		importing->session->store, from, to, importing->arena, &days, &count, why);

	if (status != STATUS_OK)
		return status;
	rows->items = arena_array(importing->arena, (size_t)count + 1, sizeof rows->items[0]);
	for (int32_t i = 0; i < count; i++)
		if (is_ours(importing, days[i].station, days[i].forecast))
			rows->items[rows->count++] = (struct weather_row){.day = days[i].day,
				.figures = {[FIGURE_MIN] = wide(days[i].min_decic),
					[FIGURE_MAX] = wide(days[i].max_decic),
					[FIGURE_RAIN] = days[i].rain_um,
					[FIGURE_WIND] = days[i].wind_mms}};
	return STATUS_OK;
}

static enum status load_hours(struct importing *importing, struct maybe_date from,
	struct maybe_date to, struct weather_rows *rows, struct fault *why)
{
	struct weather_hour *hours = NULL;
	int32_t count = 0;
	enum status status = store_weather_hour_list(
		importing->session->store, from, to, importing->arena, &hours, &count, why);

	if (status != STATUS_OK)
		return status;
	rows->items = arena_array(importing->arena, (size_t)count + 1, sizeof rows->items[0]);
	for (int32_t i = 0; i < count; i++)
		if (is_ours(importing, hours[i].station, hours[i].forecast))
			rows->items[rows->count++] = (struct weather_row){.day = hours[i].day,
				.hour = hours[i].hour,
				.figures = {[FIGURE_TEMPERATURE] = wide(hours[i].temperature_decic),
					[FIGURE_RAIN] = hours[i].rain_um,
					[FIGURE_WIND] = hours[i].wind_mms}};
	return STATUS_OK;
}

/* The first row on or after an hour. */
static int32_t rows_from(const struct weather_rows *rows, struct date day, int32_t hour)
{
	int32_t low = 0, high = rows->count;

	while (low < high) {
		int32_t middle = low + (high - low) / 2;
		const struct weather_row *row = &rows->items[middle];

		if (row->day.day < day.day || (row->day.day == day.day && row->hour < hour))
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

static const struct weather_row *rows_find(
	const struct weather_rows *rows, struct date day, int32_t hour)
{
	int32_t at = rows_from(rows, day, hour);

	if (at == rows->count || rows->items[at].day.day != day.day || rows->items[at].hour != hour)
		return NULL;
	return &rows->items[at];
}

static enum status put_row(
	struct importing *importing, const struct weather_row *row, bool hourly, struct fault *why)
{
	const struct maybe_i64 *figures = row->figures;
	struct store *store = importing->session->store;
	bool was_same = false;

	if (hourly) {
		struct weather_hour hour = {.day = row->day,
			.hour = row->hour,
			.forecast = importing->file.settings.forecast,
			.temperature_decic = narrow(figures[FIGURE_TEMPERATURE]),
			.rain_um = figures[FIGURE_RAIN],
			.wind_mms = figures[FIGURE_WIND]};

		text_copy(hour.station, sizeof hour.station, importing->file.settings.station);
		return store_weather_hour_put(store, &hour, &was_same, why);
	}
	struct weather_day day = {.day = row->day,
		.forecast = importing->file.settings.forecast,
		.min_decic = narrow(figures[FIGURE_MIN]),
		.max_decic = narrow(figures[FIGURE_MAX]),
		.rain_um = figures[FIGURE_RAIN],
		.wind_mms = figures[FIGURE_WIND]};
	text_copy(day.station, sizeof day.station, importing->file.settings.station);
	return store_weather_day_put(store, &day, &was_same, why);
}

/* --- one row of the file --- */

static bool is_same(struct maybe_i64 a, struct maybe_i64 b)
{
	return a.known == b.known && (!a.known || a.value == b.value);
}

static bool are_same(const struct weather_row *a, const struct weather_row *b)
{
	for (int32_t i = 0; i < FIGURE_TOTAL; i++)
		if (!is_same(a->figures[i], b->figures[i]))
			return false;
	return true;
}

/* "2026-05-01", "2026-05-01 13:00". */
static const char *row_when(
	const struct importing *importing, const struct weather_row *row, char out[24])
{
	char day[DATE_SIZE];

	if (importing->file.hourly)
		snprintf(out, 24, "%s %02d:00", date_format(row->day, day), row->hour);
	else
		snprintf(out, 24, "%s", date_format(row->day, day));
	return out;
}

static void refuse(struct importing *importing, const struct weather_row *row, const char *reason)
{
	char when[24];

	importing->account->refused++;
	account_say(importing->account, importing->arena, "line %d: %s %s", row->line,
		row_when(importing, row, when), reason);
}

/* A day or hour that came before in the file. true: this row is dealt with. */
static bool is_repeated(struct importing *importing, const struct weather_row *before,
	const struct weather_row *row)
{
	char when[24], reason[96];

	if (before == NULL || before->day.day != row->day.day || before->hour != row->hour)
		return false;
	if (are_same(before, row)) {
		importing->account->same++;
		return true;
	}
	if (importing->file.hourly && row->hour <= CLOCK_BACK_LAST) {
		importing->account->same++;
		account_say(importing->account, importing->arena,
			"line %d: %s comes twice, as when the clock is set back; line %d is kept",
			row->line, row_when(importing, row, when), before->line);
		return true;
	}
	snprintf(reason, sizeof reason, "stands on line %d with other figures", before->line);
	refuse(importing, row, reason);
	return true;
}

static void say_change(struct importing *importing, const struct weather_row *stored,
	const struct weather_row *row)
{
	enum unit_system units = importing->file.settings.units;
	char when[24], was[24], is[24];
	struct text_builder words = text_builder_in(importing->arena);

	if (importing->account->changed > CHANGES_SAID)
		return;
	text_add(&words, "");
	for (int32_t i = 0; i < FIGURE_TOTAL; i++) {
		enum weather_figure which = (enum weather_figure)i;

		if (!is_same(stored->figures[i], row->figures[i]))
			text_add_format(&words, "%s %s was %s, is %s", words.length > 0 ? ";" : "",
				weather_figure_name(which),
				weather_figure_format(
					which, stored->figures[i], units, was, sizeof was),
				weather_figure_format(
					which, row->figures[i], units, is, sizeof is));
	}
	account_say(importing->account, importing->arena, "line %d: %s changed:%s", row->line,
		row_when(importing, row, when), words.text);
}

/* What the file says over what is stored; a figure that the file leaves blank stays. */
static enum status take_row(
	struct importing *importing, const struct weather_row *row, struct fault *why)
{
	bool hourly = importing->file.hourly;
	const struct weather_row *stored =
		rows_find(hourly ? &importing->hours : &importing->days, row->day, row->hour);
	struct weather_row merged = *row;

	for (int32_t i = 0; stored != NULL && i < FIGURE_TOTAL; i++)
		if (!merged.figures[i].known)
			merged.figures[i] = stored->figures[i];
	struct maybe_i64 min = merged.figures[FIGURE_MIN], max = merged.figures[FIGURE_MAX];
	if (min.known && max.known && min.value > max.value) {
		refuse(importing, row,
			"would have a minimum above the maximum with what is stored");
		return STATUS_OK;
	}
	if (stored != NULL && are_same(stored, &merged)) {
		importing->account->same++;
		return STATUS_OK;
	}
	if (stored == NULL) {
		importing->account->fresh++;
	} else {
		importing->account->changed++;
		say_change(importing, stored, &merged);
	}
	return put_row(importing, &merged, hourly, why);
}

static enum status take_rows(struct importing *importing, struct fault *why)
{
	const struct weather_file *file = &importing->file;
	const struct weather_row *kept = NULL;
	struct date today = clock_today(&importing->session->clock);
	enum status status = STATUS_OK;

	for (int32_t i = 0; status == STATUS_OK && i < file->count; i++) {
		const struct weather_row *row = &file->rows[i];

		if (is_repeated(importing, kept, row))
			continue;
		kept = row;
		if (!importing->file.settings.forecast && date_compare(row->day, today) > 0)
			refuse(importing, row, "is still to come: say --kind forecast");
		else
			status = take_row(importing, row, why);
	}
	if (status == STATUS_OK && importing->account->refused > 0)
		status = fault_set(why, STATUS_SYNTAX, "%d rows refused; nothing was written",
			importing->account->refused);
	return status;
}

/* --- a day from its hours --- */

/* What the hours of a day give; where too few have a figure it is unknown. */
static struct weather_row day_of_hours(const struct weather_rows *hours, struct date day)
{
	struct weather_row out = {.day = day};
	int64_t min = 0, max = 0, rain = 0, wind = 0;
	int32_t warm = 0, wet = 0, windy = 0;

	for (int32_t at = rows_from(hours, day, 0);
		at < hours->count && hours->items[at].day.day == day.day; at++) {
		const struct maybe_i64 *figures = hours->items[at].figures;
		struct maybe_i64 now = figures[FIGURE_TEMPERATURE];

		if (now.known) {
			min = warm == 0 || now.value < min ? now.value : min;
			max = warm == 0 || now.value > max ? now.value : max;
			warm++;
		}
		wet += figures[FIGURE_RAIN].known;
		rain += figures[FIGURE_RAIN].known ? figures[FIGURE_RAIN].value : 0;
		windy += figures[FIGURE_WIND].known;
		wind += figures[FIGURE_WIND].known ? figures[FIGURE_WIND].value : 0;
	}
	if (warm >= HOURS_LEAST) {
		out.figures[FIGURE_MIN] = known_i64(min);
		out.figures[FIGURE_MAX] = known_i64(max);
	}
	if (wet >= HOURS_LEAST)
		out.figures[FIGURE_RAIN] = known_i64(rain);
	if (windy >= HOURS_LEAST)
		out.figures[FIGURE_WIND] = known_i64(round_i64((double)wind / windy));
	return out;
}

/* A figure of the day that its hours did not give is of another file: a station's own extremes lie
 * further out than those of full hours, and stay. */
static enum status fill_day(struct importing *importing, const struct weather_rows *now,
	struct date day, struct fault *why)
{
	struct weather_row before = day_of_hours(&importing->hours, day);
	struct weather_row after = day_of_hours(now, day);
	const struct weather_row *stored = rows_find(&importing->days, day, 0);
	struct weather_row merged = stored != NULL ? *stored : (struct weather_row){.day = day};
	int32_t moved = 0;

	importing->short_days += weather_file_has(&importing->file, FIGURE_TEMPERATURE) &&
				 !after.figures[FIGURE_MIN].known;
	for (int32_t i = 0; i < FIGURE_TOTAL; i++) {
		struct maybe_i64 *figure = &merged.figures[i];
		bool of_hours = !figure->known || is_same(*figure, before.figures[i]);

		if (!of_hours || !after.figures[i].known || is_same(*figure, after.figures[i]))
			continue;
		*figure = after.figures[i];
		moved++;
	}
	struct maybe_i64 min = merged.figures[FIGURE_MIN], max = merged.figures[FIGURE_MAX];
	if (moved == 0 || (min.known && max.known && min.value > max.value))
		return STATUS_OK;
	importing->filled++;
	return put_row(importing, &merged, false, why);
}

static enum status fill_days(struct importing *importing, struct maybe_date from,
	struct maybe_date to, struct fault *why)
{
	const struct weather_file *file = &importing->file;
	struct weather_rows now = {0};
	enum status status = load_hours(importing, from, to, &now, why);

	for (int32_t i = 0; status == STATUS_OK && i < file->count; i++)
		if (i == 0 || file->rows[i].day.day != file->rows[i - 1].day.day)
			status = fill_day(importing, &now, file->rows[i].day, why);
	return status;
}

/* --- the whole file --- */

/* What was not said, and is as the layout remembers it. */
static void say_kept(struct importing *importing)
{
	const struct import_options *options = importing->options;
	const struct weather_settings *settings = &importing->file.settings;

	if (options->layout == NULL)
		return;
	if (options->station == NULL && settings->station[0] != '\0')
		account_say(importing->account, importing->arena, "as layout %s: station \"%s\"",
			options->layout, settings->station);
	if (options->kind == NULL && settings->forecast)
		account_say(importing->account, importing->arena,
			"as layout %s: a forecast; --kind observed says otherwise",
			options->layout);
}

/* The span of the file, and what is missing inside it. */
static void say_span(struct importing *importing)
{
	const struct weather_file *file = &importing->file;
	struct import_account *account = importing->account;
	char from[DATE_SIZE], to[DATE_SIZE];
	int32_t days = 0, missing = 0, longest = 0;

	for (int32_t i = 0; i < file->count; i++) {
		int32_t step =
			i == 0 ? 1 : date_days_between(file->rows[i - 1].day, file->rows[i].day);

		days += step > 0;
		missing += step > 1 ? step - 1 : 0;
		longest = step - 1 > longest ? step - 1 : longest;
	}
	account_say(account, importing->arena, "%s to %s: %d days with figures",
		date_format(file->rows[0].day, from),
		date_format(file->rows[file->count - 1].day, to), days);
	if (missing > 0)
		account_say(account, importing->arena,
			"%d days between are missing, %d in a row at most: they stay unknown",
			missing, longest);
	if (importing->filled > 0)
		account_say(account, importing->arena, "%d days got figures from their hours",
			importing->filled);
	if (importing->short_days > 0)
		account_say(account, importing->arena,
			"%d days have fewer than %d hours with a temperature: extremes unknown",
			importing->short_days, HOURS_LEAST);
}

static enum status take_file(struct importing *importing, struct fault *why)
{
	struct weather_file *file = &importing->file;
	enum status status = weather_file_read(file, importing->arena, importing->account, why);

	if (status != STATUS_OK)
		return status;
	if (file->blank > 0)
		account_say(importing->account, importing->arena,
			"%d rows without a figure: not recorded, and not taken for zero",
			file->blank);
	if (file->count == 0)
		return importing->account->refused == 0
			       ? STATUS_OK
			       : fault_set(why, STATUS_SYNTAX,
					 "%d rows refused; nothing was written",
					 importing->account->refused);
	struct maybe_date from = known_date(file->rows[0].day);
	struct maybe_date to = known_date(file->rows[file->count - 1].day);
	status = load_days(importing, from, to, why);
	if (status == STATUS_OK && file->hourly)
		status = load_hours(importing, from, to, &importing->hours, why);
	if (status == STATUS_OK)
		status = take_rows(importing, why);
	if (status == STATUS_OK && file->hourly)
		status = fill_days(importing, from, to, why);
	if (status == STATUS_OK)
		say_span(importing);
	return status;
}

enum status import_weather(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why)
{
	struct importing importing = {
		.session = session, .options = options, .arena = arena, .account = account};
	enum status status = weather_file_open(session, options, arena, &importing.file, why);
	if (status == STATUS_OK)
		status = store_act_begin(session->store, ACT_IMPORT, "import weather", why);
	if (status == STATUS_OK)
		say_kept(&importing);
	if (status == STATUS_OK)
		status = take_file(&importing, why);
	if (status == STATUS_OK)
		status =
			mapping_remember(session, options, &importing.file.mapping, "weather", why);
	if (status == STATUS_OK && !options->dry_run)
		status = store_act_commit(session->store, why);
	else if (store_in_act(session->store))
		store_act_rollback(session->store);
	weather_file_close(&importing.file);
	return status;
}
