/* SPDX-License-Identifier: MIT */
/* Who stands around a tree, and who stood in its place before. */
#include "support/garden.h"

static int garden_setup(void **state)
{
	struct garden *garden = calloc(1, sizeof *garden);
	if (garden == NULL)
		return -1;
	garden_make(garden, "2026-06-20");
	*state = garden;
	return 0;
}

static int garden_teardown(void **state)
{
	garden_free(*state);
	free(*state);
	return 0;
}

/* Puts the spot of that name so many metres east and north. */
static void place_spot(struct garden *garden, const char *name, int64_t east_m, int64_t north_m)
{
	struct fault why = {0};
	struct spot spot = {.id = ""};
	check_ok(store_spot_find(garden->store, name, &spot, &why), &why);
	spot.east_um = known_i64(east_m * 1000000);
	spot.north_um = known_i64(north_m * 1000000);
	check_ok(store_act_begin(garden->store, ACT_WORK, "spot placed", &why), &why);
	check_ok(store_spot_save(garden->store, &spot, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static const struct neighbour *neighbour_of(const struct dossier *dossier, const char *label)
{
	for (int32_t i = 0; i < dossier->neighbour_count; i++)
		if (strcmp(dossier->neighbours[i].label, label) == 0)
			return &dossier->neighbours[i];
	return NULL;
}

static void neighbours_come_by_kind_with_this_tree_among_them(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "P1", "peach", "2015", "");
	garden_tree(garden, "A10", "apple", "2015", "");
	garden_tree(garden, "A2", "apple", "2015", "");
	garden_tree(garden, "A1", "apple", "2015", "");
	garden_tree(garden, "X1", "", "2015", "");
	garden_tree(garden, "L1", "lemon", "2015", "");
	const struct dossier *dossier = garden_story(garden, "A1");
	check_int(dossier->neighbour_count, 6, "all that stand");
	int32_t count = 0;
	const struct neighbour *apples =
		dossier_neighbours_of(dossier, almanac_species(garden->almanac, "apple"), &count);
	check_int(count, 3, "apples");
	check_text(apples[0].label, "A1", "the first by label");
	check_text(apples[1].label, "A2", "the second");
	check_text(apples[2].label, "A10", "ten after two");
	const struct neighbour *unknown = dossier_neighbours_of(dossier, NULL, &count);
	check_int(count, 1, "of unknown kind");
	check_text(unknown->label, "X1", "the unknown one");
	assert_null(
		dossier_neighbours_of(dossier, almanac_species(garden->almanac, "walnut"), &count));
	check_int(count, 0, "no walnut");
}

static void the_gone_are_no_neighbours(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "P1", "peach", "2015", "");
	garden_tree(garden, "P2", "peach", "2015", "");
	garden_log(garden, "P2 died @ 2026-05-01 ; canker");
	const struct dossier *dossier = garden_story(garden, "P1");
	check_int(dossier->neighbour_count, 1, "who stand");
	assert_null(neighbour_of(dossier, "P2"));
}

static void distance_is_on_the_flat_between_the_spots(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2015", "gate");
	garden_tree(garden, "A2", "apple", "2015", "wall");
	garden_tree(garden, "A3", "apple", "2015", "gate");
	garden_tree(garden, "A4", "apple", "2015", "");
	const struct dossier *dossier = garden_story(garden, "A1");
	assert_false(dossier_distance(dossier, neighbour_of(dossier, "A2")).known);
	place_spot(garden, "gate", 1, 2);
	place_spot(garden, "wall", 4, 6);
	dossier = garden_story(garden, "A1");
	struct maybe_i64 far = dossier_distance(dossier, neighbour_of(dossier, "A2"));
	assert_true(far.known);
	check_int(far.value, 5000000, "3 m east and 4 m north");
	check_int(dossier_distance(dossier, neighbour_of(dossier, "A3")).value, 0, "one spot");
	check_int(dossier_distance(dossier, neighbour_of(dossier, "A1")).value, 0, "itself");
	assert_false(dossier_distance(dossier, neighbour_of(dossier, "A4")).known);
}

static void a_graft_stands_where_its_host_does(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2015", "gate");
	place_spot(garden, "gate", 1, 2);
	garden_log(garden, "A1 grafted Comice @ 2020-03-01");
	const struct dossier *dossier = garden_story(garden, "A1");
	const struct neighbour *graft = neighbour_of(dossier, "A1/Comice");
	assert_non_null(graft);
	check_text(graft->host_id, dossier->tree.id, "its host");
	check_int(dossier_distance(dossier, graft).value, 0, "on one trunk");
}

static void tenants_are_those_before_and_beside(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "old peach", "peach", "2005", "gate");
	garden_log(garden, "old peach died @ 2019-05-01 ; canker");
	garden_tree(garden, "young peach", "peach", "2020", "gate");
	garden_tree(garden, "fig", "fig", "2021", "gate");
	garden_tree(garden, "far", "fig", "2021", "wall");
	const struct dossier *dossier = garden_story(garden, "young peach");
	check_int(dossier->tenant_count, 2, "before and beside");
	check_text(dossier->tenants[0].tree.label, "old peach", "the oldest first");
	check_text(dossier->tenants[0].kind.species->key, "peach", "its kind");
	check_int(dossier->tenants[0].to.known, 1, "gone");
	check_int(dossier->tenants[0].to.value.day, garden_day("2019-05-01").day, "since");
	check_text(dossier->tenants[1].tree.label, "fig", "beside");
	check_int(dossier->tenants[1].to.known, 0, "still there");
	check_int(garden_story(garden, "far")->tenant_count, 0, "alone at the wall");
}

