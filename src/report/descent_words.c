/* SPDX-License-Identifier: MIT */
/* Descent in words: what a tree has of its parent, and what it has not. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "descent_inner.h"
#include "tree_words.h"

const char *descent_line_words(const struct descent_line *line, char *out, size_t size)
{
	const struct tree *tree = &line->tree;
	struct text_builder words = text_builder_fixed(out, size);
	char day[80];

	out[0] = '\0';
	text_add_format(&words, "%s%s%s%s", line->kind.name,
		line->kind.cultivar[0] != '\0' ? ", " : "", line->kind.cultivar,
		line->kind.cultivar[0] != '\0' && line->kind.cultivar_sure != SURE_CERTAIN ? "?"
											   : "");
	if (tree->how != ORIGIN_UNKNOWN)
		text_add_format(&words, "; %s", origin_title(tree->how));
	if (tree->rootstock[0] != '\0')
		text_add_format(&words, " on %s", tree->rootstock);
	if (tree->planted.text[0] != '\0')
		text_add_format(
			&words, ", %s", date_span_format_plain(&tree->planted, day, sizeof day));
	if (tree->batch[0] != '\0')
		text_add_format(&words, ", batch %s", tree->batch);
	if (tree->gone.text[0] != '\0')
		text_add_format(&words, "; gone %s: %s",
			date_span_format_plain(&tree->gone, day, sizeof day), tree->gone_reason);
	return out;
}

const char *descent_batch_words(const struct descent_batch *batch, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	char day[24];

	out[0] = '\0';
	if (batch->made > 0)
		text_add_format(&words, "%lld made%s%s", (long long)batch->made,
			batch->day.known ? " on " : "",
			batch->day.known ? date_format_plain(batch->day.value, day, sizeof day)
					 : "");
	if (batch->took >= 0)
		text_add_format(&words, "%s%lld took", words.length > 0 ? ", " : "",
			(long long)batch->took);
	if (batch->took >= 0 && batch->made >= batch->took && batch->made > 0)
		text_add_format(
			&words, " (%.0f %%)", 100.0 * (double)batch->took / (double)batch->made);
	if (batch->trees > 0)
		text_add_format(&words, "%s%d tree%s of it in this log, %d stand%s",
			words.length > 0 ? "; " : "", batch->trees, batch->trees == 1 ? "" : "s",
			batch->standing, batch->standing == 1 ? "s" : "");
	return out;
}

/* --- what there is to say --- */

struct telling {
	struct yard *yard;
	struct descent *out;
	struct arena *arena;
};

static void say(struct telling *telling, const struct fact_row *fact, const char *text)
{
	struct descent *out = telling->out;

	if (out->says_count == DESCENT_SAYS_MAX)
		return;
	out->says[out->says_count++] = (struct descent_say){.text = text,
		.source = fact != NULL ? fact->source : "",
		.from_memory = fact != NULL && fact->sure == KNOWN_MEMORY};
}

static const struct descent_line *parent_line(const struct descent *descent)
{
	for (int32_t i = 0; i < descent->count; i++)
		if (strcmp(descent->lines[i].tree.id, descent->dossier->tree.parent_id) == 0)
			return &descent->lines[i];
	return NULL;
}

/* Its own cultivar, its parent's, and whether they are one name. */
struct names {
	const char *own;
	const char *parents;
	const char *parent; /* the parent's label */
	bool same;
};

static void say_seed(struct telling *telling, const struct names *names)
{
	if (names->parents[0] != '\0')
		say(telling, NULL,
			arena_format(telling->arena,
				"A seedling is not its parent's cultivar: what is known of '%s' "
				"does not hold for it.",
				names->parents));
	else
		say(telling, NULL,
			"A seedling is a tree of its own: it has no cultivar until somebody names "
			"it.");
	if (names->same)
		say(telling, NULL,
			arena_format(telling->arena,
				"It is written down as '%s' all the same: tree identify tells "
				"otherwise.",
				names->own));
}

static void say_clone(struct telling *telling, const struct names *names)
{
	if (names->parents[0] == '\0')
		say(telling, NULL, "It is the same plant as its parent, whatever that is called.");
	else if (names->own[0] == '\0' || names->same)
		say(telling, NULL,
			arena_format(telling->arena,
				"It is the same plant as %s and keeps its name, '%s'.",
				names->parent, names->parents));
	else
		say(telling, NULL,
			arena_format(telling->arena,
				"It is the same plant as %s, yet that is called '%s' and this "
				"'%s': one of the two names is wrong.",
				names->parent, names->parents, names->own));
}

static void say_root_shoot(
	struct telling *telling, const struct descent_line *parent, const struct names *names)
{
	const char *stock = parent->tree.rootstock;

	if (stock[0] != '\0')
		say(telling, NULL,
			arena_format(telling->arena,
				"%s stands on %s: a shoot from below the graft is the rootstock, "
				"not '%s'.",
				names->parent, stock,
				names->parents[0] != '\0' ? names->parents : "what was grafted"));
	else
		say(telling, NULL,
			arena_format(telling->arena,
				"If %s was grafted, a shoot from below the graft is its "
				"rootstock; if it stands on its own roots, it is the same plant.",
				names->parent));
}

