#include "loadline/study/measured_blade.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/scenario/drawn_weight.hpp"
#include "loadline/strength/blade_twist.hpp"
#include "loadline/study/detail/blade_parts.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <map>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <tuple>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;

using Rows = std::vector<const SheetDifference*>;

struct Differences {
    Curve chord, angle;
    std::optional<Curve> thickness;           // over the plan's, where any was measured
    double thick_from = 0.0, thick_to = 0.0;  // m, between which it was
};

Differences differences_of(const Rows& rows) {
    std::vector<double> r, c, a, rt, t;
    for (const SheetDifference* row : rows) {
        r.push_back(row->measured.radius);
        c.push_back(row->chord);
        a.push_back(row->angle);
        if (row->thickness) {
            rt.push_back(row->measured.radius);
            t.push_back(1.0 + *row->thickness / row->plan.thickness);
        }
    }
    Differences d{Curve(r, c), Curve(r, a), {}};
    if (!t.empty()) {
        d.thickness.emplace(rt, t);
        d.thick_from = rt.front();
        d.thick_to = rt.back();
    }
    return d;
}

// The plan with a station added at each measured radius that lies between two of one section, so
// that what was found there is not smoothed away.
BladeDescription refined(const Blade& blade, const Rows& rows) {
    const BladeDescription& plan = blade.description();
    BladeDescription d = plan;
    d.angle_reference = AngleReference::chord_line;
    for (Station& s : d.stations)
        s.angle = blade.at(s.radius).angle;
    for (const SheetDifference* row : rows) {
        const double r = row->measured.radius;
        const auto outer = std::find_if(plan.stations.begin(), plan.stations.end(),
                                        [r](const Station& s) { return s.radius > r - 1e-4; });
        if (outer == plan.stations.begin() || outer == plan.stations.end() ||
            outer->radius < r + 1e-4)
            continue;
        const Station& a = *std::prev(outer);
        const Station& b = *outer;
        if (r < a.radius + 1e-4 || a.section != b.section ||
            a.thickness.has_value() != b.thickness.has_value() ||
            a.camber.has_value() != b.camber.has_value())
            continue;
        const BladeElement e = blade.at(r);
        Station s = a;
        s.radius = r;
        s.chord = e.chord;
        s.angle = e.angle;
        s.sweep = e.sweep;
        if (a.thickness)
            s.thickness = e.thickness;
        if (a.camber)
            s.camber = *a.camber + (*b.camber - *a.camber) * (r - a.radius) / (b.radius - a.radius);
        d.stations.push_back(s);
    }
    std::sort(d.stations.begin(), d.stations.end(),
              [](const Station& a, const Station& b) { return a.radius < b.radius; });
    return d;
}

Rotor as_measured(const Rotor& rotor, const Rows& rows) {
    BladeDescription d = refined(rotor.blade(), rows);
    const Differences off = differences_of(rows);
    for (Station& s : d.stations) {
        // A stated thickness stays what it is in mm, whatever became of the chord.
        const double planned = rotor.blade().at(s.radius).thickness * s.chord;
        s.chord += off.chord(s.radius);
        s.angle += off.angle(s.radius);
        const bool between =
            off.thickness && s.radius >= off.thick_from - 1e-9 && s.radius <= off.thick_to + 1e-9;
        if (s.thickness || between) {  // beyond the marks the outermost share goes on
            const double share = off.thickness ? (*off.thickness)(s.radius) : 1.0;
            s.thickness = std::clamp(share * planned / s.chord, thinnest_blade, thickest_blade);
        }
    }
    return rotor.with_blade(Blade(std::move(d)));
}

std::optional<MeasuredFault::Kind> fault_of(const Blade& blade, const MeasuredStation& m) {
    if (!(m.radius >= blade.root_radius() * (1.0 - 1e-6)) ||
        !(m.radius <= blade.tip_radius() * (1.0 + 1e-6)))
        return MeasuredFault::off_the_blade;
    if (m.blade < 1 || m.blade > blade.blades())
        return MeasuredFault::no_such_blade;
    if (m.level.has_value() == m.angle.has_value())
        return MeasuredFault::no_single_angle;
    if (m.level && !sheet_at(blade, m.radius).level)
        return MeasuredFault::face_unknown;
    if (m.thickness &&
        !(*m.thickness >= least_thick * m.chord && *m.thickness <= most_thick * m.chord))
        return MeasuredFault::odd_thickness;
    return std::nullopt;
}

