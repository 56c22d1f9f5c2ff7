#include "loadline/rotor/load_twist.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

// Lagrange's weights of the nodes at `x`, held between the first and the last.
std::vector<double> node_weights(const std::vector<double>& nodes, double x) {
    const double at = std::clamp(x, nodes.front(), nodes.back());
    std::vector<double> weights(nodes.size(), 1.0);
    for (std::size_t k = 0; k < nodes.size(); ++k)
        for (std::size_t j = 0; j < nodes.size(); ++j)
            if (j != k)
                weights[k] *= (at - nodes[j]) / (nodes[k] - nodes[j]);
    return weights;
}

bool rises(const std::vector<double>& nodes) {
    return std::adjacent_find(
               nodes.begin(), nodes.end(), [](double a, double b) { return !(b > a); }) ==
           nodes.end();
}

}  // namespace

LoadTwist::LoadTwist(Nodes nodes, std::vector<std::vector<double>> by_mass,
                     std::vector<std::vector<std::vector<double>>> by_air)
    : nodes_(std::move(nodes)), by_mass_(std::move(by_mass)), by_air_(std::move(by_air)) {
    const std::size_t turns = nodes_.tip_speed.size(), advances = nodes_.advance.size();
    bool fits = turns >= 2 && turns <= 6 && advances >= 2 && advances <= 8 &&
                by_mass_.size() == turns && by_air_.size() == turns && nodes_.density > 0.0 &&
                nodes_.tip_speed.front() > 0.0 && rises(nodes_.tip_speed) && rises(nodes_.advance);
    for (std::size_t k = 0; fits && k < turns; ++k) {
        fits = by_mass_[k].size() == annuli() && by_air_[k].size() == advances;
        for (std::size_t j = 0; fits && j < advances; ++j)
            fits = by_air_[k][j].size() == annuli();
    }
    if (!fits)
        throw std::invalid_argument("load twist: nodes that rise and values for each are needed");
    for (std::size_t k = 0; k < turns; ++k) {
        const double square = nodes_.tip_speed[k] * nodes_.tip_speed[k];
        squares_.push_back(square);
        for (double& twist : by_mass_[k])
            twist /= square;
        for (std::vector<double>& row : by_air_[k])
            for (double& twist : row)
                twist /= square;
    }
}

std::vector<double> LoadTwist::at(double tip_speed, double advance, double density) const {
    const double square = tip_speed * tip_speed;
    const std::vector<double> turn = node_weights(squares_, square);
    const std::vector<double> going = node_weights(nodes_.advance, advance);
    std::vector<double> twist(annuli(), 0.0);
    for (std::size_t k = 0; k < turn.size(); ++k) {
        const double mass = square * turn[k];
        for (std::size_t i = 0; i < twist.size(); ++i)
            twist[i] += mass * by_mass_[k][i];
        for (std::size_t j = 0; j < going.size(); ++j) {
            const double air = mass * going[j] * density / nodes_.density;
            for (std::size_t i = 0; i < twist.size(); ++i)
                twist[i] += air * by_air_[k][j][i];
        }
    }
    return twist;
}

}  // namespace loadline
