#include "loadline/case/detail/tree.hpp"

#include "loadline/case/case.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>
#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
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
        for (const toml::node& item : *list)
            node.items.push_back(converted(item));
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

std::string_view untrimmed_line_of(std::string_view text, int line) {
    for (int i = 1; i < line; ++i) {
        const std::size_t end = text.find('\n');
        if (end == std::string_view::npos)
            return {};
        text.remove_prefix(end + 1);
    }
    return text.substr(0, text.find('\n'));
}

std::string_view line_of(std::string_view text, int line) {
    return trimmed(untrimmed_line_of(text, line));
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// What went wrong in plain words, what to write instead, and where when that is not where the
// parser stopped.
struct Advice {
    std::string what;
    std::string remedy;
    std::optional<Place> place = {};
};

// The line the parser stopped on.
struct Stop {
    std::string_view text;         // the whole document
    std::string_view line;         // where it stopped, trimmed
    std::string_view value;        // behind the first '=', or the whole line when there is none
    std::string_view item;         // of a list, around the place, without quotes left of it
    std::string_view description;  // the parser's
    bool in_list;                  // a bracket opened on a line before is still open

    [[nodiscard]] bool says(std::string_view words) const {
        return description.find(words) != std::string_view::npos;
    }
    [[nodiscard]] bool has_equals() const { return line.find('=') != std::string_view::npos; }
    [[nodiscard]] std::string key() const {
        return quotable(trimmed(line.substr(0, line.find('='))));
    }
    // "key = " before a value that stands behind a key.
    [[nodiscard]] std::string with_key(const std::string& written) const {
        return has_equals() && !line.starts_with('[') && !line.starts_with('{')
                   ? fmt::format("write {} = {}", key(), written)
                   : fmt::format("write {}", written);
    }
};

// The line without what stands in straight quotes; quotes left open go on to its end.
std::string outside_quotes(std::string_view line, bool* left_open) {
    std::string out;
    char open = '\0';
    for (const char c : line)
        if (open == '\0' && (c == '"' || c == '\''))
            open = c;
        else if (c == open)
            open = '\0';
        else if (open == '\0')
            out += c;
    *left_open = open != '\0';
    return out;
}

bool has_typographic_quotes(std::string_view text) {
    constexpr std::array<std::string_view, 9> quotes = {
        "\u201C", "\u201D", "\u201E", "\u201F", "\u2018", "\u2019", "\u201A", "\u00AB", "\u00BB"};
    return std::any_of(quotes.begin(), quotes.end(), [&](std::string_view quote) {
        return text.find(quote) != std::string_view::npos;
    });
}

std::optional<Advice> typographic_quotes(const Stop& stop) {
    bool left_open = false;
    const std::string outside = outside_quotes(stop.line, &left_open);
    const bool there = has_typographic_quotes(left_open ? stop.line : std::string_view(outside));
    return there ? std::optional(Advice{"these are typographic quotes",
                                        "type straight ones, such as \"12 cm\""})
                 : std::nullopt;
}

// [propeller] once, and again in whichever brackets: the place of the first in single ones.
std::optional<Advice> single_brackets(const Stop& stop) {
    constexpr std::string_view header = "[propeller]";
    if (!stop.says("redefine") || !stop.says("'propeller'"))
        return std::nullopt;
    std::string_view rest = stop.text;
    for (int line = 1; !rest.empty(); ++line) {
        const std::size_t end = std::min(rest.find('\n'), rest.size());
        if (trimmed(rest.substr(0, end)).starts_with(header)) {
            const auto column = static_cast<int>(rest.find('[')) + 1;
            return Advice{"[propeller] stands in single brackets",
                          "there may be several of them: write [[propeller]]", Place{line, column}};
        }
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return std::nullopt;
}

std::optional<Advice> written_twice(const Stop& stop) {
    if (!stop.says("redefine"))
        return std::nullopt;
    const std::size_t first = stop.description.find('\'');
    const std::size_t last = stop.description.rfind('\'');
    const std::string name =
        first < last
            ? fmt::format("\"{}\"", quotable(stop.description.substr(first + 1, last - first - 1)))
            : std::string("this name");
    return Advice{name + " is written twice", "write each key and each table once"};
}

// "7,0", "3.2:1" and "1240 m" outside quotes.
std::optional<Advice> bare_number(const Stop& stop) {
    const std::string_view written = stop.has_equals() ? stop.value : stop.item;
    const std::size_t sign = !written.empty() && (written[0] == '-' || written[0] == '+') ? 1 : 0;
    std::size_t whole = sign;
    while (whole < written.size() && is_digit(written[whole]))
        ++whole;
    const bool number = whole > sign || written.substr(sign).starts_with('.');
    if (!number || written.find('"') != std::string_view::npos)
        return std::nullopt;
    const auto digit_behind = [&](std::size_t at) {
        return at + 1 < written.size() && is_digit(written[at + 1]);
    };
    if (whole < written.size() && written[whole] == ',' && digit_behind(whole)) {
        std::string meant(written);
        meant[whole] = '.';
        const bool bare = meant.find_first_not_of("+-.0123456789") == std::string::npos;
        return Advice{fmt::format("\"{}\" has a comma in its number", quotable(written)),
                      fmt::format("the decimal sign is a point: write {0}{1}{0}", bare ? "" : "\"",
                                  quotable(meant))};
    }
    const std::size_t colon = written.find(':');
    if (colon != std::string_view::npos && digit_behind(colon)) {
        const bool to_one = trimmed(written.substr(colon + 1)) == "1";
        return Advice{fmt::format("\"{}\" is not one number", quotable(written)),
                      to_one ? fmt::format("write {}", quotable(written.substr(0, colon)))
                             : std::string("write one number, such as 3.2")};
    }
    if (written.find_first_not_of("+-.0123456789eE_") == std::string_view::npos)
        return std::nullopt;
    return Advice{"a number with a unit goes in quotes",
                  stop.with_key(fmt::format("\"{}\"", quotable(written)))};
}

std::optional<Advice> in_a_list(const Stop& stop) {
    const std::size_t name = stop.line.find_first_not_of('[');
    const bool header = stop.in_list && stop.line.starts_with('[') &&
                        name != std::string_view::npos && stop.line.ends_with(']') &&
                        stop.line.find(',') == std::string_view::npos &&
                        (std::isalpha(static_cast<unsigned char>(stop.line[name])) != 0);
    if (header) {
        return Advice{"a list above this table is still open",
                      "close it with ] on a line of its own before the table"};
    }
    const std::size_t after_key = stop.line.find_first_of(" \t=.[]{}\"',#");
    const bool assignment = after_key != 0 && after_key != std::string_view::npos &&
                            trimmed(stop.line.substr(after_key)).starts_with('=') &&
                            !is_digit(stop.line[0]);
    if (assignment && stop.in_list)
        return Advice{"a list above this line is still open", "close it with ] before this line"};
    if (!stop.says("expected comma or closing"))
        return std::nullopt;
    if (stop.says("saw '['") || stop.says("saw '{'"))
        return Advice{"a comma is missing before this row", "put a comma after the row before"};
    return stop.says("saw '\"'")
               ? std::optional(Advice{"a comma is missing here", "put a comma between the values"})
               : std::nullopt;
}

std::optional<Advice> left_open(const Stop& stop) {
    bool quotes_open = false;
    static_cast<void>(outside_quotes(stop.line, &quotes_open));
    if (stop.says("control characters")) {
        return quotes_open ? Advice{"the quotes are still open where the line ends",
                                    "close the quotes on the line they begin on"}
                           : Advice{"there is an invisible control character here",
                                    "remove it, or type the line anew"};
    }
    return stop.says("end-of-file")
               ? std::optional(Advice{"the file ends too early",
                                      "something is left open: close quotes and brackets"})
               : std::nullopt;
}

std::optional<Advice> not_a_line(const Stop& stop) {
    const bool row = stop.line.starts_with('[') || stop.line.starts_with('{');
    if (stop.has_equals() && stop.value.empty()) {
        return Advice{"there is no value here",
                      fmt::format("write a value behind \"{} =\"", stop.key())};
    }
    if (stop.says("value type")) {
        const std::string_view written = row || !stop.has_equals() ? stop.item : stop.value;
        return Advice{"this is not a value",
                      "a text goes in quotes: " +
                          stop.with_key(fmt::format("\"{}\"", quotable(written))).substr(6)};
    }
    if (!stop.has_equals() && !row && !stop.line.starts_with('"')) {
        return Advice{"this is neither a key with its value nor a table",
                      "write a line such as key = \"value\", or begin a remark with #"};
    }
    if (row && !stop.has_equals() && stop.line.find(']') == std::string_view::npos) {
        return Advice{"the bracket is not closed",
                      "close the bracket; a table header stands alone on its line"};
    }
    return std::nullopt;
}

// What the TOML library found, in one line and without words that speak of the library itself.
std::string in_one_line(std::string_view description) {
    constexpr std::string_view opening = "Error while parsing ";
    std::string out(description.substr(description.starts_with(opening) ? opening.size() : 0));
    const std::size_t macro = out.find(" (TOML_");
    if (macro != std::string::npos)
        out.erase(macro, out.find(')', macro) - macro + 1);
    std::replace_if(
        out.begin(), out.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20U; }, ' ');
    return out;
}

// Brackets opened and not closed on the lines before `line`; quotes and remarks left aside.
int open_brackets(std::string_view text, int line) {
    int open = 0;
    for (int i = 1; i < line && !text.empty(); ++i) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        bool left_open_quotes = false;
        for (const char c : outside_quotes(text.substr(0, end), &left_open_quotes)) {
            if (c == '#')
                break;
            open += c == '[' ? 1 : 0;
            open -= c == ']' ? 1 : 0;
        }
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return open;
}

Stop stop_at(std::string_view text, Place place, std::string_view description) {
    Stop stop{text,        line_of(text, place.line),          {}, {},
              description, open_brackets(text, place.line) > 0};
    const auto without_remark = [](std::string_view part) {
        return trimmed(part.substr(0, part.find('#')));
    };
    const std::size_t equals = stop.line.find('=');
    stop.value =
        without_remark(equals == std::string_view::npos ? stop.line : stop.line.substr(equals + 1));
    // Bytes and columns differ only behind letters outside ASCII: then the item may be another one.
    const std::string_view whole = untrimmed_line_of(text, place.line);
    const std::size_t at = std::min(static_cast<std::size_t>(place.column) - 1, whole.size());
    const std::size_t before = whole.substr(0, at).find_last_of(",[{=");
    const std::size_t from = before == std::string_view::npos ? 0 : before + 1;
    const std::size_t to = std::min(whole.find_first_of(",]}#", at), whole.size());
    stop.item = trimmed(whole.substr(from, to - from));
    return stop;
}

Advice advice_for(const Stop& stop) {
    for (const auto& known : {single_brackets, written_twice, typographic_quotes, in_a_list,
                              bare_number, left_open, not_a_line})
        if (auto advice = known(stop))
            return *std::move(advice);
    return {"this line does not read as a case file's",
            fmt::format("a value is a text in quotes, a number, true or false, or a list in [ ] "
                        "with commas; check quotes, commas and brackets here and on the line "
                        "before (found: {})",
                        in_one_line(stop.description))};
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
        const Advice advice = advice_for(stop_at(text, place, error.description()));
        const Place at = advice.place.value_or(place);
        throw CaseError({{file.string(), at.line, at.column, advice.what, advice.remedy}});
    }
}

}  // namespace loadline
