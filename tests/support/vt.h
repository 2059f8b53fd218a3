/* SPDX-License-Identifier: MIT */
/* vt.h - a small terminal on paper: bytes in, cells out.
 *
 * Understands what ncurses sends for the vt100, xterm and linux families (ECMA-48 and the
 * private modes of DEC terminals): moving, erasing, inserting and deleting, the scrolling region,
 * attributes and colours, line drawing, UTF-8 with wide and combining characters, the other
 * screen. What it does not understand is kept in `unknown`, so that a test can say so. */
#ifndef SUPPORT_VT_H
#define SUPPORT_VT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { VT_ROWS_MAX = 120, VT_COLUMNS_MAX = 240, VT_CELL_SIZE = 32, VT_WORDS_MAX = 16 };

enum vt_attribute {
	VT_BOLD = 1,
	VT_DIM = 2,
	VT_ITALIC = 4,
	VT_UNDERLINE = 8,
	VT_BLINK = 16,
	VT_REVERSE = 32,
	VT_HIDDEN = 64,
	VT_WIDE = 128, /* not sent: this cell is the left half of a wide character */
};

struct vt_style {
	uint8_t attributes;
	int16_t foreground; /* -1: the terminal's own; 0..255 */
	int16_t background;
};

struct vt_cell {
	char text[VT_CELL_SIZE]; /* a character and its marks; "": right half of a wide one */
	struct vt_style style;
};

struct vt_pen {
	int row;
	int column;
	bool wrap_next; /* the last column is written; the next character starts a line */
	struct vt_style style;
	bool drawing[2]; /* line drawing in G0, G1 */
	int charset;     /* 0 or 1: the one in use */
};

enum vt_state { VT_GROUND, VT_ESCAPE, VT_CSI, VT_CHARSET, VT_STRING, VT_STRING_ESCAPE, VT_SKIP };

struct vt {
	int rows;
	int columns;
	struct vt_cell cells[VT_ROWS_MAX][VT_COLUMNS_MAX];
	struct vt_cell other[VT_ROWS_MAX][VT_COLUMNS_MAX]; /* what lies under the other screen */
	struct vt_pen pen;
	struct vt_pen saved;
	int top; /* the scrolling region, both ends in */
	int bottom;
	bool cursor_shown;
	bool insert;
	bool wrap;
	bool on_other;
	bool pastes_marked; /* asked for: mode 2004 */
	bool mouse_told;    /* asked for */
	int bells;
	/* the sequence being read */
	enum vt_state state;
	int words[VT_WORDS_MAX];
	int word_count;
	char private_mark; /* '?', '>', ... or 0 */
	char between;      /* an intermediate byte or 0 */
	int charset_slot;
	char utf8[5];
	int utf8_length;
	int utf8_wanted;
	char last[VT_CELL_SIZE]; /* what REP repeats */
	char unknown[64];        /* the first sequence not understood, or "" */
};

/* A blank screen; rows and columns are clamped to the limits. */
struct vt *vt_new(int rows, int columns);
void vt_free(struct vt *vt);
void vt_resize(struct vt *vt, int rows, int columns);
void vt_feed(struct vt *vt, const char *bytes, size_t length);

/* One row without its trailing blanks; out, of VT_ROW_SIZE bytes, is returned. */
enum { VT_ROW_SIZE = VT_COLUMNS_MAX * VT_CELL_SIZE + 1 };
const char *vt_row(const struct vt *vt, int row, char *out);
/* All rows, each ended by a newline; free() it. */
char *vt_text(const struct vt *vt);
/* The row that has the text, or -1. */
int vt_find(const struct vt *vt, const char *text);

#endif
