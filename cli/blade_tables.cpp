// The tables of a blade, each said once for its text, its document and its page.

#include "cli/blade.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/blade_strength_words.hpp"
#include "loadline/words/blade_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

constexpr std::size_t most_changes = 6;

// What is worth changing, most gain first.
std::vector<StationChange> gains_of(const BladeStudy& s) {
    std::vector<StationChange> gains;
    if (!s.guidance)
        return gains;
    for (const StationChange& change : s.guidance->changes) {
        if (!(change.saving > 0.0) || gains.size() == most_changes)
            break;
        gains.push_back(change);
    }
    return gains;
}

Style in_thousands() {
    return {"", 0,
            [](double value) {
                return value / 1000.0;
            }};
}

Style in_megapascals() {
    return {"MPa", 1,
            [](double pa) {
                return pa * 1e-6;
            }};
}

Style in_kilonewtons() {
    return {"kN", 2,
            [](double n) {
                return n / 1000.0;
            }};
}

// What the blade carries at the limit nearest to a radius.
const StationLoad* load_near(const BladeStrength& strength, double radius) {
    const auto& limit = strength.cases[BladeStrength::at_limit];
    if (!limit)
        return nullptr;
    return &*std::min_element(limit->stations.begin(), limit->stations.end(),
                              [&](const StationLoad& a, const StationLoad& b) {
                                  return std::abs(a.radius - radius) < std::abs(b.radius - radius);
                              });
}

using StationField = Field<BladeRow>;

StationField load_field(const BladeStrength& strength, SheetColumn column,
                        double StationLoad::*load) {
    column.in_document = false;
    return {std::move(column), [&strength, load](const BladeRow& row) {
                const StationLoad* const at = load_near(strength, row.radius);
                return at != nullptr ? Cell(at->*load) : Cell();
            }};
}

StationField stress_field(const BladeStrength& strength, BladeStrength::Where where,
                          const char* key, std::vector<std::string> heading) {
    heading.push_back(fmt::format("{}", whole_rpm(strength.rotation[where])));
    return {{key, std::move(heading), in_megapascals()}, [where](const BladeRow& row) {
                return Cell(row.stress[where]);
            }};
}

Cell stall_cell(const BladeRow& row) {
    Cell cell(row.stall_margin);
    cell.instead = row.stall_margin < 0.0 ? "stalled" : "";
    return cell;
}

// What the station of a row needs, by its place among the rows.
const ThicknessNeed* need_of(const BladeStudy& study, const BladeRow& row) {
    for (const ThicknessNeed& need : study.needs)
        if (need.radius == row.radius)
            return &need;
    return nullptr;
}

// To plane to: never less than is needed.
Style in_tenths_up() {
    return {"mm", 1,
            [](double m) {
                return 1000.0 * planed_to(m);
            }};
}

StationField need_field(const BladeStudy& study, SheetColumn column,
                        std::optional<NeededThickness> ThicknessNeed::*which) {
    return {std::move(column),
            [&study, which](const BladeRow& row) {
                const ThicknessNeed* const need = need_of(study, row);
                if (need == nullptr || !(need->*which))
                    return Cell();
                const NeededThickness& needed = *(need->*which);
                Cell cell(needed.thickness);
                if (!needed.by_strength)
                    cell.instead = "under " + shown(needed.thickness, in_tenths_up());
                return cell;
            }};
}

// Thickness as drawn, marked where nobody stated it.
StationField drawn_field(const BladeStudy& study) {
    return {{"drawn_thickness", {"drawn"}, in_millimetres(), "", "", false},
            [&study](const BladeRow& row) {
                Cell cell(row.thickness);
                const ThicknessNeed* const need = need_of(study, row);
                if (need != nullptr && !need->stated)
                    cell.instead = shown(row.thickness, in_millimetres()) + " guessed";
                return cell;
            }};
}

}  // namespace

