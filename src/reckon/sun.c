/* SPDX-License-Identifier: MIT */
#include "reckon/sun.h"

#include <math.h>

static const double pi = 3.14159265358979323846;
static const double sun_edge_deg = -0.833; /* refraction 34' and half the sun's width, 16' */
static const double minutes_a_day = 1440;
static const double half_day_min = 720;
static const double days_of_1970 = 2440587.5; /* Julian day of 1970-01-01 0h */
static const double days_of_2000 = 2451545.0;
static const double days_a_century = 36525;
static const double lifted_from_deg = -1; /* below it nobody sees the sun */

static double sine(double degrees)
{
	return sin(degrees * pi / 180);
}

static double cosine(double degrees)
{
	return cos(degrees * pi / 180);
}

static double degrees(double radians)
{
	return radians * 180 / pi;
}

/* 0 <= result < 360 */
static double turn(double angle)
{
	double rest = fmod(angle, 360);

	return rest < 0 ? rest + 360 : rest;
}

/* Where the sun stands among the stars. */
struct coordinates {
	double declination_deg;
	double ascension_deg;
	double equation_min; /* sun time less mean time */
};

/* century: since noon of 1 January 2000. Meeus 25.2 to 25.8, 22.2, 28.3. */
static struct coordinates coordinates_at(double century)
{
	double t = century;
	double mean = turn(280.46646 + t * (36000.76983 + t * 0.0003032));
	double anomaly = turn(357.52911 + t * (35999.05029 - t * 0.0001537));
	double eccentricity = 0.016708634 - t * (0.000042037 + t * 0.0000001267);
	double centre = (1.914602 - t * (0.004817 + t * 0.000014)) * sine(anomaly) +
			(0.019993 - t * 0.000101) * sine(2 * anomaly) +
			0.000289 * sine(3 * anomaly);
	double node = 125.04 - 1934.136 * t;
	double longitude = mean + centre - 0.00569 - 0.00478 * sine(node);
	double tilt = 23 + 26 / 60.0 + 21.448 / 3600 -
		      t * (46.8150 + t * (0.00059 - t * 0.001813)) / 3600 + 0.00256 * cosine(node);
	double y = tan(tilt / 2 * pi / 180) * tan(tilt / 2 * pi / 180);
	double equation = y * sine(2 * mean) - 2 * eccentricity * sine(anomaly) +
			  4 * eccentricity * y * sine(anomaly) * cosine(2 * mean) -
			  y * y / 2 * sine(4 * mean) -
			  5.0 / 4 * eccentricity * eccentricity * sine(2 * anomaly);

	return (struct coordinates){
		.declination_deg = degrees(asin(sine(tilt) * sine(longitude))),
		.ascension_deg =
			turn(degrees(atan2(cosine(tilt) * sine(longitude), cosine(longitude)))),
		.equation_min = 4 * degrees(equation),
	};
}

/* Degrees by which air lifts what stands at a geometric altitude. Meeus 16.4. */
static double refraction_deg(double altitude_deg)
{
	if (altitude_deg < lifted_from_deg)
		return 0;
	double minutes = 1.02 / tan((altitude_deg + 10.3 / (altitude_deg + 5.11)) * pi / 180);
	return minutes > 0 ? minutes / 60 : 0; /* a hair below 0 straight overhead */
}

static struct coordinates coordinates_of(struct date day, double minute)
{
	double moment = days_of_1970 + day.day + minute / minutes_a_day;

	return coordinates_at((moment - days_of_2000) / days_a_century);
}

static struct sun_position position_at(const struct sun_site *site, struct date day, double minute)
{
	struct coordinates sun = coordinates_of(day, minute);
	double latitude = site->latitude_deg;
	double declination = sun.declination_deg;
	double angle = turn((minute + sun.equation_min + 4 * site->longitude_deg) / 4) - 180;
	double up = sine(latitude) * sine(declination) +
		    cosine(latitude) * cosine(declination) * cosine(angle);
	double east = -cosine(declination) * sine(angle);
	double north = sine(declination) * cosine(latitude) -
		       cosine(declination) * cosine(angle) * sine(latitude);
	double altitude = degrees(asin(up < -1 ? -1 : up > 1 ? 1 : up));

