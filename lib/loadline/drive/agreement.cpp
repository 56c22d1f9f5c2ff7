#include "loadline/drive/detail/agreement.hpp"

#include "loadline/number/minimum.hpp"
#include "loadline/number/root.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

// Neighbouring samples are at most this far apart: two agreements 2 % apart never share an
// interval.
constexpr double largest_step = 0.019;
// One sample in so many is asked; those between are drawn through them where that leaves no doubt
// of the sign: blades take torque as the square of the speed times what changes slowly.
constexpr int stride = 3;
// A sample is drawn only when its surplus is above this share of the torques, and above so many
// times what a curve through three differs from the chord through two.
constexpr double clear_of_zero = 0.01, clear_of_bend = 4.0;
// Width, as a share of the speed, at which an agreement counts as found. Well below the 1e-9 that
// is promised, because torque moves several times as fast as speed on a steep curve.
constexpr double speed_tolerance = 1e-11;
// Two agreements closer than this, or a surplus smaller than this share of the torques, are a
// touch.
constexpr double touch_tolerance = 1e-9;
// Enough for a bracket of 2 % to shrink to the tolerance by halving alone.
constexpr int most_steps = 80;
// Bits of the speed at an extreme: half of those of a double, where the extreme is flat anyway.
constexpr int extreme_bits = 26;

struct Sample {
    double rotation = 0.0;
    double surplus = 0.0;
    double size = 0.0;         // the larger of the two torques
    double coefficient = 0.0;  // the torque asked over the square of the speed
    bool known = false;
    bool asked = false;  // else drawn through others, or not yet known
};

// Zero counts as positive; touches at a sample come out as a pair in one place and are merged.
bool positive(const Sample& s) {
    return s.surplus >= 0.0;
}

bool same_sign(const Sample& a, const Sample& b) {
    return a.known && b.known && positive(a) == positive(b);
}

class Search {
public:
    Search(const AskedTorque& asked, const GivenTorque& given) : asked_(asked), given_(given) {}

    Crossings run(double lowest, double highest) {
        sample_all(lowest, highest);
        for (const Sample& s : samples_)
            if (s.asked && s.known)
                result_.asked.push_back({s.rotation, s.coefficient});
        if (samples_.front().known)
            result_.surplus_at_lowest = samples_.front().surplus;
        if (samples_.back().known)
            result_.surplus_at_highest = samples_.back().surplus;
        look_inward(0, 1);
        for (std::size_t i = 0; i + 1 < samples_.size(); ++i) {
            close(samples_[i], samples_[i + 1]);
            if (i + 2 < samples_.size())
                look_for_dip(samples_[i], samples_[i + 1], samples_[i + 2]);
        }
        look_inward(samples_.size() - 1, samples_.size() - 2);
        tidy();
        return std::move(result_);
    }

private:
    Sample sample(double rotation) {
        Sample s;
        s.rotation = rotation;
        s.asked = true;
        const std::optional<double> asked = asked_(rotation);
        const double given = given_(rotation);
        if (!asked || !std::isfinite(*asked) || !std::isfinite(given)) {
            note_gap(rotation);
            return s;
        }
        s.surplus = given - *asked;
        s.size = std::max(std::abs(given), std::abs(*asked));
        s.coefficient = *asked / (rotation * rotation);
        s.known = true;
        return s;
    }

    void note_gap(double rotation) {
        result_.first_gap = std::min(rotation, result_.first_gap.value_or(rotation));
    }

    void sample_all(double lowest, double highest) {
        const double span = std::log(highest / lowest);
        const int steps = std::max(2, static_cast<int>(std::ceil(span / largest_step)));
        samples_.resize(static_cast<std::size_t>(steps) + 1);
        for (int i = 0; i < steps; ++i)
            samples_[static_cast<std::size_t>(i)].rotation = lowest * std::exp(span * i / steps);
        samples_.back().rotation = highest;
        std::vector<std::size_t> asked;
        for (std::size_t i = 0; i + 1 < samples_.size(); i += stride)
            asked.push_back(i);
        asked.push_back(samples_.size() - 1);
        for (const std::size_t i : asked)
            ask(i);
        for (std::size_t k = 0; k + 1 < asked.size(); ++k)
            for (std::size_t i = asked[k] + 1; i < asked[k + 1]; ++i)
                draw(i, asked, k);
        // Beside the ends, where signs change and where the surplus dips, all are asked.
        ask(1);
        ask(samples_.size() - 2);
        for (bool again = true; again;) {
            again = false;
            for (std::size_t i = 0; i + 1 < samples_.size(); ++i) {
                const bool parts = !same_sign(samples_[i], samples_[i + 1]);
                const bool dips = i + 2 < samples_.size() &&
                                  may_dip(samples_[i], samples_[i + 1], samples_[i + 2]);
                for (std::size_t j = i; (parts || dips) && j < i + (dips ? 3U : 2U); ++j)
                    again = ask(j) || again;
            }
        }
    }

    // False when it was asked already.
    bool ask(std::size_t i) {
        if (samples_[i].asked)
            return false;
        samples_[i] = sample(samples_[i].rotation);
        return true;
    }

