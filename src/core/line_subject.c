/* SPDX-License-Identifier: MIT */
/* The verb and whom the line is for. Every whole word that is a verb is tried; the text before it
 * must name something. Exact beats short, the longest exact wins, two that fit are asked. */
#include <string.h>

#include "core/line_parts.h"

/* One place where the line could be cut into subject and work. */
struct candidate {
	size_t verb_at;
	size_t verb_length;
	size_t items_at; /* where the items begin */
	enum entry_kind kind;
	bool planned;
	size_t label_to; /* the subject is text[0..label_to) */
	bool found;
	bool is_exact;
	struct subject subject;
	struct maybe_date planted;
	enum batch batch;
	char batch_name[NAME_SIZE];
	char batch_title[NAME_SIZE];
	int32_t fits; /* how many names the text fits: more than one is asked */
	char other[LABEL_SIZE];
	bool was_short; /* fits as a short form where none is taken */
};

/* Words between label and verb that belong to the work: "A3 full bloom", "hard frost". */
static const char *lead_words(enum entry_kind kind, const char *verb)
{
	if (kind == KIND_MEASURE && plain_word(verb, "union") > 0)
		return "graft the";
	if (kind == KIND_STAGE)
		return "in full first at early late peak is now was starting start end of out "
		       "finished over just fruit leaf green white";
	if (kind == KIND_WEATHER)
		return "hard light heavy killing late early black ground first last severe "
		       "slight trace";
	if (kind == KIND_SAW || kind == KIND_PICK)
		return "have i we just";
	return NULL;
}

/* Is text[0..length) one of the words? What follows it does not matter. */
static bool is_one_of(const char *low, size_t length, const char *words)
{
	char word[64];
	if (length == 0 || !text_copy_n(word, sizeof(word), low, length))
		return false;
	return plain_word_of(word, words) == length;
}

/* "10%" before "bloom". */
static bool ends_with_share(const char *low, size_t length, size_t *start)
{
	size_t at = length;
	while (at > 0 && low[at - 1] != ' ')
		at--;
	size_t digits = strspn(low + at, "0123456789");
	*start = at;
	return digits > 0 && at > 0 && at + digits + 1 == length && low[length - 1] == '%';
}

static bool ends_with_word(const char *low, size_t length, const char *words, size_t *start)
{
	size_t at = length;
	while (at > 0 && low[at - 1] != ' ')
		at--;
	*start = at;
	return is_one_of(low + at, length - at, words);
}

static size_t trim(const char *low, size_t length)
{
	while (length > 0 && strchr(" ,:", low[length - 1]) != NULL)
		length--;
	return length;
}

/* A cut kind before the verb: "A3 shape cut 20%". */
static bool ends_with_cut_kind(const char *low, size_t length, size_t *start)
{
	for (int kind = CUT_UNSAID + 1; kind < CUT_TOTAL; kind++) {
		const char *words = cut_kind_row((enum cut_kind)kind)->words;
		if (ends_with_word(low, length, words, start))
			return true;
		/* "summer tip": two words */
		size_t first = *start > 0 ? *start - 1 : 0;
		while (first > 0 && low[first - 1] != ' ')
			first--;
		if (first < *start && is_one_of(low + first, length - first, words)) {
			*start = first;
			return true;
		}
	}
	return false;
}

static void take_match(
	struct candidate *candidate, enum subject_kind kind, const struct name_match *match)
{
	candidate->found = true;
	candidate->is_exact = match->is_exact;
	candidate->subject.kind = kind;
	text_copy(candidate->subject.id, sizeof(candidate->subject.id), match->id);
	text_copy(candidate->subject.label, sizeof(candidate->subject.label), match->label);
	candidate->planted = match->is_gone ? (struct maybe_date){.known = false} : match->planted;
}

/* Best of several: exact before short, standing before gone. Says how many are equally good. */
static void choose_match(struct line_work *work, struct candidate *candidate,
	enum subject_kind kind, const struct name_match *matches, int32_t count)
{
	const struct name_match *best = NULL;
	for (int32_t i = 0; i < count; i++) {
		const struct name_match *match = &matches[i];
		if (!match->is_exact && !work->context->short_labels) {
			candidate->was_short = true;
			text_copy(candidate->other, sizeof(candidate->other), match->label);
			continue;
		}
		int rank = match->is_exact * 2 + !match->is_gone;
		int best_rank = best == NULL ? -1 : best->is_exact * 2 + !best->is_gone;
		if (rank > best_rank) {
			best = match;
			candidate->fits = 1;
		} else if (rank == best_rank) {
			candidate->fits++;
			text_copy(candidate->other, sizeof(candidate->other), match->label);
		}
	}
	if (best != NULL)
		take_match(candidate, kind, best);
}

