/* SPDX-License-Identifier: MIT */
/* Bars of a chart: signs in text, inline SVG in HTML. */
#include <string.h>

#include "document.h"
#include "report/rows.h"

/* Of text, cells. */
enum { LABEL_CELLS_MAX = 20, BAR_CELLS = 26 };
/* Of the drawing, its own units. */
enum { WIDTH = 640, ROW = 18, BAR_X = 130, BAR_WIDTH = 240, BAR_HEIGHT = 11, LETTERS = 11 };
/* A drawing is not broken between sheets: long charts are several. */
enum { BARS_TOGETHER = 12 };

static int64_t most_of(const struct document_bar *bars, int32_t count, struct maybe_i64 mark)
{
	int64_t most = mark.known ? mark.value : 0;

	for (int32_t i = 0; i < count; i++)
		if (bars[i].size.known && bars[i].size.value > most)
			most = bars[i].size.value;
	return most > 0 ? most : 1;
}

/* How long a bar of this size is, of `full`; what is not nothing is seen. */
static int32_t length_of(int64_t size, int64_t most, int32_t full)
{
	int32_t length = (int32_t)((double)size / (double)most * full + 0.5);

	return length == 0 && size > 0 ? 1 : length;
}

/* --- text --- */

static void text_bar(const struct document *document, const struct document_bar *bar, int64_t most,
	struct maybe_i64 mark, int label_cells)
{
	const bool ascii = document->printer.ascii;
	const char *sign = bar->open ? (ascii ? "-" : "░") : (ascii ? "#" : "█");
	int32_t at = mark.known ? length_of(mark.value, most, BAR_CELLS - 1) : -1;
	int32_t length = bar->size.known ? length_of(bar->size.value, most, BAR_CELLS - 1) : 0;
	char label[TEXT_FIT_SIZE(LABEL_CELLS_MAX)];
	char room[sizeof label + BAR_CELLS * 4 + 8];
	struct text_builder head = text_builder_fixed(room, sizeof room);

	text_add_format(&head, "  %s ",
		text_fit(bar->label, label_cells, TEXT_PAD_RIGHT | (ascii ? TEXT_ASCII : 0), label,
			sizeof label));
	for (int32_t i = 0; i < BAR_CELLS; i++)
		text_add(&head, i == at ? (ascii ? "|" : "│") : i < length ? sign : " ");
	text_add(&head, " ");
	say_wrapped(&document->printer, room, "%s", bar->words);
}

static void text_bars(const struct document *document, const struct document_bar *bars,
	int32_t count, int64_t most, struct maybe_i64 mark)
{
	int cells = 4;

	for (int32_t i = 0; i < count; i++)
		if (text_width(bars[i].label) > cells)
			cells = text_width(bars[i].label);
	for (int32_t i = 0; i < count; i++)
		text_bar(document, &bars[i], most, mark,
			cells > LABEL_CELLS_MAX ? LABEL_CELLS_MAX : cells);
}

/* --- SVG --- */

static void svg_text(struct html *html, int32_t x, int32_t y, const char *text, int cells)
{
	char fitted[TEXT_FIT_SIZE(40)];

	html_open(html, "text");
	html_attribute_i32(html, "x", x);
	html_attribute_i32(html, "y", y);
	html_attribute_i32(html, "font-size", LETTERS);
	html_text(html, text_fit(text, cells, TEXT_PLAIN, fitted, sizeof fitted));
	html_close(html);
}

static void svg_bar(struct html *html, const struct document_bar *bar, int32_t row, int64_t most)
{
	int32_t top = row * ROW + (ROW - BAR_HEIGHT) / 2;

	svg_text(html, 0, top + BAR_HEIGHT - 2, bar->label, 22);
	if (bar->size.known) {
		html_open(html, "rect");
		html_attribute(html, "class", bar->open ? "open" : "bar");
		html_attribute(html, "fill", bar->open ? "#fff" : "#555");
		html_attribute(html, "stroke", "#000");
		if (bar->open)
			html_attribute(html, "stroke-dasharray", "3 2");
		html_attribute_i32(html, "x", BAR_X);
		html_attribute_i32(html, "y", top);
		html_attribute_i32(html, "width", length_of(bar->size.value, most, BAR_WIDTH));
		html_attribute_i32(html, "height", BAR_HEIGHT);
		html_close(html);
	}
	svg_text(html, BAR_X + BAR_WIDTH + 10, top + BAR_HEIGHT - 2, bar->words, 36);
}

static void svg_mark(struct html *html, int32_t rows, int64_t most, struct maybe_i64 mark)
{
	int32_t x = BAR_X + length_of(mark.value, most, BAR_WIDTH);

	html_open(html, "line");
	html_attribute(html, "class", "mark");
	html_attribute(html, "stroke", "#000");
	html_attribute(html, "stroke-width", "2");
	html_attribute_i32(html, "x1", x);
	html_attribute_i32(html, "y1", 0);
	html_attribute_i32(html, "x2", x);
	html_attribute_i32(html, "y2", rows * ROW);
	html_close(html);
}

static void svg_bars(struct html *html, const char *title, const struct document_bar *bars,
	int32_t count, int64_t most, struct maybe_i64 mark)
{
	char box[48];

	snprintf(box, sizeof box, "0 0 %d %d", (int)WIDTH, (int)(count * ROW));
	html_open(html, "svg");
	html_attribute(html, "viewBox", box);
	html_attribute(html, "role", "img");
	html_attribute(html, "aria-label", title);
	for (int32_t i = 0; i < count; i++)
		svg_bar(html, &bars[i], i, most);
	if (mark.known)
		svg_mark(html, count, most, mark);
	html_close(html);
}

void document_bars(struct document *document, const char *title, const struct document_bar *bars,
	int32_t count, struct maybe_i64 mark)
{
	int64_t most = most_of(bars, count, mark);

	document_heading(document, title);
	if (!document->is_html)
		text_bars(document, bars, count, most, mark);
	for (int32_t from = 0; document->is_html && from < count; from += BARS_TOGETHER)
		svg_bars(&document->html, title, bars + from,
			count - from < BARS_TOGETHER ? count - from : BARS_TOGETHER, most, mark);
}