    // Sample `i` between the asked `asked[k]` and the next, or nothing where its sign is in doubt.
    void draw(std::size_t i, const std::vector<std::size_t>& asked, std::size_t k) {
        Sample& s = samples_[i];
        const auto through = [&](std::size_t first, std::size_t last) {
            double sum = 0.0;
            for (std::size_t p = first; p <= last; ++p) {
                const Sample& at = samples_[asked[p]];
                double weight = at.coefficient;
                for (std::size_t q = first; q <= last; ++q)
                    if (q != p)
                        weight *= (s.rotation - samples_[asked[q]].rotation) /
                                  (at.rotation - samples_[asked[q]].rotation);
                sum += weight;
            }
            return sum;
        };
        const std::size_t first = k > 0 ? k - 1 : k;
        const std::size_t last = std::min(k + 2, asked.size() - 1);
        for (std::size_t p = first; p <= last; ++p)
            if (!samples_[asked[p]].known)
                return;
        const double square = s.rotation * s.rotation;
        const double chord = through(k, k + 1) * square, curve = through(first, last) * square;
        const double bend = std::max(std::abs(through(first, k + 1) * square - chord),
                                     std::abs(through(k, last) * square - chord));
        const double given = given_(s.rotation);
        s.surplus = given - curve;
        s.size = std::max(std::abs(given), std::abs(curve));
        s.known = std::isfinite(given) &&
                  std::abs(s.surplus) > std::max(clear_of_bend * bend, clear_of_zero * s.size);
    }

    // The agreement between two neighbours of opposite sign.
    void close(const Sample& a, const Sample& b) {
        if (!a.known || !b.known || positive(a) == positive(b))
            return;
        Sample best = std::abs(a.surplus) <= std::abs(b.surplus) ? a : b;
        const auto surplus = [&](double rotation) {
            const Sample s = sample(rotation);
            if (!s.known)
                return std::nan("");
            if (std::abs(s.surplus) < std::abs(best.surplus))
                best = s;
            return s.surplus;
        };
        const auto place = narrow(surplus, {a.rotation, b.rotation, a.surplus, b.surplus},
                                  {speed_tolerance, 0.0, most_steps});
        if (!place)
            return;
        // At a jump the smallest surplus met may lie anywhere; the bracket holds the place.
        const bool inside = place->low <= best.rotation && best.rotation <= place->high;
        result_.found.push_back({inside ? best.rotation : place->low, positive(a), false});
    }

    // Three neighbours of one sign with the middle one nearest zero: does the surplus reach zero?
    void look_for_dip(const Sample& a, const Sample& b, const Sample& c) {
        if (may_dip(a, b, c))
            refine(a, b, c);
    }

    static bool may_dip(const Sample& a, const Sample& b, const Sample& c) {
        if (!same_sign(a, b) || !same_sign(b, c))
            return false;
        const double left = std::abs(a.surplus) - std::abs(b.surplus);
        const double right = std::abs(c.surplus) - std::abs(b.surplus);
        // A parabola with its vertex below zero rises to the farther neighbour by at least four
        // times the middle value; a quarter of that is asked for, curves being no parabolas.
        return left > 0.0 && right >= 0.0 && std::abs(b.surplus) <= std::max(left, right);
    }

    // The same in the first and last interval, where the third neighbour is missing: only when the
    // surplus shrinks on leaving the end although it has not shrunk at the next sample.
    void look_inward(std::size_t end, std::size_t next) {
        const Sample& a = samples_[end];
        const Sample& b = samples_[next];
        if (!same_sign(a, b) || std::abs(a.surplus) > std::abs(b.surplus))
            return;
        const Sample inner = sample(a.rotation + 1e-3 * (b.rotation - a.rotation));
        if (inner.known && std::abs(inner.surplus) < std::abs(a.surplus))
            refine(a, inner, b);
    }

    // Seeks the extreme between `a` and `c` and closes what it separates. `b` is the nearest so
    // far.
    void refine(const Sample& a, const Sample& b, const Sample& c) {
        const double sign = positive(b) ? 1.0 : -1.0;
        const double low = std::min(a.rotation, c.rotation);
        const double high = std::max(a.rotation, c.rotation);
        Sample nearest = b;
        bool gap = false;
        const auto distance = [&](double rotation) {
            const Sample s = sample(rotation);
            if (!s.known) {
                gap = true;
                return std::abs(b.surplus) + s.size;
            }
            if (sign * s.surplus < sign * nearest.surplus)
                nearest = s;
            return sign * s.surplus;
        };
        find_minimum(distance, low, high, extreme_bits, most_steps);
        if (gap)
            return;
        if (sign * nearest.surplus < 0.0) {
            const Sample& first = a.rotation < c.rotation ? a : c;
            const Sample& last = a.rotation < c.rotation ? c : a;
            close(first, nearest);
            close(nearest, last);
        } else if (std::abs(nearest.surplus) <= touch_tolerance * nearest.size) {
            result_.found.push_back({nearest.rotation, false, true});
        }
    }

    // Sorts, and makes one touching agreement of two in the same place.
    void tidy() {
        auto& found = result_.found;
        std::sort(found.begin(), found.end(),
                  [](const Crossing& a, const Crossing& b) { return a.rotation < b.rotation; });
        std::vector<Crossing> kept;
        for (const Crossing& next : found) {
            const bool again = !kept.empty() && next.rotation - kept.back().rotation <=
                                                    touch_tolerance * next.rotation;
            if (!again) {
                kept.push_back(next);
            } else if (kept.back().touching != next.touching) {
                // A crossing next to a touch: three in one place, which cross as the one does.
                kept.back() = kept.back().touching ? next : kept.back();
            } else {
                kept.back() = {kept.back().rotation, false, true};
            }
        }
        found = std::move(kept);
    }

    const AskedTorque& asked_;
    const GivenTorque& given_;
    std::vector<Sample> samples_;
    Crossings result_;
};

}  // namespace

Crossings find_crossings(const AskedTorque& asked, const GivenTorque& given, double lowest,
                         double highest) {
    if (!(lowest > 0.0) || !(highest > lowest) || !std::isfinite(highest)) {
        throw std::invalid_argument(
            fmt::format("speeds to search run from {} to {} rad/s; needs 0 < lowest < highest",
                        lowest, highest));
    }
    return Search(asked, given).run(lowest, highest);
}

}  // namespace loadline
