/* SPDX-License-Identifier: MIT */
#include "reckon/shade.h"

#include <math.h>

enum { MINUTES = 1440, YEAR_EVERY_DAYS = 2, YEAR_EVERY_MIN = 5 };

static const double pi = 3.14159265358979323846;
static const double near_m = 0.001;       /* nothing is nearer than this */
static const double low_tangent = 0.0087; /* half a degree: too low to matter */

static double sector_of(double east_m, double north_m)
{
	double turns = atan2(east_m, north_m) / (2 * pi);

	return (turns < 0 ? turns + 1 : turns) * SHADE_SECTORS;
}

static double azimuth_of(int32_t sector)
{
	return (sector + 0.5) / SHADE_SECTORS * 2 * pi;
}

/* --- what is seen all round --- */

struct looking {
	struct shade_point from;
	double level_m;
	const struct shade_body *body;
	int32_t place; /* of the body in the list */
	struct shade_edge *edges;
};

static void raise(const struct looking *looking, int32_t sector, double distance_m)
{
	int32_t at = ((sector % SHADE_SECTORS) + SHADE_SECTORS) % SHADE_SECTORS;
	double over_m = looking->body->height_m - looking->level_m;
	float tangent = (float)(over_m / (distance_m > near_m ? distance_m : near_m));

	if (tangent > looking->edges[at].tangent)
		looking->edges[at] = (struct shade_edge){tangent, looking->place};
}

/* A straight piece of wall: the sectors between its ends, the short way round. */
static void see_wall(
	const struct looking *looking, struct shade_point first, struct shade_point last)
{
	double east = first.east_m - looking->from.east_m;
	double north = first.north_m - looking->from.north_m;
	double along_east = last.east_m - first.east_m;
	double along_north = last.north_m - first.north_m;
	double from = sector_of(east, north);
	double wide =
		remainder(sector_of(east + along_east, north + along_north) - from, SHADE_SECTORS);
	double low = wide < 0 ? from + wide : from;
	double high = wide < 0 ? from : from + wide;

	/* sectors whose middle lies between the ends */
	for (int32_t sector = (int32_t)ceil(low - 0.5); sector + 0.5 < high; sector++) {
		double azimuth = azimuth_of(sector);
		double across = sin(azimuth) * along_north - cos(azimuth) * along_east;
		if (across != 0)
			raise(looking, sector, (east * along_north - north * along_east) / across);
	}
}

static void see_built(const struct looking *looking)
{
	const struct shade_body *body = looking->body;

	for (int32_t i = 1; i < body->point_count; i++)
		see_wall(looking, body->points[i - 1], body->points[i]);
	if (body->closed && body->point_count > 2)
		see_wall(looking, body->points[body->point_count - 1], body->points[0]);
}

/* A drum: the near side of the circle, where a line of sight first meets it. */
static void see_tree(const struct looking *looking, struct shade_horizon *horizon)
{
	const struct shade_body *body = looking->body;
	double east = body->points[0].east_m - looking->from.east_m;
	double north = body->points[0].north_m - looking->from.north_m;
	double distance = sqrt(east * east + north * north);

	if (body->height_m - looking->level_m < low_tangent * (distance - body->radius_m))
		return;
	if (distance <= body->radius_m) {
		horizon->over = looking->place;
		for (int32_t sector = 0; sector < SHADE_SECTORS; sector++)
			raise(looking, sector, 0);
		return;
	}
	double middle = sector_of(east, north);
	double half = asin(body->radius_m / distance) / (2 * pi) * SHADE_SECTORS;
	for (int32_t sector = (int32_t)ceil(middle - half - 0.5); sector + 0.5 < middle + half;
		sector++) {
		double beside = (sector + 0.5 - middle) / SHADE_SECTORS * 2 * pi;
		double off = distance * sin(beside);
		double inside = body->radius_m * body->radius_m - off * off;
		raise(looking, sector, distance * cos(beside) - sqrt(inside > 0 ? inside : 0));
	}
}

void shade_look(const struct shade_point *from, double level_m, const struct shade_body *bodies,
	const bool *is_own, int32_t count, struct shade_horizon *out)
{
	out->over = -1;
	for (int kind = 0; kind < SHADE_KINDS; kind++)
		for (int32_t sector = 0; sector < SHADE_SECTORS; sector++)
			out->edges[kind][sector] = (struct shade_edge){0, -1};
	for (int32_t i = 0; i < count; i++) {
		struct looking looking = {
			*from, level_m, &bodies[i], i, out->edges[bodies[i].kind]};

		if ((is_own != NULL && is_own[i]) || !(bodies[i].height_m > level_m))
			continue;
		if (bodies[i].kind == SHADE_TREE)
			see_tree(&looking, out);
		else
			see_built(&looking);
	}
}

/* --- the sun's way --- */

struct shade_path {
	double minutes_each; /* what one sample stands for */
	int32_t days[MONTHS];
	int32_t count;
	struct sample {
		float tangent; /* of the sun's altitude, above 0 */
		int16_t sector;
		int8_t month; /* from 0 */
		bool afternoon;
	} * samples;
};

