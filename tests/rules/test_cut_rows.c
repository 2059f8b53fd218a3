/* SPDX-License-Identifier: MIT */
/* Every cut row of the almanac, at both its ends and the days beside them, against what
 * flower-wood and cut-in-wet-season say of such a cut. The table is read here by itself. */
#include "support/log_case.h"

#include "core/csv.h"

enum { ROWS_MAX = 2000, SPECIES_MAX = 40, YEAR = 2027 };
enum { SPECIES, CULTIVAR, CLIMATE, KIND, FROM, FROM_ANCHOR, TO, TO_ANCHOR, VERDICT, REASON };

struct row {
	char cells[REASON + 1][60];
};
static struct row rows[ROWS_MAX];
static int32_t row_count;

static void read_rows(void)
{
	struct fault why = {0};
	size_t length;
	char *text = file_read("share/almanac/cuts.csv", &length);
	struct csv_reader *csv = csv_open(text, length, &(struct csv_options){.separator = ','});
	struct csv_row line;

	while (csv_next(csv, &line, &why) == STATUS_OK) {
		if (line.line == 1 || line.cells[CULTIVAR].text[0] != '\0')
			continue;
		assert_true(row_count < ROWS_MAX);
		for (int i = 0; i <= REASON; i++)
			snprintf(rows[row_count].cells[i], sizeof rows[row_count].cells[i], "%s",
				line.cells[i].text);
		row_count++;
	}
	csv_close(csv);
	free(text);
}

static struct month_day turned(const char *text, bool south)
{
	static const int8_t lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	struct month_day day = {(int8_t)strtol(text, NULL, 10), (int8_t)strtol(text + 3, NULL, 10)};

	if (!south)
		return day;
	day.month = (int8_t)(day.month > 6 ? day.month - 6 : day.month + 6);
	if (day.day > lengths[day.month - 1])
		day.day = lengths[day.month - 1];
	return day;
}

/* The end of a span: a month's last day stays one. */
static struct month_day turned_last(const char *text, bool south)
{
	struct month_day last = turned(text, south);
	struct month_day there = turned(text, false);

	if (date_days_in_month(YEAR, there.month) == there.day)
		last.day = (int8_t)date_days_in_month(YEAR, last.month);
	return last;
}

/* One kind of tree, one climate, one side of the equator, one kind of cut. */
struct asked {
	const char *species;
	enum log_place place;
	const char *climate;
	bool south;
	const char *kind;
};

/* Rows that name the climate stand instead of those that name none. */
static bool speaks(const struct row *row, const struct asked *asked)
{
	bool named = false;

	if (strcmp(row->cells[SPECIES], asked->species) != 0 ||
		strcmp(row->cells[KIND], asked->kind) != 0)
		return false;
	for (int32_t i = 0; i < row_count && asked->climate[0] != '\0'; i++)
		named = named || (strcmp(rows[i].cells[SPECIES], asked->species) == 0 &&
					 strcmp(rows[i].cells[KIND], asked->kind) == 0 &&
					 strcmp(rows[i].cells[CLIMATE], asked->climate) == 0);
	return strcmp(row->cells[CLIMATE], named ? asked->climate : "") == 0;
}

/* Does a row say avoid on the day, for one of the two reasons? */
static bool avoids(const struct asked *asked, struct date day, const char *a, const char *b)
{
	for (int32_t i = 0; i < row_count; i++) {
		const struct row *row = &rows[i];
		const char *reason = row->cells[REASON];

		if (!speaks(row, asked) || strcmp(row->cells[VERDICT], "avoid") != 0 ||
			(strcmp(reason, a) != 0 && strcmp(reason, b) != 0))
			continue;
		if (circle_within(circle_of_date(day),
			    circle_of(turned(row->cells[FROM], asked->south)),
			    circle_of(turned_last(row->cells[TO], asked->south))))
			return true;
	}
	return false;
}

static struct flags flags_of_cut(
	struct garden *garden, const struct asked *asked, struct date day, struct arena *arena)
{
	struct fault why = {0};
	struct detail detail = {.field = FIELD_CUT_KIND};
	struct entry cut = {.id = "tried",
		.subject.kind = SUBJECT_TREE,
		.kind = KIND_CUT,
		.day = date_span_of(day),
		.words = "tried",
		.note = "",
		.details = &detail,
		.detail_count = 1};
	struct flags flags = {.arena = arena};
	const struct dossier *dossier = NULL;
	struct tree tree = garden_find(garden, asked->species);

