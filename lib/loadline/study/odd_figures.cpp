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

Measure angle_measure(double tip) {
    return [tip](const Point& before, const Point& here, const Point& after) {
        const auto pitch = [](const Point& p) {
            return Point{p.x, p.x * std::tan(p.y)};
        };
        const double of_equal_pitch_change =
            std::atan(on_the_line(here.x, pitch(before), pitch(after)) / here.x);
        const bool well_within = here.x > 0.32 * tip && here.x < 0.82 * tip;
        return Distance{std::min(std::abs(here.y - on_the_line(here.x, before, after)),
                                 std::abs(here.y - of_equal_pitch_change)),
                        from_unit(well_within ? odd_angle_deg : odd_end_angle_deg, "deg")};
    };
}

void add(std::vector<OddFigure>& found, OddFigure::What what, const std::vector<Odd>& odd) {
    for (const Odd& o : odd)
        found.push_back({what, o.here.x, o.here.y, std::pair{o.before.y, o.after.y}});
}

// Between two stations far from each other, the rest standing evenly: a row is lost. Not before the
// second station or behind the last but one, where blades are measured as far as they can be.
void add_lost(std::vector<OddFigure>& found, const std::vector<Station>& rows) {
    if (rows.size() < 5)
        return;
    std::vector<double> gaps;
    for (std::size_t i = 1; i < rows.size(); ++i)
        gaps.push_back(rows[i].radius - rows[i - 1].radius);
    const auto widest = std::max_element(gaps.begin() + 1, gaps.end() - 1);
    for (auto gap = gaps.begin(); gap != gaps.end(); ++gap)
        if (gap != widest && *widest < odd_gap * *gap)
            return;
    const auto at = static_cast<std::size_t>(widest - gaps.begin());
    found.push_back({OddFigure::lost, rows[at].radius, rows[at + 1].radius, {}});
}

// Two stations alike although the blade turns from the one before them to the one behind. Within a
// third of the radius, where blades are widest and pass into the hub, sound ones are.
void add_copied(std::vector<OddFigure>& found, const std::vector<Station>& rows, double tip) {
    for (std::size_t i = 1; i + 1 < rows.size(); ++i) {
        const Station &one = rows[i], &next = rows[i + 1];
        if (one.radius < 0.33 * tip || one.chord != next.chord || one.angle != next.angle ||
            one.thickness != next.thickness)
            continue;
        const Station& before = rows[i - 1];
        const Station& behind = i + 2 < rows.size() ? rows[i + 2] : one;
        const double turn = (behind.angle - before.angle) / (behind.radius - before.radius) *
                            (next.radius - one.radius);
        const double same_chord = before.chord == one.chord ? 1.5 : 1.0;
        if (std::abs(turn) > from_unit(same_chord * odd_like_deg, "deg"))
            found.push_back({OddFigure::copied, one.radius, next.radius, {}});
    }
}

// How much the slope of the line through the points changes from one to the next, all together.
double roughness(const std::vector<Point>& points, std::size_t without) {
    std::vector<Point> p = points;
    if (without < p.size())
        p.erase(p.begin() + static_cast<std::ptrdiff_t>(without));
    double sum = 0.0;
    for (std::size_t i = 2; i < p.size(); ++i)
        sum += std::abs((p[i].y - p[i - 1].y) / (p[i].x - p[i - 1].x) -
                        (p[i - 1].y - p[i - 2].y) / (p[i - 1].x - p[i - 2].x));
    return sum;
}

// The point without which the curve is smooth.
std::vector<Odd> rough_one(const std::vector<Point>& p) {
    const Measure measure = share_of_larger(odd_smooth_torque_share);
    const double all = roughness(p, p.size());
    std::vector<Odd> found;
    double most = odd_roughness;
    for (std::size_t i = 1; p.size() > 4 && i + 1 < p.size(); ++i) {
        const Distance d = measure(p[i - 1], p[i], p[i + 1]);
        const double less = roughness(p, i);
        if (d.found > d.allowed && all > most * less) {
            most = all / less;
            found = {{p[i - 1], p[i], p[i + 1]}};
        }
    }
    return found;
}

// A first or last point that a decimal point out of place would put beside its neighbour, or that
// turns up again where the curve was falling towards it.
std::vector<Odd> odd_end(const Point& end, const Point& next, const Point& far, double turns_up) {
    const double share = end.y / next.y;
    const auto beside = [](double value) {
        return value > 0.5 && value < 1.3;
    };
    const bool decimal =
        (share < 0.2 && beside(10.0 * share)) || (share > 3.0 && beside(0.1 * share));
    if (decimal || (share > turns_up && next.y < far.y))
        return {{next, end, far}};
    return {};
}

}  // namespace

std::vector<OddFigure> odd_figures(const BladeDescription& blade) {
    std::vector<Point> angles, chords, thicknesses;
    for (const Station& station : blade.stations) {
        if (station.thickness)
            thicknesses.push_back({station.radius, *station.thickness});
        angles.push_back({station.radius, station.angle});
        chords.push_back({station.radius, station.chord});
    }
    std::vector<OddFigure> found;
    add(found, OddFigure::angle, odd_ones(std::move(angles), angle_measure(0.5 * blade.diameter)));
    add(found, OddFigure::chord, odd_ones(std::move(chords), share_of_larger(odd_chord_share)));
    add(found, OddFigure::thickness,
        odd_ones(std::move(thicknesses), share_of_larger(odd_thickness_share)));
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
    add_lost(found, blade.stations);
    add_copied(found, blade.stations, 0.5 * blade.diameter);
    return found;
}

std::vector<OddFigure> odd_figures(const EngineDescription& engine) {
    std::vector<Point> points;
    for (const TorquePoint& point : engine.table)
        points.push_back({point.rotation, point.torque});
    std::vector<OddFigure> found;
    add(found, OddFigure::torque, odd_ones(points, share_of_larger(odd_torque_share)));
    const std::size_t n = points.size();
    if (n < 4 || !found.empty())
        return found;
    add(found, OddFigure::torque, odd_end(points[0], points[1], points[2], 1.5));
    add(found, OddFigure::torque, odd_end(points[n - 1], points[n - 2], points[n - 3], 1.1));
    if (found.empty())
        add(found, OddFigure::torque, rough_one(points));
    return found;
}

}  // namespace loadline