	return (struct sun_position){
		.azimuth_deg = turn(degrees(atan2(east, north))),
		.altitude_deg = altitude,
		.apparent_deg = altitude + refraction_deg(altitude),
		.hour_angle_deg = angle,
		.declination_deg = declination,
		.ascension_deg = sun.ascension_deg,
	};
}

static enum status check(const struct sun_site *site, struct date day, struct fault *why)
{
	int32_t year = date_parts(day).year;

	if (!(site->latitude_deg >= -90 && site->latitude_deg <= 90))
		return fault_set(why, STATUS_RANGE, "latitude %g is outside -90..90 degrees",
			site->latitude_deg);
	if (!(site->longitude_deg >= -180 && site->longitude_deg <= 180))
		return fault_set(why, STATUS_RANGE, "longitude %g is outside -180..180 degrees",
			site->longitude_deg);
	if (year < SUN_FIRST_YEAR || year > SUN_LAST_YEAR)
		return fault_set(why, STATUS_RANGE,
			"the sun is not worked out for %d, only for %d..%d", year, SUN_FIRST_YEAR,
			SUN_LAST_YEAR);
	return STATUS_OK;
}

enum status sun_position(const struct sun_site *site, struct date day, double minute,
	struct sun_position *out, struct fault *why)
{
	enum status status = check(site, day, why);

	if (status != STATUS_OK)
		return status;
	if (!(fabs(minute) <= 10 * minutes_a_day))
		return fault_set(
			why, STATUS_RANGE, "minute %g is not within ten days of the day", minute);
	*out = position_at(site, day, minute);
	return STATUS_OK;
}

/* The moment the sun stands highest; the equation of time is that of the moment itself. */
static double noon_of(const struct sun_site *site, struct date day)
{
	double mean = half_day_min - 4 * site->longitude_deg;
	double noon = mean - coordinates_of(day, mean).equation_min;

	return mean - coordinates_of(day, noon).equation_min;
}

/* The moment between one side where the sun is down and the other where it is up. */
static double crossing(const struct sun_site *site, struct date day, double down, double up)
{
	const double close_min = 0.001;

	while (fabs(up - down) > close_min) {
		double middle = (up + down) / 2;
		if (position_at(site, day, middle).altitude_deg < sun_edge_deg)
			down = middle;
		else
			up = middle;
	}
	return (up + down) / 2;
}

static bool is_down(const struct sun_site *site, struct date day, double minute)
{
	return position_at(site, day, minute).altitude_deg < sun_edge_deg;
}

enum status sun_of_day(
	const struct sun_site *site, struct date day, struct sun_day *out, struct fault *why)
{
	enum status status = check(site, day, why);

	if (status != STATUS_OK)
		return status;
	double noon = noon_of(site, day);
	double before = noon - half_day_min;
	double after = noon + half_day_min;
	bool up = !is_down(site, day, noon);
	struct sun_day told = {
		.noon_min = noon,
		.noon_altitude_deg = position_at(site, day, noon).altitude_deg,
		.rises = up && is_down(site, day, before),
		.sets = up && is_down(site, day, after),
	};
	if (told.rises)
		told.rise_min = crossing(site, day, before, noon);
	if (told.sets)
		told.set_min = crossing(site, day, after, noon);
	if (up)
		told.length_min =
			(told.sets ? told.set_min : after) - (told.rises ? told.rise_min : before);
	told.course = !up ? SUN_STAYS_DOWN : told.rises || told.sets ? SUN_RISES : SUN_STAYS_UP;
	*out = told;
	return STATUS_OK;
}
