/* SPDX-License-Identifier: MIT */
#include "yard_rows.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "rules/saw.h"

/* --- words of the year --- */

static bool holds(const struct dossier *dossier, enum window_kind kind, struct date today)
{
	const struct window window = dossier_window(dossier, kind, today);
	return window.known && window_holds(&window, today);
}

/* The grower said that the last is picked. */
static bool is_picked(const struct dossier *dossier)
{
	const struct season *season = dossier_season(dossier, dossier->season_year);
	return season != NULL && season->said_last && season->state == SEASON_COMPLETE;
}

static const char *crop_words(const struct dossier *dossier, struct date today)
{
	const bool picked = is_picked(dossier);
	if (!picked && holds(dossier, WINDOW_HARVEST, today))
		return "harvest";
	if (holds(dossier, WINDOW_BLOOM, today))
		return "in bloom";
	if (!picked && holds(dossier, WINDOW_FRUIT, today))
		return "fruit on";
	return "";
}

static bool has_dates(const struct dossier *dossier, struct date today)
{
	static const enum window_kind kinds[] = {
		WINDOW_BLOOM, WINDOW_HARVEST, WINDOW_CUT_CLEAR, WINDOW_CUT_AVOID};
	for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
		if (dossier_window(dossier, kinds[i], today).known)
			return true;
	}
	return false;
}

void yard_row_year(const struct dossier *dossier, struct date today, struct yard_row *out)
{
	const char *crop = crop_words(dossier, today);
	const char *saw = "";
	const char *saw_short = "";
	if (!has_dates(dossier, today)) {
		const bool unknown = dossier->kind.species == NULL;
		(void)text_copy(out->year, sizeof out->year,
			unknown ? "no dates: what is it?" : "no dates here");
		(void)text_copy(out->year_short, sizeof out->year_short, "no dates");
		return;
	}
	const struct saw_day now = saw_on(dossier, today);
	if (now.known && now.verdict == VERDICT_AVOID) {
		saw = "leave the saw";
		saw_short = "no saw";
	} else if (now.known && now.verdict == VERDICT_CLEAR) {
		saw = "clear for the saw";
		saw_short = "saw clear";
	}
	const char *between = crop[0] != '\0' && saw[0] != '\0' ? ", " : "";
	const bool rests = crop[0] == '\0' && saw[0] == '\0';
	(void)snprintf(
		out->year, sizeof out->year, "%s%s%s", rests ? "resting" : crop, between, saw);
	(void)snprintf(out->year_short, sizeof out->year_short, "%s%s%s", rests ? "resting" : crop,
		between, saw_short);
}

char yard_row_sign(const struct dossier *dossier, struct date today)
{
	const char *crop = crop_words(dossier, today);
	const struct saw_day now = saw_on(dossier, today);
	const bool leave = now.known && now.verdict == VERDICT_AVOID;
	if (!has_dates(dossier, today))
		return '?';
	const char sign = (char)(crop[0] == '\0'                 ? 'r'
				 : strcmp(crop, "in bloom") == 0 ? 'b'
								 : crop[0]);
	return (char)(leave ? sign - 'a' + 'A' : sign);
}

/* --- reading --- */

static void set_last(
	const struct dossier *dossier, const struct session *session, struct yard_row *out)
{
	if (dossier->entry_count == 0)
		return;
	const struct entry *last = dossier->entries[dossier->entry_count - 1];
	const struct maybe_date day = date_span_first(&last->day);
	(void)entry_format(last, &session->numbers, out->last, (int)sizeof out->last);
	if (!day.known)
		return;
	const struct date_parts parts = date_parts(day.value);
	if (parts.year == date_parts(yard_today(session->yard)).year)
		(void)snprintf(out->last_day, sizeof out->last_day, "%2d %.3s", (int)parts.day,
			date_month_name(parts.month));
	else
		(void)snprintf(out->last_day, sizeof out->last_day, "%.3s %04d",
			date_month_name(parts.month), (int)parts.year);
}

static void set_names(const struct tree *tree, const struct tree_kind *kind, struct yard_row *out)
{
	(void)text_copy(out->id, sizeof out->id, tree->id);
	(void)text_copy(out->label, sizeof out->label, tree->label);
	out->is_graft = tree->host_id[0] != '\0';
	(void)text_copy(out->kind, sizeof out->kind, kind->name);
	struct text_builder builder = text_builder_fixed(out->cultivar, sizeof out->cultivar);
	text_add(&builder, kind->name);
	out->named = true;
	if (kind->cultivar[0] == '\0')
		return;
	text_add(&builder, ", ");
	text_add(&builder, kind->cultivar);
	if (kind->cultivar_sure != SURE_CERTAIN)
		text_add(&builder, "?");
}

