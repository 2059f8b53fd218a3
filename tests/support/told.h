/* SPDX-License-Identifier: MIT */
/* told.h - situations that growers told, as tests: a yard on a day from lines, and what the program
 * prints of it, each as one long text. Functions are in the header, as those of garden.h. */
#ifndef SUPPORT_TOLD_H
#define SUPPORT_TOLD_H

#include "support/log_case.h"

#include "core/text.h"
#include "report/print.h"

/* A yard in the north on a day. */
static inline void told(struct garden *garden, enum log_place place, const char *trees,
	const char *lines, const char *today)
{
	const struct log_case one = {
		.place = place, .trees = trees, .lines = lines, .today = today};
	log_case_make(garden, &one, false);
}

/* The same in the south: the days are those of the south already. */
static inline void told_south(struct garden *garden, enum log_place place, const char *trees,
	const char *lines, const char *today)
{
	const struct log_case one = {
		.place = place, .trees = trees, .lines = lines, .today = today, .as_written = true};
	log_case_make(garden, &one, true);
}

static inline void check_silent(const struct flags *flags, const char *rule)
{
	const struct flag *flag = log_case_find(flags, rule);
	check_text(flag == NULL ? "" : flag->says, "", rule);
}

/* got has part nowhere. */
static inline void check_lacks(const char *got, const char *part, const char *label)
{
	if (strstr(got, part) != NULL)
		print_message("%s\n", got);
	check_text(strstr(got, part) == NULL ? "" : part, "", label);
}

/* --- what is printed, on lines too long to be broken --- */

struct told_page {
	struct printer printer;
	char *text;
	size_t length;
};

static inline void told_page_open(struct told_page *page, const struct garden *garden)
{
	page->text = NULL;
	page->length = 0;
	page->printer = (struct printer){.stream = open_memstream(&page->text, &page->length),
		.width = 4000,
		.units = garden->place.units,
		.numbers = yard_numbers(garden->yard)};
	assert_non_null(page->printer.stream);
}

/* The page, in the garden's arena. */
static inline const char *told_page_close(struct told_page *page, struct garden *garden)
{
	fclose(page->printer.stream);
	const char *text = arena_text(garden->arena, page->text);
	free(page->text);
	return text;
}

static inline const char *told_review(struct garden *garden, bool all)
{
	struct fault why = {0};
	struct review review = {.count = 0};
	const struct review_options options = {.all = all};
	struct told_page page;
	told_page_open(&page, garden);
	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	check_ok(print_review(&page.printer, &review, garden->yard, all, &why), &why);
	return told_page_close(&page, garden);
}

static inline const char *told_ask(struct garden *garden, const char *line)
{
	struct fault why = {0};
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	struct reading reading = {.line_count = 0};
	struct ask_answer answer;
	struct told_page page;
	told_page_open(&page, garden);
	check_ok(line_read(line, &context, garden->arena, &reading, NULL, &why), &why);
	check_ok(review_ask(garden->yard, &reading, garden->arena, &answer, &why), &why);
	check_ok(print_ask(&page.printer, &answer, garden->yard, &why), &why);
	return told_page_close(&page, garden);
}

static inline const char *told_dose(
	struct garden *garden, const char *label, const struct product *product)
{
	struct fault why = {0};
	struct tree tree = garden_find(garden, label);
	struct told_page page;
	told_page_open(&page, garden);
	check_ok(print_dose(&page.printer, garden->yard, tree.id, product, &why), &why);
	return told_page_close(&page, garden);
}

static inline const char *told_water(struct garden *garden, const char *label)
{
	struct fault why = {0};
	struct tree tree = garden_find(garden, label);
	struct told_page page;
	told_page_open(&page, garden);
	check_ok(print_water(&page.printer, garden->yard, tree.id, &why), &why);
	return told_page_close(&page, garden);
}

static inline const char *told_partners(struct garden *garden, const char *label)
{
	struct fault why = {0};
	struct tree tree = garden_find(garden, label);
	struct told_page page;
	told_page_open(&page, garden);
	check_ok(print_partners(&page.printer, garden->yard, tree.id, &why), &why);
	return told_page_close(&page, garden);
}

static inline const char *told_tree(struct garden *garden, const char *label)
{
	struct fault why = {0};
	struct tree tree = garden_find(garden, label);
	struct told_page page;
	told_page_open(&page, garden);
	check_ok(print_tree(&page.printer, garden->yard, tree.id, &why), &why);
	return told_page_close(&page, garden);
}

static inline const char *told_trees(struct garden *garden, bool gone_too)
{
	struct fault why = {0};
	struct told_page page;
	told_page_open(&page, garden);
	check_ok(print_trees(&page.printer, garden->yard, gone_too, &why), &why);
	return told_page_close(&page, garden);
}

/* One tree season by season; "" the whole yard this season. */
static inline struct season_report told_seasons(struct garden *garden, const char *label)
{
	struct fault why = {0};
	struct season_report report = {.count = 0};
	struct tree tree = {.id = ""};
	if (label[0] != '\0')
		tree = garden_find(garden, label);
	const struct season_options options = {
		.tree_id = label[0] != '\0' ? arena_text(garden->arena, tree.id) : NULL};
	check_ok(season_report_make(garden->yard, &options, garden->arena, &report, &why), &why);
	return report;
}

static inline const char *told_season(struct garden *garden, const char *label)
{
	struct fault why = {0};
	struct season_report report = told_seasons(garden, label);
	struct told_page page;
	told_page_open(&page, garden);
	check_ok(print_season(&page.printer, &report, garden->yard, &why), &why);
	return told_page_close(&page, garden);
}

static inline const struct season_line *told_year(const struct season_report *report, int32_t year)
{
	for (int32_t i = 0; i < report->count; i++)
		if (report->lines[i].season.year == year)
			return &report->lines[i];
	return NULL;
}

/* What the program answers to a line that it keeps: how it was read and what it noticed; of one
 * that it refuses, why. */
static inline const char *told_answer(struct garden *garden, const char *line)
{
	struct fault why = {0};
	struct line_context context = yard_line_context(garden->yard, &garden->names);
	struct reading reading = {.line_count = 0};
	char answer[sizeof reading.said + sizeof reading.remarks + 2];
	if (line_read(line, &context, garden->arena, &reading, NULL, &why) != STATUS_OK)
		return arena_text(garden->arena, why.text);
	snprintf(answer, sizeof answer, "%s\n%s", reading.said, reading.remarks);
	garden_log(garden, line);
	return arena_text(garden->arena, answer);
}

#endif
