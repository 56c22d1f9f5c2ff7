// Logs as recorders, phones and engine loggers write them: the formats by their specifications,
// every way in which such files are broken, sizes, and what a case says of them.

#include "loadline/case/case.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/log_file.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/study/log_runs.hpp"

#include "near.hpp"
#include "often.hpp"
#include "program.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <sys/stat.h>
#include <ctime>
#include <fstream>
#include <functional>
#include <map>
#include <string>
#include <vector>

using namespace loadline;
using loadline::test::has;
using loadline::test::Ran;
using loadline::test::replaced;
using loadline::test::run;
using loadline::test::Scratch;

namespace {

LogFile log_of(const std::string& text) {
    return parse_flight_log(text, "folder/test.igc");
}

std::string said_of(const LogFile& file) {
    return fmt::format("{}", fmt::join(file.notes, "\n"));
}

std::string refusal_of(const std::function<void()>& read) {
    try {
        read();
    } catch (const CaseError& error) {
        return error.what();
    }
    return "";
}

std::string log_refusal(const std::string& text) {
    return refusal_of([&] { log_of(text); });
}

// A B record of the specification's place at this second of the day.
std::string fix(int second, int pressure, int satellite, char valid = 'A') {
    return fmt::format("B{:02}{:02}{:02}5407121N00249342W{}{:05}{:05}", second / 3600 % 24,
                       second / 60 % 60, second % 60, valid, pressure, satellite);
}

// A log of one climb at 2 m/s from 300 m, a record a second.
std::string climb_igc(int seconds = 100, const std::string& end = "\r\n", int begin = 36000) {
    std::string text = "AXXX001" + end + "HFDTE020526" + end;
    for (int i = 0; i < seconds; ++i)
        text += fix(begin + i, 300 + 2 * i, 340 + 2 * i) + end;
    return text;
}

std::string point(int second, const std::string& height, const std::string& more = "") {
    return fmt::format(
        "<trkpt lat=\"47.5\" lon=\"9.25\"><ele>{}</ele><time>2026-05-02T{:02}:{:02}:{:02}Z</time>{}"
        "</trkpt>\n",
        height, second / 3600, second / 60 % 60, second % 60, more);
}

std::string gpx(const std::string& inside) {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"no\"?>\n"
           "<gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\" creator=\"a phone\">\n"
           "<trk><trkseg>\n" +
           inside + "</trkseg></trk></gpx>\n";
}

std::string points(int from, int to) {
    std::string text;
    for (int i = from; i < to; ++i)
        text += point(i, fmt::format("{}", 300 + 2 * (i - 36000)));
    return text;
}

EngineLogFile engine_of(const std::string& text, const EngineColumns& columns = {}) {
    return parse_engine_log(text, "engine.csv", columns);
}

std::string engine_refusal(const std::string& text, const EngineColumns& columns = {}) {
    return refusal_of([&] { engine_of(text, columns); });
}

}  // namespace

// ---- IGC

// Source: FAI, Technical specification for IGC-approved GNSS flight recorders, appendix A, 4.1: the
// B record of its example and the I record that goes with it.
TEST_CASE("the IGC specification's own record, with and without extensions") {
    const std::string record = "B1602405407121N00249342WA0028000421";
    const LogFile plain = log_of("AXXXABC FLIGHT:1\r\n" + record + "\r\n");
    REQUIRE(plain.log.heights.size() == 1);
    const HeightSample& s = plain.log.heights[0];
    CHECK(s.time == 16 * 3600.0 + 2 * 60.0 + 40.0);
    CHECK(s.pressure_altitude == 280.0);
    CHECK(s.satellite_height == 421.0);
    CHECK(plain.log.date.empty());
    CHECK(plain.log.name == "test.igc");
    CHECK(plain.notes.empty());
    const LogFile extended = log_of(
        "AXXXABC\r\nHFDTE160701\r\nI033638FXA3940SIU4143ENL\r\nJ010812HDT\r\n" + record +
        "20509950\r\nK160248003\r\nE160245PEV\r\nF160240040609123624221821\r\nLXXXRURITANIAN "
        "STANDARD\r\nG0123456789\r\n");
    REQUIRE(extended.log.heights.size() == 1);
    CHECK(extended.log.heights[0].pressure_altitude == 280.0);
    CHECK(extended.log.date == "2001-07-16");
    CHECK(extended.notes.empty());
}

TEST_CASE("IGC: engine speeds of a clock not yet set lie days away and are left out") {
    // A fortnight of midnights in rows without a height, of which the engine has the first.
    std::string text = "AXXXABC\r\nI013639RPM\r\n";
    const char* const times[] = {"B010000", "B090000", "B170000"};
    for (int k = 0; k < 60; ++k)
        text += (k < 15 ? fmt::format("B0000{:02}", k) : std::string(times[k % 3])) +
                "5407121N00249342WA99999999995000\r\n";
    const LogFile file = log_of(text +
                                "B1202405407121N00249342WA00280004215100\r\n"
                                "B1202505407121N00249342WA00290004315200\r\n");
    REQUIRE(file.log.heights.size() == 2);
    for (const EngineSample& sample : file.log.engine)
        CHECK(std::abs(sample.time - file.log.heights.front().time) < 2.0 * 86400.0);
    FlownFlight flight;
    flight.log = std::make_shared<const FlightLog>(file.log);
    flight.search_log = true;
    CHECK(log_runs(flight).climbs.empty());
}

