/* SPDX-License-Identifier: MIT */
/* soil.h - whether the weather has used up what the soil under a tree holds. */
#ifndef RULES_SOIL_H
#define RULES_SOIL_H

#include "look.h"
#include "reckon/thirst.h"

/* A bare tree uses nothing: no leaves, or the time of year is not known. */
bool soil_rests(const struct dossier *dossier, struct date day);
/* The flag of water-short for a tree in the ground, where its store is used up. wilt: seen wilting;
 * NULL no. */
void soil_look(const struct dossier *dossier, const struct sky *sky, struct date today,
	const struct entry *wilt, struct flags *out);
/* A watering settles the flag. */
void soil_settles(const struct dossier *dossier, struct flag *flag);

#endif
