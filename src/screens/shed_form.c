/* SPDX-License-Identifier: MIT */
#include "shed.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "dossier/shed.h"

enum { PRODUCT_NAME, PRODUCT_ANALYSIS, PRODUCT_BAG, PRODUCT_CUP, PRODUCT_ELEMENTS };
enum { CONTAINER_NAME, CONTAINER_HOLDS, CONTAINER_WEIGHS, CONTAINER_KIND, CONTAINER_FROM };

static const struct form_field product_fields[SHED_FIELDS] = {
	{"name", "as you will call it in a line: fed 2 lb of ...", NAME_SIZE - 1},
	{"analysis", "N-P2O5-K2O of the label: 10-10-10", 40},
	{"bag", "what a bag weighs: 20 kg, 50 lb", 40},
	{"cup", "what a cup of it weighs: 8 oz", 40},
	{"elements", "what else the label tells: Mg 2 %, Fe 0.1 %", TEXT_SIZE - 1},
};

static const struct form_field container_fields[SHED_FIELDS] = {
	{"name", "as you will call it in a line: picked 3 ...", NAME_SIZE - 1},
	{"holds", "20 l, 5 gal", 40},
	{"weighs", "the fruit of a full one: 9 lb", 40},
	{"kind", "of which fruit that is; empty: any", NAME_SIZE - 1},
	{"since", "the day from which that holds; empty: always", 60},
};

/* --- from the log into the fields --- */

static void load(struct shed_form *shed, int field, const char *text)
{
	form_load(&shed->form, field, text);
	(void)text_copy(shed->before[field], EDIT_SIZE, form_text(&shed->form, field));
}

void shed_form_start(struct shed_form *shed, bool is_container)
{
	*shed = (struct shed_form){.is_container = is_container};
	form_start(&shed->form, is_container ? container_fields : product_fields, SHED_FIELDS);
}

static void load_mass(
	struct shed_form *shed, int field, struct maybe_i64 mass, enum unit_system units)
{
	char text[40] = "";
	if (mass.known)
		(void)mass_format(mass.value, units, text, sizeof text);
	load(shed, field, text);
}

static bool load_product(
	struct shed_form *shed, struct session *session, const char *id, struct arena *arena)
{
	struct product *products = NULL;
	int32_t count = 0;
	char analysis[40];
	struct fault why;
	if (store_product_list(session->store, arena, &products, &count, &why) != STATUS_OK)
		return false;
	for (int32_t i = 0; i < count; i++) {
		const struct product *product = &products[i];
		if (strcmp(product->id, id) != 0)
			continue;
		load(shed, PRODUCT_NAME, product->name);
		load(shed, PRODUCT_ANALYSIS, shed_analysis(product, analysis, sizeof analysis));
		load_mass(shed, PRODUCT_BAG, product->bag_mg, session->units);
		load_mass(shed, PRODUCT_CUP, product->cup_mg, session->units);
		load(shed, PRODUCT_ELEMENTS, product->elements);
		return true;
	}
	return false;
}

static bool find_container(
	struct session *session, const char *id, struct arena *arena, struct container *out)
{
	struct container *containers = NULL;
	struct container_weight *weights = NULL;
	int32_t count = 0, weight_count = 0;
	struct fault why;
	if (store_container_list(session->store, arena, &containers, &count, &weights,
		    &weight_count, &why) != STATUS_OK)
		return false;
	for (int32_t i = 0; i < count; i++) {
		if (strcmp(containers[i].id, id) != 0)
			continue;
		*out = containers[i];
		return true;
	}
	return false;
}

/* Its weight is asked anew: weights told earlier stay for the days they hold for. */
static bool load_container(
	struct shed_form *shed, struct session *session, const char *id, struct arena *arena)
{
	struct container container;
	char text[40] = "";
	if (!find_container(session, id, arena, &container))
		return false;
	load(shed, CONTAINER_NAME, container.name);
	if (container.volume_ul.known)
		(void)volume_format(
			container.volume_ul.value, &session->numbers, text, sizeof text);
	load(shed, CONTAINER_HOLDS, text);
	return true;
}

bool shed_form_load(
	struct shed_form *shed, struct session *session, const char *id, struct arena *arena)
{
	(void)text_copy(shed->id, sizeof shed->id, id);
	const bool there = shed->is_container ? load_container(shed, session, id, arena)
					      : load_product(shed, session, id, arena);
	form_go(&shed->form, shed->is_container ? CONTAINER_WEIGHS : PRODUCT_ANALYSIS);
	return there;
}

/* --- from the fields into the log --- */

static bool differs(const struct shed_form *shed, int field)
{
	return strcmp(form_text(&shed->form, field), shed->before[field]) != 0;
}

bool shed_form_differs(const struct shed_form *shed)
{
	for (int i = 0; i < SHED_FIELDS; i++)
		if (differs(shed, i))
			return true;
	return false;
}

/* The field without blanks around it; NULL: it says what the log says. */
static const char *words_of(const struct shed_form *shed, int field, struct arena *arena)
{
	if (!differs(shed, field))
		return NULL;
	return text_trim_in_place(arena_text(arena, form_text(&shed->form, field)));
}

/* A name is what entries call it by: it is given once. */
static enum status read_name(
	const struct shed_form *shed, struct arena *arena, char name[NAME_SIZE], struct fault *why)
{
	const char *words = words_of(shed, 0, arena);
	if (shed->id[0] != '\0' && words != NULL)
		return fault_set(why, STATUS_CONFLICT,
			"entries call it %s: add another of the new name, and remove this one",
			shed->before[0]);
	if (shed->id[0] == '\0' && (words == NULL || words[0] == '\0'))
		return fault_set(why, STATUS_RANGE, "it needs a name");
	if (words != NULL && !text_copy(name, NAME_SIZE, words))
		return fault_set(why, STATUS_RANGE, "the name is too long");
	return STATUS_OK;
}

