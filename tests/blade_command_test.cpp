// loadline blade as a builder types it: what stands first, what the document holds, the sheets for
// the bench, and what is refused.

#include "cli/table.hpp"
#include "document.hpp"
#include "loadline/case/case.hpp"
#include "loadline/making/step.hpp"
#include "near.hpp"
#include "often.hpp"
#include "program.hpp"
#include "stl_reader.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;
using loadline::test::has;
using loadline::test::Json;
using loadline::test::json_of;
using loadline::test::lines_of;
using loadline::test::Ran;
using loadline::test::read;
using loadline::test::replaced;
using loadline::test::run;
using loadline::test::Scratch;

const std::string builder = LOADLINE_ROOT "/cases/builder.toml";
const std::string demo_file = LOADLINE_ROOT "/cases/demo.toml";

// Numbers that could not be computed are null with a warning; there should be none.
bool all_computed(const Json& json) {
    const Json& warnings = json["warnings"];
    return std::none_of(warnings.begin(), warnings.end(), [](const Json& line) {
        return has(line.get<std::string>(), "could not be computed");
    });
}

void refused(std::vector<std::string> args, const std::string& words) {
    args.insert(args.begin(), {"blade", builder});
    const Ran ran = run(args);
    INFO(ran.err);
    CHECK(ran.status == loadline::cli::status_wrong_input);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, words));
    CHECK(has(ran.err, "; "));
}

}  // namespace

TEST_CASE("the answer stands first, the page fits a terminal, the cautions are printed" *
          doctest::test_suite("answers")) {
    for (const std::string& file : {builder, demo_file}) {
        for (const char* at : {"static", "climb", "cruise"}) {
            const Ran ran = run({"blade", file, "--at", at});
            INFO(ran.err);
            REQUIRE(ran.status == 0);
            const auto lines = lines_of(ran.out);
            CHECK(lines[2].starts_with("- Does it work?"));
            for (const std::string& line : lines) {
                INFO(line);
                CHECK(loadline::cli::width_of(line) <= 80);
            }
            for (const char* words :
                 {"- Will it hold?", "What to change", "Not a certification", "behind a barrier",
                  "makers' limits", "local rules", "licensed", "Where the power goes", "cl/cd"}) {
                INFO(words);
                CHECK(has(ran.out, words));
            }
            CHECK_FALSE(has(ran.out, " nan"));
            CHECK_FALSE(has(ran.out, " inf "));
            // The guess is named beside the stress.
            CHECK(has(ran.out, "Every stress above rests on a guess") == (file == demo_file));
        }
    }
}

TEST_CASE("the document has the promised keys and its power adds up" *
          doctest::test_suite("answers")) {
    for (const char* at : {"static", "climb", "cruise"}) {
        const Json json = json_of({"blade", builder, "--at", at});
        for (const char* key :
             {"propeller", "condition", "stations", "power", "bound", "changes", "loads",
              "tolerance", "warnings", "answer", "findings", "caution"}) {
            INFO(key);
            CHECK(json.contains(key));
        }
        CHECK(json["condition"]["at"] == at);
        CHECK(json["stations"].size() == 8);
        const Json& p = json["power"];
        double sum = 0.0;
        for (const char* key : {"useful_w", "axial_w", "swirl_w", "profile_drag_w", "tip_loss_w"})
            sum += p[key].get<double>();
        CHECK(near(sum, p["shaft_w"], 0.0, 1e-6));
        CHECK(near(p["shaft_w"], json["condition"]["power_w"], 0.0, 1e-12));
        const double useful = json["condition"]["thrust_n"].get<double>() *
                              json["condition"]["airspeed_at_propeller_m_s"].get<double>();
        CHECK(near(p["useful_w"], useful, 1e-6, 1e-9));
        double last = std::numeric_limits<double>::infinity();
        for (const Json& change : json["changes"]) {
            CHECK(change["saving_w"].get<double>() <= last);
            last = change["saving_w"];
        }
        CHECK(json["loads"]["material"] == "laminated wood");
        CHECK(all_computed(json));
    }
    const Json stated = json_of({"blade", builder, "--rpm", "2000", "--speed", "36 km/h"});
    CHECK(stated["condition"]["at"] == "stated");
    CHECK(near(stated["condition"]["propeller_rpm"], 2000.0, 1e-9));
    CHECK(near(stated["condition"]["airspeed_m_s"], 10.0, 1e-9));
}

