#include "loadline/study/compare.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/number/root.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/sound/sound.hpp"
#include "loadline/strength/balance.hpp"
#include "loadline/strength/inertia.hpp"
#include "loadline/strength/spool_up.hpp"
#include "loadline/study/response.hpp"
#include "loadline/study/wording.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

using std::numbers::pi;

constexpr std::size_t at(Quantity q) {
    return static_cast<std::size_t>(q);
}

// One propeller flown once: in the case as given, or as one draw has it.
struct Flown {
    std::optional<double> standing;  // propeller rotation, rad/s
    double standing_thrust = 0.0;
    Flight cruise, climb;
    BandClimb band;
};

Flown fly(const PoweredCraft& craft, const PropellerAt& propeller, const AirAt& air, double mass,
          const FlightPlan& plan, double standing_start, double flying_start, int steps) {
    Flown f;
    const Air field = air(0.0);
    f.standing = full_throttle_rotation(craft, propeller, field, 0.0, standing_start);
    if (f.standing) {
        const auto loads = propeller(field, 0.0, *f.standing);
        f.standing_thrust = loads ? loads->thrust : 0.0;
    }
    f.cruise = level_cruise(craft, propeller, field, mass, flying_start, plan.cruise_airspeed);
    f.climb = full_throttle_climb(craft, propeller, field, mass, flying_start);
    f.band = climb_band(craft, propeller, air, mass, flying_start, plan.climb_from, plan.climb_to,
                        steps);
    return f;
}

// Speed of the air over a head that stands 0.3 radii ahead of the disk: flight and the inflow the
// propeller draws there, 0.713 of that in the disk (vortex cylinder, v (1 + s/sqrt(s^2 + R^2)) at
// s = -0.3 R). A fan's stream goes with its speed.
double cooling_flow(const Air& air, const FlightState& s, double diameter, bool fan) {
    if (fan) {
        return air.density * s.engine_rotation;
    }
    const double area = 0.25 * pi * diameter * diameter;
    const double half = 0.5 * s.airspeed;
    const double inflow =
        std::sqrt(half * half + std::max(0.0, s.thrust) / (2.0 * air.density * area)) - half;
    return air.density * (s.airspeed + 0.713 * inflow);
}

HeadState head_state(const Air& air, const FlightState& s, double diameter, bool fan,
                     const FuelModel& fuel) {
    return {air.temperature, std::max(1.0, s.engine_power) + engine_loss(fuel, s.engine_rotation),
            cooling_flow(air, s, diameter, fan)};
}

struct HeadPair {
    std::optional<double> climb, cruise;
    double by_load = 0.0;  // K of `climb` that practice adds
};

// Heads with one propeller, from the reading with the first one.
HeadPair heads(const HeadModel& model, double reading, bool read_in_climb, const Air& air,
               const Flown& first, double first_diameter, const Flown& other, double diameter,
               bool fan, const FuelModel& fuel, double practice) {
    HeadPair pair;
    const Flight& where = read_in_climb ? first.climb : first.cruise;
    if (where.status != FlightStatus::found) {
        return pair;
    }
    const HeadState then = head_state(air, where.state, first_diameter, fan, fuel);
    if (!(reading > then.air_temperature + 1.0) || !(reading < model.gas_temperature - 1.0)) {
        return pair;
    }
    if (other.climb.status == FlightStatus::found && first.climb.status == FlightStatus::found) {
        pair.by_load = practice * pulled_down_allowance(other.climb.state.engine_rotation /
                                                        first.climb.state.engine_rotation);
        pair.climb = head_temperature(model, reading, then,
                                      head_state(air, other.climb.state, diameter, fan, fuel)) +
                     pair.by_load;
    }
    if (other.cruise.status == FlightStatus::found) {
        pair.cruise = head_temperature(model, reading, then,
                                       head_state(air, other.cruise.state, diameter, fan, fuel));
    }
    return pair;
}

Values values_of(const Flown& f, double ratio) {
    Values v;
    if (f.standing) {
        v[at(Quantity::static_rotation)] = *f.standing * ratio;
        v[at(Quantity::static_thrust)] = f.standing_thrust;
    }
    if (f.climb.status == FlightStatus::found) {
        v[at(Quantity::climb_rate)] = f.climb.state.rate;
        v[at(Quantity::climb_angle)] = f.climb.state.angle;
    }
    if (f.band.status == FlightStatus::found) {
        v[at(Quantity::climb_rotation)] = f.band.middle.engine_rotation;
        v[at(Quantity::band_time)] = f.band.time;
        v[at(Quantity::band_fuel)] = f.band.fuel;
    }
    if (f.cruise.status == FlightStatus::found) {
        v[at(Quantity::cruise_rotation)] = f.cruise.state.engine_rotation;
        v[at(Quantity::cruise_fuel)] = f.cruise.state.fuel_flow;
    }
    return v;
}

// CT and CP of one propeller as they answer to the draws: standing still over rotation, and in
// flight over advance ratio along the line of the trim speed.
class DrawnPropeller {
public:
    DrawnPropeller(const Rotor& rotor, const Air& air, double standing, double axial, double low,
                   double high)
        : diameter_(rotor.blade().diameter()), standing_rotation_(standing) {
        const Neighbours neighbours(rotor);
        standing_ = neighbours.at(air, {0.0, standing}, true);
        for (std::size_t k = 0; k < nodes; ++k) {
            const double c = std::cos(pi * static_cast<double>(k) / static_cast<double>(nodes - 1));
            j_[k] = 0.5 * (low + high) - 0.5 * (high - low) * c;
            flight_[k] = neighbours.at(air, {axial, 2.0 * pi * axial / (j_[k] * diameter_)}, false);
        }
    }

    struct Drawn {
        const DrawnPropeller* of = nullptr;
        BladeDraw blade;
        std::array<double, 6> ct{}, cp{};

        [[nodiscard]] PropellerLoads loads(const Air& air, double airspeed, double rotation) const {
            const double n = rotation / (2.0 * pi);
            const double d = of->diameter_;
            double t = 0.0, p = 0.0;
            if (airspeed < 1e-6) {
                const double x = std::log(rotation / of->standing_rotation_);
                t = blade.thrust(of->standing_, x);
                p = blade.power(of->standing_, x);
            } else {
                const double j = std::clamp(airspeed / (n * d), of->j_.front(), of->j_.back());
                // Barycentric interpolation on Chebyshev points of the second kind.
                double weights = 0.0;
                for (std::size_t k = 0; k < nodes; ++k) {
                    const double away = j - of->j_[k];
                    if (away == 0.0) {
                        t = ct[k];
                        p = cp[k];
                        weights = 1.0;
                        break;
                    }
                    const double w =
                        (k % 2 == 0 ? 1.0 : -1.0) * (k == 0 || k + 1 == nodes ? 0.5 : 1.0) / away;
                    t += w * ct[k];
                    p += w * cp[k];
                    weights += w;
                }
                t /= weights;
                p /= weights;
            }
            const double q = air.density * n * n * d * d * d * d;
            return {t * q, p * q * d / (2.0 * pi)};
        }
    };

