/* SPDX-License-Identifier: MIT */
/* The plan's screen: what its signs tell, read tree by tree in quiet moments. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "plan.h"
#include "reckon/partner.h"
#include "report/sun_report.h"
#include "yard_rows.h"

enum { NINE = 9 };

/* --- the meaning of signs --- */

struct sign_row {
	char sign;
	enum style style;
	const char *meaning;
	const char *words; /* of the list and the words beside; NULL: the meaning */
};

/* clang-format off */
/* From the highest rank to the lowest: of several in one cell the highest is shown. */
static const struct sign_row flag_signs[] = {
	{'A', STYLE_ACT, "act", NULL},
	{'D', STYLE_DUE, "due", NULL},
	{'S', STYLE_SOON, "soon", NULL},
	{'n', STYLE_NOTE, "note", NULL},
	{'L', STYLE_NOTE, "leave", NULL},
	{'?', STYLE_NOTE, "cannot be read", NULL},
	{'o', STYLE_STRONG, "no flag", ""},
	{0, STYLE_PLAIN, NULL, NULL},
};
static const struct sign_row stage_signs[] = {
	{'H', STYLE_GOOD, "harvest, no saw", "harvest, leave the saw"},
	{'h', STYLE_GOOD, "harvest", NULL},
	{'B', STYLE_SOON, "bloom, no saw", "in bloom, leave the saw"},
	{'b', STYLE_SOON, "bloom", "in bloom"},
	{'F', STYLE_STRONG, "fruit on, no saw", "fruit on, leave the saw"},
	{'f', STYLE_STRONG, "fruit on", NULL},
	{'R', STYLE_STRONG, "rests, no saw", "resting, leave the saw"},
	{'r', STYLE_STRONG, "rests", "resting"},
	{'?', STYLE_NOTE, "no dates", NULL},
	{0, STYLE_PLAIN, NULL, NULL},
};
static const struct sign_row partner_signs[] = {
	{'!', STYLE_ACT, "serves, and spoils", NULL},
	{'Y', STYLE_GOOD, "serves", NULL},
	{'h', STYLE_SOON, "serves half", NULL},
	{'?', STYLE_NOTE, "not known", NULL},
	{'x', STYLE_STRONG, "does not serve", NULL},
	{'o', STYLE_FAINT, "other kind", ""},
	{0, STYLE_PLAIN, NULL, NULL},
};
static const struct sign_row sun_signs[] = {
	{'*', STYLE_GOOD, "10 h of sun and more", NULL},
	{'?', STYLE_NOTE, "not known", NULL},
	{'o', STYLE_FAINT, "a graft: as its host", ""},
	{0, STYLE_PLAIN, NULL, NULL},
};
static const struct sign_row yield_signs[] = {
	{'?', STYLE_NOTE, "picked, no figure", NULL},
	{'-', STYLE_STRONG, "not recorded", NULL},
	{'o', STYLE_FAINT, "no season yet", ""},
	{0, STYLE_PLAIN, NULL, NULL},
};
/* clang-format on */
static const struct sign_row *const tables[LAYER_TOTAL] = {
	flag_signs, stage_signs, partner_signs, sun_signs, yield_signs};

static const struct sign_row *row_of(enum plan_layer layer, char sign)
{
	for (const struct sign_row *row = tables[layer]; row->sign != 0; row++)
		if (row->sign == sign)
			return row;
	return NULL;
}

static bool is_digit(char sign)
{
	return sign >= '0' && sign <= '9';
}

const char *plan_sign_meaning(enum plan_layer layer, char sign)
{
	const struct sign_row *row = row_of(layer, sign);
	if (sign == '~')
		return "not read yet";
	if (sign == '@')
		return "this tree";
	if (sign == '_')
		return "empty spot";
	if (sign == '&')
		return "and more";
	if (is_digit(sign))
		return layer == LAYER_SUN ? "hours of sun on the longest day"
					  : "ninths of its own best season";
	return row == NULL ? "" : row->meaning;
}

