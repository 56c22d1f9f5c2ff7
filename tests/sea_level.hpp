#pragma once
/// The air that many tests fly in.

#include "loadline/air/air.hpp"

namespace loadline::test {

inline const Air sea_level;  // 1.225 kg/m3

}  // namespace loadline::test

using loadline::test::sea_level;