    [[nodiscard]] Drawn drawn(const BladeDraw& blade) const {
        Drawn d{this, blade, {}, {}};
        for (std::size_t k = 0; k < nodes; ++k) {
            d.ct[k] = blade.thrust(flight_[k], 0.0);
            d.cp[k] = blade.power(flight_[k], 0.0);
        }
        return d;
    }

private:
    static constexpr std::size_t nodes = 6;
    double diameter_ = 0.0, standing_rotation_ = 0.0;
    Response standing_;
    std::array<double, nodes> j_{};
    std::array<Response, nodes> flight_{};
};

// What the bands ask of one candidate beside its coefficients.
struct Nominal {
    Flown flown;
    double diameter = 0.0;
    double standing_start = 0.0, flying_start = 0.0;
    std::optional<double> noise, noise_beside;
    double noise_slope = 0.0, noise_beside_slope = 0.0;  // dB per unit of ln(rotation)
    std::optional<double> spool_up;
    double inertia = 0.0, inertia_doubt = 0.0, own_share = 1.0;  // share of J that is doubted
    double own_doubt = 0.0;  // of inertia_doubt, what is not common with the others
};

std::optional<double> level_of(const Rotor& rotor, const Air& air, const FlightState& state,
                               double wake, double distance, bool overhead, double faster,
                               double* blade_mach = nullptr) {
    const OperatingPoint point{state.airspeed * (1.0 - wake), state.rotation};
    const RotorResult result = rotor.solve_stations(air, point);
    if (result.status != RotorStatus::converged) {
        return std::nullopt;
    }
    if (blade_mach != nullptr) {
        *blade_mach = result.tip_mach;
    }
    SoundSource source = sound_source(rotor, result, point);
    source.rotation *= faster;
    if (distance <= source.diameter) {
        return std::nullopt;
    }
    const PassBy passing =
        overhead ? pass_by(source, air, distance) : beside(source, air, distance);
    return passing.greatest_level_a;
}

// Outside these a stated mass is hardly the blades' alone, kg/m3: foam with a skin, and solid
// carbon.
constexpr double lightest_material = 150.0;
constexpr double heaviest_material = 1700.0;

// One-sigma share of a moment of inertia whose mass is not the blades' alone; a judgement.
constexpr double misplaced_mass_doubt = 0.30;

// Mass and moment of inertia of each, and whether it stands for more than its own scales say.
struct Weighed {
    RotorInertia inertia;
    bool thickness_stated = false;
    bool like_others = false;      // as heavy for its size as those that were weighed
    bool beyond_material = false;  // its mass is not that of blades of its shape alone
};

std::vector<Weighed> weigh(const std::vector<Candidate>& candidates) {
    std::vector<Weighed> all;
    std::array<std::vector<double>, 2> densities;  // of those weighed, by thickness_stated
    for (const Candidate& c : candidates) {
        const BladeShape shape(c.rotor->blade());
        MassDescription known;
        known.mass = c.mass;
        Weighed w{rotor_inertia(shape, known), shape.thickness_stated()};
        if (c.mass) {
            w.beyond_material =
                w.inertia.density > heaviest_material || w.inertia.density < lightest_material;
            // Then how much of it lies far out is not known either.
            if (w.beyond_material) {
                w.inertia.polar_doubt = std::max(w.inertia.polar_doubt, misplaced_mass_doubt);
            }
            densities[w.thickness_stated ? 1 : 0].push_back(w.inertia.density);
        }
        all.push_back(std::move(w));
    }
    for (std::vector<double>& d : densities) {
        std::sort(d.begin(), d.end());
    }
    // Beside propellers that were weighed, one that was not is more likely of their make than solid
    // wood: else the lack of a reading would look like a difference.
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        Weighed& w = all[i];
        const std::vector<double>& like = densities[w.thickness_stated ? 1 : 0];
        if (!candidates[i].mass && !like.empty()) {
            MassDescription known;
            known.density = like[like.size() / 2];
            const double doubt = w.inertia.polar_doubt;
            w.inertia = rotor_inertia(BladeShape(candidates[i].rotor->blade()), known);
            w.inertia.polar_doubt = doubt;
            w.like_others = true;
        }
    }
    return all;
}

FuelModel fuel_of(const Setting& setting) {
    FuelModel fuel = fuel_model(*setting.engine);
    fuel.full_consumption = setting.consumption;
    return fuel;
}

const Agreement* agreed(const MatchPoint& point) {
    return point.match.answer ? &point.match.agreements[*point.match.answer] : nullptr;
}

void check(const Setting& setting, const std::vector<Candidate>& candidates) {
    if (setting.engine == nullptr) {
        throw std::invalid_argument("the comparison has no engine");
    }
    if (candidates.empty()) {
        throw std::invalid_argument("the comparison has no propeller");
    }
    for (const Candidate& c : candidates) {
        if (c.rotor == nullptr) {
            throw std::invalid_argument(fmt::format("propeller {} has no rotor", c.name));
        }
    }
}

FitChecks fit_of(const Setting& setting, const Candidate& candidate, const RotorInertia& inertia,
                 const FlightState& climb) {
    const Blade& blade = candidate.rotor->blade();
    FitChecks fit;
    if (setting.cage_diameter) {
        fit.clearance = 0.5 * *setting.cage_diameter - blade.tip_radius();
    }
    if (climb.rotation > 0.0) {
        fit.balance_at_tip =
            balance_limit(inertia.mass, climb.rotation, blade.tip_radius()).tip_mass;
    }
    fit.tracking = usual_track_difference;
    fit.blade_pass = blade.blades() * climb.rotation / (2.0 * pi);
    fit.engine_order = blade.blades() / setting.drive.ratio;
    return fit;
}

