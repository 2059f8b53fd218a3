/* SPDX-License-Identifier: MIT */
#include "reckon/bloom.h"

#include <string.h>

#include "core/text.h"

static bool has_any(const char *folded, const char *const *parts, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (strstr(folded, parts[i]) != NULL)
			return true;
	return false;
}
#define HAS_ANY(folded, parts) has_any((folded), (parts), sizeof(parts) / sizeof((parts)[0]))

static bool is_one_of(const char *folded, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(folded, words[i]) == 0)
			return true;
	return false;
}
#define IS_ONE_OF(folded, words) is_one_of((folded), (words), sizeof(words) / sizeof((words)[0]))

static const char *const flowers[] = {"bloom", "blossom", "flower"};

/* Words that name open flowers, and words beside them that speak of another time. */
static bool words_say_bloom(const char *words)
{
	static const char *const no[] = {
		"bud", "before", "after", "end", "past", "pre-", "no ", "not ", "finished", "over"};
	char folded[TEXT_SIZE];

	text_fold(words, folded, sizeof folded);
	return !HAS_ANY(folded, no) && HAS_ANY(folded, flowers);
}

/* "bloom none" */
static bool says_none(const struct entry *entry)
{
	static const char *const none[] = {"none", "no", "nil", "zero", "not any", "nothing"};
	const struct amount *open = entry_amount(entry, FIELD_SHARE_OPEN);
	char folded[TEXT_SIZE];

	if (open != NULL && open->low.known && open->high.known && open->high.value == 0)
		return true;
	text_fold(entry_detail(entry, FIELD_WORDS), folded, sizeof folded);
	return IS_ONE_OF(folded, none);
}

static bool is_bloom_code(const struct entry *entry)
{
	const struct amount *stage = entry_amount(entry, FIELD_STAGE);

	if (stage == NULL || !stage->low.known)
		return false;
	int64_t code = stage->low.value;
	return (code >= 60 && code <= 69) || (code >= 600 && code <= 609);
}

/* Growth stages 60 to 69 of the BBCH scale are flowering; loquat's own scale has three digits
 * (Martinez-Calvo et al. 1999, Annals of Applied Biology 134: 353-357). */
bool bloom_is_seen(const struct entry *entry)
{
	if (entry->kind != KIND_STAGE || says_none(entry))
		return false;
	const struct amount *stage = entry_amount(entry, FIELD_STAGE);
	if (stage != NULL && stage->low.known)
		return is_bloom_code(entry);
	const struct amount *open = entry_amount(entry, FIELD_SHARE_OPEN);
	if (open != NULL && open->low.known && open->low.value > 0)
		return true;
	return words_say_bloom(entry_detail(entry, FIELD_STAGE_WORD));
}

bool bloom_is_denied(const struct entry *entry)
{
	static const char *const denied[] = {"no bloom", "no flower", "no blossom", "not a flower"};
	char folded[TEXT_SIZE];

	if (entry->kind == KIND_STAGE)
		return says_none(entry) &&
		       (is_bloom_code(entry) ||
			       words_say_bloom(entry_detail(entry, FIELD_STAGE_WORD)));
	if (entry->kind != KIND_SAW)
		return false;
	text_fold(entry_detail(entry, FIELD_SUBJECT_SEEN), folded, sizeof folded);
	return HAS_ANY(folded, denied);
}

static bool saw_set(const struct entry *entry)
{
	static const char *const set[] = {"set", "fruit set", "fruitset", "fruit", "fruits",
		"fruitlets", "young fruit", "crop", "load", "fruit load", "crop load"};
	char folded[TEXT_SIZE];

	text_fold(entry_detail(entry, FIELD_SUBJECT_SEEN), folded, sizeof folded);
	return entry->kind == KIND_SAW && IS_ONE_OF(folded, set);
}

/* Stages 71 to 79 are the growth of the fruit. */
static bool stage_set(const struct entry *entry)
{
	static const char *const set[] = {"set", "fruit set", "fruitset"};
	const struct amount *stage = entry_amount(entry, FIELD_STAGE);
	char folded[TEXT_SIZE];

	if (entry->kind != KIND_STAGE || says_none(entry))
		return false;
	if (stage != NULL && stage->low.known) {
		int64_t code = stage->low.value;
		return (code >= 71 && code <= 79) || (code >= 700 && code <= 709);
	}
	text_fold(entry_detail(entry, FIELD_STAGE_WORD), folded, sizeof folded);
	return IS_ONE_OF(folded, set);
}

bool bloom_has_set(const struct entry *entry)
{
	return stage_set(entry) || saw_set(entry) || bloom_set_heavily(entry);
}

bool bloom_set_heavily(const struct entry *entry)
{
	static const char *const heavy[] = {"heavy", "heavily", "very heavy", "too heavy"};
	static const char *const said[] = {"heavy set", "set heavy", "heavy crop", "too many fruit",
		"too much fruit", "overload", "over-load", "limbs bend", "branches bend"};
	char folded[TEXT_SIZE];

	if (entry->kind != KIND_SAW && entry->kind != KIND_STAGE)
		return false;
	bool saw = entry->kind == KIND_SAW;
	text_fold(
		entry_detail(entry, saw ? FIELD_SUBJECT_SEEN : FIELD_WORDS), folded, sizeof folded);
	if (HAS_ANY(folded, said))
		return true;
	text_fold(entry_detail(entry, saw ? FIELD_SEVERITY : FIELD_WORDS), folded, sizeof folded);
	return (saw_set(entry) || stage_set(entry)) && IS_ONE_OF(folded, heavy);
}
