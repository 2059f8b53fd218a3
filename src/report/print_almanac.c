/* SPDX-License-Identifier: MIT */
/* The almanac: the list of kinds, and one kind with every source. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"

static const char *const kind_keys[] = {"key", "name", "botanical", "evergreen", "source", NULL};

static const char *const sure_titles[] = {
	[KNOWN_READ] = "",
	[KNOWN_COMMON_PRACTICE] = " (common practice)",
	[KNOWN_SECOND_HAND] = " (second-hand)",
	[KNOWN_MEMORY] = " (from memory)",
};

static enum status list_kinds(
	const struct printer *printer, const struct almanac *almanac, struct fault *why)
{
	struct rows rows;

	if (printer->format != FORMAT_TEXT)
		rows = rows_begin(printer, kind_keys);
	for (int32_t i = 0; i < almanac_species_count(almanac); i++) {
		const struct species *species = almanac_species_at(almanac, i);

		if (printer->format == FORMAT_TEXT) {
			say_line(printer, "%-16s %-20s %s", species->key, species->name,
				species->botanical);
			continue;
		}
		rows_text(&rows, species->key);
		rows_text(&rows, species->name);
		rows_text(&rows, species->botanical);
		rows_bool(&rows, species->evergreen);
		rows_text(&rows, source_title(almanac, species->source));
	}
	return printer->format != FORMAT_TEXT ? rows_end(&rows, why) : say_end(printer, why);
}

static void say_windows(
	const struct printer *printer, const struct almanac *almanac, const struct species *species)
{
	say_line(printer, "%s", "");
	say_line(printer, "Its year (northern hemisphere)");
	for (int32_t i = 0; i < species->window_count; i++) {
		const struct window_row *row = &species->windows[i];
		char head[80];

		if (row->all_year)
			snprintf(head, sizeof head, "  %-22s all year       ",
				window_title(row->kind));
		else
			snprintf(head, sizeof head, "  %-22s %02d-%02d to %02d-%02d ",
				window_title(row->kind), row->from.month, row->from.day,
				row->to.month, row->to.day);
		say_wrapped(printer, head, "%s%s%s[%s]%s",
			row->climate != CLIMATE_ANY ? climate_title(row->climate) : "",
			row->climate != CLIMATE_ANY ? "; " : "", "",
			source_title(almanac, row->source), sure_titles[row->sure]);
	}
}

static void say_cuts(
	const struct printer *printer, const struct almanac *almanac, const struct species *species)
{
	static const char *const verdicts[] = {[VERDICT_CLEAR] = "clear",
		[VERDICT_ALLOWED] = "allowed",
		[VERDICT_AVOID] = "avoid"};

	say_line(printer, "%s", "");
	say_line(printer, "Cuts");
	for (int32_t i = 0; i < species->cut_count; i++) {
		const struct cut_row *row = &species->cuts[i];
		char head[80];

		snprintf(head, sizeof head, "  %-11s %02d-%02d to %02d-%02d %-8s",
			cut_kind_row(row->kind)->title, row->from.month, row->from.day,
			row->to.month, row->to.day, verdicts[row->verdict]);
		say_wrapped(printer, head, "%s%s%s%s%s [%s]%s", row->cultivar,
			row->cultivar[0] ? ": " : "",
			row->climate != CLIMATE_ANY ? climate_title(row->climate) : "",
			row->climate != CLIMATE_ANY ? ": " : "", row->text,
			source_title(almanac, row->source), sure_titles[row->sure]);
	}
}

static void say_feeds(
	const struct printer *printer, const struct almanac *almanac, const struct species *species)
{
	static const char *const bases[] = {[FEED_PER_INCH] = "an inch of trunk",
		[FEED_PER_YEAR_OF_AGE] = "a year of age",
		[FEED_PER_TREE] = "a tree",
		[FEED_PER_FEED] = "a feed"};
	char rate[32], cap[32];

	say_line(printer, "%s", "");
	say_line(printer, "Feeding");
	for (int32_t i = 0; i < species->feed_count; i++) {
		const struct feed_row *row = &species->feeds[i];

		mass_format(row->rate_mg, printer->units, rate, sizeof rate);
		say_wrapped(printer, "  ", "%s: %s %s %s%s%s%s%s [%s]%s", row->region, rate,
			row->of_nitrogen ? "actual N" : "product", bases[row->basis],
			row->cap_mg.known ? ", at most " : "",
			row->cap_mg.known
				? mass_format(row->cap_mg.value, printer->units, cap, sizeof cap)
				: "",
			row->condition[0] ? "; " : "", row->condition,
			source_title(almanac, row->source), sure_titles[row->sure]);
	}
}

static void say_facts(
	const struct printer *printer, const struct almanac *almanac, const struct species *species)
{
	say_line(printer, "%s", "");
	say_line(printer, "Facts");
	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		say_wrapped(printer, "  ", "%s: %s [%s]%s", row->key, row->text,
			source_title(almanac, row->source), sure_titles[row->sure]);
	}
}

/* What this place sets by hand for the kind. */
static enum status say_own(const struct printer *printer, const struct yard *yard,
	const struct species *species, struct fault *why)
{
	struct arena *arena = arena_new();
	struct own_window *windows = NULL;
	int32_t count = 0;
	enum status status = store_own_window_list(yard_store(yard), arena, &windows, &count, why);

	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if (strcmp(windows[i].species, species->key) == 0)
			say_line(printer, "  set by hand here: %s %02d-%02d to %02d-%02d",
				windows[i].window, windows[i].from.month, windows[i].from.day,
				windows[i].to.month, windows[i].to.day);
	arena_free(arena);
	return status;
}

