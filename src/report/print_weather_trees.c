/* SPDX-License-Identifier: MIT */
/* The weather tree by tree: harvests to come with what they rest on, and frost nights with what
 * the published table says and what the grower saw. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"

/* Nights told in text; more are only counted. */
enum { FROSTS_SAID = 24 };

/* --- harvest --- */

/* What the span rests on: "own-bloom", "degree-days", "days", "own-picks", "hand", "almanac". */
static const char *basis_key(const struct harvest_ahead *ahead)
{
	if (!ahead->known)
		return NULL;
	if (ahead->by_heat)
		return "degree-days";
	if (ahead->by_bloom)
		return ahead->own_seasons > 0 ? "own-bloom" : "days";
	if (ahead->window.basis == BASIS_LEARNED)
		return "own-picks";
	return ahead->window.basis == BASIS_OWN ? "hand" : "almanac";
}

static const char own_log[] = "your own log";

/* Of a window the row's; of one set by hand none. */
static const char *source_of(const struct harvest_ahead *ahead)
{
	if (ahead->by_heat || ahead->by_bloom)
		return ahead->days.source;
	if (!ahead->known || ahead->window.row == NULL)
		return NULL;
	return ahead->window.basis == BASIS_LEARNED ? own_log : ahead->window.row->source;
}

static enum status rows_of_harvest(const struct printer *printer, const struct weather_trees *trees,
	const struct almanac *almanac, struct fault *why)
{
	static const char *const keys[] = {"tree", "kind", "from", "to", "basis", "bloom",
		"days_low", "days_high", "seasons", "heat", "heat_needed", "heat_base_c",
		"warmer_decic", "source", NULL};
	struct rows rows = rows_begin(printer, keys);

	for (int32_t i = 0; i < trees->harvest_count; i++) {
		const struct weather_harvest *harvest = &trees->harvests[i];
		const struct harvest_ahead *ahead = &harvest->ahead;
		bool days = ahead->known && ahead->by_bloom;
		bool heat = ahead->heat_needed > 0;
		const char *source = source_of(ahead);

		rows_text(&rows, harvest->label);
		rows_text(&rows, harvest->kind_name);
		rows_date(&rows, (struct maybe_date){harvest->opens.from, ahead->known});
		rows_date(&rows, (struct maybe_date){harvest->opens.to, ahead->known});
		rows_text(&rows, basis_key(ahead));
		rows_date(&rows, harvest->bloom_day);
		rows_i64(&rows, (struct maybe_i64){ahead->days.low, days});
		rows_i64(&rows, (struct maybe_i64){ahead->days.high, days});
		rows_i64(&rows, (struct maybe_i64){ahead->own_seasons, ahead->own_seasons > 0});
		rows_decimal(&rows, heat, ahead->heat, 0);
		rows_decimal(&rows, heat, ahead->heat_needed, 0);
		rows_decimal(&rows, heat, ahead->heat_base, 1);
		rows_i32(&rows, harvest->warmer_decic);
		rows_text(&rows, source != NULL ? source_title(almanac, source) : NULL);
	}
	return rows_end(&rows, why);
}

static void basis_words(const struct weather_harvest *harvest, char *out, size_t size)
{
	const struct harvest_ahead *ahead = &harvest->ahead;
	char bloom[24] = "";

	if (harvest->bloom_day.known)
		date_format_plain(harvest->bloom_day.value, bloom, sizeof bloom);
	if (ahead->by_heat)
		snprintf(out, size,
			"by the warmth since its bloom of %s, a tenth either way at the pace of "
			"the last three weeks",
			bloom);
	else if (ahead->own_seasons > 0)
		snprintf(out, size,
			"%lld to %lld days from its bloom of %s, as in %d seasons of its own",
			(long long)ahead->days.low, (long long)ahead->days.high, bloom,
			ahead->own_seasons);
	else if (ahead->by_bloom)
		snprintf(out, size, "%lld to %lld days from its bloom of %s%s%s",
			(long long)ahead->days.low, (long long)ahead->days.high, bloom,
			ahead->days.text[0] != '\0' ? ", " : "", ahead->days.text);
	else if (ahead->window.basis == BASIS_LEARNED)
		snprintf(out, size, "by its own first picks of %d seasons",
			ahead->window.learned.seasons);
	else
		snprintf(out, size, "%s",
			ahead->window.basis == BASIS_OWN ? "as set by hand" : "by the almanac");
}

