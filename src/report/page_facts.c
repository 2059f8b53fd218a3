/* SPDX-License-Identifier: MIT */
/* The facts of a kind on its page of the almanac, each below the part it belongs to. Facts of one
 * key stand together; coefficients and temperatures that belong together stand in one line. */
#include "page.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum { OUNCE_MG = 28350 };
enum { FIGURE_SIZE = 48, FIGURES_SIZE = 112, KEY_WORDS_SIZE = 64, KEY_LENGTH_MAX = 60 };

/* Which part a fact belongs to, by the start of its key; the longest start that fits wins. */
/* clang-format off */
static const struct {
	const char *start;
	enum page_part part;
} HOMES[] = {
	{"alternate",         PART_CROP},
	{"bearing-",          PART_CROP},
	{"black-knot",        PART_PESTS},
	{"blight",            PART_PESTS},
	{"blind-wood",        PART_CUTS},
	{"buds-needed",       PART_COLD},
	{"canker",            PART_PESTS},
	{"cap-live-crown",    PART_CUTS},
	{"caution-",          PART_PEOPLE},
	{"chill-",            PART_COLD},
	{"cold-",             PART_COLD},
	{"cold-after-cut",    PART_CUTS},
	{"container",         PART_TREE},
	{"crop-load",         PART_CROP},
	{"cut-",              PART_CUTS},
	{"days-",             PART_CROP},
	{"depletion",         PART_WATER},
	{"dry-weeks-",        PART_CUTS},
	{"eutypa-",           PART_PESTS},
	{"feed-",             PART_FEEDING},
	{"flower-kinds",      PART_POLLINATION},
	{"flowers-per-",      PART_CROP},
	{"frost",             PART_COLD},
	{"frost-wait",        PART_CUTS},
	{"fruit-",            PART_CROP},
	{"fruit-fly",         PART_PESTS},
	{"gall-wasp",         PART_PESTS},
	{"gathered-",         PART_CROP},
	{"graft-",            PART_TREE},
	{"growth-",           PART_FEEDING},
	{"hardy",             PART_COLD},
	{"harvest-",          PART_CROP},
	{"heading-costs",     PART_CUTS},
	{"heat",              PART_COLD},
	{"heat-bloom-to-",    PART_CROP},
	{"heat-hours-",       PART_CROP},
	{"height",            PART_TREE},
	{"height-years",      PART_CUTS},
	{"husk-fly",          PART_PESTS},
	{"infection-",        PART_PESTS},
	{"initiation-",       PART_CROP},
	{"kc",                PART_WATER},
	{"kill-",             PART_COLD},
	{"knot",              PART_PESTS},
	{"leaf-curl",         PART_PESTS},
	{"leaf-nitrogen",     PART_FEEDING},
	{"leave-after-",      PART_CUTS},
	{"life",              PART_TREE},
	{"manure-",           PART_FEEDING},
	{"maturity-",         PART_CROP},
	{"mulch",             PART_WATER},
	{"mummies",           PART_PESTS},
	{"natural-drop",      PART_CROP},
	{"orchard-soil",      PART_PEOPLE},
	{"paint",             PART_CUTS},
	{"partner-",          PART_POLLINATION},
	{"planting",          PART_TREE},
	{"pollination",       PART_POLLINATION},
	{"popcorn",           PART_PESTS},
	{"pot-",              PART_TREE},
	{"propagation",       PART_TREE},
	{"prune-",            PART_CUTS},
	{"renovation-",       PART_CUTS},
	{"replant",           PART_TREE},
	{"report",            PART_PEOPLE},
	{"ripeness",          PART_CROP},
	{"ripening",          PART_CROP},
	{"root",              PART_TREE},
	{"root-depth",        PART_WATER},
	{"root-rot",          PART_PESTS},
	{"seed-",             PART_TREE},
	{"set-",              PART_POLLINATION},
	{"side-bud-",         PART_CROP},
	{"silver-leaf",       PART_PESTS},
	{"site",              PART_TREE},
	{"skirts",            PART_CUTS},
	{"soil",              PART_TREE},
	{"spacing",           PART_TREE},
	{"spread",            PART_TREE},
	{"spur",              PART_CROP},
	{"spur-renewal",      PART_CUTS},
	{"store",             PART_CROP},
	{"suckers",           PART_CUTS},
	{"thinning",          PART_CROP},
	{"tip-bearers",       PART_CUTS},
	{"tools",             PART_CUTS},
	{"trunk-cut-collar",  PART_CUTS},
	{"union-height",      PART_TREE},
	{"unripe-drop",       PART_CROP},
	{"water",             PART_WATER},
	{"weevil",            PART_PESTS},
	{"winter-cut-",       PART_CUTS},
	{"wood",              PART_TREE},
	{"worms",             PART_PESTS},
	{"years-to-crop",     PART_CROP},
	{"yield-",            PART_CROP},
	{"young-fruit-off",   PART_CROP},
	{"zone",              PART_COLD},
};

