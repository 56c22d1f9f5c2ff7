#include "loadline/study/bands.hpp"

#include <cmath>
#include <numbers>

namespace loadline {
namespace {

using std::numbers::pi;

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

// Engine and propeller in one draw: where their torques agree near the case as given.
struct DrawnAgreement {
    const Engine* engine = nullptr;
    const Drive* drive = nullptr;
    const Air* air = nullptr;
    const Response* response = nullptr;
    double base = 0.0;      // rotation of the propeller in the case as given, rad/s
    double diameter = 0.0;  // m
    double airspeed = 0.0;  // m/s

    [[nodiscard]] double advance_ratio(double x) const {
        return 2.0 * pi * airspeed / (base * std::exp(x) * diameter);
    }

    // Change of ln(rotation) at which torque given and asked agree. The engine wins below the
    // answer and loses above it.
    [[nodiscard]] double turned(const BladeDraw& blade, const TorqueChange& change,
                                double density) const {
        const double n0 = base / (2.0 * pi);
        const double asked0 = density * n0 * n0 * std::pow(diameter, 5) / (2.0 * pi);
        const double day = engine->day_factor(*air).value;
        const auto excess = [&](double x) {
            const double turning = base * drive->ratio * std::exp(x);
            const double given = change.at(*engine, turning) * drive->ratio * drive->efficiency *
                                 engine->torque(turning, day).value;
            return given - asked0 * std::exp(2.0 * x) * blade.power(*response, x, advance_ratio(x));
        };
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
        return x;
    }
};

const Agreement* agreed(const Match& match) {
    return match.status == MatchStatus::agreed && match.answer ? &match.agreements[*match.answer]
                                                               : nullptr;
}

std::vector<UncertainBlade> uncertain_blades(const std::vector<NamedRotor>& rotors,
                                             const std::vector<Knowledge>& knowledge) {
    std::vector<UncertainBlade> blades;
    for (std::size_t i = 0; i < rotors.size(); ++i)
        blades.push_back({&rotors[i].rotor->blade(), knowledge[i]});
    return blades;
}

std::vector<std::string> names_of(const std::vector<NamedRotor>& rotors) {
    std::vector<std::string> names;
    for (const NamedRotor& rotor : rotors)
        names.push_back(rotor.name);
    return names;
}

// The draws of a whole match.
class MatchDraws {
public:
    MatchDraws(const Engine& engine, const Drive& drive, const std::vector<NamedRotor>& rotors,
               const std::vector<Knowledge>& knowledge, const Air& air, std::size_t draws,
               unsigned threads, const SharedUncertainty& shared, const Left& left)
        : engine_(&engine),
          drive_(&drive),
          air_(&air),
          draws_(draws),
          threads_(threads),
          shared_(shared),
          width_(Dimensions::count(rotors.size())),
          z_(study_draws(left, draws, names_of(rotors), uncertain_blades(rotors, knowledge),
                         false)) {}

