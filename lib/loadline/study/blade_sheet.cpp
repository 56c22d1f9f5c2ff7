#include "loadline/study/blade_sheet.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/wording.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <complex>
#include <map>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

using std::numbers::pi;

// Chord line less lower face of one section drawn `thickness` thick; see blade.cpp.
std::optional<double> face_angle(const Section& section, double thickness) {
    const auto own = section.lower_face_angle();
    return own ? std::optional(*own * thickness / section.thickness()) : std::nullopt;
}

double deg(double rad) {
    return in_unit(rad, "deg");
}

// Worth a word: more than a ruler and a level leave open. Common practice, no source.
constexpr double odd_angle = 0.5 * pi / 180.0;
constexpr double odd_chord = 0.001;

struct Differences {
    Curve chord, angle;
};

Differences differences_of(const std::vector<const SheetDifference*>& rows) {
    std::vector<double> r, c, a;
    for (const SheetDifference* row : rows) {
        r.push_back(row->measured.radius);
        c.push_back(row->chord);
        a.push_back(row->angle);
    }
    return {Curve(r, c), Curve(r, a)};
}

// The plan with a station added at each measured radius that lies between two of one section, so
// that what was found there is not smoothed away.
BladeDescription refined(const Blade& blade, const std::vector<const SheetDifference*>& rows) {
    const BladeDescription& plan = blade.description();
    BladeDescription d = plan;
    d.angle_reference = AngleReference::chord_line;
    for (Station& s : d.stations) {
        s.angle = blade.at(s.radius).angle;
    }
    for (const SheetDifference* row : rows) {
        const double r = row->measured.radius;
        const auto outer = std::find_if(plan.stations.begin(), plan.stations.end(),
                                        [r](const Station& s) { return s.radius > r - 1e-4; });
        if (outer == plan.stations.begin() || outer == plan.stations.end() ||
            outer->radius < r + 1e-4) {
            continue;
        }
        const Station& a = *std::prev(outer);
        const Station& b = *outer;
        if (r < a.radius + 1e-4 || a.section != b.section ||
            a.thickness.has_value() != b.thickness.has_value() ||
            a.camber.has_value() != b.camber.has_value()) {
            continue;
        }
        const BladeElement e = blade.at(r);
        Station s = a;
        s.radius = r;
        s.chord = e.chord;
        s.angle = e.angle;
        s.sweep = e.sweep;
        if (a.thickness) {
            s.thickness = e.thickness;
        }
        if (a.camber) {
            s.camber = *a.camber + (*b.camber - *a.camber) * (r - a.radius) / (b.radius - a.radius);
        }
        d.stations.push_back(s);
    }
    std::sort(d.stations.begin(), d.stations.end(),
              [](const Station& a, const Station& b) { return a.radius < b.radius; });
    return d;
}

Rotor as_measured(const Rotor& rotor, const std::vector<const SheetDifference*>& rows) {
    BladeDescription d = refined(rotor.blade(), rows);
    const Differences off = differences_of(rows);
    for (Station& s : d.stations) {
        s.chord += off.chord(s.radius);
        s.angle += off.angle(s.radius);
    }
    return Rotor(Blade(std::move(d)), rotor.model());
}

SheetDifference difference(const Blade& blade, const MeasuredStation& m) {
    if (!(m.radius >= blade.root_radius() * (1.0 - 1e-6)) ||
        !(m.radius <= blade.tip_radius() * (1.0 + 1e-6))) {
        throw std::invalid_argument(fmt::format(
            "measured at {:.0f} mm, and the blade reaches from {:.0f} to {:.0f} mm",
            1000.0 * m.radius, 1000.0 * blade.root_radius(), 1000.0 * blade.tip_radius()));
    }
    if (m.blade < 1 || m.blade > blade.blades()) {
        throw std::invalid_argument(
            fmt::format("measured on blade {}, and the propeller has {}", m.blade, blade.blades()));
    }
    if (m.level.has_value() == m.angle.has_value()) {
        throw std::invalid_argument(
            "a measured place needs either a level's or a chord line's angle");
    }
    SheetDifference d;
    d.measured = m;
    d.plan = sheet_at(blade, m.radius);
    if (m.level && !d.plan.level) {
        throw std::invalid_argument(
            "the lower face of the section is not known, so a level's reading cannot be compared; "
            "measure the chord line and name the column angle_deg");
    }
    d.chord = m.chord - d.plan.chord;
    d.angle = m.level ? *m.level - *d.plan.level : *m.angle - d.plan.angle;
    if (m.thickness) {
        d.thickness = *m.thickness - d.plan.thickness;
    }
    return d;
}