/* What a key is called where its own words would not do. */
static const struct {
	const char *key;
	const char *label;
} LABELS[] = {
	{"alternate",             "bears every other year"},
	{"alternate-index",       "swing of the crop"},
	{"buds-needed",           "live buds needed for a crop"},
	{"cap-live-crown",        "most of the crown to cut"},
	{"cold-after-cut",        "cold borne less after a cut"},
	{"container-minimum",     "pot, at least"},
	{"crop-load",             "fruit for the trunk"},
	{"cut-cold-limit",        "too cold to cut below"},
	{"cut-share",             "share to cut"},
	{"days-bloom-to-harvest", "days from bloom to harvest"},
	{"depletion",             "water the soil may lose"},
	{"frost-old-standard",    "older frost table"},
	{"frost-stand-in",        "frost table"},
	{"frost-wait",            "frosted wood"},
	{"frost-wait-month",      "frosted wood, cut back in"},
	{"graft-check",           "look at a graft after"},
	{"growth-feed-below",     "feed where shoots grew under"},
	{"growth-target-bearing", "new shoots wanted, bearing"},
	{"growth-target-young",   "new shoots wanted, not bearing yet"},
	{"harvest-how",           "how to pick"},
	{"harvest-main-opens",    "the main crop opens in"},
	{"heat-bloom-to-harvest", "warmth from bloom to harvest"},
	{"heat-hours-bloom-to-harvest", "warmth from bloom to ripe"},
	{"height-years",          "years to lower a tree"},
	{"kc-mid-newer",          "crop coefficient, newer, at the season's height"},
	{"kc-note",               "crop coefficient"},
	{"kc-stages",             "crop coefficient, days"},
	{"kc-field",              "crop coefficient, measured"},
	{"kc-stand-in",           "crop coefficient"},
	{"life",                  "years it bears"},
	{"maturity-starch",       "ripeness by starch"},
	{"maturity-pressure",     "ripeness by pressure"},
	{"maturity-holds",        "holds ripe on the tree"},
	{"manure-days-tree",      "raw manure before picking"},
	{"manure-days-ground",    "raw manure before gathering"},
	{"mulch-gap",             "mulch off the trunk"},
	{"natural-drop",          "fruit it drops itself"},
	{"feed-wait",             "wait after planting"},
	{"pot-years",             "years in one pot"},
	{"renovation-years",      "years to bring back an old tree"},
	{"replant",               "same kind in the same place"},
	{"rootstock-dwarf",       "dwarfing rootstocks"},
	{"store",                 "keeping"},
	{"trunk-cut-collar",      "where to cut"},
	{"yield-low-share",       "a low crop is said from"},
	{"young-fruit-off",       "no fruit in the first years"},
	{"zone",                  "hardiness"},
};
/* clang-format on */

enum {
	HOME_COUNT = sizeof HOMES / sizeof HOMES[0],
	LABEL_COUNT = sizeof LABELS / sizeof LABELS[0],
};

/* What is listed nowhere is of the tree. */
static enum page_part home_of(const char *key)
{
	enum page_part part = PART_TREE;
	size_t longest = 0;

	for (int32_t i = 0; i < HOME_COUNT; i++) {
		size_t length = strlen(HOMES[i].start);
		if (length > longest && strncmp(HOMES[i].start, key, length) == 0) {
			part = HOMES[i].part;
			longest = length;
		}
	}
	return part;
}

/* "years to crop": the key in words, without what its part says already. */
static const char *label_of(const char *key, char out[KEY_WORDS_SIZE])
{
	for (int32_t i = 0; i < LABEL_COUNT; i++)
		if (strcmp(LABELS[i].key, key) == 0)
			return LABELS[i].label;
	static const char *const said[] = {"caution-", "kill-10-", "kill-90-", "kill-half-"};
	for (size_t i = 0; i < sizeof said / sizeof said[0]; i++)
		if (strncmp(key, said[i], strlen(said[i])) == 0)
			key += strlen(said[i]);
	bool days = strncmp(key, "days-", 5) == 0; /* of a cultivar */
	snprintf(
		out, KEY_WORDS_SIZE, "%s%s", days ? "days from bloom, " : "", days ? key + 5 : key);
	for (char *at = out; *at != '\0'; at++)
		if (*at == '-')
			*at = ' ';
	return out;
}

