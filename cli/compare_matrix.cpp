// Of the page of a comparison: a row a candidate, a column a figure, each cell the density of the
// difference against the propeller flown now.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "cli/picture.hpp"
#include "cli/typeset.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/study/compare.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/picture_words.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

namespace loadline::cli {
namespace {

constexpr double cell_height = 24.0;

// A difference in the reader's unit.
struct CellShape {
    double value = 0.0;
    Density density;
    std::optional<Band> band;
    bool sure = true;  // without draws nothing is unsure
};

class Matrix {
public:
    Matrix(const Compared& a, Units units)
        : a_(&a), units_(sentence_units(units)), figures_(figures_at_a_glance()) {
        // A column that nobody has a figure for is left out.
        const auto unknown = [&](Figure q) {
            for (std::size_t k = 0; k < a.order.size(); ++k)
                if (has_change(a, k, q))
                    return false;
            return true;
        };
        figures_.erase(std::remove_if(figures_.begin(), figures_.end(), unknown), figures_.end());
        for (const Figure q : figures_)
            axes_.push_back(axis_of(q));
        for (const Rotor& rotor : a.rotors) {
            radius_ = std::max(radius_, rotor.blade().tip_radius());
            for (const PlanformPoint& p : planform(rotor.blade(), shape_points)) {
                above_ = std::max(above_, p.leading);
                below_ = std::max(below_, -p.trailing);
            }
        }
    }

    [[nodiscard]] bool empty() const { return figures_.empty(); }
    [[nodiscard]] std::size_t columns() const { return figures_.size() + 1; }

    // What the columns are. Each says which end is better, which is where sorting begins.
    [[nodiscard]] std::string head() const {
        std::string out = fmt::format(
            "<th scope=\"col\" role=\"columnheader\" class=\"who\"><span "
            "class=\"sorts\">ranked by {}</span></th>",
            escaped(ranked_by(a_->from.goals)));
        for (std::size_t c = 0; c < figures_.size(); ++c) {
            const Figure q = figures_[c];
            out += fmt::format(
                "<th scope=\"col\" role=\"columnheader\" class=\"cell\" "
                "data-better=\"{}\"><span class=\"sorts\">{}, {} {}</span>{}</th>",
                row_of(q).better == Better::less ? "less" : "more", row_of(q).label,
                typeset(shown_in(q, units_).unit), better_arrow(q), scale(c));
        }
        return out;
    }

    // The present one's figures.
    [[nodiscard]] std::string first() const {
        std::string out = who(0, "now", false, over_limit_label(odds_over_limits(now(), a_->from)));
        for (const Figure q : figures_) {
            const auto& value = now().values[at(q)];
            out += fmt::format("<td role=\"cell\" class=\"cell\">{}<b>{}</b></td>", what(q),
                               value ? typeset(present_figure(q, *value, units_)) : "-");
        }
        return out;
    }

    [[nodiscard]] PageRow row(std::size_t k) const {
        const std::size_t i = a_->order[k];
        PageRow out;
        out.markup =
            who(i, letter(k), true, over_limit_label(odds_over_limits(row_at(i), a_->from)));
        for (std::size_t c = 0; c < figures_.size(); ++c)
            out.markup += cell(i, c);
        out.paragraphs = a_->sentences[i];
        return out;
    }

private:
    static constexpr std::size_t shape_points = 24;

    [[nodiscard]] const CompareRow& row_at(std::size_t i) const { return a_->comparison.rows[i]; }
    [[nodiscard]] const CompareRow& now() const { return row_at(0); }
    [[nodiscard]] static Ink colour(std::size_t i) { return {Ink::series, i}; }

    [[nodiscard]] double shown(Figure q, double si) const {
        return difference_in_shown_unit(q, si, units_);
    }

    [[nodiscard]] std::optional<CellShape> shape(std::size_t i, Figure q) const {
        const CompareRow& row = row_at(i);
        if (!row.values[at(q)] || !now().values[at(q)])
            return std::nullopt;
        CellShape out;
        out.value = shown(q, *row.values[at(q)] - *now().values[at(q)]);
        if (const auto& d = row.differences[at(q)]) {
            out.band = Band{shown(q, d->band.low), shown(q, d->band.high)};
            out.sure =
                confidence(std::max(d->probability_positive, 1.0 - d->probability_positive)) ==
                Confidence::almost_sure;
            Quantiles drawn = row.difference_quantiles[at(q)];
            for (double& v : drawn)
                v = shown(q, v);
            out.density = density_of_quantiles(drawn);
        }
        return out;
    }

