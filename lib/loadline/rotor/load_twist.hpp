#pragma once
/// How far load turns a running blade out of its drawn angle: a table made once of the blade as a
/// beam (strength/blade_beam.hpp), asked by the rotor at every condition.

#include <vector>

namespace loadline {

/// The twist of each annulus over tip speed, advance and density. Blades of one shape and material
/// turn alike at one tip speed, whatever their size. Both loads grow with its square, so what is
/// kept is the twist over that square: a parabola or higher through the nodes, smooth, held at the
/// outermost of them. What the air does goes with its density, what the blade's own mass does does
/// not. Immutable.
class LoadTwist {
public:
    /// Where the table was made.
    struct Nodes {
        std::vector<double> tip_speed;  ///< m/s, rising, 2 to 6
        std::vector<double> advance;    ///< airspeed over the tips' speed, rising from 0, 2 to 8
        double density = 0.0;           ///< of the air, kg/m3
    };

    /// `by_mass`: rad, at node k of the tip speed and annulus i in [k][i]; `by_air`: what the air
    /// adds, at node j of the advance in [k][j][i]. Errors: std::invalid_argument for sizes that do
    /// not fit or nodes that do not rise.
    LoadTwist(Nodes nodes, std::vector<std::vector<double>> by_mass,
              std::vector<std::vector<std::vector<double>>> by_air);

    /// Of each annulus, root to tip, rad, coarser positive; `advance` is held within the nodes, the
    /// tip speed as well but for its square.
    [[nodiscard]] std::vector<double> at(double tip_speed, double advance, double density) const;

    /// The outermost tip speed of the nodes, m/s.
    [[nodiscard]] double fastest() const { return nodes_.tip_speed.back(); }
    [[nodiscard]] std::size_t annuli() const { return by_mass_.front().size(); }

private:
    Nodes nodes_;
    std::vector<double> squares_;  // of the tip speeds
    std::vector<std::vector<double>> by_mass_;
    std::vector<std::vector<std::vector<double>>> by_air_;
};

}  // namespace loadline
