/* SPDX-License-Identifier: MIT */
#include "core/name_guess.h"

#include <stdlib.h>
#include <string.h>

#include "core/plain.h"
#include "core/text.h"

/* One name out of the raw text, without a '?' that marks it. */
static bool add_name(struct name_guess *guess, const char *text, size_t length)
{
	while (length > 0 && text[0] == ' ') {
		text++;
		length--;
	}
	while (length > 0 && text[length - 1] == ' ')
		length--;
	while (length > 0 && text[length - 1] == '?') {
		length--;
		guess->sure = SURE_CANDIDATE;
	}
	if (length == 0)
		return true;
	return guess->count < GUESSES_MAX &&
	       text_copy_n(guess->names[guess->count++], NAME_SIZE, text, length);
}

/* Where " or " stands in text[from..to), in the plain text; to when it does not. */
static size_t find_or(const struct plain *plain, size_t from, size_t to)
{
	for (size_t at = from; at + 4 <= to; at++) {
		if (strncmp(plain->low + at, " or ", 4) == 0)
			return at;
	}
	return to;
}

static enum status split_names(const char *text, const struct plain *plain, size_t from, size_t to,
	struct name_guess *guess, struct fault *why)
{
	while (from < to) {
		size_t end = find_or(plain, from, to);
		size_t first = plain->at[from];
		size_t last = plain->at[end];
		if (!add_name(guess, text + first, last - first))
			return fault_set(why, STATUS_RANGE,
				"'%.60s' holds more than %d names, or one that is too long", text,
				GUESSES_MAX);
		from = end < to ? end + 4 : to;
	}
	if (guess->count > 1)
		guess->sure = SURE_CANDIDATE;
	return STATUS_OK;
}

/* "2 in 1 hole: ...", "3-in-1 pear + ...". */
static enum status ask_several(const char *text, const char *low, struct fault *why)
{
	size_t digits = strspn(low, "0123456789");
	const char *rest = low + digits;
	bool grafts = digits > 0 && strncmp(rest, "-in-1", 5) == 0;
	bool trees = digits > 0 && (strncmp(rest, " in 1 hole", 10) == 0 ||
					   strncmp(rest, " in one hole", 12) == 0);
	long count = strtol(low, NULL, 10);
	if (trees)
		return fault_set(why, STATUS_DOUBT,
			"'%.60s': %s trees in one spot are added one by one, each with its own "
			"label "
			"and the same --spot",
			text, count == 2 ? "two" : "several");
	if (grafts)
		return fault_set(why, STATUS_DOUBT,
			"'%.60s': one tree with %ld grafts: add the tree, then each graft with "
			"--host; "
			"a shoot of unknown kind is most likely the rootstock's",
			text, count);
	if (plain_word_of(low, "none nil unnamed n/a na") == strlen(low) || strcmp(low, "n/a") == 0)
		return fault_set(why, STATUS_DOUBT,
			"'%.60s': is that the name? write unknown when it is not known, or leave "
			"it "
			"out",
			text);
	return STATUS_OK;
}

static enum status ask_two_kinds(
	const char *text, const struct line_names *names, struct fault *why)
{
	struct name_match matches[2];
	if (names == NULL || names->find == NULL)
		return STATUS_OK;
	int32_t count = names->find(names->owner, NAME_KIND, text, strlen(text), matches, 2);
	if (count < 2)
		return STATUS_OK;
	return fault_set(why, STATUS_DOUBT, "'%.60s' is said of %.60s or %.60s: which one is it?",
		text, matches[0].label, matches[1].label);
}

enum status name_guess_read(
	const char *text, const struct line_names *names, struct name_guess *out, struct fault *why)
{
	struct plain plain;
	struct name_guess guess = {.sure = SURE_CERTAIN};
	enum status status = plain_make(text, PLAIN_SIZE, &plain, why);
	if (status != STATUS_OK)
		return status;
	if (plain.length == 0)
		return fault_set(why, STATUS_SYNTAX, "a name is not blank");
	status = ask_several(text, plain.low, why);
	if (status == STATUS_OK)
		status = ask_two_kinds(text, names, why);
	if (status != STATUS_OK)
		return status;
	size_t unknown = plain_word_of(plain.low, "unknown unlabelled unlabeled mystery no_label");
	const char *open = strchr(plain.text, '(');
	const char *close = open == NULL ? NULL : strchr(open, ')');
	if (unknown > 0 && close == NULL) {
		*out = (struct name_guess){.sure = SURE_UNKNOWN};
		return STATUS_OK;
	}
	size_t from = unknown > 0 ? (size_t)(open - plain.text) + 1 : 0;
	size_t to = unknown > 0 ? (size_t)(close - plain.text) : plain.length;
	status = split_names(text, &plain, from, to, &guess, why);
	if (status == STATUS_OK && unknown > 0)
		guess.sure = SURE_CANDIDATE;
	if (status == STATUS_OK)
		*out = guess;
	return status;
}
