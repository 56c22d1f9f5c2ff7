#pragma once
/// How sure a difference is, said on one scale wherever it is said: in a table, in a sentence, by
/// every command.

#include <string>
#include <string_view>

namespace loadline {

/// How likely the sign of a difference is right, in five words.
enum class Confidence { even, perhaps, likely, very_likely, almost_sure };

/// From this many whole per cent on, as they are shown, so that word and number never part. Below
/// the first a difference may as well be the other way; at the last the range that holds nine in
/// ten just lies on one side of nothing. Our choice.
inline constexpr int perhaps_from = 60;
inline constexpr int likely_from = 75;
inline constexpr int very_likely_from = 90;
inline constexpr int almost_sure_from = 95;

/// In whole per cent as they are shown; never more than 99.
/// `probability`: that the sign is right, 0 .. 1, as everywhere here.
int confidence_percent(double probability);

Confidence confidence(double probability);

/// "either way", "perhaps", "likely", "very likely", "almost surely".
std::string_view adverb(Confidence confidence);

/// For a table: "72 %", or "even".
std::string confidence_cell(double probability);

/// Odds that a limit is passed, "44 %": whole per cent, never 0 nor 100.
std::string odds_words(double probability);

/// Whether a difference is told at all, or called about the same: it is at least `noticed`, the
/// smallest that is worth telling, and its sign is surer than even.
bool worth_telling(double difference, double noticed, double probability);

}  // namespace loadline
