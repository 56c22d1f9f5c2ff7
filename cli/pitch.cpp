// Of the page of a comparison: blades turned in their hub, figure below figure over the same
// degrees.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "cli/picture.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/words/pitch_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

constexpr double one_line = 96.0, two_lines = 132.0;  // high: a part with so many
constexpr double part_words = 22.0;                   // above it
constexpr double head_words = 2.0 * line_height + 6.0;
constexpr std::size_t pieces = 80;  // of a line

// Words that cover no others: laid out for the narrowest page, on which they need most room.
class Places {
public:
    explicit Places(Sketch& sketch) : sketch_(&sketch) {}

    bool put(double x, double y, TextAnchor anchor, Ink ink, const std::string& words) {
        const double wide = (width_in_px(words) + 4.0) / narrowest;
        const double left = anchor == TextAnchor::start    ? x
                            : anchor == TextAnchor::middle ? x - 0.5 * wide
                                                           : x - wide;
        const Box box{left, left + wide, y - 12.0, y + 4.0};
        const bool free = box.left > -0.005 && box.right < 1.005 &&
                          std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) {
                              return box.left < other.right && other.left < box.right &&
                                     box.top < other.bottom && other.top < box.bottom;
                          });
        if (!free)
            return false;
        taken_.push_back(box);
        sketch_->text(x, y, anchor, ink, words);
        return true;
    }

    // Whole within the sheet, about the place.
    bool about(double x, double y, Ink ink, const std::string& words) {
        const double half = 0.5 * (width_in_px(words) + 4.0) / narrowest;
        return half <= 0.5 &&
               put(std::clamp(x, half, 1.0 - half), y, TextAnchor::middle, ink, words);
    }

private:
    struct Box {
        double left, right, top, bottom;
    };
    Sketch* sketch_;
    std::vector<Box> taken_;
};

class PitchPicture {
public:
    PitchPicture(const Compared& a, std::size_t row, const AngleStudy& study, Units units)
        : a_(&a),
          study_(&study),
          units_(sentence_units(units)),
          ink_{Ink::series, row},
          name_(a.comparison.rows[row].name),
          across_{study.rows.front().turned / degree, study.rows.back().turned / degree},
          places_(sketch_) {}

    PagePicture picture() {
        const std::vector<std::vector<Figure>> parts = {
            {Figure::climb_rate},
            {Figure::static_rotation, Figure::climb_rotation},
            {Figure::climb_head}};
        double y = head_words;
        for (const std::vector<Figure>& figures : parts)
            if (known(figures))
                y += part_words + high(figures);
        const double base = y;
        draw_settings(base);
        y = head_words;
        for (const std::vector<Figure>& figures : parts) {
            if (!known(figures))
                continue;
            draw_part(figures, y + part_words);
            y += part_words + high(figures);
        }
        draw_axis(sketch_, across_, "deg coarser", base - 4.0, base);
        return sketch_.done(fmt::format("\"{}\" turned in its hub", name_),
                            pitch_alternative(*study_, name_, units_), base + axis_height);
    }

private:
    [[nodiscard]] bool known(const std::vector<Figure>& figures) const {
        return std::any_of(
            figures.begin(), figures.end(),
            [&](Figure figure) {
                return std::any_of(
                    study_->rows.begin(), study_->rows.end(),
                    [&](const AngleRow& row) { return row.values[at(figure)].has_value(); });
            });
    }

    static double high(const std::vector<Figure>& figures) {
        return figures.size() > 1 ? two_lines : one_line;
    }

    [[nodiscard]] double place(double turned) const { return across_.at(turned / degree); }

