#include "loadline/number/linear.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

namespace loadline {

std::vector<double> solve_linear(std::vector<double> matrix, std::vector<double> right) {
    const std::size_t n = right.size();
    if (matrix.size() != n * n)
        throw std::invalid_argument("a set of linear equations needs a square matrix");
    const auto row = [&](std::size_t i) {
        return matrix.data() + i * n;
    };
    for (std::size_t k = 0; k < n; ++k) {
        std::size_t pivot = k;
        for (std::size_t i = k + 1; i < n; ++i)
            if (std::abs(row(i)[k]) > std::abs(row(pivot)[k]))
                pivot = i;
        if (pivot != k) {
            std::swap_ranges(row(k), row(k) + n, row(pivot));
            std::swap(right[k], right[pivot]);
        }
        for (std::size_t i = k + 1; i < n; ++i) {
            const double factor = row(i)[k] / row(k)[k];
            for (std::size_t j = k + 1; j < n; ++j)
                row(i)[j] -= factor * row(k)[j];
            right[i] -= factor * right[k];
        }
    }
    for (std::size_t k = n; k-- > 0;) {
        for (std::size_t j = k + 1; j < n; ++j)
            right[k] -= row(k)[j] * right[j];
        right[k] /= row(k)[k];
    }
    return right;
}

}  // namespace loadline
