#include "loadline/case/case.hpp"

#include "loadline/case/fields.hpp"
#include "loadline/case/propeller.hpp"
#include "loadline/case/section_library.hpp"
#include "loadline/case/text.hpp"
#include "loadline/engine/fuel.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

constexpr std::size_t most_propellers = 200;

Day read_day(Fields fields, bool* humidity_given = nullptr) {
    Day day;
    if (humidity_given != nullptr) {
        *humidity_given = fields.find("humidity") != nullptr;
    }
    day.elevation_m =
        fields.quantity("elevation", Dimension::length, {-500.0, 11000.0, "m"}).value_or(0.0);
    day.temperature_k =
        fields.quantity("temperature", Dimension::temperature, {-73.0, 56.0, "degC"});
    day.qnh_pa =
        fields.quantity("qnh", Dimension::pressure, {850.0, 1100.0, "hPa"}).value_or(day.qnh_pa);
    day.relative_humidity =
        fields.quantity("humidity", Dimension::fraction, {0.0, 100.0, "%"}).value_or(0.0);
    fields.finish();
    return day;
}

// "13.2 kW at 8600 rpm": a value and the speed it belongs to.
std::optional<TorquePoint> read_leaflet(Fields& fields, std::string_view key, Dimension dimension,
                                        std::string_view example, Faults& faults) {
    const auto text = fields.text(key);
    if (!text) {
        return std::nullopt;
    }
    const Place place = fields.find(key)->place;
    const std::size_t at = text->find(" at ");
    if (at == std::string::npos) {
        faults.add(place,
                   fmt::format("{} = \"{}\" does not name a {} and the speed it belongs to", key,
                               quotable(*text), name_of(dimension)),
                   fmt::format("write {} = \"{}\"", key, example));
        return std::nullopt;
    }
    const auto part = [&](const std::string& written, Dimension of,
                          Range range) -> std::optional<double> {
        Node node;
        node.kind = NodeKind::text;
        node.place = place;
        node.text = written;
        return read_quantity(node, of, key, range, range.unit, faults);
    };
    const Range range =
        dimension == Dimension::power ? Range{0.01, 1000.0, "kW"} : Range{0.01, 2000.0, "N m"};
    const auto value = part(text->substr(0, at), dimension, range);
    const auto rotation = part(text->substr(at + 4), Dimension::rotation, {500.0, 30000.0, "rpm"});
    if (!value || !rotation) {
        return std::nullopt;
    }
    return TorquePoint{*rotation, dimension == Dimension::power ? *value / *rotation : *value};
}

std::optional<TorquePoint> read_torque_pair(const Node& pair, Faults& faults) {
    if (pair.kind != NodeKind::list || pair.items.size() != 2) {
        faults.add(pair.place, "a point of the torque curve is not a pair",
                   "write [\"3500 rpm\", \"9.1 N m\"]");
        return std::nullopt;
    }
    const auto rotation =
        read_quantity(pair.items[0], Dimension::rotation, "the speed of a torque point",
                      Range{100.0, 30000.0, "rpm"}, "rpm", faults);
    const auto torque = read_quantity(pair.items[1], Dimension::torque, "torque",
                                      Range{0.01, 2000.0, "N m"}, "N m", faults);
    return rotation && torque ? std::optional(TorquePoint{*rotation, *torque}) : std::nullopt;
}

std::vector<TorquePoint> read_torque_table(const Node& list, Faults& faults) {
    std::vector<TorquePoint> table;
    if (list.kind != NodeKind::list) {
        faults.add(list.place, fmt::format("torque is {}, not a list", name_of(list.kind)),
                   "write torque = [[\"3500 rpm\", \"9.1 N m\"], [\"5000 rpm\", \"12 N m\"], ...]");
        return table;
    }
    if (list.items.size() < 2) {
        faults.add(list.place, "the torque curve has fewer than two points",
                   "give at least two, better five or more; or write rated and peak_torque");
    }
    constexpr std::size_t most_points = 10'000;
    if (list.items.size() > most_points) {
        faults.add(list.place, fmt::format("the torque curve has {} points", list.items.size()),
                   fmt::format("give at most {}", most_points));
        return table;
    }
    for (const Node& pair : list.items) {
        const auto point = read_torque_pair(pair, faults);
        if (!point) {
            continue;
        }
        if (!table.empty() && point->rotation <= table.back().rotation) {
            faults.add(pair.place, "this point does not turn faster than the one before it",
                       "list the points by increasing speed, each speed once");
            continue;
        }
        table.push_back(*point);
    }
    return table;
}