static void say_carries(struct telling *telling)
{
	const struct dossier *dossier = telling->out->dossier;
	const struct descent_line *parent = parent_line(telling->out);
	const struct names names = {.own = dossier->kind.cultivar,
		.parents = parent != NULL ? parent->kind.cultivar : "",
		.parent = parent != NULL ? parent->tree.label : "its parent",
		.same = parent != NULL && dossier->kind.cultivar[0] != '\0' &&
			text_same(parent->kind.cultivar, dossier->kind.cultivar)};

	switch (dossier->tree.how) {
	case ORIGIN_SEED:
		say_seed(telling, &names);
		break;
	case ORIGIN_CUTTING:
	case ORIGIN_LAYER:
	case ORIGIN_GRAFT:
		if (parent != NULL)
			say_clone(telling, &names);
		break;
	case ORIGIN_ROOT_SHOOT:
		if (parent != NULL)
			say_root_shoot(telling, parent, &names);
		break;
	case ORIGIN_UNKNOWN:
	case ORIGIN_BOUGHT:
	case ORIGIN_FOUND:
		break;
	}
	if (dossier->tree.how == ORIGIN_GRAFT &&
		(dossier->host != NULL || dossier->tree.rootstock[0] != '\0'))
		say(telling, NULL,
			"What grows from below the graft is the rootstock; only the wood above it "
			"bears the name.");
}

static bool has_cropped(const struct dossier *dossier)
{
	for (int32_t i = 0; i < dossier->season_count; i++)
		if (dossier->seasons[i].picks > 0 && !dossier->seasons[i].none_said)
			return true;
	return false;
}

/* Years from planting; a seedling by the figures of seedlings, where there are any. */
static void say_first_crop(struct telling *telling)
{
	const struct dossier *dossier = telling->out->dossier;
	const struct species *species = dossier->kind.species;
	const struct date_span *planted = &dossier->tree.planted;
	const bool seedling = dossier->tree.how == ORIGIN_SEED;
	const struct fact_row *years = NULL;

	if (species != NULL)
		years = species_fact(species, seedling ? "years-to-crop-seed" : "years-to-crop");
	if (years == NULL || !years->low.known || !planted->low.known || !planted->high.known ||
		has_cropped(dossier))
		return;
	int32_t from = date_parts(planted->low.value).year + (int32_t)years->low.value;
	int32_t to = date_parts(planted->high.value).year +
		     (int32_t)(years->high.known ? years->high.value : years->low.value);
	if (to < date_parts(yard_today(telling->yard)).year)
		return;
	if (from == to)
		say(telling, years,
			arena_format(telling->arena, "A first crop may come in %d%s%s.", from,
				years->text[0] != '\0' ? ": " : "", years->text));
	else
		say(telling, years,
			arena_format(telling->arena, "A first crop may come from %d to %d%s%s.",
				from, to, years->text[0] != '\0' ? ": " : "", years->text));
}

static void say_pot(struct telling *telling)
{
	const struct dossier *dossier = telling->out->dossier;
	const struct fact_row *least = NULL;
	const struct entry *potted = dossier_last(dossier, KIND_POT_UP, yard_today(telling->yard));
	const struct number_rules rules = yard_numbers(telling->yard);
	char has[32], wants[32], when[80];

	if (dossier->host != NULL || dossier->spot == NULL || dossier->spot->kind != SPOT_CONTAINER)
		return;
	if (dossier->kind.species != NULL)
		least = species_fact(dossier->kind.species, "container-minimum");
	const bool both = least != NULL && least->low.known && dossier->spot->volume_ul.known;
	if (both)
		say(telling, least,
			arena_format(telling->arena,
				"Its pot holds %s; to bear, the kind wants about %s.",
				volume_format(
					dossier->spot->volume_ul.value, &rules, has, sizeof has),
				volume_format(least->low.value, &rules, wants, sizeof wants)));
	if (potted != NULL)
		say(telling, NULL,
			arena_format(telling->arena, "Potted up last %s.",
				date_span_format_plain(&potted->day, when, sizeof when)));
}

static void say_kind(struct telling *telling)
{
	const struct species *species = telling->out->dossier->kind.species;
	const struct fact_row *moist = NULL, *raised = NULL;

	if (species == NULL)
		return;
	raised = species_fact(species, "propagation");
	moist = species_fact(species, "seed-keep-moist");
	if (raised != NULL)
		say(telling, raised,
			arena_format(telling->arena, "How the kind is raised: %s.", raised->text));
	if (moist != NULL)
		say(telling, moist,
			arena_format(telling->arena, "Its seeds must not dry: %s.", moist->text));
}

void descent_say_all(struct yard *yard, struct descent *out, struct arena *arena)
{
	struct telling telling = {.yard = yard, .out = out, .arena = arena};

	say_carries(&telling);
	out->carries_count = out->says_count;
	say_first_crop(&telling);
	say_pot(&telling);
	say_kind(&telling);
}
