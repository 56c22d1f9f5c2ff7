// loadline blade: does this blade work, and will it hold?

#include "cli/drawing.hpp"
#include "cli/file.hpp"
#include "cli/output.hpp"
#include "cli/page.hpp"
#include "cli/table.hpp"
#include "loadline/case/text.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/study/blade_study.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/study/measured_blade.hpp"
#include "loadline/words/blade_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace loadline::cli {
namespace {

constexpr double greatest_speed = 200.0;  // m/s
constexpr std::size_t most_changes = 6;   // in text
constexpr double full_turn = 2.0 * std::numbers::pi;

struct BladeRequest : CaseRequest {
    Text at{*this, {"--at", "WHERE", "static (else), climb or cruise"}};
    Text speed{*this, {"--speed", "SPEED", "With --rpm: airspeed at the propeller"}};
    Switch worksheet{*this, {"--worksheet", "", "What ruler and level should find"}};
    Text svg{*this, {"--svg", "FILE", "With --worksheet: drawings to scale, A4"}};
    Switch force{*this, {"--force", "", "Replace drawings that are there"}};
    Text measured{*this,
                  {"--measured", "FILE", "A measured blade: CSV radius_mm,chord_mm,level_deg"}};
    Text propeller{*this, propeller_option};
    Text page{*this, page_option};
    Text rpm{*this, rpm_option};
};

struct Answer {
    Case from;
    const Propeller* propeller = nullptr;
    std::optional<Rotor> rotor;
    BladeSetting setting;
    std::optional<BladeStudy> study;
    std::optional<MeasuredBlade> measured;
    std::string why_not;
    std::vector<std::string> notes;
};

const char* word_of(FlightPhase phase) {
    switch (phase) {
        case FlightPhase::standing:
            return "static";
        case FlightPhase::climb:
            return "climb";
        case FlightPhase::cruise:
            return "cruise";
        case FlightPhase::stated:
            break;
    }
    return "stated";
}

FlightPhase phase_of(const BladeRequest& request) {
    if (!request.at || *request.at == "static") {
        return FlightPhase::standing;
    }
    if (*request.at == "climb") {
        return FlightPhase::climb;
    }
    if (*request.at == "cruise") {
        return FlightPhase::cruise;
    }
    throw UsageError(fmt::format("--at: \"{}\" is not known", quotable(*request.at)),
                     "write static, climb or cruise");
}

double speed_of(const BladeRequest& request) {
    if (!request.speed) {
        return 0.0;
    }
    try {
        const double speed = parse_quantity(*request.speed, Dimension::speed);
        if (speed >= 0.0 && speed <= greatest_speed) {
            return speed;
        }
    } catch (const QuantityError& error) {
        throw UsageError(fmt::format("--speed: {}", error.what()), error.remedy);
    }
    throw UsageError("--speed: out of range", fmt::format("write 0 to {} m/s", greatest_speed));
}

void check_options(const BladeRequest& request) {
    if (request.units() == Units::imperial) {
        throw UsageError("blade writes millimetres and newtons only",
                         "leave --units out: a case in inches is read all the same");
    }
    if (request.at && request.rpm) {
        throw UsageError("--at and --rpm both say where to look", "keep one of them");
    }
    if (request.speed && !request.rpm) {
        throw UsageError("--speed stands here without --rpm",
                         "add --rpm, the rotation that goes with it");
    }
    if (request.svg && !request.worksheet) {
        throw UsageError("--svg stands here without --worksheet", "add --worksheet");
    }
    if (request.svg && request.svg->empty()) {
        throw UsageError("--svg: the file name is empty", "name a file, such as blade.svg");
    }
    if (request.worksheet && request.measured) {
        throw UsageError("--worksheet and --measured together",
                         "print the sheet first, and compare what was measured in a second run");
    }
    if (request.force && !request.svg) {
        throw UsageError("--force stands here without --svg", "leave it out");
    }
    static_cast<void>(phase_of(request));
    static_cast<void>(speed_of(request));
}

// The case, the propeller and everything around it, nothing computed yet. In place: the setting
// points into it.
void prepare(Answer& a, const BladeRequest& request) {
    check_options(request);
    a.from = case_of(request);
    a.propeller = chosen_propellers(a.from, request.propeller).front();
    a.rotor.emplace(rotor_of(a.from, *a.propeller));
    a.setting = blade_setting(a.from, *a.propeller, *a.rotor);
    if (!request.propeller && a.from.propellers.size() > 1) {
        a.notes.emplace_back(first_taken_note());
    }
    if (a.propeller->description.stations.size() > most_stations_shown) {
        a.notes.push_back(stations_note(a.propeller->description.stations.size()));
    }
    Case alone = a.from;
    alone.engine.reset();
    alone.notes.clear();
    for (std::string& line : case_notes(alone, {a.propeller}, request.units())) {
        a.notes.push_back(std::move(line));
    }
}

void look(Answer& a, const BladeRequest& request) {
    BladeCondition condition;
    if (request.rpm) {
        condition = {FlightPhase::stated, {speed_of(request), rotation_of(*request.rpm)}, 0.0};
        condition.airspeed = condition.point.airspeed;
    } else {
        const ConditionFound found = find_condition(a.setting, phase_of(request));
        if (const std::string assumed = assumed_of(found); !assumed.empty()) {
            a.notes.push_back(assumed);
        }
        if (!found.condition) {
            a.why_not = why_not(found);
            return;
        }
        condition = *found.condition;
    }
    a.study = study_blade(a.setting, condition);
    if (a.study->now.status != RotorStatus::converged) {
        a.why_not = sentence(a.study->warnings.front());
        a.study.reset();
        return;
    }
    if (request.measured) {
        BladeCondition standing = condition;
        standing.point.airspeed = standing.airspeed = 0.0;
        if (a.setting.engine && a.setting.drive) {
            if (const auto found = find_condition(a.setting, FlightPhase::standing).condition) {
                standing = *found;
            }
        }
        const std::vector<MeasuredStation> measured = read_measured_blade(*request.measured);
        if (const auto fault = measured_fault(a.rotor->blade(), measured)) {
            throw std::invalid_argument(sentence(*fault, a.rotor->blade()));
        }
        a.measured = compare_with_plan(a.setting, standing, measured);
    }
}

double degrees(double rad) {
    return in_unit(rad, "deg");
}

// ---- JSON

class Writer {
public:
    explicit Writer(std::vector<std::string>& warnings) : warnings_(warnings) {}

