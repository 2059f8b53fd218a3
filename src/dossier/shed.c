/* SPDX-License-Identifier: MIT */
#include "dossier/shed.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "work_inner.h"

/* --- words --- */

/* Three figures with dashes between them: nothing else that strtod would take. */
static bool read_figures(const char *text, double figures[3])
{
	if (text[strspn(text, "0123456789.-")] != '\0')
		return false;
	for (int i = 0; i < 3; i++) {
		char *end = NULL;
		if (*text == '-')
			return false;
		figures[i] = strtod(text, &end);
		if (end == text || *end != (i < 2 ? '-' : '\0'))
			return false;
		text = end + 1;
	}
	return true;
}

static enum status read_analysis(const char *text, struct product *product, struct fault *why)
{
	double figures[3];
	const struct maybe_i32 unknown = {.known = false};
	product->n_mpct = product->p2o5_mpct = product->k2o_mpct = unknown;
	if (text[0] == '\0')
		return STATUS_OK;
	if (!read_figures(text, figures))
		return fault_set(why, STATUS_SYNTAX,
			"an analysis is three numbers, N-P2O5-K2O, such as 10-10-10; not '%s'",
			text);
	if (figures[0] + figures[1] + figures[2] > 100.0)
		return fault_set(
			why, STATUS_RANGE, "analysis %s adds up to more than 100 %%", text);
	product->n_mpct = known_i32((int32_t)round_i64(figures[0] * 1000.0));
	product->p2o5_mpct = known_i32((int32_t)round_i64(figures[1] * 1000.0));
	product->k2o_mpct = known_i32((int32_t)round_i64(figures[2] * 1000.0));
	return STATUS_OK;
}

static enum status read_mass(const char *text, const struct number_rules *numbers,
	struct maybe_i64 *out, struct fault *why)
{
	if (text == NULL)
		return STATUS_OK;
	out->known = text[0] != '\0';
	return out->known ? mass_parse(text, numbers, &out->value, why) : STATUS_OK;
}

enum status shed_product_read(const struct product_words *words, const struct number_rules *numbers,
	struct product *product, struct fault *why)
{
	double figures[3];
	const char *analysis = words->analysis;
	enum status status = STATUS_OK;
	if ((analysis == NULL || (analysis[0] == '\0' && product->id[0] == '\0')) &&
		!product->n_mpct.known && read_figures(product->name, figures))
		analysis = product->name; /* a bag called by its analysis */
	if (analysis != NULL)
		status = read_analysis(analysis, product, why);
	if (status == STATUS_OK)
		status = read_mass(words->bag, numbers, &product->bag_mg, why);
	if (status == STATUS_OK)
		status = read_mass(words->cup, numbers, &product->cup_mg, why);
	if (words->elements != NULL)
		product->elements = words->elements;
	return status;
}

const char *shed_analysis(const struct product *product, char *out, int size)
{
	out[0] = '\0';
	if (product->n_mpct.known && product->p2o5_mpct.known && product->k2o_mpct.known)
		(void)snprintf(out, (size_t)size, "%g-%g-%g", product->n_mpct.value / 1000.0,
			product->p2o5_mpct.value / 1000.0, product->k2o_mpct.value / 1000.0);
	return out;
}

static enum status read_species(const char *name, const struct almanac *almanac,
	struct container_weight *out, struct fault *why)
{
	const struct species *found[4];
	const int32_t fits = almanac_find_species(almanac, name, found, 4);
	if (fits != 1)
		return fault_set(why, fits == 0 ? STATUS_ABSENT : STATUS_DOUBT,
			"'%s' names %s kind of the almanac", name,
			fits == 0 ? "no" : "more than one");
	(void)text_copy(out->species, sizeof out->species, found[0]->key);
	return STATUS_OK;
}

enum status shed_weight_read(const struct weight_words *words, const struct almanac *almanac,
	const struct line_context *line, struct container_weight *out, struct fault *why)
{
	struct date_span span;
	enum status status = mass_parse(words->weight, &line->numbers, &out->weight_mg, why);
	if (status == STATUS_OK && words->from != NULL && words->from[0] != '\0') {
		status = day_read(words->from, line, false, &span, why);
		if (status == STATUS_OK)
			out->from = span.low;
	}
	if (status == STATUS_OK && words->species != NULL && words->species[0] != '\0')
		status = read_species(words->species, almanac, out, why);
	return status;
}

/* --- acts --- */

/* Opens an act called after what is done to which. */
static enum status begin(
	struct yard *yard, const char *table, const char *name, const char *done, struct fault *why)
{
	char what[TEXT_SIZE];
	struct text_builder text = text_builder_fixed(what, sizeof what);
	text_add_format(&text, "%s %s %s", table, name, done);
	return work_begin(yard, what, why);
}

enum status shed_product_put(struct yard *yard, struct product *product, struct fault *why)
{
	const bool adds = product->id[0] == '\0';
	enum status status =
		begin(yard, "product", product->name, adds ? "added" : "told otherwise", why);
	if (status != STATUS_OK)
		return status;
	status = adds ? store_product_add(yard_store(yard), product, why)
		      : store_product_save(yard_store(yard), product, why);
	return work_end(yard, status, why);
}

enum status shed_container_put(struct yard *yard, struct container *container,
	struct container_weight *weight, struct fault *why)
{
	const bool adds = container->id[0] == '\0';
	enum status status =
		begin(yard, "container", container->name, adds ? "added" : "weighed anew", why);
	if (status != STATUS_OK)
		return status;
	if (adds)
		status = store_container_add(yard_store(yard), container, why);
	if (status == STATUS_OK && weight != NULL) {
		(void)text_copy(weight->container_id, sizeof weight->container_id, container->id);
		status = store_container_weight_add(yard_store(yard), weight, why);
	}
	return work_end(yard, status, why);
}

enum status shed_remove(
	struct yard *yard, const char *table, const char *id, const char *name, struct fault *why)
{
	enum status status = begin(yard, table, name, "removed", why);
	if (status != STATUS_OK)
		return status;
	return work_end(yard, store_row_strike(yard_store(yard), table, id, why), why);
}
