#pragma once
/// What holds at any operating point, tried on random propellers: in the tests by the ten thousand,
/// in fuzz/points.sh by the million.

#include "random_rotor.hpp"

#include "loadline/case/section_file.hpp"
#include "loadline/rotor/power_shares.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

namespace loadline::test {

/// How often something was tried and not held, and the worst seen.
struct Points {
    long tried = 0;
    long without_answer = 0;
    long not_finite = 0;
    long off_balance = 0;       ///< shaft power against its shares, past 1e-8
    long beats_ideal = 0;       ///< less power than momentum theory asks for the thrust
    long depends_on_start = 0;  ///< past 1e-8
    long pairs = 0;             ///< neighbours on unstalled blades of the trade
    long jumps = 0;             ///< of these more than 2 % apart
    double worst_balance = 0.0, worst_start = 0.0, worst_step = 0.0;

    [[nodiscard]] long findings() const {
        return without_answer + not_finite + off_balance + beats_ideal + depends_on_start + jumps;
    }
    Points& operator+=(const Points& other) {
        tried += other.tried;
        without_answer += other.without_answer;
        not_finite += other.not_finite;
        off_balance += other.off_balance;
        beats_ideal += other.beats_ideal;
        depends_on_start += other.depends_on_start;
        pairs += other.pairs;
        jumps += other.jumps;
        worst_balance = std::max(worst_balance, other.worst_balance);
        worst_start = std::max(worst_start, other.worst_start);
        worst_step = std::max(worst_step, other.worst_step);
        return *this;
    }
};

/// Tries random points one after the other; what is seen depends on the seed alone.
class PointTrial {
public:
    PointTrial(unsigned seed, const std::string& airfoils) : random_(seed) {
        for (SectionData& data : read_sections({airfoils}))
            sections_.push_back(std::make_shared<const Section>(std::move(data)));
    }

    /// One propeller far beyond use, one of the trade with a measured section.
    void next() {
        const long i = count_++;
        RotorModel model;
        model.annuli = 4 + static_cast<int>(i % 3) * 4;
        model.drag_in_induction = i % 2 == 0;
        model.tip_loss = i % 5 == 0 ? TipLoss::prandtl : TipLoss::goldstein;
        const RandomPoint wild = random_.next(true);
        answer(Rotor(wild.blade, model), wild);

        const RandomPoint usual = random_.next(false);
        BladeDescription d = usual.blade.description();
        d.sections = {sections_[static_cast<std::size_t>(
            random_.between(0.0, static_cast<double>(sections_.size()) - 1e-6))]};
        const RandomPoint trade{Blade(std::move(d)), usual.air, usual.point};
        const Rotor rotor(trade.blade, model);
        neighbours(rotor, trade, answer(rotor, trade));
    }

    [[nodiscard]] const Points& seen() const { return seen_; }

private:
    RotorResult answer(const Rotor& rotor, const RandomPoint& p) {
        ++seen_.tried;
        RotorResult cold = rotor.solve_stations(p.air, p.point);
        if (cold.status != RotorStatus::converged) {
            ++seen_.without_answer;
            return cold;
        }
        if (!std::isfinite(cold.thrust) || !std::isfinite(cold.torque) ||
            !std::isfinite(cold.efficiency) || !std::isfinite(cold.figure_of_merit) ||
            !std::isfinite(cold.ct) || !std::isfinite(cold.cp))
            ++seen_.not_finite;
        balance(rotor, p, cold);
        ideal(p, cold);
        start(rotor, p, cold);
        return cold;
    }

    // Shaft power is thrust times airspeed and every loss.
    void balance(const Rotor& rotor, const RandomPoint& p, const RotorResult& r) {
        const PowerShares shares = power_shares(rotor, r, p.air, p.point);
        double scale = 0.0;  // a windmill's shares cancel
        for (std::size_t k = 0; k < r.stations.size(); ++k) {
            const PowerParts& parts = shares.stations[k];
            scale +=
                r.stations[k].width * (std::abs(parts.useful) + std::abs(parts.axial) +
                                       std::abs(parts.swirl) + std::abs(parts.tip) + parts.profile);
        }
        const double losses = shares.total.sum() - shares.total.useful;
        const double off =
            std::abs(r.power - r.thrust * p.point.airspeed - losses) / (scale + 1e-12);
        seen_.worst_balance = std::max(seen_.worst_balance, off);
        if (!(off < 1e-8))
            ++seen_.off_balance;
    }

    // The power of a disk that throws the air straight back and loses nothing: T (V + v).
    void ideal(const RandomPoint& p, const RotorResult& r) {
        if (r.thrust <= 0.0 || r.power <= 0.0)
            return;
        const double area = std::numbers::pi * p.blade.tip_radius() * p.blade.tip_radius();
        const double half = 0.5 * p.point.airspeed;
        const double least =
            r.thrust * (half + std::sqrt(half * half + r.thrust / (2.0 * p.air.density * area)));
        if (!(r.power > least))
            ++seen_.beats_ideal;
    }

    // From the answer to another condition.
    void start(const Rotor& rotor, const RandomPoint& p, const RotorResult& cold) {
        RotorSeed seed;
        OperatingPoint elsewhere = p.point;
        elsewhere.airspeed *= random_.between(0.3, 1.7);
        elsewhere.rotation *= random_.between(0.7, 1.3);
        static_cast<void>(rotor.solve(p.air, elsewhere, &seed));
        const RotorResult warm = rotor.solve(p.air, p.point, &seed);
        const double scale = std::abs(cold.thrust) + std::abs(cold.torque);
        const double off =
            (std::abs(cold.thrust - warm.thrust) + std::abs(cold.torque - warm.torque)) / scale;
        seen_.worst_start = std::max(seen_.worst_start, off);
        if (!(off < 1e-8))
            ++seen_.depends_on_start;
    }

    // A thousandth more rotation or airspeed changes thrust and torque by less than 2 %.
    void neighbours(const Rotor& rotor, const RandomPoint& p, const RotorResult& here) {
        if (here.stalled_share > 0.0)
            return;
        for (const bool faster : {false, true}) {
            OperatingPoint near = p.point;
            (faster ? near.airspeed : near.rotation) *= 1.001;
            const RotorResult there = rotor.solve(p.air, near);
            if (there.stalled_share > 0.0)
                continue;
            ++seen_.pairs;
            // A share of the thrust near zero thrust says nothing: a tenth of a usual one is the
            // least.
            const double turns = p.point.rotation / (2.0 * std::numbers::pi);
            const double d = p.blade.diameter();
            const double least = 0.01 * p.air.density * turns * turns * d * d * d * d;
            const double step = std::max(
                std::abs(there.thrust - here.thrust) / std::max(std::abs(here.thrust), least),
                std::abs(there.torque - here.torque) /
                    std::max(std::abs(here.torque), 0.05 * least * d));
            seen_.worst_step = std::max(seen_.worst_step, step);
            if (!(step < 0.02))
                ++seen_.jumps;
        }
    }

    RandomRotors random_;
    std::vector<std::shared_ptr<const Section>> sections_;
    long count_ = 0;
    Points seen_;
};

}  // namespace loadline::test
