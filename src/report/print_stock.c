/* SPDX-License-Identifier: MIT */
/* After the pick, kind by kind. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"
#include "report/stock_report.h"

/* --- for machines --- */

static const char *const keys[] = {"kind", "season", "picked_g", "unweighed", "fresh_g", "dried_g",
	"frozen_g", "made_g", "given_g", "sold_g", "lost_g", "untold_g", "fresh_share",
	"dried_share", "frozen_share", "made_share", "given_share", "sold_share", "lost_share",
	"dried_in_store_g", "frozen_in_store_g", "made_in_store_g", NULL};

static void put_row(struct rows *rows, const struct stock_line *line, int32_t year)
{
	static const enum use_kind stores[] = {USE_DRIED, USE_FROZEN, USE_MADE};
	char season[16];

	snprintf(season, sizeof season, "%d", (int)year);
	rows_text(rows, line->kind_name);
	rows_text(rows, season);
	rows_grams(rows, line->picked_mg);
	rows_i32(rows, line->unweighed);
	for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++)
		rows_grams(rows, line->became[use]);
	rows_grams(rows, line->untold_mg);
	for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++)
		rows_decimal(rows,
			line->became[use].known && line->picked_mg.known &&
				line->picked_mg.value > 0 && !line->over_mg.known,
			(double)line->became[use].value /
				(line->picked_mg.value > 0 ? (double)line->picked_mg.value : 1.0),
			3);
	for (size_t i = 0; i < sizeof stores / sizeof stores[0]; i++)
		rows_grams(rows, line->in_store[stores[i]]);
}

/* --- for people --- */

static void say_kind(const struct printer *printer, const struct stock_line *line)
{
	char mass[32], words[400], store[160];

	if (line->picked_mg.known && line->unweighed > 0)
		say_line(printer, "%s: picked %s, and %d pick%s not weighed", line->kind_name,
			mass_format(line->picked_mg.value, printer->units, mass, sizeof mass),
			line->unweighed, line->unweighed == 1 ? "" : "s");
	else if (line->picked_mg.known)
		say_line(printer, "%s: picked %s", line->kind_name,
			mass_format(line->picked_mg.value, printer->units, mass, sizeof mass));
	else
		say_line(printer, "%s: %s", line->kind_name,
			line->unweighed > 0 ? "picked, not weighed" : "no pick is logged");
	stock_line_words(line, printer->units, words, sizeof words);
	if (words[0] != '\0')
		say_wrapped(printer, "    ", "%s", words);
	stock_store_words(line, printer->units, store, sizeof store);
	if (store[0] != '\0')
		say_wrapped(printer, "    in store, weighed as picked: ", "%s", store);
	if (line->hung_lost_mg.known && line->hung_lost_mg.value > 0)
		say_line(printer, "    lost before the pick: %s",
			mass_format(line->hung_lost_mg.value, printer->units, mass, sizeof mass));
}

static void say_fortnight(const struct printer *printer, const struct stock_fortnight *fortnight)
{
	char from[24], to[24], mass[32], words[400];
	const struct stock_ripe *last = &fortnight->ripe[fortnight->count - 1];

	date_format_plain(fortnight->ripe[0].from, from, sizeof from);
	date_format_plain(last->from, to, sizeof to);
	if (fortnight->with_figure > 0)
		say_line(printer, "  %s to %s: about %s%s", from, to,
			mass_format_rough(
				fortnight->expected_mg, printer->units, mass, sizeof mass),
			fortnight->with_figure < fortnight->count
				? ", of those with seasons behind them"
				: "");
	else
		say_line(printer, "  %s to %s", from, to);
	for (int32_t i = 0; i < fortnight->count; i++)
		say_wrapped(printer, "    ", "%s",
			stock_ripe_words(&fortnight->ripe[i], printer->units, words, sizeof words));
	say_wrapped(printer, "    a day for it: ", "boughbook plan '%s picked @ %s'",
		fortnight->ripe[0].label, date_format(last->from, to));
}

static enum status say_all(const struct printer *printer, const struct stock_report *report,
	const struct yard *yard, struct fault *why)
{
	say_line(printer, "%s: season %d, what became of the fruit", yard_place(yard)->name,
		report->year);
	for (int32_t i = 0; i < report->count; i++)
		say_kind(printer, &report->lines[i]);
	if (report->count == 0)
		say_line(printer, "nothing was picked or told of that season");
	if (report->fortnight_count > 0)
		say_line(printer, "First picks that fall into one fortnight");
	for (int32_t i = 0; i < report->fortnight_count; i++)
		say_fortnight(printer, &report->fortnights[i]);
	say_wrapped(printer, "", "%s", stock_caution);
	return say_end(printer, why);
}

enum status print_stock(const struct printer *printer, const struct stock_report *report,
	const struct yard *yard, struct fault *why)
{
	if (printer->format == FORMAT_TEXT)
		return say_all(printer, report, yard, why);
	struct rows rows = rows_begin(printer, keys);

	for (int32_t i = 0; i < report->count; i++)
		put_row(&rows, &report->lines[i], report->year);
	return rows_end(&rows, why);
}
