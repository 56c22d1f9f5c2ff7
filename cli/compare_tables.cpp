// The tables of a comparison, each said once for its text, its documents and its page.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/study/wording.hpp"
#include "loadline/words/confidence.hpp"

#include <fmt/format.h>
#include <algorithm>

namespace loadline::cli {
namespace {

// A figure in the unit of its key, with what people read instead.
Cell figure_cell(const std::optional<double>& si, Quantity q, Units units) {
    if (!si) {
        return {};
    }
    Cell cell(keyed(q).value(*si));
    cell.instead = plain_number(in_style(q, *si, units), style_of(q, units).decimals);
    return cell;
}

SheetColumn figure_column(Quantity q, std::vector<std::string> heading, Units units) {
    const QuantityStyle style = style_of(q, units);
    return {keyed(q).key, std::move(heading), Style{style.unit, style.decimals}, "", style.label};
}

// Of what is worked of each blade angle.
std::vector<std::string> angle_heading(Quantity q) {
    switch (q) {
        case Quantity::static_rotation:
            return {"engine,", "static"};
        case Quantity::static_thrust:
            return {"thrust,", "static"};
        case Quantity::climb_rotation:
            return {"engine,", "climb"};
        case Quantity::climb_rate:
            return {"climb"};
        case Quantity::cruise_fuel:
            return {"fuel,", "cruise"};
        case Quantity::climb_head:
            return {"head,", "climb"};
        default:
            return {};
    }
}

}  // namespace

Keyed keyed(Quantity q) {
    const double rpm = from_unit(1.0, "rpm");
    const double litre = petrol_density / 1000.0;
    switch (q) {
        case Quantity::static_rotation:
            return {"static_engine_rpm", rpm, 0.0};
        case Quantity::static_thrust:
            return {"static_thrust_n", 1.0, 0.0};
        case Quantity::climb_rate:
            return {"climb_rate_m_s", 1.0, 0.0};
        case Quantity::climb_angle:
            return {"climb_angle_deg", degree, 0.0};
        case Quantity::climb_rotation:
            return {"climb_engine_rpm", rpm, 0.0};
        case Quantity::band_time:
            return {"band_time_s", 1.0, 0.0};
        case Quantity::band_fuel:
            return {"band_fuel_l", litre, 0.0};
        case Quantity::cruise_rotation:
            return {"cruise_engine_rpm", rpm, 0.0};
        case Quantity::cruise_fuel:
            return {"cruise_fuel_l_h", litre / 3600.0, 0.0};
        case Quantity::climb_head:
            return {"climb_head_temperature_c", 1.0, 273.15};
        case Quantity::cruise_head:
            return {"cruise_head_temperature_c", 1.0, 273.15};
        case Quantity::noise:
            return {"noise_dba", 1.0, 0.0};
        case Quantity::noise_beside:
            return {"noise_beside_dba", 1.0, 0.0};
        default:
            return {"spool_up_s", 1.0, 0.0};
    }
}

Column column_of(Quantity q, SentenceUnits spoken) {
    const QuantityStyle style = style_of(q, spoken);
    const std::string label(style.label);
    const std::size_t blank = label.find(' ');
    std::vector<std::string> heading = {label.substr(0, blank)};
    if (blank != std::string::npos) {
        heading.push_back(label.substr(blank + 1));
    }
    return {std::move(heading), std::string(style.unit)};
}

std::string value_cell(const CompareRow& row, Quantity q, SentenceUnits units) {
    const auto& value = row.values[at(q)];
    return value ? plain_number(in_style(q, *value, units), style_of(q, units).decimals) : "-";
}

DifferenceCells difference_cells(const CompareRow& first, const CompareRow& row, Quantity q,
                                 SentenceUnits units) {
    const auto& value = row.values[at(q)];
    if (!value || !first.values[at(q)]) {
        return {"-", "", ""};
    }
    const int decimals = style_of(q, units).decimals;
    const auto show = [&](double si) {
        const std::string text = plain_number(difference_in_style(q, si, units), decimals);
        return text.starts_with('-') || text.find_first_not_of("0.") == std::string::npos
                   ? text
                   : "+" + text;
    };
    DifferenceCells cells{show(*value - *first.values[at(q)]), "", ""};
    if (const auto& d = row.differences[at(q)]) {
        cells.band = fmt::format("{} to {}", show(d->band.low), show(d->band.high));
        const double sure =
            d->value > 0.0 ? d->probability_positive : 1.0 - d->probability_positive;
        cells.sure = confidence_cell(sure);
    }
    return cells;
}

Sheet values_sheet(const Compared& a, Units units) {
    struct Row {
        std::string name;
        const CompareRow* of;
    };
    std::vector<Row> rows;
    for (std::size_t k = 0; k <= a.order.size(); ++k) {
        const CompareRow& row = a.comparison.rows[k == 0 ? 0 : a.order[k - 1]];
        rows.push_back(
            {fmt::format("{} {}", k == 0 ? std::string("now") : letter(k - 1), row.name), &row});
    }
    std::vector<Field<Row>> fields;
    for (const auto& [key, heading] : {std::pair{"full", "at full throttle"},
                                       {"rest", "in cruise, and more"},
                                       {"name", "propeller"}}) {
        fields.push_back({{key, {heading}}, &Row::name});
    }
    for (const Quantity q : all_quantities) {
        fields.push_back(
            {figure_column(q, column_of(q, units).heading, units), [q, units](const Row& row) {
                 return figure_cell(row.of->values[at(q)], q, units);
             }});
    }
    return {fields, rows};
}

std::array<std::pair<std::optional<double>, Quantity>, 6> turned_values(const AngleRow& row) {
    return {{{row.static_rotation, Quantity::static_rotation},
             {row.static_thrust, Quantity::static_thrust},
             {row.climb_rotation, Quantity::climb_rotation},
             {row.climb_rate, Quantity::climb_rate},
             {row.cruise_fuel, Quantity::cruise_fuel},
             {row.climb_head, Quantity::climb_head}}};
}

Sheet angle_sheet(const AngleStudy& study, Units units) {
    std::vector<Field<AngleRow>> fields = {
        {{"turned_deg", {"blades turned"}, Style{"deg", 1}, "", "turned"}, [](const AngleRow& row) {
             Cell cell(row.turned / degree);
             cell.instead = fmt::format("{:+.1f}", row.turned / degree);
             return cell;
         }}};
    const auto shown_quantities = turned_values({});
    for (std::size_t k = 0; k < shown_quantities.size(); ++k) {
        const Quantity q = shown_quantities[k].second;
        fields.push_back(
            {figure_column(q, angle_heading(q), units), [k, q, units](const AngleRow& row) {
                 return figure_cell(turned_values(row)[k].first, q, units);
             }});
    }
    fields.push_back({{"within_limits", {"within", "limits"}}, &AngleRow::within_limits});
    fields.push_back({{"meets_wishes", {"meets", "wishes"}}, &AngleRow::meets_goals});
    return {fields, study.rows};
}

std::vector<Pick> angle_picks() {
    std::vector<Pick> picks = {"turned_deg"};
    for (const auto& [value, q] : turned_values({})) {
        picks.emplace_back(keyed(q).key);
    }
    picks.emplace_back("within_limits");
    picks.emplace_back("meets_wishes");
    return picks;
}

std::vector<std::string> compare_notes(const Compared& a) {
    std::vector<std::string> notes = a.notes;
    notes.emplace_back(
        "noise is the propeller's tones alone: the exhaust, often louder, the rush of the air and "
        "the chopping of the pilot's wake are not in it; trust the differences");
    if (a.setting.goals.noise_at_most) {
        notes.emplace_back(
            "noise_at_most is held against the propeller's tones alone: it cannot be held against "
            "a "
            "field's or a country's limit");
    }
    if (a.setting.head.reading) {
        notes.emplace_back(
            "head temperatures are a tendency from your one reading: they know no jetting, mixture "
            "or blocked fin, and a cooler figure never allows a leaner mixture");
    }
    return notes;
}

bool many(const Compared& a) {
    return a.order.size() > most_in_full;
}

std::vector<std::size_t> told_in_full(const Compared& a) {
    std::vector<std::size_t> told = {0};
    for (const std::size_t i : a.order) {
        if (!many(a) || told.size() <= first_few) {
            told.push_back(i);
        }
    }
    return told;
}

std::string letter(std::size_t k) {
    return k < 26 ? std::string(1, static_cast<char>('A' + k)) : fmt::format("{}", k + 1);
}

}  // namespace loadline::cli
