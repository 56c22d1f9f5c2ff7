#include "loadline/study/doubt.hpp"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <thread>

namespace loadline {
namespace {

using std::numbers::pi;
constexpr double degree = pi / 180.0;

// What an answer is asked to vary.
enum Parameter : std::size_t { angle, chord, zero_lift, drag, greatest_lift, parameters };
using Draw = std::array<double, parameters>;

// Steps a side for the response, near one to two sigma of the widest doubt.
constexpr Draw step = {1.0 * degree, 0.05, 1.0 * degree, 0.15, 0.08};
constexpr double rotation_step = 0.06;

// CT and CP near one condition: quadratic in each parameter and in the logarithm of the rotation at
// fixed airspeed. Mixed terms are left out; tests hold it against whole matches.
struct Response {
    double ct = 0.0, cp = 0.0;
    std::array<double, parameters + 1> ct_slope{}, cp_slope{}, ct_bend{}, cp_bend{};

    [[nodiscard]] double thrust(const Draw& d, double x) const {
        return sum(ct, ct_slope, ct_bend, d, x);
    }
    [[nodiscard]] double power(const Draw& d, double x) const {
        return sum(cp, cp_slope, cp_bend, d, x);
    }

private:
    static double sum(double base, const std::array<double, parameters + 1>& slope,
                      const std::array<double, parameters + 1>& bend, const Draw& d, double x) {
        double total = base + x * (slope[parameters] + x * bend[parameters]);
        for (std::size_t k = 0; k < parameters; ++k)
            total += d[k] * (slope[k] + d[k] * bend[k]);
        return total;
    }
};

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

// The blade with each parameter moved a step down and up: made once for all its conditions.
struct Neighbours {
    const Rotor* base = nullptr;
    std::vector<Rotor> moved;  // down, up for each parameter

    explicit Neighbours(const Rotor& rotor) : base(&rotor) {
        moved.reserve(2 * parameters);
        for (std::size_t k = 0; k < parameters; ++k)
            for (const double side : {-1.0, 1.0}) {
                Deviation moved_to = rotor.model().deviation;
                const Deviation change = deviation_of(k, side * step[k]);
                moved_to.angle += change.angle;
                moved_to.chord += change.chord;
                moved_to.zero_lift += change.zero_lift;
                moved_to.drag += change.drag;
                moved_to.greatest_lift += change.greatest_lift;
                moved.push_back(rotor.deviating(moved_to));
            }
    }

    [[nodiscard]] Response at(const Air& air, const OperatingPoint& point, bool turns) const {
        Response response;
        RotorSeed seed;
        const RotorResult middle = base->solve(air, point, &seed);
        response.ct = middle.ct;
        response.cp = middle.cp;
        const auto fit = [&](std::size_t k, double h, const RotorResult& down,
                             const RotorResult& up) {
            response.ct_slope[k] = (up.ct - down.ct) / (2.0 * h);
            response.cp_slope[k] = (up.cp - down.cp) / (2.0 * h);
            response.ct_bend[k] = (up.ct + down.ct - 2.0 * middle.ct) / (2.0 * h * h);
            response.cp_bend[k] = (up.cp + down.cp - 2.0 * middle.cp) / (2.0 * h * h);
        };
        for (std::size_t k = 0; k < parameters; ++k) {
            RotorSeed down = seed, up = seed;
            fit(k, step[k], moved[2 * k].solve(air, point, &down),
                moved[2 * k + 1].solve(air, point, &up));
        }
        if (turns) {
            OperatingPoint slow = point, fast = point;
            slow.rotation *= std::exp(-rotation_step);
            fast.rotation *= std::exp(rotation_step);
            fit(parameters, rotation_step, base->solve(air, slow, &seed),
                base->solve(air, fast, &seed));
        }
        return response;
    }
};

// Standard normal values of a Sobol sequence, [draw][dimension].
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

// Work on [0, count) in even pieces on several threads; each index is independent of the others.
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

struct Samples {
    std::vector<double> rotation, engine_power, thrust, torque, power, efficiency, ct, cp;

