/* SPDX-License-Identifier: MIT */
/* Rain that counts, what the soil holds, and giving water. */
#include <math.h>
#include <string.h>

#include "reckon/water.h"

static const double mm_per_in = 25.4;
static const double p_low = 0.1; /* depletion fraction, bounds of FAO-56 table 22, note 2 */
static const double p_high = 0.8;
static const double p_per_mm = 0.04;
static const double p_at_mm = 5;

static enum status check_mm(double value, struct fault *why)
{
	if (!(value >= 0 && isfinite(value)))
		return fault_set(why, STATUS_RANGE, "%g mm is no depth of 0 or more", value);
	return STATUS_OK;
}

/* --- rain --- */

enum status water_rain_of_day_mm(double rain_mm, double *out, struct fault *why)
{
	enum status status = check_mm(rain_mm, why);
	double inches = rain_mm / mm_per_in;

	if (status != STATUS_OK)
		return status;
	double counts = (inches < 1 ? inches : 1) - 0.1;
	if (inches > 1)
		counts += 2.0 / 3 * ((inches < 2 ? inches : 2) - 1);
	*out = counts > 0 ? counts * mm_per_in : 0;
	return STATUS_OK;
}

enum status water_rain_of_month_mm(double rain_mm, double *out, struct fault *why)
{
	enum status status = check_mm(rain_mm, why);

	if (status == STATUS_OK)
		*out = rain_mm <= 250 ? rain_mm * (125 - 0.2 * rain_mm) / 125 : 125 + 0.1 * rain_mm;
	return status;
}

enum status water_rain_dependable_mm(double rain_mm, double *out, struct fault *why)
{
	enum status status = check_mm(rain_mm, why);

	if (status != STATUS_OK)
		return status;
	double counts = rain_mm <= 75 ? 0.6 * rain_mm - 10 : 0.8 * rain_mm - 25;
	*out = counts > 0 ? counts : 0;
	return STATUS_OK;
}

/* --- soil --- */

/* clang-format off */
static const struct water_soil soils[] = {
	{"sand",            0.07, 0.17, 0.02, 0.07, 1.0, 1.5},
	{"loamy sand",      0.11, 0.19, 0.03, 0.10, 0,   0},
	{"sandy loam",      0.18, 0.28, 0.06, 0.16, 0,   0},
	{"loam",            0.20, 0.30, 0.07, 0.17, 1.5, 2.0},
	{"silt loam",       0.22, 0.36, 0.09, 0.21, 0,   0},
	{"silt",            0.28, 0.36, 0.12, 0.22, 0,   0},
	{"silty clay loam", 0.30, 0.37, 0.17, 0.24, 0,   0},
	{"silty clay",      0.30, 0.42, 0.17, 0.29, 0,   0},
	{"clay",            0.32, 0.40, 0.20, 0.24, 2.0, 2.5},
};
/* clang-format on */

const struct water_soil *water_soil_named(const char *name)
{
	for (size_t i = 0; i < sizeof soils / sizeof soils[0]; i++)
		if (strcmp(soils[i].name, name) == 0)
			return &soils[i];
	return NULL;
}

const struct water_soil *water_soil_of(enum soil_texture texture)
{
	switch (texture) {
	case SOIL_UNKNOWN:
		return NULL;
	case SOIL_SAND:
		return water_soil_named("sand");
	case SOIL_LOAMY_SAND:
		return water_soil_named("loamy sand");
	case SOIL_SANDY_LOAM:
		return water_soil_named("sandy loam");
	case SOIL_LOAM:
		return water_soil_named("loam");
	case SOIL_SILT_LOAM:
		return water_soil_named("silt loam");
	case SOIL_CLAY_LOAM:
		return water_soil_named("silty clay loam");
	case SOIL_CLAY:
		return water_soil_named("clay");
	}
	return NULL;
}

double water_soil_mm_per_m(const struct water_soil *soil)
{
	double field = (soil->field_low + soil->field_high) / 2;
	double wilting = (soil->wilting_low + soil->wilting_high) / 2;

	return 1000 * (field - wilting);
}

