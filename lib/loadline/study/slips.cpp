#include "loadline/study/slips.hpp"

#include "loadline/engine/fuel.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/quantity/quantity.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace loadline {
namespace {

// A value taken for another: what it would be were that the mistake.
struct Confusion {
    Mistake mistake = Mistake::none;
    double factor = 1.0;  // meant over value; of units follows from them
    std::string_view written = {}, real = {};
};

// `written` stands behind a number of `real`.
constexpr Confusion units_of(std::string_view written, std::string_view real) {
    return {Mistake::unit, 0.0, written, real};
}

double factor_of(const Confusion& c) {
    return c.factor != 0.0 ? c.factor : from_unit(1.0, c.real) / from_unit(1.0, c.written);
}

constexpr Confusion tenfold = {Mistake::decimal_place, 10.0};
constexpr Confusion tenth = {Mistake::decimal_place, 0.1};

struct Usual {
    Slipped what;
    double low, high;
    std::array<Confusion, 6> confusions = {};  // the likeliest first; none ends them
};

constexpr double kmh = 1.0 / 3.6;

// What values of the trade lie between. Common practice, no source: paragliders with an engine on
// the back to two-seat trikes.
constexpr Usual usual_values[] = {
    {Slipped::elevation, -440.0, 3300.0, {{units_of("m", "ft")}}},
    {Slipped::qnh, 950e2, 1050e2},
    {Slipped::tank, 0.0, 0.35, {{tenth}}},
    {Slipped::all_up_mass, 70.0, 650.0, {{units_of("lb", "kg"), units_of("kg", "lb"), tenth}}},
    {Slipped::load_per_power, 3e-3, 18e-3, {{units_of("kg", "lb"), units_of("lb", "kg")}}},
    // Of a paraglider; that of a trike: below.
    {Slipped::trim_speed,
     27.0 * kmh,
     62.0 * kmh,
     {{units_of("kt", "km/h"), units_of("km/h", "kt"), units_of("mph", "km/h"),
       units_of("km/h", "mph"), units_of("m/s", "km/h"), units_of("km/h", "m/s")}}},
    {Slipped::glide_ratio, 2.5, 40.0, {{tenth, tenfold}}},
    {Slipped::idle, 600.0 * rpm, 4500.0 * rpm, {{tenfold, tenth}}},
    {Slipped::peak_power_speed, 2200.0 * rpm, 13000.0 * rpm, {{tenfold, tenth}}},
    {Slipped::greatest_power, 3e3, 90e3, {{tenth, tenfold}}},
    {Slipped::crank_inertia,
     1e-4,
     0.03,
     {{{Mistake::unit, 1e-4, "kg m2", "kg cm2"}, {Mistake::unit, 1e-6, "kg m2", "kg mm2"}}}},
    {Slipped::ratio, 1.0, 5.5, {{tenth}}},
    {Slipped::tip_mach, 0.33, 0.85},
    {Slipped::diameter,
     0.85,
     2.15,
     {{{Mistake::diameter_for_radius, 0.5},
       {Mistake::radius_for_diameter, 2.0},
       units_of("cm", "in"),
       units_of("in", "cm"),
       units_of("cm", "mm"),
       tenfold}}},
    {Slipped::last_station, 0.85, 1.0, {{{Mistake::halved_radii, 2.0}}}},
    {Slipped::chord,
     0.06,
     0.45,
     {{units_of("mm", "cm"), units_of("cm", "mm"), units_of("in", "cm")}}},
    {Slipped::angle,
     4.0 * degree,
     40.0 * degree,
     {{units_of("deg", "rad"), {Mistake::sign_turned, -1.0}}}},
    {Slipped::thickness, 0.05, 0.65, {{tenfold, tenth}}},
    {Slipped::sweep, -25.0 * degree, 40.0 * degree},
    {Slipped::propeller_mass,
     0.15,
     9.0,
     {{units_of("kg", "lb"), tenth, tenfold, {Mistake::unit, 1e-3, "kg", "g"}}}},
    {Slipped::bolt_circle,
     0.035,
     0.16,
     {{units_of("cm", "mm"), units_of("mm", "cm"), units_of("in", "mm")}}},
};

// Its row of the table; a value that has none does not compile.
template <Slipped what>
constexpr const Usual& usual() {
    constexpr const Usual* row = std::find_if(std::begin(usual_values), std::end(usual_values),
                                              [](const Usual& u) { return u.what == what; });
    static_assert(row != std::end(usual_values));
    return *row;
}

// With one more confusion, before the others.
void likeliest(Usual& u, const Confusion& confusion) {
    std::rotate(u.confusions.begin(), u.confusions.end() - 1, u.confusions.end());
    u.confusions.front() = confusion;
}

bool within(const Usual& u, double value) {
    return value >= u.low && value <= u.high;
}

// Whether a person would have written the value in this unit: no more than a digit behind the
// point.
bool is_round(Slipped what, double value, std::string_view unit) {
    if (what == Slipped::greatest_power || what == Slipped::load_per_power)
        return false;  // no value that was written
    if (what == Slipped::cage)
        return false;  // its confusions stand in their order
    if (what == Slipped::chord || what == Slipped::crank_inertia)
        return true;
    const double tenths = 10.0 * in_unit(value, unit);
    return std::abs(tenths - std::round(tenths)) < 1e-6 * std::max(1.0, std::abs(tenths));
}

// The slip of a value outside what is usual, with the first confusion that would put it inside.
std::optional<Slip> outside(const Usual& u, double value, const std::string& propeller = {}) {
    if (within(u, value))
        return std::nullopt;
    Slip slip{u.what, propeller, value, u.low, u.high};
    const auto take = [&](const Confusion& c) {
        if (c.mistake == Mistake::none || !within(u, factor_of(c) * value))
            return false;
        slip.mistake = c.mistake;
        slip.meant = factor_of(c) * value;
        slip.written = c.written;
        slip.real = c.real;
        return true;
    };
    // Another unit first where the number is round in the one that was written.
    const bool known =
        std::any_of(u.confusions.begin(), u.confusions.end(), [&](const Confusion& c) {
            return c.mistake == Mistake::unit && is_round(u.what, value, c.written) && take(c);
        });
    if (!known)
        static_cast<void>(std::any_of(u.confusions.begin(), u.confusions.end(), take));
    return slip;
}

void add(std::vector<Slip>& slips, std::optional<Slip> slip) {
    if (slip)
        slips.push_back(*std::move(slip));
}

// "1.240 m" above the sea: thousands of metres are hardly ever told apart from a decimal point
// otherwise. Nobody measures a field to centimetres.
std::optional<Slip> thousands(double elevation) {
    const double meant = 1000.0 * elevation;
    const bool to_centimetres = std::abs(elevation * 10.0 - std::round(elevation * 10.0)) > 1e-6;
    if (!(elevation > 0.1 && elevation < 4.5 && to_centimetres))
        return std::nullopt;
    return Slip{Slipped::elevation, {}, elevation, 0.0, 4500.0, Mistake::thousands_mark, meant};
}

// Too warm or too cold a day for where the field lies: feet written as metres, or degF as degC. The
// hottest towns of high plateaus reach 35 K above the standard (common practice, no source).
std::optional<Slip> heat(const Day& day) {
    constexpr double low = -55.0, high = 36.0, common = 30.0;
    if (!day.temperature_k)
        return std::nullopt;
    const auto above = [](double temperature, double elevation) {
        return temperature - standard_air(elevation).temperature;
    };
    const double temperature = *day.temperature_k;
    const double feet = from_unit(day.elevation_m, "ft");
    Slip slip{Slipped::heat, {}, above(temperature, day.elevation_m), low, high};
    slip.place = day.elevation_m;
    if (slip.value >= low && slip.value <= high)
        return std::nullopt;
    if (day.elevation_m >= 500.0 && std::abs(above(temperature, feet)) <= common) {
        slip.mistake = Mistake::unit;
        slip.meant = feet;
        slip.written = "m";
        slip.real = "ft";
    } else if (const double meant = from_unit(in_unit(temperature, "degC"), "degF");
               slip.value > high && std::abs(above(meant, day.elevation_m)) <= common) {
        slip.mistake = Mistake::unit;
        slip.meant = meant;
        slip.written = "degC";
        slip.real = "degF";
    }
    return slip;
}

// A head of a two-stroke that works: 100 to 260 degC; a reading in degF has its own zero.
std::optional<Slip> head(Slipped what, std::optional<double> kelvin) {
    const double low = from_unit(100.0, "degC"), high = from_unit(260.0, "degC");
    if (!kelvin || (*kelvin >= low && *kelvin <= high))
        return std::nullopt;
    Slip slip{what, {}, *kelvin, low, high};
    for (const auto& [written, real] : {std::pair{"degF", "degC"}, std::pair{"degC", "degF"}}) {
        const double meant = from_unit(in_unit(*kelvin, written), real);
        if (meant >= low && meant <= high) {
            slip.mistake = Mistake::unit;
            slip.meant = meant;
            slip.written = written;
            slip.real = real;
            break;
        }
    }
    return slip;
}

double greatest_power(const Engine& engine) {
    Air standard;
    const double w = engine.peak_power_rotation();
    return w * engine.torque(w, standard).value;
}

void craft_slips(std::vector<Slip>& slips, const Scenario& s) {
    if (!s.craft)
        return;
    const Craft& craft = *s.craft;
    add(slips, outside(usual<Slipped::all_up_mass>(), craft.all_up_mass));
    Usual speed = usual<Slipped::trim_speed>();
    if (craft.all_up_mass > 200.0)  // a trike, or two under a paraglider
        speed.high = from_unit(130.0, "km/h");
    add(slips, outside(speed, craft.trim_speed / s.true_over_read));
    add(slips, outside(usual<Slipped::glide_ratio>(), craft.glide_ratio));
}

// Mass and power that do not go together; `slips` those found so far.
std::optional<Slip> overloaded(const std::vector<Slip>& slips, double mass, double power,
                               double ratio) {
    Usual load = usual<Slipped::load_per_power>();
    if (ratio > 1.2)
        likeliest(load, {Mistake::propeller_torque, ratio});
    auto slip = outside(load, mass / power);
    const bool said = std::any_of(slips.begin(), slips.end(), [](const Slip& other) {
        return other.what == Slipped::all_up_mass;
    });
    if (!slip || said)
        return std::nullopt;
    slip->meant *= power;  // the mass
    return slip;
}

void engine_slips(std::vector<Slip>& slips, const Scenario& s) {
    if (!s.engine)
        return;
    const EngineDescription& d = s.engine->description();
    const double peak = s.engine->peak_power_rotation();
    const double ratio = s.drive ? s.drive->ratio : 1.0;
    Usual speed = usual<Slipped::peak_power_speed>();
    if (ratio > 1.2)
        likeliest(speed, {Mistake::propeller_speed, ratio});
    add(slips, outside(speed, peak));
    const double power = greatest_power(*s.engine) / d.throttle;
    Usual of_power = usual<Slipped::greatest_power>();
    if (ratio > 1.2)
        likeliest(of_power, {Mistake::propeller_torque, 1.0 / ratio});
    likeliest(of_power, units_of("kgf m", "N m"));
    likeliest(of_power, units_of("N m", "kgf m"));
    add(slips, outside(of_power, power));
    if (s.craft && within(of_power, power))
        add(slips, overloaded(slips, s.craft->all_up_mass, power, ratio));
    // Power written where torque is asked rises to the end of the table.
    if (d.table.size() >= 4) {
        const bool rises = std::is_sorted(
            d.table.begin(), d.table.end(),
            [](const TorquePoint& a, const TorquePoint& b) { return a.torque < b.torque; });
        const double rise = d.table.back().torque / d.table.front().torque;
        const double turns = d.table.back().rotation / d.table.front().rotation;
        if (rises && rise > std::max(1.25, 0.75 * turns))
            slips.push_back(
                {Slipped::torque_shape, {}, rise, 0.0, 1.25, Mistake::power_for_torque});
    }
    if (d.idle)
        add(slips, outside(usual<Slipped::idle>(), *d.idle));
    if (d.rpm_limit) {
        Usual limit{Slipped::rpm_limit, 0.9 * peak, 1.8 * peak, {{tenfold, tenth}}};
        if (ratio > 1.2)
            likeliest(limit, {Mistake::propeller_speed, ratio});
        add(slips, outside(limit, *d.rpm_limit));
    }
    add(slips, head(Slipped::head_reading, s.head.in_climb));
    add(slips, head(Slipped::head_reading, s.head.in_cruise));
    add(slips, head(Slipped::head_limit, s.head.limit));
    if (s.crank_inertia)
        add(slips, outside(usual<Slipped::crank_inertia>(), *s.crank_inertia));
}

// The litres read in cruise, against what the engine burns.
void fuel_slip(std::vector<Slip>& slips, const Scenario& s) {
    const bool engine_odd = std::any_of(slips.begin(), slips.end(), [](const Slip& other) {
        return other.what == Slipped::greatest_power || other.what == Slipped::load_per_power;
    });
    if (engine_odd)
        return;
    if (s.plan.cruise_fuel && s.engine) {
        // Against what full throttle burns at 550 g/kWh.
        const double full = greatest_power(*s.engine) * from_unit(550.0, "g/kWh") / petrol_density;
        const Usual u{Slipped::cruise_fuel,
                      0.1 * full,
                      0.9 * full,
                      {{units_of("gal/h", "L/h"), tenth, tenfold}}};
        add(slips, outside(u, *s.plan.cruise_fuel / petrol_density));
    }
}

// Tips at the engine's speed of greatest power: what is wrong with the reduction shows there.
void tip_slip(std::vector<Slip>& slips, const Scenario& s, const Propeller& p) {
    if (!s.engine || !s.drive)
        return;
    const Usual mach = usual<Slipped::tip_mach>();
    const double sound = air_at_field(s.day).sound_speed;
    const double radius = 0.5 * p.description.diameter;
    const double at_crank = s.engine->peak_power_rotation() * radius / sound;
    const double value = at_crank / s.drive->ratio;
    if (within(mach, value) || !within(usual<Slipped::diameter>(), p.description.diameter))
        return;
    Slip slip{Slipped::tip_mach, p.name, value, mach.low, mach.high};
    slip.meant = s.drive->ratio;
    if (within(mach, at_crank * s.drive->ratio)) {
        slip.mistake = Mistake::ratio_inverted;
        slip.meant = 1.0 / s.drive->ratio;
    } else if (s.drive->ratio < 1.2 && value > mach.high) {
        slip.mistake = Mistake::no_reduction;
    } else if (value < mach.low && within(mach, at_crank)) {
        slip.mistake = Mistake::propeller_speed;
    }
    slips.push_back(std::move(slip));
}

void angle_slips(std::vector<Slip>& slips, const Propeller& p) {
    std::vector<double> r, angle;
    for (const Station& st : p.description.stations)
        if (r.empty() || st.radius > r.back()) {
            r.push_back(st.radius);
            angle.push_back(st.angle);
        }
    if (r.size() < 2)
        return;
    const double at = std::clamp(0.375 * p.description.diameter, r.front(), r.back());
    const auto slip = outside(usual<Slipped::angle>(), Curve(r, angle)(at), p.name);
    if (slip)
        slips.push_back(*slip);
    const double rise = angle.back() - angle.front();
    if (!slip && rise > 1.5 * degree)
        slips.push_back(
            {Slipped::angle_order, p.name, rise, -90.0 * degree, 0.0, Mistake::order_turned});
}

void station_slips(std::vector<Slip>& slips, const Propeller& p) {
    const BladeDescription& d = p.description;
    const double tip = 0.5 * d.diameter;
    double chord = 0.0, thickness = 0.0, sweep = 0.0;
    for (const Station& s : d.stations) {
        chord = std::max(chord, s.chord / tip);
        thickness = std::max(thickness, s.thickness.value_or(0.0));
        if (std::abs(s.sweep) > std::abs(sweep))
            sweep = s.sweep;
    }
    add(slips, outside(usual<Slipped::last_station>(), d.stations.back().radius / tip, p.name));
    add(slips, outside(usual<Slipped::chord>(), chord, p.name));
    const double widens = d.stations.back().chord / d.stations.front().chord;
    if (widens > 1.25)
        slips.push_back({Slipped::chord_order, p.name, widens, 0.0, 1.0, Mistake::order_turned});
    if (thickness > 0.0)
        add(slips, outside(usual<Slipped::thickness>(), thickness, p.name));
    add(slips, outside(usual<Slipped::sweep>(), sweep, p.name));
    angle_slips(slips, p);
}

// A cage far from the propellers it goes round: 2 to 15 cm of room all round are common (no
// source). One propeller that does not fit is no slip, and is told elsewhere.
std::optional<Slip> cage(const Scenario& s, const std::vector<const Propeller*>& propellers) {
    if (!s.cage_diameter || propellers.empty())
        return std::nullopt;
    double small = std::numeric_limits<double>::infinity(), large = 0.0;
    for (const Propeller* p : propellers) {
        if (!within(usual<Slipped::diameter>(), p->description.diameter))
            return std::nullopt;  // asked about by itself
        small = std::min(small, p->description.diameter);
        large = std::max(large, p->description.diameter);
    }
    if (*s.cage_diameter > 0.9 * small && *s.cage_diameter < 1.7 * large)
        return std::nullopt;
    return outside({Slipped::cage,
                    small,
                    1.35 * large,
                    {{{Mistake::radius_for_diameter, 2.0},
                      units_of("mm", "cm"),
                      units_of("cm", "in"),
                      units_of("in", "cm"),
                      units_of("cm", "mm"),
                      tenth}}},
                   *s.cage_diameter);
}

// Tightening at which a usual bolt gives: ISO 898-1 class 8.8, 640 MPa (from memory).
void build_slips(std::vector<Slip>& slips, const Propeller& p) {
    if (const auto& bolts = p.build.bolts) {
        add(slips, outside(usual<Slipped::bolt_circle>(), 2.0 * bolts->circle_radius, p.name));
        add(slips, outside({Slipped::bolt_tightening, 3e6, 640e6, {{tenth, tenfold}}},
                           core_stress(*bolts), p.name));
    }
    if (p.build.working_stress) {
        const Material material = p.build.material.value_or(default_material());
        const Usual u{Slipped::working_stress,
                      0.1 * material.working_stress_high,
                      2.0 * material.working_stress_high,
                      {{tenth, {Mistake::decimal_place, 0.01}, tenfold}}};
        add(slips, outside(u, *p.build.working_stress, p.name));
    }
    if (p.mass)
        add(slips, outside(usual<Slipped::propeller_mass>(), *p.mass, p.name));
}

}  // namespace