TEST_CASE("a propeller alone is enough") {
    const Scratch scratch;
    std::string text = read(builder);
    const std::size_t from = text.find("[engine]"), to = text.find("[[propeller]]");
    text.erase(from, to - from);
    const std::string file = scratch.write("alone.toml", text);
    const Json json = json_of({"blade", file});
    CHECK(near(json["condition"]["tip_mach"], 0.5, 1e-9));
    CHECK_FALSE(json["loads"]["limit_stated"]);
    CHECK(json.dump().find("--rpm names another") != std::string::npos);
    CHECK_FALSE(json["condition"].contains("engine_rpm"));
    CHECK(run({"blade", file, "--rpm", "2500"}).status == 0);
    const Ran climb = run({"blade", file, "--at", "climb"});
    CHECK(climb.status == loadline::cli::status_no_answer);
    CHECK(climb.out.empty());
    CHECK(has(climb.err, "[craft]"));
    // The document says why and holds no half answers.
    const Ran document = run({"blade", file, "--at", "climb", "--json"});
    CHECK(document.status == loadline::cli::status_no_answer);
    const Json none = Json::parse(document.out);
    CHECK(none["condition"].is_null());
    CHECK(none["stations"].empty());
    CHECK_FALSE(none["warnings"].empty());
}

TEST_CASE("blades of any shape leave no number out, many stations are no trouble") {
    const Scratch scratch;
    std::mt19937 random(5);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int answered = 0;
    for (int i = 0; i < often(20); ++i) {
        const double tip = between(0.1, 4.0);
        std::string text = fmt::format(
            "[[propeller]]\nname = \"p\"\ndiameter = \"{} m\"\nblades = {}\nsection = \"clark-y\"\n"
            "angle_reference = \"chord\"\n{}stations = [\n",
            2.0 * tip, 1 + static_cast<int>(between(0.0, 11.99)),
            i % 3 == 0   ? "skin = \"1 mm\"\n"
            : i % 3 == 1 ? "fill = \"20 %\"\n"
                         : "");
        const int stations = 2 + static_cast<int>(between(0.0, 8.0));
        for (int k = 0; k < stations; ++k) {
            text += fmt::format(
                "  {{radius = \"{} m\", chord = \"{} m\", angle = \"{} deg\", thickness = \"{} "
                "%\"}},\n",
                tip * (0.05 + 0.9 * k / (stations - 1.0)), tip * between(0.001, 1.1),
                between(-29.0, 84.0), between(0.5, 100.0));
        }
        const std::string file = scratch.write("p.toml", text + "]\n[model]\nannuli = 8\n");
        const Ran ran = run({"blade", file, "--json", "--rpm", fmt::format("{}", between(1, 9000)),
                             "--speed", fmt::format("{} m/s", between(0.0, 150.0))});
        INFO(text, ran.err);
        REQUIRE(ran.status != loadline::cli::status_wrong_input);
        const Json json = Json::parse(ran.out);
        CHECK(all_computed(json));
        answered += ran.status == 0 ? 1 : 0;
        CHECK(run({"blade", file, "--worksheet"}).status == 0);
    }
    CHECK(answered > often(20) * 5 / 6 - 1);

    std::string many =
        "[[propeller]]\nname = \"p\"\ndiameter = \"1.3 m\"\nblades = 2\nsection = \"clark-y\"\n"
        "angle_reference = \"chord\"\nstations = [\n";
    for (int k = 0; k < 10000; ++k) {
        const double r = 0.1 + 0.54 * k / 9999.0;
        many += fmt::format("  [\"{:.6f} m\", \"{:.5f} m\", \"{:.4f} deg\"],\n", r, 0.11 - 0.1 * r,
                            std::atan(0.09 / r) * 57.29578);
    }
    const Json json = json_of({"blade", scratch.write("many.toml", many + "]\n")});
    CHECK(json["stations"].size() == 20);
    CHECK(json.dump().find("10000 stations") != std::string::npos);
    CHECK(all_computed(json));

    const Ran one = run({"blade", LOADLINE_TEST_DATA "/broken/one-station.toml"});
    CHECK(one.status == loadline::cli::status_wrong_input);
    CHECK(has(one.err, "only one station"));
}