static void find_named(struct line_work *work, struct candidate *candidate, enum name_class class,
	enum subject_kind kind, size_t from, size_t to)
{
	struct name_match matches[MATCHES_MAX];
	if (to > from + 1 && work->text[from] == '"' && work->text[to - 1] == '"') {
		from++;
		to--;
	}
	int32_t count = line_find(work, class, from, to, matches, MATCHES_MAX);
	choose_match(work, candidate, kind, matches, count);
}

/* "all", "all trees", "all figs", "all in AREA". */
static void find_batch(struct line_work *work, struct candidate *candidate, size_t to)
{
	struct name_match match;
	size_t from = strlen("all") + (to > strlen("all"));
	const char *low = work->low + from;
	candidate->is_exact = true;
	if (from >= to || plain_word_of(low, "trees the_trees of_them") == to - from) {
		candidate->batch = BATCH_ALL;
		text_copy(candidate->batch_title, sizeof(candidate->batch_title), "trees");
		candidate->found = true;
		return;
	}
	size_t in = plain_word_of(low, "in trees_in");
	enum name_class class = in > 0 ? NAME_AREA : NAME_KIND;
	from += in + (in > 0);
	int32_t count = line_find(work, class, from, to, &match, 1);
	if (count < 1 && in == 0 && work->low[to - 1] == 's')
		count = line_find(work, class, from, to - 1, &match, 1);
	if (count < 1)
		return;
	candidate->found = true;
	candidate->batch = in > 0 ? BATCH_ALL_AREA : BATCH_ALL_KIND;
	text_copy(candidate->batch_name, sizeof(candidate->batch_name), match.id);
	text_copy_n(candidate->batch_title, sizeof(candidate->batch_title), work->text + from,
		to - from);
}

static void find_own_label(struct line_work *work, struct candidate *candidate)
{
	struct name_match matches[MATCHES_MAX];
	const struct line_names *names = &work->context->names;
	const char *label = work->context->label;
	int32_t count = names->find == NULL ? 0
					    : names->find(names->owner, NAME_TREE, label,
						      strlen(label), matches, MATCHES_MAX);
	choose_match(work, candidate, SUBJECT_TREE, matches, count);
}

/* Whom text[0..to) names. */
static void find_subject(struct line_work *work, struct candidate *candidate, size_t to)
{
	const char *low = work->low;
	candidate->label_to = to;
	candidate->found = false;
	candidate->was_short = false;
	candidate->fits = 0;
	if (to == 0 && work->context->label != NULL) {
		find_own_label(work, candidate);
	} else if (to == 0) {
		candidate->found = candidate->kind == KIND_WEATHER;
		candidate->is_exact = candidate->found;
		candidate->subject.kind = SUBJECT_PLACE;
		text_copy(candidate->subject.label, sizeof(candidate->subject.label), "place");
	} else if (plain_word(low, "all") > 0) {
		find_batch(work, candidate, to);
	} else if (plain_word(low, "spot") > 0 && to > 5) {
		find_named(work, candidate, NAME_SPOT, SUBJECT_SPOT, 5, to);
	} else if (plain_word(low, "area") > 0 && to > 5) {
		find_named(work, candidate, NAME_AREA, SUBJECT_AREA, 5, to);
	} else {
		size_t graft = plain_word(low, "graft") > 0 && to > 6 ? 6 : 0;
		if (graft > 0)
			find_named(work, candidate, NAME_GRAFT, SUBJECT_TREE, graft, to);
		if (!candidate->found)
			find_named(work, candidate, NAME_TREE, SUBJECT_TREE, graft, to);
	}
}

/* The whole prefix may be an amount before a weather word: `1/2" rain`. */
static bool is_amount(struct line_work *work, size_t to)
{
	struct amount amount;
	char *text = arena_text_n(work->arena, work->text, to);
	return amount_parse(text, DIMENSION_NONE, NULL, &work->context->numbers, &amount, NULL) ==
	       STATUS_OK;
}