    explicit Samples(std::size_t n)
        : rotation(n),
          engine_power(n),
          thrust(n),
          torque(n),
          power(n),
          efficiency(n),
          ct(n),
          cp(n) {}

    // The loads of one draw at rotation [rad/s].
    void set(std::size_t i, double turning, double ct_, double cp_, double density, double diameter,
             double airspeed) {
        const double n = turning / (2.0 * pi);
        const double d2 = diameter * diameter;
        rotation[i] = turning;
        ct[i] = ct_;
        cp[i] = cp_;
        thrust[i] = ct_ * density * n * n * d2 * d2;
        power[i] = cp_ * density * n * n * n * d2 * d2 * diameter;
        torque[i] = power[i] / turning;
        efficiency[i] = power[i] > 0.0 ? thrust[i] * airspeed / power[i] : 0.0;
    }

    [[nodiscard]] PointBands bands(bool with_engine, double ratio) const {
        PointBands b;
        b.thrust = nine_in_ten(thrust);
        b.torque = nine_in_ten(torque);
        b.power = nine_in_ten(power);
        b.efficiency = nine_in_ten(efficiency);
        b.ct = nine_in_ten(ct);
        b.cp = nine_in_ten(cp);
        if (with_engine) {
            const Band r = nine_in_ten(rotation);
            b.engine_rotation = Band{r.low * ratio, r.high * ratio};
            b.engine_power = nine_in_ten(engine_power);
        }
        return b;
    }
};

// Which dimension of a draw stands for what.
struct Dimensions {
    static constexpr std::size_t shared_angle = 0, torque = 1, density = 2, first_section = 3;
    std::size_t sections = 0;

    [[nodiscard]] std::size_t section(std::size_t s, std::size_t which) const {
        return first_section + 3 * s + which;
    }
    [[nodiscard]] std::size_t blade(std::size_t b, std::size_t which) const {
        return first_section + 3 * sections + 4 * b + which;
    }
    [[nodiscard]] std::size_t count(std::size_t blades) const { return blade(blades, 0); }
};

// What one draw says of one blade.
struct BladeDraw {
    Draw change{};
    double thrust_form = 1.0, power_form = 1.0;
};

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

double reynolds_at_three_quarters(const Rotor& rotor, const Air& air, double rotation) {
    const double r = 0.75 * rotor.blade().tip_radius();
    return air.density * rotation * r * rotor.blade().at(r).chord / air.viscosity;
}

BandedDifference difference(double value, const std::vector<double>& a,
                            const std::vector<double>& b) {
    std::vector<double> d(a.size());
    std::size_t positive = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        d[i] = b[i] - a[i];
        positive += d[i] > 0.0 ? 1u : 0u;
    }
    return {value, nine_in_ten(d), static_cast<double>(positive) / static_cast<double>(a.size())};
}

}  // namespace

