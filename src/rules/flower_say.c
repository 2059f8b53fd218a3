/* SPDX-License-Identifier: MIT */
/* The words of flower-wood: what a cut cost, when the next one is clear, what it rests on. */
#include <stdio.h>
#include <string.h>

#include "clash.h"
#include "core/text.h"
#include "cut_say.h"
#include "flower.h"

static void say_share(const struct share *share, char *out, int size)
{
	if (share->low == share->high)
		snprintf(out, (size_t)size, "%.0f %% of the crown", share->low * 100.0);
	else
		snprintf(out, (size_t)size, "%.0f to %.0f %% of the crown", share->low * 100.0,
			share->high * 100.0);
}

/* "4 to 11 lb", "8 oz to 3.5 lb": the unit once where it is the same. */
static void say_range(int64_t low_mg, int64_t high_mg, enum unit_system units, char *out, int size)
{
	char low[32], high[32];

	mass_format_rough(low_mg, units, low, sizeof low);
	mass_format_rough(high_mg, units, high, sizeof high);
	char *low_unit = strrchr(low, ' ');
	const char *high_unit = strrchr(high, ' ');
	if (low_unit != NULL && high_unit != NULL && strcmp(low_unit, high_unit) == 0)
		*low_unit = '\0';
	if (strcmp(low, "0 oz") == 0 || strcmp(low, "0 g") == 0)
		snprintf(low, sizeof low, "none");
	snprintf(out, (size_t)size, "%s to %s", low, high);
}

/* The crop that the row speaks of, where it is not all of it: "breba", "main"; "" else. */
static const char *part_word(const struct judged *judged)
{
	const struct cut_row *row = judged->verdict.row;

	if (row == NULL || row->crop == CROP_ALL)
		return "";
	return row->crop == CROP_BREBA ? "breba" : "main";
}

/* Why a crop that is one of two has no figure. */
static void say_no_part(
	const struct dossier *dossier, const struct judged *judged, struct text_builder *risk)
{
	const struct part_crop *part = &dossier->parts[judged->verdict.row->crop];

	if (part->untold > 0)
		text_add(risk, ", how much is not known: your picks do not tell breba from main; "
			       "log them with their day, or say breba or main");
	else
		text_add(risk, ", how much is not known without picks of that crop");
}

/* No share, or no picks yet: what can be said without making a figure up. */
static void say_part(const struct dossier *dossier, const struct judged *judged, const char *season,
	struct text_builder *risk)
{
	enum unit_system units = dossier->place->units;
	const struct fact_row *usual =
		judged->species != NULL ? species_fact(judged->species, "yield-per-tree") : NULL;
	int32_t seasons = judged->crop.seasons;
	char words[72];

	text_add_format(risk, "part of the %s crop", season);
	if (seasons > 0) {
		mass_format_rough(judged->crop.mg / 10, units, words, sizeof words);
		text_add_format(risk,
			", each tenth of the crown about %s (share of the crown not known; your "
			"picks of %d season%s)",
			words, seasons, seasons == 1 ? "" : "s");
		return;
	}
	if (part_word(judged)[0] != '\0') {
		say_no_part(dossier, judged, risk);
		return;
	}
	text_add(risk, ", how much is not known without picks of yours");
	if (usual == NULL || !usual->low.known || !usual->high.known)
		return;
	say_range(usual->low.value, usual->high.value, units, words, sizeof words);
	text_add_format(risk, " (usual for the kind, %s: %s a tree)",
		look_may_alarm(usual->sure) ? "published" : "from memory", words);
}

/* "about 8 lb of the 2027 crop (4 to 11 lb; 20 % of the crown, your picks of 4 seasons)" */
static void say_risk(const struct dossier *dossier, const struct judged *judged,
	const struct flag *flag, struct text_builder *risk)
{
	enum unit_system units = dossier->place->units;
	char about[32], range[72], share[64], season[32], name[16];
	const char *part = part_word(judged);

	look_season_name(dossier, judged->crop_year, name, sizeof name);
	snprintf(season, sizeof season, "%s%s%s", name, part[0] != '\0' ? " " : "", part);
	if (!flag->crop_at_risk_mg.known) {
		say_part(dossier, judged, season, risk);
		return;
	}
	say_share(&judged->share, share, sizeof share);
	mass_format_rough(flag->crop_at_risk_mg.value, units, about, sizeof about);
	say_range(flag->crop_at_risk_low_mg.value, flag->crop_at_risk_high_mg.value, units, range,
		sizeof range);
	text_add_format(risk, "about %s of the %s crop (%s; %s, your picks of %d season%s%s)",
		about, season, range, share, flag->seasons, flag->seasons == 1 ? "" : "s",
		judged->risk.estimate ? ", counts made into weight: an estimate" : "");
}