void say_fit(CompareRow& row, const Setting& setting, const Candidate& candidate) {
    if (row.fit.clearance && *row.fit.clearance < 0.0) {
        row.warnings.push_back("does not fit the cage: the tip circle is larger");
    } else if (row.fit.clearance && *row.fit.clearance < usual_clearance) {
        row.warnings.push_back(
            fmt::format("only {} between tip and cage: a bent cage or a soft landing closes it",
                        gap_text(*row.fit.clearance, setting.spoken)));
    }
    const double orders[] = {1.0, 2.0};
    for (const Beat& beat : beats(setting.drive.ratio, candidate.rotor->blade().blades(), orders)) {
        if (beat.multiple > 1) {
            row.warnings.push_back(
                fmt::format("blades pass {:.2g} times an engine turn, near order {:g}: it may beat",
                            row.fit.engine_order, beat.engine_order));
            break;
        }
    }
}

// What a draw says of things other than blades; its places follow those of the match's bands.
struct FlightDimensions {
    std::size_t first = 0;
    enum Shared : std::size_t {
        mass,
        glide,
        speed,
        wake,
        deduction,
        consumption,
        loss,
        fuel_reading,
        heating,
        cooling,
        gas,
        head_reading,
        practice,
        noise,
        density,
        shared
    };
    [[nodiscard]] std::size_t of(Shared s) const { return first + s; }
    [[nodiscard]] std::size_t blade(std::size_t b, std::size_t which) const {
        return first + shared + 2 * b + which;
    }
    [[nodiscard]] std::size_t count(std::size_t blades) const { return blade(blades, 0); }
};

// Band and probability of each quantity out of draws that hold NaN where a draw had no answer.
std::vector<double> finite(const std::vector<double>& values) {
    std::vector<double> kept;
    kept.reserve(values.size());
    for (const double v : values) {
        if (std::isfinite(v)) {
            kept.push_back(v);
        }
    }
    return kept;
}

// Above this the figures of a climb are worth a question, rad. Common practice, no source.
constexpr double steepest_sure = 0.44;

// Specific consumption of a two-stroke at full throttle that is still believable, kg/J. Common
// practice, no source: 350 to 800 g/kWh, with room to either side.
constexpr double least_consumption = 250e-3 / 3.6e6;
constexpr double greatest_consumption = 1100e-3 / 3.6e6;

// One-sigma share of a blade's moment of inertia that is its own beside blades of like make.
constexpr double own_inertia_doubt = 0.10;

// A band of fewer draws than this share would leave out the worst of them.
constexpr double enough_draws = 0.95;

class Bands {
public:
    Bands(const Setting& setting, const std::vector<Candidate>& candidates,
          const std::vector<Nominal>& nominals, const FuelModel& fuel, std::size_t draws)
        : setting_(&setting),
          candidates_(&candidates),
          nominals_(&nominals),
          fuel_(fuel),
          draws_(draws) {
        std::vector<NamedRotor> named;
        for (const Candidate& c : candidates) {
            named.push_back({c.name, c.rotor});
        }
        used_ = sections_used(named);
        dims_.sections = used_.count;
        flight_.first = dims_.count(candidates.size());
        width_ = flight_.count(candidates.size());
        z_ = normal_draws(draws, width_);
        const AirAt air = air_over(*setting_);
        const double step = (setting.plan.climb_to - setting.plan.climb_from) / (2.0 * steps);
        for (int k = 0; k <= 2 * steps; ++k) {
            airs_.push_back(air(setting.plan.climb_from + step * k));
        }
        field_ = air(0.0);
        const double wake = setting.craft.installation.wake_fraction;
        for (std::size_t i = 0; i < candidates.size(); ++i) {
            const Nominal& n = nominals[i];
            const double d = n.diameter;
            const double axial = setting.craft.trim_speed * (1.0 - wake);
            const double in_climb = 2.0 * pi * axial / (n.flying_start * d);
            const bool cruises = n.flown.cruise.status == FlightStatus::found;
            const double in_cruise = cruises
                                         ? 2.0 * pi * n.flown.cruise.state.airspeed * (1.0 - wake) /
                                               (n.flown.cruise.state.rotation * d)
                                         : in_climb;
            propellers_.emplace_back(*candidates[i].rotor, field_, n.standing_start, axial,
                                     0.7 * in_climb, 1.35 * std::max(in_cruise, in_climb));
            doubts_.push_back(blade_doubt(
                candidates[i].knowledge,
                reynolds_at_three_quarters(*candidates[i].rotor, field_, n.flying_start)));
            values_.emplace_back();
            for (auto& v : values_.back()) {
                v.assign(draws + 1, std::nan(""));
            }
        }
    }

