// What stands over a whole comparison.

#include "loadline/study/limits.hpp"
#include "loadline/words/compare_words.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/detail/compare_difference.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

namespace loadline {
namespace {

// More that pass the limit standing still are named in one sentence. Our choice.
constexpr std::size_t most_named_apart = 3;

// What the best by a goal does: "climbs better".
constexpr std::array<std::string_view, 5> best_does = {"climbs better", "burns less in cruise",
                                                       "is quieter overhead",
                                                       "keeps the head cooler", "spools up faster"};

// The best of the others, and the best of them whatever they miss of the goals; only those that
// fly, fit and stay within the limits.
struct Chosen {
    std::optional<std::size_t> best, nearest;
};

class Headline {
public:
    Headline(const Comparison& comparison, const Scenario& scenario, SentenceUnits units,
             const AnglesByRow& angles)
        : comparison_(&comparison),
          rows_(&comparison.rows),
          scenario_(&scenario),
          units_(units),
          angles_(&angles) {}

    std::vector<std::string> lines() {
        const bool any_flies = std::any_of(rows_->begin(), rows_->end(), [](const CompareRow& r) {
            return r.cruise.status == FlightStatus::found;
        });
        if (!any_flies) {
            lines_.emplace_back(
                "No propeller here holds level flight: check torque, mass, glide ratio and "
                "reduction.");
        } else if (rows_->size() > 1) {
            add_verdict();
        }
        if (any_flies)
            add_missed_by_present();
        add_limits();
        return std::move(lines_);
    }

private:
    [[nodiscard]] bool safe(const CompareRow& r) const {
        return !passes_limit(r, *scenario_) && !does_not_fit(r) &&
               r.cruise.status == FlightStatus::found;
    }

    [[nodiscard]] std::string name(std::size_t i) const { return quoted((*rows_)[i].name); }

    [[nodiscard]] std::string missed(std::size_t i) const {
        return fmt::format("{}", fmt::join(missed_goal_lines((*rows_)[i], units_), "; "));
    }

    [[nodiscard]] Chosen choose() const {
        Chosen chosen;
        for (const std::size_t i : ranked(*comparison_, scenario_->goals)) {
            const CompareRow& row = (*rows_)[i];
            if (!safe(row))
                continue;
            if (!chosen.nearest || row.missed.size() < (*rows_)[*chosen.nearest].missed.size())
                chosen.nearest = i;
            if (!chosen.best && row.missed.empty())
                chosen.best = i;
        }
        return chosen;
    }

    void add_verdict() {
        const Chosen chosen = choose();
        if (chosen.best) {
            lines_.push_back(verdict(*chosen.best));
        } else if (chosen.nearest) {
            lines_.push_back(
                fmt::format("None of the others meets all wishes; {} comes nearest: {}.",
                            name(*chosen.nearest), missed(*chosen.nearest)));
        } else if (safe(rows_->front())) {
            lines_.push_back(fmt::format(
                "None of the others stays within the limits as it is; {} does.", name(0)));
        } else {
            lines_.push_back(fmt::format(
                "Neither {} nor any of the others stays within the limits as it is: do not fly "
                "it so.",
                name(0)));
        }
    }

    // How the best of the others compares with the present one in what matters most.
    [[nodiscard]] std::string verdict(std::size_t best) const {
        const std::vector<Goal>& rank = scenario_->goals.rank;
        const Goal goal = rank.empty() ? Goal::climb : rank.front();
        const Figure figure = row_of(goal).figure;
        const std::string_view does = best_does[static_cast<std::size_t>(goal)];
        const bool more = row_of(figure).better == Better::more;
        const auto s = said_of(*comparison_, best, figure, units_);
        if (!s)
            return none_better(does, best, "");
        const std::string range = range_of(*s, shown_in(figure, units_), more ? "better" : "more",
                                           more ? "worse" : "less");
        const Confidence sure = confidence(s->sure);
        const bool better = more ? s->value > 0.0 : s->value < 0.0;
        if (better && sure >= Confidence::likely) {
            return fmt::format("{} serves best: it {}, {} ({}).", name(best), does, adverb(sure),
                               range);
        }
        if (better && sure >= Confidence::perhaps) {
            return fmt::format(
                "None is surely better than {}: {}, the best of the others, perhaps {} ({}).",
                name(0), name(best), does, range);
        }
        return none_better(does, best, fmt::format(" ({})", range));
    }

    [[nodiscard]] std::string none_better(std::string_view does, std::size_t best,
                                          std::string_view range) const {
        return fmt::format("None {} than {} as far as can be told; the best of the others is {}{}.",
                           does, name(0), name(best), range);
    }

