// What errors blades have in common: twins all, strangers little, and correlations that can be.

#include "loadline/uncertainty/likeness.hpp"

#include "linear_rotor.hpp"
#include "loadline/number/linear.hpp"
#include "loadline/uncertainty/draws.hpp"
#include "near.hpp"
#include "random_rotor.hpp"

#include <doctest/doctest.h>
#include <cmath>

using namespace loadline;
using namespace loadline::test;

TEST_CASE("the root of a matrix of correlations") {
    const std::vector<double> matrix = {1.0, 0.5, 0.2, 0.5, 1.0, 0.3, 0.2, 0.3, 1.0};
    const std::vector<double> root = lower_root(matrix, 3);
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) {
            double product = 0.0;
            for (std::size_t k = 0; k < 3; ++k)
                product += root[i * 3 + k] * root[j * 3 + k];
            CHECK(near(product, matrix[i * 3 + j], 1e-12));
            if (j > i)
                CHECK(root[i * 3 + j] == 0.0);
        }
    // Twins: a row that says the same twice.
    const std::vector<double> twins = lower_root({1.0, 1.0, 1.0, 1.0}, 2);
    CHECK(twins == std::vector<double>{1.0, 0.0, 1.0, 0.0});
    CHECK_THROWS_AS(static_cast<void>(lower_root({1.0, 2.0, 2.0, 1.0}, 2)), std::invalid_argument);
    CHECK_THROWS_AS(static_cast<void>(lower_root({1.0, 0.0}, 2)), std::invalid_argument);
}

TEST_CASE("likeness: one for twins, symmetric, fading with pitch and number, blind to size") {
    const Blade one = linear_blade({});
    Shape coarser;
    coarser.more_angle = 0.5 * degree;
    Shape much;
    much.more_angle = 3.0 * degree;
    Shape three;
    three.blades = 3;
    Shape larger;
    larger.diameter = 2.0 * Shape{}.diameter;
    larger.root_chord = 2.0 * Shape{}.root_chord;
    larger.tip_chord = 2.0 * Shape{}.tip_chord;
    larger.pitch = 2.0 * Shape{}.pitch;
    CHECK(near(likeness(linear_blade({}), linear_blade(larger)), 1.0, 1e-9));
    CHECK(likeness(one, one) == 1.0);
    const Blade near_by = linear_blade(coarser);
    CHECK(likeness(one, near_by) == likeness(near_by, one));
    CHECK(likeness(one, near_by) < 0.95);
    CHECK(likeness(one, near_by) > 0.3);
    CHECK(likeness(one, linear_blade(much)) < 0.01);
    CHECK(likeness(one, linear_blade(three)) > 0.9);
    CHECK(likeness(one, linear_blade(three)) < 1.0);
}

TEST_CASE("correlations of random blades have a root, and draws show them") {
    RandomRotors random(31);
    std::vector<Blade> blades;
    for (int k = 0; k < 12; ++k)
        blades.push_back(random.next(k % 2 == 0).blade);
    blades.push_back(blades.front());  // a twin
    std::vector<UncertainBlade> uncertain;
    for (std::size_t i = 0; i < blades.size(); ++i)
        uncertain.push_back(
            {&blades[i], i % 3 == 1 ? Knowledge(Knowledge::section_known) : Knowledge()});
    uncertain.back().knowledge = uncertain.front().knowledge;
    const std::size_t n = uncertain.size(), width = Dimensions::count(n), draws = 2000;
    const std::vector<double> z = common_draws(draws, width, uncertain);
    double square = 0.0;
    for (std::size_t k = 0; k < draws; ++k) {
        for (const std::size_t which : {Dimensions::zero_lift, Dimensions::power_form}) {
            const double first = z[k * width + Dimensions::blade(0, which)];
            const double twin = z[k * width + Dimensions::blade(n - 1, which)];
            CHECK(near(twin, first, 1e-5));
        }
        square += std::pow(z[k * width + Dimensions::blade(n - 2, Dimensions::thrust_form)], 2);
        // What is a blade's own is not shared, not even by twins.
        if (k == 17)
            CHECK(z[k * width + Dimensions::blade(0, Dimensions::angle)] !=
                  z[k * width + Dimensions::blade(n - 1, Dimensions::angle)]);
    }
    CHECK(near(square / static_cast<double>(draws), 1.0, 0.05));
}
