/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "rules/saw.h"
#include "ribbon_draw.h"
#include "tree.h"
#include "tree_kin.h"
#include "urgency.h"

enum { DAY_CELLS = 13, HEIGHTS = 8, CROPS_MAX = 64 };

/* A page is drawn and measured by one walk. */
struct pen {
	struct paper *paper; /* NULL: only measured */
	bool ascii;
	int row;
	int columns;
	int end; /* rows from here on are not seen */
};

static void pen_text(struct pen *pen, int column, enum style style, const char *text)
{
	if (text[0] == '\0')
		return;
	int rows = paper_wrap_rows(text, pen->columns - column);
	if (pen->paper != NULL)
		paper_wrap(pen->paper, pen->row, column, pen->columns - column, rows, style, text);
	pen->row += rows;
}

static void pen_heading(struct pen *pen, const char *text)
{
	pen->row++;
	if (pen->paper != NULL)
		paper_put(pen->paper, pen->row, 0, 0, STYLE_TITLE, text);
	pen->row++;
}

/* --- what it is --- */

static void add_identity(struct text_builder *text, const struct tree_kind *kind)
{
	if (kind->species != NULL)
		text_add_format(text, "%s (%s)", kind->species->name, sure_title(kind->sure));
	else if (kind->candidate_count > 0)
		text_add_format(text, "%s (not decided)", kind->name);
	else
		text_add(text, kind->name);
	if (kind->cultivar[0] != '\0')
		text_add_format(text, ", %s (%s)", kind->cultivar, sure_title(kind->cultivar_sure));
}

static void pen_hazard(struct pen *pen, const struct tree_page *page)
{
	char text[TEXT_SIZE + 64];
	const struct tree *tree = &page->dossier->tree;
	if (tree->hazard[0] != '\0') {
		snprintf(text, sizeof text, "! %s", tree->hazard);
		pen_text(pen, 0, STYLE_HAZARD, text);
	}
	if (tree->gone.text[0] != '\0') {
		char day[80];
		snprintf(text, sizeof text, "Gone %s: %s",
			date_span_format_plain(&tree->gone, day, sizeof day), tree->gone_reason);
		pen_text(pen, 0, STYLE_STRONG, text);
	}
}

static void pen_name(struct pen *pen, const struct tree_page *page)
{
	char text[FAULT_TEXT_SIZE * 2];
	struct text_builder line = text_builder_fixed(text, sizeof text);
	text_add_format(&line, "%s  ", page->dossier->tree.label);
	add_identity(&line, &page->dossier->kind);
	pen_text(pen, 0, STYLE_STRONG, text);
}

/* Was it ever taken for something else: two opinions about one thing. */
static bool has_history(const struct tree_page *page)
{
	for (int32_t i = 1; i < page->opinion_count; i++)
		for (int32_t before = 0; before < i; before++)
			if (page->opinions[i].is_cultivar == page->opinions[before].is_cultivar &&
				strcmp(page->opinions[i].opinion, page->opinions[before].opinion) !=
					0)
				return true;
	return false;
}

/* Names it had, newest first: what it was taken for, from when, by whom and why. */
static void pen_opinions(struct pen *pen, const struct tree_page *page)
{
	char text[FAULT_TEXT_SIZE * 2], day[80];
	if (!has_history(page) && !page->all)
		return;
	for (int32_t i = page->opinion_count - 1; i >= 0; i--) {
		const struct identity *opinion = &page->opinions[i];
		struct text_builder line = text_builder_fixed(text, sizeof text);
		date_span_format_plain(&opinion->day, day, sizeof day);
		text_add_format(&line, "%s %s, %s", opinion->is_cultivar ? "named" : "taken for",
			opinion->name, sure_title(opinion->sure));
		if (opinion->day.text[0] != '\0')
			text_add_format(&line, ", %s", day);
		if (opinion->who[0] != '\0')
			text_add_format(&line, ", by %s", opinion->who);
		if (opinion->is_change)
			text_add(&line, ", a change from that day on");
		if (opinion->reason[0] != '\0')
			text_add_format(&line, ": %s", opinion->reason);
		pen_text(pen, 2, STYLE_FAINT, text);
	}
}

static void add_fact(struct text_builder *facts, const char *what, const char *fact)
{
	if (fact[0] != '\0')
		text_add_format(facts, "%s%s%s", facts->length > 0 ? "; " : "", what, fact);
}