BladeDoubt blade_doubt(Knowledge knowledge, double reynolds) {
    // Angle of one blade: digital level +-0.2 to 0.3 deg in use, both blades averaged (from memory
    // of builders' practice). Chord by caliper, 0.5 mm to 1 mm in 80 mm.
    BladeDoubt d{0.3 * degree, 0.01, 0.4 * degree, 0.12, 0.06, 0.025, 0.03};
    // Section known: two models of Clark Y differ by 0.5 deg in zero lift and 0.1 in greatest lift
    // at 3e5 (UIUC vol. 3 and SoarTech 8); drag by 5 to 10 % at 1e5. Form: what remains on the
    // four-bladed Report 640 propeller, 1.4 % in CT and 2.8 % in CP, with its own doubt of a few
    // per cent.
    // Below 3e5 the same two models part: 0.9 deg at 1e5, 0.7 deg at 6e4, and below 6e4 little was
    // measured at all.
    const double thin = std::clamp(std::sqrt(3e5 / std::max(reynolds, 1.0)), 1.0, 3.0);
    d.zero_lift *= thin;
    d.drag = std::min(0.25, d.drag * thin);
    d.greatest_lift = std::min(0.12, d.greatest_lift * thin);
    if (knowledge == Knowledge::section_known)
        return d;
    // Section unknown: the pitch at which 31 measured propellers of unknown section stop pulling
    // scatters by 1.8 deg about the mean section's; drag and greatest lift scatter over the
    // measured thin sections at 1e5 by about these shares.
    d.zero_lift = 1.8 * degree;
    d.drag = 0.25;
    d.greatest_lift = 0.12;
    d.thrust_form = 0.05;
    d.power_form = 0.06;
    if (knowledge == Knowledge::section_unknown)
        return d;
    // Label: blade angle at 0.75 R of the same 31 propellers against their label's geometric pitch,
    // 1.1 deg; chord at 0.75 R against the median of 0.143 R, 21 %; with the chord measured there
    // what remains is its distribution.
    d.angle = 1.1 * degree;
    d.chord = knowledge == Knowledge::label_and_chord ? 0.05 : 0.21;
    d.thrust_form = 0.06;
    d.power_form = 0.08;
    return d;
}

SharedDoubt shared_doubt() {
    // The level's zero and the table it is zeroed on, 0.3 deg. Engine torque: leaflet or bench
    // figure against this engine, on this day, 4 % (carburettor, pipe and correction; common
    // practice, no source). Density: 3 K and 3 hPa unnoticed.
    return {0.3 * degree, 0.04, 0.008};
}