SheetDifference difference(const Blade& blade, const MeasuredStation& m) {
    SheetDifference d;
    d.measured = m;
    d.plan = sheet_at(blade, m.radius);
    d.chord = m.chord - d.plan.chord;
    d.angle = m.level ? *m.level - *d.plan.level : *m.angle - d.plan.angle;
    if (m.thickness)
        d.thickness = *m.thickness - d.plan.thickness;
    return d;
}

bool further_in(const SheetDifference* x, const SheetDifference* y) {
    return x->measured.radius < y->measured.radius;
}

// The rows of each blade, root to tip.
std::map<int, Rows> by_blade(const std::vector<SheetDifference>& rows) {
    std::map<int, Rows> of_blade;
    for (const SheetDifference& row : rows)
        of_blade[row.measured.blade].push_back(&row);
    for (auto& [number, those] : of_blade)
        std::sort(those.begin(), those.end(), further_in);
    return of_blade;
}

// Angle and, relative, chord over the plan, weighted by chord and radius squared.
std::pair<double, double> means_of(const Rows& rows) {
    double weights = 0.0, angle = 0.0, chord = 0.0;
    for (const SheetDifference* row : rows) {
        const double weight = row->plan.chord * row->plan.radius * row->plan.radius;
        weights += weight;
        angle += weight * row->angle;
        chord += weight * row->chord / row->plan.chord;
    }
    return {angle / weights, chord / weights};
}

// How far a mark is off, in units of what is worth a word.
double oddness(const SheetDifference& d) {
    return std::max(std::abs(d.angle) / odd_mark_angle, std::abs(d.chord) / odd_mark_chord);
}

std::vector<std::size_t> off_marks(const std::vector<SheetDifference>& rows) {
    std::vector<std::size_t> off;
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (std::abs(rows[i].angle) > odd_mark_angle || std::abs(rows[i].chord) > odd_mark_chord)
            off.push_back(i);
    std::stable_sort(off.begin(), off.end(), [&](std::size_t x, std::size_t y) {
        return oddness(rows[x]) > oddness(rows[y]);
    });
    off.resize(std::min(off.size(), most_marks_told));
    return off;
}

// Of the blades' material, by mass and plan.
double density_of(const BladeShape& plan, const BladeSetting& setting) {
    return rotor_inertia(plan, drawn_mass(plan, setting.build, setting.mass, setting.adjustable))
        .density;
}

// Of the blades of `rotor`, all made alike, of the plan's material.
std::optional<BladeStrength> strength_as(const BladeSetting& setting, const Rotor& rotor,
                                         const BladeShape& shape, const BladeCondition& standing) {
    if (!shape.thickness_stated())
        return std::nullopt;
    BladeSetting as = setting;
    as.rotor = &rotor;
    // All of the plan's material, whatever a propeller of such blades alone would make of the mass.
    as.build.material = setting.build.material.value_or(default_material());
    as.build.material->density =
        density_of(BladeShape(setting.rotor->blade(), setting.build.fill), setting);
    as.mass.reset();
    BladeStudy study;
    study.condition = standing;
    study.now = rotor.solve_stations(setting.air, standing.point);
    if (study.now.status != RotorStatus::converged)
        return std::nullopt;
    return strength_of(as, shape, study);
}

std::optional<double> reserve_of(const std::optional<BladeStrength>& strength) {
    return strength ? strength->reserve[BladeStrength::over_limit] : std::nullopt;
}