std::vector<Slip> slips_in(const Scenario& scenario,
                           const std::vector<const Propeller*>& propellers) {
    std::vector<Slip> slips;
    add(slips, thousands(scenario.day.elevation_m));
    add(slips, outside(usual<Slipped::elevation>(), scenario.day.elevation_m));
    if (slips.empty())
        add(slips, heat(scenario.day));
    add(slips, outside(usual<Slipped::qnh>(), scenario.day.qnh_pa));
    if (scenario.plan.tank && scenario.craft)
        add(slips,
            outside(usual<Slipped::tank>(), *scenario.plan.tank / scenario.craft->all_up_mass));
    craft_slips(slips, scenario);
    engine_slips(slips, scenario);
    fuel_slip(slips, scenario);
    add(slips, cage(scenario, propellers));
    const bool speeds_odd = std::any_of(slips.begin(), slips.end(), [](const Slip& s) {
        return s.what == Slipped::peak_power_speed;
    });
    if (scenario.drive)
        add(slips, outside(usual<Slipped::ratio>(), scenario.drive->ratio));
    for (const Propeller* p : propellers) {
        if (scenario.engine)
            add(slips, outside(usual<Slipped::diameter>(), p->description.diameter, p->name));
        if (!speeds_odd)
            tip_slip(slips, scenario, *p);
        if (!p->description.stations.empty())
            station_slips(slips, *p);
        build_slips(slips, *p);
    }
    return slips;
}

