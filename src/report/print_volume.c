/* SPDX-License-Identifier: MIT */
/* Volumes of mulch, pots and planting holes, in both systems of units, with their inputs. */
#include <string.h>

#include "core/text.h"
#include "reckon/volume.h"
#include "report/rows.h"
#include "report/volumes.h"

static const double l_in_cuft = 28.316846592;
static const double l_in_cuyd = 764.554857984;
static const double l_in_gal = 3.785411784;
static const double um_in_m = 1e6;
static const double m2_in_sqft = 0.09290304;
/* Bags as they are commonly sold, where the grower's own is not said. */
static const double common_bag_cuft = 2;
static const double common_bag_l = 50;

static const char *const whats[] = {
	[VOLUME_MULCH] = "mulch", [VOLUME_POT] = "pot", [VOLUME_HOLE] = "hole"};

struct filling {
	double whole_l;       /* the layer, the pot, the hole */
	double ball_l;        /* 0 none said */
	double volume_l;      /* what is to be filled */
	double area_m2;       /* under mulch */
	double bare_radius_m; /* of it, from the middle */
	int64_t bags;
};

/* --- working out --- */

static enum status want(
	const struct volume_figure *figure, const char *option, const char *ask, struct fault *why)
{
	if (figure->known)
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX, "%s is not known: say --%s", ask, option);
}

static double metres(const struct volume_figure *figure)
{
	return figure->known ? (double)figure->value / um_in_m : 0;
}

static enum status work_mulch(
	const struct volume_ask *ask, struct filling *filling, struct fault *why)
{
	enum status status = want(
		&ask->depth, "depth", "how deep it is to lie (2 to 4 in is common practice)", why);

	if (status == STATUS_OK && ask->area.known) {
		filling->area_m2 = (double)ask->area.value / 1e6;
	} else if (status == STATUS_OK) {
		status = want(&ask->across, "across",
			"how far the ring is across (or log the tree's spread)", why);
		if (status == STATUS_OK)
			status = want(&ask->gap, "gap",
				"how far from the bark it begins (6 to 12 in is common practice)",
				why);
		filling->bare_radius_m = metres(&ask->trunk) / 2 + metres(&ask->gap);
		if (status == STATUS_OK)
			status = volume_ring_m2(metres(&ask->across), filling->bare_radius_m,
				&filling->area_m2, why);
	}
	if (status == STATUS_OK)
		status = volume_layer_l(
			filling->area_m2, metres(&ask->depth), &filling->whole_l, why);
	filling->volume_l = filling->whole_l;
	return status;
}

static enum status work_pot(
	const struct volume_ask *ask, struct filling *filling, struct fault *why)
{
	enum status status = want(&ask->across, "across", "the pot's width at the rim", why);

	if (status == STATUS_OK)
		status = want(&ask->bottom, "bottom",
			"its width at the bottom (the same for a straight pot)", why);
	if (status == STATUS_OK)
		status = want(&ask->depth, "depth", "how high it is to be filled", why);
	if (status == STATUS_OK)
		status = volume_cone_l(metres(&ask->across), metres(&ask->bottom),
			metres(&ask->depth), &filling->whole_l, why);
	filling->volume_l = filling->whole_l;
	return status;
}

static enum status work_hole(
	const struct volume_ask *ask, struct filling *filling, struct fault *why)
{
	const struct volume_figure *bottom =
		ask->ball_bottom.known ? &ask->ball_bottom : &ask->ball;
	enum status status = want(&ask->across, "across",
		"the hole's width (two to three times the ball is common practice)", why);

	if (status == STATUS_OK)
		status = want(&ask->depth, "depth", "its depth (no deeper than the ball)", why);
	if (status == STATUS_OK && (ask->ball_bottom.known || ask->ball_depth.known))
		status = want(&ask->ball, "ball", "the ball's width at its top", why);
	if (status == STATUS_OK && ask->ball.known)
		status = want(&ask->ball_depth, "ball-depth", "the ball's depth", why);
	if (status == STATUS_OK)
		status = volume_cone_l(metres(&ask->across), metres(&ask->across),
			metres(&ask->depth), &filling->whole_l, why);
	filling->volume_l = filling->whole_l;
	if (status != STATUS_OK || !ask->ball.known)
		return status;
	status = volume_cone_l(metres(&ask->ball), metres(bottom), metres(&ask->ball_depth),
		&filling->ball_l, why);
	if (status == STATUS_OK && metres(&ask->ball) > metres(&ask->across))
		return fault_set(why, STATUS_RANGE,
			"a ball %.4g m across does not go into a hole %.4g m across",
			metres(&ask->ball), metres(&ask->across));
	if (status == STATUS_OK)
		status = volume_backfill_l(
			filling->whole_l, filling->ball_l, &filling->volume_l, why);
	return status;
}

