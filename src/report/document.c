/* SPDX-License-Identifier: MIT */
#include "document.h"

#include <stdarg.h>
#include <string.h>

#include "core/text.h"
#include "document_style.h"
#include "report/rows.h"

enum { TEXT_PLENTY = 8000 };

/* --- what is open --- */

static void end_part(struct document *document)
{
	if (document->is_html && document->part == PART_ROWS) {
		html_close(&document->html);
		html_close(&document->html);
	} else if (document->is_html && document->part == PART_CELLS) {
		html_close(&document->html);
		html_close(&document->html);
	}
	document->part = PART_PROSE;
}

void document_begin(
	struct document *document, const struct printer *printer, bool is_html, const char *title)
{
	*document = (struct document){
		.printer = *printer, .is_html = is_html, .head_cells = DOCUMENT_HEAD_CELLS};
	if (is_html) {
		document->html = html_begin(printer->stream, title, document_style);
		html_open(&document->html, "main");
		html_element(&document->html, "h1", NULL, title);
		return;
	}
	document->printer.format = FORMAT_TEXT;
	say_wrapped(&document->printer, "", "%s", title);
}

enum status document_end(struct document *document, struct fault *why)
{
	end_part(document);
	if (document->is_html)
		return html_end(&document->html, why);
	return say_end(&document->printer, why);
}

static void rule(const struct document *document, char sign)
{
	char line[81];

	memset(line, sign, sizeof line - 1);
	line[sizeof line - 1] = '\0';
	say_line(&document->printer, "%s", line);
}

void document_page(struct document *document, const char *title)
{
	end_part(document);
	if (document->is_html) {
		if (document->pages++ > 0)
			html_close(&document->html);
		html_open(&document->html, "section");
		html_element(&document->html, "h2", NULL, title);
		return;
	}
	if (document->pages++ > 0) /* a printer begins a new sheet here */
		fputs("\f\n", document->printer.stream);
	rule(document, '=');
	say_wrapped(&document->printer, "", "%s", title);
}

void document_heading(struct document *document, const char *text)
{
	end_part(document);
	if (document->is_html) {
		html_element(&document->html, "h3", NULL, text);
		return;
	}
	say_line(&document->printer, "%s", "");
	say_wrapped(&document->printer, "", "%s", text);
}

void document_group_begin(struct document *document, const char *heading)
{
	end_part(document);
	if (document->is_html) {
		html_open(&document->html, "div");
		html_attribute(&document->html, "class", "stop");
	}
	document_heading(document, heading);
}

void document_group_end(struct document *document)
{
	end_part(document);
	if (document->is_html)
		html_close(&document->html);
}

void document_say(struct document *document, const char *format, ...)
{
	char text[TEXT_PLENTY];
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	end_part(document);
	if (document->is_html)
		html_element(&document->html, "p", NULL, text);
	else
		say_wrapped(&document->printer, "", "%s", text);
}

void document_warn(struct document *document, const char *text)
{
	end_part(document);
	if (!document->is_html) {
		say_wrapped(&document->printer, "! ", "%s", text);
		return;
	}
	html_open(&document->html, "p");
	html_attribute(&document->html, "class", "warn");
	html_element(&document->html, "strong", NULL, "Take care: ");
	html_text(&document->html, text);
	html_close(&document->html);
}

/* --- rows of a head and words --- */

void document_heads(struct document *document, int cells)
{
	document->head_cells = cells;
}

static void open_table(struct document *document, const char *class, enum document_part part)
{
	if (document->part == part)
		return;
	end_part(document);
	document->part = part;
	if (!document->is_html)
		return;
	html_open(&document->html, "table");
	html_attribute(&document->html, "class", class);
}

