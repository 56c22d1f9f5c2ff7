#include "loadline/uncertainty/learning.hpp"

#include "loadline/uncertainty/detail/reading_model.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <stdexcept>

namespace loadline {
namespace {

using Eigen::MatrixXd, Eigen::VectorXd;  // products stay small: lazy ones compile in half the time

// A reading in error is taken to be so at random, one in thirty, and then to be off by eight times
// as much with tails that never end (Cauchy's distribution), so that one wholly wrong pulls at
// nothing: our choice. A reading twice as far off as its uncertainty still counts almost whole.
constexpr double slips = 1.0 / 30.0;
constexpr double slip_width = 8.0;
// A reading that could not have been made at all counts as so many uncertainties off.
constexpr double impossible = 100.0;
// Steps at which slopes are taken, in standard uncertainties, and where the search is done.
constexpr double slope_step = 0.25;
constexpr double near_enough = 0.02;
constexpr int most_rounds = 12;

double slip_likelihood(double t) {
    constexpr double height = 0.7978845608028654;  // sqrt(2/pi): Cauchy's over the normal one's
    return slips * height / slip_width / (1.0 + t * t / (slip_width * slip_width));
}

// Likelihood of a reading `t` uncertainties off, over that of one in place: its logarithm, and the
// share of the weight it keeps in least squares.
double log_likelihood(double t) {
    return std::log((1.0 - slips) * std::exp(-0.5 * t * t) + slip_likelihood(t));
}

double weight_kept(double t) {
    const double sound = (1.0 - slips) * std::exp(-0.5 * t * t - log_likelihood(t));
    return sound + (1.0 - sound) * 2.0 / (slip_width * slip_width + t * t);
}

void check(const Scenario& scenario, const std::vector<FieldReading>& readings) {
    const auto need = [](bool there, const char* what) {
        if (!there)
            throw std::invalid_argument(std::string("the readings have no ") + what);
    };
    need(scenario.engine.has_value(), "engine");
    need(scenario.drive.has_value(), "drive");
    for (const FieldReading& reading : readings) {
        need(reading.propeller < scenario.propellers.size(), "propeller");
        need(scenario.craft.has_value() || !is_flown(reading.what), "craft");
    }
}

// The vector of independent values turned into what blades have in common, and slopes the other
// way.
class Space {
public:
    explicit Space(const Scenario& scenario) {
        std::vector<Blade> blades;
        for (const Propeller& p : scenario.propellers)
            blades.emplace_back(p.description);
        std::vector<UncertainBlade> uncertain;
        for (std::size_t i = 0; i < blades.size(); ++i)
            uncertain.push_back({&blades[i], scenario.propellers[i].knowledge});
        common_ = common_errors(uncertain);
        const Air field = air_at_field(scenario.day);
        for (const Propeller& p : scenario.propellers) {
            // Section data are less sure at small Reynolds numbers: those of the scenario as given,
            // near enough.
            const Rotor rotor = rotor_of(scenario, p);
            const double turns = usual_rotation(scenario, rotor, field).rotation;
            uncertainties_.push_back(blade_uncertainty(p.knowledge, rotor, field, turns));
        }
        flight_.first = Dimensions::count(blades.size());
        width_ = scenario.craft ? flight_.count(blades.size()) : flight_.first;
        for (std::size_t what = 0; what < reading_kinds; ++what) {
            const auto has_common = [&](const FieldReading& r) {
                return r.what == static_cast<Reads>(what) && r.common > 0.0;
            };
            if (std::any_of(scenario.readings.begin(), scenario.readings.end(), has_common))
                common_of_kind_[what] = width_ + commons_++;
        }
    }

