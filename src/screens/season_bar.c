/* SPDX-License-Identifier: MIT */
#include "season_bar.h"

#include "core/text.h"

enum { EIGHTHS = 8 };

static const char *const blocks[EIGHTHS + 1] = {" ", "▏", "▎", "▍", "▌", "▋", "▊", "▉", "█"};

static int cells_of(const struct season_bar *bar)
{
	return bar->cells > SEASON_BAR_CELLS_MAX ? SEASON_BAR_CELLS_MAX : bar->cells;
}

/* The cell that the mark takes; -1 none. The others carry the scale. */
static int cell_of_mark(const struct season_bar *bar)
{
	int last = cells_of(bar) - 1;
	if (bar->mark < 0 || bar->full <= 0)
		return -1;
	double cell = (double)bar->mark / (double)bar->full * last + 0.5;
	return cell > last ? last : (int)cell;
}

static int64_t eighths_of(const struct season_bar *bar, int scale)
{
	if (bar->value <= 0 || bar->full <= 0)
		return 0;
	double eighths = (double)bar->value / (double)bar->full * scale * EIGHTHS;
	bool whole = bar->ascii || bar->open;
	if (whole && eighths < EIGHTHS)
		return EIGHTHS;
	return eighths < 1.0 ? 1 : (int64_t)eighths;
}

static const char *block_of(const struct season_bar *bar, int64_t eighths)
{
	bool half = eighths * 2 >= EIGHTHS;
	if (bar->ascii)
		return !half ? " " : bar->open ? "-" : "#";
	if (bar->open)
		return half ? "░" : " ";
	return blocks[eighths < 0 ? 0 : eighths > EIGHTHS ? EIGHTHS : eighths];
}

const char *season_bar_draw(const struct season_bar *bar, char out[SEASON_BAR_SIZE])
{
	struct text_builder text = text_builder_fixed(out, SEASON_BAR_SIZE);
	int line = cell_of_mark(bar);
	int scale = cells_of(bar) - (line >= 0 ? 1 : 0);
	int64_t eighths = eighths_of(bar, scale);
	text_add(&text, "");
	for (int cell = 0, at = 0; cell < cells_of(bar); cell++) {
		if (cell == line) {
			text_add(&text, bar->ascii ? "|" : "│");
			continue;
		}
		int64_t here = eighths - (int64_t)at * EIGHTHS;
		at++;
		if (at == scale && here > EIGHTHS)
			text_add(&text, bar->ascii ? ">" : "▶");
		else
			text_add(&text, block_of(bar, here));
	}
	return out;
}