void document_row(struct document *document, const char *head, const char *format, ...)
{
	char text[TEXT_PLENTY], fitted[TEXT_FIT_SIZE(DOCUMENT_HEAD_CELLS_MAX)];
	char first[sizeof fitted + 8];
	int how = TEXT_PAD_RIGHT | (document->printer.ascii ? TEXT_ASCII : 0);
	int cells = text_width(head);
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	if (!document->is_html) {
		document->part = PART_ROWS;
		cells = cells < document->head_cells      ? document->head_cells
			: cells > DOCUMENT_HEAD_CELLS_MAX ? DOCUMENT_HEAD_CELLS_MAX
							  : cells;
		snprintf(first, sizeof first, "  %s ",
			text_fit(head, cells, how, fitted, sizeof fitted));
		say_wrapped(&document->printer, first, "%s", text);
		return;
	}
	if (document->part != PART_ROWS) {
		open_table(document, "rows", PART_ROWS);
		html_open(&document->html, "tbody");
	}
	html_open(&document->html, "tr");
	html_open(&document->html, "th");
	html_attribute(&document->html, "scope", "row");
	html_text(&document->html, head);
	html_close(&document->html);
	html_element(&document->html, "td", NULL, text);
	html_close(&document->html);
}

/* --- tables --- */

static void open_row(struct document *document)
{
	document->head[0] = '\0';
	if (document->is_html)
		html_open(&document->html, "tr");
	else
		text_copy(document->head, sizeof document->head, "  ");
}

static void html_cell(struct document *document, const char *tag, const char *text)
{
	const struct document_column *column = &document->columns[document->column];

	html_open(&document->html, tag);
	if (strcmp(tag, "th") == 0)
		html_attribute(&document->html, "scope", document->in_heads ? "col" : "row");
	if (column->figures)
		html_attribute(&document->html, "class", "figures");
	html_text(&document->html, text);
	html_close(&document->html);
}

/* The last column wraps; a long name in the first has a line of its own: nothing of it is lost. */
static void text_cell(struct document *document, const char *text)
{
	const struct document_column *column = &document->columns[document->column];
	char fitted[TEXT_FIT_SIZE(78)];
	const size_t used = strlen(document->head);
	struct text_builder head =
		text_builder_fixed(document->head + used, sizeof document->head - used);
	int how = (column->figures ? TEXT_PAD_LEFT : TEXT_PAD_RIGHT) |
		  (document->printer.ascii ? TEXT_ASCII : 0);

	if (column->cells == 0) {
		say_wrapped(&document->printer, document->head, "%s", text);
		return;
	}
	if (document->column == 0 && text_width(text) > column->cells) {
		say_wrapped(&document->printer, "  ", "%s", text);
		text = "";
	}
	text_add(&head, text_fit(text, column->cells, how, fitted, sizeof fitted));
	text_add(&head, "  ");
	if (document->column + 1 == document->column_count)
		say_wrapped(&document->printer, document->head, "%s", "");
}

static void put_cell(struct document *document, const char *text)
{
	if (document->column == 0)
		open_row(document);
	if (!document->is_html)
		text_cell(document, text);
	else
		html_cell(
			document, document->in_heads || document->column == 0 ? "th" : "td", text);
	if (++document->column < document->column_count)
		return;
	document->column = 0;
	if (document->is_html)
		html_close(&document->html);
}

void document_table(struct document *document, const struct document_column *columns, int32_t count)
{
	end_part(document);
	open_table(document, "cells", PART_CELLS);
	document->columns = columns;
	document->column_count = count;
	document->column = 0;
	document->in_heads = true;
	if (document->is_html)
		html_open(&document->html, "thead");
	for (int32_t i = 0; i < count; i++)
		put_cell(document, columns[i].head);
	document->in_heads = false;
	if (document->is_html) {
		html_close(&document->html);
		html_open(&document->html, "tbody");
	}
}

void document_cell(struct document *document, const char *text)
{
	put_cell(document, text);
}

/* --- lines to fill --- */

void document_blanks(struct document *document, int32_t lines)
{
	end_part(document);
	for (int32_t i = 0; i < lines; i++) {
		if (!document->is_html) {
			say_line(&document->printer, "%s", "");
			say_line(&document->printer,
				"  day ____________  "
				"____________________________________________________________");
			continue;
		}
		html_open(&document->html, "p");
		html_attribute(&document->html, "class", "blank");
		html_element(&document->html, "span", "day", "day");
		html_element(&document->html, "span", "line", "done or seen");
		html_close(&document->html);
	}
}