static void say_harvest(const struct printer *printer, const struct weather_harvest *harvest,
	const struct almanac *almanac)
{
	const struct harvest_ahead *ahead = &harvest->ahead;
	const char *source = source_of(ahead);
	char from[24], to[24], basis[200];

	if (ahead->known) {
		basis_words(harvest, basis, sizeof basis);
		say_wrapped(printer, "  ", "%s %s: %s to %s, %s%s%s%s", harvest->label,
			harvest->kind_name,
			date_format_plain(harvest->opens.from, from, sizeof from),
			date_format_plain(harvest->opens.to, to, sizeof to), basis,
			source != NULL ? " [" : "",
			source != NULL ? source_title(almanac, source) : "",
			source != NULL ? "]" : "");
	}
	if (ahead->heat_needed > 0 && ahead->heat > 0)
		say_wrapped(printer, "  ",
			"%s %s: %.0f of about %.0f C degree-days over %.1f C since its bloom",
			harvest->label, harvest->kind_name, ahead->heat, ahead->heat_needed,
			ahead->heat_base);
}

static void say_harvests(const struct printer *printer, const struct weather_trees *trees,
	const struct almanac *almanac)
{
	say_line(printer, "first picks to come, each a range");
	for (int32_t i = 0; i < trees->harvest_count; i++)
		say_harvest(printer, &trees->harvests[i], almanac);
	if (trees->harvest_count == 0)
		say_wrapped(printer, "  ",
			"none can be told: log bloom and picks, or name the cultivars");
}

/* --- frost --- */

static struct maybe_i64 wide(struct maybe_i32 value)
{
	return (struct maybe_i64){value.value, value.known};
}

/* Shares of 1; an open end is not known. */
static void rows_needs(struct rows *rows, const struct fact_row *needs)
{
	bool low = needs != NULL && needs->low.known, high = needs != NULL && needs->high.known;

	rows_decimal(rows, low, low ? (double)needs->low.value / 1000 : 0, 2);
	rows_decimal(rows, high, high ? (double)needs->high.value / 1000 : 0, 2);
}

static enum status rows_of_frost(const struct printer *printer, const struct weather_trees *trees,
	const struct almanac *almanac, struct fault *why)
{
	static const char *const keys[] = {"day", "tree", "kind", "min_decic", "minimum", "stage",
		"stage_known", "stage_logged", "ten_decic", "ninety_decic", "table_minutes",
		"loss_low", "loss_high", "loss_linear", "source", "observed", "observed_day",
		"needed_low", "needed_high", NULL};
	struct rows rows = rows_begin(printer, keys);

	for (int32_t i = 0; i < trees->frost_count; i++) {
		const struct weather_frost *frost = &trees->frosts[i];
		const struct frost_night *night = &frost->night;

		rows_date(&rows, known_date(night->day));
		rows_text(&rows, frost->label);
		rows_text(&rows, frost->kind_name);
		rows_i32(&rows, night->min_decic);
		rows_text(&rows, night->whose);
		rows_text(&rows, night->stage.name);
		rows_text(&rows, frost->known);
		rows_bool(&rows, frost->stage_logged);
		rows_i64(&rows, wide(night->stage.ten_decic));
		rows_i64(&rows, wide(night->stage.ninety_decic));
		rows_i32(&rows, FROST_MINUTES);
		rows_decimal(&rows, night->has_loss, night->loss.low, 2);
		rows_decimal(&rows, night->has_loss, night->loss.high, 2);
		rows_decimal(
			&rows, night->has_loss && night->loss.has_point, night->loss.linear, 2);
		rows_text(&rows, source_title(almanac, night->stage.source));
		rows_text(&rows, frost->observed);
		rows_date(&rows, frost->observed_day);
		rows_needs(&rows, frost->needs);
	}
	return rows_end(&rows, why);
}