enum status water_store_of(double mm_per_m, double root_depth_m, double depletion, double crop_mm,
	struct water_store *out, struct fault *why)
{
	if (!(mm_per_m > 0 && isfinite(mm_per_m)) || !(root_depth_m > 0 && isfinite(root_depth_m)))
		return fault_set(why, STATUS_RANGE, "%g mm a metre to %g m is no root zone",
			mm_per_m, root_depth_m);
	if (!(depletion >= p_low && depletion <= p_high))
		return fault_set(why, STATUS_RANGE, "a depletion fraction of %g is outside %g..%g",
			depletion, p_low, p_high);
	enum status status = check_mm(crop_mm, why);
	if (status != STATUS_OK)
		return status;
	double p = depletion + p_per_mm * (p_at_mm - crop_mm);
	p = p < p_low ? p_low : p > p_high ? p_high : p;
	out->total_mm = mm_per_m * root_depth_m;
	out->ready_mm = p * out->total_mm;
	return STATUS_OK;
}

enum status water_stress(
	const struct water_store *store, double used_mm, double *out, struct fault *why)
{
	enum status status = check_mm(used_mm, why);

	if (status != STATUS_OK)
		return status;
	if (used_mm <= store->ready_mm)
		*out = 1;
	else if (used_mm >= store->total_mm)
		*out = 0;
	else
		*out = (store->total_mm - used_mm) / (store->total_mm - store->ready_mm);
	return STATUS_OK;
}

enum status water_days_until_dry(const struct water_store *store, double used_mm, double crop_mm,
	struct water_days *out, struct fault *why)
{
	enum status status = check_mm(used_mm, why);

	if (status == STATUS_OK)
		status = check_mm(crop_mm, why);
	if (status != STATUS_OK)
		return status;
	double left_mm = store->ready_mm - used_mm;
	*out = (struct water_days){.never = left_mm > 0 && crop_mm <= 0};
	if (left_mm > 0 && crop_mm > 0)
		out->days = left_mm / crop_mm;
	return STATUS_OK;
}

/* --- giving it --- */

enum status water_run_s(
	int64_t volume_ul, int32_t emitters, int64_t flow_ulh, int64_t *out, struct fault *why)
{
	if (volume_ul < 0)
		return fault_set(why, STATUS_RANGE, "a volume of %lld ul is below nothing",
			(long long)volume_ul);
	if (emitters <= 0 || flow_ulh <= 0)
		return fault_set(why, STATUS_RANGE, "%d emitters of %lld ul an hour give no water",
			emitters, (long long)flow_ulh);
	*out = round_i64((double)volume_ul * 3600 / ((double)flow_ulh * emitters));
	return STATUS_OK;
}

static struct maybe_i64 point_of(const struct entry *entry, enum field field)
{
	const struct amount *amount = entry_amount(entry, field);

	return amount != NULL ? amount_point(amount) : (struct maybe_i64){0};
}

struct maybe_i64 water_volume_of_entry(const struct entry *entry, const struct spot *spot)
{
	const char *per = entry_detail(entry, FIELD_PER);
	struct maybe_i64 volume_ul = point_of(entry, FIELD_VOLUME);
	struct maybe_i64 time_s = point_of(entry, FIELD_DURATION);
	struct maybe_i64 emitters = point_of(entry, FIELD_EMITTERS); /* thousandths */
	struct maybe_i64 flow_ulh = point_of(entry, FIELD_FLOW);

	if (entry->kind != KIND_WATER || strcmp(per, "total") == 0 || strcmp(per, "week") == 0)
		return (struct maybe_i64){0};
	if (volume_ul.known)
		return volume_ul;
	if (spot != NULL && !emitters.known && spot->emitters.known)
		emitters = known_i64((int64_t)spot->emitters.value * 1000);
	if (spot != NULL && !flow_ulh.known)
		flow_ulh = spot->flow_ulh;
	if (!time_s.known || !emitters.known || !flow_ulh.known)
		return (struct maybe_i64){0};
	return known_i64(round_i64((double)time_s.value / 3600 * (double)emitters.value / 1000 *
				   (double)flow_ulh.value));
}
