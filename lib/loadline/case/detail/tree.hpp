#pragma once
/// A TOML document as plain nodes, each with the place it was written at. Keeps the TOML library to
/// one source file and gives the readers a value they can look at in any order.

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loadline {

/// Line and column, both from 1.
struct Place {
    int line = 1;
    int column = 1;
};

enum class NodeKind { text, integer, number, boolean, date, list, table };

/// A kind in words, with its article: "a list", "a text in quotes".
std::string_view name_of(NodeKind kind);

struct Entry;

/// One value. Only the member that goes with `kind` means anything.
struct Node {
    NodeKind kind = NodeKind::table;
    Place place;
    std::string text;
    std::int64_t integer = 0;
    double number = 0.0;  ///< of integers too; may be NaN or infinite, which TOML allows
    bool boolean = false;
    std::vector<Node> items;     ///< of a list
    std::vector<Entry> entries;  ///< of a table, in the order they were written
};

struct Entry {
    std::string key;
    Place place;  ///< of the key
    Node value;
};

/// Parses a TOML document. `file` is used in messages. Errors: CaseError with the first place that
/// does not read, and what is usually meant there.
Node parse_tree(std::string_view text, const std::filesystem::path& file);

}  // namespace loadline
