// What a slip of the pen does to a case: none may pass in silence, and most are told with what was
// meant. The trade's usual ranges are common practice, no source.

#include "loadline/study/slips.hpp"
#include "loadline/case/case.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/words/slip_words.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <fmt/ranges.h>

using namespace loadline;

namespace {

// An invented single-seater on an invented engine, everything stated that may be.
const std::string sound_case = R"(
title = "Single-seater"
[air]
elevation = "378 m"
temperature = "18 degC"
[engine]
torque = [["4000 rpm", "11.0 N m"], ["5500 rpm", "14.6 N m"], ["7400 rpm", "16.6 N m"], ["8200 rpm", "16.0 N m"], ["9000 rpm", "14.0 N m"]]
rpm_limit = "9100 rpm"
idle = "2600 rpm"
head_temperature = "186 degC in climb"
head_limit = "210 degC"
consumption = "550 g/kWh"
crank_inertia = "0.0010 kg m2"
[drive]
ratio = 3.3
efficiency = 0.97
[craft]
all_up_mass = "124 kg"
trim_speed = "39 km/h"
glide_ratio = 7.2
cage_diameter = "148 cm"
[cruise]
fuel = "3.6 L/h"
[[propeller]]
name = "Rowan 136"
diameter = "136 cm"
blades = 2
section = "clark-y"
angle_reference = "chord"
mass = "0.72 kg"
material = "laminated wood"
working_stress = "20 MPa"
hub_bolts = {count = 6, tightening = "14 N m", diameter = "8 mm", circle = "75 mm"}
stations = [
  {radius = "12 cm", chord = "8.0 cm", angle = "34 deg", thickness = "22 %"},
  {radius = "21 cm", chord = "9.6 cm", angle = "29 deg", thickness = "16 %"},
  {radius = "32 cm", chord = "9.4 cm", angle = "23.2 deg", thickness = "13 %"},
  {radius = "43 cm", chord = "8.2 cm", angle = "19 deg", thickness = "12 %"},
  {radius = "54 cm", chord = "6.8 cm", angle = "16.3 deg", thickness = "11 %", sweep = "4 deg"},
  {radius = "63 cm", chord = "5.0 cm", angle = "14.5 deg", thickness = "10 %", sweep = "9 deg"},
  {radius = "67 cm", chord = "3.6 cm", angle = "13.7 deg", thickness = "9 %", sweep = "12 deg"},
]
)";

std::string changed(std::string text, const std::string& from, const std::string& to) {
    std::size_t at = text.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, from);
    for (; at != std::string::npos; at = text.find(from, at + to.size()))
        text.replace(at, from.size(), to);
    return text;
}

// All that is said before an answer: the reader's refusals, else the questions.
std::string said_of(const std::string& text) {
    try {
        const Case c = parse_case(text, "slip.toml", {std::string(LOADLINE_ROOT) + "/airfoils"});
        std::vector<const Propeller*> propellers;
        for (const Propeller& p : c.propellers)
            propellers.push_back(&p);
        const std::vector<Rotor> rotors = rotors_of(c);
        std::vector<const Rotor*> pointers;
        for (const Rotor& r : rotors)
            pointers.push_back(&r);
        std::vector<std::string> asked = questions_first(c, propellers, SentenceUnits::metric);
        if (asked.empty())
            for (std::string& line : slip_questions(slips_behind(c, pointers, air_at_field(c.day)),
                                                    SentenceUnits::metric))
                asked.push_back(std::move(line));
        for (const std::string& line : c.notes)
            asked.push_back(line);
        return fmt::format("{}", fmt::join(asked, "\n"));
    } catch (const CaseError& error) {
        std::string all;
        for (const CaseFault& fault : error.faults)
            all += to_string(fault) + "\n";
        return all;
    }
}