void add_each(MeasuredBlade& b, const BladeSetting& setting, const std::vector<Rotor>& rotors,
              const std::vector<int>& numbers, const BladeCondition& standing) {
    const BladeShape plan(setting.rotor->blade(), setting.build.fill);
    const auto planned = strength_as(setting, *setting.rotor, plan, standing);
    b.planned_reserve = reserve_of(planned);
    if (planned)
        b.limit = planned->limit;
    const double density = density_of(plan, setting);
    for (std::size_t k = 0; k < rotors.size(); ++k) {
        MeasuredOne one;
        one.number = numbers[k];
        Rows rows;
        for (const SheetDifference& row : b.rows)
            if (row.measured.blade == one.number)
                rows.push_back(&row);
        std::tie(one.mean_angle, one.mean_chord) = means_of(rows);
        one.marks = static_cast<int>(rows.size());
        const bool thick = std::any_of(rows.begin(), rows.end(), [](const SheetDifference* row) {
            return row->thickness.has_value();
        });
        b.thickness_measured = b.thickness_measured || thick;
        const BladeShape shape(rotors[k].blade(), setting.build.fill);
        const auto strength = strength_as(setting, rotors[k], shape, standing);
        one.reserve = reserve_of(strength);
        if (strength && strength->running[BladeStrength::over_limit])
            one.greatest_radius = strength->running[BladeStrength::over_limit]->greatest_radius;
        if (thick) {
            MassDescription made;
            made.density = density;
            const RotorInertia inertia = rotor_inertia(shape, made);
            one.mass = inertia.blade_mass;
            one.moment = inertia.blade_mass * inertia.blade_centre;
        }
        b.each.push_back(one);
    }
}

// With what its thickness makes of the load twist, where that was measured.
Rotor turned_as_measured(const BladeSetting& setting, Rotor rotor, const Rows& rows) {
    const bool thick = std::any_of(rows.begin(), rows.end(), [](const SheetDifference* row) {
        return row->thickness.has_value();
    });
    if (!thick || !rotor.bends())
        return rotor;
    const Rotor stiff = rotor.turned_by(nullptr);
    const BladeShape shape(stiff.blade(), setting.build.fill);
    const BladeShape plan(setting.rotor->blade(), setting.build.fill);
    const double density = density_of(plan, setting);
    return stiff.turned_by(load_twist_table(
        stiff, setting.air, rotor.load()->fastest() / stiff.blade().tip_radius(), shape,
        beam_material(setting.build.material.value_or(default_material()), density)));
}

// What blades that differ do once a turn, turning with the shaft: each blade's load along its own
// direction. `places`: where round the hub each of them stands.
std::pair<double, double> shaking(const std::vector<OneBlade>& loads,
                                  const std::vector<int>& places, int blades) {
    double moment = 0.0, side = 0.0;
    for (const OneBlade& one : loads) {
        moment += one.moment / static_cast<double>(loads.size());
        side += one.side / static_cast<double>(loads.size());
    }
    std::complex<double> couple = 0.0, force = 0.0;
    for (std::size_t k = 0; k < loads.size(); ++k) {
        const std::complex<double> along = std::polar(1.0, 2.0 * pi * places[k] / blades);
        couple += (loads[k].moment - moment) * along;
        force += (loads[k].side - side) * along;
    }
    return {std::abs(couple), std::abs(force)};
}

// Each of them at the condition; nothing where one has no answer.
std::vector<OneBlade> loads_of(const std::vector<Rotor>& rotors, const Air& air,
                               const OperatingPoint& point) {
    std::vector<OneBlade> loads;
    for (const Rotor& r : rotors) {
        const auto one = one_blade(r, air, point);
        if (!one)
            return {};
        loads.push_back(*one);
    }
    return loads;
}

