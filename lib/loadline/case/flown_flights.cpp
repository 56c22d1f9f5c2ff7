// [[flight]]: full-throttle climbs as a pilot wrote them down, or as a log holds them.

#include "loadline/case/detail/flown_flights.hpp"

#include "loadline/case/detail/tables.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/engine/fuel.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

constexpr Range flown_heights = {-500.0, 5000.0, "m"};
constexpr Range flown_times = {5.0, 7200.0, "s"};
constexpr Range engine_speeds = {500.0, 30000.0, "rpm"};
constexpr double slowest_climb = 0.05;   // m/s
constexpr double fastest_climb = 15.0;   // m/s
constexpr double least_block = 20.0;     // m, of climbs found on a log
constexpr double shortest_named = 15.0;  // s, of a climb on a log
constexpr double field_slack = 100.0;    // m: an altimeter's error, a valley beside the field

const char* const climbs_remedy =
    "write the times of the climbs in the order they were flown, such as climbs = [\"62.4 s\", "
    "\"1 min 3 s\"], or with what else was read: {time = \"62.4 s\", rpm = \"7850 rpm\"}";

// A time as a stopwatch shows it; a fault and nothing when it is not one.
std::optional<double> read_time(const Node& node, CaseFaults& faults) {
    if (node.kind != NodeKind::text)
        return read_quantity(node, Dimension::time, "time", flown_times, flown_times.unit, faults);
    double seconds = 0.0;
    try {
        seconds = parse_time(node.text);
    } catch (const QuantityError& error) {
        faults.add(node.place, fmt::format("time: {}", error.what()), error.remedy);
        return std::nullopt;
    }
    if (seconds < flown_times.lowest || seconds > flown_times.highest) {
        faults.add(node.place,
                   fmt::format("time is \"{}\", which is out of range", quotable(node.text)),
                   fmt::format("write {:g} s to {:g} h, such as \"3 min 12 s\"", flown_times.lowest,
                               flown_times.highest / 3600.0));
        return std::nullopt;
    }
    return seconds;
}

// "7850 rpm", or pairs [["100 m", "7900 rpm"], ["250 m", "7850 rpm"]].
std::vector<TachometerReading> read_tachometer(const Node& node, CaseFaults& faults) {
    std::vector<TachometerReading> readings;
    const auto speed = [&](const Node& of) {
        return read_quantity(of, Dimension::rotation, "rpm", engine_speeds, "rpm", faults);
    };
    if (node.kind != NodeKind::list) {
        if (const auto rotation = speed(node))
            readings.push_back({std::nullopt, *rotation});
        return readings;
    }
    const char* const remedy =
        "write rpm = \"7850 rpm\", or with the heights rpm = [[\"100 m\", \"7900 rpm\"], [\"250 "
        "m\", \"7850 rpm\"]]";
    if (node.items.empty() || node.items.size() > most::readings_of_climb) {
        faults.add(node.place, fmt::format("rpm holds {} readings", node.items.size()), remedy);
        return readings;
    }
    for (const Node& pair : node.items) {
        if (pair.kind != NodeKind::list || pair.items.size() != 2) {
            faults.add(pair.place, "a reading of rpm is not a height and a speed", remedy);
            continue;
        }
        const auto height = read_quantity(pair.items[0], Dimension::length, "the height of rpm",
                                          flown_heights, "m", faults);
        if (const auto rotation = speed(pair.items[1]); rotation && height)
            readings.push_back({*height, *rotation});
    }
    return readings;
}

class FlightReader {
public:
    FlightReader(Fields fields, const Scenario& scenario, FlightLogs& logs, CaseFaults& faults)
        : fields_(std::move(fields)), scenario_(scenario), logs_(logs), faults_(faults) {}

