// The commands as a user types them: exit statuses, text, and the keys of the JSON documents.

#include "cli/file.hpp"
#include "cli/page_link.hpp"
#include "cli/table.hpp"
#include "document.hpp"
#include "loadline/case/case.hpp"
#include "loadline/quantity/quantity.hpp"
#include "near.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;
using loadline::test::Json;
using loadline::test::json_of;
using loadline::test::lines_of;
using loadline::test::Ran;
using loadline::test::read;
using loadline::test::replaced;
using loadline::test::run;
using loadline::test::Scratch;

const std::string demo = LOADLINE_ROOT "/cases/demo.toml";
const std::string paraglider = LOADLINE_ROOT "/cases/paraglider.toml";

std::vector<std::string> keys_of(const Json& json) {
    std::vector<std::string> keys;
    for (const auto& [key, value] : json.items())
        keys.push_back(key);
    return keys;
}

bool has_keys(const Json& json, const std::vector<std::string>& keys) {
    return std::all_of(
        keys.begin(), keys.end(), [&](const std::string& key) { return json.contains(key); });
}

std::size_t widest_line(const std::string& text) {
    std::size_t widest = 0;
    for (const std::string& line : lines_of(text))
        widest = std::max(widest, loadline::cli::width_of(line));
    return widest;
}

// Lines of a page joined as they would be read.
std::string unwrapped(std::string text) {
    for (const char* broken : {"\n  ", "\n"})
        for (std::size_t at = text.find(broken); at != std::string::npos;
             at = text.find(broken, at))
            text.replace(at, std::string(broken).size(), " ");
    return text;
}

const std::vector<std::string> point_keys = {
    "airspeed_m_s",  "engine_rpm",     "propeller_rpm", "thrust_n", "torque_nm",
    "shaft_power_w", "engine_power_w", "efficiency",    "ct",       "cp",
    "advance_ratio", "tip_mach",       "stable",        "others",   "warnings",
    "limits"};

}  // namespace

TEST_CASE("match --json has the promised keys, standing still first") {
    const Json json = json_of({"match", demo, "--no-band"});
    CHECK(has_keys(json, {"air", "propellers"}));
    CHECK(json["air"]["density_kg_m3"].get<double>() > 0.5);
    REQUIRE(json["propellers"].size() == 3);
    for (const Json& propeller : json["propellers"]) {
        CHECK(propeller["name"].is_string());
        REQUIRE(propeller["points"].size() == 2);
        CHECK(propeller["points"][0]["airspeed_m_s"] == 0.0);
        // Equivalent airspeed: true at sea level, 1.225 kg/m3.
        CHECK(near(propeller["points"][1]["airspeed_m_s"],
                   68.0 / 3.6 * std::sqrt(1.225 / json["air"]["density_kg_m3"].get<double>()),
                   1e-5));
        for (const Json& point : propeller["points"]) {
            CHECK(has_keys(point, point_keys));
            const bool still = point["airspeed_m_s"] == 0.0;
            CHECK(keys_of(point).size() == point_keys.size() + (still ? 1U : 0U));
            CHECK(point.contains("figure_of_merit") == still);
            CHECK(point["warnings"].is_array());
            CHECK(point["others"].is_array());
            CHECK(point["stable"] == true);
        }
    }
}

TEST_CASE("the numbers of a match hang together") {
    const loadline::Case from = loadline::read_case(demo, {LOADLINE_ROOT "/airfoils"});
    const Json json = json_of({"match", demo});
    const double density = json["air"]["density_kg_m3"];
    for (std::size_t i = 0; i < 3; ++i) {
        const double diameter = from.propellers[i].description.diameter;
        for (const Json& p : json["propellers"][i]["points"]) {
            const auto get = [&](const char* key) {
                return p[key].get<double>();
            };
            const double n = get("propeller_rpm") / 60.0;
            CHECK(near(get("engine_rpm"), get("propeller_rpm") * from.drive->ratio, 0.0, 1e-12));
            CHECK(near(get("shaft_power_w"), get("torque_nm") * 2.0 * std::numbers::pi * n, 0.0,
                       1e-9));
            CHECK(near(get("shaft_power_w"), get("engine_power_w") * from.drive->efficiency, 0.0,
                       1e-6));
            CHECK(near(get("ct"), get("thrust_n") / (density * n * n * std::pow(diameter, 4)), 0.0,
                       1e-9));
            CHECK(near(get("cp"),
                       get("shaft_power_w") / (density * n * n * n * std::pow(diameter, 5)), 0.0,
                       1e-9));
            // In the craft's wake the propeller meets less.
            const double axial =
                get("airspeed_m_s") * (1.0 - from.craft->installation.wake_fraction);
            CHECK(near(get("advance_ratio"), axial / (n * diameter), 1e-12, 1e-9));
            CHECK(near(get("efficiency"), get("thrust_n") * axial / get("shaft_power_w"), 1e-12,
                       1e-9));
        }
    }
}

TEST_CASE("the demo is a plausible case: the coarser propeller loads the engine down") {
    const Json json = json_of({"match", demo});
    const auto still = [&](std::size_t i, const char* key) {
        return json["propellers"][i]["points"][0][key].get<double>();
    };
    CHECK(still(0, "engine_rpm") > 6200.0);
    CHECK(still(0, "engine_rpm") < 6600.0);
    CHECK(still(0, "thrust_n") > 1400.0);
    CHECK(still(0, "thrust_n") < 1900.0);
    CHECK(still(1, "engine_rpm") < still(0, "engine_rpm") - 100.0);
    const Ran ran = run({"match", demo});
    CHECK(ran.out.find("loads the engine down by") != std::string::npos);
    CHECK(ran.out.find("Caution") != std::string::npos);
}

