/* SPDX-License-Identifier: MIT */
/* References: ECMA-48 (5th edition, 1991) for the sequences; the VT100 user guide (EK-VT100-UG)
 * for the line-drawing set and the scrolling region. */
#include "support/vt.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

static const struct vt_style plain = {.attributes = 0, .foreground = -1, .background = -1};

/* Line drawing, from 0x60 on. */
static const char *const drawing_set[] = {
	"◆",
	"▒",
	"␉",
	"␌",
	"␍",
	"␊",
	"°",
	"±",
	"␤",
	"␋",
	"┘",
	"┐",
	"┌",
	"└",
	"┼",
	"⎺",
	"⎻",
	"─",
	"⎼",
	"⎽",
	"├",
	"┤",
	"┴",
	"┬",
	"│",
	"≤",
	"≥",
	"π",
	"≠",
	"£",
	"·",
};

static int clamp(int value, int low, int high)
{
	return value < low ? low : value > high ? high : value;
}

/* --- cells --- */

static void blank(struct vt_cell *cell, struct vt_style style)
{
	*cell = (struct vt_cell){.text = " ", .style = plain};
	cell->style.background = style.background;
}

static void blank_span(struct vt *vt, int row, int from, int to)
{
	for (int column = from; column <= to; column++) {
		blank(&vt->cells[row][column], vt->pen.style);
	}
}

/* Half of a wide character that lost its other half becomes a blank. */
static void mend_row(struct vt *vt, int row)
{
	for (int column = 0; column < vt->columns; column++) {
		struct vt_cell *cell = &vt->cells[row][column];
		const bool is_right = cell->text[0] == '\0';
		const bool had_left = column > 0 && (cell[-1].style.attributes & VT_WIDE) != 0;
		if (is_right && !had_left) {
			blank(cell, cell->style);
		}
		const bool has_right = column + 1 < vt->columns && cell[1].text[0] == '\0';
		if ((cell->style.attributes & VT_WIDE) != 0 && !has_right) {
			blank(cell, cell->style);
		}
	}
}

static void scroll_up(struct vt *vt, int top, int bottom, int count)
{
	count = clamp(count, 0, bottom - top + 1);
	memmove(vt->cells[top], vt->cells[top + count],
		(size_t)(bottom - top + 1 - count) * sizeof vt->cells[0]);
	for (int row = bottom - count + 1; row <= bottom; row++) {
		blank_span(vt, row, 0, VT_COLUMNS_MAX - 1);
	}
}

static void scroll_down(struct vt *vt, int top, int bottom, int count)
{
	count = clamp(count, 0, bottom - top + 1);
	memmove(vt->cells[top + count], vt->cells[top],
		(size_t)(bottom - top + 1 - count) * sizeof vt->cells[0]);
	for (int row = top; row < top + count; row++) {
		blank_span(vt, row, 0, VT_COLUMNS_MAX - 1);
	}
}

static void open_cells(struct vt *vt, int count)
{
	struct vt_cell *row = vt->cells[vt->pen.row];
	const int from = vt->pen.column;
	count = clamp(count, 0, vt->columns - from);
	memmove(row + from + count, row + from,
		(size_t)(vt->columns - from - count) * sizeof row[0]);
	blank_span(vt, vt->pen.row, from, from + count - 1);
	mend_row(vt, vt->pen.row);
}

static void close_cells(struct vt *vt, int count)
{
	struct vt_cell *row = vt->cells[vt->pen.row];
	const int from = vt->pen.column;
	count = clamp(count, 0, vt->columns - from);
	memmove(row + from, row + from + count,
		(size_t)(vt->columns - from - count) * sizeof row[0]);
	blank_span(vt, vt->pen.row, vt->columns - count, vt->columns - 1);
	mend_row(vt, vt->pen.row);
}

/* --- moving --- */

