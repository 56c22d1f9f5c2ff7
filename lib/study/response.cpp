#include "loadline/study/response.hpp"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <map>
#include <numbers>
#include <string>
#include <thread>

namespace loadline {
namespace {

using doubted::angle, doubted::chord, doubted::drag, doubted::greatest_lift, doubted::zero_lift;

constexpr const auto& step = response_step;
constexpr double rotation_step = response_step[parameters];

Deviation deviation_of(std::size_t parameter, double amount) {
    Deviation d;
    switch (parameter) {
        case angle:
            d.angle = amount;
            break;
        case chord:
            d.chord = amount;
            break;
        case zero_lift:
            d.zero_lift = amount;
            break;
        case drag:
            d.drag = amount;
            break;
        default:
            d.greatest_lift = amount;
            break;
    }
    return d;
}

}  // namespace

Neighbours::Neighbours(const Rotor& rotor) : base_(&rotor) {
    moved_.reserve(2 * parameters);
    for (std::size_t k = 0; k < parameters; ++k)
        for (const double side : {-1.0, 1.0}) {
            Deviation moved_to = rotor.model().deviation;
            const Deviation change = deviation_of(k, side * step[k]);
            moved_to.angle += change.angle;
            moved_to.chord += change.chord;
            moved_to.zero_lift += change.zero_lift;
            moved_to.drag += change.drag;
            moved_to.greatest_lift += change.greatest_lift;
            moved_.push_back(rotor.deviating(moved_to));
        }
}

Response Neighbours::at(const Air& air, const OperatingPoint& point, bool turns) const {
    Response response;
    RotorSeed seed;
    const RotorResult middle = base_->solve(air, point, &seed);
    response.ct = middle.ct;
    response.cp = middle.cp;
    const auto fit = [&](std::size_t k, double h, const RotorResult& down, const RotorResult& up) {
        response.ct_slope[k] = (up.ct - down.ct) / (2.0 * h);
        response.cp_slope[k] = (up.cp - down.cp) / (2.0 * h);
        response.ct_bend[k] = (up.ct + down.ct - 2.0 * middle.ct) / (2.0 * h * h);
        response.cp_bend[k] = (up.cp + down.cp - 2.0 * middle.cp) / (2.0 * h * h);
    };
    for (std::size_t k = 0; k < parameters; ++k) {
        RotorSeed down = seed, up = seed;
        fit(k, step[k], moved_[2 * k].solve(air, point, &down),
            moved_[2 * k + 1].solve(air, point, &up));
    }
    if (turns) {
        OperatingPoint slow = point, fast = point;
        slow.rotation *= std::exp(-rotation_step);
        fast.rotation *= std::exp(rotation_step);
        fit(parameters, rotation_step, base_->solve(air, slow, &seed),
            base_->solve(air, fast, &seed));
    }
    return response;
}
std::vector<double> normal_draws(std::size_t draws, std::size_t dimensions) {
    boost::random::sobol sequence(dimensions);
    sequence.discard(dimensions);  // the first point is the corner
    std::vector<double> values(draws * dimensions);
    constexpr double scale = 1.0 / 18446744073709551616.0;  // 2^-64
    for (double& v : values) {
        const double u = (static_cast<double>(sequence()) + 0.5) * scale;
        v = std::numbers::sqrt2 *
            boost::math::erf_inv(2.0 * std::clamp(u, 1e-12, 1.0 - 1e-12) - 1.0);
    }
    return values;
}

Band nine_in_ten(std::vector<double> values) {
    const auto at = [&](double share) {
        const auto k = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
        std::nth_element(values.begin(), values.begin() + k, values.end());
        return values[static_cast<std::size_t>(k)];
    };
    return {at(0.05), at(0.95)};
}

void in_parallel(std::size_t count, unsigned threads,
                 const std::function<void(std::size_t)>& work) {
    if (threads == 0)
        threads = std::max(1u, std::thread::hardware_concurrency());
    const auto piece = [&](unsigned part) {
        for (std::size_t i = count * part / threads; i < count * (part + 1) / threads; ++i)
            work(i);
    };
    std::vector<std::thread> others;
    for (unsigned part = 1; part < threads; ++part)
        others.emplace_back(piece, part);
    piece(0);
    for (std::thread& t : others)
        t.join();
}

BladeDraw blade_draw(const double* z, const Dimensions& dims, std::size_t section,
                     std::size_t blade, const BladeDoubt& doubt) {
    BladeDraw d;
    d.change[angle] =
        shared_doubt().angle * z[Dimensions::shared_angle] + doubt.angle * z[dims.blade(blade, 0)];
    d.change[chord] = doubt.chord * z[dims.blade(blade, 1)];
    d.change[zero_lift] = doubt.zero_lift * z[dims.section(section, 0)];
    d.change[drag] = doubt.drag * z[dims.section(section, 1)];
    d.change[greatest_lift] = doubt.greatest_lift * z[dims.section(section, 2)];
    d.thrust_form = 1.0 + doubt.thrust_form * z[dims.blade(blade, 2)];
    d.power_form = 1.0 + doubt.power_form * z[dims.blade(blade, 3)];
    return d;
}

SectionsUsed sections_used(const std::vector<NamedRotor>& rotors) {
    // Blades on the same section data share its doubt. Those of unknown section count as alike too:
    // with it, what was said to be 98 % sure of measured pairs came true in 98 % (propellers_test);
    // with a doubt of its own for each, calls were far surer than they said.
    std::map<std::string, std::size_t> section_index;
    SectionsUsed used;
    for (const NamedRotor& r : rotors) {
        const Blade& blade = r.rotor->blade();
        const int main = blade.at(0.75 * blade.tip_radius()).section_a;
        const auto found =
            section_index.emplace(blade.section(main).data().name, section_index.size());
        used.of_blade.push_back(found.first->second);
    }
    used.count = section_index.size();
    return used;
}

double reynolds_at_three_quarters(const Rotor& rotor, const Air& air, double rotation) {
    const double r = 0.75 * rotor.blade().tip_radius();
    return air.density * rotation * r * rotor.blade().at(r).chord / air.viscosity;
}

BandedDifference difference_of(double value, const std::vector<double>& a,
                               const std::vector<double>& b) {
    std::vector<double> d(a.size());
    std::size_t positive = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        d[i] = b[i] - a[i];
        positive += d[i] > 0.0 ? 1u : 0u;
    }
    return {value, nine_in_ten(d), static_cast<double>(positive) / static_cast<double>(a.size())};
}

}  // namespace loadline
