#include "loadline/rotor/rotor.hpp"

#include "loadline/rotor/detail/annulus.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

namespace loadline {
namespace {

using std::numbers::pi;

// Rotational stall delay: lift past the linear range approaches the potential-flow value by a share
// of tanh(3 (c/r)^2). Source: H. Snel, R. Houwink and J. Bosschers, ECN-C-93-052 (1994); the tanh
// is the bounded form later users gave it. Faded out towards the tip and at large angles, where no
// measurement supports it. Off unless asked for: made for wind turbines, it leaves thrust and power
// in flight of the measured propellers as they are, and standing still it makes thrust 3 points
// worse (6 to 9 %) and power 2 points better (9 to 7 %).
double stall_delay_share(double chord, double radius, double x) {
    const double u = std::clamp((0.9 - x) / 0.2, 0.0, 1.0);
    const double ratio = chord / radius;
    return std::tanh(3.0 * ratio * ratio) * u * u * (3.0 - 2.0 * u);
}

// What an annulus gives, from its inflow angle; per radius.
struct Element {
    bool converged = true;
    double wind = 0.0;                  // m/s
    double thrust = 0.0, torque = 0.0;  // N/m, N
    double alpha = 0.0;                 // rad, incidence_shift included
    double margin = 0.0;                // to the stall, rad
};

Element element_of(const Annulus& n, const AnnulusFlow& flow, const AnnulusState& state,
                   const Air& air) {
    Element e;
    e.converged = std::abs(state.residual) < 1e-9;
    e.wind = state.wind * flow.far_speed();
    const double pressure = 0.5 * air.density * e.wind * e.wind * n.chord * n.blades;
    e.thrust = pressure * (state.cl * state.cosine - state.cd * state.sine);
    e.torque = pressure * (state.cl * state.sine + state.cd * state.cosine) * n.radius;
    e.alpha = n.angle - state.phi;
    e.margin = flow.stall() - e.alpha;
    return e;
}

// How much of the blade is stalled or has section data from outside their range.
struct Shares {
    double all = 0.0, stalled = 0.0, outside = 0.0, untried = 0.0;

    void add(const Annulus& n, const AnnulusFlow& flow, const AnnulusState& state,
             const Element& e) {
        all += n.weight;
        if (e.margin < 0.0 || e.alpha < flow.negative_stall())
            stalled += n.weight;
        if (state.origin != origin_measured)
            outside += n.weight;
        if ((state.origin & (origin_alpha_outside | origin_reynolds_below)) != 0U)
            untried += n.weight;
    }