    // Draw k, or the case as given (all doubts nil) for k = draws.
    void draw(std::size_t k) {
        const std::vector<double> none(k == draws_ ? width_ : 0, 0.0);
        const double* z = k == draws_ ? none.data() : &z_[k * width_];
        const FlightDoubt doubt = flight_doubt();
        const auto of = [&](FlightDimensions::Shared s) {
            return z[flight_.of(s)];
        };
        Craft craft = setting_->craft;
        craft.all_up_mass *= 1.0 + doubt.mass * of(FlightDimensions::mass);
        craft.glide_ratio *= std::exp(doubt.glide_ratio * of(FlightDimensions::glide));
        craft.trim_speed *= 1.0 + doubt.trim_speed * of(FlightDimensions::speed);
        craft.fast.reset();
        double fast_speed = 0.0;
        if (setting_->plan.cruise_airspeed && setting_->craft.fast) {
            craft.fast = setting_->craft.fast;
            craft.fast->glide_ratio *= craft.glide_ratio / setting_->craft.glide_ratio;
            craft.fast->airspeed *= craft.trim_speed / setting_->craft.trim_speed;
            fast_speed =
                *setting_->plan.cruise_airspeed * craft.trim_speed / setting_->craft.trim_speed;
        }
        Installation& installation = craft.installation;
        installation.wake_fraction = std::clamp(
            installation.wake_fraction + doubt.wake * of(FlightDimensions::wake), 0.0, 0.45);
        installation.thrust_deduction = std::clamp(
            installation.thrust_deduction + doubt.deduction * of(FlightDimensions::deduction), 0.0,
            0.45);
        const double thicker = 1.0 + shared_doubt().density * z[Dimensions::density];
        FuelModel fuel = fuel_;
        fuel.loss_share =
            std::clamp(fuel.loss_share + doubt.loss_share * of(FlightDimensions::loss), 0.0, 0.9);
        if (!setting_->plan.cruise_fuel) {
            fuel.full_consumption *= std::exp(
                (setting_->consumption_given ? calibrated_consumption_doubt : consumption_doubt) *
                of(FlightDimensions::consumption));
        }
        PoweredCraft powered{Wing(craft, field_.density * thicker), setting_->engine,
                             setting_->drive, fuel,
                             1.0 + shared_doubt().torque * z[Dimensions::torque]};
        const AirAt air = [&](double height) {
            if (height <= 0.0 && setting_->plan.climb_from > 0.0) {
                Air a = field_;
                a.density *= thicker;
                return a;
            }
            const FlightPlan& plan = setting_->plan;
            const double step = (plan.climb_to - plan.climb_from) / (2.0 * steps);
            const auto place = static_cast<std::size_t>(
                std::clamp(std::lround((height - plan.climb_from) / step), 0L, 2L * steps));
            Air a = airs_[place];
            a.density *= thicker;
            return a;
        };
        FlightPlan plan = setting_->plan;
        if (fast_speed > 0.0) {
            plan.cruise_airspeed = fast_speed;
        }
        HeadModel head;
        head.heating_exponent += heating_exponent_doubt * of(FlightDimensions::heating);
        head.cooling_exponent += cooling_exponent_doubt * of(FlightDimensions::cooling);
        head.gas_temperature += gas_temperature_doubt * of(FlightDimensions::gas);
        const double practice =
            std::max(0.0, 1.0 + pulled_down_doubt * of(FlightDimensions::practice));
        Flown first;
        for (std::size_t i = 0; i < candidates_->size(); ++i) {
            const Nominal& n = (*nominals_)[i];
            const BladeDraw blade = blade_draw(z, dims_, used_.of_blade[i], i, doubts_[i]);
            const DrawnPropeller::Drawn drawn = propellers_[i].drawn(blade);
            const PropellerAt propeller = [&drawn](const Air& a, double v, double rotation) {
                return std::optional(drawn.loads(a, v, rotation));
            };
            const Flown f = fly(powered, propeller, air, craft.all_up_mass, plan, n.standing_start,
                                n.flying_start, steps);
            if (i == 0) {
                first = f;
                if (setting_->plan.cruise_fuel && f.cruise.status == FlightStatus::found) {
                    fuel =
                        calibrated(fuel,
                                   *setting_->plan.cruise_fuel *
                                       std::max(0.1, 1.0 + doubt.fuel_reading *
                                                               of(FlightDimensions::fuel_reading)),
                                   f.cruise.state.engine_power, f.cruise.state.engine_rotation);
                }
            }
            store(i, k, f, fuel, z);
            if (setting_->head.reading) {
                const HeadPair pair =
                    heads(head,
                          *setting_->head.reading +
                              doubt.head_reading * of(FlightDimensions::head_reading),
                          setting_->head.in_climb, field_, first, (*nominals_)[0].diameter, f,
                          n.diameter, setting_->head.fan_cooled, fuel, practice);
                set(i, Quantity::climb_head, k, pair.climb);
                set(i, Quantity::cruise_head, k, pair.cruise);
            }
        }
    }

    void finish(std::vector<CompareRow>& rows) const {
        for (std::size_t q = 0; q < quantities; ++q) {
            std::vector<double> first;
            for (std::size_t i = 0; i < rows.size(); ++i) {
                const auto& nominal = rows[i].values[q];
                std::vector<double> drawn = values_[i][q];
                const double base = drawn.back();
                drawn.pop_back();
                if (nominal && std::isfinite(base)) {
                    // What the interpolated coefficients are off by at the case as given.
                    for (double& v : drawn) {
                        v += *nominal - base;
                    }
                }
                const bool known = nominal && std::isfinite(base);
                const std::vector<double> kept = known ? finite(drawn) : std::vector<double>{};
                const auto enough = enough_draws * static_cast<double>(draws_);
                if (static_cast<double>(kept.size()) >= enough) {
                    rows[i].bands[q] = nine_in_ten(kept);
                }
                if (i == 0) {
                    first = drawn;
                    continue;
                }
                if (!known || !rows[0].values[q]) {
                    continue;
                }
                std::vector<double> a, b;
                for (std::size_t k = 0; k < draws_; ++k) {
                    if (std::isfinite(first[k]) && std::isfinite(drawn[k])) {
                        a.push_back(first[k]);
                        b.push_back(drawn[k]);
                    }
                }
                if (static_cast<double>(a.size()) >= enough) {
                    rows[i].differences[q] = difference_of(*nominal - *rows[0].values[q], a, b);
                }
            }
        }
    }

    [[nodiscard]] static AirAt air_over(const Setting& setting) {
        const Day day = setting.day;
        return [day](double height) {
            return height > 0.0 ? air_above_field(day, height) : air_at_field(day);
        };
    }

private:
    static constexpr int steps = 2;

    void set(std::size_t i, Quantity q, std::size_t k, std::optional<double> value) {
        values_[i][at(q)][k] = value.value_or(std::nan(""));
    }

    void store(std::size_t i, std::size_t k, const Flown& f, const FuelModel& fuel,
               const double* z) {
        const Nominal& n = (*nominals_)[i];
        Values v = values_of(f, setting_->drive.ratio);
        // The fuel line may have been calibrated since the flight.
        const double refuel = fuel.full_consumption / fuel_.full_consumption;
        if (setting_->plan.cruise_fuel) {
            for (const Quantity q : {Quantity::cruise_fuel, Quantity::band_fuel}) {
                if (v[at(q)]) {
                    *v[at(q)] *= refuel;
                }
            }
        }
        const FlightDoubt doubt = flight_doubt();
        const double common = doubt.noise * z[flight_.of(FlightDimensions::noise)];
        const double own = doubt.noise_each * z[flight_.blade(i, 0)];
        const auto level = [&](const std::optional<double>& nominal, double slope,
                               const Flight& then, const Flight& now) -> std::optional<double> {
            if (!nominal || then.status != FlightStatus::found ||
                now.status != FlightStatus::found || !(now.state.thrust > 0.0)) {
                return std::nullopt;
            }
            return *nominal + slope * std::log(now.state.rotation / then.state.rotation) +
                   20.0 * std::log10(now.state.thrust / then.state.thrust) + common + own;
        };
        v[at(Quantity::noise)] = level(n.noise, n.noise_slope, n.flown.cruise, f.cruise);
        v[at(Quantity::noise_beside)] =
            level(n.noise_beside, n.noise_beside_slope, n.flown.climb, f.climb);
        if (n.spool_up && f.climb.status == FlightStatus::found) {
            // Time goes with the inertia and against what torque is left on the way.
            const double mid = 0.6 * f.climb.state.engine_rotation;
            const auto left = [&](double gain, double torque) {
                return gain * setting_->drive.ratio * setting_->drive.efficiency *
                           setting_->engine->torque(mid, field_).value -
                       0.36 * torque;
            };
            const double now =
                left(1.0 + shared_doubt().torque * z[Dimensions::torque], f.climb.state.torque);
            const double then = left(1.0, n.flown.climb.state.torque);
            if (now > 0.0 && then > 0.0) {
                // Blades nobody weighed are mostly of like make: what is doubted beyond a tenth is
                // common to all of them.
                const double alone = n.own_doubt;
                const double common_part =
                    std::sqrt(n.inertia_doubt * n.inertia_doubt - alone * alone);
                const double heavier =
                    1.0 + n.own_share * (alone * z[flight_.blade(i, 1)] +
                                         common_part * z[flight_.of(FlightDimensions::density)]);
                v[at(Quantity::spool_up)] = *n.spool_up * std::max(0.1, heavier) * then / now;
            }
        }
        for (std::size_t q = 0; q < quantities; ++q) {
            if (v[q]) {
                values_[i][q][k] = *v[q];
            }
        }
    }

