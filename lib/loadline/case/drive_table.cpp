#include "loadline/case/detail/tables.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <utility>

namespace loadline {
namespace {

// The ratio of two toothed wheels, driving and driven.
std::optional<double> read_teeth(const Node& node, CaseFaults& faults) {
    constexpr int fewest = 5;
    constexpr int most = 1000;
    const auto is_count = [](const Node& n) {
        return n.kind == NodeKind::integer && n.integer >= fewest && n.integer <= most;
    };
    if (node.kind != NodeKind::list || node.items.size() != 2 || !is_count(node.items[0]) ||
        !is_count(node.items[1])) {
        faults.add(node.place, "teeth is not a pair of counts",
                   fmt::format("write teeth = [20, 64]: driving wheel, then driven, each {} to {}",
                               fewest, most));
        return std::nullopt;
    }
    return node.items[1].number / node.items[0].number;
}

// "3.2:1", as ratios are spoken of: the one number that is meant. Whichever side is larger, a
// reduction is.
std::optional<double> spoken_ratio(std::string_view text) {
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos)
        return std::nullopt;
    try {
        const double a = parse_quantity(text.substr(0, colon), Dimension::fraction);
        const double b = parse_quantity(text.substr(colon + 1), Dimension::fraction);
        return a > 0.0 && b > 0.0 ? std::optional(std::max(a, b) / std::min(a, b)) : std::nullopt;
    } catch (const QuantityError&) {
        return std::nullopt;
    }
}

std::optional<double> read_ratio(Fields& fields, double lowest, double highest,
                                 CaseFaults& faults) {
    const Node* const node = fields.find("ratio");
    if (node != nullptr && node->kind == NodeKind::text) {
        if (const auto spoken = spoken_ratio(node->text)) {
            faults.add(node->place,
                       fmt::format("ratio is \"{}\", not one number", quotable(node->text)),
                       fmt::format("write {:.4g}: engine turns per propeller turn", *spoken));
            return std::nullopt;
        }
    }
    return fields.number("ratio", lowest, highest);
}

// A propeller that turns faster than its engine is possible, but mostly a pair turned round.
std::optional<std::string> stepped_up(const Drive& drive, const Node* teeth) {
    if (drive.ratio >= 1.0)
        return std::nullopt;
    const std::string written =
        teeth != nullptr ? fmt::format("teeth = [driving, driven]: {} driving {}",
                                       teeth->items.at(0).integer, teeth->items.at(1).integer)
                         : fmt::format("ratio = {:.4g}", drive.ratio);
    return fmt::format("{} makes the propeller turn {:.2g} times faster than the engine", written,
                       1.0 / drive.ratio);
}

}  // namespace

std::optional<Drive> read_drive(Fields fields, CaseFaults& faults,
                                std::vector<std::string>& notes) {
    constexpr double lowest = 0.2;
    constexpr double highest = 20.0;
    const std::size_t faults_before = faults.count();
    Drive drive;
    const auto ratio = read_ratio(fields, lowest, highest, faults);
    const Node* const teeth = fields.find("teeth");
    // 1 when the teeth did not read: then a fault was noted.
    const double from_teeth = teeth ? read_teeth(*teeth, faults).value_or(1.0) : 1.0;
    drive.efficiency =
        fields.quantity("efficiency", Dimension::fraction, {50.0, 100.0, "%"}).value_or(1.0);
    if (fields.find("ratio") && teeth) {
        faults.add(fields.place_of("teeth"), "both ratio and teeth are given",
                   "keep one of them: teeth give the ratio");
    } else if (from_teeth < lowest || from_teeth > highest) {
        faults.add(fields.place_of("teeth"),
                   fmt::format("the teeth make a ratio of {:g}", from_teeth),
                   "write driving wheel first, then driven");
    }
    fields.require_one_of({"ratio", "teeth"}, fields.header(), "[drive] has no ratio",
                          "write ratio = 3.2, engine turns per propeller turn (1 without "
                          "reduction), or teeth = [20, 64]");
    fields.finish();
    drive.ratio = teeth ? from_teeth : ratio.value_or(1.0);
    if (faults.count() > faults_before)
        return std::nullopt;
    if (auto note = stepped_up(drive, teeth))
        notes.push_back(*std::move(note));
    return drive;
}

}  // namespace loadline
