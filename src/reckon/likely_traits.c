/* SPDX-License-Identifier: MIT */
/* Traits of the key: which there are, how they are read, what a row says of them. */
#include "likely_traits.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "likely_words.h"

enum { CELL_SIZE = 120, WORDS_MAX = 40 };

/* clang-format off */
/* Columns first; traits of `more` that are not named here weigh 1. `how`: common practice. */
static const struct trait_row {
	const char *name;
	const char *other; /* what else it is called, parted by blanks */
	int32_t weight;    /* 0: no trait of the key */
	bool look;
	const char *how;
} table[] = {
	{ "flesh", "pulp arils aril", 3, true, "cut a ripe fruit through" },
	{ "skin", "colour color ground rind", 2, true, "the ground colour of a ripe fruit, from the shaded side" },
	{ "over", "overcolour overcolor", 1, true, "the colour that sun and cold nights lay over it" },
	{ "pattern", "", 1, true, "how that colour lies: blush, stripes, all over" },
	{ "shape", "form", 2, true, "several fruits, from the side" },
	{ "seeds", "", 2, true, "count in ten fruits, take what most have" },
	{ "stone", "pit", 3, true, "does a ripe fruit come off its stone" },
	{ "peel", "", 2, true, "peel a ripe fruit" },
	{ "surface", "", 2, true, "run a thumb over it" },
	{ "russet", "", 3, true, "rough brown skin: none, at the stem, a net, all over" },
	{ "blush", "", 1, true, "colour on the sunny side" },
	{ "juice", "", 3, true, "clear or red" },
	{ "melt", "", 3, true, "does ripe flesh melt or stay like rubber" },
	{ "texture", "", 2, true, "a ripe slice" },
	{ "firmness", "firm", 1, true, "a ripe fruit between two fingers" },
	{ "shell", "", 3, true, "crack it by hand, or not" },
	{ "seed", "", 3, true, "chew one" },
	{ "breba", "", 3, true, "fruit in early summer on last year's wood" },
	{ "eye", "ostiole", 2, true, "the opening at the end away from the stalk" },
	{ "neck", "", 2, true, "between fruit and stalk" },
	{ "type", "class", 3, true, "" },
	{ "acid", "", 1, true, "sharp or flat when ripe" },
	{ "taste", "flavour flavor", 1, true, "when fully ripe; moves with crop and weather" },
	{ "size", "", 1, false, "within its kind, on a thinned tree; moves most of all" },
	{ "season", "ripe ripens ripening", 3, false, "when it ripens within its kind" },
	{ LIKELY_ORDER, "against", 4, false, "first ripe fruit, days before or after a tree that you know" },
	{ "self", "self-fruitful selffertile self-fertile alone", 2, false, "a fair crop in a year when no other of its kind bloomed near" },
	{ "bloom", "flowers", 2, false, "among trees of its kind in one yard" },
	{ "bears", "", 2, false, "flower buds on spurs, or at the tips of last year's shoots" },
	{ "keep", "keeps", 1, false, "how long it keeps cold" },
	{ "alternates", "biennial", 1, false, "every year, or every second" },
	{ "raw", "", 1, true, "fit to eat raw when ripe" },
	{ "length-in", "length", 1, true, "of a ripe fruit, in inches" },
	{ "males", "", 1, true, "male flowers too" },
	/* not to be seen on a tree, or told by another trait */
	{ "m-broken", "", 0, false, "" },
	{ "use", "", 0, false, "" },
	{ "race", "", 0, false, "" },
	{ "cold", "", 0, false, "" },
	{ "leaf", "", 0, false, "" },
	{ "harvest", "", 0, false, "" },
};
/* clang-format on */

static const struct trait_row *row_named(const char *trait)
{
	for (size_t i = 0; i < sizeof table / sizeof table[0]; i++)
		if (strcmp(table[i].name, trait) == 0)
			return &table[i];
	return NULL;
}

int32_t likely_weight(const char *trait)
{
	const struct trait_row *row = row_named(trait);
	return row == NULL ? 1 : row->weight;
}

bool likely_is_look(const char *trait)
{
	const struct trait_row *row = row_named(trait);
	return row == NULL || row->look;
}

const char *likely_how(const char *trait)
{
	const struct trait_row *row = row_named(trait);
	return row == NULL ? "" : row->how;
}

/* --- cells --- */

static const char *column_of(const struct cultivar *row, const char *trait)
{
	const struct {
		const char *name;
		const char *cell;
	} columns[] = {{"flesh", row->flesh}, {"skin", row->skin}, {"shape", row->shape},
		{"size", row->size}, {"season", row->season}, {"type", row->type},
		{"self", self_fruitful_word(row->self)}, {"bloom", bloom_class_word(row->bloom)},
		{"bears", row->bears}};
	for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
		if (strcmp(columns[i].name, trait) == 0)
			return columns[i].cell;
	return NULL;
}