/* --- figures --- */

/* With --units and no log the rules of numbers know of no units. */
static const char *say_volume(const struct printer *printer, int64_t value, char *out, int size)
{
	struct number_rules rules = printer->numbers;

	rules.units = printer->units;
	return volume_format(value, &rules, out, size);
}

/* One figure of a fact in the units of display; its unit stands behind a blank. */
static const char *say_figure(
	const struct page *page, int64_t value, const char *unit, char *out, int size)
{
	const struct printer *printer = page->printer;

	if (strcmp(unit, "mg") == 0) /* a nut of 0.1 oz would say nothing */
		return mass_format(
			value, value < OUNCE_MG ? UNITS_UNSET : printer->units, out, size);
	if (strcmp(unit, "um") == 0)
		return length_format(value, printer->units, out, size);
	if (strcmp(unit, "ul") == 0)
		return say_volume(printer, value, out, size);
	if (strcmp(unit, "decic") == 0)
		return temperature_format((int32_t)value, printer->units, out, size);
	if (strcmp(unit, "month") == 0)
		snprintf(
			out, (size_t)size, "%s", date_month_name(page_month(page, (int32_t)value)));
	else if (strcmp(unit, "coefficient") == 0)
		snprintf(out, (size_t)size, "%.2f", (double)value / 1000.0);
	else if (strncmp(unit, "permille", 8) == 0)
		snprintf(out, (size_t)size, "%g %%%s%s", (double)value / 10.0,
			unit[8] != '\0' ? " of" : "", unit + 8);
	else if (strcmp(unit, "USDA zone") == 0)
		snprintf(out, (size_t)size, "%lld", (long long)value);
	else
		snprintf(out, (size_t)size, "%lld%s%s", (long long)value, unit[0] ? " " : "", unit);
	return out;
}

/* Takes "years" from "3 years" before "5 years"; "3 lb" stays before "5 lb 4 oz". */
static void drop_shared_unit(char *low, const char *high)
{
	char *unit = strchr(low, ' ');
	const char *other = strchr(high, ' ');

	if (unit == NULL || other == NULL || strcmp(unit, other) != 0)
		return;
	for (const char *at = unit; (at = strchr(at, ' ')) != NULL; at++)
		if (at[1] >= '0' && at[1] <= '9')
			return;
	*unit = '\0';
}

/* "3 to 5 years", "up to 25 %", "from 40 lb", or nothing. */
static void say_figures(const struct page *page, const struct fact_row *row, char *out, size_t size)
{
	char low[FIGURE_SIZE] = "", high[FIGURE_SIZE] = "";
	bool coefficient = strncmp(row->key, "kc", 2) == 0 && strcmp(row->unit, "permille") == 0;
	const char *unit = coefficient ? "coefficient" : row->unit;
	const char *before = strcmp(row->unit, "USDA zone") == 0 ? "USDA zone " : "";

	out[0] = '\0';
	if (row->low.known)
		say_figure(page, row->low.value, unit, low, sizeof low);
	if (row->high.known)
		say_figure(page, row->high.value, unit, high, sizeof high);
	if (row->low.known && row->high.known && row->low.value != row->high.value) {
		drop_shared_unit(low, high);
		snprintf(out, size, "%s%s to %s", before, low, high);
	} else if (row->low.known) {
		snprintf(out, size, "%s%s%s", before, row->high.known ? "" : "from ", low);
	} else if (row->high.known) {
		snprintf(out, size, "%sup to %s", before, high);
	}
}

static void say_fact(struct page *page, const struct fact_row *row)
{
	char figures[FIGURES_SIZE], label[KEY_WORDS_SIZE], source[PAGE_SOURCE_SIZE];

	say_figures(page, row, figures, sizeof figures);
	say_wrapped(page->printer, "  - ", "%s: %s%s%s%s", label_of(row->key, label), figures,
		figures[0] != '\0' && row->text[0] != '\0' ? "; " : "", row->text,
		page_source(page, row->source, row->sure, source));
}

/* --- facts that stand in one line --- */

