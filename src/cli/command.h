/* SPDX-License-Identifier: MIT */
/* command.h - the command line: one row a command, its words already taken apart.
 *
 * To add a command: write its function in a cmd_*.c, give it a row in commands.c with its usage
 * and options; help, the manual's check and the reading of options come from the row. */
#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include "report/print.h"
#include "report/session.h"

enum { EXIT_DONE = 0, EXIT_NO = 1, EXIT_WORDS = 2, EXIT_FILE = 3 };
enum { OPTIONS_MAX = 32, WORDS_MAX = 512 };

/* The words of one call, options taken out. */
struct call {
	const struct command *command;
	const char *words[WORDS_MAX]; /* after the command's name */
	int32_t word_count;
	struct given_option {
		const char *name;  /* without the dashes */
		const char *value; /* "" for a switch */
	} options[OPTIONS_MAX];
	int32_t option_count;
	/* global options */
	const char *log;     /* NULL: default */
	const char *almanac; /* NULL: as found */
	struct maybe_date today;
	enum unit_system units;
	bool plain;
	enum format format;
	bool ascii;
	struct session *session; /* open when the command needs one */
	struct printer printer;
	struct arena *arena; /* for the call */
};

enum command_need {
	NEED_NOTHING, /* no log */
	NEED_ALMANAC, /* no log; session has the almanac only */
	NEED_READ,    /* the log, opened for reading */
	NEED_WRITE,
};

struct command {
	const char *name;
	const char *usage;   /* after "boughbook NAME " */
	const char *options; /* blank-separated, "name=" takes a value, "name" is a switch */
	const char *help;    /* one line */
	enum command_need need;
	bool html;           /* --format html too */
	bool lists;          /* its words `list` and `show` only read */
	const char *reading; /* options with any of which it only reads, as `options`; NULL: none */
	/* The exit status; on STATUS other than OK the text of *why is printed and the exit status
	 * follows from it. *exit_status is what OK means (EXIT_DONE unless set). */
	enum status (*run)(struct call *call, int *exit_status, struct fault *why);
};

const struct command *command_table(void); /* ended by a row with name NULL */
const struct command *command_find(const char *name);

/* Takes argv apart. STATUS_SYNTAX names the word and what is known. */
enum status call_parse(int argc, char **argv, struct call *call, struct fault *why) MUST_CHECK;
/* The value of an option; NULL when it was not given. */
const char *call_option(const struct call *call, const char *name);
bool call_has(const struct call *call, const char *name);
/* Was any of the command's own options given? */
bool call_has_own(const struct call *call);
/* The words from `first` on, joined by blanks. */
const char *call_line(const struct call *call, int32_t first);
/* STATUS_SYNTAX with the usage when fewer or more words stand there. */
enum status call_want(
	const struct call *call, int32_t least, int32_t most, struct fault *why) MUST_CHECK;
enum status call_usage(const struct call *call, struct fault *why);
/* Is it the whole log that is exported or imported? Then the command opens it itself. */
bool call_is_whole(const struct call *call);
/* What this call needs of the log: less than its command where it only lists or shows. */
enum command_need call_need(const struct call *call);
/* The same failure as one of the file or disk, whatever it was: its exit status is EXIT_FILE. */
enum status call_file_fault(enum status status, struct fault *why);
/* Is the word in place `at` this one? */
bool call_word_is(const struct call *call, int32_t at, const char *word);
/* A line of a file given back to standard output, whole. */
void call_give(const struct call *call, const char *line);
/* A line of text to standard output, cleaned and wrapped. */
void call_say(const struct call *call, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* The tree that a label names (exact, else a short form); STATUS_ABSENT, STATUS_DOUBT. */
enum status call_tree(
	struct call *call, const char *label, struct tree *out, struct fault *why) MUST_CHECK;
/* A day from an option or word, as the entry line reads it. */
enum status call_day(
	struct call *call, const char *text, struct date_span *out, struct fault *why) MUST_CHECK;

/* export report, walk, sheet: papers. */
enum status cmd_handout(struct call *call, struct fault *why) MUST_CHECK;

/* Options of place, shared by new and place set. */
enum status call_read_place(struct call *call, struct place *place, struct fault *why) MUST_CHECK;

enum status cmd_new(struct call *call, int *exit_status, struct fault *why);
enum status cmd_demo(struct call *call, int *exit_status, struct fault *why);
enum status cmd_place(struct call *call, int *exit_status, struct fault *why);
enum status cmd_area(struct call *call, int *exit_status, struct fault *why);
enum status cmd_spot(struct call *call, int *exit_status, struct fault *why);
enum status cmd_obstacle(struct call *call, int *exit_status, struct fault *why);
enum status cmd_route(struct call *call, int *exit_status, struct fault *why);
enum status cmd_product(struct call *call, int *exit_status, struct fault *why);
enum status cmd_container(struct call *call, int *exit_status, struct fault *why);
enum status cmd_own(struct call *call, int *exit_status, struct fault *why);
enum status cmd_tree(struct call *call, int *exit_status, struct fault *why);
enum status cmd_enter(struct call *call, int *exit_status, struct fault *why);
enum status cmd_ask(struct call *call, int *exit_status, struct fault *why);
enum status cmd_plan(struct call *call, int *exit_status, struct fault *why);
enum status cmd_undo(struct call *call, int *exit_status, struct fault *why);
enum status cmd_redo(struct call *call, int *exit_status, struct fault *why);
enum status cmd_entry(struct call *call, int *exit_status, struct fault *why);
enum status cmd_history(struct call *call, int *exit_status, struct fault *why);
enum status cmd_find(struct call *call, int *exit_status, struct fault *why);
enum status cmd_review(struct call *call, int *exit_status, struct fault *why);
enum status cmd_put_off(struct call *call, int *exit_status, struct fault *why);
enum status cmd_set_aside(struct call *call, int *exit_status, struct fault *why);
enum status cmd_rules(struct call *call, int *exit_status, struct fault *why);
enum status cmd_rule(struct call *call, int *exit_status, struct fault *why);
enum status cmd_dose(struct call *call, int *exit_status, struct fault *why);
enum status cmd_water(struct call *call, int *exit_status, struct fault *why);
enum status cmd_volume(struct call *call, int *exit_status, struct fault *why);
enum status cmd_partners(struct call *call, int *exit_status, struct fault *why);
enum status cmd_likely(struct call *call, int *exit_status, struct fault *why);
enum status cmd_sun(struct call *call, int *exit_status, struct fault *why);
enum status cmd_season(struct call *call, int *exit_status, struct fault *why);
enum status cmd_descent(struct call *call, int *exit_status, struct fault *why);
enum status cmd_stock(struct call *call, int *exit_status, struct fault *why);
enum status cmd_calendar(struct call *call, int *exit_status, struct fault *why);
enum status cmd_almanac(struct call *call, int *exit_status, struct fault *why);
enum status cmd_weather(struct call *call, int *exit_status, struct fault *why);
enum status cmd_import(struct call *call, int *exit_status, struct fault *why);
enum status cmd_export(struct call *call, int *exit_status, struct fault *why);
enum status cmd_merge(struct call *call, int *exit_status, struct fault *why);
enum status cmd_verify(struct call *call, int *exit_status, struct fault *why);
enum status cmd_backup(struct call *call, int *exit_status, struct fault *why);
enum status cmd_help(struct call *call, int *exit_status, struct fault *why);

#endif
