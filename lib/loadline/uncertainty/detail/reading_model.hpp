#pragma once
/// What readings would be if engine, craft and blades differed so much from a scenario. Inside
/// `uncertainty` only.

#include "loadline/craft/flight.hpp"
#include "loadline/engine/engine.hpp"
#include "loadline/scenario/heads.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/sound/heard.hpp"
#include "loadline/uncertainty/drawn_propeller.hpp"

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

namespace loadline {

class ReadingModel {
public:
    /// Of the scenario as it stands, `learnt` included. It has engine and drive, and a craft where
    /// a reading was flown. It and the readings must outlive the model.
    ReadingModel(const Scenario& scenario, const std::vector<FieldReading>& readings);

    /// Each reading for differences `z` in standard uncertainties, laid out as in Left; not a
    /// number where engine and propeller agree on nothing or the craft does not fly so.
    /// What a difference changes is worked out on the scenario's day; a reading's own day moves
    /// what it is changed from.
    /// `alone`: only readings with this propeller are worked out, others are not a number.
    [[nodiscard]] std::vector<double> at(const double* z,
                                         std::optional<std::size_t> alone = {}) const;

    /// Whether a dimension moves any reading.
    [[nodiscard]] bool moved_by(std::size_t dimension) const;

private:
    using Answers = std::array<double, reading_kinds>;  // by Reads

    // One propeller that was read with.
    struct Subject {
        std::size_t propeller = 0;
        std::optional<Rotor> rotor;
        std::unique_ptr<DrawnPropeller> drawn;  // none where it agrees with the engine on nothing
        BladeUncertainty uncertainty;
        double standing = 0.0, flying = 0.0;  // full-throttle rotations, rad/s; 0: does not fly
        bool asked_standing = false, asked_climb = false, asked_cruise = false;
        bool asked_fuel = false, asked_head = false, asked_noise = false;
        Heard noise;      // beside the climb, nothing differing
        Flight climbing;  // that climb
        Answers plain{};  // on the scenario's day, nothing differing
    };
    // What differs, and where it is asked.
    struct Asked {
        const double* z = nullptr;
        Air air;                              // on the reading's day
        double thicker = 1.0, heavier = 1.0;  // the air and all that flies, over what is stated
        double mass = 0.0;
        PoweredCraft powered;
        FlightPlan plan;
    };
    // The first propeller there, from which fuel, heads and noise of all are reckoned.
    struct First {
        Flight cruise, climb;
        ReadingFlight head_then;
        double louder = 0.0;  // beside the climb than it is given, dB
    };

    void ask(const std::vector<FieldReading>& readings);
    Subject& subject_of(std::size_t propeller);
    void make(Subject& subject) const;
    void make_flying(Subject& subject) const;
    void hear(Subject& subject) const;
    [[nodiscard]] Asked asked(const Air& day, std::optional<double> mass, const double* z) const;
    [[nodiscard]] PropellerAt drawn_of(const Subject& subject, const double* z) const;
    // Settles the fuel line as well, where fuel was read with it.
    [[nodiscard]] std::optional<First> first_of(Asked& asked) const;
    [[nodiscard]] Answers answers(const Subject& subject, const Asked& asked,
                                  const std::optional<First>& first) const;
    void answer_first(Answers& a, const Subject& subject, const Asked& asked, const First& first,
                      const Flight& cruise, const Flight& climb) const;
    [[nodiscard]] double louder(const Subject& subject, const Flight& climb, const double* z) const;
    [[nodiscard]] double start_at(const Rotor& rotor, double airspeed) const;
    [[nodiscard]] bool any(bool Subject::*flag) const;

    const Scenario* scenario_;
    const std::vector<FieldReading>* readings_;
    Engine engine_;  // at full throttle
    Air field_;
    FuelModel fuel_;
    FlightDimensions flight_;
    std::vector<Subject> subjects_;  // the first propeller first, where others are reckoned from it
    bool from_first_ = false;        // they are
    std::vector<std::size_t> subject_;  // of each reading
    std::vector<double> plain_;         // each reading on its own day, nothing differing
};

}  // namespace loadline