static void say_kind(const struct dossier *dossier, struct text_builder *says)
{
	const struct tree_kind *kind = &dossier->kind;

	if (kind->species == NULL && kind->candidate_count > 0)
		text_add_format(says, " It may be one of several kinds (%s): all say the same.",
			kind->name);
	else if (kind->species != NULL && kind->sure == SURE_SUSPECTED)
		text_add_format(says, " This rests on a guess: the tree is taken for %s.",
			kind->species->name);
}

static const char *cut_title(const struct entry *entry)
{
	return entry_cut_kind(entry) == CUT_UNSAID ? "" : cut_kind_row(look_cut_kind(entry))->title;
}

static void say(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct flag *flag)
{
	const struct cut_row *row = judged->verdict.row;
	bool fruit = row != NULL && row->reason == REASON_FRUIT;
	struct text_builder says = text_builder_fixed(flag->says, sizeof flag->says);
	char when[80];

	text_add_format(&says, "The %s%scut of %s %s wood %s: ", cut_title(entry),
		cut_title(entry)[0] != '\0' ? " " : "",
		date_span_format_plain(&entry->day, when, sizeof when),
		entry->asked ? "would take" : "takes",
		fruit ? "with the fruit on it" : "that carries the coming flowers");
	say_risk(dossier, judged, flag, &says);
	text_add(&says, ".");
	say_kind(dossier, &says);
	if (entry_cut_kind(entry) == CUT_UNSAID)
		text_add(&says, " The kind of cut was not said: judged as a shape cut.");
}

/* When the next clear window opens, in days and as the row's event; then what to do now. */
static void say_next_clear(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct date today, struct flag *flag)
{
	struct text_builder action = text_builder_fixed(flag->action, sizeof flag->action);
	const struct cut_row *clear = NULL;
	struct window_span span = {{0}, {0}};
	struct date day = today;
	char words[480];

	text_add(&action, "");
	(void)look_day(entry, &day);
	if (date_compare(day, today) < 0)
		day = today;
	if (cut_next_clear(dossier, judged->species, look_cut_kind(entry), day, &span, &clear)) {
		flag->window_from = known_date(span.from);
		flag->window_to = known_date(span.to);
		text_add_format(&action, "Next clear for this cut: %s",
			look_span(span.from, span.to, words, sizeof words));
		text_add_format(&action, " (%s). ",
			clear != NULL && clear->text[0] != '\0' ? clear->text
								: "as set by hand here");
	}
	if (judged->species != NULL)
		text_add_format(&action, "After such a cut: %s",
			look_ended(judged->species->already_cut, words, sizeof words));
}

static void explain_risk(const struct dossier *dossier, const struct judged *judged,
	struct flags *out, struct flag *flag)
{
	const struct cut_row *row = judged->verdict.row;
	const struct expected_crop *crop = &judged->crop;
	enum unit_system units = dossier->place->units;
	bool known = row != NULL && !judged->risk.loss_is_ours;
	char mid[32], range[72];

	if (crop->seasons > 0) {
		say_range(crop->low_mg, crop->high_mg, units, range, sizeof range);
		flag_evidence(out, flag, "E, what the tree gives: %s (%s), %d complete season%s",
			mass_format_rough(crop->mg, units, mid, sizeof mid), range, crop->seasons,
			crop->seasons == 1 ? "" : "s");
	}
	if (part_word(judged)[0] != '\0')
		flag_evidence(out, flag,
			"of the %s crop alone: told from the other by your words, else by the "
			"almanac's day",
			part_word(judged));
	for (int32_t i = 0; judged->risk.known && i < judged->joined_count; i++)
		proof_entry(out, flag, "joined with it, the cut", judged->joined[i]);
	if (judged->risk.known && judged->picked_mg > 0)
		flag_evidence(out, flag, "of E picked already: %s",
			mass_format_rough(judged->picked_mg, units, mid, sizeof mid));
	if (judged->risk.known)
		flag_evidence(out, flag,
			"at risk = share of the crown %.2f to %.2f x loss for each share %.2f to "
			"%.2f%s x E",
			judged->share.low, judged->share.high,
			known ? row->loss_low_permille.value / 1000.0 : 0.5,
			known ? row->loss_high_permille.value / 1000.0 : 1.0,
			known ? "" : " (our own span: no published figure)");
}

