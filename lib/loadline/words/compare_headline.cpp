// What stands over a whole comparison.

#include "loadline/study/limits.hpp"
#include "loadline/words/compare_words.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/detail/compare_difference.hpp"
#include "loadline/words/pitch_words.hpp"

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

// What the best of the others does where the present one is better by it.
constexpr std::array<std::string_view, 5> best_does_not = {
    "climbs worse", "burns more in cruise", "is louder overhead", "runs the head hotter",
    "spools up slower"};

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
            lines_.push_back(warned("No propeller here holds level flight") +
                             ": check torque, mass, glide ratio and reduction.");
        }
        add_limits();
        if (any_flies && rows_->size() > 1)
            add_verdict();
        if (any_flies)
            add_missed_by_present();
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
            lines_.push_back(fmt::format("{}; {} comes nearest: {}.",
                                         strong("None of the others meets all wishes"),
                                         name(*chosen.nearest), missed(*chosen.nearest)));
        } else if (safe(rows_->front())) {
            lines_.push_back(fmt::format(
                "{}; {}.", warned("None of the others stays within the limits as it is"),
                strong(name(0) + " does")));
        } else {
            lines_.push_back(
                fmt::format("{}: do not fly it so.",
                            warned(fmt::format(
                                "Neither {} nor any of the others stays within the limits as it is",
                                name(0)))));
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
        const ShownIn shown = shown_in(figure, units_);
        // Nobody has drawn it, and nobody would notice it.
        if (!s->banded && std::abs(s->value) < shown.noticed)
            return none_better(does, best, "");
        const std::string range =
            range_of(*s, shown, more ? "better" : "more", more ? "worse" : "less");
        const Confidence sure = confidence(s->sure);
        // Without draws nothing is known of how sure a sign is.
        const std::string_view how_sure = s->banded ? adverb(sure) : "as worked out";
        const bool better = more ? s->value > 0.0 : s->value < 0.0;
        if (better && sure >= Confidence::likely) {
            return fmt::format("{}: it {}, {} ({}).", strong(name(best) + " serves best"), does,
                               strong(how_sure), range);
        }
        if (better && sure >= Confidence::perhaps) {
            return fmt::format("{}: {}, the best of the others, {} ({}).",
                               strong("None is surely better than " + name(0)), name(best),
                               strong(fmt::format("perhaps {}", does)), range);
        }
        if (!better && sure >= Confidence::perhaps) {
            return fmt::format(
                "{}: {}, the best of the others, {} ({}).",
                strong(fmt::format("None {} than {}", does, name(0))), name(best),
                strong(
                    fmt::format("{}, {}", best_does_not[static_cast<std::size_t>(goal)], how_sure)),
                range);
        }
        return none_better(does, best, fmt::format(" ({})", range));
    }

    [[nodiscard]] std::string none_better(std::string_view does, std::size_t best,
                                          std::string_view range) const {
        return fmt::format("{} as far as can be told; the best of the others is {}{}.",
                           strong(fmt::format("None {} than {}", does, name(0))), name(best),
                           range);
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
                return fmt::format(
                    "{} it stays within them{} and {}{}",
                    strong("turned " + turned_words(*study.best_climb)),
                    study.rows.front().over_odds ? " (odds of 5 % at most to pass one)" : "",
                    strong("climbs " + figure_text(Figure::climb_rate, *study.best_rate, units_)),
                    study.best_at_end ? " (the end of its table: more was not tried)" : "");
            }
        }
        return std::nullopt;
    }

    // Odds worth telling; as they were drawn, else 1 where the figure itself passes.
    [[nodiscard]] static double told(const std::optional<double>& drawn, bool itself) {
        const double odds = drawn.value_or(itself ? 1.0 : 0.0);
        return odds > told_odds ? odds : 0.0;
    }

    [[nodiscard]] bool over(const std::optional<double>& rotation) const {
        return rotation && turns_over_limit(*scenario_->engine, *rotation);
    }

    [[nodiscard]] double standing_over(const CompareRow& r) const {
        return told(r.standing_odds.over_limit, over(r.values[at(Figure::static_rotation)]));
    }

    [[nodiscard]] double climbing_over(const CompareRow& r) const {
        return r.climb.status == FlightStatus::found
                   ? told(r.climb_odds.over_limit, over(r.climb.state.engine_rotation))
                   : 0.0;
    }

    [[nodiscard]] double head_over(const CompareRow& r, Figure figure,
                                   const std::optional<double>& drawn) const {
        const auto& head = r.values[at(figure)];
        const bool itself =
            scenario_->head.limit && head && hotter_than_limit(*head, *scenario_->head.limit);
        return head ? told(drawn, itself) : 0.0;
    }

    // Pulled down so in climb, else standing still.
    [[nodiscard]] static double lugs(const LimitOdds& odds) {
        return odds.below_peak.value_or(0.0) > 0.5 ? *odds.below_peak : 0.0;
    }

    [[nodiscard]] bool only_too_fast(std::size_t i) const {
        const CompareRow& r = (*rows_)[i];
        return standing_over(r) >= flat_odds && faults_of(r).size() == 1 && !turned(i);
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
            lines_.push_back(fmt::format("{} and {} {} of {} rpm standing still.",
                                         fmt::join(too_fast, ", "), last,
                                         warned("turn the engine over its limit"), limit_rpm()));
        }
        for (std::size_t i = 0; i < rows_->size(); ++i)
            if (!together || !only_too_fast(i))
                add_limits_of(i);
    }

    void add_limits_of(std::size_t i) {
        const std::vector<std::string> faults = faults_of((*rows_)[i]);
        if (faults.empty())
            return;
        const std::string all = fmt::format("{} {}", strong(name(i)), fmt::join(faults, " and "));
        const auto remedy = turned(i);
        lines_.push_back(remedy ? fmt::format("{}; {}.", all, *remedy) : all + ".");
    }

    // "is 10 % likely to touch the cage".
    [[nodiscard]] static std::string likely(double odds, std::string_view what) {
        return warned(fmt::format("is {} likely {}", odds_words(odds), what));
    }

    // "turns the engine over its limit standing still (8620 rpm, limit 8500)", or with its odds.
    [[nodiscard]] std::string too_fast(double odds, double rotation, std::string_view where) const {
        return odds >= flat_odds ? fmt::format("{} {} ({} rpm, limit {})",
                                               warned("turns the engine over its limit"), where,
                                               whole_rpm(rotation), limit_rpm())
                                 : fmt::format("{} {} ({} rpm as worked out, limit {})",
                                               likely(odds, "to turn the engine over its limit"),
                                               where, whole_rpm(rotation), limit_rpm());
    }

    [[nodiscard]] std::string too_hot(double odds, double head, std::string_view where) const {
        const std::string at = figure_text(Figure::climb_head, head, units_);
        return odds >= flat_odds
                   ? fmt::format("{} in {} ({})", warned("takes the head over its limit"), where,
                                 at)
                   : fmt::format("{} in {} ({} as worked out)",
                                 likely(odds, "to take the head over its limit"), where, at);
    }

    [[nodiscard]] std::string lugging(double odds, double rotation, std::string_view where) const {
        const long peak = whole_rpm(scenario_->engine->peak_torque_rotation());
        return odds >= flat_odds
                   ? fmt::format("{} {} ({} rpm, peak {}), where it runs hot",
                                 warned("pulls the engine down below its torque peak"), where,
                                 whole_rpm(rotation), peak)
                   : fmt::format("{} {} ({} rpm as worked out, peak {})",
                                 likely(odds, "to pull the engine down below its torque peak"),
                                 where, whole_rpm(rotation), peak);
    }

    [[nodiscard]] std::string touching(double odds, double gap) const {
        const std::string by = gap_text(gap, units_);
        return odds >= flat_odds
                   ? warned(fmt::format("does not fit the cage by {}", by))
                   : fmt::format("{} ({} {} as written)", likely(odds, "to touch the cage"), by,
                                 gap < 0.0 ? "too large" : "of room");
    }

    [[nodiscard]] std::vector<std::string> faults_of(const CompareRow& r) const {
        std::vector<std::string> faults;
        const auto& standing = r.values[at(Figure::static_rotation)];
        const double climbing = r.climb.state.engine_rotation;
        if (const double odds = standing_over(r); odds > 0.0)
            faults.push_back(too_fast(odds, *standing, "standing still"));
        else if (const double in_climb = climbing_over(r); in_climb > 0.0)
            faults.push_back(too_fast(in_climb, climbing, "in climb"));
        if (const double odds = head_over(r, Figure::climb_head, r.climb_odds.over_head);
            odds > 0.0)
            faults.push_back(too_hot(odds, *r.values[at(Figure::climb_head)], "climb"));
        else if (const double cruise = head_over(r, Figure::cruise_head, r.cruise_odds.over_head);
                 cruise > 0.0)
            faults.push_back(too_hot(cruise, *r.values[at(Figure::cruise_head)], "cruise"));
        if (const double odds = lugs(r.climb_odds); odds > 0.0)
            faults.push_back(lugging(odds, climbing, "in climb"));
        else if (const double still = lugs(r.standing_odds); still > 0.0 && standing)
            faults.push_back(lugging(still, *standing, "standing still"));
        if (const double odds = told(r.standing_odds.into_cage, false); odds > 0.0)
            faults.push_back(touching(odds, *r.fit.clearance));
        if (r.cruise.status == FlightStatus::not_enough_thrust)
            faults.push_back(warned("does not hold level flight"));
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
                                          SentenceUnits units, const AnglesByRow& angles,
                                          Marks marks) {
    return with(marks, Headline(comparison, scenario, units, angles).lines());
}

}  // namespace loadline
