#pragma once
/// What stands in and above the pictures of a match and a comparison.

#include "loadline/study/comparison.hpp"
#include "loadline/words/figure_words.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace loadline {

/// What the picture of engine speeds and their limits shows.
std::string_view speeds_explained();

/// Of its lines: "maker's limit 6800 rpm" and "greatest torque 6000 rpm", of speeds in rad/s.
std::string limit_line(double rotation);
std::string peak_line(double rotation);

/// "22 % over the maker's limit, 6 % below greatest torque": the odds of both, where they are a
/// whole per cent or more; empty without any.
std::string limit_odds_words(const LimitOdds& odds);

/// Odds as they stand at a filled share, "22 %"; empty below one per cent or without odds.
std::string share_label(const std::optional<double>& odds);

/// How the pictures of differences are read.
std::string_view differences_explained();

/// Which way a difference is better: "more is better" or "less is better", and an arrow that way;
/// empty where neither is.
std::string_view better_words(Figure figure);
std::string_view better_arrow(Figure figure);

/// A figure of the present one, "2.12 m/s"; a climb below nothing is a sink, "sinks 0.40 m/s".
std::string present_figure(Figure figure, double si, SentenceUnits units);

/// "+0.10 m/s, nine in ten -0.19 to +0.38 m/s, 72 % sure": a difference for who does not see it;
/// "not known" where either has no value.
std::string difference_words(const CompareRow& first, const CompareRow& row, Figure figure,
                             SentenceUnits units);

/// "44 % over a limit": the odds of the limit that is passed most surely; empty where none is told.
std::string over_limit_label(double odds);

/// What the picture of climbs shows.
std::string_view climb_explained();

/// "600 m after 4:10, give or take 25 s": a climb found, and half of its range; its ends, "nine in
/// ten 5:20 to 17:40", where they lie unevenly about it; neither without draws.
std::string climb_words(const CompareRow& row, double to, SentenceUnits units);
/// "4:10 ± 25 s", "8:03 (5:20 to 17:40)".
std::string climb_label(const CompareRow& row);

}  // namespace loadline
