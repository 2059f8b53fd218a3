/* SPDX-License-Identifier: MIT */
#include <string.h>

#include "core/text.h"
#include "entry_rows.h"
#include "reckon/season.h"

enum { ID, DAY, SUBJECT, WORDS, NOTE, SUBJECT_KIND, PLANNED, SEASON_YEAR, OWN_TOTAL };
static const char *const names[OWN_TOTAL] = {
	"id", "day", "subject", "words", "note", "subject_kind", "planned", "season_year"};

struct own_file {
	int32_t columns[OWN_TOTAL];
};

static void find_columns(const struct intake *intake, struct own_file *out)
{
	for (int i = 0; i < OWN_TOTAL; i++)
		out->columns[i] = csv_find(&intake->mapping.heading, names[i]);
}

bool own_file_is(const struct intake *intake)
{
	struct own_file own;
	bool is_own = intake->options->columns == NULL && intake->options->layout == NULL;

	find_columns(intake, &own);
	for (int i = 0; i < OWN_TOTAL; i++)
		is_own = is_own && own.columns[i] >= 0;
	return is_own;
}

static const char *cell(struct intake *intake, const struct csv_row *row, int name)
{
	const struct own_file *own = intake->import;

	return intake_cell(intake, row, own->columns[name]);
}

/* --- rows that the log has --- */

static enum status same_text(struct intake *intake, const struct csv_row *row, int name,
	const char *standing, struct fault *why)
{
	const char *told = cell(intake, row, name);
	size_t length;
	const char *trimmed = text_trim(standing, &length);

	if (strlen(told) == length && strncmp(told, trimmed, length) == 0)
		return STATUS_OK;
	return fault_set(why, STATUS_CONFLICT,
		"'%.80s' in the log, '%.80s' here: mend the entry there (entry edit), or take its "
		"id away here for a new one",
		standing, told);
}

static enum status take_known(struct intake *intake, const struct csv_row *row,
	const struct entry *entry, struct fault *why)
{
	enum status status = same_text(intake, row, DAY, entry->day.text, why);

	if (status == STATUS_OK)
		status = same_text(intake, row, WORDS, entry->words, why);
	if (status == STATUS_OK)
		status = same_text(intake, row, NOTE, entry->note, why);
	if (status == STATUS_OK)
		intake->account->same++;
	return status;
}

/* --- rows that it lacks --- */

static enum status find_tree(
	struct intake *intake, const char *title, struct subject *out, struct fault *why)
{
	enum status status = intake_tree(intake, title, out, why);

	if (status != STATUS_ABSENT || intake_titled(intake, title, out->id) != STATUS_OK)
		return status;
	text_copy(out->label, sizeof out->label, title);
	out->kind = SUBJECT_TREE;
	return STATUS_OK;
}

static enum status find_subject(
	struct intake *intake, const struct csv_row *row, struct subject *out, struct fault *why)
{
	struct store *store = intake->session->store;
	const char *kind = cell(intake, row, SUBJECT_KIND);
	const char *title = cell(intake, row, SUBJECT);
	struct spot spot;
	struct area area;
	enum status status = STATUS_OK;

	*out = (struct subject){.kind = SUBJECT_PLACE};
	if (strcmp(kind, "tree") == 0)
		return find_tree(intake, title, out, why);
	if (strcmp(kind, "spot") == 0) {
		status = store_spot_find(store, title, &spot, why);
		if (status == STATUS_OK)
			text_copy(out->id, sizeof out->id, spot.id);
		out->kind = SUBJECT_SPOT;
	} else if (strcmp(kind, "area") == 0) {
		status = store_area_find(store, title, &area, why);
		if (status == STATUS_OK)
			text_copy(out->id, sizeof out->id, area.id);
		out->kind = SUBJECT_AREA;
	} else if (strcmp(kind, "place") != 0) {
		(void)cell(intake, row, SUBJECT_KIND);
		return fault_set(
			why, STATUS_SYNTAX, "'%.40s' is none of tree spot area place", kind);
	}
	text_copy(out->label, sizeof out->label, title);
	return status;
}

/* The words without the label before them: "A3, picked 2 lb". */
static const char *without_label(const char *words, const char *title)
{
	size_t length = strlen(title);
	const char *years = strrchr(title, '('); /* "A5 (2011-2019)" */

	if (years != NULL && years > title + 1 && years[-1] == ' ')
		length = (size_t)(years - 1 - title);
	if (strncmp(words, title, length) != 0 || strchr(" ,:", words[length]) == NULL)
		return words;
	return words + length + strspn(words + length, " ,:");
}

static enum status take_fresh(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	struct reading reading = {.line_count = 0};
	struct row_line said = {.label = "", .day_given = true};
	struct subject subject;
	enum status status = find_subject(intake, row, &subject, why);

	if (status == STATUS_OK)
		status = intake_day(intake, cell(intake, row, DAY), &said.day, why);
	if (status != STATUS_OK)
		return status;
	const char *note = cell(intake, row, NOTE);
	const char *year = cell(intake, row, SEASON_YEAR);
	bool planned = strcmp(cell(intake, row, PLANNED), "1") == 0;
	said.text = cell(intake, row, WORDS);
	if (subject.kind == SUBJECT_TREE) {
		said.label = subject.label;
		said.text = without_label(said.text, subject.label);
	}
	status = row_line_read(intake, &said, &reading, why);
	if (status != STATUS_OK)
		return status;
	/* one row of a batch is one entry; what is told beside the words stands before them */
	reading.batch = BATCH_ONE;
	reading.draft.subject = subject;
	reading.draft.day = said.day;
	reading.draft.planned = planned;
	reading.draft.words = cell(intake, row, WORDS);
	if (note[0] != '\0')
		reading.draft.note = note;
	if (year[0] != '\0') {
		int32_t number = 0;

		(void)cell(intake, row, SEASON_YEAR);
		status = season_parse(year, &number, why);
		reading.draft.season_year = known_i32(number);
	}
	return status == STATUS_OK ? row_line_log(intake, row, &reading, why) : status;
}

static enum status take_row(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	struct entry entry;
	struct fault cause = {0};
	const char *id = cell(intake, row, ID);
	enum status status = STATUS_ABSENT;

	if (id[0] != '\0')
		status = store_entry_load(
			intake->session->store, id, intake->row_arena, &entry, &cause);
	if (status == STATUS_OK)
		return take_known(intake, row, &entry, why);
	if (status != STATUS_ABSENT)
		return fault_set(why, status, "%s", cause.text);
	return take_fresh(intake, row, why);
}

enum status own_file_take(struct intake *intake, const char *title, struct fault *why)
{
	struct own_file own;

	find_columns(intake, &own);
	intake->import = &own;
	enum status status = intake_begin(intake, title, why);
	if (status == STATUS_OK)
		status = intake_rows(intake, take_row, why);
	intake->import = NULL;
	return status;
}
