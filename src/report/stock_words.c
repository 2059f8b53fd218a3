/* SPDX-License-Identifier: MIT */
/* What became of fruit, in words. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/stock_report.h"

const char stock_caution[] =
	"How fruit is kept safely is not for this program to say: look to a tested recipe of a "
	"food-safety authority. Kernels, seeds and leaves of some fruits are not food.";

static void add_share(struct text_builder *words, const char *title, int64_t part_mg,
	const struct stock_line *line, enum unit_system units)
{
	char mass[32];

	text_add_format(words, "%s%s %s", words->length > 0 ? ", " : "", title,
		mass_format(part_mg, units, mass, sizeof mass));
	if (line->picked_mg.known && line->picked_mg.value > 0 && !line->over_mg.known)
		text_add_format(words, " (%.0f %%)",
			100.0 * (double)part_mg / (double)line->picked_mg.value);
}

const char *stock_line_words(
	const struct stock_line *line, enum unit_system units, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	char mass[32];

	out[0] = '\0';
	for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++) {
		const char *title = use_kind_row((enum use_kind)use)->title;

		if (line->became[use].known)
			add_share(&words, title, line->became[use].value, line, units);
		if (line->not_weighed[use] > 0)
			text_add_format(&words, "%s%s %d time%s, not weighed",
				words.length > 0 ? ", " : "", title, line->not_weighed[use],
				line->not_weighed[use] == 1 ? "" : "s");
	}
	if (line->untold_mg.known && line->untold_mg.value > 0)
		add_share(&words, "not told", line->untold_mg.value, line, units);
	if (line->over_mg.known)
		text_add_format(&words, "; %s more than was picked",
			mass_format(line->over_mg.value, units, mass, sizeof mass));
	return out;
}

const char *stock_store_words(
	const struct stock_line *line, enum unit_system units, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	char mass[32];

	out[0] = '\0';
	for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++)
		if (line->in_store[use].known)
			text_add_format(&words, "%s%s %s", words.length > 0 ? ", " : "",
				use_kind_row((enum use_kind)use)->title,
				line->in_store[use].value == 0
					? "none left"
					: mass_format(line->in_store[use].value, units, mass,
						  sizeof mass));
	return out;
}

const char *stock_ripe_words(
	const struct stock_ripe *ripe, enum unit_system units, char *out, size_t size)
{
	char day[24], mass[32];
	struct text_builder words = text_builder_fixed(out, size);

	text_add_format(&words, "%s %s from %s", ripe->label, ripe->kind_name,
		date_format_plain(ripe->from, day, sizeof day));
	if (ripe->expected_mg.known)
		text_add_format(&words, ", about %s",
			mass_format_rough(ripe->expected_mg.value, units, mass, sizeof mass));
	text_add_format(&words, " (day: %s", ripe->basis);
	if (ripe->expected_mg.known)
		text_add_format(&words, "; amount: %d season%s", ripe->seasons,
			ripe->seasons == 1 ? "" : "s");
	text_add(&words, ")");
	return out;
}