TEST_CASE("IGC: the date in both forms, heights below nothing, tenths of a second, engine speed") {
    for (const char* date :
         {"HFDTE020526", "HFDTEDATE:020526,01", "HFDTEDATE: 020526", "HFDTE020526 "})
        CHECK(log_of(std::string(date) + "\n" + fix(36000, 100, 100) + "\n").log.date ==
              "2026-05-02");
    CHECK(log_of("HFDTE310226\n" + fix(36000, 100, 100) + "\n").log.date.empty());
    CHECK(log_of("HFDTE020599\n" + fix(36000, 100, 100) + "\n").log.date == "1999-05-02");
    const LogFile below = log_of("HFDTE020526\nB1000005407121N00249342WA-012000034\n");
    CHECK(below.log.heights.at(0).pressure_altitude == -120.0);
    // Five a second are one a second, and rpm comes along.
    std::string text = "HFDTE020526\nI023636TDS3741RPM\n";
    for (int i = 0; i < 50; ++i)
        text += fix(36000 + i / 5, 300 + i, 300) + fmt::format("{}{:05}\n", 2 * (i % 5), 7800 + i);
    const LogFile fast = log_of(text);
    REQUIRE(fast.log.heights.size() == 10);
    CHECK(near(fast.log.heights[3].time, 36003.4, 1e-6));
    CHECK(near(fast.log.heights[3].pressure_altitude.value(), 317.0, 1e-9));
    REQUIRE(fast.log.engine.size() == 10);
    CHECK(near(fast.log.engine[0].rotation.value(), 7802.0 * rpm, 1e-9));
}

TEST_CASE("IGC: a fix without satellites keeps its pressure, zeros alone are no pressure") {
    const LogFile two =
        log_of("HFDTE020526\n" + fix(36000, 300, 0, 'V') + "\n" + fix(36001, 301, 345) + "\n");
    CHECK(two.log.heights.at(0).pressure_altitude == 300.0);
    CHECK_FALSE(two.log.heights.at(0).satellite_height);
    std::string text = "HFDTE020526\n";
    for (int i = 0; i < 20; ++i)
        text += fix(36000 + i, 0, 340 + i) + "\n";
    const LogFile none = log_of(text);
    CHECK(none.log.heights.size() == 20);
    CHECK_FALSE(none.log.heights[0].pressure_altitude);
    CHECK(none.log.heights[0].satellite_height == 340.0);
    CHECK(has(said_of(none), "no pressure altitude"));
    CHECK(has(log_refusal("HFDTE020526\n" + fix(36000, 0, 0, 'V') + "\n"), "has no record"));
    // A position gives the speed over the ground: a thousandth of a minute of latitude a second is
    // 1.853 m.
    text = "HFDTE020526\n";
    for (int i = 0; i < 8; ++i)
        text += fmt::format("B1000{:02}5407{:03}N00249342WA0030000340\n", i, 121 + 6 * i);
    CHECK(near(log_of(text).log.heights.back().ground_speed.value(), 6 * 1.853, 0.02));
}

TEST_CASE("IGC over midnight, with seconds twice, and with time going back") {
    const LogFile night = log_of(climb_igc(100, "\n", 86350));
    REQUIRE(night.log.heights.size() == 100);
    CHECK(night.log.heights.front().time == 86350.0);
    CHECK(night.log.heights.back().time == 86449.0);
    CHECK(night.log.date == "2026-05-02");
    CHECK(night.notes.empty());
    std::string text = climb_igc(50) + fix(36049, 400, 440) + "\n" + fix(36049, 402, 440) + "\n";
    const LogFile twice = log_of(text);
    CHECK(twice.log.heights.size() == 50);
    CHECK(near(twice.log.heights.back().pressure_altitude.value(), 400.0, 1e-9));
    text = climb_igc(50) + fix(36020, 900, 940) + "\r\n" + fix(36050, 400, 440) + "\r\n";
    const LogFile back = log_of(text);
    CHECK(back.log.heights.size() == 51);
    CHECK(has(said_of(back),
              "test.igc: 1 of 52 records left out, the first on line 53: their time goes back"));
    // A clock that was not yet set when the recorder was switched on.
    text = climb_igc(50);
    text.insert(text.find('B'), fix(50000, 300, 340) + "\r\n" + fix(50001, 300, 340) + "\r\n");
    const LogFile unset = log_of(text);
    CHECK(unset.log.heights.size() == 50);
    CHECK(has(said_of(unset), "2 of 52 records left out, the first on line 3"));
    // And a phone whose first fix or last is years away.
    const std::string other =
        "<trkpt lat=\"1\" lon=\"2\"><ele>1</ele><time>{}-05-02T10:00:00Z</time></trkpt>\n";
    const std::string long_ago = replaced(other, "{}", "2019"),
                      far_off = replaced(other, "{}", "2036");
    const LogFile years = log_of(gpx(long_ago + points(36000, 36100) + far_off));
    CHECK(years.log.heights.size() == 100);
    CHECK(years.log.date == "2026-05-02");
    CHECK(has(said_of(years),
              "2 of 102 records left out, the first on line 4: their time lies days"));
}

