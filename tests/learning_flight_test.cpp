// Learning from fuel, heads and levels read in flight, and from climbs flown.

#include "loadline/scenario/heads.hpp"
#include "loadline/sound/heard.hpp"
#include "loadline/study/bands.hpp"
#include "loadline/uncertainty/band.hpp"

#include "near.hpp"
#include "often.hpp"
#include "world.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <array>
#include <cmath>
#include <map>
#include <random>

using namespace loadline;
using namespace loadline::test;

namespace {

constexpr double celsius = 273.15;

// What gauges would show in a world: each propeller flown once, rotors solved as they are.
class Gauges {
public:
    Gauges(const World& world, const double* z, double thicker)
        : s_(world.scenario), z_(z), flight_{Dimensions::count(s_.propellers.size())} {
        Air air = air_at_field(s_.day);
        air.density *= thicker;
        const FuelModel fuel = fuel_draw(s_, fuel_of(s_), z, flight_);
        const PoweredCraft craft{Wing(*s_.craft, air.density), &*s_.engine, *s_.drive, fuel};
        for (const Propeller& p : s_.propellers) {
            rotors_.push_back(rotor_of(s_, p));
            flown_.push_back(reading_flight(craft, propeller_at(rotors_.back()), air,
                                            s_.craft->all_up_mass, s_.plan,
                                            9000.0 * rpm / s_.drive->ratio));
        }
        fuel_ = fuel;
        air_ = air;
    }

    [[nodiscard]] double fuel(std::size_t which) const {
        const FlightState& s = flown_[which].cruise.state;
        return fuel_flow(fuel_, s.engine_power, s.engine_rotation);
    }
    // `in_climb`, `in_cruise`: what the first's really are.
    [[nodiscard]] HeadPair head(std::size_t which, double in_climb, double in_cruise) const {
        HeadTask task = head_draw(s_, air_, z_, flight_);
        task.in_climb = in_climb;
        task.in_cruise = in_cruise;
        task.then = air_;
        task.fuel = fuel_;
        const auto with = [&](std::size_t i) {
            return FlownWith{&flown_[i].cruise, &flown_[i].climb, rotors_[i].blade().diameter()};
        };
        return heads(task, with(0), with(0), with(which));
    }
    [[nodiscard]] double level(std::size_t which) const {
        const FlightState& s = flown_[which].climb.state;
        const double wake = s_.craft->installation.wake_fraction;
        return *heard(rotors_[which], air_, {s.airspeed * (1.0 - wake), s.rotation}, s_.plan.beside,
                      HeardFrom::beside)
                    .level +
               flight_uncertainty().noise_each *
                   z_[flight_.blade(which, FlightDimensions::noise_each)];
    }

private:
    const Scenario& s_;
    const double* z_;
    FlightDimensions flight_;
    std::vector<Rotor> rotors_;
    std::vector<ReadingFlight> flown_;
    FuelModel fuel_;
    Air air_;
};

Scenario three() {
    Shape coarse, wide;
    coarse.pitch = 0.78;
    wide.tip_chord = 0.055;
    wide.pitch = 0.66;
    return flying({propeller("one"), propeller("other", coarse), propeller("unseen", wide)});
}

}  // namespace

TEST_CASE("fuel, heads and levels of worlds drawn at random: ranges hold the truth") {
    const Scenario told = three();
    std::vector<Blade> shapes;
    std::vector<UncertainBlade> blades;
    for (const Propeller& p : told.propellers)
        shapes.emplace_back(p.description);
    for (const Blade& shape : shapes)
        blades.push_back({&shape, Knowledge::section_known});
    constexpr int worlds = often(60);  // with 100 of them as many are inside
    const FlightDimensions flight{Dimensions::count(3)};
    const std::size_t width = flight.count(3);
    const std::vector<double> z = common_draws(worlds, width, blades);
    std::mt19937 random(29);
    std::normal_distribution<double> normal;
    const UsualReadings usual = usual_readings();
    const std::vector<FieldReading> asked = {
        read(Reads::cruise_fuel, 2, 1.0), read(Reads::climb_head, 2, 1.0),
        read(Reads::cruise_fuel, 1, 1.0), read(Reads::climb_head, 1, 1.0),
        read(Reads::noise_beside, 1, 1.0)};
    std::vector<double> inside(asked.size()), before(asked.size()), after(asked.size());
    for (int k = 0; k < worlds; ++k) {
        const double* const there = &z[static_cast<std::size_t>(k) * width];
        const double thicker = 1.0 + shared_uncertainty().density * there[Dimensions::density];
        const World world = drawn(told, there);
        const Gauges gauges(world, there, thicker);
        const double climb = 182.0 + celsius, cruise = 150.0 + celsius;
        const HeadPair other = gauges.head(1, climb, cruise),
                       unseen = gauges.head(2, climb, cruise);
        const double louder = gauges.level(1) - gauges.level(0);
        Scenario s = told;
        s.plan.cruise_fuel = gauges.fuel(0) * (1.0 + usual.fuel * normal(random));
        s.head.in_climb = climb + usual.head * normal(random);
        s.head.in_cruise = cruise + usual.head * normal(random);
        s.readings = {
            read(Reads::cruise_fuel, 1, gauges.fuel(1) * (1.0 + usual.fuel * normal(random))),
            read(Reads::climb_head, 1, *other.climb + usual.head * normal(random)),
            read(Reads::cruise_head, 1, *other.cruise + usual.head * normal(random)),
            read(Reads::noise_beside, 1, louder + usual.noise * normal(random))};
        const Learnt learnt = learn(s, asked, 200);
        const double truths[] = {gauges.fuel(2), *unseen.climb, gauges.fuel(1), *other.climb,
                                 louder};
        for (std::size_t i = 0; i < asked.size(); ++i) {
            const Predicted& p = *learnt.asked_after[i];
            inside[i] += std::abs(truths[i] - p.value) < nine_in_ten_half * p.uncertainty;
            before[i] += std::pow(learnt.asked_before[i]->value - truths[i], 2);
            after[i] += std::pow(p.value - truths[i], 2);
        }
    }
    const char* const names[] = {"fuel in level flight, unseen [%]", "head in climb, unseen [K]",
                                 "fuel in level flight, read with [%]",
                                 "head in climb, read with [K]", "level beside, read with [dB]"};
    const double scales[] = {100.0 / 7.5e-4, 1.0, 100.0 / 7.5e-4, 1.0, 1.0};
    for (std::size_t i = 0; i < asked.size(); ++i) {
        fmt::print("{}: {:.2f} rms before, {:.2f} after; {:.0f} % inside\n", names[i],
                   scales[i] * std::sqrt(before[i] / worlds),
                   scales[i] * std::sqrt(after[i] / worlds), 100.0 * inside[i] / worlds);
        CHECK(inside[i] >= 0.84 * worlds);
        CHECK(inside[i] <= 0.97 * worlds);
        CHECK(after[i] <= before[i]);
    }
}
