/* SPDX-License-Identifier: MIT */
/* cultivars.csv. Rows of one kind stand together; a name or alias belongs to one row of a kind. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "almanac/load.h"
#include "core/text.h"

enum {
	SPECIES,
	CULTIVAR,
	ALIASES,
	TYPE,
	FLESH,
	SKIN,
	SHAPE,
	SIZE,
	SEASON,
	DAYS,
	AGAINST,
	SELF,
	BLOOM,
	GROUP,
	ALLELES,
	SHOWS,
	PLOIDY,
	POLLEN,
	BEARS,
	MORE,
	NOTES,
	TRAITS,
	SOURCE,
	SURE
};
static const char *const COLUMNS[] = {"species", "cultivar", "aliases", "type", "flesh", "skin",
	"shape", "size", "season", "days", "against", "self", "bloom", "group", "alleles", "shows",
	"ploidy", "pollen", "bears", "more", "notes", "traits", "source", "sure", NULL};

enum { DAYS_FROM = -200, DAYS_TO = 250, TRAITS_MAX = 8, PART_SIZE = 200 };

/* --- cells --- */

/* The next part of a list, up to the mark: trimmed, in out. false at the end. */
static bool next_part(const char **at, const char *mark, char *out, size_t size)
{
	if (**at == '\0')
		return false;
	const char *end = strstr(*at, mark);
	size_t length = end == NULL ? strlen(*at) : (size_t)(end - *at);
	size_t kept = length < size ? length : size - 1;
	memcpy(out, *at, kept);
	out[kept] = '\0';
	*at += end == NULL ? length : length + strlen(mark);
	return true;
}

/* Words parted by '/': small letters, digits, '-' and '.'; blank is not known. */
static enum status read_words(
	const struct sheet *sheet, int32_t column, const char **out, struct fault *why)
{
	const char *cell = sheet->cells[column];
	size_t length = 0;
	bool good = true;
	for (char before = '/'; good && cell[length] != '\0'; before = cell[length++])
		good = (cell[length] >= 'a' && cell[length] <= 'z') ||
		       (cell[length] >= '-' && cell[length] <= '9' &&
			       (cell[length] != '/' || before != '/'));
	if (length > 0 && (!good || cell[length - 1] == '/'))
		return sheet_fault(sheet, column, STATUS_SYNTAX, why,
			"\"%s\" is not words of small letters parted by '/'", cell);
	*out = cell;
	return STATUS_OK;
}

/* A whole number that may be below zero; blank is not known. */
static enum status read_days(const struct sheet *sheet, struct cultivar *row, struct fault *why)
{
	const char *cell = sheet->cells[DAYS];
	row->against = sheet->cells[AGAINST];
	if ((cell[0] == '\0') != (row->against[0] == '\0'))
		return sheet_fault(sheet, AGAINST, STATUS_SYNTAX, why,
			"days and what they count from stand together");
	if (cell[0] == '\0')
		return STATUS_OK;
	char *end = NULL;
	long days = strtol(cell, &end, 10);
	if (*end != '\0')
		return sheet_fault(sheet, DAYS, STATUS_SYNTAX, why,
			"\"%s\" is not a whole number of days", cell);
	if (days < DAYS_FROM || days > DAYS_TO)
		return sheet_fault(sheet, DAYS, STATUS_RANGE, why, "%ld is outside %d..%d", days,
			DAYS_FROM, DAYS_TO);
	row->days = known_i32((int32_t)days);
	return STATUS_OK;
}

/* "S3 S4'": words of a capital S, letters or digits, and at most one mark. */
static enum status read_alleles(
	const struct sheet *sheet, int32_t column, const char **out, struct fault *why)
{
	const char *at = sheet->cells[column];
	char word[PART_SIZE];
	*out = at;
	while (next_part(&at, " ", word, sizeof word)) {
		size_t body = strspn(word, "abcdefghijklmnopqrstuvwxyz0123456789S");
		bool marked = word[body] != '\0' && strchr("'~*", word[body]) != NULL;
		if (word[0] != 'S' || body < 2 || word[body + (marked ? 1 : 0)] != '\0')
			return sheet_fault(sheet, column, STATUS_SYNTAX, why,
				"\"%s\" is no allele: S3, Sf, with ', ~ or * after it", word);
	}
	return STATUS_OK;
}

