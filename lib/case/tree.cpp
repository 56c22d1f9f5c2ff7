#include "loadline/case/tree.hpp"

#include "loadline/case/case.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>
#include <algorithm>
#include <tuple>

namespace loadline {
namespace {

Place place_of(const toml::source_region& region) {
    return {static_cast<int>(std::max<toml::source_index>(region.begin.line, 1)),
            static_cast<int>(std::max<toml::source_index>(region.begin.column, 1))};
}

Node converted(const toml::node& from) {
    Node node;
    node.place = place_of(from.source());
    if (const auto* table = from.as_table()) {
        node.kind = NodeKind::table;
        for (const auto& [key, value] : *table) {
            node.entries.push_back(
                {std::string(key.str()), place_of(key.source()), converted(value)});
        }
        std::stable_sort(node.entries.begin(), node.entries.end(),
                         [](const Entry& a, const Entry& b) {
                             return std::tie(a.place.line, a.place.column) <
                                    std::tie(b.place.line, b.place.column);
                         });
    } else if (const auto* list = from.as_array()) {
        node.kind = NodeKind::list;
        node.items.reserve(list->size());
        for (const toml::node& item : *list) {
            node.items.push_back(converted(item));
        }
    } else if (const auto* text = from.as_string()) {
        node.kind = NodeKind::text;
        node.text = text->get();
    } else if (const auto* integer = from.as_integer()) {
        node.kind = NodeKind::integer;
        node.integer = integer->get();
        node.number = static_cast<double>(node.integer);
    } else if (const auto* number = from.as_floating_point()) {
        node.kind = NodeKind::number;
        node.number = number->get();
    } else if (const auto* boolean = from.as_boolean()) {
        node.kind = NodeKind::boolean;
        node.boolean = boolean->get();
    } else {
        node.kind = NodeKind::date;
    }
    return node;
}

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\n";
    const std::size_t first = text.find_first_not_of(blanks);
    return first == std::string_view::npos
               ? std::string_view()
               : text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::string_view line_of(std::string_view text, int line) {
    for (int i = 1; i < line; ++i) {
        const std::size_t end = text.find('\n');
        if (end == std::string_view::npos) {
            return {};
        }
        text.remove_prefix(end + 1);
    }
    return trimmed(text.substr(0, text.find('\n')));
}

// What is usually meant by a line that does not read as TOML.
std::string remedy_for(std::string_view line, std::string_view description) {
    const std::size_t equals = line.find('=');
    const std::string_view key = trimmed(line.substr(0, equals));
    const std::string_view value =
        equals == std::string_view::npos ? std::string_view() : trimmed(line.substr(equals + 1));
    const bool starts_as_number =
        !value.empty() && (value[0] == '+' || value[0] == '-' || value[0] == '.' ||
                           (value[0] >= '0' && value[0] <= '9'));
    const auto says = [&](std::string_view words) {
        return description.find(words) != std::string_view::npos;
    };
    if (says("redefine")) {
        return "write each key and each table once";
    }
    if (equals != std::string_view::npos && value.empty()) {
        return fmt::format("write a value behind \"{} =\"", quotable(key));
    }
    if (starts_as_number && value.find('"') == std::string_view::npos) {
        return fmt::format("a number with a unit goes in quotes: {} = \"{}\"", quotable(key),
                           quotable(trimmed(value.substr(0, value.find('#')))));
    }
    if (says("control characters")) {
        return "close the quotes on the line they begin on";
    }
    if (says("end-of-file")) {
        return "something is left open: close quotes and brackets";
    }
    if (says("value type")) {
        return fmt::format("a text goes in quotes: {} = \"{}\"", quotable(key),
                           quotable(trimmed(value.substr(0, value.find('#')))));
    }
    if (equals == std::string_view::npos && !line.starts_with('[') && !line.starts_with('"')) {
        return "write a line such as key = \"value\", or begin a remark with #";
    }
    if (line.starts_with('[') && equals == std::string_view::npos && !line.ends_with(']')) {
        return "close the bracket; a table header stands alone on its line";
    }
    return "a value is a text in quotes, a number, true or false, or a list in [ ] with commas; "
           "check quotes, commas and brackets here and on the line before";
}

// What the TOML library found, in one line and without words that speak of the library itself.
std::string in_one_line(std::string_view description) {
    constexpr std::string_view opening = "Error while parsing ";
    std::string out(description.substr(description.starts_with(opening) ? opening.size() : 0));
    const std::size_t macro = out.find(" (TOML_");
    if (macro != std::string::npos) {
        out.erase(macro, out.find(')', macro) - macro + 1);
    }
    std::replace_if(
        out.begin(), out.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20U; }, ' ');
    return out;
}

}  // namespace

std::string_view name_of(NodeKind kind) {
    switch (kind) {
        case NodeKind::text:
            return "a text in quotes";
        case NodeKind::integer:
            return "a whole number";
        case NodeKind::number:
            return "a number";
        case NodeKind::boolean:
            return "true or false";
        case NodeKind::date:
            return "a date or time";
        case NodeKind::list:
            return "a list";
        case NodeKind::table:
            break;
    }
    return "a table";
}

Node parse_tree(std::string_view text, const std::filesystem::path& file) {
    try {
        const toml::table document = toml::parse(text);
        return converted(document);
    } catch (const toml::parse_error& error) {
        const Place place = place_of(error.source());
        throw CaseError(
            {{file.string(), place.line, place.column,
              fmt::format("this does not read as TOML ({})", in_one_line(error.description())),
              remedy_for(line_of(text, place.line), error.description())}});
    }
}

}  // namespace loadline
