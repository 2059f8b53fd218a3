/* SPDX-License-Identifier: MIT */
#include "report/sun_report.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum { TROPIC_UDEG = 12000000, EVERY_MONTH = (1 << MONTHS) - 1 };

static const double um_in_m = 1e6;
static const double udeg = 1e6;
static const uint32_t northern_summer = 1U << 5 | 1U << 6 | 1U << 7;
static const uint32_t southern_summer = 1U << 11 | 1U << 0 | 1U << 1;

/* --- the place and its day --- */

static struct sun_site site_of(const struct place *place)
{
	return (struct sun_site){
		.latitude_deg = place->latitude_udeg.value / udeg,
		.longitude_deg =
			place->longitude_udeg.known ? place->longitude_udeg.value / udeg : 0,
	};
}

static void tell_heat(const struct place *place, struct sun_report *report)
{
	bool tropics = place->latitude_udeg.value < TROPIC_UDEG &&
		       place->latitude_udeg.value > -TROPIC_UDEG;

	report->hot_months = report->ground->hot_months;
	report->heat = HEAT_LOGGED;
	if (report->hot_months != 0)
		return;
	report->heat = tropics ? HEAT_UNKNOWN : HEAT_SUMMER;
	if (!tropics)
		report->hot_months =
			place->latitude_udeg.value > 0 ? northern_summer : southern_summer;
}

static enum status make_path(const struct sun_report *report, const struct sun_options *options,
	const struct sun_site *site, struct arena *arena, const struct shade_path **out,
	struct fault *why)
{
	struct shade_days one = {report->date, report->date, 1, 1};

	if (options->day.known)
		return shade_path_make(site, &one, arena, out, why);
	return shade_path_of_year(site, date_parts(report->date).year, arena, out, why);
}

/* --- a spot --- */

struct looking {
	const struct sun_report *report;
	const struct shade_path *path;
	uint32_t months; /* those that the path has */
	bool *own;       /* a room for each body */
	double *minutes;
	struct shade_horizon *horizon;
};

/* The bodies that take most, most first; less than half a minute is left out. */
static void name_takers(const struct looking *looking, struct sun_taker takers[SUN_TAKERS])
{
	const struct yard_ground *ground = looking->report->ground;

	for (int at = 0; at < SUN_TAKERS; at++) {
		double most = 0.5;
		for (int32_t i = 0; i < ground->body_count; i++)
			if (looking->minutes[i] > most) {
				most = looking->minutes[i];
				takers[at] = (struct sun_taker){
					&ground->bodies[i], &ground->shapes[i], most};
			}
		if (takers[at].body == NULL)
			return;
		looking->minutes[takers[at].body - ground->bodies] = 0;
	}
}

static void find_takers(
	const struct looking *looking, bool afternoons, struct sun_taker takers[SUN_TAKERS])
{
	struct shade_when when = {
		looking->months & (afternoons ? looking->report->hot_months : EVERY_MONTH),
		afternoons};

	shade_by_body(looking->path, looking->horizon, when, looking->minutes,
		looking->report->ground->body_count);
	name_takers(looking, takers);
}

/* Of the mean afternoon of the months in heat. */
static void add_afternoons(uint32_t hot_months, struct sun_spot *spot)
{
	int32_t days = 0;

	for (int i = 0; i < MONTHS; i++) {
		const struct shade_month *month = &spot->months[i];

		if ((hot_months >> i & 1) == 0)
			continue;
		days += month->days;
		spot->afternoon_up_min += month->afternoon_up_min * month->days;
		spot->afternoon_sun_min += month->afternoon_sun_min * month->days;
	}
	if (days == 0)
		return;
	spot->afternoon_up_min /= days;
	spot->afternoon_sun_min /= days;
}

