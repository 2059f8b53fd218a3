/* SPDX-License-Identifier: MIT */
#include "weather_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"

/* Places in the names of columns: the day, the time, then the figures in their order. */
enum { DAY, TIME, FIRST_FIGURE };
static const char *const names[] = {
	"day", "time", "min", "max", "temperature", "rain", "wind", NULL};

/* Air temperature as core and reckoning take it; rain and wind a little above the highest ever
 * measured in a day and in a gust (WMO: 1,825 mm, 113 m/s). */
/* clang-format off */
static const struct figure_range {
	int64_t low, high; /* base units */
	const char *range;
} ranges[FIGURE_TOTAL] = {
	[FIGURE_MIN]         = {-900, 600, "-90 to 60 C"},
	[FIGURE_MAX]         = {-900, 600, "-90 to 60 C"},
	[FIGURE_TEMPERATURE] = {-900, 600, "-90 to 60 C"},
	[FIGURE_RAIN]        = {0, 2000000, "0 to 2000 mm"},
	[FIGURE_WIND]        = {0, 120000, "0 to 120 m/s"},
};
/* clang-format on */

const char *weather_figure_format(enum weather_figure which, struct maybe_i64 figure,
	enum unit_system units, char *out, int size)
{
	double value = (double)figure.value;

	if (!figure.known)
		snprintf(out, (size_t)size, "unknown");
	else if (weather_figure_dimension(which) == DIMENSION_TEMPERATURE)
		temperature_format((int32_t)figure.value, units, out, size);
	else if (which == FIGURE_RAIN && units == UNITS_US)
		snprintf(out, (size_t)size, "%.2f in", value / 25400.0);
	else if (which == FIGURE_RAIN)
		snprintf(out, (size_t)size, "%.1f mm", value / 1000.0);
	else if (units == UNITS_US)
		snprintf(out, (size_t)size, "%.1f mph", value / 447.04);
	else
		snprintf(out, (size_t)size, "%.1f m/s", value / 1000.0);
	return out;
}

/* --- cells --- */

static bool is_bare(const char *text)
{
	return text[strspn(text, "+-0123456789.,' ")] == '\0';
}

static enum status take_figure(int64_t value, const char *text, enum weather_figure which,
	struct maybe_i64 *out, struct fault *why)
{
	const struct figure_range *range = &ranges[which];

	if (value >= range->low && value <= range->high) {
		*out = known_i64(value);
		return STATUS_OK;
	}
	return fault_set(why, STATUS_RANGE, "%s %s is outside %s", weather_figure_name(which), text,
		range->range);
}

static enum status read_figure(const struct weather_file *file, const char *text,
	enum weather_figure which, struct maybe_i64 *out, struct fault *why)
{
	const char *unit = weather_settings_unit(&file->settings, which);
	const char *name = weather_figure_name(which);
	struct amount amount = {0};
	char typed[TYPED_SIZE];
	int64_t base = 0;

	if (weather_settings_blank(&file->settings, text))
		return STATUS_OK;
	if (file->units[which] != NULL && figure_quick(text, file->units[which], &base))
		return take_figure(base, text, which, out, why);
	if (is_bare(text) && unit == NULL)
		return fault_set(why, STATUS_DOUBT,
			"%s %s of what? say --units us (F, in, mph) or si (C, mm, m/s)", name,
			text);
	snprintf(typed, sizeof typed, "%s %s", text, is_bare(text) ? unit : "");
	enum status status = amount_parse(
		typed, weather_figure_dimension(which), NULL, &file->numbers, &amount, why);
	if (status != STATUS_OK)
		return status;
	if (!amount.low.known || !amount.high.known || amount.low.value != amount.high.value)
		return fault_set(why, STATUS_SYNTAX, "%s '%s' is not one figure", name, text);
	return take_figure(amount.low.value, text, which, out, why);
}