    void add_missed_by_present() {
        const std::size_t count = rows_->front().missed.size();
        if (count > 0) {
            lines_.push_back(count == 1
                                 ? fmt::format("{} itself misses a wish: {}.", name(0), missed(0))
                                 : fmt::format("{} itself misses wishes: {}.", name(0), missed(0)));
        }
    }

    // An adjustable one that serves once it is turned.
    [[nodiscard]] std::optional<std::string> turned(std::size_t row) const {
        for (const auto& [index, study] : *angles_) {
            if (index == row && study.best_climb) {
                const double deg = *study.best_climb * 180.0 / std::numbers::pi;
                return fmt::format(
                    "turned {:.1f} deg {} it stays within them and climbs {}{}", std::abs(deg),
                    deg > 0.0 ? "coarser" : "finer",
                    figure_text(Figure::climb_rate, *study.best_rate, units_),
                    study.best_at_end ? " (the end of its table: more was not tried)" : "");
            }
        }
        return std::nullopt;
    }

    [[nodiscard]] bool over(const std::optional<double>& rotation) const {
        return rotation && turns_over_limit(*scenario_->engine, *rotation);
    }

    [[nodiscard]] bool head_over(const CompareRow& r) const {
        const auto& head = r.values[at(Figure::climb_head)];
        return scenario_->head.limit && head && *head > *scenario_->head.limit;
    }

    [[nodiscard]] bool only_too_fast(std::size_t i) const {
        const CompareRow& r = (*rows_)[i];
        return over(r.values[at(Figure::static_rotation)]) && !head_over(r) && !does_not_fit(r) &&
               r.cruise.status != FlightStatus::not_enough_thrust && !turned(i);
    }

    [[nodiscard]] long limit_rpm() const {
        return whole_rpm(scenario_->engine->description().rpm_limit.value_or(0.0));
    }

    // Of more than a few, those that only turn too fast standing still are named together.
    void add_limits() {
        std::vector<std::string> too_fast;
        for (std::size_t i = 0; i < rows_->size(); ++i) {
            if (only_too_fast(i)) {
                too_fast.push_back(
                    fmt::format("{} ({})", name(i),
                                whole_rpm(*(*rows_)[i].values[at(Figure::static_rotation)])));
            }
        }
        const bool together = too_fast.size() > most_named_apart;
        if (together) {
            const std::string last = std::move(too_fast.back());
            too_fast.pop_back();
            lines_.push_back(
                fmt::format("{} and {} turn the engine over its limit of {} rpm standing still.",
                            fmt::join(too_fast, ", "), last, limit_rpm()));
        }
        for (std::size_t i = 0; i < rows_->size(); ++i)
            if (!together || !only_too_fast(i))
                add_limits_of(i);
    }

    void add_limits_of(std::size_t i) {
        const std::vector<std::string> faults = faults_of((*rows_)[i]);
        if (faults.empty())
            return;
        const std::string all = fmt::format("{} {}", name(i), fmt::join(faults, " and "));
        const auto remedy = turned(i);
        lines_.push_back(remedy ? fmt::format("{}; {}.", all, *remedy) : all + ".");
    }

    [[nodiscard]] std::vector<std::string> faults_of(const CompareRow& r) const {
        std::vector<std::string> faults;
        const auto& standing = r.values[at(Figure::static_rotation)];
        const auto& climb = r.values[at(Figure::climb_rotation)];
        if (over(standing)) {
            faults.push_back(
                fmt::format("turns the engine over its limit standing still ({} rpm, limit {})",
                            whole_rpm(*standing), limit_rpm()));
        } else if (over(climb)) {
            faults.push_back(
                fmt::format("turns the engine over its limit in climb ({} rpm, limit {})",
                            whole_rpm(*climb), limit_rpm()));
        }
        if (head_over(r)) {
            faults.push_back(fmt::format(
                "takes the head over its limit in climb ({})",
                figure_text(Figure::climb_head, *r.values[at(Figure::climb_head)], units_)));
        }
        if (does_not_fit(r)) {
            faults.push_back(
                fmt::format("does not fit the cage by {}", gap_text(*r.fit.clearance, units_)));
        }
        if (r.cruise.status == FlightStatus::not_enough_thrust)
            faults.emplace_back("does not hold level flight");
        return faults;
    }

    const Comparison* comparison_;
    const std::vector<CompareRow>* rows_;
    const Scenario* scenario_;
    SentenceUnits units_;
    const AnglesByRow* angles_;
    std::vector<std::string> lines_;
};

}  // namespace

std::vector<std::string> compare_headline(const Comparison& comparison, const Scenario& scenario,
                                          SentenceUnits units, const AnglesByRow& angles) {
    return Headline(comparison, scenario, units, angles).lines();
}

}  // namespace loadline
