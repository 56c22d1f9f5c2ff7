#include "loadline/strength/section_shape.hpp"

#include "loadline/number/quadrature.hpp"
#include "loadline/number/root.hpp"
#include "loadline/section/outline.hpp"
#include "loadline/strength/checks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace loadline {
namespace {

using std::numbers::pi;

constexpr std::size_t grid_count = 81;
constexpr double camber_of_thickness = 0.3;  // Clark Y: 0.034 over 0.117

// Points along the chord, gathered at nose and tail.
const std::array<double, grid_count>& grid() {
    static const auto places = [] {
        std::array<double, grid_count> x{};
        for (std::size_t k = 0; k < grid_count; ++k)
            x[k] = 0.5 - 0.5 * std::cos(pi * static_cast<double>(k) / (grid_count - 1));
        return x;
    }();
    return places;
}

// Both faces of one cut, m.
struct Faces {
    std::array<double, grid_count> x{}, upper{}, lower{};
};

std::vector<OutlinePoint> polygon_of(const Faces& f) {
    std::vector<OutlinePoint> points;
    points.reserve(2 * grid_count);
    for (std::size_t i = grid_count; i-- > 0;)
        points.push_back({f.x[i], f.upper[i]});
    for (std::size_t i = 0; i < grid_count; ++i)
        points.push_back({f.x[i], f.lower[i]});
    return points;
}

double area_of(const Faces& f) {
    double area = 0.0;
    for (std::size_t i = 0; i + 1 < grid_count; ++i)
        area += 0.5 * (f.x[i + 1] - f.x[i]) *
                (f.upper[i] - f.lower[i] + f.upper[i + 1] - f.lower[i + 1]);
    return area;
}

// Integrals over the area between both faces, about the centroid.
struct FaceMoments {
    double area = 0.0, x = 0.0, y = 0.0;  // where the centroid is
    double xx = 0.0, yy = 0.0, xy = 0.0;
};

// Strip by strip between straight lines: of cubics Simpson's rule is exact.
FaceMoments moments_of(const Faces& f) {
    FaceMoments m;
    double area = 0.0, x = 0.0, y = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
    const auto add = [&](double weight, double at, double up, double down) {
        const double height = weight * (up - down), middle = 0.5 * (up + down);
        area += height;
        x += height * at;
        y += height * middle;
        xx += height * at * at;
        yy += height * (up * up + up * down + down * down);
        xy += height * at * middle;
    };
    for (std::size_t i = 0; i + 1 < grid_count; ++i) {
        const double sixth = (f.x[i + 1] - f.x[i]) / 6.0;
        const double before = i > 0 ? (f.x[i] - f.x[i - 1]) / 6.0 : 0.0;
        add(sixth + before, f.x[i], f.upper[i], f.lower[i]);
        add(4.0 * sixth, 0.5 * (f.x[i] + f.x[i + 1]), 0.5 * (f.upper[i] + f.upper[i + 1]),
            0.5 * (f.lower[i] + f.lower[i + 1]));
    }
    constexpr std::size_t end = grid_count - 1;
    add((f.x[end] - f.x[end - 1]) / 6.0, f.x[end], f.upper[end], f.lower[end]);
    if (!(area > 0.0) || !std::isfinite(area))
        return m;
    m.area = area;
    m.x = x / area;
    m.y = y / area;
    m.xx = xx - area * m.x * m.x;
    m.yy = yy / 3.0 - area * m.y * m.y;
    m.xy = xy - area * m.x * m.y;
    return m;
}

// How much longer a face is than its shadow on the chord line.
double stretch(const Faces& f, const std::array<double, grid_count>& y, std::size_t i) {
    const std::size_t a = i == 0 ? 0 : i - 1;
    const std::size_t b = std::min(i + 1, grid_count - 1);
    const double slope = (y[b] - y[a]) / (f.x[b] - f.x[a]);
    return std::sqrt(1.0 + slope * slope);
}

struct Stretches {
    std::array<double, grid_count> upper{}, lower{};
};

Stretches stretches(const Faces& f) {
    Stretches out;
    for (std::size_t i = 0; i < grid_count; ++i) {
        out.upper[i] = stretch(f, f.upper, i);
        out.lower[i] = stretch(f, f.lower, i);
    }
    return out;
}

// The nose is all wall: the core begins that far behind it, between two points of the grid, so that
// what a cut weighs and bears goes on smoothly with its wall.
struct CoreFront {
    std::size_t behind = grid_count;  // the first point of the grid behind it; none: no core
    double share = 0.0;               // of the way from the point before to that one
};

CoreFront core_front(const Faces& f, double wall) {
    const double at = f.x.front() + wall;
    CoreFront front;
    front.behind =
        static_cast<std::size_t>(std::upper_bound(f.x.begin(), f.x.end(), at) - f.x.begin());
    if (front.behind > 0 && front.behind < grid_count)
        front.share = (at - f.x[front.behind - 1]) / (f.x[front.behind] - f.x[front.behind - 1]);
    return front;
}

// What is left within a wall of even thickness, measured square to each face. Its front is upright.
Faces core_of(const Faces& f, const Stretches& s, double wall) {
    const CoreFront front = core_front(f, wall);
    if (front.behind == grid_count) {
        Faces none = f;
        for (std::size_t i = 0; i < grid_count; ++i)
            none.upper[i] = none.lower[i] = 0.5 * (f.upper[i] + f.lower[i]);
        return none;
    }
    Faces core = f;
    for (std::size_t i = 0; i < grid_count; ++i) {
        core.upper[i] -= wall * s.upper[i];
        core.lower[i] += wall * s.lower[i];
    }
    const std::size_t first = front.behind - 1;
    for (std::array<double, grid_count>* along : {&core.x, &core.upper, &core.lower})
        (*along)[first] += front.share * ((*along)[first + 1] - (*along)[first]);
    for (std::size_t i = 0; i < grid_count; ++i) {
        if (i < first)
            core.x[i] = core.x[first];
        const double middle =
            0.5 * (core.upper[std::max(i, first)] + core.lower[std::max(i, first)]);
        if (i < first || core.upper[i] < core.lower[i])
            core.upper[i] = core.lower[i] = middle;
    }
    return core;
}

double greatest_height(const Faces& f) {
    double most = 0.0;
    for (std::size_t i = 0; i < grid_count; ++i)
        most = std::max(most, f.upper[i] - f.lower[i]);
    return most;
}

// The wall that makes `share` of the area material: the area of core_of at one wall after another.
double wall_for_share(const Faces& f, const Stretches& s, double area, double share) {
    std::array<double, grid_count> height{}, both{}, width{};
    for (std::size_t i = 0; i < grid_count; ++i) {
        height[i] = f.upper[i] - f.lower[i];
        both[i] = s.upper[i] + s.lower[i];  // walls of both faces, over the wall
        width[i] = i > 0 ? f.x[i] - f.x[i - 1] : 0.0;
    }
    const auto lacking = [&](double wall) {
        const CoreFront front = core_front(f, wall);
        const auto left = [&](std::size_t i) {
            return height[i] - wall * both[i];
        };
        double core = 0.0;
        for (std::size_t i = front.behind; i < grid_count; ++i) {
            const bool at_front = i == front.behind;
            const double before =
                at_front ? std::lerp(left(i - 1), left(i), front.share) : left(i - 1);
            core += 0.5 * (at_front ? 1.0 - front.share : 1.0) * width[i] *
                    (std::max(0.0, before) + std::max(0.0, left(i)));
        }
        return 1.0 - core / area - share;
    };
    return find_root(lacking, 0.0, 0.5 * greatest_height(f), to_bits(40, 60)).value();
}

// Length of both faces where they lie apart.
double perimeter(const Faces& f) {
    double length = 0.0;
    for (std::size_t i = 0; i + 1 < grid_count; ++i)
        if (f.upper[i] > f.lower[i] || f.upper[i + 1] > f.lower[i + 1]) {
            const double h = f.x[i + 1] - f.x[i];
            const double up = f.upper[i + 1] - f.upper[i], down = f.lower[i + 1] - f.lower[i];
            length += std::sqrt(h * h + up * up) + std::sqrt(h * h + down * down);
        }
    return length;
}

double solid_torsion(const Faces& f, double area) {
    double cubes = 0.0;
    for (std::size_t i = 0; i + 1 < grid_count; ++i) {
        const double a = f.upper[i] - f.lower[i];
        const double b = f.upper[i + 1] - f.lower[i + 1];
        cubes += (f.x[i + 1] - f.x[i]) * 0.25 * (a + b) * (a * a + b * b);
    }
    const double chord = f.x.back() - f.x.front();
    return area > 0.0 ? cubes / (3.0 + 4.0 * cubes / (area * chord * chord)) : 0.0;
}

// Where a load across the chord twists nothing: along the chord, and on the mean line there.
OutlinePoint elastic_axis(const Faces& f) {
    double cubes = 0.0, first = 0.0;
    for (std::size_t i = 0; i + 1 < grid_count; ++i) {
        const double h = f.x[i + 1] - f.x[i];
        // Of the height from a to b in a straight line: of its cube, and of that times the way.
        const double a = f.upper[i] - f.lower[i], b = f.upper[i + 1] - f.lower[i + 1];
        const double cube = 0.25 * h * (a + b) * (a * a + b * b);
        cubes += cube;
        first +=
            cube * f.x[i] + 0.05 * h * h * (a * a * (a + 2.0 * b) + b * b * (3.0 * a + 4.0 * b));
    }
    if (!(cubes > 0.0))  // no height, no axis: the middle of the chord
        return {0.5 * (f.x.front() + f.x.back()), 0.5 * (f.upper.front() + f.lower.front())};
    const double x = first / cubes;
    std::size_t i = 0;
    while (i + 2 < grid_count && f.x[i + 1] < x)
        ++i;
    const double share = (x - f.x[i]) / (f.x[i + 1] - f.x[i]);
    const auto middle = [&](std::size_t k) {
        return 0.5 * (f.upper[k] + f.lower[k]);
    };
    return {x, middle(i) + share * (middle(i + 1) - middle(i))};
}

// Moments of what remains of `whole` when `hole` is cut out of it.
FaceMoments without(const FaceMoments& whole, const FaceMoments& hole) {
    FaceMoments m;
    m.area = whole.area - hole.area;
    m.x = (whole.area * whole.x - hole.area * hole.x) / m.area;
    m.y = (whole.area * whole.y - hole.area * hole.y) / m.area;
    const auto about = [&](double own_whole, double own_hole, double dw, double dh) {
        return own_whole + whole.area * dw - own_hole - hole.area * dh;
    };
    const double wx = whole.x - m.x, wy = whole.y - m.y, hx = hole.x - m.x, hy = hole.y - m.y;
    m.xx = about(whole.xx, hole.xx, wx * wx, hx * hx);
    m.yy = about(whole.yy, hole.yy, wy * wy, hy * hy);
    m.xy = about(whole.xy, hole.xy, wx * wy, hx * hy);
    return m;
}

SectionShape shape_of(const Faces& f, const Fill& fill) {
    SectionShape s;
    s.outline = polygon_of(f);
    const FaceMoments whole = moments_of(f);
    s.solid_area = whole.area;
    const bool hollow = fill.skin || fill.share < 1.0;
    const Stretches along = hollow ? stretches(f) : Stretches{};
    if (hollow)
        s.wall = fill.skin ? *fill.skin : wall_for_share(f, along, whole.area, fill.share);
    s.torsion = solid_torsion(f, whole.area);
    s.shear_length = greatest_height(f);
    FaceMoments m = whole;
    if (s.wall > 0.0) {
        const Faces core = core_of(f, along, s.wall);
        s.hole = polygon_of(core);
        const FaceMoments hole = moments_of(core);
        const Faces within = core_of(f, along, 0.5 * s.wall);
        const double around = perimeter(within);
        if (hole.area > 0.0 && around > 0.0) {
            m = without(whole, hole);
            const double middle = area_of(within);
            // Bredt's tube, and the wall's own torsion as if it were cut open: together what a
            // solution of the whole cut gives within a few per cent, where Bredt alone is low.
            s.torsion = std::min(s.torsion, 4.0 * middle * middle * s.wall / around +
                                                std::pow(s.wall, 3) * around / 3.0);
            s.shear_length = std::min(s.shear_length, 2.0 * middle / around);
            s.hole_torsion = solid_torsion(core, hole.area);
            const double dx = hole.x - m.x, dy = hole.y - m.y;
            s.hole_area = hole.area;
            s.hole_flapwise = hole.yy + hole.area * dy * dy;
            s.hole_edgewise = hole.xx + hole.area * dx * dx;
            s.hole_product = hole.xy + hole.area * dx * dy;
        } else {
            s.wall = 0.0;
            s.hole.clear();
        }
    }
    const OutlinePoint elastic = elastic_axis(f);
    s.area = m.area;
    s.flapwise = m.yy;
    s.edgewise = m.xx;
    s.product = m.xy;
    s.centroid = m.x - f.x.front();
    s.height = m.y;
    s.elastic_x = elastic.x - m.x;
    s.elastic_y = elastic.y - m.y;
    for (OutlinePoint& p : s.hole) {
        p.x -= m.x;
        p.y -= m.y;
    }
    for (OutlinePoint& p : s.outline) {
        p.x -= m.x;
        p.y -= m.y;
        s.rear = std::max(s.rear, p.x);
        s.forward = std::max(s.forward, -p.x);
        s.upper = std::max(s.upper, p.y);
        s.lower = std::max(s.lower, -p.y);
    }
    return s;
}

double own_camber(const Section& section) {
    return section.camber().value_or(camber_of_thickness * section.thickness());
}

// Height of the mean line at the stations, over chord; a camber not stated goes with the thickness.
Curve station_camber(const BladeDescription& d) {
    std::vector<double> r, v;
    for (const Station& s : d.stations) {
        const Section& section = *d.sections[static_cast<std::size_t>(s.section)];
        const double thickness =
            s.thickness ? *s.thickness : s.assumed_thickness.value_or(section.thickness());
        r.push_back(s.radius);
        v.push_back(s.camber.value_or(own_camber(section) * thickness / section.thickness()));
    }
    return {r, v};
}

Fill checked(const Fill& fill) {
    strength::need_share("the fill", fill.share);
    if (fill.skin)
        strength::need_positive("the skin", *fill.skin, " m");
    if (fill.skin && fill.share < 1.0)
        throw std::invalid_argument("the fill has both a share and a skin; needs only one of them");
    return fill;
}

}  // namespace