static void look_from(const struct looking *looking, struct sun_spot *spot)
{
	const struct yard_ground *ground = looking->report->ground;
	const struct shade_point from = {(double)spot->spot->east_um.value / um_in_m,
		(double)spot->spot->north_um.value / um_in_m};

	spot->placed = spot->spot->kind != SPOT_OFF_PLACE && spot->spot->east_um.known &&
		       spot->spot->north_um.known;
	if (!spot->placed)
		return;
	for (int32_t i = 0; i < ground->body_count; i++)
		looking->own[i] = strcmp(ground->bodies[i].spot_id, spot->spot->id) == 0;
	shade_look(&from, (double)looking->report->level_um / um_in_m, ground->shapes, looking->own,
		ground->body_count, looking->horizon);
	if (looking->horizon->over >= 0)
		spot->under = &ground->bodies[looking->horizon->over];
	shade_months(looking->path, looking->horizon, spot->months);
	add_afternoons(looking->report->hot_months, spot);
}

/* Names cost more than hours: they are found for one spot alone. */
static void look_from_all(struct sun_report *report, const struct sun_options *options,
	const struct shade_path *path, struct arena *arena)
{
	const struct yard_ground *ground = report->ground;
	size_t room = (size_t)ground->body_count + 1;
	struct looking looking = {.report = report,
		.path = path,
		.months = EVERY_MONTH,
		.own = arena_array(arena, room, sizeof *looking.own),
		.minutes = arena_array(arena, room, sizeof *looking.minutes),
		.horizon = arena_alloc(arena, sizeof *looking.horizon)};

	shade_look(&(struct shade_point){0, 0}, 0, NULL, NULL, 0, looking.horizon);
	shade_months(path, looking.horizon, report->open);
	report->spots = arena_array(arena, (size_t)ground->spot_count + 1, sizeof *report->spots);
	for (int32_t i = 0; i < ground->spot_count; i++) {
		const struct spot *one = &ground->spots[i];
		bool wanted = options->spot_id == NULL || strcmp(one->id, options->spot_id) == 0;

		if (!wanted)
			continue;
		struct sun_spot *spot = &report->spots[report->spot_count++];
		spot->spot = one;
		look_from(&looking, spot);
		if (options->spot_id == NULL || !spot->placed)
			continue;
		find_takers(&looking, false, spot->takers);
		find_takers(&looking, true, spot->afternoons);
	}
}

enum status sun_report_make(struct yard *yard, const struct sun_options *options,
	struct arena *arena, struct sun_report *out, struct fault *why)
{
	const struct place *place = yard_place(yard);
	const struct shade_path *path = NULL;
	struct sun_site site = site_of(place);
	enum status status;

	*out = (struct sun_report){
		.latitude_known = place->latitude_udeg.known,
		.longitude_known = place->longitude_udeg.known,
		.date = options->day.known ? options->day.value : yard_today(yard),
		.level_um = options->level_um,
	};
	status = yard_ground(yard, &out->ground, why);
	if (status != STATUS_OK || !out->latitude_known)
		return status;
	tell_heat(place, out);
	status = sun_of_day(&site, out->date, &out->day, why);
	if (status == STATUS_OK)
		status = make_path(out, options, &site, arena, &path, why);
	if (status == STATUS_OK)
		look_from_all(out, options, path, arena);
	return status;
}

bool sun_gap_counts(const struct ground_gap *gap, const struct spot *spot)
{
	return spot == NULL || strcmp(gap->spot_id, spot->id) != 0;
}

int32_t sun_gap_count(const struct yard_ground *ground, const struct spot *spot)
{
	int32_t count = 0;

	for (int32_t i = 0; i < ground->gap_count; i++)
		count += sun_gap_counts(&ground->gaps[i], spot) ? 1 : 0;
	return count;
}

/* --- words --- */

/* Does every month of the mask follow the one before, from this one on? */
static int32_t run_from(uint32_t months, int32_t first)
{
	int32_t length = 0;

	while (length < MONTHS && (months >> (first + length) % MONTHS & 1) != 0)
		length++;
	return length;
}

static int32_t month_count(uint32_t months)
{
	int32_t count = 0;

	for (int32_t i = 0; i < MONTHS; i++)
		count += (int32_t)(months >> i & 1);
	return count;
}