static void move_to(struct vt *vt, int row, int column)
{
	vt->pen.row = clamp(row, 0, vt->rows - 1);
	vt->pen.column = clamp(column, 0, vt->columns - 1);
	vt->pen.wrap_next = false;
}

static void line_down(struct vt *vt)
{
	vt->pen.wrap_next = false;
	if (vt->pen.row == vt->bottom) {
		scroll_up(vt, vt->top, vt->bottom, 1);
	} else if (vt->pen.row < vt->rows - 1) {
		vt->pen.row++;
	}
}

static void line_up(struct vt *vt)
{
	vt->pen.wrap_next = false;
	if (vt->pen.row == vt->top) {
		scroll_down(vt, vt->top, vt->bottom, 1);
	} else if (vt->pen.row > 0) {
		vt->pen.row--;
	}
}

/* --- characters --- */

static int width_of(const char *text)
{
	static locale_t utf8;
	if (utf8 == (locale_t)0) {
		utf8 = newlocale(LC_CTYPE_MASK, "C.UTF-8", (locale_t)0);
	}
	const locale_t before = uselocale(utf8);
	wchar_t wide = L'\0';
	mbstate_t state = {0};
	const size_t used = mbrtowc(&wide, text, strlen(text), &state);
	const int width = used > 0 && used <= 4 ? wcwidth(wide) : -1;
	(void)uselocale(before);
	return width;
}

static void put_mark(struct vt *vt, const char *text)
{
	int column = vt->pen.wrap_next ? vt->pen.column : vt->pen.column - 1;
	column = clamp(column, 0, vt->columns - 1);
	struct vt_cell *cell = &vt->cells[vt->pen.row][column];
	if (cell->text[0] == '\0' && column > 0) {
		cell--;
	}
	if (strlen(cell->text) + strlen(text) < VT_CELL_SIZE) {
		strcat(cell->text, text);
	}
}

static void put_text(struct vt *vt, const char *text)
{
	const int width = width_of(text);
	if (width == 0) {
		put_mark(vt, text);
		return;
	}
	const int cells = width == 2 ? 2 : 1;
	if (vt->pen.wrap_next || vt->pen.column + cells > vt->columns) {
		if (vt->wrap) {
			vt->pen.column = 0;
			line_down(vt);
		} else {
			vt->pen.column = vt->columns - cells;
		}
	}
	if (vt->insert) {
		open_cells(vt, cells);
	}
	struct vt_cell *cell = &vt->cells[vt->pen.row][vt->pen.column];
	for (int i = 0; i < cells; i++) {
		cell[i].style = vt->pen.style;
		cell[i].text[0] = '\0';
	}
	strcpy(cell->text, width > 0 ? text : "\xef\xbf\xbd");
	if (cells == 2) {
		cell->style.attributes |= VT_WIDE;
	}
	mend_row(vt, vt->pen.row);
	strcpy(vt->last, text);
	vt->pen.wrap_next = vt->pen.column + cells >= vt->columns && vt->wrap;
	vt->pen.column = clamp(vt->pen.column + cells, 0, vt->columns - 1);
}

static void put_ascii(struct vt *vt, unsigned char byte)
{
	const char text[2] = {(char)byte, '\0'};
	const size_t drawn = sizeof drawing_set / sizeof drawing_set[0];
	if (vt->pen.drawing[vt->pen.charset] && byte >= 0x60 && byte < 0x60 + drawn) {
		put_text(vt, drawing_set[byte - 0x60]);
	} else {
		put_text(vt, text);
	}
}

static void put_utf8(struct vt *vt, unsigned char byte)
{
	if (byte >= 0xc0) {
		vt->utf8_wanted = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
		vt->utf8_length = 0;
	} else if (vt->utf8_length == 0) {
		put_text(vt, "\xef\xbf\xbd");
		return;
	}
	vt->utf8[vt->utf8_length++] = (char)byte;
	if (vt->utf8_length == vt->utf8_wanted) {
		vt->utf8[vt->utf8_length] = '\0';
		vt->utf8_length = 0;
		put_text(vt, vt->utf8);
	}
}