/* Where the time of day begins in "2026-05-01T13:00" or "5/1/2026 1:00 PM"; NULL: no time. */
static const char *clock_part(const char *text)
{
	const char *colon = strchr(text, ':');

	if (colon == NULL)
		return NULL;
	const char *at = colon;
	while (at > text && at[-1] >= '0' && at[-1] <= '9')
		at--;
	return at;
}

/* ":00", ":00:00.000": nothing past the full hour. */
static bool is_full_hour(const char **at)
{
	bool is_full = true;

	while (**at == ':' || **at == '.' || (**at >= '0' && **at <= '9')) {
		is_full = is_full && (**at < '1' || **at > '9');
		(*at)++;
	}
	return is_full;
}

/* "13:00", "1:00 PM", "13", "13:00:00+02:00". 24 is the first hour of the next day. */
static enum status read_hour(const char *text, int32_t *hour, struct fault *why)
{
	const char *at = text;
	int32_t value = 0;
	int digits = 0;

	for (; *at >= '0' && *at <= '9' && digits < 3; at++, digits++)
		value = value * 10 + (*at - '0');
	bool is_full = is_full_hour(&at);
	at += strspn(at, " ");
	bool morning = text_same(at, "am") || text_same(at, "a.m.");
	bool evening = text_same(at, "pm") || text_same(at, "p.m.");
	if (text_same(at, "z") || text_same(at, "utc") || text_same(at, "gmt"))
		return fault_set(why, STATUS_SYNTAX,
			"time '%s' is of the zero meridian: give hours of the local clock", text);
	bool zone = (*at == '+' || *at == '-') && strspn(at + 1, "0123456789:") == strlen(at + 1);
	if (digits == 0 || (*at != '\0' && !morning && !evening && !zone))
		return fault_set(why, STATUS_SYNTAX, "'%s' is not a time of day", text);
	if (!is_full)
		return fault_set(why, STATUS_SYNTAX,
			"time '%s' is not a full hour: hours are read, or days", text);
	if (value > 24 || ((morning || evening) && (value < 1 || value > 12)))
		return fault_set(why, STATUS_RANGE, "'%s' is not a time of day", text);
	if (morning || evening)
		value = value % 12 + (evening ? 12 : 0);
	*hour = value;
	return STATUS_OK;
}

static enum status read_day(const struct weather_file *file, const char *text, size_t length,
	struct date *out, struct fault *why)
{
	struct date_span span = {0};
	char day[TYPED_SIZE];

	while (length > 0 && (text[length - 1] == ' ' || text[length - 1] == 'T'))
		length--;
	if (length == 0)
		return fault_set(why, STATUS_SYNTAX, "no day");
	if (!text_copy_n(day, sizeof day, text, length))
		return fault_set(why, STATUS_SYNTAX, "'%.40s' is not a day", text);
	enum status status = day_read(day, &file->days, false, &span, why);
	if (status != STATUS_OK)
		return status;
	struct maybe_date first = date_span_first(&span);
	if (!date_span_is_exact(&span) || !first.known || span.about || span.doubt)
		return fault_set(why, STATUS_SYNTAX, "'%s' is not one day", day);
	*out = first.value;
	return STATUS_OK;
}

/* --- rows --- */

static enum status read_when(const struct weather_file *file, const struct csv_row *row,
	struct weather_row *out, struct fault *why)
{
	int32_t name = file->hourly && !mapping_has(&file->mapping, DAY) ? TIME : DAY;
	const char *text = mapping_text(&file->mapping, row, name);
	const char *clock = clock_part(text);
	size_t length = clock != NULL ? (size_t)(clock - text) : strlen(text);
	enum status status = read_day(file, text, length, &out->day, why);

	if (status == STATUS_OK && file->hourly) {
		if (name == DAY)
			clock = mapping_text(&file->mapping, row, TIME);
		name = TIME;
		status = read_hour(clock == NULL ? "" : clock, &out->hour, why);
	}
	if (status != STATUS_OK) {
		mapping_where(&file->mapping, row, file->mapping.columns[name], why);
		return status;
	}
	if (out->hour == 24) {
		out->day = date_add_days(out->day, 1);
		out->hour = 0;
	}
	return STATUS_OK;
}

