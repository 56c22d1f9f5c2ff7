// loadline fit: what the case's readings taught, and what they leave open.

#include "cli/fit.hpp"

#include "cli/output.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/learnt_words.hpp"
#include "loadline/words/reading_words.hpp"

#include <fmt/format.h>
#include <algorithm>

namespace loadline::cli {
namespace {

struct FitRequest : CaseRequest {
    Text page{*this, page_option};
    Switch force{*this, force_option};
};

// One reading and what became of it.
struct FitRow {
    const FieldReading* read = nullptr;
    std::string propeller;
    const LearntReading* learnt = nullptr;
    std::optional<Predicted> left_out;
    Units units = Units::metric;
};

Taught answer(const FitRequest& request) {
    Taught a;
    a.from = case_with_flights_read(request);
    if (a.from.readings.empty()) {
        const bool taken = a.from.plan.cruise_fuel || a.from.head.known();
        throw CaseError({{*request.case_file, 1, 1,
                          taken ? "the case has no [[reading]] beside the fuel or head of the "
                                  "first propeller, which are taken as they are"
                                : "the case has no [[reading]], which fit needs",
                          "add [[reading]] with propeller = \"...\" and what was read, such as "
                          "static_speed = \"8900 rpm\""}});
    }
    const Units units = request.json ? Units::metric : request.units();
    a.study = study_fit(a.from);
    a.learnt = learning_sentences(a.from, a.study, units);
    a.open = open_sentences(a.from, a.study, units);
    std::vector<const Propeller*> propellers;
    for (const Propeller& propeller : a.from.propellers)
        propellers.push_back(&propeller);
    a.notes = case_notes(a.from, propellers);
    a.from.doubted = doubted_readings(a.from, a.study, units);
    a.unusual = unusual_in(a.from, propellers, units);
    return a;
}

std::vector<FitRow> rows_of(const Taught& a, Units units) {
    std::vector<FitRow> rows;
    for (std::size_t i = 0; i < a.from.readings.size(); ++i) {
        const FieldReading& read = a.from.readings[i];
        rows.push_back({&read, a.from.propellers[read.propeller].name, &a.study.learnt.readings[i],
                        std::nullopt, units});
        for (const LeftOut& out : a.study.left_out)
            if (out.reading == i)
                rows.back().left_out = out.predicted;
    }
    return rows;
}

// A number of the row's own kind: in its unit in the document, with it in the text.
Cell in_kind(const FitRow& row, double si) {
    Cell cell(shown_reading(row.read->what, si, Units::metric));
    cell.instead = reading_text(row.read->what, si, row.units);
    return cell;
}

Cell in_kind(const FitRow& row, const std::optional<Predicted>& predicted) {
    if (!predicted)
        return {};
    Cell cell(shown_reading(row.read->what, predicted->value, Units::metric));
    cell.instead = predicted_text(row.read->what, *predicted, row.units);
    return cell;
}

Cell uncertainty(const FitRow& row, const std::optional<Predicted>& predicted) {
    return predicted ? Cell(difference_in_shown_unit(figure_of(row.read->what),
                                                     predicted->uncertainty, Units::metric))
                     : Cell();
}

}  // namespace

Sheet reading_sheet(const Taught& a, Units units) {
    const std::vector<Field<FitRow>> fields = {
        {{"propeller", {"propeller"}}, &FitRow::propeller},
        {{"what", {"reading"}},
         [](const FitRow& row) {
             Cell cell(std::string(reading_name(row.read->what)));
             cell.instead = reading_short(*row.read);
             return cell;
         }},
        {{"climbs"},
         [](const FitRow& row) {
             return Cell(row.read->climbs);
         }},
        {{"unit"},
         [](const FitRow& row) {
             return Cell(std::string(unit_of(row.read->what, Units::metric)));
         }},
        {{"read", {"read"}},
         [](const FitRow& row) {
             return in_kind(row, row.read->value);
         }},
        {{"read_uncertainty"},
         [](const FitRow& row) {
             return uncertainty(row, Predicted{0.0, row.learnt->uncertainty});
         }},
        {{"before", {"before"}},
         [](const FitRow& row) {
             return in_kind(row, row.learnt->before);
         }},
        {{"before_uncertainty"},
         [](const FitRow& row) {
             return uncertainty(row, row.learnt->before);
         }},
        {{"after", {"after"}},
         [](const FitRow& row) {
             return in_kind(row, row.learnt->after);
         }},
        {{"after_uncertainty"},
         [](const FitRow& row) {
             return uncertainty(row, row.learnt->after);
         }},
        {{"left_out", {"by other", "propellers"}},
         [](const FitRow& row) {
             return in_kind(row, row.left_out);
         }},
        {{"left_out_uncertainty"},
         [](const FitRow& row) {
             return uncertainty(row, row.left_out);
         }},
        {{"off", {"off"}, with_sign(plain("", 1))},
         [](const FitRow& row) {
             return Cell(row.learnt->off);
         }},
        {{"counted"}, [](const FitRow& row) {
             return Cell(row.learnt->counted);
         }}};
    return {fields, rows_of(a, units)};
}

std::vector<Pick> reading_picks(const Taught& a) {
    std::vector<Pick> picks = {"propeller", "what", "read", "before", "after", "off"};
    if (!a.study.left_out.empty())
        picks.insert(picks.end() - 1, Pick("left_out"));
    return picks;
}

Sheet worth_sheet(const Taught& a, Units units) {
    const DrawnIn in = reading_drawn_in(a.study.decided_by, units);
    const std::vector<Field<NextReading>> fields = {
        {{"propeller", {"propeller"}},
         [&](const NextReading& next) {
             return Cell(a.from.propellers[next.propeller].name);
         }},
        {{"what", {"reading"}},
         [](const NextReading& next) {
             return Cell(std::string(reading_name(next.what)));
         }},
        {{"then_half", {"known then"}},
         [&](const NextReading& next) {
             Cell cell(next.then);
             cell.instead =
                 fmt::format("+-{} {}", plain_number(in.of(next.then), in.decimals), in.unit);
             return cell;
         }},
        {{"narrower_percent", {"narrower"}, plain("%", 0)}, [](const NextReading& next) {
             return Cell(narrower_percent(next));
         }}};
    return {fields, a.study.worth};
}

std::vector<Pick> worth_picks() {
    return {"propeller", "what", "then_half", "narrower_percent"};
}

std::string reading_legend(const Taught& a) {
    std::string legend =
        "Behind +- stands half of the range that holds nine in ten; off: how far a reading lies "
        "from "
        "what the model and all other readings say, in standard uncertainties of that difference";
    if (std::any_of(a.from.readings.begin(), a.from.readings.end(),
                    [](const FieldReading& r) { return r.climbs > 0; }))
        legend += "; in brackets: the mean of so many climbs flown";
    return legend + (a.study.left_out.empty() ? "."
                                              : "; by other propellers: what readings with the "
                                                "others alone say of it.");
}

namespace {

// One point of the engine's torque.
struct BrakeRow {
    const BrakePoint* point = nullptr;
    const FieldReading* read = nullptr;
    std::string propeller;
    Units units = Units::metric;
};

}  // namespace

Sheet brake_sheet(const Taught& a, Units units) {
    const std::vector<Field<BrakeRow>> fields = {
        {{"propeller", {"propeller"}}, &BrakeRow::propeller},
        {{"what", {"reading"}},
         [](const BrakeRow& row) {
             Cell cell(std::string(reading_name(row.read->what)));
             cell.instead = reading_short(*row.read);
             return cell;
         }},
        {{"engine_rpm", {"engine"}, in_rpm(), "rpm"},
         [](const BrakeRow& row) {
             return Cell(row.point->rotation);
         }},
        {{"torque_nm", {"blades", "ask for"}, Shown::torque},
         [](const BrakeRow& row) {
             Cell cell(row.point->torque.value);
             cell.instead = torque_text(row.point->torque, row.units);
             return cell;
         }},
        {{"torque_uncertainty_nm"},
         [](const BrakeRow& row) {
             return Cell(row.point->torque.uncertainty);
         }},
        {{"figures_nm", {"figures", "give"}, Shown::torque}, [](const BrakeRow& row) {
             return Cell(row.point->figures);
         }}};
    std::vector<BrakeRow> rows;
    for (const BrakePoint& point : a.study.brake) {
        const FieldReading& read = a.from.readings[point.reading];
        rows.push_back({&point, &read, a.from.propellers[read.propeller].name, units});
    }
    return {fields, rows};
}

namespace {

std::string as_json(const Taught& a) {
    std::vector<std::string> warnings;
    Json json;
    json["readings"] = reading_sheet(a, Units::metric).document(warnings);
    const Learnt& learnt = a.study.learnt;
    json["engine_torque"] = {{"over_figures", learnt.torque.value},
                             {"uncertainty", learnt.torque.uncertainty}};
    const auto half = [&](double si) {
        return difference_in_shown_unit(figure_of(a.study.decided_by), si, Units::metric);
    };
    json["decided_by"] = std::string(reading_name(a.study.decided_by));
    json["unit"] = std::string(unit_of(a.study.decided_by, Units::metric));
    json["brake"] = brake_sheet(a, Units::metric).document(warnings);
    json["narrowed"] = nullptr;
    if (const auto& narrowed = a.study.narrowed) {
        const auto half_of = [&](double si) {
            return difference_in_shown_unit(figure_of(narrowed->what), si, Units::metric);
        };
        json["narrowed"] = {{"propeller", a.from.propellers[narrowed->propeller].name},
                            {"what", std::string(reading_name(narrowed->what))},
                            {"unit", std::string(unit_of(narrowed->what, Units::metric))},
                            {"before_half", half_of(narrowed->before)},
                            {"after_half", half_of(narrowed->after)}};
    }
    json["next"] = nullptr;
    if (const auto& next = a.study.next) {
        json["next"] = {{"propeller", a.from.propellers[next->propeller].name},
                        {"what", std::string(reading_name(next->what))},
                        {"now_half", half(next->now)},
                        {"then_half", half(next->then)}};
    }
    json["draws"] = learnt.draws;
    json["effective_draws"] = learnt.effective_draws;
    json["learnt"] = a.learnt;
    json["open"] = a.open;
    json["warnings"] = warnings;
    json["unusual"] = a.unusual;
    json["notes"] = a.notes;
    return json.document();
}

std::string as_text(const Taught& a, Units units) {
    std::string text = a.from.title.empty() ? "" : wrapped(a.from.title) + "\n";
    text += asked_first(a.unusual);
    for (const std::string& line : a.learnt)
        text += wrapped(line);
    text += "\n" + reading_sheet(a, units).text(reading_picks(a), units) + "\n";
    text += wrapped(reading_legend(a));
    for (const std::string& line : a.open)
        text += wrapped(line);
    if (!a.study.brake.empty()) {
        text += "\nThe blades as brakes: torque at the crank, by each speed read\n" +
                brake_sheet(a, units).text(
                    {"propeller", "what", "engine_rpm", "torque_nm", "figures_nm"}, units);
    }
    const std::string notes = listed("About the case:", a.notes);
    return text + (notes.empty() ? "" : "\n" + notes) + "\n" + cautions();
}

Outcome run(const FitRequest& request) {
    const Taught a = answer(request);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, fit_page(a, request.units()), "fit",
                   {request.force, inputs_of(request), {}});
        outcome.err = fmt::format("loadline fit: wrote {}\n", as_typed(*request.page));
    }
    outcome.out = request.json ? as_json(a) : as_text(a, request.units());
    if (!anything_learnt(a.study)) {
        outcome.status = status_no_answer;
        outcome.err += "loadline fit: nothing could be learnt; each reading says why\n";
    }
    return outcome;
}

}  // namespace

constinit const Command fit_command =
    command<FitRequest, run>("fit", "What did my readings teach, and which one comes next?",
                             "loadline fit cases/readings.toml");

}  // namespace loadline::cli