// How they balance, and in which order best where they can be set in another.
void add_balance(MeasuredBlade& b, const BladeSetting& setting,
                 const std::vector<OneBlade>& loads) {
    const auto blades = static_cast<std::size_t>(setting.rotor->blade().blades());
    std::vector<double> moments;
    for (const MeasuredOne& one : b.each)
        if (one.moment)
            moments.push_back(*one.moment);
    if (blades < 2 || moments.size() != blades)
        return;
    MeasuredBalance balance;
    std::vector<std::size_t> places(blades);
    std::iota(places.begin(), places.end(), std::size_t{0});
    balance.as_numbered = unbalance(moments).moment;
    for (const double moment : moments)
        balance.uncertainty = std::hypot(balance.uncertainty, moment_scatter * moment);
    const auto in_order = [&](const std::vector<std::size_t>& order) {
        std::vector<double> placed;
        for (const std::size_t blade : order)
            placed.push_back(moments[blade]);
        return unbalance(placed);
    };
    if (setting.adjustable) {
        const std::vector<std::size_t> best = best_places(moments);
        if (balance.as_numbered - in_order(best).moment >= least_at_tip * b.tip_radius)
            places = best;
    }
    const Unbalance left = in_order(places);
    balance.in_order = left.moment;
    balance.radius = added_mass_share * b.tip_radius;
    std::vector<int> stands(blades);
    for (std::size_t k = 0; k < blades; ++k) {
        balance.order.push_back(b.each[places[k]].number);
        stands[places[k]] = static_cast<int>(k);
    }
    for (const AddedMoment& one : balancing(left, blades))
        balance.added.push_back({balance.order[one.place], one.moment / balance.radius});
    if (b.limit)
        balance.pull = rotating_force(1e-3, balance.radius, *b.limit);
    if (loads.size() == blades)
        std::tie(balance.couple, balance.force) = shaking(loads, stands, static_cast<int>(blades));
    b.balance = std::move(balance);
}

void add_shaking(MeasuredBlade& b, const BladeSetting& setting, const std::vector<Rotor>& rotors,
                 const std::vector<int>& numbers, const OperatingPoint& point) {
    const std::vector<OneBlade> loads = loads_of(rotors, setting.air, point);
    if (!loads.empty()) {
        std::vector<int> places;
        for (const int number : numbers)
            places.push_back(number - 1);
        std::tie(b.couple, b.force) = shaking(loads, places, setting.rotor->blade().blades());
    }
    add_balance(b, setting, loads);
}

}  // namespace

std::optional<MeasuredFault> measured_fault(const Blade& blade,
                                            const std::vector<MeasuredStation>& measured) {
    if (measured.empty())
        return MeasuredFault{};
    std::vector<SheetDifference> rows;
    for (const MeasuredStation& m : measured) {
        if (const auto kind = fault_of(blade, m))
            return MeasuredFault{*kind, m};
        rows.push_back(difference(blade, m));
    }
    for (const auto& [number, those] : by_blade(rows)) {
        const auto twice =
            std::adjacent_find(those.begin(), those.end(), [](const auto* x, const auto* y) {
                return !(y->measured.radius > x->measured.radius);
            });
        if (twice != those.end())
            return MeasuredFault{MeasuredFault::stands_twice, (*twice)->measured};
    }
    return std::nullopt;
}

MeasuredBlade compare_with_plan(const BladeSetting& setting, const BladeCondition& standing,
                                const std::vector<MeasuredStation>& measured) {
    if (setting.rotor == nullptr)
        throw std::invalid_argument("the comparison with the plan has no rotor");
    const Rotor& rotor = *setting.rotor;
    if (measured_fault(rotor.blade(), measured))
        throw std::invalid_argument("the measured places cannot be compared with the plan");
    MeasuredBlade b;
    for (const MeasuredStation& m : measured)
        b.rows.push_back(difference(rotor.blade(), m));
    b.tip_radius = rotor.blade().tip_radius();
    Rows all;
    for (const SheetDifference& row : b.rows)
        all.push_back(&row);
    std::tie(b.mean_angle, b.mean_chord) = means_of(all);
    b.off = off_marks(b.rows);
    std::vector<Rotor> rotors;
    std::vector<int> numbers;
    for (const auto& [number, rows] : by_blade(b.rows)) {
        rotors.push_back(turned_as_measured(setting, as_measured(rotor, rows), rows));
        numbers.push_back(number);
    }
    b.blades = static_cast<int>(rotors.size());
    std::vector<RotorShare> shares;
    for (const Rotor& r : rotors)
        shares.push_back({&r, 1.0 / static_cast<double>(rotors.size())});
    b.planned = run_unequal(setting, standing.point, rotor, {{&rotor, 1.0}});
    b.measured = run_unequal(setting, standing.point, rotor, shares);
    add_each(b, setting, rotors, numbers, standing);
    if (rotors.size() > 1)
        add_shaking(b, setting, rotors, numbers, standing.point);
    return b;
}

}  // namespace loadline