    [[nodiscard]] std::size_t width() const { return width_; }
    /// With what readings of one kind have in common, which follows.
    [[nodiscard]] std::size_t all() const { return width_ + commons_; }
    /// Where that of a kind lies; nothing where no reading of it has any.
    [[nodiscard]] std::optional<Eigen::Index> common(Reads what) const {
        const auto& place = common_of_kind_[static_cast<std::size_t>(what)];
        return place ? std::optional(static_cast<Eigen::Index>(*place)) : std::nullopt;
    }
    [[nodiscard]] std::size_t blades() const { return common_.count; }
    [[nodiscard]] const FlightDimensions& flight() const { return flight_; }
    [[nodiscard]] const BladeUncertainty& uncertainty(std::size_t blade) const {
        return uncertainties_[blade];
    }

    [[nodiscard]] std::vector<double> placed(const VectorXd& u) const {
        // The model asks the flight's places whether there is a craft or not.
        std::vector<double> z(flight_.count(common_.count), 0.0);
        std::copy_n(u.begin(), width_, z.begin());
        for (std::size_t which = Dimensions::zero_lift; which < Dimensions::own; ++which)
            CommonErrors::correlate(root(which), &z[Dimensions::blade(0, which)], common_.count,
                                    Dimensions::own);
        return z;
    }

    // Slopes by the independent values from those by the placed ones.
    [[nodiscard]] MatrixXd independent(const MatrixXd& slopes) const {
        MatrixXd out = slopes;
        for (std::size_t which = Dimensions::zero_lift; which < Dimensions::own; ++which) {
            for (std::size_t j = 0; j < common_.count; ++j) {
                VectorXd sum = VectorXd::Zero(slopes.rows());
                for (std::size_t i = j; i < common_.count; ++i)
                    sum += root(which)[i * common_.count + j] * slopes.col(column(i, which));
                out.col(column(j, which)) = sum;
            }
        }
        return out;
    }

private:
    [[nodiscard]] const std::vector<double>& root(std::size_t which) const {
        return which <= Dimensions::greatest_lift ? common_.section : common_.method;
    }
    static Eigen::Index column(std::size_t blade, std::size_t which) {
        return static_cast<Eigen::Index>(Dimensions::blade(blade, which));
    }

    CommonErrors common_;
    std::vector<BladeUncertainty> uncertainties_;
    FlightDimensions flight_;
    std::size_t width_ = 0, commons_ = 0;
    std::array<std::optional<std::size_t>, reading_kinds> common_of_kind_;
};

// What of a vector is put into the scenario; the day's density stays in the draws.
std::vector<double> centre_of(std::vector<double> z) {
    z[Dimensions::density] = 0.0;
    return z;
}

// Fuel, heads and noise of a centre, put in.
void put_in_flight(Scenario& s, const Space& space, const double* z) {
    const FlightUncertainty u = flight_uncertainty();
    const HeadTask head = head_draw(s, {}, z, space.flight());
    s.learnt.head = head.model;
    s.learnt.pulled_down = head.practice;
    s.head.in_climb = head.in_climb;
    s.head.in_cruise = head.in_cruise;
    const FuelModel before = fuel_of(s);
    const FuelModel fuel = fuel_draw(s, before, z, space.flight());
    s.learnt.consumption *= fuel.full_consumption / before.full_consumption;
    s.learnt.loss_share += fuel.loss_share - before.loss_share;
    s.plan.cruise_fuel = cruise_fuel_draw(s.plan, z, space.flight());
    for (std::size_t i = 0; i < s.propellers.size(); ++i)
        s.propellers[i].noise_learnt +=
            u.noise_each * z[space.flight().blade(i, FlightDimensions::noise_each)];
}

// The scenario with a centre put in.
Scenario put_in(const Scenario& scenario, const Space& space, const std::vector<double>& centre) {
    Scenario s = scenario;
    EngineDescription engine = scenario.engine->description();
    engine.learnt = torque_draw(centre.data());
    s.engine = Engine(engine);
    if (s.craft) {
        s.craft = craft_draw(*scenario.craft, true, centre.data(), space.flight());
        put_in_flight(s, space, centre.data());
    }
    for (std::size_t i = 0; i < s.propellers.size(); ++i) {
        s.propellers[i].learnt =
            sum_of(scenario.propellers[i].learnt,
                   deviation_of(blade_draw(centre.data(), i, space.uncertainty(i))));
    }
    return s;
}

// The readings as functions of the independent values, near a centre.
class Fitted {
public:
    Fitted(const Scenario& scenario, const std::vector<FieldReading>& readings, const Space& space,
           std::vector<double> centre)
        : scenario_(std::make_unique<const Scenario>(scenario)),
          readings_(std::make_unique<std::vector<FieldReading>>(readings)),
          space_(&space),
          centre_(std::move(centre)),
          model_(*scenario_, weighed(*readings_)) {}