Sheet station_sheet(const BladeStudy& study) {
    const BladeStrength& t = study.strength;
    std::vector<StationField> fields = {
        {{"radius_m", {"radius"}, in_centimetres()}, &BladeRow::radius},
        {{"chord_m", {"chord"}, in_centimetres()}, &BladeRow::chord},
        {{"angle_deg", {"angle"}, in_degrees(), "deg"}, &BladeRow::angle},
        {{"thickness_m", {"thick"}, in_millimetres()}, &BladeRow::thickness},
        {{"reynolds", {"Re/", "1000"}, in_thousands(), "", "Re/1000"}, &BladeRow::reynolds},
        {{"mach", {"Mach"}, plain("", 2)}, &BladeRow::mach},
        {{"inflow_angle_deg", {"inflow"}, in_degrees(), "deg"}, &BladeRow::inflow_angle},
        {{"alpha_deg", {"alpha"}, in_degrees(), "deg"}, &BladeRow::alpha},
        {{"cl", {"cl"}, plain("", 2)}, &BladeRow::cl},
        {{"cd", {"cd"}, plain("", 4)}, &BladeRow::cd},
        {{"lift_to_drag", {"cl/cd"}, plain("", 0)}, &BladeRow::lift_to_drag},
        {{"stall_margin_deg", {"left to", "stall"}, in_degrees(), "deg", "to the stall"},
         stall_cell},
        {{"circulation_m2_s", {"circu-", "lation"}, plain("m2/s", 2)}, &BladeRow::circulation},
        {{"thrust_per_radius_n_m", {"dT/dr"}, plain("N/m", 0)}, &BladeRow::thrust_per_radius},
        {{"torque_per_radius_n", {"dQ/dr"}, plain("N", 0)}, &BladeRow::torque_per_radius},
        {{"thrust_share", {"of", "thrust"}, in_percent()}, &BladeRow::thrust_share},
        {{"lost_power_share", {"of lost", "power"}, in_percent()}, &BladeRow::lost_share},
        {{"best_chord_m", {"best"}, in_centimetres(), "", "best chord"}, &BladeRow::best_chord},
        {{"best_angle_deg", {"best"}, in_degrees(), "deg", "best angle"}, &BladeRow::best_angle},
        stress_field(t, BladeStrength::here, "stress_pa", {"stress", "here"}),
        stress_field(t, BladeStrength::at_limit, "stress_at_limit_pa", {"at limit"}),
        stress_field(t, BladeStrength::over_limit, "stress_over_limit_pa", {"at 1.15"}),
        load_field(t, {"pull_n", {"pull at", "limit"}, in_kilonewtons()},
                   &StationLoad::centrifugal),
        load_field(t, {"flat_bending_nm", {"flat", "bending"}, plain("N m", 1)},
                   &StationLoad::flat_bending),
        load_field(t, {"edge_bending_nm", {"edge", "bending"}, plain("N m", 1)},
                   &StationLoad::edge_bending),
        drawn_field(study),
        need_field(study, {"needed_thickness_m", {"just", "holds"}, in_tenths_up()},
                   &ThicknessNeed::holds),
        need_field(study,
                   {"thickness_with_room_m",
                    {"reserve", fmt::format("of {:g}", good_reserve)},
                    in_tenths_up()},
                   &ThicknessNeed::with_room)};
    return {fields, study.rows};
}

std::vector<PowerShare> power_shares(const BladeStudy& study) {
    const PowerParts& p = study.power.total;
    return {
        {"useful_w", "useful: thrust times airspeed", p.useful},
        {"axial_w", p.useful > 0.0 ? "air thrown back" : "air thrown back (it holds the thrust up)",
         p.axial},
        {"swirl_w", "air turned round", p.swirl},
        {"profile_drag_w", "blade drag", p.profile},
        {"tip_loss_w", "lost round tips and hub", p.tip},
        {"shaft_w", "together, at the shaft", study.now.power}};
}

