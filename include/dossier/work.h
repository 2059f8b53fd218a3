/* SPDX-License-Identifier: MIT */
/* work.h - the acts of a grower, whole: what the command line and the screens both call. Each is
 * one change set, kept on the disk when it answers STATUS_OK. */
#ifndef DOSSIER_WORK_H
#define DOSSIER_WORK_H

#include "dossier/yard.h"

/* Logs what a reading says: one entry, or one for each tree of a batch, with what comes along
 * with its kind (died closes the tree, move ends the spot, plant begins one, graft makes a unit,
 * a container never met before is kept by name). `said` gets the answer to show, with the full
 * label and what came along; work_enter puts the reading's remarks behind it. */
struct work_logged {
	char said[FAULT_TEXT_SIZE];
	char entry_id[ID_SIZE]; /* the first */
	int32_t count;
};
enum status work_log(struct yard *yard, const struct reading *reading, struct work_logged *out,
	struct fault *why) MUST_CHECK;
/* The same inside an act that is already open (a file of lines). */
enum status work_log_in_act(struct yard *yard, const struct reading *reading,
	struct work_logged *out, struct fault *why) MUST_CHECK;
/* Whom a reading is for: its one subject, or each tree of a batch ("all figs"), in the order of
 * labels. STATUS_ABSENT when a batch means no standing tree. */
enum status work_subjects(struct yard *yard, const struct reading *reading, struct arena *arena,
	struct subject **out, int32_t *count, struct fault *why) MUST_CHECK;
/* Reads and logs one line in one go. */
enum status work_enter(struct yard *yard, const char *line, const struct line_context *context,
	struct work_logged *out, struct fault *why) MUST_CHECK;
/* The entry mended to what another line says; keeps its id. */
enum status work_mend(struct yard *yard, const char *entry_id, const char *line,
	const struct line_context *context, struct work_logged *out, struct fault *why) MUST_CHECK;
/* The same inside an act that is already open. */
enum status work_mend_in_act(struct yard *yard, const char *entry_id, const char *line,
	const struct line_context *context, struct work_logged *out, struct fault *why) MUST_CHECK;

/* Takes an entry back. A struck death lets the tree stand again, with the grafts that went with
 * it; what a move or a graft did to the yard stays, and `said` says so. */
enum status work_strike(struct yard *yard, const char *entry_id, struct work_logged *out,
	struct fault *why) MUST_CHECK;

/* A tree with what it is: `species` and `cultivar` as typed ("" none). A species name that fits
 * two kinds keeps each as a candidate and puts the question in *asked. */
struct new_tree {
	struct tree tree;
	char species[NAME_SIZE];
	char cultivar[NAME_SIZE];
	bool sure_given;
	enum sure sure;
	bool cultivar_sure_given; /* else as sure says, else suspected */
	enum sure cultivar_sure;
	char spot[LABEL_SIZE]; /* name; made when it is not there */
	struct maybe_i64 east_um, north_um;
};
enum status work_tree_add(struct yard *yard, const struct new_tree *tree, char asked[TEXT_SIZE],
	char id[ID_SIZE], struct fault *why) MUST_CHECK;
/* The same inside an act that is already open (imports, many labels at once). */
enum status work_tree_add_in_act(struct yard *yard, const struct new_tree *tree,
	char asked[TEXT_SIZE], char id[ID_SIZE], struct fault *why) MUST_CHECK;

/* A standing tree told of again, inside an open act: what it lacks is filled in, and `filled` says
 * what ("" nothing new). STATUS_CONFLICT: something is told otherwise than the log has it. */
enum status work_tree_fill_in_act(struct yard *yard, const char *tree_id,
	const struct new_tree *told, char filled[TEXT_SIZE], struct fault *why) MUST_CHECK;

/* Sets the order of the walk to a short way from the gate (else the plan's zero) past all spots
 * that have a position; `said` tells its length. STATUS_ABSENT: none has. */
enum status work_route_auto(
	struct yard *yard, char said[FAULT_TEXT_SIZE], struct fault *why) MUST_CHECK;

struct new_identity {
	char species[NAME_SIZE]; /* "" not said */
	char cultivar[NAME_SIZE];
	bool sure_given;
	enum sure sure;
	bool cultivar_sure_given;
	enum sure cultivar_sure;
	bool is_change;
	struct date_span day;
	char who[NAME_SIZE];
	char reason[TEXT_SIZE];
};
enum status work_identify(struct yard *yard, const char *tree_id,
	const struct new_identity *identity, char asked[TEXT_SIZE], struct fault *why) MUST_CHECK;

/* A tree told otherwise, in one act: its columns as they are to be; another label, another spot
 * (made when it is not there; it moves today), what it is. */
struct tree_change {
	struct tree tree;       /* with the label it has */
	char label[LABEL_SIZE]; /* "": it stays */
	char spot[LABEL_SIZE];  /* "": it stays */
	bool identified;
	struct new_identity identity;
};
enum status work_tree_change(struct yard *yard, const struct tree_change *change,
	char asked[TEXT_SIZE], struct fault *why) MUST_CHECK;

/* Traits seen of a tree, in one act; a value of "" takes back what was noted. count >= 1. */
enum status work_traits(struct yard *yard, const char *tree_id, const struct trait *traits,
	int32_t count, struct fault *why) MUST_CHECK;

/* Answers to a flag. */
/* Of all these keys, in one act. count >= 1. */
enum status work_put_off_all(struct yard *yard, const char *const *flag_keys, int32_t count,
	struct date until, struct fault *why) MUST_CHECK;
enum status work_set_aside_all(struct yard *yard, const char *const *flag_keys, int32_t count,
	const char *reason, struct fault *why) MUST_CHECK;
enum status work_put_off(
	struct yard *yard, const char *flag_key, struct date until, struct fault *why) MUST_CHECK;
enum status work_set_aside(
	struct yard *yard, const char *flag_key, const char *reason, struct fault *why) MUST_CHECK;
/* Takes every answer to a flag back: it is asked about again. STATUS_ABSENT: there is none. */
enum status work_ask_again(struct yard *yard, const char *flag_key, struct fault *why) MUST_CHECK;
/* rule off ("always"): tree_id "" the whole yard; on takes it back. */
enum status work_rule_off(
	struct yard *yard, const char *rule, const char *tree_id, struct fault *why) MUST_CHECK;
enum status work_rule_on(
	struct yard *yard, const char *rule, const char *tree_id, struct fault *why) MUST_CHECK;

#endif
