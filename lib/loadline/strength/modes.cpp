#include "loadline/strength/detail/modes.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <cmath>

namespace loadline::strength {

// The lowest frequencies belong to the greatest eigenvalues of mass against stiffness, which are
// the exact ones. Two steps of the solver's, without its eigenvectors: half as long to compile.
std::optional<std::vector<double>> lowest_frequencies(const Eigen::MatrixXd& stiffness,
                                                      const Eigen::MatrixXd& mass, int modes) {
    const Eigen::LLT<Eigen::MatrixXd> root(stiffness);
    if (root.info() != Eigen::Success)
        return std::nullopt;
    const Eigen::MatrixXd half = root.matrixL().solve(mass).transpose();
    const Eigen::Tridiagonalization<Eigen::MatrixXd> bands(root.matrixL().solve(half));
    Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver;
    solver.computeFromTridiagonal(bands.diagonal(), bands.subDiagonal(), Eigen::EigenvaluesOnly);
    const Eigen::VectorXd& values = solver.eigenvalues();
    std::vector<double> found;
    for (int i = 1; i <= modes; ++i)
        found.push_back(1.0 / std::sqrt(values(values.size() - i)));
    return found;
}

}  // namespace loadline::strength
