/* SPDX-License-Identifier: MIT */
/* product, container: what the grower has in the shed. */
#include <stdio.h>
#include <string.h>

#include "acts.h"
#include "core/text.h"
#include "dossier/shed.h"

/* --- products --- */

static enum status read_product(struct call *call, struct product *product, struct fault *why)
{
	const struct product_words words = {.analysis = call_option(call, "analysis"),
		.bag = call_option(call, "bag"),
		.cup = call_option(call, "cup"),
		.elements = call_option(call, "elements")};

	return shed_product_read(&words, &call->session->numbers, product, why);
}

static void say_product(const struct call *call, const struct product *product)
{
	char bag[32] = "", analysis[40];

	if (product->bag_mg.known)
		mass_format(product->bag_mg.value, call->session->units, bag, sizeof bag);
	(void)shed_analysis(product, analysis, sizeof analysis);
	call_say(call, "%s  %s%s%s", product->name,
		analysis[0] != '\0' ? analysis : "analysis not known", bag[0] ? "  bag " : "", bag);
}

static const char *const product_keys[] = {
	"product", "n_mpct", "p2o5_mpct", "k2o_mpct", "elements", "bag_g", "cup_g", NULL};

static struct maybe_i64 wide(struct maybe_i32 value)
{
	return (struct maybe_i64){value.value, value.known};
}

static enum status product_list(
	struct call *call, const struct product *products, int32_t count, struct fault *why)
{
	struct rows rows;

	if (wants_rows(call))
		rows = rows_begin(&call->printer, product_keys);
	for (int32_t i = 0; i < count; i++) {
		const struct product *product = &products[i];

		if (!wants_rows(call)) {
			say_product(call, product);
			continue;
		}
		rows_text(&rows, product->name);
		rows_i64(&rows, wide(product->n_mpct));
		rows_i64(&rows, wide(product->p2o5_mpct));
		rows_i64(&rows, wide(product->k2o_mpct));
		rows_text(&rows, product->elements);
		rows_grams(&rows, product->bag_mg);
		rows_grams(&rows, product->cup_mg);
	}
	return wants_rows(call) ? rows_end(&rows, why) : STATUS_OK;
}

static enum status product_change(
	struct call *call, struct product *product, bool adds, struct fault *why)
{
	struct store *store = call->session->store;
	bool removes = call_word_is(call, 0, "remove");
	enum status status = adds || removes ? STATUS_OK : want_option(call, why);

	if (status == STATUS_OK)
		status = read_product(call, product, why);
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	if (adds)
		status = store_product_add(store, product, why);
	else if (removes)
		status = store_row_strike(store, "product", product->id, why);
	else
		status = store_product_save(store, product, why);
	status = act_end(call, status, why);
	if (status == STATUS_OK && removes)
		call_say(call, "product %s removed", product->name);
	else if (status == STATUS_OK)
		say_product(call, product);
	return status;
}

enum status cmd_product(struct call *call, int *exit_status, struct fault *why)
{
	struct product *products = NULL;
	struct product fresh = {.elements = ""};
	struct product *named = NULL;
	int32_t count = 0;
	bool adds = call_word_is(call, 0, "add");
	(void)exit_status;
	enum status status =
		store_product_list(call->session->store, call->arena, &products, &count, why);

	if (status != STATUS_OK)
		return status;
	if (call->word_count == 1 && call_word_is(call, 0, "list"))
		return product_list(call, products, count, why);
	if (call->word_count < 2 ||
		!(adds || call_word_is(call, 0, "set") || call_word_is(call, 0, "remove")))
		return call_usage(call, why);
	const char *name = call_line(call, 1);
	for (int32_t i = 0; i < count; i++)
		if (text_same(products[i].name, name))
			named = &products[i];
	if (adds && named != NULL)
		return fault_set(why, STATUS_CONFLICT, "there is a product '%s' already", name);
	if (!adds && named == NULL)
		return fault_set(
			why, STATUS_ABSENT, "no product '%s'; 'product list' shows them", name);
	if (adds && !text_copy(fresh.name, sizeof fresh.name, name))
		return fault_set(why, STATUS_RANGE, "the name is too long");
	return product_change(call, adds ? &fresh : named, adds, why);
}

/* --- containers --- */

static enum status container_weight(
	struct call *call, const struct container *container, struct fault *why)
{
	const struct weight_words words = {.weight = call_option(call, "weight"),
		.species = call_option(call, "species"),
		.from = call_option(call, "from")};
	const struct line_context line = session_line_context(call->session);
	struct container_weight row = {0};

	if (words.weight == NULL)
		return STATUS_OK;
	text_copy(row.container_id, sizeof row.container_id, container->id);
	enum status status = shed_weight_read(&words, call->session->almanac, &line, &row, why);
	return status == STATUS_OK ? store_container_weight_add(call->session->store, &row, why)
				   : status;
}

static enum status container_add(
	struct call *call, const char *name, const struct container *known, struct fault *why)
{
	struct container container = known != NULL ? *known : (struct container){0};
	const char *volume = call_option(call, "volume");
	enum status status = STATUS_OK;

