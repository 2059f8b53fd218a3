/* SPDX-License-Identifier: MIT */
/* The cultivars of the almanac, of one kind or of all, each trait with whence it is. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"

enum { WORDS_ROOM = 1200, SOURCES_MAX = 64 };

static const char *const keys[] = {"key", "cultivar", "flesh", "skin", "shape", "source", "aliases",
	"type", "size", "season", "days", "against", "self", "bloom", "pollen_group", "alleles",
	"ploidy", "pollen", "bears", "more", "notes", "sure", NULL};

static const char *const pollens[] = {[POLLEN_UNSTATED] = "",
	[POLLEN_NONE] = "none",
	[POLLEN_POOR] = "poor",
	[POLLEN_GOOD] = "good"};
static const char *const ploidies[] = {[PLOIDY_UNSTATED] = "",
	[PLOIDY_2X] = "2x",
	[PLOIDY_3X] = "3x",
	[PLOIDY_PERHAPS_3X] = "3x?",
	[PLOIDY_4X] = "4x",
	[PLOIDY_6X] = "6x"};

/* --- for machines --- */

static void put_row(struct rows *rows, const struct almanac *almanac, const struct cultivar *row)
{
	rows_text(rows, row->species);
	rows_text(rows, row->name);
	rows_text(rows, row->flesh);
	rows_text(rows, row->skin);
	rows_text(rows, row->shape);
	rows_text(rows, source_title(almanac, row->source));
	rows_text(rows, row->aliases);
	rows_text(rows, row->type);
	rows_text(rows, row->size);
	rows_text(rows, row->season);
	rows_i64(rows,
		row->days.known ? known_i64(row->days.value) : (struct maybe_i64){.known = false});
	rows_text(rows, row->against);
	rows_text(rows, self_fruitful_word(row->self));
	rows_text(rows, bloom_class_word(row->bloom));
	rows_text(rows, row->group);
	rows_text(rows, row->alleles);
	rows_text(rows, ploidies[row->ploidy]);
	rows_text(rows, pollens[row->pollen]);
	rows_text(rows, row->bears);
	rows_text(rows, row->more);
	rows_text(rows, row->notes);
	rows_text(rows, known_by_word(row->sure));
}

/* --- for people --- */

static void add_trait(struct text_builder *text, const char *name, const char *words)
{
	if (words[0] != '\0')
		text_add_format(text, "%s%s %s", text->length > 0 ? "; " : "", name, words);
}

/* "russet full; keep long" of "russet: full; keep: long". */
static void add_more(struct text_builder *text, const char *more)
{
	if (more[0] != '\0' && text->length > 0)
		text_add(text, "; ");
	for (; *more != '\0'; more++)
		if (strncmp(more, ": ", 2) != 0)
			text_add_n(text, more, 1);
}

static void add_days(struct text_builder *text, const struct cultivar *row)
{
	int32_t days = row->days.value;

	if (!row->days.known)
		return;
	text_add(text, text->length > 0 ? "; " : "");
	if (days == 0)
		text_add_format(text, "ripe with %s", row->against);
	else
		text_add_format(text, "ripe %d days %s %s", days < 0 ? -days : days,
			days < 0 ? "before" : "after", row->against);
}

static void say_looks(const struct printer *printer, const struct cultivar *row)
{
	enum { NAME_CELLS = 24 };
	char room[WORDS_ROOM], head[TEXT_FIT_SIZE(NAME_CELLS)], name[NAME_SIZE + 4];
	struct text_builder text = text_builder_fixed(room, sizeof room);
	bool fits = text_width(row->name) + 3 <= NAME_CELLS;

	text_add(&text, "");
	add_trait(&text, "type", row->type);
	add_trait(&text, "flesh", row->flesh);
	add_trait(&text, "skin", row->skin);
	add_trait(&text, "shape", row->shape);
	add_trait(&text, "size", row->size);
	add_trait(&text, "ripe", row->season);
	add_days(&text, row);
	add_more(&text, row->more);
	snprintf(name, sizeof name, "  %s", row->name);
	text_fit(name, NAME_CELLS, TEXT_PAD_RIGHT, head, sizeof head);
	if (!fits)
		say_line(printer, "%s", name);
	say_wrapped(printer, fits ? head : "      ", "%s",
		text.length > 0 ? room : "looks not on record here");
}