TEST_CASE("the worksheet, and the drawings written whole or not at all") {
    const Ran sheet = run({"blade", builder, "--worksheet"});
    REQUIRE(sheet.status == 0);
    for (const char* words : {"111.0", "16.2", "17.5", "radius_mm,chord_mm,level_deg", "level"}) {
        INFO(words);
        CHECK(has(sheet.out, words));
    }
    // Room for both faces at half and three quarters of the chord, 111 mm wide: where, how, and
    // the keys.
    for (const char* words :
         {"320        55.5  _____  _____     83.2  _____  _____", "thread", "0.27 deg",
          "mean_line_50 = ", "mean_line_75 = ", "angle_reference = \"chord\""}) {
        INFO(words);
        CHECK(has(sheet.out, words));
    }
    for (const std::string& line : lines_of(sheet.out))
        CHECK(loadline::cli::width_of(line) <= 80);
    const Json json = json_of({"blade", builder, "--worksheet"});
    REQUIRE(json["worksheet"].size() == 8);
    CHECK(near(json["worksheet"][3]["level_deg"], 16.2, 1e-9));
    CHECK(near(json["worksheet"][3]["chord_m"], 0.111, 1e-12));

    const Scratch scratch;
    const std::string file = (scratch.folder() / "b.svg").string();
    const Json written = json_of({"blade", builder, "--worksheet", "--svg", file});
    const auto count = static_cast<long>(written["files"].size());
    CHECK(count >= 9);
    CHECK(scratch.files() == count);
    std::size_t drawn = 0;
    for (const Json& name : written["files"]) {
        const std::string page = read(name.get<std::string>());
        CHECK(page.starts_with("<?xml"));
        CHECK(page.ends_with("</svg>\n"));
        CHECK(has(page, "width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\""));
        CHECK(has(page, "@page { size: A4; margin: 0 }"));
        CHECK_FALSE(has(page, "nan"));
        // The line to check a print with is 100 mm long.
        CHECK(has(page, "M10,284 L110,284\""));
        drawn += has(page, "from above, ") && has(page, "the blade from above") ? 1U : 0U;
    }
    CHECK(drawn == 3);  // from the far side of the hub to the tip on sheets that overlap
    const Ran again = run({"blade", builder, "--worksheet", "--svg", file});
    CHECK(again.status == loadline::cli::status_wrong_input);
    CHECK(has(again.err, "--force"));
    CHECK(run({"blade", builder, "--worksheet", "--svg", file, "--force"}).status == 0);
    CHECK(scratch.files() == count);
    const Ran nowhere = run(
        {"blade", builder, "--worksheet", "--svg", (scratch.folder() / "no" / "b.svg").string()});
    CHECK(nowhere.status == loadline::cli::status_wrong_input);
    CHECK(nowhere.out.empty());
    // A name cannot break out of the drawing.
    const std::string odd =
        scratch.write("odd.toml", replaced(read(builder), "\"Hornbeam 128\"", "'<b> & \"c\"'"));
    const Json odd_files =
        json_of({"blade", odd, "--worksheet", "--svg", (scratch.folder() / "o.svg").string()});
    CHECK(has(read(odd_files["files"][0].get<std::string>()), "&lt;b&gt; &amp; &quot;c&quot;"));
}

