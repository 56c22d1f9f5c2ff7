#include "loadline/case/detail/number_table.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/number/from_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <system_error>
#include <utility>

namespace loadline {
std::vector<Cell> cells_of(std::string_view line) {
    std::vector<Cell> cells;
    for (std::size_t from = 0; from <= line.size();) {
        const std::size_t comma = std::min(line.find(',', from), line.size());
        const std::string_view whole = line.substr(from, comma - from);
        const std::size_t blanks = std::min(whole.find_first_not_of(" \t\r"), whole.size());
        const std::size_t start = blanks < whole.size() ? from + blanks : from;
        cells.push_back({trimmed(whole), static_cast<int>(start) + 1});
        from = comma + 1;
    }
    return cells;
}

void NumberTable::fault(int line, int column, std::string what, std::string remedy) {
    if (faults_.size() < most::faults_kept)
        faults_.push_back({file_.string(), line, column, std::move(what), std::move(remedy)});
}

void NumberTable::throw_if_any() {
    if (faults_.empty())
        return;
    std::stable_sort(faults_.begin(), faults_.end(), [](const CaseFault& a, const CaseFault& b) {
        return std::pair(a.line, a.column) < std::pair(b.line, b.column);
    });
    throw CaseError(std::move(faults_));
}

void NumberTable::read(std::string_view text) {
    bool header = false;
    int line = 0;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view whole = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        ++line;
        const std::string_view body = trimmed(whole);
        if (body.empty())
            continue;
        if (body.front() == '#') {
            remarks.push_back({line, std::string(trimmed(body.substr(1)))});
        } else if (!header) {
            header = true;
            read_header(cells_of(whole), line);
            if (!sound())
                return;  // nothing below can be told apart
        } else {
            read_row(cells_of(whole), line);
        }
    }
    if (!header) {
        fault(1, 1, "there are no rows",
              fmt::format("write the line {} and rows below it", fmt::join(columns_, ",")));
    }
}

void NumberTable::read_header(const std::vector<Cell>& cells, int line) {
    const bool same =
        std::equal(cells.begin(), cells.end(), columns_.begin(), columns_.end(),
                   [](const Cell& cell, const std::string& column) { return cell.text == column; });
    if (same)
        return;
    std::vector<std::string> written;
    for (const Cell& cell : cells)
        written.emplace_back(cell.text);
    fault(
        line, cells.front().column,
        fmt::format("the columns are named \"{}\"",
                    quotable(fmt::format("{}", fmt::join(written, ",")))),
        fmt::format("the first line that is not a remark must read {}", fmt::join(columns_, ",")));
}

void NumberTable::read_row(const std::vector<Cell>& cells, int line) {
    if (cells.size() != columns_.size()) {
        fault(
            line, cells.front().column,
            fmt::format("{} value{} in this row, and {} columns", cells.size(),
                        cells.size() == 1 ? "" : "s", columns_.size()),
            fmt::format("write {} with a decimal point in each number", fmt::join(columns_, ",")));
        return;
    }
    Row row{line, {}};
    bool good = true;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (cells[i].text.empty() && may_be_empty.contains(columns_[i])) {
            row.values.emplace_back();
            continue;
        }
        row.values.push_back(read_number(cells[i], columns_[i], line));
        good = good && row.values.back();
    }
    if (good)
        rows.push_back(std::move(row));
}

std::optional<double> NumberTable::read_number(const Cell& cell, const std::string& column,
                                               int line) {
    const std::string_view body = cell.text.starts_with('+') ? cell.text.substr(1) : cell.text;
    double value = 0.0;
    const auto [end, error] = number_from_text(body.data(), body.data() + body.size(), value);
    if (error == std::errc() && end == body.data() + body.size() && std::isfinite(value))
        return value;
    fault(line, cell.column,
          cell.text.empty()
              ? fmt::format("{} is empty", column)
              : fmt::format("{} is \"{}\", not a number", column, quotable(cell.text)),
          "write a plain number such as 0.85");
    return std::nullopt;
}

}  // namespace loadline
