#include "loadline/case/detail/tables.hpp"

#include <utility>

namespace loadline {

Day read_day(Fields fields, bool* humidity_given) {
    Day day;
    if (humidity_given != nullptr)
        *humidity_given = fields.find("humidity") != nullptr;
    day.elevation_m =
        fields.quantity("elevation", Dimension::length, {-500.0, 11000.0, "m"}).value_or(0.0);
    day.temperature_k =
        fields.quantity("temperature", Dimension::temperature, {-73.0, 56.0, "degC"});
    day.qnh_pa =
        fields.quantity("qnh", Dimension::pressure, {850.0, 1100.0, "hPa"}).value_or(day.qnh_pa);
    day.relative_humidity =
        fields.quantity("humidity", Dimension::fraction, {0.0, 100.0, "%"}).value_or(0.0);
    fields.finish();
    return day;
}

Day read_air(Fields fields, bool& humidity_given, CaseFaults& faults) {
    const Place header = fields.header();
    const Day day = read_day(std::move(fields), &humidity_given);
    try {
        static_cast<void>(air_at_field(day));
    } catch (const std::invalid_argument& error) {
        faults.add(header, error.what(), "correct the day in [air]");
    }
    return day;
}

}  // namespace loadline
