/* SPDX-License-Identifier: MIT */
/* entry_row.h - an entry as a row: what the files about entries share. Only files of src/store
 * include this. */
#ifndef STORE_ENTRY_ROW_H
#define STORE_ENTRY_ROW_H

#include "rows.h"

/* A gone tree t as store_tree_title writes it; label: the column, as it is or folded. */
#define TREE_TITLE(label)                                                         \
	label " || ' (' || coalesce(substr(t.planted_low, 1, 4), '?') || '-' || " \
	      "coalesce(substr(t.gone_low, 1, 4), '?') || ')'"
/* subject: where its id stands; a parameter, where all rows are of one, has its name looked up once
 * and not for every row. */
#define ENTRY_OWN_COLUMNS                                                                        \
	"e.id, e.subject_kind, e.subject_id, e.kind, e.day, e.day_low, e.day_high, e.typed_at, " \
	"e.words, e.note, e.batch, e.planned, e.season_year, "
#define ENTRY_COLUMNS_OF(subject)                                                              \
	ENTRY_OWN_COLUMNS                                                                      \
	"CASE e.subject_kind "                                                                 \
	"WHEN 'tree' THEN (SELECT CASE t.is_gone WHEN 0 THEN t.label ELSE " TREE_TITLE(        \
		"t.label") " END FROM tree t WHERE t.id = " subject ") "                       \
			   "WHEN 'spot' THEN (SELECT s.name FROM spot s WHERE s.id = " subject \
			   ") "                                                                \
			   "WHEN 'area' THEN (SELECT a.name FROM area a WHERE a.id = " subject \
			   ") END"
#define ENTRY_COLUMNS ENTRY_COLUMNS_OF("e.subject_id")

enum entry_kind entry_kind_read(const char *key);
/* Reads a row of ENTRY_COLUMNS, without its parts. */
extern const struct row_reader entry_reader;
/* By subject kind; also the names of the tables. */
extern const char *const subject_words[4];

/* The rows of a bound statement over ENTRY_COLUMNS, with their parts. */
enum status entries_list(struct store *store, sqlite3_stmt *statement, struct arena *arena,
	struct entry **out, int32_t *count, struct fault *why) MUST_CHECK;

#endif