/* Tries the prefix as it is, then without "plan", then without the words that lead to the verb. */
static void resolve(struct line_work *work, struct candidate *candidate)
{
	size_t to = trim(work->low, candidate->verb_at);
	size_t start = 0;
	find_subject(work, candidate, to);
	if (candidate->found && candidate->is_exact)
		return;
	if (ends_with_word(work->low, to, "plan planned plans", &start)) {
		struct candidate whole = *candidate;
		candidate->planned = true;
		to = trim(work->low, start);
		find_subject(work, candidate, to);
		if (!candidate->found && whole.found)
			*candidate = whole;
		if (candidate->found)
			return;
	}
	const char *leads = lead_words(candidate->kind, work->low + candidate->verb_at);
	bool cut = candidate->kind == KIND_CUT;
	while (!candidate->found && to > 0 &&
		((leads != NULL && ends_with_word(work->low, to, leads, &start)) ||
			(cut && ends_with_cut_kind(work->low, to, &start)) ||
			(candidate->kind == KIND_STAGE &&
				ends_with_share(work->low, to, &start)))) {
		candidate->items_at = start;
		to = trim(work->low, start);
		find_subject(work, candidate, to);
	}
	if (!candidate->found && to > 0 && candidate->kind == KIND_WEATHER && is_amount(work, to)) {
		candidate->items_at = 0;
		find_subject(work, candidate, 0);
	}
}

/* Kinds whose verb is itself a word of the work: "girth 41 cm", "bloom", "dropped 20 fruit". */
bool line_verb_speaks(enum entry_kind kind, const char *low)
{
	return kind == KIND_MEASURE || kind == KIND_STAGE || kind == KIND_WEATHER ||
	       kind == KIND_LOSS ||
	       (kind == KIND_CUT && plain_word_of(low, "headed topped pinched") > 0);
}

static bool next_verb(struct line_work *work, size_t *at, struct candidate *candidate)
{
	const char *low = work->low;
	while (*at < work->end) {
		size_t from = *at;
		size_t length = strspn(low + from, "abcdefghijklmnopqrstuvwxyz");
		bool whole = length > 0 && length < KEY_SIZE &&
			     strchr(" ,:.(+", low[from + length]) != NULL;
		char word[KEY_SIZE] = "";
		if (whole)
			memcpy(word, low + from, length);
		enum entry_kind kind = kind_of_verb(word);
		size_t blank = strcspn(low + from, " ,:");
		*at = from + blank + strspn(low + from + blank, " ,:");
		if (kind == KIND_TOTAL)
			continue;
		*candidate = (struct candidate){.verb_at = from,
			.verb_length = length,
			.items_at = line_verb_speaks(kind, low + from) ? from : from + length,
			.kind = kind};
		return true;
	}
	return false;
}

static bool is_better(const struct candidate *one, const struct candidate *best)
{
	if (best == NULL || one->is_exact != best->is_exact)
		return best == NULL || one->is_exact;
	if (one->label_to != best->label_to)
		return one->label_to > best->label_to;
	/* The same label: the later verb, when what lies between belongs to it. */
	return one->verb_at > best->verb_at;
}

static enum status ask_two(struct line_work *work, const char *one, const char *two)
{
	return line_fail(work, STATUS_DOUBT, 0,
		"the line could be for '%s' or for '%s': write the whole label, in quotes if it "
		"holds a verb",
		one, two);
}

static void accept(struct line_work *work, const struct candidate *best)
{
	struct reading *out = work->out;
	work->verb_at = best->verb_at;
	work->verb_length = best->verb_length;
	work->kind = best->kind;
	work->row = kind_row(best->kind);
	work->at = best->items_at;
	work->planned = work->planned || best->planned;
	work->planted = best->planted;
	out->draft.kind = best->kind;
	out->draft.subject = best->subject;
	out->batch = best->batch;
	text_copy(out->batch_name, sizeof(out->batch_name), best->batch_name);
	text_copy(out->batch_title, sizeof(out->batch_title), best->batch_title);
}

/* "p 6 lb" where the screen stands at a tree. */
static bool read_letter(struct line_work *work)
{
	size_t plan = plain_word(work->low, "plan");
	size_t at = plan + (plan > 0);
	bool alone = plain_is_letter(work->low[at]) &&
		     (work->low[at + 1] == ' ' || work->low[at + 1] == '\0');
	for (int kind = 0; alone && kind < KIND_TOTAL; kind++) {
		if (kind_row((enum entry_kind)kind)->letter != work->low[at])
			continue;
		struct candidate candidate = {.verb_at = at,
			.verb_length = 1,
			.items_at = at + 1,
			.kind = (enum entry_kind)kind,
			.planned = plan > 0};
		find_own_label(work, &candidate);
		if (candidate.found)
			accept(work, &candidate);
		return candidate.found;
	}
	return false;
}

