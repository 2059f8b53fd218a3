/* SPDX-License-Identifier: MIT */
/* The plan's screen: the tree the cursor is on, in words. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "plan.h"
#include "report/sun_report.h"
#include "urgency.h"
#include "yard_rows.h"

enum { NEAR_MOST = 200, NEAR_TOLD = 3 };
static const int64_t reach_least_um = 4000000;
static const int64_t reach_most_um = 64000000;

/* --- reading --- */

static void read_says(struct plan_facts *facts, const struct review *review)
{
	for (int32_t i = 0; i < review->count && facts->say_count < PLAN_SAYS; i++) {
		const struct flag *flag = &review->items[i].flag;
		struct plan_says *says = &facts->says[facts->say_count++];
		says->urgency = (char)flag->urgency;
		(void)text_copy(says->says, sizeof says->says, flag->says);
	}
}

static void take_hazard(void *owner, const struct dossier *dossier)
{
	struct plan_facts *facts = owner;
	(void)text_copy(facts->hazard, sizeof facts->hazard, dossier->tree.hazard);
}

static enum status read_sun(struct plan_facts *facts, struct yard *yard, const char *tree_id,
	struct arena *arena, struct fault *why)
{
	const struct dossier *dossier;
	const char *sun;
	enum status status = yard_dossier_in(yard, tree_id, arena, &dossier, why);
	if (status == STATUS_OK)
		status = sun_words_of_tree(yard, dossier, arena, &sun, why);
	if (status == STATUS_OK)
		(void)text_copy(facts->sun, sizeof facts->sun, sun);
	return status;
}

enum status plan_facts_read(struct plan_screen *plan, struct context *context, struct fault *why)
{
	const struct plot_tree *tree = plan_tree(plan, plan_selected(plan));
	struct session *session = context->session;
	struct plan_facts *facts = &plan->facts;
	*facts = (struct plan_facts){.known = true};
	if (tree == NULL)
		return STATUS_OK;
	struct arena *arena = arena_new();
	struct yard_told told = {.owner = facts, .take = take_hazard};
	const struct yard_row *row = &told.row;
	enum status status = yard_row_tell(session, tree->who->tree_id, arena, &told, why);
	if (status == STATUS_OK) {
		(void)text_copy(facts->kind, sizeof facts->kind, row->cultivar);
		(void)text_copy(facts->year, sizeof facts->year, row->year);
		if (row->last_day[0] != '\0')
			(void)snprintf(facts->last, sizeof facts->last, "%s %.400s",
				row->last_day + strspn(row->last_day, " "), row->last);
		read_says(facts, &told.review);
	}
	if (status == STATUS_OK && plan->layer == LAYER_SUN)
		status = read_sun(facts, session->yard, tree->who->tree_id, arena, why);
	arena_free(arena);
	return status;
}

/* --- ways --- */

const char *plan_way_words(const struct plan_screen *plan, const struct plot_point *from,
	const struct plot_point *to, char *out, size_t size)
{
	static const char *const ways[][2] = {{"E", "east"}, {"NE", "north-east"}, {"N", "north"},
		{"NW", "north-west"}, {"W", "west"}, {"SW", "south-west"}, {"S", "south"},
		{"SE", "south-east"}};
	const double east = (double)(to->east_um - from->east_um);
	const double north = (double)(to->north_um - from->north_um);
	const double eighth = atan2(north, east) / (acos(-1.0) / 4);
	const double step_um = plan->units == UNITS_US ? 304800 : 100000;
	const int64_t away_um = llround(hypot(east, north) / step_um) * (int64_t)step_um;
	char length[24];
	if (away_um == 0)
		(void)text_copy(out, size, "in one spot");
	else
		(void)snprintf(out, size, "%s %s",
			length_format(away_um, plan->units, length, (int)sizeof length),
			ways[((int)lround(eighth) + 8) % 8][plan->in_full ? 1 : 0]);
	return out;
}

/* Puts one among the nearest. */
static void keep_nearest(struct plan_away *kept, int32_t *count, int32_t most, struct plan_away one)
{
	int32_t at = *count;
	for (; at > 0 && kept[at - 1].away_um > one.away_um; at--)
		if (at < most)
			kept[at] = kept[at - 1];
	if (at < most)
		kept[at] = one;
	*count += *count < most ? 1 : 0;
}

static double gap_um(const struct plot_spot *from, const struct plot_spot *to)
{
	return hypot((double)(to->at.east_um - from->at.east_um),
		(double)(to->at.north_um - from->at.north_um));
}

int32_t plan_nearest_spots(const struct plan_screen *plan, const struct plot_spot *from,
	struct plan_away *out, int32_t most)
{
	int32_t places[NEAR_MOST];
	int32_t told = 0;
	int32_t found = 0;
	for (int64_t reach_um = reach_least_um; found <= most && reach_um <= reach_most_um;
		reach_um *= 2) {
		const struct plan_bounds bounds = {from->at.east_um - reach_um,
			from->at.east_um + reach_um, from->at.north_um - reach_um,
			from->at.north_um + reach_um};
		found = plan_near_within(&plan->near, &bounds, places, NEAR_MOST);
	}
	for (int32_t i = 0; i < found; i++) {
		const int32_t spot = plan->spot_of_point[places[i]];
		const struct plot_spot *to = &plan->plot->spots[spot];
		if (to != from && to->count > 0)
			keep_nearest(out, &told, most, (struct plan_away){spot, gap_um(from, to)});
	}
	return told;
}

