// loadline trial: what my own flights say, and how to fly them.

#include "cli/trial.hpp"

#include "cli/output.hpp"
#include "loadline/case/text.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/figures.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/log_words.hpp"
#include "loadline/words/trial_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <filesystem>

namespace loadline::cli {
namespace {

// More than so many climbs are not listed on a terminal; documents and sheets have all.
constexpr std::size_t most_listed = 16;
constexpr double greatest_difference = 5.0;  // m/s

struct TrialRequest : CaseRequest {
    Switch plan{*this, {"--plan", "", "Flight cards: how to fly it, before flying"}};
    Text difference{*this,
                    {"--difference", "RATE", "With --plan: what it should tell, as \"0.2 m/s\""}};
    Text page{*this, page_option};
    Switch force{*this, force_option};
    Switch csv{*this, {"--csv", "", "A sheet: one row a climb"}};
};

double difference_of(const TrialRequest& request) {
    if (!request.difference)
        return row_of(Figure::climb_rate).metric.noticed;
    if (!request.plan) {
        throw UsageError("--difference goes with --plan",
                         "ask --plan how many climbs it takes, or leave --difference out");
    }
    double wanted = 0.0;
    try {
        wanted = parse_quantity(*request.difference, Dimension::speed);
    } catch (const QuantityError& error) {
        throw UsageError(fmt::format("--difference: {}", error.what()), error.remedy);
    }
    if (!(wanted > 0.0) || wanted > greatest_difference) {
        throw UsageError(
            fmt::format("--difference: \"{}\" is out of range", quotable(*request.difference)),
            fmt::format("write a rate of climb above 0, up to {} m/s", greatest_difference));
    }
    return wanted;
}

Trialled answer(const TrialRequest& request) {
    Trialled a;
    const double difference = difference_of(request);
    a.from = case_without_flights(request);
    if (request.plan && a.from.propellers.size() < 2) {
        throw CaseError(
            {{*request.case_file, 1, 1, "the case has one propeller, and a trial takes two",
              "add the other with [[propeller]]"}});
    }
    a.logs = log_runs_of(a.from.flights);
    const bool flown = has_climbs(a.from);
    if (!flown && !request.plan && a.logs.empty()) {
        throw UsageError(
            fmt::format("{} has no [[flight]], which trial needs", quotable(*request.case_file)),
            "add your climbs, or ask --plan how to fly them; cases/trial.toml shows both");
    }
    const Units units = request.json || request.csv ? Units::metric : request.units();
    if (flown) {
        a.trial = study_trial(a.from);
        a.unusual = trial_questions(*a.trial, units);
        a.notes = trial_reckoning(*a.trial, units);
    }
    for (std::string& rule : log_rules(a.logs, a.from, units))
        a.notes.push_back(std::move(rule));
    if (request.plan)
        a.plan = plan_trial(a.from, difference);
    for (std::string& note : a.from.notes)
        a.notes.push_back(std::move(note));
    return a;
}

// ---- tables

Style of_climb(Units units) {
    const ShownIn& in = shown_in(Figure::climb_rate, units);
    return {in.unit, in.decimals,
            units == Units::metric ? [](double si) { return si; }
                                   : [](double si) { return in_unit(si, "ft/min"); }};
}

template <class Member>
Field<ClimbRow> field(SheetColumn column, Member TrialClimb::*member) {
    return {std::move(column),
            [member](const ClimbRow& row) {
                return Cell(row.climb->*member);
            }};
}

}  // namespace

Sheet propeller_sheet(const Trial& trial, Units units) {
    const std::vector<Field<TrialPropeller>> fields = {
        {{"name", {"propeller"}}, &TrialPropeller::name},
        {{"climbs", {"climbs"}},
         [](const TrialPropeller& p) {
             return Cell(p.climbs.size());
         }},
        {{"mean_rate_m_s", {"climb"}, of_climb(units)},
         [](const TrialPropeller& p) {
             return banded(p.rate.value, p.rate.band);
         }},
        {{"scatter_m_s", {"scatter of", "one climb"}, of_climb(units)},
         [](const TrialPropeller& p) {
             return Cell(p.rate.scatter);
         }},
        {{"mean_engine_rpm", {"engine"}, in_rpm(), "rpm"}, [](const TrialPropeller& p) {
             return p.rotation ? banded(p.rotation->value, p.rotation->band) : Cell();
         }}};
    return {fields, trial.propellers};
}

std::vector<ClimbRow> climbs_in_order(const Trial& trial) {
    std::vector<ClimbRow> rows;
    for (const TrialPropeller& p : trial.propellers)
        for (const TrialClimb& c : p.climbs)
            rows.push_back({&p, &c});
    std::stable_sort(rows.begin(), rows.end(), [](const ClimbRow& a, const ClimbRow& b) {
        return a.climb->flight < b.climb->flight;
    });
    return rows;
}

Sheet climb_sheet(const Trial& trial, Units units) {
    const Style climb = of_climb(units);
    const std::vector<Field<ClimbRow>> fields = {
        {{"propeller", {"propeller"}},
         [](const ClimbRow& row) {
             return Cell(row.propeller->name);
         }},
        {{"flight", {"flight"}},
         [](const ClimbRow& row) {
             return Cell(row.climb->flight + 1);
         }},
        {{"climb", {"climb"}},
         [](const ClimbRow& row) {
             return Cell(row.climb->number + 1);
         }},
        field({"date", {"date"}}, &TrialClimb::date),
        field({"from_m", {"from"}, Shown::elevation}, &TrialClimb::from),
        field({"to_m", {"to"}, Shown::elevation}, &TrialClimb::to),
        field({"time_s", {"time"}, plain("s", 1)}, &TrialClimb::time),
        field({"begin_s", {"begins"}, plain("s", 0)}, &TrialClimb::begin),
        field({"rate_m_s", {"as", "flown"}, climb}, &TrialClimb::rate),
        field({"standard_error_m_s", {"instru-", "ments"}, climb}, &TrialClimb::standard_error),
        field({"reduced_rate_m_s", {"reduced"}, climb}, &TrialClimb::reduced_rate),
        field({"tapeline_factor", {"true height", "over read"}, plain("", 3)},
              &TrialClimb::tapeline),
        field({"mass_kg", {"mass"}, plain("kg", 0)}, &TrialClimb::mass),
        field({"density_kg_m3", {"density"}, plain("kg/m3", 3)}, &TrialClimb::density),
        field({"engine_rpm", {"engine"}, in_rpm(), "rpm"}, &TrialClimb::rotation),
        field({"reduced_engine_rpm", {"engine,", "reduced"}, in_rpm(), "rpm"},
              &TrialClimb::reduced_rotation),
        field({"head_temperature_c", {"head"}, Shown::temperature, "degC"}, &TrialClimb::head),
        field({"outlier", {"stands", "out"}}, &TrialClimb::outlier),
        {{"remark", {""}, Style{}, "", "", false}, [](const ClimbRow& row) {
             return Cell(std::string(climb_remark(*row.climb)));
         }}};
    return {fields, climbs_in_order(trial)};
}

std::vector<Pick> propeller_picks(const Trial& trial) {
    std::vector<Pick> picks = {"name", "climbs", {"mean_rate_m_s", true}, "scatter_m_s"};
    if (std::any_of(trial.propellers.begin(), trial.propellers.end(),
                    [](const TrialPropeller& p) { return p.rotation.has_value(); }))
        picks.emplace_back("mean_engine_rpm", true);
    return picks;
}

std::vector<Pick> climb_picks(const Trial& trial) {
    const auto any = [&](auto of) {
        return std::any_of(trial.propellers.begin(), trial.propellers.end(),
                           [&](const TrialPropeller& p) {
                               return std::any_of(p.climbs.begin(), p.climbs.end(), of);
                           });
    };
    std::vector<Pick> picks = {"propeller", "flight"};
    if (any([](const TrialClimb& c) { return !c.date.empty(); }))
        picks.emplace_back("date");
    for (const char* key : {"time_s", "rate_m_s", "standard_error_m_s", "reduced_rate_m_s"})
        picks.emplace_back(key);
    if (any([](const TrialClimb& c) { return c.rotation.has_value(); }))
        picks.emplace_back("engine_rpm");
    if (any([](const TrialClimb& c) { return !climb_remark(c).empty(); }))
        picks.emplace_back("remark");
    return picks;
}

namespace {

// ---- the document

Json difference_json(const TrialDifference& d, double unit, const Writer& w) {
    Json json;
    w.put(json, "value", d.value / unit);
    w.put(json, "low", d.band.low / unit);
    w.put(json, "high", d.band.high / unit);
    w.put(json, "probability_positive", d.probability_positive);
    w.put(json, "standard_error", d.standard_error / unit);
    w.put(json, "degrees_of_freedom", d.degrees_of_freedom);
    w.put(json, "scatter", d.scatter / unit);
    json["scatter_from"] = name_of(d.source);
    json["test"] = name_of(d.test);
    json["pairs"] = d.pairs;
    json["climbs_left_out"] = d.left_out;
    json["one_after_other"] = d.one_after_other;
    w.put(json, "detectable_difference", d.detectable / unit);
    json["climbs_to_decide"] = d.climbs_to_decide;
    return json;
}

Json plan_json(const TrialPlan& plan, const Case& from, const Writer& w) {
    Json json;
    w.put(json, "difference_m_s", plan.difference);
    json["climbs_needed"] = plan.needed;
    json["climbs_on_cards"] = plan.climbs;
    json["climbs_per_flight"] = plan.climbs_per_flight;
    w.put(json, "difference_told_m_s", plan.told);
    w.put(json, "difference_told_engine_rpm", plan.rotation_told / rpm);
    w.put(json, "scatter_m_s", plan.scatter);
    json["scatter_flown"] = plan.scatter_flown;
    w.put(json, "from_m", plan.from);
    w.put(json, "to_m", plan.to);
    w.put(json, "expected_time_s", plan.expected_time);
    json["order"] = Json::array();
    for (const std::size_t i : plan.order)
        json["order"].push_back(plan.propellers[i]);
    json["table"] = Json::array();
    for (const TrialPlan::Row& row : plan.table)
        json["table"].push_back({{"climbs", row.climbs}, {"told_m_s", row.told}});
    json["cards"] = Json::array();
    for (const CardPart& part : flight_cards(plan, from))
        json["cards"].push_back({{"heading", part.heading}, {"lines", part.lines}});
    return json;
}

std::string as_json(const Trialled& a) {
    std::vector<std::string> warnings;
    const Writer w(warnings);
    Json json = {{"propellers", Json::array()}, {"differences", Json::array()}};
    if (a.trial) {
        const Trial& trial = *a.trial;
        json["reduction"] = name_of(trial.reduction);
        w.put(json, "mass_kg", trial.mass);
        w.put(json, "density_kg_m3", trial.density);
        const Sheet propellers = propeller_sheet(trial, Units::metric);
        const Sheet climbs = climb_sheet(trial, Units::metric);
        const std::vector<ClimbRow> rows = climbs_in_order(trial);
        for (std::size_t i = 0; i < trial.propellers.size(); ++i) {
            Json one;
            propellers.put_values(one, i, warnings);
            propellers.put_ranges(one, i, warnings);
            one["climbs"] = Json::array();
            for (std::size_t k = 0; k < rows.size(); ++k) {
                if (rows[k].propeller != &trial.propellers[i])
                    continue;
                Json climb;
                climbs.put_values(climb, k, warnings);
                one["climbs"].push_back(std::move(climb));
            }
            json["propellers"].push_back(std::move(one));
        }
        for (const TrialComparison& c : trial.comparisons) {
            Json one = {{"name", trial.propellers[c.other].name},
                        {"against", trial.propellers.front().name}};
            one["climb_rate_m_s"] = difference_json(c.rate, 1.0, w);
            one["engine_rpm"] = c.rotation ? difference_json(*c.rotation, rpm, w) : Json();
            one["climb_rate_without_outliers_m_s"] =
                c.without_outliers ? difference_json(*c.without_outliers, 1.0, w) : Json();
            json["differences"].push_back(std::move(one));
        }
        std::vector<std::string> sentences = trial_limits(trial, a.from);
        for (std::string& line : trial_headline(trial))
            sentences.push_back(std::move(line));
        json["sentences"] = sentences;
        for (std::string& line : trial_reach(trial))
            warnings.push_back(std::move(line));
        for (std::string& line : trial_warnings(trial))
            warnings.push_back(std::move(line));
    }
    json["logs"] = logs_json(a, warnings);
    json["plan"] = a.plan ? plan_json(*a.plan, a.from, w) : Json();
    json["warnings"] = warnings;
    json["unusual"] = a.unusual;
    json["notes"] = a.notes;
    return json.document();
}

// ---- the text

std::string trial_text(const Trialled& a, Units units) {
    if (!a.trial) {
        return listed("No climb was found on the logs:", log_findings(a.logs, a.from, units)) +
               (a.notes.empty() ? "" : "\n" + listed("About the case:", a.notes));
    }
    const Trial& trial = *a.trial;
    std::string out = asked_first(a.unusual);
    for (const auto& lines : {trial_limits(trial, a.from, units), trial_headline(trial, units)})
        for (const std::string& line : lines)
            out += wrapped(line);
    for (const std::string& line : trial_reach(trial, units))
        out += wrapped(line, "- ");
    if (!a.logs.empty())
        out += "\n" + listed("Found on the logs:", log_findings(a.logs, a.from, units));
    out += "\n" + propeller_sheet(trial, units).text(propeller_picks(trial), units);
    if (trial.climbs <= most_listed)
        out += "\n" + climb_sheet(trial, units).text(climb_picks(trial), units);
    const std::string take_note = listed("Take note:", trial_warnings(trial, units));
    return out + (take_note.empty() ? "" : "\n" + take_note) + "\n" +
           listed("How it was reckoned:", a.notes);
}

std::string plan_text(const Trialled& a, Units units) {
    const TrialPlan& plan = *a.plan;
    std::string out;
    for (const std::string& line : plan_headline(plan, units))
        out += wrapped(line);
    out += "\n";
    for (const CardPart& part : flight_cards(plan, a.from, units))
        out += listed(part.heading, part.lines) + "\n";
    out += "Write down, for each flight, below the propellers of the case\n";
    for (const std::string& line : flight_to_fill_in(plan, units))
        out += "    " + line + "\n";
    return out;
}

std::string as_text(const Trialled& a, Units units) {
    std::string out = a.from.title.empty() ? "" : wrapped(a.from.title) + "\n";
    out += a.plan ? plan_text(a, units) : trial_text(a, units);
    return out + "\n" + cautions();
}

Outcome run(const TrialRequest& request) {
    if (request.json && request.csv)
        throw UsageError("--json and --csv are both asked for", "ask for one of them");
    if (request.plan && request.page) {
        throw UsageError("--page goes with flights, not with --plan",
                         "leave one of them out; the cards are text to print");
    }
    if (request.plan && request.csv)
        throw UsageError("--csv goes with flights, not with --plan", "leave one of them out");
    const Trialled a = answer(request);
    Outcome outcome;
    if (!a.trial && !a.plan) {
        outcome.status = status_no_answer;
        outcome.out = request.json ? as_json(a) : as_text(a, request.units());
        return outcome;
    }
    if (request.page) {
        std::vector<std::optional<std::string>> logs;
        for (const std::filesystem::path& log : a.from.logs)
            logs.emplace_back(log.string());
        write_page(*request.page, trial_page(a, request.units()), "trial",
                   {request.force, inputs_of(request, logs), {}});
        outcome.err = fmt::format("loadline trial: wrote {}\n", as_typed(*request.page));
    }
    outcome.out = request.json  ? as_json(a)
                  : request.csv ? climb_sheet(*a.trial, Units::metric).csv()
                                : as_text(a, request.units());
    return outcome;
}

}  // namespace

constinit const Command trial_command = command<TrialRequest, run>(
    "trial", "What my own flights say, and how sure that is", "loadline trial cases/trial.toml");

}  // namespace loadline::cli
