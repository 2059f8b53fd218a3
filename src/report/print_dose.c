/* SPDX-License-Identifier: MIT */
/* Doses: every rule that fits, with its inputs, unit, region and period. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/dose.h"
#include "report/rows.h"
#include "rules/given.h"

enum { MEASURED_LATELY_DAYS = 183, POUND_MG = 453592, HALF_KG_MG = 500000 };

static const char *const dose_keys[] = {"tree", "rule", "product", "trunk_mm", "product_g", "n_g",
	"capped_by", "per", "source", NULL};

static const char *const period_keys[] = {
	[PERIOD_UNSTATED] = "unstated",
	[PERIOD_FEED] = "feed",
	[PERIOD_YEAR] = "year",
};

static const char *source_of(const struct dose *dose, const struct almanac *almanac)
{
	return dose->row != NULL ? source_title(almanac, dose->row->source) : "set by hand here";
}

static enum status dose_table(const struct printer *printer, const struct dossier *dossier,
	const struct product *product, const struct dose *doses, int32_t count,
	const struct almanac *almanac, struct fault *why)
{
	struct rows rows = rows_begin(printer, dose_keys);

	for (int32_t i = 0; i < count; i++) {
		const struct dose *dose = &doses[i];

		rows_text(&rows, dossier->tree.label);
		rows_text(&rows, dose->rule);
		rows_text(&rows, product != NULL ? product->name : NULL);
		rows_i64(&rows, (struct maybe_i64){
					dossier->trunk.diameter_um / 1000, dossier->trunk.known});
		rows_grams(&rows, dose->product_mg);
		rows_grams(&rows, dose->nitrogen_mg);
		rows_text(&rows, dose->capped ? source_title(almanac, dose->capped_by) : NULL);
		rows_text(&rows, period_keys[dose->period]);
		rows_text(&rows, source_of(dose, almanac));
	}
	return rows_end(&rows, why);
}

/* Where it was not measured this year: what its own growth makes of it by now. */
static void say_grown(
	const struct printer *printer, const struct dossier *dossier, struct date today)
{
	char now[32], least[32], most[32], growth_words[32];
	struct trunk_carried carried;
	struct arena *arena = arena_new();
	const struct trunk_growth growth = trunk_growth(
		dossier->readings, dossier->reading_count, dossier->trunk.stems, today, arena);
	arena_free(arena);
	if (date_days_between(dossier->trunk.day, today) < MEASURED_LATELY_DAYS ||
		!trunk_carry(&dossier->trunk, &growth, today, &carried))
		return;
	say_wrapped(printer, "  ",
		"by its own growth about %s by now (%s to %s: %s a year, measured %d times); the "
		"rates below go by what was measured",
		length_format(carried.diameter_um, printer->units, now, sizeof now),
		length_format(carried.least_um, printer->units, least, sizeof least),
		length_format(carried.most_um, printer->units, most, sizeof most),
		length_format(round_i64(growth.um_a_year), printer->units, growth_words,
			sizeof growth_words),
		growth.days);
}

static void say_given(
	const struct printer *printer, const struct dossier *dossier, struct date today)
{
	char sum[32], more[64] = "", when[24];
	const struct feeds_given given = feeds_given(dossier, today);

	if (given.last == NULL)
		return;
	if (given.unknown > 0)
		snprintf(more, sizeof more, ", %d more whose nitrogen is not known", given.unknown);
	say_wrapped(printer, "  ", "given this season: %s actual N in %d feed%s%s; the last on %s",
		mass_format(given.nitrogen_mg, printer->units, sum, sizeof sum), given.known,
		given.known == 1 ? "" : "s", more, date_format_plain(given.day, when, sizeof when));
}

