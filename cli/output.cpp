#include "cli/output.hpp"

#include "cli/table.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/questions.hpp"
#include "loadline/words/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
SentenceUnits sentence_units(Units units) {
    return units;
}

Json finite_or_null(double value, std::string_view key, std::vector<std::string>& warnings) {
    if (std::isfinite(value)) {
        return value;
    }
    warnings.push_back(fmt::format("{} could not be computed", key));
    return nullptr;
}

std::string day_sentence(const Case& from, const Air& air, Units units) {
    const std::string humidity =
        from.humidity_given
            ? "humidity " + quantity_of(from.day.relative_humidity, Shown::fraction, units)
            : std::string("dry air (no humidity given)");
    return fmt::format(
        "The day: {} above sea level, {}, {}; air density {} kg/m3, as on a standard day at {}.",
        quantity_of(from.day.elevation_m, Shown::elevation, units),
        quantity_of(air.temperature, Shown::temperature, units), humidity,
        plain_number(air.density, 3),
        quantity_of(density_altitude(air.density), Shown::elevation, units));
}

std::vector<std::string> names_of(const Case& from) {
    std::vector<std::string> names = {from.title};
    for (const Propeller& propeller : from.propellers) {
        names.push_back(propeller.name);
    }
    return names;
}

std::vector<std::string> case_notes(const Case& from,
                                    const std::vector<const Propeller*>& propellers, Units units) {
    std::vector<std::string> notes = from.notes;
    if (from.engine) {
        for (std::string& line :
             questions_about(odd_figures(from.engine->description()), sentence_units(units))) {
            notes.push_back(std::move(line));
        }
    }
    std::vector<std::pair<std::string, std::string>> said;
    for (const Propeller* propeller : propellers) {
        for (std::string& line :
             questions_about(odd_figures(propeller->description), sentence_units(units))) {
            said.emplace_back(propeller->name, std::move(line));
        }
        if (!propeller->section_note.empty()) {
            said.emplace_back(propeller->name, propeller->section_note);
        }
    }
    for (std::string& line : once_each(said, propellers.size())) {
        notes.push_back(std::move(line));
    }
    return notes;
}

std::vector<std::string> once_each(const std::vector<std::pair<std::string, std::string>>& said,
                                   std::size_t of) {
    std::vector<std::pair<std::string, std::vector<std::string>>> lines;
    for (const auto& [name, line] : said) {
        const auto same = std::find_if(lines.begin(), lines.end(),
                                       [&](const auto& other) { return other.first == line; });
        if (same == lines.end()) {
            lines.push_back({line, {name}});
        } else {
            same->second.push_back(name);
        }
    }
    std::vector<std::string> out;
    for (const auto& [line, names] : lines) {
        out.push_back(fmt::format("{}: {}",
                                  names.size() == of && of > 1
                                      ? std::string("all propellers")
                                      : fmt::format("{}", fmt::join(names, ", ")),
                                  line));
    }
    return out;
}

std::string_view caution_text() {
    return "Caution: these are a model's figures, not a release to fly. The limits of the makers "
           "of "
           "engine, propeller and craft come first, then local rules and your instructor or "
           "inspector. Tie the craft down for a full-throttle run, and keep everyone clear of the "
           "propeller and of the plane it turns in.";
}

std::string cautions() {
    return wrapped(caution_text());
}

std::string listed(std::string_view heading, const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines) {
        out += wrapped(line, "- ");
    }
    return out.empty() ? out : fmt::format("{}\n{}", heading, out);
}

}  // namespace loadline::cli