    [[nodiscard]] const std::vector<double>& centre() const { return centre_; }
    [[nodiscard]] const Scenario& scenario() const { return *scenario_; }

    [[nodiscard]] std::vector<double> left(const VectorXd& u) const {
        std::vector<double> z = space_->placed(u);
        for (std::size_t d = 0; d < z.size(); ++d)
            z[d] -= centre_[d];
        return z;
    }
    [[nodiscard]] VectorXd at(const VectorXd& u) const {
        std::vector<double> values = model_.at(left(u).data());
        for (std::size_t i = 0; i < values.size(); ++i)
            if (const auto place = space_->common((*readings_)[i].what))
                values[i] += (*readings_)[i].common * u(*place);
        return Eigen::Map<const VectorXd>(values.data(), static_cast<Eigen::Index>(values.size()));
    }
    [[nodiscard]] MatrixXd slopes(const VectorXd& u) const {
        std::vector<double> z = left(u);
        const VectorXd here = at(u);
        MatrixXd slope = MatrixXd::Zero(here.size(), static_cast<Eigen::Index>(space_->all()));
        for (std::size_t d = 0; d < space_->width(); ++d) {
            if (!model_.moved_by(d))
                continue;
            const double kept = z[d];
            std::array<std::vector<double>, 2> sides;
            for (std::size_t side = 0; side < 2; ++side) {
                z[d] = kept + (side == 0 ? -slope_step : slope_step);
                sides[side] = model_.at(z.data(), propeller_of(d));
            }
            z[d] = kept;
            for (Eigen::Index i = 0; i < here.size(); ++i) {
                const auto k = static_cast<std::size_t>(i);
                const double rise = (sides[1][k] - sides[0][k]) / (2.0 * slope_step);
                slope(i, static_cast<Eigen::Index>(d)) = std::isfinite(rise) ? rise : 0.0;
            }
        }
        slope = space_->independent(slope);
        for (std::size_t i = 0; i < readings_->size(); ++i)
            if (const auto place = space_->common((*readings_)[i].what))
                slope(static_cast<Eigen::Index>(i), *place) = (*readings_)[i].common;
        return slope;
    }

private:
    // Whose a dimension is, where it is one propeller's.
    [[nodiscard]] std::optional<std::size_t> propeller_of(std::size_t d) const {
        if (d < Dimensions::first_blade || d >= space_->flight().first)
            return std::nullopt;
        return (d - Dimensions::first_blade) / Dimensions::own;
    }

    // A mass stated for a reading is off by as much as the case's.
    const std::vector<FieldReading>& weighed(std::vector<FieldReading>& readings) const {
        const double heavier =
            1.0 + flight_uncertainty().mass * centre_[space_->flight().of(FlightDimensions::mass)];
        for (FieldReading& reading : readings)
            if (reading.when.mass)
                *reading.when.mass *= heavier;
        return readings;
    }

