// A number with a unit: the first letter chooses the dimension, "a" the first one; the rest is the
// text.

#include "held.hpp"
#include "loadline/quantity/quantity.hpp"

#include <cmath>

using namespace loadline;
using namespace loadline::fuzz;

namespace {

constexpr unsigned dimensions = static_cast<unsigned>(Dimension::stress) + 1U;

void read(const auto& one) {
    try {
        one();
    } catch (const QuantityError& error) {
        hold(*error.what() != '\0' && !error.remedy.empty(), "a refusal has a remedy");
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0)
        return 0;
    const auto dimension = static_cast<Dimension>((data[0] - unsigned{'a'}) % dimensions);
    const std::string text = text_of(data + 1, size - 1);
    read([&] {
        hold(std::isfinite(parse_quantity(text, dimension)), "a quantity is finite", text);
    });
    read([&] {
        const auto list = parse_quantities(text, dimension);
        hold(!list.empty(), "a list is not empty", text);
        for (const double value : list)
            hold(std::isfinite(value), "a quantity is finite", text);
    });
    read([&] { check_list_commas(text); });
    return 0;
}