    // No difference, and all that can be seen of every row.
    [[nodiscard]] Axis axis_of(Figure q) const {
        Axis axis{0.0, 0.0};
        for (const std::size_t i : a_->order) {
            const auto s = shape(i, q);
            if (!s)
                continue;
            axis.take_in(s->value);
            for (std::size_t k = 0; k < s->density.x.size(); ++k)
                if (s->density.height[k] >= 0.015 * s->density.greatest())
                    axis.take_in(s->density.x[k]);
        }
        axis.widen(0.04);
        return axis;
    }

    // How far a limit lies from where the present one is.
    [[nodiscard]] std::optional<double> limit_of(Figure q) const {
        std::optional<double> limit;
        if (q == Figure::static_rotation)
            limit = a_->from.engine->description().rpm_limit;
        if (q == Figure::climb_head || q == Figure::cruise_head)
            limit = a_->from.head.limit;
        const auto& value = now().values[at(q)];
        return limit && value ? std::optional(shown(q, *limit - *value)) : std::nullopt;
    }

    // What a cell is of, where no head of a column stands above it.
    [[nodiscard]] std::string what(Figure q) const {
        return fmt::format("<span class=\"what\">{} {}</span>", row_of(q).label, better_arrow(q));
    }

    static std::string svg(std::string_view kind, const std::string& words, double height,
                           const std::string& drawing) {
        return fmt::format(
            "<svg class=\"drawn {}\" role=\"img\" aria-label=\"{}\" style=\"height:{:.0f}px\">{}"
            "</svg>",
            kind, escaped(typeset(words)), height, drawing);
    }

    [[nodiscard]] std::string scale(std::size_t c) const {
        const Axis& axis = axes_[c];
        const ShownIn& in = shown_in(figures_[c], units_);
        Sketch sketch;
        const std::vector<double> at = ticks(axis.low, axis.high);
        const double step = at.size() > 1 ? at[1] - at[0] : 1.0;
        const int decimals =
            std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, 9);
        sketch.line(0.0, 15.0, 1.0, 15.0, {}, "base");
        double taken = -1.0;
        for (const double v : at) {
            const double x = axis.at(v);
            sketch.line(x, 12.0, x, 15.0, {}, "base");
            const bool end = v == at.front() || v == at.back();
            if (!(end || v == 0.0) || x < 0.12 || x > 0.88 || x - taken < 0.34)
                continue;
            taken = x;
            sketch.text(x, 10.0, TextAnchor::middle, {Ink::grey}, plain_number(v, decimals));
        }
        const PagePicture drawn = sketch.done({}, {}, 16.0);
        const std::string_view better = better_words(figures_[c]);
        return svg("cell-scale",
                   fmt::format("{}: scale from {:.4g} to {:.4g} {}{}{}", row_of(figures_[c]).label,
                               axis.low, axis.high, in.unit, better.empty() ? "" : ", ", better),
                   16.0, drawn.drawing);
    }

    [[nodiscard]] std::string cell(std::size_t i, std::size_t c) const {
        const Figure q = figures_[c];
        const Axis& axis = axes_[c];
        const auto s = shape(i, q);
        const std::string said =
            fmt::format("{}: {}", row_of(q).label, difference_words(now(), row_at(i), q, units_));
        Sketch sketch;
        sketch.line(0.0, cell_height, 1.0, cell_height, {}, "base");
        sketch.line(axis.at(0.0), 0.0, axis.at(0.0), cell_height, {}, "nothing");
        if (const auto limit = limit_of(q); limit && axis.held(*limit) == axis.at(*limit))
            sketch.line(axis.at(*limit), 0.0, axis.at(*limit), cell_height, {Ink::warned}, "limit");
        if (s)
            draw(sketch, *s, axis, s->sure ? colour(i) : Ink{Ink::grey});
        const DifferenceCells cells = difference_cells(now(), row_at(i), q, units_);
        return fmt::format(
            "<td role=\"cell\" class=\"cell {}\"{}>{}{}<span><b>{}</b> <span "
            "class=\"sure\">{}</span></span></td>",
            s && s->sure ? fmt::format("s{}", i % series_inks) : std::string("grey"),
            s ? fmt::format(" data-value=\"{:.9g}\"", s->value) : std::string(), what(q),
            svg("cell-shape", said, cell_height, sketch.done({}, {}, cell_height).drawing),
            typeset(cells.change), cells.sure);
    }

