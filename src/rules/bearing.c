/* SPDX-License-Identifier: MIT */
/* Rules about bearing: a bloom that did not come, a tree late to bear, heavy and light years that
 * take turns. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "fruit.h"
#include "reckon/bloom.h"

/* --- bloom-missing --- */

enum { NEAR_BLOOM_DAYS = 60, BLOOM_ASKED_DAYS = 60 };

/* The bloom that an entry tells of, by the year its window opens in; flowers come early or late. */
static int32_t bloom_year(const struct window *bloom, struct date day)
{
	struct window_span span = window_span_before(bloom, date_add_days(day, NEAR_BLOOM_DAYS));

	return date_parts(span.from).year;
}

/* What the log says of the blooms: how many earlier ones were seen, and of this one. */
struct blooms {
	int32_t before;
	const struct entry *entries[2]; /* the first of the last two of them, newest first */
	bool seen;
	const struct entry *denied;
};

static bool is_sign(const struct entry *entry)
{
	return bloom_is_seen(entry) || bloom_has_set(entry) || entry->kind == KIND_THIN;
}

static struct blooms blooms_of(
	const struct dossier *dossier, const struct window *bloom, struct window_span span)
{
	struct blooms blooms = {0};
	int32_t year = date_parts(span.from).year;
	int32_t last = INT32_MIN;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!look_day(entry, &day))
			continue;
		int32_t at = bloom_year(bloom, day);
		if (bloom_is_denied(entry) && at == year)
			blooms.denied = entry;
		if (at == year)
			blooms.seen = blooms.seen || is_sign(entry);
		if (!bloom_is_seen(entry) || at >= year)
			continue;
		if (at != last) {
			blooms.before++;
			blooms.entries[1] = blooms.entries[0];
			blooms.entries[0] = entry;
		}
		last = at;
	}
	return blooms;
}

static void flag_bloom(const struct dossier *dossier, const struct window *bloom,
	struct window_span span, const struct blooms *blooms, struct flags *out)
{
	char to[24], by[64], candidates[FLAG_SAYS_SIZE];
	struct flag *flag = flags_add(out, "bloom-missing", dossier, URGENCY_NOTE);
	int32_t crop = look_crop_year(dossier, dossier->kind.species, span.from, NULL);

	look_set_window(flag, bloom, span);
	date_format_plain(span.to, to, sizeof to);
	if (blooms->denied != NULL) {
		look_say(&flag->says,
			"No bloom this time, as you logged; it flowered in %d earlier seasons.",
			blooms->before);
		proof_entry(out, flag, "", blooms->denied);
	} else {
		look_say(&flag->says,
			"Bloom ended about %s, %s, and none is logged, though you saw it in %d "
			"earlier seasons. Was there none?",
			to, look_by(bloom, by, sizeof by), blooms->before);
	}
	for (size_t i = 0; i < 2 && blooms->entries[i] != NULL; i++)
		proof_entry(out, flag, "", blooms->entries[i]);
	proof_window(bloom, span, out, flag);
	fruit_candidates(dossier, crop, out, flag, candidates, sizeof candidates);
	look_say(&flag->action,
		"%s%sThink of frost in the buds, a cut that took the flower wood, an off year, "
		"too much nitrogen, a young or shaded tree. Feed nothing to force it.",
		blooms->denied != NULL ? "" : "If it flowered, log it, even roughly. ", candidates);
	flag->began = known_date(date_add_days(span.to, 1));
	flag->settles = KIND_STAGE;
	snprintf(flag->fills, sizeof flag->fills, "%s bloom ", dossier->tree.label);
	flag_key_set(flag, crop, "bloom");
}

void rule_bloom_missing(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (dossier->kind.species == NULL)
		return;
	struct window bloom = dossier_window(dossier, WINDOW_BLOOM, today);
	if (!bloom.known || bloom.all_year)
		return;
	struct window_span span = window_span_before(&bloom, today);
	struct window_span next = window_span_at(&bloom, today);
	flags_change_on(out, today, date_add_days(span.to, 1));
	flags_change_on(out, today, date_add_days(span.to, BLOOM_ASKED_DAYS + 1));
	flags_change_on(out, today, date_add_days(next.to, 1));
	int32_t past = date_days_between(span.to, today);
	if (past <= 0 || past > BLOOM_ASKED_DAYS || fruit_told(out, dossier, "alternate-off"))
		return;
	struct blooms blooms = blooms_of(dossier, &bloom, span);
	if (blooms.before >= 2 && !blooms.seen)
		flag_bloom(dossier, &bloom, span, &blooms, out);
}

/* --- late-to-bear --- */

/* Nobody keeps a tree this long past its years without fruit (ours): the gap is in the log. */
enum { LATE_MOST_YEARS = 10 };