static void add_age(struct text_builder *facts, const struct dossier *dossier)
{
	char day[80];
	if (dossier->tree.planted.text[0] == '\0')
		return;
	add_fact(
		facts, "planted ", date_span_format_plain(&dossier->tree.planted, day, sizeof day));
	if (dossier->age_low_years.known && dossier->age_high_years.known &&
		dossier->age_low_years.value == dossier->age_high_years.value)
		text_add_format(facts, " (%d years)", dossier->age_low_years.value);
	else if (dossier->age_low_years.known && dossier->age_high_years.known)
		text_add_format(facts, " (%d to %d years)", dossier->age_low_years.value,
			dossier->age_high_years.value);
}

static void add_trunk(struct text_builder *facts, const struct tree_page *page)
{
	char across[32], day[24];
	const struct trunk *trunk = &page->dossier->trunk;
	if (!trunk->known) {
		add_fact(facts, "", "trunk not measured");
		return;
	}
	add_fact(facts, "trunk ",
		length_format(trunk->diameter_um, page->numbers.units, across, sizeof across));
	text_add_format(facts, " across, measured %s%s",
		date_format_plain(trunk->day, day, sizeof day),
		trunk->stems > 1 ? ", its stems as one" : "");
	if (page->stems[0] != '\0')
		text_add_format(facts, " (%s)", page->stems);
}

static void add_grafts(struct text_builder *facts, const struct dossier *dossier)
{
	if (dossier->host != NULL)
		add_fact(facts, "grafted on ", dossier->host->tree.label);
	for (int32_t i = 0; i < dossier->graft_count; i++) {
		const struct dossier *graft = dossier->grafts[i];
		add_fact(facts, i == 0 ? "carries " : "", graft->tree.label);
		text_add_format(facts, " (%s%s%s)", graft->kind.name,
			graft->kind.cultivar[0] != '\0' ? ", " : "", graft->kind.cultivar);
	}
}

static void pen_facts(struct pen *pen, const struct tree_page *page)
{
	struct arena *arena = arena_new();
	struct text_builder facts = text_builder_in(arena);
	const struct dossier *dossier = page->dossier;
	text_add(&facts, "");
	add_age(&facts, dossier);
	if (dossier->spot != NULL)
		add_fact(&facts, "in spot ", dossier->spot->name);
	if (dossier->host == NULL)
		add_trunk(&facts, page);
	add_fact(&facts, "", page->origin);
	add_fact(&facts, "on ", dossier->tree.rootstock);
	add_grafts(&facts, dossier);
	add_fact(&facts, "", page->children);
	if (dossier->tree.over_fence)
		add_fact(&facts, "", "over the fence");
	add_fact(&facts, "", dossier->tree.note);
	pen_text(pen, 2, STYLE_PLAIN, facts.text);
	arena_free(arena);
}

/* Its worst flag; the rest are a key away. */
static void pen_flag(struct pen *pen, const struct tree_page *page)
{
	if (page->review.count == 0)
		return;
	const struct flag *flag = &page->review.items[0].flag;
	if (pen->paper != NULL) {
		int more = page->review.count - 1;
		int end = pen->columns - (more > 0 ? 16 : 8);
		paper_put(pen->paper, pen->row, 2, 5, urgency_style(flag->urgency),
			urgency_word(flag->urgency));
		paper_put(pen->paper, pen->row, 8, end - 8, STYLE_PLAIN, flag->says);
		if (more > 0)
			paper_format(pen->paper, pen->row, end + 1, 0, STYLE_FAINT,
				"r: why, %d more", more);
		else
			paper_put(pen->paper, pen->row, end + 1, 0, STYLE_FAINT, "r: why");
	}
	pen->row++;
}

/* --- its year --- */

static void pen_ribbon(struct pen *pen, const struct tree_page *page)
{
	pen->row++;
	if (pen->paper != NULL)
		ribbon_draw(&page->ribbon, pen->paper, pen->row, 0, pen->columns);
	pen->row += ribbon_height(&page->ribbon, pen->ascii, pen->columns);
}

static const char *basis_words(enum basis basis)
{
	switch (basis) {
	case BASIS_ALMANAC:
		return "almanac";
	case BASIS_OWN:
		return "set by hand";
	case BASIS_LEARNED:
		return "its own days";
	}
	return "";
}

static void pen_span(struct pen *pen, enum window_kind kind, struct date first, struct date last,
	enum basis basis)
{
	const struct date_span days = date_span_between(first, last);
	char words[64], text[160];
	snprintf(text, sizeof text, "%s: %s (%s)", window_title(kind),
		date_span_format_plain(&days, words, sizeof words), basis_words(basis));
	pen_text(pen, 2, STYLE_PLAIN, text);
}

