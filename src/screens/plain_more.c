/* SPDX-License-Identifier: MIT */
/* Line mode: adding trees, the year ahead, and what is read of one tree or two. */
#include <stdio.h>
#include <string.h>

#include "add_rows.h"
#include "core/text.h"
#include "plain_inner.h"
#include "report/calendar.h"

void plain_add(struct plain *plain, const char *labels)
{
	struct new_tree *tree = block_new(sizeof *tree);
	struct label_range range;
	char label[LINE_SIZE], sort[LINE_SIZE], asked[TEXT_SIZE] = "";
	char added[2 * LABEL_SIZE + 24], said[FAULT_TEXT_SIZE + TEXT_SIZE];
	struct fault why = {.status = STATUS_OK};
	(void)text_copy(label, sizeof label, labels);
	if (label[0] == '\0' && plain_ask(plain, "Label of the new tree, or A1..A12 for a row?"))
		(void)text_copy(label, sizeof label, plain->line);
	if (label[0] == '\0' ||
		!plain_ask(plain, "Its kind, perhaps with a comma and its cultivar? Blank: not "
				  "known.")) {
		block_free(tree);
		return;
	}
	(void)text_copy(sort, sizeof sort, plain->line);
	if (plain_ask(plain, "Planted when? Blank: not known.")) {
		const struct add_words words = {
			.labels = label, .sort = sort, .planted = plain->line};
		enum status status = add_rows_read(&words, plain->session, tree, &range, &why);
		if (status == STATUS_OK)
			status = add_rows_keep(plain->session, tree, &range, asked, &why);
		if (status == STATUS_OK)
			(void)snprintf(said, sizeof said, "Added %s.%s%.300s",
				add_rows_words(&range, added, sizeof added),
				asked[0] != '\0' ? " " : "", asked);
		(void)plain_done(plain, status, said, &why);
	}
	block_free(tree);
}

/* A graft is where its host is. */
void plain_sun(struct plain *plain, const struct tree *tree)
{
	const struct dossier *dossier = NULL;
	struct fault why = {.status = STATUS_OK};
	enum status status = yard_dossier(plain->session->yard, tree->id, &dossier, &why);
	while (status == STATUS_OK && dossier->host != NULL)
		dossier = dossier->host;
	if (status == STATUS_OK && dossier->tree.spot_id[0] == '\0')
		status = fault_set(&why, STATUS_ABSENT, "%s stands in no spot of the plan",
			dossier->tree.label);
	if (status == STATUS_OK) {
		const struct sun_options options = {
			.spot_id = dossier->tree.spot_id, .level_um = SUN_LEVEL_UM};
		status = print_sun(&plain->printer, plain->session->yard, &options, &why);
	}
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
}

void plain_year(struct plain *plain)
{
	struct arena *arena = arena_new();
	struct calendar calendar;
	struct fault why = {.status = STATUS_OK};
	enum status status = calendar_make(plain->session->yard, false, arena, &calendar, &why);
	if (status == STATUS_OK)
		status = print_calendar(&plain->printer, &calendar, &why);
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
	arena_free(arena);
}

static enum status say_seasons(struct plain *plain, const char *label, struct fault *why)
{
	struct tree tree;
	struct season_report report;
	struct arena *arena = arena_new();
	enum status status = store_tree_find(plain->session->store, label, &tree, why);
	if (status == STATUS_OK) {
		const struct season_options options = {.tree_id = tree.id};
		status = season_report_make(plain->session->yard, &options, arena, &report, why);
	}
	if (status == STATUS_OK)
		status = print_season(&plain->printer, &report, plain->session->yard, why);
	arena_free(arena);
	return status;
}

void plain_compare(struct plain *plain, const char *labels)
{
	char both[LINE_SIZE];
	struct fault why = {.status = STATUS_OK};
	(void)text_copy(both, sizeof both, labels);
	char *comma = strchr(both, ',');
	if (comma == NULL) {
		plain_say(plain, "Say two labels with a comma between them.");
		return;
	}
	*comma = '\0';
	if (say_seasons(plain, text_trim_in_place(both), &why) != STATUS_OK ||
		say_seasons(plain, text_trim_in_place(comma + 1), &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
}
