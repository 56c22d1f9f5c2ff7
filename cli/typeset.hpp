#pragma once
/// Plain letters as a page sets them.

#include <string>
#include <string_view>

namespace loadline::cli {

/// "1.0 deg" as "1.0°", "degC" as "°C", "kg/m3" as "kg/m³", "+-0.2" as "±0.2", and a minus sign
/// before a number that is not the second half of something ("-1.68", not "0.1-0.5" or "5868-9").
/// What the text of a terminal keeps in letters that every terminal has.
std::string typeset(std::string_view text);

}  // namespace loadline::cli
