#include "loadline/case/detail/fields.hpp"

#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <tuple>

namespace loadline {
namespace {

std::string as_written(const Node& node) {
    switch (node.kind) {
        case NodeKind::text:
            return fmt::format("\"{}\"", quotable(node.text));
        case NodeKind::integer:
            return fmt::format("{}", node.integer);
        case NodeKind::number: {
            const std::string digits = fmt::format("{:g}", node.number);
            const bool looks_whole = digits.find_first_not_of("-0123456789") == std::string::npos;
            return looks_whole ? digits + ".0" : digits;
        }
        case NodeKind::boolean:
            return node.boolean ? "true" : "false";
        default:
            return std::string(name_of(node.kind));
    }
}

std::string in_words(const Range& range) {
    const std::string_view behind = range.unit == "%" || range.unit.empty() ? "" : " ";
    return range.unit == "%"
               ? fmt::format("{:g} to {:g} %", range.lowest, range.highest)
               : fmt::format("{:g} to {:g}{}{}", range.lowest, range.highest, behind, range.unit);
}

bool is_number(const Node& node) {
    return node.kind == NodeKind::integer || node.kind == NodeKind::number;
}

}  // namespace

void CaseFaults::add(Place place, std::string what, std::string remedy) {
    add({{file_.string(), place.line, place.column, std::move(what), std::move(remedy)}});
}

void CaseFaults::add(const std::vector<CaseFault>& others) {
    for (const CaseFault& fault : others) {
        ++count_;
        if (faults_.size() < most::faults_kept)
            faults_.push_back(fault);
    }
}

bool CaseFaults::full() const {
    return faults_.size() >= most::faults_kept;
}

void CaseFaults::throw_if_any() const {
    if (faults_.empty())
        return;
    std::vector<CaseFault> sorted = faults_;
    const std::string own = file_.string();
    std::stable_sort(sorted.begin(), sorted.end(), [&](const CaseFault& a, const CaseFault& b) {
        const bool a_elsewhere = a.file != own;
        const bool b_elsewhere = b.file != own;
        return std::tie(a_elsewhere, a.file, a.line, a.column) <
               std::tie(b_elsewhere, b.file, b.line, b.column);
    });
    // One cause may be met at several stations.
    const auto same = [](const CaseFault& a, const CaseFault& b) {
        return std::tie(a.file, a.line, a.column, a.what) ==
               std::tie(b.file, b.line, b.column, b.what);
    };
    sorted.erase(std::unique(sorted.begin(), sorted.end(), same), sorted.end());
    throw CaseError(std::move(sorted));
}

namespace {

// "8000 rpm" of "8.000 rpm": three digits behind the point may stand for thousands.
std::optional<std::string> without_grouping(const std::string& text) {
    const std::size_t point = text.find('.');
    const auto digit = [&](std::size_t i) {
        return i < text.size() && text[i] >= '0' && text[i] <= '9';
    };
    if (point == std::string::npos || point == 0 || !digit(point - 1) || text[0] == '0' ||
        !digit(point + 1) || !digit(point + 2) || !digit(point + 3) || digit(point + 4))
        return std::nullopt;
    return text.substr(0, point) + text.substr(point + 1);
}

// Of a value out of range, what the same number would be in the other units of its dimension, as
// far as that lies within: "124 kg" of "124 g", "97 %" of 97.
// The nearest two.
std::string other_units(const Node& node, Dimension dimension, double written, double lowest,
                        double highest) {
    const bool bare = is_number(node);
    double number = node.number;
    if (!bare) {
        const std::string text(trimmed(node.text));
        char* end = nullptr;
        number = std::strtod(text.c_str(), &end);
        if (end == text.c_str())
            return {};
    }
    std::vector<std::string> units;
    if (dimension == Dimension::fraction) {
        if (!bare && node.text.find('%') != std::string::npos)
            return {};
        units.emplace_back("%");
    } else {
        std::string known = units_of(dimension);
        for (std::size_t at = known.find(" or "); at != std::string::npos; at = known.find(" or "))
            known.replace(at, 4, ", ");
        for (std::size_t from = 0; from < known.size();) {
            const std::size_t to = std::min(known.find(", ", from), known.size());
            units.push_back(known.substr(from, to - from));
            from = to + 2;
        }
    }
    std::vector<std::pair<double, std::string>> near;
    for (const std::string& unit : units) {
        const double value = from_unit(number, unit);
        if (value >= lowest && value <= highest) {
            near.emplace_back(std::abs(std::log(std::abs(value / written))),
                              fmt::format("\"{:g} {}\"", number, unit));
        }
    }
    std::sort(near.begin(), near.end());
    std::vector<std::string> fitting;
    for (const auto& [distance, words] : near)
        if (fitting.size() < 2)
            fitting.push_back(words);
    return fitting.empty() ? std::string()
                           : fmt::format("; {} if that was meant", fmt::join(fitting, " or "));
}

}  // namespace

std::optional<double> read_quantity(const Node& node, Dimension dimension, std::string_view label,
                                    std::optional<Range> range, std::string_view example_unit,
                                    CaseFaults& faults) {
    const std::string_view unit = range ? range->unit : example_unit;
    double value = 0.0;
    if (node.kind == NodeKind::text) {
        try {
            value = parse_quantity(node.text, dimension);
        } catch (const QuantityError& error) {
            faults.add(node.place, fmt::format("{}: {}", label, error.what()), error.remedy);
            return std::nullopt;
        }
    } else if (is_number(node) && dimension == Dimension::fraction) {
        value = node.number;
    } else if (is_number(node) && !std::isfinite(node.number)) {
        value = node.number;  // no advice repeats it
    } else if (is_number(node)) {
        faults.add(node.place, fmt::format("{} is the bare number {}", label, as_written(node)),
                   fmt::format("write it in quotes with its unit, such as \"{} {}\"; these would "
                               "do: {}",
                               as_written(node), unit, units_of(dimension)));
        return std::nullopt;
    } else {
        faults.add(node.place,
                   fmt::format("{} is {}, not a {}", label, as_written(node), name_of(dimension)),
                   fmt::format("write a text in quotes, such as \"12 {}\"; these units would do: "
                               "{}",
                               unit, units_of(dimension)));
        return std::nullopt;
    }
    if (!std::isfinite(value)) {
        faults.add(node.place, fmt::format("{} is not a number", label),
                   fmt::format("write a quantity such as \"12 {}\"", unit));
        return std::nullopt;
    }
    if (range) {
        const double lowest = from_unit(range->lowest, range->unit);
        const double highest = from_unit(range->highest, range->unit);
        // A unit's conversion must not push a value at the very end over it.
        const double slack = 1e-9 * std::max(std::abs(lowest), std::abs(highest));
        if (value < lowest - slack || value > highest + slack) {
            const auto meant = without_grouping(node.text);
            const bool fits = meant && 1000.0 * value >= lowest && 1000.0 * value <= highest;
            faults.add(
                node.place, fmt::format("{} is {}, which is out of range", label, as_written(node)),
                fmt::format(
                    "write {}{}", in_words(*range),
                    fits ? fmt::format("; \"{}\" if the point was to group thousands", *meant)
                         : other_units(node, dimension, value, lowest, highest)));
            return std::nullopt;
        }
        value = std::clamp(value, lowest, highest);
    }
    return value;
}

Fields::Fields(const Node& table, Place header, std::string title, CaseFaults& faults)
    : table_(&table), header_(header), title_(std::move(title)), faults_(&faults) {}

const Node* Fields::find(std::string_view key) {
    known_.emplace_back(key);
    for (const Entry& entry : table_->entries)
        if (entry.key == key)
            return &entry.value;
    return nullptr;
}

Place Fields::place_of(std::string_view key) const {
    for (const Entry& entry : table_->entries)
        if (entry.key == key)
            return entry.place;
    return header_;
}

void Fields::wrong_kind(const Node& node, std::string_view key, std::string_view wanted,
                        std::string_view example) {
    faults_->add(node.place, fmt::format("{} is {}, not {}", key, as_written(node), wanted),
                 fmt::format("write {} = {}", key, example));
}

std::optional<double> Fields::quantity(std::string_view key, Dimension dimension, Range range) {
    const Node* const node = find(key);
    return node ? read_quantity(*node, dimension, key, range, range.unit, *faults_) : std::nullopt;
}

std::optional<double> Fields::number(std::string_view key, double lowest, double highest) {
    const Node* const node = find(key);
    if (!node)
        return std::nullopt;
    const std::string remedy =
        fmt::format("write a number from {:g} to {:g}, without quotes", lowest, highest);
    if (!is_number(*node)) {
        faults_->add(node->place, fmt::format("{} is {}, not a number", key, as_written(*node)),
                     remedy);
        return std::nullopt;
    }
    if (!(node->number >= lowest && node->number <= highest)) {
        std::string point;
        for (const double meant : {0.1 * node->number, 10.0 * node->number})
            if (meant >= lowest && meant <= highest)
                point = fmt::format("; {:g} if the decimal point slipped", meant);
        faults_->add(node->place,
                     fmt::format("{} is {}, which is out of range", key, as_written(*node)),
                     remedy + point);
        return std::nullopt;
    }
    return node->number;
}

std::optional<int> Fields::whole(std::string_view key, int lowest, int highest) {
    const Node* const node = find(key);
    if (!node)
        return std::nullopt;
    const std::string remedy = fmt::format("write a whole number from {} to {}", lowest, highest);
    if (node->kind != NodeKind::integer) {
        faults_->add(node->place,
                     fmt::format("{} is {}, not a whole number", key, as_written(*node)), remedy);
        return std::nullopt;
    }
    if (node->integer < lowest || node->integer > highest) {
        faults_->add(node->place,
                     fmt::format("{} is {}, which is out of range", key, as_written(*node)),
                     remedy);
        return std::nullopt;
    }
    return static_cast<int>(node->integer);
}

std::optional<bool> Fields::flag(std::string_view key) {
    const Node* const node = find(key);
    if (!node)
        return std::nullopt;
    if (node->kind != NodeKind::boolean) {
        wrong_kind(*node, key, "true or false", "true or false, without quotes");
        return std::nullopt;
    }
    return node->boolean;
}

std::optional<std::string> Fields::text(std::string_view key) {
    const Node* const node = find(key);
    if (!node)
        return std::nullopt;
    if (node->kind != NodeKind::text) {
        wrong_kind(*node, key, "a text in quotes", "\"...\"");
        return std::nullopt;
    }
    if (has_control_character(node->text)) {
        faults_->add(node->place,
                     fmt::format("{} holds a line break or another control character", key),
                     "write it on one line");
        return std::nullopt;
    }
    if (characters_in(node->text) > most::name_length) {
        faults_->add(node->place,
                     fmt::format("{} is longer than {} letters", key, most::name_length),
                     "shorten it");
        return std::nullopt;
    }
    return node->text;
}

std::optional<std::size_t> Fields::choice(std::string_view key,
                                          const std::vector<std::string>& words) {
    const auto written = text(key);
    if (!written)
        return std::nullopt;
    const auto found = std::find(words.begin(), words.end(), *written);
    if (found != words.end())
        return static_cast<std::size_t>(found - words.begin());
    std::vector<std::string> quoted;
    for (const std::string& word : words)
        quoted.push_back(fmt::format("\"{}\"", word));
    const auto meant = nearest(*written, words);
    for (const Entry& entry : table_->entries) {
        if (entry.key == key) {
            faults_->add(entry.value.place,
                         fmt::format("{} = \"{}\" is not known", key, quotable(*written)),
                         meant ? fmt::format("perhaps \"{}\" is meant; these would do: {}", *meant,
                                             one_of(quoted))
                               : fmt::format("write {}", one_of(quoted)));
        }
    }
    return std::nullopt;
}

std::optional<Fields> Fields::table(std::string_view key, std::string title) {
    const Node* const node = find(key);
    if (!node)
        return std::nullopt;
    if (node->kind != NodeKind::table) {
        const bool repeated = node->kind == NodeKind::list && !node->items.empty() &&
                              node->items.front().kind == NodeKind::table;
        const std::string remedy =
            title.starts_with('[')
                ? fmt::format("{} {} on a line of its own, with its keys below",
                              repeated ? "there is only one of it: write" : "write", title)
                : fmt::format("write {} = {{ ... }} with its keys inside", key);
        faults_->add(node->place,
                     repeated ? fmt::format("{} is a list of tables, not one table", key)
                              : fmt::format("{} is {}, not a table", key, as_written(*node)),
                     remedy);
        return std::nullopt;
    }
    return Fields(*node, place_of(key), std::move(title), *faults_);
}

void Fields::require(std::string_view key, std::string_view example) {
    require_one_of({std::string(key)}, header_, fmt::format("{} has no {}", title_, key),
                   fmt::format("write {}", example));
}

void Fields::require_one_of(const std::vector<std::string>& keys, Place place, std::string what,
                            std::string remedy) {
    known_.insert(known_.end(), keys.begin(), keys.end());
    const bool there =
        std::any_of(table_->entries.begin(), table_->entries.end(), [&](const Entry& entry) {
            return std::find(keys.begin(), keys.end(), entry.key) != keys.end();
        });
    if (!there)
        missing_.push_back({keys, place, std::move(what), std::move(remedy)});
}

void Fields::finish() {
    std::sort(known_.begin(), known_.end());
    known_.erase(std::unique(known_.begin(), known_.end()), known_.end());
    for (const Entry& entry : table_->entries) {
        if (std::binary_search(known_.begin(), known_.end(), entry.key))
            continue;
        if (faults_->full())
            break;
        const auto meant = nearest(entry.key, known_);
        std::erase_if(missing_, [&](const Missing& missing) {
            return meant && std::find(missing.keys.begin(), missing.keys.end(), *meant) !=
                                missing.keys.end();
        });
        faults_->add(entry.place, fmt::format("{} knows no \"{}\"", title_, quotable(entry.key)),
                     meant ? fmt::format("perhaps \"{}\" is meant", *meant)
                           : fmt::format("write one of {}, or remove it", one_of(known_)));
    }
    for (Missing& missing : missing_)
        faults_->add(missing.place, std::move(missing.what), std::move(missing.remedy));
    missing_.clear();
}

}  // namespace loadline