TEST_CASE("what a page says first: limits in the headline, thrust left, one note for all") {
    const Json json = json_of({"match", demo});
    const Json& first = json["propellers"][0]["points"];
    // All-up mass 385 kg at glide ratio 6.2, g = 9.80665 m/s2.
    CHECK(near(json["craft"]["level_thrust_n"], 385.0 * 9.80665 / 6.2, 1e-9));
    // The propeller flown now is not likely to pass a limit itself.
    REQUIRE(json["verdicts"].size() == 2);
    const double figure = first[0]["figure_of_merit"];
    const double area = std::numbers::pi * 0.86 * 0.86;
    CHECK(near(figure,
               std::pow(first[0]["thrust_n"].get<double>(), 1.5) /
                   (first[0]["shaft_power_w"].get<double>() *
                    std::sqrt(2.0 * json["air"]["density_kg_m3"].get<double>() * area)),
               1e-9));

    const std::string out = unwrapped(run({"match", demo}).out);
    CHECK(out.find("below the torque peak; it pulls") != std::string::npos);
    CHECK(out.find(fmt::format("Larch 172 leaves {:.0f} N to climb with",
                               0.92 * first[1]["thrust_n"].get<double>() -
                                   385.0 * 9.80665 / 6.2)) != std::string::npos);
    CHECK(out.find("figure") != std::string::npos);
    const std::string note = "higher Reynolds numbers";
    const std::size_t about = out.find("About the case:");
    REQUIRE(about != std::string::npos);
    CHECK(out.find(note) > about);
    CHECK(out.find(note) == out.rfind(note));
    CHECK(first[0]["warnings"].dump().find("Reynolds number above") != std::string::npos);

    const Scratch scratch;
    std::string text = replaced(read(demo), "rpm_limit = \"6800 rpm\"", "rpm_limit = \"5900 rpm\"");
    const std::string over = run({"match", scratch.write("a.toml", text)}).out;
    CHECK(unwrapped(over).find("\"Larch 172\" itself turns the engine") != std::string::npos);
    CHECK(unwrapped(over).find("rpm over the maker's limit") != std::string::npos);
    text = replaced(text, "humidity = \"40 %\"\n", "");
    text = replaced(text, "\"22.6 deg\"", "\"71.5 deg\"");
    text = replaced(text, "ratio = 3.0", "teeth = [61, 19]");
    text = replaced(text, "all_up_mass = \"385 kg\"", "all_up_mass = \"985 kg\"");
    const Ran odd = run({"match", scratch.write("b.toml", text)});
    CHECK(unwrapped(odd.out).find("dry air (no humidity given)") != std::string::npos);
    CHECK(unwrapped(odd.out).find("the angle 71.5 deg stands out from its neighbours") !=
          std::string::npos);
    CHECK(unwrapped(odd.out).find("61 driving 19 makes the propeller turn 3.2 times") !=
          std::string::npos);
    const Ran heavy = run(
        {"match", scratch.write("c.toml", replaced(text, "teeth = [61, 19]", "teeth = [19, 61]"))});
    CHECK(heavy.out.find("short of it") != std::string::npos);
}

TEST_CASE("a curve says which rows brake and how fast each is") {
    const Json json = json_of({"curve", demo, "--rpm", "2100", "--advance-ratio", "0.5,1.0"});
    CHECK(near(json["points"][0]["airspeed_m_s"], 0.5 * 35.0 * 1.72, 1e-9));
    const std::string said = "below zero the propeller brakes";
    CHECK(run({"curve", demo, "--advance-ratio", "0.5,1.0"}).out.find(said) != std::string::npos);
    const std::string pulling = run({"curve", demo}).out;
    CHECK(pulling.find(said) == std::string::npos);
    CHECK(pulling.find("J =") == std::string::npos);
}

TEST_CASE("named speeds and a named propeller") {
    const Json json = json_of({"match", demo, "--speeds", "0, 10, 14 m/s", "--propeller",
                               "Larch 172 coarse", "--no-band"});
    REQUIRE(json["propellers"].size() == 1);
    CHECK(json["propellers"][0]["name"] == "Larch 172 coarse");
    const Json& points = json["propellers"][0]["points"];
    REQUIRE(points.size() == 3);
    CHECK(points[0]["airspeed_m_s"] == 0.0);
    CHECK(points[1]["airspeed_m_s"] == 10.0);
    CHECK(points[2]["airspeed_m_s"] == 14.0);
    // Alone or among others, a propeller has the same answer.
    const Json all = json_of({"match", demo, "--speeds", "0, 10, 14 m/s", "--no-band"});
    CHECK(all["propellers"][1] == json["propellers"][0]);
    CHECK(json_of({"match", demo,
                   "--speeds=36 km/h"})["propellers"][0]["points"][0]["airspeed_m_s"] == 10.0);
}

TEST_CASE("every number has its band, and differences say how sure they are") {
    const Json json = json_of({"match", demo});
    for (const Json& propeller : json["propellers"]) {
        for (const Json& point : propeller["points"]) {
            for (const std::string key :
                 {"engine_rpm", "propeller_rpm", "thrust_n", "torque_nm", "shaft_power_w",
                  "engine_power_w", "efficiency", "ct", "cp"}) {
                CAPTURE(key);
                CHECK(point[key + "_low"].get<double>() <= point[key].get<double>());
                CHECK(point[key + "_high"].get<double>() >= point[key].get<double>());
            }
        }
    }
    CHECK_FALSE(json["propellers"][0].contains("against_first"));
    const Json& faster = json["propellers"][1]["against_first"]["engine_rpm"];
    CHECK(faster["value"].get<double>() < 0.0);
    CHECK(faster["low"].get<double>() < faster["value"].get<double>());
    CHECK(faster["high"].get<double>() > faster["value"].get<double>());
    CHECK(faster["probability_positive"].get<double>() < 0.05);
    // The same on every run.
    CHECK(json == json_of({"match", demo}));
    const Ran text = run({"match", demo});
    CHECK(text.out.find("nine in ten") != std::string::npos);
    CHECK(run({"match", demo, "--no-band"}).out.find("nine in ten") == std::string::npos);
    const Json curve = json_of({"curve", demo});
    for (const Json& point : curve["points"]) {
        CHECK(point["ct_low"].get<double>() <= point["ct"].get<double>());
        CHECK(point["ct_high"].get<double>() >= point["ct"].get<double>());
    }
    CHECK_FALSE(json_of({"curve", demo, "--no-band"})["points"][0].contains("ct_low"));
}

TEST_CASE("measured points are laid over the curve") {
    const std::string folder = std::string(LOADLINE_ROOT) + "/cases/";
    const std::vector<std::string> asked = {"curve", folder + "measured.toml", "--against",
                                            folder + "measured-points.csv"};
    const Ran text = run(asked);
    CHECK(text.status == 0);
    CHECK(text.err.empty());
    CHECK(widest_line(text.out) <= 80);
    CHECK(text.out.find("o measured") != std::string::npos);
    std::vector<std::string> document = asked;
    document.push_back("--json");
    const Json json = json_of(document);
    REQUIRE(json["points"].size() == 12);
    CHECK(json["points"][0]["measured_ct"] == 0.186);
    CHECK(json["mean_error_ct"].get<double>() < 0.05);
    CHECK(json["mean_error_cp"].get<double>() < 0.05);
    // What is wrong with such a file is said like any other fault.
    const Ran missing = run({"curve", demo, "--against", "no-such.csv"});
    CHECK(missing.status == 2);
    CHECK(missing.out.empty());
    const Ran wrong = run({"curve", demo, "--against", demo});
    CHECK(wrong.status == 2);
    CHECK(wrong.err.find("demo.toml:") != std::string::npos);
    CHECK(
        run({"curve", demo, "--against", folder + "measured-points.csv", "--advance-ratio", "0.3"})
            .status == 2);
}

