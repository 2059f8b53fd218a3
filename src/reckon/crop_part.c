/* SPDX-License-Identifier: MIT */
/* The two crops of a fig told apart. */
#include <string.h>

#include "reckon/crop.h"
#include "reckon/days.h"

static bool is_letter(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte & 0x80) != 0;
}

static char lower(char byte)
{
	return byte >= 'A' && byte <= 'Z' ? (char)(byte - 'A' + 'a') : byte;
}

/* Does the word stand in the text, whole, in any case? */
static bool has_word(const char *text, const char *word)
{
	size_t length = strlen(word);
	for (const char *at = text; at != NULL && *at != '\0'; at++) {
		size_t same = 0;
		if (at > text && is_letter(at[-1]))
			continue;
		while (same < length && lower(at[same]) == word[same])
			same++;
		if (same == length && !is_letter(at[length]))
			return true;
	}
	return false;
}

static bool says(const struct entry *entry, const char *const *words)
{
	for (; *words != NULL; words++)
		if (has_word(entry->words, *words) || has_word(entry->note, *words) ||
			has_word(entry_detail(entry, FIELD_GRADE), *words))
			return true;
	return false;
}

bool crop_main_opens(
	const struct species *species, const struct place *place, struct month_day *opens)
{
	const struct fact_row *fact =
		species == NULL ? NULL : species_fact(species, "harvest-main-opens");
	if (fact == NULL || !fact->low.known || fact->low.value < 1 || fact->low.value > 12 ||
		!window_place_has_dates(place))
		return false;
	*opens = window_turn(
		(struct month_day){.month = (int8_t)fact->low.value, .day = 1}, place->hemisphere);
	return true;
}

static enum crop_part part_on(
	struct date day, const struct season_rule *rule, struct month_day opens)
{
	bool early = circle_within(circle_of_date(day), circle_of(rule->turn), circle_of(opens));
	bool first = circle_of_date(day) == circle_of(opens);
	return early && !first ? CROP_BREBA : CROP_MAIN;
}

/* Example: north, main from 1 July: a pick of 30 June is breba, of 1 July main, of "June to July"
 * either. */
enum crop_part crop_part_of(
	const struct entry *entry, const struct season_rule *rule, struct month_day opens)
{
	static const char *const brebas[] = {"breba", "brebas", "breva", "brevas", NULL};
	static const char *const mains[] = {"main", NULL};
	bool breba = says(entry, brebas);
	bool main = says(entry, mains);
	if (breba != main)
		return breba ? CROP_BREBA : CROP_MAIN;
	if (breba || !entry->day.low.known || !entry->day.high.known)
		return CROP_ALL;
	enum crop_part part = part_on(entry->day.low.value, rule, opens);
	bool one = part == part_on(entry->day.high.value, rule, opens) &&
		   date_days_between(entry->day.low.value, entry->day.high.value) < 120;
	return one ? part : CROP_ALL;
}