void flower_tell(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct date today, struct flags *out, struct flag *flag)
{
	const struct cut_row *row = judged->verdict.row;

	say(dossier, judged, entry, flag);
	say_next_clear(dossier, judged, entry, today, flag);
	if (flag->window_to.known)
		flags_change_on(out, today, date_add_days(flag->window_to.value, 1));
	proof_entry(out, flag, "the cut", entry);
	if (row == NULL)
		flag_evidence(
			out, flag, "the day lies in the span you set by hand to avoid cutting");
	else
		proof_cut_row(dossier, judged->species, row, judged->day, out, flag);
	explain_risk(dossier, judged, out, flag);
	flag->source = row != NULL ? row->source : look_own_source;
	snprintf(flag->basis, sizeof flag->basis, "%s",
		row == NULL             ? "set by hand here"
		: judged->verdict.moved ? "almanac, moved by this tree's own days"
					: "almanac");
	const struct clash_cut cut = {.species = judged->species,
		.kind = look_cut_kind(entry),
		.day = judged->day,
		.used = row,
		.reasons = FLOWER_REASONS};
	if (row != NULL)
		clash_tell_cut(dossier, &cut, out, flag);
}

void flower_ask(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct flags *out)
{
	struct flag *flag = flags_add(out, "flower-wood", dossier, URGENCY_NOTE);
	bool exact = date_span_is_exact(&entry->day);
	char when[80];

	look_say(&flag->says, "Whether the cut of %s %s flower wood or fruit depends on %s.",
		date_span_format_plain(&entry->day, when, sizeof when),
		entry->asked ? "would take" : "took",
		exact ? "which kind the tree is: its candidates differ"
		      : "the day: part of that span is clear, part is not");
	look_say(&flag->action, "Say %s, and this answers itself.",
		exact ? "what the tree is" : "the day of the cut");
	flag->source = judged->verdict.row != NULL ? judged->verdict.row->source : look_own_source;
	flag_key_set(flag, judged->crop_year, entry->id);
	proof_entry(out, flag, "the cut", entry);
}

/* What is missing before any cut can be judged, and how to say it; NULL: nothing is. */
static const char *missing_fact(const struct dossier *dossier, const char **tell)
{
	const struct tree_kind *kind = &dossier->kind;

	if (dossier->place->hemisphere == HEMISPHERE_UNKNOWN) {
		*tell = "Say north or south first (place set --hemisphere).";
		return "north or south of the equator is not known";
	}
	if (!window_place_has_dates(dossier->place)) {
		*tell = "Set this tree's own windows (own window LABEL cut-clear MM-DD MM-DD).";
		return "this near the equator only your own windows count";
	}
	*tell = "Find out what it is first (stone or pip?), or say which it could be.";
	if (kind->species == NULL && kind->candidate_count == 0 && kind->outside == NULL)
		return "what the tree is is not known";
	if (kind->outside != NULL) {
		*tell = "Set its own windows (own window LABEL cut-clear MM-DD MM-DD).";
		return "the almanac has no dates for this kind";
	}
	return NULL;
}

void flower_ask_fact(const struct dossier *dossier, const struct entry *entry, struct flags *out)
{
	const char *tell = NULL;
	const char *missing = missing_fact(dossier, &tell);

	if (missing == NULL)
		return;
	struct flag *flag = flags_add(out, "flower-wood", dossier, URGENCY_NOTE);
	look_say(&flag->says, "Whether this cut %s flower wood or fruit cannot be said: %s.",
		entry->asked ? "would take" : "takes", missing);
	look_say(&flag->action, "%s", tell);
	flag->source = "needed before a cut can be judged";
	flag_key_set(flag, 0, entry->id);
	proof_entry(out, flag, "the cut", entry);
}
