/* SPDX-License-Identifier: MIT */
/* The rule about frost while buds, flowers or small fruit stood open to it. */
#include <stdio.h>

#include "core/text.h"
#include "reckon/frost.h"
#include "reckon/sky.h"
#include "look.h"

/* A frost is told for so long, and is work for the shorter while. */
enum { FROST_DAYS = 42, FROST_WORK_DAYS = 21 };
/* A logged stage stands for so many days; of fruitlets for longer; and backward for a few. */
enum { STAGE_DAYS = 14, FRUITLET_DAYS = 30, STAGE_BACK_DAYS = 3, STAGE_SEASON_DAYS = 120 };
enum { CODE_BLOOM = 60, CODE_OVER = 68 };

/* The stage the tree was in on a day, and how it is known. */
struct stage_on {
	const struct frost_stage *stage; /* NULL not known */
	const struct entry *entry;       /* as logged; NULL: by the window */
	struct window window;
	int32_t code;
};

struct table {
	struct frost_stage stages[FROST_STAGES_MAX];
	int32_t count;
};

/* The growth stage of an entry; "bloom" alone is the middle of it. */
static int32_t code_of(const struct entry *entry)
{
	const struct amount *stage = entry_amount(entry, FIELD_STAGE);
	struct maybe_i64 point = stage != NULL ? amount_point(stage) : (struct maybe_i64){0};

	return entry->kind == KIND_STAGE && point.known ? (int32_t)point.value : -1;
}

/* What the grower logged nearest to the day; *says_not: their lines say it was no bloom then. */
static const struct entry *logged_stage(
	const struct dossier *dossier, struct date day, bool *says_not)
{
	const struct entry *before = NULL;
	const struct entry *after = NULL;
	struct date at = {0};

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		int32_t code = code_of(entry);

		if (code < 0 || !look_day(entry, &at))
			continue;
		int32_t ago = date_days_between(at, day);
		if (ago >= 0 && ago <= STAGE_SEASON_DAYS)
			before = entry;
		else if (ago < 0 && -ago <= STAGE_BACK_DAYS && after == NULL)
			after = entry;
		*says_not =
			*says_not || (ago < 0 && -ago <= STAGE_SEASON_DAYS && code < CODE_BLOOM);
	}
	if (before != NULL && look_day(before, &at)) {
		bool over = code_of(before) >= CODE_OVER;

		if (date_days_between(at, day) <= (over ? FRUITLET_DAYS : STAGE_DAYS))
			return before;
		*says_not = *says_not || over;
	}
	return after;
}

static struct stage_on stage_of(
	const struct dossier *dossier, const struct table *table, struct date day)
{
	struct stage_on on = {.stage = NULL};
	bool says_not = false;

	on.entry = logged_stage(dossier, day, &says_not);
	if (on.entry != NULL) {
		on.code = code_of(on.entry);
		on.stage = frost_stage_at(table->stages, table->count, on.code);
		return on;
	}
	on.window = dossier_window(dossier, WINDOW_BLOOM, day);
	if (says_not || !on.window.known || on.window.all_year || !window_holds(&on.window, day))
		return on;
	struct window_span span = window_span_at(&on.window, day);
	int32_t length = date_days_between(span.from, span.to);
	double share = length > 0 ? (double)date_days_between(span.from, day) / length : 0;
	on.stage = frost_stage_in_bloom(table->stages, table->count, share);
	on.code = on.stage != NULL ? on.stage->code_from : 0;
	return on;
}

/* A night cold enough for the stage. */
struct night {
	const struct day_weather *day;
	int32_t min_decic;
	struct stage_on on;
	struct frost_loss loss;
	bool half; /* the table tells half or more of the crop, and no more */
};

static bool is_hurt(const struct dossier *dossier, const struct table *table, const struct sky *sky,
	const struct day_weather *day, struct night *night)
{
	struct maybe_i32 min_decic = sky_min_decic(sky, day);

	if (!min_decic.known)
		return false;
	*night = (struct night){
		.day = day, .min_decic = min_decic.value, .on = stage_of(dossier, table, day->day)};
	const struct frost_stage *stage = night->on.stage;
	if (stage == NULL)
		return false;
	night->half = !stage->ten_decic.known && stage->half_decic.known &&
		      min_decic.value <= stage->half_decic.value;
	if (night->half)
		night->loss = (struct frost_loss){.band = FROST_UNTOLD, .low = 0.5, .high = 1};
	else if (frost_loss_of_stage(stage, min_decic.value, &night->loss, NULL) != STATUS_OK)
		return false;
	return night->loss.band != FROST_ABOVE;
}

static bool is_worse(const struct night *a, const struct night *b)
{
	if (a->loss.low != b->loss.low)
		return a->loss.low > b->loss.low;
	return a->loss.has_point && b->loss.has_point && a->loss.linear > b->loss.linear;
}

/* Has the grower looked since, and logged what the frost did. */
static bool is_looked_at(const struct dossier *dossier, struct date night)
{
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if ((entry->kind == KIND_SAW || entry->kind == KIND_LOSS ||
			    entry->kind == KIND_NOTE) &&
			look_day(entry, &day) && date_compare(day, night) >= 0 &&
			look_tells(entry, "frost|frosted|frost damage|freeze|frozen"))
			return true;
	}
	return false;
}

static const char *organ(int32_t code)
{
	return code < CODE_BLOOM ? "bud" : code < CODE_OVER ? "flower" : "fruitlet";
}

