#include "loadline/study/needed_thickness.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/study/detail/blade_parts.hpp"
#include "loadline/study/detail/station_stress.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

using Factors = std::vector<double>;  // of the drawn thickness, at the places

// Stress is brought this near below what the material bears, so that it is told as holding.
constexpr double aim = 0.997, settled_stress = 0.002;
constexpr double step_power = 0.9, boldest_power = 3.0;
constexpr int most_passes = 25;

// Elements of the beam on the way, and where the verdict is made.
constexpr int rough_beam = 12, verdict_beam = 32;

class ThicknessSearch {
public:
    ThicknessSearch(const BladeSetting& setting, const BladeStrength& strength)
        : setting_(setting),
          strength_(strength),
          radii_(radii_shown(setting.rotor->blade())),
          stiff_(setting.rotor->turned_by(nullptr)),
          drawn_(setting.rotor->blade(), setting.build.fill) {
        const Blade& blade = drawn_.blade();
        const std::vector<Station>& stations = blade.description().stations;
        by_station_ = stations.size() == radii_.size();
        for (std::size_t k = 0; k < radii_.size(); ++k) {
            const BladeElement e = blade.at(radii_[k]);
            need_.push_back({radii_[k], e.chord, e.thickness * e.chord});
            need_.back().stated =
                by_station_ ? stations[k].thickness.has_value() : drawn_.thickness_stated();
        }
        const auto& running = strength.running[BladeStrength::over_limit];
        if (running)
            as_drawn_ = station_stress(radii_, drawn_, running->places, running->stress);
    }

    // Each station's thickness at a stress of `bears`.
    void find(double bears, std::optional<NeededThickness> ThicknessNeed::*need) {
        bears *= aim;
        const Factors drawn(radii_.size(), 1.0);
        Factors factors = drawn;
        std::vector<StationStress> stress = as_drawn_;
        if (!settled(factors, stress, bears, drawn, verdict_beam)) {
            if (!strength_.thicker)
                return;
            factors.assign(radii_.size(), *strength_.thicker);  // all along, which holds
            if (!look(stress, factors, verdict_beam) ||
                !settled(factors, stress, bears, drawn, verdict_beam))
                return;
        }
        Factors least;
        for (std::size_t k = 0; k < radii_.size(); ++k)
            least.push_back(factors[k] > 1.0 ? factors[k] : floor_of(k));
        const Factors lacking = factors;
        const bool thinned = settled(factors, stress, bears, least, rough_beam) &&
                             look(stress, factors, verdict_beam) &&
                             settled(factors, stress, bears, least, verdict_beam);
        if (!thinned)  // what holds is known all the same
            factors = lacking;
        for (std::size_t k = 0; k < radii_.size(); ++k) {
            const bool by_strength = !thinned || lacking[k] > 1.0 || factors[k] > least[k];
            need_[k].*need = NeededThickness{factors[k] * need_[k].drawn, by_strength};
        }
    }

    [[nodiscard]] const std::vector<ThicknessNeed>& needs() const { return need_; }

private:
    [[nodiscard]] double floor_of(std::size_t k) const {
        return std::min(1.0, thinnest_told_share * need_[k].chord / need_[k].drawn);
    }
    [[nodiscard]] double ceiling_of(std::size_t k) const {
        return thickest_blade * need_[k].chord / need_[k].drawn;
    }

    [[nodiscard]] Blade made(const Factors& factors) const {
        BladeDescription d = drawn_.blade().description();
        const std::optional<Curve> along =
            by_station_ ? std::optional<Curve>() : Curve(radii_, factors);
        for (std::size_t i = 0; i < d.stations.size(); ++i) {
            Station& s = d.stations[i];
            const double factor = along ? (*along)(s.radius) : factors[i];
            s.thickness = std::clamp(factor * drawn_.blade().at(s.radius).thickness, thinnest_blade,
                                     thickest_blade);
        }
        return Blade(d);
    }