bool likely_cell(
	const struct cultivar *row, const char *trait, char *out, size_t size, enum known_by *sure)
{
	const char *column = column_of(row, trait);
	out[0] = '\0';
	*sure = KNOWN_MEMORY;
	if (column != NULL)
		(void)text_copy(out, size, column);
	else if (likely_weight(trait) > 0 && strcmp(trait, LIKELY_ORDER) != 0)
		(void)cultivar_more(row, trait, out, (int)size);
	if (out[0] == '\0')
		return false;
	(void)cultivar_source(row, trait, sure);
	return true;
}

bool likely_says(
	const struct cultivar *row, const char *trait, char *out, size_t size, enum known_by *sure)
{
	if (strcmp(trait, LIKELY_ORDER) != 0)
		return likely_cell(row, trait, out, size, sure);
	struct text_builder text = text_builder_fixed(out, size);
	(void)cultivar_source(row, "days", sure);
	if (row->days.known && row->days.value == 0)
		text_add_format(&text, "with %s", row->against);
	else if (row->days.known)
		text_add_format(&text, "%d days %s %s", abs(row->days.value),
			row->days.value < 0 ? "before" : "after", row->against);
	else
		return likely_cell(row, "season", out, size, sure);
	return true;
}

/* --- which there are --- */

static bool has_trait(const struct likely_kind *kinds, int32_t count, const char *trait)
{
	char cell[CELL_SIZE];
	enum known_by sure;
	for (int32_t k = 0; k < count; k++)
		for (int32_t i = 0; i < kinds[k].count; i++)
			if (likely_says(&kinds[k].rows[i], trait, cell, sizeof cell, &sure))
				return true;
	return false;
}

int32_t likely_traits(
	const struct likely_kind *kinds, int32_t count, const char *out[LIKELY_TRAITS_MAX])
{
	int32_t found = 0;
	for (size_t i = 0; i < sizeof table / sizeof table[0] && found < LIKELY_TRAITS_MAX; i++)
		if (table[i].weight > 0 && has_trait(kinds, count, table[i].name))
			out[found++] = table[i].name;
	return found;
}

struct word_list {
	char words[WORDS_MAX][KEY_SIZE];
	int32_t count;
};

static void add_words(struct word_list *list, const char *cell)
{
	for (const char *at = cell; *at != '\0';) {
		const size_t length = strcspn(at, "/");
		char word[KEY_SIZE];
		bool is_new = text_copy_n(word, sizeof word, at, length);
		for (int32_t i = 0; i < list->count; i++)
			is_new = is_new && strcmp(list->words[i], word) != 0;
		if (is_new && list->count < WORDS_MAX)
			(void)text_copy(list->words[list->count++], KEY_SIZE, word);
		at += length + (at[length] == '/');
	}
}

const char *likely_words(
	const struct likely_kind *kinds, int32_t count, const char *trait, char *out, size_t size)
{
	struct word_list list = {.count = 0};
	struct text_builder text = text_builder_fixed(out, size);
	char cell[CELL_SIZE];
	enum known_by sure;
	for (int32_t k = 0; k < count; k++)
		for (int32_t i = 0; i < kinds[k].count; i++)
			if (likely_cell(&kinds[k].rows[i], trait, cell, sizeof cell, &sure))
				add_words(&list, cell);
	text_add(&text, "");
	for (int32_t i = 0; i < list.count; i++)
		text_add_format(&text, "%s%s", i > 0 ? ", " : "", list.words[i]);
	return out;
}

/* --- reading --- */

/* Small letters, blanks as '-': "Light yellow" is "light-yellow"; " or " and ',' part words. */
static void fold_value(const char *value, char *out, size_t size)
{
	char folded[3 * LIKELY_VALUE_SIZE];
	size_t used = 0;
	(void)text_fold(value, folded, sizeof folded);
	for (const char *at = text_trim_in_place(folded); *at != '\0' && used + 1 < size;) {
		if (strncmp(at, " or ", 4) == 0 || strncmp(at, ", ", 2) == 0 || *at == ',') {
			out[used++] = '/';
			at += strncmp(at, " or ", 4) == 0 ? 4 : strncmp(at, ", ", 2) == 0 ? 2 : 1;
			continue;
		}
		out[used++] = *at == ' ' ? '-' : *at;
		at++;
	}
	out[used] = '\0';
}

static bool names_trait(const struct trait_row *row, const char *word)
{
	const size_t length = strlen(word);
	if (strcmp(row->name, word) == 0)
		return true;
	for (const char *at = row->other; *at != '\0';) {
		const size_t size = strcspn(at, " ");
		if (size == length && strncmp(at, word, size) == 0)
			return true;
		at += size + (at[size] == ' ');
	}
	return false;
}

