/* SPDX-License-Identifier: MIT */
/* acts.h - one act of the command line, and readings that several commands share. */
#ifndef CLI_ACTS_H
#define CLI_ACTS_H

#include "command.h"
#include "exchange/import.h"
#include "report/rows.h"

enum status act_begin(struct call *call, const char *what, struct fault *why) MUST_CHECK;
/* Commits when status is STATUS_OK, else takes the act back; returns the first failure. */
enum status act_end(struct call *call, enum status status, struct fault *why) MUST_CHECK;
/* One word of a list; its place is the answer. STATUS_SYNTAX lists what is known; the first may be
 * a word that only says "not known" and is not shown. */
enum status word_in(const char *option, const char *value, const char *const *words, int count,
	int *out, struct fault *why) MUST_CHECK;
/* The options that all imports share; words[1] is the file. */
enum status read_import(
	struct call *call, struct import_options *options, struct fault *why) MUST_CHECK;
/* What became of the rows, refused or not. */
void say_account(struct call *call, const struct import_options *options,
	const struct import_account *account, enum status status);
/* export all, import all */
enum status cmd_export_all(struct call *call, struct fault *why) MUST_CHECK;
enum status cmd_import_all(struct call *call, struct fault *why) MUST_CHECK;
enum status tree_trait(struct call *call, struct fault *why) MUST_CHECK;
/* Is a machine to read the answer (CSV or JSON)? */
bool wants_rows(const struct call *call);
/* STATUS_SYNTAX with the usage when none of the command's own options was given. */
enum status want_option(const struct call *call, struct fault *why) MUST_CHECK;
/* A length option that may be negative; unchanged when the option was not given. */
enum status read_offset(
	struct call *call, const char *option, struct maybe_i64 *out, struct fault *why) MUST_CHECK;

#endif
