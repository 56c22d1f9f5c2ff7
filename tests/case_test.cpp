// The case file and the section files: what is written is what the library gets, in SI.

#include "loadline/case/case.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/engine/fuel.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/section/mean_line.hpp"
#include "loadline/words/notes.hpp"
#include "near.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <string>
#include <vector>

using namespace loadline;
using loadline::test::replaced;
using loadline::test::Scratch;

namespace {

namespace fs = std::filesystem;

const SectionFolders airfoils = {LOADLINE_ROOT "/airfoils"};

Case parse(const std::string& text) {
    return parse_case(text, "case.toml", airfoils);
}

std::vector<CaseFault> faults_of(const std::string& text) {
    try {
        static_cast<void>(parse(text));
    } catch (const CaseError& error) {
        return error.faults;
    }
    return {};
}

const std::string one_propeller =
    "[[propeller]]\n"
    "name = \"one\"\n"
    "diameter = \"50 in\"\n"
    "blades = 3\n"
    "section = \"clark-y\"\n"
    "stations = [\n"
    "  [\"15 cm\", \"80 mm\", \"26 deg\"],\n"
    "  [\"16 in\", \"0.07 m\", \"0.25 rad\"],\n"
    "  [\"60 cm\", \"4 cm\", \"10 deg\"],\n"
    "]\n";

const std::string sound_rows =
    "reynolds,alpha_deg,cl,cd\n"
    "100000,-4,-0.1,0.020\n"
    "100000,0,0.35,0.018\n"
    "100000,6,0.9,\n"
    "100000,12,1.3,0.060\n";

// The places of a section file's faults: "3:1".
std::vector<std::string> places_of(const fs::path& file) {
    std::vector<std::string> places;
    try {
        static_cast<void>(read_section(file));
    } catch (const CaseError& error) {
        for (const CaseFault& fault : error.faults) {
            CHECK(fault.file == file.string());
            CHECK_FALSE(fault.remedy.empty());
            places.push_back(fmt::format("{}:{}", fault.line, fault.column));
        }
    }
    return places;
}

using Places = std::vector<std::string>;

}  // namespace

TEST_CASE("a propeller alone is a case; the rest takes its documented defaults") {
    const Case c = parse(one_propeller);
    CHECK(c.title.empty());
    CHECK_FALSE(c.engine);
    CHECK_FALSE(c.drive);
    CHECK_FALSE(c.craft);
    CHECK(c.day.elevation_m == 0.0);
    CHECK_FALSE(c.day.temperature_k);
    CHECK(c.day.qnh_pa == 101325.0);
    CHECK(c.day.relative_humidity == 0.0);
    CHECK(c.model.tip_loss == TipLoss::goldstein);
    CHECK(c.model.hub_loss);
    CHECK(c.model.annuli == RotorModel().annuli);
    REQUIRE(c.propellers.size() == 1);
    const Propeller& p = c.propellers[0];
    CHECK(p.name == "one");
    // Angles without a reference are the likeliest slip of a pilot with a level: said.
    CHECK(p.section_note.find("no angle_reference is given") == 0);
    CHECK(
        parse(replaced(one_propeller, "blades = 3\n", "blades = 3\nangle_reference = \"chord\"\n"))
            .propellers[0]
            .section_note.empty());
    CHECK(near(p.description.diameter, 1.27, 1e-12));  // 1 in is 25.4 mm exactly
    CHECK(p.description.blades == 3);
    CHECK_FALSE(p.description.hub_diameter);
    CHECK(p.description.angle_reference == AngleReference::chord_line);
    REQUIRE(p.description.stations.size() == 3);
    CHECK(near(p.description.stations[0].radius, 0.15, 1e-12));
    CHECK(near(p.description.stations[0].chord, 0.08, 1e-12));
    CHECK(near(p.description.stations[0].angle, 26.0 * degree, 1e-12));
    CHECK(near(p.description.stations[1].radius, 0.4064, 1e-12));
    CHECK(near(p.description.stations[1].angle, 0.25, 1e-12));
    CHECK(p.description.sections.size() == 1);
    CHECK(p.description.sections[0]->data().name == "clark-y");
    CHECK(check_blade(p.description).empty());
}

TEST_CASE("every key reaches its place") {
    const Case c = parse(
        "title = \"Alles\"\n"
        "[air]\nelevation = \"1000 ft\"\ntemperature = \"77 degF\"\nqnh = \"29.92 inHg\"\n"
        "humidity = \"40 %\"\n"
        "[engine]\nname = \"single\"\n"
        "torque = [[\"4000 rpm\", \"9 N m\"], [\"7000 rpm\", \"10 ft lbf\"]]\n"
        "measured_at = {elevation = \"100 m\", temperature = \"20 degC\", qnh = \"1000 hPa\", "
        "humidity = 0.3}\n"
        "day_correction = \"gagg-ferrar\"\nrpm_limit = \"9000 rpm\"\nidle = \"2000 rpm\"\n"
        "throttle = \"60 %\"\n"
        "[drive]\nteeth = [20, 64]\nefficiency = \"97 %\"\n"
        "[craft]\nall_up_mass = \"300 lb\"\ntrim_speed = \"36 km/h\"\nglide_ratio = 8\n" +
        one_propeller +
        "hub_diameter = \"20 cm\"\nangle_reference = \"lower surface\"\n"
        "[model]\ntip_loss = \"prandtl\"\nhub_loss = false\nreynolds = false\n"
        "compressibility = false\nstall_delay = true\ndrag_in_induction = true\nload_twist = "
        "false\nannuli = 50\n");
    CHECK(c.title == "Alles");
    CHECK(near(c.day.elevation_m, 304.8, 1e-9));
    CHECK(near(c.day.temperature_k.value(), 298.15, 1e-9));
    CHECK(near(c.day.qnh_pa, 101325.0, 10.0));
    CHECK(near(c.day.relative_humidity, 0.4, 1e-12));
    REQUIRE(c.engine);
    const EngineDescription& e = c.engine->description();
    REQUIRE(e.table.size() == 2);
    CHECK(near(e.table[0].rotation, 4000.0 * rpm, 1e-9));
    CHECK(near(e.table[1].torque, 13.5582, 1e-4));  // 1 ft lbf = 1.35582 N m, NIST SP 811
    CHECK(e.measured_at.elevation_m == 100.0);
    CHECK(near(e.measured_at.temperature_k.value(), 293.15, 1e-9));
    CHECK(near(e.measured_at.qnh_pa, 100000.0, 1e-6));
    CHECK(e.measured_at.relative_humidity == 0.3);
    CHECK(e.day_correction == DayCorrection::gagg_ferrar);
    CHECK(near(e.rpm_limit.value(), 9000.0 * rpm, 1e-9));
    CHECK(near(e.idle.value(), 2000.0 * rpm, 1e-9));
    CHECK(near(e.throttle, 0.6, 1e-12));
    REQUIRE(c.drive);
    CHECK(c.drive->ratio == 3.2);
    CHECK(near(c.drive->efficiency, 0.97, 1e-12));
    REQUIRE(c.craft);
    CHECK(near(c.craft->all_up_mass, 136.077711, 1e-9));  // 1 lb is 0.45359237 kg exactly
    // As an instrument shows it: true at the density of sea level.
    CHECK(near(c.craft->trim_speed / c.true_over_read, 10.0, 1e-12));
    CHECK(near(c.true_over_read, std::sqrt(1.225 / air_at_field(c.day).density), 1e-6));
    CHECK(c.craft->glide_ratio == 8.0);
    CHECK(near(c.propellers[0].description.hub_diameter.value(), 0.2, 1e-12));
    CHECK(c.propellers[0].description.angle_reference == AngleReference::lower_surface);
    CHECK(c.model.tip_loss == TipLoss::prandtl);
    CHECK_FALSE(c.model.hub_loss);
    CHECK_FALSE(c.model.reynolds);
    CHECK_FALSE(c.model.compressibility);
    CHECK(c.model.stall_delay);
    CHECK(c.model.drag_in_induction);
    CHECK_FALSE(c.blades_bend);
    CHECK(c.model.annuli == 50);
}

