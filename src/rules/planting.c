/* SPDX-License-Identifier: MIT */
/* Rules about how and where a tree was set: too deep, too near to another. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "look.h"

/* --- planted-deep --- */

/* A tree that stood deep and lives on has made its peace with it (common practice). */
enum { DEEP_YEARS = 3 };

static const char *const union_buried =
	"union buried|buried union|graft buried|buried graft|graft union buried|union below|"
	"graft below|union in below|union inch below|union inches below|union cm below|"
	"graft in below|graft cm below|union just below|union a little below|union slightly below|"
	"union is below|union sits below|union just under|union a little under|union slightly "
	"under|"
	"union is under|union sits under|union is buried|graft is buried|flare is buried|union "
	"under|graft under|flare buried|buried flare|no "
	"flare|no root flare|"
	"planted deep|planted too deep|sits too deep|set too deep|stands too deep|planted too low";
static const char *const set_deep = "deep|too deep|deeply|too low";
static const char *const not_deep = "not deep|not too deep|not buried|not below|mulch|mulched";
static const char *const drawn_back =
	"soil drawn back|drew soil back|drew the soil back|soil pulled back|pulled soil back|"
	"pulled the soil back|soil back|dug out|raised|lifted|replanted|union clear|union free|"
	"union bare|union above|flare clear|flare free|flare bare|flare showing";

/* The union at or below the soil, by figure. */
static bool is_union_low(const struct entry *entry)
{
	const struct amount *at = entry_amount(entry, FIELD_UNION);

	return at != NULL && at->high.known && at->high.value <= 0;
}

static bool says_deep(const struct entry *entry)
{
	if (is_union_low(entry))
		return true;
	if (look_tells(entry, not_deep))
		return false;
	if (entry->kind == KIND_PLANT)
		return look_tells(entry, set_deep) || look_tells(entry, union_buried);
	return (entry->kind == KIND_SAW || entry->kind == KIND_NOTE) &&
	       look_tells(entry, union_buried);
}

static bool says_mended(const struct entry *entry)
{
	if (entry_amount(entry, FIELD_UNION) != NULL)
		return !is_union_low(entry);
	return entry->kind == KIND_MOVE || ((entry->kind == KIND_SAW || entry->kind == KIND_NOTE) &&
						   look_tells(entry, drawn_back));
}

/* The newest word that it stands deep, where nothing since says that it was mended. */
static const struct entry *deep_entry(const struct dossier *dossier)
{
	const struct entry *deep = NULL;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (strcmp(entry->subject.id, dossier->tree.id) != 0 || !look_day(entry, &day))
			continue;
		if (says_deep(entry))
			deep = entry;
		else if (says_mended(entry))
			deep = NULL;
	}
	return deep;
}

/* " The union belongs 2 in to 3 in above the soil; others say ..." of the rows with figures. */
static void say_heights(const struct dossier *dossier, char *out, size_t size)
{
	const struct species *species = dossier->kind.species;
	struct text_builder text = text_builder_fixed(out, size);
	char low[32], high[32];
	int32_t said = 0;

	text_add(&text, "");
	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (strcmp(row->key, "union-height") != 0 || !row->low.known || !row->high.known)
			continue;
		text_add_format(&text, "%s%s to %s%s",
			said == 0 ? " The union belongs " : "; others say ",
			length_format(row->low.value, dossier->place->units, low, sizeof low),
			length_format(row->high.value, dossier->place->units, high, sizeof high),
			said == 0 ? " above the soil" : "");
		said++;
	}
	if (said > 0)
		text_add(&text, ".");
}

static struct maybe_date set_on(const struct dossier *dossier, const struct entry *deep)
{
	struct date day;

	if (deep->kind == KIND_PLANT && look_day(deep, &day))
		return known_date(day);
	if (date_span_is_exact(&dossier->tree.planted))
		return dossier->tree.planted.low;
	return (struct maybe_date){.known = false};
}

/* "2 cm below the soil", as measured; else that it stands deep. */
static void say_how_deep(
	const struct dossier *dossier, const struct entry *deep, char *out, size_t size)
{
	const struct amount *at = entry_amount(deep, FIELD_UNION);
	char depth[32];

	if (at == NULL || at->low.value == 0)
		text_copy(out, size, at == NULL ? "It stands deep" : "The union is at the soil");
	else
		snprintf(out, size, "The union is %s below the soil",
			length_format(-at->low.value, dossier->place->units, depth, sizeof depth));
}

