#pragma once
/// Binary STL, read by itself.

#include <doctest/doctest.h>
#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace loadline::test {

/// Its volume in mm3, and how many edges are not shared by two triangles in opposite directions or
/// normals look inwards.
inline std::pair<double, int> read_stl(const std::string& text) {
    std::uint32_t count = 0;
    std::memcpy(&count, text.data() + 80, 4);
    REQUIRE(text.size() == 84 + 50 * static_cast<std::size_t>(count));
    std::map<std::array<float, 3>, std::uint64_t> corners;
    std::vector<std::uint64_t> edges;  // from and to, each by the number of its corner
    double volume = 0.0;
    int bad = 0;
    for (std::size_t k = 0; k < count; ++k) {
        float f[12];
        std::memcpy(f, text.data() + 84 + 50 * k, sizeof f);
        const auto at = [&](int corner, int axis) {
            return static_cast<double>(f[3 + 3 * (corner % 3) + axis % 3]);
        };
        std::array<std::uint64_t, 4> place{};  // the first again at the end
        for (std::size_t i = 0; i < 3; ++i)
            place[i] =
                corners.try_emplace({f[3 + 3 * i], f[4 + 3 * i], f[5 + 3 * i]}, corners.size())
                    .first->second;
        place[3] = place[0];
        for (std::size_t i = 0; i < 3; ++i)
            edges.push_back(place[i] << 32U | place[i + 1]);
        double along = 0.0;
        for (int i = 0; i < 3; ++i) {
            const auto edge = [&](int corner, int axis) {
                return at(corner, axis) - at(0, axis);
            };
            along += static_cast<double>(f[i]) *
                     (edge(1, i + 1) * edge(2, i + 2) - edge(1, i + 2) * edge(2, i + 1));
            volume += at(0, i) * (at(1, i + 1) * at(2, i + 2) - at(1, i + 2) * at(2, i + 1)) / 6.0;
        }
        bad += along < 0.0 ? 1 : 0;
    }
    std::vector<std::uint64_t> back;
    for (const std::uint64_t edge : edges)
        back.push_back(edge << 32U | edge >> 32U);
    std::sort(edges.begin(), edges.end());
    std::sort(back.begin(), back.end());
    for (std::size_t k = 0; k < edges.size(); ++k)  // each once, and once the other way
        bad += edges[k] == back[k] && (k == 0 || edges[k] != edges[k - 1]) ? 0 : 1;
    return {volume, bad};
}

}  // namespace loadline::test
