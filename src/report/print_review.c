/* SPDX-License-Identifier: MIT */
/* The review, what ask answers, and the rules. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"

static const char *const item_keys[] = {"tree", "rule", "urgency", "began", "window_from",
	"window_to", "says", "do", "source", "basis", "crop_at_risk_g", "crop_at_risk_low_g",
	"crop_at_risk_high_g", "seasons", "state", "entries", "evidence", NULL};

static void entry_ids(const struct flag *flag, char *out, size_t size)
{
	struct text_builder ids = text_builder_fixed(out, size);

	text_add(&ids, "");
	for (int32_t i = 0; i < flag->entry_count; i++)
		text_add_format(&ids, "%s%s", i > 0 ? " " : "", flag->entries[i]);
}

/* The lines of evidence as one field. */
static const char *evidence_text(const struct flag *flag, struct text_builder *text)
{
	text_add(text, "");
	for (int32_t i = 0; i < flag->evidence_count; i++)
		text_add_format(text, "%s%s", i > 0 ? " | " : "", flag->evidence[i]);
	return text->text;
}

static void item_row(
	struct rows *rows, const struct review_item *item, const struct almanac *almanac)
{
	const struct flag *flag = &item->flag;
	char ids[FLAG_ENTRIES_MAX * ID_SIZE + 1];
	char lines[FLAG_EVIDENCE_MAX * FLAG_SAYS_SIZE];
	struct text_builder evidence = text_builder_fixed(lines, sizeof lines);

	entry_ids(flag, ids, sizeof ids);
	rows_text(rows, flag->label);
	rows_text(rows, flag->rule);
	rows_text(rows, urgency_key(flag->urgency));
	rows_date(rows, flag->began);
	rows_date(rows, flag->window_from);
	rows_date(rows, flag->window_to);
	rows_text(rows, flag->says);
	rows_text(rows, flag->action);
	rows_text(rows, source_title(almanac, flag->source));
	rows_text(rows, flag->basis);
	rows_grams(rows, flag->crop_at_risk_mg);
	rows_grams(rows, flag->crop_at_risk_low_mg);
	rows_grams(rows, flag->crop_at_risk_high_mg);
	rows_i32(rows, flag->seasons);
	rows_text(rows, flag_state_key(item->state));
	rows_text(rows, ids);
	rows_text(rows, evidence_text(flag, &evidence));
}

static enum status item_rows(const struct printer *printer, const struct review_item *items,
	int32_t count, const struct almanac *almanac, struct fault *why)
{
	struct rows rows = rows_begin(printer, item_keys);

	for (int32_t i = 0; i < count; i++)
		item_row(&rows, &items[i], almanac);
	return rows_end(&rows, why);
}

static void say_state(const struct printer *printer, const struct review_item *item)
{
	char when[24];

	switch (item->state) {
	case FLAG_OPEN:
		if (item->times_put_off > 0)
			say_line(printer, "      put off %d time%s before this",
				item->times_put_off, item->times_put_off == 1 ? "" : "s");
		break;
	case FLAG_PUT_OFF:
		say_line(printer, "      put off until %s",
			item->until.known ? date_format_plain(item->until.value, when, sizeof when)
					  : "a day not known");
		break;
	case FLAG_SET_ASIDE:
		say_wrapped(printer, "      ", "set aside: %s", item->reason);
		break;
	case FLAG_LEFT:
		say_line(printer, "      left alone");
		break;
	}
}