static const char *loss_words(const struct night *night, char *out, size_t size)
{
	const char *what = organ(night->on.code);

	if (night->half)
		snprintf(out, size, "half of the crop or more");
	else if (night->loss.band == FROST_BELOW)
		snprintf(out, size, "nine %ss in ten or more", what);
	else if (night->loss.band == FROST_UNTOLD)
		snprintf(out, size, "one %s in ten or more", what);
	else
		snprintf(out, size,
			"between one and nine %ss in ten, about %.0f %% on a straight line between "
			"(ours)",
			what, 100 * night->loss.linear);
	return out;
}

static const char *stage_words(const struct stage_on *on, char *out, size_t size)
{
	struct date day = {0};
	char when[24], by[64];

	if (on->entry != NULL && look_day(on->entry, &day))
		snprintf(out, size, "as you logged on %s",
			date_format_plain(day, when, sizeof when));
	else
		snprintf(out, size, "%s", look_by(&on->window, by, sizeof by));
	return out;
}

static void tell_points(const struct dossier *dossier, const struct night *night, struct flags *out,
	struct flag *flag)
{
	const struct frost_stage *stage = night->on.stage;
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

static void tell_evidence(const struct dossier *dossier, const struct night *night, int32_t nights,
	struct flags *out, struct flag *flag)
{
	const struct stage_on *on = &night->on;
	char words[FLAG_SAYS_SIZE], low[32];

	flag_evidence(out, flag, "minimum %s, %s",
		temperature_format(night->min_decic, dossier->place->units, low, sizeof low),
		sky_whose(dossier, night->day, night->day->min_entry, words, sizeof words));
	tell_points(dossier, night, out, flag);
	if (on->entry != NULL) {
		flag_evidence(out, flag, "the stage as logged: %s", on->entry->words);
		flag_entry_add(flag, on->entry);
	} else {
		struct window_span span = window_span_at(&on->window, night->day->day);

		flag_evidence(out, flag, "bloom %s: %s; log the stage to be sure",
			look_span(span.from, span.to, words, sizeof words),
			stage_words(on, low, sizeof low));
	}
	if (nights > 1)
		flag_evidence(out, flag,
			"%d nights were cold enough for the stage; the worst is told", nights);
	if (night->day->min_entry != NULL)
		flag_entry_add(flag, night->day->min_entry);
}

static void say_what_to_do(const struct dossier *dossier, const struct night *night,
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
		organ(night->on.code));
	if (needs != NULL && needs->low.known && needs->high.known)
		text_add_format(&words, "This kind bears a crop with %lld to %lld %% of its buds. ",
			(long long)needs->low.value / 10, (long long)needs->high.value / 10);
	else if (needs != NULL && needs->low.known)
		text_add_format(&words,
			"This kind needs over %lld %% of its buds for a full crop. ",
			(long long)needs->low.value / 10);
	text_add(&words, "Thin only once it shows what set; no cut and no feed for it now.");
}

static void flag_frost(const struct dossier *dossier, const struct night *night, int32_t nights,
	struct date today, struct flags *out)
{
	const struct frost_stage *stage = night->on.stage;
	struct date day = night->day->day;
	bool own = night->on.entry != NULL || night->on.window.basis == BASIS_LEARNED;
	bool work = own && look_may_alarm(stage->sure) &&
		    date_days_between(day, today) <= FROST_WORK_DAYS &&
		    look_bad_day(dossier, today) == NULL;
	struct flag *flag =
		flags_add(out, "frost-in-bloom", dossier, work ? URGENCY_DUE : URGENCY_NOTE);
	char low[32], when[24], known[80], loss[160], cause[DATE_SIZE];

	temperature_format(night->min_decic, dossier->place->units, low, sizeof low);
	date_format_plain(day, when, sizeof when);
	loss_words(night, loss, sizeof loss);
	stage_words(&night->on, known, sizeof known);
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
		night->on.entry != NULL ? "your logged stage" : "the bloom window");
	flag->settles = KIND_SAW;
	snprintf(flag->fills, sizeof flag->fills, "%s saw frost damage ", dossier->tree.label);
	tell_evidence(dossier, night, nights, out, flag);
	flag_key_set(flag, season_year_of(&dossier->season_rule, day), date_format(day, cause));
}

void rule_frost_in_bloom(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct table table;
	struct night worst = {.day = NULL};
	int32_t nights = 0;

	if (dossier->kind.species == NULL)
		return;
	table.count = frost_stages(dossier->kind.species, table.stages);
	if (table.count == 0)
		return;
	struct sky sky =
		sky_open(dossier, (struct day_span){date_add_days(today, -FROST_DAYS), today});
	for (int32_t i = 0; i < sky.count; i++) {
		struct night night;

		if (!is_hurt(dossier, &table, &sky, &sky.days[i], &night) ||
			is_looked_at(dossier, sky.days[i].day))
			continue;
		flags_change_on(out, today, date_add_days(sky.days[i].day, FROST_WORK_DAYS + 1));
		flags_change_on(out, today, date_add_days(sky.days[i].day, FROST_DAYS + 1));
		nights++;
		if (worst.day == NULL || is_worse(&night, &worst))
			worst = night;
	}
	if (nights > 0)
		flag_frost(dossier, &worst, nights, today, out);
	sky_close(&sky);
}