// Each number of a column, in the writing of `text`, times `factor`.
std::string scaled(const std::string& text, const std::string& key, double factor,
                   const std::string& unit, const std::string& written) {
    std::string out;
    std::size_t from = 0;
    const std::string head = key + " = \"";
    for (std::size_t at = text.find(head); at != std::string::npos; at = text.find(head, from)) {
        const std::size_t begin = at + head.size();
        const std::size_t end = text.find(" " + unit + "\"", begin);
        REQUIRE(end != std::string::npos);
        out += text.substr(from, begin - from);
        out +=
            fmt::format("{:.4g} {}", std::stod(text.substr(begin, end - begin)) * factor, written);
        from = end + unit.size() + 1;
    }
    return out + text.substr(from);
}

std::string torque_scaled(double factor, const std::string& written = "N m", double speeds = 1.0) {
    const double points[][2] = {
        {4000, 11.0}, {5500, 14.6}, {7400, 16.6}, {8200, 16.0}, {9000, 14.0}};
    std::string table = "torque = [";
    for (const auto& p : points)
        table +=
            fmt::format("[\"{:.0f} rpm\", \"{:.4g} {}\"], ", p[0] * speeds, p[1] * factor, written);
    const std::size_t at = sound_case.find("torque = [");
    const std::size_t end = sound_case.find("]]", at) + 2;
    return sound_case.substr(0, at) + table + "]" + sound_case.substr(end);
}

struct Written {
    std::string what;
    std::string text;
    std::string cause;  // what the answer must hold; empty: anything
};

