/* SPDX-License-Identifier: MIT */
/* A tree's descent: as a tree of lines, and what carries over. */
#include <string.h>

#include "core/text.h"
#include "report/descent.h"
#include "report/rows.h"

static const char *const keys[] = {"tree", "depth", "self", "how", "parent", "host", "rootstock",
	"batch", "planted", "gone", "gone_reason", "species", "cultivar", "cultivar_sure", NULL};

/* A tree's label by its id; "" where the log has none. */
static const char *label_of(struct yard *yard, const char *id, char out[TREE_TITLE_SIZE])
{
	struct tree tree;

	out[0] = '\0';
	if (id[0] != '\0' && store_tree_load(yard_store(yard), id, &tree, NULL) == STATUS_OK)
		(void)store_tree_title(&tree, out);
	return out;
}

static enum status put_rows(const struct printer *printer, struct yard *yard,
	const struct descent *descent, struct fault *why)
{
	struct rows rows = rows_begin(printer, keys);
	char title[TREE_TITLE_SIZE];

	for (int32_t i = 0; i < descent->count; i++) {
		const struct descent_line *line = &descent->lines[i];

		rows_text(&rows, store_tree_title(&line->tree, title));
		rows_i32(&rows, line->depth);
		rows_bool(&rows, line->is_self);
		rows_text(&rows, origin_key(line->tree.how));
		rows_text(&rows, label_of(yard, line->tree.parent_id, title));
		rows_text(&rows, label_of(yard, line->tree.host_id, title));
		rows_text(&rows, line->tree.rootstock);
		rows_text(&rows, line->tree.batch);
		rows_text(&rows, line->tree.planted.text);
		rows_text(&rows, line->tree.gone.text);
		rows_text(&rows, line->tree.gone_reason);
		rows_text(&rows, line->kind.species != NULL ? line->kind.species->key : "");
		rows_text(&rows, line->kind.cultivar);
		rows_text(&rows,
			line->kind.cultivar[0] != '\0' ? sure_key(line->kind.cultivar_sure) : "");
	}
	return rows_end(&rows, why);
}

/* Two cells further in a generation, eight at most, so that the words keep their room. */
static void say_line_of(const struct printer *printer, const struct descent_line *line)
{
	enum { INDENT_MAX = 16, WORDS_SIZE_HERE = 1200 };
	static const char blanks[INDENT_MAX + 1] = "                ";
	char title[TREE_TITLE_SIZE], words[WORDS_SIZE_HERE];
	int indent = 2 * (int)line->depth;
	char head[8 + INDENT_MAX];

	indent = indent > INDENT_MAX ? INDENT_MAX : indent;
	(void)text_copy_n(head, sizeof head, line->is_self ? "> " : "  ", 2);
	(void)text_copy_n(head + 2, sizeof head - 2, blanks, (size_t)indent);
	say_wrapped(printer, head, "%s  %s", store_tree_title(&line->tree, title),
		descent_line_words(line, words, sizeof words));
}

static enum status say_all(const struct printer *printer, struct yard *yard,
	const struct descent *descent, struct fault *why)
{
	char words[240], title[TREE_TITLE_SIZE];
	const struct dossier *dossier = descent->dossier;

	for (int32_t i = 0; i < descent->count; i++)
		say_line_of(printer, &descent->lines[i]);
	if (descent->more)
		say_line(printer, "  and more, not told here");
	if (descent->is_loop)
		say_wrapped(printer, "  ",
			"In this log a tree of the line is its own ancestor: tree set LABEL "
			"--parent \"\" takes a parent back.");
	if (dossier->host != NULL)
		say_wrapped(printer, "", "Grafted on %s, %s.",
			store_tree_title(&dossier->host->tree, title), dossier->host->kind.name);
	for (int32_t i = 0; i < dossier->graft_count; i++)
		say_wrapped(printer, "", "Carries %s, %s.", dossier->grafts[i]->tree.label,
			dossier->grafts[i]->kind.name);
	descent_batch_words(&descent->batch, words, sizeof words);
	if (words[0] != '\0')
		say_wrapped(printer, "", "Batch %s: %s.", dossier->tree.batch, words);
	for (int32_t i = 0; i < descent->says_count; i++) {
		const struct descent_say *one = &descent->says[i];

		say_wrapped(printer, "", "%s%s%s%s", one->text, one->source[0] != '\0' ? " [" : "",
			one->from_memory ? "from memory"
					 : source_title(yard_almanac(yard), one->source),
			one->source[0] != '\0' ? "]" : "");
	}
	return say_end(printer, why);
}

enum status print_descent(
	const struct printer *printer, struct yard *yard, const char *tree_id, struct fault *why)
{
	struct arena *arena = arena_new();
	struct descent descent;
	enum status status = descent_make(yard, tree_id, arena, &descent, why);

	if (status == STATUS_OK && printer->format == FORMAT_TEXT)
		status = say_all(printer, yard, &descent, why);
	else if (status == STATUS_OK)
		status = put_rows(printer, yard, &descent, why);
	arena_free(arena);
	return status;
}
