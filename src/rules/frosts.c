/* SPDX-License-Identifier: MIT */
/* The rule about frost while buds, flowers or small fruit stood open to it. */
#include <stdio.h>

#include "core/text.h"
#include "reckon/sky.h"
#include "rules/frost_night.h"
#include "look.h"

/* A frost is told for so long, and is work for the shorter while. */
enum { FROST_DAYS = 42, FROST_WORK_DAYS = 21 };

static bool is_worse(const struct frost_night *a, const struct frost_night *b)
{
	if (a->loss.low != b->loss.low)
		return a->loss.low > b->loss.low;
	return a->loss.has_point && b->loss.has_point && a->loss.linear > b->loss.linear;
}

static void tell_points(const struct dossier *dossier, const struct frost_night *night,
	struct flags *out, struct flag *flag)
{
	const struct frost_stage *stage = &night->stage;
	enum unit_system units = dossier->place->units;
	char ten[32], ninety[32] = "", half[32];

	if (stage->ninety_decic.known)
		temperature_format(stage->ninety_decic.value, units, ninety, sizeof ninety);
	if (night->half)
		flag_evidence(out, flag,
			"published for %s, 30 minutes: half of the crop or more at %s", stage->name,
			temperature_format(stage->half_decic.value, units, half, sizeof half));
	else
		flag_evidence(out, flag,
			"published for %s, 30 minutes: one in ten dies at %s, nine in ten at %s",
			stage->name,
			temperature_format(stage->ten_decic.value, units, ten, sizeof ten),
			stage->ninety_decic.known ? ninety : "a temperature that is not printed");
	flag_evidence(out, flag,
		"a frost that lasts longer does more, a brief one less; cool days before harden "
		"buds, warm ones soften them");
}

static void tell_evidence(const struct dossier *dossier, const struct frost_night *night,
	int32_t nights, struct flags *out, struct flag *flag)
{
	char words[FLAG_SAYS_SIZE], low[32];

	flag_evidence(out, flag, "minimum %s, %s",
		temperature_format(night->min_decic, dossier->place->units, low, sizeof low),
		night->whose);
	tell_points(dossier, night, out, flag);
	if (night->stage_entry != NULL) {
		proof_entry(out, flag, "the stage", night->stage_entry);
	} else {
		struct window_span span = window_span_at(&night->window, night->day);

		flag_evidence(out, flag, "bloom %s: %s; log the stage to be sure",
			look_span(span.from, span.to, words, sizeof words),
			frost_night_known(night, low, sizeof low));
	}
	if (nights > 1)
		flag_evidence(out, flag,
			"%d nights were cold enough for the stage; the worst is told", nights);
	if (night->min_entry != NULL)
		proof_entry(out, flag, "the night", night->min_entry);
}

static void say_what_to_do(const struct dossier *dossier, const struct frost_night *night,
	struct date today, struct flag *flag)
{
	const char *bad = look_bad_day(dossier, today);
	const struct fact_row *needs = species_fact(dossier->kind.species, "buds-needed");
	struct text_builder words = text_builder_fixed(flag->action, sizeof flag->action);

	text_add(&words, "");
	if (bad != NULL)
		text_add_format(&words, "Not today: %s. ", bad);
	text_add_format(&words,
		"Cut across ten %ss from low, middle and high: a brown middle is dead. Log what "
		"you "
		"see. ",
		frost_night_organ(night));
	if (needs != NULL && needs->low.known && needs->high.known)
		text_add_format(&words, "This kind bears a crop with %lld to %lld %% of its buds. ",
			(long long)needs->low.value / 10, (long long)needs->high.value / 10);
	else if (needs != NULL && needs->low.known)
		text_add_format(&words,
			"This kind needs over %lld %% of its buds for a full crop. ",
			(long long)needs->low.value / 10);
	text_add(&words, "Thin only once it shows what set; no cut and no feed for it now.");
}

static void flag_frost(const struct dossier *dossier, const struct frost_night *night,
	int32_t nights, struct date today, struct flags *out)
{
	const struct frost_stage *stage = &night->stage;
	struct date day = night->day;
	bool own = night->stage_entry != NULL || night->window.basis == BASIS_LEARNED;
	bool work = own && look_may_alarm(stage->sure) &&
		    date_days_between(day, today) <= FROST_WORK_DAYS &&
		    look_bad_day(dossier, today) == NULL;
	struct flag *flag =
		flags_add(out, "frost-in-bloom", dossier, work ? URGENCY_DUE : URGENCY_NOTE);
	char low[32], when[24], known[80], loss[160], cause[DATE_SIZE];

	temperature_format(night->min_decic, dossier->place->units, low, sizeof low);
	date_format_plain(day, when, sizeof when);
	frost_night_loss(night, loss, sizeof loss);
	frost_night_known(night, known, sizeof known);
	if (own)
		look_say(&flag->says,
			"%s on %s at %s, %s: by the table for 30 minutes it takes %s.", low, when,
			stage->name, known, loss);
	else
		look_say(&flag->says,
			"%s on %s. If it stood at %s then (%s it may have), by the table for 30 "
			"minutes it takes %s.",
			low, when, stage->name, known, loss);
	say_what_to_do(dossier, night, today, flag);
	flag->began = known_date(day);
	flag->source = stage->source;
	snprintf(flag->basis, sizeof flag->basis, "%s",
		night->stage_entry != NULL ? "your logged stage" : "the bloom window");
	flag->settles = KIND_SAW;
	snprintf(flag->fills, sizeof flag->fills, "%s saw frost damage ", dossier->tree.label);
	tell_evidence(dossier, night, nights, out, flag);
	flag_key_set(flag, season_year_of(&dossier->season_rule, day), date_format(day, cause));
}

void rule_frost_in_bloom(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct frost_stage stages[FROST_STAGES_MAX];
	const struct frost_night *worst = NULL;
	struct frost_night *nights = NULL;
	int32_t hurt = 0;

	if (dossier->kind.species == NULL || frost_stages(dossier->kind.species, stages) == 0)
		return;
	struct day_span span = {date_add_days(today, -FROST_DAYS), today};
	int32_t count = frost_nights(dossier, span, out->arena, &nights);
	for (int32_t i = 0; i < count; i++) {
		const struct frost_night *night = &nights[i];

		if (!frost_night_hurts(night) || night->observed != NULL)
			continue;
		flags_change_on(out, today, date_add_days(night->day, FROST_WORK_DAYS + 1));
		flags_change_on(out, today, date_add_days(night->day, FROST_DAYS + 1));
		hurt++;
		if (worst == NULL || is_worse(night, worst))
			worst = night;
	}
	if (worst != NULL)
		flag_frost(dossier, worst, hurt, today, out);
}