/* Roots whose name says that the tree stays small and bears early; the almanac lists them. */
static bool is_on_dwarf_roots(const struct dossier *dossier)
{
	const struct fact_row *names = fruit_words(dossier->kind.species, "rootstock-dwarf");
	char root[NAME_SIZE], listed[TEXT_SIZE];

	text_fold(dossier->tree.rootstock, root, sizeof root);
	if (root[0] == '\0')
		return false;
	if (strstr(root, "dwarf") != NULL && strstr(root, "semi") == NULL)
		return true;
	text_fold(names != NULL ? names->text : "", listed, sizeof listed);
	for (char *rest = NULL, *name = strtok_r(listed, ";", &rest); name != NULL;
		name = strtok_r(NULL, ";", &rest))
		if (strcmp(text_trim_in_place(name), root) == 0)
			return true;
	return false;
}

static struct fact_span join(struct fact_span a, struct fact_span b)
{
	if (a.row == NULL || b.row == NULL)
		return a.row == NULL ? b : a;
	if (b.low < a.low)
		a.low = b.low;
	if (b.high > a.high)
		a.high = b.high;
	return a;
}

/* Years to the first crop by how the tree was raised; where that is not known, the longest. */
static struct fact_span years_to_crop(const struct dossier *dossier, const char **raised)
{
	const struct species *species = dossier->kind.species;
	struct fact_span grafted = fruit_fact(species, "years-to-crop");
	struct fact_span seed = fruit_fact(species, "years-to-crop-seed");
	struct fact_span dwarf = fruit_fact(species, "years-to-crop-dwarf");

	*raised = "";
	switch (dossier->tree.how) {
	case ORIGIN_SEED:
		*raised = " from seed";
		return seed;
	case ORIGIN_BOUGHT:
	case ORIGIN_GRAFT:
		if (dwarf.row != NULL && is_on_dwarf_roots(dossier)) {
			*raised = " on dwarfing roots";
			return dwarf;
		}
		return grafted;
	case ORIGIN_CUTTING:
	case ORIGIN_LAYER:
		return grafted;
	case ORIGIN_UNKNOWN:
	case ORIGIN_ROOT_SHOOT:
	case ORIGIN_FOUND:
		return join(grafted, seed);
	}
	return grafted;
}

static bool ever_bore(const struct dossier *dossier)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (entry->kind == KIND_PICK || entry->kind == KIND_LOSS ||
			entry->kind == KIND_THIN || bloom_is_seen(entry) || bloom_has_set(entry))
			return true;
	}
	for (int32_t i = 0; i < dossier->graft_count; i++)
		if (ever_bore(dossier->grafts[i]))
			return true;
	return false;
}

static bool has_begun(struct maybe_date since, struct date today)
{
	return since.known && date_compare(since.value, today) <= 0;
}

/* Hard cuts of the last three years, which send a young tree back into leaf. */
static int32_t cuts_lately(const struct dossier *dossier, struct date today)
{
	return dossier_between(
		dossier, KIND_CUT, date_add_days(today, -LATE_CUT_DAYS), today, NULL, 0);
}

static void flag_late(const struct dossier *dossier, struct fact_span years, const char *raised,
	struct date today, struct flags *out)
{
	const struct fact_row *partner = fruit_words(dossier->kind.species, "pollination");
	char planted[80], log[96] = "";
	int32_t cuts = cuts_lately(dossier, today);
	int32_t feeds = dossier_between(
		dossier, KIND_FEED, date_add_days(today, -LATE_CUT_DAYS), today, NULL, 0);
	struct flag *flag = flags_add(out, "late-to-bear", dossier, URGENCY_NOTE);

	look_say(&flag->says,
		"Old enough, and no flower or fruit is logged yet; %s%s should bear within %lld "
		"years.",
		dossier->kind.species->name, raised, (long long)years.high);
	if (cuts + feeds > 0)
		snprintf(log, sizeof log, " In three years the log has %d cut%s and %d feed%s.",
			cuts, cuts == 1 ? "" : "s", feeds, feeds == 1 ? "" : "s");
	look_say(&flag->action,
		"If it bore, log what you remember. Else look at light (half a day of sun?), "
		"cuts and feeds that drive leaves, frost at bloom, water, the roots and the "
		"graft, a partner, and whether it is what the label says.%s",
		log);
	flag->source = years.row->source;
	flag->began = dossier->tree.planted.low;
	flag->settles = KIND_STAGE;
	snprintf(flag->fills, sizeof flag->fills, "%s bloom ", dossier->tree.label);
	flag_evidence(out, flag, "planted %s",
		date_span_format_plain(&dossier->tree.planted, planted, sizeof planted));
	flag_evidence(out, flag, "years to the first crop%s: %lld to %lld%s%s; it is %d at least",
		raised, (long long)years.low, (long long)years.high,
		years.row->text[0] != '\0' ? ": " : "", years.row->text,
		dossier->age_low_years.value);
	if (partner != NULL)
		flag_evidence(out, flag, "pollination: %s", partner->text);
	/* the year it should have borne by: answered once, it is not asked anew each year */
	const struct date_span *came = &dossier->tree.planted;
	struct date from = came->high.known ? came->high.value : came->low.value;
	flag_key_set(flag, date_parts(from).year + (int32_t)years.high, "first");
}