TEST_CASE("leaflet figures: power and the speed it belongs to give a torque") {
    const Case c = parse(
        "[engine]\nrated = \"13.2 kW at 8600 rpm\"\npeak_torque = \"15.5 N m at 7400 rpm\"\n" +
        one_propeller);
    const EngineDescription& e = c.engine.value().description();
    CHECK(e.table.empty());
    REQUIRE(e.rated);
    CHECK(near(e.rated->torque * e.rated->rotation, 13200.0, 1e-6));
    CHECK(near(e.rated->rotation, 8600.0 * rpm, 1e-9));
    CHECK(near(e.peak_torque.value().torque, 15.5, 1e-12));
    CHECK(near(e.peak_torque.value().rotation, 7400.0 * rpm, 1e-9));
    CHECK(c.engine->shape_assumed());
    // Rated alone does too.
    CHECK(parse("[engine]\nrated = \"18 hp at 8600 rpm\"\n" + one_propeller).engine);
}

TEST_CASE("stations as tables carry thickness, sweep and a section of their own") {
    const std::string text = replaced(one_propeller, "[\"16 in\", \"0.07 m\", \"0.25 rad\"]",
                                      "{radius = \"40 cm\", chord = \"7 cm\", angle = \"15 deg\", "
                                      "thickness = \"8.4 mm\", camber = \"2.8 mm\", sweep = "
                                      "\"-5 deg\", section = \"e387\"}");
    const BladeDescription blade = parse(text).propellers[0].description;
    REQUIRE(blade.stations.size() == 3);
    CHECK(near(blade.stations[1].thickness.value(), 0.12, 1e-12));
    CHECK(near(blade.stations[1].camber.value(), 0.04, 1e-12));
    CHECK(near(blade.stations[1].sweep, -5.0 * degree, 1e-12));
    REQUIRE(blade.sections.size() == 2);
    const auto name = [&](std::size_t i) {
        return blade.sections[static_cast<std::size_t>(blade.stations[i].section)]->data().name;
    };
    CHECK(name(0) == "clark-y");
    CHECK(name(1) == "e387");
    CHECK(name(2) == "clark-y");
    CHECK_FALSE(blade.stations[0].thickness);
    for (const char* share : {"\"12 %\"", "0.12", "\"0.84 cm\""}) {
        const Case c = parse(replaced(text, "\"8.4 mm\"", share));
        CHECK(near(c.propellers[0].description.stations[1].thickness.value(), 0.12, 1e-12));
    }
}

TEST_CASE("without a section the default is taken and said") {
    const Case c = parse(replaced(one_propeller, "section = \"clark-y\"\n", ""));
    CHECK(c.propellers[0].description.sections[0]->data().name == "unknown");
    CHECK(c.propellers[0].section_note.find("thin, cambered") != std::string::npos);
    // Where the default is not there, that is a fault with a way out.
    try {
        static_cast<void>(parse_case(replaced(one_propeller, "section = \"clark-y\"\n", ""),
                                     "/nowhere/case.toml", {}));
        FAIL("read a section out of thin air");
    } catch (const CaseError& error) {
        REQUIRE(error.faults.size() == 1);
        CHECK(error.faults[0].remedy.find("--airfoils") != std::string::npos);
    }
}

TEST_CASE("a label is read in any length unit, diameter first") {
    const auto shape = [](const std::string& keys) {
        return parse("[[propeller]]\nname = \"one\"\nblades = 2\n" + keys).propellers[0];
    };
    const auto check = [&](const std::string& keys, double diameter, double pitch) {
        INFO(keys);
        const Propeller p = shape(keys);
        CHECK(near(p.description.diameter, diameter, 1e-12));
        CHECK(check_blade(p.description).empty());
        REQUIRE(p.description.stations.size() == 18);
        // The rule's angle at 0.75 R, its thirteenth station: that of the pitch and 0.2 deg.
        const Station& s = p.description.stations[12];
        CHECK(near(s.radius, 0.375 * diameter, 1e-12));
        CHECK(near(s.angle, std::atan(pitch / (0.75 * std::numbers::pi * diameter)) + 0.2 * degree,
                   1e-12));
        CHECK(near(s.chord, 0.143 * 0.5 * diameter, 1e-12));
        CHECK(p.knowledge == Knowledge::label_only);
        CHECK(p.description.sections[0]->data().name == "unknown");
        CHECK(p.section_note.find("label") != std::string::npos);
        CHECK(p.section_note.find("thin, cambered") != std::string::npos);
    };
    for (const char* label :
         {"136 x 68 cm", "136x68cm", "136 X 68 cm", "136 \u00d7 68 cm", "1.36 x 0.68 m",
          "1360 x 680 mm", "136 cm x 68 cm", "1.36 m x 680 mm", " 136  x  68  cm "})
        check(fmt::format("label = \"{}\"\n", label), 1.36, 0.68);
    check("label = \"54 x 27 in\"\n", 54 * 0.0254, 27 * 0.0254);  // 1 in is 25.4 mm exactly
    check("diameter = \"54 in\"\npitch = \"68 cm\"\n", 54 * 0.0254, 0.68);

    const Propeller wide = shape("label = \"136 x 68 cm\"\nchord = \"7.1 cm\"\n");
    CHECK(near(wide.description.stations[12].chord, 0.071, 1e-12));
    CHECK(wide.knowledge == Knowledge::label_and_chord);
    const Propeller named = shape("label = \"136 x 68 cm\"\nsection = \"clark-y\"\n");
    CHECK(named.knowledge == Knowledge::label_only);
    CHECK(named.description.sections[0]->data().name == "clark-y");
    CHECK(named.section_note.find("thin, cambered") == std::string::npos);

    // The blade begins at its hub: stations inside it go, and a small hub holds the first one.
    const Propeller hub = shape("label = \"136 x 68 cm\"\nhub_diameter = \"30 cm\"\n");
    CHECK(near(hub.description.stations.front().radius, 0.25 * 0.68, 1e-12));
    CHECK(near(Blade(hub.description).root_radius(), 0.15, 1e-12));
    const Propeller small = shape("label = \"136 x 68 cm\"\nhub_diameter = \"10 cm\"\n");
    CHECK(small.description.stations.size() == 18);
    CHECK(near(Blade(small.description).root_radius(), 0.05, 1e-12));
}