TEST_CASE("IGC: heights that jump are left out, a new level is not") {
    std::string text = climb_igc(30);
    for (int i = 30; i < 60; ++i)
        text += fix(36000 + i, i == 40 || i == 41 ? 10360 : 300 + 2 * i, 340 + 2 * i) + "\r\n";
    const LogFile jump = log_of(text);
    CHECK(jump.log.heights.size() == 60);  // satellites know their height
    CHECK_FALSE(jump.log.heights[40].pressure_altitude);
    CHECK(jump.log.heights[39].pressure_altitude == 378.0);
    CHECK(jump.log.heights[42].pressure_altitude == 384.0);
    CHECK(has(said_of(jump), "2 of 60 records left out, the first on line 43: their height jumps"));
    // At the beginning, and at the end.
    text = "HFDTE020526\n" + fix(35999, 9000, 9000) + "\n" + climb_igc(30) +
           fix(36031, 9000, 9000) + "\n";
    const LogFile ends = log_of(text);
    CHECK(ends.log.heights.size() == 30);
    CHECK(has(said_of(ends), "left out, the first on line 2"));
    // Somebody switched it off and drove up a hill.
    text = climb_igc(30);
    for (int i = 31; i < 60; ++i)
        text += fix(36000 + i, 1300 + 2 * i, 1340 + 2 * i) + "\r\n";
    const LogFile level = log_of(text);
    CHECK(level.log.heights.size() == 59);
    CHECK(level.log.heights[30].begins);
    CHECK(level.notes.empty());
}

TEST_CASE("IGC: whatever ends its lines, and with what does not belong there") {
    const LogFile plain = log_of(climb_igc());
    for (const char* end : {"\n", "\r", "\r\n", "\n\r\n", "\r\r\n"})
        CHECK(log_of(climb_igc(100, end)).log.heights.size() == 100);
    CHECK(log_of("\xEF\xBB\xBF" + climb_igc()).log.heights.size() == 100);
    CHECK(log_of("\n\n" + climb_igc()).log.heights.size() == 100);
    // Cut within its last line.
    std::string text = climb_igc();
    text.resize(text.size() - 8);
    const LogFile cut = log_of(text);
    CHECK(cut.log.heights.size() == 99);
    CHECK(has(said_of(cut), "1 of 100 records left out, the first on line 102: they do not read"));
    // Bytes of another script in a header, zeros and noise in records.
    text = replaced(climb_igc(), "AXXX001", "AXXX001 \xFC\xE9\xFF\xD0");
    CHECK(log_of(text).notes.empty());
    text = climb_igc();
    text[text.find("B100010") + 3] = '\0';
    text[text.find("B100020") + 26] = '\xC3';
    const LogFile zero = log_of(text);
    CHECK(zero.log.heights.size() == 99);  // of the second one satellites are sound
    CHECK(has(said_of(zero), "1 of 100 records left out, the first on line 13"));
    // A line longer than any record, and times that are none.
    text = climb_igc() + std::string(3 * most::log_line, 'B') + "\n" +
           "B2560005407121N00249342WA0030000340\n";
    CHECK(has(said_of(log_of(text)), "2 of 102 records left out"));
}

