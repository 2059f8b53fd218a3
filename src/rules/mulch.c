/* SPDX-License-Identifier: MIT */
/* Rules about mulch: the yearly layer, and mulch against the trunk or too deep. */
#include <stdio.h>
#include <stdlib.h>

#include "core/text.h"
#include "look.h"

/* A habit is asked about for so long from its usual day; a mulch so long before it counts. */
enum { DUE_DAYS = 45, EARLY_DAYS = 90, HABIT_SEASONS = 4, SPREAD_DAYS = 60 };
/* Mulch at the bark is work for so long after it was told, and is remembered for so long. */
enum { TRUNK_DUE_DAYS = 60, TRUNK_DAYS = 365, DEEP_DAYS = 120 };

static const char *const against =
	"against the trunk|against the bark|against the stem|against trunk|touching the trunk|"
	"touching the bark|up to the trunk|up the trunk|on the trunk|over the collar|"
	"over the root flare|on the bark|against the collar|mulch volcano|volcano|round the stem";
static const char *const kept_clear =
	"not against|not touching|not on the trunk|not up to|clear of|off the trunk|off the bark|"
	"away from|pulled back|raked back|drawn back|gap|kept back|none against";

/* --- the yearly layer --- */

struct habit {
	struct date last[HABIT_SEASONS]; /* the last mulch of each season, newest first */
	int32_t seasons;
};

static struct habit habit_of(const struct dossier *dossier, int32_t before_year)
{
	struct habit habit = {.seasons = 0};
	int32_t year = INT32_MAX;

	for (int32_t i = dossier->entry_count; i-- > 0 && habit.seasons < HABIT_SEASONS;) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (entry->kind != KIND_MULCH || !look_day(entry, &day))
			continue;
		int32_t at = look_work_year(dossier, day);
		if (at >= before_year || at == year)
			continue;
		year = at;
		habit.last[habit.seasons++] = day;
	}
	return habit;
}

static int compare_i32(const void *left, const void *right)
{
	const int32_t *a = left;
	const int32_t *b = right;

	return (*a > *b) - (*a < *b);
}

/* The place of the year at which it is mulched here; false: no settled time. */
static bool usual_place(const struct habit *habit, int32_t *place)
{
	int32_t away[HABIT_SEASONS];
	int32_t newest = circle_of_date(habit->last[0]);

	for (int32_t i = 0; i < habit->seasons; i++)
		away[i] = circle_difference(newest, circle_of_date(habit->last[i]));
	qsort(away, (size_t)habit->seasons, sizeof away[0], compare_i32);
	*place = newest + away[(habit->seasons - 1) / 2];
	return away[habit->seasons - 1] - away[0] <= SPREAD_DAYS;
}

static void flag_mulch(const struct dossier *dossier, const struct habit *habit, struct date from,
	struct date today, struct flags *out)
{
	const char *bad = look_bad_day(dossier, today);
	struct flag *flag =
		flags_add(out, "mulch-due", dossier, bad != NULL ? URGENCY_NOTE : URGENCY_DUE);
	const struct fact_row *gap = dossier->kind.species != NULL
					     ? species_fact(dossier->kind.species, "mulch-gap")
					     : NULL;
	enum unit_system units = dossier->place->units;
	char when[24], near[32], far[32], cause[DATE_SIZE], span[64];

	look_say(&flag->says,
		"The time of year you mulched it in %d earlier seasons, the last on %s; none is "
		"logged since.",
		habit->seasons, date_format_plain(habit->last[0], when, sizeof when));
	struct text_builder words = text_builder_fixed(flag->action, sizeof flag->action);
	text_add(&words, "");
	if (bad != NULL)
		text_add_format(&words, "Not today: %s. ", bad);
	text_add(&words, "Top it up over the roots; no clippings from weed-killed lawns.");
	if (gap != NULL && gap->low.known && gap->high.known)
		text_add_format(&words, " Keep %s to %s round the trunk bare.",
			length_format(gap->low.value, units, near, sizeof near),
			length_format(gap->high.value, units, far, sizeof far));
	flag->began = known_date(from);
	flag->window_from = known_date(from);
	flag->window_to = known_date(date_add_days(from, DUE_DAYS));
	snprintf(flag->basis, sizeof flag->basis, "your mulch, %d seasons", habit->seasons);
	proof_habit(dossier, KIND_MULCH, BY_WORK, look_work_year(dossier, from), out, flag);
	flag_evidence(out, flag, "asked from the middle of those days on, for %d days: %s",
		DUE_DAYS, look_span(from, flag->window_to.value, span, sizeof span));
	flag->settles = KIND_MULCH;
	snprintf(flag->fills, sizeof flag->fills, "%s mulched ", dossier->tree.label);
	flag_key_set(flag, look_work_year(dossier, from), date_format(from, cause));
}

void rule_mulch_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct habit habit = habit_of(dossier, look_work_year(dossier, today));
	int32_t place = 0;

	if (dossier->host != NULL || habit.seasons < 2 || !usual_place(&habit, &place))
		return;
	int32_t year = date_parts(today).year;
	for (int32_t at = year - 1; at <= year + 1; at++) {
		if (at < 1 || at > 9999)
			continue;
		struct date from = date_of_month_day(at, circle_month_day(place));
		struct date to = date_add_days(from, DUE_DAYS);

		flags_change_on(out, today, from);
		flags_change_on(out, today, date_add_days(to, 1));
		if (date_compare(today, from) >= 0 && date_compare(today, to) <= 0 &&
			dossier_between(dossier, KIND_MULCH, date_add_days(from, -EARLY_DAYS), to,
				NULL, 0) == 0)
			flag_mulch(dossier, &habit, from, today, out);
	}
}

