/* SPDX-License-Identifier: MIT */
/* shed.h - what the grower has at hand, told in words as they are typed: products to feed and spray
 * with, containers to pick into. Each act is whole or not at all, and can be undone. */
#ifndef DOSSIER_SHED_H
#define DOSSIER_SHED_H

#include "core/line.h"
#include "dossier/yard.h"

/* Words NULL: not said, it stays as it is; "": not known. */
struct product_words {
	const char *analysis; /* "10-10-10"; else a new product called by its analysis tells it */
	const char *bag;      /* "20 kg" */
	const char *cup;      /* what a cup of it weighs */
	const char *elements;
};
/* Puts the words into the product. */
enum status shed_product_read(const struct product_words *words, const struct number_rules *numbers,
	struct product *product, struct fault *why) MUST_CHECK;
/* "10-5-5", "" where it is not known. */
const char *shed_analysis(const struct product *product, char *out, int size);

/* What a full container weighs, of one kind of fruit or any. */
struct weight_words {
	const char *weight;
	const char *species; /* a name of the almanac; NULL or "" any kind */
	const char *from;    /* a day; NULL or "" always */
};
enum status shed_weight_read(const struct weight_words *words, const struct almanac *almanac,
	const struct line_context *line, struct container_weight *out,
	struct fault *why) MUST_CHECK;

/* Adds it (id ""), or saves what is said otherwise of it. */
enum status shed_product_put(
	struct yard *yard, struct product *product, struct fault *why) MUST_CHECK;
/* Adds it (id ""); weight NULL: it was not weighed. One that is there is weighed anew. */
enum status shed_container_put(struct yard *yard, struct container *container,
	struct container_weight *weight, struct fault *why) MUST_CHECK;
/* table: "product" or "container". */
enum status shed_remove(struct yard *yard, const char *table, const char *id, const char *name,
	struct fault *why) MUST_CHECK;

#endif
