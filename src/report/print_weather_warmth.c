/* SPDX-License-Identifier: MIT */
/* Warmth against what the almanac prints: trees from bloom to harvest, pests from a day on. */
#include <stdio.h>
#include <string.h>

#include "almanac/pest.h"
#include "core/text.h"
#include "report/rows.h"
#include "report/weather_warmth.h"

/* --- for machines --- */

static void row_of_sum(struct rows *rows, const struct warmth_sum *sum, bool started)
{
	rows_date(rows, (struct maybe_date){sum->span.from, started});
	rows_date(rows, (struct maybe_date){sum->span.to, started});
	rows_i64(rows, (struct maybe_i64){sum->cover.days - sum->cover.known, sum->counted});
	rows_decimal(rows, sum->counted, sum->degree_days, 1);
}

static void row_of_tree(
	struct rows *rows, const struct warmth_tree *tree, const struct almanac *almanac)
{
	double high =
		(double)(tree->row->high.known ? tree->row->high.value : tree->row->low.value);

	rows_text(rows, tree->label);
	rows_text(rows, tree->kind_name);
	rows_text(rows, NULL);
	rows_text(rows, "first pick");
	rows_text(rows, NULL);
	row_of_sum(rows, &tree->sum, tree->has_bloom);
	rows_decimal(rows, true, (double)tree->row->low.value, 1);
	rows_decimal(rows, true, high, 1);
	rows_text(rows, "C");
	rows_decimal(rows, true, tree->base_c, 1);
	rows_decimal(rows, false, 0, 1);
	rows_text(rows, "mean");
	rows_i32(rows, tree->warmer_decic);
	rows_text(rows, source_title(almanac, tree->row->source));
}

static void row_of_pest(
	struct rows *rows, const struct warmth_pest *one, const struct almanac *almanac)
{
	const struct degree_row *row = one->row;

	rows_text(rows, NULL);
	rows_text(rows, NULL);
	rows_text(rows, one->pest->key);
	rows_text(rows, row->event);
	rows_text(rows, row->place);
	row_of_sum(rows, &one->sum, true);
	rows_decimal(rows, true, row->low.value / 10.0, 1);
	rows_decimal(rows, true, row->high.value / 10.0, 1);
	rows_text(rows, row->fahrenheit ? "F" : "C");
	rows_decimal(rows, true, (double)row->base_decic.value / 10, 1);
	rows_decimal(rows, row->upper_decic.known, (double)row->upper_decic.value / 10, 1);
	rows_text(rows, one->by_sine ? "sine" : "mean");
	rows_i32(rows, 0);
	rows_text(rows, source_title(almanac, row->sources[0]));
}

static enum status rows_of_warmth(const struct printer *printer,
	const struct weather_warmth *warmth, const struct almanac *almanac, struct fault *why)
{
	static const char *const keys[] = {"tree", "kind", "pest", "event", "place", "from", "to",
		"missing", "so_far", "need_low", "need_high", "unit", "base_c", "upper_c", "method",
		"warmer_decic", "source", NULL};
	struct rows rows = rows_begin(printer, keys);

	for (int32_t i = 0; i < warmth->tree_count; i++)
		row_of_tree(&rows, &warmth->trees[i], almanac);
	for (int32_t i = 0; i < warmth->pest_count; i++)
		row_of_pest(&rows, &warmth->pests[i], almanac);
	return rows_end(&rows, why);
}

/* --- for people --- */

/* "so far 812 F degree-days (3 days missing)"; "so far not known". */
static const char *so_far_words(
	const struct warmth_sum *sum, const char *unit, char *out, size_t size)
{
	int32_t missing = sum->cover.days - sum->cover.known;

	if (!sum->counted)
		snprintf(out, size, "so far not known");
	else if (missing > 0)
		snprintf(out, size, "so far %.0f%s (%d day%s missing)", sum->degree_days, unit,
			missing, missing == 1 ? "" : "s");
	else
		snprintf(out, size, "so far %.0f%s", sum->degree_days, unit);
	return out;
}

static void say_tree(const struct printer *printer, const struct warmth_tree *tree,
	const struct almanac *almanac)
{
	char so_far[64], bloom[24], gap[24], spot[64] = "";

	if (!tree->has_bloom) {
		say_wrapped(printer, "  ", "%s %s: no bloom is logged to count from", tree->label,
			tree->kind_name);
		return;
	}
	if (tree->warmer_decic != 0)
		snprintf(spot, sizeof spot, ", its spot %s %s",
			temperature_gap_format(tree->warmer_decic, printer->units, gap, sizeof gap),
			tree->warmer_decic < 0 ? "colder" : "warmer");
	say_wrapped(printer, "  ",
		"%s %s: %s of about %lld C degree-days over %.1f C (daily mean), since its bloom "
		"of "
		"%s%s [%s]",
		tree->label, tree->kind_name, so_far_words(&tree->sum, "", so_far, sizeof so_far),
		(long long)tree->row->low.value, tree->base_c,
		date_format_plain(tree->sum.span.from, bloom, sizeof bloom), spot,
		source_title(almanac, tree->row->source));
}

