#pragma once
/// Compared figures as people read them.

#include "loadline/study/figures.hpp"
#include "loadline/words/units.hpp"

#include <string>

namespace loadline {

inline constexpr double mile = 1609.344;  ///< m, by definition

/// Unit and decimals of a figure.
const ShownIn& shown_in(Figure figure, SentenceUnits units);

/// A value, and a difference of two values, in that unit.
double in_shown_unit(Figure figure, double si, SentenceUnits units);
double difference_in_shown_unit(Figure figure, double si, SentenceUnits units);

/// The value with so many decimals and its unit: "1.52 m/s".
std::string figure_text(Figure figure, double si, SentenceUnits units);

/// The value as it stands in a table under a heading with its unit: "1.52". A climb below nothing
/// is a sink, "sinks 1.52", and its angle leads "down 4.1".
std::string figure_cell_text(Figure figure, double si, SentenceUnits units);

/// Fuel over distance, kg/m, as people say it in metric units: L to 100 km.
double litres_to_100_km(double fuel_per_distance);

/// The same in the reader's units: "7.1 L to 100 km", "33.1 miles to the US gallon".
std::string economy_text(double fuel_per_distance, SentenceUnits units);

/// A gap between tip and cage: "25 mm", "1.0 in". `gap` in m, its sign left out.
std::string gap_text(double gap, SentenceUnits units);

}  // namespace loadline