    // The i-th rotor at an agreement.
    [[nodiscard]] Samples at(std::size_t i, const Rotor& rotor, Knowledge knowledge,
                             const Neighbours& neighbours, double airspeed,
                             const Agreement& answer) const {
        const double diameter = rotor.blade().diameter();
        const double base = answer.engine_rotation / drive_->ratio;
        const BladeUncertainty uncertainty = blade_uncertainty(knowledge, rotor, *air_, base);
        const Response response = neighbours.at(*air_, {airspeed, base}, true);
        const DrawnAgreement agreement{engine_, drive_, air_, &response, base, diameter, airspeed};
        Samples samples(draws_);
        in_parallel(draws_, threads_, [&](std::size_t k) {
            const double* draw = &z_[k * width_];
            const BladeDraw blade = blade_draw(draw, i, uncertainty, shared_);
            const double density =
                air_->density * (1.0 + shared_.density * draw[Dimensions::density]);
            const double x = agreement.turned(blade, torque_draw(draw, shared_), density);
            const double j = agreement.advance_ratio(x);
            samples.set(k, base * std::exp(x), blade.thrust(response, x, j),
                        blade.power(response, x, j), density, diameter, airspeed);
            samples.engine_power[k] = samples.power[k] / drive_->efficiency;
        });
        return samples;
    }

private:
    const Engine* engine_;
    const Drive* drive_;
    const Air* air_;
    std::size_t draws_;
    unsigned threads_;
    SharedUncertainty shared_;
    std::size_t width_ = 0;
    std::vector<double> z_;
};

std::vector<double> scaled(std::vector<double> values, double by) {
    for (double& v : values)
        v *= by;
    return values;
}

}  // namespace

MatchBands match_bands(const Engine& engine, const Drive& drive,
                       const std::vector<NamedRotor>& rotors,
                       const std::vector<Knowledge>& knowledge, const Air& air,
                       const std::vector<MatchRow>& rows, std::size_t draws, unsigned threads,
                       const SharedUncertainty& shared, const Left& left) {
    const MatchDraws match_draws(engine, drive, rotors, knowledge, air, draws, threads, shared,
                                 left);
    MatchBands result;
    result.points.resize(rows.size());
    result.rotation_difference.resize(rows.size());
    result.thrust_difference.resize(rows.size());
    std::vector<std::optional<Samples>> first(rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Neighbours neighbours(*rotors[i].rotor);
        for (std::size_t p = 0; p < rows[i].points.size(); ++p) {
            const Match& match = rows[i].points[p].match;
            result.points[i].emplace_back();
            if (const Agreement* const answer = agreed(match)) {
                Samples samples = match_draws.at(i, *rotors[i].rotor, knowledge[i], neighbours,
                                                 match.airspeed, *answer);
                result.points[i].back() = samples.bands(true, drive.ratio);
                const std::vector<double> turning = scaled(samples.rotation, drive.ratio);
                result.points[i].back()->odds = limit_odds(engine, turning);
                result.points[i].back()->rotation_quantiles = quantiles_of(turning);
                result.points[i].back()->odds.fast_tips =
                    fast_tip_odds(samples.rotation, match.airspeed,
                                  rotors[i].rotor->blade().tip_radius(), air.sound_speed);
                if (p == 0)
                    first[i] = std::move(samples);
            }
        }
        if (i > 0 && first[0] && first[i]) {
            const Match& a = rows[0].points[0].match;
            const Match& b = rows[i].points[0].match;
            const Agreement& from = a.agreements[*a.answer];
            const Agreement& to = b.agreements[*b.answer];
            result.rotation_difference[i] = difference_of(to.engine_rotation - from.engine_rotation,
                                                          scaled(first[0]->rotation, drive.ratio),
                                                          scaled(first[i]->rotation, drive.ratio));
            result.thrust_difference[i] = difference_of(to.rotor.thrust - from.rotor.thrust,
                                                        first[0]->thrust, first[i]->thrust);
        }
    }
    return result;
}

void tell_odds(std::vector<MatchRow>& rows, const MatchBands& bands, const Engine& engine) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
        for (std::size_t p = 0; p < rows[i].points.size(); ++p) {
            MatchPoint& point = rows[i].points[p];
            if (const Agreement* const answer = agreed(point.match); answer && bands.points[i][p]) {
                point.limit_odds = bands.points[i][p]->odds;
                tell_odds(point.findings, engine, answer->engine_rotation, answer->rotor.tip_mach,
                          *point.limit_odds);
            }
        }
    }
}

void tell_cage(std::vector<MatchRow>& rows, const std::vector<NamedRotor>& rotors,
               const std::vector<Knowledge>& knowledge, double cage) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
        for (MatchPoint& point : rows[i].points) {
            if (point.airspeed > 0.0)
                continue;
            if (!point.limit_odds)
                point.limit_odds.emplace();
            point.limit_odds->into_cage =
                cage_odds(rotors[i].rotor->blade().diameter(), cage, knowledge[i]);
        }
    }
}

std::vector<PointBands> curve_bands(const Rotor& rotor, Knowledge knowledge, const Air& air,
                                    double rotation, const CurveSweep& sweep, std::size_t draws,
                                    const std::string& name, const Left& left) {
    const std::size_t width = Dimensions::count(1);
    const std::vector<double> z =
        study_draws(left, draws, {name}, {{&rotor.blade(), knowledge}}, false);
    const BladeUncertainty uncertainty = blade_uncertainty(knowledge, rotor, air, rotation);
    const double diameter = rotor.blade().diameter();
    const Neighbours neighbours(rotor);
    std::vector<PointBands> bands;
    for (const CurvePoint& point : sweep.points) {
        const double airspeed = point.advance_ratio * rotation / (2.0 * pi) * diameter;
        const Response response = neighbours.at(air, {airspeed, rotation}, false);
        Samples samples(draws);
        for (std::size_t k = 0; k < draws; ++k) {
            const double* draw = &z[k * width];
            const BladeDraw blade = blade_draw(draw, 0, uncertainty);
            const double density =
                air.density * (1.0 + shared_uncertainty().density * draw[Dimensions::density]);
            samples.set(k, rotation, blade.thrust(response, 0.0, point.advance_ratio),
                        blade.power(response, 0.0, point.advance_ratio), density, diameter,
                        airspeed);
        }
        bands.push_back(samples.bands(false, 1.0));
    }
    return bands;
}

}  // namespace loadline