enum style plan_sign_style(enum plan_layer layer, char sign)
{
	const struct sign_row *row = row_of(layer, sign);
	if (row != NULL)
		return row->style;
	return sign == '_' || sign == '+' ? STYLE_FAINT : STYLE_STRONG;
}

int plan_layer_rank(enum plan_layer layer, char sign)
{
	const struct sign_row *row = row_of(layer, sign);
	if (is_digit(sign))
		return 100 + sign - '0';
	if (sign == '@')
		return 200;
	return row == NULL ? 0 : 99 - (int)(row - tables[layer]);
}

const char *plan_layer_signs(enum plan_layer layer)
{
	static const char *const signs[LAYER_TOTAL] = {
		"ADSnLo", "HhBbFfRr?", "@!Yh?xo", "*9876543210?o", "9876543210-?o"};
	return signs[layer];
}

/* --- reading --- */

/* The last season that is over, as ninths of the best of all that are. */
static void read_crop(struct plan_sight *sight, const struct dossier *dossier)
{
	const struct season *last = NULL;
	int64_t best_mg = 0;
	for (int32_t i = dossier->season_own; i < dossier->season_count; i++) {
		const struct season *season = &dossier->seasons[i];
		const struct maybe_i64 mg = amount_sum_point(&season->picked);
		if (season->state == SEASON_TO_COME || season->state == SEASON_IN_PROGRESS)
			continue;
		last = season;
		if (mg.known && mg.value > best_mg)
			best_mg = mg.value;
	}
	char *sign = &sight->signs[LAYER_YIELD];
	*sign = 'o';
	if (last == NULL)
		return;
	const struct maybe_i64 mg = amount_sum_point(&last->picked);
	(void)season_title(last, sight->crop_season, (int)sizeof sight->crop_season);
	if (last->state == SEASON_NOT_RECORDED) {
		*sign = '-';
	} else if (!mg.known || (last->state == SEASON_COMPLETE && best_mg == 0)) {
		*sign = last->state == SEASON_NONE_SEEN ? '0' : '?';
	} else {
		sight->crop_mg = mg;
		sight->crop_about = last->picked.about;
		*sign = '0';
		if (best_mg > 0)
			*sign = (char)('0' + (mg.value * NINE + best_mg / 2) / best_mg);
	}
}

/* Whose signs are read, and on which day. */
struct sighting {
	struct plan_sight *sight;
	struct date today;
};

static void take_dossier(void *owner, const struct dossier *dossier)
{
	const struct sighting *sighting = owner;
	sighting->sight->signs[LAYER_STAGE] = yard_row_sign(dossier, sighting->today);
	read_crop(sighting->sight, dossier);
}

static enum status read_tree(
	struct plan_screen *plan, struct session *session, int32_t tree, struct fault *why)
{
	struct plan_sight *sight = &plan->sights[tree];
	struct sighting sighting = {sight, yard_today(session->yard)};
	struct yard_told told = {.owner = &sighting, .take = take_dossier};
	const char *letters = told.row.letters;
	struct arena *arena = arena_new();
	const enum status status =
		yard_row_tell(session, plan->plot->trees[tree].who->tree_id, arena, &told, why);
	arena_free(arena);
	if (status != STATUS_OK)
		return status;
	letters += strspn(letters, " ");
	sight->signs[LAYER_FLAGS] = *letters == '\0' ? 'o' : *letters;
	return STATUS_OK;
}

static struct partner partner_at(const struct plan_screen *plan, int32_t tree)
{
	const struct tree_kind *kind = &plan->plot->trees[tree].who->kind;
	struct partner partner = partner_of(kind->species, kind->cultivar);
	partner.outside = kind->outside;
	return partner;
}

