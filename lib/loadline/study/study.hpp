#pragma once
/// Questions over many points: one propeller after another at each airspeed, and sweeps of advance
/// ratio. Nothing here speaks: words puts findings into sentences.

#include "loadline/study/curve_study.hpp"
#include "loadline/study/match_study.hpp"
