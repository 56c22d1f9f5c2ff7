#include "loadline/case/case.hpp"

#include "loadline/case/detail/flown_flights.hpp"
#include "loadline/case/detail/propeller_reader.hpp"
#include "loadline/case/detail/section_library.hpp"
#include "loadline/case/detail/tables.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace loadline {
namespace {

RotorModel read_model(Fields fields, bool& blades_bend) {
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
    blades_bend = fields.flag("load_twist").value_or(blades_bend);
    fields.finish();
    return model;
}

// The tables of [[propeller]], or null with a fault.
const Node* propeller_list(Fields& document, CaseFor wanted, CaseFaults& faults) {
    const Node* const list = document.find("propeller");
    if (wanted == CaseFor::propellers) {
        document.require_one_of({"propeller"}, {}, "the case has no propeller",
                                document.find("design") != nullptr
                                    ? "add [[propeller]] with name, diameter, blades and stations; "
                                      "loadline design draws one"
                                    : "add [[propeller]] with name, diameter, blades and stations");
    }
    if (!list)
        return nullptr;
    const auto is_table = [](const Node& node) {
        return node.kind == NodeKind::table;
    };
    if (list->kind != NodeKind::list || list->items.empty() ||
        !std::all_of(list->items.begin(), list->items.end(), is_table)) {
        faults.add(is_table(*list) ? list->place : document.place_of("propeller"),
                   "propeller is not a list of tables",
                   "begin each propeller with [[propeller]], in double brackets");
        return nullptr;
    }
    if (list->items.size() > most::propellers) {
        faults.add(list->items[most::propellers].place,
                   fmt::format("{} propellers", list->items.size()),
                   fmt::format("give at most {} in one case", most::propellers));
        return nullptr;
    }
    return list;
}

std::vector<Propeller> read_propellers(Fields& document, CaseFor wanted, SectionLibrary& library,
                                       CaseFaults& faults) {
    const Node* const list = propeller_list(document, wanted, faults);
    if (list == nullptr)
        return {};
    std::vector<Propeller> propellers;
    std::map<std::string, int> line_of;
    for (const Node& node : list->items) {
        Fields fields(node, node.place, "[[propeller]]", faults);
        const Node* const name = fields.find("name");
        propellers.push_back(read_propeller(fields, library, faults));
        if (propellers.back().name.empty())
            continue;
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

// The tables that stand alone, in the order a reader thinks of them.
void read_tables(Fields& fields, Case& result, CaseFaults& faults) {
    if (auto air = fields.table("air", "[air]"))
        result.day = read_air(std::move(*air), result.humidity_given, faults);
    if (auto engine = fields.table("engine", "[engine]"))
        result.engine = read_engine(std::move(*engine), result, faults);
    if (auto drive = fields.table("drive", "[drive]"))
        result.drive = read_drive(std::move(*drive), faults, result.notes);
    if (auto craft = fields.table("craft", "[craft]"))
        result.craft = read_craft(std::move(*craft), result, faults);
    if (auto climb = fields.table("climb", "[climb]"))
        read_climb(std::move(*climb), result.plan, result.day, faults);
    if (auto cruise = fields.table("cruise", "[cruise]"))
        read_cruise(std::move(*cruise), result.plan, result.craft, faults);
    if (auto noise = fields.table("noise", "[noise]"))
        read_noise(std::move(*noise), result.plan);
    if (auto wishes = fields.table("wishes", "[wishes]"))
        result.goals = read_goals(std::move(*wishes), faults);
}

// Leaflets and instruments tell airspeeds as they are at sea level (equivalent airspeed); the
// flight wants the true ones at the field.
void make_airspeeds_true(Case& result) {
    if (result.airspeeds_true || !result.craft)
        return;
    const double faster = std::sqrt(air_at_field(Day{}).density / air_at_field(result.day).density);
    result.true_over_read = faster;
    result.craft->trim_speed *= faster;
    if (result.craft->fast)
        result.craft->fast->airspeed *= faster;
    if (result.plan.cruise_airspeed)
        *result.plan.cruise_airspeed *= faster;
    constexpr double worth_telling = 0.03;
    if (std::abs(faster - 1.0) > worth_telling) {
        result.notes.push_back(fmt::format(
            "airspeeds of the file are taken as an instrument shows them: on this day the true "
            "ones "
            "are {:.0f} % {} (write airspeeds = \"true\" in [craft] where they are true already)",
            100.0 * std::abs(faster - 1.0), faster > 1.0 ? "more" : "less"));
    }
}

}  // namespace

Case parse_case(const std::string& text, const std::filesystem::path& file,
                const SectionFolders& folders, CaseFor wanted) {
    const Node document = parse_tree(checked_text(text, file, "case file", most::case_size), file);
    CaseFaults faults(file);
    Fields fields(document, {}, "the case", faults);
    SectionLibrary library(file, folders, faults);
    Case result;
    result.title = fields.text("title").value_or("");
    read_tables(fields, result, faults);
    result.propellers = read_propellers(fields, wanted, library, faults);
    if (auto design = fields.table("design", "[design]"))
        result.wish = read_wish(std::move(*design), result, library, faults);
    if (wanted == CaseFor::design) {
        if (!result.wish)
            result.wish.emplace();
        take_section(*result.wish, result, library);
    }
    if (auto model = fields.table("model", "[model]"))
        result.model = read_model(std::move(*model), result.blades_bend);
    read_readings(fields, result, faults);
    FlightLogs logs(file, folders, faults, result.notes);
    read_flown_flights(fields, result, logs, faults);
    result.logs = logs.files();
    fields.finish();
    faults.throw_if_any();
    make_airspeeds_true(result);
    return result;
}

Case read_case(const std::filesystem::path& file, const SectionFolders& folders, CaseFor wanted) {
    return parse_case(read_text(file, "case file", most::case_size, Readable::any), file, folders,
                      wanted);
}

}  // namespace loadline
