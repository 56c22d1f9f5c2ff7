// What small faults of making do: one blade that differs, all others as planned.

#include "loadline/number/constants.hpp"
#include "loadline/number/root.hpp"
#include "loadline/study/blade_study.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

namespace loadline {
namespace {

constexpr double odd_angle = 0.5 * degree;
constexpr double odd_chord = 0.002;
constexpr double lost_tip = 0.005;

double thickness_at(const BladeDescription& d, const Station& s) {
    return s.thickness.value_or(d.sections[static_cast<std::size_t>(s.section)]->thickness());
}

// Wider by so much all along, as thick in millimetres as before.
std::optional<BladeDescription> wider(BladeDescription d, double by) {
    for (Station& s : d.stations) {
        const double before = s.chord;
        s.thickness = thickness_at(d, s) * before / (before + by);
        s.chord += by;
    }
    return check_blade(d).empty() ? std::optional(std::move(d)) : std::nullopt;
}

// The tip cut off by so much.
std::optional<BladeDescription> shortened(const BladeDescription& whole, double by) {
    BladeDescription d = whole;
    d.diameter -= 2.0 * by;
    const double tip = 0.5 * d.diameter;
    // The blade begins where it began.
    if (!d.hub_diameter || !(*d.hub_diameter > 0.0))
        d.hub_diameter = 2.0 * whole.stations.front().radius;
    std::erase_if(d.stations, [&](const Station& s) { return s.radius > tip; });
    const std::size_t kept = d.stations.size();
    if (kept == 0 || kept == whole.stations.size())
        return check_blade(d).empty() ? std::optional(std::move(d)) : std::nullopt;
    const Station& a = whole.stations[kept - 1];
    const Station& b = whole.stations[kept];
    if (tip > a.radius * (1.0 + 1e-6)) {
        const double share = (tip - a.radius) / (b.radius - a.radius);
        const auto between = [&](double x, double y) {
            return x + share * (y - x);
        };
        Station s = a;
        s.radius = tip;
        s.chord = between(a.chord, b.chord);
        s.angle = between(a.angle, b.angle);
        s.sweep = between(a.sweep, b.sweep);
        if (a.thickness || b.thickness)
            s.thickness = between(thickness_at(whole, a), thickness_at(whole, b));
        if (a.camber && b.camber)
            s.camber = between(*a.camber, *b.camber);
        d.stations.push_back(s);
    }
    return check_blade(d).empty() ? std::optional(std::move(d)) : std::nullopt;
}

// Static moment of one blade about the shaft, kg m.
double moment_of(const BladeShape& shape, double density) {
    double sum = 0.0;
    for (const BladeSlice& s : shape.slices())
        sum += shape.mass_per_length(s.shape, density) * s.radius * s.width;
    return sum;
}

// Thrust and torque of a propeller whose blades differ.
struct Loads {
    double thrust = 0.0, torque = 0.0;
    bool known = true;
};

class UnequalPropeller {
public:
    UnequalPropeller(const BladeSetting& setting, const OperatingPoint& point,
                     const std::vector<RotorShare>& shares)
        : setting_(setting), airspeed_(point.airspeed), shares_(shares) {}

    [[nodiscard]] Loads loads(double rotation) const {
        Loads sum;
        for (const RotorShare& s : shares_) {
            const RotorResult r = s.rotor->solve(setting_.air, {airspeed_, rotation});
            sum.known = sum.known && r.status == RotorStatus::converged;
            sum.thrust += s.share * r.thrust;
            sum.torque += s.share * r.torque;
        }
        return sum;
    }