static enum status refuse_subject(struct line_work *work, const struct candidate *nearest)
{
	if (nearest == NULL && plain_word(work->low, "zone") > 0)
		return line_fail(work, STATUS_DOUBT, 0,
			"'%.40s' of which scheme? several share numbers: keep it as a note, after "
			"';', with the scheme's name",
			work->text);
	if (nearest == NULL)
		return line_fail(work, STATUS_SYNTAX, 0,
			"no word here says what was done: after the label comes picked, cut, fed, "
			"watered, girth, stage, saw, note ... (see boughbook-entry(5))");
	int length = (int)nearest->label_to;
	if (nearest->fits > 1)
		return ask_two(work, nearest->subject.label, nearest->other);
	if (nearest->was_short)
		return line_fail(work, STATUS_ABSENT, 0,
			"no tree is called '%.*s': write '%s' whole (short labels are taken on the "
			"screens and with --short)",
			length, work->text, nearest->other);
	if (length == 0)
		return line_fail(work, STATUS_SYNTAX, nearest->verb_at,
			"'%.*s' stands first: whom is it for? a label goes before it, as A3 %.*s; "
			"only weather is of the whole place",
			(int)nearest->verb_length, work->text + nearest->verb_at,
			(int)nearest->verb_length, work->text + nearest->verb_at);
	return line_fail(work, STATUS_ABSENT, 0,
		"nothing is called '%.*s': a line starts with the label of a tree, or with spot, "
		"area or all",
		length < 60 ? length : 60, work->text);
}

enum status line_read_subject(struct line_work *work)
{
	struct candidate candidate;
	struct candidate best = {.found = false};
	struct candidate first = {.found = false};
	bool any = false;
	bool two = false;
	size_t quoted = work->text[0] == '"' ? strcspn(work->text + 1, "\"") : 0;
	for (size_t at = quoted; next_verb(work, &at, &candidate);) {
		resolve(work, &candidate);
		bool own = work->context->label != NULL && candidate.label_to == 0;
		if (candidate.found && candidate.fits <= 1) {
			bool same =
				best.found && strcmp(best.subject.id, candidate.subject.id) == 0;
			two = best.found && !best.is_exact && !candidate.is_exact && !same;
			if (two)
				return ask_two(work, best.subject.label, candidate.subject.label);
			if (!best.found || is_better(&candidate, &best))
				best = candidate;
			if (own)
				break;
		} else if (!any || (first.fits < 2 && candidate.fits > 1)) {
			first = candidate;
			any = true;
		}
	}
	/* A letter stands for its verb, unless it is the whole label of another tree. */
	bool other = best.found && best.is_exact && best.label_to > 0;
	if (work->context->label != NULL && !other && read_letter(work))
		return STATUS_OK;
	if (!best.found)
		return refuse_subject(work, any ? &first : NULL);
	if (!best.is_exact && any && first.fits > 1)
		return ask_two(work, first.subject.label, first.other);
	accept(work, &best);
	return STATUS_OK;
}

enum status label_check(const char *text, struct fault *why)
{
	const char *const leads[] = {"all", "spot", "area", "graft"};
	struct plain plain;
	if (strlen(text) >= LABEL_SIZE || text_count_characters(text) > LABEL_CHARACTERS_MAX)
		return fault_set(why, STATUS_RANGE,
			"a label has at most %d characters; this one has %zu", LABEL_CHARACTERS_MAX,
			text_count_characters(text));
	if (plain_make(text, PLAIN_SIZE, &plain, why) != STATUS_OK)
		return fault_set(why, STATUS_RANGE,
			"a label is plain text, with no tabs, line ends or other control "
			"characters");
	if (plain.length == 0)
		return fault_set(
			why, STATUS_RANGE, "a label is not blank: write one, as A3 or fig by gate");
	const char *odd = strpbrk(text, ";@\"\t");
	if (odd != NULL && *odd == '\t')
		return fault_set(why, STATUS_RANGE, "a label holds no tab");
	if (odd != NULL)
		return fault_set(why, STATUS_RANGE,
			"'%.60s' holds '%c': a label has no ; no @ and no \"", text, *odd);
	for (size_t i = 0; i < sizeof(leads) / sizeof(leads[0]); i++) {
		size_t used = plain_word(plain.low, leads[i]);
		if (used > 0 && (plain.low[used] == ' ' || plain.low[used] == '\0'))
			return fault_set(why, STATUS_RANGE,
				"'%.60s' starts with '%s ', which the entry line uses itself", text,
				leads[i]);
	}
	return STATUS_OK;
}
