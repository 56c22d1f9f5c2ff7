// Of the page of a comparison: height over time, and engine speeds against their limits.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "cli/strip.hpp"
#include "loadline/craft/flight.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/words/picture_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>

namespace loadline::cli {
namespace {

constexpr double climb_height = 220.0;

// One climb: minutes over height as it is, and how much sooner or later it may end, as shares.
struct Climbing {
    std::size_t row;
    std::vector<ClimbPoint> path;
    double soonest = 1.0, latest = 1.0;

    [[nodiscard]] double end() const { return path.back().time / 60.0; }
};

std::vector<Climbing> climbs_of(const Compared& a) {
    std::vector<Climbing> climbs;
    for (const std::size_t i : told_in_full(a)) {
        const CompareRow& row = a.comparison.rows[i];
        if (row.band.status != FlightStatus::found)
            continue;
        Climbing one{i, climb_path(row.band, a.from.plan.climb_from, a.from.plan.climb_to)};
        if (const auto& band = row.bands[at(Figure::band_time)]) {
            one.soonest = band->low / row.band.time;
            one.latest = band->high / row.band.time;
        }
        climbs.push_back(std::move(one));
    }
    // The slowest first: its words stand in the uppermost line, above which no other rises.
    std::stable_sort(climbs.begin(), climbs.end(), [](const Climbing& p, const Climbing& q) {
        return p.path.back().time > q.path.back().time;
    });
    return climbs;
}

class ClimbPicture {
public:
    ClimbPicture(const Compared& a, std::vector<Climbing> climbs, Units units)
        : a_(&a),
          climbs_(std::move(climbs)),
          units_(sentence_units(units)),
          unit_(unit_of(Shown::elevation, units_)),
          top_(line_height * static_cast<double>(climbs_.size()) + 18.0),
          base_(top_ + climb_height) {
        // One that may never arrive would press the others together: its fan is cut off.
        constexpr double farthest = 1.6;
        for (const Climbing& one : climbs_)
            across_.take_in(one.end() * one.latest);
        across_.high = std::min(1.02 * across_.high, farthest * climbs_.front().end());
        up_ = {in_unit(a.from.plan.climb_from, unit_), in_unit(a.from.plan.climb_to, unit_)};
    }

    PagePicture picture() {
        draw_axes();
        std::vector<std::string> said;
        for (const Climbing& one : climbs_)
            draw_fan(one);
        for (std::size_t k = 0; k < climbs_.size(); ++k) {
            draw_line(climbs_[k], line_height * static_cast<double>(k + 1) - 3.0);
            const CompareRow& row = a_->comparison.rows[climbs_[k].row];
            said.push_back(fmt::format("{} {}: {}", place_of(*a_, climbs_[k].row), row.name,
                                       climb_words(row, a_->from.plan.climb_to, units_)));
        }
        return sketch_.done("Height above the field over time, at full throttle",
                            fmt::format("{}", fmt::join(said, "; ")), base_ + axis_height);
    }

private:
    [[nodiscard]] std::string place(const ClimbPoint& p, double stretched) const {
        return point(across_.at(p.time / 60.0 * stretched), y_of(in_unit(p.height, unit_)));
    }
    [[nodiscard]] double y_of(double height) const { return base_ - climb_height * up_.at(height); }

    void draw_axes() {
        for (const double height : ticks(up_.low, up_.high)) {
            const double y = y_of(height);
            if (y < base_ - 1.0)
                sketch_.line(0.0, y, 1.0, y, {}, "rule");
            sketch_.text(0.0, y - 3.0, TextAnchor::start, {Ink::grey},
                         fmt::format("{:g} {}", height, unit_));
        }
        draw_axis(sketch_, across_, "min", base_ - 4.0, base_);
    }

