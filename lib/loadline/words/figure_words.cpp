#include "loadline/words/figure_words.hpp"

#include "loadline/engine/fuel.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <cmath>

namespace loadline {

const ShownIn& shown_in(Figure figure, SentenceUnits units) {
    const FigureRow& row = row_of(figure);
    return units == SentenceUnits::metric ? row.metric : row.imperial;
}

double difference_in_shown_unit(Figure figure, double si, SentenceUnits units) {
    const std::string_view unit = shown_in(figure, units).unit;
    switch (row_of(figure).scale) {
        case Scale::fuel:
            return in_unit(si / petrol_density, unit);
        case Scale::temperature:
            return units == SentenceUnits::metric ? si : 1.8 * si;
        case Scale::level:
            return si;
        case Scale::plain:
            break;
    }
    return in_unit(si, unit);
}

double in_shown_unit(Figure figure, double si, SentenceUnits units) {
    return row_of(figure).scale == Scale::temperature ? in_unit(si, shown_in(figure, units).unit)
                                                      : difference_in_shown_unit(figure, si, units);
}

std::string figure_text(Figure figure, double si, SentenceUnits units) {
    const ShownIn& shown = shown_in(figure, units);
    return fmt::format("{:.{}f} {}", in_shown_unit(figure, si, units), shown.decimals, shown.unit);
}

std::string figure_cell_text(Figure figure, double si, SentenceUnits units) {
    const auto number = [&](double value) {
        return plain_number(in_shown_unit(figure, value, units), shown_in(figure, units).decimals);
    };
    const std::string none = number(0.0);
    if (si < 0.0 && number(-si) != none) {
        if (figure == Figure::climb_rate)
            return "sinks " + number(-si);
        if (figure == Figure::climb_angle)
            return "down " + number(-si);
    }
    return number(si);
}

double litres_to_100_km(double fuel_per_distance) {
    return fuel_per_distance / petrol_density * 1000.0 * 1e5;
}

std::string economy_text(double fuel_per_distance, SentenceUnits units) {
    if (units == SentenceUnits::metric)
        return fmt::format("{:.1f} L to 100 km", litres_to_100_km(fuel_per_distance));
    const double gallons = in_unit(fuel_per_distance / petrol_density, "gal(US)");
    return fmt::format("{:.1f} miles to the US gallon", 1.0 / (gallons * mile));
}

std::string gap_text(double gap, SentenceUnits units) {
    return units == SentenceUnits::metric ? fmt::format("{:.0f} mm", 1000.0 * std::abs(gap))
                                          : fmt::format("{:.1f} in", in_unit(std::abs(gap), "in"));
}

}  // namespace loadline