/* The fact whose key is start, then end, from the same source; NULL: none. */
static const struct fact_row *fact_beside(
	const struct page *page, const struct fact_row *row, const char *start, const char *end)
{
	char key[KEY_LENGTH_MAX + 4];

	snprintf(key, sizeof key, "%s%s", start, end);
	for (int32_t i = 0; i < page->species->fact_count; i++) {
		const struct fact_row *other = &page->species->facts[i];
		if (strcmp(other->key, key) == 0 && strcmp(other->source, row->source) == 0)
			return other;
	}
	return NULL;
}

/* "bare ground, killing frosts" of "-bare-frost". */
static const char *kc_ground(const char *end, char out[KEY_WORDS_SIZE])
{
	static const struct {
		const char *end, *words;
	} grounds[] = {{"", ""}, {"-bare", ", bare ground"},
		{"-bare-frost", ", bare ground, winter frosts"},
		{"-bare-no-frost", ", bare ground, no frosts"},
		{"-cover-frost", ", ground cover, winter frosts"},
		{"-cover-no-frost", ", ground cover, no frosts"}};

	for (size_t i = 0; i < sizeof grounds / sizeof grounds[0]; i++)
		if (strcmp(grounds[i].end, end) == 0)
			return grounds[i].words;
	snprintf(out, KEY_WORDS_SIZE, ", %s, crown over %s %% of it",
		strncmp(end, "-bare", 5) == 0 ? "bare ground" : "ground cover",
		strrchr(end, '-') + 1);
	return out;
}

/* The three coefficients of a season, at the first of them. */
static bool say_coefficients(struct page *page, const struct fact_row *row)
{
	if (strncmp(row->key, "kc-ini", 6) != 0)
		return strncmp(row->key, "kc-mid", 6) == 0
			       ? fact_beside(page, row, "kc-ini", row->key + 6) != NULL
			       : strncmp(row->key, "kc-end", 6) == 0 &&
					 fact_beside(page, row, "kc-ini", row->key + 6) != NULL;
	const struct fact_row *middle = fact_beside(page, row, "kc-mid", row->key + 6);
	const struct fact_row *end = fact_beside(page, row, "kc-end", row->key + 6);
	if (middle == NULL || end == NULL)
		return false;
	char ground[KEY_WORDS_SIZE], source[PAGE_SOURCE_SIZE];
	say_wrapped(page->printer, "  - ",
		"crop coefficient%s: %.2f at the start of the season, %.2f at its height, %.2f at "
		"its end%s%s%s",
		kc_ground(row->key + 6, ground), (double)row->low.value / 1000.0,
		(double)middle->low.value / 1000.0, (double)end->low.value / 1000.0,
		row->text[0] != '\0' ? "; " : "", row->text,
		page_source(page, row->source, row->sure, source));
	return true;
}

/* What kills one bud in ten and nine in ten, at the first of the two. */
static bool say_kill(struct page *page, const struct fact_row *row)
{
	if (strncmp(row->key, "kill-90-", 8) == 0)
		return fact_beside(page, row, "kill-10-", row->key + 8) != NULL;
	if (strncmp(row->key, "kill-10-", 8) != 0)
		return false;
	const struct fact_row *nine = fact_beside(page, row, "kill-90-", row->key + 8);
	if (nine == NULL)
		return false;
	char stage[KEY_WORDS_SIZE], one_in_ten[FIGURES_SIZE], nine_in_ten[FIGURES_SIZE];
	char source[PAGE_SOURCE_SIZE];
	say_figures(page, row, one_in_ten, sizeof one_in_ten);
	say_figures(page, nine, nine_in_ten, sizeof nine_in_ten);
	say_wrapped(page->printer, "  - ", "%s: 30 minutes at %s take one bud in ten, at %s nine%s",
		label_of(row->key + 8, stage), one_in_ten, nine_in_ten,
		page_source(page, row->source, row->sure, source));
	return true;
}

/* --- a part's facts --- */

static bool was_key(const struct species *species, int32_t at)
{
	for (int32_t i = 0; i < at; i++)
		if (strcmp(species->facts[i].key, species->facts[at].key) == 0)
			return true;
	return false;
}

void page_facts(struct page *page, enum page_part part)
{
	const struct species *species = page->species;

	for (int32_t i = 0; i < species->fact_count; i++) {
		if (home_of(species->facts[i].key) != part || was_key(species, i))
			continue;
		for (int32_t k = i; k < species->fact_count; k++) {
			const struct fact_row *row = &species->facts[k];

			if (strcmp(row->key, species->facts[i].key) == 0 &&
				!say_coefficients(page, row) && !say_kill(page, row))
				say_fact(page, row);
		}
	}
}