void check_leaflet(const EngineDescription& engine, Fields& fields, Faults& faults) {
    if (fields.find("torque") && (fields.find("rated") || fields.find("peak_torque"))) {
        faults.add(fields.place_of(fields.find("rated") ? "rated" : "peak_torque"),
                   "both a torque curve and leaflet figures are given",
                   "keep torque, which says more, and remove rated and peak_torque");
    } else if (fields.find("peak_torque") && !fields.find("rated")) {
        fields.require_one_of(
            {"rated"}, fields.place_of("peak_torque"), "peak_torque is given without rated",
            "add rated = \"13.2 kW at 8600 rpm\", or write a torque curve instead");
    }
    if (!fields.find("peak_torque")) {
        fields.require_one_of(
            {"torque", "rated"}, fields.header(), "[engine] has no torque figures",
            "write torque = [[\"3500 rpm\", \"9.1 N m\"], ...], or the leaflet's rated = "
            "\"13.2 kW at 8600 rpm\" and peak_torque = \"15.5 N m at 7400 rpm\"");
    }
    if (engine.idle && engine.rpm_limit && *engine.idle >= *engine.rpm_limit) {
        faults.add(fields.find("idle")->place, "the idle speed is not below rpm_limit",
                   "write the speed at closed throttle as idle, the maker's limit as rpm_limit");
    }
}

// "165 degC in cruise": a head temperature and where it was read.
void read_head(Fields& fields, HeadKnowledge& head, Faults& faults) {
    head.limit = fields.quantity("head_limit", Dimension::temperature, {50.0, 400.0, "degC"});
    head.fan_cooled = fields.choice("cooling", {"free air", "fan"}).value_or(0) == 1;
    const auto text = fields.text("head_temperature");
    if (!text) {
        return;
    }
    Node node;
    node.kind = NodeKind::text;
    node.place = fields.find("head_temperature")->place;
    const std::size_t in = text->find(" in ");
    const std::string_view where = in == std::string::npos
                                       ? std::string_view()
                                       : trimmed(std::string_view(*text).substr(in + 4));
    if (where != "cruise" && where != "climb") {
        faults.add(node.place,
                   fmt::format("head_temperature = \"{}\" does not say where it was read",
                               quotable(*text)),
                   "write \"165 degC in cruise\" or \"185 degC in climb\", once it no longer rose, "
                   "with the propeller flown now");
        return;
    }
    node.text = text->substr(0, in);
    head.reading = read_quantity(node, Dimension::temperature, "head_temperature",
                                 Range{30.0, 400.0, "degC"}, "degC", faults);
    head.in_climb = where == "climb";
}

// Of [engine], what is no part of its torque.
struct EngineExtras {
    HeadKnowledge* head = nullptr;
    std::optional<double>* consumption = nullptr;
    std::optional<double>* crank_inertia = nullptr;
};

std::optional<Engine> read_engine(Fields fields, const EngineExtras& extras, Faults& faults) {
    const std::size_t faults_before = faults.count();
    EngineDescription engine;
    read_head(fields, *extras.head, faults);
    *extras.consumption =
        fields.quantity("consumption", Dimension::specific_consumption, {150.0, 1500.0, "g/kWh"});
    *extras.crank_inertia =
        fields.quantity("crank_inertia", Dimension::inertia, {1e-6, 10.0, "kg m2"});
    static_cast<void>(fields.text("name"));  // for the reader of the file
    if (const Node* const torque = fields.find("torque")) {
        engine.table = read_torque_table(*torque, faults);
    }
    engine.rated = read_leaflet(fields, "rated", Dimension::power, "13.2 kW at 8600 rpm", faults);
    engine.peak_torque =
        read_leaflet(fields, "peak_torque", Dimension::torque, "15.5 N m at 7400 rpm", faults);
    if (auto measured_at = fields.table("measured_at", "measured_at")) {
        engine.measured_at = read_day(std::move(*measured_at));
    }
    constexpr std::array corrections = {DayCorrection::sae_j1349, DayCorrection::gagg_ferrar,
                                        DayCorrection::none};
    engine.day_correction = corrections.at(
        fields.choice("day_correction", {"sae-j1349", "gagg-ferrar", "none"}).value_or(0));
    engine.rpm_limit = fields.quantity("rpm_limit", Dimension::rotation, {500.0, 30000.0, "rpm"});
    engine.idle = fields.quantity("idle", Dimension::rotation, {100.0, 20000.0, "rpm"});
    engine.throttle =
        fields.quantity("throttle", Dimension::fraction, {1.0, 100.0, "%"}).value_or(1.0);
    check_leaflet(engine, fields, faults);
    fields.finish();
    if (faults.count() > faults_before) {
        return std::nullopt;
    }
    try {
        return Engine(std::move(engine));
    } catch (const std::invalid_argument& error) {
        faults.add(fields.place_of(fields.find("torque") ? "torque" : "rated"), error.what(),
                   "correct the figures of [engine]");
        return std::nullopt;
    }
}