    const Setting* setting_;
    const std::vector<Candidate>* candidates_;
    const std::vector<Nominal>* nominals_;
    FuelModel fuel_;
    std::size_t draws_;
    SectionsUsed used_;
    Dimensions dims_;
    FlightDimensions flight_;
    std::size_t width_ = 0;
    std::vector<double> z_;
    std::vector<Air> airs_;
    Air field_;
    std::vector<DrawnPropeller> propellers_;
    std::vector<BladeDoubt> doubts_;
    std::vector<std::array<std::vector<double>, quantities>>
        values_;  // [candidate][quantity][draw]
};

void say_limits(CompareRow& row, const Setting& setting) {
    const auto& limit = setting.engine->description().rpm_limit;
    if (limit && row.climb.status == FlightStatus::found &&
        turns_over_limit(*setting.engine, row.climb.state.engine_rotation)) {
        row.warnings.push_back(fmt::format(
            "in climb at full throttle {} rpm, {} over the limit of {}: throttle back",
            whole_rpm(row.climb.state.engine_rotation),
            whole_rpm(row.climb.state.engine_rotation) - whole_rpm(*limit), whole_rpm(*limit)));
    }
    const auto& head = row.values[at(Quantity::climb_head)];
    if (setting.head.limit && head && *head > *setting.head.limit) {
        const std::string_view unit = style_of(Quantity::climb_head, setting.spoken).unit;
        row.warnings.push_back(
            fmt::format("head in climb {:.0f} {}, over the limit of {:.0f} {}",
                        in_style(Quantity::climb_head, *head, setting.spoken), unit,
                        in_style(Quantity::climb_head, *setting.head.limit, setting.spoken), unit));
    }
}

// Two numbers that differ, with so many decimals, or as many more as it takes to tell them apart.
std::pair<std::string, std::string> told_apart(double a, double b, int decimals) {
    std::pair<std::string, std::string> shown;
    for (int more = 0; more < 4 && shown.first == shown.second; ++more) {
        shown = {fmt::format("{:.{}f}", a, decimals + more),
                 fmt::format("{:.{}f}", b, decimals + more)};
    }
    return shown;
}

std::vector<std::string> broken(const CompareRow& row, const Goals& goals, SentenceUnits units) {
    std::vector<std::string> lines;
    const bool metric = units == SentenceUnits::metric;
    const auto hold = [&](Quantity q, const std::optional<double>& limit, bool at_most,
                          int decimals, std::string_view what) {
        const auto& value = row.values[at(q)];
        if (limit && value && (at_most ? *value > *limit : *value < *limit)) {
            const auto [is, wished] =
                told_apart(in_style(q, *value, units), in_style(q, *limit, units), decimals);
            lines.push_back(fmt::format("{} {} {}, {} than the {} wished", what, is,
                                        style_of(q, units).unit, at_most ? "more" : "less",
                                        wished));
        }
    };
    if (goals.climb_at_least && !row.values[at(Quantity::climb_rate)]) {
        lines.emplace_back("does not climb");
    }
    hold(Quantity::climb_rate, goals.climb_at_least, false, metric ? 2 : 0, "climbs");
    std::optional<double> fuel = goals.fuel_at_most;
    if (fuel) {
        *fuel *= petrol_density;
    }
    hold(Quantity::cruise_fuel, fuel, true, metric ? 1 : 2, "burns");
    hold(Quantity::noise, goals.noise_at_most, true, 0, "overhead");
    hold(Quantity::climb_head, goals.head_at_most, true, 0, "head in climb");
    hold(Quantity::spool_up, goals.spool_up_at_most, true, 1, "spools up in");
    return lines;
}

}  // namespace

