// Pages: whatever stands in a case shows as text, and the file is whole by itself.

#include "cli/page.hpp"
#include "cli/picture.hpp"
#include "cli/typeset.hpp"
#include "document.hpp"
#include "loadline/words/confidence.hpp"
#include "loadline/words/emphasis.hpp"
#include "often.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <algorithm>
#include <chrono>
#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

using namespace loadline::cli;
using namespace loadline::test;

namespace {

const std::string cases = LOADLINE_ROOT "/cases/";

Page small(const std::string& text) {
    Page page;
    page.title = text;
    page.subtitle = text;
    page.lead = {text};
    PageSection section;
    section.heading = text;
    section.paragraphs = {text};
    section.list = {text};
    section.charts.push_back(
        {text, text, {{"kind", "lines"}, {"x", text}, {"y", text}, {"series", {}}}});
    section.tables.push_back({text, {text, text}, {{text, text}}});
    page.sections.push_back(section);
    page.notes = {text};
    page.cautions = text;
    page.data["name"] = text;
    return page;
}

// The page with everything of our own taken out: what is left came with the case.
std::string data_block(const std::string& html) {
    const std::size_t from = html.find("id=\"data\">");
    return html.substr(from + 10, html.find("</script>", from) - from - 10);
}

}  // namespace

TEST_CASE("plain letters are set as a page sets them") {
    CHECK(typeset("turned 1.0 deg coarser, -1.5 deg, deg, degrees") ==
          "turned 1.0° coarser, \u22121.5°, °, degrees");
    CHECK(typeset("18.0 degC or 64 degF; 1.192 kg/m3, 0.060 kg m2, m3x") ==
          "18.0 °C or 64 °F; 1.192 kg/m³, 0.060 kg m², m3x");
    CHECK(typeset("7947 +-286 rpm, -0.20 to +0.42 (-6 rpm), 2.49-2.76, 5868-9, a - b, --page") ==
          "7947 ±286 rpm, \u22120.20 to +0.42 (\u22126 rpm), 2.49-2.76, 5868-9, a - b, --page");
    CHECK(typeset("").empty());
}