static enum status read_choices(const struct sheet *sheet, struct cultivar *row, struct fault *why)
{
	static const char *const selves[] = {"", "no", "partly", "yes", NULL};
	static const char *const blooms[] = {
		"", "early", "early-mid", "mid", "mid-late", "late", "very-late", NULL};
	static const char *const ploidies[] = {"", "2x", "3x", "3x?", "4x", "6x", NULL};
	static const char *const pollens[] = {"", "none", "poor", "good", NULL};
	int found = 0;
	enum status status = sheet_choice(sheet, SELF, selves, &found, why);
	row->self = (enum self_fruitful)found;
	if (status == STATUS_OK)
		status = sheet_choice(sheet, BLOOM, blooms, &found, why);
	row->bloom = (enum bloom_class)found;
	if (status == STATUS_OK)
		status = sheet_choice(sheet, PLOIDY, ploidies, &found, why);
	row->ploidy = (enum ploidy)found;
	if (status == STATUS_OK)
		status = sheet_choice(sheet, POLLEN, pollens, &found, why);
	row->pollen = (enum pollen_worth)found;
	return status;
}

/* --- whence single traits are: "flesh skin: source; self: source second-hand" --- */

/* Is it a column that holds a trait, or a trait of `more`? */
static bool is_trait(const struct cultivar *row, const char *word)
{
	char out[PART_SIZE];
	for (int32_t i = TYPE; i <= BEARS; i++)
		if (word_is(COLUMNS[i], word))
			return true;
	return cultivar_more(row, word, out, sizeof out);
}

static enum status read_trait(const struct almanac *almanac, const struct sheet *sheet,
	const struct cultivar *row, const char *part, struct trait_source *trait, struct fault *why)
{
	static const struct {
		const char *word;
		enum known_by sure;
	} ends[] = {{" second-hand", KNOWN_SECOND_HAND}, {" memory", KNOWN_MEMORY}};
	const char *colon = strstr(part, ": ");
	char word[PART_SIZE];
	if (colon == NULL)
		return sheet_fault(sheet, TRAITS, STATUS_SYNTAX, why,
			"\"%s\" is not \"traits: source\"", part);
	trait->traits = arena_text_n(almanac->scratch, part, (size_t)(colon - part));
	char *key = arena_text(almanac->scratch, colon + 2);
	trait->sure = KNOWN_READ;
	for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
		char *end = strstr(key, ends[i].word);
		if (end == NULL)
			continue;
		*end = '\0';
		trait->sure = ends[i].sure;
	}
	trait->source = key;
	if (almanac_source(almanac, key) == NULL)
		return sheet_fault(
			sheet, TRAITS, STATUS_SYNTAX, why, "\"%s\" is not in sources.csv", key);
	const char *at = trait->traits;
	while (next_part(&at, " ", word, sizeof word))
		if (!is_trait(row, word))
			return sheet_fault(sheet, TRAITS, STATUS_SYNTAX, why,
				"\"%s\" is no trait of this row", word);
	return STATUS_OK;
}

static enum status read_traits(const struct almanac *almanac, const struct sheet *sheet,
	struct cultivar *row, struct fault *why)
{
	const char *at = sheet->cells[TRAITS];
	char part[PART_SIZE];
	struct trait_source traits[TRAITS_MAX] = {0};
	while (next_part(&at, "; ", part, sizeof part)) {
		if (row->trait_count == TRAITS_MAX)
			return sheet_fault(
				sheet, TRAITS, STATUS_RANGE, why, "more than %d parts", TRAITS_MAX);
		enum status status =
			read_trait(almanac, sheet, row, part, &traits[row->trait_count++], why);
		if (status != STATUS_OK)
			return status;
	}
	const size_t size = (size_t)row->trait_count * sizeof traits[0];
	row->traits = arena_grow(almanac->arena, traits, size, size);
	return STATUS_OK;
}

