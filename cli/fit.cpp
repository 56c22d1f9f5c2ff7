// loadline fit: what the case's readings taught, and what they leave open.

#include "cli/fit.hpp"

#include "cli/output.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/learnt_words.hpp"
#include "loadline/words/reading_words.hpp"

#include <fmt/format.h>

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
    a.from = written_case(request);
    if (a.from.readings.empty()) {
        throw CaseError({{*request.case_file, 1, 1, "the case has no [[reading]], which fit needs",
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

std::string_view unit_of(Reads what) {
    return what == Reads::climb_rate ? "m/s" : what == Reads::static_thrust ? "N" : "rpm";
}

// A number of the row's own kind: in its unit in the document, with it in the text.
Cell in_kind(const FitRow& row, double si) {
    Cell cell(in_unit(si, unit_of(row.read->what)));
    cell.instead = reading_text(row.read->what, si, row.units);
    return cell;
}

Cell in_kind(const FitRow& row, const std::optional<Predicted>& predicted) {
    if (!predicted)
        return {};
    Cell cell(in_unit(predicted->value, unit_of(row.read->what)));
    cell.instead = predicted_text(row.read->what, *predicted, row.units);
    return cell;
}

Cell uncertainty(const FitRow& row, const std::optional<Predicted>& predicted) {
    return predicted ? Cell(in_unit(predicted->uncertainty, unit_of(row.read->what))) : Cell();
}

}  // namespace

Sheet reading_sheet(const Taught& a, Units units) {
    const std::vector<Field<FitRow>> fields = {
        {{"propeller", {"propeller"}}, &FitRow::propeller},
        {{"what", {"reading"}},
         [](const FitRow& row) {
             Cell cell(std::string(reading_name(row.read->what)));
             cell.instead = reading_short(row.read->what);
             return cell;
         }},
        {{"unit"},
         [](const FitRow& row) {
             return Cell(std::string(unit_of(row.read->what)));
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
    return legend + (a.study.left_out.empty() ? "."
                                              : "; by other propellers: what readings with the "
                                                "others alone say of it.");
}

namespace {

std::string as_json(const Taught& a) {
    std::vector<std::string> warnings;
    Json json;
    json["readings"] = reading_sheet(a, Units::metric).document(warnings);
    const Learnt& learnt = a.study.learnt;
    json["engine_torque"] = {{"over_figures", learnt.torque.value},
                             {"uncertainty", learnt.torque.uncertainty}};
    const std::string_view unit = unit_of(a.study.decided_by);
    json["decided_by"] = std::string(reading_name(a.study.decided_by));
    json["unit"] = std::string(unit);
    json["narrowed"] = nullptr;
    if (a.study.narrowed) {
        json["narrowed"] = {{"before_half", in_unit(a.study.narrowed->before, unit)},
                            {"after_half", in_unit(a.study.narrowed->after, unit)}};
    }
    json["next"] = nullptr;
    if (const auto& next = a.study.next) {
        json["next"] = {{"propeller", a.from.propellers[next->propeller].name},
                        {"what", std::string(reading_name(next->what))},
                        {"now_half", in_unit(next->now, unit)},
                        {"then_half", in_unit(next->then, unit)}};
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
    const std::string notes = listed("About the case:", a.notes);
    return text + (notes.empty() ? "" : "\n" + notes) + "\n" + cautions();
}

Outcome run(const FitRequest& request) {
    const Taught a = answer(request);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, fit_page(a, request.units()),
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