/* A pound (half a kilogram) of actual N in each product of the shed: what stands for what. */
static void say_equal(
	const struct printer *printer, const struct dossier *dossier, const struct product *product)
{
	const int64_t whole_mg = printer->units == UNITS_US ? POUND_MG : HALF_KG_MG;
	char whole[32], mass[32];
	struct arena *arena = arena_new();
	struct text_builder words = text_builder_in(arena);
	int32_t said = 0;

	for (int32_t i = 0; i < dossier->product_count; i++) {
		const struct product *one = &dossier->products[i];
		int64_t product_mg = 0;

		if (!one->n_mpct.known || dose_product_mg(whole_mg, one->n_mpct.value, &product_mg,
						  NULL) != STATUS_OK)
			continue;
		text_add_format(&words, "%s%s of %s", said++ > 0 ? " = " : "",
			mass_format(product_mg, printer->units, mass, sizeof mass), one->name);
		if (one->bag_mg.known && one->bag_mg.value > 0)
			text_add_format(&words, " (%.2g of a bag)",
				(double)product_mg / (double)one->bag_mg.value);
	}
	if (said > 1 || (said == 1 && product == NULL))
		say_wrapped(printer, "  ", "in the shed, for %s actual N: %s",
			mass_format(whole_mg, printer->units, whole, sizeof whole), words.text);
	arena_free(arena);
}

static void say_inputs(const struct printer *printer, const struct dossier *dossier,
	const struct product *product, struct date today)
{
	char across[32], at[32] = "a height not noted", when[24];
	const struct trunk *trunk = &dossier->trunk;

	say_line(printer, "%s, %s", dossier->tree.label, dossier->kind.name);
	if (!trunk->known) {
		say_wrapped(printer, "  ",
			"trunk not measured: log \"%s girth ...\" (a tape round it)",
			dossier->tree.label);
	} else {
		if (trunk->at_height_um.known)
			length_format(trunk->at_height_um.value, printer->units, at, sizeof at);
		say_wrapped(printer, "  ", "trunk %s across (%d stem%s), measured at %s on %s",
			length_format(trunk->diameter_um, printer->units, across, sizeof across),
			trunk->stems, trunk->stems == 1 ? "" : "s", at,
			date_format_plain(trunk->day, when, sizeof when));
		if (trunk->stems > 1)
			say_wrapped(printer, "  ",
				"several stems: the root of the summed squares; another published "
				"way (biggest and half the rest) gives more");
		say_grown(printer, dossier, today);
	}
	if (dossier->age_high_years.known)
		say_line(printer, "  age %d years", dossier->age_high_years.value);
	if (product == NULL)
		say_wrapped(printer, "  ",
			"no product said: nitrogen only (boughbook product add NAME --analysis "
			"10-10-10)");
	else if (!product->n_mpct.known)
		say_line(printer, "  product %s, analysis not known", product->name);
	else
		say_line(printer, "  product %s, %g %% N", product->name,
			product->n_mpct.value / 1000.0);
	say_given(printer, dossier, today);
	say_equal(printer, dossier, product);
}

/* --- what growth says before any figure --- */

enum {
	GROWTH_TOLD_DAYS = 550, /* a shoot length tells of this and last year */
	OLDER_YEARS = 5,        /* of a kind whose older trees are fed by growth alone */
};

static struct maybe_i64 shoot_um(const struct dossier *dossier, struct date today)
{
	struct maybe_i64 growth_um = {0};

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct maybe_date day = date_span_first(&entry->day);

		if (entry->kind != KIND_MEASURE || !day.known ||
			date_days_between(day.value, today) > GROWTH_TOLD_DAYS ||
			date_compare(day.value, today) > 0)
			continue;
		for (int32_t s = 0; s < entry->stem_count; s++)
			if (entry->stems[s].field == FIELD_SHOOT)
				growth_um = known_i64(
					(entry->stems[s].low_um + entry->stems[s].high_um) / 2);
	}
	return growth_um;
}