/* When a tree may be lifted: the three months of winter are ours. */
static const char *lift_when(const struct dossier *dossier)
{
	if (dossier->kind.species->evergreen)
		return "before spring growth";
	if (!window_place_has_dates(dossier->place))
		return "while it is dormant";
	return dossier->place->hemisphere == HEMISPHERE_SOUTH
		       ? "while it is dormant, June to August"
		       : "while it is dormant, December to February";
}

static void say_what_to_do(const struct dossier *dossier, bool fresh, struct flag *flag)
{
	look_say(&flag->action,
		"%s draw the soil back to the first roots, cut roots above the union, and lift it "
		"only %s.",
		fresh ? "Ease it up now while it is loose, with a fork under the roots, never by "
			"the stem; or"
		      : "Do not tug it up: growers find that a pull works only in the first month "
			"or two. Look where the first roots are,",
		lift_when(dossier));
}

static void flag_deep(const struct dossier *dossier, const struct entry *deep,
	const struct fact_row *row, struct date today, struct flags *out)
{
	struct maybe_date planted = set_on(dossier, deep);
	enum urgency urgency = URGENCY_NOTE;
	char when[80], heights[160], depth[80];
	struct date day = {0};

	(void)look_day(deep, &day);
	if (planted.known) {
		urgency = look_harm_urgency(planted.value, today, row->sure);
		flags_change_on(out, today, date_add_days(planted.value, ACT_DAYS + 1));
	}
	struct flag *flag = flags_add(out, "planted-deep", dossier, urgency);
	say_heights(dossier, heights, sizeof heights);
	say_how_deep(dossier, deep, depth, sizeof depth);
	look_say(&flag->says,
		"%s, as of %s. Bark under soil rots, and above a buried union the top can root: "
		"then a dwarfing stock is lost.%s",
		depth, date_span_format_plain(&deep->day, when, sizeof when), heights);
	say_what_to_do(dossier, urgency == URGENCY_ACT, flag);
	flag->began = known_date(day);
	flag->source = row->source;
	flag->settles = KIND_NOTE;
	snprintf(flag->fills, sizeof flag->fills, "%s note soil drawn back ", dossier->tree.label);
	proof_entry(out, flag, "", deep);
	flag_key_set(flag, 0, deep->id);
}

void rule_planted_deep(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	struct date day;

	if (species == NULL || dossier->host != NULL)
		return;
	const struct fact_row *row = species_fact(species, "union-height");
	const struct fact_row *deeper = species_fact(species, "planting-depth");
	if (row == NULL ||
		(deeper != NULL && deeper->low.known)) /* the fig is set deep on purpose */
		return;
	const struct entry *deep = deep_entry(dossier);
	if (deep == NULL || !look_day(deep, &day))
		return;
	struct date end = look_years_after(day, DEEP_YEARS);
	flags_change_on(out, today, end);
	if (date_compare(today, end) < 0)
		flag_deep(dossier, deep, row, today, out);
}

/* --- too-close: while the younger of the two can still be moved --- */

enum { MOVABLE_YEARS = 3 };

/* The nearest spacing that any source gives for the kind. */
static const struct fact_row *least_spacing(const struct species *species)
{
	const struct fact_row *least = NULL;

	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (strcmp(row->key, "spacing") == 0 && row->low.known &&
			(least == NULL || row->low.value < least->low.value))
			least = row;
	}
	return least;
}

/* Planted later; of one day, the one whose label comes later. */
static bool is_younger(const struct dossier *dossier, const struct neighbour *other)
{
	int order = 1;

	if (other->planted.low.known)
		order = date_compare(dossier->tree.planted.low.value, other->planted.low.value);
	if (order == 0)
		order = text_compare_natural(dossier->tree.label, other->label);
	return order > 0;
}

struct near {
	const struct neighbour *nearest;
	int64_t distance_um;
	int32_t count;
	const struct fact_row *spacing; /* of the kind that wants less */
};

/* Most of a large yard stands further off, to be seen without reckoning. */
static bool is_far_east(
	const struct dossier *dossier, const struct neighbour *other, int64_t spacing_um)
{
	if (!dossier->spot->east_um.known || !other->east_um.known)
		return false;
	int64_t east_um = other->east_um.value - dossier->spot->east_um.value;
	return east_um >= spacing_um || east_um <= -spacing_um;
}

