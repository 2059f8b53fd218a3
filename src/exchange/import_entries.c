/* SPDX-License-Identifier: MIT */
/* Rows as lines: each is put together as a line of a file and read as one, so that a table says
 * nothing that the entry line could not. */
#include <string.h>

#include "core/text.h"
#include "entry_rows.h"
#include "pick_sheet.h"

enum { TREE, DAY, KIND, AMOUNT, WORDS, NOTE, LINE };
static const char *const names[] = {"tree", "day", "kind", "amount", "words", "note", "line", NULL};

/* A kind may be said by its verb, or by its name in the log ("pick"). */
static const char *verb_of(const char *kind, struct arena *arena)
{
	enum entry_kind key = kind_of_key(kind);

	if (key == KIND_TOTAL || kind_of_verb(kind) != KIND_TOTAL)
		return kind;
	const char *verbs = kind_row(key)->verbs;
	return arena_text_n(arena, verbs, strcspn(verbs, " "));
}

static const char *line_of_parts(struct intake *intake, const struct csv_row *row)
{
	struct text_builder line = text_builder_in(intake->row_arena);
	const char *note = intake_text(intake, row, NOTE);
	const char *words = intake_text(intake, row, WORDS);
	const char *amount = intake_with_unit(intake, intake_text(intake, row, AMOUNT));

	text_add(&line, verb_of(intake_text(intake, row, KIND), intake->row_arena));
	if (!intake_is_blank(intake, amount))
		text_add_format(&line, " %s", amount);
	if (words[0] != '\0')
		text_add_format(&line, " %s", words);
	if (note[0] != '\0')
		text_add_format(&line, " ; %s", note);
	return line.text;
}

enum status row_line_read(struct intake *intake, const struct row_line *said,
	struct reading *reading, struct fault *why)
{
	struct line_context context = intake->context;

	if (said->label[0] != '\0')
		context.label = said->label;
	if (said->day_given)
		context.file_day = date_span_first(&said->day);
	enum status status = line_read(said->text, &context, intake->row_arena, reading, NULL, why);
	if (status != STATUS_OK)
		return status;
	if (reading->is_day_line)
		return fault_set(why, STATUS_SYNTAX, "a day alone: the row says nothing was done");
	if (!reading->day_given && !said->day_given)
		return fault_set(why, STATUS_SYNTAX,
			"no day: map day=, say --day, or write @ DAY in the line");
	if (!reading->day_given)
		reading->draft.day = said->day;
	return STATUS_OK;
}

/* The first tree stands for the whole of a batch: it was logged whole, or not at all. */
enum status row_line_log(struct intake *intake, const struct csv_row *row, struct reading *reading,
	struct fault *why)
{
	struct yard *yard = intake->session->yard;
	struct subject *subjects = NULL;
	struct work_logged logged;
	struct entry first = reading->draft;
	int32_t count = 0;
	bool known = false;
	enum status status =
		work_subjects(yard, reading, intake->row_arena, &subjects, &count, why);

	if (status != STATUS_OK)
		return status;
	first.subject = subjects[0];
	status = intake_known(intake, row, &first, &known, why);
	if (status != STATUS_OK || known)
		return status;
	intake_fresh(intake, row, reading->said);
	return work_log_in_act(yard, reading, &logged, why);
}

static enum status take_line(struct intake *intake, const struct csv_row *row,
	const struct row_line *said, struct fault *why)
{
	struct reading reading = {.line_count = 0};
	enum status status = row_line_read(intake, said, &reading, why);

	return status == STATUS_OK ? row_line_log(intake, row, &reading, why) : status;
}

static enum status read_day(
	struct intake *intake, const struct csv_row *row, struct row_line *out, struct fault *why)
{
	const char *day = intake_text(intake, row, DAY);

	if (day[0] == '\0' && intake->options->day != NULL)
		day = intake->options->day;
	out->day_given = day[0] != '\0';
	return out->day_given ? intake_day(intake, day, &out->day, why) : STATUS_OK;
}

static enum status take_row(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	struct row_line said = {.label = ""};
	enum status status = read_day(intake, row, &said, why);

	if (status != STATUS_OK)
		return status;
	said.label = intake_text(intake, row, TREE);
	if (said.label[0] != '\0') {
		struct subject subject; /* an unknown tree is told of at its own cell */

		status = intake_tree(intake, said.label, &subject, why);
		if (status != STATUS_OK)
			return status;
	}
	if (mapping_has(&intake->mapping, LINE)) {
		said.text = intake_text(intake, row, LINE);
		if (said.text[0] == '\0')
			return fault_set(why, STATUS_SYNTAX, "no line");
		return take_line(intake, row, &said, why);
	}
	said.text = line_of_parts(intake, row);
	(void)intake_text(intake, row, mapping_has(&intake->mapping, KIND) ? KIND : WORDS);
	return take_line(intake, row, &said, why);
}

/* --- a row a day and a column a tree --- */

struct day_sheet {
	struct sheet_column *columns;
	int32_t count;
};

/* Each line of a cell is one thing done. */
static enum status take_cell(struct intake *intake, const struct csv_row *row,
	struct row_line *said, const char *cell, struct fault *why)
{
	enum status status = STATUS_OK;

	for (const char *at = cell; status == STATUS_OK && *at != '\0';) {
		size_t length = strcspn(at, "\r\n");

		said->text = arena_text_n(intake->row_arena, at, length);
		if (length > 0)
			status = take_line(intake, row, said, why);
		at += length + (at[length] != '\0');
	}
	return status;
}

static enum status take_day(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	const struct day_sheet *sheet = intake->import;
	struct row_line said = {.label = ""};
	enum status status = read_day(intake, row, &said, why);

	for (int32_t i = 0; status == STATUS_OK && i < sheet->count; i++) {
		const char *cell = intake_cell(intake, row, sheet->columns[i].column);

		if (intake_is_blank(intake, cell))
			continue;
		said.label = sheet->columns[i].subject.label;
		status = intake_settle(intake, row, take_cell(intake, row, &said, cell, why), why);
	}
	return status;
}

static enum status take_file(struct intake *intake, struct fault *why)
{
	const struct mapping *mapping = &intake->mapping;
	struct day_sheet sheet = {.count = 0};
	bool rows = mapping_has(mapping, LINE) || mapping_has(mapping, KIND) ||
		    (mapping_has(mapping, TREE) && mapping_has(mapping, WORDS));
	enum status status = STATUS_OK;

	if (own_file_is(intake))
		return own_file_take(intake, "import entries", why);
	if (!rows && mapping_has(mapping, DAY) && !mapping_has(mapping, TREE))
		status = sheet_find_trees(intake, &sheet.columns, &sheet.count, why);
	else if (!rows)
		return fault_set(why, STATUS_SYNTAX,
			"which column says what was done? --columns "
			"tree=COLUMN,day=COLUMN,kind=COLUMN,amount=COLUMN, or line=COLUMN");
	intake->import = &sheet;
	if (status == STATUS_OK)
		status = intake_begin(intake, "import entries", why);
	if (status == STATUS_OK)
		status = intake_rows(intake, rows ? take_row : take_day, why);
	intake->import = NULL;
	return status;
}

enum status import_entries(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why)
{
	struct intake intake = {.session = session,
		.options = options,
		.arena = arena,
		.account = account,
		.what = "entries",
		.names = names};
	enum status status = intake_open(&intake, why);

	if (status == STATUS_OK)
		status = take_file(&intake, why);
	return intake_close(&intake, status, why);
}
