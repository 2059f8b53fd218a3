/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include "support/yard.h"

#include <string.h>

void yard_begin(struct log *yard, const char *what)
{
	struct fault why = {0};
	check_ok(store_act_begin(yard->store, ACT_WORK, what, &why), &why);
}

void yard_commit(struct log *yard)
{
	struct fault why = {0};
	check_ok(store_act_commit(yard->store, &why), &why);
}

struct date yard_day(const char *iso)
{
	struct fault why = {0};
	struct date day = {0};
	check_ok(date_parse_iso(iso, &day, &why), &why);
	return day;
}

struct maybe_date yard_maybe_day(const char *iso)
{
	return iso[0] == '\0' ? (struct maybe_date){.known = false} : known_date(yard_day(iso));
}

struct date_span yard_span(const char *edtf)
{
	struct fault why = {0};
	struct date_span span = {0};
	check_ok(date_span_parse(edtf, HEMISPHERE_NORTH, &span, &why), &why);
	return span;
}

struct amount yard_amount(enum field field, int64_t low, int64_t high, const char *typed)
{
	struct amount amount = {.dimension = field_row(field)->dimension,
		.field = (int32_t)field,
		.low = known_i64(low),
		.high = known_i64(high)};
	(void)snprintf(amount.typed, sizeof amount.typed, "%s", typed);
	return amount;
}

const char *yard_area(struct log *yard, struct arena *arena, const char *name)
{
	struct fault why = {0};
	struct area area = {0};
	(void)snprintf(area.name, sizeof area.name, "%s", name);
	check_ok(store_area_add(yard->store, &area, &why), &why);
	return arena_text(arena, area.id);
}

const char *yard_spot(struct log *yard, struct arena *arena, const char *name)
{
	struct fault why = {0};
	struct spot spot = {0};
	(void)snprintf(spot.name, sizeof spot.name, "%s", name);
	check_ok(store_spot_add(yard->store, &spot, &why), &why);
	return arena_text(arena, spot.id);
}

const char *yard_tree(struct log *yard, struct arena *arena, const char *label, const char *spot_id)
{
	struct fault why = {0};
	struct tree tree = {0};
	(void)snprintf(tree.label, sizeof tree.label, "%s", label);
	(void)snprintf(tree.spot_id, sizeof tree.spot_id, "%s", spot_id);
	check_ok(store_tree_add(yard->store, &tree, &why), &why);
	return arena_text(arena, tree.id);
}

const char *yard_graft(
	struct log *yard, struct arena *arena, const char *label, const char *host_id)
{
	struct fault why = {0};
	struct tree tree = {.how = ORIGIN_GRAFT};
	(void)snprintf(tree.label, sizeof tree.label, "%s", label);
	(void)snprintf(tree.host_id, sizeof tree.host_id, "%s", host_id);
	check_ok(store_tree_add(yard->store, &tree, &why), &why);
	return arena_text(arena, tree.id);
}

const char *yard_pick(struct log *yard, struct arena *arena, const char *tree_id, const char *day,
	int64_t weight_mg)
{
	struct fault why = {0};
	const struct amount weight = yard_amount(FIELD_WEIGHT, weight_mg, weight_mg, "a basket");
	struct entry entry = {.subject = {.kind = SUBJECT_TREE},
		.kind = KIND_PICK,
		.day = yard_span(day),
		.words = "picked a basket",
		.note = "",
		.amounts = &weight,
		.amount_count = 1};
	(void)snprintf(entry.subject.id, sizeof entry.subject.id, "%s", tree_id);
	check_ok(store_entry_add(yard->store, &entry, &why), &why);
	return arena_text(arena, entry.id);
}
