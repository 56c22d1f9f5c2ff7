#include "loadline/blade/blade.hpp"

#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

using std::numbers::pi;
constexpr std::size_t most_stations = 100000;

std::string in_cm(double metres) {
    return fmt::format("{:.4g} cm", 100.0 * metres);
}

double section_thickness(const BladeDescription& d, const Station& s) {
    return s.thickness ? *s.thickness
                       : s.assumed_thickness.value_or(
                             d.sections[static_cast<std::size_t>(s.section)]->thickness());
}

// The chord line's angle at a station. A section drawn thicker or thinner than its own outline
// keeps its flat lower face, so the angle between face and chord line grows with the thickness.
double chord_line_angle(const BladeDescription& d, const Station& s) {
    if (d.angle_reference == AngleReference::chord_line)
        return s.angle;
    const Section& section = *d.sections[static_cast<std::size_t>(s.section)];
    const double own = section.lower_face_angle().value_or(0.0);
    return s.angle + own * section_thickness(d, s) / section.thickness();
}

template <typename Value>
Curve along(const BladeDescription& d, Value value) {
    std::vector<double> r, v;
    for (const Station& s : d.stations) {
        r.push_back(s.radius);
        v.push_back(value(s));
    }
    return {r, v};
}

// Chord at 0.75 R over R.
double relative_width(const BladeDescription& d) {
    const double tip = 0.5 * d.diameter;
    return along(d, [](const Station& s) { return s.chord; })(0.75 * tip) / tip;
}

// Camber of a station over its section's own, on a blade `width` wide at 0.75 R, over R.
double camber_ratio(const BladeDescription& d, const Station& s, double width) {
    const Section& section = *d.sections[static_cast<std::size_t>(s.section)];
    const std::optional<double> own = section.camber();
    if (own && *own > 0.0) {
        if (s.camber)
            return *s.camber / *own;
        if (section.data().camber_by_width)
            return (*section.data().camber_by_width)(width) / *own;
    }
    return section_thickness(d, s) / section.thickness();
}

double incidence_shift(const BladeDescription& d, const Station& s, double width) {
    const Section& section = *d.sections[static_cast<std::size_t>(s.section)];
    if (s.zero_lift)
        return section.zero_lift() - *s.zero_lift;
    return section.zero_lift() * (1.0 - camber_ratio(d, s, width));
}

double form_factor(double t) {
    return 1.0 + 2.0 * t + 60.0 * t * t * t * t;
}

double drag_factor(const BladeDescription& d, const Station& s) {
    const Section& section = *d.sections[static_cast<std::size_t>(s.section)];
    return form_factor(std::min(section_thickness(d, s), 0.4)) / form_factor(section.thickness());
}

// Everything wrong with a blade, one look at a time; each puts down what it finds.
class BladeCheck {
public:
    explicit BladeCheck(const BladeDescription& d)
        : d_(d),
          diameter_known_(std::isfinite(d.diameter) && d.diameter > 0.0),
          tip_(diameter_known_ ? 0.5 * d.diameter : std::numeric_limits<double>::infinity()),
          hub_(d.hub_diameter ? 0.5 * *d.hub_diameter : 0.0),
          beyond_tip_(tip_ * (1.0 + 1e-6)) {}

    std::vector<BladeFault> run() {
        look_at_whole();
        if (!look_at_sections())
            return faults_;
        look_at_hub();
        if (!look_at_count())
            return faults_;
        look_beyond_tip();
        double previous = -1.0;
        for (std::size_t i = 0; i < d_.stations.size(); ++i) {
            const Station& s = d_.stations[i];
            const int at = static_cast<int>(i);
            look_at_radius(s, at, previous);
            if (std::isfinite(s.radius))
                previous = std::max(previous, s.radius);
            look_at_chord(s, at);
            look_at_shape(s, at);
            look_at_angles(s, at);
        }
        look_at_root();
        return faults_;
    }

private:
    void fault(int station, const char* field, std::string what, std::string remedy) {
        faults_.push_back({station, field, std::move(what), std::move(remedy)});
    }

    void look_at_whole() {
        if (!diameter_known_ || d_.diameter < 0.02 || d_.diameter > 20.0)
            fault(-1, "diameter", fmt::format("a diameter of {:g} m is out of range", d_.diameter),
                  "write the tip circle, from 2 cm to 20 m");
        if (d_.blades < 1 || d_.blades > 12)
            fault(-1, "blades", fmt::format("{} blades", d_.blades), "write a number from 1 to 12");
    }

    bool look_at_sections() {
        if (d_.sections.empty() || std::any_of(d_.sections.begin(), d_.sections.end(),
                                               [](const auto& s) { return s == nullptr; })) {
            fault(-1, "section", "no section data", "name a section");
            return false;
        }
        return true;
    }