TEST_CASE("text fits 80 columns and has no value that is not a number" *
          doctest::test_suite("answers")) {
    for (const std::string& file : {demo, paraglider}) {
        for (const char* command : {"match", "curve"}) {
            for (const char* units : {"metric", "imperial"}) {
                const Ran ran = run({command, file, "--units", units});
                INFO(command, " ", file, " ", units, "\n", ran.out);
                CHECK(ran.status == 0);
                CHECK(ran.err.empty());
                CHECK(widest_line(ran.out) <= 80);
                CHECK(ran.out.find("nan") == std::string::npos);
                CHECK(ran.out.find("inf ") == std::string::npos);
                CHECK(ran.out.find("\t") == std::string::npos);
            }
        }
    }
    const Ran sections = run({"sections"});
    CHECK(sections.status == 0);
    CHECK(widest_line(sections.out) <= 80);
    CHECK(sections.out.find("clark-y") != std::string::npos);
    for (const char* command : {"match", "curve", "sections", "new"}) {
        const Ran help = run({command, "--help"});
        CHECK(help.status == 0);
        CHECK(help.err.empty());
        CHECK(widest_line(help.out) <= 80);
        CHECK(help.out.find("Example: loadline ") != std::string::npos);
    }
    CHECK(widest_line(run({"--help"}).out) <= 80);
}

TEST_CASE("long names are wrapped, not cut") {
    const Scratch scratch;
    const std::string name = "a propeller with a name that goes on and on, écrit à la main, ÅÄÖ";
    const std::string file =
        scratch.write("a.toml", replaced(read(demo), "\"Larch 172\"", "\"" + name + "\""));
    const Ran ran = run({"match", file});
    CHECK(ran.status == 0);
    CHECK(widest_line(ran.out) <= 80);
    CHECK(ran.out.find("ÅÄÖ") != std::string::npos);
}

TEST_CASE("imperial units change the text, not the document") {
    const Ran imperial = run({"match", demo, "--units", "imperial"});
    for (const char* unit : {"lbf", "ft lbf", "hp", "mph", "degF", "4068 ft"}) {
        INFO(unit);
        CHECK(imperial.out.find(unit) != std::string::npos);
    }
    CHECK(imperial.out.find(" kW") == std::string::npos);
    CHECK(run({"match", demo, "--json", "--units", "imperial"}).out ==
          run({"match", demo, "--json"}).out);
    const Ran metric = run({"match", demo});
    CHECK(metric.out.find("lbf") == std::string::npos);
    // 1 lbf is 4.4482216152605 N exactly (NIST SP 811, 2008, appendix B.8).
    const double newton = json_of({"match", demo})["propellers"][0]["points"][0]["thrust_n"];
    CHECK(imperial.out.find(fmt::format("{:.1f}", newton / 4.4482216152605)) != std::string::npos);
}

TEST_CASE("curve --json has the promised keys and points") {
    const Json json = json_of({"curve", demo, "--rpm", "2100", "--advance-ratio", "0,0.1,0.2",
                               "--propeller", "Larch 172"});
    CHECK(has_keys(json, {"propeller", "diameter_m", "blades", "propeller_rpm", "points"}));
    CHECK(json["propeller"] == "Larch 172");
    CHECK(near(json["diameter_m"], 1.72, 1e-12));
    CHECK(json["blades"] == 2);
    CHECK(near(json["propeller_rpm"], 2100.0, 1e-9));
    REQUIRE(json["points"].size() == 3);
    const std::vector<double> ratios = {0.0, 0.1, 0.2};
    for (std::size_t i = 0; i < 3; ++i) {
        const Json& point = json["points"][i];
        CHECK(has_keys(point, {"advance_ratio", "ct", "cp", "efficiency", "thrust_n", "torque_nm",
                               "power_w", "converged"}));
        CHECK(point["advance_ratio"] == ratios[i]);
        CHECK(point["converged"] == true);
        CHECK(near(point["power_w"],
                   point["torque_nm"].get<double>() * 2100.0 / 30.0 * std::numbers::pi, 0.0, 1e-9));
    }
    CHECK(json_of({"curve", demo, "--rpm", "2100 rpm", "--advance-ratio",
                   " 0, 0.1 ,0.2"})["points"] == json["points"]);
}

TEST_CASE("curve without numbers sweeps to zero thrust at the speed of the match") {
    const Json curve = json_of({"curve", demo});
    const Json match = json_of({"match", demo});
    CHECK(near(curve["propeller_rpm"], match["propellers"][0]["points"][0]["propeller_rpm"], 0.0,
               1e-9));
    CHECK(near(curve["points"][0]["thrust_n"], match["propellers"][0]["points"][0]["thrust_n"], 0.0,
               1e-6));
    CHECK(curve["points"].size() > 10);
    const double last = curve["points"].back()["advance_ratio"];
    CHECK(near(curve["zero_thrust_advance_ratio"], last, 1e-9));
    CHECK(near(curve["points"].back()["ct"], 0.0, 1e-6));

    // Without an engine: tips at half the speed of sound.
    const Scratch scratch;
    const std::string text = read(demo);
    const std::size_t engine = text.find("[engine]");
    const std::size_t craft = text.find("[craft]");
    const std::string file = scratch.write("a.toml", text.substr(0, engine) + text.substr(craft));
    const Json alone = json_of({"curve", file});
    const loadline::Case from = loadline::read_case(file, {LOADLINE_ROOT "/airfoils"});
    const double sound = loadline::air_at_field(from.day).sound_speed;
    CHECK(near(alone["propeller_rpm"].get<double>() / 60.0 * std::numbers::pi * 1.72, 0.5 * sound,
               0.0, 1e-9));
    const Ran match_alone = run({"match", file});
    CHECK(match_alone.status == 2);
    CHECK(match_alone.out.empty());
    CHECK(match_alone.err.find("[engine]") != std::string::npos);
    CHECK(match_alone.err.find("[drive]") != std::string::npos);
}

TEST_CASE("an engine that cannot turn its propeller is an answer: status 1, null, and why") {
    const Scratch scratch;
    const std::string file =
        scratch.write("a.toml", replaced(read(demo), "ratio = 3.0", "ratio = 0.5"));
    const Ran text = run({"match", file});
    CHECK(text.status == 1);
    CHECK(text.err.find("agree on no speed") != std::string::npos);
    CHECK(text.out.find("cannot spin up") != std::string::npos);
    CHECK(widest_line(text.out) <= 80);
    const Ran ran = run({"match", file, "--json"});
    CHECK(ran.status == 1);
    const Json json = Json::parse(ran.out);
    for (const Json& propeller : json["propellers"]) {
        for (const Json& point : propeller["points"]) {
            CHECK(has_keys(point, point_keys));
            CHECK(point["engine_rpm"].is_null());
            CHECK(point["thrust_n"].is_null());
            CHECK_FALSE(point["warnings"].empty());
        }
    }
    // The curve asks no engine.
    CHECK(run({"curve", file, "--rpm", "2000"}).status == 0);
    const Json fallen_back = json_of({"curve", file});
    CHECK(fallen_back["notes"].dump().find("agree on no speed") != std::string::npos);
}

