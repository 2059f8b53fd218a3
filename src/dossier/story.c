/* SPDX-License-Identifier: MIT */
/* One tree's dossier: what was done to it, where it stands, what it gave, what stands on it.
 *
 * Work told of a spot or an area is work on each tree that stood there that day. Its figures are
 * the tree's only where it stood alone in the spot; else the work counts and the figure does not,
 * because nothing is ever shared out. Picks and losses of a spot are the spot's own. */
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

enum { GRAFTS_DEEP_MAX = 8 }; /* a graft on a graft on a graft ...: more is a broken log */

/* A dossier being filled. */
struct tale {
	const struct telling *telling;
	struct dossier *dossier;
	struct entry_list done;
	struct entry_list planned;
	struct identity *identities;
	int32_t identity_count;
};

static void tale_add(struct tale *tale, const struct entry *entry)
{
	entry_list_add(entry->planned ? &tale->planned : &tale->done, entry);
}

/* Entries of one subject, with the one to be tried when it is about that subject. */
static enum status load_entries(const struct telling *telling, const char *subject_id, int planned,
	struct entry_list *out, struct fault *why)
{
	struct entry_query query = {.subject_id = subject_id, .planned = planned};
	struct yard *yard = telling->yard;
	struct entry *entries;
	int32_t count;
	enum status status = STATUS_ABSENT;
	if (yard->shelf != NULL && planned < 0)
		status = store_shelf_list(yard->store, yard->shelf, subject_id, telling->arena,
			&entries, &count, why);
	if (status == STATUS_ABSENT)
		status = store_entry_list(
			yard->store, &query, telling->arena, &entries, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		entry_list_add(out, &entries[i]);
	const struct entry *extra = telling->extra;
	if (extra != NULL && strcmp(extra->subject.id, subject_id) == 0)
		entry_list_add(out, extra);
	return status;
}

static enum status add_own_entries(struct tale *tale, struct fault *why)
{
	struct entry_list own = {.arena = tale->telling->arena};
	enum status status = load_entries(tale->telling, tale->dossier->tree.id, -1, &own, why);
	for (int32_t i = 0; status == STATUS_OK && i < own.count; i++)
		tale_add(tale, own.items[i]);
	return status;
}

/* --- work told of a spot or an area --- */

static bool stood_on(const struct tree_place *place, const struct entry *entry)
{
	struct maybe_date day = date_span_first(&entry->day);
	return day.known && (!place->from.known || place->from.value.day <= day.value.day) &&
	       (!place->to.known || day.value.day < place->to.value.day);
}

/* Kinds that speak of one plant or of the crop: never passed on from a spot. */
static bool stays_with_spot(enum entry_kind kind)
{
	return kind == KIND_PICK || kind == KIND_LOSS || kind == KIND_USE || kind == KIND_DIED ||
	       kind == KIND_MOVE || kind == KIND_PLANT || kind == KIND_GRAFT || kind == KIND_POT_UP;
}

/* The label's days hold for every tree that was sprayed; they are no share of anything. */
static void keep_label_days(struct tale *tale, const struct entry *entry, struct entry *copy)
{
	struct amount *kept =
		arena_array(tale->telling->arena, (size_t)entry->amount_count + 1, sizeof *kept);
	for (int32_t i = 0; i < entry->amount_count; i++) {
		int32_t field = entry->amounts[i].field;
		if (field == (int32_t)FIELD_DAYS_TO_HARVEST || field == (int32_t)FIELD_REENTRY)
			kept[copy->amount_count++] = entry->amounts[i];
	}
	copy->amounts = kept;
}

static void add_without_figures(struct tale *tale, const struct entry *entry)
{
	if (entry->kind == KIND_MEASURE)
		return;
	struct entry *copy = arena_alloc(tale->telling->arena, sizeof *copy);
	*copy = *entry;
	copy->amounts = NULL;
	copy->amount_count = 0;
	if (entry->kind == KIND_SPRAY)
		keep_label_days(tale, entry, copy);
	copy->stems = NULL;
	copy->stem_count = 0;
	tale_add(tale, copy);
}

static bool stood_alone(const struct tree_place *places, int32_t count, const struct entry *entry)
{
	int32_t standing = 0;
	for (int32_t i = 0; i < count; i++)
		standing += stood_on(&places[i], entry) ? 1 : 0;
	return standing <= 1;
}

/* A crop of the spot is never shared out, yet it was picked off what stands there. */
static void note_spot_crop(struct dossier *dossier, const struct entry *entry)
{
	struct maybe_date day = date_span_first(&entry->day);
	bool crop = entry->kind == KIND_PICK || entry->kind == KIND_LOSS;

	if (!crop || entry->planned || !day.known)
		return;
	if (!dossier->spot_crops_since.known ||
		date_compare(day.value, dossier->spot_crops_since.value) < 0)
		dossier->spot_crops_since = day;
}

static enum status add_spot_entries(
	struct tale *tale, const struct tree_place *place, struct fault *why)
{
	const struct telling *telling = tale->telling;
	struct entry_list work = {.arena = telling->arena};
	enum status status = load_entries(telling, place->spot_id, -1, &work, why);
	if (status != STATUS_OK || work.count == 0)
		return status;
	struct tree_place *places;
	int32_t count;
	status = store_tree_place_list(
		telling->yard->store, NULL, place->spot_id, telling->arena, &places, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < work.count; i++) {
		const struct entry *entry = work.items[i];
		if (stood_on(place, entry))
			note_spot_crop(tale->dossier, entry);
		if (stays_with_spot(entry->kind) || !stood_on(place, entry))
			continue;
		if (stood_alone(places, count, entry))
			tale_add(tale, entry);
		else
			add_without_figures(tale, entry);
	}
	return status;
}

static void add_area_entry(struct tale *tale, const struct tree_place *place, const char *area_id,
	const struct entry *entry)
{
	if (strcmp(entry->subject.id, area_id) == 0 && !stays_with_spot(entry->kind) &&
		stood_on(place, entry))
		add_without_figures(tale, entry);
}

static enum status add_place_of_tree(
	struct tale *tale, const struct tree_place *place, struct fault *why)
{
	const struct telling *telling = tale->telling;
	const struct yard *yard = telling->yard;
	struct spot *spot = arena_alloc(telling->arena, sizeof *spot);
	enum status status = store_spot_load(yard->store, place->spot_id, spot, why);
	if (status != STATUS_OK)
		return status;
	if ((!place->from.known || place->from.value.day <= telling->today.day) &&
		(!place->to.known || place->to.value.day > telling->today.day))
		tale->dossier->spot = spot;
	for (int32_t i = 0; spot->area_id[0] != '\0' && i < yard->area_entries.count; i++)
		add_area_entry(tale, place, spot->area_id, yard->area_entries.items[i]);
	if (telling->extra != NULL && telling->extra->subject.kind == SUBJECT_AREA)
		add_area_entry(tale, place, spot->area_id, telling->extra);
	return add_spot_entries(tale, place, why);
}

static enum status add_places(struct tale *tale, struct fault *why)
{
	const struct telling *telling = tale->telling;
	struct tree_place *places;
	int32_t count;
	enum status status = store_tree_place_list(telling->yard->store, tale->dossier->tree.id,
		NULL, telling->arena, &places, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if (places[i].spot_id[0] != '\0')
			status = add_place_of_tree(tale, &places[i], why);
	if (status == STATUS_OK && tale->dossier->spot != NULL)
		status = around_tell_tenants(telling, tale->dossier->spot->id, tale->dossier, why);
	return status;
}

/* A cut on the host cuts its grafts, and what is to be left alone is left with all it bears. */
static void add_host_entries(struct tale *tale)
{
	const struct dossier *host = tale->dossier->host;
	struct maybe_date grafted = date_span_first(&tale->dossier->tree.planted);
	for (int32_t i = 0; i < host->entry_count; i++) {
		const struct entry *entry = host->entries[i];
		struct maybe_date day = date_span_first(&entry->day);
		bool before = grafted.known && day.known && day.value.day < grafted.value.day;
		if ((entry->kind == KIND_CUT || entry->kind == KIND_LEAVE) && !before)
			entry_list_add(&tale->done, entry);
	}
	tale->dossier->spot = host->spot;
	tale->dossier->tenants = host->tenants;
	tale->dossier->tenant_count = host->tenant_count;
}

/* --- what follows from the entries --- */

static void tell_age(struct dossier *dossier, struct date today)
{
	const struct date_span *planted = &dossier->tree.planted;
	const struct maybe_date *ends[2] = {&planted->high, &planted->low};
	struct maybe_i32 *ages[2] = {&dossier->age_low_years, &dossier->age_high_years};
	struct date_parts now = date_parts(today);
	for (int i = 0; i < 2; i++) {
		if (!ends[i]->known)
			continue;
		struct date_parts then = date_parts(ends[i]->value);
		int32_t years = now.year - then.year;
		bool before_day =
			now.month < then.month || (now.month == then.month && now.day < then.day);
		years -= before_day ? 1 : 0;
		*ages[i] = known_i32(years < 0 ? 0 : years);
	}
}

/* How many trunks there are: as many as were measured together last, else all ever measured. */
static int32_t count_stems(const struct dossier *dossier)
{
	int32_t most = 1;
	for (int32_t i = dossier->entry_count; i-- > 0;) {
		const struct entry *entry = dossier->entries[i];
		int32_t together = 0;
		for (int32_t k = 0; k < entry->stem_count; k++) {
			together += entry->stems[k].stem > 0 ? 1 : 0;
			if (entry->stems[k].stem > most)
				most = entry->stems[k].stem;
		}
		if (together > 1)
			return together;
	}
	return most;
}

static void tell_trunk(struct tale *tale)
{
	struct dossier *dossier = tale->dossier;
	struct trunk_reading *readings = NULL;
	dossier->reading_count = trunk_readings(
		dossier->entries, dossier->entry_count, tale->telling->arena, &readings);
	dossier->readings = readings;
	dossier->trunk = trunk_at(
		readings, dossier->reading_count, count_stems(dossier), tale->telling->today);
}

static void tell_crops(struct tale *tale)
{
	struct dossier *dossier = tale->dossier;
	const struct telling *telling = tale->telling;
	struct era eras[ERAS_MAX + 1];
	int32_t count = eras_of_tree(telling->yard, tale->identities, tale->identity_count,
		dossier->tree.id, telling->today, eras);
	struct entry_list crops = {.arena = telling->arena};
	struct entry_list own = {.arena = telling->arena};
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		if (strcmp(entry->subject.id, dossier->tree.id) != 0)
			continue;
		entry_list_add(&own, entry);
		if (entry->kind == KIND_PICK || entry->kind == KIND_LOSS)
			entry_list_add(&crops, entry);
	}
	const struct era *era = &eras[count - 1];
	struct crop_story crop = crop_tell(telling, &crops, eras, count);
	dossier->season_rule = era->rule;
	dossier->season_year = season_year_of(&era->rule, telling->today);
	dossier->seasons = crop.seasons;
	dossier->season_count = crop.season_count;
	dossier->season_own = crop.season_own;
	dossier->expected = crop.expected;
	memcpy(dossier->parts, crop.parts, sizeof dossier->parts);
	dossier->learning = learn_from(telling, &own, &dossier->kind, &crop, era);
}

/* The yard's list, with the entry to be tried in it where it belongs there. */
static struct entry_list list_with(
	const struct telling *telling, const struct entry_list *shared, bool extra_too)
{
	struct entry_list list = *shared;
	if (!extra_too)
		return list;
	list = (struct entry_list){.arena = telling->arena};
	for (int32_t i = 0; i < shared->count; i++)
		entry_list_add(&list, shared->items[i]);
	entry_list_add(&list, telling->extra);
	entry_list_sort(&list);
	return list;
}

static void tell_shared(struct tale *tale)
{
	const struct telling *telling = tale->telling;
	const struct yard *yard = telling->yard;
	struct dossier *dossier = tale->dossier;
	dossier->place = &yard->told;
	dossier->climate = yard->climate;
	dossier->own_windows = yard->own_windows;
	dossier->own_window_count = yard->own_window_count;
	dossier->own_rates = yard->own_rates;
	dossier->own_rate_count = yard->own_rate_count;
	dossier->choices = yard->choices;
	dossier->choice_count = yard->choice_count;
	dossier->products = yard->products;
	dossier->product_count = yard->product_count;
	dossier->picks_since = yard->picks_since;
	dossier->weather = yard->weather;
	dossier->weather_count = yard->weather_count;
	dossier->forecasts = yard->forecasts;
	dossier->forecast_count = yard->forecast_count;
	dossier->label_is_near = labels_may_be_near(yard->labels, dossier->tree.label);
	dossier->neighbours_told = yard->neighbours != NULL;
	dossier->neighbours = yard->neighbours;
	dossier->neighbour_count = yard->neighbour_count;
	bool of_place = telling->extra != NULL && telling->extra->subject.kind == SUBJECT_PLACE;
	bool is_sowing = telling->extra != NULL && telling->extra->kind == KIND_SOW;
	struct entry_list place = list_with(telling, &yard->place_entries, of_place);
	struct entry_list sowings = list_with(telling, &yard->sowings, is_sowing);
	dossier->place_entries = place.items;
	dossier->place_entry_count = place.count;
	dossier->sowings = sowings.items;
	dossier->sowing_count = sowings.count;
}

static enum status tell_tree(const struct telling *telling, const struct tree *tree,
	const struct dossier *host, struct dossier *out, struct fault *why)
{
	struct tale tale = {
		.telling = telling,
		.dossier = out,
		.done.arena = telling->arena,
		.planned.arena = telling->arena,
	};
	out->tree = *tree;
	out->host = host;
	tell_shared(&tale);
	enum status status = store_identity_list(telling->yard->store, tree->id, telling->arena,
		&tale.identities, &tale.identity_count, why);
	if (status == STATUS_OK)
		status = add_own_entries(&tale, why);
	if (status == STATUS_OK && host == NULL)
		status = add_places(&tale, why);
	if (status != STATUS_OK)
		return status;
	if (host != NULL)
		add_host_entries(&tale);
	entry_list_sort(&tale.done);
	entry_list_sort(&tale.planned);
	out->entries = tale.done.items;
	out->entry_count = tale.done.count;
	out->planned = tale.planned.items;
	out->planned_count = tale.planned.count;
	out->kind = kind_on(
		telling->yard->almanac, tale.identities, tale.identity_count, telling->today);
	tell_age(out, telling->today);
	tell_crops(&tale);
	tell_trunk(&tale);
	return STATUS_OK;
}

/* --- host and grafts --- */

static enum status tell_grafts(
	const struct telling *telling, struct dossier *host, int32_t deep, struct fault *why)
{
	struct tree_query query = {.host_id = host->tree.id};
	struct tree *trees;
	int32_t count;
	enum status status =
		store_tree_list(telling->yard->store, &query, telling->arena, &trees, &count, why);
	if (status != STATUS_OK || count == 0 || deep == GRAFTS_DEEP_MAX)
		return status;
	const struct dossier **grafts =
		arena_array(telling->arena, (size_t)count, sizeof(struct dossier *));
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct dossier *graft = arena_alloc(telling->arena, sizeof *graft);
		grafts[i] = graft;
		status = tell_tree(telling, &trees[i], host, graft, why);
		if (status == STATUS_OK)
			status = tell_grafts(telling, graft, deep + 1, why);
	}
	host->grafts = grafts;
	host->graft_count = count;
	return status;
}