    void look_at_hub() {
        if (!d_.hub_diameter)
            return;
        if (!std::isfinite(hub_) || hub_ < 0.0)
            fault(-1, "hub_diameter", "the hub diameter must be positive",
                  "write the diameter of the hub, or leave it out");
        else if (hub_ >= tip_)
            fault(-1, "hub_diameter",
                  fmt::format("the hub ({}) is as large as the propeller ({})", in_cm(2.0 * hub_),
                              in_cm(d_.diameter)),
                  "write a hub diameter below the diameter");
        else if (hub_ > 0.8 * tip_)
            fault(-1, "hub_diameter", "the hub leaves less than a fifth of the blade",
                  "check the hub diameter: it is the diameter, not the radius");
    }

    bool look_at_count() {
        if (d_.stations.size() < 2) {
            fault(
                -1, "stations",
                d_.stations.empty() ? std::string("no stations") : std::string("only one station"),
                "measure at least two stations, better five to eight from root to tip");
            return false;
        }
        if (d_.stations.size() > most_stations) {
            fault(-1, "stations", fmt::format("{} stations", d_.stations.size()),
                  fmt::format("give at most {}", most_stations));
            return false;
        }
        return true;
    }

    void look_beyond_tip() {
        all_beyond_ = std::all_of(d_.stations.begin(), d_.stations.end(),
                                  [&](const Station& s) { return s.radius > beyond_tip_; });
        if (all_beyond_)
            fault(-1, "diameter", fmt::format("all stations lie beyond the tip at {}", in_cm(tip_)),
                  "is the diameter right? It is that of the circle the tips run on, twice their "
                  "radius");
    }

    void look_at_radius(const Station& s, int at, double previous) {
        if (!std::isfinite(s.radius) || s.radius <= 0.0)
            fault(at, "radius", fmt::format("a radius of {:g} m", s.radius),
                  "write a positive radius, measured from the propeller's axis");
        else if (s.radius > beyond_tip_ && !all_beyond_)
            fault(at, "radius",
                  fmt::format("the station at {} lies beyond the tip at {}", in_cm(s.radius),
                              in_cm(tip_)),
                  "radii are measured from the axis and end at half the diameter");
        else if (s.radius <= previous)
            fault(at, "radius",
                  fmt::format("the station at {} does not lie outside the one before it ({})",
                              in_cm(s.radius), in_cm(previous)),
                  "list the stations from root to tip, each once");
    }

    void look_at_chord(const Station& s, int at) {
        if (!std::isfinite(s.chord) || s.chord <= 0.0)
            fault(at, "chord", fmt::format("a chord of {:g} m", s.chord),
                  "write a positive chord; at the tip give the width just inside the rounding");
        else if (diameter_known_ && !all_beyond_ && s.chord > 0.6 * d_.diameter)
            fault(at, "chord",
                  fmt::format("a chord of {} on a propeller of {}", in_cm(s.chord),
                              in_cm(d_.diameter)),
                  "check the unit: a chord is a small part of the diameter");
    }

    void look_at_shape(const Station& s, int at) {
        if (s.thickness && !(std::isfinite(*s.thickness) && *s.thickness >= thinnest_blade &&
                             *s.thickness <= thickest_blade))
            fault(at, "thickness", "the thickness is out of range",
                  "write 0.5 % to 100 % of the chord, or a length");
        if (s.zero_lift && !(std::abs(*s.zero_lift) <= 15.0 * degree))
            fault(
                at, "mean_line_75",
                fmt::format("the heights of the mean line make a zero lift of {:g} deg",
                            *s.zero_lift / degree),
                "read them again: half the sum of what lies above and below the line from nose to "
                "tail, at 75 % of the chord mostly 2 to 4 % of it");
        if (s.camber && !(std::isfinite(*s.camber) && *s.camber >= 0.0 && *s.camber <= 0.15))
            fault(at, "camber", "the camber is out of range",
                  "write 0 % to 15 % of the chord, or a length");
        else if (s.camber && s.section >= 0 &&
                 static_cast<std::size_t>(s.section) < d_.sections.size() &&
                 !d_.sections[static_cast<std::size_t>(s.section)]->camber())
            fault(at, "camber",
                  fmt::format("the camber of section {} is not known, so another cannot be scaled "
                              "from it",
                              d_.sections[static_cast<std::size_t>(s.section)]->data().name),
                  "leave camber out, or name a section with an outline");
    }

