/* SPDX-License-Identifier: MIT */
/* export report, walk, sheet, calendar: what goes out to people and their programs. */
#include <string.h>

#include "command.h"
#include "core/text.h"
#include "exchange/handout.h"
#include "report/calendar.h"

/* As --format says; else by the ending of the file. */
static enum status read_format(struct call *call, struct handout *handout, struct fault *why)
{
	if (!handout_is_paper(handout->what) &&
		(call_has(call, "format") || call_has(call, "tree") || call_has(call, "season")))
		return fault_set(why, STATUS_SYNTAX,
			"export %s takes --without-private and --day, no other option",
			handout->what);
	if (call->format == FORMAT_CSV || call->format == FORMAT_JSON)
		return fault_set(why, STATUS_SYNTAX, "export %s writes text or html, not %s",
			handout->what, call->format == FORMAT_CSV ? "csv" : "json");
	handout->html = call->format == FORMAT_HTML ||
			(!call_has(call, "format") && handout_path_is_html(handout->path));
	return STATUS_OK;
}

static enum status read_day(struct call *call, struct handout *handout, struct fault *why)
{
	struct date_span span;
	const char *day = call_option(call, "day");

	if (day == NULL)
		return STATUS_OK;
	enum status status = call_day(call, day, &span, why);
	if (status == STATUS_OK && !date_span_is_exact(&span))
		status = fault_set(why, STATUS_SYNTAX, "--day is one day, not '%s'", day);
	if (status == STATUS_OK)
		handout->day = span.low;
	return status;
}

static enum status read_season(struct call *call, struct handout *handout, struct fault *why)
{
	const char *season = call_option(call, "season");

	if (season == NULL)
		return STATUS_OK;
	if (strcmp(handout->what, "report") != 0 || handout->tree_id != NULL)
		return fault_set(why, STATUS_SYNTAX, "--season goes with the report of the yard");
	handout->year.known = true;
	return season_parse(season, &handout->year.value, why);
}

enum status cmd_handout(struct call *call, struct fault *why)
{
	struct handout handout = {
		.what = call->words[0],
		.path = call->words[1],
		.ascii = call->ascii,
		.without_private = call_has(call, "without-private"),
	};
	struct tree tree;
	const char *label = call_option(call, "tree");
	enum status status = read_format(call, &handout, why);

	if (status == STATUS_OK && label != NULL) {
		status = call_tree(call, label, &tree, why);
		handout.tree_id = tree.id;
	}
	if (status == STATUS_OK)
		status = read_day(call, &handout, why);
	if (status == STATUS_OK)
		status = read_season(call, &handout, why);
	if (status == STATUS_OK)
		status = handout_write(call->session, &handout, why);
	return status;
}

enum status cmd_calendar(struct call *call, int *exit_status, struct fault *why)
{
	struct calendar calendar;
	(void)exit_status;
	enum status status = call_want(call, 0, 0, why);

	if (status == STATUS_OK)
		status = calendar_make(call->session->yard, false, call->arena, &calendar, why);
	if (status == STATUS_OK)
		status = print_calendar(&call->printer, &calendar, why);
	return status;
}
