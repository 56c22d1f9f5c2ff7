#include "loadline/strength/weighing.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

namespace loadline {

std::vector<Weighed> weigh(const std::vector<ToWeigh>& propellers) {
    std::vector<Weighed> all;
    std::array<std::vector<double>, 2> densities;  // of those weighed, by thickness_stated
    for (const ToWeigh& p : propellers) {
        const BladeShape shape(*p.blade);
        MassDescription known;
        known.mass = p.mass;
        known.hub_mass = p.hub_mass;
        Weighed w{rotor_inertia(shape, known), shape.thickness_stated()};
        if (p.mass) {
            w.beyond_material =
                w.inertia.density > heaviest_material || w.inertia.density < lightest_material;
            densities[w.thickness_stated ? 1 : 0].push_back(w.inertia.density);
        }
        all.push_back(std::move(w));
    }
    for (std::vector<double>& d : densities)
        std::sort(d.begin(), d.end());
    for (std::size_t i = 0; i < propellers.size(); ++i) {
        Weighed& w = all[i];
        const std::vector<double>& like = densities[w.thickness_stated ? 1 : 0];
        if (!propellers[i].mass && !like.empty()) {
            MassDescription known;
            known.density = like[like.size() / 2];
            known.hub_mass = propellers[i].hub_mass;
            w.inertia = rotor_inertia(BladeShape(*propellers[i].blade), known);
            w.like_others = true;
        }
    }
    return all;
}

}  // namespace loadline
