#include "loadline/number/valley.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

// A direction of the search and the step to try along it first.
struct Heading {
    std::vector<double> way;  // its greatest member is 1
    double step = 0.0;
};

class ValleyWalk {
public:
    ValleyWalk(const std::function<double(const std::vector<double>&)>& f,
               std::vector<double> start, const ValleySearch& search)
        : f_(f), search_(search) {
        here_.at = std::move(start);
        here_.value = ask(here_.at);
        const std::size_t n = here_.at.size();
        for (std::size_t i = 0; i < n; ++i) {
            Heading heading{std::vector<double>(n, 0.0), search.step};
            heading.way[i] = 1.0;
            headings_.push_back(std::move(heading));
        }
    }

    Valley walk() {
        while (here_.calls < search_.calls) {
            const std::vector<double> from = here_.at;
            const double before = here_.value;
            double most = 0.0;
            std::size_t best = 0;
            for (std::size_t i = 0; i < headings_.size(); ++i) {
                const double was = here_.value;
                along(headings_[i]);
                if (was - here_.value > most) {
                    most = was - here_.value;
                    best = i;
                }
            }
            const double moved = onward(from, best);
            if ((moved < search_.nearest || !(here_.value < before)) && longest() < search_.nearest)
                break;
        }
        return std::move(here_);
    }

private:
    double ask(const std::vector<double>& at) {
        ++here_.calls;
        const double value = f_(at);
        return std::isfinite(value) ? value : std::numeric_limits<double>::max();
    }

    // Steps that find nothing lower shrink from round to round.
    [[nodiscard]] double longest() const {
        double step = 0.0;
        for (const Heading& heading : headings_)
            step = std::max(step, std::abs(heading.step));
        return step;
    }

    [[nodiscard]] std::vector<double> place(const Heading& heading, double far) const {
        std::vector<double> at = here_.at;
        for (std::size_t i = 0; i < at.size(); ++i)
            at[i] += far * heading.way[i];
        return at;
    }

    // Down the heading: a step, one more (on, or the other way), then the parabola's foot.
    void along(Heading& heading) {
        const double step = heading.step;
        double a = step, at_a = ask(place(heading, a));
        const double sign = at_a < here_.value ? 2.0 : -1.0;
        const double b = sign * step, at_b = ask(place(heading, b));
        double best = 0.0, at_best = here_.value;
        const auto take = [&](double far, double value) {
            if (value < at_best) {
                best = far;
                at_best = value;
            }
        };
        take(a, at_a);
        take(b, at_b);
        const double slope_a = (at_a - here_.value) / a, slope_b = (at_b - here_.value) / b;
        const double bend = (slope_b - slope_a) / (b - a);
        if (bend > 0.0) {
            const double foot =
                std::clamp(0.5 * (a - slope_a / bend), -4.0 * std::abs(step), 4.0 * std::abs(step));
            take(foot, ask(place(heading, foot)));
        } else if (best != 0.0) {
            take(2.0 * best, ask(place(heading, 2.0 * best)));
        }
        if (best != 0.0) {
            here_.at = place(heading, best);
            here_.value = at_best;
        }
        const double size = std::clamp(std::abs(best), 0.3 * std::abs(step), 2.0 * std::abs(step));
        heading.step = best < 0.0 ? -size : size;
    }

    // On along the way the round went; how far that was. It takes the place of the heading that
    // gave most where it leads on.
    double onward(const std::vector<double>& from, std::size_t best) {
        Heading round{here_.at, 0.0};
        for (std::size_t i = 0; i < from.size(); ++i) {
            round.way[i] -= from[i];
            round.step = std::max(round.step, std::abs(round.way[i]));
        }
        const double moved = round.step;
        if (moved < search_.nearest)
            return moved;
        for (double& member : round.way)
            member /= moved;
        const double before = here_.value;
        along(round);
        if (here_.value < before && headings_.size() > 1) {
            headings_.erase(headings_.begin() + static_cast<std::ptrdiff_t>(best));
            headings_.push_back(std::move(round));
        }
        return moved;
    }

    const std::function<double(const std::vector<double>&)>& f_;
    ValleySearch search_;
    Valley here_;
    std::vector<Heading> headings_;
};

}  // namespace

Valley find_valley(const std::function<double(const std::vector<double>&)>& f,
                   std::vector<double> start, const ValleySearch& search) {
    if (start.empty() || !(search.step > 0.0))
        throw std::invalid_argument("a valley is sought from a number at least, by a step above 0");
    return ValleyWalk(f, std::move(start), search).walk();
}

}  // namespace loadline
