#include "loadline/engine/engine.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/number/minimum.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace loadline {
namespace {

// The shape of a full-throttle torque curve of a small two-stroke with a tuned pipe, relative to
// its rated point. An assumption: common practice, no source; between engines it differs by 20 to
// 30 % below the speed where the pipe starts to work. Its torque peak is the point (0.9, 1.05).
constexpr double template_speed[] = {0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0};
constexpr double template_torque[] = {0.62, 0.72, 0.82, 0.92, 1.02, 1.05, 1.0};
constexpr double template_peak_speed = 0.9;
constexpr double template_peak_torque = 1.05;
constexpr double template_last_speed = 1.1;

// Above the rated speed the template falls to 0.93 at 1.05 and to 0.80 at 1.1; this cubic in
// x = speed - 1 goes through both and leaves the rated point with the slope of constant power.
double template_fall(double x) {
    return 1.0 - x - 6.0 * x * x - 40.0 * x * x * x;
}
constexpr double template_last_slope = -3.4;  // of template_fall at 0.1

std::string in_rpm(double rotation) {
    return fmt::format("{:.0f} rpm", in_unit(rotation, "rpm"));
}

void require_positive(const char* what, double value, const char* unit) {
    if (!(value > 0.0) || !std::isfinite(value)) {
        throw std::invalid_argument(
            fmt::format("{} is {:g} {}; needs more than 0", what, value, unit));
    }
}

void check_point(const char* what, const TorquePoint& point) {
    require_positive(fmt::format("speed of {}", what).c_str(), in_unit(point.rotation, "rpm"),
                     "rpm");
    require_positive(fmt::format("torque of {}", what).c_str(), point.torque, "N m");
}

void check_table(const std::vector<TorquePoint>& table) {
    if (table.size() < 2) {
        throw std::invalid_argument(
            "the torque table has one point; needs two or more, or rated and peak_torque instead");
    }
    for (std::size_t i = 0; i < table.size(); ++i) {
        check_point(fmt::format("torque point {}", i + 1).c_str(), table[i]);
        if (i > 0 && !(table[i].rotation > table[i - 1].rotation)) {
            throw std::invalid_argument(
                fmt::format("torque point {} is at {}, after one at {}; speeds must increase",
                            i + 1, in_rpm(table[i].rotation), in_rpm(table[i - 1].rotation)));
        }
    }
}

// A leaflet states where power is greatest and where torque is. Both can only be true if the rated
// point lies beyond the torque peak, with less torque and more power.
void check_leaflet(const TorquePoint& rated, const TorquePoint& peak) {
    const double rated_kw = rated.torque * rated.rotation / 1000.0;
    const double peak_kw = peak.torque * peak.rotation / 1000.0;
    if (!(rated.rotation > peak.rotation)) {
        throw std::invalid_argument(
            fmt::format("rated speed {} is not above the speed of greatest torque, {}; one of the "
                        "two must be wrong",
                        in_rpm(rated.rotation), in_rpm(peak.rotation)));
    }
    if (!(rated.torque < peak.torque)) {
        throw std::invalid_argument(fmt::format(
            "rated power {:.2f} kW at {} is a torque of {:.2f} N m, not below the greatest torque "
            "stated, {:.2f} N m at {}; one of the two must be wrong",
            rated_kw, in_rpm(rated.rotation), rated.torque, peak.torque, in_rpm(peak.rotation)));
    }
    if (!(peak_kw < rated_kw)) {
        throw std::invalid_argument(fmt::format(
            "greatest torque {:.2f} N m at {} is a power of {:.2f} kW, not below the rated power, "
            "{:.2f} kW at {}; one of the two must be wrong",
            peak.torque, in_rpm(peak.rotation), peak_kw, rated_kw, in_rpm(rated.rotation)));
    }
}

void check_rest(const EngineDescription& d) {
    if (!(d.throttle > 0.0 && d.throttle <= 1.0)) {
        throw std::invalid_argument(
            fmt::format("throttle is {:g}; needs more than 0 and at most 1", d.throttle));
    }
    if (d.rpm_limit)
        require_positive("rpm limit", in_unit(*d.rpm_limit, "rpm"), "rpm");
    if (d.idle) {
        require_positive("idle speed", in_unit(*d.idle, "rpm"), "rpm");
        if (d.rpm_limit && !(*d.idle < *d.rpm_limit)) {
            throw std::invalid_argument(fmt::format("idle speed {} is not below the rpm limit, {}",
                                                    in_rpm(*d.idle), in_rpm(*d.rpm_limit)));
        }
    }
}

// Torque between the torque peak and the rated point. Power over speed must stay below the ray that
// leaves the origin through the torque peak (no more torque than stated) and below the rated power
// (no more power than stated), and touch each at its own point. The parabola whose tangents are
// those two lines does both for every leaflet without contradiction; a cubic in torque would rise
// above the torque peak of engines with a nearly flat torque.
double between(const TorquePoint& peak, const TorquePoint& rated, double rotation) {
    const double peak_power = peak.torque * peak.rotation;
    const double rated_power = rated.torque * rated.rotation;
    const double corner = rated_power / peak.torque;  // where the two lines meet
    // The parabola with a parameter t from 0 to 1:
    // rotation = (1-t)^2 peak.rotation + 2 t (1-t) corner + t^2 rated.rotation, solved for t.
    const double b = corner - peak.rotation;
    const double a = rated.rotation - 2.0 * corner + peak.rotation;
    const double past = rotation - peak.rotation;
    const double root = std::sqrt(std::max(0.0, b * b + a * past));
    const double t = past > 0.0 ? std::min(1.0, past / (b + root)) : 0.0;
    const double power = rated_power - (1.0 - t) * (1.0 - t) * (rated_power - peak_power);
    return power / rotation;
}

std::function<double(double)> leaflet_torque(const TorquePoint& rated, const TorquePoint& peak) {
    const Curve rise(template_speed, template_torque);
    return [rated, peak, rise](double rotation) {
        if (rotation < peak.rotation)
            return peak.torque / template_peak_torque *
                   rise(template_peak_speed * rotation / peak.rotation);
        if (rotation < rated.rotation)
            return between(peak, rated, rotation);
        return rated.torque * template_fall(rotation / rated.rotation - 1.0);
    };
}

Curve table_torque(const std::vector<TorquePoint>& table) {
    std::vector<double> rotation, torque;
    for (const TorquePoint& point : table) {
        rotation.push_back(point.rotation);
        torque.push_back(point.torque);
    }
    return {rotation, torque};
}

// Power is a quartic between two points of a table, so it may have more than one top there: the
// best of many samples first, then the top between its neighbours.
double greatest_power_rotation(const Curve& torque, const std::vector<TorquePoint>& table) {
    constexpr int samples = 40;
    const auto lost_power = [&](double rotation) {
        return -rotation * torque(rotation);
    };
    std::vector<double> rotations{table.front().rotation};
    for (std::size_t i = 0; i + 1 < table.size(); ++i) {
        for (int k = 1; k < samples; ++k) {
            rotations.push_back(std::lerp(table[i].rotation, table[i + 1].rotation,
                                          static_cast<double>(k) / samples));
        }
        rotations.push_back(table[i + 1].rotation);
    }
    const auto best = std::min_element(rotations.begin(), rotations.end(), [&](double a, double b) {
        return lost_power(a) < lost_power(b);
    });
    const double below = best == rotations.begin() ? *best : *(best - 1);
    const double above = best + 1 == rotations.end() ? *best : *(best + 1);
    constexpr int half_of_the_bits = 26;  // more cannot be told of a flat top
    const auto [rotation, least] = find_minimum(lost_power, below, above, half_of_the_bits);
    return least < lost_power(*best) ? rotation : *best;
}

// The correction of SAE J1349 (June 1990) for spark ignition without a blower, by which measured
// power is multiplied to get power at 990 hPa of dry air and 25 degC. It scales the power in the
// cylinder with dry pressure and the root of temperature and keeps friction, 15 % of the power,
// constant. The formula takes 273 and 298 K.
double sae_j1349(const Air& air) {
    const double dry_hpa = (air.pressure - air.vapour_pressure) / 100.0;
    const double kelvin = air.temperature - 0.15;  // degrees Celsius and 273
    return 1.180 * (990.0 / dry_hpa) * std::sqrt(kelvin / 298.0) - 0.18;
}

// J1349 holds for corrections of 7 % at most (from memory).
bool beyond_sae_j1349(double correction) {
    return correction < 0.93 || correction > 1.07;
}

// R. F. Gagg and E. V. Farrar, Altitude performance of aircraft engines equipped with gear-driven
// superchargers, SAE J. 34 (1934) 217; form and figures from memory. The share of sea-level power
// left at a density ratio, for four-stroke aero engines; it names no range.
double gagg_ferrar(const Air& air) {
    const double sigma = air.density / 1.225;
    return std::max(0.0, 1.132 * sigma - 0.132);
}

void check_air(const Air& air) {
    const bool sound = std::isfinite(air.pressure) && std::isfinite(air.temperature) &&
                       std::isfinite(air.density) && air.pressure > air.vapour_pressure &&
                       air.vapour_pressure >= 0.0 && air.temperature > 1.0 && air.density > 0.0;
    if (!sound) {
        throw std::invalid_argument(
            fmt::format("air of {:g} Pa, {:g} Pa of it vapour, at {:g} K and {:g} kg/m3 is no air "
                        "an engine runs on",
                        air.pressure, air.vapour_pressure, air.temperature, air.density));
    }
}

// Torque is divided by this on the day of `air`, relative to the reference of the correction.
double correction_of(DayCorrection kind, const Air& air) {
    check_air(air);
    switch (kind) {
        case DayCorrection::sae_j1349:
            return sae_j1349(air);
        case DayCorrection::gagg_ferrar:
            return gagg_ferrar(air);
        case DayCorrection::none:
            break;
    }
    return 1.0;
}

}  // namespace

