// Pages: whatever stands in a case shows as text, and the file is whole by itself.

#include "cli/page.hpp"
#include "document.hpp"
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

std::size_t count(const std::string& in, const std::string& what) {
    std::size_t n = 0;
    for (std::size_t at = in.find(what); at != std::string::npos; at = in.find(what, at + 1))
        ++n;
    return n;
}

// The page with everything of our own taken out: what is left came with the case.
std::string data_block(const std::string& html) {
    const std::size_t from = html.find("id=\"data\">");
    return html.substr(from + 10, html.find("</script>", from) - from - 10);
}

}  // namespace

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

TEST_CASE("each page is one file, small, quickly written, with its answer and headings in order") {
    const Scratch scratch;
    const std::vector<std::vector<std::string>> lines = {
        {"match", cases + "demo.toml"},
        {"compare", cases + "paraglider.toml"},
        {"curve", cases + "measured.toml", "--against", cases + "measured-points.csv", "--rpm",
         "1000"},
        {"blade", cases + "builder.toml"},
        {"trial", cases + "trial.toml"},
        {"lesson", cases + "demo.toml"}};
    for (std::vector<std::string> line : lines) {
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
        CHECK(count(html, "<canvas") ==
              count(html, "role=\"img\" aria-label=\"") - count(html, "<svg viewBox"));
        CHECK(count(html, "<th scope=") > 5);
        CHECK(html.find("aution") != std::string::npos);
        CHECK(html.find("NaN") == html.find("NaN", html.find("id=\"data\"")));
        CHECK(data_block(html).find("null,null") == std::string::npos);
        // Read without scripts: the tables are there.
        CHECK(count(html, "<tbody>") >= 1);
        // A second time it replaces the first.
        CHECK(run(line).status == 0);
    }
    CHECK(scratch.files() == 6);
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
    page.lead = {"\"" + name + "\" pulls harder; " + name + ": 12 N"};
    page.sections[0].charts[0].alternative = name + " at 6000 rpm";
    page.sections[0].charts[0].data["series"].push_back({{"name", name + " standing still"}});
    const std::string html = render(page);
    CHECK(html.find("<strong>&quot;<bdi>" + name + "</bdi>&quot; pulls harder;</strong> <bdi>" +
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
    const std::string in_flight = "\"Larch 172 at 20.9 m/s (75 km/h)\"";
    CHECK(metric.find(in_flight) != std::string::npos);

    std::string text = read(case_file);
    const std::string block = text.substr(text.rfind("[[propeller]]"));
    for (int i = 0; i < 5; ++i)
        text += "\n" + replaced(block, "Rowan 166 three-blade", fmt::format("Rowan {}", i));
    const std::string many = page(scratch.write("many.toml", text), "metric");
    CHECK(many.find(in_flight) == std::string::npos);
    CHECK(many.find("\"Rowan 4 standing still\"") != std::string::npos);
}