TEST_CASE("a broken label, look, camber or mix is refused at its place with a way out") {
    struct Broken {
        const char* keys;  // from line 4 on
        const char* place;
        const char* what;
        const char* remedy;
    };
    constexpr const char* rows =
        "stations = [[\"15 cm\", \"8 cm\", \"26 deg\"], [\"60 cm\", \"4 cm\", \"10 deg\"]]\n";
    const std::string measured = std::string("diameter = \"136 cm\"\n") + rows;  // lines 4 and 5
    const std::vector<Broken> labels = {
        {"label = \"136\"\n", "4:9", "one x between", "136 x 68 cm"},
        {"label = \"136/68 cm\"\n", "4:9", "one x between", "136 x 68 cm"},
        {"label = \"\"\n", "4:9", "one x between", "136 x 68 cm"},
        {"label = \"2 x 136 x 68 cm\"\n", "4:9", "one x between", "136 x 68 cm"},
        {"label = \"136 x 68\"\n", "4:9", "no unit", "136 x 68 cm"},
        {"label = \"136 cm x 68\"\n", "4:9", "no unit", "behind the pitch"},
        {"label = \"x 68 cm\"\n", "4:9", "no diameter", "136 x 68 cm"},
        {"label = \"136 x\"\n", "4:9", "no pitch", "136 x 68 cm"},
        {"label = \"136 x 68 kg\"\n", "4:9", "unit of mass", "cm"},
        {"label = \"1,36 x 0,68 m\"\n", "4:9", "comma", "0.68 m"},
        {"label = \"136 x sixty cm\"\n", "4:9", "does not start with a number", "cm"},
        {"label = 136\n", "4:9", "not a text", "label = "},
        {"label = \"136 x 680 cm\"\n", "4:9", "a pitch of 6.8 m", "0.05 to 3 diameters"},
        {"label = \"136 x 2 cm\"\n", "4:9", "a pitch of 0.02 m", "0.05 to 3 diameters"},
        {"label = \"-136 x 68 cm\"\n", "4:9", "diameter of -1.36 m", "2 cm to 20 m"},
        {"label = \"136 x 68 m\"\n", "4:9", "diameter of 136 m", "2 cm to 20 m"},
        {"diameter = \"136 cm\"\npitch = 68\n", "5:9", "bare number", "68 cm"},
        {"diameter = \"136 cm\"\npitch = \"5 m\"\n", "5:9", "a pitch of 5 m", "diameters"},
        {"pitch = \"68 cm\"\n", "1:1", "no diameter", "136 cm"},
        {"diameter = \"136 cm\"\n", "1:1", "no stations", "label = "},
        {"diameter = \"136 cm\"\nchord = \"6 cm\"\n", "5:1", "without a pitch", "pitch = "},
        {"label = \"136 x 68 cm\"\ndiameter = \"136 cm\"\n", "5:1", "the label says",
         "remove diameter"},
        {"label = \"136 x 68 cm\"\npitch = \"68 cm\"\n", "5:1", "the label says", "remove pitch"},
        {"label = \"136 x 68 cm\"\nchord = \"71 cm\"\n", "5:9", "a chord of 0.71 m",
         "of the radius"},
        {"label = \"136 x 68 cm\"\nchord = 6\n", "5:9", "bare number", "6 cm"},
        {"label = \"136 x 68 cm\"\nangle_reference = \"lower surface\"\n", "5:1",
         "measured stations", "remove it"},
        {"label = \"136 x 68 cm\"\nhub_diameter = \"135 cm\"\n", "5:1", "a fifth of the blade",
         "hub diameter"},
        {"label = \"136 x 68 cm\"\nhub_diameter = \"141 cm\"\n", "5:1", "as large as",
         "below the diameter"},
    };
    const std::vector<Broken> others = {
        {"label = \"136 x 68 cm\"\n", "6:1", "label and stations both", "remove label"},
        {"pitch = \"68 cm\"\n", "6:1", "pitch and stations both", "remove pitch"},
        {"chord = \"6 cm\"\n", "6:1", "chord and stations both", "remove chord"},
        {"look = \"flat\"\n", "6:8", "not known", "\"nearly symmetrical\""},
        {"look = \"round\"\n", "6:8", "not known", "\"strongly undercambered and thin\""},
        {"look = 3\n", "6:8", "not a text", "look = "},
        {"look = \"flat-bottomed\"\nsection = \"clark-y\"\n", "6:1", "look and section both",
         "keep section"},
        {"section = \"\"\n", "6:11", "empty", "leave it out"},
        {"camber = \"40 %\"\n", "6:10", "out of range", "0 to 15 %"},
        {"camber = \"3 mm\"\n", "6:10", "of the whole blade is a length", "4 %"},
        {"thickness = \"12 mm\"\n", "6:13", "of the whole blade is a length", "12 %"},
        {"thickness = \"twelve\"\n", "6:13", "does not start with a number", "%"},
        {"section = \"s822\"\ncamber = \"4 %\"\n", "7:1", "camber of section s822 is not known",
         "leave camber out"},
        {"look = \"nearly symmetrical\"\nangle_reference = \"lower surface\"\n", "6:1",
         "lower face", "chord"},
    };
    const std::string head = "[[propeller]]\nname = \"one\"\nblades = 2\n";
    const auto check = [](const std::string& text, const Broken& broken) {
        INFO(text);
        const auto faults = faults_of(text);
        REQUIRE(faults.size() == 1);
        INFO(to_string(faults[0]));
        CHECK(fmt::format("{}:{}", faults[0].line, faults[0].column) == broken.place);
        CHECK(faults[0].what.find(broken.what) != std::string::npos);
        CHECK(faults[0].remedy.find(broken.remedy) != std::string::npos);
    };
    for (const Broken& broken : labels)
        check(head + broken.keys, broken);
    for (const Broken& broken : others)
        check(head + measured + broken.keys, broken);
    // A label next to stations needs no diameter for this to be the one fault.
    check(head + rows + "label = \"136 x 68 cm\"\n",
          {"", "5:1", "label and stations both", "remove label"});
    // At a station.
    const auto at_station = [&](const std::string& more) {
        return head + "diameter = \"136 cm\"\nstations = [[\"15 cm\", \"8 cm\", \"26 deg\"],\n" +
               "{radius = \"60 cm\", chord = \"4 cm\", angle = \"10 deg\", " + more + "}]\n";
    };
    check(at_station("look = \"oval\""), {"", "6:61", "not known", "\"flat-bottomed\""});
    check(at_station("section = \"e387\", look = \"flat-bottomed\""),
          {"", "6:72", "look and section both", "keep section"});
    check(at_station("section = \"s822\", camber = \"4 %\""),
          {"", "6:81", "is not known", "leave camber out"});
}

TEST_CASE("thickness left out on a flat face is a usual one, and said so") {
    const auto with = [](const std::string& keys) {
        return parse("[[propeller]]\nname = \"one\"\nblades = 2\ndiameter = \"120 cm\"\n" + keys +
                     "stations = [[\"18 cm\", \"8 cm\", \"26 deg\"], [\"45 cm\", \"6 cm\", "
                     "\"15 deg\"], [\"60 cm\", \"4 cm\", \"10 deg\"]]\n")
            .propellers[0];
    };
    const Propeller face = with("angle_reference = \"lower surface\"\nsection = \"clark-y\"\n");
    CHECK(face.knowledge == Knowledge(Knowledge::section_known, true));
    CHECK(face.section_note.find("measure the thickness") != std::string::npos);
    const Blade blade(face.description);
    // Report 640's blade, from memory of its charts: see usual_thickness.
    CHECK(near(blade.at(0.18).thickness, 0.16, 1e-9));
    CHECK(near(blade.at(0.45).thickness, 0.085, 1e-9));
    CHECK(near(blade.at(0.60).thickness, 0.075, 1e-9));
    CHECK_FALSE(face.description.stations[0].thickness);  // so strength stays a guess
    // The level reads less by the face's angle, which goes with the thickness.
    const Section& section = *face.description.sections[0];
    CHECK(near(blade.at(0.45).angle,
               15.0 * degree + *section.lower_face_angle() * 0.085 / section.thickness(), 1e-9));
    const Propeller stated =
        with("angle_reference = \"lower surface\"\nsection = \"clark-y\"\nthickness = \"9 %\"\n");
    CHECK(stated.knowledge == Knowledge::section_known);
    CHECK(stated.section_note.find("thickness") == std::string::npos);
    CHECK(with("angle_reference = \"chord\"\n").knowledge == Knowledge::section_unknown);
    // A thin hollow section is as thick as it is.
    const Propeller hollow = with("angle_reference = \"lower surface\"\nsection = \"gm15\"\n");
    CHECK_FALSE(hollow.knowledge.thickness_guessed);
}

