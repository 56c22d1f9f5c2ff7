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
            if (factor == 0.0)  // beyond a band
                continue;
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

std::vector<double> lower_root(std::vector<double> matrix, std::size_t n) {
    if (matrix.size() != n * n)
        throw std::invalid_argument("the root of a matrix needs a square one");
    for (std::size_t j = 0; j < n; ++j) {
        double pivot = matrix[j * n + j];
        for (std::size_t k = 0; k < j; ++k)
            pivot -= matrix[j * n + k] * matrix[j * n + k];
        if (pivot < -1e-6)
            throw std::invalid_argument("no root: the matrix is not one of correlations");
        const double root = pivot > 1e-12 ? std::sqrt(pivot) : 0.0;
        matrix[j * n + j] = root;
        for (std::size_t i = j + 1; i < n; ++i) {
            double rest = matrix[i * n + j];
            for (std::size_t k = 0; k < j; ++k)
                rest -= matrix[i * n + k] * matrix[j * n + k];
            matrix[i * n + j] = root > 0.0 ? rest / root : 0.0;
            matrix[j * n + i] = 0.0;
        }
    }
    return matrix;
}

}  // namespace loadline
