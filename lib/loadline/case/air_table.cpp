#include "loadline/case/detail/tables.hpp"

#include <fmt/format.h>
#include <stdexcept>
#include <utility>

namespace loadline {

Day read_day(Fields fields, bool* humidity_given) {
    Day day;
    if (humidity_given != nullptr)
        *humidity_given = fields.find("humidity") != nullptr;
    day.elevation_m =
        fields.quantity("elevation", Dimension::length, {-500.0, 6000.0, "m"}).value_or(0.0);
    day.temperature_k =
        fields.quantity("temperature", Dimension::temperature, {-73.0, 56.0, "degC"});
    day.qnh_pa =
        fields.quantity("qnh", Dimension::pressure, {850.0, 1100.0, "hPa"}).value_or(day.qnh_pa);
    day.relative_humidity =
        fields.quantity("humidity", Dimension::fraction, {0.0, 100.0, "%"}).value_or(0.0);
    fields.finish();
    return day;
}

ReadingDay read_reading_day(Fields& fields, const char* key, CaseFaults& faults) {
    ReadingDay read;
    auto table = fields.table(key, key);
    if (!table)
        return read;
    const Place header = table->header();
    read.mass = table->quantity("mass", Dimension::mass, {20.0, 5000.0, "kg"});
    const bool day = table->find("elevation") || table->find("temperature") || table->find("qnh") ||
                     table->find("humidity");
    const Day when = read_day(std::move(*table), nullptr);
    if (!day)
        return read;
    try {
        static_cast<void>(air_at_field(when));
        read.day = when;
    } catch (const std::invalid_argument& error) {
        faults.add(header, error.what(), fmt::format("correct the day in {}", key));
    }
    return read;
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
