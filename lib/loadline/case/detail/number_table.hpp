#pragma once
/// Rows of comma-separated numbers under lines of provenance, as section files and measured points
/// have them.

#include "loadline/case/fault.hpp"

#include <filesystem>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace loadline {

struct Cell {
    std::string_view text;  // trimmed
    int column = 1;
};

std::vector<Cell> cells_of(std::string_view line);

/// One table of numbers: `#` lines, a header line naming the columns, rows.
class NumberTable {
public:
    NumberTable(const std::filesystem::path& file, std::vector<std::string> columns)
        : file_(file), columns_(std::move(columns)) {}

    void read(std::string_view text);
    void fault(int line, int column, std::string what, std::string remedy);
    /// Errors: CaseError when there is any fault.
    void throw_if_any();
    [[nodiscard]] bool sound() const { return faults_.empty(); }

    struct Row {
        int line = 1;
        std::vector<std::optional<double>> values;
    };
    struct Remark {
        int line = 1;
        std::string text;  // without the '#'
    };
    std::vector<Row> rows;
    std::vector<Remark> remarks;
    std::set<std::string> may_be_empty;

private:
    void read_header(const std::vector<Cell>& cells, int line);
    void read_row(const std::vector<Cell>& cells, int line);
    std::optional<double> read_number(const Cell& cell, const std::string& column, int line);

    std::filesystem::path file_;
    std::vector<std::string> columns_;
    std::vector<CaseFault> faults_;
};

}  // namespace loadline