TEST_CASE("airspeeds that are true, two head readings and the day they were made on") {
    const std::string text =
        "[air]\nelevation = \"1500 m\"\n[engine]\nrated = \"10 kW at 8000 rpm\"\n"
        "head_temperature = [\"180 degC in climb\", \"150 degC in cruise\"]\n"
        "head_measured_at = {elevation = \"100 m\", temperature = \"12 degC\", mass = \"110 kg\"}\n"
        "[craft]\nall_up_mass = \"120 kg\"\ntrim_speed = \"40 km/h\"\nglide_ratio = 7.5\n"
        "airspeeds = \"true\"\n[cruise]\nfuel = \"3 L/h\"\nmeasured_at = {mass = \"105 kg\"}\n" +
        one_propeller;
    const Case c = parse(text);
    CHECK(near(c.craft->trim_speed, 40.0 / 3.6, 1e-12));
    CHECK(near(*c.head.in_climb, 453.15, 1e-9));
    CHECK(near(*c.head.in_cruise, 423.15, 1e-9));
    REQUIRE(c.head.read.day);
    CHECK(c.head.read.day->elevation_m == 100.0);
    CHECK(near(*c.head.read.mass, 110.0, 1e-9));
    CHECK_FALSE(c.plan.cruise_read.day);
    CHECK(near(*c.plan.cruise_read.mass, 105.0, 1e-9));
    CHECK_THROWS(
        static_cast<void>(parse(replaced(text, "150 degC in cruise", "150 degC in climb"))));
    CHECK_THROWS(static_cast<void>(parse(replaced(text, "\"true\"", "\"indicated\""))));
}

TEST_CASE("two heights of the mean line stand for the section's name") {
    const auto with = [](const std::string& keys, const std::string& station = "") {
        return "[[propeller]]\nname = \"one\"\nblades = 2\ndiameter = \"120 cm\"\n" + keys +
               "stations = [[\"18 cm\", \"8 cm\", \"26 deg\"], {radius = \"45 cm\", chord = \"8 "
               "cm\", angle = \"15 deg\"" +
               station + "}, [\"60 cm\", \"4 cm\", \"10 deg\"]]\n";
    };
    const std::string both =
        "angle_reference = \"chord\"\nmean_line_50 = \"3.3 %\"\nmean_line_75 = \"2.2 %\"\n";
    const Propeller p = parse(with(both)).propellers[0];
    CHECK(p.knowledge == Knowledge::zero_lift_measured);
    CHECK(near(*p.description.stations[0].zero_lift, zero_lift_of_mean_line(0.033, 0.022), 1e-12));
    // Lift begins there, whatever stands for the section.
    const Blade blade(p.description);
    const BladeElement e = blade.at(0.45);
    CHECK(near(blade.section(e.section_a).zero_lift() - e.incidence_shift,
               *p.description.stations[1].zero_lift, 1e-12));
    // A station's own go before the blade's; lengths are over its chord.
    const Propeller own =
        parse(with(both, ", mean_line_50 = \"2.4 mm\", mean_line_75 = \"1.2 mm\"")).propellers[0];
    CHECK(near(*own.description.stations[1].zero_lift, zero_lift_of_mean_line(0.03, 0.015), 1e-12));
    const auto refused = [&](const std::string& text, const char* what) {
        std::string said;
        try {
            static_cast<void>(parse(text));
        } catch (const std::exception& error) {
            said = error.what();
        }
        INFO(said);
        CHECK(said.find(what) != std::string::npos);
    };
    refused(with("mean_line_50 = \"3 %\"\n"), "one height of the mean line alone");
    refused(with("angle_reference = \"lower surface\"\nmean_line_50 = \"3 %\"\nmean_line_75 = \"2 "
                 "%\"\n"),
            "to the line from nose to tail");
    refused(with("mean_line_50 = \"3 %\"\nmean_line_75 = \"14 %\"\n"), "zero lift of");
}

TEST_CASE("looks, camber and thickness of the whole blade and of a station") {
    const auto with = [](const std::string& keys, const std::string& station = "") {
        return parse("[[propeller]]\nname = \"one\"\nblades = 2\ndiameter = \"136 cm\"\n" + keys +
                     "stations = [[\"15 cm\", \"8 cm\", \"26 deg\"],\n{radius = \"40 cm\", chord = "
                     "\"5 cm\", angle = \"15 deg\"" +
                     station + "}, [\"60 cm\", \"4 cm\", \"10 deg\"]]\n")
            .propellers[0];
    };
    const auto name = [](const Propeller& p, std::size_t station) {
        const auto index = static_cast<std::size_t>(p.description.stations[station].section);
        return p.description.sections[index]->data().name;
    };
    struct Named {
        const char* look;
        const char* section;
    };
    for (const Named& named : {Named{"flat-bottomed", "clark-y"},
                               {"cambered on both faces", "naca-2414"},
                               {"strongly undercambered and thin", "gm15"},
                               {"nearly symmetrical", "naca-2414"}}) {
        const Propeller p = with(fmt::format("look = \"{}\"\n", named.look));
        CHECK(name(p, 0) == named.section);
        CHECK(p.description.sections.size() == 1);
        CHECK(p.description.sections[0]->camber());
        CHECK(p.knowledge == Knowledge::section_by_look);
        CHECK(p.section_note.find(named.look) != std::string::npos);
        CHECK(p.section_note.find(named.section) != std::string::npos);
    }

    // Zero lift goes with the camber: a section of the ratio k of its own camber sees
    // (1 - k) of its zero-lift angle more. Four-digit sections: 2414 has 2 % by definition (Abbott
    // and von Doenhoff, Theory of Wing Sections, chapter 6).
    const auto shift = [](const Propeller& p, double ratio, double r = 0.5) {
        const Blade blade(p.description);
        const Section& section = blade.section(blade.at(r).section_b);
        CHECK(section.zero_lift() < -1.0 * degree);
        CHECK(near(blade.at(r).incidence_shift, section.zero_lift() * (1.0 - ratio), 1e-12));
    };
    shift(with("look = \"cambered on both faces\"\n"), 1.0);
    shift(with("look = \"cambered on both faces\"\ncamber = \"3 %\"\n"), 1.5);
    shift(with("look = \"nearly symmetrical\"\n"), 0.25);
    shift(with("look = \"nearly symmetrical\"\ncamber = 0.0\n"), 0.0);
    shift(with("section = \"naca-63-415\"\ncamber = \"1.1 %\"\n"), 0.5);
    const Propeller flat = with("look = \"flat-bottomed\"\n");
    const double own = flat.description.sections[0]->camber().value();
    shift(with("look = \"flat-bottomed\"\ncamber = \"4 %\"\n"), 0.04 / own);
    // With the thickness alone stated, the camber goes with it.
    const double thick = flat.description.sections[0]->thickness();
    const Propeller thin = with("look = \"flat-bottomed\"\nthickness = \"8 %\"\n");
    shift(thin, 0.08 / thick);
    CHECK(near(Blade(thin.description).at(0.5).thickness, 0.08, 1e-12));
    CHECK(Blade(thin.description).at(0.5).drag_factor < 1.0);

    // A station's own word goes before the blade's; a length there is over its chord.
    const Propeller mixed = with("camber = \"4 %\"\nthickness = 0.1\nsection = \"clark-y\"\n",
                                 ", camber = \"1.5 mm\", thickness = \"6 mm\", look = "
                                 "\"strongly undercambered and thin\"");
    CHECK(name(mixed, 0) == "clark-y");
    CHECK(name(mixed, 1) == "gm15");
    CHECK(near(mixed.description.stations[0].camber.value(), 0.04, 1e-12));
    CHECK(near(mixed.description.stations[1].camber.value(), 0.03, 1e-12));
    CHECK(near(mixed.description.stations[0].thickness.value(), 0.10, 1e-12));
    CHECK(near(mixed.description.stations[1].thickness.value(), 0.12, 1e-12));
    CHECK(mixed.knowledge == Knowledge::section_by_look);
    const Propeller own_look = with("section = \"clark-y\"\n", ", look = \"nearly symmetrical\"");
    CHECK_FALSE(own_look.description.stations[0].camber);
    CHECK(near(own_look.description.stations[1].camber.value(), 0.005, 1e-12));
}