// The ratio of two toothed wheels, driving and driven.
std::optional<double> read_teeth(const Node& node, Faults& faults) {
    constexpr int fewest = 5;
    constexpr int most = 1000;
    const auto is_count = [](const Node& n) {
        return n.kind == NodeKind::integer && n.integer >= fewest && n.integer <= most;
    };
    if (node.kind != NodeKind::list || node.items.size() != 2 || !is_count(node.items[0]) ||
        !is_count(node.items[1])) {
        faults.add(node.place, "teeth is not a pair of counts",
                   fmt::format("write teeth = [20, 64]: driving wheel, then driven, each {} to {}",
                               fewest, most));
        return std::nullopt;
    }
    return node.items[1].number / node.items[0].number;
}

// "3.2:1", as ratios are spoken of: the one number that is meant. Whichever side is larger, a
// reduction is.
std::optional<double> spoken_ratio(std::string_view text) {
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos) {
        return std::nullopt;
    }
    try {
        const double a = parse_quantity(text.substr(0, colon), Dimension::fraction);
        const double b = parse_quantity(text.substr(colon + 1), Dimension::fraction);
        return a > 0.0 && b > 0.0 ? std::optional(std::max(a, b) / std::min(a, b)) : std::nullopt;
    } catch (const QuantityError&) {
        return std::nullopt;
    }
}

std::optional<double> read_ratio(Fields& fields, double lowest, double highest, Faults& faults) {
    const Node* const node = fields.find("ratio");
    if (node != nullptr && node->kind == NodeKind::text) {
        if (const auto spoken = spoken_ratio(node->text)) {
            faults.add(node->place,
                       fmt::format("ratio is \"{}\", not one number", quotable(node->text)),
                       fmt::format("write {:.4g}: engine turns per propeller turn", *spoken));
            return std::nullopt;
        }
    }
    return fields.number("ratio", lowest, highest);
}

// A propeller that turns faster than its engine is possible, but mostly a pair turned round.
std::optional<std::string> stepped_up(const Drive& drive, const Node* teeth) {
    if (drive.ratio >= 1.0) {
        return std::nullopt;
    }
    const std::string written =
        teeth != nullptr ? fmt::format("teeth = [driving, driven]: {} driving {}",
                                       teeth->items.at(0).integer, teeth->items.at(1).integer)
                         : fmt::format("ratio = {:.4g}", drive.ratio);
    return fmt::format("{} makes the propeller turn {:.2g} times faster than the engine", written,
                       1.0 / drive.ratio);
}

std::optional<Drive> read_drive(Fields fields, Faults& faults, std::vector<std::string>& notes) {
    constexpr double lowest = 0.2;
    constexpr double highest = 20.0;
    const std::size_t faults_before = faults.count();
    Drive drive;
    const auto ratio = read_ratio(fields, lowest, highest, faults);
    const Node* const teeth = fields.find("teeth");
    // 1 when the teeth did not read: then a fault was noted.
    const double from_teeth = teeth ? read_teeth(*teeth, faults).value_or(1.0) : 1.0;
    drive.efficiency =
        fields.quantity("efficiency", Dimension::fraction, {50.0, 100.0, "%"}).value_or(1.0);
    if (fields.find("ratio") && teeth) {
        faults.add(fields.place_of("teeth"), "both ratio and teeth are given",
                   "keep one of them: teeth give the ratio");
    } else if (from_teeth < lowest || from_teeth > highest) {
        faults.add(fields.place_of("teeth"),
                   fmt::format("the teeth make a ratio of {:g}", from_teeth),
                   "write driving wheel first, then driven");
    }
    fields.require_one_of({"ratio", "teeth"}, fields.header(), "[drive] has no ratio",
                          "write ratio = 3.2, engine turns per propeller turn (1 without "
                          "reduction), or teeth = [20, 64]");
    fields.finish();
    drive.ratio = teeth ? from_teeth : ratio.value_or(1.0);
    if (faults.count() > faults_before) {
        return std::nullopt;
    }
    if (auto note = stepped_up(drive, teeth)) {
        notes.push_back(*std::move(note));
    }
    return drive;
}