static void control(struct vt *vt, unsigned char byte)
{
	switch (byte) {
	case '\a':
		vt->bells++;
		break;
	case '\b':
		move_to(vt, vt->pen.row, vt->pen.column - 1);
		break;
	case '\t':
		move_to(vt, vt->pen.row, (vt->pen.column / 8 + 1) * 8);
		break;
	case '\n':
	case '\v':
	case '\f':
		line_down(vt);
		break;
	case '\r':
		move_to(vt, vt->pen.row, 0);
		break;
	case 0x0e:
		vt->pen.charset = 1;
		break;
	case 0x0f:
		vt->pen.charset = 0;
		break;
	default: /* NUL padding and what no terminal shows */
		break;
	}
}

/* --- sequences --- */

static int word(const struct vt *vt, int index, int missing)
{
	return index < vt->word_count && vt->words[index] > 0 ? vt->words[index] : missing;
}

static void not_understood(struct vt *vt, unsigned char final)
{
	if (vt->unknown[0] == '\0') {
		const char mark[2] = {vt->private_mark, '\0'};
		(void)snprintf(vt->unknown, sizeof vt->unknown, "ESC %s%s %d;%d %c",
			vt->state == VT_CSI ? "[" : "", mark, word(vt, 0, 0), word(vt, 1, 0),
			final);
	}
}

static void reset(struct vt *vt)
{
	vt->pen = (struct vt_pen){.style = plain};
	vt->saved = vt->pen;
	vt->top = 0;
	vt->bottom = vt->rows - 1;
	vt->cursor_shown = true;
	vt->insert = false;
	vt->wrap = true;
	for (int row = 0; row < VT_ROWS_MAX; row++) {
		blank_span(vt, row, 0, VT_COLUMNS_MAX - 1);
	}
}

static void erase_display(struct vt *vt, int how)
{
	const int row = vt->pen.row;
	if (how == 0) {
		blank_span(vt, row, vt->pen.column, vt->columns - 1);
	} else if (how == 1) {
		blank_span(vt, row, 0, vt->pen.column);
	}
	const int from = how == 0 ? row + 1 : 0;
	const int to = how == 1 ? row - 1 : vt->rows - 1;
	for (int i = from; i <= to; i++) {
		blank_span(vt, i, 0, VT_COLUMNS_MAX - 1);
	}
	mend_row(vt, row);
}

static void erase_line(struct vt *vt, int how)
{
	const int from = how == 0 ? vt->pen.column : 0;
	const int to = how == 1 ? vt->pen.column : vt->columns - 1;
	blank_span(vt, vt->pen.row, from, to);
	mend_row(vt, vt->pen.row);
}

static void switch_screen(struct vt *vt, bool other)
{
	if (vt->on_other == other) {
		return;
	}
	if (other) {
		memcpy(vt->other, vt->cells, sizeof vt->cells);
		erase_display(vt, 2);
	} else {
		memcpy(vt->cells, vt->other, sizeof vt->cells);
	}
	vt->on_other = other;
}

static void set_private_mode(struct vt *vt, int mode, bool on)
{
	switch (mode) {
	case 7:
		vt->wrap = on;
		break;
	case 25:
		vt->cursor_shown = on;
		break;
	case 47:
	case 1047:
		switch_screen(vt, on);
		break;
	case 1049:
		if (on) {
			vt->saved = vt->pen;
		}
		switch_screen(vt, on);
		if (!on) {
			vt->pen = vt->saved;
		}
		break;
	case 2004:
		vt->pastes_marked = on;
		break;
	case 9:
	case 1000:
	case 1001:
	case 1002:
	case 1003:
	case 1006:
		vt->mouse_told = on;
		break;
	default: /* keypad, blinking: nothing to see */
		break;
	}
}