static enum status read_row(const struct weather_file *file, const struct csv_row *row,
	struct weather_row *out, struct fault *why)
{
	*out = (struct weather_row){.line = row->line};
	enum status status = mapping_check_cells(&file->mapping, row, why);

	if (status != STATUS_OK)
		mapping_where(&file->mapping, row, -1, why);
	else
		status = read_when(file, row, out, why);
	for (int32_t i = 0; status == STATUS_OK && i < FIGURE_TOTAL; i++) {
		status = read_figure(file, mapping_text(&file->mapping, row, FIRST_FIGURE + i),
			(enum weather_figure)i, &out->figures[i], why);
		if (status != STATUS_OK)
			mapping_where(
				&file->mapping, row, file->mapping.columns[FIRST_FIGURE + i], why);
	}
	if (status != STATUS_OK)
		return status;
	struct maybe_i64 min = out->figures[FIGURE_MIN], max = out->figures[FIGURE_MAX];
	if (!min.known || !max.known || min.value <= max.value)
		return STATUS_OK;
	status = fault_set(why, STATUS_RANGE, "minimum %s is above maximum %s",
		mapping_text(&file->mapping, row, FIRST_FIGURE + FIGURE_MIN),
		mapping_text(&file->mapping, row, FIRST_FIGURE + FIGURE_MAX));
	mapping_where(&file->mapping, row, file->mapping.columns[FIRST_FIGURE + FIGURE_MIN], why);
	return status;
}

static bool has_figure(const struct weather_row *row)
{
	for (int32_t i = 0; i < FIGURE_TOTAL; i++)
		if (row->figures[i].known)
			return true;
	return false;
}

static int compare_rows(const void *left, const void *right)
{
	const struct weather_row *a = left;
	const struct weather_row *b = right;

	if (a->day.day != b->day.day)
		return a->day.day < b->day.day ? -1 : 1;
	if (a->hour != b->hour)
		return a->hour < b->hour ? -1 : 1;
	return a->line < b->line ? -1 : a->line > b->line;
}

/* As nearly all files are: to sort them anyway would take room for another copy. */
static bool are_in_order(const struct weather_file *file)
{
	for (int32_t i = 1; i < file->count; i++)
		if (compare_rows(&file->rows[i - 1], &file->rows[i]) > 0)
			return false;
	return true;
}

static void keep_row(struct weather_file *file, struct arena *arena, int32_t *room,
	const struct weather_row *row)
{
	if (file->count == *room) {
		int32_t wider = *room == 0 ? 512 : *room * 2;

		file->rows = arena_regrow(arena, file->rows, (size_t)*room * sizeof *row,
			(size_t)wider * sizeof *row);
		*room = wider;
	}
	file->rows[file->count++] = *row;
}

enum status weather_file_read(struct weather_file *file, struct arena *arena,
	struct import_account *account, struct fault *why)
{
	struct csv_row row;
	int32_t room = 0;
	enum status status;

	while ((status = csv_next(file->mapping.reader, &row, why)) == STATUS_OK) {
		struct weather_row read;
		struct fault refusal = {0};

		status = read_row(file, &row, &read, &refusal);
		if (status == STATUS_DOUBT && file->settings.units == UNITS_UNSET)
			return fault_set(why, status, "%s", refusal.text); /* one answer for all */
		if (status != STATUS_OK) {
			account->refused++;
			account_say(account, arena, "%s", refusal.text);
		} else if (has_figure(&read)) {
			keep_row(file, arena, &room, &read);
		} else {
			file->blank++;
		}
	}
	if (status != STATUS_END)
		return status;
	if (!are_in_order(file))
		qsort(file->rows, (size_t)file->count, sizeof file->rows[0], compare_rows);
	return STATUS_OK;
}

/* --- opening --- */

