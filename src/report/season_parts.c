/* SPDX-License-Identifier: MIT */
/* What may explain a crop, and the sums by kind. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "rules/rule.h"
#include "season_inner.h"

enum { CANDIDATES_OF_LINE = 6 };

static void offer(struct season_line *line, struct arena *arena, const char *text)
{
	if (line->candidate_count < CANDIDATES_OF_LINE)
		line->candidates[line->candidate_count++] = arena_text(arena, text);
}

/* Did the cut set the tree back for the crop of this season? */
static bool set_back(
	const struct dossier *dossier, const struct entry *entry, struct date day, int32_t year)
{
	struct window_span harvest;
	struct date until;

	return rule_cut_sets_back(dossier, entry, &until) &&
	       season_harvest(&dossier->season_rule, year, &harvest) &&
	       date_compare(day, harvest.to) < 0 && date_compare(harvest.from, until) < 0;
}

static void offer_cuts(const struct dossier *dossier, struct season_line *line, struct arena *arena)
{
	char text[240], when[24], share[TYPED_SIZE + 8];

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		const struct amount *amount = entry_amount(entry, FIELD_SHARE_CROWN);
		struct maybe_date day = date_span_first(&entry->day);

		if (entry->kind != KIND_CUT || !day.known)
			continue;
		bool cost = rule_cut_cost_crop(dossier, entry, NULL) &&
			    rule_cut_crop_year(dossier, entry) == line->season.year;
		if (!cost && !set_back(dossier, entry, day.value, line->season.year))
			continue;
		if (amount == NULL)
			amount = entry_amount(entry, FIELD_SHARE);
		snprintf(share, sizeof share, "%s%s", amount != NULL ? " " : "",
			amount != NULL ? amount->typed : "");
		snprintf(text, sizeof text, "%s cut%s on %s: %s",
			cut_kind_row(entry_cut_kind(entry))->title, share,
			date_format_plain(day.value, when, sizeof when),
			cost ? "flower wood or fruit went with it"
			     : "this kind answers a hard cut with leaves for a while");
		offer(line, arena, text);
	}
}

/* Days of the crop's making: from the season before this one's harvest opens to its own end. */
static struct window_span crop_days(const struct dossier *dossier, int32_t year)
{
	struct window_span span = season_span(&dossier->season_rule, year);
	struct window_span harvest;

	if (season_harvest(&dossier->season_rule, year - 1, &harvest))
		span.from = date_add_days(harvest.to, 1);
	return span;
}

static void offer_weather(
	const struct dossier *dossier, struct season_line *line, struct arena *arena)
{
	struct window_span days = crop_days(dossier, line->season.year);
	char text[160], when[24];
	int32_t frosts = 0;
	struct date last = {0};

	for (int32_t i = 0; i < dossier->place_entry_count; i++) {
		const struct entry *entry = dossier->place_entries[i];
		const char *what = entry_detail(entry, FIELD_WEATHER);
		struct maybe_date day = date_span_first(&entry->day);

		if (entry->kind != KIND_WEATHER || !day.known ||
			date_compare(day.value, days.from) < 0 ||
			date_compare(day.value, days.to) > 0)
			continue;
		if (strcmp(what, "frost") == 0) {
			frosts++;
			last = day.value;
		} else if (strcmp(what, "hail") == 0 || strcmp(what, "storm") == 0 ||
			   strcmp(what, "heat") == 0) {
			snprintf(text, sizeof text, "%s on %s", what,
				date_format_plain(day.value, when, sizeof when));
			offer(line, arena, text);
		}
	}
	if (frosts > 0) {
		snprintf(text, sizeof text, "%d frost%s logged, the last on %s", frosts,
			frosts == 1 ? "" : "s", date_format_plain(last, when, sizeof when));
		offer(line, arena, text);
	}
}

static void offer_seen(const struct dossier *dossier, struct season_line *line, struct arena *arena)
{
	struct window_span days = crop_days(dossier, line->season.year);
	char text[240], when[24];
	int32_t feeds = 0;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct maybe_date day = date_span_first(&entry->day);

		if (!day.known || date_compare(day.value, days.from) < 0 ||
			date_compare(day.value, days.to) > 0)
			continue;
		feeds += entry->kind == KIND_FEED;
		if (entry->kind != KIND_SAW)
			continue;
		snprintf(text, sizeof text, "saw %s%s%s on %s",
			entry_detail(entry, FIELD_SUBJECT_SEEN),
			entry_detail(entry, FIELD_SEVERITY)[0] ? ", " : "",
			entry_detail(entry, FIELD_SEVERITY),
			date_format_plain(day.value, when, sizeof when));
		offer(line, arena, text);
	}
	if (feeds > 0) {
		snprintf(text, sizeof text, "fed %d time%s", feeds, feeds == 1 ? "" : "s");
		offer(line, arena, text);
	}
}

/* A heavy crop before: named only from four seasons on. */
static void offer_alternation(struct season_line *line, struct arena *arena)
{
	enum { SEASONS_LEAST = 4 };
	char text[120];

	if (line->alternation.seasons < SEASONS_LEAST || line->alternation.pairs < 3 ||
		line->alternation.index < 0.3)
		return;
	snprintf(text, sizeof text, "crops swing from year to year (index %.2f, %d pairs)",
		line->alternation.index, line->alternation.pairs);
	offer(line, arena, text);
}

void season_candidates(const struct dossier *dossier, struct season_line *line, struct arena *arena)
{
	if (line->season.state == SEASON_TO_COME)
		return;
	offer_cuts(dossier, line, arena);
	offer_weather(dossier, line, arena);
	offer_seen(dossier, line, arena);
	offer_alternation(line, arena);
}

/* --- sums by kind --- */

static void join(struct amount_sum *sum, const struct amount_sum *part)
{
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

static struct season_kind_total *total_of(struct season_report *report, const char *kind)
{
	for (int32_t i = 0; i < report->total_count; i++)
		if (strcmp(report->totals[i].kind_name, kind) == 0)
			return &report->totals[i];
	struct season_kind_total *total = &report->totals[report->total_count++];
	text_copy(total->kind_name, sizeof total->kind_name, kind);
	return total;
}

/* A crop that is not all in yet is summed but never averaged. */
static bool is_averaged(const struct season_line *line)
{
	return line->season.state != SEASON_IN_PROGRESS &&
	       amount_sum_point(&line->season.picked).known;
}

static void work_out_mean(struct season_report *report, struct season_kind_total *total)
{
	double sum = 0.0;

	for (int32_t i = 0; i < report->count; i++) {
		const struct season_line *line = &report->lines[i];

		if (!is_averaged(line) || total_of(report, kind_of(line)) != total)
			continue;
		sum += (double)amount_sum_point(&line->season.picked).value;
		total->with_figure++;
	}
	if (total->with_figure > 0)
		total->mean_mg = known_i64(round_i64(sum / total->with_figure));
}

void season_totals(struct season_report *report, struct arena *arena)
{
	report->totals = arena_array(arena, (size_t)report->count + 1, sizeof report->totals[0]);
	report->total_count = 0;
	for (int32_t i = 0; i < report->count; i++) {
		const struct season_line *line = &report->lines[i];
		struct season_kind_total *total = total_of(report, kind_of(line));

		total->trees += line->subject.kind == SUBJECT_TREE && !line->is_graft;
		join(&total->picked, &line->season.picked);
		join(&total->lost, &line->season.lost);
		join(&total->fruit, &line->season.fruit);
		total->unweighed += line->season.unweighed;
	}
	for (int32_t i = 0; i < report->total_count; i++)
		work_out_mean(report, &report->totals[i]);
}
