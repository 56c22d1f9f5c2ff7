// loadline compare: the propeller flown now against the ones that could be bought.

#include "cli/compare.hpp"

#include "cli/output.hpp"
#include "loadline/case/text.hpp"
#include "loadline/words/finding_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <unistd.h>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>

namespace loadline::cli {
namespace {

// Below this the ends of a range say little. Our choice.
constexpr int fewest_draws = 200;

std::vector<std::string> goal_words() {
    std::vector<std::string> words;
    for (const GoalName& goal : goal_names)
        words.emplace_back(goal.name);
    return words;
}

const std::string& sort_help() {
    static const std::string words = fmt::format("Order: {}; else [wishes]", one_of(goal_words()));
    return words;
}

struct CompareRequest : CaseRequest {
    Switch no_band{*this, no_band_option};
    Text draws_as_written{*this, {"--draws", "NUMBER", "Draws the ranges come from, else 2000"}};
    Switch no_angles{*this, {"--no-angles", "", "No other settings of adjustable blades"}};
    Text page{*this, page_option};
    Switch force{*this, force_option};
    Text sort{*this, {"--sort", "WISH", sort_help().c_str()}};
    Switch csv{*this, {"--csv", "", "A sheet: one row a propeller and quantity"}};
};

// How many flights are drawn; 0 without ranges.
std::size_t draws_of(const CompareRequest& request) {
    if (request.no_band)
        return 0;
    if (!request.draws_as_written)
        return usual_draws;
    const auto number = bare_number(*request.draws_as_written);
    if (!number || *number != std::floor(*number) || *number < fewest_draws ||
        *number > static_cast<double>(usual_draws)) {
        throw UsageError(
            fmt::format("--draws: \"{}\" is out of range", quotable(*request.draws_as_written)),
            fmt::format("write a whole number from {} to {}", fewest_draws, usual_draws));
    }
    return static_cast<std::size_t>(*number);
}

void need(const Case& from, const CompareRequest& request) {
    std::vector<std::string> missing;
    if (!from.engine)
        missing.emplace_back("[engine]");
    if (!from.drive)
        missing.emplace_back("[drive]");
    if (!from.craft)
        missing.emplace_back("[craft]");
    if (!missing.empty()) {
        throw UsageError(fmt::format("{} has no {}, which compare needs", *request.case_file,
                                     fmt::join(missing, ", no ")),
                         "add it; \"loadline new\" writes a case that has it");
    }
}

Goals goals_of(const Case& from, const CompareRequest& request) {
    Goals goals = from.goals;
    if (request.sort) {
        const auto first = goal_named(*request.sort);
        if (!first) {
            throw UsageError(fmt::format("--sort: \"{}\" is not known", *request.sort),
                             fmt::format("write {}", one_of(goal_words())));
        }
        goals.rank = {*first};
        for (const Goal goal : from.goals.rank)
            if (goal != *first)
                goals.rank.push_back(goal);
    }
    return goals;
}

// A document and a sheet are metric whatever is asked.
Units spoken_units(const CompareRequest& request) {
    return request.json || request.csv ? Units::metric : request.units();
}

// A line on a terminal that grows when it takes longer than half a second; never in a pipe.
class ProgressLine {
public:
    void operator()(double done) {
        if (!terminal_)
            return;
        const auto waited = std::chrono::steady_clock::now() - begun_;
        if (waited > std::chrono::milliseconds(500) && done < 1.0) {
            std::fprintf(stderr, "\rcomparing: %3.0f %%", 100.0 * done);
            std::fflush(stderr);
            drawn_ = true;
        } else if (drawn_) {
            std::fprintf(stderr, "\r                \r");
            std::fflush(stderr);
        }
    }

private:
    bool terminal_ = isatty(STDERR_FILENO) == 1;
    bool drawn_ = false;
    std::chrono::steady_clock::time_point begun_ = std::chrono::steady_clock::now();
};

// The comparison, and every angle an adjustable propeller may be turned to: which takes about twice
// as long as comparing it.
void compare_and_turn(const CompareRequest& request, Compared& a) {
    constexpr double turning = 2.0;
    const auto adjustable =
        std::count_if(a.candidates.begin(), a.candidates.end(),
                      [&](const Candidate& c) { return c.adjustable && !request.no_angles; });
    const auto count = static_cast<double>(a.candidates.size());
    const double whole = count + turning * static_cast<double>(adjustable);
    const std::size_t draws = draws_of(request);
    ProgressLine line;
    a.comparison =
        compare(a.from, a.candidates, draws, 0, [&](double done) { line(done * count / whole); });
    for (std::size_t i = 0; i < a.candidates.size(); ++i) {
        if (!a.candidates[i].adjustable || request.no_angles)
            continue;
        a.angles.emplace_back(
            i, blade_angles(a.from, a.candidates.front(), a.candidates[i], -usual_turn, usual_turn,
                            9, draws / draws_a_setting_draw));
        line((count + turning * static_cast<double>(a.angles.size())) / whole);
    }
}

// Into one place for good: the candidates point at the rotors.
void answer(const CompareRequest& request, Compared& a) {
    a.from = case_of(request);
    need(a.from, request);
    a.air = air_at_field(a.from.day);
    a.from.goals = goals_of(a.from, request);
    a.rotors = rotors_of(a.from);
    a.candidates = candidates_of(a.from, a.rotors);
    std::vector<const Propeller*> propellers;
    for (const Propeller& propeller : a.from.propellers)
        propellers.push_back(&propeller);
    compare_and_turn(request, a);
    const Units units = spoken_units(request);
    const SentenceUnits spoken = sentence_units(units);
    a.order = ranked(a.comparison, a.from.goals);
    a.sentences.resize(a.comparison.rows.size());
    for (std::size_t i = 1; i < a.comparison.rows.size(); ++i)
        a.sentences[i] = compare_sentences(a.comparison, i, a.from, spoken);
    for (const CompareRow& row : a.comparison.rows) {
        a.warnings.push_back(compare_warnings(row, spoken));
        a.missed.push_back(missed_goal_lines(row, spoken));
    }
    a.lead = compare_headline(a.comparison, a.from, spoken, a.angles, Marks::kept);
    a.headline = with(Marks::none, a.lead);
    const std::vector<std::optional<double>> standing = standing_speeds(a.comparison);
    a.unusual = unusual_in(a.from, propellers, units, a.rotors, standing);
    a.notes = sentences(engine_findings(*a.from.engine, a.air));
    for (std::string& note : case_notes(a.from, propellers))
        a.notes.push_back(std::move(note));
    std::vector<NamedRotor> named;
    for (const Candidate& candidate : a.candidates)
        named.push_back({candidate.name, candidate.rotor});
    for (std::string& line : load_twist_notes(load_turned(a.from, named, a.air, standing)))
        a.notes.push_back(std::move(line));
    if (const std::size_t draws = draws_of(request); draws > 0 && draws < usual_draws)
        a.notes.push_back(few_draws_note(draws));
    for (std::string& note : comparison_notes(a.comparison))
        a.notes.push_back(std::move(note));
    a.below = a.notes;
    for (std::string& note : figure_notes(a.from))
        a.below.push_back(std::move(note));
}

Outcome run(const CompareRequest& request) {
    if (request.json && request.csv)
        throw UsageError("--json and --csv are both asked for", "ask for one of them");
    Compared a;
    answer(request, a);
    Outcome outcome;
    if (request.page) {
        write_page(*request.page, compare_page(a, request.units()), "compare",
                   {request.force, inputs_of(request), {}});
        outcome.err = fmt::format("loadline compare: wrote {}\n", as_typed(*request.page));
    }
    outcome.out = request.json  ? compare_document(a)
                  : request.csv ? compare_csv(a)
                                : compare_text(a, request.units());
    const bool any =
        std::any_of(a.comparison.rows.begin(), a.comparison.rows.end(),
                    [](const CompareRow& row) { return row.standing.match.answer.has_value(); });
    if (!any) {
        outcome.status = status_no_answer;
        outcome.err +=
            "loadline compare: engine and propeller agree on no speed; the warnings of each "
            "propeller say why\n";
    }
    return outcome;
}

}  // namespace

constinit const Command compare_command =
    command<CompareRequest, run>("compare", "My propeller against others, over the whole flight",
                                 "loadline compare cases/paraglider.toml --sort quiet");

}  // namespace loadline::cli