/* Does its pollen serve the tree the cursor is on? */
static void read_partner(struct plan_screen *plan, int32_t tree)
{
	const struct plan_item *item = plan_selected(plan);
	char *sign = &plan->sights[tree].signs[LAYER_PARTNERS];
	*sign = 'o';
	if (item == NULL || item->tree < 0)
		return;
	if (item->tree == tree) {
		*sign = '@';
		return;
	}
	const struct tree_kind *taker = &plan->plot->trees[item->tree].who->kind;
	const struct tree_kind *giver = &plan->plot->trees[tree].who->kind;
	const struct partner taking = partner_at(plan, item->tree);
	const struct partner giving = partner_at(plan, tree);
	if (taker->species == NULL || (giver->species == NULL && giver->outside == NULL)) {
		*sign = '?';
		return;
	}
	const struct partner_verdict verdict = partner_serves(&giving, &taking);
	const bool same = giver->species == taker->species;
	if (verdict.answer == PARTNER_YES || verdict.answer == PARTNER_PARTLY)
		*sign = verdict.harm ? '!' : verdict.answer == PARTNER_YES ? 'Y' : 'h';
	else if (verdict.answer == PARTNER_NOT_KNOWN && same)
		*sign = '?';
	else if (same)
		*sign = 'x';
}

static enum status read_sun(
	struct plan_screen *plan, struct session *session, int32_t tree, struct fault *why)
{
	const struct plot_tree *drawn = &plan->plot->trees[tree];
	struct plan_sight *sight = &plan->sights[tree];
	const bool placed = drawn->spot >= 0 && plan->plot->spots[drawn->spot].placed;
	struct arena *arena = arena_new();
	struct sun_report report = {.spot_count = 0};
	enum status status = STATUS_OK;
	sight->signs[LAYER_SUN] = drawn->who->host_id[0] != '\0' ? 'o' : '?';
	if (placed && plan->has_sun && drawn->who->host_id[0] == '\0') {
		const struct sun_options options = {.spot_id = drawn->who->spot_id,
			.day = known_date(plan->longest),
			.level_um = SUN_LEVEL_UM};
		status = sun_report_make(session->yard, &options, arena, &report, why);
	}
	if (status == STATUS_OK && report.spot_count > 0) {
		const int month = date_parts(plan->longest).month - 1;
		const int32_t minutes = (int32_t)lround(report.spots[0].months[month].sun_min);
		sight->sun_min = known_i32(minutes);
		sight->signs[LAYER_SUN] = (char)(minutes < 600 ? '0' + minutes / 60 : '*');
	}
	arena_free(arena);
	return status;
}

static bool is_read(const struct plan_screen *plan, int32_t tree)
{
	return plan->sights[tree].signs[plan->layer] != 0;
}

static void read_one(struct plan_screen *plan, struct session *session, int32_t tree)
{
	struct fault why;
	enum status status = STATUS_OK;
	if (plan->layer == LAYER_PARTNERS)
		read_partner(plan, tree);
	else if (plan->layer == LAYER_SUN)
		status = read_sun(plan, session, tree, &why);
	else
		status = read_tree(plan, session, tree, &why);
	if (status != STATUS_OK) /* what cannot be read says nothing, and is not tried again */
		plan->sights[tree].signs[plan->layer] = '?';
}

static void forget_partners(struct plan_screen *plan)
{
	if (plan->partners_of == plan->selected)
		return;
	for (int32_t i = 0; i < plan->plot->tree_count; i++)
		plan->sights[i].signs[LAYER_PARTNERS] = 0;
	plan->partners_of = plan->selected;
}

/* Reads a tree if it is not read yet; false: it is too late to read more. */
static bool read_in_time(
	struct plan_screen *plan, struct session *session, int32_t tree, double until_s, bool *any)
{
	if (tree < 0 || is_read(plan, tree))
		return true;
	*any = true;
	if (clock_monotonic_s() > until_s)
		return false;
	read_one(plan, session, tree);
	return true;
}