std::vector<Written> slips() {
    std::vector<Written> all;
    const auto one = [&](const std::string& from, const std::string& to, const std::string& cause) {
        all.push_back({to, changed(sound_case, from, to), cause});
    };
    // The field.
    one("\"378 m\"", "\"1.240 m\"", "1240 m");
    one("\"378 m\"", "\"2.05 m\"", "2050 m");
    one("\"378 m\"", "\"11000 m\"", "11000 ft");
    one("\"378 m\"", "\"-4200 m\"", "");
    one("\"378 m\"", "\"378 km\"", "378 m");
    one("\"378 m\"", "378", "unit");
    one("\"18 degC\"", "\"64 degC\"", "64 degF");
    one("\"18 degC\"", "\"18 F\"", "degF");
    one("\"18 degC\"", "\"291 degC\"", "291 K");
    // The engine.
    one("rpm_limit = \"9100 rpm\"", "rpm_limit = \"2750 rpm\"", "propeller's speed");
    one("rpm_limit = \"9100 rpm\"", "rpm_limit = \"910 rpm\"", "rpm_limit");
    one("rpm_limit = \"9100 rpm\"", "rpm_limit = \"91000 rpm\"", "");
    one("idle = \"2600 rpm\"", "idle = \"260 rpm\"", "2600 rpm");
    one("idle = \"2600 rpm\"", "idle = \"9600 rpm\"", "idle");
    one("idle = \"2600 rpm\"", "idle = \"500 rpm\"", "");
    one("\"186 degC in climb\"", "\"186 degF in climb\"", "186 degC");
    one("\"186 degC in climb\"", "\"367 degC in climb\"", "degF");
    one("\"186 degC in climb\"", "\"186 degC\"", "in cruise");
    one("\"186 degC in climb\"", "\"72 degC in climb\"", "");
    one("head_limit = \"210 degC\"", "head_limit = \"210 degF\"", "210 degC");
    one("head_limit = \"210 degC\"", "head_limit = \"392 degC\"", "degF");
    one("consumption = \"550 g/kWh\"", "consumption = \"55 g/kWh\"", "");
    one("consumption = \"550 g/kWh\"", "consumption = \"0.55 g/kWh\"", "");
    one("crank_inertia = \"0.0010 kg m2\"", "crank_inertia = \"10 kg m2\"", "kg cm2");
    one("crank_inertia = \"0.0010 kg m2\"", "crank_inertia = \"1000 kg m2\"", "");
    one("ratio = 3.3", "ratio = 1", "no reduction");
    one("ratio = 3.3", "ratio = 0.303", "upside down");
    one("ratio = 3.3", "ratio = 7", "");
    one("ratio = 3.3", "ratio = 33", "3.3 if");
    one("ratio = 3.3", "ratio = \"1:3.3\"", "engine turns per propeller turn");
    one("ratio = 3.3", "teeth = [66, 20]", "upside down");
    one("efficiency = 0.97", "efficiency = 97", "97 %");
    one("efficiency = 0.97", "efficiency = \"9.7 %\"", "");
    // Torque.
    all.push_back({"torque in kgf m", torque_scaled(1.0 / 9.80665), "kgf m"});
    all.push_back({"torque in ft lbf", torque_scaled(1.0 / 1.3558), "ft lbf"});
    all.push_back({"torque in N m marked kgf m", torque_scaled(1.0, "kgf m"), "torque in N m"});
    one("sweep = \"9 deg\"", "sweep = \"90 deg\"", "");
    all.push_back({"torque at the propeller", torque_scaled(3.3), "at the propeller"});
    all.push_back({"propeller rpm for engine rpm", torque_scaled(1.0, "N m", 1.0 / 3.3),
                   "not the propeller's"});
    all.push_back({"torque a tenth", torque_scaled(0.1), "kgf m"});
    {
        std::string table =
            "torque = [[\"4000 rpm\", \"4.6 N m\"], [\"5500 rpm\", \"8.4 N m\"], "
            "[\"7400 rpm\", \"12.2 N m\"], [\"8200 rpm\", \"13.7 N m\"]]";
        const std::size_t at = sound_case.find("torque = [");
        const std::size_t end = sound_case.find("]]", at) + 2;
        all.push_back(
            {"torque in kW", sound_case.substr(0, at) + table + sound_case.substr(end), "powers"});
    }
    one("\"7400 rpm\", \"16.6 N m\"", "\"7400 rpm\", \"1.66 N m\"", "stands out");
    one("\"7400 rpm\", \"16.6 N m\"", "\"7400 rpm\", \"61.6 N m\"", "stands out");
    one("\"7400 rpm\", \"16.6 N m\"", "\"700 rpm\", \"16.6 N m\"", "faster");
    one("\"7400 rpm\", \"16.6 N m\"", "\"7400 rpm\", \"16.6 kW\"", "N m");
    // The craft.
    one("\"124 kg\"", "\"273 kg\"", "124 kg");
    one("\"124 kg\"", "\"124 lb\"", "124 kg");
    one("\"124 kg\"", "\"1240 kg\"", "1240 lb");
    one("\"124 kg\"", "\"12.4 kg\"", "");
    one("\"124 kg\"", "\"124 g\"", "124 kg");
    one("\"39 km/h\"", "\"39 kt\"", "39 km/h");
    one("\"39 km/h\"", "\"21 km/h\"", "21 kt");
    one("\"39 km/h\"", "\"24 km/h\"", "24 kt");
    one("\"39 km/h\"", "\"39 m/s\"", "39 km/h");
    one("\"39 km/h\"", "\"10.8 km/h\"", "10.8 m/s");
    one("\"39 km/h\"", "\"39 mph\"", "39 km/h");
    one("glide_ratio = 7.2", "glide_ratio = 72", "7.2");
    one("glide_ratio = 7.2", "glide_ratio = 0.72", "7.2 if");
    one("glide_ratio = 7.2", "sink = \"4.5 m/s\"", "");
    one("cage_diameter = \"148 cm\"", "cage_diameter = \"74 cm\"", "cage");
    one("fuel = \"3.6 L/h\"", "fuel = \"36 L/h\"", "3.6 L/h");
    one("fuel = \"3.6 L/h\"", "fuel = \"0.36 L/h\"", "3.6");
    one("fuel = \"3.6 L/h\"", "fuel = \"3.6 gal/h\"", "3.6 L/h");
    one("fuel = \"3.6 L/h\"", "fuel = \"360 L/h\"", "");
    // The blade as a whole.
    one("diameter = \"136 cm\"", "diameter = \"272 cm\"", "136 cm");
    one("diameter = \"136 cm\"", "diameter = \"68 cm\"", "half the diameter");
    one("diameter = \"136 cm\"", "diameter = \"136 in\"", "136 cm");
    one("diameter = \"136 cm\"", "diameter = \"53.5 cm\"", "half the diameter");
    one("diameter = \"136 cm\"", "diameter = \"136 mm\"", "twice their radius");
    one("diameter = \"136 cm\"", "diameter = \"13.6 cm\"", "twice their radius");
    one("blades = 2", "blades = 20", "");
    one("blades = 2", "blades = 2.5", "");
    one("mass = \"0.72 kg\"", "mass = \"720 kg\"", "720 g");
    one("mass = \"0.72 kg\"", "mass = \"72 kg\"", "7.2 kg");
    one("mass = \"0.72 kg\"", "mass = \"0.072 kg\"", "0.72 kg");
    one("mass = \"0.72 kg\"", "mass = \"15 kg\"", "15 lb");
    one("working_stress = \"20 MPa\"", "working_stress = \"2 GPa\"", "20 MPa");
    one("working_stress = \"20 MPa\"", "working_stress = \"200 MPa\"", "20 MPa");
    one("working_stress = \"20 MPa\"", "working_stress = \"0.2 MPa\"", "");
    one("circle = \"75 mm\"", "circle = \"75 cm\"", "75 mm");
    one("circle = \"75 mm\"", "circle = \"7.5 mm\"", "7.5 cm");
    one("tightening = \"14 N m\"", "tightening = \"140 N m\"", "tear a bolt");
    one("tightening = \"14 N m\"", "tightening = \"0.14 N m\"", "a digit");
    one("diameter = \"8 mm\"", "diameter = \"8 cm\"", "8 mm");
    // Stations.
    all.push_back({"angles in radians, marked deg",
                   scaled(sound_case, "angle", 3.14159 / 180.0, "deg", "deg"), "rad"});
    all.push_back(
        {"angles in degrees, marked rad", scaled(sound_case, "angle", 1.0, "deg", "rad"), "deg"});
    all.push_back(
        {"angles negative", scaled(sound_case, "angle", -1.0, "deg", "deg"), "plane of rotation"});
    all.push_back({"angles doubled", scaled(sound_case, "angle", 3.0, "deg", "deg"), ""});
    all.push_back({"angles a tenth", scaled(sound_case, "angle", 0.1, "deg", "deg"), ""});
    all.push_back({"chords in cm, marked mm", scaled(sound_case, "chord", 1.0, "cm", "mm"), "cm"});
    all.push_back({"chords in mm, marked cm", scaled(sound_case, "chord", 10.0, "cm", "cm"),
                   "check the unit"});
    all.push_back(
        {"chords in in, marked cm", scaled(sound_case, "chord", 1.0 / 2.54, "cm", "cm"), ""});
    all.push_back({"radii halved", scaled(sound_case, "radius", 0.5, "cm", "cm"), "halved"});
    all.push_back(
        {"radii doubled", scaled(sound_case, "radius", 2.0, "cm", "cm"), "half the diameter"});
    all.push_back(
        {"radii in in, marked cm", scaled(sound_case, "radius", 1.0 / 2.54, "cm", "cm"), ""});
    all.push_back({"radii in cm, marked mm", scaled(sound_case, "radius", 1.0, "cm", "mm"), ""});
    all.push_back({"radii in cm, marked in", scaled(sound_case, "radius", 1.0, "cm", "in"),
                   "half the diameter"});
    all.push_back({"thickness a tenth", scaled(sound_case, "thickness", 0.1, "%", "%"), "22 %"});
    all.push_back({"thickness tenfold", scaled(sound_case, "thickness", 10.0, "%", "%"), ""});
    all.push_back({"thickness in mm for %", scaled(sound_case, "thickness", 0.8, "%", "cm"), ""});
    one("sweep = \"12 deg\"", "sweep = \"60 deg\"", "sweep");
    one("angle = \"23.2 deg\"", "angle = \"81.5 deg\"", "stands out");
    one("angle = \"23.2 deg\"", "angle = \"1.85 deg\"", "stands out");
    one("angle = \"23.2 deg\"", "angle = \"23,2 deg\"", "23.2 deg");
    one("chord = \"9.4 cm\"", "chord = \"94 cm\"", "check the unit");
    one("chord = \"9.4 cm\"", "chord = \"0.94 cm\"", "stands out");
    one("radius = \"32 cm\"", "radius = \"23 cm\"", "stands out");
    one("radius = \"32 cm\"", "radius = \"320 cm\"", "tip");
    one("radius = \"32 cm\"", "radius = \"3.2 cm\"", "from root to tip");
    one("thickness = \"13 %\"", "thickness = \"31 %\"", "stands out");
    one("thickness = \"13 %\"", "thickness = \"1.3\"", "share of the chord");
    {
        std::string turned = sound_case;
        const char* const angles[] = {"34", "29", "23.2", "19", "16.3", "14.5", "13.7"};
        for (std::size_t k = 0; k < 7; ++k)
            turned = changed(turned, fmt::format("angle = \"{} deg\"", angles[k]),
                             fmt::format("angle = \"@{} deg\"", k));
        for (std::size_t k = 0; k < 7; ++k)
            turned =
                changed(turned, fmt::format("@{} deg", k), fmt::format("{} deg", angles[6 - k]));
        all.push_back({"angles from tip to root", turned, "from tip to root"});
    }
    {
        std::string cut = sound_case;
        for (const char* r : {"54", "63", "67"}) {
            const std::size_t at = cut.find(fmt::format("  {{radius = \"{} cm\"", r));
            cut.erase(at, cut.find('\n', at) - at + 1);
        }
        all.push_back({"last station at 63 %", cut, "last station"});
    }
    one("temperature = \"18 degC\"", "temperature = \"18 degC\"\nqnh = \"906 hPa\"", "QFE");
    one("cage_diameter = \"148 cm\"", "cage_diameter = \"148 cm\"\nfuel = \"120 L\"", "fuel");
    all.push_back({"chords from tip to root",
                   changed(changed(changed(sound_case, "chord = \"8.0 cm\"", "chord = \"@ cm\""),
                                   "chord = \"3.6 cm\"", "chord = \"8.0 cm\""),
                           "chord = \"@ cm\"", "chord = \"3.6 cm\""),
                   "from tip to root"});
    one("section = \"clark-y\"", "section = \"clarky\"", "clark-y");
    one("angle_reference = \"chord\"", "angle_reference = \"flat\"", "lower surface");
    return all;
}

}  // namespace