TEST_CASE("sections --json lists every folder of airfoils with its provenance") {
    const Json json = json_of({"sections"});
    std::vector<std::string> names;
    for (const Json& section : json["sections"]) {
        names.push_back(section["name"]);
        CHECK(section["thickness"].get<double>() > 0.005);
        CHECK_FALSE(section["reynolds"].empty());
        CHECK(section["alpha_from_rad"].get<double>() < section["alpha_to_rad"].get<double>());
        CHECK_FALSE(section["source"].empty());
    }
    CHECK(std::is_sorted(names.begin(), names.end()));
    std::size_t folders = 0;
    for (const auto& entry : fs::directory_iterator(LOADLINE_ROOT "/airfoils"))
        folders += fs::exists(entry.path() / "section.csv") ? 1U : 0U;
    CHECK(names.size() == folders);
    CHECK(std::count(names.begin(), names.end(), "clark-y") == 1);
}

TEST_CASE("--airfoils adds a folder that goes before the others") {
    const Scratch scratch;
    static_cast<void>(scratch.write(
        "my-section/section.csv",
        "# publication: invented figures\nreynolds,alpha_deg,cl,cd\n"
        "500000,-4,-0.1,0.02\n500000,0,0.35,0.015\n500000,6,0.95,0.02\n500000,12,1.3,0.05\n"));
    const std::string text = run({"sections", "--airfoils", scratch.folder().string()}).out;
    CHECK(text.find("my-section") != std::string::npos);
    CHECK(text.find("invented figures") != std::string::npos);
    const std::string file =
        scratch.write("a.toml", replaced(read(demo), "\"clark-y\"", "\"my-section\""));
    CHECK(run({"match", file}).status == 0);  // beside the case
    const Scratch elsewhere;
    const std::string other = elsewhere.write("a.toml", read(file));
    CHECK(run({"match", other}).status == 2);
    CHECK(run({"match", other, "--airfoils", scratch.folder().string()}).status == 0);
    CHECK(run({"match", other, "--airfoils", "/no/such/folder"}).status == 2);
}

TEST_CASE("new writes a case that runs as it is") {
    const Scratch scratch;
    const std::string file = (scratch.folder() / "my case.toml").string();
    const Ran written = run({"new", file});
    CHECK(written.status == 0);
    CHECK(written.out.ends_with(fmt::format("run: loadline match '{}'\n", file)));
    CHECK(read(file) == loadline::new_case_text());
    CHECK(run({"new"}).out == loadline::new_case_text());
    CHECK(Json::parse(run({"new", "--json"}).out)["text"] == loadline::new_case_text());
    const Json json = json_of({"match", file});
    CHECK(json["propellers"].size() == 2);
    // More blade angle, fewer turns.
    CHECK(json["propellers"][1]["points"][0]["engine_rpm"].get<double>() <
          json["propellers"][0]["points"][0]["engine_rpm"].get<double>());
    CHECK(run({"match", file}).status == 0);
    CHECK(run({"curve", file}).status == 0);

    const Ran again = run({"new", file});
    CHECK(again.status == 2);
    CHECK(again.err.find("--force") != std::string::npos);
    std::ofstream(file) << "changed\n";
    CHECK(run({"new", file, "--force"}).status == 0);
    CHECK(read(file) == loadline::new_case_text());
    CHECK(scratch.files() == 1);
}

TEST_CASE("README shows what match, fit and compare print" * doctest::test_suite("answers")) {
    const std::string shown = read(LOADLINE_ROOT "/README.md");
    const auto indented = [](const std::string& text) {
        std::string out, line;
        for (std::istringstream lines(text); std::getline(lines, line);)
            out += (line.empty() ? "" : "    " + line) + "\n";
        return out;
    };
    CHECK(shown.find(indented(run({"match", demo}).out)) != std::string::npos);
    const std::string taught = run({"fit", LOADLINE_ROOT "/cases/readings.toml"}).out;
    const std::size_t from = taught.find("propeller         reading");
    REQUIRE(from != std::string::npos);
    CHECK(shown.find(indented(taught.substr(from, taught.find("\nswept") - from) + "\n")) !=
          std::string::npos);
    const std::string which = run({"compare", paraglider}).out;
    const std::size_t first = which.find("\n\n") + 2;
    CHECK(shown.find(indented(which.substr(first, which.find("\n\n", first) - first) + "\n")) !=
          std::string::npos);
}

TEST_CASE("a file is named as it is typed in a shell") {
    using loadline::cli::as_typed;
    const std::vector<std::pair<std::string, std::string>> typed = {
        {"my-case.toml", "my-case.toml"},
        {"a/b_2.toml", "a/b_2.toml"},
        {"Größe.toml", "Größe.toml"},
        {"my case.toml", "'my case.toml'"},
        {"it's.toml", "'it'\\''s.toml'"},
        {"$(ls).toml", "'$(ls).toml'"},
        {"a;b", "'a;b'"},
        {"~/c.toml", "'~/c.toml'"},
        {"#c.toml", "'#c.toml'"},
        {"-c.toml", "./-c.toml"},
        {"- c.toml", "'./- c.toml'"},
        {"-", "-"}};
    for (const auto& one : typed)
        CHECK(as_typed(one.first) == one.second);
    // Where a command is suggested, a name is one word of it.
    const Scratch scratch;
    const std::string file = scratch.write("my case.toml", read(demo));
    const Ran sheet = run({"blade", file, "--worksheet"});
    CHECK(sheet.out.find(fmt::format("loadline blade '{}' --measured FILE.csv\n", file)) !=
          std::string::npos);
    const std::string page = (scratch.folder() / "my page.html").string();
    CHECK(run({"match", file, "--no-band", "--page", page}).err ==
          fmt::format("loadline match: wrote '{}'\n", page));
}

