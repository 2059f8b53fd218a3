/* SPDX-License-Identifier: MIT */
/* page.h - one kind's page of the almanac: what its parts share.
 *
 * The page is ordered by what a grower asks: when, how much, who pollinates, what attacks it. A
 * source stands behind each row by its key, with how sure it is; the keys are told at the end. Days
 * and months are turned for a place in the south. Where the place's climate is known, the rows that
 * hold there come first. */
#ifndef REPORT_PAGE_H
#define REPORT_PAGE_H

#include "dossier/yard.h"
#include "report/rows.h"

enum page_part {
	PART_YEAR,
	PART_CUTS,
	PART_FEEDING,
	PART_CROP,
	PART_POLLINATION,
	PART_PESTS,
	PART_WATER,
	PART_COLD,
	PART_TREE,
	PART_PEOPLE,
	PART_WORK,
	PART_TOTAL
};
const char *page_part_key(enum page_part part);   /* "cuts" */
const char *page_part_title(enum page_part part); /* "Cuts" */

enum { PAGE_SOURCES_MAX = 320, PAGE_DAYS_SIZE = 24, PAGE_SOURCE_SIZE = 96 };

struct page {
	const struct printer *printer;
	const struct almanac *almanac;
	const struct species *species;
	enum climate climate;                  /* of the place; CLIMATE_ANY: not known */
	bool on_screen;                        /* without what only the command line can do */
	enum hemisphere hemisphere;            /* south: days and months are turned */
	const char *sources[PAGE_SOURCES_MAX]; /* keys named so far */
	int32_t source_count;
};

/* A blank line, then the title of the part; `more` may be "". */
void page_heading(const struct page *page, enum page_part part, const char *more);
/* "02-01 to 06-30"; one day alone where it is one. Days as they are printed. */
const char *page_days(struct month_day from, struct month_day to, char out[PAGE_DAYS_SIZE]);
/* "04", "05-07": months of the year, turned in the south. */
const char *page_months(
	const struct page *page, int32_t from, int32_t to, char out[PAGE_DAYS_SIZE]);
int32_t page_month(const struct page *page, int32_t month);
/* " [uc-ipm-fert, second-hand]", to stand behind what the source says; noted for the end. */
const char *page_source(
	struct page *page, const char *source, enum known_by sure, char out[PAGE_SOURCE_SIZE]);
/* Every source named on the page. */
void page_sources(const struct page *page);

/* Groups of rows by climate: first those that hold at the place, where its climate is known. */
enum { GROUP_HERE = CLIMATE_TOTAL, GROUP_TOTAL = CLIMATE_TOTAL };
int32_t page_group_first(const struct page *page); /* a climate, or GROUP_HERE; then _next */
int32_t page_group_next(int32_t group);            /* -1: no more */
/* Does a row of a climate stand in this group? `holds`: it holds at the place. */
bool page_group_has(const struct page *page, int32_t group, enum climate climate, bool holds);
void page_group_heading(const struct page *page, int32_t group);

/* --- the parts --- */

void page_year(struct page *page);
void page_cuts(struct page *page);
void page_feeds(struct page *page);
void page_facts(struct page *page, enum page_part part); /* those that belong to a part */
void page_pests(struct page *page);
void page_work(struct page *page);

#endif