TEST_CASE("drawings are what their ending says, of every case, and never what is read") {
    const Scratch scratch;
    for (const std::string& file :
         {builder, demo_file, std::string(LOADLINE_ROOT "/cases/paraglider.toml")})
        for (const auto& ending : {std::pair{".pdf", "%PDF-1.6"},
                                   {".dxf", "999\nlengths in mm"},
                                   {".csv", "radius_mm,point,face,y_mm,z_mm"}}) {
            const std::string name =
                (scratch.folder() / (fs::path(file).stem().string() + ending.first)).string();
            const Ran ran = run({"blade", file, "--worksheet", "--drawing", name});
            INFO(ran.err);
            CHECK(ran.status == 0);
            CHECK(has(ran.out, "Wrote " + name));
            CHECK(has(read(name).substr(0, 40), ending.second));
        }
    // Every sheet says of strength what the answer says; a worksheet's, that nothing was worked
    // out.
    const auto asked = [&](const std::string& file, bool worksheet) {
        const std::string svg = (scratch.folder() / "h.svg").string();
        std::vector<std::string> line = {"blade", file, "--svg", svg, "--force"};
        if (worksheet)
            line.emplace_back("--worksheet");
        const Ran ran = run(line);
        CHECK(ran.status == 0);
        const auto after = [](const std::string& text, const char* end) {
            const std::size_t at = text.find("Will it hold? ");
            return at == std::string::npos ? "" : text.substr(at, text.find(end, at) - at);
        };
        return std::pair{after(ran.out, ":"),
                         after(read((scratch.folder() / "h-2.svg").string()), "</text>")};
    };
    const auto sound = asked(builder, false);
    CHECK(sound.first == "Will it hold? Doubtful on paper");
    CHECK(sound.second.starts_with(sound.first));
    CHECK(has(asked(builder, true).second, "Not worked out here"));
    CHECK(has(asked(demo_file, false).second, "That cannot be said yet"));
    const std::string points = (scratch.folder() / "builder.csv").string();
    CHECK(has(run({"blade", builder, "--worksheet", "--drawing", points}).err, "--force"));
    // What was measured is read, and no drawing replaces it.
    const std::string measured =
        scratch.write("m.csv", "radius_mm,chord_mm,level_deg\n320,111,16.2\n");
    CHECK(has(run({"blade", builder, "--measured", measured, "--drawing", measured, "--force"}).err,
              "what is read"));
    // Joints of planks thinner than can be drawn are refused with what to write.
    const std::string thin = scratch.write(
        "thin.toml",
        replaced(read(builder), "bore = \"25 mm\"", "bore = \"25 mm\", plank = \"1 mm\""));
    const Ran refused_thin =
        run({"blade", thin, "--drawing", (scratch.folder() / "t.pdf").string()});
    CHECK(refused_thin.status == loadline::cli::status_wrong_input);
    CHECK(has(refused_thin.err, "write plank = \"2 mm\""));
}

TEST_CASE("the solid is written once, and what was assumed of it is said") {
    const Scratch scratch;
    const std::string file = (scratch.folder() / "b.stl").string();
    const Ran ran = run({"blade", builder, "--solid", file});
    CHECK(ran.status == 0);
    CHECK(has(ran.err, "bore of 25.0 mm and"));
    CHECK(has(ran.err, "block_diameter"));
    CHECK(read(file).size() > 100000);
    CHECK(has(run({"blade", builder, "--solid", file}).err, "--force"));
    if (loadline::writes_step()) {
        const std::string step = (scratch.folder() / "b.step").string();
        CHECK(run({"blade", builder, "--solid", step}).status == 0);
        CHECK(read(step).starts_with("ISO-10303-21;"));
        CHECK(has(read(step), "Hornbeam 128"));
    }
    const std::string thick = scratch.write(
        "thick.toml",
        replaced(read(builder), "bore = \"25 mm\"", "bore = \"25 mm\", trailing_edge = \"9 mm\""));
    CHECK(has(run({"blade", thick, "--solid", (scratch.folder() / "t.stl").string()}).err,
              "half of the"));
}

TEST_CASE("a mould is two files, with what they are, what was assumed and whether the blade holds" *
          doctest::test_suite("answers")) {
    const Scratch scratch;
    const std::string file = (scratch.folder() / "m.stl").string();
    const std::string lower = (scratch.folder() / "m-lower.stl").string();
    const std::string upper = (scratch.folder() / "m-upper.stl").string();
    const Ran ran = run({"blade", builder, "--mould", file});
    CHECK(ran.status == 0);
    std::string said = ran.err;  // in one line, whatever its width
    std::replace(said.begin(), said.end(), '\n', ' ');
    for (const char* part :
         {"from 90 mm from the shaft, where its cavity ends open", "the thrust turned by",
          "assumed by common practice, no source: from, flange, wall, dowel", "spring-in",
          "of laminated wood, which is carved", "9 holes go through",
          "Will it hold? Doubtful on paper", "the hub block is not in it"})
        CHECK(has(said, part));
    CHECK(has(ran.err, "wrote " + lower));
    CHECK(has(ran.err, "wrote " + upper));
    CHECK(!fs::exists(file));
    for (const std::string& half : {lower, upper}) {
        const auto stl = loadline::test::read_stl(read(half));
        CHECK(stl.second == 0);
        CHECK(stl.first > 1e5);
    }
    // Neither half is replaced unasked, nor is one written where the other may not be.
    fs::remove(lower);
    CHECK(has(run({"blade", builder, "--mould", file}).err, "m-upper.stl\" is there already"));
    CHECK(!fs::exists(lower));
    CHECK(run({"blade", builder, "--mould", file, "--force", "--worksheet"}).status == 0);
    CHECK(fs::exists(lower));
    // It may begin in the passage to the hub; what does not fit is refused with what to write.
    const auto with = [&](const char* mould) {
        const std::string in_passage =
            scratch.write("with.toml", replaced(read(builder), "bore = \"25 mm\"",
                                                fmt::format("bore = \"25 mm\", {}", mould)));
        return run({"blade", in_passage, "--mould", file, "--force"});
    };
    const Ran inwards = with("mould = {from = \"60 mm\"}");
    CHECK(inwards.status == 0);
    CHECK(has(inwards.err, "from 60 mm"));
    const Ran narrow = with("mould = {flange = \"10 mm\"}");
    CHECK(narrow.status == loadline::cli::status_wrong_input);
    CHECK(has(narrow.err, "--mould: "));
    CHECK(has(narrow.err, "write flange = \"18 mm\" or more"));
}