void say(MeasuredBlade& b, const BladeSetting& setting) {
    const auto sign = [](double v, const char* more, const char* less) {
        return v > 0.0 ? more : less;
    };
    if (b.planned && b.measured) {
        const double ratio = setting.drive ? setting.drive->ratio : 1.0;
        const double turns = ratio * (b.measured->rotation - b.planned->rotation);
        const double pull = b.measured->thrust - b.planned->thrust;
        std::string line;
        if (setting.engine && setting.drive) {
            line = fmt::format(
                "standing still at full throttle the engine will turn {} rpm instead of {} ({:+d}) "
                "and the propeller pull {:.0f} N instead of {:.0f} ({:+d})",
                whole_rpm(ratio * b.measured->rotation), whole_rpm(ratio * b.planned->rotation),
                whole_rpm(turns), b.measured->thrust, b.planned->thrust, std::lround(pull));
        } else {
            line = fmt::format(
                "standing still at {} rpm it will pull {:.0f} N instead of {:.0f} ({:+d}) and "
                "take {:.2f} kW instead of {:.2f}",
                whole_rpm(b.measured->rotation), b.measured->thrust, b.planned->thrust,
                std::lround(pull), b.measured->power / 1000.0, b.planned->power / 1000.0);
        }
        b.findings.push_back(std::move(line));
    }
    if (std::abs(b.mean_angle) >= 0.05 * pi / 180.0) {
        b.findings.push_back(
            fmt::format("on the whole it came out {:.1f} deg {} than the plan and {:.1f} % {}",
                        std::abs(deg(b.mean_angle)), sign(b.mean_angle, "coarser", "finer"),
                        100.0 * std::abs(b.mean_chord), sign(b.mean_chord, "wider", "narrower")));
    }
    std::vector<const SheetDifference*> odd;
    for (const SheetDifference& row : b.rows) {
        if (std::abs(row.angle) > odd_angle || std::abs(row.chord) > odd_chord) {
            odd.push_back(&row);
        }
    }
    std::stable_sort(odd.begin(), odd.end(), [](const auto* x, const auto* y) {
        const auto size = [](const SheetDifference& d) {
            return std::max(std::abs(d.angle) / odd_angle, std::abs(d.chord) / odd_chord);
        };
        return size(*x) > size(*y);
    });
    constexpr std::size_t most = 4;
    for (std::size_t i = 0; i < std::min(most, odd.size()); ++i) {
        const SheetDifference& row = *odd[i];
        b.findings.push_back(
            fmt::format("{}at {:.0f} mm: {:+.1f} deg and {:+.1f} mm of chord",
                        b.blades > 1 ? fmt::format("blade {} ", row.measured.blade) : std::string(),
                        1000.0 * row.measured.radius, deg(row.angle), 1000.0 * row.chord));
    }
    if (odd.empty()) {
        b.findings.emplace_back(
            "every mark lies within 0.5 deg and 1 mm of the plan: no more than a level and a ruler "
            "leave open");
    }
    if (b.couple && b.force) {
        b.findings.push_back(
            fmt::format("the blades differ: the air alone shakes it once a turn with {:.1f} N m "
                        "about a diameter and {:.0f} N across the shaft, and no balancing of mass "
                        "cures that",
                        *b.couple, *b.force));
    }
}

}  // namespace

std::vector<double> radii_shown(const Blade& blade) {
    std::vector<double> radii;
    const std::vector<Station>& stations = blade.description().stations;
    if (stations.size() <= most_stations_shown) {
        for (const Station& s : stations) {
            radii.push_back(std::clamp(s.radius, blade.root_radius(), blade.tip_radius()));
        }
        return radii;
    }
    // Not at the very tip: nothing is measured there.
    const double last = std::min(stations.back().radius, 0.98 * blade.tip_radius());
    for (std::size_t i = 0; i < spread_stations; ++i) {
        radii.push_back(blade.root_radius() + (last - blade.root_radius()) *
                                                  static_cast<double>(i) / (spread_stations - 1));
    }
    return radii;
}

SheetRow sheet_at(const Blade& blade, double radius) {
    const double r = std::clamp(radius, blade.root_radius(), blade.tip_radius());
    const BladeElement e = blade.at(r);
    SheetRow row;
    row.radius = r;
    row.chord = e.chord;
    row.angle = e.angle;
    row.thickness = e.thickness * e.chord;
    const auto a = face_angle(blade.section(e.section_a), e.thickness);
    const auto b = face_angle(blade.section(e.section_b), e.thickness);
    if (a && b) {
        row.level = e.angle - (*a + e.weight_b * (*b - *a));
    }
    return row;
}

