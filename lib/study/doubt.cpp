#include "loadline/study/doubt.hpp"

#include "loadline/study/response.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadline {
namespace {

using std::numbers::pi;
constexpr double degree = pi / 180.0;

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

}  // namespace

BladeDoubt blade_doubt(Knowledge knowledge, double reynolds) {
    // Angle of one blade: digital level +-0.2 to 0.3 deg in use, both blades averaged (from memory
    // of builders' practice). Chord by caliper, 0.5 mm to 1 mm in 80 mm.
    BladeDoubt d;
    d.angle = 0.3 * degree;
    d.chord = 0.01;
    d.zero_lift = 0.35 * degree;
    d.drag = 0.12;
    d.greatest_lift = 0.06;
    d.thrust_form = 0.02;
    d.power_form = 0.025;
    // Section known: two models of Clark Y differ by 0.5 deg in zero lift and 0.1 in greatest lift
    // at 3e5 (UIUC vol. 3 and SoarTech 8); drag by 5 to 10 % at 1e5. Form: what remains on the
    // four-bladed Report 640 propeller, 1.4 % in CT and 2.8 % in CP, with its own doubt of a few
    // per cent.
    // Standing still, with the blade angle that fits the flight curve: 6 % in CT and 10 % in CP,
    // rms over the 31 commercial propellers (the power of stalled blades comes out 10 to 15 % low).
    d.standing_thrust = 0.06;
    d.standing_power = 0.07;
    // Below 3e5 the same two models part: 0.9 deg at 1e5, 0.7 deg at 6e4, and below 6e4 little was
    // measured at all.
    const double thin = std::clamp(std::sqrt(3e5 / std::max(reynolds, 1.0)), 1.0, 3.0);
    d.zero_lift *= thin;
    d.drag = std::min(0.25, d.drag * thin);
    d.greatest_lift = std::min(0.12, d.greatest_lift * thin);
    // Five prints and five research propellers at 2e4 to 6e4 ask 5 to 15 % more power standing
    // still than predicted.
    d.power_form = std::min(0.08, d.power_form * thin);
    if (knowledge == Knowledge::section_known)
        return d;
    // Section unknown: the blade angle that fits the flight curves of 31 measured propellers of
    // unknown section scatters by 0.9 deg about the stand-in's, by 1.1 deg where the whole line of
    // products was left out of its making (propellers_test); drag and greatest lift scatter over
    // the measured thin sections at 1e5 by about these shares. Form: with these two, of pairs on
    // one engine as many came true as were said to (the same test).
    d.zero_lift = 1.1 * degree;
    d.drag = 0.25;
    d.greatest_lift = 0.12;
    d.thrust_form = 0.04;
    d.power_form = 0.05;
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

FlightDoubt flight_doubt() {
    // Mass: fuel, clothes and a scale, 3 %. Glide ratio: leaflet against one's own harness and
    // cage, 8 %; trim speed 5 % (common practice, no source). Wake and deduction: half of each
    // default, see craft.hpp. Engine loss: 0.20 to 0.30 of rated power, see fuel.hpp. A tank read
    // over an hour's flight: 5 %. Thermocouple and gauge: 3 K (class 1 of IEC 60584 and its cold
    // junction, from memory). Noise: Gutin's theory against NACA TN 1354, 2 to 3 dB, most of it
    // alike for like propellers.
    return {0.03, 0.08, 0.05, 0.04, 0.04, 0.05, 0.05, 3.0, 3.0, 1.0};
}

MatchBands match_bands(const Engine& engine, const Drive& drive,
                       const std::vector<NamedRotor>& rotors,
                       const std::vector<Knowledge>& knowledge, const Air& air,
                       const std::vector<MatchRow>& rows, std::size_t draws, unsigned threads) {
    const SectionsUsed used = sections_used(rotors);
    Dimensions dims;
    dims.sections = used.count;
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
                const BladeDraw blade = blade_draw(draw, dims, used.of_blade[i], i, doubt);
                const double gain = 1.0 + shared.torque * draw[Dimensions::torque];
                const double density =
                    air.density * (1.0 + shared.density * draw[Dimensions::density]);
                const double n0 = base / (2.0 * pi);
                const double asked0 = density * n0 * n0 * std::pow(diameter, 5) / (2.0 * pi);
                const auto excess = [&](double x) {
                    const double given = gain * drive.ratio * drive.efficiency *
                                         engine.torque(base * drive.ratio * std::exp(x), air).value;
                    return given - asked0 * std::exp(2.0 * x) * blade.power(response, x);
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
                samples.set(k, base * std::exp(x), blade.thrust(response, x),
                            blade.power(response, x), density, diameter, match.airspeed);
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
                difference_of(to.engine_rotation - from.engine_rotation, turns_a, turns_b);
            result.thrust_difference[i] = difference_of(to.rotor.thrust - from.rotor.thrust,
                                                        first[0]->thrust, first[i]->thrust);
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
            samples.set(k, rotation, blade.thrust(response, 0.0), blade.power(response, 0.0),
                        density, diameter, airspeed);
        }
        bands.push_back(samples.bands(false, 1.0));
    }
    return bands;
}

}  // namespace loadline
