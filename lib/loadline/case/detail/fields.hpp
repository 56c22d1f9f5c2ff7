#pragma once
/// Looking into a table of the case file: every key asked for by name and kind, every slip noted
/// with its place, and at the end every key nobody asked for.

#include "loadline/case/detail/tree.hpp"
#include "loadline/case/fault.hpp"
#include "loadline/quantity/quantity.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loadline {

/// The faults of one run, of the case file and of the section files it names.
class CaseFaults {
public:
    explicit CaseFaults(std::filesystem::path file) : file_(std::move(file)) {}

    /// A fault of the case file itself.
    void add(Place place, std::string what, std::string remedy);
    /// CaseFaults of another file, or of this one as found elsewhere.
    void add(const std::vector<CaseFault>& others);
    /// How many were added, also of those too many to keep.
    [[nodiscard]] std::size_t count() const { return count_; }
    /// Whether no more is kept.
    [[nodiscard]] bool full() const;
    /// Errors: CaseError when there is any fault.
    void throw_if_any() const;

private:
    std::filesystem::path file_;
    std::vector<CaseFault> faults_;
    std::size_t count_ = 0;
};

/// What a quantity may be, both ends included, in `unit` (which also serves in messages).
struct Range {
    double lowest = 0.0;
    double highest = 0.0;
    std::string_view unit;
};

/// A quantity in SI from a node; a fault and nothing when it is not one. `label` is how messages
/// call it: the key, or "the radius". Without `range` any finite value does and `unit` of the
/// example is that of `example_unit`.
std::optional<double> read_quantity(const Node& node, Dimension dimension, std::string_view label,
                                    std::optional<Range> range, std::string_view example_unit,
                                    CaseFaults& faults);

/// One table and the keys asked of it so far.
class Fields {
public:
    /// `title` is how messages call the table: "[engine]", "measured_at". `header`: its place.
    Fields(const Node& table, Place header, std::string title, CaseFaults& faults);

    /// The value under `key`, or null. From here on the key counts as known.
    const Node* find(std::string_view key);
    /// The place of the key, or of the header when it is absent.
    [[nodiscard]] Place place_of(std::string_view key) const;

    /// Each gives nothing when the key is absent, and nothing with a fault when it is not as
    /// wanted.
    std::optional<double> quantity(std::string_view key, Dimension dimension, Range range);
    std::optional<double> number(std::string_view key, double lowest, double highest);
    std::optional<int> whole(std::string_view key, int lowest, int highest);
    std::optional<bool> flag(std::string_view key);
    std::optional<std::string> text(std::string_view key);
    /// Index of the word that is written.
    std::optional<std::size_t> choice(std::string_view key, const std::vector<std::string>& words);
    /// The fields of a table under `key`.
    std::optional<Fields> table(std::string_view key, std::string title);

    /// A fault at the header when `key` is absent; `example` shows how to write it. Kept back until
    /// finish(), and dropped there when a misspelt key explains it.
    void require(std::string_view key, std::string_view example);
    /// The same for a table that lacks all of `keys`.
    void require_one_of(const std::vector<std::string>& keys, Place place, std::string what,
                        std::string remedy);
    /// A fault for every key that was never asked for, and for every one that is required and not
    /// there.
    void finish();

    [[nodiscard]] Place header() const { return header_; }
    [[nodiscard]] const std::string& title() const { return title_; }

private:
    void wrong_kind(const Node& node, std::string_view key, std::string_view wanted,
                    std::string_view example);

    struct Missing {
        std::vector<std::string> keys;  // any of them would do
        Place place;
        std::string what, remedy;
    };

    const Node* table_;
    Place header_;
    std::string title_;
    CaseFaults* faults_;
    std::vector<std::string> known_;
    std::vector<Missing> missing_;
};

}  // namespace loadline
