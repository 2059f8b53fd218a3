/* SPDX-License-Identifier: MIT */
/* Tables as text: any bytes, any dialect; and what was read comes back the same when written. */
#include "support/replay.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "core/csv.h"
#include "core/text.h"

static struct csv_options choose(unsigned how)
{
	static const char separators[] = {'\0', ',', ';', '\t'};
	return (struct csv_options){
		.separator = separators[how % 4], .encoding = (enum csv_encoding)(how / 4 % 3)};
}

static void write_row(struct csv_writer *writer, const struct csv_row *row)
{
	for (int32_t i = 0; i < row->count; i++) {
		assert(text_is_valid(row->cells[i].text, strlen(row->cells[i].text)));
		csv_write(writer, row->cells[i].text);
	}
	csv_end_row(writer);
}

static int32_t read_and_write(
	const char *bytes, size_t length, const struct csv_options *options, FILE *out)
{
	struct csv_reader *reader = csv_open(bytes, length, options);
	struct csv_writer writer = csv_writer_to(out);
	struct csv_row row = {.count = 0};
	struct fault why = {.status = STATUS_OK};
	int32_t rows = 0;
	enum status status;
	while ((status = csv_next(reader, &row, &why)) == STATUS_OK) {
		write_row(&writer, &row);
		rows++;
	}
	csv_close(reader);
	assert(status == STATUS_END || strncmp(why.text, "line ", 5) == 0);
	return status == STATUS_END ? rows : -1;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	if (length < 1)
		return 0;
	const struct csv_options options = choose(bytes[0]);
	const struct csv_options ours = {.separator = ',', .encoding = CSV_UTF8};
	char *first = NULL;
	char *second = NULL;
	size_t first_length = 0;
	size_t second_length = 0;
	FILE *out = open_memstream(&first, &first_length);
	assert(out != NULL);
	const int32_t rows = read_and_write((const char *)bytes + 1, length - 1, &options, out);
	(void)fclose(out);
	out = open_memstream(&second, &second_length);
	assert(out != NULL);
	const int32_t again = read_and_write(first, first_length, &ours, out);
	(void)fclose(out);
	assert(rows < 0 || again == rows);
	assert(rows < 0 ||
		(first_length == second_length && memcmp(first, second, first_length) == 0));
	free(first);
	free(second);
	return 0;
}

int main(void)
{
	return replay_corpus("csv", LLVMFuzzerTestOneInput);
}