static void add_sample(struct shade_path *path, const struct sun_position *sun, int32_t month)
{
	double altitude = sun->altitude_deg * pi / 180;

	if (!(altitude > 0))
		return;
	path->samples[path->count++] = (struct sample){
		.tangent = (float)tan(altitude),
		.sector = (int16_t)((int32_t)(sun->azimuth_deg / 360 * SHADE_SECTORS) %
				    SHADE_SECTORS),
		.month = (int8_t)month,
		.afternoon = sun->hour_angle_deg > 0,
	};
}

/* From midnight by the mean sun of the place to the next. */
static enum status add_day(struct shade_path *path, const struct sun_site *site, struct date day,
	int32_t every_min, struct fault *why)
{
	int32_t month = date_parts(day).month - 1;
	enum status status = STATUS_OK;

	path->days[month]++;
	for (int32_t minute = 0; status == STATUS_OK && minute < MINUTES; minute += every_min) {
		struct sun_position sun;
		status = sun_position(
			site, day, minute + every_min / 2.0 - 4 * site->longitude_deg, &sun, why);
		if (status == STATUS_OK)
			add_sample(path, &sun, month);
	}
	return status;
}

enum status shade_path_make(const struct sun_site *site, const struct shade_days *days,
	struct arena *arena, const struct shade_path **out, struct fault *why)
{
	struct shade_path *path = arena_alloc(arena, sizeof *path);
	int32_t span = date_days_between(days->from, days->to) + 1;
	enum status status = STATUS_OK;

	if (days->every_days < 1 || days->every_min < 1 || MINUTES % days->every_min != 0)
		return fault_set(why, STATUS_RANGE, "steps of %d days and %d minutes do not fit",
			days->every_days, days->every_min);
	int32_t day_count = span > 0 ? (span - 1) / days->every_days + 1 : 0;
	path->minutes_each = days->every_min;
	path->samples = arena_array(arena,
		(size_t)day_count * (size_t)(MINUTES / days->every_min) + 1, sizeof *path->samples);
	for (int32_t day = 0; status == STATUS_OK && day < span; day += days->every_days)
		status = add_day(path, site, date_add_days(days->from, day), days->every_min, why);
	*out = path;
	return status;
}

enum status shade_path_of_year(const struct sun_site *site, int32_t year, struct arena *arena,
	const struct shade_path **out, struct fault *why)
{
	struct shade_days days = {
		.from = date_of_month_day(year, (struct month_day){1, 1}),
		.to = date_of_month_day(year, (struct month_day){12, 31}),
		.every_days = YEAR_EVERY_DAYS,
		.every_min = YEAR_EVERY_MIN,
	};

	return shade_path_make(site, &days, arena, out, why);
}

/* --- what is left of it --- */

/* Whose shade a sample is in; SHADE_KINDS: in the sun. */
static enum shade_kind hidden_by(const struct sample *sample, const struct shade_horizon *horizon)
{
	for (int kind = 0; kind < SHADE_KINDS; kind++)
		if (sample->tangent < horizon->edges[kind][sample->sector].tangent)
			return (enum shade_kind)kind;
	return SHADE_KINDS;
}

static void per_day(struct shade_month *month)
{
	double days = month->days > 0 ? month->days : 1;

	month->up_min /= days;
	month->sun_min /= days;
	for (int kind = 0; kind < SHADE_KINDS; kind++)
		month->hidden_min[kind] /= days;
	month->afternoon_up_min /= days;
	month->afternoon_sun_min /= days;
}

void shade_months(const struct shade_path *path, const struct shade_horizon *horizon,
	struct shade_month out[MONTHS])
{
	for (int32_t i = 0; i < MONTHS; i++)
		out[i] = (struct shade_month){.days = path->days[i]};
	for (int32_t i = 0; i < path->count; i++) {
		const struct sample *sample = &path->samples[i];
		struct shade_month *month = &out[sample->month];
		enum shade_kind by = hidden_by(sample, horizon);

		month->up_min += path->minutes_each;
		if (by == SHADE_KINDS)
			month->sun_min += path->minutes_each;
		else
			month->hidden_min[by] += path->minutes_each;
		if (sample->afternoon)
			month->afternoon_up_min += path->minutes_each;
		if (sample->afternoon && by == SHADE_KINDS)
			month->afternoon_sun_min += path->minutes_each;
	}
	for (int32_t i = 0; i < MONTHS; i++)
		per_day(&out[i]);
}

void shade_by_body(const struct shade_path *path, const struct shade_horizon *horizon,
	struct shade_when when, double *by_body_min, int32_t count)
{
	double days = 0;

	for (int32_t i = 0; i < MONTHS; i++)
		days += (when.months >> i & 1) != 0 ? path->days[i] : 0;
	for (int32_t i = 0; i < count; i++)
		by_body_min[i] = 0;
	for (int32_t i = 0; days > 0 && i < path->count; i++) {
		const struct sample *sample = &path->samples[i];
		enum shade_kind by = hidden_by(sample, horizon);

		if ((when.months >> sample->month & 1) == 0 || by == SHADE_KINDS ||
			(when.afternoons_only && !sample->afternoon))
			continue;
		by_body_min[horizon->edges[by][sample->sector].body] += path->minutes_each / days;
	}
}
