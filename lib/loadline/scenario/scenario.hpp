#pragma once
/// All that one case says: the day, engine, drive and craft, the propellers, what is asked and
/// what was read. Plain values in SI; `loadline/case` fills it from a file, any program may fill it
/// itself. What is left out is left empty: each study says what it needs.

#include "loadline/air/air.hpp"
#include "loadline/craft/craft.hpp"
#include "loadline/drive/drive.hpp"
#include "loadline/engine/engine.hpp"
#include "loadline/engine/head.hpp"
#include "loadline/rotor/rotor.hpp"
#include "loadline/scenario/blade_wish.hpp"
#include "loadline/scenario/flight_plan.hpp"
#include "loadline/scenario/flown_flight.hpp"
#include "loadline/scenario/propeller.hpp"
#include "loadline/scenario/reading.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// What readings made of fuel and heads; as usual until they were learnt from.
struct FlightLearnt {
    double consumption = 1.0;  ///< of the fuel line, over what it would be
    double loss_share = 0.0;   ///< added to FuelModel::loss_share
    HeadModel head;
    double pulled_down = 1.0;  ///< of pulled_down_allowance, how much
};

struct Scenario {
    std::string title;
    Day day;
    bool humidity_given = false;  ///< else the air is taken as dry
    std::optional<Engine> engine;
    std::optional<Drive> drive;
    std::optional<Craft> craft;
    std::vector<Propeller> propellers;  ///< the first is the one flown now
    RotorModel model;
    bool blades_bend = true;      ///< load turns blades of stated material and thickness
    bool airspeeds_true = false;  ///< as written; else as an instrument shows them
    double true_over_read = 1.0;  ///< what made the file's airspeeds the true ones here
    FlightPlan plan;
    HeadKnowledge head;
    Goals goals;
    std::optional<BladeWish> wish;  ///< of a blade that is not there yet
    std::vector<FieldReading> readings;
    FlightLearnt learnt;
    Left left;  ///< of what is uncertain, once the readings were learnt from; else empty
    std::vector<FlownFlight> flights;   ///< in the order they were flown
    std::optional<double> consumption;  ///< of fuel at full throttle, kg/J; else assumed
    std::optional<double>
        crank_inertia;  ///< of what turns with the crankshaft, kg m2; else assumed
    std::optional<double> cage_diameter;  ///< inner, m
};

}  // namespace loadline