Sheet power_sheet(const BladeStudy& s) {
    const std::vector<Field<PowerShare>> fields = {
        {{"where", {"where"}}, &PowerShare::words},
        {{"power_w", {"power"}, plain("W", 0)}, &PowerShare::watts},
        {{"share", {"share"}, in_percent(1)}, [&](const PowerShare& share) {
             return s.now.power > 0.0 ? Cell(share.watts / s.now.power) : Cell();
         }}};
    return {fields, power_shares(s)};
}

bool has_gains(const BladeStudy& s) {
    return !gains_of(s).empty();
}

Sheet changes_sheet(const BladeStudy& s) {
    const auto turns = [](const StationChange& c) {
        return c.what == BladeChange::angle;
    };
    const std::vector<Field<StationChange>> fields = {
        {{"change", {"change"}},
         [&](const StationChange& c) {
             return Cell(fmt::format("{} at {} cm", turns(c) ? "angle" : "chord",
                                     shown(c.radius, in_centimetres())));
         }},
        {{"by", {"by"}},
         [&](const StationChange& c) {
             const Style style = with_sign(turns(c) ? in_degrees() : in_millimetres(0));
             return Cell(fmt::format("{} {}", shown(c.change, style), style.unit));
         }},
        {{"saving_w", {"saves"}, plain("W", 0)}, &StationChange::saving},
        {{"share", {"share"}, plain("%", 2)}, [&](const StationChange& c) {
             return 100.0 * c.saving / s.now.power;
         }}};
    return {fields, gains_of(s)};
}

std::vector<Pick> load_picks() {
    return {"radius_m",           "thickness_m",         "pull_n",
            "flat_bending_nm",    "edge_bending_nm",     "stress_pa",
            "stress_at_limit_pa", "stress_over_limit_pa"};
}

std::vector<Pick> need_picks() {
    return {"radius_m", "chord_m", "drawn_thickness", "needed_thickness_m",
            "thickness_with_room_m"};
}

std::vector<Pick> measured_picks() {
    return {"blade",
            "radius_m",
            "chord_plan",
            "chord",
            "chord_difference_m",
            "angle_plan",
            "angle",
            "angle_difference_deg",
            "thickness_difference_m"};
}

std::vector<Pick> fault_picks(const BladeAnswer& a) {
    const bool engine = a.setting.engine && a.setting.drive;
    return {"what", engine ? "engine" : "power_change_w", "thrust_change_n",
            "force_once_per_turn_n", "couple_once_per_turn_nm"};
}

Sheet fault_sheet(const BladeAnswer& a) {
    const BladeStudy& s = *a.study;
    const double ratio = a.setting.drive ? a.setting.drive->ratio : 1.0;
    const std::vector<Field<ToleranceRow>> fields = {
        {{"what", {"fault"}},
         [](const ToleranceRow& row) {
             return Cell(fault_text(row));
         }},
        {{"propeller_rpm_change", {"propeller"}, with_sign(in_rpm()), "rpm"},
         [&](const ToleranceRow& row) {
             return row.rotation - s.condition.point.rotation;
         }},
        {{"thrust_change_n", {"thrust"}, with_sign(plain("N", 1))},
         [&](const ToleranceRow& row) {
             return row.thrust - s.now.thrust;
         }},
        {{"power_change_w", {"power"}, with_sign(plain("W", 0))},
         [&](const ToleranceRow& row) {
             return row.power - s.now.power;
         }},
        {{"force_once_per_turn_n", {"shakes once", "a turn"}, plain("N", 0)}, &ToleranceRow::force},
        {{"couple_once_per_turn_nm", {"", "and"}, plain("N m", 1), "", "and a couple of"},
         &ToleranceRow::couple},
        {{"engine", {"engine"}, with_sign(in_rpm()), "rpm", "", false},
         [&](const ToleranceRow& row) {
             return (row.rotation - s.condition.point.rotation) * ratio;
         }}};
    return {fields, s.tolerance.rows};
}