/* --- pests, for people --- */

static bool is_same_model(const struct warmth_pest *a, const struct warmth_pest *b)
{
	const struct degree_row *one = a->row, *other = b->row;

	return a->pest == b->pest && strcmp(one->place, other->place) == 0 &&
	       strcmp(one->form, other->form) == 0 && one->method == other->method &&
	       one->base_decic.value == other->base_decic.value &&
	       one->upper_decic.known == other->upper_decic.known &&
	       one->upper_decic.value == other->upper_decic.value &&
	       one->fahrenheit == other->fahrenheit &&
	       a->sum.span.from.day == b->sum.span.from.day &&
	       strcmp(one->sources[0], other->sources[0]) == 0;
}

/* "over 50 F, cut off at 88 F, by the sine". */
static const char *model_words(const struct warmth_pest *one, char *out, size_t size)
{
	const struct degree_row *row = one->row;
	enum unit_system units = row->fahrenheit ? UNITS_US : UNITS_SI;
	char base[24], upper[24], cut[48] = "";

	if (row->upper_decic.known)
		snprintf(cut, sizeof cut, ", cut off at %s",
			temperature_format(
				(int32_t)row->upper_decic.value, units, upper, sizeof upper));
	snprintf(out, size, "over %s%s, by the %s%s%s",
		temperature_format((int32_t)row->base_decic.value, units, base, sizeof base), cut,
		one->by_sine ? "sine" : "daily mean",
		row->method == DEGREE_UNSTATED ? " (its source says not how)" : "",
		row->from_memory[0] != '\0' ? ", in part from memory" : "");
	return out;
}

/* All events of one model; returns how many totals they were. */
static int32_t say_model(const struct printer *printer, const struct warmth_pest *first,
	int32_t count, const struct almanac *almanac)
{
	char events[1200], model[160], so_far[64], from[24];
	struct text_builder text = text_builder_fixed(events, sizeof events);
	const struct degree_row *row = first->row;
	int32_t told = 0;

	text_add(&text, "");
	for (; told < count && is_same_model(first, &first[told]); told++) {
		const struct degree_row *one = first[told].row;

		text_add_format(&text, "%s%s at %g", told > 0 ? "; " : "", one->event,
			one->low.value / 10.0);
		if (one->high.value > one->low.value)
			text_add_format(&text, " to %g", one->high.value / 10.0);
	}
	say_wrapped(printer, "    ", "%s%s%s: %s since %s, %s: %s [%s]", row->form,
		row->form[0] != '\0' ? ", " : "", row->place,
		so_far_words(&first->sum, row->fahrenheit ? " F degree-days" : " C degree-days",
			so_far, sizeof so_far),
		date_format_plain(first->sum.span.from, from, sizeof from),
		model_words(first, model, sizeof model), events,
		source_title(almanac, row->sources[0]));
	return told;
}

static void say_pests(const struct printer *printer, const struct weather_warmth *warmth,
	const struct almanac *almanac)
{
	const struct pest_row *before = NULL;

	say_wrapped(printer, "",
		"warmth to what pests of these kinds do, of the totals that count from a day");
	for (int32_t i = 0; i < warmth->pest_count;) {
		const struct warmth_pest *one = &warmth->pests[i];

		if (one->pest != before)
			say_line(printer, "  %s", one->pest->name);
		before = one->pest;
		i += say_model(printer, one, warmth->pest_count - i, almanac);
	}
	if (warmth->pest_count == 0)
		say_line(printer, "  none is known for the kinds here");
	else
		say_wrapped(printer, "  ",
			"totals of other places, reckoned at the station, each by its own base and "
			"method: what you see on the tree comes first");
}

enum status print_weather_warmth(const struct printer *printer, const struct weather_warmth *warmth,
	enum weather_part part, struct yard *yard, struct fault *why)
{
	const struct almanac *almanac = yard_almanac(yard);

	if (printer->format != FORMAT_TEXT)
		return rows_of_warmth(printer, warmth, almanac, why);
	say_line(printer, "warmth from bloom to harvest, against the kinds in the yard");
	for (int32_t i = 0; i < warmth->tree_count; i++)
		say_tree(printer, &warmth->trees[i], almanac);
	if (warmth->kinds_without[0] != '\0')
		say_wrapped(printer, "  ", "no total is known for: %s", warmth->kinds_without);
	if (warmth->tree_count == 0 && warmth->kinds_without[0] == '\0')
		say_line(printer, "  no tree of a known kind stands here");
	if (part == WEATHER_WARMTH)
		say_pests(printer, warmth, almanac);
	else
		say_line(printer, "  what pests do by warmth: boughbook weather show warmth");
	return say_end(printer, why);
}