    void put_into(RotorResult& result) const {
        result.stalled_share = all > 0.0 ? stalled / all : 0.0;
        result.outside_share = all > 0.0 ? outside / all : 0.0;
        result.untried_share = all > 0.0 ? untried / all : 0.0;
    }
};

StationFlow station_of(const Annulus& n, const AnnulusFlow& flow, const AnnulusState& state,
                       const Element& e, const OperatingPoint& point) {
    StationFlow s;
    s.radius = n.radius;
    s.width = n.width;
    s.chord = n.chord;
    s.blade_angle = n.angle - n.incidence_shift;
    s.inflow_angle = state.phi;
    s.alpha = e.alpha - n.incidence_shift;
    s.cl = state.cl;
    s.cd = state.cd;
    s.reynolds = flow.reynolds();
    s.mach = flow.mach();
    s.speed = e.wind;
    s.circulation = 0.5 * e.wind * n.chord * state.cl;
    s.axial_induced = e.wind * state.sine - point.airspeed;
    s.swirl_induced = point.rotation * n.radius - e.wind * state.cosine;
    s.loss_factor = state.loss;
    s.thrust_per_radius = e.thrust;
    s.torque_per_radius = e.torque;
    s.stall_margin = e.margin;
    s.origin = state.origin;
    s.converged = e.converged;
    return s;
}

}  // namespace

Rotor::Rotor(Blade blade, RotorModel model) : blade_(std::move(blade)), model_(model) {
    if (model.annuli < 4 || model.annuli > 2000)
        throw std::invalid_argument("rotor: the number of annuli must be 4 to 2000");
    const double tip = blade_.tip_radius();
    const double root = blade_.root_radius();
    const int count = model.annuli;
    auto annuli = std::make_shared<std::vector<Annulus>>();
    annuli->reserve(static_cast<std::size_t>(count));
    for (const BladeNode& node : blade_nodes(root, tip, count)) {
        Annulus n;
        n.radius = node.radius;
        n.width = node.width;
        n.blades = blade_.blades();
        n.x = n.radius / tip;
        n.loss = AnnulusLoss(model.tip_loss, model.hub_loss, n.blades, root, tip, n.radius);
        n.drag_in_induction = model.drag_in_induction;
        n.section_model = {model.reynolds, model.compressibility};
        describe(n);
        annuli->push_back(n);
    }
    annuli_ = std::move(annuli);
}

// What the blade and the deviation say of an annulus whose radius is set.
void Rotor::describe(Annulus& n) const {
    const Deviation& deviation = model_.deviation;
    const BladeElement e = blade_.at(n.radius);
    n.chord = e.chord * (1.0 + deviation.chord);
    n.incidence_shift = e.incidence_shift - deviation.zero_lift;
    n.angle = e.angle + deviation.angle + n.incidence_shift;
    if (twist_)
        n.angle += (*twist_)(n.radius);
    n.drag_factor = e.drag_factor;
    n.drag_deviation = 1.0 + deviation.drag;
    n.lift_stretch = 1.0 + deviation.greatest_lift;
    n.solidity = n.blades * n.chord / (2.0 * pi * n.radius);
    n.cos_sweep = e.sweep == 0.0 ? 1.0 : std::cos(e.sweep);
    n.weight = e.chord * n.radius * n.radius * n.width;
    n.stall_delay = model_.stall_delay ? stall_delay_share(e.chord, n.radius, n.x) : 0.0;
    n.a = &blade_.section(e.section_a);
    n.b = &blade_.section(e.section_b);
    n.weight_b = e.weight_b;
}

void Rotor::describe_all() {
    auto annuli = std::make_shared<std::vector<Annulus>>(*annuli_);
    for (Annulus& n : *annuli)
        describe(n);
    annuli_ = std::move(annuli);
}

Rotor Rotor::deviating(const Deviation& deviation) const {
    Rotor other = *this;
    other.model_.deviation = deviation;
    other.describe_all();
    return other;
}

Rotor Rotor::twisted(Curve more) const {
    Rotor other = *this;
    other.twist_ = std::move(more);
    other.load_ = nullptr;
    other.describe_all();
    return other;
}

Rotor Rotor::turned_by(std::shared_ptr<const LoadTwist> load) const {
    if (load && load->annuli() != annuli_->size())
        throw std::invalid_argument("rotor: the load twist has another number of annuli");
    Rotor other = *this;
    other.load_ = std::move(load);
    return other;
}

Rotor Rotor::held_at(const Air& air, const OperatingPoint& point) const {
    if (!load_)
        return *this;
    const std::vector<double> at = radii();
    std::vector<double> more = twist_at(air, point);
    for (std::size_t i = 0; twist_ && i < more.size(); ++i)
        more[i] += (*twist_)(at[i]);
    return twisted(Curve(at, more));
}

Rotor Rotor::with_blade(Blade blade) const {
    Rotor other(std::move(blade), model_);
    if (twist_) {
        other.twist_ = twist_;
        other.describe_all();
    }
    other.load_ = load_;
    return other;
}

std::vector<double> Rotor::radii() const {
    std::vector<double> radii;
    radii.reserve(annuli_->size());
    for (const Annulus& n : *annuli_)
        radii.push_back(n.radius);
    return radii;
}

std::vector<double> Rotor::twist_at(const Air& air, const OperatingPoint& point) const {
    const double tips = point.rotation * blade_.tip_radius();
    return load_->at(tips, point.airspeed / tips, air.density);
}

double Rotor::load_twist(const Air& air, const OperatingPoint& point, double share) const {
    if (!load_)
        return 0.0;
    const std::vector<double> twist = twist_at(air, point);
    const std::vector<Annulus>& annuli = *annuli_;
    std::size_t i = 0;
    while (i + 2 < annuli.size() && annuli[i + 1].x < share)
        ++i;
    const double along =
        std::clamp((share - annuli[i].x) / (annuli[i + 1].x - annuli[i].x), 0.0, 1.5);
    return twist[i] + along * (twist[i + 1] - twist[i]);
}

void Rotor::make_coefficients(RotorResult& result, const Air& air,
                              const OperatingPoint& point) const {
    const double turns = point.rotation / (2.0 * pi);
    const double diameter = blade_.diameter();
    const double d2 = diameter * diameter;
    result.advance_ratio = point.airspeed / (turns * diameter);
    const Deviation& deviation = model_.deviation;
    const double still = standing_share(result.advance_ratio);
    result.thrust *= (1.0 + deviation.thrust) * (1.0 + still * deviation.standing_thrust);
    result.torque *= (1.0 + deviation.torque) * (1.0 + still * deviation.standing_torque);
    result.power = result.torque * point.rotation;
    result.ct = result.thrust / (air.density * turns * turns * d2 * d2);
    result.cp = result.power / (air.density * turns * turns * turns * d2 * d2 * diameter);
    if (result.power > 0.0) {
        result.efficiency = result.thrust * point.airspeed / result.power;
        if (result.thrust > 0.0)
            result.figure_of_merit = std::pow(result.thrust, 1.5) /
                                     (result.power * std::sqrt(0.5 * air.density * pi * d2));
    }
    result.tip_mach =
        std::hypot(point.airspeed, point.rotation * blade_.tip_radius()) / air.sound_speed;
}

RotorResult Rotor::run(const Air& air, const OperatingPoint& point, RotorSeed* seed,
                       bool stations) const {
    if (!std::isfinite(point.airspeed) || point.airspeed < 0.0)
        throw std::invalid_argument("rotor: the airspeed must be 0 or more");
    if (!std::isfinite(point.rotation) || point.rotation <= 0.0)
        throw std::invalid_argument("rotor: the speed of rotation must be positive");
    const std::vector<Annulus>& annuli = *annuli_;
    const bool seeded = seed != nullptr && seed->inflow.size() == annuli.size();
    if (seed != nullptr && !seeded)
        seed->inflow.assign(annuli.size(), 0.0);

    RotorResult result;
    if (stations)
        result.stations.reserve(annuli.size());
    Shares shares;
    const std::vector<double> more = load_ ? twist_at(air, point) : std::vector<double>();
    Annulus turned;
    for (std::size_t i = 0; i < annuli.size(); ++i) {
        if (load_) {
            turned = annuli[i];
            turned.angle += more[i];
        }
        const Annulus& n = load_ ? turned : annuli[i];
        const AnnulusFlow flow(n, point.airspeed, point.rotation * n.radius, air);
        const AnnulusState state = flow.solve(seeded ? &seed->inflow[i] : nullptr);
        if (seed != nullptr)
            seed->inflow[i] = state.phi;
        const Element e = element_of(n, flow, state, air);
        if (!e.converged)
            result.status = RotorStatus::not_converged;
        result.thrust += e.thrust * n.width;
        result.torque += e.torque * n.width;
        result.origin |= state.origin;
        result.evaluations += flow.evaluations();
        result.most_evaluations = std::max(result.most_evaluations, flow.evaluations());
        shares.add(n, flow, state, e);
        if (stations)
            result.stations.push_back(station_of(n, flow, state, e, point));
    }
    make_coefficients(result, air, point);
    shares.put_into(result);
    if (!std::isfinite(result.thrust) || !std::isfinite(result.torque))
        result.status = RotorStatus::not_converged;
    return result;
}

RotorResult Rotor::solve(const Air& air, const OperatingPoint& point, RotorSeed* seed) const {
    return run(air, point, seed, false);
}

RotorResult Rotor::solve_stations(const Air& air, const OperatingPoint& point,
                                  RotorSeed* seed) const {
    return run(air, point, seed, true);
}

}  // namespace loadline