void rule_late_to_bear(const struct dossier *dossier, struct date today, struct flags *out)
{
	const char *raised;

	if (dossier->kind.species == NULL || !dossier->age_low_years.known ||
		dossier->tree.over_fence)
		return;
	struct fact_span years = years_to_crop(dossier, &raised);
	if (years.row == NULL || dossier->entry_count == 0 ||
		dossier->age_low_years.value <= years.high ||
		dossier->age_low_years.value > years.high + LATE_MOST_YEARS ||
		!has_begun(dossier->picks_since, today) ||
		has_begun(dossier->spot_crops_since, today) || ever_bore(dossier))
		return;
	flag_late(dossier, years, raised, today, out);
}

/* --- alternate-on, alternate-off --- */

static struct flag *flag_swing(const struct dossier *dossier, const struct swing *swing,
	const char *rule, struct flags *out)
{
	char next[16], last[16], mass[32];
	struct flag *flag = flags_add(out, rule, dossier, URGENCY_NOTE);

	look_say(&flag->says,
		"%s is likely a %s year: of %d seasons in a row every second was the heavier "
		"(index %.2f of %d pairs), and %s was %s with %s.",
		look_season_name(dossier, swing->year, next, sizeof next),
		swing->heavy ? "heavy" : "light", swing->seasons, swing->index, swing->pairs,
		look_season_name(dossier, swing->year - 1, last, sizeof last),
		swing->heavy ? "light" : "heavy",
		mass_format_rough(swing->last_mg, dossier->place->units, mass, sizeof mass));
	proof_crops(dossier, swing->year - 1, out, flag);
	flag->seasons = swing->seasons;
	snprintf(flag->basis, sizeof flag->basis, "your picks, %d seasons", swing->seasons);
	const struct fact_row *kind = fruit_words(dossier->kind.species, "alternate");
	if (kind != NULL) {
		flag->source = kind->source;
		flag_evidence(out, flag, "of this kind: %s", kind->text);
	}
	flag_evidence(out, flag,
		"the index is the mean of |a - b| / (a + b) over neighbouring seasons: 0 steady, "
		"1 a crop every other year; few years can swing by chance");
	flag_key_set(flag, swing->year, swing->heavy ? "on" : "off");
	return flag;
}

/* The last day of use for thinning the heavy crop; its source in *row (NULL: not thinned by the
 * almanac, then the day the harvest opens). */
static bool thin_by(const struct dossier *dossier, int32_t year, struct date today, struct date *by,
	const struct window_row **row)
{
	struct window window = dossier_window(dossier, WINDOW_THINNING, today);
	struct window_span harvest;

	*row = NULL;
	if (window.known && !window.all_year) {
		struct window_span span = window_span_at(&window, today);

		*by = span.to;
		*row = window.row;
		return season_year_of(&dossier->season_rule, span.from) == year;
	}
	if (!season_harvest(&dossier->season_rule, year, &harvest))
		return false;
	*by = harvest.from;
	return date_compare(today, harvest.from) < 0;
}

void rule_alternate_on(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct swing swing = causes_swing(dossier);
	const struct window_row *row;
	struct date by;
	char day[24], on_year[FLAG_SAYS_SIZE] = "";

	if (!swing.known || !swing.heavy || !thin_by(dossier, swing.year, today, &by, &row))
		return;
	flags_change_on(out, today, by);
	flags_change_on(out, today, date_add_days(by, 1));
	if (fruit_told(out, dossier, "thin-due") ||
		fruit_entry_of(dossier, KIND_THIN, swing.year) != NULL)
		return;
	struct flag *flag = flag_swing(dossier, &swing, "alternate-on", out);
	const struct fact_row *extra = fruit_words(dossier->kind.species, "thinning-on-year");
	if (extra != NULL)
		look_ended(extra->text, on_year, sizeof on_year);
	if (row != NULL)
		look_say(&flag->action,
			"Thin hard and early, by %s: next year's buds form while this crop "
			"hangs. Cut, if at all, in the winter before it.",
			date_format_plain(by, day, sizeof day));
	else
		look_say(&flag->action,
			"Cut, if at all, before it blooms, and pick early and clean: next year's "
			"buds form while this crop hangs.%s%s",
			on_year[0] != '\0' ? " " : "", on_year);
	flag->window_to = known_date(by);
	flag->settles = KIND_THIN;
	snprintf(flag->fills, sizeof flag->fills, "%s thinned ", dossier->tree.label);
}

void rule_alternate_off(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct swing swing = causes_swing(dossier);
	struct window_span harvest;
	char after[16];

	if (!swing.known || swing.heavy ||
		!season_harvest(&dossier->season_rule, swing.year, &harvest))
		return;
	flags_change_on(out, today, harvest.from);
	if (date_compare(today, harvest.from) >= 0)
		return;
	struct flag *flag = flag_swing(dossier, &swing, "alternate-off", out);
	look_say(&flag->action,
		"Nothing to thin. No hard cut and no extra nitrogen for it: that drives shoots "
		"now and makes the next heavy year, %s, heavier still. Thin that one.",
		look_season_name(dossier, swing.year + 1, after, sizeof after));
	flag->window_to = known_date(date_add_days(harvest.from, -1));
}