TEST_CASE("a long comparison says on a terminal how far it is, to its end, and leaves nothing" *
          doctest::test_suite("answers")) {
    // Many of them adjustable, whose angles take longest.
    std::string text = read(paraglider);
    const std::string first = text.substr(text.find("[[propeller]]"));
    const std::string one = first.substr(0, first.find("[[propeller]]", 5));
    for (int k = 0; k < 18; ++k)
        text += replaced(replaced(one, "name = \"", fmt::format("name = \"{} ", k)), "blades",
                         "adjustable = true\nblades");
    const Scratch scratch;
    const std::string file = scratch.write("many.toml", text);
    const int terminal = ::posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
    REQUIRE(terminal >= 0);
    REQUIRE(::grantpt(terminal) == 0);
    REQUIRE(::unlockpt(terminal) == 0);
    const std::string command = fmt::format("\"{}\" compare --draws 400 \"{}\" > /dev/null 2> {}",
                                            LOADLINE_BINARY, file, ::ptsname(terminal));
    const int kept = ::open(::ptsname(terminal), O_RDWR | O_NOCTTY);  // what is said waits there
    CHECK(std::system(command.c_str()) == 0);
    std::string said(100'000, '\0');
    const auto read_there = ::read(terminal, said.data(), said.size());
    ::close(kept);
    ::close(terminal);
    REQUIRE(read_there > 0);
    said.resize(static_cast<std::size_t>(read_there));
    INFO(said);
    const std::size_t last = said.rfind("comparing: ");
    REQUIRE(last != std::string::npos);
    CHECK(std::stoi(said.substr(last + 11)) > 80);
    CHECK(said.ends_with("\r"));
    // Not where it would stand in a file.
    CHECK(run({"compare", paraglider, "--no-band"}).err.empty());
}

TEST_CASE("fewer draws give nearly the same ranges, and say so" * doctest::test_suite("answers")) {
    const auto all = json_of({"compare", paraglider, "--no-angles"});
    const auto few = json_of({"compare", paraglider, "--no-angles", "--draws", "400"});
    CHECK(few["notes"].dump().find("400 draws instead of 2000") != std::string::npos);
    CHECK(all["notes"].dump().find("draws instead") == std::string::npos);
    std::size_t compared = 0;
    for (std::size_t i = 0; i < all["differences"].size(); ++i) {
        for (const auto& quantity : all["differences"][i]["quantities"].items()) {
            const std::string& key = quantity.key();
            const auto& range = quantity.value();
            const auto& other = few["differences"][i]["quantities"][key];
            if (!range.contains("low") || range["low"].is_null())
                continue;
            INFO(key);
            const double low = range["low"], high = range["high"], width = high - low;
            CHECK(std::abs(double(other["low"]) - low) <= 0.1 * width);
            CHECK(std::abs(double(other["high"]) - high) <= 0.1 * width);
            CHECK(other["value"] == range["value"]);
            ++compared;
        }
    }
    CHECK(compared >= 20);
    CHECK(
        run({"compare", paraglider, "--no-angles", "--no-band"}).out.find("coarser is positive") ==
        std::string::npos);
}

TEST_CASE("a page leads to the one page beside it, with its case") {
    const Scratch scratch;
    const std::string page = (scratch.folder() / "answer.html").string();
    const std::vector<std::string> words = {"match", demo, "--no-band", "--page", page};
    REQUIRE(run(words).status == 0);
    CHECK(read(page).find("Change this") == std::string::npos);
    static_cast<void>(scratch.write("loadline.html", "<!DOCTYPE html>\n"));
    REQUIRE(run(words).status == 0);
    CHECK(read(page).find("href=\"loadline.html#q=match&amp;t=" +
                          loadline::cli::base64(read(demo), true) + "\"") != std::string::npos);
    // RFC 4648, section 10; and the two letters that an address takes others for.
    CHECK(loadline::cli::base64("foobar", false) == "Zm9vYmFy");
    CHECK(loadline::cli::base64("fooba", false) == "Zm9vYmE=");
    CHECK(loadline::cli::base64("foob", true) == "Zm9vYg");
    CHECK(loadline::cli::base64("\xfb\xff", false) == "+/8=");
    CHECK(loadline::cli::base64("\xfb\xff", true) == "-_8");
}

TEST_CASE("a wrong command line is refused with a way out, and nothing is printed") {
    const std::vector<std::pair<std::vector<std::string>, std::string>> wrong = {
        {{}, "Usage"},
        {{"mtach", demo}, "match"},
        {{"fly"}, "curve, lesson, fit, sections, blade, design, trial or new"},
        {{"--jsno"}, "--help"},
        {{"match"}, "CASE"},
        {{"match", demo, "--jsno"}, "--json"},
        {{"match", demo, demo}, "one case at a time"},
        {{"match", ""}, "file name is empty"},
        {{"new", ""}, "file name is empty"},
        {{"new", "--units", "imperial"}, "metric case"},
        {{"match", demo, "--speeds", "0,", "10", "m/s"}, "in quotes"},
        {{"match", demo, "--speeds", "10,5 m/s"}, "\"10.5 m/s\", or \"10, 5 m/s\""},
        {{"curve", demo, "--advance-ratio", "0,2"}, "may be one number or two"},
        {{"match", demo, "--rpm", "2000"}, "not understood"},
        {{"match", demo, "--units", "cubits"}, "metric or imperial"},
        {{"match", demo, "--units"}, "--units"},
        {{"match", demo, "--propeller", "Lärch 172"}, "Larch 172"},
        {{"match", demo, "--propeller", ""}, "the names are"},
        {{"match", demo, "--speeds", "0, 10"}, "m/s"},
        {{"match", demo, "--speeds", "10 kg"}, "unit of mass"},
        {{"match", demo, "--speeds", "-10 m/s"}, ""},
        {{"match", demo, "--speeds=-10 m/s"}, "from 0"},
        {{"match", demo, "--speeds", "1e9 m/s"}, "from 0"},
        {{"match", demo, "--speeds", ""}, "--speeds"},
        {{"curve", demo, "--rpm", "0"}, "out of range"},
        {{"curve", demo, "--rpm", "nan"}, "--rpm"},
        {{"curve", demo, "--rpm", "fast"}, "--rpm"},
        {{"curve", demo, "--rpm", "1e9"}, "out of range"},
        {{"curve", demo, "--rpm", "2000 m/s"}, "unit of speed"},
        {{"curve", demo, "--advance-ratio", "0,,1"}, "--advance-ratio"},
        {{"curve", demo, "--advance-ratio", "-0.1"}, ""},
        {{"curve", demo, "--advance-ratio=-0.1"}, "--advance-ratio"},
        {{"curve", demo, "--advance-ratio", "inf"}, "--advance-ratio"},
        {{"curve", demo, "--rpm", "2000", "--rpm", "2100"}, "--rpm"},
        {{"new", demo}, "--force"},
        {{"new", "-"}, "leave it out"},
        {{"match", demo, "--no-band", "--page", "-"}, "answer.html"},
        {{"blade", demo, "--worksheet", "--svg", "-"}, "blade.svg"},
        {{"design", demo, "--units", "imperial"}, "millimetres"},
        {{"design", demo, "--out", "-"}, "designed.toml"},
        {{"design", "-", "--out", "designed.toml"}, "save the case first"},
        {{"design", demo, "--force"}, "leave it out"},
        {{"compare", demo, "--draws", "100"}, "from 200 to 2000"},
        {{"compare", demo, "--draws", "many"}, "from 200 to 2000"},
    };
    for (const auto& line : wrong) {
        // Not a structured binding: the message below is made in a lambda.
        const std::vector<std::string>& args = line.first;
        const std::string& words = line.second;
        const Ran ran = run(args);
        INFO(fmt::format("{}", args.empty() ? "(nothing)" : args.back()), "\n", ran.err);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(ran.err.find(words) != std::string::npos);
        CHECK(ran.err.ends_with("\n"));
        if (!args.empty()) {
            CHECK(ran.err.starts_with("loadline"));
            CHECK(ran.err.find("; ") != std::string::npos);
            CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
        }
    }
    CHECK(read(demo).starts_with("#"));
}

TEST_CASE("help and version") {
    CHECK(run({"--help"}).status == 0);
    CHECK(run({"--version"}).out.starts_with("loadline 0"));
    for (const char* command : {"match", "curve", "sections", "new"})
        CHECK(run({"--help"}).out.find(command) != std::string::npos);
}

TEST_CASE("the same command line gives the same bytes") {
    CHECK(run({"match", demo}).out == run({"match", demo}).out);
    CHECK(run({"curve", demo, "--json"}).out == run({"curve", demo, "--json"}).out);
}

TEST_CASE("an answer that cannot be written is not passed over in silence") {
    std::ofstream full("/dev/full");
    if (!full) {
        fmt::print("skipped: this system has no /dev/full\n");
        return;
    }
    std::ostringstream err;
    CHECK(loadline::cli::run({"sections"}, full, err) == 2);
    CHECK(err.str().find("could not be written") != std::string::npos);
}

TEST_CASE("the built program answers like the function") {
    const Scratch scratch;
    const std::string to = (scratch.folder() / "out").string();
    const auto shell = [&](const std::string& rest) {
        const int raw = std::system((std::string("'") + LOADLINE_BINARY + "' " + rest).c_str());
        return raw / 256;
    };
    CHECK(shell("match '" + demo + "' --json > '" + to + "'") == 0);
    CHECK(read(to) == run({"match", demo, "--json"}).out);
    CHECK(shell("match /no/such.toml > '" + to + "' 2>/dev/null") == 2);
    CHECK(read(to).empty());
    CHECK(shell("> '" + to + "' 2>/dev/null") == 2);
}

TEST_CASE("tables keep their columns apart and wrap the first") {
    using loadline::cli::table;
    CHECK(table({{{"name"}, ""}, {{"engine", "speed"}, "rpm"}}, {{"Bär", "6180"}, {"B", "90"}}) ==
          "      engine\n"
          "name   speed\n"
          "         rpm\n"
          "Bär     6180\n"
          "B         90\n");
    const std::string wide = table({{{"name"}, ""}, {{"x"}, ""}}, {{std::string(200, 'w'), "1"}});
    CHECK(widest_line(wide) <= 80);
    CHECK(std::count(wide.begin(), wide.end(), 'w') == 200);
    CHECK(loadline::cli::wrapped("one two", "- ") == "- one two\n");
    CHECK(loadline::cli::wrapped("") == "\n");
}

namespace {

// Every number of a document is finite: NaN and infinity would have become null with a warning.
void check_numbers(const Json& json, const std::string& path = "") {
    if (json.is_structured()) {
        for (const auto& [key, value] : json.items())
            check_numbers(value, path + "/" + key);
    } else if (json.is_number()) {
        INFO(path);
        CHECK(std::isfinite(json.get<double>()));
    }
}

}  // namespace

TEST_CASE("compare: the promised document" * doctest::test_suite("answers")) {
    const Json json = json_of({"compare", paraglider});
    REQUIRE(json["propellers"].size() == 3);
    check_numbers(json);
    for (const Json& p : json["propellers"]) {
        CHECK(has_keys(p, {"name", "static", "cruise", "climb", "spool_up_s", "inertia_kg_m2",
                           "tip_mach", "warnings"}));
        CHECK(has_keys(p["static"], {"airspeed_m_s", "engine_rpm", "propeller_rpm", "thrust_n",
                                     "torque_nm", "shaft_power_w", "engine_power_w", "tip_mach"}));
        CHECK(has_keys(p["cruise"], {"engine_rpm", "throttle", "fuel_l_h", "head_temperature_c",
                                     "noise_dba", "fuel_l_h_low", "fuel_l_h_high"}));
        CHECK(has_keys(p["climb"], {"rate_m_s", "engine_rpm_bottom", "engine_rpm_middle",
                                    "engine_rpm_top", "band_time_s", "head_temperature_c"}));
        const double low = p["climb"]["rate_m_s_low"];
        const double high = p["climb"]["rate_m_s_high"];
        const double rate = p["climb"]["rate_m_s"];
        CHECK(low < rate);
        CHECK(rate < high);
        CHECK(p["climb"]["engine_rpm_bottom"] > p["climb"]["engine_rpm_top"]);
    }
    // Static figures are those of match.
    const Json match = json_of({"match", paraglider, "--no-band", "--speeds", "0 m/s"});
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(near(json["propellers"][i]["static"]["thrust_n"],
                   match["propellers"][i]["points"][0]["thrust_n"], 1e-3));
        CHECK(near(json["propellers"][i]["static"]["engine_rpm"],
                   match["propellers"][i]["points"][0]["engine_rpm"], 1e-3));
    }
    REQUIRE(json["differences"].size() == 2);
    for (const Json& d : json["differences"]) {
        CHECK(d["against"] == "Alder 136");
        const Json& climb = d["quantities"]["climb_rate_m_s"];
        CHECK(has_keys(climb, {"value", "low", "high", "probability_positive"}));
    }
    // Values and differences tell the same.
    CHECK(near(json["propellers"][1]["climb"]["rate_m_s"].get<double>() -
                   json["propellers"][0]["climb"]["rate_m_s"].get<double>(),
               json["differences"][0]["quantities"]["climb_rate_m_s"]["value"], 1e-9));
    CHECK(json["verdict"].size() >= 3);
    // What was read with the first propeller comes back.
    CHECK(near(json["propellers"][0]["cruise"]["fuel_l_h"], 3.6, 1e-9));
    CHECK(near(json["propellers"][0]["climb"]["head_temperature_c"], 186.0, 1e-9));
    // One is adjustable.
    REQUIRE(json["blade_angles"].size() == 1);
    CHECK(json["blade_angles"][0]["rows"].size() == 9);
}

