// The document of a blade.

#include "cli/blade.hpp"
#include "cli/output.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/blade_words.hpp"

#include <array>
#include <cmath>
#include <numbers>

namespace loadline::cli {
namespace {

constexpr double full_turn = 2.0 * std::numbers::pi;

const char* key_of(FlightPhase phase) {
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

double degrees(double rad) {
    return in_unit(rad, "deg");
}

Json condition_json(const BladeAnswer& a, const Writer& w) {
    const BladeStudy& s = *a.study;
    Json json;
    json["at"] = key_of(s.condition.phase);
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

Json power_json(const BladeStudy& s, const Writer& w) {
    Json json;
    for (const PowerShare& share : power_shares(s))
        w.put(json, share.key, share.watts);
    return json;
}

Json bound_json(const BladeStudy& s, const Writer& w) {
    if (!s.bound)
        return {{"why_not", why_no_bound(s)}};
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
    if (!s.guidance)
        return list;
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
        if (angle)
            w.put(json, "change_deg", degrees(c.change));
        else
            w.put(json, "change_m", c.change);
        list.push_back(std::move(json));
    }
    if (!listed)
        list.push_back(whole);
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
    json["orders"] = order_sheet(f).document(w.warnings());
    return json;
}

Json load_case_json(const BladeStrength& t, std::size_t k, const Writer& w) {
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
    const auto& blade = t.running[k];
    const auto running = [&](auto value) {
        return blade ? std::optional<double>(value(*blade)) : std::nullopt;
    };
    w.put(one, "greatest_stress_pa",
          running([](const RunningBlade& b) { return b.greatest_stress; }));
    w.put(one, "greatest_stress_radius_m",
          running([](const RunningBlade& b) { return b.greatest_radius; }));
    w.put(one, "running_thrust_n", running([](const RunningBlade& b) { return b.thrust; }));
    w.put(one, "running_torque_nm", running([](const RunningBlade& b) { return b.torque; }));
    w.put(one, "tip_twist_deg",
          running([](const RunningBlade& b) { return degrees(b.places.back().twist); }));
    w.put(one, "tip_forward_m",
          running([](const RunningBlade& b) { return b.places.back().forward; }));
    w.put(one, "reserve", t.reserve[k]);
    return one;
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
    for (std::size_t k = 0; k < names.size(); ++k)
        json[names[k]] = load_case_json(t, k, w);
    w.put(json, "thicker_to_hold", t.thicker);
    w.put(json, "hub_friction_torque_nm",
          t.clamp ? std::optional(t.clamp->friction_torque) : std::nullopt);
    w.put(json, "hub_pressure_pa", t.clamp_pressure);
    w.put(json, "mean_torque_nm", t.mean_torque);
    json["flapping"] = s.flapping ? flapping_json(*s.flapping, w) : Json(nullptr);
    return json;
}

Json tolerance_json(const BladeAnswer& a, const Writer& w) {
    const BladeStudy& s = *a.study;
    Json json;
    json["faults"] = fault_sheet(a).document(w.warnings());
    w.put(json, "usual_balance_force_n", s.tolerance.balance.force);
    w.put(json, "usual_balance_at_tip_kg", s.tolerance.balance.tip_mass);
    return json;
}

Json running_json(const std::optional<Running>& r, const Writer& w) {
    if (!r)
        return nullptr;
    Json json;
    w.put(json, "propeller_rpm", in_unit(r->rotation, "rpm"));
    w.put(json, "thrust_n", r->thrust);
    w.put(json, "power_w", r->power);
    return json;
}

Json balance_json(const std::optional<MeasuredBalance>& b, const Writer& w) {
    if (!b)
        return nullptr;
    Json json;
    w.put(json, "as_numbered_kg_m", b->as_numbered);
    json["order"] = b->order;
    w.put(json, "in_order_kg_m", b->in_order);
    w.put(json, "added_at_m", b->radius);
    json["added"] = Json::array();
    for (const AddedMass& one : b->added) {
        Json each;
        each["blade"] = one.blade;
        w.put(each, "mass_kg", one.mass);
        json["added"].push_back(each);
    }
    w.put(json, "couple_in_order_nm", b->couple);
    w.put(json, "force_in_order_n", b->force);
    return json;
}

Json measured_json(const BladeAnswer& a, const Writer& w) {
    const MeasuredBlade& m = *a.measured;
    Json json;
    json["stations"] = measured_sheet(m).document(w.warnings());
    w.put(json, "mean_angle_difference_deg", degrees(m.mean_angle));
    w.put(json, "mean_chord_difference", m.mean_chord);
    json["static_as_planned"] = running_json(m.planned, w);
    json["static_as_measured"] = running_json(m.measured, w);
    w.put(json, "reserve_as_planned", m.planned_reserve);
    json["blades"] = Json::array();
    for (const MeasuredOne& one : m.each) {
        Json each;
        each["blade"] = one.number;
        w.put(each, "mean_angle_difference_deg", degrees(one.mean_angle));
        w.put(each, "mean_chord_difference", one.mean_chord);
        w.put(each, "mass_kg", one.mass);
        w.put(each, "moment_kg_m", one.moment);
        w.put(each, "reserve", one.reserve);
        json["blades"].push_back(each);
    }
    w.put(json, "couple_once_per_turn_nm", m.couple);
    w.put(json, "force_once_per_turn_n", m.force);
    json["balance"] = balance_json(m.balance, w);
    json["findings"] = measured_findings(m, a.setting);
    return json;
}

}  // namespace

std::string blade_document(const BladeAnswer& a) {
    std::vector<std::string> warnings =
        a.study ? sentences(a.study->warnings) : std::vector{a.why_not};
    warnings.insert(warnings.end(), a.notes.begin(), a.notes.end());
    const Writer w(warnings);
    Json json;
    json["propeller"] = a.propeller->name;
    if (!a.study) {
        json["condition"] = nullptr;
        json["stations"] = Json::array();
        for (const char* key : {"power", "bound"})
            json[key] = nullptr;
        json["changes"] = Json::array();
        for (const char* key : {"loads", "tolerance"})
            json[key] = nullptr;
        json["unusual"] = a.unusual;
        json["warnings"] = warnings;
        return json.document();
    }
    json["answer"] = blade_answer(*a.study, a.rotor->blade().blades(), Marks::none,
                                  a.measured ? &*a.measured : nullptr);
    if (a.measured)
        json["measured"] = measured_json(a, w);
    json["condition"] = condition_json(a, w);
    json["stations"] = station_sheet(*a.study).document(warnings);
    json["power"] = power_json(*a.study, w);
    json["bound"] = bound_json(*a.study, w);
    json["changes"] = changes_json(*a.study, w);
    json["loads"] = loads_json(*a.study, w);
    json["tolerance"] = tolerance_json(a, w);
    json["findings"] = blade_findings(*a.study);
    json["caution"] = blade_caution_text();
    json["unusual"] = a.unusual;
    json["warnings"] = warnings;
    return json.document();
}

}  // namespace loadline::cli