double SectionShape::weakest() const {
    const double half = 0.5 * (edgewise - flapwise);
    const double radius = std::hypot(half, product);
    // The product of both principal moments is the determinant: no digits are lost this way.
    const double greater = 0.5 * (edgewise + flapwise) + radius;
    return greater > 0.0 ? (edgewise * flapwise - product * product) / greater : 0.0;
}

StressRange section_stress(const SectionShape& s, double force, double flat, double edge) {
    const double determinant = s.flapwise * s.edgewise - s.product * s.product;
    if (!(s.area > 0.0) || !(determinant > 0.0) || s.outline.empty())
        throw std::invalid_argument(
            fmt::format("section shape has an area of {:g} m2; needs more than 0", s.area));
    // sigma = F/A + a x + b y; bending the tip towards +y pulls the -y side.
    const double a = -(edge * s.flapwise - flat * s.product) / determinant;
    const double b = -(flat * s.edgewise - edge * s.product) / determinant;
    StressRange range{-std::numeric_limits<double>::infinity(),
                      std::numeric_limits<double>::infinity()};
    for (const OutlinePoint& p : s.outline) {
        const double sigma = force / s.area + a * p.x + b * p.y;
        range.most = std::max(range.most, sigma);
        range.least = std::min(range.least, sigma);
    }
    return range;
}

