#include "cli/output.hpp"

#include "cli/table.hpp"
#include "loadline/words/notes.hpp"
#include "loadline/words/slip_words.hpp"

#include <fmt/format.h>
#include <cmath>

namespace loadline::cli {

SentenceUnits sentence_units(Units units) {
    return units;
}

Json finite_or_null(double value, std::string_view key, std::vector<std::string>& warnings) {
    if (std::isfinite(value))
        return value;
    warnings.push_back(fmt::format("{} could not be computed", key));
    return nullptr;
}

Json Writer::number(double value, std::string_view key) const {
    return finite_or_null(value, key, *warnings_);
}

Json Writer::number(const std::optional<double>& value, std::string_view key) const {
    return value ? number(*value, key) : Json();
}

void Writer::put(Json& json, std::string_view key, double value) const {
    json[key] = number(value, key);
}

void Writer::put(Json& json, std::string_view key, const std::optional<double>& value) const {
    json[key] = number(value, key);
}

Json limits_json(const LimitOdds& odds) {
    const auto of = [](const std::optional<double>& share) {
        return share ? Json(*share) : Json(nullptr);
    };
    return {{"over_rpm_limit", of(odds.over_limit)},
            {"below_torque_peak", of(odds.below_peak)},
            {"over_head_limit", of(odds.over_head)},
            {"loud_tips", of(odds.fast_tips)},
            {"into_cage", of(odds.into_cage)}};
}

std::vector<std::string> names_of(const Case& from) {
    std::vector<std::string> names = {from.title};
    for (const Propeller& propeller : from.propellers)
        names.push_back(propeller.name);
    return names;
}

std::vector<std::string> case_notes(const Case& from,
                                    const std::vector<const Propeller*>& propellers) {
    std::vector<std::string> notes = from.notes;
    for (std::string& line : cage_notes(from, propellers))
        notes.push_back(std::move(line));
    for (std::string& line : assumption_notes(propellers))
        notes.push_back(std::move(line));
    return notes;
}

std::vector<std::string> unusual_in(const Case& from,
                                    const std::vector<const Propeller*>& propellers, Units units,
                                    const std::vector<Rotor>& rotors,
                                    const std::vector<std::optional<double>>& standing) {
    std::vector<std::string> asked = from.doubted;
    for (std::string& line : questions_first(from, propellers, units))
        asked.push_back(std::move(line));
    if (!asked.empty() || rotors.empty())
        return asked;
    std::vector<const Rotor*> all;
    for (const Rotor& rotor : rotors)
        all.push_back(&rotor);
    return slip_questions(slips_behind(from, all, air_at_field(from.day), standing), units);
}

std::string asked_first(const std::vector<std::string>& unusual) {
    const std::string block = listed(asked_first_heading, unusual);
    return block.empty() ? block : block + "\n";
}

std::string cautions() {
    return wrapped(caution_text());
}

std::string listed(std::string_view heading, const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines)
        out += wrapped(line, "- ");
    return out.empty() ? out : fmt::format("{}\n{}", heading, out);
}

}  // namespace loadline::cli
