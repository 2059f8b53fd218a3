/* SPDX-License-Identifier: MIT */
/* Rules about the ground a tree was given: feed in the planting hole and in the first year, soil
 * that an orchard stood in. */
#include <stdio.h>
#include <string.h>

#include "clash.h"
#include "core/text.h"
#include "look.h"
#include "reckon/dose.h"

/* --- feed-young-hole --- */

/* Told this long after the feed: by then it is washed through or the harm is done. */
enum { FIRST_FEED_DAYS = 180 };

static const char *const in_the_hole =
	"in the hole|in hole|into the hole|in the planting hole|into the planting hole|"
	"planting hole|under the roots|bottom of the hole|in with the roots";
static const char *const feed_words = "fertilizer|fertiliser|feed|fed|manure|granules|pellets";

/* Compost, and what carries no nitrogen, is no feed here. */
static bool is_mild(const struct dossier *dossier, const struct entry *feed)
{
	struct maybe_i64 nitrogen_mg =
		dose_nitrogen_of_entry(feed, dossier->products, dossier->product_count);

	if (nitrogen_mg.known)
		return nitrogen_mg.value == 0;
	return look_tells(feed, "compost|leaf mould|leaf mold|castings|mulch|lime|gypsum|ash");
}

static bool went_into_hole(const struct dossier *dossier, const struct entry *entry)
{
	if (entry->kind == KIND_FEED)
		return look_tells(entry, in_the_hole) && !is_mild(dossier, entry);
	return entry->kind == KIND_PLANT && look_tells(entry, in_the_hole) &&
	       look_tells(entry, feed_words);
}

static void flag_hole(const struct dossier *dossier, const struct entry *feed, struct date day,
	struct date today, struct flags *out)
{
	const struct fact_row *row = species_fact(dossier->kind.species, "feed-hole");
	char when[24];

	if (row == NULL)
		return;
	struct flag *flag = flags_add(
		out, "feed-young-hole", dossier, look_harm_urgency(day, today, row->sure));
	look_say(&flag->says,
		"Feed went into the planting hole on %s: its salts burn new roots before they "
		"spread.",
		date_format_plain(day, when, sizeof when));
	look_say(&flag->action, "Water deeply a few times to wash it down, and give no more this "
				"year. Later feeds go "
				"on top, off the trunk; the product label comes first.");
	flag->began = known_date(day);
	flag->source = row->source;
	proof_entry(out, flag, "", feed);
	flag_key_set(flag, 0, feed->id);
}

/* The published rules of the first year: the strictest, and what the others say. */
struct first_year {
	const struct fact_row *strict;
	char others[FLAG_SAYS_SIZE / 2];
};

static bool first_year_rules(const struct dossier *dossier, struct first_year *rules)
{
	const struct species *species = dossier->kind.species;
	const char *chosen = clash_chosen(dossier, "feed-young-hole");
	struct text_builder others = text_builder_fixed(rules->others, sizeof rules->others);

	text_add(&others, "");
	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (strcmp(row->key, "feed-wait") != 0 || !row->low.known)
			continue;
		if (chosen != NULL && strcmp(chosen, row->source) != 0)
			continue;
		if (rules->strict == NULL && row->low.value > 0)
			rules->strict = row;
		else
			text_add_format(&others, "; %s", row->text);
	}
	return rules->strict != NULL;
}

bool look_first_year_waits(const struct dossier *dossier)
{
	enum { YEAR_WEEKS = 52 };
	struct first_year rules = {.strict = NULL};

	return first_year_rules(dossier, &rules) && rules.strict->low.value >= YEAR_WEEKS;
}

/* Who says what of the first year, whose word counts here, and how that is changed. */
static void tell_first_year(const struct dossier *dossier, const struct first_year *rules,
	struct flags *out, struct flag *flag)
{
	const struct species *species = dossier->kind.species;
	char line[160];
	struct text_builder sources = text_builder_fixed(line, sizeof line);
	const char *chosen = clash_chosen(dossier, "feed-young-hole");

	text_add(&sources, "");
	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (strcmp(row->key, "feed-wait") != 0 || !row->low.known)
			continue;
		flag_evidence(out, flag, "%s: %s", row->said_by->title, row->text);
		text_add_format(&sources, "%s%s", line[0] != '\0' ? " or " : "", row->source);
	}
	if (chosen != NULL)
		flag_evidence(out, flag,
			"this place follows %s (own choice): own list shows it with the id to "
			"remove it by",
			chosen);
	else if (rules->others[0] != '\0')
		flag_evidence(out, flag, "to go by one of them here: own choice feed-young-hole %s",
			line);
}

static void flag_first_year(const struct dossier *dossier, const struct entry *feed,
	struct date day, const struct first_year *rules, struct flags *out)
{
	struct flag *flag = flags_add(out, "feed-young-hole", dossier, URGENCY_NOTE);
	bool clash = rules->others[0] != '\0';
	char when[24];

	look_say(&flag->says, "Fed on %s, soon after planting. %s: %s%s.",
		date_format_plain(day, when, sizeof when), clash ? "Sources differ" : "Published",
		rules->strict->text, rules->others);
	look_say(&flag->action, "Give no more this year; water and a clear ring help more.%s",
		clash ? " To go by one of them: own choice feed-young-hole SOURCE." : "");
	flag->began = known_date(day);
	flag->source = rules->strict->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac, from the planting day");
	proof_entry(out, flag, "", feed);
	tell_first_year(dossier, rules, out, flag);
	flag_key_set(flag, 0, feed->id);
}