namespace {

// Engine speed standing still; negative when the engine cannot turn it up, infinite when it runs
// away.
double standing_speed(const Engine& engine, const Drive& drive, const Rotor& rotor,
                      const Air& air) {
    const Match m = match(engine, drive, rotor, air, 0.0);
    if (m.answer)
        return m.agreements[*m.answer].engine_rotation;
    return m.status == MatchStatus::runs_away ? std::numeric_limits<double>::infinity() : -1.0;
}

std::vector<double> standing_speeds_of(const Engine& engine, const Drive& drive,
                                       const std::vector<const Rotor*>& rotors, const Air& air,
                                       const std::vector<std::optional<double>>& known) {
    std::vector<double> speeds;
    for (std::size_t i = 0; i < rotors.size(); ++i)
        speeds.push_back(i < known.size() && known[i]
                             ? *known[i]
                             : standing_speed(engine, drive, *rotors[i], air));
    return speeds;
}

Engine with_torque(const Engine& engine, double factor) {
    EngineDescription d = engine.description();
    for (TorquePoint& p : d.table)
        p.torque *= factor;
    for (auto* p : {&d.rated, &d.peak_torque})
        if (*p)
            (*p)->torque *= factor;
    return Engine(std::move(d));
}

}  // namespace

std::vector<Slip> slips_behind(const Scenario& scenario, const std::vector<const Rotor*>& rotors,
                               const Air& air, const std::vector<std::optional<double>>& standing) {
    std::vector<Slip> slips;
    if (!scenario.engine || !scenario.drive || rotors.empty())
        return slips;
    const Engine& engine = *scenario.engine;
    const Drive& drive = *scenario.drive;
    const double low = 0.97 * engine.peak_torque_rotation();
    const double high = 1.1 * engine.peak_power_rotation();
    int slow = 0, fast = 0;
    const std::vector<double> speeds = standing_speeds_of(engine, drive, rotors, air, standing);
    for (const double speed : speeds) {
        slow += speed < low;
        fast += speed > high;
    }
    const double first = speeds.front();
    const auto all = static_cast<int>(rotors.size());
    const bool too_slow = first<low, too_fast = first> high;
    if (!too_slow && !too_fast)
        return slips;
    // The one flown now is known to serve: alone off, it is its blade that is asked about.
    const bool every = slow == all || fast == all;
    const auto try_out = [&](Mistake mistake, const Engine& e, const Drive& d, const Rotor& rotor,
                             double meant, std::string_view written = {},
                             std::string_view real = {}) {
        const double speed = standing_speed(e, d, rotor, air);
        if (speed >= 0.95 * e.peak_torque_rotation() && speed <= 1.05 * e.peak_power_rotation())
            slips.push_back(
                {Slipped::static_speed,
                 every || scenario.propellers.empty() ? std::string() : scenario.propellers[0].name,
                 first, low, high, mistake, meant, written, real});
    };
    const Rotor& rotor = *rotors.front();
    const auto torque = [&](Mistake mistake, double factor, std::string_view written,
                            std::string_view real) {
        try_out(mistake, with_torque(engine, factor), drive, rotor, factor, written, real);
    };
    if (every && too_slow) {
        torque(Mistake::unit, from_unit(1.0, "ft lbf"), "N m", "ft lbf");
        torque(Mistake::unit, from_unit(1.0, "kgf m"), "N m", "kgf m");
    } else if (every) {
        torque(Mistake::unit, 1.0 / from_unit(1.0, "ft lbf"), "ft lbf", "N m");
        if (drive.ratio > 1.2)
            torque(Mistake::propeller_torque, 1.0 / drive.ratio, {}, {});
    }
    const auto turned = [&](double angle) {
        Deviation deviation = rotor.model().deviation;
        deviation.angle += angle;
        return rotor.deviating(deviation);
    };
    for (const double degrees : too_slow ? std::vector{-3.0, -6.0} : std::vector{3.0, 6.0}) {
        const std::size_t before = slips.size();
        try_out(Mistake::none, engine, drive, turned(degrees * degree), degrees * degree);
        if (slips.size() > before)
            break;
    }
    return slips;
}

}  // namespace loadline