std::vector<SheetRow> blade_sheet(const Blade& blade) {
    std::vector<SheetRow> rows;
    for (const double r : radii_shown(blade)) {
        rows.push_back(sheet_at(blade, r));
    }
    return rows;
}

std::vector<PlanformPoint> planform(const Blade& blade, std::size_t count) {
    if (count < 2) {
        throw std::invalid_argument(
            fmt::format("{} radii make no planform; needs 2 or more", count));
    }
    std::vector<double> radii = radii_shown(blade);
    for (std::size_t i = 0; i < count; ++i) {
        radii.push_back(blade.root_radius() + (blade.tip_radius() - blade.root_radius()) *
                                                  static_cast<double>(i) /
                                                  static_cast<double>(count - 1));
    }
    std::sort(radii.begin(), radii.end());
    std::vector<PlanformPoint> points;
    double aft = 0.0;  // of the quarter-chord line
    for (const double r : radii) {
        if (!points.empty() && !(r > points.back().radius)) {
            continue;
        }
        const BladeElement e = blade.at(r);
        if (!points.empty()) {
            const double before = points.back().radius;
            aft += (r - before) * std::tan(blade.at(0.5 * (r + before)).sweep);
        }
        points.push_back({r, 0.25 * e.chord - aft, -0.75 * e.chord - aft});
    }
    return points;
}

MeasuredBlade compare_with_plan(const BladeSetting& setting, const BladeCondition& standing,
                                const std::vector<MeasuredStation>& measured) {
    if (setting.rotor == nullptr) {
        throw std::invalid_argument("the comparison with the plan has no rotor");
    }
    if (measured.empty()) {
        throw std::invalid_argument("no place was measured");
    }
    const Rotor& rotor = *setting.rotor;
    const Blade& blade = rotor.blade();
    MeasuredBlade b;
    for (const MeasuredStation& m : measured) {
        b.rows.push_back(difference(blade, m));
    }
    std::map<int, std::vector<const SheetDifference*>> of_blade;
    double weights = 0.0;
    for (const SheetDifference& row : b.rows) {
        of_blade[row.measured.blade].push_back(&row);
        const double weight = row.plan.chord * row.plan.radius * row.plan.radius;
        weights += weight;
        b.mean_angle += weight * row.angle;
        b.mean_chord += weight * row.chord / row.plan.chord;
    }
    b.mean_angle /= weights;
    b.mean_chord /= weights;
    b.blades = static_cast<int>(of_blade.size());

    std::vector<Rotor> rotors;
    std::vector<int> numbers;
    for (auto& [number, rows] : of_blade) {
        std::sort(rows.begin(), rows.end(), [](const auto* x, const auto* y) {
            return x->measured.radius < y->measured.radius;
        });
        const auto twice =
            std::adjacent_find(rows.begin(), rows.end(), [](const auto* x, const auto* y) {
                return !(y->measured.radius > x->measured.radius);
            });
        if (twice != rows.end()) {
            throw std::invalid_argument(fmt::format("{:.0f} mm stands twice for blade {}",
                                                    1000.0 * (*twice)->measured.radius, number));
        }
        rotors.push_back(as_measured(rotor, rows));
        numbers.push_back(number);
    }
    std::vector<RotorShare> shares;
    for (const Rotor& r : rotors) {
        shares.push_back({&r, 1.0 / static_cast<double>(rotors.size())});
    }
    b.planned = run_unequal(setting, standing.point, rotor, {{&rotor, 1.0}});
    b.measured = run_unequal(setting, standing.point, rotor, shares);
    if (rotors.size() > 1) {
        // Turning with the shaft: each blade's load along its own direction.
        std::complex<double> couple, force;
        bool known = true;
        std::vector<OneBlade> loads;
        for (const Rotor& r : rotors) {
            const auto one = one_blade(r, setting.air, standing.point);
            known = known && one;
            loads.push_back(one.value_or(OneBlade{}));
        }
        double moment = 0.0, side = 0.0;
        for (const OneBlade& one : loads) {
            moment += one.moment / static_cast<double>(loads.size());
            side += one.side / static_cast<double>(loads.size());
        }
        for (std::size_t k = 0; k < loads.size(); ++k) {
            const std::complex<double> along =
                std::polar(1.0, 2.0 * pi * (numbers[k] - 1) / blade.blades());
            couple += (loads[k].moment - moment) * along;
            force += (loads[k].side - side) * along;
        }
        if (known) {
            b.couple = std::abs(couple);
            b.force = std::abs(force);
        }
    }
    say(b, setting);
    return b;
}

}  // namespace loadline
