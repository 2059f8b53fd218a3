/* SPDX-License-Identifier: MIT */
/* session.h - one log open with its almanac and its yard: what the command line and the screens
 * both start from. */
#ifndef REPORT_SESSION_H
#define REPORT_SESSION_H

#include "dossier/work.h"
#include "report/keeper.h"
#include "store/tree_names.h"

struct session_options {
	const char *path;       /* NULL: core/file's default log path */
	const char *almanac;    /* NULL: as almanac_find says */
	struct clock clock;     /* system, pinned by --today, or seeded */
	enum unit_system units; /* of display; UNITS_UNSET: the place's */
	bool read_only;
};

struct session {
	struct clock clock;
	struct store *store;
	struct almanac *almanac;
	struct arena *arena; /* the yard's; reset by session_refresh */
	struct yard *yard;
	struct line_names_owner names;
	enum unit_system units; /* of display; follow the place's unless given */
	bool units_given;
	struct number_rules numbers;  /* the place's, with `units` for display */
	struct tree_names names_read; /* see session_trees; items NULL: not read */
	bool kinds_read;
	struct keeper *keeper; /* of flags worked out; NULL: they are not written */
};

/* Opens all of it, with one plain sentence when something is in the way. A writable log made
 * under another almanac gets its season turns anew. */
enum status session_open(
	const struct session_options *options, struct session **out, struct fault *why) MUST_CHECK;
/* Reads anew what the trees share: after an act, or when another window wrote. Everything that
 * came from the old yard is gone. */
enum status session_refresh(struct session *session, struct fault *why) MUST_CHECK;
/* The kept season turns against those that the almanac gives. other_almanac: they were made under
 * another one, or never; the next opening for writing puts that right. */
enum status session_check_turns(const struct session *session, struct turns_checked *out,
	bool *other_almanac, struct fault *why) MUST_CHECK;
/* The standing trees by name, read once until the next refresh; kinds: with those. */
enum status session_trees(
	struct session *session, bool kinds, struct tree_names *out, struct fault *why) MUST_CHECK;
/* From now on flags are kept in the log, where that may be: not of a log that is only viewed, nor
 * for a day that is not the real one. */
void session_keep_flags(struct session *session);
/* Works out flags that the log lacks, for some seconds, and writes them; true: there are more. */
bool session_fill_flags(struct session *session, double seconds); /* of NULL none */
void session_write_flags(struct session *session); /* those that wait; NULL is fine */
void session_close(struct session *session);       /* NULL is fine */
struct line_context session_line_context(struct session *session);

#endif