std::optional<Craft> read_craft(Fields fields, Case& into, Faults& faults) {
    const std::size_t faults_before = faults.count();
    fields.require("all_up_mass", "all_up_mass = \"142 kg\", with pilot, fuel and wing");
    fields.require("trim_speed", "trim_speed = \"40 km/h\"");
    fields.require_one_of({"glide_ratio", "sink"}, fields.header(), "[craft] has no glide_ratio",
                          "write glide_ratio = 7.8, engine off, or sink = \"1.4 m/s\" at trim");
    Craft craft;
    craft.all_up_mass =
        fields.quantity("all_up_mass", Dimension::mass, {20.0, 5000.0, "kg"}).value_or(0.0);
    craft.trim_speed =
        fields.quantity("trim_speed", Dimension::speed, {5.0, 400.0, "km/h"}).value_or(0.0);
    craft.glide_ratio = fields.number("glide_ratio", 1.0, 80.0).value_or(0.0);
    const auto sink = fields.quantity("sink", Dimension::speed, {0.05, 20.0, "m/s"});
    if (sink && fields.find("glide_ratio")) {
        faults.add(fields.place_of("sink"), "both glide_ratio and sink are given",
                   "keep one of them: at trim speed each gives the other");
    } else if (sink && craft.trim_speed > 0.0) {
        if (*sink < 0.7 * craft.trim_speed) {
            craft.glide_ratio =
                std::sqrt(craft.trim_speed * craft.trim_speed - *sink * *sink) / *sink;
        } else {
            faults.add(fields.place_of("sink"), "it sinks nearly as fast as it flies",
                       "write the sink at trim speed, engine off");
        }
    }
    const auto fast = fields.quantity("fast_speed", Dimension::speed, {5.0, 400.0, "km/h"});
    const auto fast_glide = fields.number("fast_glide_ratio", 1.0, 80.0);
    if (fields.find("fast_speed") || fields.find("fast_glide_ratio")) {
        fields.require("fast_speed", "fast_speed = \"50 km/h\", bar or trimmers out");
        fields.require("fast_glide_ratio", "fast_glide_ratio = 5.5, at fast_speed");
    }
    if (fast && fast_glide) {
        craft.fast = FastPoint{*fast, *fast_glide};
    }
    craft.added_drag_area =
        fields.quantity("added_drag_area", Dimension::area, {0.0, 20.0, "m2"}).value_or(0.0);
    Installation& installation = craft.installation;
    installation.wake_fraction =
        fields.quantity("wake_fraction", Dimension::fraction, {0.0, 45.0, "%"})
            .value_or(installation.wake_fraction);
    installation.thrust_deduction =
        fields.quantity("thrust_deduction", Dimension::fraction, {0.0, 45.0, "%"})
            .value_or(installation.thrust_deduction);
    into.cage_diameter = fields.quantity("cage_diameter", Dimension::length, {5.0, 2000.0, "cm"});
    if (const auto tank = fields.quantity("fuel", Dimension::volume, {0.1, 500.0, "L"})) {
        into.plan.tank = *tank * petrol_density;
    }
    fields.finish();
    if (faults.count() == faults_before) {
        try {
            // At another density the same figures make the same polar.
            static_cast<void>(Wing(craft, 1.225));
        } catch (const std::invalid_argument& error) {
            faults.add(fields.place_of(craft.fast ? "fast_speed" : "trim_speed"), error.what(),
                       "correct the figures of [craft]");
        }
    }
    return faults.count() > faults_before ? std::nullopt : std::optional(craft);
}

void read_climb(Fields fields, FlightPlan& plan, Faults& faults) {
    plan.climb_from =
        fields.quantity("from", Dimension::length, {0.0, 7900.0, "m"}).value_or(plan.climb_from);
    plan.climb_to = fields.quantity("to", Dimension::length, {1.0, 8000.0, "m"})
                        .value_or(std::min(8000.0, plan.climb_from + 500.0));
    fields.finish();
    if (!(plan.climb_to >= plan.climb_from + 1.0)) {
        faults.add(fields.place_of("to"), "the climb does not end above its beginning",
                   "write heights above the field, from = \"300 m\" and to = \"900 m\"");
        plan = FlightPlan{};
    }
}