TEST_CASE("a sound case is asked nothing") {
    CHECK(said_of(sound_case).empty());
    INFO(said_of(sound_case));
    for (const char* name : {"demo", "paraglider", "builder", "measured"}) {
        const Case c = read_case(fmt::format("{}/cases/{}.toml", LOADLINE_ROOT, name),
                                 {std::string(LOADLINE_ROOT) + "/airfoils"});
        std::vector<const Propeller*> propellers;
        for (const Propeller& p : c.propellers)
            propellers.push_back(&p);
        const auto asked = questions_first(c, propellers, SentenceUnits::metric);
        INFO(name, ": ", fmt::format("{}", fmt::join(asked, "\n")));
        CHECK(asked.empty());
    }
}

TEST_CASE("slips of the pen: none in silence, most with their cause") {
    const std::vector<Written> all = slips();
    CHECK(all.size() >= 110);
    int silent = 0, with_cause = 0;
    for (const Written& w : all) {
        const std::string said = said_of(w.text);
        const bool tells = !w.cause.empty() && said.find(w.cause) != std::string::npos;
        silent += said.empty();
        with_cause += tells;
        CHECK_MESSAGE(!said.empty(), w.what);
        if (!w.cause.empty())
            CHECK_MESSAGE(tells, w.what, " needs \"", w.cause, "\" in:\n", said);
        if (std::getenv("LOADLINE_PRINT") != nullptr)
            fmt::print("== {}\n{}\n", w.what, said);
    }
    CHECK(with_cause >= 0.8 * static_cast<double>(all.size()));
    fmt::print("{} slips: {} in silence, {} with what was meant or what to look at\n", all.size(),
               silent, with_cause);
}

TEST_CASE("what no answer shows") {
    // A torque a third too high with a blade that then still meets the engine between its greatest
    // torque and its greatest power: a stronger engine looks the same.
    CHECK(said_of(torque_scaled(1.0, "ft lbf")).empty());
}