static int16_t read_colour(const struct vt *vt, int *index)
{
	const int kind = word(vt, *index + 1, 0);
	if (kind == 5) {
		*index += 2;
		return (int16_t)word(vt, *index, 0);
	}
	if (kind == 2) {
		*index += 4;
	}
	return -1;
}

static void set_attribute(struct vt_style *style, uint8_t bits, bool on)
{
	style->attributes = (uint8_t)(on ? style->attributes | bits : style->attributes & ~bits);
}

static void set_style(struct vt *vt, int code)
{
	static const uint8_t bits[] = {0, VT_BOLD, VT_DIM, VT_ITALIC, VT_UNDERLINE, VT_BLINK,
		VT_BLINK, VT_REVERSE, VT_HIDDEN};
	struct vt_style *style = &vt->pen.style;
	if (code == 0) {
		*style = plain;
	} else if (code < 9) {
		set_attribute(style, bits[code], true);
	} else if (code == 22) {
		set_attribute(style, VT_BOLD | VT_DIM, false);
	} else if (code > 22 && code < 29) {
		set_attribute(style, bits[code - 20], false);
	} else if (code >= 30 && code < 38) {
		style->foreground = (int16_t)(code - 30);
	} else if (code >= 40 && code < 48) {
		style->background = (int16_t)(code - 40);
	} else if (code >= 90 && code < 98) {
		style->foreground = (int16_t)(code - 82);
	} else if (code >= 100 && code < 108) {
		style->background = (int16_t)(code - 92);
	} else if (code == 39) {
		style->foreground = -1;
	} else if (code == 49) {
		style->background = -1;
	}
}

static void set_styles(struct vt *vt)
{
	if (vt->word_count == 0) {
		vt->pen.style = plain;
	}
	for (int i = 0; i < vt->word_count; i++) {
		const int code = word(vt, i, 0);
		if (code == 38) {
			vt->pen.style.foreground = read_colour(vt, &i);
		} else if (code == 48) {
			vt->pen.style.background = read_colour(vt, &i);
		} else {
			set_style(vt, code);
		}
	}
}

static void set_modes(struct vt *vt, bool on)
{
	for (int i = 0; i < vt->word_count; i++) {
		if (vt->private_mark == '?') {
			set_private_mode(vt, vt->words[i], on);
		} else if (vt->words[i] == 4) {
			vt->insert = on;
		}
	}
}

static void set_region(struct vt *vt)
{
	const int top = word(vt, 0, 1) - 1;
	const int bottom = clamp(word(vt, 1, vt->rows) - 1, 0, vt->rows - 1);
	if (top < bottom) {
		vt->top = top;
		vt->bottom = bottom;
		move_to(vt, 0, 0);
	}
}

static void repeat(struct vt *vt, int count)
{
	char text[VT_CELL_SIZE];
	strcpy(text, vt->last);
	for (int i = 0; i < clamp(count, 0, vt->columns) && text[0] != '\0'; i++) {
		put_text(vt, text);
	}
}

static bool move_by(struct vt *vt, unsigned char final)
{
	const int count = word(vt, 0, 1);
	const struct vt_pen pen = vt->pen;
	switch (final) {
	case 'A':
		move_to(vt, clamp(pen.row - count, pen.row >= vt->top ? vt->top : 0, pen.row),
			pen.column);
		return true;
	case 'B':
	case 'e':
		move_to(vt,
			clamp(pen.row + count, pen.row,
				pen.row <= vt->bottom ? vt->bottom : vt->rows - 1),
			pen.column);
		return true;
	case 'C':
	case 'a':
		move_to(vt, pen.row, pen.column + count);
		return true;
	case 'D':
		move_to(vt, pen.row, pen.column - count);
		return true;
	case 'E':
		move_to(vt, pen.row + count, 0);
		return true;
	case 'F':
		move_to(vt, pen.row - count, 0);
		return true;
	case 'G':
	case '`':
		move_to(vt, pen.row, count - 1);
		return true;
	case 'd':
		move_to(vt, count - 1, pen.column);
		return true;
	case 'H':
	case 'f':
		move_to(vt, count - 1, word(vt, 1, 1) - 1);
		return true;
	case 'I':
		move_to(vt, pen.row, (pen.column / 8 + count) * 8);
		return true;
	case 'Z':
		move_to(vt, pen.row, ((pen.column + 7) / 8 - count) * 8);
		return true;
	default:
		return false;
	}
}