Engine::Engine(EngineDescription description) : description_(std::move(description)) {
    const EngineDescription& d = description_;
    check_rest(d);
    double last_slope = 0.0;
    if (!d.table.empty()) {
        if (d.rated || d.peak_torque) {
            throw std::invalid_argument(
                "both a torque table and rated or peak_torque are given; needs one or the other");
        }
        check_table(d.table);
        const Curve curve = table_torque(d.table);
        figures_ = curve;
        first_ = curve.first();
        last_ = curve.last();
        last_slope = curve.slope(last_);
        // A monotone curve is highest at one of its points.
        peak_torque_rotation_ = std::max_element(d.table.begin(), d.table.end(),
                                                 [](const TorquePoint& a, const TorquePoint& b) {
                                                     return a.torque < b.torque;
                                                 })
                                    ->rotation;
        peak_power_rotation_ = greatest_power_rotation(curve, d.table);
    } else {
        if (!d.rated) {
            throw std::invalid_argument(
                d.peak_torque
                    ? "peak_torque alone does not make a torque curve; needs rated too"
                    : "nothing is known of the engine's torque; needs a torque table or rated");
        }
        check_point("rated", *d.rated);
        const TorquePoint peak = d.peak_torque.value_or(TorquePoint{
            template_peak_speed * d.rated->rotation, template_peak_torque * d.rated->torque});
        check_point("peak_torque", peak);
        check_leaflet(*d.rated, peak);
        figures_ = leaflet_torque(*d.rated, peak);
        first_ = template_speed[0] / template_peak_speed * peak.rotation;
        last_ = template_last_speed * d.rated->rotation;
        last_slope = template_last_slope * d.rated->torque / d.rated->rotation;
        peak_torque_rotation_ = peak.rotation;
        peak_power_rotation_ = d.rated->rotation;
        shape_assumed_ = true;
    }
    fall_ = std::min(last_slope, -figures_(last_) / last_);

    measured_ = correction_of(d.day_correction, air_at_field(d.measured_at));
    if (!(measured_ > 0.0)) {
        throw std::invalid_argument(
            "on the day of measured_at the day correction leaves the engine no torque");
    }
    lowest_ = d.idle.value_or(0.3 * peak_power_rotation_);
    highest_ = std::max(1.3 * peak_power_rotation_, 1.25 * d.rpm_limit.value_or(0.0));
    if (!d.table.empty())
        highest_ = std::max(highest_, 1.05 * last_);
    if (!(lowest_ < peak_power_rotation_)) {
        throw std::invalid_argument(
            fmt::format("idle speed {} is not below the speed of greatest power, {}",
                        in_rpm(lowest_), in_rpm(peak_power_rotation_)));
    }
}