static enum status work_out(
	const struct volume_ask *ask, struct filling *filling, struct fault *why)
{
	enum status status = STATUS_OK;

	switch (ask->what) {
	case VOLUME_MULCH:
		status = work_mulch(ask, filling, why);
		break;
	case VOLUME_POT:
		status = work_pot(ask, filling, why);
		break;
	case VOLUME_HOLE:
		status = work_hole(ask, filling, why);
		break;
	}
	if (status == STATUS_OK && ask->bag.known && filling->volume_l > 0)
		status = volume_bags(
			filling->volume_l, (double)ask->bag.value / 1e6, &filling->bags, why);
	return status;
}

/* --- for machines --- */

static const char *const volume_keys[] = {"what", "tree", "volume_ul", "whole_ul", "ball_ul",
	"area_mm2", "across_um", "bottom_um", "depth_um", "bare_radius_um", "bag_ul", "bags", NULL};

static struct maybe_i64 scaled(double value, double scale)
{
	return value > 0 ? known_i64(round_i64(value * scale)) : (struct maybe_i64){0};
}

static struct maybe_i64 figure_of(const struct volume_figure *figure)
{
	return (struct maybe_i64){figure->value, figure->known};
}

static enum status volume_row(const struct printer *printer, const struct volume_ask *ask,
	const struct filling *filling, struct fault *why)
{
	struct rows rows = rows_begin(printer, volume_keys);

	rows_text(&rows, whats[ask->what]);
	rows_text(&rows, ask->tree);
	rows_i64(&rows, known_i64(round_i64(filling->volume_l * 1e6)));
	rows_i64(&rows, scaled(filling->whole_l, 1e6));
	rows_i64(&rows, scaled(filling->ball_l, 1e6));
	rows_i64(&rows, scaled(filling->area_m2, 1e6));
	rows_i64(&rows, figure_of(&ask->across));
	rows_i64(&rows, figure_of(&ask->bottom));
	rows_i64(&rows, figure_of(&ask->depth));
	rows_i64(&rows, ask->what == VOLUME_MULCH && !ask->area.known
				? known_i64(round_i64(filling->bare_radius_m * um_in_m))
				: (struct maybe_i64){0});
	rows_i64(&rows, figure_of(&ask->bag));
	rows_i64(&rows, (struct maybe_i64){filling->bags, ask->bag.known && filling->bags > 0});
	return rows_end(&rows, why);
}

/* --- for people --- */

/* Three figures or so: "0.254", "6.87", "66.7", "392". */
static void add_number(struct text_builder *text, double value, const char *unit)
{
	int places = value < 1 ? 3 : value < 10 ? 2 : value < 100 ? 1 : 0;

	text_add_format(text, "%.*f %s", places, value, unit);
}

/* The volume in both systems, the place's own first. Pots go by gallons and not by yards. */
static void add_volume(const struct printer *printer, enum volume_what what, double litres,
	struct text_builder *text)
{
	bool us = printer->units == UNITS_US;

	if (!us)
		add_number(text, litres, "l, ");
	if (what == VOLUME_POT)
		add_number(text, litres / l_in_gal, "US gal, ");
	add_number(text, litres / l_in_cuft, "cu ft");
	if (what != VOLUME_POT) {
		text_add(text, ", ");
		add_number(text, litres / l_in_cuyd, "cu yd");
	}
	if (us) {
		text_add(text, ", ");
		add_number(text, litres, "l");
	}
}

static void say_length(
	const struct printer *printer, const char *name, const struct volume_figure *figure)
{
	char length[32];

	if (figure->known)
		say_wrapped(printer, "  ", "%s %s (%s)", name,
			length_format(figure->value, printer->units, length, sizeof length),
			figure->from);
}

static void say_bags(
	const struct printer *printer, const struct volume_ask *ask, const struct filling *filling)
{
	int64_t cuft_bags = 0, litre_bags = 0;
	char bag[64] = "";
	struct text_builder text = text_builder_fixed(bag, sizeof bag);

	if (filling->volume_l <= 0)
		return;
	if (ask->bag.known) {
		add_number(&text, (double)ask->bag.value / 1e6 / l_in_cuft, "cu ft, ");
		add_number(&text, (double)ask->bag.value / 1e6, "l");
		say_wrapped(printer, "  ", "%lld bag%s of %s", (long long)filling->bags,
			filling->bags == 1 ? "" : "s", bag);
		return;
	}
	if (volume_bags(filling->volume_l, common_bag_cuft * l_in_cuft, &cuft_bags, NULL) ==
			STATUS_OK &&
		volume_bags(filling->volume_l, common_bag_l, &litre_bags, NULL) == STATUS_OK)
		say_wrapped(printer, "  ",
			"in bags of %g cu ft: %lld; of %g l: %lld (--bag says yours)",
			common_bag_cuft, (long long)cuft_bags, common_bag_l, (long long)litre_bags);
}