    static void draw(Sketch& sketch, const CellShape& s, const Axis& axis, Ink ink) {
        constexpr double base = cell_height, highest = cell_height - 3.0;
        double high = highest;
        if (!s.density.empty()) {
            const double per_height = highest / s.density.greatest();
            const auto part = [&](double low, double up) {
                std::string path = "M" + point(axis.at(low), base);
                // So small, every third point of a shape is as smooth.
                for (std::size_t k = 0; k < s.density.x.size(); k += 3)
                    if (s.density.x[k] >= low && s.density.x[k] <= up)
                        path += "L" + point(axis.at(s.density.x[k]),
                                            base - per_height * s.density.height[k]);
                return path + "L" + point(axis.at(up), base) + "Z";
            };
            sketch.path(part(s.density.x.front(), s.density.x.back()), ink, "area");
            if (s.band)
                sketch.path(part(s.band->low, s.band->high), ink, "ninth");
            high = per_height * s.density.at(s.value);
        }
        sketch.path(
            "M" + point(axis.at(s.value), base) + "L" + point(axis.at(s.value), base - high), ink,
            "thick");
    }

    // Letter, name and one blade, all blades to one scale. `opens`: its name opens the words on it.
    [[nodiscard]] std::string who(std::size_t i, const std::string& place, bool opens,
                                  const std::string& warning) const {
        const Blade& blade = a_->rotors[i].blade();
        std::string path;
        const auto put = [&](double radius, double across) {
            path += fmt::format("{}{:.1f} {:.1f}", path.empty() ? "M" : "L", 1000.0 * radius,
                                1000.0 * (above_ - across));
        };
        const std::vector<PlanformPoint> points = planform(blade, shape_points);
        for (const PlanformPoint& p : points)
            put(p.radius, p.leading);
        for (auto p = points.rbegin(); p != points.rend(); ++p)
            put(p->radius, p->trailing);
        const std::string drawn = fmt::format(
            "<path d=\"{}Z\" class=\"shape s{}\"/><path d=\"M0 {:.1f}H{:.1f}\" class=\"base\"/>",
            path, i % series_inks, 1000.0 * above_, 1000.0 * blade.root_radius());
        std::string name =
            fmt::format("<span class=\"name\"><b class=\"s{}\">{}</b> <bdi>{}</bdi></span>",
                        i % series_inks, place, escaped(row_at(i).name));
        if (opens)
            name = "<details><summary>" + name + "</summary></details>";
        return fmt::format(
            "<th scope=\"row\" role=\"rowheader\" class=\"who\">{}{}<svg class=\"drawn blade\" "
            "role=\"img\" aria-label=\"one blade of {}, {:.0f} cm to its tip\" viewBox=\"0 0 "
            "{:.0f} "
            "{:.0f}\" preserveAspectRatio=\"xMinYMid\">{}</svg></th>",
            name,
            warning.empty() ? std::string()
                            : fmt::format("<span class=\"warned\">{}</span>", warning),
            blade.blades(), 100.0 * blade.tip_radius(), 1000.0 * radius_,
            1000.0 * (above_ + below_), drawn);
    }

    const Compared* a_;
    SentenceUnits units_;
    std::vector<Figure> figures_;
    std::vector<Axis> axes_;
    double radius_ = 0.0, above_ = 0.0, below_ = 0.0;  // of the largest blade, m
};

}  // namespace

PageSection matrix_section(const Compared& a, Units units) {
    PageSection section;
    section.heading = fmt::format("Against \"{}\", flown now", a.comparison.rows[0].name);
    const Matrix matrix(a, units);
    if (!matrix.empty())
        section.paragraphs = {std::string(differences_explained())};
    section.table = {matrix.columns(), matrix.head(), matrix.first(), {}};
    for (std::size_t k = 0; k < a.order.size(); ++k)
        section.table.rows.push_back(matrix.row(k));
    return section;
}

}  // namespace loadline::cli