static int64_t reach_um(const struct plan_screen *plan, const struct plot_spot *spot)
{
	int64_t widest_um = 0;
	for (int32_t i = spot->first; i < spot->first + spot->count; i++) {
		const struct maybe_i64 spread_um = plan->plot->trees[i].spread_um;
		if (spread_um.known && spread_um.value / 2 > widest_um)
			widest_um = spread_um.value / 2;
	}
	return widest_um;
}

const char *plan_neighbour_words(const struct plan_screen *plan, const struct plot_spot *from,
	const struct plan_away *away, char *out, size_t size)
{
	const struct plot_spot *to = &plan->plot->spots[away->place];
	const int64_t own_um = reach_um(plan, from);
	const int64_t other_um = reach_um(plan, to);
	const bool meet = own_um > 0 && other_um > 0 && (double)(own_um + other_um) > away->away_um;
	char way[40];
	(void)snprintf(out, size, "%s %s%s", plan->plot->trees[to->first].who->label,
		plan_way_words(plan, &from->at, &to->at, way, sizeof way),
		meet ? " (crowns meet)" : "");
	return out;
}

static void add(struct plan_words *words, enum style style, const char *text)
{
	const int32_t most = (int32_t)(sizeof words->lines / sizeof words->lines[0]);
	if (words->count < most && text[0] != '\0')
		words->lines[words->count++] = (struct plan_word){style, text, false};
}

/* What may be cut, for the rest to have room. */
static void add_long(struct plan_words *words, enum style style, const char *text)
{
	const int32_t before = words->count;
	add(words, style, text);
	if (words->count > before)
		words->lines[before].is_long = true;
}

static void add_near(const struct plan_screen *plan, const struct plot_spot *spot,
	struct arena *arena, struct plan_words *words)
{
	struct plan_away ways[NEAR_TOLD];
	struct text_builder text = text_builder_in(arena);
	if (!spot->placed)
		return;
	const int32_t count = plan_nearest_spots(plan, spot, ways, NEAR_TOLD);
	for (int32_t i = 0; i < count; i++) {
		char said[PLAN_NEIGHBOUR_SIZE];
		text_add_format(&text, "%s%s", i == 0 ? "near: " : ", ",
			plan_neighbour_words(plan, spot, &ways[i], said, sizeof said));
	}
	if (count > 0)
		add(words, STYLE_PLAIN, text.text);
}

/* --- who else is here --- */

static void add_others(const struct plan_screen *plan, const struct plot_spot *spot,
	const struct plot_tree *tree, struct arena *arena, struct plan_words *words)
{
	struct text_builder beside = text_builder_in(arena);
	struct text_builder grafts = text_builder_in(arena);
	for (int32_t i = spot->first; i < spot->first + spot->count; i++) {
		const struct plot_tree *other = &plan->plot->trees[i];
		const bool graft = other->who->host_id[0] != '\0';
		if (other == tree)
			continue;
		if (strcmp(other->who->host_id, tree->who->tree_id) == 0)
			text_add_format(&grafts, "%s%s",
				grafts.length > 0 ? ", " : "grafts: ", other->who->label);
		else if (strcmp(tree->who->host_id, other->who->tree_id) == 0)
			add(words, STYLE_PLAIN,
				arena_format(arena, "a graft on %s", other->who->label));
		else if (!graft && tree->who->host_id[0] == '\0')
			text_add_format(&beside, "%s%s",
				beside.length > 0 ? ", " : "in one spot with ", other->who->label);
	}
	if (beside.length > 0)
		add(words, STYLE_PLAIN, beside.text);
	if (grafts.length > 0)
		add(words, STYLE_PLAIN, grafts.text);
}

static void add_crown(const struct plan_screen *plan, const struct plot_tree *tree,
	struct arena *arena, struct plan_words *words)
{
	char across[24], high[24];
	if (tree->who->host_id[0] != '\0')
		return;
	if (!tree->spread_um.known) {
		add(words, STYLE_PLAIN, "crown: spread not measured");
		return;
	}
	add(words, STYLE_PLAIN,
		arena_format(arena, "crown %s across%s%s%s",
			length_format(tree->spread_um.value, plan->units, across, sizeof across),
			tree->height_um.known ? ", " : "",
			tree->height_um.known ? length_format(tree->height_um.value, plan->units,
							high, sizeof high)
					      : "",
			tree->height_um.known ? " high" : ""));
}

