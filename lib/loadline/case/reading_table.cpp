// [[reading]]: what was read with one propeller, on one day.

#include "loadline/case/detail/tables.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/engine/fuel.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <utility>

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
    Key{Reads::cruise_fuel,
        "cruise_fuel",
        Dimension::volume_flow,
        {0.05, 200.0, "L/h"},
        "fuel_uncertainty",
        {0.005, 50.0, "L/h"}},
    Key{Reads::noise_beside,
        "noise_difference",
        Dimension::level_difference,
        {-30.0, 30.0, "dB"},
        "noise_uncertainty",
        {0.1, 10.0, "dB"}},
};
constexpr Range head_steps{0.5, 50.0, "K"};

std::vector<std::string> key_names() {
    std::vector<std::string> names = {"head_temperature"};
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

// Two readings of one day with one mass.
bool same_day(const ReadingDay& a, const ReadingDay& b) {
    if (a.mass != b.mass || a.day.has_value() != b.day.has_value())
        return false;
    return !a.day ||
           (a.day->elevation_m == b.day->elevation_m &&
            a.day->temperature_k == b.day->temperature_k && a.day->qnh_pa == b.day->qnh_pa &&
            a.day->relative_humidity == b.day->relative_humidity);
}

// Fuel and heads of all propellers are reckoned from what was read with the first, as [cruise] and
// [engine] say it; one that is such is taken so, and not learnt from again.
bool taken_as_given(const FieldReading& reading, Scenario& into) {
    if (reading.propeller != 0)
        return false;
    FlightPlan& plan = into.plan;
    if (reading.what == Reads::cruise_fuel && !plan.cruise_fuel) {
        plan.cruise_fuel = reading.value;
        plan.cruise_read = reading.when;
        if (reading.uncertainty)
            plan.cruise_fuel_uncertainty = *reading.uncertainty / reading.value;
        return true;
    }
    HeadKnowledge& head = into.head;
    if (reading.what != Reads::climb_head && reading.what != Reads::cruise_head)
        return false;
    std::optional<double>& known =
        reading.what == Reads::climb_head ? head.in_climb : head.in_cruise;
    if (known || (head.known() && !same_day(head.read, reading.when)))
        return false;
    if (!head.known())
        head.read = reading.when;
    known = reading.value;
    if (reading.uncertainty)
        head.uncertainty = reading.uncertainty;
    return true;
}

// A reading and where it is written.
struct Written {
    FieldReading reading;
    Place place;
};

class ReadingReader {
public:
    ReadingReader(Fields fields, bool craft, const Scenario& scenario, CaseFaults& faults,
                  std::vector<Written>& read)
        : fields_(std::move(fields)),
          craft_(craft),
          scenario_(scenario),
          faults_(faults),
          read_(read) {}

    void read() {
        reading_.propeller = propeller_of(fields_, scenario_, faults_);
        reading_.when = read_reading_day(fields_, "air", faults_);
        fields_.require_one_of(key_names(), fields_.header(), "a reading of nothing",
                               "add what was read, such as static_speed = \"8900 rpm\"; also "
                               "known: " +
                                   one_of(key_names()));
        for (const Key& key : keys) {
            const auto within = fields_.quantity(key.within, key.dimension, key.within_range);
            const auto value = fields_.quantity(key.name, key.dimension, key.range);
            if (!value)
                continue;
            const double si = key.what == Reads::cruise_fuel ? petrol_density : 1.0;
            add(key.name, key.what, si * *value,
                within ? std::optional(si * *within) : std::nullopt);
        }
        read_heads();
        fields_.finish();
    }

private:
    void read_heads() {
        const auto within =
            fields_.quantity("head_uncertainty", Dimension::temperature_difference, head_steps);
        const Node* const written = fields_.find("head_temperature");
        if (written == nullptr)
            return;
        const auto one = [&](const Node& node) {
            const auto head = head_reading(
                node,
                "write \"185 degC in climb\" or \"150 degC in cruise\", once it no longer rose; or "
                "both, [\"185 degC in climb\", \"150 degC in cruise\"]",
                faults_);
            if (head)
                add("head_temperature", head->in_climb ? Reads::climb_head : Reads::cruise_head,
                    head->kelvin, within);
        };
        if (written->kind == NodeKind::list)
            for (const Node& node : written->items)
                one(node);
        else
            one(*written);
    }

    void add(const char* key, Reads what, double value, std::optional<double> uncertainty) {
        const Place place = fields_.place_of(key);
        if (is_flown(what) && !craft_) {
            faults_.add(place,
                        fmt::format("{} was read in flight, and the case has no [craft]", key),
                        "add [craft] with all_up_mass, trim_speed and glide_ratio");
            return;
        }
        if (what == Reads::noise_beside && reading_.propeller == 0) {
            faults_.add(place,
                        "noise_difference is how much louder than the first propeller, and this "
                        "is the first",
                        "write it with the other propeller, negative where that one is quieter");
            return;
        }
        reading_.what = what;
        reading_.value = value;
        reading_.uncertainty = uncertainty;
        read_.push_back({reading_, place});
    }

    Fields fields_;
    bool craft_;
    const Scenario& scenario_;
    CaseFaults& faults_;
    std::vector<Written>& read_;
    FieldReading reading_;
};

void take(std::vector<Written> all, Scenario& into, CaseFaults& faults) {
    std::erase_if(all, [&](const Written& w) { return taken_as_given(w.reading, into); });
    for (const Written& w : all) {
        const Reads what = w.reading.what;
        if ((what == Reads::climb_head || what == Reads::cruise_head) && !into.head.known()) {
            faults.add(w.place,
                       "a head was read with this propeller, and none with the first: heads are "
                       "reckoned from that",
                       "add head_temperature read with the first propeller");
            continue;
        }
        into.readings.push_back(w.reading);
    }
}

}  // namespace

std::optional<HeadReading> head_reading(const Node& written, const std::string& remedy,
                                        CaseFaults& faults) {
    if (written.kind != NodeKind::text) {
        faults.add(
            written.place,
            fmt::format("head_temperature is {}, not a text in quotes", name_of(written.kind)),
            remedy);
        return std::nullopt;
    }
    const std::size_t in = written.text.find(" in ");
    const std::string_view where = in == std::string::npos
                                       ? std::string_view()
                                       : trimmed(std::string_view(written.text).substr(in + 4));
    if (where != "cruise" && where != "climb") {
        faults.add(written.place,
                   fmt::format("head_temperature = \"{}\" does not say where it was read",
                               quotable(written.text)),
                   remedy);
        return std::nullopt;
    }
    Node node;
    node.kind = NodeKind::text;
    node.place = written.place;
    node.text = written.text.substr(0, in);
    const auto kelvin = read_quantity(node, Dimension::temperature, "head_temperature",
                                      Range{30.0, 400.0, "degC"}, "degC", faults);
    return kelvin ? std::optional(HeadReading{*kelvin, where == "climb"}) : std::nullopt;
}

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
    std::vector<Written> read;
    for (const Node& node : list->items)
        ReadingReader(Fields(node, node.place, "[[reading]]", faults), craft, into, faults, read)
            .read();
    take(std::move(read), into, faults);
}

}  // namespace loadline