    Json number(double value, std::string_view key) const {
        return finite_or_null(value, key, warnings_);
    }
    Json number(const std::optional<double>& value, std::string_view key) const {
        return value ? number(*value, key) : Json(nullptr);
    }
    void put(Json& json, const char* key, double value) const { json[key] = number(value, key); }
    void put(Json& json, const char* key, const std::optional<double>& value) const {
        json[key] = number(value, key);
    }

private:
    std::vector<std::string>& warnings_;
};

Json condition_json(const Answer& a, const Writer& w) {
    const BladeStudy& s = *a.study;
    Json json;
    json["at"] = word_of(s.condition.phase);
    w.put(json, "propeller_rpm", in_unit(s.condition.point.rotation, "rpm"));
    if (a.setting.drive) {
        w.put(json, "engine_rpm",
              in_unit(s.condition.point.rotation * a.setting.drive->ratio, "rpm"));
    }
    w.put(json, "airspeed_m_s", s.condition.airspeed);
    w.put(json, "airspeed_at_propeller_m_s", s.condition.point.airspeed);
    w.put(json, "density_kg_m3", a.setting.air.density);
    w.put(json, "thrust_n", s.now.thrust);
    w.put(json, "torque_nm", s.now.torque);
    w.put(json, "power_w", s.now.power);
    w.put(json, "efficiency", s.now.efficiency);
    w.put(json, "figure_of_merit", s.now.figure_of_merit);
    w.put(json, "tip_mach", s.now.tip_mach);
    w.put(json, "stalled_share", s.now.stalled_share);
    return json;
}

Json stations_json(const BladeStudy& s, const Writer& w) {
    Json list = Json::array();
    for (const BladeRow& r : s.rows) {
        Json json;
        w.put(json, "radius_m", r.radius);
        w.put(json, "chord_m", r.chord);
        w.put(json, "angle_deg", degrees(r.angle));
        w.put(json, "thickness_m", r.thickness);
        w.put(json, "reynolds", r.reynolds);
        w.put(json, "mach", r.mach);
        w.put(json, "inflow_angle_deg", degrees(r.inflow_angle));
        w.put(json, "alpha_deg", degrees(r.alpha));
        w.put(json, "cl", r.cl);
        w.put(json, "cd", r.cd);
        w.put(json, "lift_to_drag", r.lift_to_drag);
        w.put(json, "stall_margin_deg", degrees(r.stall_margin));
        w.put(json, "circulation_m2_s", r.circulation);
        w.put(json, "thrust_per_radius_n_m", r.thrust_per_radius);
        w.put(json, "torque_per_radius_n", r.torque_per_radius);
        w.put(json, "thrust_share", r.thrust_share);
        w.put(json, "lost_power_share", r.lost_share);
        w.put(json, "best_chord_m", r.best_chord);
        w.put(json, "best_angle_deg",
              r.best_angle ? std::optional(degrees(*r.best_angle)) : std::nullopt);
        w.put(json, "stress_pa", r.stress[BladeStrength::here]);
        w.put(json, "stress_at_limit_pa", r.stress[BladeStrength::at_limit]);
        w.put(json, "stress_over_limit_pa", r.stress[BladeStrength::over_limit]);
        list.push_back(std::move(json));
    }
    return list;
}

Json power_json(const BladeStudy& s, const Writer& w) {
    const PowerParts& p = s.power.total;
    Json json;
    w.put(json, "useful_w", p.useful);
    w.put(json, "axial_w", p.axial);
    w.put(json, "swirl_w", p.swirl);
    w.put(json, "profile_drag_w", p.profile);
    w.put(json, "tip_loss_w", p.tip);
    w.put(json, "shaft_w", s.now.power);
    return json;
}

Json bound_json(const BladeStudy& s, const Writer& w) {
    if (!s.bound) {
        return {{"why_not", why_no_bound(s)}};
    }
    const BladeBound& b = *s.bound;
    Json json;
    w.put(json, "of_best", b.of_best);
    w.put(json, "of_best_without_drag", b.of_drag_free);
    w.put(json, "least_power_w", b.least_power);
    w.put(json, "least_power_without_drag_w", b.drag_free_power);
    if (b.best) {
        w.put(json, "best_chords_power_w", b.best->best.power);
        json["best_chords_section"] = b.best_section;
    }
    return json;
}

Json changes_json(const BladeStudy& s, const Writer& w) {
    Json list = Json::array();
    if (!s.guidance) {
        return list;
    }
    const auto common = [&](const char* what, double saving) {
        Json json;
        json["what"] = what;
        w.put(json, "saving_w", saving);
        return json;
    };
    const WholeBladeChange& t = s.guidance->turned;
    Json whole = common("whole blade angle", t.saving);
    w.put(whole, "change_deg", degrees(t.change));
    w.put(whole, "propeller_rpm", in_unit(t.rotation, "rpm"));
    bool listed = false;
    for (const StationChange& c : s.guidance->changes) {
        if (!listed && t.saving >= c.saving) {
            list.push_back(whole);
            listed = true;
        }
        const bool angle = c.what == BladeChange::angle;
        Json json = common(angle ? "angle" : "chord", c.saving);
        w.put(json, "radius_m", c.radius);
        if (angle) {
            w.put(json, "change_deg", degrees(c.change));
        } else {
            w.put(json, "change_m", c.change);
        }
        list.push_back(std::move(json));
    }
    if (!listed) {
        list.push_back(whole);
    }
    return list;
}

Json flapping_json(const BladeFlapping& f, const Writer& w) {
    Json json;
    for (std::size_t i = 0; i < f.at_limit.modes.size(); ++i) {
        const FlappingMode& mode = f.at_limit.modes[i];
        Json one;
        w.put(one, "standing_hz", mode.standing / full_turn);
        w.put(one, "at_limit_hz", mode.frequency / full_turn);
        w.put(one, "per_turn_at_limit", mode.per_turn);
        json["modes"].push_back(std::move(one));
    }
    json["orders"] = Json::array();
    for (const FlappingOrder& order : f.orders) {
        Json one;
        w.put(one, "per_turn", order.per_turn);
        one["engine_turn"] = order.engine;
        w.put(one, "off_at_limit", order.off);
        w.put(one, "meets_at_propeller_rpm",
              order.meets ? std::optional(in_unit(*order.meets, "rpm")) : std::nullopt);
        one["in_running_range"] = order.in_range;
        json["orders"].push_back(std::move(one));
    }
    return json;
}

Json loads_json(const BladeStudy& s, const Writer& w) {
    const BladeStrength& t = s.strength;
    Json json;
    json["material"] = t.material.name;
    json["material_stated"] = t.material_stated;
    w.put(json, "working_stress_pa", t.working_stress);
    json["thickness_stated"] = t.thickness_stated;
    w.put(json, "density_kg_m3", t.density);
    w.put(json, "mass_kg", t.inertia.mass);
    w.put(json, "moment_of_inertia_kg_m2", t.inertia.polar);
    json["limit_stated"] = t.limit_stated;
    constexpr std::array<const char*, 3> names = {"here", "at_limit", "over_limit"};
    for (std::size_t k = 0; k < names.size(); ++k) {
        Json one;
        w.put(one, "propeller_rpm", in_unit(t.rotation[k], "rpm"));
        const auto& loads = t.cases[k];
        const auto of = [&](auto value) {
            return loads ? std::optional<double>(value(*loads)) : std::nullopt;
        };
        w.put(one, "root_pull_n", of([](const BladeLoads& l) { return l.root().centrifugal; }));
        w.put(one, "root_thrust_bending_nm",
              of([](const BladeLoads& l) { return l.root().thrust_bending; }));
        w.put(one, "root_torque_bending_nm",
              of([](const BladeLoads& l) { return l.root().torque_bending; }));
        w.put(one, "untwisting_nm", of([](const BladeLoads& l) { return l.root().untwisting; }));
        w.put(one, "greatest_stress_pa", of([](const BladeLoads& l) { return l.greatest_stress; }));
        w.put(one, "greatest_stress_radius_m",
              of([](const BladeLoads& l) { return l.greatest_stress_radius; }));
        w.put(one, "reserve", t.reserve[k]);
        json[names[k]] = std::move(one);
    }
    w.put(json, "bending_left_by_relief", t.bending_left);
    w.put(json, "relieved_reserve_over_limit", t.relieved_reserve);
    w.put(json, "untwist_at_limit_deg",
          t.untwist ? std::optional(degrees(*t.untwist)) : std::nullopt);
    w.put(json, "hub_friction_torque_nm",
          t.clamp ? std::optional(t.clamp->friction_torque) : std::nullopt);
    w.put(json, "mean_torque_nm", t.mean_torque);
    json["flapping"] = s.flapping ? flapping_json(*s.flapping, w) : Json(nullptr);
    return json;
}

Json tolerance_json(const Answer& a, const Writer& w) {
    const BladeStudy& s = *a.study;
    Json json;
    json["faults"] = Json::array();
    for (const ToleranceRow& row : s.tolerance.rows) {
        Json one;
        one["what"] = fault_text(row);
        w.put(one, "propeller_rpm_change",
              in_unit(row.rotation - s.condition.point.rotation, "rpm"));
        w.put(one, "thrust_change_n", row.thrust - s.now.thrust);
        w.put(one, "power_change_w", row.power - s.now.power);
        w.put(one, "force_once_per_turn_n", row.force);
        w.put(one, "couple_once_per_turn_nm", row.couple);
        json["faults"].push_back(std::move(one));
    }
    w.put(json, "usual_balance_force_n", s.tolerance.balance.force);
    w.put(json, "usual_balance_at_tip_kg", s.tolerance.balance.tip_mass);
    return json;
}

Json running_json(const std::optional<Running>& r, const Writer& w) {
    if (!r) {
        return nullptr;
    }
    Json json;
    w.put(json, "propeller_rpm", in_unit(r->rotation, "rpm"));
    w.put(json, "thrust_n", r->thrust);
    w.put(json, "power_w", r->power);
    return json;
}

Json measured_json(const Answer& a, const Writer& w) {
    const MeasuredBlade& m = *a.measured;
    Json json;
    json["stations"] = Json::array();
    for (const SheetDifference& row : m.rows) {
        Json one;
        one["blade"] = row.measured.blade;
        w.put(one, "radius_m", row.measured.radius);
        w.put(one, "chord_difference_m", row.chord);
        w.put(one, "angle_difference_deg", degrees(row.angle));
        w.put(one, "thickness_difference_m", row.thickness);
        json["stations"].push_back(std::move(one));
    }
    w.put(json, "mean_angle_difference_deg", degrees(m.mean_angle));
    w.put(json, "mean_chord_difference", m.mean_chord);
    json["static_as_planned"] = running_json(m.planned, w);
    json["static_as_measured"] = running_json(m.measured, w);
    w.put(json, "couple_once_per_turn_nm", m.couple);
    w.put(json, "force_once_per_turn_n", m.force);
    json["findings"] = measured_findings(m, a.setting);
    return json;
}

std::string as_json(const Answer& a) {
    std::vector<std::string> warnings =
        a.study ? sentences(a.study->warnings) : std::vector{a.why_not};
    warnings.insert(warnings.end(), a.notes.begin(), a.notes.end());
    const Writer w(warnings);
    Json json;
    json["propeller"] = a.propeller->name;
    if (!a.study) {
        json["condition"] = nullptr;
        json["stations"] = Json::array();
        for (const char* key : {"power", "bound"}) {
            json[key] = nullptr;
        }
        json["changes"] = Json::array();
        for (const char* key : {"loads", "tolerance"}) {
            json[key] = nullptr;
        }
        json["warnings"] = warnings;
        return json.document();
    }
    json["answer"] = blade_answer(*a.study, a.rotor->blade().blades());
    if (a.measured) {
        json["measured"] = measured_json(a, w);
    }
    json["condition"] = condition_json(a, w);
    json["stations"] = stations_json(*a.study, w);
    json["power"] = power_json(*a.study, w);
    json["bound"] = bound_json(*a.study, w);
    json["changes"] = changes_json(*a.study, w);
    json["loads"] = loads_json(*a.study, w);
    json["tolerance"] = tolerance_json(a, w);
    json["findings"] = blade_findings(*a.study);
    json["caution"] = blade_caution_text();
    json["warnings"] = warnings;
    return json.document();
}

// ---- text

std::string fixed(double value, int decimals) {
    return plain_number(value, decimals);
}

std::string fixed(const std::optional<double>& value, int decimals, double scale = 1.0) {
    return value ? plain_number(*value * scale, decimals) : "-";
}

std::string signed_number(double value, int decimals) {
    const std::string plain = plain_number(value, decimals);
    const bool nil = plain.find_first_of("123456789") == std::string::npos;
    return nil || plain.starts_with('-') ? plain : "+" + plain;
}

std::string flow_table(const BladeStudy& s) {
    std::vector<std::vector<std::string>> rows;
    for (const BladeRow& r : s.rows) {
        rows.push_back({fixed(100.0 * r.radius, 1), fixed(100.0 * r.chord, 1),
                        fixed(degrees(r.angle), 1), fixed(r.reynolds / 1000.0, 0), fixed(r.mach, 2),
                        fixed(degrees(r.inflow_angle), 1), fixed(degrees(r.alpha), 1),
                        fixed(r.cl, 2), fixed(r.cd, 4), fixed(r.lift_to_drag, 0),
                        r.stall_margin < 0.0 ? "stalled" : fixed(degrees(r.stall_margin), 1)});
    }
    return "What the air does at each station\n" + table({{{"radius"}, "cm"},
                                                          {{"chord"}, "cm"},
                                                          {{"angle"}, "deg"},
                                                          {{"Re/", "1000"}, ""},
                                                          {{"Mach"}, ""},
                                                          {{"inflow"}, "deg"},
                                                          {{"alpha"}, "deg"},
                                                          {{"cl"}, ""},
                                                          {{"cd"}, ""},
                                                          {{"cl/cd"}, ""},
                                                          {{"left to", "stall"}, "deg"}},
                                                         rows);
}

std::string share_table(const BladeStudy& s) {
    std::vector<std::vector<std::string>> rows;
    for (const BladeRow& r : s.rows) {
        rows.push_back({fixed(100.0 * r.radius, 1), fixed(r.circulation, 2),
                        fixed(r.thrust_per_radius, 0), fixed(r.torque_per_radius, 0),
                        fixed(r.thrust_share, 0, 100.0), fixed(r.lost_share, 0, 100.0),
                        fixed(100.0 * r.chord, 1), fixed(r.best_chord, 1, 100.0),
                        fixed(degrees(r.angle), 1),
                        r.best_angle ? fixed(degrees(*r.best_angle), 1) : "-"});
    }
    return "What each station gives and takes, and what the air alone would make of it\n" +
           table({{{"radius"}, "cm"},
                  {{"circu-", "lation"}, "m2/s"},
                  {{"dT/dr"}, "N/m"},
                  {{"dQ/dr"}, "N"},
                  {{"of", "thrust"}, "%"},
                  {{"of lost", "power"}, "%"},
                  {{"chord"}, "cm"},
                  {{"best"}, "cm"},
                  {{"angle"}, "deg"},
                  {{"best"}, "deg"}},
                 rows);
}

std::string power_table(const BladeStudy& s) {
    const PowerParts& p = s.power.total;
    std::vector<std::vector<std::string>> rows;
    const auto row = [&](const char* what, double watts) {
        rows.push_back({what, fixed(watts, 0),
                        s.now.power > 0.0 ? fixed(100.0 * watts / s.now.power, 1) : "-"});
    };
    row("useful: thrust times airspeed", p.useful);
    row(p.useful > 0.0 ? "air thrown back" : "air thrown back (it holds the thrust up)", p.axial);
    row("air turned round", p.swirl);
    row("blade drag", p.profile);
    row("lost round tips and hub", p.tip);
    row("together, at the shaft", s.now.power);
    return "Where the power goes\n" +
           table({{{"where"}, ""}, {{"power"}, "W"}, {{"share"}, "%"}}, rows);
}

std::string changes_table(const BladeStudy& s) {
    if (!s.guidance) {
        return {};
    }
    std::vector<std::vector<std::string>> rows;
    for (const StationChange& c : s.guidance->changes) {
        if (!(c.saving > 0.0) || rows.size() == most_changes) {
            break;
        }
        const bool angle = c.what == BladeChange::angle;
        rows.push_back(
            {fmt::format("{} at {} cm", angle ? "angle" : "chord", fixed(100.0 * c.radius, 1)),
             angle ? signed_number(degrees(c.change), 1) + " deg"
                   : signed_number(1000.0 * c.change, 0) + " mm",
             fixed(c.saving, 0), fixed(100.0 * c.saving / s.now.power, 2)});
    }
    if (rows.empty()) {
        return {};
    }
    return "What to change, most gain first (one at a time, the same thrust kept)\n" +
           table({{{"change"}, ""}, {{"by"}, ""}, {{"saves"}, "W"}, {{"share"}, "%"}}, rows);
}

std::string loads_table(const BladeStudy& s) {
    const BladeStrength& t = s.strength;
    const auto& limit = t.cases[BladeStrength::at_limit];
    std::vector<std::vector<std::string>> rows;
    for (const BladeRow& r : s.rows) {
        const StationLoad* at = nullptr;
        if (limit) {
            const auto found = std::min_element(limit->stations.begin(), limit->stations.end(),
                                                [&](const StationLoad& a, const StationLoad& b) {
                                                    return std::abs(a.radius - r.radius) <
                                                           std::abs(b.radius - r.radius);
                                                });
            at = &*found;
        }
        rows.push_back(
            {fixed(100.0 * r.radius, 1), fixed(1000.0 * r.thickness, 1),
             at ? fixed(at->centrifugal / 1000.0, 2) : "-", at ? fixed(at->flat_bending, 1) : "-",
             at ? fixed(at->edge_bending, 1) : "-", fixed(r.stress[BladeStrength::here], 1, 1e-6),
             fixed(r.stress[BladeStrength::at_limit], 1, 1e-6),
             fixed(r.stress[BladeStrength::over_limit], 1, 1e-6)});
    }
    const auto rpm = [&](BladeStrength::Where k) {
        return fmt::format("{}", whole_rpm(t.rotation[k]));
    };
    std::string out = load_heading(t) + "\n";
    out += table({{{"radius"}, "cm"},
                  {{"thick"}, "mm"},
                  {{"pull at", "limit"}, "kN"},
                  {{"flat", "bending"}, "N m"},
                  {{"edge", "bending"}, "N m"},
                  {{"stress", "here", rpm(BladeStrength::here)}, "MPa"},
                  {{"at limit", rpm(BladeStrength::at_limit)}, "MPa"},
                  {{"at 1.15", rpm(BladeStrength::over_limit)}, "MPa"}},
                 rows);
    for (const std::string& note : load_notes(t)) {
        out += wrapped(note);
    }
    return out;
}

std::string flapping_table(const BladeStudy& s) {
    if (!s.flapping) {
        return {};
    }
    const BladeFlapping& f = *s.flapping;
    std::vector<std::vector<std::string>> rows;
    for (const FlappingOrder& order : f.orders) {
        rows.push_back({fmt::format("{:.4g} a turn{}", order.per_turn,
                                    order.engine ? " (the crank's turn)" : ""),
                        signed_number(100.0 * order.off, 0),
                        order.meets ? fmt::format("{}", whole_rpm(*order.meets)) : "never",
                        order.in_range ? "yes" : "no"});
    }
    return "First flapping against multiples of rotation\n" +
           table({{{"multiple"}, ""},
                  {{"off at", "the limit"}, "%"},
                  {{"meets it at", "propeller"}, "rpm"},
                  {{"while", "running"}, ""}},
                 rows) +
           wrapped(flapping_note(f, s.strength.material));
}

std::string tolerance_table(const Answer& a) {
    const BladeStudy& s = *a.study;
    if (s.tolerance.rows.empty()) {
        return {};
    }
    const bool engine = a.setting.engine && a.setting.drive;
    std::vector<std::vector<std::string>> rows;
    for (const ToleranceRow& row : s.tolerance.rows) {
        const double turns = row.rotation - s.condition.point.rotation;
        rows.push_back({fault_text(row),
                        engine ? signed_number(in_unit(turns * a.setting.drive->ratio, "rpm"), 0)
                               : signed_number(row.power - s.now.power, 0),
                        signed_number(row.thrust - s.now.thrust, 1), fixed(row.force, 0),
                        fixed(row.couple, 1)});
    }
    return "What small faults of making do, the other blades as planned\n" +
           table({{{"fault"}, ""},
                  engine ? Column{{"engine"}, "rpm"} : Column{{"power"}, "W"},
                  {{"thrust"}, "N"},
                  {{"shakes once", "a turn"}, "N"},
                  {{"", "and"}, "N m"}},
                 rows) +
           wrapped(balance_note(s.tolerance));
}

std::string measured_text(const Answer& a) {
    const MeasuredBlade& m = *a.measured;
    std::vector<std::vector<std::string>> rows;
    for (const SheetDifference& row : m.rows) {
        const bool level = row.measured.level.has_value();
        const double plan = level ? *row.plan.level : row.plan.angle;
        rows.push_back({fmt::format("{}", row.measured.blade),
                        fixed(1000.0 * row.measured.radius, 0), fixed(1000.0 * row.plan.chord, 1),
                        fixed(1000.0 * row.measured.chord, 1), signed_number(1000.0 * row.chord, 1),
                        fixed(degrees(plan), 1),
                        fixed(degrees(level ? *row.measured.level : *row.measured.angle), 1),
                        signed_number(degrees(row.angle), 1),
                        row.thickness ? signed_number(1000.0 * *row.thickness, 1) : "-"});
    }
    return listed("The blade as measured, against its plan:", measured_findings(m, a.setting)) +
           "\n" +
           table({{{"blade"}, ""},
                  {{"radius"}, "mm"},
                  {{"chord", "plan"}, "mm"},
                  {{"", "is"}, "mm"},
                  {{"", "off"}, "mm"},
                  {{"angle", "plan"}, "deg"},
                  {{"", "is"}, "deg"},
                  {{"", "off"}, "deg"},
                  {{"thickness", "off"}, "mm"}},
                 rows);
}

std::string heading(const Answer& a) {
    return wrapped(blade_name(a.propeller->name, a.rotor->blade()));
}

std::string as_text(const Answer& a) {
    const BladeStudy& s = *a.study;
    std::string out = heading(a) + "\n";
    for (const std::string& line : blade_answer(s, a.rotor->blade().blades())) {
        out += wrapped(line, "- ");
    }
    if (a.measured) {
        out += "\n" + measured_text(a);
    }
    out += "\n" + listed("What else a builder should know:", blade_findings(s));
    for (const std::string& block :
         {listed("Take note:", sentences(s.warnings)), flow_table(s), share_table(s),
          power_table(s), wrapped(bound_sentence(s)), changes_table(s), loads_table(s),
          flapping_table(s), tolerance_table(a),
          wrapped(day_sentence(a.from, a.setting.air, Units::metric)),
          listed("About the case:", a.notes),
          wrapped(std::string("Caution: ").append(blade_caution_text()))}) {
        out += block.empty() ? "" : "\n" + block;
    }
    return out;
}

// ---- the page

// The blade seen from the front, to scale, root to the left: quarter-chord line straight.
std::string planform_svg(const Blade& blade) {
    constexpr int steps = 60;
    const double length = blade.tip_radius() - blade.root_radius();
    double widest = 0.0;
    std::string front, rear;
    for (int i = 0; i <= steps; ++i) {
        const double r = blade.root_radius() + length * i / steps;
        const double chord = blade.at(r).chord;
        widest = std::max(widest, chord);
        front += fmt::format("{:.1f},{:.1f} ", 1000.0 * r, -250.0 * chord);
        rear = fmt::format("{:.1f},{:.1f} ", 1000.0 * r, 750.0 * chord) + rear;
    }
    return fmt::format(
        "<figure><figcaption>The blade to scale, hub at the left, {:.0f} mm from axis to "
        "tip</figcaption><svg viewBox=\"0 {:.1f} {:.1f} {:.1f}\" width=\"100%\" role=\"img\" "
        "aria-label=\"planform of the blade\"><polygon points=\"{}{}\" fill=\"none\" "
        "stroke=\"currentColor\" stroke-width=\"2\"/><line x1=\"0\" x2=\"{:.1f}\" y1=\"0\" "
        "y2=\"0\" stroke=\"currentColor\" stroke-dasharray=\"12 4 3 4\"/></svg></figure>\n",
        1000.0 * blade.tip_radius(), -260.0 * widest, 1010.0 * blade.tip_radius(), 1030.0 * widest,
        front, rear, 1000.0 * blade.tip_radius());
}

// Lines over radius, one for each of `named`.
using AtStation = double (*)(const StationFlow&);
PageChart over_radius(const BladeStudy& s, const char* title, const char* y,
                      const std::vector<std::pair<const char*, AtStation>>& named) {
    PageChart chart;
    chart.title = title;
    Json series = Json::array();
    std::vector<std::string> said;
    for (const auto& [name, value] : named) {
        Json points = Json::array();
        std::vector<double> values;
        for (const StationFlow& flow : s.now.stations) {
            if (std::isfinite(value(flow))) {
                values.push_back(value(flow));
                points.push_back({{"x", 100.0 * flow.radius}, {"y", values.back()}});
            }
        }
        if (!values.empty()) {
            said.push_back(fmt::format("{} from {:.3g} at the root to {:.3g} at the tip", name,
                                       values.front(), values.back()));
        }
        series.push_back({{"name", name}, {"points", std::move(points)}});
    }
    chart.alternative = fmt::format("{}: {}", title, fmt::join(said, "; "));
    chart.data = {{"kind", "lines"}, {"x", "radius, cm"}, {"y", y}, {"series", std::move(series)}};
    return chart;
}

constexpr double to_degrees = 180.0 / std::numbers::pi;

PageChart power_chart(const PowerParts& parts) {
    PageChart chart;
    chart.title = "Where the power goes";
    const std::pair<const char*, double> rows[] = {{"useful", parts.useful},
                                                   {"air thrown back", parts.axial},
                                                   {"air turned round", parts.swirl},
                                                   {"tips and hub", parts.tip},
                                                   {"blade drag", parts.profile}};
    Json labels = Json::array(), values = Json::array();
    std::vector<std::string> said;
    for (const auto& [name, watts] : rows) {
        labels.push_back(name);
        values.push_back(watts);
        said.push_back(fmt::format("{} {:.0f} W", name, watts));
    }
    chart.alternative = fmt::format("Where the power goes: {}", fmt::join(said, ", "));
    chart.low = true;
    chart.data = {{"kind", "bars"},
                  {"x", "power, W"},
                  {"labels", std::move(labels)},
                  {"series", Json::array({Json{{"name", "power"}, {"values", values}}})}};
    return chart;
}

Page page_of(const Answer& a) {
    const BladeStudy& s = *a.study;
    const Blade& blade = a.rotor->blade();
    Page page;
    page.names = names_of(a.from);
    page.title = blade_name(a.propeller->name, blade);
    page.subtitle = day_sentence(a.from, a.setting.air, Units::metric);
    page.lead = blade_answer(s, blade.blades());
    PageSection shape;
    shape.heading = "The blade";
    shape.markup = planform_svg(blade);
    page.sections.push_back(std::move(shape));
    PageSection pictures;
    pictures.heading = "What the air does";
    pictures.side_by_side = true;
    pictures.charts.push_back(over_radius(s, "Blade angle and inflow", "deg",
                                          {{"blade angle",
                                            [](const StationFlow& f) {
                                                return f.blade_angle * to_degrees;
                                            }},
                                           {"inflow angle", [](const StationFlow& f) {
                                                return f.inflow_angle * to_degrees;
                                            }}}));
    pictures.charts.push_back(over_radius(s, "Angle of attack and where the stall is", "deg",
                                          {{"angle of attack",
                                            [](const StationFlow& f) {
                                                return f.alpha * to_degrees;
                                            }},
                                           {"stall", [](const StationFlow& f) {
                                                return (f.alpha + f.stall_margin) * to_degrees;
                                            }}}));
    pictures.charts.push_back(over_radius(s, "Thrust along the blade", "dT/dr, N/m",
                                          {{"thrust", [](const StationFlow& f) {
                                                return f.thrust_per_radius;
                                            }}}));
    pictures.charts.push_back(power_chart(s.power.total));
    page.sections.push_back(std::move(pictures));
    PageSection findings;
    findings.heading = "What else a builder should know";
    findings.list = blade_findings(s);
    for (const std::string& line : sentences(s.warnings)) {
        findings.list.push_back(line);
    }
    PageTable stations;
    stations.caption = "Each station";
    stations.headings = {"radius, cm",
                         "chord, cm",
                         "angle, deg",
                         "Re/1000",
                         "Mach",
                         "alpha, deg",
                         "cl",
                         "cd",
                         "to the stall, deg",
                         "dT/dr, N/m",
                         "best chord, cm",
                         "best angle, deg"};
    for (const BladeRow& row : s.rows) {
        const auto best = [](const std::optional<double>& v, double scale) {
            return v ? plain_number(*v * scale, 1) : std::string("-");
        };
        stations.rows.push_back(
            {plain_number(100.0 * row.radius, 1), plain_number(100.0 * row.chord, 1),
             plain_number(row.angle * to_degrees, 1), plain_number(row.reynolds / 1000.0, 0),
             plain_number(row.mach, 2), plain_number(row.alpha * to_degrees, 1),
             plain_number(row.cl, 2), plain_number(row.cd, 4),
             row.stall_margin < 0.0 ? "stalled" : plain_number(row.stall_margin * to_degrees, 1),
             plain_number(row.thrust_per_radius, 0), best(row.best_chord, 100.0),
             best(row.best_angle, to_degrees)});
    }
    findings.tables.push_back(std::move(stations));
    page.sections.push_back(std::move(findings));
    page.notes = a.notes;
    page.cautions = std::string("Caution: ").append(blade_caution_text());
    return page;
}

// ---- the worksheet

std::string page_name(const std::string& file, std::size_t page, std::size_t count) {
    if (count == 1) {
        return file;
    }
    const std::filesystem::path path(file);
    const std::string name =
        fmt::format("{}-{}{}", path.stem().string(), page, path.extension().string());
    return (path.parent_path() / name).string();
}

std::vector<std::string> write_pages(const Answer& a, const BladeRequest& request) {
    const std::vector<std::string> pages =
        blade_pages(a.propeller->name, BladeShape(a.rotor->blade(), a.setting.build.fill));
    std::vector<std::string> files;
    for (std::size_t i = 0; i < pages.size(); ++i) {
        files.push_back(page_name(*request.svg, i + 1, pages.size()));
        check_writable(files.back(), "such as blade.svg", request.force);
    }
    for (std::size_t i = 0; i < pages.size(); ++i) {
        write_file(files[i], pages[i], request.force);
    }
    return files;
}

Outcome worksheet(const Answer& a, const BladeRequest& request) {
    const std::vector<SheetRow> sheet = blade_sheet(a.rotor->blade());
    const bool level = std::all_of(sheet.begin(), sheet.end(),
                                   [](const SheetRow& row) { return row.level.has_value(); });
    std::vector<std::string> files;
    if (request.svg) {
        files = write_pages(a, request);
    }
    Outcome outcome;
    if (request.json) {
        std::vector<std::string> warnings = a.notes;
        const Writer w(warnings);
        Json json;
        json["propeller"] = a.propeller->name;
        json["worksheet"] = Json::array();
        for (const SheetRow& row : sheet) {
            Json one;
            w.put(one, "radius_m", row.radius);
            w.put(one, "chord_m", row.chord);
            w.put(one, "level_deg", row.level ? std::optional(degrees(*row.level)) : std::nullopt);
            w.put(one, "angle_deg", degrees(row.angle));
            w.put(one, "thickness_m", row.thickness);
            json["worksheet"].push_back(std::move(one));
        }
        json["files"] = files;
        json["warnings"] = warnings;
        outcome.out = json.document();
        return outcome;
    }
    std::vector<std::vector<std::string>> rows;
    for (const SheetRow& row : sheet) {
        rows.push_back({fixed(1000.0 * row.radius, 0), fixed(1000.0 * row.chord, 1), "_____",
                        row.level ? fixed(degrees(*row.level), 1) : "-", "_____",
                        fixed(degrees(row.angle), 1), fixed(1000.0 * row.thickness, 1), "_____"});
    }
    outcome.out = heading(a) + "\n" +
                  table({{{"radius"}, "mm"},
                         {{"chord", "plan"}, "mm"},
                         {{"", "is"}, "mm"},
                         {{"level", "plan"}, "deg"},
                         {{"", "is"}, "deg"},
                         {{"chord", "line"}, "deg"},
                         {{"thickness", "plan"}, "mm"},
                         {{"", "is"}, "mm"}},
                        rows) +
                  "\n";
    outcome.out += listed("How to measure:", measuring_steps(level));
    outcome.out += "\n" + wrapped(fmt::format("Write it down as CSV and compare it with \"loadline "
                                              "blade {} --measured FILE.csv\":",
                                              *request.case_file));
    outcome.out += fmt::format("radius_mm,chord_mm,{},thickness_mm,blade\n",
                               level ? "level_deg" : "angle_deg");
    for (const std::string& file : files) {
        outcome.out += fmt::format("{}Wrote {}\n", &file == &files.front() ? "\n" : "", file);
    }
    if (const std::string notes = listed("About the case:", a.notes); !notes.empty()) {
        outcome.out += "\n" + notes;
    }
    return outcome;
}

Outcome run(const BladeRequest& request) {
    Answer a;
    prepare(a, request);
    if (request.worksheet) {
        return worksheet(a, request);
    }
    look(a, request);
    Outcome outcome;
    if (!a.study) {
        outcome.status = status_no_answer;
        outcome.err = fmt::format("loadline blade: {}\n", a.why_not);
    }
    if (request.page && a.study && a.study->now.status == RotorStatus::converged) {
        write_page(*request.page, page_of(a));
        outcome.err += fmt::format("loadline blade: wrote {}\n", *request.page);
    }
    outcome.out = request.json ? as_json(a) : a.study ? as_text(a) : "";
    return outcome;
}

}  // namespace

constinit const Command blade_command =
    command<BladeRequest, run>("blade", "Does this blade work, and will it hold?",
                               "loadline blade cases/builder.toml --at climb");

}  // namespace loadline::cli