const char *sun_month_words(uint32_t months, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	int32_t count = month_count(months);

	text_add(&words, "");
	for (int32_t first = 0; first < MONTHS && count > 2 && count < MONTHS; first++)
		if ((months >> (first + MONTHS - 1) % MONTHS & 1) == 0 &&
			run_from(months, first) == count) {
			text_add_format(&words, "%s to %s", date_month_name(first + 1),
				date_month_name((first + count - 1) % MONTHS + 1));
			return out;
		}
	for (int32_t i = 0; i < MONTHS; i++)
		if ((months >> i & 1) != 0)
			text_add_format(&words, "%s%s", words.length > 0 ? ", " : "",
				date_month_name(i + 1));
	return out;
}

/* The month whose days are longest, or shortest. */
static int32_t month_of(const struct sun_report *report, bool longest)
{
	int32_t found = 0;

	for (int32_t i = 1; i < MONTHS; i++)
		if (longest ? report->open[i].up_min > report->open[found].up_min
			    : report->open[i].up_min < report->open[found].up_min)
			found = i;
	return found;
}

static void add_month(struct text_builder *words, const struct sun_spot *spot, int32_t month)
{
	const struct shade_month *hours = &spot->months[month];

	text_add_format(words, "%.1f of %.1f h in %s", hours->sun_min / 60, hours->up_min / 60,
		date_month_name(month + 1));
}

static void add_afternoon(
	struct text_builder *words, const struct sun_report *report, const struct sun_spot *spot)
{
	char months[160];
	double shade_min = spot->afternoon_up_min - spot->afternoon_sun_min;
	const double told_min = 15; /* less of it keeps no heat off */

	if (report->heat == HEAT_UNKNOWN || spot->afternoons[0].body == NULL ||
		shade_min < told_min)
		return;
	text_add_format(words, "; afternoon shade %s %s: %.1f of %.1f h, from %s",
		report->heat == HEAT_LOGGED ? "in heat," : "in summer,",
		sun_month_words(report->hot_months, months, sizeof months), shade_min / 60,
		spot->afternoon_up_min / 60, spot->afternoons[0].body->name);
	if (spot->afternoons[1].body != NULL && spot->afternoons[1].minutes >= told_min)
		text_add_format(words, " and %s", spot->afternoons[1].body->name);
}

/* Is anything of known size there but what stands in the spot itself? */
static bool is_drawn(const struct yard_ground *ground, const struct spot *spot)
{
	for (int32_t i = 0; i < ground->body_count; i++)
		if (strcmp(ground->bodies[i].spot_id, spot->id) != 0)
			return true;
	return false;
}

enum status sun_words_of_tree(struct yard *yard, const struct dossier *dossier, struct arena *arena,
	const char **out, struct fault *why)
{
	const struct yard_ground *ground = NULL;
	const struct dossier *stands = dossier->host != NULL ? dossier->host : dossier;
	const struct spot *spot = stands->spot;
	struct sun_report report;
	enum status status;

	*out = "";
	if (spot == NULL || !spot->east_um.known || !spot->north_um.known ||
		spot->kind == SPOT_OFF_PLACE || dossier->tree.gone.text[0] != '\0' ||
		!yard_place(yard)->latitude_udeg.known)
		return STATUS_OK;
	status = yard_ground(yard, &ground, why);
	if (status != STATUS_OK || !is_drawn(ground, spot))
		return status;
	struct sun_options options = {.spot_id = spot->id, .level_um = SUN_LEVEL_UM};
	status = sun_report_make(yard, &options, arena, &report, why);
	if (status != STATUS_OK || report.spot_count == 0)
		return status;
	struct text_builder words = text_builder_in(arena);
	add_month(&words, &report.spots[0], month_of(&report, true));
	text_add(&words, ", ");
	add_month(&words, &report.spots[0], month_of(&report, false));
	add_afternoon(&words, &report, &report.spots[0]);
	int32_t gaps = sun_gap_count(ground, spot);
	if (gaps > 0)
		text_add_format(&words, "; %d not counted", gaps);
	*out = words.text;
	return STATUS_OK;
}
