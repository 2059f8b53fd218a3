/* SPDX-License-Identifier: MIT */
/* Asking the tables of pests, degree-days and work. */
#include "almanac/pest.h"

#include <string.h>

#include "almanac/load.h"
#include "core/text.h"

const char *pest_group_title(enum pest_group group)
{
	static const char *const titles[] = {
		[PEST_INSECT] = "insect",
		[PEST_MITE] = "mite",
		[PEST_DISEASE] = "disease",
		[PEST_DISORDER] = "disorder",
		[PEST_NEMATODE] = "nematode",
		[PEST_ANIMAL] = "animal",
	};
	return titles[group];
}

const struct pest_row *almanac_pest_list(const struct almanac *almanac, int32_t *count)
{
	*count = almanac->pest_count;
	return almanac->pests;
}

const struct pest_row *almanac_pest(const struct almanac *almanac, const char *key)
{
	for (int32_t i = 0; i < almanac->pest_count; i++)
		if (word_is(almanac->pests[i].key, key))
			return &almanac->pests[i];
	return NULL;
}

const struct degree_row *almanac_degrees(const struct almanac *almanac, int32_t *count)
{
	*count = almanac->degree_count;
	return almanac->degrees;
}

const struct work_row *almanac_work(const struct almanac *almanac, int32_t *count)
{
	*count = almanac->work_count;
	return almanac->work;
}

/* --- hosts --- */

/* Is the word one of those parted by blanks? */
static bool has_word(const char *words, const char *word)
{
	size_t length = strlen(word);
	for (const char *at = words; length > 0 && (at = strstr(at, word)) != NULL; at += length)
		if ((at == words || at[-1] == ' ') && (at[length] == ' ' || at[length] == '\0'))
			return true;
	return false;
}

bool pest_is_on(const struct pest_row *pest, const char *species)
{
	return word_is(pest->hosts, "all") || has_word(pest->hosts, species);
}

bool work_is_on(const struct work_row *work, const char *species)
{
	return word_is(work->hosts, "all") || has_word(work->hosts, species);
}

bool work_answers(const struct work_row *work, const char *pest)
{
	return has_word(work->pests, pest);
}

bool work_is_for(const struct work_row *work, const char *species, enum climate climate)
{
	if (climate == CLIMATE_LITTLE_RAIN)
		climate = CLIMATE_DRY_SUMMER;
	bool here = work->climates[0] == '\0' ||
		    (climate != CLIMATE_ANY && has_word(work->climates, climate_key(climate)));
	return here && work_is_on(work, species);
}

int32_t almanac_pests(const struct almanac *almanac, const char *species,
	const struct pest_row **out, int32_t max)
{
	int32_t count = 0;
	for (int pass = 0; pass < 2; pass++) {
		for (int32_t i = 0; i < almanac->pest_count; i++) {
			const struct pest_row *pest = &almanac->pests[i];
			bool named = !word_is(pest->hosts, "all");
			if (named != (pass == 0) || !pest_is_on(pest, species))
				continue;
			if (count < max)
				out[count] = pest;
			count++;
		}
	}
	return count;
}

bool span_names(const struct pest_span *span, const char *species)
{
	return has_word(span->hosts, species);
}

bool pest_shows_in(const struct pest_row *pest, const char *species, int32_t month)
{
	bool own = false;
	for (int32_t i = 0; i < pest->span_count; i++)
		own = own || span_names(&pest->spans[i], species);
	for (int32_t i = 0; i < pest->span_count; i++) {
		const struct pest_span *span = &pest->spans[i];
		bool holds = own ? span_names(span, species) : span->hosts[0] == '\0';
		if (!holds || span->enters)
			continue;
		if (span->from_month <= span->to_month
				? month >= span->from_month && month <= span->to_month
				: month >= span->from_month || month <= span->to_month)
			return true;
	}
	return false;
}

const char *pest_first_source(const struct pest_row *pest)
{
	return (pest->read & CELL_FIRST) != 0 ? pest->sources[0] : "ours";
}

/* --- names --- */

/* Letters, digits and the bytes of other letters part no words. */
static bool is_inside(char byte)
{
	unsigned char code = (unsigned char)byte;
	return (code >= 'a' && code <= 'z') || (code >= '0' && code <= '9') || code >= 0x80;
}

