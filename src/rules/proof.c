/* SPDX-License-Identifier: MIT */
#include "proof.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "look.h"
#include "rules/causes.h"

enum { CROPS_SHOWN = 6, HABIT_SHOWN = 2, ROWS_MAX = 48 };

/* What was typed, without the day behind '@', which is said in front; the note stays. */
static const char *words_without_day(const char *words, char *out, size_t size)
{
	size_t note = strcspn(words, ";");
	size_t at = note;
	struct text_builder text = text_builder_fixed(out, size);

	text_add(&text, "");
	for (size_t i = 0; i + 2 < note; i++)
		if (strncmp(words + i, " @ ", 3) == 0)
			at = i;
	text_add_n(&text, words, at);
	if (words[note] == ';')
		text_add_format(&text, "%s%s", at < note ? " " : "", words + note);
	return out;
}

static const char *told_how(const struct entry *entry)
{
	if (entry->planned)
		return "planned";
	return entry->asked ? "asked" : "logged";
}

void proof_entry(
	struct flags *flags, struct flag *flag, const char *what, const struct entry *entry)
{
	char when[80], words[FLAG_SAYS_SIZE];

	date_span_format_plain(&entry->day, when, sizeof when);
	flag_entry_add(flag, entry);
	flag_evidence(flags, flag, "%s%sas %s, %s: %s", what, what[0] != '\0' ? " " : "",
		told_how(entry), when,
		words_without_day(entry->words != NULL ? entry->words : "", words, sizeof words));
}

void proof_entry_id(const struct dossier *dossier, const char *what, const char *id,
	struct flags *flags, struct flag *flag)
{
	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (strcmp(dossier->entries[i]->id, id) == 0) {
			proof_entry(flags, flag, what, dossier->entries[i]);
			return;
		}
}

void proof_window(const struct window *window, struct window_span span, struct flags *flags,
	struct flag *flag)
{
	char words[64], by[64];

	flag_evidence(flags, flag, "%s: %s, %s", window_title(window->kind),
		look_span(span.from, span.to, words, sizeof words), look_by(window, by, sizeof by));
}

const char *proof_verdict(enum verdict verdict)
{
	switch (verdict) {
	case VERDICT_CLEAR:
		return "clear";
	case VERDICT_ALLOWED:
		return "allowed";
	case VERDICT_AVOID:
		break;
	}
	return "to avoid";
}

void proof_cut_row(const struct dossier *dossier, const struct species *species,
	const struct cut_row *row, struct date day, struct flags *flags, struct flag *flag)
{
	struct cut_window cuts[ROWS_MAX];
	struct window_facts facts = dossier_window_facts(dossier);
	char words[80] = "";

	facts.species = species;
	int32_t count = window_cuts(&facts, dossier->kind.cultivar, row->kind, cuts, ROWS_MAX);
	for (int32_t i = 0; i < count && i < ROWS_MAX; i++) {
		struct window window = {.known = true, .from = cuts[i].from, .to = cuts[i].to};

		if (cuts[i].row != row)
			continue;
		struct window_span span = window_span_at(&window, day);
		words[0] = ' ';
		look_span(span.from, span.to, words + 1, sizeof words - 1);
	}
	flag_evidence(flags, flag, "almanac, %s, %s%s: %s", species->name,
		proof_verdict(row->verdict), words, row->text);
}

void proof_habit(const struct dossier *dossier, enum entry_kind kind, enum proof_season by,
	int32_t year, struct flags *flags, struct flag *flag)
{
	int32_t shown = 0;
	int32_t last = INT32_MIN;

	for (int32_t i = dossier->entry_count; i-- > 0 && shown < HABIT_SHOWN;) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (entry->kind != kind || !look_day(entry, &day) ||
			(kind == KIND_CUT && !look_is_shaping(entry)))
			continue;
		int32_t at = by == BY_CROP ? season_year_of(&dossier->season_rule, day)
					   : look_work_year(dossier, day);
		if (at >= year || at == last)
			continue;
		last = at;
		shown++;
		proof_entry(flags, flag, "", entry);
	}
}

void proof_crops(
	const struct dossier *dossier, int32_t year, struct flags *flags, struct flag *flag)
{
	char list[FLAG_SAYS_SIZE], name[16], mass[32];
	struct text_builder text = text_builder_fixed(list, sizeof list);

	text_add(&text, "");
	for (int32_t at = year - CROPS_SHOWN + 1; at <= year; at++) {
		struct maybe_i64 total_mg = causes_total_mg(dossier, at);

		if (total_mg.known)
			text_add_format(&text, "%s%s %s", list[0] != '\0' ? ", " : "",
				look_season_name(dossier, at, name, sizeof name),
				mass_format_rough(
					total_mg.value, dossier->place->units, mass, sizeof mass));
	}
	if (list[0] != '\0')
		flag_evidence(flags, flag, "crops, by your picks: %s", list);
}

void proof_first_picks(
	const struct dossier *dossier, int32_t year, struct flags *flags, struct flag *flag)
{
	char list[FLAG_SAYS_SIZE], when[24];
	struct text_builder text = text_builder_fixed(list, sizeof list);

	text_add(&text, "");
	for (int32_t i = 0; i < dossier->season_count; i++) {
		const struct season *season = &dossier->seasons[i];

		if (season->first_pick.known && season->year < year &&
			season->year >= year - CROPS_SHOWN)
			text_add_format(&text, "%s%s", list[0] != '\0' ? ", " : "",
				date_format_plain(season->first_pick.value, when, sizeof when));
	}
	if (list[0] != '\0')
		flag_evidence(flags, flag, "your first picks: %s", list);
}