TEST_CASE("what is known of a blade: the section at every station, or not") {
    CHECK(parse(one_propeller).propellers[0].knowledge == Knowledge::section_known);
    const std::string none = replaced(one_propeller, "section = \"clark-y\"\n", "");
    CHECK(parse(none).propellers[0].knowledge == Knowledge::section_unknown);
    const auto row = [](const char* more) {
        return fmt::format("{{radius = \"60 cm\", chord = \"4 cm\", angle = \"10 deg\"{}}}", more);
    };
    const std::string last = "[\"60 cm\", \"4 cm\", \"10 deg\"]";
    const Propeller some = parse(replaced(none, last, row(", section = \"e387\""))).propellers[0];
    CHECK(some.knowledge == Knowledge::section_unknown);
    CHECK(some.section_note.find("some stations") != std::string::npos);
    // Where the stand-in's camber comes from, as Blade takes it.
    const auto note = [&](const char* whole) {
        return parse(replaced(one_propeller, "section = \"clark-y\"\n", whole))
            .propellers[0]
            .section_note;
    };
    CHECK(note("").find("more cambered on a broad blade") != std::string::npos);
    CHECK(note("camber = \"4 %\"\n").find("its camber as you gave it:") != std::string::npos);
    CHECK(note("thickness = \"12 %\"\n").find("more cambered on a broad blade") !=
          std::string::npos);
    CHECK(parse(replaced(none, last, row(", camber = \"4 %\"")))
              .propellers[0]
              .section_note.find("where you did not") != std::string::npos);
    // To name the default is not to know the section.
    CHECK(parse(replaced(one_propeller, "clark-y", "unknown")).propellers[0].knowledge ==
          Knowledge::section_unknown);
}

TEST_CASE("a section beside the case goes before the folders, and a path finds a file") {
    const Scratch scratch;
    static_cast<void>(scratch.write("clark-y/section.csv", "# mine\n" + sound_rows));
    static_cast<void>(scratch.write("shapes/tip.csv", sound_rows));
    const std::string file = scratch.write("case.toml", one_propeller);
    const Case beside = read_case(file, airfoils);
    CHECK(beside.propellers[0].description.sections[0]->data().provenance ==
          std::vector<std::string>{"mine"});
    for (const char* path : {"shapes/tip.csv", "./shapes/tip.csv", "shapes/../shapes/tip.csv"}) {
        const Case c = parse_case(replaced(one_propeller, "clark-y", path), file, airfoils);
        CHECK(c.propellers[0].description.sections[0]->data().name == "tip.csv");
    }
    const Case folder = parse_case(replaced(one_propeller, "clark-y", "./clark-y"), file, {});
    CHECK(folder.propellers[0].description.sections[0]->data().name == "clark-y");
}

TEST_CASE("a fault of a section file is said once, with the section file's line") {
    const Scratch scratch;
    const std::string section = scratch.write("tip.csv", replaced(sound_rows, "0.018", "-0.018"));
    const std::string one = replaced(one_propeller, "clark-y", "./tip.csv");
    const std::string file =
        scratch.write("case.toml", one + replaced(one, "\"one\"", "\"two\"") + "bladess = 2\n");
    try {
        static_cast<void>(read_case(file, {}));
        FAIL("read a negative drag");
    } catch (const CaseError& error) {
        REQUIRE(error.faults.size() == 2);
        CHECK(error.faults[0].file == file);  // the case's own faults first
        CHECK(error.faults[1].file == section);
        CHECK(error.faults[1].line == 3);
    }
}

TEST_CASE("all shipped cases and the new case are sound and spin") {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(LOADLINE_ROOT "/cases"))
        if (entry.path().extension() == ".toml")
            files.push_back(entry.path());
    CHECK(files.size() >= 2);
    for (const fs::path& file : files) {
        INFO(file.string());
        CHECK_NOTHROW(static_cast<void>(read_case(file, airfoils)));
    }
    const Case made = parse(new_case_text());
    REQUIRE(made.engine);
    REQUIRE(made.drive);
    REQUIRE(made.craft);
    for (const Propeller& p : made.propellers) {
        CHECK(p.section_note.empty());
        const Rotor rotor(Blade(p.description), made.model);
        const Match found = match(*made.engine, *made.drive, rotor, air_at_field(made.day), 0.0);
        CHECK(found.status == MatchStatus::agreed);
    }
}

TEST_CASE("post-stall data use the blade's own aspect ratio") {
    // Radius 63.5 cm; at 0.75 R = 47.625 cm the chord lies between 7 and 4 cm. A wider blade stalls
    // with less drag when broadside: greatest drag grows with aspect ratio.
    const auto broadside = [](const std::string& text) {
        const Case c = parse(text);
        return c.propellers[0].description.sections[0]->at(1e5, 0.0)(90.0 * degree).cd;
    };
    const double narrow = broadside(one_propeller);
    const double wide = broadside(replaced(one_propeller, "\"0.07 m\"", "\"0.2 m\""));
    CHECK(narrow > wide);
    // Viterna and Corrigan (1982): 1.11 + 0.018 AR.
    const double chord = 0.07 + (0.47625 - 0.4064) / (0.60 - 0.4064) * (0.04 - 0.07);
    CHECK(near(narrow, 1.11 + 0.018 * 0.635 / chord, 1e-3));
}

TEST_CASE("faults print as file, line, column, what and remedy") {
    CHECK(to_string({"a.toml", 3, 7, "x is wrong", "write y"}) ==
          "a.toml:3:7: x is wrong; write y");
    CHECK(to_string({"a.toml", 0, 0, "x", "y"}) == "a.toml:1:1: x; y");
    const CaseError error({{"a", 1, 1, "x", "y"}, {"a", 2, 1, "x", "y"}});
    CHECK(std::string(error.what()) == "a:1:1: x; y\na:2:1: x; y");
    CHECK(CaseError(std::vector<CaseFault>(100)).faults.size() == 20);
}

TEST_CASE("independent faults come in one run, in file order, each with a remedy") {
    const auto faults = faults_of(
        "title = 5\n[air]\nelevaton = \"100 m\"\ntemperature = 29\n[drive]\nratio = 3\nteeth = "
        "[20, "
        "64]\nefficiency = 1.4\n[craft]\nglide_ratio = \"7\"\n" +
        one_propeller + "[model]\ntip_loss = \"prandl\"\nreynolds = 1\n");
    std::vector<std::pair<int, int>> places;
    for (const CaseFault& fault : faults) {
        CHECK(fault.file == "case.toml");
        CHECK_FALSE(fault.what.empty());
        CHECK_FALSE(fault.remedy.empty());
        places.emplace_back(fault.line, fault.column);
    }
    const std::vector<std::pair<int, int>> expected = {
        {1, 9}, {3, 1}, {4, 15}, {7, 1}, {8, 14}, {9, 2}, {9, 2}, {10, 15}, {22, 12}, {23, 12}};
    CHECK(places == expected);
}

TEST_CASE("columns count characters, not bytes") {
    const auto faults =
        faults_of("title = \"Bär über Öl\"\nair = {elevation = \"1 ß\"}\n" + one_propeller);
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].line == 2);
    CHECK(faults[0].column == 20);
    const auto inner =
        faults_of(replaced(one_propeller, "\"one\"\n", "\"öé\"\n") + "x = {\"ä\" = \"ö\"}\n");
    REQUIRE(inner.size() == 1);
    CHECK(inner[0].line == 11);
    CHECK(inner[0].column == 1);
}