TEST_CASE("markup, quotes, line breaks, right-to-left and long texts show as text") {
    const std::string plain = render(small("plain"));
    for (const std::string& text :
         {std::string("<script>alert(1)</script>"),
          std::string("</script><script>alert(1)</script>"),
          std::string("<!-- <img src=x onerror=alert(1)>"), std::string("a \"b\" 'c' & d"),
          std::string("two\nlines\r\n"), std::string("\u05d0\u05d1\u05d2 \u202e reversed"),
          std::string("@body@ @data@ @script@"), std::string("not UTF-8: \xff\xfe"),
          std::string(10'000, 'w')}) {
        const std::string html = render(small(text));
        INFO(text.substr(0, 60));
        // No element more than in the page of a plain text.
        for (const char* tag : {"<script", "</script>", "<img", "<!--", "<p>", "<h1>"})
            CHECK(count(html, tag) == count(plain, tag));
        CHECK(count(html, "<img src") == 0);
        const std::string block = data_block(html);
        CHECK(block.find('<') == std::string::npos);
        // The block reads back, and holds the text as it was (but for bytes that are not UTF-8).
        const auto json = nlohmann::json::parse(block);
        if (text.find('\xff') == std::string::npos)
            CHECK(json["name"] == text);
    }
    CHECK(escaped("<b>&\"'") == "&lt;b&gt;&amp;&quot;&#39;");
    // A direction mark in a name stays within its own element.
    CHECK(render(small("\u202eabc")).find("<bdi>\u202eabc</bdi>") != std::string::npos);
}

TEST_CASE("each page is one file, small, quickly written, with its answer and headings in order" *
          doctest::test_suite("answers")) {
    const Scratch scratch, few;
    const std::vector<std::vector<std::string>> lines = {
        {"match", cases + "demo.toml"},
        {"compare", cases + "paraglider.toml"},
        {"curve", cases + "measured.toml", "--against", cases + "measured-points.csv", "--rpm",
         "1000"},
        {"blade", cases + "builder.toml"},
        {"design", cases + "builder.toml"},
        {"trial", cases + "trial.toml"},
        {"fit", cases + "readings.toml"},
        {"lesson", cases + "demo.toml"}};
    for (std::vector<std::string> line : lines) {
        if (loadline::test::slower > 1 && line[0] == "design")
            continue;  // the sanitizers search with its own tests
        if (line[0] == "lesson")  // as much is seen in a few annuli
            line[1] = few.write("demo.toml", read(line[1]) + "\n[model]\nannuli = 6\n");
        const std::string file = (scratch.folder() / (line[0] + ".html")).string();
        line.insert(line.end(), {"--page", file});
        const Ran ran = run(line);
        INFO(line[0]);
        CHECK(ran.status == 0);
        CHECK(ran.err.find("wrote " + file) != std::string::npos);
        const std::string html = read(file);
        // The lesson carries tables fine enough for a blade's stall.
        CHECK(html.size() < (line[0] == "lesson" ? 850'000 : 600'000));
        CHECK(html.starts_with("<!DOCTYPE html>"));
        CHECK(html.find("Content-Security-Policy") != std::string::npos);
        // Nothing is fetched: no address but the names of standards within the library.
        for (const char* fetch :
             {" src=", "<link", "@import", "url(", "fetch(", "XMLHttpRequest"}) {
            INFO(fetch);
            CHECK(count(html, fetch) == 0);
        }
        CHECK(count(html, "<h1>") == 1);
        CHECK(html.find("<h1>") < html.find("class=\"lead\""));
        CHECK(html.find("class=\"lead\"") < html.find("<h2>"));
        CHECK(count(html, "<h3") == 0);
        // Every picture has its words; what stretches within one is no picture by itself.
        const std::string body = html.substr(html.find("<main>"), html.find("</main>"));
        CHECK(count(body, "<canvas") + count(body, "<svg ") -
                  count(body, "<svg viewBox=\"0 0 1000 ") ==
              count(body, "role=\"img\" aria-label=\""));
        // What is drawn without scripts brings none; rows to sort bring theirs alone.
        const bool sorted = line[0] == "compare";
        const bool drawn = line[0] == "fit" || line[0] == "trial" || line[0] == "match" ||
                           line[0] == "design" || sorted;
        CHECK((count(html, "<script") == 0) == (drawn && !sorted));
        CHECK((html.find("script-src 'none'") != std::string::npos) == (drawn && !sorted));
        if (sorted) {
            CHECK(count(html, "<script>") == 1);
            CHECK(count(html, "'sha256-") == 1);
        }
        CHECK(count(html, "<th scope=") > 5);
        CHECK(html.find("aution") != std::string::npos);
        CHECK(html.find("NaN") == html.find("NaN", html.find("id=\"data\"")));
        if (!drawn)
            CHECK(data_block(html).find("null,null") == std::string::npos);
        // Read without scripts: the tables are there.
        CHECK(count(html, "<tbody>") >= 1);
        if (line[0] == "match")  // a second time it replaces the first
            CHECK(run(line).status == 0);
    }
    CHECK(scratch.files() == (loadline::test::slower > 1 ? 7 : 8));
    // Rendering alone.
    const Page page = small(std::string(2000, 'x'));
    const auto begun = std::chrono::steady_clock::now();
    std::size_t size = 0;
    for (int i = 0; i < 20; ++i)
        size += render(page).size();
    const double ms =
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begun)
            .count() /
        20.0;
    fmt::print("one page rendered in {:.2f} ms, {} kB\n", ms, size / 20 / 1000);
    CHECK(ms < 200.0);
}

TEST_CASE("where no page can be written it is said, and nothing is left") {
    const Scratch scratch;
    const Ran folder = run({"match", cases + "demo.toml", "--page", scratch.folder().string()});
    CHECK(folder.status == 2);
    const Ran missing = run(
        {"match", cases + "demo.toml", "--page", (scratch.folder() / "no" / "a.html").string()});
    CHECK(missing.status == 2);
    CHECK(run({"match", cases + "demo.toml", "--page", ""}).status == 2);
    CHECK(scratch.files() == 0);
}

TEST_CASE("a name written from the right turns none of the words around it") {
    const std::string name = "\u05de\u05d3\u05d7\u05e3 \u202e 172";
    Page page = small("plain");
    page.names = {name, "plain", ""};
    page.lead = {"\"" + name + "\" pulls harder; near its limit. " + name + ": 12 N"};
    page.sections[0].charts[0].alternative = name + " at 6000 rpm";
    page.sections[0].charts[0].data["series"].push_back({{"name", name + " standing still"}});
    const std::string html = render(page);
    // Where parts are marked they alone stand out.
    Page marked = small("plain");
    marked.names = {name};
    marked.lead = {loadline::strong("\"" + name + "\" serves best") + ". It " +
                       loadline::warned("turns too fast"),
                   "Plain. And more."};
    CHECK(render(marked).find("<p><strong>&quot;<bdi>" + name +
                              "</bdi>&quot; serves best</strong>. It <strong "
                              "class=\"warned\">turns too fast</strong></p>\n<p>Plain. And "
                              "more.</p>") != std::string::npos);
    CHECK(html.find("<strong>&quot;<bdi>" + name +
                    "</bdi>&quot; pulls harder; near its "
                    "limit.</strong> <bdi>" +
                    name + "</bdi>: 12 N</p>") != std::string::npos);
    // Where no element can stand, by the characters for it (Unicode annex 9).
    CHECK(html.find("aria-label=\"\u2068" + name + "\u2069 at 6000 rpm\"") != std::string::npos);
    const auto json = nlohmann::json::parse(data_block(html));
    CHECK(json["charts"][0]["series"][0]["name"] == "\u2068" + name + "\u2069 standing still");
    // A name in plain letters needs nothing.
    CHECK(html.find("<bdi>plain</bdi> plain") == std::string::npos);
}

TEST_CASE("the load lines of match in the units asked for, and of many propellers at rest alone") {
    const Scratch scratch;
    const std::string case_file = cases + "demo.toml";
    const auto page = [&](const std::string& path, const char* units) {
        const std::string file = (scratch.folder() / "page.html").string();
        REQUIRE(run({"match", path, "--no-band", "--units", units, "--page", file}).status == 0);
        return read(file);
    };
    const std::string imperial = page(case_file, "imperial");
    CHECK(imperial.find("torque at the propeller shaft, ft lbf") != std::string::npos);
    CHECK(imperial.find("Larch 172 at 46.7 mph") != std::string::npos);
    CHECK(imperial.find(" m/s") == std::string::npos);
    const std::string metric = page(case_file, "metric");
    CHECK(metric.find("torque at the propeller shaft, N m") != std::string::npos);
    const std::string in_flight = "Larch 172 at 20.9 m/s (75 km/h) at 6453 rpm";
    CHECK(metric.find(in_flight) != std::string::npos);

    std::string text = read(case_file);
    const std::string block = text.substr(text.rfind("[[propeller]]"));
    for (int i = 0; i < 5; ++i)
        text += "\n" + replaced(block, "Rowan 166 three-blade", fmt::format("Rowan {}", i));
    const std::string many = page(scratch.write("many.toml", text), "metric");
    CHECK(many.find(in_flight) == std::string::npos);
    CHECK(many.find("Rowan 4 standing still at ") != std::string::npos);
    // The engine's line is dashed where its figures end, and no crossing leaves the picture.
    CHECK(count(metric, " dashed ink\"") == 0);
    const std::string shorter =
        replaced(replaced(read(case_file), "  [\"7200 rpm\", \"54 N m\"],\n", ""),
                 "  [\"6800 rpm\", \"63 N m\"],\n", "");
    const std::string beyond = page(scratch.write("shorter.toml", shorter), "metric");
    CHECK(count(beyond, "class=\"thick dashed ink\"") == 1);
    CHECK(count(metric, "class=\"load s") == 3);
    CHECK(count(many, "class=\"load s") == 8);
    for (std::size_t at = metric.find("<circle"); at != std::string::npos;
         at = metric.find("<circle", at + 1)) {
        const double x = std::stod(metric.substr(metric.find("cx=\"", at) + 4));
        CHECK(x > 0.0);
        CHECK(x <= 100.0);
    }
    // Where draws were made each crossing has its shape.
    const std::string file = (scratch.folder() / "likely.html").string();
    REQUIRE(run({"match", case_file, "--page", file}).status == 0);
    const std::string likely = read(file);
    CHECK(count(likely.substr(likely.find("The load lines")), "class=\"ninth s") == 3);
    CHECK(count(metric.substr(metric.find("The load lines")), "class=\"ninth s") == 0);
}

namespace {

// Every number in a drawing is one.
void check_drawn(const PagePicture& picture) {
    INFO(picture.drawing);
    CHECK(picture.height > 0.0);
    for (const char* wrong : {"nan", "inf", "-nan"})
        CHECK(picture.drawing.find(wrong) == std::string::npos);
}

}  // namespace

TEST_CASE("pictures hold names that try to be something else, long ones and none") {
    const Ink first{Ink::series, 0};
    for (const std::string& name :
         {std::string("</svg><script>alert(1)</script>"), std::string("a \"b\" 'c' & <d>"),
          std::string("\u05de\u05d3\u05d7\u05e3 \u05d0\u05d1"), std::string(200, 'w'),
          std::string()}) {
        const PagePicture pictures[] = {
            picture_of(DensityPicture{
                "t", "a", "m/s", {{{"", name}, "1.00", {{{}, {}, 1.0, first, "here"}}}}, 0.0, "0"}),
            picture_of(
                ReadingPicture{"t",
                               "a",
                               "rpm",
                               {{{"static rpm, ", name}, {}, {}, 1.0, 0.1, "1 rpm", "no answer"}}}),
            picture_of(BarPicture{"t", "a", {{{"rpm, ", name}, 1.0, "1 % narrower"}}}),
            picture_of(FanPicture{
                "t", "a", "s", "m", {{.x = 9.0, .y = 9.0, .thick = true, .label = {"", name}}}})};
        for (const PagePicture& picture : pictures) {
            check_drawn(picture);
            CHECK(count(picture.drawing, "<script") == 0);
            CHECK(count(picture.drawing, "<d>") == 0);
            CHECK(count(picture.drawing, "</svg>") == count(picture.drawing, "<svg "));
            CHECK(count(picture.drawing, "</text>") == count(picture.drawing, "<text "));
            CHECK(count(picture.drawing, std::string(60, 'w')) == 0);
            // Written from the right it keeps to itself.
            CHECK(count(picture.drawing, "\u2068") == count(picture.drawing, "\u2069"));
            if (name.find("\u05de") == 0)
                CHECK(count(picture.drawing, "\u2068\u05de") == 1);
        }
    }
    CHECK(cut_to("\u05de\u05d3\u05d7\u05e3", 40.0) == "\u05de\u05d3\u2026");
    CHECK(cut_to("short", 100.0) == "short");
    CHECK(cut_to("", 0.0).empty());
}

TEST_CASE(
    "pictures of nothing, of one number and of numbers far apart are drawn in finite places") {
    check_drawn(picture_of(DensityPicture{}));
    check_drawn(picture_of(DensityPicture{"t", "a", "", {{}, {}}}));
    check_drawn(picture_of(ReadingPicture{}));
    check_drawn(picture_of(BarPicture{"t", "a", {{{}, 0.0, "no narrower"}}}));
    check_drawn(picture_of(FanPicture{}));
    check_drawn(picture_of(FanPicture{"t", "a", "s", "m", {{.x = 60.0, .y = -30.0}}}));
    // Two to six round numbers, whatever the size.
    for (const double size : {1e-6, 0.3, 1.0, 7.0, 1e4}) {
        for (const double low : {-1.0, 0.0, 2.7}) {
            const std::vector<double> at = ticks(low * size, (low + 1.0) * size);
            CHECK(at.size() >= 2);
            CHECK(at.size() <= 6);
            CHECK(at.front() >= (low - 1e-6) * size);
            CHECK(at.back() <= (low + 1.0 + 1e-6) * size);
        }
    }
    CHECK(ticks(1.0, 1.0).empty());
    // One far out does not press the ranges into a line: it stands at the edge with an arrow.
    const auto far = [](double read) {
        return picture_of(ReadingPicture{"t",
                                         "a",
                                         "rpm",
                                         {{{"", "A"},
                                           loadline::Band{7700.0, 8200.0},
                                           loadline::Band{7700.0, 7800.0},
                                           read,
                                           50.0,
                                           "rpm"}}});
    };
    CHECK(count(far(2690.0).drawing, "\u25c0") == 1);
    CHECK(count(far(22000.0).drawing, "\u25b6") == 1);
    CHECK(count(far(7900.0).drawing, "<circle ") == 1);
    check_drawn(far(2690.0));
}

TEST_CASE("the page of fit tells in words what its pictures show, and asks before it answers" *
          doctest::test_suite("answers")) {
    const Scratch scratch;
    const std::string text = read(cases + "readings.toml");
    const std::string file = (scratch.folder() / "fit.html").string();
    const auto page = [&](const std::string& of, std::vector<std::string> more = {}) {
        std::vector<std::string> args = {"fit", scratch.write("c.toml", of), "--page", file};
        args.insert(args.end(), more.begin(), more.end());
        const Ran ran = run(args);
        INFO(ran.err);
        REQUIRE(ran.status == 0);
        return read(file);
    };
    const auto fit = json_of({"fit", scratch.write("c.toml", text)});
    // One that slipped is asked about before the answer, called out at its mark and in the words of
    // the picture, in the units asked for.
    const std::string wrong =
        page(replaced(text, "static_thrust = \"720 N\"", "static_thrust = \"470 N\""),
             {"--units", "imperial"});
    CHECK(wrong.find("Check the thrust standing still of 106 lbf") < wrong.find("class=\"lead\""));
    // Its number, the arrow at the edge, and what is wrong.
    CHECK(count(wrong, "class=\"warned\">") == 3);
    CHECK(count(wrong, "set aside: ") == 2);
    CHECK(wrong.find("ft/min") != std::string::npos);
    CHECK(wrong.find(" m/s") == std::string::npos);
    const std::string metric = page(text);
    CHECK(count(metric, "warned\"") == 0);
    const auto& narrowed = fit["narrowed"];
    CHECK(metric.find(fmt::format("±{:.2f} m/s before the readings",
                                  narrowed["before_half"].get<double>())) != std::string::npos);
    CHECK(metric.find(fmt::format("±{:.2f} m/s after", narrowed["after_half"].get<double>())) !=
          std::string::npos);
    CHECK(metric.find(fmt::format("narrower: ±{:.2f} m/s",
                                  fit["next"]["then_half"].get<double>())) != std::string::npos);
    CHECK(metric.find("engine&#39;s torque over its figures: ") != std::string::npos);
    CHECK(metric.find("<td>NaN") == std::string::npos);
}

TEST_CASE("limits stand with their odds in the words, at the picture and in the answer") {
    const Scratch scratch;
    const std::string file = (scratch.folder() / "page.html").string();
    const std::string from = scratch.write(
        "c.toml", replaced(read(cases + "demo.toml"), "\"6800 rpm\"\n", "\"6600 rpm\"\n"));
    const auto html = [&](std::vector<std::string> args) {
        args.insert(args.end(), {"--page", file});
        REQUIRE(run(args).status == 0);
        return read(file);
    };
    const auto match = json_of({"match", from});
    const std::string pages[] = {html({"match", from}), html({"compare", from})};
    for (std::size_t k = 0; k < match["propellers"].size(); ++k) {
        const auto& limits = match["propellers"][k]["points"][0]["limits"];
        for (const auto& share_of : {std::pair{"over_rpm_limit", "over the maker&#39;s limit"},
                                     std::pair{"below_torque_peak", "below greatest torque"}}) {
            const std::string key = share_of.first, words = share_of.second;
            const double odds = limits[key].get<double>();
            if (odds < 0.005)
                continue;
            INFO(key << " " << odds);
            const std::string share = loadline::odds_words(odds);
            CHECK(pages[0].find(share + " " + words) != std::string::npos);
            CHECK(count(pages[0], ">" + share + "</text>") >= 1);
        }
    }
    for (const std::string& page : pages) {
        const std::size_t pictures =
            &page == pages ? 2 : 1;  // the load lines of match have them too
        CHECK(count(page, ">maker&#39;s limit 6600 rpm</text>") == pictures);
        CHECK(count(page, ">greatest torque 6000 rpm</text>") == pictures);
        CHECK(count(page, "class=\"beyond warned\"") >= 3);
    }
    // One alone has its limit in the answer, and a picture without odds where none are drawn.
    const std::string one =
        html({"match", from, "--no-band", "--propeller", "Rowan 166 three-blade"});
    const std::size_t lead = one.find("class=\"lead\"");
    CHECK(one.substr(lead, one.find("</div>", lead) - lead).find(" at 20.9 m/s") ==
          std::string::npos);
    CHECK(count(one, "class=\"beyond warned\"") == 0);
    const std::string over =
        html({"match",
              scratch.write("o.toml", replaced(read(cases + "demo.toml"), "\"6800 rpm\"\n",
                                               "\"6300 rpm\"\n")),
              "--propeller", "Larch 172"});
    const std::size_t answer = over.find("class=\"lead\"");
    CHECK(over.substr(answer, over.find("</div>", answer) - answer).find("the limit of 6300 rpm") !=
          std::string::npos);
}

TEST_CASE("the page of compare has a row each that opens its words, and climbs over time") {
    const Scratch scratch;
    const std::string file = (scratch.folder() / "page.html").string();
    const auto html = [&](const std::string& text, std::vector<std::string> more = {}) {
        std::vector<std::string> args = {"compare", scratch.write("c.toml", text), "--page", file};
        args.insert(args.end(), more.begin(), more.end());
        REQUIRE(run(args).status == 0);
        return read(file);
    };
    const std::string demo_case = read(cases + "demo.toml");
    const auto document = json_of({"compare", cases + "demo.toml"});
    const std::string page = html(demo_case);
    CHECK(count(page, "class=\"row\">") == 2);
    CHECK(count(page, "<details><summary>") == 2);
    CHECK(count(page, "class=\"said\">") == 2);
    CHECK(count(page, "<svg class=\"drawn cell-shape\"") == 12);
    // What a heading sorts by is the change itself.
    for (const auto& difference : document["differences"]) {
        const double climbs = difference["quantities"]["climb_rate_m_s"]["value"].get<double>();
        CHECK(count(page, fmt::format(" data-value=\"{:.9g}\"", climbs)) == 1);
    }
    CHECK(count(page, "<svg class=\"drawn blade\"") == 3);
    CHECK(count(page, "class=\"curve") == 0);
    // A sign that is not almost sure is grey, in the cell and in its picture.
    CHECK(page.find("98 %</span>") != std::string::npos);
    const std::size_t sure = page.find("climb at field: \u22120.68 m/s");
    REQUIRE(sure != std::string::npos);
    CHECK(page.substr(sure, page.find("</svg>\n", sure) - sure).find("ninth s1") !=
          std::string::npos);
    const std::size_t unsure = page.find("climb at field: +0.07 m/s");
    REQUIRE(unsure != std::string::npos);
    CHECK(page.substr(unsure, page.find("</svg>\n", unsure) - unsure).find("ninth grey") !=
          std::string::npos);
    CHECK(page.find("600 m after 5:10, nine in ten ") != std::string::npos);
    CHECK(document["propellers"].size() == 3);
    // Without draws there are lines alone, and no odds.
    const std::string bare = html(demo_case, {"--no-band"});
    CHECK(count(bare, "class=\"ninth") == 0);
    CHECK(count(bare, "<details><summary>") == 2);
    CHECK(bare.find("600 m after 5:10.") != std::string::npos);
    // One that sinks does not climb less than nothing; one alone has nobody beside it.
    CHECK(page.find("<b>sinks ") == std::string::npos);
    const std::string sinking = html(replaced(replaced(demo_case, "\"385 kg\"", "\"640 kg\""),
                                              "glide_ratio = 6.2", "glide_ratio = 3.0"),
                                     {"--no-band"});
    CHECK(sinking.find("<b>sinks ") != std::string::npos);
    CHECK(count(sinking, "<td>sinks ") == 3);
    CHECK(count(sinking, "<td>down ") == 3);
    CHECK(sinking.find("The climb</h2>") == std::string::npos);
    const std::string alone = html(
        demo_case.substr(0, demo_case.find("[[propeller]]", demo_case.find("[[propeller]]") + 5)));
    CHECK(count(alone, "<details") == 0);
}

TEST_CASE("the page of compare draws settings and cage, and tells what its text tells" *
          doctest::test_suite("answers")) {
    const Scratch scratch;
    const std::string file = (scratch.folder() / "page.html").string();
    const std::string from = cases + "paraglider.toml";
    const Ran ran = run({"compare", from, "--page", file});
    REQUIRE(ran.status == 0);
    const std::string page = read(file);
    const auto document = json_of({"compare", from});
    // One that turns in its hub: what is advised, and what must not be flown, as the rows have it.
    const auto& angles = document["blade_angles"][0];
    const double best = angles["best_climb_deg"].get<double>();
    CHECK(count(page, fmt::format(">advised: {:.1f}° coarser</text>", best)) == 1);
    CHECK(count(page, ">must not be flown</text>") == 1);
    CHECK(count(page, "class=\"shade warned\"") == 2);
    CHECK(page.find(
              "must not be flown: \u22124.0° to +1.0°, +3.0° to +4.0°; advised: 1.0° coarser") !=
          std::string::npos);
    CHECK(page.find(fmt::format("{:.2f} m/s as advised",
                                angles["rows"][5]["climb_rate_m_s"].get<double>())) !=
          std::string::npos);
    // Each in the cage, at its tip.
    for (const auto& propeller : document["propellers"]) {
        const double gap = 1000.0 * propeller["fit"]["clearance_m"].get<double>();
        CHECK(count(page, fmt::format(", gap {:.0f} mm</text>", gap)) >= 1);
    }
    CHECK(count(page, ">the cage, 152.0 cm inside</text>") == 1);
    // The ranking rule, and what else the text has of each.
    CHECK(page.find(">ranked by climb, then quiet</span>") != std::string::npos);
    CHECK(count(page, " from tip to cage.</li>") == 3);
    CHECK(page.find("The climb is from 100 m to 600 m above the field") != std::string::npos);
    // The answer stands out by name and odds, the rest is plain.
    const std::size_t lead = page.find("class=\"lead\"");
    const std::string answer = page.substr(lead, page.find("</div>", lead) - lead);
    CHECK(answer.find("<strong>None is surely better than &quot;Alder 136&quot;</strong>: ") !=
          std::string::npos);
    CHECK(answer.find("<strong class=\"warned\">is 8 % likely to turn the engine over its "
                      "limit</strong> standing still (8322 rpm") != std::string::npos);
    CHECK(answer.find("is 8 %") < answer.find("None is"));
    for (const char mark : {'\x0e', '\x0f', '\x11'}) {
        CHECK(page.find(mark) == std::string::npos);
        CHECK(ran.out.find(mark) == std::string::npos);
    }
}

TEST_CASE("the builder's page colours the blade by the figures of its tables") {
    const Scratch scratch;
    const std::string file = (scratch.folder() / "page.html").string();
    // Of weaker wood, so that it is beyond what it may work at somewhere.
    const std::string from = scratch.write(
        "weak.toml",
        loadline::test::replaced(read(cases + "builder.toml"), "\"20 MPa\"", "\"14 MPa\""));
    const Ran ran = run({"blade", from, "--page", file});
    REQUIRE(ran.status == 0);
    const std::string page = read(file);
    const auto document = json_of({"blade", from});
    const double working = document["loads"]["working_stress_pa"].get<double>();
    for (const auto& station : document["stations"]) {
        const double cm = 100.0 * station["radius_m"].get<double>();
        const double share = 100.0 * station["stress_over_limit_pa"].get<double>() / working;
        const double left = station["stall_margin_deg"].get<double>();
        INFO(cm << " cm: " << share << " %, " << left << " deg");
        CHECK(count(page, fmt::format("{:.0f} % at {:.0f} cm", share, cm)) >= 1);
        const std::string stall =
            left < 0.0 ? fmt::format("stalled by {:.1f}°", -left) : fmt::format("{:.1f}°", left);
        CHECK(count(page, fmt::format("{} at {:.0f} cm", stall, cm)) == 1);
    }
    // Over the working stress it is hatched, and stalled too.
    CHECK(count(page, "class=\"area step4") == 4);
    CHECK(count(page, "class=\"hatch") > 20);
    // Every table of the text is there.
    for (const char* heading :
         {"What to change, most gain first", "What the blade carries, one blade",
          "First flapping against multiples of rotation", "What small faults of making do"}) {
        INFO(heading);
        CHECK(ran.out.find(heading) != std::string::npos);
        CHECK(count(page, std::string("<caption>") + heading) == 1);
    }
    CHECK(page.find("<strong class=\"warned\">No, by these figures</strong>: at 1.15") !=
          std::string::npos);
}

TEST_CASE("the page of trial is grey until the sign is sure") {
    const Scratch scratch;
    const std::string file = (scratch.folder() / "trial.html").string();
    const auto page = [&](const std::string& text) {
        const std::string from = scratch.write("c.toml", text);
        REQUIRE(run({"trial", from, "--page", file}).status == 0);
        const std::string html = read(file);
        const std::size_t picture = html.find("aria-label=\"Climb against Alder 136");
        REQUIRE(picture != std::string::npos);
        return html.substr(picture, html.find("</figure>", picture) - picture);
    };
    const std::string flown = read(cases + "trial.toml");
    const std::string sure = page(flown);
    CHECK(sure.find("almost surely worse (98 %)\"") != std::string::npos);  // told in words as well
    CHECK(count(sure, "class=\"curve s1\"") == 2);
    CHECK(count(sure, "class=\"curve grey\"") == 0);
    CHECK(count(sure, "no difference</text>") == 1);
    // Slower climbs with the first: no longer told apart surely.
    const std::string unsure = page(
        replaced(replaced(flown, "1 min 14.8 s", "1 min 18.8 s"), "1 min 10.4 s", "1 min 19.4 s"));
    CHECK(unsure.find("likely worse (") != std::string::npos);
    CHECK(count(unsure, "class=\"curve s1\"") == 0);
    CHECK(count(unsure, "class=\"curve grey\"") == 2);
    // Each climb a line with its end, each mean a thick one.
    const std::string html = read(file);
    CHECK(count(html, "class=\"thin ") == 8);
    CHECK(count(html, "class=\"thick ") == 2);
    // One flown alone is held against nothing.
    std::string alone =
        replaced(flown,
                 flown.substr(flown.find("[[propeller]]                       # more"),
                              flown.find("# Each flight") -
                                  flown.find("[[propeller]]                       # more")),
                 "");
    for (int i = 0; i < 2; ++i)
        alone = replaced(alone, "propeller = \"Sorrel 136\"", "propeller = \"Alder 136\"");
    REQUIRE(run({"trial", scratch.write("c.toml", alone), "--page", file}).status == 0);
    CHECK(read(file).find("no difference") == std::string::npos);
    CHECK(read(file).find("Mean rate of climb, nine in ten in brackets: Alder 136: ") !=
          std::string::npos);
}