/* Above this growth a bearing tree of the kind is fed nothing; NULL: no source says. */
static const struct fact_row *growth_limit(const struct species *species)
{
	const struct fact_row *row = NULL;

	if (species == NULL)
		return NULL;
	row = species_fact(species, "growth-no-feed");
	if (row == NULL || !row->high.known)
		row = species_fact(species, "growth-target-bearing");
	return row != NULL && row->high.known ? row : NULL;
}

/* Says that no feed is due, or asks for the shoots. True: no amount is
 * worked out. */
static bool say_growth(const struct printer *printer, const struct dossier *dossier,
	const struct almanac *almanac, struct date today)
{
	const struct fact_row *row = growth_limit(dossier->kind.species);
	struct maybe_i64 growth_um = shoot_um(dossier, today);
	char limit[32], grown[32];

	if (row == NULL)
		return false;
	length_format(row->high.value, printer->units, limit, sizeof limit);
	if (!growth_um.known) {
		say_wrapped(printer, "  ",
			"Shoots of last season not measured: log \"%s shoots ...\" first. Above %s "
			"no feed is due [%s].",
			dossier->tree.label, limit, source_title(almanac, row->source));
		bool older =
			dossier->age_low_years.known && dossier->age_low_years.value >= OLDER_YEARS;
		if (!older || strcmp(row->key, "growth-no-feed") != 0)
			return false;
		say_wrapped(printer, "  ", "No feed for now, and no amount until then.");
		return true;
	}
	if (growth_um.value <= row->high.value)
		return false;
	say_wrapped(printer, "  ",
		"No feed: its shoots grew %s; above %s none is due [%s]. Too much nitrogen makes "
		"leaf in place of flowers: hold off a couple of years and measure again. No amount "
		"is worked out.",
		length_format(growth_um.value, printer->units, grown, sizeof grown), limit,
		source_title(almanac, row->source));
	return true;
}

/* Whose rule it is: the grower's own first, then of the source this place follows, then what was
 * read at its source, for this kind and for any fruit tree, and last what was not. */
enum standing { OF_OWN, OF_CHOSEN, OF_KIND, OF_ALL, OF_HEARSAY };

static const char *const standing_titles[] = {
	[OF_OWN] = "Set by hand here",
	[OF_CHOSEN] = "Of the source this place follows (own choice feed-over)",
	[OF_KIND] = "Published for this kind",
	[OF_ALL] = "Published for any fruit tree",
	[OF_HEARSAY] = "Common practice, or not read at its source",
};

/* The source chosen last among those that have a rule here; NULL: none. */
static const char *chosen_source(
	const struct dossier *dossier, const struct dose *doses, int32_t count)
{
	for (int32_t c = dossier->choice_count; c-- > 0;)
		for (int32_t i = 0; i < count; i++)
			if (strcmp(dossier->choices[c].rule, "feed-over") == 0 &&
				doses[i].row != NULL &&
				strcmp(dossier->choices[c].source, doses[i].row->source) == 0)
				return doses[i].row->source;
	return NULL;
}

static enum standing standing_of(
	const struct dose *dose, const struct almanac *almanac, const char *chosen)
{
	int32_t count = 0;
	const struct feed_row *common = almanac_common_feeds(almanac, &count);

	if (dose->row == NULL)
		return OF_OWN;
	if (chosen != NULL && strcmp(dose->row->source, chosen) == 0)
		return OF_CHOSEN;
	if (dose->row->sure != KNOWN_READ)
		return OF_HEARSAY;
	for (int32_t i = 0; i < count; i++)
		if (strcmp(common[i].rule, dose->rule) == 0)
			return OF_ALL;
	return OF_KIND;
}

/* In order of standing; rules of one standing keep theirs. */
static void sort_doses(struct dose *doses, int32_t count, const struct almanac *almanac,
	const char *chosen, struct arena *arena)
{
	struct dose *sorted = arena_array(arena, (size_t)count + 1, sizeof *sorted);
	int32_t placed = 0;

	for (int standing = OF_OWN; standing <= OF_HEARSAY; standing++)
		for (int32_t i = 0; i < count; i++)
			if (standing_of(&doses[i], almanac, chosen) == (enum standing)standing)
				sorted[placed++] = doses[i];
	for (int32_t i = 0; i < count; i++)
		doses[i] = sorted[i];
}