    void draw_fan(const Climbing& one) {
        if (!(one.soonest < one.latest))
            return;
        std::string path;
        for (const ClimbPoint& p : one.path)
            path += (path.empty() ? "M" : "L") + place(p, one.soonest);
        const double last = 60.0 * across_.high / one.latest;  // s, where the sheet ends
        for (std::size_t k = one.path.size(); k-- > 0;) {
            const ClimbPoint& p = one.path[k];
            path += "L" + place({std::min(p.time, last), p.height}, one.latest);
            if (k > 0 && p.time > last && one.path[k - 1].time < last) {
                const ClimbPoint& q = one.path[k - 1];
                const double share = (last - q.time) / (p.time - q.time);
                path += "L" + place({last, q.height + share * (p.height - q.height)}, one.latest);
            }
        }
        sketch_.path(path + "Z", ink(one), "fan");
    }

    void draw_line(const Climbing& one, double y) {
        std::string path;
        for (const ClimbPoint& p : one.path)
            path += (path.empty() ? "M" : "L") + place(p, 1.0);
        sketch_.path(path, ink(one), "thick");
        const CompareRow& row = a_->comparison.rows[one.row];
        const double x = across_.at(one.end());
        Label label{fmt::format("{}, {} ", climb_label(row), place_of(*a_, one.row)), row.name};
        const std::string words = words_of(label, narrowest);
        const double left = std::max(0.0, x - 6.0 / narrowest - width_in_px(words) / narrowest);
        sketch_.line(x, y - 10.0, x, top_, ink(one), "leader");
        if (left > 0.0)
            sketch_.text(x - 6.0 / narrowest, y, TextAnchor::end, ink(one), words);
        else
            sketch_.text(0.0, y, TextAnchor::start, ink(one), words);
    }

    [[nodiscard]] static Ink ink(const Climbing& one) { return {Ink::series, one.row}; }

    const Compared* a_;
    std::vector<Climbing> climbs_;
    SentenceUnits units_;
    std::string unit_;
    double top_, base_;
    Axis across_{0.0, 0.0}, up_;
    Sketch sketch_;
};

}  // namespace

std::string place_of(const Compared& a, std::size_t row) {
    const auto found = std::find(a.order.begin(), a.order.end(), row);
    return found == a.order.end() ? "now"
                                  : letter(static_cast<std::size_t>(found - a.order.begin()));
}

PageSection climb_section(const Compared& a, Units units) {
    PageSection section;
    section.heading = "The climb";
    std::vector<Climbing> climbs = climbs_of(a);
    if (climbs.empty())
        return section;
    section.paragraphs = {std::string(climb_explained())};
    if (many(a))
        section.paragraphs.emplace_back(first_few_shown());
    for (auto one = climbs.rbegin(); one != climbs.rend(); ++one) {
        const CompareRow& row = a.comparison.rows[one->row];
        section.list.push_back(
            fmt::format("{} \"{}\": {}.", place_of(a, one->row), row.name,
                        climb_words(row, a.from.plan.climb_to, sentence_units(units))));
    }
    section.pictures.push_back(ClimbPicture(a, std::move(climbs), units).picture());
    return section;
}

PageSection speeds_section(const Compared& a) {
    PageSection section;
    section.heading = "Engine speed and its limits";
    std::vector<std::size_t> rows = {0};
    rows.insert(rows.end(), a.order.begin(), a.order.end());
    std::vector<StripSpeed> speeds;
    for (const std::size_t i : rows) {
        const CompareRow& row = a.comparison.rows[i];
        const Ink ink{Ink::series, i};
        if (const auto& turns = row.values[at(Figure::static_rotation)])
            speeds.push_back({{place_of(a, i) + " standing still, ", row.name},
                              ink,
                              *turns,
                              row.standing_rotation,
                              row.bands[at(Figure::static_rotation)],
                              row.standing_odds});
        if (row.climb.status == FlightStatus::found) {
            StripSpeed speed{{place_of(a, i) + " in climb", {}},
                             ink,
                             row.climb.state.engine_rotation,
                             row.climb_rotation,
                             {},
                             row.climb_odds};
            if (!row.climb_rotation.empty())
                speed.band = nine_in_ten(row.climb_rotation);
            speeds.push_back(std::move(speed));
        }
    }
    if (!speeds.empty()) {
        section.paragraphs = {std::string(speeds_explained())};
        section.pictures.push_back(
            speed_strip("Engine speed at full throttle, standing still and in climb at the field",
                        *a.from.engine, speeds));
    }
    return section;
}

}  // namespace loadline::cli
