/* SPDX-License-Identifier: MIT */
/* What may explain a crop, and the sums by kind. */
#include <assert.h>
#include <string.h>

#include "core/text.h"
#include "rules/causes.h"
#include "season_inner.h"

void season_candidates(const struct dossier *dossier, struct season_line *line, struct arena *arena)
{
	struct causes causes;

	if (line->season.state == SEASON_TO_COME)
		return;
	causes_of_crop(dossier, line->season.year, arena, &causes);
	for (int32_t i = 0; i < causes.count; i++)
		line->candidates[line->candidate_count++] = causes.texts[i];
}

/* --- grades --- */

/* The grade's row in the line, a new one where it is the first; NULL: no room. */
static struct season_grade *grade_of(struct season_line *line, const char *name)
{
	for (int32_t i = 0; i < line->grade_count; i++)
		if (strcmp(line->grades[i].name, name) == 0)
			return &line->grades[i];
	if (line->grade_count == GRADES_MAX || strlen(name) >= GRADE_NAME_SIZE)
		return NULL;
	struct season_grade *grade = &line->grades[line->grade_count++];
	text_copy(grade->name, sizeof grade->name, name);
	return grade;
}

void season_grades(const struct dossier *dossier, struct date today, struct season_line *line)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *pick = dossier->entries[i];
		const char *name = entry_detail(pick, FIELD_GRADE);
		const struct amount *weight = entry_amount(pick, FIELD_WEIGHT);
		int32_t year = 0;

		if (pick->kind != KIND_PICK || name[0] == '\0' ||
			!season_of_entry(pick, &dossier->season_rule, today, &year) ||
			year != line->season.year)
			continue;
		struct maybe_i64 mass_mg = weight != NULL && weight->container[0] == '\0'
						   ? amount_point(weight)
						   : (struct maybe_i64){0};
		struct season_grade *grade = mass_mg.known ? grade_of(line, name) : NULL;
		if (grade == NULL) { /* parts of a whole, or nothing */
			line->grade_count = 0;
			return;
		}
		grade->mass_mg += mass_mg.value;
	}
}

/* --- sums by kind --- */

static void join(struct amount_sum *sum, const struct amount_sum *part)
{
	assert(sum != NULL);
	sum->low += part->low;
	sum->high += part->high;
	sum->high_open = sum->high_open || part->high_open;
	sum->parts += part->parts;
	sum->missing += part->missing;
	sum->about = sum->about || part->about;
}

static const char *kind_of(const struct season_line *line)
{
	return line->kind_name[0] != '\0' ? line->kind_name : "unknown";
}

/* Sums by kind while they are added up. */
struct summing {
	struct season_report *report;
	struct arena *arena;
	double *picked_mg; /* of each kind, of what is averaged */
	int32_t room;
};

static void make_room(struct summing *summing)
{
	struct season_report *report = summing->report;
	size_t used = (size_t)summing->room;

	summing->room = summing->room == 0 ? 32 : summing->room * 2;
	report->totals = arena_grow(summing->arena, report->totals, used * sizeof *report->totals,
		(size_t)summing->room * sizeof *report->totals);
	summing->picked_mg =
		arena_grow(summing->arena, summing->picked_mg, used * sizeof *summing->picked_mg,
			(size_t)summing->room * sizeof *summing->picked_mg);
}

/* The place of a kind among the totals, a new one where it is the first. */
static int32_t place_of(struct summing *summing, const char *kind)
{
	struct season_report *report = summing->report;

	for (int32_t i = 0; i < report->total_count; i++)
		if (strcmp(report->totals[i].kind_name, kind) == 0)
			return i;
	if (report->total_count == summing->room)
		make_room(summing);
	struct season_kind_total *total = &report->totals[report->total_count];
	text_copy(total->kind_name, sizeof total->kind_name, kind);
	return report->total_count++;
}

/* A crop that is not all in yet is summed but never averaged. */
static bool is_averaged(const struct season_line *line)
{
	return line->season.state != SEASON_IN_PROGRESS &&
	       amount_sum_point(&line->season.picked).known;
}

static void add_line(struct summing *summing, const struct season_line *line)
{
	const int32_t at = place_of(summing, kind_of(line));
	struct season_kind_total *total = &summing->report->totals[at];

	total->trees += line->subject.kind == SUBJECT_TREE && !line->is_graft;
	join(&total->picked, &line->season.picked);
	join(&total->lost, &line->season.lost);
	join(&total->fruit, &line->season.fruit);
	total->unweighed += line->season.unweighed;
	if (!is_averaged(line))
		return;
	summing->picked_mg[at] += (double)amount_sum_point(&line->season.picked).value;
	total->with_figure++;
}

static void add_pooled(struct summing *summing, const struct pooled_crop *pooled)
{
	struct season_kind_total *total =
		&summing->report->totals[place_of(summing, pooled->kind_name)];

	if (pooled->is_loss) {
		join(&total->lost, &pooled->mass);
		return;
	}
	join(&total->picked, &pooled->mass);
	join(&total->pooled, &pooled->mass);
	total->unweighed += pooled->mass.missing;
}

void season_totals(struct season_report *report, const struct pooled_crop *pooled, int32_t count,
	struct arena *arena)
{
	struct summing summing = {.report = report, .arena = arena};

	report->totals = NULL;
	report->total_count = 0;
	for (int32_t i = 0; i < report->count; i++)
		add_line(&summing, &report->lines[i]);
	for (int32_t i = 0; i < count; i++)
		if (pooled[i].year == report->year)
			add_pooled(&summing, &pooled[i]);
	for (int32_t i = 0; i < report->total_count; i++) {
		struct season_kind_total *total = &report->totals[i];

		if (total->with_figure > 0)
			total->mean_mg =
				known_i64(round_i64(summing.picked_mg[i] / total->with_figure));
	}
}