static enum status check_columns(struct weather_file *file, struct fault *why)
{
	const struct mapping *mapping = &file->mapping;
	bool daily = mapping_has(mapping, FIRST_FIGURE + FIGURE_MIN) ||
		     mapping_has(mapping, FIRST_FIGURE + FIGURE_MAX);
	bool hourly = mapping_has(mapping, FIRST_FIGURE + FIGURE_TEMPERATURE);
	bool other = mapping_has(mapping, FIRST_FIGURE + FIGURE_RAIN) ||
		     mapping_has(mapping, FIRST_FIGURE + FIGURE_WIND);

	file->hourly = mapping_has(mapping, TIME);
	if (!file->hourly && !mapping_has(mapping, DAY))
		return fault_set(why, STATUS_SYNTAX,
			"which column holds the day? --columns day=COLUMN,min=COLUMN,... for a "
			"file "
			"of days, time=COLUMN,temperature=COLUMN,... for hours");
	if (file->hourly && daily)
		return fault_set(why, STATUS_SYNTAX,
			"hours have temperature=, days have min= and max=: give one of the two");
	if (!file->hourly && hourly)
		return fault_set(why, STATUS_SYNTAX,
			"temperature= is of an hour: give time=COLUMN, or min= and max= for days");
	if (!daily && !hourly && !other)
		return fault_set(why, STATUS_SYNTAX,
			"no column of figures: give %s, rain= or wind=",
			file->hourly ? "temperature=" : "min=, max=");
	return STATUS_OK;
}

/* Of bare figures, looked up once for the whole file. */
static void find_units(struct weather_file *file)
{
	for (int i = 0; i < FIGURE_TOTAL; i++) {
		const char *name = weather_settings_unit(&file->settings, (enum weather_figure)i);
		const struct unit *unit =
			name == NULL ? NULL : unit_find(name, strlen(name), &file->numbers, NULL);

		if (unit != NULL &&
			unit->dimension == weather_figure_dimension((enum weather_figure)i))
			file->units[i] = unit;
	}
}

/* How days are read and figures written; what was found goes to the layout. */
static enum status read_settings(struct weather_file *file, const struct import_options *options,
	struct arena *arena, struct fault *why)
{
	struct mapping *mapping = &file->mapping;
	enum date_order dates = options->dates;
	enum status status = weather_settings_read(options, mapping, arena, &file->settings, why);

	if (status != STATUS_OK)
		return status;
	if (file->settings.numbers != NUMBERS_UNSET)
		file->numbers.style = file->settings.numbers;
	if (dates == DATES_UNSET && mapping->dates[0] != '\0')
		dates = strcmp(mapping->dates, "dmy") == 0 ? DATES_DMY : DATES_MDY;
	if (dates != DATES_UNSET) {
		file->days.dates = dates;
		text_copy(
			mapping->dates, sizeof mapping->dates, dates == DATES_DMY ? "dmy" : "mdy");
	}
	if (file->settings.units != UNITS_UNSET)
		text_copy(mapping->units, sizeof mapping->units,
			file->settings.units == UNITS_US ? "us" : "si");
	mapping->more = weather_settings_kept(&file->settings, arena);
	find_units(file);
	return STATUS_OK;
}

enum status weather_file_open(struct session *session, const struct import_options *options,
	struct arena *arena, struct weather_file *out, struct fault *why)
{
	*out = (struct weather_file){
		.days = session_line_context(session), .numbers = session->numbers};
	out->days.from_file = true;
	enum status status =
		mapping_open(session, options, "weather", names, arena, &out->mapping, why);
	if (status != STATUS_OK)
		return status;
	status = read_settings(out, options, arena, why);
	return status != STATUS_OK ? status : check_columns(out, why);
}

bool weather_file_has(const struct weather_file *file, enum weather_figure which)
{
	return mapping_has(&file->mapping, FIRST_FIGURE + (int32_t)which);
}

void weather_file_close(struct weather_file *file)
{
	mapping_close(&file->mapping);
}