Comparison compare(const Setting& setting, const std::vector<Candidate>& candidates,
                   std::size_t draws, unsigned threads, const Progress& progress) {
    check(setting, candidates);
    const AirAt air = Bands::air_over(setting);
    const Air field = air(0.0);
    const Engine& engine = *setting.engine;
    Comparison result;
    result.fuel = fuel_of(setting);
    PoweredCraft powered{Wing(setting.craft, field.density), setting.engine, setting.drive,
                         result.fuel};
    const double wake = setting.craft.installation.wake_fraction;
    const double mass = setting.craft.all_up_mass;

    const std::vector<Weighed> weighed = weigh(candidates);
    std::vector<NamedRotor> named;
    for (const Candidate& c : candidates) {
        named.push_back({c.name, c.rotor});
    }
    const std::vector<MatchRow> matches = study_match(
        engine, setting.drive, named, field, {0.0, setting.craft.trim_speed * (1.0 - wake)});
    const double nominal_share = draws > 0 ? 0.4 : 1.0;
    std::vector<Nominal> nominals(candidates.size());
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        const Candidate& candidate = candidates[i];
        const Rotor& rotor = *candidate.rotor;
        Nominal& n = nominals[i];
        n.diameter = rotor.blade().diameter();
        CompareRow row;
        row.name = candidate.name;
        row.standing = matches[i].points[0];
        const PointNotes told = notes_of(row.standing.findings);
        row.warnings = told.limits;
        row.warnings.insert(row.warnings.end(), told.others.begin(), told.others.end());
        const Agreement* const standing = agreed(matches[i].points[0]);
        const Agreement* const flying = agreed(matches[i].points[1]);
        if (standing == nullptr || flying == nullptr) {
            row.cruise.status = row.climb.status = row.band.status = FlightStatus::no_agreement;
            if (standing != nullptr) {
                row.warnings.push_back("in flight engine and propeller agree on no speed");
            }
            result.rows.push_back(std::move(row));
            continue;
        }
        n.standing_start = standing->engine_rotation / setting.drive.ratio;
        n.flying_start = flying->engine_rotation / setting.drive.ratio;
        const PropellerAt propeller = propeller_at(rotor);
        n.flown =
            fly(powered, propeller, air, mass, setting.plan, n.standing_start, n.flying_start, 2);
        if (i == 0 && setting.plan.cruise_fuel) {
            if (n.flown.cruise.status == FlightStatus::found) {
                result.fuel = calibrated(result.fuel, *setting.plan.cruise_fuel,
                                         n.flown.cruise.state.engine_power,
                                         n.flown.cruise.state.engine_rotation);
                powered.fuel = result.fuel;
                n.flown = fly(powered, propeller, air, mass, setting.plan, n.standing_start,
                              n.flying_start, 2);
            } else {
                result.notes.emplace_back(
                    "the consumption read in cruise was not used: the first propeller does not "
                    "cruise");
            }
        }
        row.cruise = n.flown.cruise;
        row.climb = n.flown.climb;
        row.band = n.flown.band;
        row.values = values_of(n.flown, setting.drive.ratio);
        for (const auto& [status, what] :
             {std::pair{row.cruise.status, "cruise"}, std::pair{row.climb.status, "climb"},
              std::pair{row.band.status, "climb through the band"}}) {
            if (status != FlightStatus::found) {
                row.warnings.push_back(why_not(status, what));
            }
        }
        if (row.cruise.status == FlightStatus::found && setting.plan.tank) {
            row.tank = endurance(row.cruise.state, *setting.plan.tank);
        }
        row.ceiling = service_ceiling(powered, propeller, air, mass, n.flying_start);

        const double slope_step = 1.02;
        if (row.cruise.status == FlightStatus::found) {
            const double height = setting.plan.pass_height;
            n.noise = level_of(rotor, field, row.cruise.state, wake, height, true, 1.0);
            const auto faster =
                level_of(rotor, field, row.cruise.state, wake, height, true, slope_step);
            n.noise_slope = n.noise && faster ? (*faster - *n.noise) / std::log(slope_step) : 0.0;
        }
        if (row.climb.status == FlightStatus::found) {
            const double distance = setting.plan.beside;
            n.noise_beside =
                level_of(rotor, field, row.climb.state, wake, distance, false, 1.0, &row.tip_mach);
            const auto faster =
                level_of(rotor, field, row.climb.state, wake, distance, false, slope_step);
            n.noise_beside_slope =
                n.noise_beside && faster ? (*faster - *n.noise_beside) / std::log(slope_step) : 0.0;
        }
        row.values[at(Quantity::noise)] = n.noise;
        row.values[at(Quantity::noise_beside)] = n.noise_beside;

        const RotorInertia& inertia = weighed[i].inertia;
        n.inertia = candidate.inertia.value_or(inertia.polar);
        n.inertia_doubt = candidate.inertia ? 0.03 : inertia.polar_doubt;
        row.inertia = n.inertia;
        row.inertia_doubt = n.inertia_doubt;
        row.mass = inertia.mass;
        const double crank = setting.crank_inertia.value_or(assumed_crank_inertia(engine));
        n.own_share = n.inertia / inertia_at_propeller(n.inertia, crank, setting.drive);
        if (row.climb.status == FlightStatus::found) {
            SpoolUpOptions options;
            options.crank_inertia = crank;
            const SpoolUp up = spool_up(engine, setting.drive, rotor, field,
                                        row.climb.state.airspeed * (1.0 - wake), n.inertia,
                                        row.climb.state.engine_rotation, options);
            n.spool_up = up.time;
            row.values[at(Quantity::spool_up)] = up.time;
        }
        row.fit = fit_of(setting, candidate, inertia,
                         row.climb.status == FlightStatus::found ? row.climb.state : FlightState{});
        if (setting.head.reading) {
            const HeadPair pair = heads(HeadModel{}, *setting.head.reading, setting.head.in_climb,
                                        field, nominals[0].flown, nominals[0].diameter, n.flown,
                                        n.diameter, setting.head.fan_cooled, result.fuel, 1.0);
            row.values[at(Quantity::climb_head)] = pair.climb;
            row.values[at(Quantity::cruise_head)] = pair.cruise;
            row.head_by_load = pair.by_load;
        }
        if (row.climb.status == FlightStatus::found &&
            nominals[0].flown.climb.status == FlightStatus::found) {
            row.cooling_change =
                cooling_flow(field, row.climb.state, n.diameter, setting.head.fan_cooled) /
                    cooling_flow(field, nominals[0].flown.climb.state, nominals[0].diameter,
                                 setting.head.fan_cooled) -
                1.0;
        }
        if (weighed[i].beyond_material && !weighed[i].thickness_stated &&
            inertia.density > heaviest_material) {
            row.warnings.emplace_back(
                "it weighs more than blades as thin as assumed could: thicker blades, a heavy hub, "
                "or a digit wrong; the thickness at each station, or inertia as swung, makes "
                "spool-up surer");
        } else if (weighed[i].beyond_material) {
            row.warnings.push_back(fmt::format(
                "its mass would make its blades {:.0f} kg/m3 all through: is a metal hub or a "
                "flange in it, or a digit wrong? spool-up rests on it",
                inertia.density));
        }
        if (row.climb.status == FlightStatus::found && row.climb.state.angle > steepest_sure) {
            row.warnings.push_back(fmt::format(
                "climbs at {:.0f} deg, steeper than craft of this kind do: are all_up_mass and "
                "glide_ratio right?",
                row.climb.state.angle * 180.0 / pi));
        }
        say_limits(row, setting);
        say_fit(row, setting, candidate);
        row.broken_goals = broken(row, setting.goals, setting.spoken);
        result.rows.push_back(std::move(row));
        if (progress) {
            progress(nominal_share * static_cast<double>(i + 1) /
                     static_cast<double>(candidates.size()));
        }
    }

    // Blades doubted much in the same way are doubted alike, but not beside one that is known
    // better, or in another way.
    bool all_unknown = true;
    for (std::size_t i = 0; i < nominals.size(); ++i) {
        all_unknown = all_unknown && nominals[i].inertia_doubt > 2.0 * own_inertia_doubt &&
                      weighed[i].inertia.basis == weighed[0].inertia.basis;
    }
    for (std::size_t i = 0; i < nominals.size(); ++i) {
        nominals[i].own_doubt = all_unknown ? std::min(nominals[i].inertia_doubt, own_inertia_doubt)
                                            : nominals[i].inertia_doubt;
    }

    // Bands are drawn for the propellers that fly; the first must, for the differences.
    std::vector<std::size_t> flying;
    std::vector<Candidate> chosen;
    std::vector<Nominal> chosen_nominals;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        if (nominals[i].flying_start > 0.0) {
            flying.push_back(i);
            chosen.push_back(candidates[i]);
            chosen_nominals.push_back(nominals[i]);
        }
    }
    if (draws > 0 && !flying.empty()) {
        Setting drawn_setting = setting;
        if (flying.front() != 0) {
            // What was read with the first propeller says nothing of another.
            drawn_setting.plan.cruise_fuel.reset();
            drawn_setting.head.reading.reset();
        }
        Bands bands(drawn_setting, chosen, chosen_nominals, result.fuel, draws);
        bands.draw(draws);
        constexpr std::size_t pieces = 20;
        for (std::size_t piece = 0; piece < pieces; ++piece) {
            const std::size_t from = draws * piece / pieces;
            const std::size_t to = draws * (piece + 1) / pieces;
            in_parallel(to - from, threads, [&](std::size_t k) { bands.draw(from + k); });
            if (progress) {
                progress(nominal_share + (1.0 - nominal_share) * static_cast<double>(piece + 1) /
                                             static_cast<double>(pieces));
            }
        }
        std::vector<CompareRow> rows;
        for (const std::size_t i : flying) {
            rows.push_back(std::move(result.rows[i]));
        }
        bands.finish(rows);
        for (CompareRow& row : rows) {
            for (const auto& [q, what] : {std::pair{Quantity::climb_rate, "climb"},
                                          std::pair{Quantity::band_time, "climb through the band"},
                                          std::pair{Quantity::cruise_fuel, "level cruise"}}) {
                if (row.values[at(q)] && !row.bands[at(q)]) {
                    row.warnings.push_back(fmt::format(
                        "no range for the {}: in more than one draw of twenty there is none",
                        what));
                }
            }
        }
        for (std::size_t k = 0; k < flying.size(); ++k) {
            if (flying.front() != 0) {
                rows[k].differences = {};
            }
            result.rows[flying[k]] = std::move(rows[k]);
        }
    }
    if (auto note = reynolds_note(faster_than_tested(matches))) {
        result.notes.push_back(*std::move(note));
    }
    if (!setting.plan.cruise_fuel && !setting.consumption_given) {
        result.notes.emplace_back(
            "fuel is worked from an assumed 550 g/kWh at full throttle; one reading in level "
            "flight "
            "makes it surer: [cruise] fuel = \"2.7 L/h\"");
    }
    if (setting.plan.cruise_fuel && (result.fuel.full_consumption < least_consumption ||
                                     result.fuel.full_consumption > greatest_consumption)) {
        result.notes.push_back(fmt::format(
            "the fuel read in cruise would make {:.0f} g/kWh at full throttle, where 350 to 800 "
            "are "
            "usual (common practice): is a digit wrong, or torque, mass or glide ratio?",
            result.fuel.full_consumption * 3.6e9));
    }
    const Installation& installation = setting.craft.installation;
    result.notes.push_back(
        fmt::format("in flight the propeller is taken to work in a wake {:.0f} % slower than the "
                    "airspeed and to "
                    "lose {:.0f} % of its thrust to what stands before it ([craft] wake_fraction, "
                    "thrust_deduction)",
                    100.0 * installation.wake_fraction, 100.0 * installation.thrust_deduction));
    std::vector<std::string> as_wood, as_others;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        if (!candidates[i].mass && !candidates[i].inertia) {
            (weighed[i].like_others ? as_others : as_wood).push_back(candidates[i].name);
        }
    }
    for (const auto& [names, taken] :
         {std::pair{as_wood, "taken as solid laminated wood"},
          std::pair{as_others, "taken to be as heavy for its size as those weighed"}}) {
        if (!names.empty()) {
            result.notes.push_back(fmt::format(
                "spool-up of {}: {}; its mass, better its moment of inertia as swung, makes it "
                "surer",
                names.size() == candidates.size() ? std::string("all propellers")
                                                  : fmt::format("{}", fmt::join(names, ", ")),
                taken));
        }
    }
    if (!setting.head.reading) {
        result.notes.emplace_back(
            "head temperatures need one reading with the first propeller: [engine] "
            "head_temperature = \"165 degC in cruise\"");
    } else if (!result.rows[0].values[at(Quantity::climb_head)] &&
               !result.rows[0].values[at(Quantity::cruise_head)]) {
        result.notes.emplace_back(
            "the head temperature read is not above the air's, or the first propeller does not fly "
            "where it was read: no head temperatures");
    }
    return result;
}

