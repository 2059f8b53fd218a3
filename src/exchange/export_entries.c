/* SPDX-License-Identifier: MIT */
/* Entries and picks out, one at a time: a log of a million is written without holding it. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "export_parts.h"

/* What entries of one tree, spot or area are called, and how their seasons are. */
struct told_subject {
	char id[ID_SIZE]; /* "" : free */
	char title[TREE_TITLE_SIZE];
	bool stays; /* a private tree, where those are kept back */
	const struct season_turn *turns;
	int32_t turn_count;
};

struct writing {
	struct exporting *exporting;
	struct rows rows;
	struct told_subject *subjects; /* by a hash of the id; a power of two */
	uint32_t size;
	uint32_t count;
};

enum { SUBJECTS_FIRST = 1024, SEASON_SIZE = 16 };

/* --- subjects --- */

static struct told_subject *subject_at(const struct writing *writing, const char *id)
{
	uint32_t hash = 2166136261U; /* FNV-1a */

	for (const char *at = id; *at != '\0'; at++)
		hash = (hash ^ (unsigned char)*at) * 16777619U;
	while (writing->subjects[hash & (writing->size - 1)].id[0] != '\0' &&
		strcmp(writing->subjects[hash & (writing->size - 1)].id, id) != 0)
		hash++;
	return &writing->subjects[hash & (writing->size - 1)];
}

static void make_room(struct writing *writing)
{
	struct told_subject *old = writing->subjects;
	uint32_t old_size = writing->size;

	writing->size = old_size == 0 ? SUBJECTS_FIRST : old_size * 2;
	writing->subjects =
		arena_array(writing->exporting->arena, writing->size, sizeof writing->subjects[0]);
	for (uint32_t i = 0; i < old_size; i++)
		if (old[i].id[0] != '\0')
			*subject_at(writing, old[i].id) = old[i];
}

static void read_title(
	const struct exporting *exporting, const struct subject *subject, struct told_subject *out)
{
	struct store *store = exporting->session->store;
	struct tree tree;
	struct spot spot;

	text_copy(out->title, sizeof out->title, subject->label);
	if (subject->kind == SUBJECT_TREE &&
		store_tree_load(store, subject->id, &tree, NULL) == STATUS_OK) {
		store_tree_title(&tree, out->title);
		out->stays = export_keeps_back(exporting, &tree);
	}
	if (subject->kind == SUBJECT_SPOT &&
		store_spot_load(store, subject->id, &spot, NULL) == STATUS_OK)
		text_copy(out->title, sizeof out->title, spot.name);
}

/* Kept without the room that a list grows into: there are as many as trees. */
static enum status read_turns(struct writing *writing, const struct subject *subject,
	struct told_subject *out, struct fault *why)
{
	struct arena *scratch = arena_new();
	struct season_turn *turns = NULL;
	enum status status = store_season_turn_list(writing->exporting->session->store, subject,
		scratch, &turns, &out->turn_count, why);
	size_t size = (size_t)out->turn_count * sizeof turns[0];

	if (status == STATUS_OK)
		out->turns = arena_grow(writing->exporting->arena, turns, size, size);
	arena_free(scratch);
	return status;
}

static enum status find_subject(struct writing *writing, const struct subject *subject,
	const struct told_subject **out, struct fault *why)
{
	static const struct told_subject place = {.title = "the place"};

	*out = &place;
	if (subject->id[0] == '\0')
		return STATUS_OK;
	if (writing->count * 2 >= writing->size)
		make_room(writing);
	struct told_subject *told = subject_at(writing, subject->id);
	*out = told;
	if (told->id[0] != '\0')
		return STATUS_OK;
	text_copy(told->id, sizeof told->id, subject->id);
	writing->count++;
	read_title(writing->exporting, subject, told);
	if (subject->kind != SUBJECT_TREE && subject->kind != SUBJECT_SPOT)
		return STATUS_OK;
	return read_turns(writing, subject, told, why);
}

/* --- seasons --- */

static bool holds(const struct season_turn *turn, struct date day)
{
	return (!turn->from.known || date_compare(day, turn->from.value) >= 0) &&
	       (!turn->to.known || date_compare(day, turn->to.value) < 0);
}

/* The season that a pick or loss counts for, as the views of the log name it; "" not known. */
static const char *season_of(
	const struct told_subject *told, const struct entry *entry, char out[SEASON_SIZE])
{
	static const struct season_turn new_year = {.turn = {.month = 1, .day = 1}};
	const struct season_turn *turn = &new_year;
	bool counts = entry->kind == KIND_PICK || entry->kind == KIND_LOSS;

	out[0] = '\0';
	if (!counts || entry->planned || (!entry->season_year.known && !entry->day.low.known))
		return out;
	for (int32_t i = 0; i < told->turn_count && entry->day.low.known; i++)
		if (holds(&told->turns[i], entry->day.low.value))
			turn = &told->turns[i];
	int32_t year = entry->season_year.value;
	if (!entry->season_year.known) {
		struct date_parts day = date_parts(entry->day.low.value);
		bool before = day.month < turn->turn.month ||
			      (day.month == turn->turn.month && day.day < turn->turn.day);

		year = day.year - (before ? 1 : 0) + (turn->years_add ? 1 : 0);
	}
	if (turn->crosses)
		snprintf(out, SEASON_SIZE, "%d/%02d", (int)year, (int)((year + 1) % 100));
	else
		snprintf(out, SEASON_SIZE, "%d", (int)year);
	return out;
}

