/* SPDX-License-Identifier: MIT */
/* What became of the fruit, at the end of the season's paper. */
#include "paper_parts.h"

static bool tells_something(const struct stock_report *report)
{
	for (int32_t i = 0; i < report->count; i++)
		for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++)
			if (report->lines[i].became[use].known ||
				report->lines[i].not_weighed[use] > 0 ||
				report->lines[i].in_store[use].known)
				return true;
	return false;
}

enum status paper_stock(struct document *document, const struct on_paper *paper, int32_t year,
	struct arena *arena, struct fault *why)
{
	const struct stock_options options = {.year = known_i32(year),
		.without_private = paper->without_private,
		.without_ahead = true};
	const enum unit_system units = paper->printer.units;
	struct stock_report report;
	char words[400], store[160];
	enum status status = stock_report_make(paper->yard, &options, arena, &report, why);

	if (status != STATUS_OK || !tells_something(&report))
		return status;
	document_heading(document, "What became of the fruit");
	for (int32_t i = 0; i < report.count; i++) {
		const struct stock_line *line = &report.lines[i];

		stock_line_words(line, units, words, sizeof words);
		stock_store_words(line, units, store, sizeof store);
		if (words[0] != '\0')
			document_row(document, line->kind_name, "%s", words);
		if (store[0] != '\0')
			document_row(document, words[0] != '\0' ? "" : line->kind_name,
				"in store: %s", store);
	}
	document_say(document, "Weighed as picked. %s", stock_caution);
	return STATUS_OK;
}