static void say_pollen(const struct printer *printer, const struct cultivar *row)
{
	static const char *const alone[] = {[SELF_UNKNOWN] = "",
		[SELF_NO] = "does not set alone",
		[SELF_PARTLY] = "sets alone in part",
		[SELF_YES] = "sets alone"};
	char room[WORDS_ROOM];
	struct text_builder text = text_builder_fixed(room, sizeof room);

	text_add(&text, alone[row->self]);
	add_trait(&text, "bloom", bloom_class_word(row->bloom));
	add_trait(&text, "group", row->group);
	add_trait(&text, "alleles", row->alleles);
	add_trait(&text, "pollen shows", row->shows);
	add_trait(&text, "ploidy", ploidies[row->ploidy]);
	add_trait(&text, "pollen", pollens[row->pollen]);
	add_trait(&text, "bears", row->bears);
	if (text.length > 0)
		say_wrapped(printer, "      ", "%s", room);
}

static const char *how_sure(enum known_by sure)
{
	return sure == KNOWN_SECOND_HAND ? ", second-hand" : "";
}

/* "[self bloom: osu-cherry-chart; the rest from memory]": keys, told at the end. */
static void say_whence(const struct printer *printer, const struct cultivar *row)
{
	char room[WORDS_ROOM];
	struct text_builder text = text_builder_fixed(room, sizeof room);

	text_add(&text, "");
	for (int32_t i = 0; i < row->trait_count; i++) {
		const struct trait_source *trait = &row->traits[i];
		bool memory = trait->sure == KNOWN_MEMORY;
		text_add_format(&text, "%s: %s%s; ", trait->traits,
			memory ? "from memory" : trait->source, how_sure(trait->sure));
	}
	say_wrapped(printer, "      ", "[%s%s%s%s]", room, row->trait_count > 0 ? "the rest " : "",
		row->sure == KNOWN_MEMORY ? "from memory" : row->source, how_sure(row->sure));
}

static void say_cultivar(const struct printer *printer, const struct cultivar *row)
{
	say_looks(printer, row);
	if (row->aliases[0] != '\0')
		say_wrapped(printer, "      ", "also %s", row->aliases);
	say_pollen(printer, row);
	if (row->notes[0] != '\0')
		say_wrapped(printer, "      ", "%s", row->notes);
	say_whence(printer, row);
}

/* Sources in the order in which the rows name them. */
struct source_keys {
	const char *keys[SOURCES_MAX];
	int32_t count;
};

static void note_source(struct source_keys *named, const char *source, enum known_by sure)
{
	if (sure == KNOWN_MEMORY)
		return;
	for (int32_t i = 0; i < named->count; i++)
		if (strcmp(named->keys[i], source) == 0)
			return;
	if (named->count < SOURCES_MAX)
		named->keys[named->count++] = source;
}

static void say_sources(const struct printer *printer, const struct almanac *almanac,
	const struct cultivar *rows, int32_t count)
{
	struct source_keys named = {.count = 0};

	for (int32_t i = 0; i < count; i++) {
		for (int32_t t = 0; t < rows[i].trait_count; t++)
			note_source(&named, rows[i].traits[t].source, rows[i].traits[t].sure);
		note_source(&named, rows[i].source, rows[i].sure);
	}
	say_line(printer, "Sources");
	for (int32_t i = 0; i < named.count; i++)
		say_wrapped(printer, "  ", "%s: %s", named.keys[i],
			source_title(almanac, named.keys[i]));
}

