// The text of a blade.

#include "cli/blade.hpp"
#include "cli/output.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/blade_words.hpp"

#include <fmt/format.h>

namespace loadline::cli {
namespace {

constexpr std::size_t most_changes = 6;

std::string flow_table(const Sheet& stations) {
    return "What the air does at each station\n" +
           stations.text({"radius_m", "chord_m", "angle_deg", "reynolds", "mach",
                          "inflow_angle_deg", "alpha_deg", "cl", "cd", "lift_to_drag",
                          "stall_margin_deg"});
}

std::string share_table(const Sheet& stations) {
    return "What each station gives and takes, and what the air alone would make of it\n" +
           stations.text({"radius_m", "circulation_m2_s", "thrust_per_radius_n_m",
                          "torque_per_radius_n", "thrust_share", "lost_power_share", "chord_m",
                          "best_chord_m", "angle_deg", "best_angle_deg"});
}

std::string power_table(const BladeStudy& s) {
    const std::vector<Field<PowerShare>> fields = {
        {{"where", {"where"}}, &PowerShare::words},
        {{"power_w", {"power"}, plain("W", 0)}, &PowerShare::watts},
        {{"share", {"share"}, in_percent(1)}, [&](const PowerShare& share) {
             return s.now.power > 0.0 ? Cell(share.watts / s.now.power) : Cell();
         }}};
    return "Where the power goes\n" +
           Sheet(fields, power_shares(s)).text({"where", "power_w", "share"});
}

std::string changes_table(const BladeStudy& s) {
    if (!s.guidance)
        return {};
    std::vector<StationChange> gains;
    for (const StationChange& change : s.guidance->changes) {
        if (!(change.saving > 0.0) || gains.size() == most_changes)
            break;
        gains.push_back(change);
    }
    if (gains.empty())
        return {};
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
    return "What to change, most gain first (one at a time, the same thrust kept)\n" +
           Sheet(fields, gains).text({"change", "by", "saving_w", "share"});
}

std::string loads_table(const BladeStrength& t, const Sheet& stations) {
    std::string out =
        load_heading(t) + "\n" +
        stations.text({"radius_m", "thickness_m", "pull_n", "flat_bending_nm", "edge_bending_nm",
                       "stress_pa", "stress_at_limit_pa", "stress_over_limit_pa"});
    for (const std::string& note : load_notes(t))
        out += wrapped(note);
    return out;
}

std::string flapping_table(const BladeStudy& s) {
    if (!s.flapping)
        return {};
    return "First flapping against multiples of rotation\n" +
           order_sheet(*s.flapping)
               .text({"multiple", "off_at_limit", "meets_at_propeller_rpm", "in_running_range"}) +
           wrapped(flapping_note(*s.flapping, s.strength.material));
}

std::string tolerance_table(const BladeAnswer& a) {
    if (a.study->tolerance.rows.empty())
        return {};
    const bool engine = a.setting.engine && a.setting.drive;
    return "What small faults of making do, the other blades as planned\n" +
           fault_sheet(a).text({"what", engine ? "engine" : "power_change_w", "thrust_change_n",
                                "force_once_per_turn_n", "couple_once_per_turn_nm"}) +
           wrapped(balance_note(a.study->tolerance));
}

std::string measured_text(const BladeAnswer& a) {
    return listed("The blade as measured, against its plan:",
                  measured_findings(*a.measured, a.setting)) +
           "\n" +
           measured_sheet(*a.measured)
               .text({"blade", "radius_m", "chord_plan", "chord", "chord_difference_m",
                      "angle_plan", "angle", "angle_difference_deg", "thickness_difference_m"});
}

}  // namespace

std::string blade_text(const BladeAnswer& a) {
    const BladeStudy& s = *a.study;
    const Sheet stations = station_sheet(s);
    std::string out = blade_heading(a) + "\n" + asked_first(a.unusual);
    for (const std::string& line : blade_answer(s, a.rotor->blade().blades()))
        out += wrapped(line, "- ");
    if (a.measured)
        out += "\n" + measured_text(a);
    out += "\n" + listed("What else a builder should know:", blade_findings(s));
    for (const std::string& block :
         {listed("Take note:", sentences(s.warnings)), flow_table(stations), share_table(stations),
          power_table(s), wrapped(bound_sentence(s)), changes_table(s),
          loads_table(s.strength, stations), flapping_table(s), tolerance_table(a),
          wrapped(day_sentence(a.from, a.setting.air, Units::metric)),
          listed("About the case:", a.notes),
          wrapped(std::string("Caution: ").append(blade_caution_text()))})
        out += block.empty() ? "" : "\n" + block;
    return out;
}

}  // namespace loadline::cli
