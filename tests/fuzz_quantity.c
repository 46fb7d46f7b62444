/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Any text as a quantity: a number that is one, or a sentence that says what is wrong. What is read reads the same when
 * it is written out exactly.
 */
#include <math.h>

#include "io/xml/quantity.h"
#include "tests/fuzz.h"

enum { READERS = 4, TEXT_MOST = 300 };

static bool read(int reader, const char *text, rn_measure measure, rn_range *range, rn_buffer *why)
{
	bool good = false;
	switch (reader) {
	case 0: good = rn_quantity_read(text, measure, RN_GRAVITY_STANDARD, &range->low, why); break;
	case 1: return rn_quantity_read_range(text, measure, RN_GRAVITY_STANDARD, range, why);
	case 2: good = rn_quantity_read_direction(text, &range->low, why); break;
	default: good = rn_quantity_read_lean(text, &range->low, why); break;
	}
	range->high = range->low;
	return good;
}

static void write_and_read(double value)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer text = rn_buffer_make(&allocator), why = rn_buffer_make(&allocator);
	double again;
	rn_buffer_exact(&text, value);
	fuzz_demand(rn_quantity_read(text.bytes, RN_MEASURE_RATIO, RN_GRAVITY_STANDARD, &again, &why), "written, it reads");
	fuzz_demand(again <= value && again >= value, "and is the same");
	rn_buffer_release(&text);
	rn_buffer_release(&why);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char text[TEXT_MOST + 1];
	rn_allocator allocator = rn_allocator_default();
	rn_buffer why = rn_buffer_make(&allocator);
	rn_range range = {0, 0};
	if (size < 2)
		return 0;
	size_t length = size - 2 < TEXT_MOST ? size - 2 : TEXT_MOST;
	memcpy(text, data + 2, length);
	text[length] = '\0';
	if (read(data[0] % READERS, text, (rn_measure)(data[1] % RN_MEASURE_COUNT), &range, &why)) {
		fuzz_demand(isfinite(range.low) && isfinite(range.high) && range.low <= range.high, "what is read is a number");
		write_and_read(range.low);
	} else {
		fuzz_demand(why.size > 0, "a refusal has a reason");
	}
	rn_buffer_release(&why);
	return 0;
}