    std::unique_ptr<const Scenario> scenario_;
    std::unique_ptr<std::vector<FieldReading>> readings_;
    const Space* space_;
    std::vector<double> centre_;
    ReadingModel model_;
};

// Readings and how far a vector lies from them.
struct Evidence {
    VectorXd read, uncertainty;
    std::vector<bool> answered = {};  // whether the model has an answer when nothing differs
    bool trusted = false;             // as if no reading could be a slip

    [[nodiscard]] double weight(double t) const { return trusted ? 1.0 : weight_kept(t); }

    // In standard uncertainties; none for one without an answer.
    [[nodiscard]] VectorXd off(const VectorXd& predicted) const {
        VectorXd t = (read - predicted).cwiseQuotient(uncertainty);
        for (Eigen::Index i = 0; i < t.size(); ++i)
            if (!std::isfinite(t(i)))
                t(i) = answered[static_cast<std::size_t>(i)] ? impossible : 0.0;
        return t;
    }
    [[nodiscard]] double cost(const VectorXd& u, const VectorXd& predicted) const {
        double sum = 0.5 * u.squaredNorm();
        for (const double t : off(predicted))
            sum += trusted ? 0.5 * t * t : -log_likelihood(t);
        return sum;
    }
};

// The normal distribution that fits near the most likely vector.
struct Normal {
    VectorXd middle;
    MatrixXd slope;                 // of readings in their uncertainties, by the share they keep
    Eigen::LDLT<MatrixXd> factors;  // of 1 + slope slope^T

