#include "loadline/drive/drive.hpp"

#include "loadline/drive/detail/agreement.hpp"

#include <fmt/format.h>
#include <cmath>
#include <stdexcept>

namespace loadline {
namespace {

void check(const Drive& drive, double airspeed) {
    if (!(drive.ratio > 0.0) || !std::isfinite(drive.ratio)) {
        throw std::invalid_argument(
            fmt::format("reduction ratio is {}; needs more than 0", drive.ratio));
    }
    if (!(drive.efficiency > 0.0) || !(drive.efficiency <= 1.0)) {
        throw std::invalid_argument(fmt::format(
            "drive efficiency is {}; needs more than 0 and at most 1", drive.efficiency));
    }
    if (!(airspeed >= 0.0) || !std::isfinite(airspeed))
        throw std::invalid_argument(fmt::format("airspeed is {} m/s; needs 0 or more", airspeed));
}

// What an engine opened up from the lowest speed comes to; fills status and answer.
void climb_from_idle(const Crossings& crossings, Match& match) {
    if (!crossings.surplus_at_lowest) {
        match.status = MatchStatus::not_converged;
        return;
    }
    if (*crossings.surplus_at_lowest < 0.0) {
        match.status = MatchStatus::cannot_spin_up;
        return;
    }
    for (std::size_t i = 0; i < crossings.found.size(); ++i) {
        if (crossings.found[i].stable) {
            // A speed without an answer below may hide an earlier agreement.
            if (crossings.first_gap && *crossings.first_gap < crossings.found[i].rotation)
                break;
            match.status = MatchStatus::agreed;
            match.answer = i;
            return;
        }
    }
    match.status = crossings.first_gap ? MatchStatus::not_converged : MatchStatus::runs_away;
}

}  // namespace

Match match(const Engine& engine, const Drive& drive, const Rotor& rotor, const Air& air,
            double airspeed) {
    check(drive, airspeed);
    RotorSeed seed;
    const auto blades = [&](double engine_rotation) {
        RotorResult result = rotor.solve(air, {airspeed, engine_rotation / drive.ratio}, &seed);
        if (result.status != RotorStatus::converged)
            seed.inflow.clear();
        return result;
    };
    const auto asked = [&](double engine_rotation) -> std::optional<double> {
        const RotorResult result = blades(engine_rotation);
        if (result.status != RotorStatus::converged) {
            return std::nullopt;
        }
        return result.torque;
    };
    const double gain = drive.ratio * drive.efficiency;
    const auto given = [&](double engine_rotation) {
        return gain * engine.torque(engine_rotation, air).value;
    };

    const Crossings crossings =
        find_crossings(asked, given, engine.lowest_rotation(), engine.highest_rotation());
    Match match;
    match.airspeed = airspeed;
    for (const Crossings::Asked& at : crossings.asked)
        match.load.push_back({at.rotation, at.coefficient});
    match.load_known = !crossings.first_gap;
    for (const Crossing& crossing : crossings.found) {
        const Torque torque = engine.torque(crossing.rotation, air);
        Agreement agreement;
        agreement.engine_rotation = crossing.rotation;
        agreement.engine_torque = torque.value;
        agreement.engine_power = torque.value * crossing.rotation;
        agreement.stable = crossing.stable;
        agreement.beyond_table = torque.beyond_table;
        agreement.rotor = blades(crossing.rotation);
        agreement.torque_gap = gain * torque.value - agreement.rotor.torque;
        match.agreements.push_back(std::move(agreement));
    }
    climb_from_idle(crossings, match);
    return match;
}

}  // namespace loadline