TEST_CASE("how thick each station has to be stands beside what is drawn" *
          doctest::test_suite("answers")) {
    const Ran ran = run({"blade", builder});
    CHECK(has(ran.out, "How thick each station has to be"));
    CHECK(has(ran.out, "never to the edge"));
    const Json json = json_of({"blade", builder});
    CHECK(has(json["answer"][2], "or only where it lacks: 34.4 mm for the 34.0 drawn at 9 cm"));
    const Json& root = json["stations"][0];
    CHECK(root["needed_thickness_m"].get<double>() > root["thickness_m"].get<double>());
    for (const Json& station : json["stations"])
        CHECK(station["thickness_with_room_m"].get<double>() >=
              station["needed_thickness_m"].get<double>());
}

TEST_CASE("what a hollow blade needs goes on smoothly with what its material may bear" *
          doctest::test_suite("answers")) {
    // A wall of a share of the section weighs more the thicker it is: the search has to settle.
    const char* const blade = R"([[propeller]]
name = "p"
diameter = "165.5 cm"
blades = 3
section = "clark-y"
material = "glass fabric"
working_stress = "@ MPa"
fill = "40 %"
stations = [
{radius = "11.34 cm", chord = "12.02 cm", angle = "28.20 deg", thickness = "63.30 mm"},
{radius = "21.07 cm", chord = "12.86 cm", angle = "23.99 deg", thickness = "52.22 mm"},
{radius = "30.80 cm", chord = "13.56 cm", angle = "20.96 deg", thickness = "49.31 mm"},
{radius = "40.53 cm", chord = "13.73 cm", angle = "17.12 deg", thickness = "37.10 mm"},
{radius = "50.26 cm", chord = "13.11 cm", angle = "14.50 deg", thickness = "31.88 mm"},
{radius = "59.98 cm", chord = "12.31 cm", angle = "12.14 deg", thickness = "22.37 mm"},
{radius = "69.71 cm", chord = "11.39 cm", angle = "9.66 deg", thickness = "14.27 mm"},
{radius = "79.44 cm", chord = "10.39 cm", angle = "8.16 deg", thickness = "9.44 mm"}
]
)";
    const Scratch scratch;
    double before = 0.0;
    for (const char* stress : {"20.20", "20.26", "20.27", "20.30", "20.40"}) {
        const std::string file = scratch.write("p.toml", replaced(blade, "@", stress));
        const Json root = json_of({"blade", file, "--rpm", "2006", "--speed", "0 m/s", "--airfoils",
                                   LOADLINE_ROOT "/airfoils"})["stations"][0];
        INFO(stress);
        REQUIRE(root["needed_thickness_m"].is_number());
        const double now = root["needed_thickness_m"].get<double>();
        if (before > 0.0)
            CHECK(near(now, before, 0.0, 0.01));
        before = now;
    }
}