/* What the signs of these rows mean, those that are there. */
static void say_signs(const struct printer *printer, const struct cultivar *rows, int32_t count)
{
	bool alleles = false;
	bool sexes = false;

	for (int32_t i = 0; i < count; i++) {
		alleles = alleles || rows[i].alleles[0] != '\0';
		sexes = sexes || strncmp(rows[i].type, "protan", 6) == 0;
	}
	say_wrapped(printer, "  ",
		"a/b: either may be seen, the likelier first. Days of ripening are good to a week, "
		"from memory to two. \"to check\" names what a row from memory is to be held "
		"against. In [ ]: whence a trait is.%s%s",
		alleles ? " Alleles: ' lets its own pollen through; ~ broken on the side of the "
			  "style, * on a side not known."
			: "",
		sexes ? " Protandrous: sheds pollen before its pistils open; protogynous: after."
		      : "");
}

static void say_kind(const struct printer *printer, const struct almanac *almanac, const char *key,
	const char *name)
{
	const struct species *species = almanac_species(almanac, key);
	int32_t count = 0;
	const struct cultivar *rows = almanac_cultivars(almanac, key, &count);

	say_line(printer, "%s: %d cultivars", name, count);
	if (species != NULL && species->pollination != NULL)
		say_wrapped(printer, "  ", "A partner: %s. Carried by %s. [%s]",
			species->pollination->text, species->pollination->carried,
			source_title(almanac, species->pollination->source));
	say_signs(printer, rows, count);
	for (int32_t i = 0; i < count; i++)
		say_cultivar(printer, &rows[i]);
	say_sources(printer, almanac, rows, count);
	say_wrapped(printer, "",
		"Many a yard tree is a seedling, or on no list: looks alone never settle a name.");
}

/* --- one kind, or all --- */

static enum status list_all(
	const struct printer *printer, const struct almanac *almanac, struct fault *why)
{
	if (printer->format != FORMAT_TEXT) {
		struct rows rows = rows_begin(printer, keys);
		for (int32_t i = 0; i < almanac_species_count(almanac); i++) {
			const struct species *species = almanac_species_at(almanac, i);
			for (int32_t c = 0; c < species->cultivar_count; c++)
				put_row(&rows, almanac, &species->cultivars[c]);
		}
		return rows_end(&rows, why);
	}
	for (int32_t i = 0; i < almanac_species_count(almanac); i++) {
		const struct species *species = almanac_species_at(almanac, i);
		say_line(printer, "%-16s %-20s %d cultivars", species->key, species->name,
			species->cultivar_count);
	}
	return say_end(printer, why);
}

static enum status list_kind(const struct printer *printer, const struct almanac *almanac,
	const struct kind_name *kind, struct fault *why)
{
	int32_t count = 0;
	const struct cultivar *cultivars = almanac_cultivars(almanac, kind->key, &count);

	if (cultivars == NULL)
		return fault_set(
			why, STATUS_ABSENT, "the almanac has no cultivars of %s", kind->name);
	if (printer->format == FORMAT_TEXT) {
		say_kind(printer, almanac, kind->key, kind->name);
		return say_end(printer, why);
	}
	struct rows rows = rows_begin(printer, keys);
	for (int32_t i = 0; i < count; i++)
		put_row(&rows, almanac, &cultivars[i]);
	return rows_end(&rows, why);
}

enum status print_cultivars(const struct printer *printer, const struct almanac *almanac,
	const char *kind, struct fault *why)
{
	struct kind_name fits[8];

	if (kind == NULL)
		return list_all(printer, almanac, why);
	int32_t count = almanac_find_kinds(almanac, kind, fits, 8);
	if (count > 1)
		return fault_set(why, STATUS_DOUBT, "'%s' could be %s (%s) or %s (%s)", kind,
			fits[0].name, fits[0].key, fits[1].name, fits[1].key);
	if (count == 0)
		return fault_set(
			why, STATUS_ABSENT, "no kind '%s'; 'boughbook almanac' lists them", kind);
	return list_kind(printer, almanac, &fits[0], why);
}
