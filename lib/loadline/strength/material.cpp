#include "loadline/strength/material.hpp"

#include <array>

namespace loadline {

std::span<const Material> materials() {
    static const std::array<Material, 4> list{{
        {"laminated wood", 700.0, 12.0e9, 0.8e9, 15.0e6, 25.0e6},
        {"carbon fabric", 1550.0, 60.0e9, 5.0e9, 80.0e6, 150.0e6},
        {"carbon along the blade", 1550.0, 120.0e9, 5.0e9, 150.0e6, 300.0e6},
        {"glass fabric", 1900.0, 22.0e9, 4.0e9, 50.0e6, 100.0e6},
    }};
    return list;
}

const Material& default_material() {
    return materials().front();
}

}  // namespace loadline
