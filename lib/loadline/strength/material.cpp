#include "loadline/strength/material.hpp"

#include <array>

namespace loadline {
namespace {

// Working stress of wood over its strength in bending, and shear modulus over modulus where no
// source has it: sugar maple's 109 MPa become 15 to 25 MPa.
constexpr double careful_share = 0.14, bold_share = 0.23;
constexpr double usual_shear = 0.08;

// A species at 12 % moisture: specific gravity (oven-dry mass over the volume at 12 %), strength in
// bending and modulus, MPa, across the grain at the proportional limit, MPa, and shear modulus over
// modulus, the mean of both planes along the grain.
Material wood(const char* name, double gravity, double bending, double modulus, double across,
              double shear) {
    Material m;
    m.name = name;
    m.density = 1120.0 * gravity;
    m.modulus = 1e6 * modulus;
    m.shear_modulus = shear * m.modulus;
    m.working_stress_low = careful_share * 1e6 * bending;
    m.working_stress_high = bold_share * 1e6 * bending;
    m.crushing = 1e6 * across;
    m.source = wood_handbook;
    return m;
}

std::array<Material, 14> list_of_materials() {
    return {{
        {"laminated wood", 700.0, 12.0e9, 0.8e9, 15.0e6, 25.0e6, 7.0e6, common_practice},
        {"carbon fabric", 1550.0, 60.0e9, 5.0e9, 80.0e6, 150.0e6, 0.0, common_practice},
        {"carbon along the blade", 1550.0, 120.0e9, 5.0e9, 150.0e6, 300.0e6, 0.0, common_practice},
        {"glass fabric", 1900.0, 22.0e9, 4.0e9, 50.0e6, 100.0e6, 0.0, common_practice},
        wood("white ash", 0.60, 103.0, 12000.0, 8.0, 0.5 * (0.109 + 0.077)),
        wood("beech", 0.64, 103.0, 11900.0, 7.0, usual_shear),
        wood("yellow birch", 0.62, 114.0, 13900.0, 6.7, 0.5 * (0.074 + 0.068)),
        wood("black cherry", 0.50, 85.0, 10300.0, 4.8, 0.5 * (0.147 + 0.097)),
        wood("douglas fir", 0.48, 85.0, 13400.0, 5.5, 0.5 * (0.064 + 0.078)),
        wood("sugar maple", 0.63, 109.0, 12600.0, 10.1, 0.5 * (0.111 + 0.063)),
        wood("white oak", 0.68, 105.0, 12300.0, 7.4, usual_shear),
        wood("sitka spruce", 0.40, 70.0, 10800.0, 4.0, 0.5 * (0.064 + 0.061)),
        wood("black walnut", 0.55, 101.0, 11600.0, 7.0, 0.5 * (0.085 + 0.062)),
        wood("yellow poplar", 0.42, 70.0, 10900.0, 3.4, 0.5 * (0.075 + 0.069)),
    }};
}

}  // namespace

std::span<const Material> materials() {
    static const std::array<Material, 14> list = list_of_materials();
    return list;
}

std::span<const Core> cores() {
    static const std::array<Core, 3> list = {{{"foam", 80.0, 70e6, 30e6},
                                              {"dense foam", 200.0, 250e6, 80e6},
                                              {"balsa", 1120.0 * 0.16, 3.4e9, 0.046 * 3.4e9}}};
    return list;
}

const Material& default_material() {
    return materials().front();
}

Material own_wood(double density, double modulus, double bending_strength) {
    Material m;
    m.density = density;
    m.modulus = modulus;
    m.shear_modulus = usual_shear * modulus;
    m.working_stress_low = careful_share * bending_strength;
    m.working_stress_high = bold_share * bending_strength;
    return m;
}

double bending_strength(const Material& own) {
    return own.working_stress_low / careful_share;
}

}  // namespace loadline