Sheet order_sheet(const BladeFlapping& flapping) {
    const std::vector<Field<FlappingOrder>> fields = {
        {{"multiple", {"multiple"}, Style{}, "", "", false},
         [](const FlappingOrder& order) {
             return Cell(fmt::format("{:.4g} a turn{}", order.per_turn,
                                     order.engine ? " (the crank's turn)" : ""));
         }},
        {{"per_turn", {"a turn"}, plain("", 1)}, &FlappingOrder::per_turn},
        {{"engine_turn", {"the crank's"}}, &FlappingOrder::engine},
        {{"off_at_limit", {"off at", "the limit"}, with_sign(in_percent())}, &FlappingOrder::off},
        {{"meets_at_propeller_rpm", {"meets it at", "propeller"}, in_rpm(), "rpm"},
         [](const FlappingOrder& order) {
             Cell cell(order.meets);
             cell.instead = order.meets ? "" : "never";
             return cell;
         }},
        {{"in_running_range", {"while", "running"}}, &FlappingOrder::in_range}};
    return {fields, flapping.orders};
}

Sheet measured_sheet(const MeasuredBlade& measured) {
    using Row = SheetDifference;
    const auto people = [](SheetColumn column) {
        column.in_document = false;
        return column;
    };
    const std::vector<Field<Row>> fields = {
        {{"blade", {"blade"}},
         [](const Row& row) {
             return Cell(row.measured.blade);
         }},
        {{"radius_m", {"radius"}, in_millimetres(0)},
         [](const Row& row) {
             return row.measured.radius;
         }},
        {{"chord_difference_m", {"", "off"}, with_sign(in_millimetres()), "", "chord off"},
         &Row::chord},
        {{"angle_difference_deg", {"", "off"}, with_sign(in_degrees()), "deg", "angle off"},
         &Row::angle},
        {{"thickness_difference_m", {"thickness", "off"}, with_sign(in_millimetres())},
         &Row::thickness},
        {people({"chord_plan", {"chord", "plan"}, in_millimetres()}),
         [](const Row& row) {
             return row.plan.chord;
         }},
        {people({"chord", {"", "is"}, in_millimetres(), "", "chord is"}),
         [](const Row& row) {
             return row.measured.chord;
         }},
        {people({"angle_plan", {"angle", "plan"}, in_degrees()}),
         [](const Row& row) {
             return row.measured.level ? *row.plan.level : row.plan.angle;
         }},
        {people({"angle", {"", "is"}, in_degrees(), "", "angle is"}), [](const Row& row) {
             return row.measured.level ? *row.measured.level : *row.measured.angle;
         }}};
    return {fields, measured.rows};
}

Sheet made_sheet(const MeasuredBlade& measured) {
    using Row = MeasuredOne;
    const Style grams{"g", 0,
                      [](double kg) {
                          return 1000.0 * kg;
                      }};
    const Style gram_centimetres{"g cm", 0,
                                 [](double moment) {
                                     return 1e5 * moment;
                                 }};
    const std::vector<Field<Row>> fields = {
        {{"blade", {"blade"}},
         [](const Row& row) {
             return Cell(row.number);
         }},
        {{"mean_angle_difference_deg", {"angle", "off"}, with_sign(in_degrees()), "deg"},
         &Row::mean_angle},
        {{"mean_chord_difference", {"chord", "off"}, with_sign(in_percent(1))}, &Row::mean_chord},
        {{"mass_kg", {"mass"}, grams}, &Row::mass},
        {{"moment_kg_m", {"moment", "of mass"}, gram_centimetres}, &Row::moment},
        {{"reserve", {"reserve"}, plain("", 2)}, [](const Row& row) {
             return row.reserve ? Cell(told_reserve(*row.reserve)) : Cell();
         }}};
    return {fields, measured.each};
}

std::vector<Pick> made_picks() {
    return {
        "blade",  "mean_angle_difference_deg", "mean_chord_difference", "mass_kg", "moment_kg_m",
        "reserve"};
}

}  // namespace loadline::cli