void read_cruise(Fields fields, FlightPlan& plan, const std::optional<Craft>& craft,
                 Faults& faults) {
    plan.cruise_airspeed = fields.quantity("airspeed", Dimension::speed, {5.0, 400.0, "km/h"});
    if (const auto fuel = fields.quantity("fuel", Dimension::volume_flow, {0.05, 200.0, "L/h"})) {
        plan.cruise_fuel = *fuel * petrol_density;
    }
    fields.finish();
    if (plan.cruise_airspeed && craft && !craft->fast &&
        std::abs(*plan.cruise_airspeed / craft->trim_speed - 1.0) > 1e-9) {
        faults.add(fields.place_of("airspeed"), "the drag away from trim speed is not known",
                   "add fast_speed and fast_glide_ratio to [craft], or leave airspeed out");
    }
}

void read_noise(Fields fields, FlightPlan& plan) {
    plan.pass_height = fields.quantity("height", Dimension::length, {20.0, 5000.0, "m"})
                           .value_or(plan.pass_height);
    plan.beside =
        fields.quantity("beside", Dimension::length, {10.0, 5000.0, "m"}).value_or(plan.beside);
    fields.finish();
}

Goals read_goals(Fields fields, Faults& faults) {
    Goals goals;
    const std::vector<std::string> words = {"climb", "economy", "quiet", "cool", "quick"};
    constexpr std::array meant = {Goal::climb, Goal::economy, Goal::quiet, Goal::cool, Goal::quick};
    if (const Node* const rank = fields.find("rank")) {
        const std::string remedy =
            "write what matters most first, such as rank = [\"climb\", \"quiet\"]; these would "
            "do: " +
            one_of(words);
        if (rank->kind != NodeKind::list) {
            faults.add(rank->place, fmt::format("rank is {}, not a list", name_of(rank->kind)),
                       remedy);
        } else {
            for (const Node& item : rank->items) {
                const auto found = std::find(words.begin(), words.end(), item.text);
                if (item.kind != NodeKind::text || found == words.end()) {
                    faults.add(item.place,
                               item.kind == NodeKind::text
                                   ? fmt::format("there is no wish \"{}\"", quotable(item.text))
                                   : std::string("a wish is not a text in quotes"),
                               remedy);
                    continue;
                }
                const Goal goal = meant.at(static_cast<std::size_t>(found - words.begin()));
                if (std::find(goals.rank.begin(), goals.rank.end(), goal) != goals.rank.end()) {
                    faults.add(item.place, fmt::format("\"{}\" stands in rank twice", item.text),
                               "name each wish once");
                    continue;
                }
                goals.rank.push_back(goal);
            }
        }
    }
    goals.climb_at_least = fields.quantity("climb_at_least", Dimension::speed, {0.0, 50.0, "m/s"});
    goals.fuel_at_most =
        fields.quantity("fuel_at_most", Dimension::volume_flow, {0.05, 200.0, "L/h"});
    goals.noise_at_most =
        fields.quantity("noise_at_most", Dimension::sound_level, {10.0, 130.0, "dB(A)"});
    goals.head_at_most =
        fields.quantity("head_at_most", Dimension::temperature, {50.0, 400.0, "degC"});
    goals.spool_up_at_most =
        fields.quantity("spool_up_at_most", Dimension::time, {0.05, 60.0, "s"});
    goals.static_rotation =
        fields.quantity("static_speed", Dimension::rotation, {500.0, 30000.0, "rpm"});
    fields.finish();
    return goals;
}

RotorModel read_model(Fields fields) {
    RotorModel model;
    constexpr std::array losses = {TipLoss::goldstein, TipLoss::prandtl, TipLoss::none};
    model.tip_loss =
        losses.at(fields.choice("tip_loss", {"goldstein", "prandtl", "none"}).value_or(0));
    model.hub_loss = fields.flag("hub_loss").value_or(model.hub_loss);
    model.reynolds = fields.flag("reynolds").value_or(model.reynolds);
    model.compressibility = fields.flag("compressibility").value_or(model.compressibility);
    model.stall_delay = fields.flag("stall_delay").value_or(model.stall_delay);
    model.drag_in_induction = fields.flag("drag_in_induction").value_or(model.drag_in_induction);
    model.annuli = fields.whole("annuli", 4, 2000).value_or(model.annuli);
    fields.finish();
    return model;
}

