/* SPDX-License-Identifier: MIT */
/* plain_inner.h - the parts of the line mode. */
#ifndef SCREENS_PLAIN_INNER_H
#define SCREENS_PLAIN_INNER_H

#include <stdio.h>

#include "core/file.h"
#include "form.h"
#include "plain.h"
#include "report/print.h"

struct plain {
	const struct screens_options *options;
	struct session *session;
	struct printer printer;
	FILE *in;
	bool ended;                /* the input, or "quit" */
	bool saved;                /* something was: the daily copy is due */
	char path[FILE_PATH_SIZE]; /* of the log */
	char line[LINE_SIZE];      /* the last one read */
};

/* Says the prompt and reads one line into plain->line, without its end and the blanks around it.
 * false: the input ended. A line that is too long is refused, said so, and asked again. */
bool plain_ask(struct plain *plain, const char *prompt);
/* Is the line this word, whole, in any case. */
bool plain_is(const struct plain *plain, const char *word);
/* What stands after the word and a blank; NULL: the line does not begin with it. */
const char *plain_after(const struct plain *plain, const char *word);
void plain_say(struct plain *plain, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* After an act: says what came of it, and reads the yard anew when it was done. Returns whether
 * it was. */
bool plain_done(struct plain *plain, enum status status, const char *said, const struct fault *why);
void plain_undo(struct plain *plain, bool redo);
/* What a line would log and what the rules would say; nothing is kept. label NULL: it names its
 * own tree. */
void plain_would(struct plain *plain, const char *label, const char *line);
/* Reads and logs one line. */
bool plain_log(struct plain *plain, const char *label, const char *line);

/* Does what the line read last asks for: a word of the prompt, else an entry to log. */
void plain_obey(struct plain *plain);
/* Tree by tree; from: a label to begin at, "" the first. */
void plain_walk(struct plain *plain, const char *from);
/* The yard from above in words: from the gate; label: what stands around one tree. */
void plain_plan(struct plain *plain, const char *label);
/* What is known of a tree, field by field. */
void plain_facts(struct plain *plain, const struct tree *tree);
/* "LABEL flesh=white ...": which cultivar it could be. */
void plain_likely(struct plain *plain, const char *rest);
/* The same words: what is seen is kept. */
void plain_trait(struct plain *plain, const char *rest);
/* A form field by field; a blank answer leaves what stands there, a dash empties it. false: the
 * input ended. */
bool plain_ask_form(struct plain *plain, struct form *form);
/* What a flag rests on, and why its rule speaks. */
void plain_say_why(struct plain *plain, const struct flag *flag);
/* What became of a season's fruit; year "": the latest. */
void plain_stock(struct plain *plain, const char *year);
void plain_partners(struct plain *plain, const char *label);
void plain_descent(struct plain *plain, const char *label);
void plain_bloom(struct plain *plain, const char *nothing);
/* Item by item. */
void plain_review(struct plain *plain);
/* Another copy of the log, tried, taken in, and what both changed; path "": it is asked. */
void plain_merge(struct plain *plain, const char *path);
/* The kinds, or one kind's page. */
void plain_almanac(struct plain *plain, const char *kind);
/* The acts, newest first, and what each did; any can be taken back. */
void plain_history(struct plain *plain);
/* What was put off or set aside; each can be asked about again. */
void plain_answered(struct plain *plain);
void plain_search(struct plain *plain, const char *text);
/* Products and containers; one of them, new or not, told field by field; one taken out. */
void plain_shed(struct plain *plain);
void plain_shed_tell(struct plain *plain, bool is_container, const char *name);
/* words: "product NAME" or "container NAME" */
void plain_shed_remove(struct plain *plain, const char *words);
/* Trees by three questions, one or a row of them; a blank label leaves it. */
void plain_add(struct plain *plain, const char *labels);
void plain_sun(struct plain *plain, const struct tree *tree);
/* labels: two, with a comma between them */
void plain_compare(struct plain *plain, const char *labels);
void plain_year(struct plain *plain);
/* What goes out: a word, and a label or a season behind it; the file is asked. */
void plain_export(struct plain *plain, const char *words);
/* Four questions, then the log is made; or the demo yard beside it, which plain->path then
 * names. */
enum status plain_first(struct plain *plain, struct fault *why) MUST_CHECK;

#endif