/* Surely within so many weeks of planting, whatever day of its span that was. */
static bool is_first_feed(const struct dossier *dossier, const struct entry *entry, struct date day,
	const struct fact_row *wait)
{
	struct maybe_date planted = dossier->tree.planted.low;

	return entry->kind == KIND_FEED && planted.known && date_compare(day, planted.value) >= 0 &&
	       date_days_between(planted.value, day) < 7 * wait->low.value &&
	       !is_mild(dossier, entry);
}

void rule_feed_young_hole(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct first_year rules = {.strict = NULL};
	const struct entry *feed = NULL;
	bool hole = false;
	struct date day, at = {0};

	if (dossier->kind.species == NULL || dossier->host != NULL)
		return;
	bool waits = first_year_rules(dossier, &rules);
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		bool into = false;

		if (!look_day(entry, &day) || date_days_between(day, today) > FIRST_FEED_DAYS)
			continue;
		into = went_into_hole(dossier, entry);
		if (!into && (hole || !waits || !is_first_feed(dossier, entry, day, rules.strict)))
			continue;
		feed = entry;
		at = day;
		hole = into;
	}
	if (feed == NULL)
		return;
	flags_change_on(out, today, date_add_days(at, ACT_DAYS + 1));
	flags_change_on(out, today, date_add_days(at, FIRST_FEED_DAYS + 1));
	if (hole)
		flag_hole(dossier, feed, at, today, out);
	else
		flag_first_year(dossier, feed, at, &rules, out);
}

/* --- old-orchard-soil --- */

/* The last of the same group that left this spot; NULL none. */
static const struct tenant *tenant_alike(const struct dossier *dossier)
{
	const struct tenant *last = NULL;

	for (int32_t i = 0; i < dossier->tenant_count; i++) {
		const struct tenant *tenant = &dossier->tenants[i];

		if (tenant->to.known && tenant->kind.species != NULL &&
			strcmp(tenant->kind.species->stage_group,
				dossier->kind.species->stage_group) == 0)
			last = tenant;
	}
	return last;
}

static void look_at_tenants(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct fact_row *row = species_fact(dossier->kind.species, "replant");
	const struct tenant *before = tenant_alike(dossier);
	struct maybe_date planted = dossier->tree.planted.low;
	char until[24], advice[FLAG_SAYS_SIZE];

	if (row == NULL || !row->high.known || before == NULL || !planted.known ||
		dossier->spot == NULL || dossier->spot->kind != SPOT_HOLE)
		return;
	struct date end = look_years_after(planted.value, (int32_t)row->high.value);
	flags_change_on(out, today, end);
	if (date_compare(today, end) >= 0)
		return;
	struct flag *flag = flags_add(out, "old-orchard-soil", dossier, URGENCY_NOTE);
	look_say(&flag->says,
		"%s (%s) stood in this place until %s: soil where the same kind stood can hold a "
		"new "
		"tree back.",
		before->tree.label, before->kind.name,
		date_format_plain(before->to.value, until, sizeof until));
	look_say(&flag->action, "%s", look_sentence(row->text, advice, sizeof advice));
	flag->began = planted;
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "who stood in its spot");
	flag_evidence(out, flag, "told in the first %lld years", (long long)row->high.value);
	flag_key_set(flag, 0, before->tree.id);
}

static const char *const orchard_words =
	"old orchard|former orchard|orchard land|was an orchard|was orchard";

/* Land that was said to be an old orchard's, in a line or in what is written about the tree, and no
 * soil test since. */
struct land_word {
	bool said;
	const struct entry *entry; /* NULL: written about the tree */
};

static struct land_word land_word(const struct dossier *dossier)
{
	struct land_word word = {.said = look_text_tells(dossier->tree.note, orchard_words)};
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (!look_day(entry, &day))
			continue;
		if (entry->kind == KIND_SOIL_TEST)
			word = (struct land_word){.said = false};
		else if ((entry->kind == KIND_NOTE || entry->kind == KIND_SAW) &&
			 look_tells(entry, orchard_words))
			word = (struct land_word){.said = true, .entry = entry};
	}
	return word;
}

static void look_at_land(const struct dossier *dossier, struct flags *out)
{
	const struct fact_row *row = species_fact(dossier->kind.species, "orchard-soil");
	struct land_word word = land_word(dossier);

	if (!word.said || row == NULL)
		return;
	struct flag *flag = flags_add(out, "old-orchard-soil", dossier, URGENCY_NOTE);
	text_copy(flag->fact, sizeof flag->fact, "old-orchard");
	look_say(&flag->says, "old orchard land, and no soil test is logged");
	look_say(&flag->action,
		"Have the soil tested for lead and arsenic before children dig there or greens are "
		"grown under the trees: %s.",
		row->text);
	flag->source = row->source;
	flag->settles = KIND_SOIL_TEST;
	snprintf(flag->fills, sizeof flag->fills, "%s soil test ", dossier->tree.label);
	flag_key_set(flag, 0, "old-orchard");
	if (word.entry != NULL)
		proof_entry(out, flag, "", word.entry);
	else
		flag_evidence(out, flag, "as written about the tree: %s", dossier->tree.note);
}

void rule_old_orchard_soil(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (dossier->kind.species == NULL || dossier->host != NULL)
		return;
	look_at_tenants(dossier, today, out);
	look_at_land(dossier, out);
}
