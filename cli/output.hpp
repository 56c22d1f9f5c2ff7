#pragma once
/// Numbers on their way out: SI for programs, the reader's units for people.

#include "cli/command.hpp"
#include "cli/json.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/notes.hpp"
#include "loadline/words/units.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loadline::cli {

/// The units of the library's sentences.
SentenceUnits sentence_units(Units units);

/// The value, or null with a line in `warnings` saying that `key` could not be computed.
Json finite_or_null(double value, std::string_view key, std::vector<std::string>& warnings);

/// Puts numbers into a document: null, with a line in `warnings`, what could not be computed; null
/// alone what there is not.
class Writer {
public:
    explicit Writer(std::vector<std::string>& warnings) : warnings_(&warnings) {}

    [[nodiscard]] Json number(double value, std::string_view key) const;
    [[nodiscard]] Json number(const std::optional<double>& value, std::string_view key) const;
    void put(Json& json, std::string_view key, double value) const;
    void put(Json& json, std::string_view key, const std::optional<double>& value) const;
    [[nodiscard]] std::vector<std::string>& warnings() const { return *warnings_; }

private:
    std::vector<std::string>* warnings_;
};

/// Odds that limits are passed, each null where there is no such limit or nothing was drawn.
Json limits_json(const LimitOdds& odds);

/// What the reader of an answer should know of the case itself: what looks turned round in it, and
/// what was assumed of each propeller.
std::vector<std::string> case_notes(const Case& from,
                                    const std::vector<const Propeller*>& propellers);

/// What is to be asked before an answer is read: values unlike the trade, figures that stand out,
/// and where there are none of these, what may stand behind a speed that is of no use. `rotors`
/// those of the propellers, or none where an engine is not asked; `standing` as slips_behind has
/// it.
std::vector<std::string> unusual_in(const Case& from,
                                    const std::vector<const Propeller*>& propellers, Units units,
                                    const std::vector<Rotor>& rotors = {},
                                    const std::vector<std::optional<double>>& standing = {});

/// The same as a block of text, with a line end behind it; empty for none.
std::string asked_first(const std::vector<std::string>& unusual);

inline constexpr const char* asked_first_heading = "First, is this right?";

/// Its title and the names of its propellers.
std::vector<std::string> names_of(const Case& from);

/// What everyone who acts on an answer should have read, wrapped.
std::string cautions();

/// "Heading" and each line behind a dash; empty without lines.
std::string listed(std::string_view heading, const std::vector<std::string>& lines);

}  // namespace loadline::cli