static void say_ground(const struct printer *printer, double area_m2)
{
	char area[64] = "";
	struct text_builder text = text_builder_fixed(area, sizeof area);

	add_number(&text, area_m2 / m2_in_sqft, "sq ft, ");
	add_number(&text, area_m2, "m2");
	say_line(printer, "  ground under it %s", area);
}

/* What the almanac has on depth, where the layer asked for lies outside. */
static void say_depth_told(const struct printer *printer, const struct volume_ask *ask)
{
	const struct fact_row *told = ask->depth_told;
	char low[32], high[32];

	if (told == NULL || !told->low.known || !told->high.known ||
		(ask->depth.value >= told->low.value && ask->depth.value <= told->high.value))
		return;
	say_wrapped(printer, "", "The almanac has %s to %s%s%s.",
		length_format(told->low.value, printer->units, low, sizeof low),
		length_format(told->high.value, printer->units, high, sizeof high),
		told->text[0] != '\0' ? ": " : "", told->text);
}

static void say_mulch(
	const struct printer *printer, const struct volume_ask *ask, const struct filling *filling)
{
	enum { GAP_LEAST_UM = 152400 };

	if (ask->area.known) {
		say_ground(printer, filling->area_m2);
	} else {
		say_length(printer, "ring across", &ask->across);
		say_length(printer, "bare from the bark", &ask->gap);
		say_length(printer, "trunk across", &ask->trunk);
		if (!ask->trunk.known)
			say_wrapped(printer, "  ",
				"trunk not said: bare ground is counted from the middle (--trunk)");
		say_ground(printer, filling->area_m2);
	}
	say_length(printer, "depth", &ask->depth);
	say_depth_told(printer, ask);
	if (!ask->area.known && ask->gap.value < GAP_LEAST_UM)
		say_wrapped(printer, "",
			"Mulch against the bark keeps it wet: 6 to 12 in of bare ground is common "
			"practice.");
	say_wrapped(printer, "", "As it lies: loose stuff settles.");
}

static void say_pot(const struct printer *printer, const struct volume_ask *ask)
{
	say_length(printer, "rim across", &ask->across);
	say_length(printer, "bottom across", &ask->bottom);
	say_length(printer, "filled to", &ask->depth);
	say_wrapped(printer, "",
		"A nursery's gallon names a size of pot; about 0.7 US gal goes into one. A full "
		"pot "
		"is heavy: do not lift it alone.");
}

static void say_hole(
	const struct printer *printer, const struct volume_ask *ask, const struct filling *filling)
{
	char text[96] = "";
	struct text_builder volume = text_builder_fixed(text, sizeof text);

	if (ask->ball.known) {
		add_volume(printer, VOLUME_HOLE, filling->whole_l, &volume);
		say_wrapped(printer, "  ", "the whole hole %s", text);
	}
	say_length(printer, "hole across", &ask->across);
	say_length(printer, "depth", &ask->depth);
	say_length(printer, "ball across", &ask->ball);
	say_length(printer, "ball across at its bottom", &ask->ball_bottom);
	say_length(printer, "ball deep", &ask->ball_depth);
	if (ask->ball.known && ask->across.value < 2 * ask->ball.value)
		say_wrapped(printer, "",
			"Common practice is a hole two to three times as wide as the ball.");
	if (ask->ball.known && ask->depth.value > ask->ball_depth.value)
		say_wrapped(printer, "",
			"Common practice is a hole no deeper than the ball: on loose soil it "
			"sinks.");
	say_wrapped(printer, "", "Before digging, ask the local service about buried lines.");
}

enum status print_volume(
	const struct printer *printer, const struct volume_ask *ask, struct fault *why)
{
	struct filling filling = {.bags = 0};
	char text[96] = "";
	struct text_builder volume = text_builder_fixed(text, sizeof text);
	enum status status = work_out(ask, &filling, why);

	if (status != STATUS_OK)
		return status;
	if (printer->format != FORMAT_TEXT)
		return volume_row(printer, ask, &filling, why);
	add_volume(printer, ask->what, filling.volume_l, &volume);
	say_line(printer, "%s%s%s: %s", ask->tree, ask->tree[0] != '\0' ? ", " : "",
		ask->what == VOLUME_HOLE && ask->ball.known ? "to go back beside the ball"
							    : whats[ask->what],
		text);
	say_bags(printer, ask, &filling);
	say_line(printer, "Reckoned from");
	switch (ask->what) {
	case VOLUME_MULCH:
		say_mulch(printer, ask, &filling);
		break;
	case VOLUME_POT:
		say_pot(printer, ask);
		break;
	case VOLUME_HOLE:
		say_hole(printer, ask, &filling);
		break;
	}
	return say_end(printer, why);
}
