#pragma once
/// Binary STL, read by itself.

#include <doctest/doctest.h>
#include <cstdint>
#include <cstring>
#include <map>
#include <string>
#include <tuple>
#include <utility>

namespace loadline::test {

/// Its volume in mm3, and how many edges are not shared by two triangles in opposite directions or
/// normals look inwards.
inline std::pair<double, int> read_stl(const std::string& text) {
    std::uint32_t count = 0;
    std::memcpy(&count, text.data() + 80, 4);
    REQUIRE(text.size() == 84 + 50 * static_cast<std::size_t>(count));
    using Place = std::tuple<float, float, float>;
    std::map<std::pair<Place, Place>, int> edges;
    double volume = 0.0;
    int bad = 0;
    for (std::size_t k = 0; k < count; ++k) {
        float f[12];
        std::memcpy(f, text.data() + 84 + 50 * k, sizeof f);
        const auto at = [&](int corner, int axis) {
            return static_cast<double>(f[3 + 3 * (corner % 3) + axis % 3]);
        };
        double along = 0.0;
        for (int i = 0; i < 3; ++i) {
            const auto edge = [&](int corner, int axis) {
                return at(corner, axis) - at(0, axis);
            };
            along += static_cast<double>(f[i]) *
                     (edge(1, i + 1) * edge(2, i + 2) - edge(1, i + 2) * edge(2, i + 1));
            volume += at(0, i) * (at(1, i + 1) * at(2, i + 2) - at(1, i + 2) * at(2, i + 1)) / 6.0;
            const auto place = [&](int corner) {
                return Place{f[3 + 3 * (corner % 3)], f[4 + 3 * (corner % 3)],
                             f[5 + 3 * (corner % 3)]};
            };
            ++edges[{place(i), place(i + 1)}];
        }
        bad += along < 0.0 ? 1 : 0;
    }
    for (const auto& edge : edges) {
        const auto back = edges.find({edge.first.second, edge.first.first});
        bad += edge.second == 1 && back != edges.end() && back->second == 1 ? 0 : 1;
    }
    return {volume, bad};
}

}  // namespace loadline::test
