/* SPDX-License-Identifier: MIT */
#include "exchange/geojson.h"

#include <math.h>
#include <string.h>

#include "core/text.h"
#include "reckon/lonlat.h"
#include "report/rows.h"

static const double um_in_mm = 1000.0;

struct box {
	bool known;
	struct lonlat least, most;
};

struct writer {
	FILE *stream; /* of the features */
	struct yard *yard;
	const struct place *place;
	struct arena *arena;
	bool without_private;
	struct box box;
	int32_t features;
};

/* --- positions --- */

static enum status lonlat_at(struct writer *writer, const char *name, struct plot_point point,
	struct lonlat *out, struct fault *why)
{
	struct box *box = &writer->box;
	enum status status = lonlat_of(writer->place->latitude_udeg.value,
		writer->place->longitude_udeg.value, point.east_um, point.north_um, out, why);

	if (status != STATUS_OK) {
		fault_prefix(why, "%s: ", name);
		return status;
	}
	if (!box->known)
		*box = (struct box){true, *out, *out};
	box->least.longitude_deg = fmin(box->least.longitude_deg, out->longitude_deg);
	box->least.latitude_deg = fmin(box->least.latitude_deg, out->latitude_deg);
	box->most.longitude_deg = fmax(box->most.longitude_deg, out->longitude_deg);
	box->most.latitude_deg = fmax(box->most.latitude_deg, out->latitude_deg);
	return STATUS_OK;
}

static void put_position(FILE *stream, struct lonlat at)
{
	fprintf(stream, "[%.7f, %.7f]", at.longitude_deg, at.latitude_deg);
}

/* --- members --- */

static void begin_feature(struct writer *writer, const char *id)
{
	fprintf(writer->stream,
		"%s\n  {\"type\": \"Feature\", \"id\": ", writer->features++ > 0 ? "," : "");
	json_write_text(writer->stream, id);
	fputs(", \"geometry\": ", writer->stream);
}

static void put_text(struct writer *writer, const char *before, const char *key, const char *text)
{
	fprintf(writer->stream, "%s\"%s\": ", before, key);
	if (text[0] != '\0')
		json_write_text(writer->stream, text);
	else
		fputs("null", writer->stream);
}

static void put_mm(struct writer *writer, const char *key, struct maybe_i64 length_um)
{
	fprintf(writer->stream, ", \"%s\": ", key);
	if (length_um.known)
		fprintf(writer->stream, "%.0f", (double)length_um.value / um_in_mm);
	else
		fputs("null", writer->stream);
}

/* --- spots --- */

/* A tree, or the host of a graft, that is not for other people's eyes. */
static bool is_left_out(struct writer *writer, const struct neighbour *who)
{
	struct store *store = yard_store(writer->yard);
	struct tree tree;

	if (!writer->without_private)
		return false;
	if (store_tree_load(store, who->tree_id, &tree, NULL) != STATUS_OK || tree.is_private)
		return true;
	return who->host_id[0] != '\0' &&
	       (store_tree_load(store, who->host_id, &tree, NULL) != STATUS_OK || tree.is_private);
}

static void put_trees(struct writer *writer, const struct plot *plot, const struct plot_spot *spot)
{
	bool some = false;

	fputs(", \"trees\": [", writer->stream);
	for (int32_t i = 0; i < spot->count; i++) {
		const struct neighbour *who = plot->trees[spot->first + i].who;
		const struct tree_kind *kind = &who->kind;

		if (is_left_out(writer, who))
			continue;
		fputs(some ? ", " : "", writer->stream);
		json_write_text(writer->stream,
			arena_format(writer->arena, "%s %s%s%s%s", who->label, kind->name,
				kind->cultivar[0] != '\0' ? ", " : "", kind->cultivar,
				kind->cultivar[0] != '\0' && kind->cultivar_sure != SURE_CERTAIN
					? "?"
					: ""));
		some = true;
	}
	fputs("]", writer->stream);
}

static enum status put_spot(struct writer *writer, const struct plot *plot,
	const struct plot_spot *spot, struct fault *why)
{
	static const char *const kinds[] = {
		[SPOT_HOLE] = "hole",
		[SPOT_CONTAINER] = "container",
		[SPOT_OFF_PLACE] = "off-place",
	};
	struct lonlat at;
	enum status status = STATUS_OK;

	if (spot->placed)
		status = lonlat_at(writer, spot->spot->name, spot->at, &at, why);
	if (status != STATUS_OK)
		return status;
	begin_feature(writer, spot->spot->id);
	if (spot->placed) {
		fputs("{\"type\": \"Point\", \"coordinates\": ", writer->stream);
		put_position(writer->stream, at);
		fputs("}", writer->stream);
	} else {
		fputs("null", writer->stream);
	}
	fputs(",\n   \"properties\": {\"what\": \"spot\"", writer->stream);
	put_text(writer, ", ", "name", spot->spot->name);
	put_text(writer, ", ", "kind", kinds[spot->spot->kind]);
	put_text(writer, ", ", "area", spot->area);
	put_mm(writer, "east_mm", spot->spot->east_um);
	put_mm(writer, "north_mm", spot->spot->north_um);
	put_trees(writer, plot, spot);
	fputs("}}", writer->stream);
	return STATUS_OK;
}

/* --- walls, houses, gates, lines --- */

