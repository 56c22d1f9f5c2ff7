// README's table of the case file against the readers: every key they know stands there, and no
// other.

#include "loadline/case/case.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace {

using namespace loadline;
using Keys = std::set<std::string>;

const char* const unheard_of = "qqqqqqqqqqqqqqqqqqqq";
const char* const whole = "the case";  // as messages call what stands in no table

// The words of `text` that could be keys.
Keys words_of(const std::string& text) {
    Keys words;
    std::string word;
    for (const char c : text + " ")
        if ((c >= 'a' && c <= 'z') || c == '_')
            word += c;
        else if (!word.empty())
            words.insert(std::exchange(word, {}));
    return words;
}

// What stands between backticks.
std::string quoted_of(const std::string& cell) {
    std::string out;
    bool inside = false;
    for (const char c : cell) {
        inside = c == '`' ? !inside : inside;
        out += inside && c != '`' ? c : ' ';
    }
    return out;
}

// The tables and keys in lines such as "keys.toml:1:1: [air] knows no "..."; write one of a or b,
// or remove it".
void note_known(const std::string& message, std::map<std::string, Keys>& known) {
    const std::string knows = fmt::format(" knows no \"{}\"; write one of ", unheard_of);
    std::istringstream lines(message);
    for (std::string line; std::getline(lines, line);) {
        const std::size_t at = line.find(knows);
        if (at == std::string::npos)
            continue;
        const std::size_t from = line.rfind(": ", at) + 2;
        const std::size_t to = line.find(", or remove it");
        Keys keys = words_of(line.substr(at + knows.size(), to - at - knows.size()));
        keys.erase("or");
        known[line.substr(from, at - from)].merge(keys);
    }
}

// Every key the readers know, under the name their messages give its table. A key unheard of is
// answered with all that would do.
std::map<std::string, Keys> known_to_the_readers() {
    const std::string q = fmt::format("{} = 1\n", unheard_of);
    const std::string inner = fmt::format("{{{} = 1}}", unheard_of);
    std::vector<std::string> texts = {
        q,
        fmt::format("[engine]\n{}measured_at = {}\n", q, inner),
        fmt::format("[[propeller]]\nname = \"measured\"\ndiameter = \"141 cm\"\nblades = 2\n{}"
                    "hub_bolts = {}\nmaking = {{{} = 1, mould = {}}}\nstations = [[\"15 cm\", \"9 "
                    "cm\", \"28 deg\"], {}]\n",
                    q, inner, unheard_of, inner, inner),
        fmt::format("[[propeller]]\nname = \"from its label\"\nlabel = \"136 x 68 cm\"\n{}", q),
        fmt::format(
            "[engine]\nrated = \"15.4 kW at 7900 rpm\"\n[drive]\nratio = 3\n"
            "[[propeller]]\nname = \"from its label\"\nlabel = \"136 x 68 cm\"\nblades = 2\n"
            "[[reading]]\nstatic_speed = \"7500 rpm\"\n{}",
            q),
        fmt::format("[[flight]]\n{}air = {}\nengine_log = {}\nclimbs = [{}]\n", q, inner, inner,
                    inner)};

    texts.push_back(fmt::format("[design]\n{}matters = {}\n", q, inner));
    for (const char* table :
         {"air", "drive", "craft", "climb", "cruise", "noise", "wishes", "model"})
        texts.push_back(fmt::format("[{}]\n{}", table, q));
    std::map<std::string, Keys> known;
    for (const std::string& text : texts) {
        try {
            parse_case(text, "keys.toml", {});
        } catch (const CaseError& error) {
            note_known(error.what(), known);
        }
    }
    return known;
}

struct Row {
    std::string table;  // "[engine]"
    Keys keys;          // of the column of keys
    Keys words;         // of the whole row
};

std::vector<Row> table_of_readme() {
    std::ifstream file(LOADLINE_ROOT "/README.md");
    std::vector<Row> rows;
    bool inside = false;
    for (std::string line, table = whole; std::getline(file, line);) {
        inside = line.starts_with("| where | key |") || (inside && line.starts_with("|"));
        std::vector<std::string> cells;
        std::istringstream of(line);
        for (std::string cell; inside && std::getline(of, cell, '|');)
            cells.push_back(cell);
        if (cells.size() < 4 || cells[1].find("---") != std::string::npos || cells[2] == " key ")
            continue;
        std::string where = quoted_of(cells[1]);
        std::erase(where, ' ');
        if (!where.empty())
            table = where;
        rows.push_back({table, words_of(quoted_of(cells[2])), words_of(quoted_of(line))});
    }
    return rows;
}

}  // namespace

TEST_CASE("README's table of the case file names the keys that are read, and no other") {
    const std::map<std::string, Keys> known = known_to_the_readers();
    const std::vector<Row> rows = table_of_readme();
    REQUIRE(known.size() == 23);
    REQUIRE(rows.size() > 20);
    // Tables within another stand in its rows.
    const std::map<std::string, std::string> within = {
        {"measured_at", "[engine]"}, {"hub_bolts", "[[propeller]]"}, {"making", "[[propeller]]"},
        {"mould", "[[propeller]]"},  {"a station", "[[propeller]]"}, {"matters", "[design]"},
        {"air", "[[flight]]"},       {"engine_log", "[[flight]]"},   {"a climb", "[[flight]]"}};
    std::size_t count = 0;
    for (const auto& one : known) {
        const std::string& table =
            one.first;  // doctest's INFO takes no structured binding with clang 14
        const Keys& keys = one.second;
        const auto outer = within.find(table);
        const std::string where = outer == within.end() ? table : outer->second;
        Keys said;
        for (const Row& row : rows)
            if (row.table == where)
                said.insert(row.words.begin(), row.words.end());
        for (const std::string& key : keys) {
            if (table == whole && (known.contains(fmt::format("[{}]", key)) ||
                                   known.contains(fmt::format("[[{}]]", key))))
                continue;  // a table, whose rows are looked at by themselves
            INFO(table, " ", key, " is read and not in README's table");
            CHECK(said.contains(key));
        }
        count += keys.size();
    }
    for (const Row& row : rows) {
        for (const std::string& key : row.keys) {
            INFO(row.table, " ", key, " is in README's table and not read");
            REQUIRE(known.contains(row.table));
            CHECK(known.at(row.table).contains(key));
        }
    }
    fmt::print("{} keys of {} tables\n", count, known.size());
}
