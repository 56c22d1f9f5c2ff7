// The text of a blade.

#include "cli/blade.hpp"
#include "cli/output.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/blade_strength_words.hpp"
#include "loadline/words/blade_words.hpp"

#include <fmt/format.h>

namespace loadline::cli {
namespace {

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
    return "Where the power goes\n" + power_sheet(s).text({"where", "power_w", "share"});
}

std::string changes_table(const BladeStudy& s) {
    return has_gains(s) ? std::string(changes_heading()) + "\n" +
                              changes_sheet(s).text({"change", "by", "saving_w", "share"})
                        : std::string();
}

std::string loads_table(const BladeStrength& t, const Sheet& stations) {
    std::string out = load_heading(t) + "\n" + stations.text(load_picks());
    for (const std::string& note : load_notes(t))
        out += wrapped(note);
    return out;
}

std::string needs_table(const BladeAnswer& a, const Sheet& stations) {
    if (a.study->needs.empty())
        return {};
    std::string out = std::string(needs_heading()) + "\n" + stations.text(need_picks());
    for (const std::string& note : needs_notes(*a.study, a.setting.build.fill))
        out += wrapped(note);
    return out;
}

std::string flapping_table(const BladeStudy& s) {
    if (!s.flapping)
        return {};
    return std::string(flapping_heading()) + "\n" +
           order_sheet(*s.flapping)
               .text({"multiple", "off_at_limit", "meets_at_propeller_rpm", "in_running_range"}) +
           wrapped(flapping_note(*s.flapping, s.strength.material));
}

std::string tolerance_table(const BladeAnswer& a) {
    if (a.study->tolerance.rows.empty())
        return {};
    return std::string(faults_heading()) + "\n" + fault_sheet(a).text(fault_picks(a)) +
           wrapped(balance_note(a.study->tolerance));
}

std::string measured_text(const BladeAnswer& a) {
    return listed(std::string(measured_heading()) + ":",
                  measured_findings(*a.measured, a.setting)) +
           "\n" + made_sheet(*a.measured).text(made_picks()) + "\n" +
           measured_sheet(*a.measured).text(measured_picks());
}

}  // namespace

std::string blade_text(const BladeAnswer& a) {
    const BladeStudy& s = *a.study;
    const Sheet stations = station_sheet(s);
    std::string out = blade_heading(a) + "\n" + asked_first(a.unusual);
    for (const std::string& line : blade_answer(s, a.rotor->blade().blades(), Marks::none,
                                                a.measured ? &*a.measured : nullptr))
        out += wrapped(line, "- ");
    if (a.measured)
        out += "\n" + measured_text(a);
    out += "\n" + listed("What else a builder should know:", blade_findings(s));
    for (const std::string& block :
         {listed("Take note:", sentences(s.warnings)), flow_table(stations), share_table(stations),
          power_table(s), wrapped(bound_sentence(s)), changes_table(s),
          loads_table(s.strength, stations), needs_table(a, stations), flapping_table(s),
          tolerance_table(a), wrapped(day_sentence(a.from, a.setting.air, Units::metric)),
          listed("About the case:", a.notes),
          wrapped(std::string("Caution: ").append(blade_caution_text()))})
        out += block.empty() ? "" : "\n" + block;
    return out;
}

}  // namespace loadline::cli
