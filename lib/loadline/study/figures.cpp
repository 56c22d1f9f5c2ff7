#include "loadline/study/figures.hpp"

#include "loadline/engine/fuel.hpp"
#include "loadline/number/constants.hpp"

#include <stdexcept>

namespace loadline {
namespace {

constexpr double litre = petrol_density / 1000.0;
constexpr double celsius = 273.15;

constexpr std::array<FigureRow, figures> figure_rows = {{
    {.figure = Figure::static_rotation,
     .key = "static_engine_rpm",
     .part = "static",
     .part_key = "engine_rpm",
     .key_unit = rpm,
     .label = "engine, static",
     .metric = {"rpm", 0},
     .imperial = {"rpm", 0},
     .group = Group::full_throttle,
     .glance = 2,
     .told = 1},
    {.figure = Figure::static_thrust,
     .key = "static_thrust_n",
     .part = "static",
     .part_key = "thrust_n",
     .better = Better::more,
     .label = "thrust, static",
     .metric = {"N", 0},
     .imperial = {"lbf", 0},
     .group = Group::full_throttle},
    {.figure = Figure::climb_rate,
     .key = "climb_rate_m_s",
     .part = "climb",
     .part_key = "rate_m_s",
     .better = Better::more,
     .label = "climb at field",
     .metric = {"m/s", 2, 0.02},
     .imperial = {"ft/min", 0, 4.0},
     .verbs = {"climbs better", "climbs worse", "better", "worse", "climbs about the same"},
     .group = Group::full_throttle,
     .glance = 1,
     .told = 2},
    {.figure = Figure::climb_angle,
     .key = "climb_angle_deg",
     .part = "climb",
     .part_key = "angle_deg",
     .key_unit = degree,
     .better = Better::more,
     .label = "climb angle",
     .metric = {"deg", 1},
     .imperial = {"deg", 1}},
    {.figure = Figure::climb_rotation,
     .key = "climb_engine_rpm",
     .part = "climb",
     .part_key = "engine_rpm_middle",
     .key_unit = rpm,
     .label = "engine, climb",
     .metric = {"rpm", 0},
     .imperial = {"rpm", 0},
     .group = Group::full_throttle},
    {.figure = Figure::band_time,
     .key = "band_time_s",
     .part = "climb",
     .part_key = "band_time_s",
     .better = Better::less,
     .label = "time in band",
     .metric = {"s", 0},
     .imperial = {"s", 0},
     .group = Group::full_throttle},
    {.figure = Figure::band_fuel,
     .key = "band_fuel_l",
     .part = "climb",
     .part_key = "band_fuel_l",
     .key_unit = litre,
     .better = Better::less,
     .scale = Scale::fuel,
     .label = "fuel in band",
     .metric = {"L", 2},
     .imperial = {"gal(US)", 3},
     .group = Group::full_throttle},
    {.figure = Figure::cruise_rotation,
     .key = "cruise_engine_rpm",
     .part = "cruise",
     .part_key = "engine_rpm",
     .key_unit = rpm,
     .label = "engine, cruise",
     .metric = {"rpm", 0},
     .imperial = {"rpm", 0},
     .group = Group::cruise_and_more},
    {.figure = Figure::cruise_fuel,
     .key = "cruise_fuel_l_h",
     .part = "cruise",
     .part_key = "fuel_l_h",
     .key_unit = litre / 3600.0,
     .better = Better::less,
     .scale = Scale::fuel,
     .label = "fuel, cruise",
     .metric = {"L/h", 2, 0.02},
     .imperial = {"gal(US)/h", 2, 0.005},
     .verbs = {"burns more in cruise", "burns less in cruise", "more", "less",
               "burns about the same in cruise"},
     .group = Group::cruise_and_more,
     .glance = 3,
     .told = 5},
    {.figure = Figure::climb_head,
     .key = "climb_head_temperature_c",
     .part = "climb",
     .part_key = "head_temperature_c",
     .key_offset = celsius,
     .better = Better::less,
     .scale = Scale::temperature,
     .label = "head, climb",
     .metric = {"degC", 0, 2.0},
     .imperial = {"degF", 0, 3.6},
     .group = Group::full_throttle,
     .glance = 4,
     .told = 3},
    {.figure = Figure::cruise_head,
     .key = "cruise_head_temperature_c",
     .part = "cruise",
     .part_key = "head_temperature_c",
     .key_offset = celsius,
     .better = Better::less,
     .scale = Scale::temperature,
     .label = "head, cruise",
     .metric = {"degC", 0},
     .imperial = {"degF", 0},
     .group = Group::cruise_and_more},
    {.figure = Figure::noise,
     .key = "noise_dba",
     .part = "cruise",
     .part_key = "noise_dba",
     .better = Better::less,
     .scale = Scale::level,
     .label = "tones overhead",
     .metric = {"dB(A)", 1, 0.3},
     .imperial = {"dB(A)", 1, 0.3},
     .verbs = {"louder overhead", "quieter overhead", "louder", "quieter",
               "about as loud overhead"},
     .group = Group::cruise_and_more,
     .told = 4},
    {.figure = Figure::noise_beside,
     .key = "noise_beside_dba",
     .part = "climb",
     .part_key = "noise_beside_dba",
     .better = Better::less,
     .scale = Scale::level,
     .label = "tones beside",
     .metric = {"dB(A)", 1},
     .imperial = {"dB(A)", 1},
     .group = Group::cruise_and_more,
     .glance = 5},
    {.figure = Figure::spool_up,
     .key = "spool_up_s",
     .part_key = "spool_up_s",
     .better = Better::less,
     .label = "spool-up",
     .metric = {"s", 2, 0.03},
     .imperial = {"s", 2, 0.03},
     .verbs = {"spools up slower", "spools up faster", "slower", "faster",
               "spools up about as fast"},
     .group = Group::cruise_and_more,
     .glance = 6,
     .told = 6},
}};

constexpr bool in_order() {
    for (std::size_t i = 0; i < figures; ++i)
        if (at(figure_rows[i].figure) != i)
            return false;
    return true;
}
static_assert(in_order(), "each figure has its row, in the order of the enumeration");

}  // namespace

const FigureRow& row_of(Figure figure) {
    if (at(figure) >= figures)
        throw std::invalid_argument("no such figure");
    return figure_rows[at(figure)];
}

const std::array<FigureRow, figures>& figure_table() {
    return figure_rows;
}

double in_key_unit(const FigureRow& row, double si) {
    return (si - row.key_offset) / row.key_unit;
}

double difference_in_key_unit(const FigureRow& row, double si) {
    return si / row.key_unit;
}

}  // namespace loadline
