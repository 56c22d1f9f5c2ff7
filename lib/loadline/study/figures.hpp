#pragma once
/// The figures that are compared: one table, a row each. Text, documents, sheets, pages, ranking
/// and goals read it; a new figure is its name, its row and its computation.

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

namespace loadline {

/// What is compared, in SI.
enum class Figure : std::size_t {
    static_rotation,  ///< engine, rad/s
    static_thrust,    ///< N
    climb_rate,       ///< at the field, m/s
    climb_angle,      ///< at the field, rad
    climb_rotation,   ///< engine, at the middle of the band, rad/s
    band_time,        ///< s
    band_fuel,        ///< kg
    cruise_rotation,  ///< engine, rad/s
    cruise_fuel,      ///< kg/s
    climb_head,       ///< K
    cruise_head,      ///< K
    noise,            ///< overhead in level cruise, dB(A)
    noise_beside,     ///< beside the take-off, full throttle, dB(A)
    spool_up,         ///< s
    count,
};
inline constexpr std::size_t figures = static_cast<std::size_t>(Figure::count);

constexpr std::size_t at(Figure figure) {
    return static_cast<std::size_t>(figure);
}

/// A place for each figure; where a number cannot be had it is empty.
using Values = std::array<std::optional<double>, figures>;

/// Which way a figure is better.
enum class Better { neither, more, less };

/// How a value in SI becomes one in the unit it is shown in.
enum class Scale {
    plain,        ///< by the unit
    fuel,         ///< a mass, shown as the volume of petrol_density
    temperature,  ///< a difference of two has no offset
    level,        ///< dB(A): as it is
};

/// A unit and so many decimals.
struct ShownIn {
    std::string_view unit;
    int decimals = 0;
    /// Smallest difference worth telling, in the unit; our choice. 0: any.
    double noticed = 0.0;
};

/// In which of the wide tables a figure stands.
enum class Group { none, full_throttle, cruise_and_more };

/// What a figure does, as it is said of a propeller. Empty where no sentence of this form says it.
struct Verbs {
    std::string_view more, less;          ///< "climbs better"
    std::string_view more_end, less_end;  ///< of the ends of a band around nothing: "better"
    std::string_view same;                ///< "climbs about the same"
};

struct FigureRow {
    Figure figure = Figure::count;
    std::string_view key = {};  ///< in documents and sheets: "climb_rate_m_s"
    /// Where a document has it among a propeller's own: "climb", and its key there: "rate_m_s".
    std::string_view part = {}, part_key = {};
    double key_unit = 1.0;    ///< SI per unit of the key
    double key_offset = 0.0;  ///< SI taken off a value, not off a difference
    Better better = Better::neither;
    Scale scale = Scale::plain;
    std::string_view label = {};  ///< "climb at field"
    ShownIn metric = {}, imperial = {};
    Verbs verbs = {};
    Group group = Group::none;
    int glance = 0;  ///< its place among the few shown first, from 1; 0 for none
    int told = 0;    ///< its place among the sentences, from 1; 0 for none
};

const FigureRow& row_of(Figure figure);

/// All figures, in the order of the enumeration.
const std::array<FigureRow, figures>& figure_table();

/// A value, and a difference of two, in the unit of the key.
double in_key_unit(const FigureRow& row, double si);
double difference_in_key_unit(const FigureRow& row, double si);

}  // namespace loadline