    // What must not be flown, how it is set, and what is advised, across all parts.
    void draw_settings(double base) {
        double widest = 0.0, middle = 0.0;
        for (const Band& band : beyond_limits(*study_)) {
            const double from = place(band.low), to = place(band.high);
            sketch_.bar(from, to, head_words, base - head_words, {Ink::warned}, "shade");
            if (to - from > widest) {
                widest = to - from;
                middle = 0.5 * (from + to);
            }
        }
        if (study_->best_climb) {
            const double x = place(*study_->best_climb);
            sketch_.line(x, head_words - 6.0, x, base, {}, "zero");
            places_.about(x, line_height - 2.0, {}, advised_label(*study_->best_climb));
        }
        const auto either = [&](double x, Ink ink, std::string_view words) {
            for (const double y : {2.0 * line_height - 2.0, line_height - 2.0, base - 5.0})
                if (places_.about(x, y, ink, std::string(words)))
                    return;
        };
        if (widest > 0.0)
            either(middle, {Ink::warned}, not_flown_label());
        const double set = place(0.0);
        if (set >= 0.0 && set <= 1.0) {
            sketch_.line(set, head_words, set, base, {}, "rule");
            either(set, {Ink::grey}, as_set_label());
        }
    }

    [[nodiscard]] double shown(Figure figure, double si) const {
        return in_shown_unit(figure, si, units_);
    }

    [[nodiscard]] std::optional<double> limit_of(Figure figure) const {
        return figure == Figure::climb_head        ? a_->from.head.limit
               : figure == Figure::static_rotation ? a_->from.engine->description().rpm_limit
                                                   : std::nullopt;
    }

    [[nodiscard]] Axis axis_of(const std::vector<Figure>& figures) const {
        Axis axis = nothing_yet();
        for (const Figure figure : figures)
            for (const AngleRow& row : study_->rows)
                if (const auto& value = row.values[at(figure)])
                    axis.take_in(shown(figure, *value));
        axis = sound(axis);
        const Axis lines = axis;
        // A limit far from all lines would press them together: it is left out.
        for (const Figure figure : figures)
            if (const auto limit = limit_of(figure))
                if (const double value = shown(figure, *limit);
                    value < 2.0 * lines.high - lines.low && value > 2.0 * lines.low - lines.high)
                    axis.take_in(value);
        axis.widen(0.08);
        return axis;
    }

    void draw_part(const std::vector<Figure>& figures, double top) {
        const Axis up = axis_of(figures);
        const double base = top + high(figures);
        const auto height_of = [&](double value) {
            return base - high(figures) * up.at(value);
        };
        places_.put(0.0, top - 6.0, TextAnchor::start, {Ink::grey},
                    figures.size() > 1 ? std::string(pitch_speeds_label())
                                       : pitch_part_label(figures[0], units_));
        sketch_.line(0.0, base, 1.0, base, {}, "base");
        for (const Figure figure : figures)
            draw_line(figure, figure != figures[0], height_of);
        for (const Figure figure : figures)
            draw_advised(figure, figure == figures[0], height_of);
        if (const auto limit = limit_of(figures[0]))
            draw_limit(figures[0], *limit, top, base, height_of(shown(figures[0], *limit)));
        if (figures.size() > 1)
            for (const Figure figure : figures)
                label_line(figure, figure == figures[0], height_of);
        const std::vector<double> at = ticks(up.low, up.high);
        const int decimals = shown_in(figures[0], units_).decimals;
        const std::size_t apart = at.size() > 4 ? 2 : 1;
        for (std::size_t i = 0; i < at.size(); i += apart) {
            const double y = height_of(at[i]);
            if (y < top + 13.0 || y > base - 2.0)
                continue;
            sketch_.line(0.0, y, 1.0, y, {}, "rule");
            places_.put(0.0, y - 3.0, TextAnchor::start, {Ink::grey},
                        plain_number(at[i], std::min(decimals, 1)));
        }
    }

