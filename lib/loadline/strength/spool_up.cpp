#include "loadline/strength/spool_up.hpp"

#include "loadline/number/curve.hpp"
#include "loadline/number/root.hpp"
#include "loadline/strength/checks.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/numeric/odeint/integrate/integrate_adaptive.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace loadline {
namespace {

constexpr double patience = 600.0;  // s

void check(const SpoolUpTask& task) {
    strength::need_positive("the moment of inertia", task.inertia, " kg m2");
    strength::need_not_negative("the speed at idle", task.from, " rad/s");
    strength::need_positive("the final speed", task.final_rotation, " rad/s");
    strength::need_not_negative("the throttle lag", task.throttle_lag, " s");
    if (!(task.share > 0.0) || !(task.share < 1.0))
        throw std::invalid_argument(fmt::format(
            "the share of the final speed is {:g}; needs more than 0 and less than 1", task.share));
    if (!task.given || !task.asked)
        throw std::invalid_argument("a torque is missing; needs both the given and the asked one");
}

// Whether the engine wins on the whole way, by a sample; and whether all is known there.
SpoolUpStatus look_along(const SpoolUpTask& task, double target) {
    constexpr int samples = 400;
    for (int i = 0; i <= samples; ++i) {
        const double rotation = task.from + (target - task.from) * i / samples;
        const double surplus = task.given(rotation) - task.asked(rotation);
        if (!std::isfinite(surplus))
            return SpoolUpStatus::not_known;
        if (!(surplus > 0.0))
            return SpoolUpStatus::never_arrives;
    }
    return SpoolUpStatus::arrives;
}

SpoolUp at_once(const SpoolUpTask& task, double target) {
    using boost::math::quadrature::gauss_kronrod;
    const auto slowness = [&](double rotation) {
        return task.inertia / (task.given(rotation) - task.asked(rotation));
    };
    double error = 0.0;
    const double time =
        gauss_kronrod<double, 31>::integrate(slowness, task.from, target, 15, 1e-10, &error);
    if (!std::isfinite(time) || !(time >= 0.0) || error > 1e-6 * time)
        return {SpoolUpStatus::not_known, std::nullopt};
    if (time > patience)
        return {SpoolUpStatus::never_arrives, std::nullopt};
    return {SpoolUpStatus::arrives, time};
}

SpoolUp with_lag(const SpoolUpTask& task, double target) {
    namespace odeint = boost::numeric::odeint;
    using State = double;
    const double at_idle = task.asked(task.from);
    const auto accelerate = [&](const State& rotation, State& change, double time) {
        const double open = -std::expm1(-time / task.throttle_lag);
        const double given = open * task.given(rotation) + (1.0 - open) * at_idle;
        change = (given - task.asked(rotation)) / task.inertia;
    };
    auto stepper = odeint::make_dense_output(1e-10 * task.final_rotation, 1e-10,
                                             odeint::runge_kutta_dopri5<State>());
    stepper.initialize(task.from, 0.0, 1e-3 * task.throttle_lag);
    for (int step = 0; step < 200000 && stepper.current_time() < patience; ++step) {
        const auto [before, after] = stepper.do_step(accelerate);
        if (!std::isfinite(stepper.current_state()))
            return {SpoolUpStatus::not_known, std::nullopt};
        if (stepper.current_state() < target)
            continue;
        const auto short_of = [&](double time) {
            State rotation = 0.0;
            stepper.calc_state(time, rotation);
            return rotation - target;
        };
        return {SpoolUpStatus::arrives, find_root(short_of, before, after, to_bits(45))};
    }
    return {SpoolUpStatus::never_arrives, std::nullopt};
}

void check(const Drive& drive) {
    strength::need_positive("the reduction ratio", drive.ratio, "");
    strength::need_share("the drive's efficiency", drive.efficiency);
}

}  // namespace

SpoolUp spool_up(const SpoolUpTask& task) {
    check(task);
    const double target = task.share * task.final_rotation;
    if (target <= task.from)
        return {SpoolUpStatus::arrives, 0.0};
    const SpoolUpStatus status = look_along(task, target);
    if (status != SpoolUpStatus::arrives)
        return {status, std::nullopt};
    return task.throttle_lag > 0.0 ? with_lag(task, target) : at_once(task, target);
}

double inertia_at_propeller(double propeller_inertia, double crank_inertia, const Drive& drive) {
    strength::need_positive("the propeller's moment of inertia", propeller_inertia, " kg m2");
    strength::need_not_negative("the crankshaft's moment of inertia", crank_inertia, " kg m2");
    check(drive);
    return propeller_inertia + crank_inertia * drive.ratio * drive.ratio * drive.efficiency;
}

double assumed_crank_inertia(const Engine& engine) {
    return 1.5e-4 * engine.torque(engine.peak_torque_rotation(), Air{}).value;
}

SpoolUp spool_up(const Engine& engine, const Drive& drive, const Rotor& rotor, const Air& air,
                 double airspeed, double propeller_inertia, double final_engine_rotation,
                 const SpoolUpOptions& options) {
    check(drive);
    strength::need_positive("the final engine speed", final_engine_rotation, " rad/s");
    const double idle =
        options.idle.value_or(engine.description().idle.value_or(engine.lowest_rotation()));
    strength::need_positive("the idle speed", idle, " rad/s");
    SpoolUpTask task;
    task.inertia = inertia_at_propeller(
        propeller_inertia, options.crank_inertia.value_or(assumed_crank_inertia(engine)), drive);
    task.from = idle / drive.ratio;
    task.final_rotation = final_engine_rotation / drive.ratio;
    task.share = options.share;
    task.throttle_lag = options.throttle_lag;
    task.given = [&](double rotation) {
        return drive.ratio * drive.efficiency * engine.torque(rotation * drive.ratio, air).value;
    };
    if (task.from >= task.final_rotation) {
        task.asked = [](double) {
            return 0.0;
        };
        return spool_up(task);
    }
    constexpr int count = 14;
    std::vector<double> rotations, coefficients;
    RotorSeed seed;
    for (int i = 0; i < count; ++i) {
        const double rotation = task.from + (task.final_rotation - task.from) * i / (count - 1.0);
        const RotorResult result = rotor.solve(air, {airspeed, rotation}, &seed);
        if (result.status != RotorStatus::converged)
            return {SpoolUpStatus::not_known, std::nullopt};
        rotations.push_back(rotation);
        coefficients.push_back(result.torque / (rotation * rotation));
    }
    const Curve coefficient(rotations, coefficients);
    task.asked = [&](double rotation) {
        return coefficient(rotation) * rotation * rotation;
    };
    return spool_up(task);
}

}  // namespace loadline