AngleStudy blade_angles(const Setting& setting, const Candidate& present, const Candidate& turned,
                        double from, double to, int count) {
    check(setting, {present, turned});
    if (!(from < to) || count < 3) {
        throw std::invalid_argument("a run of blade angles needs from < to and three rows or more");
    }
    const AirAt air = Bands::air_over(setting);
    const Air field = air(0.0);
    const double wake = setting.craft.installation.wake_fraction;
    FuelModel fuel = fuel_of(setting);
    const auto flown = [&](const Rotor& rotor) -> std::optional<Flown> {
        const auto row = study_match(*setting.engine, setting.drive, {{"", &rotor}}, field,
                                     {0.0, setting.craft.trim_speed * (1.0 - wake)});
        const Agreement* const standing = agreed(row[0].points[0]);
        const Agreement* const flying = agreed(row[0].points[1]);
        if (standing == nullptr || flying == nullptr) {
            return std::nullopt;
        }
        const PoweredCraft powered{Wing(setting.craft, field.density), setting.engine,
                                   setting.drive, fuel};
        return fly(powered, propeller_at(rotor), air, setting.craft.all_up_mass, setting.plan,
                   standing->engine_rotation / setting.drive.ratio,
                   flying->engine_rotation / setting.drive.ratio, 2);
    };
    std::optional<Flown> first = flown(*present.rotor);
    if (first && setting.plan.cruise_fuel && first->cruise.status == FlightStatus::found) {
        fuel = calibrated(fuel, *setting.plan.cruise_fuel, first->cruise.state.engine_power,
                          first->cruise.state.engine_rotation);
        first = flown(*present.rotor);
    }
    AngleStudy study;
    const double present_diameter = present.rotor->blade().diameter();
    const double diameter = turned.rotor->blade().diameter();
    for (int k = 0; k < count; ++k) {
        AngleRow row;
        row.turned = from + (to - from) * k / (count - 1);
        Deviation deviation = turned.rotor->model().deviation;
        deviation.angle += row.turned;
        const Rotor rotor = turned.rotor->deviating(deviation);
        if (const auto f = flown(rotor)) {
            const Values v = values_of(*f, setting.drive.ratio);
            row.static_rotation = v[at(Quantity::static_rotation)];
            row.static_thrust = v[at(Quantity::static_thrust)];
            row.climb_rate = v[at(Quantity::climb_rate)];
            if (f->climb.status == FlightStatus::found) {
                row.climb_rotation = f->climb.state.engine_rotation;
            }
            row.cruise_fuel = v[at(Quantity::cruise_fuel)];
            if (setting.head.reading && first) {
                row.climb_head =
                    heads(HeadModel{}, *setting.head.reading, setting.head.in_climb, field, *first,
                          present_diameter, *f, diameter, setting.head.fan_cooled, fuel, 1.0)
                        .climb;
            }
        }
        const auto over = [&](const std::optional<double>& rotation) {
            return rotation && turns_over_limit(*setting.engine, *rotation);
        };
        row.within_limits =
            row.static_rotation && row.climb_rate && !over(row.static_rotation) &&
            !over(row.climb_rotation) &&
            !(setting.head.limit && row.climb_head && *row.climb_head > *setting.head.limit);
        const Goals& goals = setting.goals;
        row.meets_goals =
            row.climb_rate && *row.climb_rate >= goals.climb_at_least.value_or(-1e9) &&
            !(goals.fuel_at_most && row.cruise_fuel &&
              *row.cruise_fuel / petrol_density > *goals.fuel_at_most) &&
            !(goals.head_at_most && row.climb_head && *row.climb_head > *goals.head_at_most);
        study.rows.push_back(row);
    }
    // Between rows by the curve through them.
    std::vector<double> angle, standing, rate;
    for (const AngleRow& row : study.rows) {
        if (row.static_rotation && row.climb_rate) {
            angle.push_back(row.turned);
            standing.push_back(*row.static_rotation);
            rate.push_back(*row.climb_rate);
        }
    }
    if (angle.size() < 3) {
        return study;
    }
    if (setting.goals.static_rotation) {
        const double wanted = *setting.goals.static_rotation;
        const auto too_fast = [&](double turn) {
            Deviation deviation = turned.rotor->model().deviation;
            deviation.angle += turn;
            const Rotor rotor = turned.rotor->deviating(deviation);
            const Match m = match(*setting.engine, setting.drive, rotor, field, 0.0);
            return m.answer ? m.agreements[*m.answer].engine_rotation - wanted : std::nan("");
        };
        for (std::size_t k = 1; k < angle.size() && !study.for_static_rotation; ++k) {
            const double before = standing[k - 1] - wanted, after = standing[k] - wanted;
            if (before * after > 0.0) {
                continue;
            }
            study.for_static_rotation =
                find_root(too_fast, {angle[k - 1], angle[k], before, after}, to_bits(16, 20));
        }
    }
    const Curve climbs(angle, rate);
    const double fine = 0.1 * pi / 180.0;
    // The angle of the best climb where the rows to both sides serve, or the one it lies on.
    const auto best_where = [&](const auto& serves) {
        std::optional<std::pair<double, double>> best;
        for (double a = angle.front(); a <= angle.back() + 1e-9; a += fine) {
            const auto right =
                std::lower_bound(study.rows.begin(), study.rows.end(), a - 1e-9,
                                 [](const AngleRow& r, double v) { return r.turned < v; });
            if (right == study.rows.end()) {
                break;
            }
            const bool on_row = std::abs(right->turned - a) < 1e-9;
            const bool within =
                serves(*right) &&
                (on_row || (right != study.rows.begin() && serves(*std::prev(right))));
            if (within && climbs(a) > (best ? best->second : 0.0)) {
                best = {a, climbs(a)};
            }
        }
        return best;
    };
    if (const auto best =
            best_where([](const AngleRow& row) { return row.within_limits && row.meets_goals; })) {
        std::tie(study.best_climb, study.best_rate) = *best;
    }
    if (const auto best = best_where([](const AngleRow& row) { return row.within_limits; })) {
        study.best_within_limits = best->first;
    }
    if (study.best_climb) {
        study.best_at_end = *study.best_climb < angle.front() + 0.5 * fine ||
                            *study.best_climb > angle.back() - 0.5 * fine;
    }
    return study;
}