static void add_spot(const struct plot_spot *spot, const char *label, struct arena *arena,
	struct plan_words *words)
{
	static const char *const kinds[] = {"spot", "pot", "elsewhere:"};
	struct text_builder text = text_builder_in(arena);
	const bool named = strcmp(spot->spot->name, label) != 0;
	if (named || spot->spot->kind != SPOT_HOLE)
		text_add_format(&text, "%s %s", kinds[spot->spot->kind], spot->spot->name);
	if (spot->area[0] != '\0')
		text_add_format(&text, "%s%s", text.length > 0 ? ", in " : "in ", spot->area);
	if (!spot->placed && spot->spot->kind != SPOT_OFF_PLACE)
		text_add_format(&text,
			"%snot drawn: where is it? boughbook spot set '%s' --east "
			"... --north ...",
			text.length > 0 ? "; " : "", spot->spot->name);
	if (text.length > 0)
		add(words, STYLE_PLAIN, text.text);
}

static void add_facts(const struct plan_screen *plan, struct arena *arena, struct plan_words *words)
{
	const struct plan_facts *facts = &plan->facts;
	for (int32_t i = 0; i < facts->say_count; i++) {
		const enum urgency urgency = (enum urgency)facts->says[i].urgency;
		if (i == 0 || urgency <= URGENCY_SOON)
			add_long(words, urgency_style(urgency),
				arena_format(arena, "%s %s", urgency_word(urgency),
					facts->says[i].says));
	}
	add(words, STYLE_PLAIN, facts->year);
}

static void add_layer(
	const struct plan_screen *plan, int32_t tree, struct arena *arena, struct plan_words *words)
{
	static const char *const names[] = {
		"", "", "as partner: ", "sun on the longest day: ", "last season: "};
	char said[120];
	(void)plan_layer_words(plan, tree, said, sizeof said);
	const bool told = plan->layer > LAYER_STAGE && said[0] != '\0' &&
			  plan_layer_sign(plan, tree) != '@' && plan_layer_sign(plan, tree) != '~';
	if (plan->layer == LAYER_SUN && plan->facts.sun[0] != '\0')
		add(words, STYLE_STRONG, arena_format(arena, "sun %s", plan->facts.sun));
	else if (told)
		add(words, STYLE_STRONG, arena_format(arena, "%s%s", names[plan->layer], said));
}

/* Who serves the tree the cursor is on: the nearest of those in view. */
static void add_partners(const struct plan_screen *plan, const struct plot_spot *from,
	struct arena *arena, struct plan_words *words)
{
	struct plan_away kept[NEAR_TOLD];
	int32_t count = 0;
	bool unread = plan->as_list || plan->partners_of != plan->selected;
	for (int32_t i = 0; i < plan->shown_count && !plan->as_list && from != NULL; i++) {
		const struct plot_spot *spot = &plan->plot->spots[plan->shown[i]];
		for (int32_t tree = spot->first; tree < spot->first + spot->count; tree++) {
			const char sign = plan_layer_sign(plan, tree);
			unread = unread || sign == '~';
			if (sign == 'Y' || sign == 'h' || sign == '!')
				keep_nearest(kept, &count, NEAR_TOLD,
					(struct plan_away){tree, gap_um(from, spot)});
		}
	}
	for (int32_t i = 0; i < count; i++) {
		char said[120];
		add(words, STYLE_STRONG,
			arena_format(arena, "%s %s", plan->plot->trees[kept[i].place].who->label,
				plan_layer_words(plan, kept[i].place, said, sizeof said)));
	}
	if (count == 0 && !unread)
		add(words, STYLE_PLAIN, "no partner on record in view");
}

void plan_words_make(const struct plan_screen *plan, struct arena *arena, struct plan_words *out)
{
	const struct plan_item *item = plan_selected(plan);
	const struct plot_tree *tree = plan_tree(plan, item);
	const struct plot_spot *spot = plan_spot_at(plan, item);
	out->count = 0;
	if (item == NULL) {
		add(out, STYLE_PLAIN, "No spots and no trees yet: a on the yard adds them.");
		return;
	}
	if (tree == NULL) {
		add(out, STYLE_TITLE, spot->spot->name);
		add(out, STYLE_PLAIN, "nothing stands here");
		add_spot(spot, spot->spot->name, arena, out);
		add_near(plan, spot, arena, out);
		return;
	}
	add(out, STYLE_TITLE, tree->who->label);
	if (plan->facts.hazard[0] != '\0')
		add(out, STYLE_HAZARD, arena_format(arena, "HAZARD %s", plan->facts.hazard));
	add(out, STYLE_PLAIN,
		plan->facts.kind[0] != '\0' ? plan->facts.kind : tree->who->kind.name);
	if (tree->who->over_fence)
		add(out, STYLE_PLAIN, "over the fence");
	add_layer(plan, item->tree, arena, out);
	if (plan->layer == LAYER_PARTNERS)
		add_partners(plan, spot, arena, out);
	add_facts(plan, arena, out);
	if (spot == NULL)
		add(out, STYLE_PLAIN, "in no spot: not drawn");
	else
		add_others(plan, spot, tree, arena, out);
	add_crown(plan, tree, arena, out);
	if (spot != NULL) {
		add_near(plan, spot, arena, out);
		add_spot(spot, tree->who->label, arena, out);
	}
	add(out, STYLE_FAINT, plan->facts.last);
}