static void pen_all_year(struct pen *pen, enum window_kind kind)
{
	char text[160];
	snprintf(text, sizeof text, "%s: all year", window_title(kind));
	pen_text(pen, 2, STYLE_PLAIN, text);
}

/* By the rows that the rules read. */
static void pen_saw(struct pen *pen, const struct tree_page *page, enum window_kind kind)
{
	const struct saw_span span = saw_span_at(page->dossier,
		kind == WINDOW_CUT_CLEAR ? VERDICT_CLEAR : VERDICT_AVOID, page->today);
	if (span.all_year)
		pen_all_year(pen, kind);
	else if (span.known)
		pen_span(pen, kind, span.from, span.to, span.basis);
}

static void pen_windows(struct pen *pen, const struct tree_page *page)
{
	for (int kind = 0; kind < WINDOW_TOTAL; kind++) {
		enum window_kind which = (enum window_kind)kind;
		struct window window = dossier_window(page->dossier, which, page->today);
		if (which == WINDOW_CUT_CLEAR || which == WINDOW_CUT_AVOID) {
			pen_saw(pen, page, which);
			continue;
		}
		if (!window.known)
			continue;
		struct window_span span = window_span_at(&window, page->today);
		if (window.all_year)
			pen_all_year(pen, which);
		else
			pen_span(pen, which, span.from, span.to, window.basis);
	}
}

/* --- its crops --- */