/* Corners without one that says the same as the one before it. */
static int32_t corners_of(const struct plot_line *line, struct plot_point *out)
{
	int32_t count = 0;

	for (int32_t i = 0; i < line->point_count; i++)
		if (count == 0 || memcmp(&out[count - 1], &line->points[i], sizeof *out) != 0)
			out[count++] = line->points[i];
	if (line->kind == PLOT_HOUSE && count > 1 &&
		memcmp(&out[0], &out[count - 1], sizeof *out) == 0)
		count--;
	return count;
}

/* Twice the area within the corners, above zero where they go counterclockwise (the shoelace). */
static double turning(const struct plot_point *corners, int32_t count)
{
	double sum = 0.0;

	for (int32_t i = 0; i < count; i++) {
		const struct plot_point *at = &corners[i], *next = &corners[(i + 1) % count];

		sum += (double)at->east_um * (double)next->north_um -
		       (double)next->east_um * (double)at->north_um;
	}
	return sum;
}

static void turn_round(struct plot_point *corners, int32_t count)
{
	for (int32_t i = 0; i < count / 2; i++) {
		const struct plot_point held = corners[i];

		corners[i] = corners[count - 1 - i];
		corners[count - 1 - i] = held;
	}
}

static enum status put_corners(struct writer *writer, const char *name,
	const struct plot_point *corners, int32_t count, struct fault *why)
{
	for (int32_t i = 0; i < count; i++) {
		struct lonlat at;
		enum status status = lonlat_at(writer, name, corners[i], &at, why);

		if (status != STATUS_OK)
			return status;
		fputs(i > 0 ? ", " : "", writer->stream);
		put_position(writer->stream, at);
	}
	return STATUS_OK;
}

static enum status put_shape(struct writer *writer, const struct plot_line *line, struct fault *why)
{
	struct plot_point *corners =
		arena_array(writer->arena, (size_t)line->point_count + 2, sizeof *corners);
	int32_t count = corners_of(line, corners);
	const double area = turning(corners, count);
	const bool is_ring = line->kind == PLOT_HOUSE && count >= 3 && area != 0.0;
	const char *type = is_ring ? "Polygon" : count == 1 ? "Point" : "LineString";
	const char *open = is_ring ? "[[" : count == 1 ? "" : "[";
	const char *close = is_ring ? "]]" : count == 1 ? "" : "]";

	if (is_ring && area < 0.0)
		turn_round(corners, count);
	if (is_ring) /* the first stands at the end again */
		corners[count++] = corners[0];
	fprintf(writer->stream, "{\"type\": \"%s\", \"coordinates\": %s", type, open);
	enum status status = put_corners(writer, line->name, corners, count, why);
	fprintf(writer->stream, "%s}", close);
	return status;
}

static enum status put_line(
	struct writer *writer, const struct plot_line *line, int32_t place, struct fault *why)
{
	static const char *const kinds[] = {
		[PLOT_WALL] = "wall",
		[PLOT_HOUSE] = "house",
		[PLOT_GATE] = "gate",
		[PLOT_LINE] = "line",
	};

	begin_feature(writer, arena_format(writer->arena, "obstacle-%d", (int)place + 1));
	enum status status = put_shape(writer, line, why);
	fputs(",\n   \"properties\": {\"what\": \"obstacle\"", writer->stream);
	put_text(writer, ", ", "name", line->name);
	put_text(writer, ", ", "kind", kinds[line->kind]);
	fputs("}}", writer->stream);
	return status;
}

/* --- the collection --- */

static enum status put_features(struct writer *writer, struct fault *why)
{
	const struct plot *plot = NULL;
	enum status status = yard_plot(writer->yard, &plot, why);

	for (int32_t i = 0; status == STATUS_OK && i < plot->spot_count; i++)
		status = put_spot(writer, plot, &plot->spots[i], why);
	for (int32_t i = 0; status == STATUS_OK && i < plot->line_count; i++)
		status = put_line(writer, &plot->lines[i], i, why);
	return status;
}

static void put_head(FILE *stream, const struct place *place, const struct box *box)
{
	fputs("{\"type\": \"FeatureCollection\",\n \"name\": ", stream);
	json_write_text(stream, place->name);
	if (box->known)
		fprintf(stream, ",\n \"bbox\": [%.7f, %.7f, %.7f, %.7f]", box->least.longitude_deg,
			box->least.latitude_deg, box->most.longitude_deg, box->most.latitude_deg);
	fputs(",\n \"features\": [", stream);
}

enum status geojson_write(FILE *stream, struct yard *yard, bool without_private, struct fault *why)
{
	struct writer writer = {
		.yard = yard, .place = yard_place(yard), .without_private = without_private};
	char *features = NULL;
	size_t length = 0;

	if (!writer.place->latitude_udeg.known || !writer.place->longitude_udeg.known)
		return fault_set(why, STATUS_ABSENT,
			"the plan is drawn around the place's latitude and longitude, which are "
			"not "
			"known: boughbook place set --lat 38.2 --lon=-122.1");
	writer.stream = open_memstream(&features, &length); /* the box is known after them */
	if (writer.stream == NULL)
		return fault_set(why, STATUS_IO, "no memory for the plan");
	writer.arena = arena_new();
	enum status status = put_features(&writer, why);
	fclose(writer.stream);
	if (status == STATUS_OK) {
		put_head(stream, writer.place, &writer.box);
		fwrite(features, 1, length, stream);
		fputs(writer.features > 0 ? "\n ]}\n" : "]}\n", stream);
	}
	block_free(features);
	arena_free(writer.arena);
	if (status == STATUS_OK && (fflush(stream) != 0 || ferror(stream)))
		return fault_set(why, STATUS_IO, "the plan could not be written");
	return status;
}