/* "4 lb 12 oz of product: 1 lb N a year": amount, what it carries, how often. */
static void say_amount(const struct printer *printer, const struct dose *dose)
{
	char text[160] = "", mass[32];
	struct text_builder line = text_builder_fixed(text, sizeof text);

	if (dose->product_mg.known)
		text_add_format(&line, "%s of product, ",
			mass_format(dose->product_mg.value, printer->units, mass, sizeof mass));
	if (dose->nitrogen_mg.known)
		text_add_format(&line, "%s actual N",
			mass_format(dose->nitrogen_mg.value, printer->units, mass, sizeof mass));
	else
		text_add(&line, "its N not known");
	text_add(&line, dose->period == PERIOD_YEAR   ? " a year"
			: dose->period == PERIOD_FEED ? " a feed"
						      : ", how often is not said");
	say_line(printer, "  %s", text);
}

static void say_dose(
	const struct printer *printer, const struct dose *dose, const struct almanac *almanac)
{
	char part[32];
	const char *source = source_of(dose, almanac);
	const char *cap = dose->capped ? source_title(almanac, dose->capped_by) : "";
	bool own_cap = strcmp(cap, source) == 0;

	say_amount(printer, dose);
	say_wrapped(printer, "      ", "%s, %s%s%s%s%s%s%s%s%s%s", dose->rule, dose->region,
		dose->region[0] != '\0' ? ": " : "", source, dose->row != NULL ? " [" : "",
		dose->row != NULL ? dose->row->source : "", dose->row != NULL ? "]" : "",
		dose->capped ? own_cap ? "; at its cap" : "; capped by " : "", own_cap ? "" : cap,
		dose->remark[0] != '\0' ? "; " : "", dose->remark);
	if (dose->splits.known && dose->splits.value > 1 && dose->per_split_mg.known)
		say_line(printer, "      in %d feeds of %s, the last with what remains",
			dose->splits.value,
			mass_format(dose->per_split_mg.value, printer->units, part, sizeof part));
}

/* The lowest and the highest nitrogen a year of published rules: how far they differ, and how to
 * say whose rate counts. */
static void say_clash(
	const struct printer *printer, const struct dose *doses, int32_t count, const char *chosen)
{
	const struct dose *low = NULL, *high = NULL;
	char least[32], most[32];

	for (int32_t i = 0; i < count; i++) {
		const struct dose *dose = &doses[i];

		if (dose->row == NULL || dose->row->sure != KNOWN_READ ||
			dose->period != PERIOD_YEAR || !dose->nitrogen_mg.known)
			continue;
		if (low == NULL || dose->nitrogen_mg.value < low->nitrogen_mg.value)
			low = dose;
		if (high == NULL || dose->nitrogen_mg.value > high->nitrogen_mg.value)
			high = dose;
	}
	if (low == NULL || low->nitrogen_mg.value == high->nitrogen_mg.value)
		return;
	say_wrapped(printer, "",
		"Published rates differ: %s a year of actual N (%s) to %s (%s). %s%s",
		mass_format(low->nitrogen_mg.value, printer->units, least, sizeof least),
		low->region[0] != '\0' ? low->region : low->rule,
		mass_format(high->nitrogen_mg.value, printer->units, most, sizeof most),
		high->region[0] != '\0' ? high->region : high->rule,
		chosen != NULL ? "This place follows "
			       : "To go by one of them: own choice feed-over ",
		chosen != NULL ? chosen : "SOURCE, the word in brackets below.");
	if (chosen != NULL)
		say_wrapped(printer, "",
			"Another: own choice feed-over SOURCE; none: own list, own remove ID.");
}

