/* SPDX-License-Identifier: MIT */
/* likely, tree trait: what an unnamed tree could be, and what was seen of it */
#include <string.h>

#include "acts.h"
#include "core/text.h"

/* The tree of a line and what is said of it, from a word on. */
static enum status read_line(struct call *call, int32_t from, struct tree *tree,
	struct likely_said **said, int32_t *count, struct fault *why)
{
	const char *label = "";

	if (call->word_count <= from)
		return call_usage(call, why);
	enum status status =
		likely_said_read(call_line(call, from), call->arena, &label, said, count, why);
	return status == STATUS_OK ? call_tree(call, label, tree, why) : status;
}

enum status cmd_likely(struct call *call, int *exit_status, struct fault *why)
{
	struct likely_said *said = NULL;
	int32_t count = 0;
	struct tree tree;
	(void)exit_status;
	enum status status = read_line(call, 0, &tree, &said, &count, why);

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
	int32_t count = 0;
	struct tree tree;
	enum status status = read_line(call, 1, &tree, &said, &count, why);

	if (status == STATUS_OK && count == 0)
		status = call_usage(call, why);
	if (status == STATUS_OK)
		status = keep_traits(call, &tree, said, count, why);
	return status;
}
