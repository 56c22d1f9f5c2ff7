#pragma once
/// What engine, blades and wing would do in a climb: inside `study` only.

#include "loadline/craft/flight.hpp"
#include "loadline/scenario/rotors.hpp"

#include <map>
#include <optional>
#include <string>
#include <tuple>

namespace loadline {

/// The full-throttle climb of the scenario's propellers at any mass and air, each solved once.
class TrialModel {
public:
    explicit TrialModel(const Scenario& scenario);

    /// Whether engine, drive and craft are there.
    [[nodiscard]] bool complete() const { return powered_.has_value(); }
    /// Nothing where engine and propeller do not agree.
    std::optional<FlightState> climb(const std::string& propeller, const Air& air, double mass);

private:
    struct Ready {
        Rotor rotor;
        double start = 0.0;  // propeller rotation, rad/s; 0 without an agreement
    };
    Ready& ready(const std::string& propeller);

    const Scenario* scenario_;
    std::optional<PoweredCraft> powered_;
    std::map<std::string, Ready> ready_;
    std::map<std::tuple<std::string, double, double, double>, std::optional<FlightState>> known_;
};

}  // namespace loadline
