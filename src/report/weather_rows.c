/* SPDX-License-Identifier: MIT */
#include "weather_rows.h"

#include "core/text.h"

static const char *const sum_keys[] = {"from", "to", "days", "missing", "chill_hours", "chill_utah",
	"chill_portions", "degree_days", "heat_days", "frost_nights", "rain_um",
	"chill_utah_positive", "growing_degree_hours", "longest_gap", "chill_gaps", "days_of_hours",
	"rain_days", "lowest_decic", "highest_decic", NULL};
static const char *const year_keys[] = {"season", "from", "to", "days", "missing", "chill_hours",
	"chill_utah", "chill_portions", "degree_days", "heat_days", "frost_nights", "rain_um",
	"chill_utah_positive", "growing_degree_hours", "longest_gap", "chill_gaps", "days_of_hours",
	"rain_days", "lowest_decic", "highest_decic", NULL};

static void row_of_sum(struct rows *rows, const struct weather_sum *sum)
{
	bool chill = sum->chill.hours > 0;
	bool warmth = sum->missing < sum->days;

	rows_date(rows, known_date(sum->span.from));
	rows_date(rows, known_date(sum->span.to));
	rows_i32(rows, sum->days);
	rows_i32(rows, sum->missing);
	rows_i64(rows, (struct maybe_i64){(int64_t)sum->chill.chilling_hours, chill});
	rows_decimal(rows, chill, sum->chill.utah, 1);
	rows_decimal(rows, chill, sum->chill.portions, 3);
	rows_decimal(rows, warmth, sum->degree_days, 2);
	rows_i64(rows, (struct maybe_i64){sum->heat_days, sum->max_known > 0});
	rows_i64(rows, (struct maybe_i64){sum->frost_nights, sum->min_known > 0});
	rows_i64(rows, (struct maybe_i64){sum->rain_um, sum->rain_known > 0});
	rows_decimal(rows, chill, sum->chill.utah_positive, 1);
	rows_decimal(rows, chill, sum->growing_hours, 1);
	rows_i32(rows, sum->longest_gap);
	rows_i64(rows, (struct maybe_i64){sum->chill.gaps, chill});
	rows_i32(rows, sum->by_hours);
	rows_i32(rows, sum->rain_known);
	rows_i64(rows, (struct maybe_i64){sum->lowest.decic.value, sum->lowest.decic.known});
	rows_i64(rows, (struct maybe_i64){sum->highest.decic.value, sum->highest.decic.known});
}

static enum status rows_of_span(
	const struct printer *printer, const struct weather_report *report, struct fault *why)
{
	struct rows rows = rows_begin(printer, sum_keys);

	row_of_sum(&rows, &report->stretches[0].sum);
	return rows_end(&rows, why);
}

static enum status rows_of_years(
	const struct printer *printer, const struct weather_report *report, struct fault *why)
{
	struct rows rows = rows_begin(printer, year_keys);

	for (int32_t i = 0; i < report->stretch_count; i++) {
		rows_text(&rows, report->stretches[i].name);
		row_of_sum(&rows, &report->stretches[i].sum);
	}
	return rows_end(&rows, why);
}

/* "frost hail", "". */
const char *weather_day_words(const struct day_weather *day, char *out, size_t size)
{
	const struct {
		bool said;
		const char *word;
	} words[] = {{day->frost, "frost"}, {day->rain, "rain"}, {day->hail, "hail"},
		{day->storm, "storm"}, {day->heat, "heat"}, {day->snow, "snow"},
		{day->crossed, "extremes-cross"}};
	struct text_builder text = text_builder_fixed(out, size);

	text_add(&text, "");
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
		if (words[i].said)
			text_add_format(&text, "%s%s", text.length > 0 ? " " : "", words[i].word);
	return out;
}

static bool is_inside(const struct day_weather *day, struct day_span span)
{
	return date_compare(day->day, span.from) >= 0 && date_compare(day->day, span.to) <= 0;
}

static enum status rows_of_days(
	const struct printer *printer, const struct weather_report *report, struct fault *why)
{
	static const char *const keys[] = {"day", "min_decic", "max_decic", "rain_um", "wind_mms",
		"station", "min_by_hand", "max_by_hand", "said", NULL};
	struct day_span span = report->stretches[0].sum.span;
	struct rows rows = rows_begin(printer, keys);
	char words[64];

	for (int32_t i = 0; i < report->day_count; i++) {
		const struct day_weather *day = &report->days[i];

		if (!is_inside(day, span))
			continue;
		rows_date(&rows, known_date(day->day));
		rows_i64(&rows, (struct maybe_i64){day->min_decic.value, day->min_decic.known});
		rows_i64(&rows, (struct maybe_i64){day->max_decic.value, day->max_decic.known});
		rows_i64(&rows, day->rain_um);
		rows_i64(&rows, day->wind_mms);
		rows_text(&rows, day->station);
		rows_bool(&rows, day->min_entry != NULL);
		rows_bool(&rows, day->max_entry != NULL);
		rows_text(&rows, weather_day_words(day, words, sizeof words));
	}
	return rows_end(&rows, why);
}

static enum status rows_of_chill(const struct printer *printer, const struct weather_report *report,
	const struct almanac *almanac, struct fault *why)
{
	static const char *const keys[] = {"kind", "cultivar", "trees", "from", "to", "missing",
		"warmer_decic", "unit", "need_low", "need_high", "so_far", "listed", "source",
		"own_days", NULL};
	struct rows rows = rows_begin(printer, keys);

	for (int32_t i = 0; i < report->need_count; i++) {
		const struct weather_need *need = &report->needs[i];
		const struct chill *chill = &need->winter.chill;

		for (int32_t k = 0; k < need->need_count; k++) {
			const struct chill_need *one = &need->needs[k];

			rows_text(&rows, need->kind.species->key);
			rows_text(&rows, one->of_cultivar ? need->kind.cultivar : NULL);
			rows_i32(&rows, need->trees);
			rows_date(&rows, known_date(need->winter.span.from));
			rows_date(&rows, known_date(need->winter.span.to));
			rows_i32(&rows, need->winter.missing);
			rows_i32(&rows, need->warmer_decic);
			rows_text(&rows, one->portions ? "portions" : "hours");
			rows_i64(&rows, known_i64(one->least));
			rows_i64(&rows, known_i64(one->most));
			rows_decimal(&rows, chill->hours > 0,
				one->portions ? chill->portions : chill->chilling_hours,
				one->portions ? 1 : 0);
			rows_text(&rows, one->row->text);
			rows_text(&rows, source_title(almanac, one->row->source));
			rows_i32(&rows, need->own_days);
		}
	}
	return rows_end(&rows, why);
}

enum status print_weather_rows(const struct printer *printer, const struct weather_report *report,
	enum weather_part part, const struct almanac *almanac, struct fault *why)
{
	if (part == WEATHER_DAYS)
		return rows_of_days(printer, report, why);
	if (part == WEATHER_YEARS)
		return rows_of_years(printer, report, why);
	if (part == WEATHER_CHILL)
		return rows_of_chill(printer, report, almanac, why);
	return rows_of_span(printer, report, why);
}