static void say_table(const struct printer *printer, const struct frost_night *night,
	const struct almanac *almanac)
{
	const struct frost_stage *stage = &night->stage;
	char ten[24], ninety[40] = "a temperature that is not printed", loss[160];

	if (!night->has_loss) {
		say_wrapped(printer, "    ", "the table has no temperature for this stage [%s]",
			source_title(almanac, stage->source));
		return;
	}
	frost_night_loss(night, loss, sizeof loss);
	if (stage->ninety_decic.known)
		temperature_format(
			stage->ninety_decic.value, printer->units, ninety, sizeof ninety);
	if (night->half || !stage->ten_decic.known)
		say_wrapped(printer, "    ", "expected by the table for %d minutes: %s [%s]",
			FROST_MINUTES, loss, source_title(almanac, stage->source));
	else
		say_wrapped(printer, "    ",
			"expected by the table for %d minutes (10 %% die at %s, 90 %% at %s): %s "
			"[%s]",
			FROST_MINUTES,
			temperature_format(stage->ten_decic.value, printer->units, ten, sizeof ten),
			ninety, loss, source_title(almanac, stage->source));
}

/* "10 to 15 % of buds alive is enough for a crop", as its source has it. */
static void say_needs(
	const struct printer *printer, const struct fact_row *needs, const struct almanac *almanac)
{
	char share[48] = "";

	if (needs == NULL || !needs->low.known)
		return;
	if (needs->high.known)
		snprintf(share, sizeof share, "%lld to %lld %% ", (long long)needs->low.value / 10,
			(long long)needs->high.value / 10);
	say_wrapped(printer, "    ", "%s%s [%s]", share, needs->text,
		source_title(almanac, needs->source));
}

static void say_frost(const struct printer *printer, const struct weather_frost *frost,
	const struct almanac *almanac)
{
	const struct frost_night *night = &frost->night;
	char when[24], low[24];

	say_wrapped(printer, "  ", "%s, %s %s: %s %s; at %s %s",
		date_format_plain(night->day, when, sizeof when), frost->label, frost->kind_name,
		temperature_format(night->min_decic, printer->units, low, sizeof low), night->whose,
		night->stage.name, frost->known);
	say_table(printer, night, almanac);
	say_needs(printer, frost->needs, almanac);
	if (frost->observed == NULL) {
		say_line(printer, "    observed: nothing is logged");
		return;
	}
	say_wrapped(printer, "    ", "observed on %s: %s",
		date_format_plain(frost->observed_day.value, when, sizeof when), frost->observed);
}

static void say_frosts(const struct printer *printer, const struct weather_trees *trees,
	const struct almanac *almanac)
{
	say_line(printer, "frost nights while buds, flowers or small fruit stood open to it");
	for (int32_t i = 0; i < trees->frost_count && i < FROSTS_SAID; i++)
		say_frost(printer, &trees->frosts[i], almanac);
	if (trees->frost_count > FROSTS_SAID)
		say_line(printer, "  and %d more: boughbook weather show frost --format csv",
			trees->frost_count - FROSTS_SAID);
	if (trees->frost_count == 0)
		say_line(printer, "  none that is known");
	if (trees->untold > 0)
		say_wrapped(printer, "  ",
			"in %d cases (a tree in a frost night) no stage is known that a table "
			"speaks of: log stages, or it was at rest",
			trees->untold);
	if (trees->frost_count > 0)
		say_wrapped(printer, "  ",
			"a frost that lasts longer does more, a brief one less; loss of flowers "
			"is not loss of crop");
}

enum status print_weather_trees(const struct printer *printer, const struct weather_trees *trees,
	enum weather_part part, struct yard *yard, struct fault *why)
{
	const struct almanac *almanac = yard_almanac(yard);

	if (printer->format != FORMAT_TEXT)
		return part == WEATHER_FROST ? rows_of_frost(printer, trees, almanac, why)
					     : rows_of_harvest(printer, trees, almanac, why);
	if (part != WEATHER_FROST)
		say_harvests(printer, trees, almanac);
	if (part != WEATHER_HARVEST)
		say_frosts(printer, trees, almanac);
	return say_end(printer, why);
}