static void say_item(const struct printer *printer, const struct review_item *item,
	const struct almanac *almanac, bool evidence)
{
	const struct flag *flag = &item->flag;
	char head[8], labels[TEXT_SIZE], words[FLAG_SAYS_SIZE + TEXT_SIZE];

	snprintf(head, sizeof head, "%-5s ", urgency_key(flag->urgency));
	if (item->group > 1)
		say_wrapped(printer, head, "%s  (%s, %d trees)",
			review_labels(item, labels, sizeof labels), flag->rule, item->group);
	else if (flag->label[0] != '\0')
		say_wrapped(printer, head, "%s  (%s)", flag->label, flag->rule);
	else
		say_wrapped(printer, head, "(%s)", flag->rule);
	say_wrapped(printer, "      ", "%s", review_words(item, flag->says, words, sizeof words));
	if (flag->action[0] != '\0')
		say_wrapped(printer, "      ", "Do: %s",
			review_words(item, flag->action, words, sizeof words));
	const char *source = source_title(almanac, flag->source);
	bool basis = flag->basis[0] != '\0' && strcmp(flag->basis, source) != 0;
	say_wrapped(printer, "      ", "Source: %s%s%s", source, basis ? "; " : "",
		basis ? flag->basis : "");
	for (int32_t i = 0; evidence && i < flag->evidence_count; i++)
		say_wrapped(printer, "      - ", "%s", flag->evidence[i]);
	say_state(printer, item);
}

/* Of many trees that read alike the first are named, about one line of them. */
enum { LABELS_BRIEF = 72 };

/* What is found, without what to do about it and why. */
static void say_brief(const struct printer *printer, const struct review_item *item)
{
	const struct flag *flag = &item->flag;
	char head[8], labels[LABELS_BRIEF], words[FLAG_SAYS_SIZE + TEXT_SIZE];

	snprintf(head, sizeof head, "%-5s ", urgency_key(flag->urgency));
	say_wrapped(printer, head, "%s%s%s (%s)", review_labels(item, labels, sizeof labels),
		flag->label[0] != '\0' ? ": " : "",
		review_words(item, flag->says, words, sizeof words), flag->rule);
	say_state(printer, item);
}

/* Where the whole yard is asked, the answer is to fit one screen: notes fold to one line but for a
 * few of them, and a longer list says what was found and leaves the rest to be asked for. */
enum { WHOLE_SHOWN = 3, SCREEN_LINES = 23, TEXT_COLUMNS = 70 };

static bool is_note(const struct review_item *item)
{
	return item->flag.urgency == URGENCY_NOTE && item->state == FLAG_OPEN;
}

static int32_t lines_of_text(size_t length)
{
	return (int32_t)((length + TEXT_COLUMNS - 1) / TEXT_COLUMNS);
}

/* About how many lines an item takes that is told whole. */
static int32_t lines_whole(const struct review_item *item, const struct almanac *almanac)
{
	const struct flag *flag = &item->flag;
	char labels[TEXT_SIZE];
	size_t head = strlen(review_labels(item, labels, sizeof labels)) + strlen(flag->rule);
	size_t source = strlen(source_title(almanac, flag->source)) + strlen(flag->basis);

	return lines_of_text(head + sizeof "  (, 10 trees)") + lines_of_text(strlen(flag->says)) +
	       lines_of_text(strlen(flag->action) + sizeof "Do: ") +
	       lines_of_text(source + sizeof "Source: ; ");
}

/* More than a few, or more lines than a screen has. */
static bool is_long(const struct review *review, const struct almanac *almanac)
{
	int32_t asking = 0, notes = 0, lines = 2; /* the day, the guidance */

	for (int32_t i = 0; i < review->count; i++) {
		const struct review_item *item = &review->items[i];

		if (item->group == 0)
			continue;
		if (is_note(item)) {
			notes += lines_of_text(strlen(item->flag.says) + LABEL_SIZE);
		} else {
			asking++;
			lines += lines_whole(item, almanac);
		}
	}
	lines += review->notes > REVIEW_NOTES_SHOWN ? 1 : notes;
	return asking > WHOLE_SHOWN || (asking > 1 && lines > SCREEN_LINES);
}