/* "no scab, aphids or mites": the grower says that none of it is there, up to a "but". */
static bool is_denied(const char *words, const char *at)
{
	static const char *const denials[] = {
		"no", "not", "without", "free of", "none", "never", "isn't", "nothing"};
	for (size_t i = 0; i < sizeof denials / sizeof denials[0]; i++) {
		size_t length = strlen(denials[i]);
		for (const char *word = words;
			(word = strstr(word, denials[i])) != NULL && word < at; word++) {
			const char *but = strstr(word, " but ");
			if ((word == words || !is_inside(word[-1])) && word[length] == ' ' &&
				(but == NULL || but >= at))
				return true;
		}
	}
	return false;
}

/* Does the name stand in the folded words as whole words, not denied unless that is asked for? */
static bool stands_in(const char *words, const char *name, bool denied_too)
{
	size_t length = strlen(name);
	for (const char *at = words; (at = strstr(at, name)) != NULL; at++)
		if ((at == words || !is_inside(at[-1])) && !is_inside(at[length]) &&
			(denied_too || !is_denied(words, at)))
			return true;
	return false;
}

/* The length of the longest name of the pest that stands in the words; 0 none. */
static size_t longest_name(const struct pest_row *pest, const char *words)
{
	size_t longest = 0;
	for (int32_t i = 0; i < pest->name_count; i++) {
		size_t length = strlen(pest->names[i]);
		if (length > longest && stands_in(words, pest->names[i], false))
			longest = length;
	}
	return longest;
}

bool pest_is_spoken_of(const struct pest_row *pest, const char *words)
{
	char folded[TEXT_SIZE * 3];
	text_fold(words, folded, sizeof folded);
	for (int32_t i = 0; i < pest->name_count; i++)
		if (stands_in(folded, pest->names[i], true))
			return true;
	return false;
}

/* What fits best so far; `longest` is the length of its name. */
struct fits {
	const struct pest_row **out;
	int32_t max;
	int32_t count;
	size_t longest;
};

static void try_pest(struct fits *fits, const struct pest_row *pest, const char *folded)
{
	size_t length = longest_name(pest, folded);
	if (length == 0 || length < fits->longest)
		return;
	if (length > fits->longest)
		fits->count = 0;
	fits->longest = length;
	if (fits->count < fits->max)
		fits->out[fits->count] = pest;
	fits->count++;
}

int32_t species_find_pests(
	const struct species *species, const char *words, const struct pest_row **out, int32_t max)
{
	char folded[TEXT_SIZE * 3];
	struct fits fits = {.out = out, .max = max};
	text_fold(words, folded, sizeof folded);
	for (int32_t i = 0; i < species->pest_count; i++)
		try_pest(&fits, species->pests[i], folded);
	return fits.count;
}

int32_t almanac_find_pests(const struct almanac *almanac, const char *species, const char *words,
	const struct pest_row **out, int32_t max)
{
	char folded[TEXT_SIZE * 3];
	struct fits fits = {.out = out, .max = max};
	text_fold(words, folded, sizeof folded);
	for (int32_t i = 0; i < almanac->pest_count; i++)
		if (species == NULL || pest_is_on(&almanac->pests[i], species))
			try_pest(&fits, &almanac->pests[i], folded);
	return fits.count;
}

const struct pest_row *species_pest_named(const struct species *species, const char *words)
{
	const struct pest_row *fits[1];
	return species_find_pests(species, words, fits, 1) == 1 ? fits[0] : NULL;
}

const struct pest_row *species_pest_meant(const struct species *species, const char *words)
{
	const struct pest_row *pest = species_pest_named(species, words);
	struct pest_row alone;
	if (pest == NULL)
		return NULL;
	alone = *pest;
	alone.name_count = 1; /* its own name stands first */
	return pest_is_spoken_of(&alone, words) ? NULL : pest;
}

const struct pest_row *almanac_pest_named(
	const struct almanac *almanac, const char *species, const char *words)
{
	const struct pest_row *fits[1];
	return almanac_find_pests(almanac, species, words, fits, 1) == 1 ? fits[0] : NULL;
}
