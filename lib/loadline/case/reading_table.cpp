// [[reading]]: what was read with one propeller, on one day.

#include "loadline/case/detail/tables.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>

namespace loadline {
namespace {

// A key of [[reading]], and the key of its uncertainty.
struct Key {
    Reads what;
    const char* name;
    Dimension dimension;
    Range range;
    const char* within;
    Range within_range;
};

constexpr Range speeds{300.0, 30000.0, "rpm"}, speed_steps{1.0, 2000.0, "rpm"};
constexpr std::array keys = {
    Key{Reads::static_speed, "static_speed", Dimension::rotation, speeds, "speed_uncertainty",
        speed_steps},
    Key{Reads::static_thrust,
        "static_thrust",
        Dimension::force,
        {5.0, 50000.0, "N"},
        "thrust_uncertainty",
        {0.1, 5000.0, "N"}},
    Key{Reads::climb_speed, "climb_speed", Dimension::rotation, speeds, "speed_uncertainty",
        speed_steps},
    Key{Reads::climb_rate,
        "climb_rate",
        Dimension::speed,
        {0.05, 50.0, "m/s"},
        "rate_uncertainty",
        {0.005, 5.0, "m/s"}},
    Key{Reads::cruise_speed, "cruise_speed", Dimension::rotation, speeds, "speed_uncertainty",
        speed_steps},
};

std::vector<std::string> key_names() {
    std::vector<std::string> names;
    for (const Key& key : keys)
        names.emplace_back(key.name);
    return names;
}

// Which propeller, by its name; the only one needs none.
std::size_t propeller_of(Fields& fields, const Scenario& into, CaseFaults& faults) {
    const auto name = fields.text("propeller");
    if (!name) {
        if (into.propellers.size() > 1)
            fields.require("propeller", "propeller = \"the name of the one it was read with\"");
        return 0;
    }
    std::vector<std::string> names;
    for (const Propeller& p : into.propellers)
        names.push_back(p.name);
    const auto found = std::find(names.begin(), names.end(), *name);
    if (found != names.end())
        return static_cast<std::size_t>(found - names.begin());
    const auto meant = nearest(*name, names);
    faults.add(fields.find("propeller")->place,
               fmt::format("there is no propeller \"{}\"", quotable(*name)),
               meant ? fmt::format("perhaps \"{}\" is meant", *meant)
                     : "write the name of one of the [[propeller]] tables");
    return 0;
}

void read_one(Fields fields, bool craft, Scenario& into, CaseFaults& faults) {
    FieldReading reading;
    reading.propeller = propeller_of(fields, into, faults);
    reading.when = read_reading_day(fields, "air", faults);
    fields.require_one_of(key_names(), fields.header(), "a reading of nothing",
                          "add what was read, such as static_speed = \"8900 rpm\"; also known: " +
                              one_of(key_names()));
    for (const Key& key : keys) {
        const auto within = fields.quantity(key.within, key.dimension, key.within_range);
        const auto value = fields.quantity(key.name, key.dimension, key.range);
        if (!value)
            continue;
        if (is_flown(key.what) && !craft) {
            faults.add(fields.place_of(key.name),
                       fmt::format("{} was read in flight, and the case has no [craft]", key.name),
                       "add [craft] with all_up_mass, trim_speed and glide_ratio");
            continue;
        }
        reading.what = key.what;
        reading.value = *value;
        reading.uncertainty = within;
        into.readings.push_back(reading);
    }
    fields.finish();
}

}  // namespace

void read_readings(Fields& document, Scenario& into, CaseFaults& faults) {
    const Node* const list = document.find("reading");
    if (list == nullptr)
        return;
    const Place place = document.place_of("reading");
    const auto is_table = [](const Node& node) {
        return node.kind == NodeKind::table;
    };
    if (list->kind != NodeKind::list || list->items.empty() ||
        !std::all_of(list->items.begin(), list->items.end(), is_table)) {
        faults.add(place, "reading is not a list of tables",
                   "begin each reading with [[reading]], in double brackets");
        return;
    }
    if (list->items.size() > most::readings) {
        faults.add(list->items[most::readings].place,
                   fmt::format("{} readings", list->items.size()),
                   fmt::format("give at most {} in one case", most::readings));
        return;
    }
    // Tables that are there and faulty have their own faults.
    if (document.find("engine") == nullptr || document.find("drive") == nullptr) {
        faults.add(place, "a reading says nothing without [engine] and [drive]",
                   "add both, or take the readings out");
        return;
    }
    const bool craft = document.find("craft") != nullptr;
    for (const Node& node : list->items)
        read_one(Fields(node, node.place, "[[reading]]", faults), craft, into, faults);
}

}  // namespace loadline