static void set_letters(const struct review *review, struct yard_row *out)
{
	static const char letters[] = "ADSnL";
	memcpy(out->letters, "     ", sizeof out->letters);
	for (int32_t i = 0; i < review->count; i++) {
		const enum urgency urgency = review->items[i].flag.urgency;
		out->letters[urgency] = letters[urgency];
	}
}

/* In words: from the dossier that the rules were shown, or from one of its own where what is kept
 * spared them. */
struct row_telling {
	const struct session *session;
	struct yard_told *out;
};

static void tell_words(void *owner, const struct dossier *dossier)
{
	const struct row_telling *telling = owner;
	struct yard_told *out = telling->out;
	out->row = (struct yard_row){.told = true};
	set_names(&dossier->tree, &dossier->kind, &out->row);
	yard_row_year(dossier, yard_today(telling->session->yard), &out->row);
	set_last(dossier, telling->session, &out->row);
	if (out->take != NULL)
		out->take(out->owner, dossier);
}

enum status yard_row_tell(struct session *session, const char *tree_id, struct arena *arena,
	struct yard_told *out, struct fault *why)
{
	struct row_telling telling = {session, out};
	const struct review_options options = {.tree_id = tree_id,
		.keeper = session->keeper,
		.told = tell_words,
		.told_owner = &telling};
	const struct dossier *dossier;
	out->row.told = false;
	enum status status = review_make(session->yard, &options, arena, &out->review, why);
	if (status == STATUS_OK && !out->row.told) {
		status = yard_dossier_shown(session->yard, tree_id, arena, &dossier, why);
		if (status == STATUS_OK)
			tell_words(&telling, dossier);
	}
	if (status == STATUS_OK)
		set_letters(&out->review, &out->row);
	return status;
}

static enum status tell_line(struct yard_rows *rows, struct session *session, struct arena *arena,
	struct yard_row *out, struct fault *why)
{
	const struct dossier *dossier;
	const enum status status = yard_dossier_shown(session->yard, out->id, arena, &dossier, why);
	if (status != STATUS_OK)
		return status;
	ribbon_make(dossier, yard_today(session->yard), &rows->head);
	rows->head_known = true;
	year_line_make(&rows->head, rows->thread, rows->line_columns, &out->line);
	out->told = true;
	return STATUS_OK;
}

static enum status tell_row(struct yard_rows *rows, struct session *session, struct arena *arena,
	struct yard_row *out, struct fault *why)
{
	if (rows->line_columns > 0)
		return tell_line(rows, session, arena, out, why);
	struct yard_told told = {.take = NULL};
	const enum status status = yard_row_tell(session, out->id, arena, &told, why);
	if (status == STATUS_OK)
		*out = told.row;
	return status;
}

bool yard_rows_tell(struct yard_rows *rows, struct session *session, double seconds)
{
	const double until_s = clock_monotonic_s() + seconds;
	struct arena *arena = arena_new();
	bool any = false;
	for (int32_t i = 0; i < rows->count && rows->fault.text[0] == '\0'; i++) {
		struct yard_row *row = &rows->rows[i];
		struct fault why;
		if (row->told)
			continue;
		if (any && clock_monotonic_s() > until_s)
			break;
		any = true;
		arena_reset(arena);
		if (tell_row(rows, session, arena, row, &why) != STATUS_OK)
			rows->fault = why;
	}
	arena_free(arena);
	return any;
}

void yard_rows_doubt(struct yard_rows *rows)
{
	static const char not_told[] = "~    ";
	rows->fault.text[0] = '\0';
	rows->known = rows->known && rows->line_columns == 0;
	for (int32_t i = 0; i < rows->count; i++) {
		memcpy(rows->rows[i].letters, not_told, sizeof not_told);
		rows->rows[i].named = rows->rows[i].told = false;
	}
}

static const struct yard_row *find_row(const struct yard_rows *rows, const char *id)
{
	for (int32_t i = 0; rows->known && i < rows->count; i++) {
		if (strcmp(rows->rows[i].id, id) == 0)
			return &rows->rows[i];
	}
	return NULL;
}

static enum status name_row(
	struct session *session, const char *tree_id, struct yard_row *out, struct fault *why)
{
	struct tree tree;
	struct tree_kind kind;
	enum status status = store_tree_load(session->store, tree_id, &tree, why);
	if (status == STATUS_OK)
		status = yard_kind(session->yard, tree_id, yard_today(session->yard), &kind, why);
	if (status == STATUS_OK)
		set_names(&tree, &kind, out);
	return status;
}