static const char *height_of(int64_t value, int64_t most)
{
	static const char *const heights[HEIGHTS + 1] = {
		"", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
	if (most <= 0 || value <= 0)
		return "";
	int64_t eighths = (value * HEIGHTS + most / 2) / most;
	return heights[eighths < 1 ? 1 : eighths > HEIGHTS ? HEIGHTS : eighths];
}

/* "2024 190 lb", with its height beside it where the terminal has the blocks. */
static const char *crop_words(const struct tree_page *page, const struct season *season,
	int64_t most, bool ascii, char *out, size_t size)
{
	char name[16], sum[96];
	struct text_builder words = text_builder_fixed(out, size);
	struct maybe_i64 point = amount_sum_point(&season->picked);
	season_sum_words(&season->picked, season->unweighed, page->numbers.units, sum, sizeof sum);
	text_add_format(&words, "%s %s",
		season_name(&page->dossier->season_rule, season->year, name, sizeof name),
		sum[0] != '\0' ? sum : season_state_words(season->state));
	if (!ascii && point.known)
		text_add_format(&words, " %s", height_of(point.value, most));
	if (sum[0] != '\0' && season->state == SEASON_IN_PROGRESS)
		text_add(&words, " so far");
	return out;
}

/* The newest that fit on one row; oldest of them first. */
static void pen_crops(struct pen *pen, const struct tree_page *page)
{
	const struct dossier *dossier = page->dossier;
	char words[160];
	int64_t most = 0;
	int first = dossier->season_count, cells = 7;
	for (int32_t i = 0; i < dossier->season_count; i++) {
		struct maybe_i64 point = amount_sum_point(&dossier->seasons[i].picked);
		if (point.known && point.value > most)
			most = point.value;
	}
	for (; first > 0 && dossier->season_count - first < CROPS_MAX; first--) {
		cells += text_width(crop_words(page, &dossier->seasons[first - 1], most, pen->ascii,
				 words, sizeof words)) +
			 2;
		if (cells - 2 > pen->columns)
			break;
	}
	pen->row++;
	if (pen->paper != NULL) {
		paper_put(pen->paper, pen->row, 0, 0, STYLE_FAINT, "crops");
		int column = 7;
		for (int i = first; i < dossier->season_count; i++)
			column = paper_put(pen->paper, pen->row, column, 0, STYLE_PLAIN,
					 crop_words(page, &dossier->seasons[i], most, pen->ascii,
						 words, sizeof words)) +
				 2;
		if (first == dossier->season_count)
			paper_put(pen->paper, pen->row, 7, 0, STYLE_PLAIN, "none on record");
	}
	pen->row++;
}

/* Hours of direct sun where it stands. */
static void pen_sun(struct pen *pen, const struct tree_page *page)
{
	const int column = 7;
	if (page->sun[0] == '\0')
		return;
	if (pen->paper != NULL)
		paper_put(pen->paper, pen->row, 0, 0, STYLE_FAINT, "sun");
	pen_text(pen, column, STYLE_PLAIN, page->sun);
}

/* Files that were named, where they were named; the newest alone while the page is short. */
static void pen_photos(struct pen *pen, const struct tree_page *page)
{
	const int column = 7;
	char words[WORDS_SIZE + TEXT_SIZE], day[80];
	char line[sizeof words + sizeof day + 40];
	for (int32_t i = 0; i < page->photo_count && (i == 0 || page->all); i++) {
		const struct entry *photo = page->photos[i];
		const int more = page->all ? 0 : (int)page->photo_count - 1;
		(void)date_span_format_plain(&photo->day, day, sizeof day);
		(void)tree_kin_photo(photo, words, sizeof words);
		if (more > 0)
			(void)snprintf(line, sizeof line, "%s  %s (a: %d more)", day, words, more);
		else
			(void)snprintf(line, sizeof line, "%s  %s", day, words);
		if (pen->paper != NULL && i == 0)
			paper_put(pen->paper, pen->row, 0, 0, STYLE_FAINT, "photo");
		pen_text(pen, column, STYLE_PLAIN, line);
	}
}

/* --- its entries --- */

static const char *entry_words(
	const struct tree_page *page, const struct entry *entry, char *out, size_t size)
{
	char said[400];
	entry_format(entry, &page->numbers, said, sizeof said);
	bool noted = entry->note != NULL && entry->note[0] != '\0';
	struct text_builder words = text_builder_fixed(out, size);
	text_add_format(&words, "%s%s", said, noted ? "; " : "");
	if (noted)
		text_add(&words, entry->note);
	return out;
}

static void pen_entry(struct pen *pen, const struct tree_page *page, const struct entry *entry)
{
	char words[WORDS_SIZE + 400], day[80];
	bool seen = pen->paper != NULL && pen->row < pen->end;
	if (page->all) {
		if (seen)
			paper_put(pen->paper, pen->row, 0, 0, STYLE_FAINT,
				date_span_format_plain(&entry->day, day, sizeof day));
		pen->row++;
		pen_text(pen, 2, STYLE_PLAIN, entry_words(page, entry, words, sizeof words));
		return;
	}
	if (seen && pen->row >= 0) {
		date_span_format_plain(&entry->day, day, sizeof day);
		paper_put(pen->paper, pen->row, 0, DAY_CELLS + 4, STYLE_FAINT, day);
		paper_put(pen->paper, pen->row, DAY_CELLS + 5, 0, STYLE_PLAIN,
			entry_words(page, entry, words, sizeof words));
	}
	pen->row++;
}

static void pen_entries(struct pen *pen, const struct tree_page *page)
{
	const struct dossier *dossier = page->dossier;
	char text[64];
	if (dossier->planned_count > 0)
		pen_heading(pen, "planned");
	for (int32_t i = 0; i < dossier->planned_count; i++)
		pen_entry(pen, page, dossier->planned[i]);
	snprintf(text, sizeof text, "%d entr%s, the newest first", dossier->entry_count,
		dossier->entry_count == 1 ? "y" : "ies");
	pen_heading(pen, text);
	for (int32_t i = dossier->entry_count - 1; i >= 0 && pen->row < pen->end; i--)
		pen_entry(pen, page, dossier->entries[i]);
}

/* --- the page --- */

static void pen_page(struct pen *pen, const struct tree_page *page)
{
	pen_hazard(pen, page);
	pen_name(pen, page);
	pen_facts(pen, page);
	pen_opinions(pen, page);
	pen_flag(pen, page);
	pen_ribbon(pen, page);
	if (page->all)
		pen_windows(pen, page);
	pen_crops(pen, page);
	pen_sun(pen, page);
	pen_photos(pen, page);
	pen_entries(pen, page);
}

int tree_height(const struct tree_page *page, bool ascii, int columns)
{
	struct pen pen = {.ascii = ascii, .columns = columns, .end = INT32_MAX};
	pen_page(&pen, page);
	return pen.row;
}

void tree_draw(const void *state, struct paper *paper)
{
	const struct tree_page *page = state;
	struct pen pen = {.paper = paper,
		.ascii = paper_ascii(paper),
		.row = -page->top,
		.columns = paper_columns(paper),
		.end = paper_rows(paper)};
	pen_page(&pen, page);
	if (page->top > 0)
		paper_put_right(paper, 0, paper_columns(paper) - 8, 8, STYLE_FAINT, "Up: more");
	if (page->height > page->top + paper_rows(paper))
		paper_put_right(paper, paper_rows(paper) - 1, paper_columns(paper) - 12, 12,
			STYLE_FAINT, "  Down: more");
	paper_cursor(paper, 0, 0);
}