static enum status keep_product(const struct shed_form *shed, struct session *session,
	struct arena *arena, struct fault *why)
{
	struct product fresh = {.elements = ""};
	struct product *product = &fresh, *products = NULL;
	int32_t count = 0;
	const struct product_words words = {.analysis = words_of(shed, PRODUCT_ANALYSIS, arena),
		.bag = words_of(shed, PRODUCT_BAG, arena),
		.cup = words_of(shed, PRODUCT_CUP, arena),
		.elements = words_of(shed, PRODUCT_ELEMENTS, arena)};
	enum status status = store_product_list(session->store, arena, &products, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if (strcmp(products[i].id, shed->id) == 0)
			product = &products[i];
	if (status == STATUS_OK && shed->id[0] != '\0' && product == &fresh)
		return fault_set(why, STATUS_ABSENT, "it was removed meanwhile");
	if (status == STATUS_OK)
		status = read_name(shed, arena, product->name, why);
	if (status == STATUS_OK)
		status = shed_product_read(&words, &session->numbers, product, why);
	return status == STATUS_OK ? shed_product_put(session->yard, product, why) : status;
}

static enum status read_container(const struct shed_form *shed, struct session *session,
	struct arena *arena, struct container *out, struct fault *why)
{
	const char *holds = words_of(shed, CONTAINER_HOLDS, arena);
	enum status status = read_name(shed, arena, out->name, why);
	if (status != STATUS_OK || holds == NULL)
		return status;
	if (shed->id[0] != '\0')
		return fault_set(why, STATUS_CONFLICT,
			"what %s holds stands already: only its weight is told anew", out->name);
	out->volume_ul.known = holds[0] != '\0';
	return out->volume_ul.known
		       ? volume_parse(holds, &session->numbers, &out->volume_ul.value, why)
		       : STATUS_OK;
}

static enum status keep_container(const struct shed_form *shed, struct session *session,
	struct arena *arena, struct fault *why)
{
	struct container container = {.id = ""};
	struct container_weight weight = {.id = ""};
	const struct line_context line = session_line_context(session);
	const struct weight_words words = {.weight = words_of(shed, CONTAINER_WEIGHS, arena),
		.species = words_of(shed, CONTAINER_KIND, arena),
		.from = words_of(shed, CONTAINER_FROM, arena)};
	const bool weighed = words.weight != NULL && words.weight[0] != '\0';
	if (shed->id[0] != '\0' && !find_container(session, shed->id, arena, &container))
		return fault_set(why, STATUS_ABSENT, "it was removed meanwhile");
	enum status status = read_container(shed, session, arena, &container, why);
	if (status == STATUS_OK && !weighed &&
		(words.species != NULL || words.from != NULL || shed->id[0] != '\0'))
		status = fault_set(why, STATUS_RANGE, "say what a full one weighs: 9 lb");
	if (status == STATUS_OK && weighed)
		status = shed_weight_read(&words, session->almanac, &line, &weight, why);
	if (status != STATUS_OK)
		return status;
	return shed_container_put(session->yard, &container, weighed ? &weight : NULL, why);
}

enum status shed_form_keep(const struct shed_form *shed, struct session *session, struct fault *why)
{
	struct arena *arena = arena_new();
	const enum status status = shed->is_container ? keep_container(shed, session, arena, why)
						      : keep_product(shed, session, arena, why);
	arena_free(arena);
	return status;
}

/* --- words --- */

static void add_mass(struct text_builder *text, const char *before, struct maybe_i64 mass,
	enum unit_system units)
{
	char said[40];
	if (mass.known)
		text_add_format(
			text, "%s%s", before, mass_format(mass.value, units, said, sizeof said));
}

const char *shed_product_words(
	const struct product *product, const struct session *session, struct arena *arena)
{
	struct text_builder text = text_builder_in(arena);
	char analysis[40];
	(void)shed_analysis(product, analysis, sizeof analysis);
	text_add(&text, analysis[0] != '\0' ? analysis : "analysis not known");
	add_mass(&text, ", bag ", product->bag_mg, session->units);
	add_mass(&text, ", a cup weighs ", product->cup_mg, session->units);
	return text.text;
}

const char *shed_container_words(
	const struct container *container, const struct session *session, struct arena *arena)
{
	char holds[40];
	if (!container->volume_ul.known)
		return "";
	return arena_format(arena, "holds %s",
		volume_format(container->volume_ul.value, &session->numbers, holds, sizeof holds));
}

const char *shed_weight_words(const struct container *container,
	const struct container_weight *weights, int32_t count, const struct session *session,
	struct arena *arena)
{
	struct text_builder text = text_builder_in(arena);
	char day[24];
	text_add(&text, "");
	for (int32_t i = 0; i < count; i++) {
		const struct container_weight *weight = &weights[i];
		if (strcmp(weight->container_id, container->id) != 0)
			continue;
		const struct species *species = almanac_species(session->almanac, weight->species);
		add_mass(&text,
			arena_format(arena,
				"%s: ", species != NULL ? species->name : "fruit of any kind"),
			known_i64(weight->weight_mg), session->units);
		text_add_format(&text, "%s%s\n", weight->from.known ? " from " : "",
			weight->from.known ? date_format_plain(weight->from.value, day, sizeof day)
					   : "");
	}
	if (text.length == 0)
		text_add(&text, "a full one was not weighed yet: its picks have no weight\n");
	return text.text;
}
