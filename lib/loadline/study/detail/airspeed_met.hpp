#pragma once
/// What a craft's wake leaves of its airspeed. Inside `study` only.

#include "loadline/craft/craft.hpp"

#include <optional>

namespace loadline {

/// Of an airspeed of the craft, what the propeller meets in its wake, m/s.
inline double airspeed_met(const std::optional<Craft>& craft, double airspeed) {
    return craft ? airspeed * (1.0 - craft->installation.wake_fraction) : airspeed;
}

}  // namespace loadline