static const char *const subject_kinds[] = {
	[SUBJECT_PLACE] = "place",
	[SUBJECT_AREA] = "area",
	[SUBJECT_SPOT] = "spot",
	[SUBJECT_TREE] = "tree",
};

static void year_cell(struct rows *rows, const struct entry *entry)
{
	rows_i64(rows, (struct maybe_i64){entry->season_year.value, entry->season_year.known});
}

/* --- entries --- */

static const char *const entry_keys[] = {"id", "day", "subject", "kind", "planned", "reading",
	"words", "note", "subject_kind", "season", "season_year", "day_low", "day_high", "batch",
	"typed_at", NULL};

static enum status write_entry(void *context, const struct entry *entry, struct fault *why)
{
	struct writing *writing = context;
	struct rows *rows = &writing->rows;
	const struct told_subject *told;
	char said[400], season[SEASON_SIZE];
	enum status status = find_subject(writing, &entry->subject, &told, why);

	if (status != STATUS_OK || told->stays)
		return status;
	rows_text(rows, entry->id);
	rows_text(rows, entry->day.text);
	rows_text(rows, told->title);
	rows_text(rows, kind_row(entry->kind)->key);
	rows_bool(rows, entry->planned);
	entry_format(entry, &writing->exporting->printer.numbers, said, sizeof said);
	rows_text(rows, said);
	rows_text(rows, entry->words);
	rows_text(rows, entry->note);
	rows_text(rows, subject_kinds[entry->subject.kind]);
	rows_text(rows, season_of(told, entry, season));
	year_cell(rows, entry);
	rows_date(rows, entry->day.low);
	rows_date(rows, entry->day.high);
	rows_text(rows, entry->batch);
	rows_text(rows, entry->typed_at);
	return STATUS_OK;
}

/* --- picks --- */

static const char *const pick_keys[] = {"id", "subject", "day", "season_year", "weight_low_g",
	"weight_high_g", "about", "none", "fruit_low", "fruit_high", "grade", "words", "note",
	"subject_kind", "season", "planned", "amount", "count", "typed_at", NULL};

static void figure_cells(struct rows *rows, const struct entry *entry)
{
	static const struct amount nothing = {0};
	const struct amount *weight = entry_amount(entry, FIELD_WEIGHT);
	const struct amount *fruit = entry_amount(entry, FIELD_COUNT);

	weight = weight != NULL ? weight : &nothing;
	fruit = fruit != NULL ? fruit : &nothing;
	rows_grams(rows, weight->low);
	rows_grams(rows, weight->high);
	rows_bool(rows, weight->about);
	rows_bool(rows, weight->none || fruit->none);
	rows_decimal(rows, fruit->low.known, (double)fruit->low.value / 1000.0, 1);
	rows_decimal(rows, fruit->high.known, (double)fruit->high.value / 1000.0, 1);
}

/* An amount as it was typed. */
static void typed_cell(struct rows *rows, const struct entry *entry, enum field field)
{
	const struct amount *amount = entry_amount(entry, field);

	rows_text(rows, amount != NULL ? amount->typed : NULL);
}

static enum status write_pick(void *context, const struct entry *entry, struct fault *why)
{
	struct writing *writing = context;
	struct rows *rows = &writing->rows;
	const struct told_subject *told;
	char season[SEASON_SIZE];
	enum status status = find_subject(writing, &entry->subject, &told, why);

	if (status != STATUS_OK || told->stays)
		return status;
	rows_text(rows, entry->id);
	rows_text(rows, told->title);
	rows_text(rows, entry->day.text);
	year_cell(rows, entry);
	figure_cells(rows, entry);
	rows_text(rows, entry_detail(entry, FIELD_GRADE));
	rows_text(rows, entry->words);
	rows_text(rows, entry->note);
	rows_text(rows, subject_kinds[entry->subject.kind]);
	rows_text(rows, season_of(told, entry, season));
	rows_bool(rows, entry->planned);
	typed_cell(rows, entry, FIELD_WEIGHT);
	typed_cell(rows, entry, FIELD_COUNT);
	rows_text(rows, entry->typed_at);
	return STATUS_OK;
}

enum status export_entries(struct exporting *exporting, struct fault *why)
{
	const struct entry_query query = {.planned = -1};
	struct writing writing = {
		.exporting = exporting, .rows = rows_begin(&exporting->printer, entry_keys)};
	enum status status =
		store_entry_each(exporting->session->store, &query, write_entry, &writing, why);

	return status == STATUS_OK ? rows_end(&writing.rows, why) : status;
}

enum status export_picks(struct exporting *exporting, struct fault *why)
{
	const struct entry_query query = {.kind_given = true, .kind = KIND_PICK, .planned = -1};
	struct writing writing = {
		.exporting = exporting, .rows = rows_begin(&exporting->printer, pick_keys)};
	enum status status =
		store_entry_each(exporting->session->store, &query, write_pick, &writing, why);

	return status == STATUS_OK ? rows_end(&writing.rows, why) : status;
}
