#include "loadline/uncertainty/likeness.hpp"

#include "loadline/number/constants.hpp"
#include "loadline/number/linear.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace loadline {
namespace {

constexpr std::array<double, 4> looked_at = {0.35, 0.55, 0.75, 0.9};  // of the radius
constexpr double chord_unit = 0.05, pitch_unit = 0.05, number_unit = 1.5;
constexpr double least_angle = 2.0 * degree, greatest_angle = 85.0 * degree;

bool known(const UncertainBlade& b) {
    return b.knowledge.source == Knowledge::section_known;
}

const std::string& main_section(const Blade& blade) {
    return blade.section(blade.at(0.75 * blade.tip_radius()).section_a).data().name;
}

}  // namespace

double likeness(const Blade& a, const Blade& b) {
    if (main_section(a) != main_section(b))
        return 0.0;
    double sum = 0.0;
    for (const double x : looked_at) {
        const BladeElement p = a.at(x * a.tip_radius());
        const BladeElement q = b.at(x * b.tip_radius());
        const double wider =
            std::log(p.chord / a.tip_radius()) - std::log(q.chord / b.tip_radius());
        const auto pitch = [](double angle) {
            return std::log(std::tan(std::clamp(angle, least_angle, greatest_angle)));
        };
        const double coarser = pitch(p.angle) - pitch(q.angle);
        sum += std::pow(wider / chord_unit, 2) + std::pow(coarser / pitch_unit, 2);
    }
    const double more = std::log(static_cast<double>(a.blades()) / b.blades());
    return std::exp(-0.5 * (sum / looked_at.size() + std::pow(more / number_unit, 2)));
}

CommonErrors common_errors(const std::vector<UncertainBlade>& blades) {
    const std::size_t n = blades.size();
    std::vector<double> section(n * n), method(n * n);
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            const UncertainBlade& a = blades[i];
            const UncertainBlade& b = blades[j];
            const double alike = i == j ? 1.0 : likeness(*a.blade, *b.blade);
            const double all = shared_by_all + (1.0 - shared_by_all) * alike;
            method[i * n + j] = method[j * n + i] = all;
            const double same_data = main_section(*a.blade) == main_section(*b.blade) ? 1.0 : 0.0;
            const double data = known(a) != known(b) ? 0.0 : known(a) ? same_data : all;
            section[i * n + j] = section[j * n + i] = data;
        }
    }
    return {n, lower_root(std::move(section), n), lower_root(std::move(method), n)};
}

void CommonErrors::correlate(const std::vector<double>& root, double* values, std::size_t count,
                             std::size_t stride) {
    for (std::size_t i = count; i-- > 0;) {
        double sum = 0.0;
        for (std::size_t j = 0; j <= i; ++j)
            sum += root[i * count + j] * values[j * stride];
        values[i * stride] = sum;
    }
}

}  // namespace loadline
