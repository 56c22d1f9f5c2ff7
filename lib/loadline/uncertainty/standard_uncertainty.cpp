#include "loadline/uncertainty/standard_uncertainty.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/strength/blade_twist.hpp"
#include "loadline/uncertainty/response.hpp"

#include <algorithm>
#include <cmath>

namespace loadline {

namespace {

// Measured stations and a named section.
BladeUncertainty of_known_section(double reynolds) {
    // Angle of one blade: digital level +-0.2 to 0.3 deg in use, both blades averaged (from memory
    // of builders' practice). Chord by caliper, 0.5 mm to 1 mm in 80 mm.
    BladeUncertainty d;
    d.angle = 0.3 * degree;
    d.chord = 0.01;
    // Two models of Clark Y differ by 0.5 deg in zero lift (so each by 0.35) and 0.1 in greatest
    // lift at 3e5 (UIUC vol. 3 and SoarTech 8); drag by 5 to 10 % at 1e5. On Report 640's
    // propellers and their prints 0.2 to 0.5 deg and 0.02 to 0.03 of greatest lift are likeliest.
    d.zero_lift = 0.25 * degree;
    d.drag = 0.12;
    d.greatest_lift = 0.025;
    // What remains on Report 640's propellers of two and four blades; standing still, of the
    // prints.
    d.thrust_form = 0.034;
    d.power_form = 0.02;
    d.standing_thrust = 0.02;
    d.standing_power = 0.025;
    // Below 3e5 the same two models part: 0.9 deg at 1e5, 0.7 deg at 6e4, and below 6e4 little was
    // measured at all. Five prints and five research propellers at 2e4 to 6e4 ask up to 25 % more
    // power standing still than predicted.
    const double thin = std::clamp(std::sqrt(3e5 / std::max(reynolds, 1.0)), 1.0, 4.0);
    d.zero_lift *= thin;
    d.drag = std::min(0.25, d.drag * thin);
    d.greatest_lift = std::min(0.06, d.greatest_lift * thin);
    d.thrust_form *= std::sqrt(thin);
    d.power_form *= thin;
    d.standing_thrust *= thin;
    d.standing_power *= thin;
    return d;
}

// Measured stations, the section unknown: near what makes the errors of the 31 measured commercial
// propellers of unknown section (UIUC, volumes 1 and 2), standing still and in three windows of
// advance ratio, likeliest, and narrowed until the ranges hold nine in ten of them and no more.
// Stretched to fit all other lines of products, they hold 87 to 90 % of the line left out
// (published/ranges_test).
BladeUncertainty of_unknown_section(double reynolds) {
    BladeUncertainty d = of_known_section(5e5);
    d.zero_lift = 0.74 * degree;
    d.drag = 0.06;
    d.greatest_lift = 0.036;
    // 7 % a degree is likeliest with these; greatest lift of the library's measured sections goes
    // with their zero lift by 7 to 9 % a degree (least squares over 8 to 10 of them at 1e5, 2e5,
    // 3e5).
    d.lift_by_camber = 0.07 / degree;
    d.thrust_form = 0.053;
    d.power_form = 0.048;
    d.standing_thrust = 0.02;
    d.standing_power = 0.036;
    // Below the Reynolds numbers of these (2e4 to 5e4) power standing still is farther off.
    d.standing_power *= std::clamp(2e4 / std::max(reynolds, 1.0), 1.0, 3.0);
    return d;
}

}  // namespace

BladeUncertainty blade_uncertainty(Knowledge knowledge, double reynolds) {
    BladeUncertainty d = knowledge.source == Knowledge::section_known
                             ? of_known_section(reynolds)
                             : of_unknown_section(reynolds);
    switch (knowledge.source) {
        case Knowledge::section_known:
        case Knowledge::section_unknown:
            break;
        case Knowledge::zero_lift_measured:
            // Two heights by thread and calipers, 0.1 mm at 75 % of 80 mm of chord 0.27 deg; the
            // rule that makes an angle of them 0.26 deg (published/mean_line_test); two tunnels
            // 0.4 deg apart, so each 0.28.
            d.zero_lift = 0.45 * degree;
            d.lift_by_camber = 0.0;
            break;
        case Knowledge::section_by_look:
            // Between a section that is named and one that is not: a judgement.
            d.zero_lift = 0.6 * degree;
            break;
        case Knowledge::label_and_chord:
        case Knowledge::label_only:
            // Blade angle at 0.75 R of the same 31 propellers against their label's geometric
            // pitch, 1.1 deg; chord at 0.75 R against the median of 0.143 R, 21 %; with the chord
            // measured there what remains is its distribution.
            d.angle = 1.1 * degree;
            d.chord = knowledge.source == Knowledge::label_and_chord ? 0.05 : 0.21;
            d.thrust_form = 0.06;
            d.power_form = 0.08;
            break;
    }
    // A level on the flat face of a thickness that is not known: 1 mm on 80 mm is 0.57 deg, and the
    // usual taper is off by one to two.
    if (knowledge.thickness_guessed)
        d.angle = std::hypot(d.angle, 0.9 * degree);
    return d;
}

BladeUncertainty blade_uncertainty(Knowledge knowledge, const Rotor& rotor, const Air& air,
                                   double rotation) {
    BladeUncertainty d =
        blade_uncertainty(knowledge, reynolds_at_three_quarters(rotor, air, rotation));
    d.angle =
        std::hypot(d.angle, load_twist_uncertainty * rotor.load_twist(air, {0.0, rotation}, 0.75));
    return d;
}

SharedUncertainty shared_uncertainty() {
    // The level's zero and the table it is zeroed on, 0.3 deg. Engine torque: leaflet or bench
    // figure against this engine, on this day, 4 % (carburettor, pipe and correction; common
    // practice, no source). Beyond the figures nobody knows how it goes on: two-stroke torque may
    // be held or fall twice as fast as speed rises; a judgement. Density: 3 K and 3 hPa unnoticed.
    return {0.3 * degree, 0.04, 1.0, 0.008};
}

FlightUncertainty flight_uncertainty() {
    FlightUncertainty u{};
    // Fuel, clothes and a scale.
    u.mass = 0.03;
    // Leaflet against one's own harness and cage (common practice, no source).
    u.glide_ratio = 0.08;
    u.trim_speed = 0.05;
    // Half of each default, see craft.hpp.
    u.wake = 0.04;
    u.deduction = 0.04;
    // 400 to 600 g/kWh spans about two standard deviations a side. What remains of it between two
    // operating points, once one was measured: a judgement.
    u.consumption = 0.12;
    u.stated_consumption = 0.05;
    // Engine loss: 0.20 to 0.30 of rated power, see fuel.hpp.
    u.loss_share = 0.05;
    // A tank read over an hour's flight.
    u.fuel_reading = 0.05;
    // Thermocouple and gauge: class 1 of IEC 60584 and its cold junction, from memory.
    u.head_reading = 3.0;
    // From the spreads beside HeadModel, see head.hpp: the exponent of power lies between what a
    // part-throttle two-stroke and what aero engines show, 0.3 to 0.64.
    u.heating_exponent = 0.10;
    u.cooling_exponent = 0.05;
    u.gas_temperature = 40.0;
    // Half of what practice adds, see head.hpp.
    u.pulled_down = 0.5;
    // Gutin's theory against NACA TN 1354, 2 to 3 dB, most of it alike for like propellers.
    u.noise = 3.0;
    u.noise_each = 1.0;
    return u;
}

UsualReadings usual_readings() {
    // Common practice, no source. Tachometers of small engines show steps of 10 to 100 rpm, and
    // the engine itself wanders as much.
    UsualReadings u{};
    u.speed = 0.007;
    u.level_speed = 0.015;
    // The rope's slack and angle, and the balance's scale.
    u.thrust = 0.03;
    // 300 m in three minutes by stopwatch and altimeter to 1.5 %, in air that itself moves by 0.10
    // to 0.25 m/s early in the morning.
    u.climb_rate = 0.15;
    u.fuel = flight_uncertainty().fuel_reading;
    u.head = flight_uncertainty().head_reading;
    // Wind, ground and the hand that holds the meter. A judgement, no source.
    u.noise = 1.0;
    return u;
}

double fit_uncertainty(Knowledge knowledge) {
    // A judgement, common practice, no source: a tape from tip to tip 2 mm; a label is in whole
    // centimetres or inches, and blades are made to it within some millimetres, 5 mm; a cage of
    // bent tube is not round, 4 mm.
    const bool label =
        knowledge.source == Knowledge::label_and_chord || knowledge.source == Knowledge::label_only;
    return std::hypot(label ? 5e-3 : 2e-3, 4e-3);
}

double inertia_uncertainty(MassBasis basis, bool thickness_stated) {
    // A judgement, common practice, no source: 0.10 for a stated mass, 0.10 for a stated density,
    // 0.30 for the assumed one (foam cores, other woods), and 0.15 more, in quadrature, with a
    // density but no measured thickness.
    if (basis == MassBasis::mass_stated)
        return 0.10;
    return std::hypot(basis == MassBasis::density_stated ? 0.10 : 0.30,
                      thickness_stated ? 0.0 : 0.15);
}

double inertia_uncertainty(const RotorInertia& inertia, bool thickness_stated) {
    return inertia.swing_uncertainty.value_or(inertia_uncertainty(inertia.basis, thickness_stated));
}

double inertia_uncertainty(const Weighed& weighed) {
    const double u = weighed.like_others
                         ? inertia_uncertainty(MassBasis::assumed, weighed.thickness_stated)
                         : inertia_uncertainty(weighed.inertia, weighed.thickness_stated);
    return weighed.beyond_material ? std::max(u, misplaced_mass_uncertainty) : u;
}

}  // namespace loadline
