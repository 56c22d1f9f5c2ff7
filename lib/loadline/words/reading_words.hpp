#pragma once
/// Readings, and what was learnt from them, in words.

#include "loadline/study/fit.hpp"
#include "loadline/words/emphasis.hpp"
#include "loadline/words/figure_words.hpp"
#include "loadline/words/units.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// Whether any reading had an answer to be held against.
bool anything_learnt(const FitStudy& study);

/// "rpm standing still".
std::string_view reading_name(Reads what);

/// For a table: "static rpm", "climb rate (4)", the mean of four climbs.
std::string reading_short(const FieldReading& reading);

/// The compared figure it is a reading of, and shown as.
Figure figure_of(Reads what);

/// The unit it is shown in, and the number in it.
std::string_view unit_of(Reads what, SentenceUnits units);
double shown_reading(Reads what, double si, SentenceUnits units);

/// "8900 rpm"; "2.31 m/s", "455 ft/min".
std::string reading_text(Reads what, double si, SentenceUnits units);

/// A value with half of its nine-in-ten range, without unit: "8900 +-120".
std::string predicted_text(Reads what, const Predicted& predicted, SentenceUnits units);

/// A torque with half of its nine-in-ten range: "18.9 +-1.2".
std::string torque_text(const Predicted& torque, SentenceUnits units);

/// What is to be asked before an answer that rests on readings is read: each that contradicts, or
/// could not be used. `given`: the scenario as written.
std::vector<std::string> doubted_readings(const Scenario& given, const FitStudy& study,
                                          SentenceUnits units);

/// What every answer should say of the readings it rests on: what they narrowed, and the engine's
/// torque.
std::vector<std::string> learning_sentences(const Scenario& given, const FitStudy& study,
                                            SentenceUnits units, Marks marks = Marks::none);

/// What the readings cannot tell, and which one to take next.
std::vector<std::string> open_sentences(const Scenario& given, const FitStudy& study,
                                        SentenceUnits units, Marks marks = Marks::none);

}  // namespace loadline