    void look_at_angles(const Station& s, int at) {
        if (!std::isfinite(s.sweep) || std::abs(s.sweep) > 60.0 * degree)
            fault(at, "sweep", "the sweep is out of range", "write an angle from -60 to 60 deg");
        if (s.section < 0 || static_cast<std::size_t>(s.section) >= d_.sections.size()) {
            fault(at, "section", "no such section", "name a section");
            return;
        }
        if (d_.angle_reference == AngleReference::lower_surface &&
            !d_.sections[static_cast<std::size_t>(s.section)]->lower_face_angle())
            fault(at, "section",
                  fmt::format("the lower face of section {} is not known, so angles measured on it "
                              "cannot be converted",
                              d_.sections[static_cast<std::size_t>(s.section)]->data().name),
                  "put an outline beside the section file, or measure angles to the chord line and "
                  "write angle_reference = \"chord\"");
        else if (!std::isfinite(s.angle) || chord_line_angle(d_, s) < -30.0 * degree ||
                 chord_line_angle(d_, s) > 85.0 * degree)
            fault(at, "angle",
                  fmt::format("a blade angle of {:g} deg makes no propeller", s.angle / degree),
                  "write the angle between blade and plane of rotation, from -30 to 85 deg");
    }

    void look_at_root() {
        if (hub_ > 0.0 && hub_ < tip_ && d_.stations.front().radius < hub_ * (1.0 - 1e-6)) {
            const bool all = d_.stations.back().radius <= hub_;
            fault(0, "radius",
                  all ? fmt::format("every station lies inside the hub (radius {})", in_cm(hub_))
                      : fmt::format("the first station at {} lies inside the hub (radius {})",
                                    in_cm(d_.stations.front().radius), in_cm(hub_)),
                  "begin with a station outside the hub, or correct hub_diameter");
        }
        if (!d_.hub_diameter && !all_beyond_ && d_.stations.front().radius > 0.8 * tip_)
            fault(0, "radius", "the first station leaves less than a fifth of the blade",
                  "begin nearer the root");
    }

    const BladeDescription& d_;
    bool diameter_known_;
    double tip_, hub_, beyond_tip_;
    bool all_beyond_ = false;
    std::vector<BladeFault> faults_;
};

}  // namespace

double usual_thickness(double share_of_radius) {
    static const Curve curve(std::array{0.3, 0.5, 0.75, 1.0},
                             std::array{0.16, 0.115, 0.085, 0.075});
    return curve(std::clamp(share_of_radius, 0.3, 1.0));
}

std::vector<BladeFault> check_blade(const BladeDescription& d) {
    return BladeCheck(d).run();
}

namespace {

BladeDescription checked(BladeDescription description) {
    const std::vector<BladeFault> faults = check_blade(description);
    if (!faults.empty())
        throw std::invalid_argument(fmt::format("blade: {}; {}", faults[0].what, faults[0].remedy));
    return description;
}

}  // namespace

Blade::Blade(BladeDescription description)
    : description_(checked(std::move(description))),
      root_radius_(description_.hub_diameter && *description_.hub_diameter > 0.0
                       ? 0.5 * *description_.hub_diameter
                       : description_.stations.front().radius),
      chord_(along(description_, [](const Station& s) { return s.chord; })),
      angle_(along(description_,
                   [this](const Station& s) { return chord_line_angle(description_, s); })),
      thickness_(along(description_,
                       [this](const Station& s) { return section_thickness(description_, s); })),
      sweep_(along(description_, [](const Station& s) { return s.sweep; })),
      incidence_shift_(along(description_,
                             [this, width = relative_width(description_)](const Station& s) {
                                 return incidence_shift(description_, s, width);
                             })),
      drag_factor_(
          along(description_, [this](const Station& s) { return drag_factor(description_, s); })) {
    for (const Station& s : description_.stations) {
        radii_.push_back(s.radius);
        section_of_.push_back(s.section);
    }
}

BladeElement Blade::at(double r) const {
    r = std::clamp(r, root_radius_, tip_radius());
    BladeElement e{
        chord_(r), angle_(r), thickness_(r), sweep_(r), incidence_shift_(r), drag_factor_(r), 0,
        0,         0.0};
    const auto above = std::upper_bound(radii_.begin(), radii_.end(), r);
    const std::size_t outer =
        std::min(static_cast<std::size_t>(above - radii_.begin()), radii_.size() - 1);
    const std::size_t inner = outer == 0 || above == radii_.begin() ? 0 : outer - 1;
    e.section_a = section_of_[inner];
    e.section_b = section_of_[outer];
    if (above == radii_.end())
        e.section_a = e.section_b;
    if (e.section_a != e.section_b)
        e.weight_b = std::clamp((r - radii_[inner]) / (radii_[outer] - radii_[inner]), 0.0, 1.0);
    return e;
}

double Blade::nominal_pitch() const {
    const double r = 0.75 * tip_radius();
    return 2.0 * pi * r * std::tan(at(r).angle);
}

double Blade::aspect_ratio() const {
    return tip_radius() / at(0.75 * tip_radius()).chord;
}

}  // namespace loadline