TEST_CASE("compare: one screen of text, in both systems of units" *
          doctest::test_suite("answers")) {
    for (const char* units : {"metric", "imperial"}) {
        const Ran ran = run({"compare", paraglider, "--units", units});
        CHECK(ran.status == 0);
        CHECK(ran.err.empty());
        CHECK(widest_line(ran.out) <= 100);
        CHECK(ran.out.find("nan") == std::string::npos);
        CHECK(ran.out.find("Caution") != std::string::npos);
        CHECK(ran.out.find("A \"Alder 141 fine\": ") != std::string::npos);
        const bool metric = std::string(units) == "metric";
        CHECK((ran.out.find("m/s worse") != std::string::npos) == metric);
        CHECK((ran.out.find("ft/min worse") != std::string::npos) != metric);
    }
    const Ran bare = run({"compare", demo, "--no-band"});
    CHECK(bare.status == 0);
    CHECK(bare.out.find("nine in ten") == std::string::npos);
}

TEST_CASE("compare: wishes are answered in the units asked for" * doctest::test_suite("answers")) {
    const Scratch scratch;
    const std::string path = scratch.write(
        "case.toml", replaced(read(paraglider), "climb_at_least = \"2.6 m/s\"",
                              "climb_at_least = \"900 ft/min\"\nfuel_at_most = \"0.1 gal(US)/h\"\n"
                              "head_at_most = \"212 degF\""));
    const auto text = [&](const char* units) {
        std::string out = run({"compare", path, "--no-band", "--units", units}).out;
        std::replace(out.begin(), out.end(), '\n', ' ');
        while (out.find("  ") != std::string::npos) {
            out = replaced(out, "  ", " ");
        }
        return out;
    };
    const std::string imperial = text("imperial");
    for (const char* said :
         {"ft/min, less than the 900 wished", "gal(US)/h, more than the 0.10 wished",
          "degF, more than the 212 wished", "miles to the US gallon", "miles in still air",
          "in from tip to cage"}) {
        INFO(said);
        CHECK(imperial.find(said) != std::string::npos);
    }
    for (const char* metric_unit : {" degC", " m/s", " L/h", " km ", " mm "}) {
        INFO(metric_unit);
        CHECK(imperial.find(metric_unit) == std::string::npos);
    }
    const std::string metric = text("metric");
    for (const char* said : {"m/s, less than the 4.57 wished", "L/h, more than the 0.4 wished",
                             "degC, more than the 100 wished", "L to 100 km"}) {
        INFO(said);
        CHECK(metric.find(said) != std::string::npos);
    }
    // A document is metric whatever is asked.
    CHECK(json_of({"compare", path, "--no-band", "--units",
                   "imperial"})["propellers"][0]["broken_wishes"][0]
              .get<std::string>()
              .find("m/s") != std::string::npos);
}