enum status story_tell_whole(const struct telling *telling, const struct tree *tree,
	const struct dossier **out, struct fault *why)
{
	struct dossier *dossier = arena_alloc(telling->arena, sizeof *dossier);
	enum status status = shared_load(telling->yard, why);
	if (status == STATUS_OK && telling->later)
		status = labels_load(telling->yard, why);
	else if (status == STATUS_OK && !telling->alone)
		status = around_load(telling->yard, why);
	if (status == STATUS_OK)
		status = tell_tree(telling, tree, NULL, dossier, why);
	if (status == STATUS_OK)
		status = tell_grafts(telling, dossier, 0, why);
	*out = dossier;
	return status;
}

static const struct dossier *find_in(const struct dossier *dossier, const char *tree_id)
{
	if (strcmp(dossier->tree.id, tree_id) == 0)
		return dossier;
	const struct dossier *found = NULL;
	for (int32_t i = 0; found == NULL && i < dossier->graft_count; i++)
		found = find_in(dossier->grafts[i], tree_id);
	return found;
}

enum status story_tell(const struct telling *telling, const char *tree_id,
	const struct dossier **out, struct fault *why)
{
	struct store *store = telling->yard->store;
	struct tree tree;
	enum status status = store_tree_load(store, tree_id, &tree, why);
	if (status != STATUS_OK)
		return status;
	struct tree root = tree;
	for (int32_t deep = 0; root.host_id[0] != '\0' && deep < GRAFTS_DEEP_MAX; deep++) {
		char host_id[ID_SIZE];
		memcpy(host_id, root.host_id, sizeof host_id);
		status = store_tree_load(store, host_id, &root, why);
		if (status != STATUS_OK)
			return status;
	}
	const struct dossier *whole;
	status = story_tell_whole(telling, &root, &whole, why);
	if (status != STATUS_OK)
		return status;
	*out = find_in(whole, tree_id);
	if (*out != NULL)
		return STATUS_OK;
	/* a graft that is gone: told by itself, on the host as it is */
	struct dossier *gone = arena_alloc(telling->arena, sizeof *gone);
	*out = gone;
	return tell_tree(telling, &tree, whole, gone, why);
}
