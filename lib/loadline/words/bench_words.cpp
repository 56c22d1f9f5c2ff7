#include "loadline/words/bench_words.hpp"

namespace loadline {

std::vector<std::string> measuring_steps(bool level) {
    return {
        "engine off, plug cap off, propeller off the craft, hub face down on a flat table; zero "
        "the level on the table",
        "mark each radius from the centre of the hub; chord: straight across, along the slope",
        level ? "level: laid across the blade on its lower (rear) face; turn the propeller round, "
                "repeat and take the mean"
              : "the lower face of this section is not known: lay a straight edge from leading to "
                "trailing edge and read the chord line",
        "thickness: greatest, with calipers; measure every blade"};
}

std::string_view writing_step() {
    return "Write it down as CSV, first this line, then one for each mark:";
}

std::string_view comparing_step() {
    return "and compare it with the case:";
}

std::vector<std::string> mean_line_steps() {
    return {
        "stretch a thread from the nose to the middle of the tail; at half and at three quarters "
        "of the chord measure from it to the upper face, and to the rear face, negative where "
        "that lies below the thread",
        "half the sum of the two is the height of the mean line; at 75 % read to 0.1 mm, which is "
        "0.27 deg of zero lift on 80 mm of chord",
        "the level then lies along a straight edge from nose to tail, not on the flat face"};
}

std::string_view mean_line_step() {
    return "They go into the station's row of the case, the propeller's angles then being to the "
           "line from nose to tail:";
}

}  // namespace loadline
