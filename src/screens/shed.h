/* SPDX-License-Identifier: MIT */
/* shed.h - a product or a container as fields to be told: the form of the screen, and the questions
 * of the line mode. */
#ifndef SCREENS_SHED_H
#define SCREENS_SHED_H

#include "form.h"

enum { SHED_FIELDS = 5 };

struct shed_form {
	struct form form;
	bool is_container;
	char id[ID_SIZE];                    /* "" a new one */
	char before[SHED_FIELDS][EDIT_SIZE]; /* the fields as the log has them */
};

void shed_form_start(struct shed_form *shed, bool is_container);
/* The fields of one that is there; false: it is not. */
bool shed_form_load(
	struct shed_form *shed, struct session *session, const char *id, struct arena *arena);
bool shed_form_differs(const struct shed_form *shed);
/* What the fields say, as one act. */
enum status shed_form_keep(
	const struct shed_form *shed, struct session *session, struct fault *why) MUST_CHECK;

/* What stands there in words: "10-10-10, bag 20 kg", "holds 20 l". */
const char *shed_product_words(
	const struct product *product, const struct session *session, struct arena *arena);
const char *shed_container_words(
	const struct container *container, const struct session *session, struct arena *arena);
/* "apple: 9 lb from 1 March 2024", a line each; weights of other containers are passed over. */
const char *shed_weight_words(const struct container *container,
	const struct container_weight *weights, int32_t count, const struct session *session,
	struct arena *arena);

#endif
