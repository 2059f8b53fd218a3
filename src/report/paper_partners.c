/* SPDX-License-Identifier: MIT */
/* Of a sheet: whom the tree needs, and who needs it. */
#include "paper_sheet.h"

#include <string.h>

#include "reckon/partner.h"

enum { NAMED_MOST = 12 };

static struct partner partner_of_kind(const struct tree_kind *kind)
{
	struct partner partner = partner_of(kind->species, kind->cultivar);

	partner.outside = kind->outside;
	return partner;
}

/* A private tree is not named, nor is a graft on one. */
static bool is_told(const struct sheet *sheet, const struct neighbour *neighbour)
{
	struct store *store = yard_store(sheet->paper->yard);
	struct tree tree, host;

	if (!sheet->paper->without_private)
		return true;
	if (store_tree_load(store, neighbour->tree_id, &tree, NULL) != STATUS_OK)
		return false;
	return !tree.is_private &&
	       (neighbour->host_id[0] == '\0' ||
		       (store_tree_load(store, neighbour->host_id, &host, NULL) == STATUS_OK &&
			       !host.is_private));
}

static void add_name(struct text_builder *text, const struct neighbour *neighbour,
	enum partner_answer answer, int32_t count)
{
	const struct tree_kind *kind = &neighbour->kind;
	const bool named = kind->cultivar[0] != '\0';

	if (count == NAMED_MOST)
		text_add(text, " and more");
	if (count >= NAMED_MOST)
		return;
	text_add_format(text, "%s%s %s%s%s%s", text->length > 0 ? ", " : "", neighbour->label,
		named ? kind->cultivar : kind->name,
		named && kind->cultivar_sure != SURE_CERTAIN ? "?" : "",
		answer == PARTNER_PARTLY ? " (half)" : "",
		neighbour->over_fence ? " over the fence" : "");
}

/* Those that give it pollen, or take its, by the almanac. */
static void say_way(struct sheet *sheet, const struct dossier *dossier, const struct partner *tree,
	bool gives, struct arena *arena)
{
	struct text_builder text = text_builder_in(arena);
	int32_t count = 0;

	text_add(&text, "");
	for (int32_t i = 0; i < dossier->neighbour_count; i++) {
		const struct neighbour *neighbour = &dossier->neighbours[i];
		const struct partner other = partner_of_kind(&neighbour->kind);

		if ((other.species == NULL && (!gives || other.outside == NULL)) ||
			strcmp(neighbour->tree_id, dossier->tree.id) == 0)
			continue;
		const struct partner_verdict verdict =
			gives ? partner_serves(&other, tree) : partner_serves(tree, &other);
		if ((verdict.answer == PARTNER_YES || verdict.answer == PARTNER_PARTLY) &&
			is_told(sheet, neighbour))
			add_name(&text, neighbour, verdict.answer, count++);
	}
	if (text.length > 0)
		document_row(&sheet->document, gives ? "takes pollen of" : "gives it to", "%s",
			text.text);
	else if (gives)
		document_row(&sheet->document, "takes pollen of", "%s%s",
			"nobody here that is known to serve it",
			tree->name[0] == '\0' ? "; its cultivar is not known" : "");
}

void paper_partners(struct sheet *sheet, const struct dossier *dossier, struct arena *arena)
{
	static const char *const words[] = {[SELF_UNKNOWN] = "not on record",
		[SELF_NO] = "does not set alone",
		[SELF_PARTLY] = "sets in part alone",
		[SELF_YES] = "sets alone"};
	const struct partner tree = partner_of_kind(&dossier->kind);
	const char *source = "";
	enum known_by sure = KNOWN_MEMORY;
	bool of_kind = false;

	if (tree.species == NULL || tree.species->pollination == NULL ||
		dossier->tree.gone.text[0] != '\0')
		return;
	const enum self_fruitful self = partner_alone(&tree, &of_kind, &source, &sure);
	document_heading(&sheet->document, "Whom it needs");
	document_row(&sheet->document, "by itself", "%s%s%s", words[self],
		of_kind && self != SELF_UNKNOWN ? ", as most of its kind" : "",
		dossier->kind.cultivar[0] != '\0' && dossier->kind.cultivar_sure != SURE_CERTAIN
			? "; by a name that is not certain"
			: "");
	say_way(sheet, dossier, &tree, true, arena);
	say_way(sheet, dossier, &tree, false, arena);
	document_row(&sheet->document, "a partner is", "%s", tree.species->pollination->text);
}