MatchBands match_bands(const Engine& engine, const Drive& drive,
                       const std::vector<NamedRotor>& rotors,
                       const std::vector<Knowledge>& knowledge, const Air& air,
                       const std::vector<MatchRow>& rows, std::size_t draws, unsigned threads) {
    // Blades on the same section data share its doubt. Those of unknown section count as alike too:
    // with it, what was said to be 98 % sure of measured pairs came true in 98 % (propellers_test);
    // with a doubt of its own for each, calls were far surer than they said.
    std::map<std::string, std::size_t> section_index;
    std::vector<std::size_t> section_of;
    for (const NamedRotor& r : rotors) {
        const Blade& blade = r.rotor->blade();
        const int main = blade.at(0.75 * blade.tip_radius()).section_a;
        const auto found =
            section_index.emplace(blade.section(main).data().name, section_index.size());
        section_of.push_back(found.first->second);
    }
    Dimensions dims;
    dims.sections = section_index.size();
    const std::size_t width = dims.count(rotors.size());
    const std::vector<double> z = normal_draws(draws, width);
    const SharedDoubt shared = shared_doubt();

    MatchBands result;
    result.points.resize(rows.size());
    result.rotation_difference.resize(rows.size());
    result.thrust_difference.resize(rows.size());
    std::vector<std::optional<Samples>> first(rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Rotor& rotor = *rotors[i].rotor;
        const double diameter = rotor.blade().diameter();
        const Neighbours neighbours(rotor);
        for (std::size_t p = 0; p < rows[i].points.size(); ++p) {
            const Match& match = rows[i].points[p].match;
            result.points[i].emplace_back();
            if (match.status != MatchStatus::agreed || !match.answer)
                continue;
            const Agreement& answer = match.agreements[*match.answer];
            const double base = answer.engine_rotation / drive.ratio;
            const BladeDoubt doubt =
                blade_doubt(knowledge[i], reynolds_at_three_quarters(rotor, air, base));
            const Response response = neighbours.at(air, {match.airspeed, base}, true);
            Samples samples(draws);
            in_parallel(draws, threads, [&](std::size_t k) {
                const double* draw = &z[k * width];
                const BladeDraw blade = blade_draw(draw, dims, section_of[i], i, doubt);
                const double gain = 1.0 + shared.torque * draw[Dimensions::torque];
                const double density =
                    air.density * (1.0 + shared.density * draw[Dimensions::density]);
                const double n0 = base / (2.0 * pi);
                const double asked0 = density * n0 * n0 * std::pow(diameter, 5) / (2.0 * pi);
                const auto excess = [&](double x) {
                    const double given = gain * drive.ratio * drive.efficiency *
                                         engine.torque(base * drive.ratio * std::exp(x), air).value;
                    return given - asked0 * std::exp(2.0 * x) * blade.power_form *
                                       response.power(blade.change, x);
                };
                // The engine wins below the answer and loses above it.
                double low = -0.5, high = 0.35;
                double x = 0.0;
                double before = 0.02;
                double f_before = excess(before);
                for (int round = 0; round < 40; ++round) {
                    const double f = excess(x);
                    (f > 0.0 ? low : high) = x;
                    const double slope = (f - f_before) / (x - before);
                    double next = x - f / slope;
                    if (!(slope < 0.0) || !(next > low && next < high))
                        next = 0.5 * (low + high);
                    before = x;
                    f_before = f;
                    if (std::abs(next - x) < 1e-6)
                        break;
                    x = next;
                }
                samples.set(k, base * std::exp(x),
                            blade.thrust_form * response.thrust(blade.change, x),
                            blade.power_form * response.power(blade.change, x), density, diameter,
                            match.airspeed);
                samples.engine_power[k] = samples.power[k] / drive.efficiency;
            });
            result.points[i].back() = samples.bands(true, drive.ratio);
            if (p == 0)
                first[i] = std::move(samples);
        }
        if (i > 0 && first[0] && first[i]) {
            const Match& a = rows[0].points[0].match;
            const Match& b = rows[i].points[0].match;
            const Agreement& from = a.agreements[*a.answer];
            const Agreement& to = b.agreements[*b.answer];
            std::vector<double> turns_a = first[0]->rotation, turns_b = first[i]->rotation;
            for (double& v : turns_a)
                v *= drive.ratio;
            for (double& v : turns_b)
                v *= drive.ratio;
            result.rotation_difference[i] =
                difference(to.engine_rotation - from.engine_rotation, turns_a, turns_b);
            result.thrust_difference[i] =
                difference(to.rotor.thrust - from.rotor.thrust, first[0]->thrust, first[i]->thrust);
        }
    }
    return result;
}

std::vector<PointBands> curve_bands(const Rotor& rotor, Knowledge knowledge, const Air& air,
                                    double rotation, const CurveSweep& sweep, std::size_t draws) {
    Dimensions dims;
    dims.sections = 1;
    const std::size_t width = dims.count(1);
    const std::vector<double> z = normal_draws(draws, width);
    const BladeDoubt doubt =
        blade_doubt(knowledge, reynolds_at_three_quarters(rotor, air, rotation));
    const double diameter = rotor.blade().diameter();
    const Neighbours neighbours(rotor);
    std::vector<PointBands> bands;
    for (const CurvePoint& point : sweep.points) {
        const double airspeed = point.advance_ratio * rotation / (2.0 * pi) * diameter;
        const Response response = neighbours.at(air, {airspeed, rotation}, false);
        Samples samples(draws);
        for (std::size_t k = 0; k < draws; ++k) {
            const double* draw = &z[k * width];
            const BladeDraw blade = blade_draw(draw, dims, 0, 0, doubt);
            const double density =
                air.density * (1.0 + shared_doubt().density * draw[Dimensions::density]);
            samples.set(k, rotation, blade.thrust_form * response.thrust(blade.change, 0.0),
                        blade.power_form * response.power(blade.change, 0.0), density, diameter,
                        airspeed);
        }
        bands.push_back(samples.bands(false, 1.0));
    }
    return bands;
}

}  // namespace loadline
