/* SPDX-License-Identifier: MIT */
/* dose, water, sun, season, stock, partners, almanac */
#include <string.h>

#include "acts.h"
#include "core/text.h"

enum status cmd_dose(struct call *call, int *exit_status, struct fault *why)
{
	const char *name = call_option(call, "product");
	struct product *products = NULL;
	const struct product *in_hand = NULL;
	int32_t count = 0;
	struct tree tree;
	(void)exit_status;
	enum status status = call_want(call, 1, WORDS_MAX, why);

	if (status == STATUS_OK)
		status = call_tree(call, call_line(call, 0), &tree, why);
	if (status == STATUS_OK)
		status = store_product_list(
			call->session->store, call->arena, &products, &count, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; name != NULL && i < count; i++)
		if (text_same(products[i].name, name))
			in_hand = &products[i];
	if (name != NULL && in_hand == NULL)
		return fault_set(why, STATUS_ABSENT,
			"no product '%s'; 'boughbook product add' keeps one with its analysis",
			name);
	if (name == NULL && count == 1)
		in_hand = &products[0];
	return print_dose(&call->printer, call->session->yard, tree.id, in_hand, why);
}

/* A page about the one tree that is named. */
static enum status print_of_tree(struct call *call,
	enum status (*print)(const struct printer *printer, struct yard *yard, const char *tree_id,
		struct fault *why),
	struct fault *why)
{
	struct tree tree;
	enum status status = call_want(call, 1, WORDS_MAX, why);

	if (status == STATUS_OK)
		status = call_tree(call, call_line(call, 0), &tree, why);
	if (status == STATUS_OK)
		status = print(&call->printer, call->session->yard, tree.id, why);
	return status;
}

enum status cmd_water(struct call *call, int *exit_status, struct fault *why)
{
	(void)exit_status;
	return print_of_tree(call, print_water, why);
}

/* The spot of that name, or that of the tree with that label: a label said in full comes first. */
static enum status find_spot(
	struct call *call, const char *name, struct spot *spot, struct fault *why)
{
	struct store *store = call->session->store;
	struct tree tree;
	enum status status = call_tree(call, name, &tree, why);

	if (status != STATUS_OK || !text_same(tree.label, name)) {
		if (store_spot_find(store, name, spot, NULL) == STATUS_OK)
			return STATUS_OK;
		if (status != STATUS_OK)
			return status;
	}
	while (status == STATUS_OK && tree.host_id[0] != '\0') /* a graft is where its host is */
		status = store_tree_load(store, tree.host_id, &tree, why);
	if (status == STATUS_OK && tree.spot_id[0] == '\0')
		return fault_set(why, STATUS_ABSENT,
			"%s stands in no spot; 'boughbook tree set LABEL --spot NAME' gives it one",
			tree.label);
	return status == STATUS_OK ? store_spot_load(store, tree.spot_id, spot, why) : status;
}

enum status cmd_sun(struct call *call, int *exit_status, struct fault *why)
{
	struct sun_options options = {.level_um = SUN_LEVEL_UM};
	const char *day_text = call_option(call, "day");
	const char *level = call_option(call, "level");
	struct date_span day;
	struct spot spot;
	(void)exit_status;
	enum status status = STATUS_OK;

	if (call->word_count > 0) {
		status = find_spot(call, call_line(call, 0), &spot, why);
		options.spot_id = spot.id;
	}
	if (status == STATUS_OK && day_text != NULL) {
		status = call_day(call, day_text, &day, why);
		if (status == STATUS_OK && !date_span_is_exact(&day))
			status = fault_set(
				why, STATUS_SYNTAX, "--day wants one day, not '%s'", day_text);
		options.day = day.low;
	}
	if (status == STATUS_OK && level != NULL)
		status = length_parse(level, &call->session->numbers, &options.level_um, why);
	if (status == STATUS_OK)
		status = print_sun(&call->printer, call->session->yard, &options, why);
	return status;
}

enum status cmd_season(struct call *call, int *exit_status, struct fault *why)
{
	/* rows for machines have no column for what may bear on a crop */
	struct season_options options = {
		.depth = call->printer.format == FORMAT_TEXT ? SEASON_WHOLE : SEASON_FIGURES};
	const char *label = call_option(call, "tree");
	struct season_report report = {0};
	struct tree tree;
	(void)exit_status;
	enum status status = call_want(call, 0, 1, why);

	if (status == STATUS_OK && call->word_count == 1) {
		status = season_parse(call->words[0], &options.year.value, why);
		options.year.known = true;
	}
	if (status == STATUS_OK && label != NULL) {
		status = call_tree(call, label, &tree, why);
		options.tree_id = tree.id;
	}
	if (status == STATUS_OK)
		status = season_report_make(
			call->session->yard, &options, call->arena, &report, why);
	if (status == STATUS_OK)
		status = print_season(&call->printer, &report, call->session->yard, why);
	return status;
}

enum status cmd_descent(struct call *call, int *exit_status, struct fault *why)
{
	(void)exit_status;
	return print_of_tree(call, print_descent, why);
}

enum status cmd_stock(struct call *call, int *exit_status, struct fault *why)
{
	struct stock_options options = {.without_private = false};
	struct stock_report report;
	(void)exit_status;
	enum status status = call_want(call, 0, 1, why);

	if (status == STATUS_OK && call->word_count == 1) {
		status = season_parse(call->words[0], &options.year.value, why);
		options.year.known = true;
	}
	if (status == STATUS_OK)
		status =
			stock_report_make(call->session->yard, &options, call->arena, &report, why);
	if (status == STATUS_OK)
		status = print_stock(&call->printer, &report, call->session->yard, why);
	return status;
}

enum status cmd_partners(struct call *call, int *exit_status, struct fault *why)
{
	(void)exit_status;
	if (call_has(call, "bloom"))
		return call_want(call, 0, 0, why) == STATUS_OK
			       ? print_bloom(&call->printer, call->session->yard, why)
			       : why->status;
	return print_of_tree(call, print_partners, why);
}

/* The almanac alone, or with what this place sets by hand where a log is there to read. */
enum status cmd_almanac(struct call *call, int *exit_status, struct fault *why)
{
	struct session_options options = {.path = call->log,
		.almanac = call->almanac,
		.clock = call->today.known ? clock_pinned(call->today.value) : clock_system(),
		.units = call->units,
		.read_only = true};
	struct almanac *almanac = NULL;
	char directory[1024];
	(void)exit_status;
	const struct almanac_question question = {
		.kind = call->word_count > 0 ? call_line(call, 0) : NULL,
		.part = call_option(call, "part")};
	bool cultivars = call_has(call, "cultivars"); /* nothing of the grower's own is in them */
	enum status status =
		cultivars ? STATUS_ABSENT : session_open(&options, &call->session, NULL);

	if (status == STATUS_OK) {
		call->printer.units = call->session->units;
		call->printer.numbers = call->session->numbers;
		return print_almanac(&call->printer, call->session->almanac, call->session->yard,
			&question, why);
	}
	status = almanac_find(call->almanac, directory, sizeof directory, why);
	if (status == STATUS_OK)
		status = almanac_open(directory, &almanac, why);
	if (status == STATUS_OK)
		status = cultivars ? print_cultivars(&call->printer, almanac, question.kind, why)
				   : print_almanac(&call->printer, almanac, NULL, &question, why);
	fflush(stdout);
	almanac_close(almanac);
	return status;
}