    template <class HeightOf>
    void draw_line(Figure figure, bool dashed, const HeightOf& height_of) {
        std::string path;
        for (std::size_t k = 0; k <= pieces; ++k) {
            const double turned =
                degree * (across_.low + (across_.high - across_.low) * static_cast<double>(k) /
                                            static_cast<double>(pieces));
            if (const auto value = at_angle(*study_, figure, turned))
                path += (path.empty() ? "M" : "L") +
                        point(place(turned), height_of(shown(figure, *value)));
        }
        if (!path.empty())
            sketch_.path(path, ink_, dashed ? "thick dashed" : "thick");
        for (const AngleRow& row : study_->rows)
            if (const auto& value = row.values[at(figure)])
                sketch_.dot(place(row.turned), height_of(shown(figure, *value)), 3.5, ink_,
                            row.meets_goals ? "mark" : "open");
    }

    void draw_limit(Figure figure, double limit, double top, double base, double y) {
        if (y < top || y > base)
            return;
        sketch_.line(0.0, y, 1.0, y, {Ink::warned}, "limit");
        const std::string words = pitch_limit_label(figure, limit, units_);
        for (const double x : {1.0, 0.6, 0.45, 0.8})
            for (const double below : {-4.0, 15.0})
                if (places_.put(x, y + below, TextAnchor::end, {Ink::warned}, words))
                    return;
    }

    // The figure where it is advised, beside its line.
    template <class HeightOf>
    void draw_advised(Figure figure, bool above, const HeightOf& height_of) {
        if (!study_->best_climb)
            return;
        const auto value = at_angle(*study_, figure, *study_->best_climb);
        if (!value)
            return;
        const double x = place(*study_->best_climb), y = height_of(shown(figure, *value));
        sketch_.dot(x, y, 5.0, ink_, "mark");
        const std::string words = figure_text(figure, *value, units_);
        const double aside = 8.0 / narrowest;
        for (const double below :
             above ? std::array{-8.0, 19.0, 32.0} : std::array{19.0, 32.0, -8.0})
            for (const bool right : {true, false})
                if (places_.put(right ? x + aside : x - aside, y + below,
                                right ? TextAnchor::start : TextAnchor::end, ink_, words))
                    return;
    }

    // Beside the line, where there is room.
    template <class HeightOf>
    void label_line(Figure figure, bool above, const HeightOf& height_of) {
        const std::string words(above ? standing_label() : climbing_label());
        for (const double share : {0.04, 0.08, 0.75, 0.2, 0.3, 0.1, 0.6, 0.9}) {
            const double turned = degree * (across_.low + (across_.high - across_.low) * share);
            const auto value = at_angle(*study_, figure, turned);
            if (value &&
                places_.put(share, height_of(shown(figure, *value)) + (above ? -9.0 : 20.0),
                            TextAnchor::start, ink_, words))
                return;
        }
    }

    const Compared* a_;
    const AngleStudy* study_;
    SentenceUnits units_;
    Ink ink_;
    std::string name_;
    Axis across_;
    Sketch sketch_;
    Places places_;
};

}  // namespace

PageSection angles_section(const Compared& a, Units units) {
    PageSection angles;
    angles.heading = "How much pitch?";
    for (const auto& [row, study] : a.angles) {
        for (const std::string& line : angle_sentences(study, a.from))
            angles.paragraphs.push_back(line);
        angles.pictures.push_back(PitchPicture(a, row, study, units).picture());
        angles.tables.push_back(
            angle_sheet(study, units)
                .page(fmt::format("\"{}\" turned in its hub, coarser is positive",
                                  a.comparison.rows[row].name),
                      angle_picks(), units));
    }
    const bool drawn = std::any_of(
        a.angles.begin(), a.angles.end(),
        [](const auto& one) { return one.second.rows.front().over_odds.has_value(); });
    const bool wishes = std::any_of(a.angles.begin(), a.angles.end(), [](const auto& one) {
        return std::any_of(one.second.rows.begin(), one.second.rows.end(),
                           [](const AngleRow& r) { return !r.meets_goals; });
    });
    angles.paragraphs.push_back(pitch_explained(wishes, drawn));
    return angles;
}

}  // namespace loadline::cli
