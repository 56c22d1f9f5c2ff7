// The text of a comparison.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "loadline/words/match_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>

namespace loadline::cli {
namespace {

constexpr std::size_t wide = 100;

bool known(const std::vector<CompareRow>& rows, Figure figure) {
    return std::any_of(
        rows.begin(), rows.end(),
        [&](const CompareRow& row) { return row.values[at(figure)].has_value(); });
}

// What changes with each candidate, a row each; beside its climb how sure that is.
std::string overview(const Compared& a, Units units) {
    const bool ranges = std::any_of(a.order.begin(), a.order.end(), [&](std::size_t i) {
        return a.comparison.rows[i].differences[at(Figure::climb_rate)].has_value();
    });
    std::vector<std::string> keys = {"name"};
    for (const Figure q : figures_at_a_glance()) {
        const std::string key(row_of(q).key);
        keys.push_back(key);
        if (q == Figure::climb_rate && ranges) {
            keys.push_back(key + "_range");
            keys.push_back(key + "_sure");
        }
    }
    return changes_sheet(a, units).text({keys.begin(), keys.end()}, units, wide) + "\n";
}

// What each does, a row a propeller, the present one first: full throttle, then the rest.
std::string values_by_row(const Compared& a, Units units) {
    const Sheet sheet = values_sheet(a, units);
    std::string out;
    for (const auto& [name, group] :
         {std::pair{"full", Group::full_throttle}, {"rest", Group::cruise_and_more}}) {
        std::vector<Pick> picks = {name};
        for (const FigureRow& figure : figure_table())
            if (figure.group == group && known(a.comparison.rows, figure.figure))
                picks.emplace_back(figure.key);
        out += sheet.text(picks, units, wide) + "\n";
    }
    return out;
}

// What changes, a row a quantity: as many candidates side by side as there is room for.
std::string figures(const Compared& a, Units units) {
    const std::size_t count = a.order.size();
    const std::vector<CompareRow>& rows = a.comparison.rows;
    const bool ranges = std::any_of(rows.begin(), rows.end(), [](const CompareRow& row) {
        return row.differences[at(Figure::static_rotation)].has_value();
    });
    std::vector<Figure> shown;
    for (const FigureRow& figure : figure_table())
        if (figure.group != Group::none && known(rows, figure.figure))
            shown.push_back(figure.figure);
    const std::size_t together = ranges ? 2 : 6;
    std::string out;
    for (std::size_t from = 0; from == 0 || from < count; from += together) {
        SideBySide who = {{0}, {}};
        std::vector<std::string> keys = {"label", "unit", "value_0"};
        for (std::size_t k = from; k < std::min(count, from + together); ++k) {
            who.changes.push_back(k);
            keys.push_back(fmt::format("change_{}", k));
            if (ranges) {
                keys.push_back(fmt::format("range_{}", k));
                keys.push_back(fmt::format("sure_{}", k));
            }
        }
        const Sheet sheet = figures_sheet(a, shown, who, units);
        out += sheet.text({keys.begin(), keys.end()}, units, wide) + "\n";
    }
    return out;
}

std::string flight_lines(const Compared& a, Units units) {
    std::vector<std::string> lines;
    for (const std::size_t i : told_in_full(a))
        if (auto line = flight_line(a.comparison.rows[i], sentence_units(units)))
            lines.push_back(*std::move(line));
    return listed("More of each:", lines);
}

std::string angle_table(const AngleStudy& study, const std::string& name, const Compared& a,
                        Units units) {
    std::string out =
        wrapped(fmt::format("\"{}\" turned in its hub (coarser is positive):", name)) +
        angle_sheet(study, units).text(angle_picks(), units);
    for (const std::string& line : angle_sentences(study, a.from))
        out += wrapped(line);
    return out + "\n";
}

// Title, headline, and what is said of each against the present one.
std::string opening(const Compared& a) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    std::string out;
    if (!a.from.title.empty())
        out += wrapped(a.from.title) + "\n";
    for (const std::string& line : a.headline)
        out += wrapped(line);
    if (!a.headline.empty())
        out += "\n";
    if (!a.order.empty()) {
        out += wrapped(
            fmt::format("{}; ranked by {}:", against_first(rows[0].name), ranked_by(a.from.goals)));
        for (std::size_t k = 0; k < (many(a) ? first_few : a.order.size()); ++k) {
            out += wrapped(fmt::format("{} \"{}\": {}", letter(k), rows[a.order[k]].name,
                                       fmt::join(a.sentences[a.order[k]], " ")),
                           "- ");
        }
        out += many(a) ? wrapped(others_in_tables(a.order.size() - first_few)) : std::string();
        out += "\n";
    }
    return out;
}

// What is to be noted of those told in full.
std::string warnings_of(const Compared& a) {
    const std::vector<CompareRow>& rows = a.comparison.rows;
    std::vector<std::pair<std::string, std::string>> warnings;
    for (const std::size_t i : told_in_full(a))
        for (const std::string& line : a.warnings[i])
            warnings.emplace_back(rows[i].name, line);
    const std::string take_note = listed(
        many(a)
            ? fmt::format("Take note (the other {}: --json or --page):", a.order.size() - first_few)
            : "Take note:",
        once_each(warnings, rows.size()));
    return take_note + (take_note.empty() ? "" : "\n");
}

}  // namespace

std::string compare_text(const Compared& a, Units units) {
    std::string out = asked_first(a.unusual) + opening(a) +
                      wrapped(day_sentence(a.from, a.air, units)) +
                      wrapped(tables_explained(a.comparison, a.from.plan, many(a), units));
    out += "\n" + (many(a) ? overview(a, units) + values_by_row(a, units) : figures(a, units));
    for (const auto& [index, study] : a.angles)
        out += angle_table(study, a.comparison.rows[index].name, a, units);
    out += flight_lines(a, units) + "\n" + warnings_of(a);
    const std::string about = listed("About the case:", a.below);
    return out + about + "\n" + cautions();
}

}  // namespace loadline::cli