TEST_CASE("a stated mass that is none of the drawing's is asked about first" *
          doctest::test_suite("answers")) {
    const Scratch scratch;
    const auto with_mass = [&](const std::string& mass) {
        return scratch.write("mass.toml", replaced(read(builder), "blades = 2",
                                                   "blades = 2\nmass = \"" + mass + "\""));
    };
    const auto ask = [](const std::string& file) {
        return run({"blade", file, "--airfoils", LOADLINE_ROOT "/airfoils"}).out;
    };
    const std::string out = ask(with_mass("3 kg"));
    CHECK(has(out, "the drawing holds 2.13 L"));
    CHECK(out.find("the drawing holds") < out.find("Does it work?"));
    CHECK_FALSE(has(ask(with_mass("1.5 kg")), "the drawing holds"));
}

TEST_CASE("a measured blade is compared with its plan" * doctest::test_suite("answers")) {
    const Scratch scratch;
    const std::string rows =
        "# bench\nradius_mm,chord_mm,level_deg,thickness_mm,blade\n160,104,26.0,27,1\n"
        "320,111,16.7,,1\n550,63.5,9.9,8.5,1\n160,104,25.5,27,2\n320,111,16.2,17,2\n"
        "550,65,9.4,8.5,2\n";
    const std::string file = scratch.write("m.csv", rows);
    const Json json = json_of({"blade", builder, "--measured", file});
    const Json& m = json["measured"];
    REQUIRE(m["stations"].size() == 6);
    CHECK(near(m["stations"][0]["angle_difference_deg"], 0.5, 1e-9));
    CHECK(near(m["stations"][2]["chord_difference_m"], -0.0015, 1e-9));
    CHECK(m["stations"][1]["thickness_difference_m"].is_null());
    CHECK(near(m["stations"][4]["thickness_difference_m"], -0.0005, 1e-9));
    CHECK(m["static_as_measured"]["propeller_rpm"].get<double>() <
          m["static_as_planned"]["propeller_rpm"].get<double>());
    CHECK(m["couple_once_per_turn_nm"].get<double>() > 0.5);
    const Ran text = run({"blade", builder, "--measured", file});
    REQUIRE(text.status == 0);
    CHECK(has(text.out, "The blade as measured, against its plan:"));
    CHECK(m["balance"]["order"] == Json{1, 2});
    CHECK(m["balance"]["added"].size() == 1);
    // One blade by its chord line, columns in another order.
    const std::string chord_line =
        scratch.write("c.csv", "chord_mm,radius_mm,angle_deg\n111,320,20.1\n65,550,11.9\n");
    CHECK(run({"blade", builder, "--measured", chord_line}).status == 0);
}

TEST_CASE("a file of measurements that cannot be is refused at its place") {
    const Scratch scratch;
    struct Broken {
        const char* text;
        const char* place;
        const char* words;
    };
    for (const Broken& broken : {
             Broken{"radius,chord,level\n1,2,3\n", ":1:1:", "radius_mm,chord_mm,level_deg"},
             Broken{"radius_mm,chord_mm\n1,2\n", ":1:1:", "must read"},
             Broken{"radius_mm,chord_mm,level_deg,angle_deg\n1,2,3,4\n", ":1:1:", "must read"},
             Broken{"radius_mm,chord_mm,level_deg\n", ":1:1:", "no measured stations"},
             Broken{"radius_mm,chord_mm,level_deg\n320,x,16\n", ":2:5:", "not a number"},
             Broken{"radius_mm,chord_mm,level_deg\n320,111\n", ":2:1:", "2 values"},
             Broken{"radius_mm,chord_mm,level_deg\n320,111,160\n", ":2:1:", "out of range"},
             Broken{"radius_mm,chord_mm,level_deg\n-320,111,16\n", ":2:1:", "out of range"},
             Broken{"radius_mm,chord_mm,level_deg\n320,111,16\n320,111,16\n",
                    ":3:1:", "second time"},
             Broken{"radius_mm,chord_mm,level_deg,blade\n320,111,16,1.5\n", ":2:1:", "whole"},
         }) {
        const std::string bad = scratch.write("bad.csv", broken.text);
        const Ran ran = run({"blade", builder, "--measured", bad});
        INFO(broken.text, ran.err);
        CHECK(ran.status == loadline::cli::status_wrong_input);
        CHECK(ran.out.empty());
        CHECK(ran.err.starts_with(bad + broken.place));
        CHECK(has(ran.err, broken.words));
    }
    refused({"--measured", scratch.write("off.csv", "radius_mm,chord_mm,level_deg\n700,40,9\n")},
            "700 mm");
    refused({"--measured",
             scratch.write("b3.csv", "radius_mm,chord_mm,level_deg,blade\n320,111,16,3\n")},
            "blade 3");
    refused({"--measured", scratch.write("w.csv", "radius_mm,chord_mm,level_deg\n320,1110,16\n")},
            "chord");
}

