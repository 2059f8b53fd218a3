/* SPDX-License-Identifier: MIT */
/* likely, tree trait: what an unnamed tree could be, and what was seen of it */
#include <string.h>

#include "acts.h"
#include "core/text.h"

/* Where the traits begin: the first word with a '='. */
static int32_t first_trait(const struct call *call)
{
	int32_t at = 0;

	while (at < call->word_count && strchr(call->words[at], '=') == NULL)
		at++;
	return at;
}

enum status read_traits(struct call *call, int32_t *first, struct likely_said **out, int32_t *count,
	struct fault *why)
{
	*first = first_trait(call);
	*count = 0;
	*out = arena_array(call->arena, (size_t)call->word_count + 1, sizeof **out);
	for (int32_t i = *first; i < call->word_count; i++) {
		const char *mark = strchr(call->words[i], '=');

		if (mark == NULL) { /* flesh=light yellow: a value of two words */
			struct likely_said *last = &(*out)[*count - 1];
			last->value =
				arena_format(call->arena, "%s %s", last->value, call->words[i]);
			continue;
		}
		if (mark == call->words[i])
			return fault_set(why, STATUS_SYNTAX, "'%s' names no trait: flesh=white",
				call->words[i]);
		(*out)[(*count)++] = (struct likely_said){
			arena_text_n(call->arena, call->words[i], (size_t)(mark - call->words[i])),
			mark + 1};
	}
	return STATUS_OK;
}

/* The words from..to as a label. */
static enum status tree_of_words(
	struct call *call, int32_t from, int32_t to, struct tree *tree, struct fault *why)
{
	struct text_builder label = text_builder_in(call->arena);

	if (to <= from)
		return call_usage(call, why);
	for (int32_t i = from; i < to; i++)
		text_add_format(&label, "%s%s", i > from ? " " : "", call->words[i]);
	return call_tree(call, label.text, tree, why);
}

enum status cmd_likely(struct call *call, int *exit_status, struct fault *why)
{
	struct likely_said *said = NULL;
	int32_t first = 0, count = 0;
	struct tree tree;
	(void)exit_status;
	enum status status = read_traits(call, &first, &said, &count, why);

	if (status == STATUS_OK)
		status = tree_of_words(call, 0, first, &tree, why);
	if (status == STATUS_OK)
		status = print_likely(
			&call->printer, call->session->yard, tree.id, said, count, why);
	return status;
}

static enum status keep_traits(struct call *call, const struct tree *tree,
	const struct likely_said *said, int32_t count, struct fault *why)
{
	const char *day_text = call_option(call, "day");
	const char *who = call_option(call, "by");
	struct trait by = {.day = known_date(yard_today(call->session->yard))};
	struct date_span day;
	enum status status = STATUS_OK;

	if (who != NULL && !text_copy(by.who, sizeof by.who, who))
		return fault_set(why, STATUS_RANGE, "--by is too long");
	if (day_text != NULL) {
		status = call_day(call, day_text, &day, why);
		by.day = date_span_first(&day);
	}
	if (status == STATUS_OK)
		status = likely_report_keep(call->session->yard, tree->id, said, count, &by, why);
	if (status == STATUS_OK)
		call_say(
			call, "kept; 'boughbook likely \"%s\"' says what it could be", tree->label);
	return status;
}

enum status tree_trait(struct call *call, struct fault *why)
{
	struct likely_said *said = NULL;
	int32_t first = 0, count = 0;
	struct tree tree;
	enum status status = read_traits(call, &first, &said, &count, why);

	if (status == STATUS_OK)
		status = tree_of_words(call, 1, first, &tree, why);
	if (status == STATUS_OK && count == 0)
		status = call_usage(call, why);
	if (status == STATUS_OK)
		status = keep_traits(call, &tree, said, count, why);
	return status;
}