TEST_CASE("what is no log is refused with what to write instead") {
    CHECK(has(log_refusal(""), "folder/test.igc:1:1: the log is empty; "));
    CHECK(has(log_refusal(" \r\n\t"), "the log is empty"));
    CHECK(has(log_refusal("hello\nworld\n"), "neither an IGC nor a GPX file; write the track"));
    CHECK(has(log_refusal("time,rpm\n1,2\n3,4\n"), "as engine_log"));
    CHECK(has(log_refusal("HFDTE020526\n"), "folder/test.igc:1:1: the log has no record"));
    CHECK(has(log_refusal("HFDTE020526\nBad\n"),
              "folder/test.igc:2:1: the log has no record of use: they do not read"));
    std::string noise(200'000, ' ');
    unsigned state = 1;
    for (char& c : noise)
        c = static_cast<char>((state = state * 1664525U + 1013904223U) >> 24U);
    CHECK(has(log_refusal(noise), "neither an IGC nor a GPX file"));
    CHECK(has(engine_refusal(noise), "engine.csv:"));
}

// ---- GPX

// Source: GPX 1.1 schema, http://www.topografix.com/GPX/1/1: namespace, elements and their order.
TEST_CASE("GPX: the schema's elements, times in all their forms, segments") {
    std::string inside =
        "<trkpt lat=\"47.644548\" lon=\"-122.326897\"><ele>4.46</ele>"
        "<time>2009-10-17T18:37:26Z</time></trkpt>";
    const LogFile one = log_of(gpx(inside));
    REQUIRE(one.log.heights.size() == 1);
    CHECK(one.log.heights[0].time == 18 * 3600.0 + 37 * 60.0 + 26.0);
    CHECK(one.log.heights[0].satellite_height == 4.46);
    CHECK_FALSE(one.log.heights[0].pressure_altitude);
    CHECK(one.log.date == "2009-10-17");
    for (const auto& [time, second] : {std::pair{"2026-05-02T10:00:00.250Z", 36000.25},
                                       {"2026-05-02T12:00:00+02:00", 36000.0},
                                       {"2026-05-02T12:00:00.5+0200", 36000.5},
                                       {"2026-05-02T08:00:00-02", 36000.0},
                                       {"2026-05-02T10:00:00", 36000.0},
                                       {" 2026-05-02t10:00:00z\n", 36000.0}}) {
        const LogFile f = log_of(gpx(fmt::format(
            "<trkpt lat=\"1\" lon=\"2\"><ele>+7.5</ele><time>{}</time></trkpt>", time)));
        CHECK(f.log.heights.at(0).time == second);
        CHECK(f.log.date == "2026-05-02");
    }
    // An offset over midnight: the day in UTC.
    CHECK(log_of(gpx("<trkpt lat=\"1\" "
                     "lon=\"2\"><ele>1</ele><time>2026-05-02T01:00:00+02:00</time></trkpt>"))
              .log.date == "2026-05-01");
    // A prefix, other elements, way points and routes.
    std::string text = gpx(points(36000, 36100));
    text = replaced(
        text, "<trk>",
        "<metadata><name>a &amp; b \xC3\xA9</name></metadata><wpt lat=\"1\" lon=\"2\"><ele>9"
        "</ele><time>2020-01-01T00:00:00Z</time></wpt><trk><name>n</name>");
    CHECK(log_of(text).log.heights.size() == 100);
    for (const char* name : {"gpx", "trk", "trkseg", "trkpt", "ele", "time"})
        for (const char* mark : {"<", "</"})
            for (std::size_t at = 0;
                 (at = text.find(fmt::format("{}{}", mark, name), at)) != std::string::npos;
                 at += 3)
                if (const char next =
                        text[at + std::string(mark).size() + std::string(name).size()];
                    next == '>' || next == ' ')
                    text.insert(at + std::string(mark).size(), "g:");
    text = replaced(text, "xmlns=", "xmlns:g=");
    CHECK(log_of(text).log.heights.size() == 100);
    // A new segment and a gap begin anew; speed of an older version or an extension.
    text = gpx(points(36000, 36005) + "</trkseg><trkseg>" + points(36005, 36010) +
               points(36030, 36035));
    const LogFile parts = log_of(text);
    CHECK(parts.log.heights[5].begins);
    CHECK_FALSE(parts.log.heights[6].begins);
    FlownFlight flight;
    flight.log = std::make_shared<const FlightLog>(parts.log);
    CHECK(heights_to_draw(flight, 100)[10].begins);
    CHECK(near(
        log_of(gpx(point(36000, "1",
                         "<extensions><x:speed xmlns:x=\"urn:x\">11.5</x:speed></extensions>")))
            .log.heights[0]
            .ground_speed.value(),
        11.5, 1e-12));
}

TEST_CASE("GPX: broken off, not well formed, without times, without points") {
    std::string text = gpx(points(36000, 36100));
    text.resize(text.find("10:01:00") + 4);
    const LogFile cut = log_of(text);
    CHECK(cut.log.heights.size() == 60);
    CHECK(has(said_of(cut), "breaks off at line 64, column"));
    text = replaced(gpx(points(36000, 36100)), "10:00:50Z</time>", "10:00:50Z</tame>");
    const LogFile wrong = log_of(text);
    CHECK(wrong.log.heights.size() == 50);
    CHECK(has(said_of(wrong), "what stands before is used"));
    text = replaced(gpx(points(36000, 36100)), "<time>2026-05-02T10:00:50Z</time>", "");
    CHECK(has(said_of(log_of(text)),
              "1 of 100 records left out, the first on line 54: they have no time"));
    text = replaced(gpx(points(36000, 36100)), "10:00:50Z", "ten o'clock");
    text = replaced(text, "<ele>340</ele>", "<ele>high</ele>");
    CHECK(has(said_of(log_of(text)),
              "2 of 100 records left out, the first on line 24: they do not read"));
    CHECK(has(log_refusal(gpx("")), "no track point"));
    CHECK(has(log_refusal(gpx("<trkpt lat=\"1\" lon=\"2\"/>")), "they have no time"));
    CHECK(has(log_refusal("<kml></kml>"), "this is no GPX file: its root is \"kml\""));
    CHECK(has(log_refusal("<gpx><trk>"), "breaks off before any point"));
    CHECK(has(log_refusal("<<<"), "folder/test.igc:1:"));
}

TEST_CASE("GPX: nothing of the file's own making is expanded or fetched") {
    std::string laughs = "<!DOCTYPE gpx [<!ENTITY a \"haha\">";
    for (char c = 'b'; c < 'k'; ++c)
        laughs += fmt::format("<!ENTITY {} \"&{};&{};&{};&{};\">", c, c - 1, c - 1, c - 1, c - 1);
    CHECK(has(log_refusal(replaced(gpx("<ele>&j;</ele>"), "<gpx", laughs + "]><gpx")),
              "a document type of its own"));
    CHECK(
        has(log_refusal(replaced(gpx("&x;"), "<gpx",
                                 "<!DOCTYPE gpx [<!ENTITY x SYSTEM \"file:///etc/passwd\">]><gpx")),
            "a document type of its own"));
    std::string deep = gpx("");
    std::string inner;
    for (int i = 0; i < 100'000; ++i)
        inner += "<a>";
    CHECK(has(log_refusal(gpx(inner)), "64 elements within each other"));
    CHECK(
        has(log_refusal(gpx("<trkpt lat=\"" + std::string(3'000'000, '1'))), "a megabyte without"));
    CHECK(log_of(gpx(point(36000, "1") + "<x>" + std::string(3'000'000, 'x') + "</x>"))
              .log.heights.size() == 1);
}

// ---- engine loggers

TEST_CASE("an engine's log in the ways loggers write them") {
    struct Way {
        const char* text;
        double time, turns, head;  // s, rpm, degC of the second sample
        bool clock;
    };
    for (const Way& way :
         {Way{"time,rpm,CHT\n0,7000,150\n1,7100,160\n", 1.0, 7100, 160, false},
          {"rpm;CHT (degC);time [s]\n7000;150;0\n7100;160;1\n", 1.0, 7100, 160, false},
          {"rpm;CHT (°C);time [s]\n7000;150,5;0\n7100;160,5;1,5\n", 1.5, 7100, 160.5, false},
          {"CHT [F]\ttime [ms]\tEngine speed\n302\t0\t7000\n320\t2000\t7100\n", 2.0, 7100, 160,
           false},
          {"Logger 4\nSerial;12\n\n\"Time\",\"RPM 1\",\"Cylinder head (K)\"\n\"10:00:00\",\"7000\","
           "\"423.15\"\n\"10:00:01\",\"7100\",\"433.15\"\n",
           36001.0, 7100, 160, true},
          {"Timestamp,RPM,CHT\n2026-05-02T10:00:00Z,7000,150\n2026-05-02T10:00:01Z,7100,160\n",
           36001.0, 7100, 160, true},
          {"Timestamp;n (Hz);CHT;rpm\n02.05.2026 10:00:00;1;150;7000\n02.05.2026 "
           "10:00:01;1;160;7100\n",
           36001.0, 7100, 160, true},
          {"utc,rpm,cht\n1777716000,7000,150\n1777716001,7100,160\n", 36000.0 + 1.0, 7100, 160,
           true},
          {"utc,rpm,cht\n1777716000000,7000,150\n1777716001000,7100,160\n", 36000.0 + 1.0, 7100,
           160, true},
          {"elapsed,Prop RPM,Engine RPM,head\n00:00:00,2000,7000,150\n00:00:01,2010,7100,160\n",
           1.0, 7100, 160, false},
          {"t,rpm,head\n0:58,7000,150\n1:00,7100,160\n", 2.0, 7100, 160, false},
          {"t,rpm,head\r1,7000,150\r3,7100,160\r", 2.0, 7100, 160, false}}) {
        INFO(way.text);
        const EngineLogFile f = engine_of(way.text);
        REQUIRE(f.samples.size() == 2);
        CHECK(f.has_clock == way.clock);
        CHECK(near(f.samples[1].time, way.time, 1e-6));
        CHECK(near(f.samples[1].rotation.value() / rpm, way.turns, 1e-9));
        CHECK(near(f.samples[1].head.value() - 273.15, way.head, 1e-9));
    }
    // Named by the case.
    const std::string odd = "n1,w,kopf\n7000,0,150\n7100,1,160\n";
    CHECK(has(engine_refusal(odd), "names no time with an engine speed or head"));
    const EngineLogFile named = engine_of(odd, {"w", "n1", "kopf"});
    CHECK(near(named.samples.at(1).rotation.value() / rpm, 7100.0, 1e-9));
    CHECK(has(engine_refusal(odd, {"w", "n2", "kopf"}), "engine.csv:1:1: "));
    const EngineLogFile second =
        engine_of("time,RPM 1,RPM 2\n0,7000,7010\n1,7000,7010\n", {"", "RPM 2", ""});
    CHECK(near(second.samples.at(0).rotation.value() / rpm, 7010.0, 1e-9));
    CHECK(has(engine_of("time,RPM 1,RPM 2\n0,7000,7010\n").notes.at(0),
              "\"RPM 1\", not from \"RPM 2\""));
    CHECK(has(engine_of("time,rpm,CHT\n0,7000,150\n").notes.at(0), "taken as degC"));
    CHECK(engine_of("time,rpm\n0,7000\n").samples.at(0).head.has_value() == false);
}

TEST_CASE("an engine's log that is broken: what is sound is used, the rest told") {
    std::string text = "time,rpm,CHT (degC)\n";
    for (int i = 0; i < 60; ++i)
        text += fmt::format("{},{},{}\n", i, 7000 + i, 150);
    std::string broken = replaced(text, "30,7030,150", "30,7030");
    broken = replaced(broken, "31,7031,150", "31,---,");
    broken = replaced(broken, "32,7032,150", "then,7032,150");
    broken = replaced(broken, "33,7033,150", "33,970330,150");
    broken = replaced(broken, "34,7034,150", "20,7034,150");
    broken.resize(broken.size() - 6);
    const EngineLogFile f = engine_of(broken);
    CHECK(f.samples.size() == 55);
    const std::string said = fmt::format("{}", fmt::join(f.notes, "\n"));
    CHECK(
        has(said, "engine.csv: 3 of 60 records left out, the first on line 32: they do not read"));
    CHECK(
        has(said, "1 of 60 records left out, the first on line 35: their values are out of range"));
    CHECK(has(said, "1 of 60 records left out, the first on line 36: their time goes back"));
    CHECK(has(engine_refusal(""), "engine.csv:1:1: the engine log is empty"));
    CHECK(has(engine_refusal("time,rpm\n"),
              "engine.csv:1:1: the engine log has no row below its header"));
    CHECK(
        has(engine_refusal("time,rpm\nx,y\n"), "engine.csv:2:1: the engine log has no row of use"));
    CHECK(has(engine_refusal("a,b\n1,2\n"), "engine.csv:1:1: \"a,b\" names no time"));
    CHECK(has(engine_refusal("time,rpm,CHT (degrees)\n1,2,3\n"), "engine.csv:1:10: the unit of"));
    CHECK(has(engine_refusal("time,rpm (turns)\n1,2\n"), "write rpm, 1/min or Hz"));
    // Over midnight.
    const EngineLogFile night =
        engine_of("time,rpm\n23:59:58,7000\n23:59:59,7000\n00:00:00,7000\n");
    CHECK(night.samples.at(2).time == 86400.0);
    // Ten a second are one a second.
    text = "time,rpm\n";
    for (int i = 0; i < 100; ++i)
        text += fmt::format("{:.1f},{}\n", 0.1 * i, 7000 + i % 10);
    CHECK(engine_of(text).samples.size() == 10);
    CHECK(near(engine_of(text).samples[5].rotation.value() / rpm, 7004.5, 1e-6));
}

// ---- sizes

namespace {

double processor_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

// Greatest size of this process since it was last asked to forget, MB; Linux alone tells.
double greatest_size() {
    std::ifstream in("/proc/self/status");
    for (std::string line; std::getline(in, line);)
        if (line.starts_with("VmHWM:"))
            return std::stod(line.substr(6)) / 1000.0;
    return 0.0;
}
void forget_size() {
    std::ofstream("/proc/self/clear_refs") << "5";
}

}  // namespace

TEST_CASE("four hours of a log are read and searched in well under a second") {
    std::string igc = "AXXX\nHFDTE020526\nI013638FXA\n", csv = "time,rpm,CHT (degC),EGT\n", track;
    for (int i = 0; i < 4 * 3600; ++i) {
        const int height = 300 + 2 * std::min(i % 600, 600 - i % 600);
        igc += fix(36000 + i, height, height + 40) + "007\n";
        csv += fmt::format("{:02}:{:02}:{:02},{},{},600\n", 10 + i / 3600, i / 60 % 60, i % 60,
                           i % 600 < 300 ? 7850 : 3400, 150 + i % 40);
        track += point(36000 + i, std::to_string(height));
    }
    const double begin = processor_seconds();
    const LogFile flight = log_of(igc);
    const double after_igc = processor_seconds();
    const EngineLogFile engine = engine_of(csv);
    const double after_csv = processor_seconds();
    const LogFile phone = log_of(gpx(track));
    const double after_gpx = processor_seconds();
    FlownFlight f;
    FlightLog log = flight.log;
    log.engine = engine.samples;
    f.log = std::make_shared<const FlightLog>(log);
    f.search_log = true;
    f.from = 100.0;
    f.to = 300.0;
    const LogRuns runs = log_runs(f);
    const double end = processor_seconds();
    fmt::print("four hours: IGC {:.0f} ms, engine {:.0f} ms, GPX {:.0f} ms, search {:.0f} ms\n",
               1e3 * (after_igc - begin), 1e3 * (after_csv - after_igc),
               1e3 * (after_gpx - after_csv), 1e3 * (end - after_gpx));
    CHECK(flight.log.heights.size() == 14400);
    CHECK(engine.samples.size() == 14400);
    CHECK(phone.log.heights.size() == 14400);
    CHECK(runs.climbs.size() == 24);
    CHECK(end - begin < 1.0 * loadline::test::slower);
}

TEST_CASE("a hundred megabytes take their time and no memory") {
    const Scratch scratch;
    // What is written again and again goes on in time only within it: such records count as well.
    std::map<std::string, std::pair<std::string, std::string>> kinds;  // beginning and block
    kinds["igc"].first = "HFDTE020526\nI013637TDS\n";
    kinds["gpx"].first = "<gpx version=\"1.1\"><trk><trkseg>\n";
    kinds["csv"].first = "time,rpm,CHT (degC),,,,,,\n";
    unsigned state = 1;
    for (int i = 0; i < 10'000; ++i) {
        kinds["igc"].second +=
            fix(36000 + i / 2, 300 + i % 50, 340) + fmt::format("{:02}\n", i % 2 * 50);
        kinds["gpx"].second += point(36000 + i, "300");
        kinds["csv"].second += fmt::format("{},{},150,,,,,,\n", i, 7000);
        for (int k = 0; k < 40; ++k)
            kinds["noise"].second +=
                static_cast<char>((state = state * 1664525U + 1013904223U) >> 24U);
    }
    kinds["line"] = {"HFDTE020526\n" + fix(36000, 300, 340) + "\nB", std::string(400'000, '1')};
    kinds["element"] = {gpx(point(36000, "300")) + "<!--", std::string(400'000, 'x')};
    for (const auto& kind : kinds) {
        const std::string& name = kind.first;  // doctest with clang 14
        const auto file = scratch.folder() / fmt::format("big.{}", name);
        {
            std::ofstream out(file, std::ios::binary);
            out << kind.second.first;
            // The slower readers have less.
            const std::size_t size = (name == "csv" || name == "gpx" ? 50'000'000U : 100'000'000U) /
                                     static_cast<std::size_t>(loadline::test::slower);
            for (std::size_t written = 0; written < size; written += kind.second.second.size())
                out << kind.second.second;
        }
        forget_size();
        const double before = greatest_size(), begin = processor_seconds();
        std::string refused;
        std::size_t samples = 0;
        try {
            samples = name == "csv" ? read_engine_log(file).samples.size()
                                    : read_flight_log(file).log.heights.size();
        } catch (const CaseError& error) {
            refused = error.what();
        }
        const double more = greatest_size() - before;
        fmt::print("{} MB of {}: {} samples, {:.1f} s, {:.1f} MB more\n",
                   std::filesystem::file_size(file) / 1'000'000, name, samples,
                   processor_seconds() - begin, more);
        INFO(name);
        INFO(refused);
        CHECK((name == "noise") == has(refused, "neither an IGC nor a GPX file"));
        CHECK((name == "noise") == (samples == 0));
        CHECK(before > 1.0);
        CHECK(more < 30.0);
        std::filesystem::remove(file);
    }
}

TEST_CASE("as long as a log may be, and a second longer") {
    std::string text = "time,rpm\n";
    for (std::size_t i = 0; i <= most::log_samples; ++i)
        text += std::to_string(i) + ",7000\n";
    const EngineLogFile over = engine_of(text);
    CHECK(over.samples.size() == most::log_samples);
    CHECK(has(over.notes.at(0), "1 of 200001 records left out, the first on line 200002"));
    text.resize(text.rfind('\n', text.size() - 2) + 1);
    CHECK(engine_of(text).notes.empty());
    // Lines before a header, columns of it.
    std::string before;
    for (std::size_t i = 0; i + 1 < most::log_header_lines; ++i)
        before += "#\n";
    CHECK(engine_of(before + "time,rpm\n1,7000\n").samples.size() == 1);
    CHECK(has(engine_refusal(before + "#\ntime,rpm\n1,7000\n"), "no line names the columns"));
    const std::string wide(most::log_columns - 2, ',');
    CHECK(engine_of("time,rpm" + wide + "\n1,7000" + wide + "\n").samples.size() == 1);
    CHECK(has(engine_refusal("time,rpm," + wide + "\n1,7000," + wide + "\n"), "no line names"));
}

// ---- as a case names them

namespace {

// A case with one flight, whose log is a climb at 2 m/s, in a folder of its own.
class LogCase {
public:
    LogCase() {
        write("morning.igc", climb_igc(150));
        std::string csv = "Time;RPM;CHT (degC)\n";
        for (int i = 0; i < 150; ++i)
            csv += fmt::format("12:{:02}:{:02};7850;{}\n", i / 60, i % 60, 150 + i / 5);
        write("engine.csv", csv);
    }
    void write(const std::string& name, const std::string& text) const {
        std::ofstream(scratch_.folder() / name, std::ios::binary) << text;
    }
    [[nodiscard]] Case read(const std::string& keys) const {
        write("case.toml",
              "[[propeller]]\nname = \"A\"\nlabel = \"136 x 68 cm\"\nblades = 2\n"
              "[[flight]]\npropeller = \"A\"\n" +
                  keys);
        return read_case(scratch_.folder() / "case.toml", {LOADLINE_ROOT "/airfoils"});
    }
    [[nodiscard]] std::string refused(const std::string& keys) const {
        return refusal_of([&] { static_cast<void>(read(keys)); });
    }
    [[nodiscard]] std::filesystem::path folder() const { return scratch_.folder(); }

private:
    Scratch scratch_;
};

}  // namespace

TEST_CASE("a flight names its logs, by contents whatever they are called") {
    const LogCase logs;
    const Case plain = logs.read("log = \"morning.igc\"\n");
    REQUIRE(plain.flights.at(0).log != nullptr);
    CHECK(plain.flights[0].date == "2026-05-02");
    CHECK(plain.flights[0].search_log);
    CHECK(plain.flights[0].log->heights.size() == 150);
    logs.write("track.txt", gpx(points(36000, 36150)));
    CHECK(logs.read("log = \"track.txt\"\ndate = \"a Saturday\"\n").flights[0].date ==
          "a Saturday");
    const Case both = logs.read(
        "log = \"morning.igc\"\nengine_log = {file = \"engine.csv\", clock_offset = \"-2 h\"}\n"
        "from = \"50 m\"\nto = \"200 m\"\n");
    CHECK(both.flights[0].log->engine.size() == 150);
    CHECK(both.flights[0].log->engine[0].time == 36000.0);
    CHECK(both.flights[0].from == 50.0);
    const LogRuns runs = log_runs(both.flights[0]);
    REQUIRE(runs.climbs.size() == 1);
    CHECK(near((runs.climbs[0].to - runs.climbs[0].from) / runs.climbs[0].time, 2.0, 1e-6));
    // Engine hours apart from the flight: what to write instead.
    CHECK(has(logs.refused("log = \"morning.igc\"\nengine_log = \"engine.csv\"\n"),
              "clock_offset = \"-2 h\""));
    // Without a clock it begins with the log.
    logs.write("timer.csv", "t,rpm\n0,7000\n1,7000\n2,7000\n");
    const Case timer = logs.read(
        "log = \"morning.igc\"\nengine_log = {file = \"timer.csv\", clock_offset = \"5 s\"}\n");
    CHECK(timer.flights[0].log->engine[0].time == 36005.0);
    CHECK(has(timer.notes.at(0),
              "timer.csv has no clock: it is taken to begin with morning.igc (10:00:05 UTC"));
    logs.write("odd.csv", "w,n\n0,7000\n1,7000\n2,7000\n");
    CHECK(logs.read("log = \"morning.igc\"\nengine_log = {file = \"odd.csv\", time = \"w\", rpm = "
                    "\"n\"}\n")
              .flights[0]
              .log->engine.size() == 3);
    CHECK(has(logs.refused("log = \"morning.igc\"\nengine_log = {time = \"w\"}\n"),
              "engine_log has no file"));
}

TEST_CASE("climbs and flights named by their time, in UTC or by the pilot's clock") {
    const LogCase logs;
    const Case named = logs.read(
        "log = \"morning.igc\"\nclock = \"2 h\"\nclimbs = [{begin = \"12:00:10\", end = \"12:02\", "
        "rpm = \"7800 "
        "rpm\"}, \"1 min 3 s\"]\nfrom = \"100 m\"\nto = \"250 m\"\n");
    const FlownFlight& flight = named.flights[0];
    CHECK_FALSE(flight.search_log);
    REQUIRE(flight.named.size() == 1);
    CHECK(flight.named[0].window.begin == 36010.0);
    CHECK(flight.named[0].window.end == 36120.0);
    CHECK(flight.climbs.size() == 1);  // with one written by hand beside it
    CHECK(log_runs(flight).climbs.size() == 1);
    const Case part =
        logs.read("log = \"morning.igc\"\nbegin = \"10:00:30\"\nend = \"10:01:30\"\n");
    CHECK(part.flights[0].log->heights.size() == 61);
    for (const auto& broken :
         {std::pair{
              "log = \"morning.igc\"\nclimbs = [{begin = \"12:00:10\", end = \"12:02:00\"}]\n",
              "the log runs from 10:00:00 to 10:02:29; write it by UTC"},
          {"log = \"morning.igc\"\nclimbs = [{begin = \"10:02:00\", end = \"10:00:00\"}]\n",
           "from begin to end"},
          {"log = \"morning.igc\"\nclimbs = [{begin = \"10:02:00\"}]\n", "has no end"},
          {"log = \"morning.igc\"\nclimbs = [{begin = \"soon\", end = 3}]\n",
           "begin is not a time of the day"},
          {"climbs = [{begin = \"10:00:00\", end = \"10:02:00\"}]\n", "no log to find it on"},
          {"log = \"morning.igc\"\nbegin = \"10:02:00\"\nend = \"10:01:00\"\n",
           "nothing of the log between"},
          {"log = \"morning.igc\"\nfrom = \"100 m\"\n", "has no to"},
          {"log = \"morning.igc\"\nfrom = \"100 m\"\nto = \"110 m\"\n", "20 m or more above from"},
          {"engine_log = \"engine.csv\"\nclimbs = [\"62 s\"]\nfrom = \"1 m\"\nto = \"90 m\"\n",
           "engine_log goes with log"},
          {"from = \"100 m\"\nto = \"250 m\"\n", "or log = \"morning.igc\""}}) {
        const std::string keys = broken.first, words = broken.second;
        INFO(keys);
        const std::string said = logs.refused(keys);
        INFO(said);
        CHECK(has(said, words));
        CHECK(has(said, "case.toml:"));
    }
}

TEST_CASE("logs are opened beside the case and nowhere else, and pipes hang nobody") {
    const LogCase logs;
    const LogCase other;
    CHECK(has(logs.refused("log = \"mourning.igc\"\n"),
              "case.toml:7:7: there is no log \"mourning.igc\"; perhaps \"morning.igc\""));
    CHECK(has(logs.refused("log = \"nothing.gpx\"\n"), "write the name of a file beside the case"));
    CHECK(
        has(logs.refused(fmt::format("log = \"{}\"\n", (other.folder() / "morning.igc").string())),
            "lies outside the folder of the case"));
    CHECK(has(logs.refused(
                  fmt::format("log = \"../{}/morning.igc\"\n", other.folder().filename().string())),
              "lies outside the folder of the case"));
    std::filesystem::create_symlink(other.folder() / "morning.igc", logs.folder() / "link.igc");
    CHECK(has(logs.refused("log = \"link.igc\"\n"), "lies outside the folder of the case"));
    REQUIRE(::mkfifo((logs.folder() / "pipe.igc").c_str(), 0600) == 0);
    CHECK(has(logs.refused("log = \"pipe.igc\"\n"), "is a folder, a pipe or a device"));
    CHECK(has(refusal_of([&] { read_flight_log(logs.folder() / "pipe.igc"); }),
              "a pipe or a device"));
    std::filesystem::create_directory(logs.folder() / "below");
    CHECK(has(logs.refused("log = \"below\"\n"), "is a folder"));
    logs.write("below/morning.igc", climb_igc(20));
    CHECK(logs.read("log = \"below/morning.igc\"\n").flights.size() == 1);
    // Notes of a file are told once, however many flights it holds.
    logs.write("odd.igc", climb_igc(100) + "B\n");
    const Case twice = logs.read(
        "log = \"odd.igc\"\nbegin = \"10:00:00\"\nend = \"10:00:40\"\n[[flight]]\npropeller = "
        "\"A\"\nlog = "
        "\"odd.igc\"\nbegin = \"10:00:50\"\n");
    CHECK(twice.notes.size() == 1);
    CHECK(twice.flights[0].log->heights.size() == 41);
    CHECK(twice.flights[1].log->heights.size() == 50);
    logs.write("empty.igc", "");
    CHECK(has(logs.refused("log = \"empty.igc\"\n"), "empty.igc:1:1: the log is empty"));
}

TEST_CASE("a trial whose logs hold no climb says why, and ends without an answer") {
    const LogCase logs;
    static_cast<void>(logs.read("log = \"morning.igc\"\nfrom = \"1000 m\"\nto = \"1200 m\"\n"));
    const std::string file = (logs.folder() / "case.toml").string();
    const Ran text = run({"trial", file});
    CHECK(text.status == 1);
    CHECK(has(text.out, "No climb was found"));
    CHECK(has(text.out, "no climb from 1000 m to 1200 m"));
    CHECK(has(text.out, "goes up to 28"));
    const Ran json = run({"trial", file, "--json"});
    CHECK(json.status == 1);
    CHECK(has(json.out, "\"chosen_by\": \"heights\""));
    // One flight alone, in either system of units.
    static_cast<void>(logs.read("log = \"morning.igc\"\n"));
    const Ran feet = run({"trial", file, "--units", "imperial"});
    CHECK(feet.status == 0);
    CHECK(has(feet.out, "1 steady climb found"));
    CHECK(run({"trial", file, "--csv"}).out.find("begin_s") != std::string::npos);
    // A page does not take a log's place, whatever is asked.
    const std::string log = (logs.folder() / "morning.igc").string();
    CHECK(run({"trial", file, "--page", log, "--force"}).status == 2);
    CHECK(loadline::test::read(log) == climb_igc(150));
}