static bool change_cells(struct vt *vt, unsigned char final)
{
	const int count = word(vt, 0, 1);
	const bool inside = vt->pen.row >= vt->top && vt->pen.row <= vt->bottom;
	switch (final) {
	case '@':
		open_cells(vt, count);
		return true;
	case 'P':
		close_cells(vt, count);
		return true;
	case 'X':
		blank_span(vt, vt->pen.row, vt->pen.column,
			clamp(vt->pen.column + count, 0, vt->columns) - 1);
		mend_row(vt, vt->pen.row);
		return true;
	case 'J':
		erase_display(vt, word(vt, 0, 0));
		return true;
	case 'K':
		erase_line(vt, word(vt, 0, 0));
		return true;
	case 'L':
		if (inside) {
			scroll_down(vt, vt->pen.row, vt->bottom, count);
		}
		return true;
	case 'M':
		if (inside) {
			scroll_up(vt, vt->pen.row, vt->bottom, count);
		}
		return true;
	case 'S':
		scroll_up(vt, vt->top, vt->bottom, count);
		return true;
	case 'T':
		scroll_down(vt, vt->top, vt->bottom, count);
		return true;
	case 'b':
		repeat(vt, count);
		return true;
	default:
		return false;
	}
}

static void finish_csi(struct vt *vt, unsigned char final)
{
	if (vt->between != '\0') {
		return; /* cursor shapes and soft resets: nothing to see */
	}
	if (final == 'h' || final == 'l') {
		set_modes(vt, final == 'h');
	} else if (vt->private_mark != '\0') {
		return; /* asking the terminal about itself, linux cursor shapes */
	} else if (final == 'm') {
		set_styles(vt);
	} else if (final == 'r') {
		set_region(vt);
	} else if (final == 's') {
		vt->saved = vt->pen;
	} else if (final == 'u') {
		vt->pen = vt->saved;
	} else if (strchr("cgnt", final) == NULL && !move_by(vt, final) &&
		   !change_cells(vt, final)) {
		not_understood(vt, final);
	}
}

static void read_csi(struct vt *vt, unsigned char byte)
{
	if (byte >= '0' && byte <= '9') {
		if (vt->word_count == 0) {
			vt->word_count = 1;
		}
		int *last = &vt->words[vt->word_count - 1];
		*last = clamp(*last * 10 + byte - '0', 0, 9999);
	} else if (byte == ';' || byte == ':') {
		if (vt->word_count == 0) {
			vt->word_count = 1;
		}
		vt->word_count = clamp(vt->word_count + 1, 1, VT_WORDS_MAX);
	} else if (byte >= '<' && byte <= '?') {
		vt->private_mark = (char)byte;
	} else if (byte >= 0x20 && byte <= 0x2f) {
		vt->between = (char)byte;
	} else if (byte >= 0x40) {
		finish_csi(vt, byte);
		vt->state = VT_GROUND;
	} else {
		control(vt, byte);
	}
}

static void start_csi(struct vt *vt)
{
	memset(vt->words, 0, sizeof vt->words);
	vt->word_count = 0;
	vt->private_mark = '\0';
	vt->between = '\0';
	vt->state = VT_CSI;
}