    FlownFlight read() {
        read_propeller_name();
        read_date();
        read_day_and_mass();
        read_instruments();
        from_ = fields_.quantity("from", Dimension::length, flown_heights);
        to_ = fields_.quantity("to", Dimension::length, flown_heights);
        flight_.from = from_;
        flight_.to = to_;
        logs_.read(fields_, flight_);
        const Node* const climbs = fields_.find("climbs");
        flight_.search_log = climbs == nullptr && flight_.log != nullptr;
        if (fields_.find("log") == nullptr) {
            fields_.require("climbs",
                            "climbs = [\"62.4 s\", \"1 min 3 s\"], their times, or log = "
                            "\"morning.igc\" to have them found");
        } else if (climbs == nullptr) {
            check_heights_to_find();
        }
        if (climbs != nullptr)
            read_climbs(*climbs);
        fields_.finish();
        return std::move(flight_);
    }

private:
    void read_propeller_name() {
        fields_.require("propeller", "propeller = \"...\", the name of the one that was flown");
        const Node* const node = fields_.find("propeller");
        const auto name = fields_.text("propeller");
        if (!name)
            return;
        flight_.propeller = *name;
        std::vector<std::string> names, in_quotes;
        for (const Propeller& propeller : scenario_.propellers) {
            names.push_back(propeller.name);
            in_quotes.push_back(fmt::format("\"{}\"", quotable(propeller.name)));
        }
        if (names.empty() || std::find(names.begin(), names.end(), *name) != names.end())
            return;
        const auto meant = nearest(*name, names);
        faults_.add(
            node->place, fmt::format("there is no propeller \"{}\" in the case", quotable(*name)),
            meant ? fmt::format("perhaps \"{}\" is meant", quotable(*meant))
                  : fmt::format("write {}, or add it with [[propeller]]", one_of(in_quotes)));
    }

    void read_date() {
        const Node* const node = fields_.find("date");
        if (node != nullptr && node->kind == NodeKind::date) {
            faults_.add(node->place, "date is not a text in quotes",
                        "write it in quotes, such as date = \"2026-05-02\"");
        } else if (node != nullptr) {
            flight_.date = fields_.text("date").value_or("");
        }
    }

    // What the flight leaves out of its day is the case's.
    void read_day_and_mass() {
        flight_.day = scenario_.day;
        flight_.day_assumed = fields_.find("air") == nullptr;
        flight_.temperature_known = scenario_.day.temperature_k.has_value();
        if (auto air = fields_.table("air", "air")) {
            const Place header = air->header();
            const bool elsewhere = air->find("elevation") != nullptr;
            const bool qnh = air->find("qnh") != nullptr;
            const bool humidity = air->find("humidity") != nullptr;
            Day day = read_day(std::move(*air), nullptr);
            flight_.temperature_known = day.temperature_k.has_value();
            if (!elsewhere) {
                day.elevation_m = scenario_.day.elevation_m;
                if (!day.temperature_k)
                    day.temperature_k = scenario_.day.temperature_k;
                flight_.temperature_known = day.temperature_k.has_value();
            }
            day.qnh_pa = qnh ? day.qnh_pa : scenario_.day.qnh_pa;
            day.relative_humidity =
                humidity ? day.relative_humidity : scenario_.day.relative_humidity;
            try {
                static_cast<void>(air_at_field(day));
                flight_.day = day;
            } catch (const std::invalid_argument& error) {
                faults_.add(header, error.what(), "correct the day in air");
            }
        }
        flight_.mass = fields_.quantity("mass", Dimension::mass, {20.0, 5000.0, "kg"});
        const auto filled = fields_.quantity("filled_up", Dimension::volume, {0.05, 500.0, "L"});
        if (!filled)
            return;
        flight_.fuel_filled = *filled * petrol_density;
        const double mass =
            flight_.mass.value_or(scenario_.craft ? scenario_.craft->all_up_mass : 0.0);
        if (mass > 0.0 && *flight_.fuel_filled > 0.5 * mass) {
            faults_.add(
                fields_.place_of("filled_up"),
                fmt::format("{:.0f} kg of fuel is more than half of the {:.0f} kg that flew",
                            *flight_.fuel_filled, mass),
                "write what was filled up after this flight, in L");
        }
    }