/* --- against the trunk --- */

struct heap {
	const struct entry *told;   /* mulch at the bark; NULL none, or put right since */
	struct date day;            /* of it */
	const struct entry *newest; /* mulch entry */
	struct date laid;           /* of that */
};

static struct heap heap_of(const struct dossier *dossier)
{
	struct heap heap = {.told = NULL};
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		bool mulch = entry->kind == KIND_MULCH;
		bool speaks = mulch || ((entry->kind == KIND_SAW || entry->kind == KIND_NOTE) &&
					       look_tells(entry, "mulch|chips|straw|volcano"));

		if (!speaks || !look_day(entry, &day))
			continue;
		bool told = look_tells(entry, against) && !look_tells(entry, kept_clear);
		heap.told = told ? entry : NULL;
		heap.day = told ? day : heap.day;
		heap.newest = mulch ? entry : heap.newest;
		heap.laid = mulch ? day : heap.laid;
	}
	return heap;
}

/* How deep the newest mulch was laid where that is over the published depth; 0 else. */
static int64_t too_deep_um(
	const struct dossier *dossier, const struct heap *heap, const struct fact_row **limit)
{
	const struct amount *depth =
		heap->newest != NULL ? entry_amount(heap->newest, FIELD_DEPTH) : NULL;

	if (dossier->kind.species == NULL || depth == NULL || !depth->low.known)
		return 0;
	*limit = species_fact(dossier->kind.species, "mulch-depth");
	if (*limit == NULL || !(*limit)->high.known || depth->low.value <= (*limit)->high.value)
		return 0;
	return depth->low.value;
}

static void say_gap(const struct dossier *dossier, struct flag *flag)
{
	const struct fact_row *gap = dossier->kind.species != NULL
					     ? species_fact(dossier->kind.species, "mulch-gap")
					     : NULL;
	enum unit_system units = dossier->place->units;
	char near[32] = "", far[32] = "";

	if (gap != NULL && gap->low.known && gap->high.known)
		look_say(&flag->action,
			"Rake it back until %s to %s round the trunk are bare and the root flare "
			"shows. Look at the bark for wet or gnawed spots.",
			length_format(gap->low.value, units, near, sizeof near),
			length_format(gap->high.value, units, far, sizeof far));
	else
		look_say(&flag->action, "Rake it back until the root flare shows. Look at the bark "
					"for wet or gnawed "
					"spots.");
}

static void flag_trunk(const struct dossier *dossier, const struct heap *heap, struct date today,
	struct flags *out)
{
	bool fresh = date_days_between(heap->day, today) <= TRUNK_DUE_DAYS &&
		     look_bad_day(dossier, today) == NULL;
	struct flag *flag =
		flags_add(out, "mulch-on-trunk", dossier, fresh ? URGENCY_DUE : URGENCY_NOTE);
	char when[24];

	look_say(&flag->says,
		"Mulch lay against the trunk on %s: bark that stays wet rots, and borers and mice "
		"hide there.",
		date_format_plain(heap->day, when, sizeof when));
	say_gap(dossier, flag);
	flag->began = known_date(heap->day);
	snprintf(flag->basis, sizeof flag->basis, "common practice");
	flag->settles = KIND_NOTE;
	snprintf(flag->fills, sizeof flag->fills, "%s note mulch raked back from the trunk ",
		dossier->tree.label);
	proof_entry(out, flag, "", heap->told);
	flag_key_set(flag, look_work_year(dossier, heap->day), heap->told->id);
}

static void flag_deep(const struct dossier *dossier, const struct heap *heap, int64_t deep_um,
	const struct fact_row *limit, struct flags *out)
{
	enum unit_system units = dossier->place->units;
	struct flag *flag = flags_add(out, "mulch-on-trunk", dossier, URGENCY_NOTE);
	char laid[32], most[32];

	look_say(&flag->says, "Mulched %s deep; the depth given for it ends at %s.",
		length_format(deep_um, units, laid, sizeof laid),
		length_format(limit->high.value, units, most, sizeof most));
	look_say(&flag->action, "Spread the rest further out. A deep layer keeps water and air "
				"from the roots; chips "
				"settle, so measure again in some weeks.");
	flag->began = known_date(heap->laid);
	flag->source = limit->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	proof_entry(out, flag, "", heap->newest);
	flag_key_set(flag, look_work_year(dossier, heap->laid), heap->newest->id);
}

void rule_mulch_on_trunk(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct fact_row *limit = NULL;

	if (dossier->host != NULL)
		return;
	struct heap heap = heap_of(dossier);
	if (heap.told != NULL) {
		flags_change_on(out, today, date_add_days(heap.day, TRUNK_DUE_DAYS + 1));
		flags_change_on(out, today, date_add_days(heap.day, TRUNK_DAYS + 1));
		if (date_days_between(heap.day, today) <= TRUNK_DAYS)
			flag_trunk(dossier, &heap, today, out);
		return;
	}
	int64_t deep_um = too_deep_um(dossier, &heap, &limit);
	if (deep_um == 0 || heap.newest == NULL)
		return;
	flags_change_on(out, today, date_add_days(heap.laid, DEEP_DAYS + 1));
	if (date_days_between(heap.laid, today) <= DEEP_DAYS)
		flag_deep(dossier, &heap, deep_um, limit, out);
}