std::vector<std::size_t> ranked(const Comparison& comparison, const Goals& goals) {
    static const std::map<Goal, std::pair<Quantity, double>> meaning = {
        {Goal::climb, {Quantity::climb_rate, 1.0}}, {Goal::economy, {Quantity::cruise_fuel, -1.0}},
        {Goal::quiet, {Quantity::noise, -1.0}},     {Goal::cool, {Quantity::climb_head, -1.0}},
        {Goal::quick, {Quantity::spool_up, -1.0}},
    };
    const std::vector<Goal> wanted =
        goals.rank.empty() ? std::vector<Goal>{Goal::climb} : goals.rank;
    const auto score = [&](std::size_t row) {
        double total = 0.0, weight = 1.0;
        for (const Goal goal : wanted) {
            const auto [q, sign] = meaning.at(goal);
            const auto& value = comparison.rows[row].values[at(q)];
            const auto& first = comparison.rows[0].values[at(q)];
            const auto& difference = comparison.rows[row].differences[at(q)];
            if (!value || !first) {
                total -= weight * 10.0;
            } else {
                const double spread =
                    difference ? std::max(1e-9 * std::abs(*first),
                                          (difference->band.high - difference->band.low) / 3.29)
                               : 0.05 * std::max(1e-9, std::abs(*first));
                total += weight * sign * (*value - *first) / spread;
            }
            weight *= 0.5;
        }
        return total;
    };
    std::vector<std::size_t> order;
    for (std::size_t i = 1; i < comparison.rows.size(); ++i) {
        order.push_back(i);
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const bool a_breaks = !comparison.rows[a].broken_goals.empty();
        const bool b_breaks = !comparison.rows[b].broken_goals.empty();
        return a_breaks != b_breaks ? b_breaks : score(a) > score(b);
    });
    return order;
}

}  // namespace loadline