    [[nodiscard]] std::optional<Running> at(double rotation) const {
        const Loads sum = loads(rotation);
        return sum.known ? std::optional(Running{rotation, sum.thrust, sum.torque * rotation})
                         : std::nullopt;
    }

private:
    const BladeSetting& setting_;
    double airspeed_;
    const std::vector<RotorShare>& shares_;
};

// One fault as it is made: the odd blade's rotor, and what its mass does beside the air.
struct FaultMade {
    MakingFault fault;
    double by;
    Rotor odd;
    double unbalance = 0.0;    // of mass, kg m; pulls along the blade, the air's force across it
    double mass_couple = 0.0;  // N m
};

std::vector<FaultMade> faults_of(const BladeSetting& setting, const OperatingPoint& point,
                                 double density, const RotorInertia& inertia) {
    const Rotor& rotor = *setting.rotor;
    const Blade& blade = rotor.blade();
    std::vector<FaultMade> faults;
    for (const double side : {1.0, -1.0}) {
        Deviation deviation = rotor.model().deviation;
        deviation.angle += side * odd_angle;
        faults.push_back({side > 0.0 ? MakingFault::coarser : MakingFault::finer, odd_angle,
                          rotor.deviating(deviation)});
    }
    const BladeShape shape(blade, setting.build.fill);
    if (auto d = wider(blade.description(), odd_chord)) {
        const Blade odd(*std::move(d));
        const double more =
            moment_of(BladeShape(odd, setting.build.fill), density) - moment_of(shape, density);
        faults.push_back({MakingFault::wider, odd_chord, rotor.with_blade(odd), more});
    }
    if (auto d = shortened(blade.description(), lost_tip)) {
        const double middle = blade.tip_radius() - 0.5 * lost_tip;
        const double mass = shape.mass_per_length(shape.at(middle), density) * lost_tip;
        faults.push_back({MakingFault::tip_damaged, lost_tip,
                          rotor.with_blade(Blade(*std::move(d))), mass * middle});
    }
    // Tilted out of the plane by so much at the tip, a blade pulls out of it everywhere.
    const double tilt = usual_track_difference / blade.tip_radius();
    faults.push_back({MakingFault::out_of_track, usual_track_difference, rotor, 0.0,
                      point.rotation * point.rotation * tilt * inertia.blade_polar});
    return faults;
}

}  // namespace

std::optional<OneBlade> one_blade(const Rotor& rotor, const Air& air, const OperatingPoint& point) {
    const RotorResult result = rotor.solve_stations(air, point);
    if (result.status != RotorStatus::converged)
        return std::nullopt;
    OneBlade one;
    const double share = 1.0 / rotor.blade().blades();
    for (const StationFlow& s : result.stations) {
        one.thrust += share * s.thrust_per_radius * s.width;
        one.moment += share * s.thrust_per_radius * s.radius * s.width;
        one.side += share * s.torque_per_radius / s.radius * s.width;
    }
    return one;
}

std::optional<Running> run_unequal(const BladeSetting& setting, const OperatingPoint& point,
                                   const Rotor& planned, const std::vector<RotorShare>& shares) {
    const UnequalPropeller propeller(setting, point, shares);
    const RotorResult before = planned.solve(setting.air, point);
    if (before.status != RotorStatus::converged)
        return std::nullopt;
    const auto full = [&](double rotation) {
        return setting.engine->torque(rotation * setting.drive->ratio, setting.air).value;
    };
    if (!setting.engine || !setting.drive || !(before.torque > 0.0) ||
        !(full(point.rotation) > 0.0))
        return propeller.at(point.rotation);
    const double throttle = before.torque / full(point.rotation);
    const auto surplus = [&](double rotation) {
        const Loads sum = propeller.loads(rotation);
        return sum.known ? throttle * full(rotation) - sum.torque : std::nan("");
    };
    const auto rotation = find_falling_root(
        surplus, point.rotation, {0.5 * point.rotation, 2.0 * point.rotation, 1.002, 2.0},
        to_bits(40, 60));
    return rotation ? propeller.at(*rotation) : std::nullopt;
}

BladeTolerance study_tolerance(const BladeSetting& setting, const BladeCondition& condition,
                               double density, const RotorInertia& inertia) {
    const Rotor& rotor = *setting.rotor;
    const Blade& blade = rotor.blade();
    const OperatingPoint& point = condition.point;
    const double share = 1.0 / blade.blades();
    const double squared = point.rotation * point.rotation;
    BladeTolerance tolerance;
    tolerance.balance = balance_limit(inertia.mass, point.rotation, blade.tip_radius());
    const auto planned = one_blade(rotor, setting.air, point);
    if (!planned)
        return tolerance;
    for (const FaultMade& made : faults_of(setting, point, density, inertia)) {
        const auto other = one_blade(made.odd, setting.air, point);
        const auto running =
            run_unequal(setting, point, rotor, {{&rotor, 1.0 - share}, {&made.odd, share}});
        if (!other || !running)
            continue;
        ToleranceRow row;
        row.fault = made.fault;
        row.by = made.by;
        row.rotation = running->rotation;
        row.thrust = running->thrust;
        row.power = running->power;
        row.force = std::hypot(made.unbalance * squared, other->side - planned->side);
        row.couple = std::abs(other->moment - planned->moment) + made.mass_couple;
        tolerance.rows.push_back(row);
    }
    return tolerance;
}

}  // namespace loadline
