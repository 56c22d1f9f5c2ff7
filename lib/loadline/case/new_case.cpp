#include "loadline/case/case.hpp"

namespace loadline {
namespace {

// Every figure in it is invented.
constexpr const char* new_case =
    R"(# A case: the day, an engine, its drive, a craft, and the propellers to try on it.
# Change the figures to your own. A quantity is a text with its unit: "54 in", "20 hp", "88 degF"
# and "137 cm", "15 kW", "31 degC" are all understood. Lines that begin with # are remarks.
# All figures here are invented: nothing in this file stands for an engine or propeller on sale.

title = "My propellers"

[air]                               # leave it out for a standard day at sea level
elevation = "450 m"                 # of the field
temperature = "24 degC"             # there, now
qnh = "1018 hPa"                    # the altimeter setting of the day
humidity = "50 %"

[engine]
name = "single, about 130 cc"
torque = [                          # full throttle: engine speed, torque at the crank
  ["3000 rpm", "8.8 N m"],
  ["4200 rpm", "12.7 N m"],
  ["5400 rpm", "16.8 N m"],
  ["6300 rpm", "19.0 N m"],
  ["7000 rpm", "19.6 N m"],
  ["7900 rpm", "18.6 N m"],
  ["8700 rpm", "15.4 N m"],
]
# Without a torque curve, write what the leaflet says instead of `torque`:
# rated = "15.4 kW at 7900 rpm"
# peak_torque = "19.6 N m at 7000 rpm"
# measured_at = {elevation = "0 m", temperature = "15 degC"}    # the day those figures hold for
rpm_limit = "8500 rpm"              # the maker's: it comes before anything said here
idle = "2300 rpm"
# Read with the propeller flown now, once it no longer rises; "... in cruise" would do too:
# head_temperature = "186 degC in climb"
# head_limit = "210 degC"             # the maker's

[drive]
ratio = 2.9                         # engine turns per propeller turn; or teeth = [21, 61]
efficiency = 0.96                   # power at the propeller over power at the crank

[craft]
all_up_mass = "131 kg"              # pilot, engine, fuel, wing: all that flies
trim_speed = "40 km/h"
glide_ratio = 7.2                   # with cage and pilot, engine off; or sink = "1.5 m/s"
fuel = "11 L"                       # usable, in the tank

# [cruise]
# fuel = "3.6 L/h"                  # in level flight with the propeller flown now: makes fuel surer

[climb]                             # heights above the field; leave it out for 0 to 500 m
from = "100 m"
to = "600 m"

# [wishes]
# rank = ["climb", "quiet"]         # also economy, cool, quick: what matters most first
# climb_at_least = "2.6 m/s"

# The first propeller is the one flown now; the others are compared with it.
# Stations go from root to tip. At each one measure, in this order:
#   radius      from the propeller's axis
#   thickness   the greatest one there, with calipers: on a flat-faced blade the level says nothing
#               without it; in mm, or as a share of the chord such as "11 %"
#   chord       the width of the blade there, straight across
#   angle       between the blade and the plane it turns in
# With a level on the flat lower face write angle_reference = "lower surface". Where that face is
# hollow, lay a straight edge from nose to tail and write angle_reference = "chord".

[[propeller]]
name = "as delivered"
diameter = "136 cm"
blades = 2
section = "clark-y"                 # `loadline sections` lists those there are
# Not known? Leave it out; better, write two heights in its place. Stretch a thread from the nose to
# the middle of the tail. At half and at three quarters of the chord measure from the thread to the
# upper face and to the rear face (negative when that lies below). Half the sum of the two, as a
# share of the chord, tells where lift begins; read the second one to 0.1 mm:
# mean_line_50 = "3.4 %"            # angles then go to the thread: angle_reference = "chord"
# mean_line_75 = "2.1 %"
angle_reference = "lower surface"
stations = [
  {radius = "13 cm", chord = "7.7 cm", angle = "26.8 deg", thickness = "16.5 mm"},
  {radius = "21 cm", chord = "9.3 cm", angle = "23.2 deg", thickness = "14.6 mm"},
  {radius = "32 cm", chord = "9.1 cm", angle = "18 deg", thickness = "11.6 mm"},
  {radius = "43 cm", chord = "8.0 cm", angle = "14.1 deg", thickness = "9.0 mm"},
  {radius = "54 cm", chord = "6.6 cm", angle = "11.4 deg", thickness = "6.6 mm"},
  {radius = "63 cm", chord = "5.0 cm", angle = "9.6 deg", thickness = "4.5 mm"},
  {radius = "67 cm", chord = "3.6 cm", angle = "9 deg", thickness = "3.1 mm"},
]

[[propeller]]
name = "two degrees more"
diameter = "136 cm"
blades = 2
section = "clark-y"
angle_reference = "lower surface"
stations = [
  {radius = "13 cm", chord = "7.7 cm", angle = "28.8 deg", thickness = "16.5 mm"},
  {radius = "21 cm", chord = "9.3 cm", angle = "25.2 deg", thickness = "14.6 mm"},
  {radius = "32 cm", chord = "9.1 cm", angle = "20 deg", thickness = "11.6 mm"},
  {radius = "43 cm", chord = "8.0 cm", angle = "16.1 deg", thickness = "9.0 mm"},
  {radius = "54 cm", chord = "6.6 cm", angle = "13.4 deg", thickness = "6.6 mm"},
  {radius = "63 cm", chord = "5.0 cm", angle = "11.6 deg", thickness = "4.5 mm"},
  {radius = "67 cm", chord = "3.6 cm", angle = "11 deg", thickness = "3.1 mm"},
]

# A propeller you have not measured: write what its label says, diameter x pitch, instead of
# stations. That is much less sure; the width of the blade at 3/4 of the radius makes it surer.
#
# [[propeller]]
# name = "by its label"
# label = "136 x 68 cm"             # or diameter = "136 cm" and pitch = "68 cm"
# blades = 2
# chord = "7.1 cm"                  # at 3/4 of the radius; leave it out when not measured
# look = "flat-bottomed"            # or section = "clark-y"; leave both out when not known

# What you read with a propeller makes every answer surer: one table for each occasion, with any of
# these keys. `loadline fit` then says what it taught and which reading to take next.
#
# [[reading]]
# propeller = "as delivered"
# static_speed = "7850 rpm"         # of the engine, full throttle, tied down
# static_thrust = "720 N"           # on a spring balance
# climb_speed = "7650 rpm"          # of the engine, in full-throttle climb
# climb_rate = "2.9 m/s"
# air = {elevation = "300 m", temperature = "12 degC"}    # of that day, when it was another
)";

}  // namespace

std::string new_case_text() {
    return new_case;
}

}  // namespace loadline
