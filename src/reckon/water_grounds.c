/* SPDX-License-Identifier: MIT */
/* Coefficients of a tree over every ground that what is known allows. */
#include "water_grounds.h"

enum { GROUNDS_MAX = 2 * 2 * 3 };

static int32_t grounds_of(const struct dossier *dossier, struct water_ground grounds[GROUNDS_MAX])
{
	static const double shares[] = {0.2, 0.5, 0.7};
	const struct spot *spot = dossier->spot;
	bool pot = spot != NULL && spot->kind == SPOT_CONTAINER;
	bool cover_known = pot || (spot != NULL && spot->cover != COVER_UNKNOWN);
	bool grass = !pot && spot != NULL && spot->cover == COVER_GRASS;
	bool winter_known = dossier->place->winter != WINTER_UNKNOWN;
	bool hard = dossier->place->winter == WINTER_HARD;
	int32_t count = 0;

	for (int covered = 0; covered < 2; covered++)
		for (int frost = 0; frost < 2; frost++)
			for (size_t share = 0; share < 3; share++)
				if ((!cover_known || grass == (covered == 1)) &&
					(!winter_known || hard == (frost == 1)))
					grounds[count++] =
						(struct water_ground){.covered = covered == 1,
							.killing_frost = frost == 1,
							.canopy_share = shares[share]};
	return count;
}

/* What two grounds differ in where that is one thing and it tells; else 0. */
static unsigned told_by(
	const struct species *species, const struct water_ground *a, const struct water_ground *b)
{
	unsigned differs = (a->covered != b->covered ? LACK_COVER : 0U) |
			   (a->killing_frost != b->killing_frost ? LACK_WINTER : 0U) |
			   (a->canopy_share != b->canopy_share ? LACK_SHARE : 0U);
	struct water_kc one = water_kc_of(species, a);
	struct water_kc other = water_kc_of(species, b);

	if ((differs & (differs - 1)) != 0 ||
		(one.early == other.early && one.mid == other.mid && one.late == other.late))
		return 0;
	return differs;
}

static double lesser(double a, double b)
{
	return a < b ? a : b;
}

static double greater(double a, double b)
{
	return a > b ? a : b;
}

bool water_kcs_of(const struct dossier *dossier, struct tree_water *out, struct water_kc *least,
	struct water_kc *most)
{
	const struct species *species = dossier->kind.species;
	struct water_ground grounds[GROUNDS_MAX];
	int32_t count = grounds_of(dossier, grounds);

	*least = *most = out->kc_row = water_kc_of(species, &grounds[0]);
	if (!least->known) {
		out->lacks |= LACK_KC;
		return false;
	}
	for (int32_t i = 1; i < count; i++) {
		struct water_kc kc = water_kc_of(species, &grounds[i]);

		*least = (struct water_kc){.early = lesser(kc.early, least->early),
			.mid = lesser(kc.mid, least->mid),
			.late = lesser(kc.late, least->late)};
		*most = (struct water_kc){.early = greater(kc.early, most->early),
			.mid = greater(kc.mid, most->mid),
			.late = greater(kc.late, most->late)};
		for (int32_t before = 0; before < i; before++)
			out->lacks |= told_by(species, &grounds[before], &grounds[i]);
	}
	return true;
}