static enum status say_kind(const struct printer *printer, const struct almanac *almanac,
	const struct yard *yard, const struct species *species, struct fault *why)
{
	enum status status = STATUS_OK;

	say_line(printer, "%s (%s)%s", species->name, species->botanical,
		species->evergreen ? ", evergreen" : "");
	say_wrapped(printer, "  ", "%s", species->flower_wood);
	say_wrapped(printer, "  ", "[%s]%s", source_title(almanac, species->source),
		sure_titles[species->sure]);
	say_windows(printer, almanac, species);
	if (yard != NULL)
		status = say_own(printer, yard, species, why);
	if (status != STATUS_OK)
		return status;
	say_cuts(printer, almanac, species);
	say_wrapped(printer, "  ", "Already cut out of season: %s", species->already_cut);
	if (species->share_limit_permille.known)
		say_wrapped(printer, "  ", "At most %.0f %% of %s in one season [%s]",
			species->share_limit_permille.value / 10.0,
			species->limit_is_shoots ? "last year's shoots" : "the crown",
			source_title(almanac, species->share_source));
	say_feeds(printer, almanac, species);
	say_facts(printer, almanac, species);
	return say_end(printer, why);
}

enum status print_almanac(const struct printer *printer, const struct almanac *almanac,
	const struct yard *yard, const char *kind, struct fault *why)
{
	const struct species *found[8];

	if (kind == NULL || printer->format != FORMAT_TEXT)
		return list_kinds(printer, almanac, why);
	int32_t count = almanac_find_species(almanac, kind, found, 8);
	if (count == 1)
		return say_kind(printer, almanac, yard, found[0], why);
	if (count > 1)
		return fault_set(why, STATUS_DOUBT, "'%s' could be %s or %s", kind, found[0]->name,
			found[1]->name);
	const char *outside = almanac_outside_kind(almanac, kind);
	if (outside != NULL)
		return fault_set(why, STATUS_ABSENT,
			"%s is known by name, but the almanac has no dates for it yet", outside);
	return fault_set(why, STATUS_ABSENT, "no kind '%s'; 'boughbook almanac' lists them", kind);
}