static void read_escape(struct vt *vt, unsigned char byte)
{
	vt->state = VT_GROUND;
	switch (byte) {
	case '[':
		start_csi(vt);
		break;
	case ']':
	case 'P':
	case '^':
	case '_':
		vt->state = VT_STRING;
		break;
	case '(':
	case ')':
		vt->charset_slot = byte - '(';
		vt->state = VT_CHARSET;
		break;
	case '#':
	case '%':
	case '*':
	case '+':
		vt->state = VT_SKIP;
		break;
	case '7':
		vt->saved = vt->pen;
		break;
	case '8':
		vt->pen = vt->saved;
		break;
	case 'D':
		line_down(vt);
		break;
	case 'E':
		move_to(vt, vt->pen.row, 0);
		line_down(vt);
		break;
	case 'M':
		line_up(vt);
		break;
	case 'c':
		reset(vt);
		break;
	default:
		if (strchr("=>HNO\\", byte) == NULL) {
			not_understood(vt, byte);
		}
		break;
	}
}

static void read_byte(struct vt *vt, unsigned char byte)
{
	if (byte == 0x1b && vt->state != VT_STRING) {
		vt->state = VT_ESCAPE;
		return;
	}
	switch (vt->state) {
	case VT_GROUND:
		if (byte < 0x20) {
			control(vt, byte);
		} else if (byte < 0x7f) {
			put_ascii(vt, byte);
		} else if (byte > 0x7f) {
			put_utf8(vt, byte);
		}
		break;
	case VT_ESCAPE:
		read_escape(vt, byte);
		break;
	case VT_CSI:
		read_csi(vt, byte);
		break;
	case VT_CHARSET:
		vt->pen.drawing[vt->charset_slot] = byte == '0';
		vt->state = VT_GROUND;
		break;
	case VT_STRING:
		if (byte == '\a') {
			vt->state = VT_GROUND;
		} else if (byte == 0x1b) {
			vt->state = VT_STRING_ESCAPE;
		}
		break;
	case VT_STRING_ESCAPE: /* only ESC \ ends a string */
		vt->state = byte == '\\' ? VT_GROUND : VT_STRING;
		break;
	case VT_SKIP:
		vt->state = VT_GROUND;
		break;
	}
}

/* --- from outside --- */

struct vt *vt_new(int rows, int columns)
{
	struct vt *vt = calloc(1, sizeof *vt);
	if (vt == NULL) {
		abort();
	}
	vt->rows = clamp(rows, 1, VT_ROWS_MAX);
	vt->columns = clamp(columns, 2, VT_COLUMNS_MAX);
	reset(vt);
	return vt;
}

void vt_free(struct vt *vt)
{
	free(vt);
}

void vt_resize(struct vt *vt, int rows, int columns)
{
	vt->rows = clamp(rows, 1, VT_ROWS_MAX);
	vt->columns = clamp(columns, 2, VT_COLUMNS_MAX);
	vt->top = 0;
	vt->bottom = vt->rows - 1;
	move_to(vt, vt->pen.row, vt->pen.column);
}

void vt_feed(struct vt *vt, const char *bytes, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		read_byte(vt, (unsigned char)bytes[i]);
	}
}

const char *vt_row(const struct vt *vt, int row, char *out)
{
	char *end = out;
	for (int column = 0; column < vt->columns; column++) {
		end = stpcpy(end, vt->cells[row][column].text);
	}
	while (end > out && end[-1] == ' ') {
		end--;
	}
	*end = '\0';
	return out;
}

char *vt_text(const struct vt *vt)
{
	char *text = calloc((size_t)vt->rows, VT_ROW_SIZE + 1);
	if (text == NULL) {
		abort();
	}
	char *end = text;
	for (int row = 0; row < vt->rows; row++) {
		end += strlen(vt_row(vt, row, end));
		end = stpcpy(end, "\n");
	}
	return text;
}

int vt_find(const struct vt *vt, const char *text)
{
	static char row_text[VT_ROW_SIZE];
	for (int row = 0; row < vt->rows; row++) {
		if (strstr(vt_row(vt, row, row_text), text) != NULL) {
			return row;
		}
	}
	return -1;
}
