#include "loadline/section/section.hpp"

#include "loadline/number/constants.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

namespace loadline {

namespace {

using std::numbers::pi;

std::optional<SectionFault> point_fault(const SectionPoint& p, int at) {
    if (!std::isfinite(p.reynolds) || p.reynolds < 1e3 || p.reynolds > 1e8)
        return SectionFault{at, fmt::format("Reynolds number {:g} is out of range", p.reynolds),
                            "write a number from 1000 to 100000000"};
    if (!std::isfinite(p.alpha) || std::abs(p.alpha) > pi)
        return SectionFault{at, "the angle of attack is out of range",
                            "write degrees from -180 to 180"};
    if (!std::isfinite(p.cl) || std::abs(p.cl) > 10.0)
        return SectionFault{at, fmt::format("lift coefficient {:g} is out of range", p.cl),
                            "write a number from -10 to 10"};
    if (p.cd && (!std::isfinite(*p.cd) || *p.cd <= 0.0 || *p.cd > 5.0))
        return SectionFault{at, fmt::format("drag coefficient {:g} is out of range", *p.cd),
                            "write a number above 0 and up to 5, or leave it empty where drag was "
                            "not measured"};
    return std::nullopt;
}

// The points of one Reynolds number, `members` their places, sorted by angle.
void check_group(const SectionData& data, double reynolds, const std::vector<std::size_t>& members,
                 bool drag_somewhere, std::vector<SectionFault>& faults) {
    std::size_t with_drag = 0;
    for (std::size_t k = 0; k < members.size(); ++k) {
        const SectionPoint& p = data.points[members[k]];
        if (p.cd)
            ++with_drag;
        if (k > 0 && p.alpha - data.points[members[k - 1]].alpha < 0.005 * degree)
            faults.push_back({static_cast<int>(std::max(members[k], members[k - 1])),
                              fmt::format("the angle {:.2f} deg appears twice at Reynolds "
                                          "number {:g}",
                                          p.alpha / degree, reynolds),
                              "keep one row per angle"});
    }
    const int front = static_cast<int>(members.front());
    if (members.size() < 3) {
        faults.push_back(
            {front,
             fmt::format("only {} at Reynolds number {:g}",
                         members.size() == 1 ? "one row" : "two rows", reynolds),
             "give at least three angles for each Reynolds number, some below and some above zero "
             "lift"});
        return;
    }
    // Lift alone is a measurement too, where another Reynolds number has drag.
    if (with_drag == 1 || (with_drag == 0 && !drag_somewhere))
        faults.push_back({front, fmt::format("drag is missing at Reynolds number {:g}", reynolds),
                          "give cd for at least two angles of it"});
    const SectionPoint& first = data.points[members.front()];
    const SectionPoint& last = data.points[members.back()];
    const double rise = (last.cl - first.cl) / (last.alpha - first.alpha);
    double greatest = first.cl;
    for (const std::size_t k : members)
        greatest = std::max(greatest, data.points[k].cl);
    if (!(greatest > 0.05) || (first.cl > 0.0 && rise <= 0.0 && greatest == first.cl))
        faults.push_back(
            {front, fmt::format("lift does not rise with angle at Reynolds number {:g}", reynolds),
             "check the columns: reynolds,alpha_deg,cl,cd"});
}

// Where lift passes zero on its way up, if it is measured at all, blades have a small angle.
void check_zero_lift(const SectionData& data, double reynolds,
                     const std::vector<std::size_t>& members, std::vector<SectionFault>& faults) {
    constexpr double farthest = 45.0 * degree;
    std::optional<double> nearest;
    for (std::size_t k = 0; k + 1 < members.size(); ++k) {
        const SectionPoint& a = data.points[members[k]];
        const SectionPoint& b = data.points[members[k + 1]];
        if (a.cl > 0.0 || b.cl <= 0.0)
            continue;
        const double angle = a.alpha - a.cl * (b.alpha - a.alpha) / (b.cl - a.cl);
        if (!nearest || std::abs(angle) < std::abs(*nearest))
            nearest = angle;
    }
    if (nearest && std::abs(*nearest) > farthest)
        faults.push_back({static_cast<int>(members.front()),
                          fmt::format("lift passes zero at {:.0f} deg at Reynolds number {:g}, "
                                      "where sections do within {:.0f} deg of their chord line",
                                      *nearest / degree, reynolds, farthest / degree),
                          "check the columns, reynolds,alpha_deg,cl,cd, and the angles"});
}

// Whether points on both sides, two and two, show where lift rises through zero: then so does a
// section made of them.
bool shows_zero_lift(const std::vector<SectionPoint>& points) {
    constexpr double apart = 0.25 * degree, farthest = 85.0 * degree;
    for (std::size_t k = 1; k + 2 < points.size(); ++k) {
        const SectionPoint *before = &points[k - 1], *a = before + 1, *b = a + 1, *after = b + 1;
        if (before->cl <= 0.0 && a->cl <= 0.0 && b->cl > 0.0 && after->cl > 0.0 &&
            a->alpha - before->alpha >= apart && after->alpha - b->alpha >= apart &&
            before->alpha > -farthest && after->alpha < farthest)
            return true;
    }
    return false;
}

bool shows_zero_lift(const SectionData& data) {
    std::map<double, std::vector<SectionPoint>> groups;
    for (const SectionPoint& p : data.points)
        groups[p.reynolds].push_back(p);
    return std::all_of(groups.begin(), groups.end(), [](auto& group) {
        std::vector<SectionPoint> points = group.second;
        std::sort(points.begin(), points.end(),
                  [](const auto& a, const auto& b) { return a.alpha < b.alpha; });
        return shows_zero_lift(points);
    });
}

}  // namespace

LiftNeverRises::LiftNeverRises(double at_reynolds)
    : std::invalid_argument(fmt::format("section: lift nowhere rises through zero within a quarter "
                                        "turn of the chord line at Reynolds number {:g}",
                                        at_reynolds)),
      reynolds(at_reynolds) {}

std::vector<SectionFault> check_section(const SectionData& data) {
    std::vector<SectionFault> faults = check_points(data);
    if (!faults.empty() || shows_zero_lift(data))
        return faults;
    try {  // what is carried on beyond the points may rise through zero all the same
        const Section made(data);
    } catch (const LiftNeverRises& never) {
        const auto row =
            std::find_if(data.points.begin(), data.points.end(), [&](const SectionPoint& p) {
                return std::abs(p.reynolds / never.reynolds - 1.0) < 1e-9;  // it was a logarithm
            });
        faults.push_back(
            {static_cast<int>(row - data.points.begin()),
             fmt::format("lift nowhere rises through zero at Reynolds number {:g}", never.reynolds),
             "give angles below zero lift too, at least two, and check the columns: "
             "reynolds,alpha_deg,cl,cd"});
    }
    return faults;
}

std::vector<SectionFault> check_points(const SectionData& data) {
    std::vector<SectionFault> faults;
    if (data.points.empty()) {
        faults.push_back({-1, "no measured points",
                          "write rows reynolds,alpha_deg,cl,cd, at least three for one Reynolds "
                          "number"});
        return faults;
    }
    std::map<double, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < data.points.size(); ++i)
        if (auto fault = point_fault(data.points[i], static_cast<int>(i)))
            faults.push_back(*std::move(fault));
        else
            groups[data.points[i].reynolds].push_back(i);
    const bool drag_somewhere = std::any_of(data.points.begin(), data.points.end(),
                                            [](const SectionPoint& p) { return p.cd.has_value(); });
    for (auto& [reynolds, members] : groups) {
        std::sort(members.begin(), members.end(), [&](std::size_t a, std::size_t b) {
            return data.points[a].alpha < data.points[b].alpha;
        });
        check_group(data, reynolds, members, drag_somewhere, faults);
        check_zero_lift(data, reynolds, members, faults);
    }
    std::stable_sort(faults.begin(), faults.end(),
                     [](const auto& a, const auto& b) { return a.point < b.point; });
    return faults;
}

}  // namespace loadline
