#include "loadline/case/case.hpp"

namespace loadline {
namespace {

// Every figure in it is invented.
constexpr const char* new_case =
    R"(# A case: the day, an engine, its drive, a craft, and the propellers to try on it.
# Change the figures to your own. A quantity is a text with its unit: "51 in", "14 hp", "88 degF"
# and "130 cm", "10.4 kW", "31 degC" are all understood. Lines that begin with # are remarks.
# All figures here are invented: nothing in this file stands for an engine or propeller on sale.

title = "My propellers"

[air]                               # leave it out for a standard day at sea level
elevation = "450 m"                 # of the field
temperature = "24 degC"             # there, now
qnh = "1018 hPa"                    # the altimeter setting of the day
humidity = "50 %"

[engine]
name = "single, about 80 cc"
torque = [                          # full throttle: engine speed, torque at the crank
  ["3500 rpm", "4.2 N m"],
  ["5000 rpm", "7.0 N m"],
  ["6500 rpm", "9.8 N m"],
  ["7500 rpm", "11.4 N m"],
  ["8300 rpm", "11.6 N m"],
  ["9000 rpm", "11.1 N m"],
  ["9800 rpm", "9.2 N m"],
]
# Without a torque curve, write what the leaflet says instead of `torque`:
# rated = "10.5 kW at 9000 rpm"
# peak_torque = "11.6 N m at 8300 rpm"
# measured_at = {elevation = "0 m", temperature = "15 degC"}    # the day those figures hold for
rpm_limit = "9800 rpm"              # the maker's: it comes before anything said here
idle = "2500 rpm"
# Read with the propeller flown now, once it no longer rises; "... in cruise" would do too:
# head_temperature = "178 degC in climb"
# head_limit = "200 degC"             # the maker's

[drive]
ratio = 3.5                         # engine turns per propeller turn; or teeth = [20, 70]
efficiency = 0.96                   # power at the propeller over power at the crank

[craft]
all_up_mass = "115 kg"              # pilot, engine, fuel, wing: all that flies
trim_speed = "38 km/h"
glide_ratio = 7.5                   # with cage and pilot, engine off; or sink = "1.4 m/s"
fuel = "9 L"                        # usable, in the tank

# [cruise]
# fuel = "2.7 L/h"                  # in level flight with the propeller flown now: makes fuel surer

[climb]                             # heights above the field; leave it out for 0 to 500 m
from = "100 m"
to = "600 m"

# [wishes]
# rank = ["climb", "quiet"]         # also economy, cool, quick: what matters most first
# climb_at_least = "1.8 m/s"

# The first propeller is the one flown now; the others are compared with it.
# Stations go from root to tip. At each one measure three things:
#   radius   from the propeller's axis
#   chord    the width of the blade there, straight across
#   angle    between the blade and the plane it turns in
# With a level on the flat lower face write angle_reference = "lower surface".

[[propeller]]
name = "as delivered"
diameter = "125 cm"
blades = 2
section = "clark-y"                 # `loadline sections` lists those there are
angle_reference = "chord"
stations = [
  ["12 cm", "7.0 cm", "27 deg"],
  ["20 cm", "8.4 cm", "23 deg"],
  ["30 cm", "8.2 cm", "18 deg"],
  ["40 cm", "7.2 cm", "14.5 deg"],
  ["50 cm", "6.0 cm", "12.2 deg"],
  ["58 cm", "4.6 cm", "10.8 deg"],
  ["62 cm", "3.2 cm", "10.2 deg"],
]

[[propeller]]
name = "two degrees more"
diameter = "125 cm"
blades = 2
section = "clark-y"
angle_reference = "chord"
stations = [                        # a station may also be a table, when there is more to say
  {radius = "12 cm", chord = "7.0 cm", angle = "29 deg", thickness = "18 %"},
  {radius = "20 cm", chord = "8.4 cm", angle = "25 deg", thickness = "14 %"},
  ["30 cm", "8.2 cm", "20 deg"],
  ["40 cm", "7.2 cm", "16.5 deg"],
  ["50 cm", "6.0 cm", "14.2 deg"],
  ["58 cm", "4.6 cm", "12.8 deg"],
  ["62 cm", "3.2 cm", "12.2 deg"],
]

# A propeller you have not measured: write what its label says, diameter x pitch, instead of
# stations. That is much less sure; the width of the blade at 3/4 of the radius makes it surer.
#
# [[propeller]]
# name = "by its label"
# label = "125 x 60 cm"             # or diameter = "125 cm" and pitch = "60 cm"
# blades = 2
# chord = "6.4 cm"                  # at 3/4 of the radius; leave it out when not measured
# look = "flat-bottomed"            # or section = "clark-y"; leave both out when not known
)";

}  // namespace

std::string new_case_text() {
    return new_case;
}

}  // namespace loadline