static enum status read_trait(const struct likely_kind *kinds, int32_t count, const char *trait,
	struct likely_note *out, struct fault *why)
{
	const char *names[LIKELY_TRAITS_MAX];
	char folded[CELL_SIZE], known[FAULT_TEXT_SIZE];
	struct text_builder text = text_builder_fixed(known, sizeof known);
	fold_value(trait, folded, sizeof folded);
	for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
		if (table[i].weight == 0 || !names_trait(&table[i], folded) ||
			!has_trait(kinds, count, table[i].name))
			continue;
		(void)text_copy(out->trait, sizeof out->trait, table[i].name);
		return STATUS_OK;
	}
	const int32_t found = likely_traits(kinds, count, names);
	text_add(&text, "");
	for (int32_t i = 0; i < found; i++)
		text_add_format(&text, "%s%s", i > 0 ? " " : "", names[i]);
	return fault_set(why, STATUS_SYNTAX, "no trait '%s' here; there are: %s", trait, known);
}

static const struct cultivar *row_called(
	const struct likely_kind *kinds, int32_t count, const char *name)
{
	for (int32_t k = 0; k < count; k++) {
		const struct species species = {
			.cultivars = kinds[k].rows, .cultivar_count = kinds[k].count};
		const struct cultivar *row = cultivar_find(&species, name);
		if (row != NULL)
			return row;
	}
	return NULL;
}

/* A name that rows count their days from, though it may be of another kind; NULL: none. */
static const char *reference_called(
	const struct likely_kind *kinds, int32_t count, const char *name)
{
	for (int32_t k = 0; k < count; k++)
		for (int32_t i = 0; i < kinds[k].count; i++)
			if (kinds[k].rows[i].days.known &&
				text_same(kinds[k].rows[i].against, name))
				return kinds[k].rows[i].against;
	return NULL;
}

/* "12 days before Bing", "after Mogi", "with Tanaka". */
static enum status read_order(const struct likely_kind *kinds, int32_t count, const char *value,
	struct likely_note *out, struct fault *why)
{
	static const struct {
		const char *word;
		int32_t side;
	} sides[] = {{"before ", -1}, {"with ", 0}, {"after ", 1}};
	char *end = NULL;
	const long days = strtol(value, &end, 10);
	const bool figures = end != value;
	const char *at = figures ? end + strspn(end, " ") : value;
	if (figures && text_starts(at, "day"))
		at += strcspn(at, " ") + 1;
	for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++) {
		if (!text_starts(at, sides[i].word))
			continue;
		const char *name = at + strlen(sides[i].word);
		out->against = row_called(kinds, count, name);
		out->reference = reference_called(kinds, count, name);
		if (out->against == NULL && out->reference == NULL)
			return fault_set(why, STATUS_SYNTAX,
				"the almanac has no '%.60s' of this kind to compare with", name);
		if (figures && (days < 0 || days > 365))
			return fault_set(why, STATUS_RANGE, "%ld days is outside 0..365", days);
		out->side = sides[i].side;
		if (figures || out->side == 0)
			out->days = known_i32(out->side * (int32_t)days);
		(void)text_copy(out->value, sizeof out->value, value);
		return STATUS_OK;
	}
	return fault_set(why, STATUS_SYNTAX,
		"order is told against a cultivar: \"12 days before NAME\", \"after NAME\", \"with "
		"NAME\"");
}

/* Is any row near to the words, or is one that is not comparable there at all? */
static bool is_word_of(
	const struct likely_kind *kinds, int32_t count, const struct likely_note *note)
{
	for (int32_t k = 0; k < count; k++)
		for (int32_t i = 0; i < kinds[k].count; i++)
			if (likely_fits(&kinds[k].rows[i], note) >= LIKELY_NEAR)
				return true;
	return false;
}

enum status likely_read(const struct likely_kind *kinds, int32_t count, const char *trait,
	const char *value, struct likely_note *out, struct fault *why)
{
	char words[FAULT_TEXT_SIZE];
	*out = (struct likely_note){.trait = ""};
	enum status status = read_trait(kinds, count, trait, out, why);
	if (status != STATUS_OK)
		return status;
	if (strlen(value) >= LIKELY_VALUE_SIZE)
		return fault_set(why, STATUS_RANGE, "%s: too long", out->trait);
	if (strcmp(out->trait, LIKELY_ORDER) == 0)
		return read_order(kinds, count, value, out, why);
	fold_value(value, out->value, sizeof out->value);
	if (strcmp(out->trait, "self") == 0 && strcmp(out->value, "part") == 0)
		(void)text_copy(out->value, sizeof out->value, "partly");
	if (is_word_of(kinds, count, out))
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX, "%s: no row is like '%s'; rows say %s", out->trait,
		value, likely_words(kinds, count, out->trait, words, sizeof words));
}
