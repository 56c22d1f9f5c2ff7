#pragma once
/// Eigenvalues of a vibrating system.

#include <cstddef>
#include <vector>

namespace loadline {

/// A square matrix, column after column.
struct SquareMatrix {
    explicit SquareMatrix(int size_) : size(size_), entries(area(size_)) {}

    double& operator()(int row, int column) { return entries[place(row, column)]; }
    double operator()(int row, int column) const { return entries[place(row, column)]; }

    int size;
    std::vector<double> entries;

private:
    static std::size_t area(int size) { return static_cast<std::size_t>(size * size); }
    [[nodiscard]] std::size_t place(int row, int column) const {
        return static_cast<std::size_t>(column * size + row);
    }
};

/// All lambda with a x = lambda b x, from the least up. Both symmetric (only the lower triangles
/// are read), of one size, and b positive definite.
std::vector<double> generalized_eigenvalues(const SquareMatrix& a, const SquareMatrix& b);

}  // namespace loadline