TEST_CASE("the nearest word: slips of the finger, capitals, beginnings") {
    const std::vector<std::string> words = {"elevation", "temperature", "humidity", "qnh"};
    CHECK(nearest("elevaton", words) == "elevation");
    CHECK(nearest("Elevation", words) == "elevation");
    CHECK(nearest("elevatoin", words) == "elevation");
    CHECK(nearest("humid", words) == "humidity");
    CHECK(nearest("qhn", words) == "qnh");
    CHECK_FALSE(nearest("colour", words));
    CHECK_FALSE(nearest("", words));
    CHECK_FALSE(nearest("x", {}));
    CHECK_FALSE(nearest(std::string(100'000, 'e'), words));
    CHECK(one_of({"a"}) == "a");
    CHECK(one_of({"a", "b", "c"}) == "a, b or c");
}

TEST_CASE("what people wrote is quoted in one short line") {
    CHECK(quotable("B\xc3\xa4r") == "B\xc3\xa4r");
    CHECK(quotable("a\nb\x1b[31m") == "a?b?[31m");
    CHECK(quotable("\xff\xfe") == "??");
    CHECK(quotable(std::string(100, 'x')) == std::string(40, 'x') + "...");
}

TEST_CASE("every goal is read by its name") {
    for (const GoalName& goal : goal_names) {
        const Case c =
            parse(new_case_text() + "\n[wishes]\nrank = [\"" + std::string(goal.name) + "\"]\n");
        CHECK(c.goals.rank == std::vector<Goal>{goal.goal});
        CHECK(name_of(goal.goal) == goal.name);
    }
}

TEST_CASE("a section file: rows, provenance, stated figures") {
    const Scratch scratch;
    const std::string file = scratch.write("my-section/section.csv",
                                           "# publication: invented\n# thickness: 0.117\n# camber: "
                                           "3.4 %\n# lower face angle: 2.0 deg\n\n" +
                                               sound_rows + "# a remark at the end\n");
    const SectionData data = read_section(file);
    CHECK(data.name == "my-section");
    REQUIRE(data.provenance.size() == 5);
    CHECK(data.provenance[0] == "publication: invented");
    CHECK(data.thickness == 0.117);
    CHECK(near(data.camber.value(), 0.034, 1e-12));
    CHECK(near(data.lower_face_angle.value(), 2.0 * degree, 1e-12));
    CHECK(data.outline.empty());
    REQUIRE(data.points.size() == 4);
    CHECK(data.points[0].reynolds == 100000.0);
    CHECK(near(data.points[0].alpha, -4.0 * degree, 1e-12));
    CHECK(data.points[0].cl == -0.1);
    CHECK(data.points[0].cd == 0.020);
    CHECK_FALSE(data.points[2].cd);

    CHECK_FALSE(data.camber_by_width);
    const std::string by_width =
        "# camber: 0.05\n# narrow blade chord: 0.12\n# narrow blade camber: 4 %\n# broad blade "
        "chord: 20 %\n# broad blade camber: 0.07\n";
    const auto rule = read_section(scratch.write("w.csv", by_width + sound_rows)).camber_by_width;
    REQUIRE(rule);
    CHECK(near((*rule)(0.16), 0.055, 1e-12));

    const std::string alone = scratch.write("tip.csv", "\xEF\xBB\xBF" + sound_rows);
    CHECK(read_section(alone).name == "tip.csv");
    std::string other_ends;
    for (const char c : sound_rows)
        other_ends += c == '\n' ? "\r\n" : std::string(1, c);
    CHECK(read_section(scratch.write("ends.csv", other_ends)).points.size() == 4);
    CHECK(read_section(scratch.write("spaces.csv",
                                     replaced(sound_rows, "100000,0,0.35", " 1e5 , +0 ,\t0.35")))
              .points[1]
              .cl == 0.35);
}

TEST_CASE("an outline beside a section gives thickness and lower face") {
    const Scratch scratch;
    std::string outline = "# invented: a flat-bottomed half lens, 10 % thick\nx,y\n";
    for (int i = 0; i <= 40; ++i) {
        const double x = 1.0 - i / 40.0;
        outline += fmt::format("{:.5f},{:.5f}\n", x, 0.4 * x * (1.0 - x));
    }
    outline += "0.25,0\n0.5,0\n0.75,0\n1,0\n";
    static_cast<void>(scratch.write("lens/outline.csv", outline));
    const std::string file = scratch.write("lens/section.csv", sound_rows);
    const SectionData data = read_section(file);
    CHECK(data.outline.size() == 45);
    const Section section(data);
    CHECK(near(section.thickness(), 0.10, 1e-6));
    CHECK(near(section.lower_face_angle().value(), 0.0, 1e-9));
    static_cast<void>(scratch.write("tip.outline.csv", outline));
    CHECK(read_section(scratch.write("tip.csv", sound_rows)).outline.size() == 45);
}

TEST_CASE("faults of a section file point at the row and the cell") {
    const Scratch scratch;
    const auto places = [&](const std::string& text) {
        return places_of(scratch.write("s.csv", text));
    };
    CHECK(places(sound_rows).empty());
    CHECK(places(replaced(sound_rows, "100000,0,0.35", "100000, zero,x")) == Places{"3:9", "3:14"});
    CHECK(places(replaced(sound_rows, "reynolds,", "re,")) == Places{"1:1"});
    CHECK(places(replaced(sound_rows, "0.35,0.018", "0.35")) == Places{"3:1"});
    CHECK(places(replaced(sound_rows, "100000,6", "100000,0")) == Places{"4:1"});
    CHECK(places(replaced(sound_rows, "0.35", "")) == Places{"3:10"});
    CHECK(places(replaced(sound_rows, "0.35", "0x1p3")) == Places{"3:10"});
    CHECK(places(replaced(sound_rows, "0.35", "1e999")) == Places{"3:10"});
    CHECK(places(replaced(sound_rows, "100000,0", "10,0")) == Places{"3:1"});
    CHECK(places("# thickness: 12 mm\n" + sound_rows) == Places{"1:1"});
    CHECK(places("# thickness: 300 %\n" + sound_rows) == Places{"1:1"});
    CHECK(places("# lower face angle: 2.0\n" + sound_rows) == Places{"1:1"});
    // Camber by width: all of it, in order, beside a camber of its own.
    CHECK(places("# camber: 0.05\n# broad blade chord: 0.2\n" + sound_rows) == Places{"2:1"});
    CHECK(places("# narrow blade chord: 0.2\n# narrow blade camber: 0.04\n# broad blade chord: "
                 "0.1\n# broad blade camber: 0.07\n# camber: 0.05\n" +
                 sound_rows) == Places{"4:1"});
    CHECK(places("# narrow blade chord: 200 %\n" + sound_rows) == Places{"1:1"});
    CHECK(places("reynolds,alpha_deg,cl,cd\n") == Places{"1:1"});
    CHECK(places("") == Places{"1:1"});
    CHECK(places_of(scratch.folder() / "none.csv") == Places{"1:1"});
}

TEST_CASE("all sections of a folder, by name, the first folder winning") {
    const auto sections = read_sections(airfoils);
    CHECK(sections.size() >= 5);
    CHECK(
        std::is_sorted(sections.begin(), sections.end(),
                       [](const SectionData& a, const SectionData& b) { return a.name < b.name; }));
    for (const SectionData& data : sections) {
        INFO(data.name);
        CHECK_NOTHROW(static_cast<void>(Section(data)));
        CHECK_FALSE(data.provenance.empty());
        CHECK(data.thickness);
    }
    const Scratch scratch;
    static_cast<void>(scratch.write("clark-y/section.csv", "# mine\n" + sound_rows));
    const auto mine = read_sections({scratch.folder(), airfoils[0]});
    CHECK(mine.size() == sections.size());
    CHECK(std::count_if(mine.begin(), mine.end(), [](const SectionData& data) {
              return data.provenance.front() == "mine";
          }) == 1);
    CHECK(read_sections({"/no/such/folder"}).empty());
}

TEST_CASE("the flight: craft, cruise, climb, noise, head and wishes reach their places") {
    const std::string text =
        "[engine]\n"
        "rated = \"15.4 kW at 7900 rpm\"\n"
        "consumption = \"480 g/kWh\"\n"
        "head_temperature = \"338 degF in cruise\"\n"
        "head_limit = \"200 degC\"\n"
        "cooling = \"fan\"\n"
        "crank_inertia = \"0.0015 kg m2\"\n"
        "[craft]\n"
        "all_up_mass = \"120 kg\"\n"
        "trim_speed = \"36 km/h\"\n"
        "sink = \"1.25 m/s\"\n"
        "fast_speed = \"13 m/s\"\n"
        "fast_glide_ratio = 5.5\n"
        "added_drag_area = \"0.25 m2\"\n"
        "wake_fraction = \"12 %\"\n"
        "thrust_deduction = 0.05\n"
        "cage_diameter = \"120 cm\"\n"
        "fuel = \"9 L\"\n"
        "[cruise]\n"
        "fuel = \"3.6 L/h\"\n"
        "airspeed = \"12 m/s\"\n"
        "[climb]\n"
        "from = \"200 m\"\n"
        "[noise]\n"
        "height = \"120 m\"\n"
        "beside = \"60 m\"\n"
        "[wishes]\n"
        "rank = [\"quiet\", \"climb\"]\n"
        "climb_at_least = \"1.5 m/s\"\n"
        "fuel_at_most = \"3 L/h\"\n"
        "noise_at_most = \"60 dB(A)\"\n"
        "head_at_most = \"190 degC\"\n"
        "spool_up_at_most = \"2 s\"\n"
        "static_speed = \"8800 rpm\"\n" +
        replaced(one_propeller, "blades = 3\n",
                 "blades = 3\nmass = \"1.2 lb\"\ninertia = \"0.041 kg m2\"\nadjustable = true\n");
    const Case c = parse(text);
    CHECK(near(*c.consumption, 480e-3 / 3.6e6, 1e-15));
    CHECK(near(*c.head.in_cruise, 273.15 + 170.0, 1e-9));
    CHECK_FALSE(c.head.in_climb.has_value());
    CHECK(near(*c.head.limit, 473.15, 1e-9));
    CHECK(c.head.fan_cooled);
    CHECK(near(*c.crank_inertia, 0.0015, 1e-15));
    CHECK(near(c.craft->glide_ratio, std::sqrt(100.0 - 1.25 * 1.25) / 1.25, 1e-12));
    CHECK(near(c.craft->fast->airspeed, 13.0, 1e-12));
    CHECK(near(c.craft->fast->glide_ratio, 5.5, 1e-12));
    CHECK(near(c.craft->added_drag_area, 0.25, 1e-12));
    CHECK(near(c.craft->installation.wake_fraction, 0.12, 1e-12));
    CHECK(near(c.craft->installation.thrust_deduction, 0.05, 1e-12));
    CHECK(near(*c.cage_diameter, 1.2, 1e-12));
    CHECK(near(*c.plan.tank, 9e-3 * petrol_density, 1e-12));
    CHECK(near(*c.plan.cruise_fuel, 3.6 / 3.6e6 * petrol_density, 1e-15));
    CHECK(near(*c.plan.cruise_airspeed, 12.0, 1e-12));
    CHECK(near(c.plan.climb_from, 200.0, 1e-12));
    CHECK(near(c.plan.climb_to, 700.0, 1e-12));
    CHECK(near(c.plan.pass_height, 120.0, 1e-12));
    CHECK(near(c.plan.beside, 60.0, 1e-12));
    CHECK(c.goals.rank == std::vector<Goal>{Goal::quiet, Goal::climb});
    CHECK(near(*c.goals.climb_at_least, 1.5, 1e-12));
    CHECK(near(*c.goals.fuel_at_most, 3.0 / 3.6e6, 1e-15));
    CHECK(near(*c.goals.noise_at_most, 60.0, 1e-12));
    CHECK(near(*c.goals.head_at_most, 463.15, 1e-9));
    CHECK(near(*c.goals.spool_up_at_most, 2.0, 1e-12));
    CHECK(near(*c.goals.static_rotation, 8800.0 * rpm, 1e-9));
    CHECK(near(*c.propellers[0].mass, 1.2 * 0.45359237, 1e-12));
    CHECK(near(*c.propellers[0].inertia, 0.041, 1e-15));
    CHECK(c.propellers[0].adjustable);
    // 127 cm in a cage of 120.
    const std::vector<std::string> notes = cage_notes(c, {&c.propellers[0]});
    REQUIRE(notes.size() == 1);
    CHECK(notes[0].find("does not fit the cage") != std::string::npos);
}

TEST_CASE("a blade of the builder's own wood, its hub weighed and clamped") {
    const auto read = [](const std::string& more) {
        return parse_case(
            "[[propeller]]\nname = \"P\"\ndiameter = \"120 cm\"\nblades = 2\n"
            "section = \"clark-y\"\nangle_reference = \"chord\"\nmass = \"1.2 kg\"\n" +
                more +
                "stations = [[\"15 cm\", \"9 cm\", \"24 deg\"], [\"58 cm\", \"4 cm\", "
                "\"9 deg\"]]\n",
            "case.toml", airfoils);
    };
    const auto said = [&](const std::string& more) {
        try {
            static_cast<void>(read(more));
            return std::string();
        } catch (const CaseError& error) {
            return std::string(error.what());
        }
    };
    const auto maple = read("material = \"sugar maple\"\n").propellers[0];
    CHECK(maple.build.material->crushing == doctest::Approx(10.1e6));
    const auto own =
        read(
            "material = {name = \"plank 3\", density = \"690 kg/m3\", modulus = "
            "\"11.5 GPa\", bending_strength = \"98 MPa\", crushing = \"7 MPa\"}\n"
            "hub_mass = \"300 g\"\nhub_bolts = {tightening = \"10 N m\", circle = "
            "\"75 mm\", plate = \"100 mm\"}\nmaking = {bore = \"25 mm\", plank = \"8 mm\", "
            "mould = {flange = \"40 mm\", dowel = \"0 mm\"}}\n")
            .propellers[0];
    REQUIRE(own.build.material);
    CHECK(own.build.material->name == "plank 3");
    CHECK(own.build.material->density == doctest::Approx(690.0));
    CHECK(own.build.material->working_stress_low == doctest::Approx(0.14 * 98e6));
    CHECK(own.build.material->crushing == doctest::Approx(7e6));
    CHECK(own.build.hub_mass == doctest::Approx(0.3));
    CHECK(own.build.bolts->plate_radius.value() == doctest::Approx(0.05));
    CHECK(own.build.making.plank.value() == doctest::Approx(0.008));
    CHECK(own.build.making.mould.flange.value() == doctest::Approx(0.04));
    CHECK(own.build.making.mould.dowel.value() == 0.0);
    CHECK(!own.build.making.mould.wall);
    MakingChoices others;
    others.mould.flange = 0.03;
    others.mould.wall = 0.02;
    CHECK(own.build.making.or_else(others).mould.flange.value() == doctest::Approx(0.04));
    CHECK(own.build.making.or_else(others).mould.wall.value() == 0.02);
    // A hub that weighs takes its share: lighter blades.
    const BladeShape shape{Blade(own.description)};
    BladeBuild bare = own.build;
    bare.hub_mass.reset();
    const RotorInertia with = rotor_inertia(shape, known_mass(own.mass, own.build));
    const RotorInertia without = rotor_inertia(shape, known_mass(own.mass, bare));
    CHECK(with.mass == doctest::Approx(1.2));
    CHECK(with.hub_mass == doctest::Approx(0.3));
    CHECK(2.0 * with.blade_mass == doctest::Approx(0.9));
    CHECK(with.density != doctest::Approx(without.density));
    const auto laid = read(
                          "layup = [[\"carbon cloth\", \"0.25 mm\", \"45 deg\"], [\"carbon tape\", "
                          "\"0.3 mm\", \"15 deg\"]]\n")
                          .propellers[0];
    CHECK(laid.build.fill.skin == doctest::Approx(0.55e-3));
    CHECK(laid.build.material->bend_twist > 0.0);
    CHECK(laid.build.material->name == "your layup of 2 plies");
    const auto filled = read("skin = \"1.2 mm\"\ncore = \"balsa\"\n").propellers[0].build.fill;
    CHECK(filled.core == cores()[2]);
    const auto own_core = read(
                              "fill = \"40 %\"\ncore = {density = \"75 kg/m3\", modulus = \"70 "
                              "MPa\", shear_modulus = \"25 MPa\"}\n")
                              .propellers[0]
                              .build.fill;
    CHECK(own_core.core->name == "your core");
    CHECK(own_core.core->shear_modulus == doctest::Approx(25e6));
    for (const auto& slip :
         {std::pair<std::string, std::string>{"material = \"balsa\"\n", "case.toml:8:"},
          {"core = \"foam\"\n", "within a blade that is solid"},
          {"core = \"honeycomb\"\nskin = \"1 mm\"\n", "\"dense foam\""},
          {"core = {density = \"75 kg/m3\"}\nskin = \"1 mm\"\n", "shear_modulus = "},
          {"material = {modulus = \"12 GPa\"}\n", "density = \"690 kg/m3\""},
          {"material = {density = \"690 kg/m3\", modulus = \"-2 GPa\"}\n", "case.toml:8:"},
          {"material = {density = \"690 kg/m3\", modulus = \"12 GPa\", shear_modulus = \"13 "
           "GPa\"}\n",
           "not below the modulus"},
          {"material = {density = \"690 kg/m3\", modulus = \"12 GPa\", glue = 3}\n", "glue"},
          {"layup = 3\n", "not a list of plies"},
          {"layup = []\n", "not a list of plies"},
          {"layup = [[\"steel\", \"1 mm\", \"0 deg\"]]\n", "\"carbon tape\""},
          {"layup = [[\"carbon tape\", \"-1 mm\", \"0 deg\"]]\n", "thickness"},
          {"layup = [[\"carbon tape\", \"1 mm\", \"200 deg\"]]\n", "angle"},
          {"fill = \"40 %\"\nlayup = [[\"carbon tape\", \"1 mm\", \"0 deg\"]]\n",
           "fill beside layup"},
          {"skin = \"3 mm\"\nlayup = [[\"carbon tape\", \"1 mm\", \"0 deg\"]]\n",
           "skin beside layup"},
          {"material = {name = \"beech\", density = \"500 kg/m3\", modulus = \"9 GPa\"}\n",
           "a material of the list"},
          {"hub_bolts = {count = 24, tightening = \"14 N m\", diameter = \"12 mm\", circle = "
           "\"20 mm\"}\n",
           "do not stand beside each other"},
          {"hub_mass = \"1.3 kg\"\n", "the whole propeller 1.2 kg"},
          {"hub_bolts = {tightening = \"10 N m\", circle = \"75 mm\", plate = \"80 mm\"}\n",
           "does not reach round the bolts"},
          {"making = {plank = \"0 mm\"}\n", "plank"},
          {"making = {plank = \"-8 mm\"}\n", "plank"},
          {"making = {plank = \"nan mm\"}\n", "plank"},
          {"making = {plank = \"8 kg\"}\n", "plank"},
          {"making = {plank = \"9 m\"}\n", "plank"},
          {"making = {mould = \"30 mm\"}\n", "mould"},
          {"making = {mould = {wall = \"0 mm\"}}\n", "wall"},
          {"making = {mould = {from = \"-9 mm\"}}\n", "from"},
          {"making = {mould = {dowel = \"6 kg\"}}\n", "dowel"},
          {"making = {mould = {flange = \"nan mm\"}}\n", "flange"},
          {"making = {mould = {pull = \"9 deg\"}}\n", "pull"},
          {"making = {bore = \"70 mm\"}\nhub_bolts = {tightening = \"10 N m\", circle = \"75 "
           "mm\"}\n",
           "into the bolts' holes"}}) {
        CAPTURE(slip.first);
        const std::string message = said(slip.first);
        CHECK(message.find("case.toml:8:") == 0);
        CHECK(message.find(slip.second) != std::string::npos);
    }
}

TEST_CASE("readings: one for each number, with propeller, day and uncertainty") {
    const std::string text = R"(
[air]
elevation = "300 m"
[engine]
rated = "15.4 kW at 7900 rpm"
[drive]
ratio = 2.9
[craft]
all_up_mass = "134 kg"
trim_speed = "41 km/h"
glide_ratio = 7.0
[[propeller]]
name = "one"
diameter = "136 cm"
blades = 2
stations = [["13 cm", "8 cm", "28 deg"], ["40 cm", "8 cm", "15 deg"], ["67 cm", "4 cm", "9 deg"]]
[[propeller]]
name = "two"
diameter = "138 cm"
blades = 2
stations = [["13 cm", "8 cm", "28 deg"], ["40 cm", "8 cm", "15 deg"], ["68 cm", "4 cm", "9 deg"]]
[[reading]]
propeller = "two"
static_speed = "7700 rpm"
static_thrust = "71 kgf"
thrust_uncertainty = "3 kgf"
air = {elevation = "120 m", temperature = "11 degC", mass = "128 kg"}
[[reading]]
propeller = "one"
climb_rate = "570 ft/min"
cruise_speed = "6100 rpm"
speed_uncertainty = "60 rpm"
)";
    const Case c = parse_case(text, "readings.toml", airfoils);
    REQUIRE(c.readings.size() == 4);
    const FieldReading& turning = c.readings[0];
    CHECK(turning.what == Reads::static_speed);
    CHECK(turning.propeller == 1);
    CHECK(near(turning.value, 7700.0 * rpm, 1e-9));
    CHECK_FALSE(turning.uncertainty);
    REQUIRE(turning.when.day);
    CHECK(near(turning.when.day->elevation_m, 120.0, 1e-9));
    CHECK(near(*turning.when.mass, 128.0, 1e-9));
    const FieldReading& pulling = c.readings[1];
    CHECK(pulling.what == Reads::static_thrust);
    CHECK(near(pulling.value, 71.0 * 9.80665, 1e-9));
    CHECK(near(*pulling.uncertainty, 3.0 * 9.80665, 1e-9));
    const FieldReading& climbing = c.readings[2];
    CHECK(climbing.what == Reads::climb_rate);
    CHECK(climbing.propeller == 0);
    CHECK(near(climbing.value, 570.0 * 0.3048 / 60.0, 1e-9));
    CHECK_FALSE(climbing.uncertainty);
    CHECK_FALSE(climbing.when.day);
    CHECK(c.readings[3].what == Reads::cruise_speed);
    CHECK(near(*c.readings[3].uncertainty, 60.0 * rpm, 1e-9));

    // As many as may be, and one more.
    std::string many = text.substr(0, text.find("[[reading]]"));
    for (std::size_t i = 0; i < most::readings; ++i)
        many += "[[reading]]\npropeller = \"one\"\nstatic_speed = \"7700 rpm\"\n";
    CHECK(parse_case(many, "many.toml", airfoils).readings.size() == most::readings);
    many += "[[reading]]\npropeller = \"one\"\nstatic_speed = \"7700 rpm\"\n";
    CHECK_THROWS_AS(parse_case(many, "many.toml", airfoils), CaseError);
}