static void say_doses(const struct printer *printer, const struct dose *doses, int32_t count,
	const struct almanac *almanac, const char *chosen)
{
	int before = -1;

	for (int32_t i = 0; i < count; i++) {
		enum standing standing = standing_of(&doses[i], almanac, chosen);

		if ((int)standing != before)
			say_line(printer, "%s", standing_titles[standing]);
		before = (int)standing;
		say_dose(printer, &doses[i], almanac);
	}
	if (count == 0)
		say_line(printer, "  no rule fits what is known of this tree");
}

static struct maybe_i64 spread_um(const struct dossier *dossier, struct date today)
{
	const struct stem_measure *spread = dossier_spread(dossier, today, NULL);

	return (struct maybe_i64){
		spread != NULL ? (spread->low_um + spread->high_um) / 2 : 0, spread != NULL};
}

/* Ring from a hand's breadth off the trunk to the drip line, where the spread is known. */
static void say_ring(
	const struct printer *printer, const struct dossier *dossier, struct date today)
{
	const struct maybe_i64 spread = spread_um(dossier, today);

	if (!spread.known)
		return;
	double area_m2 = dose_ring_mm2(spread.value / 2, 300000) / 1e6;
	say_wrapped(printer, "  ",
		"spread it over the ring from 1 ft (30 cm) off the trunk to the drip line: %.0f sq "
		"ft (%.1f m2)",
		area_m2 / 0.09290304, area_m2);
}

static int32_t work_out(struct yard *yard, const struct dossier *dossier,
	const struct product *product, struct arena *arena, struct dose **doses)
{
	int32_t common_count = 0;
	const struct feed_row *common = almanac_common_feeds(yard_almanac(yard), &common_count);
	struct dose_inputs inputs = {.species = dossier->kind.species,
		.common = common,
		.common_count = common_count,
		.trunk = dossier->trunk,
		.age_years = dossier->age_low_years,
		.spread_um = spread_um(dossier, yard_today(yard)),
		.product = product,
		.rates = dossier->own_rates,
		.rate_count = dossier->own_rate_count,
		.tree_id = dossier->tree.id,
		.units = yard_place(yard)->units};

	return dose_rows(&inputs, arena, doses);
}

enum status print_dose(const struct printer *printer, struct yard *yard, const char *tree_id,
	const struct product *product, struct fault *why)
{
	const struct dossier *dossier = NULL;
	struct dose *doses = NULL;
	const struct almanac *almanac = yard_almanac(yard);
	enum status status = yard_dossier(yard, tree_id, &dossier, why);

	if (status != STATUS_OK)
		return status;
	if (dossier->host != NULL)
		return fault_set(why, STATUS_RANGE,
			"%s is a graft: its roots and trunk are those of %s, ask the dose of that",
			dossier->tree.label, dossier->host->tree.label);
	struct arena *arena = arena_new();
	int32_t count = work_out(yard, dossier, product, arena, &doses);
	const char *chosen = chosen_source(dossier, doses, count);
	sort_doses(doses, count, almanac, chosen, arena);
	if (printer->format != FORMAT_TEXT) {
		status = dose_table(printer, dossier, product, doses, count, almanac, why);
		arena_free(arena);
		return status;
	}
	say_inputs(printer, dossier, product, yard_today(yard));
	if (dossier->trunk.known && trunk_in_doubt(&dossier->trunk, dossier->age_high_years))
		say_wrapped(printer, "  ",
			"Is that a girth, or the diameter? It is thick for its age: mend the entry "
			"with \"girth\" or \"across\" and ask again. No dose by the inch until "
			"then.");
	if (!say_growth(printer, dossier, almanac, yard_today(yard))) {
		say_clash(printer, doses, count, chosen);
		say_doses(printer, doses, count, almanac, chosen);
		say_ring(printer, dossier, yard_today(yard));
	}
	say_wrapped(printer, "",
		"Guidance, not an order: the product's label and local rules come first; feed only "
		"what growth asks for.");
	arena_free(arena);
	return say_end(printer, why);
}
