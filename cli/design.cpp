// loadline design: which blade for this engine, this craft and what matters?

#include "cli/design.hpp"

#include "cli/output.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/engine/fuel.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/words/design_words.hpp"

#include <fmt/format.h>

namespace loadline::cli {
namespace {

struct DesignRequest : CaseRequest {
    Text out{*this, {"--out", "FILE", "Write the whole case with the blade in it"}};
    Switch no_others{*this, {"--alone", "", "Only the blade asked for, not the trade-off"}};
    Switch no_band{*this, no_band_option};
    Text page{*this, page_option};
    Switch force{*this, force_option};
};

void check_options(const DesignRequest& request) {
    if (request.units() == Units::imperial) {
        throw UsageError("design writes millimetres and newtons only",
                         "leave --units out: a case in inches is read all the same");
    }
    if (request.force && !request.out && !request.page)
        throw UsageError("--force stands here without --out or --page", "leave it out");
    if (!request.out)
        return;
    check_named(*request.out, "name a file, such as designed.toml");
    if (*request.case_file == "-") {
        throw UsageError("--out with a case from standard input",
                         "save the case first: what is written is that file and the blade");
    }
    check_writable(*request.out, "such as designed.toml",
                   {request.force, inputs_of(request, {request.page}), {}, {}});
}

void add_bands(Designed& a) {
    Scenario with_blade = a.from;
    with_blade.propellers = {a.design.blade->propeller};
    with_blade.left = {};
    const std::vector<Rotor> rotors = rotors_of(with_blade);
    const std::vector<NamedRotor> named = {{with_blade.propellers.front().name, &rotors.front()}};
    const Air air = air_at_field(a.from.day);
    std::vector<double> speeds = {0.0};
    double wake = 0.0;
    if (a.from.craft) {
        speeds.push_back(a.from.craft->trim_speed);
        wake = a.from.craft->installation.wake_fraction;
    }
    const auto rows = study_match(*a.from.engine, *a.from.drive, named, air, speeds, wake);
    const MatchBands bands = match_bands(*a.from.engine, *a.from.drive, named,
                                         {with_blade.propellers.front().knowledge}, air, rows);
    a.bands = bands.points.front();
}

Designed answer(const DesignRequest& request) {
    Designed a;
    a.from = case_to_design(request);
    a.design = study_design(a.from, !request.no_others);
    name_designs(a.design, a.from);
    a.notes = a.from.notes;
    if (!a.design.task.assumed.empty() && a.design.task.section)
        for (std::string& line : design_notes(a.design, a.from))
            a.notes.push_back(std::move(line));
    if (!a.design.blade)
        return a;
    a.propeller = propeller_text(*a.design.blade, a.design.task);
    a.lead = design_answer(a.design, a.from, Marks::kept);
    a.answer = with(Marks::none, a.lead);
    a.trade = trade_sentences(a.design);
    a.unknown = design_unknown(a.design);
    if (!request.no_band && a.design.trouble == DesignTrouble::none) {
        add_bands(a);
        a.ranges = design_ranges(*a.design.blade, a.bands);
    }
    return a;
}

// The case as it is written, and the blade behind it. Read once before it is written: whatever
// follows from that is refused with the case's own words.
void write_case(const DesignRequest& request, const Designed& a) {
    std::string text = read_text(*request.case_file, "case file", most::case_size, Readable::any);
    if (!text.empty() && text.back() != '\n')
        text += '\n';
    text += "\n# Drawn by loadline design: a calculation, not a release to fly.\n" + a.propeller;
    parse_case(text, *request.out, section_folders(request));
    write_file(*request.out, text, request.force);
}

std::string as_text(const Designed& a) {
    std::string out = a.from.title.empty() ? "" : wrapped(a.from.title) + "\n";
    if (a.design.trouble != DesignTrouble::none)
        return out + listed("About the wish:", a.notes);
    for (const std::string& line : a.answer)
        out += wrapped(line, "- ");
    out += "\nThe blade\n" + design_sheet(*a.design.blade).text(design_picks());
    if (!a.design.others.empty()) {
        out += "\nWhat else the same wish could be\n" +
               trade_sheet(a.design).text(trade_picks(a.design));
        for (const std::string& line : a.trade)
            out += wrapped(line, "- ");
    }
    for (const std::string& block :
         {listed("How sure:", a.ranges), listed("Not known to this drawing:", a.unknown),
          listed("About the wish:", a.notes)})
        out += block.empty() ? "" : "\n" + block;
    return out + "\nTo paste into a case:\n\n" + a.propeller + "\n" +
           wrapped(
               "Caution: a drawing, not a release to carve or to fly. Have it looked at by "
               "someone who makes blades, measure what you made, and run it first tied down, "
               "nobody in the plane of rotation.") +
           "\n" + cautions();
}

Json blade_json(const DesignedBlade& blade, std::vector<std::string>& warnings) {
    Json json = {{"name", blade.propeller.name}, {"aim", std::string(aim_name(blade.aim))}};
    Design alone;
    alone.blade = blade;
    trade_sheet(alone).put_values(json, 0, warnings);
    json["diameter_m"] = blade.propeller.description.diameter;
    json["blades"] = blade.propeller.description.blades;
    json["stations"] = design_sheet(blade).document(warnings);
    return json;
}

std::string as_json(const Designed& a) {
    std::vector<std::string> warnings;
    Json json;
    json["blade"] = nullptr;
    json["others"] = Json::array();
    json["toml"] = nullptr;
    if (a.design.blade) {
        json["blade"] = blade_json(*a.design.blade, warnings);
        for (const DesignedBlade& other : a.design.others)
            json["others"].push_back(blade_json(other, warnings));
        json["toml"] = a.propeller;
    }
    json["holds"] = a.design.blade && a.design.blade->holds;
    json["ranges"] = Json::array();
    for (const auto& b : a.bands) {
        if (!b || !b->engine_rotation) {
            json["ranges"].push_back(nullptr);
            continue;
        }
        const Writer writer(warnings);
        Json range;
        writer.put(range, "engine_rpm_low", in_unit(b->engine_rotation->low, "rpm"));
        writer.put(range, "engine_rpm_high", in_unit(b->engine_rotation->high, "rpm"));
        writer.put(range, "thrust_n_low", b->thrust.low);
        writer.put(range, "thrust_n_high", b->thrust.high);
        json["ranges"].push_back(std::move(range));
    }
    json["answer"] = a.answer;
    json["trade"] = a.trade;
    json["unknown"] = a.unknown;
    json["notes"] = a.notes;
    json["warnings"] = warnings;
    return json.document();
}

Outcome run(const DesignRequest& request) {
    check_options(request);
    const Designed a = answer(request);
    Outcome outcome;
    const bool found = a.design.trouble == DesignTrouble::none;
    if (!found) {
        outcome.status = status_no_answer;
        outcome.err = fmt::format("loadline design: {}\n", why_no_blade(a.design, a.from));
    }
    if (request.out && found) {
        write_case(request, a);
        outcome.err += fmt::format("loadline design: wrote {}\n", as_typed(*request.out));
    }
    if (request.page && found) {
        write_page(*request.page, design_page(a), "design",
                   {request.force, inputs_of(request), {}});
        outcome.err += fmt::format("loadline design: wrote {}\n", as_typed(*request.page));
    }
    outcome.out = request.json ? as_json(a) : as_text(a);
    return outcome;
}

// The blade of one row and what it is for.
Cell of(const std::optional<DesignCondition>& c, double DesignCondition::*figure) {
    return c ? Cell((*c).*figure) : Cell();
}

Cell of(const std::optional<DesignCondition>& c, std::optional<double> DesignCondition::*figure) {
    return c ? Cell((*c).*figure) : Cell();
}

}  // namespace

Sheet design_sheet(const DesignedBlade& blade) {
    const std::vector<Field<Station>> fields = {
        {{"radius_m", {"radius"}, in_millimetres()},
         [](const Station& s) {
             return Cell(s.radius);
         }},
        {{"chord_m", {"chord"}, in_millimetres()},
         [](const Station& s) {
             return Cell(s.chord);
         }},
        {{"angle_deg", {"blade", "angle"}, in_degrees(), "deg"},
         [](const Station& s) {
             return Cell(s.angle);
         }},
        {{"thickness_m", {"thick-", "ness"}, in_millimetres()},
         [](const Station& s) {
             return Cell(*s.thickness * s.chord);
         }},
        {{"thickness_share", {"of the", "chord"}, in_percent(1)}, [](const Station& s) {
             return Cell(*s.thickness);
         }}};
    return {fields, blade.propeller.description.stations};
}

std::vector<Pick> design_picks() {
    return {"radius_m", "chord_m", "angle_deg", "thickness_m", "thickness_share"};
}

namespace {

// What it does at one condition, each key of the document begun with `part`.
void add_condition(std::vector<Field<DesignedBlade>>& fields, const std::string& part,
                   const char* words, std::optional<DesignCondition> DesignedBlade::*at) {
    const auto add = [&](const char* key, const char* heading, const auto& style,
                         std::string_view unit, auto figure) {
        fields.push_back(
            {{part + key, {words, heading}, style, unit}, [at, figure](const DesignedBlade& b) {
                 return of(b.*at, figure);
             }});
    };
    using C = DesignCondition;
    add("_engine_rpm", "engine", Shown::rotation, "rpm", &C::engine_rotation);
    add("_thrust_n", "thrust", Shown::thrust, "", &C::thrust);
    add("_power_w", "power", Shown::power, "", &C::power);
    add("_of_drag_free", "of best", in_percent(0), "", &C::of_drag_free);
    add("_of_best", "of best", in_percent(0), "", &C::of_best);
}

}  // namespace

Sheet trade_sheet(const Design& design) {
    using B = DesignedBlade;
    std::vector<B> rows = {*design.blade};
    rows.insert(rows.end(), design.others.begin(), design.others.end());
    std::vector<Field<B>> fields = {
        {{"for", {"blade"}, Style{}, "", "", false},
         [](const B& b) {
             return Cell(std::string(aim_name(b.aim)));
         }},
        {{"diameter", {"dia-", "meter"}, in_centimetres(), "", "", false}, [](const B& b) {
             return Cell(b.propeller.description.diameter);
         }}};
    add_condition(fields, "standing", "static", &B::standing);
    add_condition(fields, "climb", "climb", &B::climb);
    add_condition(fields, "cruise", "cruise", &B::cruise);
    const Style litres = {"L/h", 2,
                          [](double kg_s) {
                              return kg_s / petrol_density * 3.6e6;
                          }};
    fields.push_back({{"climb_rate_m_s", {"climb"}, plain("m/s", 2)},
                      [](const B& b) {
                          return b.climb ? Cell(b.climb_rate) : Cell();
                      }});
    fields.push_back({{"fuel_kg_s", {"cruise", "fuel"}, litres},
                      [](const B& b) {
                          return b.cruise ? Cell(b.fuel_flow) : Cell();
                      }});
    fields.push_back({{"noise_dba", {"noise"}, plain("dB(A)", 1)}, [](const B& b) {
                          return Cell(b.noise);
                      }});
    // Never rounded up, as in the sentences.
    fields.push_back({{"reserve", {"stress", "reserve"}, Style{"", 2, told_reserve}},
                      [](const B& b) {
                          return Cell(b.reserve);
                      }});
    fields.push_back({{"mass_kg", {"mass"}, plain("kg", 2)}, [](const B& b) {
                          return Cell(b.mass);
                      }});
    return {fields, rows};
}

std::vector<Pick> trade_picks(const Design& design) {
    std::vector<Pick> picks = {"for", "diameter"};
    if (design.blade->climb)
        for (const char* key : {"climb_engine_rpm", "climb_rate_m_s", "fuel_kg_s"})
            picks.emplace_back(key);
    for (const char* key : {"standing_thrust_n", "noise_dba", "reserve", "mass_kg"})
        picks.emplace_back(key);
    return picks;
}

constinit const Command design_command =
    command<DesignRequest, run>("design", "Which blade for this engine and what matters?",
                                "loadline design cases/builder.toml");

}  // namespace loadline::cli
