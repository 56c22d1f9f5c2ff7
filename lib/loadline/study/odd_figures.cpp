#include "loadline/study/odd_figures.hpp"

#include "loadline/quantity/quantity.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <numeric>
#include <optional>
#include <utility>

namespace loadline {
namespace {

constexpr std::size_t most_questions = 3;

struct Point {
    double x = 0.0;
    double y = 0.0;
};

// How far the middle one stands out, and how far it may.
struct Distance {
    double found = 0.0;
    double allowed = 0.0;
};
using Measure = std::function<Distance(const Point& before, const Point& here, const Point& after)>;

struct Odd {
    Point before, here, after;
};

double on_the_line(double x, const Point& a, const Point& b) {
    return a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
}

// The worst point is taken out before the rest is looked at again: a slip makes its neighbours
// stand out too, but less, for each of them shares its line with a sound point.
std::vector<Odd> odd_ones(std::vector<Point> points, const Measure& measure) {
    std::vector<Odd> found;
    while (found.size() < most_questions && points.size() > 2) {
        std::optional<std::size_t> worst;
        double most = 0.0;
        for (std::size_t i = 1; i + 1 < points.size(); ++i) {
            const Distance d = measure(points[i - 1], points[i], points[i + 1]);
            if (d.found > d.allowed && d.found > most) {
                most = d.found;
                worst = i;
            }
        }
        if (!worst)
            break;
        found.push_back({points[*worst - 1], points[*worst], points[*worst + 1]});
        points.erase(points.begin() + static_cast<std::ptrdiff_t>(*worst));
    }
    return found;
}

Measure share_of_larger(double allowed) {
    return [allowed](const Point& before, const Point& here, const Point& after) {
        return Distance{std::abs(here.y - on_the_line(here.x, before, after)),
                        allowed * std::max(before.y, after.y)};
    };
}

Distance angle_measure(const Point& before, const Point& here, const Point& after) {
    const auto pitch = [](const Point& p) {
        return Point{p.x, p.x * std::tan(p.y)};
    };
    const double of_equal_pitch_change =
        std::atan(on_the_line(here.x, pitch(before), pitch(after)) / here.x);
    return {std::min(std::abs(here.y - on_the_line(here.x, before, after)),
                     std::abs(here.y - of_equal_pitch_change)),
            from_unit(odd_angle_deg, "deg")};
}

void add(std::vector<OddFigure>& found, OddFigure::What what, const std::vector<Odd>& odd) {
    for (const Odd& o : odd)
        found.push_back({what, o.here.x, o.here.y, std::pair{o.before.y, o.after.y}});
}

}  // namespace

std::vector<OddFigure> odd_figures(const BladeDescription& blade) {
    std::vector<Point> angles, chords;
    for (const Station& station : blade.stations) {
        angles.push_back({station.radius, station.angle});
        chords.push_back({station.radius, station.chord});
    }
    std::vector<OddFigure> found;
    add(found, OddFigure::angle, odd_ones(std::move(angles), angle_measure));
    add(found, OddFigure::chord, odd_ones(std::move(chords), share_of_larger(odd_chord_share)));
    const Station* thickest = nullptr;
    const Station* most_cambered = nullptr;
    for (const Station& s : blade.stations) {
        if (s.thickness && s.radius > 0.25 * blade.diameter && *s.thickness > odd_thickness &&
            (thickest == nullptr || *s.thickness > *thickest->thickness))
            thickest = &s;
        if (s.camber && *s.camber > odd_camber &&
            (most_cambered == nullptr || *s.camber > *most_cambered->camber))
            most_cambered = &s;
    }
    if (thickest != nullptr)
        found.push_back({OddFigure::thickness, thickest->radius, *thickest->thickness, {}});
    if (most_cambered != nullptr)
        found.push_back({OddFigure::camber, most_cambered->radius, *most_cambered->camber, {}});
    return found;
}

std::vector<OddFigure> odd_figures(const EngineDescription& engine) {
    std::vector<Point> points;
    for (const TorquePoint& point : engine.table)
        points.push_back({point.rotation, point.torque});
    std::vector<OddFigure> found;
    add(found, OddFigure::torque, odd_ones(std::move(points), share_of_larger(odd_torque_share)));
    return found;
}

}  // namespace loadline