static void say_items(const struct printer *printer, const struct review *review,
	const struct yard *yard, bool all)
{
	bool fold = !all && review->notes > REVIEW_NOTES_SHOWN;
	bool brief = !all && is_long(review, yard_almanac(yard));
	bool folded = false;

	for (int32_t i = 0; i < review->count; i++) {
		const struct review_item *item = &review->items[i];
		bool note = is_note(item);

		if (note && fold && !folded)
			say_line(printer, "note  %d notes: \"review --all\" lists them",
				review->notes);
		folded = folded || (note && fold);
		if ((note && fold) || item->group == 0)
			continue;
		if (brief || (note && !all))
			say_brief(printer, item);
		else
			say_item(printer, item, yard_almanac(yard), all);
	}
	if (brief)
		say_line(printer, "What to do, why, by whose word: \"review --tree LABEL\" or "
				  "\"--all\".");
}

static void say_review(const struct printer *printer, const struct review *review,
	const struct yard *yard, bool all)
{
	char today[24];

	say_line(printer, "%s, %s", yard_place(yard)->name,
		date_format_plain(yard_today(yard), today, sizeof today));
	if (review->count == 0)
		say_line(printer, "Nothing asks for you today.");
	say_items(printer, review, yard, all);
	if (review->open > 0)
		say_line(printer, "Guidance only: labels, local codes and licensed practice come "
				  "first.");
}

enum status print_review(const struct printer *printer, const struct review *review,
	const struct yard *yard, bool all, struct fault *why)
{
	if (printer->format != FORMAT_TEXT)
		return item_rows(printer, review->items, review->count, yard_almanac(yard), why);
	say_review(printer, review, yard, all);
	return say_end(printer, why);
}

/* What the almanac has to say of the day all the same; a flag with a window has said it. */
static void say_terms(const struct printer *printer, const struct ask_answer *answer,
	const struct almanac *almanac)
{
	for (int32_t i = 0; i < answer->count; i++)
		if (answer->items[i].flag.window_from.known)
			return;
	for (int32_t i = 0; i < answer->term_count; i++)
		say_wrapped(printer, "      ", "- %s [%s]", answer->terms[i].text,
			source_title(almanac, answer->terms[i].source));
}

enum status print_ask(const struct printer *printer, const struct ask_answer *answer,
	const struct yard *yard, struct fault *why)
{
	if (printer->format != FORMAT_TEXT)
		return item_rows(printer, answer->items, answer->count, yard_almanac(yard), why);
	say_wrapped(printer, "asked ", "%s", answer->said);
	for (int32_t i = 0; i < answer->count; i++)
		say_item(printer, &answer->items[i], yard_almanac(yard), true);
	if (answer->count == 0)
		say_line(printer, "No rule speaks against it. Nothing was logged.");
	say_terms(printer, answer, yard_almanac(yard));
	if (answer->settles[0] != '\0')
		say_wrapped(printer, "      ", "It would settle: %s", answer->settles);
	return say_end(printer, why);
}

static const char *const rule_keys[] = {"rule", "title", "reason", "source", "max_urgency", NULL};

enum status print_rules(const struct printer *printer, struct fault *why)
{
	if (printer->format != FORMAT_TEXT) {
		struct rows rows = rows_begin(printer, rule_keys);

		for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
			rows_text(&rows, rule->id);
			rows_text(&rows, rule->title);
			rows_text(&rows, rule->reason);
			rows_text(&rows, rule->source);
			rows_text(&rows, urgency_key(rule->max_urgency));
		}
		return rows_end(&rows, why);
	}
	say_wrapped(printer, "",
		"What may be said of a tree, and how loud it gets at most. act: harm that can be "
		"lessened still, or that costs crop or health if left a week. due: it is the time "
		"for it. soon: its time opens within a fortnight. note: a fact, a pattern or a "
		"question. What rests on memory or on a copy alone is never more than a note. A "
		"rule that only disturbs you: boughbook rule off ID [LABEL].");
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
		say_line(printer, "%s", "");
		say_line(printer, "%s: %s (at most %s)", rule->id, rule->title,
			urgency_key(rule->max_urgency));
		say_wrapped(printer, "    ", "%s", rule->reason);
		say_wrapped(printer, "    ", "Source: %s", rule->source);
	}
	return say_end(printer, why);
}
