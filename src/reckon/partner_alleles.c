/* SPDX-License-Identifier: MIT */
#include "partner_alleles.h"

#include <stdio.h>
#include <string.h>

enum { ALLELES_MAX = 6, ALLELE_SIZE = 12 };

struct allele {
	char name[ALLELE_SIZE];
	char mark; /* ' ~ * or 0 */
};

struct allele_list {
	struct allele items[ALLELES_MAX];
	int32_t count;
};

static struct allele_list read_list(const char *text)
{
	struct allele_list list = {.count = 0};
	while (*text != '\0' && list.count < ALLELES_MAX) {
		size_t length = strcspn(text, " ");
		struct allele *allele = &list.items[list.count++];
		size_t body = strcspn(text, " '~*");
		size_t kept = body < ALLELE_SIZE ? body : ALLELE_SIZE - 1;
		memcpy(allele->name, text, kept);
		allele->name[kept] = '\0';
		allele->mark = body < length ? text[body] : '\0';
		text += length;
		text += strspn(text, " ");
	}
	return list;
}

static bool is_stopped(const struct allele *grain, const struct allele_list *pistil)
{
	if (grain->mark == '\'')
		return false;
	for (int32_t i = 0; i < pistil->count; i++)
		if (strcmp(pistil->items[i].name, grain->name) == 0 &&
			pistil->items[i].mark != '~' && pistil->items[i].mark != '*')
			return true;
	return false;
}

static void add_name(char *out, size_t size, const struct allele *allele)
{
	size_t used = strlen(out);
	snprintf(out + used, size - used, "%s%s%.1s", used == 0 ? "" : " and ", allele->name,
		allele->mark == '\0' ? "" : &allele->mark);
}

struct alleles_passing alleles_pass(const char *giver, const char *taker)
{
	struct allele_list grains = read_list(giver);
	struct allele_list pistil = read_list(taker);
	struct alleles_passing passing = {.answer = PARTNER_NOT_KNOWN};
	char stopped[40] = "";
	char passed[40] = "";

	for (int32_t i = 0; i < grains.count; i++)
		if (is_stopped(&grains.items[i], &pistil))
			add_name(stopped, sizeof stopped, &grains.items[i]);
		else
			add_name(passed, sizeof passed, &grains.items[i]);
	if (passed[0] == '\0')
		passing.answer = PARTNER_NO;
	else
		passing.answer = stopped[0] == '\0' ? PARTNER_YES : PARTNER_PARTLY;
	if (passing.answer == PARTNER_NO)
		snprintf(passing.words, sizeof passing.words, "%s stopped: the other carries %s",
			stopped, taker);
	else if (passing.answer == PARTNER_YES)
		snprintf(passing.words, sizeof passing.words, "%s pass against %s", passed, taker);
	else
		snprintf(passing.words, sizeof passing.words, "%s is stopped, %s passes", stopped,
			passed);
	return passing;
}

struct alleles_passing alleles_shown_pass(const char *shows, const char *giver, const char *taker)
{
	struct allele_list shown = read_list(shows[0] != '\0' ? shows : giver);
	struct allele_list pistil = read_list(taker);
	struct alleles_passing passing = {.answer = PARTNER_NOT_KNOWN};
	int32_t stopped = 0;

	for (int32_t i = 0; i < shown.count; i++)
		stopped += is_stopped(&shown.items[i], &pistil);
	if (stopped == 0) {
		passing.answer = PARTNER_YES;
		snprintf(passing.words, sizeof passing.words,
			"its pollen shows %s, and the pistil %s has none of it",
			shows[0] != '\0' ? shows : giver, taker);
	} else if (shows[0] != '\0' || stopped == shown.count) {
		passing.answer = PARTNER_NO;
		snprintf(passing.words, sizeof passing.words,
			"its pollen shows %s, and the pistil carries %s",
			shows[0] != '\0' ? shows : giver, taker);
	} else {
		snprintf(passing.words, sizeof passing.words,
			"which of %s its pollen shows is not on record", giver);
	}
	return passing;
}