TEST_CASE("compare: as a sheet, sorted, and refused" * doctest::test_suite("answers")) {
    const Ran sheet = run({"compare", demo, "--csv"});
    CHECK(sheet.status == 0);
    const std::vector<std::string> lines = lines_of(sheet.out);
    REQUIRE(lines.size() == 1 + 3 * 14);
    for (const std::string& line : lines) {
        CHECK(std::count(line.begin(), line.end(), ',') == 9);
        CHECK(line.ends_with('\r'));
    }
    // Of an adjustable one, its blades turned, as the document has them.
    const std::string turned = run({"compare", paraglider, "--csv", "--no-band"}).out;
    const Json angles = json_of({"compare", paraglider, "--no-band"})["blade_angles"][0];
    std::size_t found = 0;
    for (const std::string& line : lines_of(turned))
        found += line.starts_with("Sorrel 136 swept,climb_rate_m_s,") && !line.ends_with(",\r");
    CHECK(found == 9);
    const Json& row = angles["rows"][2];
    CHECK(turned.find(fmt::format("Sorrel 136 swept,climb_rate_m_s,{:.6g},,,,,,,-2.0\r\n",
                                  row["climb_rate_m_s"].get<double>())) != std::string::npos);
    CHECK(turned.find(fmt::format("Sorrel 136 swept,within_limits,{:d},,,,,,,-2.0\r\n",
                                  row["within_limits"].get<bool>())) != std::string::npos);
    const Json quick = json_of({"compare", paraglider, "--sort", "quick"});
    CHECK(quick["order"][0] == "Sorrel 136 swept");
    const Json climb = json_of({"compare", paraglider, "--sort", "climb"});
    CHECK(climb["order"][0] == "Alder 141 fine");

    const Ran unknown = run({"compare", demo, "--sort", "cheap"});
    CHECK(unknown.status == 2);
    CHECK(unknown.err.find("climb, economy, quiet, cool or quick") != std::string::npos);
    CHECK(run({"compare", demo, "--csv", "--json"}).status == 2);
    const Scratch scratch;
    std::string text = read(demo);
    text.replace(text.find("[craft]"), text.find("[[propeller]]") - text.find("[craft]"), "");
    const Ran without = run({"compare", scratch.write("case.toml", text)});
    CHECK(without.status == 2);
    CHECK(without.err.find("[craft]") != std::string::npos);
}

TEST_CASE("compare: many candidates have a row each and the best few their sentences" *
          doctest::test_suite("answers")) {
    const Scratch scratch;
    std::string text = read(demo);
    const std::size_t from = text.rfind("[[propeller]]");
    const std::string block = text.substr(from);
    for (int i = 0; i < 12; ++i)
        text += "\n" + replaced(block, "Rowan 166 three-blade", fmt::format("Rowan {}", i));
    const std::string path = scratch.write("case.toml", text);
    const Json json = json_of({"compare", path, "--no-band"});
    for (const std::vector<std::string>& args :
         {std::vector<std::string>{"compare", path, "--no-band"},
          std::vector<std::string>{"compare", path, "--units", "imperial"},
          std::vector<std::string>{"compare", path}}) {
        const Ran ran = run(args);
        CHECK(ran.status == 0);
        CHECK(widest_line(ran.out) <= 100);
        const std::vector<std::string> lines = lines_of(ran.out);
        CHECK(lines.size() < 160);
        // A row in each of three tables, in the order of the ranking.
        for (std::size_t k = 0; k < json["order"].size(); ++k) {
            const std::string name = json["order"][k];
            const std::string begin = fmt::format(
                "{} {}", static_cast<char>('A' + static_cast<int>(k)), name.substr(0, 6));
            CHECK(std::count_if(lines.begin(), lines.end(), [&](const std::string& line) {
                      return line.starts_with(begin);
                  }) == 3);
        }
        CHECK(std::count_if(lines.begin(), lines.end(), [](const std::string& line) {
                  return line.starts_with("now Larch 172");
              }) == 2);
    }
    // The figures are those of the document.
    const std::string out = run({"compare", path, "--no-band"}).out;
    const std::string rate =
        fmt::format("{:.2f}", json["propellers"][0]["climb"]["rate_m_s"].get<double>());
    for (const std::string& line : lines_of(out)) {
        if (line.starts_with("now Larch 172")) {
            CHECK(line.find(rate) != std::string::npos);
            break;
        }
    }
}