    // Whether the flow has an answer; no stress where the blade comes to no rest.
    [[nodiscard]] bool look(std::vector<StationStress>& stress, const Factors& factors,
                            int elements) const {
        const Rotor rotor = stiff_.with_blade(made(factors));
        const BladeShape shape(rotor.blade(), setting_.build.fill);
        const BladeBeam beam =
            blade_beam(shape, beam_material(strength_.material, strength_.density), elements);
        const double rotation = strength_.rotation[BladeStrength::over_limit];
        stress.clear();
        try {
            const auto settled = settle(rotor, setting_.air, {0.0, rotation}, shape, beam);
            if (!settled)
                return false;
            stress = station_stress(
                radii_, shape, settled->state.places,
                beam.stress(settled->state, beam.once_a_turn(rotation, usual_turn_rate)));
        } catch (const std::domain_error&) {
            return true;
        }
        return true;
    }

    // Thickness at which each station bears what it may, or `least` where that is more; false
    // where none was found. `stress` is of `factors`, before and after.
    [[nodiscard]] bool settled(Factors& factors, std::vector<StationStress>& stress, double bears,
                               const Factors& least, int elements) const {
        constexpr int in_vain = 4;
        int beyond = 0;
        // How much more thickness brings is learnt at each station from its own last step: in a
        // hollow blade, whose wall and weight grow with it, far less than in a solid one.
        std::vector<double> power(factors.size(), step_power), gone(factors.size(), 0.0),
            lacked(factors.size(), 0.0);
        for (int pass = 0; pass < most_passes; ++pass) {
            bool done = !stress.empty(), at_ceiling = false;
            Factors next = factors;
            for (std::size_t k = 0; k < factors.size(); ++k) {
                const double share = stress.empty() ? 2.0 : stress[k].whole / bears;
                if (!stress.empty()) {
                    const double lacking = std::log(thickness_step(stress[k], bears, 1.0));
                    const double closed = lacked[k] - lacking;
                    // What moved by its neighbours' steps alone teaches nothing.
                    if (std::abs(gone[k]) > 1e-3 && boldest_power * closed / gone[k] > 0.5)
                        power[k] = std::clamp(gone[k] / closed, 0.5, boldest_power);
                    lacked[k] = lacking;
                }
                const double step = stress.empty() ? greatest_thickness_step
                                                   : thickness_step(stress[k], bears, power[k]);
                // By stress, and by thickness where that hardly changes stress.
                const double most = std::max(least[k], ceiling_of(k));
                const bool overloaded = share > 1.0 + settled_stress;
                const bool lacks = overloaded || (step > 1.0 + settled_stress && factors[k] < most);
                const bool spare =
                    std::min(share, step) < 1.0 - settled_stress && factors[k] > least[k];
                done = done && !lacks && !spare;
                at_ceiling = at_ceiling || (overloaded && factors[k] >= most);
                next[k] = std::clamp(factors[k] * step, least[k], most);
                gone[k] = std::log(next[k] / factors[k]);
            }
            if (done)
                return true;
            factors = std::move(next);
            if ((at_ceiling && ++beyond == in_vain) || !look(stress, factors, elements))
                return false;
        }
        return false;
    }

    const BladeSetting& setting_;
    const BladeStrength& strength_;
    std::vector<double> radii_;
    Rotor stiff_;
    BladeShape drawn_;
    bool by_station_ = true;
    std::vector<ThicknessNeed> need_;
    std::vector<StationStress> as_drawn_;
};

}  // namespace

std::vector<ThicknessNeed> needed_thickness(const BladeSetting& setting, const BladeStudy& study) {
    if (setting.rotor == nullptr)
        throw std::invalid_argument("the blade study has no rotor");
    const BladeStrength& strength = study.strength;
    if (!strength.running[BladeStrength::over_limit] &&
        !strength.twists_on[BladeStrength::over_limit])
        return {};
    ThicknessSearch search(setting, strength);
    search.find(strength.working_stress, &ThicknessNeed::holds);
    search.find(strength.working_stress / good_reserve, &ThicknessNeed::with_room);
    return search.needs();
}

}  // namespace loadline
