/* SPDX-License-Identifier: MIT */
/* What the grower's own words tell, phrase by phrase. */
#include <string.h>

#include "core/text.h"
#include "tells.h"

enum { TOLD_SIZE = 2048, PHRASE_SIZE = 64 };

static bool is_digits(const char *word, size_t length)
{
	return strspn(word, "0123456789.,/-") >= length;
}

/* Folded words parted by single blanks, one before the first and one after the last; figures and
 * signs are left out: "took 12 seeds" tells that seeds were taken. */
static void put_words(const char *text, struct text_builder *out)
{
	static const char breaks[] = " \t\n.,;:!?()\"/-";
	char folded[TOLD_SIZE];

	text_fold(text, folded, sizeof folded);
	for (const char *at = folded; *at != '\0';) {
		size_t length = strcspn(at, breaks);

		if (length > 0 && !is_digits(at, length)) {
			text_add_n(out, at, length);
			text_add(out, " ");
		}
		at += length + strspn(at + length, breaks);
	}
}

/* Written as put_words would write it. */
static bool is_plain(const char *phrase)
{
	return phrase[strspn(phrase, " abcdefghijklmnopqrstuvwxyz")] == '\0' &&
	       strstr(phrase, "  ") == NULL;
}

static bool holds(const char *told, const char *phrase)
{
	char wanted[LABEL_SIZE + 2];
	struct text_builder words = text_builder_fixed(wanted, sizeof wanted);

	text_add(&words, " ");
	if (is_plain(phrase)) {
		text_add(&words, phrase);
		text_add(&words, " ");
	} else {
		put_words(phrase, &words);
	}
	return words.length > 1 && strstr(told, wanted) != NULL;
}

static bool tell_words(const struct entry *entry, struct text_builder *told)
{
	text_add(told, " ");
	for (int32_t i = 0; i < entry->detail_count; i++)
		put_words(entry->details[i].text, told);
	if (entry->note != NULL)
		put_words(entry->note, told);
	return told->length > 1;
}

static uint32_t letter_bit(char letter)
{
	return letter >= 'a' && letter <= 'z' ? UINT32_C(1) << (letter - 'a') : 0;
}

/* The letters that words begin with: of many phrases most are out by their first. */
static uint32_t first_letters(const char *told)
{
	uint32_t letters = 0;

	for (; *told != '\0'; told++)
		letters |= *told == ' ' ? letter_bit(told[1]) : 0;
	return letters;
}

static bool tells_one_of(const char *told, const char *phrases)
{
	char phrase[PHRASE_SIZE];
	uint32_t letters = first_letters(told);

	for (const char *at = phrases; *at != '\0';) {
		size_t length = strcspn(at, "|");
		uint32_t first = letter_bit(*at);

		text_copy_n(phrase, sizeof phrase, at, length);
		if ((first & letters) == first && holds(told, phrase))
			return true;
		at += length + (at[length] == '|' ? 1 : 0);
	}
	return false;
}

bool look_tells(const struct entry *entry, const char *phrases)
{
	char text[TOLD_SIZE];
	struct text_builder told = text_builder_fixed(text, sizeof text);

	return tell_words(entry, &told) && tells_one_of(text, phrases);
}

bool look_text_tells(const char *words, const char *phrases)
{
	char text[TOLD_SIZE];
	struct text_builder told = text_builder_fixed(text, sizeof text);

	text_add(&told, " ");
	put_words(words, &told);
	return tells_one_of(text, phrases);
}

bool look_names(const struct entry *entry, const char *name)
{
	char text[TOLD_SIZE];
	struct text_builder told = text_builder_fixed(text, sizeof text);

	return tell_words(entry, &told) && holds(text, name);
}
