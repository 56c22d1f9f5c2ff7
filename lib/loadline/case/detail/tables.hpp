#pragma once
/// The tables of the case file but [[propeller]], one reader each. Each notes every fault and reads
/// on; with faults noted the result is not to be used.

#include "loadline/case/detail/fields.hpp"
#include "loadline/scenario/scenario.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loadline {

/// The keys of a day, as [air] and `measured_at` have them. `humidity_given` may be null.
Day read_day(Fields fields, bool* humidity_given);
/// {elevation = "120 m", temperature = "15 degC", mass = "118 kg"}: when something was read.
ReadingDay read_reading_day(Fields& fields, const char* key, CaseFaults& faults);

/// "165 degC in cruise": a head temperature and where it was read. `remedy`: how to write it.
struct HeadReading {
    double kelvin = 0.0;
    bool in_climb = false;
};
std::optional<HeadReading> head_reading(const Node& written, const std::string& remedy,
                                        CaseFaults& faults);

/// [air]: a day there can be air on.
Day read_air(Fields fields, bool& humidity_given, CaseFaults& faults);

/// [engine]; what it says of head, fuel and crank goes into the scenario.
std::optional<Engine> read_engine(Fields fields, Scenario& into, CaseFaults& faults);

/// [drive]; a note when it looks turned round.
std::optional<Drive> read_drive(Fields fields, CaseFaults& faults, std::vector<std::string>& notes);

/// [craft]; the cage and the tank go into the scenario.
std::optional<Craft> read_craft(Fields fields, Scenario& into, CaseFaults& faults);

void read_climb(Fields fields, FlightPlan& plan, const Day& day, CaseFaults& faults);
/// `craft`: away from trim speed its polar needs a second point.
void read_cruise(Fields fields, FlightPlan& plan, const std::optional<Craft>& craft,
                 CaseFaults& faults);
void read_noise(Fields fields, FlightPlan& plan);
Goals read_goals(Fields fields, CaseFaults& faults);
class SectionLibrary;
/// [design]; what it may ask goes with what else there is.
std::optional<BladeWish> read_wish(Fields fields, const Scenario& around, SectionLibrary& library,
                                   CaseFaults& faults);
/// The section a wish takes where neither it nor the first propeller names one.
void take_section(BladeWish& wish, const Scenario& around, SectionLibrary& library);
/// [[reading]] of the whole document, once the propellers are read.
void read_readings(Fields& document, Scenario& into, CaseFaults& faults);

}  // namespace loadline