std::optional<BladeShape::Form> BladeShape::form_of(const std::vector<OutlinePoint>& outline) {
    const std::optional<OutlineFaces> faces = outline_faces(outline);
    if (!faces)
        return std::nullopt;
    const Curve& top = faces->upper;
    const Curve& bottom = faces->lower;
    Form form;
    double most = 0.0, camber = 0.0;
    for (std::size_t i = 0; i < grid_count; ++i) {
        const double x = grid()[i];
        form.height.push_back(std::max(0.0, top(x) - bottom(x)));
        form.mean.push_back(0.5 * (top(x) + bottom(x)));
        most = std::max(most, form.height.back());
        if (std::abs(form.mean.back()) > std::abs(camber))
            camber = form.mean.back();
    }
    if (!(most > 1e-4))
        return std::nullopt;
    for (double& h : form.height)
        h /= most;
    for (double& m : form.mean)
        m = std::abs(camber) > 1e-6 ? m / camber : 0.0;
    return form;
}

BladeShape::Form BladeShape::drawn_form() {
    Form form;
    double most = 0.0;
    for (std::size_t i = 0; i < grid_count; ++i) {
        const double x = grid()[i];
        form.height.push_back(10.0 * (0.2969 * std::sqrt(x) +
                                      x * (-0.1260 + x * (-0.3516 + x * (0.2843 - x * 0.1015)))));
        form.mean.push_back(4.0 * x * (1.0 - x));
        most = std::max(most, form.height.back());
    }
    for (double& h : form.height)
        h /= most;
    return form;
}

