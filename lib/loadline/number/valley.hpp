#pragma once
/// Where a function of several numbers is least.

#include <functional>
#include <vector>

namespace loadline {

/// How far a search for the foot of a valley goes.
struct ValleySearch {
    double step = 0.1;      ///< first step along each number, > 0
    double nearest = 1e-3;  ///< ends when neither a round nor a step is longer than this
    int calls = 1000;       ///< never more than about this many calls
};

struct Valley {
    std::vector<double> at;
    double value = 0.0;
    int calls = 0;
};

/// The foot of the valley that goes down from `start`, without derivatives: along each direction in
/// turn to the foot of a parabola through three points, and after each round along the way the
/// whole round went, which takes the place of the direction that gave most. A value that is not
/// finite counts as higher than any other. The same on every run; with several valleys, the foot of
/// one. `start` holds one number at least. Source: M. J. D. Powell, An efficient method for finding
/// the minimum of a function of several variables without calculating derivatives, Computer J. 7
/// (1964) 155.
/// Errors: std::invalid_argument without a number to start from, or a step not above 0.
Valley find_valley(const std::function<double(const std::vector<double>&)>& f,
                   std::vector<double> start, const ValleySearch& search = {});

}  // namespace loadline