TEST_CASE("options that cannot be are refused with what to write instead") {
    refused({"--at", "hover"}, "static, climb or cruise");
    refused({"--at", "climb", "--rpm", "2000"}, "keep one");
    refused({"--speed", "10 m/s"}, "--rpm");
    refused({"--rpm", "2000", "--speed", "10"}, "--speed");
    refused({"--rpm", "2000", "--speed", "900 m/s"}, "out of range");
    refused({"--rpm", "0"}, "out of range");
    refused({"--drawing", "x.png"}, ".dxf for the templates");
    refused({"--drawing", "x"}, ".pdf or .svg");
    refused({"--drawing", ".pdf"}, ".pdf or .svg");
    refused({"--drawing", ""}, "blade.pdf");
    refused({"--drawing", "-"}, "blade.pdf");
    refused({"--drawing", "x.svg", "--svg", "./x.svg"}, "the same file");
    refused({"--drawing", "x.pdf", "--solid", "x.pdf"}, "the same file");
    refused({"--svg", builder}, "what is read");
    refused({"--force"}, "--svg");
    refused({"--worksheet", "--page", "x.html"}, "second run");
    refused({"--solid", "-"}, "blade.stl");
    if (!loadline::writes_step()) {
        refused({"--solid", "x.step"}, "LOADLINE_STEP=ON");
        refused({"--solid", "x.stp"}, "take .stl");
    }
    refused({"--mould", ""}, "mould.stl");
    refused({"--mould", "-"}, "mould.stl");
    refused({"--mould", "mould.png"}, "end it in .stl");
    refused({"--solid", "blade.obj"}, "end it in .stl");
    refused({"--mould", "x.stl", "--solid", "x.stl"}, "the same file");
    refused({"--mould", "x.stl", "--solid", "./x-upper.stl"}, "the same file");
    refused({"--mould", "x.stl", "--page", "x-lower.stl"}, "the same file");
    refused({"--mould", "x.csv"}, "named like a file that is read");
    refused({"--solid", builder}, "what is read");
    refused({"--worksheet", "--measured", "x.csv"}, "second run");
    refused({"--units", "imperial"}, "--units");
    refused({"--propeller", "Hornbeam"}, "Hornbeam 128");
}

TEST_CASE("what a propeller is made of and bolted on with") {
    const loadline::Case c = loadline::read_case(builder, {LOADLINE_ROOT "/airfoils"});
    const loadline::BladeBuild& build = c.propellers[0].build;
    REQUIRE(build.material);
    CHECK(build.material->name == "laminated wood");
    CHECK(near(*build.working_stress, 20e6, 1e-6));
    REQUIRE(build.bolts);
    CHECK(build.bolts->count == 6);
    CHECK(near(build.bolts->tightening, 14.0, 1e-12));
    CHECK(near(build.bolts->bolt_diameter, 0.008, 1e-12));
    CHECK(near(build.bolts->circle_radius, 0.0375, 1e-12));
    const Scratch scratch;
    const auto with = [&](const std::string& keys) {
        return loadline::read_case(scratch.write("k.toml", replaced(read(builder), "blades = 2\n",
                                                                    "blades = 2\n" + keys + "\n")),
                                   {LOADLINE_ROOT "/airfoils"})
            .propellers[0]
            .build;
    };
    CHECK(near(with("fill = \"40 %\"").fill.share, 0.4, 1e-12));
    CHECK(near(*with("skin = \"1.2 mm\"").fill.skin, 0.0012, 1e-12));
    // A hollow blade pulls less at its root.
    const std::string hollow = scratch.write(
        "h.toml", replaced(read(builder), "blades = 2\n", "blades = 2\nskin = \"1.2 mm\"\n"));
    CHECK(json_of({"blade", hollow})["loads"]["at_limit"]["root_pull_n"].get<double>() <
          0.5 * json_of({"blade", builder})["loads"]["at_limit"]["root_pull_n"].get<double>());
}