DayFactor Engine::day_factor(const Air& air) const {
    const double today = correction_of(description_.day_correction, air);
    switch (description_.day_correction) {
        case DayCorrection::sae_j1349:
            return {measured_ / today, beyond_sae_j1349(today) || beyond_sae_j1349(measured_)};
        case DayCorrection::gagg_ferrar:
            return {today / measured_, false};
        case DayCorrection::none:
            break;
    }
    return {1.0, false};
}

Torque Engine::torque(double rotation, const Air& air) const {
    return torque(rotation, day_factor(air).value);
}

Torque Engine::torque(double rotation, double day_factor) const {
    if (!(rotation >= 0.0) || !std::isfinite(rotation)) {
        throw std::invalid_argument(
            fmt::format("engine speed is {:g} rad/s; needs 0 or more", rotation));
    }
    double full = figures_(std::clamp(rotation, first_, last_));
    if (rotation > last_)
        full = std::max(0.0, full + fall_ * (rotation - last_));
    const TorqueChange& learnt = description_.learnt;
    if (rotation > 0.0 && (learnt.gain != 1.0 || learnt.beyond != 0.0))
        full *= learnt.at(*this, rotation);
    return {full * day_factor * description_.throttle, rotation < first_ || rotation > last_};
}

double Engine::beyond_figures(double rotation) const {
    if (rotation >= first_ && rotation <= last_)
        return 0.0;
    return std::abs(std::log(rotation / std::clamp(rotation, first_, last_)));
}

double TorqueChange::at(const Engine& engine, double rotation) const {
    return std::max(0.1, gain + beyond * engine.beyond_figures(rotation));
}

}  // namespace loadline