BladeShape::BladeShape(Blade blade, Fill fill, double thicker)
    : blade_(std::move(blade)),
      fill_(checked(fill)),
      thicker_(thicker),
      camber_(station_camber(blade_.description())) {
    strength::need_positive("the factor on thickness", thicker, "");
    const BladeDescription& d = blade_.description();
    std::vector<bool> known;
    for (const auto& section : d.sections) {
        std::optional<Form> form = form_of(section->data().outline);
        known.push_back(form.has_value());
        forms_.push_back(form ? std::move(*form) : drawn_form());
    }
    for (const Station& s : d.stations) {
        outline_known_ = outline_known_ && known[static_cast<std::size_t>(s.section)];
        thickness_stated_ = thickness_stated_ && s.thickness.has_value();
    }
    static_assert(gauss_three.size() == slices_per_panel);
    const double width = (blade_.tip_radius() - blade_.root_radius()) / panels;
    for (int panel = 0; panel < panels; ++panel) {
        const double middle = blade_.root_radius() + (panel + 0.5) * width;
        for (const GaussPoint& g : gauss_three) {
            const double r = middle + 0.5 * width * g.place;
            slices_.push_back({r, 0.5 * width * g.weight, blade_.at(r).angle, at(r)});
        }
    }
}

double BladeShape::mass_per_length(const SectionShape& cut, double density) const {
    return density * cut.area + (fill_.core ? fill_.core->density * cut.hole_area : 0.0);
}

SectionShape BladeShape::at(double r) const {
    r = std::clamp(r, blade_.root_radius(), blade_.tip_radius());
    const BladeElement e = blade_.at(r);
    const Form& a = forms_[static_cast<std::size_t>(e.section_a)];
    const Form& b = forms_[static_cast<std::size_t>(e.section_b)];
    const double camber = e.chord * thicker_ * camber_(r);
    const double half = 0.5 * e.chord * thicker_ * e.thickness;
    const std::array<double, grid_count>& along = grid();
    Faces f;
    for (std::size_t i = 0; i < grid_count; ++i) {
        const double mean = a.mean[i] + e.weight_b * (b.mean[i] - a.mean[i]);
        const double height = a.height[i] + e.weight_b * (b.height[i] - a.height[i]);
        f.x[i] = e.chord * along[i];
        f.upper[i] = camber * mean + half * height;
        f.lower[i] = camber * mean - half * height;
    }
    return shape_of(f, fill_);
}

}  // namespace loadline