struct looked {
	bool told;
	bool is_near;
};

static enum status look_at_visited(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct looked *looked = owner;
	(void)why;
	*looked = (struct looked){dossier->neighbours_told, dossier->label_is_near};
	return STATUS_OK;
}

static struct looked visit_one(struct garden *garden, const char *label)
{
	struct looked looked = {.told = false};
	struct fault why = {0};
	struct tree tree;
	const struct yard_visitor visitor = {.owner = &looked, .visit = look_at_visited};
	check_ok(store_tree_find(garden->store, label, &tree, &why), &why);
	check_ok(yard_visit(garden->yard, tree.id, &visitor, &why), &why);
	return looked;
}

/* A rule that does not ask for them costs nothing by the yard. */
static void a_visit_tells_neighbours_once_they_were_asked_for(void **state)
{
	struct garden *garden = *state;
	const struct neighbour *standing;
	struct fault why = {0};
	int32_t count;
	garden_tree(garden, "A1", "apple", "2015", "");
	garden_tree(garden, "B1", "apple", "2015", "");
	assert_false(visit_one(garden, "A1").told);
	check_ok(yard_standing(garden->yard, &standing, &count, &why), &why);
	assert_true(visit_one(garden, "A1").told);
	assert_true(garden_story(garden, "A1")->neighbours_told);
}

static void a_visit_tells_whether_any_label_is_near(void **state)
{
	struct garden *garden = *state;
	garden_tree(garden, "A1", "apple", "2015", "");
	garden_tree(garden, "A11", "apple", "2015", "");
	garden_tree(garden, "1-1", "apple", "2015", "");
	garden_tree(garden, "\xC3\x89t\xC3\xA9 2", "apple", "2015", "");
	assert_false(visit_one(garden, "A1").is_near);
	assert_false(visit_one(garden, "A11").is_near);
	assert_false(visit_one(garden, "\xC3\x89t\xC3\xA9 2").is_near);
	garden_tree(garden, "a-01", "apple", "2015", "");
	garden_tree(garden, "\xC3\xA9T\xC3\x89-02", "apple", "2015", "");
	assert_true(visit_one(garden, "A1").is_near);
	assert_true(visit_one(garden, "a-01").is_near);
	assert_true(visit_one(garden, "\xC3\x89t\xC3\xA9 2").is_near);
	assert_false(visit_one(garden, "A11").is_near);
	assert_false(visit_one(garden, "1-1").is_near);
}

#define FACT(name) cmocka_unit_test_setup_teardown(name, garden_setup, garden_teardown)

int main(void)
{
	const struct CMUnitTest tests[] = {
		FACT(neighbours_come_by_kind_with_this_tree_among_them),
		FACT(the_gone_are_no_neighbours),
		FACT(a_visit_tells_neighbours_once_they_were_asked_for),
		FACT(a_visit_tells_whether_any_label_is_near),
		FACT(distance_is_on_the_flat_between_the_spots),
		FACT(a_graft_stands_where_its_host_does),
		FACT(tenants_are_those_before_and_beside),
	};
	return cmocka_run_group_tests_name("around a tree", tests, NULL, NULL) != 0;
}
