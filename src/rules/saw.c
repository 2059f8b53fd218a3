/* SPDX-License-Identifier: MIT */
#include "rules/saw.h"

#include "look.h"

enum { YEAR_DAYS = 366 };

static struct verdict_here verdict_on(const struct dossier *dossier, struct date day)
{
	return look_verdict(dossier, dossier->kind.species, CUT_SHAPE, day, (unsigned)REASONS_ALL);
}

static enum basis basis_of(const struct verdict_here *here)
{
	if (here->known && here->row == NULL)
		return BASIS_OWN;
	return here->moved || here->freed ? BASIS_LEARNED : BASIS_ALMANAC;
}

struct saw_day saw_on(const struct dossier *dossier, struct date day)
{
	const struct verdict_here here = verdict_on(dossier, day);

	return (struct saw_day){
		.known = here.known, .verdict = here.verdict, .basis = basis_of(&here)};
}

/* The last day on end, in steps of one day, that says the same; at most a year away. What the
 * span rests on is told by its days, and by the fruit that was off where it ends. */
static struct date run(const struct dossier *dossier, enum verdict verdict, struct date day,
	int32_t step, enum basis *basis)
{
	for (int32_t at = 0; at < YEAR_DAYS; at++) {
		struct date next = date_add_days(day, step);
		struct verdict_here here = verdict_on(dossier, next);
		bool same = here.known && here.verdict == verdict;

		if (here.freed || (same && basis_of(&here) != BASIS_ALMANAC))
			*basis = same ? basis_of(&here) : BASIS_LEARNED;
		if (!same)
			break;
		day = next;
	}
	return day;
}

struct saw_span saw_span_at(const struct dossier *dossier, enum verdict verdict, struct date day)
{
	struct saw_span span = {.known = false};

	for (int32_t at = 0; !span.known && at <= YEAR_DAYS; at++) {
		struct date first = date_add_days(day, at);
		struct saw_day here = saw_on(dossier, first);

		if (!here.known || here.verdict != verdict)
			continue;
		span = (struct saw_span){.known = true, .basis = here.basis};
		span.from = at == 0 ? run(dossier, verdict, first, -1, &span.basis) : first;
		span.to = run(dossier, verdict, first, 1, &span.basis);
	}
	span.all_year = span.known && date_days_between(span.from, span.to) >= YEAR_DAYS;
	return span;
}