    void set(const VectorXd& at, const MatrixXd& slopes, const VectorXd& off,
             const Evidence& evidence) {
        middle = at;
        slope = slopes;
        for (Eigen::Index i = 0; i < slope.rows(); ++i)
            slope.row(i) *= std::sqrt(evidence.weight(off(i))) / evidence.uncertainty(i);
        factors.compute(MatrixXd::Identity(slope.rows(), slope.rows()) +
                        slope.lazyProduct(slope.transpose()));
    }
    // Covariance of linear functions of the vector, rows of `of`.
    [[nodiscard]] MatrixXd covariance(const MatrixXd& of) const {
        const MatrixXd with = slope.lazyProduct(of.transpose());
        MatrixXd out = of.lazyProduct(of.transpose());
        for (Eigen::Index j = 0; j < out.cols(); ++j)
            out.col(j) -= with.transpose() * factors.solve(with.col(j));
        return out;
    }
};

// Gauss and Newton's step to the most likely vector of the linear problem, shortened until it
// helps.
bool improved(const Fitted& fitted, const Evidence& evidence, VectorXd& u, Normal& normal) {
    const VectorXd here = fitted.at(u);
    const VectorXd off = evidence.off(here);
    normal.set(u, fitted.slopes(u), off, evidence);
    VectorXd wanted = normal.slope * u;
    for (Eigen::Index i = 0; i < wanted.size(); ++i)
        wanted(i) += std::sqrt(evidence.weight(off(i))) * off(i);
    const VectorXd to = normal.slope.transpose() * normal.factors.solve(wanted);
    const double before = evidence.cost(u, here);
    for (double share = 1.0; share > 0.01; share *= 0.5) {
        const VectorXd there = u + share * (to - u);
        if (evidence.cost(there, fitted.at(there)) < before) {
            const bool moved_on = (there - u).cwiseAbs().maxCoeff() > near_enough;
            u = there;
            return moved_on;
        }
    }
    return false;
}

struct Found {
    VectorXd most_likely;
    std::optional<Fitted> fitted;
    Normal normal;
};

// Most likely vector: the blades are solved anew around each better centre.
Found search(const Scenario& scenario, const std::vector<FieldReading>& readings,
             const Evidence& evidence, const Space& space, const VectorXd& start) {
    Found found;
    found.most_likely = start;
    std::vector<double> centre = centre_of(space.placed(start));
    for (int round = 0; round < most_rounds; ++round) {
        found.fitted.emplace(put_in(scenario, space, centre), readings, space, centre);
        for (int k = 0; k < most_rounds; ++k)
            if (!improved(*found.fitted, evidence, found.most_likely, found.normal))
                break;
        const std::vector<double> next = centre_of(space.placed(found.most_likely));
        double away = 0.0;
        for (std::size_t d = 0; d < next.size(); ++d)
            away = std::max(away, std::abs(next[d] - centre[d]));
        if (away < 5.0 * near_enough)
            break;
        centre = next;
    }
    found.normal.set(found.most_likely, found.fitted->slopes(found.most_likely),
                     evidence.off(found.fitted->at(found.most_likely)), evidence);
    return found;
}

// A reading far from what was expected may be a slip, or the blade unlike what was described: both
// are tried, and the likelier is taken.
Found most_likely(const Scenario& scenario, const std::vector<FieldReading>& readings,
                  const Evidence& evidence, const Space& space) {
    constexpr double doubtful = 2.0;
    const VectorXd nothing = VectorXd::Zero(static_cast<Eigen::Index>(space.all()));
    Evidence trusted = evidence;
    trusted.trusted = true;
    Found sound = search(scenario, readings, trusted, space, nothing);
    sound = search(scenario, readings, evidence, space, sound.most_likely);
    const VectorXd off = evidence.off(sound.fitted->at(sound.most_likely));
    if (off.cwiseAbs().maxCoeff() < doubtful && sound.most_likely.cwiseAbs().maxCoeff() < doubtful)
        return sound;
    Found slipped = search(scenario, readings, evidence, space, nothing);
    // How much lies under each peak: its height by its breadth.
    const auto cost = [&](const Found& found) {
        return evidence.cost(found.most_likely, found.fitted->at(found.most_likely)) +
               0.5 * found.normal.factors.vectorD().array().log().sum();
    };
    return cost(slipped) < cost(sound) ? std::move(slipped) : std::move(sound);
}

// One draw in five is of the prior, so that what is left where a reading was a slip has its draws
// too. Our choice.
constexpr std::size_t prior_every = 5;

// Draws of the fitted distribution (Matheron's rule: a draw of the prior moved by what it and a
// draw of the readings' own errors miss) and some of the prior, weighed, and chosen evenly by their
// weight.
Left draw(const Scenario& scenario, const Found& found, const Evidence& evidence,
          const Space& space, std::size_t draws, double& effective) {
    const auto width = static_cast<Eigen::Index>(space.all());
    const Eigen::Index count = evidence.read.size();
    const auto all = static_cast<std::size_t>(width + count);
    const std::vector<double> raw = normal_draws(draws, all);
    std::vector<std::vector<double>> left(draws);
    std::vector<double> logs(draws);
    const double narrower =
        0.5 * found.normal.factors.vectorD().array().log().sum();  // ln of the volumes
    constexpr double share = 1.0 / static_cast<double>(prior_every);
    in_parallel(draws, 0, [&](std::size_t k) {
        const Eigen::Map<const VectorXd> z(&raw[k * all], width),
            error(&raw[k * all] + width, count);
        const VectorXd missed = found.normal.slope * z + error;
        VectorXd u = z;
        if (k % prior_every != 0)
            u += found.normal.middle -
                 found.normal.slope.transpose() * found.normal.factors.solve(missed);
        left[k] = found.fitted->left(u);
        const VectorXd from = u - found.normal.middle;
        const double fitted =
            narrower - 0.5 * (from.squaredNorm() + (found.normal.slope * from).squaredNorm());
        const double prior = -0.5 * u.squaredNorm();
        const double most = std::max(fitted, prior);
        logs[k] =
            -evidence.cost(u, found.fitted->at(u)) - most -
            std::log((1.0 - share) * std::exp(fitted - most) + share * std::exp(prior - most));
    });
    const double most = *std::max_element(logs.begin(), logs.end());
    double sum = 0.0, squares = 0.0;
    for (double& w : logs) {
        w = std::exp(w - most);
        sum += w;
        squares += w * w;
    }
    effective = sum * sum / squares;
    Left out;
    out.draws = draws;
    out.width = space.width();
    for (const Propeller& p : scenario.propellers)
        out.propellers.push_back(p.name);
    double reached = logs[0];
    std::size_t from = 0;
    for (std::size_t k = 0; k < draws; ++k) {
        const double wanted = (static_cast<double>(k) + 0.5) * sum / static_cast<double>(draws);
        while (reached < wanted && from + 1 < draws)
            reached += logs[++from];
        out.values.insert(out.values.end(), left[from].begin(),
                          left[from].begin() + static_cast<std::ptrdiff_t>(out.width));
    }
    return out;
}

std::vector<LearntReading> told(const Scenario& scenario, const Space& space, const Found& found,
                                const Fitted& prior, const Evidence& evidence) {
    const VectorXd nothing = VectorXd::Zero(found.most_likely.size());
    const VectorXd before = prior.at(nothing);
    const MatrixXd prior_slopes = prior.slopes(nothing);
    const VectorXd after = found.fitted->at(found.most_likely);
    const MatrixXd slopes = found.fitted->slopes(found.most_likely);
    const VectorXd off = evidence.off(after);
    const auto width = static_cast<Eigen::Index>(space.width());
    const Eigen::Index commons = slopes.cols() - width;
    MatrixXd alone = slopes;  // of the number itself, without what its readings have in common
    alone.rightCols(commons).setZero();
    std::vector<LearntReading> out;
    for (Eigen::Index i = 0; i < after.size(); ++i) {
        const FieldReading& read = scenario.readings[static_cast<std::size_t>(i)];
        LearntReading r;
        r.uncertainty = std::hypot(evidence.uncertainty(i), read.common);
        if (std::isfinite(before(i)))
            r.before = {before(i), prior_slopes.row(i).head(width).norm()};
        if (std::isfinite(after(i))) {
            const auto place = space.common(read.what);
            const double common = place ? read.common * found.most_likely(*place) : 0.0;
            const double itself = found.normal.covariance(alone.row(i))(0, 0);
            r.after = {after(i) - common, std::sqrt(std::max(0.0, itself))};
            const double variance = found.normal.covariance(slopes.row(i))(0, 0);
            r.counted = weight_kept(off(i));
            // What it taught itself is taken out again.
            const double s = evidence.uncertainty(i) * evidence.uncertainty(i);
            const double kept = std::max(1e-6, 1.0 - r.counted * variance / s);
            r.off = off(i) * evidence.uncertainty(i) / kept / std::sqrt(s + variance / kept);
        }
        out.push_back(r);
    }
    return out;
}

void ask(Learnt& learnt, const Scenario& scenario, const std::vector<FieldReading>& asked,
         const Found& found, const Space& space) {
    if (asked.empty())
        return;
    const Fitted before(scenario, asked, space, std::vector<double>(found.fitted->centre().size()));
    const Fitted after(found.fitted->scenario(), asked, space, found.fitted->centre());
    const VectorXd nothing = VectorXd::Zero(found.most_likely.size());
    const VectorXd were = before.at(nothing), are = after.at(found.most_likely);
    const MatrixXd wide = before.slopes(nothing);
    const MatrixXd left = found.normal.covariance(after.slopes(found.most_likely));
    for (Eigen::Index i = 0; i < are.size(); ++i) {
        learnt.asked_before.push_back(std::isfinite(were(i))
                                          ? std::optional(Predicted{were(i), wide.row(i).norm()})
                                          : std::nullopt);
        learnt.asked_after.push_back(
            std::isfinite(are(i))
                ? std::optional(Predicted{are(i), std::sqrt(std::max(0.0, left(i, i)))})
                : std::nullopt);
        for (Eigen::Index j = 0; j < are.size(); ++j)
            learnt.covariance.push_back(left(i, j));
    }
}

Predicted torque_left(const Left& left, double centre) {
    const double u = shared_uncertainty().torque;
    double sum = 0.0, squares = 0.0;
    for (std::size_t k = 0; k < left.draws; ++k) {
        const double z = left.values[k * left.width + Dimensions::torque];
        sum += z;
        squares += z * z;
    }
    const auto n = static_cast<double>(left.draws);
    const double mean = sum / n;
    return {1.0 + u * (centre + mean), u * std::sqrt(std::max(0.0, squares / n - mean * mean))};
}

}  // namespace

double uncertainty_of(const FieldReading& reading) {
    const UsualReadings usual = usual_readings();
    switch (reading.what) {
        case Reads::static_speed:
        case Reads::climb_speed:
            return reading.uncertainty.value_or(usual.speed * reading.value);
        case Reads::cruise_speed:
            return reading.uncertainty.value_or(usual.level_speed * reading.value);
        case Reads::static_thrust:
            return reading.uncertainty.value_or(usual.thrust * reading.value);
        case Reads::cruise_fuel:
            return reading.uncertainty.value_or(usual.fuel * reading.value);
        case Reads::climb_head:
        case Reads::cruise_head:
            return reading.uncertainty.value_or(usual.head);
        case Reads::noise_beside:
            return reading.uncertainty.value_or(usual.noise);
        case Reads::climb_rate:
            break;
    }
    return reading.uncertainty.value_or(usual.climb_rate);
}

namespace {

// Readings as they count: of what is far too small the share is taken of what was expected, and
// those of one kind with one propeller have part of their error in common.
Evidence evidence_of(const std::vector<FieldReading>& readings, const VectorXd& expected) {
    Evidence evidence{VectorXd(expected.size()), VectorXd(expected.size())};
    for (Eigen::Index i = 0; i < expected.size(); ++i) {
        const FieldReading& reading = readings[static_cast<std::size_t>(i)];
        FieldReading larger = reading;
        if (std::isfinite(expected(i)))
            larger.value = std::max(reading.value, expected(i));
        const auto alike = static_cast<double>(
            std::count_if(readings.begin(), readings.end(), [&](const FieldReading& other) {
                return other.what == reading.what && other.propeller == reading.propeller;
            }));
        evidence.read(i) = reading.value;
        evidence.uncertainty(i) = uncertainty_of(larger) * std::sqrt(variance_of_alike(alike));
        evidence.answered.push_back(std::isfinite(expected(i)));
    }
    return evidence;
}

}  // namespace

Learnt learn(const Scenario& given, const std::vector<FieldReading>& asked, std::size_t draws) {
    Scenario scenario = given;
    for (Propeller& propeller : scenario.propellers)
        propeller.load = rotor_of(given, propeller).load();  // once, for all rotors to come
    const std::vector<FieldReading>& readings = scenario.readings;
    if (readings.empty())
        throw std::invalid_argument("there are no readings");
    check(scenario, readings);
    check(scenario, asked);
    const Space space(scenario);
    const Fitted prior(scenario, readings, space,
                       std::vector<double>(space.flight().count(space.blades())));
    const VectorXd expected = prior.at(VectorXd::Zero(static_cast<Eigen::Index>(space.all())));
    const Evidence evidence = evidence_of(readings, expected);
    const Found found = most_likely(scenario, readings, evidence, space);
    Learnt learnt;
    learnt.scenario = found.fitted->scenario();
    learnt.readings = told(scenario, space, found, prior, evidence);
    learnt.draws = draws;
    learnt.scenario.left = draw(scenario, found, evidence, space, draws, learnt.effective_draws);
    learnt.torque = torque_left(learnt.scenario.left, found.fitted->centre()[Dimensions::torque]);
    ask(learnt, scenario, asked, found, space);
    return learnt;
}

}  // namespace loadline