static void look_at_neighbour(const struct dossier *dossier, const struct fact_row *own,
	const struct neighbour *other, struct near *near)
{
	const struct fact_row *spacing = own;
	if (is_far_east(dossier, other, own->low.value))
		return;
	struct maybe_i64 distance = dossier_distance(dossier, other);

	if (other->host_id[0] != '\0' || strcmp(other->tree_id, dossier->tree.id) == 0 ||
		!distance.known || !is_younger(dossier, other))
		return;
	if (other->kind.species != NULL) {
		const struct fact_row *theirs = least_spacing(other->kind.species);

		if (theirs != NULL && theirs->low.value < own->low.value)
			spacing = theirs;
	}
	if (distance.value >= spacing->low.value)
		return;
	if (near->count++ > 0 && distance.value >= near->distance_um)
		return;
	near->nearest = other;
	near->distance_um = distance.value;
	near->spacing = spacing;
}

/* How many trees stand in its spot, itself among them. */
static int32_t trees_in_hole(const struct dossier *dossier)
{
	int32_t trees = 1;

	for (int32_t i = 0; i < dossier->neighbour_count; i++) {
		const struct neighbour *other = &dossier->neighbours[i];

		trees += other->host_id[0] == '\0' &&
			 strcmp(other->tree_id, dossier->tree.id) != 0 &&
			 strcmp(other->spot_id, dossier->spot->id) == 0;
	}
	return trees;
}

/* What is published against several trees in one hole, and for it. */
static void say_one_hole(const struct dossier *dossier, struct flags *out, struct flag *flag)
{
	const double m2_in_sq_ft = 0.09290304;
	const struct fact_row *wants = species_fact(dossier->kind.species, "one-hole");
	const struct fact_row *works = species_fact(dossier->kind.species, "one-hole-works");
	struct text_builder action = text_builder_fixed(flag->action, sizeof flag->action);
	int32_t trees = trees_in_hole(dossier);

	if (trees < 2 || wants == NULL || works == NULL)
		return;
	text_add(&action, "Research spacings come to about ");
	if (dossier->place->units == UNITS_US)
		text_add_format(&action, "%d sq ft a tree, %d for %d", (int)wants->low.value,
			(int)wants->low.value * trees, trees);
	else
		text_add_format(&action, "%.1f m2 a tree, %.0f for %d",
			(double)wants->low.value * m2_in_sq_ft,
			(double)wants->low.value * m2_in_sq_ft * trees, trees);
	text_add_format(&action, "; %s. ", works->text);
	flag_evidence(out, flag, "%s", wants->said_by->title);
	flag_evidence(out, flag, "%s", works->said_by->title);
}

static void flag_near(const struct dossier *dossier, const struct near *near, struct flags *out)
{
	struct flag *flag = flags_add(out, "too-close", dossier, URGENCY_NOTE);
	enum unit_system units = dossier->place->units;
	char apart[32], wants[32], more[48] = "";

	length_format(near->distance_um, units, apart, sizeof apart);
	length_format(near->spacing->low.value, units, wants, sizeof wants);
	if (near->count > 1)
		snprintf(more, sizeof more, " (%d trees are nearer than that)", near->count);
	text_copy(flag->fact, sizeof flag->fact, "spacing");
	if (near->distance_um == 0)
		look_say(&flag->says,
			"It shares a hole with %s; trees of these kinds are set %s apart at "
			"least%s.",
			near->nearest->label, wants, more);
	else
		look_say(&flag->says,
			"%s from %s; trees of these kinds are set %s apart at least%s.", apart,
			near->nearest->label, wants, more);
	say_one_hole(dossier, out, flag);
	char published[FLAG_SAYS_SIZE];
	text_copy(published, sizeof published, flag->action);
	look_say(&flag->action,
		"%sIf it was meant so, set this aside: keep each to its own side and count on less "
		"from each. If not, it moves easily while young and at rest.",
		published);
	flag->source = near->spacing->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac, by where the spots lie");
	flag->settles = KIND_MOVE;
	snprintf(flag->fills, sizeof flag->fills, "%s moved to ", dossier->tree.label);
	flag_evidence(out, flag, "told while it was planted less than %d years ago", MOVABLE_YEARS);
	flag_key_set(flag, 0, near->nearest->tree_id);
}

void rule_too_close(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	struct near near = {.count = 0};

	if (species == NULL || dossier->host != NULL || dossier->spot == NULL ||
		dossier->spot->kind != SPOT_HOLE || !dossier->tree.planted.low.known)
		return;
	struct date end = look_years_after(dossier->tree.planted.low.value, MOVABLE_YEARS);
	flags_change_on(out, today, end);
	const struct fact_row *own = least_spacing(species);
	if (own == NULL || date_compare(today, end) >= 0 || !look_has_neighbours(dossier, out))
		return;
	for (int32_t i = 0; i < dossier->neighbour_count; i++)
		look_at_neighbour(dossier, own, &dossier->neighbours[i], &near);
	if (near.count > 0)
		flag_near(dossier, &near, out);
}
