/* SPDX-License-Identifier: MIT */
/* A label and traits as they are typed, and what may be said of a trait. */
#include "report/likely_report.h"

#include <string.h>

#include "core/text.h"
#include "tree_words.h"

/* Where the first word with a '=' begins; NULL: there is none. */
static const char *first_trait(const char *line)
{
	const char *mark = strchr(line, '=');
	while (mark != NULL && mark > line && mark[-1] != ' ')
		mark--;
	return mark;
}

enum status likely_said_read(const char *line, struct arena *arena, const char **label,
	struct likely_said **out, int32_t *count, struct fault *why)
{
	const char *traits = first_trait(line);
	size_t length = strlen(line);
	*count = 0;
	*out = arena_array(arena, length + 1, sizeof **out);
	char *name = arena_text_n(arena, line, traits == NULL ? length : (size_t)(traits - line));
	*label = text_trim_in_place(name);
	if (name[0] == '\0')
		return fault_set(why, STATUS_SYNTAX, "of which tree? LABEL flesh=white");
	while (traits != NULL) {
		const char *mark = strchr(traits, '=');
		const char *next = first_trait(mark + 1);
		if (mark == traits || (next != NULL && next <= mark))
			return fault_set(
				why, STATUS_SYNTAX, "'%.40s' names no trait: flesh=white", traits);
		length = next == NULL ? strlen(mark + 1) : (size_t)(next - mark - 1);
		(*out)[(*count)++] =
			(struct likely_said){arena_text_n(arena, traits, (size_t)(mark - traits)),
				text_trim_in_place(arena_text_n(arena, mark + 1, length))};
		traits = next;
	}
	return STATUS_OK;
}

/* --- what may be said --- */

static void add_choice(struct text_builder *text, const char *word)
{
	text_add_format(text, "%s%s", text->length > 0 ? ", " : "", word);
}

static void add_orders(struct text_builder *text, const struct cultivar *row)
{
	static const char *const sides[] = {"before", "with", "after"};
	char order[NAME_SIZE + 16];
	for (int i = 0; i < 3; i++) {
		struct text_builder word = text_builder_fixed(order, sizeof order);
		text_add_format(&word, "%s %s", sides[i], row->name);
		if (strstr(text->text, order) == NULL)
			add_choice(text, order);
	}
}

/* Against the named trees of its kind in this log, then against what the tables count from. */
static void order_choices(const struct likely_report *report, struct text_builder *text)
{
	const struct dossier *dossier = report->dossier;
	int32_t count = 0;
	const struct neighbour *of_kind =
		dossier_neighbours_of(dossier, dossier->kind.species, &count);
	for (int32_t i = 0; dossier->kind.species != NULL && i < count; i++) {
		const struct cultivar *row =
			cultivar_find(dossier->kind.species, of_kind[i].kind.cultivar);
		if (row != NULL && of_kind[i].kind.cultivar_sure >= SURE_SUSPECTED &&
			strcmp(of_kind[i].tree_id, dossier->tree.id) != 0)
			add_orders(text, row);
	}
	for (int32_t k = 0; k < report->kind_count; k++)
		for (int32_t i = 0; i < report->kinds[k].count; i++) {
			const struct cultivar *row = &report->kinds[k].rows[i];
			if (row->days.known && row->days.value == 0 &&
				strcmp(row->name, row->against) == 0)
				add_orders(text, row);
		}
}

const char *likely_report_choices(
	const struct likely_report *report, const char *trait, char *out, size_t size)
{
	struct text_builder text = text_builder_fixed(out, size);
	char words[1200], turned[LIKELY_VALUE_SIZE], word[LIKELY_VALUE_SIZE];
	text_add(&text, "");
	if (strcmp(trait, LIKELY_ORDER) == 0) {
		order_choices(report, &text);
		return out;
	}
	(void)likely_words(report->kinds, report->kind_count, trait, words, sizeof words);
	const bool turn = report->south && strcmp(trait, "season") == 0;
	for (const char *at = words; *at != '\0';) {
		const size_t length = strcspn(at, ",");
		if (text_copy_n(word, sizeof word, at, length))
			add_choice(&text,
				turn ? likely_turn_season(word, turned, sizeof turned) : word);
		at += length + (at[length] == ',' ? 2 : 0);
	}
	return out;
}

/* --- for a page about the tree --- */

enum status tree_words_likely(
	struct yard *yard, const struct dossier *dossier, struct words_rows *out, struct fault *why)
{
	enum { NAMED_MOST = 6 };
	const struct tree_kind *kind = &dossier->kind;
	struct likely_report *report = arena_alloc(out->arena, sizeof *report);
	struct text_builder names = text_builder_in(out->arena);
	struct likely_kind kinds[CANDIDATES_MAX];
	struct trait *traits = NULL;
	char noted[600];
	int32_t count = 0;
	enum status status = store_trait_list(
		yard_store(yard), dossier->tree.id, out->arena, &traits, &count, why);
	if (status != STATUS_OK || count == 0 ||
		(kind->cultivar[0] != '\0' && kind->cultivar_sure == SURE_CERTAIN) ||
		likely_report_kinds(yard_almanac(yard), kind, kinds) == 0)
		return status;
	status = likely_report_make(yard, dossier->tree.id, NULL, 0, out->arena, report, why);
	if (status != STATUS_OK || report->note_count == 0)
		return status;
	words_rows_add(out, "seen of it", likely_report_noted(report, noted, sizeof noted));
	for (int32_t i = 0; i < report->likely.leading && i < NAMED_MOST; i++)
		text_add_format(&names, "%s, ", report->likely.candidates[i].row->name);
	text_add_format(&names, "or %s", likely_seedling);
	words_rows_add(out, "could be", names.text);
	return STATUS_OK;
}