    void read_instruments() {
        constexpr std::array readings = {HeightReading::above_field, HeightReading::above_sea,
                                         HeightReading::pressure_altitude,
                                         HeightReading::satellite};
        flight_.reading = readings.at(
            fields_
                .choice("heights", {"above field", "above sea", "pressure altitude", "satellite"})
                .value_or(0));
        ReadingUncertainty& u = flight_.uncertainty;
        if (flight_.reading == HeightReading::satellite)
            u.height = satellite_height_uncertainty;
        u.time =
            fields_.quantity("time_within", Dimension::time, {0.01, 30.0, "s"}).value_or(u.time);
        u.height = fields_.quantity("height_within", Dimension::length, {0.05, 200.0, "m"})
                       .value_or(u.height);
        u.rotation = fields_.quantity("rpm_within", Dimension::rotation, {1.0, 500.0, "rpm"})
                         .value_or(u.rotation);
    }

    void read_climbs(const Node& list) {
        if (list.kind != NodeKind::list || list.items.empty()) {
            faults_.add(list.place, "climbs is not a list of times", climbs_remedy);
            return;
        }
        for (const Node& item : list.items)
            if (!faults_.full())
                read_climb(item);
    }

    // Both heights of climbs that are to be found on a log, or none.
    void check_heights_to_find() {
        const bool written = fields_.find("from") != nullptr || fields_.find("to") != nullptr;
        missing_height(!written || fields_.find("from") != nullptr, "from", fields_.header());
        missing_height(!written || fields_.find("to") != nullptr, "to", fields_.header());
        if (from_ && to_ && !(*to_ >= *from_ + least_block)) {
            faults_.add(fields_.place_of("to"),
                        fmt::format("to is not {:.0f} m or more above from", least_block),
                        "write from as the lower height and to as the upper one");
        }
    }

    // {begin = "10:21:30", end = "10:24:05"}: a climb of the log.
    void read_named_climb(Fields& fields) {
        for (const char* const key : {"begin", "end"})
            fields.require(key, fmt::format("{} = \"10:2{}:00\"", key, key[0] == 'b' ? 1 : 4));
        const Node* const begin = fields.find("begin");
        const Node* const end = fields.find("end");
        NamedClimb climb;
        if (const Node* const node = fields.find("rpm"))
            climb.tachometer = read_tachometer(*node, faults_);
        climb.head = fields.quantity("head", Dimension::temperature, {20.0, 400.0, "degC"});
        const Place place = fields.header();
        fields.finish();
        if (fields_.find("log") == nullptr) {
            faults_.add(place, "a climb named by its time, and no log to find it on",
                        "write log = \"morning.igc\" below [[flight]], or time = \"62.4 s\"");
        }
        const auto from = begin ? logs_.time_on(*begin, "begin", flight_) : std::nullopt;
        const auto to = end ? logs_.time_on(*end, "end", flight_) : std::nullopt;
        if (!from || !to)
            return;
        climb.window = {from.value_or(0.0), to.value_or(0.0)};
        const double time = climb.window.end - climb.window.begin;
        if (time < shortest_named || time > flown_times.highest) {
            faults_.add(place, fmt::format("the climb takes {:.0f} s from begin to end", time),
                        fmt::format("name {:.0f} s to {:g} h of full-throttle climb",
                                    shortest_named, flown_times.highest / 3600.0));
            return;
        }
        flight_.named.push_back(std::move(climb));
    }

    void read_climb(const Node& item) {
        FlownClimb climb;
        std::optional<double> from = from_, to = to_, time;
        if (item.kind == NodeKind::table) {
            Fields fields(item, item.place, "a climb", faults_);
            if (fields.find("begin") != nullptr || fields.find("end") != nullptr)
                return read_named_climb(fields);
            fields.require("time", "time = \"62.4 s\"");
            if (const Node* const node = fields.find("time"))
                time = read_time(*node, faults_);
            if (fields.find("from"))
                from = fields.quantity("from", Dimension::length, flown_heights);
            if (fields.find("to"))
                to = fields.quantity("to", Dimension::length, flown_heights);
            if (const Node* const node = fields.find("rpm"))
                climb.tachometer = read_tachometer(*node, faults_);
            climb.head = fields.quantity("head", Dimension::temperature, {20.0, 400.0, "degC"});
            fields.finish();
            missing_height(fields.find("from") || fields_.find("from"), "from", item.place);
            missing_height(fields.find("to") || fields_.find("to"), "to", item.place);
        } else {
            time = read_time(item, faults_);
            missing_height(fields_.find("from") != nullptr, "from", fields_.header());
            missing_height(fields_.find("to") != nullptr, "to", fields_.header());
        }
        if (!from || !to || !time)
            return;
        climb.from = *from;
        climb.to = *to;
        climb.time = *time;
        if (possible(climb, item.place))
            flight_.climbs.push_back(std::move(climb));
    }