	if (known != NULL && !call_has(call, "weight"))
		return fault_set(why, STATUS_CONFLICT, "there is a container '%s' already", name);
	if (known != NULL && volume != NULL)
		return fault_set(why, STATUS_CONFLICT,
			"what '%s' holds stands already; it is weighed anew without --volume",
			name);
	if (!text_copy(container.name, sizeof container.name, name))
		return fault_set(why, STATUS_RANGE, "the name is too long");
	if (volume != NULL) {
		status = volume_parse(
			volume, &call->session->numbers, &container.volume_ul.value, why);
		container.volume_ul.known = true;
	}
	if (status == STATUS_OK)
		status = act_begin(call, call_line(call, 0), why);
	if (status != STATUS_OK)
		return status;
	if (known == NULL)
		status = store_container_add(call->session->store, &container, why);
	if (status == STATUS_OK)
		status = container_weight(call, &container, why);
	status = act_end(call, status, why);
	if (status == STATUS_OK)
		call_say(call, "container %s %s", container.name,
			known == NULL ? "added" : "weighed anew");
	return status;
}

static void say_container(const struct call *call, const struct container *container,
	const struct container_weight *weights, int32_t weight_count)
{
	char text[64], day[24];

	call_say(call, "%s%s%s", container->name, container->volume_ul.known ? "  holds " : "",
		container->volume_ul.known ? volume_format(container->volume_ul.value,
						     &call->session->numbers, text, sizeof text)
					   : "");
	for (int32_t i = 0; i < weight_count; i++)
		if (strcmp(weights[i].container_id, container->id) == 0)
			call_say(call, "    %s: %s%s%s",
				weights[i].species[0] ? weights[i].species : "any kind",
				mass_format(weights[i].weight_mg, call->session->units, text,
					sizeof text),
				weights[i].from.known ? " from " : "",
				weights[i].from.known
					? date_format_plain(weights[i].from.value, day, sizeof day)
					: "");
}

static const char *const container_keys[] = {
	"container", "volume_ul", "species", "weight_g", "from", NULL};

static void container_row(
	struct rows *rows, const struct container *container, const struct container_weight *weight)
{
	rows_text(rows, container->name);
	rows_i64(rows, container->volume_ul);
	rows_text(rows, weight != NULL ? weight->species : NULL);
	rows_grams(rows,
		weight != NULL ? known_i64(weight->weight_mg) : (struct maybe_i64){.known = false});
	rows_date(rows, weight != NULL ? weight->from : (struct maybe_date){.known = false});
}

/* One row a weight; one without where it was never weighed. */
static void container_rows(struct rows *rows, const struct container *container,
	const struct container_weight *weights, int32_t weight_count)
{
	bool weighed = false;

	for (int32_t i = 0; i < weight_count; i++) {
		if (strcmp(weights[i].container_id, container->id) != 0)
			continue;
		container_row(rows, container, &weights[i]);
		weighed = true;
	}
	if (!weighed)
		container_row(rows, container, NULL);
}

static enum status container_list(struct call *call, const struct container *containers,
	int32_t count, const struct container_weight *weights, int32_t weight_count,
	struct fault *why)
{
	struct rows rows;

	if (wants_rows(call))
		rows = rows_begin(&call->printer, container_keys);
	for (int32_t i = 0; i < count; i++) {
		if (wants_rows(call))
			container_rows(&rows, &containers[i], weights, weight_count);
		else
			say_container(call, &containers[i], weights, weight_count);
	}
	return wants_rows(call) ? rows_end(&rows, why) : STATUS_OK;
}

static enum status container_remove(
	struct call *call, const struct container *container, struct fault *why)
{
	enum status status = act_begin(call, call_line(call, 0), why);

	if (status != STATUS_OK)
		return status;
	status = act_end(
		call, store_row_strike(call->session->store, "container", container->id, why), why);
	if (status == STATUS_OK)
		call_say(call, "container %s removed", container->name);
	return status;
}

enum status cmd_container(struct call *call, int *exit_status, struct fault *why)
{
	struct container *containers = NULL;
	struct container_weight *weights = NULL;
	const struct container *named = NULL;
	int32_t count = 0, weight_count = 0;
	(void)exit_status;
	enum status status = store_container_list(call->session->store, call->arena, &containers,
		&count, &weights, &weight_count, why);

	if (status != STATUS_OK)
		return status;
	if (call->word_count == 1 && call_word_is(call, 0, "list"))
		return container_list(call, containers, count, weights, weight_count, why);
	if (call->word_count < 2)
		return call_usage(call, why);
	const char *name = call_line(call, 1);
	for (int32_t i = 0; i < count; i++)
		if (text_same(containers[i].name, name))
			named = &containers[i];
	if (call_word_is(call, 0, "add"))
		return container_add(call, name, named, why);
	if (!call_word_is(call, 0, "remove"))
		return call_usage(call, why);
	if (named == NULL)
		return fault_set(
			why, STATUS_ABSENT, "no container '%s'; 'container list' shows them", name);
	return container_remove(call, named, why);
}