static enum status fill(struct yard_row *fresh, int32_t count, const struct yard_rows *old,
	struct session *session, const char *const *ids, struct fault *why)
{
	static const struct yard_row not_told = {
		.letters = "~    ", .year = "~", .year_short = "~"};
	enum status status = STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		const struct yard_row *known = find_row(old, ids[i]);
		fresh[i] = known != NULL ? *known : not_told;
		if (!fresh[i].named)
			status = name_row(session, ids[i], &fresh[i], why);
	}
	return status;
}

enum status yard_rows_read(struct yard_rows *rows, struct session *session,
	const struct yard_list *list, int32_t first, int32_t count, struct fault *why)
{
	const int32_t left = list->count > first ? list->count - first : 0;
	count = count < YARD_ROWS_MAX ? count : YARD_ROWS_MAX;
	count = count < left ? count : left;
	const size_t size = (size_t)count * sizeof rows->rows[0];
	struct yard_row *fresh = block_new(size);
	const enum status status = fill(fresh, count, rows, session, list->ids + first, why);
	if (status == STATUS_OK) {
		memcpy(rows->rows, fresh, size);
		rows->first = first;
		rows->count = count;
		rows->total = list->count;
		rows->known = true;
	}
	block_free(fresh);
	return status;
}

void yard_rows_weave(struct yard_rows *rows, enum year_thread thread, int columns)
{
	if (rows->thread == thread && rows->line_columns == columns)
		return;
	rows->thread = thread;
	rows->line_columns = columns;
	rows->known = false;
	rows->fault.text[0] = '\0';
}

/* --- drawing --- */

struct columns {
	int label, kind, year, last; /* first cell of each */
	int letters;
};

static struct columns columns_of(int width)
{
	struct columns columns = {.label = 2, .letters = width - 5};
	if (width >= 110) {
		columns.kind = columns.label + 21;
		columns.year = columns.kind + 28;
		columns.last = columns.year + 29;
	} else if (width >= 76) {
		columns.kind = columns.label + 12;
		columns.year = columns.kind + 14;
		columns.last = columns.year + 28;
	} else {
		columns.kind = columns.label + 11;
		columns.year = columns.kind + 11;
		columns.last = columns.year + 20;
	}
	return columns;
}

static void draw_row(
	const struct yard_row *tree, struct paper *paper, int row, const struct columns *columns)
{
	const int year_cells = columns->last - columns->year - 1;
	const int last_cells = columns->letters - columns->last - 1;
	const char *year = text_width(tree->year) <= year_cells ? tree->year : tree->year_short;
	(void)paper_format(paper, row, columns->label, columns->kind - columns->label - 1,
		STYLE_STRONG, "%s%s", tree->is_graft ? "+ " : "", tree->label);
	const int kind_cells = columns->year - columns->kind - 1;
	(void)paper_put(paper, row, columns->kind, kind_cells, STYLE_PLAIN,
		text_width(tree->cultivar) <= kind_cells || kind_cells > 20 ? tree->cultivar
									    : tree->kind);
	(void)paper_put(paper, row, columns->year, year_cells, STYLE_PLAIN, year);
	if (last_cells > 16)
		(void)paper_format(paper, row, columns->last, last_cells, STYLE_PLAIN, "%-8s %s",
			tree->last_day, tree->last);
	else if (last_cells > 0)
		(void)paper_put(paper, row, columns->last, last_cells, STYLE_PLAIN, tree->last_day);
	static const enum style styles[] = {
		STYLE_ACT, STYLE_DUE, STYLE_SOON, STYLE_NOTE, STYLE_NOTE};
	for (int i = 0; i < 5 && tree->letters[0] != '\0'; i++) {
		const char letter[] = {tree->letters[i], '\0'};
		if (letter[0] != ' ')
			(void)paper_put(paper, row, columns->letters + i, 1,
				letter[0] == '~' ? STYLE_FAINT : styles[i], letter);
	}
}

void yard_rows_draw(const struct yard_rows *rows, struct paper *paper, int row, int32_t selected)
{
	const struct columns columns = columns_of(paper_columns(paper));
	(void)paper_put(paper, row, columns.label, 0, STYLE_FAINT, "tree");
	(void)paper_put(paper, row, columns.kind, 0, STYLE_FAINT, "kind");
	(void)paper_put(paper, row, columns.year, 0, STYLE_FAINT,
		columns.last - columns.year > 24 ? "its year now (Y: the year)" : "its year now");
	(void)paper_put(paper, row, columns.last, 0, STYLE_FAINT, "last entry");
	(void)paper_put(paper, row, columns.letters, 0, STYLE_FAINT, "flags");
	for (int32_t i = 0; i < rows->count && row + 1 + i < paper_rows(paper); i++) {
		draw_row(&rows->rows[i], paper, row + 1 + (int)i, &columns);
		if (rows->first + i == selected)
			paper_select(paper, row + 1 + (int)i, 0, 0);
	}
}