TEST_CASE("what is assumed of several propellers is said once, behind their names" *
          doctest::test_suite("answers")) {
    const Scratch scratch;
    std::string text = read(paraglider);
    for (const char* name : {"one", "two"}) {
        text += fmt::format("\n[[propeller]]\nname = \"{}\"\nlabel = \"136 x 68 cm\"\nblades = 2\n",
                            name);
    }
    const std::string path = scratch.write("case.toml", text);
    for (const char* command : {"compare", "match"}) {
        const Json notes = json_of({command, path, "--no-band"})["notes"];
        std::size_t told = 0;
        for (const Json& note : notes) {
            const std::string line = note;
            told += line.find("known by label only") != std::string::npos ? 1U : 0U;
            if (told == 1 && line.find("known by label only") != std::string::npos)
                CHECK(line.starts_with("one, two: known by label only"));
        }
        CHECK(told == 1);
    }
}

TEST_CASE("compare: those that pass the limit are named together when there are many") {
    const Scratch scratch;
    std::string text = replaced(read(demo), "rpm_limit = \"6800 rpm\"", "rpm_limit = \"5000 rpm\"");
    const std::string few = run({"compare", scratch.write("few.toml", text), "--no-band"}).out;
    CHECK(few.find("\"Larch 172\" turns the engine over its limit") != std::string::npos);
    text += "\n" + replaced(text.substr(text.rfind("[[propeller]]")), "Rowan 166 three-blade",
                            "Rowan again");
    const Json json = json_of({"compare", scratch.write("four.toml", text), "--no-band"});
    const std::string together = json["verdict"][0];
    CHECK(together.find(" turn the engine over its limit of 5000 rpm standing still.") !=
          std::string::npos);
    for (const char* name :
         {"Larch 172", "Larch 172 coarse", "Rowan 166 three-blade", "Rowan again"})
        CHECK(together.find(fmt::format("\"{}\" (", name)) != std::string::npos);
}

TEST_CASE("compare: a name with quotes and commas stays one field") {
    const Scratch scratch;
    const std::string text =
        replaced(read(demo), "name = \"Larch 172 coarse\"", "name = 'a \"b\", c'");
    const Ran ran = run({"compare", scratch.write("case.toml", text), "--csv", "--no-band"});
    CHECK(ran.status == 0);
    CHECK(ran.out.find("\"a \"\"b\"\", c\",static_engine_rpm,") != std::string::npos);
}

TEST_CASE("readings: every command answers from what they leave, and fit shows them one by one" *
          doctest::test_suite("answers")) {
    const Scratch scratch;
    const std::string text = replaced(read(LOADLINE_ROOT "/cases/readings.toml"), "[air]",
                                      "[model]\nannuli = 10\n\n[air]");  // quickly solved
    const std::string with = scratch.write("with.toml", text);
    const std::string without = (scratch.folder() / "without.toml").string();
    std::ofstream(without) << text.substr(0, text.find("[[reading]]"));
    const Json learnt = json_of({"match", with}), plain = json_of({"match", without});
    const auto point = [](const Json& json, std::size_t which) {
        return json["propellers"][which]["points"][0];
    };
    const auto width = [&](const Json& json, std::size_t which) {
        return point(json, which)["engine_rpm_high"].get<double>() -
               point(json, which)["engine_rpm_low"].get<double>();
    };
    // What was read is told, with a range that is narrower by far; of another propeller by less.
    CHECK(std::abs(point(learnt, 0)["engine_rpm"].get<double>() - 7750.0) < 40.0);
    CHECK(width(learnt, 0) < 0.5 * width(plain, 0));
    CHECK(width(learnt, 1) < width(plain, 1));
    CHECK(width(learnt, 1) > width(learnt, 0));
    // The same in the comparison, and half the range of climb.
    const Json compared = json_of({"compare", with});
    CHECK(std::abs(compared["propellers"][0]["static"]["engine_rpm"].get<double>() -
                   point(learnt, 0)["engine_rpm"].get<double>()) < 2.0);
    const Ran said = run({"compare", with});
    CHECK(said.out.find("narrowed the rate of climb with \"Alder 136\"") != std::string::npos);
    for (const char* command : {"curve", "blade", "lesson"})
        CHECK(run({command, with}).status == 0);

    const Json fit = json_of({"fit", with});
    CHECK(fit["readings"].size() == 5);
    for (const Json& reading : fit["readings"]) {
        CHECK(reading["after_uncertainty"].get<double>() <
              reading["before_uncertainty"].get<double>());
        CHECK(std::abs(reading["off"].get<double>()) < 3.0);
        CHECK(reading["left_out"].is_number());
    }
    CHECK(fit["next"]["then_half"].get<double>() < fit["next"]["now_half"].get<double>());
    CHECK(fit["effective_draws"].get<double>() > 500.0);
    const Ran imperial = run({"fit", with, "--units", "imperial"});
    CHECK(imperial.out.find("ft/min") != std::string::npos);
    CHECK(imperial.out.find("lbf") != std::string::npos);
    CHECK(imperial.out.find(" m/s") == std::string::npos);
    for (const std::string& line : lines_of(run({"fit", with}).out))
        CHECK(line.size() <= 80);

    // One that contradicts is asked about before any answer.
    const std::string wrong = (scratch.folder() / "wrong.toml").string();
    std::ofstream(wrong) << replaced(text, "static_thrust = \"720 N\"",
                                     "static_thrust = \"470 N\"");
    for (const char* command : {"fit", "match", "compare"}) {
        const Ran ran = run({command, wrong});
        const std::size_t asked = ran.out.find("Check the thrust standing still of 470 N");
        CHECK(asked != std::string::npos);
        CHECK(asked < 900);
    }
    // Without any the command says what to write.
    const Ran none = run({"fit", without});
    CHECK(none.status == 2);
    CHECK(none.err.find("add [[reading]]") != std::string::npos);
}

TEST_CASE("compare: a best that is worse is said to be, and nothing is sure without draws" *
          doctest::test_suite("answers")) {
    const std::string trial = std::string(LOADLINE_ROOT) + "/cases/trial.toml";
    const Ran learnt = run({"compare", trial});
    CHECK(learnt.out.find("None climbs better than \"Alder 136\": \"Sorrel 136\", the best of the "
                          "others,\nclimbs worse, almost surely (0.") != std::string::npos);
    const Ran bare = run({"compare", trial, "--no-band"});
    CHECK(bare.out.find("climbs worse, as worked out (0.") != std::string::npos);
    CHECK(bare.out.find("surely") == std::string::npos);
    const Ran better = run({"compare", paraglider, "--no-band"});
    CHECK(better.out.find("serves best: it climbs better, as worked out (0.") != std::string::npos);
    CHECK(better.out.find("surely") == std::string::npos);
}