/* --- rows --- */

/* A kind of species.csv, or one known by name only. */
static enum status read_species(const struct almanac *almanac, const struct sheet *sheet,
	struct cultivar *row, struct fault *why)
{
	const struct name_row *name = NULL;
	enum status status = sheet_key(sheet, SPECIES, &row->species, why);
	if (status != STATUS_OK || almanac_species(almanac, row->species) != NULL)
		return status;
	if (almanac_names(almanac, row->species, &name, 1) == 0)
		return sheet_fault(sheet, SPECIES, STATUS_SYNTAX, why,
			"\"%s\" is neither in species.csv nor in names.csv", row->species);
	return STATUS_OK;
}

static enum status read_row(const struct almanac *almanac, const struct sheet *sheet,
	struct cultivar *row, struct fault *why)
{
	static const struct {
		int32_t column;
		size_t place;
	} words[] = {
		{TYPE, offsetof(struct cultivar, type)},
		{FLESH, offsetof(struct cultivar, flesh)},
		{SKIN, offsetof(struct cultivar, skin)},
		{SHAPE, offsetof(struct cultivar, shape)},
		{SIZE, offsetof(struct cultivar, size)},
		{SEASON, offsetof(struct cultivar, season)},
		{BEARS, offsetof(struct cultivar, bears)},
	};
	enum status status = read_species(almanac, sheet, row, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, CULTIVAR, &row->name, why);
	if (status == STATUS_OK && strlen(row->name) >= NAME_SIZE)
		return sheet_fault(sheet, CULTIVAR, STATUS_RANGE, why, "is longer than %d bytes",
			NAME_SIZE - 1);
	for (size_t i = 0; status == STATUS_OK && i < sizeof words / sizeof words[0]; i++)
		status = read_words(
			sheet, words[i].column, (const char **)((char *)row + words[i].place), why);
	row->aliases = sheet->cells[ALIASES];
	row->group = sheet->cells[GROUP];
	row->more = sheet->cells[MORE];
	row->notes = sheet->cells[NOTES];
	if (status == STATUS_OK)
		status = read_days(sheet, row, why);
	if (status == STATUS_OK)
		status = read_choices(sheet, row, why);
	if (status == STATUS_OK)
		status = read_alleles(sheet, ALLELES, &row->alleles, why);
	if (status == STATUS_OK)
		status = read_alleles(sheet, SHOWS, &row->shows, why);
	if (status == STATUS_OK)
		status = read_traits(almanac, sheet, row, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, SOURCE, &row->source, why);
	return status == STATUS_OK ? load_sure(sheet, SURE, &row->sure, why) : status;
}

/* --- names --- */

void cultivar_fold(const char *name, char *out, size_t size)
{
	char folded[3 * NAME_SIZE];
	size_t used = 0;
	text_fold(name, folded, sizeof folded);
	for (const char *at = folded; *at != '\0'; at++) {
		unsigned char byte = (unsigned char)*at;
		bool kept = byte >= 0x80 || (byte >= '0' && byte <= '9') ||
			    (byte >= 'a' && byte <= 'z') || byte == '#';
		if (kept && used + 1 < size)
			out[used++] = *at;
	}
	out[used] = '\0';
}

/* All that a row answers to, folded, each between line ends. */
static const char *folded_names(struct arena *arena, const struct cultivar *row)
{
	struct text_builder names = text_builder_in(arena);
	char folded[3 * NAME_SIZE];
	char part[NAME_SIZE];
	const char *at = row->aliases;

	cultivar_fold(row->name, folded, sizeof folded);
	text_add_format(&names, "\n%s\n", folded);
	while (next_part(&at, "; ", part, sizeof part)) {
		cultivar_fold(part, folded, sizeof folded);
		text_add_format(&names, "%s\n", folded);
	}
	return names.text;
}