std::vector<Propeller> read_propellers(Fields& document, SectionLibrary& library, Faults& faults) {
    const Node* const list = document.find("propeller");
    document.require_one_of({"propeller"}, {}, "the case has no propeller",
                            "add [[propeller]] with name, diameter, blades and stations");
    if (!list) {
        return {};
    }
    const auto is_table = [](const Node& node) {
        return node.kind == NodeKind::table;
    };
    if (list->kind != NodeKind::list || list->items.empty() ||
        !std::all_of(list->items.begin(), list->items.end(), is_table)) {
        faults.add(is_table(*list) ? list->place : document.place_of("propeller"),
                   "propeller is not a list of tables",
                   "begin each propeller with [[propeller]], in double brackets");
        return {};
    }
    if (list->items.size() > most_propellers) {
        faults.add(list->items[most_propellers].place,
                   fmt::format("{} propellers", list->items.size()),
                   fmt::format("give at most {} in one case", most_propellers));
        return {};
    }
    std::vector<Propeller> propellers;
    std::map<std::string, int> line_of;
    for (const Node& node : list->items) {
        Fields fields(node, node.place, "[[propeller]]", faults);
        const Node* const name = fields.find("name");
        propellers.push_back(read_propeller(fields, library, faults));
        if (propellers.back().name.empty()) {
            continue;
        }
        const auto [first, is_new] = line_of.emplace(propellers.back().name, name->place.line);
        if (!is_new) {
            faults.add(name->place,
                       fmt::format("the name \"{}\" was taken on line {}",
                                   quotable(propellers.back().name), first->second),
                       "give each propeller a name of its own");
        }
    }
    return propellers;
}

}  // namespace

Case parse_case(const std::string& text, const std::filesystem::path& file,
                const SectionFolders& folders) {
    const Node document =
        parse_tree(checked_text(text, file, "case file", greatest_case_size), file);
    Faults faults(file);
    Fields fields(document, {}, "the case", faults);
    SectionLibrary library(file, folders, faults);
    Case result;
    result.title = fields.text("title").value_or("");
    if (auto air = fields.table("air", "[air]")) {
        const Place header = air->header();
        result.day = read_day(std::move(*air), &result.humidity_given);
        try {
            static_cast<void>(air_at_field(result.day));
        } catch (const std::invalid_argument& error) {
            faults.add(header, error.what(), "correct the day in [air]");
        }
    }
    if (auto engine = fields.table("engine", "[engine]")) {
        result.engine = read_engine(
            std::move(*engine), {&result.head, &result.consumption, &result.crank_inertia}, faults);
    }
    if (auto drive = fields.table("drive", "[drive]")) {
        result.drive = read_drive(std::move(*drive), faults, result.notes);
    }
    if (auto craft = fields.table("craft", "[craft]")) {
        result.craft = read_craft(std::move(*craft), result, faults);
    }
    if (auto climb = fields.table("climb", "[climb]")) {
        read_climb(std::move(*climb), result.plan, faults);
    }
    if (auto cruise = fields.table("cruise", "[cruise]")) {
        read_cruise(std::move(*cruise), result.plan, result.craft, faults);
    }
    if (auto noise = fields.table("noise", "[noise]")) {
        read_noise(std::move(*noise), result.plan);
    }
    if (auto wishes = fields.table("wishes", "[wishes]")) {
        result.goals = read_goals(std::move(*wishes), faults);
    }
    result.propellers = read_propellers(fields, library, faults);
    if (auto model = fields.table("model", "[model]")) {
        result.model = read_model(std::move(*model));
    }
    for (const Propeller& propeller : result.propellers) {
        if (result.cage_diameter && propeller.description.diameter > *result.cage_diameter) {
            result.notes.push_back(
                fmt::format("{}: its tip circle of {:.1f} cm does not fit the cage of {:.1f} cm",
                            propeller.name, in_unit(propeller.description.diameter, "cm"),
                            in_unit(*result.cage_diameter, "cm")));
        }
    }
    fields.finish();
    faults.throw_if_any();
    return result;
}

Case read_case(const std::filesystem::path& file, const SectionFolders& folders) {
    return parse_case(read_text(file, "case file", greatest_case_size), file, folders);
}

}  // namespace loadline