	snprintf(detail.text, sizeof detail.text, "%s", asked->kind);
	snprintf(cut.subject.id, sizeof cut.subject.id, "%s", tree.id);
	check_ok(yard_dossier_with_in(garden->yard, tree.id, &cut, day, arena, &dossier, &why),
		&why);
	rules_look(dossier, day, &flags);
	return flags;
}

static void check_day(struct garden *garden, const struct asked *asked, struct date day, bool *seen,
	struct arena *arena)
{
	char label[160], iso[DATE_SIZE];

	if (seen[circle_of_date(day)])
		return;
	seen[circle_of_date(day)] = true;

	arena_reset(arena);
	struct flags flags = flags_of_cut(garden, asked, day, arena);
	bool crop = avoids(asked, day, "flowers", "fruit");
	bool wet = !crop && avoids(asked, day, "disease", "disease");
	snprintf(label, sizeof label, "%s cut of %s on %s", asked->kind, asked->species,
		date_format(day, iso));
	check_int(log_case_count(&flags, "flower-wood"), crop, label);
	check_int(log_case_count(&flags, "cut-in-wet-season"), wet, label);
}

static void check_kind(struct garden *garden, const struct asked *asked, struct arena *arena)
{
	bool seen[366] = {false};

	for (int32_t i = 0; i < row_count; i++) {
		if (!speaks(&rows[i], asked))
			continue;
		struct date from =
			date_of_month_day(YEAR, turned(rows[i].cells[FROM], asked->south));
		struct date to =
			date_of_month_day(YEAR, turned_last(rows[i].cells[TO], asked->south));

		check_day(garden, asked, date_add_days(from, -1), seen, arena);
		check_day(garden, asked, from, seen, arena);
		check_day(garden, asked, to, seen, arena);
		check_day(garden, asked, date_add_days(to, 1), seen, arena);
	}
}

static void check_species(const struct asked *whose)
{
	static const char *const kinds[] = {
		"thinning", "heading", "height", "shape", "renovation", "summer-tip"};
	struct garden garden;
	struct arena *arena = arena_new();
	struct place place;

	log_case_place(whose->place, whose->south, &place);
	garden_make_at(&garden, &place, "2027-01-01");
	garden_tree(&garden, whose->species, whose->species, "2005", "");
	for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
		struct asked asked = *whose;

		asked.kind = kinds[k];
		check_kind(&garden, &asked, arena);
	}
	arena_free(arena);
	garden_free(&garden);
}

static void every_end_of_every_row_holds(void **state)
{
	check_species(*state);
}

/* The kinds in the table, each once. */
static int32_t list_species(const char **out)
{
	int32_t count = 0;

	for (int32_t i = 0; i < row_count; i++) {
		if (count > 0 && strcmp(out[count - 1], rows[i].cells[SPECIES]) == 0)
			continue;
		bool there = false;
		for (int32_t s = 0; s < count; s++)
			there = there || strcmp(out[s], rows[i].cells[SPECIES]) == 0;
		if (!there && count < SPECIES_MAX)
			out[count++] = rows[i].cells[SPECIES];
	}
	return count;
}

int main(void)
{
	static const struct {
		enum log_place place;
		const char *climate;
	} places[] = {{AT_UNSAID, ""}, {AT_WET_WINTER, "dry-summer"}, {AT_COOL, "cool-maritime"},
		{AT_CONTINENTAL, "continental"}, {AT_HUMID, "humid-mild"}};
	enum { PLACES = sizeof places / sizeof places[0] };
	static struct asked asked[SPECIES_MAX * PLACES * 2];
	static char names[SPECIES_MAX * PLACES * 2][80];
	static struct CMUnitTest tests[SPECIES_MAX * PLACES * 2];
	const char *species[SPECIES_MAX];
	size_t count = 0;

	read_rows();
	int32_t kinds = list_species(species);
	for (int32_t s = 0; s < kinds; s++)
		for (size_t p = 0; p < PLACES * 2; p++) {
			asked[count] = (struct asked){.species = species[s],
				.place = places[p / 2].place,
				.climate = places[p / 2].climate,
				.south = p % 2 == 1};
			snprintf(names[count], sizeof names[count], "every_row_of_%s_%s_%s",
				species[s], places[p / 2].climate, p % 2 == 1 ? "south" : "north");
			tests[count] = (struct CMUnitTest){.name = names[count],
				.test_func = every_end_of_every_row_holds,
				.initial_state = &asked[count]};
			count++;
		}
	return _cmocka_run_group_tests("cut rows", tests, count, NULL, NULL) != 0;
}