static const struct cultivar *find_among(
	const struct cultivar *rows, int32_t count, const char *name)
{
	char folded[3 * NAME_SIZE];
	char wanted[3 * NAME_SIZE + 2];
	cultivar_fold(name, folded, sizeof folded);
	snprintf(wanted, sizeof wanted, "\n%s\n", folded);
	for (int32_t i = 0; folded[0] != '\0' && i < count; i++)
		if (strstr(rows[i].folded, wanted) != NULL)
			return &rows[i];
	return NULL;
}

/* No name or alias of the row may stand in an earlier row of the kind, which begin at `first`. */
static enum status check_names(const struct sheet *sheet, const struct list *list, int32_t first,
	const struct cultivar *row, struct fault *why)
{
	const int32_t count = list->count - first;
	const struct cultivar *rows =
		count > 0 ? (const struct cultivar *)list->items + first : NULL;
	const char *at = row->aliases;
	char part[NAME_SIZE];
	if (find_among(rows, count, row->name) != NULL)
		return sheet_fault(sheet, CULTIVAR, STATUS_SYNTAX, why,
			"\"%s\" names another %s already", row->name, row->species);
	while (next_part(&at, "; ", part, sizeof part))
		if (find_among(rows, count, part) != NULL)
			return sheet_fault(sheet, ALIASES, STATUS_SYNTAX, why,
				"\"%s\" names another %s already", part, row->species);
	return STATUS_OK;
}

/* --- the table --- */

/* Where the rows of this kind begin, given where those of the row before do; a fault when they
 * stand apart. */
static enum status check_place(const struct sheet *sheet, const struct list *list,
	const struct cultivar *row, int32_t *first, struct fault *why)
{
	const struct cultivar *rows = (const struct cultivar *)list->items;
	if (list->count > 0 && word_is(rows[list->count - 1].species, row->species))
		return STATUS_OK;
	for (int32_t i = 0; i < list->count; i++)
		if (word_is(rows[i].species, row->species))
			return sheet_fault(sheet, SPECIES, STATUS_SYNTAX, why,
				"the rows of %s should stand together", row->species);
	*first = list->count;
	return STATUS_OK;
}

enum status load_cultivars(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct cultivar), .stays = true};
	int32_t first = 0;
	enum status status = load_sheet(almanac, directory, "cultivars.csv", COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct cultivar row = {0};
		status = read_row(almanac, &sheet, &row, why);
		if (status == STATUS_OK)
			row.folded = folded_names(almanac->scratch, &row);
		if (status == STATUS_OK)
			status = check_place(&sheet, &list, &row, &first, why);
		if (status == STATUS_OK)
			status = check_names(&sheet, &list, first, &row, why);
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, 0, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	almanac->cultivars = (struct cultivar *)list.items;
	almanac->cultivar_count = list.count;
	for (int32_t i = 0; i < almanac->species_count; i++) {
		struct species *species = &almanac->species[i];
		species->cultivars =
			almanac_cultivars(almanac, species->key, &species->cultivar_count);
	}
	return STATUS_OK;
}

const struct cultivar *almanac_cultivars(
	const struct almanac *almanac, const char *species, int32_t *count)
{
	const struct cultivar *first = NULL;
	*count = 0;
	for (int32_t i = 0; i < almanac->cultivar_count; i++) {
		if (!word_is(almanac->cultivars[i].species, species))
			continue;
		if (first == NULL)
			first = &almanac->cultivars[i];
		++*count;
	}
	return first;
}

const struct cultivar *cultivar_find(const struct species *species, const char *name)
{
	return find_among(species->cultivars, species->cultivar_count, name);
}
