/* SPDX-License-Identifier: MIT */
#include "paper_parts.h"

#include <string.h>

void paper_begin(struct document *document, const struct on_paper *paper, const char *title)
{
	char day[24];

	document_begin(document, &paper->printer, paper->html, title);
	document_say(document, "As the log stands on %s.%s",
		date_format_plain(yard_today(paper->yard), day, sizeof day),
		paper->without_private ? " What is marked private is left out." : "");
}

enum status paper_finish(struct document *document, enum status status, struct fault *why)
{
	if (document->printer.stream == NULL)
		return status; /* not begun */
	enum status ended = document_end(document, status == STATUS_OK ? why : NULL);
	return status != STATUS_OK ? status : ended;
}

enum status paper_allows(const struct on_paper *paper, struct fault *why)
{
	struct arena *arena = arena_new();
	const struct dossier *dossier = NULL;
	enum status status = yard_dossier_in(paper->yard, paper->tree_id, arena, &dossier, why);

	if (status == STATUS_OK && paper->without_private && dossier_is_private(dossier))
		status = fault_set(why, STATUS_DENIED,
			"%s is marked private, and private trees are left out",
			dossier->tree.label);
	arena_free(arena);
	return status;
}

const char *paper_sum_words(
	const struct season_line *line, enum unit_system units, char *out, size_t size)
{
	season_sum_words(&line->season.picked, line->season.unweighed, units, out, size);
	if (out[0] == '\0')
		text_copy(out, size, season_state_words(line->season.state));
	return out;
}

/* Of the seasons that are over. */
static struct maybe_i64 mean_of(const struct season_report *report)
{
	double sum = 0.0;
	int32_t count = 0;

	for (int32_t i = 0; i < report->count; i++) {
		if (!season_line_is_compared(&report->lines[i]))
			continue;
		sum += (double)season_line_picked(&report->lines[i]).value;
		count++;
	}
	return (struct maybe_i64){count > 0 ? round_i64(sum / count) : 0, count > 0};
}

void paper_seasons(struct document *document, const struct season_report *report,
	enum unit_system units, struct arena *arena)
{
	struct document_bar *bars = arena_array(arena, (size_t)report->count + 1, sizeof *bars);
	const struct maybe_i64 mean = mean_of(report);
	const char *sentences[SEASON_PAST_MAX];
	char text[96], words[32];

	for (int32_t i = 0; i < report->count; i++) {
		const struct season_line *line = &report->lines[i];

		paper_sum_words(line, units, text, sizeof text);
		bars[i] = (struct document_bar){.label = line->season_name,
			.size = season_line_picked(line),
			.open = !season_line_is_compared(line)};
		bars[i].words = arena_format(arena, "%s%s", text,
			line->season.state == SEASON_IN_PROGRESS && bars[i].size.known
				? ", in progress"
				: "");
	}
	if (report->count > 0)
		document_bars(document,
			mean.known ? arena_format(arena, "What it gave; the line is its mean, %s",
					     mass_format(mean.value, units, words, sizeof words))
				   : "What it gave",
			bars, report->count, mean);
	const int32_t count =
		season_past_words(report->lines, report->count, units, arena, sentences);
	for (int32_t i = 0; i < count; i++)
		document_say(document, "%s", sentences[i]);
}

const char *paper_tree_title(const struct dossier *dossier, char *out, size_t size)
{
	char title[TREE_TITLE_SIZE];
	struct text_builder text = text_builder_fixed(out, size);

	text_add_format(&text, "%s  %s%s%s%s", store_tree_title(&dossier->tree, title),
		dossier->kind.name, dossier->kind.cultivar[0] != '\0' ? ", " : "",
		dossier->kind.cultivar,
		dossier->kind.cultivar[0] != '\0' && dossier->kind.cultivar_sure != SURE_CERTAIN
			? "?"
			: "");
	return out;
}

/* Open, of this tree, and more than a thing to be known. */
static bool is_shown(const struct review_item *item, const char *tree_id)
{
	return item->state == FLAG_OPEN && item->flag.urgency != URGENCY_NOTE &&
	       strcmp(item->flag.tree_id, tree_id) == 0;
}

bool paper_has_flags(const struct review *review, const char *tree_id)
{
	for (int32_t i = 0; i < review->count; i++)
		if (is_shown(&review->items[i], tree_id))
			return true;
	return false;
}

void paper_flags(struct document *document, const struct review *review, const char *tree_id)
{
	for (int32_t i = 0; i < review->count; i++) {
		const struct flag *flag = &review->items[i].flag;

		if (is_shown(&review->items[i], tree_id))
			document_row(document, urgency_key(flag->urgency), "%s %s", flag->says,
				flag->action);
	}
}

void paper_cautions(struct document *document)
{
	document_say(document,
		"Before a ladder or a pole saw goes up, look up: power lines. Before digging, ask "
		"the local service what lies in the ground. No saw or ladder work in wind, ice or "
		"rain. For anything sprayed the product's label is the law; local codes and "
		"licensed practice stand above this paper.");
}