bool plan_layer_read(struct plan_screen *plan, struct session *session, double until_s)
{
	if (plan->years_back > 0) /* signs are of today */
		return false;
	const struct plan_item *item = plan_selected(plan);
	const int32_t first = plan->as_list ? plan->top : 0;
	bool any = false;
	bool goes_on = true;
	if (plan->layer == LAYER_PARTNERS)
		forget_partners(plan);
	if (item != NULL)
		goes_on = read_in_time(plan, session, item->tree, until_s, &any);
	for (int32_t i = first; goes_on && i < first + plan->shown_count; i++) {
		if (plan->as_list) {
			if (i < plan->item_count)
				goes_on = read_in_time(
					plan, session, plan->items[i].tree, until_s, &any);
			continue;
		}
		const struct plot_spot *spot = &plan->plot->spots[plan->shown[i]];
		for (int32_t t = 0; goes_on && t < spot->count; t++)
			goes_on = read_in_time(plan, session, spot->first + t, until_s, &any);
	}
	return any;
}

/* --- telling --- */

char plan_layer_sign(const struct plan_screen *plan, int32_t tree)
{
	const char sign = plan->sights[tree].signs[plan->layer];
	if (plan->years_back > 0)
		return 'o';
	const bool stale = plan->layer == LAYER_PARTNERS && plan->partners_of != plan->selected;
	return (char)(sign == 0 || stale ? '~' : sign);
}

/* From the tree the cursor is on. */
static const char *distance(const struct plan_screen *plan, int32_t tree, char *out, size_t size)
{
	const struct plot_spot *from = plan_spot_at(plan, plan_selected(plan));
	const int32_t at = plan->plot->trees[tree].spot;
	out[0] = '\0';
	if (from != NULL && from->placed && at >= 0 && plan->plot->spots[at].placed)
		(void)plan_way_words(plan, &from->at, &plan->plot->spots[at].at, out, size);
	return out;
}

const char *plan_layer_figure(const struct plan_screen *plan, int32_t tree, char *out, size_t size)
{
	const struct plan_sight *sight = &plan->sights[tree];
	const char sign = plan_layer_sign(plan, tree);
	char mass[24];
	out[0] = '\0';
	if (plan->layer == LAYER_YIELD && sight->crop_mg.known)
		(void)snprintf(out, size, "%s%s", sight->crop_about ? "~" : "",
			mass_format_rough(
				sight->crop_mg.value, plan->units, mass, (int)sizeof mass));
	else if (plan->layer == LAYER_SUN && sight->sun_min.known)
		(void)snprintf(out, size, "%.1f h", sight->sun_min.value / 60.0);
	else if (plan->layer == LAYER_PARTNERS && strchr("Yh!?", sign) != NULL)
		(void)distance(plan, tree, out, size);
	return out;
}

const char *plan_layer_words(const struct plan_screen *plan, int32_t tree, char *out, size_t size)
{
	char figure[40];
	const char sign = plan_layer_sign(plan, tree);
	const struct sign_row *row = row_of(plan->layer, sign);
	const char *words = row == NULL ? "" : row->words != NULL ? row->words : row->meaning;
	(void)plan_layer_figure(plan, tree, figure, sizeof figure);
	if (sign == '~' || sign == '@')
		words = plan_sign_meaning(plan->layer, sign);
	if (sign == '0' && plan->layer == LAYER_YIELD)
		words = figure[0] == '\0' ? "none seen" : "";
	const char *season = plan->sights[tree].crop_season;
	const bool dated = plan->layer == LAYER_YIELD && sign != '~' && season[0] != '\0';
	const bool both = words[0] != '\0' && figure[0] != '\0' && plan->layer == LAYER_PARTNERS;
	(void)snprintf(out, size, "%s%s%s%s%s",
		words[0] != '\0' && (both || figure[0] == '\0') ? words : "", both ? ", " : "",
		figure, dated ? ", " : "", dated ? season : "");
	return out;
}