    void missing_height(bool there, const char* key, Place place) {
        if (!there) {
            faults_.add(place, fmt::format("a climb has no {}", key),
                        fmt::format("write {} = \"{} m\" below [[flight]], once for all its climbs",
                                    key, key[0] == 'f' ? 100 : 250));
        }
    }

    // A climb that goes up, no faster and no slower than such craft do.
    bool possible(const FlownClimb& climb, Place place) {
        if (!(climb.to > climb.from)) {
            faults_.add(
                place,
                fmt::format("the climb does not end above its beginning ({:.0f} m to {:.0f} "
                            "m)",
                            climb.from, climb.to),
                "write from as the lower height and to as the upper one");
            return false;
        }
        const bool above_sea = flight_.reading == HeightReading::above_sea ||
                               flight_.reading == HeightReading::satellite;
        if (above_sea && climb.from < flight_.day.elevation_m - field_slack) {
            faults_.add(place,
                        fmt::format("the climb begins at {:.0f} m, below the field at {:.0f} m "
                                    "above the sea",
                                    climb.from, flight_.day.elevation_m),
                        "leave heights out where they are above the field, or correct the "
                        "elevation");
            return false;
        }
        const double rate = (climb.to - climb.from) / climb.time;
        if (rate >= slowest_climb && rate <= fastest_climb)
            return true;
        const double in_minutes = rate / 60.0;
        const bool minutes = in_minutes > 0.3 && in_minutes < 8.0;
        faults_.add(place,
                    fmt::format("{:.0f} m in {:.1f} s is {:.{}f} m/s, which no such craft climbs",
                                climb.to - climb.from, climb.time, rate, rate < 1.0 ? 3 : 1),
                    minutes ? fmt::format("write \"{:g} min\" if minutes were meant, or correct "
                                          "the heights and their unit",
                                          climb.time)
                            : "correct the time, or the heights and their unit");
        return false;
    }

    Fields fields_;
    const Scenario& scenario_;
    FlightLogs& logs_;
    CaseFaults& faults_;
    FlownFlight flight_;
    std::optional<double> from_, to_;
};

}  // namespace

void read_flown_flights(Fields& document, Scenario& scenario, FlightLogs& logs,
                        CaseFaults& faults) {
    const Node* const list = document.find("flight");
    if (list == nullptr)
        return;
    const bool tables = list->kind == NodeKind::list && !list->items.empty() &&
                        std::all_of(list->items.begin(), list->items.end(),
                                    [](const Node& node) { return node.kind == NodeKind::table; });
    if (!tables) {
        faults.add(list->kind == NodeKind::table ? list->place : document.place_of("flight"),
                   "flight is not a list of tables",
                   "begin each flight with [[flight]], in double brackets");
        return;
    }
    std::size_t climbs = 0;
    for (const Node& node : list->items) {
        if (faults.full())
            return;
        scenario.flights.push_back(
            FlightReader(Fields(node, node.place, "[[flight]]", faults), scenario, logs, faults)
                .read());
        climbs += scenario.flights.back().climbs.size() + scenario.flights.back().named.size();
        if (climbs > most::climbs || scenario.flights.size() > most::flights) {
            faults.add(
                node.place, "too many flights in one case",
                fmt::format("give at most {} flights and {} climbs", most::flights, most::climbs));
            return;
        }
    }
}

}  // namespace loadline
